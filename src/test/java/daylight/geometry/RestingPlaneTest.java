package daylight.geometry;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.geometry.RestingPlane.Disc;
import daylight.geometry.RestingPlane.Plane;
import java.util.List;
import java.util.random.RandomGenerator;
import java.util.random.RandomGeneratorFactory;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.joml.Matrix4x3d;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The plane under three discs, and floors and ceilings over a box of motion against samples of that motion. */
class RestingPlaneTest {
    private static final double ROUNDING_MM = 1e-9;

    private static Disc wheel(double x, double y, double radius) {
        return new Disc(new Spot(x, y, 300), Direction.LEFT, radius);
    }

    @Test
    void threeUprightWheelsStandOnALevelRoad() {
        Plane plane = RestingPlane.under(wheel(0, 700, 300), wheel(0, -700, 300), wheel(-2500, 700, 300))
                .orElseThrow();
        assertThat(plane.up().z()).isCloseTo(1, within(ROUNDING_MM));
        assertThat(plane.zAt(-1000, 100)).isCloseTo(0, within(ROUNDING_MM));
    }

    @Test
    void threeWheelsOnALineCarryNothing() {
        assertThat(RestingPlane.under(wheel(0, 700, 300), wheel(0, 0, 300), wheel(0, -700, 300)))
                .isEmpty();
    }

    @Test
    void theLeastOfASolidIsAtItsSupportingSpot() {
        Solid post = Solid.of(new Shape.Hull(List.of(new Spot(3, 4, 5), new Spot(3, 4, 50)), 2));
        Lowest lowest = new Lowest();
        assertThat(lowest.along(post, Pose.RIDE_HEIGHT, Direction.UP)).isCloseTo(3, within(ROUNDING_MM));
        assertThat(lowest.spot().distanceTo(new Spot(3, 4, 3))).isLessThan(ROUNDING_MM);
    }

    @Test
    void theLeastBetweenTwoPlanesCutsASlantingBar() {
        // From (0, 0, 0) up to (100, 0, 50): beyond x = 40 it is no lower than 20.
        Solid bar = Solid.of(new Shape.Hull(List.of(Spot.ORIGIN, new Spot(100, 0, 50)), 0));
        Lowest lowest = new Lowest();
        assertThat(lowest.between(bar, Pose.RIDE_HEIGHT, Direction.UP, Direction.FORWARD, 40, 60))
                .isCloseTo(20, within(1e-6));
        assertThat(lowest.spot().distanceTo(new Spot(40, 0, 20))).isLessThan(1e-3);
        assertThat(lowest.between(bar, Pose.RIDE_HEIGHT, Direction.UP, Direction.FORWARD, 101, 200))
                .isEqualTo(Double.POSITIVE_INFINITY);
        assertThat(lowest.between(bar, Pose.RIDE_HEIGHT, Direction.UP.reversed(), Direction.FORWARD, 40, 60))
                .isCloseTo(-30, within(1e-6));
    }

    static Stream<Integer> seeds() {
        return IntStream.range(0, 60).boxed();
    }

    /**
     * Wheels on arms that swing about axes of their own, a part on another arm: the pose at a parameter is a rotation, so
     * that velocities are known, and second derivatives are at most the distance from the axis per rad².
     */
    private static final class Arm {
        final Spot on;
        final Direction axis;
        final int parameter;

        Arm(RandomGenerator random, int parameter) {
            this.on =
                    new Spot(random.nextDouble(-2500, 300), random.nextDouble(-600, 600), random.nextDouble(150, 500));
            this.axis = Direction.of(random.nextDouble(-1, 1), random.nextDouble(-1, 1), random.nextDouble(-0.3, 0.3));
            this.parameter = parameter;
        }

        Matrix4x3d pose(double[] q) {
            return new Matrix4x3d()
                    .translate(on.x(), on.y(), on.z())
                    .rotate(q[parameter], axis.x(), axis.y(), axis.z())
                    .translate(-on.x(), -on.y(), -on.z());
        }

