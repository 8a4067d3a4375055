package daylight.bench;

import daylight.car.Car;
import daylight.car.CarDocument;
import daylight.car.CarFileException;
import daylight.car.Complaint;
import daylight.car.Measurement;
import daylight.car.MeasuringSheet;
import daylight.car.PointMeaning;
import daylight.car.PointsTable;
import daylight.report.SurveyWords;
import daylight.survey.Equation.Quantity;
import daylight.survey.MeasuredPoints;
import daylight.survey.NextReading;
import daylight.survey.Observation;
import daylight.survey.ReadingResult;
import daylight.survey.SurveyReport;
import daylight.survey.Suspect;
import daylight.units.Length;
import daylight.units.LengthFormat;
import daylight.units.Parsed;
import daylight.units.Unit;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import javafx.beans.property.ReadOnlyBooleanProperty;
import javafx.beans.property.ReadOnlyBooleanWrapper;
import javafx.beans.property.ReadOnlyObjectProperty;
import javafx.beans.property.ReadOnlyObjectWrapper;
import javafx.beans.property.ReadOnlyStringProperty;
import javafx.beans.property.ReadOnlyStringWrapper;
import javafx.collections.FXCollections;
import javafx.collections.ObservableList;

/**
 * What was measured on the car, as tables: each reading with how far it is off, each point with how well it is known,
 * and what to measure next. What is typed goes into the text of the car file where it stands; the points are placed anew
 * on another thread, and until they are the tables are marked as of before.
 */
final class MeasureViewModel {
    /** A half width beyond this is no knowledge, mm. */
    private static final double LOOSE_MM = 500;
    /** More readings that may be the wrong one are only counted. */
    private static final int MOST_NAMED = 3;

    private static final String TAPE = "tape";
    private static final String POINTS = "points";
    private static final String FLOOR = "floor";
    private static final List<String> PLAIN_COLUMNS = List.of("name", "x", "y", "z");
    private static final List<String> READINGS_HEAD = List.of("from", "to", "reads");

    /** How a reading stands among the others. */
    enum Standing {
        AGREES("agrees"),
        UNCHECKED("unchecked"),
        SUSPECT("or this"),
        WRONG("wrong");

        private final String word;

        Standing(String word) {
            this.word = word;
        }

        String word() {
            return word;
        }
    }

    /**
     * A reading.
     *
     * @param item its place in the list of the file, from 0; below zero for a coordinate, which the table of points has
     * @param name what it is called
     * @param reads what was read, in the writer's own spelling
     * @param off read less fitted, with its sign; empty where nothing tells
     * @param standing how it stands among the others
     * @param likely what is probably true, for one that is wrong; else empty
     * @param points the points it is between
     */
    record ReadingRow(
            int item, String name, String reads, String off, Standing standing, String likely, List<String> points) {
        ReadingRow {
            points = List.copyOf(points);
        }
    }

    /**
     * A point. Its coordinates are as written where they are, else where the readings place it.
     *
     * @param at ahead, left, up
     * @param within95 so near to each of these it lies 95 times in 100
     * @param byTape whether only readings place it
     * @param how how to measure it, if its mechanism says so
     */
    record PointRow(String name, List<String> at, List<String> within95, boolean byTape, String how) {
        PointRow {
            at = List.copyOf(at);
            within95 = List.copyOf(within95);
        }
    }

    /**
     * What to measure next.
     *
     * @param words what, with about what it will read
     * @param gain what it is good for
     * @param from the points between which a tape goes; empty where it is no straight distance
     */
    record Next(String words, String gain, List<String> from) {
        Next {
            from = List.copyOf(from);
        }
    }

    /** What became of placing the points. */
    private record Placed(
            CarDocument document,
            Optional<MeasuringSheet> sheet,
            Optional<SurveyReport> report,
            List<Complaint> complaints) {

        static Placed of(CarDocument document, daylight.units.Progress progress) {
            try {
                MeasuredPoints points = MeasuredPoints.of(document, progress);
                return new Placed(document, Optional.of(points.sheet()), Optional.of(points.report()), List.of());
            } catch (CarFileException e) {
                return new Placed(document, Optional.empty(), Optional.empty(), e.complaints());
            }
        }
    }

