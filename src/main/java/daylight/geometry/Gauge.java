package daylight.geometry;

import java.util.Arrays;
import org.joml.Matrix4x3d;
import org.joml.Matrix4x3dc;
import org.joml.Vector3d;
import org.jspecify.annotations.Nullable;

/**
 * Measures the signed distance between two solids at given poses, with the two spots it lies between and the unit
 * normal.
 *
 * <p>Frame: the one the poses lead to, normally the car frame (ISO 8855); mm. Signs and what is always true of the
 * answer: as {@link Proximity} says.
 *
 * <pre>{@code
 * Gauge gauge = new Gauge();
 * double gapMm = gauge.measure(pipe, poseOfPipe, axle, poseOfAxle);
 * Vector3d onPipe = gauge.onA(new Vector3d());
 * }</pre>
 *
 * <p>For solids of several pieces the answer is that of the closest pair of pieces, and of the deepest pair when
 * some overlap.
 *
 * <p>A gauge remembers, for each pair of solids it measured lately, where they were closest; a pair that has moved
 * a little is then measured in a fraction of the work: against two planes across the last normal ({@link Slab}), or
 * among what came near before ({@link Recall}). Where several pairs of spots are equally close, {@code
 * measure} may therefore give another of them than on a fresh gauge, and the distance may differ in its last digit;
 * {@link #proximity} starts afresh each time and gives the same answer on every run.
 *
 * <p>Not thread-safe: one per thread. Allocates nothing in steady state.
 */
public final class Gauge {
    /** Places for remembered pairs; each pair may stand in one of {@link #WAYS} of them. */
    private static final int REMEMBERED = 4096;

    private static final int WAYS = 4;
    /** A front is made for about so many more steps like the last one: for more it gets too long with fine meshes. */
    private static final double STEPS_AHEAD = 4;
    /** A front that has grown to so many times its first length is made anew from the roots. */
    private static final int MOST_GROWN = 4;
    /** A front that would reach further than this share of the two solids is not made: they do not move coherently. */
    private static final double MOST_AHEAD_SHARE = 0.05;
    /** Pieces that share a corner are equally near; this share of the size, a hundredth of the promise, is no nearer. */
    private static final double SETTLED_SHARE = 1e-11;
    /** A pair too many of whose pieces reach between the planes is not tried in this way again so soon. */
    private static final int BROAD_REST = 32;
    /** More pairs of pieces than this, or than this share of all, are too many between the planes. */
    private static final int MOST_BETWEEN = 120;

    private static final double MOST_BETWEEN_SHARE = 0.125;

    /** A front for a pair that stands still reaches this share of the size. */
    private static final double LEAST_AHEAD_SHARE = 1e-9;

    /** A witness this close to a true edge of a profile, as a share of the size, lies on it. */
    private static final double ON_EDGE_SHARE = 1e-9;

    private final PairGap pair = new PairGap();
    private final FloorSearch floor = new FloorSearch(pair);
    private double centre;

    private final @Nullable Recall[] recalls = new @Nullable Recall[REMEMBERED];
    /** By how much more than the distance a front reaches while it is being made, mm; else zero. */
    private double ahead;

    private @Nullable Recall front;
    /** What cannot be nearer than this much below the distance found changes nothing, mm. */
    private double settled;

    private int seedI;
    private int seedJ;
    private double seedMm;

    /** Foot, direction and scratch of the question whether a spot lies inside a mesh. */
    private final double[] foot = new double[10];

    private static final int SQUARED = 9;
    private final int[] footStack = new int[128];
    private boolean inside;

    // Node pairs still to be looked at.
    private int[] stackI = new int[256];
    private int[] stackJ = new int[256];
    private double[] stackBound = new double[256];
    private double[] stackClamp = new double[256];
    private int height;

    // Answer, in the frame of the first solid of the pair as ordered (P); P's pose takes it to the world.
    private boolean swapped;
    private boolean exact;
    private double distance;
    private int bestI;
    private int bestJ;
    private double px;
    private double py;
    private double pz;
    private double nx;
    private double ny;
    private double nz;
    private final Matrix4x3d world = new Matrix4x3d();
    /** Whether the answer is in the world frame already. */
    private boolean inWorld;

    private double least;
    private long piecePairs;

    private final Matrix4x3d poseMatrixA = new Matrix4x3d();
    private final Matrix4x3d poseMatrixB = new Matrix4x3d();
    private final Vector3d vector = new Vector3d();

    /** Makes a gauge that remembers nothing yet. */
    public Gauge() {}

    /**
     * Returns the signed distance between two solids, mm. The getters then give its spots and normal.
     *
     * @param poseA where A's body is: rigid, body frame to world; not modified
     * @param poseB where B's body is; likewise
     */
    public double measure(Solid a, Matrix4x3dc poseA, Solid b, Matrix4x3dc poseB) {
        return measure(a, poseA, b, poseB, Double.POSITIVE_INFINITY);
    }

    /**
     * Returns the signed distance between two solids, mm, or, when that is at least {@code noMoreThan}, any number
     * from {@code noMoreThan} up to the true distance. {@link #isExact} tells which; without an exact answer the
     * getters for spots and normal give the ones of no particular pair.
     */
    public double measure(Solid a, Matrix4x3dc poseA, Solid b, Matrix4x3dc poseB, double noMoreThan) {
        if (a.bar && b.bar) {
            order(a, poseA, b, poseB);
            return swapped ? bars(b, poseB, a, poseA) : bars(a, poseA, b, poseB);
        }
        return measure(a, poseA, b, poseB, noMoreThan, true);
    }

