package daylight.command;

import daylight.car.Car;
import daylight.car.CarDocument;
import daylight.car.CarFile;
import daylight.car.CarFileException;
import daylight.car.Trial;
import daylight.clearance.Asked;
import daylight.clearance.State;
import daylight.report.TrialCsv;
import daylight.report.TrialJson;
import daylight.report.TrialText;
import daylight.trim.TrialCar;
import daylight.trim.TrialStudy;
import daylight.trim.TrialTable;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.ArgGroup;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code daylight trial CAR NAME}: changes tried before they are made. */
@Command(
        name = "trial",
        description = {
            "Tries a named list of changes from the car file (trials:) and compares it with the car as it is, gap by "
                    + "gap. Without a name it lists the trials.",
            "The car file stays as it is unless --adopt is given; the version before is then kept beside it.",
            "Exit status: 0 all clear with the trial, 1 something tight or rubbing, 2 the input is wrong."
        },
        mixinStandardHelpOptions = true,
        sortOptions = false,
        footer = {"", "Example: daylight trial demo/harbour-pickup.yaml \"pipe higher over the axle\""})
final class Trials implements Callable<Integer> {
    private final Terminal terminal;

    @Spec
    private CommandSpec spec = CommandSpec.create();

    @Parameters(index = "0", paramLabel = "CAR", description = "The car file.")
    private Path file = Path.of("");

    @Parameters(index = "1", arity = "0..1", paramLabel = "NAME", description = "The trial.")
    private Optional<String> name = Optional.empty();

    @ArgGroup(exclusive = true)
    private Form form = new Form();

    @Option(names = "--all", description = "List the clear pairs that do not change too.")
    private boolean all;

    @Option(names = "--adopt", description = "Write the trial's changes into the car file, and take the trial out.")
    private boolean adopt;

    @Option(names = "--in", paramLabel = "UNIT", description = "Show lengths in: in, mm (as the car file has them).")
    private Optional<String> unit = Optional.empty();

    private static final class Form {
        @Option(names = "--json", description = "Write JSON (mm).")
        private boolean json;

        @Option(names = "--csv", description = "Write CSV for a spreadsheet.")
        private boolean csv;
    }

    Trials(Terminal terminal) {
        this.terminal = terminal;
    }

    @Override
    public Integer call() throws CarFileException {
        CarDocument document = CarFile.open(file);
        TrialStudy study = TrialStudy.of(document, asked());
        Car car = study.car();
        boolean inches = Lengths.inches(spec, unit, car);
        if (name.isEmpty()) {
            if (adopt || form.json || form.csv) {
                throw new ParameterException(spec.commandLine(), "name the trial: " + names(car));
            }
            terminal.out().print(TrialText.list(car, inches));
            return Daylight.CLEAR;
        }
        Trial trial = car.trial(name.get())
                .orElseThrow(() -> new ParameterException(
                        spec.commandLine(), "no trial is called \"" + name.get() + "\". " + names(car)));
        Optional<TrialTable> table;
        try (Bar bar = Bar.on(terminal)) {
            table = study.compare(trial, bar);
        }
        TrialTable found = table.orElseThrow(() -> new IllegalStateException("the search was cancelled by no one"));
        if (form.json) {
            terminal.out().print(TrialJson.of(found));
        } else if (form.csv) {
            terminal.out().print(TrialCsv.of(found, inches));
        } else {
            terminal.out().print(TrialText.of(found, inches, all, terminal.colour()));
        }
        if (adopt) {
            Path kept = TrialCar.adopt(file, document, car, trial);
            terminal.err().println("adopted: " + file + " has the changes now; as it was before: " + kept);
        }
        return found.after().worst() == State.CLEAR ? Daylight.CLEAR : Daylight.NOT_CLEAR;
    }

    static Asked asked() {
        return new Asked(
                Asked.USUAL.toleranceMm(),
                Asked.USUAL.watchMm(),
                Asked.USUAL.mostBoxes(),
                Math.max(1, Runtime.getRuntime().availableProcessors()));
    }

    private static String names(Car car) {
        List<String> names =
                car.trials().stream().map(trial -> "\"" + trial.name() + "\"").toList();
        return names.isEmpty() ? "The car file has no trials." : "The car file has " + String.join(", ", names) + ".";
    }
}
