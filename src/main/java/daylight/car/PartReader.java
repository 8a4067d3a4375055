package daylight.car;

import daylight.car.Complaint.Kind;
import daylight.geometry.Cut;
import daylight.geometry.Direction;
import daylight.geometry.Flat;
import daylight.geometry.PlateCuts;
import daylight.geometry.PlateEdges;
import daylight.geometry.Pose;
import daylight.geometry.Shape;
import daylight.geometry.Solid;
import daylight.geometry.Spot;
import daylight.linkage.Mechanism;
import daylight.units.LengthFormat;
import daylight.units.Parsed;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.Set;

/** Reads the parts of a car file into shapes. One per car. */
final class PartReader {
    private static final List<String> SHAPES =
            List.of("ball", "tube", "cylinder", "box", "plate", "tyre", "hull", "turned", "mesh", "group");
    /** Directions that were measured are never quite square; beyond this they are not meant to be. */
    private static final double SQUARE_WITHIN = Math.sin(Math.toRadians(5));
    /** A tube's bends fit if they overlap by no more than this, which is rounding. */
    private static final double BEND_ROUNDING_MM = 1e-6;
    /** Twice the half width of a reading: the most by which two readings of one length may honestly differ. */
    private static final double READINGS = 2;

    private final Reading in;
    private final SpotReader spots;
    private final MechanismReader mechanisms;
    private final Set<String> allowanceBodies;
    private final double withinMm;
    private final MeshSource meshes;
    private final Tyres tyres;
    private final Map<String, Car.Part> parts = new LinkedHashMap<>();
    private final Set<String> names = new LinkedHashSet<>();
    private final Map<String, Car.Hose> hoses = new LinkedHashMap<>();
    private final List<Car.Wheel> wheels = new ArrayList<>();
    private final Map<String, Car.Metal> metal = new LinkedHashMap<>();
    private final Map<String, String> mirrorOf = new LinkedHashMap<>();
    private final Set<String> displaced = new LinkedHashSet<>();
    /** The points that each part with a shape of its own asked for. */
    private final Map<String, Set<String>> asked = new LinkedHashMap<>();
    /** Parts that a mechanism's points place besides. */
    private final Set<String> placedByMechanism = new LinkedHashSet<>();

    private Optional<Car.Metal> lastPlate = Optional.empty();

    PartReader(
            Reading in,
            SpotReader spots,
            MechanismReader mechanisms,
            Set<String> allowanceBodies,
            double withinMm,
            MeshSource meshes,
            Tyres tyres) {
        this.in = in;
        this.tyres = tyres;
        this.spots = spots;
        this.mechanisms = mechanisms;
        this.allowanceBodies = allowanceBodies;
        this.withinMm = withinMm;
        this.meshes = meshes;
    }

    /** Reads the section. */
    void read(YamlNode node) {
        if (!(node instanceof YamlNode.Mapping mapping)) {
            in.wrongKind(node, "parts", "names, each with {on: ..., and a shape}");
            return;
        }
        Fields.complainAboutTwins(in, mapping);
        mapping.entries().forEach(entry -> names.add(entry.key().text()));
        for (YamlNode.Entry entry : mapping.entries()) {
            if (!isMirror(entry.value())) {
                asked.put(entry.key().text(), spots.askedBy(() -> own(entry)));
            }
        }
        for (YamlNode.Entry entry : mapping.entries()) {
            if (isMirror(entry.value())) {
                mirror(entry, mapping);
            }
        }
        // In the order of the file, mirrored ones included.
        Map<String, Car.Part> inOrder = new LinkedHashMap<>();
        names.forEach(name -> Optional.ofNullable(parts.get(name)).ifPresent(part -> inOrder.put(name, part)));
        parts.clear();
        parts.putAll(inOrder);
        Map<String, Car.Hose> lines = new LinkedHashMap<>();
        names.forEach(name -> Optional.ofNullable(hoses.get(name)).ifPresent(line -> lines.put(name, line)));
        hoses.clear();
        hoses.putAll(lines);
    }

    /** Complains about each hose whose end lies wholly inside a part at ride height; after {@link #read}. */
    void complainOfBuriedEnds(YamlNode node) {
        if (node instanceof YamlNode.Mapping mapping) {
            new BuriedEnds(in, parts.values(), hoses).complain(mapping);
        }
    }

    List<Car.Part> parts() {
        return List.copyOf(parts.values());
    }

    List<Car.Hose> hoses() {
        return List.copyOf(hoses.values());
    }

    List<Car.Wheel> wheels() {
        return wheels;
    }

    /** Returns what is known of the plates for cutting them. */
    List<Car.Metal> metal() {
        return List.copyOf(metal.values());
    }

    /** Returns the points whose places a part's shape asked for, by its name or by that of the part it mirrors. */
    Set<String> asked(String part) {
        return asked.getOrDefault(mirrorOf.getOrDefault(part, part), Set.of());
    }

    /** Returns whether a mechanism's own points place a part besides: a tyre about its wheel's centre. */
    boolean isPlacedByMechanism(String part) {
        return placedByMechanism.contains(mirrorOf.getOrDefault(part, part));
    }

    /** Returns the part of which one is the mirror image, if it is one. */
    Optional<String> mirrorOf(String part) {
        return Optional.ofNullable(mirrorOf.get(part));
    }

    /** Returns whether a part is moved or rotated from where its shape is written. */
    boolean isDisplaced(String part) {
        return displaced.contains(part);
    }

    /** Returns every part's name, also of those that could not be read. */
    Set<String> names() {
        return names;
    }

