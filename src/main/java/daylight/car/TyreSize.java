package daylight.car;

import daylight.units.Length;
import daylight.units.Parsed;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * What a tyre's size designation says.
 *
 * @param written the designation without load and speed, for example {@code 205/70R15}
 * @param widthMm width in the designation, mm
 * @param heightMm section height in the designation, mm; for an inch size it follows from the diameter and the rim
 *     and is zero here
 * @param aspect section height as per cent of the width; zero for an inch size
 * @param rimCode nominal rim diameter, inches
 * @param diameterMm overall diameter in the designation, mm; zero for a metric size
 */
public record TyreSize(String written, double widthMm, double heightMm, int aspect, int rimCode, double diameterMm) {
    private static final Pattern METRIC = Pattern.compile(
            "(?:P|LT|T)?\\s*(?<width>\\d{3})\\s*/\\s*(?<aspect>\\d{2,3})\\s*(?:[A-Z]?R|[-BD])\\s*(?<rim>\\d{2})C?"
                    + "(?:\\s+\\d{2,3}(?:/\\d{2,3})?\\s*\\(?[A-Z]\\)?)?(?:\\s+XL)?");
    private static final Pattern INCH = Pattern.compile("(?<diameter>\\d{2}(?:\\.\\d{1,2})?)\\s*[xX\u00d7]\\s*"
            + "(?<width>\\d{1,2}(?:\\.\\d{1,2})?)\\s*(?:R|[-BD])\\s*(?<rim>\\d{2})\\s*(?:LT)?");

    /** Reads {@code 205/70R15}, {@code P205/70 R 15 96T}, {@code 31x10.50R15LT}. */
    public static Parsed<TyreSize> parse(String text) {
        String plain = text.strip();
        Matcher metric = METRIC.matcher(plain);
        if (metric.matches()) {
            int aspect = Integer.parseInt(metric.group("aspect"));
            double width = Double.parseDouble(metric.group("width"));
            int rim = Integer.parseInt(metric.group("rim"));
            if (aspect < 20 || aspect > 100 || width % 5 != 0) {
                return refused(text, aspect < 20 || aspect > 100 ? "its aspect" : "its width");
            }
            String written = metric.group("width") + "/" + aspect + "R" + rim;
            return new Parsed.Read<>(new TyreSize(written, width, width * aspect / 100, aspect, rim, 0));
        }
        Matcher inch = INCH.matcher(plain);
        if (inch.matches()) {
            double diameter = Double.parseDouble(inch.group("diameter"));
            int rim = Integer.parseInt(inch.group("rim"));
            if (diameter < rim + 2) {
                return refused(text, "its diameter");
            }
            String written = inch.group("diameter") + "x" + inch.group("width") + "R" + rim;
            return new Parsed.Read<>(new TyreSize(
                    written,
                    Double.parseDouble(inch.group("width")) * Length.MM_PER_INCH,
                    0,
                    0,
                    rim,
                    diameter * Length.MM_PER_INCH));
        }
        return new Parsed.Refused<>("\"" + text + "\" is not a tyre size", ADVICE);
    }

    private static final String ADVICE = "Write it as on the side wall: 205/70R15 or 31x10.50R15.";

    private static Parsed<TyreSize> refused(String text, String what) {
        return new Parsed.Refused<>("\"" + text + "\" is not a tyre size: " + what + " cannot be", ADVICE);
    }

    /** Whether it is a size in inches, as for light trucks. */
    public boolean isInch() {
        return aspect == 0;
    }
}
