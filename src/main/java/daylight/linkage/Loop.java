package daylight.linkage;

/**
 * A small closed system of a mechanism: the bodies that must be solved together, the equations between them, and
 * everything that follows from those equations: positions, velocities, second derivatives, and bounds of all of
 * them over a box of driver values.
 *
 * <p><b>Equations.</b> Every joint is written as a sum of products of two vectors, w a.b - target = 0. A vector is
 * the difference of two spots of two bodies, or a direction of one body. The squared length of a rod, a spot in a
 * plane, two directions at right angles, a height: all are such products, so first and second derivatives are exact
 * and cheap, and their variation over a box is easy to bound. One shape is curved: a leaf's {@link Curve}.
 *
 * <p><b>Unknowns.</b> A free body has six (world turn and shift of its reference spot), a body pinned by a ball to a
 * body already solved three, a body hinged to the ground or sliding on it one. Turns are counted in mm at a radius
 * typical of the loop, so that all unknowns and all equations are in mm and one pivot test fits all.
 */
final class Loop {
    static final int FREE = 0;
    static final int PINNED = 1;
    static final int HINGED = 2;
    static final int SLIDING = 3;

    /** How the positions are found. */
    static final int BY_NEWTON = 0;

    static final int BY_DRIVER = 1;
    static final int BY_ARM = 2;
    static final int BY_AIM = 3;

    /** Results of {@link #move}. */
    static final int MOVED = 0;

    static final int TOO_FAR = 1;
    static final int TURNED_OVER = 2;

    /** Every equation closes within this, mm: the arithmetic's own noise is about 1e-12 for a car. */
    static final double CLOSED_MM = 1e-10;
    /** Promised to the caller, mm, where rounding keeps the residual above {@link #CLOSED_MM}. */
    static final double PROMISED_MM = 1e-9;
    /** A pivot below this (all equations and unknowns in mm) counts as none: the last place where a hair's breadth
     * of driver moves a body by a hundred metres. */
    static final double LEAST_PIVOT = 1e-8;
    /** A pivot that has shrunk to this share of ride height's is a dead point. Closer to one, two assemblies are within
     * the arithmetic's reach of each other (their distance goes with the pivot, their misfit with its square). */
    private static final double LEAST_SHARE_OF_PIVOT = 1e-4;
    /** Below this share of ride height's pivot, or this pivot, a dead point may be near. */
    private static final double NEAR_DEAD_POINT = 0.3;

    private static final double SMALL_PIVOT = 0.03;
    /** The pivot shrinks to no less than this share in one step, so that a dead point is not stepped over. */
    private static final double LARGEST_SHRINK = 0.3;
    /** No body turns further than this between neighbouring positions, rad: far from any mirrored assembly. */
    static final double LARGEST_TURN = 0.35;
    /** Nor does any rod swing further (cosine of 0.45 rad). */
    private static final double LARGEST_SWING_COSINE = Math.cos(0.45);
    /** Newton's corrections must shrink at least so fast, or the start was too far (Deuflhard, Newton Methods for
     * Nonlinear Problems, 2004, section 5.1: a first contraction above 1/4 asks for a shorter step). */
    private static final double CONTRACTION = 0.25;
    /** After the tangent step the first correction is at most this share of it. */
    private static final double FIRST_CORRECTION = 0.5;
    /** A correction contracts slower than this with an old matrix: make a new one. */
    private static final double REFRESH = 0.02;

    private static final int MOST_CORRECTIONS = 12;
    /** 1 + the cosine of a follower's turn from ride height stays above this: about 179 degrees. */
    private static final double LEAST_AIM = 1e-4;
    /** Cosine of an arm's swing below which half-angle formulas lose digits. */
    private static final double NEAR_HALF_TURN = -0.9;

    final BodyState state;
    final int how;
    final int n;
    final int drivers;

    // unknown bodies
    final int[] body;
    final int[] kind;
    final int[] offset;
    final double[] radius;
    /** 3 per unknown body: axis of a hinge, direction of a slide. */
    final double[] axis;
    /** 3 per unknown body: foot of a hinge on the ground; for a pinned body the pin at ride height. */
    final double[] foot;
    /** For a pinned body the endpoint on the body that carries it. */
    final int[] carrier;

    /** Which drivers move this loop. */
    final int[] active;
    /** For BY_DRIVER: the driver. */
    final int driver;

    // endpoints of vectors
    final int endpoints;
    final int[] endBody;
    final int[] endSlot;
    final boolean[] endIsDirection;
    final double[] endAt;
    final double[] arm;

    // vectors
    final int vectors;
    final int[] plus;
    final int[] minus;
    final boolean[] isDirection;
    /** Whether the vector is a rod, whose swing is limited. */
    private final boolean[] swings;

    final double[] vector;
    private final double[] before;

    /** Endpoints and vectors that are not fixed to the ground; the others were evaluated once. */
    final int[] movingEnds;

    final int[] movingVectors;

