package daylight.survey;

import daylight.units.Progress;
import java.util.Arrays;
import java.util.List;

/**
 * From one start to an adjustment in which every reading that takes part agrees: fit, set the reading aside that
 * disagrees most beyond the critical value, fit again, and take readings back that then agree.
 *
 * <p>Data snooping as by Baarda (1968). The critical value is that of a family: with 250 readings at 3.29 each, a
 * clean car would raise a false alarm one time in five; here a whole clean network does so one time in a hundred.
 *
 * <p>Several errors can hide one another from least squares. When more than one reading disagrees the whole is done
 * again from a robust fit, in which gross errors hardly pull, with its outliers set aside at the outset; the outcome
 * that needs fewer readings set aside, or leaves a smaller sum, is kept.
 */
final class Settling {
    /** Chance that a clean network raises a false alarm. */
    static final double FALSE_ALARM = 0.01;
    /** Baarda's usual chance of a false alarm for one reading, where that asks for more. */
    static final double FALSE_ALARM_OF_ONE = 0.001;
    /** Below this redundancy nothing can be said about a reading: an inch slip in sixteenths would not be found. */
    static final double UNCHECKED = 0.01;
    /** Two accused whose squares differ by less cannot be told apart: chi-square of one degree of freedom, 95 %. */
    static final double SEPARABLE = 3.841459;

    /** Steps below 1e-7 standard uncertainties change nothing that matters. */
    private static final double STOP = 1e-14;
    /** A robust fit is only a start: a thousandth of a standard uncertainty will do. */
    private static final double ROBUST_STOP = 1e-6;

    private static final int LIMIT = 100;
    private static final int ROBUST_LIMIT = 30;
    /** From a robust fit, readings beyond this many standard uncertainties are set aside to begin with. */
    private static final double ROBUST_OUTLIER = 5;
    /** A reading is taken back so often at most, which ends any going round in circles. */
    private static final int MOST_RETURNS = 2;

    private final Readings readings;
    private final Network.Graduation graduation;
    private final Progress progress;
    private final Fit fit;
    private final LeastSquares solver;
    private final Cholesky cholesky;
    private final double[] normal;
    private final double[] row;
    private final double[] rowTimes;

    /** Inverse of the normal matrix at x: covariance of the unknowns. */
    final double[] covariance;

    final double[] x;
    final double critical;
    /** Residual, adjusted less observed, of every row at x, those set aside included. */
    final double[] residual;
    /** Variance of the row's adjusted value. */
    final double[] spread;

    final boolean[] aside;
    /** Whether some direction was so loose that the covariance had to be bounded. */
    boolean loose;

    Ending ending = Ending.CONVERGED;
    double chiSquare;
    double objective;
    int setAside;
    /** Linearisations over all runs. */
    int iterations;

    Settling(Readings readings, Network.Graduation graduation, Progress progress) {
        this.readings = readings;
        this.graduation = graduation;
        this.progress = progress;
        int n = readings.unknowns;
        fit = new Fit(readings);
        solver = new LeastSquares(n);
        cholesky = new Cholesky(n);
        normal = new double[n * n];
        row = new double[n];
        rowTimes = new double[n];
        covariance = new double[n * n];
        x = new double[n];
        residual = new double[readings.rows];
        spread = new double[readings.rows];
        aside = new boolean[readings.rows];
        critical = criticalValue(readings.rows);
    }

    /** Returns the critical value of the standardised residual for a network of so many readings. */
    static double criticalValue(int rows) {
        return Math.max(
                Coverage.criticalValue(FALSE_ALARM_OF_ONE), Coverage.criticalValue(FALSE_ALARM / Math.max(1, rows)));
    }

    /** Settles from the places that the readings hold, all readings taking part to begin with. */
    void run() {
        double[] start = new double[x.length];
        readings.take(start);
        System.arraycopy(start, 0, x, 0, x.length);
        Arrays.fill(aside, false);
        settle();
        if (setAside > 1 && ending != Ending.CANCELLED) {
            State plain = new State();
            if (robust(start)) {
                settle();
            }
            if (plain.objective <= objective || ending == Ending.CANCELLED) {
                plain.restore();
            }
        }
    }

    /** Sets the outliers of a robust fit aside; returns whether there are any. */
    private boolean robust(double[] start) {
        System.arraycopy(start, 0, x, 0, x.length);
        Arrays.fill(fit.active, true);
        for (Fit.Growth growth : List.of(Fit.Growth.LINEAR, Fit.Growth.LOGARITHM)) {
            fit.growth = growth;
            solver.run(fit, x, 1, ROBUST_STOP, ROBUST_LIMIT);
            iterations += solver.iterations();
        }
        fit.growth = Fit.Growth.SQUARE;
        readings.put(x);
        boolean any = false;
        for (int i = 0; i < readings.rows; i++) {
            aside[i] = Math.abs(readings.residual(i)) > ROBUST_OUTLIER * readings.u[i];
            any |= aside[i];
        }
        return any;
    }

    private void settle() {
        int[] returns = new int[readings.rows];
        for (int round = 0; round <= 3 * readings.rows; round++) {
            if (progress.cancelled()) {
                ending = Ending.CANCELLED;
                return;
            }
            fitNow();
            int back = -1;
            int out = -1;
            double least = critical;
            double most = critical;
            for (int i = 0; i < readings.rows; i++) {
                double w = Math.abs(standardised(i));
                if (aside[i]) {
                    if (w < least && returns[i] < MOST_RETURNS) {
                        least = w;
                        back = i;
                    }
                } else if (w > most && redundancy(i) > UNCHECKED) {
                    most = w;
                    out = i;
                }
            }
            if (back >= 0) {
                aside[back] = false;
                returns[back]++;
            } else if (out >= 0) {
                aside[usual(out, most)] = true;
            } else {
                break;
            }
        }
        setAside = 0;
        for (boolean a : aside) {
            setAside += a ? 1 : 0;
        }
        objective = chiSquare + setAside * critical * critical;
    }

