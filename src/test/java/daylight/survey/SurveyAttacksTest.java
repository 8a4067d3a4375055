package daylight.survey;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import daylight.car.CarDocument;
import daylight.car.CarFileException;
import daylight.geometry.Spot;
import daylight.units.Length;
import daylight.units.Progress;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.api.Test;

/** What a sheet of readings can do to the survey: each gives one clear complaint, or a plain answer. */
class SurveyAttacksTest {
    private static final double INCH = Length.MM_PER_INCH;
    /** What is written to a sixteenth comes out to a hundredth of one where nothing else speaks of it. */
    private static final double AS_WRITTEN_MM = 0.02;

    private static final String HEAD = """
            daylight: 1
            car: Attack
            units: in
            points:
              peg A: [30, 40, 0]
              peg B: [-30, 40, 0]
              peg C: [0, 10, 0]
            """;

    private static final String PART = """
            parts:
              arm: {on: chassis, tube: {od: 1, through: [peg A, ball joint]}}
            """;

    private static MeasuredCar measured(String text) throws CarFileException {
        return MeasuredCar.of(CarDocument.of("attack.yaml", text));
    }

    private static String taped(String point, String... tape) {
        return HEAD + "  ball joint: " + point + "\n" + PART + "tape:\n  - {" + String.join("}\n  - {", tape) + "}\n";
    }

    @Test
    void fiveHundredPointsAreAdjustedAndTheirOneBlunderIsNamed() {
        // Pegs to measure from, and points each on its own tapes: what a whole car with its body would be.
        Garage garage = new Garage(11, 500, 1);
        String planted = garage.plant();
        Adjustment adjustment = Survey.of(garage.network()).adjust(Survey.Datum.CAR_AXES, Progress.SILENT);
        assertThat(adjustment.points().names()).hasSizeGreaterThanOrEqualTo(500);
        assertThat(adjustment.ending()).isEqualTo(Ending.CONVERGED);
        assertThat(adjustment.suspects().get(0).accused())
                .extracting(Suspect.Accused::reading)
                .contains(planted);
    }

    @Test
    void twoPointsAndOneTapeAreFewButEnough() throws CarFileException {
        MeasuredCar car = measured("""
                daylight: 1
                car: Two
                units: in
                points: {one: [0, 0, 10], other: [0, 20, 10]}
                tape: [{from: one, to: other, reads: 20}]
                """);
        assertThat(car.suspects()).isEmpty();
        assertThat(car.car().point("other").orElseThrow().at().distanceTo(new Spot(0, 20 * INCH, 10 * INCH)))
                .isLessThan(AS_WRITTEN_MM);
        assertThat(car.surveyed().adjustment().degreesOfFreedom()).isEqualTo(1);
    }

    @Test
    void pointInThePlaneOfItsPegsMayBeOnEitherSideOfIt() {
        // Tapes along the floor say nothing of a height: a point half an inch up reads the same.
        assertThatThrownBy(() -> measured(taped(
                        "by tape",
                        "from: peg A, to: ball joint, reads: 33 9/16",
                        "from: peg B, to: ball joint, reads: 33 9/16",
                        "from: peg C, to: ball joint, reads: 15")))
                .isInstanceOf(CarFileException.class)
                .hasMessage("attack.yaml:8:3: the readings do not fix \"ball joint\" to one of two places."
                        + " Write near: [ahead, left, up] for it, or measure its height.");
    }

    @Test
    void readingGivenTwiceIsTwoReadingsThatAgree() throws CarFileException {
        String tape = "from: peg A, to: ball joint, reads: 33 9/16";
        MeasuredCar car = measured(taped(
                "by tape",
                tape,
                tape,
                "from: peg B, to: ball joint, reads: 33 9/16",
                "from: peg C, to: ball joint, reads: 15",
                "height of: ball joint, reads: 0"));
        assertThat(car.suspects()).isEmpty();
        assertThat(car.surveyed().adjustment().readings())
                .extracting(ReadingResult::reading)
                .contains("peg A to ball joint", "peg A to ball joint (2)");
    }

    @Test
    void sameTapeReadTwiceAnInchApartAccusesBoth() throws CarFileException {
        MeasuredCar car = measured(taped(
                "[0, 25, 0]",
                "from: peg A, to: ball joint, reads: 33 9/16",
                "from: peg A, to: ball joint, reads: 34 9/16"));
        assertThat(car.suspects().get(0).first().reading()).isEqualTo("peg A to ball joint (2)");
        assertThat(car.suspects().get(0).first().slips().get(0)).isEqualTo(new Slip.WholeInches(1));
    }

    @Test
    void pointWithoutAnyReadingIsNamedWithWhatToMeasure() {
        assertThatThrownBy(() -> measured(taped("by tape", "from: peg A, to: peg B, reads: 60")))
                .isInstanceOf(CarFileException.class)
                .hasMessageStartingWith("attack.yaml:8:3: the readings do not fix \"ball joint\"")
                .hasMessageContaining("Measure ");
    }

