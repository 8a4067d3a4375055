package daylight.hose;

import daylight.car.Car;
import daylight.clearance.LeftOut;
import daylight.clearance.Onset;
import daylight.clearance.Position;
import daylight.clearance.Rules;
import daylight.geometry.Direction;
import daylight.geometry.Gauge;
import daylight.geometry.Pose;
import daylight.geometry.Proximity;
import daylight.geometry.Shape;
import daylight.geometry.Solid;
import daylight.geometry.Spot;
import daylight.motion.Handle;
import daylight.motion.Setting;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.TreeSet;
import org.joml.Matrix4x3d;

/**
 * The parts about one line, and how near its solved shapes come to them. Which parts a line can never reach is proved
 * ({@link ReachBound}); the gaps to the others are those of the shapes that are shown to {@link #look}.
 *
 * <p>The line is a tube along its solved centre line, wider by what the straight pieces between its spots lack, with
 * the stiff ends of its fittings. A part on a body that holds the line may be touched within {@value #AT_FITTING_MM} mm
 * of where it is held, if it reaches so near at ride height; that much of the line is then left out for it.
 */
final class Neighbours {
    /** So near to its fitting or clip a hose may touch what carries it (common practice, no source). */
    static final double AT_FITTING_MM = 25;
    /** Values of a handle that moves a part and not the line, as shares of its range on either side. */
    private static final double[] SHARES = {0, -1, 1, -0.5, 0.5};
    /** Spots to a coarse interval of the rod: about 6 mm apart on a brake hose. */
    private static final int PER_INTERVAL = 1;
    /** The straight pieces of the tube may leave these spots by so much; the tube is that much wider, mm. */
    private static final double OFF_MM = 0.2;
    /** Spots nearer to one another than this are one. */
    private static final double SAME_MM = 1e-6;

    private final LineTravel line;
    private final Gauge gauge = new Gauge();
    private final double watchMm;
    private final double interestMm;
    private final double[] through = new double[3 * (PER_INTERVAL * Rod.COARSE + 1)];
    /** The line's spots where it was last settled, all pieces. */
    private double[] spots = {};

    private double[] seen = {};
    /** Corners of the stretch that is being made a solid. */
    private final double[] run = new double[3 * (2 * (PER_INTERVAL * Rod.COARSE + 1) + 2)];

    private int runSpots;
    private double sagittaMm;
    private final List<Part> parts = new ArrayList<>();
    private final List<LeftOut> leftOut = new ArrayList<>();
    private final Map<Integer, Optional<Solid>> sections = new HashMap<>();
    private final Matrix4x3d rest = new Matrix4x3d();
    private final Matrix4x3d there = new Matrix4x3d();
    private double boundMm;
    private final BitSet reachable = new BitSet();
    private int boxes;

    /** A part, what is asked of it, and how near the line came. */
    static final class Part {
        final Car.Part part;
        final Solid solid;
        final int body;
        final double requiredMm;
        final String rule;
        /** Where the line is held (0: from, then the clips, last: to) so near that this part may be touched there. */
        final BitSet mayTouchAt;
        /** Handles that move the part and not the line. */
        final int[] ownHandles;
        /** No shape comes nearer, mm. */
        double floorMm;

        Optional<Proximity> atRide = Optional.empty();
        Optional<Proximity> near = Optional.empty();
        Optional<Position> where = Optional.empty();
        double[] nearAt = {};
        /** The line's shape there. */
        Optional<LineShape.Saved> nearShape = Optional.empty();

        double leastMm = Double.POSITIVE_INFINITY;
        /** Settings of its own handles that are looked at. */
        final double[][] settings;
        /** For each: where the line's spots were, seen from the part, when it was last measured, and the gap then. */
        final double[][] spots;

        final double[] gapThenMm;
        final Since touches = new Since();
        final Since belowRule = new Since();

        Part(
                Car.Part part,
                Solid solid,
                int body,
                double requiredMm,
                String rule,
                BitSet mayTouchAt,
                int[] ownHandles,
                double[][] settings) {
            this.settings = settings;
            spots = new double[settings.length][0];
            gapThenMm = new double[settings.length];
            this.part = part;
            this.solid = solid;
            this.body = body;
            this.requiredMm = requiredMm;
            this.rule = rule;
            this.mayTouchAt = mayTouchAt;
            this.ownHandles = ownHandles;
        }
    }

