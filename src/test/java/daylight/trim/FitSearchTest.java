package daylight.trim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import daylight.car.CarDocument;
import daylight.car.CarFileException;
import daylight.clearance.Asked;
import daylight.clearance.GapRow;
import daylight.survey.MeasuredCar;
import daylight.trim.FitSearch.Found;
import daylight.trim.FitSearch.Question;
import daylight.units.Progress;
import daylight.validation.Checks;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Questions asked the other way round, on a trailing arm between two walls and under a ceiling, where every answer is
 * known: a bar along the arm's own axis rises by just the travel, and a wheel beside a flat wall keeps its distance.
 */
class FitSearchTest {
    private static final String SOURCE = "own closed form: a trailing arm between flat walls";
    private static final String MARK = "recomputed";
    private static final double RULE_MM = 7;
    private static final double KNOWN_TO_MM = 0.25;
    private static final Asked ASKED = new Asked(0.01, 76.2, 40_000, 1);
    private static final double CENTRE_Y = 740;
    private static final double BAR_TOP = 310 + 20;

    /** Half the width of the largest tyre of a width on a rim of 7 in: UN Regulation 30, as models/tyres.yaml has it. */
    private static double halfTyre(double width) {
        double section = width + 0.4 * (7 * 25.4 - 0.7 * width);
        return 1.04 * section / 2;
    }

    private static MeasuredCar car(double ceiling, double inner, double outer, String tyre) throws CarFileException {
        String text = String.format(Locale.ROOT, """
                daylight: 1
                car: Trailing arm bench    # invented
                units: mm
                points:
                  rear inner pivot: [-2300, 420, 300]
                  rear outer pivot: [-2300, 640, 300]
                  rear wheel centre: [-2700, 740, 310]
                mechanisms:
                  rear: {layout: trailing-arm, bump: 80, droop: 60}
                parts:
                  tyre: {on: rear arm, tyre: %s}
                  hub bar: {on: rear arm, tube: {od: 40, through: [[-2700, 735, 310], [-2700, 745, 310]]}}
                  ceiling: {on: chassis, box: {from corner: [-3100, 700, %.4f], to corner: [-2100, 780, 900]}}
                  inner wall: {on: chassis, box: {from corner: [-3600, %.4f, -500], to corner: [-1800, %.4f, 1300]}}
                  outer wall: {on: chassis, box: {from corner: [-3600, %.4f, -500], to corner: [-1800, %.4f, 1300]}}
                rules:
                  - {between: [hub bar, ceiling], at least: 7}
                  - {between: [tyre, inner wall], at least: 7}
                  - {between: [tyre, outer wall], at least: 7}
                exclusions:
                  - {between: [tyre, ceiling], because: the ceiling is for the bar}
                  - {between: [tyre, hub bar], because: one hub}
                  - {between: [hub bar, inner wall], because: the walls are for the tyre}
                  - {between: [hub bar, outer wall], because: the walls are for the tyre}
                """, tyre, ceiling, inner - 50, inner, outer, outer + 50);
        return MeasuredCar.of(CarDocument.of("bench.yaml", text));
    }

    private static final String USUAL = "{size: 205/70R15, rim width: 7 in, backspacing: 110}";

    private static Found find(MeasuredCar car, Question question, String of) throws CarFileException {
        return FitSearch.of(car, ASKED)
                .find(question, of, KNOWN_TO_MM, Progress.SILENT)
                .orElseThrow();
    }

    private static MeasuredCar under(double ceiling) throws CarFileException {
        return car(ceiling, CENTRE_Y - 400, CENTRE_Y + 400, USUAL);
    }

    @ParameterizedTest
    @CsvSource({"65", "97.3", "31.6"})
    void mostBumpIsTheRoomOverTheBarLessItsRule(double room) throws CarFileException {
        Found found = find(under(BAR_TOP + RULE_MM + room), Question.MOST_BUMP, "rear");
        assertThat(found.statedMm()).isCloseTo(80, within(1e-9));
        assertThat(found.openEnd()).isFalse();
        Checks.record(
                "TR-4",
                "most bump, mm below " + room,
                SOURCE,
                MARK,
                0,
                room - found.mostMm().orElseThrow(),
                KNOWN_TO_MM + 0.02);
        assertThat(room - found.mostMm().orElseThrow()).as("never too much").isGreaterThanOrEqualTo(0);
        GapRow limit = found.looks().stream()
                .filter(look -> !look.fits())
                .findFirst()
                .flatMap(FitSearch.Look::tightest)
                .orElseThrow();
        assertThat(List.of(limit.first(), limit.second())).containsExactlyInAnyOrder("hub bar", "ceiling");
    }

    @Test
    void bumpWithNothingInItsWayIsOpen() throws CarFileException {
        Found found = find(under(800), Question.MOST_BUMP, "rear");
        assertThat(found.openEnd()).isTrue();
        assertThat(found.mostMm()).hasValueSatisfying(most -> assertThat(most).isCloseTo(120, within(1e-9)));
    }

    @Test
    void pairBelowItsRuleWithoutAnyBumpIsLeftOutAndSaid() throws CarFileException {
        // The inner wall is 3 from the tyre wherever it goes: no bump mends that, and the ceiling still counts.
        double inner = CENTRE_Y - halfTyre(205) - 3;
        Found found = find(car(BAR_TOP + RULE_MM + 40, inner, CENTRE_Y + 400, USUAL), Question.MOST_BUMP, "rear");
        assertThat(found.leftOut()).hasSize(1);
        assertThat(found.leftOut().get(0).least().found().distanceMm()).isCloseTo(3, within(0.02));
        assertThat(found.mostMm().orElseThrow()).isBetween(40 - KNOWN_TO_MM - 0.02, 40.0);
    }

