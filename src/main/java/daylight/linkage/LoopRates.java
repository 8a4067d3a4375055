package daylight.linkage;

/**
 * How the bodies of a {@link Loop} move along each driver at the solved position, and how those movements change along
 * each driver: first and second derivatives, exact.
 *
 * <p>{@link #velocities} and {@link #seconds} give what the bodies do, as fast as they can: arms and aimed bodies in
 * closed form. {@link #whole} solves the same equations as everything else for them too and leaves behind the
 * derivatives of every vector, on which {@link LoopBounds} builds; the two agree (tested on all layouts).
 */
final class LoopRates {
    private final Loop loop;
    private final BodyState state;
    private final int n;
    private final int drivers;
    private final int[] body;
    private final int[] kind;
    private final int[] offset;
    private final double[] radius;
    private final double[] axis;
    private final double[] foot;
    private final int[] active;
    private final int[] endBody;
    private final int[] endSlot;
    private final double[] arm;
    private final int[] movingEnds;
    private final int[] movingVectors;
    private final boolean[] moving;
    private final int[] plus;
    private final int[] minus;
    private final boolean[] isDirection;
    private final double[] vector;
    private final int equations;
    private final int[] firstTerm;
    private final int[] termA;
    private final int[] termB;
    private final double[] weight;

    /** drivers x n. */
    private final double[] rate;
    /** drivers x drivers x n. */
    final double[] rateOfRate;
    /** (endpoint, driver) x 3: velocity of the arm, omega x arm. */
    final double[] endRate;
    /** (vector, driver) x 3. */
    final double[] vectorRate;
    /** (vector, driver, driver) x 3, without the share of the unknowns' own second derivatives. */
    final double[] vectorSecond;
    /** (slot, driver, driver) x 6: second derivatives of bodies without the unknowns' share. */
    final double[] carried;

    private final double[] endSecond;
    private final double[] known = new double[3];
    /** Of arms and aimed bodies: drivers x 3, velocity of the vector that they follow. */
    private final double[] way;
    /** Of arms the turn, of aimed bodies the twist about the line of aim; one per driver. */
    private final double[] turn;
    /** Of aimed bodies: drivers x 3, the turn across the line of aim. */
    private final double[] across;

    LoopRates(Loop loop) {
        this.loop = loop;
        state = loop.state;
        n = loop.n;
        drivers = loop.drivers;
        body = loop.body;
        kind = loop.kind;
        offset = loop.offset;
        radius = loop.radius;
        axis = loop.axis;
        foot = loop.foot;
        active = loop.active;
        endBody = loop.endBody;
        endSlot = loop.endSlot;
        arm = loop.arm;
        movingEnds = loop.movingEnds;
        movingVectors = loop.movingVectors;
        plus = loop.plus;
        minus = loop.minus;
        isDirection = loop.isDirection;
        vector = loop.vector;
        equations = loop.equations;
        firstTerm = loop.firstTerm;
        termA = loop.termA;
        termB = loop.termB;
        weight = loop.weight;
        moving = new boolean[loop.vectors];
        for (int v : movingVectors) {
            moving[v] = true;
        }
        rate = new double[drivers * n];
        rateOfRate = new double[drivers * drivers * n];
        endRate = new double[3 * loop.endpoints * drivers];
        endSecond = new double[3 * loop.endpoints];
        vectorRate = new double[3 * loop.vectors * drivers];
        vectorSecond = new double[3 * loop.vectors * drivers * drivers];
        carried = new double[6 * body.length * drivers * drivers];
        way = new double[3 * drivers];
        turn = new double[drivers];
        across = new double[3 * drivers];
        if (loop.how == Loop.BY_DRIVER) {
            rate[loop.driver * n] = kind[0] == Loop.HINGED ? radius[0] : 1;
        }
    }

