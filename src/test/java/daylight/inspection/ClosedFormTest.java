package daylight.inspection;

import static daylight.inspection.FormulaCar.BUMP_MM;
import static daylight.inspection.FormulaCar.RIM_MM;
import static daylight.inspection.FormulaCar.TRACK_MM;
import static daylight.inspection.FormulaCar.TYRE_MM;
import static daylight.inspection.FormulaCar.WHEELBASE_MM;
import static daylight.inspection.FormulaCar.post;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.car.Car;
import daylight.car.RuleList;
import daylight.clearance.Asked;
import daylight.clearance.GapSearch;
import daylight.geometry.Spot;
import daylight.inspection.InspectionReport.Below;
import daylight.inspection.InspectionReport.Finding;
import daylight.inspection.InspectionReport.Place;
import daylight.inspection.InspectionReport.Stance;
import daylight.inspection.InspectionReport.TravelLow;
import daylight.inspection.InspectionReport.Verdict;
import daylight.units.Progress;
import daylight.validation.Checks;
import java.util.List;
import org.junit.jupiter.api.Test;

/**
 * What lies under a car, against formulas: known tyre, rim, wheelbase and track, and posts at known heights.
 *
 * <p>The formulas are written out here by coordinates, in other words than the program's.
 */
class ClosedFormTest {
    /** What the task asks for; the computation is good to a millionth of it. */
    private static final double HUNDREDTH_MM = 0.01;

    private static final String PLANE = "plane geometry, worked out beside the check";
    private static final String MARK = "recomputed";

    private static InspectionReport inspected(Car.Part... parts) {
        return inspected(FormulaCar.of(parts));
    }

    static InspectionReport inspected(Car car) {
        return Inspection.of(
                        car,
                        GapSearch.of(car, Asked.USUAL).run(Progress.SILENT).orElseThrow(),
                        List.of(),
                        Progress.SILENT)
                .orElseThrow();
    }

    private static Place low(InspectionReport report, String stance, String part) {
        Stance found = report.under().stances().stream()
                .filter(s -> s.name().equals(stance))
                .findFirst()
                .orElseThrow();
        return found.lowest().stream()
                .filter(p -> p.part().equals(part))
                .findFirst()
                .orElseThrow();
    }

    private static Finding finding(InspectionReport report, String list, String what) {
        return report.findings().stream()
                .filter(f -> f.rule().list().equals(list) && f.what().startsWith(what))
                .findFirst()
                .orElseThrow();
    }

    @Test
    void heightsOverTheRoad() {
        InspectionReport report = inspected(post("post", -1000, 300, 142));
        Checks.record(
                "IN-1",
                "post at 142 mm, ride height, mm",
                PLANE,
                MARK,
                142,
                low(report, "ride height", "post").mm(),
                HUNDREDTH_MM);
        Checks.record(
                "IN-1",
                "the same with both axles at full bump, mm",
                PLANE,
                MARK,
                142 - BUMP_MM,
                low(report, "all axles at full bump", "post").mm(),
                HUNDREDTH_MM);
        // Front axle alone: the road rises by the bump at x = 0 and by nothing at the rear contact, and tilts; the
        // tyres'
        // circles roll on to other spots. With tan t the slope of the road, centres at equal heights above it:
        double slope = BUMP_MM / WHEELBASE_MM;
        double cos = 1 / Math.sqrt(1 + slope * slope);
        // The line through the centres has the road's slope, and the road is the radius below it, square to it.
        double centreLine = TYRE_MM + BUMP_MM - slope * 1000;
        Checks.record(
                "IN-1",
                "the same with the front axle at full bump, mm",
                PLANE,
                MARK,
                (142 - centreLine) * cos + TYRE_MM,
                low(report, "front axle at full bump", "post").mm(),
                HUNDREDTH_MM);
    }

    @Test
    void theLeastHeightOverContinuousTravelIsAtTheBumpStopsAndProved() {
        InspectionReport report = inspected(post("post", -1000, 300, 142), post("high", -500, 0, 400));
        TravelLow post = report.under().overTravel().get(0);
        assertThat(post.part()).isEqualTo("post");
        Checks.record(
                "IN-2",
                "least height of a post over all travel, mm",
                PLANE,
                MARK,
                142 - BUMP_MM,
                post.foundMm(),
                HUNDREDTH_MM);
        assertThat(post.floorMm()).isBetween(post.foundMm() - Ground.KNOWN_TO_MM, post.foundMm());
        assertThat(post.proved()).isTrue();
        TravelLow high = report.under().overTravel().get(1);
        assertThat(high.floorMm()).as("far above any figure").isBetween(Ground.WATCH_MM, high.foundMm());
    }

