package daylight.linkage;

import static org.assertj.core.api.Assertions.assertThat;

import daylight.geometry.Spot;
import java.util.random.RandomGenerator;
import java.util.random.RandomGeneratorFactory;
import org.apache.commons.math3.geometry.euclidean.threed.Rotation;
import org.apache.commons.math3.geometry.euclidean.threed.RotationConvention;
import org.apache.commons.math3.geometry.euclidean.threed.Vector3D;
import org.hipparchus.linear.Array2DRowRealMatrix;
import org.hipparchus.linear.ArrayRealVector;
import org.hipparchus.linear.RealVector;
import org.hipparchus.optim.nonlinear.vector.leastsquares.LeastSquaresBuilder;
import org.hipparchus.optim.nonlinear.vector.leastsquares.LevenbergMarquardtOptimizer;
import org.hipparchus.optim.nonlinear.vector.leastsquares.MultivariateJacobianFunction;
import org.hipparchus.util.Pair;
import org.junit.jupiter.api.Test;

/**
 * The corner against a general least-squares solver that is given the raw equations: lengths between measured points
 * and a height, in a rotation vector and a shift, with differences for derivatives. Nothing is shared with the engine.
 */
class IndependentSolverTest {
    /** Central differences limit the other solver; both then agree to much better than a tape. */
    private static final double AGREE_MM = 1e-7;

    /** Points: W, A, B, C, D, E, F, R, Q as in {@link Samples#SK1}. */
    private static double[] residuals(double[][] p, double[] x, double rise, double rack) {
        Vector3D turn = new Vector3D(x[0], x[1], x[2]);
        Rotation r = turn.getNorm() < 1e-300
                ? Rotation.IDENTITY
                : new Rotation(turn, turn.getNorm(), RotationConvention.VECTOR_OPERATOR);
        Vector3D shift = new Vector3D(x[3], x[4], x[5]);
        Vector3D c = r.applyTo(v(p[3])).add(shift);
        Vector3D f = r.applyTo(v(p[6])).add(shift);
        Vector3D q = r.applyTo(v(p[8])).add(shift);
        Vector3D w = r.applyTo(v(p[0])).add(shift);
        Vector3D end = v(p[7]).add(new Vector3D(0, rack, 0));
        return new double[] {
            c.distance(v(p[1])) - v(p[3]).distance(v(p[1])),
            c.distance(v(p[2])) - v(p[3]).distance(v(p[2])),
            f.distance(v(p[4])) - v(p[6]).distance(v(p[4])),
            f.distance(v(p[5])) - v(p[6]).distance(v(p[5])),
            q.distance(end) - v(p[8]).distance(v(p[7])),
            w.getZ() - p[0][2] - rise
        };
    }

    private static Vector3D v(double[] p) {
        return new Vector3D(p);
    }

    private static double[] solve(double[][] p, double rise, double rack) {
        double[] x = new double[6];
        int steps = 20;
        for (int k = 1; k <= steps; k++) {
            double z = rise * k / steps;
            double u = rack * k / steps;
            MultivariateJacobianFunction model = point -> {
                double[] at = point.toArray();
                double[][] jacobian = new double[6][6];
                for (int m = 0; m < 6; m++) {
                    double h = m < 3 ? 1e-5 : 1e-3;
                    double[] up = at.clone();
                    double[] down = at.clone();
                    up[m] += h;
                    down[m] -= h;
                    double[] a = residuals(p, up, z, u);
                    double[] b = residuals(p, down, z, u);
                    for (int row = 0; row < 6; row++) {
                        jacobian[row][m] = (a[row] - b[row]) / (2 * h);
                    }
                }
                RealVector value = new ArrayRealVector(residuals(p, at, z, u), false);
                return new Pair<>(value, new Array2DRowRealMatrix(jacobian, false));
            };
            x = new LevenbergMarquardtOptimizer()
                    .withCostRelativeTolerance(1e-15)
                    .withParameterRelativeTolerance(1e-15)
                    .withOrthoTolerance(1e-15)
                    .optimize(new LeastSquaresBuilder()
                            .start(x)
                            .model(model)
                            .target(new double[6])
                            .lazyEvaluation(false)
                            .maxEvaluations(1000)
                            .maxIterations(1000)
                            .build())
                    .getPoint()
                    .toArray();
        }
        return x;
    }

    @Test
    void aLeastSquaresSolverOfTheRawEquationsAgrees() {
        RandomGenerator random = RandomGeneratorFactory.of("L64X128MixRandom").create(4);
        int compared = 0;
        for (int k = 0; k < 60; k++) {
            double[][] p = Samples.shaken(random, 30);
            double rise = 140 * random.nextDouble() - 70;
            double rack = 80 * random.nextDouble() - 40;
            Linkage linkage = Linkage.of(Samples.doubleArm(p));
            if (!linkage.solve(new double[] {rise, rack}).solved()) {
                continue;
            }
            double[] x = solve(p, rise, rack);
            Vector3D turn = new Vector3D(x[0], x[1], x[2]);
            Rotation r = new Rotation(turn, turn.getNorm(), RotationConvention.VECTOR_OPERATOR);
            for (int point : new int[] {0, 3, 6, 8}) {
                Vector3D other = r.applyTo(v(p[point])).add(new Vector3D(x[3], x[4], x[5]));
                Spot ours = linkage.where(2, Samples.spot(p[point]));
                assertThat(new Spot(other.getX(), other.getY(), other.getZ()).distanceTo(ours))
                        .as("geometry %s point %s at %s, %s", k, point, rise, rack)
                        .isLessThan(AGREE_MM);
            }
            compared++;
        }
        assertThat(compared).isGreaterThan(50);
    }

    @Test
    void theMirroredCornerMovesAsTheMirrorImage() {
        RandomGenerator random = RandomGeneratorFactory.of("L64X128MixRandom").create(5);
        for (int k = 0; k < 20; k++) {
            double[][] p = Samples.shaken(random, 30);
            double[][] m = new double[p.length][];
            for (int i = 0; i < p.length; i++) {
                m[i] = new double[] {p[i][0], -p[i][1], p[i][2]};
            }
            Linkage left = Linkage.of(Samples.doubleArm(p));
            Linkage right = Linkage.of(Samples.doubleArm(m));
            double rise = 100 * random.nextDouble() - 50;
            double rack = 60 * random.nextDouble() - 30;
            assertThat(left.solve(new double[] {rise, rack}).solved()).isTrue();
            assertThat(right.solve(new double[] {rise, -rack}).solved()).isTrue();
            for (int b = 0; b < 5; b++) {
                Spot spot = new Spot(30, 600, 50);
                assertThat(left.where(b, spot).mirrored().distanceTo(right.where(b, spot.mirrored())))
                        .as("geometry %s body %s", k, b)
                        .isLessThan(1e-9);
            }
        }
    }
}
