package daylight.car;

import daylight.car.Complaint.Kind;
import daylight.geometry.Spot;
import daylight.linkage.Linkage;
import daylight.linkage.Mechanism;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** Reads the mechanisms of a car file and compiles them from their layouts. One per car. */
final class MechanismReader {
    /** As a prefix: the car's points are called as the layout calls them. */
    private static final String NO_PREFIX = "none";

    private static final int NAMED_IN_ONE_LINE = 3;
    /** Ends of one shared movement that differ by less are the same: far below what any tape reads. */
    private static final double SAME_END = 1e-6;

    private final Reading in;
    private final SpotReader spots;
    private final Shelf shelf;
    private final Map<String, Made> made = new LinkedHashMap<>();
    private final Set<String> broken = new LinkedHashSet<>();
    private final Map<String, String> bodyOwners = new LinkedHashMap<>();
    /** For each body the mechanism that carries it in the end: its own, or the one on which it hangs. */
    private final Map<String, String> roots = new LinkedHashMap<>();

    private final List<Car.Point> mirrorImages = new ArrayList<>();
    private final List<Car.MirrorCheck> checks = new ArrayList<>();

    /**
     * A mechanism with what it was made of.
     *
     * @param names the car's point behind each point of the layout, where it has a name
     */
    private record Made(
            YamlNode.Scalar key,
            Layout layout,
            Map<String, Spot> points,
            Map<String, String> names,
            Map<String, Double> limits,
            Map<String, String> on,
            Optional<String> mirrorOf,
            Mechanism mechanism,
            List<Readout> readouts,
            List<Limit> ends,
            List<Limit> written,
            MechanismOptions options) {}

    MechanismReader(Reading in, SpotReader spots, Shelf shelf) {
        this.in = in;
        this.shelf = shelf;
        this.spots = spots;
    }

    /** Reads the section. */
    void read(YamlNode node) {
        if (!(node instanceof YamlNode.Mapping mapping)) {
            in.wrongKind(node, "mechanisms", "names, each with {layout: ...}");
            return;
        }
        Fields.complainAboutTwins(in, mapping);
        List<YamlNode.Entry> attached = new ArrayList<>();
        List<YamlNode.Entry> mirrors = new ArrayList<>();
        for (YamlNode.Entry entry : mapping.entries()) {
            if (entry.value() instanceof YamlNode.Mapping keys
                    && keys.get("mirror").isPresent()) {
                mirrors.add(entry);
            } else if (entry.value() instanceof YamlNode.Mapping keys
                    && keys.get("on").isPresent()) {
                attached.add(entry);
            } else {
                own(entry);
            }
        }
        // A mechanism may hang on bodies of another, and a mirrored one on those of a mirrored one: others first.
        List<YamlNode.Entry> mirrorsOfAttached = new ArrayList<>();
        for (YamlNode.Entry entry : mirrors) {
            String of = ((YamlNode.Mapping) entry.value())
                    .get("mirror")
                    .map(n -> n instanceof YamlNode.Scalar s ? s.text() : "")
                    .orElse("");
            if (attached.stream().anyMatch(a -> a.key().text().equals(of))) {
                mirrorsOfAttached.add(entry);
            } else {
                mirror(entry, mapping);
            }
        }
        attached.forEach(entry -> own(entry));
        mirrorsOfAttached.forEach(entry -> mirror(entry, mapping));
        checkSharedMovements();
    }

    /** Returns the mechanisms, in file order; what hangs on the bodies of another is part of that one. */
    List<Mechanism> mechanisms() {
        Map<String, Mechanism> byName = new LinkedHashMap<>();
        made.values().stream()
                .sorted((a, b) ->
                        Integer.compare(a.key.place().start(), b.key.place().start()))
                .filter(m -> m.mechanism.bodies().stream()
                        .anyMatch(body -> m.mechanism.name().equals(roots.get(body))))
                .forEach(m -> byName.put(m.mechanism.name(), share(m.mechanism, m.mechanism.name())));
        for (Made m : made.values()) {
            Set<String> carriedBy = new LinkedHashSet<>();
            m.mechanism.bodies().forEach(body -> carriedBy.add(roots.getOrDefault(body, "")));
            carriedBy.remove(m.mechanism.name());
            carriedBy.forEach(root ->
                    byName.computeIfPresent(root, (name, carrier) -> joined(carrier, share(m.mechanism, root))));
        }
        byName.values().forEach(this::checkThatItCanBeSolved);
        return List.copyOf(byName.values());
    }