    /** Returns the signed distance, spots and normal of two solids as a value; the same on every run. */
    public Proximity proximity(Solid a, Matrix4x3dc poseA, Solid b, Matrix4x3dc poseB) {
        measure(a, poseA, b, poseB, Double.POSITIVE_INFINITY, false);
        onA(vector);
        Spot onA = new Spot(vector.x, vector.y, vector.z);
        onB(vector);
        Spot onB = new Spot(vector.x, vector.y, vector.z);
        normal(vector);
        return new Proximity(distance, onA, onB, Direction.of(vector.x, vector.y, vector.z));
    }

    /** Returns the signed distance, spots and normal of two solids as a value; the same on every run. */
    public Proximity proximity(Solid a, Pose poseA, Solid b, Pose poseB) {
        return proximity(a, poseA.into(poseMatrixA), b, poseB.into(poseMatrixB));
    }

    /**
     * Returns a floor of the signed distance of two solids over everything their motions allow, mm: for no values
     * of the parameters within their boxes, and no shifts within their ranges, is it less. Proved, to second order:
     * halving all half widths quarters what the floor lacks, where the errors given shrink with them.
     *
     * <p>Afterwards {@link #centreMm}, {@link #spread} and {@link #towards} say how it came about, and the getters
     * for spots and normal give those of the centre position when {@link #isExact} says so.
     *
     * <p>Rounding: the floor is lowered by 1e-12 of the lengths that went into it, thousands of times what double
     * arithmetic can lose here; the errors in the motions are taken as given.
     *
     * <p>Each pair of pieces is looked at in the frame of the motions and in those of the two bodies, along the best
     * direction at the centre; a long tube or bar is cut into parts with directions of their own where that helps.
     *
     * <p>Cost: one measurement at the centre; then, for each pair of pieces that could decide, two support values
     * per corner of the box of parameters (of the first four; further ones are bounded by their sizes).
     *
     * @param motionA how A's body moves; its parameters are the same as B's, in the same order, or fewer
     * @param motionB how B's body moves
     * @param enough a floor that is enough: any proved bound that is at least this may come back; and when the first
     *     pair of pieces that cannot be held at it is found, the work ends with a first-order bound. Infinite for the
     *     best floor there is
     * @throws IllegalArgumentException if the two give one parameter different half widths
     */
    public double floor(Solid a, Wander motionA, Solid b, Wander motionB, double enough) {
        return floor(a, motionA, b, motionB, null, null, enough);
    }

    /**
     * The same for two bodies that share a spot, a ball joint or a hinge: seen from either, the other only turns about
     * it.
     *
     * @param shared the spot, mm, in the frame in which both bodies were drawn
     */
    public double floorAbout(Solid a, Wander motionA, Solid b, Wander motionB, Spot shared, double enough) {
        return floor(a, motionA, b, motionB, shared, null, enough);
    }

    /**
     * The same for two bodies on one hinge.
     *
     * @param shared a spot on the hinge's line
     * @param line the line's direction, in the frame in which both bodies were drawn
     */
    public double floorAbout(
            Solid a, Wander motionA, Solid b, Wander motionB, Spot shared, Direction line, double enough) {
        return floor(a, motionA, b, motionB, shared, line, enough);
    }

    private double floor(
            Solid a,
            Wander motionA,
            Solid b,
            Wander motionB,
            @Nullable Spot shared,
            @Nullable Direction line,
            double enough) {
        order(a, motionA.centre, b, motionB.centre);
        Solid p = swapped ? b : a;
        Solid q = swapped ? a : b;
        Wander motionP = swapped ? motionB : motionA;
        Wander motionQ = swapped ? motionA : motionB;
        pair.place(motionP.centre, motionQ.centre);
        floor.begin(p, motionP, q, motionQ, shared, line);
        centre = pair.boxes(p, p.root, q, q.root);
        exact = false;
        double approach = floor.approach(centre - enough);
        if (centre - approach >= enough) {
            return centre - approach;
        }
        centre = measure(a, motionA.centre, b, motionB.centre, enough + approach);
        if (!exact) {
            // No direction is known then; the bound is at least enough + approach, but for the last digit.
            return Math.max(enough, centre - approach);
        }
        if (centre - approach >= enough) {
            return centre - approach;
        }
        double x = nx;
        double y = ny;
        double z = nz;
        if (inWorld) {
            Matrix4x3dc m = motionP.centre;
            x = m.m00() * nx + m.m01() * ny + m.m02() * nz;
            y = m.m10() * nx + m.m11() * ny + m.m12() * nz;
            z = m.m20() * nx + m.m21() * ny + m.m22() * nz;
        }
        double proved = floor.floor(x, y, z, inWorld ? 0 : bestI, inWorld ? 0 : bestJ, enough);
        // Pairs of triangles say nothing about what is wholly inside a closed mesh. Nothing gets inside without
        // touching the surface on its way; where something does, the distance can fall no faster than things move.
        boolean meshes = p.closed.length + q.closed.length > 0;
        if (meshes && (inside || proved <= 0)) {
            return centre - approach;
        }
        return Math.max(centre - approach, proved);
    }

    /** Returns the signed distance at the centre that the last {@link #floor} found, mm, or a bound below it. */
    public double centreMm() {
        return centre;
    }

    /**
     * Returns how much of the last floor's distance below the centre parameter i is answerable for, mm, at the pair
     * of pieces that set the floor: straight-line part and errors together. Zero when no pair had to be looked at.
     */
    public double spread(int i) {
        return floor.spread[i];
    }

    /**
     * Returns the gap that the last floor's straight-line part alone would leave at its lowest corner, mm: a guess at
     * the gap there. Negative infinity when no pair had to be looked at.
     */
    public double guessMm() {
        return floor.guess;
    }