    @Test
    void aFlatTyreTiltsTheCarOntoItsRimAndTheTwoNeighbours() {
        InspectionReport report = inspected(post("post", -200, 600, 60));
        // The plane touches the flat wheel's rim and the tyres of the right front and left rear wheel from below:
        // z = a + b x + c y with (centre height - a - b x - c y) = radius sqrt(1 + b² + c²) for each of the three.
        double drop = TYRE_MM - RIM_MM;
        double b = 0;
        double c = 0;
        double a = 0;
        for (int i = 0; i < 50; i++) {
            double norm = Math.sqrt(1 + b * b + c * c);
            // A disc has no width: only the part of the tilt in its own plane rolls it.
            double disc = Math.sqrt(1 + b * b);
            assertThat(norm).isGreaterThanOrEqualTo(disc);
            double leftFront = TYRE_MM - RIM_MM * disc;
            double rightFront = TYRE_MM - TYRE_MM * disc;
            double leftRear = TYRE_MM - TYRE_MM * disc;
            c = (leftFront - rightFront) / TRACK_MM;
            b = (leftFront - leftRear) / WHEELBASE_MM;
            a = (leftFront + rightFront) / 2;
        }
        double norm = Math.sqrt(1 + b * b + c * c);
        Checks.record(
                "IN-3",
                "post beside a flat left front tyre, over the road, mm",
                PLANE,
                MARK,
                (60 - a + b * 200 - c * 600) / norm,
                low(report, "left front tyre flat", "post").mm(),
                HUNDREDTH_MM);
        assertThat(a + c * TRACK_MM / 2).isCloseTo(drop, within(0.2));
        // Both front tyres flat: no tilt across; rims and tyres are circles in the side view.
        double tilt = 0;
        for (int i = 0; i < 50; i++) {
            tilt = Math.atan2((TYRE_MM - RIM_MM) / Math.cos(tilt), WHEELBASE_MM);
        }
        Checks.record(
                "IN-3",
                "the same with both front tyres flat, mm",
                PLANE,
                MARK,
                Math.cos(tilt) * (60 - TYRE_MM - Math.tan(tilt) * -200) + RIM_MM,
                low(report, "left front tyre and right front tyre flat", "post").mm(),
                HUNDREDTH_MM);
        assertThat(finding(report, "NSW VSI 6", "one tyre flat").verdict()).isEqualTo(Verdict.FAIL);
    }

    @Test
    void fourFeetOfARigidBodyGiveTwoPlanesToRockBetween() {
        InspectionReport report = inspected(post("post", -WHEELBASE_MM + 100, -TRACK_MM / 2 + 50, 42));
        // With the left front tyre flat the car may still stand on the other three, as it did.
        assertThat(low(report, "left front tyre flat", "post").mm()).isCloseTo(42, within(1e-6));
    }

    @Test
    void theScrubLineFollowsTheStrings() {
        InspectionReport report = inspected(post("across", 0, 200, 60), post("along", -1000, TRACK_MM / 2, 50));
        // Straight strings between the two bottoms: rim bottom at 100 mm, tyre bottom on the road.
        double across = (TYRE_MM - RIM_MM) * (200 + TRACK_MM / 2) / TRACK_MM;
        double along = (TYRE_MM - RIM_MM) * (WHEELBASE_MM - 1000) / WHEELBASE_MM;
        List<Below> below = report.under().scrub();
        Below one = below.stream()
                .filter(b -> b.part().equals("across"))
                .findFirst()
                .orElseThrow();
        Below other =
                below.stream().filter(b -> b.part().equals("along")).findFirst().orElseThrow();
        Checks.record(
                "IN-4",
                "post under the string across, below it by, mm",
                PLANE,
                MARK,
                across - 60,
                one.byMm(),
                HUNDREDTH_MM);
        Checks.record(
                "IN-4",
                "post under the string along, below it by, mm",
                PLANE,
                MARK,
                along - 50,
                other.byMm(),
                HUNDREDTH_MM);
        assertThat(one.string()).isEqualTo("across, from the left front tyre's rim to the right front tyre");
        assertThat(other.string()).isEqualTo("along, from the left front tyre's rim to the left rear tyre");
        assertThat(one.at()).isEqualTo(new Spot(0, 200, 60));
        assertThat(finding(report, "NSRA inspection", "scrub line").verdict()).isEqualTo(Verdict.FAIL);
    }

    @Test
    void aPartThatJustClearsTheStringsPasses() {
        InspectionReport report = inspected(post("clear", 0, 200, 66));
        assertThat(report.under().scrub()).isEmpty();
        assertThat(finding(report, "NSRA inspection", "scrub line").verdict()).isEqualTo(Verdict.PASS);
    }

