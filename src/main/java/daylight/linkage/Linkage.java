package daylight.linkage;

import daylight.geometry.Direction;
import daylight.geometry.Pose;
import daylight.geometry.Spot;
import daylight.linkage.Mechanism.Driver;
import java.util.ArrayList;
import java.util.List;
import org.joml.Matrix4x3d;

/**
 * Where every body of a mechanism is, for given driver values, how it moves there, and what can be proved about its
 * movement over a whole box of driver values. Compiled from a {@link Mechanism}.
 *
 * <p>Frame: the car frame at ride height (ISO 8855: x forward, y left, z up), mm, radians. Driver values are changes
 * from ride height.
 *
 * <p><b>Positions.</b> Continued from the position before, along the tangent, by Newton's method on joint equations
 * with exact derivatives, until every joint closes within 1e-10 mm. A step is taken only if Newton's corrections
 * contract, no body turns and no rod swings far between neighbours, and the sign of the Jacobian's determinant is that
 * of ride height; else it is halved. If the way from the last position fails, it is tried again from ride height. A
 * small residual alone would not do: a mirrored assembly has one too.
 *
 * <p><b>Leaf springs.</b> A leaf half holds its eye on a curve in the frame of the axle's pad ({@link
 * Mechanism.LeafModel}): one equation each, met exactly. An axle on two springs would then be held too often sideways
 * (each half has its own plane) and not at all against wind-up. So all halves of one axle share two conditions:
 * sideways, the mean over the halves of the eye's sideways distance from its pad stays (each counted half in the
 * axle's and half in the car's directions, since a twisted leaf takes both; what each half is pushed aside is its bind);
 * against wind-up, the mean of the
 * deflections of the halves ahead, each over its length squared, equals that of the halves behind (no torque at the
 * pads, even stiffness along the leaf).
 *
 * <p><b>More links than freedoms.</b> Joints that give way ({@link Mechanism.Joint#sharing}) hold together what the
 * exact ones leave free, in the position of least elastic energy of their bushes, by the directions in which they pull
 * at ride height; {@link #leastEnergy} finds the place by the directions that they have where they are.
 *
 * <p><b>Not thread-safe</b>: one per thread; the mechanism may be shared. No allocation while positions are reached.
 *
 * <p>Source of the step control: P. Deuflhard, Newton Methods for Nonlinear Problems, 2004, chapter 5.
 */
public final class Linkage {
    /** Steps shorter than this (mm, or rad times 100 mm) are not tried: the end of the reachable range is known so
     * well. */
    private static final double SHORTEST_STEP = 1e-3;
    /** Longest step of a driver between neighbours, mm: as the longest turn of a body, at {@link #RADIAN_MM}. Without
     * it a crank that is asked for a whole turn would be taken to have made it. */
    private static final double LONGEST_STEP = 35;
    /** Near a dead point the tangent changes by at most this share between neighbours. */
    private static final double LARGEST_TANGENT_CHANGE = 0.5;
    /** A radian of a turning driver counts as this many mm when steps are compared. */
    private static final double RADIAN_MM = 100;
    /** A misfit below this, mm, is none: the joints close there, on an assembly that cannot be reached. */
    private static final double NO_MISFIT = 1e-5;
    /** A place that closes with less than this share of ride height's pivot, but cannot be reached, is itself the dead
     * point. A misfit of {@link #NO_MISFIT} leaves a rod of 300 mm some 0.08 mm beside its dead point, 3e-4 of it. */
    private static final double NEAR_SINGULAR = 1e-2;
    /** Most steps on one way; each is at most 0.35 rad long unless the mechanism is near its end. */
    private static final int MOST_STEPS = 4000;

    private static final Outcome.Solved[] SOLVED = solvedTable();

