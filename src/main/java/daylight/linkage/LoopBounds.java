package daylight.linkage;

/**
 * Bounds of a loop's rates and second derivatives over a box of driver values; the argument is written at {@link
 * Linkage#enclose}. Shares the arrays of its {@link Loop}, which hold the centre.
 */
final class LoopBounds {
    /** Documented inflation for floating point: every proved bound is enlarged by this factor ... */
    private static final double ROUNDING = 1 + 1e-9;
    /** ... and by this much (times the row sums of the inverse Jacobian), which also covers a centre that is solved
     * to {@link Loop#CLOSED_MM} instead of exactly. Double arithmetic on these sums errs by about 1e-13. */
    private static final double ROUNDING_FLOOR = 1e-9;

    private static final double FIRST_GUESS = 1.25;
    private static final double NEXT_GUESS = 1.2;
    private static final int MOST_GUESSES = 8;
    private static final int MOST_ROUNDS = 60;
    private static final double CLIMB = 1.02;
    private static final double HOPELESS = 1e4;
    /** The derivatives of a leaf's curve grow without bound towards half a turn. */
    private static final double LARGEST_BEND = 2;

    private final Loop loop;
    private final LoopRates rates;
    private final BodyState state;
    private final int n;
    private final int drivers;
    private final int[] body;
    private final int[] kind;
    private final int[] offset;
    private final double[] radius;
    private final double[] axis;
    private final double[] foot;
    private final int[] carrier;
    private final int[] active;
    private final int endpoints;
    private final int[] endBody;
    private final int[] endSlot;
    private final double[] arm;
    private final int vectors;
    private final int[] plus;
    private final int[] minus;
    private final boolean[] isDirection;
    private final double[] vector;
    private final int equations;
    private final int[] firstTerm;
    private final int[] termA;
    private final int[] termB;
    private final double[] weight;
    private final boolean[] curved;
    private final double[] jacobian;
    private final double[] factors;
    private final int[] rowExchanges;
    private final double[] rateOfRate;
    private final double[] endRate;
    private final double[] vectorRate;
    private final double[] carried;
    private final double[] known = new double[3];
    private final double[] vectorSecondError;

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

    LoopBounds(Loop loop, LoopRates rates) {
        this.loop = loop;
        this.rates = rates;
        state = loop.state;
        n = loop.n;
        drivers = loop.drivers;
        body = loop.body;
        kind = loop.kind;
        offset = loop.offset;
        radius = loop.radius;
        axis = loop.axis;
        foot = loop.foot;
        carrier = loop.carrier;
        active = loop.active;
        endpoints = loop.endpoints;
        endBody = loop.endBody;
        endSlot = loop.endSlot;
        arm = loop.arm;
        vectors = loop.vectors;
        plus = loop.plus;
        minus = loop.minus;
        isDirection = loop.isDirection;
        vector = loop.vector;
        equations = loop.equations;
        firstTerm = loop.firstTerm;
        termA = loop.termA;
        termB = loop.termB;
        weight = loop.weight;
        curved = loop.curved;
        jacobian = loop.jacobian;
        factors = loop.factors;
        rowExchanges = loop.rowExchanges;
        rateOfRate = rates.rateOfRate;
        endRate = rates.endRate;
        vectorRate = rates.vectorRate;
        carried = rates.carried;
        int unknownBodies = body.length;
        vectorSecondError = new double[3 * vectors];
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
    }

