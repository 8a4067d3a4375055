package daylight.bench;

import java.nio.file.Path;
import java.util.Optional;

/** Asks the user where a file is to be written. The window shows the system's own question; tests answer at once. */
@FunctionalInterface
interface FilePrompt {
    /**
     * Asks for a file to write.
     *
     * @param title what it is for, beginning with a verb
     * @param suggested a name to begin with
     * @param kind the ending that the name gets, without its point
     * @return where to, with that ending; empty if the user thought better of it
     */
    Optional<Path> whereTo(String title, String suggested, String kind);
}
