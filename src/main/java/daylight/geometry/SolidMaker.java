package daylight.geometry;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/** Takes shapes apart into convex pieces and builds the tree over them. Used once per solid. */
final class SolidMaker {
    /** Node boxes are grown by this share of the coordinates: their axes and sums are rounded. */
    private static final double BOX_SHARE = 1e-14;

    private final List<Integer> kind = new ArrayList<>();
    private final List<double[]> pieces = new ArrayList<>();
    private final List<Double> rounding = new ArrayList<>();
    private final List<double[]> trueOf = new ArrayList<>();
    private final List<ClosedMesh> closed = new ArrayList<>();
    private double[] inner = new double[0];
    private double sagitta;

    /** Roots of finished subtrees, or ~piece for loose pieces, not yet under the tree. */
    private final List<Integer> loose = new ArrayList<>();

    /** The same for pieces that only tell how deep something digs. */
    private final List<Integer> deep = new ArrayList<>();

    private final List<int[]> nodes = new ArrayList<>();
    private final List<double[]> nodeBoxes = new ArrayList<>();
    private int root;
    private int deepRoot;
    private double[][] pieceBox = new double[0][];

    void add(Shape shape) {
        if (shape instanceof Shape.Ball ball) {
            Spot c = ball.centre();
            loose.add(~piece(Solid.POINT, ball.radiusMm(), c.x(), c.y(), c.z()));
            inside(c.x(), c.y(), c.z(), ball.radiusMm());
        } else if (shape instanceof Shape.Tube tube) {
            add(tube);
        } else if (shape instanceof Shape.Box box) {
            add(box);
        } else if (shape instanceof Shape.Hull hull) {
            double[] spots = coordinates(hull.corners());
            int made = hull(spots, hull.roundingMm());
            loose.add(~made);
            insideMiddle(made);
        } else if (shape instanceof Shape.Plate plate) {
            add(plate);
        } else if (shape instanceof Shape.Turned turned) {
            add(turned);
        } else if (shape instanceof Shape.Mesh mesh) {
            add(mesh);
        } else if (shape instanceof Shape.Group group) {
            for (Shape member : group.members()) {
                add(member);
            }
        } else {
            throw new IllegalStateException("no solid is made of " + shape.getClass() + "; please report this");
        }
    }

    Solid make() {
        root = tree(loose);
        deepRoot = deep.isEmpty() ? -1 : tree(deep);
        return new Solid(this);
    }

    /**
     * Makes the solid of a capsule from each spot to the next, under a tree that halves the line: boxes along the
     * chords hold a line as tightly as fitted ones, and cost a twentieth.
     */
    Solid chain(double[] spots, int count, double radius) {
        pieceBox = new double[count - 1][];
        for (int p = 0; p < count - 1; p++) {
            piece(Solid.SEGMENT, radius, Arrays.copyOfRange(spots, 3 * p, 3 * p + 6));
            loose.add(~p);
            double[] b = new double[6];
            for (int axis = 0; axis < 3; axis++) {
                double one = spots[3 * p + axis];
                double two = spots[3 * p + 3 + axis];
                b[axis] = 0.5 * (one + two);
                b[3 + axis] = outward(0.5 * Math.abs(two - one) + radius, b[axis]);
            }
            pieceBox[p] = b;
        }
        inside(spots[0], spots[1], spots[2], radius);
        root = chain(spots, 0, count - 1, radius);
        deepRoot = -1;
        return new Solid(this);
    }

    /** Builds the tree over the capsules from one spot to another and returns its node. */
    private int chain(double[] spots, int from, int to, double radius) {
        int node = nodes.size();
        nodes.add(new int[] {~from, ~from, -1});
        double[] b = new double[Solid.BOX_NUMBERS];
        System.arraycopy(chordFrame(spots, 3 * from, 3 * to), 0, b, 6, 9);
        b[15] = radius;
        for (int axis = 0; axis < 3; axis++) {
            double x = b[6 + 3 * axis];
            double y = b[7 + 3 * axis];
            double z = b[8 + 3 * axis];
            double high = Double.NEGATIVE_INFINITY;
            double low = Double.POSITIVE_INFINITY;
            for (int i = 3 * from; i <= 3 * to; i += 3) {
                double reach = spots[i] * x + spots[i + 1] * y + spots[i + 2] * z;
                high = Math.max(high, reach);
                low = Math.min(low, reach);
            }
            double middle = 0.5 * (high + low);
            b[0] += middle * x;
            b[1] += middle * y;
            b[2] += middle * z;
            b[3 + axis] = 0.5 * (high - low) + BOX_SHARE * (Math.abs(high) + Math.abs(low));
        }
        nodeBoxes.add(b);
        if (to - from > 1) {
            int half = (from + to) / 2;
            nodes.get(node)[0] = chain(spots, from, half, radius);
            nodes.get(node)[1] = chain(spots, half, to, radius);
        }
        return node;
    }

