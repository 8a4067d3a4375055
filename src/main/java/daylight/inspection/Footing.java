package daylight.inspection;

import daylight.car.Car;
import daylight.geometry.Direction;
import daylight.geometry.RestingPlane;
import daylight.geometry.RestingPlane.Disc;
import daylight.geometry.RestingPlane.Plane;
import daylight.geometry.Spot;
import daylight.linkage.Mechanism;
import daylight.motion.Handle;
import daylight.motion.Workspace;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/** What a car stands on: its wheels as discs, which of them make an axle, and the handles that raise them. */
final class Footing {
    /** Wheels whose centres differ by less than this along the car, mm, are an axle. */
    private static final double SAME_AXLE_MM = 300;
    /** A handle raises the wheel whose centre is nearer to its spot than this, mm: less than a wheel is wide. */
    private static final double SAME_WHEEL_MM = 150;
    /** A loaded tyre is lower than its design radius by up to this share; common practice, no source. */
    private static final double MOST_SQUASH = 0.12;
    /** A foot that is this little below a plane stands on it: rounding. */
    private static final double STANDS_MM = 1e-6;

    /**
     * A wheel.
     *
     * @param body the number of the body that carries it
     * @param loaded its circle as loaded: it meets the floor at ride height
     * @param rim its rim's circle, on which it stands without air
     * @param axle which axle it is on, from the front
     * @param travel the handle that raises it, or -1
     */
    record Foot(Car.Wheel wheel, int body, Disc loaded, Disc rim, int axle, int travel) {
        String name() {
            return wheel.part();
        }

        boolean left() {
            return wheel.centre().y() > 0;
        }
    }

    final List<Foot> feet;
    final int axles;
    /** Whether the height of every wheel fits the floor as the datum. */
    final boolean onTheFloor;

    private Footing(List<Foot> feet, int axles, boolean onTheFloor) {
        this.feet = List.copyOf(feet);
        this.axles = axles;
        this.onTheFloor = onTheFloor;
    }

    static Footing of(Workspace workspace) {
        Car car = workspace.car();
        List<Car.Wheel> wheels = car.wheels().stream()
                .sorted(Comparator.comparingDouble((Car.Wheel w) -> -w.centre().x())
                        .thenComparingDouble(w -> -w.centre().y()))
                .toList();
        List<Foot> feet = new ArrayList<>();
        boolean floor = true;
        int axle = -1;
        double axleX = Double.POSITIVE_INFINITY;
        for (Car.Wheel wheel : wheels) {
            if (axleX - wheel.centre().x() > SAME_AXLE_MM) {
                axle++;
                axleX = wheel.centre().x();
            }
            double design = wheel.nominalDiameterMm() / 2;
            double lean = wheel.spindle().z();
            double reach = wheel.centre().z() / Math.sqrt(1 - lean * lean);
            boolean fits = reach <= design && reach >= (1 - MOST_SQUASH) * design;
            floor &= fits;
            feet.add(new Foot(
                    wheel,
                    workspace.bodyIndex(wheel.body()),
                    new Disc(wheel.centre(), wheel.spindle(), fits ? reach : design),
                    new Disc(wheel.centre(), wheel.spindle(), wheel.rimDiameterMm() / 2),
                    axle,
                    travel(workspace, wheel)));
        }
        return new Footing(feet, axle + 1, floor);
    }

    private static int travel(Workspace workspace, Car.Wheel wheel) {
        for (Mechanism mechanism : workspace.car().mechanisms()) {
            for (Mechanism.Driver driver : mechanism.drivers()) {
                if (driver instanceof Mechanism.Driver.Rise rise
                        && rise.body().equals(wheel.body())
                        && rise.spot().distanceTo(wheel.centre()) < SAME_WHEEL_MM) {
                    List<Handle> handles = workspace.handles();
                    for (int h = 0; h < handles.size(); h++) {
                        if (handles.get(h).name().equals(rise.name())) {
                            return h;
                        }
                    }
                }
            }
        }
        return -1;
    }

    /** Returns whether there is a road to speak of: three wheels that do not stand on a line. */
    boolean stands() {
        return !planes(feet.stream().map(Foot::loaded).toList()).isEmpty();
    }

    /** Returns the wheels of an axle, left before right. */
    List<Foot> axle(int number) {
        return feet.stream().filter(foot -> foot.axle == number).toList();
    }

    /** Returns what an axle is called. */
    String axleName(int number) {
        return number == 0 ? "front axle" : number == axles - 1 ? "rear axle" : "middle axle";
    }

    /** Returns the axle that a handle raises, or -1. */
    int axleRaisedBy(int handle) {
        for (Foot foot : feet) {
            if (foot.travel == handle) {
                return foot.axle;
            }
        }
        return -1;
    }

    /**
     * Returns every plane on which a rigid car can stand: through three of its feet, with no other foot below it. Four
     * feet that do not lie in one plane give two, and the car rocks from one to the other; which of them it rests on is
     * for its weight to decide, so that both count.
     */
    static List<Plane> planes(List<Disc> discs) {
        List<Plane> planes = new ArrayList<>();
        for (int i = 0; i < discs.size(); i++) {
            for (int j = i + 1; j < discs.size(); j++) {
                for (int k = j + 1; k < discs.size(); k++) {
                    Optional<Plane> plane = RestingPlane.under(discs.get(i), discs.get(j), discs.get(k));
                    if (plane.isPresent() && nothingBelow(plane.get(), discs)) {
                        planes.add(plane.get());
                    }
                }
            }
        }
        return planes;
    }

    private static boolean nothingBelow(Plane plane, List<Disc> discs) {
        for (Disc disc : discs) {
            if (plane.height(disc.lowest(plane.up())) < 0.0 - STANDS_MM) {
                return false;
            }
        }
        return true;
    }

    /** Returns where a wheel meets the road at ride height. */
    Spot contact(Foot foot) {
        return foot.loaded.lowest(Direction.UP);
    }
}
