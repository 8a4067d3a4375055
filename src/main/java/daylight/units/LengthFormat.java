package daylight.units;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.Locale;

/**
 * How lengths are printed: the unit, and the step to which they are rounded. The same in every country.
 *
 * <p>Half a step is rounded away from zero. What rounds to nothing prints as plain {@code 0}, without a sign: the
 * state of a gap (rub, tight, clear) is told by a word, never by the sign of a rounded number.
 *
 * @param unit the unit that is printed
 * @param perUnit steps in one unit: the denominator of fractions (1 to 64, a power of two), or a power of ten up to
 *     a million for decimals
 * @param style fractions, fractions with feet, or decimals
 */
public record LengthFormat(Unit unit, int perUnit, Style style) {
    /** To the nearest sixteenth of an inch, as {@code 14 3/8 in}. */
    public static final LengthFormat SIXTEENTHS = inches(16);
    /** To the nearest thirty-second of an inch. */
    public static final LengthFormat THIRTY_SECONDS = inches(32);
    /** To the nearest sixty-fourth of an inch. */
    public static final LengthFormat SIXTY_FOURTHS = inches(64);
    /** To the nearest 0.1 mm, as {@code 365.1 mm}. */
    public static final LengthFormat TENTHS_OF_MM = decimals(Unit.MILLIMETRE, 1);

    private static final int FINEST = 64;
    private static final int MILLIONTHS = 1_000_000;
    private static final int INCHES_PER_FOOT = 12;
    /** Conversions between units leave some 1e-13 of a step; a millionth is far above that and of no size. */
    private static final double ROUNDING_OF_A_STEP = 1e-6;
    /** Decimal places that a conversion between units leaves right for any length on a car. */
    private static final int PLACES_OF_A_CONVERSION = 9;

    /** What the number looks like. */
    public enum Style {
        /** A whole number and a reduced fraction: {@code 14 3/8}. */
        FRACTION,
        /** The same, with feet from one foot up: {@code 1 ft 2 3/8}. */
        FEET,
        /** A decimal with all its places: {@code 365.10}. */
        DECIMAL,
        /** A decimal without trailing zeros; in inches a fraction where the length is on a tape's sixty-fourths. */
        EXACT
    }

    public LengthFormat {
        boolean fractions = style == Style.FRACTION || style == Style.FEET;
        if (fractions && (unit != Unit.INCH || perUnit < 1 || perUnit > FINEST || Integer.bitCount(perUnit) != 1)) {
            throw new IllegalArgumentException(
                    "fractions are halves to sixty-fourths of an inch, not 1/" + perUnit + " " + unit.symbol());
        }
        if (!fractions && (perUnit > MILLIONTHS || places(perUnit) < 0)) {
            throw new IllegalArgumentException("a decimal step is a tenth to a millionth, not 1/" + perUnit);
        }
    }

    /** Returns fractions of an inch with a denominator of 1, 2, 4, 8, 16, 32 or 64. */
    public static LengthFormat inches(int denominator) {
        return new LengthFormat(Unit.INCH, denominator, Style.FRACTION);
    }

    /** Returns feet, inches and fractions of an inch. */
    public static LengthFormat feet(int denominator) {
        return new LengthFormat(Unit.INCH, denominator, Style.FEET);
    }

    /** Returns decimals of a unit with so many places, 0 to 6. */
    public static LengthFormat decimals(Unit unit, int places) {
        int perUnit = 1;
        for (int i = 0; i < places; i++) {
            perUnit *= 10;
        }
        return new LengthFormat(unit, perUnit, Style.DECIMAL);
    }

    /** Returns the format that writes a length to a millionth of a unit, as short as that allows. */
    public static LengthFormat exact(Unit unit) {
        return new LengthFormat(unit, MILLIONTHS, Style.EXACT);
    }

    /** Returns the usual format of a car file's own unit: sixteenths for inches, tenths of a millimetre for mm. */
    public static LengthFormat usual(Unit unit) {
        return unit == Unit.INCH || unit == Unit.FOOT ? SIXTEENTHS : TENTHS_OF_MM;
    }

    /** Returns the format of differences that a sixteenth would hide: hundredths of an inch, tenths of a millimetre. */
    public static LengthFormat fine(Unit unit) {
        return unit == Unit.INCH || unit == Unit.FOOT ? decimals(Unit.INCH, 2) : TENTHS_OF_MM;
    }

