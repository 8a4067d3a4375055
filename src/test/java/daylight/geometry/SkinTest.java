package daylight.geometry;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.joml.Matrix4x3d;
import org.junit.jupiter.api.Test;

/** The drawn surface: closed, outward, on the true surface, with the true normals. */
class SkinTest {
    private static final double SAGITTA_MM = 0.05;

    private static double volume(Skin skin) {
        double[] v = skin.vertices();
        int[] f = skin.faces();
        double sum = 0;
        for (int i = 0; i < f.length; i += 3) {
            int a = 3 * f[i];
            int b = 3 * f[i + 1];
            int c = 3 * f[i + 2];
            sum += v[a] * (v[b + 1] * v[c + 2] - v[b + 2] * v[c + 1])
                    + v[a + 1] * (v[b + 2] * v[c] - v[b] * v[c + 2])
                    + v[a + 2] * (v[b] * v[c + 1] - v[b + 1] * v[c]);
        }
        return sum / 6;
    }

    /** Every edge, by the spots at its ends, is run through as often one way as the other. */
    private static void isClosed(Skin skin, String as) {
        double[] v = skin.vertices();
        int[] f = skin.faces();
        Map<String, Integer> balance = new HashMap<>();
        for (int i = 0; i < f.length; i += 3) {
            for (int k = 0; k < 3; k++) {
                String a = spot(v, f[i + k]);
                String b = spot(v, f[i + (k + 1) % 3]);
                boolean forward = a.compareTo(b) < 0;
                if (!a.equals(b)) {
                    balance.merge(forward ? a + "|" + b : b + "|" + a, forward ? 1 : -1, Integer::sum);
                }
            }
        }
        assertThat(balance.values()).as(as).containsOnly(0);
    }

    private static String spot(double[] v, int i) {
        return String.format(Locale.ROOT, "%.4f %.4f %.4f", v[3 * i], v[3 * i + 1], v[3 * i + 2])
                .replace("-0.0000", "0.0000");
    }

    private static void normalsPointOutward(Skin skin, String as) {
        double[] v = skin.vertices();
        double[] n = skin.normals();
        int[] f = skin.faces();
        for (int i = 0; i < f.length; i += 3) {
            int a = 3 * f[i];
            int b = 3 * f[i + 1];
            int c = 3 * f[i + 2];
            double x = (v[b + 1] - v[a + 1]) * (v[c + 2] - v[a + 2]) - (v[b + 2] - v[a + 2]) * (v[c + 1] - v[a + 1]);
            double y = (v[b + 2] - v[a + 2]) * (v[c] - v[a]) - (v[b] - v[a]) * (v[c + 2] - v[a + 2]);
            double z = (v[b] - v[a]) * (v[c + 1] - v[a + 1]) - (v[b + 1] - v[a + 1]) * (v[c] - v[a]);
            double length = Math.sqrt(x * x + y * y + z * z);
            for (int k = 0; k < 3 && length > 1e-3; k++) {
                int at = 3 * f[i + k];
                assertThat((x * n[at] + y * n[at + 1] + z * n[at + 2]) / length)
                        .as(as)
                        .isGreaterThan(0.5);
            }
        }
        for (int i = 0; i < n.length; i += 3) {
            assertThat(n[i] * n[i] + n[i + 1] * n[i + 1] + n[i + 2] * n[i + 2])
                    .as(as)
                    .isCloseTo(1, within(1e-9));
        }
    }

    private static void liesOnTheSolid(Shape shape, Skin skin, double tolerance) {
        Gauge gauge = new Gauge();
        Solid solid = Solid.of(shape);
        Matrix4x3d here = new Matrix4x3d();
        // Runs that meet in a sharp corner are drawn one by one, so that their ends lie inside one another.
        boolean sharp = shape instanceof Shape.Tube tube && tube.bendRadiusMm() == 0;
        double inside = sharp ? Double.NEGATIVE_INFINITY : -tolerance;
        double[] v = skin.vertices();
        int step = Math.max(1, v.length / 3 / 300);
        for (int i = 0; i < v.length / 3; i += step) {
            Solid dot = Solid.of(new Shape.Ball(new Spot(v[3 * i], v[3 * i + 1], v[3 * i + 2]), 1e-6));
            assertThat(gauge.measure(solid, here, dot, here))
                    .as("vertex %s of %s", i, shape)
                    .isBetween(inside, tolerance);
        }
    }

    @Test
    void volumesComeNearTheClosedForms() {
        assertThat(volume(Skin.of(new Shape.Ball(new Spot(5, 6, 7), 30), 0.01)))
                .isCloseTo(4.0 / 3 * Math.PI * 27000, within(500.0));
        assertThat(volume(Skin.of(
                        new Shape.Box(new Spot(1, 2, 3), Direction.LEFT, Direction.UP, 10, 20, 30), SAGITTA_MM)))
                .isCloseTo(6000, within(1e-9));
        double tube = volume(Skin.of(
                new Shape.Tube(List.of(new Spot(0, 0, 0), new Spot(100, 0, 0), new Spot(100, 100, 0)), 20, 40), 0.001));
        // Straight runs, a quarter turn (Pappus) and two half balls.
        double expected = Math.PI * 100 * (60 + 60 + Math.PI / 2 * 40) + 4.0 / 3 * Math.PI * 1000;
        assertThat(tube).isCloseTo(expected, within(0.005 * expected));
        double plate = volume(Skin.of(
                new Shape.Plate(
                        new Spot(3, 4, 5),
                        Direction.FORWARD,
                        Direction.UP,
                        6,
                        List.of(new Flat(0, 0), new Flat(0, 50), new Flat(80, 50), new Flat(80, 0)),
                        List.of(new Shape.Plate.Hole(new Flat(30, 25), 13))),
                0.0005));
        assertThat(plate).isCloseTo(6 * (4000 - Math.PI * 42.25), within(5.0));
        double ring = volume(Skin.of(
                new Shape.Turned(
                        new Spot(1, 2, 3),
                        Direction.LEFT,
                        List.of(new Flat(-50, 100), new Flat(50, 100), new Flat(50, 150), new Flat(-50, 150)),
                        0),
                0.01));
        assertThat(ring).isCloseTo(Math.PI * (22500 - 10000) * 100, within(0.003 * 3.9e6));
    }

    @Test
    void everyKindIsClosedOutwardAndOnItsSurface() {
        for (int seed = 0; seed < 48; seed++) {
            Samples samples = new Samples(seed);
            Shape shape = seed % 2 == 0
                    ? samples.shape(Samples.KINDS.get(seed / 2 % Samples.KINDS.size()), 60)
                    : switch (seed / 2 % 4) {
                        case 0 -> Parts.bentTube(samples);
                        case 1 -> Parts.plate(samples);
                        case 2 -> Parts.ring(samples);
                        default -> Parts.torusMesh(Spot.ORIGIN, 60, 15, 40, 20);
                    };
            String as = "seed " + seed + ": " + shape;
            Skin skin = Skin.of(shape, SAGITTA_MM);
            if (skin.faces().length == 0) {
                continue;
            }
            isClosed(skin, as);
            boolean flat = shape instanceof Shape.Hull hull && hull.roundingMm() == 0;
            if (!flat) {
                assertThat(volume(skin)).as(as).isPositive();
                normalsPointOutward(skin, as);
            }
            liesOnTheSolid(shape, skin, 2 * SAGITTA_MM + Solid.SAGITTA_MM);
        }
    }
}
