package daylight.geometry;

import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/**
 * The closed parts of a triangle surface, and on which side of them a spot lies.
 *
 * <p>Vertices at the same place count as one. Triangles that share edges form a part; a part is closed when each of
 * its edges belongs to exactly two of its triangles and they can be turned to agree. The triangles of a part are
 * turned to agree with one another, and the whole part outwards, unless it lies inside another closed part and its
 * own triangles face inwards: then it is a cavity.
 *
 * <p>Side: by the sign of the pseudonormal at the nearest feature, which is right for every spot.
 *
 * @see "Baerentzen and Aanaes, Signed distance computation using the angle weighted pseudonormal, IEEE TVCG 11
 *     (2005) 243"
 */
final class ClosedMesh {
    private static final int LEAF = 4;

    /** Corners of the closed parts' triangles, outward: 9 numbers each. */
    private final double[] corner;
    /** Pseudonormals: face, then edges 01, 12, 20, then corners 0, 1, 2: 21 numbers each. */
    private final double[] pseudo;

    private final int[] order;
    private final int[] child;
    private final int[] second;
    private final double[] box;
    private int nodes;

    /** Triangles of the surface that belong to no closed part. */
    final int open;
    /** Triangles that had to be turned round. */
    final int turned;
    /** Parts that are closed. */
    final int closedParts;

    /** Triangles that enclose an area. */
    final int triangles;
    /** One spot of each part, open or closed: x, y, z each. */
    final double[] samples;

    /** Topology of a surface; {@code corner} holds nothing when no part is closed. */
    private ClosedMesh(
            double[] corner, double[] pseudo, int open, int turned, int closedParts, int triangles, double[] samples) {
        this.triangles = triangles;
        this.samples = samples;
        this.corner = corner;
        this.pseudo = pseudo;
        this.open = open;
        this.turned = turned;
        this.closedParts = closedParts;
        int count = corner.length / 9;
        this.order = new int[count];
        this.child = new int[Math.max(1, 2 * count)];
        this.second = new int[Math.max(1, 2 * count)];
        this.box = new double[6 * Math.max(1, 2 * count)];
        double[] middle = new double[3 * count];
        for (int t = 0; t < count; t++) {
            order[t] = t;
            for (int k = 0; k < 3; k++) {
                middle[3 * t + k] = corner[9 * t + k] + corner[9 * t + 3 + k] + corner[9 * t + 6 + k];
            }
        }
        if (count > 0) {
            build(0, count, middle);
        }
    }

    boolean isEmpty() {
        return corner.length == 0;
    }

    /** Finds the closed parts of a mesh. */
    static ClosedMesh of(Shape.Mesh mesh) {
        double[] spots = SolidMaker.coordinates(mesh.corners());
        int[] weld = weld(mesh.corners());
        int[] given = mesh.triangles().stream().mapToInt(Integer::intValue).toArray();
        int[] t = new int[given.length];
        int count = 0;
        for (int i = 0; i < given.length; i += 3) {
            int a = weld[given[i]];
            int b = weld[given[i + 1]];
            int c = weld[given[i + 2]];
            if (a != b && b != c && a != c) {
                t[count++] = a;
                t[count++] = b;
                t[count++] = c;
            }
        }
        t = Arrays.copyOf(t, count);
        int triangles = count / 3;
        int[] beyond = neighbours(t);
        int[] part = new int[triangles];
        Arrays.fill(part, -1);
        boolean[] flip = new boolean[triangles];
        boolean[] closed = new boolean[triangles];
        int parts = 0;
        int[] queue = new int[triangles];
        for (int start = 0; start < triangles; start++) {
            if (part[start] >= 0) {
                continue;
            }
            closed[parts] = spread(start, parts, t, beyond, part, flip, queue);
            parts++;
        }
        return outward(spots, t, beyond, part, flip, closed, parts);
    }

    private static int[] weld(List<Spot> corners) {
        Map<Spot, Integer> known = new HashMap<>();
        int[] weld = new int[corners.size()];
        for (int i = 0; i < weld.length; i++) {
            Spot s = corners.get(i);
            // Minus zero and zero are one place.
            Integer before = known.putIfAbsent(s.plus(0.0, 0.0, 0.0), i);
            weld[i] = before == null ? i : before;
        }
        return weld;
    }

