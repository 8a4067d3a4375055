package daylight.bench;

import daylight.car.CarDocument;
import daylight.car.CarFile;
import daylight.car.CarFileException;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.Objects;
import java.util.Optional;
import java.util.function.Consumer;
import javafx.beans.property.ReadOnlyBooleanProperty;
import javafx.beans.property.ReadOnlyBooleanWrapper;
import javafx.beans.property.ReadOnlyObjectProperty;
import javafx.beans.property.ReadOnlyObjectWrapper;
import javafx.beans.property.ReadOnlyStringProperty;
import javafx.beans.property.ReadOnlyStringWrapper;

/**
 * The text of the open car file with the history of its changes. The text is the one truth of the window: whatever is
 * changed is changed in it, and everything that is shown is read from it again.
 */
final class FileViewModel {
    /** Steps that can be undone. A text of a large car is some 100 kB, so all of them together are small. */
    private static final int LONGEST_HISTORY = 500;

    /** A text, and what was done to come to it. */
    private record Stage(String what, CarDocument document) {}

    private final Consumer<CarDocument> changed;
    private final Deque<Stage> undone = new ArrayDeque<>();
    private final Deque<Stage> done = new ArrayDeque<>();
    private final ReadOnlyObjectWrapper<Optional<CarDocument>> document = new ReadOnlyObjectWrapper<>(Optional.empty());
    private final ReadOnlyStringWrapper undoWords = new ReadOnlyStringWrapper("");
    private final ReadOnlyStringWrapper redoWords = new ReadOnlyStringWrapper("");
    private final ReadOnlyBooleanWrapper unsaved = new ReadOnlyBooleanWrapper(false);
    private String savedText = "";

    /**
     * Begins without a file.
     *
     * @param changed told of every text that comes of a change, so that the car is read from it
     */
    FileViewModel(Consumer<CarDocument> changed) {
        this.changed = changed;
    }

    /** Takes on a text as it is on disk. The history of another file is forgotten; of the same file it goes on. */
    void take(CarDocument fresh) {
        boolean same =
                document.get().map(old -> old.file().equals(fresh.file())).orElse(false);
        if (!same) {
            done.clear();
            undone.clear();
        } else if (!document.get().orElseThrow().toText().equals(fresh.toText())) {
            push("change on disk", document.get().orElseThrow());
        }
        savedText = fresh.toText();
        set(fresh);
    }

    /**
     * Changes the text.
     *
     * @param what what is done, as the menu will say after "Undo": {@code move the bracket}
     * @param fresh the text that comes of it
     */
    void edit(String what, CarDocument fresh) {
        CarDocument old = document.get().orElseThrow(() -> new IllegalStateException("no car file is open"));
        if (old.toText().equals(fresh.toText())) {
            return;
        }
        push(what, old);
        set(fresh);
        changed.accept(fresh);
    }

    private void push(String what, CarDocument old) {
        done.push(new Stage(what, old));
        undone.clear();
        if (done.size() > LONGEST_HISTORY) {
            done.removeLast();
        }
    }

    /** Takes the last change back. */
    void undo() {
        step(done, undone);
    }

    /** Does the change that was taken back last again. */
    void redo() {
        step(undone, done);
    }

    private void step(Deque<Stage> from, Deque<Stage> onto) {
        if (!from.isEmpty()) {
            Stage stage = from.pop();
            onto.push(new Stage(stage.what(), document.get().orElseThrow()));
            set(stage.document());
            changed.accept(stage.document());
        }
    }

    private void set(CarDocument fresh) {
        document.set(Optional.of(fresh));
        undoWords.set(done.isEmpty() ? "" : Objects.requireNonNull(done.peek()).what());
        redoWords.set(
                undone.isEmpty() ? "" : Objects.requireNonNull(undone.peek()).what());
        unsaved.set(!fresh.toText().equals(savedText));
    }

    /**
     * Writes the text into its file, whole or not at all.
     *
     * @throws CarFileException if the disk does not take it; the text is kept here
     */
    void save() throws CarFileException {
        CarDocument now = document.get().orElseThrow(() -> new IllegalStateException("no car file is open"));
        Path file = now.file().orElseThrow(() -> new IllegalStateException("the text has no file yet"));
        CarFile.save(file, now.toText());
        savedText = now.toText();
        unsaved.set(false);
    }

    /** Whether a text that comes from the disk is what was last read from it or written to it. */
    boolean isSaved(String text) {
        return text.equals(savedText);
    }

    ReadOnlyObjectProperty<Optional<CarDocument>> documentProperty() {
        return document.getReadOnlyProperty();
    }

    /** What undo would take back; empty where there is nothing. */
    ReadOnlyStringProperty undoWordsProperty() {
        return undoWords.getReadOnlyProperty();
    }

    /** What redo would do again; empty where there is nothing. */
    ReadOnlyStringProperty redoWordsProperty() {
        return redoWords.getReadOnlyProperty();
    }

    /** Whether the text is not what the file holds. */
    ReadOnlyBooleanProperty unsavedProperty() {
        return unsaved.getReadOnlyProperty();
    }
}