    private final Mechanism mechanism;
    private final int drivers;
    private final List<String> driverNames;
    private final boolean[][] depends;
    private final BodyState state;
    private final BodyState saved;
    private final BodyState start;
    private final Loop[] loops;
    private final LoopRates[] rates;
    private final LoopBounds[] bounds;
    private final double[] at;
    private final double[] from;
    private final double[] trial;
    private final double[] furthest;
    private final double[] tangent;
    private final Loop singularAtRideHeight;
    private final boolean hasSingular;
    private boolean ratesKnown;
    private boolean secondsKnown;
    private int iterations;
    private double residualMm;
    private int failing;

    private Linkage(Mechanism mechanism) {
        this.mechanism = mechanism;
        Planner planner = new Planner(mechanism);
        int bodies = mechanism.bodies().size() + 1;
        drivers = mechanism.drivers().size();
        driverNames = mechanism.drivers().stream().map(Driver::name).toList();
        state = new BodyState(bodies, drivers);
        System.arraycopy(planner.reference, 0, state.reference, 0, state.reference.length);
        state.rideHeight();
        saved = new BodyState(bodies, 0);
        start = new BodyState(bodies, 0);
        loops = new Loop[planner.plans.size()];
        rates = new LoopRates[loops.length];
        bounds = new LoopBounds[loops.length];
        depends = new boolean[bodies][drivers];
        Loop singular = null;
        for (int k = 0; k < loops.length; k++) {
            loops[k] = new Loop(planner.plans.get(k), state);
            rates[k] = new LoopRates(loops[k]);
            bounds[k] = new LoopBounds(loops[k], rates[k]);
            if (!loops[k].prepare() && singular == null) {
                singular = loops[k];
            }
            for (int b : loops[k].body) {
                for (int i : loops[k].active) {
                    depends[b][i] = true;
                }
            }
        }
        hasSingular = singular != null;
        singularAtRideHeight = singular == null ? loops.length == 0 ? emptyLoop() : loops[0] : singular;
        at = new double[drivers];
        from = new double[drivers];
        trial = new double[drivers];
        furthest = new double[drivers];
        tangent = new double[state.twist.length];
    }

    private Loop emptyLoop() {
        return new Loop(new LoopPlan(Loop.BY_NEWTON, -1, drivers), state);
    }

    /**
     * Compiles a mechanism.
     *
     * @throws IllegalArgumentException if it names a body or rod that it does not have, or its joints and drivers leave a movement free or hold something twice, naming
     *     the bodies
     */
    public static Linkage of(Mechanism mechanism) {
        return new Linkage(mechanism.whole());
    }

    private static Outcome.Solved[] solvedTable() {
        Outcome.Solved[] table = new Outcome.Solved[64];
        for (int k = 0; k < table.length; k++) {
            table[k] = new Outcome.Solved(k, Loop.CLOSED_MM);
        }
        return table;
    }

    /** Returns the mechanism that this was compiled from. */
    public Mechanism mechanism() {
        return mechanism;
    }

    /** Returns the number of drivers. */
    public int driverCount() {
        return drivers;
    }

    /** Returns the drivers' names in the order of the driver values. */
    public List<String> driverNames() {
        return driverNames;
    }

    /** Returns the least value of a driver: mm, or radians for a turn; zero or less. */
    public double lowest(int driver) {
        return mechanism.drivers().get(driver).lowest();
    }

    /** Returns the greatest value of a driver: mm, or radians for a turn; zero or more. */
    public double highest(int driver) {
        return mechanism.drivers().get(driver).highest();
    }

    /** Returns the moving bodies in the order of the body indices. */
    public List<String> bodies() {
        return mechanism.bodies();
    }

    /** Returns whether a body moves with a driver. */
    public boolean dependsOn(int body, int driver) {
        return depends[body + 1][driver];
    }

    /**
     * Returns the sets of bodies that are solved together, in the order in which they are placed: what the mechanism
     * was taken apart into.
     */
    public List<List<String>> systems() {
        List<List<String>> sets = new ArrayList<>();
        for (Loop loop : loops) {
            List<String> names = new ArrayList<>();
            for (int b : loop.body) {
                names.add(mechanism.bodies().get(b - 1));
            }
            sets.add(List.copyOf(names));
        }
        return List.copyOf(sets);
    }