    /** Returns which end of parameter i the last floor's lowest corner lies at: -1 or +1. */
    public int towards(int i) {
        return floor.towards[i];
    }

    /** Returns whether the last answer is the distance itself, not only a bound that was enough. */
    public boolean isExact() {
        return exact;
    }

    /** Puts the witness on A, world frame, into a vector and returns it. */
    public Vector3d onA(Vector3d into) {
        return swapped ? second(into) : first(into);
    }

    /** Puts the witness on B, world frame, into a vector and returns it. */
    public Vector3d onB(Vector3d into) {
        return swapped ? first(into) : second(into);
    }

    /** Puts the unit normal from A to B, world frame, into a vector and returns it. */
    public Vector3d normal(Vector3d into) {
        double s = swapped ? -1 : 1;
        into.set(s * nx, s * ny, s * nz);
        return inWorld ? into : world.transformDirection(into);
    }

    /** Returns how many pairs of tree nodes were compared since the gauge was made. */
    public long nodePairs() {
        return pair.nodePairs;
    }

    /** Returns how many pairs of convex pieces were measured since the gauge was made. */
    public long piecePairs() {
        return piecePairs;
    }

    /** Returns how many support spots were evaluated since the gauge was made. */
    public long supports() {
        return pair.supports;
    }

    private Vector3d first(Vector3d into) {
        into.set(px, py, pz);
        return inWorld ? into : world.transformPosition(into);
    }

    private Vector3d second(Vector3d into) {
        into.set(px + distance * nx, py + distance * ny, pz + distance * nz);
        return inWorld ? into : world.transformPosition(into);
    }

    private double measure(
            Solid a, Matrix4x3dc poseA, Solid b, Matrix4x3dc poseB, double noMoreThan, boolean remember) {
        order(a, poseA, b, poseB);
        Solid p = swapped ? b : a;
        Solid q = swapped ? a : b;
        Matrix4x3dc poseP = swapped ? poseB : poseA;
        Matrix4x3dc poseQ = swapped ? poseA : poseB;
        if (p.bar && q.bar) {
            return bars(p, poseP, q, poseQ);
        }
        inside = false;
        inWorld = false;
        int onlyP = p.child[p.root] < 0 ? ~p.child[p.root] : -1;
        int onlyQ = q.child[q.root] < 0 ? ~q.child[q.root] : -1;
        world.set(poseP);
        pair.place(poseP, poseQ);
        Recall recall = remember ? recall(p, q) : null;
        Recall earlier = recall != null && recall.isOf(p, q) ? recall : null;
        double step = earlier != null ? Recall.moved(pair, earlier.last, q) : Double.POSITIVE_INFINITY;
        exact = false;
        distance = Double.POSITIVE_INFINITY;
        least = Double.POSITIVE_INFINITY;
        bestI = -1;
        if (onlyP >= 0 && onlyQ >= 0) {
            pieces(p, onlyP, q, onlyQ, noMoreThan, earlier);
            takeOrBound();
        } else {
            search(p, q, noMoreThan, earlier, step);
        }
        // Nothing gets inside without touching the surface on its way.
        if (!(earlier != null && earlier.outside && earlier.distance > step)) {
            for (ClosedMesh mesh : p.closed) {
                insideP(mesh, q);
            }
            for (ClosedMesh mesh : q.closed) {
                insideQ(mesh, p);
            }
        }
        if (distance == Double.POSITIVE_INFINITY) {
            distance = Math.max(noMoreThan, least);
            if (distance == Double.POSITIVE_INFINITY) {
                throw new IllegalStateException("two solids have no distance; please report their shapes and poses");
            }
        } else {
            exact = true;
        }
        if (recall != null && (earlier != null || bestI >= 0)) {
            keep(recall, p, q);
        }
        return distance;
    }

    /** Sine of the angle between two bars, squared: above this, products of lengths lose no more than two digits. */
    private static final double SLANTED = 0.01;
    /** Two centre lines further apart than this share of the bars' lengths, squared, lose no more than three. */
    private static final double NOT_NEAR = 1e-6;

