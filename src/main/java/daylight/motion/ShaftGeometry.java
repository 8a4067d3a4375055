package daylight.motion;

import daylight.car.Readout;
import daylight.geometry.Direction;
import daylight.geometry.Spot;
import daylight.linkage.Linkage;

/**
 * A driveshaft at the linkage's last position: its joints' operating angles, its plunge, and how the shaft that it
 * drives points.
 *
 * <p>An engine: not thread-safe, as its linkage.
 */
public final class ShaftGeometry {
    private final BodyRates rates;
    private final Readout.Shaft shaft;
    private final int from;
    private final int to;
    private final double rideHeightMm;

    /**
     * How a driveshaft lies.
     *
     * @param firstJointDeg operating angle of the joint on the driving side, degrees, 0 to 180
     * @param secondJointDeg operating angle of the joint on the driven side, degrees
     * @param plungeMm change of the distance between the joints from ride height, mm; negative pushes the slip yoke in
     * @param evenDeg the one joint that would be as uneven as these two with their forks aligned, degrees
     * @param drivenDeg driven shaft (pinion) from level in the side view, degrees, positive with its free end (the
     *     nose) up
     */
    public record Attitude(
            double firstJointDeg, double secondJointDeg, double plungeMm, double evenDeg, double drivenDeg) {}

    /**
     * Makes the engine of a driveshaft.
     *
     * @throws IllegalArgumentException if the mechanism lacks a body of its ends
     */
    public ShaftGeometry(Linkage linkage, Readout.Shaft shaft) {
        this.rates = new BodyRates(linkage);
        this.shaft = shaft;
        this.from = rates.body(shaft.from().body());
        this.to = rates.body(shaft.to().body());
        this.rideHeightMm = shaft.from().at().distanceTo(shaft.to().at());
    }

    /** Returns how it lies at the linkage's last position. */
    public Attitude attitude() {
        Spot first = rates.spot(from, shaft.from().at());
        Spot second = rates.spot(to, shaft.to().at());
        Direction driving = rates.direction(from, shaft.fromAxis());
        Direction driven = rates.direction(to, shaft.toAxis());
        Direction along = Direction.from(first, second);
        double firstDeg = UniversalJoint.operatingAngleDeg(driving, along);
        double secondDeg = UniversalJoint.operatingAngleDeg(along, driven);
        return new Attitude(
                firstDeg,
                secondDeg,
                first.distanceTo(second) - rideHeightMm,
                UniversalJoint.equivalentAngleDeg(firstDeg, secondDeg, true),
                tiltDeg(driven.reversed()));
    }

    /** Returns a direction's angle from level in the side view, degrees, positive when it points up. */
    static double tiltDeg(Direction direction) {
        return Math.toDegrees(Math.atan2(direction.z(), Math.abs(direction.x()))) + 0.0;
    }
}