    /** Complains about a mechanism whose points leave something loose, or hold it twice. */
    private void checkThatItCanBeSolved(Mechanism mechanism) {
        Made m = made.get(mechanism.name());
        if (m == null || shelf.solvable().contains(mechanism)) {
            return;
        }
        try {
            Linkage.of(mechanism);
            shelf.solvable().add(mechanism);
        } catch (IllegalArgumentException e) {
            // What it refuses are points as they were measured: the builder's to mend, and only here is their place
            // in the file known.
            complainAboutPoints(m.key, e);
        }
    }

    private void complainAboutPoints(YamlNode.Scalar key, IllegalArgumentException refused) {
        String why = Objects.requireNonNullElse(refused.getMessage(), "its points do not go together")
                .replace('\n', ' ')
                .replaceAll("[.]+$", "");
        in.complain(
                Kind.CONTRADICTION,
                key.place(),
                why.contains(key.text()) ? why : key.text() + ": " + why,
                "",
                "Measure its points again, and check that each has its right name.");
    }

    /** Returns the part of a mechanism that one other carries (or it itself), with all that joins it. */
    private Mechanism share(Mechanism whole, String root) {
        List<String> own = whole.bodies().stream()
                .filter(body -> root.equals(roots.get(body)))
                .toList();
        List<Mechanism.Joint> joints = whole.joints().stream()
                .filter(joint -> own.contains(joint.bodyA()) || own.contains(joint.bodyB()))
                .toList();
        return new Mechanism(
                whole.name(),
                own,
                joints,
                whole.drivers().stream()
                        .filter(driver -> moves(driver, own, joints))
                        .toList(),
                whole.followers().stream()
                        .filter(follower -> own.contains(follower.body()))
                        .toList());
    }

    private static boolean moves(Mechanism.Driver driver, List<String> own, List<Mechanism.Joint> joints) {
        if (driver instanceof Mechanism.Driver.Rise rise) {
            return own.contains(rise.body());
        } else if (driver instanceof Mechanism.Driver.Travel travel) {
            return own.contains(travel.body());
        } else if (driver instanceof Mechanism.Driver.Turn turn) {
            return own.contains(turn.body());
        } else if (driver instanceof Mechanism.Driver.RodLength length) {
            return joints.stream().anyMatch(joint -> joint.name().equals(length.rod()));
        }
        throw new IllegalStateException("a driver of no known kind: " + driver + ". Please report this.");
    }

    /**
     * Says for each body of a mechanism which mechanism carries it: bodies that are joined to each other (the chassis
     * does not count) belong together, and with the one carrier that one of them hangs on.
     */
    private void findRoots(YamlNode.Scalar key, Mechanism mechanism) {
        Map<String, String> group = new LinkedHashMap<>();
        mechanism.bodies().forEach(body -> group.put(body, body));
        for (Mechanism.Joint joint : mechanism.joints()) {
            unite(group, joint.bodyA(), joint.bodyB());
        }
        for (Mechanism.Follower follower : mechanism.followers()) {
            if (follower instanceof Mechanism.Follower.Aim aim) {
                unite(group, aim.body(), aim.bodyA());
                unite(group, aim.body(), aim.bodyB());
            }
        }
        Map<String, Set<String>> carriers = new LinkedHashMap<>();
        group.forEach((body, of) -> {
            Set<String> roots = carriers.computeIfAbsent(top(group, body), k -> new LinkedHashSet<>());
            Optional.ofNullable(this.roots.get(body)).ifPresent(roots::add);
        });
        for (String body : mechanism.bodies()) {
            Set<String> found = carriers.getOrDefault(top(group, body), Set.of());
            roots.put(body, found.stream().findFirst().orElse(key.text()));
        }
        carriers.values().stream()
                .filter(found -> found.size() > 1)
                .findFirst()
                .ifPresent(found -> in.complain(
                        Kind.CONTRADICTION,
                        key.place(),
                        key.text() + " hangs between " + String.join(" and ", found),
                        "What is joined together hangs on one mechanism at most, besides the chassis.",
                        "Put one end on the chassis."));
    }

