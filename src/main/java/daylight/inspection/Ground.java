package daylight.inspection;

import daylight.car.Car;
import daylight.clearance.Position;
import daylight.geometry.Direction;
import daylight.geometry.Pose;
import daylight.geometry.RestingPlane;
import daylight.geometry.RestingPlane.Disc;
import daylight.geometry.RestingPlane.Plane;
import daylight.geometry.Solid;
import daylight.geometry.Spot;
import daylight.geometry.Tripod;
import daylight.geometry.Wander;
import daylight.inspection.Footing.Foot;
import daylight.inspection.InspectionReport.Place;
import daylight.inspection.InspectionReport.TravelLow;
import daylight.motion.DriverBox;
import daylight.motion.Handle;
import daylight.motion.Kinematics;
import daylight.motion.Setting;
import daylight.motion.Workspace;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.PriorityQueue;

/**
 * How high parts are above the road: at one position of the car, and over its continuous travel.
 *
 * <p>The road is the plane under the wheels. Over travel both wheels of an axle go through their own travel in step, each
 * axle by itself; everything else that moves the wheels or the part goes through its whole range. A part that may shift
 * hangs as low as its play lets it. Branch and bound as for gaps, with {@link RestingPlane#floor} as the floor.
 *
 * <p>An engine: not thread-safe.
 */
final class Ground {
    /** How near floor and found have to come, mm: a third of what a tape shows. */
    static final double KNOWN_TO_MM = 0.5;

    /** What is proved to stay higher than this, mm, is not looked at more closely: no rule asks for so much. */
    static final double WATCH_MM = 150;

    private static final int MOST_BOXES = 12_000;
    /** Stands kept for the searches of further parts; each holds a few kilobytes. */
    private static final int MOST_STANDS = 20_000;
    /** Halvings of a range after which a box that cannot be enclosed is given up. */
    private static final int UNPROVED_DEPTH = 9;

    private final Workspace workspace;
    private final Kinematics kinematics;
    private final Footing footing;
    private final RestingPlane resting = new RestingPlane();
    private final Wander wander = new Wander();
    private final Wander raw = new Wander();
    private final List<Car.Part> parts = new ArrayList<>();
    private final List<Solid> solids = new ArrayList<>();
    private final Map<StandKey, Stand> stands = new HashMap<>();
    private long boxes;

    Ground(Kinematics kinematics, Footing footing) {
        this.workspace = kinematics.workspace();
        this.kinematics = kinematics;
        this.footing = footing;
        Car car = workspace.car();
        for (Car.Part part : car.parts()) {
            boolean wheel = part.kinds().contains("tyre")
                    || car.wheels().stream().anyMatch(w -> w.part().equals(part.name()));
            if (!wheel) {
                parts.add(part);
                solids.add(Solid.of(part.shape()));
            }
        }
    }

    /** Returns every part but the wheels. */
    List<Car.Part> parts() {
        return parts;
    }

    /** Returns the solid of a part, by its number among {@link #parts}. */
    Solid solid(int part) {
        return solids.get(part);
    }

    /** Returns how many boxes were bounded. */
    long boxes() {
        return boxes;
    }

    /**
     * Returns the height of every part, lowest first, at handle values and with some tyres flat.
     *
     * @param flat whether each wheel stands on its rim
     * @return empty if a mechanism cannot stand there or there is no plane
     */
    Optional<List<Place>> heights(double[] values, boolean[] flat, String when) {
        List<Disc> discs = new ArrayList<>();
        for (int f = 0; f < footing.feet.size(); f++) {
            Foot foot = footing.feet.get(f);
            if (!kinematics.fillAt(foot.body(), values, new double[plays(foot.body())], wander)) {
                return Optional.empty();
            }
            discs.add((flat[f] ? foot.rim() : foot.loaded()).at(Pose.of(wander.centre())));
        }
        List<Plane> planes = Footing.planes(discs);
        if (planes.isEmpty()) {
            return Optional.empty();
        }
        List<Place> places = new ArrayList<>();
        for (int p = 0; p < parts.size(); p++) {
            Optional<Place> place = height(p, values, planes, when);
            if (place.isEmpty()) {
                return Optional.empty();
            }
            places.add(place.get());
        }
        places.sort(Comparator.comparingDouble(Place::mm).thenComparing(Place::part));
        return Optional.of(places);
    }

