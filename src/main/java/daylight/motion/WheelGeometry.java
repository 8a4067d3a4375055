package daylight.motion;

import daylight.car.Readout;
import daylight.geometry.Direction;
import daylight.geometry.Spot;
import daylight.linkage.Linkage;

/**
 * The wheel geometry of one wheel: how it stands at the linkage's last position and how that changes. Definitions and
 * signs: {@link WheelAttitude}, {@link WheelSlopes}.
 *
 * <p>The ground is taken as the level plane through the contact centre, in the car's frame: it moves with the wheel, as
 * on a rig that holds the body still. In roll the road leans against the car; {@link AxleGeometry} takes that into
 * account where it matters.
 *
 * <p>An engine: not thread-safe, as its linkage. Cost of an attitude: two poses; of slopes: two twists per driver.
 */
public final class WheelGeometry {
    private final BodyRates rates;
    private final int body;
    private final int lowerBody;
    private final int upperBody;
    private final Readout.Wheel wheel;
    private final double loadedRadiusMm;
    private final double side;

    /**
     * Makes the engine of a wheel.
     *
     * @param linkage the mechanism that carries it; solve it, then ask here
     * @param loadedRadiusMm height of the wheel centre above the ground under load, mm
     * @throws IllegalArgumentException if the mechanism lacks a body of the wheel or the radius is not more than zero
     */
    public WheelGeometry(Linkage linkage, Readout.Wheel wheel, double loadedRadiusMm) {
        if (!(loadedRadiusMm > 0) || !Double.isFinite(loadedRadiusMm)) {
            throw new IllegalArgumentException(
                    wheel.name() + ": the loaded radius must be more than zero, mm: " + loadedRadiusMm);
        }
        this.rates = new BodyRates(linkage);
        this.wheel = wheel;
        this.loadedRadiusMm = loadedRadiusMm;
        this.body = rates.body(wheel.body());
        this.lowerBody = wheel.steeringAxis()
                .map(axis -> rates.body(axis.lower().body()))
                .orElse(body);
        this.upperBody = wheel.steeringAxis()
                .map(axis -> rates.body(axis.upper().body()))
                .orElse(body);
        this.side = wheel.left() ? 1 : -1;
    }

    /** Returns how the wheel stands at the linkage's last position. */
    public WheelAttitude attitude() {
        Direction e = rates.direction(body, wheel.spindle());
        Spot centre = rates.spot(body, wheel.centre());
        Spot contact = contact(e, centre);
        double toeIn = Math.toDegrees(Math.atan2(e.x(), side * e.y()));
        return new WheelAttitude(
                centre,
                contact,
                Math.toDegrees(Math.atan2(-e.z(), side * e.y())) + 0.0,
                Math.toDegrees(-Math.asin(e.z())) + 0.0,
                toeIn + 0.0,
                -side * toeIn + 0.0,
                wheel.steeringAxis().map(axis -> axis(axis, e, centre, contact)));
    }

    /** Down the wheel plane from the centre, by the loaded radius. */
    private Spot contact(Direction e, Spot centre) {
        // Upward in the wheel plane: z less its part along the spindle.
        Direction up = Direction.of(-e.z() * e.x(), -e.z() * e.y(), 1 - e.z() * e.z());
        return centre.along(up, -loadedRadiusMm);
    }

    private WheelAttitude.Axis axis(Readout.SteeringAxis axis, Direction e, Spot centre, Spot contact) {
        Spot lower = rates.spot(lowerBody, axis.lower().at());
        Spot upper = rates.spot(upperBody, axis.upper().at());
        double ax = upper.x() - lower.x();
        double ay = upper.y() - lower.y();
        double az = upper.z() - lower.z();
        Spot onGround = atHeight(lower, ax, ay, az, contact.z());
        Spot atCentre = atHeight(lower, ax, ay, az, centre.z());
        double horizontal = Math.hypot(e.x(), e.y());
        double outX = e.x() / horizontal;
        double outY = e.y() / horizontal;
        // The wheel's heading: a quarter turn from outboard, towards the front of the car.
        double aheadX = side * outY;
        double aheadY = -side * outX;
        return new WheelAttitude.Axis(
                Math.toDegrees(Math.atan2(-ax, az)) + 0.0,
                Math.toDegrees(Math.atan2(-side * ay, az)) + 0.0,
                (onGround.x() - contact.x()) * aheadX + (onGround.y() - contact.y()) * aheadY,
                (contact.x() - onGround.x()) * outX + (contact.y() - onGround.y()) * outY,
                (atCentre.x() - centre.x()) * aheadX + (atCentre.y() - centre.y()) * aheadY,
                (centre.x() - atCentre.x()) * outX + (centre.y() - atCentre.y()) * outY,
                onGround);
    }

    private static Spot atHeight(Spot lower, double ax, double ay, double az, double z) {
        double t = (z - lower.z()) / az;
        return new Spot(lower.x() + t * ax, lower.y() + t * ay, z);
    }

    /**
     * Returns how the wheel's attitude changes along a way through the linkage's drivers.
     *
     * @param way change of each driver per unit of the way, in the linkage's order; not modified
     */
    public WheelSlopes slopes(double[] way) {
        Direction e = rates.direction(body, wheel.spindle());
        Spot centre = rates.spot(body, wheel.centre());
        Spot contact = contact(e, centre);
        Rate turn = rates.turn(body, way);
        double ex = e.x();
        double ey = e.y();
        double ez = e.z();
        double rateX = turn.y() * ez - turn.z() * ey;
        double rateY = turn.z() * ex - turn.x() * ez;
        double rateZ = turn.x() * ey - turn.y() * ex;
        return new WheelSlopes(
                rates.velocity(body, centre, way),
                rates.velocity(body, contact, way),
                turn,
                turning(-ez, side * ey, -rateZ, side * rateY),
                Math.toDegrees(-rateZ / Math.sqrt(ex * ex + ey * ey)),
                turning(ex, side * ey, rateX, side * rateY),
                wheel.steeringAxis().map(axis -> axisSlopes(axis, way)));
    }

    private WheelSlopes.AxisSlopes axisSlopes(Readout.SteeringAxis axis, double[] way) {
        Spot lower = rates.spot(lowerBody, axis.lower().at());
        Spot upper = rates.spot(upperBody, axis.upper().at());
        Rate down = rates.velocity(lowerBody, lower, way);
        Rate top = rates.velocity(upperBody, upper, way);
        double az = upper.z() - lower.z();
        double rateZ = top.z() - down.z();
        return new WheelSlopes.AxisSlopes(
                turning(lower.x() - upper.x(), az, down.x() - top.x(), rateZ),
                turning(side * (lower.y() - upper.y()), az, side * (down.y() - top.y()), rateZ));
    }

    /** Returns the rate of atan2(p, q), degrees. */
    private static double turning(double p, double q, double rateP, double rateQ) {
        return Math.toDegrees((q * rateP - p * rateQ) / (p * p + q * q));
    }
}
