package daylight.motion;

import daylight.car.Car;
import daylight.car.Readout;
import daylight.geometry.Pose;
import daylight.geometry.Spot;
import daylight.linkage.Linkage;
import daylight.linkage.Mechanism;
import daylight.linkage.Mechanism.Driver;
import daylight.linkage.Mechanism.Joint;
import daylight.linkage.Outcome;
import daylight.units.LengthFormat;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;

/**
 * The car's new static position after a rod has been made longer, a spring seat moved, or the ride height changed: the
 * same car, described as if it had been measured again where it then stands. The car given is not changed.
 *
 * <p><b>What decides the new height.</b> A wheel that a {@link RideHeight} names stands where that says. Every other
 * wheel of a mechanism whose springs are described (one shock or coil-over for each wheel's travel) keeps the length of
 * its springs, longer by what their seats were moved: the same load on the same spring. The change of the motion ratio
 * between the two positions is left out. Where no spring is described, or leaf springs carry the axle, the wheel keeps
 * its height. The steering stays straight.
 *
 * <p><b>What is kept.</b> The axes stay with the body of the car. Each handle's range is counted from the new position,
 * so that full bump and full droop stay where they are on the car; a stop, strap or shock ends the travel where it did.
 * Tape readings and mirror checks are left out of the new car: they were read off the old one. What sharing rods give
 * (bind) counts from the new position.
 */
public final class Reset {
    /** Springs keep their length within this, mm: the linkage's own stop, times ten. */
    private static final double SETTLED_MM = 1e-9;

    private static final int MOST_ROUNDS = 60;
    /** A spring that changes by less per wheel travel does not carry this wheel. */
    private static final double CARRIES = 1e-3;
    /** Wheels nearer to one another than this along or across the car tell nothing of pitch or of roll, mm. */
    private static final double APART_MM = 500;
    /** A wheel that is written twice, by its layout and by its tyre, mm. */
    private static final double SAME_WHEEL_MM = 150;
    /** A driver this little outside its range is at its end: what rounding leaves, mm. */
    private static final double AT_THE_END_MM = 1e-9;

    private static final String ADDED = "reset of ";

    /** Something that changes how the car stands. */
    public sealed interface Change {}

    /**
     * A rod is made longer.
     *
     * @param rod one of {@link #rods}
     * @param longerMm by how much, mm; negative makes it shorter
     */
    public record RodLength(String rod, double longerMm) implements Change {
        public RodLength {
            finite("longer", longerMm);
        }

        /**
         * The same by turns of its thread.
         *
         * @param turns turns that lengthen it; negative shorten it
         * @param pitchMm pitch of the thread, mm
         * @param threadedEnds 1, or 2 for a sleeve with a left-hand and a right-hand thread
         */
        public static RodLength ofTurns(String rod, double turns, double pitchMm, int threadedEnds) {
            if (!(pitchMm > 0) || threadedEnds < 1 || threadedEnds > 2) {
                throw new IllegalArgumentException(rod + ": a thread has a pitch above zero, and one or two ends: "
                        + pitchMm + " mm, " + threadedEnds + " ends");
            }
            return new RodLength(rod, turns * pitchMm * threadedEnds);
        }
    }

    /**
     * A spring's seat is moved along the spring.
     *
     * @param spring one of {@link #springs}
     * @param towardsSpringMm how far towards the spring, mm: the car stands higher; negative lowers it
     */
    public record SpringSeat(String spring, double towardsSpringMm) implements Change {
        public SpringSeat {
            finite("towards the spring", towardsSpringMm);
        }
    }

    /**
     * The body stands higher above a wheel.
     *
     * @param wheelTravel one of {@link #heights}: the handle of that wheel's travel
     * @param raisedMm by how much, mm; negative lowers it
     */
    public record RideHeight(String wheelTravel, double raisedMm) implements Change {
        public RideHeight {
            finite("raised", raisedMm);
        }
    }

    /** How it ended. */
    public sealed interface Result {}