    // terms and equations
    final int equations;
    /** So many equations are met exactly; the others are shares of joints that give way. */
    private final int exact;

    private final int givingCount;
    /** Terms of each joint that gives way, counted from the first term of a shared equation. */
    private final int[] givingTerm;

    private final double[] plainWeight;
    private final double[] stiffness;
    private final double[] givingRest;
    /** Whether an equation touches a body that moves and was placed before this loop. */
    final boolean[] touchesKnown;

    final int[] firstTerm;
    final int[] termA;
    final int[] termB;
    final double[] weight;
    final boolean[] curved;
    final double[] target;
    final int[] equationDriver;
    final double[] rodLength;
    final String[] joint;
    final String[] between;

    // work
    final double[] residual;
    private final double[] correction;
    final double[] jacobian;
    final double[] factors;
    final int[] rowExchanges;
    private boolean factorsValid;
    private double rideHeightPivot;
    private double pivot;
    int corrections;
    double residualMm;

    /** Whether vectors and the weights of curves are those of the place where the bodies are. */
    private boolean vectorsCurrent;

    Loop(LoopPlan plan, BodyState state) {
        this.state = state;
        how = plan.how;
        driver = plan.driver;
        drivers = state.drivers;
        int unknownBodies = plan.bodies.size();
        body = new int[unknownBodies];
        kind = new int[unknownBodies];
        offset = new int[unknownBodies];
        radius = new double[unknownBodies];
        axis = new double[3 * unknownBodies];
        foot = new double[3 * unknownBodies];
        carrier = new int[unknownBodies];
        int count = 0;
        for (int s = 0; s < unknownBodies; s++) {
            LoopPlan.Unknown unknown = plan.bodies.get(s);
            body[s] = unknown.body;
            kind[s] = unknown.kind;
            offset[s] = count;
            radius[s] = plan.radius;
            carrier[s] = unknown.carrier;
            System.arraycopy(unknown.axis, 0, axis, 3 * s, 3);
            System.arraycopy(unknown.foot, 0, foot, 3 * s, 3);
            count += unknown.unknowns();
        }
        n = count;
        active = plan.activeDrivers();
        endpoints = plan.endpoints.size();
        endBody = new int[endpoints];
        endSlot = new int[endpoints];
        endIsDirection = new boolean[endpoints];
        endAt = new double[3 * endpoints];
        arm = new double[3 * endpoints];
        for (int e = 0; e < endpoints; e++) {
            LoopPlan.End end = plan.endpoints.get(e);
            endBody[e] = end.body;
            endIsDirection[e] = end.direction;
            endSlot[e] = -1;
            for (int s = 0; s < unknownBodies; s++) {
                if (body[s] == end.body) {
                    endSlot[e] = s;
                }
            }
            for (int c = 0; c < 3; c++) {
                endAt[3 * e + c] = end.at[c] - (end.direction ? 0 : state.reference[3 * end.body + c]);
            }
        }
        vectors = plan.vectors.size();
        plus = new int[vectors];
        minus = new int[vectors];
        isDirection = new boolean[vectors];
        swings = new boolean[vectors];
        vector = new double[3 * vectors];
        before = new double[3 * vectors];
        for (int v = 0; v < vectors; v++) {
            plus[v] = plan.vectors.get(v).plus();
            minus[v] = plan.vectors.get(v).minus();
            isDirection[v] = minus[v] < 0;
        }
        // What the exact joints leave free is held by those that give way, each with a share in every such equation.
        exact = plan.equations.size();
        givingCount = plan.giving.size();
        int left = givingCount == 0 ? 0 : Math.max(0, n - exact);
        equations = exact + left;
        firstTerm = new int[equations + 1];
        int terms = left * plan.giving.stream().mapToInt(e -> e.terms.size()).sum();
        for (LoopPlan.Equation e : plan.equations) {
            terms += e.terms.size();
        }
        termA = new int[terms];
        termB = new int[terms];
        weight = new double[terms];
        curved = new boolean[equations];
        target = new double[equations];
        equationDriver = new int[equations];
        rodLength = new double[equations];
        joint = new String[equations];
        between = new String[equations];
        int t = 0;
        for (int k = 0; k < exact; k++) {
            LoopPlan.Equation e = plan.equations.get(k);
            firstTerm[k] = t;
            for (LoopPlan.Term term : e.terms) {
                termA[t] = term.a();
                termB[t] = term.b();
                weight[t] = term.weight();
                swings[term.a()] |= term.a() == term.b();
                t++;
            }
            curved[k] = e.curved;
            equationDriver[k] = e.driver;
            rodLength[k] = e.rodLength;
            joint[k] = e.joint;
            between[k] = e.between;
        }
        givingTerm = new int[givingCount + 1];
        stiffness = new double[givingCount];
        givingRest = new double[givingCount];
        plainWeight =
                new double[plan.giving.stream().mapToInt(e -> e.terms.size()).sum()];
        for (int g = 0; g < givingCount; g++) {
            LoopPlan.Equation e = plan.giving.get(g);
            stiffness[g] = e.stiffness;
            givingTerm[g + 1] = givingTerm[g];
            for (LoopPlan.Term term : e.terms) {
                plainWeight[givingTerm[g + 1]++] = term.weight();
            }
        }
        for (int k = exact; k < equations; k++) {
            firstTerm[k] = t;
            equationDriver[k] = -1;
            joint[k] = plan.giving.get(0).joint;
            between[k] = plan.giving.get(0).between;
            for (LoopPlan.Equation e : plan.giving) {
                for (LoopPlan.Term term : e.terms) {
                    termA[t] = term.a();
                    termB[t] = term.b();
                    swings[term.a()] |= term.a() == term.b();
                    t++;
                }
            }
        }
        firstTerm[equations] = t;
        residual = new double[Math.max(equations, n)];
        correction = new double[n];
        jacobian = new double[equations * n];
        factors = new double[n * n];
        rowExchanges = new int[n];
        movingEnds = java.util.stream.IntStream.range(0, endpoints)
                .filter(e -> endBody[e] != 0)
                .toArray();
        movingVectors = java.util.stream.IntStream.range(0, vectors)
                .filter(v -> endBody[plus[v]] != 0 || (minus[v] >= 0 && endBody[minus[v]] != 0))
                .toArray();
        touchesKnown = new boolean[equations];
        for (int k = 0; k < equations; k++) {
            for (int term = firstTerm[k]; term < firstTerm[k + 1]; term++) {
                touchesKnown[k] |= known(termA[term]) || known(termB[term]);
            }
        }
        for (int e = 0; e < endpoints; e++) {
            evaluateArm(e);
        }
        for (int v = 0; v < vectors; v++) {
            evaluateVector(v);
        }
        if (equations > exact) {
            for (int g = 0; g < givingCount; g++) {
                givingRest[g] = plainSum(g);
            }
            share();
        }
        // Targets are what the equations give at ride height, so that ride height closes exactly.
        for (int k = 0; k < equations; k++) {
            target[k] = curved[k] ? curveLength(k) : sum(k);
        }
    }

