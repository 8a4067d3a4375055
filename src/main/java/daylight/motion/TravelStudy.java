package daylight.motion;

import daylight.car.Car;
import daylight.car.JointAngles;
import daylight.car.Readout;
import daylight.geometry.Direction;
import daylight.linkage.Linkage;
import daylight.linkage.Mechanism;
import daylight.units.LengthFormat;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.function.ToDoubleFunction;

/**
 * How far each movement of a car really goes and what ends it, and its wheel geometry over travel, steering and roll.
 *
 * <p>Travel: both wheels of an axle rise alike against the car, steering straight; the ground is level. Steering: at
 * ride height. Roll: the left wheel of an axle as far up as the right one down. Each goes over the real range, not the
 * stated one. Definitions and signs: {@link WheelAttitude}, {@link WheelSlopes}, {@link AxleGeometry}.
 */
public final class TravelStudy {
    /** A wheelbase is longer than this, mm; less is one axle. */
    private static final double SHORTEST_WHEELBASE_MM = 1000;
    /** A shock that changes by less per wheel travel is not moved by this wheel. */
    private static final double UNMOVED = 1e-9;
    /** Part of a unit axis below which it is far enough from that coordinate's direction to be crossed with it. */
    private static final double SQUARE = 0.7;

    /**
     * What is asked besides the car file.
     *
     * @param stepMm rows over travel and rack travel are this far apart, mm
     * @param stepRad rows over a turning handle are this far apart, rad
     * @param loadedRadiusMm loaded radius of every wheel; empty to take it from the car file
     * @param wheelbaseMm wheelbase; empty to take it from the wheels of the car file
     * @param balance what anti-dive and its kin depend on besides the links; empty for their angles only
     */
    public record Asked(
            double stepMm,
            double stepRad,
            OptionalDouble loadedRadiusMm,
            OptionalDouble wheelbaseMm,
            Optional<Weights> balance) {
        public Asked {
            if (!(stepMm > 0 && stepRad > 0)) {
                throw new IllegalArgumentException("a step is more than zero: " + stepMm + " mm, " + stepRad + " rad");
            }
        }

        /** Returns the same with rows so much nearer to one another. */
        public Asked finer(double times) {
            return new Asked(stepMm / times, stepRad / times, loadedRadiusMm, wheelbaseMm, balance);
        }
    }

    /**
     * Weights, brakes and drive.
     *
     * @param centreOfGravityMm height of the centre of gravity above the ground, mm
     * @param frontBrakeShare share of the brake force at the front wheels, 0 to 1
     * @param frontDriveShare share of the drive force at the front wheels, 0 to 1
     */
    public record Weights(double centreOfGravityMm, double frontBrakeShare, double frontDriveShare) {}

    private final Car car;
    private final Asked asked;
    private final CarStand stand;
    private final List<WheelStation> stations;
    private final List<WheelStation.Axle> axles;
    private final OptionalDouble wheelbaseMm;
    private final RangeFinder finder;
    private final List<TravelTable> tables = new ArrayList<>();
    private final List<String> cautions = new ArrayList<>();
    private final Map<Linkage, BindRows> binds = new LinkedHashMap<>();

    private TravelStudy(Car car, Asked asked) {
        this.car = car;
        this.asked = asked;
        this.stand = new CarStand(car);
        this.stations = WheelStation.of(car, stand, asked.loadedRadiusMm());
        this.axles = WheelStation.axles(stations);
        this.finder = new RangeFinder(car, stand, axles, cautions);
        this.wheelbaseMm = asked.wheelbaseMm().isPresent() ? asked.wheelbaseMm() : wheelbase();
    }

    /**
     * Studies a car.
     *
     * @throws IllegalArgumentException if a mechanism's joints leave a movement free or hold something twice
     */
    public static TravelReport of(Car car, Asked asked) {
        return new TravelStudy(car, asked).report();
    }

    /**
     * Returns how far each movement of a car really goes and what ends it: each handle alone, and for two wheels of one
     * mechanism both together and one against the other. Everything else stays at ride height.
     */
    public static List<RealRange> ranges(Car car) {
        TravelStudy study =
                new TravelStudy(car, new Asked(1, 1, OptionalDouble.empty(), OptionalDouble.empty(), Optional.empty()));
        study.finder.find();
        return study.finder.ranges();
    }

