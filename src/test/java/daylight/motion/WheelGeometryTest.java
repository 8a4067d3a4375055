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
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** Wheel geometry against published figures, closed forms, finite differences and its own mirror image. */
class WheelGeometryTest {
    private static final String SK1_SOURCE =
            "Rill & Castro, Road Vehicle Dynamics, 2nd ed. 2020, suspension systems, double wishbone listing";
    private static final String SK1_MARK = "hardpoints seen; results recomputed; book and chapter from memory";
    private static final String OWN = "own input";
    private static final String OWN_MARK = "own input, recomputed";
    private static final String MILLIKEN = "Milliken & Milliken, Race Car Vehicle Dynamics, ch. 17";
    private static final String MEMORY_MARK = "own input, recomputed in two ways; source from memory";
    /** Half a unit of the last digit of SK-1's angles (six decimals, degrees) and lengths (five decimals, mm). */
    private static final double ANGLE = 0.6e-6;

    private static final double FIVE_DECIMALS = 0.6e-5;
    private static final double FOUR_DECIMALS = 0.6e-4;
    /** SK-2 to SK-10 give six decimals. */
    private static final double SIX_DECIMALS = 1e-6;

    private static final double[] STRAIGHT = {1, 0};
    private static final double RADIUS = 300;

    // z, lower arm swing, inclination, toe, dx, dy, caster, axis inclination
    private static final double[][] TRAVEL = {
        {-80, -11.445772, -2.310946, -0.250494, 4.07788, -25.26333, 4.25406, 12.79758},
        {-60, -8.511558, -1.356016, -0.163354, 3.03950, -16.30844, 4.96944, 11.84866},
        {-40, -5.633298, -0.701238, -0.097044, 2.01556, -9.27811, 5.67223, 11.20117},
        {-20, -2.799412, -0.264933, -0.044178, 1.00276, -3.89828, 6.36689, 10.77341},
        {0, 0, 0, 0, 0, 0, 7.05610, 10.51821},
        {20, 2.773621, 0.122282, 0.038559, -0.99305, 2.52588, 7.74164, 10.40675},
        {40, 5.529277, 0.119652, 0.073451, -1.97639, 3.74998, 8.42484, 10.42122},
        {60, 8.274212, 0.002605, 0.105854, -2.94990, 3.71552, 9.10675, 10.55106},
        {80, 11.015319, -0.223637, 0.136402, -3.91331, 2.44432, 9.78834, 10.79102}
    };

    // z, u, steer, inclination, dx, dy
    private static final double[][] STEER = {
        {0, 10, -4.119603, -0.484652, 4.1694, -0.5738},
        {0, 20, -8.188123, -0.903931, 8.2363, -1.4240},
        {0, 30, -12.231137, -1.260688, 12.2073, -2.5421},
        {0, 40, -16.270223, -1.556368, 16.0845, -3.9244},
        {0, 50, -20.324255, -1.791293, 19.8668, -5.5703},
        {0, 60, -24.410298, -1.964847, 23.5495, -7.4822},
        {0, 70, -28.544232, -2.075584, 27.1247, -9.6648},
        {0, 74.5, -30.424184, -2.104362, 28.6956, -10.7370},
        {0, -10, 4.202285, 0.554747, -4.2835, 0.2828},
        {0, -20, 8.528172, 1.186964, -8.6997, 0.2513},
        {0, -30, 13.033680, 1.908065, -13.2776, -0.1317},
        {0, -40, 17.800977, 2.736165, -18.0636, -0.9255},
        {0, -50, 22.962122, 3.701801, -23.1355, -2.2311},
        {0, -60, 28.759856, 4.862506, -28.6404, -4.2393},
        {0, -70, 35.756805, 6.352649, -34.9231, -7.3964},
        {0, -74.5, 39.702065, 7.227231, -38.2530, -9.5119},
        {40, 30, -12.019293, -1.389301, 9.9671, 1.3997},
        {-40, 30, -12.529548, -1.685222, 14.5884, -11.9805},
        {40, -30, 12.659090, 2.262877, -14.9656, 3.4509},
        {-60, -60, 31.125861, 3.146334, -27.6337, -20.6335}
    };

