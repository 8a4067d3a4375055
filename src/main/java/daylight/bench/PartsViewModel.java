package daylight.bench;

import daylight.car.CarDocument;
import daylight.car.CarFileException;
import daylight.car.Complaint;
import daylight.geometry.Spot;
import daylight.survey.MeasuredCar;
import daylight.survey.MeasuredPoints;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import javafx.beans.property.ReadOnlyBooleanProperty;
import javafx.beans.property.ReadOnlyBooleanWrapper;
import javafx.beans.property.ReadOnlyObjectProperty;
import javafx.beans.property.ReadOnlyObjectWrapper;
import javafx.beans.property.SimpleStringProperty;
import javafx.beans.property.StringProperty;
import javafx.collections.FXCollections;
import javafx.collections.ObservableList;
import javafx.collections.transformation.FilteredList;

/**
 * The parts of the car as the car file has them, and one of them on a form. What the form says is written into the
 * text, tried on another thread, and kept only if the file reads; what is wrong is told beside its field in the file's
 * own words.
 */
final class PartsViewModel {
    private static final String PARTS = "parts";
    private static final List<String> WRITTEN_ALONE = List.of("group", "hose");
    /** Under this key stands what is wrong with no field in particular. */
    static final String WHOLE = "";

    static final String NAME = "name";
    static final String ON = "on";
    static final String KINDS = "kinds";

    /**
     * A part.
     *
     * @param body what carries it
     * @param kinds its kinds for the rules
     * @param shape the word for its shape in the car file
     */
    record PartRow(String name, String body, String kinds, String shape) {}

    /** A part on the form: what each field says, and what is wrong with it. */
    static final class Draft {
        private final Optional<String> existing;
        private final StringProperty shape = new SimpleStringProperty("tube");
        private final Map<String, StringProperty> values = new LinkedHashMap<>();
        private final Map<String, StringProperty> complaints = new LinkedHashMap<>();
        private final Map<String, String> before = new LinkedHashMap<>();

        private Draft(Optional<String> existing) {
            this.existing = existing;
        }

        /** The part that is changed; nothing for a new one. */
        Optional<String> existing() {
            return existing;
        }

        /** The key of its shape. */
        StringProperty shapeProperty() {
            return shape;
        }

        /** What is asked about its shape. */
        List<PartForm.Field> fields() {
            return PartForm.of(shape.get()).map(PartForm::fields).orElse(List.of());
        }

        /** What a field says. */
        StringProperty value(String key) {
            return values.computeIfAbsent(key, k -> new SimpleStringProperty(""));
        }

        /** What is wrong with a field; empty where nothing is. */
        StringProperty complaint(String key) {
            return complaints.computeIfAbsent(key, k -> new SimpleStringProperty(""));
        }

        private String text(String key) {
            return value(key).get().strip();
        }

        private boolean isChanged(String key) {
            return !text(key).equals(before.getOrDefault(key, ""));
        }

        private void begin(String key, String written) {
            value(key).set(written);
            before.put(key, written.strip());
        }
    }

    private final Jobs jobs;
    private final BenchViewModel bench;
    private final ObservableList<PartRow> rows = FXCollections.observableArrayList();
    private final FilteredList<PartRow> shownRows = new FilteredList<>(rows);
    private final StringProperty filter = new SimpleStringProperty("");
    private final ReadOnlyObjectWrapper<Optional<Draft>> draft = new ReadOnlyObjectWrapper<>(Optional.empty());
    private final ReadOnlyBooleanWrapper trying = new ReadOnlyBooleanWrapper(false);

    PartsViewModel(Jobs jobs, BenchViewModel bench) {
        this.jobs = jobs;
        this.bench = bench;
        filter.addListener((property, was, is) -> shownRows.setPredicate(row -> matches(row, is)));
        bench.file().documentProperty().addListener((property, was, is) -> {
            boolean same = was.flatMap(CarDocument::file).equals(is.flatMap(CarDocument::file));
            rows.setAll(is.map(PartsViewModel::rowsOf).orElse(List.of()));
            if (!same) {
                filter.set("");
                draft.set(Optional.empty());
            } else {
                // A part on the form follows an undone change; what is typed for a new one stays.
                draft.get().flatMap(Draft::existing).ifPresent(this::begin);
            }
        });
    }

    private static boolean matches(PartRow row, String filter) {
        String text = (row.name() + " " + row.body() + " " + row.kinds() + " " + row.shape()).toLowerCase(Locale.ROOT);
        return Arrays.stream(filter.toLowerCase(Locale.ROOT).strip().split("\\s+", -1))
                .allMatch(text::contains);
    }

