package daylight.linkage;

/** Small dense systems in place, row by row, with row exchanges. */
final class Lu {
    /** A body held by equations with bodies placed before has six unknowns: most systems of a car are of this size. */
    private static final int SIX = 6;

    private Lu() {}

    /**
     * Factors a square matrix in place.
     *
     * @param a n x n row by row; replaced by its factors, on the diagonal the inverse pivots
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
            a[k * n + k] = inverse;
            if (n == SIX) {
                clearColumnOfSix(a, k, inverse);
            } else {
                clearColumn(a, n, k, inverse);
            }
        }
        return negative ? -least : least;
    }

    private static void clearColumn(double[] a, int n, int k, double inverse) {
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

    /** The same, written out: a loop of five, four, three passes costs more than its arithmetic. */
    private static void clearColumnOfSix(double[] a, int k, double inverse) {
        int q = k * SIX;
        double a1 = a[q + 1];
        double a2 = a[q + 2];
        double a3 = a[q + 3];
        double a4 = a[q + 4];
        double a5 = a[q + 5];
        for (int p = q + SIX; p < SIX * SIX; p += SIX) {
            double factor = a[p + k] * inverse;
            if (factor == 0) {
                continue;
            }
            switch (k) {
                case 0 -> {
                    a[p + 1] -= factor * a1;
                    a[p + 2] -= factor * a2;
                    a[p + 3] -= factor * a3;
                    a[p + 4] -= factor * a4;
                    a[p + 5] -= factor * a5;
                }
                case 1 -> {
                    a[p + 2] -= factor * a2;
                    a[p + 3] -= factor * a3;
                    a[p + 4] -= factor * a4;
                    a[p + 5] -= factor * a5;
                }
                case 2 -> {
                    a[p + 3] -= factor * a3;
                    a[p + 4] -= factor * a4;
                    a[p + 5] -= factor * a5;
                }
                case 3 -> {
                    a[p + 4] -= factor * a4;
                    a[p + 5] -= factor * a5;
                }
                default -> a[p + 5] -= factor * a5;
            }
            a[p + k] = factor;
        }
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
        if (n == SIX) {
            substituteSix(a, b, at);
            return;
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
            b[at + i] = sum * a[p + i];
        }
    }

    private static void substituteSix(double[] a, double[] b, int at) {
        double x5 = b[at + 5];
        double x0 = b[at];
        double x1 = b[at + 1];
        double x2 = b[at + 2];
        double x3 = b[at + 3];
        double x4 = b[at + 4];
        x5 -= a[30] * x0;
        x1 -= a[6] * x0;
        x2 -= a[12] * x0;
        x3 -= a[18] * x0;
        x4 -= a[24] * x0;
        x2 -= a[13] * x1;
        x3 -= a[19] * x1;
        x4 -= a[25] * x1;
        x5 -= a[31] * x1;
        x3 -= a[20] * x2;
        x4 -= a[26] * x2;
        x5 -= a[32] * x2;
        x4 -= a[27] * x3;
        x5 -= a[33] * x3;
        x5 -= a[34] * x4;
        x5 *= a[35];
        x4 = (x4 - a[29] * x5) * a[28];
        x3 = (x3 - a[23] * x5 - a[22] * x4) * a[21];
        x2 = (x2 - a[17] * x5 - a[16] * x4 - a[15] * x3) * a[14];
        x1 = (x1 - a[11] * x5 - a[10] * x4 - a[9] * x3 - a[8] * x2) * a[7];
        x0 = (x0 - a[5] * x5 - a[4] * x4 - a[3] * x3 - a[2] * x2 - a[1] * x1) * a[0];
        b[at] = x0;
        b[at + 1] = x1;
        b[at + 2] = x2;
        b[at + 3] = x3;
        b[at + 4] = x4;
        b[at + 5] = x5;
    }
}