    @Test
    void triangleThatCannotCloseAccusesItsTapes() {
        // 12 in and 15 in do not reach across the 60 in between the pegs.
        assertThatThrownBy(() -> measured(taped(
                        "{near: [0, 25, 8]}",
                        "from: peg A, to: ball joint, reads: 12",
                        "from: peg B, to: ball joint, reads: 15",
                        "from: peg C, to: ball joint, reads: 17",
                        "height of: ball joint, reads: 8")))
                .isInstanceOf(CarFileException.class)
                .hasMessageStartingWith("attack.yaml:8:3: readings contradict one another, and those that can stand"
                        + " together do not fix \"ball joint\" sideways. Read again ")
                .hasMessageContainingAll("\"peg A to ball joint\"", "\"peg B to ball joint\"");
    }

    @Test
    void readingTrustedToNothingIsRefused() {
        assertThatThrownBy(
                        () -> measured(taped("[0, 25, 0]", "from: peg A, to: ball joint, reads: 33 9/16, within: 0")))
                .isInstanceOf(CarFileException.class)
                .hasMessageStartingWith("attack.yaml:12:")
                .hasMessageContaining("within: 0");
        assertThatThrownBy(() -> measured(
                        HEAD.replace("units: in", "units: in\nwithin: 0") + PART.replace(", ball joint", ", peg B")))
                .isInstanceOf(CarFileException.class)
                .hasMessageStartingWith("attack.yaml:4:");
        // As little as can be written is still a number: the reading then decides alone, and nothing overflows.
        assertThat(List.of(1e-6, 1e-3)).allSatisfy(within -> {
            MeasuredCar car = measured(taped(
                    "[0, 25, 0]",
                    "from: peg A, to: ball joint, reads: 33.5, within: " + String.format(Locale.ROOT, "%.6f", within)));
            Spot ball = car.car().point("ball joint").orElseThrow().at();
            Spot peg = car.car().point("peg A").orElseThrow().at();
            assertThat(ball.distanceTo(peg)).isCloseTo(33.5 * INCH, within(AS_WRITTEN_MM));
        });
    }

    @Test
    void feetReadOffTheWrongFootAreNamed() throws CarFileException {
        MeasuredCar car = measured(taped(
                "[0, 25, 0]",
                "from: peg A, to: ball joint, reads: \"3' 9 9/16\\\"\"",
                "from: peg B, to: ball joint, reads: \"2' 9 9/16\\\"\"",
                "from: peg C, to: ball joint, reads: 15",
                "height of: ball joint, reads: 0"));
        Suspect.Accused accused = car.suspects().get(0).first();
        assertThat(accused.reading()).isEqualTo("peg A to ball joint");
        assertThat(accused.slips().get(0)).isEqualTo(new Slip.WholeFeet(1));
        assertThat(accused.probablyTrue() / INCH).isCloseTo(33.5625, within(1e-9));
    }

    @Test
    void leftAndRightSwappedOnThePointItselfIsNamed() throws CarFileException {
        MeasuredCar car = measured(taped(
                "[0, -25, 0]",
                "from: peg A, to: ball joint, reads: 33 9/16",
                "from: peg B, to: ball joint, reads: 33 9/16",
                "from: peg C, to: ball joint, reads: 15"));
        Suspect.Accused accused = car.suspects().get(0).first();
        assertThat(accused.reading()).isEqualTo("ball joint: left");
        assertThat(accused.slips().get(0)).isEqualTo(new Slip.OtherSide("left and right"));
    }

    @Test
    void tapeHookedOnTheBurnedInchIsNamed() throws CarFileException {
        // Started at its 1 in mark to spare the hook, and the inch not taken off.
        MeasuredCar car = measured(taped(
                "[0, 25, 0]",
                "from: peg A, to: ball joint, reads: 34 9/16",
                "from: peg B, to: ball joint, reads: 33 9/16",
                "from: peg C, to: ball joint, reads: 15"));
        assertThat(car.suspects().get(0).first().slips().get(0).words())
                .isEqualTo("an inch slip, or the tape started at its 1 in mark and the inch was not taken off");
    }

    @Test
    void decimalCommaCountryChangesNothing() throws CarFileException {
        String text = taped(
                "[0, 25, 0]", "from: peg A, to: ball joint, reads: 33.5625", "height of: ball joint, reads: 0.25");
        Spot here = measured(text).car().point("ball joint").orElseThrow().at();
        Locale before = Locale.getDefault();
        try {
            Locale.setDefault(Locale.GERMANY);
            MeasuredCar there = measured(text);
            assertThat(there.car().point("ball joint").orElseThrow().at()).isEqualTo(here);
            assertThat(measured(text.replace("33.5625", "\"33,5625\""))
                            .car()
                            .point("ball joint")
                            .orElseThrow()
                            .at())
                    .as("a comma is read as such everywhere")
                    .isEqualTo(here);
        } finally {
            Locale.setDefault(before);
        }
    }
}
