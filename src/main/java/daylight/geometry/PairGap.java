package daylight.geometry;

import org.joml.Matrix4x3dc;

/**
 * The signed distance between one convex piece of one solid and one of another, with the two spots and the unit
 * normal between them. Mutable, one per engine, not thread-safe, allocates nothing once made.
 *
 * <p>Works in the body frame of A; {@link #place} says how B's frame lies in it. Cores first: the distance between
 * them where they are apart, the least move that parts them where they are not; the rounding radii are then taken
 * off, which is exact for both.
 *
 * <p>Two segments (or spots): closed form. Everything else: the algorithm of Gilbert, Johnson and Keerthi (IEEE J.
 * Robotics and Automation 4, 1988) on Minkowski difference A - B. Each step's nearest spot of the simplex is taken
 * from its faces, edges and corners by the signs of their own barycentric coordinates, with every figure formed
 * from edge vectors, not from the far corners; a step that makes no progress ends the search and is checked with
 * the simplex's own normal. Overlapping cores go to {@link CoreDepth}.
 */
final class PairGap {
    /** Cores nearer than this share of their size count as touching; the normal then comes from a face. */
    private static final double TOUCH_SHARE = 1e-11;
    /** The search ends when the distance is known to this share of the size. */
    private static final double GOOD_SHARE = 1e-11;

    private static final int STEPS = 256;
    /** Stands for both solids until some are chosen. */
    private static final Solid NOTHING = Solid.of(new Shape.Ball(Spot.ORIGIN, 1));

    // How B lies in A: spot of A's frame = r * (spot of B's frame) + t.
    double rxx = 1;
    double rxy;
    double rxz;
    double ryx;
    double ryy = 1;
    double ryz;
    double rzx;
    double rzy;
    double rzz = 1;
    double tx;
    double ty;
    double tz;

    /** Pairs of tree nodes compared since the engine was made. */
    long nodePairs;

    private final Support support = new Support();
    private final CoreDepth depth = new CoreDepth(this);

    Solid a = NOTHING;
    Solid b = NOTHING;
    int pieceA;
    int pieceB;

    // The simplex: corners of A - B with the two spots each comes from (a in A's frame, b in B's own frame).
    int corners;
    final double[] wx = new double[4];
    final double[] wy = new double[4];
    final double[] wz = new double[4];
    final double[] ax = new double[4];
    final double[] ay = new double[4];
    final double[] az = new double[4];
    final double[] bx = new double[4];
    final double[] by = new double[4];
    final double[] bz = new double[4];
    private final double[] share = new double[4];

    // Nearest spot of the simplex to the origin, and the best candidate while one is sought.
    private double vx;
    private double vy;
    private double vz;
    private double vv;
    private double candidateVv;
    private double candidateX;
    private double candidateY;
    private double candidateZ;
    private int candidateCount;
    private final int[] candidate = new int[4];
    private final double[] candidateShare = new double[4];

    /** Signed distance found last, mm. */
    double distance;
    /** Whether {@link #distance} is only a bound from below that was enough. */
    boolean boundOnly;
    /** Witness on A's surface, A's frame. */
    double onAx;

    double onAy;
    double onAz;
    /** Witness on B's surface, A's frame. */
    double onBx;

    double onBy;
    double onBz;
    /** Unit normal from A to B, A's frame. */
    double nx;

    double ny;
    double nz;
    /** Witness on A's core, A's frame. */
    double coreAx;

    double coreAy;
    double coreAz;
    /** Witness on B's core, A's frame. */
    double coreBx;

    double coreBy;
    double coreBz;
    /** Support evaluations since the engine was made: the measure of work. */
    long supports;
    /** By how much the last search's distance may be above the true one, mm. */
    double slack;

    /** Sets which pieces are meant. */
    void choose(Solid solidA, int a0, Solid solidB, int b0) {
        a = solidA;
        b = solidB;
        pieceA = a0;
        pieceB = b0;
        corners = 0;
    }

