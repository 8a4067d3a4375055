package daylight.clearance;

import daylight.motion.EarlierEnd;
import java.util.ArrayList;
import java.util.List;

/**
 * Every pair's gaps, tightest first: rubs, then tight ones, then clear ones, each by margin.
 *
 * @param car the car's name
 * @param rows the pairs that were measured
 * @param leftOut the pairs that were not, with the reason
 * @param toleranceMm how near floor and found are for every proved pair
 * @param watchMm pairs further apart than this are only shown to be so
 * @param work how much was done
 * @param earlierEnds where limits end the travel that was searched before the stated travel does
 */
public record GapTable(
        String car,
        List<GapRow> rows,
        List<LeftOut> leftOut,
        double toleranceMm,
        double watchMm,
        Work work,
        List<EarlierEnd> earlierEnds) {
    public GapTable {
        rows = List.copyOf(rows);
        leftOut = List.copyOf(leftOut);
        earlierEnds = List.copyOf(earlierEnds);
    }

    /** Makes a table of a car whose stated travel was searched to its ends. */
    public GapTable(
            String car, List<GapRow> rows, List<LeftOut> leftOut, double toleranceMm, double watchMm, Work work) {
        this(car, rows, leftOut, toleranceMm, watchMm, work, List.of());
    }

    /**
     * How much work a table took.
     *
     * @param parts parts of the car
     * @param boxes boxes of positions that were bounded
     * @param positions boxes for which a mechanism was solved and enclosed
     */
    public record Work(int parts, long boxes, long positions) {}

    /**
     * Returns the table with more rows among these, tightest first.
     *
     * @param moreParts things that the rows are about and that are not counted yet
     * @param moreBoxes boxes that were bounded for them
     */
    public GapTable with(List<GapRow> moreRows, List<LeftOut> moreLeftOut, int moreParts, long moreBoxes) {
        List<GapRow> all = new ArrayList<>(rows);
        all.addAll(moreRows);
        all.sort(GapSearch.TIGHTEST_FIRST);
        List<LeftOut> out = new ArrayList<>(leftOut);
        out.addAll(moreLeftOut);
        Work more = new Work(work.parts + moreParts, work.boxes + moreBoxes, work.positions);
        return new GapTable(car, all, out, toleranceMm, watchMm, more, earlierEnds);
    }

    /** Returns the worst state among the rows; clear when there are none. */
    public State worst() {
        return rows.stream().map(GapRow::state).min(State::compareTo).orElse(State.CLEAR);
    }
}
