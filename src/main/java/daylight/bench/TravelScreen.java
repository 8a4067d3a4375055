package daylight.bench;

import javafx.scene.layout.Region;

/** Where everything can go: the handles and their ends. */
final class TravelScreen implements StepScreen {
    private final TravelPane pane;

    TravelScreen(BenchViewModel model) {
        pane = new TravelPane(model);
    }

    @Override
    public Step step() {
        return Step.TRAVEL;
    }

    @Override
    public Region side() {
        return pane;
    }
}