    /** Returns the body's reference spot in the car frame at ride height (which is the body's own frame). */
    public Spot reference(int body) {
        int k = 3 * (body + 1);
        return new Spot(state.reference[k], state.reference[k + 1], state.reference[k + 2]);
    }

    // ---------------------------------------------------------------- positions

    /**
     * Moves the mechanism to driver values. Values outside the drivers' ranges are allowed.
     *
     * <p>Cost: a warm step of a double A-arm corner takes about a microsecond; failures cost a continuation from ride
     * height. Allocates nothing unless it fails.
     *
     * @param driverValues one per driver; not modified
     * @return how it ended; if not solved, the poses are those of the furthest position reached
     * @throws IllegalArgumentException if there are not as many values as drivers, or one is not finite
     */
    public Outcome solve(double[] driverValues) {
        if (driverValues.length != drivers) {
            throw new IllegalArgumentException(
                    mechanism.name() + " has " + drivers + " drivers, not " + driverValues.length);
        }
        for (int i = 0; i < drivers; i++) {
            if (!Double.isFinite(driverValues[i])) {
                throw new IllegalArgumentException(
                        mechanism.name() + ": driver " + driverNames.get(i) + " is not finite: " + driverValues[i]);
            }
        }
        if (hasSingular) {
            return new Outcome.TwoAssemblies(
                    mechanism.name(), singularAtRideHeight.joint[0], singularAtRideHeight.between[0]);
        }
        iterations = 0;
        residualMm = 0;
        System.arraycopy(at, 0, from, 0, drivers);
        if (advance(driverValues)) {
            return solved();
        }
        boolean fromRideHeight = true;
        for (int i = 0; i < drivers; i++) {
            fromRideHeight &= from[i] == 0;
        }
        if (!fromRideHeight) {
            toRideHeight();
            if (advance(driverValues)) {
                return solved();
            }
        }
        return diagnose(driverValues);
    }

    private Outcome.Solved solved() {
        return residualMm <= Loop.CLOSED_MM && iterations < SOLVED.length
                ? SOLVED[iterations]
                : new Outcome.Solved(iterations, Math.max(residualMm, Loop.CLOSED_MM));
    }

    /** Puts the mechanism back to ride height. */
    public void toRideHeight() {
        state.rideHeight();
        java.util.Arrays.fill(at, 0);
        forget();
    }

    private void forget() {
        ratesKnown = false;
        secondsKnown = false;
        for (Loop loop : loops) {
            loop.forget();
        }
    }

    /** Goes straight from the present driver values to others, in as many steps as it takes. */
    private boolean advance(double[] to) {
        ratesKnown = false;
        secondsKnown = false;
        System.arraycopy(at, 0, from, 0, drivers);
        double way = 0;
        for (int i = 0; i < drivers; i++) {
            double move = Math.abs(to[i] - from[i]) * (turns(i) ? RADIAN_MM : 1);
            way = Math.max(way, move);
        }
        boolean carefully = false;
        double done = 0;
        double step = Math.min(1, LONGEST_STEP / way);
        for (int k = 0; k < MOST_STEPS; k++) {
            boolean last = done + step >= 1;
            for (int i = 0; i < drivers; i++) {
                trial[i] = last ? to[i] : from[i] + (done + step) * (to[i] - from[i]);
            }
            saved.placesFrom(state);
            boolean careful = carefully || nearDeadPoint();
            boolean moved = (!careful || keepTangent()) && moveAll(trial);
            if (moved && !careful && nearDeadPoint()) {
                // A dead point has come near in this step: take it again, and look at the tangents.
                carefully = true;
                moved = false;
            } else {
                if (moved && careful) {
                    moved = tangentStays();
                }
                carefully = false;
                step *= moved ? 1 : 0.5;
            }
            if (moved) {
                System.arraycopy(trial, 0, at, 0, drivers);
                if (last) {
                    return true;
                }
                done += step;
                step = Math.min(2 * step, LONGEST_STEP / way);
            } else {
                state.placesFrom(saved);
                forget();
                if (!carefully && step * way < SHORTEST_STEP) {
                    return false;
                }
            }
        }
        return false;
    }

