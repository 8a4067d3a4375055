package daylight.geometry;

import org.joml.Matrix4x3d;
import org.joml.Matrix4x3dc;

/**
 * Where a body may be while its drivers wander over a box of values: the pose at the box's centre, how it moves
 * from there, and how far that straight-line picture may be wrong. The input of {@link Gauge#floor}.
 *
 * <p>Parameters q are numbered 0 to k - 1; each lies within {@code half(i)} of its centre. A parameter's unit is
 * its own (mm, rad); "per unit" below means per that unit. Two bodies measured against one another share one list
 * of parameters: the same number means the same driver, and a body that a driver does not move has a zero twist.
 *
 * <p>World frame (ISO 8855 car frame), mm, rad:
 *
 * <ul>
 *   <li>centre: pose of the body (body frame to world) with all parameters at their centres;
 *   <li>reference: a spot of the body, body frame;
 *   <li>twist i: angular velocity of the body (world, rad per unit) and velocity of the reference spot (world, mm
 *       per unit) at the centre, so that a material spot p moves by {@code v + w x (p - reference)} per unit;
 *   <li>errors i: for every material spot at body-frame distance r from the reference, the true velocity per unit
 *       differs from that at the centre by at most {@code linear + r * turn} at the edge of the box, and by at most
 *       that share of it that has been covered of the straight way from the centre to the edge. A bound on the
 *       second derivatives over the whole box, times the half widths, is such an error;
 *   <li>shifts: any number of world-fixed directions along which the body may also be displaced by any amount
 *       within a range, mm, whatever the parameters do (an exhaust on its hangers).
 * </ul>
 *
 * <p>Mutable and reusable: {@link #parameters} starts it afresh. Allocates only when it has to grow. Not thread-safe.
 */
public final class Wander {
    /** A frame that turns further than this within a box is not worth looking from. */
    private static final double MOST_TURN = 0.5;

    final Matrix4x3d centre = new Matrix4x3d();
    double referenceX;
    double referenceY;
    double referenceZ;
    int count;
    double[] half = new double[4];
    /** Angular velocity x, y, z and velocity x, y, z of the reference for each parameter. */
    double[] twist = new double[24];

    double[] linearError = new double[4];
    double[] turnError = new double[4];
    int shifts;
    /** Direction x, y, z, least and greatest amount for each shift. */
    double[] shift = new double[20];

    /** Whether the body only turns about a line through the reference, and the line's world direction, unit. */
    boolean turnsAboutLine;

    double lineX;
    double lineY;
    double lineZ;

    /** Makes a wander that stays at ride height. */
    public Wander() {}

    /**
     * Starts afresh: this many parameters with half width, twist and errors zero, no shifts, the reference at the
     * origin of the body frame and the body at ride height. Returns this.
     */
    public Wander parameters(int k) {
        if (k < 0) {
            throw new IllegalArgumentException("parameters must be zero or more: " + k);
        }
        if (half.length < k) {
            half = new double[k];
            twist = new double[6 * k];
            linearError = new double[k];
            turnError = new double[k];
        }
        count = k;
        for (int i = 0; i < k; i++) {
            half[i] = 0;
            linearError[i] = 0;
            turnError[i] = 0;
        }
        for (int i = 0; i < 6 * k; i++) {
            twist[i] = 0;
        }
        shifts = 0;
        turnsAboutLine = false;
        referenceX = 0;
        referenceY = 0;
        referenceZ = 0;
        centre.identity();
        return this;
    }

    /** Starts afresh as a body that no parameter moves, at a pose (rigid; copied). Returns this. */
    public Wander fixed(Matrix4x3dc pose) {
        parameters(0);
        centre.set(pose);
        return this;
    }

    /** Sets the pose at the centre of the box (rigid, body frame to world; copied). Returns this. */
    public Wander centre(Matrix4x3dc pose) {
        centre.set(pose);
        return this;
    }

    /** Returns the pose at the centre of the box; read only, and it changes with this wander. */
    public Matrix4x3dc centre() {
        return centre;
    }

