package daylight.linkage;

import static daylight.linkage.Samples.SK1;
import static daylight.linkage.Samples.spot;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.geometry.Direction;
import daylight.geometry.Spot;
import org.junit.jupiter.api.Test;

/**
 * SK-1: double A-arm with rack, textbook hardpoints (Rill and Castro, Road Vehicle Dynamics: Fundamentals and Modeling
 * with MATLAB, 2nd ed. 2020, chapter on suspension systems, double wishbone listing). Hardpoints, rack travel and arm
 * swing: seen (public source); results recomputed by two independent methods; book and chapter from memory.
 */
class DoubleArmCornerTest {
    private static final int LOWER_ARM = 0;
    private static final int KNUCKLE = 2;
    /** Half a unit of the last printed digit of SK-1's angles, degrees; and of its lengths, mm. */
    private static final double DEGREES = 0.6e-6;

    private static final double MM = 0.6e-5;

    private final Linkage linkage = Linkage.of(Samples.doubleArm(SK1));

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

    // u, steer, inclination, dx, dy
    private static final double[][] STEER = {
        {10, -4.119603, -0.484652, 4.1694, -0.5738},
        {20, -8.188123, -0.903931, 8.2363, -1.4240},
        {30, -12.231137, -1.260688, 12.2073, -2.5421},
        {40, -16.270223, -1.556368, 16.0845, -3.9244},
        {50, -20.324255, -1.791293, 19.8668, -5.5703},
        {60, -24.410298, -1.964847, 23.5495, -7.4822},
        {70, -28.544232, -2.075584, 27.1247, -9.6648},
        {74.5, -30.424184, -2.104362, 28.6956, -10.7370},
        {-10, 4.202285, 0.554747, -4.2835, 0.2828},
        {-20, 8.528172, 1.186964, -8.6997, 0.2513},
        {-30, 13.033680, 1.908065, -13.2776, -0.1317},
        {-40, 17.800977, 2.736165, -18.0636, -0.9255},
        {-50, 22.962122, 3.701801, -23.1355, -2.2311},
        {-60, 28.759856, 4.862506, -28.6404, -4.2393},
        {-70, 35.756805, 6.352649, -34.9231, -7.3964},
        {-74.5, 39.702065, 7.227231, -38.2530, -9.5119}
    };

    // z, u, steer, inclination, dx, dy
    private static final double[][] BOTH = {
        {40, 30, -12.019293, -1.389301, 9.9671, 1.3997},
        {-40, 30, -12.529548, -1.685222, 14.5884, -11.9805},
        {40, -30, 12.659090, 2.262877, -14.9656, 3.4509},
        {-60, -60, 31.125861, 3.146334, -27.6337, -20.6335}
    };

    // z, u, C, F, Q, e
    private static final double[][] WHOLE = {
        {
            60,
            0,
            15.12468,
            740.67551,
            -84.44662,
            -33.83940,
            683.77976,
            221.01597,
            -136.88819,
            693.95862,
            -32.79762,
            0.00184751,
            0.99999829,
            -0.00004547
        },
        {
            -60,
            0,
            10.85724,
            724.16270,
            -206.06863,
            -15.81418,
            659.80948,
            100.67116,
            -136.84087,
            675.27798,
            -144.80239,
            -0.00285027,
            0.99971589,
            0.02366473
        },
        {
            0,
            30,
            12.96247,
            736.85563,
            -146.06965,
            -24.84184,
            679.79941,
            160.94407,
            -141.37083,
            720.80527,
            -83.76701,
            0.21180466,
            0.97706434,
            0.02200139
        },
        {
            0,
            -30,
            13.06116,
            737.22928,
            -143.25683,
            -25.25758,
            680.31639,
            163.71971,
            -124.95450,
            658.80713,
            -90.72453,
            -0.22539874,
            0.97369749,
            -0.03329587
        },
        {
            40,
            30,
            14.37116,
            740.37626,
            -105.92204,
            -30.72877,
            684.09183,
            200.24795,
            -141.38453,
            724.01805,
            -47.35092,
            0.20817983,
            0.97779001,
            0.02424551
        },
        {
            -40,
            -30,
            11.62628,
            729.86583,
            -184.15102,
            -19.15365,
            669.25966,
            122.96701,
            -124.44760,
            649.61406,
            -129.36458,
            -0.23476970,
            0.97189647,
            -0.01733296
        }
    };

    private static final String SOURCE =
            "Rill and Castro, Road Vehicle Dynamics, 2nd ed. 2020, double wishbone listing";
    private static final String MARK = "hardpoints seen; results recomputed in two ways";

    private static void check(String what, double expected, double got, double tolerance) {
        daylight.validation.Checks.record("SK-1", what, SOURCE, MARK, expected, got, tolerance);
    }

    private Direction spindle() {
        return linkage.where(KNUCKLE, Direction.LEFT);
    }

    private double inclination() {
        return Math.toDegrees(-Math.asin(spindle().z()));
    }

    private double toe() {
        return Math.toDegrees(Math.atan2(spindle().x(), spindle().y()));
    }

    private void go(double z, double u) {
        assertThat(linkage.solve(new double[] {z, u})).as("z %s u %s", z, u).isInstanceOf(Outcome.Solved.class);
    }