    private static boolean isMirror(YamlNode node) {
        return node instanceof YamlNode.Mapping mapping && mapping.get("mirror").isPresent();
    }

    private void own(YamlNode.Entry entry) {
        String name = entry.key().text();
        int mark = in.mark();
        Fields fields = Fields.of(in, entry.value(), name);
        Optional<String> note = fields.maybeText("note");
        List<String> kinds = kinds(fields);
        Optional<YamlNode> hose = fields.maybe("hose");
        if (hose.isPresent()) {
            Optional<Car.Hose> read = new HoseReader(in, spots, this::body).read(hose.get(), name, kinds, note);
            read.ifPresent(line -> hoses.put(name, line));
            fields.close();
            return;
        }
        String body = fields.need("on", "Write on: and the body that carries it, such as " + Mechanism.GROUND + ".")
                .map(this::body)
                .orElse(Mechanism.GROUND);
        lastPlate = Optional.empty();
        Shape drawn = shape(fields, name, body);
        Pose pose = displacement(fields);
        Optional<Double> within = within(fields);
        fields.close();
        if (in.clean(mark)) {
            Shape shape = pose.equals(Pose.RIDE_HEIGHT) ? drawn : drawn.movedBy(pose);
            parts.put(name, new Car.Part(name, body, kinds, shape, note, within));
            if (drawn instanceof Shape.Plate) {
                lastPlate.ifPresent(plate -> metal.put(
                        name,
                        new Car.Metal(
                                name,
                                plate.drawn().movedBy(pose) instanceof Shape.Plate moved ? moved : plate.drawn(),
                                plate.cuts(),
                                plate.welds(),
                                plate.keep(),
                                plate.edgeDistanceMm())));
            }
            if (!pose.equals(Pose.RIDE_HEIGHT)) {
                displaced.add(name);
                wheels.replaceAll(wheel -> wheel.part().equals(name)
                        ? new Car.Wheel(
                                name,
                                wheel.body(),
                                pose.apply(wheel.centre()),
                                pose.apply(wheel.spindle()),
                                wheel.nominalDiameterMm(),
                                wheel.nominalWidthMm(),
                                wheel.rimDiameterMm())
                        : wheel);
            }
        }
    }

    /** Reads {@code rotated: {about: [spot, spot], by: 5 deg}} and {@code moved: [ahead, left, up]}, in that order. */
    private Pose displacement(Fields fields) {
        int mark = in.mark();
        Pose turn = fields.maybe("rotated")
                .map(node -> {
                    Fields about = Fields.of(in, node, "rotated");
                    Pose read = rotation(about);
                    about.close();
                    return read;
                })
                .orElse(Pose.RIDE_HEIGHT);
        Spot by = fields.maybe("moved")
                .map(node -> SpotReader.coordinates(in, node, "moved"))
                .orElse(Spot.ORIGIN);
        if (!in.clean(mark)) {
            return Pose.RIDE_HEIGHT;
        }
        return by.equals(Spot.ORIGIN)
                ? turn
                : Pose.shift(by.x(), by.y(), by.z()).after(turn);
    }

    /** Reads a turn about a line: {@code about: [spot, spot]} and {@code by:} an angle. */
    private Pose rotation(Fields fields) {
        int mark = in.mark();
        List<Spot> line = fields.need("about", "Write about: [spot, spot], the line to turn about.")
                .map(node -> line(node))
                .orElse(List.of());
        double rad = fields.need("by", "Write by: and the angle, such as 5 deg.")
                .map(node -> in.angle(node, "by"))
                .orElse(0.0);
        return in.clean(mark) && line.size() == 2
                ? Pose.turn(line.get(0), Direction.from(line.get(0), line.get(1)), rad)
                : Pose.RIDE_HEIGHT;
    }

    /** Reads the two spots of a line. */
    List<Spot> line(YamlNode node) {
        int mark = in.mark();
        List<Spot> line = spots.spots(node, "about", 2);
        if (in.clean(mark) && line.size() != 2) {
            in.complain(
                    Kind.WRONG_COUNT,
                    node.place(),
                    "about has " + line.size() + " spots",
                    "",
                    "Write two on the line.");
        }
        if (in.clean(mark) && !apart(node, line.get(0), line.get(1), "the two spots of about")) {
            return List.of();
        }
        return in.clean(mark) ? line : List.of();
    }

    private Optional<Double> within(Fields fields) {
        return fields.maybe("within").map(node -> in.positive(node, "within"));
    }

    private List<String> kinds(Fields fields) {
        Set<String> kinds = new LinkedHashSet<>();
        fields.maybe("kind").ifPresent(node -> kinds.add(in.text(node, "kind").toLowerCase(Locale.ROOT)));
        fields.maybe("kinds")
                .ifPresent(node -> in.texts(node, "kinds").forEach(kind -> kinds.add(kind.toLowerCase(Locale.ROOT))));
        if (fields.maybe("tyre").isPresent()) {
            kinds.add("tyre");
        }
        return List.copyOf(kinds);
    }

    private String body(YamlNode node) {
        int mark = in.mark();
        String body = in.text(node, "on");
        if (in.clean(mark) && !bodies().contains(body) && !mechanisms.mayBeBroken(body)) {
            MechanismReader.unknownBody(in, node, body, bodies());
        }
        return body;
    }

    private Set<String> bodies() {
        Set<String> bodies = new LinkedHashSet<>();
        bodies.add(Mechanism.GROUND);
        bodies.addAll(mechanisms.bodies());
        bodies.addAll(allowanceBodies);
        return bodies;
    }

