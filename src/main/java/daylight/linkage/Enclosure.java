package daylight.linkage;

import org.joml.Matrix4x3d;

/**
 * What {@link Linkage#enclose} has proved about a box of driver values: the centre's poses and velocities, and bounds
 * that hold for every position in the box. Reused from box to box; each call overwrites it.
 *
 * <p>With c the centre, q any driver values in the box, x_p a material point of a body at distance r from the body's
 * reference spot:
 * <pre>
 * |dx_p/dq_i (q) - dx_p/dq_i (c)|                                &lt;= linearError(body, i) + r turnError(body, i)
 * |x_p(q) - x_p(c) - sum_i (q_i - c_i) dx_p/dq_i (c)|            &lt;= linearRemainderMm(body) + r turnRemainder(body)
 * |reference spot(q) - reference spot(c)|                        &lt;= shiftMm(body)
 * angle between the body's rotation at q and at c                &lt;= turnRad(body)
 * </pre>
 *
 * <p>The first shrinks with the box, the second with its square: half of the first times the half width, since the
 * error of the velocity grows in proportion to the way from the centre.
 */
public final class Enclosure {
    final int bodies;
    final int drivers;
    final double[] poses;
    final double[] twists;
    final double[] linear;
    final double[] turn;
    final double[] linearRemainder;
    final double[] turnRemainder;
    final double[] shift;
    final double[] angle;
    String why = "";

    private Enclosure(int bodies, int drivers) {
        this.bodies = bodies;
        this.drivers = drivers;
        poses = new double[12 * bodies];
        twists = new double[6 * bodies * drivers];
        linear = new double[bodies * drivers];
        turn = new double[bodies * drivers];
        linearRemainder = new double[bodies];
        turnRemainder = new double[bodies];
        shift = new double[bodies];
        angle = new double[bodies];
    }

    /** Returns an empty enclosure of the right size for a linkage. */
    public static Enclosure of(Linkage linkage) {
        return new Enclosure(linkage.bodies().size(), linkage.driverCount());
    }

    /** Writes the pose of a body at the centre. */
    public void pose(int body, Matrix4x3d into) {
        int k = 12 * body;
        double[] p = poses;
        into.set(
                p[k], p[k + 3], p[k + 6], p[k + 1], p[k + 4], p[k + 7], p[k + 2], p[k + 5], p[k + 8], p[k + 9],
                p[k + 10], p[k + 11]);
    }

    /**
     * Writes the twist of a body along a driver at the centre.
     *
     * @param into 6 numbers: world angular velocity (rad per driver unit), world velocity of the reference spot (mm
     *     per driver unit)
     */
    public void twist(int body, int driver, double[] into) {
        System.arraycopy(twists, 6 * (body * drivers + driver), into, 0, 6);
    }

    /** Error bound of the velocity of the reference spot along a driver, mm per unit. */
    public double linearError(int body, int driver) {
        return linear[body * drivers + driver];
    }

    /** Error bound of the velocity along a driver that grows with the distance from the reference spot, rad per unit. */
    public double turnError(int body, int driver) {
        return turn[body * drivers + driver];
    }

    /** Bound of what the centre's velocities leave out of the way of the reference spot, mm. */
    public double linearRemainderMm(int body) {
        return linearRemainder[body];
    }

    /** The same per mm of distance from the reference spot, rad. */
    public double turnRemainder(int body) {
        return turnRemainder[body];
    }

    /** No position in the box has the reference spot further from the centre's than this, mm. */
    public double shiftMm(int body) {
        return shift[body];
    }

    /** No position in the box has the body turned further from the centre's than this, rad. */
    public double turnRad(int body) {
        return angle[body];
    }

    /** Why the last box could not be proved; empty when it was. */
    public String why() {
        return why;
    }
}
