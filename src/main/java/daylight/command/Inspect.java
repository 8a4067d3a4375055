package daylight.command;

import daylight.car.Car;
import daylight.car.CarDocument;
import daylight.car.CarFile;
import daylight.car.CarFileException;
import daylight.car.KindGuesses;
import daylight.car.RuleList;
import daylight.car.RuleLists;
import daylight.clearance.Asked;
import daylight.clearance.GapSearch;
import daylight.clearance.GapTable;
import daylight.hose.HoseSearch;
import daylight.inspection.Inspection;
import daylight.inspection.InspectionReport;
import daylight.report.InspectionCsv;
import daylight.report.InspectionJson;
import daylight.report.InspectionText;
import daylight.survey.MeasuredCar;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** {@code daylight inspect CAR}: what an inspector would look at. */
@Command(
        name = "inspect",
        description = {
            "Walks round the car as an inspector would: the road under it, the scrub line, travel left, the steering from "
                    + "lock to lock and the gaps, each held to the rule lists that the car file names. Only the local "
                    + "authority decides what passes.",
            "Exit status: 0 all pass, 1 something fails or is to be looked at, 2 the input is wrong."
        },
        mixinStandardHelpOptions = true,
        sortOptions = false,
        footer = {"", "Example: daylight inspect demo/harbour-pickup.yaml --by \"NSRA inspection\""})
final class Inspect implements Callable<Integer> {
    private final Terminal terminal;

    @Spec
    private CommandSpec spec = CommandSpec.create();

    @Mixin
    private CarInput input = new CarInput();

    @Option(
            names = "--by",
            paramLabel = "LIST",
            description = "Hold the car to this rule list instead of those of its file; may be repeated.")
    private List<String> by = new ArrayList<>();

    @Option(names = "--show-lists", description = "Show the rule lists that the car is held to, and stop.")
    private boolean showLists;

    @Option(
            names = "--guess-kinds",
            description = "Show which kinds the names of parts suggest, for parts without any, and stop.")
    private boolean guessKinds;

    @Option(names = "--write-kinds", description = "Write those guesses into the car file, and stop.")
    private boolean writeKinds;

    Inspect(Terminal terminal) {
        this.terminal = terminal;
    }

    @Override
    public Integer call() throws CarFileException {
        if (guessKinds || writeKinds) {
            return kinds();
        }
        Car car = input.read(terminal).car();
        if (!by.isEmpty()) {
            car = car.heldTo(by.stream().map(this::list).toList());
        }
        boolean inches = input.inches(car);
        if (showLists) {
            terminal.out().print(InspectionText.lists(car.judgedBy().lists(), inches));
            return Daylight.CLEAR;
        }
        InspectionReport report = inspect(car);
        if (input.json()) {
            terminal.out().print(InspectionJson.of(report));
        } else if (input.csv()) {
            terminal.out().print(InspectionCsv.of(report, inches));
        } else {
            terminal.out().print(InspectionText.of(report, inches, terminal.colour()));
        }
        return report.worst() == InspectionReport.Verdict.PASS ? Daylight.CLEAR : Daylight.NOT_CLEAR;
    }

    private InspectionReport inspect(Car car) {
        Optional<InspectionReport> report = Optional.empty();
        try (Bar bar = Bar.on(terminal)) {
            Optional<GapTable> table = GapSearch.of(car, Asked.USUAL).run(bar);
            if (table.isPresent() && car.hoses().isEmpty()) {
                report = Inspection.of(car, table.get(), List.of(), bar);
            } else if (table.isPresent()) {
                report = HoseSearch.of(car)
                        .findings(Asked.USUAL.watchMm(), Asked.USUAL.threads(), bar)
                        .flatMap(hoses -> Inspection.of(car, hoses.addedTo(table.orElseThrow()), hoses.reports(), bar));
            }
        }
        return report.orElseThrow(() -> new IllegalStateException("the inspection was cancelled by no one"));
    }

    private RuleList list(String name) {
        List<RuleList> shipped = RuleLists.shipped();
        return shipped.stream()
                .filter(list -> list.name().equals(name))
                .findFirst()
                .orElseThrow(() -> new ParameterException(
                        spec.commandLine(),
                        "no rule list is called \"" + name + "\". Known: "
                                + String.join(
                                        ", ",
                                        shipped.stream().map(RuleList::name).toList())));
    }

    private int kinds() throws CarFileException {
        MeasuredCar measured = input.read(terminal);
        CarDocument document = measured.document();
        List<KindGuesses.Guess> guesses = KindGuesses.shipped().of(measured.car());
        if (guesses.isEmpty()) {
            terminal.out().println("Every part has a kind, or a name that suggests none.");
        }
        for (KindGuesses.Guess guess : guesses) {
            terminal.out().println(guess.part() + ": " + guess.kind() + " (\"" + guess.word() + "\")");
        }
        if (writeKinds && !guesses.isEmpty()) {
            CarFile.save(input.file(), KindGuesses.written(document, guesses).toText());
            terminal.out().println("Written to " + input.file() + "; what was there before is kept beside it.");
        } else if (!guesses.isEmpty()) {
            terminal.out().println("Nothing was changed. --write-kinds writes these; rules go by kinds.");
        }
        return Daylight.CLEAR;
    }
}
