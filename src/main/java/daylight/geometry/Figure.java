package daylight.geometry;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.locationtech.jts.algorithm.Orientation;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.geom.LinearRing;
import org.locationtech.jts.geom.Polygon;
import org.locationtech.jts.operation.valid.IsValidOp;
import org.locationtech.jts.operation.valid.TopologyValidationError;

/** Flat figures of plates and turned parts as JTS polygons, and what is wrong with those that are none. */
final class Figure {
    static final GeometryFactory FACTORY = new GeometryFactory();
    /** Corners closer than this, mm, are one corner written twice. */
    private static final double SAME_CORNER_MM = 1e-6;

    private Figure() {}

    /** Returns why the corners do not make a simple outline, or nothing when they do. */
    static Optional<String> whyNot(String what, List<Flat> corners) {
        int n = corners.size();
        for (int i = 0; i < n; i++) {
            Flat a = corners.get(i);
            Flat b = corners.get((i + 1) % n);
            if (Math.hypot(a.x() - b.x(), a.y() - b.y()) <= SAME_CORNER_MM) {
                return Optional.of(String.format(
                        Locale.ROOT,
                        "corners %d and %d of the %s are the same place (%.3f, %.3f). Write each corner once; the %s"
                                + " closes by itself",
                        i + 1,
                        (i + 1) % n + 1,
                        what,
                        a.x(),
                        a.y(),
                        what));
            }
        }
        Polygon polygon = polygon(corners, List.of());
        IsValidOp check = new IsValidOp(polygon);
        TopologyValidationError error = check.getValidationError();
        if (error != null) {
            Coordinate at = error.getCoordinate();
            return Optional.of(String.format(
                    Locale.ROOT,
                    "the %s crosses or touches itself near (%.3f, %.3f). Its corners must follow one another round"
                            + " the edge without crossing: check their order",
                    what,
                    at.x,
                    at.y));
        }
        if (!(polygon.getArea() > SAME_CORNER_MM * polygon.getLength())) {
            return Optional.of(String.format(
                    Locale.ROOT,
                    "the %s encloses no area: its corners lie on one line. Move at least one corner off that line",
                    what));
        }
        return Optional.empty();
    }

    /** Returns why the plate cannot be made, or nothing when it can. */
    static Optional<String> whyNot(Shape.Plate plate) {
        Optional<String> outline = whyNot("outline", plate.outline());
        if (outline.isPresent()) {
            return outline;
        }
        LinearRing edge = polygon(plate.outline(), List.of()).getExteriorRing();
        Polygon solid = FACTORY.createPolygon(edge);
        List<Shape.Plate.Hole> holes = plate.holes();
        for (int i = 0; i < holes.size(); i++) {
            Shape.Plate.Hole hole = holes.get(i);
            var centre = FACTORY.createPoint(
                    new Coordinate(hole.centre().x(), hole.centre().y()));
            double toEdge = edge.distance(centre);
            double radius = hole.diameterMm() / 2;
            if (!solid.contains(centre) || toEdge <= radius) {
                double room = solid.contains(centre) ? toEdge : -toEdge;
                return Optional.of(String.format(
                        Locale.ROOT,
                        "hole %d (centre %.3f, %.3f; diameter %.3f mm) reaches %.3f mm beyond the outline. A hole"
                                + " lies wholly inside: move it, make it smaller, or draw it as a notch in the outline",
                        i + 1,
                        hole.centre().x(),
                        hole.centre().y(),
                        hole.diameterMm(),
                        radius - room));
            }
            for (int j = 0; j < i; j++) {
                Shape.Plate.Hole other = holes.get(j);
                double apart = Math.hypot(
                        hole.centre().x() - other.centre().x(),
                        hole.centre().y() - other.centre().y());
                double sum = radius + other.diameterMm() / 2;
                if (apart <= sum) {
                    return Optional.of(String.format(
                            Locale.ROOT,
                            "holes %d and %d overlap by %.3f mm. Holes must leave metal between them: move one or"
                                    + " draw both as one opening",
                            j + 1,
                            i + 1,
                            sum - apart));
                }
            }
        }
        return Optional.empty();
    }

    /**
     * Returns the plate's figure, holes as polygons inscribed in their circles so that the metal is never less
     * than in truth.
     *
     * @param sagittaMm greatest distance between a hole's polygon and its circle, mm
     */
    static Polygon of(Shape.Plate plate, double sagittaMm) {
        List<Coordinate[]> holes = new ArrayList<>();
        for (Shape.Plate.Hole hole : plate.holes()) {
            double r = hole.diameterMm() / 2;
            int sides = sides(r, sagittaMm);
            Coordinate[] ring = new Coordinate[sides + 1];
            for (int i = 0; i < sides; i++) {
                double angle = 2 * Math.PI * i / sides;
                ring[i] = new Coordinate(
                        hole.centre().x() + r * Math.cos(angle), hole.centre().y() + r * Math.sin(angle));
            }
            ring[sides] = ring[0].copy();
            holes.add(ring);
        }
        return polygon(plate.outline(), holes);
    }

    /** Returns how many sides a polygon inscribed in a circle needs to stay within the sagitta; at least 6. */
    static int sides(double radiusMm, double sagittaMm) {
        double cosine = Math.max(0.0, 1 - sagittaMm / radiusMm);
        return Math.max(6, (int) Math.ceil(Math.PI / Math.acos(cosine)));
    }

    static Polygon polygon(List<Flat> corners, List<Coordinate[]> holes) {
        int n = corners.size();
        Coordinate[] ring = new Coordinate[n + 1];
        for (int i = 0; i < n; i++) {
            ring[i] = new Coordinate(corners.get(i).x(), corners.get(i).y());
        }
        ring[n] = ring[0].copy();
        if (n >= 3 && !Orientation.isCCWArea(ring)) {
            for (int i = 0, j = n; i < j; i++, j--) {
                Coordinate swap = ring[i];
                ring[i] = ring[j];
                ring[j] = swap;
            }
        }
        LinearRing[] inner = new LinearRing[holes.size()];
        for (int i = 0; i < inner.length; i++) {
            inner[i] = FACTORY.createLinearRing(holes.get(i));
        }
        return FACTORY.createPolygon(FACTORY.createLinearRing(ring), inner);
    }
}