    private final Linkage left = Linkage.of(Corners.doubleArm("left", false));
    private final WheelGeometry leftWheel = new WheelGeometry(left, Corners.doubleArmWheel(false), RADIUS);

    private static void go(Linkage linkage, double... q) {
        assertThat(linkage.solve(q).solved()).as(java.util.Arrays.toString(q)).isTrue();
    }

    private static String at(double value) {
        return String.format(Locale.ROOT, "%+.1f", value);
    }

    private static void sk1(String what, double expected, double got, double tolerance) {
        Checks.record("SK-1", "wheel geometry, " + what, SK1_SOURCE, SK1_MARK, expected, got, tolerance);
    }

    @Test
    void travelStraightAheadGivesTheTextbookCorner() {
        for (double[] row : TRAVEL) {
            go(left, row[0], 0);
            WheelAttitude a = leftWheel.attitude();
            WheelAttitude.Axis axis = a.steeringAxis().orElseThrow();
            String z = "z " + at(row[0]) + " mm: ";
            sk1(z + "inclination, deg", row[2], a.inclinationDeg(), ANGLE);
            sk1(z + "toe-in, deg", row[3], a.toeInDeg(), ANGLE);
            sk1(z + "wheel centre dx, mm", row[4], a.centre().x(), FIVE_DECIMALS);
            sk1(z + "wheel centre dy, mm", row[5], a.centre().y() - 768, FIVE_DECIMALS);
            sk1(z + "caster, deg", row[6], axis.casterDeg(), FIVE_DECIMALS);
            sk1(z + "steering-axis inclination, deg", row[7], axis.inclinationDeg(), FIVE_DECIMALS);
            // The page says: camber by the ISO 8855 wording equals the inclination to 1e-5 at small toe.
            assertThat(a.camberDeg()).as(z).isCloseTo(a.inclinationDeg(), within(3e-5));
        }
    }

    @Test
    void rackTravelGivesTheTextbookCorner() {
        for (double[] row : STEER) {
            go(left, row[0], row[1]);
            WheelAttitude a = leftWheel.attitude();
            String zu = "z " + at(row[0]) + ", rack " + at(row[1]) + " mm: ";
            sk1(zu + "steer, deg", row[2], a.steerDeg(), ANGLE);
            sk1(zu + "inclination, deg", row[3], a.inclinationDeg(), ANGLE);
            sk1(zu + "wheel centre dx, mm", row[4], a.centre().x(), FOUR_DECIMALS);
            sk1(zu + "wheel centre dy, mm", row[5], a.centre().y() - 768, FOUR_DECIMALS);
        }
    }

    @Test
    void rideHeightGivesTrailScrubAndSlopes() {
        go(left, 0, 0);
        WheelAttitude.Axis axis = leftWheel.attitude().steeringAxis().orElseThrow();
        WheelSlopes s = leftWheel.slopes(STRAIGHT).perWheelTravel();
        sk1("ride height: caster, deg", 7.056096, axis.casterDeg(), ANGLE);
        sk1("ride height: steering-axis inclination, deg", 10.518207, axis.inclinationDeg(), ANGLE);
        sk1("ride height: caster trail at ground, mm", 32.185668, axis.trailMm(), ANGLE);
        sk1("ride height: scrub radius, mm", 2.221498, axis.scrubRadiusMm(), ANGLE);
        // The axis is 4.947883 behind and 57.921824 inboard of the wheel centre.
        sk1("ride height: castor offset at wheel centre, mm", -4.947883, axis.trailAtCentreMm(), ANGLE);
        sk1("ride height: axis offset at wheel centre, mm", 57.921824, axis.offsetAtCentreMm(), ANGLE);
        sk1("ride height: inclination slope, deg/m", 9.495071, 1000 * s.inclinationDeg(), ANGLE);
        sk1("ride height: bump steer, deg/m", 2.048228, 1000 * s.toeInDeg(), ANGLE);
        sk1("ride height: dx/dz", -0.049894, s.centre().x(), ANGLE);
        sk1("ride height: dy/dz", 0.159879, s.centre().y(), ANGLE);
    }

