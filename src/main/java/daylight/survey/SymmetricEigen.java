package daylight.survey;

/**
 * Eigenvalues and eigenvectors of a small symmetric matrix by cyclic Jacobi rotations.
 *
 * <p>Why not the decomposition of Commons Math: its QL iteration gave up ("convergence failed") on a block of a
 * network whose tapes could not meet, with entries many powers of ten apart. Jacobi has no such case: every rotation
 * takes the square of an element off the sum of those beside the diagonal.
 *
 * <p>Source: Golub, Van Loan, <i>Matrix Computations</i>, 4th edition, section 8.5.
 *
 * <p>Cost: about ten times the cube of the size.
 */
final class SymmetricEigen {
    /** Ten sweeps bring any matrix of doubles down to rounding; the limit only ends what is no number. */
    private static final int MOST_SWEEPS = 50;

    private final double[][] rest;
    private final double[][] vectors;

    /**
     * Decomposes a matrix.
     *
     * @param matrix square, symmetric, finite; not modified
     */
    SymmetricEigen(double[][] matrix) {
        int n = matrix.length;
        rest = new double[n][];
        vectors = new double[n][n];
        for (int i = 0; i < n; i++) {
            rest[i] = matrix[i].clone();
            vectors[i][i] = 1;
        }
        boolean turned = true;
        for (int sweep = 0; sweep < MOST_SWEEPS && turned; sweep++) {
            turned = false;
            for (int p = 0; p < n - 1; p++) {
                for (int q = p + 1; q < n; q++) {
                    turned |= rotate(p, q);
                }
            }
        }
    }

    /** Makes one element beside the diagonal zero; returns whether it was more than rounding. */
    private boolean rotate(int p, int q) {
        double off = rest[p][q];
        if (Math.abs(off) <= Math.ulp(Math.max(Math.abs(rest[p][p]), Math.abs(rest[q][q])))) {
            return false;
        }
        double theta = (rest[q][q] - rest[p][p]) / (2 * off);
        double t = Math.copySign(1, theta) / (Math.abs(theta) + Math.hypot(theta, 1));
        double c = 1 / Math.hypot(t, 1);
        double s = t * c;
        for (int k = 0; k < rest.length; k++) {
            double kp = rest[k][p];
            double kq = rest[k][q];
            rest[k][p] = c * kp - s * kq;
            rest[k][q] = s * kp + c * kq;
        }
        for (int k = 0; k < rest.length; k++) {
            double pk = rest[p][k];
            double qk = rest[q][k];
            rest[p][k] = c * pk - s * qk;
            rest[q][k] = s * pk + c * qk;
            double vp = vectors[k][p];
            double vq = vectors[k][q];
            vectors[k][p] = c * vp - s * vq;
            vectors[k][q] = s * vp + c * vq;
        }
        return true;
    }

    /** Returns an eigenvalue, in no order. */
    double value(int e) {
        return rest[e][e];
    }

    /** Returns the eigenvector of an eigenvalue, of length one; a fresh array. */
    double[] vector(int e) {
        double[] vector = new double[vectors.length];
        for (int k = 0; k < vector.length; k++) {
            vector[k] = vectors[k][e];
        }
        return vector;
    }
}
