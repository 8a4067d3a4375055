package daylight.clearance;

import daylight.car.Car;
import daylight.geometry.Gauge;
import daylight.geometry.Pose;
import daylight.geometry.Shape;
import daylight.geometry.Solid;
import daylight.geometry.Spot;
import daylight.linkage.Mechanism;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Which parts meet at a joint on purpose: parts of two jointed bodies that both reach the joint's spot. */
final class Joints {
    /** A joint's spot this near to both parts means that the parts meet there on purpose. */
    private static final double JOINT_REACH_MM = 3;

    /** For each pair of body names, smaller first, the joints between the two. */
    private final Map<List<String>, List<Meeting>> meetings = new HashMap<>();

    private final List<Car.Part> parts;

    /** A joint and the parts of its two bodies that reach it. */
    private record Meeting(String name, BitSet reaching) {}

    private Joints(List<Car.Part> parts) {
        this.parts = parts;
    }

    static Joints of(Car car, Solid[] solids, Gauge gauge) {
        Joints joints = new Joints(car.parts());
        for (Mechanism mechanism : car.mechanisms()) {
            for (Mechanism.Joint joint : mechanism.joints()) {
                for (Joined joined : joined(joint)) {
                    joints.add(joint.name(), joined, solids, gauge);
                }
            }
        }
        return joints;
    }

    private void add(String name, Joined joined, Solid[] solids, Gauge gauge) {
        Solid spot = Solid.of(new Shape.Ball(joined.at(), 1e-6));
        BitSet reaching = new BitSet();
        for (int p = 0; p < solids.length; p++) {
            String body = parts.get(p).body();
            if ((body.equals(joined.bodyA()) || body.equals(joined.bodyB()))
                    && gauge.proximity(solids[p], Pose.RIDE_HEIGHT, spot, Pose.RIDE_HEIGHT)
                                    .distanceMm()
                            <= JOINT_REACH_MM) {
                reaching.set(p);
            }
        }
        meetings.computeIfAbsent(bodies(joined.bodyA(), joined.bodyB()), k -> new ArrayList<>())
                .add(new Meeting(name, reaching));
    }

    /** Returns the name of a joint at which two parts, given by their numbers, meet. */
    Optional<String> meet(int a, int b) {
        for (Meeting meeting :
                meetings.getOrDefault(bodies(parts.get(a).body(), parts.get(b).body()), List.of())) {
            if (meeting.reaching.get(a) && meeting.reaching.get(b)) {
                return Optional.of(meeting.name);
            }
        }
        return Optional.empty();
    }

    private static List<String> bodies(String one, String other) {
        return one.compareTo(other) <= 0 ? List.of(one, other) : List.of(other, one);
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
}
