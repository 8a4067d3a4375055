package daylight.clearance;

import daylight.car.Car;
import daylight.geometry.Direction;
import daylight.geometry.Gauge;
import daylight.geometry.Pose;
import daylight.geometry.Proximity;
import daylight.geometry.Solid;
import daylight.geometry.Spot;
import daylight.geometry.Wander;
import daylight.motion.DriverBox;
import daylight.motion.Handle;
import daylight.motion.Kinematics;
import daylight.motion.Setting;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.PriorityQueue;
import org.joml.Matrix4x3d;
import org.joml.Matrix4x3dc;
import org.joml.Vector3d;
import org.jspecify.annotations.Nullable;

/**
 * Branch and bound over the handles that move one pair: the least gap with its floor, and how far the car can move
 * before the gap falls below a figure.
 *
 * <p>Every box of handle values has a measured gap at its centre and a floor ({@link Gauge#floor}) that no position
 * of the box falls below. Boxes whose floor cannot undercut the least gap found by more than the tolerance are done;
 * the rest are halved along the handle that contributes most to the doubt. Small shifts within a part's play are not
 * extra dimensions: the floor takes the worst of them along the line of the gap, and what was found is measured with
 * the parts shifted that way.
 *
 * <p>One per thread.
 */
final class PairSearch {
    /** Halvings of one range after which a box that cannot be enclosed is reported instead of halved. */
    private static final int UNPROVED_DEPTH = 9;
    /** An onset is found to this share of the travel. */
    private static final double ONSET_SHARE = 0.002;

    /** The share of the tolerance that the search uses; the rest is for putting handles back to rest. */
    private static final double SEARCH_SHARE = 0.9;
    /** Rounds of going along every play in turn. */
    private static final int SWEEPS = 4;
    /** A shift is settled to this, mm; a gap then to far less than any tolerance. */
    private static final double SETTLED_MM = 1e-3;

    private final Scene scene;
    private final Asked asked;
    private final Kinematics kinematics;
    private final Gauge gauge;
    private final Wander wanderA = new Wander();
    private final Wander wanderB = new Wander();
    private final Matrix4x3d poseA = new Matrix4x3d();
    private final Matrix4x3d poseB = new Matrix4x3d();
    private final Vector3d normal = new Vector3d();
    private final double[] values;
    private long boxes;

    // The pair at hand.
    private Scene.Pair pair;
    private Solid solidA;
    private Solid solidB;
    private int bodyA;
    private int bodyB;
    private Play[] plays = new Play[0];
    private double[] offsetsA = new double[0];
    private double[] offsetsB = new double[0];
    private @Nullable Spot shared;
    private @Nullable Proximity best;
    private @Nullable Position bestAt;
    private double bestMm;
    private @Nullable String trouble;

    /** One play of one of the two bodies: how far it goes, and along which line as the car stands. */
    private static final class Play {
        final Car.Allowance.Play of;
        final boolean first;
        final int number;
        final Vector3d along = new Vector3d();

        Play(Car.Allowance.Play of, boolean first, int number) {
            this.of = of;
            this.first = first;
            this.number = number;
        }
    }

    /** A box, its floor (or its parent's), and the handle to halve it along. */
    private record Node(DriverBox box, double floorMm, int split, double order) implements Comparable<Node> {
        @Override
        public int compareTo(Node other) {
            return Double.compare(order, other.order);
        }
    }

    PairSearch(Scene scene, Asked asked, Kinematics kinematics, Gauge gauge) {
        this.gauge = gauge;
        this.scene = scene;
        this.asked = asked;
        this.kinematics = kinematics;
        int handles = scene.workspace.handles().size();
        this.values = new double[handles];
        this.pair = new Scene.Pair(0, 0, 0, "");
        this.solidA = scene.solids[0];
        this.solidB = scene.solids[0];
    }

    /** Boxes bounded so far, all pairs. */
    long boxes() {
        return boxes;
    }