    private static void unite(Map<String, String> group, String a, String b) {
        if (!a.equals(Mechanism.GROUND) && !b.equals(Mechanism.GROUND)) {
            group.putIfAbsent(a, a);
            group.putIfAbsent(b, b);
            group.put(top(group, a), top(group, b));
        }
    }

    private static String top(Map<String, String> group, String body) {
        String at = body;
        String above = group.getOrDefault(at, at);
        while (!above.equals(at)) {
            at = above;
            above = group.getOrDefault(at, at);
        }
        return at;
    }

    private static Mechanism joined(Mechanism carrier, Mechanism hung) {
        return new Mechanism(
                carrier.name(),
                both(carrier.bodies(), hung.bodies()),
                both(carrier.joints(), hung.joints()),
                both(
                        carrier.drivers(),
                        hung.drivers().stream()
                                .filter(driver -> carrier.drivers().stream()
                                        .noneMatch(own -> own.name().equals(driver.name())))
                                .toList()),
                both(carrier.followers(), hung.followers()));
    }

    private static <T> List<T> both(List<T> first, List<T> second) {
        List<T> all = new ArrayList<>(first);
        all.addAll(second);
        return all;
    }

    /** Returns what there is to read off the mechanisms, in the order of the file. */
    List<Readout> readouts() {
        return inOrder().flatMap(m -> m.readouts.stream()).toList();
    }

    /** Returns what really ends their movements, in the order of the file. */
    List<Limit> limits() {
        return inOrder().flatMap(m -> m.ends.stream()).toList();
    }

    private Stream<Made> inOrder() {
        return made.values().stream()
                .sorted((a, b) ->
                        Integer.compare(a.key.place().start(), b.key.place().start()));
    }

    /** Returns every handle by its name, and whether it turns. */
    Map<String, Boolean> handles() {
        Map<String, Boolean> handles = new LinkedHashMap<>();
        for (Made m : made.values()) {
            for (Mechanism.Driver driver : m.mechanism.drivers()) {
                handles.putIfAbsent(driver.name(), driver instanceof Mechanism.Driver.Turn);
            }
        }
        return handles;
    }

    /** Returns every body with the mechanism that it belongs to. */
    Set<String> bodies() {
        return bodyOwners.keySet();
    }

    /** Returns whether a name may be a body of a mechanism that could not be read. */
    boolean mayBeBroken(String body) {
        return broken.stream().anyMatch(name -> body.startsWith(name + " "));
    }

    /** Returns the points that are mirror images of measured ones. */
    List<Car.Point> mirrorImages() {
        return mirrorImages;
    }

    /** Returns the measured points that check a mirrored side. */
    List<Car.MirrorCheck> checks() {
        return checks;
    }

    /** Returns the body on the other side: that of the mirrored mechanism, or the same body if there is none. */
    String otherSide(String body) {
        String owner = bodyOwners.get(body);
        Made m = owner == null ? null : made.get(owner);
        if (owner == null || m == null) {
            return body;
        }
        String inside = body.substring(owner.length());
        Optional<String> other = m.mirrorOf;
        if (other.isEmpty()) {
            other = made.values().stream()
                    .filter(candidate -> candidate.mirrorOf.equals(Optional.of(owner)))
                    .map(candidate -> candidate.mechanism.name())
                    .findFirst();
        }
        if (other.isEmpty()) {
            // Two sides of one mechanism, a live axle: the mirror image of its left shackle is its right one.
            String across = Sides.otherName(body);
            return bodyOwners.containsKey(across) ? across : body;
        }
        return other.get() + inside;
    }

    /** Returns the names of the mechanisms that could be read, in order. */
    Set<String> names() {
        return made.keySet();
    }

    /** Returns the mechanism of which one is the other side, if it is a mirror. */
    Optional<String> mirrorOf(String mechanism) {
        return Optional.ofNullable(made.get(mechanism)).flatMap(m -> m.mirrorOf);
    }