    @Test
    void rideHeightGivesTheRollCentre() {
        Linkage right = Linkage.of(Corners.doubleArm("right", true));
        WheelGeometry rightWheel = new WheelGeometry(right, Corners.doubleArmWheel(true), RADIUS);
        go(left, 0, 0);
        go(right, 0, 0);
        AxleGeometry.RollCentre centre = AxleGeometry.rollCentre(
                        leftWheel.attitude().contact(),
                        leftWheel.slopes(STRAIGHT).contact(),
                        rightWheel.attitude().contact(),
                        rightWheel.slopes(STRAIGHT).contact())
                .orElseThrow();
        sk1("ride height: kinematic roll centre height, mm", 84.6054, centre.heightMm(), FOUR_DECIMALS);
        assertThat(centre.acrossMm()).isCloseTo(0, within(1e-9));
    }

    @Test
    void theRightCornerIsTheMirrorImageOfTheLeft() {
        Linkage right = Linkage.of(Corners.doubleArm("right", true));
        WheelGeometry rightWheel = new WheelGeometry(right, Corners.doubleArmWheel(true), RADIUS);
        for (double z : new double[] {-60, -15, 0, 40}) {
            for (double u : new double[] {-50, 0, 20}) {
                go(left, z, u);
                go(right, z, -u);
                WheelAttitude a = leftWheel.attitude();
                WheelAttitude b = rightWheel.attitude();
                WheelSlopes p = leftWheel.slopes(STRAIGHT);
                WheelSlopes q = rightWheel.slopes(STRAIGHT);
                String as = "z " + z + " u " + u;
                assertThat(b.camberDeg()).as(as).isCloseTo(a.camberDeg(), within(1e-9));
                assertThat(b.toeInDeg()).as(as).isCloseTo(a.toeInDeg(), within(1e-9));
                assertThat(b.steerDeg()).as(as).isCloseTo(-a.steerDeg(), within(1e-9));
                WheelAttitude.Axis x = a.steeringAxis().orElseThrow();
                WheelAttitude.Axis y = b.steeringAxis().orElseThrow();
                assertThat(y.casterDeg()).as(as).isCloseTo(x.casterDeg(), within(1e-9));
                assertThat(y.inclinationDeg()).as(as).isCloseTo(x.inclinationDeg(), within(1e-9));
                assertThat(y.trailMm()).as(as).isCloseTo(x.trailMm(), within(1e-8));
                assertThat(y.scrubRadiusMm()).as(as).isCloseTo(x.scrubRadiusMm(), within(1e-8));
                assertThat(q.toeInDeg()).as(as).isCloseTo(p.toeInDeg(), within(1e-11));
                assertThat(q.camberDeg()).as(as).isCloseTo(p.camberDeg(), within(1e-11));
                assertThat(q.frontSwingArmMm(b).orElseThrow())
                        .as(as)
                        .isCloseTo(p.frontSwingArmMm(a).orElseThrow(), within(1e-5));
                assertThat(q.sideSwingArmMm(b, true).orElseThrow())
                        .as(as)
                        .isCloseTo(p.sideSwingArmMm(a, true).orElseThrow(), within(1e-4));
            }
        }
    }

