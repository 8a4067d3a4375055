package daylight.car;

import daylight.car.Complaint.Kind;
import daylight.geometry.Direction;
import daylight.geometry.Spot;
import daylight.linkage.Mechanism;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/** Reads a layout's file, strictly. One per file. */
final class LayoutReader {
    private static final String JOINT_WORDS = "Write one of ball, hinge, rod, slide, guide, plane or leaf.";
    private static final List<String> LEAF_MODELS = List.of("three link", "even curve");

    private final Reading in;
    private final Map<String, Boolean> points = new LinkedHashMap<>();
    private final Set<String> bodies = new LinkedHashSet<>();
    private final Set<String> names = new LinkedHashSet<>();
    private final Set<String> rods = new LinkedHashSet<>();
    private final Set<String> rodBodies = new LinkedHashSet<>();
    private final Set<String> drivers = new LinkedHashSet<>();

    LayoutReader(String file) {
        this.in = new Reading(file);
    }

    Layout read(String text) throws CarFileException {
        Optional<YamlNode.Mapping> root = YamlText.read(in, text);
        if (root.isEmpty()) {
            throw new CarFileException(in.complaints());
        }
        Fields top = Fields.of(in, root.get(), "the layout");
        String name = top.text("layout", "Write layout: and the file's name without .yaml.");
        if (in.clean(0) && !in.file().equals(name + ".yaml")) {
            in.complain(
                    Kind.CONTRADICTION,
                    root.get().place(),
                    "layout " + name + " is in the file " + in.file(),
                    "",
                    "Give both the same name.");
        }
        String title = top.text("title", "Write title: and what a builder calls it.");
        String note = top.text("note", "Write note: and when to choose this layout.");
        boolean mirrors =
                top.maybe("mirrors").map(node -> in.yesOrNo(node, "mirrors")).orElse(false);
        List<Layout.MeasuredPoint> measured = top.need("points", "List the points to measure.")
                .map(this::points)
                .orElse(List.of());
        List<String> moving = top.need("bodies", "List the bodies that move.")
                .map(node -> in.texts(node, "bodies"))
                .orElse(List.of());
        List<String> carriers =
                top.maybe("carriers").map(node -> in.texts(node, "carriers")).orElse(List.of());
        bodies.add(Mechanism.GROUND);
        bodies.addAll(moving);
        bodies.addAll(carriers);
        List<Layout.Joint> joints = new ArrayList<>();
        for (YamlNode node :
                top.maybe("joints").map(n -> in.list(n, "joints", false)).orElse(List.of())) {
            joint(node).ifPresent(joints::add);
        }
        List<Layout.Driver> moved = new ArrayList<>();
        for (YamlNode node :
                top.maybe("drivers").map(n -> in.list(n, "drivers", false)).orElse(List.of())) {
            driver(node).ifPresent(moved::add);
        }
        List<Layout.Follower> followers = new ArrayList<>();
        for (YamlNode node :
                top.maybe("followers").map(n -> in.list(n, "followers", false)).orElse(List.of())) {
            followers.add(follower(node));
        }
        List<LayoutReadout> readouts = new ArrayList<>();
        for (YamlNode node :
                top.maybe("readouts").map(n -> in.list(n, "readouts", false)).orElse(List.of())) {
            readout(node).ifPresent(readouts::add);
        }
        Map<String, Boolean> limits = limits(moved);
        Layout.Example example = top.need("example", "Give a worked example: points and limits.")
                .map(node -> example(node, limits))
                .orElse(new Layout.Example(Map.of(), Map.of()));
        top.close();
        if (!in.clean(0)) {
            throw new CarFileException(in.complaints());
        }
        return new Layout(
                name, title, note, mirrors, measured, moving, carriers, joints, moved, followers, readouts, example);
    }

