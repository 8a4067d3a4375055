package daylight.survey;

import java.util.Arrays;

/**
 * Levenberg-Marquardt on normal equations: finds the unknowns that make a sum of squares (or another sum that is
 * given by iterated weights) least.
 *
 * <p>Why not the optimiser of Commons Math: its QR works on the dense Jacobian of every reading, about 30 times the
 * arithmetic of a Cholesky of the normal matrix here, where a reading touches two points out of sixty; and it has no
 * weights that change with the residuals. The normal matrix squares the condition number, which slows convergence
 * but does not spoil the answer: where it stops is decided by the gradient, formed from the residuals themselves.
 * Commons Math is the oracle in the tests.
 *
 * <p>The damping is scaled by the largest diagonal of the normal matrix seen so far, as in Moré, "The
 * Levenberg-Marquardt algorithm: implementation and theory", Lecture Notes in Mathematics 630 (1978), so that units
 * do not matter. The step is judged by the gain ratio (Madsen, Nielsen, Tingleff, <i>Methods for Non-Linear Least
 * Squares Problems</i>, 2004, section 3.2).
 *
 * <p>Not thread-safe; work arrays are made once.
 */
final class LeastSquares {
    /** What is made least. */
    interface Problem {
        /** How many unknowns. */
        int unknowns();

        /** Returns the sum at x; infinite or not a number where it has none. */
        double sum(double[] x);

        /**
         * Writes the weighted normal matrix (lower triangle) and the gradient J'Wr at x; both arrays come zeroed.
         */
        void linearise(double[] x, double[] intoNormal, double[] intoGradient);
    }

    /** The finest stop that double arithmetic supports: steps of 1e-9 standard deviations. */
    static final double FINEST = 1e-18;

    private static final double FIRST_DAMPING = 1e-3;
    private static final double LEAST_DAMPING = 1e-12;
    private static final double GREATEST_DAMPING = 1e16;
    /** Below this share of the sum, differences of sums are rounding and cannot judge a step. */
    private static final double ROUNDING = 1e-12;

    private final int n;
    private final Cholesky cholesky;
    private final double[] normal;
    private final double[] damped;
    private final double[] gradient;
    private final double[] scale;
    private final double[] step;
    private final double[] trial;
    private int iterations;
    private int evaluations;
    private double sum;

    LeastSquares(int unknowns) {
        this.n = unknowns;
        this.cholesky = new Cholesky(n);
        this.normal = new double[n * n];
        this.damped = new double[n * n];
        this.gradient = new double[n];
        this.scale = new double[n];
        this.step = new double[n];
        this.trial = new double[n];
    }

    /** Linearisations of the last run. */
    int iterations() {
        return iterations;
    }

    /** Evaluations of the sum in the last run. */
    int evaluations() {
        return evaluations;
    }

    /** The sum where the last run ended. */
    double sum() {
        return sum;
    }

    /** The normal matrix of the last linearisation, lower triangle; overwritten by the next run. */
    double[] normal() {
        return normal;
    }

    /**
     * Runs from x.
     *
     * @param x the start; overwritten by the solution
     * @param floor the sum below which differences do not matter: the unit of the sum for readings weighted by their
     *     uncertainty, zero where the size of the residuals is not known beforehand
     * @param stop a square gain of the next step below this share of the sum, or of the floor, changes nothing that
     *     matters; {@link #FINEST} where the arithmetic may decide
     * @param limit greatest number of linearisations
     */
    Ending run(Problem problem, double[] x, double floor, double stop, int limit) {
        Arrays.fill(scale, 0);
        double damping = FIRST_DAMPING;
        double growth = 2;
        iterations = 0;
        evaluations = 1;
        sum = problem.sum(x);
        boolean fresh = false;
        while (true) {
            if (!fresh) {
                if (iterations == limit) {
                    return Ending.ITERATION_LIMIT;
                }
                Arrays.fill(normal, 0);
                Arrays.fill(gradient, 0);
                problem.linearise(x, normal, gradient);
                iterations++;
                rescale();
                fresh = true;
            }
            if (damping > GREATEST_DAMPING) {
                return Ending.NO_PROGRESS;
            }
            if (!solve(damping)) {
                damping = Math.max(damping * growth, FIRST_DAMPING * LEAST_DAMPING);
                growth *= 2;
                continue;
            }
            double expected = 0;
            for (int j = 0; j < n; j++) {
                expected += step[j] * (damping * scale[j] * step[j] - gradient[j]);
            }
            for (int j = 0; j < n; j++) {
                trial[j] = x[j] + step[j];
            }
            double there = problem.sum(trial);
            evaluations++;
            double gain = sum - there;
            boolean rounding = expected <= ROUNDING * sum && gain >= -ROUNDING * sum;
            if (gain > 0 || rounding) {
                System.arraycopy(trial, 0, x, 0, n);
                sum = there;
                if (expected <= stop * Math.max(sum, floor) && damping <= FIRST_DAMPING) {
                    return Ending.CONVERGED;
                }
                fresh = false;
                growth = 2;
                double ratio = rounding ? 1 : gain / expected;
                if (ratio > 0.75) {
                    damping = Math.max(damping * 0.1, LEAST_DAMPING);
                } else if (ratio < 0.25) {
                    damping *= 4;
                }
            } else {
                if (expected <= stop * Math.max(sum, floor) && damping <= FIRST_DAMPING) {
                    return Ending.CONVERGED;
                }
                damping *= growth;
                growth *= 2;
            }
        }
    }

    private void rescale() {
        double largest = 0;
        for (int j = 0; j < n; j++) {
            scale[j] = Math.max(scale[j], normal[j * n + j]);
            largest = Math.max(largest, scale[j]);
        }
        // An unknown that nothing speaks of yet still needs a scale, or it could not be damped.
        double least = largest > 0 ? largest * 1e-12 : 1;
        for (int j = 0; j < n; j++) {
            scale[j] = Math.max(scale[j], least);
        }
    }

    private boolean solve(double damping) {
        System.arraycopy(normal, 0, damped, 0, n * n);
        for (int j = 0; j < n; j++) {
            damped[j * n + j] += damping * scale[j];
            step[j] = -gradient[j];
        }
        if (!cholesky.factor(damped)) {
            return false;
        }
        cholesky.solve(step);
        return true;
    }
}
