package daylight.bench;

import daylight.car.Car;
import daylight.car.CarFileException;
import daylight.car.Complaint;
import daylight.clearance.Asked;
import daylight.clearance.GapTable;
import daylight.report.GapCsv;
import daylight.report.Paper;
import daylight.report.Report;
import daylight.report.ReportJson;
import daylight.report.ReportPages;
import daylight.report.ReportStudy;
import daylight.survey.MeasuredCar;
import daylight.units.Progress;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.function.Consumer;
import javafx.beans.property.BooleanProperty;
import javafx.beans.property.ObjectProperty;
import javafx.beans.property.ReadOnlyBooleanProperty;
import javafx.beans.property.ReadOnlyBooleanWrapper;
import javafx.beans.property.ReadOnlyDoubleProperty;
import javafx.beans.property.ReadOnlyDoubleWrapper;
import javafx.beans.property.ReadOnlyObjectProperty;
import javafx.beans.property.ReadOnlyObjectWrapper;
import javafx.beans.property.ReadOnlyStringProperty;
import javafx.beans.property.ReadOnlyStringWrapper;
import javafx.beans.property.SimpleBooleanProperty;
import javafx.beans.property.SimpleObjectProperty;
import javafx.beans.property.SimpleStringProperty;
import javafx.beans.property.StringProperty;

/**
 * What is printed and kept of a car: what stands on the first page, what goes in, on which paper and in which form.
 *
 * <p>All methods are called on the window's thread; the pages are computed elsewhere. What was computed for one form is
 * kept for the next.
 */
final class ReportViewModel {
    /** Forms that a report can have. */
    enum Form {
        /** Pages to print. */
        PDF("pdf", "Make a PDF"),
        /** One page for a browser. */
        HTML("html", "Make a web page"),
        /** The gaps for a spreadsheet. */
        CSV("csv", "Make a CSV table"),
        /** All figures for another program. */
        JSON("json", "Make JSON");

        private final String ending;
        private final String words;

        Form(String ending, String words) {
            this.ending = ending;
            this.words = words;
        }

        String ending() {
            return ending;
        }

        String words() {
            return words;
        }
    }

    /**
     * Something that goes into a report, or does not.
     *
     * @param what in a few words
     * @param how so many, or why not
     * @param in whether it goes in
     */
    record Content(String what, String how, boolean in) {}

    private final Jobs jobs;
    private final Asked asked;
    private final StringProperty date = new SimpleStringProperty("");
    private final ObjectProperty<Paper> paper = new SimpleObjectProperty<>(Paper.A4);
    private final BooleanProperty all = new SimpleBooleanProperty(false);
    private final ReadOnlyBooleanWrapper working = new ReadOnlyBooleanWrapper(false);
    private final ReadOnlyDoubleWrapper done = new ReadOnlyDoubleWrapper(0);
    private final ReadOnlyStringWrapper status = new ReadOnlyStringWrapper("");
    private final ReadOnlyStringWrapper refusal = new ReadOnlyStringWrapper("");
    private final ReadOnlyObjectWrapper<Optional<Throwable>> mistake = new ReadOnlyObjectWrapper<>(Optional.empty());
    private Optional<MeasuredCar> car = Optional.empty();
    private Optional<GapTable> gaps = Optional.empty();
    private Optional<Report> known = Optional.empty();

    ReportViewModel(Jobs jobs, Asked asked) {
        this.jobs = jobs;
        this.asked = asked;
    }

    /** What came of the work: pages, a mistake in the file, or nothing because it was cancelled. */
    private record Outcome(Optional<Report> report, List<byte[]> bytes, List<String> complaints) {
        Outcome {
            bytes = List.copyOf(bytes);
            complaints = List.copyOf(complaints);
        }
    }

    /** Takes on a car; what was computed for another is forgotten. The paper follows its unit. */
    void show(Optional<MeasuredCar> shown) {
        cancel();
        status.set("");
        refusal.set("");
        known = Optional.empty();
        gaps = Optional.empty();
        car = shown;
        shown.ifPresent(c -> paper.set(Paper.usual(c.car().inches())));
    }

    /** Takes on gaps that were found already: those of the parts, of the car that is shown. */
    void know(Optional<GapTable> found) {
        gaps = found;
    }

    /** Returns what goes into the report of the car, section by section. */
    List<Content> contents() {
        MeasuredCar from = car.orElse(null);
        if (from == null) {
            return List.of();
        }
        Car of = from.car();
        List<Content> contents = new ArrayList<>();
        contents.add(new Content(
                "First page",
                of.about().measuredBy().map(by -> "measured by " + by + ", ").orElse("") + "verdict, cautions",
                true));
        contents.add(new Content(
                "Gaps",
                gaps.map(table -> table.rows().size() + " pairs"
                                + (all.get() ? ", all listed" : ", the near ones listed"))
                        .orElse("not known yet, found while it is made"),
                true));
        contents.add(new Content(
                "Pictures", "the " + Report.TIGHTEST + " tightest pairs cut through and along the travel", true));
        contents.add(count("Travel", of.mechanisms().size(), "movement", "nothing moves"));
        contents.add(count("Flexible lines", of.hoses().size(), "line", "the car has none"));
        contents.add(count("Trials", of.trials().size(), "trial", "the file has none"));
        contents.add(count("Inspection", of.judgedBy().lists().size(), "rule list", "the file names no rule list"));
        contents.add(count("Measured points", of.points().size(), "point", "the file has none"));
        contents.add(new Content("Shop sheet", "checks to make on the car itself", true));
        return contents;
    }