    // ---------------------------------------------------------------- joints that give way

    /** What a joint that gives way would hold, where the bodies are now, mm. */
    private double plainSum(int g) {
        double sum = 0;
        int first = firstTerm[exact];
        for (int t = givingTerm[g]; t < givingTerm[g + 1]; t++) {
            sum += plainWeight[t] * product(first + t);
        }
        return sum;
    }

    /**
     * Shares what the exact joints leave free among those that give way, by least energy where the bodies are now.
     *
     * <p>With e the changes of length, k the stiffnesses and N the moves that the exact joints allow, the energy sum k
     * e²/2 is least where sum k_g (grad e_g . N_m) e_g = 0 for each m: these are the equations, with weights k_g
     * (grad e_g . N_m) scaled to add up to 1 in size. They are kept while the bodies move, so that positions, velocities
     * and bounds are those of one smooth mechanism; {@link #leastEnergy} finds the exact place at any position.
     */
    private void share() {
        double[] rows = new double[equations * n];
        for (int k = 0; k < exact; k++) {
            push(rows, k);
        }
        double[] free = freeMoves(rows);
        double[] gradient = new double[n];
        int first = firstTerm[exact];
        for (int k = exact; k < equations; k++) {
            double size = 0;
            for (int g = 0; g < givingCount; g++) {
                java.util.Arrays.fill(gradient, 0);
                for (int t = givingTerm[g]; t < givingTerm[g + 1]; t++) {
                    push(gradient, 0, first + t, plainWeight[t]);
                }
                double along = 0;
                for (int j = 0; j < n; j++) {
                    along += gradient[j] * free[(k - exact) * n + j];
                }
                double share = stiffness[g] * along * stretch(g);
                size += Math.abs(share);
                for (int t = givingTerm[g]; t < givingTerm[g + 1]; t++) {
                    weight[firstTerm[k] + t] = share * plainWeight[t];
                }
            }
            target[k] = 0;
            for (int g = 0; g < givingCount; g++) {
                for (int t = givingTerm[g]; t < givingTerm[g + 1]; t++) {
                    weight[firstTerm[k] + t] /= size > 0 ? size : 1;
                }
                int t = givingTerm[g];
                target[k] += weight[firstTerm[k] + t] / plainWeight[t] * givingRest[g];
            }
        }
    }

    /**
     * What turns a rod's equation into its change of length. With L0 its length at ride height and d the change, the
     * equation gives e = d (1 + d/2L0), and k d grad d = k e grad e / ((1 + d/2L0) (1 + d/L0)).
     */
    private double stretch(int g) {
        int t = firstTerm[exact] + givingTerm[g];
        if (termA[t] != termB[t]) {
            return 1;
        }
        double rest = 0.5 / plainWeight[givingTerm[g]];
        double ratio = Math.sqrt(product(t)) / rest;
        return 2 / ((1 + ratio) * ratio);
    }

