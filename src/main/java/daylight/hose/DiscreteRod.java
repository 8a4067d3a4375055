package daylight.hose;

/**
 * The chain of unit tangents between two clamped ends with the least energy of bending and twist, on one even grid: the
 * elastica with its equations differenced to second order. {@link Rod} runs three grids and extrapolates.
 *
 * <p>Lengths are in free lengths of the hose, so the arc runs from 0 to 1 and the bending energy is
 * {@code sum |t[i+1] - t[i]|^2 / (2 h)} with the ends' tangents held. The twist of an even rod is even along it, so
 * its energy is {@code c phi^2 / 2}: phi is the turn from the begin's across direction, carried along the chain by
 * least rotations, to the end's, and c the stiffness against twist over that against bending. The rod closes when
 * {@code h (t[0]/2 + t[1] + .. + t[N-1] + t[N]/2)} is the span between the ends. Both rules have error series in
 * even powers of h, which is what makes the extrapolation clean.
 *
 * <p>Method: Newton on the product of spheres with the exact second derivative (block tridiagonal, 2 x 2 blocks,
 * bordered by the three closing conditions and the twist). The inertia of that system is counted, as in interior point codes for
 * nonlinear programmes, and the diagonal raised until the step is one towards a minimum and not a saddle; after each
 * step the chain is closed again exactly, and the step is halved until the energy has fallen. So every accepted
 * state is a closed rod, and energies of one solve never rise.
 *
 * <p>Engine: not thread-safe. Work arrays are made once.
 *
 * @see "Bergou, Wardetzky, Robinson, Audoly and Grinspun, Discrete Elastic Rods, ACM Transactions on Graphics 27
 *     (2008), equation (9) and section 6 (the carried frame and its derivative)"
 * @see "Nocedal and Wright, Numerical Optimization, 2nd ed. 2006, sections 16.2 and 18.4 (inertia of the KKT matrix)"
 */
final class DiscreteRod {
    /** Largest turn of one tangent in one step, rad: beyond it the linearised closing condition means little. */
    private static final double LONGEST_STEP_RAD = 0.5;
    /** A full Newton step this small leaves an error of about its square and a hundred thousandth of itself. */
    private static final double NEWTON_STEP_RAD = 3e-5;
    /** With a shifted diagonal convergence is only linear, so the step itself has to be this small. */
    private static final double SHIFTED_STEP_RAD = 1e-9;
    /** Closed means within this share of the free length: rounding of a sum of a few hundred terms. */
    private static final double CLOSED = 1e-12;
    /** Share of the predicted fall of energy that a step has to bring (Armijo). */
    private static final double SUFFICIENT_FALL = 1e-4;
    /** Energies closer than this share cannot be told apart after summation. */
    private static final double ENERGY_ROUNDING = 1e-12;

    /**
     * The diagonal is always raised by this share of h^2 (stiff modes lie at 10 h^2 and above): between two fittings
     * that face one another a hose may lie any way round, and that free turn would otherwise be divided by rounding.
     * It makes the convergence of a Newton step linear with a factor of 1e-5 at worst.
     */
    private static final double LEAST_SHIFT = 1e-4;

    /** The carried frame turns against the swept area, so the turn left to the end frame falls as the area grows. */
    private static final double TWIST_SIGN = 1;

    private static final int MOST_HALVINGS = 25;
    /** Numbers of a node's two rows of right-hand sides. */
    private static final int WIDE = 10;

    private static final int MOST_SHIFTS = 40;
    private static final int MOST_CLOSINGS = 60;

    final int segments;
    /** Tangents at the nodes, three numbers each; the first and last are the clamped directions. */
    final double[] t;
    /** End force over bending stiffness, in free lengths to the power of -2. */
    final double[] force = new double[3];

    /** Begin's across direction, then the end's; each square to its tangent. */
    final double[] across = new double[6];
    /** Stiffness against twist over stiffness against bending; zero when an end may swivel. */
    double twistStiffness;
    /** The turn from the carried begin frame to the end frame, rad; followed through whole turns. */
    double twist;
    /** The moment about the tangent that the twist exerts, over the bending stiffness, per free length. */
    double moment;

    private final double h;
    private final double[] base;
    private final double[] trial;
    private final double[] e;
    private final double[] f;
    private final double[] pivot;
    private final double[] coupling;
    private final double[] work;
    private final double[] grad;
    private final double[] block = new double[9];
    private final double[] frame = new double[3];
    private final double[] big = new double[16];
    private final double[] bigRight = new double[4];
    private final double[] poly = new double[16];
    private final double[] power = new double[16];
    private double newMoment;
    private double trialTwist;
    private final double[] step;
    private final double[] span = new double[3];
    private final double[] shift = new double[3];
    private final double[] mean = new double[3];
    private final double[] m = new double[6];
    private final double[] solved = new double[3];
    private final double[] newForce = new double[3];

