package daylight.hose;

import daylight.car.Car;
import daylight.clearance.GapRow;
import daylight.clearance.Least;
import daylight.clearance.LeftOut;
import daylight.clearance.Position;
import daylight.clearance.Rules;
import daylight.clearance.State;
import daylight.geometry.Gauge;
import daylight.geometry.Pose;
import daylight.geometry.Proximity;
import daylight.geometry.Solid;
import daylight.geometry.Spot;
import daylight.motion.Handle;
import daylight.motion.Kinematics;
import daylight.motion.Setting;
import daylight.units.Progress;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.TreeMap;
import org.joml.Matrix4x3d;

/**
 * How near two flexible lines come to one another. That lines which cannot reach one another stay apart is proved by
 * the room that each can reach; of all others the shapes of both are solved over a grid of what moves either of them,
 * each continued from its neighbour, and then about the nearest position of the grid.
 *
 * <p>Where the two are held by one body side by side, so much of both as {@link Neighbours} leaves out beside a
 * fitting is left out here.
 */
final class LinePair {
    /** Most positions on either side of rest along each freedom, by how many there are; the one that moves most first. */
    private static final int[][] EITHER_SIDE = {
        {}, {12}, {7, 5}, {4, 3, 3}, {3, 2, 2, 2}, {2, 2, 2, 1, 1}, {2, 2, 1, 1, 1, 1}
    };

    private static final double STEP_MM = 18;
    private static final int HALVINGS = 5;
    /** Spots to a coarse interval of the rod. */
    private static final int PER_INTERVAL = 1;
    /** Spots nearer to one another than this are one. */
    private static final double SAME_MM = 1e-6;

    private final One first;
    private final One second;
    private final Gauge gauge = new Gauge();
    private final Matrix4x3d rest = new Matrix4x3d();
    private final double requiredMm;
    private final String rule;
    /** What moves either line. */
    private final List<Freedom> freedoms = new ArrayList<>();

    private final double[] at;
    private final int[] walked;
    private final int[][] grid;
    private final List<String> atRest = new ArrayList<>();

    private int positions;
    private int unknown;
    private double stepMm;
    private double leastMm = Double.POSITIVE_INFINITY;
    private double[] leastAt = {};
    private Optional<Proximity> near = Optional.empty();
    private final Neighbours.Since touches = new Neighbours.Since();
    private final Neighbours.Since belowRule = new Neighbours.Since();
    private Optional<LineShape.Saved> firstThere = Optional.empty();
    private Optional<LineShape.Saved> secondThere = Optional.empty();

    /** A freedom of either line or of both; its number in each, or -1. */
    private record Freedom(LineTravel.Freedom of, int inFirst, int inSecond) {}

    /** One of the two. */
    private static final class One {
        final LineTravel line;
        final LineShape shape;
        final double[] at;
        /** Lengths along it, from its first spot, between which it is left out. */
        final List<double[]> held = new ArrayList<>();

        final double[] through = new double[3 * (PER_INTERVAL * Rod.COARSE + 1)];
        final double[] run;
        boolean settled;
        List<Solid> solids = List.of();

        One(Car.Hose hose, Stances stances) {
            line = new LineTravel(hose, stances);
            shape = new LineShape(line);
            at = new double[line.freedoms.size()];
            run = new double[line.pieces.size() * through.length + 6];
        }

        /** Where it is held: begin, clips, end. */
        Hold hold(int i) {
            Car.Hose hose = line.hose;
            if (i == 0) {
                return new Hold(hose.from().body(), hose.from().mouth(), 0);
            }
            if (i <= hose.clips().size()) {
                Car.Hose.Clip clip = hose.clips().get(i - 1);
                return new Hold(clip.body(), clip.at(), clip.afterMm());
            }
            return new Hold(hose.to().body(), hose.to().mouth(), hose.freeLengthMm());
        }

        int holds() {
            return line.hose.clips().size() + 2;
        }

        /** Solves for its shape where its freedoms stand, and makes it solid. */
        void settle() {
            settled = line.stand(at) && shape.settle() == Ending.CONVERGED;
            if (settled) {
                makeSolid();
            }
        }

