package daylight.survey;

import daylight.survey.Equation.Quantity;

/**
 * How one number that was read came out of the adjustment. Lengths in mm, angles in radians.
 *
 * @param reading the observation
 * @param part which of its numbers; empty where there is only one
 * @param quantity length or angle
 * @param reads what was read
 * @param adjusted what it would read at the adjusted points
 * @param u standard uncertainty of the reading
 * @param redundancy share of an error in this reading that shows in its own residual, 0 to 1; zero means that
 *     nothing checks it
 * @param standardised residual over its own standard deviation; zero where nothing checks the reading
 * @param smallestFindable least error of this reading that would be found 80 times in 100; infinite where nothing
 *     checks it
 * @param standing what the adjustment made of it
 */
public record ReadingResult(
        String reading,
        String part,
        Quantity quantity,
        double reads,
        double adjusted,
        double u,
        double redundancy,
        double standardised,
        double smallestFindable,
        Standing standing) {

    /** What the adjustment made of a reading. */
    public enum Standing {
        /** It agrees with the others. */
        AGREES,
        /** Nothing, or hardly anything, checks it: a mistake in it would go unseen. */
        UNCHECKED,
        /** It does not agree; the points were computed without it. */
        SET_ASIDE
    }

    /** Adjusted less observed. */
    public double residual() {
        return adjusted - reads;
    }
}
