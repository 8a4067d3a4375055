package daylight.survey;

import daylight.car.Measurement;
import daylight.car.MeasuringSheet;
import daylight.geometry.Direction;
import daylight.geometry.Spot;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Turns a measuring sheet into a network: each written coordinate, each reading and each mirror becomes an
 * {@link Observation} with its uncertainty.
 *
 * <p>How good a length is: what the reading itself says, else what the file says for all ({@code within:}), else
 * {@link MeasuringDefaults}. Angles, mirrors and rims: what they say themselves, else the defaults. A half width counts
 * as equally likely anywhere within it.
 *
 * <p>Gaps between parts follow from the whole car, not from a few points: {@link CountedGaps} adds those that count,
 * and {@code daylight.clearance} compares them all.
 */
final class CarNetwork {
    private final MeasuringSheet sheet;
    private final MeasuringDefaults defaults;
    private final Map<String, MeasuringSheet.Entry> entries = new HashMap<>();
    private final List<Observation> observations = new ArrayList<>();

    private CarNetwork(MeasuringSheet sheet, MeasuringDefaults defaults) {
        this.sheet = sheet;
        this.defaults = defaults;
        sheet.points().forEach(entry -> entries.put(entry.name(), entry));
    }

    /** Returns the network of a sheet. */
    static Network of(MeasuringSheet sheet, MeasuringDefaults defaults) {
        return new CarNetwork(sheet, defaults).network();
    }

    private Network network() {
        List<SurveyPoint> points = new ArrayList<>();
        for (MeasuringSheet.Entry entry : sheet.points()) {
            points.add(new SurveyPoint.Sought(entry.name(), guess(entry.name())));
            coordinates(entry);
        }
        sheet.readings().forEach(this::add);
        return new Network(
                points, observations, sheet.inches() ? Network.Graduation.INCHES : Network.Graduation.MILLIMETRES);
    }

    private void coordinates(MeasuringSheet.Entry entry) {
        String name = entry.name();
        double u = MeasuringDefaults.rectangular(entry.withinMm());
        if (entry.written() instanceof MeasuringSheet.Written.At written) {
            for (Axis axis : Axis.values()) {
                observations.add(new Observation.Coordinate(
                        name + ": " + shortWord(axis), name, axis, 0, axis.of(written.at()), u));
            }
        } else if (entry.written() instanceof MeasuringSheet.Written.From from) {
            for (Axis axis : Axis.values()) {
                observations.add(new Observation.AxisDistance(
                        name + " from " + from.point() + ": " + shortWord(axis),
                        from.point(),
                        name,
                        axis,
                        axis.of(from.by()),
                        u));
            }
        } else if (entry.written() instanceof MeasuringSheet.Written.ImageOf image) {
            observations.add(new Observation.Mirror(
                    image.point() + " and " + name + " alike", image.point(), name, defaults.mirrorUMm()));
        }
    }

    private static String shortWord(Axis axis) {
        return switch (axis) {
            case FORWARD -> "ahead";
            case LEFT -> "left";
            case UP -> "up";
        };
    }

    /** A start, and what decides between two places that fit equally well. */
    private Optional<Spot> guess(String name) {
        MeasuringSheet.Entry entry = entries.get(name);
        if (entry == null) {
            return Optional.empty();
        }
        if (entry.written() instanceof MeasuringSheet.Written.At at) {
            return Optional.of(at.at());
        } else if (entry.written() instanceof MeasuringSheet.Written.From from) {
            return from.point().equals(name)
                    ? Optional.empty()
                    : guess(from.point())
                            .map(spot -> spot.plus(
                                    from.by().x(), from.by().y(), from.by().z()));
        } else if (entry.written() instanceof MeasuringSheet.Written.ImageOf image) {
            return guess(image.point()).map(Spot::mirrored);
        } else if (entry.written() instanceof MeasuringSheet.Written.ByTape tape) {
            return tape.near().or(() -> outboardEnd(name));
        }
        return Optional.empty();
    }

