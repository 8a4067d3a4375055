package daylight.survey;

import daylight.survey.Equation.Quantity;
import daylight.survey.Network.Graduation;
import java.util.ArrayList;
import java.util.List;

/** Recognises the usual mistakes from how far a reading is off. */
final class Slips {
    private static final double INCH_MM = daylight.units.Length.MM_PER_INCH;
    private static final int INCHES_PER_FOOT = 12;
    /** A mistake explains a reading when what is left over is within so many standard uncertainties. */
    private static final double EXPLAINED = 3;
    /** Two explanations of sizes so near cannot be told apart, as a share of the step between them. */
    private static final double TELLABLE = 0.25;
    /** More whole inches than this have no usual cause, except whole feet. */
    private static final int MOST_INCHES = 6;

    private static final int MOST_FEET = 6;
    private static final double DEGREE_RAD = Math.PI / 180;

    private Slips() {}

    /**
     * Returns what would explain a reading, most usual first; empty where nothing usual does.
     *
     * @param fits what the other readings say it should be
     * @param u standard uncertainty of the difference
     */
    static List<Slip> of(Equation equation, double fits, double u, Graduation graduation) {
        double reads = equation.reads();
        double error = reads - fits;
        List<Slip> slips = new ArrayList<>();
        boolean length = equation.quantity() == Quantity.LENGTH;
        if (equation.signed() && Math.abs(fits + reads) < EXPLAINED * u && Math.abs(error) > 2 * EXPLAINED * u) {
            slips.add(new Slip.OtherSide(swapped(equation, length)));
        }
        // A mirror or a rim is not read off a tape: its equation reads zero by nature.
        if (length && reads != 0) {
            if (graduation == Graduation.INCHES) {
                inches(reads, error, u, slips);
            } else {
                centimetres(reads, error, u, slips);
            }
        }
        if (!length && reads != 0 && digits(reads / DEGREE_RAD, fits / DEGREE_RAD, u / DEGREE_RAD)) {
            slips.add(new Slip.DigitsSwapped());
        }
        return List.copyOf(slips);
    }

    /** Returns whether a reading fits where another point or another reading is meant. */
    static boolean explains(double reads, double fits, double u) {
        return Math.abs(reads - fits) < EXPLAINED * u;
    }

    private static String swapped(Equation equation, boolean length) {
        if (!length || equation.points().size() > 2) {
            return "plus and minus";
        }
        double[] xyz = new double[3 * equation.points().size()];
        double[] gradient = new double[xyz.length];
        equation.function().valueAt(xyz, gradient);
        int last = gradient.length - 3;
        return gradient[last] != 0
                ? "ahead and behind"
                : gradient[last + 1] != 0 ? "left and right" : "above and below";
    }

    private static void inches(double reads, double error, double u, List<Slip> slips) {
        double tolerance = EXPLAINED * u;
        long whole = Math.round(error / INCH_MM);
        long feet = Math.round(error / (INCH_MM * INCHES_PER_FOOT));
        boolean tellable = u < TELLABLE * INCH_MM;
        if (tellable && feet != 0 && Math.abs(feet) <= MOST_FEET && whole == feet * INCHES_PER_FOOT) {
            if (Math.abs(error - feet * INCHES_PER_FOOT * INCH_MM) < tolerance) {
                slips.add(new Slip.WholeFeet((int) feet));
            }
        } else if (tellable && whole != 0 && Math.abs(whole) <= MOST_INCHES) {
            if (Math.abs(error - whole * INCH_MM) < tolerance) {
                slips.add(new Slip.WholeInches((int) whole));
            }
        }
        if (digits(reads / INCH_MM, (reads - error) / INCH_MM, u / INCH_MM)) {
            slips.add(new Slip.DigitsSwapped());
        }
        double fits = reads - error;
        if (Math.abs(fits * INCH_MM - reads) < tolerance * INCH_MM && Math.abs(error) > tolerance) {
            slips.add(new Slip.OtherUnit(true));
        } else if (Math.abs(fits / INCH_MM - reads) < tolerance && Math.abs(error) > tolerance) {
            slips.add(new Slip.OtherUnit(false));
        }
        for (int denominator = 2; denominator <= 16; denominator *= 2) {
            double step = INCH_MM / denominator;
            if (Math.abs(Math.abs(error) - step) < tolerance && u < TELLABLE * step) {
                slips.add(new Slip.Fraction(denominator));
            }
        }
    }

    private static void centimetres(double reads, double error, double u, List<Slip> slips) {
        double tolerance = EXPLAINED * u;
        for (int step : new int[] {100, 10, 1}) {
            double size = Math.rint(error / (10.0 * step));
            if (size != 0 && Math.abs(size) <= 5 && u < TELLABLE * 10 * step) {
                if (Math.abs(error - size * 10 * step) < tolerance) {
                    slips.add(new Slip.WholeCentimetres((int) (size * step)));
                    break;
                }
            }
        }
        if (digits(reads, reads - error, u)) {
            slips.add(new Slip.DigitsSwapped());
        }
    }

    /** Whether two neighbouring digits of the whole number, changed round, give the fit. */
    private static boolean digits(double reads, double fits, double u) {
        long whole = (long) Math.floor(Math.abs(reads));
        for (long power = 1; power * 10 <= whole; power *= 10) {
            long low = whole / power % 10;
            long high = whole / (power * 10) % 10;
            double swapped = Math.abs(reads) + (low - high) * 9.0 * power;
            if (low != high && Math.abs(swapped - Math.abs(fits)) < EXPLAINED * u && reads * fits > 0) {
                return true;
            }
        }
        return false;
    }
}
