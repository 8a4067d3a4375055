package daylight.hose;

/** What came of asking for the shape of a flexible line. */
public sealed interface Outcome {
    /** It reaches from end to end; its least-bent shape is known. */
    record Reaches(HoseShape shape) implements Outcome {}

    /**
     * It is pulled tight: too short for the distance, or so nearly straight that it would have to leave its fittings
     * with a kink.
     *
     * @param spareMm free length less the straight distance, mm; negative when it does not reach at all
     */
    record Taut(double spareMm) implements Outcome {}

    /**
     * The computation did not settle; nothing is known of the shape.
     *
     * @param ending how it ended
     * @param steps steps taken
     */
    record Unsettled(Ending ending, int steps) implements Outcome {}
}