    /** Sets the reference spot, body frame, mm. Returns this. */
    public Wander reference(double x, double y, double z) {
        referenceX = x;
        referenceY = y;
        referenceZ = z;
        return this;
    }

    /**
     * Sets how far parameter i goes to either side of its centre, in its own unit. Returns this.
     *
     * @throws IllegalArgumentException if it is negative or not finite
     */
    public Wander half(int i, double width) {
        if (!(width >= 0) || !Double.isFinite(width)) {
            throw new IllegalArgumentException("half width of parameter " + i + " must be zero or more: " + width);
        }
        half[i] = width;
        return this;
    }

    /**
     * Says that the body only turns about a line that stands still in the world: a hinge on the chassis. What is known
     * of its twists and errors so far becomes exact where that makes it so: no spot moves along the line, and spots on
     * it stay where they are. Shifts come on top. Returns this.
     *
     * @param x a spot on the line, body frame, mm; y and z likewise; it becomes the reference
     * @param ux direction of the line, world, unit; uy and uz likewise
     */
    public Wander about(double x, double y, double z, double ux, double uy, double uz) {
        reference(x, y, z);
        turnsAboutLine = true;
        lineX = ux;
        lineY = uy;
        lineZ = uz;
        for (int i = 0, at = 0; i < count; i++, at += 6) {
            double turn = twist[at] * ux + twist[at + 1] * uy + twist[at + 2] * uz;
            twist[at] = turn * ux;
            twist[at + 1] = turn * uy;
            twist[at + 2] = turn * uz;
            twist[at + 3] = 0;
            twist[at + 4] = 0;
            twist[at + 5] = 0;
            linearError[i] = 0;
        }
        return this;
    }

    /**
     * Sets how parameter i moves the body at the centre. Returns this.
     *
     * @param wx angular velocity, world, rad per unit; wy and wz likewise
     * @param vx velocity of the reference spot, world, mm per unit; vy and vz likewise
     */
    public Wander twist(int i, double wx, double wy, double wz, double vx, double vy, double vz) {
        int at = 6 * i;
        twist[at] = wx;
        twist[at + 1] = wy;
        twist[at + 2] = wz;
        twist[at + 3] = vx;
        twist[at + 4] = vy;
        twist[at + 5] = vz;
        return this;
    }

    /**
     * Sets how far a spot's velocity by parameter i may differ at the edge of the box from that at the centre:
     * {@code linear + r * turn} at body-frame distance r from the reference; nearer the centre in proportion less.
     * Returns this.
     *
     * @param linear mm per unit, zero or more
     * @param turn rad per unit, zero or more
     * @throws IllegalArgumentException if either is negative or not a number
     */
    public Wander error(int i, double linear, double turn) {
        if (!(linear >= 0) || !(turn >= 0)) {
            throw new IllegalArgumentException(
                    "errors of parameter " + i + " must be zero or more: " + linear + ", " + turn);
        }
        linearError[i] = linear;
        turnError[i] = turn;
        return this;
    }

    /**
     * Adds a displacement that may happen whatever the parameters do. Returns this.
     *
     * @param x world direction, unit length; y and z likewise
     * @param lowest least amount along it, mm
     * @param highest greatest amount along it, mm, not below {@code lowest}
     */
    public Wander shift(double x, double y, double z, double lowest, double highest) {
        if (!(lowest <= highest)) {
            throw new IllegalArgumentException("a shift's range runs upwards, not from " + lowest + " to " + highest);
        }
        if (shift.length < 5 * (shifts + 1)) {
            shift = java.util.Arrays.copyOf(shift, 2 * shift.length);
        }
        int at = 5 * shifts++;
        shift[at] = x;
        shift[at + 1] = y;
        shift[at + 2] = z;
        shift[at + 3] = lowest;
        shift[at + 4] = highest;
        return this;
    }

