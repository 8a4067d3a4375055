package daylight.inspection;

import daylight.clearance.GapRow;
import daylight.geometry.Gauge;
import daylight.geometry.Pose;
import daylight.geometry.Proximity;
import daylight.geometry.Solid;
import daylight.geometry.Wander;
import daylight.motion.DriverBox;
import daylight.motion.Handle;
import daylight.motion.Kinematics;
import daylight.motion.Workspace;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.PriorityQueue;

/**
 * The gap of one pair while most handles are held and a few go through their range: steering from lock to lock at full
 * bump, or an axle on its way up. Proved over the continuous range, as the search of all gaps is.
 *
 * <p>Held handles stand within a millionth of their range of the value wanted, which is what boxes allow. Plays are taken
 * at their worst in the floor; what is found is as the parts hang.
 */
final class PairSweep {
    private static final double KNOWN_TO_MM = 0.1;
    private static final int MOST_BOXES = 2000;
    /** Halvings of a range down to a length that no tape shows. */
    private static final int FINE = 16;

    private final Workspace workspace;
    private final Kinematics kinematics;
    private final Gauge gauge = new Gauge();
    private final Wander a = new Wander();
    private final Wander b = new Wander();
    private final Wander relative = new Wander();
    private final Wander still = new Wander();

    PairSweep(Kinematics kinematics) {
        this.kinematics = kinematics;
        this.workspace = kinematics.workspace();
    }

    /**
     * Where each handle is held.
     *
     * @param values the value of each handle of the car; not a number where it is free
     */
    record Held(List<Double> values) {
        static Held atRest(int handles) {
            Double[] values = new Double[handles];
            Arrays.fill(values, 0.0);
            return new Held(Arrays.asList(values));
        }

        Held with(int handle, double value) {
            Double[] copy = values.toArray(new Double[0]);
            copy[handle] = value;
            return new Held(Arrays.asList(copy));
        }

        Held free(int handle) {
            return with(handle, Double.NaN);
        }
    }

    /** The least gap found, where, and the floor. */
    record Swept(Proximity found, double freeAt, double floorMm) {}

    private record Node(DriverBox box, double floorMm) {}

    /** Returns the least gap of a row's pair; empty if nothing could be measured. */
    Optional<Swept> least(GapRow row, Held held) {
        Solid solidA = solid(row.first());
        Solid solidB = solid(row.second());
        int bodyA = body(row.first());
        int bodyB = body(row.second());
        PriorityQueue<Node> open = new PriorityQueue<>(Comparator.comparingDouble(Node::floorMm));
        open.add(new Node(start(bodyA, bodyB, held), Double.NEGATIVE_INFINITY));
        Proximity best = null;
        double bestAt = 0;
        double done = Double.POSITIVE_INFINITY;
        for (int boxes = 0; !open.isEmpty() && boxes < MOST_BOXES; boxes++) {
            double enough = best == null ? Double.POSITIVE_INFINITY : best.distanceMm() - KNOWN_TO_MM;
            if (open.peek().floorMm >= enough) {
                break;
            }
            Node node = open.poll();
            double floor = floor(node.box, solidA, bodyA, solidB, bodyB, enough);
            double[] values = new double[workspace.handles().size()];
            node.box.centreInto(values);
            Optional<Proximity> here = at(values, solidA, bodyA, solidB, bodyB);
            if (here.isPresent() && (best == null || here.get().distanceMm() < best.distanceMm())) {
                best = here.get();
                bestAt = freeValue(node.box, held);
            }
            int split = split(node.box, held);
            if (split < 0) {
                done = Math.min(done, Math.max(floor, node.floorMm));
                continue;
            }
            double low = Math.max(floor, node.floorMm);
            open.add(new Node(node.box.halved(split, 0), low));
            open.add(new Node(node.box.halved(split, 1), low));
        }
        if (best == null) {
            return Optional.empty();
        }
        double floor = open.isEmpty() ? done : Math.min(done, open.peek().floorMm);
        return Optional.of(new Swept(best, bestAt, Math.min(floor, best.distanceMm())));
    }

