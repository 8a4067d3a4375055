package daylight.bench;

import java.util.Optional;
import javafx.beans.value.ObservableBooleanValue;
import javafx.scene.input.KeyCombination;

/**
 * Something the user can do. Menu, keys, buttons and the help page all come from the one list of these.
 *
 * @param id for programs and tests
 * @param group which heading of menu and help it stands under
 * @param words what the user reads, beginning with a verb
 * @param key the key that does it, if any
 * @param enabled whether it can run now
 * @param otherwise what has to be done first, while it cannot run
 * @param run does it
 */
record Action(
        String id,
        String group,
        String words,
        Optional<KeyCombination> key,
        ObservableBooleanValue enabled,
        String otherwise,
        Runnable run) {

    /** Does it if it can run now. */
    void fire() {
        if (enabled.get()) {
            run.run();
        }
    }
}
