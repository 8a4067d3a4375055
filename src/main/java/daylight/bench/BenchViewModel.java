package daylight.bench;

import daylight.bench.file.DemoCars;
import daylight.bench.file.Drawer;
import daylight.car.CarDocument;
import daylight.car.CarFileException;
import daylight.car.Change;
import daylight.car.Complaint;
import daylight.car.Trial;
import daylight.clearance.Asked;
import daylight.clearance.GapRow;
import daylight.clearance.GapSearch;
import daylight.clearance.GapTable;
import daylight.clearance.Least;
import daylight.geometry.Pose;
import daylight.geometry.Proximity;
import daylight.hose.LiveLines;
import daylight.linkage.Mechanism;
import daylight.linkage.Mechanism.Driver;
import daylight.motion.Handle;
import daylight.motion.Setting;
import daylight.report.PairMap;
import daylight.report.SurveyWords;
import daylight.report.Wording;
import daylight.survey.MeasuredCar;
import daylight.survey.Suspect;
import daylight.trim.TrialCar;
import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import javafx.beans.property.BooleanProperty;
import javafx.beans.property.ObjectProperty;
import javafx.beans.property.ReadOnlyBooleanProperty;
import javafx.beans.property.ReadOnlyBooleanWrapper;
import javafx.beans.property.ReadOnlyDoubleProperty;
import javafx.beans.property.ReadOnlyDoubleWrapper;
import javafx.beans.property.ReadOnlyLongProperty;
import javafx.beans.property.ReadOnlyLongWrapper;
import javafx.beans.property.ReadOnlyObjectProperty;
import javafx.beans.property.ReadOnlyObjectWrapper;
import javafx.beans.property.ReadOnlyStringProperty;
import javafx.beans.property.ReadOnlyStringWrapper;
import javafx.beans.property.SimpleBooleanProperty;
import javafx.beans.property.SimpleObjectProperty;
import javafx.beans.property.SimpleStringProperty;
import javafx.beans.property.StringProperty;
import javafx.collections.FXCollections;
import javafx.collections.ObservableList;
import javafx.collections.ObservableSet;
import javafx.collections.transformation.FilteredList;
import org.jspecify.annotations.Nullable;

/**
 * What the window shows and does, without anything of the screen: the car that is open, where its handles stand, its
 * gaps, and what is chosen.
 *
 * <p>All methods are called on the window's thread. Long work is handed to {@link Jobs}. What depends on where the car
 * stands is computed in {@link #frame}, once per frame however many handles have moved since: the last value wins.
 */
final class BenchViewModel {
    /** Rows whose gap is kept up to date while the car moves. */
    static final int LIVE_ROWS = 20;

    private static final double NANOS_PER_SECOND = 1e9;
    /** Causes of causes that a report of the program's own mistake lists. */
    private static final int LONGEST_CHAIN = 5;

    /**
     * Something the user has to know, shown at the top until it is mended or put away.
     *
     * @param heading one line
     * @param lines what exactly, one line each
     */
    record Notice(String heading, List<String> lines) {
        Notice {
            lines = List.copyOf(lines);
        }
    }

    /** A search that has ended, and its table unless it was cancelled. */
    private record Searched(GapSearch search, Optional<GapTable> table) {}

    private final Jobs jobs;
    private final Asked asked;
    private final FileViewModel file;
    private final MeasureViewModel measure;
    private final PartsViewModel parts;
    private final ReadOnlyObjectWrapper<Optional<OpenCar>> open = new ReadOnlyObjectWrapper<>(Optional.empty());
    private final ReadOnlyObjectWrapper<Optional<Notice>> notice = new ReadOnlyObjectWrapper<>(Optional.empty());
    private final ObjectProperty<Step> step = new SimpleObjectProperty<>(Step.GAPS);
    private final ObservableList<HandleViewModel> handles = FXCollections.observableArrayList();
    private final ReadOnlyObjectWrapper<Optional<GapTable>> table = new ReadOnlyObjectWrapper<>(Optional.empty());
    private final ReadOnlyBooleanWrapper stale = new ReadOnlyBooleanWrapper(false);
    private final ObservableList<GapRow> rows = FXCollections.observableArrayList();
    private final FilteredList<GapRow> shownRows = new FilteredList<>(rows);
    // Kept, since a list holds its unmodifiable views weakly.
    private final ObservableList<HandleViewModel> handlesSeen = FXCollections.unmodifiableObservableList(handles);
    private final ObservableList<GapRow> rowsSeen = FXCollections.unmodifiableObservableList(shownRows);
    private final StringProperty filter = new SimpleStringProperty("");
    private final ReadOnlyObjectWrapper<Optional<GapRow>> chosen = new ReadOnlyObjectWrapper<>(Optional.empty());
    private final ReadOnlyObjectWrapper<Optional<Proximity>> chosenNow = new ReadOnlyObjectWrapper<>(Optional.empty());
    private final ReadOnlyObjectWrapper<OptionalInt> picked = new ReadOnlyObjectWrapper<>(OptionalInt.empty());
    private final ObservableSet<Integer> faded = FXCollections.observableSet();
    private final ObservableSet<Integer> hidden = FXCollections.observableSet();
    private final ReadOnlyObjectWrapper<Optional<Ghost>> ghost = new ReadOnlyObjectWrapper<>(Optional.empty());
    private final ReadOnlyObjectWrapper<List<LiveLines.Lie>> lies = new ReadOnlyObjectWrapper<>(List.of());
    private final ReadOnlyBooleanWrapper reading = new ReadOnlyBooleanWrapper(false);
    private final ReadOnlyBooleanWrapper searching = new ReadOnlyBooleanWrapper(false);
    private final ReadOnlyDoubleWrapper searched = new ReadOnlyDoubleWrapper(0);
    private final ReadOnlyStringWrapper status = new ReadOnlyStringWrapper("");
    private final ReadOnlyStringWrapper trouble = new ReadOnlyStringWrapper("");
    private final ReadOnlyStringWrapper shifts = new ReadOnlyStringWrapper("");
    private final ReadOnlyObjectWrapper<List<GapCurve>> curves = new ReadOnlyObjectWrapper<>(List.of());
    private final ReadOnlyObjectWrapper<Optional<PairMap>> map = new ReadOnlyObjectWrapper<>(Optional.empty());
    private final BooleanProperty mapWanted = new SimpleBooleanProperty(false);
    private final ObjectProperty<OptionalInt> curveHandle = new SimpleObjectProperty<>(OptionalInt.empty());
    private final ReadOnlyLongWrapper frames = new ReadOnlyLongWrapper(0);

