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
 *   <li>errors i: everywhere in the box, for every material spot at body-frame distance r from the reference, the
 *       true velocity per unit differs from that at the centre by at most {@code linear + r * turn};
 *   <li>shifts: any number of world-fixed directions along which the body may also be displaced by any amount
 *       within a range, mm, whatever the parameters do (an exhaust on its hangers).
 * </ul>
 *
 * <p>Mutable and reusable: {@link #parameters} starts it afresh. Allocates only when it has to grow. Not thread-safe.
 */
public final class Wander {
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
     * Sets how far a spot's velocity by parameter i may differ, anywhere in the box, from that at the centre:
     * {@code linear + r * turn} at body-frame distance r from the reference. Returns this.
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

    /** Returns how many parameters there are. */
    public int parameters() {
        return count;
    }

    /** By how much a spot at this distance from the reference may be off the straight-line picture, mm. */
    double remainder(double r) {
        double sum = 0;
        for (int i = 0; i < count; i++) {
            sum += half[i] * (linearError[i] + r * turnError[i]);
        }
        return sum;
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
}
