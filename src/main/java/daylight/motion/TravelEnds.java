package daylight.motion;

import daylight.car.Limit;
import daylight.car.Readout;
import daylight.geometry.Direction;
import daylight.geometry.Spot;
import daylight.linkage.Enclosure;
import daylight.linkage.Linkage;
import daylight.linkage.Mechanism;
import daylight.linkage.Outcome;
import daylight.units.LengthFormat;
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
 * A stop's room is the part of d along its own line, bounded in the same way; a joint's lean changes by no more than both
 * bodies turn. What ends the movement is then known to {@value #FINEST} of a unit of the way (mm, or radians).
 *
 * <p>An engine: not thread-safe, as its linkage. Cost: some twenty enclosures to pass a range, some twenty more to
 * close in on an end.
 */
public final class TravelEnds {
    /** A stretch this short, mm or rad, that cannot be passed is the end: far below what any stop is set to. */
    static final double FINEST = 1e-5;
    /** Far above what a solved position is off by (1e-9 mm), far below what any stop is set to; mm or rad. */
    private static final double ROUNDING = 1e-7;
    /** The first stretch tried is this part of the whole way. */
    private static final double FIRST_PART = 1.0 / 16;

    private final Linkage linkage;
    private final List<Limit> limits;
    private final LengthFormat lengths;
    private final Enclosure enclosure;
    private final BodyRates rates;
    private final double[] centre;
    private final double[] half;

    /**
     * Makes the engine of a mechanism.
     *
     * @param lengths how messages write lengths
     * @param limits those between its own bodies (and the ground)
     * @throws IllegalArgumentException if a limit names a body that the mechanism lacks
     */
    public TravelEnds(Linkage linkage, LengthFormat lengths, List<Limit> limits) {
        this.linkage = linkage;
        this.lengths = lengths;
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
        if (limit instanceof Limit.Distance distance) {
            return List.of(distance.from().body(), distance.to().body());
        } else if (limit instanceof Limit.Stop stop) {
            return List.of(stop.from().body(), stop.to().body());
        } else if (limit instanceof Limit.Swing swing) {
            return List.of(swing.studBody(), swing.housingBody());
        }
        throw unknown(limit);
    }

    private static IllegalStateException unknown(Limit limit) {
        return new IllegalStateException("a limit of no known kind: " + limit + ". Please report this.");
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
            if (!free(limit, way, h)) {
                return limit.name();
            }
        }
        return "";
    }

    /**
     * Returns whether a limit is proved to be overrun at every position of a box of drivers, by more than rounding.
     * Unlike {@link #end} it looks at no way but at all of them: each driver's velocity counts with its own half width.
     *
     * @param at the middle of the box; not modified
     * @param reach its half widths; not modified
     */
    boolean overrun(Limit limit, double[] at, double[] reach) {
        if (!linkage.enclose(at, reach, enclosure)) {
            return false;
        }
        if (limit instanceof Limit.Distance distance) {
            Between between = between(distance.from(), distance.to(), new double[at.length]);
            double length = between.length();
            double along = 0;
            double across = 0;
            for (int d = 0; d < at.length; d++) {
                if (reach[d] > 0 && length > 0) {
                    Between moved = between(distance.from(), distance.to(), alone(at.length, d));
                    double part = moved.dot(between.dx / length, between.dy / length, between.dz / length);
                    along += reach[d] * Math.abs(part);
                    across += reach[d] * Math.sqrt(Math.max(0, moved.speed() * moved.speed() - part * part));
                }
            }
            double r = remainder(distance.from()) + remainder(distance.to());
            return Math.hypot(length + along + r, across + r) < distance.leastMm() - ROUNDING
                    || length - along - r > distance.greatestMm() + ROUNDING;
        } else if (limit instanceof Limit.Stop stop) {
            Between between = between(stop.from(), stop.to(), new double[at.length]);
            int fixed = rates.body(stop.to().body());
            Direction line = rates.direction(fixed, stop.along());
            double apart = between.dx * line.x() + between.dy * line.y() + between.dz * line.z();
            double far = between.length();
            for (int d = 0; d < at.length; d++) {
                if (reach[d] > 0) {
                    Between moved = between(stop.from(), stop.to(), alone(at.length, d));
                    apart += reach[d] * Math.abs(moved.dot(line.x(), line.y(), line.z()));
                    far += reach[d] * moved.speed();
                }
            }
            double r = remainder(stop.from()) + remainder(stop.to());
            double turned = (fixed < 0 ? 0 : enclosure.turnRad(fixed)) * (far + r);
            return apart + r + turned < stop.leastMm() - ROUNDING;
        } else if (limit instanceof Limit.Swing swing) {
            return lean(swing) - turned(swing) > swing.mostRad() + ROUNDING;
        }
        throw unknown(limit);
    }

    private static double[] alone(int drivers, int driver) {
        double[] way = new double[drivers];
        way[driver] = 1;
        return way;
    }

    private boolean free(Limit limit, double[] way, double h) {
        if (limit instanceof Limit.Distance distance) {
            Between between = between(distance.from(), distance.to(), way);
            double length = between.length();
            double along = length > 0 ? between.dot(between.dx / length, between.dy / length, between.dz / length) : 0;
            double across = Math.sqrt(Math.max(0, between.speed() * between.speed() - along * along));
            double r = remainder(distance.from()) + remainder(distance.to());
            double least = length - h * Math.abs(along) - r;
            double greatest = Math.hypot(length + h * Math.abs(along) + r, h * across + r);
            return least > distance.leastMm() && greatest < distance.greatestMm();
        } else if (limit instanceof Limit.Stop stop) {
            Between between = between(stop.from(), stop.to(), way);
            int fixed = rates.body(stop.to().body());
            Direction line = rates.direction(fixed, stop.along());
            double apart = between.dx * line.x() + between.dy * line.y() + between.dz * line.z();
            double r = remainder(stop.from()) + remainder(stop.to());
            // The line turns with its body by at most so much, which moves the far end of the distance sideways.
            double turned = (fixed < 0 ? 0 : enclosure.turnRad(fixed)) * (between.length() + h * between.speed() + r);
            return apart - h * Math.abs(between.dot(line.x(), line.y(), line.z())) - r - turned > stop.leastMm();
        } else if (limit instanceof Limit.Swing swing) {
            return free(swing);
        }
        throw unknown(limit);
    }

    /** Where a second spot is from a first, and how fast that changes along a way. */
    private record Between(double dx, double dy, double dz, double vx, double vy, double vz) {
        double length() {
            return Math.sqrt(dx * dx + dy * dy + dz * dz);
        }

        double speed() {
            return Math.sqrt(vx * vx + vy * vy + vz * vz);
        }

        double dot(double x, double y, double z) {
            return vx * x + vy * y + vz * z;
        }
    }

    private Between between(Readout.End first, Readout.End second, double[] way) {
        int a = rates.body(first.body());
        int b = rates.body(second.body());
        Spot from = rates.spot(a, first.at());
        Spot to = rates.spot(b, second.at());
        Rate va = rates.velocity(a, from, way);
        Rate vb = rates.velocity(b, to, way);
        return new Between(
                to.x() - from.x(),
                to.y() - from.y(),
                to.z() - from.z(),
                vb.x() - va.x(),
                vb.y() - va.y(),
                vb.z() - va.z());
    }

    private double remainder(Readout.End end) {
        return remainder(rates.body(end.body()), end.at());
    }

    private double remainder(int body, Spot atRideHeight) {
        return body < 0
                ? 0
                : enclosure.linearRemainderMm(body)
                        + enclosure.turnRemainder(body)
                                * linkage.reference(body).distanceTo(atRideHeight);
    }

    private boolean free(Limit.Swing swing) {
        return lean(swing) + turned(swing) < swing.mostRad();
    }

    /** Returns by how much the lean between stud and housing can change in the last box, rad. */
    private double turned(Limit.Swing swing) {
        int stud = rates.body(swing.studBody());
        int housing = rates.body(swing.housingBody());
        return (stud < 0 ? 0 : enclosure.turnRad(stud)) + (housing < 0 ? 0 : enclosure.turnRad(housing));
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
        String message = outcome.message(lengths);
        if (outcome instanceof Outcome.Binds) {
            return new TravelEnd.Binds(TravelEnd.Why.CANNOT_CLOSE, message);
        } else if (outcome instanceof Outcome.OverCentre) {
            return new TravelEnd.Binds(TravelEnd.Why.OVER_CENTRE, message);
        } else if (outcome instanceof Outcome.TwoAssemblies) {
            return new TravelEnd.Binds(TravelEnd.Why.TWO_ASSEMBLIES, message);
        }
        return new TravelEnd.Binds(
                TravelEnd.Why.NEAR_SINGULAR,
                outcome.solved()
                        ? linkage.mechanism().name() + " hardly holds there (near-singular); further is not proved"
                        : message);
    }

    /** Returns in what way a limit is at its end, at the linkage's last position. */
    String state(Limit limit) {
        if (limit instanceof Limit.Shock shock) {
            double length = length(shock);
            return length - shock.closedMm() < shock.openMm() - length ? "closed" : "fully open";
        } else if (limit instanceof Limit.Strap) {
            return "tight";
        } else if (limit instanceof Limit.Stop stop) {
            return stop.squashMm() > 0 ? "solid" : "met";
        }
        return "leans as far as it can";
    }

    private double length(Limit.Distance distance) {
        return rates.spot(rates.body(distance.from().body()), distance.from().at())
                .distanceTo(rates.spot(
                        rates.body(distance.to().body()), distance.to().at()));
    }

    /** Returns the limits that are overrun at the linkage's last position, by name. */
    List<String> overrun() {
        List<String> names = new ArrayList<>();
        for (Limit limit : limits) {
            // A stop starts with its whole gap; only the others can be past their limit as measured.
            boolean past = limit instanceof Limit.Distance distance
                    ? length(distance) < distance.leastMm() || length(distance) > distance.greatestMm()
                    : limit instanceof Limit.Swing swing && lean(swing) > swing.mostRad();
            if (past) {
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
