package daylight.demo;

import static org.assertj.core.api.Assertions.assertThat;

import daylight.car.Car;
import daylight.car.CarFileException;
import daylight.clearance.GapTable;
import daylight.inspection.Inspection;
import daylight.inspection.InspectionReport;
import daylight.inspection.InspectionReport.Below;
import daylight.inspection.InspectionReport.TravelLow;
import daylight.report.InspectionText;
import daylight.survey.MeasuredCar;
import daylight.units.Progress;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Both demo cars as an inspector sees them from below; gaps are another test's. */
class InspectionDemoTest {
    private static final String FIRST = "under the car";
    private static final String NEXT = "\ntravel";

    private static Car car(String file) throws CarFileException {
        return MeasuredCar.read(Path.of("demo", file)).car();
    }

    private static InspectionReport inspected(Car car) {
        GapTable noGaps = new GapTable(car.name(), List.of(), List.of(), 1, 1, new GapTable.Work(0, 0, 0));
        return Inspection.of(car, noGaps, List.of(), Progress.SILENT).orElseThrow();
    }

    /** The page quotes the program; when a figure moves, the story has to be read again. */
    @Test
    void thePickupsStoryShowsWhatTheProgramPrints() throws IOException, CarFileException {
        Car car = car("harbour-pickup.yaml");
        InspectionReport report = inspected(car);
        String text = InspectionText.of(report, car.inches(), false);
        String under = text.substring(text.indexOf(FIRST), text.indexOf(NEXT));
        assertThat(Files.readString(Path.of("demo/README.md"), StandardCharsets.UTF_8))
                .contains(under);
        assertThat(report.under().scrub()).extracting(Below::part).containsExactly("left tie-down eye");
        assertThat(report.under().scrub().get(0).byMm()).as("just below").isBetween(1.0, 10.0);
    }

    @ParameterizedTest
    @ValueSource(strings = {"harbour-pickup.yaml", "kit-roadster.yaml"})
    void everyHeightHasAFloorThatHoldsAndNearlyAllAreKnownToHalfAMillimetre(String file) throws CarFileException {
        InspectionReport report = inspected(car(file));
        List<TravelLow> over = report.under().overTravel();
        assertThat(over).hasSizeGreaterThan(60);
        assertThat(over).allSatisfy(low -> {
            assertThat(low.floorMm()).as(low.part()).isLessThanOrEqualTo(low.foundMm());
            assertThat(low.floorMm()).as(low.part()).isGreaterThan(0);
        });
        assertThat(over.stream().filter(low -> !low.proved()).count()).isLessThanOrEqualTo(2);
        assertThat(report.steering()).hasSize(1);
        assertThat(report.corners()).hasSize(4);
    }
}
