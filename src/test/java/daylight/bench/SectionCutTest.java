package daylight.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.geometry.Direction;
import daylight.geometry.Shape;
import daylight.geometry.Skin;
import daylight.geometry.Spot;
import org.junit.jupiter.api.Test;

class SectionCutTest {
    /** Corners are floats of some hundred millimetres. */
    private static final double FLOAT_MM = 1e-3;

    private final SectionCut cut = new SectionCut();

    private static Surface surface(Shape shape) {
        Skin skin = Skin.of(shape, 0.4);
        return Surface.of(skin.vertices(), skin.faces());
    }

    private static final Surface BOX =
            surface(new Shape.Box(new Spot(50, 20, 10), Direction.FORWARD, Direction.LEFT, 100, 60, 40));

    @Test
    void aPlaneThatMissesLeavesAllOrNothing() {
        cut.cut(BOX, 1, 0, 0, 51);
        assertThat(cut.faces()).isEqualTo(BOX.faces);
        assertThat(cut.lineEnds()).isEmpty();
        cut.cut(BOX, 1, 0, 0, -51);
        assertThat(cut.faces()).isEmpty();
    }

    @Test
    void halfABoxHasHalfItsSidesAndTheOutlineOfItsSection() {
        cut.cut(BOX, 1, 0, 0, 0);
        // One end of 60 x 40, and half of the four long sides.
        assertThat(area()).isCloseTo(60 * 40 + 2 * 50 * (60 + 40), within(0.5));
        float[] ends = cut.lineEnds();
        double length = 0;
        for (int l = 0; l < ends.length / 6; l++) {
            assertThat((double) ends[6 * l]).isCloseTo(0, within(FLOAT_MM));
            length += Math.sqrt(Math.pow(ends[6 * l + 3] - ends[6 * l], 2)
                    + Math.pow(ends[6 * l + 4] - ends[6 * l + 1], 2)
                    + Math.pow(ends[6 * l + 5] - ends[6 * l + 2], 2));
        }
        assertThat(length).as("once round the section").isCloseTo(2 * (60 + 40), within(0.01));
    }

    @Test
    void theTwoHalvesOfABallAreTheBall() {
        Surface ball = surface(new Shape.Ball(new Spot(0, 700, 300), 300));
        cut.cut(ball, 1, 0, 0, 1000);
        double whole = area();
        double x = 0.48;
        double y = 0.6;
        double z = 0.64;
        cut.cut(ball, x, y, z, 70);
        double first = area();
        cut.cut(ball, -x, -y, -z, -70);
        assertThat(first + area()).isCloseTo(whole, within(whole * 1e-5));
        assertThat(first).isBetween(whole * 0.5, whole * 0.7);
    }

    @Test
    void theNextPlaneDoesNotRememberTheLast() {
        cut.cut(BOX, 1, 0, 0, 10);
        int[] faces = cut.faces();
        cut.cut(surface(new Shape.Ball(Spot.ORIGIN, 300)), 0, 0, 1, 5);
        cut.cut(BOX, 1, 0, 0, 10);
        assertThat(cut.faces()).isEqualTo(faces);
    }

    private double area() {
        float[] c = cut.corners();
        int[] f = cut.faces();
        double twice = 0;
        for (int t = 0; t < f.length / 6; t++) {
            int a = 3 * f[6 * t];
            int b = 3 * f[6 * t + 2];
            int d = 3 * f[6 * t + 4];
            double ux = c[b] - c[a];
            double uy = c[b + 1] - c[a + 1];
            double uz = c[b + 2] - c[a + 2];
            double vx = c[d] - c[a];
            double vy = c[d + 1] - c[a + 1];
            double vz = c[d + 2] - c[a + 2];
            twice += Math.sqrt(
                    Math.pow(uy * vz - uz * vy, 2) + Math.pow(uz * vx - ux * vz, 2) + Math.pow(ux * vy - uy * vx, 2));
        }
        return twice / 2;
    }
}