    /**
     * Returns how far handles can go together from rest towards one end, in step by share of their range, before a pair
     * touches; empty if it does not. The way before is proved free, with plays at their worst.
     *
     * @param moved handles that go, at least one
     * @param up whether towards their highest values
     */
    Optional<Double> touchesAtShare(GapRow row, List<Integer> moved, boolean up) {
        Held held = Held.atRest(workspace.handles().size());
        for (int handle : moved) {
            held = held.free(handle);
        }
        int bodyA = body(row.first());
        int bodyB = body(row.second());
        DriverBox box = start(bodyA, bodyB, held);
        for (int i = 0; i < box.size(); i++) {
            if (moved.contains(box.handle(i))) {
                double share = first(box, moved, up, solid(row.first()), bodyA, solid(row.second()), bodyB);
                return share <= 1 ? Optional.of(share) : Optional.empty();
            }
        }
        return Optional.empty();
    }

    /** The share of the range at which a box is first not proved free, looking outwards from rest; infinite if it is. */
    private double first(
            DriverBox box, List<Integer> moved, boolean up, Solid solidA, int bodyA, Solid solidB, int bodyB) {
        int one = -1;
        for (int i = 0; i < box.size() && one < 0; i++) {
            one = moved.contains(box.handle(i)) ? i : -1;
        }
        double low = box.centre(one) - box.half(one);
        double high = box.centre(one) + box.half(one);
        if ((up ? high <= 0 : low >= 0) || floor(box, solidA, bodyA, solidB, bodyB, Double.MIN_VALUE) > 0) {
            return Double.POSITIVE_INFINITY;
        }
        if (box.level(one) >= FINE) {
            Handle handle = workspace.handles().get(box.handle(one));
            return Math.max(0, handle.share(up ? low : high));
        }
        DriverBox near = box;
        DriverBox far = box;
        for (int i = 0; i < box.size(); i++) {
            if (moved.contains(box.handle(i))) {
                near = near.halved(i, up ? 0 : 1);
                far = far.halved(i, up ? 1 : 0);
            }
        }
        double share = first(near, moved, up, solidA, bodyA, solidB, bodyB);
        return share <= 1 ? share : first(far, moved, up, solidA, bodyA, solidB, bodyB);
    }

    private double floor(DriverBox box, Solid solidA, int bodyA, Solid solidB, int bodyB, double enough) {
        if (kinematics.fill(bodyA, box, new double[workspace.plays(bodyA).size()], a) != Kinematics.Reach.PROVED
                || kinematics.fill(bodyB, box, new double[workspace.plays(bodyB).size()], b)
                        != Kinematics.Reach.PROVED) {
            return Double.NEGATIVE_INFINITY;
        }
        double floor = gauge.floor(solidA, a, solidB, b, enough);
        if (floor < enough && relative.seenFrom(a, b)) {
            floor = Math.max(floor, gauge.floor(solidA, relative, solidB, still, enough));
        }
        return floor;
    }

    private Optional<Proximity> at(double[] values, Solid solidA, int bodyA, Solid solidB, int bodyB) {
        if (!kinematics.fillAt(bodyA, values, new double[workspace.plays(bodyA).size()], a)
                || !kinematics.fillAt(
                        bodyB, values, new double[workspace.plays(bodyB).size()], b)) {
            return Optional.empty();
        }
        return Optional.of(gauge.proximity(solidA, Pose.of(a.centre()), solidB, Pose.of(b.centre())));
    }

    private DriverBox start(int bodyA, int bodyB, Held held) {
        DriverBox box = workspace.whole(bodyA, bodyB);
        for (int i = 0; i < box.size(); i++) {
            double value = held.values().get(box.handle(i));
            while (!Double.isNaN(value) && box.splits(i)) {
                box = box.halved(i, value >= box.centre(i) ? 1 : 0);
            }
        }
        return box;
    }

    private static int split(DriverBox box, Held held) {
        int split = -1;
        for (int i = 0; i < box.size(); i++) {
            boolean free = Double.isNaN(held.values().get(box.handle(i)));
            if (free && box.level(i) < FINE && box.splits(i) && (split < 0 || box.level(i) < box.level(split))) {
                split = i;
            }
        }
        return split;
    }

    private static double freeValue(DriverBox box, Held held) {
        for (int i = 0; i < box.size(); i++) {
            if (Double.isNaN(held.values().get(box.handle(i)))) {
                return box.centre(i);
            }
        }
        return 0;
    }

    private Solid solid(String part) {
        return Solid.of(workspace.car().part(part).orElseThrow().shape());
    }

    private int body(String part) {
        return workspace.bodyIndex(workspace.car().part(part).orElseThrow().body());
    }
}
