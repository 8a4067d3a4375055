package daylight.hose;

import daylight.geometry.Spot;
import java.util.ArrayList;
import java.util.List;

/**
 * The shape of a flexible line between two clamped ends in space: an inextensible elastic rod of even stiffness with
 * the least energy of bending and twist, continued from one position to the next.
 *
 * <p>Twist counts because fittings do not turn: without it a hose pushed together between two facing fittings would
 * leave its plane as soon as they stand nearer than about 0.6 of its length. Left out, and said so with every result:
 * gravity, pressure, and the set that a hose takes on its drum.
 *
 * <p>Method: {@link DiscreteRod} on three grids of {@value #COARSE}, twice and four times as many segments, and
 * Richardson extrapolation of tangents, spots, curvature and force (errors of order h^6). The difference to the
 * extrapolation from the two finer grids alone is given as the shape's own uncertainty. Between nodes the rod is
 * interpolated with the elastica's own first integral, {@code curvature^2 / 2 + F . t = constant}.
 *
 * <p>A first shape is the least-energy one of several starts (bulges to all sides); afterwards each solve starts from
 * the last shape, so it stays on the same side. {@link #forget()} starts afresh.
 *
 * <p>Cost: a warm solve needs about five Newton systems on the coarse grid and one or two on each finer grid, some
 * 0.2 ms, without allocation. Engine: not thread-safe.
 *
 * @see "Love, A Treatise on the Mathematical Theory of Elasticity, 4th ed. 1927, ch. 19 (elastica)"
 */
public final class Rod {
    /**
     * Stiffness against twist over stiffness against bending of a solid round rod that keeps its volume,
     * 1 / (1 + Poisson's ratio) with 0.5 (Love, section 256). Hose makers do not print their own figure.
     */
    public static final double SOLID_RUBBER = 2.0 / 3;

    /** Segments of the coarsest grid. */
    static final int COARSE = 64;

    private static final int LEVELS = 3;
    private static final int NODES = COARSE + 1;
    private static final int COLD_STEPS = 200;
    private static final int WARM_STEPS = 60;
    /** Sides to which the first shape may bulge. */
    private static final int SIDES = 6;
    /** Straight within this share of the free length: the bulge would be below rounding of what is measured. */
    private static final double STRAIGHT = 1e-10;
    /** Two first shapes with energies this near, but different, are mirror shapes of one another. */
    private static final double EQUAL_ENERGY = 1e-7;

    private final DiscreteRod[] grids = new DiscreteRod[LEVELS];
    private final double[][] last = new double[LEVELS][];
    private final double[] ends = new double[18];
    private final double[] span = new double[3];

    // The extrapolated rod at the coarse nodes, in free lengths.
    private final double[] tangent = new double[3 * NODES];
    private final double[] spot = new double[3 * NODES];
    private final double[] bend = new double[3 * NODES];
    private final double[] force = new double[3];
    private final double[] before = new double[3 * NODES];

    private final double[][] levelSpot = new double[LEVELS][3 * NODES];
    private final double[][] levelBend = new double[LEVELS][3 * NODES];
    private final double[] levelTwist = new double[LEVELS];
    private final double[] beyond = new double[3];

    private final double twistStiffness;
    private double moment;

    private double freeLengthMm;
    private boolean known;
    private boolean hasBefore;
    private double energy;
    private double twistRad;
    private double greatestBend;
    private double greatestBendAt;
    private double doubtMm;
    private double bendDoubt;
    private double movedMm;
    private boolean mirrored;
    private int factorisations;
    private int steps;

    /** Makes an engine for a line that twists as a solid rubber rod does, clamped at both ends. */
    public Rod() {
        this(SOLID_RUBBER);
    }

    /**
     * Makes an engine with its work arrays.
     *
     * @param twistStiffness stiffness against twist over stiffness against bending; zero when one end swivels
     */
    public Rod(double twistStiffness) {
        if (!(twistStiffness >= 0) || !Double.isFinite(twistStiffness)) {
            throw new IllegalArgumentException("the stiffness against twist is zero or more: " + twistStiffness);
        }
        this.twistStiffness = twistStiffness;
        for (int level = 0; level < LEVELS; level++) {
            grids[level] = new DiscreteRod(COARSE << level);
            last[level] = new double[grids[level].t.length];
        }
    }

