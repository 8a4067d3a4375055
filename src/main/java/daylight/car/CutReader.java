package daylight.car;

import daylight.car.Complaint.Kind;
import daylight.geometry.Cut;
import daylight.geometry.Flat;
import daylight.geometry.PlateCuts;
import daylight.geometry.PlateEdges;
import daylight.geometry.Shape;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalInt;
import java.util.Set;

/** Reads what is done to a plate, in the terms in which it is marked out. */
final class CutReader {
    private static final List<String> KINDS = List.of("cut", "round", "notch", "fill hole", "drill");
    private static final String ALONG = "along ";

    private final Reading in;

    CutReader(Reading in) {
        this.in = in;
    }

    /**
     * Reads the one cut among the keys.
     *
     * @param plate as it is before the cut
     */
    Optional<Cut> read(Fields fields, Shape.Plate plate, String name) {
        int mark = in.mark();
        List<String> present = new ArrayList<>();
        Optional<YamlNode> node = Optional.empty();
        for (String kind : KINDS) {
            Optional<YamlNode> here = fields.maybe(kind);
            if (here.isPresent()) {
                present.add(kind);
                node = here;
            }
        }
        if (present.size() != 1 || node.isEmpty()) {
            if (!fields.hasStrangers() || !present.isEmpty()) {
                in.complain(
                        present.isEmpty() ? Kind.MISSING : Kind.CONTRADICTION,
                        fields.node().place(),
                        present.isEmpty()
                                ? "nothing says what is done to " + name
                                : "this is " + Reading.oneOf(present).replace(" or ", " and ") + " at once",
                        "",
                        "Write one of " + Reading.oneOf(KINDS) + "; several go one after another.");
            }
            return Optional.empty();
        }
        YamlNode what = node.get();
        Optional<Cut> cut = switch (present.get(0)) {
            case "cut" -> straight(what, plate, name);
            case "round" -> round(what, plate, name);
            case "notch" -> notch(what, plate, name);
            case "fill hole" -> fill(what, plate, name);
            default -> drill(what);
        };
        if (cut.isPresent() && in.clean(mark)) {
            PlateCuts.whyNot(plate, cut.get())
                    .ifPresent(why -> in.complain(
                            Kind.IMPOSSIBLE_SHAPE,
                            what.place(),
                            name + " cannot be cut so: " + why,
                            "",
                            "Measure along the edges again, from the corner that comes off."));
        }
        return in.clean(mark) ? cut : Optional.empty();
    }

    private Optional<Cut> straight(YamlNode node, Shape.Plate plate, String name) {
        if (!(node instanceof YamlNode.Mapping mapping)) {
            in.wrongKind(node, "cut", "{along one edge: how far, along another: how far}");
            return Optional.empty();
        }
        int mark = in.mark();
        Fields fields = Fields.of(in, node, "cut");
        PlateEdges edges = PlateEdges.of(plate);
        List<Integer> two = new ArrayList<>();
        List<Double> far = new ArrayList<>();
        for (YamlNode.Entry entry : mapping.entries()) {
            String key = entry.key().text();
            if (key.toLowerCase(Locale.ROOT).startsWith(ALONG)) {
                fields.maybe(key);
                OptionalInt edge = edges.edge(key.substring(ALONG.length()));
                if (edge.isEmpty()) {
                    unknownEdge(in, entry.key(), key.substring(ALONG.length()), edges, name);
                }
                two.add(edge.orElse(0));
                far.add(in.notNegative(entry.value(), key));
            }
        }
        Optional<YamlNode> off = fields.maybe("off");
        fields.close();
        if (!in.clean(mark)) {
            return Optional.empty();
        }
        if (two.size() != 2 || two.get(0).equals(two.get(1))) {
            in.complain(
                    Kind.WRONG_COUNT,
                    node.place(),
                    "a straight cut goes along two edges, not "
                            + Set.copyOf(two).size(),
                    "",
                    "Write {along " + edges.name(0) + ": how far, along " + edges.name(1) + ": how far}.");
            return Optional.empty();
        }
        int n = plate.outline().size();
        int a = two.get(0);
        int b = two.get(1);
        boolean follows = (a + 1) % n == b;
        boolean precedes = (b + 1) % n == a;
        if (off.isEmpty() && follows == precedes) {
            in.complain(
                    Kind.MISSING,
                    node.place(),
                    "nothing says which side of the cut comes off: the two edges do not meet",
                    "",
                    "Write off: and an edge that comes off.");
            return Optional.empty();
        }
        boolean fromFirst = follows;
        if (off.isPresent()) {
            String words = in.text(off.get(), "off");
            OptionalInt edge = edges.edge(words);
            if (in.clean(mark) && edge.isEmpty()) {
                unknownEdge(in, off.get(), words, edges, name);
            }
            if (!in.clean(mark)) {
                return Optional.empty();
            }
            fromFirst = isBetween(a, edge.orElse(0), b, n);
            if (edge.orElse(0) == a || edge.orElse(0) == b) {
                in.complain(
                        Kind.CONTRADICTION,
                        off.get().place(),
                        "the " + words + " is one that the cut goes along",
                        "",
                        "Name an edge that comes off whole.");
                return Optional.empty();
            }
        }
        return Optional.of(
                fromFirst
                        ? new Cut.Straight(a, far.get(0), b, far.get(1))
                        : new Cut.Straight(b, far.get(1), a, far.get(0)));
    }

    /** Whether an edge lies between two others, going round from the first. */
    private static boolean isBetween(int from, int edge, int to, int n) {
        for (int i = (from + 1) % n; i != to; i = (i + 1) % n) {
            if (i == edge) {
                return true;
            }
        }
        return false;
    }