    private final IdentityHashMap<GapRow, Double> now = new IdentityHashMap<>();
    private Map<String, Integer> partNumbers = Map.of();
    private @Nullable LiveCar live;
    private @Nullable LiveLines liveLines;
    private @Nullable GapSearch lastSearch;
    private double[] values = new double[0];
    private boolean moved;
    private boolean rowsChanging;
    private boolean measuringCurves;
    private boolean curvesWanted;
    private boolean measuringMap;
    /** What the map was measured for: the pair's row and every value but those of its two handles. */
    private List<Object> mapOf = List.of();
    /** Whether the notice is about a text that could not be read: it goes when the text is mended. */
    private boolean refusing;

    private FilePrompt filePrompt = (title, suggested, kind) -> Optional.empty();

    /**
     * Asks for what is usual, and leaves one processor to the window.
     *
     * @param drawer where unsaved work is kept
     */
    BenchViewModel(Jobs jobs, Drawer drawer) {
        this(
                jobs,
                Optional.of(drawer),
                new Asked(
                        Asked.USUAL.toleranceMm(),
                        Asked.USUAL.watchMm(),
                        Asked.USUAL.mostBoxes(),
                        Math.max(1, Runtime.getRuntime().availableProcessors() - 1)));
    }

    /** Keeps no unsaved work. */
    BenchViewModel(Jobs jobs, Asked asked) {
        this(jobs, Optional.empty(), asked);
    }

    BenchViewModel(Jobs jobs, Optional<Drawer> drawer, Asked asked) {
        this.jobs = jobs;
        this.file = new FileViewModel(jobs, drawer, new FileListener());
        this.measure = new MeasureViewModel(jobs, file);
        this.parts = new PartsViewModel(jobs, this);
        this.asked = asked;
        mapWanted.addListener(property -> measureMap());
        filter.addListener((property, was, is) -> {
            change(() -> shownRows.setPredicate(row -> matches(row, is)));
            moved = true;
        });
    }

    // ---------------------------------------------------------------- opening

    /** Opens a car file, after asking about unsaved work: at once in words, the car and its gaps as they come. */
    void open(Path wanted) {
        file.guarded("opening " + wanted.getFileName(), () -> load(wanted));
    }

    /** Writes the text of a new car into a file and opens it, after asking about unsaved work. */
    void create(Path wanted, String text) {
        file.guarded("a new car", () -> file.create(wanted, text, () -> load(wanted)));
    }

    /** The cars that can be tried. */
    List<DemoCars.Demo> demos() {
        try {
            return file.demoFolder().isPresent() ? DemoCars.all() : List.of();
        } catch (IOException e) {
            throw new UncheckedIOException("the program's own files cannot be read", e);
        }
    }

    /** Opens a copy of a demo car, so that it can be changed freely. */
    void openDemo(DemoCars.Demo demo) {
        file.demoFolder().ifPresent(folder -> {
            try {
                open(DemoCars.copy(demo, folder));
            } catch (IOException e) {
                notice.set(Optional.of(new Notice(
                        "The demo could not be copied to where it can be changed.",
                        List.of("The folder " + folder + " does not take it (" + e.getMessage() + ")."))));
            }
        });
    }

