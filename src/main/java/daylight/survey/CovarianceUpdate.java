package daylight.survey;

import java.util.Arrays;

/**
 * A covariance that follows exactly when readings are added, replaced or taken away, without solving again
 * (Sherman-Morrison). Holds its own copy and scratch; not thread-safe.
 *
 * <p>With a reading of gradient a whose weight (one over its variance) changes by d, the covariance Q becomes
 * Q - d Qa (Qa)' / (1 + d a'Qa).
 */
final class CovarianceUpdate {
    private final int n;
    private final double[] covariance;
    private final double[] product;

    CovarianceUpdate(double[] covariance, int unknowns) {
        this.n = unknowns;
        this.covariance = covariance.clone();
        this.product = new double[n];
    }

    /** Returns Q a in scratch that the next call overwrites; a may be mostly zero. */
    double[] times(double[] a) {
        Arrays.fill(product, 0);
        for (int j = 0; j < n; j++) {
            if (a[j] != 0) {
                int row = j * n;
                for (int k = 0; k < n; k++) {
                    product[k] += a[j] * covariance[row + k];
                }
            }
        }
        return product;
    }

    /** Returns a' Q a. */
    double variance(double[] a) {
        return SurveyedPoints.quadratic(covariance, a, n);
    }

    /** Returns the variance of one unknown. */
    double variance(int j) {
        return covariance[j * n + j];
    }

    /** Changes the weight of a reading with gradient a by so much. */
    void change(double[] a, double byWeight) {
        double[] q = times(a);
        double s = 0;
        for (int j = 0; j < n; j++) {
            s += a[j] * q[j];
        }
        double factor = byWeight / (1 + byWeight * s);
        for (int i = 0; i < n; i++) {
            double qi = factor * q[i];
            if (qi != 0) {
                for (int j = 0; j < n; j++) {
                    covariance[i * n + j] -= qi * q[j];
                }
            }
        }
    }
}
