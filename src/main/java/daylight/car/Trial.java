package daylight.car;

import java.util.List;

/**
 * A named list of changes to a car that are tried together. It never edits the car: {@code daylight.trim} makes the car
 * that would come of it and compares the two.
 *
 * @param name what the builder calls it
 * @param changes at least one, made one after another
 */
public record Trial(String name, List<Change> changes) {
    public Trial {
        changes = List.copyOf(changes);
        if (changes.isEmpty()) {
            throw new IllegalArgumentException("a trial has at least one change: " + name);
        }
    }
}
