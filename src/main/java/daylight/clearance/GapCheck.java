package daylight.clearance;

import daylight.car.Measurement;
import daylight.survey.GapComparison;
import daylight.survey.Network;
import daylight.survey.ReadingResult.Standing;
import daylight.survey.Suspect;
import java.util.Optional;

/**
 * A gap measured on the car, held against the one computed for the same position.
 *
 * @param reading what was measured, and where the car stood
 * @param comparison both with their uncertainty; empty where the car cannot stand there
 * @param standing how the reading stands among those that place the points, where it counts as one of them
 * @param accused what is wrong with the reading if the points are right, and its likely value; empty where the two
 *     agree or cannot be compared
 */
public record GapCheck(
        Measurement.Gap reading,
        Optional<GapComparison> comparison,
        Optional<Standing> standing,
        Optional<Suspect.Accused> accused) {

    static GapCheck of(
            Measurement.Gap reading,
            Optional<GapComparison> comparison,
            Optional<Standing> standing,
            Network.Graduation graduation) {
        GapCheck check = new GapCheck(reading, comparison, standing, Optional.empty());
        return check.disagrees()
                ? new GapCheck(
                        reading, comparison, standing, comparison.map(c -> c.accused(reading.name(), graduation)))
                : check;
    }

    /** Why there is no comparison, in the user's words; else empty. */
    public String why() {
        return comparison.isPresent() ? "" : "the car cannot stand there";
    }

    /**
     * Whether the two differ by more than their uncertainty allows, 95 times in 100; or the car cannot stand there. A
     * reading that counts disagrees where it was left out of the points: else they have followed it.
     */
    public boolean disagrees() {
        return standing.map(s -> s == Standing.SET_ASIDE)
                .orElseGet(() -> comparison.map(GapComparison::disagrees).orElse(true));
    }
}
