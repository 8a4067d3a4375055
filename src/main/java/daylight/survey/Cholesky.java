package daylight.survey;

import java.util.Arrays;

/**
 * Cholesky factor of a symmetric positive definite matrix, row by row in one flat array, with leading zeros of each
 * row skipped (readings tie few points together). Work arrays are made once; not thread-safe.
 *
 * <p>Source: Golub and Van Loan, <i>Matrix Computations</i>, 4th ed., section 4.2; the skipping of leading zeros is
 * the profile (skyline) method.
 */
final class Cholesky {
    /** A pivot below this share of its diagonal is rounding: the matrix is not positive definite. */
    private static final double LEAST_PIVOT = 1e-14;

    private final int n;
    /** The factor: lower triangle, row by row. */
    private final double[] factor;

    private final double[] inverse;
    private final int[] first;

    Cholesky(int n) {
        this.n = n;
        this.factor = new double[n * n];
        this.inverse = new double[n * n];
        this.first = new int[n];
    }

    /**
     * Factors the matrix.
     *
     * @param matrix n x n row by row; only the lower triangle is read; not modified
     * @return whether it is positive definite beyond rounding
     */
    boolean factor(double[] matrix) {
        for (int i = 0; i < n; i++) {
            int row = i * n;
            int start = 0;
            while (start < i && matrix[row + start] == 0) {
                start++;
            }
            first[i] = start;
            for (int j = start; j < i; j++) {
                int other = j * n;
                double sum = matrix[row + j] - dot(factor, row, other, Math.max(start, first[j]), j);
                factor[row + j] = sum / factor[other + j];
            }
            double diagonal = matrix[row + i];
            double pivot = diagonal - dot(factor, row, row, start, i);
            if (!(pivot > LEAST_PIVOT * diagonal) || !(pivot < Double.POSITIVE_INFINITY)) {
                return false;
            }
            factor[row + i] = Math.sqrt(pivot);
        }
        return true;
    }

    /** Solves for one right-hand side in place. */
    void solve(double[] inOut) {
        for (int i = 0; i < n; i++) {
            int row = i * n;
            double sum = inOut[i];
            for (int k = first[i]; k < i; k++) {
                sum -= factor[row + k] * inOut[k];
            }
            inOut[i] = sum / factor[row + i];
        }
        for (int i = n - 1; i >= 0; i--) {
            int row = i * n;
            double x = inOut[i] / factor[row + i];
            inOut[i] = x;
            for (int k = first[i]; k < i; k++) {
                inOut[k] -= factor[row + k] * x;
            }
        }
    }

    /**
     * Writes the inverse of the factored matrix, both triangles.
     *
     * @param into n x n row by row; overwritten
     */
    void invert(double[] into) {
        // Row i of "inverse" holds column i of the inverse of the factor: L y = e_i, which is zero before i.
        Arrays.fill(inverse, 0);
        for (int i = 0; i < n; i++) {
            int at = i * n;
            inverse[at + i] = 1 / factor[i * n + i];
            for (int j = i + 1; j < n; j++) {
                int row = j * n;
                int start = Math.max(i, first[j]);
                inverse[at + j] = -product(factor, row, inverse, at, start, j) / factor[row + j];
            }
        }
        for (int i = 0; i < n; i++) {
            for (int j = 0; j <= i; j++) {
                double sum = product(inverse, i * n, inverse, j * n, i, n);
                into[i * n + j] = sum;
                into[j * n + i] = sum;
            }
        }
    }

    /** Returns entry (i, j), j not above i, of the factor. */
    double entry(int i, int j) {
        return j < first[i] ? 0 : factor[i * n + j];
    }

    private static double dot(double[] a, int row, int other, int from, int to) {
        return product(a, row, a, other, from, to);
    }

    /** Four sums side by side, so that the additions need not wait for one another. */
    private static double product(double[] a, int row, double[] b, int other, int from, int to) {
        double s0 = 0;
        double s1 = 0;
        double s2 = 0;
        double s3 = 0;
        int k = from;
        for (; k + 3 < to; k += 4) {
            s0 += a[row + k] * b[other + k];
            s1 += a[row + k + 1] * b[other + k + 1];
            s2 += a[row + k + 2] * b[other + k + 2];
            s3 += a[row + k + 3] * b[other + k + 3];
        }
        for (; k < to; k++) {
            s0 += a[row + k] * b[other + k];
        }
        return (s0 + s1) + (s2 + s3);
    }
}
