package daylight.geometry;

import com.github.quickhull3d.QuickHull3D;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.LinearRing;
import org.locationtech.jts.geom.Polygon;

/**
 * A shape's surface as triangles, for pictures. Measuring uses {@link Solid}, not this.
 *
 * <p>Frame: that of the shape, mm. Triangles run counter-clockwise seen from outside. Each vertex carries the unit
 * outward normal of the true surface there; a spot on a hard edge appears once per face that meets in it, so that
 * flat stays flat and round looks round.
 *
 * <p>Hulls without volume and rounding have two sides if they are flat and no triangles if they are straight.
 * Groups are drawn member by member, inner walls included.
 */
public final class Skin {
    /** No circle gets more sides than this: finer is not seen. */
    private static final int MOST_SIDES = 96;
    /** Faces of a mesh that meet at less than this are drawn as one round surface. */
    private static final double CREASE_COSINE = Math.cos(Math.toRadians(35));

    private final double sagitta;
    private double[] corner = new double[192];
    private double[] normal = new double[192];
    private int[] index = new int[192];
    private int corners;
    private int indices;

    private Skin(double sagitta) {
        this.sagitta = sagitta;
    }

    /**
     * Returns the surface of a shape.
     *
     * @param sagittaMm how far a flat triangle may be from the round surface it stands for, mm, more than zero; twice
     *     that on the corners of rounded hulls, and never finer than 96 sides to a circle
     * @throws IllegalArgumentException if the shape cannot be made ({@link Solid#whyNot} says the same), or the
     *     sagitta is not more than zero
     */
    public static Skin of(Shape shape, double sagittaMm) {
        if (!(sagittaMm > 0)) {
            throw new IllegalArgumentException("sagitta must be more than zero: " + sagittaMm);
        }
        Solid.whyNot(shape).ifPresent(why -> {
            throw new IllegalArgumentException(why);
        });
        Skin skin = new Skin(sagittaMm);
        skin.add(shape);
        skin.corner = Arrays.copyOf(skin.corner, 3 * skin.corners);
        skin.normal = Arrays.copyOf(skin.normal, 3 * skin.corners);
        skin.index = Arrays.copyOf(skin.index, skin.indices);
        return skin;
    }

    /** Returns the vertices: x, y, z, x, y, z, ..., mm. A copy. */
    public double[] vertices() {
        return corner.clone();
    }

    /** Returns the unit outward normal of each vertex: x, y, z, x, y, z, ... A copy. */
    public double[] normals() {
        return normal.clone();
    }

    /** Returns three vertex numbers per triangle, counter-clockwise seen from outside. A copy. */
    public int[] faces() {
        return index.clone();
    }

    private void add(Shape shape) {
        if (shape instanceof Shape.Ball ball) {
            ball(ball.centre(), ball.radiusMm());
        } else if (shape instanceof Shape.Tube tube) {
            tube(tube);
        } else if (shape instanceof Shape.Box box) {
            box(box);
        } else if (shape instanceof Shape.Plate plate) {
            plate(plate);
        } else if (shape instanceof Shape.Turned turned) {
            turned(turned);
        } else if (shape instanceof Shape.Hull hull) {
            hull(hull);
        } else if (shape instanceof Shape.Mesh mesh) {
            mesh(mesh);
        } else if (shape instanceof Shape.Group group) {
            group.members().forEach(this::add);
        } else {
            throw new IllegalStateException("no skin is made of " + shape.getClass() + "; please report this");
        }
    }

    private int vertex(double x, double y, double z, double nx, double ny, double nz) {
        if (corner.length < 3 * corners + 3) {
            corner = Arrays.copyOf(corner, 2 * corner.length);
            normal = Arrays.copyOf(normal, 2 * normal.length);
        }
        int at = 3 * corners;
        corner[at] = x;
        corner[at + 1] = y;
        corner[at + 2] = z;
        normal[at] = nx;
        normal[at + 1] = ny;
        normal[at + 2] = nz;
        return corners++;
    }

    private int vertex(Spot s, Direction n) {
        return vertex(s.x(), s.y(), s.z(), n.x(), n.y(), n.z());
    }

