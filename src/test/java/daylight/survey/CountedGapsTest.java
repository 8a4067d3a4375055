package daylight.survey;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import daylight.car.CarDocument;
import daylight.car.CarFile;
import daylight.car.CarFileException;
import daylight.geometry.Spot;
import daylight.units.Length;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** A gap that was measured between two parts helps to place the points, where the file says so. */
class CountedGapsTest {
    private static final double INCH = Length.MM_PER_INCH;
    private static final Path FILE = Path.of("src/test/resources/cars/counted-gap.yaml");
    /** A nudge of 0.05 mm across half a metre sees a slope of 5e-5; that of a dozen millimetres is what remains. */
    private static final double STRAIGHT_MM = 1e-3;

    private static String text = "";

    @BeforeAll
    static void read() throws IOException {
        text = Files.readString(FILE, StandardCharsets.UTF_8);
    }

    private static MeasuredCar measured(String yaml) throws CarFileException {
        return MeasuredCar.of(CarDocument.of("gap.yaml", yaml));
    }

    private static Spot hanger(MeasuredCar car) {
        return car.car().point("hanger").orElseThrow().at();
    }

    @Test
    void countedGapMovesThePointsByTheWeightsOfLeastSquares() throws CarFileException {
        MeasuredCar car = MeasuredCar.of(CarFile.open(FILE));
        // One unknown apart: the hanger's y, the rail's y, the gap with both balls' own figures. All in inches.
        double hanger = variance(1);
        double rail = variance(1.0 / 16);
        double gap = variance(1.0 / 32) + variance(1.0 / 32) + variance(1.0 / 16);
        double misclosure = 18 - 17.5;
        double sum = hanger + rail + gap;
        assertThat(hanger(car).y()).isCloseTo(INCH * misclosure * hanger / sum, within(STRAIGHT_MM));
        assertThat(car.car().point("rail").orElseThrow().at().y())
                .isCloseTo(INCH * (20 - misclosure * rail / sum), within(STRAIGHT_MM));
        assertThat(hanger(car).x()).isCloseTo(0, within(STRAIGHT_MM));
        double after = Math.sqrt(hanger - hanger * hanger / sum) * INCH;
        assertThat(car.surveyed().adjustment().points().standardUncertaintyMm("hanger", Axis.LEFT))
                .as("the hanger is known through the gap")
                .isCloseTo(after, within(STRAIGHT_MM));
        assertThat(car.suspects()).isEmpty();
    }

    private static double variance(double halfWidthInches) {
        return halfWidthInches * halfWidthInches / 3;
    }

    @Test
    void gapThatDoesNotCountMovesNothing() throws CarFileException {
        MeasuredCar car = measured(text.replace(", counts: true", ""));
        assertThat(hanger(car)).isEqualTo(new Spot(0, 0, 10 * INCH));
        assertThat(hanger(measured(text.replace("counts: true", "counts: false"))))
                .isEqualTo(new Spot(0, 0, 10 * INCH));
    }

    @Test
    void gapPlacesAPointThatNothingElseHoldsThatWay() throws CarFileException {
        String tape = """
                hanger: {near: [0, 0, 10]}
                """.strip();
        MeasuredCar car = measured(text.replace("hanger: {at: [0, 0, 10], within: 1}", tape)
                + "  - {height of: hanger, reads: 10}\n  - {ahead: hanger, reads: 0}\n");
        assertThat(hanger(car).y()).isCloseTo(0.5 * INCH, within(0.05));
    }

    @Test
    void gapReadAnInchWrongIsLeftOutAndItsLikelyReadingSaid() throws CarFileException {
        String tight = text.replace("within: 1}", "within: 1/16}");
        MeasuredCar without = measured(tight.replace(", counts: true", ""));
        MeasuredCar wrong = measured(tight.replace("reads: 17 1/2", "reads: 19"));
        assertThat(wrong.suspects()).hasSize(1);
        // Two coordinates and one gap: which of them is wrong cannot be told, and the gap is one of the accused.
        Suspect.Accused accused = wrong.suspects().get(0).accused().stream()
                .filter(a -> a.reading().equals("gap between pipe and rail"))
                .findFirst()
                .orElseThrow();
        assertThat(accused.probablyTrue()).isCloseTo(18 * INCH, within(0.01));
        assertThat(accused.slips()).extracting(Slip::words).first().asString().startsWith("an inch slip");
        String checked = tight + "  - {from: hanger, to: rail, reads: 20}\n  - {left: hanger, reads: 0}\n"
                + "  - {left: rail, reads: 20}\n";
        MeasuredCar sure = measured(checked.replace("reads: 17 1/2", "reads: 19"));
        assertThat(sure.suspects().get(0).first().reading()).isEqualTo("gap between pipe and rail");
        assertThat(hanger(sure).distanceTo(hanger(without))).isLessThan(0.05);
    }

    @Test
    void gapThatCannotCountIsRefusedWithItsLine() {
        assertThatThrownBy(() -> measured(text.replace("centre: hanger", "centre: [0, 0, 10]")
                        .replace("centre: rail", "centre: [0, 20, 10]")))
                .isInstanceOf(CarFileException.class)
                .hasMessage("gap.yaml:14:5: no measured point moves \"pipe\" against \"rail\", so this gap cannot place"
                        + " any. Leave counts: away, and it is still held against the computed gap.");
        assertThatThrownBy(() -> measured(text.replace("[pipe, rail]", "[pipe, ral]")))
                .hasMessage("gap.yaml:14:22: no part is called \"ral\". Nearest: \"rail\".");
        assertThatThrownBy(() -> measured(text.replace("counts: true", "counts: yes")))
                .hasMessageStartingWith("gap.yaml:14:");
    }
}