    private int plays(int body) {
        return workspace.plays(body).size();
    }

    /** The least height of a part over planes, shifted as low as its play lets it. */
    private Optional<Place> height(int part, double[] values, List<Plane> planes, String when) {
        int body = workspace.bodyIndex(parts.get(part).body());
        double least = Double.POSITIVE_INFINITY;
        Spot at = Spot.ORIGIN;
        for (Plane plane : planes) {
            if (!kinematics.fillAt(body, values, downwards(body, values, plane.up()), wander)) {
                return Optional.empty();
            }
            double height = resting.height(plane, solids.get(part), Pose.of(wander.centre()));
            if (height < least) {
                least = height;
                at = resting.spot();
            }
        }
        return Optional.of(new Place(parts.get(part).name(), least, at, when));
    }

    /** How far a body has to shift along each of its plays to be lowest. */
    private double[] downwards(int body, double[] values, Direction up) {
        List<Car.Allowance.Play> plays = workspace.plays(body);
        double[] offsets = new double[plays.size()];
        if (offsets.length > 0 && kinematics.fillAt(body, values, offsets, raw)) {
            Pose pose = Pose.of(raw.centre());
            for (int j = 0; j < offsets.length; j++) {
                Car.Allowance.Play play = plays.get(j);
                offsets[j] = pose.apply(play.along()).dot(up) < 0 ? play.greatestMm() : play.leastMm();
            }
        }
        return offsets;
    }

    /** A box of positions: the boxes of each body's own handles, halved in step. */
    private static final class Node {
        final DriverBox[] boxes;
        final double floorMm;
        final int split;

        Node(DriverBox[] boxes, double floorMm, int split) {
            this.boxes = boxes;
            this.floorMm = floorMm;
            this.split = split;
        }
    }

    /** The boxes of the bodies that carry the wheels, and how many groups of handles there are: what a {@link Stand} hangs on. */
    private record StandKey(int groups, List<DriverBox> carriers) {}

    /** What every part's search finds alike in a box: how the wheels move there and on which three the car may stand. */
    private final class Stand {
        final Wander[] wanders;
        /** The first foot that could not be enclosed, or -1. */
        final int stuck;
        /** The sets of three feet that may carry the car somewhere in the box. */
        final List<Tripod> tripods = new ArrayList<>();
        /** Whether the box is too large to say anything about the road under one of them. */
        boolean vague;
        /** The planes on which it can stand at the centre; empty if there is none. */
        final List<Plane> planes;

        Stand(DriverBox[] box, double[] values, int[] groupOf, int groups) {
            int feet = footing.feet.size();
            wanders = new Wander[feet];
            int trouble = -1;
            for (int f = 0; f < feet && trouble < 0; f++) {
                int body = footing.feet.get(f).body();
                if (kinematics.fill(body, box[f], new double[plays(body)], raw) != Kinematics.Reach.PROVED) {
                    trouble = f;
                }
                wanders[f] = new Wander().together(raw, groups(box[f], groupOf), groups);
            }
            stuck = trouble;
            planes = stuck < 0 ? planesAt(values) : List.of();
            for (int i = 0; stuck < 0 && i < feet; i++) {
                for (int j = i + 1; j < feet; j++) {
                    for (int k = j + 1; k < feet; k++) {
                        look(i, j, k);
                    }
                }
            }
        }

        /** Looks at three feet; if another stays below their plane all over the box, they never carry the car. */
        private void look(int i, int j, int k) {
            Tripod tripod = new Tripod(
                    new Disc[] {disc(i), disc(j), disc(k)}, new Wander[] {wanders[i], wanders[j], wanders[k]});
            for (int f = 0; f < footing.feet.size(); f++) {
                if (f != i && f != j && f != k && resting.ceiling(disc(f), wanders[f], tripod) < 0) {
                    return;
                }
            }
            tripods.add(tripod);
            vague |= tripod.isVague();
        }
    }

    private Disc disc(int foot) {
        return footing.feet.get(foot).loaded();
    }

    private static int[] groups(DriverBox box, int[] groupOf) {
        int[] group = new int[box.size()];
        for (int i = 0; i < group.length; i++) {
            group[i] = groupOf[box.handle(i)];
        }
        return group;
    }

