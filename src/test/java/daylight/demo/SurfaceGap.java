package daylight.demo;

import daylight.geometry.Direction;
import daylight.geometry.Flat;
import daylight.geometry.Pose;
import daylight.geometry.Shape;
import daylight.geometry.Spot;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.PriorityQueue;

/**
 * A slow and independent way to the gap of two shapes: the surface of the one is cut into ever smaller pieces, and each
 * piece is measured by the closed-form distance from its middle to the other shape. Since a distance changes by no more
 * than one moves, a piece of radius r holds nothing nearer than its middle's distance less r; pieces that cannot hold
 * the least are dropped, the rest are cut again. No convex pieces, no supporting points, no tree: nothing is shared with
 * the program's own distance but the values that describe the shapes.
 *
 * <p>Lengths in mm. A negative gap is right when one of the two is a ball or a tube whose centre line stays outside the
 * other (that is how far it dips in); for other overlapping shapes it is only known to be zero or less.
 */
final class SurfaceGap {
    /** Pieces are cut until the least is known to this, mm. */
    private static final double KNOWN_TO_MM = 0.004;
    /** A pair of parallel flats never lets go of pieces; then the least found so far is near enough. */
    private static final int MOST_PIECES = 200_000;

    private SurfaceGap() {}

    /** Returns the gap of two shapes at two poses, mm. */
    static double between(Shape a, Pose poseA, Shape b, Pose poseB) {
        double least = Double.POSITIVE_INFINITY;
        for (Shape memberA : members(a)) {
            for (Shape memberB : members(b)) {
                least = single(memberA, poseA, memberB, poseB, least);
            }
        }
        return least;
    }

    private static List<Shape> members(Shape shape) {
        if (shape instanceof Shape.Group group) {
            return group.members().stream()
                    .flatMap(member -> members(member).stream())
                    .toList();
        }
        return List.of(shape);
    }

    /** Returns the gap of two single shapes, or {@code known} if that is less. */
    private static double single(Shape a, Pose poseA, Shape b, Pose poseB, double known) {
        boolean cutB = rank(b) < rank(a);
        Shape cut = cutB ? b : a;
        Shape other = cutB ? a : b;
        Pose cutPose = cutB ? poseB : poseA;
        Pose otherPose = cutB ? poseA : poseB;
        PriorityQueue<Candidate> open = new PriorityQueue<>(Comparator.comparingDouble(Candidate::floor));
        double best = known;
        for (Piece piece : pieces(cut)) {
            Candidate candidate = measured(piece, cutPose, other, otherPose);
            best = Math.min(best, candidate.gap());
            open.add(candidate);
        }
        for (int count = 0; count < MOST_PIECES && !open.isEmpty(); count++) {
            Candidate candidate = open.poll();
            if (candidate.floor() >= best - KNOWN_TO_MM) {
                break;
            }
            for (Piece half : candidate.piece().halves()) {
                Candidate next = measured(half, cutPose, other, otherPose);
                best = Math.min(best, next.gap());
                if (next.floor() < best - KNOWN_TO_MM) {
                    open.add(next);
                }
            }
        }
        return best;
    }

    private record Candidate(Piece piece, double gap, double floor) {}

    private static Candidate measured(Piece piece, Pose pose, Shape other, Pose otherPose) {
        Spot inCar = pose.apply(piece.middle());
        double gap = distance(other, undo(otherPose, inCar)) - piece.thick();
        return new Candidate(piece, gap, gap - piece.radius());
    }

    /** Returns the spot of a body that a pose puts there. */
    private static Spot undo(Pose p, Spot at) {
        double x = at.x() - p.tx();
        double y = at.y() - p.ty();
        double z = at.z() - p.tz();
        return new Spot(
                p.rxx() * x + p.ryx() * y + p.rzx() * z,
                p.rxy() * x + p.ryy() * y + p.rzy() * z,
                p.rxz() * x + p.ryz() * y + p.rzz() * z);
    }

    /** Which of two shapes is cut into pieces: thin cores first, a plate (with its holes) never. */
    private static int rank(Shape shape) {
        if (shape instanceof Shape.Ball) {
            return 0;
        } else if (shape instanceof Shape.Tube) {
            return 1;
        } else if (shape instanceof Shape.Turned) {
            return 2;
        } else if (shape instanceof Shape.Hull) {
            return 3;
        } else if (shape instanceof Shape.Box) {
            return 4;
        }
        return 5;
    }

