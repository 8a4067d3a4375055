package daylight.clearance;

import daylight.car.Car;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Finds the rule that sets the figure of a pair.
 *
 * <p>Of the car file's own rules, and of each rule list, the narrowest that fits counts (of equally narrow ones the
 * widest gap). Of those the widest gap wins, since an inspector holds a car to every list; but the builder's own rule
 * overrules those of the lists that are not narrower, since it speaks of this very car, and a rule for any pair counts
 * only where no other fits.
 */
public final class Rules {
    private static final String ANY = "any";
    private static final String OWN = "this car file";

    private Rules() {}

    /** A rule that fits a pair, and how narrowly. */
    private record Fit(Car.Rule rule, int narrow) {}

    /** Returns the rule for two parts, if any fits. */
    public static Optional<Car.Rule> of(List<Car.Rule> rules, Car.Part a, Car.Part b) {
        Map<String, Fit> narrowest = new LinkedHashMap<>();
        for (Car.Rule rule : rules) {
            int narrow = Math.max(
                    narrowness(rule.first(), a, rule.second(), b), narrowness(rule.first(), b, rule.second(), a));
            if (narrow >= 0) {
                narrowest.merge(listOf(rule), new Fit(rule, narrow), Rules::narrower);
            }
        }
        int own = Optional.ofNullable(narrowest.get(OWN)).map(Fit::narrow).orElse(-1);
        int most = narrowest.values().stream().mapToInt(Fit::narrow).max().orElse(-1);
        Car.Rule best = null;
        for (Fit fit : narrowest.values()) {
            boolean counts = (fit.narrow > own || listOf(fit.rule).equals(OWN)) && (fit.narrow > 0 || most == 0);
            if (counts && (best == null || fit.rule.atLeastMm() > best.atLeastMm())) {
                best = fit.rule;
            }
        }
        return Optional.ofNullable(best);
    }

    private static Fit narrower(Fit one, Fit other) {
        boolean better = other.narrow > one.narrow
                || (other.narrow == one.narrow && other.rule.atLeastMm() > one.rule.atLeastMm());
        return better ? other : one;
    }

    /** Returns the list that asks for a rule: its name, or {@code this car file}. */
    public static String listOf(Car.Rule rule) {
        return rule.list().orElse(OWN);
    }

    /** Returns a rule in words: between what, by which list, and where that has it from. */
    public static String words(Car.Rule rule) {
        String between = rule.first() + " and " + rule.second() + ", by " + listOf(rule);
        return rule.source().map(source -> between + " (" + source + ")").orElse(between);
    }

    /** Returns the builder's exclusion of a pair, if there is one. */
    public static Optional<Car.Exclusion> exclusion(Car car, Car.Part a, Car.Part b) {
        return car.exclusions().stream()
                .filter(e -> fits(e.first(), e.second(), a, b))
                .findFirst();
    }

    /** Returns whether the builder has left a pair out. */
    public static boolean leftOut(Car car, Car.Part a, Car.Part b) {
        return exclusion(car, a, b).isPresent();
    }

    /** Returns whether a pair of selections fits two parts, either way round. */
    static boolean fits(String first, String second, Car.Part a, Car.Part b) {
        return narrowness(first, a, second, b) >= 0 || narrowness(first, b, second, a) >= 0;
    }

    private static int narrowness(String first, Car.Part a, String second, Car.Part b) {
        int one = narrowness(first, a);
        int other = narrowness(second, b);
        return one < 0 || other < 0 ? -1 : one + other;
    }

    /** A part's name is narrower than its kind, its kind than its body, its body than anything; -1 does not fit. */
    private static int narrowness(String selection, Car.Part part) {
        if (selection.equals(part.name())) {
            return 8;
        }
        if (part.kinds().contains(selection)) {
            return 3;
        }
        if (selection.equals(part.body())) {
            return 1;
        }
        return selection.equals(ANY) ? 0 : -1;
    }
}
