package daylight.geometry;

import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * The plane that touches three discs from below, as a road touches three wheels: where it is, how high a solid is above
 * it, and a floor under that height over a whole box of motion of the discs and of the solid.
 *
 * <p>A disc is the wheel at its middle plane: a circle about an axis. The plane touches it at its lowest spot, square to
 * the plane's own normal, so that camber, caster and a tilting road are exact.
 *
 * <p>An engine: not thread-safe. Frame: the one the wanders lead to; mm.
 */
public final class RestingPlane {
    /** The plane is found when its normal turns by less than this, rad: a millionth of a millimetre over a car. */
    private static final double SETTLED = 1e-13;

    private static final int MOST_ROUNDS = 60;
    /** Three spots whose triangle has less than this share of a square on its longest side stand on a line. */
    private static final double ON_A_LINE = 1e-4;
    /** A disc that lies flatter than this to the plane has no lowest spot to speak of. */
    private static final double FLAT = 0.2;

    /**
     * A wheel's circle.
     *
     * @param centre of the circle, mm
     * @param axis about which it turns
     * @param radiusMm zero or more
     */
    public record Disc(Spot centre, Direction axis, double radiusMm) {
        public Disc {
            if (!(radiusMm >= 0) || !Double.isFinite(radiusMm)) {
                throw new IllegalArgumentException("a disc's radius is zero or more: " + radiusMm);
            }
        }

        /** Returns the disc where a pose takes it. */
        public Disc at(Pose pose) {
            return new Disc(pose.apply(centre), pose.apply(axis), radiusMm);
        }

        /** Returns its lowest spot as seen along a normal. */
        public Spot lowest(Direction up) {
            double s = up.dot(axis);
            double length = Math.sqrt(Math.max(1e-18, 1 - s * s));
            double k = -radiusMm / length;
            return centre.plus(k * (up.x() - s * axis.x()), k * (up.y() - s * axis.y()), k * (up.z() - s * axis.z()));
        }
    }

    /**
     * A plane.
     *
     * @param up its unit normal, away from the ground
     * @param through a spot on it
     */
    public record Plane(Direction up, Spot through) {
        /** Returns how high a spot is above it, mm. */
        public double height(Spot spot) {
            return up.x() * (spot.x() - through.x())
                    + up.y() * (spot.y() - through.y())
                    + up.z() * (spot.z() - through.z());
        }

        /** Returns the height at which the plane passes a place seen from above, mm along z. */
        public double zAt(double x, double y) {
            return through.z() - (up.x() * (x - through.x()) + up.y() * (y - through.y())) / up.z();
        }
    }

    private final Lowest lowest = new Lowest();
    private long signs;
    private double[] remainders = new double[8];

    /** Makes an engine. */
    public RestingPlane() {}

    /** Returns the plane that touches three discs from below; empty if they stand on a line or lie flat. */
    public static Optional<Plane> under(Disc a, Disc b, Disc c) {
        Direction up = Direction.UP;
        for (int round = 0; round < MOST_ROUNDS; round++) {
            Spot p = a.lowest(up);
            Spot q = b.lowest(up);
            Spot r = c.lowest(up);
            Optional<Direction> fresh = normal(p, q, r);
            if (fresh.isEmpty()) {
                return Optional.empty();
            }
            double turn = Math.abs(fresh.get().x() - up.x())
                    + Math.abs(fresh.get().y() - up.y())
                    + Math.abs(fresh.get().z() - up.z());
            up = fresh.get();
            if (Math.max(Math.abs(up.dot(a.axis)), Math.max(Math.abs(up.dot(b.axis)), Math.abs(up.dot(c.axis))))
                    > 1 - FLAT) {
                return Optional.empty();
            }
            if (turn < SETTLED) {
                return Optional.of(new Plane(up, a.lowest(up)));
            }
        }
        return Optional.of(new Plane(up, a.lowest(up)));
    }

