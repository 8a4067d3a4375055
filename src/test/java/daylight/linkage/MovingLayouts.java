package daylight.linkage;

import daylight.car.Car;
import daylight.car.CarFile;
import daylight.car.CarFileException;
import daylight.car.Layout;
import daylight.car.Layouts;
import daylight.geometry.Direction;
import daylight.geometry.Spot;
import daylight.linkage.Mechanism.Driver;
import daylight.linkage.Mechanism.Follower;
import daylight.linkage.Mechanism.Joint;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.function.UnaryOperator;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** The worked example of every layout as a mechanism that moves; what hangs on others hangs on a swinging arm. */
final class MovingLayouts {
    /** How far an arm takes what hangs on it: no drop link is so short that it would be pulled straight. */
    private static final double GREATEST_MOVE_MM = 40;

    private MovingLayouts() {}

    static Stream<String> names() {
        return Layouts.names().stream();
    }

    static Mechanism of(String name) {
        Layout layout = Layouts.named(name).orElseThrow();
        if (layout.carriers().isEmpty()) {
            return layout.exampleMechanism();
        }
        try {
            Car car = CarFile.read(name + ".yaml", onAnArm(layout));
            return car.mechanisms().stream()
                    .filter(mechanism -> mechanism.bodies().size() > 1)
                    .findFirst()
                    .orElseThrow();
        } catch (CarFileException e) {
            throw new AssertionError(e.getMessage(), e);
        }
    }

    /** A car with an arm that swings about a line along the car beside the layout's points, and the layout on it. */
    private static String onAnArm(Layout layout) {
        Map<String, Spot> points = layout.example().points();
        double x = points.values().stream().mapToDouble(Spot::x).average().orElseThrow();
        double y = points.values().stream().mapToDouble(Spot::y).min().orElseThrow();
        double z = points.values().stream().mapToDouble(Spot::z).average().orElseThrow();
        double furthest = points.values().stream()
                .mapToDouble(p -> Math.hypot(p.y() - y + 150, p.z() - z - 30))
                .max()
                .orElseThrow();
        double swing = Math.toDegrees(GREATEST_MOVE_MM / furthest);
        // Of a shock only one end moves, or it would not change its length.
        String carrier = layout.carriers().stream()
                .filter(c -> !c.equals("upper mount"))
                .map(c -> c + ": arm arm")
                .collect(Collectors.joining(", "));
        String measured = points.entrySet().stream()
                .map(e -> String.format(
                        Locale.ROOT,
                        "  %s: [%s, %s, %s]%n",
                        e.getKey(),
                        e.getValue().x(),
                        e.getValue().y(),
                        e.getValue().z()))
                .collect(Collectors.joining());
        String limits = layout.limits().keySet().stream()
                .map(limit -> ", " + limit + ": " + layout.example().limits().get(limit))
                .collect(Collectors.joining());
        return String.format(
                Locale.ROOT,
                """
                daylight: 1
                car: Test
                units: mm
                points:
                  arm axis start: [%s, %s, %s]
                  arm axis end: [%s, %s, %s]
                %smechanisms:
                  arm: {layout: plain-swing, forward: %s deg, back: %s deg}
                  %s: {layout: %s, prefix: none, on: {%s}%s}
                """,
                x - 40,
                y - 160,
                z + 30,
                x + 60,
                y - 150,
                z + 35,
                measured,
                swing,
                0.9 * swing,
                "hung",
                layout.name(),
                carrier,
                limits);
    }

    /** The same mechanism of other spots and directions. */
    static Mechanism with(Mechanism m, UnaryOperator<Spot> spot, UnaryOperator<Direction> way, boolean mirrors) {
        Map<Spot, Spot> known = new LinkedHashMap<>();
        UnaryOperator<Spot> at = s -> known.computeIfAbsent(s, spot);
        return new Mechanism(
                m.name(),
                m.bodies(),
                m.joints().stream().map(j -> joint(j, at, way)).toList(),
                m.drivers().stream().map(d -> driver(d, at, way, mirrors)).toList(),
                m.followers().stream()
                        .map(f -> (Follower.Aim) f)
                        .map(f -> (Follower)
                                new Follower.Aim(f.body(), f.bodyA(), at.apply(f.onA()), f.bodyB(), at.apply(f.onB())))
                        .toList());
    }

    static Mechanism mirrored(Mechanism m) {
        return with(m, Spot::mirrored, Direction::mirrored, true);
    }

    private static Joint joint(Joint joint, UnaryOperator<Spot> at, UnaryOperator<Direction> way) {
        if (joint instanceof Joint.Ball j) {
            return new Joint.Ball(j.name(), j.bodyA(), j.bodyB(), at.apply(j.at()));
        } else if (joint instanceof Joint.Hinge j) {
            return new Joint.Hinge(j.name(), j.bodyA(), j.bodyB(), at.apply(j.first()), at.apply(j.second()));
        } else if (joint instanceof Joint.Rod j) {
            return new Joint.Rod(
                    j.name(), j.bodyA(), at.apply(j.onA()), j.bodyB(), at.apply(j.onB()), j.sharing(), j.stiffness());
        } else if (joint instanceof Joint.Slide j) {
            return new Joint.Slide(j.name(), j.bodyA(), j.bodyB(), at.apply(j.at()), way.apply(j.along()));
        } else if (joint instanceof Joint.Guide j) {
            return new Joint.Guide(
                    j.name(),
                    j.bodyA(),
                    at.apply(j.spotOfA()),
                    j.bodyB(),
                    at.apply(j.onLineOfB()),
                    way.apply(j.alongB()));
        } else if (joint instanceof Joint.Plane j) {
            return new Joint.Plane(
                    j.name(),
                    j.bodyA(),
                    at.apply(j.spotOfA()),
                    j.bodyB(),
                    way.apply(j.normalB()),
                    j.sharing(),
                    j.stiffness());
        } else if (joint instanceof Joint.Leaf j) {
            return new Joint.Leaf(j.name(), j.bodyA(), at.apply(j.pad()), j.bodyB(), at.apply(j.eye()), j.model());
        }
        throw new AssertionError(joint);
    }

    private static Driver driver(Driver driver, UnaryOperator<Spot> at, UnaryOperator<Direction> way, boolean mirrors) {
        if (driver instanceof Driver.Rise d) {
            return new Driver.Rise(d.name(), d.body(), at.apply(d.spot()), d.lowest(), d.highest());
        } else if (driver instanceof Driver.Travel d) {
            return new Driver.Travel(d.name(), d.body(), way.apply(d.along()), d.lowest(), d.highest());
        } else if (driver instanceof Driver.Turn d) {
            // A turn seen in a mirror goes the other way round.
            Spot first = at.apply(mirrors ? d.second() : d.first());
            Spot second = at.apply(mirrors ? d.first() : d.second());
            return new Driver.Turn(d.name(), d.body(), first, second, d.lowest(), d.highest());
        } else if (driver instanceof Driver.RodLength d) {
            return d;
        }
        throw new AssertionError(driver);
    }
}