    private boolean nearDeadPoint() {
        for (Loop loop : loops) {
            if (loop.nearDeadPoint()) {
                return true;
            }
        }
        return false;
    }

    /** Keeps the rates at the present position for {@link #tangentStays}. */
    private boolean keepTangent() {
        for (LoopRates loop : rates) {
            if (!loop.velocities(at)) {
                return false;
            }
        }
        System.arraycopy(state.twist, 0, tangent, 0, tangent.length);
        return true;
    }

    /**
     * Whether the way through all bodies' places goes on in about the direction that it had before the step. Near a
     * dead point two assemblies cross; both close, and only the direction tells which one goes on smoothly.
     */
    private boolean tangentStays() {
        for (LoopRates loop : rates) {
            if (!loop.velocities(trial)) {
                return false;
            }
        }
        double changed = 0;
        double before = 0;
        double after = 0;
        for (int b = 1; b < state.bodies; b++) {
            for (int c = 0; c < 6; c++) {
                double was = 0;
                double is = 0;
                for (int i = 0; i < drivers; i++) {
                    int k = state.twistAt(b, i) + c;
                    was += tangent[k] * (trial[i] - at[i]);
                    is += state.twist[k] * (trial[i] - at[i]);
                }
                double scale = c < 3 ? RADIAN_MM * RADIAN_MM : 1;
                changed += scale * (is - was) * (is - was);
                before += scale * was * was;
                after += scale * is * is;
            }
        }
        double allowed = LARGEST_TANGENT_CHANGE * LARGEST_TANGENT_CHANGE * Math.max(before, after);
        return changed <= allowed;
    }

    private boolean moveAll(double[] q) {
        for (int k = 0; k < loops.length; k++) {
            Loop loop = loops[k];
            int ending = loop.move(q);
            iterations += loop.corrections;
            if (ending != Loop.MOVED) {
                failing = k;
                return false;
            }
            residualMm = Math.max(residualMm, loop.residualMm);
        }
        return true;
    }

    private boolean turns(int driver) {
        return mechanism.drivers().get(driver) instanceof Driver.Turn;
    }

    private Outcome diagnose(double[] asked) {
        System.arraycopy(at, 0, furthest, 0, drivers);
        start.placesFrom(state);
        Loop loop = loops[failing];
        for (int k = 0; k < failing; k++) {
            loops[k].move(asked);
        }
        Misfit misfit = Misfit.of(loop, asked);
        boolean nearSingular = loop.shareOfPivot(asked) < NEAR_SINGULAR;
        state.placesFrom(start);
        forget();
        List<Outcome.Reach> reaches = new ArrayList<>();
        for (int i = 0; i < drivers; i++) {
            reaches.add(reach(i));
        }
        state.placesFrom(start);
        System.arraycopy(furthest, 0, at, 0, drivers);
        forget();
        if (misfit.largestMm < NO_MISFIT && nearSingular) {
            return new Outcome.NearSingular(
                    mechanism.name(), misfit.joint, misfit.between, list(asked), list(furthest), reaches);
        }
        if (misfit.largestMm < NO_MISFIT) {
            return new Outcome.OverCentre(
                    mechanism.name(), misfit.joint, misfit.between, list(asked), list(furthest), reaches);
        }
        return new Outcome.Binds(
                mechanism.name(), misfit.joint, misfit.between, misfit.largestMm, list(asked), list(furthest), reaches);
    }

    private static List<Double> list(double[] values) {
        List<Double> list = new ArrayList<>();
        for (double v : values) {
            list.add(v);
        }
        return list;
    }

