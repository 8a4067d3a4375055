package daylight.survey;

/**
 * A quantity that follows from the places of some points: what a reading would be if the points were exactly there.
 *
 * <p>Car frame (ISO 8855: x forward, y left, z up), mm; the value in mm, or radians for an angle. Implementations
 * keep no state between calls, so that one may be shared by threads, and allocate nothing where they can help it.
 */
@FunctionalInterface
public interface PointFunction {
    /**
     * Returns the value, and writes how it changes with each coordinate.
     *
     * @param xyz the points' coordinates one after the other, x y z each, mm; not modified
     * @param intoGradient written in full: value per mm of each coordinate, same length and order as {@code xyz}
     */
    double valueAt(double[] xyz, double[] intoGradient);
}
