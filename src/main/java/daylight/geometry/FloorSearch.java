package daylight.geometry;

import java.util.Arrays;
import org.joml.Matrix4x3dc;

/**
 * A number that the signed distance of two wandering solids never falls below, proved to second order.
 *
 * <p>For convex pieces and any unit direction n, the signed distance is at least the least n.b over B less the
 * greatest n.a over A. With n kept for the whole box, a material spot is where the centre's twists take it, plus a
 * remainder that {@link Wander} bounds; the straight-line part of n.x is linear in the spot and in the parameters,
 * so over a core it is a support value in a direction tilted by {@code n x w}, and as the least of functions linear
 * in the parameters it is least at a corner of the box. Radii of rounding do not depend on how a body turns.
 *
 * <p>Node boxes of the trees are bounded in the same way, and also by their distance at the centre less the
 * straight-line speed of one against the other.
 */
final class FloorSearch {
    /** Parameters whose corners are tried one by one; the others' effects are added up by their sizes. */
    private static final int BY_CORNERS = 4;

    private static final int MOST_CORNERS = 1 << BY_CORNERS;
    /** The answer is lowered by this share of all lengths that went into it: thousands of times the rounding. */
    private static final double ROUNDING_SHARE = 1e-12;

    private final PairGap pair;
    private final Support support = new Support();

    private Solid p;
    private Solid q;
    private Wander wanderP = new Wander();
    private Wander wanderQ = new Wander();
    private int parameters;
    private int tried;
    private int cornerCount;
    private double[] half = new double[BY_CORNERS];

    /** A direction with everything that depends on it alone. */
    private static final class Tilt {
        double nx;
        double ny;
        double nz;
        /** Body-frame support directions and constants per corner: x, y, z, constant. */
        final double[] ofP = new double[4 * MOST_CORNERS];

        final double[] ofQ = new double[4 * MOST_CORNERS];
        double shifts;
        boolean set;
    }

    private final Tilt first = new Tilt();
    private final Tilt latest = new Tilt();

    private int[] stackI = new int[256];
    private int[] stackJ = new int[256];
    private double[] stackBound = new double[256];
    private double[] stackClamp = new double[256];
    private int height;

    private double margin;
    private double best;
    private double least;
    private int bestI;
    private int bestJ;
    private int bestCorner;
    private final double[] bestN = new double[3];
    private int lastCorner;

    double[] spread = new double[BY_CORNERS];
    int[] towards = new int[BY_CORNERS];
    long leaves;
    long nodes;

    FloorSearch(PairGap pair) {
        this.pair = pair;
        this.p = pair.a;
        this.q = pair.b;
    }

    /** Takes over the two solids and their motions; the pair is already placed at the centre poses. */
    void begin(Solid solidP, Wander motionP, Solid solidQ, Wander motionQ) {
        p = solidP;
        q = solidQ;
        wanderP = motionP;
        wanderQ = motionQ;
        parameters = Math.max(motionP.count, motionQ.count);
        if (half.length < parameters) {
            half = new double[parameters];
            spread = new double[parameters];
            towards = new int[parameters];
        }
        for (int i = 0; i < parameters; i++) {
            boolean inP = i < motionP.count;
            boolean inQ = i < motionQ.count;
            if (inP && inQ && motionP.half[i] != motionQ.half[i]) {
                throw new IllegalArgumentException("both bodies share their parameters: parameter " + i
                        + " has half width " + motionP.half[i] + " for one and " + motionQ.half[i] + " for the other");
            }
            half[i] = inP ? motionP.half[i] : motionQ.half[i];
            spread[i] = 0;
            towards[i] = 1;
        }
        tried = Math.min(parameters, BY_CORNERS);
        cornerCount = 1 << tried;
        double lengths = p.radius
                + q.radius
                + Math.abs(pair.tx)
                + Math.abs(pair.ty)
                + Math.abs(pair.tz)
                + distanceFrom(wanderP, p.centreX, p.centreY, p.centreZ)
                + distanceFrom(wanderQ, q.centreX, q.centreY, q.centreZ);
        margin = ROUNDING_SHARE * lengths;
        first.set = false;
        latest.set = false;
        straysP.piece = -1;
        straysQ.piece = -1;
    }

    private static double distanceFrom(Wander w, double x, double y, double z) {
        double dx = x - w.referenceX;
        double dy = y - w.referenceY;
        double dz = z - w.referenceZ;
        return Math.sqrt(dx * dx + dy * dy + dz * dz);
    }