    private static Content count(String what, int count, String one, String none) {
        return new Content(
                what, count == 0 ? "left out: " + none : count == 1 ? "1 " + one : count + " " + one + "s", count > 0);
    }

    /** Returns the date that the file gives, which is printed unless another is typed. */
    String dateOfFile() {
        return car.flatMap(c -> c.car().about().date()).orElse("");
    }

    /**
     * Makes the report in a form and hands its bytes on.
     *
     * @param kept told the bytes once they are there
     */
    void make(Form form, Consumer<byte[]> kept) {
        MeasuredCar from = car.orElse(null);
        if (from == null) {
            return;
        }
        Report.Style style = new Report.Style(from.car().inches(), all.get());
        Report.Source source = source(from);
        Optional<Report> before = known;
        Optional<GapTable> table = gaps;
        Paper sheet = paper.get();
        working.set(true);
        done.set(0);
        refusal.set("");
        status.set("computing what the report says");
        jobs.start(
                Jobs.Line.REPORT,
                progress -> {
                    try {
                        Optional<Report> report = before.isPresent()
                                ? before.map(r -> said(r, source, style))
                                : compute(from, source, style, table, progress);
                        List<byte[]> bytes = report.isEmpty() || progress.cancelled()
                                ? List.of()
                                : List.of(bytes(form, report.get(), sheet));
                        return new Outcome(report, bytes, List.of());
                    } catch (CarFileException e) {
                        return new Outcome(
                                Optional.empty(),
                                List.of(),
                                e.complaints().stream().map(Complaint::toString).toList());
                    }
                },
                new Jobs.Answer<Outcome>() {
                    @Override
                    public void done(Outcome outcome) {
                        working.set(false);
                        status.set("");
                        outcome.report().ifPresent(report -> known = Optional.of(report));
                        refusal.set(String.join("\n", outcome.complaints()));
                        outcome.bytes().forEach(kept);
                    }

                    @Override
                    public void progress(double fraction, String message) {
                        done.set(fraction);
                        status.set(message);
                    }

                    @Override
                    public void failed(Throwable thrown) {
                        working.set(false);
                        status.set("");
                        mistake.set(Optional.of(thrown));
                    }
                });
    }

    private Optional<Report> compute(
            MeasuredCar from, Report.Source source, Report.Style style, Optional<GapTable> table, Progress progress)
            throws CarFileException {
        return table.isEmpty()
                ? ReportStudy.of(from, source, style, asked, progress)
                : ReportStudy.of(from, source, style, table.get(), asked, progress);
    }

    /** The same findings under another date or with another list. */
    private static Report said(Report report, Report.Source source, Report.Style style) {
        return report.with(source).with(style);
    }

    private static byte[] bytes(Form form, Report report, Paper sheet) {
        return switch (form) {
            case PDF -> ReportPages.pdf(report, sheet);
            case HTML -> ReportPages.html(report).getBytes(StandardCharsets.UTF_8);
            case CSV -> GapCsv.of(report.gaps(), report.style().inches()).getBytes(StandardCharsets.UTF_8);
            case JSON -> ReportJson.of(report).getBytes(StandardCharsets.UTF_8);
        };
    }

    /** Where it was read: the hash is of the text that the car was read from, saved or not. */
    private Report.Source source(MeasuredCar from) {
        String version = ReportViewModel.class.getPackage().getImplementationVersion();
        String name = from.document()
                .file()
                .map(file -> Objects.toString(file.getFileName(), ""))
                .orElse(from.document().name());
        try {
            byte[] hash = MessageDigest.getInstance("SHA-256")
                    .digest(from.document().toText().getBytes(StandardCharsets.UTF_8));
            return new Report.Source(
                    name,
                    HexFormat.of().formatHex(hash).toLowerCase(Locale.ROOT),
                    Optional.of(date.get().strip()).filter(text -> !text.isEmpty()),
                    "daylight " + (version == null ? "(not packaged)" : version));
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("this Java has no SHA-256, which every Java has to have", e);
        }
    }

    /** Stops making the report. */
    void cancel() {
        if (working.get()) {
            jobs.cancel(Jobs.Line.REPORT);
            working.set(false);
            status.set("the report was cancelled");
        }
    }

    /** The date for the first page, in the builder's own words; empty for the one in the file. */
    StringProperty dateProperty() {
        return date;
    }

    ObjectProperty<Paper> paperProperty() {
        return paper;
    }

    /** Whether pairs that stay far apart are listed too. */
    BooleanProperty allProperty() {
        return all;
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

    /** Why there is no report; empty while nothing is wrong. */
    ReadOnlyStringProperty refusalProperty() {
        return refusal.getReadOnlyProperty();
    }

    /** A mistake of the program that the work has met. */
    ReadOnlyObjectProperty<Optional<Throwable>> mistakeProperty() {
        return mistake.getReadOnlyProperty();
    }
}