    /** The triangle edge beyond each edge (3 * triangle + edge), or -1 where there is none or more than one. */
    private static int[] neighbours(int[] t) {
        Map<Long, Integer> first = new HashMap<>();
        Map<Long, Integer> uses = new HashMap<>();
        int[] beyond = new int[t.length];
        Arrays.fill(beyond, -1);
        for (int e = 0; e < t.length; e++) {
            uses.merge(edge(t, e), 1, Integer::sum);
        }
        for (int e = 0; e < t.length; e++) {
            long key = edge(t, e);
            if (uses.getOrDefault(key, 0) != 2) {
                continue;
            }
            Integer other = first.putIfAbsent(key, e);
            if (other != null) {
                beyond[e] = other;
                beyond[other] = e;
            }
        }
        return beyond;
    }

    private static long edge(int[] t, int e) {
        int a = t[e];
        int b = t[e % 3 == 2 ? e - 2 : e + 1];
        return a < b ? ((long) a << 32) | b : ((long) b << 32) | a;
    }

    /** Marks one part, turning triangles to agree with the first; returns whether it is closed. */
    private static boolean spread(
            int start, int number, int[] t, int[] beyond, int[] part, boolean[] flip, int[] queue) {
        boolean closed = true;
        int head = 0;
        int tail = 0;
        queue[tail++] = start;
        part[start] = number;
        while (head < tail) {
            int f = queue[head++];
            for (int k = 0; k < 3; k++) {
                int e = 3 * f + k;
                int other = beyond[e];
                if (other < 0) {
                    closed = false;
                    continue;
                }
                int g = other / 3;
                // Neighbours agree when they run through their common edge in opposite directions.
                boolean sameWay = t[e] == t[other];
                boolean turn = sameWay != flip[f];
                if (part[g] < 0) {
                    part[g] = number;
                    flip[g] = turn;
                    queue[tail++] = g;
                } else if (flip[g] != turn) {
                    closed = false;
                }
            }
        }
        return closed;
    }

    private static ClosedMesh outward(
            double[] spots, int[] t, int[] beyond, int[] part, boolean[] flip, boolean[] closed, int parts) {
        int triangles = part.length;
        double[] volume = new double[parts];
        int[] sample = new int[parts];
        int[] kept = new int[parts];
        int[] flipped = new int[parts];
        for (int f = 0; f < triangles; f++) {
            int c = part[f];
            volume[c] += (flip[f] ? -1 : 1) * volume(spots, t, f);
            sample[c] = t[3 * f];
            kept[c]++;
            flipped[c] += flip[f] ? 1 : 0;
        }
        int closedParts = 0;
        int turned = 0;
        int open = 0;
        int total = 0;
        boolean[] turnPart = new boolean[parts];
        for (int c = 0; c < parts; c++) {
            if (!closed[c]) {
                open += kept[c];
                continue;
            }
            closedParts++;
            total += kept[c];
            // A part's own triangles face the way most of them were drawn.
            boolean drawnInwards = (2 * flipped[c] > kept[c] ? -volume[c] : volume[c]) < 0;
            boolean cavity = drawnInwards && insideAnother(spots, t, part, flip, closed, volume, c, sample[c]);
            turnPart[c] = cavity ? volume[c] > 0 : volume[c] < 0;
            turned += turnPart[c] ? kept[c] - flipped[c] : flipped[c];
        }
        double[] corner = new double[9 * total];
        int[] face = new int[triangles];
        Arrays.fill(face, -1);
        int n = 0;
        for (int f = 0; f < triangles; f++) {
            if (closed[part[f]]) {
                face[f] = n;
                boolean back = flip[f] != turnPart[part[f]];
                for (int k = 0; k < 3; k++) {
                    int v = 3 * t[3 * f + (back && k > 0 ? 3 - k : k)];
                    System.arraycopy(spots, v, corner, 9 * n + 3 * k, 3);
                }
                n++;
            }
        }
        double[] pseudo = pseudonormals(spots.length / 3, t, beyond, part, flip, turnPart, face, corner);
        double[] samples = new double[3 * parts];
        for (int c = 0; c < parts; c++) {
            System.arraycopy(spots, 3 * sample[c], samples, 3 * c, 3);
        }
        return new ClosedMesh(corner, pseudo, open, turned, closedParts, triangles, samples);
    }