    private void load(Path wanted) {
        boolean same = open.get().map(car -> car.file().equals(wanted)).orElse(false);
        if (!same) {
            status.set("reading " + wanted.getFileName());
        }
        jobs.start(Jobs.Line.OPEN, progress -> OpenCar.read(wanted), new Jobs.Answer<OpenCar.Reading>() {
            @Override
            public void done(OpenCar.Reading reading) {
                Optional<CarDocument> text = reading instanceof OpenCar.Reading.Refused refused
                        ? refused.document().filter(document -> mayTake(document))
                        : ((OpenCar.Reading.Read) reading).car().measured().map(MeasuredCar::document);
                text.ifPresent(file::take);
                answer(reading);
                jobs.watch(wanted, changed -> changedOnDisk(changed));
            }

            @Override
            public void failed(Throwable mistake) {
                ourMistake(mistake);
            }
        });
    }

    /** A text without a car takes no other car's place. */
    private boolean mayTake(CarDocument document) {
        return open.get().isEmpty()
                || file.documentProperty()
                        .get()
                        .map(old -> old.file().equals(document.file()))
                        .orElse(false);
    }

    private void changedOnDisk(Path changed) {
        Optional<Path> mine = file.documentProperty().get().flatMap(CarDocument::file);
        if (mine.equals(Optional.of(changed.toAbsolutePath().normalize()))) {
            file.looked(changed);
        } else {
            load(changed);
        }
    }

    /**
     * Changes the text of the open car file; the car is read from it again. Can be undone.
     *
     * @param what what is done, as the menu will say after "Undo": {@code moving the bracket}
     * @param changed the text that comes of it
     */
    void edit(String what, CarDocument changed) {
        file.edit(what, changed);
    }

    /**
     * Writes a trial's changes into the text of the open car file. Other trials of the same part that no longer fit are
     * taken out, and that is said; undo brings all back. Says so at the top if the changes do not fit.
     */
    void write(Trial trial) {
        MeasuredCar measured = open.get().flatMap(OpenCar::measured).orElse(null);
        if (measured == null) {
            return;
        }
        try {
            edit(trial.name(), TrialCar.adopted(measured, trial));
        } catch (CarFileException e) {
            writeAlone(measured, trial, e);
        }
    }

    private void writeAlone(MeasuredCar measured, Trial trial, CarFileException refused) {
        Set<String> of = trial.changes().stream().map(Change::of).collect(Collectors.toSet());
        List<String> inTheWay = measured.car().trials().stream()
                .filter(other -> !other.name().equals(trial.name()))
                .filter(other -> other.changes().stream().anyMatch(change -> of.contains(change.of())))
                .map(Trial::name)
                .toList();
        CarDocument document = measured.document();
        boolean all = inTheWay.size() == measured.car().trials().size();
        if (!inTheWay.isEmpty()) {
            for (String name : all ? List.of("") : inTheWay) {
                document = document.without(all ? List.of("trials") : List.of("trials", name));
            }
        }
        try {
            edit(trial.name(), TrialCar.adopted(new MeasuredCar(measured.car(), document, measured.points()), trial));
            notice.set(Optional.of(new Notice(
                    "Written. What other trials say of the same part no longer fits, so they were taken out; undo brings "
                            + "all back.",
                    inTheWay)));
        } catch (CarFileException e) {
            notice.set(Optional.of(new Notice(
                    "The changes of \"" + trial.name() + "\" were not written into the car file.",
                    refused.complaints().stream().map(Complaint::toString).toList())));
        }
    }

    /** Asks where files are to be written with what the screen has for that. */
    void ask(FilePrompt prompt) {
        filePrompt = prompt;
    }

    /**
     * Asks where a file is to be written, and writes it; says what became of it.
     *
     * @param title what it is for, beginning with a verb
     * @param about what the suggested name says after the car file's own
     * @param kind the ending of the file's name
     * @param content makes what is written
     */
    void keep(String title, String about, String kind, Supplier<byte[]> content) {
        filePrompt.whereTo(title, suggested(about), kind).ifPresent(target -> keep(target, content.get()));
    }

    /** Asks where a file is to be written; empty if the user thought better of it. */
    Optional<Path> whereTo(String title, String about, String kind) {
        return filePrompt.whereTo(title, suggested(about), kind);
    }

    /** Writes a file; says at the foot that it is there, or at the top why it is not. */
    void keep(Path target, byte[] content) {
        try {
            Files.write(target, content);
            status.set("written: " + target);
        } catch (IOException e) {
            notice.set(Optional.of(new Notice(
                    "The file could not be written.",
                    List.of(target + ": " + e.getMessage() + ". Choose another folder, or make room on the disk."))));
        }
    }

    private String suggested(String about) {
        String name = open.get()
                .map(car -> Objects.toString(car.file().getFileName(), "car"))
                .orElse("car")
                .replaceAll("\\.ya?ml$", "");
        return name + "-" + about.replaceAll("[^\\p{Alnum}]+", "-");
    }

    private void readAgain(CarDocument changed) {
        Path from = changed.file().orElseThrow(() -> new IllegalStateException("the text has no file"));
        reading.set(true);
        jobs.start(Jobs.Line.OPEN, progress -> OpenCar.read(from, changed), new Jobs.Answer<OpenCar.Reading>() {
            @Override
            public void done(OpenCar.Reading read) {
                answer(read);
            }

            @Override
            public void failed(Throwable mistake) {
                ourMistake(mistake);
            }
        });
    }

