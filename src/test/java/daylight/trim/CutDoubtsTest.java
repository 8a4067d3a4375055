package daylight.trim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.car.CarDocument;
import daylight.car.CarFileException;
import daylight.clearance.Asked;
import daylight.clearance.GapRow;
import daylight.geometry.Cut;
import daylight.survey.MeasuredCar;
import daylight.units.Progress;
import daylight.validation.Checks;
import java.util.Locale;
import java.util.Map;
import org.junit.jupiter.api.Test;

/** A cut that clears at 95 %: a ball that swings past a plate's edge, whose centre alone is in doubt. */
class CutDoubtsTest {
    private static final String SOURCE = "own closed form: a circle swept past a rectangle, its centre in doubt";
    private static final String MARK = "recomputed";
    private static final Asked FINE = new Asked(0.005, 50, 40_000, 1);
    /** The edge's two ends balance one another less well than its middle is known; as for the swept arc, mm. */
    private static final double CLOSED_FORM_MM = 0.03;

    private static final double PLATE = 80;
    private static final double RADIUS = 15;
    private static final double RULE = 12;

    /** Nearest at level, in the middle of the left edge; the plate is 5 thick about the ball's own plane. */
    private static MeasuredCar car(double ballWithin) throws CarFileException {
        return MeasuredCar.of(CarDocument.of("doubt.yaml", String.format(Locale.ROOT, """
                daylight: 1
                car: Ball past a plate    # invented
                units: mm
                within: 0.0001
                points:
                  swing axis start: [0, 190, 60]
                  swing axis end: [100, 190, 60]
                  ball spot: {at: [2.5, 90, 60], within: %.4f}
                mechanisms:
                  swing: {layout: plain-swing, forward: 50 deg, back: 50 deg}
                parts:
                  bracket:
                    on: chassis
                    plate: {thick: 5, outline: [[0, 0], [80, 0], [80, 120], [0, 120]], towards: forward,
                      corners on car: [[0, 0, 0], [0, 80, 0], [0, 80, 120]]}
                  ball: {on: swing arm, ball: {centre: ball spot, diameter: 30}}
                rules:
                  - {between: [any, any], at least: 12}
                """, ballWithin)));
    }

    private static double deep(LeastCut cut) {
        Cut.Straight exact = (Cut.Straight) cut.options().stream()
                .filter(option -> option.kind() == LeastCut.Kind.STRAIGHT)
                .findFirst()
                .orElseThrow()
                .exact();
        return (exact.alongFirstMm() + exact.alongSecondMm()) / 2;
    }

    @Test
    void cutMovesByTheHalfWidthOfTheIntervalThatIsShown() throws CarFileException {
        MeasuredCar car = car(2);
        LeastCut plain = CutStudy.of(car.car(), "bracket", FINE)
                .leastCut(CutStudy.Wanted.inSteps(1), Progress.SILENT)
                .orElseThrow();
        LeastCut sure = CutStudy.of(car.car(), "bracket", FINE)
                .leastCutAt95(car, CutStudy.Wanted.inSteps(1), Progress.SILENT)
                .orElseThrow();
        // Anywhere within 2 mm along each axis: a standard uncertainty of 2 / sqrt 3 along the gap.
        double half = 1.959964 * 2 / Math.sqrt(3);
        double deep = PLATE - (90 - RADIUS - RULE);
        Checks.record("TR-7", "cut without room for doubt, mm", SOURCE, MARK, deep, deep(plain), CLOSED_FORM_MM);
        Checks.record("TR-7", "cut that clears at 95 %, mm", SOURCE, MARK, deep + half, deep(sure), CLOSED_FORM_MM);
        assertThat(sure.doubt95Mm().get("ball")).isCloseTo(half, within(0.01));
        for (LeastCut.Option option : sure.options()) {
            GapRow row = option.gaps().get(0);
            assertThat(option.doubt95Mm().get("ball")).as(option.kind().word()).isCloseTo(half, within(0.01));
            assertThat(row.least().floorMm())
                    .as("%s, after rounding, by the gap search", option.kind().word())
                    .isGreaterThanOrEqualTo(RULE + half - 0.01);
        }
    }

    @Test
    void nothingIsAddedWhereNothingIsInDoubt() throws CarFileException {
        MeasuredCar car = car(0.0001);
        LeastCut sure = CutStudy.of(car.car(), "bracket", FINE)
                .leastCutAt95(car, CutStudy.Wanted.inSteps(1), Progress.SILENT)
                .orElseThrow();
        assertThat(deep(sure)).isCloseTo(PLATE - (90 - RADIUS - RULE), within(CLOSED_FORM_MM));
        assertThat(sure.trouble()).isEmpty();
    }

    @Test
    void whatIsAskedBesidesComesOnTop() throws CarFileException {
        MeasuredCar car = car(2);
        LeastCut sure = CutStudy.of(car.car(), "bracket", FINE)
                .leastCutAt95(car, new CutStudy.Wanted(1, Map.of("ball", 3.0)), Progress.SILENT)
                .orElseThrow();
        double half = 1.959964 * 2 / Math.sqrt(3);
        assertThat(deep(sure)).isCloseTo(PLATE - (90 - RADIUS - RULE) + half + 3, within(CLOSED_FORM_MM));
    }

    @Test
    void clearPlateWithoutRoomForDoubtIsCutForIt() throws CarFileException {
        // It passes 1 mm from the plate, with more than 2 in doubt: clear of a rule of 0 as computed, not at 95 %.
        String text = car(2).document()
                .toText()
                .replace("at least: 12", "at least: 0")
                .replace("[2.5, 90, 60]", "[2.5, 96, 60]");
        MeasuredCar car = MeasuredCar.of(CarDocument.of("doubt.yaml", text));
        LeastCut plain = CutStudy.of(car.car(), "bracket", FINE)
                .leastCut(CutStudy.Wanted.inSteps(1), Progress.SILENT)
                .orElseThrow();
        assertThat(plain.options()).isEmpty();
        assertThat(CutStudy.of(car.car(), "bracket", FINE)
                        .leastCutAt95(car, CutStudy.Wanted.inSteps(1), Progress.SILENT)
                        .orElseThrow()
                        .options())
                .isNotEmpty();
    }
}
