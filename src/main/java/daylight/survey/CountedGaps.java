package daylight.survey;

import daylight.car.Car;
import daylight.car.CarDocument;
import daylight.car.CarFileException;
import daylight.car.CarVariants;
import daylight.car.Complaint;
import daylight.car.Measurement;
import daylight.car.MeasuringSheet;
import daylight.geometry.Spot;
import daylight.motion.Setting;
import daylight.motion.StandingCar;
import daylight.units.Progress;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * Lets gaps measured between parts help to place the points: an adjustment, the gaps of the car that it gives and how
 * they change with each point, an adjustment with the gaps as straight functions of the points, and so on until the
 * straight functions foretell the gaps.
 *
 * <p>A gap is doubtful by its own reading and by either part's own figures ({@link Car#withinMm}), which no point
 * stands for. The gap of one pair at its least position later counts those figures once more, as independent: on the
 * safe side.
 *
 * <p>Cost: one reading of the mechanisms and of the parts concerned for each coordinate that they rest on, twice or
 * three times over.
 */
final class CountedGaps {
    /** How far a point is nudged, mm: far above the solver's rounding, far below what bends a linkage. */
    private static final double NUDGE_MM = 0.05;
    /** A gap foretold as well as this is settled: a tape in sixteenths reads sixty times coarser. */
    private static final double SETTLED_MM = 0.02;
    /** A gap that changes less than this for a millimetre of a point does not hang on it. */
    private static final double NOTHING = 1e-6;
    /** Gaps of parts that meet at edges may jump from one round to the next; five rounds are twice what others need. */
    private static final int MOST_ROUNDS = 6;

    private final CarDocument document;
    private final MeasuringSheet sheet;
    private final MeasuringDefaults defaults;
    private final List<Measurement.Gap> gaps;
    private final CarVariants variants;

    /** A gap as a straight function of the points about where they were taken to be. */
    private record Tangent(double valueMm, List<String> points, List<Spot> at, List<Double> slopes) {
        Tangent {
            points = List.copyOf(points);
            at = List.copyOf(at);
            slopes = List.copyOf(slopes);
        }

        double valueAt(double[] xyz, double[] intoGradient) {
            double value = valueMm;
            for (int p = 0; p < at.size(); p++) {
                Spot from = at.get(p);
                double[] by = {xyz[3 * p] - from.x(), xyz[3 * p + 1] - from.y(), xyz[3 * p + 2] - from.z()};
                for (int k = 0; k < 3; k++) {
                    intoGradient[3 * p + k] = slopes.get(3 * p + k);
                    value += slopes.get(3 * p + k) * by[k];
                }
            }
            return value;
        }

        double foretold(SurveyedPoints surveyed) {
            double[] xyz = new double[3 * points.size()];
            for (int p = 0; p < points.size(); p++) {
                Spot now = surveyed.spot(points.get(p));
                xyz[3 * p] = now.x();
                xyz[3 * p + 1] = now.y();
                xyz[3 * p + 2] = now.z();
            }
            return valueAt(xyz, new double[xyz.length]);
        }
    }

    private CountedGaps(
            CarDocument document, MeasuringSheet sheet, MeasuringDefaults defaults, List<Measurement.Gap> gaps) {
        this.document = document;
        this.sheet = sheet;
        this.defaults = defaults;
        this.gaps = gaps;
        this.variants = document.variants();
    }

    /**
     * Returns an adjustment that the counted gaps of a sheet take part in; the given one if there are none.
     *
     * @param network the other readings
     * @param without their adjustment
     * @throws CarFileException if a gap cannot take part, with its line, or the car cannot be described
     */
    static Adjustment adjusted(
            CarDocument document,
            MeasuringSheet sheet,
            MeasuringDefaults defaults,
            Network network,
            Adjustment without,
            Progress progress)
            throws CarFileException {
        List<Measurement.Gap> counted = new ArrayList<>();
        for (Measurement reading : sheet.readings()) {
            if (reading instanceof Measurement.Gap gap && gap.counts()) {
                counted.add(gap);
            }
        }
        return counted.isEmpty()
                ? without
                : new CountedGaps(document, sheet, defaults, counted).adjusted(network, without, progress);
    }

    private Adjustment adjusted(Network network, Adjustment without, Progress progress) throws CarFileException {
        // The whole file is read once, so that a misspelt part or handle is complained about as everywhere.
        Car car = document.carWith(sheet.places(without.points()::spot));
        Adjustment now = without;
        List<Tangent> tangents = List.of();
        for (int round = 0; round < MOST_ROUNDS; round++) {
            progress.at((double) round / MOST_ROUNDS, "fitting the gaps measured between parts");
            if (progress.cancelled()) {
                return now;
            }
            Optional<Measurement.Gap> off = unsettled(tangents, now);
            if (round > 0 && off.isEmpty()) {
                return now;
            }
            tangents = tangents(now);
            Network with = network;
            for (int g = 0; g < gaps.size(); g++) {
                Measurement.Gap gap = gaps.get(g);
                Tangent tangent = tangents.get(g);
                with = with.with(new Observation.MeasuredGap(
                        gap.name(), tangent.points, tangent::valueAt, gap.readsMm(), u(gap, car)));
            }
            now = Survey.of(with).adjust(Survey.Datum.CAR_AXES, progress);
        }
        Optional<Measurement.Gap> off = unsettled(tangents, now);
        if (off.isPresent()) {
            throw refused(
                    off.get(),
                    "the points do not come to rest with this gap: it jumps from one place of its parts to another",
                    "Leave counts: away, and it is still held against the computed gap.");
        }
        return now;
    }

