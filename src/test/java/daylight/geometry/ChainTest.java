package daylight.geometry;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.random.RandomGenerator;
import java.util.random.RandomGeneratorFactory;
import org.junit.jupiter.api.Test;

/** A line's quick solid against the one that a tube with sharp corners gets. */
class ChainTest {
    /** Share of the size of the shapes that a distance between separate convex pieces is good to. */
    private static final double ROUNDING = 1e-9;

    private static final double SIZE_MM = 400;

    @Test
    void aChainMeasuresAsTheTubeThroughItsSpots() {
        RandomGenerator random = RandomGeneratorFactory.of("L64X128MixRandom").create(20261125);
        Gauge gauge = new Gauge();
        Solid box = Solid.of(new Shape.Box(new Spot(30, -20, 10), Direction.of(1, 0.3, 0), Direction.UP, 120, 60, 40));
        Solid pipe = Solid.of(
                new Shape.Tube(List.of(new Spot(-200, 0, 50), new Spot(0, 40, 90), new Spot(150, -80, 0)), 40, 50));
        for (int i = 0; i < 1000; i++) {
            int count = 2 + random.nextInt(30);
            double step = i % 3 == 0 ? 0.01 : 15;
            double[] spots = new double[3 * count + 6];
            List<Spot> through = new ArrayList<>();
            double x = 300 * random.nextDouble() - 150;
            double y = 300 * random.nextDouble() - 150;
            double z = 300 * random.nextDouble() - 150;
            double lean = i % 5 == 0 ? 0 : random.nextDouble();
            Direction along = Direction.of(random.nextGaussian(), random.nextGaussian(), random.nextGaussian());
            for (int k = 0; k < count; k++) {
                spots[3 * k] = x;
                spots[3 * k + 1] = y;
                spots[3 * k + 2] = z;
                through.add(new Spot(x, y, z));
                along = Direction.of(
                        along.x() + lean * random.nextGaussian(),
                        along.y() + lean * random.nextGaussian(),
                        along.z() + lean * random.nextGaussian());
                x += step * along.x();
                y += step * along.y();
                z += step * along.z();
            }
            Solid chain = Solid.chain(spots, count, 3.5);
            Solid tube = Solid.of(new Shape.Tube(through, 7, 0));
            assertThat(chain.lowest().distanceTo(tube.lowest()))
                    .as("case %d", i)
                    .isLessThan(ROUNDING * SIZE_MM);
            assertThat(chain.highest().distanceTo(tube.highest()))
                    .as("case %d", i)
                    .isLessThan(ROUNDING * SIZE_MM);
            for (Solid other : List.of(box, pipe)) {
                double wanted = gauge.proximity(tube, Pose.RIDE_HEIGHT, other, Pose.RIDE_HEIGHT)
                        .distanceMm();
                double got = gauge.proximity(chain, Pose.RIDE_HEIGHT, other, Pose.RIDE_HEIGHT)
                        .distanceMm();
                assertThat(got).as("case %d: %d spots", i, count).isCloseTo(wanted, within(ROUNDING * SIZE_MM));
                double turned = gauge.proximity(other, Pose.RIDE_HEIGHT, chain, Pose.RIDE_HEIGHT)
                        .distanceMm();
                assertThat(turned).as("case %d: swapped", i).isCloseTo(got, within(ROUNDING * SIZE_MM));
            }
        }
    }

    @Test
    void aLineOfOneSpotOrWithoutThicknessIsRefused() {
        assertThatThrownBy(() -> Solid.chain(new double[] {1, 2, 3}, 1, 2)).hasMessageContaining("two spots or more");
        assertThatThrownBy(() -> Solid.chain(new double[] {0, 0, 0, 1, 0, 0}, 2, 0))
                .hasMessageContaining("radius 0");
        assertThatThrownBy(() -> Solid.chain(new double[] {0, 0, 0}, 2, 1)).hasMessageContaining("array of 3");
    }
}