    /** Energies of the accepted states of the last solve, as many as there is room for. */
    final double[] energies = new double[200];

    int energyCount;
    /** Newton systems factorised in the last solve. */
    int factorisations;
    /** Accepted steps in the last solve. */
    int steps;

    double energy;

    DiscreteRod(int segments) {
        this.segments = segments;
        h = 1.0 / segments;
        int nodes = segments + 1;
        t = new double[3 * nodes];
        base = new double[3 * nodes];
        trial = new double[3 * nodes];
        e = new double[3 * nodes];
        f = new double[3 * nodes];
        pivot = new double[3 * nodes];
        coupling = new double[4 * nodes];
        work = new double[10 * nodes];
        grad = new double[3 * nodes];
        step = new double[2 * nodes];
    }

    /**
     * Returns whether this grid's chain can close over a span at all: the tangents between the ends have to be able
     * to add up to it.
     */
    boolean canClose(double spanX, double spanY, double spanZ) {
        int last = 3 * segments;
        double x = spanX - h / 2 * (t[0] + t[last]);
        double y = spanY - h / 2 * (t[1] + t[last + 1]);
        double z = spanZ - h / 2 * (t[2] + t[last + 2]);
        double most = (segments - 1) * h;
        return x * x + y * y + z * z < most * most * (1 - 1e-12);
    }

    /**
     * Bends the chain in {@link #t} (a start; the clamped ends are already in it) to the least energy nearby.
     *
     * @param mostSteps accepted steps allowed
     * @return how it ended; {@link #t}, {@link #force} and {@link #energy} hold the last closed state
     */
    Ending solve(double spanX, double spanY, double spanZ, int mostSteps) {
        span[0] = spanX;
        span[1] = spanY;
        span[2] = spanZ;
        factorisations = 0;
        steps = 0;
        energyCount = 0;
        if (!canClose(spanX, spanY, spanZ) || !close(t)) {
            return Ending.CANNOT_CLOSE;
        }
        energy = energyOf(t);
        twist = trialTwist;
        keepEnergy();
        frames();
        moment = twistStiffness * twist;
        estimateForce();
        double least = LEAST_SHIFT * h * h;
        double raise = least;
        while (steps < mostSteps) {
            double used = factorise(raise);
            if (used < 0) {
                return Ending.NO_PROGRESS;
            }
            double slope = solveStep();
            double longest = longest();
            double scale = longest > LONGEST_STEP_RAD ? LONGEST_STEP_RAD / longest : 1;
            boolean accepted = false;
            double taken = 0;
            for (int halving = 0; halving < MOST_HALVINGS; halving++) {
                move(scale);
                if (close(trial)) {
                    double fresh = energyOf(trial);
                    double rounding = ENERGY_ROUNDING * (1 + energy);
                    if (fresh <= energy + SUFFICIENT_FALL * scale * Math.min(slope, 0)
                            || (Math.abs(fresh - energy) <= rounding && scale * longest < 1e-3)) {
                        taken = scale * longest;
                        System.arraycopy(trial, 0, t, 0, t.length);
                        energy = fresh;
                        twist = trialTwist;
                        accepted = true;
                        break;
                    }
                }
                scale /= 2;
            }
            if (!accepted) {
                return longest < SHIFTED_STEP_RAD ? Ending.CONVERGED : Ending.NO_PROGRESS;
            }
            steps++;
            keepEnergy();
            frames();
            System.arraycopy(newForce, 0, force, 0, 3);
            moment = scale < 1 ? twistStiffness * twist : newMoment;
            if (scale < 1) {
                estimateForce();
            }
            if (scale == 1 && taken <= (used > least ? SHIFTED_STEP_RAD : NEWTON_STEP_RAD)) {
                return Ending.CONVERGED;
            }
            // Try without the shift again soon: a shift is only meant to leave a saddle.
            raise = used > least && scale < 1 ? used : Math.max(least, used / 16);
        }
        return Ending.STEP_LIMIT;
    }

    private void keepEnergy() {
        if (energyCount < energies.length) {
            energies[energyCount++] = energy;
        }
    }

    private double energyOf(double[] chain) {
        double sum = 0;
        for (int i = 0; i < 3 * segments; i += 3) {
            double x = chain[i + 3] - chain[i];
            double y = chain[i + 4] - chain[i + 1];
            double z = chain[i + 5] - chain[i + 2];
            sum += x * x + y * y + z * z;
        }
        trialTwist = twist + turn(carried(chain) - twist);
        return sum / (2 * h) + twistStiffness * trialTwist * trialTwist / 2;
    }

