package daylight.bench;

import daylight.car.PointMeaning;
import daylight.report.LayoutSvg;
import java.util.List;
import java.util.Optional;
import javafx.beans.binding.Bindings;
import javafx.beans.property.ReadOnlyStringWrapper;
import javafx.collections.ListChangeListener;
import javafx.geometry.Pos;
import javafx.scene.Node;
import javafx.scene.control.Button;
import javafx.scene.control.ComboBox;
import javafx.scene.control.Label;
import javafx.scene.control.TableCell;
import javafx.scene.control.TableColumn;
import javafx.scene.control.TableView;
import javafx.scene.control.TextField;
import javafx.scene.control.ToggleButton;
import javafx.scene.control.ToggleGroup;
import javafx.scene.control.Tooltip;
import javafx.scene.control.cell.TextFieldTableCell;
import javafx.scene.input.Clipboard;
import javafx.scene.input.KeyCode;
import javafx.scene.input.KeyCodeCombination;
import javafx.scene.input.KeyCombination;
import javafx.scene.input.KeyEvent;
import javafx.scene.layout.BorderPane;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.Region;
import javafx.scene.layout.StackPane;
import javafx.scene.layout.VBox;
import org.jspecify.annotations.Nullable;

/**
 * Where the points are: what to measure next, the readings with how far each is off, the points with how well they are
 * known. Figures are typed as they are read off the tape, or pasted from a spreadsheet.
 */
final class MeasurePane extends BorderPane {
    private static final KeyCombination PASTE = new KeyCodeCombination(KeyCode.V, KeyCombination.SHORTCUT_DOWN);

    private final MeasureViewModel model;
    private final TableView<MeasureViewModel.ReadingRow> readings;
    private final TableView<MeasureViewModel.PointRow> points;
    private final ComboBox<String> from = new ComboBox<>();
    private final ComboBox<String> to = new ComboBox<>();
    private final TextField reads = new TextField();
    private final VBox next = new VBox(6);

    MeasurePane(MeasureViewModel model) {
        this.model = model;
        getStyleClass().addAll("side", "wide");
        readings = readingTable();
        points = pointTable();
        for (TableView<?> table : List.of(readings, points)) {
            table.addEventFilter(KeyEvent.KEY_PRESSED, event -> {
                if (PASTE.match(event)) {
                    paste();
                    event.consume();
                }
            });
            table.setEditable(true);
            table.setColumnResizePolicy(TableView.CONSTRAINED_RESIZE_POLICY_FLEX_LAST_COLUMN);
            model.staleProperty().addListener((property, was, is) -> {
                table.getStyleClass().remove("stale");
                if (is) {
                    table.getStyleClass().add("stale");
                }
            });
        }
        setTop(head());
        setCenter(tables());
        Label hint = new Label("Enter changes a figure, Delete takes a reading out. Cells copied from a spreadsheet are"
                + " pasted here: from, to, reads; or name, ahead, left, up.");
        hint.setWrapText(true);
        hint.setMinHeight(Region.USE_PREF_SIZE);
        hint.getStyleClass().addAll("small", "quiet");
        Button paste = new Button("Paste cells");
        paste.setId("paste");
        paste.setAccessibleText("Paste cells copied from a spreadsheet");
        paste.setMinWidth(Region.USE_PREF_SIZE);
        paste.setOnAction(event -> paste());
        HBox.setHgrow(hint, Priority.ALWAYS);
        HBox foot = new HBox(10, hint, paste);
        foot.setAlignment(Pos.CENTER_LEFT);
        foot.setStyle("-fx-padding: 8 14 10 14;");
        setBottom(foot);
    }

