package daylight.geometry;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Polygon;
import org.locationtech.jts.operation.valid.IsValidOp;

/**
 * A turned part's half section, with its rounding taken off: the core that, grown by the rounding radius, is the
 * part.
 *
 * <p>Coordinates: h along the axis, r from the axis, mm. Counter-clockwise. Edges on the axis are no surface and
 * are not moved by the rounding.
 */
final class Profile {
    /** An edge closer to the axis than this, mm, lies on it. */
    private static final double ON_AXIS_MM = 1e-9;
    /** A profile whose hull has less than this share of area more is convex; the hull is then used, outward. */
    private static final double CONVEX_SHARE = 1e-12;

    /** Core corners as h, r, h, r, ..., counter-clockwise. */
    final double[] core;
    /** Corners of the convex hull of the core and its mirror image, the half with r >= 0. */
    final double[] hull;
    /** Whether the turned core is convex: then the hull is exact everywhere. */
    final boolean convex;

    private Profile(double[] core) {
        this.core = core;
        int n = core.length / 2;
        Coordinate[] both = new Coordinate[2 * n];
        for (int i = 0; i < n; i++) {
            both[i] = new Coordinate(core[2 * i], core[2 * i + 1]);
            both[n + i] = new Coordinate(core[2 * i], -core[2 * i + 1]);
        }
        var hullFigure = Figure.FACTORY.createMultiPointFromCoords(both).convexHull();
        this.hull = upperHalf(hullFigure.getCoordinates());
        double area = polygon(core).getArea();
        this.convex = hullFigure.getArea() / 2 - area <= CONVEX_SHARE * area;
    }

    /** Returns why the profile cannot be turned, or nothing when it can. */
    static Optional<String> whyNot(Shape.Turned turned) {
        Optional<String> outline = Figure.whyNot("profile", turned.profile());
        if (outline.isPresent()) {
            return outline;
        }
        double rounding = turned.roundingMm();
        if (rounding == 0 || fits(turned, rounding)) {
            return Optional.empty();
        }
        double low = 0;
        double high = rounding;
        for (int i = 0; i < 60; i++) {
            double middle = 0.5 * (low + high);
            if (fits(turned, middle)) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return Optional.of(String.format(
                Locale.ROOT,
                "corners rounded by %.3f mm do not fit into the profile: some part of it is too thin or too short."
                        + " The largest rounding that fits is %.3f mm; use that or less",
                rounding,
                Math.floor(low * 1000) / 1000));
    }

    /** Returns the profile of a turned part that {@link #whyNot} has nothing against. */
    static Profile of(Shape.Turned turned) {
        return new Profile(inset(corners(turned), turned.roundingMm()));
    }

    /** Returns the convex parts of the core, each as h, r, h, r, ..., counter-clockwise. */
    List<double[]> parts() {
        return ConvexParts.of(polygon(core));
    }

    private static double[] corners(Shape.Turned turned) {
        Coordinate[] ring =
                Figure.polygon(turned.profile(), List.of()).getExteriorRing().getCoordinates();
        // Straight corners would make the inset of nearly parallel edges ill-placed; they change nothing.
        List<Coordinate> kept = new ArrayList<>();
        int n = ring.length - 1;
        for (int i = 0; i < n; i++) {
            Coordinate a = ring[(i + n - 1) % n];
            Coordinate b = ring[i];
            Coordinate c = ring[(i + 1) % n];
            double cross = (b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x);
            if (Math.abs(cross) > 1e-12 * a.distance(b) * b.distance(c)) {
                kept.add(b);
            }
        }
        double[] result = new double[2 * kept.size()];
        for (int i = 0; i < kept.size(); i++) {
            result[2 * i] = kept.get(i).x;
            result[2 * i + 1] = kept.get(i).y <= ON_AXIS_MM ? 0 : kept.get(i).y;
        }
        return result;
    }

    private static boolean fits(Shape.Turned turned, double rounding) {
        double[] before = corners(turned);
        double[] after = inset(before, rounding);
        int n = before.length / 2;
        for (int i = 0; i < n; i++) {
            int j = (i + 1) % n;
            double dot = (before[2 * j] - before[2 * i]) * (after[2 * j] - after[2 * i])
                    + (before[2 * j + 1] - before[2 * i + 1]) * (after[2 * j + 1] - after[2 * i + 1]);
            if (!(dot > 0) || !(after[2 * i + 1] >= 0)) {
                return false;
            }
        }
        return new IsValidOp(polygon(after)).isValid();
    }

    /**
     * Moves every edge that is not on the axis inwards and meets neighbours where their lines cross. Grown again
     * by the same radius this gives the profile with its outer corners rounded and its inner corners as they were.
     */
    private static double[] inset(double[] corners, double by) {
        if (by == 0) {
            return corners;
        }
        int n = corners.length / 2;
        double[] result = new double[2 * n];
        for (int i = 0; i < n; i++) {
            int a = (i + n - 1) % n;
            int c = (i + 1) % n;
            double ux = corners[2 * i] - corners[2 * a];
            double uy = corners[2 * i + 1] - corners[2 * a + 1];
            double vx = corners[2 * c] - corners[2 * i];
            double vy = corners[2 * c + 1] - corners[2 * i + 1];
            double lu = Math.hypot(ux, uy);
            double lv = Math.hypot(vx, vy);
            ux /= lu;
            uy /= lu;
            vx /= lv;
            vy /= lv;
            double ou = onAxis(corners, a, i) ? 0 : by;
            double ov = onAxis(corners, i, c) ? 0 : by;
            // Inward normals of a counter-clockwise figure: (-uy, ux) and (-vy, vx).
            double det = ux * vy - uy * vx;
            double px = (ou * vx - ov * ux) / det;
            double py = (ou * vy - ov * uy) / det;
            result[2 * i] = corners[2 * i] + px;
            result[2 * i + 1] = corners[2 * i + 1] + py;
            if (Math.abs(result[2 * i + 1]) <= ON_AXIS_MM) {
                result[2 * i + 1] = 0;
            }
        }
        return result;
    }

    private static boolean onAxis(double[] corners, int i, int j) {
        return corners[2 * i + 1] == 0 && corners[2 * j + 1] == 0;
    }

    private static Polygon polygon(double[] corners) {
        int n = corners.length / 2;
        Coordinate[] ring = new Coordinate[n + 1];
        for (int i = 0; i < n; i++) {
            ring[i] = new Coordinate(corners[2 * i], corners[2 * i + 1]);
        }
        ring[n] = ring[0].copy();
        return Figure.FACTORY.createPolygon(ring);
    }

    private static double[] upperHalf(Coordinate[] ring) {
        double[] result = new double[2 * ring.length];
        int count = 0;
        for (int i = 0; i < Math.max(1, ring.length - 1); i++) {
            if (ring[i].y >= 0) {
                result[2 * count] = ring[i].x;
                result[2 * count + 1] = ring[i].y;
                count++;
            }
        }
        return Arrays.copyOf(result, 2 * count);
    }
}
