package daylight.bench;

import static org.assertj.core.api.Assertions.assertThat;

import daylight.car.Car;
import daylight.car.CarFileException;
import daylight.clearance.Asked;
import daylight.clearance.State;
import daylight.geometry.Cut;
import daylight.geometry.Flat;
import daylight.survey.MeasuredCar;
import daylight.trim.CutStudy;
import daylight.trim.LeastCut;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

class PlateViewModelTest {
    private static final String BRACKET = "right sway-bar bracket";
    private static final Asked ASKED = new Asked(0.1, 75, 2000, 1);

    private final JobsAtOnce jobs = new JobsAtOnce();
    private final PlateViewModel model = new PlateViewModel(jobs, ASKED);
    private static final MeasuredCar MEASURED = read();

    private static MeasuredCar read() {
        try {
            return MeasuredCar.read(Path.of("demo/harbour-pickup.yaml"));
        } catch (CarFileException e) {
            throw new IllegalStateException(e);
        }
    }

    @BeforeEach
    void layTheBracketOnTheBench() {
        model.show(Optional.of(MEASURED.car()));
        model.choose(BRACKET);
        jobs.finish();
    }

    @Test
    void thePlateAsItIsRubsAndTheLeastCutClearsIt() {
        CutStudy.Tried before = model.beforeProperty().get().orElseThrow();
        assertThat(before.clear()).isFalse();
        assertThat(model.forbiddenProperty().get())
                .as("where it comes too near")
                .isNotEmpty();
        model.findLeast();
        assertThat(model.searchingProperty().get()).isTrue();
        jobs.finish();
        assertThat(model.searchingProperty().get()).isFalse();
        LeastCut least = model.leastProperty().get().orElseThrow();
        assertThat(least.options()).isNotEmpty();
        assertThat(model.cutProperty().get()).contains(least.options().get(0).marked());
        CutStudy.Tried tried = model.triedProperty().get().orElseThrow();
        assertThat(tried.gaps())
                .as("the same as the search says")
                .isEqualTo(least.options().get(0).gaps());
        assertThat(tried.metal().areaMm2()).isLessThan(before.metal().areaMm2());
    }

    @Test
    void draggingAnswersWithTheNewestCutAndMarksOlderAnswers() {
        model.begin(LeastCut.Kind.STRAIGHT);
        jobs.finish();
        CutStudy.Tried first = model.triedProperty().get().orElseThrow();
        int asked = jobs.started;
        for (int i = 1; i <= 20; i++) {
            Flat at = model.gripPlaces().get(2);
            model.drag(2, new Flat(at.x() + 2, at.y()));
            assertThat(model.staleProperty().get()).as("drag %d", i).isTrue();
            assertThat(model.triedProperty().get()).as("the last answer stays").contains(first);
        }
        assertThat(jobs.started - asked).as("one question at a time").isEqualTo(1);
        jobs.finish();
        assertThat(jobs.started - asked).as("and then the newest").isEqualTo(2);
        assertThat(model.staleProperty().get()).isFalse();
        Cut now = model.cutProperty().get().orElseThrow();
        assertThat(model.triedProperty().get().orElseThrow().plate().outline())
                .isEqualTo(daylight.geometry.PlateCuts.after(model.plate().orElseThrow(), now)
                        .outline());
    }

    @Test
    void aTypedDistanceIsTakenAndAWrongOneToldWhy() {
        model.begin(LeastCut.Kind.STRAIGHT);
        jobs.finish();
        assertThat(model.type(0, "1 1/8")).isTrue();
        assertThat(model.distances().get(0).mm()).isEqualTo(1.125 * 25.4);
        assertThat(model.type(0, "1 1/8 inn")).isFalse();
        assertThat(model.refusalProperty().get()).contains("inn");
        assertThat(model.type(0, "900")).isFalse();
        assertThat(model.refusalProperty().get()).contains("900").contains("long");
        assertThat(model.type(0, "-1")).isFalse();
        assertThat(model.distances().get(0).mm()).as("stays").isEqualTo(1.125 * 25.4);
    }

    @Test
    void writingPutsTheCutIntoTheTextAndTheCarThatIsReadFromItIsClear() throws CarFileException {
        BenchViewModel bench = new BenchViewModel(jobs, new Asked(3, 13, 2, 1));
        bench.open(Path.of("demo/harbour-pickup.yaml").toAbsolutePath());
        jobs.finish();
        model.findLeast();
        jobs.finish();
        bench.write(model.trial().orElseThrow());
        jobs.finish();
        assertThat(bench.file().undoWordsProperty().get()).contains(BRACKET);
        Car adopted = bench.openProperty().get().orElseThrow().car();
        CutStudy.Tried again = CutStudy.of(adopted, BRACKET, ASKED)
                .tried(List.of(), daylight.units.Progress.SILENT)
                .orElseThrow();
        assertThat(again.gaps().stream().filter(row -> row.state() != State.CLEAR))
                .isEmpty();
        assertThat(bench.noticeProperty().get().orElseThrow().lines())
                .as("the file's own trial of that bracket spoke of an edge that is gone")
                .hasSize(1);
        bench.file().undo();
        jobs.finish();
        assertThat(bench.openProperty().get().orElseThrow().car().trials())
                .hasSameSizeAs(MEASURED.car().trials());
    }

    @Test
    void theTemplateAndTheWordsAreOfTheCut() {
        assertThat(model.cutWords()).isEmpty();
        model.begin(LeastCut.Kind.ROUND);
        jobs.finish();
        assertThat(model.cutWords()).contains("radius");
        assertThat(model.template(daylight.report.Paper.LETTER).orElseThrow().sheets())
                .isNotEmpty();
        model.uncut();
        assertThat(model.trial()).isEmpty();
        assertThat(model.triedProperty().get()).isEmpty();
    }

    @Test
    void anotherCarTakesThePlateOffTheBench() {
        model.begin(LeastCut.Kind.STRAIGHT);
        model.show(Optional.empty());
        jobs.finish();
        assertThat(model.plates()).isEmpty();
        assertThat(model.nameProperty().get()).isEmpty();
        assertThat(model.triedProperty().get()).isEmpty();
        assertThat(model.beforeProperty().get()).isEmpty();
    }
}
