package daylight.geometry;

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
    private static final double GOOD_SHARE = 1e-12;

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

    // Absolute values of the rotation.
    private double sxx = 1;
    private double sxy;
    private double sxz;
    private double syx;
    private double syy = 1;
    private double syz;
    private double szx;
    private double szy;
    private double szz = 1;
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
     *     is at least this may come back, with {@link #boundOnly} set and no spots
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
            double s = (cx * (dy * sz - dz * sy) + cy * (dz * sx - dx * sz) + cz * (dx * sy - dy * sx)) / cc;
            double t = (cx * (dy * uz - dz * uy) + cy * (dz * ux - dx * uz) + cz * (dx * uy - dy * ux)) / cc;
            if (s >= 0 && s <= 1 && t >= 0 && t <= 1) {
                double h = cx * dx + cy * dy + cz * dz;
                double c = Math.sqrt(cc);
                double sign = h < 0 ? -1 : 1;
                nx = sign * cx / c;
                ny = sign * cy / c;
                nz = sign * cz / c;
                finish(Math.abs(h) / c, px + s * ux, py + s * uy, pz + s * uz, radii);
                return;
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
    void place(org.joml.Matrix4x3dc worldA, org.joml.Matrix4x3dc worldB) {
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
        sxx = Math.abs(rxx);
        sxy = Math.abs(rxy);
        sxz = Math.abs(rxz);
        syx = Math.abs(ryx);
        syy = Math.abs(ryy);
        syz = Math.abs(ryz);
        szx = Math.abs(rzx);
        szy = Math.abs(rzy);
        szz = Math.abs(rzz);
        double dx = worldB.m30() - worldA.m30();
        double dy = worldB.m31() - worldA.m31();
        double dz = worldB.m32() - worldA.m32();
        tx = a00 * dx + a01 * dy + a02 * dz;
        ty = a10 * dx + a11 * dy + a12 * dz;
        tz = a20 * dx + a21 * dy + a22 * dz;
    }

    /**
     * A distance that the contents of two nodes are never closer than: that of their boxes, seen from either box's
     * own axes. Negative when the boxes overlap: then the largest of the overlaps' negatives.
     */
    double boxes(Solid p, int i, Solid q, int j) {
        nodePairs++;
        double[] u = p.box;
        double[] v = q.box;
        int a = 6 * i;
        int b = 6 * j;
        double vx = v[b];
        double vy = v[b + 1];
        double vz = v[b + 2];
        double hx = v[b + 3];
        double hy = v[b + 4];
        double hz = v[b + 5];
        double ex = u[a + 3];
        double ey = u[a + 4];
        double ez = u[a + 5];
        double dx = rxx * vx + rxy * vy + rxz * vz + tx - u[a];
        double dy = ryx * vx + ryy * vy + ryz * vz + ty - u[a + 1];
        double dz = rzx * vx + rzy * vy + rzz * vz + tz - u[a + 2];
        double gx = Math.abs(dx) - ex - (sxx * hx + sxy * hy + sxz * hz);
        double gy = Math.abs(dy) - ey - (syx * hx + syy * hy + syz * hz);
        double gz = Math.abs(dz) - ez - (szx * hx + szy * hy + szz * hz);
        double kx = Math.abs(rxx * dx + ryx * dy + rzx * dz) - hx - (sxx * ex + syx * ey + szx * ez);
        double ky = Math.abs(rxy * dx + ryy * dy + rzy * dz) - hy - (sxy * ex + syy * ey + szy * ez);
        double kz = Math.abs(rxz * dx + ryz * dy + rzz * dz) - hz - (sxz * ex + syz * ey + szz * ez);
        double most = Math.max(Math.max(gx, Math.max(gy, gz)), Math.max(kx, Math.max(ky, kz)));
        if (most <= 0) {
            return most;
        }
        double g = 0;
        g += gx > 0 ? gx * gx : 0;
        g += gy > 0 ? gy * gy : 0;
        g += gz > 0 ? gz * gz : 0;
        double k = 0;
        k += kx > 0 ? kx * kx : 0;
        k += ky > 0 ? ky * ky : 0;
        k += kz > 0 ? kz * kz : 0;
        return Math.sqrt(Math.max(g, k));
    }
}
