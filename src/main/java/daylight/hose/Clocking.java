package daylight.hose;

import daylight.car.Car;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.TreeSet;
import java.util.function.Function;

/**
 * Looks for a better way to set the fittings that can be turned about their bolts before they are tightened: one end at
 * a time in steps of 15 degrees, then both in steps of 45, with the length as it is and with each stock length.
 *
 * <p>Every setting is first judged by its tightest bend on a coarse walk of the travel, without slack and gaps; only
 * the best of them are judged in full.
 */
final class Clocking {
    private static final double STEP_RAD = Math.toRadians(15);
    private static final double BOTH_STEP_RAD = Math.toRadians(45);
    /** A setting of a line that passes as it is helps when it opens the tightest bend by this factor. */
    private static final double HELPS = 1.25;
    /** So many of the best settings are judged in full for each length. */
    private static final int JUDGED = 4;
    /** Movements whose ends are tried one by one. */
    private static final int CORNERS = 4;

    private final Car.Hose hose;
    private final Stances stances;
    private final Function<Car.Hose, HoseReport.Stock> judge;

    /** How far each end is turned, and the tightest bend on the coarse walk. */
    private record Setting(double fromRad, double toRad, double tightestMm) {}

    /** @param judge judges a line in full */
    Clocking(Car.Hose hose, Stances stances, Function<Car.Hose, HoseReport.Stock> judge) {
        this.hose = hose;
        this.stances = stances;
        this.judge = judge;
    }

    /**
     * Returns a setting with which the line, or a shorter stock length than without it, passes everywhere; for a line
     * that passes as it is, one that bends it much less.
     *
     * @param troubles of the line as it is set
     * @param tightestMm its tightest bend
     * @param stock the stock lengths as it is set
     */
    Optional<HoseReport.Turned> better(
            List<HoseReport.Trouble> troubles, double tightestMm, List<HoseReport.Stock> stock) {
        if (hose.from().turnsAbout().isEmpty() && hose.to().turnsAbout().isEmpty()) {
            return Optional.empty();
        }
        if (troubles.isEmpty()) {
            return best(hose.freeLengthMm(), HELPS * tightestMm);
        }
        double shortest = stock.stream()
                .filter(tried -> tried.troubles().isEmpty())
                .mapToDouble(HoseReport.Stock::lengthMm)
                .min()
                .orElse(Double.POSITIVE_INFINITY);
        TreeSet<Double> lengths = new TreeSet<>(List.of(hose.freeLengthMm()));
        stock.forEach(tried -> lengths.add(tried.lengthMm()));
        for (double length : lengths) {
            if (length >= shortest) {
                break;
            }
            Optional<HoseReport.Turned> found = best(length, 0);
            if (found.isPresent()) {
                return found;
            }
        }
        return Optional.empty();
    }

    private Optional<HoseReport.Turned> best(double lengthMm, double openMm) {
        Optional<HoseReport.Turned> one = judged(lengthMm, openMm, oneEnd());
        boolean both =
                hose.from().turnsAbout().isPresent() && hose.to().turnsAbout().isPresent();
        return one.isPresent() || !both ? one : judged(lengthMm, openMm, bothEnds());
    }

    private List<Setting> oneEnd() {
        List<Setting> settings = new ArrayList<>();
        for (double angle = STEP_RAD; angle < 2 * Math.PI - STEP_RAD / 2; angle += STEP_RAD) {
            double turn = Math.IEEEremainder(angle, 2 * Math.PI);
            if (hose.from().turnsAbout().isPresent()) {
                settings.add(new Setting(turn, 0, 0));
            }
            if (hose.to().turnsAbout().isPresent()) {
                settings.add(new Setting(0, turn, 0));
            }
        }
        return settings;
    }

    private static List<Setting> bothEnds() {
        List<Setting> settings = new ArrayList<>();
        for (double from = BOTH_STEP_RAD; from < 2 * Math.PI - BOTH_STEP_RAD / 2; from += BOTH_STEP_RAD) {
            for (double to = BOTH_STEP_RAD; to < 2 * Math.PI - BOTH_STEP_RAD / 2; to += BOTH_STEP_RAD) {
                settings.add(
                        new Setting(Math.IEEEremainder(from, 2 * Math.PI), Math.IEEEremainder(to, 2 * Math.PI), 0));
            }
        }
        return settings;
    }

    private Optional<HoseReport.Turned> judged(double lengthMm, double openMm, List<Setting> settings) {
        List<Setting> promising = new ArrayList<>();
        for (Setting setting : settings) {
            LineTravel line = new LineTravel(set(lengthMm, setting), stances);
            if (shortAtACorner(line)) {
                continue;
            }
            ShapeWalk quick = ShapeWalk.coarse(line);
            quick.walk();
            double tightest = quick.bend().tightestRadiusMm();
            if (!quick.taut() && !quick.unsettled() && tightest >= Math.max(openMm, line.radiusMm)) {
                promising.add(new Setting(setting.fromRad, setting.toRad, tightest));
            }
        }
        promising.sort(Comparator.comparingDouble(setting -> -setting.tightestMm));
        for (Setting setting : promising.subList(0, Math.min(JUDGED, promising.size()))) {
            Car.Hose tried = set(lengthMm, setting);
            HoseReport.Stock result = judge.apply(tried);
            if (result.troubles().isEmpty() && result.tightestRadiusMm() >= openMm) {
                return Optional.of(new HoseReport.Turned(
                        setting.fromRad,
                        setting.toRad,
                        tried.from().leaves(),
                        tried.to().leaves(),
                        result));
            }
        }
        return Optional.empty();
    }

    /** Whether the line is pulled tight at ride height or where all its movements are at an end. */
    private static boolean shortAtACorner(LineTravel line) {
        SlackSearch slack = new SlackSearch(line);
        int count = Math.min(CORNERS, line.freedoms.size());
        double[] at = new double[line.freedoms.size()];
        for (int corner = 0; corner < 1 << count; corner++) {
            for (int f = 0; f < count; f++) {
                LineTravel.Freedom freedom = line.freedoms.get(f);
                at[f] = (corner >> f & 1) == 0 ? freedom.lowest() : freedom.highest();
            }
            if (line.stand(at) && slack.slackMm(at) < 0) {
                return true;
            }
        }
        return false;
    }

    private Car.Hose set(double lengthMm, Setting setting) {
        return hose.withFreeLength(lengthMm)
                .withFittings(turned(hose.from(), setting.fromRad), turned(hose.to(), setting.toRad));
    }

    private static Car.Hose.Fitting turned(Car.Hose.Fitting fitting, double angle) {
        return fitting.turnsAbout()
                .map(bolt -> new Car.Hose.Fitting(
                        fitting.body(),
                        fitting.at(),
                        fitting.leaves().turned(bolt, angle),
                        fitting.straightMm(),
                        fitting.swivels(),
                        fitting.turnsAbout()))
                .orElse(fitting);
    }
}
