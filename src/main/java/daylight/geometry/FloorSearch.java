package daylight.geometry;

import java.util.Arrays;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * A number that the signed distance of two wandering solids never falls below, proved to second order: a walk through
 * the pairs of pieces, each held by a direction of its own in whichever {@link View} shows it best.
 *
 * <p>Why several views: a direction kept in the car frame loses as much as the far end of a flat face moves when the
 * face turns; kept in the frame of a body it loses nothing. Why long pieces are cut: a tube that turns about its own
 * end dips away from a direction at its far end, though the near end has not moved; halves have directions of their
 * own.
 */
final class FloorSearch {
    private static final int VIEWS = 3;
    /** How often a long piece is halved, at most, on the way to a floor. */
    private static final int MOST_CUTS = 6;

    private final PairGap pair;
    private Solid p;
    private Solid q;
    private final Wander still = new Wander();
    private final Wander relativeP = new Wander();
    private final Wander relativeQ = new Wander();
    private Wander wanderP = still;
    private Wander wanderQ = still;
    private @Nullable Spot shared;
    private @Nullable Direction line;

    private final View[] views = new View[VIEWS];
    private final boolean[] made = new boolean[VIEWS];
    private final boolean[] usable = new boolean[VIEWS];
    /** Numbers of the views, the one that held the last pair of pieces first. */
    private final int[] order = {0, 1, 2};

    private double nx;
    private double ny;
    private double nz;
    private double lx;
    private double ly;
    private double lz;
    /** Directions so far; a view's tilt remembers for which it was worked out. */
    private long directions;

    private long firstDirection;
    private long latestDirection;

    private int[] stackI = new int[256];
    private int[] stackJ = new int[256];
    private double[] stackBound = new double[256];
    private double[] stackClamp = new double[256];
    private int height;

    private double best;
    private double least;
    private boolean bestKnown;
    private double enough;

    /** What each parameter took at the pair of pieces that set the floor, and which end of it was least. */
    double[] spread = new double[4];

    int[] towards = new int[4];
    /** The straight-line part alone of the floor that was set, mm. */
    double guess;

    // Parts cut from long pieces, rewritten for each cut.
    private final Solid[] rodsP = new Solid[MOST_CUTS];
    private final Solid[] rodsQ = new Solid[MOST_CUTS];
    private final Solid[] bricksP = new Solid[MOST_CUTS];
    private final Solid[] bricksQ = new Solid[MOST_CUTS];

    FloorSearch(PairGap pair) {
        this.pair = pair;
        this.p = pair.a;
        this.q = pair.b;
        for (int v = 0; v < VIEWS; v++) {
            views[v] = new View(p);
        }
        Shape rod = new Shape.Tube(List.of(Spot.ORIGIN, new Spot(1, 0, 0)), 1, 0);
        Shape brick = new Shape.Box(Spot.ORIGIN, Direction.FORWARD, Direction.LEFT, 1, 1, 1);
        for (int c = 0; c < MOST_CUTS; c++) {
            rodsP[c] = Solid.of(rod);
            rodsQ[c] = Solid.of(rod);
            bricksP[c] = Solid.of(brick);
            bricksQ[c] = Solid.of(brick);
        }
    }

    /**
     * Takes over the two solids and their motions; the pair is already placed at the centre poses.
     *
     * @param spot a spot that both bodies hold on to, if there is one
     * @param along the line through it about which they turn, if it is a hinge
     */
    void begin(
            Solid solidP,
            Wander motionP,
            Solid solidQ,
            Wander motionQ,
            @Nullable Spot spot,
            @Nullable Direction along) {
        if (p != solidP || q != solidQ) {
            // The same pair in the same order of questions gives the same floors, whatever was asked before.
            for (int v = 0; v < VIEWS; v++) {
                order[v] = v;
            }
        }
        p = solidP;
        q = solidQ;
        wanderP = motionP;
        wanderQ = motionQ;
        shared = spot;
        line = along;
        Arrays.fill(made, false);
        int parameters = Math.max(motionP.count, motionQ.count);
        if (spread.length < parameters) {
            spread = new double[parameters];
            towards = new int[parameters];
        }
        for (int i = 0; i < parameters; i++) {
            spread[i] = 0;
            towards[i] = 1;
        }
        guess = Double.NEGATIVE_INFINITY;
        look(0);
    }

