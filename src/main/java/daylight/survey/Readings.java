package daylight.survey;

import daylight.geometry.Spot;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/**
 * A network compiled to arrays: its points as coordinates one after the other, its equations as rows. Holds scratch,
 * so it is not thread-safe.
 *
 * <p>Two numberings: a <i>place</i> is three coordinates of any point, known or sought, in network order; an
 * <i>unknown</i> is one coordinate of a sought point.
 */
final class Readings {
    final int pointCount;
    final int unknowns;
    final int rows;
    final String[] names;
    /** First unknown of a point, or -1 where it is known. */
    final int[] unknownOf;
    /** Point of each block of three unknowns. */
    final int[] soughtPoint;
    /** Places of all points; the known ones are filled in for good. */
    final double[] places;

    final Equation[] equations;
    final int[][] pointsOf;
    final double[] reads;
    final double[] u;

    private final PointFunction[] functions;
    private final double[][] xyz;
    private final double[][] gradient;

    Readings(Network network) {
        List<SurveyPoint> points = network.points();
        pointCount = points.size();
        names = new String[pointCount];
        unknownOf = new int[pointCount];
        places = new double[3 * pointCount];
        Map<String, Integer> indexOf = new HashMap<>();
        int sought = 0;
        for (int p = 0; p < pointCount; p++) {
            names[p] = points.get(p).name();
            indexOf.put(names[p], p);
            if (points.get(p) instanceof SurveyPoint.Known known) {
                unknownOf[p] = -1;
                places[3 * p] = known.at().x();
                places[3 * p + 1] = known.at().y();
                places[3 * p + 2] = known.at().z();
            } else {
                unknownOf[p] = 3 * sought++;
            }
        }
        unknowns = 3 * sought;
        soughtPoint = new int[sought];
        for (int p = 0; p < pointCount; p++) {
            if (unknownOf[p] >= 0) {
                soughtPoint[unknownOf[p] / 3] = p;
            }
        }
        List<Equation> all = new ArrayList<>();
        network.observations().forEach(observation -> all.addAll(observation.equations()));
        rows = all.size();
        equations = all.toArray(new Equation[0]);
        pointsOf = new int[rows][];
        reads = new double[rows];
        u = new double[rows];
        functions = new PointFunction[rows];
        int widest = 0;
        for (int i = 0; i < rows; i++) {
            Equation equation = equations[i];
            pointsOf[i] = equation.points().stream()
                    .mapToInt(name -> indexOf.getOrDefault(name, -1))
                    .toArray();
            reads[i] = equation.reads();
            u[i] = equation.u();
            functions[i] = equation.function();
            widest = Math.max(widest, pointsOf[i].length);
        }
        xyz = new double[widest + 1][];
        gradient = new double[widest + 1][];
        for (int k = 0; k <= widest; k++) {
            xyz[k] = new double[3 * k];
            gradient[k] = new double[3 * k];
        }
    }

    /** Puts unknowns into the places of their points. */
    void put(double[] x) {
        for (int s = 0; s < soughtPoint.length; s++) {
            System.arraycopy(x, 3 * s, places, 3 * soughtPoint[s], 3);
        }
    }

    /** Returns where a point is put. */
    Spot spot(int p) {
        return new Spot(places[3 * p], places[3 * p + 1], places[3 * p + 2]);
    }

    /** Takes the unknowns out of the places. */
    void take(double[] intoX) {
        for (int s = 0; s < soughtPoint.length; s++) {
            System.arraycopy(places, 3 * soughtPoint[s], intoX, 3 * s, 3);
        }
    }

    /** Returns what row i would read with the points where they are put; its {@link #gradient} is then current. */
    double value(int i) {
        int[] points = pointsOf[i];
        double[] at = xyz[points.length];
        for (int k = 0; k < points.length; k++) {
            System.arraycopy(places, 3 * points[k], at, 3 * k, 3);
        }
        return functions[i].valueAt(at, gradient[points.length]);
    }

    /** Returns the adjusted value less the reading, with the points where they are put. */
    double residual(int i) {
        return value(i) - reads[i];
    }

    /** The gradient of the row valued last, by the coordinates of its points in order. Scratch: read it at once. */
    double[] gradient(int i) {
        return gradient[pointsOf[i].length];
    }

    /** Adds w g g' of row i to the lower triangle of a normal matrix, with its current gradient. */
    void addSquare(int i, double weight, double[] intoNormal) {
        int[] points = pointsOf[i];
        double[] g = gradient(i);
        for (int a = 0; a < points.length; a++) {
            int ua = unknownOf[points[a]];
            if (ua < 0) {
                continue;
            }
            for (int b = 0; b < points.length; b++) {
                int ub = unknownOf[points[b]];
                if (ub < 0 || ub > ua) {
                    continue;
                }
                for (int p = 0; p < 3; p++) {
                    double gp = weight * g[3 * a + p];
                    if (gp == 0) {
                        continue;
                    }
                    int row = (ua + p) * unknowns;
                    int last = ub == ua ? p : 2;
                    for (int q = 0; q <= last; q++) {
                        intoNormal[row + ub + q] += gp * g[3 * b + q];
                    }
                }
            }
        }
    }

    /** Adds factor g of row i to a vector over the unknowns, with its current gradient. */
    void addGradient(int i, double factor, double[] into) {
        addGradient(pointsOf[i], gradient(i), factor, into);
    }

    void addGradient(int[] points, double[] g, double factor, double[] into) {
        for (int a = 0; a < points.length; a++) {
            int ua = unknownOf[points[a]];
            if (ua >= 0) {
                for (int p = 0; p < 3; p++) {
                    into[ua + p] += factor * g[3 * a + p];
                }
            }
        }
    }
}