    /**
     * Finds the velocities of the loop's bodies along each driver at the solved position, from those of the bodies
     * before it.
     *
     * @return false when the Jacobian is near-singular here
     */
    boolean velocities(double[] q) {
        return switch (loop.how) {
            case Loop.BY_ARM -> armVelocities();
            case Loop.BY_AIM -> aimVelocities();
            default -> solveVelocities(q);
        };
    }

    /**
     * Finds the second derivatives of the loop's bodies; needs {@link #velocities} at this position first.
     *
     * <p>Half of the pairs follow from the others: spots have symmetric second derivatives, and turns differ by omega_j
     * x omega_i, since turns about two axes do not commute.
     */
    void seconds() {
        switch (loop.how) {
            case Loop.BY_ARM -> armSeconds();
            case Loop.BY_AIM -> aimSeconds();
            default -> solveSeconds();
        }
    }

    /**
     * Finds velocities and second derivatives of bodies and of every vector by the equations of the loop.
     *
     * @return false when the Jacobian is near-singular here
     */
    boolean whole(double[] q) {
        if (!solveVelocities(q)) {
            return false;
        }
        solveSeconds();
        return true;
    }

    // ---------------------------------------------------------------- by the equations

    private boolean solveVelocities(double[] q) {
        boolean byDriver = loop.how == Loop.BY_DRIVER;
        if (!byDriver && !loop.factorHere()) {
            return false;
        }
        for (int i : active) {
            if (!byDriver) {
                int at = i * n;
                for (int k = 0; k < equations; k++) {
                    double sum = 0;
                    if (loop.equationDriver[k] == i) {
                        sum = loop.rodLength[k] > 0 ? 1 + q[i] / loop.rodLength[k] : 1;
                    }
                    if (loop.touchesKnown[k]) {
                        for (int t = firstTerm[k]; t < firstTerm[k + 1]; t++) {
                            sum -= weight[t] * (knownRate(termA[t], termB[t], i) + knownRate(termB[t], termA[t], i));
                        }
                    }
                    rate[at + k] = sum;
                }
                Lu.solve(loop.factors, n, loop.rowExchanges, rate, at);
            }
            for (int s = 0; s < body.length; s++) {
                spreadRate(s, i);
            }
        }
        return true;
    }

