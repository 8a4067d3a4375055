package daylight.bench;

import javafx.scene.layout.Region;

/** How near everything comes: the list of gaps. */
final class GapsScreen implements StepScreen {
    private final GapsPane pane;

    GapsScreen(BenchViewModel model) {
        pane = new GapsPane(model);
    }

    @Override
    public Step step() {
        return Step.GAPS;
    }

    @Override
    public Region side() {
        return pane;
    }

    GapsPane pane() {
        return pane;
    }
}
