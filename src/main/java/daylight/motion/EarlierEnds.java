package daylight.motion;

import daylight.car.Limit;
import daylight.linkage.Linkage;
import daylight.linkage.Mechanism;
import daylight.units.LengthFormat;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/**
 * Cuts the ranges of a mechanism's drivers to where its limits let it go, without losing a position that can be reached.
 *
 * <p>A driver's range ends at a <em>wall</em>: a value at which one limit is proved to be overrun whatever the other
 * drivers are ({@link TravelEnds#overrun}). The car starts at ride height, moves without jumps, and cannot pass a wall,
 * so what lies beyond is never reached; nothing needs to be known of the places beyond. Going out from ride height in
 * {@value #STEPS} steps the first wall is found and closed in to {@link TravelEnds#FINEST}. A limit that depends on
 * two drivers (a shock under a rigid axle) ends each only where it is overrun for every value of the other, so some
 * positions past that limit are kept: too much is searched there, never too little.
 *
 * <p>A limit that is past as the car stands ends nothing; {@code travel} says so. Cost: about forty solutions for each
 * side of a driver that a limit ends, sixteen for one that it does not.
 */
final class EarlierEnds {
    /** Steps from ride height to the stated end at which a first wall is looked for. */
    private static final int STEPS = 16;
    /** Each round may cut the range over which the next has to hold. */
    private static final int ROUNDS = 2;
    /** Halvings of the other drivers' ranges in proving one wall. */
    private static final int MOST_HALVINGS = 64;

    /** Lower and upper ends of each driver. */
    private final double[] low;

    private final double[] high;
    private final Linkage linkage;
    private final List<Limit> limits = new ArrayList<>();
    private final TravelEnds ends;
    private final List<EarlierEnd> found = new ArrayList<>();
    private final double[] centre;
    private final double[] half;
    private int halvings;

    /**
     * Cuts the ranges of a mechanism.
     *
     * @param all the car's limits; those between bodies of other mechanisms are not looked at
     */
    EarlierEnds(Linkage linkage, List<Limit> all) {
        this.linkage = linkage;
        Mechanism mechanism = linkage.mechanism();
        List<Limit> own = all.stream()
                .filter(limit -> TravelEnds.belongsTo(mechanism, limit))
                .toList();
        int drivers = linkage.driverCount();
        this.low = new double[drivers];
        this.high = new double[drivers];
        this.centre = new double[drivers];
        this.half = new double[drivers];
        for (int d = 0; d < drivers; d++) {
            low[d] = mechanism.drivers().get(d).lowest();
            high[d] = mechanism.drivers().get(d).highest();
        }
        // Only what is overrun is asked of it, never its words.
        this.ends = new TravelEnds(linkage, LengthFormat.TENTHS_OF_MM, own);
        for (Limit limit : own) {
            if (!ends.overrun(limit, centre, half)) {
                limits.add(limit);
            }
        }
        for (int round = 0; round < ROUNDS && !limits.isEmpty(); round++) {
            for (int d = 0; d < drivers; d++) {
                cut(d, -1);
                cut(d, 1);
            }
        }
    }

    /** Returns the sides that end earlier than stated. */
    List<EarlierEnd> found() {
        return List.copyOf(found);
    }

    /** Cuts one side of a driver, side -1 or 1, to the nearest wall of any limit. */
    private void cut(int driver, int side) {
        double end = side < 0 ? low[driver] : high[driver];
        double nearest = end;
        Optional<Limit> by = Optional.empty();
        for (Limit limit : limits) {
            if (moves(limit, driver)) {
                double wall = wall(limit, driver, nearest);
                if (Math.abs(wall) < Math.abs(nearest)) {
                    nearest = wall;
                    by = Optional.of(limit);
                }
            }
        }
        if (by.isEmpty()) {
            return;
        }
        // What it is called is read where the others are at ride height, or as near to it as can be said.
        Arrays.fill(centre, 0);
        Arrays.fill(half, 0);
        centre[driver] = nearest;
        ends.overrun(by.get(), centre, half);
        Mechanism.Driver of = linkage.mechanism().drivers().get(driver);
        found.removeIf(e -> e.handle().equals(of.name()) && Math.signum(e.stated()) == side);
        found.add(new EarlierEnd(
                of.name(),
                of instanceof Mechanism.Driver.Turn,
                side < 0 ? of.lowest() : of.highest(),
                nearest,
                new TravelEnd.Met(by.get().name(), ends.state(by.get()))));
        (side < 0 ? low : high)[driver] = nearest;
    }

    private boolean moves(Limit limit, int driver) {
        List<String> bodies = TravelEnds.bodies(limit);
        for (String body : bodies) {
            int index = linkage.bodies().indexOf(body);
            if (index >= 0 && linkage.dependsOn(index, driver)) {
                return true;
            }
        }
        return false;
    }

    /** Returns the first wall of a limit on the way to an end, or the end. */
    private double wall(Limit limit, int driver, double end) {
        double clear = 0;
        for (int step = 1; step <= STEPS; step++) {
            double at = end * step / STEPS;
            if (!isWall(limit, driver, at)) {
                clear = at;
                continue;
            }
            double wall = at;
            while (Math.abs(wall - clear) > TravelEnds.FINEST) {
                double middle = (wall + clear) / 2;
                if (isWall(limit, driver, middle)) {
                    wall = middle;
                } else {
                    clear = middle;
                }
            }
            return wall;
        }
        return end;
    }

    private boolean isWall(Limit limit, int driver, double at) {
        double[] from = low.clone();
        double[] to = high.clone();
        from[driver] = at;
        to[driver] = at;
        for (int d = 0; d < from.length; d++) {
            if (!moves(limit, d)) {
                from[d] = 0;
                to[d] = 0;
            }
        }
        halvings = 0;
        return overrun(limit, from, to);
    }

    /** Whether a limit is proved to be overrun everywhere between two corners of driver values. */
    private boolean overrun(Limit limit, double[] from, double[] to) {
        int widest = 0;
        for (int d = 0; d < from.length; d++) {
            centre[d] = (from[d] + to[d]) / 2;
            half[d] = 0;
            if (to[d] - from[d] > to[widest] - from[widest]) {
                widest = d;
            }
        }
        if (!ends.overrun(limit, centre, half)) {
            return false;
        }
        if (to[widest] == from[widest]) {
            return true;
        }
        for (int d = 0; d < from.length; d++) {
            half[d] = (to[d] - from[d]) / 2;
        }
        if (ends.overrun(limit, centre, half)) {
            return true;
        }
        if (++halvings > MOST_HALVINGS) {
            return false;
        }
        double middle = (from[widest] + to[widest]) / 2;
        double[] below = to.clone();
        below[widest] = middle;
        double[] above = from.clone();
        above[widest] = middle;
        return overrun(limit, from, below) && overrun(limit, above, to);
    }
}