    private Optional<Cut> round(YamlNode node, Shape.Plate plate, String name) {
        int mark = in.mark();
        Fields fields = Fields.of(in, node, "round");
        PlateEdges edges = PlateEdges.of(plate);
        Optional<YamlNode> cornerNode =
                fields.need("corner", "Write corner: and which one, such as " + edges.corner(0));
        OptionalInt corner =
                cornerNode.map(n -> edges.cornerCalled(in.text(n, "corner"))).orElse(OptionalInt.empty());
        if (in.clean(mark) && corner.isEmpty()) {
            Set<String> known = new LinkedHashSet<>();
            for (int i = 0; i < plate.outline().size(); i++) {
                known.add(edges.corner(i));
            }
            YamlNode at = cornerNode.orElse(node);
            in.unknown(
                    Kind.NOT_A_VALUE,
                    at,
                    name + " has no corner called " + at.kind(),
                    known,
                    "Write " + Reading.oneOf(known) + ".");
        }
        double radius = fields.positive("radius", "Write radius: and how large.");
        fields.close();
        return in.clean(mark) ? Optional.of(new Cut.Round(corner.orElse(0), radius)) : Optional.empty();
    }

    private Optional<Cut> notch(YamlNode node, Shape.Plate plate, String name) {
        int mark = in.mark();
        Fields fields = Fields.of(in, node, "notch");
        PlateEdges edges = PlateEdges.of(plate);
        int n = plate.outline().size();
        int edge = edge(fields, "in", "Write in: and the edge that it is cut into.", edges, name);
        Optional<YamlNode> fromNode = fields.maybe("from");
        int from = fromNode.isPresent()
                ? edge(fields, "from", "Write from: and the edge at which the tape begins.", edges, name)
                : (edge + n - 1) % n;
        double starts = fields.notNegative("starts", 0);
        double ends = fields.positive("ends", "Write ends: and how far from that corner it ends.");
        double deep = fields.positive("deep", "Write deep: and how deep.");
        fields.close();
        if (!in.clean(mark)) {
            return Optional.empty();
        }
        boolean atBegin = from == (edge + n - 1) % n;
        boolean atEnd = from == (edge + 1) % n;
        if (!atBegin && !atEnd) {
            in.complain(
                    Kind.CONTRADICTION,
                    fromNode.orElse(node).place(),
                    "the " + edges.name(from) + " does not meet the " + edges.name(edge),
                    "",
                    "Measure from " + edges.name((edge + n - 1) % n) + " or " + edges.name((edge + 1) % n) + ".");
            return Optional.empty();
        }
        if (!(ends > starts)) {
            in.complain(
                    Kind.CONTRADICTION,
                    node.place(),
                    "the notch ends before it starts",
                    "",
                    "Measure both from the same corner.");
            return Optional.empty();
        }
        return Optional.of(new Cut.Notch(edge, !atBegin, starts, ends, deep));
    }

    private int edge(Fields fields, String key, String advice, PlateEdges edges, String name) {
        Optional<YamlNode> node = fields.need(key, advice);
        if (node.isEmpty()) {
            return 0;
        }
        int mark = in.mark();
        String words = in.text(node.get(), key);
        OptionalInt edge = edges.edge(words);
        if (in.clean(mark) && edge.isEmpty()) {
            unknownEdge(in, node.get(), words, edges, name);
        }
        return edge.orElse(0);
    }

    private Optional<Cut> fill(YamlNode node, Shape.Plate plate, String name) {
        int mark = in.mark();
        int holes = plate.holes().size();
        if (holes == 0) {
            in.complain(Kind.CONTRADICTION, node.place(), name + " has no holes", "", "Leave fill hole away.");
            return Optional.empty();
        }
        double number = in.number(node, "fill hole", 1, holes);
        if (in.clean(mark) && number != Math.rint(number)) {
            in.complain(
                    Kind.NOT_A_VALUE,
                    node.place(),
                    "fill hole is the number of a hole",
                    "",
                    "Write 1 to " + holes + ", in the order of the holes.");
        }
        return in.clean(mark) ? Optional.of(new Cut.HoleFilled((int) number - 1)) : Optional.empty();
    }

    private Optional<Cut> drill(YamlNode node) {
        int mark = in.mark();
        Fields fields = Fields.of(in, node, "drill");
        Optional<YamlNode> at = fields.need("at", "Write at: [along, up].");
        List<YamlNode> two = at.map(n -> in.list(n, "at", false)).orElse(List.of());
        if (in.clean(mark) && two.size() != 2) {
            in.complain(
                    Kind.WRONG_COUNT,
                    at.orElse(node).place(),
                    "at has " + two.size() + (two.size() == 1 ? " number" : " numbers"),
                    "",
                    "Write two: [along, up].");
        }
        double diameter = fields.positive("diameter", "Write the diameter.");
        fields.close();
        if (!in.clean(mark)) {
            return Optional.empty();
        }
        Flat centre = new Flat(in.length(two.get(0), "at"), in.length(two.get(1), "at"));
        return in.clean(mark) ? Optional.of(new Cut.HoleDrilled(centre, diameter)) : Optional.empty();
    }

    static void unknownEdge(Reading in, YamlNode at, String words, PlateEdges edges, String name) {
        Set<String> known = new LinkedHashSet<>(edges.names());
        in.complain(
                Kind.NOT_A_VALUE,
                at.place(),
                name + " has no edge called \"" + words + "\"",
                "It has " + Reading.oneOf(known).replace(" or ", " and ") + ".",
                Reading.nearest(words, known).orElse("Write one of these."));
    }
}
