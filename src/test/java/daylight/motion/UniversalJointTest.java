package daylight.motion;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.car.Readout;
import daylight.geometry.Direction;
import daylight.geometry.Spot;
import daylight.linkage.Linkage;
import daylight.linkage.Mechanism;
import daylight.linkage.Mechanism.Driver;
import daylight.linkage.Mechanism.Joint;
import daylight.validation.Checks;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.api.Test;

/** Cardan joints and a driveshaft's plunge against the tables of the trade. */
class UniversalJointTest {
    private static final double SIX_DECIMALS = 1e-6;
    private static final double FOUR_DECIMALS = 0.6e-4;
    private static final String TEXTS = "any theory-of-machines text (Khurmi & Gupta, ch. 9); Machinery's Handbook";
    private static final String MEMORY = "recomputed; source from memory";

    private static void check(String id, String what, double expected, double got, double tolerance) {
        Checks.record(id, "universal joint, " + what, TEXTS, MEMORY, expected, got, tolerance);
    }

    private static String n(double value) {
        return String.format(Locale.ROOT, "%.0f", value);
    }

    @Test
    void speedFluctuatesByTheTable() {
        double[][] rows = {
            {5, 1.003820, 0.996195, 0.007625, 0.109222, 45.0546},
            {10, 1.015427, 0.984808, 0.030619, 0.438561, 45.2193},
            {20, 1.064178, 0.939693, 0.124485, 1.781682, 45.8908},
            {30, 1.154701, 0.866025, 0.288675, 4.117194, 47.0586}
        };
        for (double[] row : rows) {
            String b = "angle " + n(row[0]) + " deg: ";
            check("CJ-1", b + "greatest speed ratio", row[1], UniversalJoint.speedRatio(0, row[0]), SIX_DECIMALS);
            check("CJ-1", b + "least speed ratio", row[2], UniversalJoint.speedRatio(90, row[0]), SIX_DECIMALS);
            check("CJ-1", b + "fluctuation", row[3], UniversalJoint.fluctuation(row[0]), SIX_DECIMALS);
            check(
                    "CJ-1",
                    b + "greatest phase difference, deg",
                    row[4],
                    UniversalJoint.greatestPhaseDeg(row[0]),
                    SIX_DECIMALS);
            check(
                    "CJ-1",
                    b + "at a turn of, deg",
                    row[5],
                    UniversalJoint.turnOfGreatestPhaseDeg(row[0]),
                    FOUR_DECIMALS);
            double turn = UniversalJoint.turnOfGreatestPhaseDeg(row[0]);
            assertThat(turn - UniversalJoint.drivenDeg(turn, row[0])).isCloseTo(row[4], within(SIX_DECIMALS));
        }
    }

    @Test
    void drivenShaftTurnsByTheTable() {
        double[][] rows = {{15, 13.064313}, {30, 26.565051}, {45, 40.893395}, {60, 56.309932}, {75, 72.807876}};
        for (double[] row : rows) {
            check(
                    "CJ-2",
                    "angle 30, driving shaft at " + n(row[0]) + " deg: driven, deg",
                    row[1],
                    UniversalJoint.drivenDeg(row[0], 30),
                    SIX_DECIMALS);
        }
    }

    @Test
    void accelerationPeaksByTheTable() {
        double[][] rows = {
            {5, 0.007625, 44.7816}, {10, 0.030626, 44.1232}, {20, 0.124966, 41.4587}, {30, 0.294571, 37.0215}
        };
        for (double[] row : rows) {
            String b = "angle " + n(row[0]) + " deg: ";
            check(
                    "CJ-3",
                    b + "greatest acceleration / speed²",
                    row[1],
                    UniversalJoint.greatestAcceleration(row[0]),
                    SIX_DECIMALS);
            check(
                    "CJ-3",
                    b + "at a turn of, deg",
                    row[2],
                    UniversalJoint.turnOfGreatestAccelerationDeg(row[0]),
                    FOUR_DECIMALS);
        }
    }

    @Test
    void accelerationIsTheDerivativeOfTheSpeed() {
        double step = 1e-5;
        for (double angle : new double[] {2, 12, 35}) {
            double turn = UniversalJoint.turnOfGreatestAccelerationDeg(angle);
            double slope =
                    (UniversalJoint.speedRatio(turn + step, angle) - UniversalJoint.speedRatio(turn - step, angle))
                            / Math.toRadians(2 * step);
            assertThat(-slope)
                    .as("angle %s", angle)
                    .isCloseTo(UniversalJoint.greatestAcceleration(angle), within(1e-8));
        }
    }

    @Test
    void workedExamplesComeOut() {
        String book = "Khurmi & Gupta, Theory of Machines, ch. 9, Hooke's joint examples";
        Checks.record(
                "CJ-4",
                "universal joint, (a) 1200 rpm, fluctuation 100 rpm: angle, deg",
                book,
                MEMORY,
                16.4229,
                UniversalJoint.angleOfFluctuationDeg(100.0 / 1200),
                FOUR_DECIMALS);
        double speed = 1500 * 2 * Math.PI / 60;
        Checks.record(
                "CJ-4",
                "universal joint, (b) 20 deg, 1500 rpm: greatest acceleration, rad/s²",
                book,
                MEMORY,
                3083.40,
                UniversalJoint.greatestAcceleration(20) * speed * speed,
                0.006);
        Checks.record(
                "CJ-4",
                "universal joint, (c) 18 deg: speeds equal at a turn of, deg",
                book,
                MEMORY,
                44.2813,
                UniversalJoint.turnOfEqualSpeedDeg(18),
                FOUR_DECIMALS);
    }

