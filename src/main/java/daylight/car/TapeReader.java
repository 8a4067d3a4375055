package daylight.car;

import daylight.car.Complaint.Kind;
import daylight.units.Angle;
import daylight.units.Length;
import daylight.units.LengthFormat;
import daylight.units.Parsed;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;

/** Reads the {@code tape:} section: distances, heights, offsets, levels, mirrors, rims and measured gaps. */
final class TapeReader {
    /** No car, nor the floor around it, is longer: a reading beyond has the wrong unit. */
    private static final double LONGEST_MM = 15_000;

    private static final double LEAST_ANGLE = 1e-6;

    /** The keys by which a reading says what it is; a distance has from and to. */
    private static final List<String> KINDS = List.of(
            "from",
            "height of",
            "ahead",
            "left",
            "offset of",
            "level along",
            "level on",
            "plumb on",
            "mirror",
            "middle",
            "rim",
            "between");

    private static final Map<String, Measurement.Along> WAYS =
            Map.of("forward", Measurement.Along.AHEAD, "left", Measurement.Along.LEFT);

    private final Reading in;
    private final SpotReader spots;
    /** Names beyond the points that a reading may speak of: mirror images. */
    private final Set<String> images;
    /** The parts by name, where they are known yet. */
    private final Optional<Collection<String>> parts;
    /** The handles by name and whether they turn, where they are known yet. */
    private final Optional<Map<String, Boolean>> handles;

    private final Set<String> names = new HashSet<>();
    private final List<Measurement> readings = new ArrayList<>();

    TapeReader(
            Reading in,
            SpotReader spots,
            Set<String> images,
            Optional<Collection<String>> parts,
            Optional<Map<String, Boolean>> handles) {
        this.in = in;
        this.spots = spots;
        this.images = images;
        this.parts = parts;
        this.handles = handles;
    }

    /** Reads the section. */
    List<Measurement> read(YamlNode node) {
        for (YamlNode item : in.list(node, "tape", false)) {
            reading(item);
        }
        return readings;
    }

    private void reading(YamlNode item) {
        String kind = "from";
        if (item instanceof YamlNode.Mapping keys) {
            Optional<String> found =
                    KINDS.stream().filter(word -> keys.get(word).isPresent()).findFirst();
            if (found.isEmpty() && misspelt(keys)) {
                return;
            }
            kind = found.orElse("from");
        }
        int mark = in.mark();
        Fields fields = Fields.of(in, item, "the tape reading");
        int line = item.place().line();
        Optional<Measurement> read = switch (kind) {
            case "height of" -> offset(fields, line, kind, "above", Measurement.Along.UP);
            case "ahead" -> offset(fields, line, kind, "of", Measurement.Along.AHEAD);
            case "left" -> offset(fields, line, kind, "of", Measurement.Along.LEFT);
            case "offset of" -> offsetOf(fields, line);
            case "level along" -> level(fields, line);
            case "level on" -> levelOn(fields, line);
            case "plumb on" -> plumbOn(fields, line);
            case "mirror" -> mirror(fields, line);
            case "middle" -> middle(fields, line);
            case "rim" -> rim(fields, line);
            case "between" -> gap(fields, line);
            default -> distance(fields, line);
        };
        fields.maybeText("note");
        fields.close();
        if (in.clean(mark)) {
            read.ifPresent(readings::add);
        }
    }

    /** A key that was meant to say what the reading is gets one complaint, not one for each key that follows. */
    private boolean misspelt(YamlNode.Mapping keys) {
        for (YamlNode.Entry entry : keys.entries()) {
            String key = entry.key().text();
            boolean usual = List.of("to", "reads", "within", "note").contains(key);
            if (!usual && Spelling.nearest(key, KINDS).isPresent()) {
                in.unknown(
                        Kind.UNKNOWN_KEY,
                        entry.key(),
                        "the tape reading has no key \"" + key + "\"",
                        KINDS,
                        "Write " + Reading.oneOf(KINDS) + ".");
                return true;
            }
        }
        return false;
    }

    private Optional<Measurement> distance(Fields fields, int line) {
        int mark = in.mark();
        String from = fields.need("from", "Write from: and a point's name.")
                .map(n -> point(n, "from"))
                .orElse("");
        Optional<YamlNode> toNode = fields.need("to", "Write to: and a point's name.");
        String to = toNode.map(n -> point(n, "to")).orElse("");
        double reads = length(fields, false);
        Optional<Double> within = within(fields);
        if (in.clean(mark) && from.equals(to)) {
            in.complain(
                    Kind.CONTRADICTION,
                    toNode.orElse(fields.node()).place(),
                    "the tape goes from \"" + from + "\" to itself",
                    "",
                    "Name two points.");
        }
        return Optional.of(new Measurement.Distance(unique(from + " to " + to), line, from, to, reads, within));
    }

