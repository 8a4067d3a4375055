package daylight.car;

import daylight.car.Complaint.Kind;
import daylight.geometry.Direction;
import daylight.geometry.Spot;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.UnaryOperator;

/** Reads what really ends the movements of a mechanism: the {@code limits:} of its entry. */
final class LimitReader {
    private static final String WORDS = "Write one of shock, bump stop, steering stop, strap or joint.";
    private static final List<String> KINDS = List.of("shock", "bump stop", "steering stop", "strap", "joint");

    private final Reading in;
    private final SpotReader spots;
    private final Set<String> bodies;
    private final UnaryOperator<String> carWide;

    /**
     * @param bodies the mechanism's own bodies by their short names, and the ground
     * @param carWide gives a body's car-wide name
     */
    LimitReader(Reading in, SpotReader spots, Set<String> bodies, UnaryOperator<String> carWide) {
        this.in = in;
        this.spots = spots;
        this.bodies = bodies;
        this.carWide = carWide;
    }

    /** Reads the list. */
    List<Limit> read(YamlNode node) {
        List<Limit> limits = new ArrayList<>();
        for (YamlNode item : in.list(node, "limits", false)) {
            limit(item).ifPresent(limits::add);
        }
        return limits;
    }

    private Optional<Limit> limit(YamlNode item) {
        int mark = in.mark();
        Optional<String> kind = item instanceof YamlNode.Mapping mapping
                ? KINDS.stream().filter(k -> mapping.get(k).isPresent()).findFirst()
                : Optional.empty();
        if (kind.isEmpty()) {
            in.complain(Kind.NOT_A_VALUE, item.place(), "this is no limit", "", WORDS);
            return Optional.empty();
        }
        Fields fields = Fields.of(in, item, "the limit");
        String name = fields.text(kind.get(), "Give it a name.");
        fields.maybeText("note");
        Optional<Limit> limit =
                kind.get().equals("joint") ? swing(fields, name, mark) : distance(fields, kind.get(), name, mark);
        fields.close();
        return in.clean(mark) ? limit : Optional.empty();
    }

    private Optional<Limit> distance(Fields fields, String kind, String name, int mark) {
        Readout.End from = end(fields, "from");
        Readout.End to = end(fields, "to");
        if (in.clean(mark) && from.body().equals(to.body())) {
            in.complain(
                    Kind.CONTRADICTION,
                    fields.node().place(),
                    name + " has both ends on " + from.body(),
                    "",
                    "Name two bodies that move against one another.");
        }
        if (kind.equals("shock")) {
            double closed = fields.positive("closed", "Write closed: and the distance of its eyes when it is solid.");
            double open = fields.positive("open", "Write open: and the distance of its eyes when it is drawn out.");
            if (in.clean(mark) && closed >= open) {
                in.complain(
                        Kind.CONTRADICTION,
                        fields.node().place(),
                        name + " is not longer open than closed",
                        "",
                        "Measure both between the eyes, bolt centre to bolt centre.");
            }
            return in.clean(mark) ? Optional.of(new Limit.Shock(name, from, to, closed, open)) : Optional.empty();
        }
        if (kind.equals("strap")) {
            double longest =
                    fields.positive("longest", "Write longest: and the distance of its ends when it is tight.");
            return in.clean(mark) ? Optional.of(new Limit.Strap(name, from, to, longest)) : Optional.empty();
        }
        double apart = from.at().distanceTo(to.at());
        if (in.clean(mark) && apart <= SpotReader.SAME_SPOT_MM) {
            in.complain(
                    Kind.CONTRADICTION,
                    fields.node().place(),
                    name + ": its two spots are one",
                    "",
                    "Name the spot that comes nearer and the one that it meets, as they are at ride height.");
        }
        double gap = fields.notNegative("gap", apart);
        double squash = kind.equals("bump stop") ? fields.notNegative("squash", 0) : 0;
        if (in.clean(mark) && gap > apart + SpotReader.SAME_SPOT_MM) {
            in.complain(
                    Kind.CONTRADICTION,
                    fields.node().place(),
                    name + ": the gap is wider than its two spots are apart",
                    "",
                    "Name the spots that meet, or leave gap: away.");
        }
        return in.clean(mark)
                ? Optional.of(new Limit.Stop(name, from, to, gap, squash, kind.equals("steering stop")))
                : Optional.empty();
    }

