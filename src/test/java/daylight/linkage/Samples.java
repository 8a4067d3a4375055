package daylight.linkage;

import daylight.geometry.Direction;
import daylight.geometry.Spot;
import daylight.linkage.Mechanism.Driver;
import daylight.linkage.Mechanism.Follower;
import daylight.linkage.Mechanism.Joint;
import java.util.List;
import java.util.random.RandomGenerator;

/** Mechanisms for the tests of this package. */
final class Samples {
    /** The points of SK-1 in mm: W, A, B, C, D, E, F, R, Q. */
    static final double[][] SK1 = {
        {0, 768, 0},
        {-251, 320, -80},
        {148, 320, -94},
        {13, 737, -145},
        {-105, 435, 196},
        {122, 435, 230},
        {-25, 680, 162},
        {-150, 380, -38},
        {-137, 690, -88}
    };

    private Samples() {}

    static Spot spot(double[] p) {
        return new Spot(p[0], p[1], p[2]);
    }

    /** Bodies: lower arm, upper arm, knuckle, tie rod, rack. Drivers: travel, steer. */
    static Mechanism doubleArm(double[][] p) {
        return new Mechanism(
                "front left",
                List.of("lower arm", "upper arm", "knuckle", "tie rod", "rack"),
                List.of(
                        new Joint.Hinge("lower arm pivots", Mechanism.GROUND, "lower arm", spot(p[1]), spot(p[2])),
                        new Joint.Ball("lower ball joint", "lower arm", "knuckle", spot(p[3])),
                        new Joint.Hinge("upper arm pivots", Mechanism.GROUND, "upper arm", spot(p[4]), spot(p[5])),
                        new Joint.Ball("upper ball joint", "upper arm", "knuckle", spot(p[6])),
                        new Joint.Rod("tie rod", "rack", spot(p[7]), "knuckle", spot(p[8]))),
                List.of(
                        new Driver.Rise("travel", "knuckle", spot(p[0]), -80, 80),
                        new Driver.Travel("steer", "rack", Direction.LEFT, -74.5, 74.5)),
                List.of(new Follower.Aim("tie rod", "rack", spot(p[7]), "knuckle", spot(p[8]))));
    }

    /** The corner of SK-1 with every coordinate moved by up to the given amount. */
    static double[][] shaken(RandomGenerator random, double byMm) {
        double[][] p = new double[SK1.length][3];
        for (int k = 0; k < p.length; k++) {
            for (int c = 0; c < 3; c++) {
                p[k][c] = SK1[k][c] + byMm * (2 * random.nextDouble() - 1);
            }
        }
        return p;
    }
}