    private static double[] chordFrame(double[] spots, int a, int b) {
        return frame(spots[b] - spots[a], spots[b + 1] - spots[a + 1], spots[b + 2] - spots[a + 2]);
    }

    private int piece(int kindOf, double radius, double... numbers) {
        kind.add(kindOf);
        rounding.add(radius);
        pieces.add(numbers);
        trueOf.add(new double[0]);
        return pieces.size() - 1;
    }

    static double[] coordinates(List<Spot> spots) {
        double[] result = new double[3 * spots.size()];
        for (int i = 0; i < spots.size(); i++) {
            result[3 * i] = spots.get(i).x();
            result[3 * i + 1] = spots.get(i).y();
            result[3 * i + 2] = spots.get(i).z();
        }
        return result;
    }

    private void add(Shape.Tube tube) {
        double radius = tube.outsideDiameterMm() / 2;
        for (double[] chain : CentreLine.chains(tube, Solid.SAGITTA_MM)) {
            boolean bend = chain.length > 6;
            double grown = bend ? radius + CentreLine.growth(Solid.SAGITTA_MM) : radius;
            if (!bend) {
                inside(chain[0], chain[1], chain[2], radius);
                inside(chain[3], chain[4], chain[5], radius);
            }
            if (bend) {
                sagitta = Math.max(sagitta, Solid.SAGITTA_MM);
            }
            for (int i = 0; i + 5 < chain.length; i += 3) {
                loose.add(~piece(Solid.SEGMENT, grown, Arrays.copyOfRange(chain, i, i + 6)));
            }
        }
    }

    private void add(Shape.Box box) {
        Direction x = unit(box.along());
        Direction z = cross(x, box.across());
        Direction y = cross(z, x);
        loose.add(~block(box.centre(), x, y, z, box.lengthMm() / 2, box.widthMm() / 2, box.heightMm() / 2));
        inside(
                box.centre().x(),
                box.centre().y(),
                box.centre().z(),
                Math.min(box.lengthMm(), Math.min(box.widthMm(), box.heightMm())) / 2);
    }

    private int block(Spot c, Direction x, Direction y, Direction z, double l, double w, double h) {
        return piece(
                Solid.BOX, 0, c.x(), c.y(), c.z(), l * x.x(), l * x.y(), l * x.z(), w * y.x(), w * y.y(), w * y.z(),
                h * z.x(), h * z.y(), h * z.z());
    }

    /** A direction's length may be off by 1e-9; here it is made exact. */
    static Direction unit(Direction d) {
        return Direction.of(d.x(), d.y(), d.z());
    }

    static Direction cross(Direction a, Direction b) {
        return Direction.of(
                a.y() * b.z() - a.z() * b.y(), a.z() * b.x() - a.x() * b.z(), a.x() * b.y() - a.y() * b.x());
    }

    private void add(Shape.Plate plate) {
        Direction x = unit(plate.along());
        Direction z = cross(x, plate.up());
        Direction y = cross(z, x);
        if (!plate.holes().isEmpty()) {
            sagitta = Math.max(sagitta, Solid.SAGITTA_MM);
        }
        int before = pieces.size();
        for (double[] part : ConvexParts.of(Figure.of(plate, Solid.SAGITTA_MM))) {
            loose.add(~prism(plate.origin(), x, y, z, plate.thicknessMm(), part));
        }
        insideMiddle(before);
    }

    private int prism(Spot o, Direction x, Direction y, Direction z, double thickness, double[] part) {
        int n = part.length / 2;
        if (n == 4) {
            double ux = part[2] - part[0];
            double uy = part[3] - part[1];
            double vx = part[6] - part[0];
            double vy = part[7] - part[1];
            double lu = Math.hypot(ux, uy);
            double lv = Math.hypot(vx, vy);
            boolean square = Math.abs(ux * vx + uy * vy) <= 1e-13 * lu * lv
                    && Math.hypot(part[0] + part[4] - part[2] - part[6], part[1] + part[5] - part[3] - part[7])
                            <= 1e-13 * (lu + lv);
            if (square) {
                Spot c = o.along(x, (part[0] + part[4]) / 2)
                        .along(y, (part[1] + part[5]) / 2)
                        .along(z, thickness / 2);
                Direction bx = Direction.of(ux * x.x() + uy * y.x(), ux * x.y() + uy * y.y(), ux * x.z() + uy * y.z());
                return block(c, bx, cross(z, bx), z, lu / 2, lv / 2, thickness / 2);
            }
        }
        double[] corners = new double[6 * n];
        for (int i = 0; i < n; i++) {
            Spot low = o.along(x, part[2 * i]).along(y, part[2 * i + 1]);
            Spot high = low.along(z, thickness);
            put(corners, i, low.x(), low.y(), low.z());
            put(corners, n + i, high.x(), high.y(), high.z());
        }
        return piece(Solid.HULL, 0, corners);
    }

