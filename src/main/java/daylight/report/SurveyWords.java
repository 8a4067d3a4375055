package daylight.report;

import daylight.clearance.GapCheck;
import daylight.clearance.GapDoubts;
import daylight.survey.Equation.Quantity;
import daylight.survey.MeasuredCar;
import daylight.survey.Suspect;
import daylight.units.Length;
import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;

/** How readings and suspects are said, the same everywhere. */
public final class SurveyWords {
    private static final int THIRTY_SECONDS = 32;
    private static final double PER_CENT = 100;
    private static final double LEAST_CHANCE = 0.001;

    private SurveyWords() {}

    /**
     * Returns one line about the readings that were left out of a car, or nothing where all agree.
     *
     * @param file the car file as the builder called it
     */
    public static Optional<String> warning(MeasuredCar measured, String file, LengthFormat format) {
        List<Suspect> suspects = measured.suspects();
        if (suspects.isEmpty()) {
            return Optional.empty();
        }
        String which = suspects.stream()
                .map(suspect -> accused(suspect.first(), format))
                .collect(Collectors.joining("; "));
        return Optional.of(file + ": " + (suspects.size() == 1 ? "one reading" : suspects.size() + " readings")
                + " cannot be right and " + (suspects.size() == 1 ? "is" : "are") + " left out: " + which
                + (which.endsWith("?") ? "" : ".") + " daylight measure says more.");
    }

    /** Returns what is wrong with a reading: {@code peg A to peg B reads 37 5/16, fits 36 5/16: an inch slip?}. */
    public static String accused(Suspect.Accused accused, LengthFormat format) {
        String what = label(accused.reading(), accused.part()) + " reads "
                + value(accused.reads(), accused.quantity(), format) + ", fits "
                + value(accused.probablyTrue(), accused.quantity(), format);
        return accused.slips().isEmpty()
                ? what
                : what + ": " + accused.slips().get(0).words() + "?";
    }

    /**
     * Returns one line for each gap measured on the car that differs from the computed one, with its likely reading.
     *
     * <p>{@code Differs: gap between tyre and fender reads 4 1/2, fits 5 1/2: an inch slip? Computed 5 9/16.}
     */
    public static List<String> differing(List<GapCheck> gaps, LengthFormat format) {
        return gaps.stream()
                .filter(GapCheck::disagrees)
                .map(gap -> gap.accused()
                        .map(accused -> "Differs: " + accused(accused, format)
                                + (accused.slips().isEmpty() ? "." : " Computed " + format.bare(accused.fits()) + "."))
                        .orElseGet(() -> "Not compared: " + gap.reading().name() + ": " + gap.why() + "."))
                .toList();
    }

    /** Returns a chance as a percentage; a dash below one in a thousand, which first order cannot tell from none. */
    public static String chance(double chance) {
        if (chance < LEAST_CHANCE) {
            return "-";
        }
        double perCent = PER_CENT * chance;
        return String.format(Locale.ROOT, perCent < 1 ? "%.1f %%" : "%.0f %%", perCent);
    }

    /** Returns what measuring one thing again would bring, without a full stop. */
    public static String sharper(GapDoubts.Sharper sharper, boolean inches) {
        return "with " + sharper.what() + " read to " + readTo(sharper, inches) + " the gap is known to "
                + halfWidth(sharper.after95Mm(), inches) + " instead of " + halfWidth(sharper.before95Mm(), inches);
    }

    /** Returns how finely the thing is to be read: 1/32 in, or the same in mm. */
    static String readTo(GapDoubts.Sharper sharper, boolean inches) {
        return (inches ? LengthFormat.inches(THIRTY_SECONDS) : LengthFormat.TENTHS_OF_MM).print(sharper.withinMm());
    }

    /** Returns half of an interval: thousandths of an inch, or tenths of a mm. */
    static String halfWidth(double mm, boolean inches) {
        return LengthFormat.decimals(inches ? Unit.INCH : Unit.MILLIMETRE, inches ? 3 : 1)
                .print(mm);
    }

    /** Returns a reading's name, with which of its numbers is meant where there are several. */
    public static String label(String reading, String part) {
        return part.isEmpty() ? reading : reading + " (" + part + ")";
    }

    /** Returns a value that was read, as it is read off the tape or the level. */
    public static String value(double value, Quantity quantity, LengthFormat format) {
        return quantity == Quantity.ANGLE
                ? String.format(Locale.ROOT, "%.1f deg", zero(Math.rint(Math.toDegrees(value) * 10) / 10))
                : format.bare(value);
    }

    /** Returns a small difference: hundredths of an inch, tenths of a mm, hundredths of a degree; with its sign. */
    public static String small(double value, Quantity quantity, Unit unit) {
        if (!Double.isFinite(value)) {
            return "-";
        }
        return quantity == Quantity.ANGLE
                ? signed(Math.toDegrees(value), 2)
                : unit == Unit.INCH ? signed(value / Length.MM_PER_INCH, 2) : signed(value, 1);
    }

    private static String signed(double value, int places) {
        double scale = Math.pow(10, places);
        double shown = zero(Math.rint(value * scale) / scale);
        return shown == 0
                ? String.format(Locale.ROOT, "%." + places + "f", 0.0)
                : String.format(Locale.ROOT, "%+." + places + "f", shown);
    }

    /** A negative zero is zero. */
    private static double zero(double value) {
        return value == 0 ? 0.0 : value;
    }
}
