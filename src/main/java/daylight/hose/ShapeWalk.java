package daylight.hose;

import daylight.car.Car;
import daylight.clearance.Position;
import daylight.clearance.Rules;
import daylight.clearance.State;
import daylight.geometry.Gauge;
import daylight.geometry.Pose;
import daylight.geometry.Proximity;
import daylight.geometry.Shape;
import daylight.geometry.Solid;
import daylight.geometry.Spot;
import daylight.motion.Handle;
import daylight.motion.Setting;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/**
 * Walks a line's solved shape over the travel, from ride height outwards: along the first handle, from each of its
 * positions along the second, and so on, every shape continued from its neighbour. What it finds is sampled.
 */
final class ShapeWalk {
    /** Positions on either side of ride height, by the number of handles. */
    private static final int[][] EITHER_SIDE = {{}, {16}, {8, 5}, {5, 3, 3}, {3, 2, 2, 2}};
    /** A shape moves no more than this many times as far as its ends, or it has snapped. */
    private static final double JUMP_FACTOR = 5;
    /** Movements below this are no snap, mm. */
    private static final double JUMP_MM = 3;
    /** Steps into which a suspected snap is cut before it is believed. */
    private static final int CLOSER = 8;
    /** So near to its fitting a hose may touch the part that carries the fitting (common practice, no source). */
    private static final double AT_FITTING_MM = 25;
    /** Parts farther away than this are not listed, mm. */
    private static final double WATCH_MM = 75;

    private final LineTravel line;
    private final List<Car.Part> parts;
    private final Solid[] solids;
    private final Rod[] rods;
    private final double[] ends = new double[18];
    private final double[] lastEnds;
    private final double[] values;
    private final Gauge gauge = new Gauge();
    private final List<Wanted> wanted = new ArrayList<>();
    private final int[][] grid;
    private final int[] walked;
    private final double[] through = new double[3 * (4 * Rod.COARSE + 1)];

    private int positions;
    private int notReached;
    private double stepMm;
    private double doubtMm;
    private long steps;
    private boolean taut;
    private boolean unsettled;
    private boolean eitherSide;
    private double tightest = Double.POSITIVE_INFINITY;
    private double tightestAt;
    private double ride = Double.POSITIVE_INFINITY;
    private double twist;
    private double[] tightestValues;
    private double[] twistValues;
    private double[] tautValues;
    private final List<HoseReport.Jump> jumps = new ArrayList<>();

    /** A part to measure against, with the least gap so far. */
    private static final class Wanted {
        final int part;
        final double requiredMm;
        final String rule;
        final boolean carriesAnEnd;
        double best = Double.POSITIVE_INFINITY;
        Optional<Proximity> where = Optional.empty();
        double[] values = {};

        Wanted(int part, double requiredMm, String rule, boolean carriesAnEnd) {
            this.part = part;
            this.requiredMm = requiredMm;
            this.rule = rule;
            this.carriesAnEnd = carriesAnEnd;
        }
    }

