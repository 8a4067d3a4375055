package daylight.motion;

import daylight.car.Car;
import daylight.car.Limit;
import daylight.geometry.Direction;
import daylight.linkage.Linkage;
import daylight.linkage.Mechanism;
import daylight.units.LengthFormat;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Finds how far each movement of a car really goes: each handle alone, both wheels of one mechanism together and one
 * against the other, and the steering at the ends of the travel.
 */
final class RangeFinder {
    /** Part of a unit axis from which an axis counts as upright. */
    private static final double UPRIGHT = 0.7;

    private final Car car;
    private final CarStand stand;
    private final List<WheelStation.Axle> axles;
    private final List<String> cautions;
    private final Map<String, RealRange> ranges = new LinkedHashMap<>();
    private final Map<Linkage, TravelEnds> ends = new LinkedHashMap<>();

    /**
     * @param cautions receives what to look at
     */
    RangeFinder(Car car, CarStand stand, List<WheelStation.Axle> axles, List<String> cautions) {
        this.car = car;
        this.stand = stand;
        this.axles = axles;
        this.cautions = cautions;
    }

    /** Returns the ranges in the order of the car's handles, then axles, then steering at the ends. */
    List<RealRange> ranges() {
        return List.copyOf(ranges.values());
    }

    /** Finds all ranges; adds a caution about each limit that ends nothing or is past. */
    void find() {
        List<Limit> unused = new ArrayList<>(car.limits());
        for (Linkage linkage : stand.linkages()) {
            List<Limit> own = car.limits().stream()
                    .filter(limit -> TravelEnds.belongsTo(linkage.mechanism(), limit))
                    .toList();
            unused.removeAll(own);
            TravelEnds engine = new TravelEnds(linkage, LengthFormat.fine(car.unit()), own);
            ends.put(linkage, engine);
            if (stand.stand(linkage)) {
                engine.overrun()
                        .forEach(
                                name -> cautions.add(name + " is past its limit as the car stands: measure it again."));
            }
        }
        unused.forEach(limit -> cautions.add(limit.name()
                + " lies between bodies of two mechanisms, or of none that moves; it ends no travel here."));
        Map<String, List<Linkage>> movers = new LinkedHashMap<>();
        for (Linkage linkage : stand.linkages()) {
            linkage.driverNames()
                    .forEach(name ->
                            movers.computeIfAbsent(name, k -> new ArrayList<>()).add(linkage));
        }
        movers.forEach((handle, linkages) -> {
            List<Way> ways = linkages.stream()
                    .map(linkage -> new Way(linkage, CarStand.way(linkage, handle, 1)))
                    .toList();
            range(handle, directions(handle, linkages.get(0)), ways, handleOf(handle, linkages));
        });
        for (WheelStation.Axle axle : axles) {
            if (axle.oneLinkage()) {
                Linkage linkage = axle.left().linkage;
                double[] up = heave(axle);
                range(
                        bothWheels(axle),
                        new RealRange.Ways("bump", "droop"),
                        List.of(new Way(linkage, up)),
                        together(axle, 1));
                range(
                        rollOf(axle),
                        new RealRange.Ways("left wheel up", "right wheel up"),
                        List.of(new Way(linkage, rolling(axle))),
                        together(axle, -1));
            }
        }
        axles.forEach(this::steeringAtTheEnds);
    }