    /** Brings an angle into -pi to pi. */
    static double turn(double angle) {
        return Math.IEEEremainder(angle, 2 * Math.PI);
    }

    /**
     * Returns the turn about the end tangent from the begin's across direction, carried along a chain by least
     * rotations, to the end's across direction, rad in -pi to pi by the right-hand rule.
     */
    double carried(double[] c) {
        System.arraycopy(across, 0, frame, 0, 3);
        int end = 3 * segments;
        for (int p = 0; p < end; p += 3) {
            double dot = c[p] * c[p + 3] + c[p + 1] * c[p + 4] + c[p + 2] * c[p + 5];
            double lean = (frame[0] * c[p + 3] + frame[1] * c[p + 4] + frame[2] * c[p + 5]) / (1 + dot);
            frame[0] -= lean * (c[p] + c[p + 3]);
            frame[1] -= lean * (c[p + 1] + c[p + 4]);
            frame[2] -= lean * (c[p + 2] + c[p + 5]);
        }
        double ax = across[3];
        double ay = across[4];
        double az = across[5];
        double cos = frame[0] * ax + frame[1] * ay + frame[2] * az;
        double sin = c[end] * (frame[1] * az - frame[2] * ay)
                + c[end + 1] * (frame[2] * ax - frame[0] * az)
                + c[end + 2] * (frame[0] * ay - frame[1] * ax);
        return Math.atan2(sin, cos);
    }

    /** Writes how the twist changes with each free tangent: half the curvature binormals on either side. */
    void twistGradient(double[] into) {
        for (int p = 3; p < 3 * segments; p += 3) {
            into[p] = 0;
            into[p + 1] = 0;
            into[p + 2] = 0;
            addBinormal(p - 3, p, into, p);
            addBinormal(p, p + 3, into, p);
        }
    }

    private void addBinormal(int a, int b, double[] into, int o) {
        double k = 1 / (1 + t[a] * t[b] + t[a + 1] * t[b + 1] + t[a + 2] * t[b + 2]);
        into[o] += TWIST_SIGN * k * (t[a + 1] * t[b + 2] - t[a + 2] * t[b + 1]);
        into[o + 1] += TWIST_SIGN * k * (t[a + 2] * t[b] - t[a] * t[b + 2]);
        into[o + 2] += TWIST_SIGN * k * (t[a] * t[b + 1] - t[a + 1] * t[b]);
    }

    /**
     * Adds to {@link #block} (3 x 3, row by row) the derivative of the binormal of nodes a and b with the one of
     * them that moves, times a factor.
     */
    private void addBinormalSlope(int a, int b, boolean firstMoves, double factor) {
        double ax = t[a];
        double ay = t[a + 1];
        double az = t[a + 2];
        double bx = t[b];
        double by = t[b + 1];
        double bz = t[b + 2];
        double k = 1 / (1 + ax * bx + ay * by + az * bz);
        double cx = ay * bz - az * by;
        double cy = az * bx - ax * bz;
        double cz = ax * by - ay * bx;
        double w = TWIST_SIGN * factor * k;
        double q = -w * k;
        if (firstMoves) {
            // d(a x b) = -b x da, and the factor's slope with a is along b.
            block[0] += q * cx * bx;
            block[1] += w * bz + q * cx * by;
            block[2] += -w * by + q * cx * bz;
            block[3] += -w * bz + q * cy * bx;
            block[4] += q * cy * by;
            block[5] += w * bx + q * cy * bz;
            block[6] += w * by + q * cz * bx;
            block[7] += -w * bx + q * cz * by;
            block[8] += q * cz * bz;
        } else {
            block[0] += q * cx * ax;
            block[1] += -w * az + q * cx * ay;
            block[2] += w * ay + q * cx * az;
            block[3] += w * az + q * cy * ax;
            block[4] += q * cy * ay;
            block[5] += -w * ax + q * cy * az;
            block[6] += -w * ay + q * cz * ax;
            block[7] += w * ax + q * cz * ay;
            block[8] += q * cz * az;
        }
    }

