package daylight.clearance;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.car.Car;
import daylight.geometry.Direction;
import daylight.geometry.Gauge;
import daylight.geometry.Pose;
import daylight.geometry.Shape;
import daylight.geometry.Solid;
import daylight.geometry.Spot;
import daylight.geometry.Wander;
import daylight.linkage.Mechanism;
import daylight.motion.DriverBox;
import daylight.motion.Handle;
import daylight.motion.Kinematics;
import daylight.motion.Setting;
import daylight.motion.Workspace;
import daylight.units.Progress;
import java.util.ArrayList;
import java.util.List;
import java.util.random.RandomGenerator;
import java.util.random.RandomGeneratorFactory;
import org.junit.jupiter.api.Test;

/**
 * The promise against a plain dense search: on a thousand random mechanisms and parts no sampled position is nearer
 * than the floor, and none is nearer than the least gap found by more than the tolerance.
 *
 * <p>How dense: one handle is sampled at 1,500 values, two at 45 x 45, three at 13 x 13 x 13; that is not a hundred
 * times the search's own resolution in every handle, so the second test samples single boxes 200 times each, corners
 * first, where a wrong floor cannot hide behind another box.
 *
 * <p>Mutation, tried by hand: with the linear and turn errors that {@link Kinematics} hands on halved,
 * {@code noPositionOfABoxIsNearerThanItsFloor} fails; with them left out, both tests do.
 */
class GapOracleTest {
    private static final long SEED = 20261125;
    private static final int CASES = 1000;
    /** A floor is proved up to floating error, stated in Gauge as 1e-9 of the size; sizes here are about 1,000 mm. */
    private static final double ROUNDING_MM = 1e-5;

    private static final double TOLERANCE_MM = 0.1;

    private final RandomGenerator random =
            RandomGeneratorFactory.of("L64X128MixRandom").create(SEED);

    @Test
    void noSampledPositionIsNearerThanTheFloor() {
        int looked = 0;
        int near = 0;
        for (int c = 0; c < CASES; c++) {
            Car car = car(c % 5);
            GapTable table = GapSearch.of(car, new Asked(TOLERANCE_MM, 5000, 20_000, 1))
                    .run(Progress.SILENT)
                    .orElseThrow();
            for (GapRow row : table.rows()) {
                String which = "case " + c + " of seed " + SEED + ": " + row;
                double sampled = sampled(car, row, which);
                assertThat(sampled)
                        .as("sampled gap against floor, " + which)
                        .isGreaterThan(row.least().floorMm() - ROUNDING_MM);
                assertThat(row.least().floorMm())
                        .as("floor against found, " + which)
                        .isLessThanOrEqualTo(row.least().found().distanceMm());
                if (row.least().proof() instanceof Least.Proof.Proved) {
                    near++;
                    assertThat(row.least().found().distanceMm())
                            .as("found against sampled, " + which)
                            .isLessThanOrEqualTo(sampled + TOLERANCE_MM + ROUNDING_MM);
                    assertThat(row.least().found().distanceMm() - row.least().floorMm())
                            .as("found against floor, " + which)
                            .isLessThanOrEqualTo(TOLERANCE_MM + ROUNDING_MM);
                }
                again(car, row, which);
                looked++;
            }
        }
        assertThat(looked).isGreaterThanOrEqualTo(CASES);
        assertThat(near).as("pairs proved to the tolerance").isEqualTo(looked);
    }

