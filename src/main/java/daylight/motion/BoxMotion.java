package daylight.motion;

/**
 * How the bodies of one mechanism move over one box of its handles: the pose and twists at the centre, and proved
 * bounds on how far the velocities can differ from the centre's anywhere in the box. Immutable once filled, so it is
 * shared between threads.
 */
final class BoxMotion {
    /** Numbers per pose: rotation row by row with the translation at the end of each row. */
    static final int POSE = 12;
    /** Numbers per twist: angular velocity, then velocity of the reference spot. */
    static final int TWIST = 6;

    /** Whether the bounds are proved for the whole box. */
    final boolean proved;
    /** Whether the mechanism can stand at the centre at all. */
    final boolean reached;
    /** Why not, if either is false; else empty. */
    final String why;
    /** POSE numbers per body. */
    final double[] poses;
    /** TWIST numbers per body and handle (handle fastest). */
    final double[] twists;
    /** mm per unit, per body and handle. */
    final double[] linearError;
    /** rad per unit, per body and handle. */
    final double[] turnError;

    BoxMotion(
            boolean proved,
            boolean reached,
            String why,
            double[] poses,
            double[] twists,
            double[] linearError,
            double[] turnError) {
        this.proved = proved;
        this.reached = reached;
        this.why = why;
        this.poses = poses;
        this.twists = twists;
        this.linearError = linearError;
        this.turnError = turnError;
    }
}