    private static void put(double[] into, int i, double x, double y, double z) {
        into[3 * i] = x;
        into[3 * i + 1] = y;
        into[3 * i + 2] = z;
    }

    private void add(Shape.Turned turned) {
        Profile profile = Profile.of(turned);
        Spot c = turned.centre();
        Direction u = unit(turned.axis());
        double radius = turned.roundingMm();
        int whole = round(c, u, profile.hull, radius);
        if (profile.convex) {
            loose.add(~whole);
            double h = profile.hull[0];
            inside(c.x() + h * u.x(), c.y() + h * u.y(), c.z() + h * u.z(), radius);
            return;
        }
        sagitta = Math.max(sagitta, Solid.SAGITTA_MM);
        trueOf.set(whole, trueEdges(profile.core));
        List<Integer> rings = new ArrayList<>();
        Direction v = perpendicular(u);
        Direction w = cross(u, v);
        List<double[]> parts = profile.parts();
        for (double[] part : parts) {
            rings.add(ring(c, u, v, w, part, radius));
            slices(c, u, v, w, part, radius, deep);
        }
        double[] part = parts.get(0);
        double h = 0;
        double r = 0;
        for (int i = 0; i < part.length; i += 2) {
            h += 2 * part[i] / part.length;
            r += 2 * part[i + 1] / part.length;
        }
        Spot within = c.along(u, h).along(v, r);
        inside(within.x(), within.y(), within.z(), radius);
        loose.add(guarded(rings, whole));
    }

    /** Puts a tree over items under a piece that holds them all; returns its node. */
    private int guarded(List<Integer> items, int guard) {
        int node = tree(items);
        nodes.get(node)[2] = guard;
        nodeBoxes.set(node, fit(new int[] {~guard}, 0, 1));
        return node;
    }

    /** A ring is first cut into so many sectors, and each sector again. */
    private static final int CUTS = 6;

    /**
     * Adds what a convex figure sweeps about the axis: one piece where that is convex, else sectors of sectors, each
     * held by its own convex hull, down to those whose chords leave the hollow by less than the sagitta. Whatever is
     * nearest to an outer face of a sector is measured against that sector alone.
     */
    private int ring(Spot c, Direction u, Direction v, Direction w, double[] part, double radius) {
        int n = part.length / 2;
        double hollow = 0;
        for (int i = 0; i < n; i++) {
            int j = (i + 1) % n;
            // Counter-clockwise: edges with rising h bound the part from below (towards the axis).
            if (part[2 * j] > part[2 * i]) {
                hollow = Math.max(hollow, Math.max(part[2 * i + 1], part[2 * j + 1]));
            }
        }
        int round = round(c, u, part, radius);
        if (hollow == 0) {
            return ~round;
        }
        trueOf.set(round, trueEdges(part));
        double least = Math.acos(Math.max(0, 1 - Solid.SAGITTA_MM / hollow));
        int count = Math.max(CUTS, (int) Math.ceil(Math.PI / least));
        List<Integer> cuts = new ArrayList<>();
        for (int k = 0; k < CUTS; k++) {
            cuts.add(sectors(c, u, v, w, part, radius, count, count * k / CUTS, count * (k + 1) / CUTS));
        }
        return guarded(cuts, round);
    }

    private int sectors(
            Spot c, Direction u, Direction v, Direction w, double[] part, double radius, int count, int from, int to) {
        int own = sector(c, u, v, w, part, radius, 2 * Math.PI * from / count, 2 * Math.PI * to / count);
        int held = to - from;
        if (held == 1) {
            return ~own;
        }
        trueOf.set(own, trueEdges(part));
        int cuts = held <= Solid.CLUSTER ? held : CUTS;
        List<Integer> items = new ArrayList<>();
        for (int k = 0; k < cuts; k++) {
            items.add(sectors(c, u, v, w, part, radius, count, from + held * k / cuts, from + held * (k + 1) / cuts));
        }
        return guarded(items, own);
    }

    private static double[] trueEdges(double[] core) {
        int n = core.length / 2;
        double[] edges = new double[4 * n];
        int count = 0;
        for (int i = 0; i < n; i++) {
            int j = (i + 1) % n;
            if (core[2 * i + 1] == 0 && core[2 * j + 1] == 0) {
                continue;
            }
            edges[count++] = core[2 * i];
            edges[count++] = core[2 * i + 1];
            edges[count++] = core[2 * j];
            edges[count++] = core[2 * j + 1];
        }
        return Arrays.copyOf(edges, count);
    }

    private int round(Spot c, Direction u, double[] half, double radius) {
        double[] numbers = new double[6 + half.length];
        numbers[0] = c.x();
        numbers[1] = c.y();
        numbers[2] = c.z();
        numbers[3] = u.x();
        numbers[4] = u.y();
        numbers[5] = u.z();
        System.arraycopy(half, 0, numbers, 6, half.length);
        return piece(Solid.ROUND, radius, numbers);
    }