    ShapeWalk(LineTravel line, Solid[] solids) {
        this.line = line;
        this.solids = solids;
        Car car = line.workspace.car();
        parts = car.parts();
        rods = new Rod[line.pieces.size()];
        lastEnds = new double[18 * rods.length];
        for (int i = 0; i < rods.length; i++) {
            rods[i] = new Rod(line.pieces.get(i).twistStiffness());
        }
        values = new double[line.workspace.handles().size()];
        tightestValues = values.clone();
        twistValues = values.clone();
        tautValues = values.clone();
        // The handles that move the line most are walked most finely; those past the fourth stay at ride height.
        int walkedCount = Math.min(line.handles.length, EITHER_SIDE.length - 1);
        walked = Arrays.copyOf(line.handles, walkedCount);
        grid = new int[walkedCount][];
        for (int d = 0; d < walkedCount; d++) {
            grid[d] = new int[] {EITHER_SIDE[walkedCount][d]};
        }
        Car.Part asPart = new Car.Part(
                line.hose.name(),
                line.hose.from().body(),
                line.hose.kinds(),
                new Shape.Ball(line.hose.from().at(), line.hose.outsideDiameterMm()),
                Optional.empty());
        for (int p = 0; p < parts.size(); p++) {
            Car.Part part = parts.get(p);
            if (Rules.leftOut(car, asPart, part)) {
                continue;
            }
            Optional<Car.Rule> rule = Rules.of(car.rules(), asPart, part);
            boolean carries = part.body().equals(line.hose.from().body())
                    || part.body().equals(line.hose.to().body())
                    || line.hose.clips().stream().anyMatch(clip -> clip.body().equals(part.body()));
            wanted.add(new Wanted(
                    p,
                    rule.map(Car.Rule::atLeastMm).orElse(0.0),
                    rule.map(Rules::words).orElse("no rule: must not touch"),
                    carries));
        }
    }

    /** Walks the whole grid; with or without measuring to the other parts. */
    void walk(boolean measure) {
        Arrays.fill(values, 0);
        if (!solve(measure, false)) {
            return;
        }
        eitherSide = Arrays.stream(rods).anyMatch(Rod::mirrored);
        ride = tightest;
        along(0, measure);
    }

    private void along(int depth, boolean measure) {
        if (depth == walked.length) {
            return;
        }
        along(depth + 1, measure);
        Handle handle = line.workspace.handles().get(walked[depth]);
        Rod.Saved[] saved = save();
        double[] savedEnds = lastEnds.clone();
        for (int side = 0; side < 2; side++) {
            double end = side == 0 ? handle.lowest() : handle.highest();
            if (end == 0) {
                continue;
            }
            restore(saved);
            System.arraycopy(savedEnds, 0, lastEnds, 0, lastEnds.length);
            int count = grid[depth][0];
            for (int i = 1; i <= count; i++) {
                double from = values[walked[depth]];
                values[walked[depth]] = end * i / count;
                step(walked[depth], from, measure);
                along(depth + 1, measure);
            }
            values[walked[depth]] = 0;
        }
        restore(saved);
        System.arraycopy(savedEnds, 0, lastEnds, 0, lastEnds.length);
    }

    /** One step of one handle; where the line seems to snap, looks closer before saying so. */
    private void step(int handle, double from, boolean measure) {
        Rod.Saved[] saved = save();
        double[] before = lastEnds.clone();
        if (!solve(measure, true) || snap(before) == 0) {
            return;
        }
        restore(saved);
        System.arraycopy(before, 0, lastEnds, 0, lastEnds.length);
        double to = values[handle];
        for (int i = 1; i <= CLOSER; i++) {
            double[] was = lastEnds.clone();
            values[handle] = i == CLOSER ? to : from + (to - from) * i / CLOSER;
            if (solve(measure, false)) {
                double moved = snap(was);
                if (moved > 0) {
                    jumps.add(new HoseReport.Jump(position(values), moved));
                }
            }
        }
    }

    /** How far a line snapped in the last solve, mm; 0 when it followed its ends. */
    private double snap(double[] before) {
        double most = 0;
        for (int piece = 0; piece < rods.length; piece++) {
            double length = line.pieces.get(piece).lengthMm();
            double allowed = JUMP_MM + JUMP_FACTOR * endMove(before, piece, length);
            if (rods[piece].movedMm() > allowed) {
                most = Math.max(most, rods[piece].movedMm());
            }
        }
        return most;
    }

