package daylight.car;

import daylight.geometry.Direction;
import daylight.geometry.Spot;
import daylight.linkage.Mechanism;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Makes readouts and limits of a layout's words and a car's points. */
final class ReadoutMaker {
    private final Layout layout;
    private final String mechanism;
    private final Map<String, Spot> spots;
    private final Map<String, String> on;
    private final boolean mirrored;

    ReadoutMaker(Layout layout, String mechanism, Map<String, Spot> spots, Map<String, String> on, boolean mirrored) {
        this.layout = layout;
        this.mechanism = mechanism;
        this.spots = spots;
        this.on = on;
        this.mirrored = mirrored;
    }

    List<Readout> readouts() {
        List<Readout> made = new ArrayList<>();
        for (LayoutReadout readout : layout.readouts()) {
            if (spots.keySet().containsAll(readout.points())) {
                made.add(readout(readout));
            }
        }
        return made;
    }

    List<Limit> limits(Map<String, Double> values) {
        List<Limit> made = new ArrayList<>();
        for (LayoutReadout readout : layout.readouts()) {
            if (readout instanceof LayoutReadout.Length length
                    && spots.keySet().containsAll(length.points())
                    && length.closed().isPresent()
                    && length.open().isPresent()) {
                Double closed = values.get(length.closed().get());
                Double open = values.get(length.open().get());
                if (closed != null && open != null && closed < open) {
                    made.add(new Limit.Shock(name(length), end(length.from()), end(length.to()), closed, open));
                }
            }
        }
        return made;
    }

    private Readout readout(LayoutReadout readout) {
        String name = name(readout);
        if (readout instanceof LayoutReadout.Wheel wheel) {
            return wheel(name, wheel);
        } else if (readout instanceof LayoutReadout.Length length) {
            return new Readout.Length(name, end(length.from()), end(length.to()), length.shock());
        } else if (readout instanceof LayoutReadout.Shaft shaft) {
            return has(shaft.fromAxis()) && has(shaft.toAxis())
                    ? new Readout.Shaft(
                            name,
                            end(shaft.from()),
                            direction(shaft.fromAxis()),
                            end(shaft.to()),
                            direction(shaft.toAxis()))
                    : new Readout.Length(name, end(shaft.from()), end(shaft.to()), false);
        } else if (readout instanceof LayoutReadout.Twist twist) {
            return new Readout.Twist(name, body(twist.first()), body(twist.second()), direction(twist.axis()));
        } else if (readout instanceof LayoutReadout.Tilt tilt) {
            return new Readout.Tilt(name, body(tilt.body()), direction(tilt.along()));
        }
        throw new IllegalStateException("a readout of no known kind: " + readout + ". Please report this.");
    }

    private Readout wheel(String name, LayoutReadout.Wheel wheel) {
        Spot centre = spot(wheel.centre());
        Direction out = centre.y() < 0 ? Direction.LEFT.reversed() : Direction.LEFT;
        if (spots.keySet().containsAll(wheel.spindle()) && wheel.spindle().size() == 2) {
            Direction along = Direction.from(
                    spot(wheel.spindle().get(0)), spot(wheel.spindle().get(1)));
            out = along.dot(out) < 0 ? along.reversed() : along;
        }
        return new Readout.Wheel(
                name,
                body(wheel.body()),
                centre,
                out,
                wheel.axis().isEmpty()
                        ? Optional.empty()
                        : Optional.of(new Readout.SteeringAxis(
                                end(wheel.axis().get(0)), end(wheel.axis().get(1)))),
                driver(wheel.travel()),
                wheel.steer().map(this::driver));
    }

    /** A mechanism that is one shock or one shaft is that thing: it has its name, without the word again. */
    private String name(LayoutReadout readout) {
        boolean isAlone = layout.readouts().size() == 1 && !layout.carriers().isEmpty();
        boolean isThing = readout instanceof LayoutReadout.Length || readout instanceof LayoutReadout.Shaft;
        return (isAlone && isThing) || mechanism.endsWith(readout.name())
                ? mechanism
                : mechanism + " " + readout.name();
    }

    private String driver(String name) {
        return layout.drivers().stream()
                .filter(driver -> driver.name().equals(name))
                .findFirst()
                .flatMap(Layout.Driver::shared)
                .orElse(mechanism + " " + name);
    }

    private String body(String body) {
        if (body.equals(Mechanism.GROUND)) {
            return body;
        }
        return layout.carriers().contains(body) ? on.getOrDefault(body, Mechanism.GROUND) : mechanism + " " + body;
    }

    private Readout.End end(LayoutReadout.Place place) {
        return new Readout.End(body(place.body()), spot(place.point()));
    }

    private Spot spot(String point) {
        Spot spot = spots.get(point);
        if (spot == null) {
            throw new IllegalArgumentException(mechanism + ": point \"" + point + "\" is not given");
        }
        return spot;
    }

    private boolean has(Layout.Along along) {
        return !(along instanceof Layout.Along.Between between)
                || (spots.containsKey(between.from()) && spots.containsKey(between.to()));
    }

    private Direction direction(Layout.Along along) {
        if (along instanceof Layout.Along.Between between) {
            return Direction.from(spot(between.from()), spot(between.to()));
        }
        Direction direction = ((Layout.Along.Fixed) along).direction();
        return mirrored ? direction.mirrored() : direction;
    }
}