    /** Forgets the last shape: the next solve looks for the least energy afresh. */
    public void forget() {
        known = false;
        hasBefore = false;
    }

    /**
     * Solves for the shape between two ends, starting from the last shape if there is one.
     *
     * @param ends where the flexible part begins and ends
     * @param freeLengthMm length of the flexible part, mm; more than zero
     */
    public Outcome settle(Ends ends, double freeLengthMm) {
        ends.into(this.ends);
        return outcome(bend(this.ends, freeLengthMm));
    }

    /** Wraps the state after {@link #bend} in a value. */
    Outcome outcome(Ending ending) {
        return switch (ending) {
            case CONVERGED -> new Outcome.Reaches(shape());
            case CANNOT_CLOSE -> new Outcome.Taut(freeLengthMm - freeLengthMm * length(span));
            case NO_PROGRESS, STEP_LIMIT -> new Outcome.Unsettled(ending, steps);
        };
    }

    /** A shape to come back to: the tangents and twist of the three grids, and the spots. */
    static final class Saved {
        private final double[][] t = new double[LEVELS][];
        private final double[] twist = new double[LEVELS];
        private final double[] spot;
        private final boolean known;

        private Saved(Rod rod) {
            for (int level = 0; level < LEVELS; level++) {
                t[level] = rod.grids[level].t.clone();
                twist[level] = rod.grids[level].twist;
            }
            spot = rod.spot.clone();
            known = rod.known;
        }
    }

    /** Keeps the shape, to be continued from again. */
    Saved save() {
        return new Saved(this);
    }

    /** Goes back to a kept shape. */
    void restore(Saved saved) {
        for (int level = 0; level < LEVELS; level++) {
            System.arraycopy(saved.t[level], 0, grids[level].t, 0, grids[level].t.length);
            grids[level].twist = saved.twist[level];
        }
        System.arraycopy(saved.spot, 0, spot, 0, spot.length);
        known = saved.known;
    }

    /**
     * Solves without allocating; the results are read from this engine.
     *
     * @param wanted 18 numbers: begin spot, tangent and across direction, end spot, tangent and across direction;
     *     both tangents run along the line from begin to end; not modified
     */
    Ending bend(double[] wanted, double lengthMm) {
        if (!(lengthMm > 0) || !Double.isFinite(lengthMm)) {
            throw new IllegalArgumentException("a free length is more than zero: " + lengthMm);
        }
        if (wanted != ends) {
            System.arraycopy(wanted, 0, ends, 0, ends.length);
        }
        hasBefore = known;
        if (known) {
            System.arraycopy(spot, 0, before, 0, spot.length);
        }
        freeLengthMm = lengthMm;
        for (int k = 0; k < 3; k++) {
            span[k] = (ends[9 + k] - ends[k]) / lengthMm;
        }
        factorisations = 0;
        steps = 0;
        mirrored = false;
        double chord = length(span);
        boolean aligned = ends[3] * span[0] + ends[4] * span[1] + ends[5] * span[2] > chord * (1 - STRAIGHT)
                && ends[12] * span[0] + ends[13] * span[1] + ends[14] * span[2] > chord * (1 - STRAIGHT);
        if (chord > 1 + STRAIGHT || (chord > 1 - STRAIGHT && !aligned)) {
            known = false;
            return Ending.CANNOT_CLOSE;
        }
        if (chord > 1 - STRAIGHT) {
            straight(chord);
            return Ending.CONVERGED;
        }
        for (DiscreteRod grid : grids) {
            System.arraycopy(ends, 6, grid.across, 0, 3);
            System.arraycopy(ends, 15, grid.across, 3, 3);
            grid.twistStiffness = twistStiffness;
        }
        Ending ending = known ? warm() : cold();
        if (ending == Ending.CONVERGED) {
            extrapolate();
            known = true;
        } else {
            known = false;
        }
        return ending;
    }