    /** Returns a format by what a person calls its step: {@code 1/16}, {@code 0.1 mm}, or just {@code in}. */
    public static Parsed<LengthFormat> named(String step) {
        return switch (step.strip().toLowerCase(Locale.ROOT)) {
            case "1/8" -> new Parsed.Read<>(inches(8));
            case "in", "1/16" -> new Parsed.Read<>(SIXTEENTHS);
            case "1/32" -> new Parsed.Read<>(THIRTY_SECONDS);
            case "1/64" -> new Parsed.Read<>(SIXTY_FOURTHS);
            case "ft" -> new Parsed.Read<>(feet(16));
            case "1 mm" -> new Parsed.Read<>(decimals(Unit.MILLIMETRE, 0));
            case "mm", "0.1 mm" -> new Parsed.Read<>(TENTHS_OF_MM);
            case "0.01 mm" -> new Parsed.Read<>(decimals(Unit.MILLIMETRE, 2));
            default ->
                new Parsed.Refused<>(
                        "\"" + step + "\" is no step to print lengths in",
                        "Write in, ft, mm, 1/8, 1/16, 1/32, 1/64, 1 mm, 0.1 mm or 0.01 mm.");
        };
    }

    /** The step to which lengths are rounded, mm. */
    public double stepMm() {
        return unit.mm() / perUnit;
    }

    /**
     * Returns the standard uncertainty of a reading that was rounded to the step: half a step, equally likely
     * anywhere within, over the square root of 3; mm.
     *
     * @see "JCGM 100:2008 (GUM), 4.3.7"
     */
    public double roundingUncertaintyMm() {
        return stepMm() / 2 / Math.sqrt(3);
    }

    /** Returns a length in mm as text, with its unit. */
    public String print(double mm) {
        return bare(mm) + " " + unit.symbol();
    }

    /** Returns a length as text, with its unit. */
    public String print(Length length) {
        return print(length.mm());
    }

    /** Returns a length in mm as text without its unit (feet keep theirs), for a column whose heading has it. */
    public String bare(double mm) {
        double perStep = mm / unit.mm() * perUnit;
        if (!(Math.abs(perStep) < Long.MAX_VALUE)) {
            throw new IllegalArgumentException("not a length that can be printed: " + mm + " mm");
        }
        if (style == Style.EXACT && unit == Unit.INCH && isOnTape(mm)) {
            return SIXTY_FOURTHS.bare(mm);
        }
        if (style == Style.DECIMAL || style == Style.EXACT) {
            // 3/4 in is 19.05 mm, which as a double lies a hair below; it is to round as it is written.
            BigDecimal number = BigDecimal.valueOf(mm / unit.mm())
                    .setScale(PLACES_OF_A_CONVERSION, RoundingMode.HALF_EVEN)
                    .setScale(places(perUnit), RoundingMode.HALF_UP);
            if (style == Style.EXACT) {
                number = number.stripTrailingZeros();
                number = number.scale() < 0 ? number.setScale(0) : number;
            }
            return number.toPlainString();
        }
        long steps = (long) Math.floor(Math.abs(perStep) + 0.5);
        String sign = mm < 0 && steps != 0 ? "-" : "";
        long whole = steps / perUnit;
        if (style == Style.FEET && whole >= INCHES_PER_FOOT) {
            return sign + whole / INCHES_PER_FOOT + " ft " + mixed(whole % INCHES_PER_FOOT, steps % perUnit);
        }
        return sign + mixed(whole, steps % perUnit);
    }

    /** Returns the nearest length that prints exactly, mm. */
    public double nearest(double mm) {
        return Math.copySign(Math.floor(Math.abs(mm) / stepMm() + 0.5) * stepMm(), mm) + 0.0;
    }

    /**
     * Returns the least length not below the one given that prints exactly, mm: how a cut is marked out. A length
     * that exceeds a step by rounding alone (a millionth of a step) counts as on it.
     */
    public double notBelow(double mm) {
        return Math.ceil(mm / stepMm() - ROUNDING_OF_A_STEP) * stepMm() + 0.0;
    }

    private static boolean isOnTape(double mm) {
        double steps = mm / Length.MM_PER_INCH * FINEST;
        return Math.abs(steps - Math.rint(steps)) < ROUNDING_OF_A_STEP;
    }

    private String mixed(long whole, long top) {
        if (top == 0) {
            return Long.toString(whole);
        }
        int shift = Math.min(Long.numberOfTrailingZeros(top), Integer.numberOfTrailingZeros(perUnit));
        String fraction = (top >> shift) + "/" + (perUnit >> shift);
        return whole == 0 ? fraction : whole + " " + fraction;
    }

    /** Returns the exponent of a power of ten, or -1. */
    private static int places(int powerOfTen) {
        int places = 0;
        int rest = powerOfTen;
        while (rest >= 10 && rest % 10 == 0) {
            rest /= 10;
            places++;
        }
        return rest == 1 ? places : -1;
    }
}