    /** Returns the row of a pair. */
    GapRow row(Scene.Pair wanted) {
        pair = wanted;
        solidA = scene.solids[wanted.a()];
        solidB = scene.solids[wanted.b()];
        bodyA = scene.bodies[wanted.a()];
        bodyB = scene.bodies[wanted.b()];
        List<Car.Allowance.Play> ofA = scene.workspace.plays(bodyA);
        List<Car.Allowance.Play> ofB = scene.workspace.plays(bodyB);
        offsetsA = new double[ofA.size()];
        offsetsB = new double[ofB.size()];
        plays = new Play[ofA.size() + ofB.size()];
        for (int j = 0; j < plays.length; j++) {
            boolean first = j < ofA.size();
            int number = first ? j : j - ofA.size();
            plays[j] = new Play(first ? ofA.get(number) : ofB.get(number), first, number);
        }
        best = null;
        bestAt = null;
        bestMm = Double.POSITIVE_INFINITY;
        trouble = null;
        shared = scene.workspace.sharedSpot(bodyA, bodyB).orElse(null);

        Proximity ride = gauge.proximity(solidA, Pose.RIDE_HEIGHT, solidB, Pose.RIDE_HEIGHT);
        Least least = scene.apartMm(wanted) >= asked.watchMm() ? farApart(ride) : least();
        double found = least.found().distanceMm();
        State state = found <= 0 ? State.RUB : least.floorMm() < wanted.requiredMm() ? State.TIGHT : State.CLEAR;
        Optional<Onset> touches = found <= 0 ? Optional.of(onset(0)) : Optional.empty();
        Optional<Onset> below =
                found < wanted.requiredMm() ? Optional.of(onset(wanted.requiredMm())) : Optional.empty();
        return new GapRow(
                scene.parts.get(wanted.a()).name(),
                scene.parts.get(wanted.b()).name(),
                ride,
                least,
                wanted.requiredMm(),
                wanted.rule(),
                state,
                touches,
                below);
    }

    /** The room that the two parts sweep is far apart: nothing more needs to be known. */
    private Least farApart(Proximity ride) {
        List<Setting> handles = new ArrayList<>();
        for (int handle : scene.workspace.handlesOf(bodyA, bodyB)) {
            Handle of = scene.workspace.handles().get(handle);
            handles.add(new Setting(of.name(), 0, of.turns()));
        }
        return new Least(
                ride, new Position(handles, List.of()), scene.apartMm(pair), new Least.Proof.FarApart(asked.watchMm()));
    }

    private Least least() {
        DriverBox whole = scene.workspace.whole(bodyA, bodyB);
        Arrays.fill(values, 0);
        tryPosition(whole);
        PriorityQueue<Node> open = new PriorityQueue<>();
        double doneFloor = Double.POSITIVE_INFINITY;
        boolean budget = true;
        long limit = boxes + asked.mostBoxes();
        open.add(bound(whole, Double.NEGATIVE_INFINITY, enough()));
        while (!open.isEmpty()) {
            Node node = open.peek();
            if (node.floorMm >= enough()) {
                break;
            }
            open.poll();
            if (node.split < 0) {
                doneFloor = Math.min(doneFloor, node.floorMm);
                continue;
            }
            if (boxes >= limit) {
                open.add(node);
                budget = false;
                break;
            }
            open.add(bound(node.box.halved(node.split, 0), node.floorMm, enough()));
            open.add(bound(node.box.halved(node.split, 1), node.floorMm, enough()));
        }
        for (Node node : open) {
            doneFloor = Math.min(doneFloor, node.floorMm);
        }
        leaveAtRest(whole);
        Proximity found = found();
        double floor = Math.min(doneFloor, found.distanceMm());
        boolean far = floor >= asked.watchMm() - 1e-9 && found.distanceMm() - floor > asked.toleranceMm();
        Least.Proof proof;
        if (trouble != null) {
            proof = new Least.Proof.Unproved(trouble);
        } else if (far) {
            proof = new Least.Proof.FarApart(asked.watchMm());
        } else if (!budget) {
            proof = new Least.Proof.Unproved("gave up after " + asked.mostBoxes() + " boxes; the floor still holds");
        } else {
            proof = new Least.Proof.Proved();
        }
        return new Least(found, foundAt(), floor, proof);
    }

    /** A box whose floor reaches this needs no further look. */
    private double enough() {
        return Math.min(bestMm - SEARCH_SHARE * asked.toleranceMm(), asked.watchMm());
    }