    /** Returns orthonormal moves of the unknowns that the exact rows do not oppose, one after another. */
    private double[] freeMoves(double[] rows) {
        double[] held = new double[n * n];
        int count = 0;
        for (int k = 0; k < exact; k++) {
            System.arraycopy(rows, k * n, held, count * n, n);
            count += square(held, count) > 0 ? 1 : 0;
        }
        double[] free = new double[(equations - exact) * n];
        double[] best = new double[n];
        for (int m = 0; m < equations - exact; m++) {
            double most = 0;
            for (int j = 0; j < n && count < n; j++) {
                java.util.Arrays.fill(held, count * n, count * n + n, 0);
                held[count * n + j] = 1;
                double length = square(held, count);
                if (length > most) {
                    most = length;
                    System.arraycopy(held, count * n, best, 0, n);
                }
            }
            if (count < n) {
                System.arraycopy(best, 0, held, count * n, n);
                System.arraycopy(best, 0, free, m * n, n);
                count++;
            }
        }
        return free;
    }

    /** Takes from a row what lies along the rows before it, twice against rounding, and gives it length 1. */
    private double square(double[] rows, int row) {
        double before = 0;
        for (int j = 0; j < n; j++) {
            before += rows[row * n + j] * rows[row * n + j];
        }
        for (int pass = 0; pass < 2; pass++) {
            for (int r = 0; r < row; r++) {
                double along = 0;
                for (int j = 0; j < n; j++) {
                    along += rows[r * n + j] * rows[row * n + j];
                }
                for (int j = 0; j < n; j++) {
                    rows[row * n + j] -= along * rows[r * n + j];
                }
            }
        }
        double after = 0;
        for (int j = 0; j < n; j++) {
            after += rows[row * n + j] * rows[row * n + j];
        }
        if (!(after > SAME_ROW * before)) {
            return 0;
        }
        double length = Math.sqrt(after);
        for (int j = 0; j < n; j++) {
            rows[row * n + j] /= length;
        }
        return length;
    }

    /** A row of which less than this square share is new says what others say. */
    private static final double SAME_ROW = 1e-20;

    /**
     * Moves the bodies from a solved position to the exact place of least energy of the joints that give way, by sharing
     * anew where they are until nothing moves; then shares as at ride height again.
     *
     * @return whether it was found; if not, the bodies are anywhere
     */
    boolean leastEnergy(double[] q) {
        if (how != BY_NEWTON || equations == exact) {
            return move(q) == MOVED;
        }
        double[] weights = weight.clone();
        double[] targets = target.clone();
        double[] was = new double[state.position.length];
        boolean settled = false;
        for (int round = 0; round < MOST_SHARINGS && !settled; round++) {
            System.arraycopy(state.position, 0, was, 0, was.length);
            evaluateVectors();
            for (int k = 0; k < exact; k++) {
                if (curved[k]) {
                    curveLength(k);
                }
            }
            share();
            factorsValid = false;
            if (move(q) != MOVED) {
                break;
            }
            double shift = 0;
            for (int b : body) {
                for (int c = 0; c < 3; c++) {
                    shift = Math.max(shift, Math.abs(state.position[3 * b + c] - was[3 * b + c]));
                }
            }
            settled = shift <= PROMISED_MM;
        }
        System.arraycopy(weights, 0, weight, 0, weight.length);
        System.arraycopy(targets, 0, target, 0, target.length);
        factorsValid = false;
        return settled;
    }

    private static final int MOST_SHARINGS = 60;

    // ---------------------------------------------------------------- positions

    /** Measures the pivot at ride height, where the state must be. Returns false when it is near-singular there. */
    boolean prepare() {
        if (how != BY_NEWTON) {
            return true;
        }
        evaluateVectors();
        evaluateJacobian();
        rideHeightPivot = factor();
        pivot = rideHeightPivot;
        factorsValid = Math.abs(rideHeightPivot) > LEAST_PIVOT;
        return factorsValid;
    }

    /** Forgets the matrix of the last position (the state was put elsewhere). */
    void forget() {
        factorsValid = false;
        vectorsCurrent = false;
    }

    /** Returns how much of ride height's pivot is left where the bodies are now; 1 where nothing is solved for. */
    double shareOfPivot(double[] q) {
        if (how != BY_NEWTON || equations == 0) {
            return 1;
        }
        refreshJacobian(q);
        factorsValid = false;
        return Math.abs(factor() / rideHeightPivot);
    }

    private double factor() {
        System.arraycopy(jacobian, 0, factors, 0, n * n);
        return Lu.factor(factors, n, rowExchanges);
    }

