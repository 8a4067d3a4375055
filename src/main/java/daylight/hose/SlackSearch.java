package daylight.hose;

import daylight.clearance.Position;
import daylight.geometry.Spot;
import daylight.geometry.Wander;
import daylight.motion.DriverBox;
import daylight.motion.Handle;
import daylight.motion.Kinematics;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.PriorityQueue;
import java.util.TreeSet;
import java.util.stream.IntStream;

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

    /** Boxes over which the shortest path may have to loop, after which no floor is looked for: it will not get better. */
    private static final int MOST_LOOPING = 128;

    private static final String LOOPS = "the shortest path is not arc, straight, arc everywhere";

    /** Corners of the plays are tried one by one up to so many plays. */
    private static final int MOST_PLAYS = 6;

    private final LineTravel line;
    private final ShortestPath path = new ShortestPath();
    private final Wander wanderA = new Wander();
    private final Wander wanderB = new Wander();
    private final double[] ends = new double[18];
    /** The line's freedoms, as {@link LineTravel#stand} takes them. */
    private final double[] at;

    private final int[] plays;

    private double foundMm;
    private Position where;
    private String unproved = "";
    private int boxes;
    private int looping;

    /** Pieces between which the line may slide, and the length that they share. */
    private record Run(int first, int last, double lengthMm) {}

    /** A box of one run, its floor, and the handle to halve it along (-1: it stays). */
    private record Node(DriverBox box, double floorMm, int split) implements Comparable<Node> {
        @Override
        public int compareTo(Node other) {
            return Double.compare(floorMm, other.floorMm);
        }
    }

    SlackSearch(LineTravel line) {
        this.line = line;
        at = new double[line.freedoms.size()];
        plays = IntStream.range(0, at.length)
                .filter(f -> line.freedoms.get(f).play() >= 0)
                .limit(MOST_PLAYS)
                .toArray();
        where = new Position(List.of(), List.of());
    }

    private List<Run> runs() {
        List<Run> runs = new ArrayList<>();
        int first = 0;
        double length = 0;
        for (int i = 0; i < line.pieces.size(); i++) {
            length += line.pieces.get(i).lengthMm();
            if (!line.pieces.get(i).slides()) {
                runs.add(new Run(first, i, length));
                first = i + 1;
                length = 0;
            }
        }
        return runs;
    }

    /** Returns the slack at these freedoms, mm: the least over the runs; the car has to be able to stand there. */
    double slackMm(double[] freedoms) {
        if (!line.stand(freedoms)) {
            throw new IllegalArgumentException("the car cannot stand there: " + line.why());
        }
        double least = Double.POSITIVE_INFINITY;
        for (Run run : runs()) {
            least = Math.min(least, measure(run));
        }
        return least;
    }

    HoseReport.Slack search() {
        Arrays.fill(at, 0);
        double ride = slackMm(at);
        foundMm = Double.POSITIVE_INFINITY;
        unproved = "";
        boxes = 0;
        double floor = Double.POSITIVE_INFINITY;
        for (Run run : runs()) {
            floor = Math.min(floor, search(run));
        }
        if (foundMm == Double.POSITIVE_INFINITY) {
            foundMm = ride;
        }
        return new HoseReport.Slack(ride, foundMm, where, Math.min(floor, foundMm), unproved, boxes);
    }

    private double search(Run run) {
        PriorityQueue<Node> open = new PriorityQueue<>();
        int limit = boxes + MOST_BOXES;
        looping = 0;
        TreeSet<Integer> bodies = new TreeSet<>();
        for (int i = run.first; i <= run.last; i++) {
            bodies.add(line.pieces.get(i).bodyA());
            bodies.add(line.pieces.get(i).bodyB());
        }
        DriverBox whole = line.workspace.wholeOf(bodies);
        open.add(bound(run, whole));
        double done = Double.POSITIVE_INFINITY;
        while (!open.isEmpty()) {
            Node node = open.peek();
            if (node.floorMm >= foundMm - KNOWN_TO_MM || boxes >= limit) {
                break;
            }
            if (looping >= MOST_LOOPING) {
                unproved = LOOPS;
                break;
            }
            open.poll();
            if (node.split < 0) {
                done = Math.min(done, node.floorMm);
                continue;
            }
            open.add(bound(run, node.box.halved(node.split, 0)));
            open.add(bound(run, node.box.halved(node.split, 1)));
        }
        if (!open.isEmpty()) {
            done = Math.min(done, open.peek().floorMm);
        }
        if (boxes >= limit && unproved.isEmpty() && done < foundMm - KNOWN_TO_MM) {
            unproved = "the floor is only known to " + Math.round((foundMm - done) * 10) / 10.0 + " mm";
        }
        return done;
    }

    private Node bound(Run run, DriverBox box) {
        boxes++;
        tryCorners(run, box);
        centre(box);
        double slack = run.lengthMm;
        double spread = 0;
        String trouble = "";
        double[] by = new double[box.size()];
        boolean stands = line.stand(at);
        for (int i = run.first; i <= run.last && stands; i++) {
            LineTravel.Piece piece = line.pieces.get(i);
            Kinematics.Reach reach = line.wander(piece, box, wanderA, wanderB);
            line.endsInto(i, ends, 0);
            path.between(ends, line.radiusMm);
            slack -= path.laidMm();
            if (reach != Kinematics.Reach.PROVED) {
                trouble = line.kinematics.why();
                continue;
            }
            Spot a = piece.ends().begin();
            Spot b = piece.ends().end();
            for (int h = 0; h < by.length; h++) {
                by[h] += wanderA.apartSpread(h, a, wanderB, b);
            }
            double[] w = path.straightDirection();
            double growth = PathBound.growthMm(
                    path,
                    line.radiusMm,
                    wanderA.apartReach(a, wanderB, b, 0, 0, 0),
                    wanderA.apartReach(a, wanderB, b, w[0], w[1], w[2]),
                    wanderA.turnReach(),
                    wanderB.turnReach());
            if (growth == Double.POSITIVE_INFINITY && trouble.isEmpty()) {
                trouble = LOOPS;
            }
            spread += growth;
        }
        int split = widest(box, by);
        if (stands) {
            found(worst(run));
            if (trouble.isEmpty()) {
                return new Node(box, slack - spread, split);
            }
        }
        if (split < 0 || box.level(split) >= UNPROVED_DEPTH) {
            if (!stands) {
                // Nowhere the car can stand: no floor is needed, but it is said.
                unproved = line.why();
                return new Node(box, Double.POSITIVE_INFINITY, -1);
            }
            unproved = trouble;
            // The best that is known there: what was found, marked as not proved.
            return new Node(box, slack, -1);
        }
        if (trouble.equals(LOOPS)) {
            looping++;
        }
        return new Node(box, Double.NEGATIVE_INFINITY, split);
    }

    private double measure(Run run) {
        double slack = run.lengthMm;
        for (int i = run.first; i <= run.last; i++) {
            line.endsInto(i, ends, 0);
            path.between(ends, line.radiusMm);
            slack -= path.laidMm();
        }
        return slack;
    }

    /** The least slack at the handles in {@link #at} over the corners of the plays; leaves the worst corner there. */
    private double worst(Run run) {
        double least = Double.POSITIVE_INFINITY;
        double[] keep = at.clone();
        for (int corner = 0; corner < 1 << plays.length; corner++) {
            for (int p = 0; p < plays.length; p++) {
                LineTravel.Freedom play = line.freedoms.get(plays[p]);
                at[plays[p]] = (corner >> p & 1) == 0 ? play.lowest() : play.highest();
            }
            if (line.stand(at)) {
                double slack = measure(run);
                if (slack < least) {
                    least = slack;
                    System.arraycopy(at, 0, keep, 0, at.length);
                }
            }
        }
        System.arraycopy(keep, 0, at, 0, at.length);
        return least;
    }

    private void tryCorners(Run run, DriverBox box) {
        for (int corner = 0; corner < 1 << box.size(); corner++) {
            centre(box);
            for (int i = 0; i < box.size(); i++) {
                at[freedom(box.handle(i))] += (corner >> i & 1) == 0 ? -box.half(i) : box.half(i);
            }
            if (line.stand(at)) {
                found(worst(run));
            }
        }
    }

    private void centre(DriverBox box) {
        Arrays.fill(at, 0);
        for (int i = 0; i < box.size(); i++) {
            at[freedom(box.handle(i))] = box.centre(i);
        }
    }

    /** Handles come first among the freedoms, ascending. */
    private int freedom(int handle) {
        return Arrays.binarySearch(line.handles, handle);
    }

    private void found(double slack) {
        if (slack < foundMm) {
            foundMm = slack;
            where = line.position(at);
        }
    }

    private int widest(DriverBox box, double[] by) {
        int best = -1;
        double most = -1;
        for (int i = 0; i < box.size(); i++) {
            Handle handle = line.workspace.handles().get(box.handle(i));
            double share = box.half(i) / (handle.highest() - handle.lowest());
            double spread = by[i] + 1e-3 * share;
            if (box.splits(i) && spread > most) {
                most = spread;
                best = i;
            }
        }
        return best;
    }
}
