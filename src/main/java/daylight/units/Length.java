package daylight.units;

import java.util.Locale;
import java.util.Optional;

/**
 * A length.
 *
 * @param mm millimetres; finite; negative where a coordinate or a gap may be
 */
public record Length(double mm) implements Comparable<Length> {
    /** An inch in millimetres, exactly. */
    public static final double MM_PER_INCH = 25.4;

    private static final double INCHES_PER_FOOT = 12;
    /** A longer text than this is not one that a person meant as a length; its beginning says which one it is. */
    private static final int LONGEST_SHOWN = 40;

    public Length {
        if (!Double.isFinite(mm)) {
            throw new IllegalArgumentException("a length is a finite number of mm, not " + mm);
        }
    }

    /** Returns a length of so many of a unit. */
    public static Length of(double number, Unit unit) {
        return new Length(number * unit.mm());
    }

    /** Returns the length in inches. */
    public double inches() {
        return mm / MM_PER_INCH;
    }

    /**
     * Reads a length as a person writes it: {@code 14 3/8 in}, {@code 14-3/8"}, {@code 1' 2 3/8"},
     * {@code 1 ft 2 3/8 in}, {@code 3/16}, {@code 0.28}, {@code 365.1 mm}, {@code 36.5 cm}, {@code -1/16}, with
     * vulgar fractions and primes as a word processor sets them.
     *
     * <p>A comma is a decimal comma where it can be nothing else ({@code 36,5}); {@code 1,234} is refused. A
     * fraction of one or more ({@code 143/8}) is refused, since it is mostly {@code 14 3/8} without its space.
     *
     * @param fallback the unit of a bare number
     * @return the length, or why the text is none
     */
    public static Parsed<Length> parse(String text, Unit fallback) {
        Numerals numerals = new Numerals(text);
        if (numerals.empty()) {
            return new Parsed.Refused<>("a length is missing", advice(fallback));
        }
        int sign = numerals.sign();
        double first = numerals.magnitude();
        if (Double.isNaN(first) || !numerals.trouble().isEmpty()) {
            return refused(text, numerals.trouble(), advice(fallback));
        }
        if (numerals.done()) {
            return finite(text, sign * first * fallback.mm(), fallback);
        }
        Optional<Unit> unit = Unit.spelt(numerals.word());
        if (unit.isEmpty() && numerals.word().toLowerCase(Locale.ROOT).equals("e")) {
            return refused(text, "it is written with an exponent", advice(fallback));
        }
        if (unit.isEmpty()) {
            String what = numerals.atNumber()
                    ? "nothing says how \"" + numerals.rest() + "\" belongs to what is before it"
                    : "\"" + numerals.rest() + "\" is no unit";
            return refused(text, what, numerals.atNumber() ? advice(fallback) : advice(sign * first, fallback));
        }
        numerals.step();
        if (numerals.done()) {
            return finite(text, sign * first * unit.get().mm(), fallback);
        }
        if (unit.get() != Unit.FOOT) {
            return refused(text, "\"" + numerals.rest() + "\" is left over", advice(fallback));
        }
        numerals.joint();
        double inches = numerals.magnitude();
        if (Double.isNaN(inches)) {
            return refused(text, numerals.trouble(), advice(fallback));
        }
        if (!numerals.done()) {
            if (!Unit.spelt(numerals.word()).equals(Optional.of(Unit.INCH))) {
                return refused(text, "inches go after feet, not \"" + numerals.rest() + "\"", advice(fallback));
            }
            numerals.step();
        }
        if (!numerals.done()) {
            return refused(text, "\"" + numerals.rest() + "\" is left over", advice(fallback));
        }
        return finite(text, sign * (first * INCHES_PER_FOOT + inches) * MM_PER_INCH, fallback);
    }

    /** Returns the length in millimetres, to a millionth. */
    @Override
    public String toString() {
        return LengthFormat.exact(Unit.MILLIMETRE).print(mm);
    }

    @Override
    public int compareTo(Length other) {
        return Double.compare(mm, other.mm);
    }

    private static Parsed<Length> finite(String text, double mm, Unit fallback) {
        // Adding zero turns a negative zero into zero, so that equal lengths are equal values.
        return Double.isFinite(mm)
                ? new Parsed.Read<>(new Length(mm + 0.0))
                : refused(text, "it is too large", advice(fallback));
    }

    private static Parsed<Length> refused(String text, String why, String advice) {
        String shown = text.length() <= LONGEST_SHOWN ? text : text.substring(0, LONGEST_SHOWN) + "...";
        return new Parsed.Refused<>("\"" + shown + "\" is not a length: " + why, advice);
    }

    private static String advice(Unit fallback) {
        return "Write a length as 14 3/8 in, 1 ft 2 3/8 in, 365.1 mm, or a bare number (" + fallback.symbol() + ").";
    }

    private static String advice(double number, Unit fallback) {
        String inInches = LengthFormat.exact(Unit.INCH).print(number * MM_PER_INCH);
        double mm = number * (fallback == Unit.MILLIMETRE ? 1 : MM_PER_INCH);
        return "Write it as " + inInches + ", " + LengthFormat.TENTHS_OF_MM.print(mm) + ", or a bare number ("
                + fallback.symbol() + ").";
    }
}