    /**
     * The car stands.
     *
     * @param car the car in its new static position; axes of its body as before
     * @param floor the rigid motion of the whole car after which its wheels stand on the old floor again, as well as
     *     four wheels can: the body's own rise, roll and pitch
     * @param moved every handle that the change has moved, and by how much: mm of bump, droop negative
     */
    public record Stands(Car car, Pose floor, List<Setting> moved) implements Result {
        public Stands {
            moved = List.copyOf(moved);
        }

        /** Returns the car in axes in which the floor is where it was: for ground clearance and angles from level. */
        public Car levelled() {
            return RestatedCar.of(
                    car,
                    body -> floor,
                    car.mechanisms().stream().map(m -> m.movedBy(floor)).toList());
        }
    }

    /**
     * The car cannot stand so.
     *
     * @param reason one or two sentences for the builder
     */
    public record CannotStand(String reason) implements Result {}

    private final Car car;
    private final Map<String, Pose> poses = new HashMap<>();
    private final List<Setting> moved = new ArrayList<>();

    private Reset(Car car) {
        this.car = car;
    }

    /** Returns the rods whose length can be changed, in the order of the car. */
    public static List<String> rods(Car car) {
        return car.mechanisms().stream()
                .flatMap(mechanism -> mechanism.joints().stream())
                .filter(joint -> joint instanceof Joint.Rod && joint.sharing().isEmpty())
                .map(Joint::name)
                .toList();
    }

    /** Returns the shocks and coil-overs that may carry a spring and hang on a wheel, in the order of the car. */
    public static List<String> springs(Car car) {
        List<String> names = new ArrayList<>();
        for (Mechanism mechanism : car.mechanisms()) {
            if (!rises(mechanism).isEmpty() && !hasLeaves(mechanism)) {
                springs(car, mechanism).forEach(length -> names.add(length.name()));
            }
        }
        return names;
    }

    /** Returns the handles of wheel travel, in the order of the car. */
    public static List<String> heights(Car car) {
        Set<String> names = new LinkedHashSet<>();
        car.mechanisms().forEach(mechanism -> names.addAll(rises(mechanism)));
        return List.copyOf(names);
    }

    /**
     * Finds how a car stands after changes, all at once.
     *
     * <p>Cost: some ten positions of each mechanism that changes.
     *
     * @throws IllegalArgumentException if a change names a rod, spring or handle that the car has not, naming those that
     *     it has; or one thing twice
     */
    public static Result of(Car car, List<Change> changes) {
        Map<String, Double> rods = new LinkedHashMap<>();
        Map<String, Double> seats = new LinkedHashMap<>();
        Map<String, Double> heights = new LinkedHashMap<>();
        for (Change change : changes) {
            if (change instanceof RodLength rod) {
                put(rods, "rod", rod.rod(), rod.longerMm(), rods(car));
            } else if (change instanceof SpringSeat seat) {
                put(seats, "spring", seat.spring(), seat.towardsSpringMm(), springs(car));
            } else if (change instanceof RideHeight height) {
                put(heights, "wheel travel", height.wheelTravel(), 0.0 - height.raisedMm(), heights(car));
            }
        }
        return new Reset(car).find(rods, seats, heights);
    }

    private static void put(Map<String, Double> into, String what, String name, double value, List<String> known) {
        if (!known.contains(name)) {
            throw new IllegalArgumentException("no " + what + " is called \"" + name + "\"; there are " + known);
        }
        if (into.put(name, value) != null) {
            throw new IllegalArgumentException(what + " \"" + name + "\" is changed twice");
        }
    }

    private static void finite(String what, double value) {
        if (!Double.isFinite(value)) {
            throw new IllegalArgumentException(what + " must be a finite number, mm: " + value);
        }
    }

    private static List<String> rises(Mechanism mechanism) {
        return mechanism.drivers().stream()
                .filter(driver -> driver instanceof Driver.Rise)
                .map(Driver::name)
                .toList();
    }

    private static boolean hasLeaves(Mechanism mechanism) {
        return mechanism.joints().stream().anyMatch(joint -> joint instanceof Joint.Leaf);
    }