    private static List<PartRow> rowsOf(CarDocument document) {
        return document.keys(List.of(PARTS)).stream()
                .map(name -> new PartRow(
                        name,
                        document.value(List.of(PARTS, name, ON))
                                .orElse(document.value(List.of(PARTS, name, "mirror"))
                                        .map(of -> "mirror of " + of)
                                        .orElse("")),
                        kinds(document, name),
                        shape(document, name)))
                .toList();
    }

    private static String shape(CarDocument document, String name) {
        List<String> keys = document.keys(List.of(PARTS, name));
        return PartForm.ALL.stream()
                .map(PartForm::shape)
                .filter(keys::contains)
                .findFirst()
                .or(() -> WRITTEN_ALONE.stream().filter(keys::contains).findFirst())
                .orElse("");
    }

    private static String kinds(CarDocument document, String name) {
        Optional<String> one =
                document.value(List.of(PARTS, name, "kind")).or(() -> document.value(List.of(PARTS, name, KINDS)));
        List<String> all = new ArrayList<>();
        one.ifPresent(all::add);
        for (int i = 0; i < document.count(List.of(PARTS, name, KINDS)); i++) {
            document.value(List.of(PARTS, name, KINDS, Integer.toString(i))).ifPresent(all::add);
        }
        return String.join(", ", all);
    }

    // ---------------------------------------------------------------- the form

    /** Puts a part on the form. */
    void begin(String name) {
        CarDocument document = bench.file().documentProperty().get().orElseThrow();
        if (!document.has(List.of(PARTS, name))) {
            draft.set(Optional.empty());
            return;
        }
        Draft fresh = new Draft(Optional.of(name));
        fresh.shape.set(shape(document, name));
        fresh.begin(NAME, name);
        fresh.begin(ON, document.value(List.of(PARTS, name, ON)).orElse(""));
        fresh.begin(KINDS, kinds(document, name));
        for (PartForm.Field field : fresh.fields()) {
            fresh.begin(field.key(), written(document, path(name, field, fresh.shape.get()), field.writing()));
        }
        draft.set(Optional.of(fresh));
    }

    /** Begins a new part. */
    void beginNew() {
        Draft fresh = new Draft(Optional.empty());
        fresh.value(ON).set("chassis");
        draft.set(Optional.of(fresh));
    }

    /** Puts the form away; what it says is lost. */
    void putAway() {
        draft.set(Optional.empty());
    }

    private static List<String> path(String name, PartForm.Field field, String shape) {
        List<String> path = new ArrayList<>(List.of(PARTS, name));
        path.addAll(field.path(shape));
        return path;
    }

    private static String written(CarDocument document, List<String> path, PartForm.Writing writing) {
        if (writing != PartForm.Writing.LINES || document.count(path) == 0) {
            return list(document, path);
        }
        List<String> lines = new ArrayList<>();
        for (int i = 0; i < document.count(path); i++) {
            List<String> item = new ArrayList<>(path);
            item.add(Integer.toString(i));
            lines.add(list(document, item));
        }
        return String.join("\n", lines);
    }

    /** A value, or a list of values as they are typed on the form; anything else as it is written. */
    private static String list(CarDocument document, List<String> path) {
        Optional<String> value = document.value(path);
        if (value.isPresent()) {
            return value.get();
        }
        List<String> items = new ArrayList<>();
        for (int i = 0; i < document.count(path); i++) {
            List<String> item = new ArrayList<>(path);
            item.add(Integer.toString(i));
            document.value(item).ifPresent(items::add);
        }
        return !items.isEmpty() && items.size() == document.count(path)
                ? String.join(items.stream().anyMatch(item -> item.contains(",")) ? "; " : ", ", items)
                : document.written(path).orElse("").replaceAll("\\s*\\n\\s*", " ");
    }

    /** Returns the YAML of what a field says. */
    static String yaml(String typed, PartForm.Writing writing) {
        return switch (writing) {
            case VALUE -> isYaml(typed) ? typed : quoted(typed);
            case SPOT -> spot(typed);
            case LINES ->
                "["
                        + typed.lines()
                                .map(String::strip)
                                .filter(line -> !line.isEmpty())
                                .map(PartsViewModel::spot)
                                .collect(Collectors.joining(", "))
                        + "]";
        };
    }

    private static String spot(String typed) {
        String text = typed.strip();
        if (isYaml(text)) {
            return text;
        }
        String between = text.contains(";") ? ";" : ",";
        return text.contains(between)
                ? "["
                        + Arrays.stream(text.split(between, -1))
                                .map(item -> quoted(item.strip()))
                                .collect(Collectors.joining(", "))
                        + "]"
                : quoted(text);
    }

