package daylight.hose;

/**
 * The shape of a whole line where its ends and clips stand: a rod for each piece, continued from position to position.
 *
 * <p>A clip in which the line slides passes length and turn from one piece to the next until neither gains by more:
 * the pieces' energies grow at the same rate with their lengths ({@link Rod#pull}), and their twists carry the same
 * moment. No friction.
 *
 * <p>Cost: one rod solve for each piece; some six for each two pieces about a sliding clip. Engine: not thread-safe.
 *
 * @see "Bigoni, Dal Corso, Bosi and Misseroni, Eshelby-like forces acting on elastic structures, Mechanics of
 *     Materials 80 (2015) 368 (a rod in a frictionless sleeve; from memory)"
 */
final class LineShape {
    /** A clip has settled when the line slides less than this in a round, mm: far below what a tape shows. */
    private static final double SETTLED_MM = 0.01;
    /** Pulls this near, as a share of the larger, are the same. */
    private static final double SAME_PULL = 1e-6;

    private static final int MOST_ROUNDS = 12;
    private static final int MOST_TRIES = 40;
    /** Near its straight length a piece's energy runs away; this share of it is kept, to have a number. */
    private static final double SPARE = 1e-6;
    /** First step by which a sliding line is moved to feel which way it wants to go, mm. */
    private static final double FEEL_MM = 0.5;

    final Rod[] rods;
    /** Length of each piece, mm; changes about sliding clips. */
    final double[] lengths;
    /** Ends of the pieces where the line was last settled, 18 numbers each. */
    final double[] ends;

    private final LineTravel line;
    private final double[] turns;
    private final boolean slides;
    private long steps;

    LineShape(LineTravel line) {
        this.line = line;
        int count = line.pieces.size();
        rods = new Rod[count];
        lengths = new double[count];
        ends = new double[18 * count];
        turns = new double[count];
        for (int i = 0; i < count; i++) {
            rods[i] = new Rod(line.pieces.get(i).twistStiffness());
        }
        slides = line.pieces.stream().anyMatch(LineTravel.Piece::slides);
        forget();
    }

    /** Forgets the last shape. */
    void forget() {
        for (int i = 0; i < rods.length; i++) {
            rods[i].forget();
            lengths[i] = line.pieces.get(i).lengthMm();
            turns[i] = 0;
        }
    }

    /** Accepted steps of all solves so far. */
    long steps() {
        return steps;
    }

    /** Solves where the car last stood; returns the worst ending of the pieces. */
    Ending settle() {
        for (int i = 0; i < rods.length; i++) {
            line.endsInto(i, ends, 18 * i);
            if (i > 0) {
                turnAcross(18 * (i - 1) + 12, turns[i - 1]);
                turnAcross(18 * i + 3, turns[i - 1]);
            }
        }
        if (!slides) {
            return bendAll();
        }
        return slide();
    }

    private Ending bendAll() {
        Ending worst = Ending.CONVERGED;
        for (int i = 0; i < rods.length; i++) {
            Ending ending = bend(i);
            if (ending == Ending.CANNOT_CLOSE || worst == Ending.CONVERGED) {
                worst = ending;
            }
        }
        return worst;
    }

    private Ending bend(int i) {
        double[] mine = java.util.Arrays.copyOfRange(ends, 18 * i, 18 * i + 18);
        Ending ending = rods[i].bend(mine, lengths[i]);
        steps += rods[i].steps();
        return ending;
    }

    /** Goes round the sliding clips until none moves any more. */
    private Ending slide() {
        for (int round = 0; round < MOST_ROUNDS; round++) {
            double most = 0;
            for (int i = 0; i + 1 < rods.length; i++) {
                if (!line.pieces.get(i).slides()) {
                    continue;
                }
                double before = lengths[i];
                Ending ending = slide(i);
                if (ending != Ending.CONVERGED) {
                    return ending;
                }
                double turned = evenTwist(i);
                most = Math.max(most, Math.abs(lengths[i] - before) + Math.abs(turned) * lengths[i]);
            }
            Ending all = bendAll();
            if (all != Ending.CONVERGED || most < SETTLED_MM) {
                return all;
            }
        }
        return Ending.STEP_LIMIT;
    }

