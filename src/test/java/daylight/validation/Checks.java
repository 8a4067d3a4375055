package daylight.validation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.TreeMap;
import org.jspecify.annotations.NullMarked;

/**
 * Collects each comparison with a figure from outside the project, asserts it, and keeps it for
 * {@code validation/results.md}.
 *
 * <p>A test calls {@link #record(String, String, String, String, double, double, double)} once per figure. The rows are
 * written by {@link ChecksListener} when the test run ends and made into the page by {@link ResultsPage} in the
 * {@code verify} phase.
 */
@NullMarked
public final class Checks {
    /** Rows by id, then by what: the page's order does not depend on the order of the tests. */
    private static final TreeMap<String, TreeMap<String, String>> ROWS = new TreeMap<>();

    private Checks() {}

    /**
     * Asserts that a computed figure agrees with a published one and keeps the row.
     *
     * @param id the check's id, for example {@code EL-1}
     * @param what what is compared, with units, unique within the id
     * @param source author or body, title, year, place
     * @param mark how well the source is known: {@code seen}, {@code recomputed}, {@code from memory} or a combination
     * @param expected the published figure, as printed
     * @param got ours
     * @param tolerance greatest difference allowed, with its reason in the test
     */
    public static void record(
            String id, String what, String source, String mark, double expected, double got, double tolerance) {
        int digits = tolerance > 0 ? Math.max(0, Math.min(12, (int) Math.ceil(-Math.log10(tolerance)) + 1)) : 6;
        keep(id, what, source, mark, decimal(expected, digits), decimal(got, digits), plain(tolerance));
        assertThat(got).as("%s, %s (%s)", id, what, source).isCloseTo(expected, within(tolerance));
    }

    /** The same for a figure that is a word or a whole row of words: it has to be equal. */
    public static void record(String id, String what, String source, String mark, String expected, String got) {
        keep(id, what, source, mark, expected, got, "equal");
        assertThat(got).as("%s, %s (%s)", id, what, source).isEqualTo(expected);
    }

    private static synchronized void keep(
            String id, String what, String source, String mark, String expected, String got, String tolerance) {
        String row = String.join("\t", clean(id), clean(what), clean(expected), clean(got), clean(tolerance)) + "\t"
                + clean(source) + "\t" + clean(mark);
        ROWS.computeIfAbsent(order(id), k -> new TreeMap<>()).put(what, row);
    }

    /** All rows so far, in order of id and then of what. */
    static synchronized List<String> rows() {
        List<String> all = new ArrayList<>();
        ROWS.values().forEach(rows -> all.addAll(rows.values()));
        return all;
    }

    /** EL-2 comes before EL-10. */
    private static String order(String id) {
        int dash = id.lastIndexOf('-');
        String number = dash < 0 ? "" : id.substring(dash + 1);
        return number.matches("\\d+")
                ? id.substring(0, dash) + String.format(Locale.ROOT, "-%06d", Integer.parseInt(number))
                : id;
    }

    private static String decimal(double value, int digits) {
        BigDecimal rounded = new BigDecimal(value).setScale(digits, RoundingMode.HALF_EVEN);
        return rounded.signum() == 0 ? rounded.abs().toPlainString() : rounded.toPlainString();
    }

    private static String plain(double value) {
        return String.format(Locale.ROOT, "%.0e", value);
    }

    private static String clean(String text) {
        return text.replace('\t', ' ').replace('\n', ' ').replace("|", "\\|");
    }
}