    private static List<Readout.Length> springs(Car car, Mechanism mechanism) {
        List<Readout.Length> springs = new ArrayList<>();
        for (Readout readout : car.readouts()) {
            if (readout instanceof Readout.Length length
                    && length.shock()
                    && isOn(mechanism, length.from().body(), length.to().body())) {
                springs.add(length);
            }
        }
        return springs;
    }

    private static boolean isOn(Mechanism mechanism, String from, String to) {
        boolean one = mechanism.bodies().contains(from);
        boolean other = mechanism.bodies().contains(to);
        return (one || other) && (one || from.equals(Mechanism.GROUND)) && (other || to.equals(Mechanism.GROUND));
    }

    private Result find(Map<String, Double> rods, Map<String, Double> seats, Map<String, Double> heights) {
        List<Mechanism> mechanisms = new ArrayList<>();
        for (Mechanism mechanism : car.mechanisms()) {
            boolean touched = mechanism.joints().stream().anyMatch(joint -> rods.containsKey(joint.name()))
                    || springs(car, mechanism).stream().anyMatch(spring -> seats.containsKey(spring.name()))
                    || rises(mechanism).stream().anyMatch(heights::containsKey);
            if (!touched) {
                mechanisms.add(mechanism);
                continue;
            }
            Mechanics at = new Mechanics(mechanism, rods);
            String trouble = at.settle(seats, heights);
            if (!trouble.isEmpty()) {
                return new CannotStand(trouble);
            }
            mechanisms.add(at.asItStands());
        }
        for (Car.Allowance allowance : car.allowances()) {
            Pose carrier = poses.get(allowance.on());
            if (carrier != null) {
                poses.put(allowance.body(), carrier);
            }
        }
        Car fresh = RestatedCar.of(car, body -> poses.getOrDefault(body, Pose.RIDE_HEIGHT), mechanisms);
        return new Stands(fresh, floor(), moved);
    }

    /** One mechanism with the rods that change length as drivers. */
    private final class Mechanics {
        private final Linkage linkage;
        private final Mechanism was;
        private final double[] q;
        private final List<Integer> rises = new ArrayList<>();

        Mechanics(Mechanism mechanism, Map<String, Double> rods) {
            was = mechanism;
            List<Driver> drivers = new ArrayList<>(mechanism.drivers());
            Map<String, Double> values = new HashMap<>();
            for (Joint joint : mechanism.joints()) {
                Double longer = rods.get(joint.name());
                if (longer == null) {
                    continue;
                }
                String driver = mechanism.drivers().stream()
                        .filter(d -> d instanceof Driver.RodLength length
                                && length.rod().equals(joint.name()))
                        .map(Driver::name)
                        .findFirst()
                        .orElse(ADDED + joint.name());
                if (driver.equals(ADDED + joint.name())) {
                    drivers.add(new Driver.RodLength(driver, joint.name(), Math.min(0, longer), Math.max(0, longer)));
                }
                values.put(driver, longer);
            }
            linkage = Linkage.of(new Mechanism(
                    mechanism.name(), mechanism.bodies(), mechanism.joints(), drivers, mechanism.followers()));
            q = new double[linkage.driverCount()];
            for (int d = 0; d < q.length; d++) {
                q[d] = values.getOrDefault(linkage.driverNames().get(d), 0.0);
                if (drivers.get(d) instanceof Driver.Rise) {
                    rises.add(d);
                }
            }
        }

