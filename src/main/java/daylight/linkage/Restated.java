package daylight.linkage;

import daylight.geometry.Direction;
import daylight.geometry.Pose;
import daylight.geometry.Spot;
import daylight.linkage.Mechanism.Driver;
import daylight.linkage.Mechanism.Follower;
import daylight.linkage.Mechanism.Joint;
import daylight.linkage.Mechanism.LeafClamp;
import java.util.Locale;
import java.util.function.Function;
import java.util.function.ToDoubleFunction;

/** Describes a mechanism anew after its bodies have moved: every spot and direction where its body has taken it. */
final class Restated {
    /** A driver this little beyond its range, mm or rad, stands at its end: what rounding leaves. */
    private static final double AT_THE_END = 1e-9;

    private Restated() {}

    /**
     * @param poses where each body is, the ground included
     * @param at where each driver stands
     * @throws IllegalStateException if a driver stands outside its range
     */
    static Mechanism of(Mechanism was, Function<String, Pose> poses, ToDoubleFunction<Driver> at) {
        return new Mechanism(
                was.name(),
                was.bodies(),
                was.joints().stream().map(joint -> joint(joint, poses)).toList(),
                was.drivers().stream()
                        .map(driver -> driver(was.name(), driver, poses, at.applyAsDouble(driver)))
                        .toList(),
                was.followers().stream()
                        .map(follower -> follower(follower, poses))
                        .toList());
    }

    private static Joint joint(Joint joint, Function<String, Pose> poses) {
        Pose a = poses.apply(joint.bodyA());
        Pose b = poses.apply(joint.bodyB());
        if (joint instanceof Joint.Ball j) {
            return new Joint.Ball(j.name(), j.bodyA(), j.bodyB(), a.apply(j.at()));
        } else if (joint instanceof Joint.Hinge j) {
            return new Joint.Hinge(j.name(), j.bodyA(), j.bodyB(), a.apply(j.first()), a.apply(j.second()));
        } else if (joint instanceof Joint.Rod j) {
            return new Joint.Rod(
                    j.name(), j.bodyA(), a.apply(j.onA()), j.bodyB(), b.apply(j.onB()), j.sharing(), j.stiffness());
        } else if (joint instanceof Joint.Slide j) {
            return new Joint.Slide(j.name(), j.bodyA(), j.bodyB(), b.apply(j.at()), a.apply(j.along()));
        } else if (joint instanceof Joint.Guide j) {
            return new Joint.Guide(
                    j.name(), j.bodyA(), a.apply(j.spotOfA()), j.bodyB(), b.apply(j.onLineOfB()), b.apply(j.alongB()));
        } else if (joint instanceof Joint.Plane j) {
            return new Joint.Plane(
                    j.name(),
                    j.bodyA(),
                    a.apply(j.spotOfA()),
                    j.bodyB(),
                    b.apply(j.normalB()),
                    j.sharing(),
                    j.stiffness());
        } else if (joint instanceof Joint.Leaf j) {
            LeafClamp clamp = j.clamp();
            Direction across = poses.apply(Mechanism.GROUND).apply(clamp.acrossCar());
            return new Joint.Leaf(
                    j.name(),
                    j.bodyA(),
                    a.apply(j.pad()),
                    j.bodyB(),
                    b.apply(j.eye()),
                    j.model(),
                    new LeafClamp(a.apply(clamp.out()), a.apply(clamp.up()), across, clamp.lengthMm()));
        }
        throw new IllegalStateException("a joint of no known kind: " + joint + ". Please report this.");
    }

    private static Driver driver(String mechanism, Driver driver, Function<String, Pose> poses, double at) {
        double lowest = end(mechanism, driver, driver.lowest() - at, at, -1);
        double highest = end(mechanism, driver, driver.highest() - at, at, 1);
        Pose ground = poses.apply(Mechanism.GROUND);
        if (driver instanceof Driver.Rise rise) {
            Spot spot = poses.apply(rise.body()).apply(rise.spot());
            return new Driver.Rise(rise.name(), rise.body(), spot, lowest, highest);
        } else if (driver instanceof Driver.Travel travel) {
            return new Driver.Travel(travel.name(), travel.body(), ground.apply(travel.along()), lowest, highest);
        } else if (driver instanceof Driver.Turn turn) {
            return new Driver.Turn(
                    turn.name(), turn.body(), ground.apply(turn.first()), ground.apply(turn.second()), lowest, highest);
        } else if (driver instanceof Driver.RodLength length) {
            return new Driver.RodLength(length.name(), length.rod(), lowest, highest);
        }
        throw new IllegalStateException("a driver of no known kind: " + driver + ". Please report this.");
    }

    /** Returns an end of a driver's range, counted from where it stands. */
    private static double end(String mechanism, Driver driver, double end, double at, int side) {
        if (side * end >= 0) {
            return end;
        }
        if (side * end >= -AT_THE_END) {
            return 0;
        }
        throw new IllegalStateException(String.format(
                Locale.ROOT,
                "%s: driver %s stands at %.3f, outside its range of %.3f to %.3f",
                mechanism,
                driver.name(),
                at,
                driver.lowest(),
                driver.highest()));
    }

    private static Follower follower(Follower follower, Function<String, Pose> poses) {
        if (follower instanceof Follower.Aim aim) {
            return new Follower.Aim(
                    aim.body(),
                    aim.bodyA(),
                    poses.apply(aim.bodyA()).apply(aim.onA()),
                    aim.bodyB(),
                    poses.apply(aim.bodyB()).apply(aim.onB()));
        }
        throw new IllegalStateException("a follower of no known kind: " + follower + ". Please report this.");
    }
}
