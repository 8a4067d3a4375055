package daylight.geometry;

/**
 * A place on a flat figure (a plate's outline, a turned part's profile), mm in the figure's own two directions.
 *
 * @param x first coordinate, mm; finite
 * @param y second coordinate, mm; finite
 */
public record Flat(double x, double y) {
    public Flat {
        if (!Double.isFinite(x) || !Double.isFinite(y)) {
            throw new IllegalArgumentException("a flat place needs two finite numbers: " + x + ", " + y);
        }
    }
}
