package daylight.linkage;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.random.RandomGenerator;
import java.util.random.RandomGeneratorFactory;
import java.util.stream.Stream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Arms and aimed bodies have velocities in closed form; the equations of the loop say the same. */
class LoopRatesTest {
    /** Both ways are exact; they differ by rounding, in mm and rad per mm or rad, on numbers up to about a thousand. */
    private static final double ROUNDING = 1e-9;

    private static Stream<String> layouts() {
        return MovingLayouts.names();
    }

    @ParameterizedTest
    @MethodSource("layouts")
    void closedFormsAgreeWithTheEquations(String layout) {
        Linkage linkage = Linkage.of(MovingLayouts.of(layout));
        RandomGenerator random = RandomGeneratorFactory.of("L64X128MixRandom").create(layout.hashCode());
        int drivers = linkage.driverCount();
        int bodies = linkage.bodies().size();
        double[] q = new double[drivers];
        Enclosure box = Enclosure.of(linkage);
        double[] t = new double[6];
        for (int position = 0; position < 20; position++) {
            for (int i = 0; i < drivers; i++) {
                q[i] = 0.7 * (linkage.lowest(i) + random.nextDouble() * (linkage.highest(i) - linkage.lowest(i)));
            }
            if (!linkage.solve(q).solved()) {
                continue;
            }
            double[] quick = everything(linkage, bodies, drivers, t);
            // A proof needs the equations' own derivatives, and leaves them behind.
            boolean unused = linkage.enclose(q, new double[drivers], box);
            double[] whole = everything(linkage, bodies, drivers, t);
            for (int k = 0; k < quick.length; k++) {
                assertThat(Math.abs(quick[k] - whole[k]))
                        .as(
                                "%s at %s, number %d: %s and %s",
                                layout, java.util.Arrays.toString(q), k, quick[k], whole[k])
                        .isLessThan(ROUNDING * (1 + Math.abs(whole[k])));
            }
        }
    }

    private static double[] everything(Linkage linkage, int bodies, int drivers, double[] t) {
        double[] all = new double[6 * bodies * drivers * (1 + drivers)];
        int at = 0;
        for (int b = 0; b < bodies; b++) {
            for (int i = 0; i < drivers; i++) {
                linkage.twist(b, i, t);
                System.arraycopy(t, 0, all, at, 6);
                at += 6;
                for (int j = 0; j < drivers; j++) {
                    linkage.bend(b, i, j, t);
                    System.arraycopy(t, 0, all, at, 6);
                    at += 6;
                }
            }
        }
        return all;
    }
}
