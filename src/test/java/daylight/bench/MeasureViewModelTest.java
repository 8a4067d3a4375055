package daylight.bench;

import static org.assertj.core.api.Assertions.assertThat;

import daylight.bench.MeasureViewModel.ReadingRow;
import daylight.bench.MeasureViewModel.Standing;
import daylight.car.CarDocument;
import daylight.clearance.Asked;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class MeasureViewModelTest {
    private static final String CAR = """
            daylight: 1
            car: Test   # mine
            units: in
            within: 1/16
            points:
              peg A: [0, 30, 0]    # tape on the floor
              peg B: [40, 30, 0]
              peg C: [20, -10, 0]
              peg D: [0, -30, 0]
              peg E: [40, -30, 0]
              peg F: [20, 40, 0]
              eye: by tape
            tape:
              # slant distances to [20, 5, 8]
              - {from: peg A, to: eye, reads: 33}   # 20, 25, 8
              - {from: peg B, to: eye, reads: 33}
              - {from: peg C, to: eye, reads: 17}
              - {from: peg D, to: eye, reads: 41 1/8}
              - {from: peg E, to: eye, reads: 41 1/8}
              - {from: peg F, to: eye, reads: 35 7/8}
              - {height of: eye, reads: 8}
            """;

    @TempDir
    private Path folder;

    private final JobsAtOnce jobs = new JobsAtOnce();
    private final BenchViewModel bench = new BenchViewModel(jobs, new Asked(0.1, 75, 2000, 1));
    private final MeasureViewModel model = bench.measure();

    @BeforeEach
    void openTheCar() throws IOException {
        open(CAR);
    }

    private void open(String text) throws IOException {
        bench.open(Files.writeString(folder.resolve("car.yaml"), text));
        jobs.finish();
        model.shown(true);
        jobs.finish();
    }

    private ReadingRow reading(String name) {
        return model.readings().stream()
                .filter(row -> row.name().equals(name))
                .findFirst()
                .orElseThrow(() -> new AssertionError(name + " is not among " + model.readings()));
    }

    private CarDocument text() {
        return bench.file().documentProperty().get().orElseThrow();
    }

    @Test
    void readingsAndPointsAreShownAsWritten() {
        assertThat(model.readings()).hasSize(7);
        assertThat(reading("peg A to eye").reads()).isEqualTo("33");
        assertThat(reading("peg A to eye").points()).containsExactly("peg A", "eye");
        assertThat(model.points()).extracting(MeasureViewModel.PointRow::name).contains("peg A", "eye");
        MeasureViewModel.PointRow eye = model.points().get(6);
        assertThat(eye.byTape()).isTrue();
        assertThat(eye.within95()).allMatch(width -> !width.isEmpty());
        assertThat(model.staleProperty().get()).isFalse();
    }

    @Test
    void aFigureIsChangedInPlaceAndThePointsArePlacedAnew() {
        model.setReading(reading("height of eye"), "8 1/16");
        assertThat(model.staleProperty().get()).as("old figures are marked").isTrue();
        assertThat(text().toText()).isEqualTo(CAR.replace("reads: 8}", "reads: 8 1/16}"));
        jobs.finish();
        assertThat(model.staleProperty().get()).isFalse();
        assertThat(reading("height of eye").reads()).isEqualTo("8 1/16");
        bench.file().undo();
        jobs.finish();
        assertThat(reading("height of eye").reads()).isEqualTo("8");
    }

    @Test
    void whatIsNoLengthIsToldAndChangesNothing() {
        model.setReading(reading("height of eye"), "8 inn");
        assertThat(model.complaintProperty().get()).contains("\"8 inn\" is not a length");
        assertThat(text().toText()).isEqualTo(CAR);
        model.setReading(reading("height of eye"), "");
        assertThat(model.complaintProperty().get()).isNotEmpty();
        assertThat(text().toText()).isEqualTo(CAR);
        model.setReading(reading("height of eye"), "203,2 mm");
        assertThat(model.complaintProperty().get())
                .as("a decimal comma is a number")
                .isEmpty();
    }

    @Test
    void aReadingThatCannotBeRightIsOnTopWithWhatItProbablyWas() throws IOException {
        open(CAR.replace("peg B, to: eye, reads: 33", "peg B, to: eye, reads: 34"));
        ReadingRow top = model.readings().get(0);
        assertThat(top.name()).isEqualTo("peg B to eye");
        assertThat(top.standing()).isEqualTo(Standing.WRONG);
        assertThat(top.likely()).contains("Probably 33");
        assertThat(model.summaryProperty().get()).contains("1 reading looks wrong");
    }

    @Test
    void pastedReadingsAreAddedWithFractionsAsRead() {
        model.paste("From\tTo\tReads\npeg A\teye\t33\npeg D\teye\t41 1/16\n\neye\tfloor\t8\n");
        assertThat(model.complaintProperty().get()).isEmpty();
        jobs.finish();
        assertThat(model.readings()).hasSize(10);
        assertThat(text().toText()).startsWith(CAR.stripTrailing()).contains("{from: peg D, to: eye, reads: 41 1/16}");
        assertThat(bench.file().undoWordsProperty().get()).isEqualTo("3 pasted readings");
    }

    @Test
    void pastedDecimalCommasAreNumbersInEveryCountry() {
        Locale before = Locale.getDefault();
        try {
            Locale.setDefault(Locale.GERMANY);
            model.paste("peg D\teye\t41,1\n");
        } finally {
            Locale.setDefault(before);
        }
        jobs.finish();
        assertThat(model.complaintProperty().get()).isEmpty();
        assertThat(reading("peg D to eye (2)").reads()).isEqualTo("41,1");
    }

    @Test
    void aPastedTableOfPointsBecomesPoints() {
        model.paste("peg G\t1 1/2\t-20\t0\npeg A\t1/8\t30\t0\n");
        jobs.finish();
        assertThat(model.complaintProperty().get()).isEmpty();
        assertThat(text().value(List.of("points", "peg G", "at", "0"))).contains("1 1/2");
        assertThat(text().value(List.of("points", "peg A", "0"))).contains("1/8");
        assertThat(text().toText()).contains("# tape on the floor");
    }

    @Test
    void aPasteWithAMistakeChangesNothing() {
        model.paste("peg A\teye\t33\npeg Z\teye\t12\n");
        assertThat(model.complaintProperty().get()).contains("peg Z");
        assertThat(text().toText()).isEqualTo(CAR);
        model.paste("just words");
        assertThat(model.complaintProperty().get()).contains("no table");
        model.paste("peg A\t\t1\n");
        assertThat(model.complaintProperty().get()).contains("empty cell");
        model.paste("");
        assertThat(model.complaintProperty().get()).contains("no table");
        assertThat(text().toText()).isEqualTo(CAR);
    }

    @Test
    void readingsAreTakenOutOneByOneDownToNone() {
        for (int left = 6; left >= 1; left--) {
            model.remove(model.readings().get(left));
            jobs.finish();
        }
        assertThat(text().count(List.of("tape"))).isEqualTo(1);
        model.remove(model.readings().get(0));
        jobs.finish();
        assertThat(text().has(List.of("tape"))).isFalse();
        model.add("peg A", "eye", "33");
        assertThat(model.complaintProperty().get()).isEmpty();
        assertThat(text().count(List.of("tape"))).isEqualTo(1);
    }

    @Test
    void whatToMeasureNextIsSaidWithWhatItWillRead() {
        assertThat(model.next()).isNotEmpty();
        assertThat(model.next().get(0).words()).contains("about");
        assertThat(model.next().get(0).gain()).isNotEmpty();
    }

    @Test
    void aCoordinateIsChangedWhereItStands() {
        model.setCoordinate(model.points().get(1), 0, "40 1/16");
        jobs.finish();
        assertThat(text().toText()).contains("peg B: [40 1/16, 30, 0]");
        model.setCoordinate(model.points().get(6), 0, "3");
        assertThat(text().toText()).as("a point by tape has none").contains("eye: by tape");
    }

    @Test
    void aPointOfALayoutIsFoundOnItsPicture() throws IOException {
        bench.open(Path.of("demo/harbour-pickup.yaml"));
        jobs.finish();
        assertThat(model.meaning("lf lower ball joint")
                        .map(is -> is.mechanism() + "/" + is.point().name()))
                .contains("front left/lower ball joint");
        assertThat(model.meaning("rear left pad").map(is -> is.layout().name())).contains("live-axle-leaf");
        assertThat(model.meaning("peg A")).isEqualTo(Optional.empty());
        assertThat(model.readings()).hasSizeGreaterThan(90);
        assertThat(model.readings().get(0).likely()).contains("Probably 23 1/2");
    }
}
