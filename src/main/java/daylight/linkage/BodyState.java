package daylight.linkage;

/**
 * Where all bodies of one mechanism are and how they move, in flat arrays. Body 0 is the ground.
 *
 * <p>A body's place is the place of its reference spot and its rotation from ride height; an arm is the vector
 * from the reference spot, turned with the body. Twists are world angular velocity (3) and world velocity of the
 * reference spot (3), per unit of a driver; second derivatives likewise per pair of drivers: the change along
 * driver j of the twist along driver i. "Error" arrays hold bounds, componentwise, of how far the same quantities
 * may differ from their value at the centre of a box of drivers.
 */
final class BodyState {
    final int bodies;
    final int drivers;
    /** 4 per body: x, y, z, w. */
    final double[] quaternion;
    /** 9 per body, row by row; follows from the quaternion. */
    final double[] rotation;
    /** 3 per body: the reference spot in the world. */
    final double[] position;
    /** 3 per body: the reference spot at ride height. */
    final double[] reference;
    /** One per body: the angle or the shift of a hinged or sliding body. */
    final double[] coordinate;

    final double[] twist;
    final double[] second;
    final double[] twistError;
    final double[] secondError;

    BodyState(int bodies, int drivers) {
        this.bodies = bodies;
        this.drivers = drivers;
        quaternion = new double[4 * bodies];
        rotation = new double[9 * bodies];
        position = new double[3 * bodies];
        reference = new double[3 * bodies];
        coordinate = new double[bodies];
        twist = new double[6 * bodies * drivers];
        second = new double[6 * bodies * drivers * drivers];
        twistError = new double[6 * bodies * drivers];
        secondError = new double[6 * bodies * drivers * drivers];
        for (int b = 0; b < bodies; b++) {
            quaternion[4 * b + 3] = 1;
            rotate(b);
        }
    }

    int twistAt(int body, int driver) {
        return 6 * (body * drivers + driver);
    }

    int secondAt(int body, int first, int second) {
        return 6 * ((body * drivers + first) * drivers + second);
    }

    /** Puts every body back to ride height. */
    void rideHeight() {
        for (int b = 0; b < bodies; b++) {
            quaternion[4 * b] = 0;
            quaternion[4 * b + 1] = 0;
            quaternion[4 * b + 2] = 0;
            quaternion[4 * b + 3] = 1;
            coordinate[b] = 0;
            rotate(b);
        }
        System.arraycopy(reference, 0, position, 0, position.length);
    }

    /** Refreshes the rotation of a body from its quaternion, which must have length 1. */
    void rotate(int b) {
        double x = quaternion[4 * b];
        double y = quaternion[4 * b + 1];
        double z = quaternion[4 * b + 2];
        double w = quaternion[4 * b + 3];
        int r = 9 * b;
        rotation[r] = 1 - 2 * (y * y + z * z);
        rotation[r + 1] = 2 * (x * y - z * w);
        rotation[r + 2] = 2 * (x * z + y * w);
        rotation[r + 3] = 2 * (x * y + z * w);
        rotation[r + 4] = 1 - 2 * (x * x + z * z);
        rotation[r + 5] = 2 * (y * z - x * w);
        rotation[r + 6] = 2 * (x * z - y * w);
        rotation[r + 7] = 2 * (y * z + x * w);
        rotation[r + 8] = 1 - 2 * (x * x + y * y);
    }

    /**
     * Turns a body by a small world rotation vector (radians). Cayley's map: exactly a rotation for any size, equal
     * to the exponential to second order, and no sine; renormalised, so that it does not drift over many steps.
     */
    void turn(int b, double tx, double ty, double tz) {
        double hx = 0.5 * tx;
        double hy = 0.5 * ty;
        double hz = 0.5 * tz;
        int k = 4 * b;
        double x = quaternion[k];
        double y = quaternion[k + 1];
        double z = quaternion[k + 2];
        double w = quaternion[k + 3];
        double nx = x + hx * w + hy * z - hz * y;
        double ny = y + hy * w + hz * x - hx * z;
        double nz = z + hz * w + hx * y - hy * x;
        double nw = w - hx * x - hy * y - hz * z;
        double scale = 1 / Math.sqrt(nx * nx + ny * ny + nz * nz + nw * nw);
        quaternion[k] = nx * scale;
        quaternion[k + 1] = ny * scale;
        quaternion[k + 2] = nz * scale;
        quaternion[k + 3] = nw * scale;
        rotate(b);
    }

    /** Sets the rotation of a body to a turn of {@code angle} about the unit axis that starts at {@code axis[at]}. */
    void setTurn(int b, double[] axis, int at, double angle) {
        double s = Math.sin(0.5 * angle);
        int k = 4 * b;
        quaternion[k] = s * axis[at];
        quaternion[k + 1] = s * axis[at + 1];
        quaternion[k + 2] = s * axis[at + 2];
        quaternion[k + 3] = Math.cos(0.5 * angle);
        rotate(b);
    }

    /** Copies the places (not the velocities) of another state of the same mechanism. */
    void placesFrom(BodyState other) {
        System.arraycopy(other.quaternion, 0, quaternion, 0, quaternion.length);
        System.arraycopy(other.rotation, 0, rotation, 0, rotation.length);
        System.arraycopy(other.position, 0, position, 0, position.length);
        System.arraycopy(other.coordinate, 0, coordinate, 0, coordinate.length);
    }
}
