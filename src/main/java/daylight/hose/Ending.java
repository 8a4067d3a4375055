package daylight.hose;

/** How a solve for the shape of a flexible line ended. */
public enum Ending {
    /** The least-bent shape is found; the last step was within the solver's own stop. */
    CONVERGED,
    /** No step lowered the bending energy although the shape is not yet at rest. */
    NO_PROGRESS,
    /** The allowed number of steps was used up. */
    STEP_LIMIT,
    /** The line is too short for its ends, or so nearly that the finest grid cannot follow its end bends. */
    CANNOT_CLOSE
}
