package daylight.motion;

import daylight.car.Readout;
import daylight.geometry.Direction;
import daylight.geometry.Spot;
import daylight.linkage.Mechanism;
import daylight.linkage.Mechanism.Driver;
import daylight.linkage.Mechanism.Joint;
import java.util.List;
import java.util.Optional;

/** Mechanisms with wheels for the tests of wheel geometry. */
final class Corners {
    static final String KNUCKLE = "knuckle";

    private Corners() {}

    /** The left front corner of SK-1; z of all points raised by a height, mirrored on demand. */
    static Mechanism doubleArm(String name, boolean right) {
        return new Mechanism(
                name,
                List.of("lower arm", "upper arm", KNUCKLE, "rack"),
                List.of(
                        new Joint.Hinge(
                                "lower arm pivots",
                                Mechanism.GROUND,
                                "lower arm",
                                spot(-251, 320, -80, right),
                                spot(148, 320, -94, right)),
                        new Joint.Ball("lower ball joint", "lower arm", KNUCKLE, spot(13, 737, -145, right)),
                        new Joint.Hinge(
                                "upper arm pivots",
                                Mechanism.GROUND,
                                "upper arm",
                                spot(-105, 435, 196, right),
                                spot(122, 435, 230, right)),
                        new Joint.Ball("upper ball joint", "upper arm", KNUCKLE, spot(-25, 680, 162, right)),
                        new Joint.Rod(
                                "tie rod", "rack", spot(-150, 380, -38, right), KNUCKLE, spot(-137, 690, -88, right))),
                List.of(
                        new Driver.Rise("travel", KNUCKLE, spot(0, 768, 0, right), -80, 80),
                        new Driver.Travel("steer", "rack", Direction.LEFT, -74.5, 74.5)),
                List.of());
    }

    static Readout.Wheel doubleArmWheel(boolean right) {
        return new Readout.Wheel(
                "wheel",
                KNUCKLE,
                spot(0, 768, 0, right),
                right ? Direction.LEFT.reversed() : Direction.LEFT,
                Optional.of(new Readout.SteeringAxis(
                        new Readout.End(KNUCKLE, spot(13, 737, -145, right)),
                        new Readout.End(KNUCKLE, spot(-25, 680, 162, right)))),
                "travel",
                Optional.of("steer"));
    }

    /** A double arm that moves only in the front view; (y, z) above the ground. */
    static Mechanism frontView(
            double[] lowerIn, double[] lowerOut, double[] upperIn, double[] upperOut, double[] wheel, double travel) {
        return new Mechanism(
                "front view",
                List.of("lower arm", KNUCKLE),
                List.of(
                        new Joint.Hinge(
                                "lower pivots", Mechanism.GROUND, "lower arm", flat(-50, lowerIn), flat(50, lowerIn)),
                        new Joint.Hinge(
                                "lower ball joints", "lower arm", KNUCKLE, flat(-50, lowerOut), flat(50, lowerOut)),
                        new Joint.Rod("upper arm", Mechanism.GROUND, flat(0, upperIn), KNUCKLE, flat(0, upperOut))),
                List.of(new Driver.Rise("travel", KNUCKLE, flat(0, wheel), -travel, travel)),
                List.of());
    }

    /** A wheel on one arm that turns about one fixed axis. */
    static Mechanism oneArm(Spot first, Spot second, Spot wheel, double travel) {
        return new Mechanism(
                "one arm",
                List.of("arm"),
                List.of(new Joint.Hinge("arm pivots", Mechanism.GROUND, "arm", first, second)),
                List.of(new Driver.Rise("travel", "arm", wheel, -travel, travel)),
                List.of());
    }

    static Readout.Wheel plainWheel(String body, Spot centre) {
        return new Readout.Wheel(
                "wheel",
                body,
                centre,
                centre.y() < 0 ? Direction.LEFT.reversed() : Direction.LEFT,
                Optional.empty(),
                "travel",
                Optional.empty());
    }

    static Spot flat(double x, double[] yz) {
        return new Spot(x, yz[0], yz[1]);
    }

    static Spot spot(double x, double y, double z, boolean right) {
        return new Spot(x, right ? -y : y, z);
    }
}
