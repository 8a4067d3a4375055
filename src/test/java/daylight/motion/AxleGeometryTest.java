package daylight.motion;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.geometry.Spot;
import daylight.linkage.Linkage;
import daylight.validation.Checks;
import java.util.Locale;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** Roll centres, Ackermann and anti-features against published figures and closed forms. */
class AxleGeometryTest {
    private static final double SIX_DECIMALS = 1e-6;
    /** Closed forms: rounding only. */
    private static final double EXACT = 1e-9;

    @Test
    void ackermannConditionGivesTheOuterWheel() {
        // wheelbase, distance, inner, outer
        double[][] rows = {{2.6, 1.5, 28, 22.141056}, {2.5, 1.2, 30, 24.326260}, {2.4, 1.3, 20, 16.910870}};
        for (double[] row : rows) {
            double outer = AxleGeometry.idealOuterDeg(row[2], row[1], row[0]);
            Checks.record(
                    "SK-9",
                    String.format(
                            Locale.ROOT,
                            "wheel geometry, wheelbase %.1f, distance %.1f, inner %.0f deg: outer, deg",
                            row[0],
                            row[1],
                            row[2]),
                    "condition cot(outer) - cot(inner) = distance / wheelbase, several examination texts",
                    "seen (condition) + recomputed",
                    row[3],
                    outer,
                    SIX_DECIMALS);
            assertThat(AxleGeometry.idealInnerDeg(outer, row[1], row[0])).isCloseTo(row[2], within(EXACT));
            assertThat(AxleGeometry.ackermannErrorDeg(row[2], outer, row[1], row[0]))
                    .isCloseTo(0, within(EXACT));
            assertThat(AxleGeometry.ackermannErrorDeg(-outer, -row[2], row[1], row[0]))
                    .isCloseTo(0, within(EXACT));
        }
        assertThat(AxleGeometry.ackermannErrorDeg(20, 20, 1.5, 2.6))
                .as("parallel steering has too little inner steer")
                .isNegative();
    }

    @Test
    void beamRollsAboutTheSpotThatStandsStill() {
        // A beam that turns about (40, 250) by 1 rad per unit.
        Spot left = new Spot(0, 700, 0);
        Spot right = new Spot(0, -700, 0);
        AxleGeometry.RollCentre centre = AxleGeometry.beamRollCentre(
                        left, new Rate(0, 250, 660), right, new Rate(0, 250, -740), new Rate(1, 0, 0))
                .orElseThrow();
        assertThat(centre.acrossMm()).isCloseTo(40, within(EXACT));
        assertThat(centre.heightMm()).isCloseTo(250, within(EXACT));
        assertThat(AxleGeometry.beamRollCentre(left, new Rate(0, 0, 1), right, new Rate(0, 0, 1), Rate.NONE))
                .isEqualTo(Optional.empty());
    }

    @Test
    void rollCentreHeightIsMeasuredFromTheLeaningRoad() {
        // Contacts on a road that leans; both normals meet at (100, 400).
        Spot left = new Spot(0, 700, 60);
        Spot right = new Spot(0, -700, -60);
        AxleGeometry.RollCentre centre = AxleGeometry.rollCentre(
                        left, normalTo(left, 100, 400), right, normalTo(right, 100, 400))
                .orElseThrow();
        assertThat(centre.acrossMm()).isCloseTo(100, within(1e-8));
        double slope = 60.0 / 700;
        assertThat(centre.heightMm()).isCloseTo((400 - slope * 100) / Math.hypot(1, slope), within(1e-8));
        assertThat(AxleGeometry.rollDeg(left, right))
                .as("left wheel in bump: the car's left side is down")
                .isNegative();
    }

    private static Rate normalTo(Spot contact, double y, double z) {
        return new Rate(0, z - contact.z(), contact.y() - y);
    }

    @Test
    void parallelNormalsThatDoNotMeetHaveNoRollCentre() {
        Spot left = new Spot(0, 700, 0);
        Spot right = new Spot(0, -700, 10);
        Rate up = new Rate(0, 0, 1);
        assertThat(AxleGeometry.rollCentre(left, up, right, up)).isEmpty();
    }

    /** A trailing arm: the side-view line from contact to pivot gives tan = height / arm. */
    @Test
    void antiFeaturesOfATrailingArmFollowItsSideViewLine() {
        Spot wheel = new Spot(-400, 600, 300);
        Linkage linkage = Linkage.of(Corners.oneArm(new Spot(0, 300, 350), new Spot(0, 500, 350), wheel, 50));
        WheelGeometry geometry = new WheelGeometry(linkage, Corners.plainWheel("arm", wheel), 300);
        assertThat(linkage.solve(new double[] {0}).solved()).isTrue();
        WheelSlopes s = geometry.slopes(new double[] {1}).perWheelTravel();
        AxleGeometry.Balance balance = new AxleGeometry.Balance(2500, 500, 0.6, 0, false);
        // Pivot 400 ahead of the contact and 350 above it; brakes at the rear 0.4 of all.
        assertThat(AxleGeometry.antiBrakePercent(s, false, balance))
                .isCloseTo(100 * 0.4 * (350.0 / 400) * 2500 / 500, within(1e-7));
        assertThat(AxleGeometry.antiDrivePercent(s, false, balance).orElseThrow())
                .as("live axle: from the contact")
                .isCloseTo(100 * (350.0 / 400) * 2500 / 500, within(1e-7));
        AxleGeometry.Balance onChassis = new AxleGeometry.Balance(2500, 500, 0.6, 0, true);
        assertThat(AxleGeometry.antiDrivePercent(s, false, onChassis).orElseThrow())
                .as("differential on the chassis: from the wheel centre, 50 below the pivot")
                .isCloseTo(100 * (50.0 / 400) * 2500 / 500, within(1e-7));
        assertThat(AxleGeometry.antiDrivePercent(s, true, balance))
                .as("front wheels not driven")
                .isEmpty();
    }

    @Test
    void leadingArmResistsDive() {
        // Front wheel ahead of its pivot (a trailing arm turned round would be behind): pivot behind and above.
        Spot wheel = new Spot(400, 600, 300);
        Linkage linkage = Linkage.of(Corners.oneArm(new Spot(0, 300, 350), new Spot(0, 500, 350), wheel, 50));
        WheelGeometry geometry = new WheelGeometry(linkage, Corners.plainWheel("arm", wheel), 300);
        assertThat(linkage.solve(new double[] {0}).solved()).isTrue();
        WheelSlopes s = geometry.slopes(new double[] {1}).perWheelTravel();
        AxleGeometry.Balance balance = new AxleGeometry.Balance(2500, 500, 0.6, 0, false);
        assertThat(AxleGeometry.antiBrakePercent(s, true, balance))
                .isCloseTo(100 * 0.6 * (350.0 / 400) * 2500 / 500, within(1e-7));
        assertThat(s.sideSwingArmMm(geometry.attitude(), true).orElseThrow()).isCloseTo(400, within(1e-7));
    }
}
