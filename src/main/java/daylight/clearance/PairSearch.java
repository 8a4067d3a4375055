package daylight.clearance;

import daylight.geometry.Gauge;
import daylight.geometry.Pose;
import daylight.geometry.Proximity;
import daylight.motion.DriverBox;
import daylight.motion.Handle;
import daylight.motion.Kinematics;
import daylight.motion.Setting;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.Deque;
import java.util.List;
import java.util.Optional;
import java.util.PriorityQueue;
import org.jspecify.annotations.Nullable;

/**
 * Branch and bound over the handles that move one pair: the least gap with its floor, and how far the car can move
 * before the gap falls below a figure.
 *
 * <p>Every cell of positions has a measured gap at its centre and a floor ({@link Gauge#floor}) that no position of it
 * falls below. Cells whose floor cannot undercut the least gap found by more than the tolerance are done; the rest are
 * halved along the handle that contributes most to the doubt. Small shifts within a part's play are not extra
 * dimensions as long as the two are apart: the floor takes the worst of them along the line of the gap, and what was
 * found is measured with the parts shifted that way. Parts that overlap may be held by one face at one shift and by
 * another at the next; then a play is parted like a handle.
 *
 * <p>One per thread.
 */
final class PairSearch {
    /** Halvings of one range after which a cell that cannot be enclosed is reported instead of halved. */
    private static final int UNPROVED_DEPTH = 9;
    /** An onset is found to this share of the travel. */
    private static final double ONSET_SHARE = 0.002;

    /** Tight spots are told apart down to this share of a handle's travel. */
    private static final double SPOT_SHARE = 1.0 / 32;
    /** Cells looked at to tell tight spots apart; what is then left counts as touching its neighbours. */
    private static final int SPOT_BOXES = 4000;

    /** The share of the tolerance that the search uses; the rest is for putting handles back to rest. */
    private static final double SEARCH_SHARE = 0.9;

    private final Scene scene;
    private final Asked asked;
    private final Kinematics kinematics;
    private final Gauge gauge;
    private final PairStand stand;
    private final double[] values;
    private long boxes;

    // The pair at hand.
    private Scene.Pair pair = new Scene.Pair(0, 0, 0, "");
    private @Nullable Proximity best;
    private @Nullable Position bestAt;
    private double bestMm;
    private @Nullable String trouble;

    /**
     * A cell, its floor (or its parent's), and where to take it apart: along the {@code split}-th of its handles, or
     * beyond those its plays, at a shift; -1 for nowhere.
     */
    private record Node(Cell cell, double floorMm, int split, double at, double order) implements Comparable<Node> {
        @Override
        public int compareTo(Node other) {
            return Double.compare(order, other.order);
        }

        Cell part(int side) {
            int handles = cell.box().size();
            return split < handles ? cell.halved(split, side) : cell.parted(split - handles, at, side);
        }
    }

    PairSearch(Scene scene, Asked asked, Kinematics kinematics, Gauge gauge) {
        this.gauge = gauge;
        this.scene = scene;
        this.asked = asked;
        this.kinematics = kinematics;
        this.stand = new PairStand(scene, kinematics, gauge);
        this.values = new double[scene.workspace.handles().size()];
    }

    /** Cells bounded so far, all pairs. */
    long boxes() {
        return boxes;
    }

    /** Returns the row of a pair. */
    GapRow row(Scene.Pair wanted) {
        pair = wanted;
        stand.take(wanted);

        Proximity ride =
                gauge.proximity(scene.solids[wanted.a()], Pose.RIDE_HEIGHT, scene.solids[wanted.b()], Pose.RIDE_HEIGHT);
        Least least = scene.apartMm(wanted) >= asked.watchMm() ? farApart(ride) : least(List.of(stand.whole()));
        double found = least.found().distanceMm();
        State state = found <= 0 ? State.RUB : least.floorMm() < wanted.requiredMm() ? State.TIGHT : State.CLEAR;
        Optional<Onset> touches = found <= 0 ? Optional.of(onset(0, least)) : Optional.empty();
        Optional<Onset> below =
                found < wanted.requiredMm() ? Optional.of(onset(wanted.requiredMm(), least)) : Optional.empty();
        return new GapRow(
                scene.parts.get(wanted.a()).name(),
                scene.parts.get(wanted.b()).name(),
                ride,
                least,
                wanted.requiredMm(),
                wanted.rule(),
                state,
                touches,
                below,
                found < wanted.requiredMm() ? tightSpots(wanted.requiredMm(), least) : List.of());
    }

