package daylight.hose;

/**
 * The shortest plane path of bounded curvature between two places with headings, in closed form: a shortest hose
 * laid flat.
 *
 * <p>Plane coordinates, mm; headings in radians anticlockwise from x. The six words of Dubins (L: arc to the left, R:
 * arc to the right, S: straight) are all computed, the shortest is given.
 *
 * @param lengthMm its length, mm
 * @param word the arcs in order, for example {@code LSR}
 * @see "Dubins, American Journal of Mathematics 79 (1957) 497; formulas of Shkel and Lumelsky, Robotics and Autonomous
 *     Systems 34 (2001) 179"
 */
public record PlanarPath(double lengthMm, String word) {
    /** Arcs within this of a whole turn are rounding of no turn at all, rad. */
    private static final double WHOLE_TURN = 1e-9;
    /** A straight whose square, in radii, is below this is rounding. */
    private static final double NO_STRAIGHT = 1e-18;

    /**
     * Returns the shortest path.
     *
     * @param radiusMm least radius of the centre line, mm; more than zero
     */
    public static PlanarPath shortest(
            double fromX,
            double fromY,
            double fromHeadingRad,
            double toX,
            double toY,
            double toHeadingRad,
            double radiusMm) {
        if (!(radiusMm > 0)) {
            throw new IllegalArgumentException("a bend radius is more than zero: " + radiusMm);
        }
        double dx = (toX - fromX) / radiusMm;
        double dy = (toY - fromY) / radiusMm;
        double d = Math.hypot(dx, dy);
        double theta = Math.atan2(dy, dx);
        double a = positive(fromHeadingRad - theta);
        double b = positive(toHeadingRad - theta);
        double sa = Math.sin(a);
        double sb = Math.sin(b);
        double ca = Math.cos(a);
        double cb = Math.cos(b);
        double cab = Math.cos(a - b);
        String word = "";
        double least = Double.POSITIVE_INFINITY;

        double square = Math.max(0, 2 + d * d - 2 * cab + 2 * d * (sa - sb));
        double turn = Math.atan2(cb - ca, d + sa - sb);
        // Without a straight the two arcs are one, and where they meet has no meaning.
        double length =
                square < NO_STRAIGHT ? positive(b - a) : positive(turn - a) + Math.sqrt(square) + positive(b - turn);
        if (length < least) {
            least = length;
            word = "LSL";
        }
        square = Math.max(0, 2 + d * d - 2 * cab + 2 * d * (sb - sa));
        turn = Math.atan2(ca - cb, d - sa + sb);
        length = square < NO_STRAIGHT ? positive(a - b) : positive(a - turn) + Math.sqrt(square) + positive(turn - b);
        if (length < least) {
            least = length;
            word = "RSR";
        }
        square = d * d - 2 + 2 * cab + 2 * d * (sa + sb);
        if (square >= 0) {
            double straight = Math.sqrt(square);
            turn = Math.atan2(-ca - cb, d + sa + sb) - Math.atan2(-2, straight);
            length = positive(turn - a) + straight + positive(turn - b);
            if (length < least) {
                least = length;
                word = "LSR";
            }
        }
        square = d * d - 2 + 2 * cab - 2 * d * (sa + sb);
        if (square >= 0) {
            double straight = Math.sqrt(square);
            turn = Math.atan2(ca + cb, d - sa - sb) - Math.atan2(2, straight);
            length = positive(a - turn) + straight + positive(b - turn);
            if (length < least) {
                least = length;
                word = "RSL";
            }
        }
        double cos = (6 - d * d + 2 * cab + 2 * d * (sa - sb)) / 8;
        if (Math.abs(cos) <= 1) {
            double middle = positive(2 * Math.PI - Math.acos(cos));
            double first = positive(a - Math.atan2(ca - cb, d - sa + sb) + middle / 2);
            length = first + middle + positive(a - b - first + middle);
            if (length < least) {
                least = length;
                word = "RLR";
            }
        }
        cos = (6 - d * d + 2 * cab + 2 * d * (sb - sa)) / 8;
        if (Math.abs(cos) <= 1) {
            double middle = positive(2 * Math.PI - Math.acos(cos));
            double first = positive(-a + Math.atan2(-ca + cb, d + sa - sb) + middle / 2);
            length = first + middle + positive(b - a - first + middle);
            if (length < least) {
                least = length;
                word = "LRL";
            }
        }
        return new PlanarPath(least * radiusMm, word);
    }

    private static double positive(double angle) {
        double turn = 2 * Math.PI;
        double rest = angle - turn * Math.floor(angle / turn);
        return rest > turn - WHOLE_TURN ? 0 : rest;
    }
}
