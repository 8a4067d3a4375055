package daylight.motion;

import daylight.geometry.Spot;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * What the two wheels of an axle make together: roll centre, Ackermann, and how much of brake dive, squat and lift the
 * links take.
 *
 * <p>Pure functions of attitudes and slopes; lengths in mm, angles in degrees, car frame.
 */
public final class AxleGeometry {
    /** Two lines whose directions differ by less than this, rad, are parallel: they would meet beyond a kilometre. */
    private static final double PARALLEL = 1e-9;
    /** Parallel lines nearer than this, mm, are one line. */
    private static final double SAME_LINE_MM = 1e-6;

    private AxleGeometry() {}

    /**
     * The kinematic roll centre.
     *
     * @param acrossMm y in the car frame, mm; 0 on the body centre plane
     * @param heightMm height above the line through both contact centres, mm; negative below the ground
     */
    public record RollCentre(double acrossMm, double heightMm) {}

    /**
     * Returns the roll centre of two wheels that move one by one: where the left and the right line from contact centre
     * to instant centre meet (Kennedy-Aronhold). The line is the normal of the contact's instant motion against the
     * car, so it is known also when the instant centre is at infinity.
     *
     * <p>Source: W. F. Milliken and D. L. Milliken, Race Car Vehicle Dynamics, 1995, chapter 17; J. Reimpell, The
     * Automotive Chassis, roll centre by velocity poles (both from memory).
     *
     * @param leftContact left contact centre
     * @param left its motion along the left wheel's own travel
     * @param rightContact right contact centre
     * @param right its motion along the right wheel's own travel
     * @return empty when the two lines are parallel and apart
     */
    public static Optional<RollCentre> rollCentre(Spot leftContact, Rate left, Spot rightContact, Rate right) {
        // Normals (-vz, vy) from either contact.
        double ly = -left.z();
        double lz = left.y();
        double ry = -right.z();
        double rz = right.y();
        double dy = rightContact.y() - leftContact.y();
        double dz = rightContact.z() - leftContact.z();
        double cross = ly * rz - lz * ry;
        double scale = Math.hypot(ly, lz) * Math.hypot(ry, rz);
        if (!(Math.abs(cross) > PARALLEL * scale)) {
            boolean sameLine = Math.abs(ly * dz - lz * dy) <= SAME_LINE_MM * Math.hypot(ly, lz);
            return sameLine
                    ? Optional.of(above(
                            leftContact,
                            rightContact,
                            0.5 * (leftContact.y() + rightContact.y()),
                            0.5 * (leftContact.z() + rightContact.z())))
                    : Optional.empty();
        }
        double t = (dy * rz - dz * ry) / cross;
        return Optional.of(above(leftContact, rightContact, leftContact.y() + t * ly, leftContact.z() + t * lz));
    }

    /**
     * Returns the roll centre of a beam that carries both wheels (live axle, de Dion): the spot of the vertical plane
     * across the car, through the middle between the contacts, that stands still while the beam rolls, left wheel up as
     * much as right wheel down.
     *
     * @param left motion of the left contact in that roll
     * @param right motion of the right contact in the same roll
     * @param turn angular velocity of the beam in the same roll
     * @return empty when the beam does not roll
     */
    public static Optional<RollCentre> beamRollCentre(
            Spot leftContact, Rate left, Spot rightContact, Rate right, Rate turn) {
        // The middle between two spots of a rigid body moves with the mean of their velocities.
        double y = 0.5 * (leftContact.y() + rightContact.y() - (left.z() + right.z()) / turn.x());
        double z = 0.5 * (leftContact.z() + rightContact.z() + (left.y() + right.y()) / turn.x());
        return Double.isFinite(y) && Double.isFinite(z)
                ? Optional.of(above(leftContact, rightContact, y, z))
                : Optional.empty();
    }

    private static RollCentre above(Spot one, Spot other, double y, double z) {
        Spot left = one.y() > other.y() ? one : other;
        Spot right = one.y() > other.y() ? other : one;
        double dy = left.y() - right.y();
        double dz = left.z() - right.z();
        double length = Math.hypot(dy, dz);
        double height = ((z - right.z()) * dy - (y - right.y()) * dz) / length;
        return new RollCentre(y + 0.0, height + 0.0);
    }

    /**
     * Returns how the road leans against the car: body roll, degrees, positive with the car's left side up (roll about
     * x by the right-hand rule, ISO 8855).
     */
    public static double rollDeg(Spot leftContact, Spot rightContact) {
        return -Math.toDegrees(Math.atan2(leftContact.z() - rightContact.z(), leftContact.y() - rightContact.y()))
                + 0.0;
    }

    /**
     * Returns the steer angle that an inner wheel should have for the wheel axes to meet on the turn centre: cot(outer)
     * - cot(inner) = distance / wheelbase (Ackermann condition; ISO 8855:2011, 7.1.9).
     *
     * @param outerDeg steer of the outer wheel, degrees, its size only
     * @param axisDistanceMm distance between the steering axes at the ground, mm
     * @param wheelbaseMm wheelbase, mm
     * @return degrees, 0 to 180
     */
    public static double idealInnerDeg(double outerDeg, double axisDistanceMm, double wheelbaseMm) {
        double outer = Math.toRadians(Math.abs(outerDeg));
        // acot(cot(outer) - d / l) without dividing by a tangent of zero
        return Math.toDegrees(
                Math.atan2(Math.sin(outer), Math.cos(outer) - Math.sin(outer) * axisDistanceMm / wheelbaseMm));
    }