    /**
     * Returns how far a driver goes within its range, the others at ride height, by continuation from ride height. The
     * mechanism is at ride height afterwards.
     */
    public Outcome.Reach reach(int driver) {
        double[] target = new double[drivers];
        double lowest = lowest(driver);
        double highest = highest(driver);
        double[] reached = new double[2];
        for (int side = 0; side < 2; side++) {
            toRideHeight();
            target[driver] = side == 0 ? lowest : highest;
            if (!hasSingular) {
                boolean unused = advance(target);
            }
            reached[side] = at[driver];
        }
        toRideHeight();
        return new Outcome.Reach(
                driverNames.get(driver),
                turns(driver),
                reached[0],
                reached[1],
                reached[0] == lowest && reached[1] == highest);
    }

    // ---------------------------------------------------------------- what is known at the position

    /**
     * Returns the mechanism as it would be described if it had been measured at the last position: every spot and
     * direction where its body has taken it, every driver's range counted from there. Its positions are this
     * mechanism's, seen from there. A follower's own turn about the line along which it aims starts anew, and what
     * sharing joints give counts from there.
     *
     * @throws IllegalStateException if a driver stands outside its range, naming it and by how much
     */
    public Mechanism asItStands() {
        return Restated.of(
                mechanism,
                body -> body.equals(Mechanism.GROUND)
                        ? Pose.RIDE_HEIGHT
                        : pose(mechanism.bodies().indexOf(body)),
                driver -> at[driverNames.indexOf(driver.name())]);
    }

    /** Writes the pose of a body at the last position: from its place at ride height to its place now. */
    public void pose(int body, Matrix4x3d into) {
        int b = body + 1;
        double[] m = state.rotation;
        int r = 9 * b;
        int p = 3 * b;
        double x = state.reference[p];
        double y = state.reference[p + 1];
        double z = state.reference[p + 2];
        into.set(
                m[r],
                m[r + 3],
                m[r + 6],
                m[r + 1],
                m[r + 4],
                m[r + 7],
                m[r + 2],
                m[r + 5],
                m[r + 8],
                state.position[p] - (m[r] * x + m[r + 1] * y + m[r + 2] * z),
                state.position[p + 1] - (m[r + 3] * x + m[r + 4] * y + m[r + 5] * z),
                state.position[p + 2] - (m[r + 6] * x + m[r + 7] * y + m[r + 8] * z));
    }

    /** Returns the pose of a body at the last position. */
    public Pose pose(int body) {
        Matrix4x3d m = new Matrix4x3d();
        pose(body, m);
        return Pose.of(m);
    }

    /**
     * Writes how a body moves along a driver at the last position.
     *
     * @param into receives {omegaX, omegaY, omegaZ, vX, vY, vZ}: world angular velocity (rad per driver unit) and
     *     world velocity of the body's reference spot (mm per driver unit)
     * @throws IllegalStateException if the mechanism is at a dead point
     */
    public void twist(int body, int driver, double[] into) {
        rates();
        System.arraycopy(state.twist, state.twistAt(body + 1, driver), into, 0, 6);
    }

    /**
     * Writes the second derivative of a body's movement at the last position: how its twist along the first driver
     * changes along the second.
     *
     * @param into receives 6 numbers as {@link #twist}, per unit of each of the two drivers
     * @throws IllegalStateException if the mechanism is at a dead point
     */
    public void bend(int body, int first, int second, double[] into) {
        seconds();
        System.arraycopy(state.second, state.secondAt(body + 1, first, second), into, 0, 6);
    }

    private void rates() {
        if (!ratesKnown && !tryRates()) {
            throw new IllegalStateException(mechanism.name() + " is at a dead point at " + list(at));
        }
    }

    private boolean tryRates() {
        if (hasSingular) {
            return false;
        }
        for (LoopRates loop : rates) {
            if (!loop.velocities(at)) {
                return false;
            }
        }
        ratesKnown = true;
        secondsKnown = false;
        return true;
    }

