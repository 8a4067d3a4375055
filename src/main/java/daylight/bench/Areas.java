package daylight.bench;

import daylight.units.Length;
import java.util.Locale;

/** How areas of metal are said. */
final class Areas {
    private Areas() {}

    /** Returns an area with its unit: {@code 1.24 sq in}, {@code 800 mm2}. */
    static String words(double mm2, boolean inches) {
        return inches
                ? String.format(Locale.ROOT, "%.2f sq in", mm2 / Length.MM_PER_INCH / Length.MM_PER_INCH)
                : String.format(Locale.ROOT, "%.0f mm2", mm2);
    }
}
