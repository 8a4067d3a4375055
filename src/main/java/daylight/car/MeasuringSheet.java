package daylight.car;

import daylight.geometry.Spot;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;

/**
 * Everything that was measured on a car, as its file has it: the points with what is written of their places, and the
 * readings. Lengths in mm, car frame at ride height.
 *
 * @param file what complaints call the file
 * @param inches whether the tape is read in inches (else in millimetres)
 * @param withinMm half width within which a length is trusted unless it says otherwise, where the file gives one
 * @param points the points in file order, then the mirror images that a reading speaks of; none is a further name of
 *     another
 * @param readings the readings in file order
 */
public record MeasuringSheet(
        String file, boolean inches, Optional<Double> withinMm, List<Entry> points, List<Measurement> readings) {

    /** A point found this near to where the file has it is there: no tape reads a micrometre. */
    private static final double SAME_MM = 1e-3;

    public MeasuringSheet {
        points = List.copyOf(points);
        readings = List.copyOf(readings);
    }

    /**
     * A point with what is written of its place.
     *
     * @param line where its name is written, first is 1; 1 for an image, which is not written
     * @param column likewise
     * @param withinMm half width within which each written coordinate is trusted
     */
    public record Entry(String name, int line, int column, Written written, double withinMm) {}

    /** What the file says of a point's place. */
    public sealed interface Written {
        /** Its three coordinates were measured. */
        record At(Spot at) implements Written {}

        /** Only readings place it; a guess helps to choose between two places, and carries no weight. */
        record ByTape(Optional<Spot> near) implements Written {}

        /** It was measured from another point, so far ahead, left and up. */
        record From(String point, Spot by) implements Written {}

        /** It is the mirror image of a point, on a side that the file does not describe. */
        record ImageOf(String point) implements Written {}
    }

    /**
     * Returns where the points are that the file has elsewhere or not at all.
     *
     * @param found where each point is, by its name
     */
    public Map<String, Spot> places(Function<String, Spot> found) {
        Map<String, Spot> places = new LinkedHashMap<>();
        for (Entry entry : points) {
            Spot at = found.apply(entry.name());
            boolean there = entry.written() instanceof Written.At written
                    && written.at().distanceTo(at) <= SAME_MM;
            if (!there && !(entry.written() instanceof Written.ImageOf)) {
                places.put(entry.name(), at);
            }
        }
        return places;
    }

    /** Whether nothing but coordinates was measured, so that there is nothing to adjust. */
    public boolean onlyCoordinates() {
        return readings.stream().allMatch(reading -> reading instanceof Measurement.Gap gap && !gap.counts())
                && points.stream().noneMatch(entry -> entry.written() instanceof Written.ByTape);
    }
}
