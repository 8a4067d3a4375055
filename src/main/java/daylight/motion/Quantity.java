package daylight.motion;

/** What kind of number a curve holds, and in which unit: reports turn lengths into the car file's own. */
public enum Quantity {
    /** mm. */
    LENGTH,
    /** Degrees. */
    ANGLE,
    /** Degrees per mm. */
    ANGLE_PER_LENGTH,
    /** A length per length, or an angle per angle: no unit. */
    RATIO,
    /** Per cent. */
    PERCENT
}