    // ---- the surface in pieces

    /** A piece of a surface or of a core line, which everything within {@code radius} of its middle holds. */
    private interface Piece {
        Spot middle();

        double radius();

        /** How thick the shape is around its core here. */
        double thick();

        List<Piece> halves();
    }

    private record Dot(Spot middle, double thick) implements Piece {
        @Override
        public double radius() {
            return 0;
        }

        @Override
        public List<Piece> halves() {
            return List.of();
        }
    }

    private record Run(Spot from, Spot to, double thick) implements Piece {
        @Override
        public Spot middle() {
            return mix(from, to, 0.5);
        }

        @Override
        public double radius() {
            return from.distanceTo(to) / 2;
        }

        @Override
        public List<Piece> halves() {
            return List.of(new Run(from, middle(), thick), new Run(middle(), to, thick));
        }
    }

    private record Bend(Arc arc, double low, double high, double thick) implements Piece {
        @Override
        public Spot middle() {
            return arc.at((low + high) / 2);
        }

        @Override
        public double radius() {
            return arc.radius() * (high - low) / 2;
        }

        @Override
        public List<Piece> halves() {
            double middle = (low + high) / 2;
            return List.of(new Bend(arc, low, middle, thick), new Bend(arc, middle, high, thick));
        }
    }

    private record Triangle(Spot a, Spot b, Spot c, double thick) implements Piece {
        @Override
        public Spot middle() {
            return new Spot((a.x() + b.x() + c.x()) / 3, (a.y() + b.y() + c.y()) / 3, (a.z() + b.z() + c.z()) / 3);
        }

        @Override
        public double radius() {
            Spot m = middle();
            return Math.max(m.distanceTo(a), Math.max(m.distanceTo(b), m.distanceTo(c)));
        }

        @Override
        public List<Piece> halves() {
            double ab = a.distanceTo(b);
            double bc = b.distanceTo(c);
            double ca = c.distanceTo(a);
            if (ab >= bc && ab >= ca) {
                Spot m = mix(a, b, 0.5);
                return List.of(new Triangle(a, m, c, thick), new Triangle(m, b, c, thick));
            } else if (bc >= ca) {
                Spot m = mix(b, c, 0.5);
                return List.of(new Triangle(a, b, m, thick), new Triangle(a, m, c, thick));
            }
            Spot m = mix(c, a, 0.5);
            return List.of(new Triangle(a, b, m, thick), new Triangle(m, b, c, thick));
        }
    }

    /** A straight edge of a turned part's core profile, swept from one angle to another. */
    private record Band(Frame frame, double h0, double r0, double h1, double r1, double low, double high, double thick)
            implements Piece {
        @Override
        public Spot middle() {
            return frame.at((h0 + h1) / 2, (r0 + r1) / 2, (low + high) / 2);
        }

        @Override
        public double radius() {
            return Math.hypot(h1 - h0, r1 - r0) / 2 + Math.max(r0, r1) * (high - low) / 2;
        }

        @Override
        public List<Piece> halves() {
            if (Math.hypot(h1 - h0, r1 - r0) > Math.max(r0, r1) * (high - low)) {
                double h = (h0 + h1) / 2;
                double r = (r0 + r1) / 2;
                return List.of(
                        new Band(frame, h0, r0, h, r, low, high, thick),
                        new Band(frame, h, r, h1, r1, low, high, thick));
            }
            double middle = (low + high) / 2;
            return List.of(
                    new Band(frame, h0, r0, h1, r1, low, middle, thick),
                    new Band(frame, h0, r0, h1, r1, middle, high, thick));
        }
    }

