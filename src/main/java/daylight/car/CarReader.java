package daylight.car;

import daylight.car.Complaint.Kind;
import daylight.geometry.Direction;
import daylight.geometry.Spot;
import daylight.linkage.Mechanism;
import daylight.units.Unit;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;

/** Reads a car from the nodes of its file. One per reading. */
final class CarReader {
    /** The version of the car file that this program reads and writes. */
    static final int VERSION = 1;

    /** Written in the place of coordinates: only readings place the point. */
    private static final String BY_TAPE = "by tape";

    /** Selects every part in a rule. */
    static final String ANY = "any";

    private final Reading in;
    private final SpotReader spots;
    private final MechanismReader mechanisms;
    private final MeshSource meshes;
    private final Optional<Path> folder;
    private final CommonPractice common;
    private final Shelf shelf;
    /** Whether hoses are looked at for ends that lie inside a part. */
    private final boolean looksInside;

    private final Map<String, Car.Allowance> allowances = new LinkedHashMap<>();
    private final Set<String> allowanceNames = new LinkedHashSet<>();
    private Set<String> ofMechanisms = Set.of();
    private Optional<PartReader> readParts = Optional.empty();

    CarReader(Reading in, MeshSource meshes, Optional<Path> folder, Map<String, Spot> moved) {
        this(in, meshes, folder, moved, new Shelf(), true);
    }

    CarReader(
            Reading in,
            MeshSource meshes,
            Optional<Path> folder,
            Map<String, Spot> moved,
            Shelf shelf,
            boolean looksInside) {
        this.in = in;
        this.looksInside = looksInside;
        this.shelf = shelf;
        this.common = shelf.common();
        this.meshes = meshes;
        this.folder = folder;
        this.spots = new SpotReader(in, moved);
        this.mechanisms = new MechanismReader(in, spots, shelf);
    }

    /** Returns the points on whose places mechanisms or parts rest, after {@link #read}. */
    Set<String> pointsUsed() {
        return spots.asked();
    }

    /** Returns the measured points on which the mechanisms and what rides on them rest, after {@link #read}. */
    Set<String> pointsOfMechanisms() {
        return measured(ofMechanisms);
    }

    /** Returns the measured points on which each part's shape rests, after {@link #read}. */
    Map<String, Set<String>> pointsOfParts() {
        Map<String, Set<String>> all = new LinkedHashMap<>();
        readParts.ifPresent(parts -> parts.parts().forEach(part -> {
            Set<String> points = measured(parts.asked(part.name()));
            if (parts.isPlacedByMechanism(part.name())) {
                points.addAll(pointsOfMechanisms());
            }
            all.put(part.name(), points);
        }));
        return all;
    }

    /** Further names and mirror images stand for the points that were measured. */
    private Set<String> measured(Set<String> names) {
        Map<String, String> images = new LinkedHashMap<>();
        mechanisms
                .mirrorImages()
                .forEach(image -> image.mirrorOf().ifPresent(source -> images.put(image.name(), source)));
        Set<String> points = new LinkedHashSet<>();
        names.forEach(name -> points.add(spots.resolved(images.getOrDefault(name, name))));
        return points;
    }

