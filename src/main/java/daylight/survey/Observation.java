package daylight.survey;

import daylight.geometry.Direction;
import daylight.survey.Equation.Quantity;
import java.util.ArrayList;
import java.util.List;

/**
 * Something read on the car at ride height. Car frame (ISO 8855: x forward, y left, z up); lengths in mm, angles in
 * radians. Every {@code u} is one standard uncertainty in the reading's own unit; {@link MeasuringDefaults} gives
 * usual ones.
 *
 * <p>An observation knows which points it speaks of by name and which {@linkplain Equation equations} it puts on
 * them. It knows nothing of files.
 */
public sealed interface Observation {
    /** What the builder or a message calls it; unique in a {@link Network}. */
    String name();

    /** The equations it puts on its points; at least one. */
    List<Equation> equations();

    /**
     * A tape along one of the car's axes from a datum: ahead of the front axle line, left of the centre plane, above
     * the floor or a bench mark.
     *
     * @param datumMm coordinate of the datum along that axis, mm
     * @param readsMm coordinate of the point less that of the datum, mm; negative behind, to the right, below
     */
    record Coordinate(String name, String point, Axis axis, double datumMm, double readsMm, double uMm)
            implements Observation {
        @Override
        public List<Equation> equations() {
            return one(name, Quantity.LENGTH, List.of(point), Formulas.coordinate(axis, datumMm), readsMm, uMm, true);
        }
    }

    /**
     * Height above the floor.
     *
     * @param readsMm z, mm; not negative
     */
    record Height(String name, String point, double readsMm, double uMm) implements Observation {
        public Height {
            notNegative(name, readsMm);
        }

        @Override
        public List<Equation> equations() {
            return one(name, Quantity.LENGTH, List.of(point), Formulas.coordinate(Axis.UP, 0), readsMm, uMm, false);
        }
    }

    /**
     * A straight distance between two points.
     *
     * @param readsMm mm; positive
     */
    record Distance(String name, String from, String to, double readsMm, double uMm) implements Observation {
        public Distance {
            if (!(readsMm > 0)) {
                throw new IllegalArgumentException("\"" + name + "\": a distance is above zero, not " + readsMm);
            }
        }

        @Override
        public List<Equation> equations() {
            return one(name, Quantity.LENGTH, List.of(from, to), Formulas::distance, readsMm, uMm, false);
        }
    }

    /**
     * How much further along one of the car's axes one point is than another: plumb bob, straight edge, water level.
     *
     * @param readsMm coordinate of {@code to} less that of {@code from}, mm
     */
    record AxisDistance(String name, String from, String to, Axis axis, double readsMm, double uMm)
            implements Observation {
        @Override
        public List<Equation> equations() {
            return one(name, Quantity.LENGTH, List.of(from, to), Formulas.axisDistance(axis), readsMm, uMm, true);
        }
    }

    /**
     * Offset of a point from the endless straight line through two others: a string, a straight edge.
     *
     * @param readsMm shortest distance, mm; not negative
     */
    record LineOffset(String name, String point, String lineFrom, String lineTo, double readsMm, double uMm)
            implements Observation {
        public LineOffset {
            notNegative(name, readsMm);
        }

        @Override
        public List<Equation> equations() {
            return one(
                    name, Quantity.LENGTH, List.of(point, lineFrom, lineTo), Formulas::lineOffset, readsMm, uMm, false);
        }
    }

    /**
     * Offset of a point from the plane through three others: depth from a face.
     *
     * @param readsMm mm; positive on the side from which first, second, third run anticlockwise
     */
    record PlaneOffset(String name, String point, String first, String second, String third, double readsMm, double uMm)
            implements Observation {
        @Override
        public List<Equation> equations() {
            return one(
                    name,
                    Quantity.LENGTH,
                    List.of(point, first, second, third),
                    Formulas::planeOffset,
                    readsMm,
                    uMm,
                    true);
        }
    }

    /**
     * Digital level along the line between two points. Not for lines near plumb, where the angle says nothing about
     * which way the line leans: there use {@link PlaneLean}.
     *
     * @param readsRad angle from level, radians; positive where {@code to} is the higher
     */
    record LevelAngle(String name, String from, String to, double readsRad, double uRad) implements Observation {
        @Override
        public List<Equation> equations() {
            return one(name, Quantity.ANGLE, List.of(from, to), Formulas::levelAngle, readsRad, uRad, true);
        }
    }

    /**
     * Digital level laid on the plane through three points, near level, along a direction seen in plan.
     *
     * @param along level direction in which the level lies
     * @param readsRad angle from level, radians; positive where the plane rises towards {@code along}
     */
    record PlaneSlope(
            String name, String first, String second, String third, Direction along, double readsRad, double uRad)
            implements Observation {
        private static final double LEVEL_WITHIN = 1e-9;

        public PlaneSlope {
            if (Math.abs(along.z()) > LEVEL_WITHIN) {
                throw new IllegalArgumentException("\"" + name + "\": a plan direction has no height: " + along);
            }
        }

        @Override
        public List<Equation> equations() {
            return one(
                    name,
                    Quantity.ANGLE,
                    List.of(first, second, third),
                    Formulas.planeSlope(along.x(), along.y()),
                    readsRad,
                    uRad,
                    true);
        }
    }

