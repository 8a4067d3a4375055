package daylight.car;

import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;

/**
 * Reads a PLY file: text or binary, either byte order, corners and faces of any number of sides; everything else in it
 * (normals, colours, edges) is passed over.
 *
 * @see "Turk, The PLY polygon file format, Stanford University 1994"
 */
final class PlyFile {
    private static final Map<String, Kind> KINDS = Map.ofEntries(
            Map.entry("char", Kind.CHAR),
            Map.entry("int8", Kind.CHAR),
            Map.entry("uchar", Kind.UCHAR),
            Map.entry("uint8", Kind.UCHAR),
            Map.entry("short", Kind.SHORT),
            Map.entry("int16", Kind.SHORT),
            Map.entry("ushort", Kind.USHORT),
            Map.entry("uint16", Kind.USHORT),
            Map.entry("int", Kind.INT),
            Map.entry("int32", Kind.INT),
            Map.entry("uint", Kind.UINT),
            Map.entry("uint32", Kind.UINT),
            Map.entry("float", Kind.FLOAT),
            Map.entry("float32", Kind.FLOAT),
            Map.entry("double", Kind.DOUBLE),
            Map.entry("float64", Kind.DOUBLE));

    private static final Set<String> CORNER_LISTS = Set.of("vertex_indices", "vertex_index");
    /** A face with more corners than this is a broken count. */
    private static final int MOST_SIDES = 10_000;

    private enum Kind {
        CHAR,
        UCHAR,
        SHORT,
        USHORT,
        INT,
        UINT,
        FLOAT,
        DOUBLE
    }

    /** One property; a list when it has a kind for its length. */
    private record Property(String name, Kind kind, boolean list, Kind length) {}

    private record Element(String name, int count, List<Property> properties) {}

    private final byte[] bytes;
    private int at;
    private int line;
    private boolean text;
    private ByteBuffer binary = ByteBuffer.allocate(0);
    private final List<Element> elements = new ArrayList<>();

    private PlyFile(byte[] bytes) {
        this.bytes = bytes;
    }

    /** Reads a file's corners and faces. */
    static void read(byte[] bytes, MeshCorners into) throws NotAMesh {
        PlyFile file = new PlyFile(bytes);
        file.header();
        for (Element element : file.elements) {
            file.element(element, into);
        }
    }

    // ---- the header -------------------------------------------------------------------------------------

    private void header() throws NotAMesh {
        if (!headerLine().strip().equals("ply")) {
            throw new NotAMesh("it does not begin with the word ply");
        }
        boolean formatSeen = false;
        while (true) {
            if (at >= bytes.length) {
                throw new NotAMesh("its header has no end_header");
            }
            String[] words = headerLine().strip().split("\\s+", -1);
            switch (words[0]) {
                case "", "comment", "obj_info" -> {}
                case "format" -> {
                    format(words);
                    formatSeen = true;
                }
                case "element" -> element(words);
                case "property" -> property(words);
                case "end_header" -> {
                    if (!formatSeen) {
                        throw new NotAMesh("its header names no format");
                    }
                    binary = ByteBuffer.wrap(bytes).order(binary.order());
                    return;
                }
                default -> throw wrong("\"" + shown(words[0]) + "\" is no word of a PLY header");
            }
        }
    }

    private String headerLine() {
        line++;
        int from = at;
        while (at < bytes.length && bytes[at] != '\n' && bytes[at] != '\r') {
            at++;
        }
        String result = new String(bytes, from, at - from, StandardCharsets.UTF_8);
        if (at < bytes.length) {
            at += bytes[at] == '\r' && at + 1 < bytes.length && bytes[at + 1] == '\n' ? 2 : 1;
        }
        return result;
    }

    private void format(String[] words) throws NotAMesh {
        String kind = words.length > 1 ? words[1] : "";
        switch (kind) {
            case "ascii" -> text = true;
            case "binary_little_endian" -> binary.order(ByteOrder.LITTLE_ENDIAN);
            case "binary_big_endian" -> binary.order(ByteOrder.BIG_ENDIAN);
            default ->
                throw wrong("the format \"" + shown(kind)
                        + "\" is none of ascii, binary_little_endian and binary_big_endian");
        }
    }

    private void element(String[] words) throws NotAMesh {
        if (words.length != 3 || !words[2].matches("\\d{1,9}")) {
            throw wrong("an element needs a name and a count");
        }
        elements.add(new Element(words[1], Integer.parseInt(words[2]), new ArrayList<>()));
    }

    private void property(String[] words) throws NotAMesh {
        if (elements.isEmpty()) {
            throw wrong("a property stands before any element");
        }
        boolean list = words.length > 1 && words[1].equals("list");
        if (words.length != (list ? 5 : 3)) {
            throw wrong("a property needs a kind and a name");
        }
        Kind kind = kind(words[list ? 3 : 1]);
        Kind length = list ? kind(words[2]) : Kind.UCHAR;
        elements.get(elements.size() - 1).properties().add(new Property(words[words.length - 1], kind, list, length));
    }