    /** Reads the car; throws with every complaint. */
    Car read(YamlNode.Mapping root) throws CarFileException {
        Fields top = Fields.of(in, root, "the car file");
        if (!isOurVersion(top)) {
            throw new CarFileException(in.complaints());
        }
        String name = top.text("car", "Write car: and what you call it.");
        Optional<String> reference = top.maybeText("reference");
        boolean inches = top.need("units", "Write units: in or units: mm, the unit of bare numbers.")
                .map(node -> in.choice(node, "units", List.of("in", "mm")).equals("in"))
                .orElse(false);
        in.setUnit(inches ? Unit.INCH : Unit.MILLIMETRE);
        Optional<String> datum = top.maybeText("datum");
        Optional<YamlNode> within = top.maybe("within");
        double withinMm = within.map(node -> in.positive(node, "within")).orElse(common.withinMm());
        Car.About about = new Car.About(
                top.maybeText("measured by"),
                top.maybeText("date"),
                top.maybeText("note"),
                top.maybe("invented").map(node -> in.yesOrNo(node, "invented")).orElse(false),
                withinMm);
        Optional<YamlNode> pointsNode = top.maybe("points");
        List<Car.Point> points = pointsNode.map(node -> points(node, withinMm)).orElse(List.of());
        // What follows rests on where the points are: without that, that they contradict one another says nothing.
        int placesMatterFrom = in.mark();
        Optional<YamlNode> tapeNode = top.maybe("tape");
        ofMechanisms = spots.askedBy(() -> {
            top.maybe("mechanisms").ifPresent(mechanisms::read);
            top.maybe("moves").ifPresent(this::moves);
        });
        PartReader parts = new PartReader(in, spots, mechanisms, allowanceNames, withinMm, meshes, shelf.tyres());
        readParts = Optional.of(parts);
        Optional<YamlNode> partsNode = top.maybe("parts");
        partsNode.ifPresent(parts::read);
        if (looksInside) {
            partsNode.ifPresent(parts::complainOfBuriedEnds);
        }
        if (!spots.unplaced().isEmpty()) {
            in.forgiveContradictions(placesMatterFrom);
        }
        List<Measurement> readings = tapeNode.map(node -> new TapeReader(
                                in, spots, Set.of(), Optional.of(parts.names()), Optional.of(mechanisms.handles()))
                        .read(node))
                .orElse(List.of());
        List<RuleList> lists = RuleLists.named(in, top.maybe("rule lists"), folder, shelf.ruleLists());
        Set<String> selectors = selectors(parts, lists);
        List<Car.Rule> rules =
                top.maybe("rules").map(node -> rules(node, selectors)).orElseGet(ArrayList::new);
        List<Car.Exclusion> exclusions =
                top.maybe("exclusions").map(node -> exclusions(node, selectors)).orElse(List.of());
        Car.JudgedBy judgedBy = new JudgedByReader(in).read(top, lists);
        List<Trial> trials = top.maybe("trials")
                .map(node -> new TrialReader(in, spots, mechanisms, parts).read(node))
                .orElse(List.of());
        top.maybe("hoses").ifPresent(node -> group(node, "hoses"));
        top.close();
        List<Mechanism> moving = in.clean(0) ? mechanisms.mechanisms() : List.of();
        if (in.clean(0)) {
            spots.unplaced()
                    .forEach((point, place) -> in.complain(
                            Kind.MISSING,
                            place,
                            "\"" + point + "\" is known by tape alone, and nobody has worked out where it is",
                            "",
                            "Write near: [ahead, left, up] for a rough place, or at: for a measured one."));
        }
        if (!in.clean(0)) {
            throw new CarFileException(in.complaints());
        }
        lists.forEach(list -> rules.addAll(list.gaps()));
        if (rules.stream()
                .noneMatch(rule -> rule.first().equals(ANY) && rule.second().equals(ANY))) {
            rules.add(new Car.Rule(
                    ANY, ANY, common.gapMm(), Optional.of(common.gapSource()), Optional.of("common practice")));
        }
        List<Car.Point> all = new ArrayList<>(points);
        for (Car.Point image : mechanisms.mirrorImages()) {
            double trusted = points.stream()
                    .filter(point -> image.mirrorOf().equals(Optional.of(point.name())))
                    .findFirst()
                    .map(Car.Point::withinMm)
                    .orElse(withinMm);
            all.add(new Car.Point(image.name(), image.at(), trusted, image.note(), image.mirrorOf()));
        }
        return new Car(
                name,
                reference,
                datum,
                inches,
                all,
                tape(readings, withinMm),
                moving,
                parts.parts(),
                List.copyOf(allowances.values()),
                rules,
                exclusions,
                about,
                parts.wheels(),
                mechanisms.checks(),
                mechanisms.readouts(),
                mechanisms.limits(),
                parts.hoses(),
                judgedBy,
                parts.metal(),
                trials);
    }

    private boolean isOurVersion(Fields top) {
        Optional<YamlNode> node = top.need("daylight", "Write daylight: " + VERSION + " on the first line.");
        if (node.isEmpty()) {
            return true;
        }
        int mark = in.mark();
        double version = in.number(node.get(), "daylight", 1, 1_000_000);
        if (!in.clean(mark)) {
            return true;
        }
        if (version != VERSION) {
            in.complain(
                    Kind.VERSION,
                    node.get().place(),
                    "this car file is of version " + node.get().kind().replace("\"", "") + ", newer than this program",
                    "This program reads version " + VERSION + ".",
                    "Get a newer program; the file was left as it is.");
            return false;
        }
        return true;
    }

