package daylight.inspection;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.car.Car;
import daylight.car.CarFile;
import daylight.car.CarFileException;
import daylight.car.RuleList;
import daylight.inspection.InspectionReport.Corner;
import daylight.inspection.InspectionReport.Finding;
import daylight.inspection.InspectionReport.LockAngle;
import daylight.inspection.InspectionReport.Verdict;
import java.util.List;
import org.junit.jupiter.api.Test;

/** Travel left, what ends it, what a change of ride height has kept, and the steering, on a car of two front corners. */
class TravelAndSteeringTest {

    private static final String CAR = """
            daylight: 1
            car: front half
            units: mm
            rule lists: [VSB 14 LS, NSRA inspection, common practice, NSW VSI 6]
            steering wheel: {rack per turn: 40}
            ride height changed:
              front: {lowered: 45}
            points:
              front lower arm front pivot: [140, 235, 185]
              front lower arm rear pivot:  [-110, 235, 185]
              front lower ball joint:      [5, 590, 165]
              front upper arm front pivot: [90, 330, 372]
              front upper arm rear pivot:  [-130, 330, 372]
              front upper ball joint:      [-12, 562, 390]
              front tie rod inner end:     [-165, 238, 204]
              front tie rod outer end:     [-105, 568, 190]
              front wheel centre:          [0, 660, 280]
            mechanisms:
              front left:
                layout: double-a-arm-rack
                prefix: front
                bump: 90
                droop: 100
                rack left: 50
                rack right: 50
                limits:
                  - {bump stop: rubber, from: [knuckle, front wheel centre], to: [chassis, [0, 660, 500]], gap: 60, squash: 10}
              front right: {mirror: front left}
            parts:
              left tyre: {on: front left knuckle, tyre: {size: 175/70R13, rim width: 5 1/2 in, offset: 20}}
              right tyre: {mirror: left tyre}
              %s
            """;

    private static InspectionReport inspected(String part) throws CarFileException {
        Car car = CarFile.read("front-half.yaml", String.format(java.util.Locale.ROOT, CAR, part));
        return ClosedFormTest.inspected(car);
    }

    private static List<Finding> findings(InspectionReport report, RuleList.Kind kind, Car car) {
        List<RuleList.Citation> cited = car.judgedBy().lists().stream()
                .flatMap(list -> list.checks().stream())
                .filter(check -> check.kind() == kind)
                .map(RuleList.Check::cited)
                .toList();
        return report.findings().stream()
                .filter(finding -> cited.contains(finding.rule()))
                .toList();
    }

    @Test
    void theBumpStopEndsTheTravelAndTwoThirdsOfItAreNotKept() throws CarFileException {
        String none = "thing: {on: chassis, ball: {centre: [-1000, 0, 300], diameter: 10}}";
        InspectionReport report = inspected(none);
        Car car = CarFile.read("front-half.yaml", String.format(java.util.Locale.ROOT, CAR, none));
        Corner left = report.corners().get(0);
        // The stop's spot is the wheel centre, which rises straight up but for its arc: 60 of gap and 10 of squash.
        assertThat(left.bumpMm()).isCloseTo(70, within(0.5));
        assertThat(left.onStop()).isTrue();
        assertThat(left.bumpEnds()).contains("rubber");
        assertThat(left.droopMm()).isEqualTo(100);
        // Lowered by 45: 115 mm of bump before, of which 70 are left, which is less than two thirds; and 45 are more
        // than
        // a third of it.
        Finding kept = findings(report, RuleList.Kind.TRAVEL_KEPT, car).get(0);
        assertThat(kept.found().orElseThrow().value()).isCloseTo(left.bumpMm() / (left.bumpMm() + 45), within(1e-9));
        assertThat(kept.verdict()).isEqualTo(Verdict.FAIL);
        assertThat(findings(report, RuleList.Kind.HEIGHT_CHANGE, car).get(0).verdict())
                .isEqualTo(Verdict.PASS);
        assertThat(findings(report, RuleList.Kind.HEIGHT_CHANGE_SHARE, car)
                        .get(0)
                        .verdict())
                .isEqualTo(Verdict.FAIL);
        assertThat(findings(report, RuleList.Kind.BUMP_STOP_FIRST, car).get(0).verdict())
                .isEqualTo(Verdict.PASS);
    }

    @Test
    void twoPartsThatTouchEndTheTravelBeforeTheStop() throws CarFileException {
        // The tyre's top is at 280 + half of its largest diameter; a plate lies 40 mm above it.
        InspectionReport report =
                inspected("plate: {on: chassis, box: {from corner: [-50, 600, 640], to corner: [50, 720, 660]}}");
        Corner left = report.corners().get(0);
        assertThat(left.bumpEnds()).isEqualTo("where left tyre and plate touch");
        assertThat(left.bumpMm()).isBetween(20.0, 69.0);
        assertThat(left.onStop()).isFalse();
        Finding free = report.findings().stream()
                .filter(f -> f.rule().list().equals("NSW VSI 6") && f.what().startsWith("wheels free"))
                .findFirst()
                .orElseThrow();
        assertThat(free.verdict()).isEqualTo(Verdict.FAIL);
        assertThat(free.places().get(0).part()).isEqualTo("left tyre / plate");
    }

    @Test
    void theSteeringIsToldInTurnsAndAnglesBothWays() throws CarFileException {
        InspectionReport report = inspected("thing: {on: chassis, ball: {centre: [-1000, 0, 300], diameter: 10}}");
        InspectionReport.Lock lock = report.steering().get(0);
        assertThat(lock.turnsLockToLock()).contains(2.5);
        assertThat(lock.angles()).hasSize(6);
        for (LockAngle angle : lock.angles()) {
            assertThat(angle.leftRad()).as(angle.toString()).isPositive();
            assertThat(angle.rightRad()).as(angle.toString()).isNegative();
            // The car is the same on both sides: what the left wheel does to the left, the right one does to the right.
            LockAngle other = lock.angles().stream()
                    .filter(a -> !a.wheel().equals(angle.wheel()) && a.height().equals(angle.height()))
                    .findFirst()
                    .orElseThrow();
            assertThat(angle.leftRad()).isCloseTo(-other.rightRad(), within(1e-6));
        }
    }

    @Test
    void whatComesTooNearOnLockIsNamedWithTheHeight() throws CarFileException {
        // Beside the tyre's front edge, inboard: near at full lock only.
        InspectionReport report = inspected(
                "panel: {on: chassis, kinds: [body panel], box: {from corner: [180, 470, 200], to corner: [320, 480, 420]}}");
        Finding turned = report.findings().stream()
                .filter(f -> f.what().startsWith("lock to lock"))
                .findFirst()
                .orElseThrow();
        assertThat(turned.verdict()).isNotEqualTo(Verdict.PASS);
        assertThat(turned.places().get(0).part()).isEqualTo("left tyre / panel");
        assertThat(turned.places().get(0).when()).contains("lock");
    }
}