    private void mirror(YamlNode.Entry entry, YamlNode.Mapping all) {
        String name = entry.key().text();
        int mark = in.mark();
        Fields fields = Fields.of(in, entry.value(), name);
        YamlNode word = fields.maybe("mirror").orElse(entry.value());
        String of = in.text(word, "mirror");
        Optional<String> note = fields.maybeText("note");
        List<String> kinds = kinds(fields);
        Optional<String> on = fields.maybe("on").map(this::body);
        Optional<Double> within = within(fields);
        fields.close();
        if (!in.clean(mark)) {
            return;
        }
        Car.Hose line = hoses.get(of);
        if (line != null) {
            hoses.put(name, Sides.mirrored(line, name, kinds, note, mechanisms::otherSide));
            return;
        }
        Car.Part source = parts.get(of);
        if (source == null) {
            if (isMirror(all.get(of).orElse(entry.key()))) {
                in.complain(
                        Kind.CONTRADICTION,
                        word.place(),
                        "\"" + of + "\" is itself a mirror",
                        "",
                        "Mirror a part that has a shape.");
            } else if (!names.contains(of)) {
                in.unknown(
                        Kind.UNKNOWN_PART,
                        word,
                        "no part is called \"" + of + "\"",
                        names,
                        "Write the name of a part that has a shape.");
            }
            return;
        }
        String body = on.orElseGet(() -> mechanisms.otherSide(source.body()));
        parts.put(
                name,
                new Car.Part(
                        name,
                        body,
                        kinds.isEmpty() ? source.kinds() : kinds,
                        Sides.mirrored(source.shape()),
                        note.or(source::note),
                        within.or(source::withinMm)));
        mirrorOf.put(name, of);
        Car.Metal plate = metal.get(of);
        if (plate != null && Sides.mirrored(plate.drawn()) instanceof Shape.Plate image) {
            metal.put(name, plate.mirrored(name, image));
        }
        wheels.stream()
                .filter(wheel -> wheel.part().equals(of))
                .findFirst()
                .ifPresent(wheel -> wheels.add(new Car.Wheel(
                        name,
                        body,
                        wheel.centre().mirrored(),
                        wheel.spindle().mirrored(),
                        wheel.nominalDiameterMm(),
                        wheel.nominalWidthMm(),
                        wheel.rimDiameterMm())));
    }

    private Shape standIn() {
        return new Shape.Ball(Spot.ORIGIN, 1);
    }

    /** Reads the one shape among the keys. */
    private Shape shape(Fields fields, String name, String body) {
        List<String> present = new ArrayList<>();
        Map<String, YamlNode> found = new LinkedHashMap<>();
        for (String word : SHAPES) {
            fields.maybe(word).ifPresent(node -> {
                present.add(word);
                found.put(word, node);
            });
        }
        Optional<YamlNode> meshUnit = present.contains("mesh") ? fields.maybe("unit") : Optional.empty();
        if (present.isEmpty()) {
            if (fields.isReal() && !fields.hasStrangers()) {
                in.complain(
                        Kind.MISSING,
                        fields.node().place(),
                        name + " has no shape",
                        "",
                        "Write one of " + Reading.oneOf(SHAPES) + ".");
            }
            return standIn();
        }
        if (present.size() > 1) {
            in.complain(
                    Kind.CONTRADICTION,
                    fields.node().place(),
                    name + " has " + present.size() + " shapes: " + String.join(", ", present),
                    "",
                    "Keep one, or put them into group: [...].");
            return standIn();
        }
        String word = present.get(0);
        YamlNode node = found.getOrDefault(word, fields.node());
        int mark = in.mark();
        Shape shape = switch (word) {
            case "ball" -> ball(node);
            case "tube" -> tube(node);
            case "cylinder" -> cylinder(node);
            case "box" -> box(node);
            case "plate" -> plate(node, name);
            case "tyre" -> tyre(node, name, body);
            case "hull" -> hull(node);
            case "turned" -> turned(node);
            case "mesh" -> mesh(node, meshUnit);
            default -> group(node, name, body);
        };
        if (in.clean(mark)) {
            Solid.whyNot(shape).ifPresent(why -> complainAboutSolid(node, why));
        }
        return in.clean(mark) ? shape : standIn();
    }

    /** Tells why no solid can be made: a sentence that says what is wrong, and one that says what to do. */
    private void complainAboutSolid(YamlNode node, String why) {
        String[] sentences = why.split("\\. (?=[A-Z])", 2);
        in.complain(
                Kind.IMPOSSIBLE_SHAPE,
                node.place(),
                sentences[0],
                "",
                sentences.length > 1 ? sentences[1] + "." : "Measure it again.");
    }

    private Shape group(YamlNode node, String name, String body) {
        List<Shape> members = new ArrayList<>();
        for (YamlNode item : in.list(node, "group", false)) {
            Fields fields = Fields.of(in, item, "a member of " + name);
            members.add(shape(fields, "a member of " + name, body));
            fields.close();
        }
        if (members.isEmpty()) {
            if (node instanceof YamlNode.Sequence) {
                in.complain(Kind.WRONG_COUNT, node.place(), "group is empty", "", "Write at least one shape in it.");
            }
            return standIn();
        }
        return new Shape.Group(members);
    }

    private Spot spot(Fields fields, String key) {
        return fields.need(key, "Write a point's name or [ahead, left, up].")
                .map(node -> spots.spot(node, key))
                .orElse(Spot.ORIGIN);
    }