    private final Jobs jobs;
    private final FileViewModel file;
    private final ObservableList<ReadingRow> readings = FXCollections.observableArrayList();
    private final ObservableList<PointRow> points = FXCollections.observableArrayList();
    private final ObservableList<Next> next = FXCollections.observableArrayList();
    private final ReadOnlyBooleanWrapper stale = new ReadOnlyBooleanWrapper(false);
    private final ReadOnlyStringWrapper summary = new ReadOnlyStringWrapper("");
    private final ReadOnlyStringWrapper complaint = new ReadOnlyStringWrapper("");
    private final ReadOnlyObjectWrapper<Optional<String>> marked = new ReadOnlyObjectWrapper<>(Optional.empty());
    private Map<String, PointMeaning> meanings = Map.of();
    private boolean shown;
    private boolean inches;

    MeasureViewModel(Jobs jobs, FileViewModel file) {
        this.jobs = jobs;
        this.file = file;
        file.documentProperty().addListener((property, was, is) -> {
            boolean same = was.flatMap(CarDocument::file).equals(is.flatMap(CarDocument::file));
            if (!same) {
                readings.clear();
                points.clear();
                next.clear();
                marked.set(Optional.empty());
                complaint.set("");
            }
            stale.set(is.isPresent());
            place();
        });
    }

    /** Told whether the tables are looked at: only then are the points placed for them. */
    void shown(boolean now) {
        shown = now;
        place();
    }

    private void place() {
        if (!shown || !stale.get()) {
            return;
        }
        file.documentProperty().get().ifPresent(document -> {
            summary.set("placing the points");
            jobs.start(Jobs.Line.MEASURE, progress -> Placed.of(document, progress), new Jobs.Answer<Placed>() {
                @Override
                public void done(Placed placed) {
                    show(placed);
                }

                @Override
                public void failed(Throwable mistake) {
                    summary.set("The points could not be placed by a mistake of the program: " + mistake);
                }
            });
        });
    }

    private void show(Placed placed) {
        if (placed.report().isEmpty() || placed.sheet().isEmpty()) {
            summary.set("The readings cannot be used: "
                    + placed.complaints().stream().map(Complaint::toString).collect(Collectors.joining(" ")));
            return;
        }
        stale.set(false);
        MeasuringSheet sheet = placed.sheet().get();
        SurveyReport report = placed.report().get();
        inches = sheet.inches();
        meanings = PointMeaning.of(placed.document());
        readings.setAll(readingRows(placed.document(), sheet, report));
        points.setAll(report.points().stream()
                .map(line -> row(placed.document(), line))
                .toList());
        next.setAll(nextRows(report));
        summary.set(said(report));
    }

    // ---------------------------------------------------------------- rows

    private List<ReadingRow> readingRows(CarDocument document, MeasuringSheet sheet, SurveyReport report) {
        List<ReadingRow> rows = new ArrayList<>();
        List<Measurement> written = sheet.readings();
        for (int i = 0; i < written.size(); i++) {
            Measurement reading = written.get(i);
            List<ReadingResult> results = report.readings().stream()
                    .filter(result -> result.reading().equals(reading.name())
                            || result.reading().startsWith(reading.name() + ": "))
                    .toList();
            rows.add(row(document, i, reading, results, report));
        }
        // A coordinate that cannot be right has no row of its own among the readings, so it gets one.
        for (Suspect suspect : report.suspects()) {
            Suspect.Accused accused = suspect.first();
            if (written.stream().noneMatch(reading -> isOf(accused, reading))) {
                rows.add(new ReadingRow(
                        -1,
                        SurveyWords.label(accused.reading(), accused.part()),
                        SurveyWords.value(accused.reads(), accused.quantity(), format()),
                        SurveyWords.small(accused.error(), accused.quantity(), unit()),
                        Standing.WRONG,
                        likely(suspect),
                        List.of()));
            }
        }
        // What is wrong comes first; the rest stays in the order of the file.
        rows.sort(java.util.Comparator.comparing(
                row -> row.standing() == Standing.WRONG ? 0 : row.standing() == Standing.SUSPECT ? 1 : 2));
        return rows;
    }