    /** Makes a view ready; returns whether it can be used. */
    private boolean look(int v) {
        if (!made[v]) {
            made[v] = true;
            double apart = Math.abs(pair.tx) + Math.abs(pair.ty) + Math.abs(pair.tz);
            if (v == 0) {
                views[0].begin(p, wanderP, q, wanderQ, apart);
                usable[0] = true;
            } else if (v == 1) {
                usable[1] = seen(relativeP, wanderP, wanderQ);
                if (usable[1]) {
                    views[1].begin(p, relativeP, q, still, apart);
                }
            } else {
                usable[2] = seen(relativeQ, wanderQ, wanderP);
                if (usable[2]) {
                    views[2].begin(p, still, q, relativeQ, apart);
                }
            }
        }
        return usable[v];
    }

    private boolean seen(Wander relative, Wander body, Wander other) {
        Spot spot = shared;
        Direction along = line;
        if (spot != null
                && (along == null
                        ? relative.seenFromAbout(body, other, spot.x(), spot.y(), spot.z())
                        : relative.seenFromAbout(body, other, spot.x(), spot.y(), spot.z(), along))) {
            return true;
        }
        return other.turns() && relative.seenFrom(body, other);
    }

    /**
     * A length, mm, by which the two solids approach one another at most, anywhere in the box, to first order.
     *
     * @param enoughMm a length that is small enough: any that is not above it may come back
     */
    double approach(double enoughMm) {
        double least = views[0].approach();
        for (int v = 1; v < VIEWS && least > enoughMm; v++) {
            if (look(v)) {
                least = Math.min(least, views[v].approach());
            }
        }
        return least;
    }

    /**
     * Returns the floor, or any proved bound that is at least {@code enough}; or, when {@code enough} is finite and
     * some pair of pieces cannot be held there, negative infinity.
     *
     * @param x direction to begin with, P's frame, unit; y and z likewise
     * @param startI the pieces that are closest at the centre, where known; else -1
     */
    double floor(double x, double y, double z, int startI, int startJ, double wanted) {
        enough = wanted;
        best = Double.POSITIVE_INFINITY;
        least = Double.POSITIVE_INFINITY;
        bestKnown = false;
        nx = x;
        ny = y;
        nz = z;
        firstDirection = ++directions;
        latestDirection = 0;
        boolean quick = enough < Double.POSITIVE_INFINITY;
        boolean start = quick && startI >= 0 && !p.guards(startI) && !q.guards(startJ);
        if (start && !holds(p, startI, q, startJ, enough, 0, 0, true)) {
            return Double.NEGATIVE_INFINITY;
        }
        height = 0;
        push(p.root, q.root, pair.boxes(p, p.root, q, q.root), Double.NEGATIVE_INFINITY);
        boolean kept = walk(start ? startI : -1, startJ);
        if (kept && Math.min(best, least) <= 0) {
            // What lies inside other pieces matters only where those are touched.
            pushDeep(p.deepRoot, q.root);
            pushDeep(p.root, q.deepRoot);
            pushDeep(p.deepRoot, q.deepRoot);
            kept = walk(-1, -1);
        }
        return kept ? Math.min(best, least) : Double.NEGATIVE_INFINITY;
    }

    private void pushDeep(int i, int j) {
        if (i >= 0 && j >= 0) {
            push(i, j, pair.boxes(p, i, q, j), Double.NEGATIVE_INFINITY);
        }
    }

