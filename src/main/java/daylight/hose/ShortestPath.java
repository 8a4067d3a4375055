package daylight.hose;

/**
 * The length of the shortest path between two ends in space that nowhere bends tighter than a radius, held between
 * two figures: a path that can be laid (never shorter than the shortest), and a length below which none can be.
 *
 * <p>Slack computed with the first is never overstated.
 *
 * <p>The path laid is an arc, a straight and an arc (the two arcs in planes of their own), or where the ends are so
 * near or so turned away that there is none of that kind: one more arc at either end before it, the best of a search.
 * By Sussmann's theorem the shortest path in space is of the kinds arc-straight-arc, three arcs, or a helicoidal arc;
 * at ends more than four radii apart it is arc-straight-arc, and the solution found is then a shortest of its kind.
 *
 * <p>The lower figure: along the chord a path cannot do better than turn towards it at the greatest curvature from
 * either end.
 *
 * <p>Engine: not thread-safe; no allocation. Cost: some 10 fixed-point rounds in the usual case, some thousand where
 * the search is needed.
 *
 * @see "Sussmann, Shortest 3-dimensional paths with a prescribed curvature bound, Proc. 34th IEEE Conf. on Decision
 *     and Control (1995) 3306"
 */
public final class ShortestPath {
    /** Fixed-point rounds; the usual case contracts by a factor of 3 or more in each. */
    private static final int ROUNDS = 200;
    /** The straight's direction is settled when it moves less than this, rad. */
    private static final double SETTLED = 1e-13;
    /** A path this near to the lower figure cannot be bettered enough to matter. */
    private static final double CLOSE_ENOUGH = 1.02;
    /** Ends this many radii apart need no path of another kind (Sussmann). */
    private static final double FAR = 4;
    /** Sides and angles of the extra arc in the search. */
    private static final int SIDES = 12;

    private static final int ANGLES = 12;

    private final double[] w = new double[3];
    private final double[] v = new double[3];
    private final double[] near = new double[6];
    private final double[] far = new double[6];
    private final double[] e = new double[3];
    private final double[] f = new double[3];

    private double laid;
    private double floor;
    private double beginTurn;
    private double endTurn;
    private double straight;
    private boolean plain;

    /**
     * Computes both figures; read them with {@link #laidMm()} and {@link #floorMm()}.
     *
     * @param ends 18 numbers as for {@link Rod}; the across directions are not used
     * @param radiusMm least radius of the centre line, mm; more than zero
     */
    void between(double[] ends, double radiusMm) {
        System.arraycopy(ends, 0, near, 0, 6);
        System.arraycopy(ends, 9, far, 0, 6);
        floor = floor(near, far, radiusMm);
        laid = arcStraightArc(near, far, radiusMm);
        plain = laid < Double.POSITIVE_INFINITY;
        if (plain) {
            beginTurn = Math.acos(clamp(dot(w, 0, near, 3)));
            endTurn = Math.acos(clamp(dot(w, 0, far, 3)));
        }
        double apart = Math.sqrt(square(ends[9] - ends[0]) + square(ends[10] - ends[1]) + square(ends[11] - ends[2]));
        boolean far = plain && apart > FAR * radiusMm;
        if (!far && laid > CLOSE_ENOUGH * floor) {
            double keepBegin = beginTurn;
            double keepEnd = endTurn;
            double keepStraight = straight;
            double direct = laid;
            double x = w[0];
            double y = w[1];
            double z = w[2];
            search(ends, radiusMm);
            if (laid >= direct) {
                beginTurn = keepBegin;
                endTurn = keepEnd;
                straight = keepStraight;
                w[0] = x;
                w[1] = y;
                w[2] = z;
            } else {
                plain = false;
            }
        }
    }

    /** Computes both figures for ends given as values. */
    public void between(Ends ends, double radiusMm) {
        if (!(radiusMm > 0) || !Double.isFinite(radiusMm)) {
            throw new IllegalArgumentException("a bend radius is more than zero: " + radiusMm);
        }
        double[] flat = new double[18];
        ends.into(flat);
        between(flat, radiusMm);
    }

    /** Returns the length of a path that can be laid, mm; at least the shortest. */
    public double laidMm() {
        return laid;
    }

    /** Returns a length below which no path can be laid, mm. */
    public double floorMm() {
        return floor;
    }

    /** Whether the path laid is arc, straight, arc with both arcs below half a turn. */
    boolean plain() {
        return plain;
    }

    /** Angle of the arc at the begin, rad; meaningful when {@link #plain()}. */
    double beginTurn() {
        return beginTurn;
    }

    /** Angle of the arc at the end, rad; meaningful when {@link #plain()}. */
    double endTurn() {
        return endTurn;
    }

