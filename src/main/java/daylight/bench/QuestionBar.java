package daylight.bench;

import java.util.Optional;
import javafx.geometry.Pos;
import javafx.scene.control.Button;
import javafx.scene.control.Label;
import javafx.scene.layout.FlowPane;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.Region;

/** What the user has to decide, in a bar at the top with a button for each answer. */
final class QuestionBar extends HBox {
    /** Room for the longest answers side by side. */
    private static final double BUTTONS_PX = 420;

    private final FileViewModel file;
    private final Label words = new Label();
    private final FlowPane buttons = new FlowPane(8, 6);

    QuestionBar(FileViewModel file) {
        this.file = file;
        setId("question");
        getStyleClass().addAll("notice", "question");
        setAlignment(Pos.CENTER_LEFT);
        words.getStyleClass().add("strong");
        words.setWrapText(true);
        words.setMinHeight(Region.USE_PREF_SIZE);
        HBox.setHgrow(words, Priority.ALWAYS);
        words.setMaxWidth(Double.MAX_VALUE);
        buttons.setAlignment(Pos.CENTER_RIGHT);
        buttons.setMinWidth(Region.USE_PREF_SIZE);
        getChildren().addAll(words, buttons);
        file.questionProperty().addListener(property -> show());
        show();
    }

    private void show() {
        Optional<Question> asked = file.questionProperty().get();
        setVisible(asked.isPresent());
        setManaged(asked.isPresent());
        buttons.getChildren().clear();
        asked.ifPresent(question -> {
            words.setText(question.words());
            for (Question.Answer answer : question.answers()) {
                Button button = new Button(answer.words());
                button.setAccessibleText(answer.words() + ". " + question.words());
                button.setMinWidth(Region.USE_PREF_SIZE);
                button.setOnAction(event -> file.answer(answer));
                if (buttons.getChildren().isEmpty()) {
                    button.getStyleClass().add("accent");
                }
                buttons.getChildren().add(button);
            }
            buttons.setPrefWrapLength(BUTTONS_PX);
            buttons.getChildren().get(0).requestFocus();
        });
    }
}
