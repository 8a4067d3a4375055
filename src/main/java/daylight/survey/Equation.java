package daylight.survey;

import java.util.List;

/**
 * One number read, and the function of the points that it is a reading of. Most readings give one equation; a mirror
 * gives three.
 *
 * @param reading name of the observation it belongs to
 * @param part which of the observation's numbers it is; empty where there is only one
 * @param quantity what is read
 * @param points names of the points, in the order of the function's coordinates; each named once
 * @param function what the reading would be with the points in a given place
 * @param reads what was read, mm or radians; finite
 * @param u standard uncertainty of what was read, mm or radians; positive
 * @param signed whether the reading has a sign that may be written down the wrong way round
 */
public record Equation(
        String reading,
        String part,
        Quantity quantity,
        List<String> points,
        PointFunction function,
        double reads,
        double u,
        boolean signed) {

    /** What is read. */
    public enum Quantity {
        /** A length, mm. */
        LENGTH,
        /** An angle, radians. */
        ANGLE
    }

    public Equation {
        points = List.copyOf(points);
        if (points.isEmpty() || points.stream().distinct().count() != points.size()) {
            throw new IllegalArgumentException("reading \"" + reading + "\" needs different points, not " + points);
        }
        if (!Double.isFinite(reads)) {
            throw new IllegalArgumentException("reading \"" + reading + "\" is not a finite number: " + reads);
        }
        if (!(u > 0) || !Double.isFinite(u)) {
            throw new IllegalArgumentException(
                    "reading \"" + reading + "\" needs a standard uncertainty above zero, not " + u);
        }
    }

    /** Returns the reading's name, with the part where there are several. */
    public String label() {
        return part.isEmpty() ? reading : reading + " (" + part + ")";
    }
}