    /**
     * Changes the range of a shift that was added. Returns this.
     *
     * @param number shifts are counted from zero in the order in which they were added
     */
    public Wander shiftRange(int number, double lowest, double highest) {
        if (number < 0 || number >= shifts || !(lowest <= highest)) {
            throw new IllegalArgumentException("shift " + number + " of " + shifts + ", from " + lowest + " to "
                    + highest + ": a shift's range runs upwards");
        }
        shift[5 * number + 3] = lowest;
        shift[5 * number + 4] = highest;
        return this;
    }

    /**
     * Returns the most by which the body may turn from the centre, anywhere in the box, rad. Shifts do not turn it.
     * Bodies of a mechanism only: the velocity errors hold for spots at any distance, so their turn bounds the
     * angular velocity's error.
     */
    public double turnReach() {
        double sum = 0;
        for (int i = 0, at = 0; i < count; i++, at += 6) {
            double x = twist[at];
            double y = twist[at + 1];
            double z = twist[at + 2];
            sum += half[i] * (Math.sqrt(x * x + y * y + z * z) + turnError[i]);
        }
        return sum;
    }

    /**
     * Returns the most by which the way from a spot of this body to a spot of another may change from the centre,
     * anywhere in the box, measured along a world direction; or, for the zero vector, in any direction, mm. Both
     * wanders have the same list of parameters.
     *
     * @param mine spot of this body, body frame
     * @param theirs spot of the other body, its body frame
     * @param x world direction, unit length or zero; y and z likewise
     */
    public double apartReach(Spot mine, Wander other, Spot theirs, double x, double y, double z) {
        boolean any = x == 0 && y == 0 && z == 0;
        double sum = remainder(distanceFromReference(mine)) + other.remainder(other.distanceFromReference(theirs));
        for (int i = 0; i < count; i++) {
            double dx = other.velocity(i, theirs, 0) - velocity(i, mine, 0);
            double dy = other.velocity(i, theirs, 1) - velocity(i, mine, 1);
            double dz = other.velocity(i, theirs, 2) - velocity(i, mine, 2);
            sum += half[i] * (any ? Math.sqrt(dx * dx + dy * dy + dz * dz) : Math.abs(dx * x + dy * y + dz * z));
        }
        if (any) {
            return sum + shiftReach() + other.shiftReach();
        }
        return sum + shiftAlong(-x, -y, -z) + other.shiftAlong(x, y, z);
    }

    /** Returns how fast the way between two spots changes with parameter i, mm per unit times its half width. */
    public double apartSpread(int i, Spot mine, Wander other, Spot theirs) {
        double dx = other.velocity(i, theirs, 0) - velocity(i, mine, 0);
        double dy = other.velocity(i, theirs, 1) - velocity(i, mine, 1);
        double dz = other.velocity(i, theirs, 2) - velocity(i, mine, 2);
        return half[i] * Math.sqrt(dx * dx + dy * dy + dz * dz);
    }

    private double distanceFromReference(Spot spot) {
        return spot.distanceTo(new Spot(referenceX, referenceY, referenceZ));
    }

    /** One component of the velocity of a body-frame spot by parameter i, world, mm per unit. */
    private double velocity(int i, Spot spot, int axis) {
        double bx = spot.x() - referenceX;
        double by = spot.y() - referenceY;
        double bz = spot.z() - referenceZ;
        double rx = centre.m00() * bx + centre.m10() * by + centre.m20() * bz;
        double ry = centre.m01() * bx + centre.m11() * by + centre.m21() * bz;
        double rz = centre.m02() * bx + centre.m12() * by + centre.m22() * bz;
        int at = 6 * i;
        return switch (axis) {
            case 0 -> twist[at + 3] + twist[at + 1] * rz - twist[at + 2] * ry;
            case 1 -> twist[at + 4] + twist[at + 2] * rx - twist[at] * rz;
            default -> twist[at + 5] + twist[at] * ry - twist[at + 1] * rx;
        };
    }

    /** Returns how many parameters there are. */
    public int parameters() {
        return count;
    }