    /**
     * Goes through what is on the stack.
     *
     * @param doneI a pair of pieces that holds already, or -1
     * @return false as soon as a pair of pieces cannot be held at a finite {@link #enough}
     */
    private boolean walk(int doneI, int doneJ) {
        while (height > 0) {
            height--;
            int i = stackI[height];
            int j = stackJ[height];
            double clamp = stackClamp[height];
            double limit = Math.min(best, enough);
            if (clamp >= limit) {
                least = Math.min(least, clamp);
                continue;
            }
            int pieceI = p.child[i] < 0 ? ~p.child[i] : p.guard[i];
            int pieceJ = q.child[j] < 0 ? ~q.child[j] : q.guard[j];
            boolean terminal = pieceI >= 0 && pieceJ >= 0;
            if (!terminal || p.child[i] >= 0 || q.child[j] >= 0 || p.pieces() * q.pieces() > 1) {
                double bound = Math.max(clamp, nodes(i, j, stackBound[height], limit));
                if (bound >= limit) {
                    least = Math.min(least, bound);
                    continue;
                }
            }
            if (!terminal) {
                boolean splitP = pieceI < 0 && (pieceJ >= 0 || p.size(i) >= q.size(j));
                split(i, j, splitP, clamp);
                continue;
            }
            boolean guardI = p.child[i] >= 0;
            boolean guardJ = q.child[j] >= 0;
            if (guardI || guardJ) {
                holds(p, pieceI, q, pieceJ, limit, 0, 0, false);
                double tighter = held > 0 ? Math.max(clamp, held) : clamp;
                if (tighter >= limit) {
                    least = Math.min(least, tighter);
                } else {
                    split(i, j, guardI, tighter);
                }
                continue;
            }
            if (pieceI == doneI && pieceJ == doneJ) {
                continue;
            }
            if (!holds(p, pieceI, q, pieceJ, limit, 0, 0, true)) {
                if (enough < Double.POSITIVE_INFINITY) {
                    return false;
                }
                best = Math.min(best, Math.max(clamp, held));
            }
        }
        return true;
    }

    private double held;

    /**
     * Whether a direction in some view holds two pieces at a limit; {@link #held} is then a floor for them, or else
     * the best there was. A floor of parts of pieces is only one of the pieces where it is above zero: overlapping
     * parts need not go as far to come apart as the pieces do.
     *
     * @param real whether both are pieces themselves, not guards that stand for what is inside them
     */
    private boolean holds(Solid ofP, int i, Solid ofQ, int j, double limit, int cutsP, int cutsQ, boolean real) {
        double value = Double.NEGATIVE_INFINITY;
        for (int o = 0; o < VIEWS && value < limit; o++) {
            int v = order[o];
            if (look(v)) {
                value = Math.max(value, along(v, true, ofP, i, ofQ, j));
                if (value < limit && latestDirection != 0) {
                    value = Math.max(value, along(v, false, ofP, i, ofQ, j));
                }
                if (value >= limit) {
                    toFront(o);
                }
            }
        }
        if (value >= limit) {
            least = Math.min(least, value);
            held = value;
            return true;
        }
        pair.choose(ofP, i, ofQ, j);
        pair.measure(nx, ny, nz, Double.POSITIVE_INFINITY);
        double centre = pair.distance;
        lx = pair.nx;
        ly = pair.ny;
        lz = pair.nz;
        latestDirection = ++directions;
        int shown = 0;
        int lowest = 0;
        double own = Double.NEGATIVE_INFINITY;
        for (int o = 0; o < VIEWS && own < limit; o++) {
            int v = order[o];
            if (look(v)) {
                double there = along(v, false, ofP, i, ofQ, j);
                if (there > own) {
                    own = there;
                    shown = v;
                    lowest = views[v].corner;
                }
                if (own >= limit) {
                    toFront(o);
                }
            }
        }
        value = Math.max(value, own);
        if (value >= limit) {
            least = Math.min(least, value);
            held = value;
            return true;
        }
        if (centre > limit && limit > 0 && spotsHold(ofP, i, ofQ, j, limit)) {
            boolean canP = cutsP < MOST_CUTS && isLong(ofP, i);
            boolean canQ = cutsQ < MOST_CUTS && isLong(ofQ, j);
            if (canP || canQ) {
                boolean cutP = canP && (!canQ || ofP.ball[4 * i + 3] >= ofQ.ball[4 * j + 3]);
                boolean all = cutP
                        ? cutPHolds(ofP, i, ofQ, j, limit, cutsP, cutsQ, real)
                        : cutQHolds(ofP, i, ofQ, j, limit, cutsP, cutsQ, real);
                if (!all) {
                    // The parts not looked at may be lower than the one that failed.
                    held = value;
                }
                return all;
            }
        }
        if (real && (!bestKnown || value < best)) {
            bestKnown = true;
            explain(shown, ofP, i, ofQ, j, lowest);
        }
        held = value;
        return false;
    }

