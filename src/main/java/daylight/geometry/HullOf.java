package daylight.geometry;

import com.github.quickhull3d.Point3d;
import com.github.quickhull3d.QuickHull3D;
import java.util.Arrays;
import java.util.List;
import org.locationtech.jts.geom.Coordinate;

/** Convex hulls of spots, flat, straight and single-spot sets included. */
final class HullOf {
    /** Flatness tolerance as a share of the set's size; see {@link #corners}. */
    static final double FLAT_SHARE = 1e-10;

    private HullOf() {}

    /** The hull's corners and its faces, each counter-clockwise seen from outside; no faces when it is flat. */
    record Faces(List<Spot> corners, List<List<Integer>> faces) {}

    /**
     * Returns the corners of the hull as x, y, z, x, y, z, ...; 3 numbers for a single spot, 6 for a straight set.
     * Sets thinner than {@code flat} times their size count as flat or straight.
     */
    static double[] corners(double[] spots, double flat) {
        int n = spots.length / 3;
        int[] frame = frame(spots, flat);
        if (frame.length == 1) {
            return new double[] {spots[0], spots[1], spots[2]};
        }
        if (frame.length == 2) {
            return ends(spots, frame);
        }
        int[] kept;
        if (frame.length == 3) {
            kept = flatHull(spots, frame);
        } else {
            QuickHull3D hull = new QuickHull3D();
            hull.build(points(spots), n);
            kept = hull.getVertexPointIndices();
        }
        double[] result = new double[3 * kept.length];
        for (int i = 0; i < kept.length; i++) {
            System.arraycopy(spots, 3 * kept[i], result, 3 * i, 3);
        }
        return result;
    }

    /** Returns corners in order round a flat hull, counter-clockwise about the returned order's own normal. */
    static int[] flatHull(double[] spots, int[] frame) {
        double[] e1 = unit(spots, frame[0], frame[1]);
        double[] d = difference(spots, frame[0], frame[2]);
        double along = d[0] * e1[0] + d[1] * e1[1] + d[2] * e1[2];
        double[] e2 = {d[0] - along * e1[0], d[1] - along * e1[1], d[2] - along * e1[2]};
        double length = Math.sqrt(e2[0] * e2[0] + e2[1] * e2[1] + e2[2] * e2[2]);
        int n = spots.length / 3;
        Coordinate[] flat = new Coordinate[n];
        for (int i = 0; i < n; i++) {
            double[] p = difference(spots, frame[0], i);
            flat[i] = new Coordinate(
                    p[0] * e1[0] + p[1] * e1[1] + p[2] * e1[2],
                    (p[0] * e2[0] + p[1] * e2[1] + p[2] * e2[2]) / length,
                    i);
        }
        Coordinate[] ring =
                Figure.FACTORY.createMultiPointFromCoords(flat).convexHull().getCoordinates();
        int[] kept = new int[ring.length - 1];
        for (int i = 0; i < kept.length; i++) {
            // JTS goes clockwise.
            kept[i] = (int) ring[kept.length - i].getZ();
        }
        return kept;
    }

    static Point3d[] points(double[] spots) {
        Point3d[] points = new Point3d[spots.length / 3];
        for (int i = 0; i < points.length; i++) {
            points[i] = new Point3d(spots[3 * i], spots[3 * i + 1], spots[3 * i + 2]);
        }
        return points;
    }

    /** Returns indices of spots that span the set: one, two, three (flat) or four of them. */
    static int[] frame(double[] spots, double flat) {
        int n = spots.length / 3;
        int b = 0;
        double far = 0;
        for (int i = 1; i < n; i++) {
            double[] d = difference(spots, 0, i);
            double distance = d[0] * d[0] + d[1] * d[1] + d[2] * d[2];
            if (distance > far) {
                far = distance;
                b = i;
            }
        }
        double size = Math.sqrt(far);
        double magnitude = 0;
        for (double x : spots) {
            magnitude = Math.max(magnitude, Math.abs(x));
        }
        // A set that is smaller than the rounding of its own coordinates is one spot.
        if (!(size > 8 * Math.ulp(magnitude))) {
            return new int[] {0};
        }
        double tolerance = Math.max(flat * size, 8 * Math.ulp(magnitude));
        double[] e = unit(spots, 0, b);
        int c = 0;
        far = 0;
        for (int i = 0; i < n; i++) {
            double[] d = difference(spots, 0, i);
            double cx = d[1] * e[2] - d[2] * e[1];
            double cy = d[2] * e[0] - d[0] * e[2];
            double cz = d[0] * e[1] - d[1] * e[0];
            double off = Math.sqrt(cx * cx + cy * cy + cz * cz);
            if (off > far) {
                far = off;
                c = i;
            }
        }
        if (!(far > tolerance)) {
            return new int[] {0, b};
        }
        double[] d = difference(spots, 0, c);
        double nx = e[1] * d[2] - e[2] * d[1];
        double ny = e[2] * d[0] - e[0] * d[2];
        double nz = e[0] * d[1] - e[1] * d[0];
        double length = Math.sqrt(nx * nx + ny * ny + nz * nz);
        int f = 0;
        far = 0;
        for (int i = 0; i < n; i++) {
            double[] p = difference(spots, 0, i);
            double off = Math.abs(p[0] * nx + p[1] * ny + p[2] * nz) / length;
            if (off > far) {
                far = off;
                f = i;
            }
        }
        return far > tolerance ? new int[] {0, b, c, f} : new int[] {0, b, c};
    }

    /** The two ends of a straight set. */
    private static double[] ends(double[] spots, int[] frame) {
        double[] e = unit(spots, frame[0], frame[1]);
        int low = 0;
        int high = 0;
        double least = 0;
        double most = 0;
        for (int i = 1; i < spots.length / 3; i++) {
            double[] d = difference(spots, 0, i);
            double along = d[0] * e[0] + d[1] * e[1] + d[2] * e[2];
            if (along < least) {
                least = along;
                low = i;
            }
            if (along > most) {
                most = along;
                high = i;
            }
        }
        double[] result = Arrays.copyOfRange(spots, 3 * low, 3 * low + 6 - 3);
        result = Arrays.copyOf(result, 6);
        System.arraycopy(spots, 3 * high, result, 3, 3);
        return result;
    }

    private static double[] difference(double[] spots, int from, int to) {
        return new double[] {
            spots[3 * to] - spots[3 * from],
            spots[3 * to + 1] - spots[3 * from + 1],
            spots[3 * to + 2] - spots[3 * from + 2]
        };
    }

    private static double[] unit(double[] spots, int from, int to) {
        double[] d = difference(spots, from, to);
        double length = Math.sqrt(d[0] * d[0] + d[1] * d[1] + d[2] * d[2]);
        return new double[] {d[0] / length, d[1] / length, d[2] / length};
    }
}