    /** One box of handle values at a time, where no other box can hide a wrong floor: the sharper half of the oracle. */
    @Test
    void noPositionOfABoxIsNearerThanItsFloor() {
        double closest = Double.POSITIVE_INFINITY;
        int proved = 0;
        Gauge gauge = new Gauge();
        for (int c = 0; c < CASES; c++) {
            Car car = c % 2 == 0 ? wall() : car(c % 5);
            Workspace workspace = Workspace.of(car);
            Kinematics kinematics = workspace.kinematics();
            Car.Part a = car.parts().get(0);
            Car.Part b = car.parts().get(1);
            Solid solidA = Solid.of(a.shape());
            Solid solidB = Solid.of(b.shape());
            int bodyA = workspace.bodyIndex(a.body());
            int bodyB = workspace.bodyIndex(b.body());
            DriverBox box = workspace.whole(bodyA, bodyB);
            int deep = 2 + random.nextInt(3);
            for (int d = 0; d < deep * box.size(); d++) {
                box = box.halved(d % box.size(), random.nextInt(2));
            }
            Wander wanderA = new Wander();
            Wander wanderB = new Wander();
            double[] none = new double[2];
            if (kinematics.fill(bodyA, box, none, wanderA) != Kinematics.Reach.PROVED
                    || kinematics.fill(bodyB, box, none, wanderB) != Kinematics.Reach.PROVED) {
                continue;
            }
            proved++;
            double floor = gauge.floor(solidA, wanderA, solidB, wanderB, Double.POSITIVE_INFINITY);
            double centre = gauge.centreMm();
            double least = Double.POSITIVE_INFINITY;
            double[] values = new double[workspace.handles().size()];
            for (int s = 0; s < 200; s++) {
                box.centreInto(values);
                for (int i = 0; i < box.size(); i++) {
                    double way = s < 64 ? (s >> i & 1) * 2 - 1 : 2 * random.nextDouble() - 1;
                    values[box.handle(i)] += way * box.half(i);
                }
                assertThat(kinematics.stand(values))
                        .as("a proved box is reached everywhere")
                        .isEmpty();
                least = Math.min(
                        least,
                        gauge.proximity(solidA, kinematics.pose(bodyA), solidB, kinematics.pose(bodyB))
                                .distanceMm());
            }
            assertThat(least)
                    .as("case " + c + " of seed " + SEED + ": " + car.parts())
                    .isGreaterThan(floor - ROUNDING_MM);
            seenFromEither(workspace, bodyA, bodyB, wanderA, wanderB, solidA, solidB, least);
            if (centre - floor > 1e-3) {
                closest = Math.min(closest, (least - floor) / (centre - floor));
            }
        }
        assertThat(proved).as("boxes proved").isGreaterThan(CASES * 3 / 4);
        assertThat(closest)
                .as("the floor is not idle: some box comes this near to it, as a share")
                .isLessThan(0.01);
    }

    /** Seen from either body, and about a shared spot where there is one, the floor holds as well. */
    private static void seenFromEither(
            Workspace workspace,
            int bodyA,
            int bodyB,
            Wander wanderA,
            Wander wanderB,
            Solid solidA,
            Solid solidB,
            double least) {
        Gauge gauge = new Gauge();
        Wander still = new Wander();
        Wander seen = new Wander();
        if (seen.seenFrom(wanderA, wanderB)) {
            double floor = gauge.floor(solidA, seen, solidB, still, Double.POSITIVE_INFINITY);
            assertThat(least).as("seen from the second").isGreaterThan(floor - ROUNDING_MM);
        }
        if (seen.seenFrom(wanderB, wanderA)) {
            double floor = gauge.floor(solidA, still, solidB, seen, Double.POSITIVE_INFINITY);
            assertThat(least).as("seen from the first").isGreaterThan(floor - ROUNDING_MM);
        }
        workspace.pivot(bodyA, bodyB).ifPresent(pivot -> {
            Spot spot = pivot.at();
            if (seen.seenFromAbout(wanderA, wanderB, spot.x(), spot.y(), spot.z())) {
                double floor = gauge.floor(solidA, seen, solidB, still, Double.POSITIVE_INFINITY);
                assertThat(least).as("about the shared spot").isGreaterThan(floor - ROUNDING_MM);
            }
            pivot.line().ifPresent(line -> {
                if (seen.seenFromAbout(wanderA, wanderB, spot.x(), spot.y(), spot.z(), line)) {
                    double floor = gauge.floor(solidA, seen, solidB, still, Double.POSITIVE_INFINITY);
                    assertThat(least).as("about the hinge's line").isGreaterThan(floor - ROUNDING_MM);
                }
            });
        });
    }

    /** A pin on an arm that swings towards a large wall: the worst case of a floor's second-order part. */
    private Car wall() {
        double reach = 100 + 300 * random.nextDouble();
        double tilt = 40 * (2 * random.nextDouble() - 1);
        Direction axis = Direction.of(0.1 * random.nextGaussian(), 0.1 * random.nextGaussian(), 1);
        Mechanism swing = Cars.swing("arm", Spot.ORIGIN, axis, -20 - Math.abs(tilt), 20 + Math.abs(tilt));
        Shape wall = new Shape.Box(
                new Spot(reach - 60 - 100 * random.nextDouble(), 0, 0),
                Direction.FORWARD,
                Direction.LEFT,
                20,
                900,
                900);
        return Cars.of(
                List.of(swing),
                Cars.part("pin", "arm body", Cars.ball(reach, 0, 0, 5)),
                Cars.part("wall", Mechanism.GROUND, wall));
    }