    private static double volume(double[] s, int[] t, int f) {
        int a = 3 * t[3 * f];
        int b = 3 * t[3 * f + 1];
        int c = 3 * t[3 * f + 2];
        return s[a] * (s[b + 1] * s[c + 2] - s[b + 2] * s[c + 1])
                + s[a + 1] * (s[b + 2] * s[c] - s[b] * s[c + 2])
                + s[a + 2] * (s[b] * s[c + 1] - s[b + 1] * s[c]);
    }

    /** Whether a vertex of part c lies inside some other closed part, by the solid angles it sees. */
    private static boolean insideAnother(
            double[] s, int[] t, int[] part, boolean[] flip, boolean[] closed, double[] volume, int c, int vertex) {
        double[] angle = new double[closed.length];
        double x = s[3 * vertex];
        double y = s[3 * vertex + 1];
        double z = s[3 * vertex + 2];
        for (int f = 0; f < part.length; f++) {
            if (part[f] != c && closed[part[f]]) {
                angle[part[f]] += (flip[f] ? -1 : 1) * solidAngle(s, t, f, x, y, z);
            }
        }
        for (int p = 0; p < volume.length; p++) {
            if (closed[p] && p != c && Math.abs(angle[p]) > 2 * Math.PI) {
                return true;
            }
        }
        return false;
    }

