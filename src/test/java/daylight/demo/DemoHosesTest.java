package daylight.demo;

import static org.assertj.core.api.Assertions.assertThat;

import daylight.car.Car;
import daylight.car.CarFileException;
import daylight.clearance.Asked;
import daylight.clearance.GapRow;
import daylight.clearance.GapTable;
import daylight.clearance.State;
import daylight.hose.HoseFindings;
import daylight.hose.HoseGaps;
import daylight.hose.HoseReport;
import daylight.hose.HoseReport.Trouble;
import daylight.hose.HoseSearch;
import daylight.report.HoseText;
import daylight.survey.MeasuredCar;
import daylight.units.Progress;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** What {@code daylight hose} says of the pickup's four lines. */
class DemoHosesTest {
    private static final double INCH = 25.4;

    private static Car car;
    private static List<HoseReport> reports;

    @BeforeAll
    static void judgeOnce() throws CarFileException {
        car = MeasuredCar.read(Path.of("demo/harbour-pickup.yaml")).car();
        reports = HoseSearch.of(car).run(2, Progress.SILENT).orElseThrow();
    }

    private static HoseReport report(String name) {
        return reports.stream()
                .filter(report -> report.hose().name().equals(name))
                .findFirst()
                .orElseThrow();
    }

    @Test
    void theFrontHoseIsFineAtRideHeightTooShortInDroopOnLockAndSixteenInchesPass() {
        for (String name : List.of("left front hose", "right front hose")) {
            HoseReport front = report(name);
            assertThat(front.slack().rideMm()).as(name).isGreaterThan(2 * INCH);
            assertThat(front.bend().rideRadiusMm())
                    .as(name)
                    .isGreaterThan(front.bend().limitMm());
            assertThat(front.troubles()).as(name).contains(Trouble.TAUT);
            assertThat(front.slack().leastMm()).as(name).isNegative();
            assertThat(front.slack().unproved()).as(name).isEmpty();
            assertThat(front.slack().where().handles()).as(name).anySatisfy(setting -> {
                assertThat(setting.name()).endsWith("travel");
                assertThat(setting.value()).isLessThan(-4 * INCH + 1);
            });
            assertThat(front.shortestThatPasses().orElseThrow().lengthMm())
                    .as(name)
                    .isEqualTo(16 * INCH);
        }
        assertThat(HoseText.of(car.name(), reports, true))
                .contains("left front hose: taut")
                .contains("buy      16 in is the shortest stock length that passes everywhere; 12 in taut; 14 in taut")
                .contains("20 in comes within")
                .contains("someone licensed checks it")
                .contains("49 CFR 571.106");
    }

    @Test
    void theOtherLinesPassAsTheyAre() {
        assertThat(report("rear axle hose").troubles()).isEmpty();
        assertThat(report("fuel hose").troubles()).isEmpty();
    }

    @Test
    void theTableOfGapsIsClearWithTheLengthThatWasNamed() {
        List<Car.Hose> bought = car.hoses().stream()
                .map(hose -> hose.withFreeLength(
                        report(hose.name()).shortestThatPasses().orElseThrow().lengthMm()))
                .toList();
        Car with = car.withHoses(bought);
        GapTable nothing = new GapTable(car.name(), List.of(), List.of(), 0.1, 76.2, new GapTable.Work(0, 0, 0));
        List<GapRow> rows = HoseGaps.addTo(nothing, with, Asked.USUAL, Progress.SILENT)
                .orElseThrow()
                .rows();
        assertThat(rows)
                .as("four lines against every part and one another")
                .hasSize(4 * car.parts().size() + 6);
        assertThat(rows)
                .allSatisfy(row -> assertThat(row.state())
                        .as("%s / %s", row.first(), row.second())
                        .isEqualTo(State.CLEAR));
        assertThat(rows.toString()).doesNotContain("does not reach");
    }

    @Test
    void asTheyAreTheFrontHosesAreNotClearInTheTableOfGaps() {
        HoseFindings findings = HoseSearch.of(car)
                .findings(Asked.USUAL.watchMm(), 2, Progress.SILENT)
                .orElseThrow();
        for (String name : List.of("left front hose", "right front hose")) {
            String side = name.substring(0, name.indexOf(' '));
            assertThat(findings.rows())
                    .filteredOn(row -> row.first().equals(name) && row.state() != State.CLEAR)
                    .as(name)
                    .isNotEmpty()
                    .anySatisfy(row -> assertThat(row.second()).isEqualTo(side + " front hose caliper end"))
                    .allSatisfy(row -> assertThat(row.least().proof().toString())
                            .contains("the hose is pulled tight, ")
                            .contains("mm too short at the worst"));
        }
        assertThat(findings.reports())
                .as("one look gives both")
                .extracting(HoseReport::troubles)
                .containsExactlyElementsOf(
                        reports.stream().map(HoseReport::troubles).toList());
    }

    @Test
    void theJudgementDoesNotDependOnTheThreads() {
        assertThat(HoseSearch.of(car).run(1, Progress.SILENT).orElseThrow()).isEqualTo(reports);
    }
}
