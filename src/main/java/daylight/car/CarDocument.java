package daylight.car;

import daylight.geometry.Spot;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;

/**
 * The text of a car file, for changing: comments, order, line endings and the writer's own spelling stay. A value;
 * each change gives a new one that differs from the old only in the characters of what was changed.
 *
 * <p>A path names what is changed: keys from the top, and numbers from 0 in lists, as
 * {@code List.of("points", "lf lower ball joint", "at", "0")}.
 */
public final class CarDocument {
    private final String name;
    private final String text;
    private final Optional<Path> file;

    CarDocument(String name, String text, Optional<Path> file) {
        this.name = name;
        this.text = text;
        this.file = file;
    }

    /** Makes a document of a text that has no file yet. */
    public static CarDocument of(String name, String text) {
        return new CarDocument(name, text, Optional.empty());
    }

    /** Returns the whole text, as it will be saved. */
    public String toText() {
        return text;
    }

    /** Returns the file from which it came, if it came from one. */
    public Optional<Path> file() {
        return file;
    }

    /** Returns what complaints call the file. */
    public String name() {
        return name;
    }

    /**
     * Returns the car.
     *
     * @throws CarFileException with every complaint in file order
     */
    public Car car() throws CarFileException {
        return CarFile.read(name, text, file, Map.of());
    }

    /**
     * Returns the car as it is when some of its points lie elsewhere: mechanisms and parts follow.
     *
     * @param moved places by the names of measured points, mm in the car frame; other names are ignored
     * @throws CarFileException with every complaint in file order
     */
    public Car carWith(Map<String, Spot> moved) throws CarFileException {
        return CarFile.read(name, text, file, moved);
    }

    /** Returns what is written at a path, in the writer's own spelling without quotes, if it is one value. */
    public Optional<String> value(List<String> path) {
        return root().flatMap(root -> find(root, path))
                .flatMap(
                        node -> node instanceof YamlNode.Scalar scalar ? Optional.of(scalar.text()) : Optional.empty());
    }

    /**
     * Returns the document with another value at a path. The value is written plainly where YAML allows it, else in
     * quotes.
     *
     * @throws IllegalArgumentException if nothing is at the path, or something that is not one value
     */
    public CarDocument withValue(List<String> path, String value) {
        YamlNode node = root().flatMap(root -> find(root, path))
                .orElseThrow(() -> new IllegalArgumentException("nothing is at " + path + " in " + name));
        if (!(node instanceof YamlNode.Scalar)) {
            throw new IllegalArgumentException("at " + path + " is " + node.kind() + ", not one value");
        }
        for (String spelling : spellings(value)) {
            String space = node.place().start() == node.place().end()
                            && node.place().start() > 0
                            && text.charAt(node.place().start() - 1) == ':'
                    ? " "
                    : "";
            CarDocument changed = new CarDocument(
                    name,
                    text.substring(0, node.place().start())
                            + space
                            + spelling
                            + text.substring(node.place().end()),
                    file);
            if (changed.differsOnlyAt(this, path, value)) {
                return changed;
            }
        }
        throw new IllegalStateException("no spelling of \"" + value + "\" fits at " + path + ". Please report this.");
    }

    /** Returns the ways in which a value can be spelt in YAML, the plainest first. */
    private static List<String> spellings(String value) {
        List<String> spellings = new ArrayList<>();
        boolean oneLine =
                value.codePoints().noneMatch(c -> c < ' ' || c == 0x7f || c == 0x85 || c == 0x2028 || c == 0x2029);
        if (oneLine) {
            spellings.add(value);
            spellings.add("'" + value.replace("'", "''") + "'");
        }
        StringBuilder quoted = new StringBuilder("\"");
        value.codePoints().forEach(c -> {
            if (c == '"' || c == '\\') {
                quoted.append('\\').appendCodePoint(c);
            } else if (c < ' ' || c == 0x7f || (c >= 0x80 && c < 0xa0) || c == 0x2028 || c == 0x2029 || c == 0xfeff) {
                quoted.append(String.format(Locale.ROOT, "\\u%04x", c));
            } else {
                quoted.appendCodePoint(c);
            }
        });
        spellings.add(quoted.append('"').toString());
        return spellings;
    }

    /** Whether the nodes are those of another document except for one value. */
    private boolean differsOnlyAt(CarDocument other, List<String> path, String value) {
        Optional<YamlNode.Mapping> mine = root();
        Optional<YamlNode.Mapping> theirs = other.root();
        return mine.isPresent() && theirs.isPresent() && same(mine.get(), theirs.get(), path, 0, value);
    }

    private static boolean same(YamlNode mine, YamlNode theirs, List<String> path, int depth, String value) {
        boolean onPath = depth >= 0;
        if (onPath && depth == path.size()) {
            return mine instanceof YamlNode.Scalar scalar && scalar.text().equals(value);
        }
        if (mine instanceof YamlNode.Mapping a && theirs instanceof YamlNode.Mapping b) {
            if (a.entries().size() != b.entries().size()) {
                return false;
            }
            boolean met = false;
            for (int i = 0; i < a.entries().size(); i++) {
                String key = a.entries().get(i).key().text();
                boolean here = onPath && !met && key.equals(path.get(depth));
                met |= here;
                if (!key.equals(b.entries().get(i).key().text())
                        || !same(
                                a.entries().get(i).value(),
                                b.entries().get(i).value(),
                                path,
                                here ? depth + 1 : -1,
                                value)) {
                    return false;
                }
            }
            return true;
        }
        if (mine instanceof YamlNode.Sequence a && theirs instanceof YamlNode.Sequence b) {
            if (a.items().size() != b.items().size()) {
                return false;
            }
            for (int i = 0; i < a.items().size(); i++) {
                boolean here = onPath && Integer.toString(i).equals(path.get(depth));
                if (!same(a.items().get(i), b.items().get(i), path, here ? depth + 1 : -1, value)) {
                    return false;
                }
            }
            return true;
        }
        return mine instanceof YamlNode.Scalar a
                && theirs instanceof YamlNode.Scalar b
                && a.text().equals(b.text())
                && a.plain() == b.plain();
    }

    private Optional<YamlNode.Mapping> root() {
        return YamlText.read(new Reading(name), text);
    }

    private static Optional<YamlNode> find(YamlNode node, List<String> path) {
        if (path.isEmpty()) {
            return Optional.of(node);
        }
        List<String> rest = path.subList(1, path.size());
        if (node instanceof YamlNode.Mapping mapping) {
            return mapping.get(path.get(0)).flatMap(child -> find(child, rest));
        }
        if (node instanceof YamlNode.Sequence sequence && path.get(0).matches("\\d{1,9}")) {
            int index = Integer.parseInt(path.get(0));
            return index < sequence.items().size() ? find(sequence.items().get(index), rest) : Optional.empty();
        }
        return Optional.empty();
    }
}
