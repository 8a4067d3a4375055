package daylight.car;

import daylight.geometry.Cut;
import daylight.geometry.Direction;
import daylight.geometry.Shape;
import daylight.geometry.Spot;
import java.util.List;
import java.util.Optional;

/** One change that a trial makes to a car. Lengths in mm, angles in radians, car frame at ride height. */
public sealed interface Change {
    /** Returns the part, hose or mechanism that is changed. */
    String of();

    /**
     * A plate is cut, drilled or welded shut.
     *
     * @param of the plate
     * @param before the plate as it is when this change is made, in whose terms the cut is
     * @param cut what is done
     */
    record Trim(String of, Shape.Plate before, Cut cut) implements Change {}

    /** A part is moved: ahead, to the left, up. */
    record Move(String of, double aheadMm, double leftMm, double upMm) implements Change {}

    /**
     * A part is turned about a line, by the right-hand rule.
     *
     * @param on a spot on the line
     */
    record Rotate(String of, Spot on, Direction axis, double rad) implements Change {}

    /**
     * A tube is bent another way.
     *
     * @param through its ends and the corners between them
     * @param bendRadiusMm of the centre line
     */
    record Rebend(String of, List<Spot> through, double bendRadiusMm) implements Change {
        public Rebend {
            through = List.copyOf(through);
        }
    }

    /** A plate between hub and wheel, so thick: the wheel goes outboard by as much. */
    record Spacer(String of, double thickMm) implements Change {}

    /**
     * Another tyre or wheel on the same hub face. What is not said stays as it is: backspacing or offset, whichever the
     * file gives.
     *
     * @param size as on the side wall
     */
    record OtherTyre(
            String of,
            Optional<String> size,
            Optional<Double> rimWidthMm,
            Optional<Double> backspacingMm,
            Optional<Double> offsetMm)
            implements Change {}

    /** A flexible line of another free length. */
    record HoseLength(String of, double freeLengthMm) implements Change {}

    /**
     * The body stands higher above a wheel.
     *
     * @param of the handle of the wheel's travel
     * @param raisedMm by how much; negative lowers it
     */
    record RideHeight(String of, double raisedMm) implements Change {}

    /**
     * A rod is made longer.
     *
     * @param longerMm by how much; negative makes it shorter
     */
    record RodLength(String of, double longerMm) implements Change {}

    /**
     * A spring's seat is moved along the spring.
     *
     * @param raisedMm towards the spring, so that the car stands higher; negative lowers it
     */
    record SpringSeat(String of, double raisedMm) implements Change {}

    /**
     * Other ends of a mechanism's movement: a longer bump stop, a steering stop, another shock.
     *
     * @param kind which of them, in the builder's word
     * @param ends the mechanism's own keys with their new values
     */
    record OtherEnds(String of, Kind kind, List<End> ends) implements Change {
        public OtherEnds {
            ends = List.copyOf(ends);
        }

        /** What ends the movement. */
        public enum Kind {
            /** Rubber on the frame or the arm. */
            BUMP_STOP("bump stop"),
            /** What the rack or the steering arm meets. */
            STEERING_STOP("steering stop"),
            /** The shock's closed and open length. */
            SHOCK("shock");

            private final String word;

            Kind(String word) {
                this.word = word;
            }

            /** Returns the word for it in the car file. */
            public String word() {
                return word;
            }
        }

        /**
         * One end.
         *
         * @param key as the mechanism has it: bump, droop, rack left, closed
         * @param value mm, or radians where it {@code turns}
         */
        public record End(String key, double value, boolean turns) {}
    }
}
