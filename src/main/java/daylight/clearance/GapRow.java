package daylight.clearance;

import daylight.geometry.Proximity;
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
        Optional<Onset> belowRule) {

    /** Returns the least gap found less the gap required, mm; negative when tight. */
    public double marginMm() {
        return least.found().distanceMm() - requiredMm;
    }
}
