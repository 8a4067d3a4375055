package daylight.survey;

/** How an iterative solution ended. */
public enum Ending {
    /** The next step would change nothing that matters. */
    CONVERGED,
    /** No step, however short, fits the readings better, though the slope is not zero: rounding, or a kink. */
    NO_PROGRESS,
    /** The allowed number of iterations was used up. */
    ITERATION_LIMIT,
    /** The user asked to stop. */
    CANCELLED
}
