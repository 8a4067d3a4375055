package daylight.bench;

import daylight.car.Car;
import daylight.geometry.Direction;
import daylight.geometry.Gauge;
import daylight.geometry.Pose;
import daylight.geometry.Proximity;
import daylight.motion.Kinematics;
import daylight.motion.Setting;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/**
 * A car standing somewhere: its bodies' poses with the shifts of those that have play, and the gap of any pair there.
 *
 * <p>An engine: not thread-safe, one per thread. Where the car cannot stand, it stays where it last could.
 */
final class LiveCar {
    private final OpenCar open;
    private final Kinematics kinematics;
    private final Gauge gauge = new Gauge();
    private final Pose[] poses;

    LiveCar(OpenCar open) {
        this.open = open;
        this.kinematics = open.workspace().kinematics();
        this.poses = new Pose[open.workspace().bodyCount()];
        Arrays.fill(poses, Pose.RIDE_HEIGHT);
    }

    /**
     * Moves the car.
     *
     * @param values one value per handle, mm or radians from ride height
     * @return empty, or why it cannot stand there; it then stays where it was
     */
    Optional<String> stand(double[] values) {
        Optional<String> trouble = kinematics.stand(values);
        if (trouble.isEmpty()) {
            for (int b = 0; b < poses.length; b++) {
                poses[b] = kinematics.pose(b);
            }
        }
        return trouble;
    }

    /**
     * Pushes the bodies that carry two parts towards one another as far as their plays allow, if that brings the parts
     * nearer: how the search for the least gap measures them. Lasts until the car stands again.
     *
     * @return how far each play has shifted; empty where none has
     */
    List<Setting> lean(int partA, int partB) {
        int a = open.bodies().get(partA);
        int b = open.bodies().get(partB);
        if (open.workspace().plays(a).isEmpty() && open.workspace().plays(b).isEmpty()) {
            return List.of();
        }
        Proximity nominal = gap(partA, partB);
        if (!(closedGap(partA, partB).distanceMm() < nominal.distanceMm())) {
            return List.of();
        }
        List<Setting> shifts = new ArrayList<>();
        push(a, nominal.normal(), shifts);
        push(b, nominal.normal().reversed(), shifts);
        return shifts;
    }

    private void push(int body, Direction towards, List<Setting> shifts) {
        List<Car.Allowance.Play> plays = open.workspace().plays(body);
        for (Car.Allowance.Play play : plays) {
            double mm = push(play, poses[body], towards);
            if (mm != 0) {
                shifts.add(new Setting(open.workspace().bodyName(body) + " " + play.name(), mm, false));
            }
        }
        poses[body] = towards(plays, poses[body], towards);
    }

    /** The pose of a body that was first moved in its own directions. */
    private static Pose moved(Pose pose, double x, double y, double z) {
        return new Pose(
                pose.rxx(),
                pose.rxy(),
                pose.rxz(),
                pose.ryx(),
                pose.ryy(),
                pose.ryz(),
                pose.rzx(),
                pose.rzy(),
                pose.rzz(),
                pose.tx() + pose.rxx() * x + pose.rxy() * y + pose.rxz() * z,
                pose.ty() + pose.ryx() * x + pose.ryy() * y + pose.ryz() * z,
                pose.tz() + pose.rzx() * x + pose.rzy() * y + pose.rzz() * z);
    }

    /** Returns where a body is, its shift included. */
    Pose pose(int body) {
        return poses[body];
    }

    /** Returns the gap between two parts as the car stands. */
    Proximity gap(int partA, int partB) {
        return gauge.proximity(
                open.solids().get(partA),
                poses[open.bodies().get(partA)],
                open.solids().get(partB),
                poses[open.bodies().get(partB)]);
    }

    /**
     * Returns the gap between two parts as the car stands, with each body that has play shifted towards the other part
     * as far as its play allows: what the search for the least gap measures.
     */
    Proximity closedGap(int partA, int partB) {
        int a = open.bodies().get(partA);
        int b = open.bodies().get(partB);
        List<Car.Allowance.Play> playsA = open.workspace().plays(a);
        List<Car.Allowance.Play> playsB = open.workspace().plays(b);
        Proximity nominal = gap(partA, partB);
        if (playsA.isEmpty() && playsB.isEmpty()) {
            return nominal;
        }
        Proximity closed = gauge.proximity(
                open.solids().get(partA),
                towards(playsA, poses[a], nominal.normal()),
                open.solids().get(partB),
                towards(playsB, poses[b], nominal.normal().reversed()));
        return closed.distanceMm() < nominal.distanceMm() ? closed : nominal;
    }

    private static Pose towards(List<Car.Allowance.Play> plays, Pose pose, Direction towards) {
        double x = 0;
        double y = 0;
        double z = 0;
        for (Car.Allowance.Play play : plays) {
            double mm = push(play, pose, towards);
            x += mm * play.along().x();
            y += mm * play.along().y();
            z += mm * play.along().z();
        }
        return moved(pose, x, y, z);
    }

    private static double push(Car.Allowance.Play play, Pose pose, Direction towards) {
        double along = pose.apply(play.along()).dot(towards);
        return along > 0 ? play.greatestMm() : along < 0 ? play.leastMm() : 0;
    }
}
