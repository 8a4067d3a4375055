package daylight.clearance;

import daylight.survey.GapDoubt;
import java.util.List;
import java.util.Optional;

/**
 * How sure the least gaps of a table are.
 *
 * @param rows a doubt for each row that was looked at, in the table's order
 * @param draws how many cars were drawn; zero for first order
 */
public record GapDoubts(List<Row> rows, int draws) {
    public GapDoubts {
        rows = List.copyOf(rows);
    }

    /** Returns the doubt of a pair, if it was looked at. */
    public Optional<Row> of(String first, String second) {
        return rows.stream()
                .filter(row -> row.first().equals(first) && row.second().equals(second))
                .findFirst();
    }

    /**
     * The doubt of one pair's least gap.
     *
     * @param doubt its 95 % interval, the chance of touching, and what it owes its doubt to: readings, and the two
     *     parts' own figures by the part's name
     * @param sharper the one thing to measure again that would help most, if one would help
     */
    public record Row(String first, String second, GapDoubt doubt, Optional<Sharper> sharper) {
        /** Half of the 95 % interval, mm. */
        public double halfWidth95Mm() {
            return (doubt.high95Mm() - doubt.low95Mm()) / 2;
        }
    }

    /**
     * What measuring one thing again would bring: computed from the covariance that it would give.
     *
     * @param what the reading, or {@code NAME's own figures} for what is written in a part's shape
     * @param withinMm half width of the new reading, mm
     * @param before95Mm half width of the gap's 95 % interval now, mm
     * @param after95Mm the same with the new reading
     */
    public record Sharper(String what, double withinMm, double before95Mm, double after95Mm) {}
}
