package daylight.geometry;

import org.joml.Matrix4x3dc;

/**
 * Two wandering solids looked at from one frame: floors of their signed distance by one direction that stays fixed in
 * that frame, for convex pieces, for boxes round several of them and for single spots.
 *
 * <p>For convex pieces and any unit direction n, the signed distance is at least the least n.b over B less the
 * greatest n.a over A. With n kept for the whole box, a material spot is where the centre's twists take it, plus a
 * remainder that {@link Wander} bounds; the straight-line part of n.x is linear in the spot and in the parameters,
 * so over a core it is a support value in a direction tilted by {@code n x w}, and as the least of functions linear
 * in the parameters it is least at a corner of the box. Radii of rounding do not depend on how a body turns.
 *
 * <p>Directions are given in P's body frame as it is at the centre, the same for every view of a pair.
 */
final class View {
    /** Parameters whose corners are tried one by one; the others' effects are added up by their sizes. */
    private static final int BY_CORNERS = 4;

    private static final int MOST_CORNERS = 1 << BY_CORNERS;
    /** A floor is lowered by this share of all lengths that went into it: thousands of times the rounding. */
    private static final double ROUNDING_SHARE = 1e-12;

    /** A line's direction and a normal are known to this much. */
    private static final double LINE_SHARE = 1e-12;

    private final Support support = new Support();
    private Solid p;
    private Solid q;
    private Wander wanderP = new Wander();
    private Wander wanderQ = new Wander();
    private int parameters;
    private int tried;
    private int cornerCount;
    private double[] half = new double[BY_CORNERS];
    private double margin;
    private double fixedP;
    private double perMmP;
    private double fixedQ;
    private double perMmQ;

    /** A direction with everything that depends on it alone. */
    static final class Tilt {
        double nx;
        double ny;
        double nz;
        /** Body-frame support directions and constants per corner: x, y, z, constant. */
        final double[] ofP = new double[4 * MOST_CORNERS];

        final double[] ofQ = new double[4 * MOST_CORNERS];
        double shifts;
        /** The share of P's and of Q's strays that can lie along the direction. */
        double strayP;

        double strayQ;
        /** Number of the direction it was last aimed along; zero for none. */
        long aimed;
    }

    /** The direction at the centre, and the one of the pair of pieces looked at last. */
    final Tilt first = new Tilt();

    final Tilt latest = new Tilt();

    /** How far the corners of one piece may stray from the straight-line picture, mm: each its own where it has few. */
    private static final class Strays {
        double[] of = new double[16];
        int piece = -1;
    }

    private final Strays straysP = new Strays();
    private final Strays straysQ = new Strays();

    /** Corner of the box of parameters at which the last value of {@link #pieces} or {@link #spots} was least. */
    int corner;
    /** After {@link #explain}: what each parameter took, and which end of it was least. */
    double[] spread = new double[BY_CORNERS];

    int[] towards = new int[BY_CORNERS];
    /** After {@link #explain}: the straight-line part alone at its lowest corner, mm. */
    double guess;

    View(Solid any) {
        p = any;
        q = any;
    }

    /**
     * Takes over two solids and their motions as seen from this view's frame.
     *
     * @param apart the way between the two body frames' origins, mm, any norm: it counts for the rounding
     */
    void begin(Solid solidP, Wander motionP, Solid solidQ, Wander motionQ, double apart) {
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
        fixedP = wanderP.remainder(0);
        perMmP = wanderP.remainderPerMm();
        fixedQ = wanderQ.remainder(0);
        perMmQ = wanderQ.remainderPerMm();
        double lengths = p.radius
                + q.radius
                + apart
                + distanceFrom(wanderP, p.centreX, p.centreY, p.centreZ)
                + distanceFrom(wanderQ, q.centreX, q.centreY, q.centreZ);
        margin = ROUNDING_SHARE * lengths;
        first.aimed = 0;
        latest.aimed = 0;
        straysP.piece = -1;
        straysQ.piece = -1;
    }

