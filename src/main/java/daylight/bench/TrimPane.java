package daylight.bench;

import daylight.car.Trial;
import daylight.clearance.GapRow;
import daylight.clearance.Least;
import daylight.report.Paper;
import daylight.report.Template;
import daylight.report.Wording;
import daylight.trim.CutStudy;
import daylight.trim.LeastCut;
import daylight.trim.MetalLeft;
import daylight.units.LengthFormat;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.Consumer;
import java.util.function.ToDoubleFunction;
import javafx.beans.InvalidationListener;
import javafx.beans.binding.Bindings;
import javafx.collections.ListChangeListener;
import javafx.geometry.Pos;
import javafx.geometry.VPos;
import javafx.scene.Node;
import javafx.scene.control.Button;
import javafx.scene.control.ComboBox;
import javafx.scene.control.Label;
import javafx.scene.control.ProgressBar;
import javafx.scene.control.ScrollPane;
import javafx.scene.control.TextField;
import javafx.scene.control.ToggleButton;
import javafx.scene.control.Tooltip;
import javafx.scene.layout.ColumnConstraints;
import javafx.scene.layout.FlowPane;
import javafx.scene.layout.GridPane;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.Region;
import javafx.scene.layout.VBox;

/** Cutting a plate: the plate flat with the cut to drag, and beside it what becomes of its gaps and its metal. */
final class TrimPane extends VBox {
    /** So many of the plate's pairs are listed. */
    private static final int ROWS = 4;

    private final PlateViewModel model;
    private final Consumer<Trial> adopt;
    private final Consumer<Template> print;
    private final ComboBox<String> plates = new ComboBox<>();
    private final List<ToggleButton> kinds = new ArrayList<>();
    private final FlowPane distances = new FlowPane(10, 5);
    private final Label refusal = new Label();
    private final Label blocked = new Label();
    private final GridPane answer = new GridPane();
    private final FlowPane options = new FlowPane(6, 4);
    private final Label words = new Label();
    private final PlateBoard board;
    private final VBox whole = new VBox(8);
    private final Label empty = new Label();
    private boolean following;

    /**
     * Builds the pane.
     *
     * @param adopt writes a cut into the car file
     * @param print prints a template
     */
    TrimPane(PlateViewModel model, Consumer<Trial> adopt, Consumer<Template> print) {
        this.model = model;
        this.adopt = adopt;
        this.print = print;
        this.board = new PlateBoard(model);
        getStyleClass().add("trim");
        plates.setId("plates");
        plates.setAccessibleText("The plate that is cut");
        plates.setMaxWidth(Double.MAX_VALUE);
        HBox.setHgrow(plates, Priority.ALWAYS);
        plates.setOnAction(event -> {
            String wanted = plates.getValue();
            if (!following && wanted != null && model.plates().contains(wanted)) {
                model.choose(wanted);
            }
        });
        FlowPane kindRow = new FlowPane(4, 4);
        for (LeastCut.Kind kind : LeastCut.Kind.values()) {
            ToggleButton button = new ToggleButton(kind.word());
            button.setId("kind-" + kind.word());
            button.setUserData(kind);
            button.getStyleClass().addAll("small", "handle-button");
            button.setAccessibleText("Cut the plate with a " + kind.word());
            button.setOnAction(event -> {
                model.begin(kind);
                follow();
            });
            kinds.add(button);
            kindRow.getChildren().add(button);
        }
        Button other = small("Other side off", "Let the other piece of the straight cut come off", model::otherSide);
        other.disableProperty()
                .bind(Bindings.createBooleanBinding(
                        () -> model.cutProperty()
                                .get()
                                .filter(cut -> CutGrips.kind(cut) == LeastCut.Kind.STRAIGHT)
                                .isEmpty(),
                        model.cutProperty()));
        Button none = small("No cut", "Put the saw away: the plate as it is", () -> {
            model.uncut();
            follow();
        });
        none.disableProperty().bind(noCut());
        kindRow.getChildren().addAll(other, none);
        VBox head = new VBox(8, new HBox(8, plates), kindRow);
        head.getStyleClass().add("head");
        refusal.getStyleClass().add("refusal");
        refusal.setWrapText(true);
        refusal.setMinHeight(Region.USE_PREF_SIZE);
        blocked.getStyleClass().add("refusal");
        blocked.setId("cut-blocked");
        blocked.setWrapText(true);
        blocked.setMinHeight(Region.USE_PREF_SIZE);
        words.setWrapText(true);
        words.setMinHeight(Region.USE_PREF_SIZE);
        words.setId("cut-words");
        answer.setId("cut-answer");
        answer.setHgap(10);
        answer.setVgap(3);
        ColumnConstraints first = new ColumnConstraints();
        first.setHgrow(Priority.ALWAYS);
        answer.getColumnConstraints().add(first);
        VBox below = new VBox(8, distances, refusal, blocked, words, answer, leastRow(), options, doRow(), caution());
        below.getStyleClass().add("below");
        VBox.setVgrow(board, Priority.ALWAYS);
        whole.getChildren().setAll(head, board, below);
        ScrollPane scroll = new ScrollPane(whole);
        scroll.setFitToWidth(true);
        scroll.setFitToHeight(true);
        scroll.setHbarPolicy(ScrollPane.ScrollBarPolicy.NEVER);
        VBox.setVgrow(scroll, Priority.ALWAYS);
        empty.getStyleClass().add("quiet");
        empty.setWrapText(true);
        empty.setStyle("-fx-padding: 20;");
        getChildren().setAll(scroll);

        model.plates().addListener((ListChangeListener<String>) change -> follow());
        InvalidationListener follows = property -> follow();
        model.nameProperty().addListener(follows);
        model.cutProperty().addListener(follows);
        model.triedProperty().addListener(follows);
        model.beforeProperty().addListener(follows);
        model.staleProperty().addListener(follows);
        model.refusalProperty().addListener(follows);
        model.blockedProperty().addListener(follows);
        model.leastProperty().addListener(property -> showOptions());
        follow();
    }

