package daylight.bench;

import java.nio.file.Path;
import java.util.Optional;

/** Answers for the user when the window asks for a file. */
final class ChosenFiles implements FileChoice {
    Optional<Path> open = Optional.empty();
    Optional<Path> write = Optional.empty();

    @Override
    public Optional<Path> toOpen() {
        return open;
    }

    @Override
    public Optional<Path> toWrite(String title, String suggested) {
        return write;
    }
}
