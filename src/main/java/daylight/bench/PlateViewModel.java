package daylight.bench;

import daylight.car.Car;
import daylight.car.Change;
import daylight.car.Trial;
import daylight.clearance.Asked;
import daylight.clearance.GapRow;
import daylight.geometry.Cut;
import daylight.geometry.Flat;
import daylight.geometry.PlateCuts;
import daylight.geometry.PlateEdges;
import daylight.geometry.Shape;
import daylight.report.Paper;
import daylight.report.Template;
import daylight.trim.CutStudy;
import daylight.trim.CutWords;
import daylight.trim.LeastCut;
import daylight.units.Length;
import daylight.units.LengthFormat;
import daylight.units.Parsed;
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
import javafx.collections.FXCollections;
import javafx.collections.ObservableList;
import org.jspecify.annotations.Nullable;

/**
 * A plate that is cut on the bench: which one, where the cut line lies, and what becomes of the plate's gaps and metal.
 *
 * <p>All methods are called on the window's thread. A cut that is dragged is answered by one job at a time: the next
 * question waits for the last answer, and of the waiting ones only the newest counts. While an answer is awaited the
 * one before it is marked as stale.
 */
final class PlateViewModel {
    /** Side of the squares in which the forbidden region is drawn, as a share of the plate's size. */
    private static final double SQUARE_SHARE = 1.0 / 110;

    private final Jobs jobs;
    private final Asked asked;
    private final ObservableList<String> plates = FXCollections.observableArrayList();
    // Kept, since a list holds its unmodifiable views weakly.
    private final ObservableList<String> platesSeen = FXCollections.unmodifiableObservableList(plates);
    private final ReadOnlyObjectWrapper<Optional<String>> name = new ReadOnlyObjectWrapper<>(Optional.empty());
    private final ReadOnlyObjectWrapper<Optional<Cut>> cut = new ReadOnlyObjectWrapper<>(Optional.empty());
    private final ReadOnlyStringWrapper refusal = new ReadOnlyStringWrapper("");
    private final ReadOnlyStringWrapper blocked = new ReadOnlyStringWrapper("");
    private final ReadOnlyObjectWrapper<Optional<CutStudy.Tried>> before =
            new ReadOnlyObjectWrapper<>(Optional.empty());
    private final ReadOnlyObjectWrapper<Optional<CutStudy.Tried>> tried = new ReadOnlyObjectWrapper<>(Optional.empty());
    private final ReadOnlyBooleanWrapper stale = new ReadOnlyBooleanWrapper(false);
    private final ReadOnlyObjectWrapper<List<List<Flat>>> forbidden = new ReadOnlyObjectWrapper<>(List.of());
    private final ReadOnlyObjectWrapper<Optional<LeastCut>> least = new ReadOnlyObjectWrapper<>(Optional.empty());
    private final ReadOnlyBooleanWrapper searching = new ReadOnlyBooleanWrapper(false);
    private final ReadOnlyDoubleWrapper searched = new ReadOnlyDoubleWrapper(0);
    private final ReadOnlyStringWrapper status = new ReadOnlyStringWrapper("");
    private final ReadOnlyObjectWrapper<Optional<Throwable>> mistake = new ReadOnlyObjectWrapper<>(Optional.empty());

    private @Nullable Car car;
    private Shape.@Nullable Plate plate;
    private @Nullable CutGrips grips;
    private @Nullable CutStudy study;
    private boolean answering;
    private boolean asking;
    /** Counts plates that were laid on the bench: a late answer about another one is dropped. */
    private int laid;

    PlateViewModel(Jobs jobs, Asked asked) {
        this.jobs = jobs;
        this.asked = asked;
    }

    /** What a job about a cut brings back; the study is used again for the next one. */
    private record Answered(
            CutStudy study, Optional<CutStudy.Tried> before, Optional<CutStudy.Tried> tried, String blocked) {}

    // ---------------------------------------------------------------- which plate

    /** Takes on a car; the same plate stays on the bench if the car still has it, with its cut if that still fits. */
    void show(Optional<Car> shown) {
        Optional<String> keptName = name.get();
        Optional<Cut> keptCut = cut.get();
        Optional<Shape.Plate> keptPlate = plate();
        car = shown.orElse(null);
        plates.setAll(shown.stream()
                .flatMap(c -> c.parts().stream())
                .filter(part -> part.shape() instanceof Shape.Plate)
                .map(Car.Part::name)
                .toList());
        clear();
        if (keptName.filter(plates::contains).isPresent()) {
            choose(keptName.get());
            if (plate().equals(keptPlate)) {
                keptCut.ifPresent(this::cut);
            }
        } else {
            name.set(Optional.empty());
        }
    }