    /**
     * Moves the loop's bodies to where the drivers and the bodies solved before it want them: one step along the
     * tangent (the matrix of the last position), then Newton's corrections with one new matrix, kept while it
     * contracts well.
     *
     * @param q driver values
     * @return {@link #MOVED}, or why not; the state is then anywhere and must be put back
     */
    int move(double[] q) {
        corrections = 0;
        residualMm = 0;
        vectorsCurrent = false;
        switch (how) {
            case BY_DRIVER -> {
                place(0, q[driver]);
                return MOVED;
            }
            case BY_ARM -> {
                placeArm();
                return MOVED;
            }
            case BY_AIM -> {
                return placeAim() ? MOVED : TURNED_OVER;
            }
            default -> {
                return moveByNewton(q);
            }
        }
    }

    private int moveByNewton(double[] q) {
        if (!factorsValid) {
            evaluateResidual(q);
            evaluateJacobian();
            if (!freshFactors()) {
                return TURNED_OVER;
            }
        }
        System.arraycopy(vector, 0, before, 0, vector.length);
        for (int s = 0; s < body.length; s++) {
            if (kind[s] == PINNED) {
                pin(s);
            }
        }
        double misfit = evaluateResidual(q);
        if (misfit <= CLOSED_MM) {
            residualMm = misfit;
            vectorsCurrent = true;
            return MOVED;
        }
        double predicted = correct();
        if (!(predicted < Double.POSITIVE_INFINITY) || !(largestTurn() <= LARGEST_TURN)) {
            factorsValid = false;
            return TOO_FAR;
        }
        apply();
        misfit = evaluateResidual(q);
        boolean fresh = false;
        boolean looked = false;
        double was = Math.abs(pivot);
        double last = predicted;
        for (int i = 1; misfit > CLOSED_MM || !(misfit < Double.POSITIVE_INFINITY); i++) {
            if (i > MOST_CORRECTIONS) {
                factorsValid = false;
                return TOO_FAR;
            }
            if (!fresh) {
                evaluateJacobian();
                if (!freshFactors()) {
                    return TURNED_OVER;
                }
                fresh = true;
                looked = true;
            }
            double size = correct();
            double allowed = last * (i == 1 ? FIRST_CORRECTION : CONTRACTION);
            if (!(size <= allowed) && !(size <= PROMISED_MM)) {
                factorsValid = false;
                return TOO_FAR;
            }
            apply();
            misfit = evaluateResidual(q);
            if (size <= PROMISED_MM && misfit <= PROMISED_MM) {
                break;
            }
            fresh = size <= REFRESH * last || i == 1;
            last = size;
        }
        residualMm = misfit;
        if (swungTooFar()) {
            return TOO_FAR;
        }
        // The matrix was that of the predicted place. Where none was made, or a dead point is near, look at the place
        // itself too: two assemblies that cross at a dead point cannot be told apart by small corrections alone.
        if (!looked || nearDeadPoint()) {
            evaluateJacobian();
            if (!freshFactors()) {
                return TURNED_OVER;
            }
        }
        if (!(Math.abs(pivot) > LARGEST_SHRINK * was)) {
            factorsValid = false;
            return TOO_FAR;
        }
        vectorsCurrent = true;
        return MOVED;
    }

    /** Whether a rod has swung so far since the last position that a mirrored assembly may be within reach. */
    private boolean swungTooFar() {
        for (int v = 0; v < vectors; v++) {
            if (swings[v]) {
                int k = 3 * v;
                double dot = before[k] * vector[k] + before[k + 1] * vector[k + 1] + before[k + 2] * vector[k + 2];
                double a = before[k] * before[k] + before[k + 1] * before[k + 1] + before[k + 2] * before[k + 2];
                double b = vector[k] * vector[k] + vector[k + 1] * vector[k + 1] + vector[k + 2] * vector[k + 2];
                if (!(dot >= LARGEST_SWING_COSINE * Math.sqrt(a * b))) {
                    factorsValid = false;
                    return true;
                }
            }
        }
        return false;
    }

    /** Whether the last matrix says that a dead point may be near. */
    boolean nearDeadPoint() {
        return how == BY_NEWTON
                && !(Math.abs(pivot) > Math.max(SMALL_PIVOT, NEAR_DEAD_POINT * Math.abs(rideHeightPivot)));
    }

    /** Factors the Jacobian; false when it is near-singular or of the other assembly. */
    private boolean freshFactors() {
        pivot = factor();
        double least = Math.max(LEAST_PIVOT, LEAST_SHARE_OF_PIVOT * Math.abs(rideHeightPivot));
        factorsValid = Math.abs(pivot) > least && pivot > 0 == rideHeightPivot > 0;
        return factorsValid;
    }

    /** Turns the residual into the correction; returns its size, mm. */
    private double correct() {
        corrections++;
        System.arraycopy(residual, 0, correction, 0, n);
        Lu.solve(factors, n, rowExchanges, correction, 0);
        double sum = 0;
        for (int k = 0; k < n; k++) {
            sum += correction[k] * correction[k];
        }
        double size = Math.sqrt(sum);
        return !Double.isNaN(size) ? size : Double.POSITIVE_INFINITY;
    }

