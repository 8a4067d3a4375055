package daylight.car;

import daylight.car.YamlNode.Place;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.CharsetDecoder;
import java.nio.charset.CodingErrorAction;
import java.nio.charset.StandardCharsets;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import org.snakeyaml.engine.v2.api.LoadSettings;
import org.snakeyaml.engine.v2.api.lowlevel.Parse;
import org.snakeyaml.engine.v2.common.FlowStyle;
import org.snakeyaml.engine.v2.events.AliasEvent;
import org.snakeyaml.engine.v2.events.CollectionEndEvent;
import org.snakeyaml.engine.v2.events.CollectionStartEvent;
import org.snakeyaml.engine.v2.events.DocumentStartEvent;
import org.snakeyaml.engine.v2.events.Event;
import org.snakeyaml.engine.v2.events.MappingStartEvent;
import org.snakeyaml.engine.v2.events.NodeEvent;
import org.snakeyaml.engine.v2.events.ScalarEvent;
import org.snakeyaml.engine.v2.exceptions.Mark;
import org.snakeyaml.engine.v2.exceptions.MarkedYamlEngineException;
import org.snakeyaml.engine.v2.exceptions.ReaderException;
import org.snakeyaml.engine.v2.exceptions.YamlEngineException;

/**
 * The text of a YAML file turned into nodes that know where they stand. The only class that knows the YAML library.
 *
 * <p>Only the plain part of YAML is read: one document of keys, lists and values. Anchors, aliases and tags are
 * refused, since a value that stands somewhere else cannot be changed where it is read.
 */
final class YamlText {
    /** Far more than any car; a larger file is a wrong file. In chars. */
    static final int LONGEST_FILE = 8_000_000;

    private static final int DEEPEST = 40;
    private static final char BYTE_ORDER_MARK = '\ufeff';

    private final Reading in;
    private final String text;
    private final int[] lineStarts;
    /** Offset of each code point, or empty where every code point is one char. */
    private final int[] offsets;

    private YamlText(Reading in, String text) {
        this.in = in;
        this.text = text;
        this.lineStarts = lineStarts(text);
        this.offsets = text.codePointCount(0, text.length()) == text.length() ? new int[0] : offsets(text);
    }

    /** Turns bytes into text; complains and gives nothing if they are not UTF-8. A byte order mark is kept. */
    static Optional<String> decode(Reading in, byte[] bytes) {
        CharsetDecoder decoder = StandardCharsets.UTF_8
                .newDecoder()
                .onMalformedInput(CodingErrorAction.REPORT)
                .onUnmappableCharacter(CodingErrorAction.REPORT);
        try {
            return Optional.of(decoder.decode(ByteBuffer.wrap(bytes)).toString());
        } catch (CharacterCodingException e) {
            return complainAboutBytes(in, bytes);
        }
    }

    private static Optional<String> complainAboutBytes(Reading in, byte[] bytes) {
        // The replacement sign marks the first bad byte; what stands before it is good and can be counted.
        String readable = new String(bytes, StandardCharsets.UTF_8);
        boolean sixteenBits = bytes.length >= 2
                && ((bytes[0] == (byte) 0xff && bytes[1] == (byte) 0xfe)
                        || (bytes[0] == (byte) 0xfe && bytes[1] == (byte) 0xff));
        int bad = Math.max(0, readable.indexOf('\ufffd'));
        Place place = new YamlText(in, readable).place(bad, bad);
        in.complain(
                Complaint.Kind.ENCODING,
                place,
                sixteenBits ? "the file is text in UTF-16" : "this character is not UTF-8",
                "A car file is plain text in UTF-8.",
                "Save it as UTF-8 in the editor, or write the sign in plain letters.");
        return Optional.empty();
    }

