package daylight.command;

import daylight.car.Car;
import daylight.car.CarFile;
import daylight.car.CarFileException;
import daylight.hose.HoseReport;
import daylight.hose.HoseSearch;
import daylight.report.HoseCsv;
import daylight.report.HoseJson;
import daylight.report.HoseText;
import daylight.units.Unit;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.ArgGroup;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;

/** {@code daylight hose CAR}: the flexible lines. */
@Command(
        name = "hose",
        description = {
            "Says of each brake hose, fuel line, clutch line or loom whether it reaches, kinks, twists or rubs anywhere "
                    + "the car can go, and which stock length to buy.",
            "Exit status: 0 all reach and are clear, 1 something is wrong with one, 2 the input is wrong."
        },
        mixinStandardHelpOptions = true,
        sortOptions = false,
        footer = {"", "Example: daylight hose demo/harbour-pickup.yaml"})
final class Hoses implements Callable<Integer> {
    private final Terminal terminal;

    @Parameters(paramLabel = "CAR", description = "The car file.")
    private Path file = Path.of("");

    @ArgGroup(exclusive = true)
    private Form form = new Form();

    @Option(names = "--in", paramLabel = "UNIT", description = "Show lengths in: in, mm (as the car file has them).")
    private Optional<String> unit = Optional.empty();

    private static final class Form {
        @Option(names = "--json", description = "Write JSON (mm, degrees).")
        private boolean json;

        @Option(names = "--csv", description = "Write CSV for a spreadsheet.")
        private boolean csv;
    }

    Hoses(Terminal terminal) {
        this.terminal = terminal;
    }

    @Override
    public Integer call() throws CarFileException {
        Car car = CarFile.read(file);
        boolean inches = unit.flatMap(Unit::spelt).map(u -> u == Unit.INCH).orElse(car.inches());
        Optional<List<HoseReport>> reports;
        try (Bar bar = Bar.on(terminal)) {
            reports = HoseSearch.of(car).run(bar);
        }
        List<HoseReport> found =
                reports.orElseThrow(() -> new IllegalStateException("the search was cancelled by no one"));
        if (form.json) {
            terminal.out().print(HoseJson.of(car.name(), found));
        } else if (form.csv) {
            terminal.out().print(HoseCsv.of(found, inches));
        } else {
            terminal.out().print(HoseText.of(car.name(), found, inches));
        }
        boolean clear = found.stream().allMatch(report -> report.troubles().isEmpty());
        return clear ? Daylight.CLEAR : Daylight.NOT_CLEAR;
    }
}