    @Test
    void theCrestOfARampPassesUnderTheMiddle() {
        double angle = Math.toRadians(7 + 38 / 60.0);
        InspectionReport report = inspected(post("post", -WHEELBASE_MM / 2, 0, 120));
        // On top of the crest the car stands level; each tyre's tangent falls by half the angle, and they meet midway.
        double apex = TYRE_MM - TYRE_MM / Math.cos(angle / 2) + WHEELBASE_MM / 2 * Math.tan(angle / 2);
        Checks.record(
                "IN-5",
                "post midway over a crest of 7 deg 38 min, mm",
                PLANE,
                MARK,
                120 - apex,
                finding(report, "ADR 43/04", "crest").found().orElseThrow().value(),
                HUNDREDTH_MM);
        assertThat(finding(report, "ADR 43/04", "midway").asked().orElseThrow().value())
                .isCloseTo(33.33 * WHEELBASE_MM / 1000, within(1e-9));
        assertThat(finding(report, "ADR 43/04", "crest").verdict()).isEqualTo(Verdict.PASS);
    }

    @Test
    void theCrestCatchesAPostThatIsNotMidway() {
        double angle = Math.toRadians(7 + 38 / 60.0);
        double along = 600;
        InspectionReport report = inspected(post("post", -along, 0, 130));
        // For each share of the angle that the front plane takes, where the two tangents of the tyres meet; the nearest
        // of them to the post's foot.
        double nearest = Double.POSITIVE_INFINITY;
        for (int i = 1; i < 200_000; i++) {
            double front = angle * i / 200_000;
            double rear = angle - front;
            // The front plane falls forwards and the rear one backwards; each touches its tyre on the side of the
            // crest.
            double x1 = -TYRE_MM * Math.sin(front);
            double z1 = TYRE_MM - TYRE_MM * Math.cos(front);
            double x2 = -WHEELBASE_MM + TYRE_MM * Math.sin(rear);
            double z2 = TYRE_MM - TYRE_MM * Math.cos(rear);
            double x = (z1 - z2 + Math.tan(front) * x1 + Math.tan(rear) * x2) / (Math.tan(front) + Math.tan(rear));
            double z = z2 + Math.tan(rear) * (x - x2);
            nearest = Math.min(nearest, Math.hypot(x + along, z - 130));
        }
        Checks.record(
                "IN-5",
                "post 600 mm behind the front axle over the crest, mm",
                PLANE,
                MARK,
                nearest,
                finding(report, "ADR 43/04", "crest").found().orElseThrow().value(),
                HUNDREDTH_MM);
    }

    @Test
    void aKerbIsMetByWhatOverhangsTheTread() {
        double kerb = 101.6;
        double face = Math.sqrt(TYRE_MM * TYRE_MM - (TYRE_MM - kerb) * (TYRE_MM - kerb));
        InspectionReport report = inspected(post("before", face + 0.01, 0, 95), post("behind", face - 0.01, 0, 90));
        Finding found = finding(report, "common practice", "kerb");
        assertThat(found.places()).extracting(Place::part).containsExactly("before");
        Checks.record(
                "IN-6",
                "post just ahead of the kerb's face, mm",
                PLANE,
                MARK,
                95,
                found.found().orElseThrow().value(),
                HUNDREDTH_MM);
        assertThat(found.verdict()).as("no published rule asks for it").isEqualTo(Verdict.LOOK);
    }

    @Test
    void whatIsMetByLessThanTheMeasurementsDoubtIsToBeLookedAt() {
        double doubt = Car.About.NOTHING.withinMm();
        assertThat(finding(inspected(post("post", -1000, 0, 100 + doubt / 2)), "ADR 43/04", "running clearance")
                        .verdict())
                .isEqualTo(Verdict.LOOK);
        assertThat(finding(inspected(post("post", -1000, 0, 99.9)), "ADR 43/04", "running clearance")
                        .verdict())
                .isEqualTo(Verdict.FAIL);
        assertThat(finding(inspected(post("post", -1000, 0, 102)), "ADR 43/04", "running clearance")
                        .verdict())
                .isEqualTo(Verdict.PASS);
    }

    @Test
    void everyFindingSaysWhichRuleOfWhichListItComesFrom() {
        InspectionReport report = inspected(post("post", -1000, 0, 120));
        assertThat(report.findings()).allSatisfy(f -> {
            assertThat(f.rule().list()).isNotBlank();
            assertThat(f.rule().clause()).isNotBlank();
            assertThat(f.why()).isNotBlank();
        });
        for (RuleList list : FormulaCar.of().judgedBy().lists()) {
            for (RuleList.Check check : list.checks()) {
                assertThat(report.findings())
                        .as(list.name() + ": " + check.kind().word())
                        .anyMatch(f -> f.rule().equals(check.cited()));
            }
        }
        assertThat(report.cautions()).contains(InspectionReport.ONLY_THE_AUTHORITY);
    }
}
