package daylight.units;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The numbers, marks and words of one typed text, read from left to right. Not thread-safe; one per text.
 *
 * <p>Typographic signs are read as what they mean: vulgar fractions, the fraction slash, primes, the minus sign,
 * spaces of any width.
 */
final class Numerals {
    private static final Pattern PIECE = Pattern.compile("\\s*(?:"
            + "(?<number>\\d+(?:[.,]\\d+)*|[.,]\\d+)"
            + "|(?<mark>''|[-+/'\"\u00b0])"
            + "|(?<word>[\\p{L}\u00b5]+\\.?)"
            + ")");
    private static final String VULGAR = "\u00bc\u00bd\u00be\u2150\u2151\u2152\u2153\u2154\u2155\u2156\u2157\u2158"
            + "\u2159\u215a\u215b\u215c\u215d\u215e";
    private static final List<String> VULGAR_MEANING = List.of(
            "1/4", "1/2", "3/4", "1/7", "1/9", "1/10", "1/3", "2/3", "1/5", "2/5", "3/5", "4/5", "1/6", "5/6", "1/8",
            "3/8", "5/8", "7/8");

    private record Piece(String text, boolean number, boolean spaceBefore) {}

    private final List<Piece> pieces = new ArrayList<>();
    private int next;
    private String trouble = "";

    /** Reads the pieces of a text; afterwards {@link #trouble} says whether a sign made no sense. */
    Numerals(String text) {
        String plain = plain(text);
        Matcher matcher = PIECE.matcher(plain);
        int end = 0;
        while (end < plain.length() && matcher.find(end) && matcher.start() == end) {
            String number = matcher.group("number");
            String mark = matcher.group("mark");
            String word = matcher.group("word");
            String piece = number != null ? number : mark != null ? mark.replace("''", "\"") : word;
            pieces.add(new Piece(piece, number != null, Character.isWhitespace(plain.charAt(end))));
            end = matcher.end();
        }
        if (end < plain.length() && trouble.isEmpty()) {
            String rest = plain.substring(end).strip();
            if (!rest.isEmpty()) {
                trouble = "\"" + rest.substring(0, rest.offsetByCodePoints(0, 1)) + "\" means nothing here";
            }
        }
    }

    /** Returns the text with typographic signs replaced by plain ones. */
    private static String plain(String text) {
        StringBuilder plain = new StringBuilder(text.length() + 8);
        for (int i = 0; i < text.length(); i++) {
            char c = text.charAt(i);
            int vulgar = VULGAR.indexOf(c);
            if (vulgar >= 0) {
                plain.append(' ').append(VULGAR_MEANING.get(vulgar));
            } else if (c == '\u2044' || c == '\u2215') {
                plain.append('/');
            } else if (c == '\u2212' || c == '\u2013' || c == '\u2010' || c == '\u2011') {
                plain.append('-');
            } else if (c == '\u2032' || c == '\u2019') {
                plain.append('\'');
            } else if (c == '\u2033' || c == '\u201d') {
                plain.append('"');
            } else if (Character.isSpaceChar(c) || c == '\t') {
                plain.append(' ');
            } else {
                plain.append(c);
            }
        }
        return plain.toString().strip();
    }

    /** Says what is wrong, or is empty while nothing is. */
    String trouble() {
        return trouble;
    }

    /** Returns whether everything has been read. */
    boolean done() {
        return next >= pieces.size();
    }

    /** Returns whether nothing is there at all. */
    boolean empty() {
        return pieces.isEmpty() && trouble.isEmpty();
    }

    /** Reads a leading sign: -1 for a minus, else 1. */
    int sign() {
        if (at("-")) {
            next++;
            return -1;
        }
        if (at("+")) {
            next++;
        }
        return 1;
    }

    /** Steps over a hyphen that joins two quantities ({@code 1'-2"}). */
    void joint() {
        if (at("-") && next + 1 < pieces.size() && pieces.get(next + 1).number) {
            next++;
        }
    }

    /** Returns whether a number comes next. */
    boolean atNumber() {
        return !done() && pieces.get(next).number;
    }

    /** Returns the word or mark that comes next, or an empty text. */
    String word() {
        return done() || pieces.get(next).number ? "" : pieces.get(next).text;
    }

    /** Steps over the word or mark that comes next. */
    void step() {
        next++;
    }

    /** Returns what has not been read, for a message. */
    String rest() {
        StringBuilder rest = new StringBuilder();
        for (Piece piece : pieces.subList(Math.min(next, pieces.size()), pieces.size())) {
            rest.append(piece.spaceBefore && rest.length() > 0 ? " " : "").append(piece.text);
        }
        return rest.toString();
    }

    /**
     * Reads a whole number, a decimal, a fraction, or a whole number with a fraction, without a sign. Gives NaN and
     * sets the trouble if there is none.
     */
    double magnitude() {
        if (!atNumber()) {
            return fail(done() ? "a number is missing" : "a number is missing before \"" + rest() + "\"");
        }
        if (isFraction(next)) {
            return fraction();
        }
        String text = pieces.get(next).text;
        double value = decimal(text);
        next++;
        if (Double.isNaN(value)) {
            return value;
        }
        int at = next;
        if (at < pieces.size()
                && "-".equals(pieces.get(at).text)
                && !pieces.get(at).spaceBefore
                && isFraction(at + 1)) {
            at++;
        }
        if (isFraction(at)) {
            if (!text.chars().allMatch(Character::isDigit)) {
                return fail("it has both a decimal and a fraction");
            }
            next = at;
            return value + fraction();
        }
        return value;
    }

    private boolean isFraction(int at) {
        return at + 2 < pieces.size()
                && pieces.get(at).number
                && "/".equals(pieces.get(at + 1).text)
                && pieces.get(at + 2).number;
    }

    private double fraction() {
        String top = pieces.get(next).text;
        String bottom = pieces.get(next + 2).text;
        next += 3;
        if (!top.chars().allMatch(Character::isDigit) || !bottom.chars().allMatch(Character::isDigit)) {
            return fail(top + "/" + bottom + " has a decimal in a fraction");
        }
        double numerator = Double.parseDouble(top);
        double denominator = Double.parseDouble(bottom);
        if (!(denominator > 0)) {
            return fail(top + "/" + bottom + " divides by zero");
        }
        if (numerator >= denominator) {
            // 143/8 is far more often 14 3/8 with its space lost than seventeen and seven eighths.
            return fail(top + "/" + bottom + " is not less than one");
        }
        return numerator / denominator;
    }

    private double decimal(String text) {
        int comma = text.indexOf(',');
        int point = text.indexOf('.');
        if (comma < 0) {
            return point == text.lastIndexOf('.') ? Double.parseDouble(text) : fail(text + " has two decimal points");
        }
        boolean oneComma = comma == text.lastIndexOf(',');
        String whole = text.substring(0, comma);
        boolean couldBeThousands =
                text.length() - comma - 1 == 3 && !whole.isEmpty() && whole.length() <= 3 && !whole.startsWith("0");
        if (point >= 0 || !oneComma) {
            return fail(text + " has a thousands separator");
        }
        if (couldBeThousands) {
            return fail(String.format(
                    Locale.ROOT, "%s may be %s or %s", text, text.replace(',', '.'), text.replace(",", "")));
        }
        return Double.parseDouble(text.replace(',', '.'));
    }

    private boolean at(String mark) {
        return !done() && mark.equals(pieces.get(next).text);
    }

    private double fail(String what) {
        if (trouble.isEmpty()) {
            trouble = what;
        }
        return Double.NaN;
    }
}