    private double largestTurn() {
        double largest = 0;
        for (int s = 0; s < body.length; s++) {
            int k = offset[s];
            if (kind[s] == FREE || kind[s] == PINNED) {
                double turn = Math.sqrt(correction[k] * correction[k]
                        + correction[k + 1] * correction[k + 1]
                        + correction[k + 2] * correction[k + 2]);
                largest = Math.max(largest, turn / radius[s]);
            } else if (kind[s] == HINGED) {
                largest = Math.max(largest, Math.abs(correction[k]) / radius[s]);
            }
        }
        return largest;
    }

    private void apply() {
        for (int s = 0; s < body.length; s++) {
            int b = body[s];
            int k = offset[s];
            switch (kind[s]) {
                case FREE -> {
                    state.turn(
                            b,
                            -correction[k] / radius[s],
                            -correction[k + 1] / radius[s],
                            -correction[k + 2] / radius[s]);
                    state.position[3 * b] -= correction[k + 3];
                    state.position[3 * b + 1] -= correction[k + 4];
                    state.position[3 * b + 2] -= correction[k + 5];
                }
                case PINNED -> {
                    state.turn(
                            b,
                            -correction[k] / radius[s],
                            -correction[k + 1] / radius[s],
                            -correction[k + 2] / radius[s]);
                }
                case HINGED -> {
                    place(s, state.coordinate[b] - correction[k] / radius[s]);
                }
                default -> {
                    place(s, state.coordinate[b] - correction[k]);
                }
            }
        }
    }

    /** Puts a hinged or sliding body at an angle or a shift from ride height. */
    private void place(int s, double value) {
        int b = body[s];
        state.coordinate[b] = value;
        int p = 3 * b;
        int a = 3 * s;
        if (kind[s] == SLIDING) {
            for (int c = 0; c < 3; c++) {
                state.position[p + c] = state.reference[p + c] + value * axis[a + c];
            }
            return;
        }
        state.setTurn(b, axis, a, value);
        aboutFoot(s);
    }

    /** Puts the reference spot of a hinged body where its rotation about the hinge takes it. */
    private void aboutFoot(int s) {
        int b = body[s];
        int p = 3 * b;
        int a = 3 * s;
        double x = state.reference[p] - foot[a];
        double y = state.reference[p + 1] - foot[a + 1];
        double z = state.reference[p + 2] - foot[a + 2];
        int r = 9 * b;
        double[] m = state.rotation;
        for (int c = 0; c < 3; c++) {
            state.position[p + c] = foot[a + c] + m[r + 3 * c] * x + m[r + 3 * c + 1] * y + m[r + 3 * c + 2] * z;
        }
    }

    /** Puts the reference spot of a pinned body where the body that carries it has it. */
    private void pin(int s) {
        evaluateArm(carrier[s]);
        int from = 3 * endBody[carrier[s]];
        int at = 3 * carrier[s];
        for (int c = 0; c < 3; c++) {
            state.position[3 * body[s] + c] = state.position[from + c] + arm[at + c];
        }
    }

    /** Turns an arm about its hinge until it meets the ball joint that a body solved before it carries. */
    private void placeArm() {
        evaluateVectors();
        // The one equation is (tangent of the arm) . (ball joint - foot) = 0; see LoopPlan.
        int tangent = 3 * plus[termA[0]];
        int ball = 3 * termB[0];
        double tx = endAt[tangent];
        double ty = endAt[tangent + 1];
        double tz = endAt[tangent + 2];
        // radial = tangent x axis
        double rx = ty * axis[2] - tz * axis[1];
        double ry = tz * axis[0] - tx * axis[2];
        double rz = tx * axis[1] - ty * axis[0];
        double along = vector[ball] * rx + vector[ball + 1] * ry + vector[ball + 2] * rz;
        double across = vector[ball] * tx + vector[ball + 1] * ty + vector[ball + 2] * tz;
        // Half the angle without its sine and cosine; near half a turn by way of the angle.
        double size = Math.sqrt(along * along + across * across);
        double cosine = along / size;
        if (!(cosine > NEAR_HALF_TURN)) {
            place(0, Math.atan2(across, along));
            return;
        }
        double w = Math.sqrt(0.5 * (1 + cosine));
        double half = 0.5 * across / (size * w);
        int k = 4 * body[0];
        state.quaternion[k] = half * axis[0];
        state.quaternion[k + 1] = half * axis[1];
        state.quaternion[k + 2] = half * axis[2];
        state.quaternion[k + 3] = w;
        state.rotate(body[0]);
        aboutFoot(0);
    }

