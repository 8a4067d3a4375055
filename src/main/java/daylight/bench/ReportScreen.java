package daylight.bench;

import javafx.scene.control.Label;
import javafx.scene.layout.BorderPane;
import javafx.scene.layout.Region;
import javafx.scene.layout.VBox;

/** What is printed and kept. */
final class ReportScreen implements StepScreen {
    private final BorderPane side = new BorderPane();

    ReportScreen() {
        side.getStyleClass().add("side");
        Label heading = new Label("What is printed");
        heading.getStyleClass().add("strong");
        Label words = new Label("The report lists every gap with the place where it is least.");
        words.setWrapText(true);
        words.getStyleClass().add("quiet");
        words.setMinHeight(Region.USE_PREF_SIZE);
        VBox head = new VBox(heading, words);
        head.getStyleClass().add("head");
        side.setTop(head);
    }

    @Override
    public Step step() {
        return Step.REPORT;
    }

    @Override
    public Region side() {
        return side;
    }
}
