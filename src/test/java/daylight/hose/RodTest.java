package daylight.hose;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import daylight.geometry.Direction;
import daylight.geometry.Spot;
import java.util.random.RandomGenerator;
import java.util.random.RandomGeneratorFactory;
import org.apache.commons.math3.optim.InitialGuess;
import org.apache.commons.math3.optim.MaxEval;
import org.apache.commons.math3.optim.SimpleValueChecker;
import org.apache.commons.math3.optim.nonlinear.scalar.GoalType;
import org.apache.commons.math3.optim.nonlinear.scalar.ObjectiveFunction;
import org.apache.commons.math3.optim.nonlinear.scalar.ObjectiveFunctionGradient;
import org.apache.commons.math3.optim.nonlinear.scalar.gradient.NonLinearConjugateGradientOptimizer;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class RodTest {
    /** The solver's own stop (3e-5 rad, error about its square) times the length, and half as much again. */
    private static final double SAME_SHAPE_MM = 5e-7;

    private static RandomGenerator seeded(long seed) {
        return RandomGeneratorFactory.of("L64X128MixRandom").create(seed);
    }

    private static Direction direction(RandomGenerator random) {
        return Direction.of(random.nextGaussian(), random.nextGaussian(), random.nextGaussian());
    }

    /** A hose as it may hang in a car: ends 200 to 350 mm apart, 3 to 40 % longer than that. */
    private static Ends ends(RandomGenerator random) {
        Direction chord = direction(random);
        Direction begin = near(chord, random);
        Direction end = near(chord, random);
        return Ends.of(Spot.ORIGIN, begin, Spot.ORIGIN.along(chord, 200 + 150 * random.nextDouble()), end);
    }

    private static Direction near(Direction d, RandomGenerator random) {
        return Direction.of(
                d.x() + 0.7 * random.nextGaussian(),
                d.y() + 0.7 * random.nextGaussian(),
                d.z() + 0.7 * random.nextGaussian());
    }

    private static double length(Ends ends, RandomGenerator random) {
        return ends.begin().distanceTo(ends.end()) * (1.08 + 0.4 * random.nextDouble());
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20})
    void theRodClosesKeepsItsLengthAndItsEndDirections(long seed) {
        RandomGenerator random = seeded(seed);
        Ends ends = ends(random);
        double length = length(ends, random);
        HoseShape shape = ElasticaTest.reaches(new Rod(), ends, length);
        int last = shape.centreLine().size() - 1;
        assertThat(shape.centreLine().get(last).distanceTo(ends.end()))
                .as("seed %d", seed)
                .isLessThan(1e-9 * length);
        double chords = 0;
        for (int i = 0; i < last; i++) {
            chords += shape.centreLine().get(i).distanceTo(shape.centreLine().get(i + 1));
        }
        // A chord is shorter than its arc by curvature^2 length^3 / 24.
        double step = length / last;
        double most = step * step / (24 * shape.tightestRadiusMm() * shape.tightestRadiusMm());
        assertThat(chords).isBetween(length * (1 - most) - 2 * shape.doubtMm() - 1e-6, length + 1e-9);
        Direction leaves =
                Direction.from(shape.centreLine().get(0), shape.centreLine().get(1));
        assertThat(Math.acos(Math.min(1, leaves.dot(ends.beginTangent())))).isLessThan(step / shape.tightestRadiusMm());
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20})
    void energyNeverRisesAlongTheIteration(long seed) {
        RandomGenerator random = seeded(seed);
        Ends ends = ends(random);
        Rod rod = new Rod();
        ElasticaTest.reaches(rod, ends, length(ends, random));
        rod.forget();
        double[] flat = new double[18];
        ends.into(flat);
        DiscreteRod grid = new DiscreteRod(Rod.COARSE);
        // A start far from rest: tangents swept from one end's direction to the other by way of a random one.
        Direction way = direction(random);
        for (int i = 0; i <= Rod.COARSE; i++) {
            double s = (double) i / Rod.COARSE;
            double x = (1 - s) * flat[3] + s * flat[12] + 3 * s * (1 - s) * way.x();
            double y = (1 - s) * flat[4] + s * flat[13] + 3 * s * (1 - s) * way.y();
            double z = (1 - s) * flat[5] + s * flat[14] + 3 * s * (1 - s) * way.z();
            Direction unit = Direction.of(x, y, z);
            grid.t[3 * i] = unit.x();
            grid.t[3 * i + 1] = unit.y();
            grid.t[3 * i + 2] = unit.z();
        }
        System.arraycopy(flat, 6, grid.across, 0, 3);
        System.arraycopy(flat, 15, grid.across, 3, 3);
        grid.twistStiffness = Rod.SOLID_RUBBER;
        double length = ends.begin().distanceTo(ends.end()) * 1.2;
        Ending ending = grid.solve(flat[9] / length, flat[10] / length, flat[11] / length, 200);
        assertThat(ending).as("seed %d", seed).isEqualTo(Ending.CONVERGED);
        assertThat(grid.energyCount).isGreaterThan(3);
        for (int i = 1; i < grid.energyCount; i++) {
            assertThat(grid.energies[i])
                    .as("seed %d, step %d", seed, i)
                    .isLessThanOrEqualTo(grid.energies[i - 1] * (1 + 1e-11) + 1e-11);
        }
        assertThat(grid.energies[grid.energyCount - 1]).isLessThan(grid.energies[0] * 0.99);
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10})
    void rigidMotionOfBothEndsMovesTheShapeWithThem(long seed) {
        RandomGenerator random = seeded(seed);
        Ends ends = ends(random);
        double length = length(ends, random);
        Rod rod = new Rod();
        HoseShape first = ElasticaTest.reaches(rod, ends, length);
        double[] q = turn(random);
        double[] shift = {100 * random.nextGaussian(), 100 * random.nextGaussian(), 100 * random.nextGaussian()};
        Ends moved = new Ends(
                move(q, shift, ends.begin()),
                turn(q, ends.beginTangent()),
                turn(q, ends.beginAcross()),
                move(q, shift, ends.end()),
                turn(q, ends.endTangent()),
                turn(q, ends.endAcross()));
        // Started cold, so it may be on the other of two near-equal sides only if their energies are equal.
        HoseShape second = ElasticaTest.reaches(new Rod(), moved, length);
        assertThat(second.energyPerMm()).as("seed %d", seed).isCloseTo(first.energyPerMm(), within(1e-9));
        assertThat(second.tightestRadiusMm()).isCloseTo(first.tightestRadiusMm(), within(1e-6 * length));
        assertThat(second.twistRad()).isCloseTo(first.twistRad(), within(1e-7));
        for (int i = 0; i < first.centreLine().size(); i++) {
            Spot expected = move(q, shift, first.centreLine().get(i));
            assertThat(second.centreLine().get(i).distanceTo(expected))
                    .as("seed %d, spot %d", seed, i)
                    .isLessThan(SAME_SHAPE_MM);
        }
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6, 7, 8, 9, 10})
    void mirrorEndsGiveTheMirrorShapeAndTheOppositeTwist(long seed) {
        RandomGenerator random = seeded(seed);
        Ends ends = ends(random);
        double length = length(ends, random);
        HoseShape first = ElasticaTest.reaches(new Rod(), ends, length);
        Ends mirror = new Ends(
                ends.begin().mirrored(),
                ends.beginTangent().mirrored(),
                ends.beginAcross().mirrored(),
                ends.end().mirrored(),
                ends.endTangent().mirrored(),
                ends.endAcross().mirrored());
        HoseShape second = ElasticaTest.reaches(new Rod(), mirror, length);
        assertThat(second.twistRad()).isCloseTo(-first.twistRad(), within(1e-7));
        for (int i = 0; i < first.centreLine().size(); i++) {
            assertThat(second.centreLine()
                            .get(i)
                            .distanceTo(first.centreLine().get(i).mirrored()))
                    .as("seed %d, spot %d", seed, i)
                    .isLessThan(SAME_SHAPE_MM);
        }
    }

    @Test
    void aSweepIsContinuousAndAWarmSolveTakesFewSystems() {
        Rod rod = new Rod();
        Rod fresh = new Rod();
        double length = 320;
        java.util.Optional<HoseShape> before = java.util.Optional.empty();
        int most = 0;
        for (int i = 0; i <= 60; i++) {
            double rise = -60 + 2.0 * i;
            Ends ends = Ends.of(
                    Spot.ORIGIN,
                    Direction.of(0, 1, -0.3),
                    new Spot(40 * Math.sin(i / 20.0), 210, -80 + rise),
                    Direction.of(0.2 * Math.cos(i / 20.0), 1, 0.4));
            HoseShape shape = ElasticaTest.reaches(rod, ends, length);
            if (before.isPresent()) {
                double moved = 0;
                for (int k = 0; k < shape.centreLine().size(); k++) {
                    moved = Math.max(
                            moved,
                            shape.centreLine()
                                    .get(k)
                                    .distanceTo(before.get().centreLine().get(k)));
                }
                assertThat(moved).as("step %d of 2.8 mm at the end", i).isLessThan(6);
                most = Math.max(most, shape.work().factorisations());
            }
            before = java.util.Optional.of(shape);
            HoseShape cold = ElasticaTest.reaches(fresh, ends, length);
            fresh.forget();
            // The warm rod keeps to its side, as a hose does; a fresh look may find a lower one, never a higher.
            assertThat(cold.energyPerMm()).as("step %d", i).isLessThanOrEqualTo(shape.energyPerMm() * (1 + 1e-9));
        }
        assertThat(most).as("Newton systems of a warm solve, three grids").isLessThanOrEqualTo(14);
    }

    @ParameterizedTest
    @ValueSource(longs = {1, 2, 3, 4, 5, 6})
    void aGeneralOptimiserFindsTheSameEnergy(long seed) {
        RandomGenerator random = seeded(seed);
        Ends ends = ends(random);
        double length = length(ends, random);
        HoseShape shape = ElasticaTest.reaches(new Rod(0), ends, length);
        BruteRod brute = new BruteRod(ends, length, 24);
        double coarse = brute.least();
        double fine = new BruteRod(ends, length, 48).least();
        double energy = (4 * fine - coarse) / 3;
        // What is left of a second-order chain of 24 and 48 pieces after one extrapolation.
        assertThat(shape.energyPerMm() * length)
                .as("seed %d: %s, length %s, coarse %s fine %s", seed, ends, length, coarse, fine)
                .isCloseTo(energy, within(2e-3 * energy));
    }

    /** Angles of a chain, closed by a stiff penalty, handed to a library's conjugate gradients. */
    private static final class BruteRod {
        private final Ends ends;
        private final double length;
        private final int n;

        BruteRod(Ends ends, double length, int n) {
            this.ends = ends;
            this.length = length;
            this.n = n;
        }

        double least() {
            double[] start = new double[3 * (n - 1)];
            Direction a = ends.beginTangent();
            Direction b = ends.endTangent();
            for (int i = 1; i < n; i++) {
                double s = (double) i / n;
                start[3 * i - 3] = (1 - s) * a.x() + s * b.x();
                start[3 * i - 2] = (1 - s) * a.y() + s * b.y();
                start[3 * i - 1] = (1 - s) * a.z() + s * b.z();
            }
            double[] multiplier = new double[3];
            double weight = 100;
            double[] x = start;
            for (int round = 0; round < 40; round++) {
                double[] held = multiplier.clone();
                x = new NonLinearConjugateGradientOptimizer(
                                NonLinearConjugateGradientOptimizer.Formula.POLAK_RIBIERE,
                                new SimpleValueChecker(1e-13, 1e-13))
                        .optimize(
                                new MaxEval(200_000),
                                new ObjectiveFunction(p -> value(p, held, weight, new double[0])),
                                new ObjectiveFunctionGradient(p -> {
                                    double[] g = new double[p.length];
                                    value(p, held, weight, g);
                                    return g;
                                }),
                                GoalType.MINIMIZE,
                                new InitialGuess(x))
                        .getPoint();
                double[] gap = gap(x);
                for (int k = 0; k < 3; k++) {
                    multiplier[k] += weight * gap[k];
                }
                if (Math.abs(gap[0]) + Math.abs(gap[1]) + Math.abs(gap[2]) < 1e-9) {
                    break;
                }
            }
            return value(x, new double[3], 0, new double[0]);
        }

        private double[] tangents(double[] x) {
            double[] t = new double[3 * (n + 1)];
            t[0] = ends.beginTangent().x();
            t[1] = ends.beginTangent().y();
            t[2] = ends.beginTangent().z();
            t[3 * n] = ends.endTangent().x();
            t[3 * n + 1] = ends.endTangent().y();
            t[3 * n + 2] = ends.endTangent().z();
            for (int i = 1; i < n; i++) {
                int p = 3 * i;
                double size = Math.sqrt(x[p - 3] * x[p - 3] + x[p - 2] * x[p - 2] + x[p - 1] * x[p - 1]);
                for (int k = 0; k < 3; k++) {
                    t[p + k] = x[p - 3 + k] / size;
                }
            }
            return t;
        }

        private double[] gap(double[] x) {
            double[] t = tangents(x);
            double[] sum = {
                -(ends.end().x() - ends.begin().x()) / length,
                -(ends.end().y() - ends.begin().y()) / length,
                -(ends.end().z() - ends.begin().z()) / length
            };
            for (int i = 0; i <= n; i++) {
                for (int k = 0; k < 3; k++) {
                    sum[k] += (i == 0 || i == n ? 0.5 : 1) * t[3 * i + k] / n;
                }
            }
            return sum;
        }

        private double value(double[] x, double[] multiplier, double weight, double[] gradient) {
            double[] t = tangents(x);
            double[] gap = gap(x);
            double energy = 0;
            for (int i = 0; i < n; i++) {
                for (int k = 0; k < 3; k++) {
                    double d = t[3 * i + 3 + k] - t[3 * i + k];
                    energy += d * d * n / 2;
                }
            }
            double value = energy;
            for (int k = 0; k < 3; k++) {
                value += multiplier[k] * gap[k] + weight / 2 * gap[k] * gap[k];
            }
            double stay = 0;
            for (int i = 1; i < n; i++) {
                int p = 3 * i;
                double size = Math.sqrt(x[p - 3] * x[p - 3] + x[p - 2] * x[p - 2] + x[p - 1] * x[p - 1]);
                if (weight > 0) {
                    stay += (size - 1) * (size - 1);
                }
                if (gradient.length > 0) {
                    double[] g = new double[3];
                    double along = 0;
                    for (int k = 0; k < 3; k++) {
                        g[k] = n * (2 * t[p + k] - t[p - 3 + k] - t[p + 3 + k]) + (multiplier[k] + weight * gap[k]) / n;
                        along += g[k] * t[p + k];
                    }
                    for (int k = 0; k < 3; k++) {
                        gradient[p - 3 + k] = (g[k] - along * t[p + k]) / size + 2 * (size - 1) * t[p + k];
                    }
                }
            }
            return value + stay;
        }
    }

    @Test
    void aHoseShorterThanTheStraightDistanceIsTautAndSaysByHowMuch() {
        Outcome outcome =
                new Rod().settle(Ends.of(Spot.ORIGIN, Direction.FORWARD, new Spot(300, 0, 0), Direction.FORWARD), 288);
        assertThat(outcome).isEqualTo(new Outcome.Taut(-12));
    }

    @Test
    void almostStraightHosesSettle() {
        for (double slack : new double[] {1e-7, 1e-5, 1e-4, 1e-3, 1e-2, 3e-2}) {
            double length = 300 * (1 + slack);
            HoseShape shape = ElasticaTest.reaches(
                    new Rod(), Ends.of(Spot.ORIGIN, Direction.FORWARD, new Spot(300, 0, 0), Direction.FORWARD), length);
            double modulus = Elliptic.modulus(1 / (1 + slack));
            double radius = length / (8 * modulus * Elliptic.integrals(modulus)[0]);
            assertThat(shape.tightestRadiusMm() / radius).as("slack %s", slack).isCloseTo(1, within(1e-5));
        }
    }

    @Test
    void aHoseTooTightForItsEndDirectionsIsTautOrSettles() {
        for (double slack : new double[] {1e-6, 1e-3, 5e-3, 1e-2, 2e-2, 4e-2, 0.1}) {
            Outcome outcome = new Rod()
                    .settle(Ends.of(Spot.ORIGIN, Direction.UP, new Spot(300, 0, 0), Direction.LEFT), 300 * (1 + slack));
            assertThat(outcome).as("slack %s", slack).isNotInstanceOf(Outcome.Unsettled.class);
        }
    }

    @Test
    void facingFittingsMayLieEitherSideAndTheShapeSaysSo() {
        Ends ends = Ends.of(Spot.ORIGIN, Direction.FORWARD, new Spot(250, 0, 0), Direction.FORWARD);
        assertThat(ElasticaTest.reaches(new Rod(), ends, 300).hasEqual()).isTrue();
        Ends bent = Ends.of(Spot.ORIGIN, Direction.of(1, 0.3, 0), new Spot(250, 0, 0), Direction.of(1, -0.3, 0.1));
        assertThat(ElasticaTest.reaches(new Rod(), bent, 300).hasEqual()).isFalse();
    }

    @Test
    void aSwivelTakesTheTwistOut() {
        Direction d = Direction.FORWARD;
        Spot end = new Spot(250, 30, 10);
        Ends twisted = new Ends(Spot.ORIGIN, d, Direction.UP, end, d, Direction.of(0, 0.5, Math.sqrt(0.75)));
        HoseShape held = ElasticaTest.reaches(new Rod(), twisted, 300);
        HoseShape free = ElasticaTest.reaches(new Rod(0), twisted, 300);
        assertThat(Math.abs(held.twistRad())).isGreaterThan(0.05);
        assertThat(held.energyPerMm()).isGreaterThan(free.energyPerMm());
    }

    @Test
    void aLengthOfNothingIsRefused() {
        Ends ends = Ends.of(Spot.ORIGIN, Direction.FORWARD, new Spot(1, 0, 0), Direction.FORWARD);
        assertThatThrownBy(() -> new Rod().settle(ends, 0)).hasMessageContaining("free length");
    }

    private static double[] turn(RandomGenerator random) {
        double[] q = new double[4];
        double size = 0;
        for (int i = 0; i < 4; i++) {
            q[i] = random.nextGaussian();
            size += q[i] * q[i];
        }
        for (int i = 0; i < 4; i++) {
            q[i] /= Math.sqrt(size);
        }
        return q;
    }

    private static double[] turned(double[] q, double x, double y, double z) {
        double w = q[0];
        double a = 2 * (q[2] * z - q[3] * y);
        double b = 2 * (q[3] * x - q[1] * z);
        double c = 2 * (q[1] * y - q[2] * x);
        return new double[] {
            x + w * a + q[2] * c - q[3] * b, y + w * b + q[3] * a - q[1] * c, z + w * c + q[1] * b - q[2] * a
        };
    }

    private static Direction turn(double[] q, Direction d) {
        double[] r = turned(q, d.x(), d.y(), d.z());
        return Direction.of(r[0], r[1], r[2]);
    }

    private static Spot move(double[] q, double[] shift, Spot s) {
        double[] r = turned(q, s.x(), s.y(), s.z());
        return new Spot(r[0] + shift[0], r[1] + shift[1], r[2] + shift[2]);
    }
}