    /**
     * Writes the tangent that the rod's own equation gives for one step beyond an end, so that the curvature there has
     * a central difference like everywhere else.
     */
    void beyond(boolean begin, double[] into) {
        int p = begin ? 0 : 3 * segments;
        int q = begin ? 3 : p - 3;
        double h2 = h * h;
        // Start from the twist-free answer; the twist's share is small, so a few rounds settle it.
        grad[p] = 0;
        grad[p + 1] = 0;
        grad[p + 2] = 0;
        int rounds = moment == 0 ? 1 : 6;
        for (int round = 0; round < rounds; round++) {
            double x = -t[q] - h2 * force[0] + h * moment * grad[p];
            double y = -t[q + 1] - h2 * force[1] + h * moment * grad[p + 1];
            double z = -t[q + 2] - h2 * force[2] + h * moment * grad[p + 2];
            double along = x * t[p] + y * t[p + 1] + z * t[p + 2];
            x -= along * t[p];
            y -= along * t[p + 1];
            z -= along * t[p + 2];
            double rest = Math.sqrt(Math.max(0, 1 - x * x - y * y - z * z));
            into[0] = x + rest * t[p];
            into[1] = y + rest * t[p + 1];
            into[2] = z + rest * t[p + 2];
            grad[p] = 0;
            grad[p + 1] = 0;
            grad[p + 2] = 0;
            addBinormal(begin ? p : q, begin ? q : p, grad, p);
            double k =
                    (begin ? TWIST_SIGN : -TWIST_SIGN) / (1 + into[0] * t[p] + into[1] * t[p + 1] + into[2] * t[p + 2]);
            grad[p] += k * (into[1] * t[p + 2] - into[2] * t[p + 1]);
            grad[p + 1] += k * (into[2] * t[p] - into[0] * t[p + 2]);
            grad[p + 2] += k * (into[0] * t[p + 1] - into[1] * t[p]);
        }
    }

    /** u' block v. */
    private double between(double[] u, int a, double[] v, int b) {
        double x = block[0] * v[b] + block[1] * v[b + 1] + block[2] * v[b + 2];
        double y = block[3] * v[b] + block[4] * v[b + 1] + block[5] * v[b + 2];
        double z = block[6] * v[b] + block[7] * v[b + 1] + block[8] * v[b + 2];
        return u[a] * x + u[a + 1] * y + u[a + 2] * z;
    }

    /** Two directions at right angles to each tangent (Duff et al., Journal of Computer Graphics Techniques 6 (2017)). */
    private void frames() {
        for (int i = 3; i < 3 * segments; i += 3) {
            double x = t[i];
            double y = t[i + 1];
            double z = t[i + 2];
            double sign = Math.copySign(1.0, z);
            double a = -1 / (sign + z);
            double b = x * y * a;
            e[i] = 1 + sign * x * x * a;
            e[i + 1] = sign * b;
            e[i + 2] = -sign * x;
            f[i] = b;
            f[i + 1] = sign + y * y * a;
            f[i + 2] = -y;
        }
    }

    /** The end force that explains the bending best, in the sense of least squares. */
    private void estimateForce() {
        twistGradient(grad);
        double pull = h * moment;
        double xx = 0;
        double xy = 0;
        double xz = 0;
        double yy = 0;
        double yz = 0;
        double zz = 0;
        double rx = 0;
        double ry = 0;
        double rz = 0;
        for (int i = 3; i < 3 * segments; i += 3) {
            double x = t[i];
            double y = t[i + 1];
            double z = t[i + 2];
            double gx = t[i - 3] + t[i + 3] - pull * grad[i];
            double gy = t[i - 2] + t[i + 4] - pull * grad[i + 1];
            double gz = t[i - 1] + t[i + 5] - pull * grad[i + 2];
            double along = gx * x + gy * y + gz * z;
            rx -= gx - along * x;
            ry -= gy - along * y;
            rz -= gz - along * z;
            xx += 1 - x * x;
            xy -= x * y;
            xz -= x * z;
            yy += 1 - y * y;
            yz -= y * z;
            zz += 1 - z * z;
        }
        double keep = 1e-9 * (xx + yy + zz);
        m[0] = xx + keep;
        m[1] = xy;
        m[2] = xz;
        m[3] = yy + keep;
        m[4] = yz;
        m[5] = zz + keep;
        if (solve3(m, rx / (h * h), ry / (h * h), rz / (h * h), force)) {
            return;
        }
        force[0] = 0;
        force[1] = 0;
        force[2] = 0;
    }

    /**
     * Factorises the bordered Newton matrix, raising the diagonal until its inertia is that of a minimum.
     *
     * @return the raise used, or negative when none helped
     */
    private double factorise(double raise) {
        double used = raise;
        for (int attempt = 0; attempt < MOST_SHIFTS; attempt++) {
            factorisations++;
            int negatives = eliminate(used);
            if (negatives >= 0 && negatives == negativeEigenvalues()) {
                return used;
            }
            used = 3 * used;
        }
        return -1;
    }