    /**
     * Measures two straight tubes or balls in the world frame. Well apart and at an angle, the common case, from
     * products of lengths worked out beforehand (Ericson, Real-Time Collision Detection, 2005, 5.1.9); all others by
     * {@link PairGap}'s closed form, which costs twice as much and loses nothing.
     */
    private double bars(Solid p, Matrix4x3dc a, Solid q, Matrix4x3dc b) {
        piecePairs++;
        exact = true;
        inside = false;
        inWorld = true;
        double m00 = a.m00();
        double m01 = a.m01();
        double m02 = a.m02();
        double m10 = a.m10();
        double m11 = a.m11();
        double m12 = a.m12();
        double m20 = a.m20();
        double m21 = a.m21();
        double m22 = a.m22();
        double x = p.barX;
        double y = p.barY;
        double z = p.barZ;
        double fromX = m00 * x + m10 * y + m20 * z + a.m30();
        double fromY = m01 * x + m11 * y + m21 * z + a.m31();
        double fromZ = m02 * x + m12 * y + m22 * z + a.m32();
        x = p.barUx;
        y = p.barUy;
        z = p.barUz;
        double ux = m00 * x + m10 * y + m20 * z;
        double uy = m01 * x + m11 * y + m21 * z;
        double uz = m02 * x + m12 * y + m22 * z;
        m00 = b.m00();
        m01 = b.m01();
        m02 = b.m02();
        m10 = b.m10();
        m11 = b.m11();
        m12 = b.m12();
        m20 = b.m20();
        m21 = b.m21();
        m22 = b.m22();
        x = q.barX;
        y = q.barY;
        z = q.barZ;
        double dx = m00 * x + m10 * y + m20 * z + b.m30() - fromX;
        double dy = m01 * x + m11 * y + m21 * z + b.m31() - fromY;
        double dz = m02 * x + m12 * y + m22 * z + b.m32() - fromZ;
        x = q.barUx;
        y = q.barUy;
        z = q.barUz;
        double sx = m00 * x + m10 * y + m20 * z;
        double sy = m01 * x + m11 * y + m21 * z;
        double sz = m02 * x + m12 * y + m22 * z;
        double uu = p.barSquared;
        double ss = q.barSquared;
        double us = ux * sx + uy * sy + uz * sz;
        double du = dx * ux + dy * uy + dz * uz;
        double ds = dx * sx + dy * sy + dz * sz;
        double cc = uu * ss - us * us;
        if (cc > SLANTED * uu * ss) {
            // Where the two lines pass each other, times cc; then, where that is off an end, the nearest from there.
            double s = du * ss - us * ds;
            double t = us * du - uu * ds;
            if (s >= 0 && s <= cc && t >= 0 && t <= cc) {
                double inverse = 1 / cc;
                s *= inverse;
                t *= inverse;
            } else {
                s = s <= 0 ? 0 : s >= cc ? 1 : s / cc;
                t = s * us - ds;
                if (t > 0 && t < ss) {
                    t *= q.barInverse;
                } else {
                    t = t <= 0 ? 0 : 1;
                    s = du + t * us;
                    s = s <= 0 ? 0 : s >= uu ? 1 : s * p.barInverse;
                }
            }
            dx += t * sx - s * ux;
            dy += t * sy - s * uy;
            dz += t * sz - s * uz;
            double squared = dx * dx + dy * dy + dz * dz;
            if (squared > NOT_NEAR * (uu + ss)) {
                double length = Math.sqrt(squared);
                double inverse = 1 / length;
                nx = inverse * dx;
                ny = inverse * dy;
                nz = inverse * dz;
                double along = p.barRadius * inverse;
                px = fromX + s * ux + along * dx;
                py = fromY + s * uy + along * dy;
                pz = fromZ + s * uz + along * dz;
                distance = length - p.barRadius - q.barRadius;
                return distance;
            }
        }
        pair.segmentsInWorld(p, ~p.child[p.root], a, q, ~q.child[q.root], b);
        distance = pair.distance;
        px = pair.onAx;
        py = pair.onAy;
        pz = pair.onAz;
        nx = pair.nx;
        ny = pair.ny;
        nz = pair.nz;
        return distance;
    }

    private Recall recall(Solid p, Solid q) {
        long mixed = (p.mark * 31 + q.mark) * 0x9E3779B97F4A7C15L;
        int slot = (int) (mixed >>> 40) & REMEMBERED - 1;
        int free = -1;
        for (int way = 0; way < WAYS; way++) {
            Recall recall = recalls[slot ^ way];
            if (recall == null) {
                free = free < 0 ? way : free;
            } else if (recall.isOf(p, q)) {
                return recall;
            }
        }
        int taken = slot ^ (free >= 0 ? free : next++ & WAYS - 1);
        Recall recall = recalls[taken];
        if (recall == null) {
            recall = new Recall();
            recalls[taken] = recall;
        }
        return recall;
    }

    /** Which of a full set's places is given up next. */
    private int next;

    /** The two are always taken in the same order, so that swapping them changes no digit. */
    private void order(Solid a, Matrix4x3dc poseA, Solid b, Matrix4x3dc poseB) {
        swapped = a.mark > b.mark || (a.mark == b.mark && comesAfter(poseA, poseB));
    }

    private static boolean comesAfter(Matrix4x3dc a, Matrix4x3dc b) {
        if (a.m00() != b.m00()) {
            return a.m00() > b.m00();
        }
        for (int column = 0; column < 4; column++) {
            for (int row = 0; row < 3; row++) {
                double x = entry(a, column, row);
                double y = entry(b, column, row);
                if (x != y) {
                    return x > y;
                }
            }
        }
        return false;
    }

    /** Takes members of Q that lie inside a closed mesh of P: so deep as their inner ball and its spot are. */
    private void insideP(ClosedMesh mesh, Solid q) {
        double[] spots = q.inner;
        for (int i = 0; i < spots.length; i += 4) {
            double x = spots[i];
            double y = spots[i + 1];
            double z = spots[i + 2];
            double sx = pair.rxx * x + pair.rxy * y + pair.rxz * z + pair.tx;
            double sy = pair.ryx * x + pair.ryy * y + pair.ryz * z + pair.ty;
            double sz = pair.rzx * x + pair.rzy * y + pair.rzz * z + pair.tz;
            if (!mesh.holds(sx, sy, sz, foot, footStack)) {
                continue;
            }
            inside = true;
            double value = -Math.sqrt(foot[SQUARED]) - spots[i + 3];
            if (value < distance) {
                distance = value;
                px = foot[0];
                py = foot[1];
                pz = foot[2];
                nx = foot[3];
                ny = foot[4];
                nz = foot[5];
            }
        }
    }

