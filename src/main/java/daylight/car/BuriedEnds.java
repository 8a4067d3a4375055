package daylight.car;

import daylight.car.Complaint.Kind;
import daylight.geometry.Direction;
import daylight.geometry.Flat;
import daylight.geometry.Gauge;
import daylight.geometry.Pose;
import daylight.geometry.Shape;
import daylight.geometry.Solid;
import daylight.geometry.Spot;
import daylight.units.LengthFormat;
import java.util.Collection;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeSet;

/**
 * Finds hoses whose end lies wholly inside a part as the car stands: a fitting measured wrongly, or a stiff end that
 * was left out.
 *
 * <p>A part is made ready for measuring only when its outline can hold the end at all. The inside of a scan is known
 * where its surface is closed; a mirrored hose is looked at too, unless the one that it mirrors is wrong already.
 */
final class BuriedEnds {
    private final Reading in;
    private final Collection<Car.Part> parts;
    private final Map<String, Car.Hose> hoses;
    private final Map<String, Solid> solids = new HashMap<>();
    private final Gauge gauge = new Gauge();
    /** Hoses with a buried end, with {@code from} or {@code to} behind their names. */
    private final TreeSet<String> found = new TreeSet<>();

    BuriedEnds(Reading in, Collection<Car.Part> parts, Map<String, Car.Hose> hoses) {
        this.in = in;
        this.parts = parts;
        this.hoses = hoses;
    }

    /** Complains about each, at the end's place in the file; at the hose's own where it is a mirror image. */
    void complain(YamlNode.Mapping written) {
        Map<String, YamlNode.Mapping> mirrors = new LinkedHashMap<>();
        for (YamlNode.Entry entry : written.entries()) {
            String name = entry.key().text();
            if (hoses.containsKey(name) && entry.value() instanceof YamlNode.Mapping part) {
                if (part.get("mirror").isPresent()) {
                    mirrors.put(name, part);
                } else if (part.get("hose").orElse(part) instanceof YamlNode.Mapping hose) {
                    ends(
                            name,
                            name,
                            hose.get("from").orElse(hose),
                            hose.get("to").orElse(hose));
                }
            }
        }
        mirrors.forEach((name, part) -> part.get("mirror").ifPresent(of -> {
            String source = of instanceof YamlNode.Scalar scalar ? scalar.text() : name;
            ends(name, source, of, of);
        }));
    }

    private void ends(String name, String source, YamlNode from, YamlNode to) {
        Car.Hose line = hoses.get(name);
        if (line != null) {
            end(name + " from", source + " from", from, "begins", line.from(), line.outsideDiameterMm());
            end(name + " to", source + " to", to, "ends", line.to(), line.outsideDiameterMm());
        }
    }

    private void end(
            String end, String source, YamlNode place, String what, Car.Hose.Fitting fitting, double diameterMm) {
        if (found.contains(source)) {
            return;
        }
        Solid mouth = Solid.of(new Shape.Ball(fitting.mouth(), diameterMm / 2));
        for (Car.Part part : parts) {
            if (!mayHold(part.shape(), fitting.mouth())) {
                continue;
            }
            Solid solid = solids.computeIfAbsent(part.name(), name -> Solid.of(part.shape()));
            double gap = gauge.proximity(mouth, Pose.RIDE_HEIGHT, solid, Pose.RIDE_HEIGHT)
                    .distanceMm();
            if (gap <= -diameterMm) {
                found.add(end);
                in.complain(
                        Kind.CONTRADICTION,
                        place.place(),
                        "the hose " + what + " inside \"" + part.name() + "\", "
                                + LengthFormat.usual(in.unit()).print(-gap - diameterMm / 2) + " deep",
                        "A hose leaves its fitting into the open.",
                        "Measure the fitting again, or write straight: and the length of its own stiff end.");
                return;
            }
        }
    }

    /** Whether a shape can have a spot inside it: false only where it cannot. */
    private static boolean mayHold(Shape shape, Spot spot) {
        if (shape instanceof Shape.Group group) {
            return group.members().stream().anyMatch(member -> mayHold(member, spot));
        } else if (shape instanceof Shape.Ball ball) {
            return spot.distanceTo(ball.centre()) <= ball.radiusMm();
        } else if (shape instanceof Shape.Tube tube) {
            return within(tube.through(), tube.outsideDiameterMm() / 2, spot);
        } else if (shape instanceof Shape.Box box) {
            double halfDiagonal =
                    Math.sqrt(square(box.lengthMm()) + square(box.widthMm()) + square(box.heightMm())) / 2;
            return spot.distanceTo(box.centre()) <= halfDiagonal;
        } else if (shape instanceof Shape.Hull hull) {
            return within(hull.corners(), hull.roundingMm(), spot);
        } else if (shape instanceof Shape.Plate plate) {
            return spot.distanceTo(plate.origin()) <= furthest(plate.outline()) + plate.thicknessMm();
        } else if (shape instanceof Shape.Turned turned) {
            return within(turned, spot);
        } else if (shape instanceof Shape.Mesh mesh) {
            return within(mesh.corners(), 0, spot);
        }
        return true;
    }

    /** A turned part is often long and thin, or flat and wide: its cylinder, not its ball. */
    private static boolean within(Shape.Turned turned, Spot spot) {
        Direction axis = turned.axis();
        double x = spot.x() - turned.centre().x();
        double y = spot.y() - turned.centre().y();
        double z = spot.z() - turned.centre().z();
        double along = x * axis.x() + y * axis.y() + z * axis.z();
        double off = Math.sqrt(Math.max(0, x * x + y * y + z * z - along * along));
        double least = Double.POSITIVE_INFINITY;
        double most = Double.NEGATIVE_INFINITY;
        double radius = 0;
        for (Flat corner : turned.profile()) {
            least = Math.min(least, corner.x());
            most = Math.max(most, corner.x());
            radius = Math.max(radius, corner.y());
        }
        double by = turned.roundingMm();
        return along >= least - by && along <= most + by && off <= radius + by;
    }

    private static boolean within(List<Spot> corners, double by, Spot spot) {
        double[] low = {Double.POSITIVE_INFINITY, Double.POSITIVE_INFINITY, Double.POSITIVE_INFINITY};
        double[] high = {Double.NEGATIVE_INFINITY, Double.NEGATIVE_INFINITY, Double.NEGATIVE_INFINITY};
        for (Spot corner : corners) {
            grow(low, high, 0, corner.x());
            grow(low, high, 1, corner.y());
            grow(low, high, 2, corner.z());
        }
        return spot.x() >= low[0] - by
                && spot.x() <= high[0] + by
                && spot.y() >= low[1] - by
                && spot.y() <= high[1] + by
                && spot.z() >= low[2] - by
                && spot.z() <= high[2] + by;
    }

    private static void grow(double[] low, double[] high, int axis, double value) {
        low[axis] = Math.min(low[axis], value);
        high[axis] = Math.max(high[axis], value);
    }

    private static double furthest(List<Flat> outline) {
        double most = 0;
        for (Flat corner : outline) {
            most = Math.max(most, Math.hypot(corner.x(), corner.y()));
        }
        return most;
    }

    private static double square(double x) {
        return x * x;
    }
}