    private Node head() {
        Label summary = new Label();
        summary.setId("measure-summary");
        summary.getStyleClass().add("strong");
        summary.setWrapText(true);
        summary.setMinHeight(Region.USE_PREF_SIZE);
        summary.textProperty().bind(model.summaryProperty());
        model.next().addListener((ListChangeListener<MeasureViewModel.Next>) change -> showNext());
        showNext();

        for (ComboBox<String> box : List.of(from, to)) {
            box.setEditable(true);
            box.setMaxWidth(Double.MAX_VALUE);
            box.setMinWidth(60);
            HBox.setHgrow(box, Priority.ALWAYS);
        }
        from.setId("from");
        from.setAccessibleText("From which point");
        from.setPromptText("from point");
        from.getEditor().setAccessibleText("From which point");
        to.setId("to");
        to.setAccessibleText("To which point, or floor");
        to.setPromptText("to point, or floor");
        to.getEditor().setAccessibleText("To which point, or floor");
        model.points().addListener((ListChangeListener<MeasureViewModel.PointRow>) change -> {
            List<String> names =
                    model.points().stream().map(MeasureViewModel.PointRow::name).toList();
            String first = from.getEditor().getText();
            String second = to.getEditor().getText();
            from.getItems().setAll(names);
            to.getItems().setAll(names);
            to.getItems().add(0, "floor");
            from.getEditor().setText(first);
            to.getEditor().setText(second);
        });
        reads.setId("reads");
        reads.setPromptText("reads");
        reads.setAccessibleText("What the tape reads");
        reads.setPrefColumnCount(6);
        reads.setMinWidth(70);
        reads.setOnAction(event -> add());
        Button add = new Button("Add");
        add.setId("add-reading");
        add.setAccessibleText("Add the reading");
        add.setMinWidth(Region.USE_PREF_SIZE);
        add.setOnAction(event -> add());
        HBox line = new HBox(6, from, to, reads, add);
        line.setAlignment(Pos.CENTER_LEFT);

        Label complaint = new Label();
        complaint.setId("measure-complaint");
        complaint.getStyleClass().add("refusal");
        complaint.setWrapText(true);
        complaint.setMinHeight(Region.USE_PREF_SIZE);
        complaint.textProperty().bind(model.complaintProperty());
        complaint.visibleProperty().bind(model.complaintProperty().isNotEmpty());
        complaint.managedProperty().bind(complaint.visibleProperty());
        VBox head = new VBox(summary, next, line, complaint);
        head.getStyleClass().add("head");
        return head;
    }

    private void showNext() {
        next.getChildren().clear();
        next.getStyleClass().setAll("next");
        if (model.next().isEmpty()) {
            Label nothing = new Label(
                    model.points().isEmpty()
                            ? "Add a reading from point to point, or paste a table of points."
                            : "Every point is fixed and checked: nothing has to be measured next.");
            nothing.setWrapText(true);
            nothing.setMinHeight(Region.USE_PREF_SIZE);
            nothing.getStyleClass().add("quiet");
            next.getChildren().add(nothing);
            return;
        }
        MeasureViewModel.Next best = model.next().get(0);
        Label words = new Label("Measure next: " + best.words());
        words.setId("next");
        words.setWrapText(true);
        words.setMinHeight(Region.USE_PREF_SIZE);
        words.getStyleClass().add("strong");
        Label gain = new Label(best.gain());
        gain.setWrapText(true);
        gain.setMinHeight(Region.USE_PREF_SIZE);
        gain.getStyleClass().addAll("small", "quiet");
        VBox text = new VBox(2, words, gain);
        HBox.setHgrow(text, Priority.ALWAYS);
        text.setMinWidth(0);
        HBox line = new HBox(10, text);
        line.setAlignment(Pos.CENTER_LEFT);
        if (best.from().size() == 2) {
            Button enter = new Button("Enter it");
            enter.setId("enter-next");
            enter.setAccessibleText("Enter what was measured next");
            enter.setMinWidth(Region.USE_PREF_SIZE);
            enter.setOnAction(event -> {
                from.getEditor().setText(best.from().get(0));
                to.getEditor().setText(best.from().get(1));
                model.mark(Optional.of(best.from().get(0)));
                reads.requestFocus();
            });
            line.getChildren().add(enter);
        }
        next.getChildren().add(line);
    }

    private void add() {
        model.add(from.getEditor().getText(), to.getEditor().getText(), reads.getText());
        if (model.complaintProperty().get().isEmpty()) {
            reads.clear();
            from.requestFocus();
        }
    }

    private void paste() {
        Clipboard clipboard = Clipboard.getSystemClipboard();
        model.paste(clipboard.hasString() ? clipboard.getString() : "");
    }

    private Node tables() {
        ToggleButton readingsButton = new ToggleButton("Readings");
        ToggleButton pointsButton = new ToggleButton("Points");
        ToggleGroup group = new ToggleGroup();
        HBox buttons = new HBox(4, readingsButton, pointsButton);
        buttons.setStyle("-fx-padding: 0 14 6 14;");
        for (ToggleButton button : List.of(readingsButton, pointsButton)) {
            button.setToggleGroup(group);
            button.getStyleClass().add("step");
            button.setId("table-" + button.getText());
            button.setAccessibleText("Show the table of " + button.getText());
            button.setOnAction(event -> {
                button.setSelected(true);
                readings.setVisible(readingsButton.isSelected());
                points.setVisible(pointsButton.isSelected());
            });
        }
        readingsButton.setSelected(true);
        points.setVisible(false);
        readingsButton
                .textProperty()
                .bind(Bindings.createStringBinding(() -> model.readings().size() + " readings", model.readings()));
        pointsButton
                .textProperty()
                .bind(Bindings.createStringBinding(() -> model.points().size() + " points", model.points()));
        StackPane stack = new StackPane(readings, points);
        VBox.setVgrow(stack, Priority.ALWAYS);
        return new VBox(buttons, stack);
    }