    private void answer(OpenCar.Reading was) {
        reading.set(false);
        if (was instanceof OpenCar.Reading.Read read) {
            boolean same =
                    open.get().map(car -> car.file().equals(read.car().file())).orElse(false);
            if (refusing || !same) {
                notice.set(Optional.empty());
            }
            refusing = false;
            adopt(read.car());
        } else if (was instanceof OpenCar.Reading.Refused refused) {
            refuse(refused);
        }
    }

    private final class FileListener implements FileViewModel.Listener {
        @Override
        public void changed(CarDocument document) {
            readAgain(document);
        }

        @Override
        public void told(String heading, List<String> lines) {
            notice.set(Optional.of(new Notice(heading, lines)));
        }

        @Override
        public void done(String words) {
            status.set(words);
        }

        @Override
        public void mistake(Throwable mistake) {
            ourMistake(mistake);
        }
    }

    private void refuse(OpenCar.Reading.Refused refused) {
        List<Complaint> complaints = refused.complaints();
        refusing = true;
        String count = complaints.size() == 1 ? "1 mistake" : complaints.size() + " mistakes";
        Path name = refused.file().getFileName();
        boolean same = open.get().map(car -> car.file().equals(refused.file())).orElse(false);
        String kept = same ? " The car is shown as it was last read." : "";
        String mend = file.unsavedProperty().get()
                ? ": " + count + " after the last change. Mend it, or undo the change."
                : " could not be read: " + count + ". Mend and save it; it is read again by itself.";
        notice.set(Optional.of(new Notice(
                name + mend + kept, complaints.stream().map(Complaint::toString).toList())));
        if (open.get().isEmpty()) {
            status.set("no car is open");
        }
    }

    /** Tells of a mistake of the program. */
    void ourMistake(Throwable mistake) {
        searching.set(false);
        reading.set(false);
        status.set("stopped by a mistake of the program");
        List<String> chain = new ArrayList<>();
        for (Throwable t = mistake; t != null && chain.size() < LONGEST_CHAIN; t = t.getCause()) {
            StackTraceElement[] trace = t.getStackTrace();
            chain.add(t + (trace.length > 0 ? ", at " + trace[0] : ""));
        }
        notice.set(Optional.of(new Notice(
                "This is a mistake of the program, not of your file. Please report it with the car file.", chain)));
    }

    /** Puts the notice away. */
    void dismissNotice() {
        notice.set(Optional.empty());
    }

    /** Takes on a car that has been read. */
    void adopt(OpenCar car) {
        boolean same = open.get().map(old -> old.file().equals(car.file())).orElse(false);
        Map<String, Double> before = new java.util.HashMap<>();
        if (same) {
            handles.forEach(handle -> before.put(handle.name(), handle.value()));
        }
        List<String> fadedNames = same ? fadedNames() : List.of();
        Optional<GapRow> chosenBefore = same ? chosen.get() : Optional.empty();

        live = new LiveCar(car);
        values = new double[car.workspace().handles().size()];
        partNumbers = car.partNumbers();
        picked.set(OptionalInt.empty());
        faded.clear();
        List<String> hiddenNames = same
                ? open.get()
                        .map(old -> hidden.stream().map(old::partName).toList())
                        .orElse(List.of())
                : List.of();
        hidden.clear();
        hiddenNames.stream()
                .filter(partNumbers::containsKey)
                .map(partNumbers::get)
                .forEach(hidden::add);
        jobs.cancel(Jobs.Line.GHOST);
        ghost.set(Optional.empty());
        liveLines = null;
        lies.set(List.of());
        now.clear();
        curves.set(List.of());
        map.set(Optional.empty());
        measuringMap = false;
        jobs.cancel(Jobs.Line.MAP);
        curveHandle.set(OptionalInt.empty());
        chosenNow.set(Optional.empty());
        List<HandleViewModel> fresh = handlesOf(car);
        fresh.forEach(handle -> {
            handle.valueProperty().set(before.getOrDefault(handle.name(), 0.0));
            handle.valueProperty().addListener((property, was, is) -> moved = true);
        });
        handles.setAll(fresh);
        fadedNames.stream()
                .filter(partNumbers::containsKey)
                .map(partNumbers::get)
                .forEach(faded::add);
        if (same) {
            stale.set(table.get().isPresent());
        } else {
            lastSearch = null;
            change(rows::clear);
            table.set(Optional.empty());
            stale.set(false);
            filter.set("");
        }
        // Rows of the old table may name parts that are gone.
        change(() ->
                rows.removeIf(row -> !partNumbers.containsKey(row.first()) || !partNumbers.containsKey(row.second())));
        chosen.set(chosenBefore.filter(rows::contains));
        open.set(Optional.of(car));
        moved = true;
        readyLines(car);
        search();
    }

    private static List<HandleViewModel> handlesOf(OpenCar car) {
        LengthFormat format = formatOf(car);
        List<HandleViewModel> made = new ArrayList<>();
        Map<String, HandleViewModel> byName = new java.util.HashMap<>();
        for (Handle handle : car.workspace().handles()) {
            HandleViewModel model = new HandleViewModel(handle, driver(car, handle.name()), format);
            made.add(model);
            byName.put(handle.name(), model);
        }
        for (HandleViewModel left : made) {
            HandleViewModel right = byName.get(left.name().replace("left", "right"));
            if (right != null && right != left) {
                HandleViewModel.join(left, right);
            }
        }
        return made;
    }

