package daylight.bench;

import daylight.report.Paper;
import java.util.List;
import javafx.scene.Node;
import javafx.scene.control.Button;
import javafx.scene.control.CheckBox;
import javafx.scene.control.Label;
import javafx.scene.control.ProgressBar;
import javafx.scene.control.RadioButton;
import javafx.scene.control.ScrollPane;
import javafx.scene.control.TextField;
import javafx.scene.control.ToggleGroup;
import javafx.scene.control.Tooltip;
import javafx.scene.layout.BorderPane;
import javafx.scene.layout.FlowPane;
import javafx.scene.layout.GridPane;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Region;
import javafx.scene.layout.VBox;

/** What is printed and kept: what goes in, the date and the paper, and a button for each form. */
final class ReportScreen implements StepScreen {
    private final BenchViewModel bench;
    private final ReportViewModel model;
    private final BorderPane side = new BorderPane();
    private final GridPane contents = new GridPane();
    private final TextField date = new TextField();
    private boolean behind = true;

    ReportScreen(BenchViewModel bench) {
        this.bench = bench;
        model = new ReportViewModel(bench.jobs(), bench.asked());
        side.getStyleClass().add("side");
        Label heading = new Label("What is printed");
        heading.getStyleClass().add("strong");
        VBox head = new VBox(heading);
        head.getStyleClass().add("head");
        side.setTop(head);
        contents.setHgap(10);
        contents.setVgap(4);
        contents.setId("report-contents");
        date.setId("report-date");
        date.setAccessibleText("Date for the first page, in your own words");
        date.textProperty().bindBidirectional(model.dateProperty());
        VBox form = new VBox(
                12,
                contents,
                row("Date on the first page", date),
                row("Paper", papers()),
                allBox(),
                buttons(),
                progress());
        form.setStyle("-fx-padding: 4 14 14 14;");
        Label refusal = wrapped("refusal");
        refusal.textProperty().bind(model.refusalProperty());
        refusal.visibleProperty().bind(model.refusalProperty().isNotEmpty());
        refusal.managedProperty().bind(refusal.visibleProperty());
        Label caution = wrapped("quiet");
        caution.getStyleClass().add("small");
        caution.setText(
                "Geometry, not strength. Never go under a car held by a jack alone. Check each tight gap on the car "
                        + "itself: the shop sheet says how.");
        form.getChildren().addAll(refusal, caution);
        ScrollPane scroll = new ScrollPane(form);
        scroll.setFitToWidth(true);
        scroll.setHbarPolicy(ScrollPane.ScrollBarPolicy.NEVER);
        side.setCenter(scroll);
        bench.openProperty().addListener(property -> {
            behind = true;
            catchUp();
        });
        bench.tableProperty().addListener(property -> tell());
        bench.staleProperty().addListener(property -> tell());
        model.allProperty().addListener(property -> list());
        model.mistakeProperty().addListener((property, was, is) -> is.ifPresent(bench::ourMistake));
    }

    private static Label wrapped(String style) {
        Label label = new Label();
        label.getStyleClass().add(style);
        label.setWrapText(true);
        label.setMinHeight(Region.USE_PREF_SIZE);
        return label;
    }

    private static Node row(String words, Node control) {
        Label label = new Label(words);
        label.getStyleClass().addAll("small", "quiet");
        return new VBox(3, label, control);
    }

    private Node papers() {
        HBox box = new HBox(14);
        ToggleGroup group = new ToggleGroup();
        for (Paper paper : Paper.values()) {
            RadioButton button = new RadioButton(paper.word());
            button.setId("paper-" + paper.word());
            button.setAccessibleText("Print on " + paper.word());
            button.setToggleGroup(group);
            button.setSelected(model.paperProperty().get() == paper);
            button.setOnAction(event -> model.paperProperty().set(paper));
            model.paperProperty().addListener((property, was, is) -> button.setSelected(is == paper));
            box.getChildren().add(button);
        }
        return box;
    }

    private Node allBox() {
        CheckBox box = new CheckBox("List the pairs that stay far apart too");
        box.setAccessibleText("List the pairs that stay far apart too");
        box.selectedProperty().bindBidirectional(model.allProperty());
        return box;
    }

    private Node buttons() {
        FlowPane pane = new FlowPane(8, 8);
        for (ReportViewModel.Form form : ReportViewModel.Form.values()) {
            Button button = new Button(form.words());
            button.setId("report-" + form.ending());
            button.setAccessibleText(form.words() + " of this car");
            button.setTooltip(new Tooltip("Asks where to, then computes it; the window stays usable meanwhile"));
            button.setOnAction(event -> bench.whereTo(form.words(), "report", form.ending())
                    .ifPresent(target -> model.make(form, bytes -> bench.keep(target, bytes))));
            button.disableProperty().bind(model.workingProperty());
            pane.getChildren().add(button);
        }
        return pane;
    }

    private Node progress() {
        ProgressBar bar = new ProgressBar();
        bar.setAccessibleText("How far the report is");
        bar.progressProperty().bind(model.doneProperty());
        Button cancel = new Button("Cancel");
        cancel.setAccessibleText("Cancel the report");
        cancel.getStyleClass().addAll("small", "handle-button");
        cancel.setOnAction(event -> model.cancel());
        for (Node node : List.of(bar, cancel)) {
            node.visibleProperty().bind(model.workingProperty());
            node.managedProperty().bind(model.workingProperty());
        }
        Label status = wrapped("quiet");
        status.getStyleClass().add("small");
        status.textProperty().bind(model.statusProperty());
        HBox box = new HBox(8, bar, cancel);
        return new VBox(4, box, status);
    }

    private void list() {
        contents.getChildren().clear();
        List<ReportViewModel.Content> all = model.contents();
        for (int i = 0; i < all.size(); i++) {
            ReportViewModel.Content content = all.get(i);
            Label what = new Label(content.what());
            what.getStyleClass().add(content.in() ? "strong" : "quiet");
            what.setMinWidth(Region.USE_PREF_SIZE);
            Label how = wrapped("small");
            how.getStyleClass().add("quiet");
            how.setText(content.how());
            contents.add(what, 0, i);
            contents.add(how, 1, i);
        }
        date.setPromptText(model.dateOfFile().isEmpty() ? "none" : model.dateOfFile() + " (from the file)");
    }

    private void tell() {
        model.know(
                bench.staleProperty().get()
                        ? java.util.Optional.empty()
                        : bench.tableProperty().get());
        list();
    }

    @Override
    public Step step() {
        return Step.REPORT;
    }

    @Override
    public Region side() {
        return side;
    }

    @Override
    public void shown(boolean shown) {
        catchUp();
    }

    private void catchUp() {
        if (behind && bench.stepProperty().get() == Step.REPORT) {
            behind = false;
            model.show(bench.openProperty().get().flatMap(OpenCar::measured));
            tell();
        }
    }

    ReportViewModel model() {
        return model;
    }
}