    /**
     * Puts every handle that makes no difference back to ride height, so that the position says only what matters: a
     * tie rod's gap that is the same at every steering angle is not said to be least at one of them.
     */
    private void leaveAtRest(DriverBox whole) {
        double slack = (1 - SEARCH_SHARE) * asked.toleranceMm() / Math.max(1, whole.size());
        place(whole, foundAt());
        for (int i = 0; i < whole.size(); i++) {
            double before = values[whole.handle(i)];
            values[whole.handle(i)] = 0;
            double kept = bestMm;
            bestMm = Double.POSITIVE_INFINITY;
            Proximity keptBest = best;
            Position keptAt = bestAt;
            double gap = before == 0 ? Double.POSITIVE_INFINITY : tryPosition(whole);
            if (!(gap <= kept + slack)) {
                values[whole.handle(i)] = before;
                bestMm = kept;
                best = keptBest;
                bestAt = keptAt;
            }
        }
    }

    private void place(DriverBox whole, Position at) {
        Arrays.fill(values, 0);
        for (int i = 0; i < whole.size(); i++) {
            values[whole.handle(i)] = at.handles().get(i).value();
        }
    }

    private Proximity found() {
        if (best == null) {
            throw new IllegalStateException("no position measured; please report this car file");
        }
        return best;
    }

    private Position foundAt() {
        if (bestAt == null) {
            throw new IllegalStateException("no position measured; please report this car file");
        }
        return bestAt;
    }

    /** Bounds a box: measures its centre and finds its floor, never below its parent's. */
    private Node bound(DriverBox box, double parentFloor, double enough) {
        boxes++;
        noOffsets();
        Kinematics.Reach reachA = kinematics.fill(bodyA, box, offsetsA, wanderA);
        Kinematics.Reach reachB = kinematics.fill(bodyB, box, offsetsB, wanderB);
        boolean lessOfA = reachA != Kinematics.Reach.PROVED;
        if (reachA == Kinematics.Reach.NOT_REACHED || reachB == Kinematics.Reach.NOT_REACHED) {
            return withoutProof(box, parentFloor, lessOfA ? bodyA : bodyB);
        }
        boolean proved = !lessOfA && reachB == Kinematics.Reach.PROVED;
        if (!proved) {
            Node node = withoutProof(box, parentFloor, lessOfA ? bodyA : bodyB);
            if (node.split < 0) {
                box.centreInto(values);
                measure(box);
            }
            return node;
        }
        double centreGap = Double.POSITIVE_INFINITY;
        if (plays.length > 0) {
            box.centreInto(values);
            centreGap = measure(box);
        }
        if (plays.length > 0) {
            // From the closest shift on, the floor loses nothing to the plays.
            kinematics.fill(bodyA, box, offsetsA, wanderA);
            kinematics.fill(bodyB, box, offsetsB, wanderB);
        }
        double floor = floor(enough);
        if (plays.length == 0) {
            centreGap = gauge.centreMm();
            if (gauge.isExact() && centreGap < bestMm) {
                box.centreInto(values);
                measure(box);
            }
        }
        floor = Math.max(parentFloor, Math.min(floor, centreGap));
        int split = -1;
        if (floor < enough) {
            double widest = 0;
            for (int i = 0; i < box.size(); i++) {
                if (box.splits(i) && gauge.spread(i) > widest) {
                    widest = gauge.spread(i);
                    split = i;
                }
            }
            double corner = measureCorner(box);
            if (corner - floor <= asked.toleranceMm() * 0.01) {
                split = -1;
            }
        }
        return new Node(box, floor, split, floor);
    }

    private double floor(double enough) {
        return shared == null
                ? gauge.floor(solidA, wanderA, solidB, wanderB, enough)
                : gauge.floorAbout(solidA, wanderA, solidB, wanderB, shared, enough);
    }

    /** A box without a floor of its own keeps its parent's and is halved, until it is too small to go on. */
    private Node withoutProof(DriverBox box, double parentFloor, int body) {
        int split = widestShare(box, body);
        if (split >= 0 && box.level(split) >= UNPROVED_DEPTH) {
            split = -1;
        }
        if (split < 0 && trouble == null) {
            trouble = kinematics.why();
        }
        return new Node(box, parentFloor, split, parentFloor);
    }

