package daylight.survey;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.validation.Checks;
import java.util.Arrays;
import java.util.random.RandomGenerator;
import java.util.random.RandomGeneratorFactory;
import java.util.stream.Stream;
import org.apache.commons.math3.fitting.leastsquares.LeastSquaresBuilder;
import org.apache.commons.math3.fitting.leastsquares.LevenbergMarquardtOptimizer;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.ArrayRealVector;
import org.apache.commons.math3.util.Pair;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;

/**
 * The solver against the certified values of NIST, and against Commons Math.
 *
 * <p>LQ-1: NIST Statistical Reference Datasets, nonlinear least squares regression, sets Misra1a (lower difficulty),
 * MGH17 (average), Thurber (higher). Mark: seen + recomputed. Figures typed as certified.
 */
class LeastSquaresTest {
    private static final String SOURCE = "NIST StRD, nonlinear least squares regression";
    private static final String MARK = "seen + recomputed";
    private static final int LIMIT = 2000;
    /** Agreeing digits asked for from NIST's first start, which is far away, and from the second. */
    private static final double FIRST_START = 1e-4;

    private static final double SECOND_START = 1e-6;
    /** From the certified values themselves: their eleven digits, and what the arithmetic makes of them. */
    private static final double CERTIFIED_START = 1e-8;

    /** A curve y = f(x; b) with its derivatives by b. */
    private interface Curve {
        double at(double x, double[] b, double[] intoGradient);
    }

    private record Set(String name, int points, String xs, String ys, String starts, String certified, String sds) {}

    private static final Set MISRA1A = new Set(
            "Misra1a",
            14,
            "77.6 114.9 141.1 190.8 239.9 289.0 332.8 378.4 434.8 477.3 536.8 593.1 689.1 760.0",
            "10.07 14.73 17.94 23.93 29.61 35.18 40.02 44.82 50.76 55.05 61.01 66.40 75.47 81.78",
            "500 0.0001; 250 0.0005",
            "238.94212918 5.5015643181E-04",
            "2.7070075241 7.2668688436E-06");

    private static final Set MGH17 = new Set(
            "MGH17",
            33,
            "0 10 20 30 40 50 60 70 80 90 100 110 120 130 140 150 160 170 180 190 200 210 220 230 240 250 260 270 280"
                    + " 290 300 310 320",
            "0.844 0.908 0.932 0.936 0.925 0.908 0.881 0.850 0.818 0.784 0.751 0.718 0.685 0.658 0.628 0.603 0.580"
                    + " 0.558 0.538 0.522 0.506 0.490 0.478 0.467 0.457 0.448 0.438 0.431 0.424 0.420 0.414 0.411 0.406",
            "50 150 -100 1 2; 0.5 1.5 -1 0.01 0.02",
            "0.37541005211 1.9358469127 -1.4646871366 0.012867534640 0.022122699662",
            "0.0020723153551 0.22031669222 0.22175707739 4.4861358114E-04 8.9471996575E-04");

    private static final Set THURBER = new Set(
            "Thurber",
            37,
            "-3.067 -2.981 -2.921 -2.912 -2.840 -2.797 -2.702 -2.699 -2.633 -2.481 -2.363 -2.322 -1.501 -1.460 -1.274"
                    + " -1.212 -1.100 -1.046 -0.915 -0.714 -0.566 -0.545 -0.400 -0.309 -0.109 -0.103 0.010 0.119 0.377"
                    + " 0.790 0.963 1.006 1.115 1.572 1.841 2.047 2.200",
            "80.574 84.248 87.264 87.195 89.076 89.608 89.868 90.101 92.405 95.854 100.696 101.060 401.672 390.724"
                    + " 567.534 635.316 733.054 759.087 894.206 990.785 1090.109 1080.914 1122.643 1178.351 1260.531"
                    + " 1273.514 1288.339 1327.543 1353.863 1414.509 1425.208 1421.384 1442.962 1464.350 1468.705"
                    + " 1447.894 1457.628",
            "1000 1000 400 40 0.7 0.3 0.03; 1300 1500 500 75 1 0.4 0.05",
            "1288.1396800 1491.0792535 583.23836877 75.416644291 0.96629502864 0.39797285797 0.049727297349",
            "4.6647963344 39.571156086 28.698696102 5.5675370270 0.031333340687 0.014984928198 6.5842344623E-03");

    private static final double MISRA1A_SUM = 0.12455138894;
    private static final double MGH17_SUM = 5.4648946975E-05;
    private static final double THURBER_SUM = 5642.7082397;

