package daylight.clearance;

import daylight.geometry.Proximity;

/**
 * The least gap of a pair over its whole continuous travel.
 *
 * <p>Two numbers: the least that was found, at a position that the car can stand in, and the floor below which no
 * position can fall.
 *
 * @param found the least gap found, with its two spots in the car frame at {@code where}
 * @param where the position at which it was found
 * @param floorMm no position of the pair has a smaller gap, mm; never above {@code found}; negative infinity when
 *     nothing could be proved
 * @param proof whether the floor is proved, or why not
 */
public record Least(Proximity found, Position where, double floorMm, Proof proof) {

    /** How far the floor may be trusted. */
    public sealed interface Proof {
        /** The floor holds everywhere, and is as close to what was found as was asked for. */
        record Proved() implements Proof {}

        /**
         * The floor holds everywhere; what was found is only a sample, since the pair is further apart than anyone
         * wants to know.
         *
         * @param watchMm the distance beyond which a pair is not looked at closely
         */
        record FarApart(double watchMm) implements Proof {}

        /**
         * The floor does not hold everywhere, or is further from what was found than was asked for.
         *
         * @param why in the user's words
         */
        record Unproved(String why) implements Proof {}
    }
}