    private double u(Measurement.Gap gap, Car car) {
        double own = MeasuredPoints.standardUncertaintyMm(sheet, defaults, gap);
        double first = figures(car, gap.first());
        double second = figures(car, gap.second());
        return Math.sqrt(own * own + first * first + second * second);
    }

    private static double figures(Car car, String part) {
        return MeasuringDefaults.rectangular(
                car.part(part).map(car::withinMm).orElse(car.about().withinMm()));
    }

    /** Returns a gap that its straight function does not foretell where the points are now. */
    private Optional<Measurement.Gap> unsettled(List<Tangent> tangents, Adjustment now) throws CarFileException {
        if (tangents.isEmpty()) {
            return Optional.empty();
        }
        StandingCar standing = new StandingCar(variants.with(sheet.places(now.points()::spot)));
        for (int g = 0; g < gaps.size(); g++) {
            double there = gap(standing, gaps.get(g));
            if (!(Math.abs(there - tangents.get(g).foretold(now.points())) < SETTLED_MM)) {
                return Optional.of(gaps.get(g));
            }
        }
        return Optional.empty();
    }

    private List<Tangent> tangents(Adjustment now) throws CarFileException {
        Map<String, Spot> places = sheet.places(now.points()::spot);
        Car whole = variants.with(places);
        Set<String> wanted = new LinkedHashSet<>();
        gaps.forEach(gap -> {
            wanted.add(gap.first());
            wanted.add(gap.second());
        });
        StandingCar base = new StandingCar(whole.withParts(whole.parts().stream()
                .filter(part -> wanted.contains(part.name()))
                .toList()));
        double[] here = new double[gaps.size()];
        for (int g = 0; g < here.length; g++) {
            here[g] = gap(base, gaps.get(g));
        }
        List<List<String>> points = new ArrayList<>();
        List<List<Spot>> at = new ArrayList<>();
        List<List<Double>> slopes = new ArrayList<>();
        gaps.forEach(gap -> {
            points.add(new ArrayList<>());
            at.add(new ArrayList<>());
            slopes.add(new ArrayList<>());
        });
        for (String point : now.points().names()) {
            if (!variants.pointsUsed(wanted).contains(point)) {
                continue;
            }
            Spot spot = now.points().spot(point);
            double[][] slope = new double[gaps.size()][3];
            for (int axis = 0; axis < 3; axis++) {
                Map<String, Spot> moved = new HashMap<>(places);
                moved.put(
                        point, spot.plus(axis == 0 ? NUDGE_MM : 0, axis == 1 ? NUDGE_MM : 0, axis == 2 ? NUDGE_MM : 0));
                StandingCar nudged = base.changed(variants.with(whole, moved, point, wanted));
                Set<String> differing = nudged.partsThatDifferFrom(base);
                for (int g = 0; g < gaps.size(); g++) {
                    if (differing.contains(gaps.get(g).first())
                            || differing.contains(gaps.get(g).second())) {
                        slope[g][axis] = (gap(nudged, gaps.get(g)) - here[g]) / NUDGE_MM;
                    }
                }
            }
            for (int g = 0; g < gaps.size(); g++) {
                if (Math.abs(slope[g][0]) + Math.abs(slope[g][1]) + Math.abs(slope[g][2]) > NOTHING) {
                    points.get(g).add(point);
                    at.get(g).add(spot);
                    for (double s : slope[g]) {
                        slopes.get(g).add(s);
                    }
                }
            }
        }
        List<Tangent> tangents = new ArrayList<>();
        for (int g = 0; g < gaps.size(); g++) {
            if (points.get(g).isEmpty()) {
                throw refused(
                        gaps.get(g),
                        "no measured point moves \"" + gaps.get(g).first() + "\" against \""
                                + gaps.get(g).second() + "\", so this gap cannot place any",
                        "Leave counts: away, and it is still held against the computed gap.");
            }
            tangents.add(new Tangent(here[g], points.get(g), at.get(g), slopes.get(g)));
        }
        return tangents;
    }

    private double gap(StandingCar car, Measurement.Gap gap) throws CarFileException {
        double found = car.gap(gap.first(), gap.second(), MeasuredPoints.settings(car, gap), List.<Setting>of());
        if (Double.isNaN(found)) {
            throw refused(
                    gap,
                    "the car cannot stand where this gap was measured",
                    "Look at at:, or leave counts: away, and the points are placed without it.");
        }
        return found;
    }

    private CarFileException refused(Measurement.Gap gap, String found, String advice) {
        return new CarFileException(List.of(new Complaint(
                Complaint.Kind.CONTRADICTION, sheet.file(), gap.line(), gap.column(), found, "", advice)));
    }
}