    private void seconds() {
        rates();
        if (!secondsKnown) {
            for (LoopRates loop : rates) {
                loop.seconds();
            }
            secondsKnown = true;
        }
    }

    // ---------------------------------------------------------------- proof over a box

    /**
     * Proves bounds of every body's movement over a box of driver values about a centre.
     *
     * <p><b>What is proved.</b> For every q in the box the mechanism has a position on the same assembly as at the
     * centre, reached from there without passing a dead point, and the inequalities of {@link Enclosure} hold.
     *
     * <p><b>How.</b> Write the joint equations as Phi(X, q) = 0, X the poses, and the rates of the unknowns along
     * driver i as xi_i. They obey J xi_i = -Phi_i, and along driver j change by xi_ij, J xi_ij = -c_ij, where c_ij is
     * made of first rates (and second rates of bodies placed before). Suppose that on the straight way q(t) = c + t (q
     * - c) the rates stay within |xi_i(t) - xi_i(c)| &lt;= t G_i, componentwise, for a guess G. Then, along this way:
     * <ol>
     *   <li>every vector of the equations moves by at most the integral of its rate: sum_j h_j (|rate at c| + half its
     *       error), and an arm r turns with its body, dr = omega x r;
     *   <li>hence bounds |J(t) - J(c)| &lt;= D, entry by entry, and |c_ij(t) - c_ij(c)| &lt;= d_ij;
     *   <li>with Y = J(c)^-1 and C = |Y| D + |I - Y J(c)|, a vector x &gt; C x + |Y| (d_ij + D |xi_ij(c)|) shows both that
     *       J(t) is invertible (C has a spectral radius below 1 by Collatz and Wielandt) and that |xi_ij(t) - xi_ij(c)|
     *       &lt;= x, because J(t) (xi_ij(t) - xi_ij(c)) = -(c_ij(t) - c_ij(c)) - (J(t) - J(c)) xi_ij(c);
     *   <li>hence |xi_i(t) - xi_i(c)| &lt;= t sum_j h_j (|xi_ij(c)| + x_ij) = t G'_i.
     * </ol>
     * If G' &lt; G in every component, the guess is proved: the first t at which it failed would contradict step 4, and
     * by step 3 the solution exists, is unique and continues up to there. This is the Newton-Kantorovich argument in
     * the componentwise form of Krawczyk's operator, applied to the second derivatives: G' tends to the exact second
     * derivative times the half width as the box shrinks, so the search that uses it is second order.
     *
     * <p>Bodies are taken in the order in which they are solved; bounds of bodies placed before enter d_ij. Bodies
     * placed by a driver or by aiming are the same scheme with one or three unknowns.
     *
     * <p><b>Rounding.</b> Ordinary double arithmetic, not directed: every proved bound is enlarged by a factor of 1 +
     * 1e-9 and by 1e-9 times the row sums of |Y|, against rounding errors near 1e-13 and a centre solved to 1e-10 mm.
     *
     * <p>Cost: about ten to twenty warm solves. Allocates nothing unless the centre cannot be reached.
     *
     * @param centre driver values of the centre; not modified
     * @param half half width of the box per driver, zero or more; not modified
     * @param into receives the result
     * @return whether it is proved; if not, {@link Enclosure#why()} says why, and the rest of {@code into} is void
     */
    public boolean enclose(double[] centre, double[] half, Enclosure into) {
        if (half.length != drivers || into.drivers != drivers || into.bodies != state.bodies - 1) {
            throw new IllegalArgumentException(mechanism.name() + " has " + drivers + " drivers and "
                    + (state.bodies - 1) + " bodies; the box has " + half.length + " drivers, the result has room for "
                    + into.drivers + " and " + into.bodies);
        }
        Outcome outcome = solve(centre);
        if (!outcome.solved()) {
            into.why = outcome.message();
            return false;
        }
        for (LoopRates loop : rates) {
            if (!loop.whole(at)) {
                into.why = "the centre is at a dead point";
                return false;
            }
        }
        ratesKnown = true;
        secondsKnown = true;
        for (LoopBounds loop : bounds) {
            if (!loop.enclose(half)) {
                into.why = "the box is too large for the proof";
                return false;
            }
        }
        into.why = "";
        for (int b = 1; b < state.bodies; b++) {
            write(b, half, into);
        }
        return true;
    }