        private void makeSolid() {
            solids = new ArrayList<>();
            int spots = 0;
            double along = 0;
            double sagitta = 0;
            for (int piece = 0; piece < shape.rods.length; piece++) {
                double chord = shape.lengths[piece] / (PER_INTERVAL * Rod.COARSE);
                double radius = Math.max(shape.rods[piece].tightestRadiusMm(), chord / 2);
                sagitta = Math.max(sagitta, chord * chord / (8 * radius));
            }
            double thick = line.hose.outsideDiameterMm() / 2 + sagitta;
            if (free(0)) {
                spots = add(
                        spots,
                        line.pose(line.pieces.get(0).bodyA())
                                .apply(line.hose.from().at()));
            }
            for (int piece = 0; piece < shape.rods.length; piece++) {
                int count = shape.rods[piece].spotsInto(through, PER_INTERVAL);
                double chord = shape.lengths[piece] / (count - 1);
                for (int i = 0; i < count; i++) {
                    if (free(along + i * chord)) {
                        spots = add(spots, new Spot(through[3 * i], through[3 * i + 1], through[3 * i + 2]));
                    } else {
                        spots = cut(spots, thick);
                    }
                }
                along += shape.lengths[piece];
            }
            if (free(along)) {
                int last = line.pieces.size() - 1;
                spots = add(
                        spots,
                        line.pose(line.pieces.get(last).bodyB())
                                .apply(line.hose.to().at()));
            }
            cut(spots, thick);
        }

        private boolean free(double along) {
            return held.stream().noneMatch(stretch -> along > stretch[0] && along < stretch[1]);
        }

        private int add(int spots, Spot spot) {
            int o = 3 * spots;
            if (spots > 0 && spot.distanceTo(new Spot(run[o - 3], run[o - 2], run[o - 1])) <= SAME_MM) {
                return spots;
            }
            run[o] = spot.x();
            run[o + 1] = spot.y();
            run[o + 2] = spot.z();
            return spots + 1;
        }

        private int cut(int spots, double thick) {
            if (spots > 1) {
                solids.add(Solid.chain(run, spots, thick));
            }
            return 0;
        }
    }

    /** A spot at which a body holds a line, so far along it. */
    private record Hold(String body, Spot at, double afterMm) {}

    private LinePair(One first, One second, double requiredMm, String rule) {
        this.first = first;
        this.second = second;
        this.requiredMm = requiredMm;
        this.rule = rule;
        for (int f = 0; f < first.at.length; f++) {
            LineTravel.Freedom mine = first.line.freedoms.get(f);
            freedoms.add(new Freedom(mine, f, second.line.freedoms.indexOf(mine)));
        }
        for (int f = 0; f < second.at.length; f++) {
            LineTravel.Freedom mine = second.line.freedoms.get(f);
            if (!first.line.freedoms.contains(mine)) {
                freedoms.add(new Freedom(mine, -1, f));
            }
        }
        at = new double[freedoms.size()];
        double[][] moves = new double[freedoms.size()][2];
        List<Integer> order = new ArrayList<>();
        for (int f = 0; f < freedoms.size(); f++) {
            Freedom freedom = freedoms.get(f);
            for (int side = 0; side < 2; side++) {
                double end = side == 0 ? freedom.of.lowest() : freedom.of.highest();
                moves[f][side] = Math.max(
                        ShapeWalk.moveMm(first.line, freedom.inFirst, end),
                        ShapeWalk.moveMm(second.line, freedom.inSecond, end));
            }
            order.add(f);
        }
        order.sort(Comparator.comparingDouble((Integer f) -> -Math.max(moves[f][0], moves[f][1]))
                .thenComparing(f -> f));
        int most = Math.min(freedoms.size(), EITHER_SIDE.length - 1);
        order.subList(most, freedoms.size())
                .forEach(f -> atRest.add(freedoms.get(f).of.name()));
        walked = order.subList(0, most).stream().mapToInt(Integer::intValue).toArray();
        grid = new int[most][2];
        for (int d = 0; d < most; d++) {
            for (int side = 0; side < 2; side++) {
                int wanted = (int) Math.ceil(moves[walked[d]][side] / STEP_MM);
                grid[d][side] = Math.max(1, Math.min(EITHER_SIDE[most][d], wanted));
            }
        }
    }

    /**
     * Returns the rows of every two lines of a car, or empty if the work was cancelled.
     *
     * @param watchMm lines that cannot come nearer to one another than this are far
     */
    static Optional<List<HoseGaps.Found>> all(
            Car car, Kinematics kinematics, double watchMm, int threads, Progress progress) {
        List<int[]> pairs = new ArrayList<>();
        for (int a = 0; a < car.hoses().size(); a++) {
            for (int b = a + 1; b < car.hoses().size(); b++) {
                pairs.add(new int[] {a, b});
            }
        }
        return Sharing.inOrder(
                pairs,
                threads,
                progress,
                pair -> car.hoses().get(pair[0]).name() + " against "
                        + car.hoses().get(pair[1]).name(),
                pair -> of(car, car.hoses().get(pair[0]), car.hoses().get(pair[1]), kinematics.sibling(), watchMm));
    }

