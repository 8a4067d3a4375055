package daylight.car;

/**
 * One mistake in a file: where, what was found in the writer's own spelling, what is allowed, what to do. The same
 * object is printed by the command line, shown by the window and written as JSON.
 *
 * @param kind which sort of mistake, for programs
 * @param file the file's name as the reader was given it
 * @param line first line is 1
 * @param column first character of a line is 1
 * @param found what is there; no full stop
 * @param allowed what may be there: a sentence, or empty where the advice says it
 * @param advice what to do: a sentence
 */
public record Complaint(Kind kind, String file, int line, int column, String found, String allowed, String advice)
        implements Comparable<Complaint> {

    /** The sorts of mistakes. */
    public enum Kind {
        /** The file cannot be opened or written. */
        FILE,
        /** The bytes are not text in UTF-8. */
        ENCODING,
        /** There is nothing in the file. */
        EMPTY,
        /** The text is not YAML. */
        NOT_YAML,
        /** YAML that a car file has no use for: anchors, tags, several documents. */
        FANCY_YAML,
        /** The file was written for a newer version. */
        VERSION,
        /** A key that nobody knows. */
        UNKNOWN_KEY,
        /** A key or name that is there twice. */
        TWICE,
        /** Something that must be there is not. */
        MISSING,
        /** A list where one value belongs, and the like. */
        WRONG_KIND,
        /** Too few or too many values in a list. */
        WRONG_COUNT,
        /** Not a length. */
        NOT_A_LENGTH,
        /** Not an angle. */
        NOT_AN_ANGLE,
        /** Not a number, a word out of a list, a yes or no. */
        NOT_A_VALUE,
        /** A quantity outside its bounds. */
        OUT_OF_RANGE,
        /** No point has that name. */
        UNKNOWN_POINT,
        /** No part, kind or body has that name. */
        UNKNOWN_PART,
        /** No body has that name. */
        UNKNOWN_BODY,
        /** No mechanism has that name. */
        UNKNOWN_MECHANISM,
        /** No layout has that name. */
        UNKNOWN_LAYOUT,
        /** No rule list has that name. */
        UNKNOWN_LIST,
        /** Two statements that cannot both be true, or one that refers to itself. */
        CONTRADICTION,
        /** Sizes that give no shape. */
        IMPOSSIBLE_SHAPE,
        /** Not a tyre size. */
        NOT_A_TYRE,
    }

    public Complaint {
        if (file.isBlank() || line < 1 || column < 1) {
            throw new IllegalArgumentException("a complaint has a place: " + file + ":" + line + ":" + column);
        }
        if (found.isBlank() || found.endsWith(".")) {
            throw new IllegalArgumentException("what was found is a phrase without a full stop: " + found);
        }
        if (advice.isBlank() || !advice.endsWith(".") || !(allowed.isEmpty() || allowed.endsWith("."))) {
            throw new IllegalArgumentException("allowed and advice are sentences: " + allowed + " / " + advice);
        }
    }

    /** Returns the complaint as one line: {@code file:line:column: found. Allowed. Advice.} */
    @Override
    public String toString() {
        return file + ":" + line + ":" + column + ": " + found + ". " + (allowed.isEmpty() ? "" : allowed + " ")
                + advice;
    }

    /** Orders by place in the file. */
    @Override
    public int compareTo(Complaint other) {
        int byLine = Integer.compare(line, other.line);
        int byColumn = byLine != 0 ? byLine : Integer.compare(column, other.column);
        return byColumn != 0 ? byColumn : found.compareTo(other.found);
    }
}
