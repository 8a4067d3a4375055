package daylight.report;

import daylight.motion.Handle;
import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.util.ArrayList;
import java.util.List;

/**
 * A scale of a picture: a range of lengths or angles with ticks where a tape or a level has its marks.
 *
 * @param low least value, mm or rad
 * @param high greatest value
 * @param step between ticks, in the same unit
 * @param turns whether the values are angles
 * @param format how lengths are printed
 */
record Axis(double low, double high, double step, boolean turns, LengthFormat format) {
    private static final double[] INCH_STEPS = {0.0625, 0.125, 0.25, 0.5, 1, 2, 4, 6, 12, 24, 48};
    private static final double[] MM_STEPS = {0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000};
    private static final double[] DEG_STEPS = {0.1, 0.2, 0.5, 1, 2, 5, 10, 15, 30, 45, 90};
    /** A share of a step by which a tick may miss the end of the range. */
    private static final double ROUNDING = 1e-6;

    /** Returns a scale of lengths with at most so many steps. */
    static Axis lengths(double low, double high, LengthFormat format, int most) {
        boolean inches = format.unit() == Unit.INCH;
        double unit = inches ? Unit.INCH.mm() : 1;
        double least = Math.max(high - low, format.stepMm());
        return new Axis(
                low, low + least, unit * step(least / unit, inches ? INCH_STEPS : MM_STEPS, most), false, format);
    }

    /** Returns a scale over a handle's range. */
    static Axis of(Handle handle, LengthFormat format, int most) {
        if (!handle.turns()) {
            return lengths(handle.lowest(), handle.highest(), format, most);
        }
        double degrees = Math.toDegrees(handle.highest() - handle.lowest());
        return new Axis(
                handle.lowest(), handle.highest(), Math.toRadians(step(degrees, DEG_STEPS, most)), true, format);
    }

    private static double step(double range, double[] steps, int most) {
        for (double step : steps) {
            if (range / step <= most) {
                return step;
            }
        }
        double largest = steps[steps.length - 1];
        return largest * Math.ceil(range / largest / most);
    }

    List<Double> ticks() {
        List<Double> ticks = new ArrayList<>();
        for (long k = (long) Math.ceil(low / step - ROUNDING); k * step <= high + ROUNDING * step; k++) {
            ticks.add(k * step);
        }
        return ticks;
    }

    /** Returns where a value lies between two places of the picture. */
    double at(double value, double from, double to) {
        return from + (value - low) / (high - low) * (to - from);
    }

    String print(double value) {
        return turns ? TravelUnits.shortest(Math.toDegrees(value), 1) : format.bare(value);
    }

    String unit() {
        return turns ? "deg" : format.unit().symbol();
    }
}
