package daylight.survey;

/**
 * What to measure next, and what that would bring: computed from the covariance that it gives, not guessed.
 *
 * @param candidate what to measure; its {@code reads} is not used
 * @param wouldRead what it should read if all is right, mm or radians
 * @param gains what gains most: a point, a reading that nothing checks, or the gap in question
 * @param before doubt of it now: 95 % half width in mm of a point's loosest coordinate or of the gap; for checking,
 *     the reading's redundancy
 * @param after the same with the new reading
 */
public record NextReading(Observation candidate, double wouldRead, String gains, double before, double after) {

    /** What a new reading is for. */
    public sealed interface Goal {
        /** To fix the points better: the greatest fall of the sum of their variances. */
        record Points() implements Goal {}

        /** To check readings that nothing checks yet: the greatest rise of the sum of their redundancies. */
        record Checks() implements Goal {}

        /**
         * To know one gap better: the greatest fall of its variance.
         *
         * @param name what the gap is called
         * @param gradient mm of gap per mm of coordinate
         */
        record Gap(String name, CoordinateGradient gradient) implements Goal {}
    }
}
