package daylight.bench;

import java.nio.file.Path;
import java.util.Optional;

/** How the window asks its user for a file. Tests answer for the user. */
interface FileChoice {
    /** Asks for a car file to open; empty if the user thought better of it. */
    Optional<Path> toOpen();

    /**
     * Asks for a file to write. That it may be there already is asked about here.
     *
     * @param title what it is for
     * @param suggested a name to begin with; its ending is the kind of file
     */
    Optional<Path> toWrite(String title, String suggested);
}
