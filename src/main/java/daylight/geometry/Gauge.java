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
 * a little is then measured in a fraction of the work. Where several pairs of spots are equally close, {@code
 * measure} may therefore give another of them than on a fresh gauge, and the distance may differ in its last digit;
 * {@link #proximity} starts afresh each time and gives the same answer on every run.
 *
 * <p>Not thread-safe: one per thread. Allocates nothing in steady state.
 */
public final class Gauge {
    private static final int REMEMBERED = 1024;
    private static final int SPOTS = 24;
    /** A witness this close to a true edge of a profile, as a share of the size, lies on it. */
    private static final double ON_EDGE_SHARE = 1e-9;

    private final PairGap pair = new PairGap();
    private final FloorSearch floor = new FloorSearch(pair);
    private double centre;

    // What is remembered of pairs measured before.
    private final @Nullable Solid[] knownP = new Solid[REMEMBERED];
    private final @Nullable Solid[] knownQ = new Solid[REMEMBERED];
    private final int[] knownI = new int[REMEMBERED];
    private final int[] knownJ = new int[REMEMBERED];
    private final int[] knownCorners = new int[REMEMBERED];
    private final double[] knownSpots = new double[REMEMBERED * SPOTS];
    private final double[] knownNormal = new double[REMEMBERED * 3];

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
        inside = false;
        int onlyP = p.child[p.root] < 0 ? ~p.child[p.root] : -1;
        int onlyQ = q.child[q.root] < 0 ? ~q.child[q.root] : -1;
        inWorld = onlyP >= 0 && onlyQ >= 0 && p.kind[onlyP] <= Solid.SEGMENT && q.kind[onlyQ] <= Solid.SEGMENT;
        if (inWorld) {
            piecePairs++;
            pair.segmentsInWorld(p, onlyP, poseP, q, onlyQ, poseQ);
            distance = pair.distance;
            exact = true;
            px = pair.onAx;
            py = pair.onAy;
            pz = pair.onAz;
            nx = pair.nx;
            ny = pair.ny;
            nz = pair.nz;
            return distance;
        }
        world.set(poseP);
        pair.place(poseP, poseQ);
        int slot = (int) ((p.mark * 31 + q.mark) >>> 20) & REMEMBERED - 1;
        boolean known = remember && knownP[slot] == p && knownQ[slot] == q;
        exact = false;
        distance = Double.POSITIVE_INFINITY;
        least = Double.POSITIVE_INFINITY;
        bestI = -1;
        if (onlyP >= 0 && onlyQ >= 0) {
            pieces(p, onlyP, q, onlyQ, noMoreThan, known ? slot : -1);
            if (!pair.boundOnly) {
                take(pair.distance);
            }
        } else {
            if (known) {
                int k = 3 * slot;
                nx = knownNormal[k];
                ny = knownNormal[k + 1];
                nz = knownNormal[k + 2];
            } else {
                nx = 0;
                ny = 0;
                nz = 0;
            }
            search(p, q, noMoreThan, known ? slot : -1);
        }
        for (ClosedMesh mesh : p.closed) {
            insideP(mesh, q);
        }
        for (ClosedMesh mesh : q.closed) {
            insideQ(mesh, p);
        }
        if (distance == Double.POSITIVE_INFINITY) {
            distance = Math.max(noMoreThan, least);
            if (distance == Double.POSITIVE_INFINITY) {
                throw new IllegalStateException("two solids have no distance; please report their shapes and poses");
            }
        } else {
            exact = true;
        }
        if (remember && bestI >= 0) {
            keep(slot, p, q);
        }
        return distance;
    }

    /** The two are always taken in the same order, so that swapping them changes no digit. */
    private void order(Solid a, Matrix4x3dc poseA, Solid b, Matrix4x3dc poseB) {
        swapped = a.mark > b.mark || (a.mark == b.mark && comesAfter(poseA, poseB));
    }

    private static boolean comesAfter(Matrix4x3dc a, Matrix4x3dc b) {
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

    /** Measures one pair of pieces, warm from a slot when that holds the same pair. */
    private void pieces(Solid p, int i, Solid q, int j, double noMoreThan, int slot) {
        piecePairs++;
        pair.choose(p, i, q, j);
        double dx = nx;
        double dy = ny;
        double dz = nz;
        if (slot >= 0 && knownI[slot] == i && knownJ[slot] == j) {
            int at = slot * SPOTS;
            int n = knownCorners[slot];
            for (int c = 0; c < n; c++) {
                pair.ax[c] = knownSpots[at];
                pair.ay[c] = knownSpots[at + 1];
                pair.az[c] = knownSpots[at + 2];
                pair.bx[c] = knownSpots[at + 3];
                pair.by[c] = knownSpots[at + 4];
                pair.bz[c] = knownSpots[at + 5];
                at += 6;
            }
            pair.corners = n;
        } else if (bestI < 0) {
            double[] ball = q.ball;
            double x = ball[4 * j];
            double y = ball[4 * j + 1];
            double z = ball[4 * j + 2];
            dx = pair.rxx * x + pair.rxy * y + pair.rxz * z + pair.tx - p.ball[4 * i];
            dy = pair.ryx * x + pair.ryy * y + pair.ryz * z + pair.ty - p.ball[4 * i + 1];
            dz = pair.rzx * x + pair.rzy * y + pair.rzz * z + pair.tz - p.ball[4 * i + 2];
        }
        pair.measure(dx, dy, dz, noMoreThan);
        if (pair.boundOnly) {
            least = Math.min(least, pair.distance);
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
    private final double[] bestSpots = new double[SPOTS];

    private void keep(int slot, Solid p, Solid q) {
        knownP[slot] = p;
        knownQ[slot] = q;
        knownI[slot] = bestI;
        knownJ[slot] = bestJ;
        knownCorners[slot] = bestCorners;
        System.arraycopy(bestSpots, 0, knownSpots, slot * SPOTS, 6 * bestCorners);
        knownNormal[3 * slot] = nx;
        knownNormal[3 * slot + 1] = ny;
        knownNormal[3 * slot + 2] = nz;
    }

    // ---- several pieces ---------------------------------------------------------------------------------

    private void search(Solid p, Solid q, double noMoreThan, int slot) {
        int skipI = -1;
        int skipJ = -1;
        if (slot >= 0 && p.guards == 0 && q.guards == 0) {
            skipI = knownI[slot];
            skipJ = knownJ[slot];
            pieces(p, skipI, q, skipJ, noMoreThan, slot);
            if (!pair.boundOnly) {
                take(pair.distance);
            }
        }
        height = 0;
        push(p.root, q.root, pair.boxes(p, p.root, q, q.root), Double.NEGATIVE_INFINITY);
        walk(p, q, noMoreThan, slot, skipI, skipJ);
        if (Math.min(distance, least) <= 0) {
            // What lies inside other pieces matters only once those are touched.
            pushDeep(p, p.deepRoot, q, q.root);
            pushDeep(p, p.root, q, q.deepRoot);
            pushDeep(p, p.deepRoot, q, q.deepRoot);
            walk(p, q, noMoreThan, slot, skipI, skipJ);
        }
    }

    private void pushDeep(Solid p, int i, Solid q, int j) {
        if (i >= 0 && j >= 0) {
            push(i, j, pair.boxes(p, i, q, j), Double.NEGATIVE_INFINITY);
        }
    }

    private void walk(Solid p, Solid q, double noMoreThan, int slot, int skipI, int skipJ) {
        while (height > 0) {
            height--;
            int i = stackI[height];
            int j = stackJ[height];
            double clamp = stackClamp[height];
            double limit = Math.min(distance, noMoreThan);
            if (stackBound[height] >= limit) {
                least = Math.min(least, stackBound[height]);
                continue;
            }
            if (p.clusterCount[i] > 0 && q.clusterCount[j] > 0) {
                clusters(p, i, q, j, clamp, noMoreThan, slot, skipI, skipJ);
                continue;
            }
            int pieceI = p.child[i] < 0 ? ~p.child[i] : p.guard[i];
            int pieceJ = q.child[j] < 0 ? ~q.child[j] : q.guard[j];
            if (pieceI < 0 || pieceJ < 0) {
                boolean splitP = pieceI < 0 && (pieceJ >= 0 || p.size(i) >= q.size(j));
                split(p, i, q, j, splitP, clamp, limit);
                continue;
            }
            if (pieceI == skipI && pieceJ == skipJ) {
                continue;
            }
            pieces(p, pieceI, q, pieceJ, limit, slot);
            if (pair.boundOnly) {
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
                        least = Math.min(least, tighter);
                    }
                    continue;
                }
            }
            double value = Math.max(pair.distance, clamp);
            if (value < distance) {
                take(value);
            }
        }
    }

    /** Measures all pairs of pieces under two small nodes that one direction does not keep apart. */
    private void clusters(
            Solid p, int i, Solid q, int j, double clamp, double noMoreThan, int slot, int skipI, int skipJ) {
        int fromI = p.clusterFirst[i];
        int toI = fromI + p.clusterCount[i];
        int fromJ = q.clusterFirst[j];
        int toJ = fromJ + q.clusterCount[j];
        boolean aimed = nx != 0 || ny != 0 || nz != 0;
        if (aimed) {
            for (int k = fromJ; k < toJ; k++) {
                low[k - fromJ] = pair.low(q, ~q.child[q.clustered[k]], nx, ny, nz);
            }
            for (int k = fromI; k < toI; k++) {
                high[k - fromI] = pair.high(p, ~p.child[p.clustered[k]], nx, ny, nz);
            }
        } else {
            Arrays.fill(low, Double.NEGATIVE_INFINITY);
            Arrays.fill(high, 0);
        }
        for (int k = fromI; k < toI; k++) {
            for (int l = fromJ; l < toJ; l++) {
                double limit = Math.min(distance, noMoreThan);
                double along = low[l - fromJ] - high[k - fromI];
                if (along >= limit) {
                    least = Math.min(least, along);
                    continue;
                }
                int leafI = p.clustered[k];
                int leafJ = q.clustered[l];
                int pieceI = ~p.child[leafI];
                int pieceJ = ~q.child[leafJ];
                if (pieceI == skipI && pieceJ == skipJ) {
                    continue;
                }
                double boxes = pair.boxes(p, leafI, q, leafJ, 0, 0, 0, limit);
                if (boxes >= limit) {
                    least = Math.min(least, boxes);
                    continue;
                }
                pieces(p, pieceI, q, pieceJ, limit, slot);
                double value = Math.max(pair.distance, clamp);
                if (!pair.boundOnly && value < distance) {
                    take(value);
                }
            }
        }
    }

    private final double[] low = new double[Solid.CLUSTER];
    private final double[] high = new double[Solid.CLUSTER];

    private void split(Solid p, int i, Solid q, int j, boolean splitP, double clamp, double limit) {
        int i1 = splitP ? p.child[i] : i;
        int j1 = splitP ? j : q.child[j];
        int i2 = splitP ? p.second[i] : i;
        int j2 = splitP ? j : q.second[j];
        double b1 = Math.max(clamp, pair.boxes(p, i1, q, j1, nx, ny, nz, limit));
        double b2 = Math.max(clamp, pair.boxes(p, i2, q, j2, nx, ny, nz, limit));
        if (b1 >= limit) {
            least = Math.min(least, b1);
        }
        if (b2 >= limit) {
            least = Math.min(least, b2);
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