    private Ending warm() {
        for (int level = 0; level < LEVELS; level++) {
            System.arraycopy(grids[level].t, 0, last[level], 0, last[level].length);
        }
        clamp(grids[0]);
        Ending ending = solve(0, WARM_STEPS);
        if (ending != Ending.CONVERGED) {
            return ending == Ending.CANNOT_CLOSE ? ending : cold();
        }
        for (int level = 1; level < LEVELS; level++) {
            prolong(level, true);
            ending = solve(level, WARM_STEPS);
            if (ending != Ending.CONVERGED) {
                return ending == Ending.CANNOT_CLOSE ? ending : cold();
            }
        }
        return Ending.CONVERGED;
    }

    private Ending cold() {
        DiscreteRod coarse = grids[0];
        double best = Double.POSITIVE_INFINITY;
        Ending worst = Ending.CANNOT_CLOSE;
        for (int start = 0; start <= SIDES; start++) {
            begin(coarse.t, start);
            coarse.twist = 0;
            Ending ending = solve(0, COLD_STEPS);
            if (ending != Ending.CONVERGED) {
                worst = ending;
                continue;
            }
            if (coarse.energy < best * (1 - EQUAL_ENERGY)) {
                best = coarse.energy;
                mirrored = false;
                System.arraycopy(coarse.t, 0, last[0], 0, last[0].length);
            } else if (coarse.energy < best * (1 + EQUAL_ENERGY) && apart(coarse.t, last[0]) > 1e-3) {
                mirrored = true;
            }
        }
        if (best == Double.POSITIVE_INFINITY) {
            return worst;
        }
        System.arraycopy(last[0], 0, coarse.t, 0, last[0].length);
        coarse.twist = 0;
        solve(0, WARM_STEPS);
        for (int level = 1; level < LEVELS; level++) {
            prolong(level, false);
            Ending ending = solve(level, COLD_STEPS);
            if (ending != Ending.CONVERGED) {
                return ending;
            }
        }
        return Ending.CONVERGED;
    }

    private static double apart(double[] a, double[] b) {
        double most = 0;
        for (int i = 0; i < a.length; i++) {
            most = Math.max(most, Math.abs(a[i] - b[i]));
        }
        return most;
    }

    private Ending solve(int level, int mostSteps) {
        DiscreteRod grid = grids[level];
        if (level > 0) {
            // Whole turns of twist are the same on every grid.
            grid.twist = grids[level - 1].twist;
        }
        Ending ending = grid.solve(span[0], span[1], span[2], mostSteps);
        factorisations += grid.factorisations;
        steps += grid.steps;
        return ending;
    }

    private void clamp(DiscreteRod grid) {
        int end = 3 * grid.segments;
        for (int k = 0; k < 3; k++) {
            grid.t[k] = ends[3 + k];
            grid.t[end + k] = ends[12 + k];
        }
    }

    /**
     * Writes a start into a chain: the cubic through both ends along both directions, bulged to a side until it is as
     * long as the line. Start 0 does not bulge sideways but leaves its ends farther straight on.
     */
    private void begin(double[] chain, int start) {
        double chord = length(span);
        double ux = chord > 1e-9 ? span[0] / chord : ends[3];
        double uy = chord > 1e-9 ? span[1] / chord : ends[4];
        double uz = chord > 1e-9 ? span[2] / chord : ends[5];
        // Two directions square to the chord; any pair will do, this one never degenerates.
        double ax = Math.abs(uz) < 0.9 ? 0 : 1;
        double az = Math.abs(uz) < 0.9 ? 1 : 0;
        double along = ax * ux + az * uz;
        double px = ax - along * ux;
        double py = -along * uy;
        double pz = az - along * uz;
        double size = Math.sqrt(px * px + py * py + pz * pz);
        px /= size;
        py /= size;
        pz /= size;
        double qx = uy * pz - uz * py;
        double qy = uz * px - ux * pz;
        double qz = ux * py - uy * px;
        double angle = 2 * Math.PI * start / SIDES;
        double c = Math.cos(angle);
        double s = Math.sin(angle);
        double bx = c * px + s * qx;
        double by = c * py + s * qy;
        double bz = c * pz + s * qz;
        double low = 0;
        double high = 3;
        for (int halving = 0; halving < 30; halving++) {
            double mid = (low + high) / 2;
            double length = start == 0
                    ? guess(chain, mid, 0, bx, by, bz)
                    : guess(chain, Math.max(0.3, 0.6 * chord), mid, bx, by, bz);
            if (length < 1) {
                low = mid;
            } else {
                high = mid;
            }
        }
        clamp(grids[0]);
    }