    private javafx.beans.binding.BooleanBinding noCut() {
        return Bindings.createBooleanBinding(() -> model.cutProperty().get().isEmpty(), model.cutProperty());
    }

    private static Button small(String words, String meaning, Runnable run) {
        Button button = new Button(words);
        button.getStyleClass().addAll("small", "handle-button");
        button.setAccessibleText(meaning);
        button.setTooltip(new Tooltip(meaning));
        button.setOnAction(event -> run.run());
        return button;
    }

    private Node leastRow() {
        Button least = new Button("Find the least cut");
        least.setId("least-cut");
        least.setMinWidth(Region.USE_PREF_SIZE);
        least.setAccessibleText("Find the least cuts of this plate that clear everything");
        least.setTooltip(new Tooltip("Looks for the straight cut, rounded corner and notch that take least metal off"));
        least.setOnAction(event -> model.findLeast());
        least.disableProperty().bind(model.searchingProperty());
        ProgressBar bar = new ProgressBar();
        bar.setAccessibleText("How far the search for the least cut is");
        bar.progressProperty().bind(model.searchedProperty());
        bar.setPrefWidth(120);
        Button cancel = small("Cancel", "Cancel the search for the least cut", model::cancelLeast);
        for (Node node : List.of(bar, cancel)) {
            node.visibleProperty().bind(model.searchingProperty());
            node.managedProperty().bind(model.searchingProperty());
        }
        Label status = new Label();
        status.getStyleClass().addAll("small", "quiet");
        status.textProperty().bind(model.statusProperty());
        status.setWrapText(true);
        HBox row = new HBox(8, least, bar, cancel, status);
        row.setAlignment(Pos.CENTER_LEFT);
        return row;
    }

    private Node doRow() {
        Button letter = new Button("Print a template");
        letter.setId("print-template");
        letter.setAccessibleText("Write a template of this plate at full size as PDF");
        letter.setTooltip(new Tooltip("A PDF at full size: cut it out, glue it on, centre-punch the marks"));
        letter.setOnAction(event -> model.template(Paper.usual(model.inches())).ifPresent(print));
        Button write = new Button("Write the cut into the car file");
        write.setId("adopt-cut");
        write.setAccessibleText("Write this cut into the car file");
        write.setTooltip(new Tooltip("The car is then as if the plate were cut; undo takes it back"));
        write.setOnAction(event -> model.trial().ifPresent(adopt));
        write.disableProperty().bind(noCut());
        return new FlowPane(8, 6, letter, write);
    }

    private static Node caution() {
        Label caution = new Label(
                "Geometry, not strength: whether a part still holds after a cut is for someone qualified to say.");
        caution.getStyleClass().addAll("small", "quiet");
        caution.setWrapText(true);
        caution.setMinHeight(Region.USE_PREF_SIZE);
        return caution;
    }

    // ---------------------------------------------------------------- following the model