    private static boolean isOf(Suspect.Accused accused, Measurement reading) {
        return accused.reading().equals(reading.name()) || accused.reading().startsWith(reading.name() + ": ");
    }

    private ReadingRow row(
            CarDocument document, int item, Measurement reading, List<ReadingResult> results, SurveyReport report) {
        Optional<Suspect> wrong = report.suspects().stream()
                .filter(suspect -> isOf(suspect.first(), reading))
                .findFirst();
        boolean orThis = report.suspects().stream()
                .anyMatch(suspect -> suspect.accused().stream().anyMatch(accused -> isOf(accused, reading)));
        Optional<ReadingResult> worst =
                results.stream().max(java.util.Comparator.comparingDouble(result -> Math.abs(result.standardised())));
        boolean unchecked = !results.isEmpty()
                && results.stream().allMatch(result -> result.standing() == ReadingResult.Standing.UNCHECKED);
        return new ReadingRow(
                item,
                reading.name(),
                document.value(List.of(TAPE, Integer.toString(item), "reads")).orElse(""),
                worst.filter(result -> !unchecked)
                        .map(result -> SurveyWords.small(result.reads() - result.adjusted(), result.quantity(), unit()))
                        .orElse(""),
                wrong.isPresent()
                        ? Standing.WRONG
                        : orThis ? Standing.SUSPECT : unchecked ? Standing.UNCHECKED : Standing.AGREES,
                wrong.map(this::likely).orElse(""),
                pointsOf(reading));
    }

    private String likely(Suspect suspect) {
        Suspect.Accused first = suspect.first();
        String words = "Probably " + SurveyWords.value(first.probablyTrue(), first.quantity(), format());
        String slip = first.slips().isEmpty() ? "" : " (" + first.slips().get(0).words() + "?)";
        int more = suspect.accused().size() - 1 - MOST_NAMED;
        String others = suspect.accused().size() > 1
                ? " Or another is wrong: "
                        + suspect.accused().stream()
                                .skip(1)
                                .limit(MOST_NAMED)
                                .map(Suspect.Accused::reading)
                                .collect(Collectors.joining("; "))
                        + (more > 0 ? "; or one of " + more + " more." : ".")
                : "";
        return words + slip + ". Read it again." + others;
    }

    private static List<String> pointsOf(Measurement reading) {
        if (reading instanceof Measurement.Distance d) {
            return List.of(d.from(), d.to());
        } else if (reading instanceof Measurement.Offset o) {
            return o.of().map(of -> List.of(o.point(), of)).orElse(List.of(o.point()));
        } else if (reading instanceof Measurement.FromLine f) {
            return List.of(f.point(), f.first(), f.second());
        } else if (reading instanceof Measurement.FromPlane f) {
            return List.of(f.point(), f.first(), f.second(), f.third());
        } else if (reading instanceof Measurement.Level l) {
            return List.of(l.from(), l.to());
        } else if (reading instanceof Measurement.LevelOn l) {
            return List.of(l.first(), l.second(), l.third());
        } else if (reading instanceof Measurement.PlumbOn p) {
            return List.of(p.first(), p.second(), p.third());
        } else if (reading instanceof Measurement.Mirror m) {
            return List.of(m.left(), m.right());
        } else if (reading instanceof Measurement.Middle m) {
            return List.of(m.middle(), m.first(), m.second());
        } else if (reading instanceof Measurement.Rim r) {
            return r.edge();
        }
        return List.of();
    }

