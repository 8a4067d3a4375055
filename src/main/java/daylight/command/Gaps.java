package daylight.command;

import daylight.car.Car;
import daylight.car.CarFileException;
import daylight.clearance.Asked;
import daylight.clearance.DoubtSearch;
import daylight.clearance.GapCheck;
import daylight.clearance.GapDoubts;
import daylight.clearance.GapSearch;
import daylight.clearance.GapTable;
import daylight.clearance.State;
import daylight.hose.HoseGaps;
import daylight.report.GapCsv;
import daylight.report.GapJson;
import daylight.report.GapText;
import daylight.report.SurveyWords;
import daylight.survey.MeasuredCar;
import daylight.units.LengthFormat;
import daylight.units.Progress;
import daylight.units.Unit;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** {@code daylight gaps CAR}: the main job. */
@Command(
        name = "gaps",
        description = {
            "Lists the gap of every pair of parts that move against one another: as the car stands, and the least over "
                    + "the whole travel, tightest first.",
            "Exit status: 0 all clear, 1 something tight or rubbing, 2 the input is wrong."
        },
        mixinStandardHelpOptions = true,
        sortOptions = false,
        footer = {"", "Example: daylight gaps demo/harbour-pickup.yaml --csv > gaps.csv"})
final class Gaps implements Callable<Integer> {
    /** Rows for which cars are drawn. */
    private static final int DRAWN_ROWS = 10;
    /** Fewer cars say nothing of one in twenty. */
    private static final int LEAST_DRAWN = 100;
    /** The same cars are drawn every time. */
    private static final long SEED = 1;

    private final Terminal terminal;

    @Spec
    private CommandSpec spec = CommandSpec.create();

    @Mixin
    private CarInput input = new CarInput();

    @Option(names = "--all", description = "List the pairs that stay far apart too.")
    private boolean all;

    @Option(
            names = "--spots",
            description = "After the table, list every separate tight spot of a pair, not only its tightest.")
    private boolean spots;

    @Option(
            names = "--known-to",
            paramLabel = "MM",
            description = "How near the floor must come to the least gap found, mm (${DEFAULT-VALUE}).")
    private double knownTo = Asked.USUAL.toleranceMm();

    @Option(
            names = "--how-sure",
            description =
                    "Say how sure each listed gap is, from the doubt of the measured points: its 95 %% half width, "
                            + "the chance of touching, and what to measure again.")
    private boolean howSure;

    @Option(
            names = "--draw",
            paramLabel = "CARS",
            description =
                    "The same for the ten tightest gaps from so many cars drawn within that doubt, such as 10000.")
    private int draw;

    Gaps(Terminal terminal) {
        this.terminal = terminal;
    }

    @Override
    public Integer call() throws CarFileException {
        MeasuredCar measured = input.read(terminal);
        Car car = measured.car();
        boolean inches = input.inches(car);
        if (!(knownTo > 0) || !Double.isFinite(knownTo)) {
            throw new ParameterException(
                    spec.commandLine(), "--known-to takes a length in mm above zero, for example 0.1; not " + knownTo);
        }
        if (draw != 0 && draw < LEAST_DRAWN) {
            throw new ParameterException(
                    spec.commandLine(), "--draw takes " + LEAST_DRAWN + " cars or more, not " + draw);
        }
        Asked asked = new Asked(
                knownTo,
                Asked.USUAL.watchMm(),
                Asked.USUAL.mostBoxes(),
                Math.max(1, Runtime.getRuntime().availableProcessors()));
        Optional<GapTable> table;
        try (Bar bar = Bar.on(terminal)) {
            table = GapSearch.of(car, asked).run(bar).flatMap(parts -> HoseGaps.addTo(parts, car, asked, bar));
        }
        GapTable found = table.orElseThrow(() -> new IllegalStateException("the search was cancelled by no one"));
        Optional<GapDoubts> doubts = doubts(measured, found, asked.threads());
        List<GapCheck> onTheCar =
                measured.hasMeasuredGaps() ? DoubtSearch.checks(measured, Progress.SILENT) : List.of();
        if (input.json()) {
            terminal.out().print(GapJson.of(found, doubts, onTheCar));
        } else if (input.csv()) {
            terminal.out().print(GapCsv.of(found, doubts, inches));
        } else {
            terminal.out().print(GapText.of(found, doubts, inches, all, terminal.colour()));
            SurveyWords.differing(onTheCar, LengthFormat.usual(inches ? Unit.INCH : Unit.MILLIMETRE))
                    .forEach(line -> terminal.out().print("Measured on the car. " + line + "\n"));
            if (spots) {
                terminal.out().print("\n" + GapText.spots(found, inches));
            }
        }
        return found.worst() == State.CLEAR ? Daylight.CLEAR : Daylight.NOT_CLEAR;
    }

    private Optional<GapDoubts> doubts(MeasuredCar measured, GapTable found, int threads) throws CarFileException {
        if (!howSure && draw == 0) {
            return Optional.empty();
        }
        try (Bar bar = Bar.on(terminal)) {
            return draw > 0
                    ? DoubtSearch.simulated(measured, found, DRAWN_ROWS, draw, SEED, threads, bar)
                    : DoubtSearch.linear(measured, found, Integer.MAX_VALUE, bar);
        }
    }
}