    private TravelReport report() {
        finder.find();
        for (WheelStation station : stations) {
            if (!station.grounded()) {
                cautions.add(station.wheel.name() + ": nothing tells where the ground is; give it a tyre, measure from"
                        + " the floor, or ask with a loaded radius. What needs the ground is left out.");
            }
            table(station);
        }
        for (WheelStation.Axle axle : axles) {
            steering(axle);
        }
        for (WheelStation.Axle axle : axles) {
            roll(axle);
        }
        for (Linkage linkage : stand.linkages()) {
            if (stations.stream().noneMatch(station -> station.linkage == linkage)) {
                linkage.driverNames().forEach(handle -> plain(linkage, handle));
            }
        }
        cautionAboutJoints();
        binds.values().forEach(bind -> bind.cautions(cautions));
        return new TravelReport(
                car.name(),
                stations.stream().flatMap(s -> s.basis.stream()).toList(),
                wheelbaseMm,
                finder.ranges(),
                tables,
                cautions);
    }

    private OptionalDouble wheelbase() {
        List<Double> x = new ArrayList<>();
        stations.forEach(s -> x.add(s.wheel.centre().x()));
        car.wheels().forEach(w -> x.add(w.centre().x()));
        double ahead = x.stream().mapToDouble(v -> v).max().orElse(0);
        double behind = x.stream().mapToDouble(v -> v).min().orElse(0);
        double middle = 0.5 * (ahead + behind);
        double front =
                x.stream().mapToDouble(v -> v).filter(v -> v > middle).average().orElse(0);
        double rear = x.stream()
                .mapToDouble(v -> v)
                .filter(v -> v <= middle)
                .average()
                .orElse(0);
        return front - rear > SHORTEST_WHEELBASE_MM ? OptionalDouble.of(front - rear) : OptionalDouble.empty();
    }

    private boolean front(WheelStation station) {
        double x = station.wheel.centre().x();
        double ahead =
                stations.stream().mapToDouble(s -> s.wheel.centre().x()).max().orElse(x);
        double behind =
                stations.stream().mapToDouble(s -> s.wheel.centre().x()).min().orElse(x);
        for (Car.Wheel wheel : car.wheels()) {
            ahead = Math.max(ahead, wheel.centre().x());
            behind = Math.min(behind, wheel.centre().x());
        }
        return ahead - behind > SHORTEST_WHEELBASE_MM
                ? x > 0.5 * (ahead + behind)
                : station.wheel.steer().isPresent();
    }

    // ---------------------------------------------------------------- tables

    private void table(WheelStation station) {
        Optional<WheelStation.Axle> axle = finder.axleOf(station);
        boolean beam = axle.isPresent() && axle.get().beam();
        Linkage linkage = station.linkage;
        double[] own = CarStand.way(linkage, station.wheel.travel(), 1);
        double[] way = beam ? RangeFinder.heave(axle.get()) : own;
        RealRange range = finder.travelOf(station);
        stand.rest();
        if (!stand.stand(linkage)) {
            cautions.add(station.wheel.name() + ": the mechanism does not close at ride height.");
            return;
        }
        WheelAttitude atRest = station.geometry.attitude();
        List<Readings> readings = readings(linkage, way);
        TravelRows rows = new TravelRows();
        for (double at : TravelRows.steps(range.lowest(), range.highest(), asked.stepMm())) {
            stand.rest();
            stand.set(station.wheel.travel(), at);
            axle.filter(WheelStation.Axle::oneLinkage).ifPresent(a -> {
                stand.set(a.left().wheel.travel(), at);
                stand.set(a.right().wheel.travel(), at);
            });
            if (!stand.stand(linkage)) {
                continue;
            }
            rows.row(at);
            WheelAttitude a = station.geometry.attitude();
            WheelSlopes slopes = station.geometry.slopes(way).perWheelTravel();
            wheel(rows, station, a, atRest, slopes);
            rollCentre(station, axle, a, slopes)
                    .ifPresent(roll -> rows.put(
                            "roll centre height",
                            Quantity.LENGTH,
                            "kinematic roll centre above the ground; negative below it",
                            roll.heightMm()));
            anti(rows, station, slopes, beam);
            if (beam) {
                BodyRates rates = new BodyRates(linkage);
                rows.put(
                        "axle pitch",
                        Quantity.ANGLE,
                        "turn of the axle in the side view from ride height, front of the housing up positive",
                        ShaftGeometry.tiltDeg(rates.direction(rates.body(station.wheel.body()), Direction.FORWARD)));
            }
            readings.forEach(reading -> reading.read(rows, slopes));
            binds(linkage).leaves(rows, stand.values(linkage), station);
            if (!beam) {
                // An axle binds in roll; both wheels alike it hardly does.
                binds(linkage).bind(rows);
            }
        }
        cautionAboutShock(range);
        tables.add(new TravelTable(
                station.wheel.name(),
                beam ? "over its travel, both wheels alike" : "over its travel, steering straight",
                rows.base("travel", "rise of the wheel centre from ride height; bump positive", Quantity.LENGTH),
                rows.curves()));
    }

