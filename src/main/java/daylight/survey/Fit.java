package daylight.survey;

import java.util.Arrays;

/**
 * The sum that an adjustment makes least: squares of the residuals over their uncertainties, or a robust sum that
 * grows more slowly, so that one wrong reading cannot pull the points after it.
 */
final class Fit implements LeastSquares.Problem {
    /** How the sum grows with a residual of so many standard uncertainties. */
    enum Growth {
        /** t²: least squares. */
        SQUARE,
        /** About |t| beyond the knee: convex, so it hardly depends on the start. */
        LINEAR,
        /** About log |t| beyond the knee: a gross error hardly pulls at all, but the start matters. */
        LOGARITHM
    }

    /** Where the robust sums leave the square, in standard uncertainties. */
    private static final double KNEE = 2;

    private final Readings readings;
    /** Rows that take part. */
    final boolean[] active;

    Growth growth = Growth.SQUARE;

    Fit(Readings readings) {
        this.readings = readings;
        this.active = new boolean[readings.rows];
        Arrays.fill(active, true);
    }

    @Override
    public int unknowns() {
        return readings.unknowns;
    }

    @Override
    public double sum(double[] x) {
        readings.put(x);
        double sum = 0;
        for (int i = 0; i < readings.rows; i++) {
            if (active[i]) {
                double t = readings.residual(i) / readings.u[i];
                sum += grown(t * t);
            }
        }
        return sum;
    }

    @Override
    public void linearise(double[] x, double[] intoNormal, double[] intoGradient) {
        readings.put(x);
        for (int i = 0; i < readings.rows; i++) {
            if (active[i]) {
                double residual = readings.residual(i);
                double u = readings.u[i];
                double t = residual / u;
                double weight = slope(t * t) / (u * u);
                readings.addSquare(i, weight, intoNormal);
                readings.addGradient(i, weight * residual, intoGradient);
            }
        }
    }

    private double grown(double square) {
        double k = KNEE * KNEE;
        return switch (growth) {
            case SQUARE -> square;
            case LINEAR -> 2 * k * (Math.sqrt(1 + square / k) - 1);
            case LOGARITHM -> k * Math.log1p(square / k);
        };
    }

    /** Derivative of the sum by the square: the weight of iterated least squares. */
    private double slope(double square) {
        double k = KNEE * KNEE;
        return switch (growth) {
            case SQUARE -> 1;
            case LINEAR -> 1 / Math.sqrt(1 + square / k);
            case LOGARITHM -> 1 / (1 + square / k);
        };
    }
}