    private Optional<Limit> swing(Fields fields, String name, int mark) {
        String stud = body(fields, "stud on");
        Direction along = fields.need("along", "Write along: and the stud's direction, such as two points.")
                .map(node -> spots.direction(node, "along"))
                .orElse(Direction.UP);
        String housing = body(fields, "housing on");
        Direction even = fields.maybe("housing along")
                .map(node -> spots.direction(node, "housing along"))
                .orElse(along);
        double most = fields.need("most", "Write most: and how far it may lean each way, such as 25 deg.")
                .map(node -> in.angle(node, "most"))
                .orElse(1.0);
        if (in.clean(mark) && !(most > 0 && most < Math.PI)) {
            in.complain(
                    Kind.OUT_OF_RANGE,
                    fields.node().place(),
                    name + ": most is not between nothing and half a turn",
                    "",
                    "Write how far the stud may lean each way, such as 25 deg.");
        }
        return in.clean(mark) ? Optional.of(new Limit.Swing(name, stud, along, housing, even, most)) : Optional.empty();
    }

    private String body(Fields fields, String key) {
        return fields.need(key, "Name the body.").map(node -> body(node, key)).orElse("");
    }

    private String body(YamlNode node, String what) {
        int mark = in.mark();
        String name = in.text(node, what);
        if (in.clean(mark) && !bodies.contains(name)) {
            MechanismReader.unknownBody(in, node, name, bodies);
        }
        return in.clean(mark) ? carWide.apply(name) : name;
    }

    private Readout.End end(Fields fields, String key) {
        Optional<YamlNode> node = fields.need(key, "Write [body, point].");
        List<YamlNode> items = node.map(n -> in.list(n, key, false)).orElse(List.of());
        if (items.size() != 2) {
            if (!items.isEmpty()) {
                in.complain(
                        Kind.WRONG_COUNT,
                        fields.node().place(),
                        key + " has " + items.size() + (items.size() == 1 ? " word" : " words"),
                        "",
                        "Write [body, point].");
            }
            return new Readout.End("", Spot.ORIGIN);
        }
        return new Readout.End(body(items.get(0), key), spots.spot(items.get(1), key));
    }

    /** Returns the same limit on the other side. */
    static Limit mirrored(Limit limit, String name, UnaryOperator<String> otherBody) {
        if (limit instanceof Limit.Shock shock) {
            return new Limit.Shock(
                    name,
                    mirrored(shock.from(), otherBody),
                    mirrored(shock.to(), otherBody),
                    shock.closedMm(),
                    shock.openMm());
        } else if (limit instanceof Limit.Stop stop) {
            return new Limit.Stop(
                    name,
                    mirrored(stop.from(), otherBody),
                    mirrored(stop.to(), otherBody),
                    stop.gapMm(),
                    stop.squashMm(),
                    stop.steering());
        } else if (limit instanceof Limit.Strap strap) {
            return new Limit.Strap(
                    name, mirrored(strap.from(), otherBody), mirrored(strap.to(), otherBody), strap.longestMm());
        } else if (limit instanceof Limit.Swing swing) {
            return new Limit.Swing(
                    name,
                    otherBody.apply(swing.studBody()),
                    swing.stud().mirrored(),
                    otherBody.apply(swing.housingBody()),
                    swing.housing().mirrored(),
                    swing.mostRad());
        }
        throw new IllegalStateException("a limit of no known kind: " + limit + ". Please report this.");
    }

    private static Readout.End mirrored(Readout.End end, UnaryOperator<String> otherBody) {
        return new Readout.End(otherBody.apply(end.body()), end.at().mirrored());
    }
}