    private PointRow row(CarDocument document, SurveyReport.PointLine line) {
        Optional<List<String>> place = placePath(document, line.name());
        List<String> at = place.map(path -> coordinates(document, path))
                .orElseGet(() -> List.of(
                        format().bare(line.at().x()),
                        format().bare(line.at().y()),
                        format().bare(line.at().z())));
        return new PointRow(
                line.name(),
                at,
                List.of(width(line.forward95Mm()), width(line.left95Mm()), width(line.up95Mm())),
                place.isEmpty(),
                Optional.ofNullable(meanings.get(line.name()))
                        .map(meaning -> meaning.point().measure())
                        .orElse(""));
    }

    private static List<String> coordinates(CarDocument document, List<String> path) {
        List<String> all = new ArrayList<>();
        for (int i = 0; i < 3; i++) {
            all.add(document.value(with(path, Integer.toString(i))).orElse(""));
        }
        return all;
    }

    /** Returns where a point's three coordinates stand in the text, if they do. */
    private static Optional<List<String>> placePath(CarDocument document, String point) {
        List<String> at = List.of(POINTS, point, "at");
        if (document.count(at) == 3) {
            return Optional.of(at);
        }
        List<String> plain = List.of(POINTS, point);
        return document.count(plain) == 3 ? Optional.of(plain) : Optional.empty();
    }

    private static List<String> with(List<String> path, String last) {
        List<String> longer = new ArrayList<>(path);
        longer.add(last);
        return longer;
    }

    private String width(double mm) {
        String shown = SurveyWords.small(mm, Quantity.LENGTH, unit());
        return shown.startsWith("+") ? shown.substring(1) : shown;
    }

    private List<Next> nextRows(SurveyReport report) {
        List<Next> rows = new ArrayList<>();
        for (NextReading reading : report.toFix()) {
            boolean nowhere = reading.before() > LOOSE_MM;
            rows.add(new Next(
                    would(reading),
                    reading.gains() + " is then known to " + width(reading.after()) + " instead of "
                            + (nowhere ? "not at all" : width(reading.before())),
                    ends(reading)));
        }
        for (NextReading reading : report.toCheck()) {
            rows.add(new Next(would(reading), "checks " + reading.gains(), ends(reading)));
        }
        return rows;
    }

    private String would(NextReading reading) {
        return reading.candidate().name() + ", about " + format().print(reading.wouldRead());
    }

    private static List<String> ends(NextReading reading) {
        if (reading.candidate() instanceof Observation.Distance distance) {
            return List.of(distance.from(), distance.to());
        }
        return reading.candidate() instanceof Observation.Height height ? List.of(height.point(), FLOOR) : List.of();
    }

    private String said(SurveyReport report) {
        int wrong = report.suspects().size();
        String suspects = wrong == 0
                ? "All readings agree"
                : wrong == 1
                        ? "1 reading looks wrong and is left out"
                        : wrong + " readings look wrong and are left out";
        if (wrong == 0 && report.agreement().degreesOfFreedom() < 1) {
            suspects = "Nothing checks the points yet";
        } else if (wrong == 0 && !report.agreement().agrees()) {
            suspects = "The readings scatter more than is claimed for them";
        }
        int loose = report.unfixed().size() + report.mirrorChoices().size();
        return suspects
                + (loose == 0 ? "." : ". " + (loose == 1 ? "1 point is" : loose + " points are") + " not fixed.");
    }

    // ---------------------------------------------------------------- typing

    /** Puts another figure into a reading. What is no length, or does not fit the file, is complained about. */
    void setReading(ReadingRow row, String typed) {
        List<String> path = List.of(TAPE, Integer.toString(row.item()), "reads");
        if (row.item() >= 0 && !typed.strip().equals(row.reads())) {
            tryEdit("the reading " + row.name(), document -> document.withValue(path, typed.strip()));
        }
    }

    /** Puts another figure into a coordinate: 0 ahead, 1 left, 2 up. */
    void setCoordinate(PointRow row, int axis, String typed) {
        if (!row.byTape() && !typed.strip().equals(row.at().get(axis))) {
            tryEdit(
                    "the place of " + row.name(),
                    document -> document.withValue(
                            with(placePath(document, row.name()).orElseThrow(), Integer.toString(axis)),
                            typed.strip()));
        }
    }