    private static Driver driver(OpenCar car, String name) {
        for (Mechanism mechanism : car.car().mechanisms()) {
            for (Driver driver : mechanism.drivers()) {
                if (driver.name().equals(name)) {
                    return driver;
                }
            }
        }
        throw new IllegalStateException("the handle " + name + " moves nothing; please report this car file");
    }

    private static LengthFormat formatOf(OpenCar car) {
        return LengthFormat.usual(car.car().inches() ? Unit.INCH : Unit.MILLIMETRE);
    }

    // ---------------------------------------------------------------- gaps

    /** Searches the gaps of the open car, again if they are known. */
    void search() {
        OpenCar car = open.get().orElse(null);
        if (car == null) {
            return;
        }
        searching.set(true);
        searched.set(0);
        status.set("finding the least gap of every pair");
        long start = System.nanoTime();
        GapSearch before = lastSearch;
        jobs.start(
                Jobs.Line.GAPS,
                progress -> {
                    // Pairs that a change of the file has not touched are not searched again.
                    GapSearch search = before == null ? GapSearch.of(car.car(), asked) : before.changed(car.car());
                    return new Searched(search, search.run(progress));
                },
                new Jobs.Answer<Searched>() {
                    @Override
                    public void done(Searched done) {
                        searching.set(false);
                        lastSearch = done.search();
                        done.table()
                                .ifPresentOrElse(
                                        t -> show(t, (System.nanoTime() - start) / NANOS_PER_SECOND),
                                        () -> status.set("the search for gaps was cancelled"));
                    }

                    @Override
                    public void progress(double fraction, String message) {
                        searched.set(fraction);
                    }

                    @Override
                    public void failed(Throwable mistake) {
                        ourMistake(mistake);
                    }
                });
    }

    /** Stops the search for gaps. */
    void cancelSearch() {
        jobs.cancel(Jobs.Line.GAPS);
        searching.set(false);
        status.set("the search for gaps was cancelled");
    }

    private void show(GapTable found, double seconds) {
        Optional<GapRow> before = chosen.get();
        now.clear();
        change(() -> rows.setAll(found.rows()));
        table.set(Optional.of(found));
        stale.set(false);
        status.set(summary(found, seconds));
        // The same pair stays chosen, and the car stays where the user has put it.
        chosen.set(before.flatMap(old -> rows.stream()
                .filter(row -> row.first().equals(old.first()) && row.second().equals(old.second()))
                .findFirst()));
        moved = true;
    }

    private void change(Runnable toRows) {
        rowsChanging = true;
        try {
            toRows.run();
        } finally {
            rowsChanging = false;
        }
    }

    /** Whether the rows are being replaced just now: a selection that moves meanwhile is nobody's choice. */
    boolean rowsAreChanging() {
        return rowsChanging;
    }

    private static String summary(GapTable table, double seconds) {
        long unproved = table.rows().stream()
                .filter(row -> row.least().proof() instanceof Least.Proof.Unproved)
                .count();
        String known = String.format(Locale.ROOT, "known to %s mm", number(table.toleranceMm()));
        String all = unproved == 0
                ? "every gap " + known
                : unproved == 1
                        ? "1 gap is not proved, the rest " + known
                        : unproved + " gaps are not proved, the rest " + known;
        return String.format(
                Locale.ROOT,
                "%d parts \u00b7 %d pairs \u00b7 %s \u00b7 %.1f s",
                table.work().parts(),
                table.rows().size(),
                all,
                seconds);
    }

    private static String number(double value) {
        return java.math.BigDecimal.valueOf(value).stripTrailingZeros().toPlainString();
    }

    private static boolean matches(GapRow row, String filter) {
        String text = (row.state().word() + " " + row.first() + " / " + row.second() + " " + row.rule())
                .toLowerCase(Locale.ROOT);
        for (String word : filter.toLowerCase(Locale.ROOT).strip().split("\\s+", -1)) {
            if (!text.contains(word)) {
                return false;
            }
        }
        return true;
    }

    /** Chooses a pair: the car moves to where its gap is least. */
    void choose(GapRow row) {
        if (!chosen.get().equals(Optional.of(row))) {
            curves.set(List.of());
            map.set(Optional.empty());
            curveHandle.set(OptionalInt.empty());
        }
        moveTo(row.least().where().handles());
        chosen.set(Optional.of(row));
        moved = true;
    }

    /** Chooses no pair; the car stays where it is. */
    void chooseNone() {
        chosen.set(Optional.empty());
        chosenNow.set(Optional.empty());
        curves.set(List.of());
        map.set(Optional.empty());
        curveHandle.set(OptionalInt.empty());
        moved = true;
    }