    /** The same for members of P inside a closed mesh of Q. */
    private void insideQ(ClosedMesh mesh, Solid p) {
        double[] spots = p.inner;
        for (int i = 0; i < spots.length; i += 4) {
            double dx = spots[i] - pair.tx;
            double dy = spots[i + 1] - pair.ty;
            double dz = spots[i + 2] - pair.tz;
            double sx = pair.rxx * dx + pair.ryx * dy + pair.rzx * dz;
            double sy = pair.rxy * dx + pair.ryy * dy + pair.rzy * dz;
            double sz = pair.rxz * dx + pair.ryz * dy + pair.rzz * dz;
            if (!mesh.holds(sx, sy, sz, foot, footStack)) {
                continue;
            }
            inside = true;
            double value = -Math.sqrt(foot[SQUARED]) - spots[i + 3];
            if (value < distance) {
                distance = value;
                nx = -(pair.rxx * foot[3] + pair.rxy * foot[4] + pair.rxz * foot[5]);
                ny = -(pair.ryx * foot[3] + pair.ryy * foot[4] + pair.ryz * foot[5]);
                nz = -(pair.rzx * foot[3] + pair.rzy * foot[4] + pair.rzz * foot[5]);
                px = spots[i] + spots[i + 3] * nx;
                py = spots[i + 1] + spots[i + 3] * ny;
                pz = spots[i + 2] + spots[i + 3] * nz;
            }
        }
    }

    private static double entry(Matrix4x3dc m, int column, int row) {
        return switch (3 * column + row) {
            case 0 -> m.m00();
            case 1 -> m.m01();
            case 2 -> m.m02();
            case 3 -> m.m10();
            case 4 -> m.m11();
            case 5 -> m.m12();
            case 6 -> m.m20();
            case 7 -> m.m21();
            case 8 -> m.m22();
            case 9 -> m.m30();
            case 10 -> m.m31();
            default -> m.m32();
        };
    }

    /** Measures one pair of pieces, warm from what is remembered when that is the same pair. */
    private void pieces(Solid p, int i, Solid q, int j, double noMoreThan, @Nullable Recall known) {
        pieces(p, i, q, j, noMoreThan, known, nx, ny, nz);
    }

    private void pieces(
            Solid p, int i, Solid q, int j, double noMoreThan, @Nullable Recall known, double x, double y, double z) {
        piecePairs++;
        pair.choose(p, i, q, j);
        double dx = x;
        double dy = y;
        double dz = z;
        if (known != null && known.i == i && known.j == j) {
            int n = known.corners;
            double[] spots = known.spots;
            for (int c = 0, at = 0; c < n; c++, at += 6) {
                pair.ax[c] = spots[at];
                pair.ay[c] = spots[at + 1];
                pair.az[c] = spots[at + 2];
                pair.bx[c] = spots[at + 3];
                pair.by[c] = spots[at + 4];
                pair.bz[c] = spots[at + 5];
            }
            pair.corners = n;
        } else if (bestI < 0) {
            double[] ball = q.ball;
            double bx = ball[4 * j];
            double by = ball[4 * j + 1];
            double bz = ball[4 * j + 2];
            dx = pair.rxx * bx + pair.rxy * by + pair.rxz * bz + pair.tx - p.ball[4 * i];
            dy = pair.ryx * bx + pair.ryy * by + pair.ryz * bz + pair.ty - p.ball[4 * i + 1];
            dz = pair.rzx * bx + pair.rzy * by + pair.rzz * bz + pair.tz - p.ball[4 * i + 2];
        }
        pair.measure(dx, dy, dz, noMoreThan);
    }

    private void takeOrBound() {
        if (pair.boundOnly) {
            least = Math.min(least, pair.distance);
        } else if (pair.distance < distance) {
            take(pair.distance);
        }
    }

    private void take(double value) {
        distance = value;
        bestI = pair.pieceA;
        bestJ = pair.pieceB;
        px = pair.onAx;
        py = pair.onAy;
        pz = pair.onAz;
        nx = pair.nx;
        ny = pair.ny;
        nz = pair.nz;
        bestCorners = pair.corners;
        for (int c = 0, at = 0; c < bestCorners; c++) {
            bestSpots[at++] = pair.ax[c];
            bestSpots[at++] = pair.ay[c];
            bestSpots[at++] = pair.az[c];
            bestSpots[at++] = pair.bx[c];
            bestSpots[at++] = pair.by[c];
            bestSpots[at++] = pair.bz[c];
        }
    }

    private int bestCorners;
    private final double[] bestSpots = new double[Recall.SPOTS];

    private void keep(Recall recall, Solid p, Solid q) {
        if (!recall.isOf(p, q)) {
            recall.p = p;
            recall.q = q;
            recall.count = -1;
        }
        Recall.here(pair, recall.last);
        recall.distance = distance;
        recall.outside = !inside;
        if (bestI >= 0) {
            recall.i = bestI;
            recall.j = bestJ;
            recall.corners = bestCorners;
            System.arraycopy(bestSpots, 0, recall.spots, 0, 6 * bestCorners);
            recall.nx = nx;
            recall.ny = ny;
            recall.nz = nz;
        }
    }

    // ---- several pieces ---------------------------------------------------------------------------------