    /** Returns the ideal steer of the outer wheel for a given inner one, degrees; the inverse of the above. */
    public static double idealOuterDeg(double innerDeg, double axisDistanceMm, double wheelbaseMm) {
        double inner = Math.toRadians(Math.abs(innerDeg));
        return Math.toDegrees(
                Math.atan2(Math.sin(inner), Math.cos(inner) + Math.sin(inner) * axisDistanceMm / wheelbaseMm));
    }

    /**
     * Returns the Ackermann error: inner steer less the ideal for that outer steer, degrees; positive for too much,
     * and minus the difference of both for parallel steering.
     *
     * @param leftSteerDeg steer of the left wheel, positive to the left
     * @param rightSteerDeg steer of the right wheel, positive to the left
     */
    public static double ackermannErrorDeg(
            double leftSteerDeg, double rightSteerDeg, double axisDistanceMm, double wheelbaseMm) {
        boolean toTheLeft = leftSteerDeg + rightSteerDeg > 0;
        double inner = toTheLeft ? leftSteerDeg : -rightSteerDeg;
        double outer = toTheLeft ? rightSteerDeg : -leftSteerDeg;
        return outer <= 0 ? inner : inner - idealInnerDeg(outer, axisDistanceMm, wheelbaseMm) + 0.0;
    }

    /**
     * Returns the turning circle: the diameter between kerbs that the outer front tyre needs, mm, when every wheel rolls
     * where it heads about one spot on the rear axle's line (no slip, rear wheels straight).
     *
     * @param outerSteerDeg steer of the outer front wheel, degrees, more than zero, either way
     * @param halfTyreMm half the tyre's section width, which reaches beyond the middle of its contact
     */
    public static double turningCircleMm(double wheelbaseMm, double outerSteerDeg, double halfTyreMm) {
        return 2 * (wheelbaseMm / Math.sin(Math.toRadians(Math.abs(outerSteerDeg))) + halfTyreMm);
    }

    /**
     * Returns the angle at which a spot of the wheel moves in bump in the side view, degrees from straight up, positive
     * when it moves forward.
     *
     * @param path motion of the contact centre (brakes and drive on the axle or in the wheel) or of the wheel centre
     *     (both on the chassis) per wheel travel
     */
    public static double sideViewPathDeg(Rate path) {
        return Math.toDegrees(Math.atan2(path.x(), path.z())) + 0.0;
    }

    /**
     * What anti-dive and its kin depend on besides the links.
     *
     * @param wheelbaseMm wheelbase, mm
     * @param centreOfGravityMm height of the centre of gravity above the ground, mm
     * @param frontBrakeShare share of the brake force at the front wheels, 0 to 1
     * @param frontDriveShare share of the drive force at the front wheels, 0 to 1
     * @param driveOnChassis whether the drive's torque is held by the chassis (differential on the chassis), so that
     *     its force acts at the wheel centre; else (live axle) at the contact
     */
    public record Balance(
            double wheelbaseMm,
            double centreOfGravityMm,
            double frontBrakeShare,
            double frontDriveShare,
            boolean driveOnChassis) {
        public Balance {
            if (!(wheelbaseMm > 0 && centreOfGravityMm > 0)) {
                throw new IllegalArgumentException("wheelbase and height of the centre of gravity must be more than"
                        + " zero, mm: " + wheelbaseMm + ", " + centreOfGravityMm);
            }
            if (!(frontBrakeShare >= 0 && frontBrakeShare <= 1 && frontDriveShare >= 0 && frontDriveShare <= 1)) {
                throw new IllegalArgumentException(
                        "shares at the front are 0 to 1: " + frontBrakeShare + ", " + frontDriveShare);
            }
        }
    }

    /**
     * Returns the share of brake pitch that the links take at this axle, per cent, positive when they resist it:
     * anti-dive at the front, anti-lift at the rear. Brakes in the wheels.
     *
     * <p>By virtual work: a brake force F at the contact does the work F dx in a bump of dz, so the links push the body
     * up (front) by F dx/dz; the weight transferred is F (height / wheelbase) / (share of the brakes there). Source:
     * Milliken and Milliken, Race Car Vehicle Dynamics, 1995, chapter 17 (from memory).
     *
     * @param slopes per unit of the wheels' travel
     */
    public static double antiBrakePercent(WheelSlopes slopes, boolean front, Balance balance) {
        double tangent = slopes.contact().x() / slopes.contact().z();
        double share = front ? balance.frontBrakeShare() : -(1 - balance.frontBrakeShare());
        return 100 * share * tangent * balance.wheelbaseMm() / balance.centreOfGravityMm() + 0.0;
    }

    /**
     * Returns the share of drive pitch that the links take at this axle, per cent, positive when they resist it:
     * anti-squat at the rear, anti-lift at the front. Empty where the axle is not driven.
     */
    public static OptionalDouble antiDrivePercent(WheelSlopes slopes, boolean front, Balance balance) {
        double share = front ? balance.frontDriveShare() : 1 - balance.frontDriveShare();
        if (share == 0) {
            return OptionalDouble.empty();
        }
        Rate path = balance.driveOnChassis() ? slopes.centre() : slopes.contact();
        double tangent = path.x() / path.z();
        return OptionalDouble.of(
                100 * (front ? share : -share) * tangent * balance.wheelbaseMm() / balance.centreOfGravityMm() + 0.0);
    }
}
