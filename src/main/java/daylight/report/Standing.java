package daylight.report;

import daylight.car.Car;
import daylight.clearance.GapRow;
import daylight.clearance.Position;
import daylight.geometry.Direction;
import daylight.geometry.Gauge;
import daylight.geometry.Pose;
import daylight.geometry.Proximity;
import daylight.geometry.Solid;
import daylight.geometry.Spot;
import daylight.motion.Handle;
import daylight.motion.Kinematics;
import daylight.motion.Setting;
import daylight.motion.Workspace;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * A car standing somewhere, for pictures: where each part is, and the gap of any pair there.
 *
 * <p>An engine: not thread-safe. A part's solid is made when it is first measured.
 */
final class Standing {
    private final Car car;
    private final Workspace workspace;
    private final Kinematics kinematics;
    private final Gauge gauge = new Gauge();
    private final @Nullable Solid[] solids;
    private final int[] bodies;
    private final Pose[] poses;

    Standing(Car car) {
        this.car = car;
        this.workspace = Workspace.of(car);
        this.kinematics = workspace.kinematics();
        this.solids = new Solid[car.parts().size()];
        this.bodies = car.parts().stream()
                .mapToInt(part -> workspace.bodyIndex(part.body()))
                .toArray();
        this.poses = new Pose[workspace.bodyCount()];
        Arrays.fill(poses, Pose.RIDE_HEIGHT);
    }

    Car car() {
        return car;
    }

    List<Handle> handles() {
        return workspace.handles();
    }

    /** Returns the numbers of the handles that move either of two parts. */
    List<Integer> handlesOf(int a, int b) {
        return workspace.handlesOf(bodies[a], bodies[b]);
    }

    /** Returns the number of the body of that name. */
    int body(String name) {
        return workspace.bodyIndex(name);
    }

    /** Returns whether both names of a pair are parts; a flexible line is none, and has no shape to cut. */
    boolean isOfParts(GapRow row) {
        return car.part(row.first()).isPresent() && car.part(row.second()).isPresent();
    }

    /** Returns the number of a part. */
    int part(String name) {
        for (int p = 0; p < bodies.length; p++) {
            if (car.parts().get(p).name().equals(name)) {
                return p;
            }
        }
        throw new IllegalArgumentException("no part is called " + name);
    }

    /** Returns the handle values of a position; handles that it does not name are at ride height. */
    double[] values(Position position) {
        double[] values = new double[workspace.handles().size()];
        for (Setting setting : position.handles()) {
            for (int h = 0; h < values.length; h++) {
                if (workspace.handles().get(h).name().equals(setting.name())) {
                    values[h] = setting.value();
                }
            }
        }
        return values;
    }

    /** Moves the car, nothing shifted; returns whether it can stand there. */
    boolean stand(double[] values) {
        Optional<String> trouble = kinematics.stand(values);
        if (trouble.isPresent()) {
            return false;
        }
        for (int b = 0; b < poses.length; b++) {
            poses[b] = kinematics.pose(b);
        }
        return true;
    }

    /**
     * Moves the car to a position, shifts included.
     *
     * @throws IllegalStateException if it cannot stand there, which a position that was found always can
     */
    void stand(Position position) {
        if (!stand(values(position))) {
            throw new IllegalStateException(
                    "the car cannot stand where it stood: " + kinematics.why() + "; please report this car file");
        }
        for (int b = 0; b < poses.length; b++) {
            double x = 0;
            double y = 0;
            double z = 0;
            for (Car.Allowance.Play play : workspace.plays(b)) {
                String name = workspace.bodyName(b) + " " + play.name();
                for (Setting setting : position.shifts()) {
                    if (setting.name().equals(name)) {
                        x += setting.value() * play.along().x();
                        y += setting.value() * play.along().y();
                        z += setting.value() * play.along().z();
                    }
                }
            }
            poses[b] = moved(poses[b], x, y, z);
        }
    }

    /** Returns where a part's body is. */
    Pose pose(int part) {
        return poses[bodies[part]];
    }

    Pose poseOfBody(int body) {
        return poses[body];
    }

    /** Returns the gap of two parts as they are. */
    Proximity gap(int a, int b) {
        return gauge.proximity(solid(a), pose(a), solid(b), pose(b));
    }

    /** Returns the gap of two parts with all play used to bring them together, mm: what the search measures. */
    double closedGapMm(int a, int b) {
        Proximity nominal = gap(a, b);
        List<Car.Allowance.Play> playsA = workspace.plays(bodies[a]);
        List<Car.Allowance.Play> playsB = workspace.plays(bodies[b]);
        if (playsA.isEmpty() && playsB.isEmpty()) {
            return nominal.distanceMm();
        }
        Proximity closed = gauge.proximity(
                solid(a),
                pushed(playsA, pose(a), nominal.normal()),
                solid(b),
                pushed(playsB, pose(b), nominal.normal().reversed()));
        return Math.min(nominal.distanceMm(), closed.distanceMm());
    }

    private Solid solid(int part) {
        Solid known = solids[part];
        if (known == null) {
            known = Solid.of(car.parts().get(part).shape());
            solids[part] = known;
        }
        return known;
    }

    private static Pose pushed(List<Car.Allowance.Play> plays, Pose pose, Direction towards) {
        double x = 0;
        double y = 0;
        double z = 0;
        for (Car.Allowance.Play play : plays) {
            double along = pose.apply(play.along()).dot(towards);
            double mm = along > 0 ? play.greatestMm() : along < 0 ? play.leastMm() : 0;
            x += mm * play.along().x();
            y += mm * play.along().y();
            z += mm * play.along().z();
        }
        return moved(pose, x, y, z);
    }

    /** The pose of a body that was first moved in its own directions. */
    private static Pose moved(Pose pose, double x, double y, double z) {
        return pose.after(new Pose(1, 0, 0, 0, 1, 0, 0, 0, 1, x, y, z));
    }

    /** Returns where a spot of the car, fixed to a body at a pose, was at ride height. */
    static Spot atRideHeight(Pose pose, Spot spot) {
        double x = spot.x() - pose.tx();
        double y = spot.y() - pose.ty();
        double z = spot.z() - pose.tz();
        return new Spot(
                pose.rxx() * x + pose.ryx() * y + pose.rzx() * z,
                pose.rxy() * x + pose.ryy() * y + pose.rzy() * z,
                pose.rxz() * x + pose.ryz() * y + pose.rzz() * z);
    }
}
