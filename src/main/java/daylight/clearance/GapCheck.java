package daylight.clearance;

import daylight.survey.GapComparison;
import java.util.Optional;

/**
 * A gap measured on the car, held against the one computed for the same position.
 *
 * @param first the one part
 * @param second the other
 * @param measuredMm the gap measured, mm
 * @param comparison both with their uncertainty; empty where the car cannot stand there
 * @param why why there is no comparison, in the user's words; else empty
 */
public record GapCheck(String first, String second, double measuredMm, Optional<GapComparison> comparison, String why) {

    /** Whether the two differ by more than their uncertainty allows, 95 times in 100; or the car cannot stand there. */
    public boolean disagrees() {
        return comparison.map(GapComparison::disagrees).orElse(true);
    }
}
