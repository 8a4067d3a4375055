package daylight.trim;

import daylight.geometry.Cut;
import daylight.geometry.Flat;
import daylight.geometry.PlateCuts;
import daylight.geometry.Shape;
import java.util.ArrayList;
import java.util.List;
import org.locationtech.jts.algorithm.ConvexHull;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.geom.prep.PreparedGeometry;
import org.locationtech.jts.geom.prep.PreparedGeometryFactory;

/** Small questions about flat figures. */
final class Hull {
    /** What rounding may leave of a square beside a cut, mm. */
    private static final double ROUNDING_MM = 1e-6;

    private Hull() {}

    /** Returns the corners of the convex hull of all squares: x, y, x, y, ... */
    static double[] of(List<Forbidden.Cell> cells) {
        List<Coordinate> all = new ArrayList<>();
        for (Forbidden.Cell cell : cells) {
            for (Flat at : cell.metal) {
                all.add(new Coordinate(at.x(), at.y()));
            }
        }
        Coordinate[] hull = new ConvexHull(all.toArray(new Coordinate[0]), new GeometryFactory())
                .getConvexHull()
                .getCoordinates();
        int n = hull.length > 1 && hull[0].equals2D(hull[hull.length - 1]) ? hull.length - 1 : hull.length;
        double[] corners = new double[2 * n];
        for (int i = 0; i < n; i++) {
            corners[2 * i] = hull[i].x;
            corners[2 * i + 1] = hull[i].y;
        }
        return corners;
    }

    /** Returns twice the area of a figure, positive when it is drawn left about. */
    static double twiceArea(List<Flat> corners) {
        double sum = 0;
        for (int i = 0; i < corners.size(); i++) {
            Flat a = corners.get(i);
            Flat b = corners.get((i + 1) % corners.size());
            sum += a.x() * b.y() - b.x() * a.y();
        }
        return sum;
    }

    /** Returns how far a place is from the edge of a figure, mm. */
    static double toEdge(Flat from, List<Flat> figure) {
        double least = Double.POSITIVE_INFINITY;
        for (int i = 0; i < figure.size(); i++) {
            Flat a = figure.get(i);
            Flat b = figure.get((i + 1) % figure.size());
            double x = b.x() - a.x();
            double y = b.y() - a.y();
            double px = from.x() - a.x();
            double py = from.y() - a.y();
            double square = x * x + y * y;
            double t = square > 0 ? Math.max(0, Math.min(1, (px * x + py * y) / square)) : 0;
            least = Math.min(least, Math.hypot(px - t * x, py - t * y));
        }
        return least;
    }

    /** Returns how far a place is from a convex figure, mm; zero inside it. */
    static double distance(Flat from, List<Flat> figure) {
        double least = Double.POSITIVE_INFINITY;
        boolean inside = true;
        double turn = Math.signum(twiceArea(figure));
        for (int i = 0; i < figure.size(); i++) {
            Flat a = figure.get(i);
            Flat b = figure.get((i + 1) % figure.size());
            double x = b.x() - a.x();
            double y = b.y() - a.y();
            double px = from.x() - a.x();
            double py = from.y() - a.y();
            inside &= turn * (x * py - y * px) >= 0;
            double square = x * x + y * y;
            double t = square > 0 ? Math.max(0, Math.min(1, (px * x + py * y) / square)) : 0;
            least = Math.min(least, Math.hypot(px - t * x, py - t * y));
        }
        return inside ? 0 : least;
    }

    /** Returns whether nothing of the squares is left in a plate after a cut. */
    static boolean isOff(Shape.Plate plate, Cut cut, List<Forbidden.Cell> cells) {
        Geometry left = Forbidden.polygon(PlateCuts.after(plate, cut).outline());
        // A hair less than what is left: squares that only touch the cut's edge are off.
        PreparedGeometry inner = PreparedGeometryFactory.prepare(left.buffer(-ROUNDING_MM));
        GeometryFactory factory = new GeometryFactory();
        for (Forbidden.Cell cell : cells) {
            for (Flat at : cell.metal) {
                if (inner.contains(factory.createPoint(new Coordinate(at.x(), at.y())))) {
                    return false;
                }
            }
        }
        return true;
    }
}