    /** Central differences of a solved position, whose rounding near 1e-9 mm over 1e-3 mm leaves 1e-6. */
    @Test
    void slopesAgreeWithFiniteDifferences() {
        double step = 1e-3;
        double[][] ways = {{1, 0}, {0, 1}, {0.6, -0.8}};
        for (double[] q : new double[][] {{0, 0}, {-55, 30}, {35, -60}}) {
            for (double[] way : ways) {
                go(left, q[0] - step * way[0], q[1] - step * way[1]);
                WheelAttitude before = leftWheel.attitude();
                go(left, q[0] + step * way[0], q[1] + step * way[1]);
                WheelAttitude after = leftWheel.attitude();
                go(left, q);
                WheelSlopes s = leftWheel.slopes(way);
                String as = java.util.Arrays.toString(q) + " along " + java.util.Arrays.toString(way);
                double per = 1 / (2 * step);
                assertThat(s.camberDeg())
                        .as(as)
                        .isCloseTo((after.camberDeg() - before.camberDeg()) * per, within(1e-6));
                assertThat(s.inclinationDeg())
                        .as(as)
                        .isCloseTo((after.inclinationDeg() - before.inclinationDeg()) * per, within(1e-6));
                assertThat(s.toeInDeg()).as(as).isCloseTo((after.toeInDeg() - before.toeInDeg()) * per, within(1e-6));
                assertThat(s.centre().x())
                        .as(as)
                        .isCloseTo((after.centre().x() - before.centre().x()) * per, within(1e-6));
                assertThat(s.centre().y())
                        .as(as)
                        .isCloseTo((after.centre().y() - before.centre().y()) * per, within(1e-6));
                WheelAttitude.Axis x = before.steeringAxis().orElseThrow();
                WheelAttitude.Axis y = after.steeringAxis().orElseThrow();
                WheelSlopes.AxisSlopes axis = s.axis().orElseThrow();
                assertThat(axis.casterDeg()).as(as).isCloseTo((y.casterDeg() - x.casterDeg()) * per, within(1e-6));
                assertThat(axis.inclinationDeg())
                        .as(as)
                        .isCloseTo((y.inclinationDeg() - x.inclinationDeg()) * per, within(1e-6));
            }
        }
    }

    @Test
    void doubleArmInTheFrontViewHasTheConstructedCentres() {
        double[] wheel = {700, 300};
        Linkage linkage = Linkage.of(Corners.frontView(
                new double[] {300, 180},
                new double[] {650, 170},
                new double[] {380, 400},
                new double[] {620, 420},
                wheel,
                60));
        WheelGeometry geometry =
                new WheelGeometry(linkage, Corners.plainWheel(Corners.KNUCKLE, Corners.flat(0, wheel)), RADIUS);
        // z, lower arm swing, camber, wheel centre y, instant centre y, z, roll centre
        double[][] rows = {
            {-60, -9.743380, 1.021208, 695.56809, -5685.7943, 1384.7689, 157.4797},
            {-30, -4.831523, 0.628641, 699.33738, -2656.6009, 515.1947, 113.6121},
            {0, 0, 0, 700, -1606.3830, 234.4681, 71.1624},
            {30, 4.789735, -0.865370, 697.64364, -1040.8234, 106.1359, 30.5532},
            {60, 9.572796, -1.987097, 692.25155, -670.6327, 44.6881, -7.7774}
        };
        for (double[] row : rows) {
            go(linkage, row[0]);
            WheelAttitude a = geometry.attitude();
            WheelSlopes s = geometry.slopes(new double[] {1});
            WheelSlopes.InstantCentre ic = s.frontInstantCentre(a).orElseThrow();
            String z = "z " + at(row[0]) + " mm: ";
            sk2(z + "camber, deg", row[2], a.camberDeg(), SIX_DECIMALS);
            sk2(z + "wheel centre y, mm", row[3], a.centre().y(), FIVE_DECIMALS);
            sk2(z + "instant centre y, mm", row[4], ic.acrossMm(), FOUR_DECIMALS);
            sk2(z + "instant centre z, mm", row[5], ic.upMm(), FOUR_DECIMALS);
            // The construction takes the contact 300 straight below the wheel centre, as a spot of the knuckle.
            Spot below = a.centre().plus(0, 0, -RADIUS);
            Rate rate = new Rate(
                    0, s.centre().y() + s.turn().x() * RADIUS, s.centre().z());
            AxleGeometry.RollCentre roll = AxleGeometry.rollCentre(
                            below, rate, below.mirrored(), new Rate(0, -rate.y(), rate.z()))
                    .orElseThrow();
            sk2(z + "roll centre height, mm", row[6], roll.heightMm(), FOUR_DECIMALS);
        }
        go(linkage, 0);
        WheelSlopes s = geometry.slopes(new double[] {1});
        sk2(
                "front-view swing arm, mm",
                2306.382979,
                s.frontSwingArmMm(geometry.attitude()).orElseThrow(),
                SIX_DECIMALS);
        sk2("camber slope, deg/mm", -0.024842266, s.camberDeg(), 1e-9);
    }

