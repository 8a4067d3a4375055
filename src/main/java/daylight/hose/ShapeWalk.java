package daylight.hose;

import daylight.clearance.State;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.function.Supplier;

/**
 * Walks a line's solved shape over the travel, from ride height outwards: along the freedom that moves it most, from
 * each of its positions along the next, and so on, every shape continued from its neighbour. What it finds is sampled.
 */
final class ShapeWalk {
    /** Most positions on either side of ride height along each freedom, by how many there are. */
    private static final int[][] EITHER_SIDE = {
        {}, {16}, {8, 6}, {5, 4, 3}, {3, 2, 2, 2}, {2, 2, 2, 2, 1}, {2, 1, 1, 1, 1, 1}
    };
    /** An end moves about so far from one position to the next, mm. */
    private static final double STEP_MM = 18;

    private static final double COARSE_STEP_MM = 40;
    private static final int COARSE_SIDE = 3;
    /** A shape that moves more than this many times as far as its ends is looked at in smaller steps. */
    private static final double SUSPECT_FACTOR = 1.5;
    /** In those a shape moves no more than this many times as far as its ends, or it has snapped. */
    private static final double JUMP_FACTOR = 5;
    /** Movements below this are no snap, mm. */
    private static final double JUMP_MM = 3;
    /** Steps into which a suspected snap is cut before it is believed. */
    private static final int CLOSER = 8;
    /** Rounds of ever smaller steps about the worst positions of the grid. */
    private static final int HALVINGS = 5;
    /** Parts farther away than this are not listed, mm. */
    static final double WATCH_MM = 75;
    /** The gaps of so many parts are refined, those that may come to break their rule by it. */
    private static final int REFINED = 4;

    private static final double REFINED_MARGIN_MM = 10;

    private final LineTravel line;
    private final LineShape shape;
    private final Optional<Neighbours> neighbours;
    private final double[] at;
    /** Freedoms walked, the one that moves the line most first, and the positions on either side. */
    private final int[] walked;

    private final int[][] grid;
    private final List<String> atRest = new ArrayList<>();

    private int positions;
    private int notReached;
    private int tautPositions;
    private int unsettledPositions;
    private double stepMm;
    private double doubtMm;
    private boolean taut;
    private boolean eitherSide;
    private boolean settledAtRide;
    private double tightest = Double.POSITIVE_INFINITY;
    private double tightestAt;
    private double ride = Double.POSITIVE_INFINITY;
    private double twist;
    private double[] tightestValues;
    private double[] twistValues;
    private double[] tautValues;
    /** The shapes at those positions, to look around them from. */
    private Optional<LineShape.Saved> tightestShape = Optional.empty();

    private Optional<LineShape.Saved> twistShape = Optional.empty();
    private final List<HoseReport.Jump> jumps = new ArrayList<>();

    /**
     * Makes a walk.
     *
     * @param neighbours the parts to measure to, if gaps are wanted
     */
    ShapeWalk(LineTravel line, Optional<Neighbours> neighbours) {
        this(line, neighbours, STEP_MM, Integer.MAX_VALUE);
    }

    /** Returns a walk in few large steps and without gaps, to tell good lines from bad ones. */
    static ShapeWalk coarse(LineTravel line) {
        return new ShapeWalk(line, Optional.empty(), COARSE_STEP_MM, COARSE_SIDE);
    }

    private ShapeWalk(LineTravel line, Optional<Neighbours> neighbours, double stepMm, int mostEitherSide) {
        this.line = line;
        this.neighbours = neighbours;
        shape = new LineShape(line);
        int count = line.freedoms.size();
        at = new double[count];
        tightestValues = at.clone();
        twistValues = at.clone();
        tautValues = at.clone();
        double[][] moves = new double[count][2];
        List<Integer> order = new ArrayList<>();
        for (int f = 0; f < count; f++) {
            moves[f][0] = moveMm(line, f, line.freedoms.get(f).lowest());
            moves[f][1] = moveMm(line, f, line.freedoms.get(f).highest());
            order.add(f);
        }
        order.sort(Comparator.comparingDouble((Integer f) -> -Math.max(moves[f][0], moves[f][1]))
                .thenComparing(f -> f));
        int most = Math.min(count, EITHER_SIDE.length - 1);
        order.subList(most, count).forEach(f -> atRest.add(line.freedoms.get(f).name()));
        walked = order.subList(0, most).stream().mapToInt(Integer::intValue).toArray();
        grid = new int[most][2];
        for (int d = 0; d < most; d++) {
            for (int side = 0; side < 2; side++) {
                int wanted = (int) Math.ceil(moves[walked[d]][side] / stepMm);
                int atMost = Math.min(mostEitherSide, EITHER_SIDE[most][d]);
                grid[d][side] = Math.max(1, Math.min(atMost, wanted));
            }
        }
    }