    private void triangle(int a, int b, int c) {
        if (index.length < indices + 3) {
            index = Arrays.copyOf(index, 2 * index.length);
        }
        index[indices++] = a;
        index[indices++] = b;
        index[indices++] = c;
    }

    private void quad(int a, int b, int c, int d) {
        triangle(a, b, c);
        triangle(a, c, d);
    }

    private int sides(double radius) {
        return Math.max(8, Math.min(MOST_SIDES, (Figure.sides(radius, sagitta) + 3) / 4 * 4));
    }

    // ---- round things -----------------------------------------------------------------------------------

    private void ball(Spot c, double r) {
        int around = sides(r);
        sweep(
                new double[] {c.x(), c.y(), c.z(), c.x(), c.y(), c.z()},
                new Direction[] {Direction.UP, Direction.UP},
                r,
                around);
    }

    private void tube(Shape.Tube tube) {
        double r = tube.outsideDiameterMm() / 2;
        int around = sides(r);
        if (tube.bendRadiusMm() == 0) {
            for (int i = 1; i < tube.through().size(); i++) {
                Spot a = tube.through().get(i - 1);
                Spot b = tube.through().get(i);
                Direction along = Direction.from(a, b);
                sweep(
                        new double[] {a.x(), a.y(), a.z(), b.x(), b.y(), b.z()},
                        new Direction[] {along, along},
                        r,
                        around);
            }
            return;
        }
        double[] line = CentreLine.line(tube, sagitta);
        int n = line.length / 3;
        Direction[] tangents = new Direction[n];
        for (int i = 0; i < n; i++) {
            Direction before = i == 0 ? null : step(line, i - 1);
            Direction after = i == n - 1 ? null : step(line, i);
            if (before == null) {
                tangents[i] = step(line, 0);
            } else if (after == null) {
                tangents[i] = before;
            } else {
                tangents[i] = Direction.of(before.x() + after.x(), before.y() + after.y(), before.z() + after.z());
            }
        }
        sweep(line, tangents, r, around);
    }

    private static Direction step(double[] line, int i) {
        return Direction.of(
                line[3 * i + 3] - line[3 * i], line[3 * i + 4] - line[3 * i + 1], line[3 * i + 5] - line[3 * i + 2]);
    }

    /** A round tube along a line with half balls at both ends. */
    private void sweep(double[] line, Direction[] tangents, double r, int around) {
        int n = tangents.length;
        Direction u = SolidMaker.perpendicular(tangents[0]);
        int rings = around / 4;
        int[] last = new int[0];
        for (int k = rings; k >= 0; k--) {
            last = ring(line, 0, tangents[0], u, r, around, -(Math.PI / 2) * k / rings, last);
        }
        for (int i = 1; i < n; i++) {
            // Carry the first direction along without twist.
            Direction t = tangents[i];
            double dot = u.dot(t);
            u = Direction.of(u.x() - dot * t.x(), u.y() - dot * t.y(), u.z() - dot * t.z());
            last = ring(line, i, t, u, r, around, 0, last);
        }
        for (int k = 1; k <= rings; k++) {
            last = ring(line, n - 1, tangents[n - 1], u, r, around, (Math.PI / 2) * k / rings, last);
        }
    }

    /** One ring of vertices at a latitude, joined to the one before; a single vertex at a pole. */
    private int[] ring(
            double[] line, int i, Direction t, Direction u, double r, int around, double latitude, int[] before) {
        Direction v = SolidMaker.cross(t, u);
        boolean pole = Math.abs(Math.abs(latitude) - Math.PI / 2) < 1e-9;
        int count = pole ? 1 : around;
        int[] now = new int[count];
        double sin = Math.sin(latitude);
        double cos = pole ? 0 : Math.cos(latitude);
        for (int k = 0; k < count; k++) {
            double angle = 2 * Math.PI * k / around;
            double a = cos * Math.cos(angle);
            double b = cos * Math.sin(angle);
            double nx = sin * t.x() + a * u.x() + b * v.x();
            double ny = sin * t.y() + a * u.y() + b * v.y();
            double nz = sin * t.z() + a * u.z() + b * v.z();
            now[k] = vertex(line[3 * i] + r * nx, line[3 * i + 1] + r * ny, line[3 * i + 2] + r * nz, nx, ny, nz);
        }
        join(before, now);
        return now;
    }