    private double guess(double[] chain, double reach, double bulge, double bx, double by, double bz) {
        double total = 0;
        for (int i = 0; i < NODES; i++) {
            double s = (double) i / COARSE;
            double d01 = 6 * s - 6 * s * s;
            double d10 = (1 - s) * (1 - 3 * s) * reach;
            double d11 = (3 * s * s - 2 * s) * reach;
            double hump = bulge * 32 * s * (1 - s) * (1 - 2 * s);
            double x = d01 * span[0] + d10 * ends[3] + d11 * ends[12] + hump * bx;
            double y = d01 * span[1] + d10 * ends[4] + d11 * ends[13] + hump * by;
            double z = d01 * span[2] + d10 * ends[5] + d11 * ends[14] + hump * bz;
            double length = Math.sqrt(x * x + y * y + z * z);
            total += (i == 0 || i == COARSE ? 0.5 : 1) * length / COARSE;
            double inverse = 1 / Math.max(length, 1e-9);
            chain[3 * i] = x * inverse + (length < 1e-9 ? ends[3] : 0);
            chain[3 * i + 1] = y * inverse + (length < 1e-9 ? ends[4] : 0);
            chain[3 * i + 2] = z * inverse + (length < 1e-9 ? ends[5] : 0);
        }
        return total;
    }

    /** Starts a finer grid from the next coarser: its shape, or its change since the last solve. */
    private void prolong(int level, boolean change) {
        double[] coarse = grids[level - 1].t;
        double[] was = last[level - 1];
        double[] fine = grids[level].t;
        int n = grids[level - 1].segments;
        for (int i = 0; i <= n; i++) {
            for (int k = 0; k < 3; k++) {
                double here = coarse[3 * i + k];
                if (change) {
                    fine[6 * i + k] += here - was[3 * i + k];
                } else {
                    fine[6 * i + k] = here;
                }
                if (i < n) {
                    double between = midpoint(coarse, i, k, n);
                    if (change) {
                        fine[6 * i + 3 + k] += between - midpoint(was, i, k, n);
                    } else {
                        fine[6 * i + 3 + k] = between;
                    }
                }
            }
        }
        for (int p = 0; p < fine.length; p += 3) {
            double inverse = 1 / Math.sqrt(fine[p] * fine[p] + fine[p + 1] * fine[p + 1] + fine[p + 2] * fine[p + 2]);
            fine[p] *= inverse;
            fine[p + 1] *= inverse;
            fine[p + 2] *= inverse;
        }
        clamp(grids[level]);
    }

    private static double midpoint(double[] a, int i, int k, int n) {
        if (i == 0) {
            return (5 * a[k] + 15 * a[3 + k] - 5 * a[6 + k] + a[9 + k]) / 16;
        }
        if (i == n - 1) {
            int p = 3 * n + k;
            return (5 * a[p] + 15 * a[p - 3] - 5 * a[p - 6] + a[p - 9]) / 16;
        }
        int p = 3 * i + k;
        return (-a[p - 3] + 9 * a[p] + 9 * a[p + 3] - a[p + 6]) / 16;
    }

    private void straight(double chord) {
        for (int i = 0; i < NODES; i++) {
            for (int k = 0; k < 3; k++) {
                tangent[3 * i + k] = span[k] / chord;
                spot[3 * i + k] = span[k] * i / COARSE;
                bend[3 * i + k] = 0;
            }
        }
        for (DiscreteRod grid : grids) {
            for (int i = 0; i <= grid.segments; i++) {
                for (int k = 0; k < 3; k++) {
                    grid.t[3 * i + k] = span[k] / chord;
                }
            }
        }
        java.util.Arrays.fill(force, 0);
        energy = 0;
        greatestBend = 0;
        greatestBendAt = 0;
        doubtMm = 0;
        bendDoubt = 0;
        twistRad = grids[0].carried(grids[0].t);
        measureMove();
        // The next solve starts cold: a straight rod gives no side to bend to.
        known = false;
    }

