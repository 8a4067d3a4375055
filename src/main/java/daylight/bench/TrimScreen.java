package daylight.bench;

import daylight.clearance.GapRow;
import daylight.clearance.GapTable;
import daylight.report.TemplatePdf;
import java.util.List;
import java.util.Optional;
import javafx.scene.layout.BorderPane;
import javafx.scene.layout.Region;

/** What to cut, and what that would change: a plate laid flat, and the car file's trials side by side. */
final class TrimScreen implements StepScreen {
    private final BenchViewModel model;
    private final PlateViewModel plate;
    private final TrialsViewModel trials;
    private final BorderPane side = new BorderPane();
    private final TrimPane trimPane;
    private final TrialsPane trialsPane;
    private boolean behind = true;

    TrimScreen(BenchViewModel model) {
        this.model = model;
        plate = new PlateViewModel(model.jobs(), model.asked());
        trials = new TrialsViewModel(model.jobs(), model.asked());
        trimPane = new TrimPane(
                plate,
                model::write,
                template -> model.keep(
                        "Print a template",
                        plate.nameProperty().get().orElse("plate"),
                        "pdf",
                        () -> TemplatePdf.of(template)));
        trialsPane = new TrialsPane(trials, model::wording, model::write);
        side.getStyleClass().addAll("side", "wide-side");
        InnerTabs tabs = new InnerTabs("Trim", side);
        tabs.add("Cut a plate", trimPane);
        tabs.add("Trials", trialsPane);
        model.openProperty().addListener(property -> {
            behind = true;
            catchUp();
        });
        plate.mistakeProperty().addListener((property, was, is) -> is.ifPresent(model::ourMistake));
        trials.mistakeProperty().addListener((property, was, is) -> is.ifPresent(model::ourMistake));
    }

    @Override
    public Step step() {
        return Step.TRIM;
    }

    @Override
    public Region side() {
        return side;
    }

    @Override
    public void shown(boolean shown) {
        catchUp();
    }

    /** Looks at the car only while the step is shown: a cut costs a look round the car. */
    private void catchUp() {
        if (!behind || model.stepProperty().get() != Step.TRIM) {
            return;
        }
        behind = false;
        plate.show(model.openProperty().get().map(OpenCar::car));
        trials.show(model.openProperty().get().flatMap(OpenCar::measured));
        if (plate.nameProperty().get().isEmpty()) {
            List<GapRow> rows = model.tableProperty().get().map(GapTable::rows).orElse(List.of());
            Optional<String> chosen = model.chosenProperty()
                    .get()
                    .flatMap(row -> plate.plates().stream()
                            .filter(name -> name.equals(row.first()) || name.equals(row.second()))
                            .findFirst());
            chosen.or(() -> plate.mostInNeed(rows)).ifPresent(plate::choose);
        }
    }

    PlateViewModel plate() {
        return plate;
    }

    TrialsViewModel trials() {
        return trials;
    }

    TrimPane trimPane() {
        return trimPane;
    }
}