    private int sector(
            Spot c, Direction u, Direction v, Direction w, double[] part, double radius, double from, double to) {
        double middle = 0.5 * (from + to);
        double half = 0.5 * (to - from);
        double cos = Math.cos(middle);
        double sin = Math.sin(middle);
        double[] numbers = new double[Solid.SECTOR_CORNERS + part.length];
        put(numbers, 0, c.x(), c.y(), c.z());
        put(numbers, 1, u.x(), u.y(), u.z());
        put(numbers, 2, cos * v.x() + sin * w.x(), cos * v.y() + sin * w.y(), cos * v.z() + sin * w.z());
        put(numbers, 3, cos * w.x() - sin * v.x(), cos * w.y() - sin * v.y(), cos * w.z() - sin * v.z());
        numbers[12] = Math.cos(half);
        numbers[13] = Math.sin(half);
        System.arraycopy(part, 0, numbers, Solid.SECTOR_CORNERS, part.length);
        return piece(Solid.SECTOR, radius, numbers);
    }

    /** Slices with more than this many to the turn are of a thin wall, whose depth the sectors give well enough. */
    private static final int MOST_SLICES = 64;

    private static final int SLICE_STEPS = 8;

    /**
     * Adds slices of a ring: what lies beyond a chord that just leaves the hollow alone. They overlap one another, lie
     * wholly inside the part, and are convex, so they change no gap; but where something digs into the tread they tell
     * how deep, which the narrow sectors cannot.
     */
    private void slices(
            Spot c, Direction u, Direction v, Direction w, double[] part, double radius, List<Integer> into) {
        double least = Double.POSITIVE_INFINITY;
        double reach = 0;
        for (int i = 1; i < part.length; i += 2) {
            least = Math.min(least, part[i]);
            reach = Math.max(reach, part[i]);
        }
        int count = (int) Math.ceil(4 * Math.PI / Math.acos(least / reach));
        if (count > MOST_SLICES) {
            return;
        }
        int n = part.length / 2;
        double[] flat = new double[3 * n * (SLICE_STEPS + 1)];
        int spots = 0;
        for (int i = 0; i < n; i++) {
            double h = part[2 * i];
            double inner = Double.POSITIVE_INFINITY;
            double outer = 0;
            for (int a = 0; a < n; a++) {
                int b = (a + 1) % n;
                double ha = part[2 * a];
                double hb = part[2 * b];
                if (Math.min(ha, hb) <= h && h <= Math.max(ha, hb)) {
                    double ra = part[2 * a + 1];
                    double rb = part[2 * b + 1];
                    double r = ha == hb ? ra : ra + (h - ha) / (hb - ha) * (rb - ra);
                    inner = Math.min(inner, ha == hb ? Math.min(ra, rb) : r);
                    outer = Math.max(outer, ha == hb ? Math.max(ra, rb) : r);
                }
            }
            double wide = Math.acos(Math.min(1, inner / outer));
            for (int k = 0; k <= SLICE_STEPS; k++) {
                double angle = wide * (2.0 * k / SLICE_STEPS - 1);
                put(flat, spots++, h, outer * Math.cos(angle), outer * Math.sin(angle));
            }
        }
        for (int k = 0; k < count; k++) {
            double turn = 2 * Math.PI * k / count;
            double cos = Math.cos(turn);
            double sin = Math.sin(turn);
            double[] corners = new double[3 * spots];
            for (int i = 0; i < spots; i++) {
                double h = flat[3 * i];
                double x = flat[3 * i + 1] * cos - flat[3 * i + 2] * sin;
                double y = flat[3 * i + 1] * sin + flat[3 * i + 2] * cos;
                put(
                        corners,
                        i,
                        c.x() + h * u.x() + x * v.x() + y * w.x(),
                        c.y() + h * u.y() + x * v.y() + y * w.y(),
                        c.z() + h * u.z() + x * v.z() + y * w.z());
            }
            into.add(~piece(Solid.HULL, radius, HullOf.corners(corners, HullOf.FLAT_SHARE)));
        }
    }

    static Direction perpendicular(Direction u) {
        double ax = Math.abs(u.x());
        double ay = Math.abs(u.y());
        double az = Math.abs(u.z());
        Direction other = ax <= ay && ax <= az ? Direction.FORWARD : ay <= az ? Direction.LEFT : Direction.UP;
        return cross(u, other);
    }

    private void inside(double x, double y, double z, double radius) {
        int n = inner.length;
        inner = Arrays.copyOf(inner, n + 4);
        inner[n] = x;
        inner[n + 1] = y;
        inner[n + 2] = z;
        inner[n + 3] = radius;
    }