    private void write(int b, double[] half, Enclosure into) {
        int out = b - 1;
        int r = 9 * b;
        int p = 3 * b;
        double[] m = state.rotation;
        System.arraycopy(m, r, into.poses, 12 * out, 9);
        for (int c = 0; c < 3; c++) {
            into.poses[12 * out + 9 + c] = state.position[p + c]
                    - (m[r + 3 * c] * state.reference[p]
                            + m[r + 3 * c + 1] * state.reference[p + 1]
                            + m[r + 3 * c + 2] * state.reference[p + 2]);
        }
        System.arraycopy(state.twist, 6 * b * drivers, into.twists, 6 * out * drivers, 6 * drivers);
        double sx = 0;
        double sy = 0;
        double sz = 0;
        double wx = 0;
        double wy = 0;
        double wz = 0;
        double linearRemainder = 0;
        double turnRemainder = 0;
        for (int i = 0; i < drivers; i++) {
            int k = state.twistAt(b, i);
            double[] t = state.twist;
            double[] e = state.twistError;
            double h = half[i];
            sx += h * (Math.abs(t[k + 3]) + 0.5 * e[k + 3]);
            sy += h * (Math.abs(t[k + 4]) + 0.5 * e[k + 4]);
            sz += h * (Math.abs(t[k + 5]) + 0.5 * e[k + 5]);
            wx += h * (Math.abs(t[k]) + e[k]);
            wy += h * (Math.abs(t[k + 1]) + e[k + 1]);
            wz += h * (Math.abs(t[k + 2]) + e[k + 2]);
            double linear = Math.sqrt(e[k + 3] * e[k + 3] + e[k + 4] * e[k + 4] + e[k + 5] * e[k + 5]);
            double turn = 0;
            for (int j = 0; j < drivers; j++) {
                // d/dq_j (omega_i x) R = ((omega_ij x) + (omega_i x)(omega_j x)) R
                turn += half[j]
                        * (boundNorm(state.second, state.secondError, state.secondAt(b, i, j))
                                + boundNorm(t, e, k) * boundNorm(t, e, state.twistAt(b, j)));
            }
            into.linear[out * drivers + i] = linear * ENLARGE + SMALLEST;
            into.turn[out * drivers + i] = turn * ENLARGE + SMALLEST;
            linearRemainder += 0.5 * h * into.linear[out * drivers + i];
            turnRemainder += 0.5 * h * into.turn[out * drivers + i];
        }
        into.linearRemainder[out] = linearRemainder * ENLARGE + SMALLEST;
        into.turnRemainder[out] = turnRemainder * ENLARGE;
        into.shift[out] = Math.sqrt(sx * sx + sy * sy + sz * sz) * ENLARGE + SMALLEST;
        into.angle[out] = Math.sqrt(wx * wx + wy * wy + wz * wz) * ENLARGE;
    }

    /** Enlarges what is handed out, against rounding in the sums above. */
    private static final double ENLARGE = 1 + 1e-9;
    /** Position of a solved joint, mm, and the velocities that follow from it. */
    private static final double SMALLEST = 1e-9;

    private static double boundNorm(double[] centre, double[] error, int k) {
        double x = Math.abs(centre[k]) + error[k];
        double y = Math.abs(centre[k + 1]) + error[k + 1];
        double z = Math.abs(centre[k + 2]) + error[k + 2];
        return Math.sqrt(x * x + y * y + z * z);
    }

    // ---------------------------------------------------------------- bind

