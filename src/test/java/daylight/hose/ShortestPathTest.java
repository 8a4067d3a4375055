package daylight.hose;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.geometry.Direction;
import daylight.geometry.Spot;
import daylight.validation.Checks;
import java.util.Locale;
import java.util.random.RandomGenerator;
import java.util.random.RandomGeneratorFactory;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class ShortestPathTest {
    /** The published figures have eight decimals. */
    private static final double DUBINS = 1e-7;
    /** The fixed point settles to 1e-13 rad. */
    private static final double LAID_MM = 1e-8;

    private static Ends plane(double x, double y, double from, double to) {
        return Ends.of(
                Spot.ORIGIN,
                Direction.of(Math.cos(from), Math.sin(from), 0),
                new Spot(x, y, 0),
                Direction.of(Math.cos(to), Math.sin(to), 0));
    }

    @ParameterizedTest
    @CsvSource({
        "0, 4, 4, 90, 1, 5.81343701, LSL",
        "0, 300, 0, 0, 40, 300.00000000, straight",
        "0, 0, 80, 180, 40, 125.66370614, half circle",
        "0, 200, 100, 0, 40, 225.11253490, LSR",
        "0, 0, 40, 0, 40, 291.32741229, LSL",
        "90, 250, 0, -90, 40, 295.66370614, RSR"
    })
    void planarWordsAsPublished(double from, double x, double y, double to, double radius, double length, String word) {
        PlanarPath path = PlanarPath.shortest(0, 0, Math.toRadians(from), x, y, Math.toRadians(to), radius);
        Checks.record(
                "EL-7",
                String.format(
                        Locale.ROOT, "to %s, %s from %s to %s deg at radius %s, %s", x, y, from, to, radius, word),
                "Dubins 1957; Shkel & Lumelsky 2001",
                "own input, recomputed; source from memory",
                length,
                path.lengthMm(),
                DUBINS);
        if (word.length() == 3) {
            assertThat(path.word()).isEqualTo(word);
        }
        ShortestPath space = new ShortestPath();
        space.between(plane(x, y, Math.toRadians(from), Math.toRadians(to)), radius);
        assertThat(space.floorMm()).isLessThanOrEqualTo(length + LAID_MM);
        // In space a path may leave the plane and be shorter; it is never longer than the plane's by more than the
        // search's own step when the ends are near.
        assertThat(space.laidMm()).isLessThanOrEqualTo(length + 0.05);
        assertThat(space.laidMm()).isGreaterThanOrEqualTo(space.floorMm() - LAID_MM);
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20})
    void farApartInThePlaneItIsDubins(long seed) {
        RandomGenerator random = RandomGeneratorFactory.of("L64X128MixRandom").create(seed);
        double from = 2.4 * (random.nextDouble() - 0.5);
        double to = 2.4 * (random.nextDouble() - 0.5);
        double x = 250 + 100 * random.nextDouble();
        ShortestPath space = new ShortestPath();
        space.between(plane(x, 0, from, to), 35);
        double plane = PlanarPath.shortest(0, 0, from, x, 0, to, 35).lengthMm();
        assertThat(space.laidMm()).as("seed %d", seed).isCloseTo(plane, within(LAID_MM));
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20})
    void noRodWithinTheBendLimitIsShorterThanTheFloorAndNoPathLaidIsShorterThanIt(long seed) {
        RandomGenerator random = RandomGeneratorFactory.of("L64X128MixRandom").create(seed);
        Spot end = new Spot(150 * random.nextGaussian(), 150 * random.nextGaussian(), 150 * random.nextGaussian());
        Ends ends = Ends.of(
                Spot.ORIGIN,
                Direction.of(random.nextGaussian(), random.nextGaussian(), random.nextGaussian()),
                end,
                Direction.of(random.nextGaussian(), random.nextGaussian(), random.nextGaussian()));
        ShortestPath path = new ShortestPath();
        for (double longer = 1.02; longer < 3; longer *= 1.1) {
            double length = longer * Spot.ORIGIN.distanceTo(end);
            if (new Rod(0).settle(ends, length) instanceof Outcome.Reaches reaches) {
                // The rod itself is a path with its own tightest bend as the bound.
                double radius = reaches.shape().tightestRadiusMm();
                path.between(ends, radius);
                assertThat(path.floorMm())
                        .as("seed %d, length %s, radius %s", seed, length, radius)
                        .isLessThanOrEqualTo(length * (1 + 1e-6));
                assertThat(path.laidMm()).isGreaterThanOrEqualTo(path.floorMm() - LAID_MM);
                assertThat(path.laidMm()).isLessThan(Double.POSITIVE_INFINITY);
            }
        }
    }

    @Test
    void theLaidPathIsShorterThanTheRodThatKeepsToTheSameRadius() {
        Ends ends = Ends.of(Spot.ORIGIN, Direction.of(0, 1, -0.4), new Spot(30, 220, -70), Direction.of(0.3, 0.2, 1));
        double length = 330;
        HoseShape shape = ElasticaTest.reaches(new Rod(0), ends, length);
        ShortestPath path = new ShortestPath();
        path.between(ends, shape.tightestRadiusMm());
        assertThat(path.laidMm()).isLessThan(length);
        assertThat(path.plain()).isTrue();
    }

    @Test
    void swappingTheEndsChangesNothing() {
        Ends ends = Ends.of(Spot.ORIGIN, Direction.of(0, 1, -0.4), new Spot(30, 220, -70), Direction.of(0.3, 0.2, 1));
        Spot far = ends.end();
        Spot near = ends.begin();
        Ends back = Ends.of(
                far, ends.endTangent().reversed(), near, ends.beginTangent().reversed());
        ShortestPath path = new ShortestPath();
        path.between(ends, 38);
        double there = path.laidMm();
        double thereFloor = path.floorMm();
        path.between(back, 38);
        assertThat(path.laidMm()).isCloseTo(there, within(LAID_MM));
        assertThat(path.floorMm()).isCloseTo(thereFloor, within(LAID_MM));
    }

    @ParameterizedTest
    @CsvSource({"180, 1.5, 4.712389", "90, 38, 59.690260"})
    void leastLengthForABend(double degrees, double radius, double length) {
        double angle = Math.toRadians(degrees);
        PlanarPath path =
                PlanarPath.shortest(0, 0, 0, radius * Math.sin(angle), radius * (1 - Math.cos(angle)), angle, radius);
        Checks.record(
                "EL-6",
                String.format(Locale.ROOT, "least length for %.0f deg at radius %s", degrees, radius),
                "Rubber Fab, Bend Radius catalogue page",
                "seen + recomputed",
                length,
                path.lengthMm(),
                1e-6);
    }
}
