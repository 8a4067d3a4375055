package daylight.survey;

import daylight.survey.Equation.Quantity;
import daylight.units.Length;
import java.util.List;

/**
 * A reading that does not agree with the others, and any that might be the wrong one instead of it.
 *
 * @param accused the reading that was set aside first, then those that explain the disagreement as well: the readings
 *     at hand cannot tell which of them is wrong. At least one
 * @param pointsInDoubt points that would be elsewhere, by more than their 95 % half width, if another of the accused
 *     is the wrong one
 */
public record Suspect(List<Accused> accused, List<String> pointsInDoubt) {

    /**
     * One reading that may be wrong. Lengths in mm, angles in radians.
     *
     * @param reads what was read
     * @param fits what it should read if it alone is wrong
     * @param u standard uncertainty of the difference between the two
     * @param standardised residual over its own standard deviation, in the network with this reading
     * @param slips usual mistakes that would explain it, most usual first; may be empty
     */
    public record Accused(
            String reading,
            String part,
            Quantity quantity,
            double reads,
            double fits,
            double u,
            double standardised,
            List<Slip> slips) {
        public Accused {
            slips = List.copyOf(slips);
        }

        /** How much the reading is off: read less right. */
        public double error() {
            return reads - fits;
        }

        /**
         * What the tape probably showed: the fit, or where a slip of whole inches, feet or centimetres explains it
         * the reading less that slip exactly.
         */
        public double probablyTrue() {
            for (Slip slip : slips) {
                if (slip instanceof Slip.WholeInches inches) {
                    return reads - inches.inches() * Length.MM_PER_INCH;
                } else if (slip instanceof Slip.WholeFeet feet) {
                    return reads - feet.feet() * 12 * Length.MM_PER_INCH;
                } else if (slip instanceof Slip.WholeCentimetres centimetres) {
                    return reads - centimetres.centimetres() * 10.0;
                } else if (slip instanceof Slip.OtherSide) {
                    return 0.0 - reads;
                }
            }
            return fits;
        }
    }

    public Suspect {
        accused = List.copyOf(accused);
        pointsInDoubt = List.copyOf(pointsInDoubt);
        if (accused.isEmpty()) {
            throw new IllegalArgumentException("a suspect accuses one reading or more");
        }
    }

    /** The reading that was set aside. */
    public Accused first() {
        return accused.get(0);
    }
}
