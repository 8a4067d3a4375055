package daylight.survey;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.offset;

import daylight.car.CarDocument;
import daylight.car.CarFile;
import daylight.car.CarFileException;
import daylight.geometry.Shape;
import daylight.geometry.Spot;
import daylight.units.Length;
import daylight.units.LengthFormat;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import org.junit.jupiter.api.Test;

/** From a car file to a car whose points are where the tape puts them. */
class MeasuredCarTest {
    private static final double INCH = Length.MM_PER_INCH;
    /** A tape of sixteenths, half a step, and the geometry of four pegs: nothing is known much better. */
    private static final double TAPED_MM = 2.5;
    /** Places are kept as they are written. */
    private static final double EXACT_MM = 1e-9;

    /** Where things really are, in inches. */
    private static final Map<String, double[]> TRUTH = truth();

    private static Map<String, double[]> truth() {
        Map<String, double[]> truth = new LinkedHashMap<>();
        truth.put("peg A", new double[] {30, 40, 0});
        truth.put("peg B", new double[] {-30, 40, 0});
        truth.put("peg C", new double[] {0, 10, 0});
        truth.put("pivot", new double[] {4.25, 14.5, 9.75});
        truth.put("ball joint", new double[] {0.5, 25.125, 8.75});
        return truth;
    }

    private static String head(String pivot, String ball) {
        return """
                daylight: 1
                car: Test
                units: in
                points:
                  peg A: [30, 40, 0]
                  peg B: [-30, 40, 0]
                  peg C: [0, 10, 0]
                  pivot: %s
                  ball joint: %s
                parts:
                  arm: {on: chassis, tube: {od: 1, through: [pivot, ball joint]}}
                """.replaceFirst("%s", pivot).replaceFirst("%s", ball);
    }

    /** A distance as a tape in sixteenths shows it. */
    private static String reads(String a, String b) {
        double[] p = Objects.requireNonNull(TRUTH.get(a));
        double[] q = Objects.requireNonNull(TRUTH.get(b));
        double inches = Math.sqrt(Math.pow(p[0] - q[0], 2) + Math.pow(p[1] - q[1], 2) + Math.pow(p[2] - q[2], 2));
        return LengthFormat.SIXTEENTHS.bare(inches * INCH);
    }

    private static String tape(String a, String b) {
        return "  - {from: " + a + ", to: " + b + ", reads: " + reads(a, b) + "}\n";
    }

    private static String allTapes() {
        StringBuilder tape = new StringBuilder("tape:\n");
        List<String> names = new ArrayList<>(TRUTH.keySet());
        for (int i = 0; i < names.size(); i++) {
            for (int j = Math.max(i + 1, 3); j < names.size(); j++) {
                tape.append(tape(names.get(i), names.get(j)));
            }
        }
        return tape.append("  - {height of: pivot, reads: 9 3/4}\n")
                .append("  - {height of: ball joint, reads: 8 3/4}\n")
                .toString();
    }

    private static MeasuredCar measured(String text) throws CarFileException {
        return MeasuredCar.of(CarDocument.of("test.yaml", text));
    }

    private static Spot truth(String point) {
        double[] at = Objects.requireNonNull(TRUTH.get(point));
        return new Spot(at[0] * INCH, at[1] * INCH, at[2] * INCH);
    }

    @Test
    void pointsThatOnlyTheTapeKnowsAreFoundAndThePartsFollow() throws CarFileException {
        MeasuredCar car = measured(head("by tape", "{near: [1, 24, 9]}") + allTapes());
        for (String point : List.of("pivot", "ball joint")) {
            assertThat(car.car().point(point).orElseThrow().at().distanceTo(truth(point)))
                    .as(point)
                    .isLessThan(TAPED_MM);
        }
        Shape.Tube arm = (Shape.Tube) car.car().part("arm").orElseThrow().shape();
        assertThat(arm.through())
                .containsExactly(
                        car.car().point("pivot").orElseThrow().at(),
                        car.car().point("ball joint").orElseThrow().at());
        assertThat(car.suspects()).isEmpty();
    }

    @Test
    void fileWithCoordinatesAloneGivesTheCarAsItIsWritten() throws CarFileException {
        String text = head("[4 1/4, 14 1/2, 9 3/4]", "[1/2, 25 1/8, 8 3/4]");
        assertThat(measured(text).car()).isEqualTo(CarFile.read("test.yaml", text));
        assertThat(measured(text).points()).isEmpty();
    }

    @Test
    void pointThatNothingButItsCoordinatesFixesStaysWhereItIsWritten() throws CarFileException {
        String text = head("[4 1/4, 14 1/2, 9 3/4]", "by tape") + allTapes();
        MeasuredCar car = measured(text + "  - {height of: peg A, reads: 0}\n");
        // No reading speaks of peg C's height, and the tapes of it are in the plane: they hardly move it.
        assertThat(car.car().point("peg C").orElseThrow().at().distanceTo(truth("peg C")))
                .isLessThan(TAPED_MM);
        MeasuredCar alone = measured(
                head("[4 1/4, 14 1/2, 9 3/4]", "by tape").replace("parts:", "  alone: [1, 2, 3]\nparts:") + allTapes());
        assertThat(alone.car().point("alone").orElseThrow().at().distanceTo(new Spot(INCH, 2 * INCH, 3 * INCH)))
                .isLessThan(EXACT_MM);
    }