    /** Joins two rings that both run counter-clockwise about the direction from the first to the second. */
    private void join(int[] before, int[] now) {
        int around = Math.max(before.length, now.length);
        if (before.length == 0 || now.length == 0 || around == 1) {
            return;
        }
        for (int k = 0; k < around; k++) {
            int next = (k + 1) % around;
            if (before.length == 1) {
                triangle(before[0], now[next], now[k]);
            } else if (now.length == 1) {
                triangle(before[k], before[next], now[0]);
            } else {
                quad(before[k], before[next], now[next], now[k]);
            }
        }
    }

    private void turned(Shape.Turned turned) {
        Profile profile = Profile.of(turned);
        double rho = turned.roundingMm();
        double[] core = profile.core;
        int n = core.length / 2;
        double reach = 0;
        for (int i = 1; i < core.length; i += 2) {
            reach = Math.max(reach, core[i]);
        }
        int around = sides(reach + rho);
        Spot c = turned.centre();
        Direction axis = SolidMaker.unit(turned.axis());
        for (int i = 0; i < n; i++) {
            int before = (i + n - 1) % n;
            int after = (i + 1) % n;
            double[] in = outward(core, before, i);
            double[] out = outward(core, i, after);
            boolean axisBefore = core[2 * before + 1] == 0 && core[2 * i + 1] == 0;
            boolean axisAfter = core[2 * after + 1] == 0 && core[2 * i + 1] == 0;
            if (!axisAfter) {
                // The straight edge, with its inner corners where neighbouring edges meet.
                double[] a = edgeEnd(core, i, in, out, rho, axisBefore, out);
                int beyond = (after + 1) % n;
                double[] following = outward(core, after, beyond);
                boolean axisFollowing = core[2 * after + 1] == 0 && core[2 * beyond + 1] == 0;
                double[] b = edgeEnd(core, after, out, following, rho, axisFollowing, out);
                int[] one = circle(c, axis, a[0], a[1], out[0], out[1], around);
                int[] two = circle(c, axis, b[0], b[1], out[0], out[1], around);
                // Counter-clockwise in (h, r) the outside is on the right: rising h has it towards the axis.
                join(two, one);
            }
            double turn = Math.atan2(in[0] * out[1] - in[1] * out[0], in[0] * out[0] + in[1] * out[1]);
            if (rho > 0 && !axisBefore && !axisAfter && turn > 0) {
                int steps = Math.max(2, (int) Math.ceil(turn / (2 * Math.PI) * sides(rho)));
                int[] last = new int[0];
                for (int k = 0; k <= steps; k++) {
                    double angle = Math.atan2(in[1], in[0]) + turn * k / steps;
                    double nh = Math.cos(angle);
                    double nr = Math.sin(angle);
                    int[] now = circle(c, axis, core[2 * i] + rho * nh, core[2 * i + 1] + rho * nr, nh, nr, around);
                    join(now, last);
                    last = now;
                }
            }
        }
    }

    /** Unit outward normal of edge i to j of a counter-clockwise profile. */
    private static double[] outward(double[] core, int i, int j) {
        double dh = core[2 * j] - core[2 * i];
        double dr = core[2 * j + 1] - core[2 * i + 1];
        double length = Math.hypot(dh, dr);
        return new double[] {dr / length, -dh / length};
    }

    /** Where the grown edge with normal {@code own} ends at a corner: at the arc, or where the grown edges meet. */
    private static double[] edgeEnd(
            double[] core, int i, double[] in, double[] out, double rho, boolean onAxis, double[] own) {
        double h = core[2 * i];
        double r = core[2 * i + 1];
        double turn = in[0] * out[1] - in[1] * out[0];
        if (onAxis) {
            // The other edge runs along the axis: this one goes on to the axis.
            double along = r == 0 && own[0] != 0 ? rho / own[0] : 0;
            return new double[] {h + (own[0] == 0 ? 0 : along), 0};
        }
        if (turn >= 0) {
            return new double[] {h + rho * own[0], r + rho * own[1]};
        }
        double scale = rho / (1 + in[0] * out[0] + in[1] * out[1]);
        return new double[] {h + scale * (in[0] + out[0]), r + scale * (in[1] + out[1])};
    }