    private Optional<Measurement> offset(Fields fields, int line, String key, String ofKey, Measurement.Along along) {
        int mark = in.mark();
        String point = fields.maybe(key).map(n -> point(n, key)).orElse("");
        Optional<YamlNode> ofNode = fields.maybe(ofKey);
        Optional<String> of = ofNode.map(n -> point(n, ofKey));
        double reads = fields.need("reads", "Write reads: and the length.")
                .map(n -> of.isEmpty() && along == Measurement.Along.UP
                        ? reach(n, in.notNegative(n, "reads"))
                        : reach(n, in.length(n, "reads")))
                .orElse(1.0);
        Optional<Double> within = within(fields);
        if (in.clean(mark) && of.equals(Optional.of(point))) {
            in.complain(
                    Kind.CONTRADICTION,
                    ofNode.orElse(fields.node()).place(),
                    "\"" + point + "\" is measured from itself",
                    "",
                    "Name two points, or leave " + ofKey + ": away to measure from the datum.");
        }
        String base = switch (along) {
            case UP -> "height of " + point + of.map(o -> " above " + o).orElse("");
            case AHEAD -> point + " ahead" + of.map(o -> " of " + o).orElse("");
            case LEFT -> point + " left of " + of.orElse("centre");
        };
        return Optional.of(new Measurement.Offset(unique(base), line, point, along, of, reads, within));
    }

    private Optional<Measurement> offsetOf(Fields fields, int line) {
        int mark = in.mark();
        String point = fields.maybe("offset of").map(n -> point(n, "offset of")).orElse("");
        Optional<YamlNode> plane = fields.maybe("from plane");
        Optional<YamlNode> along = plane.isPresent()
                ? Optional.empty()
                : fields.need("from line", "Write from line: [point, point], or from plane: [point, point, point].");
        List<String> others = plane.map(n -> points(n, "from plane", 3, 3))
                .orElseGet(() -> along.map(n -> points(n, "from line", 2, 2)).orElse(List.of()));
        double reads = fields.need("reads", "Write reads: and the length.")
                .map(n -> reach(n, plane.isPresent() ? in.length(n, "reads") : in.notNegative(n, "reads")))
                .orElse(1.0);
        Optional<Double> within = within(fields);
        if (!in.clean(mark) || !different(fields, with(point, others))) {
            return Optional.empty();
        }
        String name = unique(point + " from " + String.join(", ", others));
        return Optional.of(
                plane.isPresent()
                        ? new Measurement.FromPlane(
                                name, line, point, others.get(0), others.get(1), others.get(2), reads, within)
                        : new Measurement.FromLine(name, line, point, others.get(0), others.get(1), reads, within));
    }

    private Optional<Measurement> level(Fields fields, int line) {
        int mark = in.mark();
        List<String> two = fields.maybe("level along")
                .map(n -> points(n, "level along", 2, 2))
                .orElse(List.of());
        double reads = angle(fields, "reads");
        Optional<Double> within = angleWithin(fields);
        if (!in.clean(mark) || !different(fields, two)) {
            return Optional.empty();
        }
        return Optional.of(new Measurement.Level(
                unique("level along " + two.get(0) + " to " + two.get(1)),
                line,
                two.get(0),
                two.get(1),
                reads,
                within));
    }

    private Optional<Measurement> levelOn(Fields fields, int line) {
        int mark = in.mark();
        List<String> three =
                fields.maybe("level on").map(n -> points(n, "level on", 3, 3)).orElse(List.of());
        Measurement.Along along = fields.need("along", "Write along: forward or along: left.")
                .map(n -> in.choice(n, "along", List.copyOf(new TreeSet<>(WAYS.keySet()))))
                .map(word -> WAYS.getOrDefault(word, Measurement.Along.AHEAD))
                .orElse(Measurement.Along.AHEAD);
        double reads = angle(fields, "reads");
        Optional<Double> within = angleWithin(fields);
        if (!in.clean(mark) || !different(fields, three)) {
            return Optional.empty();
        }
        return Optional.of(new Measurement.LevelOn(
                unique("level on " + String.join(", ", three)),
                line,
                three.get(0),
                three.get(1),
                three.get(2),
                along,
                reads,
                within));
    }