    /** How far a piece's ends moved against one another, turns counted at half the length, mm. */
    private double endMove(double[] before, int piece, double length) {
        int o = 18 * piece;
        double move = 0;
        double turn = 0;
        for (int k = 0; k < 3; k++) {
            double d = lastEnds[o + 9 + k] - lastEnds[o + k] - before[o + 9 + k] + before[o + k];
            move += d * d;
        }
        for (int k : new int[] {3, 6, 12, 15}) {
            double sum = 0;
            for (int j = 0; j < 3; j++) {
                double d = lastEnds[o + k + j] - before[o + k + j];
                sum += d * d;
            }
            turn += Math.sqrt(sum);
        }
        return Math.sqrt(move) + turn * length / 2;
    }

    /** Solves all pieces where the handles stand and keeps what is worst. */
    private boolean solve(boolean measure, boolean counts) {
        if (line.kinematics.stand(values).isPresent()) {
            notReached++;
            return false;
        }
        positions++;
        double twistHere = 0;
        boolean all = true;
        for (int piece = 0; piece < rods.length; piece++) {
            line.endsInto(piece, ends);
            Rod rod = rods[piece];
            Ending ending = rod.bend(ends, line.pieces.get(piece).lengthMm());
            steps += rod.steps();
            if (ending == Ending.CANNOT_CLOSE) {
                if (!taut) {
                    tautValues = values.clone();
                }
                taut = true;
                tightest = 0;
                tightestValues = tautValues;
                all = false;
            } else if (ending != Ending.CONVERGED) {
                unsettled = true;
                all = false;
            } else {
                doubtMm = Math.max(doubtMm, rod.doubtMm());
                if (rod.tightestRadiusMm() < tightest) {
                    tightest = rod.tightestRadiusMm();
                    tightestAt = before(piece) + rod.tightestAtMm();
                    tightestValues = values.clone();
                }
                if (line.pieces.get(piece).twistStiffness() > 0) {
                    twistHere = Math.max(twistHere, Math.abs(rod.twistRad()));
                }
                if (measure) {
                    measure(piece);
                }
            }
            double[] was = lastEnds.clone();
            System.arraycopy(ends, 0, lastEnds, 18 * piece, 18);
            if (counts) {
                stepMm = Math.max(stepMm, endMove(was, piece, 0));
            }
        }
        if (twistHere > twist) {
            twist = twistHere;
            twistValues = values.clone();
        }
        return all;
    }

    private double before(int piece) {
        double sum = 0;
        for (int i = 0; i < piece; i++) {
            sum += line.pieces.get(i).lengthMm();
        }
        return sum;
    }

    /** Measures one piece to every part; near its fittings not to the parts of the body that carries them. */
    private void measure(int piece) {
        double length = line.pieces.get(piece).lengthMm();
        int count = rods[piece].spotsInto(through, 1);
        // The chain of straight capsules lies inside the bends by at most a chord's sagitta.
        double chord = length / (count - 1);
        double sagitta = chord * chord / (8 * Math.max(rods[piece].tightestRadiusMm(), chord / 2));
        Solid whole = Solid.of(tube(0, count));
        int skip = Math.min((count - 2) / 2, (int) Math.ceil(AT_FITTING_MM / chord));
        Solid middle = Solid.of(tube(skip, count - skip));
        for (Wanted part : wanted) {
            Solid mine = part.carriesAnEnd ? middle : whole;
            Pose pose = line.kinematics.pose(
                    line.workspace.bodyIndex(parts.get(part.part).body()));
            // Enclosing balls first: most parts are far away.
            double balls = mine.centre().distanceTo(pose.apply(solids[part.part].centre()))
                    - mine.radiusMm()
                    - solids[part.part].radiusMm();
            if (balls - sagitta >= Math.min(part.best, Math.max(WATCH_MM, part.requiredMm))) {
                continue;
            }
            Proximity near = gauge.proximity(mine, Pose.RIDE_HEIGHT, solids[part.part], pose);
            if (near.distanceMm() - sagitta < part.best) {
                part.best = near.distanceMm() - sagitta;
                part.where = Optional.of(near);
                part.values = values.clone();
            }
        }
    }

