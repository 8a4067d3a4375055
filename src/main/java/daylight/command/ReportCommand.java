package daylight.command;

import daylight.car.Car;
import daylight.car.CarFileException;
import daylight.clearance.Asked;
import daylight.clearance.State;
import daylight.report.GapCsv;
import daylight.report.Paper;
import daylight.report.Report;
import daylight.report.ReportJson;
import daylight.report.ReportPages;
import daylight.report.ReportStudy;
import daylight.survey.MeasuredCar;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** {@code daylight report CAR}: the pages that go with a car. */
@Command(
        name = "report",
        description = {
            "Writes the clearance report of a car: the verdict, every pair, the tightest drawn, travel, flexible lines, "
                    + "measured points, rules, and a shop sheet of checks to make on the car.",
            "Exit status: 0 all clear, 1 something tight or rubbing, 2 the input is wrong."
        },
        mixinStandardHelpOptions = true,
        sortOptions = false,
        footer = {"", "Example: daylight report demo/harbour-pickup.yaml --to pickup.pdf --date \"4 July\""})
final class ReportCommand implements Callable<Integer> {
    private final Terminal terminal;

    @Spec
    private CommandSpec spec = CommandSpec.create();

    @Mixin
    private CarInput input = new CarInput();

    @Option(
            names = "--to",
            paramLabel = "FILE",
            description = "Where to: a .pdf, .html, .json or .csv file; may be given more than once "
                    + "(CAR-report.pdf in this folder).")
    private List<Path> targets = new ArrayList<>();

    @Option(names = "--date", paramLabel = "WORDS", description = "Date for the first page (as the car file has it).")
    private Optional<String> date = Optional.empty();

    @Option(
            names = "--paper",
            paramLabel = "PAPER",
            description = "A4 or letter (letter for a car in inches, A4 for one in mm).")
    private Optional<String> paper = Optional.empty();

    @Option(names = "--all", description = "List the pairs that stay far apart too.")
    private boolean all;

    @Option(
            names = "--known-to",
            paramLabel = "MM",
            description = "How near the floor must come to the least gap found, mm (${DEFAULT-VALUE}).")
    private double knownTo = Asked.USUAL.toleranceMm();

    ReportCommand(Terminal terminal) {
        this.terminal = terminal;
    }

    @Override
    public Integer call() throws CarFileException {
        MeasuredCar measured = input.read(terminal);
        Car car = measured.car();
        boolean inches = input.inches(car);
        Paper sheet = input.paper(paper, inches);
        if (!(knownTo > 0) || !Double.isFinite(knownTo)) {
            throw wrong("--known-to takes a length in mm above zero, for example 0.1; not " + knownTo);
        }
        List<Path> files = targets.isEmpty() && !input.json() && !input.csv() ? List.of(usualTarget()) : targets;
        files.forEach(this::kind);
        Asked asked = new Asked(
                knownTo,
                Asked.USUAL.watchMm(),
                Asked.USUAL.mostBoxes(),
                Math.max(1, Runtime.getRuntime().availableProcessors()));
        Report report;
        try (Bar bar = Bar.on(terminal)) {
            report = ReportStudy.of(measured, source(), new Report.Style(inches, all), asked, bar)
                    .orElseThrow(() -> new IllegalStateException("the work was cancelled by no one"));
        }
        for (Path target : files) {
            write(target, report, sheet);
        }
        if (input.json()) {
            terminal.out().print(ReportJson.of(report));
        } else if (input.csv()) {
            terminal.out().print(GapCsv.of(report.gaps(), report.doubts(), inches));
        }
        return report.gaps().worst() == State.CLEAR ? Daylight.CLEAR : Daylight.NOT_CLEAR;
    }

    private Path usualTarget() {
        String name = fileName();
        int dot = name.lastIndexOf('.');
        return Path.of((dot > 0 ? name.substring(0, dot) : name) + "-report.pdf");
    }

    private String fileName() {
        return Optional.ofNullable(input.file().getFileName())
                .map(Path::toString)
                .orElse("");
    }

    private Report.Source source() {
        try {
            byte[] hash = MessageDigest.getInstance("SHA-256").digest(Files.readAllBytes(input.file()));
            return new Report.Source(fileName(), HexFormat.of().formatHex(hash), date, Daylight.version());
        } catch (IOException e) {
            throw wrong(input.file() + " cannot be read again: " + e.getMessage());
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("this Java has no SHA-256, which every Java has to have", e);
        }
    }

    private void write(Path target, Report report, Paper sheet) {
        byte[] bytes = switch (kind(target)) {
            case "pdf" -> ReportPages.pdf(report, sheet);
            case "html" -> ReportPages.html(report).getBytes(StandardCharsets.UTF_8);
            case "json" -> ReportJson.of(report).getBytes(StandardCharsets.UTF_8);
            default ->
                GapCsv.of(report.gaps(), report.doubts(), report.style().inches())
                        .getBytes(StandardCharsets.UTF_8);
        };
        try {
            Files.write(target, bytes);
        } catch (IOException e) {
            throw wrong("the report cannot be written to " + target + ": " + e.getMessage());
        }
        terminal.err().println("written: " + target);
    }

    private String kind(Path target) {
        String name = target.toString().toLowerCase(Locale.ROOT);
        for (String kind : List.of("pdf", "html", "json", "csv")) {
            if (name.endsWith("." + kind)) {
                return kind;
            }
        }
        throw wrong("--to takes a file that ends in .pdf, .html, .json or .csv, not " + target);
    }

    private ParameterException wrong(String words) {
        return new ParameterException(spec.commandLine(), words);
    }
}
