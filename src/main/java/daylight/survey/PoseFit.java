package daylight.survey;

import daylight.geometry.Pose;
import daylight.geometry.Spot;
import java.util.List;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.LUDecomposition;
import org.apache.commons.math3.linear.RealMatrix;
import org.apache.commons.math3.linear.SingularValueDecomposition;

/**
 * The rigid motion that takes some spots nearest to their measured places: where a bracket, a wheel or a scan sits,
 * from a few of its points measured on the car.
 *
 * @param pose takes a spot of the part to the car, mm
 * @param rmsMm root of the mean square of what is left over, mm
 * @param rank in how many directions the spots are spread: 3 or 2 (in one plane) fix the pose; 1 (on one line) leaves
 *     a turn about that line free, 0 (one place) every turn
 */
public record PoseFit(Pose pose, double rmsMm, int rank) {
    /** Spots spread less than this share of their greatest spread, along a direction, are not spread there. */
    private static final double FLAT = 1e-9;

    /**
     * Returns the rigid motion, never a reflection, of least squares.
     *
     * <p>Source: Arun, Huang and Blostein, "Least-squares fitting of two 3-D point sets", IEEE PAMI 9 (1987) 698,
     * with the determinant rule of Umeyama, IEEE PAMI 13 (1991) 376.
     *
     * @param part spots of the part, its own frame, mm
     * @param car the same spots where they are on the car, mm, in the same order
     * @throws IllegalArgumentException if there are none, or not as many of each
     */
    public static PoseFit rigid(List<Spot> part, List<Spot> car) {
        Motion motion = Motion.of(rows(part), rows(car), false);
        double[][] r = motion.rotation;
        double[] t = motion.shift;
        Pose pose = new Pose(
                r[0][0], r[0][1], r[0][2], r[1][0], r[1][1], r[1][2], r[2][0], r[2][1], r[2][2], t[0], t[1], t[2]);
        return new PoseFit(pose, Math.sqrt(motion.meanSquare), motion.rank);
    }

    /**
     * Returns by what the part's spots would have to be multiplied to fit best: 25.4 where a file in inches was taken
     * for millimetres.
     *
     * @throws IllegalArgumentException if there are none, or not as many of each, or they are all in one place
     */
    public static double scale(List<Spot> part, List<Spot> car) {
        Motion motion = Motion.of(rows(part), rows(car), true);
        if (motion.rank == 0) {
            throw new IllegalArgumentException("spots in one place have no scale");
        }
        return motion.scale;
    }

    private static double[][] rows(List<Spot> spots) {
        double[][] rows = new double[spots.size()][];
        for (int i = 0; i < rows.length; i++) {
            Spot spot = spots.get(i);
            rows[i] = new double[] {spot.x(), spot.y(), spot.z()};
        }
        return rows;
    }

    /** Rotation, scale and shift between two sets of places of any dimension: scale x rotation x from + shift = to. */
    static final class Motion {
        final double[][] rotation;
        final double[] shift;
        final double scale;
        final double meanSquare;
        final int rank;

        private Motion(double[][] rotation, double[] shift, double scale, double meanSquare, int rank) {
            this.rotation = rotation;
            this.shift = shift;
            this.scale = scale;
            this.meanSquare = meanSquare;
            this.rank = rank;
        }

        static Motion of(double[][] from, double[][] to, boolean scaled) {
            int n = from.length;
            if (n == 0 || n != to.length) {
                throw new IllegalArgumentException(
                        "a fit needs as many places of each, not " + n + " and " + to.length);
            }
            int d = from[0].length;
            double[] a = middle(from);
            double[] b = middle(to);
            RealMatrix product = new Array2DRowRealMatrix(d, d);
            double spread = 0;
            for (int i = 0; i < n; i++) {
                for (int r = 0; r < d; r++) {
                    spread += (from[i][r] - a[r]) * (from[i][r] - a[r]) / n;
                    for (int c = 0; c < d; c++) {
                        product.addToEntry(r, c, (to[i][r] - b[r]) * (from[i][c] - a[c]) / n);
                    }
                }
            }
            SingularValueDecomposition svd = new SingularValueDecomposition(product);
            RealMatrix signs = new Array2DRowRealMatrix(d, d);
            for (int k = 0; k < d; k++) {
                signs.setEntry(k, k, 1);
            }
            double handed =
                    new LUDecomposition(svd.getU()).getDeterminant() * new LUDecomposition(svd.getV()).getDeterminant();
            if (handed < 0) {
                signs.setEntry(d - 1, d - 1, -1);
            }
            RealMatrix rotation = svd.getU().multiply(signs).multiply(svd.getVT());
            double[] singular = svd.getSingularValues();
            double trace = 0;
            int rank = 0;
            for (int k = 0; k < d; k++) {
                trace += singular[k] * signs.getEntry(k, k);
                rank += singular[k] > FLAT * Math.max(spread, Double.MIN_NORMAL) ? 1 : 0;
            }
            double scale = scaled && spread > 0 ? trace / spread : 1;
            double[] turned = rotation.operate(a);
            double[] shift = new double[d];
            for (int k = 0; k < d; k++) {
                shift[k] = b[k] - scale * turned[k];
            }
            double squares = 0;
            for (int i = 0; i < n; i++) {
                double[] there = rotation.operate(from[i]);
                for (int k = 0; k < d; k++) {
                    double off = to[i][k] - scale * there[k] - shift[k];
                    squares += off * off / n;
                }
            }
            return new Motion(rotation.getData(), shift, scale, squares, rank);
        }

        private static double[] middle(double[][] places) {
            double[] sum = new double[places[0].length];
            for (double[] place : places) {
                for (int k = 0; k < sum.length; k++) {
                    sum[k] += place[k] / places.length;
                }
            }
            return sum;
        }
    }
}
