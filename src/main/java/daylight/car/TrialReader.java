package daylight.car;

import daylight.car.Complaint.Kind;
import daylight.geometry.Cut;
import daylight.geometry.Direction;
import daylight.geometry.PlateCuts;
import daylight.geometry.Shape;
import daylight.geometry.Solid;
import daylight.geometry.Spot;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Predicate;
import java.util.stream.Collectors;

/** Reads the trials of a car file. One per car, after its parts. */
final class TrialReader {
    private static final List<String> KINDS = List.of(
            "trim",
            "move",
            "rotate",
            "bend",
            "spacer",
            "tyre",
            "hose",
            "bump stop",
            "steering stop",
            "shock",
            "ride height",
            "rod",
            "spring seat");

    private final Reading in;
    private final SpotReader spots;
    private final MechanismReader mechanisms;
    private final PartReader parts;
    private final CutReader cuts;
    private final Map<String, Shape> shapes = new LinkedHashMap<>();

    TrialReader(Reading in, SpotReader spots, MechanismReader mechanisms, PartReader parts) {
        this.in = in;
        this.spots = spots;
        this.mechanisms = mechanisms;
        this.parts = parts;
        this.cuts = new CutReader(in);
    }

    /** Reads the section. */
    List<Trial> read(YamlNode node) {
        if (!(node instanceof YamlNode.Mapping mapping)) {
            in.wrongKind(node, "trials", "names, each with a colon and a value");
            return List.of();
        }
        Fields.complainAboutTwins(in, mapping);
        List<Trial> trials = new ArrayList<>();
        for (YamlNode.Entry entry : mapping.entries()) {
            int mark = in.mark();
            shapes.clear();
            parts.parts().forEach(part -> shapes.put(part.name(), part.shape()));
            List<Change> changes = new ArrayList<>();
            List<YamlNode> items = in.list(entry.value(), entry.key().text(), false);
            for (YamlNode item : items) {
                int before = in.mark();
                change(item).ifPresent(changes::add);
                if (!in.clean(before)) {
                    break; // what comes after it is in terms of what it would have left
                }
            }
            if (in.clean(mark) && items.isEmpty()) {
                in.complain(
                        Kind.WRONG_COUNT,
                        entry.value().place(),
                        "the trial \"" + entry.key().text() + "\" changes nothing",
                        "",
                        "Write at least one change, such as {move: tailpipe, by: [0, 0, 1/2]}.");
            }
            if (in.clean(mark) && !changes.isEmpty()) {
                trials.add(new Trial(entry.key().text(), changes));
            }
        }
        return trials;
    }

    private Optional<Change> change(YamlNode item) {
        int mark = in.mark();
        Fields fields = Fields.of(in, item, "the change");
        if (!fields.isReal() || !(item instanceof YamlNode.Mapping keys)) {
            return Optional.empty();
        }
        fields.maybeText("note");
        List<String> present =
                KINDS.stream().filter(kind -> keys.get(kind).isPresent()).toList();
        if (present.size() != 1) {
            in.complain(
                    present.isEmpty() ? Kind.MISSING : Kind.CONTRADICTION,
                    item.place(),
                    present.isEmpty()
                            ? "nothing says what is changed"
                            : "this is " + String.join(" and ", present) + " at once",
                    "",
                    "Write one of " + String.join(", ", KINDS) + ", and what it is done to.");
            return Optional.empty();
        }
        String kind = present.get(0);
        YamlNode word = fields.maybe(kind).orElse(item);
        Optional<Change> change = switch (kind) {
            case "trim" -> trim(fields, word);
            case "move" -> move(fields, word);
            case "rotate" -> rotate(fields, word);
            case "bend" -> bend(fields, word);
            case "spacer" -> spacer(fields, word);
            case "tyre" -> tyre(fields, word);
            case "hose" -> hose(fields, word);
            case "bump stop" -> ends(fields, word, Change.OtherEnds.Kind.BUMP_STOP);
            case "steering stop" -> ends(fields, word, Change.OtherEnds.Kind.STEERING_STOP);
            case "shock" -> ends(fields, word, Change.OtherEnds.Kind.SHOCK);
            case "ride height" -> rideHeight(fields, word);
            case "rod" -> rod(fields, word);
            default -> springSeat(fields, word);
        };
        if (in.clean(mark) && change.isPresent()) {
            fields.close();
        }
        return in.clean(mark) ? change : Optional.empty();
    }

