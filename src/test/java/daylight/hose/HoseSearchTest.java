package daylight.hose;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import daylight.car.Car;
import daylight.car.CarFile;
import daylight.car.CarFileException;
import daylight.car.Complaint;
import daylight.hose.HoseReport.Trouble;
import daylight.motion.Handle;
import daylight.motion.Kinematics;
import daylight.motion.Workspace;
import daylight.report.HoseCsv;
import daylight.report.HoseJson;
import daylight.report.HoseText;
import daylight.units.Progress;
import java.util.List;
import java.util.random.RandomGenerator;
import java.util.random.RandomGeneratorFactory;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** Hoses on an invented front corner: double A-arms and a rack, inches. */
class HoseSearchTest {
    private static final String CORNER = """
            daylight: 1
            car: hose bench
            units: in
            points:
              lf lower arm front pivot: [5 7/8, 13, 9 1/2]
              lf lower arm rear pivot:  [-7, 13 3/8, 9 5/8]
              lf lower ball joint:      [0, 25 5/8, 8 3/4]
              lf upper arm front pivot: [3 1/2, 15 3/4, 18 1/2]
              lf upper arm rear pivot:  [-5 1/8, 16 1/8, 18 1/8]
              lf upper ball joint:      [-5/8, 24 3/8, 19 1/4]
              lf tie rod inner end:     [-4 3/4, 11 3/4, 11 3/8]
              lf tie rod outer end:     [-5 1/8, 25 1/4, 10 7/8]
              lf wheel centre:          [-1/4, 29 1/8, 12 1/4]
            mechanisms:
              front left:  {layout: double-a-arm-rack, prefix: lf, bump: 3 1/2, droop: 4, rack left: 2 1/2, rack right: 2 1/2}
            parts:
              frame rail: {on: chassis, box: {from corner: [-90, 12, 14], to corner: [20, 15, 18]}}
            """;

    private static HoseReport shortHose;

    static String hose(String length, String more) {
        return CORNER
                + "  front hose: {kind: brake hose, hose: {from: {on: chassis, at: [2, 16, 20], leaves: left}, "
                + "to: {on: front left knuckle, at: [2, 25, 14], leaves: [0.3, -0.2, 1]}, free length: "
                + length + ", od: 0.28, least bend radius: 1 1/2" + more + "}}\n";
    }

    private static HoseReport only(String text) throws CarFileException {
        List<HoseReport> reports = HoseSearch.of(CarFile.read("bench.yaml", text))
                .run(2, Progress.SILENT)
                .orElseThrow();
        assertThat(reports).hasSize(1);
        return reports.get(0);
    }

    @BeforeAll
    static void judgeOnce() throws CarFileException {
        shortHose = only(hose("13", ", stock lengths: [12, 13, 15, 17]"));
    }

    @Test
    void aShortHoseIsFineAtRideHeightAndTautInDroopAndALongerOnePasses() {
        assertThat(shortHose.slack().rideMm()).isPositive();
        assertThat(shortHose.slack().leastMm()).isNegative();
        assertThat(shortHose.troubles()).contains(Trouble.TAUT);
        assertThat(shortHose.verdict()).isEqualTo("taut");
        assertThat(shortHose.slack().where().handles()).anySatisfy(setting -> {
            assertThat(setting.name()).isEqualTo("front left travel");
            assertThat(setting.value()).isLessThan(-90);
        });
        HoseReport.Stock buy = shortHose.shortestThatPasses().orElseThrow();
        assertThat(buy.lengthMm()).isGreaterThan(13 * 25.4);
        assertThat(buy.slackFloorMm()).isNotNegative();
        assertThat(buy.tightestRadiusMm())
                .isGreaterThanOrEqualTo(shortHose.bend().limitMm());
    }

    @Test
    void noPositionHasLessSlackThanTheFloor() throws CarFileException {
        Car car = CarFile.read("bench.yaml", hose("13", ""));
        Kinematics kinematics = Workspace.of(car).kinematics();
        LineTravel line = new LineTravel(car.hoses().get(0), kinematics);
        SlackSearch search = new SlackSearch(line);
        assertThat(shortHose.slack().unproved()).isEmpty();
        double least = Double.POSITIVE_INFINITY;
        RandomGenerator random = RandomGeneratorFactory.of("L64X128MixRandom").create(7);
        List<Handle> handles = kinematics.workspace().handles();
        for (int i = 0; i < 4000; i++) {
            double[] values = new double[handles.size()];
            assertThat(line.freedoms).hasSameSizeAs(handles);
            for (int h = 0; h < values.length; h++) {
                double share = i % 3 == 0 ? random.nextInt(2) : random.nextDouble();
                values[h] = handles.get(h).lowest()
                        + share * (handles.get(h).highest() - handles.get(h).lowest());
            }
            least = Math.min(least, search.slackMm(values));
        }
        assertThat(least).isGreaterThanOrEqualTo(shortHose.slack().floorMm() - 1e-9);
        assertThat(least).isGreaterThanOrEqualTo(shortHose.slack().leastMm() - 1e-9);
        // The search stops when the floor is within half a millimetre of what it found.
        assertThat(shortHose.slack().floorMm()).isCloseTo(shortHose.slack().leastMm(), within(0.5));
    }

    @Test
    void aLongerHoseHasAsMuchMoreSlack() throws CarFileException {
        HoseReport longer = only(hose("16", ""));
        assertThat(longer.slack().leastMm()).isCloseTo(shortHose.slack().leastMm() + 3 * 25.4, within(1e-9));
        assertThat(longer.troubles()).doesNotContain(Trouble.TAUT);
    }

