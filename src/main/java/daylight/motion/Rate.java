package daylight.motion;

/**
 * How fast a spot moves, or a body turns, per unit of a way through the handles: three parts in the car frame (ISO 8855:
 * x forward, y left, z up).
 *
 * @param x forward part: mm, or radians, per unit
 * @param y left part
 * @param z upward part
 */
public record Rate(double x, double y, double z) {
    /** Nothing moves. */
    public static final Rate NONE = new Rate(0, 0, 0);

    /** Returns this rate times a factor. */
    public Rate times(double factor) {
        return new Rate(factor * x, factor * y, factor * z);
    }
}