    private void moveTo(List<Setting> settings) {
        for (HandleViewModel handle : handles) {
            handle.playingProperty().set(false);
            handle.togetherProperty().set(false);
            handle.forgive();
            handle.valueProperty()
                    .set(settings.stream()
                            .filter(s -> s.name().equals(handle.name()))
                            .mapToDouble(Setting::value)
                            .findFirst()
                            .orElse(0));
        }
    }

    /** Moves the whole car back to ride height. */
    void rideHeight() {
        handles.forEach(HandleViewModel::toRideHeight);
    }

    // ---------------------------------------------------------------- parts

    /** Picks a part, or none with a number below zero. */
    void pick(int part) {
        picked.set(part < 0 ? OptionalInt.empty() : OptionalInt.of(part));
    }

    /** Fades the picked part, or brings it back. */
    void fadePicked() {
        picked.get().ifPresent(this::fade);
    }

    /** Fades a part, or brings it back. */
    void fade(int part) {
        if (!faded.remove(part)) {
            faded.add(part);
        }
    }

    /** Hides the picked part, or shows it again. */
    void hidePicked() {
        picked.get().ifPresent(part -> {
            if (!hidden.remove(part)) {
                hidden.add(part);
            }
        });
    }

    /** Shows all hidden parts again. */
    void hideNone() {
        hidden.clear();
    }

    /** Draws the room that the picked part takes up over its whole travel; once more takes it away. */
    void ghostOfPicked() {
        OpenCar car = open.get().orElse(null);
        if (ghost.get().isPresent()) {
            ghost.set(Optional.empty());
            return;
        }
        if (car == null || picked.get().isEmpty()) {
            return;
        }
        int part = picked.get().getAsInt();
        status.set("drawing the room that the " + car.partName(part) + " takes");
        jobs.start(Jobs.Line.GHOST, progress -> Ghost.of(car, part, progress), new Jobs.Answer<Optional<Ghost>>() {
            @Override
            public void done(Optional<Ghost> drawn) {
                if (open.get().filter(car::isStill).isPresent()) {
                    ghost.set(drawn);
                    status.set(
                            drawn.isEmpty()
                                    ? "the " + car.partName(part) + " does not move"
                                    : "the room that the " + car.partName(part) + " takes, drawn to about "
                                            + wording().required(drawn.get().cellMm()) + " from "
                                            + drawn.get().positions() + " positions; gaps are computed exactly");
                }
            }

            @Override
            public void failed(Throwable mistake) {
                ourMistake(mistake);
            }
        });
    }

    /** Makes the flexible lines ready to lie wherever the car is put. */
    private void readyLines(OpenCar car) {
        if (car.car().hoses().isEmpty()) {
            return;
        }
        jobs.start(Jobs.Line.LINES, progress -> LiveLines.of(car.car()), new Jobs.Answer<LiveLines>() {
            @Override
            public void done(LiveLines ready) {
                if (open.get().filter(car::isStill).isPresent()) {
                    liveLines = ready;
                    moved = true;
                }
            }

            @Override
            public void failed(Throwable mistake) {
                ourMistake(mistake);
            }
        });
    }

    /** Brings all faded parts back. */
    void fadeNone() {
        faded.clear();
    }

    private List<String> fadedNames() {
        return open.get().map(car -> faded.stream().map(car::partName).toList()).orElse(List.of());
    }

    /** Returns the number of a part by its name. */
    OptionalInt partNumber(String name) {
        Integer number = partNumbers.get(name);
        return number == null ? OptionalInt.empty() : OptionalInt.of(number);
    }

    // ---------------------------------------------------------------- frames

    /**
     * Brings what depends on the handles up to date: the poses, the chosen pair's gap, and the gaps of the rows on top.
     *
     * @param seconds time since the last frame, for handles that play
     * @return whether anything has moved
     */
    boolean frame(double seconds) {
        handles.forEach(handle -> handle.advance(seconds));
        LiveCar car = live;
        if (!moved || car == null) {
            return false;
        }
        moved = false;
        for (int h = 0; h < values.length; h++) {
            values[h] = handles.get(h).value();
        }
        trouble.set(car.stand(values).orElse(""));
        if (liveLines != null && trouble.get().isEmpty()) {
            lies.set(liveLines.lie(values));
        }
        int count = Math.min(LIVE_ROWS, shownRows.size());
        for (int r = 0; r < count; r++) {
            GapRow row = shownRows.get(r);
            now.put(
                    row,
                    car.closedGap(number(row.first()), number(row.second())).distanceMm());
        }
        GapRow row = chosen.get().orElse(null);
        if (row == null) {
            shifts.set("");
        } else {
            int a = number(row.first());
            int b = number(row.second());
            Wording wording = wording();
            shifts.set(String.join(
                    ", ", car.lean(a, b).stream().map(wording::shift).toList()));
            Proximity gap = car.gap(a, b);
            now.put(row, gap.distanceMm());
            chosenNow.set(Optional.of(gap));
            measureCurves(row, a, b);
        }
        frames.set(frames.get() + 1);
        return true;
    }

    private int number(String part) {
        return partNumber(part).orElseThrow(() -> new IllegalStateException("no part is called " + part));
    }

