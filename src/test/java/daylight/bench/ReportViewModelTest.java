package daylight.bench;

import static org.assertj.core.api.Assertions.assertThat;

import daylight.car.CarDocument;
import daylight.car.CarFileException;
import daylight.clearance.Asked;
import daylight.report.Paper;
import daylight.survey.MeasuredCar;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

class ReportViewModelTest {
    private static final String CAR = """
            daylight: 1
            car: Two blocks
            units: in
            measured by: nobody
            date: 4 July
            within: 1/16
            invented: true
            datum: the floor
            parts:
              left block: {box: {from corner: [0, 8, 8], to corner: [4, 12, 12]}}
              right block: {box: {from corner: [0, -12, 8], to corner: [4, -8, 12]}}
            """;

    private final JobsAtOnce jobs = new JobsAtOnce();
    private final ReportViewModel model = new ReportViewModel(jobs, new Asked(0.1, 75, 2000, 1));
    private final List<byte[]> kept = new ArrayList<>();

    @BeforeEach
    void openTheCar() throws CarFileException {
        model.show(Optional.of(MeasuredCar.of(CarDocument.of("blocks.yaml", CAR))));
    }

    @Test
    void thePaperFollowsTheCarsUnit() {
        assertThat(model.paperProperty().get()).isEqualTo(Paper.LETTER);
    }

    @Test
    void whatGoesInAndWhatDoesNotIsSaid() {
        assertThat(model.contents())
                .anyMatch(content -> content.what().equals("Flexible lines") && !content.in())
                .anyMatch(content -> content.what().equals("Gaps") && content.in());
    }

    @Test
    void eachFormIsMadeAndTheWorkIsDoneOnce() {
        model.dateProperty().set("  5 July ");
        for (ReportViewModel.Form form : ReportViewModel.Form.values()) {
            model.make(form, kept::add);
            assertThat(model.workingProperty().get()).isTrue();
            jobs.finish();
            assertThat(model.workingProperty().get()).as("%s", form).isFalse();
            assertThat(model.refusalProperty().get()).isEmpty();
        }
        assertThat(kept).hasSize(4);
        assertThat(new String(kept.get(0), 0, 5, StandardCharsets.US_ASCII)).isEqualTo("%PDF-");
        assertThat(new String(kept.get(1), StandardCharsets.UTF_8))
                .contains("Two blocks")
                .contains("5 July");
        assertThat(new String(kept.get(3), StandardCharsets.UTF_8)).contains("Two blocks");
    }

    @Test
    void aCancelledReportKeepsNothing() {
        model.make(ReportViewModel.Form.HTML, kept::add);
        model.cancel();
        jobs.finish();
        assertThat(kept).isEmpty();
        assertThat(model.statusProperty().get()).contains("cancelled");
    }
}
