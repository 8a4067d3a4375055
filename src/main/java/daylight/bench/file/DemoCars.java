package daylight.bench.file;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.List;
import java.util.Optional;

/** The invented cars that come with the program, inside it, so that they are at hand wherever it is started. */
public final class DemoCars {
    private static final String HOME = "/demo/";

    /**
     * A demo car.
     *
     * @param file its file name
     * @param words what it is, in a few words
     */
    public record Demo(String file, String words) {}

    private DemoCars() {}

    /** Returns the demo cars in the order in which they are offered. */
    public static List<Demo> all() throws IOException {
        return text("cars.txt")
                .lines()
                .filter(line -> !line.isBlank() && !line.startsWith("#"))
                .map(line -> line.split(": ", 2))
                .map(two -> new Demo(two[0], two[1]))
                .toList();
    }

    /**
     * Copies a demo car into a folder, so that it can be changed freely. A copy that is there already stays as it is.
     *
     * @return the copy
     * @throws IOException if the folder cannot be written
     */
    public static Path copy(Demo demo, Path folder) throws IOException {
        Path copy = folder.resolve(demo.file());
        if (!Files.exists(copy)) {
            Files.createDirectories(folder);
            Path fresh = folder.resolve(demo.file() + ".new");
            Files.writeString(fresh, text(demo.file()));
            Files.move(fresh, copy, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
        }
        return copy;
    }

    /**
     * Returns a demo car's text.
     *
     * @throws IOException if the program cannot be read
     */
    static String text(String file) throws IOException {
        Optional<InputStream> found = Optional.ofNullable(DemoCars.class.getResourceAsStream(HOME + file));
        if (found.isEmpty()) {
            throw new IllegalStateException("the demo " + file + " is missing from the program. Please report this.");
        }
        try (InputStream in = found.get()) {
            return new String(in.readAllBytes(), StandardCharsets.UTF_8);
        }
    }
}