    /**
     * How far an end of a line moves when one freedom goes all the way, turns counted at half the length, mm; none
     * when the line has no such freedom (-1). Leaves the line at rest.
     */
    static double moveMm(LineTravel line, int freedom, double value) {
        if (freedom < 0) {
            return 0;
        }
        double[] at = new double[line.freedoms.size()];
        line.stand(at);
        double[] before = new double[18];
        double[] after = new double[18];
        double most = 0;
        for (int piece = 0; piece < line.pieces.size(); piece++) {
            at[freedom] = 0;
            line.stand(at);
            line.endsInto(piece, before, 0);
            at[freedom] = value;
            if (line.stand(at)) {
                line.endsInto(piece, after, 0);
                most = Math.max(
                        most, endMove(before, after, 0, line.pieces.get(piece).lengthMm()));
            }
        }
        at[freedom] = 0;
        line.stand(at);
        return most;
    }

    /** Walks the whole grid. */
    void walk() {
        Arrays.fill(at, 0);
        shape.forget();
        if (!solve(true, false, true)) {
            return;
        }
        settledAtRide = true;
        eitherSide = Arrays.stream(shape.rods).anyMatch(Rod::mirrored);
        ride = tightest;
        along(0);
    }

    private void along(int depth) {
        if (depth == walked.length) {
            return;
        }
        along(depth + 1);
        LineTravel.Freedom freedom = line.freedoms.get(walked[depth]);
        LineShape.Saved saved = shape.save();
        for (int side = 0; side < 2; side++) {
            double end = side == 0 ? freedom.lowest() : freedom.highest();
            if (end == 0) {
                continue;
            }
            shape.restore(saved);
            int count = grid[depth][side];
            for (int i = 1; i <= count; i++) {
                double from = at[walked[depth]];
                at[walked[depth]] = end * i / count;
                step(walked[depth], from);
                along(depth + 1);
            }
            at[walked[depth]] = 0;
        }
        shape.restore(saved);
    }

    /** One step of one freedom; where the line seems to snap, looks closer before saying so. */
    private void step(int freedom, double from) {
        LineShape.Saved saved = shape.save();
        if (!solve(true, true, false) || snap(saved.ends(), SUSPECT_FACTOR) == 0) {
            return;
        }
        double to = at[freedom];
        shape.restore(saved);
        double most = 0;
        double[] where = at.clone();
        for (int i = 1; i <= CLOSER; i++) {
            double[] was = shape.ends.clone();
            at[freedom] = i == CLOSER ? to : from + (to - from) * i / CLOSER;
            if (solve(true, false, false)) {
                double moved = snap(was, JUMP_FACTOR);
                if (moved > most) {
                    most = moved;
                    where = at.clone();
                }
            }
        }
        if (most > 0) {
            jumps.add(new HoseReport.Jump(line.position(where), most));
        }
    }

    /** How far a line snapped in the last solve, mm; 0 when it followed its ends. */
    private double snap(double[] before, double factor) {
        double most = 0;
        for (int piece = 0; piece < shape.rods.length; piece++) {
            double allowed = JUMP_MM + factor * endMove(before, shape.ends, 18 * piece, shape.lengths[piece]);
            if (shape.rods[piece].movedMm() > allowed) {
                most = Math.max(most, shape.rods[piece].movedMm());
            }
        }
        return most;
    }

    /** How far a piece's ends moved against one another, turns counted at half the length, mm. */
    static double endMove(double[] before, double[] after, int o, double length) {
        double move = 0;
        double turn = 0;
        for (int k = 0; k < 3; k++) {
            double d = after[o + 9 + k] - after[o + k] - before[o + 9 + k] + before[o + k];
            move += d * d;
        }
        for (int k = 3; k <= 15; k += k == 6 ? 6 : 3) {
            double sum = 0;
            for (int j = 0; j < 3; j++) {
                double d = after[o + k + j] - before[o + k + j];
                sum += d * d;
            }
            turn += Math.sqrt(sum);
        }
        return Math.sqrt(move) + turn * length / 2;
    }