    /**
     * Measures the chosen pieces. The simplex left from before ({@link #corners} and its arrays of spots) is the
     * start if there is one; otherwise the direction given is (from A to B, A's frame, any length).
     *
     * @param noMoreThan a distance that is enough: when the true one is at least this, any bound from below that
     *     is at least this may come back, with {@link #boundOnly} set, the direction it was found along and no spots
     */
    void measure(double dx, double dy, double dz, double noMoreThan) {
        boundOnly = false;
        slack = 0;
        int kindA = a.kind[pieceA];
        int kindB = b.kind[pieceB];
        double radii = a.rounding[pieceA] + b.rounding[pieceB];
        if (kindA <= Solid.SEGMENT && kindB <= Solid.SEGMENT) {
            segments(kindA, kindB, radii);
            return;
        }
        double size = a.ball[4 * pieceA + 3] + b.ball[4 * pieceB + 3];
        double touch = TOUCH_SHARE * size;
        double good = GOOD_SHARE * size;
        if (corners == 0) {
            double length = Math.abs(dx) + Math.abs(dy) + Math.abs(dz);
            if (length > 0) {
                corner(dx, dy, dz);
            } else {
                corner(1, 0, 0);
            }
        } else {
            for (int i = 0; i < corners; i++) {
                relate(i);
            }
        }
        vv = Double.POSITIVE_INFINITY;
        boolean checked = false;
        for (int step = 0; ; step++) {
            boolean inside = nearest();
            if (inside) {
                deep(size, radii);
                return;
            }
            if (candidateVv < vv) {
                accept();
                checked = false;
            } else {
                corners--;
                // No progress: the direction was as good as rounding allows, unless the simplex's own normal is better.
                if (checked || !ownNormal()) {
                    break;
                }
                checked = true;
                int n = corners;
                corner(ownX, ownY, ownZ);
                double d = (vx * ownX + vy * ownY + vz * ownZ);
                double reach = wx[n] * ownX + wy[n] * ownY + wz[n] * ownZ;
                slack = Math.max(0, reach - d);
                if (reach - d <= good || known(n)) {
                    corners = n;
                    break;
                }
                continue;
            }
            if (vv <= touch * touch) {
                deep(size, radii);
                return;
            }
            if (step >= STEPS) {
                break;
            }
            int n = corners;
            corner(-vx, -vy, -vz);
            double vw = vx * wx[n] + vy * wy[n] + vz * wz[n];
            double length = Math.sqrt(vv);
            if (vw > 0 && vw / length - radii >= noMoreThan) {
                corners = n;
                distance = vw / length - radii;
                nx = -vx / length;
                ny = -vy / length;
                nz = -vz / length;
                boundOnly = true;
                return;
            }
            slack = (vv - vw) / length;
            if (slack <= good) {
                corners = n;
                break;
            }
            if (n == 4 || known(n)) {
                corners = n;
                break;
            }
        }
        apart(radii);
    }

    private double ownX;
    private double ownY;
    private double ownZ;

    /**
     * Finds the direction of the simplex's own normal, towards the origin: for a face and an edge it is more exact
     * than the nearest spot when that is close to the origin. Returns whether there is one.
     */
    private boolean ownNormal() {
        if (corners == 3) {
            double e1x = wx[1] - wx[0];
            double e1y = wy[1] - wy[0];
            double e1z = wz[1] - wz[0];
            double e2x = wx[2] - wx[0];
            double e2y = wy[2] - wy[0];
            double e2z = wz[2] - wz[0];
            ownX = e1y * e2z - e1z * e2y;
            ownY = e1z * e2x - e1x * e2z;
            ownZ = e1x * e2y - e1y * e2x;
        } else if (corners == 2) {
            double ex = wx[1] - wx[0];
            double ey = wy[1] - wy[0];
            double ez = wz[1] - wz[0];
            double px = ey * vz - ez * vy;
            double py = ez * vx - ex * vz;
            double pz = ex * vy - ey * vx;
            ownX = py * ez - pz * ey;
            ownY = pz * ex - px * ez;
            ownZ = px * ey - py * ex;
        } else {
            return false;
        }
        double length = Math.sqrt(ownX * ownX + ownY * ownY + ownZ * ownZ);
        if (!(length > 0)) {
            return false;
        }
        double sign = ownX * vx + ownY * vy + ownZ * vz > 0 ? -1 / length : 1 / length;
        ownX *= sign;
        ownY *= sign;
        ownZ *= sign;
        return true;
    }

    private boolean known(int n) {
        for (int i = 0; i < n; i++) {
            if (wx[i] == wx[n] && wy[i] == wy[n] && wz[i] == wz[n]) {
                return true;
            }
        }
        return false;
    }

    private void apart(double radii) {
        double length = Math.sqrt(vv);
        nx = -vx / length;
        ny = -vy / length;
        nz = -vz / length;
        double px = 0;
        double py = 0;
        double pz = 0;
        for (int i = 0; i < corners; i++) {
            px += share[i] * ax[i];
            py += share[i] * ay[i];
            pz += share[i] * az[i];
        }
        finish(length, px, py, pz, radii);
    }

    /** Fills in the answer from the cores' signed distance, A's core witness and the normal (in place). */
    private void finish(double cores, double px, double py, double pz, double radii) {
        double ra = a.rounding[pieceA];
        coreAx = px;
        coreAy = py;
        coreAz = pz;
        coreBx = px + cores * nx;
        coreBy = py + cores * ny;
        coreBz = pz + cores * nz;
        distance = cores - radii;
        onAx = px + ra * nx;
        onAy = py + ra * ny;
        onAz = pz + ra * nz;
        onBx = onAx + distance * nx;
        onBy = onAy + distance * ny;
        onBz = onAz + distance * nz;
    }

