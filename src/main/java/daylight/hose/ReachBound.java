package daylight.hose;

import daylight.clearance.Sweeps;
import daylight.geometry.Gauge;
import daylight.geometry.Pose;
import daylight.geometry.Shape;
import daylight.geometry.Solid;
import daylight.geometry.Spot;
import daylight.geometry.Wander;
import daylight.motion.DriverBox;
import daylight.motion.Kinematics;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.PriorityQueue;
import java.util.TreeSet;
import org.joml.Matrix4x3d;

/**
 * How near a line can come to a part whatever shape it takes: a floor over the whole continuous travel.
 *
 * <p>A line does not stretch, so every spot of a piece of length L between A and B has distances to A and B that add up
 * to L at most: it lies in the spheroid with these foci. That spheroid lies within {@code w = sqrt(L^2 - |AB|^2) / 2}
 * of the straight AB (beyond a focus it reaches (L - |AB|) / 2, which is less). Over a box of handle values A, B and the
 * part stray from where they are at its centre by bounds that the linkage proves, and |AB| shrinks no faster; what is
 * left of the distance from the straight to the part is the floor. It says nothing about the shape, so near the line it
 * is wide of the mark; its use is to prove the many parts that a line can never reach.
 *
 * <p>A line that slides through a clip may have its whole run on one side of it, so there L is what the other pieces of
 * the run leave when they lie straight.
 */
final class ReachBound {
    /** Diameter of a straight line where a solid needs one, mm. */
    private static final double THIN_MM = 1e-6;

    private static final int MOST_BOXES = 400;
    /** Boxes for a part that the line can reach at some box's centre, so that no floor will ever be enough. */
    private static final int HOPELESS_BOXES = 40;

    private static final int DEEPEST = 7;
    /** For the room a box is halved until no end strays further than this in it, mm. */
    private static final double FINE_MM = 30;

    private final LineTravel line;
    private final Gauge gauge;
    private final Wander a = new Wander();
    private final Wander b = new Wander();
    private final Wander p = new Wander();
    private final Matrix4x3d rest = new Matrix4x3d();
    private final Sweeps.Room room;
    private int boxes;
    private boolean hopeless;

    private record Node(DriverBox box, double floorMm) implements Comparable<Node> {
        @Override
        public int compareTo(Node other) {
            return Double.compare(floorMm, other.floorMm);
        }
    }

    ReachBound(LineTravel line, Gauge gauge) {
        this.line = line;
        this.gauge = gauge;
        double[] reached = {Double.POSITIVE_INFINITY, Double.POSITIVE_INFINITY, Double.POSITIVE_INFINITY, 0, 0, 0};
        Arrays.fill(reached, 3, 6, Double.NEGATIVE_INFINITY);
        TreeSet<Integer> bodies = new TreeSet<>();
        line.pieces.forEach(piece -> Collections.addAll(bodies, piece.bodyA(), piece.bodyB()));
        addRoom(line.workspace.wholeOf(bodies), reached);
        room = new Sweeps.Room(reached[0], reached[1], reached[2], reached[3], reached[4], reached[5]);
    }

    /** Grows the room by all that the line can reach over a box. */
    private void addRoom(DriverBox box, double[] reached) {
        boxes++;
        boolean proved = true;
        double most = 0;
        double[] here = new double[6];
        Arrays.fill(here, 0, 3, Double.POSITIVE_INFINITY);
        Arrays.fill(here, 3, 6, Double.NEGATIVE_INFINITY);
        double[] longest = lengths(box);
        for (int i = 0; i < line.pieces.size() && proved; i++) {
            LineTravel.Piece piece = line.pieces.get(i);
            proved = line.wander(piece, box, a, b) == Kinematics.Reach.PROVED;
            Spot begin = at(a, piece.ends().begin());
            Spot end = at(b, piece.ends().end());
            double beginStray = stray(a, piece.ends().begin());
            double endStray = stray(b, piece.ends().end());
            most = Math.max(most, Math.max(beginStray, endStray));
            double by =
                    wideMm(begin, end, beginStray + endStray, longest[i]) + thickMm(i) + Math.max(beginStray, endStray);
            grow(here, begin, by);
            grow(here, end, by);
        }
        int split = proved && most <= FINE_MM ? -1 : leastSplit(box);
        if (split >= 0) {
            addRoom(box.halved(split, 0), reached);
            addRoom(box.halved(split, 1), reached);
            return;
        }
        for (int k = 0; k < 6; k++) {
            boolean low = k < 3;
            double value = proved ? here[k] : low ? Double.NEGATIVE_INFINITY : Double.POSITIVE_INFINITY;
            reached[k] = low ? Math.min(reached[k], value) : Math.max(reached[k], value);
        }
    }

