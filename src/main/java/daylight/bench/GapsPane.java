package daylight.bench;

import daylight.clearance.GapRow;
import daylight.clearance.Least;
import daylight.clearance.State;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.OptionalDouble;
import javafx.beans.InvalidationListener;
import javafx.beans.WeakInvalidationListener;
import javafx.beans.binding.Bindings;
import javafx.geometry.Insets;
import javafx.geometry.Pos;
import javafx.scene.control.Button;
import javafx.scene.control.Label;
import javafx.scene.control.ListCell;
import javafx.scene.control.ListView;
import javafx.scene.control.TextField;
import javafx.scene.control.Tooltip;
import javafx.scene.layout.BorderPane;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.Region;
import javafx.scene.layout.StackPane;
import javafx.scene.layout.VBox;
import org.jspecify.annotations.Nullable;

/** The list of gaps, tightest first. Choosing a row moves the car to where that gap is least. */
final class GapsPane extends BorderPane {
    /** Room for the list's scroll bar. */
    private static final double SCROLL_BAR_PX = 14;

    private final BenchViewModel model;
    private final TextField filter = new TextField();
    private final ListView<GapRow> list;
    private boolean following;

    GapsPane(BenchViewModel model) {
        this.model = model;
        this.list = new ListView<>(model.shownRows());
        getStyleClass().add("side");

        filter.setPromptText("Search parts, kinds of rule, rub, tight");
        filter.setId("search");
        filter.setAccessibleText("Search the list of gaps");
        filter.textProperty().bindBidirectional(model.filterProperty());
        HBox.setHgrow(filter, Priority.ALWAYS);
        Button all = new Button("Show all");
        all.setAccessibleText("Show all gaps again");
        all.setOnAction(event -> filter.clear());
        all.visibleProperty().bind(model.filterProperty().isNotEmpty());
        all.managedProperty().bind(all.visibleProperty());

        Label counts = new Label();
        counts.getStyleClass().add("strong");
        counts.setId("counts");
        counts.textProperty().bind(Bindings.createStringBinding(this::counts, model.tableProperty()));
        Label columns = new Label();
        columns.getStyleClass().addAll("small", "quiet");
        columns.setText("Least gap over the whole travel, asked gap in brackets, gap now.");
        columns.setWrapText(true);
        columns.setMinHeight(Region.USE_PREF_SIZE);
        VBox suspects = new VBox(2);
        suspects.setId("suspects");
        model.openProperty().addListener(property -> tell(suspects));
        tell(suspects);
        VBox head = new VBox(counts, suspects, new HBox(8, filter, all), columns);
        head.getStyleClass().add("head");
        setTop(head);

        list.setId("gaps");
        list.setAccessibleText("Gaps, tightest first");
        list.setCellFactory(view -> new Row());
        list.setPlaceholder(placeholder());
        model.staleProperty().addListener((property, was, is) -> {
            list.getStyleClass().remove("stale");
            if (is) {
                list.getStyleClass().add("stale");
            }
        });
        list.getSelectionModel().selectedItemProperty().addListener((property, was, is) -> {
            if (is != null && !following && !model.rowsAreChanging()) {
                model.choose(is);
            }
        });
        model.chosenProperty().addListener(property -> follow());
        model.tableProperty().addListener((property, was, is) -> {
            if (was.isEmpty()) {
                list.scrollTo(0);
            }
        });
        model.framesProperty().addListener(property -> follow());
        setCenter(list);
    }

    /** Says which readings were left out, since every gap rests on the others. */
    private void tell(VBox suspects) {
        List<String> lines = model.suspects();
        suspects.getChildren()
                .setAll(lines.stream()
                        .map(line -> {
                            Label label = new Label(line);
                            label.setWrapText(true);
                            label.setMinHeight(Region.USE_PREF_SIZE);
                            label.getStyleClass().add("refusal");
                            return label;
                        })
                        .toList());
        suspects.setVisible(!lines.isEmpty());
        suspects.setManaged(!lines.isEmpty());
    }

    /** Keeps the list's own selection the same as the model's. */
    private void follow() {
        following = true;
        try {
            GapRow chosen = model.chosenProperty().get().orElse(null);
            GapRow selected = list.getSelectionModel().getSelectedItem();
            if (!Objects.equals(chosen, selected)) {
                int at = chosen == null ? -1 : list.getItems().indexOf(chosen);
                if (at >= 0) {
                    list.getSelectionModel().clearAndSelect(at);
                } else {
                    list.getSelectionModel().clearSelection();
                }
            }
        } finally {
            following = false;
        }
    }

    private Label placeholder() {
        Label label = new Label();
        label.setWrapText(true);
        label.getStyleClass().add("quiet");
        label.setStyle("-fx-padding: 20;");
        label.textProperty()
                .bind(Bindings.createStringBinding(
                        () -> {
                            if (model.openProperty().get().isEmpty()) {
                                return "The gaps of a car are listed here, tightest first.";
                            }
                            if (model.tableProperty().get().isEmpty()) {
                                return model.searchingProperty().get()
                                        ? "Finding the least gap of every pair. The car can be moved meanwhile."
                                        : "The gaps are not known yet. Search them from the menu.";
                            }
                            return model.filterProperty().get().isEmpty()
                                    ? "No pair of parts moves against another."
                                    : "No gap fits these words. Show all, or search for a part's name.";
                        },
                        model.openProperty(),
                        model.tableProperty(),
                        model.searchingProperty(),
                        model.filterProperty()));
        return label;
    }

