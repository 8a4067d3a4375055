package daylight.geometry;

import org.joml.Matrix4x3d;
import org.joml.Matrix4x3dc;

/**
 * The least of n.p over the spots p of a solid, for a direction n: how low it hangs, or how far it sticks out. Exact
 * for each convex piece, by its supporting spot; where pieces exceed the true shape ({@link Solid#sagittaMm()}), so
 * much too low, never too high.
 *
 * <p>An engine: not thread-safe. Cost: one pass over the pieces; pieces whose bounding ball cannot be lower than what
 * was found are passed over.
 */
public final class Lowest {
    /** Halvings of the range in which the balance between height and place is sought. */
    private static final int HALVINGS = 100;
    /** The steepest slope that balances them: a spot this much higher per mm along counts as elsewhere. */
    private static final double STEEPEST = 1e5;

    /** How far to either side of the best slope the two ends of the edge are looked for. */
    private static final double NEARLY = 1e-6;

    private final Support support = new Support();
    private final Matrix4x3d pose = new Matrix4x3d();
    private double x;
    private double y;
    private double z;

    /** Makes an engine. */
    public Lowest() {}

    /**
     * Returns the least of n.p over a solid, mm.
     *
     * @param pose body frame to world, rigid
     * @param n world direction, unit length
     */
    public double along(Solid solid, Pose pose, Direction n) {
        return along(solid, pose.into(this.pose), n.x(), n.y(), n.z());
    }

    /** Returns the spot at which the least was found last, world frame. */
    public Spot spot() {
        return new Spot(x, y, z);
    }

    /** The same for a direction of any length: the least of d.p. */
    double along(Solid solid, Matrix4x3dc m, double dx, double dy, double dz) {
        double length = Math.sqrt(dx * dx + dy * dy + dz * dz);
        double bx = m.m00() * dx + m.m01() * dy + m.m02() * dz;
        double by = m.m10() * dx + m.m11() * dy + m.m12() * dz;
        double bz = m.m20() * dx + m.m21() * dy + m.m22() * dz;
        best = Double.POSITIVE_INFINITY;
        look(solid, solid.root, bx, by, bz, length);
        double px = bestX - bx / length * bestRounding;
        double py = bestY - by / length * bestRounding;
        double pz = bestZ - bz / length * bestRounding;
        x = m.m00() * px + m.m10() * py + m.m20() * pz + m.m30();
        y = m.m01() * px + m.m11() * py + m.m21() * pz + m.m31();
        z = m.m02() * px + m.m12() * py + m.m22() * pz + m.m32();
        return best + dx * m.m30() + dy * m.m31() + dz * m.m32();
    }

    private double bestSlope;
    private double best;
    private double bestX;
    private double bestY;
    private double bestZ;
    private double bestRounding;

    private void look(Solid solid, int node, double bx, double by, double bz, double length) {
        // A guard holds all that is below its node, and is exact where the outside is convex.
        int piece = solid.guard[node] >= 0 ? solid.guard[node] : solid.child[node] < 0 ? ~solid.child[node] : -1;
        if (piece < 0) {
            look(solid, solid.child[node], bx, by, bz, length);
            look(solid, solid.second[node], bx, by, bz, length);
            return;
        }
        double rounding = solid.rounding[piece] * length;
        double[] ball = solid.ball;
        double lowest = bx * ball[4 * piece]
                + by * ball[4 * piece + 1]
                + bz * ball[4 * piece + 2]
                - ball[4 * piece + 3] * length
                - rounding;
        if (lowest >= best) {
            return;
        }
        support.of(solid, piece, -bx, -by, -bz);
        double value = bx * support.x + by * support.y + bz * support.z - rounding;
        if (value < best) {
            best = value;
            bestX = support.x;
            bestY = support.y;
            bestZ = support.z;
            bestRounding = solid.rounding[piece];
        }
    }

    /**
     * Returns the least of n.p over those spots of a solid that lie between two parallel planes, mm; positive infinity
     * if it has none there.
     *
     * <p>For a convex piece the least is the greatest, over all slopes s, of the least of n.p + s (m.p - place), with the
     * place at whichever of the two planes is further from it (duality of a linear programme); that is a concave function
     * of the slope.
     *
     * <p>{@link #spot} is then where, to about a micrometre.
     *
     * @param m world direction across the planes, unit length
     * @param from least m.p, mm; may be negative infinity
     * @param to greatest m.p, mm; may be positive infinity
     */
    public double between(Solid solid, Pose pose, Direction n, Direction m, double from, double to) {
        Matrix4x3dc matrix = pose.into(this.pose);
        double least = Double.POSITIVE_INFINITY;
        for (int node = 0; node < solid.child.length; node++) {
            if (solid.child[node] < 0) {
                double value = between(solid, ~solid.child[node], matrix, n, m, from, to);
                if (value < least) {
                    least = value;
                    spotBetween(solid, ~solid.child[node], matrix, n, m, from, to);
                }
            }
        }
        return least;
    }

