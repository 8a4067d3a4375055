package daylight.geometry;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.validation.Checks;
import java.util.List;
import java.util.Locale;
import org.joml.Matrix4x3d;
import org.joml.Vector3d;
import org.junit.jupiter.api.Test;

/** Published distances, and what is always true of a measured pair. */
class GaugeTest {
    /** Closed forms and polytopes: limited by arithmetic alone. */
    private static final double EXACT_MM = 1e-9;
    /** Separated shapes: the promise is 1e-9 of their size. */
    private static final double SHARE = 1e-9;

    /** Overlapping round cores: the depth is good to 1e-9 of the size, so a spot along a round face to its root's part. */
    private static final double DEEP_SHARE = 1e-7;

    private final Gauge gauge = new Gauge();

    private Proximity between(Shape a, Pose poseA, Shape b, Pose poseB) {
        return gauge.proximity(Solid.of(a), poseA, Solid.of(b), poseB);
    }

    private Proximity between(Shape a, Shape b) {
        return between(a, Pose.RIDE_HEIGHT, b, Pose.RIDE_HEIGHT);
    }

    private static Shape segment(double... x) {
        return new Shape.Hull(List.of(new Spot(x[0], x[1], x[2]), new Spot(x[3], x[4], x[5])), 0);
    }

    private static Shape dot(double x, double y, double z) {
        return new Shape.Hull(List.of(new Spot(x, y, z)), 0);
    }

    private static Shape cube(double x, double y, double z) {
        return new Shape.Box(new Spot(x, y, z), Direction.FORWARD, Direction.LEFT, 2, 2, 2);
    }

    // CG-1: Eberly, Robust Computation of Distance Between Line Segments (Geometric Tools), test cases; seen in
    // public test code and recomputed at 40 digits. Tolerances 2e-9, 1e-12, 1e-14 as the check states.
    @SuppressWarnings("FloatingPointLiteralPrecision") // typed as printed, digits and all
    @Test
    void hardSegmentsMeetWherePublishedCasesSay() {
        double crossing = between(
                        segment(
                                -1.0264718499965966,
                                9.6163341007195407e-7,
                                0,
                                0.91950808032415809,
                                -1.0094441192690283e-6,
                                0),
                        segment(
                                -1.0629447383806110,
                                9.2709540082141753e-7,
                                0,
                                1.0811583868227901,
                                -1.0670017179567367e-6,
                                0))
                .distanceMm();
        double nearParallel = between(
                        segment(
                                -1.0896217473782599,
                                9.7236145595088601e-7,
                                0,
                                0.91220578597858548,
                                -9.4369829432107506e-7,
                                0),
                        segment(
                                -0.90010447502136237,
                                9.0671446351334441e-7,
                                0,
                                1.0730877178721130,
                                -9.8185787633992740e-7,
                                0))
                .distanceMm();
        double apart = between(
                        segment(
                                0.77998990099877119,
                                0.61192502360790968,
                                -0.22703111823648214,
                                0.53215344529598951,
                                0.85724585503339767,
                                -0.10102437809109688),
                        segment(
                                -0.21277333982288837,
                                0.35091548087075353,
                                -0.49557160679250956,
                                0.11881479667499661,
                                0.022494725417345762,
                                -0.66426620958370951))
                .distanceMm();
        String source = "Eberly, Robust Computation of Distance Between Line Segments (Geometric Tools), test cases";
        String mark = "seen; recomputed at 40 digits";
        Checks.record("CG-1", "segments that cross", source, mark, 0, crossing, 2e-9);
        Checks.record("CG-1", "nearly parallel segments", source, mark, 1.1575046138574105e-7, nearParallel, 1e-12);
        Checks.record("CG-1", "segments apart", source, mark, 0.98292397116488733, apart, 1e-14);
    }

