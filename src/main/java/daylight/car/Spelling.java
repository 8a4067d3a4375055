package daylight.car;

import java.util.Collection;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;

/** Finds the name that was probably meant. */
final class Spelling {
    private Spelling() {}

    /**
     * Returns the known name nearest to a written one: fewest letters added, lost, changed or swapped; the first
     * of equals. None if more than a third of the letters would have to change (two at least are allowed), unless
     * a known name has all of the written words and more.
     */
    static Optional<String> nearest(String written, Collection<String> known) {
        String plain = plain(written);
        int limit = Math.max(2, plain.length() / 3);
        Optional<String> best = Optional.empty();
        for (String name : known) {
            int distance = distance(plain, plain(name));
            if (distance <= limit) {
                best = Optional.of(name);
                limit = distance - 1;
            }
        }
        if (best.isPresent() && limit <= 0) {
            return best;
        }
        // "front left arm" means "front left lower arm" rather than "front left rack".
        Set<String> words = Set.copyOf(List.of(plain.split(" +")));
        Optional<String> fuller = words.size() < 2
                ? Optional.empty()
                : known.stream()
                        .filter(name -> List.of(plain(name).split(" +")).containsAll(words))
                        .findFirst();
        return fuller.isPresent() ? fuller : best;
    }

    private static String plain(String name) {
        return name.toLowerCase(Locale.ROOT).replace('-', ' ').replace('_', ' ').strip();
    }

    /** Returns the optimal string alignment distance (Damerau 1964, Levenshtein 1966). */
    static int distance(String a, String b) {
        int[] twoBack = new int[b.length() + 1];
        int[] back = new int[b.length() + 1];
        int[] row = new int[b.length() + 1];
        for (int j = 0; j <= b.length(); j++) {
            back[j] = j;
        }
        for (int i = 1; i <= a.length(); i++) {
            row[0] = i;
            for (int j = 1; j <= b.length(); j++) {
                int change = a.charAt(i - 1) == b.charAt(j - 1) ? 0 : 1;
                row[j] = Math.min(Math.min(row[j - 1], back[j]) + 1, back[j - 1] + change);
                if (i > 1 && j > 1 && a.charAt(i - 1) == b.charAt(j - 2) && a.charAt(i - 2) == b.charAt(j - 1)) {
                    row[j] = Math.min(row[j], twoBack[j - 2] + 1);
                }
            }
            int[] spare = twoBack;
            twoBack = back;
            back = row;
            row = spare;
        }
        return back[b.length()];
    }
}