    private static void sk2(String what, double expected, double got, double tolerance) {
        Checks.record("SK-2", "wheel geometry, " + what, MILLIKEN + "; " + OWN, MEMORY_MARK, expected, got, tolerance);
    }

    @Test
    void trailingArmKeepsCamberAndToe() {
        Spot wheel = new Spot(-400, 600, 0);
        Linkage linkage = Linkage.of(Corners.oneArm(new Spot(0, 300, 0), new Spot(0, 500, 0), wheel, 90));
        WheelGeometry geometry = new WheelGeometry(linkage, Corners.plainWheel("arm", wheel), RADIUS);
        double worst = 0;
        for (double z = -90; z <= 90; z += 7.5) {
            go(linkage, z);
            WheelAttitude a = geometry.attitude();
            worst = Math.max(worst, Math.max(Math.abs(a.camberDeg()), Math.abs(a.toeInDeg())));
        }
        sk4("(a) trailing arm: most camber or toe over +-90 mm, deg", 0, worst, 1e-9);
        go(linkage, 0);
        assertThat(geometry.slopes(new double[] {1}).frontSwingArmMm(geometry.attitude()))
                .as("its front-view instant centre is at infinity")
                .isEmpty();
        assertThat(geometry.slopes(new double[] {1})
                        .sideSwingArmMm(geometry.attitude(), false)
                        .orElseThrow())
                .as("its side-view centre is its own pivot")
                .isCloseTo(400, within(1e-9));
    }

    @Test
    void swingAxleLeansByItsArcsine() {
        Spot wheel = new Spot(0, 650, 0);
        Linkage linkage = Linkage.of(Corners.oneArm(new Spot(-50, 50, 0), new Spot(50, 50, 0), wheel, 90));
        WheelGeometry geometry = new WheelGeometry(linkage, Corners.plainWheel("arm", wheel), RADIUS);
        double[][] rows = {{25, -2.388015}, {50, -4.780192}, {75, -7.180756}};
        for (double[] row : rows) {
            go(linkage, row[0]);
            sk4(
                    "(b) swing axle 600 mm, z " + at(row[0]) + " mm: camber, deg",
                    row[1],
                    geometry.attitude().camberDeg(),
                    SIX_DECIMALS);
        }
    }

    @Test
    void semiTrailingArmFollowsItsClosedForm() {
        double s = Math.toRadians(20);
        Spot wheel = new Spot(-400, 250, 0);
        // The axis (sin s, cos s, 0) through the origin.
        Linkage linkage = Linkage.of(Corners.oneArm(
                new Spot(-100 * Math.sin(s), -100 * Math.cos(s), 0),
                new Spot(100 * Math.sin(s), 100 * Math.cos(s), 0),
                wheel,
                60));
        WheelGeometry geometry = new WheelGeometry(linkage, Corners.plainWheel("arm", wheel), RADIUS);
        double[][] rows = {
            {30, -1.274297, 0.038978}, {60, -2.549225, 0.156527}, {-30, 1.274297, 0.038978}, {-60, 2.549225, 0.156527}
        };
        for (double[] row : rows) {
            go(linkage, row[0]);
            WheelAttitude a = geometry.attitude();
            String z = "(c) semi-trailing arm 20 deg, z " + at(row[0]) + " mm: ";
            sk4(z + "inclination, deg", row[1], a.inclinationDeg(), SIX_DECIMALS);
            sk4(z + "toe-in, deg", row[2], a.toeInDeg(), SIX_DECIMALS);
        }
    }