    private static List<Piece> pieces(Shape shape) {
        List<Piece> pieces = new ArrayList<>();
        if (shape instanceof Shape.Ball ball) {
            pieces.add(new Dot(ball.centre(), ball.radiusMm()));
        } else if (shape instanceof Shape.Tube tube) {
            double thick = tube.outsideDiameterMm() / 2;
            for (Object part : line(tube)) {
                if (part instanceof Arc arc) {
                    pieces.add(new Bend(arc, 0, arc.turn(), thick));
                } else if (part instanceof Line run) {
                    pieces.add(new Run(run.from(), run.to(), thick));
                }
            }
        } else if (shape instanceof Shape.Turned turned) {
            Frame frame = Frame.of(turned.centre(), turned.axis());
            List<Flat> core = core(turned);
            for (int i = 0; i < core.size(); i++) {
                Flat p = core.get(i);
                Flat q = core.get((i + 1) % core.size());
                if (p.y() > 0 || q.y() > 0) {
                    pieces.add(new Band(frame, p.x(), p.y(), q.x(), q.y(), 0, 2 * Math.PI, turned.roundingMm()));
                }
            }
        } else if (shape instanceof Shape.Hull hull) {
            List<Spot> c = hull.corners();
            for (int i = 0; i < c.size(); i++) {
                for (int j = i + 1; j < c.size(); j++) {
                    for (int k = j + 1; k < c.size(); k++) {
                        // Every triangle of corners lies in the hull, and its surface is made of some of them.
                        pieces.add(new Triangle(c.get(i), c.get(j), c.get(k), hull.roundingMm()));
                    }
                }
            }
        } else if (shape instanceof Shape.Box box) {
            faces(box, pieces);
        } else {
            throw new IllegalArgumentException("no pieces for " + shape);
        }
        return pieces;
    }

    private static void faces(Shape.Box box, List<Piece> into) {
        Direction[] axes = {box.along(), box.across(), cross(box.along(), box.across())};
        double[] half = {box.lengthMm() / 2, box.widthMm() / 2, box.heightMm() / 2};
        for (int axis = 0; axis < 3; axis++) {
            int u = (axis + 1) % 3;
            int v = (axis + 2) % 3;
            for (int side = -1; side <= 1; side += 2) {
                Spot middle = box.centre().along(axes[axis], side * half[axis]);
                Spot[] corner = new Spot[4];
                int n = 0;
                for (int[] s : new int[][] {{-1, -1}, {1, -1}, {1, 1}, {-1, 1}}) {
                    corner[n++] = middle.along(axes[u], s[0] * half[u]).along(axes[v], s[1] * half[v]);
                }
                into.add(new Triangle(corner[0], corner[1], corner[2], 0));
                into.add(new Triangle(corner[0], corner[2], corner[3], 0));
            }
        }
    }

    // ---- the distance from a spot to a shape, in closed form

    private static double distance(Shape shape, Spot at) {
        if (shape instanceof Shape.Ball ball) {
            return ball.centre().distanceTo(at) - ball.radiusMm();
        } else if (shape instanceof Shape.Tube tube) {
            double least = Double.POSITIVE_INFINITY;
            for (Object part : line(tube)) {
                double d = part instanceof Arc arc ? arc.distance(at) : ((Line) part).distance(at);
                least = Math.min(least, d);
            }
            return least - tube.outsideDiameterMm() / 2;
        } else if (shape instanceof Shape.Box box) {
            Direction third = cross(box.along(), box.across());
            return ofBox(
                    Math.abs(dot(box.centre(), at, box.along())) - box.lengthMm() / 2,
                    Math.abs(dot(box.centre(), at, box.across())) - box.widthMm() / 2,
                    Math.abs(dot(box.centre(), at, third)) - box.heightMm() / 2);
        } else if (shape instanceof Shape.Plate plate) {
            return ofPlate(plate, at);
        } else if (shape instanceof Shape.Turned turned) {
            double h = dot(turned.centre(), at, turned.axis());
            Spot foot = turned.centre().along(turned.axis(), h);
            return ofPolygon(core(turned), h, foot.distanceTo(at)) - turned.roundingMm();
        } else if (shape instanceof Shape.Hull hull) {
            return ofHull(hull, at);
        }
        throw new IllegalArgumentException("no distance to " + shape);
    }

    private static double ofBox(double x, double y, double z) {
        double outside = Math.sqrt(sq(Math.max(x, 0)) + sq(Math.max(y, 0)) + sq(Math.max(z, 0)));
        return outside + Math.min(0, Math.max(x, Math.max(y, z)));
    }

