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
    /** No body turns further than this between neighbouring positions, rad: far from any mirrored assembly. */
    private static final double LARGEST_TURN = 0.35;
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

    /** Documented inflation for floating point: every proved bound is enlarged by this factor ... */
    private static final double ROUNDING = 1 + 1e-9;
    /** ... and by this much (times the row sums of the inverse Jacobian), which also covers a centre that is solved
     * to {@link #CLOSED_MM} instead of exactly. Double arithmetic on these sums errs by about 1e-13. */
    private static final double ROUNDING_FLOOR = 1e-9;

    private static final double FIRST_GUESS = 1.25;
    private static final double NEXT_GUESS = 1.2;
    private static final int MOST_GUESSES = 8;
    private static final int MOST_ROUNDS = 60;
    private static final double CLIMB = 1.02;
    private static final double HOPELESS = 1e4;
    /** The derivatives of a leaf's curve grow without bound towards half a turn. */
    private static final double LARGEST_BEND = 2;

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

    // terms and equations
    final int equations;
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
    private final double[] factors;
    private final int[] rowExchanges;
    private boolean factorsValid;
    private double rideHeightPivot;
    int corrections;
    double residualMm;

    // first and second derivatives at the last position
    final double[] rate; // drivers x n
    final double[] rateOfRate; // drivers x drivers x n
    private final double[] endRate; // (endpoint, driver) x 3 : velocity of the arm, omega x arm
    private final double[] vectorRate; // (vector, driver) x 3
    private final double[] carried; // (slot, driver, driver) x 6 : second derivatives without the unknowns' share
    private final double[] known = new double[3];

    // bounds over a box
    private final double[] inverse;
    private final double[] guess;
    private final double[] better;
    private final double[] armShift; // endpoint x 3
    private final double[] endRateError;
    private final double[] vectorShift; // vector x 3
    private final double[] vectorRateError; // (vector, driver) x 3
    private final double[] carriedError;
    private final double[] jacobianError;
    private final double[] contraction;
    private final double[] secondError; // (driver, driver) x n
    private final double[] load;
    private final double[] bound;
    private final double[] hingeArmShift;
    private final double[] floor;
    private final double[] knownError = new double[3];
    private double curveWeightError;
    private double curveBendError;
    private double curveBend;

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
        endAt = new double[3 * endpoints];
        arm = new double[3 * endpoints];
        for (int e = 0; e < endpoints; e++) {
            LoopPlan.End end = plan.endpoints.get(e);
            endBody[e] = end.body;
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
        equations = plan.equations.size();
        firstTerm = new int[equations + 1];
        int terms = 0;
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
        for (int k = 0; k < equations; k++) {
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
        firstTerm[equations] = t;
        residual = new double[Math.max(equations, n)];
        correction = new double[n];
        jacobian = new double[equations * n];
        factors = new double[n * n];
        rowExchanges = new int[n];
        rate = new double[drivers * n];
        rateOfRate = new double[drivers * drivers * n];
        endRate = new double[3 * endpoints * drivers];
        vectorRate = new double[3 * vectors * drivers];
        carried = new double[6 * unknownBodies * drivers * drivers];
        inverse = new double[n * n];
        guess = new double[drivers * n];
        better = new double[drivers * n];
        armShift = new double[3 * endpoints];
        endRateError = new double[3 * endpoints * drivers];
        vectorShift = new double[3 * vectors];
        vectorRateError = new double[3 * vectors * drivers];
        carriedError = new double[6 * unknownBodies * drivers * drivers];
        jacobianError = new double[equations * n];
        contraction = new double[n * n];
        secondError = new double[drivers * drivers * n];
        load = new double[n];
        bound = new double[n];
        hingeArmShift = new double[3 * unknownBodies];
        floor = new double[n];
        // Targets are what the equations give at ride height, so that ride height closes exactly.
        evaluateVectors();
        for (int k = 0; k < equations; k++) {
            target[k] = curved[k] ? curveLength(k) : sum(k);
        }
        if (how == BY_DRIVER) {
            rate[driver * n] = kind[0] == HINGED ? radius[0] : 1;
        }
    }

    // ---------------------------------------------------------------- positions

    /** Measures the pivot at ride height, where the state must be. Returns false when it is near-singular there. */
    boolean prepare() {
        if (how != BY_NEWTON) {
            return true;
        }
        evaluateVectors();
        evaluateJacobian();
        rideHeightPivot = factor();
        factorsValid = Math.abs(rideHeightPivot) > LEAST_PIVOT;
        return factorsValid;
    }

    /** Forgets the matrix of the last position (the state was put elsewhere). */
    void forget() {
        factorsValid = false;
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
        return swungTooFar() ? TOO_FAR : MOVED;
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

    /** Factors the Jacobian; false when it is near-singular or of the other assembly. */
    private boolean freshFactors() {
        double pivot = factor();
        factorsValid = Math.abs(pivot) > LEAST_PIVOT && pivot > 0 == rideHeightPivot > 0;
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
        place(0, Math.atan2(across, along));
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

    private void evaluateArm(int e) {
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

    private void evaluateVectors() {
        for (int e = 0; e < endpoints; e++) {
            evaluateArm(e);
        }
        double[] position = state.position;
        for (int v = 0; v < vectors; v++) {
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
    }

    private double product(int t) {
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
        double chord = Math.hypot(along, above);
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
            for (int t = firstTerm[k]; t < firstTerm[k + 1]; t++) {
                int a = termA[t];
                int b = termB[t];
                double w = weight[t];
                if (a == b) {
                    push(k, a, b, 2 * w);
                } else {
                    push(k, a, b, w);
                    push(k, b, a, w);
                }
            }
        }
    }

    /** Adds to a row the share of moving vector {@code moved} while {@code held} is the other factor. */
    private void push(int row, int moved, int held, double w) {
        int h = 3 * held;
        double fx = w * vector[h];
        double fy = w * vector[h + 1];
        double fz = w * vector[h + 2];
        int p = plus[moved];
        if (endSlot[p] >= 0) {
            pushEnd(row, p, fx, fy, fz, isDirection[moved]);
        }
        int m = minus[moved];
        if (m >= 0 && endSlot[m] >= 0) {
            pushEnd(row, m, -fx, -fy, -fz, false);
        }
    }

    private void pushEnd(int row, int e, double fx, double fy, double fz, boolean direction) {
        int s = endSlot[e];
        int k = 3 * e;
        double rx = arm[k];
        double ry = arm[k + 1];
        double rz = arm[k + 2];
        int j = row * n + offset[s];
        double scale = 1 / radius[s];
        switch (kind[s]) {
            case FREE -> {
                jacobian[j] += (ry * fz - rz * fy) * scale;
                jacobian[j + 1] += (rz * fx - rx * fz) * scale;
                jacobian[j + 2] += (rx * fy - ry * fx) * scale;
                if (!direction) {
                    jacobian[j + 3] += fx;
                    jacobian[j + 4] += fy;
                    jacobian[j + 5] += fz;
                }
            }
            case PINNED -> {
                jacobian[j] += (ry * fz - rz * fy) * scale;
                jacobian[j + 1] += (rz * fx - rx * fz) * scale;
                jacobian[j + 2] += (rx * fy - ry * fx) * scale;
            }
            case HINGED -> {
                int a = 3 * s;
                if (!direction) {
                    int b = 3 * body[s];
                    rx += state.position[b] - foot[a];
                    ry += state.position[b + 1] - foot[a + 1];
                    rz += state.position[b + 2] - foot[a + 2];
                }
                jacobian[j] += (axis[a] * (ry * fz - rz * fy)
                                + axis[a + 1] * (rz * fx - rx * fz)
                                + axis[a + 2] * (rx * fy - ry * fx))
                        * scale;
            }
            default -> {
                if (!direction) {
                    int d = 3 * s;
                    jacobian[j] += axis[d] * fx + axis[d + 1] * fy + axis[d + 2] * fz;
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

    // ---------------------------------------------------------------- velocities

    /**
     * Finds the velocities of the loop's bodies along each driver at the solved position, from those of the bodies
     * before it.
     *
     * @return false when the Jacobian is near-singular here
     */
    boolean velocities(double[] q) {
        evaluateVectors();
        if (how != BY_DRIVER) {
            for (int k = 0; k < equations; k++) {
                if (curved[k]) {
                    curveLength(k);
                }
            }
            evaluateJacobian();
            double pivot = factor();
            factorsValid = Math.abs(pivot) > LEAST_PIVOT;
            if (!factorsValid) {
                return false;
            }
        }
        for (int i : active) {
            if (how != BY_DRIVER) {
                int at = i * n;
                for (int k = 0; k < equations; k++) {
                    double sum = 0;
                    if (equationDriver[k] == i) {
                        sum = rodLength[k] > 0 ? 1 + q[i] / rodLength[k] : 1;
                    }
                    for (int t = firstTerm[k]; t < firstTerm[k + 1]; t++) {
                        sum -= weight[t] * (knownRate(termA[t], termB[t], i) + knownRate(termB[t], termA[t], i));
                    }
                    rate[at + k] = sum;
                }
                Lu.solve(factors, n, rowExchanges, rate, at);
            }
            for (int s = 0; s < body.length; s++) {
                spreadRate(s, i);
            }
            for (int e = 0; e < endpoints; e++) {
                int w = state.twistAt(endBody[e], i);
                cross(state.twist, w, arm, 3 * e, endRate, 3 * (e * drivers + i));
            }
            for (int v = 0; v < vectors; v++) {
                int to = 3 * (v * drivers + i);
                int p = 3 * (plus[v] * drivers + i);
                if (isDirection[v]) {
                    for (int c = 0; c < 3; c++) {
                        vectorRate[to + c] = endRate[p + c];
                    }
                } else {
                    int m = 3 * (minus[v] * drivers + i);
                    int vp = state.twistAt(endBody[plus[v]], i) + 3;
                    int vm = state.twistAt(endBody[minus[v]], i) + 3;
                    for (int c = 0; c < 3; c++) {
                        vectorRate[to + c] =
                                state.twist[vp + c] - state.twist[vm + c] + (endRate[p + c] - endRate[m + c]);
                    }
                }
            }
        }
        return true;
    }

    /** The part of d(moved)/dq . held that does not come from this loop's unknowns. */
    private double knownRate(int moved, int held, int i) {
        known[0] = 0;
        known[1] = 0;
        known[2] = 0;
        addKnownRate(plus[moved], i, isDirection[moved], 1);
        if (minus[moved] >= 0) {
            addKnownRate(minus[moved], i, false, -1);
        }
        int h = 3 * held;
        return known[0] * vector[h] + known[1] * vector[h + 1] + known[2] * vector[h + 2];
    }

    private void addKnownRate(int e, int i, boolean direction, double sign) {
        int b = endBody[e];
        if (b == 0) {
            return;
        }
        int s = endSlot[e];
        double[] twist = state.twist;
        int w = state.twistAt(b, i);
        if (s < 0) {
            int k = 3 * e;
            known[0] += sign * (twist[w + 1] * arm[k + 2] - twist[w + 2] * arm[k + 1]);
            known[1] += sign * (twist[w + 2] * arm[k] - twist[w] * arm[k + 2]);
            known[2] += sign * (twist[w] * arm[k + 1] - twist[w + 1] * arm[k]);
            if (!direction) {
                known[0] += sign * twist[w + 3];
                known[1] += sign * twist[w + 4];
                known[2] += sign * twist[w + 5];
            }
        } else if (kind[s] == PINNED && !direction) {
            addCarrierRate(s, i, sign);
        }
    }

    private void addCarrierRate(int s, int i, double sign) {
        int e = carrier[s];
        int w = state.twistAt(endBody[e], i);
        int k = 3 * e;
        double[] twist = state.twist;
        known[0] += sign * (twist[w + 3] + twist[w + 1] * arm[k + 2] - twist[w + 2] * arm[k + 1]);
        known[1] += sign * (twist[w + 4] + twist[w + 2] * arm[k] - twist[w] * arm[k + 2]);
        known[2] += sign * (twist[w + 5] + twist[w] * arm[k + 1] - twist[w + 1] * arm[k]);
    }

    /** Writes the twist of an unknown body from the rates of its unknowns. */
    private void spreadRate(int s, int i) {
        int b = body[s];
        int to = state.twistAt(b, i);
        int k = i * n + offset[s];
        double[] twist = state.twist;
        int a = 3 * s;
        switch (kind[s]) {
            case FREE -> {
                for (int c = 0; c < 3; c++) {
                    twist[to + c] = rate[k + c] / radius[s];
                    twist[to + 3 + c] = rate[k + 3 + c];
                }
            }
            case PINNED -> {
                known[0] = 0;
                known[1] = 0;
                known[2] = 0;
                addCarrierRate(s, i, 1);
                for (int c = 0; c < 3; c++) {
                    twist[to + c] = rate[k + c] / radius[s];
                    twist[to + 3 + c] = known[c];
                }
            }
            case HINGED -> {
                double turn = rate[k] / radius[s];
                for (int c = 0; c < 3; c++) {
                    twist[to + c] = turn * axis[a + c];
                }
                double x = state.position[3 * b] - foot[a];
                double y = state.position[3 * b + 1] - foot[a + 1];
                double z = state.position[3 * b + 2] - foot[a + 2];
                twist[to + 3] = twist[to + 1] * z - twist[to + 2] * y;
                twist[to + 4] = twist[to + 2] * x - twist[to] * z;
                twist[to + 5] = twist[to] * y - twist[to + 1] * x;
            }
            default -> {
                for (int c = 0; c < 3; c++) {
                    twist[to + c] = 0;
                    twist[to + 3 + c] = rate[k] * axis[a + c];
                }
            }
        }
    }

    // ---------------------------------------------------------------- second derivatives

    /** Finds the second derivatives of the loop's bodies; needs {@link #velocities} at this position first. */
    void seconds() {
        for (int i : active) {
            for (int j : active) {
                int at = (i * drivers + j) * n;
                for (int s = 0; s < body.length; s++) {
                    carry(s, i, j);
                }
                if (how != BY_DRIVER) {
                    for (int k = 0; k < equations; k++) {
                        rateOfRate[at + k] = -quadratic(k, i, j);
                    }
                    Lu.solve(factors, n, rowExchanges, rateOfRate, at);
                }
                for (int s = 0; s < body.length; s++) {
                    spreadSecond(s, i, j);
                }
            }
        }
    }

    /** The second derivative of an equation along i and j without the share of the unknowns' own. */
    private double quadratic(int k, int i, int j) {
        double sum = 0;
        if (equationDriver[k] == i && i == j && rodLength[k] > 0) {
            sum -= 1 / rodLength[k];
        }
        for (int t = firstTerm[k]; t < firstTerm[k + 1]; t++) {
            int a = termA[t];
            int b = termB[t];
            double part = knownSecond(a, b, i, j) + knownSecond(b, a, i, j);
            part += dot(vectorRate, 3 * (a * drivers + i), vectorRate, 3 * (b * drivers + j));
            part += dot(vectorRate, 3 * (a * drivers + j), vectorRate, 3 * (b * drivers + i));
            sum += weight[t] * part;
        }
        if (curved[k]) {
            int t = firstTerm[k];
            double along = product(t);
            double above = product(t + 1);
            double chord = Math.hypot(along, above);
            double alpha = Math.atan2(above, along);
            double bend = (Curve.g(alpha) + Curve.g2(alpha)) / chord;
            double c = along / chord;
            double s = above / chord;
            double first = c * productRate(t + 1, i) - s * productRate(t, i);
            double second = c * productRate(t + 1, j) - s * productRate(t, j);
            sum += bend * first * second;
        }
        return sum;
    }

    private double productRate(int t, int i) {
        return dot(vectorRate, 3 * (termA[t] * drivers + i), vector, 3 * termB[t])
                + dot(vector, 3 * termA[t], vectorRate, 3 * (termB[t] * drivers + i));
    }

    private double knownSecond(int moved, int held, int i, int j) {
        known[0] = 0;
        known[1] = 0;
        known[2] = 0;
        addKnownSecond(plus[moved], i, j, isDirection[moved], 1);
        if (minus[moved] >= 0) {
            addKnownSecond(minus[moved], i, j, false, -1);
        }
        return dot(known, 0, vector, 3 * held);
    }

    /** Adds the second derivative of an endpoint, without the share of this loop's unknowns. */
    private void addKnownSecond(int e, int i, int j, boolean direction, double sign) {
        int b = endBody[e];
        if (b == 0) {
            return;
        }
        int s = endSlot[e];
        double[] from = s < 0 ? state.second : carried;
        int at = s < 0 ? state.secondAt(b, i, j) : 6 * ((s * drivers + i) * drivers + j);
        int w = state.twistAt(b, i);
        int r = 3 * (e * drivers + j);
        int k = 3 * e;
        double[] twist = state.twist;
        double x = twist[w + 1] * endRate[r + 2] - twist[w + 2] * endRate[r + 1];
        double y = twist[w + 2] * endRate[r] - twist[w] * endRate[r + 2];
        double z = twist[w] * endRate[r + 1] - twist[w + 1] * endRate[r];
        x += from[at + 1] * arm[k + 2] - from[at + 2] * arm[k + 1];
        y += from[at + 2] * arm[k] - from[at] * arm[k + 2];
        z += from[at] * arm[k + 1] - from[at + 1] * arm[k];
        if (!direction) {
            x += from[at + 3];
            y += from[at + 4];
            z += from[at + 5];
        }
        known[0] += sign * x;
        known[1] += sign * y;
        known[2] += sign * z;
    }

    /** The second derivative of an unknown body without the share of its unknowns' own. */
    private void carry(int s, int i, int j) {
        int to = 6 * ((s * drivers + i) * drivers + j);
        for (int c = 0; c < 6; c++) {
            carried[to + c] = 0;
        }
        if (kind[s] == PINNED) {
            known[0] = 0;
            known[1] = 0;
            known[2] = 0;
            addKnownSecond(carrier[s], i, j, false, 1);
            for (int c = 0; c < 3; c++) {
                carried[to + 3 + c] = known[c];
            }
        } else if (kind[s] == HINGED) {
            int b = body[s];
            // omega_i x v_j, v_j the velocity of the reference spot
            cross(state.twist, state.twistAt(b, i), state.twist, state.twistAt(b, j) + 3, carried, to + 3);
        }
    }

    private void spreadSecond(int s, int i, int j) {
        int b = body[s];
        int to = state.secondAt(b, i, j);
        int from = 6 * ((s * drivers + i) * drivers + j);
        int k = (i * drivers + j) * n + offset[s];
        double[] second = state.second;
        for (int c = 0; c < 6; c++) {
            second[to + c] = carried[from + c];
        }
        int a = 3 * s;
        switch (kind[s]) {
            case FREE -> {
                for (int c = 0; c < 3; c++) {
                    second[to + c] += rateOfRate[k + c] / radius[s];
                    second[to + 3 + c] += rateOfRate[k + 3 + c];
                }
            }
            case PINNED -> {
                for (int c = 0; c < 3; c++) {
                    second[to + c] += rateOfRate[k + c] / radius[s];
                }
            }
            case HINGED -> {
                double turn = rateOfRate[k] / radius[s];
                double x = state.position[3 * b] - foot[a];
                double y = state.position[3 * b + 1] - foot[a + 1];
                double z = state.position[3 * b + 2] - foot[a + 2];
                second[to] += turn * axis[a];
                second[to + 1] += turn * axis[a + 1];
                second[to + 2] += turn * axis[a + 2];
                second[to + 3] += turn * (axis[a + 1] * z - axis[a + 2] * y);
                second[to + 4] += turn * (axis[a + 2] * x - axis[a] * z);
                second[to + 5] += turn * (axis[a] * y - axis[a + 1] * x);
            }
            default -> {
                for (int c = 0; c < 3; c++) {
                    second[to + 3 + c] += rateOfRate[k] * axis[a + c];
                }
            }
        }
    }

    private static double dot(double[] a, int i, double[] b, int j) {
        return a[i] * b[j] + a[i + 1] * b[j + 1] + a[i + 2] * b[j + 2];
    }

    private static void cross(double[] a, int i, double[] b, int j, double[] into, int k) {
        double x = a[i + 1] * b[j + 2] - a[i + 2] * b[j + 1];
        double y = a[i + 2] * b[j] - a[i] * b[j + 2];
        double z = a[i] * b[j + 1] - a[i + 1] * b[j];
        into[k] = x;
        into[k + 1] = y;
        into[k + 2] = z;
    }

    // ---------------------------------------------------------------- bounds over a box

    /**
     * Bounds the velocities and second derivatives of the loop's bodies over a box of drivers about the solved
     * position, from the bounds of the bodies before it. See {@link Linkage#enclose} for the argument. Needs {@link
     * #velocities} and {@link #seconds} at the centre first.
     *
     * @param half half width of the box per driver
     * @return whether the bounds are proved
     */
    boolean enclose(double[] half) {
        java.util.Arrays.fill(guess, 0);
        java.util.Arrays.fill(secondError, 0);
        if (how == BY_DRIVER) {
            spreadErrors(half, guess);
            for (int i : active) {
                for (int j : active) {
                    carryError(0, i, j);
                    spreadSecondError(0, i, j);
                }
            }
            return true;
        }
        invert();
        for (int i : active) {
            for (int m = 0; m < n; m++) {
                double sum = 0;
                for (int j : active) {
                    sum += half[j] * Math.abs(rateOfRate[(i * drivers + j) * n + m]);
                }
                guess[i * n + m] = FIRST_GUESS * sum + 2 * floor[m];
            }
        }
        for (int attempt = 0; attempt < MOST_GUESSES; attempt++) {
            spreadErrors(half, guess);
            jacobianErrors();
            contraction();
            if (!secondErrors()) {
                return false;
            }
            boolean proved = true;
            for (int i : active) {
                for (int m = 0; m < n; m++) {
                    double sum = 0;
                    for (int j : active) {
                        int at = (i * drivers + j) * n + m;
                        sum += half[j] * (Math.abs(rateOfRate[at]) + secondError[at]);
                    }
                    better[i * n + m] = sum * ROUNDING + floor[m];
                    proved &= better[i * n + m] < guess[i * n + m];
                }
            }
            if (proved) {
                spreadErrors(half, better);
                for (int i : active) {
                    for (int j : active) {
                        for (int s = 0; s < body.length; s++) {
                            carryError(s, i, j);
                            spreadSecondError(s, i, j);
                        }
                    }
                }
                return true;
            }
            for (int i : active) {
                for (int m = 0; m < n; m++) {
                    guess[i * n + m] = NEXT_GUESS * Math.max(better[i * n + m], floor[m]);
                }
            }
        }
        return false;
    }

    /** The inverse of the Jacobian at the centre, and the floor of each unknown's error from rounding. */
    private void invert() {
        for (int c = 0; c < n; c++) {
            for (int m = 0; m < n; m++) {
                bound[m] = m == c ? 1 : 0;
            }
            Lu.solve(factors, n, rowExchanges, bound, 0);
            for (int m = 0; m < n; m++) {
                inverse[m * n + c] = bound[m];
            }
        }
        for (int m = 0; m < n; m++) {
            double sum = 1;
            for (int c = 0; c < n; c++) {
                sum += Math.abs(inverse[m * n + c]);
            }
            floor[m] = ROUNDING_FLOOR * sum;
        }
    }

    /** From bounds of the unknowns' rates to bounds of twists, arms and vectors over the box. */
    private void spreadErrors(double[] half, double[] of) {
        double[] error = state.twistError;
        double[] twist = state.twist;
        for (int s = 0; s < body.length; s++) {
            int a = 3 * s;
            int b = body[s];
            for (int i : active) {
                int to = state.twistAt(b, i);
                int k = i * n + offset[s];
                for (int c = 0; c < 3; c++) {
                    error[to + c] = kind[s] == SLIDING
                            ? 0
                            : kind[s] == HINGED ? Math.abs(axis[a + c]) * of[k] / radius[s] : of[k + c] / radius[s];
                }
            }
        }
        for (int e = 0; e < endpoints; e++) {
            shiftOfArm(endBody[e], arm, 3 * e, half, armShift, 3 * e);
            for (int i : active) {
                int w = state.twistAt(endBody[e], i);
                int to = 3 * (e * drivers + i);
                crossBound(error, w, arm, 3 * e, endRateError, to);
                addCrossBound(twist, error, w, armShift, 3 * e, endRateError, to);
            }
        }
        for (int s = 0; s < body.length; s++) {
            int a = 3 * s;
            int b = body[s];
            if (kind[s] == HINGED) {
                for (int c = 0; c < 3; c++) {
                    known[c] = state.position[3 * b + c] - foot[a + c];
                }
                shiftOfArm(b, known, 0, half, hingeArmShift, a);
                cross(axis, a, known, 0, known, 0);
            }
            for (int i : active) {
                int to = state.twistAt(b, i);
                int k = i * n + offset[s];
                switch (kind[s]) {
                    case FREE -> {
                        for (int c = 0; c < 3; c++) {
                            error[to + 3 + c] = of[k + 3 + c];
                        }
                    }
                    case PINNED -> {
                        int from = state.twistAt(endBody[carrier[s]], i) + 3;
                        int arms = 3 * (carrier[s] * drivers + i);
                        for (int c = 0; c < 3; c++) {
                            error[to + 3 + c] = error[from + c] + endRateError[arms + c];
                        }
                    }
                    case HINGED -> {
                        for (int c = 0; c < 3; c++) {
                            error[to + 3 + c] = Math.abs(known[c]) * of[k] / radius[s];
                        }
                        addCrossBound(twist, error, to, hingeArmShift, a, error, to + 3);
                    }
                    default -> {
                        for (int c = 0; c < 3; c++) {
                            error[to + 3 + c] = Math.abs(axis[a + c]) * of[k];
                        }
                    }
                }
            }
        }
        for (int v = 0; v < vectors; v++) {
            for (int c = 0; c < 3; c++) {
                vectorShift[3 * v + c] = 0;
            }
            for (int i : active) {
                int to = 3 * (v * drivers + i);
                int p = 3 * (plus[v] * drivers + i);
                for (int c = 0; c < 3; c++) {
                    double sum = endRateError[p + c];
                    if (!isDirection[v]) {
                        sum += endRateError[3 * (minus[v] * drivers + i) + c]
                                + error[state.twistAt(endBody[plus[v]], i) + 3 + c]
                                + error[state.twistAt(endBody[minus[v]], i) + 3 + c];
                    }
                    vectorRateError[to + c] = sum;
                    vectorShift[3 * v + c] += half[i] * (Math.abs(vectorRate[to + c]) + 0.5 * sum);
                }
            }
        }
    }

    /** How far a vector of a body may move over the box, componentwise: its rate at the centre, and half the error
     * of that rate, since the error grows from zero at the centre. */
    private void shiftOfArm(int b, double[] of, int at, double[] half, double[] into, int to) {
        into[to] = 0;
        into[to + 1] = 0;
        into[to + 2] = 0;
        if (b == 0) {
            return;
        }
        double[] twist = state.twist;
        double[] error = state.twistError;
        double turn = 0;
        for (int i : active) {
            int w = state.twistAt(b, i);
            double x = Math.abs(twist[w]) + error[w];
            double y = Math.abs(twist[w + 1]) + error[w + 1];
            double z = Math.abs(twist[w + 2]) + error[w + 2];
            turn += half[i] * Math.sqrt(x * x + y * y + z * z);
        }
        double far = turn * Math.sqrt(dot(of, at, of, at));
        for (int i : active) {
            int w = state.twistAt(b, i);
            double h = half[i];
            double ax = Math.abs(of[at]);
            double ay = Math.abs(of[at + 1]);
            double az = Math.abs(of[at + 2]);
            double ex = error[w];
            double ey = error[w + 1];
            double ez = error[w + 2];
            double wx = Math.abs(twist[w]) + ex;
            double wy = Math.abs(twist[w + 1]) + ey;
            double wz = Math.abs(twist[w + 2]) + ez;
            into[to] += h
                    * (Math.abs(twist[w + 1] * of[at + 2] - twist[w + 2] * of[at + 1])
                            + 0.5 * (ey * az + ez * ay + (wy + wz) * far));
            into[to + 1] += h
                    * (Math.abs(twist[w + 2] * of[at] - twist[w] * of[at + 2])
                            + 0.5 * (ez * ax + ex * az + (wz + wx) * far));
            into[to + 2] += h
                    * (Math.abs(twist[w] * of[at + 1] - twist[w + 1] * of[at])
                            + 0.5 * (ex * ay + ey * ax + (wx + wy) * far));
        }
    }

    private void jacobianErrors() {
        java.util.Arrays.fill(jacobianError, 0);
        for (int k = 0; k < equations; k++) {
            if (curved[k]) {
                curveErrors(k);
            }
            for (int t = firstTerm[k]; t < firstTerm[k + 1]; t++) {
                int a = termA[t];
                int b = termB[t];
                double w = Math.abs(weight[t]);
                double e = curved[k] ? curveWeightError : 0;
                if (a == b) {
                    pushError(k, a, b, 2 * w, 2 * e);
                } else {
                    pushError(k, a, b, w, e);
                    pushError(k, b, a, w, e);
                }
            }
        }
    }

    private void pushError(int row, int moved, int held, double w, double weightError) {
        for (int side = 0; side < 2; side++) {
            int e = side == 0 ? plus[moved] : minus[moved];
            if (e < 0 || endSlot[e] < 0) {
                continue;
            }
            int s = endSlot[e];
            int h = 3 * held;
            int k = 3 * e;
            double fx = Math.abs(vector[h]);
            double fy = Math.abs(vector[h + 1]);
            double fz = Math.abs(vector[h + 2]);
            double ex = w * vectorShift[h] + weightError * (fx + vectorShift[h]);
            double ey = w * vectorShift[h + 1] + weightError * (fy + vectorShift[h + 1]);
            double ez = w * vectorShift[h + 2] + weightError * (fz + vectorShift[h + 2]);
            fx *= w;
            fy *= w;
            fz *= w;
            double rx = arm[k];
            double ry = arm[k + 1];
            double rz = arm[k + 2];
            double dx = armShift[k];
            double dy = armShift[k + 1];
            double dz = armShift[k + 2];
            if (kind[s] == HINGED && !isDirection[moved]) {
                int b = 3 * body[s];
                int a = 3 * s;
                rx += state.position[b] - foot[a];
                ry += state.position[b + 1] - foot[a + 1];
                rz += state.position[b + 2] - foot[a + 2];
                dx += hingeArmShift[a];
                dy += hingeArmShift[a + 1];
                dz += hingeArmShift[a + 2];
            }
            rx = Math.abs(rx);
            ry = Math.abs(ry);
            rz = Math.abs(rz);
            double mx = dy * (fz + ez) + dz * (fy + ey) + ry * ez + rz * ey;
            double my = dz * (fx + ex) + dx * (fz + ez) + rz * ex + rx * ez;
            double mz = dx * (fy + ey) + dy * (fx + ex) + rx * ey + ry * ex;
            int j = row * n + offset[s];
            int a = 3 * s;
            switch (kind[s]) {
                case FREE -> {
                    jacobianError[j] += mx / radius[s];
                    jacobianError[j + 1] += my / radius[s];
                    jacobianError[j + 2] += mz / radius[s];
                    if (!isDirection[moved]) {
                        jacobianError[j + 3] += ex;
                        jacobianError[j + 4] += ey;
                        jacobianError[j + 5] += ez;
                    }
                }
                case PINNED -> {
                    jacobianError[j] += mx / radius[s];
                    jacobianError[j + 1] += my / radius[s];
                    jacobianError[j + 2] += mz / radius[s];
                }
                case HINGED -> {
                    jacobianError[j] +=
                            (Math.abs(axis[a]) * mx + Math.abs(axis[a + 1]) * my + Math.abs(axis[a + 2]) * mz)
                                    / radius[s];
                }
                default -> {
                    if (!isDirection[moved]) {
                        jacobianError[j] +=
                                Math.abs(axis[a]) * ex + Math.abs(axis[a + 1]) * ey + Math.abs(axis[a + 2]) * ez;
                    }
                }
            }
        }
    }

    /** |I - Y J(q)| over the box, Y the inverse at the centre. */
    private void contraction() {
        for (int r = 0; r < n; r++) {
            for (int c = 0; c < n; c++) {
                double wide = 0;
                double exact = r == c ? 1 : 0;
                for (int m = 0; m < n; m++) {
                    double y = inverse[r * n + m];
                    wide += Math.abs(y) * jacobianError[m * n + c];
                    exact -= y * jacobian[m * n + c];
                }
                contraction[r * n + c] = wide + Math.abs(exact);
            }
        }
    }

    /** Bounds of how far the unknowns' second derivatives may differ from those at the centre. */
    private boolean secondErrors() {
        for (int i : active) {
            for (int j : active) {
                int at = (i * drivers + j) * n;
                for (int s = 0; s < body.length; s++) {
                    carryError(s, i, j);
                }
                for (int k = 0; k < equations; k++) {
                    double sum = quadraticError(k, i, j);
                    for (int m = 0; m < n; m++) {
                        sum += jacobianError[k * n + m] * Math.abs(rateOfRate[at + m]);
                    }
                    load[k] = sum;
                }
                if (!shrink(at)) {
                    return false;
                }
            }
        }
        return true;
    }

    /**
     * Finds x with x >= |Y| load + C x, C the contraction matrix, strictly: then C's spectral radius is below 1
     * (Collatz and Wielandt), so J is invertible all over the box, and |J(q)^-1 v| <= x for every |v| <= load.
     */
    private boolean shrink(int at) {
        double largest = 0;
        for (int m = 0; m < n; m++) {
            double sum = 0;
            for (int k = 0; k < n; k++) {
                sum += Math.abs(inverse[m * n + k]) * load[k];
            }
            bound[m] = sum;
            largest = Math.max(largest, sum);
        }
        if (!(largest < Double.POSITIVE_INFINITY)) {
            return false;
        }
        for (int m = 0; m < n; m++) {
            bound[m] = bound[m] * ROUNDING + ROUNDING_FLOOR * (largest + ROUNDING_FLOOR);
            secondError[at + m] = bound[m];
        }
        for (int round = 0; round < MOST_ROUNDS; round++) {
            boolean settled = true;
            for (int m = 0; m < n; m++) {
                double sum = bound[m];
                for (int k = 0; k < n; k++) {
                    sum += contraction[m * n + k] * secondError[at + k];
                }
                // A guess that is a little above its own image is proved; until then climb past the image.
                if (!(sum < secondError[at + m])) {
                    settled = false;
                    secondError[at + m] = sum * CLIMB;
                }
            }
            if (settled) {
                return true;
            }
            if (!(secondError[at] < HOPELESS * (largest + ROUNDING_FLOOR))) {
                return false;
            }
        }
        return false;
    }

    private double quadraticError(int k, int i, int j) {
        double sum = 0;
        if (curved[k]) {
            curveErrors(k);
        }
        for (int t = firstTerm[k]; t < firstTerm[k + 1]; t++) {
            int a = termA[t];
            int b = termB[t];
            double part = 2 * (a == b ? knownSecondError(a, b, i, j) : 0);
            if (a != b) {
                part = knownSecondError(a, b, i, j) + knownSecondError(b, a, i, j);
            }
            part += productError(a, i, b, j) + (a == b ? productError(a, i, b, j) : productError(a, j, b, i));
            sum += Math.abs(weight[t]) * part;
            if (curved[k]) {
                double centre = knownSecond(a, b, i, j) + knownSecond(b, a, i, j);
                centre += dot(vectorRate, 3 * (a * drivers + i), vectorRate, 3 * (b * drivers + j));
                centre += dot(vectorRate, 3 * (a * drivers + j), vectorRate, 3 * (b * drivers + i));
                sum += curveWeightError * (Math.abs(centre) + part);
            }
        }
        if (curved[k]) {
            int t = firstTerm[k];
            double first = Math.abs(productRate(t, i)) + Math.abs(productRate(t + 1, i));
            double second = Math.abs(productRate(t, j)) + Math.abs(productRate(t + 1, j));
            double firstError = productRateError(t, i) + productRateError(t + 1, i);
            double secondOne = productRateError(t, j) + productRateError(t + 1, j);
            sum += curveBendError * (first + firstError) * (second + secondOne)
                    + curveBend * (firstError * (second + secondOne) + first * secondOne);
        }
        return sum;
    }

    /** Bound of the change of (rate of a along i) . (rate of b along j). */
    private double productError(int a, int i, int b, int j) {
        int p = 3 * (a * drivers + i);
        int q = 3 * (b * drivers + j);
        double sum = 0;
        for (int c = 0; c < 3; c++) {
            sum += vectorRateError[p + c] * (Math.abs(vectorRate[q + c]) + vectorRateError[q + c])
                    + Math.abs(vectorRate[p + c]) * vectorRateError[q + c];
        }
        return sum;
    }

    private double productRateError(int t, int i) {
        return rateTimesVectorError(termA[t], i, termB[t]) + rateTimesVectorError(termB[t], i, termA[t]);
    }

    private double rateTimesVectorError(int a, int i, int b) {
        int p = 3 * (a * drivers + i);
        double sum = 0;
        for (int c = 0; c < 3; c++) {
            sum += vectorRateError[p + c] * (Math.abs(vector[3 * b + c]) + vectorShift[3 * b + c])
                    + Math.abs(vectorRate[p + c]) * vectorShift[3 * b + c];
        }
        return sum;
    }

    private double knownSecondError(int moved, int held, int i, int j) {
        known[0] = 0;
        known[1] = 0;
        known[2] = 0;
        addKnownSecond(plus[moved], i, j, isDirection[moved], 1);
        if (minus[moved] >= 0) {
            addKnownSecond(minus[moved], i, j, false, -1);
        }
        knownError[0] = 0;
        knownError[1] = 0;
        knownError[2] = 0;
        addKnownSecondError(plus[moved], i, j, isDirection[moved]);
        if (minus[moved] >= 0) {
            addKnownSecondError(minus[moved], i, j, false);
        }
        double sum = 0;
        for (int c = 0; c < 3; c++) {
            double shift = vectorShift[3 * held + c];
            sum += knownError[c] * (Math.abs(vector[3 * held + c]) + shift) + Math.abs(known[c]) * shift;
        }
        return sum;
    }

    private void addKnownSecondError(int e, int i, int j, boolean direction) {
        int b = endBody[e];
        if (b == 0) {
            return;
        }
        int s = endSlot[e];
        double[] from = s < 0 ? state.second : carried;
        double[] error = s < 0 ? state.secondError : carriedError;
        int at = s < 0 ? state.secondAt(b, i, j) : 6 * ((s * drivers + i) * drivers + j);
        int w = state.twistAt(b, i);
        int r = 3 * (e * drivers + j);
        // omega_i x (omega_j x arm)
        addErrorCross(state.twistError, w, endRate, r, knownError);
        addCrossBound(state.twist, state.twistError, w, endRateError, r, knownError, 0);
        // omega_ij x arm
        addErrorCross(error, at, arm, 3 * e, knownError);
        addCrossBound(from, error, at, armShift, 3 * e, knownError, 0);
        if (!direction) {
            for (int c = 0; c < 3; c++) {
                knownError[c] += error[at + 3 + c];
            }
        }
    }

    private void carryError(int s, int i, int j) {
        int to = 6 * ((s * drivers + i) * drivers + j);
        // The centre's share is written again too: the work arrays hold that of the last pair.
        carry(s, i, j);
        for (int c = 0; c < 6; c++) {
            carriedError[to + c] = 0;
        }
        if (kind[s] == PINNED) {
            knownError[0] = 0;
            knownError[1] = 0;
            knownError[2] = 0;
            addKnownSecondError(carrier[s], i, j, false);
            for (int c = 0; c < 3; c++) {
                carriedError[to + 3 + c] = knownError[c];
            }
        } else if (kind[s] == HINGED) {
            int b = body[s];
            int w = state.twistAt(b, i);
            int v = state.twistAt(b, j) + 3;
            crossBound(state.twistError, w, state.twist, v, carriedError, to + 3);
            addCrossBound(state.twist, state.twistError, w, state.twistError, v, carriedError, to + 3);
        }
    }

    private void spreadSecondError(int s, int i, int j) {
        int b = body[s];
        int to = state.secondAt(b, i, j);
        int from = 6 * ((s * drivers + i) * drivers + j);
        int k = (i * drivers + j) * n + offset[s];
        double[] error = state.secondError;
        for (int c = 0; c < 6; c++) {
            error[to + c] = carriedError[from + c];
        }
        int a = 3 * s;
        switch (kind[s]) {
            case FREE -> {
                for (int c = 0; c < 3; c++) {
                    error[to + c] += secondError[k + c] / radius[s];
                    error[to + 3 + c] += secondError[k + 3 + c];
                }
            }
            case PINNED -> {
                for (int c = 0; c < 3; c++) {
                    error[to + c] += secondError[k + c] / radius[s];
                }
            }
            case HINGED -> {
                double e = secondError[k] / radius[s];
                double turn = Math.abs(rateOfRate[k]) / radius[s] + e;
                for (int c = 0; c < 3; c++) {
                    known[c] = state.position[3 * b + c] - foot[a + c];
                }
                cross(axis, a, known, 0, known, 0);
                double ax = Math.abs(axis[a]);
                double ay = Math.abs(axis[a + 1]);
                double az = Math.abs(axis[a + 2]);
                double dx = hingeArmShift[a];
                double dy = hingeArmShift[a + 1];
                double dz = hingeArmShift[a + 2];
                error[to] += e * ax;
                error[to + 1] += e * ay;
                error[to + 2] += e * az;
                error[to + 3] += e * Math.abs(known[0]) + turn * (ay * dz + az * dy);
                error[to + 4] += e * Math.abs(known[1]) + turn * (az * dx + ax * dz);
                error[to + 5] += e * Math.abs(known[2]) + turn * (ax * dy + ay * dx);
            }
            default -> {
                for (int c = 0; c < 3; c++) {
                    error[to + 3 + c] += secondError[k] * Math.abs(axis[a + c]);
                }
            }
        }
    }

    /**
     * How far a curve's first and second derivatives may change over the box. With D the way of (s1, s2) from the
     * centre: the second derivative is eta/rho t t^T, eta = g + g'', so a first derivative changes by at most D
     * eta/rho, and the second by at most D/rho^2 (|eta'| + 4 eta): eta' + 2 eta for moving along the tangent (which
     * turns t), eta along the radius, and one eta to spare.
     */
    private void curveErrors(int k) {
        int t = firstTerm[k];
        double along = product(t);
        double above = product(t + 1);
        double chord = Math.hypot(along, above);
        double way = Math.hypot(productShift(t), productShift(t + 1));
        double least = chord - way;
        // asin(x) <= pi/2 x
        double alpha = Math.abs(Math.atan2(above, along)) + 0.5 * Math.PI * way / chord;
        if (!(least > 0) || !(alpha < LARGEST_BEND)) {
            curveWeightError = Double.POSITIVE_INFINITY;
            curveBendError = Double.POSITIVE_INFINITY;
            curveBend = Double.POSITIVE_INFINITY;
            return;
        }
        // All of these grow with the angle.
        double eta = Curve.g(alpha) + Curve.g2(alpha);
        double etaRate = Curve.g1(alpha) + Curve.g3(alpha);
        curveBend = eta / least;
        curveWeightError = way * curveBend;
        curveBendError = way * (etaRate + 4 * eta) / (least * least);
    }

    private double productShift(int t) {
        int a = 3 * termA[t];
        int b = 3 * termB[t];
        double sum = 0;
        for (int c = 0; c < 3; c++) {
            sum += vectorShift[a + c] * (Math.abs(vector[b + c]) + vectorShift[b + c])
                    + Math.abs(vector[a + c]) * vectorShift[b + c];
        }
        return sum;
    }

    /** Writes the componentwise bound of (error) x (vector). */
    private static void crossBound(double[] error, int w, double[] of, int at, double[] into, int to) {
        double x = Math.abs(of[at]);
        double y = Math.abs(of[at + 1]);
        double z = Math.abs(of[at + 2]);
        into[to] = error[w + 1] * z + error[w + 2] * y;
        into[to + 1] = error[w + 2] * x + error[w] * z;
        into[to + 2] = error[w] * y + error[w + 1] * x;
    }

    private static void addErrorCross(double[] error, int w, double[] of, int at, double[] into) {
        double x = Math.abs(of[at]);
        double y = Math.abs(of[at + 1]);
        double z = Math.abs(of[at + 2]);
        into[0] += error[w + 1] * z + error[w + 2] * y;
        into[1] += error[w + 2] * x + error[w] * z;
        into[2] += error[w] * y + error[w + 1] * x;
    }

    /** Adds the componentwise bound of (|centre| + error) x (shift). */
    private static void addCrossBound(
            double[] centre, double[] error, int w, double[] shift, int at, double[] into, int to) {
        double wx = Math.abs(centre[w]) + error[w];
        double wy = Math.abs(centre[w + 1]) + error[w + 1];
        double wz = Math.abs(centre[w + 2]) + error[w + 2];
        into[to] += wy * shift[at + 2] + wz * shift[at + 1];
        into[to + 1] += wz * shift[at] + wx * shift[at + 2];
        into[to + 2] += wx * shift[at + 1] + wy * shift[at];
    }
}