    private static void sk4(String what, double expected, double got, double tolerance) {
        Checks.record("SK-4", "wheel geometry, " + what, OWN, OWN_MARK, expected, got, tolerance);
    }

    /** A knuckle that only turns about its steering axis. */
    private static double[] steered(double casterDeg, double axisInclinationDeg, double turnDeg) {
        double ax = -Math.tan(Math.toRadians(casterDeg));
        double ay = -Math.tan(Math.toRadians(axisInclinationDeg));
        Spot lower = new Spot(0, 700, 0);
        Spot upper = new Spot(100 * ax, 700 + 100 * ay, 100);
        Spot wheel = new Spot(0, 760, 50);
        Linkage linkage = Linkage.of(new Mechanism(
                "kingpin",
                List.of(Corners.KNUCKLE),
                List.of(new Joint.Hinge("kingpin", Mechanism.GROUND, Corners.KNUCKLE, lower, upper)),
                List.of(new Driver.Turn("turn", Corners.KNUCKLE, lower, upper, -1, 1)),
                List.of()));
        WheelGeometry geometry = new WheelGeometry(
                linkage,
                new Readout.Wheel(
                        "wheel",
                        Corners.KNUCKLE,
                        wheel,
                        Direction.LEFT,
                        Optional.of(new Readout.SteeringAxis(
                                new Readout.End(Corners.KNUCKLE, lower), new Readout.End(Corners.KNUCKLE, upper))),
                        "none",
                        Optional.of("turn")),
                RADIUS);
        go(linkage, Math.toRadians(turnDeg));
        WheelAttitude a = geometry.attitude();
        assertThat(a.steeringAxis().orElseThrow().casterDeg()).isCloseTo(casterDeg, within(1e-9));
        assertThat(a.steeringAxis().orElseThrow().inclinationDeg()).isCloseTo(axisInclinationDeg, within(1e-9));
        return new double[] {a.steerDeg(), a.inclinationDeg()};
    }

    @Test
    void casterAndAxisInclinationLeanTheSteeredWheel() {
        // caster, axis inclination, steer, turn about the axis, inclination
        double[][] rows = {
            {5, 0, 20, 20.070309, 1.713944},
            {5, 0, -20, -20.070309, -1.713944},
            {0, 10, 20, 20.320835, 0.609822},
            {0, 10, -20, -20.320835, 0.609822},
            {5, 10, 20, 20.441312, 2.330807},
            {5, 10, -20, -20.339046, -1.103173}
        };
        for (double[] row : rows) {
            double[] got = steered(row[0], row[1], row[3]);
            String what = String.format(
                    Locale.ROOT,
                    "caster %.0f, axis inclination %.0f, turned %+.6f deg about the axis: ",
                    row[0],
                    row[1],
                    row[3]);
            sk5(what + "steer, deg", row[2], got[0]);
            sk5(what + "inclination, deg", row[4], got[1]);
        }
        double left = steered(5, 10, 20.441312)[1];
        double right = steered(5, 10, -20.339046)[1];
        double rule = (left - right) / (2 * Math.sin(Math.toRadians(20)));
        Checks.record(
                "SK-5",
                "wheel geometry, alignment-rack rule on the last two rows: caster, deg (true 5)",
                "rule in every alignment manual (common practice)",
                "recomputed; source from memory",
                5.020,
                rule,
                0.0005);
    }

    private static void sk5(String what, double expected, double got) {
        Checks.record(
                "SK-5",
                "wheel geometry, " + what,
                "rotation about an axis",
                "recomputed; factor's source from memory",
                expected,
                got,
                SIX_DECIMALS);
    }