    // CG-2: segments, plain cases; first seen in public test code, all recomputed.
    @Test
    void plainSegmentsMeetWherePublishedCasesSay() {
        String source = "plain segment pairs";
        String mark = "recomputed";
        Checks.record(
                "CG-2",
                "parallel",
                "public test code of a geometry library",
                "seen; recomputed",
                1,
                between(segment(0, 0, 0, 1, 1, 0), segment(-.5, -.5, 1, .5, .5, 1))
                        .distanceMm(),
                EXACT_MM);
        Checks.record(
                "CG-2",
                "nearly parallel, ends facing",
                source,
                mark,
                1.000000125,
                between(segment(0, 0, 0, 1, 0, 0), segment(.5, 1, .001, 1.5, 1, 0))
                        .distanceMm(),
                EXACT_MM);
        Checks.record(
                "CG-2",
                "end to end, square root of 29",
                source,
                mark,
                5.3851648071,
                between(segment(0, 0, 0, 10, 0, 0), segment(12, 3, 4, 20, 3, 4)).distanceMm(),
                EXACT_MM);
        Checks.record(
                "CG-2",
                "crossing at right angles",
                source,
                mark,
                3,
                between(segment(0, 0, 0, 10, 0, 0), segment(5, -5, 3, 5, 5, 3)).distanceMm(),
                EXACT_MM);
        Checks.record(
                "CG-2",
                "two skew lines",
                source,
                mark,
                26.8328157300,
                between(segment(-200, 0, 0, 200, 0, 0), segment(-200, -100, -20, 0, 100, 80))
                        .distanceMm(),
                EXACT_MM);
    }

    // CG-3: point to triangle, all regions (as in Ericson, Real-Time Collision Detection, 2005, 5.1.5); own input,
    // recomputed.
    @Test
    void pointFindsEachRegionOfATriangle() {
        Shape triangle = new Shape.Hull(List.of(new Spot(0, 0, 0), new Spot(4, 0, 0), new Spot(0, 3, 0)), 0);
        double[][] cases = {{1, 1, 5, 5}, {-1, -2, 2, 3}, {2, -3, 4, 5}, {4, 4, 0, 3.2}, {6, -1, 2, 3}, {-2, 1, 0, 2}};
        for (double[] c : cases) {
            Checks.record(
                    "CG-3",
                    String.format(Locale.ROOT, "triangle from (%.0f, %.0f, %.0f)", c[0], c[1], c[2]),
                    "regions as in Ericson, Real-Time Collision Detection, 2005, 5.1.5",
                    "own input, recomputed",
                    c[3],
                    between(dot(c[0], c[1], c[2]), triangle).distanceMm(),
                    EXACT_MM);
        }
        Spot foot = between(dot(4, 4, 0), triangle).onB();
        assertThat(foot.distanceTo(new Spot(2.08, 1.44, 0))).isLessThan(EXACT_MM);
    }

    // CG-6: boxes, cylinder, plane; recomputed.
    @Test
    void turnedCubesAndTiltedDrumMatchClosedForms() {
        Pose quarter = Samples.turned(Direction.UP, Math.PI / 4, new Spot(3, 0, 0));
        Checks.record(
                "CG-6",
                "cube face to edge of a cube turned 45",
                "closed form",
                "recomputed",
                0.5857864376,
                between(cube(0, 0, 0), Pose.RIDE_HEIGHT, cube(0, 0, 0), quarter).distanceMm(),
                1e-10);
        Pose aboutX = Samples.turned(Direction.FORWARD, Math.PI / 4, Spot.ORIGIN);
        Pose aboutY = Samples.turned(Direction.LEFT, Math.PI / 4, new Spot(0, 0, 4));
        Checks.record(
                "CG-6",
                "crossed edges of two turned cubes",
                "closed form",
                "recomputed",
                1.1715728753,
                between(cube(0, 0, 0), aboutX, cube(0, 0, 0), aboutY).distanceMm(),
                1e-10);
        Shape drum = new Shape.Turned(
                Spot.ORIGIN,
                Direction.FORWARD,
                List.of(new Flat(-100, 0), new Flat(100, 0), new Flat(100, 30), new Flat(-100, 30)),
                0);
        Shape floor = new Shape.Box(new Spot(0, 0, -5), Direction.FORWARD, Direction.LEFT, 1000, 1000, 10);
        Pose tilted = Samples.turned(Direction.LEFT, Math.toRadians(15), new Spot(0, 0, 200));
        Checks.record(
                "CG-6",
                "tilted cylinder over a floor",
                "closed form",
                "recomputed",
                145.1403207011,
                between(drum, tilted, floor, Pose.RIDE_HEIGHT).distanceMm(),
                1e-9);
    }