    /** Returns the rods whose length can be changed. */
    Set<String> rods() {
        return made.values().stream()
                .flatMap(m -> m.mechanism.joints().stream())
                .filter(joint ->
                        joint instanceof Mechanism.Joint.Rod && joint.sharing().isEmpty())
                .map(Mechanism.Joint::name)
                .collect(Collectors.toCollection(LinkedHashSet::new));
    }

    /** Returns the handles of wheel travel. */
    Set<String> wheelTravels() {
        return made.values().stream()
                .flatMap(m -> m.mechanism.drivers().stream())
                .filter(driver -> driver instanceof Mechanism.Driver.Rise)
                .map(Mechanism.Driver::name)
                .collect(Collectors.toCollection(LinkedHashSet::new));
    }

    /** Returns the shocks and coil-overs. */
    Set<String> shocks() {
        return readouts().stream()
                .filter(readout -> readout instanceof Readout.Length length && length.shock())
                .map(Readout::name)
                .collect(Collectors.toCollection(LinkedHashSet::new));
    }

    /** Returns the keys that say how far a mechanism goes, each with whether it is an angle. */
    Map<String, Boolean> ends(String mechanism) {
        Made m = made.get(mechanism);
        Map<String, Boolean> ends = new LinkedHashMap<>();
        if (m != null) {
            ends.putAll(m.layout.limits());
            m.layout.optionalLimits().forEach(key -> ends.put(key, false));
        }
        return ends;
    }

    /** Returns the spot of a layout's point in the mechanism that owns a body, if there is one. */
    Optional<Spot> pointOfBody(String body, String layoutPoint) {
        Made m = made.get(bodyOwners.getOrDefault(body, ""));
        return m == null ? Optional.empty() : Optional.ofNullable(m.points.get(layoutPoint));
    }

    private void own(YamlNode.Entry entry) {
        int mark = in.mark();
        String name = entry.key().text();
        Fields fields = Fields.of(in, entry.value(), name);
        fields.maybeText("note");
        Optional<YamlNode> word =
                fields.need("layout", "Write layout: and the name of one, or mirror: and a mechanism.");
        Optional<Layout> layout = word.flatMap(this::layout);
        if (layout.isEmpty()) {
            broken.add(name);
            return;
        }
        String prefix = fields.maybeText("prefix")
                .map(written -> written.equals(NO_PREFIX) ? "" : written + " ")
                .orElse(name + " ");
        Map<String, Double> limits = limits(fields, layout.get());
        Map<String, String> on = on(fields, layout.get());
        Map<String, Spot> points = new LinkedHashMap<>();
        Map<String, String> names = new LinkedHashMap<>();
        Optional<Fields> mapped = fields.maybe("points").map(node -> Fields.of(in, node, name + " points"));
        List<Layout.MeasuredPoint> missing = new ArrayList<>();
        for (Layout.MeasuredPoint point : layout.get().points()) {
            String car = prefix + point.name();
            Optional<YamlNode> given = mapped.flatMap(m -> m.maybe(point.name()));
            if (given.isPresent()) {
                if (given.get() instanceof YamlNode.Scalar scalar) {
                    names.put(point.name(), scalar.text());
                }
                points.put(point.name(), spots.spot(given.get(), point.name()));
            } else if (spots.has(car)) {
                names.put(point.name(), car);
                points.put(point.name(), spots.of(car));
            } else if (!point.optional()) {
                missing.add(point);
            }
        }
        mapped.ifPresent(Fields::close);
        MechanismOptions options = MechanismOptions.read(in, fields, layout.get());
        List<Limit> ends = fields.maybe("limits")
                .map(node -> ends(node, name, layout.get(), on))
                .orElse(List.of());
        fields.close();
        if (!missing.isEmpty()) {
            complainAboutMissing(entry.key(), prefix, missing);
        }
        if (in.clean(mark)) {
            complainAboutSameSpots(entry.key(), layout.get(), points);
        }
        if (!in.clean(mark)) {
            broken.add(name);
            return;
        }
        add(entry.key(), layout.get(), points, names, limits, on, Optional.empty(), ends, options);
    }