    private int[] circle(Spot c, Direction axis, double h, double r, double nh, double nr, int around) {
        Direction u = SolidMaker.perpendicular(axis);
        Direction v = SolidMaker.cross(axis, u);
        boolean pole = r <= 1e-12;
        int[] ring = new int[pole ? 1 : around];
        for (int k = 0; k < ring.length; k++) {
            double angle = 2 * Math.PI * k / around;
            double a = pole ? 0 : Math.cos(angle);
            double b = pole ? 0 : Math.sin(angle);
            double s = pole ? Math.signum(nh) : nh;
            ring[k] = vertex(
                    c.x() + h * axis.x() + r * (a * u.x() + b * v.x()),
                    c.y() + h * axis.y() + r * (a * u.y() + b * v.y()),
                    c.z() + h * axis.z() + r * (a * u.z() + b * v.z()),
                    s * axis.x() + nr * (a * u.x() + b * v.x()),
                    s * axis.y() + nr * (a * u.y() + b * v.y()),
                    s * axis.z() + nr * (a * u.z() + b * v.z()));
        }
        return ring;
    }

    // ---- flat things ------------------------------------------------------------------------------------

    private void box(Shape.Box box) {
        Direction x = SolidMaker.unit(box.along());
        Direction z = SolidMaker.cross(x, box.across());
        Direction y = SolidMaker.cross(z, x);
        Direction[] axes = {x, y, z};
        double[] half = {box.lengthMm() / 2, box.widthMm() / 2, box.heightMm() / 2};
        for (int i = 0; i < 3; i++) {
            for (int s = -1; s <= 1; s += 2) {
                Direction n = s > 0 ? axes[i] : axes[i].reversed();
                Direction u = axes[(i + 1) % 3];
                Direction v = axes[(i + 2) % 3];
                double hu = s * half[(i + 1) % 3];
                double hv = half[(i + 2) % 3];
                Spot m = box.centre().along(n, half[i]);
                quad(
                        vertex(m.along(u, -hu).along(v, -hv), n),
                        vertex(m.along(u, hu).along(v, -hv), n),
                        vertex(m.along(u, hu).along(v, hv), n),
                        vertex(m.along(u, -hu).along(v, hv), n));
            }
        }
    }

    private void plate(Shape.Plate plate) {
        Direction x = SolidMaker.unit(plate.along());
        Direction z = SolidMaker.cross(x, plate.up());
        Direction y = SolidMaker.cross(z, x);
        Direction down = z.reversed();
        double t = plate.thicknessMm();
        Polygon figure = Figure.of(plate, sagitta);
        for (double[] f : ConvexParts.triangles(figure)) {
            Spot[] s = new Spot[3];
            for (int i = 0; i < 3; i++) {
                s[i] = plate.origin().along(x, f[2 * i]).along(y, f[2 * i + 1]);
            }
            triangle(vertex(s[0], down), vertex(s[2], down), vertex(s[1], down));
            triangle(vertex(s[0].along(z, t), z), vertex(s[1].along(z, t), z), vertex(s[2].along(z, t), z));
        }
        wall(plate, figure.getExteriorRing(), x, y, z, null);
        for (int i = 0; i < figure.getNumInteriorRing(); i++) {
            wall(
                    plate,
                    figure.getInteriorRingN(i),
                    x,
                    y,
                    z,
                    plate.holes().get(i).centre());
        }
    }

    /** The wall over a ring: flat over each edge, or round about a hole's centre. */
    private void wall(
            Shape.Plate plate,
            LinearRing ring,
            Direction x,
            Direction y,
            Direction z,
            @org.jspecify.annotations.Nullable Flat hole) {
        Coordinate[] c = ring.getCoordinates();
        for (int i = 0; i + 1 < c.length; i++) {
            // Outlines run counter-clockwise with metal on the left; so do hole rings, with metal on the right.
            Coordinate a = hole == null ? c[i] : c[i + 1];
            Coordinate b = hole == null ? c[i + 1] : c[i];
            Direction na = side(a, b, hole, a, x, y);
            Direction nb = side(a, b, hole, b, x, y);
            Spot sa = plate.origin().along(x, a.x).along(y, a.y);
            Spot sb = plate.origin().along(x, b.x).along(y, b.y);
            double t = plate.thicknessMm();
            quad(vertex(sa, na), vertex(sb, nb), vertex(sb.along(z, t), nb), vertex(sa.along(z, t), na));
        }
    }