    private boolean cutPHolds(Solid ofP, int i, Solid ofQ, int j, double limit, int cutsP, int cutsQ, boolean real) {
        Solid part = ofP.kind[i] == Solid.SEGMENT ? rodsP[cutsP] : bricksP[cutsP];
        double lowest = Double.POSITIVE_INFINITY;
        for (int side = 0; side < 2; side++) {
            cut(ofP, i, side, part);
            if (!holds(part, 0, ofQ, j, limit, cutsP + 1, cutsQ, real)) {
                return false;
            }
            lowest = Math.min(lowest, held);
        }
        held = lowest;
        return true;
    }

    private boolean cutQHolds(Solid ofP, int i, Solid ofQ, int j, double limit, int cutsP, int cutsQ, boolean real) {
        Solid part = ofQ.kind[j] == Solid.SEGMENT ? rodsQ[cutsQ] : bricksQ[cutsQ];
        double lowest = Double.POSITIVE_INFINITY;
        for (int side = 0; side < 2; side++) {
            cut(ofQ, j, side, part);
            if (!holds(ofP, i, part, 0, limit, cutsP, cutsQ + 1, real)) {
                return false;
            }
            lowest = Math.min(lowest, held);
        }
        held = lowest;
        return true;
    }

    private static boolean isLong(Solid solid, int piece) {
        return solid.kind[piece] == Solid.SEGMENT || solid.kind[piece] == Solid.BOX;
    }

    /** Writes one half of a segment, or of a box along its longest edge, into a solid of one such piece. */
    private static void cut(Solid from, int piece, int side, Solid into) {
        double[] n = from.numbers;
        int at = from.first[piece];
        double[] to = into.numbers;
        double sign = side == 0 ? -1 : 1;
        double radius;
        if (from.kind[piece] == Solid.SEGMENT) {
            int kept = side == 0 ? at : at + 3;
            double length = 0;
            for (int c = 0; c < 3; c++) {
                double middle = 0.5 * (n[at + c] + n[at + 3 + c]);
                double end = n[kept + c];
                to[side == 0 ? c : 3 + c] = end;
                to[side == 0 ? 3 + c : c] = middle;
                into.ball[c] = 0.5 * (middle + end);
                length += (end - middle) * (end - middle);
            }
            radius = 0.5 * Math.sqrt(length);
        } else {
            int longest = at + 3;
            double most = -1;
            double squares = 0;
            for (int e = at + 3; e < at + 12; e += 3) {
                double square = n[e] * n[e] + n[e + 1] * n[e + 1] + n[e + 2] * n[e + 2];
                squares += square;
                if (square > most) {
                    most = square;
                    longest = e;
                }
            }
            System.arraycopy(n, at, to, 0, 12);
            for (int c = 0; c < 3; c++) {
                to[longest - at + c] *= 0.5;
                to[c] += sign * to[longest - at + c];
                into.ball[c] = to[c];
            }
            radius = Math.sqrt(squares - 0.75 * most);
        }
        // The halves are rounded: a ball a little larger holds them.
        into.ball[3] = radius * (1 + 1e-12);
        into.rounding[0] = from.rounding[piece];
    }

