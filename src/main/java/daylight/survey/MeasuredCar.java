package daylight.survey;

import daylight.car.Car;
import daylight.car.CarDocument;
import daylight.car.CarFile;
import daylight.car.CarFileException;
import daylight.car.Complaint;
import daylight.car.Measurement;
import daylight.car.MeasuringSheet;
import daylight.geometry.Spot;
import daylight.units.Progress;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;

/**
 * The car that every other computation starts from: its points where the tape puts them, its mechanisms and parts
 * after them.
 *
 * <pre>{@code
 * MeasuredCar measured = MeasuredCar.read(Path.of("demo/harbour-pickup.yaml"));
 * GapSearch.of(measured.car(), Asked.USUAL);
 * }</pre>
 *
 * <p>A file with nothing but coordinates gives the car as it is written, and costs nothing more than reading it. A
 * reading that cannot be right is left out of the points ({@link #suspects} names it).
 *
 * @param car the car
 * @param document its file
 * @param points what the survey made of the readings; empty where there was nothing to adjust
 */
public record MeasuredCar(Car car, CarDocument document, Optional<MeasuredPoints> points) {
    /** How far a point is moved to see whether the car hangs on it, mm: less than what would tear a linkage apart. */
    private static final double NUDGE_MM = 0.5;
    /** A complaint that names more readings is not read to its end. */
    private static final int MOST_NAMED = 8;

    /**
     * Reads a car file and places its points.
     *
     * @throws CarFileException with every complaint, also where the readings do not fix a point that the car needs
     */
    public static MeasuredCar read(Path file) throws CarFileException {
        return of(CarFile.open(file));
    }

    /**
     * Places the points of a car file.
     *
     * @throws CarFileException with every complaint, also where the readings do not fix a point that the car needs
     */
    public static MeasuredCar of(CarDocument document) throws CarFileException {
        if (!document.hasReadings()) {
            Car car = document.car();
            if (car.mirrorChecks().isEmpty()) {
                return new MeasuredCar(car, document, Optional.empty());
            }
        }
        MeasuringSheet sheet = document.sheet();
        if (sheet.onlyCoordinates()) {
            return new MeasuredCar(document.car(), document, Optional.empty());
        }
        MeasuredPoints points = MeasuredPoints.of(document, sheet, Progress.SILENT);
        Map<String, Spot> places = points.places();
        Car car = document.carWith(places);
        refuseWhatIsNotFixed(points, car, places);
        return new MeasuredCar(car, document, Optional.of(points));
    }

    /** Readings that do not agree with the others and were left out, worst first. */
    public List<Suspect> suspects() {
        return points.map(p -> p.adjustment().suspects()).orElse(List.of());
    }

    /**
     * Returns whether a gap between two parts was measured on the car.
     *
     * @throws CarFileException if the car's file cannot be read as such
     */
    public boolean hasMeasuredGaps() throws CarFileException {
        if (points.isEmpty() && !document.hasReadings()) {
            return false;
        }
        MeasuringSheet sheet = points.isPresent() ? points.get().sheet() : document.sheet();
        return sheet.readings().stream().anyMatch(Measurement.Gap.class::isInstance);
    }

    /** Returns the points with their doubt, adjusted now where there was no need before. */
    public MeasuredPoints surveyed() throws CarFileException {
        return points.isPresent() ? points.get() : MeasuredPoints.of(document, Progress.SILENT);
    }

    /**
     * Returns the car as it is when some of its points lie elsewhere than the survey puts them.
     *
     * @param moved places by name, mm
     * @throws CarFileException if there is no such car: two points in one spot, for example
     */
    public Car carWith(Map<String, Spot> moved) throws CarFileException {
        Map<String, Spot> places = points.map(MeasuredPoints::places).orElseGet(HashMap::new);
        places.putAll(moved);
        return document.carWith(places);
    }

    private static void refuseWhatIsNotFixed(MeasuredPoints points, Car car, Map<String, Spot> places)
            throws CarFileException {
        Adjustment adjustment = points.adjustment();
        List<String> loose = new ArrayList<>();
        adjustment.unfixed().forEach(unfixed -> loose.add(unfixed.point()));
        adjustment.mirrorChoices().forEach(choice -> loose.add(choice.point()));
        List<String> needed = new ArrayList<>();
        for (String point : loose) {
            if (needs(points.document(), car, places, point)) {
                needed.add(point);
            }
        }
        if (!needed.isEmpty()) {
            throw new CarFileException(List.of(complaint(points, needed)));
        }
    }

    /** A floor mark that only the tape knows may stay loose; a pivot may not. */
    private static boolean needs(CarDocument document, Car car, Map<String, Spot> places, String point) {
        Map<String, Spot> nudged = new HashMap<>(places);
        Spot at = places.get(point);
        if (at == null) {
            return false;
        }
        nudged.put(point, at.plus(NUDGE_MM, NUDGE_MM, NUDGE_MM));
        try {
            Car other = document.carWith(nudged);
            return !other.mechanisms().equals(car.mechanisms())
                    || !other.parts().equals(car.parts())
                    || !other.hoses().equals(car.hoses())
                    || !other.limits().equals(car.limits())
                    || !other.wheels().equals(car.wheels());
        } catch (CarFileException torn) {
            // The car does not even stand without it.
            return true;
        }
    }

    private static Complaint complaint(MeasuredPoints points, List<String> needed) {
        Adjustment adjustment = points.adjustment();
        MeasuringSheet.Entry first = points.sheet().points().stream()
                .filter(entry -> entry.name().equals(needed.get(0)))
                .findFirst()
                .orElseThrow();
        String what = needed.stream()
                .map(name -> "\"" + name + "\" "
                        + adjustment.unfixed().stream()
                                .filter(unfixed -> unfixed.point().equals(name))
                                .findFirst()
                                .map(Unfixed::words)
                                .orElse("to one of two places"))
                .collect(Collectors.joining(", "));
        // Readings that contradict one another are what to look at: with them right, the point may well be fixed.
        List<String> wrong = adjustment.suspects().stream()
                .flatMap(suspect -> suspect.accused().stream())
                .map(accused -> "\"" + accused.reading() + "\"")
                .distinct()
                .limit(MOST_NAMED)
                .toList();
        if (!wrong.isEmpty()) {
            return new Complaint(
                    Complaint.Kind.MISSING,
                    points.sheet().file(),
                    first.line(),
                    first.column(),
                    "readings contradict one another, and those that can stand together do not fix " + what,
                    "",
                    "Read again " + String.join(", ", wrong) + ".");
        }
        int missing = Math.max(1, adjustment.rankDefect());
        List<NextReading> next =
                adjustment.next(new NextReading.Goal.Points(), points.candidates(), Math.min(missing, 3));
        String advice = next.isEmpty() || !adjustment.mirrorChoices().isEmpty()
                ? "Write near: [ahead, left, up] for it, or measure its height."
                : "Measure " + next.stream().map(n -> n.candidate().name()).collect(Collectors.joining(", and "))
                        + (missing > next.size() ? ", to begin with." : ".");
        return new Complaint(
                Complaint.Kind.MISSING,
                points.sheet().file(),
                first.line(),
                first.column(),
                "the readings do not fix " + what,
                "",
                advice);
    }
}