    private List<Layout.MeasuredPoint> points(YamlNode node) {
        List<Layout.MeasuredPoint> list = new ArrayList<>();
        if (!(node instanceof YamlNode.Mapping mapping)) {
            in.wrongKind(node, "points", "names, each with {measure: ...}");
            return list;
        }
        Fields.complainAboutTwins(in, mapping);
        for (YamlNode.Entry entry : mapping.entries()) {
            String name = entry.key().text();
            Fields fields = Fields.of(in, entry.value(), name);
            String measure = fields.text("measure", "Write measure: and how to find the point in a garage.");
            boolean optional =
                    fields.maybe("optional").map(n -> in.yesOrNo(n, "optional")).orElse(false);
            fields.close();
            points.put(name, optional);
            list.add(new Layout.MeasuredPoint(name, measure, optional));
        }
        return list;
    }

    private String point(YamlNode node, String what) {
        int mark = in.mark();
        String name = in.text(node, what);
        if (in.clean(mark) && !points.containsKey(name)) {
            in.unknown(
                    Kind.UNKNOWN_POINT,
                    node,
                    "the layout has no point \"" + name + "\"",
                    points.keySet(),
                    "Add it under points, with how to measure it.");
        }
        return name;
    }

    private List<String> points(YamlNode node, String what, int count) {
        List<YamlNode> items = in.list(node, what, count == 1);
        if (items.size() != count && (node instanceof YamlNode.Sequence)) {
            in.complain(
                    Kind.WRONG_COUNT,
                    node.place(),
                    what + " has " + items.size() + " points",
                    "",
                    "Write " + count + ".");
        }
        List<String> names = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            names.add(i < items.size() ? point(items.get(i), what) : "");
        }
        return names;
    }

    private String body(YamlNode node, String what) {
        int mark = in.mark();
        String name = in.text(node, what);
        if (in.clean(mark) && !bodies.contains(name)) {
            in.unknown(
                    Kind.UNKNOWN_BODY,
                    node,
                    "the layout has no body \"" + name + "\"",
                    bodies,
                    "Add it under bodies, or write " + Reading.oneOf(bodies) + ".");
        }
        return name;
    }

    private String own(Fields fields, String word) {
        String name = fields.text(word, "Give it a name.");
        if (!name.isEmpty() && !names.add(name)) {
            in.complain(Kind.TWICE, fields.node().place(), "\"" + name + "\" is named twice", "", "Rename one.");
        }
        return name;
    }

    private List<String> between(Fields fields) {
        List<YamlNode> items = fields.need("between", "Name the two bodies.")
                .map(node -> in.list(node, "between", false))
                .orElse(List.of());
        if (items.size() != 2) {
            if (!items.isEmpty()) {
                in.complain(
                        Kind.WRONG_COUNT,
                        fields.node().place(),
                        "between names " + items.size() + " bodies",
                        "",
                        "Write two.");
            }
            return List.of("", "");
        }
        return List.of(body(items.get(0), "between"), body(items.get(1), "between"));
    }

    private static Optional<String> word(YamlNode node, List<String> words) {
        return node instanceof YamlNode.Mapping mapping
                ? words.stream().filter(word -> mapping.get(word).isPresent()).findFirst()
                : Optional.empty();
    }

    private List<String> at(Fields fields, String key, int count) {
        return fields.need(key, "Name " + (count == 1 ? "the point." : "the " + count + " points."))
                .map(node -> points(node, key, count))
                .orElse(List.of("", ""));
    }

    private Optional<Layout.Joint> joint(YamlNode node) {
        Optional<String> word = word(node, List.of("ball", "hinge", "rod", "slide", "guide", "plane", "leaf"));
        if (word.isEmpty()) {
            in.complain(Kind.NOT_A_VALUE, node.place(), "this is no joint", "", JOINT_WORDS);
            return Optional.empty();
        }
        Fields fields = Fields.of(in, node, "the joint");
        String name = own(fields, word.get());
        List<String> two = between(fields);
        String a = two.get(0);
        String b = two.get(1);
        Layout.Joint joint = switch (word.get()) {
            case "ball" -> new Layout.Joint.Ball(name, a, b, at(fields, "at", 1).get(0));
            case "hinge" -> {
                List<String> ends = at(fields, "at", 2);
                yield new Layout.Joint.Hinge(name, a, b, ends.get(0), ends.get(1));
            }
            case "rod" -> {
                List<String> ends = at(fields, "at", 2);
                Optional<String> body = fields.maybe("body").map(n -> body(n, "body"));
                rods.add(name);
                body.ifPresent(rodBodies::add);
                yield new Layout.Joint.Rod(name, a, b, ends.get(0), ends.get(1), body, fields.maybeText("shares"));
            }
            case "slide" ->
                new Layout.Joint.Slide(name, a, b, at(fields, "at", 1).get(0), along(fields, "along"));
            case "plane" ->
                new Layout.Joint.Plane(
                        name, a, b, at(fields, "point", 1).get(0), along(fields, "normal"), fields.maybeText("shares"));
            case "guide" ->
                new Layout.Joint.Guide(
                        name,
                        a,
                        b,
                        at(fields, "point", 1).get(0),
                        at(fields, "line at", 1).get(0),
                        along(fields, "along"));
            default -> {
                boolean evenCurve = fields.maybe("model")
                        .map(n -> in.choice(n, "model", LEAF_MODELS).equals("even curve"))
                        .orElse(false);
                Mechanism.LeafModel model = evenCurve ? Mechanism.LeafModel.EVEN_CURVE : Mechanism.LeafModel.THREE_LINK;
                yield new Layout.Joint.Leaf(
                        name,
                        a,
                        b,
                        at(fields, "pad", 1).get(0),
                        at(fields, "eye", 1).get(0),
                        model);
            }
        };
        fields.close();
        return Optional.of(joint);
    }

    private Layout.Along along(Fields fields, String key) {
        Optional<YamlNode> node = fields.need(key, "Write [x, y, z] or two points.");
        if (node.isEmpty()) {
            return new Layout.Along.Fixed(Direction.FORWARD);
        }
        List<YamlNode> items = in.list(node.get(), key, false);
        if (items.size() == 2) {
            return new Layout.Along.Between(point(items.get(0), key), point(items.get(1), key));
        }
        if (items.size() == 3) {
            int mark = in.mark();
            double x = in.number(items.get(0), key, -1, 1);
            double y = in.number(items.get(1), key, -1, 1);
            double z = in.number(items.get(2), key, -1, 1);
            if (in.clean(mark) && (x != 0 || y != 0 || z != 0)) {
                return new Layout.Along.Fixed(Direction.of(x, y, z));
            }
            if (!in.clean(mark)) {
                return new Layout.Along.Fixed(Direction.FORWARD);
            }
        }
        in.complain(
                Kind.WRONG_COUNT,
                node.get().place(),
                key + " is no direction",
                "",
                "Write [x, y, z] with numbers from -1 to 1, not all zero, or two points.");
        return new Layout.Along.Fixed(Direction.FORWARD);
    }

    private Optional<Layout.Driver> driver(YamlNode node) {
        Optional<String> word = word(node, List.of("rise", "travel", "turn", "rod length"));
        if (word.isEmpty()) {
            in.complain(
                    Kind.NOT_A_VALUE,
                    node.place(),
                    "this is no driver",
                    "",
                    "Write one of rise, travel, turn or rod length.");
            return Optional.empty();
        }
        Fields fields = Fields.of(in, node, "the driver");
        String name = own(fields, word.get());
        drivers.add(name);
        boolean rod = word.get().equals("rod length");
        Optional<YamlNode> moved = fields.need(rod ? "rod" : "of", "Name what it moves.");
        String of = moved.map(n -> rod ? in.text(n, "rod") : body(n, "of")).orElse("");
        if (rod && moved.isPresent() && !of.isEmpty() && !rods.contains(of)) {
            in.unknown(
                    Kind.UNKNOWN_PART,
                    moved.get(),
                    "the layout has no rod \"" + of + "\"",
                    rods,
                    "Name one of its rods.");
        }
        Layout.End least = end(fields, "least");
        Layout.End most = end(fields, "most");
        Optional<String> shared = fields.maybeText("shared");
        Layout.Driver driver = switch (word.get()) {
            case "rise" -> new Layout.Driver.Rise(name, of, at(fields, "at", 1).get(0), least, most, shared);
            case "travel" -> new Layout.Driver.Travel(name, of, along(fields, "along"), least, most, shared);
            case "turn" -> {
                List<String> axis = at(fields, "at", 2);
                yield new Layout.Driver.Turn(name, of, axis.get(0), axis.get(1), least, most, shared);
            }
            default -> new Layout.Driver.RodLength(name, of, least, most, shared);
        };
        fields.close();
        return Optional.of(driver);
    }

    private Layout.End end(Fields fields, String key) {
        Optional<YamlNode> node = fields.need(key, "Write zero, a limit's name, or a minus sign and a limit's name.");
        if (node.isEmpty()) {
            return new Layout.End(Optional.empty(), 0);
        }
        String text = in.text(node.get(), key);
        if (text.matches("[-+.0-9]+")) {
            return new Layout.End(
                    Optional.empty(), in.number(node.get(), key, -Reading.FARTHEST_MM, Reading.FARTHEST_MM));
        }
        boolean minus = text.startsWith("-");
        return new Layout.End(Optional.of(minus ? text.substring(1).strip() : text), minus ? -1 : 1);
    }

    private Layout.Follower follower(YamlNode node) {
        Fields fields = Fields.of(in, node, "the follower");
        String body = fields.need("aim", "Write aim: and the body that follows.")
                .map(n -> body(n, "aim"))
                .orElse("");
        List<String> from = bodyAndPoint(fields, "from");
        List<String> to = bodyAndPoint(fields, "to");
        fields.close();
        return new Layout.Follower(body, from.get(0), from.get(1), to.get(0), to.get(1));
    }

    private Optional<LayoutReadout> readout(YamlNode node) {
        Optional<String> word = word(node, List.of("wheel", "shock", "length", "shaft", "twist", "tilt"));
        if (word.isEmpty()) {
            in.complain(
                    Kind.NOT_A_VALUE,
                    node.place(),
                    "this is no readout",
                    "",
                    "Write one of wheel, shock, length, shaft, twist or tilt.");
            return Optional.empty();
        }
        Fields fields = Fields.of(in, node, "the readout");
        String name = fields.text(word.get(), "Give it a name.");
        LayoutReadout readout = switch (word.get()) {
            case "wheel" ->
                new LayoutReadout.Wheel(
                        name,
                        onBody(fields, "on"),
                        at(fields, "centre", 1).get(0),
                        fields.maybe("spindle")
                                .map(n -> points(n, "spindle", 2))
                                .orElse(List.of()),
                        fields.maybe("steering axis").map(this::axis).orElse(List.of()),
                        driverName(fields, "travel"),
                        fields.maybe("steer").map(n -> known(n, "steer")));
            case "shaft" ->
                new LayoutReadout.Shaft(
                        name,
                        place(fields, "from"),
                        along(fields, "from along"),
                        place(fields, "to"),
                        along(fields, "to along"));
            case "twist" ->
                new LayoutReadout.Twist(name, onBody(fields, "of"), onBody(fields, "against"), along(fields, "about"));
            case "tilt" -> new LayoutReadout.Tilt(name, onBody(fields, "of"), along(fields, "along"));
            default -> {
                boolean shock = word.get().equals("shock");
                yield new LayoutReadout.Length(
                        name,
                        place(fields, "from"),
                        place(fields, "to"),
                        shock,
                        shock ? fields.maybeText("closed") : Optional.empty(),
                        shock ? fields.maybeText("open") : Optional.empty());
            }
        };
        fields.close();
        return Optional.of(readout);
    }

    private String onBody(Fields fields, String key) {
        return fields.need(key, "Name the body.").map(n -> body(n, key)).orElse("");
    }

    private String driverName(Fields fields, String key) {
        return fields.need(key, "Name the driver.").map(n -> known(n, key)).orElse("");
    }

    /** Reads the name of a driver of the layout; all drivers have been read. */
    private String known(YamlNode node, String key) {
        int mark = in.mark();
        String name = in.text(node, key);
        if (in.clean(mark) && !drivers.contains(name)) {
            in.unknown(
                    Kind.UNKNOWN_PART,
                    node,
                    "the layout has no driver \"" + name + "\"",
                    drivers,
                    "Name one of its drivers.");
        }
        return name;
    }

    private LayoutReadout.Place place(Fields fields, String key) {
        List<String> two = bodyAndPoint(fields, key);
        return new LayoutReadout.Place(two.get(0), two.get(1));
    }

    private List<LayoutReadout.Place> axis(YamlNode node) {
        List<YamlNode> ends = in.list(node, "steering axis", false);
        List<LayoutReadout.Place> places = new ArrayList<>();
        for (YamlNode end : ends) {
            List<YamlNode> items = in.list(end, "steering axis", false);
            if (items.size() == 2) {
                places.add(new LayoutReadout.Place(
                        body(items.get(0), "steering axis"), point(items.get(1), "steering axis")));
            }
        }
        if (places.size() != 2) {
            in.complain(
                    Kind.WRONG_COUNT,
                    node.place(),
                    "the steering axis has " + places.size() + (places.size() == 1 ? " end" : " ends"),
                    "",
                    "Write [[body, lower point], [body, upper point]].");
            return List.of();
        }
        return places;
    }

    private List<String> bodyAndPoint(Fields fields, String key) {
        Optional<YamlNode> node = fields.need(key, "Write [body, point].");
        List<YamlNode> items = node.map(n -> in.list(n, key, false)).orElse(List.of());
        if (items.size() != 2) {
            if (!items.isEmpty()) {
                in.complain(
                        Kind.WRONG_COUNT,
                        fields.node().place(),
                        key + " has " + items.size() + " words",
                        "",
                        "Write [body, point].");
            }
            return List.of("", "");
        }
        return List.of(body(items.get(0), key), point(items.get(1), key));
    }

    private static Map<String, Boolean> limits(List<Layout.Driver> drivers) {
        Map<String, Boolean> limits = new LinkedHashMap<>();
        for (Layout.Driver driver : drivers) {
            driver.least().limit().ifPresent(limit -> limits.put(limit, driver instanceof Layout.Driver.Turn));
            driver.most().limit().ifPresent(limit -> limits.put(limit, driver instanceof Layout.Driver.Turn));
        }
        return limits;
    }

    private Layout.Example example(YamlNode node, Map<String, Boolean> limits) {
        Map<String, Spot> spots = new LinkedHashMap<>();
        Map<String, Double> values = new LinkedHashMap<>();
        Fields fields = Fields.of(in, node, "the example");
        fields.maybeText("note");
        Fields given = Fields.of(in, fields.need("points", "Give each point.").orElse(node), "the example");
        for (Map.Entry<String, Boolean> point : points.entrySet()) {
            Optional<YamlNode> at = point.getValue()
                    ? given.maybe(point.getKey())
                    : given.need(point.getKey(), "Give each point a place, [x, y, z] in mm.");
            at.ifPresent(n -> spots.put(point.getKey(), SpotReader.coordinates(in, n, point.getKey())));
        }
        given.close();
        if (limits.isEmpty()) {
            fields.maybe("limits");
        } else {
            Fields ends = Fields.of(
                    in, fields.need("limits", "Give each limit a value.").orElse(node), "the example");
            limits.forEach((limit, angle) -> ends.need(limit, "Give each limit a value, mm or deg.")
                    .ifPresent(n -> values.put(limit, angle ? in.angle(n, limit) : in.length(n, limit))));
            ends.close();
        }
        fields.close();
        return new Layout.Example(spots, values);
    }
}
