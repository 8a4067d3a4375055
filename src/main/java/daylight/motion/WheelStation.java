package daylight.motion;

import daylight.car.Car;
import daylight.car.Readout;
import daylight.geometry.Direction;
import daylight.linkage.Linkage;
import daylight.linkage.Mechanism;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/** A wheel of a car with the engine of its geometry and what was taken for its loaded radius. */
final class WheelStation {
    /** A tyre whose centre is nearer to a wheel's than this, mm, is that wheel's: less than any wheel is wide. */
    private static final double SAME_WHEEL_MM = 150;
    /** Two wheels whose stations differ by less than this, mm, make an axle. */
    private static final double SAME_AXLE_MM = 300;
    /**
     * A loaded tyre is lower than its design radius by up to this share; common practice, no source (a car tyre at its
     * load squashes by some five hundredths, a soft or tall one by a tenth).
     */
    private static final double MOST_SQUASH = 0.12;

    /** Any radius does for what does not depend on the ground. */
    private static final double NO_GROUND_MM = 1;

    final Readout.Wheel wheel;
    final Linkage linkage;
    final WheelGeometry geometry;
    /** Empty when nothing tells where the ground is; what needs the ground is then left out. */
    final Optional<TravelReport.WheelBasis> basis;

    private WheelStation(Readout.Wheel wheel, Linkage linkage, Optional<TravelReport.WheelBasis> basis) {
        this.wheel = wheel;
        this.linkage = linkage;
        this.basis = basis;
        this.geometry = new WheelGeometry(
                linkage,
                wheel,
                basis.map(TravelReport.WheelBasis::loadedRadiusMm).orElse(NO_GROUND_MM));
    }

    boolean grounded() {
        return basis.isPresent();
    }

    /** An axle: two wheels side by side. */
    record Axle(WheelStation left, WheelStation right, double x) {
        /** Whether one body carries both. */
        boolean beam() {
            return left.wheel.body().equals(right.wheel.body());
        }

        boolean oneLinkage() {
            return left.linkage == right.linkage;
        }
    }

    /**
     * Returns the car's moving wheels: those that its layouts name, and tyres on a body that rises by a handle of its
     * own.
     */
    static List<WheelStation> of(Car car, CarStand stand, OptionalDouble loadedRadiusMm) {
        List<WheelStation> stations = new ArrayList<>();
        List<Car.Wheel> left = new ArrayList<>(car.wheels());
        for (Readout readout : car.readouts()) {
            if (readout instanceof Readout.Wheel wheel) {
                Linkage linkage = stand.of(wheel.body());
                if (linkage == null) {
                    continue;
                }
                Optional<Car.Wheel> tyre = left.stream()
                        .filter(t ->
                                t.body().equals(wheel.body()) && t.centre().distanceTo(wheel.centre()) < SAME_WHEEL_MM)
                        .min(Comparator.comparingDouble(t -> t.centre().distanceTo(wheel.centre())));
                tyre.ifPresent(left::remove);
                stations.add(new WheelStation(
                        whole(wheel, tyre, linkage),
                        linkage,
                        basis(wheel.name(), wheel.centre().z(), tyre, loadedRadiusMm)));
            }
        }
        for (Car.Wheel tyre : left) {
            Linkage linkage = stand.of(tyre.body());
            if (linkage == null) {
                continue;
            }
            linkage.mechanism().drivers().stream()
                    .filter(driver -> driver instanceof Mechanism.Driver.Rise rise
                            && rise.body().equals(tyre.body())
                            && rise.spot().distanceTo(tyre.centre()) < SAME_WHEEL_MM)
                    .findFirst()
                    .ifPresent(driver -> stations.add(new WheelStation(
                            new Readout.Wheel(
                                    tyre.part(),
                                    tyre.body(),
                                    tyre.centre(),
                                    tyre.spindle(),
                                    Optional.empty(),
                                    driver.name(),
                                    Optional.empty()),
                            linkage,
                            basis(tyre.part(), tyre.centre().z(), Optional.of(tyre), loadedRadiusMm))));
        }
        return stations;
    }

    /**
     * A spindle that the tyre's entry gives (not straight out) is a measurement; it wins over the layout's. A wheel
     * whose layout does not say what steers it may still be steered by the mechanism that it hangs on.
     */
    private static Readout.Wheel whole(Readout.Wheel wheel, Optional<Car.Wheel> tyre, Linkage linkage) {
        Direction spindle = tyre.map(Car.Wheel::spindle)
                .filter(direction -> direction.x() != 0 || direction.z() != 0)
                .orElse(wheel.spindle());
        return new Readout.Wheel(
                wheel.name(),
                wheel.body(),
                wheel.centre(),
                spindle,
                wheel.steeringAxis(),
                wheel.travel(),
                wheel.steer()
                        .or(() -> wheel.steeringAxis().isPresent() ? steer(wheel.body(), linkage) : Optional.empty()));
    }

    /** Returns the driver that turns or shifts something and moves the wheel's body, if there is one. */
    private static Optional<String> steer(String body, Linkage linkage) {
        int index = linkage.bodies().indexOf(body);
        List<Mechanism.Driver> drivers = linkage.mechanism().drivers();
        for (int d = 0; d < drivers.size(); d++) {
            boolean steers = drivers.get(d) instanceof Mechanism.Driver.Travel
                    || drivers.get(d) instanceof Mechanism.Driver.Turn;
            if (steers && linkage.dependsOn(index, d)) {
                return Optional.of(drivers.get(d).name());
            }
        }
        return Optional.empty();
    }

    private static Optional<TravelReport.WheelBasis> basis(
            String name, double height, Optional<Car.Wheel> tyre, OptionalDouble asked) {
        if (asked.isPresent()) {
            return Optional.of(new TravelReport.WheelBasis(name, asked.getAsDouble(), "as asked for"));
        }
        if (tyre.isEmpty() && height > 0) {
            return Optional.of(new TravelReport.WheelBasis(
                    name, height, "height of the wheel centre above the datum, which is taken for the ground"));
        }
        double design = tyre.map(t -> t.nominalDiameterMm() / 2).orElse(Double.NaN);
        if (height <= design && height >= (1 - MOST_SQUASH) * design) {
            return Optional.of(new TravelReport.WheelBasis(name, height, "height of the wheel centre above the floor"));
        }
        return tyre.map(t -> new TravelReport.WheelBasis(
                name, design, "half the tyre's design diameter: the wheel centre's height does not fit it"));
    }

    /** Returns the axles, front first: each left wheel with the right wheel that is nearest along the car. */
    static List<Axle> axles(List<WheelStation> stations) {
        List<Axle> axles = new ArrayList<>();
        for (WheelStation left : stations) {
            if (!left.wheel.left()) {
                continue;
            }
            stations.stream()
                    .filter(s -> !s.wheel.left() && Math.abs(x(s) - x(left)) < SAME_AXLE_MM)
                    .min(Comparator.comparingDouble(s -> Math.abs(x(s) - x(left))))
                    .ifPresent(right -> axles.add(new Axle(left, right, 0.5 * (x(left) + x(right)))));
        }
        axles.sort(Comparator.comparingDouble(Axle::x).reversed());
        return axles;
    }

    private static double x(WheelStation station) {
        return station.wheel.centre().x();
    }
}
