package daylight.motion;

import daylight.geometry.Direction;
import daylight.geometry.Pose;
import daylight.geometry.Spot;
import daylight.linkage.Linkage;
import daylight.linkage.Mechanism;

/**
 * Where spots of a mechanism's bodies are and how fast they move along a way through the drivers, at the linkage's last
 * position. The ground is a body too, and stands still. Not thread-safe, as its linkage.
 */
final class BodyRates {
    private static final int GROUND = -1;
    private static final int NUMBERS = 6;

    private final Linkage linkage;
    private final double[] twist = new double[NUMBERS];
    private final double[] sum = new double[NUMBERS];

    BodyRates(Linkage linkage) {
        this.linkage = linkage;
    }

    /**
     * Returns the number of a body, to be given back here.
     *
     * @throws IllegalArgumentException if the mechanism has no such body
     */
    int body(String name) {
        if (name.equals(Mechanism.GROUND)) {
            return GROUND;
        }
        int index = linkage.bodies().indexOf(name);
        if (index < 0) {
            throw new IllegalArgumentException(
                    linkage.mechanism().name() + " has no body \"" + name + "\", only " + linkage.bodies());
        }
        return index;
    }

    Pose pose(int body) {
        return body == GROUND ? Pose.RIDE_HEIGHT : linkage.pose(body);
    }

    Spot spot(int body, Spot atRideHeight) {
        return pose(body).apply(atRideHeight);
    }

    Direction direction(int body, Direction atRideHeight) {
        return pose(body).apply(atRideHeight);
    }

    /** Returns the angular velocity of a body, rad per unit of the way. */
    Rate turn(int body, double[] way) {
        add(body, way);
        return new Rate(sum[0], sum[1], sum[2]);
    }

    /** Returns the velocity of the spot of a body that is now at a place, mm per unit of the way. */
    Rate velocity(int body, Spot now, double[] way) {
        if (body == GROUND) {
            return Rate.NONE;
        }
        Spot reference = linkage.where(body, linkage.reference(body));
        add(body, way);
        double rx = now.x() - reference.x();
        double ry = now.y() - reference.y();
        double rz = now.z() - reference.z();
        return new Rate(
                sum[3] + sum[1] * rz - sum[2] * ry,
                sum[4] + sum[2] * rx - sum[0] * rz,
                sum[5] + sum[0] * ry - sum[1] * rx);
    }

    private void add(int body, double[] way) {
        java.util.Arrays.fill(sum, 0);
        if (body == GROUND) {
            return;
        }
        for (int d = 0; d < way.length; d++) {
            if (way[d] != 0) {
                linkage.twist(body, d, twist);
                for (int k = 0; k < NUMBERS; k++) {
                    sum[k] += way[d] * twist[k];
                }
            }
        }
    }
}