    @Test
    void inchSlipIsLeftOutAndNamed() throws CarFileException {
        String good = reads("ball joint", "peg A");
        String bad = LengthFormat.SIXTEENTHS.bare(Length.parse(good, daylight.units.Unit.INCH)
                        .value()
                        .orElseThrow()
                        .mm()
                + INCH);
        String text = head("by tape", "by tape")
                + allTapes().replace("peg A, to: ball joint, reads: " + good, "peg A, to: ball joint, reads: " + bad);
        MeasuredCar car = measured(text);
        assertThat(car.suspects()).hasSize(1);
        assertThat(car.suspects().get(0).first().reading()).isEqualTo("peg A to ball joint");
        assertThat(LengthFormat.SIXTEENTHS.bare(car.suspects().get(0).first().probablyTrue()))
                .isEqualTo(good);
        assertThat(car.car().point("ball joint").orElseThrow().at().distanceTo(truth("ball joint")))
                .isLessThan(TAPED_MM);
    }

    @Test
    void pointThatNothingFixesGivesOneComplaintWithTheReadingThatWould() {
        String text = head("[4 1/4, 14 1/2, 9 3/4]", "by tape") + "tape:\n" + tape("peg A", "ball joint")
                + tape("peg B", "ball joint");
        assertThatThrownBy(() -> measured(text))
                .isInstanceOf(CarFileException.class)
                .hasMessageStartingWith("test.yaml:9:3: the readings do not fix \"ball joint\"")
                .hasMessageMatching("(?s).*Measure .*ball joint.*");
    }

    @Test
    void floorMarkThatNothingFixesIsNoMatter() throws CarFileException {
        String text = head("by tape", "by tape").replace("parts:", "  peg D: by tape\nparts:") + allTapes()
                + "  - {from: peg D, to: ball joint, reads: 20}\n";
        assertThat(measured(text).car().part("arm")).isPresent();
    }

    @Test
    void everyKindOfReadingAgreesWithTheTruth() throws CarFileException {
        double lean = Math.toDegrees(Math.atan2(9.75 - 8.75, Math.hypot(4.25 - 0.5, 25.125 - 14.5)));
        String text = head("by tape", "by tape").replace("parts:", """
                                  rim front: [7, 30, 12]
                                  rim rear: [-7, 30, 12]
                                  hub: by tape
                                  axle end: by tape
                                parts:""")
                + allTapes()
                + "  - {ahead: pivot, reads: 4 1/4}\n"
                + "  - {ahead: ball joint, of: pivot, reads: -3 3/4}\n"
                + "  - {left: ball joint, of: pivot, reads: 10 5/8}\n"
                + "  - {height of: pivot, above: ball joint, reads: 1}\n"
                + "  - {offset of: ball joint, from plane: [peg A, peg B, peg C], reads: 8 3/4}\n"
                + "  - {offset of: ball joint, from line: [peg A, peg B], reads: "
                + LengthFormat.SIXTEENTHS.bare(INCH * Math.hypot(40 - 25.125, 8.75)) + "}\n"
                + String.format(Locale.ROOT, "  - {level along: [ball joint, pivot], reads: %.1f deg}%n", lean)
                + "  - {level on: [peg A, peg B, peg C], along: forward, reads: 0 deg}\n"
                + "  - {rim: [rim front, rim rear], centre: hub, axis end: axle end, camber: 0 deg}\n"
                + "  - {mirror: [pivot, right pivot]}\n";
        text = text.replace("parts:", "  right pivot: [4 1/4, -14 1/2, 9 3/4]\nparts:");
        MeasuredCar car = measured(text);
        assertThat(car.suspects()).isEmpty();
        Adjustment adjustment = car.surveyed().adjustment();
        assertThat(adjustment.chiSquare()).isLessThan(adjustment.chiSquareLimit95());
        assertThat(adjustment.points().spot("ball joint").distanceTo(truth("ball joint")))
                .isLessThan(1.5);
        assertThat(adjustment.points().spot("hub").distanceTo(new Spot(0, 30 * INCH, 12 * INCH)))
                .isLessThan(1);
        Spot end = adjustment.points().spot("axle end");
        assertThat(end.y()).isCloseTo(37 * INCH, offset(1.0));
        assertThat(end.z()).isCloseTo(12 * INCH, offset(1.0));
    }

    @Test
    void pointMeasuredOnTheMirroredSideChecksTheOther() throws CarFileException, IOException {
        // The tape of this file is made up and fits nothing; the mirror check alone is looked at here.
        String text = Files.readString(Path.of("src/test/resources/cars/inches.yaml"), StandardCharsets.UTF_8)
                .replaceAll("(?s)tape:.*?mechanisms:", "mechanisms:");
        MeasuredCar car = measured(text);
        assertThat(car.surveyed().adjustment().readings())
                .extracting(ReadingResult::reading)
                .contains("lf lower ball joint and rf lower ball joint alike");
        // The right one is 1/8 in further out: well within what bodies differ, and it moves the left one by little.
        Spot left = car.car().point("lf lower ball joint").orElseThrow().at();
        assertThat(left.y() - (25 + 5.0 / 8) * INCH).isBetween(0.0, 1.0);
        assertThat(measured(text.replace("[0, -25 3/4, 8 3/4]", "[0, -28 3/4, 8 3/4]"))
                        .suspects())
                .isNotEmpty();
    }
}