    /** The sampled position with the least share of travel at which a gap is below a figure. */
    static final class Since {
        double share = Double.POSITIVE_INFINITY;
        Optional<Position> at = Optional.empty();

        /** Sampled: nothing is promised of what comes before. */
        Optional<Onset> onset() {
            return at.map(position -> new Onset(position, share, 0));
        }

        void offer(double share, Position position) {
            if (share < this.share) {
                this.share = share;
                at = Optional.of(position);
            }
        }
    }

    /**
     * Lists the parts about a line.
     *
     * @param solids the car's parts made ready
     * @param watchMm parts that the line cannot come nearer to than this are far
     */
    Neighbours(LineTravel line, CarSolids solids, double watchMm) {
        this(line, solids, watchMm, Double.POSITIVE_INFINITY, Optional.empty());
    }

    /**
     * Lists only the parts of these numbers, and proves nothing about them.
     *
     * @param interestMm gaps wider than their rule by this are not measured
     */
    Neighbours(LineTravel line, CarSolids solids, double interestMm, BitSet only) {
        this(line, solids, 0, interestMm, Optional.of(only));
    }

    private Neighbours(LineTravel line, CarSolids solids, double watchMm, double interestMm, Optional<BitSet> only) {
        this.line = line;
        this.watchMm = watchMm;
        this.interestMm = interestMm;
        Car car = line.workspace.car();
        Car.Part asPart = asPart(line.hose);
        ReachBound bound = new ReachBound(line, gauge);
        for (int p = 0; p < car.parts().size(); p++) {
            if (only.isPresent() && !only.get().get(p)) {
                continue;
            }
            Car.Part part = car.parts().get(p);
            Optional<Car.Exclusion> excluded = Rules.exclusion(car, asPart, part);
            if (excluded.isPresent()) {
                leftOut.add(new LeftOut(
                        line.hose.name(), part.name(), excluded.get().reason()));
                continue;
            }
            Optional<Car.Rule> rule = Rules.of(car.rules(), asPart, part);
            int body = line.workspace.bodyIndex(part.body());
            int[] own = ownHandles(body);
            Part made = new Part(
                    part,
                    solids.solids().get(p),
                    body,
                    rule.map(Car.Rule::atLeastMm).orElse(0.0),
                    rule.map(Rules::words).orElse("no rule: must not touch"),
                    mayTouchAt(part, solids.solids().get(p)),
                    own,
                    settings(own));
            if (!made.mayTouchAt.isEmpty()) {
                leftOut.add(new LeftOut(
                        line.hose.name(),
                        part.name(),
                        String.format(
                                Locale.ROOT,
                                "the %.0f mm of hose next to where %s holds it; the rest is measured",
                                AT_FITTING_MM,
                                part.body())));
            }
            made.floorMm = only.isPresent()
                    ? Double.NEGATIVE_INFINITY
                    : bound.floorMm(made.solid, solids.rooms().get(p), body, Math.max(watchMm, made.requiredMm));
            parts.add(made);
            if (!far(made)) {
                reachable.set(p);
            }
        }
        boxes = bound.boxes();
    }

    /** A line as rules see it. */
    static Car.Part asPart(Car.Hose hose) {
        return new Car.Part(
                hose.name(),
                hose.from().body(),
                hose.kinds(),
                new Shape.Ball(hose.from().at(), hose.outsideDiameterMm() / 2),
                Optional.empty());
    }

    private BitSet mayTouchAt(Car.Part part, Solid solid) {
        BitSet at = new BitSet();
        Car.Hose hose = line.hose;
        int last = hose.clips().size() + 1;
        for (int i = 0; i <= last; i++) {
            String body = i == 0
                    ? hose.from().body()
                    : i == last ? hose.to().body() : hose.clips().get(i - 1).body();
            Spot spot = i == 0
                    ? hose.from().mouth()
                    : i == last ? hose.to().mouth() : hose.clips().get(i - 1).at();
            if (body.equals(part.body())) {
                Solid here = Solid.of(new Shape.Ball(spot, hose.outsideDiameterMm() / 2));
                if (gauge.proximity(here, Pose.RIDE_HEIGHT, solid, Pose.RIDE_HEIGHT)
                                .distanceMm()
                        < AT_FITTING_MM) {
                    at.set(i);
                }
            }
        }
        return at;
    }