    // ---------------------------------------------------------------- readings

    private TableView<MeasureViewModel.ReadingRow> readingTable() {
        TableView<MeasureViewModel.ReadingRow> table = new TableView<>(model.readings());
        table.setId("readings");
        table.setAccessibleText("Readings, with how far each is off");
        table.setPlaceholder(quiet("Nothing was read with a tape yet. Add a reading above, or paste a table."));
        TableColumn<MeasureViewModel.ReadingRow, MeasureViewModel.ReadingRow> what = new TableColumn<>("Reading");
        what.setCellValueFactory(cell -> new javafx.beans.property.ReadOnlyObjectWrapper<>(cell.getValue()));
        what.setCellFactory(column -> new ReadingCell());
        what.setSortable(false);
        what.setPrefWidth(270);
        TableColumn<MeasureViewModel.ReadingRow, String> figure = column("Reads", MeasureViewModel.ReadingRow::reads);
        figure.setEditable(true);
        figure.setCellFactory(TextFieldTableCell.forTableColumn());
        figure.setOnEditCommit(event -> model.setReading(event.getRowValue(), event.getNewValue()));
        TableColumn<MeasureViewModel.ReadingRow, String> off = column("Off", MeasureViewModel.ReadingRow::off);
        off.setEditable(false);
        table.getColumns().setAll(List.of(what, figure, off));
        table.getSelectionModel().selectedItemProperty().addListener((property, was, is) -> {
            if (is != null && !is.points().isEmpty()) {
                model.mark(is.points().stream()
                        .filter(point -> model.meaning(point).isPresent())
                        .findFirst()
                        .or(() -> Optional.of(is.points().get(0))));
            }
        });
        table.addEventHandler(KeyEvent.KEY_PRESSED, event -> {
            MeasureViewModel.ReadingRow row = table.getSelectionModel().getSelectedItem();
            if (event.getCode() == KeyCode.DELETE && row != null) {
                model.remove(row);
                event.consume();
            } else if (event.getCode() == KeyCode.ENTER && row != null && table.getEditingCell() == null) {
                table.edit(table.getSelectionModel().getSelectedIndex(), figure);
                event.consume();
            }
        });
        return table;
    }

    private static <R> TableColumn<R, String> column(String words, java.util.function.Function<R, String> value) {
        TableColumn<R, String> column = new TableColumn<>(words);
        column.setCellValueFactory(cell -> new ReadOnlyStringWrapper(value.apply(cell.getValue())));
        column.setSortable(false);
        column.getStyleClass().add("figure-column");
        column.setPrefWidth(105);
        column.setMinWidth(80);
        return column;
    }

    private static Label quiet(String words) {
        Label label = new Label(words);
        label.setWrapText(true);
        label.getStyleClass().add("quiet");
        label.setStyle("-fx-padding: 20;");
        return label;
    }

    /** A reading's name, with what is wrong with it in words under it. */
    private static final class ReadingCell extends TableCell<MeasureViewModel.ReadingRow, MeasureViewModel.ReadingRow> {
        private final Label name = new Label();
        private final Label state = new Label();
        private final VBox box = new VBox(1, name, state);

        ReadingCell() {
            state.getStyleClass().add("small");
            state.setWrapText(true);
            state.setMinHeight(Region.USE_PREF_SIZE);
            name.setWrapText(true);
            name.setMinHeight(Region.USE_PREF_SIZE);
        }

        @Override
        protected void updateItem(MeasureViewModel.@Nullable ReadingRow row, boolean empty) {
            super.updateItem(row, empty);
            getStyleClass().remove("wrong");
            if (empty || row == null) {
                setGraphic(null);
                return;
            }
            boolean wrong = row.standing() == MeasureViewModel.Standing.WRONG;
            boolean suspect = row.standing() == MeasureViewModel.Standing.SUSPECT;
            name.setText(row.name());
            state.setText(wrong ? "\u25cf wrong. " + row.likely() : suspect ? "\u25d0 this, or another" : "");
            state.setVisible(!state.getText().isEmpty());
            state.setManaged(state.isVisible());
            name.setOpacity(row.standing() == MeasureViewModel.Standing.UNCHECKED ? 0.75 : 1);
            if (wrong) {
                getStyleClass().add("wrong");
            }
            setTooltip(new Tooltip(
                    row.standing() == MeasureViewModel.Standing.UNCHECKED
                            ? "Nothing checks this reading: a slip in it would go unseen."
                            : row.standing().word()));
            setAccessibleText(row.name() + ", " + row.standing().word() + ", " + row.likely());
            setGraphic(box);
        }

