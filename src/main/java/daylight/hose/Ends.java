package daylight.hose;

import daylight.geometry.Direction;
import daylight.geometry.Spot;

/**
 * Where the flexible part of a line begins and ends, in the car frame, with the frames of its two fittings.
 *
 * <p>Both tangents run along the line from begin to end: at the begin away from the fitting, at the end into it.
 *
 * @param begin where the flexible part begins, mm
 * @param beginTangent which way it leaves
 * @param beginAcross a direction fixed to the begin's fitting, square to the tangent within 1e-6, for the twist
 * @param end where the flexible part ends, mm
 * @param endTangent which way it arrives
 * @param endAcross a direction fixed to the end's fitting, square to the tangent within 1e-6
 */
public record Ends(
        Spot begin,
        Direction beginTangent,
        Direction beginAcross,
        Spot end,
        Direction endTangent,
        Direction endAcross) {
    private static final double SQUARE = 1e-6;

    public Ends {
        if (!(Math.abs(beginTangent.dot(beginAcross)) <= SQUARE) || !(Math.abs(endTangent.dot(endAcross)) <= SQUARE)) {
            throw new IllegalArgumentException("the across directions have to be square to the tangents: cosines "
                    + beginTangent.dot(beginAcross) + " and " + endTangent.dot(endAcross));
        }
    }

    /**
     * Returns ends that are not twisted against one another: the end's across direction is the begin's, turned by the
     * least rotations from the begin's tangent to the chord and on to the end's tangent. Along a line that lies in a
     * plane there is then no twist at all.
     */
    public static Ends of(Spot begin, Direction beginTangent, Spot end, Direction endTangent) {
        Direction across = across(beginTangent);
        Direction chord = begin.distanceTo(end) > 0 ? Direction.from(begin, end) : beginTangent;
        return new Ends(
                begin,
                beginTangent,
                across,
                end,
                endTangent,
                carried(carried(across, beginTangent, chord), chord, endTangent));
    }

    /** Turns a direction by the least rotation from one tangent to another; half a turn leaves it as it is. */
    private static Direction carried(Direction across, Direction from, Direction to) {
        double one = 1 + from.dot(to);
        if (one < 1e-12) {
            return across;
        }
        double lean = across.dot(to) / one;
        return Direction.of(
                across.x() - lean * (from.x() + to.x()),
                across.y() - lean * (from.y() + to.y()),
                across.z() - lean * (from.z() + to.z()));
    }

    /** Returns a direction square to another; the same one on every run. */
    public static Direction across(Direction d) {
        double x = Math.abs(d.x());
        double y = Math.abs(d.y());
        double z = Math.abs(d.z());
        if (x <= y && x <= z) {
            return Direction.of(0, d.z(), 0.0 - d.y());
        }
        return y <= z ? Direction.of(0.0 - d.z(), 0, d.x()) : Direction.of(d.y(), 0.0 - d.x(), 0);
    }

    void into(double[] flat) {
        put(flat, 0, begin.x(), begin.y(), begin.z());
        put(flat, 3, beginTangent.x(), beginTangent.y(), beginTangent.z());
        put(flat, 6, beginAcross.x(), beginAcross.y(), beginAcross.z());
        put(flat, 9, end.x(), end.y(), end.z());
        put(flat, 12, endTangent.x(), endTangent.y(), endTangent.z());
        put(flat, 15, endAcross.x(), endAcross.y(), endAcross.z());
    }

    private static void put(double[] flat, int o, double x, double y, double z) {
        flat[o] = x;
        flat[o + 1] = y;
        flat[o + 2] = z;
    }
}