    /**
     * Adds a straight distance, or a height above the floor.
     *
     * @param to a point, or {@code floor}
     */
    void add(String from, String to, String reads) {
        String words = from.strip() + " to " + to.strip();
        tryEdit("the reading " + words, document -> withReading(document, from.strip(), to.strip(), reads.strip()));
    }

    /** Takes a reading out. */
    void remove(ReadingRow row) {
        if (row.item() >= 0) {
            tryEdit(
                    "taking out the reading " + row.name(),
                    document -> document.count(List.of(TAPE)) == 1
                            ? document.without(List.of(TAPE))
                            : document.without(List.of(TAPE, Integer.toString(row.item()))));
        }
    }

    /**
     * Takes in what was copied from a spreadsheet: readings in rows of from, to, reads; or points with a head of name,
     * x, y, z. All of it, or nothing with what is wrong with it.
     */
    void paste(String table) {
        List<String[]> rows = table.lines()
                .filter(line -> !line.isBlank())
                .map(line -> line.split("\t", -1))
                .toList();
        if (rows.isEmpty() || rows.get(0).length < 3) {
            complaint.set(
                    "What was copied is no table. Copy cells in rows of from, to, reads; or points in rows of name,"
                            + " ahead, left, up.");
            return;
        }
        List<String> head = Arrays.stream(rows.get(0))
                .map(cell -> cell.strip().toLowerCase(java.util.Locale.ROOT))
                .toList();
        if (head.get(0).equals("name") || isPointRow(rows.get(0))) {
            pastePoints(table, head.get(0).equals("name"), rows.get(0).length);
        } else {
            pasteReadings(rows, head.subList(0, 3).equals(READINGS_HEAD));
        }
    }

    private boolean isPointRow(String[] row) {
        return row.length >= 4
                && Arrays.stream(row, 1, 4).allMatch(cell -> Length.parse(cell, unit()) instanceof Parsed.Read<Length>);
    }

    private void pastePoints(String table, boolean headed, int columns) {
        String head = columns > 4 ? "name\tx\ty\tz\twithin\n" : "name\tx\ty\tz\n";
        CarDocument document = file.documentProperty().get().orElseThrow();
        Unit bare = document.value(List.of("units")).flatMap(Unit::spelt).orElse(Unit.MILLIMETRE);
        try {
            double within = document.sheet().withinMm().orElse(1.0);
            List<Car.Point> fresh = PointsTable.read("pasted table", headed ? table : head + table, bare, within);
            List<String[]> cells =
                    table.lines().map(line -> line.split("\t", -1)).toList();
            List<String> titles = headed
                    ? Arrays.stream(cells.get(0))
                            .map(cell -> cell.strip().toLowerCase(java.util.Locale.ROOT))
                            .toList()
                    : PLAIN_COLUMNS;
            tryEdit(fresh.size() + " pasted points", text -> {
                CarDocument begun = text.has(List.of(POINTS)) ? text : text.withEntry(List.of(), POINTS, "{}");
                return spelt(begun.withPoints(fresh, bare), cells, titles);
            });
        } catch (CarFileException e) {
            complain(e);
        }
    }

    /** Gives the points of a table the spelling that they have there: a fraction stays one. */
    private static CarDocument spelt(CarDocument document, List<String[]> cells, List<String> titles) {
        CarDocument changed = document;
        for (String[] row : cells) {
            String name = row.length > 0 ? row[Math.min(row.length - 1, titles.indexOf("name"))].strip() : "";
            Optional<List<String>> place = placePath(changed, name);
            for (int axis = 0; axis < 3 && place.isPresent(); axis++) {
                int column = titles.indexOf(PLAIN_COLUMNS.get(axis + 1));
                if (column >= 0 && column < row.length && !row[column].isBlank()) {
                    changed = changed.withValue(with(place.get(), Integer.toString(axis)), row[column].strip());
                }
            }
        }
        return changed;
    }