    /**
     * Makes this the motion of a source whose parameters move together in groups, each from one end of its interval to
     * the other in step: both wheels of an axle, for example. Each group's half width is 1. Returns this.
     *
     * @param groupOf the group of each of the source's parameters; several may share one
     * @param groups how many groups there are
     */
    public Wander together(Wander source, int[] groupOf, int groups) {
        parameters(groups);
        centre.set(source.centre);
        referenceX = source.referenceX;
        referenceY = source.referenceY;
        referenceZ = source.referenceZ;
        for (int g = 0; g < groups; g++) {
            half[g] = 1;
        }
        for (int i = 0; i < source.count; i++) {
            int g = groupOf[i];
            for (int j = 0; j < 6; j++) {
                twist[6 * g + j] += source.half[i] * source.twist[6 * i + j];
            }
            linearError[g] += source.half[i] * source.linearError[i];
            turnError[g] += source.half[i] * source.turnError[i];
        }
        for (int i = 0, at = 0; i < source.shifts; i++, at += 5) {
            double[] s = source.shift;
            shift(s[at], s[at + 1], s[at + 2], s[at + 3], s[at + 4]);
        }
        return this;
    }

    /**
     * Makes this the motion of one body as another sees it: in the other's own frame, in which the other stands still
     * at ride height. Solids keep their signed distance, and a direction that is fixed in this frame turns with the
     * other body, so that a floor loses nothing when both turn alike, or when a flat face turns about a spot before it.
     *
     * <p>With u the velocity of the body's reference against the other, w its angular velocity against it, W the
     * other's angular velocity, L the distance of the two references and theta the other's turn over the box, a spot
     * at distance r strays in the other's frame by at most D = D0 + r D1, which follows from its velocities and from D
     * itself (theta below 1); its velocity there then differs from that at the centre by the body's own error, by the
     * other's error at the spot, by W times D since the spot has moved on, and by theta times the velocity since the
     * frame has turned. Shifts turn with the frame, which adds theta times their reach.
     *
     * @return whether theta is small enough for that; if not, this wander is void
     */
    public boolean seenFrom(Wander body, Wander other) {
        int k = Math.max(body.count, other.count);
        parameters(k);
        double theta = 0;
        for (int i = 0; i < k; i++) {
            half[i] = i < body.count ? body.half[i] : other.half[i];
            theta += half[i] * (other.turning(i) + other.turnErrorOf(i));
        }
        if (!(theta < MOST_TURN)) {
            return false;
        }
        Matrix4x3d m = other.centre;
        m.invert(centre);
        double dx = body.worldX() - other.worldX();
        double dy = body.worldY() - other.worldY();
        double dz = body.worldZ() - other.worldZ();
        double apart = Math.sqrt(dx * dx + dy * dy + dz * dz);
        double shiftReach = body.shiftReach() + other.shiftReach();
        double strayReference = 0;
        double strayTurn = 0;
        for (int i = 0; i < k; i++) {
            int at = 6 * i;
            double[] t = twist;
            double wx = other.twistOf(at);
            double wy = other.twistOf(at + 1);
            double wz = other.twistOf(at + 2);
            double ux = body.twistOf(at + 3) - other.twistOf(at + 3) - (wy * dz - wz * dy);
            double uy = body.twistOf(at + 4) - other.twistOf(at + 4) - (wz * dx - wx * dz);
            double uz = body.twistOf(at + 5) - other.twistOf(at + 5) - (wx * dy - wy * dx);
            turned(m, body.twistOf(at) - wx, body.twistOf(at + 1) - wy, body.twistOf(at + 2) - wz, t, at);
            turned(m, ux, uy, uz, t, at + 3);
            strayReference += half[i]
                    * (speed(i) * (1 + theta)
                            + body.linearErrorOf(i)
                            + other.linearErrorOf(i)
                            + apart * other.turnErrorOf(i));
            strayTurn += half[i] * (turning(i) * (1 + theta) + body.turnErrorOf(i) + other.turnErrorOf(i));
        }
        strayReference /= 1 - theta;
        strayTurn /= 1 - theta;
        for (int i = 0; i < k; i++) {
            double frame = other.turning(i) + other.turnErrorOf(i);
            linearError[i] = body.linearErrorOf(i)
                    + other.linearErrorOf(i)
                    + apart * other.turnErrorOf(i)
                    + frame * strayReference
                    + theta * speed(i)
                    + 2 * shiftReach * frame;
            turnError[i] = body.turnErrorOf(i) + other.turnErrorOf(i) + frame * strayTurn + theta * turning(i);
        }
        referenceX = body.referenceX;
        referenceY = body.referenceY;
        referenceZ = body.referenceZ;
        shiftsFrom(m, body, 1);
        shiftsFrom(m, other, -1);
        centre.mul(body.centre);
        return true;
    }

