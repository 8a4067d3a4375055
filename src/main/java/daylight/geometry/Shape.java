package daylight.geometry;

import java.util.List;

/**
 * A part's shape at ride height, in the car frame (ISO 8855), mm. A value: what the builder measured, before any
 * engine has seen it.
 */
public sealed interface Shape {

    /**
     * Returns this shape after a rigid motion: as it would be written down if its body had been measured where the
     * pose puts it.
     */
    default Shape movedBy(Pose pose) {
        if (this instanceof Ball ball) {
            return new Ball(pose.apply(ball.centre()), ball.radiusMm());
        } else if (this instanceof Tube tube) {
            return new Tube(
                    tube.through().stream().map(pose::apply).toList(), tube.outsideDiameterMm(), tube.bendRadiusMm());
        } else if (this instanceof Box box) {
            return new Box(
                    pose.apply(box.centre()),
                    pose.apply(box.along()),
                    pose.apply(box.across()),
                    box.lengthMm(),
                    box.widthMm(),
                    box.heightMm());
        } else if (this instanceof Plate plate) {
            return new Plate(
                    pose.apply(plate.origin()),
                    pose.apply(plate.along()),
                    pose.apply(plate.up()),
                    plate.thicknessMm(),
                    plate.outline(),
                    plate.holes());
        } else if (this instanceof Turned turned) {
            return new Turned(
                    pose.apply(turned.centre()), pose.apply(turned.axis()), turned.profile(), turned.roundingMm());
        } else if (this instanceof Hull hull) {
            return new Hull(hull.corners().stream().map(pose::apply).toList(), hull.roundingMm());
        } else if (this instanceof Mesh mesh) {
            return new Mesh(mesh.corners().stream().map(pose::apply).toList(), mesh.triangles());
        } else if (this instanceof Group group) {
            return new Group(
                    group.members().stream().map(member -> member.movedBy(pose)).toList());
        }
        throw new IllegalStateException("a shape of no known kind: " + this + ". Please report this.");
    }

    /**
     * A ball.
     *
     * @param centre its centre
     * @param radiusMm more than zero
     */
    record Ball(Spot centre, double radiusMm) implements Shape {
        public Ball {
            positive("radius", radiusMm);
        }
    }

    /**
     * A round tube or bar along a path of straight runs with circular bends between them, with hemispherical ends
     * that stop at the end spots when {@code flatEnds} is false (the end balls are centred on the end spots).
     *
     * <p>A tube is solid for the purpose of gaps: nothing lives inside it.
     *
     * @param through at least two spots of the centre line: the ends, and between them the corners in which the
     *     straight runs would meet
     * @param outsideDiameterMm more than zero
     * @param bendRadiusMm radius of the centre line in each bend; zero for sharp corners. A bend that does not fit
     *     between its neighbours is refused when the solid is made
     */
    record Tube(List<Spot> through, double outsideDiameterMm, double bendRadiusMm) implements Shape {
        public Tube {
            through = List.copyOf(through);
            if (through.size() < 2) {
                throw new IllegalArgumentException("a tube runs through at least 2 spots, not " + through.size());
            }
            positive("outside diameter", outsideDiameterMm);
            notNegative("bend radius", bendRadiusMm);
        }
    }

    /**
     * A rectangular block.
     *
     * @param centre its middle
     * @param along direction of its length
     * @param across direction of its width; at right angles to {@code along} within 1e-6
     * @param lengthMm size along {@code along}, more than zero
     * @param widthMm size along {@code across}, more than zero
     * @param heightMm size along {@code along} x {@code across}, more than zero
     */
    record Box(Spot centre, Direction along, Direction across, double lengthMm, double widthMm, double heightMm)
            implements Shape {
        public Box {
            square("along and across of a box", along, across);
            positive("length", lengthMm);
            positive("width", widthMm);
            positive("height", heightMm);
        }
    }

