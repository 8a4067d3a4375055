package daylight.report;

import static org.assertj.core.api.Assertions.assertThat;

import daylight.car.CarFile;
import daylight.car.CarFileException;
import daylight.survey.MeasuredPoints;
import daylight.survey.SurveyReport;
import daylight.units.Progress;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** What the survey says to the builder of the demo pickup. */
class MeasureTextTest {
    private static String shortText = "";
    private static String longText = "";
    private static int readings;

    @BeforeAll
    static void measure() throws CarFileException {
        SurveyReport report = MeasuredPoints.of(CarFile.open(Path.of("demo/harbour-pickup.yaml")), Progress.SILENT)
                .report();
        readings = report.readings().size();
        shortText = MeasureText.of("pickup", report, List.of(), true, false);
        longText = MeasureText.of("pickup", report, List.of(), true, true);
    }

    private static long rows(String text) {
        return text.lines()
                .dropWhile(line -> !line.contains("times u"))
                .takeWhile(line -> !line.startsWith("off:"))
                .count();
    }

    @Test
    void readingThatCannotBeRightComesFirstAndTheWorstFitsAreListed() {
        assertThat(shortText.lines().skip(2).findFirst().orElseThrow())
                .startsWith("Wrong: lf upper ball joint to peg L reads 24 1/2, fits 23 1/2: an inch slip");
        assertThat(rows(shortText)).as("heading and the worst dozen").isEqualTo(13);
        assertThat(shortText)
                .containsPattern("\nWRONG +lf upper ball joint to peg L")
                .contains(" other readings fit better");
    }

    @Test
    void everyReadingIsListedWhenAsked() {
        assertThat(rows(longText)).isEqualTo(readings + 1L);
        assertThat(longText).contains("\nunchecked").doesNotContain("other readings fit better");
    }
}
