package daylight.clearance;

import daylight.car.Car;
import java.util.List;
import java.util.Optional;

/** Finds the rule that applies to a pair: the narrowest that fits; of equally narrow ones the widest gap. */
public final class Rules {
    private static final String ANY = "any";

    private Rules() {}

    /** Returns the rule for two parts, if any fits. */
    public static Optional<Car.Rule> of(List<Car.Rule> rules, Car.Part a, Car.Part b) {
        Car.Rule best = null;
        int bestNarrow = -1;
        for (Car.Rule rule : rules) {
            int narrow = Math.max(
                    narrowness(rule.first(), a, rule.second(), b), narrowness(rule.first(), b, rule.second(), a));
            boolean better = narrow > bestNarrow
                    || (narrow == bestNarrow && best != null && rule.atLeastMm() > best.atLeastMm());
            if (narrow >= 0 && better) {
                best = rule;
                bestNarrow = narrow;
            }
        }
        return Optional.ofNullable(best);
    }

    /** Returns a rule in words, with its source. */
    public static String words(Car.Rule rule) {
        String between = rule.first() + " and " + rule.second();
        return rule.source().map(source -> between + " (" + source + ")").orElse(between);
    }

    /** Returns whether the builder has left a pair out. */
    public static boolean leftOut(Car car, Car.Part a, Car.Part b) {
        return car.exclusions().stream().anyMatch(e -> fits(e.first(), e.second(), a, b));
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
