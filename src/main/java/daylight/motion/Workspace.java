package daylight.motion;

import daylight.car.Car;
import daylight.geometry.Direction;
import daylight.geometry.Spot;
import daylight.linkage.Linkage;
import daylight.linkage.Mechanism;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Everywhere a car can go: its handles with their ranges, its bodies, and which handle moves which body. Immutable;
 * {@link #kinematics()} makes the engine that computes positions, one per thread.
 *
 * <p>Mechanisms stay separate small systems. Two that name the same handle (both front corners and {@code steer})
 * share its value; the shared range is the part that both allow.
 *
 * <p>Each handle goes as far as the car file states, or to where a shock, stop, strap or joint among the car's limits
 * ends it earlier ({@link #earlierEnds()}); no position that the car can reach is lost by that.
 */
public final class Workspace {
    private final Car car;
    private final List<Handle> handles;
    private final List<EarlierEnd> earlierEnds;
    private final List<Body> bodies;
    private final Map<String, Integer> bodyByName;
    private final int[][] handlesOfMechanism;

    /** A body: which mechanism carries it, what moves it, how far it may shift, and the chassis line it turns about. */
    record Body(
            String name,
            int mechanism,
            int local,
            List<Integer> handles,
            List<Car.Allowance.Play> plays,
            Optional<Pivot> onChassis) {}

    private Workspace(
            Car car,
            List<Handle> handles,
            List<EarlierEnd> earlierEnds,
            List<Body> bodies,
            Map<String, Integer> bodyByName,
            int[][] handlesOfMechanism) {
        this.car = car;
        this.handles = List.copyOf(handles);
        this.earlierEnds = List.copyOf(earlierEnds);
        this.bodies = List.copyOf(bodies);
        this.bodyByName = Map.copyOf(bodyByName);
        this.handlesOfMechanism = handlesOfMechanism;
    }

    /**
     * Returns the workspace of a car.
     *
     * @throws IllegalArgumentException if a body is named twice, an allowance's carrier is unknown, or two mechanisms
     *     disagree about a shared handle's kind; the car file's reader refuses such cars earlier, with a line
     */
    public static Workspace of(Car car) {
        return of(car, Optional.empty());
    }

    /**
     * Returns the workspace of a car with the same mechanisms, bodies and joints in other places. What moves what is
     * taken over, which saves compiling every mechanism to find it out. For standing the car only: handles go as far as
     * stated, and nothing is said of what ends them earlier.
     *
     * @throws IllegalArgumentException as {@link #of}
     */
    Workspace ofChanged(Car to) {
        boolean alike = to.mechanisms().size() == car.mechanisms().size();
        for (int m = 0; m < car.mechanisms().size() && alike; m++) {
            alike = to.mechanisms()
                    .get(m)
                    .bodies()
                    .equals(car.mechanisms().get(m).bodies());
        }
        return of(to, alike ? Optional.of(this) : Optional.empty());
    }

    private static Workspace of(Car car, Optional<Workspace> before) {
        Map<String, Handle> byName = new LinkedHashMap<>();
        for (Mechanism mechanism : car.mechanisms()) {
            for (Mechanism.Driver driver : mechanism.drivers()) {
                boolean turns = driver instanceof Mechanism.Driver.Turn;
                Handle fresh = new Handle(driver.name(), driver.lowest(), driver.highest(), turns);
                byName.merge(driver.name(), fresh, Workspace::shared);
            }
        }
        List<String> names = new ArrayList<>(byName.keySet());
        List<Linkage> linkages = before.isPresent()
                ? List.of()
                : car.mechanisms().stream().map(Linkage::of).toList();
        List<EarlierEnd> earlierEnds = earlierEnds(car, linkages, byName);
        List<Handle> handles = new ArrayList<>(byName.values());

        Map<String, Integer> index = new LinkedHashMap<>();
        List<Body> bodies = new ArrayList<>();
        add(index, bodies, new Body(Mechanism.GROUND, -1, -1, List.of(), List.of(), Optional.empty()));
        int[][] handlesOfMechanism = new int[car.mechanisms().size()][];
        for (int m = 0; m < car.mechanisms().size(); m++) {
            Mechanism mechanism = car.mechanisms().get(m);
            Optional<Linkage> linkage = before.isPresent() ? Optional.empty() : Optional.of(linkages.get(m));
            handlesOfMechanism[m] = mechanism.drivers().stream()
                    .mapToInt(driver -> names.indexOf(driver.name()))
                    .toArray();
            for (int b = 0; b < mechanism.bodies().size(); b++) {
                String name = mechanism.bodies().get(b);
                List<Integer> moving = new ArrayList<>();
                for (int d = 0; d < mechanism.drivers().size() && linkage.isPresent(); d++) {
                    if (linkage.get().dependsOn(b, d)) {
                        moving.add(handlesOfMechanism[m][d]);
                    }
                }
                before.ifPresent(
                        like -> moving.addAll(like.body(like.bodyIndex(name)).handles()));
                moving.sort(null);
                Optional<Pivot> onChassis = pivot(mechanism, name, Mechanism.GROUND)
                        .or(() -> pivot(mechanism, Mechanism.GROUND, name))
                        .filter(pivot -> pivot.line().isPresent());
                add(index, bodies, new Body(name, m, b, List.copyOf(moving), List.of(), onChassis));
            }
        }
        for (Car.Allowance allowance : car.allowances()) {
            Integer carrier = index.get(allowance.on());
            if (carrier == null) {
                throw new IllegalArgumentException(
                        allowance.body() + " is carried by " + allowance.on() + ", which is no body of the car");
            }
            Body on = bodies.get(carrier);
            List<Car.Allowance.Play> plays = new ArrayList<>(on.plays());
            plays.addAll(allowance.plays());
            add(
                    index,
                    bodies,
                    new Body(allowance.body(), on.mechanism(), on.local(), on.handles(), plays, Optional.empty()));
        }
        return new Workspace(car, handles, earlierEnds, bodies, index, handlesOfMechanism);
    }

    /** Cuts the handles to where the limits end them; returns what ends each side that is cut, in the handles' order. */
    private static List<EarlierEnd> earlierEnds(Car car, List<Linkage> linkages, Map<String, Handle> byName) {
        List<EarlierEnd> all = new ArrayList<>();
        for (Linkage linkage : linkages) {
            all.addAll(new EarlierEnds(linkage, car.limits()).found());
        }
        List<EarlierEnd> ending = new ArrayList<>();
        for (Handle handle : List.copyOf(byName.values())) {
            double[] range = {handle.lowest(), handle.highest()};
            for (int side = 0; side < 2; side++) {
                Optional<EarlierEnd> nearest = Optional.empty();
                for (EarlierEnd end : all) {
                    boolean ends = end.handle().equals(handle.name())
                            && (end.stated() < 0) == (side == 0)
                            && Math.abs(end.searched()) < Math.abs(range[side]);
                    if (ends) {
                        range[side] = end.searched();
                        nearest = Optional.of(end);
                    }
                }
                nearest.ifPresent(ending::add);
            }
            byName.put(handle.name(), new Handle(handle.name(), range[0], range[1], handle.turns()));
        }
        return ending;
    }

    private static Handle shared(Handle first, Handle second) {
        if (first.turns() != second.turns()) {
            throw new IllegalArgumentException(first.name() + " is an angle in one mechanism and a length in another");
        }
        return new Handle(
                first.name(),
                Math.max(first.lowest(), second.lowest()),
                Math.min(first.highest(), second.highest()),
                first.turns());
    }

    private static void add(Map<String, Integer> index, List<Body> bodies, Body body) {
        if (index.putIfAbsent(body.name(), bodies.size()) != null) {
            throw new IllegalArgumentException("two bodies are called " + body.name());
        }
        bodies.add(body);
    }

    /** Returns a new engine for this workspace; not thread-safe. */
    public Kinematics kinematics() {
        return new Kinematics(this);
    }

    /** Returns the car. */
    public Car car() {
        return car;
    }

    /** Returns the handles in the order of all handle values. */
    public List<Handle> handles() {
        return handles;
    }

    /** Returns the sides of handles that the car's limits end before the stated travel does. */
    public List<EarlierEnd> earlierEnds() {
        return earlierEnds;
    }

    /** Returns the number of bodies; body 0 is the chassis. */
    public int bodyCount() {
        return bodies.size();
    }

    /** Returns the name of a body. */
    public String bodyName(int body) {
        return bodies.get(body).name();
    }

    /**
     * Returns the number of a body.
     *
     * @throws IllegalArgumentException if the car has no such body
     */
    public int bodyIndex(String name) {
        Integer body = bodyByName.get(name);
        if (body == null) {
            throw new IllegalArgumentException("no body is called " + name);
        }
        return body;
    }

    /** Returns how far a body may shift besides its handles. */
    public List<Car.Allowance.Play> plays(int body) {
        return bodies.get(body).plays();
    }

    /** Returns the handles that move either of two bodies, ascending. */
    public List<Integer> handlesOf(int bodyA, int bodyB) {
        BitSet all = new BitSet();
        bodies.get(bodyA).handles().forEach(all::set);
        bodies.get(bodyB).handles().forEach(all::set);
        return all.stream().boxed().toList();
    }

    /** Returns whether two bodies can move against one another at all. */
    public boolean moveAgainstOneAnother(int bodyA, int bodyB) {
        if (bodyA == bodyB) {
            return false;
        }
        Body a = bodies.get(bodyA);
        Body b = bodies.get(bodyB);
        boolean sameCarrier = a.mechanism() == b.mechanism() && a.local() == b.local();
        boolean shifts = !a.plays().isEmpty() || !b.plays().isEmpty();
        return shifts
                || (!sameCarrier && (!a.handles().isEmpty() || !b.handles().isEmpty()));
    }

    /**
     * What two bodies share wherever the car goes.
     *
     * @param at a spot of both, mm, where it is at ride height
     * @param line the direction of the line through it about which they turn, if it is a hinge
     */
    public record Pivot(Spot at, Optional<Direction> line) {}

    /**
     * Returns what two bodies share: a ball joint, a hinge, the axis of a swing, or the end of a rod with a body of its
     * own. Bodies that may shift share nothing.
     */
    public Optional<Pivot> pivot(int bodyA, int bodyB) {
        Body a = bodies.get(bodyA);
        Body b = bodies.get(bodyB);
        if (!a.plays().isEmpty() || !b.plays().isEmpty()) {
            return Optional.empty();
        }
        for (Mechanism mechanism : car.mechanisms()) {
            Optional<Pivot> pivot = pivot(mechanism, a.name(), b.name());
            if (pivot.isEmpty()) {
                pivot = pivot(mechanism, b.name(), a.name());
            }
            if (pivot.isPresent()) {
                return pivot;
            }
        }
        return Optional.empty();
    }

    private static Optional<Pivot> pivot(Mechanism mechanism, String first, String second) {
        for (Mechanism.Joint joint : mechanism.joints()) {
            if (joint instanceof Mechanism.Joint.Ball ball
                    && ball.bodyA().equals(first)
                    && ball.bodyB().equals(second)) {
                return Optional.of(new Pivot(ball.at(), Optional.empty()));
            }
            if (joint instanceof Mechanism.Joint.Hinge hinge
                    && hinge.bodyA().equals(first)
                    && hinge.bodyB().equals(second)) {
                return Optional.of(hinge(hinge.first(), hinge.second()));
            }
        }
        for (Mechanism.Driver driver : mechanism.drivers()) {
            if (driver instanceof Mechanism.Driver.Turn turn
                    && turn.body().equals(first)
                    && second.equals(Mechanism.GROUND)) {
                return Optional.of(hinge(turn.first(), turn.second()));
            }
        }
        for (Mechanism.Follower follower : mechanism.followers()) {
            if (follower instanceof Mechanism.Follower.Aim aim && aim.body().equals(first)) {
                if (aim.bodyA().equals(second)) {
                    return Optional.of(new Pivot(aim.onA(), Optional.empty()));
                }
                if (aim.bodyB().equals(second) && keepsItsLength(mechanism, aim)) {
                    return Optional.of(new Pivot(aim.onB(), Optional.empty()));
                }
            }
        }
        return Optional.empty();
    }

    private static Pivot hinge(Spot first, Spot second) {
        return new Pivot(
                first,
                Optional.of(Direction.of(second.x() - first.x(), second.y() - first.y(), second.z() - first.z())));
    }

    /** Whether a rod of fixed length joins the two spots between which a follower aims. */
    private static boolean keepsItsLength(Mechanism mechanism, Mechanism.Follower.Aim aim) {
        for (Mechanism.Joint joint : mechanism.joints()) {
            if (joint instanceof Mechanism.Joint.Rod rod
                    && ((rod.onA().equals(aim.onA()) && rod.onB().equals(aim.onB()))
                            || (rod.onA().equals(aim.onB()) && rod.onB().equals(aim.onA())))) {
                return mechanism.drivers().stream()
                        .noneMatch(driver -> driver instanceof Mechanism.Driver.RodLength length
                                && length.rod().equals(rod.name()));
            }
        }
        return false;
    }

    /** Returns the whole range of the handles that move any of these bodies. */
    public DriverBox wholeOf(Collection<Integer> some) {
        BitSet all = new BitSet();
        some.forEach(body -> bodies.get(body).handles().forEach(all::set));
        return DriverBox.whole(this, all.stream().toArray());
    }

    /** Returns the whole range of the handles that move either of two bodies. */
    public DriverBox whole(int bodyA, int bodyB) {
        return DriverBox.whole(
                this,
                handlesOf(bodyA, bodyB).stream().mapToInt(Integer::intValue).toArray());
    }

    Body body(int body) {
        return bodies.get(body);
    }

    int[] handlesOfMechanism(int mechanism) {
        return handlesOfMechanism[mechanism];
    }
}