    /** The middle of a piece's corners lies inside it. */
    private void insideMiddle(int p) {
        double[] x = pieces.get(p);
        if (kind.get(p) == Solid.BOX) {
            inside(x[0], x[1], x[2], 0);
            return;
        }
        double sx = 0;
        double sy = 0;
        double sz = 0;
        int n = x.length / 3;
        for (int i = 0; i < n; i++) {
            sx += x[3 * i] / n;
            sy += x[3 * i + 1] / n;
            sz += x[3 * i + 2] / n;
        }
        inside(sx, sy, sz, rounding.get(p));
    }

    private void add(Shape.Mesh mesh) {
        ClosedMesh surface = ClosedMesh.of(mesh);
        if (!surface.isEmpty()) {
            closed.add(surface);
        }
        int held = inner.length;
        int parts = surface.samples.length / 3;
        inner = Arrays.copyOf(inner, held + 4 * parts);
        for (int i = 0; i < parts; i++) {
            System.arraycopy(surface.samples, 3 * i, inner, held + 4 * i, 3);
        }
        List<Spot> corners = mesh.corners();
        List<Integer> triangles = mesh.triangles();
        for (int t = 0; t < triangles.size(); t += 3) {
            double[] spots = new double[9];
            for (int i = 0; i < 3; i++) {
                Spot s = corners.get(triangles.get(t + i));
                put(spots, i, s.x(), s.y(), s.z());
            }
            loose.add(~piece(Solid.HULL, 0, spots));
        }
    }

    /** Makes one piece of the hull of some spots: a point, a segment, a flat or a full hull. */
    private int hull(double[] spots, double radius) {
        double[] corners = HullOf.corners(spots, HullOf.FLAT_SHARE);
        int kindOf = corners.length == 3 ? Solid.POINT : corners.length == 6 ? Solid.SEGMENT : Solid.HULL;
        return piece(kindOf, radius, corners);
    }

    // ---- tree -------------------------------------------------------------------------------------------

    private double[] boxOf(int p) {
        if (pieceBox.length < pieces.size()) {
            pieceBox = Arrays.copyOf(pieceBox, Math.max(pieces.size(), 2 * pieceBox.length));
        }
        if (pieceBox[p] == null) {
            double[] b = new double[6];
            for (int axis = 0; axis < 3; axis++) {
                double[] d = {axis == 0 ? 1 : 0, axis == 1 ? 1 : 0, axis == 2 ? 1 : 0};
                support.of(kind.get(p), pieces.get(p), 0, pieces.get(p).length, d[0], d[1], d[2]);
                double high = axis == 0 ? support.x : axis == 1 ? support.y : support.z;
                support.of(kind.get(p), pieces.get(p), 0, pieces.get(p).length, -d[0], -d[1], -d[2]);
                double low = axis == 0 ? support.x : axis == 1 ? support.y : support.z;
                b[axis] = 0.5 * (high + low);
                b[3 + axis] = outward(0.5 * (high - low) + rounding.get(p), b[axis]);
            }
            pieceBox[p] = b;
        }
        return pieceBox[p];
    }

    /** Grows a half size by what rounding may have taken from it. */
    private static double outward(double half, double centre) {
        return half + 4 * Math.ulp(half + Math.abs(centre));
    }

    /** The piece that stands for an item: itself, or the guard over a finished subtree. */
    private int standing(int item) {
        return item < 0 ? ~item : nodes.get(item)[2];
    }

    private int tree(List<Integer> items) {
        return tree(items.stream().mapToInt(Integer::intValue).toArray(), 0, items.size());
    }

    /** Builds the tree over items (~piece or node) and returns its root. Reorders them. */
    private int tree(int[] items, int from, int to) {
        if (to - from == 1 && items[from] >= 0) {
            return items[from];
        }
        int node = nodes.size();
        nodes.add(new int[] {0, 0, -1});
        double[] own = fit(items, from, to);
        nodeBoxes.add(own);
        if (to - from == 1) {
            nodes.get(node)[0] = items[from];
            nodes.get(node)[1] = items[from];
            return node;
        }
        // Split where the middles of the pieces spread most among the box's own axes.
        double[] spread = new double[3];
        for (int axis = 0; axis < 3; axis++) {
            double low = Double.POSITIVE_INFINITY;
            double high = Double.NEGATIVE_INFINITY;
            for (int i = from; i < to; i++) {
                double m = middle(items[i], own, axis);
                low = Math.min(low, m);
                high = Math.max(high, m);
            }
            spread[axis] = high - low;
        }
        int split = spread[0] >= spread[1] && spread[0] >= spread[2] ? 0 : spread[1] >= spread[2] ? 1 : 2;
        int half = (from + to) / 2;
        Select.median(items, from, to, half, split, (item, axis) -> middle(item, own, axis));
        int one = tree(items, from, half);
        int two = tree(items, half, to);
        nodes.get(node)[0] = one;
        nodes.get(node)[1] = two;
        return node;
    }

    private double middle(int item, double[] own, int axis) {
        double[] b = boxOf(standing(item));
        int at = 6 + 3 * axis;
        return b[0] * own[at] + b[1] * own[at + 1] + b[2] * own[at + 2];
    }

