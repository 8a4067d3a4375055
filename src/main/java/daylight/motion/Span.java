package daylight.motion;

import daylight.car.Readout;
import daylight.geometry.Spot;
import daylight.linkage.Linkage;

/**
 * The distance between spots of two bodies at the linkage's last position, and how fast it changes: shocks, straps,
 * slip yokes, gas struts (whose moment arm is the change per radian of the panel).
 *
 * <p>An engine: not thread-safe, as its linkage.
 */
public final class Span {
    private final BodyRates rates;
    private final int fromBody;
    private final int toBody;
    private final Spot from;
    private final Spot to;

    /**
     * Makes the engine of a distance.
     *
     * @throws IllegalArgumentException if the mechanism lacks one of the bodies
     */
    public Span(Linkage linkage, Readout.End from, Readout.End to) {
        this.rates = new BodyRates(linkage);
        this.fromBody = rates.body(from.body());
        this.toBody = rates.body(to.body());
        this.from = from.at();
        this.to = to.at();
    }

    /** Returns the distance, mm. */
    public double lengthMm() {
        return rates.spot(fromBody, from).distanceTo(rates.spot(toBody, to));
    }

    /**
     * Returns how fast the distance grows along a way through the drivers, mm per unit.
     *
     * @param way change of each driver per unit of the way, in the linkage's order; not modified
     */
    public double slope(double[] way) {
        Spot a = rates.spot(fromBody, from);
        Spot b = rates.spot(toBody, to);
        Rate va = rates.velocity(fromBody, a, way);
        Rate vb = rates.velocity(toBody, b, way);
        double length = a.distanceTo(b);
        return ((b.x() - a.x()) * (vb.x() - va.x())
                        + (b.y() - a.y()) * (vb.y() - va.y())
                        + (b.z() - a.z()) * (vb.z() - va.z()))
                / length;
    }
}