    private static boolean isYaml(String typed) {
        return (typed.startsWith("[") && typed.endsWith("]")) || (typed.startsWith("{") && typed.endsWith("}"));
    }

    private static String quoted(String value) {
        return value.matches("[-+]?[\\p{L}\\p{N}][\\p{L}\\p{N} ./+-]*") ? value : "'" + value.replace("'", "''") + "'";
    }

    /** Writes what the form says into the text, if the file then reads. */
    void apply() {
        Draft form = draft.get().orElseThrow();
        form.complaints.values().forEach(complaint -> complaint.set(""));
        String name = form.existing.orElse(form.text(NAME));
        CarDocument before = bench.file().documentProperty().get().orElseThrow();
        if (form.existing.isEmpty() && name.isEmpty()) {
            form.complaint(NAME).set("The part has no name. Write what you call it.");
            return;
        }
        if (form.existing.isEmpty() && before.has(List.of(PARTS, name))) {
            form.complaint(NAME).set("There is a part called \"" + name + "\" already. Give this one another name.");
            return;
        }
        CarDocument after;
        try {
            after = form.existing.isPresent() ? changed(before, form, name) : added(before, form, name);
        } catch (IllegalArgumentException e) {
            form.complaint(WHOLE).set("This does not fit the car file: " + e.getMessage() + ".");
            return;
        }
        attempt(form, before, after, form.existing.isPresent() ? "changing " + name : "adding " + name, name);
    }

    private static CarDocument added(CarDocument before, Draft form, String name) {
        List<String> keys = new ArrayList<>();
        if (!form.shape.get().equals("mirror")) {
            keys.add("on: " + quoted(form.text(ON)));
        }
        if (!form.text(KINDS).isEmpty()) {
            keys.add("kinds: " + yamlOfKinds(form));
        }
        List<String> inside = new ArrayList<>();
        for (PartForm.Field field : form.fields()) {
            if (!form.text(field.key()).isEmpty()) {
                (field.beside() ? keys : inside)
                        .add(field.key() + ": " + yaml(form.text(field.key()), field.writing()));
            }
        }
        if (form.fields().stream().anyMatch(field -> !field.beside())) {
            keys.add(form.shape.get() + ": {" + String.join(", ", inside) + "}");
        }
        return before.withEntry(List.of(PARTS), name, "{" + String.join(", ", keys) + "}");
    }

    private static String yamlOfKinds(Draft form) {
        return "["
                + Arrays.stream(form.text(KINDS).split(",", -1))
                        .map(String::strip)
                        .filter(kind -> !kind.isEmpty())
                        .map(PartsViewModel::quoted)
                        .collect(Collectors.joining(", "))
                + "]";
    }

    private static CarDocument changed(CarDocument before, Draft form, String name) {
        CarDocument document = before;
        List<String> part = List.of(PARTS, name);
        if (form.isChanged(ON)) {
            document = set(document, part, ON, quoted(form.text(ON)));
        }
        if (form.isChanged(KINDS)) {
            if (document.has(List.of(PARTS, name, "kind"))) {
                document = document.without(List.of(PARTS, name, "kind"));
            }
            document = form.text(KINDS).isEmpty()
                    ? document.without(List.of(PARTS, name, KINDS))
                    : set(document, part, KINDS, yamlOfKinds(form));
        }
        for (PartForm.Field field : form.fields()) {
            if (form.isChanged(field.key())) {
                List<String> path = path(name, field, form.shape.get());
                List<String> around = path.subList(0, path.size() - 1);
                document = form.text(field.key()).isEmpty()
                        ? document.without(path)
                        : field.writing() == PartForm.Writing.LINES
                                ? lines(document, path, form, field)
                                : set(document, around, field.key(), yaml(form.text(field.key()), field.writing()));
            }
        }
        return document;
    }

    /** Lines that stay keep their spelling and their comments where no line comes or goes. */
    private static CarDocument lines(CarDocument before, List<String> path, Draft form, PartForm.Field field) {
        List<String> now = form.text(field.key())
                .lines()
                .map(String::strip)
                .filter(line -> !line.isEmpty())
                .toList();
        List<String> then = form.before.getOrDefault(field.key(), "").lines().toList();
        if (now.size() != then.size() || before.count(path) != now.size()) {
            List<String> around = path.subList(0, path.size() - 1);
            return set(before, around, field.key(), yaml(form.text(field.key()), field.writing()));
        }
        CarDocument document = before;
        for (int i = 0; i < now.size(); i++) {
            if (!now.get(i).equals(then.get(i).strip())) {
                List<String> item = new ArrayList<>(path);
                item.add(Integer.toString(i));
                document = document.withYaml(item, spot(now.get(i)));
            }
        }
        return document;
    }