    private void follow() {
        if (following) {
            return;
        }
        following = true;
        try {
            if (!plates.getItems().equals(model.plates())) {
                plates.getItems().setAll(model.plates());
            }
            String name = model.nameProperty().get().orElse(null);
            if (!Objects.equals(plates.getValue(), name)) {
                plates.setValue(name);
            }
            Optional<LeastCut.Kind> kind = model.cutProperty().get().map(CutGrips::kind);
            for (int k = 0; k < kinds.size(); k++) {
                kinds.get(k)
                        .setSelected(
                                kind.filter(kinds.get(k).getUserData()::equals).isPresent());
                kinds.get(k).setDisable(name == null);
            }
            boolean any = !model.plates().isEmpty();
            Node shown = any ? getChildren().get(0) : empty;
            if (!any) {
                empty.setText(
                        "This car has no plate to cut. A part of the shape \"plate\" (a bracket, a gusset, a tab) "
                                + "can be cut here.");
            }
            empty.setManaged(!any);
            empty.setVisible(!any);
            shown.setVisible(true);
            if (!any && !getChildren().contains(empty)) {
                getChildren().add(0, empty);
            } else if (any) {
                getChildren().remove(empty);
            }
            whole.setVisible(any);
            showDistances();
            told(refusal, model.refusalProperty().get());
            String why = model.blockedProperty().get();
            told(blocked, why.isEmpty() ? "" : "Not to be made so: " + why + ".");
            String cut = model.cutWords();
            words.setText(
                    cut.isEmpty()
                            ? "Choose a kind of cut and drag its grips, or let the least cut be found. The tinted part "
                                    + "comes too near to something."
                            : Character.toUpperCase(cut.charAt(0)) + cut.substring(1) + ".");
            showAnswer();
        } finally {
            following = false;
        }
    }

    private static void told(Label label, String text) {
        label.setText(text);
        label.setVisible(!text.isEmpty());
        label.setManaged(!text.isEmpty());
    }

    private void showDistances() {
        List<CutGrips.Distance> wanted = model.distances();
        while (distances.getChildren().size() > wanted.size()) {
            distances.getChildren().remove(distances.getChildren().size() - 1);
        }
        for (int d = 0; d < wanted.size(); d++) {
            if (d == distances.getChildren().size()) {
                distances.getChildren().add(field(d));
            }
            HBox box = (HBox) distances.getChildren().get(d);
            ((Label) box.getChildren().get(0)).setText(wanted.get(d).words());
            TextField field = (TextField) box.getChildren().get(1);
            field.setAccessibleText(wanted.get(d).words() + " of the cut");
            if (!field.isFocused() || model.refusalProperty().get().isEmpty()) {
                field.setText(model.format().print(wanted.get(d).mm()));
            }
        }
    }

    private HBox field(int number) {
        Label label = new Label();
        label.getStyleClass().add("small");
        TextField field = new TextField();
        field.setId("cut-distance-" + number);
        field.setStyle("-fx-pref-width: 6em; -fx-padding: 2 6 2 6;");
        field.setOnAction(event -> model.type(number, field.getText()));
        field.focusedProperty().addListener((property, was, is) -> {
            if (!is && number < model.distances().size()) {
                field.setText(model.format().print(model.distances().get(number).mm()));
            }
        });
        HBox box = new HBox(6, label, field);
        box.setAlignment(Pos.CENTER_LEFT);
        return box;
    }

    private void showAnswer() {
        answer.getChildren().clear();
        answer.getStyleClass().remove("stale");
        if (model.staleProperty().get()) {
            answer.getStyleClass().add("stale");
        }
        Optional<CutStudy.Tried> before = model.beforeProperty().get();
        if (before.isEmpty()) {
            return;
        }
        Optional<CutStudy.Tried> after = model.triedProperty().get();
        Wording wording = Wording.in(model.format());
        int row = 0;
        row = line(row, quiet("gap to"), quiet("as it is"), after.map(t -> quiet("with the cut")), quiet("asked"));
        List<GapRow> rows = after.orElse(before.get()).gaps();
        List<GapRow> shown = rows.stream()
                .filter(r -> !(r.least().proof() instanceof Least.Proof.FarApart))
                .limit(ROWS)
                .toList();
        for (GapRow each : shown) {
            String other = model.other(each);
            Optional<GapRow> was = before.get().gaps().stream()
                    .filter(r -> model.other(r).equals(other))
                    .findFirst();
            Label name = new Label(other);
            name.setWrapText(true);
            row = line(
                    row,
                    name,
                    was.<Node>map(r -> gap(r, wording)).orElseGet(() -> quiet("")),
                    after.map(t -> gap(each, wording)),
                    quiet(each.requiredMm() > 0 ? wording.required(each.requiredMm()) : ""));
        }
        if (shown.isEmpty()) {
            row = line(row, quiet("nothing comes near it"), quiet(""), Optional.empty(), quiet(""));
        }
        row = metal(row, "area of one face", before.get(), after, MetalLeft::areaMm2, this::area);
        row = metal(row, "net section at its least", before.get(), after, MetalLeft::netSectionMm2, this::area);
        metal(
                row,
                "hole nearest an edge",
                before.get(),
                after,
                m -> m.edgeDistancesMm().stream().mapToDouble(d -> d).min().orElse(Double.NaN),
                mm -> model.format().print(mm));
    }