    /**
     * Bounds the velocities and second derivatives of the loop's bodies over a box of drivers about the solved
     * position, from the bounds of the bodies before it. See {@link Linkage#enclose} for the argument. Needs the loop's
     * velocities and second derivatives at the centre first.
     *
     * @param half half width of the box per driver
     * @return whether the bounds are proved
     */
    boolean enclose(double[] half) {
        java.util.Arrays.fill(guess, 0);
        java.util.Arrays.fill(secondError, 0);
        if (loop.how == Loop.BY_DRIVER) {
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
                    error[to + c] = kind[s] == Loop.SLIDING
                            ? 0
                            : kind[s] == Loop.HINGED
                                    ? Math.abs(axis[a + c]) * of[k] / radius[s]
                                    : of[k + c] / radius[s];
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
            if (kind[s] == Loop.HINGED) {
                for (int c = 0; c < 3; c++) {
                    known[c] = state.position[3 * b + c] - foot[a + c];
                }
                shiftOfArm(b, known, 0, half, hingeArmShift, a);
                Loop.cross(axis, a, known, 0, known, 0);
            }
            for (int i : active) {
                int to = state.twistAt(b, i);
                int k = i * n + offset[s];
                switch (kind[s]) {
                    case Loop.FREE -> {
                        for (int c = 0; c < 3; c++) {
                            error[to + 3 + c] = of[k + 3 + c];
                        }
                    }
                    case Loop.PINNED -> {
                        int from = state.twistAt(endBody[carrier[s]], i) + 3;
                        int arms = 3 * (carrier[s] * drivers + i);
                        for (int c = 0; c < 3; c++) {
                            error[to + 3 + c] = error[from + c] + endRateError[arms + c];
                        }
                    }
                    case Loop.HINGED -> {
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
        double far = turn * Math.sqrt(Loop.dot(of, at, of, at));
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
            if (kind[s] == Loop.HINGED && !isDirection[moved]) {
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
                case Loop.FREE -> {
                    jacobianError[j] += mx / radius[s];
                    jacobianError[j + 1] += my / radius[s];
                    jacobianError[j + 2] += mz / radius[s];
                    if (!isDirection[moved]) {
                        jacobianError[j + 3] += ex;
                        jacobianError[j + 4] += ey;
                        jacobianError[j + 5] += ez;
                    }
                }
                case Loop.PINNED -> {
                    jacobianError[j] += mx / radius[s];
                    jacobianError[j + 1] += my / radius[s];
                    jacobianError[j + 2] += mz / radius[s];
                }
                case Loop.HINGED -> {
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
        for (int first = 0; first < active.length; first++) {
            for (int next = first; next < active.length; next++) {
                int i = active[first];
                int j = active[next];
                int at = (i * drivers + j) * n;
                for (int s = 0; s < body.length; s++) {
                    carryError(s, i, j);
                }
                for (int v : loop.movingVectors) {
                    knownError[0] = 0;
                    knownError[1] = 0;
                    knownError[2] = 0;
                    addKnownSecondError(plus[v], i, j, isDirection[v]);
                    if (minus[v] >= 0) {
                        addKnownSecondError(minus[v], i, j, false);
                    }
                    vectorSecondError[3 * v] = knownError[0];
                    vectorSecondError[3 * v + 1] = knownError[1];
                    vectorSecondError[3 * v + 2] = knownError[2];
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
                if (i != j) {
                    exchangeError(i, j);
                }
            }
        }
        return true;
    }

    /** Bounds of the unknowns' second derivatives along j and i from those along i and j; see {@link LoopRates#seconds}. */
    private void exchangeError(int i, int j) {
        for (int s = 0; s < body.length; s++) {
            int own = (i * drivers + j) * n + offset[s];
            int other = (j * drivers + i) * n + offset[s];
            if (kind[s] == Loop.FREE || kind[s] == Loop.PINNED) {
                int wi = state.twistAt(body[s], i);
                int wj = state.twistAt(body[s], j);
                // Change of omega_i x omega_j.
                crossBound(state.twistError, wi, state.twist, wj, knownError, 0);
                addCrossBound(state.twist, state.twistError, wi, state.twistError, wj, knownError, 0);
                for (int c = 0; c < 3; c++) {
                    secondError[other + c] = secondError[own + c] + knownError[c] * radius[s];
                    if (kind[s] == Loop.FREE) {
                        secondError[other + 3 + c] = secondError[own + 3 + c];
                    }
                }
            } else {
                secondError[other] = secondError[own];
            }
        }
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
            double part = a == b
                    ? 2 * (secondTimesVectorError(a, b, i, j) + productError(a, i, b, j))
                    : secondTimesVectorError(a, b, i, j)
                            + secondTimesVectorError(b, a, i, j)
                            + productError(a, i, b, j)
                            + productError(a, j, b, i);
            sum += Math.abs(weight[t]) * part;
            if (curved[k]) {
                double centre = rates.productSecond(t, i, j);
                sum += curveWeightError * (Math.abs(centre) + part);
            }
        }
        if (curved[k]) {
            int t = firstTerm[k];
            double first = Math.abs(rates.productRate(t, i)) + Math.abs(rates.productRate(t + 1, i));
            double second = Math.abs(rates.productRate(t, j)) + Math.abs(rates.productRate(t + 1, j));
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

    /** Bound of the change of (second derivative of a vector) . (other vector). */
    private double secondTimesVectorError(int moved, int held, int i, int j) {
        int at = rates.secondOfVectorAt(moved, i, j);
        double[] second = rates.vectorSecond;
        double sum = 0;
        for (int c = 0; c < 3; c++) {
            double shift = vectorShift[3 * held + c];
            sum += vectorSecondError[3 * moved + c] * (Math.abs(vector[3 * held + c]) + shift)
                    + Math.abs(second[at + c]) * shift;
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
        for (int c = 0; c < 6; c++) {
            carriedError[to + c] = 0;
        }
        if (kind[s] == Loop.PINNED) {
            knownError[0] = 0;
            knownError[1] = 0;
            knownError[2] = 0;
            addKnownSecondError(carrier[s], i, j, false);
            for (int c = 0; c < 3; c++) {
                carriedError[to + 3 + c] = knownError[c];
            }
        } else if (kind[s] == Loop.HINGED) {
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
            case Loop.FREE -> {
                for (int c = 0; c < 3; c++) {
                    error[to + c] += secondError[k + c] / radius[s];
                    error[to + 3 + c] += secondError[k + 3 + c];
                }
            }
            case Loop.PINNED -> {
                for (int c = 0; c < 3; c++) {
                    error[to + c] += secondError[k + c] / radius[s];
                }
            }
            case Loop.HINGED -> {
                double e = secondError[k] / radius[s];
                double turn = Math.abs(rateOfRate[k]) / radius[s] + e;
                for (int c = 0; c < 3; c++) {
                    known[c] = state.position[3 * b + c] - foot[a + c];
                }
                Loop.cross(axis, a, known, 0, known, 0);
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
        double along = loop.product(t);
        double above = loop.product(t + 1);
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
