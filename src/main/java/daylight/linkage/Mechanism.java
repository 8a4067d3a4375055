package daylight.linkage;

import daylight.geometry.Direction;
import daylight.geometry.Spot;
import java.util.List;

/**
 * A mechanism as measured at ride height: bodies, the joints between them, and the drivers that move them. A
 * value, compiled into an engine by {@link Linkage#of}.
 *
 * <p>Everything is in the car frame (ISO 8855: x forward, y left, z up; mm) at ride height, where every body's
 * pose is the identity and every driver is zero. The body {@value #GROUND} is the frame of the car and never
 * moves.
 *
 * @param name what the builder calls it, for example {@code front left}
 * @param bodies the bodies that move, without the ground; each named once
 * @param joints what stays true while things move
 * @param drivers what is moved on purpose, in the order of the engine's driver values
 * @param followers bodies whose pose follows from two others in closed form
 */
public record Mechanism(
        String name, List<String> bodies, List<Joint> joints, List<Driver> drivers, List<Follower> followers) {

    /** The body that never moves. */
    public static final String GROUND = "chassis";

    public Mechanism {
        bodies = List.copyOf(bodies);
        joints = List.copyOf(joints);
        drivers = List.copyOf(drivers);
        followers = List.copyOf(followers);
    }

    /** What stays true between two bodies while they move. Each has a name for messages. */
    public sealed interface Joint {
        /** What a message calls it, for example {@code lower ball joint}. */
        String name();

        /** A ball joint: one spot of each body stays together. */
        record Ball(String name, String bodyA, String bodyB, Spot at) implements Joint {}

        /** A hinge: two bodies turn about the line through two spots, and do not slide along it. */
        record Hinge(String name, String bodyA, String bodyB, Spot first, Spot second) implements Joint {}

        /** A rod with a ball at either end: the distance between two spots stays what it is at ride height. */
        record Rod(String name, String bodyA, Spot onA, String bodyB, Spot onB) implements Joint {}

        /** A slide: body B moves along a direction of body A and does not turn against it. */
        record Slide(String name, String bodyA, String bodyB, Spot at, Direction along) implements Joint {}

        /** A guide: a spot of body A stays on a line of body B (a strut's top on its rod). */
        record Guide(String name, String bodyA, Spot spotOfA, String bodyB, Spot onLineOfB, Direction alongB)
                implements Joint {}

        /**
         * A leaf spring half: the eye (a ball on body B) moves against the pad of body A as a leaf bends.
         *
         * @param pad where the leaf leaves the clamp on body A
         * @param eye the eye at ride height, on body B
         */
        record Leaf(String name, String bodyA, Spot pad, String bodyB, Spot eye) implements Joint {}
    }

    /** What is moved on purpose. Values are changes from ride height; zero is ride height. */
    public sealed interface Driver {
        /** Its name in the car's workspace; mechanisms that share a name share the value. */
        String name();

        /** Least value: mm, or radians for {@link Turn}. */
        double lowest();

        /** Greatest value: mm, or radians for {@link Turn}. */
        double highest();

        /** The height of a spot of a body: mm up from ride height (wheel travel; bump positive). */
        record Rise(String name, String body, Spot spot, double lowest, double highest) implements Driver {}

        /** A body slides along a direction: mm (a rack; positive to the direction). */
        record Travel(String name, String body, Direction along, double lowest, double highest) implements Driver {}

        /** A body turns about a fixed axis: radians by the right-hand rule from first to second (panel, pedal). */
        record Turn(String name, String body, Spot first, Spot second, double lowest, double highest)
                implements Driver {}

        /** The length of a rod or of an adjustable stay: mm longer than at ride height. */
        record RodLength(String name, String rod, double lowest, double highest) implements Driver {}
    }

    /** A body whose pose follows from two others. */
    public sealed interface Follower {
        /** The body that follows; one of the mechanism's bodies. */
        String body();

        /**
         * Aims from a spot of one body at a spot of another, and turns as little as it can on the way (a shock's
         * half, a gas strut's half, a drop link, a driveshaft).
         */
        record Aim(String body, String bodyA, Spot onA, String bodyB, Spot onB) implements Follower {}
    }
}