    private final Support support = new Support();

    /**
     * Returns a box round some items: centre, half sizes, three axes, and the least rounding among them, by which the
     * box is to be grown (a tube's is then a capsule, not a block). The best of three: along the frame's axes, along
     * the principal axes of their corners, and, for a single item, along its own.
     */
    private double[] fit(int[] items, int from, int to) {
        double[] best = box(items, from, to, new double[] {1, 0, 0, 0, 1, 0, 0, 0, 1});
        if (to - from == 1) {
            best = smaller(best, box(items, from, to, ownAxes(standing(items[from]))));
        }
        return smaller(best, box(items, from, to, principal(items, from, to)));
    }

    private static double[] smaller(double[] a, double[] b) {
        double areaA = a[3] * a[4] + a[4] * a[5] + a[5] * a[3];
        double areaB = b[3] * b[4] + b[4] * b[5] + b[5] * b[3];
        return areaB < 0.999 * areaA ? b : a;
    }

    private double[] box(int[] items, int from, int to, double[] axes) {
        double[] b = new double[Solid.BOX_NUMBERS];
        double grown = Double.POSITIVE_INFINITY;
        for (int i = from; i < to; i++) {
            grown = Math.min(grown, rounding.get(standing(items[i])));
        }
        b[15] = grown;
        System.arraycopy(axes, 0, b, 6, 9);
        for (int axis = 0; axis < 3; axis++) {
            double x = axes[3 * axis];
            double y = axes[3 * axis + 1];
            double z = axes[3 * axis + 2];
            double high = Double.NEGATIVE_INFINITY;
            double low = Double.POSITIVE_INFINITY;
            for (int i = from; i < to; i++) {
                int p = standing(items[i]);
                double[] n = pieces.get(p);
                double r = rounding.get(p) - grown;
                high = Math.max(high, r + support.reach(kind.get(p), n, 0, n.length, x, y, z));
                low = Math.min(low, -r - support.reach(kind.get(p), n, 0, n.length, -x, -y, -z));
            }
            double middle = 0.5 * (high + low);
            b[0] += middle * x;
            b[1] += middle * y;
            b[2] += middle * z;
            b[3 + axis] = 0.5 * (high - low) + BOX_SHARE * (Math.abs(high) + Math.abs(low));
        }
        return b;
    }

    /** Directions along which a single piece is smallest. */
    private double[] ownAxes(int p) {
        double[] n = pieces.get(p);
        return switch (kind.get(p)) {
            case Solid.SEGMENT -> frame(n[3] - n[0], n[4] - n[1], n[5] - n[2]);
            case Solid.BOX -> {
                Direction x = Direction.of(n[3], n[4], n[5]);
                Direction z = cross(x, Direction.of(n[6], n[7], n[8]));
                Direction y = cross(z, x);
                yield new double[] {x.x(), x.y(), x.z(), y.x(), y.y(), y.z(), z.x(), z.y(), z.z()};
            }
            case Solid.ROUND -> frame(n[3], n[4], n[5]);
            case Solid.SECTOR -> Arrays.copyOfRange(n, 3, 12);
            case Solid.HULL -> {
                double ux = n[3] - n[0];
                double uy = n[4] - n[1];
                double uz = n[5] - n[2];
                double vx = n[6] - n[0];
                double vy = n[7] - n[1];
                double vz = n[8] - n[2];
                double nx = uy * vz - uz * vy;
                double ny = uz * vx - ux * vz;
                double nz = ux * vy - uy * vx;
                double area = Math.sqrt(nx * nx + ny * ny + nz * nz);
                if (!(area > 1e-9 * (ux * ux + uy * uy + uz * uz))) {
                    yield frame(ux, uy, uz);
                }
                Direction z = Direction.of(nx, ny, nz);
                Direction y = cross(z, Direction.of(ux, uy, uz));
                Direction x = cross(y, z);
                yield new double[] {x.x(), x.y(), x.z(), y.x(), y.y(), y.z(), z.x(), z.y(), z.z()};
            }
            default -> frame(1, 0, 0);
        };
    }

    private static double[] frame(double dx, double dy, double dz) {
        if (dx == 0 && dy == 0 && dz == 0) {
            return new double[] {1, 0, 0, 0, 1, 0, 0, 0, 1};
        }
        Direction x = Direction.of(dx, dy, dz);
        Direction y = perpendicular(x);
        Direction z = cross(x, y);
        return new double[] {x.x(), x.y(), x.z(), y.x(), y.y(), y.z(), z.x(), z.y(), z.z()};
    }

