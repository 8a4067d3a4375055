package daylight.clearance;

/**
 * What is asked of a gap search.
 *
 * @param toleranceMm how near the floor has to come to the least gap found, mm; more than zero
 * @param watchMm pairs proved to stay further apart than this are not looked at more closely, mm
 * @param mostBoxes boxes after which a pair is given up as unproved (its floor still holds)
 * @param threads how many threads may work
 */
public record Asked(double toleranceMm, double watchMm, int mostBoxes, int threads) {
    public Asked {
        if (!(toleranceMm > 0)) {
            throw new IllegalArgumentException("the tolerance must be more than zero: " + toleranceMm);
        }
        if (!(watchMm >= 0)) {
            throw new IllegalArgumentException("the watch distance must be zero or more: " + watchMm);
        }
        if (mostBoxes < 1 || threads < 1) {
            throw new IllegalArgumentException("boxes and threads are at least 1: " + mostBoxes + ", " + threads);
        }
    }

    /** 0.1 mm, pairs within 3 in. (76.2 mm), both cores. */
    public static final Asked USUAL = new Asked(0.1, 76.2, 40_000, 2);
}
