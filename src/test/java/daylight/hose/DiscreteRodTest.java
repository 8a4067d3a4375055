package daylight.hose;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.random.RandomGenerator;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class DiscreteRodTest {
    /** Central differences of step 1e-6 on angles near 1. */
    private static final double DIFFERENCE = 1e-8;

    private static DiscreteRod random(RandomGenerator random) {
        DiscreteRod rod = new DiscreteRod(12);
        for (int i = 0; i <= 12; i++) {
            double x = Math.cos(0.2 * i) + 0.3 * random.nextGaussian();
            double y = Math.sin(0.2 * i) + 0.3 * random.nextGaussian();
            double z = 0.4 * random.nextGaussian();
            double size = Math.sqrt(x * x + y * y + z * z);
            rod.t[3 * i] = x / size;
            rod.t[3 * i + 1] = y / size;
            rod.t[3 * i + 2] = z / size;
        }
        across(rod, 0, 0);
        across(rod, 36, 3);
        return rod;
    }

    private static void across(DiscreteRod rod, int p, int o) {
        double size = Math.hypot(rod.t[p], rod.t[p + 1]);
        rod.across[o] = -rod.t[p + 1] / size;
        rod.across[o + 1] = rod.t[p] / size;
        rod.across[o + 2] = 0;
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5})
    void twistGradientEqualsDifferences(long seed) {
        RandomGenerator random =
                java.util.random.RandomGeneratorFactory.of("L64X128MixRandom").create(seed);
        DiscreteRod rod = random(random);
        double[] gradient = new double[rod.t.length];
        rod.twistGradient(gradient);
        for (int i = 1; i < 12; i++) {
            double[] d = {random.nextGaussian(), random.nextGaussian(), random.nextGaussian()};
            int p = 3 * i;
            double along = d[0] * rod.t[p] + d[1] * rod.t[p + 1] + d[2] * rod.t[p + 2];
            double expected = 0;
            for (int k = 0; k < 3; k++) {
                d[k] -= along * rod.t[p + k];
                expected += gradient[p + k] * d[k];
            }
            double up = rod.carried(moved(rod.t, p, d, 1e-6));
            double down = rod.carried(moved(rod.t, p, d, -1e-6));
            assertThat(DiscreteRod.turn(up - down) / 2e-6)
                    .as("seed %d, node %d", seed, i)
                    .isCloseTo(expected, within(DIFFERENCE));
        }
    }

    private static double[] moved(double[] t, int p, double[] d, double step) {
        double[] chain = t.clone();
        double size = 0;
        for (int k = 0; k < 3; k++) {
            chain[p + k] += step * d[k];
            size += chain[p + k] * chain[p + k];
        }
        for (int k = 0; k < 3; k++) {
            chain[p + k] /= Math.sqrt(size);
        }
        return chain;
    }
}