    private Shape ball(YamlNode node) {
        Fields fields = Fields.of(in, node, "ball");
        int mark = in.mark();
        Spot centre = spot(fields, "centre");
        double diameter = fields.positive("diameter", "Write the diameter.");
        fields.close();
        return in.clean(mark) ? new Shape.Ball(centre, diameter / 2) : standIn();
    }

    private Shape tube(YamlNode node) {
        Fields fields = Fields.of(in, node, "tube");
        int mark = in.mark();
        double od = fields.positive("od", "Write od: and the outside diameter.");
        Optional<YamlNode> radius = fields.maybe("centreline radius");
        double bend = radius.map(n -> in.notNegative(n, "centreline radius")).orElse(0.0);
        Optional<YamlNode> path = fields.need("through", "Write through: [one end, each corner, other end].");
        List<Spot> through = path.map(n -> spots.spots(n, "through", 2)).orElse(List.of());
        fields.close();
        if (!in.clean(mark)) {
            return standIn();
        }
        List<YamlNode> items = in.list(path.orElse(node), "through", false);
        checkBends(items, through, bend, radius.orElse(node));
        return in.clean(mark) ? new Shape.Tube(through, od, bend) : standIn();
    }

    private void checkBends(List<YamlNode> items, List<Spot> through, double bend, YamlNode radius) {
        double usedBefore = 0;
        for (int i = 0; i + 1 < through.size(); i++) {
            double run = through.get(i).distanceTo(through.get(i + 1));
            if (run <= SpotReader.SAME_SPOT_MM) {
                in.complain(
                        Kind.IMPOSSIBLE_SHAPE,
                        items.get(i + 1).place(),
                        "spots " + (i + 1) + " and " + (i + 2) + " of the tube are the same",
                        "",
                        "Leave one of them away.");
                return;
            }
            double usedAfter = i + 2 < through.size() ? tangent(through, i + 1, bend) : 0;
            if (usedBefore + usedAfter > run + BEND_ROUNDING_MM) {
                in.complain(
                        Kind.IMPOSSIBLE_SHAPE,
                        radius.place(),
                        "the bends need " + print(usedBefore + usedAfter) + " of straight between spots " + (i + 1)
                                + " and " + (i + 2) + ", which are " + print(run) + " apart",
                        "",
                        "Make the centreline radius less, or measure the corners again.");
                return;
            }
            usedBefore = usedAfter;
        }
    }

    /** Returns how much of each neighbouring run a bend uses: r tan(half the turn). */
    private static double tangent(List<Spot> through, int corner, double bend) {
        Direction before = Direction.from(through.get(corner - 1), through.get(corner));
        Spot end = through.get(corner + 1);
        if (through.get(corner).distanceTo(end) <= SpotReader.SAME_SPOT_MM) {
            return 0;
        }
        double cos = before.dot(Direction.from(through.get(corner), end));
        return bend * Math.sqrt(Math.max(0, 1 - cos) / Math.max(1 + cos, 1e-12));
    }

    private String print(double mm) {
        return LengthFormat.usual(in.unit()).print(mm);
    }

    private Shape cylinder(YamlNode node) {
        Fields fields = Fields.of(in, node, "cylinder");
        int mark = in.mark();
        Spot from = spot(fields, "from");
        Spot to = spot(fields, "to");
        double diameter = fields.positive("diameter", "Write the diameter.");
        double inside = fields.notNegative("inside diameter", 0);
        fields.close();
        if (in.clean(mark) && inside >= diameter) {
            in.complain(
                    Kind.IMPOSSIBLE_SHAPE,
                    node.place(),
                    "the inside diameter " + print(inside) + " is not less than the diameter " + print(diameter),
                    "",
                    "Measure them again.");
        }
        if (!in.clean(mark) || !apart(node, from, to, "from and to")) {
            return standIn();
        }
        double length = from.distanceTo(to);
        double r = inside / 2;
        double outer = diameter / 2;
        return new Shape.Turned(
                from,
                Direction.from(from, to),
                List.of(new Flat(0, r), new Flat(length, r), new Flat(length, outer), new Flat(0, outer)),
                0);
    }

    private boolean apart(YamlNode node, Spot a, Spot b, String what) {
        if (a.distanceTo(b) > SpotReader.SAME_SPOT_MM) {
            return true;
        }
        in.complain(Kind.IMPOSSIBLE_SHAPE, node.place(), what + " are the same spot", "", "Give two different spots.");
        return false;
    }

    private Shape box(YamlNode node) {
        Fields fields = Fields.of(in, node, "box");
        int mark = in.mark();
        Optional<YamlNode> corner = fields.maybe("from corner");
        if (corner.isPresent()) {
            Spot from = spots.spot(corner.get(), "from corner");
            Spot to = spot(fields, "to corner");
            fields.close();
            return in.clean(mark) ? boxBetween(node, from, to) : standIn();
        }
        Spot centre = spot(fields, "centre");
        List<Double> size = fields.need("size", "Write size: [length, width, height].")
                .map(this::sizes)
                .orElse(List.of(1.0, 1.0, 1.0));
        Optional<YamlNode> alongNode = fields.maybe("along");
        Optional<YamlNode> acrossNode = fields.maybe("across");
        Direction along = alongNode.map(n -> spots.direction(n, "along")).orElse(Direction.FORWARD);
        Direction across = acrossNode.map(n -> spots.direction(n, "across")).orElseGet(() -> sideways(along));
        fields.close();
        if (!in.clean(mark)) {
            return standIn();
        }
        double skew = along.dot(across);
        if (Math.abs(skew) > SQUARE_WITHIN) {
            in.complain(
                    Kind.IMPOSSIBLE_SHAPE,
                    acrossNode.or(() -> alongNode).orElse(node).place(),
                    "along and across are not square to each other",
                    "",
                    "Give a direction for across that is at right angles to along, within 5 degrees.");
            return standIn();
        }
        return new Shape.Box(centre, along, square(along, across), size.get(0), size.get(1), size.get(2));
    }

