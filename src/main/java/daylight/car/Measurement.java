package daylight.car;

import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Something that was read on the car at ride height, as the car file's {@code tape:} section has it. Points are named;
 * lengths in mm, angles in radians; {@code within} is the half width within which the reading is trusted, if it says
 * one of its own (mm or radians).
 */
public sealed interface Measurement {
    /** What messages call it; unique in a {@link MeasuringSheet}. */
    String name();

    /** The line of the file in which it is written. */
    int line();

    /** The half width within which it is trusted, if it says so itself. */
    Optional<Double> within();

    /** Which way a measurement along one of the car's axes is counted. */
    enum Along {
        /** Ahead of the datum line or of another point. */
        AHEAD,
        /** Left of the body centreline or of another point. */
        LEFT,
        /** Above the floor or another point. */
        UP
    }

    /** A straight distance between two points. */
    record Distance(String name, int line, String from, String to, double readsMm, Optional<Double> within)
            implements Measurement {}

    /**
     * A plumb bob, straight edge or water level: how far a point is along one axis.
     *
     * @param of from which point it is counted; the datum where there is none
     */
    record Offset(
            String name,
            int line,
            String point,
            Along along,
            Optional<String> of,
            double readsMm,
            Optional<Double> within)
            implements Measurement {}

    /** The shortest distance of a point from a string or straight edge through two others. */
    record FromLine(
            String name, int line, String point, String first, String second, double readsMm, Optional<Double> within)
            implements Measurement {}

    /**
     * The distance of a point from the plane through three others; positive on the side from which first, second,
     * third run anticlockwise.
     */
    record FromPlane(
            String name,
            int line,
            String point,
            String first,
            String second,
            String third,
            double readsMm,
            Optional<Double> within)
            implements Measurement {}

    /** Digital level along the line between two points; positive where {@code to} is the higher. */
    record Level(String name, int line, String from, String to, double readsRad, Optional<Double> within)
            implements Measurement {}

    /** Digital level laid on the plane through three points; positive where it rises that way. */
    record LevelOn(
            String name,
            int line,
            String first,
            String second,
            String third,
            Along along,
            double readsRad,
            Optional<Double> within)
            implements Measurement {}

    /**
     * Digital level held upright against the plane through three points; positive where the side from which first,
     * second, third run anticlockwise looks up.
     */
    record PlumbOn(
            String name, int line, String first, String second, String third, double readsRad, Optional<Double> within)
            implements Measurement {}

    /** Two points are mirror images in the body centreline, as the car was built. */
    record Mirror(String name, int line, String left, String right, Optional<Double> within) implements Measurement {}

    /** A point is halfway between two others. */
    record Middle(String name, int line, String middle, String first, String second, Optional<Double> within)
            implements Measurement {}

    /**
     * Points on the edge of one wheel's rim. Three or more give the wheel's centre and axis; two are opposite edges
     * and give them together with the camber.
     *
     * @param centre the wheel's centre
     * @param axisEnd a point on the spindle axis, outboard of the centre by the rim's radius
     * @param camberRad angle of the wheel from upright, positive with the top outward, if it was read
     */
    record Rim(
            String name,
            int line,
            List<String> edge,
            String centre,
            String axisEnd,
            Optional<Double> camberRad,
            Optional<Double> within)
            implements Measurement {
        public Rim {
            edge = List.copyOf(edge);
        }
    }

    /**
     * The gap between two parts, measured on the car.
     *
     * @param first a part
     * @param second another
     * @param readsMm the gap; zero where they touch
     * @param handles where the car stood, by the names of its handles, mm or radians; empty at ride height
     * @param counts whether it helps to place the points; else it is only held against the computed gap
     */
    record Gap(
            String name,
            int line,
            int column,
            String first,
            String second,
            double readsMm,
            Map<String, Double> handles,
            Optional<Double> within,
            boolean counts)
            implements Measurement {
        public Gap {
            handles = Map.copyOf(handles);
        }
    }
}
