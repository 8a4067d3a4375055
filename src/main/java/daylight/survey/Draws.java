package daylight.survey;

import java.util.SplittableRandom;

/**
 * Random numbers of the kinds that {@link Doubt} names, the same on every platform: {@link StrictMath} where the
 * platform's own functions may differ in the last digit. One per thread.
 */
final class Draws {
    /** Odd number that spreads neighbouring seeds (the golden ratio in 64 bits). */
    private static final long SPREAD = 0x9e3779b97f4a7c15L;

    private SplittableRandom random = new SplittableRandom(0);
    private double spare;
    private boolean hasSpare;

    /** Starts the sequence of one chunk of work: it depends on seed and chunk alone. */
    void start(long seed, long chunk) {
        // SplittableRandom itself steps by this number: unmixed, the sequence of each chunk would be that of the chunk
        // before, one step on, and the draws of neighbouring chunks would repeat one another.
        random = new SplittableRandom(mixed(seed + SPREAD * (chunk + 1)));
        hasSpare = false;
    }

    /** The finishing step of MurmurHash3: each bit of the outcome depends on all bits of the input. */
    private static long mixed(long bits) {
        long z = (bits ^ (bits >>> 33)) * 0xff51afd7ed558ccdL;
        z = (z ^ (z >>> 33)) * 0xc4ceb9fe1a85ec53L;
        return z ^ (z >>> 33);
    }

    /** Returns a normal number of mean 0 and deviation 1 (Marsaglia's polar method). */
    double normal() {
        if (hasSpare) {
            hasSpare = false;
            return spare;
        }
        while (true) {
            double a = 2 * random.nextDouble() - 1;
            double b = 2 * random.nextDouble() - 1;
            double w = a * a + b * b;
            if (w > 0 && w < 1) {
                double s = Math.sqrt(-2 * StrictMath.log(w) / w);
                spare = b * s;
                hasSpare = true;
                return a * s;
            }
        }
    }

    /** Returns one value of an input. */
    double of(Doubt doubt) {
        if (doubt instanceof Doubt.Normal d) {
            return d.mean() + d.u() * normal();
        } else if (doubt instanceof Doubt.Rectangular d) {
            return d.mean() + d.halfWidth() * (2 * random.nextDouble() - 1);
        } else if (doubt instanceof Doubt.VagueRectangular d) {
            // JCGM 101:2008, 6.4.3.4: the lower limit is drawn, the upper lies as far on the other side.
            double half = d.halfWidth() + d.uncertain() * (1 - 2 * random.nextDouble());
            return d.mean() + half * (2 * random.nextDouble() - 1);
        } else if (doubt instanceof Doubt.Triangular d) {
            return d.mean() + d.halfWidth() * (random.nextDouble() + random.nextDouble() - 1);
        } else if (doubt instanceof Doubt.Arcsine d) {
            return d.mean() + d.halfWidth() * StrictMath.sin(2 * Math.PI * random.nextDouble());
        } else if (doubt instanceof Doubt.FewReadings d) {
            return d.mean() + d.scale() * student(d.degreesOfFreedom());
        }
        throw new IllegalStateException("a kind of doubt that cannot be drawn: " + doubt + "; please report this");
    }

    /** Student's t (R. W. Bailey, "Polar generation of random variates with the t-distribution", 1994). */
    private double student(double freedom) {
        while (true) {
            double a = 2 * random.nextDouble() - 1;
            double b = 2 * random.nextDouble() - 1;
            double w = a * a + b * b;
            if (w > 0 && w < 1) {
                return a * Math.sqrt(freedom * (StrictMath.pow(w, -2 / freedom) - 1) / w);
            }
        }
    }
}
