package daylight.survey;

import daylight.geometry.Direction;
import java.util.List;
import java.util.stream.Collectors;

/**
 * A point that the readings leave free to move.
 *
 * @param point its name
 * @param along the directions in which nothing fixes it, one to three, at right angles to one another
 */
public record Unfixed(String point, List<Direction> along) {
    public Unfixed {
        along = List.copyOf(along);
    }

    /** An axis is meant when a direction leans from it by less than about 25 degrees. */
    private static final double MOSTLY = 0.9;

    /** Returns the directions in words: {@code fore and aft, up and down}. */
    public String words() {
        return along.size() == 3
                ? "in every direction"
                : along.stream().map(Unfixed::words).distinct().collect(Collectors.joining(" and "));
    }

    private static String words(Direction d) {
        if (Math.abs(d.x()) > MOSTLY) {
            return "fore and aft";
        } else if (Math.abs(d.y()) > MOSTLY) {
            return "sideways";
        } else if (Math.abs(d.z()) > MOSTLY) {
            return "up and down";
        }
        return "slantwise";
    }
}
