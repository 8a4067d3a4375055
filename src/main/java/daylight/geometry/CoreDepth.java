package daylight.geometry;

/**
 * The shortest move that parts two overlapping convex cores: the least distance from the origin to the boundary of
 * their Minkowski difference. Mutable, one per {@link PairGap}, allocates nothing once made.
 *
 * <p>Grows a polytope inside the difference, always at the face nearest the origin, until the support there lies
 * no further out. For polytopes the answer is exact; for round cores the depth is that of the supporting plane,
 * which is never less than the true one and exceeds it by at most {@link #GOOD_SHARE} of the size.
 *
 * <p>Differences that enclose no volume (flat or straight cores in one plane) have depth zero, and the normal is at
 * right angles to them.
 *
 * @see "van den Bergen, Proximity queries and penetration depth computation on 3D game objects, GDC 2001"
 */
final class CoreDepth {
    private static final int MOST_CORNERS = 600;
    private static final int MOST_FACES = 2400;
    /** The depth is good when the support exceeds the face by less than this share of the size. */
    private static final double GOOD_SHARE = 1e-9;
    /** A corner nearer to a plane than this share of the size lies on it. */
    private static final double ON_PLANE_SHARE = 1e-13;
    /** A difference thinner than this share of the size has no volume. */
    private static final double FLAT_SHARE = 1e-12;

    /** Faces within this share of the size of one another's height may be one plane... */
    private static final double TIE_SHARE = 1e-10;
    /** ...if the cosine between their normals is more than this. */
    private static final double SAME_PLANE = 1 - 1e-10;

    private final PairGap pair;

    private final double[] wx = new double[MOST_CORNERS];
    private final double[] wy = new double[MOST_CORNERS];
    private final double[] wz = new double[MOST_CORNERS];
    private final double[] ax = new double[MOST_CORNERS];
    private final double[] ay = new double[MOST_CORNERS];
    private final double[] az = new double[MOST_CORNERS];
    private int corners;

    private final int[] corner = new int[3 * MOST_FACES];
    private final int[] beyond = new int[3 * MOST_FACES];
    private final int[] beyondEdge = new int[3 * MOST_FACES];
    private final double[] normal = new double[3 * MOST_FACES];
    private final double[] height = new double[MOST_FACES];
    private final boolean[] alive = new boolean[MOST_FACES];
    private int faces;
    private int firstNew;
    private int lastNew;
    private double onPlane;

    /** Depth, mm, zero or more up to rounding. */
    double depth;
    /** Unit direction in which B must move to part, A's frame. */
    double nx;

    double ny;
    double nz;
    /** Witness on A's core, A's frame. */
    double onAx;

    double onAy;
    double onAz;
    /** By how much {@link #depth} may exceed the true one, mm. */
    double slack;
    /** Faces looked at since the engine was made. */
    long steps;

    CoreDepth(PairGap pair) {
        this.pair = pair;
    }

    /** Measures the depth of the pair's chosen cores; its simplex touches or holds the origin. */
    void measure(double size) {
        onPlane = ON_PLANE_SHARE * size;
        corners = pair.corners;
        for (int i = 0; i < corners; i++) {
            take(i, i);
        }
        slack = 0;
        if (!fill(size)) {
            return;
        }
        grow(size);
    }

    private void take(int into, int from) {
        wx[into] = pair.wx[from];
        wy[into] = pair.wy[from];
        wz[into] = pair.wz[from];
        ax[into] = pair.ax[from];
        ay[into] = pair.ay[from];
        az[into] = pair.az[from];
    }

    /** Evaluates the support of A - B in a direction and puts it at the end of the corners, not yet counted. */
    private void support(double dx, double dy, double dz) {
        pair.corners = 3;
        pair.corner(dx, dy, dz);
        take(corners, 3);
    }

    /** Completes the simplex to a tetrahedron; false when there is no volume, the answer is then filled in. */
    private boolean fill(double size) {
        double flat = FLAT_SHARE * size;
        if (corners == 4 && volume(0, 1, 2, 3) == 0) {
            corners = 3;
        }
        if (corners <= 1) {
            if (corners == 0) {
                support(1, 0, 0);
                corners = 1;
            }
            boolean found = false;
            for (int k = 0; k < 6 && !found; k++) {
                double s = (k & 1) == 0 ? 1 : -1;
                support(k / 2 == 0 ? s : 0, k / 2 == 1 ? s : 0, k / 2 == 2 ? s : 0);
                double dx = wx[1] - wx[0];
                double dy = wy[1] - wy[0];
                double dz = wz[1] - wz[0];
                found = dx * dx + dy * dy + dz * dz > flat * flat;
            }
            if (!found) {
                answer(0, 0, 1, 0, ax[0], ay[0], az[0]);
                return false;
            }
            corners = 2;
        }
        if (corners == 2 || (corners == 3 && area(0, 1, 2) <= flat)) {
            if (!thirdCorner(flat)) {
                return false;
            }
        }
        if (corners == 3) {
            if (!fourthCorner(flat)) {
                return false;
            }
        }
        return true;
    }

