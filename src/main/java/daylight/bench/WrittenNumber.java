package daylight.bench;

/**
 * A written number in two parts, so that numbers in a column line up where the fraction begins.
 *
 * @param whole the sign and the whole number; may be empty
 * @param rest the fraction, or the point and the decimals; may be empty
 */
record WrittenNumber(String whole, String rest) {

    /** Parts a number as it is written: {@code 14 3/8}, {@code -1/16}, {@code (1/2)}, {@code 365.1}. */
    static WrittenNumber of(String text) {
        int space = text.lastIndexOf(' ');
        if (space >= 0) {
            return new WrittenNumber(text.substring(0, space), text.substring(space + 1));
        }
        int point = text.indexOf('.');
        if (point >= 0) {
            return new WrittenNumber(text.substring(0, point), text.substring(point));
        }
        if (text.contains("/")) {
            int from = 0;
            while ("(-".indexOf(text.charAt(from)) >= 0) {
                from++;
            }
            return new WrittenNumber(text.substring(0, from), text.substring(from));
        }
        return text.endsWith(")")
                ? new WrittenNumber(text.substring(0, text.length() - 1), ")")
                : new WrittenNumber(text, "");
    }
}