    // CG-7: penetration depth, the least translation that parts (Ericson ch. 9; Cameron); own input, recomputed
    // (hull of the difference by Qhull, and by hand).
    @Test
    void overlapIsTheLeastMoveThatParts() {
        Proximity cubes = between(cube(0, 0, 0), cube(1.5, 0.2, 0.1));
        String source = "least translation that parts (Ericson, Real-Time Collision Detection, 2005, ch. 9; Cameron)";
        String mark = "own input, recomputed by Qhull and by hand";
        Checks.record("CG-7", "overlapping cubes", source, mark, -0.5, cubes.distanceMm(), EXACT_MM);
        assertThat(cubes.normal().x()).isCloseTo(1, within(EXACT_MM));
        Pose aboutX = Samples.turned(Direction.FORWARD, Math.PI / 4, Spot.ORIGIN);
        Pose aboutY = Samples.turned(Direction.LEFT, Math.PI / 4, new Spot(0, 0, 2.5));
        Proximity crossed = between(cube(0, 0, 0), aboutX, cube(0, 0, 0), aboutY);
        Checks.record("CG-7", "crossed edges, overlapping", source, mark, -0.3284271247, crossed.distanceMm(), 1e-10);
        assertThat(crossed.normal().z()).isCloseTo(1, within(EXACT_MM));
        Shape one =
                new Shape.Hull(List.of(new Spot(0, 0, 0), new Spot(2, 0, 0), new Spot(0, 2, 0), new Spot(0, 0, 2)), 0);
        Shape two = new Shape.Hull(
                List.of(new Spot(.5, .5, .5), new Spot(2, 2, 0), new Spot(2, 0, 2), new Spot(0, 2, 2)), 0);
        Proximity tetrahedra = between(one, two);
        Checks.record("CG-7", "overlapping tetrahedra", source, mark, -0.2886751346, tetrahedra.distanceMm(), 1e-10);
        assertThat(tetrahedra.normal().dot(Direction.of(1, 1, 1))).isCloseTo(1, within(EXACT_MM));
    }

    @Test
    void witnessesAndNormalProveEachDistance() {
        // A distance is proved by two spots of the shapes that far apart (no less is possible along their normal:
        // both supporting planes lie that far apart). The supports here are the test's own.
        for (int seed = 0; seed < 10_000; seed++) {
            Samples samples = new Samples(seed);
            Shape a = samples.shape(samples.kind());
            Shape b = samples.shape(samples.kind());
            Pose poseA = samples.pose(samples.below(3) == 0 ? 20 : 200);
            Pose poseB = samples.pose(samples.below(3) == 0 ? 20 : 200);
            Solid solidA = Solid.of(a);
            Solid solidB = Solid.of(b);
            Proximity found = gauge.proximity(solidA, poseA, solidB, poseB);
            double size = solidA.radiusMm() + solidB.radiusMm();
            String as = "seed " + seed + ": " + a + " | " + b + " -> " + found;
            double planes =
                    -Samples.reach(b, poseB, found.normal().reversed()) - Samples.reach(a, poseA, found.normal());
            assertThat(found.distanceMm() - planes).as(as).isBetween(-SHARE * (size + 1), SHARE * (size + 1));
            assertThat(found.onA().along(found.normal(), found.distanceMm()).distanceTo(found.onB()))
                    .as(as)
                    .isLessThan(SHARE * (size + 200));
            double near = found.distanceMm() < 0 ? DEEP_SHARE * size : SHARE * (size + 200);
            holds(a, poseA, found.onA(), near, samples, as);
            holds(b, poseB, found.onB(), near, samples, as);
            if (found.distanceMm() < 0) {
                for (int k = 0; k < 100; k++) {
                    Direction n = samples.squareDirection();
                    double gap = -Samples.reach(b, poseB, n.reversed()) - Samples.reach(a, poseA, n);
                    assertThat(gap).as(as).isLessThanOrEqualTo(found.distanceMm() + SHARE * size);
                }
            }
        }
    }

