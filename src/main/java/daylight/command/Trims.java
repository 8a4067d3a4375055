package daylight.command;

import daylight.car.Car;
import daylight.car.CarFileException;
import daylight.geometry.Cut;
import daylight.geometry.Shape;
import daylight.report.CutCsv;
import daylight.report.CutJson;
import daylight.report.CutText;
import daylight.report.Paper;
import daylight.report.Template;
import daylight.report.TemplatePdf;
import daylight.report.TemplateSvg;
import daylight.survey.MeasuredCar;
import daylight.trim.CutStudy;
import daylight.trim.LeastCut;
import daylight.units.Length;
import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.stream.Collectors;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code daylight trim CAR PLATE}: the least cut. */
@Command(
        name = "trim",
        description = {
            "Finds what to cut off a plate so that it keeps its gaps: the straight cut, the rounded corner and the notch "
                    + "that take least off, as they are marked out, with the metal that is left; and prints a template "
                    + "at full size.",
            "Holes keep their edge distance (edge distance: of the plate, else common practice), welds: and keep: stay.",
            "Exit status: 0 nothing has to come off, 1 a cut or a shift is needed, 2 the input is wrong."
        },
        mixinStandardHelpOptions = true,
        sortOptions = false,
        footer = {"", "Example: daylight trim demo/harbour-pickup.yaml \"right sway-bar bracket\""})
final class Trims implements Callable<Integer> {
    private static final double SIXTEENTH_MM = Length.MM_PER_INCH / 16;

    private final Terminal terminal;

    @Spec
    private CommandSpec spec = CommandSpec.create();

    @Mixin
    private CarInput input = new CarInput();

    @Parameters(index = "1", paramLabel = "PLATE", description = "The part that is cut.")
    private String plate = "";

    @Option(
            names = "--spare",
            paramLabel = "LENGTH",
            description = "So much more than the rules ask, for doubt in the measurements.")
    private Optional<String> spare = Optional.empty();

    @Option(
            names = "--at-95",
            description =
                    "Clear at 95 %%: what the doubt of the measured points and of the parts' own figures leaves of "
                            + "each gap keeps its rule over the whole 95 %% interval.")
    private boolean at95;

    @Option(
            names = "--steps",
            paramLabel = "LENGTH",
            description = "Mark out in whole steps of this (1/16 in, or 1 mm).")
    private Optional<String> steps = Optional.empty();

    @Option(
            names = "--template",
            paramLabel = "FILE",
            description = "Write a template of the first cut at full size: FILE.pdf, or FILE.svg (a file a sheet).")
    private Optional<Path> template = Optional.empty();

    @Option(names = "--paper", paramLabel = "PAPER", description = "A4 or letter (letter for lengths in inches).")
    private Optional<String> paper = Optional.empty();

    Trims(Terminal terminal) {
        this.terminal = terminal;
    }

    @Override
    public Integer call() throws CarFileException {
        MeasuredCar measured = input.read(terminal);
        Car car = measured.car();
        boolean inches = input.inches(car);
        List<String> plates = car.parts().stream()
                .filter(part -> part.shape() instanceof Shape.Plate)
                .map(Car.Part::name)
                .toList();
        if (!plates.contains(plate)) {
            throw new ParameterException(
                    spec.commandLine(),
                    "no part that is a plate is called \"" + plate + "\". "
                            + (plates.isEmpty()
                                    ? "The car has none."
                                    : "There are: " + String.join(", ", plates) + "."));
        }
        double step = steps.map(text -> Lengths.notNegative(spec, "--steps", text, car))
                .orElse(inches ? SIXTEENTH_MM : 1.0);
        if (!(step > 0)) {
            throw new ParameterException(spec.commandLine(), "--steps is more than zero");
        }
        double more = spare.map(text -> Lengths.notNegative(spec, "--spare", text, car))
                .orElse(0.0);
        Map<String, Double> moreOf =
                car.parts().stream().collect(Collectors.toMap(Car.Part::name, part -> more, (a, b) -> a));
        Optional<LeastCut> least;
        try (Bar bar = Bar.on(terminal)) {
            CutStudy study = CutStudy.of(car, plate, Trials.asked());
            CutStudy.Wanted wanted = new CutStudy.Wanted(step, moreOf);
            least = at95 ? study.leastCutAt95(measured, wanted, bar) : study.leastCut(wanted, bar);
        }
        LeastCut found = least.orElseThrow(() -> new IllegalStateException("the search was cancelled by no one"));
        if (input.json()) {
            terminal.out().print(CutJson.of(car.name(), found));
        } else if (input.csv()) {
            terminal.out().print(CutCsv.of(found, inches));
        } else {
            terminal.out().print(CutText.of(car, found, inches, step, terminal.colour()));
        }
        template.ifPresent(target -> print(target, car, found, inches));
        return found.options().isEmpty() && found.none().isEmpty() ? Daylight.CLEAR : Daylight.NOT_CLEAR;
    }

    private void print(Path target, Car car, LeastCut found, boolean inches) {
        Paper sheet = input.paper(paper, inches);
        Optional<Cut> cut = found.options().stream().findFirst().map(LeastCut.Option::marked);
        LengthFormat format = LengthFormat.usual(inches ? Unit.INCH : Unit.MILLIMETRE);
        Template drawn = Template.of(car.name(), plate, found.plate(), cut, format, sheet);
        String name = target.toString();
        try {
            if (name.toLowerCase(Locale.ROOT).endsWith(".pdf")) {
                Files.write(target, TemplatePdf.of(drawn));
                terminal.err().println("template: " + target + " (" + drawn + ")");
            } else if (name.toLowerCase(Locale.ROOT).endsWith(".svg")) {
                List<String> sheets = TemplateSvg.of(drawn);
                for (int i = 0; i < sheets.size(); i++) {
                    Path one = sheets.size() == 1
                            ? target
                            : Path.of(name.substring(0, name.length() - 4) + "-" + (i + 1) + ".svg");
                    Files.writeString(one, sheets.get(i), StandardCharsets.UTF_8);
                    terminal.err().println("template: " + one);
                }
            } else {
                throw new ParameterException(
                        spec.commandLine(), "--template takes a name that ends in .pdf or .svg, not " + target);
            }
        } catch (IOException e) {
            throw new ParameterException(
                    spec.commandLine(), "the template cannot be written to " + target + ": " + e.getMessage(), e);
        }
    }
}
