package daylight.motion;

import daylight.car.Car;
import daylight.geometry.Direction;
import daylight.geometry.Gauge;
import daylight.geometry.Pose;
import daylight.geometry.Proximity;
import daylight.geometry.Shape;
import daylight.geometry.Solid;
import daylight.geometry.Spot;
import daylight.geometry.Wander;
import daylight.linkage.Linkage;
import daylight.linkage.Mechanism;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * A car that can be stood in a position, to see where a part is and how near two parts are there.
 *
 * <p>A position is a setting for each handle that is not at ride height and each play that has shifted; names that the
 * car does not have are passed over. Car frame (ISO 8855: x forward, y left, z up), mm.
 *
 * <p>An engine: not thread-safe. A part's solid is made when it is first measured and kept.
 */
public final class StandingCar {
    /** Two shifts that differ by less are the same: sums of coordinates are rounded a little differently. */
    private static final double ROUNDING_MM = 1e-9;
    /** A handle nearer to an end than this, mm or rad, stands at it: less than what the search tells apart. */
    private static final double AT_THE_END = 1e-4;

    private final Car car;
    private final Workspace workspace;
    private final Kinematics kinematics;
    private final Gauge gauge;
    private final Map<String, Car.Part> parts = new HashMap<>();
    private final Map<String, Integer> handles = new HashMap<>();
    private final Map<String, Solid> solids = new HashMap<>();
    /** By how much parts are shifted from the solid that they share with the car they were changed from. */
    private final Map<String, Spot> shapeShifts = new HashMap<>();

    /** What ends the travel of the car that this one was changed from, where that may be elsewhere in this one. */
    private List<EarlierEnd> endsBefore = List.of();

    private final Map<EarlierEnd, Double> ownEnds = new HashMap<>();
    private final Wander wander = new Wander();
    private final double[] values;

    /**
     * Makes the engine of a car.
     *
     * @throws IllegalArgumentException as {@link Workspace#of}
     */
    public StandingCar(Car car) {
        this(car, Workspace.of(car));
    }

    private StandingCar(Car car, Workspace workspace) {
        this(car, workspace, workspace.kinematics(), new Gauge());
    }

    private StandingCar(Car car, Workspace workspace, Kinematics kinematics, Gauge gauge) {
        this.car = car;
        this.workspace = workspace;
        this.kinematics = kinematics;
        this.gauge = gauge;
        car.parts().forEach(part -> parts.put(part.name(), part));
        List<Handle> all = workspace.handles();
        for (int h = 0; h < all.size(); h++) {
            handles.put(all.get(h).name(), h);
        }
        this.values = new double[all.size()];
    }

    /**
     * Returns the engine of a changed car with the same parts and mechanisms by name; what has not changed is shared,
     * so both belong to one thread.
     */
    public StandingCar changed(Car to) {
        boolean movesAlike =
                to.mechanisms().equals(car.mechanisms()) && to.allowances().equals(car.allowances());
        Workspace space = movesAlike ? workspace : workspace.ofChanged(to);
        StandingCar other = new StandingCar(to, space, movesAlike ? kinematics : space.kinematics(), gauge);
        other.endsBefore = movesAlike && to.limits().equals(car.limits()) ? List.of() : workspace.earlierEnds();
        solids.forEach((name, solid) -> {
            Car.Part then = other.parts.get(name);
            Car.Part now = parts.get(name);
            if (then != null && now != null) {
                shift(now.shape(), then.shape()).ifPresent(by -> {
                    other.solids.put(name, solid);
                    if (!by.equals(Spot.ORIGIN)) {
                        other.shapeShifts.put(name, by);
                    }
                });
            }
        });
        return other;
    }

    /**
     * Returns by how much a shape was shifted whole, if that is all. Turned shapes alone are looked at: a tyre takes
     * longer to make ready than all that is asked of it here, and follows its wheel's centre.
     */
    private static Optional<Spot> shift(Shape from, Shape to) {
        if (from.equals(to)) {
            return Optional.of(Spot.ORIGIN);
        }
        if (from instanceof Shape.Turned a && to instanceof Shape.Turned b) {
            boolean alike = a.axis().equals(b.axis())
                    && a.roundingMm() == b.roundingMm()
                    && a.profile().equals(b.profile());
            return alike
                    ? Optional.of(b.centre()
                            .plus(-a.centre().x(), -a.centre().y(), -a.centre().z()))
                    : Optional.empty();
        }
        if (from instanceof Shape.Group a
                && to instanceof Shape.Group b
                && a.members().size() == b.members().size()) {
            Optional<Spot> all = shift(a.members().get(0), b.members().get(0));
            for (int m = 1; m < a.members().size() && all.isPresent(); m++) {
                Optional<Spot> one = shift(a.members().get(m), b.members().get(m));
                all = one.isPresent() && one.get().distanceTo(all.get()) < ROUNDING_MM ? all : Optional.empty();
            }
            return all;
        }
        return Optional.empty();
    }

