package daylight.clearance;

import daylight.car.Car;
import daylight.car.Limit;
import daylight.geometry.Direction;
import daylight.geometry.Shape;
import daylight.geometry.Spot;
import daylight.linkage.Mechanism;
import daylight.linkage.Mechanism.Driver;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.random.RandomGenerator;

/** Small cars built in code for the tests of this package. */
final class Cars {
    private Cars() {}

    static Car of(
            List<Mechanism> mechanisms,
            List<Car.Part> parts,
            List<Car.Allowance> allowances,
            List<Car.Rule> rules,
            List<Car.Exclusion> exclusions) {
        return new Car(
                "test car",
                Optional.empty(),
                Optional.empty(),
                false,
                List.of(),
                List.of(),
                mechanisms,
                parts,
                allowances,
                rules,
                exclusions);
    }

    static Car withLimits(Car car, List<Limit> limits) {
        return new Car(
                car.name(),
                car.reference(),
                car.datum(),
                car.inches(),
                car.points(),
                car.tape(),
                car.mechanisms(),
                car.parts(),
                car.allowances(),
                car.rules(),
                car.exclusions(),
                car.about(),
                car.wheels(),
                car.mirrorChecks(),
                car.readouts(),
                limits,
                car.hoses(),
                car.judgedBy(),
                car.metal(),
                car.trials());
    }

    static Car of(List<Mechanism> mechanisms, Car.Part... parts) {
        return of(mechanisms, List.of(parts), List.of(), List.of(), List.of());
    }

    static Car.Part part(String name, String body, Shape shape, String... kinds) {
        return new Car.Part(name, body, List.of(kinds), shape, Optional.empty());
    }

    static Shape ball(double x, double y, double z, double radius) {
        return new Shape.Ball(new Spot(x, y, z), radius);
    }

    static Shape rod(Spot from, Spot to, double diameter) {
        return new Shape.Tube(List.of(from, to), diameter, 0);
    }

    /** A body {@code name body} that turns about the line through a spot, degrees either way of ride height. */
    static Mechanism swing(String name, Spot through, Direction axis, double leastDeg, double mostDeg) {
        return new Mechanism(
                name,
                List.of(name + " body"),
                List.of(),
                List.of(new Driver.Turn(
                        name + " angle",
                        name + " body",
                        through,
                        through.along(axis, 100),
                        Math.toRadians(leastDeg),
                        Math.toRadians(mostDeg))),
                List.of());
    }

    /** A body that slides along a direction, mm either way of ride height. */
    static Mechanism slide(String name, Direction along, double least, double most) {
        return new Mechanism(
                name,
                List.of(name + " body"),
                List.of(),
                List.of(new Driver.Travel(name + " slide", name + " body", along, least, most)),
                List.of());
    }

    /**
     * A double A-arm corner with a rack: the textbook hardpoints of check SK-1 (mm), each moved by up to {@code stray}
     * in every direction.
     */
    static Mechanism corner(String name, RandomGenerator random, double stray, double travel, double rack) {
        Spot[] p = new Spot[9];
        double[][] nominal = {
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
        for (int i = 0; i < p.length; i++) {
            p[i] = new Spot(
                    nominal[i][0] + stray * (2 * random.nextDouble() - 1),
                    nominal[i][1] + stray * (2 * random.nextDouble() - 1),
                    nominal[i][2] + stray * (2 * random.nextDouble() - 1));
        }
        String lower = name + " lower arm";
        String upper = name + " upper arm";
        String knuckle = name + " knuckle";
        String rackBody = name + " rack";
        List<Mechanism.Joint> joints = new ArrayList<>();
        joints.add(new Mechanism.Joint.Hinge("lower arm pivots", Mechanism.GROUND, lower, p[2], p[1]));
        joints.add(new Mechanism.Joint.Hinge("upper arm pivots", Mechanism.GROUND, upper, p[5], p[4]));
        joints.add(new Mechanism.Joint.Ball("lower ball joint", lower, knuckle, p[3]));
        joints.add(new Mechanism.Joint.Ball("upper ball joint", upper, knuckle, p[6]));
        joints.add(new Mechanism.Joint.Rod("tie rod", rackBody, p[7], knuckle, p[8]));
        return new Mechanism(
                name,
                List.of(lower, upper, knuckle, rackBody),
                joints,
                List.of(
                        new Driver.Rise(name + " travel", knuckle, p[0], -travel, travel),
                        new Driver.Travel("steer", rackBody, Direction.LEFT, -rack, rack)),
                List.of());
    }
}