    private List<Limit> ends(YamlNode node, String name, Layout layout, Map<String, String> on) {
        Set<String> known = new LinkedHashSet<>(List.of(Mechanism.GROUND));
        known.addAll(layout.bodies());
        known.addAll(layout.carriers());
        return new LimitReader(in, spots, known, body -> carWide(body, name, on)).read(node);
    }

    private static String carWide(String body, String mechanism, Map<String, String> on) {
        return body.equals(Mechanism.GROUND) ? body : on.getOrDefault(body, mechanism + " " + body);
    }

    /** Returns a limit's name on the other side. */
    private static String ownEnd(String mechanism, String name) {
        String swapped = Sides.otherName(name);
        return swapped.equals(name) ? mechanism + " " + name : swapped;
    }

    /** Returns the body of a mirrored mechanism, or of what it hangs on, for one of its source. */
    private static String mirroredBody(
            String body, String of, String name, Map<String, String> on, Map<String, String> sourceOn) {
        for (Map.Entry<String, String> carrier : sourceOn.entrySet()) {
            if (carrier.getValue().equals(body)) {
                return on.getOrDefault(carrier.getKey(), body);
            }
        }
        return body.startsWith(of + " ") ? name + body.substring(of.length()) : body;
    }

    private Optional<Layout> layout(YamlNode node) {
        int mark = in.mark();
        String name = in.text(node, "layout");
        if (!in.clean(mark)) {
            return Optional.empty();
        }
        Optional<Layout> layout = shelf.layout(name);
        if (layout.isEmpty()) {
            in.unknown(
                    Kind.UNKNOWN_LAYOUT,
                    node,
                    "no layout is called \"" + name + "\"",
                    Layouts.names(),
                    "Write " + Reading.oneOf(Layouts.names()) + ".");
        }
        return layout;
    }

    private Map<String, Double> limits(Fields fields, Layout layout) {
        Map<String, Double> limits = new LinkedHashMap<>();
        layout.limits()
                .forEach((limit, angle) -> fields.need(
                                limit,
                                angle
                                        ? "Write how far it turns, such as " + limit + ": 60 deg."
                                        : "Write how far it goes from ride height, such as " + limit + ": 3 1/2 in.")
                        .ifPresent(node -> limits.put(limit, angle ? turn(node, limit) : in.notNegative(node, limit))));
        layout.optionalLimits()
                .forEach(limit -> fields.maybe(limit).ifPresent(node -> limits.put(limit, in.positive(node, limit))));
        complainAboutHalfAShock(fields, layout, limits);
        return limits;
    }

    private void complainAboutHalfAShock(Fields fields, Layout layout, Map<String, Double> limits) {
        for (LayoutReadout readout : layout.readouts()) {
            if (readout instanceof LayoutReadout.Length length
                    && length.closed().isPresent()
                    && length.open().isPresent()) {
                String closed = length.closed().get();
                String open = length.open().get();
                Double least = limits.get(closed);
                Double most = limits.get(open);
                if ((least == null) != (most == null)) {
                    in.complain(
                            Kind.MISSING,
                            fields.node().place(),
                            "only one of " + closed + " and " + open + " is given",
                            "",
                            "Write both, between the eyes, or neither.");
                } else if (least != null && most != null && least >= most) {
                    in.complain(
                            Kind.CONTRADICTION,
                            fields.node().place(),
                            open + " is not longer than " + closed,
                            "",
                            "Measure both between the eyes, bolt centre to bolt centre.");
                }
            }
        }
    }

    private double turn(YamlNode node, String limit) {
        int mark = in.mark();
        double rad = in.angle(node, limit);
        if (in.clean(mark) && (rad < 0 || rad > 2 * Math.PI)) {
            in.complain(
                    Kind.OUT_OF_RANGE,
                    node.place(),
                    limit + ": " + node.kind().replace("\"", "") + " is not between nothing and a full turn",
                    "",
                    "Write 0 to 360 deg.");
        }
        return rad;
    }

