package daylight.bench;

import static org.assertj.core.api.Assertions.assertThat;

import daylight.car.CarDocument;
import daylight.clearance.Asked;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class PartsViewModelTest {
    private static final String CAR = """
            daylight: 1
            car: Test
            units: in
            points:
              hinge left: [0, 20, 40]
              hinge right: [0, -20, 40]
              eye: [3, 2, 8]
            parts:
              # what hangs below
              pipe:   # 2 1/2 in
                on: chassis
                kinds: [exhaust]
                tube: {od: 2 1/2, centreline radius: 4, through: [[0, 0, 8], [20, 0, 8],   # the bend
                  [20, 20, 8]]}
              block: {on: chassis, box: {from corner: [30, 0, 0], to corner: [40, 10, 10]}}
              left pipe: {mirror: pipe}
              pair: {on: chassis, group: [{ball: {centre: eye, diameter: 1}}, {ball: {centre: [9, 9, 9], diameter: 1}}]}
            rules:
              - {between: [pipe, block], at least: 1}
            """;

    @TempDir
    private Path folder;

    private final JobsAtOnce jobs = new JobsAtOnce();
    private final BenchViewModel bench = new BenchViewModel(jobs, new Asked(0.1, 75, 2000, 1));
    private final PartsViewModel model = bench.parts();

    @BeforeEach
    void openTheCar() throws IOException {
        bench.open(Files.writeString(folder.resolve("car.yaml"), CAR));
        jobs.finish();
        assertThat(bench.openProperty().get())
                .as("%s", bench.noticeProperty().get())
                .isPresent();
    }

    private CarDocument text() {
        return bench.file().documentProperty().get().orElseThrow();
    }

    private PartsViewModel.Draft draft() {
        return model.draftProperty().get().orElseThrow();
    }

    private void apply() {
        model.apply();
        jobs.finish();
    }

    @Test
    void theListHasEveryPartWithWhatCarriesIt() {
        assertThat(model.shownRows())
                .extracting(PartsViewModel.PartRow::name)
                .containsExactly("pipe", "block", "left pipe", "pair");
        assertThat(model.shownRows().get(0))
                .isEqualTo(new PartsViewModel.PartRow("pipe", "chassis", "exhaust", "tube"));
        assertThat(model.shownRows().get(2).body()).isEqualTo("mirror of pipe");
        model.filterProperty().set("exh PIPE");
        assertThat(model.shownRows()).hasSize(1);
        model.filterProperty().set("");
    }

    @Test
    void aPartOnTheFormIsChangedInPlace() {
        model.begin("pipe");
        assertThat(draft().value("od").get()).isEqualTo("2 1/2");
        assertThat(draft().value("through").get()).isEqualTo("0, 0, 8\n20, 0, 8\n20, 20, 8");
        draft().value("od").set("2 1/4");
        draft().value("through").set("0, 0, 8\n20, 0, 8\n20, 24 1/2, 8");
        apply();
        assertThat(text().toText())
                .isEqualTo(CAR.replace("od: 2 1/2,", "od: 2 1/4,").replace("[20, 20, 8]", "[20, 24 1/2, 8]"));
        assertThat(bench.file().undoWordsProperty().get()).isEqualTo("changing pipe");
        assertThat(draft().existing()).contains("pipe");
        bench.file().undo();
        jobs.finish();
        assertThat(draft().value("od").get()).as("the form follows").isEqualTo("2 1/2");
    }

    @Test
    void applyingWithoutAChangeChangesNothing() {
        for (PartsViewModel.PartRow row : List.copyOf(model.shownRows())) {
            model.begin(row.name());
            apply();
            assertThat(text().toText()).as(row.name()).isEqualTo(CAR);
            assertThat(draft().complaint(PartsViewModel.WHOLE).get()).isEmpty();
        }
    }

    @Test
    void aNewPartIsAddedAndDrawn() {
        model.beginNew();
        draft().value(PartsViewModel.NAME).set("brake line");
        draft().value(PartsViewModel.KINDS).set("brake hose, line");
        draft().value("od").set("3/16");
        draft().value("through").set("1, 2, 8\neye\n12,5; 2; 8");
        apply();
        assertThat(draft().complaint(PartsViewModel.WHOLE).get()).isEmpty();
        assertThat(text().value(List.of("parts", "brake line", "tube", "through", "1")))
                .contains("eye");
        assertThat(bench.partNumber("brake line")).isPresent();
        assertThat(text().toText()).startsWith(CAR.substring(0, CAR.indexOf("rules:")));
    }

    @Test
    void eachMistakeIsToldBesideItsFieldAndNothingIsWritten() {
        model.beginNew();
        apply();
        assertThat(draft().complaint(PartsViewModel.NAME).get()).contains("no name");
        draft().value(PartsViewModel.NAME).set("pipe");
        apply();
        assertThat(draft().complaint(PartsViewModel.NAME).get()).contains("already");
        draft().value(PartsViewModel.NAME).set("new tube");
        draft().value(PartsViewModel.ON).set("chasis");
        draft().value("od").set("2 inn");
        draft().value("through").set("0, 0, 8\n20, 0");
        apply();
        assertThat(draft().complaint(PartsViewModel.ON).get())
                .contains("chasis")
                .contains("\"chassis\"");
        assertThat(draft().complaint("od").get()).contains("2 inn");
        assertThat(draft().complaint("through").get()).isNotEmpty();
        assertThat(draft().complaint(PartsViewModel.NAME).get()).isEmpty();
        assertThat(text().toText()).isEqualTo(CAR);
        assertThat(bench.noticeProperty().get()).as("the car stays").isEmpty();
    }

    @Test
    void oddSignsInAFieldBreakNoFile() {
        for (String odd : List.of("{", "]", "'", "\"", ": x", "# y", "a: b", "- 1", "&a", "!t", "%", "\\", "1, 2")) {
            model.beginNew();
            draft().value(PartsViewModel.NAME).set("odd");
            draft().value("od").set(odd);
            draft().value("through").set(odd + "\n" + odd);
            apply();
            assertThat(text().toText()).as(odd).isEqualTo(CAR);
            assertThat(draft().complaint("od").get()
                            + draft().complaint("through").get()
                            + draft().complaint(PartsViewModel.WHOLE).get())
                    .as(odd)
                    .isNotEmpty();
        }
    }

    @Test
    void aNameWithOddSignsIsKept() {
        model.beginNew();
        draft().value(PartsViewModel.NAME).set("Bob's: pipe #2");
        draft().value("od").set("1");
        draft().value("through").set("0, 0, 30\n5, 0, 30");
        apply();
        assertThat(bench.partNumber("Bob's: pipe #2")).isPresent();
    }

    @Test
    void aPartThatOthersSpeakOfIsNotTakenOff() {
        model.remove("pipe");
        jobs.finish();
        assertThat(text().toText()).isEqualTo(CAR);
        assertThat(draft().complaint(PartsViewModel.WHOLE).get()).contains("pipe");
        model.remove("left pipe");
        jobs.finish();
        assertThat(bench.partNumber("left pipe")).isEmpty();
        assertThat(model.draftProperty().get()).isEmpty();
    }
}