    /** Slides the line through the clip at the end of piece i until both sides pull alike. */
    private Ending slide(int i) {
        double both = lengths[i] + lengths[i + 1];
        double low = chord(i) * (1 + SPARE) + SPARE;
        double high = both - chord(i + 1) * (1 + SPARE) - SPARE;
        if (low >= high) {
            return Ending.CANNOT_CLOSE;
        }
        double at = Math.max(low, Math.min(high, lengths[i]));
        double step = FEEL_MM;
        double lastAt = Double.NaN;
        double lastPull = Double.NaN;
        for (int tries = 0; tries < MOST_TRIES; tries++) {
            lengths[i] = at;
            lengths[i + 1] = both - at;
            Ending first = bend(i);
            Ending second = bend(i + 1);
            if (first != Ending.CONVERGED || second != Ending.CONVERGED) {
                return first != Ending.CONVERGED ? first : second;
            }
            double mine = rods[i].pull();
            double theirs = rods[i + 1].pull();
            double pull = mine - theirs;
            if (Math.abs(pull) <= SAME_PULL * (Math.abs(mine) + Math.abs(theirs))) {
                return Ending.CONVERGED;
            }
            // Energy grows with this piece's length: it wants to be shorter.
            if (pull > 0) {
                high = at;
            } else {
                low = at;
            }
            if (high - low < SETTLED_MM) {
                return Ending.CONVERGED;
            }
            double next = at - Math.signum(pull) * step;
            if (!Double.isNaN(lastAt) && pull != lastPull) {
                double secant = at - pull * (at - lastAt) / (pull - lastPull);
                boolean downhill = (pull - lastPull) / (at - lastAt) > 0;
                next = downhill ? secant : at - Math.signum(pull) * (step *= 2);
            }
            if (!(next > low && next < high)) {
                next = (low + high) / 2;
            }
            if (Math.abs(next - at) < SETTLED_MM / 10) {
                return Ending.CONVERGED;
            }
            lastAt = at;
            lastPull = pull;
            at = next;
        }
        return Ending.STEP_LIMIT;
    }

    /** Turns the line in the clip at the end of piece i until both sides twist it alike; returns by how much, rad. */
    private double evenTwist(int i) {
        if (line.pieces.get(i).twistStiffness() == 0) {
            return 0;
        }
        double turn = (rods[i + 1].twistRad() * lengths[i] - rods[i].twistRad() * lengths[i + 1])
                / (lengths[i] + lengths[i + 1]);
        turns[i] += turn;
        turnAcross(18 * i + 12, turn);
        turnAcross(18 * (i + 1) + 3, turn);
        return turn;
    }

    /** Turns the across direction that follows a tangent about it. */
    private void turnAcross(int tangent, double angle) {
        double c = Math.cos(angle);
        double s = Math.sin(angle);
        double tx = ends[tangent];
        double ty = ends[tangent + 1];
        double tz = ends[tangent + 2];
        double ax = ends[tangent + 3];
        double ay = ends[tangent + 4];
        double az = ends[tangent + 5];
        ends[tangent + 3] = c * ax + s * (ty * az - tz * ay);
        ends[tangent + 4] = c * ay + s * (tz * ax - tx * az);
        ends[tangent + 5] = c * az + s * (tx * ay - ty * ax);
    }

    private double chord(int i) {
        int o = 18 * i;
        double x = ends[o + 9] - ends[o];
        double y = ends[o + 10] - ends[o + 1];
        double z = ends[o + 11] - ends[o + 2];
        return Math.sqrt(x * x + y * y + z * z);
    }

    /** How much of the line lies before a piece, mm. */
    double before(int piece) {
        double sum = 0;
        for (int i = 0; i < piece; i++) {
            sum += lengths[i];
        }
        return sum;
    }

    /** A shape to come back to. */
    static final class Saved {
        private final Rod.Saved[] rods;
        private final double[] lengths;
        private final double[] turns;
        private final double[] ends;

        private Saved(LineShape shape) {
            rods = new Rod.Saved[shape.rods.length];
            for (int i = 0; i < rods.length; i++) {
                rods[i] = shape.rods[i].save();
            }
            lengths = shape.lengths.clone();
            turns = shape.turns.clone();
            ends = shape.ends.clone();
        }

        /** Returns the ends that the shape was settled between. */
        double[] ends() {
            return ends;
        }
    }

    Saved save() {
        return new Saved(this);
    }

    void restore(Saved saved) {
        for (int i = 0; i < rods.length; i++) {
            rods[i].restore(saved.rods[i]);
        }
        System.arraycopy(saved.lengths, 0, lengths, 0, lengths.length);
        System.arraycopy(saved.turns, 0, turns, 0, turns.length);
        System.arraycopy(saved.ends, 0, ends, 0, ends.length);
    }
}