    /**
     * The same for two bodies that share a spot: a ball joint or a hinge, or the end of a rod with its own body. Seen
     * from the other, the body only turns about that spot, which is exact; what remains to be bounded is the turn.
     *
     * @param x the shared spot, mm, in the frame in which both bodies were drawn; y and z likewise
     * @return as {@link #seenFrom(Wander, Wander)}; false too if either body may shift
     */
    public boolean seenFromAbout(Wander body, Wander other, double x, double y, double z) {
        if (body.shifts + other.shifts > 0 || !seenFrom(body, other)) {
            return false;
        }
        reference(x, y, z);
        for (int i = 0; i < count; i++) {
            twist[6 * i + 3] = 0;
            twist[6 * i + 4] = 0;
            twist[6 * i + 5] = 0;
            linearError[i] = 0;
        }
        return true;
    }

    /**
     * The same for two bodies on one hinge: seen from the other, the body only turns about the hinge's line.
     *
     * @param u direction of the line, in the frame in which both bodies were drawn
     */
    public boolean seenFromAbout(Wander body, Wander other, double x, double y, double z, Direction u) {
        if (!seenFromAbout(body, other, x, y, z)) {
            return false;
        }
        about(x, y, z, u.x(), u.y(), u.z());
        return true;
    }

    /**
     * Returns a bound on how far any spot of the body within a radius of a spot goes from where it is at the centre,
     * in any direction, mm.
     *
     * @param x the spot, body frame, mm; y and z likewise
     */
    public double stray(double x, double y, double z, double radius) {
        double dx = x - referenceX;
        double dy = y - referenceY;
        double dz = z - referenceZ;
        double wx = centre.m00() * dx + centre.m10() * dy + centre.m20() * dz;
        double wy = centre.m01() * dx + centre.m11() * dy + centre.m21() * dz;
        double wz = centre.m02() * dx + centre.m12() * dy + centre.m22() * dz;
        double sum = remainder(Math.sqrt(dx * dx + dy * dy + dz * dz) + radius) + shiftReach();
        for (int i = 0; i < count; i++) {
            int at = 6 * i;
            double vx = twist[at + 3] + twist[at + 1] * wz - twist[at + 2] * wy;
            double vy = twist[at + 4] + twist[at + 2] * wx - twist[at] * wz;
            double vz = twist[at + 5] + twist[at] * wy - twist[at + 1] * wx;
            sum += half[i] * (Math.sqrt(vx * vx + vy * vy + vz * vz) + radius * turning(i));
        }
        return sum;
    }

    private void shiftsFrom(Matrix4x3d m, Wander from, int sign) {
        double[] direction = turnedShift;
        for (int s = 0, at = 0; s < from.shifts; s++, at += 5) {
            turned(m, sign * from.shift[at], sign * from.shift[at + 1], sign * from.shift[at + 2], direction, 0);
            shift(direction[0], direction[1], direction[2], from.shift[at + 3], from.shift[at + 4]);
        }
    }

    private final double[] turnedShift = new double[3];

    /** A world vector in the frame of a body at the pose m. */
    private static void turned(Matrix4x3d m, double x, double y, double z, double[] into, int at) {
        into[at] = m.m00() * x + m.m01() * y + m.m02() * z;
        into[at + 1] = m.m10() * x + m.m11() * y + m.m12() * z;
        into[at + 2] = m.m20() * x + m.m21() * y + m.m22() * z;
    }

    private double worldX() {
        return centre.m00() * referenceX + centre.m10() * referenceY + centre.m20() * referenceZ + centre.m30();
    }

