package daylight.bench;

import daylight.car.Car;
import daylight.clearance.Asked;
import daylight.clearance.GapTable;
import daylight.hose.HoseFindings;
import daylight.hose.HoseReport;
import daylight.hose.HoseSearch;
import daylight.inspection.Inspection;
import daylight.inspection.InspectionReport;
import java.util.List;
import java.util.Optional;
import javafx.beans.property.ReadOnlyBooleanProperty;
import javafx.beans.property.ReadOnlyBooleanWrapper;
import javafx.beans.property.ReadOnlyDoubleProperty;
import javafx.beans.property.ReadOnlyDoubleWrapper;
import javafx.beans.property.ReadOnlyObjectProperty;
import javafx.beans.property.ReadOnlyObjectWrapper;
import javafx.beans.property.ReadOnlyStringProperty;
import javafx.beans.property.ReadOnlyStringWrapper;

/**
 * What is looked at on the car besides the gaps between parts: its flexible lines over the whole travel, and what an
 * inspector would look at. Each is looked at once for a car, when it is first wanted.
 *
 * <p>All methods are called on the window's thread; the work runs elsewhere.
 */
final class WalkRoundViewModel {
    private final Jobs jobs;
    private final Asked asked;
    private final ReadOnlyObjectWrapper<Optional<List<HoseReport>>> hoses =
            new ReadOnlyObjectWrapper<>(Optional.empty());
    private final ReadOnlyObjectWrapper<Optional<InspectionReport>> inspection =
            new ReadOnlyObjectWrapper<>(Optional.empty());
    private final ReadOnlyBooleanWrapper working = new ReadOnlyBooleanWrapper(false);
    private final ReadOnlyDoubleWrapper done = new ReadOnlyDoubleWrapper(0);
    private final ReadOnlyStringWrapper status = new ReadOnlyStringWrapper("");
    private final ReadOnlyObjectWrapper<Optional<Throwable>> mistake = new ReadOnlyObjectWrapper<>(Optional.empty());
    private Optional<Car> car = Optional.empty();
    private Optional<GapTable> parts = Optional.empty();
    private Optional<HoseFindings> findings = Optional.empty();
    private boolean inspectionWanted;

    WalkRoundViewModel(Jobs jobs, Asked asked) {
        this.jobs = jobs;
        this.asked = asked;
    }

    /** Takes on a car; what was found on another is gone. */
    void show(Optional<Car> shown) {
        jobs.cancel(Jobs.Line.HOSES);
        jobs.cancel(Jobs.Line.INSPECTION);
        car = shown;
        parts = Optional.empty();
        findings = Optional.empty();
        inspectionWanted = false;
        hoses.set(Optional.empty());
        inspection.set(Optional.empty());
        working.set(false);
        status.set("");
    }

    /** Takes on the gaps of the car's parts, which an inspection rests on. */
    void know(Optional<GapTable> table) {
        parts = table;
        if (inspectionWanted && table.isPresent() && !working.get()) {
            inspect();
        }
    }

    /** Looks at the flexible lines, unless that was done. */
    void lookAtLines() {
        Car of = car.orElse(null);
        if (of == null || working.get() || hoses.get().isPresent()) {
            return;
        }
        if (of.hoses().isEmpty()) {
            found(new HoseFindings(List.of(), List.of(), List.of(), 0));
            return;
        }
        begin("looking at the flexible lines");
        jobs.start(
                Jobs.Line.HOSES,
                progress -> HoseSearch.of(of).findings(asked.watchMm(), asked.threads(), progress),
                new Answer<Optional<HoseFindings>>() {
                    @Override
                    public void done(Optional<HoseFindings> answer) {
                        working.set(false);
                        status.set("");
                        answer.ifPresent(WalkRoundViewModel.this::found);
                    }
                });
    }

    private void found(HoseFindings answer) {
        findings = Optional.of(answer);
        hoses.set(Optional.of(answer.reports()));
        if (inspectionWanted) {
            inspect();
        }
    }

    /** Walks round the car as an inspector would, unless that was done: after its gaps and its lines are known. */
    void inspect() {
        Car of = car.orElse(null);
        if (of == null || inspection.get().isPresent()) {
            return;
        }
        inspectionWanted = true;
        if (parts.isEmpty()) {
            status.set("the gaps are looked at first");
            return;
        }
        if (findings.isEmpty()) {
            lookAtLines();
            return;
        }
        if (working.get()) {
            return;
        }
        GapTable table = findings.get().addedTo(parts.get());
        List<HoseReport> reports = findings.get().reports();
        begin("walking round the car");
        jobs.start(
                Jobs.Line.INSPECTION,
                progress -> Inspection.of(of, table, reports, progress),
                new Answer<Optional<InspectionReport>>() {
                    @Override
                    public void done(Optional<InspectionReport> answer) {
                        working.set(false);
                        status.set("");
                        inspection.set(answer);
                    }
                });
    }

    private void begin(String what) {
        working.set(true);
        done.set(0);
        status.set(what);
    }

    /** Stops what is being looked at. */
    void cancel() {
        jobs.cancel(Jobs.Line.HOSES);
        jobs.cancel(Jobs.Line.INSPECTION);
        inspectionWanted = false;
        working.set(false);
        status.set("that was cancelled");
    }

    private abstract class Answer<T> implements Jobs.Answer<T> {
        @Override
        public void progress(double fraction, String message) {
            done.set(fraction);
        }

        @Override
        public void failed(Throwable thrown) {
            working.set(false);
            status.set("");
            mistake.set(Optional.of(thrown));
        }
    }

    /** What becomes of each flexible line; empty until it was looked at. */
    ReadOnlyObjectProperty<Optional<List<HoseReport>>> hosesProperty() {
        return hoses.getReadOnlyProperty();
    }

    /** What an inspector would look at; empty until it was. */
    ReadOnlyObjectProperty<Optional<InspectionReport>> inspectionProperty() {
        return inspection.getReadOnlyProperty();
    }

    ReadOnlyBooleanProperty workingProperty() {
        return working.getReadOnlyProperty();
    }

    /** How far the work is, 0 to 1. */
    ReadOnlyDoubleProperty doneProperty() {
        return done.getReadOnlyProperty();
    }

    ReadOnlyStringProperty statusProperty() {
        return status.getReadOnlyProperty();
    }

    /** A mistake of the program that the work has met. */
    ReadOnlyObjectProperty<Optional<Throwable>> mistakeProperty() {
        return mistake.getReadOnlyProperty();
    }
}
