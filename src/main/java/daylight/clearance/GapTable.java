package daylight.clearance;

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
 */
public record GapTable(
        String car, List<GapRow> rows, List<LeftOut> leftOut, double toleranceMm, double watchMm, Work work) {
    public GapTable {
        rows = List.copyOf(rows);
        leftOut = List.copyOf(leftOut);
    }

    /**
     * How much work a table took.
     *
     * @param parts parts of the car
     * @param boxes boxes of positions that were bounded
     * @param positions boxes for which a mechanism was solved and enclosed
     */
    public record Work(int parts, long boxes, long positions) {}

    /** Returns the worst state among the rows; clear when there are none. */
    public State worst() {
        return rows.stream().map(GapRow::state).min(State::compareTo).orElse(State.CLEAR);
    }
}
