package daylight.bench;

import daylight.clearance.GapTable;
import java.util.Optional;
import javafx.scene.layout.BorderPane;
import javafx.scene.layout.Region;

/** How near everything comes: the list of gaps, the flexible lines, and what an inspector would look at. */
final class GapsScreen implements StepScreen {
    private final GapsPane pane;
    private final BorderPane side = new BorderPane();

    GapsScreen(BenchViewModel model) {
        pane = new GapsPane(model);
        WalkRoundViewModel round = new WalkRoundViewModel(model.jobs(), model.asked());
        side.getStyleClass().add("side");
        InnerTabs tabs = new InnerTabs("Gaps", side);
        tabs.add("Gaps", pane);
        tabs.add("Hoses", FindingsPane.ofLines(round, model), round::lookAtLines);
        tabs.add("Inspection", FindingsPane.ofInspection(round, model), round::inspect);
        model.openProperty().addListener((property, was, is) -> {
            round.show(is.map(OpenCar::car));
            tabs.show(0);
        });
        model.tableProperty().addListener((property, was, is) -> round.know(fresh(model)));
        model.staleProperty().addListener((property, was, is) -> round.know(fresh(model)));
        round.mistakeProperty().addListener((property, was, is) -> is.ifPresent(model::ourMistake));
    }

    private static Optional<GapTable> fresh(BenchViewModel model) {
        return model.staleProperty().get()
                ? Optional.empty()
                : model.tableProperty().get();
    }

    @Override
    public Step step() {
        return Step.GAPS;
    }

    @Override
    public Region side() {
        return side;
    }

    GapsPane pane() {
        return pane;
    }
}