    /** Written out: a call of the library's fill for nine numbers, twice a node, took a sixth of all the time. */
    private void clearBlock() {
        block[0] = 0;
        block[1] = 0;
        block[2] = 0;
        block[3] = 0;
        block[4] = 0;
        block[5] = 0;
        block[6] = 0;
        block[7] = 0;
        block[8] = 0;
    }

    /** Block LDL': pivots, and the five right-hand sides solved. Returns the negative eigenvalues met, or -1. */
    private int eliminate(double raise) {
        int n = segments;
        double h2 = h * h;
        boolean twists = twistStiffness > 0;
        double pull = twists ? h * moment : 0;
        if (twists) {
            twistGradient(grad);
        }
        int negatives = 0;
        double ca = 0;
        double cb = 0;
        double cc = 0;
        for (int i = 1; i < n; i++) {
            int p = 3 * i;
            double x = t[p];
            double y = t[p + 1];
            double z = t[p + 2];
            double gx = t[p - 3] + t[p + 3];
            double gy = t[p - 2] + t[p + 4];
            double gz = t[p - 1] + t[p + 5];
            double diagonal = x * (gx + h2 * force[0]) + y * (gy + h2 * force[1]) + z * (gz + h2 * force[2]) + raise;
            double a = diagonal - ca;
            double b = -cb;
            double c = diagonal - cc;
            if (twists) {
                clearBlock();
                addBinormalSlope(p - 3, p, false, pull);
                addBinormalSlope(p, p + 3, true, pull);
                a += between(e, p, e, p);
                b += (between(e, p, f, p) + between(f, p, e, p)) / 2;
                c += between(f, p, f, p);
            }
            double det = a * c - b * b;
            double size = Math.abs(a) + Math.abs(c) + Math.abs(b);
            if (!(Math.abs(det) > 1e-13 * (size * size + 1e-12))) {
                return -1;
            }
            if (det < 0) {
                negatives++;
            } else if (a + c < 0) {
                negatives += 2;
            }
            double ia = c / det;
            double ib = -b / det;
            double ic = a / det;
            pivot[p] = ia;
            pivot[p + 1] = ib;
            pivot[p + 2] = ic;
            int w = WIDE * i;
            // Right-hand sides: columns 0..2 carry the closing condition, 3 the twist, 4 the bending.
            double e0 = e[p];
            double e1 = e[p + 1];
            double e2 = e[p + 2];
            double f0 = f[p];
            double f1 = f[p + 1];
            double f2 = f[p + 2];
            work[w] = e0;
            work[w + 1] = e1;
            work[w + 2] = e2;
            work[w + 4] = gx * e0 + gy * e1 + gz * e2;
            work[w + 5] = f0;
            work[w + 6] = f1;
            work[w + 7] = f2;
            work[w + 9] = gx * f0 + gy * f1 + gz * f2;
            if (twists) {
                work[w + 3] = grad[p] * e0 + grad[p + 1] * e1 + grad[p + 2] * e2;
                work[w + 8] = grad[p] * f0 + grad[p + 1] * f1 + grad[p + 2] * f2;
            } else {
                work[w + 3] = 0;
                work[w + 8] = 0;
            }
            if (i > 1) {
                // Coupling block of the previous row, stored row by row; fold that row in.
                int u = 4 * (i - 1);
                double u00 = coupling[u];
                double u01 = coupling[u + 1];
                double u10 = coupling[u + 2];
                double u11 = coupling[u + 3];
                int q = 3 * (i - 1);
                double pa = pivot[q];
                double pb = pivot[q + 1];
                double pc = pivot[q + 2];
                int v = WIDE * (i - 1);
                for (int k = 0; k < 5; k++) {
                    double r0 = work[v + k];
                    double r1 = work[v + 5 + k];
                    double s0 = pa * r0 + pb * r1;
                    double s1 = pb * r0 + pc * r1;
                    work[w + k] -= u00 * s0 + u10 * s1;
                    work[w + 5 + k] -= u01 * s0 + u11 * s1;
                }
            }
            if (i < n - 1) {
                double n0 = e[p + 3];
                double n1 = e[p + 4];
                double n2 = e[p + 5];
                double m0 = f[p + 3];
                double m1 = f[p + 4];
                double m2 = f[p + 5];
                double u00 = -(e0 * n0 + e1 * n1 + e2 * n2);
                double u01 = -(e0 * m0 + e1 * m1 + e2 * m2);
                double u10 = -(f0 * n0 + f1 * n1 + f2 * n2);
                double u11 = -(f0 * m0 + f1 * m1 + f2 * m2);
                if (twists) {
                    clearBlock();
                    addBinormalSlope(p, p + 3, false, pull);
                    u00 += between(e, p, e, p + 3);
                    u01 += between(e, p, f, p + 3);
                    u10 += between(f, p, e, p + 3);
                    u11 += between(f, p, f, p + 3);
                }
                int u = 4 * i;
                coupling[u] = u00;
                coupling[u + 1] = u01;
                coupling[u + 2] = u10;
                coupling[u + 3] = u11;
                double a0 = ia * u00 + ib * u10;
                double a1 = ib * u00 + ic * u10;
                double b0 = ia * u01 + ib * u11;
                double b1 = ib * u01 + ic * u11;
                ca = u00 * a0 + u10 * a1;
                cb = u00 * b0 + u10 * b1;
                cc = u01 * b0 + u11 * b1;
            }
        }
        substitute();
        gather(twists);
        return negatives;
    }