    /** The handle of a body whose range has been halved least, or -1 when none can be halved. */
    private int widestShare(DriverBox box, int body) {
        List<Integer> handles = scene.workspace.handlesOf(body, body);
        int split = -1;
        int least = DriverBox.DEEPEST;
        for (int i = 0; i < box.size(); i++) {
            if (box.splits(i) && box.level(i) < least && handles.contains(box.handle(i))) {
                least = box.level(i);
                split = i;
            }
        }
        return split;
    }

    /** Measures the corner of the box at which the linear bound was least: often the true least gap of the box. */
    private double measureCorner(DriverBox box) {
        box.centreInto(values);
        for (int i = 0; i < box.size(); i++) {
            values[box.handle(i)] += gauge.towards(i) * box.half(i);
        }
        return tryPosition(box);
    }

    /** Measures the pair at {@link #values}; infinite if the car cannot stand there. */
    private double tryPosition(DriverBox box) {
        noOffsets();
        if (!kinematics.fillAt(bodyA, values, offsetsA, wanderA)
                || !kinematics.fillAt(bodyB, values, offsetsB, wanderB)) {
            return Double.POSITIVE_INFINITY;
        }
        return measure(box);
    }

    /**
     * Measures the pair where the wanders' centres are, each body shifted within its play to where they are closest;
     * keeps the gap if it is the least so far.
     */
    private double measure(DriverBox box) {
        double gap = plays.length == 0
                ? gauge.measure(solidA, wanderA.centre(), solidB, wanderB.centre())
                : closeUp(wanderA.centre(), wanderB.centre());
        if (gap < bestMm) {
            keep(gap, box);
        }
        return gap;
    }

    /**
     * Shifts both bodies within their plays to where they are closest: leaves the shifts in the offsets and the poses
     * in {@link #poseA} and {@link #poseB}, and returns the gap there. The gap of convex shapes is a convex function
     * of the shifts, so going along one play at a time, each to its end or to where the gap stops falling, ends at
     * the least; for others it is a shift that is possible, which is all that is claimed.
     */
    private double closeUp(Matrix4x3dc restA, Matrix4x3dc restB) {
        for (Play play : plays) {
            Direction along = play.of.along();
            (play.first ? restA : restB).transformDirection(play.along.set(along.x(), along.y(), along.z()));
        }
        poseA.set(restA);
        poseB.set(restB);
        double gap = gauge.measure(solidA, poseA, solidB, poseB);
        for (int sweep = 0; sweep < SWEEPS; sweep++) {
            boolean moved = false;
            for (Play play : plays) {
                double slope = slope(play);
                double end = slope < 0 ? play.of.greatestMm() : play.of.leastMm();
                double start = offset(play);
                if (Math.abs(slope) < 1e-9 || Math.abs(end - start) < 1e-12) {
                    continue;
                }
                double atEnd = shiftTo(play, end);
                if (slope(play) * slope < 0) {
                    atEnd = settle(play, start, end, slope, atEnd);
                }
                moved |= Math.abs(offset(play) - start) > SETTLED_MM;
                gap = atEnd;
            }
            if (!moved) {
                break;
            }
        }
        return gap;
    }

    /** Bisects for the shift at which the gap stops falling, between a start where it falls and an end beyond. */
    private double settle(Play play, double start, double end, double slope, double atEnd) {
        double near = start;
        double far = end;
        double gap = atEnd;
        while (Math.abs(far - near) > SETTLED_MM / 4) {
            double middle = (near + far) / 2;
            gap = shiftTo(play, middle);
            if (slope(play) * slope > 0) {
                near = middle;
            } else {
                far = middle;
            }
        }
        return gap;
    }

    /** How the gap measured last changes with a play's shift: minus one when it closes as fast as it is shifted. */
    private double slope(Play play) {
        gauge.normal(normal);
        double along = normal.dot(play.along);
        return play.first ? -along : along;
    }

    private double offset(Play play) {
        return (play.first ? offsetsA : offsetsB)[play.number];
    }

    private double shiftTo(Play play, double mm) {
        double[] offsets = play.first ? offsetsA : offsetsB;
        Matrix4x3d pose = play.first ? poseA : poseB;
        double by = mm - offsets[play.number];
        offsets[play.number] = mm;
        pose.m30(pose.m30() + by * play.along.x);
        pose.m31(pose.m31() + by * play.along.y);
        pose.m32(pose.m32() + by * play.along.z);
        return gauge.measure(solidA, poseA, solidB, poseB);
    }