    /** Richardson over the three grids: weights of the coarse, middle and fine value for errors in h^2 and h^4. */
    private static double extrapolated(double coarse, double middle, double fine) {
        return (coarse - 20 * middle + 64 * fine) / 45;
    }

    private void extrapolate() {
        for (int level = 0; level < LEVELS; level++) {
            DiscreteRod grid = grids[level];
            double h = 1.0 / grid.segments;
            int stride = 1 << level;
            double[] r = levelSpot[level];
            double[] b = levelBend[level];
            double[] t = grid.t;
            double x = 0;
            double y = 0;
            double z = 0;
            for (int i = 0; i <= grid.segments; i++) {
                int p = 3 * i;
                if (i > 0) {
                    x += h / 2 * (t[p] + t[p - 3]);
                    y += h / 2 * (t[p + 1] + t[p - 2]);
                    z += h / 2 * (t[p + 2] + t[p - 1]);
                }
                if (i % stride == 0) {
                    int o = 3 * (i / stride);
                    r[o] = x;
                    r[o + 1] = y;
                    r[o + 2] = z;
                    bendAt(grid, i, h, b, o);
                }
            }
            levelTwist[level] = grid.twist;
        }
        DiscreteRod coarse = grids[0];
        DiscreteRod middle = grids[1];
        DiscreteRod fine = grids[2];
        double doubt = 0;
        double doubtBend = 0;
        double mostBend = 0;
        for (int i = 0; i < NODES; i++) {
            double off = 0;
            double offBend = 0;
            double size = 0;
            double length = 0;
            for (int k = 0; k < 3; k++) {
                int o = 3 * i + k;
                spot[o] = extrapolated(levelSpot[0][o], levelSpot[1][o], levelSpot[2][o]);
                bend[o] = extrapolated(levelBend[0][o], levelBend[1][o], levelBend[2][o]);
                tangent[o] = extrapolated(coarse.t[o], middle.t[6 * i + k], fine.t[12 * i + k]);
                double twoGrids = (4 * levelSpot[2][o] - levelSpot[1][o]) / 3;
                double twoBends = (4 * levelBend[2][o] - levelBend[1][o]) / 3;
                off += (spot[o] - twoGrids) * (spot[o] - twoGrids);
                offBend += (bend[o] - twoBends) * (bend[o] - twoBends);
                size += bend[o] * bend[o];
                length += tangent[o] * tangent[o];
            }
            length = Math.sqrt(length);
            for (int k = 0; k < 3; k++) {
                tangent[3 * i + k] /= length;
            }
            doubt = Math.max(doubt, off);
            doubtBend = Math.max(doubtBend, offBend);
            mostBend = Math.max(mostBend, size);
        }
        for (int k = 0; k < 3; k++) {
            force[k] = extrapolated(coarse.force[k], middle.force[k], fine.force[k]);
        }
        energy = extrapolated(coarse.energy, middle.energy, fine.energy);
        doubtMm = Math.sqrt(doubt) * freeLengthMm;
        bendDoubt = mostBend > 0 ? Math.sqrt(doubtBend / mostBend) : 0;
        twistRad = extrapolated(levelTwist[0], levelTwist[1], levelTwist[2]);
        moment = extrapolated(coarse.moment, middle.moment, fine.moment);
        findGreatestBend();
        measureMove();
    }

    /** Writes the curvature vector at a node: central difference, at the ends with the rod equation for the node beyond. */
    private void bendAt(DiscreteRod grid, int i, double h, double[] into, int o) {
        double[] t = grid.t;
        int p = 3 * i;
        double x;
        double y;
        double z;
        if (i == 0 || i == grid.segments) {
            grid.beyond(i == 0, beyond);
            int q = i == 0 ? 3 : p - 3;
            double sign = i == 0 ? 1 : -1;
            x = sign * (t[q] - beyond[0]) / (2 * h);
            y = sign * (t[q + 1] - beyond[1]) / (2 * h);
            z = sign * (t[q + 2] - beyond[2]) / (2 * h);
        } else {
            x = (t[p + 3] - t[p - 3]) / (2 * h);
            y = (t[p + 4] - t[p - 2]) / (2 * h);
            z = (t[p + 5] - t[p - 1]) / (2 * h);
        }
        double along = x * t[p] + y * t[p + 1] + z * t[p + 2];
        into[o] = x - along * t[p];
        into[o + 1] = y - along * t[p + 1];
        into[o + 2] = z - along * t[p + 2];
    }