    /** Back substitution in place. */
    private void substitute() {
        int n = segments;
        for (int i = n - 1; i >= 1; i--) {
            int p = 3 * i;
            int w = WIDE * i;
            double ia = pivot[p];
            double ib = pivot[p + 1];
            double ic = pivot[p + 2];
            int u = 4 * i;
            for (int k = 0; k < 5; k++) {
                double r0 = work[w + k];
                double r1 = work[w + 5 + k];
                if (i < n - 1) {
                    double x0 = work[w + WIDE + k];
                    double x1 = work[w + WIDE + 5 + k];
                    r0 -= coupling[u] * x0 + coupling[u + 1] * x1;
                    r1 -= coupling[u + 2] * x0 + coupling[u + 3] * x1;
                }
                work[w + k] = ia * r0 + ib * r1;
                work[w + 5 + k] = ib * r0 + ic * r1;
            }
        }
    }

    /** Sums up the 4 x 4 of the closing conditions and the twist, and what bending alone would do to them. */
    private void gather(boolean twists) {
        java.util.Arrays.fill(big, 0);
        java.util.Arrays.fill(bigRight, 0);
        for (int i = 1; i < segments; i++) {
            int p = 3 * i;
            int w = WIDE * i;
            for (int r = 0; r < 3; r++) {
                double er = e[p + r];
                double fr = f[p + r];
                for (int c = r; c < 4; c++) {
                    big[4 * r + c] += er * work[w + c] + fr * work[w + 5 + c];
                }
                bigRight[r] += er * work[w + 4] + fr * work[w + 9];
            }
            if (twists) {
                double ge = grad[p] * e[p] + grad[p + 1] * e[p + 1] + grad[p + 2] * e[p + 2];
                double gf = grad[p] * f[p] + grad[p + 1] * f[p + 1] + grad[p + 2] * f[p + 2];
                big[15] += ge * work[w + 3] + gf * work[w + 8];
                bigRight[3] += ge * work[w + 4] + gf * work[w + 9];
            }
        }
        if (twists) {
            big[15] += 1 / (twistStiffness * h);
            bigRight[3] += twist;
        } else {
            big[15] = 1;
        }
        for (int r = 1; r < 4; r++) {
            for (int c = 0; c < r; c++) {
                big[4 * r + c] = big[4 * c + r];
            }
        }
    }

    /**
     * Returns how many eigenvalues of the 4 x 4 in {@link #big} are negative: scaled to a unit diagonal (which changes
     * no sign), its characteristic polynomial by Faddeev and LeVerrier; for a polynomial with real roots only,
     * Descartes' count of sign changes is exact.
     */
    private int negativeEigenvalues() {
        for (int r = 0; r < 4; r++) {
            for (int c = 0; c < 4; c++) {
                double size = Math.sqrt(Math.abs(big[5 * r] * big[5 * c]));
                poly[4 * r + c] = size > 0 ? big[4 * r + c] / size : big[4 * r + c];
            }
        }
        System.arraycopy(poly, 0, power, 0, 16);
        int positives = 0;
        double sign = 1;
        for (int k = 1; k <= 4; k++) {
            double coefficient = -(power[0] + power[5] + power[10] + power[15]) / k;
            if (coefficient != 0 && Math.signum(coefficient) != sign) {
                positives++;
                sign = -sign;
            }
            for (int r = 0; r < 4; r++) {
                power[5 * r] += coefficient;
            }
            times();
        }
        return 4 - positives;
    }

    /** power = poly x power. */
    private void times() {
        for (int c = 0; c < 4; c++) {
            double p0 = power[c];
            double p1 = power[4 + c];
            double p2 = power[8 + c];
            double p3 = power[12 + c];
            for (int r = 0; r < 4; r++) {
                int o = 4 * r;
                power[o + c] = poly[o] * p0 + poly[o + 1] * p1 + poly[o + 2] * p2 + poly[o + 3] * p3;
            }
        }
    }