    private void deep(double size, double radii) {
        depth.measure(size);
        nx = depth.nx;
        ny = depth.ny;
        nz = depth.nz;
        slack = depth.slack;
        finish(-depth.depth, depth.onAx, depth.onAy, depth.onAz, radii);
        corners = 0;
    }

    /** Adds the corner of A - B furthest in direction d (A's frame). */
    void corner(double dx, double dy, double dz) {
        int n = corners;
        support.of(a, pieceA, dx, dy, dz);
        ax[n] = support.x;
        ay[n] = support.y;
        az[n] = support.z;
        support.of(
                b,
                pieceB,
                -(rxx * dx + ryx * dy + rzx * dz),
                -(rxy * dx + ryy * dy + rzy * dz),
                -(rxz * dx + ryz * dy + rzz * dz));
        bx[n] = support.x;
        by[n] = support.y;
        bz[n] = support.z;
        supports++;
        relate(n);
        corners = n + 1;
    }

    private void relate(int i) {
        wx[i] = ax[i] - (rxx * bx[i] + rxy * by[i] + rxz * bz[i] + tx);
        wy[i] = ay[i] - (ryx * bx[i] + ryy * by[i] + ryz * bz[i] + ty);
        wz[i] = az[i] - (rzx * bx[i] + rzy * by[i] + rzz * bz[i] + tz);
    }

    // ---- nearest spot of a simplex ----------------------------------------------------------------------

    /** Seeks the nearest spot of the simplex to the origin; true when the origin is inside it. */
    private boolean nearest() {
        candidateVv = Double.POSITIVE_INFINITY;
        switch (corners) {
            case 1 -> spot(0);
            case 2 -> edge(0, 1);
            case 3 -> face(0, 1, 2);
            default -> {
                boolean outside = sideOf(0, 1, 2, 3);
                if (outside) {
                    face(0, 1, 2);
                }
                if (sideOf(0, 1, 3, 2)) {
                    outside = true;
                    face(0, 1, 3);
                }
                if (sideOf(0, 2, 3, 1)) {
                    outside = true;
                    face(0, 2, 3);
                }
                if (sideOf(1, 2, 3, 0)) {
                    outside = true;
                    face(1, 2, 3);
                }
                return !outside;
            }
        }
        return false;
    }

    /** A tetrahedron flatter than this share of its edges' product has no inside. */
    private static final double FLAT = 1e-13;

    /** Whether the origin is on the far side of face i, j, k from corner l, or the tetrahedron is flat there. */
    private boolean sideOf(int i, int j, int k, int l) {
        double e1x = wx[j] - wx[i];
        double e1y = wy[j] - wy[i];
        double e1z = wz[j] - wz[i];
        double e2x = wx[k] - wx[i];
        double e2y = wy[k] - wy[i];
        double e2z = wz[k] - wz[i];
        double nX = e1y * e2z - e1z * e2y;
        double nY = e1z * e2x - e1x * e2z;
        double nZ = e1x * e2y - e1y * e2x;
        double e3x = wx[l] - wx[i];
        double e3y = wy[l] - wy[i];
        double e3z = wz[l] - wz[i];
        double volume = nX * e3x + nY * e3y + nZ * e3z;
        double side = -(nX * wx[i] + nY * wy[i] + nZ * wz[i]);
        if (volume > 0 ? side < 0 : side > 0) {
            return true;
        }
        double edges = (Math.abs(e1x) + Math.abs(e1y) + Math.abs(e1z))
                * (Math.abs(e2x) + Math.abs(e2y) + Math.abs(e2z))
                * (Math.abs(e3x) + Math.abs(e3y) + Math.abs(e3z));
        return Math.abs(volume) <= FLAT * edges;
    }

    private void face(int i, int j, int k) {
        double e1x = wx[j] - wx[i];
        double e1y = wy[j] - wy[i];
        double e1z = wz[j] - wz[i];
        double e2x = wx[k] - wx[i];
        double e2y = wy[k] - wy[i];
        double e2z = wz[k] - wz[i];
        double nX = e1y * e2z - e1z * e2y;
        double nY = e1z * e2x - e1x * e2z;
        double nZ = e1x * e2y - e1y * e2x;
        double nn = nX * nX + nY * nY + nZ * nZ;
        double ee1 = e1x * e1x + e1y * e1y + e1z * e1z;
        double ee2 = e2x * e2x + e2y * e2y + e2z * e2z;
        if (!(nn > 1e-28 * ee1 * ee2)) {
            edge(i, j);
            edge(i, k);
            edge(j, k);
            return;
        }
        double px = -wx[i];
        double py = -wy[i];
        double pz = -wz[i];
        double lj = (nX * (py * e2z - pz * e2y) + nY * (pz * e2x - px * e2z) + nZ * (px * e2y - py * e2x)) / nn;
        double lk = (nX * (e1y * pz - e1z * py) + nY * (e1z * px - e1x * pz) + nZ * (e1x * py - e1y * px)) / nn;
        double li = 1 - lj - lk;
        if (li > 0 && lj > 0 && lk > 0) {
            double x = wx[i] + lj * e1x + lk * e2x;
            double y = wy[i] + lj * e1y + lk * e2y;
            double z = wz[i] + lj * e1z + lk * e2z;
            double dd = x * x + y * y + z * z;
            if (dd < candidateVv) {
                candidateVv = dd;
                candidateX = x;
                candidateY = y;
                candidateZ = z;
                candidateCount = 3;
                candidate[0] = i;
                candidate[1] = j;
                candidate[2] = k;
                candidateShare[0] = li;
                candidateShare[1] = lj;
                candidateShare[2] = lk;
            }
            return;
        }
        if (lk <= 0) {
            edge(i, j);
        }
        if (lj <= 0) {
            edge(i, k);
        }
        if (li <= 0) {
            edge(j, k);
        }
    }

