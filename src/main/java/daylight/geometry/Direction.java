package daylight.geometry;

/**
 * A unit direction in the car frame (ISO 8855: x forward, y left, z up). It turns with a body and is not moved
 * by a translation.
 *
 * @param x forward part
 * @param y left part
 * @param z upward part
 */
public record Direction(double x, double y, double z) {
    /** Straight ahead. */
    public static final Direction FORWARD = new Direction(1, 0, 0);
    /** To the left. */
    public static final Direction LEFT = new Direction(0, 1, 0);
    /** Up. */
    public static final Direction UP = new Direction(0, 0, 1);

    private static final double UNIT_TOLERANCE = 1e-9;

    public Direction {
        double length = Math.sqrt(x * x + y * y + z * z);
        if (!(Math.abs(length - 1) <= UNIT_TOLERANCE)) {
            throw new IllegalArgumentException("a direction has length 1, not " + length);
        }
    }

    /**
     * Returns the unit direction of three parts of any common scale.
     *
     * @throws IllegalArgumentException if they are all zero or not finite
     */
    public static Direction of(double x, double y, double z) {
        double largest = Math.max(Math.abs(x), Math.max(Math.abs(y), Math.abs(z)));
        if (!(largest > 0) || !Double.isFinite(largest)) {
            throw new IllegalArgumentException("no direction in " + x + ", " + y + ", " + z);
        }
        double a = x / largest;
        double b = y / largest;
        double c = z / largest;
        double length = Math.sqrt(a * a + b * b + c * c);
        return new Direction(a / length, b / length, c / length);
    }

    /**
     * Returns the direction from one spot to another.
     *
     * @throws IllegalArgumentException if the two are the same
     */
    public static Direction from(Spot start, Spot end) {
        return of(end.x() - start.x(), end.y() - start.y(), end.z() - start.z());
    }

    /** Returns the opposite direction. */
    public Direction reversed() {
        return new Direction(0.0 - x, 0.0 - y, 0.0 - z);
    }

    /** Returns the direction on the other side of the body centre plane (y changes sign). */
    public Direction mirrored() {
        return new Direction(x, 0.0 - y, z);
    }

    /**
     * Returns the direction turned about an axis by the right-hand rule.
     *
     * @see "Rodrigues' rotation formula"
     */
    public Direction turned(Direction axis, double radians) {
        double c = Math.cos(radians);
        double s = Math.sin(radians);
        double along = dot(axis) * (1 - c);
        return of(
                c * x + s * (axis.y * z - axis.z * y) + along * axis.x,
                c * y + s * (axis.z * x - axis.x * z) + along * axis.y,
                c * z + s * (axis.x * y - axis.y * x) + along * axis.z);
    }

    /** Returns the cosine of the angle between the two. */
    public double dot(Direction other) {
        return x * other.x + y * other.y + z * other.z;
    }
}
