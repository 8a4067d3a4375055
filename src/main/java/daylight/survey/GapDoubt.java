package daylight.survey;

import java.util.List;

/**
 * How sure a gap is.
 *
 * @param gapMm the gap at the adjusted points, mm
 * @param standardUncertaintyMm one standard uncertainty, mm; zero or more
 * @param low95Mm lower end of the 95 % interval, mm
 * @param high95Mm upper end, mm
 * @param chanceOfTouching chance that the gap is zero or less, 0 to 1
 * @param shares readings by their share of the variance, greatest first
 */
public record GapDoubt(
        double gapMm,
        double standardUncertaintyMm,
        double low95Mm,
        double high95Mm,
        double chanceOfTouching,
        List<Share> shares) {

    /**
     * A reading's share of the variance of a gap.
     *
     * @param reading the observation
     * @param part which of its numbers; empty where there is only one
     * @param share 0 to 1
     */
    public record Share(String reading, String part, double share) {}

    public GapDoubt {
        shares = List.copyOf(shares);
    }

    /** Returns the doubt of a gap whose error is normal with the given standard uncertainty. */
    public static GapDoubt linear(double gapMm, double standardUncertaintyMm, List<Share> shares) {
        double half = Coverage.NORMAL_95 * standardUncertaintyMm;
        return new GapDoubt(
                gapMm,
                standardUncertaintyMm,
                gapMm - half,
                gapMm + half,
                chanceBelow(gapMm, standardUncertaintyMm, 0),
                shares);
    }

    /** Returns the chance that the gap is less than so much, to first order. */
    public double chanceBelow(double mm) {
        return chanceBelow(gapMm, standardUncertaintyMm, mm);
    }

    private static double chanceBelow(double gapMm, double u, double mm) {
        if (u == 0) {
            return gapMm <= mm ? 1 : 0;
        }
        return Coverage.normalBelow((mm - gapMm) / u);
    }
}
