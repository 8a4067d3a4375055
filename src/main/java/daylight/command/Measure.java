package daylight.command;

import daylight.car.CarDocument;
import daylight.car.CarFile;
import daylight.car.CarFileException;
import daylight.car.Measurement;
import daylight.clearance.DoubtSearch;
import daylight.clearance.GapCheck;
import daylight.report.MeasureCsv;
import daylight.report.MeasureJson;
import daylight.report.MeasureText;
import daylight.survey.MeasuredCar;
import daylight.survey.MeasuredPoints;
import daylight.survey.SurveyReport;
import daylight.units.Progress;
import java.util.List;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;

/** {@code daylight measure CAR}: what the tape says. */
@Command(
        name = "measure",
        description = {
            "Adjusts the points to what was read with tape, bob and level: where each is and how sure that is, which "
                    + "reading cannot be right and what it probably was, what nothing fixes or checks yet, and what to "
                    + "measure next. Gaps measured on the car are held against the computed ones.",
            "Exit status: 0 every point fixed and all readings agree, 1 a reading, a gap or a point wants another look, "
                    + "2 the input is wrong."
        },
        mixinStandardHelpOptions = true,
        sortOptions = false,
        footer = {"", "Example: daylight measure demo/harbour-pickup.yaml"})
final class Measure implements Callable<Integer> {
    private final Terminal terminal;

    @Mixin
    private CarInput input = new CarInput();

    @Option(
            names = "--all",
            description = "List every reading, not only those that fit worst; also those that nothing checks.")
    private boolean all;

    Measure(Terminal terminal) {
        this.terminal = terminal;
    }

    @Override
    public Integer call() throws CarFileException {
        CarDocument document = CarFile.open(input.file());
        MeasuredPoints points;
        SurveyReport report;
        try (Bar bar = Bar.on(terminal)) {
            points = MeasuredPoints.of(document, bar);
            report = points.report();
        }
        List<GapCheck> gaps = points.sheet().readings().stream().anyMatch(Measurement.Gap.class::isInstance)
                ? DoubtSearch.checks(MeasuredCar.of(document), Progress.SILENT)
                : List.of();
        boolean inches = input.inches(points.sheet().inches());
        String name = document.value(List.of("car")).orElse(document.name());
        if (input.json()) {
            terminal.out().print(MeasureJson.of(name, report, gaps));
        } else if (input.csv()) {
            terminal.out().print(MeasureCsv.of(report, inches));
        } else {
            terminal.out().print(MeasureText.of(name, report, gaps, inches, all));
        }
        boolean clear = report.suspects().isEmpty()
                && points.adjustment().allFixed()
                && report.agreement().agrees()
                && gaps.stream().noneMatch(GapCheck::disagrees);
        return clear ? Daylight.CLEAR : Daylight.NOT_CLEAR;
    }
}
