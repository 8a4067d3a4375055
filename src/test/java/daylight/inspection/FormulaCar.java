package daylight.inspection;

import daylight.car.Car;
import daylight.car.RuleLists;
import daylight.geometry.Direction;
import daylight.geometry.Shape;
import daylight.geometry.Spot;
import daylight.linkage.Mechanism;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** A car of which everything can be worked out on paper: four wheels on upright slides, and posts that hang down. */
final class FormulaCar {
    static final double WHEELBASE_MM = 2500;
    static final double TRACK_MM = 1500;
    /** Loaded radius: height of the wheel centres. */
    static final double TYRE_MM = 300;

    static final double RIM_MM = 200;
    static final double BUMP_MM = 80;
    static final double DROOP_MM = 90;

    private FormulaCar() {}

    /** A post of negligible size that hangs down to a spot, on the chassis. */
    static Car.Part post(String name, double x, double y, double z) {
        return new Car.Part(
                name,
                Mechanism.GROUND,
                List.of("frame"),
                new Shape.Hull(List.of(new Spot(x, y, z), new Spot(x, y, z + 100)), 0),
                Optional.empty());
    }

    static Car of(Car.Part... parts) {
        List<Mechanism> mechanisms = new ArrayList<>();
        List<Car.Wheel> wheels = new ArrayList<>();
        for (String end : List.of("front", "rear")) {
            for (String side : List.of("left", "right")) {
                String name = side + " " + end;
                Spot centre = new Spot(
                        end.equals("front") ? 0 : -WHEELBASE_MM,
                        side.equals("left") ? TRACK_MM / 2 : -TRACK_MM / 2,
                        TYRE_MM);
                mechanisms.add(new Mechanism(
                        name,
                        List.of(name + " upright"),
                        List.of(new Mechanism.Joint.Slide(
                                name + " pillar", Mechanism.GROUND, name + " upright", centre, Direction.UP)),
                        List.of(new Mechanism.Driver.Rise(
                                name + " travel", name + " upright", centre, -DROOP_MM, BUMP_MM)),
                        List.of()));
                wheels.add(new Car.Wheel(
                        name + " tyre",
                        name + " upright",
                        centre,
                        side.equals("left") ? Direction.LEFT : Direction.LEFT.reversed(),
                        2 * TYRE_MM,
                        200,
                        2 * RIM_MM));
            }
        }
        return new Car(
                        "formula car",
                        Optional.empty(),
                        Optional.empty(),
                        false,
                        List.of(),
                        List.of(),
                        mechanisms,
                        List.of(parts),
                        List.of(),
                        List.of(),
                        List.of())
                .withWheels(wheels)
                .heldTo(RuleLists.shipped());
    }
}