    @ParameterizedTest
    @CsvSource({"95, 15", "65, -15"})
    void lowestRideIsWhatIsLeftOfTheRoomWithAllOfItsBump(double room, double lower) throws CarFileException {
        Found found = find(under(BAR_TOP + RULE_MM + room), Question.LOWEST_RIDE, "rear");
        assertThat(found.mostMm().orElseThrow()).isBetween(lower - KNOWN_TO_MM - 0.02, lower);
    }

    @ParameterizedTest
    @CsvSource({"205", "225", "255"})
    void widestTyreIsTheLastThatKeepsItsRuleBesideTheWall(int widest) throws CarFileException {
        // The wall stands where this width just fits; the next, 10 mm wider, is 3.7 mm too wide.
        double inner = CENTRE_Y - halfTyre(widest) - RULE_MM - 0.1;
        Found found = find(car(800, inner, CENTRE_Y + 400, USUAL), Question.WIDEST_TYRE, "tyre");
        Checks.record(
                "TR-5", "widest tyre, mm", SOURCE, MARK, widest, found.mostMm().orElseThrow(), 1e-9);
        assertThat(found.label()).isEqualTo(widest + "/70R15");
        assertThat(found.openEnd()).isFalse();
    }

    @Test
    void noTyreFitsWhereTheWallIsTooNear() throws CarFileException {
        Found found = find(car(800, CENTRE_Y - 60, CENTRE_Y + 400, USUAL), Question.WIDEST_TYRE, "tyre");
        assertThat(found.mostMm()).isEmpty();
    }

    @Test
    void widestOnThisRimIsOpen() throws CarFileException {
        Found found = find(car(800, CENTRE_Y - 300, CENTRE_Y + 300, USUAL), Question.WIDEST_TYRE, "tyre");
        assertThat(found.openEnd()).isTrue();
    }

    @Test
    void backspacingRunsFromTheOuterWallToTheInnerOne() throws CarFileException {
        double half = halfTyre(205);
        // 16 to the inner wall and 21 to the outer one: 9 more and 14 less of backspacing keep 7.
        Found found = find(car(800, CENTRE_Y - half - 16, CENTRE_Y + half + 21, USUAL), Question.BACKSPACING, "tyre");
        Checks.record(
                "TR-6",
                "least backspacing, mm above",
                SOURCE,
                MARK,
                0,
                found.leastMm().orElseThrow() - 96,
                KNOWN_TO_MM + 0.02);
        Checks.record(
                "TR-6",
                "most backspacing, mm below",
                SOURCE,
                MARK,
                0,
                119 - found.mostMm().orElseThrow(),
                KNOWN_TO_MM + 0.02);
        assertThat(found.leastMm().orElseThrow()).isGreaterThanOrEqualTo(96);
        assertThat(found.mostMm().orElseThrow()).isLessThanOrEqualTo(119);
    }

    @Test
    void backspacingIsFoundWhereTheOneOnTheCarDoesNotFit() throws CarFileException {
        double half = halfTyre(205);
        Found found = find(car(800, CENTRE_Y - half - 2, CENTRE_Y + half + 30, USUAL), Question.BACKSPACING, "tyre");
        assertThat(found.leastMm().orElseThrow()).isBetween(87.0, 87 + KNOWN_TO_MM + 0.02);
        assertThat(found.mostMm().orElseThrow()).isBetween(105 - KNOWN_TO_MM - 0.02, 105.0);
        assertThat(find(car(800, CENTRE_Y - half - 2, CENTRE_Y + half + 3, USUAL), Question.BACKSPACING, "tyre")
                        .mostMm())
                .as("no room on either side")
                .isEmpty();
    }

    @Test
    void onlyWhatTheCarHasCanBeAskedOf() throws CarFileException {
        FitSearch search = FitSearch.of(under(500), ASKED);
        assertThat(search.askable(Question.MOST_BUMP)).containsExactly("rear");
        assertThat(search.askable(Question.WIDEST_TYRE)).containsExactly("tyre");
        assertThatThrownBy(() -> search.find(Question.WIDEST_TYRE, "rear", 1, Progress.SILENT))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("widest tyre cannot be asked of \"rear\"");
    }

    @ParameterizedTest
    @CsvSource({"MOST_BUMP, rear", "LOWEST_RIDE, rear", "WIDEST_TYRE, tyre", "BACKSPACING, tyre"})
    void progressGoesForwardAndCancellingEndsIt(Question question, String of) throws CarFileException {
        double half = halfTyre(205);
        MeasuredCar car = car(BAR_TOP + 50, CENTRE_Y - half - 16, CENTRE_Y + half + 21, USUAL);
        List<Double> told = new ArrayList<>();
        FitSearch.of(car, ASKED).find(question, of, KNOWN_TO_MM, new Progress() {
            @Override
            public void at(double fraction, String message) {
                told.add(fraction);
                assertThat(message).isNotBlank();
            }

            @Override
            public boolean cancelled() {
                return false;
            }
        });
        assertThat(told)
                .hasSizeGreaterThan(2)
                .isSorted()
                .allSatisfy(at -> assertThat(at).isBetween(0.0, 1.0));
        for (int after : new int[] {0, 1, 2}) {
            int[] left = {after};
            assertThat(FitSearch.of(car, ASKED).find(question, of, KNOWN_TO_MM, new Progress() {
                        @Override
                        public void at(double fraction, String message) {
                            left[0]--;
                        }

                        @Override
                        public boolean cancelled() {
                            return left[0] <= 0;
                        }
                    }))
                    .as("cancelled when told %d times", after)
                    .isEmpty();
        }
    }
}