    /** Eigenvectors of the corners' covariance, by Jacobi's rotations. */
    private double[] principal(int[] items, int from, int to) {
        double[] sum = new double[3];
        double[][] c = new double[3][3];
        double weight = 0;
        double[] origin = boxOf(standing(items[from]));
        for (int i = from; i < to; i++) {
            int p = standing(items[i]);
            double[] n = pieces.get(p);
            int k = kind.get(p);
            boolean round = k == Solid.ROUND || k == Solid.SECTOR;
            int count = k == Solid.BOX ? 8 : round ? 6 : n.length / 3;
            for (int v = 0; v < count; v++) {
                double x;
                double y;
                double z;
                if (k == Solid.BOX) {
                    int sx = (v & 1) == 0 ? -1 : 1;
                    int sy = (v & 2) == 0 ? -1 : 1;
                    int sz = (v & 4) == 0 ? -1 : 1;
                    x = n[0] + sx * n[3] + sy * n[6] + sz * n[9];
                    y = n[1] + sx * n[4] + sy * n[7] + sz * n[10];
                    z = n[2] + sx * n[5] + sy * n[8] + sz * n[11];
                } else if (round) {
                    int s = (v & 1) == 0 ? -1 : 1;
                    support.of(k, n, 0, n.length, v / 2 == 0 ? s : 0, v / 2 == 1 ? s : 0, v / 2 == 2 ? s : 0);
                    x = support.x;
                    y = support.y;
                    z = support.z;
                } else {
                    x = n[3 * v];
                    y = n[3 * v + 1];
                    z = n[3 * v + 2];
                }
                x -= origin[0];
                y -= origin[1];
                z -= origin[2];
                double w = 1.0 / count;
                weight += w;
                sum[0] += w * x;
                sum[1] += w * y;
                sum[2] += w * z;
                c[0][0] += w * x * x;
                c[0][1] += w * x * y;
                c[0][2] += w * x * z;
                c[1][1] += w * y * y;
                c[1][2] += w * y * z;
                c[2][2] += w * z * z;
            }
        }
        for (int i = 0; i < 3; i++) {
            for (int j = i; j < 3; j++) {
                c[i][j] -= sum[i] * sum[j] / weight;
                c[j][i] = c[i][j];
            }
        }
        return eigenvectors(c);
    }

    private static double[] eigenvectors(double[][] c) {
        double[][] v = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
        for (int sweep = 0; sweep < 12; sweep++) {
            for (int p = 0; p < 2; p++) {
                for (int q = p + 1; q < 3; q++) {
                    if (c[p][q] == 0) {
                        continue;
                    }
                    double theta = (c[q][q] - c[p][p]) / (2 * c[p][q]);
                    double t = Math.signum(theta) / (Math.abs(theta) + Math.sqrt(theta * theta + 1));
                    t = theta == 0 ? 1 : t;
                    double cos = 1 / Math.sqrt(t * t + 1);
                    double sin = t * cos;
                    for (int k = 0; k < 3; k++) {
                        double a = c[k][p];
                        double b = c[k][q];
                        c[k][p] = cos * a - sin * b;
                        c[k][q] = sin * a + cos * b;
                    }
                    for (int k = 0; k < 3; k++) {
                        double a = c[p][k];
                        double b = c[q][k];
                        c[p][k] = cos * a - sin * b;
                        c[q][k] = sin * a + cos * b;
                        double d = v[k][p];
                        double e = v[k][q];
                        v[k][p] = cos * d - sin * e;
                        v[k][q] = sin * d + cos * e;
                    }
                }
            }
        }
        // Made square again: the box needs exact right angles.
        Direction x = Direction.of(v[0][0], v[1][0], v[2][0]);
        Direction z = cross(x, Direction.of(v[0][1], v[1][1], v[2][1]));
        Direction y = cross(z, x);
        return new double[] {x.x(), x.y(), x.z(), y.x(), y.y(), y.z(), z.x(), z.y(), z.z()};
    }

    // ---- what the solid takes over ----------------------------------------------------------------------

    byte[] kinds() {
        byte[] result = new byte[kind.size()];
        for (int i = 0; i < result.length; i++) {
            result[i] = kind.get(i).byteValue();
        }
        return result;
    }

    int[] firsts() {
        int[] result = new int[pieces.size() + 1];
        for (int i = 0; i < pieces.size(); i++) {
            result[i + 1] = result[i] + pieces.get(i).length;
        }
        return result;
    }

    double[] numbers() {
        int[] firsts = firsts();
        double[] result = new double[firsts[pieces.size()]];
        for (int i = 0; i < pieces.size(); i++) {
            System.arraycopy(pieces.get(i), 0, result, firsts[i], pieces.get(i).length);
        }
        return result;
    }

    double[] roundings() {
        return rounding.stream().mapToDouble(Double::doubleValue).toArray();
    }