    private static void holds(Shape shape, Pose pose, Spot spot, double near, Samples samples, String as) {
        for (int k = 0; k < 20; k++) {
            Direction n = samples.squareDirection();
            double beyond = spot.x() * n.x() + spot.y() * n.y() + spot.z() * n.z() - Samples.reach(shape, pose, n);
            assertThat(beyond).as(as).isLessThan(near);
        }
    }

    @Test
    void swappingTheTwoTurnsTheAnswerRound() {
        for (int seed = 0; seed < 2_000; seed++) {
            Samples samples = new Samples(seed);
            Solid a = Solid.of(samples.shape(samples.kind()));
            Solid b = Solid.of(samples.shape(samples.kind()));
            Pose poseA = samples.pose(100);
            Pose poseB = samples.pose(100);
            Proximity one = gauge.proximity(a, poseA, b, poseB);
            Proximity two = gauge.proximity(b, poseB, a, poseA);
            assertThat(two.distanceMm()).as("seed %s", seed).isEqualTo(one.distanceMm());
            assertThat(two.onA()).as("seed %s", seed).isEqualTo(one.onB());
            assertThat(two.onB()).as("seed %s", seed).isEqualTo(one.onA());
            assertThat(two.normal().dot(one.normal())).as("seed %s", seed).isCloseTo(-1, within(EXACT_MM));
        }
    }

    @Test
    void warmStartChangesNoDistance() {
        Matrix4x3d here = new Matrix4x3d();
        Matrix4x3d there = new Matrix4x3d();
        for (int seed = 0; seed < 300; seed++) {
            Samples samples = new Samples(seed);
            Solid a = Solid.of(samples.shape(samples.kind()));
            Solid b = Solid.of(samples.shape(samples.kind()));
            Pose start = samples.pose(150);
            Direction axis = samples.direction();
            double size = a.radiusMm() + b.radiusMm();
            for (int step = 0; step < 30; step++) {
                Pose moving = Samples.turned(axis, 0.02 * step, new Spot(3.0 * step - 45, 0, 0));
                double warm = gauge.measure(a, start.into(here), b, moving.into(there));
                double cold = gauge.proximity(a, start, b, moving).distanceMm();
                assertThat(warm).as("seed %s step %s", seed, step).isCloseTo(cold, within(2 * SHARE * size));
            }
        }
    }

    @Test
    void whatIsRememberedOfManyPiecesChangesNoDistance() {
        // Small steps, so that fronts are made and followed; through contact and out again; a jump now and then.
        Matrix4x3d here = new Matrix4x3d();
        Matrix4x3d there = new Matrix4x3d();
        long warmPairs = 0;
        long coldPairs = 0;
        for (int seed = 0; seed < 120; seed++) {
            Samples samples = new Samples(seed);
            Solid a = Solid.of(Parts.any(samples));
            Solid b = Solid.of(samples.below(2) == 0 ? Parts.any(samples) : samples.shape(samples.kind(), 40));
            Pose start = samples.pose(60);
            Direction axis = samples.direction();
            double speed = samples.below(2) == 0 ? 0.05 : 1.5;
            double size = a.radiusMm() + b.radiusMm();
            Gauge warmGauge = new Gauge();
            Gauge coldGauge = new Gauge();
            for (int step = 0; step < 60; step++) {
                int at = step == 40 ? 400 : step;
                Pose moving = Samples.turned(
                        axis, 0.0005 * speed * at, new Spot(speed * at - 80, 0.3 * speed * at, 130 - speed * at));
                double warm = warmGauge.measure(a, start.into(here), b, moving.into(there));
                Proximity cold = coldGauge.proximity(a, start, b, moving);
                assertThat(warm)
                        .as("seed %s step %s", seed, step)
                        .isCloseTo(cold.distanceMm(), within(2 * SHARE * size));
                Vector3d onA = warmGauge.onA(new Vector3d());
                Vector3d onB = warmGauge.onB(new Vector3d());
                Vector3d along = warmGauge.normal(new Vector3d()).mul(warm);
                assertThat(onB.sub(onA).sub(along).length())
                        .as("seed %s step %s", seed, step)
                        .isLessThan(SHARE * (size + 200));
            }
            warmPairs += warmGauge.piecePairs() + warmGauge.nodePairs();
            coldPairs += coldGauge.piecePairs() + coldGauge.nodePairs();
        }
        assertThat(warmPairs).as("work, against %s afresh", coldPairs).isLessThan(coldPairs * 2 / 3);
    }