    /**
     * The steering's range where the wheels of an axle are at an end of their travel. Only what ends steering counts:
     * steering stops, leaning joints, and binding; a shock or stop that ends the travel is at its limit there anyway.
     */
    private void steeringAtTheEnds(WheelStation.Axle axle) {
        Optional<String> handle = axle.left().wheel.steer();
        if (handle.isEmpty() || !handle.equals(axle.right().wheel.steer())) {
            return;
        }
        List<Linkage> linkages =
                axle.oneLinkage() ? List.of(axle.left().linkage) : List.of(axle.left().linkage, axle.right().linkage);
        Handle stated = handleOf(handle.get(), linkages);
        RealRange left = travelOf(axle.left());
        RealRange right = travelOf(axle.right());
        double bump = Math.min(left.highest(), right.highest());
        double droop = Math.max(left.lowest(), right.lowest());
        for (double height : new double[] {bump, droop}) {
            if (height == 0) {
                continue;
            }
            String movement = handle.get() + " at full " + (height > 0 ? "bump" : "droop");
            TravelEnd[] found = {
                new TravelEnd(-stated.lowest(), new TravelEnd.Stated()),
                new TravelEnd(stated.highest(), new TravelEnd.Stated())
            };
            for (Linkage linkage : linkages) {
                double[] start = new double[linkage.driverCount()];
                for (WheelStation station : List.of(axle.left(), axle.right())) {
                    int d = linkage.driverNames().indexOf(station.wheel.travel());
                    if (d >= 0) {
                        start[d] = height;
                    }
                }
                TravelEnds engine = new TravelEnds(linkage, LengthFormat.fine(car.unit()), endsOfSteering(linkage));
                for (int side = 0; side < 2; side++) {
                    double[] way = CarStand.way(linkage, handle.get(), side == 0 ? -1 : 1);
                    TravelEnd end = engine.end(start, way, side == 0 ? -stated.lowest() : stated.highest());
                    if (end.at() < found[side].at()) {
                        found[side] = end;
                    }
                }
            }
            ranges.put(
                    movement,
                    new RealRange(
                            movement,
                            directions(handle.get(), linkages.get(0)),
                            stated.turns(),
                            new RealRange.Stated(stated.lowest(), stated.highest()),
                            found[0],
                            found[1]));
        }
    }

    private List<Limit> endsOfSteering(Linkage linkage) {
        return car.limits().stream()
                .filter(limit -> TravelEnds.belongsTo(linkage.mechanism(), limit)
                        && (limit instanceof Limit.Swing || (limit instanceof Limit.Stop stop && stop.steering())))
                .toList();
    }

    /** A way of one linkage. */
    private record Way(Linkage linkage, List<Double> parts) {
        Way(Linkage linkage, double[] way) {
            this(linkage, java.util.Arrays.stream(way).boxed().toList());
        }

        double[] array(double sign) {
            return parts.stream().mapToDouble(p -> sign * p).toArray();
        }
    }

    static String bothWheels(WheelStation.Axle axle) {
        return axle.left().linkage.mechanism().name() + ", both wheels";
    }

    static String rollOf(WheelStation.Axle axle) {
        return axle.left().linkage.mechanism().name() + " in roll";
    }

    static double[] heave(WheelStation.Axle axle) {
        Linkage linkage = axle.left().linkage;
        return CarStand.sum(
                CarStand.way(linkage, axle.left().wheel.travel(), 1),
                CarStand.way(linkage, axle.right().wheel.travel(), 1));
    }

    static double[] rolling(WheelStation.Axle axle) {
        Linkage linkage = axle.left().linkage;
        return CarStand.sum(
                CarStand.way(linkage, axle.left().wheel.travel(), 1),
                CarStand.way(linkage, axle.right().wheel.travel(), -1));
    }

    /** A handle's stated range is what all its mechanisms allow. */
    private static Handle handleOf(String name, List<Linkage> linkages) {
        double lowest = Double.NEGATIVE_INFINITY;
        double highest = Double.POSITIVE_INFINITY;
        boolean turns = false;
        for (Linkage linkage : linkages) {
            int d = linkage.driverNames().indexOf(name);
            lowest = Math.max(lowest, linkage.lowest(d));
            highest = Math.min(highest, linkage.highest(d));
            turns |= linkage.mechanism().drivers().get(d) instanceof Mechanism.Driver.Turn;
        }
        return new Handle(name, lowest, highest, turns);
    }