        @Override
        protected double computePrefHeight(double width) {
            if (getGraphic() == null || getTableColumn() == null) {
                return super.computePrefHeight(width);
            }
            double inside = getTableColumn().getWidth() - snappedLeftInset() - snappedRightInset();
            return snapSizeY(box.prefHeight(inside)) + snappedTopInset() + snappedBottomInset();
        }
    }

    // ---------------------------------------------------------------- points

    private TableView<MeasureViewModel.PointRow> pointTable() {
        TableView<MeasureViewModel.PointRow> table = new TableView<>(model.points());
        table.setId("points");
        table.setAccessibleText("Points, with how well each is known");
        table.setPlaceholder(quiet("No point is written yet. Paste a table with the columns name, ahead, left, up."));
        TableColumn<MeasureViewModel.PointRow, String> name = column("Point", MeasureViewModel.PointRow::name);
        name.setEditable(false);
        name.getStyleClass().remove("figure-column");
        name.setPrefWidth(190);
        table.getColumns().add(name);
        String[] words = {"Ahead", "Left", "Up"};
        for (int axis = 0; axis < words.length; axis++) {
            int which = axis;
            TableColumn<MeasureViewModel.PointRow, String> figure =
                    column(words[axis], row -> row.at().get(which));
            figure.setCellFactory(TextFieldTableCell.forTableColumn());
            figure.setOnEditCommit(event -> model.setCoordinate(event.getRowValue(), which, event.getNewValue()));
            table.getColumns().add(figure);
        }
        TableColumn<MeasureViewModel.PointRow, String> within =
                column("Known to", row -> String.join("  ", row.within95()));
        within.setEditable(false);
        within.setPrefWidth(120);
        table.getColumns().add(within);
        table.setRowFactory(view -> {
            javafx.scene.control.TableRow<MeasureViewModel.PointRow> row = new javafx.scene.control.TableRow<>();
            row.itemProperty().addListener((property, was, is) -> {
                row.getStyleClass().remove("by-tape");
                row.setTooltip(null);
                if (is != null && is.byTape()) {
                    row.getStyleClass().add("by-tape");
                    row.setTooltip(new Tooltip("Only the readings place this point."));
                }
            });
            return row;
        });
        table.getSelectionModel().selectedItemProperty().addListener((property, was, is) -> {
            if (is != null) {
                model.mark(Optional.of(is.name()));
            }
        });
        return table;
    }

    // ---------------------------------------------------------------- the picture

    /** The picture of the mechanism to which the marked point belongs, and how the point is measured. */
    static Region picture(MeasureViewModel model) {
        SvgView view = new SvgView();
        view.setId("point-picture");
        Label name = new Label();
        name.getStyleClass().add("title");
        Label mechanism = new Label();
        mechanism.getStyleClass().add("quiet");
        Label how = new Label();
        how.setId("how-to-measure");
        for (Label label : List.of(name, mechanism, how)) {
            label.setWrapText(true);
            label.setMinHeight(Region.USE_PREF_SIZE);
        }
        VBox words = new VBox(8, name, mechanism, how);
        words.setStyle("-fx-padding: 14; -fx-pref-width: 18em; -fx-min-width: 14em;");
        BorderPane pane = new BorderPane(view);
        pane.setRight(words);
        pane.getStyleClass().add("under");
        pane.setStyle("-fx-pref-height: 26em; -fx-min-height: 14em;");
        Runnable show = () -> {
            Optional<String> marked = model.markedProperty().get();
            Optional<PointMeaning> meaning = marked.flatMap(model::meaning);
            view.show(meaning.map(is -> LayoutSvg.marked(is.layout(), is.point().name()))
                    .orElse(""));
            view.setVisible(meaning.isPresent());
            name.setText(marked.orElse("Which point?"));
            mechanism.setText(
                    meaning.map(is -> is.mechanism() + ": " + is.layout().title())
                            .orElse(marked.isPresent() ? "No mechanism uses this point." : ""));
            how.setText(meaning.map(is -> "Measure the " + is.point().measure() + ".")
                    .orElse(
                            marked.isPresent()
                                    ? "It is a mark to measure from, or a place on a part."
                                    : "Choose a reading or a point: its place on the mechanism is shown here, and how it is"
                                            + " measured."));
        };
        model.markedProperty().addListener(property -> show.run());
        model.points().addListener((ListChangeListener<MeasureViewModel.PointRow>) change -> show.run());
        show.run();
        return pane;
    }
}