    private Kind kind(String word) throws NotAMesh {
        Kind kind = KINDS.get(word.toLowerCase(Locale.ROOT));
        if (kind == null) {
            throw wrong("\"" + shown(word) + "\" is no kind of number");
        }
        return kind;
    }

    // ---- what follows it --------------------------------------------------------------------------------

    private void element(Element element, MeshCorners into) throws NotAMesh {
        boolean corners = element.name().equals("vertex");
        boolean faces = element.name().equals("face");
        if (corners && element.properties().stream().filter(p -> place(p) >= 0).count() != 3) {
            throw new NotAMesh("its corners have no x, y and z");
        }
        double[] place = new double[3];
        List<Integer> face = new ArrayList<>();
        for (int n = 0; n < element.count(); n++) {
            String what = element.name() + " " + (n + 1) + " of " + element.count();
            for (Property property : element.properties()) {
                if (property.list()) {
                    boolean wanted = faces && CORNER_LISTS.contains(property.name());
                    int sides = whole(number(property.length(), what), 0, MOST_SIDES, what, "a list of length");
                    face.clear();
                    for (int i = 0; i < sides; i++) {
                        double value = number(property.kind(), what);
                        if (wanted) {
                            face.add(whole(value, 0, into.spots.size() - 1, what, "a face names corner"));
                        }
                    }
                    if (wanted) {
                        try {
                            into.face(face);
                        } catch (NotAMesh e) {
                            throw here(e.getMessage(), what);
                        }
                    }
                } else {
                    double value = number(property.kind(), what);
                    if (corners && place(property) >= 0) {
                        place[place(property)] = value;
                    }
                }
            }
            if (corners) {
                into.own(place[0], place[1], place[2]);
            }
        }
    }

    private static int place(Property property) {
        return property.list() ? -1 : List.of("x", "y", "z").indexOf(property.name());
    }

    private int whole(double value, int least, int most, String what, String words) throws NotAMesh {
        if (value != Math.rint(value) || value < least || value > most) {
            throw here(
                    words + " " + shown(Double.toString(value).replaceFirst("\\.0$", "")) + ", where " + least + " to "
                            + most + " is possible",
                    what);
        }
        return (int) value;
    }

    private double number(Kind kind, String what) throws NotAMesh {
        if (text) {
            return textNumber(what);
        }
        int size = switch (kind) {
            case CHAR, UCHAR -> 1;
            case SHORT, USHORT -> 2;
            case INT, UINT, FLOAT -> 4;
            case DOUBLE -> 8;
        };
        if (at + size > bytes.length) {
            throw new NotAMesh("it ends after " + bytes.length + " bytes, in " + what);
        }
        double value = switch (kind) {
            case CHAR -> binary.get(at);
            case UCHAR -> Byte.toUnsignedInt(binary.get(at));
            case SHORT -> binary.getShort(at);
            case USHORT -> Short.toUnsignedInt(binary.getShort(at));
            case INT -> binary.getInt(at);
            case UINT -> Integer.toUnsignedLong(binary.getInt(at));
            case FLOAT -> binary.getFloat(at);
            case DOUBLE -> binary.getDouble(at);
        };
        at += size;
        return value;
    }

    private double textNumber(String what) throws NotAMesh {
        while (at < bytes.length && bytes[at] <= ' ' && bytes[at] >= 0) {
            line += bytes[at] == '\n' || (bytes[at] == '\r' && !(at + 1 < bytes.length && bytes[at + 1] == '\n'))
                    ? 1
                    : 0;
            at++;
        }
        if (at >= bytes.length) {
            throw new NotAMesh("it ends in " + what);
        }
        int from = at;
        while (at < bytes.length && (bytes[at] > ' ' || bytes[at] < 0)) {
            at++;
        }
        String word = new String(bytes, from, at - from, StandardCharsets.UTF_8);
        if (!MeshFiles.NUMBER.matcher(word).matches()) {
            // The line before was counted when its end was passed.
            throw new NotAMesh("\"" + shown(word) + "\" is no number (line " + (line + 1) + ", " + what + ")");
        }
        return Double.parseDouble(word);
    }

    private NotAMesh here(String words, String what) {
        return new NotAMesh(words + " (" + (text ? "line " + (line + 1) + ", " : "") + what + ")");
    }

    private NotAMesh wrong(String words) {
        return new NotAMesh(words + " (line " + line + ")");
    }

    /** Whatever a broken file holds must not break the message. */
    private static String shown(String word) {
        String plain = word.replaceAll("[^ -~]", "?");
        return plain.length() > 40 ? plain.substring(0, 40) + "..." : plain;
    }
}
