package daylight.trim;

import daylight.car.Car;
import daylight.car.CommonPractice;
import daylight.geometry.Cut;
import daylight.geometry.Flat;
import daylight.geometry.PlateCuts;
import daylight.geometry.Shape;
import daylight.units.LengthFormat;
import java.util.List;
import java.util.Optional;
import java.util.function.ToDoubleFunction;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.GeometryFactory;

/**
 * What no cut may take from a plate: holes with their edge distance, welded edges, and what the builder wants kept.
 *
 * @param welds welded edges
 * @param keep figures that have to stay
 * @param edgeDistanceMm least distance from a hole's centre to a cut edge, if the builder gives one
 * @param timesDiameter else so many times the hole's diameter
 * @param source where that figure comes from
 */
record CutLimits(
        List<Car.Metal.Weld> welds,
        List<List<Flat>> keep,
        Optional<Double> edgeDistanceMm,
        double timesDiameter,
        String source) {
    /** What rounding may take of a weld or of a distance, mm. */
    private static final double ROUNDING_MM = 1e-6;

    CutLimits {
        welds = List.copyOf(welds);
        keep = List.copyOf(keep);
    }

    /** Returns the limits of a plate of a car. */
    static CutLimits of(Optional<Car.Metal> metal) {
        CommonPractice practice = CommonPractice.shipped();
        return new CutLimits(
                metal.map(Car.Metal::welds).orElse(List.of()),
                metal.map(Car.Metal::keep).orElse(List.of()),
                metal.flatMap(Car.Metal::edgeDistanceMm),
                practice.edgeDistanceTimesDiameter(),
                practice.edgeDistanceSource());
    }

    /** Returns the least distance from a hole's centre to a cut edge, mm. */
    double edgeDistanceMm(Shape.Plate.Hole hole) {
        return edgeDistanceMm.orElse(timesDiameter * hole.diameterMm());
    }

    /** Returns whether a straight line leaves everything on its near side. */
    boolean keepsAside(Shape.Plate plate, ToDoubleFunction<Flat> distanceMm) {
        for (Shape.Plate.Hole hole : plate.holes()) {
            if (distanceMm.applyAsDouble(hole.centre()) < edgeDistanceMm(hole) - ROUNDING_MM) {
                return false;
            }
        }
        for (Car.Metal.Weld weld : welds) {
            if (distanceMm.applyAsDouble(weld.from()) < -ROUNDING_MM
                    || distanceMm.applyAsDouble(weld.to()) < -ROUNDING_MM) {
                return false;
            }
        }
        for (List<Flat> figure : keep) {
            for (Flat corner : figure) {
                if (distanceMm.applyAsDouble(corner) < -ROUNDING_MM) {
                    return false;
                }
            }
        }
        return true;
    }

    /** Returns whether a cut may be made. */
    boolean allows(Shape.Plate plate, Cut cut) {
        return blocks(plate, cut, LengthFormat.TENTHS_OF_MM).isEmpty();
    }

    /** Returns what a cut takes that has to stay, in words, or nothing when it may be made. */
    Optional<String> blocks(Shape.Plate plate, Cut cut, LengthFormat format) {
        Optional<String> why = PlateCuts.whyNot(plate, cut);
        if (why.isPresent()) {
            return why;
        }
        Shape.Plate left = PlateCuts.after(plate, cut);
        Geometry metal = Forbidden.polygon(left.outline());
        Geometry edge = metal.getBoundary();
        Geometry before = Forbidden.polygon(plate.outline()).getBoundary();
        GeometryFactory factory = new GeometryFactory();
        for (int h = 0; h < plate.holes().size(); h++) {
            Shape.Plate.Hole hole = plate.holes().get(h);
            if (!left.holes().contains(hole)) {
                return Optional.of("hole " + (h + 1) + " would go with it");
            }
            Geometry centre = factory.createPoint(
                    new Coordinate(hole.centre().x(), hole.centre().y()));
            double now = edge.distance(centre);
            if (now < edgeDistanceMm(hole) - ROUNDING_MM && now < before.distance(centre) - ROUNDING_MM) {
                return Optional.of("hole " + (h + 1) + " would be "
                        + format.print(now) + " from the cut, and needs "
                        + format.print(edgeDistanceMm(hole)));
            }
        }
        Geometry wide = edge.buffer(ROUNDING_MM);
        for (Car.Metal.Weld weld : welds) {
            Geometry seam = factory.createLineString(new Coordinate[] {
                new Coordinate(weld.from().x(), weld.from().y()),
                new Coordinate(weld.to().x(), weld.to().y())
            });
            if (!wide.covers(seam) && before.buffer(ROUNDING_MM).covers(seam)) {
                return Optional.of("the weld along the " + weld.name() + " would be cut");
            }
        }
        Geometry grown = metal.buffer(ROUNDING_MM);
        for (List<Flat> figure : keep) {
            if (!grown.covers(Forbidden.polygon(figure))) {
                return Optional.of("it would take some of what has to stay (keep)");
            }
        }
        return Optional.empty();
    }
}