    /** How far a spot, body frame, is from the reference; or from the line if the body only turns about one. */
    private static double distanceFrom(Wander w, double x, double y, double z) {
        double dx = x - w.referenceX;
        double dy = y - w.referenceY;
        double dz = z - w.referenceZ;
        double squared = dx * dx + dy * dy + dz * dz;
        if (w.turnsAboutLine) {
            Matrix4x3dc m = w.centre;
            double ux = m.m00() * w.lineX + m.m01() * w.lineY + m.m02() * w.lineZ;
            double uy = m.m10() * w.lineX + m.m11() * w.lineY + m.m12() * w.lineZ;
            double uz = m.m20() * w.lineX + m.m21() * w.lineY + m.m22() * w.lineZ;
            double cx = uy * dz - uz * dy;
            double cy = uz * dx - ux * dz;
            double cz = ux * dy - uy * dx;
            squared = cx * cx + cy * cy + cz * cz;
        }
        return Math.sqrt(squared);
    }

    /** The share of a stray that can lie along a direction: nothing moves along the line that a body turns about. */
    private static double strayShare(Wander w, double nx, double ny, double nz) {
        if (!w.turnsAboutLine) {
            return 1;
        }
        double cx = ny * w.lineZ - nz * w.lineY;
        double cy = nz * w.lineX - nx * w.lineZ;
        double cz = nx * w.lineY - ny * w.lineX;
        return Math.min(1, Math.sqrt(cx * cx + cy * cy + cz * cz) + LINE_SHARE);
    }

    // ---- without a direction --------------------------------------------------------------------------------

    /** A length, mm, by which the two solids approach one another at most, anywhere in the box, to first order. */
    double approach() {
        return approach(p.centreX, p.centreY, p.centreZ, p.radius, q.centreX, q.centreY, q.centreZ, q.radius);
    }