    private static CarDocument set(CarDocument document, List<String> group, String key, String yaml) {
        List<String> path = new ArrayList<>(group);
        path.add(key);
        return document.has(path) ? document.withYaml(path, yaml) : document.withEntry(group, key, yaml);
    }

    /** Takes a part off the car. Rules, trials and mirrors that speak of it are complained about. */
    void remove(String name) {
        CarDocument before = bench.file().documentProperty().get().orElseThrow();
        Draft form = draft.get()
                .filter(now -> now.existing.equals(Optional.of(name)))
                .orElseGet(() -> {
                    begin(name);
                    return draft.get().orElseThrow();
                });
        try {
            CarDocument after = before.keys(List.of(PARTS)).size() == 1
                    ? before.without(List.of(PARTS))
                    : before.without(List.of(PARTS, name));
            attempt(form, before, after, "taking off " + name, name);
        } catch (IllegalArgumentException e) {
            form.complaint(WHOLE).set(e.getMessage() + ".");
        }
    }

    private void attempt(Draft form, CarDocument before, CarDocument after, String what, String name) {
        Map<String, Spot> places = bench.openProperty()
                .get()
                .flatMap(OpenCar::measured)
                .flatMap(MeasuredCar::points)
                .map(MeasuredPoints::places)
                .orElse(Map.of());
        trying.set(true);
        jobs.start(
                Jobs.Line.PARTS,
                progress -> {
                    try {
                        after.carWith(places);
                        return List.<Complaint>of();
                    } catch (CarFileException e) {
                        return e.complaints();
                    }
                },
                new Jobs.Answer<List<Complaint>>() {
                    @Override
                    public void done(List<Complaint> complaints) {
                        trying.set(false);
                        if (!complaints.isEmpty()) {
                            tell(form, after, complaints, name);
                        } else if (bench.file().documentProperty().get().equals(Optional.of(before))) {
                            draft.set(Optional.empty());
                            bench.edit(what, after);
                            if (after.has(List.of(PARTS, name))) {
                                begin(name);
                            }
                        } else {
                            form.complaint(WHOLE).set("The file has changed meanwhile. Do it again.");
                        }
                    }

                    @Override
                    public void failed(Throwable mistake) {
                        trying.set(false);
                        form.complaint(WHOLE)
                                .set("This was stopped by a mistake of the program: " + mistake
                                        + ". Please report it with the car file.");
                    }
                });
    }

    private static void tell(Draft form, CarDocument after, List<Complaint> complaints, String name) {
        for (Complaint complaint : complaints) {
            List<String> path = after.pathAt(complaint.line(), complaint.column());
            String words = complaint.found() + ". " + (complaint.allowed().isEmpty() ? "" : complaint.allowed() + " ")
                    + complaint.advice();
            String key =
                    path.size() > 2 && path.get(0).equals(PARTS) && path.get(1).equals(name)
                            ? path.subList(2, path.size()).stream()
                                    .filter(word -> word.equals(ON)
                                            || word.equals(KINDS)
                                            || form.fields().stream()
                                                    .anyMatch(
                                                            field -> field.key().equals(word)))
                                    .reduce((first, last) -> last)
                                    .orElse(WHOLE)
                            : WHOLE;
            StringProperty told = form.complaint(key);
            told.set(told.get().isEmpty() ? words : told.get() + "\n" + words);
        }
    }

    // ---------------------------------------------------------------- properties

    /** The parts that pass the filter, in the order of the file. */
    ObservableList<PartRow> shownRows() {
        return shownRows;
    }

    /** Words that a part has to hold to be shown. */
    StringProperty filterProperty() {
        return filter;
    }

    /** The part on the form. */
    ReadOnlyObjectProperty<Optional<Draft>> draftProperty() {
        return draft.getReadOnlyProperty();
    }

    /** Whether the file is being tried with what the form says. */
    ReadOnlyBooleanProperty tryingProperty() {
        return trying.getReadOnlyProperty();
    }

    /** Returns the bodies that can carry a part. */
    List<String> bodies() {
        return bench.openProperty()
                .get()
                .map(open -> {
                    List<String> names = new ArrayList<>();
                    for (int b = 0; b < open.workspace().bodyCount(); b++) {
                        names.add(open.workspace().bodyName(b));
                    }
                    return names;
                })
                .orElse(List.of("chassis"));
    }
}
