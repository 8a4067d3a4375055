package daylight.car;

import daylight.car.Complaint.Kind;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * The keys of one group, asked for one by one. What has been asked for is what is allowed: {@link #close} complains
 * about every key that nobody asked for. A key that is there twice is complained about at once.
 */
final class Fields {
    private final Reading in;
    private final YamlNode.Mapping mapping;
    private final YamlNode place;
    private final String what;
    private final List<String> asked = new ArrayList<>();

    private Fields(Reading in, YamlNode.Mapping mapping, YamlNode place, String what) {
        this.in = in;
        this.mapping = mapping;
        this.place = place;
        this.what = what;
        complainAboutTwins(in, mapping);
    }

    /** Opens a group; after a complaint about something else in its place, an empty one. */
    static Fields of(Reading in, YamlNode node, String what) {
        if (node instanceof YamlNode.Mapping mapping) {
            return new Fields(in, mapping, node, what);
        }
        in.wrongKind(node, what, "keys in braces, or on lines set in below");
        return new Fields(in, new YamlNode.Mapping(node.place(), List.of(), true), node, "");
    }

    static void complainAboutTwins(Reading in, YamlNode.Mapping mapping) {
        Set<String> seen = new HashSet<>();
        for (YamlNode.Entry entry : mapping.entries()) {
            String key = entry.key().text();
            if (!seen.add(key)) {
                int first = mapping.entries().stream()
                        .filter(e -> e.key().text().equals(key))
                        .findFirst()
                        .map(e -> e.key().place().line())
                        .orElse(0);
                in.complain(
                        Kind.TWICE,
                        entry.key().place(),
                        "\"" + key + "\" is here twice; the first is in line " + first,
                        "",
                        "Keep one of them, or give the second another name.");
            }
        }
    }

    /** Whether the group could be opened. After a complaint about its kind nothing is missing in it. */
    boolean isReal() {
        return !what.isEmpty();
    }

    /** Whether there is a key that has not been asked for: perhaps what is missing, misspelt. */
    boolean hasStrangers() {
        return mapping.entries().stream()
                .anyMatch(entry -> !asked.contains(entry.key().text()));
    }

    YamlNode node() {
        return place;
    }

    Reading in() {
        return in;
    }

    /** Returns a key's value if it is there. */
    Optional<YamlNode> maybe(String key) {
        asked.add(key);
        return mapping.get(key);
    }

    /** Returns a key's value; complains if it is not there. */
    Optional<YamlNode> need(String key, String advice) {
        Optional<YamlNode> value = maybe(key);
        // A misspelt key is one mistake, not two: the complaint about the unknown key is enough.
        if (value.isEmpty() && isReal() && !isMisspelt(key)) {
            in.complain(Kind.MISSING, place.place(), what + " has no \"" + key + "\"", "", advice);
        }
        return value;
    }

    private boolean isMisspelt(String key) {
        return mapping.entries().stream()
                .map(entry -> entry.key().text())
                .anyMatch(written -> !asked.contains(written)
                        && Spelling.nearest(written, List.of(key)).isPresent());
    }

    Optional<String> maybeText(String key) {
        return maybe(key).map(node -> in.text(node, key));
    }

    String text(String key, String advice) {
        return need(key, advice).map(node -> in.text(node, key)).orElse("");
    }

    double positive(String key, String advice) {
        return need(key, advice).map(node -> in.positive(node, key)).orElse(1.0);
    }

    double notNegative(String key, double otherwise) {
        return maybe(key).map(node -> in.notNegative(node, key)).orElse(otherwise);
    }

    /** Complains about each key that nobody asked for. */
    void close() {
        for (YamlNode.Entry entry : mapping.entries()) {
            String key = entry.key().text();
            if (!asked.contains(key)) {
                in.unknown(
                        Kind.UNKNOWN_KEY,
                        entry.key(),
                        what + " has no key \"" + key + "\"",
                        asked,
                        "Known here: " + String.join(", ", asked) + ".");
            }
        }
    }
}