    private void search(Solid p, Solid q, double noMoreThan, @Nullable Recall known, double step) {
        seedI = -1;
        seedJ = -1;
        ahead = 0;
        front = null;
        nx = 0;
        ny = 0;
        nz = 0;
        boolean deep = p.deepRoot >= 0 || q.deepRoot >= 0;
        settled = SETTLED_SHARE * (p.radius + q.radius);
        if (known != null) {
            nx = known.nx;
            ny = known.ny;
            nz = known.nz;
            if (!p.guards(known.i) && !q.guards(known.j)) {
                seedI = known.i;
                seedJ = known.j;
                pieces(p, seedI, q, seedJ, noMoreThan, known);
                seedMm = pair.distance;
                if (!pair.boundOnly) {
                    take(seedMm);
                }
            }
            if (bestI >= 0 && (distance > 0 || !deep) && betweenSlab(p, q, known)) {
                return;
            }
            if (known.count >= 0 && followFront(p, q, noMoreThan, known, deep)) {
                return;
            }
            double size = p.radius + q.radius;
            double further = STEPS_AHEAD * step + LEAST_AHEAD_SHARE * size;
            if (further <= MOST_AHEAD_SHARE * size && known.weary == 0) {
                ahead = further;
                front = known;
            } else {
                known.weary = Math.max(0, known.weary - 1);
                known.count = -1;
            }
        }
        least = seedI >= 0 ? Math.max(seedMm, noMoreThan) : Double.POSITIVE_INFINITY;
        height = 0;
        if (front != null && front.count >= 0 && front.count <= MOST_GROWN * front.fresh) {
            renewFront(p, q, noMoreThan, front);
        } else {
            if (front != null) {
                front.begin(pair);
            }
            push(p.root, q.root, pair.boxes(p, p.root, q, q.root), Double.NEGATIVE_INFINITY);
            walk(p, q, noMoreThan, known);
            endFront(noMoreThan, true);
        }
        if (deep && Math.min(distance, least) <= 0) {
            // What lies inside other pieces matters only once those are touched. A front knows nothing of it.
            if (known != null) {
                known.count = -1;
            }
            pushDeep(p, p.deepRoot, q, q.root);
            pushDeep(p, p.root, q, q.deepRoot);
            pushDeep(p, p.deepRoot, q, q.deepRoot);
            walk(p, q, noMoreThan, known);
        }
    }

    private void endFront(double noMoreThan, boolean fresh) {
        if (front != null) {
            front.end(Math.min(distance - settled, noMoreThan) + ahead);
            if (fresh) {
                front.fresh = front.count;
            }
            front = null;
            ahead = 0;
        }
    }

    private final Recall again = new Recall();

    /** Looks again at those entries of a front that are near or that may have come near. */
    private void renewFront(Solid p, Solid q, double noMoreThan, Recall known) {
        double moved = Recall.moved(pair, known.base, q);
        double limit = Math.min(distance - settled, noMoreThan);
        int count = known.renew(pair, moved, limit + ahead, again);
        least = Math.min(least, limit + ahead);
        for (int k = 0; k < count; k++) {
            look(p, q, again, k, again.bound[k], noMoreThan, known);
        }
        endFront(noMoreThan, false);
    }

    private final Slab slabP = new Slab();
    private final Slab slabQ = new Slab();

    /** Measures only what reaches between two planes across the best normal; returns whether that settles the pair. */
    private boolean betweenSlab(Solid p, Solid q, Recall known) {
        if (known.broad > 0) {
            known.broad--;
            return false;
        }
        double x = nx;
        double y = ny;
        double z = nz;
        double bx = -(pair.rxx * x + pair.ryx * y + pair.rzx * z);
        double by = -(pair.rxy * x + pair.ryy * y + pair.rzy * z);
        double bz = -(pair.rxz * x + pair.ryz * y + pair.rzz * z);
        double across = x * pair.tx + y * pair.ty + z * pair.tz;
        double high = slabP.furthest(p, x, y, z, pair.high(p, bestI, x, y, z));
        double low = slabQ.furthest(q, bx, by, bz, across - pair.low(q, bestJ, x, y, z));
        // Only pieces less than this far behind the foremost of their solid can be nearer.
        double room = distance - (across - low - high);
        if (room <= settled) {
            return true;
        }
        if (!slabP.collect(p, x, y, z, high - room)
                || !slabQ.collect(q, bx, by, bz, low - room)
                || slabP.count * slabQ.count > Math.min(MOST_BETWEEN, MOST_BETWEEN_SHARE * p.pieces() * q.pieces())) {
            known.broad = BROAD_REST;
            return false;
        }
        for (int k = 0; k < slabP.count; k++) {
            for (int l = 0; l < slabQ.count; l++) {
                double bound = across - slabQ.reach[l] - slabP.reach[k];
                if (bound < distance && (slabP.piece[k] != seedI || slabQ.piece[l] != seedJ)) {
                    pieces(p, slabP.piece[k], q, slabQ.piece[l], distance, known);
                    takeOrBound();
                }
            }
        }
        return distance > 0 || (p.deepRoot < 0 && q.deepRoot < 0);
    }

    /** Looks at what the front says may be near; returns whether that proves the distance. */
    private boolean followFront(Solid p, Solid q, double noMoreThan, Recall known, boolean deep) {
        double moved = Recall.moved(pair, known.base, q);
        double rest = known.rest - moved;
        if (!(rest >= Math.min(distance, noMoreThan))) {
            return false;
        }
        height = 0;
        for (int k = 0; k < known.near; k++) {
            look(p, q, known, k, known.bound[k] - moved, noMoreThan, known);
        }
        least = Math.min(least, rest);
        return !(deep && Math.min(distance, least) <= 0);
    }

    /** Looks at what is under an entry of a front that is at least so far apart now. */
    private void look(Solid p, Solid q, Recall from, int k, double bound, double noMoreThan, Recall known) {
        int i = from.nodeI[k];
        int j = from.nodeJ[k];
        if (bound >= Math.min(distance - settled, noMoreThan) + ahead) {
            note(i, j, bound, from.along[3 * k], from.along[3 * k + 1], from.along[3 * k + 2]);
        } else if (p.clusterCount[i] > 0 && q.clusterCount[j] > 0) {
            double x = from.along[3 * k];
            double y = from.along[3 * k + 1];
            double z = from.along[3 * k + 2];
            clusters(p, i, q, j, x, y, z, Double.NEGATIVE_INFINITY, noMoreThan, known);
        } else {
            push(i, j, bound, Double.NEGATIVE_INFINITY);
            walk(p, q, noMoreThan, known);
        }
    }

