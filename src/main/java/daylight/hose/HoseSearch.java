package daylight.hose;

import daylight.car.Car;
import daylight.clearance.State;
import daylight.geometry.Direction;
import daylight.geometry.Solid;
import daylight.motion.Kinematics;
import daylight.motion.Workspace;
import daylight.units.Progress;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * Judges every flexible line of a car over everything the car can do, and says which length to buy.
 *
 * <p>One thread; the result is the same on every run.
 */
public final class HoseSearch {
    /** Settings of a fitting about its bolt that are tried. */
    private static final int SETTINGS = 24;
    /** A setting helps when it lets the line pass, or opens its tightest bend by this share. */
    private static final double HELPS = 1.1;

    private final Car car;
    private final Kinematics kinematics;
    private final Solid[] solids;

    private HoseSearch(Car car) {
        this.car = car;
        this.kinematics = Workspace.of(car).kinematics();
        solids = car.parts().stream().map(part -> Solid.of(part.shape())).toArray(Solid[]::new);
    }

    /**
     * Returns a search of a car.
     *
     * @throws IllegalArgumentException if the car's mechanisms cannot be compiled (the reader of car files refuses
     *     such cars)
     */
    public static HoseSearch of(Car car) {
        return new HoseSearch(car);
    }

    /**
     * Judges all lines, in file order.
     *
     * @return the reports, or empty if the work was cancelled
     */
    public Optional<List<HoseReport>> run(Progress progress) {
        List<HoseReport> reports = new ArrayList<>();
        int work = car.hoses().stream()
                .mapToInt(h -> 2 + h.stockLengthsMm().size())
                .sum();
        int done = 0;
        for (Car.Hose hose : car.hoses()) {
            progress.at((double) done / work, hose.name());
            HoseReport.Slack slack = new SlackSearch(new LineTravel(hose, kinematics)).search();
            List<HoseReport.Stock> stock = new ArrayList<>();
            for (double length : hose.stockLengthsMm()) {
                if (progress.cancelled()) {
                    return Optional.empty();
                }
                if (reachesAtRide(hose, length)) {
                    stock.add(stock(hose.withFreeLength(length), other(hose, slack, length)));
                }
                progress.at((double) ++done / work, hose.name());
            }
            if (progress.cancelled()) {
                return Optional.empty();
            }
            reports.add(report(hose, slack, stock));
            done += 2;
            progress.at((double) done / work, hose.name());
        }
        return Optional.of(List.copyOf(reports));
    }

    /** A length that does not even reach as the car stands needs no travel to be ruled out. */
    private static boolean reachesAtRide(Car.Hose hose, double length) {
        return hose.clips().isEmpty()
                ? length > hose.from().mouth().distanceTo(hose.to().mouth())
                : length > hose.clips().get(hose.clips().size() - 1).afterMm();
    }

    private HoseReport report(Car.Hose hose, HoseReport.Slack slack, List<HoseReport.Stock> stock) {
        ShapeWalk walk = new ShapeWalk(new LineTravel(hose, kinematics), solids);
        walk.walk(true);
        walk.refine();
        List<HoseReport.Touch> touches = walk.touches();
        return new HoseReport(
                hose,
                troubles(walk, slack, touches),
                slack,
                walk.bend(),
                walk.twist(),
                touches,
                walk.sampling(),
                walk.jumps(),
                walk.eitherSide(),
                stock,
                turned(hose, troubles(walk, slack, touches), walk.bend().tightestRadiusMm()));
    }

    /** The shortest path does not depend on the hose: without clips a longer hose has as much more slack. */
    private HoseReport.Slack other(Car.Hose hose, HoseReport.Slack slack, double lengthMm) {
        if (!hose.clips().isEmpty()) {
            return new SlackSearch(new LineTravel(hose.withFreeLength(lengthMm), kinematics)).search();
        }
        double more = lengthMm - hose.freeLengthMm();
        return new HoseReport.Slack(
                slack.rideMm() + more,
                slack.leastMm() + more,
                slack.where(),
                slack.floorMm() + more,
                slack.unproved(),
                0);
    }