    /** Solves where the freedoms stand and keeps what is worst. */
    private boolean solve(boolean measure, boolean counts, boolean rides) {
        if (!line.stand(at)) {
            notReached++;
            return false;
        }
        positions++;
        double[] was = counts ? shape.ends.clone() : shape.ends;
        Ending ending = shape.settle();
        if (counts) {
            for (int piece = 0; piece < shape.rods.length; piece++) {
                stepMm = Math.max(stepMm, endMove(was, shape.ends, 18 * piece, 0));
            }
        }
        if (ending == Ending.CANNOT_CLOSE) {
            if (!taut) {
                tautValues = at.clone();
            }
            taut = true;
            tautPositions++;
            return false;
        }
        if (ending != Ending.CONVERGED) {
            unsettledPositions++;
            return false;
        }
        double twistHere = 0;
        boolean tighter = false;
        for (int piece = 0; piece < shape.rods.length; piece++) {
            Rod rod = shape.rods[piece];
            doubtMm = Math.max(doubtMm, rod.doubtMm());
            if (rod.tightestRadiusMm() < tightest) {
                tightest = rod.tightestRadiusMm();
                tightestAt = shape.before(piece) + rod.tightestAtMm();
                tightestValues = at.clone();
                tighter = true;
            }
            if (line.pieces.get(piece).twistStiffness() > 0) {
                twistHere = Math.max(twistHere, Math.abs(rod.twistRad()));
            }
        }
        if (tighter) {
            tightestShape = Optional.of(shape.save());
        }
        if (twistHere > twist) {
            twist = twistHere;
            twistValues = at.clone();
            twistShape = Optional.of(shape.save());
        }
        if (measure) {
            neighbours.ifPresent(near -> near.look(shape, at, rides));
        }
        return true;
    }

    /** Looks around the tightest bend, the greatest twist and the least gaps of the grid with ever smaller steps. */
    void refine() {
        if (walked.length == 0 || !settledAtRide) {
            return;
        }
        if (!taut) {
            refine(() -> tightestValues, () -> tightestShape, false);
            refine(() -> twistValues, () -> twistShape, false);
        }
        neighbours.ifPresent(near -> near.parts().stream()
                .filter(part -> part.nearAt.length > 0 && !near.far(part))
                .filter(part -> part.leastMm < part.requiredMm + REFINED_MARGIN_MM)
                .sorted(Comparator.comparingDouble(part -> part.leastMm - part.requiredMm))
                .limit(REFINED)
                .forEach(part -> refine(() -> part.nearAt, () -> part.nearShape, true)));
    }

    private void refine(Supplier<double[]> best, Supplier<Optional<LineShape.Saved>> from, boolean measure) {
        for (int halving = 1; halving <= HALVINGS; halving++) {
            for (int d = 0; d < walked.length; d++) {
                LineTravel.Freedom freedom = line.freedoms.get(walked[d]);
                for (int side = -1; side <= 1; side += 2) {
                    double end = side < 0 ? -freedom.lowest() : freedom.highest();
                    double reach = end / grid[d][(side + 1) / 2] / (1 << halving);
                    System.arraycopy(best.get(), 0, at, 0, at.length);
                    double moved =
                            Math.max(freedom.lowest(), Math.min(freedom.highest(), at[walked[d]] + side * reach));
                    if (moved != at[walked[d]] && from.get().isPresent()) {
                        at[walked[d]] = moved;
                        shape.restore(from.get().orElseThrow());
                        solve(measure, false, false);
                    }
                }
            }
        }
    }

    boolean taut() {
        return taut;
    }

    boolean unsettled() {
        return unsettledPositions > 0;
    }

    boolean settledAtRide() {
        return settledAtRide;
    }

    boolean eitherSide() {
        return eitherSide;
    }

    List<HoseReport.Jump> jumps() {
        return jumps;
    }

    /** Whether it bends tighter than allowed where it reaches. */
    boolean kinks() {
        return tightest < line.radiusMm;
    }

    HoseReport.Bend bend() {
        return taut
                ? new HoseReport.Bend(ride, 0, line.radiusMm, line.position(tautValues), 0)
                : new HoseReport.Bend(ride, tightest, line.radiusMm, line.position(tightestValues), tightestAt);
    }

    HoseReport.Twist twist() {
        return new HoseReport.Twist(twist, line.position(twistValues), line.hose.greatestTwistRad());
    }

    HoseReport.Sampling sampling() {
        return new HoseReport.Sampling(
                positions,
                notReached,
                tautPositions,
                unsettledPositions,
                stepMm,
                doubtMm,
                shape.steps(),
                List.copyOf(atRest));
    }

    /** Returns the parts that come near or break their rule, least margin first. */
    List<HoseReport.Touch> touches() {
        List<HoseReport.Touch> touches = new ArrayList<>();
        for (Neighbours.Part part : neighbours.map(Neighbours::parts).orElse(List.of())) {
            if (part.near.isEmpty() || part.where.isEmpty()) {
                continue;
            }
            State state = state(part);
            if (state != State.CLEAR || part.leastMm < WATCH_MM) {
                touches.add(new HoseReport.Touch(
                        part.part.name(),
                        part.leastMm,
                        part.requiredMm,
                        part.rule,
                        state,
                        part.where.get(),
                        part.near.get().onA(),
                        part.near.get().onB()));
            }
        }
        touches.sort(HoseReport.TIGHTEST_FIRST);
        return touches;
    }

    static State state(Neighbours.Part part) {
        return part.leastMm <= 0 ? State.RUB : part.leastMm < part.requiredMm ? State.TIGHT : State.CLEAR;
    }
}