        /** Finds the driver values; returns why it cannot stand, or nothing. */
        String settle(Map<String, Double> seats, Map<String, Double> heights) {
            boolean given = false;
            for (int d : rises) {
                Double height = heights.get(linkage.driverNames().get(d));
                if (height != null) {
                    q[d] = height;
                    given = true;
                }
            }
            List<Readout.Length> springs = new ArrayList<>(springs(car, was));
            if (springs.size() > rises.size()) {
                // Besides the springs there are plain shocks: the seats tell which are which.
                springs.removeIf(spring -> !seats.containsKey(spring.name()));
            }
            boolean bySprings = !given && !hasLeaves(was) && springs.size() == rises.size() && !springs.isEmpty();
            if (!bySprings && springs.stream().anyMatch(spring -> seats.containsKey(spring.name()))) {
                return was.name()
                        + (given
                                ? ": its ride height is given, so a spring seat cannot change it too. Give one of them."
                                : ": a spring seat tells how it stands only where each wheel's travel has one spring. Give the"
                                        + " ride height instead.");
            }
            String trouble = bySprings ? keepSprings(springs, seats) : stand();
            for (int d = 0; d < q.length && trouble.isEmpty(); d++) {
                trouble = outside(d);
            }
            return trouble;
        }

        private String stand() {
            Outcome outcome = linkage.solve(q);
            return outcome.solved() ? "" : outcome.message(lengths());
        }

        private LengthFormat lengths() {
            return LengthFormat.fine(car.unit());
        }

        private String outside(int driver) {
            Driver d = linkage.mechanism().drivers().get(driver);
            double over = Math.max(q[driver] - d.highest(), d.lowest() - q[driver]);
            if (d.name().startsWith(ADDED) || over <= AT_THE_END_MM) {
                return "";
            }
            return String.format(
                    Locale.ROOT,
                    "%s: it would stand %s beyond its full %s.",
                    d.name(),
                    lengths().print(over),
                    d instanceof Driver.Rise ? (q[driver] > 0 ? "bump" : "droop") : "range");
        }

        /** Newton's method on the lengths of the springs, as functions of the travels. */
        private String keepSprings(List<Readout.Length> springs, Map<String, Double> seats) {
            int n = rises.size();
            Outcome rest = linkage.solve(new double[q.length]);
            if (!rest.solved()) {
                return rest.message(lengths());
            }
            List<Span> spans = new ArrayList<>();
            double[] wanted = new double[n];
            for (int k = 0; k < n; k++) {
                Span span =
                        new Span(linkage, springs.get(k).from(), springs.get(k).to());
                spans.add(span);
                wanted[k] = span.lengthMm() + seats.getOrDefault(springs.get(k).name(), 0.0);
            }
            double[][] slopes = new double[n][n + 1];
            for (int round = 0; round < MOST_ROUNDS; round++) {
                String trouble = stand();
                if (!trouble.isEmpty()) {
                    return trouble;
                }
                double open = 0;
                for (int k = 0; k < n; k++) {
                    for (int i = 0; i < n; i++) {
                        double[] way = new double[q.length];
                        way[rises.get(i)] = 1;
                        slopes[k][i] = spans.get(k).slope(way);
                    }
                    slopes[k][n] = wanted[k] - spans.get(k).lengthMm();
                    open = Math.max(open, Math.abs(slopes[k][n]));
                }
                if (open <= SETTLED_MM) {
                    return "";
                }
                if (!eliminate(slopes)) {
                    return was.name() + ": its springs do not carry its wheels (a spring keeps its length while a wheel"
                            + " travels). Give the ride height instead.";
                }
                for (int i = 0; i < n; i++) {
                    q[rises.get(i)] += slopes[i][n];
                }
            }
            return was.name() + ": no height was found at which its springs have the length that is asked for.";
        }

        Mechanism asItStands() {
            for (int d = 0; d < q.length; d++) {
                if (rises.contains(d) && q[d] != 0) {
                    moved.add(new Setting(linkage.driverNames().get(d), q[d], false));
                }
            }
            List<String> bodies = linkage.bodies();
            for (int b = 0; b < bodies.size(); b++) {
                poses.put(bodies.get(b), linkage.pose(b));
            }
            Mechanism now = linkage.asItStands();
            return new Mechanism(
                    now.name(),
                    now.bodies(),
                    now.joints(),
                    now.drivers().stream()
                            .filter(driver -> !driver.name().startsWith(ADDED))
                            .toList(),
                    now.followers());
        }
    }

