package daylight.motion;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.car.Limit;
import daylight.car.Readout;
import daylight.geometry.Spot;
import daylight.linkage.Linkage;
import daylight.linkage.Mechanism;
import daylight.units.LengthFormat;
import java.util.List;
import java.util.random.RandomGenerator;
import java.util.random.RandomGeneratorFactory;
import org.junit.jupiter.api.Test;

/** The end of a travel against the plain method: dense samples of the same movement, and bisection of the first change. */
class TravelEndsOracleTest {
    private static final long SEED = 20260704;
    private static final int CASES = 60;
    private static final int SAMPLES = 800;
    private static final double STATED = 80;
    /** The engine closes in to {@value TravelEnds#FINEST}; bisection to far less. */
    private static final double FOUND = 2 * TravelEnds.FINEST;

    @Test
    void endIsTheFirstChangeThatDenseSamplesFind() {
        RandomGenerator random = RandomGeneratorFactory.of("L64X128MixRandom").create(SEED);
        Linkage linkage = Linkage.of(Corners.doubleArm("left", false));
        int ended = 0;
        for (int k = 0; k < CASES; k++) {
            Readout.End from = new Readout.End(
                    random.nextBoolean() ? "lower arm" : Corners.KNUCKLE, near(random, 0, 600, -80, 90));
            Readout.End to = new Readout.End(Mechanism.GROUND, near(random, 0, 480, 200, 120));
            double rest = from.at().distanceTo(to.at());
            Limit limit = random.nextBoolean()
                    ? new Limit.Shock(
                            "shock", from, to, rest - 5 - 60 * random.nextDouble(), rest + 5 + 60 * random.nextDouble())
                    : new Limit.Stop("stop", from, to, 2 + 40 * random.nextDouble(), 0, false);
            // Bump or droop, with a share of steering on the way.
            double[] way = {random.nextBoolean() ? 1 : -1, 0.5 * (2 * random.nextDouble() - 1)};
            String as = "seed " + SEED + " case " + k + ": " + limit + " along " + way[0] + ", " + way[1];
            TravelEnd end = new TravelEnds(linkage, LengthFormat.TENTHS_OF_MM, List.of(limit)).end(way, STATED);
            double oracle = oracle(linkage, limit, way);
            if (oracle < STATED) {
                ended++;
                assertThat(end.cause()).as(as).isInstanceOf(TravelEnd.Met.class);
                assertThat(end.at()).as(as).isCloseTo(oracle, within(FOUND));
            } else {
                assertThat(end).as(as).isEqualTo(new TravelEnd(STATED, new TravelEnd.Stated()));
            }
        }
        assertThat(ended).as("cases in which something is met, of %s", CASES).isBetween(CASES / 4, CASES - 5);
    }

    private static Spot near(RandomGenerator random, double x, double y, double z, double by) {
        return new Spot(
                x + by * (2 * random.nextDouble() - 1),
                y + by * (2 * random.nextDouble() - 1),
                z + by * (2 * random.nextDouble() - 1));
    }

    /** Returns the first place along the way where a sample is past the limit, bisected; the stated end if none is. */
    private static double oracle(Linkage linkage, Limit limit, double[] way) {
        double before = 0;
        for (int s = 1; s <= SAMPLES; s++) {
            double at = STATED * s / SAMPLES;
            if (past(linkage, limit, way, at)) {
                double low = before;
                double high = at;
                while (high - low > TravelEnds.FINEST / 100) {
                    double middle = 0.5 * (low + high);
                    if (past(linkage, limit, way, middle)) {
                        high = middle;
                    } else {
                        low = middle;
                    }
                }
                return low;
            }
            before = at;
        }
        return STATED;
    }

    private static boolean past(Linkage linkage, Limit limit, double[] way, double at) {
        assertThat(linkage.solve(new double[] {way[0] * at, way[1] * at}).solved())
                .isTrue();
        if (limit instanceof Limit.Stop stop) {
            Spot spot = linkage.where(
                    linkage.bodies().indexOf(stop.from().body()), stop.from().at());
            Spot to = stop.to().at();
            double apart = (to.x() - spot.x()) * stop.along().x()
                    + (to.y() - spot.y()) * stop.along().y()
                    + (to.z() - spot.z()) * stop.along().z();
            return apart < stop.leastMm();
        }
        Limit.Distance distance = (Limit.Distance) limit;
        double length = linkage.where(
                        linkage.bodies().indexOf(distance.from().body()),
                        distance.from().at())
                .distanceTo(distance.to().at());
        return length < distance.leastMm() || length > distance.greatestMm();
    }
}