    private static Handle together(WheelStation.Axle axle, double sign) {
        Handle left = handleOf(axle.left().wheel.travel(), List.of(axle.left().linkage));
        Handle right = handleOf(axle.right().wheel.travel(), List.of(axle.right().linkage));
        double lowest = Math.max(left.lowest(), sign > 0 ? right.lowest() : 0.0 - right.highest());
        double highest = Math.min(left.highest(), sign > 0 ? right.highest() : 0.0 - right.lowest());
        return new Handle(sign > 0 ? bothWheels(axle) : rollOf(axle), lowest, highest, false);
    }

    /** Returns what the directions of a handle are called. */
    private static RealRange.Ways directions(String handle, Linkage linkage) {
        Mechanism.Driver driver =
                linkage.mechanism().drivers().get(linkage.driverNames().indexOf(handle));
        if (driver instanceof Mechanism.Driver.Rise) {
            return new RealRange.Ways("bump", "droop");
        } else if (driver instanceof Mechanism.Driver.RodLength) {
            return new RealRange.Ways("longer", "shorter");
        } else if (driver instanceof Mechanism.Driver.Travel travel) {
            Direction along = travel.along();
            String what = travel.body().substring(travel.body().lastIndexOf(' ') + 1);
            if (Math.abs(along.y()) > Math.max(Math.abs(along.x()), Math.abs(along.z()))) {
                return along.y() > 0
                        ? new RealRange.Ways(what + " to the left", what + " to the right")
                        : new RealRange.Ways(what + " to the right", what + " to the left");
            }
            return new RealRange.Ways(what + " on", what + " back");
        }
        if (driver instanceof Mechanism.Driver.Turn turn
                && driver.lowest() < 0
                && Math.abs(Direction.from(turn.first(), turn.second()).z()) > UPRIGHT) {
            // By the right-hand rule about an axis that points up, positive is to the left.
            return turn.second().z() > turn.first().z()
                    ? new RealRange.Ways("to the left", "to the right")
                    : new RealRange.Ways("to the right", "to the left");
        }
        return driver.lowest() == 0 || driver.highest() == 0
                ? new RealRange.Ways("", "")
                : new RealRange.Ways("one way", "the other way");
    }

    private void range(String movement, RealRange.Ways directions, List<Way> ways, Handle stated) {
        ranges.put(
                movement,
                new RealRange(
                        movement,
                        directions,
                        stated.turns(),
                        new RealRange.Stated(stated.lowest(), stated.highest()),
                        first(ways, -1, -stated.lowest()),
                        first(ways, 1, stated.highest())));
    }

    private TravelEnd first(List<Way> ways, double sign, double stated) {
        TravelEnd first = new TravelEnd(stated, new TravelEnd.Stated());
        for (Way way : ways) {
            TravelEnd end = engine(way.linkage()).end(way.array(sign), stated);
            if (end.at() < first.at() || (end.at() == first.at() && !(end.cause() instanceof TravelEnd.Stated))) {
                first = end;
            }
        }
        return first;
    }

    private TravelEnds engine(Linkage linkage) {
        TravelEnds engine = ends.get(linkage);
        if (engine == null) {
            throw new IllegalStateException(
                    "no ends are known for " + linkage.mechanism().name());
        }
        return engine;
    }

    /** Returns the axle that a wheel is on, if there is a wheel on the other side. */
    Optional<WheelStation.Axle> axleOf(WheelStation station) {
        return axles.stream()
                .filter(a -> a.left() == station || a.right() == station)
                .findFirst();
    }

    /** Returns the range of a movement that has been found. */
    RealRange rangeOf(String movement) {
        RealRange range = ranges.get(movement);
        if (range == null) {
            throw new IllegalStateException("no range is known for " + movement);
        }
        return range;
    }

    /** The travel of a wheel with its partner at the same height, where it has one. */
    RealRange travelOf(WheelStation station) {
        Optional<WheelStation.Axle> axle = axleOf(station);
        return axle.isPresent() && axle.get().oneLinkage()
                ? rangeOf(bothWheels(axle.get()))
                : rangeOf(station.wheel.travel());
    }
}