    /** Returns the level direction at right angles to one that is not vertical; left for a vertical one. */
    private static Direction sideways(Direction along) {
        double level = Math.hypot(along.x(), along.y());
        return level < SQUARE_WITHIN ? square(along, Direction.LEFT) : Direction.of(-along.y(), along.x(), 0);
    }

    private static Direction square(Direction along, Direction across) {
        double d = along.dot(across);
        return Direction.of(across.x() - d * along.x(), across.y() - d * along.y(), across.z() - d * along.z());
    }

    private Shape boxBetween(YamlNode node, Spot from, Spot to) {
        double l = Math.abs(to.x() - from.x());
        double w = Math.abs(to.y() - from.y());
        double h = Math.abs(to.z() - from.z());
        if (Math.min(l, Math.min(w, h)) <= SpotReader.SAME_SPOT_MM) {
            in.complain(
                    Kind.IMPOSSIBLE_SHAPE,
                    node.place(),
                    "the two corners enclose no room",
                    "",
                    "Give corners that differ ahead, sideways and in height.");
            return standIn();
        }
        Spot centre = new Spot((from.x() + to.x()) / 2, (from.y() + to.y()) / 2, (from.z() + to.z()) / 2);
        return new Shape.Box(centre, Direction.FORWARD, Direction.LEFT, l, w, h);
    }

    private List<Double> sizes(YamlNode node) {
        List<YamlNode> items = in.list(node, "size", false);
        if (items.size() != 3) {
            if (node instanceof YamlNode.Sequence) {
                in.complain(
                        Kind.WRONG_COUNT,
                        node.place(),
                        "size has " + items.size() + " lengths",
                        "",
                        "Write three: [length, width, height].");
            }
            return List.of(1.0, 1.0, 1.0);
        }
        return items.stream().map(item -> in.positive(item, "size")).toList();
    }

    private Shape plate(YamlNode node, String name) {
        Fields fields = Fields.of(in, node, "plate");
        int mark = in.mark();
        double thick = fields.positive("thick", "Write thick: and the thickness.");
        Optional<YamlNode> outlineNode = fields.need("outline", "Write outline: [[along, up], ...].");
        List<Flat> outline = outlineNode
                .map(n -> in.list(n, "outline", false).stream()
                        .map(item -> flat(item, "outline"))
                        .toList())
                .orElse(List.of());
        List<Shape.Plate.Hole> holes = new ArrayList<>();
        for (YamlNode item :
                fields.maybe("holes").map(n -> in.list(n, "holes", false)).orElse(List.of())) {
            hole(item).ifPresent(holes::add);
        }
        Optional<YamlNode> cornersNode =
                fields.need("corners on car", "Write corners on car: [spot of corner 1, of corner 2, of corner 3].");
        List<Spot> corners =
                cornersNode.map(n -> spots.spots(n, "corners on car", 3)).orElse(List.of());
        Optional<Direction> towards = fields.maybe("towards").map(n -> spots.direction(n, "towards"));
        Optional<YamlNode> cutsNode = fields.maybe("cuts");
        Optional<YamlNode> weldsNode = fields.maybe("welds");
        Optional<YamlNode> keepNode = fields.maybe("keep");
        Optional<Double> edgeDistance = fields.maybe("edge distance").map(n -> in.positive(n, "edge distance"));
        fields.close();
        if (outline.size() < 3 && in.clean(mark)) {
            in.complain(
                    Kind.WRONG_COUNT,
                    outlineNode.orElse(node).place(),
                    "the outline has " + outline.size() + " corners",
                    "",
                    "Write at least three.");
        }
        if (corners.size() > 3 && in.clean(mark)) {
            in.complain(
                    Kind.WRONG_COUNT,
                    cornersNode.orElse(node).place(),
                    "corners on car has " + corners.size() + " spots",
                    "",
                    "Write three: where corners 1, 2 and 3 of the outline are.");
        }
        if (!in.clean(mark)) {
            return standIn();
        }
        Shape placed = placed(cornersNode.orElse(node), name, thick, outline, holes, corners, towards);
        if (!in.clean(mark) || !(placed instanceof Shape.Plate drawn)) {
            return standIn();
        }
        Optional<String> wrong = Solid.whyNot(drawn);
        if (wrong.isPresent()) {
            complainAboutSolid(node, wrong.get());
            return standIn();
        }
        CutReader reader = new CutReader(in);
        List<Cut> cuts = new ArrayList<>();
        Shape.Plate left = drawn;
        for (YamlNode item : cutsNode.map(n -> in.list(n, "cuts", false)).orElse(List.of())) {
            Fields cutFields = Fields.of(in, item, "the cut");
            Optional<Cut> cut = reader.read(cutFields, left, name);
            cutFields.close();
            if (cut.isEmpty() || !in.clean(mark)) {
                return standIn();
            }
            cuts.add(cut.get());
            left = PlateCuts.after(left, cut.get());
        }
        List<Car.Metal.Weld> welds = weldsNode.map(n -> welds(n, drawn, name)).orElse(List.of());
        List<List<Flat>> keep = keepNode.map(this::keep).orElse(List.of());
        lastPlate = Optional.of(new Car.Metal(name, drawn, cuts, welds, keep, edgeDistance));
        return in.clean(mark) ? left : standIn();
    }

