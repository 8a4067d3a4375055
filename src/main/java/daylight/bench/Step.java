package daylight.bench;

/** The steps of the job, in its order. */
enum Step {
    /** Where the points are. */
    MEASURE("Measure", "what the tape read, and where that puts the points"),
    /** What may touch. */
    PARTS("Parts", "what is on the car, and what carries it"),
    /** Where everything can go. */
    TRAVEL("Travel", "where everything can go"),
    /** How near everything comes. */
    GAPS("Gaps", "how near everything comes"),
    /** What to cut. */
    TRIM("Trim", "what to cut, and what that would change"),
    /** What is kept. */
    REPORT("Report", "what is printed and kept");

    private final String word;
    private final String about;

    Step(String word, String about) {
        this.word = word;
        this.about = about;
    }

    String word() {
        return word;
    }

    /** What it is about, to follow a dash. */
    String about() {
        return about;
    }
}