    /** Puts the Newton step into {@link #step}, the new force and moment beside it; returns the energy's slope. */
    private double solveStep() {
        int n = segments;
        double h2 = h * h;
        boolean twists = twistStiffness > 0;
        // The state is closed already, so the closing conditions only have to undo what the bending step does.
        for (int r = 0; r < 4; r++) {
            bigRight[r] = -bigRight[r];
        }
        solve4();
        double fx = bigRight[0];
        double fy = bigRight[1];
        double fz = bigRight[2];
        double mx = twists ? bigRight[3] : 0;
        newForce[0] = fx / h2;
        newForce[1] = fy / h2;
        newForce[2] = fz / h2;
        newMoment = -mx / h;
        double slope = 0;
        double turnSlope = 0;
        for (int i = 1; i < n; i++) {
            int w = WIDE * i;
            int p = 3 * i;
            double x0 = work[w + 4] + work[w] * fx + work[w + 1] * fy + work[w + 2] * fz + work[w + 3] * mx;
            double x1 = work[w + 9] + work[w + 5] * fx + work[w + 6] * fy + work[w + 7] * fz + work[w + 8] * mx;
            step[2 * i] = x0;
            step[2 * i + 1] = x1;
            double gx = t[p - 3] + t[p + 3];
            double gy = t[p - 2] + t[p + 4];
            double gz = t[p - 1] + t[p + 5];
            slope -=
                    x0 * (gx * e[p] + gy * e[p + 1] + gz * e[p + 2]) + x1 * (gx * f[p] + gy * f[p + 1] + gz * f[p + 2]);
            if (twists) {
                turnSlope += x0 * (grad[p] * e[p] + grad[p + 1] * e[p + 1] + grad[p + 2] * e[p + 2])
                        + x1 * (grad[p] * f[p] + grad[p + 1] * f[p + 1] + grad[p + 2] * f[p + 2]);
            }
        }
        return slope / h + twistStiffness * twist * turnSlope;
    }

    /** Solves the 4 x 4 in {@link #big} for {@link #bigRight} in place, with partial pivoting. */
    private void solve4() {
        for (int k = 0; k < 4; k++) {
            int best = k;
            for (int r = k + 1; r < 4; r++) {
                if (Math.abs(big[4 * r + k]) > Math.abs(big[4 * best + k])) {
                    best = r;
                }
            }
            if (best != k) {
                for (int c = 0; c < 4; c++) {
                    double swap = big[4 * k + c];
                    big[4 * k + c] = big[4 * best + c];
                    big[4 * best + c] = swap;
                }
                double swap = bigRight[k];
                bigRight[k] = bigRight[best];
                bigRight[best] = swap;
            }
            double diagonal = big[5 * k];
            if (diagonal == 0) {
                bigRight[k] = 0;
                continue;
            }
            for (int r = k + 1; r < 4; r++) {
                double factor = big[4 * r + k] / diagonal;
                for (int c = k; c < 4; c++) {
                    big[4 * r + c] -= factor * big[4 * k + c];
                }
                bigRight[r] -= factor * bigRight[k];
            }
        }
        for (int k = 3; k >= 0; k--) {
            double sum = bigRight[k];
            for (int c = k + 1; c < 4; c++) {
                sum -= big[4 * k + c] * bigRight[c];
            }
            bigRight[k] = big[5 * k] == 0 ? 0 : sum / big[5 * k];
        }
    }

    private double longest() {
        double most = 0;
        for (int i = 1; i < segments; i++) {
            double x0 = step[2 * i];
            double x1 = step[2 * i + 1];
            most = Math.max(most, x0 * x0 + x1 * x1);
        }
        return Math.sqrt(most);
    }

    private void move(double scale) {
        System.arraycopy(t, 0, trial, 0, t.length);
        for (int i = 1; i < segments; i++) {
            int p = 3 * i;
            double x0 = scale * step[2 * i];
            double x1 = scale * step[2 * i + 1];
            double x = t[p] + x0 * e[p] + x1 * f[p];
            double y = t[p + 1] + x0 * e[p + 1] + x1 * f[p + 1];
            double z = t[p + 2] + x0 * e[p + 2] + x1 * f[p + 2];
            double inverse = 1 / Math.sqrt(x * x + y * y + z * z);
            trial[p] = x * inverse;
            trial[p + 1] = y * inverse;
            trial[p + 2] = z * inverse;
        }
    }