    private Map<String, String> on(Fields fields, Layout layout) {
        Map<String, String> on = new LinkedHashMap<>();
        if (layout.carriers().isEmpty()) {
            return on;
        }
        Optional<YamlNode> node = fields.need(
                "on",
                "Write on: {" + String.join(": ..., ", layout.carriers())
                        + ": ...} with the bodies on which it hangs.");
        if (node.isEmpty()) {
            return on;
        }
        Fields bodies = Fields.of(in, node.get(), "on");
        for (String carrier : layout.carriers()) {
            Optional<YamlNode> given = bodies.maybe(carrier);
            String body = given.map(n -> in.text(n, carrier)).orElse(Mechanism.GROUND);
            if (given.isPresent() && !body.isEmpty() && !isBody(body) && !mayBeBroken(body)) {
                unknownBody(in, given.get(), body, allBodies());
            }
            on.put(carrier, body);
        }
        bodies.close();
        return on;
    }

    private boolean isBody(String body) {
        return body.equals(Mechanism.GROUND) || bodyOwners.containsKey(body);
    }

    private Set<String> allBodies() {
        Set<String> all = new LinkedHashSet<>();
        all.add(Mechanism.GROUND);
        all.addAll(bodyOwners.keySet());
        return all;
    }

    static void unknownBody(Reading in, YamlNode node, String body, Set<String> known) {
        in.unknown(
                Kind.UNKNOWN_BODY,
                node,
                "no body is called \"" + body + "\"",
                known,
                "Write " + Reading.oneOf(known) + ".");
    }

    private void complainAboutMissing(YamlNode.Scalar key, String prefix, List<Layout.MeasuredPoint> missing) {
        List<String> names = missing.stream()
                .limit(NAMED_IN_ONE_LINE)
                .map(point -> "\"" + prefix + point.name() + "\"")
                .toList();
        int more = missing.size() - names.size();
        String list = more > 0
                ? String.join(", ", names) + " and " + more + " more"
                : Reading.oneOf(names).replace(" or ", " and ");
        String first = prefix + missing.get(0).name();
        Optional<String> near = Spelling.nearest(first, spots.names());
        in.complain(
                Kind.UNKNOWN_POINT,
                key.place(),
                key.text() + " needs " + (missing.size() == 1 ? "the point " : "the points ") + list,
                "",
                otherPrefix(missing)
                        .map(other ->
                                "Write prefix: " + other + ", or name them under points: within " + key.text() + ".")
                        .or(() -> near.map(name -> "Nearest: \"" + name + "\"."))
                        .orElse("Add under points: " + missing.get(0).name() + " is "
                                + sentence(missing.get(0).measure())));
    }

    /** Returns what stands before every missing name in the car's own points, if it is one thing. */
    private Optional<String> otherPrefix(List<Layout.MeasuredPoint> missing) {
        String ending = " " + missing.get(0).name();
        return spots.names().stream()
                .filter(name -> name.endsWith(ending))
                .map(name -> name.substring(0, name.length() - ending.length()))
                .filter(prefix -> missing.stream().allMatch(point -> spots.has(prefix + " " + point.name())))
                .findFirst();
    }

    private static String sentence(String text) {
        return text.endsWith(".") ? text : text + ".";
    }

    private void complainAboutSameSpots(YamlNode.Scalar key, Layout layout, Map<String, Spot> points) {
        List<List<String>> pairs = new ArrayList<>();
        layout.joints().forEach(joint -> pairs.add(joint.points()));
        layout.drivers().forEach(driver -> pairs.add(driver.points()));
        layout.followers().forEach(follower -> pairs.add(List.of(follower.pointA(), follower.pointB())));
        for (Layout.Joint joint : layout.joints()) {
            if (joint instanceof Layout.Joint.Leaf leaf) {
                Spot pad = points.getOrDefault(leaf.pad(), Spot.ORIGIN);
                Spot eye = points.getOrDefault(leaf.eye(), Spot.ORIGIN);
                if (Math.abs(eye.z() - pad.z()) >= Math.hypot(eye.x() - pad.x(), eye.y() - pad.y())) {
                    in.complain(
                            Kind.CONTRADICTION,
                            key.place(),
                            key.text() + ": " + leaf.eye() + " is further above or below " + leaf.pad()
                                    + " than ahead or behind it",
                            "",
                            "Measure their heights again.");
                }
            }
        }
        Set<List<String>> told = new HashSet<>();
        for (List<String> pair : pairs) {
            for (int i = 0; i < pair.size(); i++) {
                for (int j = i + 1; j < pair.size(); j++) {
                    Spot a = points.get(pair.get(i));
                    Spot b = points.get(pair.get(j));
                    if (a != null
                            && b != null
                            && !pair.get(i).equals(pair.get(j))
                            && a.distanceTo(b) <= SpotReader.SAME_SPOT_MM
                            && told.add(List.of(pair.get(i), pair.get(j)))) {
                        in.complain(
                                Kind.CONTRADICTION,
                                key.place(),
                                key.text() + ": " + pair.get(i) + " and " + pair.get(j) + " are one spot",
                                "",
                                "Measure them again.");
                    }
                }
            }
        }
    }