    private double approach(double ax, double ay, double az, double ar, double bx, double by, double bz, double br) {
        double sum = fixedP
                + perMmP * (distanceFrom(wanderP, ax, ay, az) + ar)
                + fixedQ
                + perMmQ * (distanceFrom(wanderQ, bx, by, bz) + br)
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

    /** Velocity by parameter i of the body's spot x, y, z (body frame), in the view's frame. */
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

    /** A floor for everything under two nodes whose boxes are a distance apart at the centre, to first order. */
    double nodesApproach(int i, int j, double centreBound) {
        double[] u = p.box;
        double[] v = q.box;
        int a = Solid.BOX_NUMBERS * i;
        int b = Solid.BOX_NUMBERS * j;
        return centreBound
                - approach(u[a], u[a + 1], u[a + 2], halfDiagonal(u, a), v[b], v[b + 1], v[b + 2], halfDiagonal(v, b));
    }

    private static double halfDiagonal(double[] box, int at) {
        return Math.sqrt(box[at + 3] * box[at + 3] + box[at + 4] * box[at + 4] + box[at + 5] * box[at + 5]);
    }

    // ---- along a direction ----------------------------------------------------------------------------------

    /** A floor for everything under two nodes along a direction. */
    double nodes(Tilt tilt, int i, int j) {
        double[] u = p.box;
        double[] v = q.box;
        int a = Solid.BOX_NUMBERS * i;
        int b = Solid.BOX_NUMBERS * j;
        double ar = halfDiagonal(u, a);
        double br = halfDiagonal(v, b);
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
        double strays = tilt.strayP * (fixedP + perMmP * (distanceFrom(wanderP, u[a], u[a + 1], u[a + 2]) + ar))
                + tilt.strayQ * (fixedQ + perMmQ * (distanceFrom(wanderQ, v[b], v[b + 1], v[b + 2]) + br));
        return result
                - u[a + 15]
                - v[b + 15]
                + tilt.shifts
                - rest(tilt, u[a], u[a + 1], u[a + 2], ar, v[b], v[b + 1], v[b + 2], br)
                - strays
                - margin;
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
                along -= speedAlong(tilt);
                turn += ar * speedTurn;
            }
            if (i < wanderQ.count) {
                velocity(wanderQ, i, bx, by, bz);
                along += speedAlong(tilt);
                turn += br * speedTurn;
            }
            sum += half[i] * (Math.abs(along) + turn);
        }
        return sum;
    }

    /** The part of the last {@link #velocity} along a tilt's direction, which is in P's body frame. */
    private double speedAlong(Tilt tilt) {
        Matrix4x3dc m = wanderP.centre;
        return tilt.nx * (m.m00() * speedX + m.m01() * speedY + m.m02() * speedZ)
                + tilt.ny * (m.m10() * speedX + m.m11() * speedY + m.m12() * speedZ)
                + tilt.nz * (m.m20() * speedX + m.m21() * speedY + m.m22() * speedZ);
    }

    /**
     * A floor for a piece on P's body and one on Q's along a direction; {@link #corner} is where the straight-line
     * part is least. The pieces are P's and Q's own or cut from them.
     */
    double pieces(Tilt tilt, Solid ofP, int i, Solid ofQ, int j) {
        strays(ofP, i, ofP == p, wanderP, fixedP, perMmP, straysP);
        strays(ofQ, j, ofQ == q, wanderQ, fixedQ, perMmQ, straysQ);
        double[] dp = tilt.ofP;
        double[] dq = tilt.ofQ;
        double result = Double.POSITIVE_INFINITY;
        corner = 0;
        for (int c = 0, at = 0; c < cornerCount; c++, at += 4) {
            double high = dp[at + 3] + support.reach(ofP, i, dp[at], dp[at + 1], dp[at + 2], straysP.of, tilt.strayP);
            double low = dq[at + 3] - support.reach(ofQ, j, -dq[at], -dq[at + 1], -dq[at + 2], straysQ.of, tilt.strayQ);
            if (low - high < result) {
                result = low - high;
                corner = c;
            }
        }
        double off = margin;
        if (parameters > tried) {
            double[] u = ofP.ball;
            double[] v = ofQ.ball;
            int a = 4 * i;
            int b = 4 * j;
            off += rest(tilt, u[a], u[a + 1], u[a + 2], u[a + 3], v[b], v[b + 1], v[b + 2], v[b + 3]);
        }
        return result - ofP.rounding[i] - ofQ.rounding[j] + tilt.shifts - off;
    }

    /**
     * A floor for one spot on P's body and one on Q's, body frames, along a direction: no floor of pieces that hold
     * these spots can be above it, in this view along this direction.
     */
    double spots(Tilt tilt, double ax, double ay, double az, double bx, double by, double bz, double radii) {
        double[] dp = tilt.ofP;
        double[] dq = tilt.ofQ;
        double result = Double.POSITIVE_INFINITY;
        corner = 0;
        for (int c = 0, at = 0; c < cornerCount; c++, at += 4) {
            double high = dp[at + 3] + dp[at] * ax + dp[at + 1] * ay + dp[at + 2] * az;
            double low = dq[at + 3] + dq[at] * bx + dq[at + 1] * by + dq[at + 2] * bz;
            if (low - high < result) {
                result = low - high;
                corner = c;
            }
        }
        double strays = tilt.strayP * (fixedP + perMmP * distanceFrom(wanderP, ax, ay, az))
                + tilt.strayQ * (fixedQ + perMmQ * distanceFrom(wanderQ, bx, by, bz));
        double off = parameters > tried ? rest(tilt, ax, ay, az, 0, bx, by, bz, 0) : 0;
        return result - radii + tilt.shifts - strays - margin - off;
    }

    /**
     * Works out the remainders of a piece's corners, each at its own distance from the reference, so that a long part
     * that turns about one of its ends is not charged for the far end when the near one decides. Pieces without
     * corners of their own take the remainder of their furthest spot.
     */
    private static void strays(
            Solid solid, int piece, boolean own, Wander wander, double fixed, double perMm, Strays into) {
        if (own && into.piece == piece) {
            return;
        }
        into.piece = own ? piece : -1;
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
            for (int v = 0, at = from; v < count; v++, at += 3) {
                into.of[v] = fixed + perMm * distanceFrom(wander, n[at], n[at + 1], n[at + 2]);
            }
        } else {
            double[] ball = solid.ball;
            int at = 4 * piece;
            into.of[0] = fixed + perMm * (distanceFrom(wander, ball[at], ball[at + 1], ball[at + 2]) + ball[at + 3]);
        }
    }

    /** Works out everything that depends on a direction (P's frame, unit) alone, unless that was done already. */
    void aim(Tilt tilt, double x, double y, double z, long number) {
        if (tilt.aimed == number) {
            return;
        }
        tilt.aimed = number;
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
        tilt.strayP = strayShare(wanderP, nx, ny, nz);
        tilt.strayQ = strayShare(wanderQ, nx, ny, nz);
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

    /** Says what each parameter took from the floor of two pieces along the latest direction, at a lowest corner. */
    void explain(Solid ofP, int i, Solid ofQ, int j, int lowest) {
        double x = latest.nx;
        double y = latest.ny;
        double z = latest.nz;
        double radii = ofP.rounding[i] + ofQ.rounding[j];
        double full = reachApart(latest.ofP, latest.ofQ, 4 * lowest, ofP, i, ofQ, j);
        guess = full - radii + latest.shifts;
        Matrix4x3dc m = wanderP.centre;
        double nx = m.m00() * x + m.m10() * y + m.m20() * z;
        double ny = m.m01() * x + m.m11() * y + m.m21() * z;
        double nz = m.m02() * x + m.m12() * y + m.m22() * z;
        double[] u = ofP.ball;
        double[] v = ofQ.ball;
        int a = 4 * i;
        int b = 4 * j;
        double ar = distanceFrom(wanderP, u[a], u[a + 1], u[a + 2]) + u[a + 3];
        double br = distanceFrom(wanderQ, v[b], v[b + 1], v[b + 2]) + v[b + 3];
        for (int k = 0; k < parameters; k++) {
            double sum = 0;
            if (k < wanderP.count) {
                sum += 0.5 * half[k] * latest.strayP * (wanderP.linearError[k] + ar * wanderP.turnError[k]);
            }
            if (k < wanderQ.count) {
                sum += 0.5 * half[k] * latest.strayQ * (wanderQ.linearError[k] + br * wanderQ.turnError[k]);
            }
            if (k < tried) {
                towards[k] = (lowest >> k & 1) == 0 ? -1 : 1;
                corner(wanderP, oneP, 0, nx, ny, nz, lowest, k);
                corner(wanderQ, oneQ, 0, nx, ny, nz, lowest, k);
                sum += Math.max(0, reachApart(oneP, oneQ, 0, ofP, i, ofQ, j) - full);
            } else {
                double along = 0;
                if (k < wanderP.count) {
                    velocity(wanderP, k, u[a], u[a + 1], u[a + 2]);
                    along -= nx * speedX + ny * speedY + nz * speedZ;
                    sum += half[k] * u[a + 3] * speedTurn;
                }
                if (k < wanderQ.count) {
                    velocity(wanderQ, k, v[b], v[b + 1], v[b + 2]);
                    along += nx * speedX + ny * speedY + nz * speedZ;
                    sum += half[k] * v[b + 3] * speedTurn;
                }
                towards[k] = along > 0 ? -1 : 1;
                sum += half[k] * Math.abs(along);
            }
            spread[k] = sum;
        }
    }

    private double reachApart(double[] dp, double[] dq, int at, Solid ofP, int i, Solid ofQ, int j) {
        return dq[at + 3]
                - support.reach(ofQ, j, -dq[at], -dq[at + 1], -dq[at + 2])
                - dp[at + 3]
                - support.reach(ofP, i, dp[at], dp[at + 1], dp[at + 2]);
    }
}