    /** The planes on which the car can stand at handle values; empty if a mechanism cannot stand there or there is none. */
    private List<Plane> planesAt(double[] values) {
        List<Disc> discs = new ArrayList<>();
        for (Foot foot : footing.feet) {
            if (!kinematics.fillAt(foot.body(), values, new double[plays(foot.body())], wander)) {
                return List.of();
            }
            discs.add(foot.loaded().at(Pose.of(wander.centre())));
        }
        return Footing.planes(discs);
    }

    /** One part's search. */
    private final class Search {
        final int part;
        final Solid solid;
        final int[] bodies;
        final int[] groupOf;
        final int groups;
        final Wander ownWander = new Wander();
        double bestMm = Double.POSITIVE_INFINITY;
        double[] bestAt = new double[workspace.handles().size()];
        Spot bestSpot = Spot.ORIGIN;
        boolean proved = true;

        Search(int part) {
            this.part = part;
            this.solid = solids.get(part);
            int feet = footing.feet.size();
            bodies = new int[feet + 1];
            for (int f = 0; f < feet; f++) {
                bodies[f] = footing.feet.get(f).body();
            }
            bodies[feet] = workspace.bodyIndex(parts.get(part).body());
            int handles = workspace.handles().size();
            groupOf = new int[handles];
            Arrays.fill(groupOf, -1);
            int count = footing.axles;
            for (int body : bodies) {
                for (int handle : workspace.handlesOf(body, body)) {
                    if (groupOf[handle] < 0) {
                        int axle = footing.axleRaisedBy(handle);
                        groupOf[handle] = axle >= 0 ? axle : count++;
                    }
                }
            }
            groups = count;
        }

        TravelLow run() {
            double[] rest = new double[workspace.handles().size()];
            measure(rest, planesAt(rest));
            DriverBox[] whole = new DriverBox[bodies.length];
            for (int b = 0; b < bodies.length; b++) {
                whole[b] = workspace.whole(bodies[b], bodies[b]);
            }
            PriorityQueue<Node> open = new PriorityQueue<>(Comparator.comparingDouble(node -> node.floorMm));
            open.add(bound(whole, Double.NEGATIVE_INFINITY));
            double done = Double.POSITIVE_INFINITY;
            long limit = boxes + MOST_BOXES;
            while (!open.isEmpty() && open.peek().floorMm < enough()) {
                Node node = open.poll();
                if (node.split < 0 || boxes >= limit) {
                    done = Math.min(done, node.floorMm);
                    proved = false;
                    continue;
                }
                open.add(bound(halved(node.boxes, node.split, 0), node.floorMm));
                open.add(bound(halved(node.boxes, node.split, 1), node.floorMm));
            }
            if (!open.isEmpty()) {
                done = Math.min(done, open.peek().floorMm);
            }
            List<Setting> settings = new ArrayList<>();
            for (int h = 0; h < groupOf.length; h++) {
                if (groupOf[h] >= 0) {
                    Handle handle = workspace.handles().get(h);
                    settings.add(new Setting(handle.name(), bestAt[h], handle.turns()));
                }
            }
            return new TravelLow(
                    parts.get(part).name(),
                    bestMm,
                    bestSpot,
                    new Position(settings, List.of()),
                    Math.min(done, bestMm),
                    proved);
        }

        /** A box whose floor reaches this needs no further look. */
        private double enough() {
            return Math.min(bestMm - KNOWN_TO_MM, WATCH_MM);
        }

        private DriverBox[] halved(DriverBox[] from, int group, int side) {
            DriverBox[] half = from.clone();
            for (int b = 0; b < half.length; b++) {
                for (int i = 0; i < half[b].size(); i++) {
                    if (groupOf[half[b].handle(i)] == group) {
                        half[b] = half[b].halved(i, side);
                    }
                }
            }
            return half;
        }

        private Node bound(DriverBox[] box, double parentFloor) {
            boxes++;
            double[] values = centre(box);
            Stand stand = stand(box, values);
            int own = bodies.length - 1;
            int trouble = stand.stuck;
            if (trouble < 0 && !stand.vague) {
                double[] offsets = downwards(bodies[own], values, Direction.UP);
                if (kinematics.fill(bodies[own], box[own], offsets, raw) != Kinematics.Reach.PROVED) {
                    trouble = own;
                }
                ownWander.together(raw, groups(box[own], groupOf), groups);
            }
            if (trouble >= 0) {
                return new Node(box, parentFloor, shallowest(box, trouble));
            }
            measure(values, stand.planes);
            double floor = floors(stand, box, values);
            int split = -1;
            if (floor < enough()) {
                double widest = 0;
                for (int g = 0; g < groups; g++) {
                    if (doubts[g] > widest && splits(box, g)) {
                        widest = doubts[g];
                        split = g;
                    }
                }
                if (split < 0) {
                    split = shallowest(box, -1);
                }
            }
            return new Node(box, Math.max(parentFloor, floor), split);
        }