    private BindRows binds(Linkage linkage) {
        return binds.computeIfAbsent(linkage, of -> new BindRows(of, LengthFormat.fine(car.unit())));
    }

    private static void wheel(
            TravelRows rows, WheelStation station, WheelAttitude a, WheelAttitude atRest, WheelSlopes slopes) {
        double side = station.wheel.left() ? 1 : -1;
        rows.put("camber", Quantity.ANGLE, "top outward positive (ISO 8855, about the vehicle x axis)", a.camberDeg());
        rows.put("toe-in", Quantity.ANGLE, "toe-in positive (ISO 8855:2011, 7.1.6), this wheel", a.toeInDeg());
        a.steeringAxis().ifPresent(axis -> {
            rows.put(
                    "caster",
                    Quantity.ANGLE,
                    "steering axis in the side view, top rearward positive",
                    axis.casterDeg());
            rows.put(
                    "axis inclination",
                    Quantity.ANGLE,
                    "steering axis in the front view, top inboard positive",
                    axis.inclinationDeg());
            if (station.grounded()) {
                rows.put("trail", Quantity.LENGTH, "caster trail at the ground, axis ahead positive", axis.trailMm());
                rows.put(
                        "scrub radius",
                        Quantity.LENGTH,
                        "steering-axis offset at the ground, axis inboard positive",
                        axis.scrubRadiusMm());
            }
            rows.put(
                    "spindle offset",
                    Quantity.LENGTH,
                    "steering axis to wheel centre at its height, centre outboard positive",
                    axis.offsetAtCentreMm());
        });
        rows.put(
                "recession",
                Quantity.LENGTH,
                "rearward motion of the wheel centre from ride height",
                atRest.centre().x() - a.centre().x() + 0.0);
        if (station.grounded()) {
            rows.put(
                    "half-track change",
                    Quantity.LENGTH,
                    "outward motion of the contact centre from ride height",
                    side * (a.contact().y() - atRest.contact().y()) + 0.0);
        }
        rows.put("camber slope", Quantity.ANGLE_PER_LENGTH, "change of camber per travel", slopes.camberDeg());
        rows.put("bump steer", Quantity.ANGLE_PER_LENGTH, "change of toe-in per bump travel", slopes.toeInDeg());
        if (station.grounded()) {
            rows.put(
                    "front swing arm",
                    Quantity.LENGTH,
                    "contact to instant centre in the front view, inboard positive; empty when parallel",
                    slopes.frontSwingArmMm(a));
        }
    }

    private Optional<AxleGeometry.RollCentre> rollCentre(
            WheelStation station, Optional<WheelStation.Axle> axle, WheelAttitude a, WheelSlopes slopes) {
        if (!station.grounded()) {
            return Optional.empty();
        }
        if (axle.isPresent() && axle.get().beam()) {
            double[] rolling = RangeFinder.rolling(axle.get());
            return AxleGeometry.beamRollCentre(
                    axle.get().left().geometry.attitude().contact(),
                    axle.get().left().geometry.slopes(rolling).contact(),
                    axle.get().right().geometry.attitude().contact(),
                    axle.get().right().geometry.slopes(rolling).contact(),
                    axle.get().right().geometry.slopes(rolling).turn());
        }
        if (axle.isPresent() && axle.get().oneLinkage()) {
            WheelStation other = axle.get().left() == station
                    ? axle.get().right()
                    : axle.get().left();
            Rate partner = other.geometry
                    .slopes(CarStand.way(other.linkage, other.wheel.travel(), 1))
                    .contact();
            return AxleGeometry.rollCentre(
                    a.contact(), slopes.contact(), other.geometry.attitude().contact(), partner);
        }
        // The other corner at the same height is the mirror image of this one.
        Rate own = slopes.contact();
        return AxleGeometry.rollCentre(a.contact(), own, a.contact().mirrored(), new Rate(own.x(), -own.y(), own.z()));
    }