    private String counts() {
        return model.tableProperty()
                .get()
                .map(table -> {
                    long rub = table.rows().stream()
                            .filter(r -> r.state() == State.RUB)
                            .count();
                    long tight = table.rows().stream()
                            .filter(r -> r.state() == State.TIGHT)
                            .count();
                    return rub + " rub, " + tight + " tight, " + (table.rows().size() - rub - tight) + " clear";
                })
                .orElse("Gaps");
    }

    TextField search() {
        return filter;
    }

    ListView<GapRow> list() {
        return list;
    }

    /** Chooses the next or previous row. */
    void step(int by) {
        int size = model.shownRows().size();
        if (size > 0) {
            int at = list.getSelectionModel().getSelectedIndex();
            int wanted = at < 0 ? 0 : Math.max(0, Math.min(size - 1, at + by));
            list.getSelectionModel().select(wanted);
            list.scrollTo(Math.max(0, wanted - 2));
        }
    }

    private final class Row extends ListCell<GapRow> {
        private final StackPane mark = new StackPane();
        private final Map<State, StateMark> marks = new EnumMap<>(State.class);
        private final Label state = new Label();
        private final Label pair = new Label();
        private final Label where = new Label();
        private final Figure least = new Figure("strong");
        private final Figure required = new Figure("quiet");
        private final Label nowWord = new Label("now");
        private final Figure now = new Figure("quiet");
        private final VBox numbers;
        private final HBox line;
        // Kept here, since the model holds it weakly: cells come and go.
        private final InvalidationListener refresh = property -> showNow();

        Row() {
            mark.setAlignment(Pos.CENTER);
            for (State each : State.values()) {
                marks.put(each, new StateMark(each));
            }
            mark.getChildren().setAll(marks.values());
            state.getStyleClass().addAll("small", "strong");
            VBox left = new VBox(2, mark, state);
            left.setAlignment(Pos.TOP_CENTER);
            left.setStyle("-fx-min-width: 3em; -fx-pref-width: 3em;");
            pair.setWrapText(true);
            pair.setMinHeight(Region.USE_PREF_SIZE);
            where.setWrapText(true);
            where.setMinHeight(Region.USE_PREF_SIZE);
            where.getStyleClass().addAll("small", "quiet");
            VBox words = new VBox(2, pair, where);
            HBox.setHgrow(words, Priority.ALWAYS);
            words.setMinWidth(0);
            nowWord.getStyleClass().addAll("small", "quiet");
            HBox nowLine = new HBox(2, nowWord, now);
            nowLine.setAlignment(Pos.BASELINE_RIGHT);
            numbers = new VBox(1, least, required, nowLine);
            numbers.setMinWidth(Region.USE_PREF_SIZE);
            numbers.setAlignment(Pos.TOP_RIGHT);
            line = new HBox(8, left, words, numbers);
            line.setAlignment(Pos.TOP_LEFT);
            setPrefWidth(0);
            model.framesProperty().addListener(new WeakInvalidationListener(refresh));
        }

        @Override
        protected void updateItem(@Nullable GapRow row, boolean empty) {
            super.updateItem(row, empty);
            if (empty || row == null) {
                setGraphic(null);
                setAccessibleText(null);
                setTooltip(null);
                return;
            }
            marks.forEach((each, shape) -> shape.setVisible(each == row.state()));
            state.setText(row.state().word());
            pair.setText(row.first() + " / " + row.second());
            where.setText(place(row));
            boolean far = row.least().proof() instanceof Least.Proof.FarApart;
            least.show(model.wording().gap(row.least().found().distanceMm()));
            least.setOpacity(far ? 0.6 : 1);
            required.show(row.requiredMm() > 0 ? bracketed(model.wording().required(row.requiredMm())) : "");
            showNow();
            setTooltip(row.rule().isEmpty() ? null : new Tooltip("asked by: " + row.rule()));
            setAccessibleText(row.state().word() + ", " + row.first() + " and " + row.second() + ", least gap "
                    + model.wording().gapWithUnit(row.least().found().distanceMm()) + ", " + place(row));
            setGraphic(line);
        }

        /** The toolkit asks a cell's graphic for its height without a width, and so without its line breaks. */
        @Override
        protected double computePrefHeight(double width) {
            if (getGraphic() == null) {
                return super.computePrefHeight(width);
            }
            Insets in = getInsets();
            Insets list = getListView().getInsets();
            double inside = getListView().getWidth() - list.getLeft() - list.getRight() - SCROLL_BAR_PX;
            return snapSizeY(line.prefHeight(inside - in.getLeft() - in.getRight())) + in.getTop() + in.getBottom();
        }

        private String place(GapRow row) {
            Least.Proof proof = row.least().proof();
            if (proof instanceof Least.Proof.FarApart far) {
                return "stays further apart than " + model.wording().gapWithUnit(far.watchMm());
            }
            String place = model.wording().position(row.least().where());
            return proof instanceof Least.Proof.Unproved unproved ? place + "; not proved: " + unproved.why() : place;
        }

        private void showNow() {
            GapRow row = getItem();
            OptionalDouble gap = row == null ? OptionalDouble.empty() : model.nowMm(row);
            nowWord.setVisible(gap.isPresent());
            now.show(gap.isPresent() ? model.wording().gap(gap.getAsDouble()) : "");
        }
    }

    /** Puts brackets round a number so that its parts stay in their columns. */
    private static String bracketed(String number) {
        return "(" + number + ")";
    }
}
