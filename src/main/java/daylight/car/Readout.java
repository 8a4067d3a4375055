package daylight.car;

import daylight.geometry.Direction;
import daylight.geometry.Spot;
import java.util.Optional;

/**
 * Something that a builder wants to read off a mechanism while it travels: how a wheel stands, how long a shock is, at
 * what angle a driveshaft's joints work. Layouts say which there are; with a car's points they become these.
 *
 * <p>Spots and directions are in the car frame at ride height (ISO 8855: x forward, y left, z up; mm), each fixed to
 * the body that is named with it. Body names are car-wide; the ground is {@code chassis}.
 */
public sealed interface Readout {
    /** What it is called in tables, for example {@code front left wheel}. */
    String name();

    /** A spot of a body. */
    record End(String body, Spot at) {}

    /**
     * A wheel and, if it steers about a line of its own, that line.
     *
     * @param body the body that carries the wheel's bearing (knuckle, axle, arm)
     * @param centre middle of the rim on the spindle axis
     * @param spindle direction of the spindle axis, outboard
     * @param steeringAxis the line about which the knuckle steers, if it does
     * @param travel the driver that raises this wheel
     * @param steer the driver that steers it, if one does
     */
    record Wheel(
            String name,
            String body,
            Spot centre,
            Direction spindle,
            Optional<SteeringAxis> steeringAxis,
            String travel,
            Optional<String> steer)
            implements Readout {
        public Wheel {
            if (spindle.y() == 0) {
                throw new IllegalArgumentException(
                        name + ": a spindle points to the left or to the right, not " + spindle);
            }
        }

        /** Whether it is on the left of the car. */
        public boolean left() {
            return spindle.y() > 0;
        }
    }

    /**
     * The line about which a knuckle steers: lower ball joint to upper ball joint, or lower ball joint to the strut's
     * top mount.
     *
     * @param lower the lower end
     * @param upper the upper end; may be on another body (a strut's top on the chassis)
     */
    record SteeringAxis(End lower, End upper) {}

    /**
     * A distance between spots of two bodies: a shock, a strap, a slip yoke.
     *
     * @param shock whether it is a shock or spring, of which the motion ratio is of interest
     */
    record Length(String name, End from, End to, boolean shock) implements Readout {}

    /**
     * A driveshaft between two Cardan joints.
     *
     * @param from the joint on the driving side
     * @param fromAxis the driving shaft's direction (gearbox output), towards the driveshaft
     * @param to the joint on the driven side
     * @param toAxis the driven shaft's direction (pinion), away from the driveshaft
     */
    record Shaft(String name, End from, Direction fromAxis, End to, Direction toAxis) implements Readout {}

    /**
     * How far two bodies are turned against one another about an axis: an anti-roll bar's two halves.
     *
     * @param axis the axis at ride height; turns of the first body against the second count by the right-hand rule
     */
    record Twist(String name, String first, String second, Direction axis) implements Readout {}

    /**
     * A direction of a body whose angle from level in the side view is of interest (a pinion).
     *
     * @param along the direction, towards the end whose rise counts as positive
     */
    record Tilt(String name, String body, Direction along) implements Readout {}
}
