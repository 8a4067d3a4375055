package daylight.bench;

import daylight.clearance.State;
import daylight.hose.HoseReport;
import daylight.inspection.InspectionReport;
import daylight.report.HoseText;
import daylight.report.InspectionText;
import java.util.List;
import java.util.Optional;
import javafx.geometry.Pos;
import javafx.scene.Node;
import javafx.scene.control.Button;
import javafx.scene.control.Label;
import javafx.scene.control.ProgressBar;
import javafx.scene.control.ScrollPane;
import javafx.scene.layout.BorderPane;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Region;
import javafx.scene.layout.VBox;

/** A list of findings on the car, each with its verdict as a mark and a word: of the flexible lines, or an inspector's. */
final class FindingsPane extends BorderPane {
    private final VBox list = new VBox(12);

    private FindingsPane(WalkRoundViewModel model) {
        Label status = new Label();
        status.getStyleClass().addAll("small", "quiet");
        status.textProperty().bind(model.statusProperty());
        ProgressBar bar = new ProgressBar();
        bar.setAccessibleText("How far the work is");
        bar.setPrefWidth(110);
        bar.progressProperty().bind(model.doneProperty());
        Button cancel = new Button("Cancel");
        cancel.setAccessibleText("Cancel what is being looked at");
        cancel.getStyleClass().addAll("small", "handle-button");
        cancel.setOnAction(event -> model.cancel());
        for (Node node : List.of(bar, cancel)) {
            node.visibleProperty().bind(model.workingProperty());
            node.managedProperty().bind(model.workingProperty());
        }
        HBox head = new HBox(8, status, bar, cancel);
        head.setAlignment(Pos.CENTER_LEFT);
        head.setStyle("-fx-padding: 8 14 4 14;");
        setTop(head);
        list.setStyle("-fx-padding: 4 14 14 14;");
        ScrollPane scroll = new ScrollPane(list);
        scroll.setFitToWidth(true);
        scroll.setHbarPolicy(ScrollPane.ScrollBarPolicy.NEVER);
        setCenter(scroll);
    }

    /** Returns the list of the flexible lines. */
    static FindingsPane ofLines(WalkRoundViewModel model, BenchViewModel bench) {
        FindingsPane pane = new FindingsPane(model);
        pane.list.setId("hoses");
        model.hosesProperty().addListener((property, was, is) -> pane.lines(is, bench.inches()));
        pane.lines(Optional.empty(), true);
        return pane;
    }

    /** Returns the list of an inspector's findings. */
    static FindingsPane ofInspection(WalkRoundViewModel model, BenchViewModel bench) {
        FindingsPane pane = new FindingsPane(model);
        pane.list.setId("inspection");
        model.inspectionProperty().addListener((property, was, is) -> pane.inspection(is, bench.inches()));
        pane.inspection(Optional.empty(), true);
        return pane;
    }

    private void lines(Optional<List<HoseReport>> reports, boolean inches) {
        list.getChildren().clear();
        if (reports.isEmpty()) {
            list.getChildren().add(quiet("Hoses, lines and looms are looked at over the whole travel."));
            return;
        }
        for (HoseReport report : reports.get()) {
            boolean bad = report.troubles().stream()
                    .anyMatch(t -> t == HoseReport.Trouble.TAUT
                            || t == HoseReport.Trouble.RUBS
                            || t == HoseReport.Trouble.KINKS);
            State state = report.troubles().isEmpty() ? State.CLEAR : bad ? State.RUB : State.TIGHT;
            VBox box =
                    new VBox(2, heading(state, report.verdict(), report.hose().name()));
            List<String> said = HoseText.wordAndWhatItSays(report, inches);
            for (int i = 0; i + 1 < said.size(); i += 2) {
                box.getChildren().add(quiet(said.get(i) + ": " + said.get(i + 1)));
            }
            list.getChildren().add(box);
        }
        list.getChildren()
                .add(
                        reports.get().isEmpty()
                                ? quiet("This car has no flexible lines.")
                                : quiet("Brake work: someone licensed checks it."));
    }

    private void inspection(Optional<InspectionReport> report, boolean inches) {
        list.getChildren().clear();
        if (report.isEmpty()) {
            list.getChildren()
                    .add(quiet(
                            "What an inspector would look at: the road under the car, travel left, the steering from "
                                    + "lock to lock, lines and gaps."));
            return;
        }
        List<InspectionReport.Finding> findings = report.get().findings();
        List<List<String>> rows = InspectionText.rows(report.get(), inches);
        for (int f = 0; f < findings.size(); f++) {
            List<String> row = rows.get(f);
            State state = switch (findings.get(f).verdict()) {
                case PASS -> State.CLEAR;
                case LOOK -> State.TIGHT;
                case FAIL -> State.RUB;
            };
            String figures =
                    row.get(3).isEmpty() ? "" : row.get(3) + (row.get(4).isEmpty() ? "" : ", asked " + row.get(4));
            VBox box = new VBox(2, heading(state, row.get(1), row.get(2) + (figures.isEmpty() ? "" : ": " + figures)));
            for (String line : List.of(row.get(5), row.get(0) + ". " + row.get(6))) {
                if (!line.isBlank()) {
                    box.getChildren().add(quiet(line));
                }
            }
            list.getChildren().add(box);
        }
        report.get().cautions().forEach(caution -> list.getChildren().add(quiet(caution)));
    }

    private static Node heading(State state, String word, String what) {
        Label verdict = new Label(word);
        verdict.getStyleClass().addAll("small", "strong");
        verdict.setMinWidth(Region.USE_PREF_SIZE);
        Label name = new Label(what);
        name.setWrapText(true);
        name.setMinHeight(Region.USE_PREF_SIZE);
        HBox row = new HBox(7, new StateMark(state), verdict, name);
        row.setAlignment(Pos.TOP_LEFT);
        return row;
    }

    private static Label quiet(String text) {
        Label label = new Label(text);
        label.setWrapText(true);
        label.setMinHeight(Region.USE_PREF_SIZE);
        label.getStyleClass().addAll("small", "quiet");
        return label;
    }
}