    /** Reads the name of a part that can be changed, of a kind that is said in {@code wanted}. */
    private Optional<String> part(YamlNode node, String key, Predicate<String> fits, String wanted) {
        int mark = in.mark();
        String name = in.text(node, key);
        if (!in.clean(mark)) {
            return Optional.empty();
        }
        if (!shapes.containsKey(name)) {
            if (parts.names().contains(name)
                    && parts.hoses().stream().noneMatch(h -> h.name().equals(name))) {
                return Optional.empty(); // its own mistake is told already
            }
            in.unknown(
                    Kind.UNKNOWN_PART,
                    node,
                    parts.names().contains(name)
                            ? "\"" + name + "\" is a flexible line"
                            : "no part is called \"" + name + "\"",
                    shapes.keySet().stream().filter(fits).collect(Collectors.toCollection(LinkedHashSet::new)),
                    "Write the name of " + wanted + ".");
            return Optional.empty();
        }
        Optional<String> source = parts.mirrorOf(name);
        if (source.isPresent()) {
            in.complain(
                    Kind.CONTRADICTION,
                    node.place(),
                    "\"" + name + "\" is written as the mirror of \"" + source.get() + "\"",
                    "",
                    "Change \"" + source.get()
                            + "\": the mirror follows. Or write this one out with a shape of its own.");
            return Optional.empty();
        }
        if (!fits.test(name)) {
            in.complain(
                    Kind.CONTRADICTION,
                    node.place(),
                    "\"" + name + "\" is not " + wanted,
                    "",
                    "Write the name of " + wanted + ", or draw this part so.");
            return Optional.empty();
        }
        return Optional.of(name);
    }

    private Optional<Change> trim(Fields fields, YamlNode word) {
        Optional<String> name = part(word, "trim", n -> shapes.get(n) instanceof Shape.Plate, "a part that is a plate");
        if (name.isEmpty() || !(shapes.get(name.get()) instanceof Shape.Plate plate)) {
            return Optional.empty();
        }
        Optional<Cut> cut = cuts.read(fields, plate, name.get());
        cut.ifPresent(c -> shapes.put(name.get(), PlateCuts.after(plate, c)));
        return cut.map(c -> new Change.Trim(name.get(), plate, c));
    }

    private Optional<Change> move(Fields fields, YamlNode word) {
        Optional<String> name = part(word, "move", n -> true, "a part");
        int mark = in.mark();
        Optional<YamlNode> by = fields.need("by", "Write by: [ahead, left, up].");
        Spot way = by.map(n -> SpotReader.coordinates(in, n, "by")).orElse(Spot.ORIGIN);
        if (name.isEmpty() || !in.clean(mark)) {
            return Optional.empty();
        }
        complainAboutMeasured(word, name.get());
        return Optional.of(new Change.Move(name.get(), way.x(), way.y(), way.z()));
    }

    private Optional<Change> rotate(Fields fields, YamlNode word) {
        Optional<String> name = part(word, "rotate", n -> true, "a part");
        int mark = in.mark();
        List<Spot> line = fields.need("about", "Write about: [spot, spot], the line to turn about.")
                .map(parts::line)
                .orElse(List.of());
        double rad = fields.need("by", "Write by: and the angle, such as 5 deg.")
                .map(n -> in.angle(n, "by"))
                .orElse(0.0);
        if (name.isEmpty() || !in.clean(mark)) {
            return Optional.empty();
        }
        if (parts.isDisplaced(name.get())) {
            in.complain(
                    Kind.CONTRADICTION,
                    word.place(),
                    "\"" + name.get() + "\" is moved or rotated in the file already",
                    "",
                    "Change its moved: or rotated: by hand.");
        }
        complainAboutMeasured(word, name.get());
        return Optional.of(new Change.Rotate(name.get(), line.get(0), Direction.from(line.get(0), line.get(1)), rad));
    }