    private static Optional<Direction> normal(Spot p, Spot q, Spot r) {
        double ux = q.x() - p.x();
        double uy = q.y() - p.y();
        double uz = q.z() - p.z();
        double wx = r.x() - p.x();
        double wy = r.y() - p.y();
        double wz = r.z() - p.z();
        double nx = uy * wz - uz * wy;
        double ny = uz * wx - ux * wz;
        double nz = ux * wy - uy * wx;
        double longest = Math.max(p.distanceTo(q), Math.max(p.distanceTo(r), q.distanceTo(r)));
        double sign = nz < 0 ? -1 : 1;
        return Math.sqrt(nx * nx + ny * ny + nz * nz) > ON_A_LINE * longest * longest && nz != 0
                ? Optional.of(Direction.of(sign * nx, sign * ny, sign * nz))
                : Optional.empty();
    }

    /** Returns the least height of a solid above a plane, mm; {@link #spot} is where. */
    public double height(Plane plane, Solid solid, Pose pose) {
        double least = lowest.along(solid, pose, plane.up);
        Spot through = plane.through;
        return least - plane.up.x() * through.x() - plane.up.y() * through.y() - plane.up.z() * through.z();
    }

    /** Returns the spot of the solid that was lowest when {@link #height} was asked last. */
    public Spot spot() {
        return lowest.spot();
    }

    /**
     * Returns a height below which no spot of a solid comes above the plane under three discs, anywhere in a box.
     *
     * <p>Method. Each disc is represented by the spot of its body that touches the plane at the centre of the box; with N
     * the cross product of two sides of their triangle, the height of a spot p is N.(p - a) / |N|. Its rates at the
     * centre are exact, linear in p, so that the least of the straight-line picture is found at a corner of the box by a
     * supporting spot of the solid; how far the rates can change over the box is bounded by the strays and errors of the
     * wanders, and counts half, since it grows from nothing at the centre. Elsewhere in the box a disc's lowest spot is
     * another, lower by at most r (1 - cos b) where b is the angle to it; outside the triangle that can raise the plane,
     * which is taken off.
     *
     * @param body motion of the solid over the box
     * @param tripod the three discs over the box; its wanders have the same list of parameters as {@code body}
     * @return the floor, mm; negative infinity if the box is too large to say anything
     */
    public double floor(Solid solid, Wander body, Tripod tripod) {
        if (tripod.isVague()) {
            return Double.NEGATIVE_INFINITY;
        }
        this.solid = solid;
        Spot middle = solid.centre();
        return bound(1, body.world(middle), solid.radius, body, tripod);
    }

    /**
     * Returns a height above which the lowest spot of a fourth disc never comes over the plane under three others,
     * anywhere in a box: when it is below zero, the three never carry the car alone. The same method, with the fourth
     * disc's spot nearest to the plane at the centre in the solid's place.
     *
     * @return the ceiling, mm; positive infinity if the box is too large to say anything
     */
    public double ceiling(Disc fourth, Wander body, Tripod tripod) {
        if (tripod.isVague()) {
            return Double.POSITIVE_INFINITY;
        }
        this.solid = null;
        V spot = V.of(fourth.at(Pose.of(body.centre)).lowest(tripod.up));
        return 0.0 - bound(-1, spot, 0, body, tripod);
    }

    private @Nullable Solid solid;

    /** The least of d.p over the solid at a pose; over the spot alone where there is no solid. */
    private double least(Wander body, V spot, double dx, double dy, double dz) {
        Solid of = solid;
        return of == null ? dx * spot.x + dy * spot.y + dz * spot.z : lowest.along(of, body.centre, dx, dy, dz);
    }

