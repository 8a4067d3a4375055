package daylight.bench;

import daylight.car.Trial;
import daylight.clearance.GapRow;
import daylight.clearance.State;
import daylight.report.Wording;
import daylight.trim.TrialRow;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.Supplier;
import javafx.collections.ListChangeListener;
import javafx.geometry.Pos;
import javafx.scene.Node;
import javafx.scene.control.Button;
import javafx.scene.control.CheckBox;
import javafx.scene.control.Label;
import javafx.scene.control.ProgressBar;
import javafx.scene.control.ScrollPane;
import javafx.scene.control.Tooltip;
import javafx.scene.layout.GridPane;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.Region;
import javafx.scene.layout.VBox;

/** The car file's trials side by side: choose some, try them, and see each pair as it is and with each of them. */
final class TrialsPane extends VBox {
    private final TrialsViewModel model;
    private final Supplier<Wording> wording;
    private final Consumer<Trial> adopt;
    private final VBox choices = new VBox(6);
    private final List<CheckBox> boxes = new ArrayList<>();
    private final GridPane table = new GridPane();
    private final VBox refused = new VBox(4);
    private final Button compare = new Button("Try them");

    /**
     * Builds the pane.
     *
     * @param wording says lengths of the open car
     * @param adopt writes a trial's changes into the car file
     */
    TrialsPane(TrialsViewModel model, Supplier<Wording> wording, Consumer<Trial> adopt) {
        this.model = model;
        this.wording = wording;
        this.adopt = adopt;
        getStyleClass().add("trials");
        setSpacing(10);
        setStyle("-fx-padding: 10 14 14 14;");
        compare.setId("compare-trials");
        compare.setAccessibleText("Try the ticked trials and compare them with the car as it is");
        compare.setOnAction(event -> model.compare(chosen()));
        ProgressBar bar = new ProgressBar();
        bar.setAccessibleText("How far the comparison is");
        bar.progressProperty().bind(model.comparedProperty());
        bar.setPrefWidth(120);
        Button cancel = new Button("Cancel");
        cancel.setAccessibleText("Cancel the comparison");
        cancel.getStyleClass().addAll("small", "handle-button");
        cancel.setOnAction(event -> model.cancel());
        for (Node node : List.of(bar, cancel)) {
            node.visibleProperty().bind(model.comparingProperty());
            node.managedProperty().bind(model.comparingProperty());
        }
        Label status = new Label();
        status.getStyleClass().addAll("small", "quiet");
        status.textProperty().bind(model.statusProperty());
        HBox row = new HBox(8, compare, bar, cancel, status);
        row.setAlignment(Pos.CENTER_LEFT);
        table.setId("trials-table");
        table.setHgap(14);
        table.setVgap(5);
        ScrollPane scroll = new ScrollPane(new VBox(10, table, refused));
        VBox.setVgrow(scroll, Priority.ALWAYS);
        getChildren().addAll(choices, row, scroll);
        model.trials().addListener((ListChangeListener<Trial>) change -> showChoices());
        model.sideProperty().addListener(property -> showSide());
        showChoices();
        showSide();
    }

    private List<Trial> chosen() {
        List<Trial> chosen = new ArrayList<>();
        for (int b = 0; b < boxes.size(); b++) {
            if (boxes.get(b).isSelected()) {
                chosen.add(model.trials().get(b));
            }
        }
        return chosen;
    }

    private void showChoices() {
        boxes.clear();
        choices.getChildren().clear();
        if (model.trials().isEmpty()) {
            Label none =
                    new Label("A trial is a change that you try before you make it: a cut, a part moved, another tyre. "
                            + "This car file has none. Write them under trials: in the file, or cut a plate.");
            none.setWrapText(true);
            none.setMinHeight(Region.USE_PREF_SIZE);
            none.getStyleClass().add("quiet");
            choices.getChildren().add(none);
        }
        for (Trial trial : model.trials()) {
            CheckBox box = new CheckBox(trial.name());
            box.setSelected(true);
            box.setWrapText(true);
            box.setAccessibleText("Try " + trial.name());
            box.setOnAction(event -> compare.setDisable(chosen().isEmpty()));
            Button write = new Button("Write into the file");
            write.setMinWidth(Region.USE_PREF_SIZE);
            write.getStyleClass().addAll("small", "handle-button");
            write.setAccessibleText("Write the changes of " + trial.name() + " into the car file");
            write.setTooltip(new Tooltip("The car is then as the trial has it; undo takes it back"));
            write.setOnAction(event -> adopt.accept(trial));
            Region space = new Region();
            HBox.setHgrow(space, Priority.ALWAYS);
            HBox line = new HBox(8, box, space, write);
            line.setAlignment(Pos.CENTER_LEFT);
            boxes.add(box);
            choices.getChildren().add(line);
        }
        compare.setDisable(model.trials().isEmpty());
    }

    private void showSide() {
        table.getChildren().clear();
        refused.getChildren().clear();
        TrialsViewModel.Side side = model.sideProperty().get().orElse(null);
        if (side == null) {
            return;
        }
        table.add(strong("pair"), 0, 0);
        table.add(strong("as it is"), 1, 0);
        for (int t = 0; t < side.names().size(); t++) {
            Label name = strong(side.names().get(t));
            name.setWrapText(true);
            name.setStyle("-fx-max-width: 11em;");
            table.add(name, 2 + t, 0);
        }
        table.add(quiet("of these"), 0, 1);
        table.add(quiet(side.countBefore(State.RUB) + " rub, " + side.countBefore(State.TIGHT) + " tight"), 1, 1);
        for (int t = 0; t < side.names().size(); t++) {
            table.add(quiet(side.count(t, State.RUB) + " rub, " + side.count(t, State.TIGHT) + " tight"), 2 + t, 1);
        }
        int row = 2;
        for (TrialsViewModel.Row each : side.rows()) {
            Label pair = new Label(each.first() + " / " + each.second());
            pair.setWrapText(true);
            pair.setMinHeight(Region.USE_PREF_SIZE);
            pair.setStyle("-fx-min-width: 11em;");
            table.add(pair, 0, row);
            table.add(cell(each.before(), Optional.empty()), 1, row);
            for (int t = 0; t < each.with().size(); t++) {
                table.add(cell(each.with().get(t), each.turns().get(t)), 2 + t, row);
            }
            row++;
        }
        if (side.rows().isEmpty() && !side.names().isEmpty()) {
            table.add(quiet("Nothing changes, and everything is clear."), 0, row);
        }
        side.lines().forEach(line -> refused.getChildren().add(new Label(line)));
        side.refused()
                .forEach((name, lines) -> lines.forEach(line -> {
                    Label label = new Label(name + ": " + line);
                    label.getStyleClass().add("refusal");
                    label.setWrapText(true);
                    label.setMinHeight(Region.USE_PREF_SIZE);
                    refused.getChildren().add(label);
                }));
    }

    private Node cell(Optional<GapRow> row, Optional<TrialRow.Turn> turn) {
        if (row.isEmpty()) {
            return quiet("not measured");
        }
        HBox box = TrimPane.gap(row.get(), wording.get());
        turn.filter(t -> t != TrialRow.Turn.SAME)
                .ifPresent(t -> box.getChildren().add(quiet(t.word())));
        return box;
    }

    private static Label strong(String text) {
        Label label = new Label(text);
        label.getStyleClass().add("strong");
        return label;
    }

    private static Label quiet(String text) {
        Label label = new Label(text);
        label.getStyleClass().addAll("small", "quiet");
        label.setMinWidth(Region.USE_PREF_SIZE);
        return label;
    }
}