    private static void grow(double[] box, Spot spot, double by) {
        double[] at = {spot.x(), spot.y(), spot.z()};
        for (int k = 0; k < 3; k++) {
            box[k] = Math.min(box[k], at[k] - by);
            box[3 + k] = Math.max(box[3 + k], at[k] + by);
        }
    }

    /** Half of a piece's thickness, and what a fitting's stiff end stands out beyond where the piece begins or ends. */
    private double thickMm(int piece) {
        double stiff = piece == 0 ? line.hose.from().straightMm() : 0;
        if (piece == line.pieces.size() - 1) {
            stiff = Math.max(stiff, line.hose.to().straightMm());
        }
        return line.hose.outsideDiameterMm() / 2 + stiff;
    }

    /** How far from the straight between its ends a piece of a length can be when they may come nearer by this. */
    private static double wideMm(Spot begin, Spot end, double nearerMm, double length) {
        double chord = Math.max(0, begin.distanceTo(end) - nearerMm);
        return Math.sqrt(Math.max(0, length * length - chord * chord)) / 2;
    }

    private static int leastSplit(DriverBox box) {
        int split = -1;
        for (int i = 0; i < box.size(); i++) {
            boolean may = box.splits(i) && box.level(i) < DEEPEST;
            if (may && (split < 0 || box.level(i) < box.level(split))) {
                split = i;
            }
        }
        return split;
    }

    /** Returns the room that the line can reach, whatever shape it takes; proved. */
    Sweeps.Room room() {
        return room;
    }

    int boxes() {
        return boxes;
    }

    /**
     * Returns a floor of the gap between the line and a part, mm; negative infinity when nothing could be proved.
     *
     * @param partRoom the room that the part sweeps
     * @param enough a floor that is enough: any bound from there on may come back
     */
    double floorMm(Solid part, Sweeps.Room partRoom, int body, double enough) {
        double apart = room.apartMm(partRoom);
        if (apart >= enough) {
            return apart;
        }
        TreeSet<Integer> bodies = new TreeSet<>();
        line.pieces.forEach(piece -> Collections.addAll(bodies, piece.bodyA(), piece.bodyB()));
        bodies.add(body);
        PriorityQueue<Node> open = new PriorityQueue<>();
        hopeless = false;
        open.add(node(line.workspace.wholeOf(bodies), part, body, enough));
        double done = Double.POSITIVE_INFINITY;
        int start = boxes;
        while (!open.isEmpty()
                && open.peek().floorMm < enough
                && boxes - start < (hopeless ? HOPELESS_BOXES : MOST_BOXES)) {
            Node node = open.poll();
            int split = leastSplit(node.box);
            if (split < 0) {
                done = Math.min(done, node.floorMm);
                break;
            }
            open.add(node(node.box.halved(split, 0), part, body, enough));
            open.add(node(node.box.halved(split, 1), part, body, enough));
        }
        return open.isEmpty() ? done : Math.min(done, open.peek().floorMm);
    }

    /**
     * Returns a floor of the gap between two lines, mm, both as thick as they are; negative infinity when nothing could
     * be proved.
     *
     * @param other of a line of the same kinematics
     * @param enough a floor that is enough: any bound from there on may come back
     */
    double floorMm(ReachBound other, double enough) {
        double apart = room.apartMm(other.room);
        if (apart >= enough) {
            return apart;
        }
        TreeSet<Integer> bodies = new TreeSet<>();
        line.pieces.forEach(piece -> Collections.addAll(bodies, piece.bodyA(), piece.bodyB()));
        other.line.pieces.forEach(piece -> Collections.addAll(bodies, piece.bodyA(), piece.bodyB()));
        PriorityQueue<Node> open = new PriorityQueue<>();
        hopeless = false;
        open.add(node(line.workspace.wholeOf(bodies), other, enough));
        int start = boxes;
        while (open.peek().floorMm < enough && boxes - start < (hopeless ? HOPELESS_BOXES : MOST_BOXES)) {
            int split = leastSplit(open.peek().box);
            if (split < 0) {
                break;
            }
            DriverBox box = open.poll().box;
            open.add(node(box.halved(split, 0), other, enough));
            open.add(node(box.halved(split, 1), other, enough));
        }
        return open.peek().floorMm;
    }

    private Node node(DriverBox box, ReachBound other, double enough) {
        boxes++;
        List<Stretch> mine = stretches(box);
        List<Stretch> theirs = other.stretches(box);
        if (mine.isEmpty() || theirs.isEmpty()) {
            return new Node(box, Double.NEGATIVE_INFINITY);
        }
        double least = Double.POSITIVE_INFINITY;
        for (Stretch one : mine) {
            for (Stretch two : theirs) {
                double lost = one.lostMm + two.lostMm;
                double straight = gauge.measure(one.solid, rest, two.solid, rest, enough + lost);
                least = Math.min(least, straight - lost);
                hopeless |= straight - one.wideMm - two.wideMm < enough;
            }
        }
        return new Node(box, least);
    }