    /** A length, mm, by which the two solids approach one another at most, anywhere in the box, to first order. */
    double approach() {
        return approach(p.centreX, p.centreY, p.centreZ, p.radius, q.centreX, q.centreY, q.centreZ, q.radius);
    }

    private double approach(double ax, double ay, double az, double ar, double bx, double by, double bz, double br) {
        double sum = wanderP.remainder(distanceFrom(wanderP, ax, ay, az) + ar)
                + wanderQ.remainder(distanceFrom(wanderQ, bx, by, bz) + br)
                + wanderP.shiftReach()
                + wanderQ.shiftReach();
        for (int i = 0; i < parameters; i++) {
            double vx = 0;
            double vy = 0;
            double vz = 0;
            double turn = 0;
            if (i < wanderP.count) {
                velocity(wanderP, i, ax, ay, az);
                vx -= speedX;
                vy -= speedY;
                vz -= speedZ;
                turn += ar * speedTurn;
            }
            if (i < wanderQ.count) {
                velocity(wanderQ, i, bx, by, bz);
                vx += speedX;
                vy += speedY;
                vz += speedZ;
                turn += br * speedTurn;
            }
            sum += half[i] * (Math.sqrt(vx * vx + vy * vy + vz * vz) + turn);
        }
        return sum + margin;
    }

    private double speedX;
    private double speedY;
    private double speedZ;
    private double speedTurn;

    /** Velocity by parameter i of the body's spot x, y, z (body frame), world frame. */
    private void velocity(Wander w, int i, double x, double y, double z) {
        Matrix4x3dc m = w.centre;
        double dx = x - w.referenceX;
        double dy = y - w.referenceY;
        double dz = z - w.referenceZ;
        double sx = m.m00() * dx + m.m10() * dy + m.m20() * dz;
        double sy = m.m01() * dx + m.m11() * dy + m.m21() * dz;
        double sz = m.m02() * dx + m.m12() * dy + m.m22() * dz;
        double[] t = w.twist;
        int at = 6 * i;
        double wx = t[at];
        double wy = t[at + 1];
        double wz = t[at + 2];
        speedX = t[at + 3] + wy * sz - wz * sy;
        speedY = t[at + 4] + wz * sx - wx * sz;
        speedZ = t[at + 5] + wx * sy - wy * sx;
        speedTurn = Math.sqrt(wx * wx + wy * wy + wz * wz);
    }

    /**
     * Returns the floor, or any proved bound that is at least {@code enough}.
     *
     * @param nx direction to begin with, P's frame, unit; ny and nz likewise
     */
    double floor(double nx, double ny, double nz, double enough) {
        best = Double.POSITIVE_INFINITY;
        least = Double.POSITIVE_INFINITY;
        bestI = -1;
        aim(first, nx, ny, nz);
        height = 0;
        push(p.root, q.root, pair.boxes(p, p.root, q, q.root), Double.NEGATIVE_INFINITY);
        walk(enough);
        if (Math.min(best, least) <= 0) {
            // What lies inside other pieces matters only where those are touched.
            pushDeep(p.deepRoot, q.root);
            pushDeep(p.root, q.deepRoot);
            pushDeep(p.deepRoot, q.deepRoot);
            walk(enough);
        }
        if (bestI >= 0) {
            explain();
        }
        return Math.min(best, least);
    }

    private void pushDeep(int i, int j) {
        if (i >= 0 && j >= 0) {
            push(i, j, pair.boxes(p, i, q, j), Double.NEGATIVE_INFINITY);
        }
    }

