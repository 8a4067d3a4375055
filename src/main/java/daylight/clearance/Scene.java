package daylight.clearance;

import daylight.car.Car;
import daylight.geometry.Gauge;
import daylight.geometry.Pose;
import daylight.geometry.Shape;
import daylight.geometry.Solid;
import daylight.geometry.Spot;
import daylight.linkage.Mechanism;
import daylight.motion.Kinematics;
import daylight.motion.Workspace;
import java.util.ArrayList;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** A car made ready for measuring: its parts as solids on their bodies, and the pairs to measure with their rules. */
final class Scene {
    /** A joint's spot this near to both parts means that the parts meet there on purpose. */
    private static final double JOINT_REACH_MM = 3;

    final Workspace workspace;
    final List<Car.Part> parts;
    final Solid[] solids;
    final int[] bodies;
    final Made[] made;
    final List<Pair> pairs;
    final List<LeftOut> leftOut;

    /** Two parts to measure: their numbers, the gap required, and the rule in words. */
    record Pair(int a, int b, double requiredMm, String rule) {}

    private Scene(
            Workspace workspace,
            List<Car.Part> parts,
            Solid[] solids,
            int[] bodies,
            Made[] made,
            List<Pair> pairs,
            List<LeftOut> leftOut) {
        this.workspace = workspace;
        this.parts = parts;
        this.solids = solids;
        this.bodies = bodies;
        this.made = made;
        this.pairs = pairs;
        this.leftOut = leftOut;
    }

    /** A part compiled: its solid, the room it sweeps, and its hash, which for a large mesh is worth keeping. */
    record Made(Car.Part part, Solid solid, Sweeps.Room room, int hash) {}

    /**
     * Makes a car ready.
     *
     * @param kinematics may come from an earlier car with the same mechanisms and allowances
     * @param earlier what was made of the parts of such a car; a part that is still the same object is not made again
     */
    static Scene of(Car car, Kinematics kinematics, IdentityHashMap<Car.Part, Made> earlier, Gauge gauge) {
        Workspace workspace = kinematics.workspace();
        List<Car.Part> parts = car.parts();
        Made[] made = new Made[parts.size()];
        Solid[] solids = new Solid[parts.size()];
        int[] bodies = new int[parts.size()];
        for (int p = 0; p < parts.size(); p++) {
            Car.Part part = parts.get(p);
            bodies[p] = workspace.bodyIndex(part.body());
            Made known = earlier.get(part);
            if (known == null) {
                Solid solid = Solid.of(part.shape());
                known = new Made(part, solid, Sweeps.room(kinematics, solid, bodies[p]), part.hashCode());
            }
            made[p] = known;
            solids[p] = known.solid();
        }
        List<Pair> pairs = new ArrayList<>();
        List<LeftOut> leftOut = new ArrayList<>();
        for (int a = 0; a < parts.size(); a++) {
            for (int b = a + 1; b < parts.size(); b++) {
                Optional<String> reason = reasonToLeaveOut(car, workspace, gauge, solids, bodies, a, b);
                if (reason.isPresent()) {
                    leftOut.add(new LeftOut(parts.get(a).name(), parts.get(b).name(), reason.get()));
                } else {
                    Optional<Car.Rule> rule = Rules.of(car.rules(), parts.get(a), parts.get(b));
                    pairs.add(new Pair(
                            a,
                            b,
                            rule.map(Car.Rule::atLeastMm).orElse(0.0),
                            rule.map(Rules::words).orElse("no rule: must not touch")));
                }
            }
        }
        return new Scene(workspace, parts, solids, bodies, made, List.copyOf(pairs), List.copyOf(leftOut));
    }

    private static Optional<String> reasonToLeaveOut(
            Car car, Workspace workspace, Gauge gauge, Solid[] solids, int[] bodies, int a, int b) {
        if (bodies[a] == bodies[b]) {
            return Optional.of("same body: " + workspace.bodyName(bodies[a]));
        }
        Car.Part first = car.parts().get(a);
        Car.Part second = car.parts().get(b);
        for (Car.Exclusion exclusion : car.exclusions()) {
            if (Rules.fits(exclusion.first(), exclusion.second(), first, second)) {
                return Optional.of(exclusion.reason());
            }
        }
        if (!workspace.moveAgainstOneAnother(bodies[a], bodies[b])) {
            return Optional.of("neither moves against the other");
        }
        return meetAtJoint(car, gauge, solids, a, b);
    }

    /** Parts of two jointed bodies that both reach the joint's spot are joined there, not rubbing. */
    private static Optional<String> meetAtJoint(Car car, Gauge gauge, Solid[] solids, int a, int b) {
        Car.Part first = car.parts().get(a);
        Car.Part second = car.parts().get(b);
        for (Mechanism mechanism : car.mechanisms()) {
            for (Mechanism.Joint joint : mechanism.joints()) {
                for (Joined joined : joined(joint)) {
                    boolean theirs = (joined.bodyA().equals(first.body())
                                    && joined.bodyB().equals(second.body()))
                            || (joined.bodyA().equals(second.body())
                                    && joined.bodyB().equals(first.body()));
                    if (theirs && reaches(gauge, solids[a], joined.at()) && reaches(gauge, solids[b], joined.at())) {
                        return Optional.of("joined at the " + joint.name());
                    }
                }
            }
        }
        return Optional.empty();
    }

    private record Joined(String bodyA, String bodyB, Spot at) {}

    private static List<Joined> joined(Mechanism.Joint joint) {
        if (joint instanceof Mechanism.Joint.Ball ball) {
            return List.of(new Joined(ball.bodyA(), ball.bodyB(), ball.at()));
        }
        if (joint instanceof Mechanism.Joint.Hinge hinge) {
            return List.of(
                    new Joined(hinge.bodyA(), hinge.bodyB(), hinge.first()),
                    new Joined(hinge.bodyA(), hinge.bodyB(), hinge.second()));
        }
        if (joint instanceof Mechanism.Joint.Slide slide) {
            return List.of(new Joined(slide.bodyA(), slide.bodyB(), slide.at()));
        }
        if (joint instanceof Mechanism.Joint.Guide guide) {
            return List.of(new Joined(guide.bodyA(), guide.bodyB(), guide.spotOfA()));
        }
        if (joint instanceof Mechanism.Joint.Leaf leaf) {
            return List.of(new Joined(leaf.bodyA(), leaf.bodyB(), leaf.eye()));
        }
        return List.of();
    }

    private static boolean reaches(Gauge gauge, Solid solid, Spot at) {
        Solid spot = Solid.of(new Shape.Ball(at, 1e-6));
        return gauge.proximity(solid, Pose.RIDE_HEIGHT, spot, Pose.RIDE_HEIGHT).distanceMm() <= JOINT_REACH_MM;
    }

    /** Returns how far apart the rooms are that a pair's parts sweep, mm; zero when they overlap. */
    double apartMm(Pair pair) {
        return made[pair.a()].room().apartMm(made[pair.b()].room());
    }

    /** Returns a short text for messages. */
    @Override
    public String toString() {
        return String.format(Locale.ROOT, "%d parts, %d pairs", parts.size(), pairs.size());
    }
}