    private void mirror(YamlNode.Entry entry, YamlNode.Mapping all) {
        int mark = in.mark();
        String name = entry.key().text();
        Fields fields = Fields.of(in, entry.value(), name);
        YamlNode word = fields.maybe("mirror").orElse(entry.value());
        String of = in.text(word, "mirror");
        fields.maybeText("note");
        Optional<String> prefix = fields.maybeText("prefix");
        fields.close();
        Made source = made.get(of);
        if (source == null || source.mirrorOf.isPresent() || !source.layout.mirrors()) {
            broken.add(name);
            if (!in.clean(mark) || (broken.contains(of) && !of.equals(name))) {
                return;
            }
            boolean isMirror = all.get(of)
                    .map(n -> n instanceof YamlNode.Mapping m && m.get("mirror").isPresent())
                    .orElse(false);
            if (isMirror) {
                in.complain(
                        Kind.CONTRADICTION,
                        word.place(),
                        "\"" + of + "\" is itself a mirror",
                        "",
                        "Mirror a mechanism that has a layout.");
            } else if (source != null) {
                in.complain(
                        Kind.CONTRADICTION,
                        word.place(),
                        "the layout " + source.layout.name() + " has both sides already",
                        "",
                        "Leave the mirror away.");
            } else {
                Set<String> others = new LinkedHashSet<>(made.keySet());
                in.unknown(
                        Kind.UNKNOWN_MECHANISM,
                        word,
                        "no mechanism is called \"" + of + "\"",
                        others,
                        "Write the name of a mechanism that has a layout.");
            }
            return;
        }
        if (!in.clean(mark)) {
            broken.add(name);
            return;
        }
        Map<String, Spot> points = new LinkedHashMap<>();
        Map<String, String> names = new LinkedHashMap<>();
        source.points.forEach((point, spot) -> {
            Spot image = spot.mirrored();
            points.put(point, image);
            String from = source.names.get(point);
            if (from != null) {
                String own = ownName(name, prefix, point, from);
                names.put(point, own);
                keepImage(own, image, from);
            }
        });
        Map<String, String> on = new LinkedHashMap<>();
        source.on.forEach((carrier, body) -> on.put(carrier, otherSide(body)));
        List<Limit> ends = source.written.stream()
                .map(limit -> LimitReader.mirrored(
                        limit, ownEnd(name, limit.name()), body -> mirroredBody(body, of, name, on, source.on)))
                .toList();
        add(entry.key(), source.layout, points, names, source.limits, on, Optional.of(of), ends, source.options);
    }

    private static String ownName(String mechanism, Optional<String> prefix, String layoutPoint, String from) {
        if (prefix.isPresent()) {
            return prefix.get().equals(NO_PREFIX) ? layoutPoint : prefix.get() + " " + layoutPoint;
        }
        String swapped = Sides.otherName(from);
        return swapped.equals(from) ? mechanism + " " + layoutPoint : swapped;
    }