    private void edge(int i, int j) {
        double ex = wx[j] - wx[i];
        double ey = wy[j] - wy[i];
        double ez = wz[j] - wz[i];
        double ee = ex * ex + ey * ey + ez * ez;
        double along = -(wx[i] * ex + wy[i] * ey + wz[i] * ez);
        if (!(along > 0)) {
            spot(i);
        } else if (along >= ee) {
            spot(j);
        } else {
            double lj = along / ee;
            double x = wx[i] + lj * ex;
            double y = wy[i] + lj * ey;
            double z = wz[i] + lj * ez;
            double dd = x * x + y * y + z * z;
            if (dd < candidateVv) {
                candidateVv = dd;
                candidateX = x;
                candidateY = y;
                candidateZ = z;
                candidateCount = 2;
                candidate[0] = i;
                candidate[1] = j;
                candidateShare[0] = 1 - lj;
                candidateShare[1] = lj;
            }
        }
    }

    private void spot(int i) {
        double dd = wx[i] * wx[i] + wy[i] * wy[i] + wz[i] * wz[i];
        if (dd < candidateVv) {
            candidateVv = dd;
            candidateX = wx[i];
            candidateY = wy[i];
            candidateZ = wz[i];
            candidateCount = 1;
            candidate[0] = i;
            candidateShare[0] = 1;
        }
    }

    /** Takes the candidate over: keeps the corners that carry it. Candidates list corners by rising number. */
    private void accept() {
        for (int i = 0; i < candidateCount; i++) {
            int from = candidate[i];
            if (from != i) {
                wx[i] = wx[from];
                wy[i] = wy[from];
                wz[i] = wz[from];
                ax[i] = ax[from];
                ay[i] = ay[from];
                az[i] = az[from];
                bx[i] = bx[from];
                by[i] = by[from];
                bz[i] = bz[from];
            }
            share[i] = candidateShare[i];
        }
        corners = candidateCount;
        vx = candidateX;
        vy = candidateY;
        vz = candidateZ;
        vv = candidateVv;
    }

    // ---- two segments -----------------------------------------------------------------------------------

    /** A pair of segments whose directions' cross product is less than this share of them counts as parallel. */
    private static final double PARALLEL = 1e-30;

    /** Below this share the lines' nearest spots are too uncertain to start from: all four ends are tried. */
    private static final double NEARLY_PARALLEL = 1e-12;

    private double bestSquared;
    private double bestPx;
    private double bestPy;
    private double bestPz;
    // From A to B.
    private double bestRx;
    private double bestRy;
    private double bestRz;

    private void segments(int kindA, int kindB, double radii) {
        double[] na = a.numbers;
        double[] nb = b.numbers;
        int i = a.first[pieceA];
        int j = b.first[pieceB];
        int ie = kindA == Solid.SEGMENT ? i + 3 : i;
        int je = kindB == Solid.SEGMENT ? j + 3 : j;
        double px = na[i];
        double py = na[i + 1];
        double pz = na[i + 2];
        double ux = na[ie] - px;
        double uy = na[ie + 1] - py;
        double uz = na[ie + 2] - pz;
        double qx = rxx * nb[j] + rxy * nb[j + 1] + rxz * nb[j + 2] + tx;
        double qy = ryx * nb[j] + ryy * nb[j + 1] + ryz * nb[j + 2] + ty;
        double qz = rzx * nb[j] + rzy * nb[j + 1] + rzz * nb[j + 2] + tz;
        double lx = nb[je] - nb[j];
        double ly = nb[je + 1] - nb[j + 1];
        double lz = nb[je + 2] - nb[j + 2];
        double sx = rxx * lx + rxy * ly + rxz * lz;
        double sy = ryx * lx + ryy * ly + ryz * lz;
        double sz = rzx * lx + rzy * ly + rzz * lz;
        betweenSegments(px, py, pz, ux, uy, uz, qx, qy, qz, sx, sy, sz, radii);
    }