    /** A tyre's place is its hub's: moving it alone is a spacer. */
    private void complainAboutMeasured(YamlNode word, String name) {
        if (isTyre(name)) {
            in.complain(
                    Kind.CONTRADICTION,
                    word.place(),
                    "\"" + name + "\" is a tyre: it sits where its hub is",
                    "",
                    "Write {spacer: " + name + ", thick: 1/4}, or another backspacing.");
        }
    }

    private boolean isTyre(String name) {
        return parts.wheels().stream().anyMatch(wheel -> wheel.part().equals(name));
    }

    private Optional<Change> bend(Fields fields, YamlNode word) {
        Optional<String> name = part(word, "bend", n -> shapes.get(n) instanceof Shape.Tube, "a part that is a tube");
        int mark = in.mark();
        Optional<YamlNode> pathNode = fields.maybe("through");
        Optional<YamlNode> cornerNode = fields.maybe("corner");
        Optional<YamlNode> byNode = fields.maybe("by");
        Optional<Double> radius = fields.maybe("centreline radius").map(n -> in.notNegative(n, "centreline radius"));
        if (name.isEmpty() || !(shapes.get(name.get()) instanceof Shape.Tube tube) || !in.clean(mark)) {
            return Optional.empty();
        }
        if (parts.isDisplaced(name.get())) {
            in.complain(
                    Kind.CONTRADICTION,
                    word.place(),
                    "\"" + name.get() + "\" is moved or rotated in the file",
                    "",
                    "Write its corners where they are now, and take moved: and rotated: away.");
            return Optional.empty();
        }
        List<Spot> through = new ArrayList<>(tube.through());
        if (pathNode.isPresent() == (cornerNode.isPresent() || byNode.isPresent())
                && !(pathNode.isEmpty() && radius.isPresent())) {
            in.complain(
                    pathNode.isPresent() ? Kind.CONTRADICTION : Kind.MISSING,
                    fields.node().place(),
                    pathNode.isPresent() ? "this has both through and corner" : "nothing says how it is bent",
                    "",
                    "Write through: [spots], or corner: 3 and by: [0, 0, 1/2].");
            return Optional.empty();
        }
        if (pathNode.isPresent()) {
            through = spots.spots(pathNode.get(), "through", 2);
        } else if (cornerNode.isPresent()) {
            int corner = (int) in.number(cornerNode.get(), "corner", 1, through.size());
            Spot by = byNode.map(n -> SpotReader.coordinates(in, n, "by")).orElse(Spot.ORIGIN);
            if (byNode.isEmpty()) {
                in.complain(
                        Kind.MISSING,
                        fields.node().place(),
                        "the change has no \"by\"",
                        "",
                        "Write by: [ahead, left, up].");
            }
            if (in.clean(mark)) {
                through.set(corner - 1, through.get(corner - 1).plus(by.x(), by.y(), by.z()));
            }
        }
        if (!in.clean(mark)) {
            return Optional.empty();
        }
        Shape.Tube bent = new Shape.Tube(through, tube.outsideDiameterMm(), radius.orElse(tube.bendRadiusMm()));
        Optional<String> why = Solid.whyNot(bent);
        if (why.isPresent()) {
            String[] sentences = why.get().split("\\. (?=[A-Z])", 2);
            in.complain(
                    Kind.IMPOSSIBLE_SHAPE,
                    fields.node().place(),
                    sentences[0],
                    "",
                    sentences.length > 1 ? sentences[1] + "." : "Bend it another way.");
            return Optional.empty();
        }
        shapes.put(name.get(), bent);
        return Optional.of(new Change.Rebend(name.get(), through, bent.bendRadiusMm()));
    }

    private Optional<Change> spacer(Fields fields, YamlNode word) {
        Optional<String> name = part(word, "spacer", this::isTyre, "a part that is a tyre");
        int mark = in.mark();
        double thick = fields.positive("thick", "Write thick: and how thick.");
        return name.isPresent() && in.clean(mark)
                ? Optional.of(new Change.Spacer(name.get(), thick))
                : Optional.empty();
    }

