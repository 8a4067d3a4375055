package daylight.command;

import java.nio.file.Path;
import java.util.Optional;

/** Opens the window; handed in by {@code Main}, since the command line does not know the window. */
@FunctionalInterface
public interface Window {
    /** Opens the window on a car file, or on its start page, and returns when it is closed. */
    void open(Optional<Path> car);
}