    private void group(YamlNode node, String what) {
        if (node instanceof YamlNode.Mapping mapping) {
            Fields.complainAboutTwins(in, mapping);
        } else {
            in.wrongKind(node, what, "names, each with a colon and a value");
        }
    }

    /** What is written of one point besides its place. */
    private record Row(String name, double withinMm, Optional<String> note) {}

    private List<Car.Point> points(YamlNode node, double withinMm) {
        List<Car.Point> points = new ArrayList<>();
        Set<String> seen = new HashSet<>();
        for (Row row : rows(node, withinMm)) {
            if (seen.add(row.name)) {
                points.add(new Car.Point(row.name, spots.listed(row.name), row.withinMm, row.note));
            }
        }
        return points;
    }

    private List<Row> rows(YamlNode node, double withinMm) {
        if (!(node instanceof YamlNode.Mapping mapping)) {
            in.wrongKind(node, "points", "names, each with [ahead, left, up]");
            return List.of();
        }
        Fields.complainAboutTwins(in, mapping);
        List<Row> rows = new ArrayList<>();
        for (YamlNode.Entry entry : mapping.entries()) {
            String name = entry.key().text();
            if (entry.value() instanceof YamlNode.Mapping keys
                    && keys.get("from").isEmpty()) {
                Fields fields = Fields.of(in, keys, name);
                Optional<YamlNode> near = fields.maybe("near");
                Optional<YamlNode> byTape = fields.maybe("by tape");
                boolean taped = byTape.map(n -> in.yesOrNo(n, "by tape")).orElse(near.isPresent());
                Optional<YamlNode> at = taped ? fields.maybe("at") : fields.need("at", "Write at: [ahead, left, up].");
                double within = fields.maybe("within")
                        .map(n -> in.positive(n, "within"))
                        .orElse(withinMm);
                Optional<String> note = fields.maybeText("note");
                fields.close();
                if (taped && at.isPresent()) {
                    in.complain(
                            Kind.CONTRADICTION,
                            at.get().place(),
                            name + " has measured coordinates and is known by tape alone",
                            "",
                            "Keep at:, or write near: for a rough place that carries no weight.");
                }
                // A point whose place is missing still has its name: what refers to it is no second mistake.
                if (at.isPresent()) {
                    spots.add(entry.key(), at.get());
                } else if (taped) {
                    spots.addByTape(entry.key(), near.map(n -> SpotReader.coordinates(in, n, "near")));
                } else {
                    spots.add(name, Spot.ORIGIN);
                }
                rows.add(new Row(name, within, note));
            } else if (entry.value() instanceof YamlNode.Scalar word
                    && word.text().equals(BY_TAPE)) {
                spots.addByTape(entry.key(), Optional.empty());
                rows.add(new Row(name, withinMm, Optional.empty()));
            } else {
                spots.add(entry.key(), entry.value());
                rows.add(new Row(name, withinMm, Optional.empty()));
            }
        }
        return rows;
    }

    /** Returns whether only readings place a point that is written so. */
    static boolean isByTape(YamlNode place) {
        return place instanceof YamlNode.Mapping keys
                ? keys.get("at").isEmpty() && keys.get("from").isEmpty()
                : place instanceof YamlNode.Scalar word && word.text().equals(BY_TAPE);
    }

    private static List<Car.TapeReading> tape(List<Measurement> readings, double withinMm) {
        return readings.stream()
                .flatMap(reading -> reading instanceof Measurement.Distance distance
                        ? Stream.of(new Car.TapeReading(
                                distance.from(),
                                distance.to(),
                                distance.readsMm(),
                                distance.within().orElse(withinMm)))
                        : Stream.empty())
                .toList();
    }

