package daylight.survey;

import daylight.geometry.Spot;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/**
 * The adjusted points with their covariance: what later computations draw their doubt from. Immutable and
 * thread-safe.
 *
 * <p>Car frame (ISO 8855: x forward, y left, z up), mm. The coordinates of all points, known ones included, stand
 * one after the other, x y z each, in the order of the network; gradients are given in that order. A known point has
 * no uncertainty.
 *
 * <p>A direction in which the readings do not fix a point is carried with a standard uncertainty of
 * {@value #LOOSE_MM} mm, so that whatever rests on it comes out as doubtful as it is.
 */
public final class SurveyedPoints {
    /** Standard uncertainty of a direction that no reading fixes, mm: about the size of a car. */
    public static final double LOOSE_MM = 1000;

    /** A variance that is negative by less than this share of its largest term is rounding. */
    private static final double ROUNDING = 1e-9;

    private final List<String> names;
    private final Map<String, Integer> indexOf = new HashMap<>();
    private final double[] coordinates;
    private final int[] unknownOf;
    private final int unknowns;
    private final double[] covariance;

    SurveyedPoints(List<String> names, double[] coordinates, int[] unknownOf, int unknowns, double[] covariance) {
        this.names = List.copyOf(names);
        this.coordinates = coordinates.clone();
        this.unknownOf = unknownOf.clone();
        this.unknowns = unknowns;
        this.covariance = covariance.clone();
        for (int p = 0; p < names.size(); p++) {
            indexOf.put(names.get(p), p);
        }
    }

    /** The points' names, in network order. */
    public List<String> names() {
        return names;
    }

    /** Returns a fresh array of all coordinates, three for each point, mm. */
    public double[] coordinates() {
        return coordinates.clone();
    }

    /** Returns how many coordinates there are: three for each point. */
    public int coordinateCount() {
        return coordinates.length;
    }

    /**
     * Returns the index of a point's x coordinate; y and z follow.
     *
     * @throws IllegalArgumentException if there is no such point
     */
    public int indexOf(String point) {
        Integer p = indexOf.get(point);
        if (p == null) {
            throw new IllegalArgumentException("no point is called \"" + point + "\"");
        }
        return 3 * p;
    }

    /** Returns where a point is. */
    public Spot spot(String point) {
        int i = indexOf(point);
        return new Spot(coordinates[i], coordinates[i + 1], coordinates[i + 2]);
    }

    /** Returns the covariance of two coordinates by their indices, mm². */
    public double covariance(int i, int j) {
        int ui = unknown(i);
        int uj = unknown(j);
        return ui < 0 || uj < 0 ? 0 : covariance[ui * unknowns + uj];
    }

    /** Returns one standard uncertainty of a point's coordinate, mm. */
    public double standardUncertaintyMm(String point, Axis axis) {
        int i = indexOf(point) + axis.place();
        return Math.sqrt(Math.max(0, covariance(i, i)));
    }

    /** Returns how far either side the coordinate lies 95 times in 100, mm. */
    public double halfWidth95Mm(String point, Axis axis) {
        return Coverage.NORMAL_95 * standardUncertaintyMm(point, axis);
    }

    /**
     * Returns the standard uncertainty of a quantity that follows from the points, to first order, correlations
     * included: two points taped from one peg err together, and their common error often cancels.
     *
     * <p>First order only: where the closest features change within the points' own uncertainty it is too small;
     * {@link GapSimulation} draws samples instead.
     *
     * @param gradient the quantity's change per mm of each coordinate, in the order of {@link #coordinates()}; not
     *     modified
     * @return in the quantity's unit, never negative; zero when nothing it rests on is uncertain
     * @throws IllegalArgumentException if the length does not fit
     * @see "JCGM 100:2008 (GUM), 5.2.2, equation (13)"
     */
    public double standardUncertainty(double[] gradient) {
        double[] g = overUnknowns(gradient);
        double variance = quadratic(covariance, g, unknowns);
        if (variance < 0) {
            double size = 0;
            for (int i = 0; i < unknowns; i++) {
                size += g[i] * g[i] * covariance[i * unknowns + i];
            }
            if (variance < -ROUNDING * size) {
                throw new IllegalStateException(
                        "the covariance of the survey gives a negative variance " + variance + "; please report this");
            }
            return 0;
        }
        return Math.sqrt(variance);
    }

    /** Returns a fresh copy of the gradient's entries that belong to sought points. */
    double[] overUnknowns(double[] gradient) {
        if (gradient.length != coordinates.length) {
            throw new IllegalArgumentException(
                    "a gradient over " + coordinates.length + " coordinates has not " + gradient.length + " entries");
        }
        double[] g = new double[unknowns];
        for (int p = 0; p < unknownOf.length; p++) {
            if (unknownOf[p] >= 0) {
                System.arraycopy(gradient, 3 * p, g, unknownOf[p], 3);
            }
        }
        return g;
    }

    /** Unknown of a coordinate, or -1 where the point is known. */
    int unknown(int coordinate) {
        int first = unknownOf[coordinate / 3];
        return first < 0 ? -1 : first + coordinate % 3;
    }

    int unknowns() {
        return unknowns;
    }

    static double quadratic(double[] matrix, double[] g, int n) {
        double sum = 0;
        for (int i = 0; i < n; i++) {
            if (g[i] != 0) {
                double row = 0;
                for (int j = 0; j < n; j++) {
                    row += matrix[i * n + j] * g[j];
                }
                sum += g[i] * row;
            }
        }
        return sum;
    }
}
