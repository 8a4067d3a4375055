package daylight.report;

import daylight.car.Car;
import daylight.car.Trial;
import daylight.clearance.GapRow;
import daylight.clearance.Least;
import daylight.clearance.State;
import daylight.hose.HoseReport;
import daylight.trim.TrialRow;
import daylight.trim.TrialTable;
import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;

/** A trial beside the car as it is, for a terminal. */
public final class TrialText {
    private static final String[] HEADING = {
        "state", "pair", "was", "least", "asked", "margin", "where it is least with the trial"
    };
    private static final int FIRST_NUMBER = 2;
    private static final int LAST_NUMBER = 5;

    private final LengthFormat format;
    private final Wording wording;
    private final boolean inches;

    private TrialText(boolean inches) {
        this.inches = inches;
        this.format = LengthFormat.usual(inches ? Unit.INCH : Unit.MILLIMETRE);
        this.wording = Wording.in(format);
    }

    /** Returns the trials of a car, each with its changes. */
    public static String list(Car car, boolean inches) {
        LengthFormat format = LengthFormat.usual(inches ? Unit.INCH : Unit.MILLIMETRE);
        StringBuilder text = new StringBuilder(car.name()).append('\n').append('\n');
        if (car.trials().isEmpty()) {
            return text.append("The car file has no trials. Write some under trials:, for example\n\n")
                    .append("trials:\n  pipe higher: [{move: tailpipe, by: [0, 0, 1/2]}]\n")
                    .toString();
        }
        for (Trial trial : car.trials()) {
            text.append(trial.name()).append('\n');
            ChangeText.of(trial, format)
                    .forEach(line -> text.append("    ").append(line).append('\n'));
        }
        return text.append("\nName one to compare it with the car as it is.\n").toString();
    }

    /**
     * Returns a trial's table as text.
     *
     * @param all whether pairs that are clear and not changed are listed too
     * @param colour whether the terminal shows colours; words say the same
     */
    public static String of(TrialTable table, boolean inches, boolean all, boolean colour) {
        return new TrialText(inches).text(table, all, colour);
    }

    private String text(TrialTable table, boolean all, boolean colour) {
        StringBuilder text = new StringBuilder();
        text.append(table.after().car())
                .append(", trial: ")
                .append(table.trial().name())
                .append(" (lengths in ")
                .append(inches ? "inches" : "mm")
                .append(")\n");
        ChangeText.of(table.trial(), format)
                .forEach(line -> text.append("    ").append(line).append('\n'));
        text.append('\n');
        List<TrialRow> shown = all ? table.rows() : table.worthShowing();
        List<String[]> cells = new ArrayList<>();
        List<Optional<State>> states = new ArrayList<>();
        cells.add(HEADING);
        states.add(Optional.empty());
        for (TrialRow row : shown) {
            cells.add(new String[] {
                states(row),
                row.first() + " / " + row.second(),
                least(row.before(), table),
                least(row.after(), table),
                row.after()
                        .or(row::before)
                        .map(r -> wording.required(r.requiredMm()))
                        .orElse(""),
                row.after()
                        .filter(r -> !far(r))
                        .map(r -> wording.gap(r.marginMm()))
                        .orElse(""),
                row.after().map(this::where).orElse("not measured with the trial")
            });
            states.add(colour ? Optional.of(row.state()) : Optional.empty());
        }
        Columns.print(text, cells, FIRST_NUMBER, LAST_NUMBER, states);
        text.append('\n');
        hoses(text, table);
        summary(text, table, shown.size(), all);
        return text.toString();
    }

    private static String states(TrialRow row) {
        Optional<State> before = row.before().map(GapRow::state);
        Optional<State> after = row.after().map(GapRow::state);
        if (before.isPresent() && after.isPresent() && before.equals(after)) {
            return after.get().word();
        }
        return before.map(State::word).orElse("new") + " > "
                + after.map(State::word).orElse("gone");
    }

    private static boolean far(GapRow row) {
        return row.least().proof() instanceof Least.Proof.FarApart;
    }

    private String least(Optional<GapRow> row, TrialTable table) {
        return row.map(r -> far(r)
                        ? "over " + wording.gap(table.after().watchMm())
                        : wording.gap(r.least().found().distanceMm()))
                .orElse("");
    }

    private String where(GapRow row) {
        if (far(row)) {
            return "";
        }
        String where = wording.position(row.least().where());
        return row.least().proof() instanceof Least.Proof.Unproved unproved
                ? where + "; unproved: " + unproved.why()
                : where;
    }

    private void hoses(StringBuilder text, TrialTable table) {
        for (TrialTable.HoseTurn hose : table.hoses()) {
            text.append(hose.after().hose().name())
                    .append(": was ")
                    .append(line(hose.before()))
                    .append("; with the trial ")
                    .append(line(hose.after()))
                    .append(".\n");
        }
        if (!table.hoses().isEmpty()) {
            text.append('\n');
        }
    }

    private String line(HoseReport report) {
        String troubles = report.troubles().isEmpty()
                ? "reaches"
                : report.troubles().stream().map(HoseReport.Trouble::word).collect(Collectors.joining(", "));
        return troubles + " (" + format.print(report.hose().freeLengthMm()) + " free length, least slack "
                + wording.gapWithUnit(report.slack().floorMm()) + ")";
    }

    private static void summary(StringBuilder text, TrialTable table, int shown, boolean all) {
        text.append(String.format(
                Locale.ROOT,
                "Was: %s. With the trial: %s.\n",
                counts(table.before().rows()),
                counts(table.after().rows())));
        long worse = table.worseStates();
        if (worse > 0) {
            text.append(worse)
                    .append(worse == 1 ? " pair is" : " pairs are")
                    .append(" worse off with the trial than without it.\n");
        }
        int left = table.rows().size() - shown;
        if (left > 0 && !all) {
            text.append(left)
                    .append(left == 1 ? " clear pair does" : " clear pairs do")
                    .append(" not change (--all lists them).\n");
        }
        long unproved = table.after().rows().stream()
                .filter(row -> row.least().proof() instanceof Least.Proof.Unproved)
                .count();
        text.append(
                unproved == 0
                        ? "Proved over the whole travel, not samples.\n"
                        : unproved + " pairs could not be proved over the whole travel; each says why.\n");
        text.append("Geometry, not strength: whether a cut or drilled part still holds is for someone qualified.\n");
    }

    private static String counts(List<GapRow> rows) {
        return rows.stream().filter(row -> row.state() == State.RUB).count() + " rub, "
                + rows.stream().filter(row -> row.state() == State.TIGHT).count() + " tight, "
                + rows.stream().filter(row -> row.state() == State.CLEAR).count() + " clear";
    }
}
