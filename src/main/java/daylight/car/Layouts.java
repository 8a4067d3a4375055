package daylight.car;

import java.io.IOException;
import java.io.InputStream;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Optional;

/** The layouts that come with the program. Each is read when it is asked for; nothing is kept. */
public final class Layouts {
    private static final String FOLDER = "/models/layouts/";

    private Layouts() {}

    /**
     * Returns the names of the layouts, in the order of their index.
     *
     * @throws IllegalStateException if the index is not in the program
     */
    public static List<String> names() {
        return resource(FOLDER + "index.txt")
                .orElseThrow(() -> new IllegalStateException(
                        "models/layouts/index.txt is missing from the program. Please report this."))
                .lines()
                .map(String::strip)
                .filter(line -> !line.isEmpty() && !line.startsWith("#"))
                .toList();
    }

    /**
     * Returns the layout of that name, if there is one.
     *
     * @throws IllegalStateException if its file, which comes with the program, is broken
     */
    public static Optional<Layout> named(String name) {
        if (!names().contains(name)) {
            return Optional.empty();
        }
        String file = FOLDER + name + ".yaml";
        String text = resource(file)
                .orElseThrow(
                        () -> new IllegalStateException(file + " is missing from the program. Please report this."));
        try {
            return Optional.of(read(name + ".yaml", text));
        } catch (CarFileException e) {
            throw new IllegalStateException(
                    "a layout of the program is broken; please report this: " + e.getMessage(), e);
        }
    }

    /** Returns the name of a layout that is spelt nearly so, if there is one. */
    public static Optional<String> nearest(String name) {
        return Spelling.nearest(name, names());
    }

    /**
     * Reads a layout from text.
     *
     * @param file the file's name, {@code NAME.yaml}, for complaints and for the check of the layout's own name
     * @throws CarFileException with every complaint, in file order
     */
    public static Layout read(String file, String text) throws CarFileException {
        return new LayoutReader(file).read(text);
    }

    /** Returns a text that comes with the program. */
    static Optional<String> resource(String path) {
        try (InputStream stream = Layouts.class.getResourceAsStream(path)) {
            return stream == null
                    ? Optional.empty()
                    : Optional.of(new String(stream.readAllBytes(), StandardCharsets.UTF_8));
        } catch (IOException e) {
            throw new IllegalStateException(path + " cannot be read from the program. Please report this.", e);
        }
    }
}