    private static HoseGaps.Found of(Car car, Car.Hose a, Car.Hose b, Kinematics kinematics, double watchMm) {
        Car.Part asFirst = Neighbours.asPart(a);
        Car.Part asSecond = Neighbours.asPart(b);
        Optional<Car.Exclusion> excluded = Rules.exclusion(car, asFirst, asSecond);
        if (excluded.isPresent()) {
            return new HoseGaps.Found(
                    List.of(),
                    List.of(new LeftOut(a.name(), b.name(), excluded.get().reason())),
                    0);
        }
        Optional<Car.Rule> rule = Rules.of(car.rules(), asFirst, asSecond);
        Stances stances = new Stances(kinematics);
        LinePair pair = new LinePair(
                new One(a, stances),
                new One(b, stances),
                rule.map(Car.Rule::atLeastMm).orElse(0.0),
                rule.map(Rules::words).orElse("no rule: must not touch"));
        return pair.found(watchMm);
    }

    private HoseGaps.Found found(double watchMm) {
        String mine = first.line.hose.name();
        String other = second.line.hose.name();
        ReachBound one = new ReachBound(first.line, gauge);
        ReachBound two = new ReachBound(second.line, gauge);
        double floor = one.floorMm(two, Math.max(watchMm, requiredMm));
        long boxes = (long) one.boxes() + two.boxes();
        boolean far = floor >= Math.max(watchMm, requiredMm);
        List<LeftOut> leftOut = new ArrayList<>(sideBySide());
        look();
        Optional<Proximity> ride = near;
        if (ride.isEmpty()) {
            leftOut.add(new LeftOut(mine, other, "no shape of both is known at ride height"));
            return new HoseGaps.Found(List.of(), leftOut, boxes);
        }
        if (!far) {
            along(0);
            refine();
        }
        State state = leastMm <= 0 ? State.RUB : leastMm < requiredMm ? State.TIGHT : State.CLEAR;
        GapRow row = new GapRow(
                mine,
                other,
                ride.get(),
                new Least(
                        near.orElseThrow(),
                        position(leastAt),
                        Math.min(floor, leastMm),
                        far ? new Least.Proof.FarApart(watchMm) : new Least.Proof.Unproved(why())),
                requiredMm,
                rule,
                state,
                touches.onset(),
                belowRule.onset());
        return new HoseGaps.Found(List.of(row), leftOut, boxes);
    }

    private String why() {
        StringBuilder why = new StringBuilder(String.format(
                Locale.ROOT,
                "sampled at %d positions of both hoses, the ends of either at most %.0f mm apart from one to the next",
                positions,
                Math.ceil(stepMm)));
        if (unknown > 0) {
            why.append(String.format(
                    Locale.ROOT, "; at %d of them one of the two does not reach, or its shape is not known", unknown));
        }
        if (!atRest.isEmpty()) {
            why.append("; with ").append(String.join(", ", atRest)).append(" at rest");
        }
        return why.toString();
    }

    /** Leaves out what lies beside a place where one body holds both next to one another. */
    private List<LeftOut> sideBySide() {
        List<LeftOut> leftOut = new ArrayList<>();
        for (int i = 0; i < first.holds(); i++) {
            for (int j = 0; j < second.holds(); j++) {
                Hold a = first.hold(i);
                Hold b = second.hold(j);
                double apart = a.at.distanceTo(b.at)
                        - (first.line.hose.outsideDiameterMm() + second.line.hose.outsideDiameterMm()) / 2;
                if (a.body.equals(b.body) && apart < Neighbours.AT_FITTING_MM) {
                    first.held.add(stretch(a.afterMm));
                    second.held.add(stretch(b.afterMm));
                    leftOut.add(new LeftOut(
                            first.line.hose.name(),
                            second.line.hose.name(),
                            String.format(
                                    Locale.ROOT,
                                    "the %.0f mm of both next to where %s holds them side by side; the rest is measured",
                                    Neighbours.AT_FITTING_MM,
                                    a.body)));
                }
            }
        }
        return leftOut;
    }

    private static double[] stretch(double after) {
        return new double[] {after - Neighbours.AT_FITTING_MM, after + Neighbours.AT_FITTING_MM};
    }

    /** Solves both at rest and measures. */
    private void look() {
        first.settle();
        second.settle();
        measure();
    }

