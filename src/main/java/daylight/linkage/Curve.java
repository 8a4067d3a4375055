package daylight.linkage;

/**
 * The length of a leaf that bends to an even curvature from a clamp, as a function of where its eye is: with
 * (s1, s2) the eye along and above the clamp's direction, rho = hypot(s1, s2) the chord and alpha = atan2(s2, s1)
 * half the angle through which the leaf has bent, length = rho g(alpha) with g(alpha) = alpha / sin(alpha).
 *
 * <p>It is homogeneous of degree 1, so its second derivatives are (g + g'')/rho times the square of the
 * tangential unit vector (-sin alpha, cos alpha), and nothing else.
 */
final class Curve {
    /** Below this angle the closed forms of the derivatives cancel; nine terms of the series are exact to 1e-17. */
    private static final double SERIES_BELOW = 0.3;

    /**
     * Coefficients of alpha/sin(alpha) in powers of alpha squared: 2 (2^(2n-1) - 1) |B_2n| / (2n)! (Abramowitz and
     * Stegun 4.3.68).
     */
    private static final double[] SERIES = {
        1.0,
        1.0 / 6,
        7.0 / 360,
        31.0 / 15120,
        127.0 / 604800,
        73.0 / 3421440,
        1414477.0 / 653837184000.0,
        8191.0 / 37362124800.0,
        16931177.0 / 762187345920000.0
    };

    private Curve() {}

    static double g(double alpha) {
        return Math.abs(alpha) < SERIES_BELOW ? series(alpha, 0) : alpha / Math.sin(alpha);
    }

    static double g1(double alpha) {
        if (Math.abs(alpha) < SERIES_BELOW) {
            return series(alpha, 1);
        }
        double s = Math.sin(alpha);
        return (s - alpha * Math.cos(alpha)) / (s * s);
    }

    static double g2(double alpha) {
        if (Math.abs(alpha) < SERIES_BELOW) {
            return series(alpha, 2);
        }
        double s = Math.sin(alpha);
        double c = Math.cos(alpha);
        return (alpha * (1 + c * c) - 2 * s * c) / (s * s * s);
    }

    static double g3(double alpha) {
        if (Math.abs(alpha) < SERIES_BELOW) {
            return series(alpha, 3);
        }
        double s = Math.sin(alpha);
        double c = Math.cos(alpha);
        double n = alpha * (1 + c * c) - 2 * s * c;
        return (3 * s * s - 2 * alpha * s * c) / (s * s * s) - 3 * c * n / (s * s * s * s);
    }

    private static final double[][] DERIVED = {SERIES, derived(1), derived(2), derived(3)};

    /** Coefficients of a derivative in powers of alpha squared; an odd one is alpha times its sum. */
    private static double[] derived(int derivative) {
        int first = (derivative + 1) / 2;
        double[] derived = new double[SERIES.length - first];
        for (int n = first; n < SERIES.length; n++) {
            double factor = SERIES[n];
            for (int d = 0; d < derivative; d++) {
                factor *= 2 * n - d;
            }
            derived[n - first] = factor;
        }
        return derived;
    }

    private static double series(double alpha, int derivative) {
        double[] factors = DERIVED[derivative];
        double square = alpha * alpha;
        double sum = 0;
        for (int n = factors.length - 1; n >= 0; n--) {
            sum = sum * square + factors[n];
        }
        return derivative % 2 == 0 ? sum : alpha * sum;
    }
}
