package daylight.trim;

import daylight.car.Trial;
import daylight.clearance.GapRow;
import daylight.clearance.GapTable;
import daylight.clearance.State;
import daylight.hose.HoseReport;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * A car with and without a trial, gap by gap.
 *
 * @param trial what was tried
 * @param before every gap of the car as it is
 * @param after every gap of the car with the trial
 * @param rows every pair: those that are tightest with the trial first
 * @param hoses flexible lines that the trial changes, before and after
 */
public record TrialTable(Trial trial, GapTable before, GapTable after, List<TrialRow> rows, List<HoseTurn> hoses) {
    public TrialTable {
        rows = List.copyOf(rows);
        hoses = List.copyOf(hoses);
    }

    /** A flexible line before and after. */
    public record HoseTurn(HoseReport before, HoseReport after) {}

    /** Returns two tables compared. */
    static TrialTable of(Trial trial, GapTable before, GapTable after, List<HoseTurn> hoses) {
        Map<List<String>, GapRow> was = new LinkedHashMap<>();
        before.rows().forEach(row -> was.put(List.of(row.first(), row.second()), row));
        List<TrialRow> rows = new ArrayList<>();
        for (GapRow row : after.rows()) {
            Optional<GapRow> earlier = Optional.ofNullable(was.remove(List.of(row.first(), row.second())));
            rows.add(new TrialRow(row.first(), row.second(), earlier, Optional.of(row)));
        }
        was.values()
                .forEach(row -> rows.add(new TrialRow(row.first(), row.second(), Optional.of(row), Optional.empty())));
        rows.sort(Comparator.comparing(TrialRow::state)
                .thenComparingDouble(row -> Math.rint(row.marginMm() / SAME_MARGIN_MM))
                .thenComparing(TrialRow::first)
                .thenComparing(TrialRow::second));
        return new TrialTable(trial, before, after, rows, hoses);
    }

    /** Margins this near to one another, mm, are the same: a car's two sides differ in the last digits only. */
    private static final double SAME_MARGIN_MM = 0.01;

    /** Returns the pairs whose gap the trial changes, or that are not clear with it. */
    public List<TrialRow> worthShowing() {
        return rows.stream()
                .filter(row -> row.turn(knownToMm()) != TrialRow.Turn.SAME || row.state() != State.CLEAR)
                .toList();
    }

    /** Returns how many pairs have a state after the trial that is worse than before. */
    public long worseStates() {
        return rows.stream()
                .filter(row -> row.before().isPresent()
                        && row.after().isPresent()
                        && row.after()
                                        .get()
                                        .state()
                                        .compareTo(row.before().get().state())
                                < 0)
                .count();
    }

    /** Returns what difference counts, mm: two gaps are each known to the table's tolerance. */
    public double knownToMm() {
        return Math.max(before.toleranceMm(), after.toleranceMm());
    }
}