    /**
     * Asks for the curves of the chosen pair at the present position. While an answer is awaited the next question
     * waits too, so that a handle that never rests does not put the answer off for ever.
     */
    private void measureCurves(GapRow row, int partA, int partB) {
        if (measuringCurves) {
            curvesWanted = true;
            return;
        }
        OpenCar car = open.get().orElseThrow();
        double[] there = values.clone();
        measuringCurves = true;
        curvesWanted = false;
        jobs.start(
                Jobs.Line.CURVE,
                progress -> GapCurve.of(car, new LiveCar(car), partA, partB, there),
                new Jobs.Answer<List<GapCurve>>() {
                    @Override
                    public void done(List<GapCurve> measured) {
                        measuringCurves = false;
                        if (chosen.get().filter(now -> now.equals(row)).isPresent()
                                && open.get().filter(car::isStill).isPresent()) {
                            if (curveHandle.get().isEmpty()) {
                                curveHandle.set(mostTelling(measured));
                            }
                            curves.set(measured);
                            measureMap();
                        }
                        if (curvesWanted) {
                            chosen.get()
                                    .ifPresent(
                                            next -> measureCurves(next, number(next.first()), number(next.second())));
                        }
                    }

                    @Override
                    public void failed(Throwable mistake) {
                        measuringCurves = false;
                        ourMistake(mistake);
                    }
                });
    }

    /**
     * Asks for the map of the chosen pair over the two handles that change its gap most, if it is wanted and the one at
     * hand is of another pair or of another position of the other handles.
     */
    private void measureMap() {
        OpenCar car = open.get().orElse(null);
        GapRow row = chosen.get().orElse(null);
        List<Integer> two = mapHandles();
        if (!mapWanted.get() || measuringMap || car == null || row == null || two.size() < 2) {
            return;
        }
        List<Object> of = new ArrayList<>(List.of(car.file(), row.first(), row.second(), two));
        List<Integer> moving = curves.get().stream().map(GapCurve::handle).toList();
        for (int h : moving) {
            if (!two.contains(h)) {
                of.add(values[h]);
            }
        }
        if (of.equals(mapOf) && map.get().isPresent()) {
            return;
        }
        double[] there = values.clone();
        int a = number(row.first());
        int b = number(row.second());
        measuringMap = true;
        jobs.start(
                Jobs.Line.MAP,
                progress -> GapMap.of(car, new LiveCar(car), a, b, there, two.get(0), two.get(1)),
                new Jobs.Answer<PairMap>() {
                    @Override
                    public void done(PairMap measured) {
                        measuringMap = false;
                        if (chosen.get().filter(now -> now.equals(row)).isPresent()
                                && open.get().filter(car::isStill).isPresent()) {
                            mapOf = List.copyOf(of);
                            map.set(Optional.of(measured));
                        }
                        measureMap();
                    }

                    @Override
                    public void failed(Throwable mistake) {
                        measuringMap = false;
                        ourMistake(mistake);
                    }
                });
    }

    /** Returns the two handles that change the chosen pair's gap most, in their own order; fewer if fewer move it. */
    private List<Integer> mapHandles() {
        return curves.get().stream()
                .sorted(java.util.Comparator.comparingDouble(curve -> curve.leastMm() - curve.greatestMm()))
                .limit(2)
                .map(GapCurve::handle)
                .sorted()
                .toList();
    }

    /** The handle that changes the gap most. */
    private static OptionalInt mostTelling(List<GapCurve> measured) {
        OptionalInt best = OptionalInt.empty();
        double most = -1;
        for (GapCurve curve : measured) {
            double change = curve.greatestMm() - curve.leastMm();
            if (change > most) {
                most = change;
                best = OptionalInt.of(curve.handle());
            }
        }
        return best;
    }

    /** Returns whether any handle moves a part of the chosen pair. */
    boolean chosenMoves() {
        OpenCar car = open.get().orElse(null);
        GapRow row = chosen.get().orElse(null);
        return car != null
                && row != null
                && !car.workspace()
                        .handlesOf(
                                car.bodies().get(number(row.first())),
                                car.bodies().get(number(row.second())))
                        .isEmpty();
    }

    /** Returns where a body is in the present frame, the shifts of the chosen pair included. */
    Pose pose(int body) {
        return live == null ? Pose.RIDE_HEIGHT : live.pose(body);
    }

    /** Returns a row's gap in the present frame, if it is kept up to date. */
    OptionalDouble nowMm(GapRow row) {
        Double gap = now.get(row);
        return gap == null ? OptionalDouble.empty() : OptionalDouble.of(gap);
    }

    /** Returns how lengths are said for the open car. */
    Wording wording() {
        return Wording.in(open.get().map(BenchViewModel::formatOf).orElse(LengthFormat.TENTHS_OF_MM));
    }

    /** Returns whether the open car has its lengths in inches. */
    boolean inches() {
        return open.get().map(car -> car.car().inches()).orElse(false);
    }