    /** Returns the straight's direction, a copy; meaningful when {@link #plain()}. */
    double[] straightDirection() {
        return w.clone();
    }

    /** Length of the straight between the arcs, mm; meaningful when {@link #plain()}. */
    double straightMm() {
        return straight;
    }

    /**
     * Angles of a path's tangent to the chord fall from either end at most at the greatest curvature, so the advance
     * along the chord over a length S is at most the integral of cos(max(0, a - s / B, b - (S - s) / B)).
     */
    private static double floor(double[] near, double[] far, double radius) {
        double x = far[0] - near[0];
        double y = far[1] - near[1];
        double z = far[2] - near[2];
        double chord = Math.sqrt(x * x + y * y + z * z);
        double turn = Math.acos(clamp(dot(near, 3, far, 3)));
        double least = radius * turn;
        if (chord == 0) {
            // Back to where it began: such a path turns by more than half a circle on the way out and home.
            return Math.max(least, radius * Math.max(0, 2 * Math.PI - turn));
        }
        double a = Math.acos(clamp((near[3] * x + near[4] * y + near[5] * z) / chord));
        double b = Math.acos(clamp((far[3] * x + far[4] * y + far[5] * z) / chord));
        double separate = chord + radius * (a - Math.sin(a) + b - Math.sin(b));
        if (separate >= radius * (a + b)) {
            return Math.max(least, separate);
        }
        double low = Math.max(chord, radius * Math.abs(a - b));
        double high = radius * (a + b);
        for (int halving = 0; halving < 60; halving++) {
            double s = (low + high) / 2;
            // The two straight-line falls of the angle cross at angle m.
            double m = (a + b - s / radius) / 2;
            double advance = radius * (Math.sin(a) + Math.sin(b) - 2 * Math.sin(m));
            if (advance >= chord) {
                high = s;
            } else {
                low = s;
            }
        }
        return Math.max(least, low);
    }

    private static double square(double x) {
        return x * x;
    }

    private static double clamp(double cos) {
        return Math.max(-1, Math.min(1, cos));
    }

    private static double dot(double[] a, int o, double[] b, int p) {
        return a[o] * b[p] + a[o + 1] * b[p + 1] + a[o + 2] * b[p + 2];
    }

    /**
     * Arc, straight, arc with both arcs below half a turn: with w the straight's direction and the tangent lengths
     * p = B tan(angle / 2), the chord is p d0 + (p + l + q) w + q d1, so w is a fixed point of the direction of
     * chord - p d0 - q d1. Returns the length, or infinity when the rounds lead to none.
     */
    private double arcStraightArc(double[] from, double[] to, double radius) {
        double cx = to[0] - from[0];
        double cy = to[1] - from[1];
        double cz = to[2] - from[2];
        double chord = Math.sqrt(cx * cx + cy * cy + cz * cz);
        if (chord == 0) {
            return Double.POSITIVE_INFINITY;
        }
        w[0] = cx / chord;
        w[1] = cy / chord;
        w[2] = cz / chord;
        double size = chord;
        double p = 0;
        double q = 0;
        double a = 0;
        double b = 0;
        double damp = 1;
        double before = Double.POSITIVE_INFINITY;
        boolean settled = false;
        for (int round = 0; round < ROUNDS; round++) {
            a = angle(w, from);
            b = angle(w, to);
            if (a > Math.PI - 1e-6 || b > Math.PI - 1e-6) {
                return Double.POSITIVE_INFINITY;
            }
            p = radius * Math.tan(a / 2);
            q = radius * Math.tan(b / 2);
            v[0] = cx - p * from[3] - q * to[3];
            v[1] = cy - p * from[4] - q * to[4];
            v[2] = cz - p * from[5] - q * to[5];
            size = Math.sqrt(dot(v, 0, v, 0));
            if (size == 0) {
                return Double.POSITIVE_INFINITY;
            }
            double dx = v[0] / size - w[0];
            double dy = v[1] / size - w[1];
            double dz = v[2] / size - w[2];
            double move = Math.sqrt(dx * dx + dy * dy + dz * dz);
            if (move < SETTLED) {
                settled = true;
                break;
            }
            if (move > 0.7 * before) {
                damp = Math.max(0.1, damp / 2);
            }
            before = move;
            w[0] += damp * dx;
            w[1] += damp * dy;
            w[2] += damp * dz;
            double unit = Math.sqrt(dot(w, 0, w, 0));
            w[0] /= unit;
            w[1] /= unit;
            w[2] /= unit;
        }
        straight = size - p - q;
        // Not quite settled is as good, if what is missing is paid for: the length is then that of a nearby path.
        if (!settled || straight < -1e-12 * chord) {
            return Double.POSITIVE_INFINITY;
        }
        straight = Math.max(0, straight);
        return radius * (a + b) + straight;
    }