    private void anti(TravelRows rows, WheelStation station, WheelSlopes slopes, boolean beam) {
        if (!station.grounded()) {
            return;
        }
        boolean front = front(station);
        rows.put(
                "side swing arm",
                Quantity.LENGTH,
                "contact to instant centre in the side view, towards the middle of the car positive; empty when parallel",
                slopes.sideSwingArmMm(station.geometry.attitude(), front));
        rows.put(
                "contact path",
                Quantity.ANGLE,
                "path of the contact centre in bump from straight up in the side view, forward positive",
                AxleGeometry.sideViewPathDeg(slopes.contact()));
        if (asked.balance().isEmpty() || wheelbaseMm.isEmpty()) {
            return;
        }
        Weights weights = asked.balance().get();
        AxleGeometry.Balance balance = new AxleGeometry.Balance(
                wheelbaseMm.getAsDouble(),
                weights.centreOfGravityMm(),
                weights.frontBrakeShare(),
                weights.frontDriveShare(),
                !beam);
        rows.put(
                front ? "anti-dive" : "anti-lift, braking",
                Quantity.PERCENT,
                "share of brake pitch that the links take at this axle, resisting positive",
                AxleGeometry.antiBrakePercent(slopes, front, balance));
        AxleGeometry.antiDrivePercent(slopes, front, balance)
                .ifPresent(percent -> rows.put(
                        front ? "anti-lift, driving" : "anti-squat",
                        Quantity.PERCENT,
                        "share of drive pitch that the links take at this axle, resisting positive",
                        percent));
    }

    /** Something to read off a linkage at each row. */
    private interface Readings {
        void read(TravelRows rows, WheelSlopes slopes);
    }

    private List<Readings> readings(Linkage linkage, double[] way) {
        List<Readings> list = new ArrayList<>();
        Mechanism mechanism = linkage.mechanism();
        for (Readout readout : car.readouts()) {
            if (readout instanceof Readout.Length length
                    && isOn(mechanism, length.from().body(), length.to().body())) {
                Span span = new Span(linkage, length.from(), length.to());
                if (Math.abs(span.slope(way)) > UNMOVED) {
                    list.add(length.shock() ? shock(length.name(), span, way) : distance(length.name(), span));
                }
            } else if (readout instanceof Readout.Shaft shaft
                    && isOn(mechanism, shaft.from().body(), shaft.to().body())) {
                // A half-shaft lies across the car; only a shaft along it drives a pinion.
                boolean along =
                        Math.abs(shaft.toAxis().x()) > Math.abs(shaft.toAxis().y());
                list.add(shaft(shaft.name(), new ShaftGeometry(linkage, shaft), along));
            } else if (readout instanceof Readout.Tilt tilt
                    && mechanism.bodies().contains(tilt.body())) {
                BodyRates rates = new BodyRates(linkage);
                int body = rates.body(tilt.body());
                list.add((rows, slopes) -> {
                    Direction now = rates.direction(body, tilt.along());
                    rows.put(
                            tilt.name(),
                            Quantity.ANGLE,
                            "from level in the side view, nose up positive",
                            ShaftGeometry.tiltDeg(now));
                });
            }
        }
        return list;
    }

    /** A mechanism without wheels (a hood with its strut): what there is to read off it over one of its handles. */
    private void plain(Linkage linkage, String handle) {
        RealRange range = finder.rangeOf(handle);
        double[] way = CarStand.way(linkage, handle, 1);
        stand.rest();
        if (!stand.stand(linkage)) {
            cautions.add(linkage.mechanism().name() + ": the mechanism does not close at ride height.");
            return;
        }
        TravelRows rows = new TravelRows();
        for (double at :
                TravelRows.steps(range.lowest(), range.highest(), range.turns() ? asked.stepRad() : asked.stepMm())) {
            stand.rest();
            stand.set(handle, at);
            if (!stand.stand(linkage)) {
                continue;
            }
            rows.row(range.turns() ? Math.toDegrees(at) : at);
            for (Readout readout : car.readouts()) {
                if (readout instanceof Readout.Length length
                        && isOn(
                                linkage.mechanism(),
                                length.from().body(),
                                length.to().body())) {
                    Span span = new Span(linkage, length.from(), length.to());
                    rows.put(length.name() + " length", Quantity.LENGTH, "between its ends", span.lengthMm());
                    rows.put(
                            length.name() + (range.turns() ? " moment arm" : " ratio"),
                            range.turns() ? Quantity.LENGTH : Quantity.RATIO,
                            range.turns()
                                    ? "change of its length per radian: its lever about the axis, opening positive"
                                    : "change of its length per movement, growing positive",
                            span.slope(way));
                }
            }
        }
        List<Curve> curves = rows.curves();
        if (!curves.isEmpty()) {
            tables.add(new TravelTable(
                    linkage.mechanism().name(),
                    "over its movement",
                    rows.base(handle, "from where it was measured", range.turns() ? Quantity.ANGLE : Quantity.LENGTH),
                    curves));
        }
    }

