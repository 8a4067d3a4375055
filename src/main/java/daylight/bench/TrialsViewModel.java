package daylight.bench;

import daylight.car.CarFileException;
import daylight.car.Complaint;
import daylight.car.Trial;
import daylight.clearance.Asked;
import daylight.clearance.GapRow;
import daylight.clearance.State;
import daylight.survey.MeasuredCar;
import daylight.trim.TrialRow;
import daylight.trim.TrialStudy;
import daylight.trim.TrialTable;
import daylight.units.Progress;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import javafx.beans.property.ReadOnlyBooleanProperty;
import javafx.beans.property.ReadOnlyBooleanWrapper;
import javafx.beans.property.ReadOnlyDoubleProperty;
import javafx.beans.property.ReadOnlyDoubleWrapper;
import javafx.beans.property.ReadOnlyObjectProperty;
import javafx.beans.property.ReadOnlyObjectWrapper;
import javafx.beans.property.ReadOnlyStringProperty;
import javafx.beans.property.ReadOnlyStringWrapper;
import javafx.collections.FXCollections;
import javafx.collections.ObservableList;

/**
 * The trials of a car side by side: each pair's gap as the car is, and with each of them.
 *
 * <p>All methods are called on the window's thread; the comparison runs elsewhere.
 */
final class TrialsViewModel {
    private final Jobs jobs;
    private final Asked asked;
    private final ObservableList<Trial> trials = FXCollections.observableArrayList();
    // Kept, since a list holds its unmodifiable views weakly.
    private final ObservableList<Trial> trialsSeen = FXCollections.unmodifiableObservableList(trials);
    private final ReadOnlyObjectWrapper<Optional<Side>> side = new ReadOnlyObjectWrapper<>(Optional.empty());
    private final ReadOnlyBooleanWrapper comparing = new ReadOnlyBooleanWrapper(false);
    private final ReadOnlyDoubleWrapper compared = new ReadOnlyDoubleWrapper(0);
    private final ReadOnlyStringWrapper status = new ReadOnlyStringWrapper("");
    private final ReadOnlyObjectWrapper<Optional<Throwable>> mistake = new ReadOnlyObjectWrapper<>(Optional.empty());
    private Optional<MeasuredCar> car = Optional.empty();

    TrialsViewModel(Jobs jobs, Asked asked) {
        this.jobs = jobs;
        this.asked = asked;
    }

    /**
     * Trials side by side.
     *
     * @param names of the trials, in the order of the columns
     * @param refused why a trial could not be compared, by its name
     * @param lines what becomes of flexible lines, one sentence each
     * @param rows pairs that some trial changes, the worst first, and then those that stay as they are and are not clear
     */
    record Side(List<String> names, Map<String, List<String>> refused, List<String> lines, List<Row> rows) {
        Side {
            lines = List.copyOf(lines);
            names = List.copyOf(names);
            refused = Map.copyOf(refused);
            rows = List.copyOf(rows);
        }

        /** Returns how many pairs have a state with a trial, among the pairs listed. */
        long count(int trial, State state) {
            return rows.stream()
                    .filter(row -> row.with()
                            .get(trial)
                            .filter(r -> r.state() == state)
                            .isPresent())
                    .count();
        }

        /** Returns how many of the listed pairs have a state as the car is. */
        long countBefore(State state) {
            return rows.stream()
                    .filter(row -> row.before().filter(r -> r.state() == state).isPresent())
                    .count();
        }
    }

    /**
     * A pair.
     *
     * @param before as the car is, if it is measured there
     * @param with with each trial, if it is measured there
     * @param turns what each trial does to it
     */
    record Row(
            String first,
            String second,
            Optional<GapRow> before,
            List<Optional<GapRow>> with,
            List<Optional<TrialRow.Turn>> turns) {
        Row {
            with = List.copyOf(with);
            turns = List.copyOf(turns);
        }

        private boolean same() {
            return turns.stream()
                    .allMatch(turn -> turn.filter(t -> t != TrialRow.Turn.SAME).isEmpty());
        }

        private double worstMarginMm() {
            double worst = before.map(GapRow::marginMm).orElse(Double.POSITIVE_INFINITY);
            for (Optional<GapRow> row : with) {
                worst = Math.min(worst, row.map(GapRow::marginMm).orElse(Double.POSITIVE_INFINITY));
            }
            return worst;
        }
    }

    /** Takes on a car; what was compared for another is gone. */
    void show(Optional<MeasuredCar> shown) {
        jobs.cancel(Jobs.Line.TRIALS);
        car = shown;
        trials.setAll(shown.map(c -> c.car().trials()).orElse(List.of()));
        side.set(Optional.empty());
        comparing.set(false);
        status.set("");
    }