    /** Aims a body from one spot at another by the least turn from ride height. */
    private boolean placeAim() {
        pin(0);
        evaluateVectors();
        int d = 3 * termB[0];
        double x = vector[d];
        double y = vector[d + 1];
        double z = vector[d + 2];
        double length = Math.sqrt(x * x + y * y + z * z);
        if (!(length > Mechanism.SAME_SPOT_MM)) {
            return false;
        }
        x /= length;
        y /= length;
        z /= length;
        double ax = axis[0];
        double ay = axis[1];
        double az = axis[2];
        double w = 1 + ax * x + ay * y + az * z;
        if (!(w > LEAST_AIM)) {
            return false;
        }
        double qx = ay * z - az * y;
        double qy = az * x - ax * z;
        double qz = ax * y - ay * x;
        double scale = 1 / Math.sqrt(qx * qx + qy * qy + qz * qz + w * w);
        int k = 4 * body[0];
        state.quaternion[k] = qx * scale;
        state.quaternion[k + 1] = qy * scale;
        state.quaternion[k + 2] = qz * scale;
        state.quaternion[k + 3] = w * scale;
        state.rotate(body[0]);
        return true;
    }

    // ---------------------------------------------------------------- equations

    void evaluateArm(int e) {
        int b = endBody[e];
        int k = 3 * e;
        double x = endAt[k];
        double y = endAt[k + 1];
        double z = endAt[k + 2];
        if (b == 0) {
            arm[k] = x;
            arm[k + 1] = y;
            arm[k + 2] = z;
            return;
        }
        double[] m = state.rotation;
        int r = 9 * b;
        arm[k] = m[r] * x + m[r + 1] * y + m[r + 2] * z;
        arm[k + 1] = m[r + 3] * x + m[r + 4] * y + m[r + 5] * z;
        arm[k + 2] = m[r + 6] * x + m[r + 7] * y + m[r + 8] * z;
    }

    private boolean known(int v) {
        boolean plusKnown = endBody[plus[v]] != 0 && (endSlot[plus[v]] < 0 || kind[endSlot[plus[v]]] == PINNED);
        return plusKnown
                || (minus[v] >= 0
                        && endBody[minus[v]] != 0
                        && (endSlot[minus[v]] < 0 || kind[endSlot[minus[v]]] == PINNED));
    }

    void evaluateVectors() {
        for (int e : movingEnds) {
            evaluateArm(e);
        }
        for (int v : movingVectors) {
            evaluateVector(v);
        }
    }

    void evaluateVector(int v) {
        double[] position = state.position;
        int k = 3 * v;
        int p = 3 * plus[v];
        if (isDirection[v]) {
            vector[k] = arm[p];
            vector[k + 1] = arm[p + 1];
            vector[k + 2] = arm[p + 2];
        } else {
            int m = 3 * minus[v];
            int bp = 3 * endBody[plus[v]];
            int bm = 3 * endBody[minus[v]];
            vector[k] = position[bp] - position[bm] + (arm[p] - arm[m]);
            vector[k + 1] = position[bp + 1] - position[bm + 1] + (arm[p + 1] - arm[m + 1]);
            vector[k + 2] = position[bp + 2] - position[bm + 2] + (arm[p + 2] - arm[m + 2]);
        }
    }

    double product(int t) {
        int a = 3 * termA[t];
        int b = 3 * termB[t];
        return vector[a] * vector[b] + vector[a + 1] * vector[b + 1] + vector[a + 2] * vector[b + 2];
    }

    private double sum(int k) {
        double sum = 0;
        for (int t = firstTerm[k]; t < firstTerm[k + 1]; t++) {
            sum += weight[t] * product(t);
        }
        return sum;
    }

    /** The leaf's length where its eye is now; refreshes the two weights, which are its first derivatives. */
    private double curveLength(int k) {
        int t = firstTerm[k];
        double along = product(t);
        double above = product(t + 1);
        double chord = Math.sqrt(along * along + above * above);
        double alpha = Math.atan2(above, along);
        double g = Curve.g(alpha);
        double g1 = Curve.g1(alpha);
        double c = along / chord;
        double s = above / chord;
        weight[t] = g * c - g1 * s;
        weight[t + 1] = g * s + g1 * c;
        return chord * g;
    }

    /** Refreshes vectors and residuals; returns the largest residual, mm; infinity for not a number. */
    private double evaluateResidual(double[] q) {
        evaluateVectors();
        double largest = 0;
        for (int k = 0; k < equations; k++) {
            double value = curved[k] ? curveLength(k) : sum(k);
            double wanted = target[k];
            int d = equationDriver[k];
            if (d >= 0) {
                double length = rodLength[k];
                // A rod's equation is half its squared length over its length at ride height.
                wanted += length > 0 ? q[d] + 0.5 * q[d] * q[d] / length : q[d];
            }
            double misfit = value - wanted;
            residual[k] = misfit;
            double size = Math.abs(misfit);
            if (!(size <= largest)) {
                largest = !Double.isNaN(size) ? size : Double.POSITIVE_INFINITY;
            }
        }
        return largest;
    }

    /** Refreshes the Jacobian at the vectors of the last evaluation. */
    private void evaluateJacobian() {
        java.util.Arrays.fill(jacobian, 0);
        for (int k = 0; k < equations; k++) {
            push(jacobian, k);
        }
    }

    /** Adds the derivatives of an equation to its row. */
    private void push(double[] into, int k) {
        for (int t = firstTerm[k]; t < firstTerm[k + 1]; t++) {
            push(into, k, t, weight[t]);
        }
    }

