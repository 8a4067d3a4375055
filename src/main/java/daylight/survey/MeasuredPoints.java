package daylight.survey;

import daylight.car.CarDocument;
import daylight.car.CarFileException;
import daylight.car.MeasuringPractice;
import daylight.car.MeasuringSheet;
import daylight.geometry.Spot;
import daylight.units.Progress;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * The points of a car file as its readings place them: what was measured, and what the survey made of it. Immutable.
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
    /** A point that the survey leaves this near to where the file has it is there: no tape reads a micrometre. */
    private static final double SAME_MM = 1e-3;

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

    static MeasuredPoints of(CarDocument document, MeasuringSheet sheet, Progress progress) {
        MeasuringPractice practice = MeasuringPractice.shipped();
        MeasuringDefaults defaults = MeasuringDefaults.of(practice, sheet.inches());
        Adjustment adjustment = Survey.of(CarNetwork.of(sheet, defaults)).adjust(Survey.Datum.CAR_AXES, progress);
        return new MeasuredPoints(document, sheet, defaults, practice.reachMm(), adjustment);
    }

    /** Returns where the points are that the file has elsewhere or not at all, mm. */
    public Map<String, Spot> places() {
        Map<String, Spot> places = new LinkedHashMap<>();
        for (MeasuringSheet.Entry entry : sheet.points()) {
            Spot found = adjustment.points().spot(entry.name());
            boolean written = entry.written() instanceof MeasuringSheet.Written.At at
                    && at.at().distanceTo(found) <= SAME_MM;
            if (!written && !(entry.written() instanceof MeasuringSheet.Written.ImageOf)) {
                places.put(entry.name(), found);
            }
        }
        return places;
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