        Wander over(double[] centre, double[] half) {
            Wander wander = new Wander().parameters(half.length);
            wander.centre(pose(centre)).reference(on.x(), on.y(), on.z());
            for (int i = 0; i < half.length; i++) {
                wander.half(i, half[i]);
            }
            wander.twist(parameter, axis.x(), axis.y(), axis.z(), 0, 0, 0);
            wander.error(parameter, 0, half[parameter]);
            return wander;
        }
    }

    @ParameterizedTest(name = "seed {0}")
    @MethodSource("seeds")
    void noSampleIsBelowTheFloorOrAboveTheCeiling(int seed) {
        RandomGenerator random = RandomGeneratorFactory.of("L64X128MixRandom").create(seed);
        Disc[] discs = new Disc[4];
        Arm[] arms = new Arm[5];
        double[][] places = {{0, 750}, {0, -750}, {-2500, 750}, {-2500, -750}};
        for (int i = 0; i < 4; i++) {
            discs[i] = new Disc(
                    new Spot(places[i][0], places[i][1], 300 + random.nextDouble(-20, 20)),
                    Direction.of(random.nextDouble(-0.1, 0.1), 1, random.nextDouble(-0.1, 0.1)),
                    300);
        }
        for (int i = 0; i < 5; i++) {
            arms[i] = new Arm(random, i % 3);
        }
        double x = random.nextDouble(-2800, 300);
        double y = random.nextDouble(-700, 700);
        Solid part = Solid.of(new Shape.Tube(
                List.of(new Spot(x, y, 150), new Spot(x + random.nextDouble(-300, 300), y + 100, 220)), 40, 0));
        double[] centre = new double[3];
        double[] half = new double[3];
        for (int k = 0; k < 3; k++) {
            centre[k] = random.nextDouble(-0.1, 0.1);
            half[k] = Math.pow(10, random.nextDouble(-4, -1.5));
        }
        Wander[] carriers = {arms[0].over(centre, half), arms[1].over(centre, half), arms[2].over(centre, half)};
        Disc[] three = {discs[0], discs[1], discs[2]};
        Tripod tripod = new Tripod(three, carriers);
        RestingPlane resting = new RestingPlane();
        double ceiling = resting.ceiling(discs[3], arms[3].over(centre, half), tripod);
        double floor = resting.floor(part, arms[4].over(centre, half), tripod);
        double least = Double.POSITIVE_INFINITY;
        double greatest = Double.NEGATIVE_INFINITY;
        double[] q = new double[3];
        for (int n = 0; n < 3000; n++) {
            for (int k = 0; k < 3; k++) {
                double at = n < 27 ? (n / (int) Math.pow(3, k)) % 3 - 1 : random.nextDouble(-1, 1);
                q[k] = centre[k] + half[k] * at;
            }
            Plane plane = RestingPlane.under(
                            three[0].at(Pose.of(arms[0].pose(q))),
                            three[1].at(Pose.of(arms[1].pose(q))),
                            three[2].at(Pose.of(arms[2].pose(q))))
                    .orElseThrow();
            least = Math.min(least, resting.height(plane, part, Pose.of(arms[4].pose(q))));
            greatest = Math.max(
                    greatest, plane.height(discs[3].at(Pose.of(arms[3].pose(q))).lowest(plane.up())));
        }
        assertThat(floor)
                .as("floor, half widths %s", List.of(half[0], half[1], half[2]))
                .isLessThanOrEqualTo(least + 1e-7);
        assertThat(ceiling).as("ceiling").isGreaterThanOrEqualTo(greatest - 1e-7);
        double widest = Math.max(half[0], Math.max(half[1], half[2]));
        if (widest < 1e-3) {
            // Second order: arms of two metres that turn by a thousandth move 2 mm, and are off by a thousandth of it.
            assertThat(least - floor).as("floor is near, widest %s", widest).isLessThan(2e5 * widest * widest + 1e-3);
            assertThat(ceiling - greatest).as("ceiling is near").isLessThan(2e5 * widest * widest + 1e-3);
        }
    }
}