    @Test
    void straightAheadTravelGivesTheTable() {
        for (double[] row : TRAVEL) {
            go(row[0], 0);
            String as = "z = " + row[0];
            Spot c = linkage.where(LOWER_ARM, spot(SK1[3]));
            Spot w = linkage.where(KNUCKLE, spot(SK1[0]));
            Spot f = linkage.where(KNUCKLE, spot(SK1[6]));
            Spot lower = linkage.where(KNUCKLE, spot(SK1[3]));
            assertThat(c.distanceTo(lower)).as(as).isLessThan(1e-9);
            check(as + " swing", row[1], swing(linkage.pose(LOWER_ARM)), DEGREES);
            check(as + " inclination", row[2], inclination(), DEGREES);
            check(as + " toe", row[3], toe(), DEGREES);
            check(as + " dx", row[4], w.x(), MM);
            check(as + " dy", row[5], w.y() - 768, MM);
            assertThat(w.z()).as(as).isCloseTo(row[0], within(1e-9));
            check(as + " caster", row[6], Math.toDegrees(Math.atan2(c.x() - f.x(), f.z() - c.z())), MM);
            check(as + " axis inclination", row[7], Math.toDegrees(Math.atan2(c.y() - f.y(), f.z() - c.z())), MM);
        }
    }

    /** Turn of the lower arm about its axis, up positive, degrees. */
    private static double swing(daylight.geometry.Pose pose) {
        double sine = 0.5
                * Math.sqrt(Math.pow(pose.rzy() - pose.ryz(), 2)
                        + Math.pow(pose.rxz() - pose.rzx(), 2)
                        + Math.pow(pose.ryx() - pose.rxy(), 2));
        double sign = Math.signum(pose.rzy() - pose.ryz());
        return Math.toDegrees(sign * Math.asin(sine));
    }

    @Test
    void rackTravelAtRideHeightGivesTheTable() {
        for (double[] row : STEER) {
            go(0, row[0]);
            String as = "u = " + row[0];
            Spot w = linkage.where(KNUCKLE, spot(SK1[0]));
            // A left wheel: heading to the left is toe-out.
            check(as + " steer", row[1], -toe(), DEGREES);
            check(as + " inclination", row[2], inclination(), DEGREES);
            check(as + " dx", row[3], w.x(), 0.6e-4);
            check(as + " dy", row[4], w.y() - 768, 0.6e-4);
        }
    }

    @Test
    void bothAtOnceGiveTheTable() {
        for (double[] row : BOTH) {
            go(row[0], row[1]);
            String as = "z, u = " + row[0] + ", " + row[1];
            Spot w = linkage.where(KNUCKLE, spot(SK1[0]));
            check(as + " steer", row[2], -toe(), DEGREES);
            check(as + " inclination", row[3], inclination(), DEGREES);
            check(as + " dx", row[4], w.x(), 0.6e-4);
            check(as + " dy", row[5], w.y() - 768, 0.6e-4);
        }
    }

    @Test
    void wholePositionsGiveTheTable() {
        int[] points = {3, 6, 8};
        for (double[] row : WHOLE) {
            go(row[0], row[1]);
            String as = "z, u = " + row[0] + ", " + row[1];
            for (int k = 0; k < 3; k++) {
                Spot p = linkage.where(KNUCKLE, spot(SK1[points[k]]));
                check(as + " point " + "CFQ".charAt(k) + " x", row[2 + 3 * k], p.x(), MM);
                check(as + " point " + "CFQ".charAt(k) + " y", row[3 + 3 * k], p.y(), MM);
                check(as + " point " + "CFQ".charAt(k) + " z", row[4 + 3 * k], p.z(), MM);
            }
            Direction e = spindle();
            check(as + " spindle x", row[11], e.x(), 0.6e-8);
            check(as + " spindle y", row[12], e.y(), 0.6e-8);
            check(as + " spindle z", row[13], e.z(), 0.6e-8);
        }
    }

    @Test
    void armSwingOfTenDegreesGivesTheTable() {
        // z, inclination, toe at +10 and -10 degrees of lower arm swing
        double[][] rows = {{10, 72.59177, -0.127249, 0.125281}, {-10, -70.19860, -1.798134, -0.204581}};
        for (double[] row : rows) {
            go(row[1], 0);
            String as = "lower arm swing " + row[0];
            check(as, row[0], swing(linkage.pose(LOWER_ARM)), 2e-6);
            check(as + " inclination", row[2], inclination(), 2e-6);
            check(as + " toe", row[3], toe(), 2e-6);
        }
    }

    @Test
    void slopesAtRideHeightComeFromTheTwist() {
        go(0, 0);
        double[] t = new double[6];
        linkage.twist(KNUCKLE, 0, t);
        Spot r = linkage.reference(KNUCKLE);
        double px = 0 - r.x();
        double py = 768 - r.y();
        double pz = 0 - r.z();
        // Spindle (0, 1, 0): de/dz = omega x e = (-omegaZ, 0, omegaX).
        check("slope of inclination, degrees per metre", 9.495071, Math.toDegrees(-t[0]) * 1000, DEGREES);
        check("slope of toe, degrees per metre", 2.048228, Math.toDegrees(-t[2]) * 1000, DEGREES);
        check("slope dx/dz", -0.049894, t[3] + t[1] * pz - t[2] * py, 0.6e-6);
        check("slope dy/dz", 0.159879, t[4] + t[2] * px - t[0] * pz, 0.6e-6);
        assertThat(t[5] + t[0] * py - t[1] * px).isCloseTo(1, within(1e-12));
    }

    @Test
    void theCornerIsSixUnknownsAndThreeFollowers() {
        assertThat(linkage.systems())
                .containsExactly(
                        java.util.List.of("rack"),
                        java.util.List.of("knuckle"),
                        java.util.List.of("lower arm"),
                        java.util.List.of("upper arm"),
                        java.util.List.of("tie rod"));
    }
}