    /** Adds the derivatives of a product to a row. */
    private void push(double[] into, int row, int t, double w) {
        int a = termA[t];
        int b = termB[t];
        if (a == b) {
            push(into, row, a, b, 2 * w);
        } else {
            push(into, row, a, b, w);
            push(into, row, b, a, w);
        }
    }

    /** Adds to a row the share of moving vector {@code moved} while {@code held} is the other factor. */
    private void push(double[] into, int row, int moved, int held, double w) {
        int h = 3 * held;
        double fx = w * vector[h];
        double fy = w * vector[h + 1];
        double fz = w * vector[h + 2];
        int p = plus[moved];
        if (endSlot[p] >= 0) {
            pushEnd(into, row, p, fx, fy, fz, isDirection[moved]);
        }
        int m = minus[moved];
        if (m >= 0 && endSlot[m] >= 0) {
            pushEnd(into, row, m, -fx, -fy, -fz, false);
        }
    }

    private void pushEnd(double[] into, int row, int e, double fx, double fy, double fz, boolean direction) {
        int s = endSlot[e];
        int k = 3 * e;
        double rx = arm[k];
        double ry = arm[k + 1];
        double rz = arm[k + 2];
        int j = row * n + offset[s];
        double scale = 1 / radius[s];
        switch (kind[s]) {
            case FREE -> {
                into[j] += (ry * fz - rz * fy) * scale;
                into[j + 1] += (rz * fx - rx * fz) * scale;
                into[j + 2] += (rx * fy - ry * fx) * scale;
                if (!direction) {
                    into[j + 3] += fx;
                    into[j + 4] += fy;
                    into[j + 5] += fz;
                }
            }
            case PINNED -> {
                into[j] += (ry * fz - rz * fy) * scale;
                into[j + 1] += (rz * fx - rx * fz) * scale;
                into[j + 2] += (rx * fy - ry * fx) * scale;
            }
            case HINGED -> {
                int a = 3 * s;
                if (!direction) {
                    int b = 3 * body[s];
                    rx += state.position[b] - foot[a];
                    ry += state.position[b + 1] - foot[a + 1];
                    rz += state.position[b + 2] - foot[a + 2];
                }
                into[j] += (axis[a] * (ry * fz - rz * fy)
                                + axis[a + 1] * (rz * fx - rx * fz)
                                + axis[a + 2] * (rx * fy - ry * fx))
                        * scale;
            }
            default -> {
                if (!direction) {
                    int d = 3 * s;
                    into[j] += axis[d] * fx + axis[d + 1] * fy + axis[d + 2] * fz;
                }
            }
        }
    }

    /** Refreshes residuals and returns their weighted sum of squares, mm squared. */
    double weighted(double[] q, double[] weights) {
        double largest = evaluateResidual(q);
        if (!(largest < Double.POSITIVE_INFINITY)) {
            return Double.POSITIVE_INFINITY;
        }
        double sum = 0;
        for (int k = 0; k < equations; k++) {
            sum += weights[k] * weights[k] * residual[k] * residual[k];
        }
        return sum;
    }

    /** How far an equation is from closing, mm: for a rod the difference of its length. */
    double openMm(int k) {
        int t = firstTerm[k];
        if (firstTerm[k + 1] == t + 1 && termA[t] == termB[t]) {
            double length = 0.5 / weight[t];
            return Math.sqrt(Math.max(0, length * length + 2 * length * residual[k])) - length;
        }
        return residual[k];
    }

    /** Refreshes residuals and Jacobian where the bodies are now. */
    void refreshJacobian(double[] q) {
        evaluateResidual(q);
        evaluateJacobian();
    }

    /** Moves the unknowns by the opposite of a correction. */
    void shiftBy(double[] by) {
        System.arraycopy(by, 0, correction, 0, n);
        apply();
    }

    /**
     * Makes and factors the Jacobian at the solved position, where the bodies are now.
     *
     * @return false when it is near-singular here
     */
    boolean factorHere() {
        if (!vectorsCurrent) {
            evaluateVectors();
            for (int k = 0; k < equations; k++) {
                if (curved[k]) {
                    curveLength(k);
                }
            }
        }
        evaluateJacobian();
        pivot = factor();
        factorsValid = Math.abs(pivot) > LEAST_PIVOT;
        return factorsValid;
    }

    static double dot(double[] a, int i, double[] b, int j) {
        return a[i] * b[j] + a[i + 1] * b[j + 1] + a[i + 2] * b[j + 2];
    }

    static void cross(double[] a, int i, double[] b, int j, double[] into, int k) {
        double x = a[i + 1] * b[j + 2] - a[i + 2] * b[j + 1];
        double y = a[i + 2] * b[j] - a[i] * b[j + 2];
        double z = a[i] * b[j + 1] - a[i + 1] * b[j];
        into[k] = x;
        into[k + 1] = y;
        into[k + 2] = z;
    }
}
