package daylight.units;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.Locale;

/**
 * An angle.
 *
 * @param rad radians; finite; positive by the right-hand rule about whatever axis it belongs to
 */
public record Angle(double rad) {
    private static final String ADVICE = "Write an angle as 12.5, 12.5 deg, 7 deg 38 min or 0.2 rad.";

    public Angle {
        if (!Double.isFinite(rad)) {
            throw new IllegalArgumentException("an angle is a finite number of radians, not " + rad);
        }
    }

    /** Returns an angle of so many degrees. */
    public static Angle ofDegrees(double degrees) {
        return new Angle(Math.toRadians(degrees));
    }

    /** Returns the angle in degrees. */
    public double degrees() {
        return Math.toDegrees(rad);
    }

    /**
     * Reads an angle as a person writes it: {@code 12.5}, {@code 12 1/2 deg}, {@code 12.5°}, {@code 7 deg 38 min},
     * {@code 7° 38' 12"}, {@code 0.2 rad}. A bare number is degrees.
     */
    public static Parsed<Angle> parse(String text) {
        Numerals numerals = new Numerals(text);
        if (numerals.empty()) {
            return new Parsed.Refused<>("an angle is missing", ADVICE);
        }
        int sign = numerals.sign();
        double degrees = numerals.magnitude();
        if (Double.isNaN(degrees) || !numerals.trouble().isEmpty()) {
            return refused(text, numerals.trouble());
        }
        if (numerals.done()) {
            return finite(text, Math.toRadians(sign * degrees));
        }
        String unit = spelt(numerals.word());
        if (unit.equals("rad")) {
            numerals.step();
            return numerals.done() ? finite(text, sign * degrees) : leftOver(text, numerals);
        }
        if (!unit.equals("deg")) {
            return refused(text, "\"" + numerals.rest() + "\" is no unit of angle");
        }
        numerals.step();
        double perUnit = 60;
        for (String part : new String[] {"min", "sec"}) {
            if (numerals.done()) {
                break;
            }
            double value = numerals.magnitude();
            if (Double.isNaN(value)) {
                return refused(text, numerals.trouble());
            }
            if (!spelt(numerals.word()).equals(part)) {
                return refused(text, part + " is missing after " + numerals.rest());
            }
            if (value >= 60) {
                return refused(text, "there are 60 " + part + " to the next larger unit");
            }
            numerals.step();
            degrees += value / perUnit;
            perUnit *= 60;
        }
        return numerals.done() ? finite(text, Math.toRadians(sign * degrees)) : leftOver(text, numerals);
    }

    /** Returns the angle in degrees to so many places, as {@code 12.5 deg}. */
    public String toDegrees(int places) {
        BigDecimal number = BigDecimal.valueOf(degrees()).setScale(places, RoundingMode.HALF_UP);
        return (number.signum() == 0 ? number.abs() : number).toPlainString() + " deg";
    }

    /** Returns the angle in whole degrees and minutes, as {@code 7 deg 38 min}. */
    public String toDegreesAndMinutes() {
        long minutes = Math.round(Math.abs(degrees()) * 60);
        String sign = rad < 0 && minutes != 0 ? "-" : "";
        return String.format(Locale.ROOT, "%s%d deg %d min", sign, minutes / 60, minutes % 60);
    }

    @Override
    public String toString() {
        return toDegrees(2);
    }

    private static String spelt(String word) {
        return switch (word.toLowerCase(Locale.ROOT)) {
            case "deg", "deg.", "degree", "degrees", "\u00b0" -> "deg";
            case "min", "min.", "minute", "minutes", "'" -> "min";
            case "sec", "sec.", "second", "seconds", "\"" -> "sec";
            case "rad", "radian", "radians" -> "rad";
            default -> "";
        };
    }

    private static Parsed<Angle> finite(String text, double rad) {
        return Double.isFinite(rad) ? new Parsed.Read<>(new Angle(rad + 0.0)) : refused(text, "it is too large");
    }

    private static Parsed<Angle> leftOver(String text, Numerals numerals) {
        return refused(text, "\"" + numerals.rest() + "\" is left over");
    }

    private static Parsed<Angle> refused(String text, String why) {
        return new Parsed.Refused<>("\"" + text + "\" is not an angle: " + why, ADVICE);
    }
}