    private static boolean isOn(Mechanism mechanism, String from, String to) {
        boolean one = mechanism.bodies().contains(from);
        boolean other = mechanism.bodies().contains(to);
        return (one || other) && (one || from.equals(Mechanism.GROUND)) && (other || to.equals(Mechanism.GROUND));
    }

    private static Readings shock(String name, Span span, double[] way) {
        return (rows, slopes) -> {
            rows.put(name + " length", Quantity.LENGTH, "between its eyes", span.lengthMm());
            rows.put(
                    name + " motion ratio",
                    Quantity.RATIO,
                    "shock travel per wheel travel, closing in bump positive",
                    0.0 - span.slope(way));
        };
    }

    private static Readings distance(String name, Span span) {
        return (rows, slopes) -> rows.put(name + " length", Quantity.LENGTH, "between its ends", span.lengthMm());
    }

    private static Readings shaft(String name, ShaftGeometry shaft, boolean along) {
        return (rows, slopes) -> {
            ShaftGeometry.Attitude at = shaft.attitude();
            rows.put(name + " first joint", Quantity.ANGLE, "operating angle, driving side", at.firstJointDeg());
            rows.put(name + " second joint", Quantity.ANGLE, "operating angle, driven side", at.secondJointDeg());
            rows.put(
                    name + " plunge",
                    Quantity.LENGTH,
                    "change of the distance between the joints from ride height; negative pushes the yoke in",
                    at.plungeMm());
            if (along) {
                rows.put("pinion angle", Quantity.ANGLE, "driven shaft from level, nose up positive", at.drivenDeg());
            }
        };
    }

    /** The bars whose halves hang on either or both sides of an axle. */
    private List<Readout.Twist> twists(WheelStation.Axle axle) {
        List<Linkage> own = List.of(axle.left().linkage, axle.right().linkage);
        List<Readout.Twist> found = new ArrayList<>();
        for (Readout readout : car.readouts()) {
            if (readout instanceof Readout.Twist twist
                    && isOf(own, twist.first())
                    && isOf(own, twist.second())
                    && !(twist.first().equals(Mechanism.GROUND)
                            && twist.second().equals(Mechanism.GROUND))) {
                found.add(twist);
            }
        }
        return found;
    }

    private boolean isOf(List<Linkage> linkages, String body) {
        return body.equals(Mechanism.GROUND)
                || linkages.stream().anyMatch(linkage -> linkage.bodies().contains(body));
    }

    private Direction direction(String body, Direction atRideHeight) {
        Linkage linkage = stand.of(body);
        return linkage == null ? atRideHeight : linkage.where(linkage.bodies().indexOf(body), atRideHeight);
    }

    /** Returns the turn of the first body against the second about the axis, degrees, -180 to 180. */
    private double twistDeg(Readout.Twist twist) {
        Direction axis = twist.axis();
        // Any direction square to the axis shows the turn.
        Direction square = Math.abs(axis.z()) < SQUARE
                ? Direction.of(axis.y(), 0.0 - axis.x(), 0)
                : Direction.of(0, axis.z(), 0.0 - axis.y());
        Direction a = direction(twist.first(), square);
        Direction b = direction(twist.second(), square);
        Direction about = direction(twist.second(), axis);
        double sine = about.x() * (b.y() * a.z() - b.z() * a.y())
                + about.y() * (b.z() * a.x() - b.x() * a.z())
                + about.z() * (b.x() * a.y() - b.y() * a.x());
        return Math.toDegrees(Math.atan2(sine, a.dot(b))) + 0.0;
    }