    private void pushDeep(Solid p, int i, Solid q, int j) {
        if (i >= 0 && j >= 0) {
            push(i, j, pair.boxes(p, i, q, j), Double.NEGATIVE_INFINITY);
        }
    }

    private void walk(Solid p, Solid q, double noMoreThan, @Nullable Recall known) {
        while (height > 0) {
            height--;
            int i = stackI[height];
            int j = stackJ[height];
            double clamp = stackClamp[height];
            double limit = Math.min(distance - settled, noMoreThan) + ahead;
            if (stackBound[height] >= limit) {
                note(i, j, stackBound[height], 0, 0, 0);
                continue;
            }
            if (p.clusterCount[i] > 0 && q.clusterCount[j] > 0) {
                clusters(p, i, q, j, 0, 0, 0, clamp, noMoreThan, known);
                continue;
            }
            int pieceI = p.child[i] < 0 ? ~p.child[i] : p.guard[i];
            int pieceJ = q.child[j] < 0 ? ~q.child[j] : q.guard[j];
            if (pieceI < 0 || pieceJ < 0) {
                boolean splitP = pieceI < 0 && (pieceJ >= 0 || p.size(i) >= q.size(j));
                split(p, i, q, j, splitP, clamp, limit);
                continue;
            }
            if (pieceI == seedI && pieceJ == seedJ) {
                note(i, j, seedMm, nx, ny, nz);
                continue;
            }
            pieces(p, pieceI, q, pieceJ, limit, known);
            if (pair.boundOnly) {
                note(i, j, pair.distance, pair.nx, pair.ny, pair.nz);
                continue;
            }
            boolean guardI = p.child[i] >= 0;
            boolean guardJ = q.child[j] >= 0;
            if (guardI || guardJ) {
                double apart = pair.distance;
                boolean trueI = !guardI || (apart > 0 && isTrueP(p, pieceI));
                boolean trueJ = !guardJ || (apart > 0 && isTrueQ(q, pieceJ));
                if (!trueI || !trueJ) {
                    double tighter = apart > 0 ? Math.max(clamp, apart) : clamp;
                    if (tighter < limit) {
                        split(p, i, q, j, !trueI, tighter, limit);
                    } else {
                        note(i, j, tighter, 0, 0, 0);
                    }
                    continue;
                }
            }
            double value = Math.max(pair.distance, clamp);
            note(i, j, value, pair.nx, pair.ny, pair.nz);
            if (value < distance) {
                take(value);
            }
        }
    }

    /** What lies under two nodes is at least so far apart: into the front that is being made, or out of the way. */
    private void note(int i, int j, double bound, double x, double y, double z) {
        if (front != null) {
            front.add(i, j, bound, x, y, z);
        }
        least = Math.min(least, bound);
    }

    /**
     * Measures all pairs of pieces under two small nodes that one direction does not keep apart.
     *
     * @param x a direction that kept them apart before, P's frame, unit; or zero: y and z likewise
     */
    private void clusters(
            Solid p,
            int i,
            Solid q,
            int j,
            double x,
            double y,
            double z,
            double clamp,
            double noMoreThan,
            @Nullable Recall recall) {
        int fromI = p.clusterFirst[i];
        int toI = fromI + p.clusterCount[i];
        int fromJ = q.clusterFirst[j];
        int toJ = fromJ + q.clusterCount[j];
        int wide = toJ - fromJ;
        int pairs = (toI - fromI) * wide;
        double limit = Math.min(distance - settled, noMoreThan);
        double far = limit + ahead;
        double lowest = Double.NEGATIVE_INFINITY;
        double ux = nx;
        double uy = ny;
        double uz = nz;
        boolean aimed = nx != 0 || ny != 0 || nz != 0;
        boolean known = x != 0 || y != 0 || z != 0;
        if (aimed) {
            lowest = pair.clusters(p, i, q, j, nx, ny, nz);
        }
        if (lowest < far && known) {
            double own = pair.clusters(p, i, q, j, x, y, z);
            if (own > lowest) {
                lowest = own;
                ux = x;
                uy = y;
                uz = z;
            }
        }
        double mx = 0;
        double my = 0;
        double mz = 0;
        if (lowest < (known ? limit : far)) {
            // Along the line between the two middles, which is nearly the direction of all that is in there.
            double[] u = p.box;
            double[] v = q.box;
            int a = Solid.BOX_NUMBERS * i;
            int b = Solid.BOX_NUMBERS * j;
            double dx = pair.rxx * v[b] + pair.rxy * v[b + 1] + pair.rxz * v[b + 2] + pair.tx - u[a];
            double dy = pair.ryx * v[b] + pair.ryy * v[b + 1] + pair.ryz * v[b + 2] + pair.ty - u[a + 1];
            double dz = pair.rzx * v[b] + pair.rzy * v[b + 1] + pair.rzz * v[b + 2] + pair.tz - u[a + 2];
            double between = Math.sqrt(dx * dx + dy * dy + dz * dz);
            if (between > 0) {
                mx = dx / between;
                my = dy / between;
                mz = dz / between;
                double own = pair.clusters(p, i, q, j, mx, my, mz);
                if (own > lowest) {
                    lowest = own;
                    ux = mx;
                    uy = my;
                    uz = mz;
                }
            }
        }
        if (lowest >= limit) {
            note(i, j, lowest, ux, uy, uz);
            return;
        }
        Arrays.fill(cleared, 0, pairs, Double.NEGATIVE_INFINITY);
        if (aimed) {
            lowest = clear(p, fromI, toI, q, fromJ, toJ, nx, ny, nz);
        }
        if (lowest < limit && known) {
            lowest = clear(p, fromI, toI, q, fromJ, toJ, x, y, z);
        }
        if (lowest < limit) {
            lowest = clear(p, fromI, toI, q, fromJ, toJ, mx, my, mz);
        }
        for (int at = 0; lowest < limit && at < pairs; at++) {
            limit = Math.min(distance - settled, noMoreThan);
            if (cleared[at] >= limit) {
                continue;
            }
            int pieceI = ~p.child[p.clustered[fromI + at / wide]];
            int pieceJ = ~q.child[q.clustered[fromJ + at % wide]];
            if (pieceI == seedI && pieceJ == seedJ) {
                cleared[at] = seedMm;
                continue;
            }
            pieces(p, pieceI, q, pieceJ, limit, recall);
            ux = pair.nx;
            uy = pair.ny;
            uz = pair.nz;
            double value = Math.max(pair.distance, clamp);
            cleared[at] = value;
            if (!pair.boundOnly && value < distance) {
                take(value);
            }
        }
        if (lowest < limit) {
            lowest = Double.POSITIVE_INFINITY;
            for (int at = 0; at < pairs; at++) {
                lowest = Math.min(lowest, cleared[at]);
            }
        }
        note(i, j, lowest, ux, uy, uz);
    }