    /**
     * Returns the joints that may bind: those that share what they hold with others, and the halves of leaf springs,
     * each of which has a plane of its own; their names in file order.
     */
    public List<String> sharingJoints() {
        return mechanism.joints().stream()
                .filter(Linkage::mayBind)
                .map(Mechanism.Joint::name)
                .toList();
    }

    private static boolean mayBind(Mechanism.Joint joint) {
        return !joint.sharing().isEmpty() || joint instanceof Mechanism.Joint.Leaf;
    }

    /**
     * Returns how much longer a sharing rod is at the last position than at ride height, how far a spot is from its
     * plane, or how far a leaf spring's eye is pushed sideways from where its own half wants it: what bushes must give,
     * mm. Zero at ride height; positive when pulled.
     *
     * @throws IllegalArgumentException if no joint of that name may bind
     */
    public double bindMm(String joint) {
        for (Mechanism.Joint j : mechanism.joints()) {
            if (j.name().equals(joint) && mayBind(j)) {
                if (j instanceof Mechanism.Joint.Rod rod) {
                    return where(rod.bodyA(), rod.onA()).distanceTo(where(rod.bodyB(), rod.onB()))
                            - rod.onA().distanceTo(rod.onB());
                }
                if (j instanceof Mechanism.Joint.Plane plane) {
                    Spot on = where(plane.bodyA(), plane.spotOfA());
                    Spot home = where(plane.bodyB(), plane.spotOfA());
                    return along(home, on, where(plane.bodyB(), plane.normalB()));
                }
                if (j instanceof Mechanism.Joint.Leaf leaf) {
                    Mechanism.LeafClamp clamp = leaf.clamp();
                    Direction across = Planner.cross(clamp.up(), clamp.out());
                    Spot pad = where(leaf.bodyA(), leaf.pad());
                    Spot eye = where(leaf.bodyB(), leaf.eye());
                    return 0.5
                            * (along(pad, eye, where(leaf.bodyA(), across))
                                    + along(pad, eye, clamp.acrossCar())
                                    - along(leaf.pad(), leaf.eye(), across)
                                    - along(leaf.pad(), leaf.eye(), clamp.acrossCar()));
                }
            }
        }
        throw new IllegalArgumentException(mechanism.name() + ": no joint that may bind is called \"" + joint
                + "\"; there are " + sharingJoints());
    }

    private static double along(Spot from, Spot to, Direction d) {
        return (to.x() - from.x()) * d.x() + (to.y() - from.y()) * d.y() + (to.z() - from.z()) * d.z();
    }

    private Direction where(String body, Direction direction) {
        return body.equals(Mechanism.GROUND) ? direction : where(bodies().indexOf(body), direction);
    }

    /**
     * Moves the bodies from the last position to the exact place of least elastic energy of the joints that give way.
     *
     * <p>Positions share by the directions in which those joints pull at ride height, which makes one smooth mechanism
     * that can be bounded; over the travel the directions turn a little. Afterwards {@link #pose}, {@link #where} and
     * {@link #bindMm} tell of the exact place, until the next {@link #solve}; velocities and bounds are not of it.
     *
     * <p>Cost: some ten solves. Allocates.
     *
     * @return whether it was found; if not, the bodies are where they were
     */
    public boolean leastEnergy() {
        start.placesFrom(state);
        for (Loop loop : loops) {
            if (!loop.leastEnergy(at)) {
                state.placesFrom(start);
                forget();
                return false;
            }
        }
        forget();
        return true;
    }

    private Spot where(String body, Spot spot) {
        return body.equals(Mechanism.GROUND) ? spot : where(bodies().indexOf(body), spot);
    }

    /** Returns where a spot of a body is at the last position. */
    public Spot where(int body, Spot spot) {
        return pose(body).apply(spot);
    }

    /** Returns which way a direction of a body points at the last position. */
    public Direction where(int body, Direction direction) {
        return pose(body).apply(direction);
    }
}