    @Test
    void anEndThatTurnsIsSetWhereItPasses() throws CarFileException {
        String poor = hose("16", "").replace("leaves: left}", "leaves: down, turns about: forward}");
        HoseReport report = only(poor);
        HoseReport.Turned turned = report.turned().orElseThrow();
        assertThat(turned.fromRad()).isNotZero();
        assertThat(turned.toRad()).as("that end cannot be turned").isZero();
        assertThat(turned.result().troubles()).isEmpty();
        assertThat(report.troubles()).as("as it was set").isNotEmpty();
    }

    @Test
    void aClipMakesTwoPiecesAndTheStillOneNeverMoves() throws CarFileException {
        HoseReport report = only(hose("20", ", clips: [{on: chassis, at: [2, 19, 19], along: left, after: 4}]"));
        assertThat(report.sampling().positions()).isGreaterThan(100);
        assertThat(report.slack().leastMm()).isLessThan(4 * 25.4);
    }

    @Test
    void theTwistLimitIsHeldTo() throws CarFileException {
        HoseReport report = only(hose("16", ", greatest twist: 1 deg"));
        assertThat(report.twist().greatestRad()).isGreaterThan(Math.toRadians(1));
        assertThat(report.troubles()).contains(Trouble.TWISTS);
        HoseReport swivels =
                only(hose("16", ", greatest twist: 1 deg").replace("leaves: left}", "leaves: left, swivels: true}"));
        assertThat(swivels.troubles()).doesNotContain(Trouble.TWISTS);
    }

    @Test
    void eachVerdictIsProvoked() throws CarFileException {
        assertThat(only(hose("16", "")).verdict()).isEqualTo("reaches");
        assertThat(shortHose.verdict()).isEqualTo("taut");
        assertThat(only(hose("16", "").replace("radius: 1 1/2", "radius: 2 1/2"))
                        .verdict())
                .isEqualTo("kinks");
        assertThat(only(hose("16", ", greatest twist: 1 deg")).verdict()).isEqualTo("twists");
        HoseReport loops = only(hose("16", "").replace("radius: 1 1/2", "radius: 5"));
        assertThat(loops.slack().unproved()).contains("not arc, straight, arc");
        assertThat(loops.slack().boxes())
                .as("a path that has to loop is given up, not halved three thousand times")
                .isLessThan(400);
        String wall = "  wall: {on: chassis, box: {from corner: [-2, 22, 10], to corner: [6, 23, 26]}}\n";
        HoseReport rubs = only(hose("16", "") + wall);
        assertThat(rubs.verdict()).isEqualTo("rubs");
        assertThat(rubs.touches().get(0).part()).isEqualTo("wall");
        assertThat(rubs.touches().get(0).gapMm()).isNegative();
        String beside = "  slat: {on: chassis, box: {from corner: [-2, 22, 27], to corner: [6, 23, 28]}}\n";
        assertThat(only(hose("16", "") + beside + "rules: [{between: [front hose, slat], at least: 9, source: test}]\n")
                        .verdict())
                .isEqualTo("tight");
    }

    @Test
    void absurdHosesGiveOneClearComplaint() {
        assertComplaint(hose("7", ""), "does not reach at ride height");
        assertComplaint(hose("13", "").replace("radius: 1 1/2", "radius: 0"), "least bend radius");
        assertComplaint(
                hose("13", "").replace("on: front left knuckle, at: [2, 25, 14]", "on: chassis, at: [2, 16, 20]"),
                "the hose ends where it begins");
        assertComplaint(hose("13", "").replace("od: 0.28", "od: -0.28"), "od");
        assertComplaint(hose("13", "").replace("on: front left knuckle", "on: front left nuckle"), "nuckle");
        assertComplaint(
                hose("13", "").replace("at: [2, 16, 20]", "at: [2, 13 1/2, 16]"),
                "the hose begins inside \"frame rail\"");
    }

    @Test
    void linesOfEveryKindAreJudgedAlike() throws CarFileException {
        for (String kind : List.of("fuel line", "clutch line", "wiring loom")) {
            HoseReport report = only(hose("16", "").replace("kind: brake hose", "kind: " + kind));
            assertThat(report.hose().kinds()).containsExactly(kind);
            assertThat(report.slack().leastMm()).isCloseTo(shortHose.slack().leastMm() + 3 * 25.4, within(1e-9));
        }
    }

    private static void assertComplaint(String text, String found) {
        assertThatThrownBy(() -> CarFile.read("bench.yaml", text))
                .isInstanceOfSatisfying(CarFileException.class, thrown -> {
                    List<Complaint> complaints = thrown.complaints();
                    assertThat(complaints).hasSize(1);
                    assertThat(complaints.get(0).toString()).contains(found).startsWith("bench.yaml:18:");
                });
    }

    @Test
    void theReportsSayTheVerdictTheLengthAndTheCautions() {
        List<HoseReport> reports = List.of(shortHose);
        String text = HoseText.of("hose bench", reports, true);
        assertThat(text)
                .contains("front hose: taut")
                .contains("is the shortest stock length that passes everywhere")
                .contains("someone licensed checks it")
                .contains("proved: nowhere below");
        assertThat(HoseJson.of("hose bench", reports))
                .contains("\"verdict\" : \"taut\"")
                .contains("\"unproved (sampled)\"");
        assertThat(HoseCsv.of(reports, true).lines().count())
                .isEqualTo(2 + shortHose.stock().size());
    }

    @Test
    void aCancelledSearchGivesNothing() throws CarFileException {
        Progress stop = new Progress() {
            @Override
            public void at(double fraction, String message) {}

            @Override
            public boolean cancelled() {
                return true;
            }
        };
        assertThat(HoseSearch.of(CarFile.read("bench.yaml", hose("13", ""))).run(2, stop))
                .isEmpty();
    }
}