    private List<Car.Metal.Weld> welds(YamlNode node, Shape.Plate plate, String name) {
        PlateEdges edges = PlateEdges.of(plate);
        List<Car.Metal.Weld> welds = new ArrayList<>();
        for (YamlNode item : in.list(node, "welds", true)) {
            int mark = in.mark();
            String words = in.text(item, "welds");
            OptionalInt edge = edges.edge(words);
            if (in.clean(mark) && edge.isEmpty()) {
                CutReader.unknownEdge(in, item, words, edges, name);
            }
            edge.ifPresent(e -> welds.add(
                    new Car.Metal.Weld(edges.name(e), PlateCuts.corner(plate, e), PlateCuts.corner(plate, e + 1))));
        }
        return welds;
    }

    /** Reads one figure, {@code [[along, up], ...]}, or a list of figures. */
    private List<List<Flat>> keep(YamlNode node) {
        List<YamlNode> items = in.list(node, "keep", false);
        boolean several = !items.isEmpty()
                && items.get(0) instanceof YamlNode.Sequence first
                && !first.items().isEmpty()
                && first.items().get(0) instanceof YamlNode.Sequence;
        List<List<Flat>> figures = new ArrayList<>();
        for (YamlNode figure : several ? items : List.of(node)) {
            int mark = in.mark();
            List<Flat> corners = new ArrayList<>();
            for (YamlNode corner : in.list(figure, "keep", false)) {
                corners.add(flat(corner, "keep"));
            }
            if (in.clean(mark) && corners.size() < 3) {
                in.complain(
                        Kind.WRONG_COUNT,
                        figure.place(),
                        "keep has " + corners.size() + (corners.size() == 1 ? " corner" : " corners"),
                        "",
                        "Write at least three: [[along, up], ...].");
            }
            figures.add(corners);
        }
        return figures;
    }

    private Shape placed(
            YamlNode at,
            String name,
            double thick,
            List<Flat> outline,
            List<Shape.Plate.Hole> holes,
            List<Spot> corners,
            Optional<Direction> towards) {
        for (int i = 0; i < 3; i++) {
            int j = (i + 1) % 3;
            double drawn = Math.hypot(
                    outline.get(j).x() - outline.get(i).x(),
                    outline.get(j).y() - outline.get(i).y());
            double measured = corners.get(i).distanceTo(corners.get(j));
            if (Math.abs(drawn - measured) > READINGS * withinMm) {
                in.complain(
                        Kind.CONTRADICTION,
                        at.place(),
                        "corners " + (Math.min(i, j) + 1) + " and " + (Math.max(i, j) + 1) + " of " + name + " are "
                                + print(measured) + " apart on the car and " + print(drawn) + " in the outline",
                        "They may differ by " + print(READINGS * withinMm) + ".",
                        "Measure the corners again, or correct the outline.");
                return standIn();
            }
        }
        Flat p1 = outline.get(0);
        Flat p2 = outline.get(1);
        Flat p3 = outline.get(2);
        double d12 = Math.hypot(p2.x() - p1.x(), p2.y() - p1.y());
        double ax = (p2.x() - p1.x()) / Math.max(d12, SpotReader.SAME_SPOT_MM);
        double ay = (p2.y() - p1.y()) / Math.max(d12, SpotReader.SAME_SPOT_MM);
        double off = ax * (p3.y() - p1.y()) - ay * (p3.x() - p1.x());
        Spot s1 = corners.get(0);
        Spot s2 = corners.get(1);
        Spot s3 = corners.get(2);
        if (d12 <= READINGS * withinMm || Math.abs(off) <= READINGS * withinMm) {
            in.complain(
                    Kind.IMPOSSIBLE_SHAPE,
                    at.place(),
                    "the first three corners of " + name + " lie in one line or too near to each other",
                    "",
                    "Begin the outline with three corners that make a triangle.");
            return standIn();
        }
        Direction first = Direction.from(s1, s2);
        Direction to3 = Direction.from(s1, s3);
        // From corner 1 to 2 on the car, and square to it on the side of corner 3.
        Direction second = square(first, to3);
        double side = Math.signum(off);
        Direction along = Direction.of(
                ax * first.x() - side * ay * second.x(),
                ax * first.y() - side * ay * second.y(),
                ax * first.z() - side * ay * second.z());
        Direction up = Direction.of(
                ay * first.x() + side * ax * second.x(),
                ay * first.y() + side * ax * second.y(),
                ay * first.z() + side * ax * second.z());
        Spot origin = s1.along(along, -p1.x()).along(up, -p1.y());
        Direction thicker = Sides.cross(along, up);
        if (towards.isPresent() && thicker.dot(towards.get()) < 0) {
            origin = origin.along(thicker, -thick);
        }
        return new Shape.Plate(origin, along, up, thick, outline, holes);
    }

    private Flat flat(YamlNode node, String what) {
        int mark = in.mark();
        List<YamlNode> items = in.list(node, what, false);
        if (items.size() != 2) {
            if (node instanceof YamlNode.Sequence) {
                in.complain(
                        Kind.WRONG_COUNT,
                        node.place(),
                        "a corner of " + what + " has " + items.size() + " numbers",
                        "",
                        "Write two in brackets.");
            }
            return new Flat(0, 0);
        }
        double x = in.length(items.get(0), what);
        double y = in.length(items.get(1), what);
        return in.clean(mark) ? new Flat(x, y) : new Flat(0, 0);
    }

