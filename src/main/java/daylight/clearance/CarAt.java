package daylight.clearance;

import daylight.car.Car;
import daylight.geometry.Direction;
import daylight.geometry.Gauge;
import daylight.geometry.Pose;
import daylight.geometry.Proximity;
import daylight.geometry.Solid;
import daylight.geometry.Spot;
import daylight.geometry.Wander;
import daylight.motion.Handle;
import daylight.motion.Kinematics;
import daylight.motion.Setting;
import daylight.motion.Workspace;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** One car that can be stood in a position to measure a pair there. An engine: not thread-safe. */
final class CarAt {
    final Car car;
    private final Workspace workspace;
    private final Kinematics kinematics;
    private final Gauge gauge;
    private final Map<String, Car.Part> parts = new HashMap<>();
    private final Map<String, Integer> handles = new HashMap<>();
    private final Map<String, Solid> solids = new HashMap<>();
    private final Wander wander = new Wander();
    private final double[] values;

    CarAt(Car car) {
        this(car, Workspace.of(car), new Gauge());
    }

    private CarAt(Car car, Workspace workspace, Gauge gauge) {
        this.car = car;
        this.workspace = workspace;
        this.kinematics = workspace.kinematics();
        this.gauge = gauge;
        car.parts().forEach(part -> parts.put(part.name(), part));
        List<Handle> all = workspace.handles();
        for (int h = 0; h < all.size(); h++) {
            handles.put(all.get(h).name(), h);
        }
        this.values = new double[all.size()];
    }

    /** Returns a changed car of the same parts and mechanisms by name; solids of unchanged parts are shared. */
    CarAt changed(Car to) {
        CarAt other = new CarAt(to, Workspace.of(to), gauge);
        solids.forEach((name, solid) -> {
            Car.Part then = other.parts.get(name);
            Car.Part now = parts.get(name);
            if (then != null && now != null && then.shape().equals(now.shape())) {
                other.solids.put(name, solid);
            }
        });
        return other;
    }

    /** Returns the handle of that name. */
    Handle handle(String name) {
        return workspace.handles().get(handles.getOrDefault(name, -1));
    }

    boolean hasHandle(String name) {
        return handles.containsKey(name);
    }

    /** Returns the part's pose, shifts included, or nothing where its mechanism cannot stand. */
    Optional<Pose> pose(String part, Position at) {
        Car.Part which = parts.get(part);
        if (which == null) {
            throw new IllegalArgumentException("the car has no part " + part);
        }
        int body = workspace.bodyIndex(which.body());
        for (Setting setting : at.handles()) {
            Integer handle = handles.get(setting.name());
            if (handle != null) {
                values[handle] = setting.value();
            }
        }
        List<Car.Allowance.Play> plays = workspace.plays(body);
        boolean stands = kinematics.fillAt(body, values, new double[plays.size()], wander);
        for (Setting setting : at.handles()) {
            Integer handle = handles.get(setting.name());
            if (handle != null) {
                values[handle] = 0;
            }
        }
        if (!stands) {
            return Optional.empty();
        }
        Pose pose = kinematics.pose(body);
        for (Car.Allowance.Play play : plays) {
            String name = which.body() + " " + play.name();
            for (Setting shift : at.shifts()) {
                if (shift.name().equals(name)) {
                    pose = shifted(pose, pose.apply(play.along()), shift.value());
                }
            }
        }
        return Optional.of(pose);
    }

    private static Pose shifted(Pose pose, Direction along, double mm) {
        Spot by = Spot.ORIGIN.along(along, mm);
        return new Pose(1, 0, 0, 0, 1, 0, 0, 0, 1, by.x(), by.y(), by.z()).after(pose);
    }

    Solid solid(String part) {
        Solid made = solids.get(part);
        if (made == null) {
            Car.Part which = parts.get(part);
            if (which == null) {
                throw new IllegalArgumentException("the car has no part " + part);
            }
            made = Solid.of(which.shape());
            solids.put(part, made);
        }
        return made;
    }

    /** Returns the gap of a pair at a position, mm; NaN where the car cannot stand there. */
    double gap(String first, String second, Position at) {
        return proximity(first, second, at).map(Proximity::distanceMm).orElse(Double.NaN);
    }

    /** Returns how near a pair is at a position, or nothing where the car cannot stand there. */
    Optional<Proximity> proximity(String first, String second, Position at) {
        Optional<Pose> a = pose(first, at);
        Optional<Pose> b = pose(second, at);
        return a.isEmpty() || b.isEmpty()
                ? Optional.empty()
                : Optional.of(gauge.proximity(solid(first), a.get(), solid(second), b.get()));
    }
}
