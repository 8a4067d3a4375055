package daylight.hose;

import daylight.car.Car;
import daylight.geometry.Direction;
import daylight.geometry.Pose;
import daylight.geometry.Spot;
import daylight.geometry.Wander;
import daylight.motion.DriverBox;
import daylight.motion.Kinematics;
import daylight.motion.Workspace;
import java.util.ArrayList;
import java.util.List;
import java.util.TreeSet;

/**
 * The ends of one flexible line's pieces wherever the car stands. A line without clips is one piece; each clip ends a
 * piece and begins the next.
 *
 * <p>The line is taken to be fitted without twist at ride height: there the end frames are set so that the twist is
 * zero.
 */
final class LineTravel {
    final Car.Hose hose;
    final Workspace workspace;
    final Kinematics kinematics;
    final List<Piece> pieces;
    /** Indices of the handles that move any piece's end against its other end, ascending. */
    final int[] handles;
    /** Least radius of the centre line, mm. */
    final double radiusMm;

    /** One piece: its two ends on their bodies at ride height, and its length. */
    record Piece(int bodyA, int bodyB, Ends ends, double lengthMm, double twistStiffness) {}

    LineTravel(Car.Hose hose, Kinematics kinematics) {
        this.hose = hose;
        this.kinematics = kinematics;
        workspace = kinematics.workspace();
        radiusMm = hose.leastCentreRadiusMm();
        List<Piece> made = new ArrayList<>();
        int body = workspace.bodyIndex(hose.from().body());
        Spot at = hose.from().mouth();
        Direction tangent = hose.from().leaves();
        double before = 0;
        for (int i = 0; i <= hose.clips().size(); i++) {
            boolean last = i == hose.clips().size();
            int nextBody = workspace.bodyIndex(
                    last ? hose.to().body() : hose.clips().get(i).body());
            Spot next = last ? hose.to().mouth() : hose.clips().get(i).at();
            Direction arrives =
                    last ? hose.to().leaves().reversed() : hose.clips().get(i).along();
            double after = last ? hose.freeLengthMm() : hose.clips().get(i).afterMm();
            boolean swivels =
                    (i == 0 && hose.from().swivels()) || (last && hose.to().swivels());
            made.add(new Piece(
                    body,
                    nextBody,
                    untwisted(Ends.of(at, tangent, next, arrives), after - before),
                    after - before,
                    swivels ? 0 : Rod.SOLID_RUBBER));
            body = nextBody;
            at = next;
            tangent = arrives;
            before = after;
        }
        pieces = List.copyOf(made);
        TreeSet<Integer> moving = new TreeSet<>();
        for (Piece piece : pieces) {
            if (piece.bodyA != piece.bodyB) {
                moving.addAll(workspace.handlesOf(piece.bodyA, piece.bodyB));
            }
        }
        handles = moving.stream().mapToInt(Integer::intValue).toArray();
    }

    /** Turns the end's frame so that the line has no twist as it stands. */
    private static Ends untwisted(Ends ends, double lengthMm) {
        if (!(new Rod(0).settle(ends, lengthMm) instanceof Outcome.Reaches reaches)) {
            return ends;
        }
        double angle = -reaches.shape().twistRad();
        Direction t = ends.endTangent();
        Direction a = ends.endAcross();
        double c = Math.cos(angle);
        double s = Math.sin(angle);
        Direction across = Direction.of(
                c * a.x() + s * (t.y() * a.z() - t.z() * a.y()),
                c * a.y() + s * (t.z() * a.x() - t.x() * a.z()),
                c * a.z() + s * (t.x() * a.y() - t.y() * a.x()));
        return new Ends(ends.begin(), ends.beginTangent(), ends.beginAcross(), ends.end(), t, across);
    }

    /**
     * Writes the ends of a piece where the car last stood.
     *
     * @param into 18 numbers as for {@link Rod}
     */
    void endsInto(int piece, double[] into) {
        Piece p = pieces.get(piece);
        Pose a = kinematics.pose(p.bodyA);
        Pose b = kinematics.pose(p.bodyB);
        put(into, 0, a.apply(p.ends.begin()));
        put(into, 3, a.apply(p.ends.beginTangent()));
        put(into, 6, a.apply(p.ends.beginAcross()));
        put(into, 9, b.apply(p.ends.end()));
        put(into, 12, b.apply(p.ends.endTangent()));
        put(into, 15, b.apply(p.ends.endAcross()));
    }

    /** Fills both wanders of a piece over a box; the weaker of what is known of the two. */
    Kinematics.Reach wander(Piece piece, DriverBox box, Wander a, Wander b) {
        Kinematics.Reach first = kinematics.fill(
                piece.bodyA, box, new double[workspace.plays(piece.bodyA).size()], a);
        Kinematics.Reach second = kinematics.fill(
                piece.bodyB, box, new double[workspace.plays(piece.bodyB).size()], b);
        return first.compareTo(second) >= 0 ? first : second;
    }

    private static void put(double[] into, int o, Spot spot) {
        into[o] = spot.x();
        into[o + 1] = spot.y();
        into[o + 2] = spot.z();
    }

    private static void put(double[] into, int o, Direction d) {
        into[o] = d.x();
        into[o + 1] = d.y();
        into[o + 2] = d.z();
    }
}