    private Optional<Change> tyre(Fields fields, YamlNode word) {
        Optional<String> name = part(word, "tyre", this::isTyre, "a part that is a tyre");
        int mark = in.mark();
        Optional<String> size = fields.maybe("size").flatMap(parts::tyreSize).map(TyreSize::written);
        Optional<Double> rim = fields.maybe("rim width").map(n -> in.positive(n, "rim width"));
        Optional<Double> backspacing = fields.maybe("backspacing").map(n -> in.notNegative(n, "backspacing"));
        Optional<Double> offset = fields.maybe("offset").map(n -> in.length(n, "offset"));
        if (name.isEmpty() || !in.clean(mark)) {
            return Optional.empty();
        }
        if (backspacing.isPresent() && offset.isPresent()) {
            in.complain(
                    Kind.CONTRADICTION,
                    fields.node().place(),
                    "this has both backspacing and offset",
                    "",
                    "Write one of them.");
        }
        if (size.isEmpty() && rim.isEmpty() && backspacing.isEmpty() && offset.isEmpty() && !fields.hasStrangers()) {
            in.complain(
                    Kind.MISSING,
                    fields.node().place(),
                    "nothing says what tyre or wheel it is",
                    "",
                    "Write one or more of size, rim width, backspacing or offset.");
        }
        return Optional.of(new Change.OtherTyre(name.get(), size, rim, backspacing, offset));
    }

    private Optional<Change> hose(Fields fields, YamlNode word) {
        int mark = in.mark();
        String name = in.text(word, "hose");
        double length = fields.positive("free length", "Write free length: and how long, straight.");
        if (!in.clean(mark)) {
            return Optional.empty();
        }
        Set<String> known =
                parts.hoses().stream().map(Car.Hose::name).collect(Collectors.toCollection(LinkedHashSet::new));
        if (!known.contains(name)) {
            in.unknown(
                    Kind.UNKNOWN_PART,
                    word,
                    "no flexible line is called \"" + name + "\"",
                    known,
                    "Write the name of a part that has a hose.");
        } else {
            parts.mirrorOf(name)
                    .ifPresent(source -> in.complain(
                            Kind.CONTRADICTION,
                            word.place(),
                            "\"" + name + "\" is written as the mirror of \"" + source + "\"",
                            "",
                            "Change \"" + source + "\": the mirror follows."));
        }
        return Optional.of(new Change.HoseLength(name, length));
    }

    /** Reads how much higher the body stands above a wheel: {@code {ride height: front left, by: -1}}. */
    private Optional<Change> rideHeight(Fields fields, YamlNode word) {
        int mark = in.mark();
        String name = in.text(word, "ride height");
        Set<String> known = mechanisms.wheelTravels();
        String handle = known.contains(name) ? name : name + " travel";
        Optional<YamlNode> by = fields.need("by", "Write by: and how much higher; lower with a minus.");
        double mm = by.map(n -> in.length(n, "by")).orElse(0.0);
        if (in.clean(mark) && !known.contains(handle)) {
            in.unknown(
                    Kind.UNKNOWN_MECHANISM,
                    word,
                    "no wheel's travel is called \"" + name + "\"",
                    known,
                    known.isEmpty() ? "Describe a suspension first." : "Write " + Reading.oneOf(known) + ".");
        }
        return Optional.of(new Change.RideHeight(handle, mm));
    }