    /**
     * Measures two segments that are pieces of solids at given poses, directly in the world: the answer's frame is
     * then the world's, not A's.
     */
    void segmentsInWorld(Solid solidA, int i, Matrix4x3dc worldA, Solid solidB, int j, Matrix4x3dc worldB) {
        a = solidA;
        b = solidB;
        pieceA = i;
        pieceB = j;
        corners = 0;
        boundOnly = false;
        double[] na = solidA.numbers;
        double[] nb = solidB.numbers;
        int s = solidA.first[i];
        int se = solidA.kind[i] == Solid.SEGMENT ? s + 3 : s;
        int t = solidB.first[j];
        int te = solidB.kind[j] == Solid.SEGMENT ? t + 3 : t;
        double x = na[s];
        double y = na[s + 1];
        double z = na[s + 2];
        double ex = na[se] - x;
        double ey = na[se + 1] - y;
        double ez = na[se + 2] - z;
        double m00 = worldA.m00();
        double m01 = worldA.m01();
        double m02 = worldA.m02();
        double m10 = worldA.m10();
        double m11 = worldA.m11();
        double m12 = worldA.m12();
        double m20 = worldA.m20();
        double m21 = worldA.m21();
        double m22 = worldA.m22();
        double px = m00 * x + m10 * y + m20 * z + worldA.m30();
        double py = m01 * x + m11 * y + m21 * z + worldA.m31();
        double pz = m02 * x + m12 * y + m22 * z + worldA.m32();
        double ux = m00 * ex + m10 * ey + m20 * ez;
        double uy = m01 * ex + m11 * ey + m21 * ez;
        double uz = m02 * ex + m12 * ey + m22 * ez;
        x = nb[t];
        y = nb[t + 1];
        z = nb[t + 2];
        ex = nb[te] - x;
        ey = nb[te + 1] - y;
        ez = nb[te + 2] - z;
        m00 = worldB.m00();
        m01 = worldB.m01();
        m02 = worldB.m02();
        m10 = worldB.m10();
        m11 = worldB.m11();
        m12 = worldB.m12();
        m20 = worldB.m20();
        m21 = worldB.m21();
        m22 = worldB.m22();
        double qx = m00 * x + m10 * y + m20 * z + worldB.m30();
        double qy = m01 * x + m11 * y + m21 * z + worldB.m31();
        double qz = m02 * x + m12 * y + m22 * z + worldB.m32();
        double sx = m00 * ex + m10 * ey + m20 * ez;
        double sy = m01 * ex + m11 * ey + m21 * ez;
        double sz = m02 * ex + m12 * ey + m22 * ez;
        betweenSegments(px, py, pz, ux, uy, uz, qx, qy, qz, sx, sy, sz, solidA.rounding[i] + solidB.rounding[j]);
    }

    private void betweenSegments(
            double px,
            double py,
            double pz,
            double ux,
            double uy,
            double uz,
            double qx,
            double qy,
            double qz,
            double sx,
            double sy,
            double sz,
            double radii) {
        double dx = qx - px;
        double dy = qy - py;
        double dz = qz - pz;
        double cx = uy * sz - uz * sy;
        double cy = uz * sx - ux * sz;
        double cz = ux * sy - uy * sx;
        double cc = cx * cx + cy * cy + cz * cz;
        double uu = ux * ux + uy * uy + uz * uz;
        double ss = sx * sx + sy * sy + sz * sz;
        if (cc > PARALLEL * uu * ss) {
            // Where the two lines pass each other: both inside their segments?
            double inverse = 1 / cc;
            double s = inverse * (cx * (dy * sz - dz * sy) + cy * (dz * sx - dx * sz) + cz * (dx * sy - dy * sx));
            double t = inverse * (cx * (dy * uz - dz * uy) + cy * (dz * ux - dx * uz) + cz * (dx * uy - dy * ux));
            if (s >= 0 && s <= 1 && t >= 0 && t <= 1) {
                double h = cx * dx + cy * dy + cz * dz;
                double c = Math.sqrt(cc);
                double sign = h < 0 ? -1 / c : 1 / c;
                nx = sign * cx;
                ny = sign * cy;
                nz = sign * cz;
                finish(Math.abs(h) / c, px + s * ux, py + s * uy, pz + s * uz, radii);
                return;
            }
            if (cc > NEARLY_PARALLEL * uu * ss) {
                // Not so: the first is held at its end, the second goes to it, and if need be the first follows
                // (Ericson, Real-Time Collision Detection, 2005, 5.1.9).
                s = s < 0 ? 0 : s > 1 ? 1 : s;
                t = (s * (ux * sx + uy * sy + uz * sz) - (dx * sx + dy * sy + dz * sz)) / ss;
                if (t < 0) {
                    t = 0;
                    s = (dx * ux + dy * uy + dz * uz) / uu;
                    s = s < 0 ? 0 : s > 1 ? 1 : s;
                } else if (t > 1) {
                    t = 1;
                    s = ((dx + sx) * ux + (dy + sy) * uy + (dz + sz) * uz) / uu;
                    s = s < 0 ? 0 : s > 1 ? 1 : s;
                }
                double rx = dx + t * sx - s * ux;
                double ry = dy + t * sy - s * uy;
                double rz = dz + t * sz - s * uz;
                double squared = rx * rx + ry * ry + rz * rz;
                if (squared > TOUCH_SHARE * TOUCH_SHARE * (uu + ss + dx * dx + dy * dy + dz * dz)) {
                    double length = Math.sqrt(squared);
                    double inverseLength = 1 / length;
                    nx = rx * inverseLength;
                    ny = ry * inverseLength;
                    nz = rz * inverseLength;
                    finish(length, px + s * ux, py + s * uy, pz + s * uz, radii);
                    return;
                }
            }
        }
        bestSquared = Double.POSITIVE_INFINITY;
        endToSegment(px, py, pz, qx, qy, qz, sx, sy, sz, ss, false);
        endToSegment(px + ux, py + uy, pz + uz, qx, qy, qz, sx, sy, sz, ss, false);
        endToSegment(qx, qy, qz, px, py, pz, ux, uy, uz, uu, true);
        endToSegment(qx + sx, qy + sy, qz + sz, px, py, pz, ux, uy, uz, uu, true);
        double length = Math.sqrt(bestSquared);
        if (bestSquared > TOUCH_SHARE * TOUCH_SHARE * (uu + ss + dx * dx + dy * dy + dz * dz)) {
            nx = bestRx / length;
            ny = bestRy / length;
            nz = bestRz / length;
        } else {
            // Touching end on: any direction at right angles to both parts them; failing that, to one of them.
            anyNormal(cx, cy, cz, uu >= ss ? ux : sx, uu >= ss ? uy : sy, uu >= ss ? uz : sz);
        }
        finish(length, bestPx, bestPy, bestPz, radii);
    }

