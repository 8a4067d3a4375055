package daylight.command;

import daylight.car.Layout;
import daylight.car.Layouts;
import daylight.report.LayoutSvg;
import daylight.report.LayoutText;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
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

/** {@code daylight layouts}: the kinds of mechanism that a car file may name, and what to measure for each. */
@Command(
        name = "layouts",
        description =
                "Lists the kinds of suspension, steering, shaft and panel that a car file may name; with names, says "
                        + "which points to measure for each and how.",
        mixinStandardHelpOptions = true,
        sortOptions = false,
        footer = {"", "Example: daylight layouts double-a-arm-rack"})
final class LayoutList implements Callable<Integer> {
    private final Terminal terminal;

    @Spec
    @SuppressWarnings("NullAway.Init") // picocli injects it before call()
    private CommandSpec spec;

    @Parameters(paramLabel = "LAYOUT", arity = "0..*", description = "Say what to measure for these.")
    private List<String> names = new ArrayList<>();

    @Option(names = "--all", description = "Say what to measure for every layout.")
    private boolean all;

    @ArgGroup(exclusive = true)
    private Form form = new Form();

    private static final class Form {
        @Option(names = "--json", description = "Write JSON.")
        private boolean json;

        @Option(names = "--csv", description = "Write CSV for a spreadsheet.")
        private boolean csv;

        @Option(
                names = "--svg",
                paramLabel = "FOLDER",
                description = "Draw a picture that names the points into a folder, a file a layout.")
        private Optional<Path> svg = Optional.empty();
    }

    LayoutList(Terminal terminal) {
        this.terminal = terminal;
    }

    @Override
    public Integer call() {
        List<Layout> layouts = (names.isEmpty() ? Layouts.names() : names)
                .stream().map(name -> NewCar.named(spec.commandLine(), name)).toList();
        if (form.json) {
            terminal.out().print(LayoutText.json(layouts));
        } else if (form.csv) {
            terminal.out().print(LayoutText.csv(layouts));
        } else if (form.svg.isPresent()) {
            draw(layouts, form.svg.get());
        } else if (names.isEmpty() && !all) {
            terminal.out().print(LayoutText.list(layouts));
        } else {
            terminal.out().print(LayoutText.measure(layouts));
        }
        return Daylight.CLEAR;
    }

    private void draw(List<Layout> layouts, Path folder) {
        try {
            Files.createDirectories(folder);
            for (Layout layout : layouts) {
                Path target = folder.resolve(layout.name() + ".svg");
                Files.writeString(target, LayoutSvg.of(layout), StandardCharsets.UTF_8);
                terminal.err().println("drawn: " + target);
            }
        } catch (IOException e) {
            throw new ParameterException(
                    spec.commandLine(), "the pictures cannot be written to " + folder + ": " + e.getMessage(), e);
        }
    }
}