    /** Reads {@code {rod: front left tie rod, longer: 1/16}}, or {@code shorter:}. */
    private Optional<Change> rod(Fields fields, YamlNode word) {
        int mark = in.mark();
        String name = in.text(word, "rod");
        Optional<Double> longer = fields.maybe("longer").map(n -> in.notNegative(n, "longer"));
        Optional<Double> shorter = fields.maybe("shorter").map(n -> in.notNegative(n, "shorter"));
        Set<String> known = mechanisms.rods();
        if (in.clean(mark) && longer.isPresent() == shorter.isPresent() && !fields.hasStrangers()) {
            in.complain(
                    longer.isPresent() ? Kind.CONTRADICTION : Kind.MISSING,
                    fields.node().place(),
                    longer.isPresent() ? "the rod is both longer and shorter" : "nothing says how long the rod is",
                    "",
                    "Write longer: or shorter: and by how much.");
        }
        if (in.clean(mark) && !known.contains(name)) {
            in.unknown(
                    Kind.UNKNOWN_PART,
                    word,
                    "no rod is called \"" + name + "\"",
                    known,
                    known.isEmpty() ? "Describe a suspension with rods first." : "Write " + Reading.oneOf(known) + ".");
        }
        return Optional.of(new Change.RodLength(name, longer.orElse(0.0) - shorter.orElse(0.0)));
    }

    private Optional<Change> springSeat(Fields fields, YamlNode word) {
        int mark = in.mark();
        String name = in.text(word, "spring seat");
        double mm = fields.need("raised", "Write raised: and how far towards the spring; lower with a minus.")
                .map(n -> in.length(n, "raised"))
                .orElse(0.0);
        Set<String> known = mechanisms.shocks();
        if (in.clean(mark) && !known.contains(name)) {
            in.unknown(
                    Kind.UNKNOWN_PART,
                    word,
                    "no shock or coil-over is called \"" + name + "\"",
                    known,
                    known.isEmpty() ? "Describe a shock first." : "Write " + Reading.oneOf(known) + ".");
        }
        return Optional.of(new Change.SpringSeat(name, mm));
    }

    private Optional<Change> ends(Fields fields, YamlNode word, Change.OtherEnds.Kind kind) {
        int mark = in.mark();
        String name = in.text(word, kind.word());
        if (!in.clean(mark)) {
            return Optional.empty();
        }
        if (!mechanisms.names().contains(name)) {
            if (!mechanisms.mayBeBroken(name)) {
                in.unknown(
                        Kind.UNKNOWN_MECHANISM,
                        word,
                        "no mechanism is called \"" + name + "\"",
                        mechanisms.names(),
                        "Write the name of a mechanism.");
            }
            return Optional.empty();
        }
        Optional<String> source = mechanisms.mirrorOf(name);
        if (source.isPresent()) {
            in.complain(
                    Kind.CONTRADICTION,
                    word.place(),
                    "\"" + name + "\" is the mirror of \"" + source.get() + "\"",
                    "",
                    "Change \"" + source.get() + "\": the mirror follows.");
            return Optional.empty();
        }
        Map<String, Boolean> keys = new LinkedHashMap<>();
        mechanisms.ends(name).forEach((key, turns) -> {
            if (belongs(kind, key)) {
                keys.put(key, turns);
            }
        });
        List<Change.OtherEnds.End> ends = new ArrayList<>();
        keys.forEach((key, turns) -> fields.maybe(key)
                .ifPresent(node -> ends.add(new Change.OtherEnds.End(
                        key, turns ? in.angle(node, key) : in.notNegative(node, key), turns))));
        if (in.clean(mark) && ends.isEmpty() && (keys.isEmpty() || !fields.hasStrangers())) {
            in.complain(
                    keys.isEmpty() ? Kind.CONTRADICTION : Kind.MISSING,
                    keys.isEmpty() ? word.place() : fields.node().place(),
                    keys.isEmpty()
                            ? "\"" + name + "\" has no " + kind.word()
                            : "nothing says where the " + kind.word() + " of " + name + " ends its movement",
                    "",
                    keys.isEmpty()
                            ? "Name a mechanism that has one."
                            : "Write " + Reading.oneOf(keys.keySet()) + " and how far from ride height.");
        }
        return Optional.of(new Change.OtherEnds(name, kind, ends));
    }

    private static boolean belongs(Change.OtherEnds.Kind kind, String key) {
        boolean shock = key.endsWith("closed") || key.endsWith("open");
        boolean bump = key.endsWith("bump") || key.endsWith("droop");
        return switch (kind) {
            case SHOCK -> shock;
            case BUMP_STOP -> bump;
            case STEERING_STOP -> !shock && !bump;
        };
    }
}