    private void cautionAboutJoints() {
        JointAngles rules = JointAngles.shipped();
        for (Readout readout : car.readouts()) {
            if (!(readout instanceof Readout.Shaft shaft)
                    || Math.abs(shaft.toAxis().x()) <= Math.abs(shaft.toAxis().y())) {
                continue;
            }
            double first = UniversalJoint.operatingAngleDeg(
                    shaft.fromAxis(),
                    Direction.from(shaft.from().at(), shaft.to().at()));
            double second = UniversalJoint.operatingAngleDeg(
                    Direction.from(shaft.from().at(), shaft.to().at()), shaft.toAxis());
            String works = shaft.name() + ": its joints work at " + oneDecimal(first) + " and " + oneDecimal(second)
                    + " deg at ride height; ";
            if (Math.min(first, second) < rules.leastDeg()) {
                cautions.add(works + "each should have at least " + oneDecimal(rules.leastDeg()) + " ("
                        + rules.leastSource() + ").");
            }
            if (Math.abs(first - second) > rules.unlikeDeg()) {
                cautions.add(works + "they should be alike within " + oneDecimal(rules.unlikeDeg()) + " ("
                        + rules.unlikeSource() + ").");
            }
            if (Math.max(first, second) > rules.smoothDeg()) {
                cautions.add(works + "up to " + oneDecimal(rules.smoothDeg()) + " runs smoothly ("
                        + rules.smoothSource() + "); " + fastest(rules, Math.max(first, second)) + ".");
            }
        }
    }

    private static String fastest(JointAngles rules, double angleDeg) {
        return rules.fastest().stream()
                .filter(row -> angleDeg <= row.upToDeg())
                .findFirst()
                .map(row -> String.format(
                        Locale.ROOT, "at this angle up to %.0f rpm of the shaft (%s)", row.rpm(), row.source()))
                .orElse("this angle is beyond the table, so ask the maker of the joints");
    }

    private static String oneDecimal(double value) {
        return String.format(Locale.ROOT, "%.1f", value);
    }

    private void cautionAboutShock(RealRange range) {
        if (range.up().cause() instanceof TravelEnd.Met met && met.state().equals("closed")) {
            String words = "bump ends on the " + met.limit()
                    + ", which is then solid: a bump stop should be met before it" + " (common practice, no source).";
            if (!cautions.contains(words)) {
                cautions.add(words);
            }
        }
    }

    // ---------------------------------------------------------------- axles

    private void steering(WheelStation.Axle axle) {
        Optional<String> handle = axle.left().wheel.steer();
        if (handle.isEmpty() || !handle.equals(axle.right().wheel.steer())) {
            return;
        }
        RealRange range = finder.rangeOf(handle.get());
        stand.rest();
        if (!stand.stand(axle.left().linkage, axle.right().linkage)) {
            return;
        }
        OptionalDouble distance = axisDistance(axle);
        TravelRows rows = new TravelRows();
        for (double at :
                TravelRows.steps(range.lowest(), range.highest(), range.turns() ? asked.stepRad() : asked.stepMm())) {
            stand.rest();
            stand.set(handle.get(), at);
            if (!stand.stand(axle.left().linkage, axle.right().linkage)) {
                continue;
            }
            rows.row(range.turns() ? Math.toDegrees(at) : at);
            WheelAttitude left = axle.left().geometry.attitude();
            WheelAttitude right = axle.right().geometry.attitude();
            both(
                    rows,
                    "steer",
                    Quantity.ANGLE,
                    "heading about z, to the left positive",
                    left,
                    right,
                    w -> w.steerDeg());
            if (distance.isPresent() && wheelbaseMm.isPresent()) {
                rows.put(
                        "Ackermann error",
                        Quantity.ANGLE,
                        "inner steer less the ideal for that outer steer, too much positive (ISO 8855:2011, 7.1.9)",
                        AxleGeometry.ackermannErrorDeg(
                                left.steerDeg(), right.steerDeg(), distance.getAsDouble(), wheelbaseMm.getAsDouble()));
            }
            turningCircle(axle, left, right)
                    .ifPresent(circle -> rows.put(
                            "turning circle",
                            Quantity.LENGTH,
                            "diameter between kerbs by the outer front tyre, which rolls where it heads; rear wheels"
                                    + " straight, no slip",
                            circle));
            both(
                    rows,
                    "inclination",
                    Quantity.ANGLE,
                    "lean about the wheel's own heading, top outward positive",
                    left,
                    right,
                    w -> w.inclinationDeg());
            if (left.steeringAxis().isPresent()
                    && right.steeringAxis().isPresent()
                    && axle.left().grounded()) {
                both(
                        rows,
                        "trail",
                        Quantity.LENGTH,
                        "caster trail in the wheel's heading",
                        left,
                        right,
                        w -> w.steeringAxis().map(WheelAttitude.Axis::trailMm).orElse(Double.NaN));
                both(
                        rows,
                        "scrub radius",
                        Quantity.LENGTH,
                        "square to the wheel's heading",
                        left,
                        right,
                        w -> w.steeringAxis()
                                .map(WheelAttitude.Axis::scrubRadiusMm)
                                .orElse(Double.NaN));
            }
        }
        tables.add(new TravelTable(
                nameOf(axle),
                "over steering, at ride height",
                rows.base(
                        handle.get(),
                        "movement of the steering's driver from straight ahead",
                        range.turns() ? Quantity.ANGLE : Quantity.LENGTH),
                rows.curves()));
    }

