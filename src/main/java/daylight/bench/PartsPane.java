package daylight.bench;

import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import javafx.beans.binding.Bindings;
import javafx.beans.property.StringProperty;
import javafx.collections.SetChangeListener;
import javafx.geometry.Pos;
import javafx.scene.Node;
import javafx.scene.control.Button;
import javafx.scene.control.ComboBox;
import javafx.scene.control.Label;
import javafx.scene.control.ListCell;
import javafx.scene.control.ListView;
import javafx.scene.control.ScrollPane;
import javafx.scene.control.TextArea;
import javafx.scene.control.TextField;
import javafx.scene.control.TextInputControl;
import javafx.scene.control.Tooltip;
import javafx.scene.input.KeyCode;
import javafx.scene.input.KeyEvent;
import javafx.scene.layout.BorderPane;
import javafx.scene.layout.FlowPane;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.Region;
import javafx.scene.layout.VBox;
import org.jspecify.annotations.Nullable;

/** What is on the car: the list of parts, and a form for one of them. */
final class PartsPane extends BorderPane {
    private final BenchViewModel bench;
    private final PartsViewModel model;
    private final ListView<PartsViewModel.PartRow> list;
    private final VBox form = new VBox(8);
    private final ScrollPane formScroll = new ScrollPane(form);
    private boolean following;

    PartsPane(BenchViewModel bench, PartsViewModel model) {
        this.bench = bench;
        this.model = model;
        getStyleClass().add("side");
        list = new ListView<>(model.shownRows());
        list.setId("parts");
        list.setAccessibleText("Parts of the car");
        list.setCellFactory(view -> new Row());
        Label nothing = new Label("No part fits. Add what may touch: tubes, boxes, plates, tyres.");
        nothing.setWrapText(true);
        nothing.getStyleClass().add("quiet");
        nothing.setStyle("-fx-padding: 20;");
        list.setPlaceholder(nothing);
        list.getSelectionModel().selectedItemProperty().addListener((property, was, is) -> {
            if (is != null && !following) {
                model.begin(is.name());
                bench.pick(bench.partNumber(is.name()).orElse(-1));
            }
        });
        setTop(head());
        setCenter(list);
        formScroll.setFitToWidth(true);
        formScroll.setHbarPolicy(ScrollPane.ScrollBarPolicy.NEVER);
        formScroll.getStyleClass().add("form-scroll");
        formScroll.setStyle("-fx-pref-height: 30em;");
        form.getStyleClass().add("form");
        setBottom(formScroll);
        model.draftProperty().addListener(property -> showDraft());
        showDraft();
        bench.pickedProperty().addListener((property, was, is) -> follow(is));
        bench.faded().addListener((SetChangeListener<Integer>) change -> list.refresh());
    }

    private Node head() {
        Label count = new Label();
        count.getStyleClass().add("strong");
        count.textProperty()
                .bind(Bindings.createStringBinding(
                        () -> model.shownRows().size() + (model.shownRows().size() == 1 ? " part" : " parts"),
                        model.shownRows()));
        Region space = new Region();
        HBox.setHgrow(space, Priority.ALWAYS);
        Button add = new Button("Add a part", Icons.of("add"));
        add.setId("add-part");
        add.setAccessibleText("Add a part");
        add.setMinWidth(Region.USE_PREF_SIZE);
        add.setOnAction(event -> {
            list.getSelectionModel().clearSelection();
            model.beginNew();
            form.lookupAll("#part-name").forEach(Node::requestFocus);
        });
        HBox line = new HBox(8, count, space, add);
        line.setAlignment(Pos.CENTER_LEFT);
        TextField filter = new TextField();
        filter.setPromptText("Search parts, what carries them, kinds");
        filter.setId("search-parts");
        filter.setAccessibleText("Search the parts");
        filter.textProperty().bindBidirectional(model.filterProperty());
        VBox head = new VBox(line, filter);
        head.getStyleClass().add("head");
        return head;
    }

    /** A part that is picked in the picture is chosen here. */
    private void follow(OptionalInt picked) {
        following = true;
        try {
            picked.ifPresent(part -> {
                String name = bench.openProperty().get().orElseThrow().partName(part);
                for (int i = 0; i < model.shownRows().size(); i++) {
                    if (model.shownRows().get(i).name().equals(name)
                            && list.getSelectionModel().getSelectedIndex() != i) {
                        list.getSelectionModel().clearAndSelect(i);
                        list.scrollTo(Math.max(0, i - 2));
                        if (bench.stepProperty().get() == Step.PARTS) {
                            model.begin(name);
                        }
                    }
                }
            });
        } finally {
            following = false;
        }
    }

