package daylight.hose;

import daylight.car.Car;
import daylight.clearance.Position;
import daylight.clearance.State;
import daylight.geometry.Direction;
import daylight.geometry.Spot;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.TreeSet;

/**
 * What becomes of one flexible line over everything the car can do.
 *
 * <p>The slack has a proved floor. The bend, the twist and the gaps to other parts rest on shapes that were solved at
 * positions {@code sampling.stepMm} of end movement apart: they are sampled, not proved.
 *
 * @param hose the line
 * @param troubles what is wrong, worst first; empty when it reaches everywhere
 * @param slack free length less the shortest path that does not bend tighter than allowed
 * @param bend tightest bend of the solved shape
 * @param twist greatest twist from how it is fitted at ride height
 * @param touches gaps to the parts that come near or break their rule, tightest first
 * @param sampling at how many positions the shape was solved
 * @param jumps where the shape snaps over to another side
 * @param eitherSide whether at ride height it may as well lie on another side
 * @param stock each stock length tried, ascending
 * @param turned a better way to set ends that can be turned about their bolts, if one helps
 */
public record HoseReport(
        Car.Hose hose,
        List<Trouble> troubles,
        Slack slack,
        Bend bend,
        Twist twist,
        List<Touch> touches,
        Sampling sampling,
        List<Jump> jumps,
        boolean eitherSide,
        List<Stock> stock,
        Optional<Turned> turned) {
    public HoseReport {
        troubles = List.copyOf(troubles);
        touches = List.copyOf(touches);
        jumps = List.copyOf(jumps);
        stock = List.copyOf(stock);
    }

    /** Returns the same report with what the line comes near of other lines. */
    HoseReport beside(List<Touch> others) {
        if (others.isEmpty()) {
            return this;
        }
        List<Touch> all = new ArrayList<>(touches);
        all.addAll(others);
        all.sort(TIGHTEST_FIRST);
        TreeSet<Trouble> both = new TreeSet<>(troubles);
        for (Touch touch : others) {
            if (touch.state == State.RUB) {
                both.add(Trouble.RUBS);
            } else if (touch.state == State.TIGHT) {
                both.add(Trouble.TIGHT);
            }
        }
        if (both.contains(Trouble.RUBS)) {
            both.remove(Trouble.TIGHT);
        }
        return new HoseReport(
                hose, List.copyOf(both), slack, bend, twist, all, sampling, jumps, eitherSide, stock, turned);
    }

    /** Rubs, then tight ones, then clear ones, each by what is left of its rule. */
    static final Comparator<Touch> TIGHTEST_FIRST = Comparator.comparing(Touch::state)
            .thenComparingDouble(touch -> touch.gapMm() - touch.requiredMm())
            .thenComparing(Touch::part);

    /** Returns the verdict in a word: the worst trouble, or {@code reaches}. */
    public String verdict() {
        return troubles.isEmpty() ? "reaches" : troubles.get(0).word();
    }

    /** Returns the shortest stock length that passes everywhere, if one does. */
    public Optional<Stock> shortestThatPasses() {
        return stock.stream().filter(tried -> tried.troubles().isEmpty()).findFirst();
    }

    /** What can be wrong with a line, worst first. */
    public enum Trouble {
        /** It is pulled tight, or cannot be proved not to be. */
        TAUT("taut"),
        /** It bends tighter than its maker allows. */
        KINKS("kinks"),
        /** It touches a part. */
        RUBS("rubs"),
        /** It comes nearer to a part than the rule asks. */
        TIGHT("tight"),
        /** Its fittings twist it more than allowed. */
        TWISTS("twists"),
        /** Its shape could not be computed somewhere. */
        UNSETTLED("unsettled");

        private final String word;

        Trouble(String word) {
            this.word = word;
        }

        /** Returns the word shown everywhere. */
        public String word() {
            return word;
        }
    }

    /**
     * Slack, never overstated.
     *
     * @param rideMm at ride height
     * @param leastMm the least found
     * @param where the position of the least
     * @param floorMm no position has less, unless {@code unproved}
     * @param unproved why the floor is not proved everywhere; empty when it is
     * @param boxes boxes of handle values bounded
     */
    public record Slack(double rideMm, double leastMm, Position where, double floorMm, String unproved, int boxes) {}

    /**
     * Bend of the centre line.
     *
     * @param rideRadiusMm tightest at ride height; infinite when straight
     * @param tightestRadiusMm tightest found; zero when the line is taut somewhere
     * @param limitMm least allowed, to the centre line
     * @param where the position of the tightest
     * @param atMm where along the line, from its begin
     */
    public record Bend(double rideRadiusMm, double tightestRadiusMm, double limitMm, Position where, double atMm) {}

    /**
     * Twist that the fittings force on it.
     *
     * @param greatestRad size of the greatest, rad
     * @param where its position
     * @param limitRad most allowed, if a limit is given
     */
    public record Twist(double greatestRad, Position where, Optional<Double> limitRad) {}

    /**
     * A part, or another line, that the line comes near.
     *
     * @param part its name
     * @param gapMm least gap found over the samples
     * @param requiredMm by the rule
     * @param rule the rule in words
     * @param state rub, tight or clear
     * @param where the position
     * @param onHose the spot on the hose
     * @param onPart the spot on the part
     */
    public record Touch(
            String part,
            double gapMm,
            double requiredMm,
            String rule,
            State state,
            Position where,
            Spot onHose,
            Spot onPart) {}

    /**
     * How densely the shape was looked at.
     *
     * @param positions shapes solved on the grid
     * @param notReached grid positions where the car itself cannot stand
     * @param taut positions at which the line does not reach, so that there is no shape
     * @param unsettled positions at which the shape could not be computed
     * @param stepMm most that an end moves against the other between neighbouring positions, mm
     * @param doubtMm greatest numerical uncertainty of the shapes, mm
     * @param steps accepted steps of all solves
     * @param atRest movements that were too many to be walked: they stayed at ride height
     */
    public record Sampling(
            int positions,
            int notReached,
            int taut,
            int unsettled,
            double stepMm,
            double doubtMm,
            long steps,
            List<String> atRest) {
        public Sampling {
            atRest = List.copyOf(atRest);
        }
    }

    /** A snap to another shape: where, and how far the line moves while its end moves little, mm. */
    public record Jump(Position where, double movesMm) {}

    /** One stock length tried. */
    public record Stock(
            double lengthMm,
            List<Trouble> troubles,
            double slackFloorMm,
            double tightestRadiusMm,
            double twistRad,
            Optional<Touch> nearest) {
        public Stock {
            troubles = List.copyOf(troubles);
        }
    }

    /**
     * Ends set another way about their bolts.
     *
     * @param fromRad by how much at the begin, right-hand rule about the bolt's direction; zero: as it is
     * @param toRad the same at the end
     * @param fromLeaves which way the hose then leaves the begin, car frame at ride height
     * @param toLeaves the same at the end
     * @param result what a line of that length then does; it passes everywhere
     */
    public record Turned(double fromRad, double toRad, Direction fromLeaves, Direction toLeaves, Stock result) {}
}