    /** A wheel that steers less than this turns no circle that anyone would drive, degrees. */
    private static final double LEAST_STEER_DEG = 3;

    private OptionalDouble turningCircle(WheelStation.Axle axle, WheelAttitude left, WheelAttitude right) {
        boolean isToTheLeft = left.steerDeg() + right.steerDeg() > 0;
        WheelStation outer = isToTheLeft ? axle.right() : axle.left();
        double steer = Math.abs(isToTheLeft ? right.steerDeg() : left.steerDeg());
        if (wheelbaseMm.isEmpty() || !front(outer) || steer < LEAST_STEER_DEG) {
            return OptionalDouble.empty();
        }
        // One side's tyre is the other's where only one is written.
        double half = car.wheels().stream()
                .filter(wheel -> wheel.body().equals(axle.left().wheel.body())
                        || wheel.body().equals(axle.right().wheel.body()))
                .sorted(Comparator.comparing((Car.Wheel wheel) -> !wheel.body().equals(outer.wheel.body())))
                .mapToDouble(wheel -> wheel.nominalWidthMm() / 2)
                .findFirst()
                .orElse(0);
        return OptionalDouble.of(AxleGeometry.turningCircleMm(wheelbaseMm.getAsDouble(), steer, half));
    }

    private static void both(
            TravelRows rows,
            String name,
            Quantity quantity,
            String meaning,
            WheelAttitude left,
            WheelAttitude right,
            ToDoubleFunction<WheelAttitude> of) {
        rows.put("left " + name, quantity, meaning, of.applyAsDouble(left));
        rows.put("right " + name, quantity, meaning, of.applyAsDouble(right));
    }

    private static OptionalDouble axisDistance(WheelStation.Axle axle) {
        Optional<WheelAttitude.Axis> left = axle.left().geometry.attitude().steeringAxis();
        Optional<WheelAttitude.Axis> right = axle.right().geometry.attitude().steeringAxis();
        return left.isPresent()
                        && right.isPresent()
                        && axle.left().grounded()
                        && axle.right().grounded()
                ? OptionalDouble.of(
                        left.get().onGround().y() - right.get().onGround().y())
                : OptionalDouble.empty();
    }

    private String nameOf(WheelStation.Axle axle) {
        if (axle.oneLinkage()) {
            return axle.left().linkage.mechanism().name();
        }
        return front(axle.left()) ? "front axle" : "rear axle";
    }

    private void roll(WheelStation.Axle axle) {
        if (!axle.left().grounded() || !axle.right().grounded()) {
            return;
        }
        double lowest;
        double highest;
        if (axle.oneLinkage()) {
            RealRange range = finder.rangeOf(RangeFinder.rollOf(axle));
            lowest = range.lowest();
            highest = range.highest();
        } else {
            RealRange left = finder.rangeOf(axle.left().wheel.travel());
            RealRange right = finder.rangeOf(axle.right().wheel.travel());
            lowest = Math.max(left.lowest(), 0.0 - right.highest());
            highest = Math.min(left.highest(), 0.0 - right.lowest());
        }
        TravelRows rows = new TravelRows();
        for (double at : TravelRows.steps(lowest, highest, asked.stepMm())) {
            stand.rest();
            stand.set(axle.left().wheel.travel(), at);
            stand.set(axle.right().wheel.travel(), -at);
            if (!stand.stand(axle.left().linkage, axle.right().linkage)) {
                continue;
            }
            rows.row(at);
            rollRow(rows, axle);
        }
        tables.add(new TravelTable(
                nameOf(axle),
                "in roll, left wheel up and right wheel down",
                rows.base("left travel", "rise of the left wheel centre; the right one falls as much", Quantity.LENGTH),
                rows.curves()));
    }

