package daylight.survey;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;

/** What could still be measured with tape and plumb bob: the choice from which the next reading is picked. */
public final class Candidates {
    /** Shorter than this, mm, a tape is not laid between two points. */
    private static final double LEAST_TAPE_MM = 50;

    private Candidates() {}

    /**
     * Returns every plausible reading that has not been taken: heights, offsets ahead of and left of the datum, and
     * distances between any two points not further apart than the tape is long. Whether something stands in the way
     * only the builder can see.
     *
     * @param adjustment where the points are
     * @param defaults how good a new reading would be
     * @param tapeLengthMm length of the tape, mm
     */
    public static List<Observation> all(Adjustment adjustment, MeasuringDefaults defaults, double tapeLengthMm) {
        Set<String> taken = new HashSet<>();
        for (Observation observation : adjustment.network().observations()) {
            taken.add(key(observation));
        }
        SurveyedPoints points = adjustment.points();
        List<String> sought = new ArrayList<>();
        for (SurveyPoint point : adjustment.network().points()) {
            if (point instanceof SurveyPoint.Sought) {
                sought.add(point.name());
            }
        }
        List<Observation> candidates = new ArrayList<>();
        for (String point : sought) {
            var at = points.spot(point);
            double height = Math.max(0, at.z());
            add(
                    candidates,
                    taken,
                    new Observation.Height("height of " + point, point, height, defaults.offsetUMm(height)));
            for (Axis axis : List.of(Axis.FORWARD, Axis.LEFT)) {
                double offset = axis.of(at);
                String name = "offset of " + point + " " + axis.words();
                add(
                        candidates,
                        taken,
                        new Observation.Coordinate(name, point, axis, 0, offset, defaults.offsetUMm(offset)));
            }
        }
        List<String> all = points.names();
        for (int i = 0; i < all.size(); i++) {
            for (int j = i + 1; j < all.size(); j++) {
                String from = all.get(i);
                String to = all.get(j);
                double distance = points.spot(from).distanceTo(points.spot(to));
                boolean oneSought = sought.contains(from) || sought.contains(to);
                if (oneSought && distance >= LEAST_TAPE_MM && distance <= tapeLengthMm) {
                    String name = from + " to " + to;
                    add(
                            candidates,
                            taken,
                            new Observation.Distance(name, from, to, distance, defaults.distanceUMm(distance)));
                }
            }
        }
        return List.copyOf(candidates);
    }

    private static void add(List<Observation> candidates, Set<String> taken, Observation observation) {
        if (!taken.contains(key(observation))) {
            candidates.add(observation);
        }
    }

    /** Two readings of the same thing have the same key; kinds that are no candidates have their own name. */
    private static String key(Observation observation) {
        if (observation instanceof Observation.Height height) {
            return "z " + height.point();
        }
        if (observation instanceof Observation.Coordinate coordinate) {
            return coordinate.axis() == Axis.UP
                    ? "z " + coordinate.point()
                    : coordinate.axis() + " " + coordinate.point();
        }
        if (observation instanceof Observation.Distance distance) {
            boolean order = distance.from().compareTo(distance.to()) < 0;
            return (order ? distance.from() : distance.to()) + "\n" + (order ? distance.to() : distance.from());
        }
        return "\n\n" + observation.name();
    }
}