    private boolean thirdCorner(double flat) {
        // The two corners furthest apart carry the line.
        if (corners == 3) {
            double d01 = squared(0, 1);
            double d02 = squared(0, 2);
            double d12 = squared(1, 2);
            if (d02 > d01 && d02 >= d12) {
                copy(1, 2);
            } else if (d12 > d01) {
                copy(0, 2);
            }
            corners = 2;
        }
        double ex = wx[1] - wx[0];
        double ey = wy[1] - wy[0];
        double ez = wz[1] - wz[0];
        double length = Math.sqrt(ex * ex + ey * ey + ez * ez);
        ex /= length;
        ey /= length;
        ez /= length;
        double mx = Math.abs(ex);
        double my = Math.abs(ey);
        double mz = Math.abs(ez);
        double px;
        double py;
        double pz;
        if (mx <= my && mx <= mz) {
            px = 0;
            py = -ez;
            pz = ey;
        } else if (my <= mz) {
            px = ez;
            py = 0;
            pz = -ex;
        } else {
            px = -ey;
            py = ex;
            pz = 0;
        }
        double l = Math.sqrt(px * px + py * py + pz * pz);
        px /= l;
        py /= l;
        pz /= l;
        double qx = ey * pz - ez * py;
        double qy = ez * px - ex * pz;
        double qz = ex * py - ey * px;
        for (int k = 0; k < 4; k++) {
            double sx = k == 0 ? px : k == 1 ? -px : k == 2 ? qx : -qx;
            double sy = k == 0 ? py : k == 1 ? -py : k == 2 ? qy : -qy;
            double sz = k == 0 ? pz : k == 1 ? -pz : k == 2 ? qz : -qz;
            support(sx, sy, sz);
            if (area(0, 1, 2) > flat) {
                corners = 3;
                return true;
            }
        }
        // A straight difference: any direction at right angles parts the two at once.
        double along = -(wx[0] * ex + wy[0] * ey + wz[0] * ez) / length;
        double t = Math.max(0, Math.min(1, along));
        answer(px, py, pz, 0, ax[0] + t * (ax[1] - ax[0]), ay[0] + t * (ay[1] - ay[0]), az[0] + t * (az[1] - az[0]));
        return false;
    }

    private boolean fourthCorner(double flat) {
        double e1x = wx[1] - wx[0];
        double e1y = wy[1] - wy[0];
        double e1z = wz[1] - wz[0];
        double e2x = wx[2] - wx[0];
        double e2y = wy[2] - wy[0];
        double e2z = wz[2] - wz[0];
        double cx = e1y * e2z - e1z * e2y;
        double cy = e1z * e2x - e1x * e2z;
        double cz = e1x * e2y - e1y * e2x;
        double length = Math.sqrt(cx * cx + cy * cy + cz * cz);
        cx /= length;
        cy /= length;
        cz /= length;
        double level = cx * wx[0] + cy * wy[0] + cz * wz[0];
        for (int k = 0; k < 2; k++) {
            double s = k == 0 ? 1 : -1;
            support(s * cx, s * cy, s * cz);
            if (Math.abs(cx * wx[3] + cy * wy[3] + cz * wz[3] - level) > flat) {
                corners = 4;
                return true;
            }
        }
        // A flat difference: moving along its normal parts the two at once.
        double sign = level < 0 ? -1 : 1;
        faces = 0;
        put(0, 1, 2);
        nx = sign * cx;
        ny = sign * cy;
        nz = sign * cz;
        witness(0, nx, ny, nz, sign * level);
        answer(nx, ny, nz, sign * level, onAx, onAy, onAz);
        return false;
    }

    private void answer(double x, double y, double z, double deep, double px, double py, double pz) {
        nx = x;
        ny = y;
        nz = z;
        depth = deep;
        onAx = px;
        onAy = py;
        onAz = pz;
    }

    private void copy(int into, int from) {
        wx[into] = wx[from];
        wy[into] = wy[from];
        wz[into] = wz[from];
        ax[into] = ax[from];
        ay[into] = ay[from];
        az[into] = az[from];
    }

    private double squared(int i, int j) {
        double dx = wx[j] - wx[i];
        double dy = wy[j] - wy[i];
        double dz = wz[j] - wz[i];
        return dx * dx + dy * dy + dz * dz;
    }

