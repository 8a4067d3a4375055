package daylight.survey;

/**
 * What is known of an input that is not a surveyed point: a part's size, a bush's play. A value; every kind gives its
 * standard uncertainty and how it is drawn for a simulation.
 */
public sealed interface Doubt {
    /** Its best value. */
    double mean();

    /** One standard uncertainty. */
    double standardUncertainty();

    /**
     * Normal.
     *
     * @param u one standard uncertainty; zero or more
     */
    record Normal(double mean, double u) implements Doubt {
        @Override
        public double standardUncertainty() {
            return u;
        }
    }

    /**
     * Equally likely anywhere within a half width: a rounded reading, a tolerance.
     *
     * @param halfWidth zero or more
     */
    record Rectangular(double mean, double halfWidth) implements Doubt {
        @Override
        public double standardUncertainty() {
            return MeasuringDefaults.rectangular(halfWidth);
        }
    }

    /**
     * Rectangular, with limits that are themselves known only within so much.
     *
     * @param halfWidth usual half width
     * @param uncertain half width within which each limit lies; at most the half width
     * @see "JCGM 101:2008, 6.4.3, curvilinear trapezoid"
     */
    record VagueRectangular(double mean, double halfWidth, double uncertain) implements Doubt {
        @Override
        public double standardUncertainty() {
            return Math.sqrt(halfWidth * halfWidth / 3 + uncertain * uncertain / 9);
        }
    }

    /**
     * Within a half width and likelier in the middle, falling evenly to the ends.
     *
     * @param halfWidth zero or more
     */
    record Triangular(double mean, double halfWidth) implements Doubt {
        @Override
        public double standardUncertainty() {
            return MeasuringDefaults.triangular(halfWidth);
        }
    }

    /**
     * Swinging to and fro within a half width, seen at any time: runout at an unknown turn of the wheel.
     *
     * @param halfWidth zero or more
     */
    record Arcsine(double mean, double halfWidth) implements Doubt {
        @Override
        public double standardUncertainty() {
            return MeasuringDefaults.arcsine(halfWidth);
        }
    }

    /**
     * Known from few repeated readings: Student's t, stretched.
     *
     * @param scale standard uncertainty of the mean of the readings
     * @param degreesOfFreedom above 2, or it has no standard deviation
     * @see "JCGM 101:2008, 6.4.9"
     */
    record FewReadings(double mean, double scale, double degreesOfFreedom) implements Doubt {
        @Override
        public double standardUncertainty() {
            return scale * Math.sqrt(degreesOfFreedom / (degreesOfFreedom - 2));
        }
    }
}