    /** Van Oosterom and Strackee, IEEE Trans. Biomed. Eng. 30 (1983) 125. */
    private static double solidAngle(double[] s, int[] t, int f, double x, double y, double z) {
        int i = 3 * t[3 * f];
        int j = 3 * t[3 * f + 1];
        int k = 3 * t[3 * f + 2];
        double ax = s[i] - x;
        double ay = s[i + 1] - y;
        double az = s[i + 2] - z;
        double bx = s[j] - x;
        double by = s[j + 1] - y;
        double bz = s[j + 2] - z;
        double cx = s[k] - x;
        double cy = s[k + 1] - y;
        double cz = s[k + 2] - z;
        double la = Math.sqrt(ax * ax + ay * ay + az * az);
        double lb = Math.sqrt(bx * bx + by * by + bz * bz);
        double lc = Math.sqrt(cx * cx + cy * cy + cz * cz);
        double det = ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx);
        double den = la * lb * lc
                + (ax * bx + ay * by + az * bz) * lc
                + (ax * cx + ay * cy + az * cz) * lb
                + (bx * cx + by * cy + bz * cz) * la;
        return 2 * Math.atan2(det, den);
    }

    private static double[] pseudonormals(
            int vertices,
            int[] t,
            int[] beyond,
            int[] part,
            boolean[] flip,
            boolean[] turnPart,
            int[] face,
            double[] corner) {
        int total = corner.length / 9;
        double[] pseudo = new double[21 * total];
        double[] atVertex = new double[3 * vertices];
        for (int n = 0; n < total; n++) {
            normal(corner, n, pseudo);
        }
        for (int f = 0; f < face.length; f++) {
            if (face[f] < 0) {
                continue;
            }
            boolean back = flip[f] != turnPart[part[f]];
            for (int k = 0; k < 3; k++) {
                int v = 3 * t[3 * f + (back && k > 0 ? 3 - k : k)];
                double w = angle(corner, face[f], k);
                for (int x = 0; x < 3; x++) {
                    atVertex[v + x] += w * pseudo[21 * face[f] + x];
                }
            }
        }
        for (int f = 0; f < face.length; f++) {
            int n = face[f];
            if (n < 0) {
                continue;
            }
            boolean back = flip[f] != turnPart[part[f]];
            for (int k = 0; k < 3; k++) {
                // Edge k of the turned triangle runs from corner k to k + 1.
                int edge = back ? 2 - k : k;
                int other = face[beyond[3 * f + edge] / 3];
                int v = 3 * t[3 * f + (back && k > 0 ? 3 - k : k)];
                for (int x = 0; x < 3; x++) {
                    pseudo[21 * n + 3 + 3 * k + x] = pseudo[21 * n + x] + pseudo[21 * other + x];
                    pseudo[21 * n + 12 + 3 * k + x] = atVertex[v + x];
                }
            }
        }
        return pseudo;
    }

    private static void normal(double[] c, int n, double[] into) {
        int i = 9 * n;
        double ux = c[i + 3] - c[i];
        double uy = c[i + 4] - c[i + 1];
        double uz = c[i + 5] - c[i + 2];
        double vx = c[i + 6] - c[i];
        double vy = c[i + 7] - c[i + 1];
        double vz = c[i + 8] - c[i + 2];
        double x = uy * vz - uz * vy;
        double y = uz * vx - ux * vz;
        double z = ux * vy - uy * vx;
        double length = Math.sqrt(x * x + y * y + z * z);
        if (length > 0) {
            into[21 * n] = x / length;
            into[21 * n + 1] = y / length;
            into[21 * n + 2] = z / length;
        }
    }

    private static double angle(double[] c, int n, int k) {
        int a = 9 * n + 3 * k;
        int b = 9 * n + 3 * ((k + 1) % 3);
        int d = 9 * n + 3 * ((k + 2) % 3);
        double ux = c[b] - c[a];
        double uy = c[b + 1] - c[a + 1];
        double uz = c[b + 2] - c[a + 2];
        double vx = c[d] - c[a];
        double vy = c[d + 1] - c[a + 1];
        double vz = c[d + 2] - c[a + 2];
        double x = uy * vz - uz * vy;
        double y = uz * vx - ux * vz;
        double z = ux * vy - uy * vx;
        return Math.atan2(Math.sqrt(x * x + y * y + z * z), ux * vx + uy * vy + uz * vz);
    }

    // ---- tree -------------------------------------------------------------------------------------------

    private int build(int from, int to, double[] middle) {
        int node = nodes++;
        double[] low = {Double.POSITIVE_INFINITY, Double.POSITIVE_INFINITY, Double.POSITIVE_INFINITY};
        double[] high = {Double.NEGATIVE_INFINITY, Double.NEGATIVE_INFINITY, Double.NEGATIVE_INFINITY};
        for (int i = from; i < to; i++) {
            for (int k = 0; k < 9; k++) {
                double x = corner[9 * order[i] + k];
                low[k % 3] = Math.min(low[k % 3], x);
                high[k % 3] = Math.max(high[k % 3], x);
            }
        }
        int axis = 0;
        for (int k = 0; k < 3; k++) {
            box[6 * node + k] = low[k];
            box[6 * node + 3 + k] = high[k];
            if (high[k] - low[k] > high[axis] - low[axis]) {
                axis = k;
            }
        }
        if (to - from <= LEAF) {
            child[node] = ~from;
            second[node] = to;
            return node;
        }
        int half = (from + to) / 2;
        Select.median(order, from, to, half, axis, (item, along) -> middle[3 * item + along]);
        int one = build(from, half, middle);
        int two = build(half, to, middle);
        child[node] = one;
        second[node] = two;
        return node;
    }

    private double toBox(int node, double x, double y, double z) {
        int b = 6 * node;
        double dx = Math.max(0, Math.max(box[b] - x, x - box[b + 3]));
        double dy = Math.max(0, Math.max(box[b + 1] - y, y - box[b + 4]));
        double dz = Math.max(0, Math.max(box[b + 2] - z, z - box[b + 5]));
        return dx * dx + dy * dy + dz * dz;
    }

    /**
     * Returns whether a spot (frame of the mesh) lies inside and puts the foot on the surface and the unit outward
     * direction from the spot to it (from the pseudonormal when it lies on the surface) into an array: six numbers,
     * then three of scratch and the squared distance. The stack, at least 128 long, is scratch too.
     */
    boolean holds(double x, double y, double z, double[] into, int[] stack) {
        if (isEmpty() || toBox(0, x, y, z) > 0) {
            return false;
        }
        double best = Double.POSITIVE_INFINITY;
        double bestSide = 0;
        int height = 0;
        stack[height++] = 0;
        while (height > 0) {
            int node = stack[--height];
            if (toBox(node, x, y, z) > best) {
                continue;
            }
            if (child[node] >= 0) {
                int one = child[node];
                int two = second[node];
                boolean oneNearer = toBox(one, x, y, z) <= toBox(two, x, y, z);
                stack[height++] = oneNearer ? two : one;
                stack[height++] = oneNearer ? one : two;
                continue;
            }
            for (int i = ~child[node]; i < second[node]; i++) {
                int n = order[i];
                int feature = foot(n, x, y, z, into);
                if (into[9] < best) {
                    best = into[9];
                    int m = 21 * n + 3 * feature;
                    double gx = into[6] - x;
                    double gy = into[7] - y;
                    double gz = into[8] - z;
                    bestSide = gx * pseudo[m] + gy * pseudo[m + 1] + gz * pseudo[m + 2];
                    into[0] = into[6];
                    into[1] = into[7];
                    into[2] = into[8];
                    double length = Math.sqrt(best);
                    if (length > 0) {
                        into[3] = gx / length;
                        into[4] = gy / length;
                        into[5] = gz / length;
                    } else {
                        double l = Math.sqrt(
                                pseudo[m] * pseudo[m] + pseudo[m + 1] * pseudo[m + 1] + pseudo[m + 2] * pseudo[m + 2]);
                        into[3] = pseudo[m] / l;
                        into[4] = pseudo[m + 1] / l;
                        into[5] = pseudo[m + 2] / l;
                    }
                }
            }
        }
        into[9] = best;
        return bestSide > 0 || best == 0;
    }

    /** Nearest spot of a triangle and its squared distance; returns 0 for the face, 1-3 an edge, 4-6 a corner. */
    private int foot(int n, double x, double y, double z, double[] into) {
        int i = 9 * n;
        double ax = corner[i];
        double ay = corner[i + 1];
        double az = corner[i + 2];
        double ux = corner[i + 3] - ax;
        double uy = corner[i + 4] - ay;
        double uz = corner[i + 5] - az;
        double vx = corner[i + 6] - ax;
        double vy = corner[i + 7] - ay;
        double vz = corner[i + 8] - az;
        double px = x - ax;
        double py = y - ay;
        double pz = z - az;
        double d1 = ux * px + uy * py + uz * pz;
        double d2 = vx * px + vy * py + vz * pz;
        if (d1 <= 0 && d2 <= 0) {
            return put(into, x, y, z, ax, ay, az, 4);
        }
        double qx = px - ux;
        double qy = py - uy;
        double qz = pz - uz;
        double d3 = ux * qx + uy * qy + uz * qz;
        double d4 = vx * qx + vy * qy + vz * qz;
        if (d3 >= 0 && d4 <= d3) {
            return put(into, x, y, z, ax + ux, ay + uy, az + uz, 5);
        }
        double vc = d1 * d4 - d3 * d2;
        if (vc <= 0 && d1 >= 0 && d3 <= 0) {
            double s = d1 / (d1 - d3);
            return put(into, x, y, z, ax + s * ux, ay + s * uy, az + s * uz, 1);
        }
        double rx = px - vx;
        double ry = py - vy;
        double rz = pz - vz;
        double d5 = ux * rx + uy * ry + uz * rz;
        double d6 = vx * rx + vy * ry + vz * rz;
        if (d6 >= 0 && d5 <= d6) {
            return put(into, x, y, z, ax + vx, ay + vy, az + vz, 6);
        }
        double vb = d5 * d2 - d1 * d6;
        if (vb <= 0 && d2 >= 0 && d6 <= 0) {
            double s = d2 / (d2 - d6);
            return put(into, x, y, z, ax + s * vx, ay + s * vy, az + s * vz, 3);
        }
        double va = d3 * d6 - d5 * d4;
        if (va <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0) {
            double s = (d4 - d3) / (d4 - d3 + (d5 - d6));
            return put(into, x, y, z, ax + ux + s * (vx - ux), ay + uy + s * (vy - uy), az + uz + s * (vz - uz), 2);
        }
        double sum = va + vb + vc;
        double s = vb / sum;
        double r = vc / sum;
        return put(into, x, y, z, ax + s * ux + r * vx, ay + s * uy + r * vy, az + s * uz + r * vz, 0);
    }

    private static int put(double[] into, double x, double y, double z, double fx, double fy, double fz, int feature) {
        double gx = fx - x;
        double gy = fy - y;
        double gz = fz - z;
        into[6] = fx;
        into[7] = fy;
        into[8] = fz;
        into[9] = gx * gx + gy * gy + gz * gz;
        return feature;
    }
}