    /** Reads a text; complains and gives nothing if it is not one group of keys. */
    static Optional<YamlNode.Mapping> read(Reading in, String text) {
        if (text.length() > LONGEST_FILE) {
            in.complain(
                    Complaint.Kind.FILE,
                    new Place(1, 1, 0, 0),
                    "the file is " + text.length() + " characters long",
                    "A file of up to " + LONGEST_FILE + " is read.",
                    "Check that it is the right file.");
            return Optional.empty();
        }
        return new YamlText(in, text).read();
    }

    private Optional<YamlNode.Mapping> read() {
        LoadSettings settings = LoadSettings.builder()
                .setLabel(in.file())
                .setCodePointLimit(LONGEST_FILE)
                .setParseComments(false)
                .build();
        boolean marked = !text.isEmpty() && text.charAt(0) == BYTE_ORDER_MARK;
        Optional<YamlNode> root;
        try {
            root = build(new Parse(settings).parseString(marked ? text.substring(1) : text), marked ? 1 : 0);
        } catch (MarkedYamlEngineException e) {
            complain(e, marked ? 1 : 0);
            return Optional.empty();
        } catch (ReaderException e) {
            int at = offset(e.getPosition() + (marked ? 1 : 0));
            in.complain(
                    Complaint.Kind.NOT_YAML,
                    place(at, at),
                    "there is an invisible control character here",
                    "",
                    "Delete it and type the text again.");
            return Optional.empty();
        } catch (YamlEngineException e) {
            in.complain(
                    Complaint.Kind.NOT_YAML,
                    place(0, 0),
                    "this is not YAML (" + firstLine(Objects.requireNonNullElse(e.getMessage(), "no reason given"))
                            + ")",
                    "",
                    "Compare it with the demo car.");
            return Optional.empty();
        }
        if (root.isEmpty()) {
            return Optional.empty();
        }
        if (root.get() instanceof YamlNode.Mapping mapping) {
            return Optional.of(mapping);
        }
        boolean nothing = root.get() instanceof YamlNode.Scalar scalar && scalar.isNothing();
        in.complain(
                nothing ? Complaint.Kind.EMPTY : Complaint.Kind.WRONG_KIND,
                root.get().place(),
                nothing
                        ? "the file is empty"
                        : "the file begins with " + shortened(root.get().kind()),
                "A file is a group of keys, each with a colon and a value.",
                "Begin with the line daylight: 1.");
        return Optional.empty();
    }

    private static final class Open {
        final CollectionStartEvent start;
        final List<YamlNode> items = new ArrayList<>();

        Open(CollectionStartEvent start) {
            this.start = start;
        }
    }

    private Optional<YamlNode> build(Iterable<Event> events, int shift) {
        Deque<Open> open = new ArrayDeque<>();
        Optional<YamlNode> root = Optional.empty();
        int documents = 0;
        for (Event event : events) {
            if (event instanceof DocumentStartEvent && ++documents > 1) {
                return fancy(place(event, shift), "a second document begins here (---)", "Keep one car in a file.");
            }
            if (event instanceof NodeEvent node
                    && (node instanceof AliasEvent || node.getAnchor().isPresent())) {
                return fancy(
                        place(event, shift),
                        event instanceof AliasEvent ? "this points at an anchor (*)" : "this is an anchor (&)",
                        "Write the value out, put quotes around a text that begins with & or *, or use mirror.");
            }
            if (event instanceof ScalarEvent scalar) {
                if (scalar.getTag().isPresent()) {
                    return tag(place(event, shift));
                }
                YamlNode node = new YamlNode.Scalar(place(event, shift), scalar.getValue(), scalar.isPlain());
                root = add(open, node, root);
            } else if (event instanceof CollectionStartEvent start) {
                if (start.getTag().isPresent()) {
                    return tag(place(event, shift));
                }
                if (open.size() >= DEEPEST) {
                    return fancy(
                            place(event, shift),
                            "this is nested more than " + DEEPEST + " deep",
                            "Close the brackets that are open.");
                }
                open.push(new Open(start));
            } else if (event instanceof CollectionEndEvent) {
                Open done = open.pop();
                int end = offset(event.getEndMark().map(Mark::getIndex).orElse(0)) + shift;
                boolean flow = done.start.getFlowStyle() == FlowStyle.FLOW;
                Place start = place(done.start, shift);
                Place whole = new Place(start.line(), start.column(), start.start(), flow ? end : lastEnd(done, start));
                if (done.start instanceof MappingStartEvent) {
                    List<YamlNode.Entry> entries = new ArrayList<>();
                    for (int i = 0; i + 1 < done.items.size(); i += 2) {
                        if (!(done.items.get(i) instanceof YamlNode.Scalar key)) {
                            return fancy(
                                    done.items.get(i).place(),
                                    done.items.get(i).kind() + " stands where a key belongs",
                                    "Write a name, a colon and a space before it.");
                        }
                        entries.add(new YamlNode.Entry(key, done.items.get(i + 1)));
                    }
                    root = add(open, new YamlNode.Mapping(whole, entries, flow), root);
                } else {
                    root = add(open, new YamlNode.Sequence(whole, done.items, flow), root);
                }
            }
        }
        return root.isPresent() ? root : Optional.of(new YamlNode.Scalar(place(0, 0), "", true));
    }