    @Test
    void twoJointsInARowAreAsUnevenAsOne() {
        String source = "SAE AE-7, Universal Joint and Driveshaft Design Manual";
        Checks.record(
                "CJ-5",
                "universal joint, 5 and 3 deg, forks aligned: as one joint of, deg",
                source,
                MEMORY,
                4.001830,
                UniversalJoint.equivalentAngleDeg(5, 3, true),
                SIX_DECIMALS);
        Checks.record(
                "CJ-5",
                "universal joint, 5 and 3 deg, forks aligned: greatest ratio",
                source,
                MEMORY,
                1.002444137,
                UniversalJoint.speedRatio(0, UniversalJoint.equivalentAngleDeg(5, 3, true)),
                1e-9);
        Checks.record(
                "CJ-5",
                "universal joint, 5 and 5 deg, forks a quarter turn wrong: as one joint of, deg",
                source,
                MEMORY,
                7.066574,
                UniversalJoint.equivalentAngleDeg(5, 5, false),
                SIX_DECIMALS);
        assertThat(UniversalJoint.equivalentAngleDeg(5, 5, true)).isEqualTo(0);
    }

    @Test
    void viewAnglesCompound() {
        String source = "Spicer, Driveline Installation, J3311-1, page 10, figure 6";
        Checks.record(
                "CJ-6",
                "universal joint, top view 2.15, side view 2.50: angle, deg (exact)",
                source,
                "seen + recomputed",
                3.295570,
                UniversalJoint.fromViewsDeg(2.15, 2.50),
                SIX_DECIMALS);
        Checks.record(
                "CJ-6",
                "universal joint, top view 2.15, side view 2.50: angle, deg (printed)",
                source,
                "seen",
                3.3,
                UniversalJoint.fromViewsDeg(2.15, 2.50),
                0.05);
        Direction shaft = Direction.of(1, Math.tan(Math.toRadians(2.15)), Math.tan(Math.toRadians(2.5)));
        assertThat(UniversalJoint.operatingAngleDeg(Direction.FORWARD, shaft))
                .as("from the directions in space")
                .isCloseTo(3.295570, within(SIX_DECIMALS));
    }

    /** CJ-7: the published speeds and angles all give about the same angular acceleration, 1000 rad/s². */
    @Test
    void publishedLimitsAreOneAcceleration() {
        double[][] seen = {{5000, 3.2}, {4500, 3.7}, {4000, 4.2}, {3500, 5.0}};
        for (double[] row : seen) {
            double speed = row[0] * 2 * Math.PI / 60;
            Checks.record(
                    "CJ-7",
                    "universal joint, " + n(row[0]) + " rpm at its greatest angle: acceleration, rad/s²",
                    "Spicer driveline operating angle page and J3311-1",
                    "seen",
                    1000,
                    UniversalJoint.greatestAcceleration(row[1]) * speed * speed,
                    150);
        }
    }

    @Test
    void slipYokePlungesAsTheAxleRises() {
        Spot gearbox = new Spot(0, 0, 400);
        Spot pinion = new Spot(-1200, 0, 320);
        Linkage linkage = Linkage.of(new Mechanism(
                "axle",
                List.of("axle"),
                List.of(new Joint.Slide("guides", Mechanism.GROUND, "axle", pinion, Direction.UP)),
                List.of(new Driver.Rise("travel", "axle", pinion, -80, 80)),
                List.of()));
        ShaftGeometry shaft = new ShaftGeometry(
                linkage,
                new Readout.Shaft(
                        "driveshaft",
                        new Readout.End(Mechanism.GROUND, gearbox),
                        Direction.FORWARD.reversed(),
                        new Readout.End("axle", pinion),
                        Direction.FORWARD.reversed()));
        double[][] rows = {
            {-60, 5.475355, 6.654425},
            {-30, 2.367410, 5.237476},
            {0, 0, 3.814075},
            {30, -1.622495, 2.385944},
            {60, -2.497055, 0.954841}
        };
        for (double[] row : rows) {
            assertThat(linkage.solve(new double[] {row[0]}).solved()).isTrue();
            ShaftGeometry.Attitude at = shaft.attitude();
            String z = String.format(Locale.ROOT, "driveshaft, z %+.0f mm: ", row[0]);
            Checks.record(
                    "CJ-8",
                    z + "length change, mm",
                    "own input",
                    "own input, recomputed",
                    row[1],
                    at.plungeMm(),
                    SIX_DECIMALS);
            Checks.record(
                    "CJ-8",
                    z + "front joint, deg",
                    "own input",
                    "own input, recomputed",
                    row[2],
                    at.firstJointDeg(),
                    SIX_DECIMALS);
            assertThat(at.secondJointDeg())
                    .as("parallel shafts: both joints alike")
                    .isCloseTo(row[2], within(SIX_DECIMALS));
            assertThat(at.evenDeg()).isCloseTo(0, within(1e-5));
        }
    }
}