    // ---------------------------------------------------------------- the form

    private void showDraft() {
        form.getChildren().clear();
        Optional<PartsViewModel.Draft> draft = model.draftProperty().get();
        formScroll.setVisible(draft.isPresent());
        formScroll.setManaged(draft.isPresent());
        draft.ifPresent(this::lay);
    }

    private void lay(PartsViewModel.Draft draft) {
        Label title = new Label(draft.existing().orElse("A new part"));
        title.getStyleClass().add("title");
        title.setWrapText(true);
        title.setMinHeight(Region.USE_PREF_SIZE);
        form.getChildren().add(title);
        if (draft.existing().isEmpty()) {
            form.getChildren().add(text(draft, PartsViewModel.NAME, "Name", "what you call it", "part-name"));
            ComboBox<PartForm> shapes = new ComboBox<>();
            shapes.getItems().setAll(PartForm.ALL);
            shapes.setId("part-shape");
            shapes.setAccessibleText("Shape of the part");
            shapes.setMaxWidth(Double.MAX_VALUE);
            shapes.getSelectionModel()
                    .select(PartForm.of(draft.shapeProperty().get()).orElse(PartForm.ALL.get(0)));
            VBox fields = new VBox(8);
            shapes.getSelectionModel().selectedItemProperty().addListener((property, was, is) -> {
                draft.shapeProperty().set(is.shape());
                layFields(draft, fields);
            });
            form.getChildren().add(labelled("Shape", shapes));
            layFields(draft, fields);
            form.getChildren().add(fields);
        } else {
            VBox fields = new VBox(8);
            layFields(draft, fields);
            form.getChildren().add(fields);
        }
        form.getChildren().add(complaint(draft, PartsViewModel.WHOLE));
        form.getChildren().add(buttons(draft));
    }

    private void layFields(PartsViewModel.Draft draft, VBox into) {
        into.getChildren().clear();
        String shape = draft.shapeProperty().get();
        if (!shape.equals("mirror") && !shape.equals("hose")) {
            into.getChildren().add(carrier(draft));
        }
        into.getChildren()
                .add(text(
                        draft,
                        PartsViewModel.KINDS,
                        "Kinds",
                        "for the rules: exhaust, brake hose, tyre ...",
                        "part-kinds"));
        if (draft.fields().isEmpty()) {
            Label words = new Label("Its shape is written in the car file: " + shape + ".");
            words.setWrapText(true);
            words.getStyleClass().add("quiet");
            into.getChildren().add(words);
        }
        for (PartForm.Field field : draft.fields()) {
            into.getChildren()
                    .add(
                            field.writing() == PartForm.Writing.LINES
                                    ? area(draft, field)
                                    : text(draft, field.key(), field.key(), field.hint(), "part-" + field.key()));
        }
    }

    private Node carrier(PartsViewModel.Draft draft) {
        ComboBox<String> on = new ComboBox<>();
        on.setId("part-on");
        on.setEditable(true);
        on.setAccessibleText("What carries the part");
        on.getEditor().setAccessibleText("What carries the part");
        on.getItems().setAll(model.bodies());
        on.getEditor().setText(draft.value(PartsViewModel.ON).get());
        on.setValue(draft.value(PartsViewModel.ON).get());
        on.setMaxWidth(Double.MAX_VALUE);
        // What is typed counts at once, without Enter.
        on.getEditor()
                .textProperty()
                .addListener(
                        (property, was, is) -> draft.value(PartsViewModel.ON).set(is));
        return new VBox(2, labelled("Carried by", on), complaint(draft, PartsViewModel.ON));
    }

    private Node text(PartsViewModel.Draft draft, String key, String words, String hint, String id) {
        TextField field = new TextField();
        field.setOnAction(event -> model.apply());
        return field(draft, field, key, words, hint, id);
    }

    private Node area(PartsViewModel.Draft draft, PartForm.Field asked) {
        TextArea area = new TextArea();
        area.setPrefRowCount(4);
        // Tab leaves the field, as in every other one; the toolkit has Ctrl+Tab for that in a text of several lines.
        area.addEventFilter(KeyEvent.KEY_PRESSED, event -> {
            if (event.getCode() == KeyCode.TAB && !event.isControlDown()) {
                area.fireEvent(new KeyEvent(
                        KeyEvent.KEY_PRESSED, "", "", KeyCode.TAB, event.isShiftDown(), true, false, false));
                event.consume();
            }
        });
        return field(draft, area, asked.key(), asked.key(), asked.hint(), "part-" + asked.key());
    }