    /** Takes a reading back that was set aside, and fits again. */
    void putBack(int i) {
        aside[i] = false;
        fitNow();
    }

    /** Of the readings that disagree about as much, the one that a usual slip explains; else the worst. */
    private int usual(int worst, double most) {
        for (int i = -1; i < readings.rows; i++) {
            int candidate = i < 0 ? worst : i;
            if (aside[candidate] || redundancy(candidate) <= UNCHECKED) {
                continue;
            }
            double w = standardised(candidate);
            if (w * w > most * most - SEPARABLE) {
                double off = residual[candidate] / redundancy(candidate);
                double u = readings.u[candidate] / Math.sqrt(redundancy(candidate));
                if (!Slips.of(readings.equations[candidate], readings.reads[candidate] + off, u, graduation)
                        .isEmpty()) {
                    return candidate;
                }
            }
        }
        return worst;
    }

    /** Least squares over the readings that take part, with covariance and the figures of each reading. */
    private void fitNow() {
        for (int i = 0; i < readings.rows; i++) {
            fit.active[i] = !aside[i];
        }
        ending = solver.run(fit, x, 1, STOP, LIMIT);
        iterations += solver.iterations();
        chiSquare = solver.sum();
        invert();
        readings.put(x);
        for (int i = 0; i < readings.rows; i++) {
            residual[i] = readings.residual(i);
            spread[i] = spreadOf(readings.pointsOf[i], readings.gradient(i));
        }
    }

    private void invert() {
        int n = x.length;
        System.arraycopy(solver.normal(), 0, normal, 0, n * n);
        double bound = SurveyedPoints.LOOSE_MM * SurveyedPoints.LOOSE_MM;
        loose = !cholesky.factor(normal);
        if (!loose) {
            cholesky.invert(covariance);
            double trace = 0;
            for (int j = 0; j < n; j++) {
                trace += covariance[j * n + j];
            }
            // No direction is looser than the root of the trace.
            loose = !(trace < bound);
        }
        for (double added = 1 / bound; loose; added *= 100) {
            for (int j = 0; j < n; j++) {
                normal[j * n + j] = solver.normal()[j * n + j] + added;
            }
            if (cholesky.factor(normal)) {
                cholesky.invert(covariance);
                return;
            }
        }
    }

    /** Variance of a quantity of a few points, by its gradient. */
    double spreadOf(int[] points, double[] g) {
        int n = x.length;
        double sum = 0;
        for (int a = 0; a < points.length; a++) {
            int ua = readings.unknownOf[points[a]];
            if (ua < 0) {
                continue;
            }
            for (int b = 0; b < points.length; b++) {
                int ub = readings.unknownOf[points[b]];
                if (ub < 0) {
                    continue;
                }
                for (int p = 0; p < 3; p++) {
                    int at = (ua + p) * n + ub;
                    sum += g[3 * a + p]
                            * (covariance[at] * g[3 * b]
                                    + covariance[at + 1] * g[3 * b + 1]
                                    + covariance[at + 2] * g[3 * b + 2]);
                }
            }
        }
        return sum;
    }

    /** Redundancy number of a row, in the network with that row, whether it takes part or not. */
    double redundancy(int i) {
        double variance = readings.u[i] * readings.u[i];
        double r = aside[i] ? variance / (variance + spread[i]) : 1 - spread[i] / variance;
        return Math.min(1, Math.max(0, r));
    }

    /** Residual over its standard deviation; zero where nothing checks the row. */
    double standardised(int i) {
        double r = redundancy(i);
        if (aside[i]) {
            return residual[i] / Math.sqrt(readings.u[i] * readings.u[i] + spread[i]);
        }
        return r > UNCHECKED ? residual[i] / (readings.u[i] * Math.sqrt(r)) : 0;
    }

    /** Writes covariance times the gradient of row i, and returns its scratch array; overwritten by the next call. */
    double[] covarianceTimesRow(int i) {
        int n = x.length;
        Arrays.fill(row, 0);
        readings.put(x);
        readings.value(i);
        readings.addGradient(i, 1, row);
        Arrays.fill(rowTimes, 0);
        for (int j = 0; j < n; j++) {
            if (row[j] != 0) {
                for (int k = 0; k < n; k++) {
                    rowTimes[k] += row[j] * covariance[j * n + k];
                }
            }
        }
        return rowTimes;
    }

    /** A copy of an outcome, to go back to. */
    final class State {
        private final double[] x0 = x.clone();
        private final double[] covariance0 = covariance.clone();
        private final double[] residual0 = residual.clone();
        private final double[] spread0 = spread.clone();
        private final boolean[] aside0 = aside.clone();
        private final boolean loose0 = loose;
        private final Ending ending0 = ending;
        private final double chiSquare0 = chiSquare;
        private final int setAside0 = setAside;
        final double objective = Settling.this.objective;

        int setAside() {
            return setAside0;
        }

        void restore() {
            System.arraycopy(x0, 0, x, 0, x.length);
            System.arraycopy(covariance0, 0, covariance, 0, covariance.length);
            System.arraycopy(residual0, 0, residual, 0, residual.length);
            System.arraycopy(spread0, 0, spread, 0, spread.length);
            System.arraycopy(aside0, 0, aside, 0, aside.length);
            loose = loose0;
            ending = ending0;
            chiSquare = chiSquare0;
            setAside = setAside0;
            Settling.this.objective = objective;
            readings.put(x);
        }
    }
}
