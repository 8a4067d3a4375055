package daylight.hose;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.random.RandomGenerator;
import java.util.random.RandomGeneratorFactory;
import org.junit.jupiter.api.Test;

class PathBoundTest {
    private static final double RADIUS = 38;

    @Test
    void noWanderedPathIsLongerThanTheBoundAndTheBoundIsNotIdle() {
        RandomGenerator random = RandomGeneratorFactory.of("L64X128MixRandom").create(20);
        ShortestPath path = new ShortestPath();
        ShortestPath moved = new ShortestPath();
        int proved = 0;
        double closest = 0;
        for (int round = 0; round < 300; round++) {
            double[] ends = new double[18];
            ends[9] = 220 + 80 * random.nextDouble();
            direction(random, ends, 3, 0.8);
            direction(random, ends, 12, 0.8);
            path.between(ends, RADIUS);
            double[] w = path.straightDirection();
            double apart = 6 * random.nextDouble();
            double turn = 0.05 * random.nextDouble();
            double growth = PathBound.growthMm(path, RADIUS, apart, apart, turn, turn);
            if (growth == Double.POSITIVE_INFINITY) {
                continue;
            }
            proved++;
            double centre = path.laidMm();
            for (int k = 0; k < 60; k++) {
                double[] other = ends.clone();
                double[] d = k % 2 == 0 ? w : unit(random);
                for (int i = 0; i < 3; i++) {
                    other[9 + i] += apart * d[i];
                }
                turned(random, other, 3, turn);
                turned(random, other, 12, turn);
                moved.between(other, RADIUS);
                assertThat(moved.laidMm())
                        .as("round %d, moved %d", round, k)
                        .isLessThanOrEqualTo(centre + growth + 1e-9);
                closest = Math.max(closest, (moved.laidMm() - centre) / growth);
            }
        }
        assertThat(proved).isGreaterThan(150);
        assertThat(closest).as("the bound is used up").isGreaterThan(0.8);
    }

    private static double[] unit(RandomGenerator random) {
        double[] d = {random.nextGaussian(), random.nextGaussian(), random.nextGaussian()};
        double size = Math.sqrt(d[0] * d[0] + d[1] * d[1] + d[2] * d[2]);
        return new double[] {d[0] / size, d[1] / size, d[2] / size};
    }

    /** A direction about x. */
    private static void direction(RandomGenerator random, double[] ends, int o, double spread) {
        ends[o] = 1;
        ends[o + 1] = spread * random.nextGaussian();
        ends[o + 2] = spread * random.nextGaussian();
        double size = Math.sqrt(ends[o] * ends[o] + ends[o + 1] * ends[o + 1] + ends[o + 2] * ends[o + 2]);
        for (int k = 0; k < 3; k++) {
            ends[o + k] /= size;
        }
    }

    /** Turns a direction by exactly an angle to a random side. */
    private static void turned(RandomGenerator random, double[] ends, int o, double angle) {
        double[] s = unit(random);
        double along = s[0] * ends[o] + s[1] * ends[o + 1] + s[2] * ends[o + 2];
        double size = Math.sqrt(1 - along * along);
        for (int k = 0; k < 3; k++) {
            ends[o + k] = Math.cos(angle) * ends[o + k] + Math.sin(angle) * (s[k] - along * ends[o + k]) / size;
        }
    }
}
