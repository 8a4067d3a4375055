package daylight.command;

import daylight.car.Car;
import daylight.car.CarFileException;
import daylight.motion.TravelReport;
import daylight.motion.TravelStudy;
import daylight.motion.TravelTable;
import daylight.report.TravelCsv;
import daylight.report.TravelJson;
import daylight.report.TravelSvg;
import daylight.report.TravelText;
import daylight.units.Length;
import daylight.units.Parsed;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.concurrent.Callable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** {@code daylight travel CAR}: where each movement ends, and wheel geometry over it. */
@Command(
        name = "travel",
        description = {
            "Says where each movement really ends and on what, and tables wheel geometry over travel, steering and roll: "
                    + "camber, toe, caster, trail, scrub radius, roll centre, bump steer, motion ratios, joint angles.",
            "Exit status: 0, 1 if a mechanism binds before its stated travel, 2 if the input is wrong."
        },
        mixinStandardHelpOptions = true,
        sortOptions = false,
        footer = {"", "Example: daylight travel demo/harbour-pickup.yaml"})
final class Travel implements Callable<Integer> {
    /** Rows that a terminal shows at once without scrolling, about. */
    private static final double INCH_STEP_MM = 12.7;

    private static final double MM_STEP_MM = 10;
    private static final double STEP_DEG = 5;
    /** Curves are drawn with rows this much nearer to one another. */
    private static final double CURVE_ROWS = 8;

    private static final double PER_CENT = 100;

    private final Terminal terminal;

    @Spec
    @SuppressWarnings("NullAway.Init") // picocli injects it before call()
    private CommandSpec spec;

    @Mixin
    private CarInput input = new CarInput();

    @Option(names = "--svg", paramLabel = "FOLDER", description = "Draw the curves into a folder too, a file a table.")
    private Optional<Path> pictures = Optional.empty();

    @Option(names = "--step", paramLabel = "LENGTH", description = "Distance of the rows (1/2 in, or 10 mm).")
    private Optional<String> step = Optional.empty();

    @Option(
            names = "--loaded-radius",
            paramLabel = "LENGTH",
            description = "Height of the wheel centres above the ground (from the car file).")
    private Optional<String> loadedRadius = Optional.empty();

    @Option(
            names = "--wheelbase",
            paramLabel = "LENGTH",
            description = "For Ackermann and anti-dive (from the wheels of the car file).")
    private Optional<String> wheelbase = Optional.empty();

    @Option(
            names = "--cg-height",
            paramLabel = "LENGTH",
            description =
                    "Height of the centre of gravity above the ground: gives anti-dive, anti-squat and anti-lift in "
                            + "per cent, with --front-brakes. Else only angles are given.")
    private Optional<String> centreOfGravity = Optional.empty();

    @Option(
            names = "--front-brakes",
            paramLabel = "PER CENT",
            description = "Share of the braking done by the front wheels.")
    private Optional<Double> frontBrakes = Optional.empty();

    @Option(
            names = "--front-drive",
            paramLabel = "PER CENT",
            description = "Share of the drive at the front wheels (${DEFAULT-VALUE}).")
    private double frontDrive;

    Travel(Terminal terminal) {
        this.terminal = terminal;
    }

    @Override
    public Integer call() throws CarFileException {
        Car car = input.read(terminal).car();
        boolean inches = input.inches(car);
        TravelStudy.Asked asked = asked(car);
        TravelReport report = TravelStudy.of(car, asked);
        if (pictures.isPresent()) {
            draw(TravelStudy.of(car, asked.finer(CURVE_ROWS)), pictures.get(), inches);
        }
        if (input.json()) {
            terminal.out().print(TravelJson.of(report));
        } else if (input.csv()) {
            terminal.out().print(TravelCsv.of(report, inches));
        } else {
            terminal.out().print(TravelText.of(report, inches));
        }
        return report.binds() ? Daylight.NOT_CLEAR : Daylight.CLEAR;
    }

    private TravelStudy.Asked asked(Car car) {
        if (centreOfGravity.isPresent() != frontBrakes.isPresent()) {
            throw wrong("--cg-height and --front-brakes go together: anti-dive rests on both");
        }
        Optional<TravelStudy.Weights> weights = centreOfGravity.map(text -> new TravelStudy.Weights(
                positive("--cg-height", text, car),
                share("--front-brakes", frontBrakes.orElse(0.0)),
                share("--front-drive", frontDrive)));
        return new TravelStudy.Asked(
                step.map(text -> positive("--step", text, car)).orElse(car.inches() ? INCH_STEP_MM : MM_STEP_MM),
                Math.toRadians(STEP_DEG),
                length("--loaded-radius", loadedRadius, car),
                length("--wheelbase", wheelbase, car),
                weights);
    }

    private double share(String option, double perCent) {
        if (!(perCent >= 0 && perCent <= PER_CENT)) {
            throw wrong(option + " is 0 to 100 per cent, not " + perCent);
        }
        return perCent / PER_CENT;
    }

    private OptionalDouble length(String option, Optional<String> text, Car car) {
        return text.isPresent() ? OptionalDouble.of(positive(option, text.get(), car)) : OptionalDouble.empty();
    }

    private double positive(String option, String text, Car car) {
        Parsed<Length> parsed = Length.parse(text, car.unit());
        if (parsed instanceof Parsed.Refused<Length> refused) {
            throw wrong(option + ": " + refused.reason() + ". " + refused.advice());
        }
        double mm = parsed.value().map(Length::mm).orElse(0.0);
        if (!(mm > 0)) {
            throw wrong(option + ": " + text + " is not more than zero");
        }
        return mm;
    }

    private void draw(TravelReport report, Path folder, boolean inches) {
        try {
            Files.createDirectories(folder);
            for (TravelTable table : report.tables()) {
                Path target = folder.resolve(TravelSvg.fileName(table));
                Files.writeString(target, TravelSvg.of(report.car(), table, inches), StandardCharsets.UTF_8);
                terminal.err().println("drawn: " + target);
            }
        } catch (IOException e) {
            throw new ParameterException(
                    spec.commandLine(), "the curves cannot be written to " + folder + ": " + e.getMessage(), e);
        }
    }

    private ParameterException wrong(String words) {
        return new CommandLine.ParameterException(spec.commandLine(), words);
    }
}
