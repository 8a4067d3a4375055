package daylight.clearance;

/** How a pair stands over its whole travel. */
public enum State {
    /** It touches somewhere. */
    RUB("rub"),
    /** It does not touch, and somewhere comes nearer than its rule allows, or cannot be proved not to. */
    TIGHT("tight"),
    /** Everywhere at least as far apart as its rule asks. */
    CLEAR("clear");

    private final String word;

    State(String word) {
        this.word = word;
    }

    /** Returns the word shown everywhere. */
    public String word() {
        return word;
    }
}
