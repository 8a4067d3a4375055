package daylight.survey;

import daylight.car.MeasuringPractice;

/**
 * How good a reading is unless the builder says otherwise: the figures of {@code models/measuring.yaml}, where each
 * has its source, turned into standard uncertainties.
 *
 * <p>A tape reads to a mark; what lies between is anything within half a step either side (rectangular). The hook's
 * play and the eye's aim at the point (a ball joint's centre, a bolt's head) come on top, and for long runs the
 * tape's own error limit. They are independent, so their squares add up.
 *
 * @param tapeStepMm step of the tape's reading, mm: 25.4 / 16 for sixteenths
 * @param hookMm half width of the play and wear of the hook, mm, rectangular
 * @param pointingMm half width within which the eye or a plumb bob finds a point, mm, rectangular
 * @param tape error limits of the tape itself, taken as rectangular
 * @param levelStepRad step of the digital level, radians
 * @param levelLimitRad its error limit, radians, rectangular
 * @param mirrorMm half width within which a car was built the same left and right, mm, rectangular
 * @param rimMm half width within which a rim runs true, mm, rectangular
 */
public record MeasuringDefaults(
        double tapeStepMm,
        double hookMm,
        double pointingMm,
        TapeLimit tape,
        double levelStepRad,
        double levelLimitRad,
        double mirrorMm,
        double rimMm) {

    /** Returns the figures that come with the program, for a tape in inches or one in millimetres. */
    public static MeasuringDefaults shipped(boolean inches) {
        return of(MeasuringPractice.shipped(), inches);
    }

    /** Returns usual figures as uncertainties. */
    public static MeasuringDefaults of(MeasuringPractice practice, boolean inches) {
        return new MeasuringDefaults(
                inches ? practice.inchStepMm() : practice.metricStepMm(),
                practice.hookMm(),
                practice.pointingMm(),
                limit(practice.tape()),
                practice.levelStepRad(),
                practice.levelWithinRad(),
                practice.mirrorMm(),
                practice.rimMm());
    }

    private static TapeLimit limit(MeasuringPractice.TapeClass tape) {
        if (tape instanceof MeasuringPractice.TapeClass.Growing growing) {
            return new TapeLimit.Growing(growing.aMm(), growing.bMm(), growing.hookMm());
        } else if (tape instanceof MeasuringPractice.TapeClass.ByLength byLength) {
            return new TapeLimit.ByRange(byLength.ranges().stream()
                    .map(range -> new TapeLimit.ByRange.Range(range.lengthMm(), range.withinMm()))
                    .toList());
        }
        throw new IllegalStateException("a tape class of no known kind: " + tape + ". Please report this.");
    }

    public MeasuringDefaults {
        notNegative(tapeStepMm, "tape step");
        notNegative(hookMm, "hook");
        notNegative(pointingMm, "pointing");
        notNegative(levelStepRad, "level step");
        notNegative(levelLimitRad, "level limit");
        notNegative(mirrorMm, "mirror");
        notNegative(rimMm, "rim");
    }

    /**
     * Returns the standard uncertainty of a taped length that starts at a datum edge or the floor: reading, hook,
     * one aim at a point, and the tape itself.
     *
     * @param lengthMm how long the tape runs, mm; the sign does not matter
     */
    public double offsetUMm(double lengthMm) {
        return root(
                rectangular(tapeStepMm / 2),
                rectangular(hookMm),
                rectangular(pointingMm),
                rectangular(tape.limitMm(Math.abs(lengthMm))));
    }

    /** Returns the standard uncertainty of a distance taped between two points: both ends are aimed at by eye. */
    public double distanceUMm(double lengthMm) {
        return root(
                rectangular(tapeStepMm / 2),
                rectangular(pointingMm),
                rectangular(pointingMm),
                rectangular(tape.limitMm(Math.abs(lengthMm))));
    }

    /** Returns the standard uncertainty of an angle on the digital level. */
    public double angleURad() {
        return root(rectangular(levelStepRad / 2), rectangular(levelLimitRad));
    }

    /** Returns the standard uncertainty of each equation of a mirror. */
    public double mirrorUMm() {
        return rectangular(mirrorMm);
    }

    /** Returns the standard uncertainty of each equation of a wheel's rim. */
    public double rimUMm() {
        return rectangular(rimMm);
    }

    /**
     * Returns the standard uncertainty of a quantity known to lie within a half width, equally likely anywhere.
     *
     * @see "JCGM 100:2008 (GUM), 4.3.7: a over the root of 3"
     */
    public static double rectangular(double halfWidth) {
        return halfWidth / Math.sqrt(3);
    }

    /**
     * Returns the standard uncertainty of a quantity within a half width and likelier in the middle, falling evenly
     * to the ends.
     *
     * @see "JCGM 100:2008 (GUM), 4.3.9: a over the root of 6"
     */
    public static double triangular(double halfWidth) {
        return halfWidth / Math.sqrt(6);
    }

    /** Returns the standard uncertainty of a quantity that swings to and fro within a half width: a over root 2. */
    public static double arcsine(double halfWidth) {
        return halfWidth / Math.sqrt(2);
    }

    private static double root(double... parts) {
        double sum = 0;
        for (double part : parts) {
            sum += part * part;
        }
        return Math.sqrt(sum);
    }

    private static void notNegative(double value, String what) {
        if (!(value >= 0) || !Double.isFinite(value)) {
            throw new IllegalArgumentException("the " + what + " is zero or more, not " + value);
        }
    }
}