    private void rollRow(TravelRows rows, WheelStation.Axle axle) {
        WheelAttitude left = axle.left().geometry.attitude();
        WheelAttitude right = axle.right().geometry.attitude();
        double roll = AxleGeometry.rollDeg(left.contact(), right.contact());
        rows.put("body roll", Quantity.ANGLE, "about x, left side of the body up positive", roll);
        rows.put("left camber", Quantity.ANGLE, "against the body, top outward positive", left.camberDeg());
        rows.put("right camber", Quantity.ANGLE, "against the body, top outward positive", right.camberDeg());
        rows.put(
                "left camber to road",
                Quantity.ANGLE,
                "against the road, top outward positive",
                left.camberDeg() - roll);
        rows.put(
                "right camber to road",
                Quantity.ANGLE,
                "against the road, top outward positive",
                right.camberDeg() + roll);
        rows.put("left steer", Quantity.ANGLE, "heading about z, to the left positive", left.steerDeg());
        rows.put("right steer", Quantity.ANGLE, "heading about z, to the left positive", right.steerDeg());
        twists(axle)
                .forEach(twist -> rows.put(
                        twist.name(),
                        Quantity.ANGLE,
                        "one half against the other about the bar, by the right-hand rule",
                        twistDeg(twist)));
        Optional<AxleGeometry.RollCentre> centre;
        double[] leftRolls;
        double[] rightRolls;
        if (axle.oneLinkage()) {
            leftRolls = RangeFinder.rolling(axle);
            rightRolls = leftRolls;
        } else {
            leftRolls = CarStand.way(axle.left().linkage, axle.left().wheel.travel(), 1);
            rightRolls = CarStand.way(axle.right().linkage, axle.right().wheel.travel(), -1);
        }
        WheelSlopes l = axle.left().geometry.slopes(leftRolls);
        WheelSlopes r = axle.right().geometry.slopes(rightRolls);
        if (axle.beam()) {
            centre = AxleGeometry.beamRollCentre(left.contact(), l.contact(), right.contact(), r.contact(), l.turn());
        } else if (axle.oneLinkage()) {
            centre = AxleGeometry.rollCentre(
                    left.contact(),
                    axle.left()
                            .geometry
                            .slopes(CarStand.way(
                                    axle.left().linkage, axle.left().wheel.travel(), 1))
                            .contact(),
                    right.contact(),
                    axle.right()
                            .geometry
                            .slopes(CarStand.way(
                                    axle.right().linkage, axle.right().wheel.travel(), 1))
                            .contact());
        } else {
            centre = AxleGeometry.rollCentre(left.contact(), l.contact(), right.contact(), r.contact());
        }
        centre.ifPresent(c -> {
            rows.put("roll centre height", Quantity.LENGTH, "above the line through both contacts", c.heightMm());
            rows.put(
                    "roll centre across",
                    Quantity.LENGTH,
                    "from the body centre plane, to the left positive",
                    c.acrossMm());
        });
        double dy = left.contact().y() - right.contact().y();
        double dz = left.contact().z() - right.contact().z();
        double rollRate = -Math.toDegrees((dy * (l.contact().z() - r.contact().z())
                        - dz * (l.contact().y() - r.contact().y()))
                / (dy * dy + dz * dz));
        // Steer of a left wheel is minus its toe-in, of a right wheel plus.
        double steerRate = 0.5 * (r.toeInDeg() - l.toeInDeg());
        rows.put(
                "roll steer",
                Quantity.RATIO,
                "mean steer of both wheels per body roll; positive: to the left when the left side rises",
                steerRate / rollRate);
        if (axle.oneLinkage()) {
            binds(axle.left().linkage).leaves(rows, stand.values(axle.left().linkage), axle.left());
        }
        binds(axle.left().linkage).bind(rows);
    }
}