    /** Solves n equations in place by Gauss's method with row exchanges; the last column becomes the solution. */
    private static boolean eliminate(double[][] rows) {
        int n = rows.length;
        for (int k = 0; k < n; k++) {
            int best = k;
            for (int i = k + 1; i < n; i++) {
                if (Math.abs(rows[i][k]) > Math.abs(rows[best][k])) {
                    best = i;
                }
            }
            double[] swap = rows[k];
            rows[k] = rows[best];
            rows[best] = swap;
            if (!(Math.abs(rows[k][k]) > CARRIES)) {
                return false;
            }
            for (int i = 0; i < n; i++) {
                if (i != k) {
                    double factor = rows[i][k] / rows[k][k];
                    for (int j = k; j <= n; j++) {
                        rows[i][j] -= factor * rows[k][j];
                    }
                }
            }
        }
        for (int k = 0; k < n; k++) {
            rows[k][n] /= rows[k][k];
        }
        return true;
    }

    /** The rise, roll and pitch of the body that put all wheel centres back to their heights above the floor. */
    private Pose floor() {
        List<Spot> before = new ArrayList<>();
        List<Spot> after = new ArrayList<>();
        for (Readout readout : car.readouts()) {
            if (readout instanceof Readout.Wheel wheel) {
                wheel(wheel.centre(), wheel.body(), before, after);
            }
        }
        car.wheels().forEach(wheel -> wheel(wheel.centre(), wheel.body(), before, after));
        if (before.isEmpty() || before.equals(after)) {
            return Pose.RIDE_HEIGHT;
        }
        boolean pitches = spread(before.stream().mapToDouble(Spot::x).toArray()) > APART_MM;
        boolean rolls = spread(before.stream().mapToDouble(Spot::y).toArray()) > APART_MM;
        double roll = 0;
        double pitch = 0;
        double rise = 0;
        Pose pose = Pose.RIDE_HEIGHT;
        for (int round = 0; round < MOST_ROUNDS; round++) {
            double[][] normal = new double[3][4];
            for (int k = 0; k < before.size(); k++) {
                Spot at = pose.apply(after.get(k));
                double open = before.get(k).z() - at.z();
                double[] row = {1, rolls ? at.y() : 0, pitches ? -at.x() : 0};
                for (int i = 0; i < 3; i++) {
                    for (int j = 0; j < 3; j++) {
                        normal[i][j] += row[i] * row[j];
                    }
                    normal[i][3] += row[i] * open;
                }
            }
            normal[1][1] += rolls ? 0 : 1;
            normal[2][2] += pitches ? 0 : 1;
            if (!eliminate(normal)) {
                return pose;
            }
            rise += normal[0][3];
            roll += normal[1][3];
            pitch += normal[2][3];
            pose = posed(roll, pitch, rise);
            if (Math.abs(normal[0][3]) < SETTLED_MM
                    && Math.abs(normal[1][3]) < SETTLED_MM / APART_MM
                    && Math.abs(normal[2][3]) < SETTLED_MM / APART_MM) {
                break;
            }
        }
        return pose;
    }

    private static Pose posed(double roll, double pitch, double rise) {
        double cr = Math.cos(roll);
        double sr = Math.sin(roll);
        double cp = Math.cos(pitch);
        double sp = Math.sin(pitch);
        // Pitch about y after roll about x.
        return new Pose(cp, sp * sr, sp * cr, 0, cr, -sr, -sp, cp * sr, cp * cr, 0, 0, rise);
    }

    private void wheel(Spot centre, String body, List<Spot> before, List<Spot> after) {
        if (before.stream().noneMatch(known -> known.distanceTo(centre) < SAME_WHEEL_MM)) {
            before.add(centre);
            after.add(poses.getOrDefault(body, Pose.RIDE_HEIGHT).apply(centre));
        }
    }

    private static double spread(double[] values) {
        double least = Double.POSITIVE_INFINITY;
        double most = Double.NEGATIVE_INFINITY;
        for (double value : values) {
            least = Math.min(least, value);
            most = Math.max(most, value);
        }
        return most - least;
    }
}
