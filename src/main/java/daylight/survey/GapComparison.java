package daylight.survey;

import java.util.List;

/**
 * A gap measured on the car against the gap computed for the same position.
 *
 * @param computedMm the gap that follows from the points, mm
 * @param computedUMm its standard uncertainty, mm
 * @param measuredMm the gap measured, mm
 * @param measuredUMm its standard uncertainty, mm; above zero
 */
public record GapComparison(double computedMm, double computedUMm, double measuredMm, double measuredUMm) {
    public GapComparison {
        if (!(computedUMm >= 0) || !(measuredUMm > 0)) {
            throw new IllegalArgumentException(
                    "uncertainties are zero or more and above zero, not " + computedUMm + " and " + measuredUMm);
        }
    }

    /** Measured less computed, mm. */
    public double differenceMm() {
        return measuredMm - computedMm;
    }

    /** The difference over its standard deviation; the two are independent. */
    public double standardised() {
        return differenceMm() / Math.hypot(computedUMm, measuredUMm);
    }

    /**
     * Returns what is wrong with the measured gap if the points are right.
     *
     * @param reading what the reading is called
     * @param graduation what the tape's long marks are, for naming slips
     */
    public Suspect.Accused accused(String reading, Network.Graduation graduation) {
        double u = Math.hypot(computedUMm, measuredUMm);
        Equation equation = new Equation(
                reading,
                "",
                Equation.Quantity.LENGTH,
                List.of(reading),
                (xyz, gradient) -> computedMm,
                measuredMm,
                measuredUMm,
                false);
        return new Suspect.Accused(
                reading,
                "",
                Equation.Quantity.LENGTH,
                measuredMm,
                computedMm,
                u,
                standardised(),
                Slips.of(equation, computedMm, u, graduation));
    }

    /** Whether the difference is more than chance allows, 95 times in 100. */
    public boolean disagrees() {
        return Math.abs(standardised()) > Coverage.NORMAL_95;
    }
}