    /** Returns what is wrong with readings of the open car that were left out, one line each, and a heading; or nothing. */
    List<String> suspects() {
        List<Suspect> suspects =
                open.get().flatMap(OpenCar::measured).map(MeasuredCar::suspects).orElse(List.of());
        if (suspects.isEmpty()) {
            return List.of();
        }
        LengthFormat format = open.get().map(BenchViewModel::formatOf).orElse(LengthFormat.TENTHS_OF_MM);
        List<String> lines = new ArrayList<>();
        lines.add(
                suspects.size() == 1
                        ? "1 reading looks wrong and is left out:"
                        : suspects.size() + " readings look wrong and are left out:");
        suspects.forEach(suspect -> lines.add(SurveyWords.accused(suspect.first(), format)));
        return lines;
    }

    /** Returns the unit of the open car as a word, or nothing. */
    String unitWord() {
        return open.get()
                .map(car -> "lengths: " + (car.car().inches() ? "inches" : "mm"))
                .orElse("");
    }

    // ---------------------------------------------------------------- properties

    Jobs jobs() {
        return jobs;
    }

    /** How well gaps are to be known. */
    Asked asked() {
        return asked;
    }

    /** The text of the open car file, with its history. */
    FileViewModel file() {
        return file;
    }

    ReadOnlyObjectProperty<Optional<OpenCar>> openProperty() {
        return open.getReadOnlyProperty();
    }

    /** What was measured. */
    MeasureViewModel measure() {
        return measure;
    }

    /** What is on the car. */
    PartsViewModel parts() {
        return parts;
    }

    /** Whether the car is being read from a text that has changed: what is shown is of the text before. */
    ReadOnlyBooleanProperty readingProperty() {
        return reading.getReadOnlyProperty();
    }

    ReadOnlyObjectProperty<Optional<Notice>> noticeProperty() {
        return notice.getReadOnlyProperty();
    }

    ObjectProperty<Step> stepProperty() {
        return step;
    }

    ObservableList<HandleViewModel> handles() {
        return handlesSeen;
    }

    ReadOnlyObjectProperty<Optional<GapTable>> tableProperty() {
        return table.getReadOnlyProperty();
    }

    /** Whether the table is of the file before its last change. */
    ReadOnlyBooleanProperty staleProperty() {
        return stale.getReadOnlyProperty();
    }

    /** The rows that pass the filter, tightest first. */
    ObservableList<GapRow> shownRows() {
        return rowsSeen;
    }

    /** Words that a row has to hold to be shown. */
    StringProperty filterProperty() {
        return filter;
    }

    ReadOnlyObjectProperty<Optional<GapRow>> chosenProperty() {
        return chosen.getReadOnlyProperty();
    }

    /** The chosen pair's gap in the present frame. */
    ReadOnlyObjectProperty<Optional<Proximity>> chosenNowProperty() {
        return chosenNow.getReadOnlyProperty();
    }

    ReadOnlyObjectProperty<OptionalInt> pickedProperty() {
        return picked.getReadOnlyProperty();
    }

    /** The numbers of the parts that are faded by hand. */
    ObservableSet<Integer> faded() {
        return faded;
    }

    /** The numbers of the parts that are hidden by hand. */
    ObservableSet<Integer> hidden() {
        return hidden;
    }

    /** The room that a part takes up over its whole travel, while it is shown. */
    ReadOnlyObjectProperty<Optional<Ghost>> ghostProperty() {
        return ghost.getReadOnlyProperty();
    }

    /** How the flexible lines lie in the present frame, in file order; empty until they are ready. */
    ReadOnlyObjectProperty<List<LiveLines.Lie>> liesProperty() {
        return lies.getReadOnlyProperty();
    }

    ReadOnlyBooleanProperty searchingProperty() {
        return searching.getReadOnlyProperty();
    }

    /** How far the search for gaps is, 0 to 1. */
    ReadOnlyDoubleProperty searchedProperty() {
        return searched.getReadOnlyProperty();
    }

    ReadOnlyStringProperty statusProperty() {
        return status.getReadOnlyProperty();
    }

    /** Why the car cannot stand where the handles are; empty when it can. */
    ReadOnlyStringProperty troubleProperty() {
        return trouble.getReadOnlyProperty();
    }

    /** How the chosen pair's parts have shifted within their play; empty when they have not. */
    ReadOnlyStringProperty shiftsProperty() {
        return shifts.getReadOnlyProperty();
    }

    /** The chosen pair's gap along each handle that moves it, at the present position of the others. */
    ReadOnlyObjectProperty<List<GapCurve>> curvesProperty() {
        return curves.getReadOnlyProperty();
    }

    /** The chosen pair's gap over the two handles that change it most, once it is wanted and measured. */
    ReadOnlyObjectProperty<Optional<PairMap>> mapProperty() {
        return map.getReadOnlyProperty();
    }

    /** Whether the map is shown, and so is to be kept up to date. */
    BooleanProperty mapWantedProperty() {
        return mapWanted;
    }

    /** The handle whose curve is shown. */
    ObjectProperty<OptionalInt> curveHandleProperty() {
        return curveHandle;
    }

    /** Counts the frames in which something moved; listeners redraw. */
    ReadOnlyLongProperty framesProperty() {
        return frames.getReadOnlyProperty();
    }
}
