package daylight.survey;

import org.apache.commons.math3.distribution.ChiSquaredDistribution;
import org.apache.commons.math3.distribution.NormalDistribution;
import org.apache.commons.math3.distribution.TDistribution;

/**
 * How many standard uncertainties a claim needs: coverage factors and critical values. Pure functions; each builds
 * its distribution afresh and is meant for use outside inner loops.
 */
public final class Coverage {
    /** Standard deviations either side that hold a normal quantity 95 times in 100. */
    public static final double NORMAL_95 = 1.959963984540054;

    private Coverage() {}

    /** Returns how many standard deviations either side hold a normal quantity with the given probability. */
    public static double normalFactor(double probability) {
        return standardNormal().inverseCumulativeProbability(0.5 + within01(probability, "probability") / 2);
    }

    /**
     * Returns how many standard uncertainties either side hold a quantity with the given probability when the
     * uncertainty itself rests on few degrees of freedom.
     *
     * @param degreesOfFreedom above zero, not necessarily whole
     * @see "JCGM 100:2008 (GUM), G.3 and table G.2"
     */
    public static double factor(double probability, double degreesOfFreedom) {
        return new TDistribution(null, degreesOfFreedom)
                .inverseCumulativeProbability(0.5 + within01(probability, "probability") / 2);
    }

    /**
     * Returns the degrees of freedom that the sum of independent contributions has.
     *
     * @param contributions standard uncertainty of each, in the unit of the sum
     * @param degreesOfFreedom of each; infinite where it is known for certain
     * @see "JCGM 100:2008 (GUM), G.4.1, equation (G.2b), Welch-Satterthwaite"
     */
    public static double effectiveDegreesOfFreedom(double[] contributions, double[] degreesOfFreedom) {
        double square = 0;
        double quartic = 0;
        for (int i = 0; i < contributions.length; i++) {
            double v = contributions[i] * contributions[i];
            square += v;
            quartic += v * v / degreesOfFreedom[i];
        }
        return square * square / quartic;
    }

    /** Returns the value that chi-square of so many degrees of freedom stays below with the given probability. */
    public static double chiSquare(double probability, double degreesOfFreedom) {
        return new ChiSquaredDistribution(null, degreesOfFreedom)
                .inverseCumulativeProbability(within01(probability, "probability"));
    }

    /** Returns how many standard deviations the half axes of the region have that holds a point of a plane (2) or of
     * space (3) with the given probability. */
    public static double ellipsoidFactor(double probability, int dimensions) {
        return Math.sqrt(chiSquare(probability, dimensions));
    }

    /**
     * Returns the standardised residual beyond which one reading is called wrong, though it is right, so often.
     *
     * @param alpha chance of a false alarm for one reading
     * @see "W. Baarda, A Testing Procedure for Use in Geodetic Networks, 1968"
     */
    public static double criticalValue(double alpha) {
        return standardNormal().inverseCumulativeProbability(1 - within01(alpha, "alpha") / 2);
    }

    /**
     * Returns how far, in its standard deviations, an error must move the standardised residual to be found with the
     * given power by a test at the given critical value: Baarda's delta0, the square root of lambda0.
     */
    public static double shift(double criticalValue, double power) {
        return criticalValue + standardNormal().inverseCumulativeProbability(within01(power, "power"));
    }

    /** Returns the chance that a normal quantity of mean 0 and deviation 1 stays below a value. */
    public static double normalBelow(double value) {
        return standardNormal().cumulativeProbability(value);
    }

    private static NormalDistribution standardNormal() {
        return new NormalDistribution(null, 0, 1);
    }

    private static double within01(double probability, String name) {
        if (!(probability > 0 && probability < 1)) {
            throw new IllegalArgumentException(name + " is between 0 and 1, not " + probability);
        }
        return probability;
    }
}
