package daylight.survey;

import daylight.car.CarDocument;
import daylight.car.CarFileException;
import daylight.car.Measurement;
import daylight.car.MeasuringPractice;
import daylight.car.MeasuringSheet;
import daylight.geometry.Spot;
import daylight.motion.Setting;
import daylight.motion.StandingCar;
import daylight.units.Progress;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;

/**
 * The points of a car file as its readings place them: what was measured, and what the survey made of it. Immutable.
 *
 * <p>A gap measured between two parts takes part where the file says {@code counts: true}.
 *
 * <p>A reading that cannot be right ({@link Adjustment#suspects}) is left out of the points, so that one slip of the
 * tape bends nothing; it is for the builder to look at.
 *
 * @param document the file
 * @param sheet what was measured
 * @param defaults how good a reading is that does not say
 * @param reachMm how far a tape runs straight, mm: nothing longer is proposed
 * @param adjustment what the survey made of it
 */
public record MeasuredPoints(
        CarDocument document, MeasuringSheet sheet, MeasuringDefaults defaults, double reachMm, Adjustment adjustment) {
    /** A handle written so near beyond its end, mm or radians, is at its end. */
    private static final double AT_THE_END = 1e-4;

    /** How many readings are proposed of either sort. */
    private static final int PROPOSALS = 3;

    /**
     * Adjusts the points of a car file.
     *
     * @param progress told how far the work is
     * @throws CarFileException with every complaint about the file
     */
    public static MeasuredPoints of(CarDocument document, Progress progress) throws CarFileException {
        return of(document, document.sheet(), progress);
    }

    static MeasuredPoints of(CarDocument document, MeasuringSheet sheet, Progress progress) throws CarFileException {
        MeasuringPractice practice = MeasuringPractice.shipped();
        MeasuringDefaults defaults = MeasuringDefaults.of(practice, sheet.inches());
        Network network = CarNetwork.of(sheet, defaults);
        Adjustment adjustment = CountedGaps.adjusted(
                document,
                sheet,
                defaults,
                network,
                Survey.of(network).adjust(Survey.Datum.CAR_AXES, progress),
                progress);
        return new MeasuredPoints(document, sheet, defaults, practice.reachMm(), adjustment);
    }

    /** Returns where the points are that the file has elsewhere or not at all, mm. */
    public Map<String, Spot> places() {
        return sheet.places(adjustment.points()::spot);
    }

    /** Returns one standard uncertainty of a gap measured between two parts, mm. */
    public double standardUncertaintyMm(Measurement.Gap gap) {
        return standardUncertaintyMm(sheet, defaults, gap);
    }

    static double standardUncertaintyMm(MeasuringSheet sheet, MeasuringDefaults defaults, Measurement.Gap gap) {
        return gap.within()
                .or(sheet::withinMm)
                .map(MeasuringDefaults::rectangular)
                .orElseGet(() -> defaults.distanceUMm(gap.readsMm()));
    }

    /** Returns where the car stood when a gap was measured; handles that are not named are at ride height. */
    public static List<Setting> settings(StandingCar car, Measurement.Gap gap) {
        List<Setting> settings = new ArrayList<>();
        new TreeMap<>(gap.handles())
                .forEach((name, value) -> car.handle(name).ifPresent(handle -> {
                    // 3 1/2 in is 88.9 mm, and the end of the travel may be a rounding less.
                    double within = Math.min(handle.highest(), Math.max(handle.lowest(), value));
                    settings.add(
                            new Setting(name, Math.abs(within - value) < AT_THE_END ? within : value, handle.turns()));
                }));
        return settings;
    }

    /** Returns what could still be measured. */
    public List<Observation> candidates() {
        return Candidates.all(adjustment, defaults, reachMm);
    }

    /** Returns what the survey says to its builder. */
    public SurveyReport report() {
        return SurveyReport.of(adjustment, candidates(), PROPOSALS);
    }
}
