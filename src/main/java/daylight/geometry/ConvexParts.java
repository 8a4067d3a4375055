package daylight.geometry;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Polygon;
import org.locationtech.jts.triangulate.polygon.ConstrainedDelaunayTriangulator;
import org.locationtech.jts.triangulate.tri.Tri;

/**
 * Cuts a flat figure, holes included, into convex parts that cover exactly the figure.
 *
 * <p>Constrained Delaunay triangles (JTS), then diagonals that are not needed are taken away one by one.
 *
 * @see "Hertel and Mehlhorn, Fast triangulation of simple polygons, FCT 1983: at most four times the least number
 *     of parts"
 */
final class ConvexParts {
    private ConvexParts() {}

    /** Returns the triangles of the figure, each counter-clockwise as x, y, x, y, x, y. */
    static List<double[]> triangles(Polygon figure) {
        List<double[]> result = new ArrayList<>();
        for (Tri tri : new ConstrainedDelaunayTriangulator(figure).getTriangles()) {
            Coordinate a = tri.getCoordinate(0);
            Coordinate b = tri.getCoordinate(1);
            Coordinate c = tri.getCoordinate(2);
            double area = cross(a, b, c);
            if (area > 0) {
                result.add(new double[] {a.x, a.y, b.x, b.y, c.x, c.y});
            } else if (area < 0) {
                result.add(new double[] {a.x, a.y, c.x, c.y, b.x, b.y});
            }
        }
        return result;
    }

    /** Returns convex parts of the figure, each counter-clockwise as x, y, x, y, ... without straight corners. */
    static List<double[]> of(Polygon figure) {
        Map<Coordinate, Integer> index = new HashMap<>();
        List<Coordinate> corners = new ArrayList<>();
        List<int[]> parts = new ArrayList<>();
        for (double[] t : triangles(figure)) {
            int[] part = new int[3];
            for (int i = 0; i < 3; i++) {
                Coordinate c = new Coordinate(t[2 * i], t[2 * i + 1]);
                Integer known = index.get(c);
                if (known == null) {
                    known = corners.size();
                    index.put(c, known);
                    corners.add(c);
                }
                part[i] = known;
            }
            parts.add(part);
        }
        Map<Long, Integer> owner = new HashMap<>();
        List<long[]> edges = new ArrayList<>();
        for (int p = 0; p < parts.size(); p++) {
            claim(owner, parts.get(p), p);
            int[] part = parts.get(p);
            for (int i = 0; i < 3; i++) {
                int u = part[i];
                int v = part[(i + 1) % 3];
                if (u < v) {
                    edges.add(new long[] {u, v});
                }
            }
        }
        // The longest diagonals first: what stays is then compact.
        edges.sort((a, b) -> {
            double la = corners.get((int) a[0]).distance(corners.get((int) a[1]));
            double lb = corners.get((int) b[0]).distance(corners.get((int) b[1]));
            int order = Double.compare(lb, la);
            return order != 0 ? order : a[0] != b[0] ? Long.compare(a[0], b[0]) : Long.compare(a[1], b[1]);
        });
        boolean[] gone = new boolean[parts.size()];
        for (long[] edge : edges) {
            Integer one = owner.get(key((int) edge[0], (int) edge[1]));
            Integer two = owner.get(key((int) edge[1], (int) edge[0]));
            if (one == null || two == null || one.equals(two)) {
                continue;
            }
            int[] merged = merged(parts.get(one), parts.get(two), (int) edge[0], (int) edge[1]);
            if (isConvex(merged, corners)) {
                owner.remove(key((int) edge[0], (int) edge[1]));
                owner.remove(key((int) edge[1], (int) edge[0]));
                parts.set(one, merged);
                claim(owner, merged, one);
                gone[two] = true;
            }
        }
        List<double[]> result = new ArrayList<>();
        for (int p = 0; p < parts.size(); p++) {
            if (!gone[p]) {
                result.add(withoutStraightCorners(parts.get(p), corners));
            }
        }
        return result;
    }

    private static void claim(Map<Long, Integer> owner, int[] part, int p) {
        for (int i = 0; i < part.length; i++) {
            owner.put(key(part[i], part[(i + 1) % part.length]), p);
        }
    }

    private static long key(int u, int v) {
        return ((long) u << 32) | v;
    }

    /** Joins two parts along the edge u to v of the first, which the second has as v to u. */
    private static int[] merged(int[] one, int[] two, int u, int v) {
        int[] result = new int[one.length + two.length - 2];
        int n = 0;
        int start = at(one, v);
        for (int i = 0; i < one.length; i++) {
            result[n++] = one[(start + i) % one.length];
        }
        int after = at(two, u);
        for (int i = 1; i < two.length - 1; i++) {
            result[n++] = two[(after + i) % two.length];
        }
        return result;
    }

    private static int at(int[] part, int corner) {
        for (int i = 0; i < part.length; i++) {
            if (part[i] == corner) {
                return i;
            }
        }
        throw new IllegalStateException("a flat part lost corner " + corner + "; please report this figure");
    }

    private static boolean isConvex(int[] part, List<Coordinate> corners) {
        int n = part.length;
        for (int i = 0; i < n; i++) {
            if (cross(corners.get(part[i]), corners.get(part[(i + 1) % n]), corners.get(part[(i + 2) % n])) < 0) {
                return false;
            }
        }
        return true;
    }

    private static double[] withoutStraightCorners(int[] part, List<Coordinate> corners) {
        int n = part.length;
        double[] kept = new double[2 * n];
        int count = 0;
        for (int i = 0; i < n; i++) {
            Coordinate before = corners.get(part[(i + n - 1) % n]);
            Coordinate here = corners.get(part[i]);
            Coordinate after = corners.get(part[(i + 1) % n]);
            if (cross(before, here, after) > 0) {
                kept[2 * count] = here.x;
                kept[2 * count + 1] = here.y;
                count++;
            }
        }
        return java.util.Arrays.copyOf(kept, 2 * count);
    }

    private static double cross(Coordinate a, Coordinate b, Coordinate c) {
        return (b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x);
    }
}