    /**
     * Returns a position of the car that this one was changed from, as this one takes it: a handle that stood where a
     * limit ends its travel stands at this car's own end, which moves with the points. Every other setting is as given.
     *
     * <p>Cost: as {@link EarlierEnds} for each mechanism of such a handle, once.
     */
    public List<Setting> atOwnEnds(List<Setting> settings) {
        if (endsBefore.isEmpty()) {
            return settings;
        }
        List<Setting> own = new ArrayList<>(settings);
        for (int i = 0; i < own.size(); i++) {
            Setting setting = own.get(i);
            for (EarlierEnd end : endsBefore) {
                if (end.handle().equals(setting.name()) && Math.abs(setting.value() - end.searched()) < AT_THE_END) {
                    double moved = ownEnds.computeIfAbsent(end, this::ownEnd) - end.searched();
                    own.set(i, new Setting(setting.name(), setting.value() + moved, setting.turns()));
                }
            }
        }
        return own;
    }

    /** Where this car ends a side that another car ended; as far as stated if nothing ends it earlier. */
    private double ownEnd(EarlierEnd of) {
        double nearest = of.stated();
        for (Mechanism mechanism : car.mechanisms()) {
            if (mechanism.drivers().stream().anyMatch(driver -> driver.name().equals(of.handle()))) {
                for (EarlierEnd end : new EarlierEnds(Linkage.of(mechanism), car.limits()).found()) {
                    boolean sameSide = end.handle().equals(of.handle()) && end.stated() * of.stated() > 0;
                    nearest = sameSide && Math.abs(end.searched()) < Math.abs(nearest) ? end.searched() : nearest;
                }
            }
        }
        return nearest;
    }

    /** Returns the car. */
    public Car car() {
        return car;
    }

    /** Returns the handle of that name, if the car has it. */
    public Optional<Handle> handle(String name) {
        return Optional.ofNullable(handles.get(name)).map(workspace.handles()::get);
    }

    /** Returns the parts of this car that another has not, or that differ from its in shape or in what carries them. */
    public Set<String> partsThatDifferFrom(StandingCar other) {
        List<Mechanism> mine = car.mechanisms();
        List<Mechanism> theirs = other.car.mechanisms();
        boolean[] changed = new boolean[mine.size()];
        for (int m = 0; m < changed.length; m++) {
            changed[m] = workspace != other.workspace
                    && (m >= theirs.size() || !mine.get(m).equals(theirs.get(m)));
        }
        boolean samePlays = car.allowances().equals(other.car.allowances());
        Set<String> differing = new LinkedHashSet<>();
        for (Car.Part part : car.parts()) {
            Car.Part before = other.parts.get(part.name());
            Workspace.Body body = workspace.body(workspace.bodyIndex(part.body()));
            boolean carried = (body.mechanism() >= 0 && changed[body.mechanism()])
                    || (!samePlays && !body.plays().isEmpty());
            if (before == null || carried || !part.shape().equals(before.shape())) {
                differing.add(part.name());
            }
        }
        return differing;
    }

    /**
     * Returns the pose of a part's solid, shifts included, or nothing where its mechanism cannot stand. In a changed
     * car that shares a solid with the one before, how the shape was shifted is in it too.
     *
     * @throws IllegalArgumentException if the car has no such part
     */
    public Optional<Pose> pose(String part, List<Setting> settings, List<Setting> shifts) {
        Car.Part which = part(part);
        int body = workspace.bodyIndex(which.body());
        for (Setting setting : settings) {
            Integer handle = handles.get(setting.name());
            if (handle != null) {
                values[handle] = setting.value();
            }
        }
        List<Car.Allowance.Play> plays = workspace.plays(body);
        boolean reached = kinematics.fillAt(body, values, new double[plays.size()], wander);
        for (Setting setting : settings) {
            Integer handle = handles.get(setting.name());
            if (handle != null) {
                values[handle] = 0;
            }
        }
        if (!reached) {
            return Optional.empty();
        }
        Spot by = shapeShifts.getOrDefault(part, Spot.ORIGIN);
        Pose stands = kinematics.pose(body);
        Pose pose = by.equals(Spot.ORIGIN) ? stands : stands.after(Pose.shift(by.x(), by.y(), by.z()));
        for (Car.Allowance.Play play : plays) {
            String name = which.body() + " " + play.name();
            for (Setting shift : shifts) {
                if (shift.name().equals(name)) {
                    pose = shifted(pose, pose.apply(play.along()), shift.value());
                }
            }
        }
        return Optional.of(pose);
    }

    private static Pose shifted(Pose pose, Direction along, double mm) {
        Spot by = Spot.ORIGIN.along(along, mm);
        return Pose.shift(by.x(), by.y(), by.z()).after(pose);
    }

    private Car.Part part(String name) {
        Car.Part part = parts.get(name);
        if (part == null) {
            throw new IllegalArgumentException("the car has no part " + name);
        }
        return part;
    }

    /** Returns a part ready for measuring. */
    public Solid solid(String part) {
        return solids.computeIfAbsent(part, name -> Solid.of(part(name).shape()));
    }

    /** Returns the gap of a pair at a position, mm; NaN where the car cannot stand there. */
    public double gap(String first, String second, List<Setting> settings, List<Setting> shifts) {
        return proximity(first, second, settings, shifts)
                .map(Proximity::distanceMm)
                .orElse(Double.NaN);
    }

    /** Returns how near a pair is at a position, or nothing where the car cannot stand there. */
    public Optional<Proximity> proximity(String first, String second, List<Setting> settings, List<Setting> shifts) {
        Optional<Pose> a = pose(first, settings, shifts);
        Optional<Pose> b = pose(second, settings, shifts);
        return a.isEmpty() || b.isEmpty()
                ? Optional.empty()
                : Optional.of(gauge.proximity(solid(first), a.get(), solid(second), b.get()));
    }
}