    private void clear() {
        laid++;
        jobs.cancel(Jobs.Line.CUT);
        jobs.cancel(Jobs.Line.FORBIDDEN);
        jobs.cancel(Jobs.Line.LEAST_CUT);
        answering = false;
        asking = false;
        study = null;
        plate = null;
        grips = null;
        cut.set(Optional.empty());
        refusal.set("");
        blocked.set("");
        before.set(Optional.empty());
        tried.set(Optional.empty());
        stale.set(false);
        forbidden.set(List.of());
        least.set(Optional.empty());
        searching.set(false);
        status.set("");
    }

    /**
     * Lays a plate on the bench.
     *
     * @throws IllegalArgumentException if the car has no plate of that name
     */
    void choose(String wanted) {
        Car from = car;
        if (from == null || !plates.contains(wanted)) {
            throw new IllegalArgumentException("no plate is called " + wanted);
        }
        clear();
        Shape.Plate shape = (Shape.Plate) from.part(wanted).orElseThrow().shape();
        plate = shape;
        grips = new CutGrips(shape, stepMm());
        name.set(Optional.of(wanted));
        status.set("looking at what comes near the " + wanted);
        askForAnswer();
        askForForbidden(from, wanted, shape);
    }

    /** The plate whose gaps are worst among rows that are tightest first, if a plate is not clear; else the first. */
    Optional<String> mostInNeed(List<GapRow> rows) {
        return rows.stream()
                .flatMap(row -> List.of(row.first(), row.second()).stream())
                .filter(plates::contains)
                .findFirst()
                .or(() -> plates.stream().findFirst());
    }

    private double sizeMm(Shape.Plate shape) {
        double size = 0;
        for (Flat a : shape.outline()) {
            for (Flat b : shape.outline()) {
                size = Math.max(size, Math.hypot(a.x() - b.x(), a.y() - b.y()));
            }
        }
        return size;
    }

    private void askForForbidden(Car from, String wanted, Shape.Plate shape) {
        int asking = laid;
        jobs.start(
                Jobs.Line.FORBIDDEN,
                progress -> CutStudy.of(from, wanted, asked)
                        .forbidden(CutStudy.Wanted.inSteps(stepMm(from)), sizeMm(shape) * SQUARE_SHARE),
                new Answer<List<List<Flat>>>(asking) {
                    @Override
                    void found(List<List<Flat>> cells) {
                        forbidden.set(cells);
                    }
                });
    }

    /** An answer about the plate that was on the bench when it was asked for; later it is dropped. */
    private abstract class Answer<T> implements Jobs.Answer<T> {
        private final int of;

        Answer(int of) {
            this.of = of;
        }

        abstract void found(T result);

        @Override
        public void done(T result) {
            if (of == laid) {
                found(result);
            }
        }

        @Override
        public void failed(Throwable thrown) {
            answering = false;
            searching.set(false);
            mistake.set(Optional.of(thrown));
        }
    }

    // ---------------------------------------------------------------- the cut

    /** Begins with a cut of a kind where it is needed most: at the forbidden region, else at the first corner. */
    void begin(LeastCut.Kind kind) {
        CutGrips hold = grips;
        if (hold == null) {
            return;
        }
        double x = 0;
        double y = 0;
        int count = 0;
        for (List<Flat> cell : forbidden.get()) {
            for (Flat corner : cell) {
                x += corner.x();
                y += corner.y();
                count++;
            }
        }
        Flat near = count == 0 ? PlateCuts.corner(plate().orElseThrow(), 0) : new Flat(x / count, y / count);
        cut(hold.first(kind, near));
    }

    /** Begins with a cut of the kind of the present one, or a kind, at the corner nearest to a place. */
    void begin(LeastCut.Kind kind, Flat near) {
        CutGrips hold = grips;
        if (hold != null) {
            cut(hold.first(kind, near));
        }
    }

    /** Drags a grip of the cut to a place on the plate. */
    void drag(int grip, Flat to) {
        CutGrips hold = grips;
        if (hold != null) {
            cut.get().ifPresent(now -> cut(hold.dragged(now, grip, to)));
        }
    }

    /** Lets the other piece come off. */
    void otherSide() {
        CutGrips hold = grips;
        if (hold != null) {
            cut.get().ifPresent(now -> cut(hold.otherSide(now)));
        }
    }

    /** Takes a cut on, for example one that was found. */
    void cut(Cut wanted) {
        refusal.set("");
        cut.set(Optional.of(wanted));
        askForAnswer();
    }

    /** Puts the saw away: the plate is as it was. */
    void uncut() {
        cut.set(Optional.empty());
        refusal.set("");
        blocked.set("");
        tried.set(Optional.empty());
        stale.set(false);
    }

