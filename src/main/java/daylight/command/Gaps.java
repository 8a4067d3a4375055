package daylight.command;

import daylight.car.Car;
import daylight.car.CarFileException;
import daylight.clearance.Asked;
import daylight.clearance.GapSearch;
import daylight.clearance.GapTable;
import daylight.clearance.State;
import daylight.hose.HoseGaps;
import daylight.report.GapCsv;
import daylight.report.GapJson;
import daylight.report.GapText;
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

    Gaps(Terminal terminal) {
        this.terminal = terminal;
    }

    @Override
    public Integer call() throws CarFileException {
        Car car = input.read(terminal).car();
        boolean inches = input.inches(car);
        if (!(knownTo > 0) || !Double.isFinite(knownTo)) {
            throw new ParameterException(
                    spec.commandLine(), "--known-to takes a length in mm above zero, for example 0.1; not " + knownTo);
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
        if (input.json()) {
            terminal.out().print(GapJson.of(found));
        } else if (input.csv()) {
            terminal.out().print(GapCsv.of(found, inches));
        } else {
            terminal.out().print(GapText.of(found, inches, all, terminal.colour()));
            if (spots) {
                terminal.out().print("\n" + GapText.spots(found, inches));
            }
        }
        return found.worst() == State.CLEAR ? Daylight.CLEAR : Daylight.NOT_CLEAR;
    }
}