    private double worldY() {
        return centre.m01() * referenceX + centre.m11() * referenceY + centre.m21() * referenceZ + centre.m31();
    }

    private double worldZ() {
        return centre.m02() * referenceX + centre.m12() * referenceY + centre.m22() * referenceZ + centre.m32();
    }

    private double twistOf(int at) {
        return at < 6 * count ? twist[at] : 0;
    }

    private double linearErrorOf(int i) {
        return i < count ? linearError[i] : 0;
    }

    private double turnErrorOf(int i) {
        return i < count ? turnError[i] : 0;
    }

    private double turning(int i) {
        return length(6 * i);
    }

    private double speed(int i) {
        return length(6 * i + 3);
    }

    private double length(int at) {
        double x = twistOf(at);
        double y = twistOf(at + 1);
        double z = twistOf(at + 2);
        return Math.sqrt(x * x + y * y + z * z);
    }

    /**
     * By how much a spot at this distance from the reference may be off the straight-line picture, mm: the mean of the
     * errors along the way from the centre, which is half of what they are at the edge.
     */
    double remainder(double r) {
        double sum = 0;
        for (int i = 0; i < count; i++) {
            sum += half[i] * (linearError[i] + r * turnError[i]);
        }
        return 0.5 * sum;
    }

    /** By how much {@link #remainder} grows per mm of distance from the reference. */
    double remainderPerMm() {
        double sum = 0;
        for (int i = 0; i < count; i++) {
            sum += half[i] * turnError[i];
        }
        return 0.5 * sum;
    }

    /** Whether the body may turn at all. */
    boolean turns() {
        for (int i = 0; i < count; i++) {
            if (half[i] > 0 && (turning(i) > 0 || turnError[i] > 0)) {
                return true;
            }
        }
        return false;
    }

    /** The furthest a shift can carry the body along a unit direction, mm. */
    double shiftAlong(double x, double y, double z) {
        double sum = 0;
        for (int s = 0, at = 0; s < shifts; s++, at += 5) {
            double along = x * shift[at] + y * shift[at + 1] + z * shift[at + 2];
            sum += Math.max(along * shift[at + 3], along * shift[at + 4]);
        }
        return sum;
    }

    /** The furthest a shift can carry the body in any direction, mm. */
    double shiftReach() {
        double sum = 0;
        for (int s = 0, at = 0; s < shifts; s++, at += 5) {
            double x = shift[at];
            double y = shift[at + 1];
            double z = shift[at + 2];
            sum += Math.sqrt(x * x + y * y + z * z) * Math.max(Math.abs(shift[at + 3]), Math.abs(shift[at + 4]));
        }
        return sum;
    }

    /** A body-frame spot where the centre of the box takes it. */
    RestingPlane.V world(Spot spot) {
        double x = spot.x();
        double y = spot.y();
        double z = spot.z();
        return new RestingPlane.V(
                centre.m00() * x + centre.m10() * y + centre.m20() * z + centre.m30(),
                centre.m01() * x + centre.m11() * y + centre.m21() * z + centre.m31(),
                centre.m02() * x + centre.m12() * y + centre.m22() * z + centre.m32());
    }

    RestingPlane.V worldReference() {
        return new RestingPlane.V(worldX(), worldY(), worldZ());
    }

    /** Velocity by parameter i of the spot of the body that is at a world place at the centre of the box. */
    RestingPlane.V velocityAt(int i, RestingPlane.V place) {
        int at = 6 * i;
        return new RestingPlane.V(twistOf(at + 3), twistOf(at + 4), twistOf(at + 5))
                .plus(turnAt(i).cross(place.less(worldReference())));
    }

    RestingPlane.V turnAt(int i) {
        int at = 6 * i;
        return new RestingPlane.V(twistOf(at), twistOf(at + 1), twistOf(at + 2));
    }

    double linearErrorAt(int i) {
        return linearErrorOf(i);
    }

    double turnErrorAt(int i) {
        return turnErrorOf(i);
    }
}
