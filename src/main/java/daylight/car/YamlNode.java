package daylight.car;

import java.util.List;
import java.util.Optional;

/** A piece of a YAML file and where it stands. */
sealed interface YamlNode {

    /** Where it stands. */
    Place place();

    /** What it is, for a message. */
    String kind();

    /**
     * A place in the text.
     *
     * @param line first is 1
     * @param column first is 1, in characters as an editor counts them
     * @param start offset of its first char in the text
     * @param end offset after its last char
     */
    record Place(int line, int column, int start, int end) {}

    /** One value: what a person wrote, without quotes. {@code plain} is false when it was quoted or a block. */
    record Scalar(Place place, String text, boolean plain) implements YamlNode {
        @Override
        public String kind() {
            return isNothing() ? "nothing" : "\"" + text + "\"";
        }

        /** Whether nothing was written ({@code note:}). */
        boolean isNothing() {
            return plain && (text.isEmpty() || text.equals("~") || text.equals("null"));
        }
    }

    /** A list. {@code flow} says that it is written with brackets. */
    record Sequence(Place place, List<YamlNode> items, boolean flow) implements YamlNode {
        public Sequence {
            items = List.copyOf(items);
        }

        @Override
        public String kind() {
            return "a list";
        }
    }

    /** Keys with values, in order. {@code flow} says that it is written with braces. */
    record Mapping(Place place, List<Entry> entries, boolean flow) implements YamlNode {
        public Mapping {
            entries = List.copyOf(entries);
        }

        @Override
        public String kind() {
            return "a group of keys";
        }

        /** Returns the first value of a key. */
        Optional<YamlNode> get(String key) {
            for (Entry entry : entries) {
                if (entry.key.text.equals(key)) {
                    return Optional.of(entry.value);
                }
            }
            return Optional.empty();
        }
    }

    /** A key and its value. */
    record Entry(Scalar key, YamlNode value) {}
}