    /** Compares trials with the car, all of them in one table. */
    void compare(List<Trial> some) {
        MeasuredCar from = car.orElse(null);
        if (from == null || some.isEmpty()) {
            return;
        }
        List<Trial> wanted = List.copyOf(some);
        comparing.set(true);
        compared.set(0);
        status.set(wanted.size() == 1 ? "trying " + wanted.get(0).name() : "trying " + wanted.size() + " changes");
        jobs.start(
                Jobs.Line.TRIALS,
                progress -> sideBySide(from, asked, wanted, progress),
                new Jobs.Answer<Optional<Side>>() {
                    @Override
                    public void done(Optional<Side> found) {
                        comparing.set(false);
                        status.set("");
                        found.ifPresent(f -> side.set(Optional.of(f)));
                    }

                    @Override
                    public void progress(double fraction, String message) {
                        compared.set(fraction);
                    }

                    @Override
                    public void failed(Throwable thrown) {
                        comparing.set(false);
                        status.set("");
                        mistake.set(Optional.of(thrown));
                    }
                });
    }

    /** Stops comparing. */
    void cancel() {
        jobs.cancel(Jobs.Line.TRIALS);
        comparing.set(false);
        status.set("the comparison was cancelled");
    }

    private static Optional<Side> sideBySide(MeasuredCar from, Asked asked, List<Trial> wanted, Progress progress) {
        TrialStudy study = TrialStudy.of(from, asked);
        List<TrialTable> tables = new ArrayList<>();
        List<String> names = new ArrayList<>();
        Map<String, List<String>> refused = new LinkedHashMap<>();
        for (int t = 0; t < wanted.size(); t++) {
            Trial trial = wanted.get(t);
            try {
                Optional<TrialTable> table = study.compare(trial, part(progress, t, wanted.size()));
                if (table.isEmpty()) {
                    return Optional.empty();
                }
                tables.add(table.get());
                names.add(trial.name());
            } catch (CarFileException e) {
                refused.put(
                        trial.name(),
                        e.complaints().stream().map(Complaint::toString).toList());
            }
        }
        return Optional.of(new Side(names, refused, lines(tables), rows(tables)));
    }

    private static Progress part(Progress whole, int number, int count) {
        return new Progress() {
            @Override
            public void at(double fraction, String message) {
                whole.at((number + fraction) / count, message);
            }

            @Override
            public boolean cancelled() {
                return whole.cancelled();
            }
        };
    }

    private static List<String> lines(List<TrialTable> tables) {
        List<String> lines = new ArrayList<>();
        for (TrialTable table : tables) {
            table.hoses()
                    .forEach(turn -> lines.add(table.trial().name() + ": the "
                            + turn.before().hose().name() + " " + turn.before().verdict() + " as it is, "
                            + turn.after().verdict() + " then"));
        }
        return lines;
    }

    private static List<Row> rows(List<TrialTable> tables) {
        Map<List<String>, Integer> shown = new LinkedHashMap<>();
        for (TrialTable table : tables) {
            table.worthShowing().forEach(row -> shown.putIfAbsent(List.of(row.first(), row.second()), shown.size()));
        }
        List<Row> rows = new ArrayList<>();
        for (List<String> pair : shown.keySet()) {
            Optional<GapRow> before = Optional.empty();
            List<Optional<GapRow>> with = new ArrayList<>();
            List<Optional<TrialRow.Turn>> turns = new ArrayList<>();
            for (TrialTable table : tables) {
                Optional<TrialRow> row = table.rows().stream()
                        .filter(r -> r.first().equals(pair.get(0)) && r.second().equals(pair.get(1)))
                        .findFirst();
                before = before.or(() -> row.flatMap(TrialRow::before));
                with.add(row.flatMap(TrialRow::after));
                turns.add(row.map(r -> r.turn(table.knownToMm())));
            }
            rows.add(new Row(pair.get(0), pair.get(1), before, with, turns));
        }
        rows.sort(java.util.Comparator.comparing(Row::same)
                .thenComparingDouble(Row::worstMarginMm)
                .thenComparing(Row::first)
                .thenComparing(Row::second));
        return rows;
    }

    /** The trials that the car file names. */
    ObservableList<Trial> trials() {
        return trialsSeen;
    }

    /** What was compared last. */
    ReadOnlyObjectProperty<Optional<Side>> sideProperty() {
        return side.getReadOnlyProperty();
    }

    ReadOnlyBooleanProperty comparingProperty() {
        return comparing.getReadOnlyProperty();
    }

    /** How far the comparison is, 0 to 1. */
    ReadOnlyDoubleProperty comparedProperty() {
        return compared.getReadOnlyProperty();
    }

    ReadOnlyStringProperty statusProperty() {
        return status.getReadOnlyProperty();
    }

    /** A mistake of the program that the comparison has met. */
    ReadOnlyObjectProperty<Optional<Throwable>> mistakeProperty() {
        return mistake.getReadOnlyProperty();
    }
}