    private static double ofPlate(Shape.Plate plate, Spot at) {
        Direction through = cross(plate.along(), plate.up());
        double x = dot(plate.origin(), at, plate.along());
        double y = dot(plate.origin(), at, plate.up());
        double z = Math.abs(dot(plate.origin(), at, through) - plate.thicknessMm() / 2) - plate.thicknessMm() / 2;
        double flat = ofPolygon(plate.outline(), x, y);
        for (Shape.Plate.Hole hole : plate.holes()) {
            flat = Math.max(
                    flat,
                    hole.diameterMm() / 2
                            - Math.hypot(
                                    x - hole.centre().x(), y - hole.centre().y()));
        }
        return Math.hypot(Math.max(flat, 0), Math.max(z, 0)) + Math.min(0, Math.max(flat, z));
    }

    /** Signed distance from a place to a polygon, negative inside. */
    private static double ofPolygon(List<Flat> corners, double x, double y) {
        double least = Double.POSITIVE_INFINITY;
        boolean inside = false;
        for (int i = 0; i < corners.size(); i++) {
            Flat p = corners.get(i);
            Flat q = corners.get((i + 1) % corners.size());
            double ex = q.x() - p.x();
            double ey = q.y() - p.y();
            double t = ((x - p.x()) * ex + (y - p.y()) * ey) / (ex * ex + ey * ey);
            t = Math.min(1, Math.max(0, t));
            least = Math.min(least, Math.hypot(x - p.x() - t * ex, y - p.y() - t * ey));
            if ((p.y() > y) != (q.y() > y) && x < p.x() + (y - p.y()) / ey * ex) {
                inside = !inside;
            }
        }
        return inside ? -least : least;
    }

    /** Right outside the hull; zero inside. */
    private static double ofHull(Shape.Hull hull, Spot at) {
        List<Spot> c = hull.corners();
        double least = Double.POSITIVE_INFINITY;
        for (int i = 0; i < c.size(); i++) {
            for (int j = i + 1; j < c.size(); j++) {
                for (int k = j + 1; k < c.size(); k++) {
                    least = Math.min(least, ofTriangle(c.get(i), c.get(j), c.get(k), at));
                }
            }
        }
        return least - hull.roundingMm();
    }

    private static double ofTriangle(Spot a, Spot b, Spot c, Spot p) {
        double[] u = minus(b, a);
        double[] v = minus(c, a);
        double[] w = minus(p, a);
        double uu = dot(u, u);
        double uv = dot(u, v);
        double vv = dot(v, v);
        double det = uu * vv - uv * uv;
        if (det > 1e-12 * uu * vv) {
            double s = (vv * dot(w, u) - uv * dot(w, v)) / det;
            double t = (uu * dot(w, v) - uv * dot(w, u)) / det;
            if (s >= 0 && t >= 0 && s + t <= 1) {
                double x = w[0] - s * u[0] - t * v[0];
                double y = w[1] - s * u[1] - t * v[1];
                double z = w[2] - s * u[2] - t * v[2];
                return Math.sqrt(x * x + y * y + z * z);
            }
        }
        double edges = Math.min(new Line(a, b).distance(p), new Line(b, c).distance(p));
        return Math.min(edges, new Line(c, a).distance(p));
    }

    // ---- a tube's centre line

    private record Line(Spot from, Spot to) {
        double distance(Spot p) {
            double[] e = minus(to, from);
            double t = Math.min(1, Math.max(0, dot(minus(p, from), e) / dot(e, e)));
            return mix(from, to, t).distanceTo(p);
        }
    }

    /** A circular arc: from the middle, {@code start} points at its beginning and {@code ahead} along it there. */
    private record Arc(Spot middle, Direction start, Direction ahead, double radius, double turn) {
        Spot at(double angle) {
            return middle.along(start, radius * Math.cos(angle)).along(ahead, radius * Math.sin(angle));
        }

        double distance(Spot p) {
            double angle = Math.atan2(dot(middle, p, ahead), dot(middle, p, start));
            double least = Math.min(at(0).distanceTo(p), at(turn).distanceTo(p));
            return angle >= 0 && angle <= turn ? Math.min(least, at(angle).distanceTo(p)) : least;
        }
    }

