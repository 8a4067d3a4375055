package daylight.survey;

import daylight.geometry.Direction;
import java.util.List;

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
}