    /** The least gap on a dense grid of handle values; measured by the gauge, whose own tests are elsewhere. */
    private static double sampled(Car car, GapRow row, String which) {
        Workspace workspace = Workspace.of(car);
        Kinematics kinematics = workspace.kinematics();
        Car.Part a = part(car, row.first());
        Car.Part b = part(car, row.second());
        Solid solidA = Solid.of(a.shape());
        Solid solidB = Solid.of(b.shape());
        Gauge gauge = new Gauge();
        int bodyA = workspace.bodyIndex(a.body());
        int bodyB = workspace.bodyIndex(b.body());
        List<Integer> moving = workspace.handlesOf(bodyA, bodyB);
        int steps = moving.size() == 1 ? 1500 : moving.size() == 2 ? 45 : 13;
        int total = (int) Math.pow(steps, moving.size());
        double[] values = new double[workspace.handles().size()];
        double least = Double.POSITIVE_INFINITY;
        for (int s = 0; s < total; s++) {
            int rest = s;
            for (int handle : moving) {
                Handle h = workspace.handles().get(handle);
                values[handle] = h.lowest() + (h.highest() - h.lowest()) * (rest % steps) / (steps - 1);
                rest /= steps;
            }
            if (kinematics.stand(values).isPresent()) {
                continue;
            }
            Pose poseA = kinematics.pose(bodyA);
            Pose poseB = kinematics.pose(bodyB);
            for (double[] shift : corners(workspace, bodyB)) {
                Pose shifted = new Pose(
                        poseB.rxx(),
                        poseB.rxy(),
                        poseB.rxz(),
                        poseB.ryx(),
                        poseB.ryy(),
                        poseB.ryz(),
                        poseB.rzx(),
                        poseB.rzy(),
                        poseB.rzz(),
                        poseB.tx() + shift[0],
                        poseB.ty() + shift[1],
                        poseB.tz() + shift[2]);
                least = Math.min(
                        least, gauge.proximity(solidA, poseA, solidB, shifted).distanceMm());
            }
        }
        assertThat(least).as("some position can be reached, " + which).isFinite();
        return least;
    }

    /** The corners of a chassis-carried body's play, mm. */
    private static List<double[]> corners(Workspace workspace, int body) {
        List<double[]> corners = new ArrayList<>(List.of(new double[3]));
        for (Car.Allowance.Play play : workspace.plays(body)) {
            List<double[]> more = new ArrayList<>();
            for (double[] corner : corners) {
                for (double mm : new double[] {play.leastMm(), play.greatestMm()}) {
                    more.add(new double[] {
                        corner[0] + mm * play.along().x(),
                        corner[1] + mm * play.along().y(),
                        corner[2] + mm * play.along().z()
                    });
                }
            }
            corners.addAll(more);
        }
        return corners;
    }

    /** Standing the car again where the least gap was found gives that gap. */
    private static void again(Car car, GapRow row, String which) {
        Workspace workspace = Workspace.of(car);
        Kinematics kinematics = workspace.kinematics();
        double[] values = new double[workspace.handles().size()];
        for (Setting setting : row.least().where().handles()) {
            for (int h = 0; h < values.length; h++) {
                if (workspace.handles().get(h).name().equals(setting.name())) {
                    values[h] = setting.value();
                }
            }
        }
        assertThat(kinematics.stand(values)).as(which).isEmpty();
        Car.Part a = part(car, row.first());
        Car.Part b = part(car, row.second());
        Pose poseA = kinematics.pose(workspace.bodyIndex(a.body()));
        Pose poseB = kinematics.pose(workspace.bodyIndex(b.body()));
        double[] shift = new double[3];
        for (Setting setting : row.least().where().shifts()) {
            for (Car.Allowance.Play play : workspace.plays(workspace.bodyIndex(b.body()))) {
                if (setting.name().equals(b.body() + " " + play.name())) {
                    shift[0] += setting.value() * play.along().x();
                    shift[1] += setting.value() * play.along().y();
                    shift[2] += setting.value() * play.along().z();
                }
            }
        }
        Pose shifted = new Pose(
                poseB.rxx(),
                poseB.rxy(),
                poseB.rxz(),
                poseB.ryx(),
                poseB.ryy(),
                poseB.ryz(),
                poseB.rzx(),
                poseB.rzy(),
                poseB.rzz(),
                poseB.tx() + shift[0],
                poseB.ty() + shift[1],
                poseB.tz() + shift[2]);
        double gap = new Gauge()
                .proximity(Solid.of(a.shape()), poseA, Solid.of(b.shape()), shifted)
                .distanceMm();
        assertThat(gap)
                .as("gap at the worst position, " + which)
                .isCloseTo(row.least().found().distanceMm(), within(1e-6));
    }

    private static Car.Part part(Car car, String name) {
        return car.parts().stream()
                .filter(p -> p.name().equals(name))
                .findFirst()
                .orElseThrow();
    }

    // ---- random cars -------------------------------------------------------------------------------------------