    /** Height of a triangle over its longest edge, about: how far it is from a line. */
    private double area(int i, int j, int k) {
        double e1x = wx[j] - wx[i];
        double e1y = wy[j] - wy[i];
        double e1z = wz[j] - wz[i];
        double e2x = wx[k] - wx[i];
        double e2y = wy[k] - wy[i];
        double e2z = wz[k] - wz[i];
        double cx = e1y * e2z - e1z * e2y;
        double cy = e1z * e2x - e1x * e2z;
        double cz = e1x * e2y - e1y * e2x;
        double longest = Math.max(squared(i, j), Math.max(squared(i, k), squared(j, k)));
        return longest > 0 ? Math.sqrt((cx * cx + cy * cy + cz * cz) / longest) : 0;
    }

    private double volume(int i, int j, int k, int l) {
        double e1x = wx[j] - wx[i];
        double e1y = wy[j] - wy[i];
        double e1z = wz[j] - wz[i];
        double e2x = wx[k] - wx[i];
        double e2y = wy[k] - wy[i];
        double e2z = wz[k] - wz[i];
        return (e1y * e2z - e1z * e2y) * (wx[l] - wx[i])
                + (e1z * e2x - e1x * e2z) * (wy[l] - wy[i])
                + (e1x * e2y - e1y * e2x) * (wz[l] - wz[i]);
    }

    private void grow(double size) {
        double good = GOOD_SHARE * size;
        faces = 0;
        boolean turned = volume(0, 1, 2, 3) > 0;
        int one = turned ? 2 : 1;
        int two = turned ? 1 : 2;
        put(0, one, two);
        put(0, two, 3);
        put(0, 3, one);
        put(one, 3, two);
        join(0, 0, 2, 2);
        join(0, 1, 3, 2);
        join(0, 2, 1, 0);
        join(1, 1, 3, 1);
        join(1, 2, 2, 0);
        join(2, 1, 3, 0);
        double least = Double.POSITIVE_INFINITY;
        while (true) {
            steps++;
            int f = nearestFace();
            if (f < 0) {
                break;
            }
            double fx = normal[3 * f];
            double fy = normal[3 * f + 1];
            double fz = normal[3 * f + 2];
            if (corners == MOST_CORNERS) {
                break;
            }
            support(fx, fy, fz);
            double reach = fx * wx[corners] + fy * wy[corners] + fz * wz[corners];
            if (reach < least) {
                least = reach;
                if (witness(f, fx, fy, fz, height[f]) < 0) {
                    // Coplanar faces are equally near; only one of them holds the foot of the origin.
                    witness(holding(f, fx, fy, fz, TIE_SHARE * size), fx, fy, fz, height[f]);
                }
                answer(fx, fy, fz, reach, onAx, onAy, onAz);
                slack = reach - height[f];
            }
            if (reach - height[f] <= good || least - height[f] <= good || isKnown()) {
                slack = Math.max(0, least - height[f]);
                break;
            }
            corners++;
            firstNew = -1;
            lastNew = -1;
            alive[f] = false;
            boolean whole = true;
            for (int e = 0; e < 3 && whole; e++) {
                whole = expand(beyond[3 * f + e], beyondEdge[3 * f + e], corners - 1);
            }
            if (!whole || lastNew < 0 || faces >= MOST_FACES || !link(lastNew, firstNew)) {
                // Rounding broke the polytope or it is full: the best supporting plane so far stands.
                break;
            }
        }
    }

    private boolean isKnown() {
        for (int i = 0; i < corners; i++) {
            if (wx[i] == wx[corners] && wy[i] == wy[corners] && wz[i] == wz[corners]) {
                return true;
            }
        }
        return false;
    }

    private int nearestFace() {
        int best = -1;
        double least = Double.POSITIVE_INFINITY;
        for (int f = 0; f < faces; f++) {
            if (alive[f] && height[f] < least) {
                least = height[f];
                best = f;
            }
        }
        return best;
    }

    /** Goes on from face f, reached over its edge e: removes it if the new corner sees it, else fences it off. */
    private boolean expand(int f, int e, int w) {
        if (!alive[f]) {
            return true;
        }
        double sees = normal[3 * f] * wx[w] + normal[3 * f + 1] * wy[w] + normal[3 * f + 2] * wz[w] - height[f];
        // A face without area (height infinite) is always removed.
        if (sees > onPlane || height[f] == Double.POSITIVE_INFINITY) {
            alive[f] = false;
            int e1 = e == 2 ? 0 : e + 1;
            int e2 = e == 0 ? 2 : e - 1;
            return expand(beyond[3 * f + e1], beyondEdge[3 * f + e1], w)
                    && expand(beyond[3 * f + e2], beyondEdge[3 * f + e2], w);
        }
        if (faces == MOST_FACES) {
            return false;
        }
        int fresh = put(corner[3 * f + (e == 2 ? 0 : e + 1)], corner[3 * f + e], w);
        join(fresh, 0, f, e);
        if (lastNew < 0) {
            firstNew = fresh;
        } else if (!link(lastNew, fresh)) {
            return false;
        }
        lastNew = fresh;
        return true;
    }