    private HoseReport.Stock stock(Car.Hose hose, HoseReport.Slack slack) {
        ShapeWalk walk = new ShapeWalk(new LineTravel(hose, kinematics), solids);
        walk.walk(true);
        List<HoseReport.Touch> touches = walk.touches();
        return new HoseReport.Stock(
                hose.freeLengthMm(),
                troubles(walk, slack, touches),
                slack.floorMm(),
                walk.bend().tightestRadiusMm(),
                walk.twist().greatestRad(),
                touches.stream().findFirst());
    }

    private static List<HoseReport.Trouble> troubles(
            ShapeWalk walk, HoseReport.Slack slack, List<HoseReport.Touch> touches) {
        List<HoseReport.Trouble> troubles = new ArrayList<>();
        HoseReport.Bend bend = walk.bend();
        if (walk.taut() || slack.floorMm() < 0) {
            troubles.add(HoseReport.Trouble.TAUT);
        }
        if (bend.tightestRadiusMm() < bend.limitMm()) {
            troubles.add(HoseReport.Trouble.KINKS);
        }
        if (touches.stream().anyMatch(touch -> touch.state() == State.RUB)) {
            troubles.add(HoseReport.Trouble.RUBS);
        } else if (touches.stream().anyMatch(touch -> touch.state() == State.TIGHT)) {
            troubles.add(HoseReport.Trouble.TIGHT);
        }
        HoseReport.Twist twist = walk.twist();
        if (twist.limitRad().filter(limit -> twist.greatestRad() > limit).isPresent()) {
            troubles.add(HoseReport.Trouble.TWISTS);
        }
        if (walk.unsettled()) {
            troubles.add(HoseReport.Trouble.UNSETTLED);
        }
        return troubles;
    }

    /** Tries each end that can be turned about its bolt, one at a time. */
    private Optional<HoseReport.Turned> turned(
            Car.Hose hose, List<HoseReport.Trouble> troubles, double tightestRadiusMm) {
        Optional<HoseReport.Turned> best = Optional.empty();
        double most = troubles.isEmpty() ? HELPS * tightestRadiusMm : 0;
        for (int end = 0; end < 2; end++) {
            Car.Hose.Fitting fitting = end == 0 ? hose.from() : hose.to();
            if (fitting.turnsAbout().isEmpty()) {
                continue;
            }
            for (int i = 1; i < SETTINGS; i++) {
                double angle = Math.IEEEremainder(2 * Math.PI * i / SETTINGS, 2 * Math.PI);
                Car.Hose.Fitting set = new Car.Hose.Fitting(
                        fitting.body(),
                        fitting.at(),
                        turned(fitting.leaves(), fitting.turnsAbout().get(), angle),
                        fitting.straightMm(),
                        fitting.swivels(),
                        fitting.turnsAbout());
                Car.Hose tried = end == 0 ? hose.withFittings(set, hose.to()) : hose.withFittings(hose.from(), set);
                LineTravel line = new LineTravel(tried, kinematics);
                ShapeWalk quick = new ShapeWalk(line, solids);
                quick.walk(false);
                double tightest = quick.bend().tightestRadiusMm();
                if (tightest <= Math.max(most, line.radiusMm)) {
                    continue;
                }
                HoseReport.Stock result = stock(tried, new SlackSearch(line).search());
                if (result.troubles().isEmpty()) {
                    most = tightest;
                    best = Optional.of(new HoseReport.Turned(end == 0 ? "from" : "to", angle, result));
                }
            }
        }
        return best;
    }

    private static Direction turned(Direction d, Direction axis, double angle) {
        double c = Math.cos(angle);
        double s = Math.sin(angle);
        double along = d.dot(axis) * (1 - c);
        return Direction.of(
                c * d.x() + s * (axis.y() * d.z() - axis.z() * d.y()) + along * axis.x(),
                c * d.y() + s * (axis.z() * d.x() - axis.x() * d.z()) + along * axis.y(),
                c * d.z() + s * (axis.x() * d.y() - axis.y() * d.x()) + along * axis.z());
    }
}
