package daylight.survey;

import java.util.Arrays;

/** The distribution of a quantity as drawn: mean, spread, intervals, chances. Immutable. */
public final class Distribution {
    private final double[] sorted;
    private final double mean;
    private final double standardUncertainty;

    private Distribution(double[] sorted, double mean, double standardUncertainty) {
        this.sorted = sorted;
        this.mean = mean;
        this.standardUncertainty = standardUncertainty;
    }

    /**
     * An interval of a quantity, in its unit.
     *
     * @param low lower end
     * @param high upper end
     */
    public record Interval(double low, double high) {}

    /**
     * Returns the distribution of some draws.
     *
     * @param draws at least two, all numbers; not modified
     * @throws IllegalArgumentException if one is not a number, saying which
     */
    public static Distribution of(double[] draws) {
        double sum = 0;
        for (int i = 0; i < draws.length; i++) {
            if (Double.isNaN(draws[i])) {
                throw new IllegalArgumentException("draw " + i + " gave no number");
            }
            sum += draws[i];
        }
        double mean = sum / draws.length;
        double squares = 0;
        for (double draw : draws) {
            squares += (draw - mean) * (draw - mean);
        }
        double[] sorted = draws.clone();
        Arrays.sort(sorted);
        return new Distribution(sorted, mean, Math.sqrt(squares / (draws.length - 1)));
    }

    /** How many draws there were. */
    public int draws() {
        return sorted.length;
    }

    /** Mean of the draws. */
    public double mean() {
        return mean;
    }

    /** Standard deviation of the draws. */
    public double standardUncertainty() {
        return standardUncertainty;
    }

    /**
     * Returns the interval with as many draws below as above it.
     *
     * @see "JCGM 101:2008, 7.7.1 and 7.7.2"
     */
    public Interval symmetric(double probability) {
        int q = inside(probability);
        int r = (sorted.length - q + 1) / 2;
        return new Interval(sorted[Math.max(0, r - 1)], sorted[Math.min(sorted.length - 1, r - 1 + q)]);
    }

    /**
     * Returns the shortest interval.
     *
     * @see "JCGM 101:2008, 7.7.4"
     */
    public Interval shortest(double probability) {
        int q = Math.min(inside(probability), sorted.length - 1);
        int best = 0;
        for (int r = 1; r + q < sorted.length; r++) {
            if (sorted[r + q] - sorted[r] < sorted[best + q] - sorted[best]) {
                best = r;
            }
        }
        return new Interval(sorted[best], sorted[best + q]);
    }

    /** Returns the share of draws at or below a value: for a gap and zero, the chance of touching. */
    public double chanceAtOrBelow(double value) {
        int low = 0;
        int high = sorted.length;
        while (low < high) {
            int middle = (low + high) >>> 1;
            if (sorted[middle] <= value) {
                low = middle + 1;
            } else {
                high = middle;
            }
        }
        return (double) low / sorted.length;
    }

    private int inside(double probability) {
        if (!(probability > 0 && probability < 1)) {
            throw new IllegalArgumentException("probability is between 0 and 1, not " + probability);
        }
        return (int) (probability * sorted.length + 0.5);
    }
}