    /**
     * Reads what was measured, without making a car of it: points that only the tape places need no place yet.
     *
     * @return the sheet, or nothing after a complaint
     */
    Optional<MeasuringSheet> sheet(YamlNode.Mapping root) {
        Fields top = Fields.of(in, root, "the car file");
        if (!isOurVersion(top)) {
            return Optional.empty();
        }
        boolean inches = top.need("units", "Write units: in or units: mm, the unit of bare numbers.")
                .map(node -> in.choice(node, "units", List.of("in", "mm")).equals("in"))
                .orElse(false);
        in.setUnit(inches ? Unit.INCH : Unit.MILLIMETRE);
        Optional<Double> within = top.maybe("within").map(node -> in.positive(node, "within"));
        double withinMm = within.orElse(common.withinMm());
        Optional<YamlNode> pointsNode = top.maybe("points");
        List<Row> rows = pointsNode.map(node -> rows(node, withinMm)).orElse(List.of());
        Map<String, String> images =
                top.maybe("mechanisms").map(mechanisms::imageNames).orElse(Map.of());
        List<Measurement> readings = new ArrayList<>(top.maybe("tape")
                .map(node -> new TapeReader(in, spots, images.keySet(), Optional.empty(), Optional.empty()).read(node))
                .orElse(List.of()));
        if (!in.clean(0)) {
            return Optional.empty();
        }
        Set<String> named = new HashSet<>();
        List<MeasuringSheet.Entry> entries = new ArrayList<>();
        for (Row row : rows) {
            if (spots.resolved(row.name).equals(row.name) && named.add(row.name)) {
                MeasuringSheet.Written written = written(pointsNode.flatMap(n -> ((YamlNode.Mapping) n).get(row.name)));
                entries.add(entry(row.name, written, row.withinMm));
            }
        }
        images.forEach((image, of) -> {
            if (named.contains(image)) {
                // Measured on the side that the file mirrors: it checks the other.
                String source = spots.resolved(of);
                readings.add(new Measurement.Mirror(
                        source + " and " + image + " alike",
                        spots.place(image).line(),
                        source,
                        image,
                        Optional.empty()));
            } else if (readings.stream().anyMatch(reading -> speaksOf(reading, image))) {
                entries.add(entry(image, new MeasuringSheet.Written.ImageOf(spots.resolved(of)), withinMm));
            }
        });
        return in.clean(0)
                ? Optional.of(new MeasuringSheet(in.file(), inches, within, entries, readings))
                : Optional.empty();
    }

    private MeasuringSheet.Entry entry(String name, MeasuringSheet.Written written, double withinMm) {
        YamlNode.Place place = spots.place(name);
        return new MeasuringSheet.Entry(name, place.line(), place.column(), written, withinMm);
    }

    private MeasuringSheet.Written written(Optional<YamlNode> entry) {
        if (entry.orElse(null) instanceof YamlNode.Mapping keys) {
            Optional<YamlNode> from = keys.get("from");
            Optional<YamlNode> by = keys.get("by");
            if (from.isPresent() && by.isPresent() && from.get() instanceof YamlNode.Scalar point) {
                return new MeasuringSheet.Written.From(
                        spots.resolved(point.text()), SpotReader.coordinates(in, by.get(), "by"));
            }
            if (from.isPresent() || keys.get("at").isPresent()) {
                return new MeasuringSheet.Written.At(
                        spots.spot(from.isPresent() ? keys : keys.get("at").get(), "at"));
            }
            return new MeasuringSheet.Written.ByTape(
                    keys.get("near").map(near -> SpotReader.coordinates(in, near, "near")));
        }
        if (entry.isPresent() && entry.get() instanceof YamlNode.Sequence place) {
            return new MeasuringSheet.Written.At(SpotReader.coordinates(in, place, "at"));
        }
        return new MeasuringSheet.Written.ByTape(Optional.empty());
    }