    /** The square of the curvature over one coarse interval, by the quintic that keeps its first two derivatives. */
    private double bendSquared(int i, double u) {
        double h = 1.0 / COARSE;
        double a0 = square(i);
        double b0 = slope(i) * h;
        double c0 = second(i) * h * h;
        double a1 = square(i + 1);
        double b1 = slope(i + 1) * h;
        double c1 = second(i + 1) * h * h;
        return quintic(a0, b0, c0, a1, b1, c1, u);
    }

    private static double quintic(double a0, double b0, double c0, double a1, double b1, double c1, double u) {
        double d = a1 - a0 - b0 - c0 / 2;
        double g = b1 - b0 - c0;
        double k = c1 - c0;
        double k3 = 10 * d - 4 * g + k / 2;
        double k4 = -15 * d + 7 * g - k;
        double k5 = 6 * d - 3 * g + k / 2;
        return a0 + u * (b0 + u * (c0 / 2 + u * (k3 + u * (k4 + u * k5))));
    }

    private double square(int i) {
        int o = 3 * i;
        return bend[o] * bend[o] + bend[o + 1] * bend[o + 1] + bend[o + 2] * bend[o + 2];
    }

    private double slope(int i) {
        int o = 3 * i;
        return -2 * (force[0] * bend[o] + force[1] * bend[o + 1] + force[2] * bend[o + 2]);
    }

    private double second(int i) {
        int o = 3 * i;
        double along = force[0] * tangent[o] + force[1] * tangent[o + 1] + force[2] * tangent[o + 2];
        double size = force[0] * force[0] + force[1] * force[1] + force[2] * force[2];
        double triple = force[0] * (tangent[o + 1] * bend[o + 2] - tangent[o + 2] * bend[o + 1])
                + force[1] * (tangent[o + 2] * bend[o] - tangent[o] * bend[o + 2])
                + force[2] * (tangent[o] * bend[o + 1] - tangent[o + 1] * bend[o]);
        return 2 * (size - along * along + square(i) * along - moment * triple);
    }

    private void findGreatestBend() {
        double most = -1;
        double where = 0;
        for (int i = 0; i < NODES; i++) {
            double here = square(i);
            if (here > most * (1 + 1e-9)) {
                most = here;
                where = (double) i / COARSE;
            }
            if (i < COARSE && slope(i) > 0 && slope(i + 1) < 0) {
                double low = 0;
                double high = 1;
                for (int third = 0; third < 40; third++) {
                    double a = low + (high - low) / 3;
                    double b = high - (high - low) / 3;
                    if (bendSquared(i, a) < bendSquared(i, b)) {
                        low = a;
                    } else {
                        high = b;
                    }
                }
                double peak = bendSquared(i, (low + high) / 2);
                if (peak > most * (1 + 1e-9)) {
                    most = peak;
                    where = (i + (low + high) / 2) / COARSE;
                }
            }
        }
        greatestBend = Math.sqrt(Math.max(0, most));
        greatestBendAt = where;
    }

    private void measureMove() {
        movedMm = 0;
        if (!hasBefore) {
            return;
        }
        double most = 0;
        for (int o = 0; o < spot.length; o += 3) {
            double x = spot[o] - before[o];
            double y = spot[o + 1] - before[o + 1];
            double z = spot[o + 2] - before[o + 2];
            most = Math.max(most, x * x + y * y + z * z);
        }
        movedMm = Math.sqrt(most) * freeLengthMm;
    }

    /** Least radius of the centre line, mm; infinite when straight. */
    double tightestRadiusMm() {
        return greatestBend > 0 ? freeLengthMm / greatestBend : Double.POSITIVE_INFINITY;
    }

    /** Where the tightest bend is, mm of arc from the begin. */
    double tightestAtMm() {
        return greatestBendAt * freeLengthMm;
    }

