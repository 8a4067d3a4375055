package daylight.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.clearance.Asked;
import daylight.clearance.GapRow;
import daylight.clearance.State;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class BenchViewModelTest {
    /** The search stops this near to the least gap. */
    private static final double FOUND = 0.1;
    /** Solved positions and measured gaps. */
    private static final double SOLVED = 1e-6;

    private final JobsAtOnce jobs = new JobsAtOnce();
    private final BenchViewModel model = new BenchViewModel(jobs, new Asked(FOUND, 75, 2000, 1));

    @BeforeEach
    void openTheCar() {
        model.adopt(TestCar.open());
        jobs.finish();
        model.frame(0);
    }

    private GapRow row(String first, String second) {
        return model.shownRows().stream()
                .filter(row -> row.first().equals(first) && row.second().equals(second))
                .findFirst()
                .orElseThrow();
    }

    private HandleViewModel handle(String name) {
        return model.handles().stream()
                .filter(handle -> handle.name().equals(name))
                .findFirst()
                .orElseThrow();
    }

    @Test
    void theTightestGapIsOnTop() {
        assertThat(model.shownRows().get(0).state()).isEqualTo(State.RUB);
        assertThat(row("left wheel", "left fender").least().found().distanceMm())
                .isCloseTo(TestCar.GAP_AT_REST_MM - TestCar.BUMP_MM, within(FOUND));
        assertThat(model.statusProperty().get()).contains("9 parts").contains("known to 0.1 mm");
        assertThat(model.searchingProperty().get()).isFalse();
    }

    @Test
    void choosingARowMovesTheCarToItsLeastGap() {
        GapRow row = row("left wheel", "left fender");
        handle("steer").valueProperty().set(10);
        model.choose(row);
        assertThat(model.frame(0)).isTrue();
        assertThat(handle("front left travel").value()).isCloseTo(TestCar.BUMP_MM, within(FOUND));
        assertThat(handle("steer").value())
                .as("what does not matter goes back to ride height")
                .isZero();
        assertThat(model.chosenNowProperty().get().orElseThrow().distanceMm())
                .isCloseTo(row.least().found().distanceMm(), within(SOLVED));
        assertThat(model.nowMm(row).orElseThrow()).isCloseTo(row.least().found().distanceMm(), within(SOLVED));
    }

    @Test
    void theGapFollowsTheHandle() {
        model.choose(row("left wheel", "left fender"));
        handle("front left travel").valueProperty().set(12.5);
        model.frame(0);
        assertThat(model.chosenNowProperty().get().orElseThrow().distanceMm())
                .isCloseTo(TestCar.GAP_AT_REST_MM - 12.5, within(SOLVED));
        int body = model.openProperty().get().orElseThrow().workspace().bodyIndex("front left hub");
        assertThat(model.pose(body).tz()).isCloseTo(12.5, within(SOLVED));
    }

    @Test
    void aFrameComputesTheLastValueOnlyAndNothingWhenNothingMoved() {
        long before = model.framesProperty().get();
        for (int i = 0; i < 50; i++) {
            handle("front left travel").valueProperty().set(i);
        }
        assertThat(model.frame(0)).isTrue();
        assertThat(model.frame(0)).isFalse();
        assertThat(model.framesProperty().get()).isEqualTo(before + 1);
        assertThat(model.nowMm(row("left wheel", "left fender")).orElseThrow())
                .isCloseTo(TestCar.GAP_AT_REST_MM - 49, within(SOLVED));
    }

    @Test
    void aPartWithPlayIsPushedTowardsTheOtherWhenItsPairIsChosen() {
        GapRow row = row("pipe", "floor");
        assertThat(row.atRideHeight().distanceMm()).isCloseTo(TestCar.PIPE_GAP_MM, within(SOLVED));
        model.choose(row);
        model.frame(0);
        assertThat(model.chosenNowProperty().get().orElseThrow().distanceMm())
                .isCloseTo(TestCar.PIPE_GAP_MM - TestCar.PLAY_MM, within(SOLVED));
        assertThat(row.least().found().distanceMm()).isCloseTo(TestCar.PIPE_GAP_MM - TestCar.PLAY_MM, within(FOUND));
        assertThat(model.shiftsProperty().get()).startsWith("exhaust up and down +");
        model.chooseNone();
        model.frame(0);
        int body = model.openProperty().get().orElseThrow().workspace().bodyIndex("exhaust");
        assertThat(model.pose(body).tz()).as("hangs as it did").isZero();
    }

    @Test
    void theCurveShowsTheGapAlongTheHandleThatChangesItMost() {
        model.choose(row("left wheel", "left fender"));
        model.frame(0);
        jobs.finish();
        OptionalInt shown = model.curveHandleProperty().get();
        assertThat(model.handles().get(shown.orElseThrow()).name()).isEqualTo("front left travel");
        GapCurve curve = model.curvesProperty().get().get(0);
        assertThat(curve.leastMm()).isCloseTo(TestCar.GAP_AT_REST_MM - TestCar.BUMP_MM, within(SOLVED));
        assertThat(curve.greatestMm()).isGreaterThan(TestCar.GAP_AT_REST_MM + TestCar.DROOP_MM / 2);
        assertThat(curve.at()).isSorted();
    }

    @Test
    void theFilterWantsEveryWord() {
        int all = model.shownRows().size();
        model.filterProperty().set("rub left");
        assertThat(model.shownRows()).hasSizeLessThan(all).allMatch(row -> row.state() == State.RUB);
        assertThat(model.shownRows()).extracting(GapRow::first).contains("left wheel");
        model.filterProperty().set("no such part");
        assertThat(model.shownRows()).isEmpty();
        model.filterProperty().set("");
        assertThat(model.shownRows()).hasSize(all);
    }

    @Test
    void rideHeightBringsEverythingBack() {
        model.choose(row("left wheel", "left fender"));
        handle("hood opening").playingProperty().set(true);
        model.frame(0.5);
        model.rideHeight();
        model.frame(0.5);
        assertThat(model.handles()).allMatch(handle -> handle.value() == 0);
    }

    @Test
    void theFileReadAgainKeepsThePlaceAndTheChosenPair() {
        model.choose(row("left wheel", "left fender"));
        handle("front left travel").valueProperty().set(20);
        model.faded().add(2);
        model.adopt(TestCar.open());
        assertThat(model.staleProperty().get()).as("the old gaps are marked").isTrue();
        assertThat(model.searchingProperty().get()).isTrue();
        jobs.finish();
        model.frame(0);
        assertThat(model.staleProperty().get()).isFalse();
        assertThat(handle("front left travel").value()).isEqualTo(20);
        assertThat(model.chosenProperty().get().map(GapRow::second)).contains("left fender");
        assertThat(model.faded()).containsExactly(2);
    }

    @Test
    void aCancelledSearchSaysSoAndLeavesTheCar() {
        model.search();
        model.cancelSearch();
        jobs.finish();
        assertThat(model.searchingProperty().get()).isFalse();
        assertThat(model.statusProperty().get()).contains("cancelled");
        assertThat(model.openProperty().get()).isPresent();
    }

    @Test
    void aFileWithMistakesShowsThemWithTheirPlacesAndIsWatched(@TempDir Path folder) throws IOException {
        Path file = Files.writeString(folder.resolve("broken.yaml"), "daylight: 1\ncar: Broken\nunitz: in\n");
        model.open(file);
        jobs.finish();
        BenchViewModel.Notice notice = model.noticeProperty().get().orElseThrow();
        assertThat(notice.heading()).startsWith("broken.yaml could not be read");
        assertThat(notice.lines()).anyMatch(line -> line.contains("broken.yaml:3:1") && line.contains("unitz"));
        assertThat(model.openProperty().get().map(open -> open.car().name()))
                .as("the car that was open stays")
                .contains("Invented");
        assertThat(jobs.watched).containsExactly(file);
        model.dismissNotice();
        assertThat(model.noticeProperty().get()).isEmpty();
    }

    @Test
    void aMissingFileIsANoticeToo(@TempDir Path folder) {
        model.open(folder.resolve("none.yaml"));
        jobs.finish();
        assertThat(model.noticeProperty()
                        .get()
                        .map(BenchViewModel.Notice::lines)
                        .orElse(List.of()))
                .isNotEmpty();
    }

    @Test
    void aNewerRequestDropsTheOlder(@TempDir Path folder) {
        model.open(folder.resolve("first.yaml"));
        model.open(folder.resolve("second.yaml"));
        jobs.finish();
        assertThat(model.noticeProperty()
                        .get()
                        .map(BenchViewModel.Notice::heading)
                        .orElse(""))
                .startsWith("second.yaml");
    }

    @Test
    void fadingNeedsAPickedPart() {
        model.fadePicked();
        assertThat(model.faded()).isEmpty();
        model.pick(3);
        model.fadePicked();
        assertThat(model.faded()).containsExactly(3);
        model.fadePicked();
        assertThat(model.faded()).isEmpty();
        model.pick(-1);
        assertThat(model.pickedProperty().get()).isEqualTo(OptionalInt.empty());
    }

    @Test
    void sidesOfAnAxleArePairedAndStandBesideOneAnother() {
        List<String> names = HandleOrder.of(model.handles()).stream()
                .map(HandleViewModel::name)
                .toList();
        assertThat(names).containsExactly("front left travel", "front right travel", "steer", "hood opening");
        assertThat(handle("steer").otherSide()).isEqualTo(Optional.empty());
    }
}