    /**
     * A floor under sign times the height.
     *
     * @param c middle of the solid, or the spot, where the centre of the box takes it
     */
    private double bound(int sign, V c, double radius, Wander body, Tripod on) {
        int k = body.count;
        if (remainders.length < k) {
            remainders = new double[k];
        }
        signs = 0;
        V a = on.touch[0];
        V n = on.n;
        double size = on.size;
        V unit = on.unit;
        double nStray = on.nStray;
        double bodyReach = c.less(body.worldReference()).length() + radius;
        double bodyStray = body.remainder(bodyReach) + body.shiftReach();
        for (int j = 0; j < k; j++) {
            bodyStray += body.half[j]
                    * (body.velocityAt(j, c).length() + radius * body.turnAt(j).length());
        }
        double apart = c.less(a).length() + radius;
        double apartStray = bodyStray + on.stray[0];
        double least = least(body, c, sign * unit.x, sign * unit.y, sign * unit.z) - sign * unit.dot(a);

        V[] slope = new V[k];
        double[] constant = new double[k];
        double off = 0;
        // What a play adds is there from the centre on.
        double grown = body.shifts > 0 ? 1 : 0.5;
        for (int j = 0; j < k; j++) {
            V va = on.va[j];
            V dn = on.dn[j];
            V turn = body.turnAt(j);
            V reference = body.worldReference();
            slope[j] = dn.plus(n.cross(turn)).times(sign);
            constant[j] = sign
                            * (-dn.dot(a)
                                    + n.dot(body.velocityAt(j, reference))
                                    - n.cross(turn).dot(reference)
                                    - n.dot(va))
                    - least * unit.dot(dn);
            double dnError = on.dnError[j];
            double spread = body.velocityAt(j, c).less(va).length() + radius * turn.length();
            double error = body.linearErrorAt(j) + bodyReach * body.turnErrorAt(j) + on.errors[0][j];
            double rate = dnError * (apart + apartStray)
                    + dn.length() * apartStray
                    + nStray * (spread + error)
                    + size * error
                    + Math.abs(least) * (dnError + 2 * nStray / size * (dn.length() + dnError));
            double share = grown * body.half[j] * rate;
            remainders[j] = share / size;
            off += share;
        }
        double shifts =
                size * body.shiftAlong(-sign * unit.x, -sign * unit.y, -sign * unit.z) + nStray * body.shiftReach();
        double worst = Double.POSITIVE_INFINITY;
        for (long s = 0; s < 1L << k; s++) {
            double dx = sign * n.x;
            double dy = sign * n.y;
            double dz = sign * n.z;
            double rest = -sign * n.dot(a) - least * size;
            boolean again = false;
            for (int j = 0; j < k; j++) {
                boolean low = ((s >> j) & 1) == 0;
                // A parameter that moves nothing need not be tried at both of its ends.
                again |= !low && slope[j].x == 0 && slope[j].y == 0 && slope[j].z == 0 && constant[j] == 0;
                double by = low ? -body.half[j] : body.half[j];
                dx += by * slope[j].x;
                dy += by * slope[j].y;
                dz += by * slope[j].z;
                rest += by * constant[j];
            }
            double value = again ? worst : least(body, c, dx, dy, dz) + rest;
            if (value < worst) {
                worst = value;
                signs = s;
            }
        }
        double under = worst - off - shifts;
        double tilt = on.tilt;
        double shares = 0;
        for (int i = 0; i < 3; i++) {
            V one = on.touch[(i + 1) % 3];
            V other = on.touch[(i + 2) % 3];
            double altitude = size / other.less(one).length();
            // How far over the opposite side, in the plane, as a share of the altitude.
            double share = other.less(one).cross(c.less(one)).dot(unit)
                    / other.less(one).cross(on.touch[i].less(one)).dot(unit);
            shares += Math.max(
                    0, (radius + apartStray) / altitude * (1 + 2 * tilt) + 2 * tilt * Math.abs(share) - sign * share);
        }
        return least + (under < 0 ? under / (size - nStray) : under / (size + nStray)) - shares * on.lift;
    }

    /** Returns the end of parameter i's interval (-1 or +1) towards which the straight-line picture was least. */
    public int towards(int i) {
        return ((signs >> i) & 1) == 0 ? -1 : 1;
    }

    /** Returns how much parameter i adds to the doubt of the floor asked about last, mm. */
    public double doubt(int i) {
        return remainders[i];
    }

    /** Three numbers. */
    record V(double x, double y, double z) {
        static final V NONE = new V(0, 0, 0);

        static V of(Spot s) {
            return new V(s.x(), s.y(), s.z());
        }

        static V of(Direction d) {
            return new V(d.x(), d.y(), d.z());
        }

        V plus(V o) {
            return new V(x + o.x, y + o.y, z + o.z);
        }

        V less(V o) {
            return new V(x - o.x, y - o.y, z - o.z);
        }

        V times(double f) {
            return new V(f * x, f * y, f * z);
        }

        V cross(V o) {
            return new V(y * o.z - z * o.y, z * o.x - x * o.z, x * o.y - y * o.x);
        }

        double dot(V o) {
            return x * o.x + y * o.y + z * o.z;
        }

        double length() {
            return Math.sqrt(x * x + y * y + z * z);
        }
    }
}