    /**
     * Bounds all pairs of pieces of two clusters along one direction, and keeps what is better. Returns the least of the
     * bounds.
     */
    private double clear(Solid p, int fromI, int toI, Solid q, int fromJ, int toJ, double x, double y, double z) {
        int wide = toJ - fromJ;
        double bx = -(pair.rxx * x + pair.ryx * y + pair.rzx * z);
        double by = -(pair.rxy * x + pair.ryy * y + pair.rzy * z);
        double bz = -(pair.rxz * x + pair.ryz * y + pair.rzz * z);
        double across = x * pair.tx + y * pair.ty + z * pair.tz;
        for (int l = 0; l < wide; l++) {
            low[l] = across - pair.reachB(q, ~q.child[q.clustered[fromJ + l]], bx, by, bz);
        }
        double lowest = Double.POSITIVE_INFINITY;
        int at = 0;
        for (int k = fromI; k < toI; k++) {
            double high = pair.high(p, ~p.child[p.clustered[k]], x, y, z);
            for (int l = 0; l < wide; l++) {
                double along = low[l] - high;
                if (cleared[at] > along) {
                    along = cleared[at];
                }
                cleared[at] = along;
                lowest = Math.min(lowest, along);
                at++;
            }
        }
        return lowest;
    }

    private final double[] cleared = new double[Solid.CLUSTER * Solid.CLUSTER];
    private final double[] low = new double[Solid.CLUSTER];

    private void split(Solid p, int i, Solid q, int j, boolean splitP, double clamp, double limit) {
        int i1 = splitP ? p.child[i] : i;
        int j1 = splitP ? j : q.child[j];
        int i2 = splitP ? p.second[i] : i;
        int j2 = splitP ? j : q.second[j];
        double b1 = Math.max(clamp, pair.boxes(p, i1, q, j1, nx, ny, nz, limit));
        double b2 = Math.max(clamp, pair.boxes(p, i2, q, j2, nx, ny, nz, limit));
        if (b1 >= limit) {
            note(i1, j1, b1, 0, 0, 0);
        }
        if (b2 >= limit) {
            note(i2, j2, b2, 0, 0, 0);
        }
        // The nearer one goes on top.
        if (b1 <= b2) {
            if (b2 < limit) {
                push(i2, j2, b2, clamp);
            }
            if (b1 < limit) {
                push(i1, j1, b1, clamp);
            }
        } else {
            if (b1 < limit) {
                push(i1, j1, b1, clamp);
            }
            if (b2 < limit) {
                push(i2, j2, b2, clamp);
            }
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

    private boolean isTrueP(Solid p, int guard) {
        return isTrue(p, guard, pair.coreAx, pair.coreAy, pair.coreAz);
    }

    private boolean isTrueQ(Solid q, int guard) {
        double dx = pair.coreBx - pair.tx;
        double dy = pair.coreBy - pair.ty;
        double dz = pair.coreBz - pair.tz;
        return isTrue(
                q,
                guard,
                pair.rxx * dx + pair.ryx * dy + pair.rzx * dz,
                pair.rxy * dx + pair.ryy * dy + pair.rzy * dz,
                pair.rxz * dx + pair.ryz * dy + pair.rzz * dz);
    }

    /** Whether a spot of a guard's core surface, body frame, lies on the true surface of the part. */
    private static boolean isTrue(Solid s, int guard, double x, double y, double z) {
        double[] n = s.numbers;
        int at = s.first[guard];
        double dx = x - n[at];
        double dy = y - n[at + 1];
        double dz = z - n[at + 2];
        double h = dx * n[at + 3] + dy * n[at + 4] + dz * n[at + 5];
        double r = Math.sqrt(Math.max(0, dx * dx + dy * dy + dz * dz - h * h));
        double near = ON_EDGE_SHARE * (s.ball[4 * guard + 3] + Math.abs(h) + r);
        double[] edges = s.trueEdges;
        int from = 4 * s.trueFirst[guard];
        int to = from + 4 * s.trueCount[guard];
        for (int e = from; e < to; e += 4) {
            double eh = edges[e + 2] - edges[e];
            double er = edges[e + 3] - edges[e + 1];
            double gh = h - edges[e];
            double gr = r - edges[e + 1];
            double length = eh * eh + er * er;
            double t = Math.max(0, Math.min(1, (gh * eh + gr * er) / length));
            double fh = gh - t * eh;
            double fr = gr - t * er;
            if (fh * fh + fr * fr <= near * near) {
                return true;
            }
        }
        return false;
    }
}
