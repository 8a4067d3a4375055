package daylight.motion;

/**
 * One thing that can be moved on purpose: a wheel's travel, the steering, a panel's opening.
 *
 * <p>Values are changes from ride height, where every handle is zero: mm, or radians when {@code turns}.
 *
 * @param name as the builder calls it, for example {@code front left travel}
 * @param lowest least value; zero or less
 * @param highest greatest value; zero or more
 * @param turns whether the value is an angle in radians (else mm)
 */
public record Handle(String name, double lowest, double highest, boolean turns) {
    public Handle {
        if (!(lowest <= 0 && highest >= 0) || !Double.isFinite(lowest) || !Double.isFinite(highest)) {
            throw new IllegalArgumentException(
                    "the range of " + name + " has to hold ride height (0): " + lowest + " to " + highest);
        }
    }

    /** Returns how much of the travel on its side a value uses: 0 at ride height, 1 at the end of the range. */
    public double share(double value) {
        double end = value < 0 ? lowest : highest;
        return value == 0 ? 0 : end == 0 ? Double.POSITIVE_INFINITY : value / end;
    }
}