    /**
     * Returns the names that mirrored mechanisms give to points of the other side, each with the point whose image it
     * is. Looks at names alone and complains about nothing: what is wrong here is said when the section is read.
     */
    Map<String, String> imageNames(YamlNode node) {
        Map<String, String> images = new LinkedHashMap<>();
        if (!(node instanceof YamlNode.Mapping mapping)) {
            return images;
        }
        for (YamlNode.Entry entry : mapping.entries()) {
            if (!(entry.value() instanceof YamlNode.Mapping keys)
                    || keys.get("mirror").isEmpty()) {
                continue;
            }
            String of = written(keys, "mirror").orElse("");
            Optional<String> prefix = written(keys, "prefix");
            if (mapping.get(of).orElse(null) instanceof YamlNode.Mapping source) {
                Optional<Layout> layout = written(source, "layout").flatMap(shelf::layout);
                String sourcePrefix = written(source, "prefix")
                        .map(p -> p.equals(NO_PREFIX) ? "" : p + " ")
                        .orElse(of + " ");
                YamlNode points = source.get("points").orElse(node);
                for (Layout.MeasuredPoint point : layout.map(Layout::points).orElse(List.of())) {
                    Optional<String> given =
                            points instanceof YamlNode.Mapping own ? written(own, point.name()) : Optional.empty();
                    String from = given.orElse(sourcePrefix + point.name());
                    if (spots.has(from)) {
                        images.putIfAbsent(ownName(entry.key().text(), prefix, point.name(), from), from);
                    }
                }
            }
        }
        return images;
    }

    private static Optional<String> written(YamlNode.Mapping keys, String key) {
        return keys.get(key).flatMap(n -> n instanceof YamlNode.Scalar s ? Optional.of(s.text()) : Optional.empty());
    }

    private void keepImage(String own, Spot image, String from) {
        boolean sameImage = mirrorImages.stream().anyMatch(point -> point.name().equals(own));
        if (sameImage) {
            return;
        }
        if (spots.has(own)) {
            checks.add(new Car.MirrorCheck(own, from));
            return;
        }
        spots.add(own, image);
        mirrorImages.add(new Car.Point(own, image, 0, Optional.empty(), Optional.of(from)));
    }

    private void add(
            YamlNode.Scalar key,
            Layout layout,
            Map<String, Spot> points,
            Map<String, String> names,
            Map<String, Double> limits,
            Map<String, String> on,
            Optional<String> mirrorOf,
            List<Limit> ends,
            MechanismOptions options) {
        Mechanism mechanism;
        try {
            mechanism = options.apply(layout.mechanism(key.text(), points, limits, on, mirrorOf.isPresent()));
        } catch (IllegalArgumentException e) {
            complainAboutPoints(key, e);
            broken.add(key.text());
            return;
        }
        for (String body : mechanism.bodies()) {
            String other = bodyOwners.putIfAbsent(body, key.text());
            if (other != null && !other.equals(key.text())) {
                in.complain(
                        Kind.TWICE,
                        key.place(),
                        key.text() + " and " + other + " both have a body \"" + body + "\"",
                        "",
                        "Give one of them another name.");
            }
        }
        findRoots(key, mechanism);
        List<Readout> readouts = new ArrayList<>(layout.readouts(key.text(), points, on, mirrorOf.isPresent()));
        List<Limit> all = new ArrayList<>(layout.limits(key.text(), points, limits, on));
        all.addAll(ends);
        for (Limit limit : ends) {
            if (limit instanceof Limit.Shock shock) {
                readouts.add(new Readout.Length(shock.name(), shock.from(), shock.to(), true));
            }
        }
        made.put(
                key.text(),
                new Made(key, layout, points, names, limits, on, mirrorOf, mechanism, readouts, all, ends, options));
    }

    private void checkSharedMovements() {
        Map<String, Mechanism.Driver> first = new LinkedHashMap<>();
        for (Made m : made.values()) {
            for (Mechanism.Driver driver : m.mechanism.drivers()) {
                Mechanism.Driver other = first.putIfAbsent(driver.name(), driver);
                if (other != null
                        && (Math.abs(other.lowest() - driver.lowest()) > SAME_END
                                || Math.abs(other.highest() - driver.highest()) > SAME_END)) {
                    in.complain(
                            Kind.CONTRADICTION,
                            m.key.place(),
                            m.key.text() + " goes another way in " + driver.name()
                                    + " than the mechanism that shares it",
                            "",
                            "Give both the same limits.");
                }
            }
        }
    }
}
