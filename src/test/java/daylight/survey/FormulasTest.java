package daylight.survey;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.geometry.Direction;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;

class FormulasTest {
    private static final int ROUNDS = 200;
    /** Central differences of 0.01 mm over some 100 mm and more: h² / L² and rounding over h, with room. */
    private static final double DIFFERENCE = 1e-6;

    private static final double STEP_MM = 0.01;

    /** Every kind of observation there is; the test below fails when a new kind is missing here. */
    private static List<Observation> everyKind() {
        return List.of(
                new Observation.Coordinate("coordinate", "a", Axis.LEFT, 100, 0, 1),
                new Observation.Height("height", "a", 0, 1),
                new Observation.Distance("distance", "a", "b", 1, 1),
                new Observation.AxisDistance("axis distance", "a", "b", Axis.UP, 0, 1),
                new Observation.LineOffset("line offset", "a", "b", "c", 0, 1),
                new Observation.PlaneOffset("plane offset", "a", "b", "c", "d", 0, 1),
                new Observation.LevelAngle("level angle", "a", "b", 0, 1),
                new Observation.PlaneSlope("plane slope", "a", "b", "c", Direction.of(3, 4, 0), 0, 1),
                new Observation.PlaneLean("plane lean", "a", "b", "c", 0, 1),
                new Observation.Mirror("mirror", "a", "b", 1),
                new Observation.Midpoint("midpoint", "a", "b", "c", 1),
                new Observation.WheelRim("rim", "c", "e", List.of("a", "b", "d"), 1),
                new Observation.MeasuredGap("gap", List.of("a", "b"), Formulas::distance, 0, 1));
    }

    @Test
    void everyKindIsTried() {
        assertThat(everyKind().stream().map(Object::getClass))
                .containsExactlyInAnyOrder(Arrays.stream(Observation.class.getPermittedSubclasses())
                        .toArray(Class<?>[]::new));
    }

    @TestFactory
    Stream<DynamicTest> gradientsAreTheFiniteDifferences() {
        List<DynamicTest> tests = new ArrayList<>();
        for (Observation observation : everyKind()) {
            for (Equation equation : observation.equations()) {
                tests.add(DynamicTest.dynamicTest(equation.label(), () -> differences(equation)));
            }
        }
        return tests.stream();
    }

    private static void differences(Equation equation) {
        SplittableRandom random = new SplittableRandom(equation.label().hashCode());
        int n = 3 * equation.points().size();
        for (int round = 0; round < ROUNDS; round++) {
            double[] xyz = new double[n];
            for (int k = 0; k < n; k++) {
                xyz[k] = 2000 * random.nextDouble() - 1000;
            }
            double[] g = new double[n];
            equation.function().valueAt(xyz, g);
            double[] scratch = new double[n];
            for (int k = 0; k < n; k++) {
                double at = xyz[k];
                xyz[k] = at + STEP_MM;
                double above = equation.function().valueAt(xyz, scratch);
                xyz[k] = at - STEP_MM;
                double below = equation.function().valueAt(xyz, scratch);
                xyz[k] = at;
                double slope = (above - below) / (2 * STEP_MM);
                // Nearly flat triangles bend sharply; what counts is the slope against its own size.
                assertThat(g[k])
                        .as("%s, coordinate %d at %s", equation.label(), k, Arrays.toString(xyz))
                        .isCloseTo(slope, within(DIFFERENCE * (1 + 100 * Math.abs(slope))));
            }
        }
    }

    @Test
    void anOffsetFromAPlaneIsPositiveWhereItsPointsRunAnticlockwise() {
        double[] xyz = {10, 20, 30, 0, 0, 0, 100, 0, 0, 0, 100, 0};
        assertThat(Formulas.planeOffset(xyz, new double[12])).isCloseTo(30, within(1e-12));
    }

    @Test
    void aPlaneThatRisesAheadHasAPositiveSlope() {
        double[] xyz = {0, 0, 0, 100, 0, 10, 0, 100, 0};
        double slope = Formulas.planeSlope(1, 0).valueAt(xyz, new double[9]);
        assertThat(slope).isCloseTo(Math.atan(0.1), within(1e-12));
        double[] turned = {0, 0, 0, 0, 100, 0, 100, 0, 10};
        assertThat(Formulas.planeSlope(1, 0).valueAt(turned, new double[9])).isCloseTo(slope, within(1e-12));
    }

    @Test
    void aWheelFaceWhoseTopLeansOutFacesDown() {
        // Left wheel, outer face seen from outboard (from +y): anticlockwise is rear, top, front seen from there as
        // x runs to the left of the eye. The top is 5 mm further out than the hub over 100 mm.
        double[] xyz = {-100, 700, 300, 100, 700, 300, 0, 705, 400};
        double lean = Formulas.planeLean(xyz, new double[9]);
        double[] reversed = {100, 700, 300, -100, 700, 300, 0, 705, 400};
        assertThat(Math.abs(lean)).isCloseTo(Math.atan(0.05), within(1e-12));
        // The normal that points outboard (to the left) is the one of the reversed order.
        assertThat(Formulas.planeLean(reversed, new double[9])).isCloseTo(-Math.atan(0.05), within(1e-12));
    }

    @Test
    void coincidentPointsGiveNoSlopeInsteadOfNoNumber() {
        for (Observation observation : everyKind()) {
            for (Equation equation : observation.equations()) {
                int n = 3 * equation.points().size();
                double[] g = new double[n];
                double value = equation.function().valueAt(new double[n], g);
                assertThat(value).as(equation.label()).isFinite();
                for (double entry : g) {
                    assertThat(entry).as(equation.label()).isFinite();
                }
            }
        }
    }
}
