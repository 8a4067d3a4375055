package daylight.hose;

import daylight.car.Car;
import daylight.clearance.GapRow;
import daylight.clearance.LeftOut;
import daylight.clearance.State;
import daylight.geometry.Proximity;
import daylight.motion.Kinematics;
import daylight.motion.Workspace;
import daylight.units.Progress;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.List;
import java.util.Optional;

/**
 * Judges every flexible line of a car over everything the car can do, and says which length to buy and how to set
 * fittings that can be turned.
 *
 * <p>Lines are shared between threads; the result does not depend on how many there are.
 */
public final class HoseSearch {
    /** Gaps wider than their rule by this are no news beside a hose. */
    private static final double INTEREST_MM = 30;

    private final Car car;
    private final Kinematics kinematics;
    private final CarSolids solids;

    private HoseSearch(Car car) {
        this.car = car;
        this.kinematics = Workspace.of(car).kinematics();
        solids = CarSolids.of(car, kinematics);
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
     * @param threads how many threads may work
     * @return the reports, or empty if the work was cancelled
     */
    public Optional<List<HoseReport>> run(int threads, Progress progress) {
        return findings(ShapeWalk.WATCH_MM, threads, progress).map(HoseFindings::reports);
    }

    /** Judges all lines on one thread. */
    public Optional<List<HoseReport>> run(Progress progress) {
        return run(1, progress);
    }

    /**
     * Judges all lines and gives their rows in the table of gaps, each line looked at once.
     *
     * @param watchMm parts and lines that a line cannot come nearer to than this are far, mm
     * @param threads how many threads may work
     * @return what was found, or empty if the work was cancelled
     */
    public Optional<HoseFindings> findings(double watchMm, int threads, Progress progress) {
        Optional<List<Judged>> lines = Sharing.inOrder(
                car.hoses(),
                threads,
                progress,
                Car.Hose::name,
                hose -> new OneHose(hose, kinematics.sibling(), solids, watchMm).judged());
        return lines.flatMap(judged ->
                LinePair.all(car, kinematics, watchMm, threads, progress).map(pairs -> findings(judged, pairs)));
    }

    /** One line's report, and its rows against the parts. */
    private record Judged(HoseReport report, HoseGaps.Found found) {}

    private static HoseFindings findings(List<Judged> judged, List<HoseGaps.Found> pairs) {
        List<GapRow> rows = new ArrayList<>();
        List<LeftOut> leftOut = new ArrayList<>();
        long boxes = 0;
        List<HoseGaps.Found> all =
                new ArrayList<>(judged.stream().map(Judged::found).toList());
        all.addAll(pairs);
        for (HoseGaps.Found found : all) {
            rows.addAll(found.rows());
            leftOut.addAll(found.leftOut());
            boxes += found.boxes();
        }
        List<GapRow> between =
                pairs.stream().flatMap(found -> found.rows().stream()).toList();
        List<HoseReport> reports = judged.stream()
                .map(line -> line.report.beside(touches(line.report.hose().name(), between)))
                .toList();
        return new HoseFindings(reports, rows, leftOut, boxes);
    }

    /** What a line comes near of the other lines. */
    private static List<HoseReport.Touch> touches(String line, List<GapRow> between) {
        List<HoseReport.Touch> touches = new ArrayList<>();
        for (GapRow row : between) {
            boolean isFirst = row.first().equals(line);
            Proximity near = row.least().found();
            if ((isFirst || row.second().equals(line))
                    && (row.state() != State.CLEAR || near.distanceMm() < ShapeWalk.WATCH_MM)) {
                touches.add(new HoseReport.Touch(
                        isFirst ? row.second() : row.first(),
                        near.distanceMm(),
                        row.requiredMm(),
                        row.rule(),
                        row.state(),
                        row.least().where(),
                        isFirst ? near.onA() : near.onB(),
                        isFirst ? near.onB() : near.onA()));
            }
        }
        return touches;
    }

    /** One line's judgement; on one thread. */
    private static final class OneHose {
        private final Car.Hose hose;
        private final Stances stances;
        private final CarSolids solids;
        private final double watchMm;
        /** Parts that the longest of the lengths can reach. */
        private final BitSet reachable;

        OneHose(Car.Hose hose, Kinematics kinematics, CarSolids solids, double watchMm) {
            this.hose = hose;
            stances = new Stances(kinematics);
            this.solids = solids;
            this.watchMm = watchMm;
            double longest = hose.stockLengthsMm().stream()
                    .mapToDouble(Double::doubleValue)
                    .reduce(hose.freeLengthMm(), Math::max);
            LineTravel line = new LineTravel(hose.withFreeLength(longest), stances);
            reachable = new Neighbours(line, solids, ShapeWalk.WATCH_MM).reachable();
        }

        Judged judged() {
            OneLine one = new OneLine(hose, stances, solids, watchMm);
            ShapeWalk walk = one.walk;
            List<HoseReport.Touch> touches = walk.touches();
            List<HoseReport.Trouble> troubles = troubles(walk, one.slack, touches);
            List<HoseReport.Stock> stock = new ArrayList<>();
            for (double length : hose.stockLengthsMm()) {
                if (reachesAtRide(length)) {
                    stock.add(stock(hose.withFreeLength(length), Optional.of(one.slack)));
                }
            }
            HoseReport report = new HoseReport(
                    hose,
                    troubles,
                    one.slack,
                    walk.bend(),
                    walk.twist(),
                    touches,
                    walk.sampling(),
                    walk.jumps(),
                    walk.eitherSide(),
                    stock,
                    new Clocking(hose, stances, tried -> stock(tried, Optional.empty()))
                            .better(troubles, walk.bend().tightestRadiusMm(), stock));
            return new Judged(report, new HoseGaps.Found(one.rows(), one.leftOut(), one.boxes()));
        }

        private Neighbours neighbours(LineTravel line) {
            return new Neighbours(line, solids, INTEREST_MM, reachable);
        }

        /** A length that does not even reach as the car stands needs no travel to be ruled out. */
        private boolean reachesAtRide(double length) {
            return hose.clips().isEmpty()
                    ? length > hose.from().mouth().distanceTo(hose.to().mouth())
                    : length > hose.clips().get(hose.clips().size() - 1).afterMm();
        }

        /** Judges another length or setting; the slack of the line as it is saves a search where only the length differs. */
        private HoseReport.Stock stock(Car.Hose tried, Optional<HoseReport.Slack> known) {
            LineTravel line = new LineTravel(tried, stances);
            HoseReport.Slack slack = known.filter(as -> tried.clips().isEmpty())
                    .map(as -> longer(as, tried.freeLengthMm() - hose.freeLengthMm()))
                    .orElseGet(() -> new SlackSearch(line).search());
            if (slack.leastMm() < 0) {
                // Ruled out by its slack; what shape it would take does not matter.
                return new HoseReport.Stock(
                        tried.freeLengthMm(),
                        List.of(HoseReport.Trouble.TAUT),
                        slack.floorMm(),
                        0,
                        0,
                        Optional.empty());
            }
            ShapeWalk walk = new ShapeWalk(line, Optional.of(neighbours(line)));
            walk.walk();
            walk.refine();
            List<HoseReport.Touch> touches = walk.touches();
            return new HoseReport.Stock(
                    tried.freeLengthMm(),
                    troubles(walk, slack, touches),
                    slack.floorMm(),
                    walk.bend().tightestRadiusMm(),
                    walk.twist().greatestRad(),
                    touches.stream().findFirst());
        }
    }

    /** The shortest path does not depend on the hose: without clips a longer hose has as much more slack. */
    private static HoseReport.Slack longer(HoseReport.Slack slack, double moreMm) {
        return new HoseReport.Slack(
                slack.rideMm() + moreMm,
                slack.leastMm() + moreMm,
                slack.where(),
                slack.floorMm() + moreMm,
                slack.unproved(),
                0);
    }

    private static List<HoseReport.Trouble> troubles(
            ShapeWalk walk, HoseReport.Slack slack, List<HoseReport.Touch> touches) {
        List<HoseReport.Trouble> troubles = new ArrayList<>();
        if (OneLine.taut(walk, slack)) {
            troubles.add(HoseReport.Trouble.TAUT);
        }
        if (walk.kinks()) {
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
}