    private void endToSegment(
            double ex,
            double ey,
            double ez,
            double ox,
            double oy,
            double oz,
            double dx,
            double dy,
            double dz,
            double dd,
            boolean endIsB) {
        double gx = ex - ox;
        double gy = ey - oy;
        double gz = ez - oz;
        double along = gx * dx + gy * dy + gz * dz;
        double s = along <= 0 ? 0 : along >= dd ? 1 : along / dd;
        double rx = gx - s * dx;
        double ry = gy - s * dy;
        double rz = gz - s * dz;
        double squared = rx * rx + ry * ry + rz * rz;
        if (squared < bestSquared) {
            bestSquared = squared;
            double sign = endIsB ? 1 : -1;
            bestRx = sign * rx;
            bestRy = sign * ry;
            bestRz = sign * rz;
            if (endIsB) {
                bestPx = ex - rx;
                bestPy = ey - ry;
                bestPz = ez - rz;
            } else {
                bestPx = ex;
                bestPy = ey;
                bestPz = ez;
            }
        }
    }

    /** Sets the normal to a cross product, or to some direction at right angles to d when that vanishes. */
    private void anyNormal(double cx, double cy, double cz, double dx, double dy, double dz) {
        double c = Math.sqrt(cx * cx + cy * cy + cz * cz);
        if (c > 0) {
            nx = cx / c;
            ny = cy / c;
            nz = cz / c;
            return;
        }
        double mx = Math.abs(dx);
        double my = Math.abs(dy);
        double mz = Math.abs(dz);
        double x;
        double y;
        double z;
        if (mz <= mx && mz <= my) {
            x = dy;
            y = -dx;
            z = 0;
        } else if (my <= mx) {
            x = -dz;
            y = 0;
            z = dx;
        } else {
            x = 0;
            y = dz;
            z = -dy;
        }
        double length = Math.sqrt(x * x + y * y + z * z);
        if (length > 0) {
            nx = x / length;
            ny = y / length;
            nz = z / length;
        } else {
            nx = 0;
            ny = 0;
            nz = 1;
        }
    }

