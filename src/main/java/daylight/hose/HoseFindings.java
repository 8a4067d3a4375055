package daylight.hose;

import daylight.clearance.GapRow;
import daylight.clearance.GapTable;
import daylight.clearance.LeftOut;
import java.util.List;

/**
 * What one look at a car's flexible lines found: a report of each, and their rows for the table of gaps. Whoever needs
 * both takes this, so that no line is solved twice.
 *
 * @param reports one for each line, in file order
 * @param rows the lines against every part, and against one another
 * @param leftOut pairs, and stretches of lines, that were not measured, with the reason
 * @param boxes boxes of handle values that were bounded
 */
public record HoseFindings(List<HoseReport> reports, List<GapRow> rows, List<LeftOut> leftOut, long boxes) {
    public HoseFindings {
        reports = List.copyOf(reports);
        rows = List.copyOf(rows);
        leftOut = List.copyOf(leftOut);
    }

    /**
     * Returns a table of the car's parts with the lines' rows among them, tightest first.
     *
     * @param table what {@link daylight.clearance.GapSearch} gives for the same car
     */
    public GapTable addedTo(GapTable table) {
        return table.with(rows, leftOut, reports.size(), boxes);
    }
}
