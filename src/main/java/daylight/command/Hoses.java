package daylight.command;

import daylight.car.Car;
import daylight.car.CarFileException;
import daylight.hose.HoseReport;
import daylight.hose.HoseSearch;
import daylight.report.HoseCsv;
import daylight.report.HoseJson;
import daylight.report.HoseText;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;

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

    @Mixin
    private CarInput input = new CarInput();

    Hoses(Terminal terminal) {
        this.terminal = terminal;
    }

    @Override
    public Integer call() throws CarFileException {
        Car car = input.read(terminal).car();
        boolean inches = input.inches(car);
        Optional<List<HoseReport>> reports;
        try (Bar bar = Bar.on(terminal)) {
            reports = HoseSearch.of(car).run(Math.max(1, Runtime.getRuntime().availableProcessors()), bar);
        }
        List<HoseReport> found =
                reports.orElseThrow(() -> new IllegalStateException("the search was cancelled by no one"));
        if (input.json()) {
            terminal.out().print(HoseJson.of(car.name(), found));
        } else if (input.csv()) {
            terminal.out().print(HoseCsv.of(found, inches));
        } else {
            terminal.out().print(HoseText.of(car.name(), found, inches));
        }
        boolean clear = found.stream().allMatch(report -> report.troubles().isEmpty());
        return clear ? Daylight.CLEAR : Daylight.NOT_CLEAR;
    }
}