    private Car car(int kind) {
        return switch (kind) {
            case 0 -> swingAgainstFixed();
            case 1 -> swingAgainstSwing();
            case 2, 3 -> corner(kind == 3);
            default -> swingAgainstShifting();
        };
    }

    private Car swingAgainstFixed() {
        Mechanism swing =
                Cars.swing("arm", spot(300), direction(), -40 * random.nextDouble(), 40 * random.nextDouble());
        return Cars.of(
                List.of(swing),
                Cars.part("moving", "arm body", shape(spot(300))),
                Cars.part("fixed", Mechanism.GROUND, shape(spot(300))));
    }

    private Car swingAgainstSwing() {
        return Cars.of(
                List.of(
                        Cars.swing("one", spot(300), direction(), -30 * random.nextDouble(), 30 * random.nextDouble()),
                        Cars.swing("two", spot(300), direction(), -30 * random.nextDouble(), 30 * random.nextDouble())),
                Cars.part("first", "one body", shape(spot(300))),
                Cars.part("second", "two body", shape(spot(300))));
    }

    private Car corner(boolean movingAgainstMoving) {
        Mechanism corner =
                Cars.corner("left", random, 10, 20 + 40 * random.nextDouble(), 10 + 20 * random.nextDouble());
        Spot near = new Spot(0, 700, 0);
        Car.Part knuckle = movingAgainstMoving || random.nextBoolean()
                ? Cars.part("on knuckle", "left knuckle", shape(about(near, 150)))
                : Cars.part("on lower arm", "left lower arm", shape(about(new Spot(-30, 600, -100), 150)));
        Car.Part other = movingAgainstMoving
                ? Cars.part("on upper arm", "left upper arm", shape(about(new Spot(0, 560, 200), 120)))
                : Cars.part("on chassis", Mechanism.GROUND, shape(about(near, 400)));
        return Cars.of(List.of(corner), knuckle, other);
    }

    private Car swingAgainstShifting() {
        Mechanism swing =
                Cars.swing("arm", spot(300), direction(), -30 * random.nextDouble(), 30 * random.nextDouble());
        Car.Allowance pipe = new Car.Allowance(
                "pipe",
                Mechanism.GROUND,
                List.of(
                        new Car.Allowance.Play("sideways", Direction.LEFT, -6, 6),
                        new Car.Allowance.Play("up and down", Direction.UP, -4 * random.nextDouble(), 5)));
        return Cars.of(
                List.of(swing),
                List.of(
                        Cars.part("moving", "arm body", shape(spot(300))),
                        Cars.part("shifting", "pipe", shape(spot(300)))),
                List.of(pipe),
                List.of(),
                List.of());
    }

    private Shape shape(Spot at) {
        double size = 10 + 60 * random.nextDouble();
        return switch (random.nextInt(6)) {
            case 0 -> new Shape.Ball(at, size);
            case 1 -> new Shape.Tube(List.of(at, about(at, 150), about(at, 150)), 5 + size / 2, 0);
            case 2 -> box(at, size);
            case 3 -> {
                List<Spot> corners = new ArrayList<>();
                for (int i = 0; i < 8; i++) {
                    corners.add(about(at, size));
                }
                yield new Shape.Hull(corners, random.nextBoolean() ? 0 : 3);
            }
            case 4 ->
                new Shape.Turned(
                        at,
                        direction(),
                        List.of(
                                new daylight.geometry.Flat(-size / 2, 0),
                                new daylight.geometry.Flat(size / 2, 0),
                                new daylight.geometry.Flat(size / 2, size),
                                new daylight.geometry.Flat(-size / 2, size)),
                        0);
            default -> new Shape.Group(List.of(new Shape.Ball(at, size / 2), box(about(at, size), size / 3)));
        };
    }

    private Shape.Box box(Spot at, double size) {
        Direction along = direction();
        Direction rough = direction();
        double dot = along.dot(rough);
        Direction across =
                Direction.of(rough.x() - dot * along.x(), rough.y() - dot * along.y(), rough.z() - dot * along.z());
        return new Shape.Box(
                at, along, across, size * (0.2 + random.nextDouble()), size, size * (0.2 + 2 * random.nextDouble()));
    }

    private Spot spot(double reach) {
        return about(Spot.ORIGIN, reach);
    }

    private Spot about(Spot at, double reach) {
        return at.plus(
                reach * (2 * random.nextDouble() - 1),
                reach * (2 * random.nextDouble() - 1),
                reach * (2 * random.nextDouble() - 1));
    }

    private Direction direction() {
        return Direction.of(random.nextGaussian(), random.nextGaussian(), random.nextGaussian() + 1e-9);
    }
}