    private void noOffsets() {
        Arrays.fill(offsetsA, 0);
        Arrays.fill(offsetsB, 0);
    }

    /** Keeps a gap as the least found, at {@link #values} and the offsets. */
    private void keep(double gap, DriverBox box) {
        bestMm = gap;
        // Afresh, so that the spots do not depend on what was measured before.
        best = plays.length == 0
                ? gauge.proximity(solidA, wanderA.centre(), solidB, wanderB.centre())
                : gauge.proximity(solidA, poseA, solidB, poseB);
        List<Setting> shifts = new ArrayList<>();
        for (Play play : plays) {
            if (offset(play) != 0) {
                String name = scene.workspace.bodyName(play.first ? bodyA : bodyB) + " " + play.of.name();
                shifts.add(new Setting(name, offset(play), false));
            }
        }
        List<Setting> handles = new ArrayList<>();
        for (int i = 0; i < box.size(); i++) {
            Handle handle = scene.workspace.handles().get(box.handle(i));
            handles.add(new Setting(handle.name(), values[box.handle(i)], handle.turns()));
        }
        bestAt = new Position(handles, shifts);
    }

    /**
     * Finds the position below a figure that uses the least share of the travel.
     *
     * @param figureMm the figure; the least gap found is below it or at it
     */
    private Onset onset(double figureMm) {
        double keptMm = bestMm;
        Proximity keptBest = found();
        Position keptAt = foundAt();
        Position nearest = keptAt;
        double nearestShare = share(keptAt);
        double clear = 1;

        DriverBox whole = scene.workspace.whole(bodyA, bodyB);
        bestMm = figureMm;
        Arrays.fill(values, 0);
        tryPosition(whole);
        if (bestMm < figureMm || (keptMm == figureMm && nearestShare == 0)) {
            Position rest = foundAt();
            bestMm = keptMm;
            best = keptBest;
            bestAt = keptAt;
            return new Onset(rest, 0, 0);
        }
        PriorityQueue<Node> open = new PriorityQueue<>();
        open.add(new Node(whole, Double.NEGATIVE_INFINITY, widestExtent(whole), 0));
        long limit = boxes + asked.mostBoxes();
        while (!open.isEmpty()) {
            Node node = open.poll();
            if (node.order >= nearestShare - ONSET_SHARE || boxes >= limit || node.split < 0) {
                clear = Math.min(clear, node.order);
                break;
            }
            for (int side = 0; side < 2; side++) {
                DriverBox box = node.box.halved(node.split, side);
                double leastShare = box.leastShare();
                if (leastShare >= nearestShare) {
                    continue;
                }
                bestMm = figureMm;
                Node child = bound(box, Double.NEGATIVE_INFINITY, figureMm);
                if (bestMm < figureMm) {
                    double share = share(foundAt());
                    if (share < nearestShare) {
                        nearestShare = share;
                        nearest = foundAt();
                    }
                }
                if (child.floorMm < figureMm) {
                    open.add(new Node(box, child.floorMm, widestExtent(box), leastShare));
                }
            }
        }
        bestMm = keptMm;
        best = keptBest;
        bestAt = keptAt;
        return new Onset(nearest, nearestShare, Math.min(clear, nearestShare));
    }

    /** The handle along which the box spans the greatest share of the travel, or -1 when all are small. */
    private int widestExtent(DriverBox box) {
        int split = -1;
        double widest = ONSET_SHARE / 2;
        for (int i = 0; i < box.size(); i++) {
            Handle handle = scene.workspace.handles().get(box.handle(i));
            double extent = 2 * box.half(i) / (handle.highest() - handle.lowest());
            if (box.splits(i) && extent > widest) {
                widest = extent;
                split = i;
            }
        }
        return split;
    }

    private double share(Position at) {
        double share = 0;
        for (Setting setting : at.handles()) {
            for (Handle handle : scene.workspace.handles()) {
                if (handle.name().equals(setting.name())) {
                    share = Math.max(share, handle.share(setting.value()));
                }
            }
        }
        return share;
    }
}