    private static Node field(
            PartsViewModel.Draft draft, TextInputControl control, String key, String words, String hint, String id) {
        control.setId(id);
        control.setPromptText(hint);
        control.setAccessibleText(words + ": " + hint);
        control.setTooltip(new Tooltip(hint));
        control.textProperty().bindBidirectional(draft.value(key));
        return new VBox(2, labelled(words, control), complaint(draft, key));
    }

    private static Node labelled(String words, Region control) {
        Label label = new Label(words);
        label.setStyle("-fx-min-width: 8em; -fx-pref-width: 8em;");
        label.setWrapText(true);
        label.setLabelFor(control);
        HBox.setHgrow(control, Priority.ALWAYS);
        HBox line = new HBox(8, label, control);
        line.setAlignment(control instanceof TextArea ? Pos.TOP_LEFT : Pos.CENTER_LEFT);
        return line;
    }

    private static Node complaint(PartsViewModel.Draft draft, String key) {
        StringProperty told = draft.complaint(key);
        Label label = new Label();
        label.getStyleClass().add("refusal");
        label.setWrapText(true);
        label.setMinHeight(Region.USE_PREF_SIZE);
        label.textProperty().bind(told);
        label.visibleProperty().bind(told.isNotEmpty());
        label.managedProperty().bind(label.visibleProperty());
        return label;
    }

    private Node buttons(PartsViewModel.Draft draft) {
        Button apply = new Button(draft.existing().isPresent() ? "Change the part" : "Add the part");
        apply.setId("apply-part");
        apply.setAccessibleText(apply.getText());
        apply.getStyleClass().add("accent");
        apply.disableProperty().bind(model.tryingProperty());
        apply.setOnAction(event -> model.apply());
        Button away = new Button("Put away");
        away.setId("put-away-part");
        away.setAccessibleText("Put the form away");
        away.setOnAction(event -> {
            list.getSelectionModel().clearSelection();
            model.putAway();
        });
        FlowPane line = new FlowPane(8, 6, apply, away);
        draft.existing().ifPresent(name -> {
            Button remove = new Button("Take it off", Icons.of("remove"));
            remove.setId("remove-part");
            remove.setAccessibleText("Take the part off the car");
            remove.disableProperty().bind(model.tryingProperty());
            remove.setOnAction(event -> model.remove(name));
            line.getChildren().add(remove);
        });
        return line;
    }

    // ---------------------------------------------------------------- the list

    private final class Row extends ListCell<PartsViewModel.PartRow> {
        private final Label name = new Label();
        private final Label body = new Label();
        private final Button fade = new Button();
        private final HBox line;

        Row() {
            body.getStyleClass().addAll("small", "quiet");
            name.setMinWidth(0);
            body.setMinWidth(0);
            VBox words = new VBox(1, name, body);
            words.setMinWidth(0);
            HBox.setHgrow(words, Priority.ALWAYS);
            fade.getStyleClass().add("icon-button");
            fade.setMinWidth(Region.USE_PREF_SIZE);
            fade.setOnAction(event -> {
                PartsViewModel.PartRow row = getItem();
                if (row != null) {
                    bench.partNumber(row.name()).ifPresent(bench::fade);
                }
            });
            line = new HBox(8, words, fade);
            line.setAlignment(Pos.CENTER_LEFT);
            setPrefWidth(0);
        }

        @Override
        protected void updateItem(PartsViewModel.@Nullable PartRow row, boolean empty) {
            super.updateItem(row, empty);
            if (empty || row == null) {
                setGraphic(null);
                setAccessibleText(null);
                return;
            }
            name.setText(row.name());
            body.setText(String.join(
                    "  \u00b7  ",
                    List.of(row.shape().equals("mirror") ? "" : row.shape(), row.body(), row.kinds()).stream()
                            .filter(word -> !word.isEmpty())
                            .toList()));
            OptionalInt number = bench.partNumber(row.name());
            boolean faded = number.isPresent() && bench.faded().contains(number.getAsInt());
            fade.setVisible(number.isPresent());
            fade.setGraphic(Icons.of(faded ? "show" : "hide"));
            String words = (faded ? "Bring back " : "Fade ") + row.name();
            fade.setAccessibleText(words);
            fade.setTooltip(new Tooltip(words));
            name.setOpacity(faded ? 0.55 : 1);
            setAccessibleText(row.name() + ", " + body.getText() + (faded ? ", faded" : ""));
            setGraphic(line);
        }
    }
}
