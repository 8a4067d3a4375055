package daylight.trim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.car.CarDocument;
import daylight.car.CarFileException;
import daylight.clearance.Asked;
import daylight.clearance.GapRow;
import daylight.clearance.GapTable;
import daylight.clearance.Least;
import daylight.clearance.State;
import daylight.survey.MeasuredCar;
import daylight.units.Progress;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;

/** Trials compared with their car, flexible lines included: a swinging arm with a brake line beside a bracket. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class TrialStudyTest {
    private static final Asked ASKED = new Asked(0.1, 76.2, 40_000, 1);

    private static final String TEXT = """
            daylight: 1
            car: Brake line bench    # invented
            units: mm
            points:
              rear inner pivot: [-2300, 420, 300]
              rear outer pivot: [-2300, 640, 300]
              rear wheel centre: [-2700, 740, 310]
            mechanisms:
              rear: {layout: trailing-arm, bump: 80, droop: 60}
            parts:
              bracket: {on: chassis, plate: {thick: 4, outline: [[0, 0], [120, 0], [120, 80], [0, 80]], towards: left,
                corners on car: [[-2620, 480, 430], [-2500, 480, 430], [-2500, 480, 510]]}}
              pipe: {on: rear arm, tube: {od: 20, through: [[-2500, 450, 330], [-2500, 640, 330]]}}
              far plate: {on: chassis, plate: {thick: 4, outline: [[0, 0], [60, 0], [60, 60], [0, 60]], towards: left,
                corners on car: [[-1900, 480, 430], [-1840, 480, 430], [-1840, 480, 490]]}}
              line:
                kind: brake hose
                hose:
                  from: {on: chassis, at: [-2560, 600, 520], leaves: down}
                  to: {on: rear arm, at: [-2560, 520, 330], leaves: up}
                  free length: 260
                  od: 10
                  least bend radius: 30
            rules:
              - {between: [any, any], at least: 5}
            trials:
              longer line: [{hose: line, free length: 300}]
              bracket into the line: [{move: bracket, by: [0, 75, 0]}]
              far plate cut: [{trim: far plate, cut: {along top edge: 20, along front edge: 20}}]
              bracket cut: [{trim: bracket, cut: {along top edge: 20, along front edge: 20}}]
            """;

    private final MeasuredCar measured;
    private final TrialStudy study;
    private final GapTable whole;

    TrialStudyTest() throws CarFileException {
        measured = MeasuredCar.of(CarDocument.of("line.yaml", TEXT));
        study = TrialStudy.of(measured, ASKED);
        whole = study.base(Progress.SILENT).orElseThrow();
    }

    private TrialTable compared(String trial) throws CarFileException {
        return study.compare(measured.car().trial(trial).orElseThrow(), Progress.SILENT)
                .orElseThrow();
    }

    private static TrialRow row(TrialTable table, String one, String other) {
        return table.rows().stream()
                .filter(row -> (row.first().equals(one) && row.second().equals(other))
                        || (row.first().equals(other) && row.second().equals(one)))
                .findFirst()
                .orElseThrow(() -> new AssertionError("no row " + one + " / " + other + " in " + table.rows()));
    }

    @Test
    void lineHasRowsInTheTableOfTheCarAsItIs() {
        assertThat(whole.rows())
                .anySatisfy(row -> assertThat(row.first() + row.second()).contains("line", "bracket"));
    }

    @Test
    void longerLineChangesItsGaps() throws CarFileException {
        TrialTable table = compared("longer line");
        assertThat(table.hoses()).hasSize(1);
        assertThat(table.hoses().get(0).after().hose().freeLengthMm()).isCloseTo(300, within(1e-6));
        TrialRow bracket = row(table, "line", "bracket");
        assertThat(bracket.turn(table.knownToMm()))
                .as("40 mm more of it bow out further")
                .isIn(TrialRow.Turn.WORSE, TrialRow.Turn.BETTER);
        assertThat(row(table, "pipe", "bracket").turn(table.knownToMm())).isEqualTo(TrialRow.Turn.SAME);
    }

    @Test
    void partMovedIntoALineIsFound() throws CarFileException {
        TrialTable table = compared("bracket into the line");
        TrialRow row = row(table, "line", "bracket");
        assertThat(row.before().map(GapRow::state)).contains(State.CLEAR);
        assertThat(row.state()).isNotEqualTo(State.CLEAR);
        assertThat(row.turn(table.knownToMm())).isEqualTo(TrialRow.Turn.WORSE);
        assertThat(table.worseStates()).isPositive();
        assertThat(table.after().worst()).isNotEqualTo(State.CLEAR);
    }

    @Test
    void cutFarFromEveryLineKeepsTheirRows() throws CarFileException {
        TrialTable table = compared("far plate cut");
        TrialRow far = row(table, "line", "far plate");
        assertThat(far.before().orElseThrow().least().proof()).isInstanceOf(Least.Proof.FarApart.class);
        assertThat(far.after()).isEqualTo(far.before());
        assertThat(table.after().rows()).hasSameSizeAs(table.before().rows());
        assertThat(row(table, "line", "bracket").after())
                .isEqualTo(row(table, "line", "bracket").before());
    }

    @Test
    void cutNearALineHasItLookedAtAnew() throws CarFileException {
        TrialTable table = compared("bracket cut");
        TrialRow row = row(table, "line", "bracket");
        double was = row.before().orElseThrow().least().found().distanceMm();
        assertThat(row.after().orElseThrow().least().found().distanceMm()).isGreaterThanOrEqualTo(was - 0.5);
        assertThat(table.after().rows()).hasSameSizeAs(table.before().rows());
    }

    @Test
    void knownGapsOfTheCarAreTakenAsTheyAre() throws CarFileException {
        TrialStudy again = TrialStudy.of(measured, ASKED, whole);
        assertThat(again.base(Progress.SILENT)).containsSame(whole);
        TrialTable table = again.compare(measured.car().trial("far plate cut").orElseThrow(), Progress.SILENT)
                .orElseThrow();
        assertThat(table.before()).isSameAs(whole);
    }
}