    @Test
    void camberPerInchFollowsFromTheSwingArm() {
        double[][] rows = {{40, 1.432096}, {60, 0.954841}, {100, 0.572939}};
        for (double[] row : rows) {
            double arm = row[0] * 25.4;
            Spot wheel = new Spot(0, 700, 0);
            Linkage linkage =
                    Linkage.of(Corners.oneArm(new Spot(-50, 700 - arm, 0), new Spot(50, 700 - arm, 0), wheel, 60));
            WheelGeometry geometry = new WheelGeometry(linkage, Corners.plainWheel("arm", wheel), RADIUS);
            go(linkage, 0);
            double swingArm = geometry.slopes(new double[] {1})
                    .frontSwingArmMm(geometry.attitude())
                    .orElseThrow();
            Checks.record(
                    "SK-6",
                    String.format(Locale.ROOT, "wheel geometry, swing arm %.0f in: atan(1 in / arm), deg", row[0]),
                    MILLIKEN,
                    "recomputed; source from memory",
                    row[1],
                    Math.toDegrees(Math.atan(25.4 / swingArm)),
                    SIX_DECIMALS);
        }
    }

    @Test
    void parallelArmsOfOneLengthPutTheRollCentreOnTheGround() {
        double[] wheel = {700, 300};
        Linkage linkage = Linkage.of(Corners.frontView(
                new double[] {350, 180},
                new double[] {650, 180},
                new double[] {350, 420},
                new double[] {650, 420},
                wheel,
                80));
        WheelGeometry geometry =
                new WheelGeometry(linkage, Corners.plainWheel(Corners.KNUCKLE, Corners.flat(0, wheel)), RADIUS);
        double[][] rows = {{25, 1.043481}, {50, 4.196011}, {75, 9.526249}};
        for (double[] row : rows) {
            go(linkage, row[0]);
            WheelAttitude a = geometry.attitude();
            sk10(
                    "parallel arms 300 mm, z " + at(row[0]) + " mm: wheel moves in, mm",
                    row[1],
                    700 - a.centre().y());
            sk10("parallel arms 300 mm, z " + at(row[0]) + " mm: camber, deg", 0, a.camberDeg());
        }
        go(linkage, 0);
        WheelAttitude a = geometry.attitude();
        WheelSlopes s = geometry.slopes(new double[] {1});
        assertThat(s.frontInstantCentre(a)).as("instant centre at infinity").isEmpty();
        AxleGeometry.RollCentre roll = AxleGeometry.rollCentre(
                        a.contact(),
                        s.contact(),
                        a.contact().mirrored(),
                        new Rate(s.contact().x(), -s.contact().y(), s.contact().z()))
                .orElseThrow();
        sk10("level parallel arms: roll centre height, mm", 0, roll.heightMm());
    }

    private static void sk10(String what, double expected, double got) {
        Checks.record("SK-10", "wheel geometry, " + what, OWN, "recomputed (exact)", expected, got, SIX_DECIMALS);
    }

    @Test
    void signsAreThoseOfTheStandard() {
        String source = "ISO 8855:2011, 7.1.6 to 7.1.8";
        String mark = "seen (extract of clause 7)";
        for (boolean right : new boolean[] {false, true}) {
            Linkage linkage = Linkage.of(Corners.doubleArm("corner", right));
            WheelGeometry wheel = new WheelGeometry(linkage, Corners.doubleArmWheel(right), RADIUS);
            String side = right ? "right" : "left";
            // The rack is behind the axle: rack to the right turns both wheels to the left.
            go(linkage, 0, -20);
            WheelAttitude a = wheel.attitude();
            Checks.record(
                    "SK-11",
                    "wheel geometry, " + side + " wheel turned to the left: sign of steer",
                    source,
                    mark,
                    "+",
                    sign(a.steerDeg()));
            Checks.record(
                    "SK-11",
                    "wheel geometry, " + side + " wheel turned to the left: sign of toe (toe-in positive)",
                    source,
                    mark,
                    right ? "+" : "-",
                    sign(a.toeInDeg()));
        }
    }

    private static String sign(double value) {
        return value > 0 ? "+" : value < 0 ? "-" : "0";
    }
}
