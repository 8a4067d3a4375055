package daylight.car;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * Which kinds the names of parts suggest, by the words in {@code models/kinds.yaml}. A guess is only ever shown, or written
 * into the car file when the builder asks for it; nothing is judged by one.
 */
public final class KindGuesses {
    private static final String FILE = "/models/kinds.yaml";

    private final List<Words> words;

    private record Words(String kind, List<String> any, List<String> unless) {}

    /**
     * A guess.
     *
     * @param part the part's name
     * @param kind what it may be
     * @param word the word of its name that suggests so
     */
    public record Guess(String part, String kind, String word) {}

    private KindGuesses(List<Words> words) {
        this.words = List.copyOf(words);
    }

    /**
     * Reads the words that come with the program.
     *
     * @throws IllegalStateException if they are broken
     */
    public static KindGuesses shipped() {
        String text = Layouts.resource(FILE)
                .orElseThrow(() -> new IllegalStateException(FILE + " is missing. Please report this."));
        try {
            return read("kinds.yaml", text);
        } catch (CarFileException e) {
            throw new IllegalStateException(
                    "a table of the program is broken; please report this: " + e.getMessage(), e);
        }
    }

    /** Reads the words from text. */
    static KindGuesses read(String file, String text) throws CarFileException {
        Reading in = new Reading(file);
        YamlNode.Mapping root = YamlText.read(in, text).orElseThrow(() -> new CarFileException(in.complaints()));
        Fields top = Fields.of(in, root, "the table");
        top.need("kinds", "Write kinds: 1.").ifPresent(node -> in.number(node, "kinds", 1, 1));
        List<Words> words = new ArrayList<>();
        for (YamlNode item : top.need("words", "List them.")
                .map(node -> in.list(node, "words", false))
                .orElse(List.of())) {
            Fields fields = Fields.of(in, item, "the kind");
            String kind = fields.text("kind", "Name it.");
            List<String> any = fields.need("any of", "List words.")
                    .map(n -> in.texts(n, "any of"))
                    .orElse(List.of());
            List<String> unless =
                    fields.maybe("unless").map(n -> in.texts(n, "unless")).orElse(List.of());
            fields.close();
            words.add(new Words(kind, any, unless));
        }
        top.close();
        if (!in.clean(0)) {
            throw new CarFileException(in.complaints());
        }
        return new KindGuesses(words);
    }

    /** Returns a guess for each part without a kind whose name suggests one, in file order. */
    public List<Guess> of(Car car) {
        return car.parts().stream()
                .filter(part -> part.kinds().isEmpty())
                .flatMap(part -> guess(part.name()).stream())
                .toList();
    }

    /** Returns the guess for a name, if it suggests a kind: by the first kind of the table that has one of its words. */
    public Optional<Guess> guess(String name) {
        String plain = " "
                + name.toLowerCase(Locale.ROOT).replaceAll("[^a-z0-9]+", " ").strip() + " ";
        for (Words of : words) {
            Optional<String> word = of.any.stream()
                    .filter(w -> plain.contains(" " + w + " ") || plain.contains(" " + w + "s "))
                    .findFirst();
            boolean not = of.unless.stream().anyMatch(w -> plain.contains(" " + w + " "));
            if (word.isPresent() && !not) {
                return Optional.of(new Guess(name, of.kind, word.get()));
            }
        }
        return Optional.empty();
    }

    /**
     * Returns a car file with guesses written in. A part that mirrors another takes its kinds from that one, and is left
     * as it is.
     */
    public static CarDocument written(CarDocument document, List<Guess> guesses) {
        CarDocument changed = document;
        for (Guess guess : guesses) {
            List<String> path = Arrays.asList("parts", guess.part());
            boolean mirror = changed.has(List.of("parts", guess.part(), "mirror"));
            if (!mirror) {
                changed = changed.withEntry(path, "kinds", "[" + guess.kind() + "]");
            }
        }
        return changed;
    }
}