    /** Whether the two spots at which the pair last measured is closest could be held at a limit in any view. */
    private boolean spotsHold(Solid ofP, int i, Solid ofQ, int j, double limit) {
        double dx = pair.coreBx - pair.tx;
        double dy = pair.coreBy - pair.ty;
        double dz = pair.coreBz - pair.tz;
        double bx = pair.rxx * dx + pair.ryx * dy + pair.rzx * dz;
        double by = pair.rxy * dx + pair.ryy * dy + pair.rzy * dz;
        double bz = pair.rxz * dx + pair.ryz * dy + pair.rzz * dz;
        double radii = ofP.rounding[i] + ofQ.rounding[j];
        for (int o = 0; o < VIEWS; o++) {
            int v = order[o];
            if (look(v)) {
                View view = views[v];
                if (view.spots(view.latest, pair.coreAx, pair.coreAy, pair.coreAz, bx, by, bz, radii) >= limit) {
                    return true;
                }
            }
        }
        return false;
    }

    private double along(int v, boolean centre, Solid ofP, int i, Solid ofQ, int j) {
        View view = views[v];
        View.Tilt tilt = aimed(view, centre);
        return view.pieces(tilt, ofP, i, ofQ, j);
    }

    private View.Tilt aimed(View view, boolean centre) {
        if (centre) {
            view.aim(view.first, nx, ny, nz, firstDirection);
            return view.first;
        }
        view.aim(view.latest, lx, ly, lz, latestDirection);
        return view.latest;
    }

    private void toFront(int o) {
        int v = order[o];
        System.arraycopy(order, 0, order, 1, o);
        order[0] = v;
    }

    private void explain(int v, Solid ofP, int i, Solid ofQ, int j, int lowest) {
        View view = views[v];
        view.explain(ofP, i, ofQ, j, lowest);
        int parameters = Math.max(wanderP.count, wanderQ.count);
        System.arraycopy(view.spread, 0, spread, 0, parameters);
        System.arraycopy(view.towards, 0, towards, 0, parameters);
        guess = view.guess;
    }

    private void split(int i, int j, boolean splitP, double clamp) {
        int i1 = splitP ? p.child[i] : i;
        int j1 = splitP ? j : q.child[j];
        int i2 = splitP ? p.second[i] : i;
        int j2 = splitP ? j : q.second[j];
        double b1 = pair.boxes(p, i1, q, j1);
        double b2 = pair.boxes(p, i2, q, j2);
        if (b1 <= b2) {
            push(i2, j2, b2, clamp);
            push(i1, j1, b1, clamp);
        } else {
            push(i1, j1, b1, clamp);
            push(i2, j2, b2, clamp);
        }
    }

    private void push(int i, int j, double bound, double clamp) {
        if (height == stackI.length) {
            stackI = Arrays.copyOf(stackI, 2 * height);
            stackJ = Arrays.copyOf(stackJ, 2 * height);
            stackBound = Arrays.copyOf(stackBound, 2 * height);
            stackClamp = Arrays.copyOf(stackClamp, 2 * height);
        }
        stackI[height] = i;
        stackJ[height] = j;
        stackBound[height] = bound;
        stackClamp[height] = clamp;
        height++;
    }

    /** A floor for everything under two nodes: the best of the directions at hand and the first-order one. */
    private double nodes(int i, int j, double centreBound, double limit) {
        double bound = Double.NEGATIVE_INFINITY;
        for (int o = 0; o < VIEWS && bound < limit; o++) {
            int v = order[o];
            if (!look(v)) {
                continue;
            }
            View view = views[v];
            if (centreBound >= limit) {
                bound = Math.max(bound, view.nodesApproach(i, j, centreBound));
            }
            if (bound < limit) {
                bound = Math.max(bound, view.nodes(aimed(view, true), i, j));
            }
            if (bound < limit && latestDirection != 0) {
                bound = Math.max(bound, view.nodes(aimed(view, false), i, j));
            }
        }
        return bound;
    }
}