    /** The part of d(moved)/dq . held that does not come from this loop's unknowns. */
    private double knownRate(int moved, int held, int i) {
        if (!moving[moved]) {
            return 0;
        }
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
        } else if (kind[s] == Loop.PINNED && !direction) {
            addKnownRate(loop.carrier[s], i, false, sign);
        }
    }

    /** Writes the twist of an unknown body from the rates of its unknowns. */
    private void spreadRate(int s, int i) {
        int b = body[s];
        int to = state.twistAt(b, i);
        int k = i * n + offset[s];
        double[] twist = state.twist;
        int a = 3 * s;
        double perRadius = 1 / radius[s];
        switch (kind[s]) {
            case Loop.FREE -> {
                twist[to] = rate[k] * perRadius;
                twist[to + 1] = rate[k + 1] * perRadius;
                twist[to + 2] = rate[k + 2] * perRadius;
                twist[to + 3] = rate[k + 3];
                twist[to + 4] = rate[k + 4];
                twist[to + 5] = rate[k + 5];
            }
            case Loop.PINNED -> {
                known[0] = 0;
                known[1] = 0;
                known[2] = 0;
                addKnownRate(loop.carrier[s], i, false, 1);
                for (int c = 0; c < 3; c++) {
                    twist[to + c] = rate[k + c] * perRadius;
                    twist[to + 3 + c] = known[c];
                }
            }
            case Loop.HINGED -> turnAboutFoot(s, twist, to, rate[k] * perRadius);
            default -> {
                for (int c = 0; c < 3; c++) {
                    twist[to + c] = 0;
                    twist[to + 3 + c] = rate[k] * axis[a + c];
                }
            }
        }
    }

    /** Writes the turn of a hinged body and what it gives its reference spot. */
    private void turnAboutFoot(int s, double[] into, int to, double by) {
        int a = 3 * s;
        int b = 3 * body[s];
        double wx = by * axis[a];
        double wy = by * axis[a + 1];
        double wz = by * axis[a + 2];
        double x = state.position[b] - foot[a];
        double y = state.position[b + 1] - foot[a + 1];
        double z = state.position[b + 2] - foot[a + 2];
        into[to] = wx;
        into[to + 1] = wy;
        into[to + 2] = wz;
        into[to + 3] = wy * z - wz * y;
        into[to + 4] = wz * x - wx * z;
        into[to + 5] = wx * y - wy * x;
    }

    private void vectorRates() {
        double[] twist = state.twist;
        for (int e : movingEnds) {
            int w = state.twistAt(endBody[e], 0);
            int to = 3 * e * drivers;
            double x = arm[3 * e];
            double y = arm[3 * e + 1];
            double z = arm[3 * e + 2];
            for (int i : active) {
                int wi = w + 6 * i;
                int k = to + 3 * i;
                endRate[k] = twist[wi + 1] * z - twist[wi + 2] * y;
                endRate[k + 1] = twist[wi + 2] * x - twist[wi] * z;
                endRate[k + 2] = twist[wi] * y - twist[wi + 1] * x;
            }
        }
        for (int v : movingVectors) {
            int to = 3 * v * drivers;
            int p = 3 * plus[v] * drivers;
            if (isDirection[v]) {
                for (int i : active) {
                    vectorRate[to + 3 * i] = endRate[p + 3 * i];
                    vectorRate[to + 3 * i + 1] = endRate[p + 3 * i + 1];
                    vectorRate[to + 3 * i + 2] = endRate[p + 3 * i + 2];
                }
            } else {
                int m = 3 * minus[v] * drivers;
                int vp = state.twistAt(endBody[plus[v]], 0) + 3;
                int vm = state.twistAt(endBody[minus[v]], 0) + 3;
                for (int i : active) {
                    int d = 3 * i;
                    int w = 6 * i;
                    vectorRate[to + d] = twist[vp + w] - twist[vm + w] + (endRate[p + d] - endRate[m + d]);
                    vectorRate[to + d + 1] =
                            twist[vp + w + 1] - twist[vm + w + 1] + (endRate[p + d + 1] - endRate[m + d + 1]);
                    vectorRate[to + d + 2] =
                            twist[vp + w + 2] - twist[vm + w + 2] + (endRate[p + d + 2] - endRate[m + d + 2]);
                }
            }
        }
    }

    private void solveSeconds() {
        boolean byDriver = loop.how == Loop.BY_DRIVER;
        if (!byDriver) {
            vectorRates();
        }
        for (int a = 0; a < active.length; a++) {
            for (int b = a; b < active.length; b++) {
                int i = active[a];
                int j = active[b];
                int at = (i * drivers + j) * n;
                for (int s = 0; s < body.length; s++) {
                    carry(s, i, j);
                }
                if (!byDriver) {
                    vectorSeconds(i, j);
                    for (int k = 0; k < equations; k++) {
                        rateOfRate[at + k] = -quadratic(k, i, j);
                    }
                    Lu.solve(loop.factors, n, loop.rowExchanges, rateOfRate, at);
                }
                for (int s = 0; s < body.length; s++) {
                    spreadSecond(s, i, j);
                    if (i != j) {
                        exchange(s, i, j);
                    }
                }
            }
        }
    }

    int secondOfVectorAt(int v, int i, int j) {
        return 3 * ((v * drivers + i) * drivers + j);
    }

    private void vectorSeconds(int i, int j) {
        for (int e : movingEnds) {
            endSecond(e, i, j, endSecond, 3 * e);
        }
        for (int v : movingVectors) {
            int to = secondOfVectorAt(v, i, j);
            int p = 3 * plus[v];
            if (isDirection[v]) {
                vectorSecond[to] = endSecond[p];
                vectorSecond[to + 1] = endSecond[p + 1];
                vectorSecond[to + 2] = endSecond[p + 2];
            } else {
                int m = 3 * minus[v];
                vectorSecond[to] = endSecond[p] - endSecond[m];
                vectorSecond[to + 1] = endSecond[p + 1] - endSecond[m + 1];
                vectorSecond[to + 2] = endSecond[p + 2] - endSecond[m + 2];
            }
        }
    }

    /** Writes the second derivative of an endpoint of a moving body, without the share of this loop's unknowns. */
    private void endSecond(int e, int i, int j, double[] into, int to) {
        int b = endBody[e];
        int s = endSlot[e];
        int w = state.twistAt(b, i);
        int r = 3 * (e * drivers + j);
        double[] twist = state.twist;
        double wx = twist[w];
        double wy = twist[w + 1];
        double wz = twist[w + 2];
        double x = wy * endRate[r + 2] - wz * endRate[r + 1];
        double y = wz * endRate[r] - wx * endRate[r + 2];
        double z = wx * endRate[r + 1] - wy * endRate[r];
        if (s < 0 || kind[s] != Loop.FREE) {
            double[] from = s < 0 ? state.second : carried;
            int at = s < 0 ? state.secondAt(b, i, j) : 6 * ((s * drivers + i) * drivers + j);
            int k = 3 * e;
            x += from[at + 1] * arm[k + 2] - from[at + 2] * arm[k + 1];
            y += from[at + 2] * arm[k] - from[at] * arm[k + 2];
            z += from[at] * arm[k + 1] - from[at + 1] * arm[k];
            if (!loop.endIsDirection[e]) {
                x += from[at + 3];
                y += from[at + 4];
                z += from[at + 5];
            }
        }
        into[to] = x;
        into[to + 1] = y;
        into[to + 2] = z;
    }

    /** Writes the second derivatives of a body along j and i from those along i and j. */
    private void exchange(int s, int i, int j) {
        exchangeOfBody(s, i, j);
        int own = (i * drivers + j) * n + offset[s];
        int other = (j * drivers + i) * n + offset[s];
        if (kind[s] == Loop.FREE || kind[s] == Loop.PINNED) {
            for (int c = 0; c < 3; c++) {
                rateOfRate[other + c] = rateOfRate[own + c] + known[c] * radius[s];
                if (kind[s] == Loop.FREE) {
                    rateOfRate[other + 3 + c] = rateOfRate[own + 3 + c];
                }
            }
        } else {
            rateOfRate[other] = rateOfRate[own];
        }
    }

    private void exchangeOfBody(int s, int i, int j) {
        int from = state.secondAt(body[s], i, j);
        int to = state.secondAt(body[s], j, i);
        double[] second = state.second;
        // omega_ji = omega_ij + omega_i x omega_j
        Loop.cross(state.twist, state.twistAt(body[s], i), state.twist, state.twistAt(body[s], j), known, 0);
        second[to] = second[from] + known[0];
        second[to + 1] = second[from + 1] + known[1];
        second[to + 2] = second[from + 2] + known[2];
        second[to + 3] = second[from + 3];
        second[to + 4] = second[from + 4];
        second[to + 5] = second[from + 5];
    }

    /** The second derivative of an equation along i and j without the share of the unknowns' own. */
    private double quadratic(int k, int i, int j) {
        double sum = 0;
        if (loop.equationDriver[k] == i && i == j && loop.rodLength[k] > 0) {
            sum -= 1 / loop.rodLength[k];
        }
        for (int t = firstTerm[k]; t < firstTerm[k + 1]; t++) {
            sum += weight[t] * productSecond(t, i, j);
        }
        if (loop.curved[k]) {
            int t = firstTerm[k];
            double along = loop.product(t);
            double above = loop.product(t + 1);
            double chord = Math.sqrt(along * along + above * above);
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

    double productRate(int t, int i) {
        return Loop.dot(vectorRate, 3 * (termA[t] * drivers + i), vector, 3 * termB[t])
                + Loop.dot(vector, 3 * termA[t], vectorRate, 3 * (termB[t] * drivers + i));
    }

    /** The second derivative of a product along i and j without the share of the unknowns' own. */
    double productSecond(int t, int i, int j) {
        int a = termA[t];
        int b = termB[t];
        if (a == b) {
            return 2
                    * (Loop.dot(vectorSecond, secondOfVectorAt(a, i, j), vector, 3 * a)
                            + Loop.dot(vectorRate, 3 * (a * drivers + i), vectorRate, 3 * (a * drivers + j)));
        }
        if (!moving[a]) {
            return Loop.dot(vectorSecond, secondOfVectorAt(b, i, j), vector, 3 * a);
        }
        if (!moving[b]) {
            return Loop.dot(vectorSecond, secondOfVectorAt(a, i, j), vector, 3 * b);
        }
        return Loop.dot(vectorSecond, secondOfVectorAt(a, i, j), vector, 3 * b)
                + Loop.dot(vectorSecond, secondOfVectorAt(b, i, j), vector, 3 * a)
                + Loop.dot(vectorRate, 3 * (a * drivers + i), vectorRate, 3 * (b * drivers + j))
                + Loop.dot(vectorRate, 3 * (a * drivers + j), vectorRate, 3 * (b * drivers + i));
    }

    /** The second derivative of an unknown body without the share of its unknowns' own; a free body has none. */
    private void carry(int s, int i, int j) {
        int to = 6 * ((s * drivers + i) * drivers + j);
        if (kind[s] == Loop.PINNED) {
            if (endBody[loop.carrier[s]] != 0) {
                endSecond(loop.carrier[s], i, j, carried, to + 3);
            }
        } else if (kind[s] == Loop.HINGED) {
            int b = body[s];
            // omega_i x v_j, v_j the velocity of the reference spot
            Loop.cross(state.twist, state.twistAt(b, i), state.twist, state.twistAt(b, j) + 3, carried, to + 3);
        }
    }

    private void spreadSecond(int s, int i, int j) {
        int to = state.secondAt(body[s], i, j);
        int from = 6 * ((s * drivers + i) * drivers + j);
        int k = (i * drivers + j) * n + offset[s];
        double[] second = state.second;
        double perRadius = 1 / radius[s];
        switch (kind[s]) {
            case Loop.FREE -> {
                second[to] = rateOfRate[k] * perRadius;
                second[to + 1] = rateOfRate[k + 1] * perRadius;
                second[to + 2] = rateOfRate[k + 2] * perRadius;
                second[to + 3] = rateOfRate[k + 3];
                second[to + 4] = rateOfRate[k + 4];
                second[to + 5] = rateOfRate[k + 5];
            }
            case Loop.PINNED -> {
                for (int c = 0; c < 3; c++) {
                    second[to + c] = rateOfRate[k + c] * perRadius;
                    second[to + 3 + c] = carried[from + 3 + c];
                }
            }
            case Loop.HINGED -> {
                turnAboutFoot(s, second, to, rateOfRate[k] * perRadius);
                second[to + 3] += carried[from + 3];
                second[to + 4] += carried[from + 4];
                second[to + 5] += carried[from + 5];
            }
            default -> {
                for (int c = 0; c < 3; c++) {
                    second[to + c] = 0;
                    second[to + 3 + c] = rateOfRate[k] * axis[3 * s + c];
                }
            }
        }
    }

    // ---------------------------------------------------------------- in closed form

    /** Writes the velocity of a spot of a body placed before. */
    private void speed(int e, int i, double[] into, int to) {
        int b = endBody[e];
        if (b == 0) {
            into[to] = 0;
            into[to + 1] = 0;
            into[to + 2] = 0;
            return;
        }
        double[] twist = state.twist;
        int w = state.twistAt(b, i);
        int k = 3 * e;
        into[to] = twist[w + 3] + (twist[w + 1] * arm[k + 2] - twist[w + 2] * arm[k + 1]);
        into[to + 1] = twist[w + 4] + (twist[w + 2] * arm[k] - twist[w] * arm[k + 2]);
        into[to + 2] = twist[w + 5] + (twist[w] * arm[k + 1] - twist[w + 1] * arm[k]);
    }

    /** Writes the second derivative of a spot of a body placed before. */
    private void bend(int e, int i, int j, double[] into, int to) {
        int b = endBody[e];
        if (b == 0) {
            into[to] = 0;
            into[to + 1] = 0;
            into[to + 2] = 0;
            return;
        }
        double[] twist = state.twist;
        double[] second = state.second;
        int w = state.twistAt(b, i);
        int u = state.twistAt(b, j);
        int at = state.secondAt(b, i, j);
        int k = 3 * e;
        double x = arm[k];
        double y = arm[k + 1];
        double z = arm[k + 2];
        double rx = twist[u + 1] * z - twist[u + 2] * y;
        double ry = twist[u + 2] * x - twist[u] * z;
        double rz = twist[u] * y - twist[u + 1] * x;
        into[to] = second[at + 3] + (second[at + 1] * z - second[at + 2] * y) + (twist[w + 1] * rz - twist[w + 2] * ry);
        into[to + 1] = second[at + 4] + (second[at + 2] * x - second[at] * z) + (twist[w + 2] * rx - twist[w] * rz);
        into[to + 2] = second[at + 5] + (second[at] * y - second[at + 1] * x) + (twist[w] * ry - twist[w + 1] * rx);
    }

    /**
     * Arm: its tangent t stays square to the way d from the hinge's foot to the ball joint, t . d = 0. With s = axis x t
     * the tangent changes by turn times s, so turn = -(t . d')/(s . d).
     */
    private boolean armVelocities() {
        loop.evaluateVectors();
        int t = 3 * termA[0];
        double along = squareToTangent(t, vector, 3 * termB[0]);
        if (!(Math.abs(along) > Loop.LEAST_PIVOT * radius[0])) {
            return false;
        }
        for (int i : active) {
            speed(plus[termB[0]], i, way, 3 * i);
            turn[i] = -Loop.dot(vector, t, way, 3 * i) / along;
            turnAboutFoot(0, state.twist, state.twistAt(body[0], i), turn[i]);
        }
        return true;
    }

    /** (axis x t) . d. */
    private double squareToTangent(int t, double[] of, int d) {
        return (axis[1] * vector[t + 2] - axis[2] * vector[t + 1]) * of[d]
                + (axis[2] * vector[t] - axis[0] * vector[t + 2]) * of[d + 1]
                + (axis[0] * vector[t + 1] - axis[1] * vector[t]) * of[d + 2];
    }

    private void armSeconds() {
        int t = 3 * termA[0];
        int d = 3 * termB[0];
        double along = squareToTangent(t, vector, d);
        double across = Loop.dot(vector, t, vector, d);
        double[] second = state.second;
        for (int a = 0; a < active.length; a++) {
            for (int b = a; b < active.length; b++) {
                int i = active[a];
                int j = active[b];
                bend(plus[termB[0]], i, j, known, 0);
                double sum = Loop.dot(vector, t, known, 0)
                        + turn[i] * squareToTangent(t, way, 3 * j)
                        + turn[j] * squareToTangent(t, way, 3 * i)
                        - turn[i] * turn[j] * across;
                int to = state.secondAt(body[0], i, j);
                turnAboutFoot(0, second, to, -sum / along);
                Loop.cross(
                        state.twist, state.twistAt(body[0], i), state.twist, state.twistAt(body[0], j) + 3, known, 0);
                second[to + 3] += known[0];
                second[to + 4] += known[1];
                second[to + 5] += known[2];
                if (i != j) {
                    System.arraycopy(second, to, second, state.secondAt(body[0], j, i), 6);
                }
            }
        }
    }

    /**
     * Body aimed along d, u = d/|d|, by the least turn from u0: omega = h + k u with h = d x d'/|d|², and k such that
     * the quaternion's axis stays square to u0, which is omega . (u0 + u) = 0, so k = -h . u0/(1 + u0 . u).
     */
    private boolean aimVelocities() {
        int from = loop.carrier[0];
        int to = plus[termB[0]];
        loop.evaluateArm(from);
        loop.evaluateArm(to);
        loop.evaluateVector(termB[0]);
        int d = 3 * termB[0];
        double perSquare = 1 / Loop.dot(vector, d, vector, d);
        double perLength = Math.sqrt(perSquare);
        double lean = 1 + perLength * Loop.dot(axis, 0, vector, d);
        double[] twist = state.twist;
        for (int i : active) {
            int w = 3 * i;
            int at = state.twistAt(body[0], i);
            speed(from, i, twist, at + 3);
            speed(to, i, way, w);
            way[w] -= twist[at + 3];
            way[w + 1] -= twist[at + 4];
            way[w + 2] -= twist[at + 5];
            Loop.cross(vector, d, way, w, across, w);
            across[w] *= perSquare;
            across[w + 1] *= perSquare;
            across[w + 2] *= perSquare;
            turn[i] = -Loop.dot(across, w, axis, 0) / lean;
            double k = turn[i] * perLength;
            twist[at] = across[w] + k * vector[d];
            twist[at + 1] = across[w + 1] + k * vector[d + 1];
            twist[at + 2] = across[w + 2] + k * vector[d + 2];
        }
        return true;
    }

    private void aimSeconds() {
        int from = loop.carrier[0];
        int end = plus[termB[0]];
        int d = 3 * termB[0];
        double perSquare = 1 / Loop.dot(vector, d, vector, d);
        double perLength = Math.sqrt(perSquare);
        double ux = perLength * vector[d];
        double uy = perLength * vector[d + 1];
        double uz = perLength * vector[d + 2];
        double perLean = 1 / (1 + axis[0] * ux + axis[1] * uy + axis[2] * uz);
        double[] second = state.second;
        for (int a = 0; a < active.length; a++) {
            for (int b = a; b < active.length; b++) {
                int i = active[a];
                int j = active[b];
                int wi = 3 * i;
                int wj = 3 * j;
                int to = state.secondAt(body[0], i, j);
                bend(from, i, j, second, to + 3);
                bend(end, i, j, known, 0);
                double x = known[0] - second[to + 3];
                double y = known[1] - second[to + 4];
                double z = known[2] - second[to + 5];
                // h_ij = (d_j x d_i + d x d_ij)/|d|² - 2 (d . d_j)/|d|² h_i
                double stretch = 2 * Loop.dot(vector, d, way, wj) * perSquare;
                double hx =
                        (way[wj + 1] * way[wi + 2] - way[wj + 2] * way[wi + 1] + vector[d + 1] * z - vector[d + 2] * y)
                                        * perSquare
                                - stretch * across[wi];
                double hy =
                        (way[wj + 2] * way[wi] - way[wj] * way[wi + 2] + vector[d + 2] * x - vector[d] * z) * perSquare
                                - stretch * across[wi + 1];
                double hz =
                        (way[wj] * way[wi + 1] - way[wj + 1] * way[wi] + vector[d] * y - vector[d + 1] * x) * perSquare
                                - stretch * across[wi + 2];
                double away = ux * way[wj] + uy * way[wj + 1] + uz * way[wj + 2];
                double vx = (way[wj] - away * ux) * perLength;
                double vy = (way[wj + 1] - away * uy) * perLength;
                double vz = (way[wj + 2] - away * uz) * perLength;
                double k = -perLean
                        * (hx * axis[0]
                                + hy * axis[1]
                                + hz * axis[2]
                                + turn[i] * (axis[0] * vx + axis[1] * vy + axis[2] * vz));
                second[to] = hx + k * ux + turn[i] * vx;
                second[to + 1] = hy + k * uy + turn[i] * vy;
                second[to + 2] = hz + k * uz + turn[i] * vz;
                if (i != j) {
                    exchangeOfBody(0, i, j);
                }
            }
        }
    }
}