    private static Direction side(
            Coordinate a,
            Coordinate b,
            @org.jspecify.annotations.Nullable Flat hole,
            Coordinate at,
            Direction x,
            Direction y) {
        double u = hole == null ? b.y - a.y : hole.x() - at.x;
        double v = hole == null ? a.x - b.x : hole.y() - at.y;
        return Direction.of(u * x.x() + v * y.x(), u * x.y() + v * y.y(), u * x.z() + v * y.z());
    }

    private void hull(Shape.Hull hull) {
        double r = hull.roundingMm();
        double[] spots = SolidMaker.coordinates(hull.corners());
        double[] core = HullOf.corners(spots, HullOf.FLAT_SHARE);
        if (core.length == 3) {
            if (r > 0) {
                ball(hull.corners().get(0), r);
            }
            return;
        }
        if (core.length == 6) {
            if (r > 0) {
                Direction along = Direction.of(core[3] - core[0], core[4] - core[1], core[5] - core[2]);
                sweep(core, new Direction[] {along, along}, r, sides(r));
            }
            return;
        }
        int[] frame = HullOf.frame(core, HullOf.FLAT_SHARE);
        if (r > 0) {
            rounded(core, r);
        } else if (frame.length == 3) {
            int[] ring = HullOf.flatHull(core, frame);
            face(core, ring);
            int[] back = new int[ring.length];
            for (int i = 0; i < ring.length; i++) {
                back[i] = ring[ring.length - 1 - i];
            }
            face(core, back);
        } else {
            QuickHull3D faces = new QuickHull3D();
            faces.build(HullOf.points(core), core.length / 3);
            int[] points = faces.getVertexPointIndices();
            for (int[] f : faces.getFaces()) {
                int[] ring = new int[f.length];
                for (int i = 0; i < f.length; i++) {
                    ring[i] = points[f[i]];
                }
                face(core, ring);
            }
        }
    }

    /** A flat convex face, its corners counter-clockwise from outside. */
    private void face(double[] spots, int[] ring) {
        double x = 0;
        double y = 0;
        double z = 0;
        for (int i = 0; i < ring.length; i++) {
            int a = 3 * ring[i];
            int b = 3 * ring[(i + 1) % ring.length];
            x += (spots[a + 1] - spots[b + 1]) * (spots[a + 2] + spots[b + 2]);
            y += (spots[a + 2] - spots[b + 2]) * (spots[a] + spots[b]);
            z += (spots[a] - spots[b]) * (spots[a + 1] + spots[b + 1]);
        }
        double length = Math.sqrt(x * x + y * y + z * z);
        if (!(length > 0)) {
            return;
        }
        int[] v = new int[ring.length];
        for (int i = 0; i < ring.length; i++) {
            int a = 3 * ring[i];
            v[i] = vertex(spots[a], spots[a + 1], spots[a + 2], x / length, y / length, z / length);
        }
        for (int i = 1; i + 1 < ring.length; i++) {
            triangle(v[0], v[i], v[i + 1]);
        }
    }

    /** The hull of balls round the corners: each of its vertices has its ball's normal. */
    private void rounded(double[] core, double r) {
        int around = Math.min(48, sides(r));
        List<double[]> directions = new ArrayList<>();
        int rings = around / 2;
        for (int k = 0; k <= rings; k++) {
            double latitude = Math.PI * k / rings - Math.PI / 2;
            int count = k == 0 || k == rings ? 1 : around;
            for (int i = 0; i < count; i++) {
                double angle = 2 * Math.PI * i / around;
                double c = Math.cos(latitude);
                directions.add(new double[] {c * Math.cos(angle), c * Math.sin(angle), Math.sin(latitude)});
            }
        }
        int n = core.length / 3;
        int m = directions.size();
        double[] spots = new double[3 * n * m];
        for (int i = 0; i < n; i++) {
            for (int k = 0; k < m; k++) {
                for (int axis = 0; axis < 3; axis++) {
                    spots[3 * (i * m + k) + axis] =
                            core[3 * i + axis] + r * directions.get(k)[axis];
                }
            }
        }
        QuickHull3D hull = new QuickHull3D();
        hull.build(HullOf.points(spots), n * m);
        hull.triangulate();
        int[] points = hull.getVertexPointIndices();
        int[] made = new int[points.length];
        for (int i = 0; i < points.length; i++) {
            double[] d = directions.get(points[i] % m);
            int at = 3 * points[i];
            made[i] = vertex(spots[at], spots[at + 1], spots[at + 2], d[0], d[1], d[2]);
        }
        for (int[] f : hull.getFaces()) {
            triangle(made[f[0]], made[f[1]], made[f[2]]);
        }
    }