    private Optional<Shape.Plate.Hole> hole(YamlNode node) {
        int mark = in.mark();
        Fields fields = Fields.of(in, node, "hole");
        Flat at = fields.need("at", "Write at: [along, up].")
                .map(n -> flat(n, "at"))
                .orElse(new Flat(0, 0));
        double diameter = fields.positive("diameter", "Write the diameter.");
        fields.close();
        return in.clean(mark) ? Optional.of(new Shape.Plate.Hole(at, diameter)) : Optional.empty();
    }

    private Shape hull(YamlNode node) {
        Fields fields = Fields.of(in, node, "hull");
        int mark = in.mark();
        List<Spot> corners = fields.need("corners", "Write corners: [spot, spot, ...].")
                .map(n -> spots.spots(n, "corners", 1))
                .orElse(List.of());
        double rounding = fields.notNegative("rounding", 0);
        fields.close();
        return in.clean(mark) ? new Shape.Hull(corners, rounding) : standIn();
    }

    private Shape turned(YamlNode node) {
        Fields fields = Fields.of(in, node, "turned");
        int mark = in.mark();
        Spot centre = spot(fields, "centre");
        Direction axis = fields.need("axis", "Write axis: and a direction.")
                .map(n -> spots.direction(n, "axis"))
                .orElse(Direction.LEFT);
        Optional<YamlNode> profileNode = fields.need("profile", "Write profile: [[along, radius], ...].");
        List<YamlNode> items =
                profileNode.map(n -> in.list(n, "profile", false)).orElse(List.of());
        List<Flat> profile = new ArrayList<>();
        for (YamlNode item : items) {
            Flat corner = flat(item, "profile");
            if (corner.y() < 0) {
                in.complain(
                        Kind.OUT_OF_RANGE,
                        item.place(),
                        "profile: a radius is below zero",
                        "",
                        "Write [along the axis, distance from the axis].");
            }
            profile.add(corner);
        }
        double rounding = fields.notNegative("rounding", 0);
        fields.close();
        if (in.clean(mark) && profile.size() < 3) {
            in.complain(
                    Kind.WRONG_COUNT,
                    profileNode.orElse(node).place(),
                    "the profile has " + profile.size() + " corners",
                    "",
                    "Write at least three.");
        }
        return in.clean(mark) ? new Shape.Turned(centre, axis, profile, rounding) : standIn();
    }

    private Shape mesh(YamlNode node, Optional<YamlNode> unitNode) {
        int mark = in.mark();
        String file = in.text(node, "mesh");
        String unit = unitNode.map(n -> in.choice(n, "unit", List.of("mm", "in", "m", "cm")))
                .orElse("");
        if (in.clean(mark) && unit.isEmpty()) {
            in.complain(
                    Kind.MISSING,
                    node.place(),
                    "nothing says in which unit " + file + " is drawn",
                    "",
                    "Write unit: mm, in, cm or m beside mesh.");
        }
        return in.clean(mark) ? meshes.mesh(in, node, file, unit).orElse(standIn()) : standIn();
    }

    private Shape tyre(YamlNode node, String name, String body) {
        Fields fields = Fields.of(in, node, "tyre");
        int mark = in.mark();
        Optional<YamlNode> sizeNode = fields.need("size", "Write size: as on the side wall, such as 205/70R15.");
        Optional<TyreSize> size = sizeNode.flatMap(this::tyreSize);
        Optional<YamlNode> rimNode = fields.maybe("rim width");
        Optional<YamlNode> backspacing = fields.maybe("backspacing");
        Optional<YamlNode> offset = fields.maybe("offset");
        Optional<YamlNode> centreNode = fields.maybe("centre");
        Optional<YamlNode> faceNode = fields.maybe("mounting face");
        Optional<YamlNode> spindleNode = fields.maybe("spindle");
        double spacer = fields.notNegative("spacer", 0);
        boolean largest = !"nominal"
                .equals(fields.maybe("envelope")
                        .map(n -> in.choice(n, "envelope", List.of("largest", "nominal")))
                        .orElse("largest"));
        boolean wheel = fields.maybe("wheel").map(n -> in.yesOrNo(n, "wheel")).orElse(true);
        fields.close();
        double rim = rimNode.map(n -> in.positive(n, "rim width")).orElse(-1.0);
        if (!in.clean(mark) || size.isEmpty()) {
            return standIn();
        }
        rim = checkedRim(fields, rimNode, rim, size.get());
        if (!in.clean(mark)) {
            return standIn();
        }
        double offsetMm = offset(fields, backspacing, offset, rim);
        if (!in.clean(mark)) {
            return standIn();
        }
        Optional<Spot> centre = centreNode.map(n -> spots.spot(n, "centre"));
        Optional<Spot> face = faceNode.map(n -> spots.spot(n, "mounting face"));
        if (centre.isPresent() == face.isPresent()) {
            Optional<Spot> ofLayout = mechanisms.pointOfBody(body, "wheel centre");
            if (centre.isEmpty() && ofLayout.isEmpty() && mechanisms.mayBeBroken(body)) {
                // The mechanism's own mistake is told already; with it mended the layout gives the centre.
                return standIn();
            }
            if (centre.isPresent() || ofLayout.isEmpty()) {
                in.complain(
                        centre.isPresent() ? Kind.CONTRADICTION : Kind.MISSING,
                        fields.node().place(),
                        centre.isPresent() ? name + " has both centre and mounting face" : name + " has no place",
                        "",
                        "Write centre: (the middle of the rim) or mounting face: and a spot.");
                return standIn();
            }
            centre = ofLayout;
            placedByMechanism.add(name);
        }
        Spot known = centre.or(() -> face).orElse(Spot.ORIGIN);
        Direction spindle = spindle(spindleNode, known);
        if (!in.clean(mark)) {
            return standIn();
        }
        double out = offsetMm;
        Spot middle = centre.orElseGet(() -> known.along(spindle, -out)).along(spindle, spacer);
        wheels.add(new Car.Wheel(
                name,
                body,
                middle,
                spindle,
                tyres.designDiameterMm(size.get()),
                tyres.sectionWidthMm(size.get(), rim),
                tyres.flangeDiameterMm(size.get())));
        return tyres.shape(new Tyres.Fitment(size.get(), rim, offsetMm, largest, wheel), middle, spindle);
    }

