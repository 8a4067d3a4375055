package daylight.report;

import java.util.Locale;
import java.util.Optional;

/** The paper that pages are laid out for. */
public enum Paper {
    /** 210 x 297 mm. */
    A4("A4", 210, 297),
    /** 8 1/2 x 11 in. */
    LETTER("Letter", 215.9, 279.4);

    private final String word;
    private final double widthMm;
    private final double heightMm;

    Paper(String word, double widthMm, double heightMm) {
        this.word = word;
        this.widthMm = widthMm;
        this.heightMm = heightMm;
    }

    /** Returns the paper that a car file's unit suggests: Letter with inches, A4 with millimetres. */
    public static Paper usual(boolean inches) {
        return inches ? LETTER : A4;
    }

    /** Returns the paper of that name, in any case, if there is one. */
    public static Optional<Paper> named(String name) {
        for (Paper paper : values()) {
            if (paper.word.toLowerCase(Locale.ROOT).equals(name.strip().toLowerCase(Locale.ROOT))) {
                return Optional.of(paper);
            }
        }
        return Optional.empty();
    }

    /** Returns its name. */
    public String word() {
        return word;
    }

    /** Returns its width upright, mm. */
    public double widthMm() {
        return widthMm;
    }

    /** Returns its height upright, mm. */
    public double heightMm() {
        return heightMm;
    }
}