    /**
     * Types one of the cut's distances.
     *
     * @return whether it was understood and can be; if not, {@link #refusalProperty} says why
     */
    boolean type(int distance, String text) {
        Cut now = cut.get().orElse(null);
        CutGrips hold = grips;
        Shape.Plate on = plate;
        Car of = car;
        if (now == null || hold == null || on == null || of == null) {
            return false;
        }
        Parsed<Length> length = Length.parse(text.strip(), of.unit());
        if (length instanceof Parsed.Refused<Length> refused) {
            refusal.set(refused.reason() + ". " + refused.advice());
            return false;
        }
        Cut changed;
        try {
            changed = hold.with(now, distance, length.value().map(Length::mm).orElse(0.0));
        } catch (IllegalArgumentException e) {
            refusal.set("\"" + text.strip() + "\" cannot be: " + e.getMessage() + ".");
            return false;
        }
        Optional<String> why = PlateCuts.whyNot(on, changed);
        if (why.isPresent()) {
            refusal.set("\"" + text.strip() + "\" cannot be: " + why.get() + ".");
            return false;
        }
        cut(changed);
        return true;
    }

    /** Returns the distances of the cut. */
    List<CutGrips.Distance> distances() {
        CutGrips hold = grips;
        return hold == null ? List.of() : cut.get().map(hold::distances).orElse(List.of());
    }

    /** Returns where the cut can be taken hold of. */
    List<Flat> gripPlaces() {
        CutGrips hold = grips;
        Shape.Plate on = plate;
        return hold == null || on == null
                ? List.of()
                : cut.get().map(hold::places).orElse(List.of());
    }

    /** Asks what becomes of the plate with the present cut, as soon as the last answer is there. */
    private void askForAnswer() {
        String wanted = name.get().orElse(null);
        Car from = car;
        Shape.Plate on = plate;
        if (wanted == null || from == null || on == null) {
            return;
        }
        stale.set(tried.get().isPresent());
        if (answering) {
            asking = true;
            return;
        }
        Optional<Cut> now = cut.get();
        Optional<String> cannot = now.flatMap(c -> PlateCuts.whyNot(on, c));
        if (cannot.isPresent()) {
            blocked.set(cannot.get());
            tried.set(Optional.empty());
            stale.set(false);
            return;
        }
        CutStudy known = study;
        study = null;
        Optional<CutStudy.Tried> knownBefore = before.get();
        answering = true;
        asking = false;
        jobs.start(
                Jobs.Line.CUT,
                progress -> {
                    CutStudy with = known == null ? CutStudy.of(from, wanted, asked) : known;
                    Optional<CutStudy.Tried> as =
                            knownBefore.isPresent() ? knownBefore : with.tried(List.of(), progress);
                    return new Answered(
                            with,
                            as,
                            now.flatMap(c -> with.tried(List.of(c), progress)),
                            now.flatMap(with::blocks).orElse(""));
                },
                new Answer<Answered>(laid) {
                    @Override
                    void found(Answered answer) {
                        answering = false;
                        study = answer.study();
                        before.set(answer.before());
                        status.set("");
                        if (cut.get().isPresent()) {
                            tried.set(answer.tried());
                            blocked.set(answer.blocked());
                        }
                        stale.set(asking && cut.get().isPresent());
                        if (asking || !cut.get().equals(now)) {
                            askForAnswer();
                        }
                    }
                });
    }

    // ---------------------------------------------------------------- the least cut

    /** Looks for the least cuts that clear everything. */
    void findLeast() {
        String wanted = name.get().orElse(null);
        Car from = car;
        if (wanted == null || from == null) {
            return;
        }
        searching.set(true);
        searched.set(0);
        status.set("looking for the least cut");
        jobs.start(
                Jobs.Line.LEAST_CUT,
                progress -> CutStudy.of(from, wanted, asked).leastCut(CutStudy.Wanted.inSteps(stepMm(from)), progress),
                new Answer<Optional<LeastCut>>(laid) {
                    @Override
                    void found(Optional<LeastCut> found) {
                        searching.set(false);
                        status.set("");
                        least.set(found);
                        found.flatMap(l -> l.options().stream().findFirst()).ifPresent(best -> cut(best.marked()));
                    }

                    @Override
                    public void progress(double fraction, String message) {
                        searched.set(fraction);
                    }
                });
    }

    /** Stops looking for the least cut. */
    void cancelLeast() {
        jobs.cancel(Jobs.Line.LEAST_CUT);
        searching.set(false);
        status.set("the search for the least cut was cancelled");
    }

    // ---------------------------------------------------------------- what can be done with it

    /** Returns the cut as a trial of the car; adopting it writes it into the file. Empty while there is no cut. */
    Optional<Trial> trial() {
        Shape.Plate on = plate;
        return on == null
                ? Optional.empty()
                : name.get()
                        .flatMap(of -> cut.get()
                                .filter(c -> PlateCuts.whyNot(on, c).isEmpty())
                                .map(c -> new Trial("cut of the " + of, List.of(new Change.Trim(of, on, c)))));
    }