    Optional<TyreSize> tyreSize(YamlNode node) {
        int mark = in.mark();
        String text = in.text(node, "size");
        if (!in.clean(mark)) {
            return Optional.empty();
        }
        Parsed<TyreSize> parsed = TyreSize.parse(text);
        if (parsed instanceof Parsed.Refused<TyreSize> refused) {
            in.complain(Kind.NOT_A_TYRE, node.place(), refused.reason(), "", refused.advice());
            return Optional.empty();
        }
        Optional<TyreSize> size = parsed.value();
        if (size.isPresent() && tyres.rimDiameterMm(size.get().rimCode()).isEmpty()) {
            in.complain(
                    Kind.NOT_A_TYRE,
                    node.place(),
                    "\"" + text + "\" is for a rim of " + size.get().rimCode() + " in., which is not in the tables",
                    "",
                    "Check the size; rims of 10 and 12 to 22 in. are known.");
            return Optional.empty();
        }
        return size;
    }

    private double checkedRim(Fields fields, Optional<YamlNode> node, double rim, TyreSize size) {
        OptionalDouble measuring = tyres.measuringRimMm(size);
        if (size.isInch() && measuring.isEmpty()) {
            in.complain(
                    Kind.NOT_A_TYRE,
                    fields.node().place(),
                    "the measuring rim of " + size.written() + " is not in the tables",
                    "",
                    "Draw the tyre with turned:, or use a metric size that is as wide and high.");
            return 1;
        }
        if (node.isEmpty()) {
            if (measuring.isEmpty()) {
                in.complain(
                        Kind.MISSING,
                        fields.node().place(),
                        "tyre has no \"rim width\"",
                        "",
                        "Write rim width: and the width between the bead seats, such as 7 in.");
            }
            return measuring.orElse(1);
        }
        double narrow = size.widthMm() / 2;
        double wide = size.widthMm() * 1.25;
        if (rim < narrow || rim > wide) {
            in.complain(
                    Kind.OUT_OF_RANGE,
                    node.get().place(),
                    "rim width: " + LengthFormat.exact(in.unit()).print(rim) + " does not hold a tyre "
                            + LengthFormat.exact(in.unit()).print(size.widthMm()) + " wide",
                    "A rim is half to one and a quarter of the tyre's width.",
                    "Write the width between the bead seats with its unit, such as 7 in.");
        }
        return rim;
    }

    private double offset(Fields fields, Optional<YamlNode> backspacing, Optional<YamlNode> offset, double rim) {
        if (backspacing.isPresent() == offset.isPresent()) {
            in.complain(
                    backspacing.isPresent() ? Kind.CONTRADICTION : Kind.MISSING,
                    fields.node().place(),
                    backspacing.isPresent()
                            ? "tyre has both backspacing and offset"
                            : "tyre has neither backspacing nor offset",
                    "",
                    "Write one of them: backspacing from the inner edge of the rim to the mounting face, or offset"
                            + " from the middle of the rim, positive outboard.");
            return 0;
        }
        YamlNode node = backspacing.or(() -> offset).orElse(fields.node());
        int mark = in.mark();
        double mm = backspacing.isPresent()
                ? tyres.offsetMm(in.notNegative(node, "backspacing"), rim)
                : in.length(node, "offset");
        double edge = tyres.overallRimWidthMm(rim) / 2;
        if (in.clean(mark) && Math.abs(mm) >= edge) {
            in.complain(
                    Kind.OUT_OF_RANGE,
                    node.place(),
                    "the mounting face would lie outside the rim, which is " + print(2 * edge) + " wide over all",
                    "",
                    "Check rim width and " + (backspacing.isPresent() ? "backspacing." : "offset."));
        }
        return mm;
    }

    /** Returns the spindle's direction, outboard: straight out where nothing is said. */
    private Direction spindle(Optional<YamlNode> node, Spot centre) {
        Direction outboard = centre.y() < 0 ? Direction.LEFT.reversed() : Direction.LEFT;
        if (node.isEmpty()) {
            return outboard;
        }
        boolean isSpot = node.get() instanceof YamlNode.Scalar scalar && spots.has(scalar.text());
        if (!isSpot) {
            Direction direction = spots.direction(node.get(), "spindle");
            return direction.dot(outboard) < 0 ? direction.reversed() : direction;
        }
        Spot other = spots.spot(node.get(), "spindle");
        if (!apart(node.get(), centre, other, "the wheel centre and the spot on its spindle")) {
            return outboard;
        }
        Direction direction = Direction.from(other, centre);
        return direction.dot(outboard) < 0 ? direction.reversed() : direction;
    }
}