    private static int lastEnd(Open done, Place start) {
        return done.items.isEmpty()
                ? start.end()
                : done.items.get(done.items.size() - 1).place().end();
    }

    private static Optional<YamlNode> add(Deque<Open> open, YamlNode node, Optional<YamlNode> root) {
        Open parent = open.peek();
        if (parent == null) {
            return Optional.of(node);
        }
        parent.items.add(node);
        return root;
    }

    private Optional<YamlNode> tag(Place place) {
        return fancy(place, "this is a YAML tag (!)", "Put quotes around a text that begins with an exclamation mark.");
    }

    private Optional<YamlNode> fancy(Place place, String found, String advice) {
        in.complain(Complaint.Kind.FANCY_YAML, place, found, "Files are read as plain keys, lists and values.", advice);
        return Optional.empty();
    }

    private Place place(Event event, int shift) {
        int start = offset(event.getStartMark().map(Mark::getIndex).orElse(0) + shift);
        int end = offset(event.getEndMark().map(Mark::getIndex).orElse(0) + shift);
        return place(start, end);
    }

    private void complain(MarkedYamlEngineException e, int shift) {
        Optional<Mark> mark = e.getProblemMark().or(e::getContextMark);
        int at = offset(mark.map(Mark::getIndex).orElse(0) + shift);
        // At the end of the file the place that was left open says more than the end.
        String problem = e.getProblem() == null ? "" : e.getProblem();
        if (at >= text.length() && e.getContextMark().isPresent()) {
            at = offset(e.getContextMark().get().getIndex() + shift);
        }
        String line = line(at);
        int tab = line.indexOf('\t');
        if (tab >= 0 && line.substring(0, tab).isBlank()) {
            Place place = place(at, at);
            int start = lineStarts[place.line() - 1] + tab;
            in.complain(
                    Complaint.Kind.NOT_YAML,
                    place(start, start),
                    "there is a tab before the text",
                    "Lines are set in with spaces.",
                    "Replace the tab with spaces.");
            return;
        }
        String opened = e.getContextMark()
                .map(context -> place(offset(context.getIndex() + shift), 0).line())
                .map(opening -> " (opened in line " + opening + ")")
                .orElse("");
        in.complain(Complaint.Kind.NOT_YAML, place(at, at), found(problem, opened, e), "", advice(problem, line));
    }