    @TestFactory
    Stream<DynamicTest> certifiedValuesAreFound() {
        return Stream.of(MISRA1A, MGH17, THURBER)
                .map(set -> DynamicTest.dynamicTest(set.name, () -> {
                    double[] certified = numbers(set.certified);
                    String[] starts = set.starts.split(";");
                    for (int s = 0; s <= starts.length; s++) {
                        double[] b = s < 2 ? numbers(starts[s]) : certified.clone();
                        double digits = s == 0 ? FIRST_START : s == 1 ? SECOND_START : CERTIFIED_START;
                        CurveFit fit = new CurveFit(set, curve(set));
                        LeastSquares solver = new LeastSquares(b.length);
                        Ending ending = solver.run(fit, b, 0, LeastSquares.FINEST, LIMIT);
                        assertThat(ending)
                                .as("%s from start %d", set.name, s + 1)
                                .isIn(Ending.CONVERGED, Ending.NO_PROGRESS);
                        for (int j = 0; j < b.length; j++) {
                            assertThat(b[j])
                                    .as("%s b%d from start %d", set.name, j + 1, s + 1)
                                    .isCloseTo(certified[j], within(digits * Math.abs(certified[j])));
                            if (s == 1) {
                                Checks.record(
                                        "LQ-1",
                                        set.name + " b" + (j + 1),
                                        SOURCE,
                                        MARK,
                                        certified[j],
                                        b[j],
                                        digits * Math.abs(certified[j]));
                            }
                        }
                    }
                }));
    }

    @TestFactory
    Stream<DynamicTest> certifiedDeviationsFollowFromTheNormalMatrix() {
        return Stream.of(MISRA1A, MGH17, THURBER)
                .map(set -> DynamicTest.dynamicTest(set.name, () -> {
                    double[] b = numbers(set.starts.split(";")[1]);
                    CurveFit fit = new CurveFit(set, curve(set));
                    LeastSquares solver = new LeastSquares(b.length);
                    solver.run(fit, b, 0, LeastSquares.FINEST, LIMIT);
                    double sum = set.name.equals("Thurber")
                            ? THURBER_SUM
                            : set.name.equals("MGH17") ? MGH17_SUM : MISRA1A_SUM;
                    Checks.record(
                            "LQ-1", set.name + " sum of squares", SOURCE, MARK, sum, solver.sum(), SECOND_START * sum);
                    Cholesky cholesky = new Cholesky(b.length);
                    assertThat(cholesky.factor(solver.normal())).isTrue();
                    double[] covariance = new double[b.length * b.length];
                    cholesky.invert(covariance);
                    double[] sds = numbers(set.sds);
                    double variance = solver.sum() / (set.points - b.length);
                    for (int j = 0; j < b.length; j++) {
                        Checks.record(
                                "LQ-1",
                                set.name + " standard deviation of b" + (j + 1),
                                SOURCE,
                                MARK,
                                sds[j],
                                Math.sqrt(variance * covariance[j * b.length + j]),
                                1e-5 * sds[j]);
                    }
                }));
    }

    @Test
    void agreesWithTheOptimiserOfCommonsMath() {
        for (Set set : new Set[] {MISRA1A, THURBER}) {
            double[] start = numbers(set.starts.split(";")[1]);
            Curve curve = curve(set);
            double[] xs = numbers(set.xs);
            double[] oracle = new LevenbergMarquardtOptimizer()
                    .withCostRelativeTolerance(1e-15)
                    .withParameterRelativeTolerance(1e-12)
                    .optimize(new LeastSquaresBuilder()
                            .start(start)
                            .target(numbers(set.ys))
                            .maxEvaluations(LIMIT)
                            .maxIterations(LIMIT)
                            .model(point -> {
                                double[] b = point.toArray();
                                double[] values = new double[xs.length];
                                double[][] jacobian = new double[xs.length][b.length];
                                for (int i = 0; i < xs.length; i++) {
                                    values[i] = curve.at(xs[i], b, jacobian[i]);
                                }
                                return new Pair<>(new ArrayRealVector(values), new Array2DRowRealMatrix(jacobian));
                            })
                            .build())
                    .getPoint()
                    .toArray();
            double[] b = start.clone();
            new LeastSquares(b.length).run(new CurveFit(set, curve), b, 0, LeastSquares.FINEST, LIMIT);
            for (int j = 0; j < b.length; j++) {
                // Commons Math judges by the sum, which is flat at its least: 1e-15 of it is about 1e-7 of the
                // parameters.
                assertThat(b[j]).as("%s b%d", set.name, j + 1).isCloseTo(oracle[j], within(1e-6 * Math.abs(oracle[j])));
            }
        }
    }

    @Test
    void aStartAtTheSolutionTakesHardlyAnyWork() {
        double[] b = numbers(MISRA1A.certified);
        LeastSquares solver = new LeastSquares(2);
        solver.run(new CurveFit(MISRA1A, curve(MISRA1A)), b, 0, 1e-14, LIMIT);
        assertThat(solver.iterations()).isLessThanOrEqualTo(2);
    }

