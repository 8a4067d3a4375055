package daylight.survey;

import java.util.Arrays;

/**
 * How a quantity changes with the coordinates of the surveyed points; a value. In the order of
 * {@link SurveyedPoints#coordinates()}.
 */
public final class CoordinateGradient {
    private final double[] perMm;

    private CoordinateGradient(double[] perMm) {
        this.perMm = perMm;
    }

    /** Returns a gradient; the array is copied. */
    public static CoordinateGradient of(double[] perMm) {
        return new CoordinateGradient(perMm.clone());
    }

    /** Returns a fresh array of the entries. */
    public double[] toArray() {
        return perMm.clone();
    }

    @Override
    public boolean equals(Object other) {
        return other instanceof CoordinateGradient g && Arrays.equals(perMm, g.perMm);
    }

    @Override
    public int hashCode() {
        return Arrays.hashCode(perMm);
    }

    @Override
    public String toString() {
        return Arrays.toString(perMm);
    }
}