    /** Returns the template of the plate with its cut, at full size. */
    Optional<Template> template(Paper paper) {
        Shape.Plate on = plate;
        Car of = car;
        if (on == null || of == null) {
            return Optional.empty();
        }
        Optional<Cut> marked = cut.get().filter(c -> PlateCuts.whyNot(on, c).isEmpty());
        return name.get().map(part -> Template.of(of.name(), part, on, marked, format(), paper));
    }

    /** Returns the cut in words, as it is marked out. */
    String cutWords() {
        Shape.Plate on = plate;
        return on == null
                ? ""
                : cut.get()
                        .filter(c -> PlateCuts.whyNot(on, c).isEmpty())
                        .map(c -> CutWords.of(on, c, format()))
                        .orElse("");
    }

    /** Returns a cut that was found in words. */
    String words(Cut found) {
        Shape.Plate on = plate;
        return on == null ? "" : CutWords.of(on, found, format());
    }

    /** Returns the name of the part next to the plate in one of its rows. */
    String other(GapRow row) {
        return name.get().filter(row.first()::equals).isPresent() ? row.second() : row.first();
    }

    /** Returns the welds, kept figures and holes' limits of the plate, if the file gives any. */
    Optional<Car.Metal> metal() {
        Car of = car;
        return of == null ? Optional.empty() : name.get().flatMap(of::metal);
    }

    /** Returns the names of the plate's edges, in order. */
    List<String> edgeNames() {
        Shape.Plate on = plate;
        return on == null ? List.of() : PlateEdges.of(on).names();
    }

    /** Returns how lengths are said. */
    LengthFormat format() {
        Car of = car;
        return of == null ? LengthFormat.TENTHS_OF_MM : LengthFormat.usual(of.unit());
    }

    boolean inches() {
        Car of = car;
        return of != null && of.inches();
    }

    /** Returns in what steps a cut is marked out, mm: a sixteenth, or a millimetre. */
    double stepMm() {
        Car of = car;
        return of == null ? 1 : stepMm(of);
    }

    private static double stepMm(Car car) {
        return car.inches() ? Length.MM_PER_INCH / 16 : 1;
    }

    // ---------------------------------------------------------------- properties

    /** The names of the car's plates, in file order. */
    ObservableList<String> plates() {
        return platesSeen;
    }

    /** The plate on the bench. */
    ReadOnlyObjectProperty<Optional<String>> nameProperty() {
        return name.getReadOnlyProperty();
    }

    /** Returns the plate on the bench as it is on the car. */
    Optional<Shape.Plate> plate() {
        return Optional.ofNullable(plate);
    }

    ReadOnlyObjectProperty<Optional<Cut>> cutProperty() {
        return cut.getReadOnlyProperty();
    }

    /** Why the last typed text was not taken; empty while nothing is wrong. */
    ReadOnlyStringProperty refusalProperty() {
        return refusal.getReadOnlyProperty();
    }

    /** Why the cut cannot or should not be made; empty while it may. */
    ReadOnlyStringProperty blockedProperty() {
        return blocked.getReadOnlyProperty();
    }

    /** The plate as it is, with its gaps. */
    ReadOnlyObjectProperty<Optional<CutStudy.Tried>> beforeProperty() {
        return before.getReadOnlyProperty();
    }

    /** The plate with the cut that was answered last. */
    ReadOnlyObjectProperty<Optional<CutStudy.Tried>> triedProperty() {
        return tried.getReadOnlyProperty();
    }

    /** Whether the answer is of a cut that has been dragged on since. */
    ReadOnlyBooleanProperty staleProperty() {
        return stale.getReadOnlyProperty();
    }

    /** The places of the plate that come too near to something, as figures. */
    ReadOnlyObjectProperty<List<List<Flat>>> forbiddenProperty() {
        return forbidden.getReadOnlyProperty();
    }

    /** What was found when the least cut was looked for. */
    ReadOnlyObjectProperty<Optional<LeastCut>> leastProperty() {
        return least.getReadOnlyProperty();
    }

    ReadOnlyBooleanProperty searchingProperty() {
        return searching.getReadOnlyProperty();
    }

    /** How far the search for the least cut is, 0 to 1. */
    ReadOnlyDoubleProperty searchedProperty() {
        return searched.getReadOnlyProperty();
    }

    /** What is going on, in a line; empty at rest. */
    ReadOnlyStringProperty statusProperty() {
        return status.getReadOnlyProperty();
    }

    /** A mistake of the program that a job has met. */
    ReadOnlyObjectProperty<Optional<Throwable>> mistakeProperty() {
        return mistake.getReadOnlyProperty();
    }
}
