package daylight.car;

import daylight.car.Complaint.Kind;
import daylight.geometry.Direction;
import daylight.geometry.Spot;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * Reads spots and directions: a point's name, {@code [ahead, left, up]}, or {@code {from: point, by: [...]}}.
 * Holds the points that have names.
 */
final class SpotReader {
    /** Directions that have a word. */
    private static final Map<String, Direction> WORDS = words();

    /** Two spots nearer than this give no direction: no tape reads a micrometre. */
    static final double SAME_SPOT_MM = 1e-3;

    private final Reading in;
    private final Map<String, YamlNode> written = new LinkedHashMap<>();
    private final Map<String, YamlNode.Place> places = new LinkedHashMap<>();
    private final Map<String, Spot> known = new LinkedHashMap<>();
    private final Map<String, Spot> moved;
    private final Set<String> onTheWay = new LinkedHashSet<>();
    private final Set<String> asked = new LinkedHashSet<>();
    /** Points that only the tape places, each with where it is written. */
    private final Map<String, YamlNode.Place> unplaced = new LinkedHashMap<>();

    /**
     * @param moved places that take the place of what the file says, by name (adjusted by a survey); may be empty
     */
    SpotReader(Reading in, Map<String, Spot> moved) {
        this.in = in;
        this.moved = moved;
    }

    /** Adds a point that is written in the file; its place is read when it is first asked for. */
    void add(YamlNode.Scalar name, YamlNode at) {
        written.putIfAbsent(name.text(), at);
        places.putIfAbsent(name.text(), name.place());
    }

    /** Adds a point that follows from others. */
    void add(String name, Spot at) {
        known.putIfAbsent(name, at);
    }

    /**
     * Adds a point whose place only the tape gives: it is where the survey put it, else near the guess, else at a
     * stand-in that gives a complaint of its own.
     */
    void addByTape(YamlNode.Scalar name, Optional<Spot> near) {
        Spot found = moved.get(name.text());
        if (found == null && near.isEmpty()) {
            unplaced.putIfAbsent(name.text(), name.place());
        }
        places.putIfAbsent(name.text(), name.place());
        // No two stand-ins are one spot, nor three in a line: what is read further on is not to complain about them.
        int n = known.size() + 1;
        Spot standIn = new Spot(31.0 * n, 17.0 * n * n, 300 + 7.0 * n * n * n);
        known.putIfAbsent(name.text(), found != null ? found : near.orElse(standIn));
    }

    /** Returns the points that only the tape places and that nothing has placed, with where they are written. */
    Map<String, YamlNode.Place> unplaced() {
        return unplaced;
    }

    /** Returns the point that another is only a further name of, or the same name. */
    String resolved(String name) {
        String at = name;
        Set<String> seen = new LinkedHashSet<>();
        while (written.get(at) instanceof YamlNode.Scalar scalar && seen.add(at) && has(scalar.text())) {
            at = scalar.text();
        }
        return at;
    }

    /** Returns where a point is written; the file's begin where it is not. */
    YamlNode.Place place(String name) {
        return places.getOrDefault(name, new YamlNode.Place(1, 1, 0, 0));
    }

    /** Returns whether a point has that name. */
    boolean has(String name) {
        return known.containsKey(name) || written.containsKey(name);
    }

    /** Returns every name in file order. */
    Collection<String> names() {
        Set<String> names = new LinkedHashSet<>(written.keySet());
        names.addAll(known.keySet());
        return names;
    }

    /** Returns the points whose places were asked for. */
    Set<String> asked() {
        return asked;
    }

    /** Does some reading, and returns the points whose places it asked for. */
    Set<String> askedBy(Runnable reading) {
        Set<String> before = new LinkedHashSet<>(asked);
        asked.clear();
        reading.run();
        Set<String> mine = new LinkedHashSet<>(asked);
        asked.addAll(before);
        return mine;
    }

    /** Returns the place of a point that {@link #has} a name. */
    Spot of(String name) {
        asked.add(name);
        return listed(name);
    }

    /** Returns a point's place without counting it as asked for (though what it is written from is). */
    Spot listed(String name) {
        Spot spot = known.get(name);
        if (spot != null) {
            return spot;
        }
        YamlNode node = written.get(name);
        if (node == null) {
            throw new IllegalArgumentException("no point is called " + name);
        }
        if (!onTheWay.add(name)) {
            in.complain(
                    Kind.CONTRADICTION,
                    node.place(),
                    "\"" + name + "\" is placed by points that are placed by it",
                    "",
                    "Give one of " + Reading.oneOf(onTheWay) + " its own coordinates.");
            return Spot.ORIGIN;
        }
        Spot read = spot(node, name);
        onTheWay.remove(name);
        Spot at = moved.getOrDefault(name, read);
        known.put(name, at);
        return at;
    }