    private void pasteReadings(List<String[]> rows, boolean headed) {
        List<String[]> cells = headed ? rows.subList(1, rows.size()) : rows;
        for (String[] row : cells) {
            if (row.length < 3 || Arrays.stream(row, 0, 3).anyMatch(String::isBlank)) {
                complaint.set("The pasted row \"" + String.join(" ", row).strip()
                        + "\" has an empty cell. Each row is from, to, reads.");
                return;
            }
        }
        tryEdit(cells.size() + " pasted readings", document -> {
            CarDocument changed = document;
            for (String[] row : cells) {
                changed = withReading(changed, row[0].strip(), row[1].strip(), row[2].strip());
            }
            return changed;
        });
    }

    private static CarDocument withReading(CarDocument document, String from, String to, String reads) {
        boolean height = to.equalsIgnoreCase(FLOOR);
        String item = height
                ? "{height of: " + quoted(from) + ", reads: " + quoted(reads) + "}"
                : "{from: " + quoted(from) + ", to: " + quoted(to) + ", reads: " + quoted(reads) + "}";
        return document.count(List.of(TAPE)) > 0
                ? document.withItem(List.of(TAPE), item)
                : document.has(List.of(TAPE))
                        ? document.withYaml(List.of(TAPE), "[" + item + "]")
                        : document.withEntry(List.of(), TAPE, "[" + item + "]");
    }

    /** Plain where YAML can have it plain, else in quotes. */
    private static String quoted(String value) {
        return value.matches("[\\p{L}\\p{N}][\\p{L}\\p{N} ./+-]*") ? value : "'" + value.replace("'", "''") + "'";
    }

    /** A change of the text. */
    private interface Change {
        CarDocument of(CarDocument document);
    }

    private void tryEdit(String what, Change change) {
        CarDocument before = file.documentProperty().get().orElseThrow();
        try {
            CarDocument changed = change.of(before);
            changed.sheet();
            complaint.set("");
            file.edit(what, changed);
        } catch (CarFileException e) {
            complain(e);
        } catch (IllegalArgumentException e) {
            complaint.set(e.getMessage() + ".");
        }
    }

    private void complain(CarFileException e) {
        Complaint first = e.complaints().get(0);
        int more = e.complaints().size() - 1;
        complaint.set(first.found() + ". " + (first.allowed().isEmpty() ? "" : first.allowed() + " ") + first.advice()
                + (more == 0 ? "" : " (and " + more + " more)"));
    }

    // ---------------------------------------------------------------- the picture

    /** Marks a point in the picture of its mechanism. */
    void mark(Optional<String> point) {
        marked.set(point);
    }

    /** Returns what a point is to its mechanism, if any uses it. */
    Optional<PointMeaning> meaning(String point) {
        return Optional.ofNullable(meanings.get(point));
    }

    private Unit unit() {
        return inches ? Unit.INCH : Unit.MILLIMETRE;
    }

    private LengthFormat format() {
        return LengthFormat.usual(unit());
    }

    // ---------------------------------------------------------------- properties

    /** The readings: what is wrong first, then in the order of the file. */
    ObservableList<ReadingRow> readings() {
        return readings;
    }

    ObservableList<PointRow> points() {
        return points;
    }

    /** What to measure next, best first. */
    ObservableList<Next> next() {
        return next;
    }

    /** Whether the tables are of the text before its last change. */
    ReadOnlyBooleanProperty staleProperty() {
        return stale.getReadOnlyProperty();
    }

    /** How it stands, in a sentence. */
    ReadOnlyStringProperty summaryProperty() {
        return summary.getReadOnlyProperty();
    }

    /** What is wrong with what was typed last; empty where nothing is. */
    ReadOnlyStringProperty complaintProperty() {
        return complaint.getReadOnlyProperty();
    }

    /** The point that is meant. */
    ReadOnlyObjectProperty<Optional<String>> markedProperty() {
        return marked.getReadOnlyProperty();
    }
}
