package daylight.motion;

import java.util.List;
import java.util.OptionalDouble;

/**
 * One quantity over a movement.
 *
 * @param name what it is, for example {@code camber}
 * @param meaning its definition and sign in one line
 * @param quantity its kind and unit
 * @param values one per position of the table; empty where it has no value (a swing arm of parallel links)
 */
public record Curve(String name, String meaning, Quantity quantity, List<OptionalDouble> values) {
    public Curve {
        values = List.copyOf(values);
    }

    /** Returns whether it has a value anywhere. */
    public boolean isKnown() {
        return values.stream().anyMatch(OptionalDouble::isPresent);
    }
}