    /** Reads a spot. */
    Spot spot(YamlNode node, String what) {
        if (node instanceof YamlNode.Sequence) {
            return coordinates(in, node, what);
        }
        if (node instanceof YamlNode.Mapping) {
            Fields fields = Fields.of(in, node, what);
            int mark = in.mark();
            Spot from = fields.need("from", "Write from: and a point's name.")
                    .map(n -> spot(n, "from"))
                    .orElse(Spot.ORIGIN);
            Spot by = fields.need("by", "Write by: [ahead, left, up].")
                    .map(n -> coordinates(in, n, "by"))
                    .orElse(Spot.ORIGIN);
            fields.close();
            return in.clean(mark) ? from.plus(by.x(), by.y(), by.z()) : Spot.ORIGIN;
        }
        int mark = in.mark();
        String name = in.text(node, what);
        if (!in.clean(mark)) {
            return Spot.ORIGIN;
        }
        if (!has(name)) {
            unknownPoint(node, name);
            return Spot.ORIGIN;
        }
        return of(name);
    }

    /** Reads a point's name. */
    String name(YamlNode node, String what) {
        int mark = in.mark();
        String name = in.text(node, what);
        if (in.clean(mark) && !has(name)) {
            unknownPoint(node, name);
        }
        return name;
    }

    private void unknownPoint(YamlNode node, String name) {
        Optional<String> nearest = Spelling.nearest(name, names());
        String advice = nearest.map(near -> "Nearest: \"" + near + "\""
                        + Optional.ofNullable(places.get(near))
                                .map(place -> " (line " + place.line() + ").")
                                .orElse("."))
                .orElse("Write the name of a point under points, or [ahead, left, up].");
        in.complain(Kind.UNKNOWN_POINT, node.place(), "no point is called \"" + name + "\"", "", advice);
    }

    /** Reads three coordinates: ahead of the datum line, left of centre, above the floor. */
    static Spot coordinates(Reading in, YamlNode node, String what) {
        int mark = in.mark();
        if (!(node instanceof YamlNode.Sequence sequence)) {
            in.wrongKind(node, what, "[ahead, left, up]");
            return Spot.ORIGIN;
        }
        if (sequence.items().size() != 3) {
            in.complain(
                    Kind.WRONG_COUNT,
                    node.place(),
                    what + " has " + sequence.items().size() + " numbers",
                    "",
                    "Write three: [ahead of the datum line, left of centre, above the floor]"
                            + (sequence.items().size() > 3 ? ", decimals with a point." : "."));
            return Spot.ORIGIN;
        }
        double x = in.length(sequence.items().get(0), what);
        double y = in.length(sequence.items().get(1), what);
        double z = in.length(sequence.items().get(2), what);
        return in.clean(mark) ? new Spot(x, y, z) : Spot.ORIGIN;
    }

    /** Reads a list of spots. */
    List<Spot> spots(YamlNode node, String what, int least) {
        List<YamlNode> items = in.list(node, what, false);
        if (items.size() < least && node instanceof YamlNode.Sequence) {
            in.complain(
                    Kind.WRONG_COUNT,
                    node.place(),
                    what + " has " + items.size() + (items.size() == 1 ? " spot" : " spots"),
                    "",
                    "Write at least " + least + ".");
        }
        List<Spot> spots = new ArrayList<>();
        for (YamlNode item : items) {
            spots.add(spot(item, what));
        }
        return spots;
    }

    /** Reads a direction: a word, {@code [spot, spot]}, or three numbers. */
    Direction direction(YamlNode node, String what) {
        if (node instanceof YamlNode.Scalar) {
            String word = in.choice(node, what, List.copyOf(WORDS.keySet()));
            return WORDS.getOrDefault(word, Direction.FORWARD);
        }
        int mark = in.mark();
        List<YamlNode> items = in.list(node, what, false);
        if (items.size() == 2) {
            Spot from = spot(items.get(0), what);
            Spot to = spot(items.get(1), what);
            if (!in.clean(mark)) {
                return Direction.FORWARD;
            }
            if (from.distanceTo(to) > SAME_SPOT_MM) {
                return Direction.from(from, to);
            }
        } else if (items.size() == 3) {
            Spot tip = coordinates(in, node, what);
            if (!in.clean(mark)) {
                return Direction.FORWARD;
            }
            if (tip.distanceTo(Spot.ORIGIN) > SAME_SPOT_MM) {
                return Direction.from(Spot.ORIGIN, tip);
            }
        }
        if (in.clean(mark)) {
            in.complain(
                    Kind.NOT_A_VALUE,
                    node.place(),
                    what + " is no direction",
                    "",
                    "Write " + Reading.oneOf(WORDS.keySet()) + ", two different spots, or three numbers.");
        }
        return Direction.FORWARD;
    }

    private static Map<String, Direction> words() {
        Map<String, Direction> words = new LinkedHashMap<>();
        words.put("forward", Direction.FORWARD);
        words.put("backward", Direction.FORWARD.reversed());
        words.put("left", Direction.LEFT);
        words.put("right", Direction.LEFT.reversed());
        words.put("up", Direction.UP);
        words.put("down", Direction.UP.reversed());
        return Collections.unmodifiableMap(words);
    }
}