    private void along(int depth) {
        if (depth == walked.length) {
            return;
        }
        along(depth + 1);
        Freedom freedom = freedoms.get(walked[depth]);
        LineShape.Saved firstSaved = first.shape.save();
        LineShape.Saved secondSaved = second.shape.save();
        for (int side = 0; side < 2; side++) {
            double end = side == 0 ? freedom.of.lowest() : freedom.of.highest();
            if (end == 0) {
                continue;
            }
            first.shape.restore(firstSaved);
            second.shape.restore(secondSaved);
            int count = grid[depth][side];
            for (int i = 1; i <= count; i++) {
                step(freedom, end * i / count);
                along(depth + 1);
            }
            set(freedom, 0);
        }
        first.shape.restore(firstSaved);
        second.shape.restore(secondSaved);
        settle(freedom);
    }

    private void set(Freedom freedom, double value) {
        at[freedoms.indexOf(freedom)] = value;
        if (freedom.inFirst >= 0) {
            first.at[freedom.inFirst] = value;
        }
        if (freedom.inSecond >= 0) {
            second.at[freedom.inSecond] = value;
        }
    }

    /** Solves anew what a freedom moves. */
    private void settle(Freedom freedom) {
        if (freedom.inFirst >= 0) {
            first.settle();
        }
        if (freedom.inSecond >= 0) {
            second.settle();
        }
    }

    private void step(Freedom freedom, double value) {
        double[] firstWas = first.shape.ends.clone();
        double[] secondWas = second.shape.ends.clone();
        set(freedom, value);
        settle(freedom);
        for (int piece = 0; piece < first.shape.rods.length; piece++) {
            stepMm = Math.max(stepMm, ShapeWalk.endMove(firstWas, first.shape.ends, 18 * piece, 0));
        }
        for (int piece = 0; piece < second.shape.rods.length; piece++) {
            stepMm = Math.max(stepMm, ShapeWalk.endMove(secondWas, second.shape.ends, 18 * piece, 0));
        }
        measure();
    }

    private void measure() {
        positions++;
        if (!first.settled || !second.settled) {
            unknown++;
            return;
        }
        double share = 0;
        for (int f = 0; f < at.length; f++) {
            int handle = freedoms.get(f).of.handle();
            if (handle >= 0) {
                share = Math.max(
                        share, first.line.workspace.handles().get(handle).share(at[f]));
            }
        }
        double limit = share < belowRule.share ? Math.max(leastMm, requiredMm) : leastMm;
        for (Solid mine : first.solids) {
            for (Solid other : second.solids) {
                double gap = gauge.measure(mine, rest, other, rest, limit);
                if (!gauge.isExact() || !(gap < limit)) {
                    continue;
                }
                if (gap < leastMm) {
                    Proximity found = gauge.proximity(mine, Pose.RIDE_HEIGHT, other, Pose.RIDE_HEIGHT);
                    leastMm = found.distanceMm();
                    near = Optional.of(found);
                    leastAt = at.clone();
                    firstThere = Optional.of(first.shape.save());
                    secondThere = Optional.of(second.shape.save());
                }
                if (gap <= 0) {
                    touches.offer(share, position(at));
                }
                if (gap < requiredMm) {
                    belowRule.offer(share, position(at));
                }
            }
        }
    }

    /** Looks around the nearest position of the grid with ever smaller steps. */
    private void refine() {
        for (int halving = 1; halving <= HALVINGS; halving++) {
            for (int d = 0; d < walked.length; d++) {
                Freedom freedom = freedoms.get(walked[d]);
                for (int side = -1; side <= 1; side += 2) {
                    double end = side < 0 ? -freedom.of.lowest() : freedom.of.highest();
                    double reach = end / grid[d][(side + 1) / 2] / (1 << halving);
                    double from = leastAt[walked[d]];
                    double to = Math.max(freedom.of.lowest(), Math.min(freedom.of.highest(), from + side * reach));
                    if (to == from) {
                        continue;
                    }
                    for (int f = 0; f < at.length; f++) {
                        set(freedoms.get(f), f == walked[d] ? to : leastAt[f]);
                    }
                    firstThere.ifPresent(first.shape::restore);
                    secondThere.ifPresent(second.shape::restore);
                    look();
                }
            }
        }
    }

    /** The handles of both in the car's order, then the plays that are not at rest. */
    private Position position(double[] values) {
        TreeMap<Integer, Setting> handles = new TreeMap<>();
        List<Setting> shifts = new ArrayList<>();
        for (int f = 0; f < values.length; f++) {
            LineTravel.Freedom freedom = freedoms.get(f).of;
            if (freedom.handle() >= 0) {
                Handle handle = first.line.workspace.handles().get(freedom.handle());
                handles.put(freedom.handle(), new Setting(handle.name(), values[f], handle.turns()));
            } else if (values[f] != 0) {
                shifts.add(new Setting(freedom.name(), values[f], false));
            }
        }
        return new Position(List.copyOf(handles.values()), shifts);
    }
}
