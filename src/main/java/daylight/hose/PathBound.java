package daylight.hose;

/**
 * How much longer the shortest path between two ends can become while the ends wander a little.
 *
 * <p>Let the path at the centre be arc, straight, arc: w the straight's direction, p = B tan(a / 2) and
 * q = B tan(b / 2) the arcs' tangent lengths, and V = chord - p d0 - q d1, so that w = V / |V|. For wandered ends the
 * same map from w to the direction of V sends a cap around the centre's w into itself and contracts there, when
 *
 * <pre>
 *   k = (B / 2) (sec^2(a' / 2) + sec^2(b' / 2)) / |V|' &lt; 1,     cap >= e / (1 - k),
 * </pre>
 *
 * <p>with the primes the worst over the cap and the wander, and e the turn of V at the centre's w. Then there is
 * exactly one such path for every wandered pair of ends, it changes smoothly with them, and along the way its length
 * grows at the rate {@code w . (chord's change) + (moments of the ends' turns)}; the moment of a path's tension about
 * its end is the distance of the straight from that end, B (1 - cos a). So
 *
 * <pre>
 *   length &lt;= length at the centre + w . dR + 2 sin(cap / 2) |dR| + B (1 - cos a') turn0 + B (1 - cos b') turn1.
 * </pre>
 *
 * <p>A path of that kind is a path that can be laid, so this bounds the shortest from above: slack computed with it is
 * never overstated.
 */
final class PathBound {
    /** Arcs beyond this at the worst are not followed: their tangent lengths run away near half a turn. */
    private static final double LARGEST_ARC_RAD = Math.toRadians(165);

    private static final int ROUNDS = 12;

    private PathBound() {}

    /**
     * Returns the most by which the path can lengthen, mm; infinite when it cannot be proved to stay of its kind.
     *
     * @param path the path at the centre, plain
     * @param radiusMm B
     * @param apartMm most by which the way from begin to end can change, in any direction
     * @param alongMm most by which it can change along the straight's direction
     * @param beginTurnRad most by which the begin's direction can turn; endTurnRad likewise
     */
    static double growthMm(
            ShortestPath path,
            double radiusMm,
            double apartMm,
            double alongMm,
            double beginTurnRad,
            double endTurnRad) {
        if (!path.plain()) {
            return Double.POSITIVE_INFINITY;
        }
        double v = path.straightMm() + radiusMm * (Math.tan(path.beginTurn() / 2) + Math.tan(path.endTurn() / 2));
        double cap = 0;
        for (int round = 0; round < ROUNDS; round++) {
            double a = path.beginTurn() + cap + beginTurnRad;
            double b = path.endTurn() + cap + endTurnRad;
            if (!(Math.max(a, b) < LARGEST_ARC_RAD)) {
                return Double.POSITIVE_INFINITY;
            }
            double p = radiusMm * Math.tan(a / 2);
            double q = radiusMm * Math.tan(b / 2);
            double slopeA = radiusMm / (2 * Math.cos(a / 2) * Math.cos(a / 2));
            double slopeB = radiusMm / (2 * Math.cos(b / 2) * Math.cos(b / 2));
            double fixed = apartMm + (slopeA + p) * beginTurnRad + (slopeB + q) * endTurnRad;
            double least = v - fixed - (slopeA + slopeB) * cap;
            if (!(least - p - q > 0)) {
                return Double.POSITIVE_INFINITY;
            }
            double contraction = (slopeA + slopeB) / least;
            if (!(contraction < 1) || !(fixed < v)) {
                return Double.POSITIVE_INFINITY;
            }
            double needed = Math.asin(fixed / v) / (1 - contraction);
            if (needed <= cap) {
                return alongMm
                        + 2 * Math.sin(Math.min(Math.PI, cap) / 2) * apartMm
                        + radiusMm * (1 - Math.cos(a)) * beginTurnRad
                        + radiusMm * (1 - Math.cos(b)) * endTurnRad;
            }
            cap = 1.1 * needed + 1e-12;
        }
        return Double.POSITIVE_INFINITY;
    }
}
