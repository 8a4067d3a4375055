package daylight.bench;

import java.util.Optional;
import javafx.scene.layout.Region;

/** What the tape read, and where that puts the points. */
final class MeasureScreen implements StepScreen {
    private final MeasureViewModel model;
    private final MeasurePane pane;
    private final Region picture;

    MeasureScreen(MeasureViewModel model) {
        this.model = model;
        pane = new MeasurePane(model);
        picture = MeasurePane.picture(model);
    }

    @Override
    public Step step() {
        return Step.MEASURE;
    }

    @Override
    public Region side() {
        return pane;
    }

    @Override
    public Optional<Region> under() {
        return Optional.of(picture);
    }

    @Override
    public void shown(boolean shown) {
        model.shown(shown);
    }
}