    /** The outboard end of a wheel's axis is outboard of its rim, where the rim's points are written. */
    private Optional<Spot> outboardEnd(String name) {
        for (Measurement reading : sheet.readings()) {
            if (reading instanceof Measurement.Rim rim && rim.axisEnd().equals(name)) {
                List<Spot> edge = rim.edge().stream()
                        .filter(point -> !point.equals(name))
                        .map(this::guess)
                        .flatMap(Optional::stream)
                        .toList();
                if (edge.size() >= 2) {
                    double y = edge.stream().mapToDouble(Spot::y).average().orElse(0);
                    double x = edge.stream().mapToDouble(Spot::x).average().orElse(0);
                    double z = edge.stream().mapToDouble(Spot::z).average().orElse(0);
                    Spot middle = new Spot(x, y, z);
                    return Optional.of(middle.plus(0, Math.signum(y) * middle.distanceTo(edge.get(0)), 0));
                }
            }
        }
        return Optional.empty();
    }

    private void add(Measurement reading) {
        String name = reading.name();
        if (reading instanceof Measurement.Distance d) {
            observations.add(new Observation.Distance(
                    name, d.from(), d.to(), d.readsMm(), length(d, defaults.distanceUMm(d.readsMm()))));
        } else if (reading instanceof Measurement.Offset o) {
            double u = length(o, defaults.offsetUMm(o.readsMm()));
            Axis axis = axis(o.along());
            if (o.of().isPresent()) {
                observations.add(new Observation.AxisDistance(name, o.of().get(), o.point(), axis, o.readsMm(), u));
            } else if (axis == Axis.UP) {
                observations.add(new Observation.Height(name, o.point(), o.readsMm(), u));
            } else {
                observations.add(new Observation.Coordinate(name, o.point(), axis, 0, o.readsMm(), u));
            }
        } else if (reading instanceof Measurement.FromLine f) {
            observations.add(new Observation.LineOffset(
                    name, f.point(), f.first(), f.second(), f.readsMm(), length(f, defaults.distanceUMm(f.readsMm()))));
        } else if (reading instanceof Measurement.FromPlane f) {
            observations.add(new Observation.PlaneOffset(
                    name,
                    f.point(),
                    f.first(),
                    f.second(),
                    f.third(),
                    f.readsMm(),
                    length(f, defaults.distanceUMm(f.readsMm()))));
        } else if (reading instanceof Measurement.Level l) {
            observations.add(new Observation.LevelAngle(name, l.from(), l.to(), l.readsRad(), angle(l)));
        } else if (reading instanceof Measurement.LevelOn l) {
            Direction along = l.along() == Measurement.Along.LEFT ? Direction.LEFT : Direction.FORWARD;
            observations.add(
                    new Observation.PlaneSlope(name, l.first(), l.second(), l.third(), along, l.readsRad(), angle(l)));
        } else if (reading instanceof Measurement.PlumbOn p) {
            observations.add(new Observation.PlaneLean(name, p.first(), p.second(), p.third(), p.readsRad(), angle(p)));
        } else if (reading instanceof Measurement.Mirror m) {
            observations.add(new Observation.Mirror(name, m.left(), m.right(), own(m, defaults.mirrorUMm())));
        } else if (reading instanceof Measurement.Middle m) {
            observations.add(
                    new Observation.Midpoint(name, m.middle(), m.first(), m.second(), own(m, defaults.rimUMm())));
        } else if (reading instanceof Measurement.Rim r) {
            rim(r);
        }
    }

    private void rim(Measurement.Rim rim) {
        double u = own(rim, defaults.rimUMm());
        observations.add(new Observation.WheelRim(rim.name(), rim.centre(), rim.axisEnd(), rim.edge(), u));
        if (rim.edge().size() == 2) {
            observations.add(new Observation.Midpoint(
                    rim.name() + ": middle",
                    rim.centre(),
                    rim.edge().get(0),
                    rim.edge().get(1),
                    u));
        }
        // A top that leans out turns the outboard end of the axis down.
        rim.camberRad()
                .ifPresent(camber -> observations.add(new Observation.LevelAngle(
                        rim.name() + ": camber", rim.centre(), rim.axisEnd(), 0.0 - camber, defaults.angleURad())));
    }

    private double length(Measurement reading, double otherwise) {
        return reading.within()
                .or(sheet::withinMm)
                .map(MeasuringDefaults::rectangular)
                .orElse(otherwise);
    }

    private double angle(Measurement reading) {
        return own(reading, defaults.angleURad());
    }

    private static double own(Measurement reading, double otherwise) {
        return reading.within().map(MeasuringDefaults::rectangular).orElse(otherwise);
    }

    private static Axis axis(Measurement.Along along) {
        return switch (along) {
            case AHEAD -> Axis.FORWARD;
            case LEFT -> Axis.LEFT;
            case UP -> Axis.UP;
        };
    }
}