    private double between(
            Solid solid, int piece, Matrix4x3dc matrix, Direction n, Direction m, double from, double to) {
        double near = reach(solid, piece, matrix, m.x(), m.y(), m.z());
        double far = 0.0 - reach(solid, piece, matrix, -m.x(), -m.y(), -m.z());
        if (near > to || far < from) {
            return Double.POSITIVE_INFINITY;
        }
        // Only a plane that cuts the piece can matter.
        double low = near < from ? -STEEPEST : 0;
        double high = far > to ? STEEPEST : 0;
        double golden = (Math.sqrt(5) - 1) / 2;
        double a = low;
        double b = high;
        double best = slope(solid, piece, matrix, n, m, from, to, 0);
        bestSlope = 0;
        double s = b - golden * (b - a);
        double t = a + golden * (b - a);
        double fs = slope(solid, piece, matrix, n, m, from, to, s);
        double ft = slope(solid, piece, matrix, n, m, from, to, t);
        for (int i = 0; i < HALVINGS && b - a > 0; i++) {
            if (fs > ft) {
                b = t;
                t = s;
                ft = fs;
                s = b - golden * (b - a);
                fs = slope(solid, piece, matrix, n, m, from, to, s);
            } else {
                a = s;
                s = t;
                fs = ft;
                t = a + golden * (b - a);
                ft = slope(solid, piece, matrix, n, m, from, to, t);
            }
            if (Math.max(fs, ft) > best) {
                best = Math.max(fs, ft);
                bestSlope = fs > ft ? s : t;
            }
        }
        return best;
    }

    /** The spot: on the edge between the two supporting spots to either side of the best slope. */
    private void spotBetween(
            Solid solid, int piece, Matrix4x3dc matrix, Direction n, Direction m, double from, double to) {
        double aside = NEARLY * Math.max(1, Math.abs(bestSlope));
        supporting(solid, piece, matrix, n, m, bestSlope - aside);
        double ax = x;
        double ay = y;
        double az = z;
        double a = m.x() * x + m.y() * y + m.z() * z;
        supporting(solid, piece, matrix, n, m, bestSlope + aside);
        double b = m.x() * x + m.y() * y + m.z() * z;
        double place = bestSlope < 0 ? from : to;
        double share = bestSlope == 0 || a == b ? 0 : Math.min(1, Math.max(0, (place - b) / (a - b)));
        x += share * (ax - x);
        y += share * (ay - y);
        z += share * (az - z);
    }

    private void supporting(Solid solid, int piece, Matrix4x3dc matrix, Direction n, Direction m, double s) {
        double dx = n.x() + s * m.x();
        double dy = n.y() + s * m.y();
        double dz = n.z() + s * m.z();
        double length = Math.sqrt(dx * dx + dy * dy + dz * dz);
        double bx = matrix.m00() * dx + matrix.m01() * dy + matrix.m02() * dz;
        double by = matrix.m10() * dx + matrix.m11() * dy + matrix.m12() * dz;
        double bz = matrix.m20() * dx + matrix.m21() * dy + matrix.m22() * dz;
        support.of(solid, piece, -bx, -by, -bz);
        double rounding = solid.rounding[piece] / length;
        double px = support.x - rounding * bx;
        double py = support.y - rounding * by;
        double pz = support.z - rounding * bz;
        x = matrix.m00() * px + matrix.m10() * py + matrix.m20() * pz + matrix.m30();
        y = matrix.m01() * px + matrix.m11() * py + matrix.m21() * pz + matrix.m31();
        z = matrix.m02() * px + matrix.m12() * py + matrix.m22() * pz + matrix.m32();
    }

    /** The least of n.p + s (m.p - place); a lower bound of what is sought for every slope. */
    private double slope(
            Solid solid, int piece, Matrix4x3dc matrix, Direction n, Direction m, double from, double to, double s) {
        double place = s == 0 ? 0 : s < 0 ? from : to;
        return reach(solid, piece, matrix, n.x() + s * m.x(), n.y() + s * m.y(), n.z() + s * m.z()) - s * place;
    }

    private double reach(Solid solid, int piece, Matrix4x3dc m, double dx, double dy, double dz) {
        double bx = m.m00() * dx + m.m01() * dy + m.m02() * dz;
        double by = m.m10() * dx + m.m11() * dy + m.m12() * dz;
        double bz = m.m20() * dx + m.m21() * dy + m.m22() * dz;
        return 0.0
                - support.reach(solid, piece, -bx, -by, -bz)
                - solid.rounding[piece] * Math.sqrt(dx * dx + dy * dy + dz * dz)
                + dx * m.m30()
                + dy * m.m31()
                + dz * m.m32();
    }
}
