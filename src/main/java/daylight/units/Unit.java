package daylight.units;

import java.util.Locale;
import java.util.Optional;

/** A unit of length. The inch is exactly 25.4 mm. */
public enum Unit {
    /** 25.4 mm. */
    INCH("in", 25.4, "in inch inches \""),
    /** 12 inches. */
    FOOT("ft", 304.8, "ft foot feet '"),
    /** The program's own unit. */
    MILLIMETRE("mm", 1, "mm millimetre millimetres millimeter millimeters"),
    /** 10 mm. */
    CENTIMETRE("cm", 10, "cm centimetre centimetres centimeter centimeters"),
    /** 1000 mm. */
    METRE("m", 1000, "m metre metres meter meters");

    private final String symbol;
    private final double mm;
    /** Separated by spaces: a list could change, an enum may not. */
    private final String spellings;

    Unit(String symbol, double mm, String spellings) {
        this.symbol = symbol;
        this.mm = mm;
        this.spellings = spellings;
    }

    /** How it is written after a number, for example {@code in}. */
    public String symbol() {
        return symbol;
    }

    /** How many millimetres one of it is. */
    public double mm() {
        return mm;
    }

    /** Returns the unit that a person means by a word or mark ({@code in.}, {@code Inches}, {@code "}), if any. */
    public static Optional<Unit> spelt(String word) {
        String plain = word.toLowerCase(Locale.ROOT);
        if (plain.endsWith(".")) {
            plain = plain.substring(0, plain.length() - 1);
        }
        for (Unit unit : values()) {
            if ((" " + unit.spellings + " ").contains(" " + plain + " ")) {
                return Optional.of(unit);
            }
        }
        return Optional.empty();
    }
}
