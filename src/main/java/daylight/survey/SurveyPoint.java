package daylight.survey;

import daylight.geometry.Spot;
import java.util.Optional;

/** A point of a {@link Network}: known for certain, or sought. */
public sealed interface SurveyPoint {
    /** What the builder calls it; unique in a network. */
    String name();

    /**
     * A point taken as exact: the origin of the datum, a bench mark that the axes are defined by.
     *
     * @param at car frame, mm
     */
    record Known(String name, Spot at) implements SurveyPoint {}

    /**
     * A point to be found from readings.
     *
     * @param guess roughly where, if the builder can say; only a start, it carries no weight. It decides between two
     *     places that fit the readings equally well
     */
    record Sought(String name, Optional<Spot> guess) implements SurveyPoint {
        /** Returns a point without a guess. */
        public static Sought of(String name) {
            return new Sought(name, Optional.empty());
        }
    }
}
