package daylight.linkage;

import daylight.geometry.Direction;
import daylight.geometry.Pose;
import daylight.geometry.Spot;
import java.util.HashSet;
import java.util.List;
import java.util.Set;

/**
 * A mechanism as measured at ride height: bodies, the joints between them, and the drivers that move them. A
 * value, compiled into an engine by {@link Linkage#of}.
 *
 * <p>Everything is in the car frame (ISO 8855: x forward, y left, z up; mm) at ride height, where every body's
 * pose is the identity and every driver is zero. The body {@value #GROUND} is the frame of the car and never
 * moves.
 *
 * <p>Checked when made: no body, joint or driver is named twice, a joint lies between two different bodies, a rod has
 * a length, an axis has two different spots, a driver's range is finite and holds zero. Whether every body that is
 * named exists is checked by {@link #whole} when it is compiled: a shock or an anti-roll bar hangs on bodies of
 * another mechanism until the two are joined.
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

    /** Shorter than this, two spots are one: no tape reads a micrometre, and a direction would be noise. */
    static final double SAME_SPOT_MM = 1e-3;

    public Mechanism {
        bodies = List.copyOf(bodies);
        joints = List.copyOf(joints);
        drivers = List.copyOf(drivers);
        followers = List.copyOf(followers);
        Set<String> known = new HashSet<>();
        known.add(GROUND);
        for (String body : bodies) {
            if (!known.add(body)) {
                throw new IllegalArgumentException(
                        name + ": body \"" + body + "\" is named twice (or is the ground, which never moves)");
            }
        }
        Set<String> jointNames = new HashSet<>();
        for (Joint joint : joints) {
            if (!jointNames.add(joint.name())) {
                throw new IllegalArgumentException(name + ": joint \"" + joint.name() + "\" is named twice");
            }
            if (joint.bodyA().equals(joint.bodyB())) {
                throw new IllegalArgumentException(name + ": joint \"" + joint.name() + "\" has body \"" + joint.bodyA()
                        + "\" on both sides; a joint lies between two bodies");
            }
        }
        for (Joint joint : joints) {
            if (!joint.sharing().isEmpty()
                    && joints.stream()
                                    .filter(j -> j.sharing().equals(joint.sharing()))
                                    .count()
                            < 2) {
                throw new IllegalArgumentException(name + ": joint \"" + joint.name() + "\" shares \"" + joint.sharing()
                        + "\" with no other; at least two are needed");
            }
        }
        Set<String> driverNames = new HashSet<>();
        for (Driver driver : drivers) {
            if (!driverNames.add(driver.name())) {
                throw new IllegalArgumentException(name + ": driver \"" + driver.name() + "\" is named twice");
            }
        }
        Set<String> following = new HashSet<>();
        for (Follower follower : followers) {
            if (!following.add(follower.body())) {
                throw new IllegalArgumentException(name + ": follower \"" + follower.body() + "\" is given twice");
            }
            if (follower instanceof Follower.Aim aim
                    && (aim.body().equals(aim.bodyA()) || aim.body().equals(aim.bodyB()))) {
                throw new IllegalArgumentException(name + ": follower \"" + aim.body() + "\" cannot follow itself");
            }
        }
    }

    /**
     * Returns this mechanism if every body and rod that it names exists in it.
     *
     * @throws IllegalArgumentException naming what names what, and the bodies that there are
     */
    public Mechanism whole() {
        Set<String> rods = new HashSet<>();
        for (Joint joint : joints) {
            has("joint \"" + joint.name() + "\"", joint.bodyA(), true);
            has("joint \"" + joint.name() + "\"", joint.bodyB(), true);
            if (joint instanceof Joint.Rod && joint.sharing().isEmpty()) {
                rods.add(joint.name());
            }
        }
        for (Driver driver : drivers) {
            String what = "driver \"" + driver.name() + "\"";
            if (driver instanceof Driver.Rise rise) {
                has(what, rise.body(), false);
            } else if (driver instanceof Driver.Travel travel) {
                has(what, travel.body(), false);
            } else if (driver instanceof Driver.Turn turn) {
                has(what, turn.body(), false);
            } else if (driver instanceof Driver.RodLength length && !rods.contains(length.rod())) {
                throw new IllegalArgumentException(name + ": " + what + " changes rod \"" + length.rod()
                        + "\", which is not one of the rods that keep their length, " + rods);
            }
        }
        for (Follower follower : followers) {
            String what = "follower \"" + follower.body() + "\"";
            has(what, follower.body(), false);
            if (follower instanceof Follower.Aim aim) {
                has(what, aim.bodyA(), true);
                has(what, aim.bodyB(), true);
            }
        }
        return this;
    }

    /**
     * Returns the same mechanism after a rigid motion of the whole car, the ground's spots with it: as it would be
     * written down in other axes. What is up, forward and to the left stays so.
     */
    public Mechanism movedBy(Pose pose) {
        return Restated.of(this, body -> pose, driver -> 0);
    }

    private void has(String what, String body, boolean groundToo) {
        if (!bodies.contains(body) && !(groundToo && body.equals(GROUND))) {
            throw new IllegalArgumentException(
                    name + ": " + what + " names body \"" + body + "\", which is not one of " + bodies);
        }
    }

    private static void apart(String what, Spot first, Spot second) {
        if (!(first.distanceTo(second) > SAME_SPOT_MM)) {
            throw new IllegalArgumentException(what + ": its two spots " + first + " and " + second
                    + " must be more than " + SAME_SPOT_MM + " mm apart");
        }
    }

    private static void stiff(String joint, double stiffness) {
        if (!(stiffness > 0) || !Double.isFinite(stiffness)) {
            throw new IllegalArgumentException(
                    "joint \"" + joint + "\": stiffness must be more than zero, N/mm: " + stiffness);
        }
    }

    private static void range(String what, double lowest, double highest) {
        if (!Double.isFinite(lowest) || !(lowest <= 0)) {
            throw new IllegalArgumentException(
                    what + ": lowest must be a finite number, zero (ride height) or less: " + lowest);
        }
        if (!Double.isFinite(highest) || !(highest >= 0)) {
            throw new IllegalArgumentException(
                    what + ": highest must be a finite number, zero (ride height) or more: " + highest);
        }
    }

    /** What stays true between two bodies while they move. Each has a name for messages. */
    public sealed interface Joint {
        /** What a message calls it, for example {@code lower ball joint}. */
        String name();

        /** One of the two bodies; may be the ground. */
        String bodyA();

        /** The other body; may be the ground. */
        String bodyB();

        /** The name under which it shares what it holds with others; empty for a joint that is met exactly. */
        default String sharing() {
            return "";
        }

        /** How stiff it is among those with which it shares, N/mm; only the ratios count. */
        default double stiffness() {
            return 1;
        }

        /** A ball joint: one spot of each body stays together. */
        record Ball(String name, String bodyA, String bodyB, Spot at) implements Joint {}

        /** A hinge: two bodies turn about the line through two spots, and do not slide along it. */
        record Hinge(String name, String bodyA, String bodyB, Spot first, Spot second) implements Joint {
            public Hinge {
                apart("hinge \"" + name + "\"", first, second);
            }
        }

        /**
         * A rod with a ball at either end: the distance between two spots stays what it is at ride height.
         *
         * @param sharing empty for a rod that keeps its length; else the name of a set of two or more rods that give
         *     way in their bushes: together they hold what the exact joints leave free, in the position of least
         *     elastic energy, and each one's own change of length is its bind ({@link Linkage#bindMm}). For an axle on
         *     more links than it has freedoms
         * @param stiffness of the rod with its two bushes in a row, N/mm; only the ratios within its set count
         */
        record Rod(String name, String bodyA, Spot onA, String bodyB, Spot onB, String sharing, double stiffness)
                implements Joint {
            public Rod {
                apart("rod \"" + name + "\"", onA, onB);
                stiff(name, stiffness);
            }

            /** A rod that shares with others that are as stiff. */
            public Rod(String name, String bodyA, Spot onA, String bodyB, Spot onB, String sharing) {
                this(name, bodyA, onA, bodyB, onB, sharing, 1);
            }

            /** A rod that keeps its length. */
            public Rod(String name, String bodyA, Spot onA, String bodyB, Spot onB) {
                this(name, bodyA, onA, bodyB, onB, "");
            }
        }

        /** A slide: body B moves along a direction of body A and does not turn against it. */
        record Slide(String name, String bodyA, String bodyB, Spot at, Direction along) implements Joint {}

        /** A guide: a spot of body A stays on a line of body B (a strut's top on its rod). */
        record Guide(String name, String bodyA, Spot spotOfA, String bodyB, Spot onLineOfB, Direction alongB)
                implements Joint {}

        /**
         * A plane: a spot of body A stays in a plane of body B (a slotted link, a lateral stop, a plane mechanism's
         * own plane).
         *
         * @param normalB direction at right angles to the plane, on body B
         * @param sharing empty, or a name as for {@link Rod}: the spot then gives way across the plane
         * @param stiffness as for {@link Rod}, across the plane
         */
        record Plane(
                String name,
                String bodyA,
                Spot spotOfA,
                String bodyB,
                Direction normalB,
                String sharing,
                double stiffness)
                implements Joint {
            public Plane {
                stiff(name, stiffness);
            }

            /** A spot that shares with others that are as stiff. */
            public Plane(String name, String bodyA, Spot spotOfA, String bodyB, Direction normalB, String sharing) {
                this(name, bodyA, spotOfA, bodyB, normalB, sharing, 1);
            }

            /** A spot that stays in its plane. */
            public Plane(String name, String bodyA, Spot spotOfA, String bodyB, Direction normalB) {
                this(name, bodyA, spotOfA, bodyB, normalB, "");
            }
        }

        /**
         * Half of a leaf spring: the eye (a ball on body B: chassis or shackle) moves against the pad of body A (the
         * axle) as the leaf bends, in a plane that the clamp holds.
         *
         * <p>At ride height the leaf leaves the clamp level, along the car-horizontal direction from pad to eye, unless
         * the {@link LeafClamp} says otherwise. All leaf halves of one axle share two more conditions, written with
         * {@link Linkage}: sideways location and freedom from wind-up.
         *
         * @param pad where the leaf leaves the clamp on body A
         * @param eye the eye at ride height, on body B
         * @param model how the eye's path follows from bending
         * @param clamp how the leaf leaves the pad
         */
        record Leaf(String name, String bodyA, Spot pad, String bodyB, Spot eye, LeafModel model, LeafClamp clamp)
                implements Joint {
            public Leaf {
                apart("leaf \"" + name + "\"", pad, eye);
                if (!(clamp.along(pad, eye) > Math.abs(clamp.above(pad, eye)))) {
                    throw new IllegalArgumentException("leaf \"" + name + "\": the eye " + eye
                            + " must be further from the pad " + pad + " sideways than up or down");
                }
            }

            /** A leaf half that leaves its clamp level. */
            public Leaf(String name, String bodyA, Spot pad, String bodyB, Spot eye, LeafModel model) {
                this(name, bodyA, pad, bodyB, eye, model, LeafClamp.level(name, pad, eye));
            }

            /** A leaf half by the three-link model that leaves its clamp level. */
            public Leaf(String name, String bodyA, Spot pad, String bodyB, Spot eye) {
                this(name, bodyA, pad, bodyB, eye, LeafModel.THREE_LINK);
            }
        }
    }

    /**
     * How a leaf half leaves its pad. A spring is described where it was measured, with its clamp level; where its car
     * stands otherwise (after a change of ride height), the clamp has tilted with the axle and the leaf is bent.
     *
     * @param out the leaf's direction at the pad, away from it, on the axle
     * @param up the direction on the axle in which it bends, at right angles to {@code out}
     * @param acrossCar direction on the car at right angles to the springs, level where they were measured
     * @param lengthMm arc length from pad to eye
     */
    public record LeafClamp(Direction out, Direction up, Direction acrossCar, double lengthMm) {
        public LeafClamp {
            if (!(lengthMm > SAME_SPOT_MM) || !Double.isFinite(lengthMm)) {
                throw new IllegalArgumentException("a leaf half has a length, not " + lengthMm + " mm");
            }
        }

        /** A level clamp, from which an evenly bent leaf runs to the eye. */
        static LeafClamp level(String leaf, Spot pad, Spot eye) {
            double along = Math.hypot(eye.x() - pad.x(), eye.y() - pad.y());
            double above = eye.z() - pad.z();
            if (!(along > Math.abs(above))) {
                throw new IllegalArgumentException("leaf \"" + leaf + "\": the eye " + eye
                        + " must be further from the pad " + pad + " sideways than up or down");
            }
            Direction out = Direction.of(eye.x() - pad.x(), eye.y() - pad.y(), 0);
            return new LeafClamp(
                    out,
                    Direction.UP,
                    Planner.cross(Direction.UP, out),
                    Math.hypot(along, above) * Curve.g(Math.atan2(above, along)));
        }

        double along(Spot pad, Spot eye) {
            return (eye.x() - pad.x()) * out.x() + (eye.y() - pad.y()) * out.y() + (eye.z() - pad.z()) * out.z();
        }

        double above(Spot pad, Spot eye) {
            return (eye.x() - pad.x()) * up.x() + (eye.y() - pad.y()) * up.y() + (eye.z() - pad.z()) * up.z();
        }
    }

    /** How the path of a leaf spring's eye follows from bending. The two differ by the model's own uncertainty. */
    public enum LeafModel {
        /**
         * A radius arm of three quarters of the half's length, about a spot a quarter of that length out from the
         * clamp (three-link equivalent: SAE HS-788, Manual on Design and Application of Leaf Springs; the figure of
         * three quarters from memory).
         */
        THREE_LINK,
        /** The half bends to an even curvature and keeps its arc length. */
        EVEN_CURVE
    }

    /** What is moved on purpose. Values are changes from ride height; zero is ride height. */
    public sealed interface Driver {
        /** Its name in the car's workspace; mechanisms that share a name share the value. */
        String name();

        /** Least value: mm, or radians for {@link Turn}; zero or less. */
        double lowest();

        /** Greatest value: mm, or radians for {@link Turn}; zero or more. */
        double highest();

        /** The height of a spot of a body: mm up from ride height (wheel travel; bump positive). */
        record Rise(String name, String body, Spot spot, double lowest, double highest) implements Driver {
            public Rise {
                range("driver \"" + name + "\"", lowest, highest);
            }
        }

        /** A body slides along a direction: mm (a rack; positive to the direction). */
        record Travel(String name, String body, Direction along, double lowest, double highest) implements Driver {
            public Travel {
                range("driver \"" + name + "\"", lowest, highest);
            }
        }

        /** A body turns about a fixed axis: radians by the right-hand rule from first to second (panel, pedal). */
        record Turn(String name, String body, Spot first, Spot second, double lowest, double highest)
                implements Driver {
            public Turn {
                apart("driver \"" + name + "\"", first, second);
                range("driver \"" + name + "\"", lowest, highest);
            }
        }

        /** The length of a rod or of an adjustable stay: mm longer than at ride height. */
        record RodLength(String name, String rod, double lowest, double highest) implements Driver {
            public RodLength {
                range("driver \"" + name + "\"", lowest, highest);
            }
        }
    }

    /** A body whose pose follows from two others. */
    public sealed interface Follower {
        /** The body that follows; one of the mechanism's bodies. */
        String body();

        /**
         * Aims from a spot of one body at a spot of another, and turns as little as it can from ride height (a
         * shock's half, a gas strut's half, a drop link, a driveshaft).
         */
        record Aim(String body, String bodyA, Spot onA, String bodyB, Spot onB) implements Follower {
            public Aim {
                apart("follower \"" + body + "\"", onA, onB);
            }
        }
    }
}
