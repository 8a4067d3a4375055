package daylight.command;

import daylight.car.Car;
import daylight.car.CarFileException;
import daylight.car.Trial;
import daylight.clearance.Asked;
import daylight.clearance.State;
import daylight.report.FindText;
import daylight.report.TrialCsv;
import daylight.report.TrialJson;
import daylight.report.TrialText;
import daylight.survey.MeasuredCar;
import daylight.trim.FitSearch;
import daylight.trim.TrialCar;
import daylight.trim.TrialStudy;
import daylight.trim.TrialTable;
import daylight.units.Length;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.stream.Stream;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
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

    @Mixin
    private CarInput input = new CarInput();

    @Parameters(index = "1", arity = "0..1", paramLabel = "NAME", description = "The trial.")
    private Optional<String> name = Optional.empty();

    @Option(
            names = "--find",
            paramLabel = "WHAT=OF",
            description = {
                "Ask the other way round: most bump=MECHANISM, lowest ride=MECHANISM, widest tyre=PART, backspacing=PART.",
                "Found to 1/16 in or 1 mm."
            })
    private Optional<String> find = Optional.empty();

    @Option(names = "--all", description = "List the clear pairs that do not change too.")
    private boolean all;

    @Option(names = "--adopt", description = "Write the trial's changes into the car file, and take the trial out.")
    private boolean adopt;

    Trials(Terminal terminal) {
        this.terminal = terminal;
    }

    @Override
    public Integer call() throws CarFileException {
        MeasuredCar measured = input.read(terminal);
        if (find.isPresent()) {
            return find(measured, find.get());
        }
        TrialStudy study = TrialStudy.of(measured, asked());
        Car car = study.car();
        boolean inches = input.inches(car);
        if (name.isEmpty()) {
            if (adopt || input.json() || input.csv()) {
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
        if (input.json()) {
            terminal.out().print(TrialJson.of(found));
        } else if (input.csv()) {
            terminal.out().print(TrialCsv.of(found, inches));
        } else {
            terminal.out().print(TrialText.of(found, inches, all, terminal.colour()));
        }
        if (adopt) {
            Path kept = TrialCar.adopt(input.file(), measured, trial);
            terminal.err().println("adopted: " + input.file() + " has the changes now; as it was before: " + kept);
        }
        return found.after().worst() == State.CLEAR ? Daylight.CLEAR : Daylight.NOT_CLEAR;
    }

    private int find(MeasuredCar measured, String words) throws CarFileException {
        if (name.isPresent() || adopt || input.csv()) {
            throw new ParameterException(spec.commandLine(), "--find goes with the car file alone, --json and --in");
        }
        FitSearch search = FitSearch.of(measured, asked());
        boolean inches = input.inches(search.car());
        int sign = words.indexOf('=');
        String what = (sign < 0 ? words : words.substring(0, sign)).strip();
        FitSearch.Question question = Stream.of(FitSearch.Question.values())
                .filter(q -> q.word().equals(what))
                .findFirst()
                .orElseThrow(() -> new ParameterException(
                        spec.commandLine(),
                        "--find takes most bump, lowest ride, widest tyre or backspacing, not \"" + what + "\""));
        List<String> askable = search.askable(question);
        String of = sign < 0 ? "" : words.substring(sign + 1).strip();
        if (!askable.contains(of)) {
            throw new ParameterException(
                    spec.commandLine(),
                    "--find \"" + question.word() + "=...\" can be asked of "
                            + (askable.isEmpty() ? "nothing in this car file" : String.join(", ", askable)));
        }
        double resolution = inches ? Length.MM_PER_INCH / 16 : 1;
        Optional<FitSearch.Found> found;
        try (Bar bar = Bar.on(terminal)) {
            found = search.find(question, of, resolution, bar);
        } catch (IllegalArgumentException e) {
            throw new ParameterException(spec.commandLine(), String.valueOf(e.getMessage()), e);
        }
        FitSearch.Found answer =
                found.orElseThrow(() -> new IllegalStateException("the search was cancelled by no one"));
        terminal.out()
                .print(
                        input.json()
                                ? FindText.json(search.car().name(), answer)
                                : FindText.of(search.car().name(), answer, inches));
        return FindText.asStatedFits(answer) ? Daylight.CLEAR : Daylight.NOT_CLEAR;
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