    private Shape.Tube tube(int from, int to) {
        List<Spot> spots = new ArrayList<>(to - from);
        for (int i = from; i < to; i++) {
            spots.add(new Spot(through[3 * i], through[3 * i + 1], through[3 * i + 2]));
        }
        return new Shape.Tube(spots, line.hose.outsideDiameterMm(), 0);
    }

    /** Looks around the tightest bend and the greatest twist of the grid with ever smaller steps. */
    void refine() {
        if (walked.length == 0 || taut) {
            return;
        }
        refine(tightestValues.clone(), true);
        refine(twistValues.clone(), false);
    }

    private void refine(double[] around, boolean bend) {
        Arrays.fill(values, 0);
        Arrays.stream(rods).forEach(Rod::forget);
        // Walk there from ride height in steps like the grid's.
        for (int i = 0; i <= 16; i++) {
            for (int h = 0; h < values.length; h++) {
                values[h] = around[h] * i / 16;
            }
            if (!solve(false, false)) {
                return;
            }
        }
        for (int halving = 1; halving <= 5; halving++) {
            for (int d = 0; d < walked.length; d++) {
                Handle handle = line.workspace.handles().get(walked[d]);
                double reach = (handle.highest() - handle.lowest()) / (2.0 * grid[d][0]) / (1 << halving);
                for (int side = -1; side <= 1; side += 2) {
                    double[] best = bend ? tightestValues : twistValues;
                    System.arraycopy(best, 0, values, 0, values.length);
                    double moved = values[walked[d]] + side * reach;
                    values[walked[d]] = Math.max(handle.lowest(), Math.min(handle.highest(), moved));
                    solve(false, false);
                }
            }
        }
    }

    private Rod.Saved[] save() {
        Rod.Saved[] saved = new Rod.Saved[rods.length];
        for (int i = 0; i < rods.length; i++) {
            saved[i] = rods[i].save();
        }
        return saved;
    }

    private void restore(Rod.Saved[] saved) {
        for (int i = 0; i < rods.length; i++) {
            rods[i].restore(saved[i]);
        }
    }

    Position position(double[] at) {
        List<Setting> settings = new ArrayList<>();
        for (int handle : line.handles) {
            Handle h = line.workspace.handles().get(handle);
            settings.add(new Setting(h.name(), at[handle], h.turns()));
        }
        return new Position(settings, List.of());
    }

    boolean taut() {
        return taut;
    }

    boolean unsettled() {
        return unsettled;
    }

    boolean eitherSide() {
        return eitherSide;
    }

    List<HoseReport.Jump> jumps() {
        return jumps;
    }

    HoseReport.Bend bend() {
        return new HoseReport.Bend(ride, tightest, line.radiusMm, position(tightestValues), tightestAt);
    }

    HoseReport.Twist twist() {
        return new HoseReport.Twist(twist, position(twistValues), line.hose.greatestTwistRad());
    }

    HoseReport.Sampling sampling() {
        return new HoseReport.Sampling(positions, notReached, stepMm, doubtMm, steps);
    }

    /** Returns the parts that come near or break their rule, least margin first. */
    List<HoseReport.Touch> touches() {
        List<HoseReport.Touch> touches = new ArrayList<>();
        for (Wanted part : wanted) {
            part.where.ifPresent(near -> {
                State state = part.best <= 0 ? State.RUB : part.best < part.requiredMm ? State.TIGHT : State.CLEAR;
                if (state != State.CLEAR || part.best < WATCH_MM) {
                    touches.add(new HoseReport.Touch(
                            parts.get(part.part).name(),
                            part.best,
                            part.requiredMm,
                            part.rule,
                            state,
                            position(part.values),
                            near.onA(),
                            near.onB()));
                }
            });
        }
        touches.sort(Comparator.comparing(HoseReport.Touch::state)
                .thenComparingDouble(touch -> touch.gapMm() - touch.requiredMm())
                .thenComparing(HoseReport.Touch::part));
        return touches;
    }
}