    /** The room that the two parts sweep is far apart: nothing more needs to be known. */
    private Least farApart(Proximity ride) {
        List<Setting> handles = new ArrayList<>();
        for (int handle : scene.workspace.handlesOf(stand.bodyA, stand.bodyB)) {
            Handle of = scene.workspace.handles().get(handle);
            handles.add(new Setting(of.name(), 0, of.turns()));
        }
        return new Least(
                ride, new Position(handles, List.of()), scene.apartMm(pair), new Least.Proof.FarApart(asked.watchMm()));
    }

    /** Finds the least gap over some cells. */
    private Least least(List<Cell> cells) {
        return leastIfReached(cells)
                .orElseThrow(() -> new IllegalStateException("no position measured; please report this car file"));
    }

    /** The same, or nothing if the car was found to stand at no position of the cells. */
    private Optional<Least> leastIfReached(List<Cell> cells) {
        DriverBox whole = stand.whole().box();
        trouble = null;
        best = null;
        bestAt = null;
        bestMm = Double.POSITIVE_INFINITY;
        PriorityQueue<Node> open = new PriorityQueue<>();
        double doneFloor = Double.POSITIVE_INFINITY;
        boolean budget = true;
        long limit = boxes + asked.mostBoxes();
        for (Cell cell : cells) {
            seed(cell.box());
        }
        for (Cell cell : cells) {
            open.add(bound(cell, Double.NEGATIVE_INFINITY, enough()));
        }
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
            open.add(bound(node.part(0), node.floorMm, enough()));
            open.add(bound(node.part(1), node.floorMm, enough()));
        }
        for (Node node : open) {
            doneFloor = Math.min(doneFloor, node.floorMm);
        }
        if (best == null) {
            return Optional.empty();
        }
        if (cells.size() == 1) {
            leaveAtRest(whole);
        }
        Proximity found = found();
        double floor = Math.min(doneFloor, found.distanceMm());
        double doubt = found.distanceMm() - floor;
        boolean far = floor >= asked.watchMm() - 1e-9 && doubt > asked.toleranceMm();
        Least.Proof proof;
        if (trouble != null) {
            proof = new Least.Proof.Unproved(trouble);
        } else if (far) {
            proof = new Least.Proof.FarApart(asked.watchMm());
        } else if (!budget) {
            proof = new Least.Proof.Unproved("gave up after " + asked.mostBoxes() + " boxes; the floor still holds");
        } else if (doubt > asked.toleranceMm()) {
            proof = new Least.Proof.Unproved("the floor holds, but could not be brought nearer to what was found");
        } else {
            proof = new Least.Proof.Proved();
        }
        return Optional.of(new Least(found, foundAt(), floor, proof));
    }

    /** Measures a first position, so that there is one: ride height where that is in the box, else the box's centre. */
    private void seed(DriverBox box) {
        Arrays.fill(values, 0);
        for (int i = 0; i < box.size(); i++) {
            if (Math.abs(box.centre(i)) > box.half(i)) {
                values[box.handle(i)] = box.centre(i);
            }
        }
        tryPosition(box);
    }

    /** A cell whose floor reaches this needs no further look. */
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
            Proximity keptBest = best;
            Position keptAt = bestAt;
            bestMm = Double.POSITIVE_INFINITY;
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

    /** Bounds a cell: measures its centre and finds its floor, never below its parent's. */
    private Node bound(Cell cell, double parentFloor, double enough) {
        boxes++;
        DriverBox box = cell.box();
        Kinematics.Reach reach = stand.over(cell);
        if (reach != Kinematics.Reach.PROVED) {
            Node node = withoutProof(cell, parentFloor);
            if (node.split < 0 && reach == Kinematics.Reach.NOT_PROVED) {
                box.centreInto(values);
                keepIfLess(stand.gapAtCentre(cell), box);
            }
            return node;
        }
        double centreGap = Double.POSITIVE_INFINITY;
        if (stand.plays() > 0) {
            box.centreInto(values);
            centreGap = stand.gapAtCentre(cell);
            keepIfLess(centreGap, box);
        }
        double floor = stand.floor(cell, enough);
        if (stand.plays() == 0) {
            centreGap = gauge.centreMm();
            if (gauge.isExact() && centreGap < bestMm) {
                box.centreInto(values);
                keepIfLess(stand.gapAtCentre(cell), box);
            }
        }
        floor = Math.max(parentFloor, Math.min(floor, centreGap));
        if (floor >= enough) {
            return new Node(cell, floor, -1, 0, floor);
        }
        Node node = takenApart(cell, floor);
        if (gauge.guessMm() < bestMm) {
            measureCorner(box);
        }
        return node;
    }

    /** Says along what to take a cell apart whose floor will not do: what took most of it. */
    private Node takenApart(Cell cell, double floor) {
        DriverBox box = cell.box();
        int split = -1;
        double widest = 0;
        for (int i = 0; i < box.size(); i++) {
            if (box.splits(i) && gauge.spread(i) > widest) {
                widest = gauge.spread(i);
                split = i;
            }
        }
        if (split < 0) {
            // A floor that came without a pair of pieces to blame (something is inside a closed mesh).
            split = widestExtent(box, 0);
        }
        double at = 0;
        for (int j = 0; j < stand.plays(); j++) {
            double lost = stand.lostToPlay(cell, j);
            if (lost > widest && cell.plays().get(j).width() > asked.toleranceMm() * PARTED_SHARE) {
                widest = lost;
                split = box.size() + j;
                at = stand.partAt(cell, j);
            }
        }
        return new Node(cell, floor, split, at, floor);
    }

    /** A play is not parted into ranges narrower than this share of the tolerance. */
    private static final double PARTED_SHARE = 0.1;

    /** A cell without a floor of its own keeps its parent's and is halved, until it is too small to go on. */
    private Node withoutProof(Cell cell, double parentFloor) {
        int split = widestShare(cell.box(), stand.culprit);
        if (split >= 0 && cell.box().level(split) >= UNPROVED_DEPTH) {
            split = -1;
        }
        if (split < 0 && trouble == null) {
            trouble = kinematics.why();
        }
        return new Node(cell, parentFloor, split, 0, parentFloor);
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
    private void measureCorner(DriverBox box) {
        box.centreInto(values);
        for (int i = 0; i < box.size(); i++) {
            values[box.handle(i)] += gauge.towards(i) * box.half(i);
        }
        tryPosition(box);
    }

    /** Measures the pair at {@link #values}; infinite if the car cannot stand there. */
    private double tryPosition(DriverBox box) {
        double gap = stand.gapAt(values);
        keepIfLess(gap, box);
        return gap;
    }

    /** Keeps the gap measured last, at {@link #values}, if it is the least so far. */
    private void keepIfLess(double gap, DriverBox box) {
        if (!(gap < bestMm)) {
            return;
        }
        bestMm = gap;
        best = stand.proximity();
        List<Setting> handles = new ArrayList<>();
        for (int i = 0; i < box.size(); i++) {
            Handle handle = scene.workspace.handles().get(box.handle(i));
            handles.add(new Setting(handle.name(), values[box.handle(i)], handle.turns()));
        }
        bestAt = new Position(handles, stand.shifts());
    }

    /**
     * Finds the separate regions of travel in which the gap is below a figure: first the cells that cannot be proved
     * to keep it, down to a small share of the travel; then which of them touch; then each region's least gap.
     */
    private List<Least> tightSpots(double figureMm, Least least) {
        List<List<Cell>> regions = Regions.of(below(figureMm));
        if (regions.size() < 2) {
            return List.of(least);
        }
        List<Least> spots = new ArrayList<>();
        for (List<Cell> region : regions) {
            if (!holds(region, least.where())) {
                leastIfReached(region)
                        .filter(one -> one.found().distanceMm() < figureMm)
                        .ifPresent(spots::add);
            }
        }
        spots.sort(Comparator.comparingDouble(spot -> spot.found().distanceMm()));
        spots.add(0, least);
        return spots;
    }

    private List<Cell> below(double figureMm) {
        List<Cell> kept = new ArrayList<>();
        Deque<Cell> open = new ArrayDeque<>();
        open.add(stand.whole());
        long limit = boxes + SPOT_BOXES;
        while (!open.isEmpty()) {
            Cell cell = open.removeFirst();
            bestMm = Double.NEGATIVE_INFINITY;
            if (bound(cell, Double.NEGATIVE_INFINITY, figureMm).floorMm >= figureMm) {
                continue;
            }
            int split = widestExtent(cell.box(), SPOT_SHARE);
            if (split < 0 || boxes >= limit) {
                kept.add(cell);
            } else {
                open.addLast(cell.halved(split, 0));
                open.addLast(cell.halved(split, 1));
            }
        }
        return kept;
    }

    private boolean holds(List<Cell> region, Position at) {
        for (Cell cell : region) {
            DriverBox box = cell.box();
            boolean inside = true;
            for (int i = 0; i < box.size(); i++) {
                inside &= Math.abs(at.handles().get(i).value() - box.centre(i)) <= box.half(i) * (1 + 1e-9);
            }
            if (inside) {
                return true;
            }
        }
        return false;
    }

    /**
     * Finds the position below a figure that uses the least share of the travel.
     *
     * @param figureMm the figure; the least gap found is below it or at it
     */
    private Onset onset(double figureMm, Least least) {
        Position nearest = least.where();
        double nearestShare = share(nearest);
        double clear = 1;

        Cell whole = stand.whole();
        bestMm = figureMm;
        Arrays.fill(values, 0);
        tryPosition(whole.box());
        if (bestMm < figureMm || (least.found().distanceMm() == figureMm && nearestShare == 0)) {
            return new Onset(bestMm < figureMm ? foundAt() : nearest, 0, 0);
        }
        PriorityQueue<Node> open = new PriorityQueue<>();
        open.add(new Node(whole, Double.NEGATIVE_INFINITY, widestExtent(whole.box(), ONSET_SHARE / 2), 0, 0));
        long limit = boxes + asked.mostBoxes();
        while (!open.isEmpty()) {
            Node node = open.poll();
            if (node.order >= nearestShare - ONSET_SHARE || boxes >= limit || node.split < 0) {
                clear = Math.min(clear, node.order);
                break;
            }
            for (int side = 0; side < 2; side++) {
                Cell cell = node.part(side);
                double leastShare = cell.box().leastShare();
                if (leastShare >= nearestShare) {
                    continue;
                }
                bestMm = figureMm;
                Node child = bound(cell, Double.NEGATIVE_INFINITY, figureMm);
                if (bestMm < figureMm) {
                    double share = share(foundAt());
                    if (share < nearestShare) {
                        nearestShare = share;
                        nearest = foundAt();
                    }
                }
                if (child.floorMm < figureMm) {
                    int split = widestExtent(cell.box(), ONSET_SHARE / 2);
                    open.add(new Node(cell, child.floorMm, split, 0, leastShare));
                }
            }
        }
        return new Onset(nearest, nearestShare, Math.min(clear, nearestShare));
    }

    /** The handle along which the box spans the greatest share of the travel, or -1 when none spans more than one. */
    private int widestExtent(DriverBox box, double share) {
        int split = -1;
        double widest = share;
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