    private int[] ownHandles(int body) {
        TreeSet<Integer> own = new TreeSet<>(line.workspace.handlesOf(body, body));
        for (int handle : line.handles) {
            own.remove(handle);
        }
        return own.stream().mapToInt(Integer::intValue).toArray();
    }

    /** Every combination of a few values of each handle, all at rest first. */
    private double[][] settings(int[] own) {
        int count = 1;
        for (int i = 0; i < own.length; i++) {
            count *= SHARES.length;
        }
        double[][] settings = new double[count][own.length];
        for (int s = 0; s < count; s++) {
            int rest = s;
            for (int i = 0; i < own.length; i++) {
                Handle handle = line.workspace.handles().get(own[i]);
                double share = SHARES[rest % SHARES.length];
                rest /= SHARES.length;
                settings[s][i] = share < 0 ? -share * handle.lowest() : share * handle.highest();
            }
        }
        return settings;
    }

    List<Part> parts() {
        return parts;
    }

    /** Returns the numbers of the parts that are not far, in the car's order. */
    BitSet reachable() {
        return reachable;
    }

    List<LeftOut> leftOut() {
        return leftOut;
    }

    int boxes() {
        return boxes;
    }

    /** Whether a part is proved to stay farther away than anyone asks. */
    boolean far(Part part) {
        return part.floorMm >= Math.max(watchMm, part.requiredMm);
    }

    /**
     * Measures the line's shape where the car stands.
     *
     * @param at the line's freedoms; the car stands there and the shape was settled there
     * @param rides whether this is ride height
     */
    void look(LineShape shape, double[] at, boolean rides) {
        sections.clear();
        readSpots(shape);
        double share = share(at);
        for (Part part : parts) {
            if (rides) {
                part.atRide = proximity(part, line.pose(part.body), shape, Double.POSITIVE_INFINITY);
            }
            if (rides || !far(part)) {
                every(part, shape, at, share);
            }
        }
    }

    /** Measures one part at every setting of its own handles. */
    private void every(Part part, LineShape shape, double[] at, double share) {
        for (int s = 0; s < part.settings.length; s++) {
            double[] own = part.settings[s];
            double most = share;
            for (int i = 0; i < own.length; i++) {
                most = Math.max(
                        most, line.workspace.handles().get(part.ownHandles[i]).share(own[i]));
            }
            Optional<Pose> pose = line.pose(part.body, part.ownHandles, own);
            if (pose.isPresent()) {
                measure(part, s, pose.get(), shape, at, most);
            }
        }
    }

    private void measure(Part part, int setting, Pose pose, LineShape shape, double[] at, double share) {
        List<Car.Allowance.Play> plays = line.holds(part.body) ? List.of() : line.workspace.plays(part.body);
        double reach = 0;
        for (Car.Allowance.Play play : plays) {
            reach += Math.max(-play.leastMm(), play.greatestMm());
        }
        double wanted = Math.min(part.leastMm, part.requiredMm + interestMm);
        if (share < part.belowRule.share) {
            wanted = Math.max(wanted, part.requiredMm);
        }
        // No gap shrinks faster than the line moves past the part: most positions need no measuring.
        if (part.gapThenMm[setting] - movedMm(part.spots[setting], pose) - 2 * (OFF_MM + sagittaMm) - reach >= wanted) {
            return;
        }
        Optional<Proximity> measured = proximity(part, pose, shape, wanted + reach);
        part.spots[setting] = seen.clone();
        if (measured.isEmpty()) {
            part.gapThenMm[setting] = boundMm;
            return;
        }
        Proximity near = measured.get();
        part.gapThenMm[setting] = near.distanceMm();
        List<Setting> shifts = new ArrayList<>();
        if (near.distanceMm() - reach < wanted && !plays.isEmpty()) {
            Pose shifted = pose;
            for (Car.Allowance.Play play : plays) {
                Direction along = pose.apply(play.along());
                double mm = along.dot(near.normal()) > 0 ? play.leastMm() : play.greatestMm();
                if (mm != 0) {
                    shifted = LineTravel.shifted(shifted, play.along(), mm);
                    shifts.add(new Setting(line.workspace.bodyName(part.body) + " " + play.name(), mm, false));
                }
            }
            Optional<Proximity> nearer = proximity(part, shifted, shape, near.distanceMm());
            if (nearer.isPresent()) {
                near = nearer.get();
            } else {
                shifts.clear();
            }
        }
        if (near.distanceMm() < part.leastMm) {
            part.leastMm = near.distanceMm();
            part.near = Optional.of(near);
            part.nearAt = at.clone();
            part.nearShape = Optional.of(shape.save());
            part.where = Optional.of(position(part, setting, at, shifts));
        }
        if (near.distanceMm() <= 0) {
            part.touches.offer(share, position(part, setting, at, shifts));
        }
        if (near.distanceMm() < part.requiredMm) {
            part.belowRule.offer(share, position(part, setting, at, shifts));
        }
    }

