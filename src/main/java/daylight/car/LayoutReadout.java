package daylight.car;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * What there is to read off a mechanism, in the words of its layout: {@code readouts:} in {@code models/layouts}. With a
 * car's points it becomes a {@link Readout}; a shock with its lengths also a {@link Limit}.
 */
public sealed interface LayoutReadout {
    /** What it is called; the mechanism's name comes in front. */
    String name();

    /** The points that it cannot do without. */
    List<String> points();

    /** A point of a body. */
    record Place(String body, String point) {}

    /**
     * A wheel.
     *
     * @param spindle two points on the spindle axis, inner and outer; straight out if empty
     * @param axis lower and upper end of the steering axis; none if empty
     * @param travel the driver that raises it
     * @param steer the driver that steers it
     */
    record Wheel(
            String name,
            String body,
            String centre,
            List<String> spindle,
            List<Place> axis,
            String travel,
            Optional<String> steer)
            implements LayoutReadout {
        public Wheel {
            spindle = List.copyOf(spindle);
            axis = List.copyOf(axis);
        }

        @Override
        public List<String> points() {
            List<String> points = new ArrayList<>(List.of(centre));
            axis.forEach(place -> points.add(place.point()));
            return points;
        }
    }

    /**
     * A distance.
     *
     * @param shock whether it is a shock or spring
     * @param closed name under which the car file may give a shock's closed length
     * @param open the same for its open length
     */
    record Length(String name, Place from, Place to, boolean shock, Optional<String> closed, Optional<String> open)
            implements LayoutReadout {
        @Override
        public List<String> points() {
            return List.of(from.point(), to.point());
        }
    }

    /** A driveshaft; without the points of its neighbours' directions it is a distance only. */
    record Shaft(String name, Place from, Layout.Along fromAxis, Place to, Layout.Along toAxis)
            implements LayoutReadout {
        @Override
        public List<String> points() {
            return List.of(from.point(), to.point());
        }
    }

    /** How far two bodies are turned against one another. */
    record Twist(String name, String first, String second, Layout.Along axis) implements LayoutReadout {
        @Override
        public List<String> points() {
            return axis instanceof Layout.Along.Between between ? List.of(between.from(), between.to()) : List.of();
        }
    }

    /** A direction whose angle from level is of interest. */
    record Tilt(String name, String body, Layout.Along along) implements LayoutReadout {
        @Override
        public List<String> points() {
            return along instanceof Layout.Along.Between between ? List.of(between.from(), between.to()) : List.of();
        }
    }
}
