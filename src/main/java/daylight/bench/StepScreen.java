package daylight.bench;

import java.util.List;
import java.util.Optional;
import javafx.scene.layout.Region;

/**
 * What one step of the job puts round the car. {@link BenchView} makes one of each when it opens, keeps it, and asks
 * for its places once; {@code BenchView.screens} is the list of them.
 *
 * <p>A screen changes the car file through {@link BenchViewModel#edit}, which keeps the history for undo, and learns of
 * every change (its own, an undone one, one on disk) through {@link BenchViewModel#openProperty}.
 */
interface StepScreen {
    /** The step that it is for. */
    Step step();

    /** The panel at the left; of style class {@code side}. */
    Region side();

    /** What takes the place of the car in the middle: a drawing, a page. The car stays where there is nothing. */
    default Optional<Region> middle() {
        return Optional.empty();
    }

    /** What lies under the middle. The handles and the gap's curve stay where there is nothing. */
    default Optional<Region> under() {
        return Optional.empty();
    }

    /** What the user can do here: it goes into the menu, the keys and the page of keys. */
    default List<Action> actions() {
        return List.of();
    }

    /** Told when the step is gone to and when it is left: work that only this step needs begins and ends here. */
    default void shown(boolean shown) {}
}