    /**
     * The straight between a piece's ends at the centre of a box.
     *
     * @param wideMm how far from it the piece's surface can be there
     * @param lostMm the same anywhere in the box
     */
    private record Stretch(Solid solid, double wideMm, double lostMm) {}

    /** Returns one for each piece; none when the motion is not proved. */
    private List<Stretch> stretches(DriverBox box) {
        List<Stretch> stretches = new ArrayList<>();
        double[] reaches = lengths(box);
        for (int i = 0; i < line.pieces.size(); i++) {
            LineTravel.Piece piece = line.pieces.get(i);
            double thick = thickMm(i);
            if (line.wander(piece, box, a, b) != Kinematics.Reach.PROVED) {
                return List.of();
            }
            Spot begin = at(a, piece.ends().begin());
            Spot end = at(b, piece.ends().end());
            double beginStray = stray(a, piece.ends().begin());
            double endStray = stray(b, piece.ends().end());
            stretches.add(new Stretch(
                    segment(begin, end),
                    thick + wideMm(begin, end, 0, reaches[i]),
                    thick + wideMm(begin, end, beginStray + endStray, reaches[i]) + Math.max(beginStray, endStray)));
        }
        return stretches;
    }

    private Node node(DriverBox box, Solid part, int body, double enough) {
        boxes++;
        double[] still = new double[line.workspace.plays(body).size()];
        if (line.kinematics.fill(body, box, still, p) != Kinematics.Reach.PROVED) {
            return new Node(box, Double.NEGATIVE_INFINITY);
        }
        Spot middle = part.centre();
        double stray = p.stray(middle.x(), middle.y(), middle.z(), part.radiusMm());
        double least = Double.POSITIVE_INFINITY;
        double[] reaches = lengths(box);
        for (int i = 0; i < line.pieces.size(); i++) {
            LineTravel.Piece piece = line.pieces.get(i);
            // Where the car cannot stand at the centre, a part of the box may be reached all the same.
            if (line.wander(piece, box, a, b) != Kinematics.Reach.PROVED) {
                return new Node(box, Double.NEGATIVE_INFINITY);
            }
            Spot begin = at(a, piece.ends().begin());
            Spot end = at(b, piece.ends().end());
            double beginStray = stray(a, piece.ends().begin());
            double endStray = stray(b, piece.ends().end());
            double wide = wideMm(begin, end, beginStray + endStray, reaches[i]);
            double lost = wide + thickMm(i) + Math.max(beginStray, endStray) + stray;
            double straight = gauge.measure(segment(begin, end), rest, part, p.centre(), enough + lost);
            least = Math.min(least, straight - lost);
            double there = wideMm(begin, end, 0, reaches[i]);
            hopeless |= straight - there - thickMm(i) < enough;
        }
        return new Node(box, least);
    }

    /** The most length that each piece can have over a box. */
    private double[] lengths(DriverBox box) {
        double[] lengths = new double[line.pieces.size()];
        int first = 0;
        for (int i = 0; i < lengths.length; i++) {
            if (line.pieces.get(i).slides()) {
                continue;
            }
            double run = 0;
            double chords = 0;
            double[] chord = new double[i - first + 1];
            for (int k = first; k <= i; k++) {
                LineTravel.Piece piece = line.pieces.get(k);
                run += piece.lengthMm();
                if (i > first && line.wander(piece, box, a, b) == Kinematics.Reach.PROVED) {
                    chord[k - first] = Math.max(
                            0,
                            at(a, piece.ends().begin())
                                            .distanceTo(at(b, piece.ends().end()))
                                    - stray(a, piece.ends().begin())
                                    - stray(b, piece.ends().end()));
                    chords += chord[k - first];
                }
            }
            for (int k = first; k <= i; k++) {
                lengths[k] = run - (chords - chord[k - first]);
            }
            first = i + 1;
        }
        return lengths;
    }

    private static double stray(Wander wander, Spot spot) {
        return wander.stray(spot.x(), spot.y(), spot.z(), 0);
    }

    private static Spot at(Wander wander, Spot spot) {
        return Pose.of(wander.centre()).apply(spot);
    }

    /** The straight between two spots, as thin as a solid may be. */
    private static Solid segment(Spot begin, Spot end) {
        if (begin.distanceTo(end) < THIN_MM) {
            return Solid.of(new Shape.Ball(begin, THIN_MM));
        }
        return Solid.of(new Shape.Tube(new ArrayList<>(List.of(begin, end)), THIN_MM, 0));
    }
}