    // ---- meshes -----------------------------------------------------------------------------------------

    private void mesh(Shape.Mesh mesh) {
        double[] spots = SolidMaker.coordinates(mesh.corners());
        int[] t = mesh.triangles().stream().mapToInt(Integer::intValue).toArray();
        int count = t.length / 3;
        double[] flat = new double[t.length];
        double[] weight = new double[count];
        int[] uses = new int[spots.length / 3 + 1];
        for (int f = 0; f < count; f++) {
            int a = 3 * t[3 * f];
            int b = 3 * t[3 * f + 1];
            int c = 3 * t[3 * f + 2];
            double ux = spots[b] - spots[a];
            double uy = spots[b + 1] - spots[a + 1];
            double uz = spots[b + 2] - spots[a + 2];
            double vx = spots[c] - spots[a];
            double vy = spots[c + 1] - spots[a + 1];
            double vz = spots[c + 2] - spots[a + 2];
            double x = uy * vz - uz * vy;
            double y = uz * vx - ux * vz;
            double z = ux * vy - uy * vx;
            double length = Math.sqrt(x * x + y * y + z * z);
            weight[f] = length;
            if (length > 0) {
                flat[3 * f] = x / length;
                flat[3 * f + 1] = y / length;
                flat[3 * f + 2] = z / length;
            }
            for (int i = 0; i < 3; i++) {
                uses[t[3 * f + i] + 1]++;
            }
        }
        for (int i = 1; i < uses.length; i++) {
            uses[i] += uses[i - 1];
        }
        int[] users = new int[t.length];
        int[] filled = new int[spots.length / 3];
        for (int k = 0; k < t.length; k++) {
            users[uses[t[k]] + filled[t[k]]++] = k / 3;
        }
        Map<Long, Integer> known = new HashMap<>();
        for (int f = 0; f < count; f++) {
            if (weight[f] == 0) {
                continue;
            }
            int[] v = new int[3];
            for (int i = 0; i < 3; i++) {
                int at = t[3 * f + i];
                double x = 0;
                double y = 0;
                double z = 0;
                int lead = f;
                for (int u = uses[at]; u < uses[at + 1]; u++) {
                    int g = users[u];
                    double cosine = flat[3 * f] * flat[3 * g]
                            + flat[3 * f + 1] * flat[3 * g + 1]
                            + flat[3 * f + 2] * flat[3 * g + 2];
                    if (cosine > CREASE_COSINE) {
                        x += weight[g] * flat[3 * g];
                        y += weight[g] * flat[3 * g + 1];
                        z += weight[g] * flat[3 * g + 2];
                        lead = Math.min(lead, g);
                    }
                }
                double length = Math.sqrt(x * x + y * y + z * z);
                double nx = x / length;
                double ny = y / length;
                double nz = z / length;
                long key = ((long) at << 32) | lead;
                Integer before = known.get(key);
                boolean same = before != null
                        && Math.abs(normal[3 * before] - nx)
                                        + Math.abs(normal[3 * before + 1] - ny)
                                        + Math.abs(normal[3 * before + 2] - nz)
                                < 1e-6;
                if (before != null && same) {
                    v[i] = before;
                } else {
                    v[i] = vertex(spots[3 * at], spots[3 * at + 1], spots[3 * at + 2], nx, ny, nz);
                    known.put(key, v[i]);
                }
            }
            triangle(v[0], v[1], v[2]);
        }
    }
}
