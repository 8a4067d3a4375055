package daylight.car;

import daylight.geometry.Spot;
import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;

/**
 * The text of a car file, for changing: comments, order, line endings and the writer's own spelling stay. A value;
 * each change gives a new one that differs from the old only in the characters of what was changed.
 *
 * <p>A path names what is changed: keys from the top, and numbers from 0 in lists, as
 * {@code List.of("points", "lf lower ball joint", "at", "0")}. Where a key is there twice the first is meant.
 *
 * <p>Every change is proved before it is given back: the new text is read again, and it must say what the old one
 * said, with that one difference.
 */
public final class CarDocument {
    private final String name;
    private final String text;
    private final Optional<Path> file;
    /** The text's tree once it was asked for; the text never changes, so whichever thread reads it reads the same. */
    private volatile Optional<Optional<YamlNode.Mapping>> root = Optional.empty();

    CarDocument(String name, String text, Optional<Path> file) {
        this.name = name;
        this.text = text;
        this.file = file;
    }

    /** Makes a document of a text that has no file yet. */
    public static CarDocument of(String name, String text) {
        return new CarDocument(name, text, Optional.empty());
    }

    /** Makes a document of a text that belongs in a file, whatever the file holds now. */
    public static CarDocument at(Path file, String text) {
        Path absolute = file.toAbsolutePath().normalize();
        return new CarDocument(CarFile.name(absolute), text, Optional.of(absolute));
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

    /**
     * Returns whether the file has readings, or points that only readings place: then its car is not what {@link #car}
     * gives, but what a survey makes of it.
     */
    public boolean hasReadings() {
        return root().map(root -> root.get("tape").isPresent()
                        || (root.get("points").orElse(root) instanceof YamlNode.Mapping points
                                && points.entries().stream().anyMatch(entry -> CarReader.isByTape(entry.value()))))
                .orElse(false);
    }

    /**
     * Returns what was measured on the car: its points as far as they are written, and its readings.
     *
     * @throws CarFileException with every complaint of the whole file, in file order
     */
    public MeasuringSheet sheet() throws CarFileException {
        Reading in = new Reading(name);
        Optional<YamlNode.Mapping> root = YamlText.read(in, text);
        Optional<MeasuringSheet> sheet =
                root.flatMap(top -> new CarReader(in, MeshSource.NONE, file.map(Path::getParent), Map.of()).sheet(top));
        if (sheet.isEmpty()) {
            // The whole file is read, so that the builder sees all of its mistakes at once.
            car();
            throw new CarFileException(in.complaints());
        }
        return sheet.get();
    }

    /** Returns an engine for reading this file many times with its points in different places. */
    public CarVariants variants() {
        return new CarVariants(name, text, file);
    }

    /** Returns what is written at a path, in the writer's own spelling without quotes, if it is one value. */
    public Optional<String> value(List<String> path) {
        return root().flatMap(root -> find(root, path))
                .flatMap(
                        node -> node instanceof YamlNode.Scalar scalar ? Optional.of(scalar.text()) : Optional.empty());
    }

    /** Returns the keys of the group at a path, in file order; none where no group is. */
    public List<String> keys(List<String> path) {
        return root().flatMap(root -> find(root, path))
                .map(node -> node instanceof YamlNode.Mapping mapping
                        ? mapping.entries().stream()
                                .map(entry -> entry.key().text())
                                .toList()
                        : List.<String>of())
                .orElse(List.of());
    }

    /** Returns how many items the list at a path has; zero where no list is. */
    public int count(List<String> path) {
        return root().flatMap(root -> find(root, path))
                .map(node -> node instanceof YamlNode.Sequence sequence
                        ? sequence.items().size()
                        : 0)
                .orElse(0);
    }

    /** Returns the text of what is at a path as it is written, over several lines where it is. */
    public Optional<String> written(List<String> path) {
        return root().flatMap(root -> find(root, path))
                .map(node -> text.substring(node.place().start(), node.place().end()));
    }

    /**
     * Returns the path of what stands at a place of the text, as a complaint names it: the innermost key or item there.
     *
     * @param line first is 1
     * @param column first is 1, counted in characters
     */
    public List<String> pathAt(int line, int column) {
        int start = 0;
        for (int l = 1; l < line && start < text.length(); l++) {
            start = nextLine(start + 1);
        }
        int offset = text.offsetByCodePoints(start, Math.min(column - 1, text.codePointCount(start, text.length())));
        List<String> path = new ArrayList<>();
        root().ifPresent(root -> descend(root, offset, path));
        return path;
    }

    private static void descend(YamlNode node, int offset, List<String> path) {
        if (node instanceof YamlNode.Mapping mapping) {
            for (YamlNode.Entry entry : mapping.entries()) {
                if (offset >= entry.key().place().start()
                        && offset <= entry.value().place().end()) {
                    path.add(entry.key().text());
                    descend(entry.value(), offset, path);
                    return;
                }
            }
        } else if (node instanceof YamlNode.Sequence sequence) {
            for (int i = 0; i < sequence.items().size(); i++) {
                YamlNode item = sequence.items().get(i);
                if (offset >= item.place().start() && offset <= item.place().end()) {
                    path.add(Integer.toString(i));
                    descend(item, offset, path);
                    return;
                }
            }
        }
    }

    /** Returns whether something is at a path. */
    public boolean has(List<String> path) {
        return root().flatMap(root -> find(root, path)).isPresent();
    }

    /**
     * Returns the document with another value at a path. The value is written plainly where YAML allows it, else in
     * quotes.
     *
     * @throws IllegalArgumentException if nothing is at the path, or something that is not one value
     */
    public CarDocument withValue(List<String> path, String value) {
        YamlNode node = at(path);
        if (!(node instanceof YamlNode.Scalar)) {
            throw new IllegalArgumentException("at " + path + " is " + node.kind() + ", not one value");
        }
        int start = node.place().start();
        int end = node.place().end();
        // "note:" with nothing after it needs a space before its first value.
        String space = start == end && start > 0 && text.charAt(start - 1) == ':' ? " " : "";
        Tree expected = Tree.of(root().orElseThrow()).with(path, new Tree.One(value));
        for (String spelling : spellings(value)) {
            Optional<CarDocument> changed = spliced(start, end, space + spelling, expected);
            if (changed.isPresent()) {
                return changed.get();
            }
        }
        throw new IllegalStateException("no spelling of \"" + value + "\" fits at " + path + ". Please report this.");
    }

    /**
     * Returns the document with another piece of YAML at a path, a list or a group in brackets or braces for example.
     *
     * @param yaml in one line
     * @throws IllegalArgumentException if nothing is at the path, or the text is no YAML that fits there
     */
    public CarDocument withYaml(List<String> path, String yaml) {
        YamlNode node = at(path);
        Tree expected = Tree.of(root().orElseThrow()).with(path, parsed(yaml));
        int start = node.place().start();
        int end = node.place().end();
        String space = start == end && start > 0 && text.charAt(start - 1) == ':' ? " " : "";
        return spliced(start, end, space + yaml, expected)
                .orElseThrow(() -> new IllegalArgumentException("this does not fit at " + path + ": " + yaml));
    }

    /**
     * Returns the document with one more key in the group at a path, after the last one there. A group that is not
     * there yet is begun at the end of the one around it.
     *
     * @param path the group; empty for the top of the file
     * @param yaml the value in one line, such as {@code [1, 2, 3]} or {@code {on: chassis, ball: {...}}}
     * @throws IllegalArgumentException if the key is there already, or if the text is no YAML that fits
     */
    public CarDocument withEntry(List<String> path, String key, String yaml) {
        YamlNode.Mapping root = root().orElseThrow(() -> new IllegalArgumentException(name + " is not YAML"));
        Optional<YamlNode> there = find(root, path);
        boolean nothing = there.isEmpty() || (there.get() instanceof YamlNode.Scalar scalar && scalar.isNothing());
        if (nothing && !path.isEmpty()) {
            String inside = "{" + spelledKey(key) + ": " + yaml + "}";
            return there.isPresent()
                    ? withYaml(path, inside)
                    : withEntry(path.subList(0, path.size() - 1), path.get(path.size() - 1), inside);
        }
        if (!(there.orElse(root) instanceof YamlNode.Mapping mapping)) {
            throw new IllegalArgumentException("at " + path + " are no keys");
        }
        if (mapping.get(key).isPresent()) {
            throw new IllegalArgumentException("\"" + key + "\" is at " + path + " already");
        }
        Tree expected = Tree.of(root).added(path, key, parsed(yaml));
        return inserted(mapping, spelledKey(key) + ": " + yaml, "", expected)
                .orElseThrow(() -> new IllegalArgumentException("this does not fit at " + path + ": " + yaml));
    }

    /**
     * Returns the document with one more item in the list at a path, after the last one there.
     *
     * @param yaml the item in one line
     * @throws IllegalArgumentException if no list is there, or if the text is no YAML that fits
     */
    public CarDocument withItem(List<String> path, String yaml) {
        YamlNode node = at(path);
        if (!(node instanceof YamlNode.Sequence)) {
            throw new IllegalArgumentException("at " + path + " is no list");
        }
        Tree expected = Tree.of(root().orElseThrow()).added(path, "", parsed(yaml));
        return inserted(node, yaml, "- ", expected)
                .orElseThrow(() -> new IllegalArgumentException("this does not fit at " + path + ": " + yaml));
    }

    /**
     * Returns the document without the key or item at a path. A comment on its own line stays.
     *
     * @throws IllegalArgumentException if nothing is there, or if it is the only thing in a group of lines (take the
     *     group away instead)
     */
    public CarDocument without(List<String> path) {
        if (path.isEmpty()) {
            throw new IllegalArgumentException("the whole file cannot be taken away");
        }
        YamlNode.Mapping root = root().orElseThrow(() -> new IllegalArgumentException(name + " is not YAML"));
        List<String> parentPath = path.subList(0, path.size() - 1);
        String last = path.get(path.size() - 1);
        YamlNode parent = at(parentPath);
        YamlNode node = at(path);
        Tree expected = Tree.of(root).without(path);
        int start = node.place().start();
        boolean flow = false;
        if (parent instanceof YamlNode.Mapping mapping) {
            flow = mapping.flow();
            start = mapping.entries().stream()
                    .filter(entry -> entry.key().text().equals(last))
                    .findFirst()
                    .map(entry -> entry.key().place().start())
                    .orElse(start);
        } else if (parent instanceof YamlNode.Sequence sequence) {
            flow = sequence.flow();
        }
        int end = node.place().end();
        if (flow) {
            int after = skip(end, ",");
            int before = text.lastIndexOf(',', start - 1);
            int opening = parent.place().start();
            Optional<CarDocument> changed = after > end
                    ? spliced(start, skip(after, ""), "", expected)
                    : before > opening ? spliced(before, end, "", expected) : spliced(start, end, "", expected);
            return changed.orElseThrow(() -> new IllegalArgumentException(path + " cannot be taken away"));
        }
        return spliced(lineStart(start), nextLine(end), "", expected)
                .orElseThrow(() -> new IllegalArgumentException(
                        path + " cannot be taken away by itself: take away what is around it"));
    }

    /**
     * Returns the document with these points: those that it has get the new place, the others are added at the end
     * of the points. What is written about a point besides its place stays.
     *
     * @param points places in mm
     * @param unit the unit of the file's bare numbers
     * @throws IllegalArgumentException if the text is not YAML
     */
    public CarDocument withPoints(List<Car.Point> points, Unit unit) {
        CarDocument document = this;
        LengthFormat exact = LengthFormat.exact(unit);
        for (Car.Point point : points) {
            String place = "[" + exact.bare(point.at().x()) + ", "
                    + exact.bare(point.at().y()) + ", " + exact.bare(point.at().z()) + "]";
            List<String> path = List.of("points", point.name());
            List<String> at = List.of("points", point.name(), "at");
            if (document.has(at)) {
                document = document.withYaml(at, place);
            } else if (document.has(path)) {
                document = document.withYaml(path, place);
            } else {
                String note =
                        point.note().map(words -> ", note: " + quoted(words)).orElse("");
                document = document.withEntry(
                        List.of("points"),
                        point.name(),
                        "{at: " + place + ", within: " + exact.bare(point.withinMm()) + note + "}");
            }
        }
        return document;
    }

    private YamlNode at(List<String> path) {
        return root().flatMap(root -> find(root, path))
                .orElseThrow(() -> new IllegalArgumentException("nothing is at " + path + " in " + name));
    }

    private Optional<CarDocument> inserted(YamlNode group, String piece, String dash, Tree expected) {
        List<? extends YamlNode> values = group instanceof YamlNode.Mapping mapping
                ? mapping.entries().stream().map(YamlNode.Entry::value).toList()
                : ((YamlNode.Sequence) group).items();
        boolean flow = group instanceof YamlNode.Mapping mapping ? mapping.flow() : ((YamlNode.Sequence) group).flow();
        if (flow) {
            int close = group.place().end() - 1;
            if (values.isEmpty()) {
                return spliced(close, close, piece, expected);
            }
            int after = values.get(values.size() - 1).place().end();
            boolean comma = skip(after, ",") > after;
            int at = comma ? skip(after, ",") : after;
            return spliced(at, at, (comma ? " " : ", ") + piece, expected);
        }
        int end = values.get(values.size() - 1).place().end();
        int at = nextLine(end);
        String lineBreak = text.contains("\r\n") ? "\r\n" : "\n";
        boolean open = at == text.length() && (at == 0 || text.charAt(at - 1) != '\n');
        int first = group.place().start();
        String indent = text.substring(lineStart(first), first).replaceAll("[^ ]", " ");
        return spliced(at, at, (open ? lineBreak : "") + indent + dash + piece + lineBreak, expected);
    }

    private Optional<CarDocument> spliced(int start, int end, String piece, Tree expected) {
        CarDocument changed = new CarDocument(name, text.substring(0, start) + piece + text.substring(end), file);
        Optional<YamlNode.Mapping> read = changed.root();
        return read.isPresent() && Tree.of(read.get()).equals(expected) ? Optional.of(changed) : Optional.empty();
    }

    private int lineStart(int offset) {
        return text.lastIndexOf('\n', offset - 1) + 1;
    }

    /** Returns where the line after that of the last char before an offset begins. */
    private int nextLine(int offset) {
        if (offset > 0 && text.charAt(offset - 1) == '\n') {
            return offset;
        }
        int end = text.indexOf('\n', offset);
        return end < 0 ? text.length() : end + 1;
    }

    /** Steps over spaces, and over one mark if it comes next; stays where the mark is not there. */
    private int skip(int from, String mark) {
        int at = from;
        while (at < text.length() && Character.isWhitespace(text.charAt(at))) {
            at++;
        }
        if (mark.isEmpty()) {
            return at;
        }
        return text.startsWith(mark, at) ? at + mark.length() : from;
    }

    private Tree parsed(String yaml) {
        return YamlText.read(new Reading(name), "value: " + yaml + "\n")
                .flatMap(mapping -> mapping.entries().size() == 1 ? mapping.get("value") : Optional.empty())
                .map(Tree::of)
                .orElseThrow(() -> new IllegalArgumentException("this is not YAML in one line: " + yaml));
    }

    private static String spelledKey(String key) {
        return key.matches("[\\p{L}\\p{N}][\\p{L}\\p{N} ._-]*") ? key : quoted(key);
    }

    /** Returns the ways in which a value can be spelt in YAML, the plainest first. */
    private static List<String> spellings(String value) {
        List<String> spellings = new ArrayList<>();
        if (value.codePoints().noneMatch(CarDocument::needsEscape)) {
            if (!value.isEmpty()) {
                spellings.add(value);
            }
            spellings.add("'" + value.replace("'", "''") + "'");
        }
        spellings.add(quoted(value));
        return spellings;
    }

    private static boolean needsEscape(int c) {
        return c < ' ' || (c >= 0x7f && c < 0xa0) || c == 0x2028 || c == 0x2029 || c == 0xfeff;
    }

    private static String quoted(String value) {
        StringBuilder quoted = new StringBuilder("\"");
        value.codePoints().forEach(c -> {
            if (c == '"' || c == '\\') {
                quoted.append('\\').appendCodePoint(c);
            } else if (needsEscape(c)) {
                quoted.append(String.format(Locale.ROOT, "\\u%04x", c));
            } else {
                quoted.appendCodePoint(c);
            }
        });
        return quoted.append('"').toString();
    }

    /** Read once: a trial asks for many values, and reading a large file takes milliseconds. */
    private Optional<YamlNode.Mapping> root() {
        Optional<Optional<YamlNode.Mapping>> known = root;
        if (known.isEmpty()) {
            known = Optional.of(YamlText.read(new Reading(name), text));
            root = known;
        }
        return known.get();
    }

    private static Optional<YamlNode> find(YamlNode node, List<String> path) {
        if (path.isEmpty()) {
            return Optional.of(node);
        }
        List<String> rest = path.subList(1, path.size());
        if (node instanceof YamlNode.Mapping mapping) {
            return mapping.get(path.get(0)).flatMap(child -> find(child, rest));
        }
        if (node instanceof YamlNode.Sequence sequence) {
            int index = Tree.index(path.get(0));
            return index < sequence.items().size() ? find(sequence.items().get(index), rest) : Optional.empty();
        }
        return Optional.empty();
    }

    /** What a text says, without its places and spelling: for comparing. */
    private sealed interface Tree {
        record One(String text) implements Tree {}

        record Many(List<Tree> items) implements Tree {}

        record Keys(List<Pair> pairs) implements Tree {}

        record Pair(String key, Tree value) {}

        static Tree of(YamlNode node) {
            if (node instanceof YamlNode.Mapping mapping) {
                return new Keys(mapping.entries().stream()
                        .map(entry -> new Pair(entry.key().text(), of(entry.value())))
                        .toList());
            } else if (node instanceof YamlNode.Sequence sequence) {
                return new Many(sequence.items().stream().map(Tree::of).toList());
            }
            return new One(((YamlNode.Scalar) node).text());
        }

        static int index(String step) {
            return step.matches("\\d{1,9}") ? Integer.parseInt(step) : Integer.MAX_VALUE;
        }

        default Tree with(List<String> path, Tree value) {
            return changed(path, old -> Optional.of(value));
        }

        default Tree without(List<String> path) {
            return changed(path, old -> Optional.empty());
        }

        default Tree added(List<String> path, String key, Tree value) {
            return changed(path, old -> {
                if (old instanceof Keys keys) {
                    List<Pair> pairs = new ArrayList<>(keys.pairs);
                    pairs.add(new Pair(key, value));
                    return Optional.of(new Keys(pairs));
                }
                List<Tree> items = new ArrayList<>(((Many) old).items);
                items.add(value);
                return Optional.of(new Many(items));
            });
        }

        private Tree changed(List<String> path, Function<Tree, Optional<Tree>> change) {
            if (path.isEmpty()) {
                return change.apply(this).orElse(this);
            }
            List<String> rest = path.subList(1, path.size());
            if (this instanceof Keys keys) {
                List<Pair> pairs = new ArrayList<>();
                boolean met = false;
                for (Pair pair : keys.pairs) {
                    if (met || !pair.key.equals(path.get(0))) {
                        pairs.add(pair);
                        continue;
                    }
                    met = true;
                    Optional<Tree> made =
                            rest.isEmpty() ? change.apply(pair.value) : Optional.of(pair.value.changed(rest, change));
                    made.ifPresent(value -> pairs.add(new Pair(pair.key, value)));
                }
                return new Keys(pairs);
            } else if (this instanceof Many many) {
                List<Tree> items = new ArrayList<>(many.items);
                int index = index(path.get(0));
                Optional<Tree> made = rest.isEmpty()
                        ? change.apply(items.get(index))
                        : Optional.of(items.get(index).changed(rest, change));
                if (made.isPresent()) {
                    items.set(index, made.get());
                } else {
                    items.remove(index);
                }
                return new Many(items);
            }
            return this;
        }
    }
}