    /**
     * Digital level held plumb against an upright plane through three points: a wheel's face.
     *
     * @param readsRad angle of the plane from plumb, radians; positive where the normal (the side from which first,
     *     second, third run anticlockwise) points above the level. Seen from outboard and anticlockwise this is
     *     camber with the sign turned: a top that leans out turns the outer face down
     */
    record PlaneLean(String name, String first, String second, String third, double readsRad, double uRad)
            implements Observation {
        @Override
        public List<Equation> equations() {
            return one(name, Quantity.ANGLE, List.of(first, second, third), Formulas::planeLean, readsRad, uRad, true);
        }
    }

    /**
     * Two points are mirror images across the body centre plane y = 0, as the car was built, within u in each
     * coordinate. Three equations.
     */
    record Mirror(String name, String left, String right, double uMm) implements Observation {
        @Override
        public List<Equation> equations() {
            List<String> both = List.of(left, right);
            return List.of(
                    part(name, Axis.FORWARD, both, Formulas.axisDistance(Axis.FORWARD), uMm),
                    part(name, Axis.LEFT, both, Formulas.axisSum(Axis.LEFT), uMm),
                    part(name, Axis.UP, both, Formulas.axisDistance(Axis.UP), uMm));
        }
    }

    /** A point is halfway between two others: the hub between opposite edges of its rim. Three equations. */
    record Midpoint(String name, String middle, String first, String second, double uMm) implements Observation {
        @Override
        public List<Equation> equations() {
            List<String> all = List.of(middle, first, second);
            List<Equation> equations = new ArrayList<>();
            for (Axis axis : Axis.values()) {
                equations.add(part(name, axis, all, Formulas.fromMidpoint(axis), uMm));
            }
            return List.copyOf(equations);
        }
    }

    /**
     * Points on the edge of a wheel's rim: they lie in one plane at right angles to the wheel's axis, and all as far
     * from the centre. Two equations for each rim point.
     *
     * <p>The centre is a point of the network. The axis is a second one, {@code axisEnd}: on the axis, one rim radius
     * out from the centre, so that the radius needs no unknown of its own (a radius known from the rim's size is a
     * {@link Distance} between the two). Three rim points or more give centre, axis and radius. Two opposite ones do
     * so together with a {@link Midpoint} and one angle of the axis, for example camber as a {@link LevelAngle} from
     * centre to axis end.
     *
     * @param rim the rim points; at least two
     * @param uMm how true the rim is, at one point, mm
     */
    record WheelRim(String name, String centre, String axisEnd, List<String> rim, double uMm) implements Observation {
        public WheelRim {
            rim = List.copyOf(rim);
            if (rim.size() < 2) {
                throw new IllegalArgumentException("\"" + name + "\": a rim needs two points or more, not " + rim);
            }
        }

        @Override
        public List<Equation> equations() {
            List<Equation> equations = new ArrayList<>();
            for (String point : rim) {
                List<String> points = List.of(point, centre, axisEnd);
                equations.add(new Equation(
                        name, point + " in plane", Quantity.LENGTH, points, Formulas::alongAxis, 0, uMm, false));
                equations.add(new Equation(
                        name, point + " radius", Quantity.LENGTH, points, Formulas::radiusDifference, 0, uMm, false));
            }
            return List.copyOf(equations);
        }
    }

    /**
     * A gap measured between two parts at a known position, or anything else that follows from the points by a
     * function of the caller's.
     *
     * @param points the points it follows from, in the function's order
     * @param function what the gap would be with the points in a given place, mm
     * @param readsMm the gap measured, mm; negative for an overlap
     */
    record MeasuredGap(String name, List<String> points, PointFunction function, double readsMm, double uMm)
            implements Observation {
        public MeasuredGap {
            points = List.copyOf(points);
        }

        @Override
        public List<Equation> equations() {
            return one(name, Quantity.LENGTH, points, function, readsMm, uMm, false);
        }
    }

    private static List<Equation> one(
            String name,
            Quantity quantity,
            List<String> points,
            PointFunction function,
            double reads,
            double u,
            boolean signed) {
        return List.of(new Equation(name, "", quantity, points, function, reads, u, signed));
    }

    private static Equation part(String name, Axis axis, List<String> points, PointFunction function, double uMm) {
        return new Equation(name, axis.words(), Quantity.LENGTH, points, function, 0, uMm, false);
    }

    private static void notNegative(String name, double readsMm) {
        if (!(readsMm >= 0)) {
            throw new IllegalArgumentException("\"" + name + "\" is zero or more, not " + readsMm);
        }
    }
}
