package daylight.geometry;

/**
 * A location in the car frame at ride height (ISO 8855: x forward, y left, z up), mm.
 *
 * <p>A spot moves with a translation; a {@link Direction} does not.
 *
 * @param x forward, mm; finite
 * @param y left, mm; finite
 * @param z up, mm; finite
 */
public record Spot(double x, double y, double z) {
    /** The origin of the frame. */
    public static final Spot ORIGIN = new Spot(0, 0, 0);

    public Spot {
        if (!Double.isFinite(x) || !Double.isFinite(y) || !Double.isFinite(z)) {
            throw new IllegalArgumentException("a spot needs three finite numbers: " + x + ", " + y + ", " + z);
        }
    }

    /** Returns the spot moved by the three amounts, mm. */
    public Spot plus(double dx, double dy, double dz) {
        return new Spot(x + dx, y + dy, z + dz);
    }

    /** Returns the spot reached after going so far (mm, may be negative) along a direction. */
    public Spot along(Direction direction, double mm) {
        return new Spot(x + mm * direction.x(), y + mm * direction.y(), z + mm * direction.z());
    }

    /** Returns the straight distance to another spot, mm. */
    public double distanceTo(Spot other) {
        double dx = other.x - x;
        double dy = other.y - y;
        double dz = other.z - z;
        return Math.sqrt(dx * dx + dy * dy + dz * dz);
    }

    /** Returns the same spot on the other side of the body centre plane (y changes sign). */
    public Spot mirrored() {
        return new Spot(x, 0.0 - y, z);
    }
}