    /** Says how B lies in A when A's and B's poses in the world are given (both rigid). */
    void place(Matrix4x3dc worldA, Matrix4x3dc worldB) {
        double a00 = worldA.m00();
        double a01 = worldA.m01();
        double a02 = worldA.m02();
        double a10 = worldA.m10();
        double a11 = worldA.m11();
        double a12 = worldA.m12();
        double a20 = worldA.m20();
        double a21 = worldA.m21();
        double a22 = worldA.m22();
        // JOML names columns first: column c of the rotation is (mc0, mc1, mc2).
        double b00 = worldB.m00();
        double b01 = worldB.m01();
        double b02 = worldB.m02();
        double b10 = worldB.m10();
        double b11 = worldB.m11();
        double b12 = worldB.m12();
        double b20 = worldB.m20();
        double b21 = worldB.m21();
        double b22 = worldB.m22();
        rxx = a00 * b00 + a01 * b01 + a02 * b02;
        ryx = a10 * b00 + a11 * b01 + a12 * b02;
        rzx = a20 * b00 + a21 * b01 + a22 * b02;
        rxy = a00 * b10 + a01 * b11 + a02 * b12;
        ryy = a10 * b10 + a11 * b11 + a12 * b12;
        rzy = a20 * b10 + a21 * b11 + a22 * b12;
        rxz = a00 * b20 + a01 * b21 + a02 * b22;
        ryz = a10 * b20 + a11 * b21 + a12 * b22;
        rzz = a20 * b20 + a21 * b21 + a22 * b22;
        double dx = worldB.m30() - worldA.m30();
        double dy = worldB.m31() - worldA.m31();
        double dz = worldB.m32() - worldA.m32();
        tx = a00 * dx + a01 * dy + a02 * dz;
        ty = a10 * dx + a11 * dy + a12 * dz;
        tz = a20 * dx + a21 * dy + a22 * dz;
    }

    /** Returns how far a piece of A reaches along a direction (A's frame, unit), rounding included. */
    double high(Solid p, int i, double x, double y, double z) {
        return support.reach(p, i, x, y, z) + p.rounding[i];
    }

    /** Returns a distance along a direction (A's frame, unit) that all pieces under two small nodes are apart. */
    double clusters(Solid p, int i, Solid q, int j, double x, double y, double z) {
        double bx = -(rxx * x + ryx * y + rzx * z);
        double by = -(rxy * x + ryy * y + rzy * z);
        double bz = -(rxz * x + ryz * y + rzz * z);
        return x * tx
                + y * ty
                + z * tz
                - support.reachOfCluster(q, j, bx, by, bz)
                - support.reachOfCluster(p, i, x, y, z);
    }

    /** Returns how far a piece of B reaches along a direction in B's own frame, unit, rounding included. */
    double reachB(Solid q, int j, double x, double y, double z) {
        return support.reach(q, j, x, y, z) + q.rounding[j];
    }

    /** Returns where a piece of B begins along a direction (A's frame, unit), rounding included. */
    double low(Solid q, int j, double x, double y, double z) {
        double reach = support.reach(
                q, j, -(rxx * x + ryx * y + rzx * z), -(rxy * x + ryy * y + rzy * z), -(rxz * x + ryz * y + rzz * z));
        return x * tx + y * ty + z * tz - reach - q.rounding[j];
    }

    /**
     * A distance that the contents of two nodes are never closer than: that of their boxes, seen from either box's
     * own axes. Negative when the boxes overlap: then the largest of the overlaps' negatives.
     */
    double boxes(Solid p, int i, Solid q, int j) {
        return boxes(p, i, q, j, 0, 0, 0, Double.POSITIVE_INFINITY);
    }

