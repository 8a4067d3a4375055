package daylight.bench;

import javafx.scene.control.Label;
import javafx.scene.layout.BorderPane;
import javafx.scene.layout.Region;
import javafx.scene.layout.VBox;

/** What to cut, and what that would change. */
final class TrimScreen implements StepScreen {
    private final BorderPane side = new BorderPane();

    TrimScreen() {
        side.getStyleClass().add("side");
        Label heading = new Label("What to cut");
        heading.getStyleClass().add("strong");
        Label words = new Label("Choose a tight gap in Gaps first; a plate of that pair can be trimmed.");
        words.setWrapText(true);
        words.getStyleClass().add("quiet");
        words.setMinHeight(Region.USE_PREF_SIZE);
        VBox head = new VBox(heading, words);
        head.getStyleClass().add("head");
        side.setTop(head);
    }

    @Override
    public Step step() {
        return Step.TRIM;
    }

    @Override
    public Region side() {
        return side;
    }
}