    @Test
    void frontsOfFineMeshesChangeNoDistanceAndSaveMostOfTheWork() {
        // Two rings that pass over, under and through one another, so that hollow faces hollow and fronts are renewed.
        Solid a = Solid.of(Parts.torusMesh(Spot.ORIGIN, 90, 25, 40, 16));
        Solid b = Solid.of(Parts.torusMesh(Spot.ORIGIN, 60, 15, 40, 16));
        double size = a.radiusMm() + b.radiusMm();
        Matrix4x3d here = new Matrix4x3d();
        Matrix4x3d there = new Matrix4x3d();
        Gauge warmGauge = new Gauge();
        Gauge coldGauge = new Gauge();
        for (int step = 0; step < 800; step++) {
            Pose moving = Samples.turned(
                    Direction.of(1, 0.4, 0.2),
                    0.9 + 0.0011 * step,
                    new Spot(95 - 0.11 * step, 20 + 0.02 * step, 80 - 0.13 * step));
            // Now and then only a bound is asked for.
            double enough = step % 7 == 3 ? 5 : Double.POSITIVE_INFINITY;
            double warm = warmGauge.measure(a, Pose.RIDE_HEIGHT.into(here), b, moving.into(there), enough);
            double cold = coldGauge.proximity(a, Pose.RIDE_HEIGHT, b, moving).distanceMm();
            if (warmGauge.isExact()) {
                assertThat(warm).as("step %s", step).isCloseTo(cold, within(2 * SHARE * size));
            } else {
                assertThat(warm).as("step %s", step).isBetween(enough, cold + 2 * SHARE * size);
            }
        }
        assertThat(warmGauge.nodePairs() + warmGauge.piecePairs())
                .isLessThan((coldGauge.nodePairs() + coldGauge.piecePairs()) / 3);
    }

    @Test
    void barsAgreeWithTheirHullsAtEverySlant() {
        // Tubes alone take a shorter way than tubes among other pieces: the two must agree, nearly parallel and
        // touching
        // ones too.
        Matrix4x3d here = new Matrix4x3d();
        Matrix4x3d there = new Matrix4x3d();
        Spot far = new Spot(0, 0, 1e5);
        for (int seed = 0; seed < 5_000; seed++) {
            Samples samples = new Samples(seed);
            Spot from = samples.spot(100);
            Direction along = samples.squareDirection();
            double length = samples.between(1, 300);
            Shape a = new Shape.Tube(List.of(from, from.along(along, length)), 10, 0);
            Direction slant = samples.direction();
            double lean = Math.pow(10, -samples.below(14));
            Direction other = samples.below(3) == 0
                    ? samples.squareDirection()
                    : Direction.of(
                            along.x() + lean * slant.x(), along.y() + lean * slant.y(), along.z() + lean * slant.z());
            Spot start = samples.below(4) == 0 ? from : samples.spot(100);
            Shape b = new Shape.Tube(List.of(start, start.along(other, samples.between(1, 300))), 6, 0);
            Shape more = new Shape.Group(List.of(b, new Shape.Ball(far, 1)));
            Pose moved = samples.pose(samples.below(2) == 0 ? 0 : 100);
            double alone = gauge.measure(Solid.of(a), moved.into(here), Solid.of(b), moved.into(there));
            Vector3d onA = gauge.onA(new Vector3d());
            Vector3d onB = gauge.onB(new Vector3d());
            Vector3d normal = gauge.normal(new Vector3d());
            Proximity among = gauge.proximity(Solid.of(a), moved, Solid.of(more), moved);
            assertThat(alone).as("seed %s", seed).isCloseTo(among.distanceMm(), within(EXACT_MM));
            assertThat(normal.length()).as("seed %s", seed).isCloseTo(1, within(EXACT_MM));
            assertThat(onB.sub(onA).sub(normal.mul(alone)).length())
                    .as("seed %s", seed)
                    .isLessThan(EXACT_MM);
        }
    }