    /** Reads the line's spots, car frame. */
    private void readSpots(LineShape shape) {
        int per = through.length;
        if (spots.length == 0) {
            spots = new double[per * shape.rods.length];
            seen = new double[spots.length];
        }
        sagittaMm = 0;
        for (int piece = 0; piece < shape.rods.length; piece++) {
            int count = shape.rods[piece].spotsInto(through, PER_INTERVAL);
            System.arraycopy(through, 0, spots, piece * per, per);
            double chord = shape.lengths[piece] / (count - 1);
            double radius = Math.max(shape.rods[piece].tightestRadiusMm(), chord / 2);
            sagittaMm = Math.max(sagittaMm, chord * chord / (8 * radius));
        }
    }

    /** How far the line's spots are, seen from a part at a pose, from where they were when it was last measured, mm. */
    private double movedMm(double[] then, Pose pose) {
        boolean first = then.length == 0;
        double most = 0;
        for (int i = 0; i < spots.length; i += 3) {
            double x = spots[i] - pose.tx();
            double y = spots[i + 1] - pose.ty();
            double z = spots[i + 2] - pose.tz();
            seen[i] = pose.rxx() * x + pose.ryx() * y + pose.rzx() * z;
            seen[i + 1] = pose.rxy() * x + pose.ryy() * y + pose.rzy() * z;
            seen[i + 2] = pose.rxz() * x + pose.ryz() * y + pose.rzz() * z;
            if (!first) {
                double dx = seen[i] - then[i];
                double dy = seen[i + 1] - then[i + 1];
                double dz = seen[i + 2] - then[i + 2];
                most = Math.max(most, dx * dx + dy * dy + dz * dz);
            }
        }
        return first ? Double.POSITIVE_INFINITY : Math.sqrt(most);
    }

    /** The line's position, with the part's own handles (in the car's order) and shifts. */
    private Position position(Part part, int setting, double[] at, List<Setting> shifts) {
        Position mine = line.position(at);
        List<Setting> all = new ArrayList<>(mine.shifts());
        all.addAll(shifts);
        List<Setting> handles = new ArrayList<>(mine.handles());
        for (int i = 0; i < part.ownHandles.length; i++) {
            Handle handle = line.workspace.handles().get(part.ownHandles[i]);
            handles.add(new Setting(handle.name(), part.settings[setting][i], handle.turns()));
        }
        return new Position(handles, all);
    }

    private double share(double[] at) {
        double share = 0;
        for (int f = 0; f < at.length; f++) {
            int handle = line.freedoms.get(f).handle();
            if (handle >= 0) {
                share = Math.max(share, line.workspace.handles().get(handle).share(at[f]));
            }
        }
        return share;
    }

