package daylight.bench;

import javafx.scene.control.Label;
import javafx.scene.layout.BorderPane;
import javafx.scene.layout.Region;
import javafx.scene.layout.VBox;

/** What the tape read, and where that puts the points. */
final class MeasureScreen implements StepScreen {
    private final BorderPane side = new BorderPane();

    MeasureScreen() {
        side.getStyleClass().add("side");
        Label heading = new Label("Where the points are");
        heading.getStyleClass().add("strong");
        Label words = new Label("Readings and points are in the car file, under tape: and points:.");
        words.setWrapText(true);
        words.getStyleClass().add("quiet");
        words.setMinHeight(Region.USE_PREF_SIZE);
        VBox head = new VBox(heading, words);
        head.getStyleClass().add("head");
        side.setTop(head);
    }

    @Override
    public Step step() {
        return Step.MEASURE;
    }

    @Override
    public Region side() {
        return side;
    }
}