    /** The angle between the straight and an end's direction, exact for small angles too. */
    private static double angle(double[] w, double[] end) {
        double x = w[1] * end[5] - w[2] * end[4];
        double y = w[2] * end[3] - w[0] * end[5];
        double z = w[0] * end[4] - w[1] * end[3];
        return Math.atan2(Math.sqrt(x * x + y * y + z * z), dot(w, 0, end, 3));
    }

    /** Tries one more arc at the begin, at the end, and at both, all round; keeps the shortest in {@link #laid}. */
    private void search(double[] ends, double radius) {
        double bestBegin = 0;
        double bestBeginSide = 0;
        double bestEnd = 0;
        double bestEndSide = 0;
        for (int side = 0; side < SIDES; side++) {
            for (int step = 1; step <= ANGLES; step++) {
                double angle = 2 * Math.PI * step / (ANGLES + 1);
                double phi = 2 * Math.PI * side / SIDES;
                if (attempt(ends, radius, angle, phi, 0, 0)) {
                    bestBegin = angle;
                    bestBeginSide = phi;
                    bestEnd = 0;
                }
                if (attempt(ends, radius, 0, 0, angle, phi)) {
                    bestBegin = 0;
                    bestEnd = angle;
                    bestEndSide = phi;
                }
            }
        }
        if (laid == Double.POSITIVE_INFINITY) {
            for (int side = 0; side < SIDES * SIDES; side++) {
                for (int step = 0; step < ANGLES * ANGLES; step++) {
                    int atBegin = step / ANGLES;
                    int sideAtBegin = side / SIDES;
                    double first = 2 * Math.PI * (1 + atBegin) / (ANGLES + 1);
                    double second = 2 * Math.PI * (1 + step % ANGLES) / (ANGLES + 1);
                    double phi = 2 * Math.PI * sideAtBegin / SIDES;
                    double psi = 2 * Math.PI * (side % SIDES) / SIDES;
                    if (attempt(ends, radius, first, phi, second, psi)) {
                        bestBegin = first;
                        bestBeginSide = phi;
                        bestEnd = second;
                        bestEndSide = psi;
                    }
                }
            }
        }
        // Compass search from the best of the grid.
        double reach = Math.PI / ANGLES;
        while (reach > 1e-7) {
            boolean better = false;
            for (int k = 0; k < 8; k++) {
                double sign = k % 2 == 0 ? reach : -reach;
                double first = bestBegin + (k / 2 == 0 ? sign : 0);
                double phi = bestBeginSide + (k / 2 == 1 ? sign : 0);
                double second = bestEnd + (k / 2 == 2 ? sign : 0);
                double psi = bestEndSide + (k / 2 == 3 ? sign : 0);
                if (first >= 0 && second >= 0 && attempt(ends, radius, first, phi, second, psi)) {
                    bestBegin = first;
                    bestBeginSide = phi;
                    bestEnd = second;
                    bestEndSide = psi;
                    better = true;
                }
            }
            if (!better) {
                reach /= 2;
            }
        }
    }

    private boolean attempt(double[] ends, double radius, double first, double phi, double second, double psi) {
        System.arraycopy(ends, 0, near, 0, 6);
        System.arraycopy(ends, 9, far, 0, 6);
        arc(near, radius, first, phi, 1);
        arc(far, radius, second, psi, -1);
        double rest = arcStraightArc(near, far, radius);
        double total = rest + radius * (first + second);
        if (total < laid - 1e-12 * radius) {
            laid = total;
            return true;
        }
        return false;
    }

    /** Runs an end along an arc of a given angle to a given side; at the far end (sign -1) backwards. */
    private void arc(double[] end, double radius, double angle, double phi, int sign) {
        if (angle == 0) {
            return;
        }
        double x = end[3];
        double y = end[4];
        double z = end[5];
        double s = Math.copySign(1.0, z);
        double a = -1 / (s + z);
        double b = x * y * a;
        e[0] = 1 + s * x * x * a;
        e[1] = s * b;
        e[2] = -s * x;
        f[0] = b;
        f[1] = s + y * y * a;
        f[2] = -y;
        double cp = Math.cos(phi);
        double sp = Math.sin(phi);
        double sin = Math.sin(angle);
        double cos = Math.cos(angle);
        for (int k = 0; k < 3; k++) {
            double n = cp * e[k] + sp * f[k];
            double d = end[3 + k];
            end[k] += sign * radius * sin * d + radius * (1 - cos) * n;
            end[3 + k] = cos * d + sign * sin * n;
        }
    }
}
