package daylight.linkage;

/** Small dense systems in place, row by row, with row exchanges. */
final class Lu {
    private Lu() {}

    /**
     * Factors a square matrix in place.
     *
     * @param a n x n row by row; replaced by its factors
     * @param row receives the row exchanges
     * @return the least pivot's size, with the sign of the determinant; 0 when a pivot is not above zero
     */
    static double factor(double[] a, int n, int[] row) {
        double least = Double.POSITIVE_INFINITY;
        boolean negative = false;
        for (int k = 0; k < n; k++) {
            int best = k;
            double size = Math.abs(a[k * n + k]);
            for (int i = k + 1; i < n; i++) {
                double candidate = Math.abs(a[i * n + k]);
                if (candidate > size) {
                    size = candidate;
                    best = i;
                }
            }
            row[k] = best;
            if (!(size > 0) || size == Double.POSITIVE_INFINITY) {
                return 0;
            }
            if (best != k) {
                negative = !negative;
                int p = k * n;
                int q = best * n;
                for (int j = 0; j < n; j++) {
                    double swap = a[p + j];
                    a[p + j] = a[q + j];
                    a[q + j] = swap;
                }
            }
            double pivot = a[k * n + k];
            if (pivot < 0) {
                negative = !negative;
            }
            least = Math.min(least, size);
            double inverse = 1 / pivot;
            for (int i = k + 1; i < n; i++) {
                double factor = a[i * n + k] * inverse;
                if (factor != 0) {
                    a[i * n + k] = factor;
                    int p = i * n;
                    int q = k * n;
                    for (int j = k + 1; j < n; j++) {
                        a[p + j] -= factor * a[q + j];
                    }
                }
            }
        }
        return negative ? -least : least;
    }

    /** Solves with the factors of {@link #factor}; the right side at {@code b[at..at+n)} becomes the solution. */
    static void solve(double[] a, int n, int[] row, double[] b, int at) {
        for (int k = 0; k < n; k++) {
            int p = row[k];
            if (p != k) {
                double swap = b[at + k];
                b[at + k] = b[at + p];
                b[at + p] = swap;
            }
        }
        for (int i = 1; i < n; i++) {
            double sum = b[at + i];
            int p = i * n;
            for (int j = 0; j < i; j++) {
                sum -= a[p + j] * b[at + j];
            }
            b[at + i] = sum;
        }
        for (int i = n - 1; i >= 0; i--) {
            double sum = b[at + i];
            int p = i * n;
            for (int j = i + 1; j < n; j++) {
                sum -= a[p + j] * b[at + j];
            }
            b[at + i] = sum / a[p + i];
        }
    }
}
