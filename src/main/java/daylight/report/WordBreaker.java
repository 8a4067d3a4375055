package daylight.report;

import com.openhtmltopdf.extend.FSTextBreaker;

/**
 * Says where a line may end: after a space, unless the space stands inside a length ({@code 14 3/8 in}), and after a
 * hyphen between two letters. A fraction is never taken apart.
 */
final class WordBreaker implements FSTextBreaker {
    private String text = "";
    private int at;

    @Override
    public void setText(String newText) {
        text = newText;
        at = 0;
    }

    @Override
    public int next() {
        while (at < text.length()) {
            at++;
            if (at < text.length() && mayEndBefore(at)) {
                return at;
            }
        }
        return -1;
    }

    private boolean mayEndBefore(int i) {
        char last = text.charAt(i - 1);
        char next = text.charAt(i);
        if (last == ' ') {
            char before = i >= 2 ? text.charAt(i - 2) : ' ';
            boolean inLength = Character.isDigit(before)
                    && (Character.isDigit(next) || unit("in", i) || unit("mm", i) || unit("deg", i) || unit("%", i));
            return next != ' ' && !inLength;
        }
        return last == '-' && i >= 2 && Character.isLetter(text.charAt(i - 2)) && Character.isLetter(next);
    }

    private boolean unit(String unit, int i) {
        int end = i + unit.length();
        return text.startsWith(unit, i) && (end == text.length() || !Character.isLetter(text.charAt(end)));
    }
}