    /** Bounding balls of the cores: centre of the box, radius to the furthest corner. */
    double[] balls() {
        double[] result = new double[4 * pieces.size()];
        for (int p = 0; p < pieces.size(); p++) {
            double[] b = boxOf(p);
            double[] x = pieces.get(p);
            double far = 0;
            switch (kind.get(p)) {
                case Solid.SECTOR -> {
                    b = middleOfSector(x);
                    for (int i = Solid.SECTOR_CORNERS; i < x.length; i += 2) {
                        // From a spot in the plane of symmetry the ends of an arc or its middle are furthest.
                        double along = x[i] - b[3];
                        double ends = Math.hypot(x[12] * x[i + 1] - b[4], x[13] * x[i + 1]);
                        far = Math.max(far, Math.hypot(along, Math.max(ends, Math.abs(x[i + 1] - b[4]))));
                    }
                }
                case Solid.BOX -> far = Math.sqrt(sum(x, 3) + sum(x, 6) + sum(x, 9));
                case Solid.ROUND -> {
                    double dx = x[0] - b[0];
                    double dy = x[1] - b[1];
                    double dz = x[2] - b[2];
                    double along = dx * x[3] + dy * x[4] + dz * x[5];
                    double off = Math.sqrt(Math.max(0, dx * dx + dy * dy + dz * dz - along * along));
                    for (int i = 6; i < x.length; i += 2) {
                        far = Math.max(far, Math.hypot(along + x[i], off + x[i + 1]));
                    }
                }
                default -> {
                    for (int i = 0; i < x.length; i += 3) {
                        double dx = x[i] - b[0];
                        double dy = x[i + 1] - b[1];
                        double dz = x[i + 2] - b[2];
                        far = Math.max(far, Math.sqrt(dx * dx + dy * dy + dz * dz));
                    }
                }
            }
            result[4 * p] = b[0];
            result[4 * p + 1] = b[1];
            result[4 * p + 2] = b[2];
            result[4 * p + 3] = far * (1 + 1e-15) + 4 * Math.ulp(Math.abs(b[0]) + Math.abs(b[1]) + Math.abs(b[2]));
        }
        return result;
    }

    /** Middle of a sector's box in its own axes: x, y, z, then along the axis and from it. */
    private static double[] middleOfSector(double[] x) {
        double lowH = Double.POSITIVE_INFINITY;
        double highH = Double.NEGATIVE_INFINITY;
        double lowR = Double.POSITIVE_INFINITY;
        double highR = 0;
        for (int i = Solid.SECTOR_CORNERS; i < x.length; i += 2) {
            lowH = Math.min(lowH, x[i]);
            highH = Math.max(highH, x[i]);
            lowR = Math.min(lowR, x[i + 1]);
            highR = Math.max(highR, x[i + 1]);
        }
        double h = 0.5 * (lowH + highH);
        double r = 0.5 * (lowR * x[12] + highR);
        return new double[] {x[0] + h * x[3] + r * x[6], x[1] + h * x[4] + r * x[7], x[2] + h * x[5] + r * x[8], h, r};
    }

    private static double sum(double[] x, int at) {
        return x[at] * x[at] + x[at + 1] * x[at + 1] + x[at + 2] * x[at + 2];
    }

    int[] child() {
        return nodes.stream().mapToInt(n -> n[0]).toArray();
    }

    int[] second() {
        return nodes.stream().mapToInt(n -> n[1]).toArray();
    }

    int[] guards() {
        return nodes.stream().mapToInt(n -> n[2]).toArray();
    }

    double[] boxes() {
        double[] result = new double[Solid.BOX_NUMBERS * nodes.size()];
        for (int i = 0; i < nodes.size(); i++) {
            System.arraycopy(nodeBoxes.get(i), 0, result, Solid.BOX_NUMBERS * i, Solid.BOX_NUMBERS);
        }
        return result;
    }

    int[] trueFirsts() {
        int[] result = new int[pieces.size()];
        int at = 0;
        for (int p = 0; p < pieces.size(); p++) {
            int length = trueOf.get(p).length;
            result[p] = length == 0 ? -1 : at;
            at += length / 4;
        }
        return result;
    }

    int[] trueCounts() {
        return trueOf.stream().mapToInt(edges -> edges.length / 4).toArray();
    }

    double[] trueEdges() {
        return trueOf.stream().flatMapToDouble(Arrays::stream).toArray();
    }

    ClosedMesh[] closed() {
        return closed.toArray(new ClosedMesh[0]);
    }

    double[] inner() {
        return inner;
    }

    /** Corners of the box along the frame's axes: least x, y, z, greatest x, y, z. */
    double[] extent() {
        double[] result = new double[6];
        Arrays.fill(result, 0, 3, Double.POSITIVE_INFINITY);
        Arrays.fill(result, 3, 6, Double.NEGATIVE_INFINITY);
        for (int item : loose) {
            double[] b = boxOf(standing(item));
            for (int k = 0; k < 3; k++) {
                result[k] = Math.min(result[k], b[k] - b[3 + k]);
                result[3 + k] = Math.max(result[3 + k], b[k] + b[3 + k]);
            }
        }
        return result;
    }

    int root() {
        return root;
    }

    int deepRoot() {
        return deepRoot;
    }

    double sagitta() {
        return sagitta;
    }
}