    /** Turn from the carried begin frame to the end frame, rad, -pi to pi. */
    double twistRad() {
        return twistRad;
    }

    /** Half the integral of the squared curvature, per mm. */
    double energyPerMm() {
        return energy / freeLengthMm;
    }

    /**
     * How fast the energy grows with the free length while the ends stand still, 1/mm^2 of the bending stiffness:
     * {@code -(curvature^2 / 2 + F . t + c twist^2 / (2 length^2))}, which is the same all along the rod. A line that
     * is pulled straight has a large negative one, a line that is pushed together a positive one.
     */
    double pull() {
        double along = force[0] * tangent[0] + force[1] * tangent[1] + force[2] * tangent[2];
        return -(square(0) / 2 + along + twistStiffness * twistRad * twistRad / 2) / (freeLengthMm * freeLengthMm);
    }

    /**
     * How far the shape moved against its begin spot since the last solve, the greatest over the nodes, mm; 0 when
     * there was none.
     */
    double movedMm() {
        return movedMm;
    }

    /** Whether the first shape had an equal on another side. */
    boolean mirrored() {
        return mirrored;
    }

    /** The tangent's x at a coarse node, for the tests. */
    double tangentX(int node) {
        return tangent[3 * node];
    }

    /** The curvature about +z at a coarse node of a rod in the x, y plane, times the free length, for the tests. */
    double signedBend(int node) {
        int o = 3 * node;
        return tangent[o] * bend[o + 1] - tangent[o + 1] * bend[o];
    }

    int factorisations() {
        return factorisations;
    }

    int steps() {
        return steps;
    }

    double doubtMm() {
        return doubtMm;
    }

    double bendDoubt() {
        return bendDoubt;
    }

    /** The energies of the accepted states of the last solve on one grid, for the tests. */
    double[] energies(int level) {
        DiscreteRod grid = grids[level];
        return java.util.Arrays.copyOf(grid.energies, grid.energyCount);
    }

    /** Writes spots along the rod, {@code perInterval} to each coarse interval, the last node included. */
    int spotsInto(double[] into, int perInterval) {
        int at = 0;
        for (int i = 0; i < COARSE; i++) {
            for (int j = 0; j < perInterval; j++) {
                double u = (double) j / perInterval;
                for (int k = 0; k < 3; k++) {
                    into[at++] = ends[k] + freeLengthMm * spotAt(i, u, k);
                }
            }
        }
        for (int k = 0; k < 3; k++) {
            into[at++] = ends[k] + freeLengthMm * spot[3 * COARSE + k];
        }
        return at / 3;
    }

    private double spotAt(int i, double u, int k) {
        double h = 1.0 / COARSE;
        int o = 3 * i + k;
        return quintic(
                spot[o], h * tangent[o], h * h * bend[o], spot[o + 3], h * tangent[o + 3], h * h * bend[o + 3], u);
    }

    private HoseShape shape() {
        // Sagitta of a chord c on radius r is c^2 / 8r; two pieces to an interval keep it near 0.02 mm.
        int perInterval = 2;
        double[] flat = new double[3 * (COARSE * perInterval + 1)];
        int count = spotsInto(flat, perInterval);
        List<Spot> spots = new ArrayList<>(count);
        for (int i = 0; i < count; i++) {
            spots.add(new Spot(flat[3 * i], flat[3 * i + 1], flat[3 * i + 2]));
        }
        double scale = 1 / (freeLengthMm * freeLengthMm);
        return new HoseShape(
                spots,
                tightestRadiusMm(),
                tightestAtMm(),
                bendVector(0),
                bendVector(COARSE),
                new HoseShape.PerSquareMm(force[0] * scale, force[1] * scale, force[2] * scale),
                energyPerMm(),
                twistRad,
                doubtMm,
                bendDoubt,
                mirrored,
                new HoseShape.Work(steps, factorisations));
    }

    private double bendVector(int i) {
        return Math.sqrt(square(i)) / freeLengthMm;
    }

    private static double length(double[] v) {
        return Math.sqrt(v[0] * v[0] + v[1] * v[1] + v[2] * v[2]);
    }
}
