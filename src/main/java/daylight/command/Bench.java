package daylight.command;

import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Parameters;

/** {@code daylight bench CAR}: the window. */
@Command(
        name = "bench",
        description = "Opens the window on a car: its parts in 3D, its travel under handles, its gaps in a list.",
        mixinStandardHelpOptions = true,
        footer = {"", "Example: daylight bench demo/harbour-pickup.yaml"})
final class Bench implements Callable<Integer> {
    private final Window window;

    @Parameters(paramLabel = "CAR", arity = "0..1", description = "The car file.")
    private Optional<Path> file = Optional.empty();

    Bench(Window window) {
        this.window = window;
    }

    @Override
    public Integer call() {
        window.open(file);
        return Daylight.CLEAR;
    }
}
