package daylight.bench;

import daylight.car.Layout;
import daylight.car.StarterFile;
import daylight.report.LayoutSvg;
import java.nio.file.Path;
import java.util.Optional;
import java.util.function.Consumer;
import java.util.function.Supplier;
import javafx.beans.binding.Bindings;
import javafx.collections.ListChangeListener;
import javafx.geometry.Pos;
import javafx.scene.control.Button;
import javafx.scene.control.Label;
import javafx.scene.control.ListCell;
import javafx.scene.control.ListView;
import javafx.scene.control.RadioButton;
import javafx.scene.control.TextField;
import javafx.scene.control.ToggleGroup;
import javafx.scene.layout.BorderPane;
import javafx.scene.layout.FlowPane;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.Region;
import javafx.scene.layout.VBox;
import org.jspecify.annotations.Nullable;

/** A new car: layouts to choose from with their pictures, the mechanisms chosen so far, and the file to write. */
final class NewCarPane extends BorderPane {
    private final NewCarViewModel model = new NewCarViewModel();
    private final ListView<Layout> layouts = new ListView<>();
    private final TextField name = new TextField();
    private final SvgView picture = new SvgView();
    private final Label note = new Label();
    private final FlowPane chosen = new FlowPane(8, 6);

    /**
     * A file that the user wants written.
     *
     * @param text what goes into it
     */
    record Wanted(Path file, String text) {}

    /**
     * Builds the page.
     *
     * @param askForFile asks the user where the file is to be; empty if the user thought better of it
     * @param write writes it and opens it
     * @param back goes back to the start
     */
    NewCarPane(Supplier<Optional<Path>> askForFile, Consumer<Wanted> write, Runnable back) {
        getStyleClass().addAll("page", "new-car");
        setId("new-car");
        Label title = new Label("A new car");
        title.getStyleClass().add("title");
        Label words = new Label(
                "Choose what your car has, one mechanism after another. The file that comes of it names "
                        + "every point to be measured and says how; its figures are invented until you put yours there.");
        words.setWrapText(true);
        words.getStyleClass().add("quiet");
        words.setMinHeight(Region.USE_PREF_SIZE);
        setTop(new VBox(6, title, words));

        layouts.setId("layouts");
        layouts.setAccessibleText("Layouts to choose from");
        layouts.getItems().setAll(model.layouts());
        layouts.setCellFactory(list -> new ListCell<>() {
            @Override
            protected void updateItem(@Nullable Layout layout, boolean empty) {
                super.updateItem(layout, empty);
                setText(empty || layout == null ? "" : layout.title());
                setWrapText(true);
                setPrefWidth(0);
            }
        });
        layouts.setStyle("-fx-pref-width: 22em; -fx-min-width: 14em;");
        layouts.getSelectionModel().selectedItemProperty().addListener((property, was, is) -> show(is));
        setLeft(layouts);

        note.setWrapText(true);
        note.setMinHeight(Region.USE_PREF_SIZE);
        name.setId("mechanism-name");
        name.setAccessibleText("Name of the mechanism");
        name.setPrefColumnCount(16);
        Button add = new Button("Add it to the car");
        add.setId("add-mechanism");
        add.setAccessibleText("Add the mechanism to the car");
        add.setMinWidth(Region.USE_PREF_SIZE);
        add.setOnAction(event -> add());
        name.setOnAction(event -> add());
        Label called = new Label("called");
        called.setMinWidth(Region.USE_PREF_SIZE);
        HBox line = new HBox(8, called, name, add);
        line.setAlignment(Pos.CENTER_LEFT);
        Label complaint = new Label();
        complaint.getStyleClass().add("refusal");
        complaint.setWrapText(true);
        complaint.textProperty().bind(model.complaintProperty());
        complaint.visibleProperty().bind(model.complaintProperty().isNotEmpty());
        complaint.managedProperty().bind(complaint.visibleProperty());
        VBox.setVgrow(picture, Priority.ALWAYS);
        picture.setPrefHeight(300);
        VBox middle = new VBox(8, picture, note, line, complaint);
        middle.setStyle("-fx-padding: 0 0 0 14;");
        setCenter(middle);

        setBottom(foot(askForFile, write, back));
        layouts.getSelectionModel().select(0);
    }

    private Region foot(Supplier<Optional<Path>> askForFile, Consumer<Wanted> write, Runnable back) {
        model.lines().addListener((ListChangeListener<StarterFile.Wanted>) change -> showChosen());
        showChosen();
        ToggleGroup units = new ToggleGroup();
        RadioButton inches = new RadioButton("inches and fractions");
        RadioButton millimetres = new RadioButton("millimetres");
        for (RadioButton each : new RadioButton[] {inches, millimetres}) {
            each.setToggleGroup(units);
            each.setAccessibleText("The tape reads " + each.getText());
            each.setMinWidth(Region.USE_PREF_SIZE);
        }
        inches.setSelected(true);
        model.inchesProperty().bind(inches.selectedProperty());
        Button make = new Button("Write the car file");
        make.setId("write-car");
        make.setAccessibleText("Write the car file and open it");
        make.getStyleClass().add("accent");
        make.setMinWidth(Region.USE_PREF_SIZE);
        make.disableProperty().bind(Bindings.isEmpty(model.lines()));
        make.setOnAction(event -> model.text()
                .ifPresent(text -> askForFile.get().ifPresent(file -> write.accept(new Wanted(file, text)))));
        Button away = new Button("Back");
        away.setCancelButton(true);
        away.setAccessibleText("Back to the start");
        away.setMinWidth(Region.USE_PREF_SIZE);
        away.setOnAction(event -> back.run());
        Label tape = new Label("The tape reads");
        tape.setMinWidth(Region.USE_PREF_SIZE);
        FlowPane line = new FlowPane(12, 8, tape, inches, millimetres, make, away);
        line.setAlignment(Pos.CENTER_LEFT);
        VBox foot = new VBox(10, chosen, line);
        foot.setStyle("-fx-padding: 14 0 0 0;");
        return foot;
    }

    NewCarViewModel model() {
        return model;
    }

    private void add() {
        Layout layout = layouts.getSelectionModel().getSelectedItem();
        if (layout != null) {
            model.add(layout, name.getText());
            if (model.complaintProperty().get().isEmpty()) {
                name.setText(model.usualName(layout));
            }
        }
    }

    private void show(@Nullable Layout layout) {
        if (layout != null) {
            picture.show(LayoutSvg.of(layout));
            note.setText(layout.note());
            name.setText(model.usualName(layout));
        }
    }

    private void showChosen() {
        chosen.getChildren().clear();
        Label on = new Label(model.lines().isEmpty() ? "Nothing is on the car yet." : "On the car:");
        on.getStyleClass().add(model.lines().isEmpty() ? "quiet" : "strong");
        chosen.getChildren().add(on);
        for (StarterFile.Wanted line : model.lines()) {
            Label words = new Label(line.name() + ": " + line.layout().title());
            Button out = new Button("Take out");
            out.getStyleClass().addAll("small", "handle-button");
            out.setAccessibleText("Take " + line.name() + " out again");
            out.setOnAction(event -> model.remove(line));
            HBox item = new HBox(8, words, out);
            item.setAlignment(Pos.CENTER_LEFT);
            item.getStyleClass().add("over");
            chosen.getChildren().add(item);
        }
        chosen.setAlignment(Pos.CENTER_LEFT);
    }
}