    private static boolean speaksOf(Measurement reading, String point) {
        if (reading instanceof Measurement.Distance d) {
            return point.equals(d.from()) || point.equals(d.to());
        } else if (reading instanceof Measurement.Offset o) {
            return point.equals(o.point()) || o.of().equals(Optional.of(point));
        } else if (reading instanceof Measurement.FromLine f) {
            return List.of(f.point(), f.first(), f.second()).contains(point);
        } else if (reading instanceof Measurement.FromPlane f) {
            return List.of(f.point(), f.first(), f.second(), f.third()).contains(point);
        } else if (reading instanceof Measurement.Level l) {
            return point.equals(l.from()) || point.equals(l.to());
        } else if (reading instanceof Measurement.LevelOn l) {
            return List.of(l.first(), l.second(), l.third()).contains(point);
        } else if (reading instanceof Measurement.PlumbOn p) {
            return List.of(p.first(), p.second(), p.third()).contains(point);
        } else if (reading instanceof Measurement.Mirror m) {
            return point.equals(m.left()) || point.equals(m.right());
        } else if (reading instanceof Measurement.Middle m) {
            return List.of(m.middle(), m.first(), m.second()).contains(point);
        } else if (reading instanceof Measurement.Rim r) {
            return r.edge().contains(point) || point.equals(r.centre()) || point.equals(r.axisEnd());
        }
        return false;
    }

    private void moves(YamlNode node) {
        if (!(node instanceof YamlNode.Mapping mapping)) {
            in.wrongKind(node, "moves", "names of bodies, each with {on: ..., sideways: ...}");
            return;
        }
        Fields.complainAboutTwins(in, mapping);
        mapping.entries().forEach(entry -> allowanceNames.add(entry.key().text()));
        for (YamlNode.Entry entry : mapping.entries()) {
            move(entry);
        }
        Set<String> told = new HashSet<>();
        for (YamlNode.Entry entry : mapping.entries()) {
            String name = entry.key().text();
            Set<String> chain = new LinkedHashSet<>();
            String at = name;
            while (allowances.containsKey(at) && chain.add(at)) {
                at = Optional.ofNullable(allowances.get(at))
                        .map(Car.Allowance::on)
                        .orElse("");
            }
            if (at.equals(name) && !chain.isEmpty() && told.addAll(chain)) {
                in.complain(
                        Kind.CONTRADICTION,
                        entry.key().place(),
                        "\"" + name + "\" is carried by itself",
                        "",
                        "Write on: " + Mechanism.GROUND + ", or another body that does not hang on it.");
            }
        }
    }

    private void move(YamlNode.Entry entry) {
        String name = entry.key().text();
        int mark = in.mark();
        if (name.equals(Mechanism.GROUND) || mechanisms.bodies().contains(name)) {
            in.complain(
                    Kind.TWICE,
                    entry.key().place(),
                    "\"" + name + "\" is a body already",
                    "",
                    "Give what moves besides the mechanisms a name of its own.");
        }
        Fields fields = Fields.of(in, entry.value(), name);
        Optional<YamlNode> onNode = fields.maybe("on");
        String on = onNode.map(n -> in.text(n, "on")).orElse(Mechanism.GROUND);
        Set<String> bodies = new LinkedHashSet<>();
        bodies.add(Mechanism.GROUND);
        bodies.addAll(mechanisms.bodies());
        bodies.addAll(allowanceNames);
        if (onNode.isPresent() && !on.isEmpty() && !bodies.contains(on) && !mechanisms.mayBeBroken(on)) {
            MechanismReader.unknownBody(in, onNode.get(), on, bodies);
        }
        fields.maybeText("note");
        List<Car.Allowance.Play> plays = new ArrayList<>();
        swing(fields, "sideways", Direction.LEFT).ifPresent(plays::add);
        swing(fields, "up and down", Direction.UP).ifPresent(plays::add);
        swing(fields, "fore and aft", Direction.FORWARD).ifPresent(plays::add);
        fields.maybe("grows").flatMap(this::growth).ifPresent(plays::add);
        fields.close();
        if (in.clean(mark)) {
            allowances.put(name, new Car.Allowance(name, on, plays));
        }
    }

    private Optional<Car.Allowance.Play> swing(Fields fields, String key, Direction along) {
        return fields.maybe(key).map(node -> {
            double mm = in.notNegative(node, key);
            return new Car.Allowance.Play(key, along, 0.0 - mm, mm);
        });
    }