    /** Joins two neighbours of the new fan; false when they do not share their edge. */
    private boolean link(int before, int after) {
        if (corner[3 * before + 1] != corner[3 * after]) {
            return false;
        }
        join(before, 1, after, 2);
        return true;
    }

    private void join(int f, int e, int g, int h) {
        beyond[3 * f + e] = g;
        beyondEdge[3 * f + e] = h;
        beyond[3 * g + h] = f;
        beyondEdge[3 * g + h] = e;
    }

    private int put(int i, int j, int k) {
        int f = faces++;
        corner[3 * f] = i;
        corner[3 * f + 1] = j;
        corner[3 * f + 2] = k;
        alive[f] = true;
        double e1x = wx[j] - wx[i];
        double e1y = wy[j] - wy[i];
        double e1z = wz[j] - wz[i];
        double e2x = wx[k] - wx[i];
        double e2y = wy[k] - wy[i];
        double e2z = wz[k] - wz[i];
        double x = e1y * e2z - e1z * e2y;
        double y = e1z * e2x - e1x * e2z;
        double z = e1x * e2y - e1y * e2x;
        double length = Math.sqrt(x * x + y * y + z * z);
        double longest = Math.max(squared(i, j), Math.max(squared(i, k), squared(j, k)));
        if (length <= 1e-14 * longest) {
            normal[3 * f] = 0;
            normal[3 * f + 1] = 0;
            normal[3 * f + 2] = 0;
            height[f] = Double.POSITIVE_INFINITY;
            return f;
        }
        x /= length;
        y /= length;
        z /= length;
        normal[3 * f] = x;
        normal[3 * f + 1] = y;
        normal[3 * f + 2] = z;
        height[f] = x * wx[i] + y * wy[i] + z * wz[i];
        return f;
    }

    /** Returns which of the faces in the plane of f holds the foot of the origin, or comes nearest to it. */
    private int holding(int f, double fx, double fy, double fz, double tie) {
        int best = f;
        double most = Double.NEGATIVE_INFINITY;
        for (int g = 0; g < faces; g++) {
            if ((alive[g] || g == f) && height[g] - height[f] <= tie) {
                double cosine = normal[3 * g] * fx + normal[3 * g + 1] * fy + normal[3 * g + 2] * fz;
                if (cosine > SAME_PLANE) {
                    double inside = witness(g, fx, fy, fz, height[f]);
                    if (inside > most) {
                        most = inside;
                        best = g;
                    }
                }
            }
        }
        return best;
    }

    /**
     * Sets the witness on A for the foot of the origin on face f. Returns the least of the foot's barycentric
     * coordinates: negative when it lies outside the face.
     */
    private double witness(int f, double fx, double fy, double fz, double h) {
        int i = corner[3 * f];
        int j = corner[3 * f + 1];
        int k = corner[3 * f + 2];
        double e1x = wx[j] - wx[i];
        double e1y = wy[j] - wy[i];
        double e1z = wz[j] - wz[i];
        double e2x = wx[k] - wx[i];
        double e2y = wy[k] - wy[i];
        double e2z = wz[k] - wz[i];
        double cx = e1y * e2z - e1z * e2y;
        double cy = e1z * e2x - e1x * e2z;
        double cz = e1x * e2y - e1y * e2x;
        double nn = cx * cx + cy * cy + cz * cz;
        double px = h * fx - wx[i];
        double py = h * fy - wy[i];
        double pz = h * fz - wz[i];
        double lj = 0;
        double lk = 0;
        if (nn > 0) {
            lj = (cx * (py * e2z - pz * e2y) + cy * (pz * e2x - px * e2z) + cz * (px * e2y - py * e2x)) / nn;
            lk = (cx * (e1y * pz - e1z * py) + cy * (e1z * px - e1x * pz) + cz * (e1x * py - e1y * px)) / nn;
        }
        double inside = nn > 0 ? Math.min(Math.min(lj, lk), 1 - lj - lk) : Double.NEGATIVE_INFINITY;
        lj = Math.max(0, Math.min(1, lj));
        lk = Math.max(0, Math.min(1 - lj, lk));
        double li = 1 - lj - lk;
        onAx = li * ax[i] + lj * ax[j] + lk * ax[k];
        onAy = li * ay[i] + lj * ay[j] + lk * ay[k];
        onAz = li * az[i] + lj * az[j] + lk * az[k];
        return inside;
    }
}
