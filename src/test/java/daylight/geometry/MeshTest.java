package daylight.geometry;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import org.joml.Matrix4x3d;
import org.junit.jupiter.api.Test;

/** Meshes: inside counts as solid when closed, and what is found wrong with them is told. */
class MeshTest {
    private static final double EXACT_MM = 1e-9;

    private final Gauge gauge = new Gauge();

    /** A cube of this half size as twelve triangles, some of them turned inside out on request. */
    private static Shape.Mesh cube(double half, int turnedFaces, int missing) {
        int[][] quads = {{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}};
        List<Spot> corners = new ArrayList<>();
        for (int i = 0; i < 8; i++) {
            corners.add(
                    new Spot((i & 1) == 0 ? -half : half, (i & 2) == 0 ? -half : half, (i & 4) == 0 ? -half : half));
        }
        List<Integer> triangles = new ArrayList<>();
        for (int f = 0; f < 6 - missing; f++) {
            int[] q = quads[f];
            List<Integer> two = List.of(q[0], q[1], q[2], q[0], q[2], q[3]);
            triangles.addAll(f < turnedFaces ? List.of(q[2], q[1], q[0], q[3], q[2], q[0]) : two);
        }
        return new Shape.Mesh(corners, triangles);
    }

    @Test
    void aBallInsideAClosedCubeIsAsDeepAsItsWayOut() {
        for (int turned = 0; turned <= 6; turned++) {
            Solid cube = Solid.of(cube(50, turned, 0));
            Solid ball = Solid.of(new Shape.Ball(Spot.ORIGIN, 5));
            for (double x = 0; x < 100; x += 1.25) {
                Proximity found = gauge.proximity(cube, Pose.RIDE_HEIGHT, ball, at(x, 3, -2));
                assertThat(found.distanceMm())
                        .as("%s turned, x %s", turned, x)
                        .isCloseTo(x - 55, within(EXACT_MM + outside(x)));
                Spot reached = found.onA().along(found.normal(), found.distanceMm());
                assertThat(reached.distanceTo(found.onB())).isLessThan(EXACT_MM);
                Proximity other = gauge.proximity(ball, at(x, 3, -2), cube, Pose.RIDE_HEIGHT);
                assertThat(other.distanceMm()).isEqualTo(found.distanceMm());
            }
        }
    }

    /** Near the middle the nearest wall may be another one than +x. */
    private static double outside(double x) {
        return x < 3 ? 3 : 0;
    }

    private static Pose at(double x, double y, double z) {
        return new Pose(1, 0, 0, 0, 1, 0, 0, 0, 1, x, y, z);
    }

    @Test
    void anOpenBoxHasNoInside() {
        Solid box = Solid.of(cube(50, 0, 1));
        Solid ball = Solid.of(new Shape.Ball(Spot.ORIGIN, 5));
        assertThat(gauge.proximity(box, Pose.RIDE_HEIGHT, ball, Pose.RIDE_HEIGHT)
                        .distanceMm())
                .isCloseTo(45, within(EXACT_MM));
    }

    @Test
    void theHoleOfARingIsOutside() {
        Solid ring = Solid.of(Parts.torusMesh(Spot.ORIGIN, 60, 15, 64, 32));
        Solid ball = Solid.of(new Shape.Ball(Spot.ORIGIN, 5));
        double inHole =
                gauge.proximity(ring, Pose.RIDE_HEIGHT, ball, Pose.RIDE_HEIGHT).distanceMm();
        // Chords move the inner wall by at most their sagitta: 45 (1 - cos(pi/64)) = 0.054.
        assertThat(inHole).isBetween(39.94, 40.0 + EXACT_MM);
        double inMetal =
                gauge.proximity(ring, Pose.RIDE_HEIGHT, ball, at(60, 0, 0)).distanceMm();
        assertThat(inMetal).isBetween(-20.0, -19.8);
    }

    @Test
    void signedDistanceIsContinuousAsThingsPassThroughTheSurface() {
        Samples samples = new Samples(4);
        Solid ring = Solid.of(Parts.torusMesh(Spot.ORIGIN, 60, 15, 24, 12));
        for (Samples.Kind kind : Samples.KINDS) {
            Solid part = Solid.of(samples.shape(kind, 8));
            double before = Double.NaN;
            double step = 0.05;
            for (double x = -110; x < 110; x += step) {
                double now = gauge.proximity(ring, Pose.RIDE_HEIGHT, part, at(x, 2, 1))
                        .distanceMm();
                if (!Double.isNaN(before)) {
                    assertThat(Math.abs(now - before)).as("%s at %s", kind, x).isLessThanOrEqualTo(step + 1e-6);
                }
                before = now;
            }
        }
    }

    @Test
    void aCavityDrawnInwardsIsEmptyAndOneDrawnOutwardsIsNot() {
        Shape.Mesh outer = cube(50, 0, 0);
        Shape.Mesh inner = cube(30, 0, 0);
        Solid ball = Solid.of(new Shape.Ball(Spot.ORIGIN, 5));
        Solid hollow = Solid.of(joined(outer, cube(30, 6, 0)));
        Solid full = Solid.of(joined(outer, inner));
        assertThat(gauge.proximity(hollow, Pose.RIDE_HEIGHT, ball, Pose.RIDE_HEIGHT)
                        .distanceMm())
                .isCloseTo(25, within(EXACT_MM));
        assertThat(gauge.proximity(full, Pose.RIDE_HEIGHT, ball, Pose.RIDE_HEIGHT)
                        .distanceMm())
                .isCloseTo(-35, within(EXACT_MM));
    }

    private static Shape.Mesh joined(Shape.Mesh a, Shape.Mesh b) {
        List<Spot> corners = new ArrayList<>(a.corners());
        corners.addAll(b.corners());
        List<Integer> triangles = new ArrayList<>(a.triangles());
        b.triangles().forEach(i -> triangles.add(i + a.corners().size()));
        return new Shape.Mesh(corners, triangles);
    }

    @Test
    void whatIsWrongWithAMeshIsTold() {
        assertThat(MeshFindings.of(cube(10, 0, 0))).isEqualTo(new MeshFindings(12, 1, 0, 0));
        assertThat(MeshFindings.of(cube(10, 2, 0))).isEqualTo(new MeshFindings(12, 1, 0, 4));
        assertThat(MeshFindings.of(cube(10, 6, 0))).isEqualTo(new MeshFindings(12, 1, 0, 12));
        assertThat(MeshFindings.of(cube(10, 0, 1))).isEqualTo(new MeshFindings(10, 0, 10, 0));
    }

    @Test
    void theFloorKnowsTheInside() {
        Solid cube = Solid.of(cube(50, 0, 0));
        Solid ball = Solid.of(new Shape.Ball(Spot.ORIGIN, 5));
        Wander moving = new Wander().parameters(1).half(0, 10);
        moving.twist(0, 0, 0, 0, 1, 0, 0);
        double inside = gauge.floor(cube, new Wander(), ball, moving, Double.POSITIVE_INFINITY);
        assertThat(inside).isBetween(-65.1, -55.0);
        moving.centre(new Matrix4x3d().translation(58, 0, 0));
        double crossing = gauge.floor(cube, new Wander(), ball, moving, Double.POSITIVE_INFINITY);
        assertThat(crossing).isBetween(-7.1, -7.0 + EXACT_MM);
        moving.centre(new Matrix4x3d().translation(68, 0, 0));
        double apart = gauge.floor(cube, new Wander(), ball, moving, Double.POSITIVE_INFINITY);
        assertThat(apart).isBetween(3 - 1e-6, 3.0);
    }
}
