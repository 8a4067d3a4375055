package daylight.bench;

import javafx.scene.layout.Region;

/** What is on the car. */
final class PartsScreen implements StepScreen {
    private final PartsPane pane;

    PartsScreen(BenchViewModel bench, PartsViewModel model) {
        pane = new PartsPane(bench, model);
    }

    @Override
    public Step step() {
        return Step.PARTS;
    }

    @Override
    public Region side() {
        return pane;
    }
}
