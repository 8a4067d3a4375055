package daylight.survey;

import java.util.HashSet;
import java.util.List;
import java.util.Set;

/**
 * Points and what was read on them: the input of a {@link Survey}.
 *
 * @param points every point that a reading speaks of, each named once; the order is kept in the results
 * @param observations the readings, each named once; the order is kept in the results
 * @param graduation what the tape's long marks are, for naming slips
 */
public record Network(List<SurveyPoint> points, List<Observation> observations, Graduation graduation) {

    /** What the long marks of the tape count, which is what an eye slips by. */
    public enum Graduation {
        /** Inches and feet, with halves to sixteenths between. */
        INCHES,
        /** Centimetres, with millimetres between. */
        MILLIMETRES
    }

    public Network {
        points = List.copyOf(points);
        observations = List.copyOf(observations);
        Set<String> names = new HashSet<>();
        for (SurveyPoint point : points) {
            if (!names.add(point.name())) {
                throw new IllegalArgumentException("two points are called \"" + point.name() + "\"");
            }
        }
        Set<String> readings = new HashSet<>();
        for (Observation observation : observations) {
            if (!readings.add(observation.name())) {
                throw new IllegalArgumentException("two readings are called \"" + observation.name() + "\"");
            }
            for (Equation equation : observation.equations()) {
                for (String point : equation.points()) {
                    if (!names.contains(point)) {
                        throw new IllegalArgumentException("reading \"" + observation.name() + "\" speaks of \"" + point
                                + "\", which is no point");
                    }
                }
            }
        }
    }

    /** Returns the same points with one more reading. */
    public Network with(Observation observation) {
        List<Observation> more = new java.util.ArrayList<>(observations);
        more.add(observation);
        return new Network(points, more, graduation);
    }
}