    @Test
    void onlyABoundIsNeededWhenFarEnough() {
        Shape a = new Shape.Box(Spot.ORIGIN, Direction.FORWARD, Direction.LEFT, 10, 10, 10);
        Shape b = new Shape.Box(new Spot(100, 3, 0), Direction.FORWARD, Direction.LEFT, 10, 10, 10);
        double bound = gauge.measure(Solid.of(a), new Matrix4x3d(), Solid.of(b), new Matrix4x3d(), 20);
        assertThat(bound).isBetween(20.0, 90.0 + EXACT_MM);
    }

    @Test
    void witnessesAreInTheWorldFrame() {
        Solid ball = Solid.of(new Shape.Ball(new Spot(10, 0, 0), 2));
        Solid other = Solid.of(new Shape.Ball(new Spot(0, 0, 0), 3));
        Matrix4x3d up = new Matrix4x3d().translation(0, 0, 7);
        Matrix4x3d turned = new Matrix4x3d().rotationZ(Math.PI / 2).setTranslation(0, 20, 7);
        assertThat(gauge.measure(ball, up, other, turned)).isCloseTo(Math.sqrt(500) - 5, within(EXACT_MM));
        Vector3d onA = gauge.onA(new Vector3d());
        double root = Math.sqrt(5);
        assertThat(onA.distance(10 - 2 / root, 4 / root, 7)).isLessThan(EXACT_MM);
        assertThat(gauge.onB(new Vector3d()).distance(3 / root, 20 - 6 / root, 7))
                .isLessThan(EXACT_MM);
        assertThat(gauge.normal(new Vector3d()).distance(-1 / root, 2 / root, 0))
                .isLessThan(EXACT_MM);
    }

    // Found on a rack bar and its tie rod: the two share an end spot that both have moved away and come back to.
    @Test
    void tubesThatMeetEndOnStillHaveANormal() {
        Shape rack = new Shape.Tube(List.of(new Spot(0, 0, 0), new Spot(0, 100, 0)), 20, 0);
        Shape rod = new Shape.Tube(List.of(new Spot(0, 100, 0), new Spot(30, 200, 0)), 16, 0);
        for (int seed = 0; seed < 2_000; seed++) {
            Samples samples = new Samples(seed);
            Pose turn = Samples.turned(samples.squareDirection(), samples.between(-0.3, 0.3), Spot.ORIGIN);
            Spot end = new Spot(0, 100, 0);
            Spot moved = turn.apply(end);
            double slide = samples.between(-60, 60);
            Pose atEnd = new Pose(
                    turn.rxx(),
                    turn.rxy(),
                    turn.rxz(),
                    turn.ryx(),
                    turn.ryy(),
                    turn.ryz(),
                    turn.rzx(),
                    turn.rzy(),
                    turn.rzz(),
                    -moved.x(),
                    slide + 100 - moved.y(),
                    -moved.z());
            Pose slid = Samples.turned(Direction.UP, 0, new Spot(0, slide, 0));
            Proximity found = between(rack, slid, rod, atEnd);
            assertThat(found.distanceMm()).as("seed %s", seed).isCloseTo(-18, within(EXACT_MM));
        }
    }
}
