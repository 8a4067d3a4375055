package daylight.linkage;

/**
 * Which joint of a loop stays open, and by how much, where the loop cannot close: the bodies are put where the misfits
 * are least in the sense of least squares (drivers exactly met), and then where only the worst joint is open.
 */
final class Misfit {
    private static final int ROUNDS = 200;
    /** A joint that must close counts so much more than the one that may stay open. */
    private static final double CLOSED_WEIGHT = 1e3;

    private static final double FIRST_DAMPING = 1e-3;
    private static final double LEAST_DAMPING = 1e-12;
    /** Improvements of the sum of squares below this share, or below this many mm (squared), end the search. */
    private static final double SETTLED = 1e-9;

    private static final double SETTLED_MM = 1e-9;

    final String joint;
    final String between;
    final double largestMm;

    private Misfit(String joint, String between, double largestMm) {
        this.joint = joint;
        this.between = between;
        this.largestMm = largestMm;
    }

    static Misfit of(Loop loop, double[] drivers) {
        if (loop.how != Loop.BY_NEWTON || loop.equations == 0) {
            return new Misfit(loop.equations == 0 ? "" : loop.joint[0], loop.equations == 0 ? "" : loop.between[0], 0);
        }
        double[] weights = new double[loop.equations];
        for (int k = 0; k < weights.length; k++) {
            weights[k] = loop.equationDriver[k] >= 0 && loop.rodLength[k] == 0 ? CLOSED_WEIGHT : 1;
        }
        relax(loop, drivers, weights);
        String worst = worst(loop);
        for (int k = 0; k < weights.length; k++) {
            weights[k] = loop.joint[k].equals(worst) ? 1 : CLOSED_WEIGHT;
        }
        relax(loop, drivers, weights);
        String between = "";
        for (int k = 0; k < loop.equations; k++) {
            if (loop.joint[k].equals(worst)) {
                between = loop.between[k];
            }
        }
        return new Misfit(worst, between, open(loop, worst));
    }

    private static String worst(Loop loop) {
        String worst = loop.joint[0];
        double most = -1;
        for (String joint : loop.joint) {
            double open = open(loop, joint);
            if (open > most) {
                most = open;
                worst = joint;
            }
        }
        return worst;
    }

    private static double open(Loop loop, String joint) {
        double sum = 0;
        for (int k = 0; k < loop.equations; k++) {
            if (loop.joint[k].equals(joint)) {
                double open = loop.openMm(k);
                sum += open * open;
            }
        }
        return Math.sqrt(sum);
    }

    /** Levenberg's method: the loop's state ends at the least weighted sum of squares. */
    private static void relax(Loop loop, double[] drivers, double[] weights) {
        int n = loop.n;
        double damping = FIRST_DAMPING;
        double was = loop.weighted(drivers, weights);
        BodyState kept = new BodyState(loop.state.bodies, 0);
        double[] normal = new double[n * n];
        double[] right = new double[n];
        double[] damped = new double[n * n];
        double[] move = new double[n];
        int[] rows = new int[n];
        for (int round = 0; round < ROUNDS; round++) {
            loop.refreshJacobian(drivers);
            java.util.Arrays.fill(normal, 0);
            java.util.Arrays.fill(right, 0);
            for (int k = 0; k < loop.equations; k++) {
                double w = weights[k] * weights[k];
                for (int i = 0; i < n; i++) {
                    double wi = w * loop.jacobian[k * n + i];
                    right[i] += wi * loop.residual[k];
                    for (int j = 0; j < n; j++) {
                        normal[i * n + j] += wi * loop.jacobian[k * n + j];
                    }
                }
            }
            kept.placesFrom(loop.state);
            boolean better = false;
            for (int attempt = 0; attempt < 12 && !better; attempt++) {
                System.arraycopy(normal, 0, damped, 0, n * n);
                for (int i = 0; i < n; i++) {
                    damped[i * n + i] += damping * (1 + normal[i * n + i]);
                }
                System.arraycopy(right, 0, move, 0, n);
                double now = Double.POSITIVE_INFINITY;
                if (Lu.factor(damped, n, rows) != 0) {
                    Lu.solve(damped, n, rows, move, 0);
                    loop.shiftBy(move);
                    now = loop.weighted(drivers, weights);
                }
                if (now < was) {
                    better = true;
                    double gain = was - now;
                    was = now;
                    damping = Math.max(damping * 0.2, LEAST_DAMPING);
                    if (gain < SETTLED * was + SETTLED_MM * SETTLED_MM) {
                        return;
                    }
                } else {
                    loop.state.placesFrom(kept);
                    damping *= 5;
                }
            }
            if (!better) {
                loop.refreshJacobian(drivers);
                return;
            }
        }
    }
}
