package daylight.motion;

import java.util.List;

/**
 * Curves over one movement of one thing: a wheel over its travel, an axle over steering or roll.
 *
 * @param subject what they are of, for example {@code front left wheel}
 * @param movement what moves and what stays, for example {@code over its travel, steering straight}
 * @param along the movement itself, ascending; every value is present
 * @param curves at least one; each has as many values as {@code along}
 */
public record TravelTable(String subject, String movement, Curve along, List<Curve> curves) {
    public TravelTable {
        curves = List.copyOf(curves);
        for (Curve curve : curves) {
            if (curve.values().size() != along.values().size()) {
                throw new IllegalArgumentException(
                        subject + ": " + curve.name() + " has " + curve.values().size() + " values over "
                                + along.values().size() + " positions");
            }
        }
    }
}
