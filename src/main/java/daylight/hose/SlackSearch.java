package daylight.hose;

import daylight.clearance.Position;
import daylight.geometry.Spot;
import daylight.geometry.Wander;
import daylight.motion.DriverBox;
import daylight.motion.Handle;
import daylight.motion.Kinematics;
import daylight.motion.Setting;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.PriorityQueue;

/**
 * The least slack of a line's pieces over the whole continuous travel: found at a position, and a floor that no
 * position falls below, by branch and bound on {@link PathBound}.
 */
final class SlackSearch {
    /** The floor comes this near to the slack found, mm. */
    private static final double KNOWN_TO_MM = 0.5;
    /** Boxes after which what is left is reported as it is. */
    private static final int MOST_BOXES = 3000;
    /** Halvings of one range after which a box that cannot be bounded is reported instead of halved. */
    private static final int UNPROVED_DEPTH = 8;

    private final LineTravel line;
    private final ShortestPath path = new ShortestPath();
    private final Wander wanderA = new Wander();
    private final Wander wanderB = new Wander();
    private final double[] ends = new double[18];
    private final double[] values;

    private double foundMm;
    private Position where;
    private String unproved = "";
    private int boxes;

    /** A box of one piece, its floor, and the handle to halve it along (-1: it stays). */
    private record Node(DriverBox box, double floorMm, int split) implements Comparable<Node> {
        @Override
        public int compareTo(Node other) {
            return Double.compare(floorMm, other.floorMm);
        }
    }

    SlackSearch(LineTravel line) {
        this.line = line;
        values = new double[line.workspace.handles().size()];
        where = new Position(List.of(), List.of());
    }

    /** Returns the slack where the car stands, mm: the least over the pieces. */
    double here() {
        double least = Double.POSITIVE_INFINITY;
        for (int i = 0; i < line.pieces.size(); i++) {
            line.endsInto(i, ends);
            path.between(ends, line.radiusMm);
            least = Math.min(least, line.pieces.get(i).lengthMm() - path.laidMm());
        }
        return least;
    }

    HoseReport.Slack search() {
        Arrays.fill(values, 0);
        line.kinematics.stand(values);
        double ride = here();
        foundMm = Double.POSITIVE_INFINITY;
        unproved = "";
        boxes = 0;
        double floor = Double.POSITIVE_INFINITY;
        for (LineTravel.Piece piece : line.pieces) {
            floor = Math.min(floor, piece(piece));
        }
        if (foundMm == Double.POSITIVE_INFINITY) {
            foundMm = ride;
        }
        return new HoseReport.Slack(ride, foundMm, where, Math.min(floor, foundMm), unproved, boxes);
    }

    private double piece(LineTravel.Piece piece) {
        PriorityQueue<Node> open = new PriorityQueue<>();
        int limit = boxes + MOST_BOXES;
        open.add(bound(piece, line.workspace.whole(piece.bodyA(), piece.bodyB())));
        double done = Double.POSITIVE_INFINITY;
        while (!open.isEmpty()) {
            Node node = open.peek();
            if (node.floorMm >= foundMm - KNOWN_TO_MM || boxes >= limit) {
                break;
            }
            open.poll();
            if (node.split < 0) {
                done = Math.min(done, node.floorMm);
                continue;
            }
            open.add(bound(piece, node.box.halved(node.split, 0)));
            open.add(bound(piece, node.box.halved(node.split, 1)));
        }
        if (!open.isEmpty()) {
            done = Math.min(done, open.peek().floorMm);
        }
        if (boxes >= limit && unproved.isEmpty() && done < foundMm - KNOWN_TO_MM) {
            unproved = "the floor is only known to " + Math.round((foundMm - done) * 10) / 10.0 + " mm";
        }
        return done;
    }

    private Node bound(LineTravel.Piece piece, DriverBox box) {
        boxes++;
        tryCorners(piece, box);
        Kinematics.Reach reach = line.wander(piece, box, wanderA, wanderB);
        box.centreInto(values);
        boolean stands = reach != Kinematics.Reach.NOT_REACHED
                && line.kinematics.stand(values).isEmpty();
        double floor = Double.NEGATIVE_INFINITY;
        int split = widest(piece, box);
        if (stands) {
            double slack = measure(piece);
            found(box, slack);
            if (reach == Kinematics.Reach.PROVED) {
                double[] w = path.straightDirection();
                Spot a = piece.ends().begin();
                Spot b = piece.ends().end();
                double growth = PathBound.growthMm(
                        path,
                        line.radiusMm,
                        wanderA.apartReach(a, wanderB, b, 0, 0, 0),
                        wanderA.apartReach(a, wanderB, b, w[0], w[1], w[2]),
                        wanderA.turnReach(),
                        wanderB.turnReach());
                if (growth < Double.POSITIVE_INFINITY) {
                    return new Node(box, slack - growth, split);
                }
            }
        }
        boolean deep = split < 0 || box.level(split) >= UNPROVED_DEPTH;
        if (deep) {
            if (!stands) {
                // Nowhere the car can stand: no floor is needed, but it is said.
                unproved = line.kinematics.why().isEmpty() ? "the car cannot stand everywhere" : line.kinematics.why();
                return new Node(box, Double.POSITIVE_INFINITY, -1);
            }
            unproved = reach == Kinematics.Reach.PROVED
                    ? "the shortest path is not arc, straight, arc everywhere"
                    : line.kinematics.why();
            // The best that is known there: what was found, marked as not proved.
            return new Node(box, measure(piece), -1);
        }
        return new Node(box, floor, split);
    }

    private double measure(LineTravel.Piece piece) {
        line.endsInto(line.pieces.indexOf(piece), ends);
        path.between(ends, line.radiusMm);
        return piece.lengthMm() - path.laidMm();
    }

    private void tryCorners(LineTravel.Piece piece, DriverBox box) {
        for (int corner = 0; corner < 1 << box.size(); corner++) {
            box.centreInto(values);
            for (int i = 0; i < box.size(); i++) {
                values[box.handle(i)] += (corner >> i & 1) == 0 ? -box.half(i) : box.half(i);
            }
            if (line.kinematics.stand(values).isEmpty()) {
                found(box, measure(piece));
            }
        }
    }

    private void found(DriverBox box, double slack) {
        if (slack < foundMm) {
            foundMm = slack;
            List<Setting> settings = new ArrayList<>();
            for (int i = 0; i < box.size(); i++) {
                Handle handle = line.workspace.handles().get(box.handle(i));
                settings.add(new Setting(handle.name(), values[box.handle(i)], handle.turns()));
            }
            where = new Position(settings, List.of());
        }
    }

    private int widest(LineTravel.Piece piece, DriverBox box) {
        int best = -1;
        double most = -1;
        for (int i = 0; i < box.size(); i++) {
            Handle handle = line.workspace.handles().get(box.handle(i));
            double share = box.half(i) / (handle.highest() - handle.lowest());
            double spread = box.size() == wanderA.parameters()
                    ? wanderA.apartSpread(
                                    i,
                                    piece.ends().begin(),
                                    wanderB,
                                    piece.ends().end())
                            + 1e-3 * share
                    : share;
            if (box.splits(i) && spread > most) {
                most = spread;
                best = i;
            }
        }
        return best;
    }
}