    /**
     * A flat plate of even thickness with an outline and round holes.
     *
     * @param origin where the outline's (0, 0) lies, on the plate's lower face
     * @param along direction of the outline's first coordinate
     * @param up direction of the outline's second coordinate; at right angles to {@code along} within 1e-6. The
     *     thickness goes from the lower face to {@code along} x {@code up}
     * @param thicknessMm more than zero
     * @param outline at least three corners, either way round, not crossing itself
     * @param holes round holes inside the outline
     */
    record Plate(Spot origin, Direction along, Direction up, double thicknessMm, List<Flat> outline, List<Hole> holes)
            implements Shape {
        public Plate {
            outline = List.copyOf(outline);
            holes = List.copyOf(holes);
            square("along and up of a plate", along, up);
            positive("thickness", thicknessMm);
            if (outline.size() < 3) {
                throw new IllegalArgumentException("an outline has at least 3 corners, not " + outline.size());
            }
        }

        /** A round hole through the plate: centre in the outline's coordinates and diameter, mm. */
        public record Hole(Flat centre, double diameterMm) {
            public Hole {
                positive("hole diameter", diameterMm);
            }
        }
    }

    /**
     * A solid of revolution: a closed profile turned about an axis. The profile may leave the middle empty (a
     * wheel's barrel, inside which a caliper lives).
     *
     * @param centre origin of the profile's first coordinate, on the axis
     * @param axis direction of the axis
     * @param profile at least three corners (x: along the axis from the centre, y: distance from the axis, never
     *     negative), not crossing itself
     * @param roundingMm radius by which all outer corners are rounded; the profile given is the outside, so the
     *     solid never exceeds it; zero for sharp corners
     */
    record Turned(Spot centre, Direction axis, List<Flat> profile, double roundingMm) implements Shape {
        public Turned {
            profile = List.copyOf(profile);
            if (profile.size() < 3) {
                throw new IllegalArgumentException("a profile has at least 3 corners, not " + profile.size());
            }
            for (Flat corner : profile) {
                notNegative("distance of a profile corner from the axis", corner.y());
            }
            notNegative("rounding", roundingMm);
        }
    }

    /**
     * The convex hull of measured spots, grown outwards by a rounding radius.
     *
     * @param corners at least one spot; flat and straight sets are allowed
     * @param roundingMm zero or more; more than zero for a set that encloses no volume is not required
     */
    record Hull(List<Spot> corners, double roundingMm) implements Shape {
        public Hull {
            corners = List.copyOf(corners);
            if (corners.isEmpty()) {
                throw new IllegalArgumentException("a hull needs at least one spot");
            }
            notNegative("rounding", roundingMm);
        }
    }

    /**
     * A surface of triangles, as scanned or drawn. Closed or open; the inside of a closed surface counts as solid.
     *
     * @param corners the vertices
     * @param triangles three indices into {@code corners} per triangle, one after another
     */
    record Mesh(List<Spot> corners, List<Integer> triangles) implements Shape {
        public Mesh {
            corners = List.copyOf(corners);
            triangles = List.copyOf(triangles);
            if (triangles.size() % 3 != 0 || triangles.isEmpty()) {
                throw new IllegalArgumentException("triangles come in threes: " + triangles.size() + " indices");
            }
            for (int index : triangles) {
                if (index < 0 || index >= corners.size()) {
                    throw new IllegalArgumentException("no vertex " + index + " among " + corners.size());
                }
            }
        }
    }

    /** Several shapes that move as one: a tyre with its wheel, a bracket with its tab. */
    record Group(List<Shape> members) implements Shape {
        public Group {
            members = List.copyOf(members);
            if (members.isEmpty()) {
                throw new IllegalArgumentException("a group has at least one member");
            }
        }
    }

    private static void positive(String what, double value) {
        if (!(value > 0) || !Double.isFinite(value)) {
            throw new IllegalArgumentException(what + " must be more than zero: " + value);
        }
    }

    private static void notNegative(String what, double value) {
        if (!(value >= 0) || !Double.isFinite(value)) {
            throw new IllegalArgumentException(what + " must be zero or more: " + value);
        }
    }

    private static void square(String what, Direction first, Direction second) {
        if (!(Math.abs(first.dot(second)) <= 1e-6)) {
            throw new IllegalArgumentException(what + " must be at right angles; their cosine is " + first.dot(second));
        }
    }
}