    private static String found(String problem, String opened, MarkedYamlEngineException e) {
        String plain = firstLine(problem.isEmpty() ? Objects.requireNonNullElse(e.getMessage(), "") : problem)
                .strip();
        if (plain.contains("mapping values are not allowed")) {
            return "a second colon stands in one line";
        }
        if (plain.contains("expected ',' or ']'")) {
            return "a list" + opened + " is not closed before this";
        }
        if (plain.contains("expected ',' or '}'")) {
            return "a group in braces" + opened + " is not closed before this";
        }
        if (plain.contains("unexpected end of stream")) {
            return "a quotation mark is opened here and never closed";
        }
        if (plain.contains("could not find expected ':'")) {
            return "a colon is missing";
        }
        if (plain.contains("cannot start any token")) {
            return "a value cannot begin with this sign";
        }
        if (plain.contains("expected <block end>")) {
            return "this does not fit what is before it";
        }
        return "this is not YAML (" + plain.replaceAll("[.]+$", "") + ")";
    }

    private static String advice(String problem, String line) {
        if (problem.contains("mapping values are not allowed")) {
            return "Put quotes around a text that has a colon in it, or set the line in as its neighbours are.";
        }
        if (problem.contains("expected ',' or ']'") || problem.contains("expected ',' or '}'")) {
            if (line.indexOf('"') >= 0) {
                return "Write inches as 2 3/8 in, or put single quotes around the whole length.";
            }
            return "Put a comma between the values and close the bracket that was opened.";
        }
        if (problem.contains("could not find expected ':'") || problem.contains("expected <block end>")) {
            boolean inches = line.indexOf('"') >= 0 || line.indexOf('\'') >= 0;
            return inches
                    ? "A value that begins with a quotation mark ends with its partner: write inches as 2 3/8 in, or put"
                            + " the whole length in quotes."
                    : "Write each line as a name, a colon, a space and a value, set in as its neighbours are.";
        }
        if (problem.contains("unexpected end of stream")) {
            return "Close it, or write inches as 2 3/8 in and feet as 1 ft.";
        }
        if (problem.contains("cannot start any token")) {
            return "Put quotes around the value.";
        }
        return "Write each line as a name, a colon, a space and a value, set in as its neighbours are.";
    }

    private static String firstLine(String message) {
        int end = message.indexOf('\n');
        return end < 0 ? message : message.substring(0, end);
    }

    static String shortened(String text) {
        return text.length() <= 60 ? text : text.substring(0, text.offsetByCodePoints(0, 50)) + "...\"";
    }

    private String line(int offset) {
        int line = place(offset, offset).line();
        int end = line < lineStarts.length ? lineStarts[line] : text.length();
        return text.substring(lineStarts[line - 1], end);
    }

    private Place place(int start, int end) {
        int low = 0;
        int high = lineStarts.length - 1;
        while (low < high) {
            int middle = (low + high + 1) >>> 1;
            if (lineStarts[middle] <= start) {
                low = middle;
            } else {
                high = middle - 1;
            }
        }
        int from = lineStarts[low];
        if (from < start && text.charAt(from) == BYTE_ORDER_MARK) {
            from++;
        }
        return new Place(low + 1, text.codePointCount(from, Math.max(from, start)) + 1, start, end);
    }

    private int offset(int codePoint) {
        return offsets.length == 0
                ? Math.min(codePoint, text.length())
                : offsets[Math.min(codePoint, offsets.length - 1)];
    }

    private static int[] offsets(String text) {
        int count = text.codePointCount(0, text.length());
        int[] offsets = new int[count + 1];
        int offset = 0;
        for (int i = 0; i <= count; i++) {
            offsets[i] = offset;
            offset += offset < text.length() && Character.isHighSurrogate(text.charAt(offset)) ? 2 : 1;
        }
        return offsets;
    }

    private static int[] lineStarts(String text) {
        List<Integer> starts = new ArrayList<>();
        starts.add(0);
        for (int i = 0; i < text.length(); i++) {
            char c = text.charAt(i);
            if (c == '\n' || (c == '\r' && (i + 1 == text.length() || text.charAt(i + 1) != '\n'))) {
                starts.add(i + 1);
            }
        }
        return starts.stream().mapToInt(Integer::intValue).toArray();
    }
}
