package daylight.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.car.Car;
import daylight.clearance.Asked;
import daylight.clearance.GapRow;
import daylight.clearance.GapSearch;
import daylight.report.PairMap;
import daylight.units.Progress;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

class WalkRoundViewModelTest {
    private static final Asked ASKED = new Asked(0.1, 75, 2000, 1);

    private final JobsAtOnce jobs = new JobsAtOnce();
    private final WalkRoundViewModel model = new WalkRoundViewModel(jobs, ASKED);
    private final Car car = TestCar.car(true);

    @Test
    void theInspectionWaitsForTheGapsAndThenComesByItself() {
        model.show(Optional.of(car));
        model.inspect();
        jobs.finish();
        assertThat(model.inspectionProperty().get()).isEmpty();
        assertThat(model.statusProperty().get()).contains("gaps");
        model.know(GapSearch.of(car, ASKED).run(Progress.SILENT));
        jobs.finish();
        assertThat(model.inspectionProperty().get()).isPresent();
        assertThat(model.workingProperty().get()).isFalse();
        assertThat(model.hosesProperty().get()).contains(List.of());
    }

    @Test
    void anotherCarForgetsWhatWasFound() {
        model.show(Optional.of(car));
        model.lookAtLines();
        assertThat(model.hosesProperty().get()).isPresent();
        model.show(Optional.empty());
        model.lookAtLines();
        model.inspect();
        jobs.finish();
        assertThat(model.hosesProperty().get()).isEmpty();
        assertThat(model.inspectionProperty().get()).isEmpty();
    }

    @Test
    void theMapIsTheGapOverTheTwoHandles() {
        OpenCar open = TestCar.open();
        int wheel = open.partNumbers().getOrDefault("left wheel", -1);
        int fender = open.partNumbers().getOrDefault("left fender", -1);
        List<String> names = open.workspace().handles().stream()
                .map(daylight.motion.Handle::name)
                .toList();
        int travel = names.indexOf("front left travel");
        int steer = names.indexOf("steer");
        PairMap map = GapMap.of(open, new LiveCar(open), wheel, fender, new double[names.size()], travel, steer);
        for (int j = 0; j < map.places(); j++) {
            for (int i = 0; i < map.places(); i++) {
                double bump = -TestCar.DROOP_MM + (TestCar.BUMP_MM + TestCar.DROOP_MM) * i / (map.places() - 1);
                assertThat(map.gapMm(i, j))
                        .as("place %d, %d", i, j)
                        .isCloseTo(TestCar.GAP_AT_REST_MM - bump, within(0.05));
            }
        }
        List<List<Double>> touch = map.contour(0);
        assertThat(touch).hasSize(1);
        double place =
                (TestCar.GAP_AT_REST_MM + TestCar.DROOP_MM) / (TestCar.BUMP_MM + TestCar.DROOP_MM) * (map.places() - 1);
        for (int k = 0; k < touch.get(0).size(); k += 2) {
            assertThat(touch.get(0).get(k))
                    .as("it runs out where the ball meets the slab")
                    .isCloseTo(place, within(0.02));
        }
    }

    @Test
    void theBenchMeasuresTheMapOnlyWhileItIsWanted() {
        BenchViewModel bench = new BenchViewModel(jobs, ASKED);
        bench.adopt(TestCar.open());
        jobs.finish();
        GapRow row = bench.shownRows().stream()
                .filter(r -> r.first().equals("left wheel"))
                .findFirst()
                .orElseThrow();
        bench.choose(row);
        bench.frame(0);
        jobs.finish();
        bench.mapWantedProperty().set(true);
        jobs.finish();
        assertThat(bench.mapProperty().get())
                .as("one handle moves this pair: there is no map")
                .isEmpty();
    }
}