    /**
     * The same, tried first along one direction (A's frame, unit, or zero for none): when that gives at least {@code
     * enough}, it is the answer.
     */
    double boxes(Solid p, int i, Solid q, int j, double ux, double uy, double uz, double enough) {
        nodePairs++;
        double[] u = p.box;
        double[] v = q.box;
        int a = Solid.BOX_NUMBERS * i;
        int b = Solid.BOX_NUMBERS * j;
        double vx = v[b];
        double vy = v[b + 1];
        double vz = v[b + 2];
        double dx = rxx * vx + rxy * vy + rxz * vz + tx - u[a];
        double dy = ryx * vx + ryy * vy + ryz * vz + ty - u[a + 1];
        double dz = rzx * vx + rzy * vy + rzz * vz + tz - u[a + 2];
        double e0 = u[a + 3];
        double e1 = u[a + 4];
        double e2 = u[a + 5];
        double h0 = v[b + 3];
        double h1 = v[b + 4];
        double h2 = v[b + 5];
        double a0x = u[a + 6];
        double a0y = u[a + 7];
        double a0z = u[a + 8];
        double a1x = u[a + 9];
        double a1y = u[a + 10];
        double a1z = u[a + 11];
        double a2x = u[a + 12];
        double a2y = u[a + 13];
        double a2z = u[a + 14];
        double grown = u[a + 15] + v[b + 15];
        double along = Double.NEGATIVE_INFINITY;
        if (ux != 0 || uy != 0 || uz != 0) {
            double qx = rxx * ux + ryx * uy + rzx * uz;
            double qy = rxy * ux + ryy * uy + rzy * uz;
            double qz = rxz * ux + ryz * uy + rzz * uz;
            along = -grown
                    + ux * dx
                    + uy * dy
                    + uz * dz
                    - Math.abs(ux * a0x + uy * a0y + uz * a0z) * e0
                    - Math.abs(ux * a1x + uy * a1y + uz * a1z) * e1
                    - Math.abs(ux * a2x + uy * a2y + uz * a2z) * e2
                    - Math.abs(qx * v[b + 6] + qy * v[b + 7] + qz * v[b + 8]) * h0
                    - Math.abs(qx * v[b + 9] + qy * v[b + 10] + qz * v[b + 11]) * h1
                    - Math.abs(qx * v[b + 12] + qy * v[b + 13] + qz * v[b + 14]) * h2;
            if (along >= enough) {
                return along;
            }
        }
        // Along the line between the two middles: the best for boxes that are small beside their distance.
        double far = Math.sqrt(dx * dx + dy * dy + dz * dz);
        if (far > 0) {
            double qx = rxx * dx + ryx * dy + rzx * dz;
            double qy = rxy * dx + ryy * dy + rzy * dz;
            double qz = rxz * dx + ryz * dy + rzz * dz;
            double reach = Math.abs(dx * a0x + dy * a0y + dz * a0z) * e0
                    + Math.abs(dx * a1x + dy * a1y + dz * a1z) * e1
                    + Math.abs(dx * a2x + dy * a2y + dz * a2z) * e2
                    + Math.abs(qx * v[b + 6] + qy * v[b + 7] + qz * v[b + 8]) * h0
                    + Math.abs(qx * v[b + 9] + qy * v[b + 10] + qz * v[b + 11]) * h1
                    + Math.abs(qx * v[b + 12] + qy * v[b + 13] + qz * v[b + 14]) * h2;
            double line = far - reach / far - grown;
            if (line >= enough) {
                return line;
            }
            along = Math.max(along, line);
        }
        // B's axes in A's frame.
        double b0x = rxx * v[b + 6] + rxy * v[b + 7] + rxz * v[b + 8];
        double b0y = ryx * v[b + 6] + ryy * v[b + 7] + ryz * v[b + 8];
        double b0z = rzx * v[b + 6] + rzy * v[b + 7] + rzz * v[b + 8];
        double b1x = rxx * v[b + 9] + rxy * v[b + 10] + rxz * v[b + 11];
        double b1y = ryx * v[b + 9] + ryy * v[b + 10] + ryz * v[b + 11];
        double b1z = rzx * v[b + 9] + rzy * v[b + 10] + rzz * v[b + 11];
        double b2x = rxx * v[b + 12] + rxy * v[b + 13] + rxz * v[b + 14];
        double b2y = ryx * v[b + 12] + ryy * v[b + 13] + ryz * v[b + 14];
        double b2z = rzx * v[b + 12] + rzy * v[b + 13] + rzz * v[b + 14];
        double m00 = Math.abs(a0x * b0x + a0y * b0y + a0z * b0z);
        double m01 = Math.abs(a0x * b1x + a0y * b1y + a0z * b1z);
        double m02 = Math.abs(a0x * b2x + a0y * b2y + a0z * b2z);
        double m10 = Math.abs(a1x * b0x + a1y * b0y + a1z * b0z);
        double m11 = Math.abs(a1x * b1x + a1y * b1y + a1z * b1z);
        double m12 = Math.abs(a1x * b2x + a1y * b2y + a1z * b2z);
        double m20 = Math.abs(a2x * b0x + a2y * b0y + a2z * b0z);
        double m21 = Math.abs(a2x * b1x + a2y * b1y + a2z * b1z);
        double m22 = Math.abs(a2x * b2x + a2y * b2y + a2z * b2z);
        double g0 = Math.abs(a0x * dx + a0y * dy + a0z * dz) - e0 - (m00 * h0 + m01 * h1 + m02 * h2);
        double g1 = Math.abs(a1x * dx + a1y * dy + a1z * dz) - e1 - (m10 * h0 + m11 * h1 + m12 * h2);
        double g2 = Math.abs(a2x * dx + a2y * dy + a2z * dz) - e2 - (m20 * h0 + m21 * h1 + m22 * h2);
        double k0 = Math.abs(b0x * dx + b0y * dy + b0z * dz) - h0 - (m00 * e0 + m10 * e1 + m20 * e2);
        double k1 = Math.abs(b1x * dx + b1y * dy + b1z * dz) - h1 - (m01 * e0 + m11 * e1 + m21 * e2);
        double k2 = Math.abs(b2x * dx + b2y * dy + b2z * dz) - h2 - (m02 * e0 + m12 * e1 + m22 * e2);
        double most = Math.max(Math.max(g0, Math.max(g1, g2)), Math.max(k0, Math.max(k1, k2)));
        if (most <= 0) {
            return Math.max(most - grown, along);
        }
        double g = 0;
        g += g0 > 0 ? g0 * g0 : 0;
        g += g1 > 0 ? g1 * g1 : 0;
        g += g2 > 0 ? g2 * g2 : 0;
        double k = 0;
        k += k0 > 0 ? k0 * k0 : 0;
        k += k1 > 0 ? k1 * k1 : 0;
        k += k2 > 0 ? k2 * k2 : 0;
        return Math.max(along, Math.sqrt(Math.max(g, k)) - grown);
    }
}