    /**
     * Returns how near the line is to a part, leaving out what it may touch; empty when that is at least
     * {@code below}, {@link #boundMm} then being a bound from below.
     */
    private Optional<Proximity> proximity(Part part, Pose pose, LineShape shape, double below) {
        Optional<Proximity> nearest = Optional.empty();
        double limit = below;
        boundMm = Double.POSITIVE_INFINITY;
        pose.into(there);
        for (int section = 0; section <= 2 * shape.rods.length; section++) {
            // Even sections are where the line is held, odd ones lie between.
            if (section % 2 == 0 && part.mayTouchAt.get(section / 2)) {
                continue;
            }
            int which = section;
            Optional<Solid> mine = sections.computeIfAbsent(section, s -> section(shape, which));
            if (mine.isEmpty()) {
                continue;
            }
            double gap = gauge.measure(mine.get(), rest, part.solid, there, limit);
            boundMm = Math.min(boundMm, gap);
            if (gauge.isExact() && gap < limit) {
                Proximity fresh = gauge.proximity(mine.get(), rest, part.solid, there);
                if (fresh.distanceMm() < limit) {
                    nearest = Optional.of(fresh);
                    limit = fresh.distanceMm();
                }
            }
        }
        return nearest;
    }

    /** A stretch of the line as a solid in the car frame: about where it is held, or between two such stretches. */
    private Optional<Solid> section(LineShape shape, int section) {
        int per = through.length / 3;
        int hold = section / 2;
        runSpots = 0;
        if (section % 2 == 1) {
            int skip = skip(shape, hold);
            stretch(per * hold + skip, per * (hold + 1) - 1 - skip);
            return solid();
        }
        if (hold == 0) {
            stiff(line.pieces.get(0).bodyA(), line.hose.from());
        } else {
            stretch(per * hold - 1 - skip(shape, hold - 1), per * hold - 1);
        }
        if (hold == shape.rods.length) {
            stiff(line.pieces.get(hold - 1).bodyB(), line.hose.to());
        } else {
            stretch(per * hold, per * hold + skip(shape, hold));
        }
        return solid();
    }

    /** How many spots lie within the stretch where a line may touch what holds it; two pieces at most stay apart. */
    private int skip(LineShape shape, int piece) {
        int per = through.length / 3;
        return Math.min((per - 3) / 2, (int) Math.ceil(AT_FITTING_MM / (shape.lengths[piece] / (per - 1))));
    }

    private void stretch(int from, int to) {
        add(spots[3 * from], spots[3 * from + 1], spots[3 * from + 2]);
        for (int at = from; at < to; ) {
            at = next(at, to);
            add(spots[3 * at], spots[3 * at + 1], spots[3 * at + 2]);
        }
    }

    private Optional<Solid> solid() {
        return runSpots < 2
                ? Optional.empty()
                : Optional.of(Solid.chain(run, runSpots, line.hose.outsideDiameterMm() / 2 + OFF_MM + sagittaMm));
    }

    private void add(double x, double y, double z) {
        int o = 3 * runSpots;
        if (runSpots > 0) {
            double dx = x - run[o - 3];
            double dy = y - run[o - 2];
            double dz = z - run[o - 1];
            if (dx * dx + dy * dy + dz * dz <= SAME_MM * SAME_MM) {
                return;
            }
        }
        run[o] = x;
        run[o + 1] = y;
        run[o + 2] = z;
        runSpots++;
    }

    /** The furthest spot that a straight from this one reaches while no spot between lies off it by more than allowed. */
    private int next(int from, int to) {
        int reached = from + 1;
        for (int end = from + 2; end <= to; end++) {
            double dx = spots[3 * end] - spots[3 * from];
            double dy = spots[3 * end + 1] - spots[3 * from + 1];
            double dz = spots[3 * end + 2] - spots[3 * from + 2];
            double size = Math.max(dx * dx + dy * dy + dz * dz, SAME_MM);
            for (int i = from + 1; i < end; i++) {
                double x = spots[3 * i] - spots[3 * from];
                double y = spots[3 * i + 1] - spots[3 * from + 1];
                double z = spots[3 * i + 2] - spots[3 * from + 2];
                double along = Math.max(0, Math.min(1, (x * dx + y * dy + z * dz) / size));
                x -= along * dx;
                y -= along * dy;
                z -= along * dz;
                if (x * x + y * y + z * z > OFF_MM * OFF_MM) {
                    return reached;
                }
            }
            reached = end;
        }
        return reached;
    }

    private void stiff(int body, Car.Hose.Fitting fitting) {
        if (fitting.straightMm() > SAME_MM) {
            Spot at = line.pose(body).apply(fitting.at());
            add(at.x(), at.y(), at.z());
        }
    }
}
