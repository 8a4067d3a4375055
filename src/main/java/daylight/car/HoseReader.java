package daylight.car;

import daylight.car.Complaint.Kind;
import daylight.geometry.Direction;
import daylight.geometry.Spot;
import daylight.units.LengthFormat;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Function;

/** Reads a part's {@code hose:} group. */
final class HoseReader {
    private static final List<String> RADIUS_TO = List.of("inside", "centre line");

    private final Reading in;
    private final SpotReader spots;
    private final Function<YamlNode, String> body;

    HoseReader(Reading in, SpotReader spots, Function<YamlNode, String> body) {
        this.in = in;
        this.spots = spots;
        this.body = body;
    }

    /** Reads the group; empty after a complaint. */
    Optional<Car.Hose> read(YamlNode node, String name, List<String> kinds, Optional<String> note) {
        if (!(node instanceof YamlNode.Mapping)) {
            in.wrongKind(node, "hose", "{from: ..., to: ..., free length: ...}");
            return Optional.empty();
        }
        int mark = in.mark();
        Fields fields = Fields.of(in, node, name);
        Optional<YamlNode> fromNode = fields.need("from", "Write from: {on: ..., at: ..., leaves: ...}.");
        Optional<YamlNode> toNode = fields.need("to", "Write to: {on: ..., at: ..., leaves: ...}.");
        Optional<YamlNode> lengthNode =
                fields.need("free length", "Write free length: and the length of hose between the fittings, straight.");
        double freeLength = lengthNode.map(n -> in.positive(n, "free length")).orElse(1.0);
        double diameter = fields.positive("od", "Write od: and the outside diameter.");
        double radius =
                fields.positive("least bend radius", "Write least bend radius: and the figure of the hose's maker.");
        boolean inside = fields.maybe("bend radius to")
                .map(n -> in.choice(n, "bend radius to", RADIUS_TO).equals(RADIUS_TO.get(0)))
                .orElse(true);
        Optional<Double> twist = fields.maybe("greatest twist").map(n -> in.angle(n, "greatest twist"));
        List<Double> stock = fields.maybe("stock lengths")
                .map(n -> in.list(n, "stock lengths", true).stream()
                        .map(item -> in.positive(item, "stock lengths"))
                        .sorted()
                        .toList())
                .orElse(List.of());
        Optional<Car.Hose.Fitting> from = fromNode.map(n -> fitting(n, "from"));
        Optional<Car.Hose.Fitting> to = toNode.map(n -> fitting(n, "to"));
        List<Car.Hose.Clip> clips =
                fields.maybe("clips").map(n -> clips(n, freeLength)).orElse(List.of());
        fields.close();
        if (!in.clean(mark) || from.isEmpty() || to.isEmpty()) {
            return Optional.empty();
        }
        reaches(lengthNode.orElse(node), from.get(), to.get(), clips, freeLength);
        if (!in.clean(mark)) {
            return Optional.empty();
        }
        return Optional.of(new Car.Hose(
                name, kinds, from.get(), to.get(), clips, freeLength, diameter, radius, inside, twist, stock, note));
    }

    private Car.Hose.Fitting fitting(YamlNode node, String what) {
        Fields fields = Fields.of(in, node, what);
        String on = fields.need("on", "Write on: and the body that carries the fitting.")
                .map(body)
                .orElse("");
        Spot at = fields.need("at", "Write at: and where the fitting is screwed on.")
                .map(n -> spots.spot(n, "at"))
                .orElse(Spot.ORIGIN);
        Direction leaves = fields.need("leaves", "Write leaves: and which way the hose leaves the fitting.")
                .map(n -> spots.direction(n, "leaves"))
                .orElse(Direction.FORWARD);
        double straight = fields.notNegative("straight", 0);
        boolean swivels =
                fields.maybe("swivels").map(n -> in.yesOrNo(n, "swivels")).orElse(false);
        Optional<Direction> about = fields.maybe("turns about").map(n -> spots.direction(n, "turns about"));
        fields.close();
        return new Car.Hose.Fitting(on, at, leaves, straight, swivels, about);
    }

    private List<Car.Hose.Clip> clips(YamlNode node, double freeLength) {
        List<Car.Hose.Clip> clips = new ArrayList<>();
        double before = 0;
        for (YamlNode item : in.list(node, "clips", false)) {
            int mark = in.mark();
            Fields fields = Fields.of(in, item, "the clip");
            String on = fields.need("on", "Write on: and the body that carries the clip.")
                    .map(body)
                    .orElse("");
            Spot at = fields.need("at", "Write at: and where the hose passes the clip.")
                    .map(n -> spots.spot(n, "at"))
                    .orElse(Spot.ORIGIN);
            Direction along = fields.need("along", "Write along: and which way the hose runs there.")
                    .map(n -> spots.direction(n, "along"))
                    .orElse(Direction.FORWARD);
            Optional<YamlNode> afterNode =
                    fields.need("after", "Write after: and how much of the hose lies before the clip.");
            double after = afterNode.map(n -> in.positive(n, "after")).orElse(1.0);
            boolean slides =
                    fields.maybe("slides").map(n -> in.yesOrNo(n, "slides")).orElse(false);
            fields.close();
            if (in.clean(mark) && (after <= before || after >= freeLength)) {
                in.complain(
                        Kind.CONTRADICTION,
                        afterNode.orElse(item).place(),
                        "a clip sits after " + length(after) + " of a hose of " + length(freeLength),
                        "Clips stand in order along the hose, between " + length(before) + " and " + length(freeLength)
                                + ".",
                        "Measure along the hose from its from: end.");
            }
            before = after;
            clips.add(new Car.Hose.Clip(on, at, along, after, slides));
        }
        return clips;
    }

    /** Each piece has to reach at ride height at least. */
    private void reaches(
            YamlNode place, Car.Hose.Fitting from, Car.Hose.Fitting to, List<Car.Hose.Clip> clips, double freeLength) {
        Spot at = from.mouth();
        double before = 0;
        for (int piece = 0; piece <= clips.size(); piece++) {
            boolean last = piece == clips.size();
            Spot next = last ? to.mouth() : clips.get(piece).at();
            double length = (last ? freeLength : clips.get(piece).afterMm()) - before;
            double straight = at.distanceTo(next);
            if (straight < SpotReader.SAME_SPOT_MM) {
                in.complain(
                        Kind.CONTRADICTION,
                        place.place(),
                        "the hose ends where it begins",
                        "",
                        "Measure where each fitting is screwed on, and which way the hose leaves it.");
            } else if (length < straight) {
                in.complain(
                        Kind.CONTRADICTION,
                        place.place(),
                        "a free length of " + length(length) + " does not reach at ride height",
                        "The ends stand " + length(straight) + " apart, straight.",
                        "Measure the hose and its ends again, or write a longer hose.");
            }
            at = next;
            before = last ? freeLength : clips.get(piece).afterMm();
        }
    }

    private String length(double mm) {
        return LengthFormat.usual(in.unit()).print(mm);
    }
}