    private Optional<Measurement> plumbOn(Fields fields, int line) {
        int mark = in.mark();
        List<String> three =
                fields.maybe("plumb on").map(n -> points(n, "plumb on", 3, 3)).orElse(List.of());
        double reads = angle(fields, "reads");
        Optional<Double> within = angleWithin(fields);
        if (!in.clean(mark) || !different(fields, three)) {
            return Optional.empty();
        }
        return Optional.of(new Measurement.PlumbOn(
                unique("plumb on " + String.join(", ", three)),
                line,
                three.get(0),
                three.get(1),
                three.get(2),
                reads,
                within));
    }

    private Optional<Measurement> mirror(Fields fields, int line) {
        int mark = in.mark();
        List<String> two =
                fields.maybe("mirror").map(n -> points(n, "mirror", 2, 2)).orElse(List.of());
        Optional<Double> within = within(fields);
        if (!in.clean(mark) || !different(fields, two)) {
            return Optional.empty();
        }
        return Optional.of(new Measurement.Mirror(
                unique(two.get(0) + " and " + two.get(1) + " alike"), line, two.get(0), two.get(1), within));
    }

    private Optional<Measurement> middle(Fields fields, int line) {
        int mark = in.mark();
        String middle = fields.maybe("middle").map(n -> point(n, "middle")).orElse("");
        List<String> two = fields.need("of", "Write of: [point, point].")
                .map(n -> points(n, "of", 2, 2))
                .orElse(List.of());
        Optional<Double> within = within(fields);
        if (!in.clean(mark) || !different(fields, with(middle, two))) {
            return Optional.empty();
        }
        return Optional.of(
                new Measurement.Middle(unique(middle + " halfway"), line, middle, two.get(0), two.get(1), within));
    }

    private Optional<Measurement> rim(Fields fields, int line) {
        int mark = in.mark();
        List<String> edge = fields.maybe("rim")
                .map(n -> points(n, "rim", 2, Integer.MAX_VALUE))
                .orElse(List.of());
        String centre = fields.need("centre", "Write centre: and the point in the middle of the wheel.")
                .map(n -> point(n, "centre"))
                .orElse("");
        String axis = fields.need("axis end", "Write axis end: and a point for the outboard end of the wheel's axis.")
                .map(n -> point(n, "axis end"))
                .orElse("");
        Optional<Double> camber = fields.maybe("camber").map(n -> in.angle(n, "camber"));
        Optional<Double> within = within(fields);
        if (in.clean(mark) && edge.size() == 2 && camber.isEmpty()) {
            in.complain(
                    Kind.MISSING,
                    fields.node().place(),
                    "two points of a rim do not say how it leans",
                    "",
                    "Read the camber with a digital level (camber: 1/2 deg), or measure a third point.");
        }
        List<String> all = with(centre, edge);
        all.add(axis);
        if (!in.clean(mark) || !different(fields, all)) {
            return Optional.empty();
        }
        return Optional.of(
                new Measurement.Rim(unique("rim about " + centre), line, edge, centre, axis, camber, within));
    }

    private Optional<Measurement> gap(Fields fields, int line) {
        int mark = in.mark();
        YamlNode node = fields.maybe("between").orElse(fields.node());
        List<YamlNode> items = in.list(node, "between", false);
        List<String> two = new ArrayList<>();
        for (YamlNode item : items) {
            int here = in.mark();
            String name = in.text(item, "between");
            two.add(name);
            if (in.clean(here) && parts.isPresent() && !parts.get().contains(name)) {
                in.unknown(
                        Kind.UNKNOWN_PART,
                        item,
                        "no part is called \"" + name + "\"",
                        parts.get(),
                        "Write the name of a part under parts.");
            }
        }
        if (in.clean(mark) && (items.size() != 2 || two.get(0).equals(two.get(1)))) {
            in.complain(
                    items.size() == 2 ? Kind.CONTRADICTION : Kind.WRONG_COUNT,
                    node.place(),
                    "a gap is measured between two parts",
                    "",
                    "Write between: [one part, another part].");
        }
        double reads = fields.need("reads", "Write reads: and the gap.")
                .map(n -> in.notNegative(n, "reads"))
                .orElse(0.0);
        Map<String, Double> at = fields.maybe("at").map(n -> position(n)).orElse(Map.of());
        Optional<Double> within = within(fields);
        boolean counts =
                fields.maybe("counts").map(n -> in.yesOrNo(n, "counts")).orElse(false);
        return in.clean(mark)
                ? Optional.of(new Measurement.Gap(
                        unique("gap between " + two.get(0) + " and " + two.get(1)),
                        line,
                        fields.node().place().column(),
                        two.get(0),
                        two.get(1),
                        reads,
                        at,
                        within,
                        counts))
                : Optional.empty();
    }

