package daylight.bench;

import daylight.car.Layout;
import daylight.car.Layouts;
import daylight.car.StarterFile;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import javafx.beans.property.BooleanProperty;
import javafx.beans.property.ReadOnlyStringProperty;
import javafx.beans.property.ReadOnlyStringWrapper;
import javafx.beans.property.SimpleBooleanProperty;
import javafx.collections.FXCollections;
import javafx.collections.ObservableList;

/** A car file to begin with: which mechanisms the car has, what they are called, and the unit of the tape. */
final class NewCarViewModel {

    private final List<Layout> layouts = Layouts.names().stream()
            .flatMap(name -> Layouts.named(name).stream())
            .toList();
    private final ObservableList<StarterFile.Wanted> lines = FXCollections.observableArrayList();
    private final BooleanProperty inches = new SimpleBooleanProperty(true);
    private final ReadOnlyStringWrapper complaint = new ReadOnlyStringWrapper("");

    /** The layouts in the order in which they are offered. */
    List<Layout> layouts() {
        return layouts;
    }

    /** What was asked for so far. */
    ObservableList<StarterFile.Wanted> lines() {
        return lines;
    }

    /** Whether the tape reads inches; else millimetres. */
    BooleanProperty inchesProperty() {
        return inches;
    }

    /** What is wrong with the name that was given last; empty where nothing is. */
    ReadOnlyStringProperty complaintProperty() {
        return complaint.getReadOnlyProperty();
    }

    /** Returns a name for a mechanism of a layout that none has yet. */
    String usualName(Layout layout) {
        String plain = StarterFile.Wanted.of(layout).name();
        String axle = layout.mirrors() ? (has("front left") ? "rear left" : "front left") : plain;
        String name = layout.mirrors() ? axle : plain;
        for (int number = 2; has(name); number++) {
            name = plain + " " + number;
        }
        return name;
    }

    private boolean has(String name) {
        return lines.stream().anyMatch(line -> line.name().equals(name));
    }

    /** Adds a mechanism; a name that will not do is complained about and nothing is added. */
    void add(Layout layout, String name) {
        try {
            StarterFile.Wanted wanted = new StarterFile.Wanted(name.strip(), layout);
            List<StarterFile.Wanted> all = new ArrayList<>(lines);
            all.add(wanted);
            StarterFile.of(all, inches.get());
            complaint.set("");
            lines.add(wanted);
        } catch (IllegalArgumentException e) {
            complaint.set(e.getMessage() + ". Give it another name.");
        }
    }

    /** Takes a mechanism out again. */
    void remove(StarterFile.Wanted line) {
        lines.remove(line);
    }

    /** Returns the text of the car file; nothing while no mechanism is asked for. */
    Optional<String> text() {
        return lines.isEmpty() ? Optional.empty() : Optional.of(StarterFile.of(List.copyOf(lines), inches.get()));
    }
}