    /** Reads {@code 3/16 along forward} or {@code {by: 3/16, along: [spot, spot]}}. */
    private Optional<Car.Allowance.Play> growth(YamlNode node) {
        int mark = in.mark();
        double by;
        Direction along;
        if (node instanceof YamlNode.Scalar scalar && !scalar.isNothing()) {
            int split = scalar.text().indexOf(" along ");
            if (split < 0) {
                in.complain(
                        Kind.NOT_A_VALUE,
                        node.place(),
                        "grows: \"" + scalar.text() + "\" does not say which way",
                        "",
                        "Write 3/16 along backward, or {by: 3/16, along: [spot, spot]}.");
                return Optional.empty();
            }
            by = in.notNegative(new YamlNode.Scalar(node.place(), scalar.text().substring(0, split), true), "grows");
            along = spots.direction(
                    new YamlNode.Scalar(
                            node.place(), scalar.text().substring(split + 7).strip(), true),
                    "grows along");
        } else {
            Fields fields = Fields.of(in, node, "grows");
            by = fields.need("by", "Write by: and how much.")
                    .map(n -> in.notNegative(n, "by"))
                    .orElse(0.0);
            along = fields.need("along", "Write along: [spot, spot].")
                    .map(n -> spots.direction(n, "along"))
                    .orElse(Direction.FORWARD);
            fields.close();
        }
        return in.clean(mark) ? Optional.of(new Car.Allowance.Play("grows", along, 0, by)) : Optional.empty();
    }

    private Set<String> selectors(PartReader parts, List<RuleList> lists) {
        Set<String> selectors = new LinkedHashSet<>();
        selectors.add(ANY);
        selectors.addAll(parts.names());
        parts.parts().forEach(part -> selectors.addAll(part.kinds()));
        parts.hoses().forEach(line -> selectors.addAll(line.kinds()));
        lists.forEach(list -> list.gaps().forEach(rule -> {
            selectors.add(rule.first());
            selectors.add(rule.second());
        }));
        selectors.add(Mechanism.GROUND);
        selectors.addAll(mechanisms.bodies());
        selectors.addAll(allowanceNames);
        return selectors;
    }

    private List<String> between(Fields fields, Set<String> selectors) {
        Optional<YamlNode> node = fields.need("between", "Write between: [one, other].");
        List<YamlNode> items = node.map(n -> in.list(n, "between", false)).orElse(List.of());
        if (node.isPresent() && items.size() != 2) {
            if (node.get() instanceof YamlNode.Sequence) {
                in.complain(
                        Kind.WRONG_COUNT,
                        node.get().place(),
                        "between has " + items.size() + (items.size() == 1 ? " name" : " names"),
                        "",
                        "Write two, each a part, a kind, a body or any.");
            }
            return List.of(ANY, ANY);
        }
        List<String> names = new ArrayList<>();
        for (YamlNode item : items) {
            int mark = in.mark();
            String name = in.text(item, "between");
            if (in.clean(mark) && !selectors.contains(name) && !mechanisms.mayBeBroken(name)) {
                in.unknown(
                        Kind.UNKNOWN_PART,
                        item,
                        "no part, kind or body is called \"" + name + "\"",
                        selectors,
                        "Write a part, a kind, a body, or any.");
            }
            names.add(name);
        }
        return names.size() == 2 ? names : List.of(ANY, ANY);
    }

    private List<Car.Rule> rules(YamlNode node, Set<String> selectors) {
        List<Car.Rule> rules = new ArrayList<>();
        for (YamlNode item : in.list(node, "rules", false)) {
            Fields fields = Fields.of(in, item, "the rule");
            List<String> two = between(fields, selectors);
            double least = fields.need("at least", "Write at least: and the gap.")
                    .map(n -> in.notNegative(n, "at least"))
                    .orElse(0.0);
            Optional<String> source = fields.maybeText("source");
            fields.maybeText("note");
            fields.close();
            rules.add(new Car.Rule(two.get(0), two.get(1), least, source));
        }
        return rules;
    }

    private List<Car.Exclusion> exclusions(YamlNode node, Set<String> selectors) {
        List<Car.Exclusion> exclusions = new ArrayList<>();
        for (YamlNode item : in.list(node, "exclusions", false)) {
            Fields fields = Fields.of(in, item, "the exclusion");
            List<String> two = between(fields, selectors);
            String because = fields.text("because", "Write because: and the reason, such as bolted together.");
            fields.close();
            exclusions.add(new Car.Exclusion(two.get(0), two.get(1), because));
        }
        return exclusions;
    }
}