    /**
     * Closes a chain over the span: adds one and the same vector to all free tangents and makes them unit length
     * again. The vector is the minimiser of a convex function, so there is one whenever the chain can close and its
     * tangents do not all point one way; Newton with halving finds it.
     */
    private boolean close(double[] chain) {
        System.arraycopy(chain, 0, base, 0, chain.length);
        int last = 3 * segments;
        double wx = span[0] - h / 2 * (chain[0] + chain[last]);
        double wy = span[1] - h / 2 * (chain[1] + chain[last + 1]);
        double wz = span[2] - h / 2 * (chain[2] + chain[last + 2]);
        shift[0] = 0;
        shift[1] = 0;
        shift[2] = 0;
        double value = potential(chain, wx, wy, wz);
        for (int round = 0; round < MOST_CLOSINGS; round++) {
            double gx = mean[0] - wx;
            double gy = mean[1] - wy;
            double gz = mean[2] - wz;
            double open = Math.sqrt(gx * gx + gy * gy + gz * gz);
            if (open <= CLOSED) {
                return true;
            }
            double keep = 1e-14 * (m[0] + m[3] + m[5]) + 1e-3 * open * open;
            m[0] += keep;
            m[3] += keep;
            m[5] += keep;
            if (!solve3(m, -gx, -gy, -gz, solved)) {
                return false;
            }
            double sx = shift[0];
            double sy = shift[1];
            double sz = shift[2];
            double fall = gx * solved[0] + gy * solved[1] + gz * solved[2];
            double scale = 1;
            double before = value;
            boolean better = false;
            for (int halving = 0; halving < MOST_HALVINGS; halving++) {
                shift[0] = sx + scale * solved[0];
                shift[1] = sy + scale * solved[1];
                shift[2] = sz + scale * solved[2];
                value = potential(chain, wx, wy, wz);
                double nx = mean[0] - wx;
                double ny = mean[1] - wy;
                double nz = mean[2] - wz;
                double left = Math.sqrt(nx * nx + ny * ny + nz * nz);
                if (value <= before + SUFFICIENT_FALL * scale * fall || left < 0.5 * open) {
                    better = true;
                    break;
                }
                scale /= 2;
            }
            if (!better) {
                return open <= 100 * CLOSED;
            }
        }
        return false;
    }

    /** Writes the shifted chain, its sum into {@link #mean} and its second derivative into {@link #m}. */
    private double potential(double[] chain, double wx, double wy, double wz) {
        double sum = 0;
        double mx = 0;
        double my = 0;
        double mz = 0;
        double xx = 0;
        double xy = 0;
        double xz = 0;
        double yy = 0;
        double yz = 0;
        double zz = 0;
        double sx = shift[0];
        double sy = shift[1];
        double sz = shift[2];
        for (int i = 3; i < 3 * segments; i += 3) {
            double x = base[i] + sx;
            double y = base[i + 1] + sy;
            double z = base[i + 2] + sz;
            double length = Math.sqrt(x * x + y * y + z * z);
            double inverse = 1 / Math.max(length, 1e-12);
            x *= inverse;
            y *= inverse;
            z *= inverse;
            chain[i] = x;
            chain[i + 1] = y;
            chain[i + 2] = z;
            sum += length;
            mx += x;
            my += y;
            mz += z;
            xx += inverse * (1 - x * x);
            xy -= inverse * x * y;
            xz -= inverse * x * z;
            yy += inverse * (1 - y * y);
            yz -= inverse * y * z;
            zz += inverse * (1 - z * z);
        }
        mean[0] = h * mx;
        mean[1] = h * my;
        mean[2] = h * mz;
        m[0] = h * xx;
        m[1] = h * xy;
        m[2] = h * xz;
        m[3] = h * yy;
        m[4] = h * yz;
        m[5] = h * zz;
        return h * sum - (sx * wx + sy * wy + sz * wz);
    }

    /** Solves a symmetric 3 x 3 system (xx, xy, xz, yy, yz, zz) by cofactors; false when it is singular. */
    private static boolean solve3(double[] s, double x, double y, double z, double[] into) {
        double c00 = s[3] * s[5] - s[4] * s[4];
        double c01 = s[2] * s[4] - s[1] * s[5];
        double c02 = s[1] * s[4] - s[2] * s[3];
        double c11 = s[0] * s[5] - s[2] * s[2];
        double c12 = s[1] * s[2] - s[0] * s[4];
        double c22 = s[0] * s[3] - s[1] * s[1];
        double det = s[0] * c00 + s[1] * c01 + s[2] * c02;
        if (!(Math.abs(det) > 0)) {
            return false;
        }
        into[0] = (c00 * x + c01 * y + c02 * z) / det;
        into[1] = (c01 * x + c11 * y + c12 * z) / det;
        into[2] = (c02 * x + c12 * y + c22 * z) / det;
        return true;
    }
}
