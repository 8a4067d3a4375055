package daylight.motion;

/**
 * How far a movement really goes from ride height, each way, and what ends it. Everything else stays at ride height.
 *
 * @param movement a handle's name, or both wheels of an axle together or one against the other
 * @param ways what the two directions are called: {@code bump} and {@code droop}, or empty words where there is one
 * @param turns whether the values are radians (else mm)
 * @param stated how far the car file lets it go: {@code lowest}, zero or less, and {@code highest}, zero or more
 * @param down where it ends towards its lowest value (droop, right, closed); its {@code at} is a distance, zero or more
 * @param up where it ends towards its highest value (bump, left, open)
 */
public record RealRange(String movement, Ways ways, boolean turns, Stated stated, TravelEnd down, TravelEnd up) {
    /**
     * What the directions of a movement are called.
     *
     * @param up towards the highest value
     * @param down towards the lowest value
     */
    public record Ways(String up, String down) {}

    /** The range by the car file. */
    public record Stated(double lowest, double highest) {}

    /** Returns the lowest value reached. */
    public double lowest() {
        return 0.0 - down.at();
    }

    /** Returns the highest value reached. */
    public double highest() {
        return up.at();
    }

    /** Returns whether the mechanism binds on either side before its stated travel. */
    public boolean binds() {
        return down.cause() instanceof TravelEnd.Binds || up.cause() instanceof TravelEnd.Binds;
    }
}