        /** A box's stand, which other parts' searches may have made. */
        private Stand stand(DriverBox[] box, double[] values) {
            StandKey key = new StandKey(groups, List.of(Arrays.copyOf(box, footing.feet.size())));
            Stand known = stands.get(key);
            if (known == null) {
                known = new Stand(box, values, groupOf, groups);
                if (stands.size() < MOST_STANDS) {
                    stands.put(key, known);
                }
            }
            return known;
        }

        double[] doubts = new double[0];

        /** The least floor over every plane on which the car might stand somewhere in the box. */
        private double floors(Stand stand, DriverBox[] box, double[] values) {
            doubts = new double[groups];
            if (stand.vague) {
                for (int g = 0; g < groups; g++) {
                    doubts[g] = spread(box, g);
                }
                return Double.NEGATIVE_INFINITY;
            }
            double least = Double.POSITIVE_INFINITY;
            double[] end = values;
            for (Tripod tripod : stand.tripods) {
                double floor = resting.floor(solid, ownWander, tripod);
                for (int g = 0; g < groups; g++) {
                    doubts[g] = Math.max(doubts[g], resting.doubt(g));
                }
                if (floor < least) {
                    least = floor;
                    end = corner(box, values);
                }
            }
            // No position of the box is lower than its floor.
            if (end != values && least < bestMm) {
                measure(end, planesAt(end));
            }
            return least;
        }

        private double spread(DriverBox[] box, int group) {
            double widest = 0;
            for (DriverBox b : box) {
                for (int i = 0; i < b.size(); i++) {
                    if (groupOf[b.handle(i)] == group) {
                        Handle handle = workspace.handles().get(b.handle(i));
                        widest = Math.max(widest, 2 * b.half(i) / (handle.highest() - handle.lowest()));
                    }
                }
            }
            return widest;
        }

        private boolean splits(DriverBox[] box, int group) {
            boolean any = false;
            for (DriverBox b : box) {
                for (int i = 0; i < b.size(); i++) {
                    if (groupOf[b.handle(i)] == group) {
                        if (b.level(i) >= DriverBox.DEEPEST) {
                            return false;
                        }
                        any |= b.splits(i);
                    }
                }
            }
            return any;
        }

        /** The group that was halved least among those of a body (or of all), or -1 when it is no use going on. */
        private int shallowest(DriverBox[] box, int body) {
            int group = -1;
            int least = UNPROVED_DEPTH;
            for (int b = 0; b < box.length; b++) {
                for (int i = 0; i < box[b].size() && (body < 0 || b == body); i++) {
                    int g = groupOf[box[b].handle(i)];
                    if (box[b].level(i) < least && splits(box, g)) {
                        least = box[b].level(i);
                        group = g;
                    }
                }
            }
            return group;
        }

        private double[] centre(DriverBox[] box) {
            double[] values = new double[groupOf.length];
            for (DriverBox b : box) {
                for (int i = 0; i < b.size(); i++) {
                    values[b.handle(i)] = b.centre(i);
                }
            }
            return values;
        }

        private double[] corner(DriverBox[] box, double[] centre) {
            double[] values = centre.clone();
            for (DriverBox b : box) {
                for (int i = 0; i < b.size(); i++) {
                    int h = b.handle(i);
                    values[h] = b.centre(i) + resting.towards(groupOf[h]) * b.half(i);
                }
            }
            return values;
        }

        private void measure(double[] values, List<Plane> planes) {
            if (planes.isEmpty()) {
                return;
            }
            height(part, values, planes, "").ifPresent(place -> {
                if (place.mm() < bestMm) {
                    bestMm = place.mm();
                    bestSpot = place.at();
                    bestAt = values.clone();
                }
            });
        }
    }

    /** Returns the least height of a part over travel. */
    TravelLow overTravel(int part) {
        return new Search(part).run();
    }
}