    private int metal(
            int row,
            String what,
            CutStudy.Tried before,
            Optional<CutStudy.Tried> after,
            ToDoubleFunction<MetalLeft> of,
            java.util.function.DoubleFunction<String> words) {
        OptionalDouble was = number(of.applyAsDouble(before.metal()));
        if (was.isEmpty()) {
            return row;
        }
        return line(
                row,
                quiet(what),
                new Label(words.apply(was.getAsDouble())),
                after.map(t -> {
                    OptionalDouble is = number(of.applyAsDouble(t.metal()));
                    Label label = new Label(is.isPresent() ? words.apply(is.getAsDouble()) : "gone");
                    label.getStyleClass().add("strong");
                    return label;
                }),
                quiet(""));
    }

    private static OptionalDouble number(double value) {
        return Double.isFinite(value) ? OptionalDouble.of(value) : OptionalDouble.empty();
    }

    private String area(double mm2) {
        return Areas.words(mm2, model.inches());
    }

    private int line(int row, Node what, Node before, Optional<? extends Node> after, Node asked) {
        answer.add(what, 0, row);
        answer.add(before, 1, row);
        after.ifPresent(node -> answer.add(node, 2, row));
        answer.add(asked, 3, row);
        for (Node node : answer.getChildren()) {
            GridPane.setValignment(node, VPos.CENTER);
        }
        return row + 1;
    }

    private static Label quiet(String text) {
        Label label = new Label(text);
        label.getStyleClass().addAll("small", "quiet");
        return label;
    }

    /** A gap with its state as a mark, the word in what a screen reader says. */
    static HBox gap(GapRow row, Wording wording) {
        Label number = new Label(
                row.least().proof() instanceof Least.Proof.FarApart
                        ? "far"
                        : wording.gap(row.least().found().distanceMm()));
        number.getStyleClass().add("strong");
        Label state = new Label(row.state().word());
        state.getStyleClass().addAll("small", "quiet");
        number.setMinWidth(Region.USE_PREF_SIZE);
        state.setMinWidth(Region.USE_PREF_SIZE);
        HBox box = new HBox(5, new StateMark(row.state()), number, state);
        box.setAlignment(Pos.CENTER_LEFT);
        return box;
    }

    private void showOptions() {
        options.getChildren().clear();
        LeastCut least = model.leastProperty().get().orElse(null);
        if (least == null) {
            return;
        }
        if (least.options().isEmpty() && least.none().isEmpty()) {
            options.getChildren().add(wrapped("Every gap of it keeps its rule: nothing has to come off."));
        }
        for (LeastCut.Option option : least.options()) {
            Button button = new Button(option.kind().word() + ": takes " + area(option.areaMm2()) + " off");
            button.getStyleClass().addAll("small", "handle-button");
            button.setAccessibleText(
                    "Take the " + option.kind().word() + " that was found, " + model.words(option.marked()));
            button.setTooltip(new Tooltip(model.words(option.marked())));
            button.setOnAction(event -> model.cut(option.marked()));
            options.getChildren().add(button);
        }
        least.none().ifPresent(none -> {
            LengthFormat format = model.format();
            options.getChildren().add(wrapped("No cut that may be made clears it. In the way: " + none.blocks() + "."));
            none.nearest().ifPresent(cut -> {
                Button button = new Button(
                        "the nearest that may be made; misses by " + format.print(format.notBelow(none.shortMm())));
                button.getStyleClass().addAll("small", "handle-button");
                button.setAccessibleText("Take the nearest cut that may be made");
                button.setOnAction(event -> model.cut(cut));
                options.getChildren().add(button);
            });
            none.shift()
                    .ifPresent(shift -> options.getChildren()
                            .add(wrapped("Uncut, it clears when it is moved "
                                    + format.print(format.notBelow(shift.byMm())) + " " + shift.way() + ".")));
        });
        if (!least.trouble().isEmpty()) {
            options.getChildren().add(wrapped("Not proved everywhere: " + least.trouble()));
        }
    }

    private static Label wrapped(String text) {
        Label label = new Label(text);
        label.setWrapText(true);
        label.setMinHeight(Region.USE_PREF_SIZE);
        label.setStyle("-fx-max-width: 32em;");
        return label;
    }

    PlateBoard board() {
        return board;
    }
}
