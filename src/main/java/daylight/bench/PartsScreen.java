package daylight.bench;

import javafx.scene.control.Label;
import javafx.scene.layout.BorderPane;
import javafx.scene.layout.Region;
import javafx.scene.layout.VBox;

/** What is on the car. */
final class PartsScreen implements StepScreen {
    private final BorderPane side = new BorderPane();

    PartsScreen() {
        side.getStyleClass().add("side");
        Label heading = new Label("What is on the car");
        heading.getStyleClass().add("strong");
        Label words = new Label("Click a part in the picture to see its name and what carries it.");
        words.setWrapText(true);
        words.getStyleClass().add("quiet");
        words.setMinHeight(Region.USE_PREF_SIZE);
        VBox head = new VBox(heading, words);
        head.getStyleClass().add("head");
        side.setTop(head);
    }

    @Override
    public Step step() {
        return Step.PARTS;
    }

    @Override
    public Region side() {
        return side;
    }
}
