package daylight.motion;

import daylight.car.Limit;
import daylight.geometry.Direction;
import daylight.geometry.Spot;
import daylight.linkage.Enclosure;
import daylight.linkage.Linkage;
import daylight.linkage.Mechanism;
import daylight.linkage.Outcome;
import java.util.ArrayList;
import java.util.List;

/**
 * Finds where a movement of a mechanism really ends: at the stated travel, at the first shock, stop, strap or joint that
 * reaches its limit, or where the mechanism binds.
 *
 * <p>Nothing is jumped over. Going out from ride height, each stretch of the way is enclosed ({@link
 * Linkage#enclose}), and passed only if that proves for every position in it that each limit has room left; else the
 * stretch is halved. With d the vector between the two spots at the middle of a stretch, u its direction, v its
 * velocity along the way, h the half length and r the proved remainder of both spots, every distance in the stretch
 * lies between
 * <pre>
 * |d| - h |u.v| - r     and     sqrt((|d| + h |u.v| + r)² + (h |v - (u.v) u| + r)²)
 * </pre>
 * What ends the movement is then known to {@value #FINEST} of a unit of the way (mm, or radians).
 *
 * <p>An engine: not thread-safe, as its linkage. Cost: some twenty enclosures to pass a range, some twenty more to
 * close in on an end.
 */
public final class TravelEnds {
    /** A stretch this short, mm or rad, that cannot be passed is the end: far below what any stop is set to. */
    static final double FINEST = 1e-5;
    /** The first stretch tried is this part of the whole way. */
    private static final double FIRST_PART = 1.0 / 16;

    private final Linkage linkage;
    private final List<Limit> limits;
    private final Enclosure enclosure;
    private final BodyRates rates;
    private final double[] centre;
    private final double[] half;

    /**
     * Makes the engine of a mechanism.
     *
     * @param limits those between its own bodies (and the ground)
     * @throws IllegalArgumentException if a limit names a body that the mechanism lacks
     */
    public TravelEnds(Linkage linkage, List<Limit> limits) {
        this.linkage = linkage;
        this.limits = List.copyOf(limits);
        this.enclosure = Enclosure.of(linkage);
        this.rates = new BodyRates(linkage);
        this.centre = new double[linkage.driverCount()];
        this.half = new double[linkage.driverCount()];
        for (Limit limit : limits) {
            bodies(limit).forEach(rates::body);
        }
    }

    /** Returns the two bodies between which a limit acts. */
    static List<String> bodies(Limit limit) {
        return limit instanceof Limit.Distance distance
                ? List.of(distance.from().body(), distance.to().body())
                : List.of(((Limit.Swing) limit).studBody(), ((Limit.Swing) limit).housingBody());
    }

    /**
     * Returns where a movement from ride height ends.
     *
     * @param way change of each driver per unit of the way, in the linkage's order; not modified
     * @param stated how far the movement goes by the car file, units of the way; zero or more
     */
    public TravelEnd end(double[] way, double stated) {
        return end(new double[linkage.driverCount()], way, stated);
    }

    /**
     * Returns where a movement ends that starts elsewhere.
     *
     * @param start driver values where it starts; not modified
     */
    public TravelEnd end(double[] start, double[] way, double stated) {
        double at = 0;
        double step = stated * FIRST_PART;
        while (at < stated) {
            step = Math.min(step, stated - at);
            String trouble = trouble(start, way, at, step);
            if (trouble.isEmpty()) {
                at = at + step >= stated ? stated : at + step;
                step *= 2;
            } else if (step > FINEST) {
                step = Math.max(FINEST, 0.5 * step);
            } else {
                return new TravelEnd(at, cause(start, way, at, step));
            }
        }
        return new TravelEnd(stated, new TravelEnd.Stated());
    }

    /** Returns empty if a stretch is proved to be free; else which limit is not, or {@code binds}. */
    private String trouble(double[] start, double[] way, double at, double length) {
        double h = 0.5 * length;
        for (int d = 0; d < way.length; d++) {
            centre[d] = start[d] + way[d] * (at + h);
            half[d] = Math.abs(way[d]) * h;
        }
        if (!linkage.enclose(centre, half, enclosure)) {
            return "binds";
        }
        for (Limit limit : limits) {
            if (!(limit instanceof Limit.Distance distance ? free(distance, way, h) : free((Limit.Swing) limit))) {
                return limit.name();
            }
        }
        return "";
    }

