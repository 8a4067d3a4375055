package daylight.clearance;

import daylight.geometry.Proximity;
import java.util.List;
import java.util.Optional;

/**
 * One pair of parts: how near they come.
 *
 * @param first name of the one part
 * @param second name of the other
 * @param atRideHeight their gap as the car stands, nothing shifted
 * @param least their least gap over the whole travel
 * @param requiredMm the gap that the rule asks for, mm
 * @param rule the rule in words, with its source
 * @param state rub, tight or clear
 * @param touches where they first touch, if they do
 * @param belowRule where they first come nearer than the rule allows, if they do
 * @param tightSpots the separate regions of travel in which they are nearer than the rule allows, tightest first, each
 *     with its own least gap, floor and proof. Separate is proved: between any two of them the gap rises to the rule,
 *     whichever way the handles go; two that come nearer to one another than a thirty-second of a handle's travel, or
 *     that cannot be proved apart, count as one. Empty when no such position was found; the first is {@code least}
 */
public record GapRow(
        String first,
        String second,
        Proximity atRideHeight,
        Least least,
        double requiredMm,
        String rule,
        State state,
        Optional<Onset> touches,
        Optional<Onset> belowRule,
        List<Least> tightSpots) {
    public GapRow {
        tightSpots = List.copyOf(tightSpots);
    }

    /** A row whose tight spots, if there are any, were not told apart. */
    public GapRow(
            String first,
            String second,
            Proximity atRideHeight,
            Least least,
            double requiredMm,
            String rule,
            State state,
            Optional<Onset> touches,
            Optional<Onset> belowRule) {
        this(
                first,
                second,
                atRideHeight,
                least,
                requiredMm,
                rule,
                state,
                touches,
                belowRule,
                belowRule.isPresent() ? List.of(least) : List.of());
    }

    /** Returns the least gap found less the gap required, mm; negative when tight. */
    public double marginMm() {
        return least.found().distanceMm() - requiredMm;
    }
}