    @Test
    void inverseTimesMatrixIsOne() {
        double[] matrix = {4, 0, 0, 0, 2, 5, 0, 0, 0, 1, 3, 0, 1, 0, 0.5, 6};
        double[] full = matrix.clone();
        for (int i = 0; i < 4; i++) {
            for (int j = 0; j < i; j++) {
                full[j * 4 + i] = full[i * 4 + j];
            }
        }
        Cholesky cholesky = new Cholesky(4);
        assertThat(cholesky.factor(matrix)).isTrue();
        double[] inverse = new double[16];
        cholesky.invert(inverse);
        for (int i = 0; i < 4; i++) {
            for (int j = 0; j < 4; j++) {
                double sum = 0;
                for (int k = 0; k < 4; k++) {
                    sum += full[i * 4 + k] * inverse[k * 4 + j];
                }
                assertThat(sum).isCloseTo(i == j ? 1 : 0, within(1e-14));
            }
        }
        double[] rhs = {1, 2, 3, 4};
        cholesky.solve(rhs);
        double back = 0;
        for (int k = 0; k < 4; k++) {
            back += full[4 + k] * rhs[k];
        }
        assertThat(back).isCloseTo(2, within(1e-13));
    }

    @Test
    void eigenvectorsMakeTheMatrixAgain() {
        RandomGenerator random = RandomGeneratorFactory.of("L64X128MixRandom").create(5);
        for (int n = 1; n <= 12; n++) {
            double[][] matrix = new double[n][n];
            for (int i = 0; i < n; i++) {
                for (int j = 0; j <= i; j++) {
                    // Powers of ten apart, as the blocks of a network that does not meet are.
                    double value = random.nextDouble(-1, 1) * Math.pow(10, n % 3 == 0 ? -9.0 * (i + j) : 0);
                    matrix[i][j] = value;
                    matrix[j][i] = value;
                }
            }
            SymmetricEigen eigen = new SymmetricEigen(matrix);
            for (int i = 0; i < n; i++) {
                for (int j = 0; j < n; j++) {
                    double sum = 0;
                    double square = 0;
                    for (int e = 0; e < n; e++) {
                        sum += eigen.value(e) * eigen.vector(e)[i] * eigen.vector(e)[j];
                        square += eigen.vector(e)[i] * eigen.vector(e)[j];
                    }
                    assertThat(sum).as("%d by %d", n, n).isCloseTo(matrix[i][j], within(1e-12));
                    assertThat(square).as("%d by %d", n, n).isCloseTo(i == j ? 1 : 0, within(1e-12));
                }
            }
        }
    }

    @Test
    void aMatrixThatIsNotPositiveDefiniteIsRefused() {
        assertThat(new Cholesky(2).factor(new double[] {1, 0, 1, 1})).isFalse();
        assertThat(new Cholesky(2).factor(new double[] {1, 0, Double.NaN, 1})).isFalse();
    }

    private static Curve curve(Set set) {
        return switch (set.name) {
            case "Misra1a" ->
                (x, b, g) -> {
                    double e = Math.exp(-b[1] * x);
                    g[0] = 1 - e;
                    g[1] = b[0] * x * e;
                    return b[0] * (1 - e);
                };
            case "MGH17" ->
                (x, b, g) -> {
                    double e = Math.exp(-x * b[3]);
                    double f = Math.exp(-x * b[4]);
                    g[0] = 1;
                    g[1] = e;
                    g[2] = f;
                    g[3] = -x * b[1] * e;
                    g[4] = -x * b[2] * f;
                    return b[0] + b[1] * e + b[2] * f;
                };
            default ->
                (x, b, g) -> {
                    double top = b[0] + x * (b[1] + x * (b[2] + x * b[3]));
                    double bottom = 1 + x * (b[4] + x * (b[5] + x * b[6]));
                    double power = 1;
                    for (int j = 0; j < 4; j++) {
                        g[j] = power / bottom;
                        power *= x;
                    }
                    power = x;
                    for (int j = 4; j < 7; j++) {
                        g[j] = -top * power / (bottom * bottom);
                        power *= x;
                    }
                    return top / bottom;
                };
        };
    }

    private static double[] numbers(String text) {
        return Arrays.stream(text.strip().split("\\s+"))
                .mapToDouble(Double::parseDouble)
                .toArray();
    }

    private static final class CurveFit implements LeastSquares.Problem {
        private final double[] xs;
        private final double[] ys;
        private final int n;
        private final Curve curve;

        CurveFit(Set set, Curve curve) {
            this.xs = numbers(set.xs);
            this.ys = numbers(set.ys);
            this.n = numbers(set.certified).length;
            this.curve = curve;
            assertThat(xs).as(set.name).hasSize(set.points);
            assertThat(ys).as(set.name).hasSize(set.points);
        }

        @Override
        public int unknowns() {
            return n;
        }

        @Override
        public double sum(double[] b) {
            double[] g = new double[n];
            double sum = 0;
            for (int i = 0; i < xs.length; i++) {
                double r = curve.at(xs[i], b, g) - ys[i];
                sum += r * r;
            }
            return sum;
        }

        @Override
        public void linearise(double[] b, double[] intoNormal, double[] intoGradient) {
            double[] g = new double[n];
            for (int i = 0; i < xs.length; i++) {
                double r = curve.at(xs[i], b, g) - ys[i];
                for (int j = 0; j < n; j++) {
                    intoGradient[j] += g[j] * r;
                    for (int k = 0; k <= j; k++) {
                        intoNormal[j * n + k] += g[j] * g[k];
                    }
                }
            }
        }
    }
}