    private boolean free(Limit.Distance distance, double[] way, double h) {
        int a = rates.body(distance.from().body());
        int b = rates.body(distance.to().body());
        Spot from = rates.spot(a, distance.from().at());
        Spot to = rates.spot(b, distance.to().at());
        Rate va = rates.velocity(a, from, way);
        Rate vb = rates.velocity(b, to, way);
        double dx = to.x() - from.x();
        double dy = to.y() - from.y();
        double dz = to.z() - from.z();
        double length = Math.sqrt(dx * dx + dy * dy + dz * dz);
        double vx = vb.x() - va.x();
        double vy = vb.y() - va.y();
        double vz = vb.z() - va.z();
        double along = length > 0 ? (dx * vx + dy * vy + dz * vz) / length : 0;
        double across = Math.sqrt(Math.max(0, vx * vx + vy * vy + vz * vz - along * along));
        double r =
                remainder(a, distance.from().at()) + remainder(b, distance.to().at());
        double least = length - h * Math.abs(along) - r;
        double greatest = Math.hypot(length + h * Math.abs(along) + r, h * across + r);
        return least > distance.leastMm() && greatest < distance.greatestMm();
    }

    private double remainder(int body, Spot atRideHeight) {
        return body < 0
                ? 0
                : enclosure.linearRemainderMm(body)
                        + enclosure.turnRemainder(body)
                                * linkage.reference(body).distanceTo(atRideHeight);
    }

    private boolean free(Limit.Swing swing) {
        int stud = rates.body(swing.studBody());
        int housing = rates.body(swing.housingBody());
        double turned = (stud < 0 ? 0 : enclosure.turnRad(stud)) + (housing < 0 ? 0 : enclosure.turnRad(housing));
        return lean(swing) + turned < swing.mostRad();
    }

    /** Returns the angle between stud and housing at the linkage's last position, rad. */
    private double lean(Limit.Swing swing) {
        Direction stud = rates.direction(rates.body(swing.studBody()), swing.stud());
        Direction housing = rates.direction(rates.body(swing.housingBody()), swing.housing());
        return Math.toRadians(UniversalJoint.operatingAngleDeg(stud, housing));
    }

    /** Says what ends the movement at a place that no stretch of the finest length leads out of. */
    private TravelEnd.Cause cause(double[] start, double[] way, double at, double step) {
        String trouble = trouble(start, way, at, step);
        for (Limit limit : limits) {
            if (limit.name().equals(trouble)) {
                return new TravelEnd.Met(limit.name(), state(limit));
            }
        }
        for (int d = 0; d < way.length; d++) {
            centre[d] = start[d] + way[d] * (at + step);
        }
        Outcome outcome = linkage.solve(centre);
        return new TravelEnd.Binds(
                outcome.solved()
                        ? linkage.mechanism().name() + " comes too near a dead point (over centre) there"
                        : outcome.message());
    }

    private String state(Limit limit) {
        if (limit instanceof Limit.Distance distance) {
            double length = rates.spot(
                            rates.body(distance.from().body()), distance.from().at())
                    .distanceTo(rates.spot(
                            rates.body(distance.to().body()), distance.to().at()));
            boolean nearer = length - distance.leastMm() < distance.greatestMm() - length;
            if (limit instanceof Limit.Shock) {
                return nearer ? "closed" : "fully open";
            }
            if (limit instanceof Limit.Stop stop) {
                return stop.steering() ? "met" : stop.squashMm() > 0 ? "solid" : "met";
            }
            return "tight";
        }
        return "leans as far as it can";
    }

    /** Returns the limits that are overrun at the linkage's last position, by name. */
    List<String> overrun() {
        List<String> names = new ArrayList<>();
        for (Limit limit : limits) {
            if (limit instanceof Limit.Distance distance) {
                double length = rates.spot(
                                rates.body(distance.from().body()),
                                distance.from().at())
                        .distanceTo(rates.spot(
                                rates.body(distance.to().body()), distance.to().at()));
                if (length < distance.leastMm() || length > distance.greatestMm()) {
                    names.add(limit.name());
                }
            } else if (lean((Limit.Swing) limit) > ((Limit.Swing) limit).mostRad()) {
                names.add(limit.name());
            }
        }
        return names;
    }

    /** Whether a limit acts between bodies of this mechanism, one of them moving. */
    static boolean belongsTo(Mechanism mechanism, Limit limit) {
        List<String> bodies = bodies(limit);
        return bodies.stream().anyMatch(mechanism.bodies()::contains)
                && bodies.stream()
                        .allMatch(body -> body.equals(Mechanism.GROUND)
                                || mechanism.bodies().contains(body));
    }
}