    private void walk(double enough) {
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
            leaves++;
            strays(p, pieceI, wanderP, straysP);
            strays(q, pieceJ, wanderQ, straysQ);
            double value = pieces(first, pieceI, pieceJ);
            int corner = lastCorner;
            double ux = first.nx;
            double uy = first.ny;
            double uz = first.nz;
            if (value < limit && latest.set) {
                double other = pieces(latest, pieceI, pieceJ);
                if (other > value) {
                    value = other;
                    corner = lastCorner;
                    ux = latest.nx;
                    uy = latest.ny;
                    uz = latest.nz;
                }
            }
            if (value < limit) {
                pair.choose(p, pieceI, q, pieceJ);
                pair.measure(first.nx, first.ny, first.nz, Double.POSITIVE_INFINITY);
                aim(latest, pair.nx, pair.ny, pair.nz);
                double own = pieces(latest, pieceI, pieceJ);
                if (own > value) {
                    value = own;
                    corner = lastCorner;
                    ux = latest.nx;
                    uy = latest.ny;
                    uz = latest.nz;
                }
            }
            boolean guardI = p.child[i] >= 0;
            boolean guardJ = q.child[j] >= 0;
            if (guardI || guardJ) {
                double tighter = value > 0 ? Math.max(clamp, value) : clamp;
                if (tighter >= limit) {
                    least = Math.min(least, tighter);
                } else {
                    split(i, j, guardI, tighter);
                }
                continue;
            }
            value = Math.max(value, clamp);
            if (value < best) {
                best = value;
                bestI = pieceI;
                bestJ = pieceJ;
                bestCorner = corner;
                bestN[0] = ux;
                bestN[1] = uy;
                bestN[2] = uz;
            }
        }
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
        nodes++;
        double[] u = p.box;
        double[] v = q.box;
        int a = Solid.BOX_NUMBERS * i;
        int b = Solid.BOX_NUMBERS * j;
        double ar = Math.sqrt(u[a + 3] * u[a + 3] + u[a + 4] * u[a + 4] + u[a + 5] * u[a + 5]);
        double br = Math.sqrt(v[b + 3] * v[b + 3] + v[b + 4] * v[b + 4] + v[b + 5] * v[b + 5]);
        double bound = Double.NEGATIVE_INFINITY;
        if (centreBound >= limit) {
            bound = centreBound - approach(u[a], u[a + 1], u[a + 2], ar, v[b], v[b + 1], v[b + 2], br);
            if (bound >= limit) {
                return bound;
            }
        }
        double off = wanderP.remainder(distanceFrom(wanderP, u[a], u[a + 1], u[a + 2]) + ar)
                + wanderQ.remainder(distanceFrom(wanderQ, v[b], v[b + 1], v[b + 2]) + br)
                + margin;
        bound = Math.max(bound, boxes(first, u, a, v, b, ar, br) - off);
        if (bound < limit && latest.set) {
            bound = Math.max(bound, boxes(latest, u, a, v, b, ar, br) - off);
        }
        return bound;
    }

    private double boxes(Tilt tilt, double[] u, int a, double[] v, int b, double ar, double br) {
        double result = Double.POSITIVE_INFINITY;
        double[] dp = tilt.ofP;
        double[] dq = tilt.ofQ;
        for (int c = 0, at = 0; c < cornerCount; c++, at += 4) {
            double high = dp[at + 3]
                    + dp[at] * u[a]
                    + dp[at + 1] * u[a + 1]
                    + dp[at + 2] * u[a + 2]
                    + half(u, a, dp[at], dp[at + 1], dp[at + 2]);
            double low = dq[at + 3]
                    + dq[at] * v[b]
                    + dq[at + 1] * v[b + 1]
                    + dq[at + 2] * v[b + 2]
                    - half(v, b, dq[at], dq[at + 1], dq[at + 2]);
            result = Math.min(result, low - high);
        }
        return result
                - u[a + 15]
                - v[b + 15]
                + tilt.shifts
                - rest(tilt, u[a], u[a + 1], u[a + 2], ar, v[b], v[b + 1], v[b + 2], br);
    }

    /** How far a node's box reaches from its middle in a direction. */
    private static double half(double[] u, int a, double x, double y, double z) {
        return Math.abs(x * u[a + 6] + y * u[a + 7] + z * u[a + 8]) * u[a + 3]
                + Math.abs(x * u[a + 9] + y * u[a + 10] + z * u[a + 11]) * u[a + 4]
                + Math.abs(x * u[a + 12] + y * u[a + 13] + z * u[a + 14]) * u[a + 5];
    }

    /** What the parameters beyond those tried by corners can take away along the tilt's direction. */
    private double rest(
            Tilt tilt, double ax, double ay, double az, double ar, double bx, double by, double bz, double br) {
        double sum = 0;
        for (int i = tried; i < parameters; i++) {
            double along = 0;
            double turn = 0;
            if (i < wanderP.count) {
                velocity(wanderP, i, ax, ay, az);
                along -= tilt.nx * worldX(speedX, speedY, speedZ)
                        + tilt.ny * worldY(speedX, speedY, speedZ)
                        + tilt.nz * worldZ(speedX, speedY, speedZ);
                turn += ar * speedTurn;
            }
            if (i < wanderQ.count) {
                velocity(wanderQ, i, bx, by, bz);
                along += tilt.nx * worldX(speedX, speedY, speedZ)
                        + tilt.ny * worldY(speedX, speedY, speedZ)
                        + tilt.nz * worldZ(speedX, speedY, speedZ);
                turn += br * speedTurn;
            }
            sum += half[i] * (Math.abs(along) + turn);
        }
        return sum;
    }

    // World vectors seen in P's frame, in which tilts keep their direction.
    private double worldX(double x, double y, double z) {
        Matrix4x3dc m = wanderP.centre;
        return m.m00() * x + m.m01() * y + m.m02() * z;
    }

    private double worldY(double x, double y, double z) {
        Matrix4x3dc m = wanderP.centre;
        return m.m10() * x + m.m11() * y + m.m12() * z;
    }

    private double worldZ(double x, double y, double z) {
        Matrix4x3dc m = wanderP.centre;
        return m.m20() * x + m.m21() * y + m.m22() * z;
    }

    /** A floor for two pieces by one direction; {@link #lastCorner} is where the straight-line part is least. */
    private double pieces(Tilt tilt, int i, int j) {
        double[] dp = tilt.ofP;
        double[] dq = tilt.ofQ;
        double result = Double.POSITIVE_INFINITY;
        lastCorner = 0;
        for (int c = 0, at = 0; c < cornerCount; c++, at += 4) {
            double high = dp[at + 3] + support.reach(p, i, dp[at], dp[at + 1], dp[at + 2], straysP.of);
            double low = dq[at + 3] - support.reach(q, j, -dq[at], -dq[at + 1], -dq[at + 2], straysQ.of);
            if (low - high < result) {
                result = low - high;
                lastCorner = c;
            }
        }
        double off = margin;
        if (parameters > tried) {
            double[] u = p.ball;
            double[] v = q.ball;
            int a = 4 * i;
            int b = 4 * j;
            off += rest(tilt, u[a], u[a + 1], u[a + 2], u[a + 3], v[b], v[b + 1], v[b + 2], v[b + 3]);
        }
        return result - p.rounding[i] - q.rounding[j] + tilt.shifts - off;
    }

    /** How far the corners of one piece may stray from the straight-line picture, mm: each its own where it has few. */
    private static final class Strays {
        double[] of = new double[16];
        int piece = -1;
    }

    private final Strays straysP = new Strays();
    private final Strays straysQ = new Strays();

    /**
     * Works out the remainders of a piece's corners, each at its own distance from the reference, so that a long part
     * that turns about one of its ends is not charged for the far end when the near one decides. Pieces without
     * corners of their own take the remainder of their furthest spot.
     */
    private static void strays(Solid solid, int piece, Wander wander, Strays into) {
        if (into.piece == piece) {
            return;
        }
        into.piece = piece;
        int kind = solid.kind[piece];
        int from = solid.first[piece];
        int to = solid.first[piece + 1];
        boolean corners = kind == Solid.POINT || kind == Solid.SEGMENT || kind == Solid.HULL;
        int count = corners ? (to - from) / 3 : 1;
        if (into.of.length < count) {
            into.of = new double[2 * count];
        }
        if (corners) {
            double[] n = solid.numbers;
            for (int v = 0; v < count; v++) {
                int at = from + 3 * v;
                into.of[v] = wander.remainder(distanceFrom(wander, n[at], n[at + 1], n[at + 2]));
            }
        } else {
            double[] ball = solid.ball;
            int at = 4 * piece;
            into.of[0] = wander.remainder(distanceFrom(wander, ball[at], ball[at + 1], ball[at + 2]) + ball[at + 3]);
        }
    }

    /** Works out everything that depends on a direction (P's frame, unit) alone. */
    private void aim(Tilt tilt, double x, double y, double z) {
        tilt.set = true;
        tilt.nx = x;
        tilt.ny = y;
        tilt.nz = z;
        Matrix4x3dc m = wanderP.centre;
        double nx = m.m00() * x + m.m10() * y + m.m20() * z;
        double ny = m.m01() * x + m.m11() * y + m.m21() * z;
        double nz = m.m02() * x + m.m12() * y + m.m22() * z;
        // A direction a few ulps off unit length would overstate by as much of the distance.
        double length = Math.sqrt(nx * nx + ny * ny + nz * nz);
        nx /= length;
        ny /= length;
        nz /= length;
        corners(wanderP, tilt.ofP, nx, ny, nz);
        corners(wanderQ, tilt.ofQ, nx, ny, nz);
        tilt.shifts = -wanderP.shiftAlong(nx, ny, nz) - wanderQ.shiftAlong(-nx, -ny, -nz);
    }

    private void corners(Wander w, double[] into, double nx, double ny, double nz) {
        for (int c = 0; c < cornerCount; c++) {
            corner(w, into, 4 * c, nx, ny, nz, c, -1);
        }
    }

    /** Support direction (body frame) and constant of one corner, leaving out one parameter (or none: -1). */
    private void corner(Wander w, double[] into, int at, double nx, double ny, double nz, int c, int without) {
        Matrix4x3dc m = w.centre;
        double rx = m.m00() * w.referenceX + m.m10() * w.referenceY + m.m20() * w.referenceZ + m.m30();
        double ry = m.m01() * w.referenceX + m.m11() * w.referenceY + m.m21() * w.referenceZ + m.m31();
        double rz = m.m02() * w.referenceX + m.m12() * w.referenceY + m.m22() * w.referenceZ + m.m32();
        double x = nx;
        double y = ny;
        double z = nz;
        double constant = nx * rx + ny * ry + nz * rz;
        int known = Math.min(tried, w.count);
        for (int i = 0; i < known; i++) {
            if (i == without) {
                continue;
            }
            double d = (c >> i & 1) == 0 ? -half[i] : half[i];
            double[] t = w.twist;
            int k = 6 * i;
            x += d * (ny * t[k + 2] - nz * t[k + 1]);
            y += d * (nz * t[k] - nx * t[k + 2]);
            z += d * (nx * t[k + 1] - ny * t[k]);
            constant += d * (nx * t[k + 3] + ny * t[k + 4] + nz * t[k + 5]);
        }
        double bx = m.m00() * x + m.m01() * y + m.m02() * z;
        double by = m.m10() * x + m.m11() * y + m.m12() * z;
        double bz = m.m20() * x + m.m21() * y + m.m22() * z;
        into[at] = bx;
        into[at + 1] = by;
        into[at + 2] = bz;
        into[at + 3] = constant - (bx * w.referenceX + by * w.referenceY + bz * w.referenceZ);
    }

    private final double[] oneP = new double[4];
    private final double[] oneQ = new double[4];

    /** Says what each parameter took from the floor of the deciding pair. */
    private void explain() {
        aim(latest, bestN[0], bestN[1], bestN[2]);
        double full = pieceCorner(latest.ofP, latest.ofQ, 4 * bestCorner);
        Matrix4x3dc m = wanderP.centre;
        double nx = m.m00() * bestN[0] + m.m10() * bestN[1] + m.m20() * bestN[2];
        double ny = m.m01() * bestN[0] + m.m11() * bestN[1] + m.m21() * bestN[2];
        double nz = m.m02() * bestN[0] + m.m12() * bestN[1] + m.m22() * bestN[2];
        double[] u = p.ball;
        double[] v = q.ball;
        int a = 4 * bestI;
        int b = 4 * bestJ;
        double ar = distanceFrom(wanderP, u[a], u[a + 1], u[a + 2]) + u[a + 3];
        double br = distanceFrom(wanderQ, v[b], v[b + 1], v[b + 2]) + v[b + 3];
        for (int i = 0; i < parameters; i++) {
            double sum = 0;
            if (i < wanderP.count) {
                sum += 0.5 * half[i] * (wanderP.linearError[i] + ar * wanderP.turnError[i]);
            }
            if (i < wanderQ.count) {
                sum += 0.5 * half[i] * (wanderQ.linearError[i] + br * wanderQ.turnError[i]);
            }
            if (i < tried) {
                towards[i] = (bestCorner >> i & 1) == 0 ? -1 : 1;
                corner(wanderP, oneP, 0, nx, ny, nz, bestCorner, i);
                corner(wanderQ, oneQ, 0, nx, ny, nz, bestCorner, i);
                sum += Math.max(0, pieceCorner(oneP, oneQ, 0) - full);
            } else {
                double along = 0;
                if (i < wanderP.count) {
                    velocity(wanderP, i, u[a], u[a + 1], u[a + 2]);
                    along -= nx * speedX + ny * speedY + nz * speedZ;
                    sum += half[i] * u[a + 3] * speedTurn;
                }
                if (i < wanderQ.count) {
                    velocity(wanderQ, i, v[b], v[b + 1], v[b + 2]);
                    along += nx * speedX + ny * speedY + nz * speedZ;
                    sum += half[i] * v[b + 3] * speedTurn;
                }
                towards[i] = along > 0 ? -1 : 1;
                sum += half[i] * Math.abs(along);
            }
            spread[i] = sum;
        }
    }

    private double pieceCorner(double[] dp, double[] dq, int at) {
        return dq[at + 3]
                - support.reach(q, bestJ, -dq[at], -dq[at + 1], -dq[at + 2])
                - dp[at + 3]
                - support.reach(p, bestI, dp[at], dp[at + 1], dp[at + 2]);
    }
}
