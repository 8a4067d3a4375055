package daylight.command;

import daylight.car.Layout;
import daylight.car.Layouts;
import daylight.car.StarterFile;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;

/** {@code daylight new LAYOUT...}: a commented car file to begin with. */
@Command(
        name = "new",
        description = {
            "Writes a car file to begin with: every point of the layouts named, how to measure it, and figures of a worked "
                    + "example to be replaced by your own.",
            "A mechanism may be given a name of its own: NAME=LAYOUT."
        },
        mixinStandardHelpOptions = true,
        sortOptions = false,
        footer = {"", "Example: daylight new \"front left=double-a-arm-rack\" --in in > my-car.yaml"})
final class NewCar implements Callable<Integer> {
    private final Terminal terminal;

    @Spec
    @SuppressWarnings("NullAway.Init") // picocli injects it before call()
    private CommandSpec spec;

    @Parameters(paramLabel = "LAYOUT", arity = "1..*", description = "Layouts; daylight layouts lists them.")
    private List<String> words = new ArrayList<>();

    @Option(
            names = "--in",
            paramLabel = "UNIT",
            description = "Unit of the file's bare numbers: in, mm (${DEFAULT-VALUE}).",
            defaultValue = "mm")
    private String unit = "mm";

    NewCar(Terminal terminal) {
        this.terminal = terminal;
    }

    @Override
    public Integer call() {
        if (!List.of("in", "mm").contains(unit)) {
            throw new ParameterException(spec.commandLine(), "--in is in or mm, not \"" + unit + "\"");
        }
        List<StarterFile.Wanted> wanted = words.stream().map(this::wanted).toList();
        try {
            terminal.out().print(StarterFile.of(wanted, unit.equals("in")));
        } catch (IllegalArgumentException e) {
            throw new ParameterException(
                    spec.commandLine(), e.getMessage() + ". Give each a name of its own: NAME=LAYOUT.", e);
        }
        return Daylight.CLEAR;
    }

    private StarterFile.Wanted wanted(String word) {
        int sign = word.indexOf('=');
        Layout layout = named(spec.commandLine(), word.substring(sign + 1).strip());
        if (sign < 0) {
            return StarterFile.Wanted.of(layout);
        }
        try {
            return new StarterFile.Wanted(word.substring(0, sign).strip(), layout);
        } catch (IllegalArgumentException e) {
            throw new ParameterException(spec.commandLine(), e.getMessage() + ".", e);
        }
    }

    /** Returns a layout, or complains with the nearest name. */
    static Layout named(CommandLine line, String name) {
        return Layouts.named(name)
                .orElseThrow(() -> new ParameterException(
                        line,
                        "no layout is called \"" + name + "\"."
                                + Layouts.nearest(name)
                                        .map(near -> " Nearest: \"" + near + "\".")
                                        .orElse(" daylight layouts lists them.")));
    }
}
