package daylight.geometry;

import java.util.Arrays;
import org.jspecify.annotations.Nullable;

/**
 * What a {@link Gauge} remembers of one pair of solids: where they were closest, and a front: pairs of tree nodes that
 * together hold all pairs of pieces, each with a bound. Those that came near stand first.
 *
 * <p>When a pair has moved by no more than some length since its front was made, every bound has fallen by no more than
 * that length. While the bound of the far ones stays above the distance found among the near ones, nothing else can be
 * nearer: that is proved, so a front saves work and changes no distance. Once it does not, the near ones and those of
 * the far ones whose own bound has run out are looked at again; the others stay as they are.
 *
 * @see "Mirtich, Timewarp rigid body simulation, SIGGRAPH 2000, for bounds that age; Ehmann and Lin, Accurate and fast
 *     proximity queries between polyhedra, Computer Graphics Forum 20 (2001), for the front"
 */
final class Recall {
    static final int SPOTS = 24;
    private static final int MOST = 8192;
    /** For so many measurements no front is made after one that grew too long. */
    private static final int REST_AFTER_LONG = 64;
    /** What rounding may take from a moved bound, as a share of the lengths in it. */
    private static final double ROUNDING_SHARE = 1e-13;

    @Nullable
    Solid p;

    @Nullable
    Solid q;
    /** Pieces that were closest. */
    int i;

    int j;
    /** Their last simplex. */
    int corners;

    final double[] spots = new double[SPOTS];
    double nx;
    double ny;
    double nz;
    /** Where Q lay in P's frame when last measured. */
    final double[] last = new double[12];
    /** A distance that the two had at least then, mm. */
    double distance;
    /** Whether neither had a member inside a closed mesh of the other. */
    boolean outside;

    /** For how many more times too much lies between the planes across the normal for that to be worth a try. */
    int broad;

    /** Entries of the front; -1 when there is none. */
    int count = -1;

    /** How many of them, at the beginning, are near: less than {@link #rest}. */
    int near;

    int[] nodeI = new int[0];
    int[] nodeJ = new int[0];
    double[] bound = new double[0];
    /** The direction along which each is bounded, P's frame: a good one to begin with; zero when none is known. */
    double[] along = new double[0];

    /** A distance that nothing beyond the near entries falls below, where {@link #base} says. */
    double rest;

    /** How many entries the front had when it was made from the roots. */
    int fresh;

    /** For how many more measurements no front is made. */
    int weary;

    final double[] base = new double[12];

    boolean isOf(Solid one, Solid two) {
        return p == one && q == two;
    }

    /** Notes where Q lies in P now. */
    static void here(PairGap pair, double[] into) {
        into[0] = pair.rxx;
        into[1] = pair.rxy;
        into[2] = pair.rxz;
        into[3] = pair.ryx;
        into[4] = pair.ryy;
        into[5] = pair.ryz;
        into[6] = pair.rzx;
        into[7] = pair.rzy;
        into[8] = pair.rzz;
        into[9] = pair.tx;
        into[10] = pair.ty;
        into[11] = pair.tz;
    }

    /** Returns a length, mm, by which no spot of Q has moved further in P's frame since a place was noted. */
    static double moved(PairGap pair, double[] from, Solid q) {
        double xx = pair.rxx - from[0];
        double xy = pair.rxy - from[1];
        double xz = pair.rxz - from[2];
        double yx = pair.ryx - from[3];
        double yy = pair.ryy - from[4];
        double yz = pair.ryz - from[5];
        double zx = pair.rzx - from[6];
        double zy = pair.rzy - from[7];
        double zz = pair.rzz - from[8];
        double x = xx * q.centreX + xy * q.centreY + xz * q.centreZ + pair.tx - from[9];
        double y = yx * q.centreX + yy * q.centreY + yz * q.centreZ + pair.ty - from[10];
        double z = zx * q.centreX + zy * q.centreY + zz * q.centreZ + pair.tz - from[11];
        // The difference of two rotations stretches nothing by more than its Frobenius norm over the root of two.
        double turn = Math.sqrt(
                0.5 * (xx * xx + xy * xy + xz * xz + yx * yx + yy * yy + yz * yz + zx * zx + zy * zy + zz * zz));
        double lengths = q.radius + Math.abs(pair.tx) + Math.abs(pair.ty) + Math.abs(pair.tz);
        return Math.sqrt(x * x + y * y + z * z) + q.radius * turn + ROUNDING_SHARE * lengths;
    }

    /** Begins a front at where Q lies now. */
    void begin(PairGap pair) {
        here(pair, base);
        count = 0;
        near = 0;
        rest = Double.POSITIVE_INFINITY;
    }

    /**
     * Brings the front to where Q lies now: keeps the entries that are still at least {@code far} apart and moves the
     * others into {@code again}. Returns how many those are.
     *
     * @param moved a length by which no spot has moved further since the base
     */
    int renew(PairGap pair, double moved, double far, Recall again) {
        here(pair, base);
        again.count = 0;
        again.rest = Double.POSITIVE_INFINITY;
        int kept = 0;
        for (int k = 0; k < count; k++) {
            double now = bound[k] - moved;
            if (now < far) {
                again.add(nodeI[k], nodeJ[k], now, along[3 * k], along[3 * k + 1], along[3 * k + 2]);
            } else {
                bound[k] = now;
                put(k, kept);
                kept++;
            }
        }
        count = kept;
        near = 0;
        rest = Double.POSITIVE_INFINITY;
        return again.count;
    }

    private void put(int from, int to) {
        if (from != to) {
            nodeI[to] = nodeI[from];
            nodeJ[to] = nodeJ[from];
            bound[to] = bound[from];
            along[3 * to] = along[3 * from];
            along[3 * to + 1] = along[3 * from + 1];
            along[3 * to + 2] = along[3 * from + 2];
        }
    }

    /** Adds two nodes and a distance that nothing under them falls below, found along x, y, z. */
    void add(int one, int two, double least, double x, double y, double z) {
        if (count == MOST) {
            rest = Math.min(rest, least);
            return;
        }
        if (count == bound.length) {
            int length = Math.min(MOST, Math.max(16, 2 * count));
            nodeI = Arrays.copyOf(nodeI, length);
            nodeJ = Arrays.copyOf(nodeJ, length);
            bound = Arrays.copyOf(bound, length);
            along = Arrays.copyOf(along, 3 * length);
        }
        along[3 * count] = x;
        along[3 * count + 1] = y;
        along[3 * count + 2] = z;
        bound[count] = least;
        nodeI[count] = one;
        nodeJ[count] = two;
        count++;
    }

    /** Ends the front: entries below {@code far} come first. A front that grew too long is given up. */
    void end(double far) {
        if (rest < far) {
            count = -1;
            weary = REST_AFTER_LONG;
            return;
        }
        rest = far;
        near = 0;
        for (int k = 0; k < count; k++) {
            if (bound[k] < far) {
                swap(k, near);
                near++;
            }
        }
    }

    private void swap(int one, int two) {
        if (one == two) {
            return;
        }
        int i1 = nodeI[one];
        int j1 = nodeJ[one];
        double b1 = bound[one];
        double x = along[3 * one];
        double y = along[3 * one + 1];
        double z = along[3 * one + 2];
        put(two, one);
        nodeI[two] = i1;
        nodeJ[two] = j1;
        bound[two] = b1;
        along[3 * two] = x;
        along[3 * two + 1] = y;
        along[3 * two + 2] = z;
    }
}