    /** Reads where the car stood: handles with lengths, or angles where they turn. */
    private Map<String, Double> position(YamlNode node) {
        Map<String, Double> at = new LinkedHashMap<>();
        if (!(node instanceof YamlNode.Mapping mapping)) {
            in.wrongKind(node, "at", "handles with where they stood, such as {front left travel: 2}");
            return at;
        }
        Fields.complainAboutTwins(in, mapping);
        for (YamlNode.Entry entry : mapping.entries()) {
            String handle = entry.key().text();
            if (handles.isPresent() && !handles.get().containsKey(handle)) {
                Set<String> known = new TreeSet<>(handles.get().keySet());
                in.unknown(
                        Kind.UNKNOWN_KEY,
                        entry.key(),
                        "no handle of this car is called \"" + handle + "\"",
                        known,
                        known.isEmpty() ? "Nothing moves yet: leave at: away." : "Write " + Reading.oneOf(known) + ".");
            } else if (handles.map(h -> h.getOrDefault(handle, false)).orElse(isAngle(entry.value()))) {
                at.put(handle, in.angle(entry.value(), handle));
            } else {
                at.put(handle, in.length(entry.value(), handle));
            }
        }
        return at;
    }

    /** Before the handles are known an angle is told by its unit; what is wrong is said when they are. */
    private boolean isAngle(YamlNode node) {
        return node instanceof YamlNode.Scalar scalar
                && Length.parse(scalar.text(), in.unit()) instanceof Parsed.Refused
                && !(Angle.parse(scalar.text()) instanceof Parsed.Refused);
    }

    private String point(YamlNode node, String what) {
        if (node instanceof YamlNode.Scalar scalar && images.contains(scalar.text())) {
            return scalar.text();
        }
        return spots.resolved(spots.name(node, what));
    }

    private List<String> points(YamlNode node, String what, int least, int most) {
        List<YamlNode> items = in.list(node, what, false);
        if (node instanceof YamlNode.Sequence && (items.size() < least || items.size() > most)) {
            in.complain(
                    Kind.WRONG_COUNT,
                    node.place(),
                    what + " has " + items.size() + (items.size() == 1 ? " point" : " points"),
                    "",
                    "Write " + (most == least ? "" : "at least ") + least + ".");
        }
        List<String> names = new ArrayList<>();
        items.forEach(item -> names.add(point(item, what)));
        return names;
    }

    private boolean different(Fields fields, List<String> points) {
        if (new HashSet<>(points).size() == points.size()) {
            return true;
        }
        in.complain(
                Kind.CONTRADICTION,
                fields.node().place(),
                "the tape reading names one point twice",
                "",
                "Name different points.");
        return false;
    }

    private static List<String> with(String first, List<String> others) {
        List<String> all = new ArrayList<>(List.of(first));
        all.addAll(others);
        return all;
    }

    private double length(Fields fields, boolean zeroAllowed) {
        return fields.need("reads", "Write reads: and the distance.")
                .map(n -> reach(n, zeroAllowed ? in.notNegative(n, "reads") : in.positive(n, "reads")))
                .orElse(1.0);
    }

    private double reach(YamlNode node, double mm) {
        if (Math.abs(mm) > LONGEST_MM) {
            String written = node instanceof YamlNode.Scalar scalar ? scalar.text() : "";
            in.complain(
                    Kind.OUT_OF_RANGE,
                    node.place(),
                    "reads: " + written + " is "
                            + LengthFormat.decimals(daylight.units.Unit.METRE, 1)
                                    .print(mm) + ", longer than any car",
                    "",
                    "Write its unit beside it if it is not " + in.unit().symbol() + ", as in 365.1 mm.");
        }
        return mm;
    }

    private double angle(Fields fields, String key) {
        return fields.need(key, "Write " + key + ": and the angle, such as 3.2 deg.")
                .map(n -> in.angle(n, key))
                .orElse(0.0);
    }

    private Optional<Double> within(Fields fields) {
        return fields.maybe("within").map(n -> in.positive(n, "within"));
    }

    private Optional<Double> angleWithin(Fields fields) {
        return fields.maybe("within").map(n -> {
            int mark = in.mark();
            double rad = in.angle(n, "within");
            if (in.clean(mark) && rad < LEAST_ANGLE) {
                in.complain(Kind.OUT_OF_RANGE, n.place(), "within: no angle is read so well", "", "Write 0.2 deg.");
            }
            return rad;
        });
    }

    private String unique(String name) {
        String free = name;
        for (int n = 2; !names.add(free); n++) {
            free = name + " (" + n + ")";
        }
        return free;
    }
}
