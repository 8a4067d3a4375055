package daylight.bench;

import daylight.car.Car;
import daylight.geometry.Direction;
import daylight.geometry.Shape;
import daylight.geometry.Spot;
import daylight.linkage.Mechanism;
import daylight.linkage.Mechanism.Driver;
import daylight.linkage.Mechanism.Joint;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;

/**
 * An invented car of straight movements, whose gaps are known by heart: each front wheel is a ball of radius 300 mm
 * that slides up and down, 50 mm under its fender; the rack slides sideways; the hood turns; the pipe has play.
 */
final class TestCar {
    static final double BUMP_MM = 70;
    static final double DROOP_MM = 80;
    static final double GAP_AT_REST_MM = 50;
    static final double REQUIRED_MM = 12.7;
    static final double PLAY_MM = 5;
    static final double PIPE_GAP_MM = 20;
    static final Path FILE = Path.of("invented.yaml");

    private TestCar() {}

    static OpenCar open() {
        return open(true);
    }

    static OpenCar open(boolean inches) {
        return OpenCar.of(FILE, car(inches));
    }

    static Car car(boolean inches) {
        return new Car(
                "Invented",
                Optional.empty(),
                Optional.empty(),
                inches,
                List.of(),
                List.of(),
                List.of(wheel("left", 1), wheel("right", -1), rack(), hood()),
                List.of(
                        part("left wheel", "front left hub", "tyre", new Shape.Ball(new Spot(0, 700, 300), 300)),
                        part("right wheel", "front right hub", "tyre", new Shape.Ball(new Spot(0, -700, 300), 300)),
                        part("left fender", Mechanism.GROUND, "panel", slab(new Spot(0, 700, 660))),
                        part("right fender", Mechanism.GROUND, "panel", slab(new Spot(0, -700, 660))),
                        part("rack bar", "rack", "steering", bar(new Spot(-900, -200, 300), new Spot(-900, 200, 300))),
                        part("rack stop", Mechanism.GROUND, "frame", new Shape.Ball(new Spot(-900, 290, 300), 20)),
                        part("hood skin", "hood", "panel", slab(new Spot(2000, 0, 900))),
                        part("pipe", "exhaust", "exhaust", bar(new Spot(-3000, -100, 200), new Spot(-3000, 100, 200))),
                        part("floor", Mechanism.GROUND, "panel", slab(new Spot(-3000, 0, 250 + PIPE_GAP_MM - 20)))),
                List.of(new Car.Allowance(
                        "exhaust",
                        Mechanism.GROUND,
                        List.of(new Car.Allowance.Play("up and down", Direction.UP, -PLAY_MM, PLAY_MM)))),
                List.of(new Car.Rule("tyre", "panel", REQUIRED_MM, Optional.empty())),
                List.of());
    }

    private static Mechanism wheel(String side, double sign) {
        String hub = "front " + side + " hub";
        Spot at = new Spot(0, sign * 700, 300);
        return new Mechanism(
                "front " + side,
                List.of(hub),
                List.of(new Joint.Slide("front " + side + " guide", Mechanism.GROUND, hub, at, Direction.UP)),
                List.of(new Driver.Rise("front " + side + " travel", hub, at, -DROOP_MM, BUMP_MM)),
                List.of());
    }

    private static Mechanism rack() {
        return new Mechanism(
                "rack",
                List.of("rack"),
                List.of(new Joint.Slide("rack bush", Mechanism.GROUND, "rack", new Spot(-900, 0, 300), Direction.LEFT)),
                List.of(new Driver.Travel("steer", "rack", Direction.LEFT, -40, 40)),
                List.of());
    }

    private static Mechanism hood() {
        Spot right = new Spot(1500, -300, 900);
        Spot left = new Spot(1500, 300, 900);
        return new Mechanism(
                "hood",
                List.of("hood"),
                List.of(new Joint.Hinge("hood hinge", Mechanism.GROUND, "hood", left, right)),
                List.of(new Driver.Turn("hood opening", "hood", left, right, 0, Math.toRadians(60))),
                List.of());
    }

    private static Car.Part part(String name, String body, String kind, Shape shape) {
        return new Car.Part(name, body, List.of(kind), shape, Optional.empty());
    }

    /** A slab 20 mm thick whose lower face is 10 mm under its middle. */
    private static Shape slab(Spot middle) {
        return new Shape.Box(middle, Direction.FORWARD, Direction.LEFT, 600, 500, 20);
    }

    private static Shape bar(Spot from, Spot to) {
        return new Shape.Tube(List.of(from, to), 40, 0);
    }
}