    private static List<Object> line(Shape.Tube tube) {
        List<Object> parts = new ArrayList<>();
        List<Spot> through = tube.through();
        Spot start = through.get(0);
        for (int i = 1; i + 1 < through.size(); i++) {
            Spot corner = through.get(i);
            Direction in = Direction.from(through.get(i - 1), corner);
            Direction out = Direction.from(corner, through.get(i + 1));
            double turn = Math.acos(Math.max(-1, Math.min(1, in.dot(out))));
            if (tube.bendRadiusMm() == 0 || turn < 1e-7) {
                parts.add(new Line(start, corner));
                start = corner;
                continue;
            }
            double tangent = tube.bendRadiusMm() * Math.tan(turn / 2);
            Spot enters = corner.along(in, -tangent);
            double d = in.dot(out);
            Direction inward = Direction.of(out.x() - d * in.x(), out.y() - d * in.y(), out.z() - d * in.z());
            if (start.distanceTo(enters) > 1e-9) {
                parts.add(new Line(start, enters));
            }
            Spot middle = enters.along(inward, tube.bendRadiusMm());
            parts.add(new Arc(middle, inward.reversed(), in, tube.bendRadiusMm(), turn));
            start = corner.along(out, tangent);
        }
        if (start.distanceTo(through.get(through.size() - 1)) > 1e-9) {
            parts.add(new Line(start, through.get(through.size() - 1)));
        }
        return parts;
    }

    // ---- a turned part's profile

    private record Frame(Spot centre, Direction axis, Direction one, Direction two) {
        static Frame of(Spot centre, Direction axis) {
            Direction off = Math.abs(axis.z()) < 0.9 ? Direction.UP : Direction.FORWARD;
            Direction one = cross(axis, off);
            return new Frame(centre, axis, one, cross(axis, one));
        }

        Spot at(double h, double r, double angle) {
            return centre.along(axis, h).along(one, r * Math.cos(angle)).along(two, r * Math.sin(angle));
        }
    }

    /** The profile moved in by the rounding; grown again by it, its outer corners are round. Convex profiles only. */
    private static List<Flat> core(Shape.Turned turned) {
        List<Flat> p = turned.profile();
        double by = turned.roundingMm();
        if (by == 0) {
            return p;
        }
        double area = 0;
        for (int i = 0; i < p.size(); i++) {
            Flat a = p.get(i);
            Flat b = p.get((i + 1) % p.size());
            area += a.x() * b.y() - b.x() * a.y();
        }
        double way = Math.signum(area);
        List<Flat> core = new ArrayList<>();
        for (int i = 0; i < p.size(); i++) {
            Flat a = p.get((i + p.size() - 1) % p.size());
            Flat b = p.get(i);
            Flat c = p.get((i + 1) % p.size());
            double ux = b.x() - a.x();
            double uy = b.y() - a.y();
            double vx = c.x() - b.x();
            double vy = c.y() - b.y();
            double lu = Math.hypot(ux, uy);
            double lv = Math.hypot(vx, vy);
            // The two edges moved in: (q - b) . n = by for either inward normal n; solved for q - b.
            double n1x = -way * uy / lu;
            double n1y = way * ux / lu;
            double n2x = -way * vy / lv;
            double n2y = way * vx / lv;
            double det = n1x * n2y - n1y * n2x;
            if (det * way <= 0) {
                throw new IllegalArgumentException("a rounded profile has to be convex here: corner " + (i + 1));
            }
            core.add(new Flat(b.x() + by * (n2y - n1y) / det, b.y() + by * (n1x - n2x) / det));
        }
        return core;
    }

    // ---- small change

    private static double sq(double x) {
        return x * x;
    }

    private static Spot mix(Spot a, Spot b, double t) {
        return new Spot(a.x() + t * (b.x() - a.x()), a.y() + t * (b.y() - a.y()), a.z() + t * (b.z() - a.z()));
    }

    private static double[] minus(Spot a, Spot b) {
        return new double[] {a.x() - b.x(), a.y() - b.y(), a.z() - b.z()};
    }

    private static double dot(double[] a, double[] b) {
        return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
    }

    private static double dot(Spot from, Spot to, Direction d) {
        return (to.x() - from.x()) * d.x() + (to.y() - from.y()) * d.y() + (to.z() - from.z()) * d.z();
    }

    private static Direction cross(Direction a, Direction b) {
        return Direction.of(
                a.y() * b.z() - a.z() * b.y(), a.z() * b.x() - a.x() * b.z(), a.x() * b.y() - a.y() * b.x());
    }
}
