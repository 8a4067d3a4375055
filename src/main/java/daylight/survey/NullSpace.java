package daylight.survey;

import daylight.geometry.Direction;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import org.apache.commons.math3.linear.Array2DRowRealMatrix;
import org.apache.commons.math3.linear.RealMatrix;
import org.apache.commons.math3.linear.SingularValueDecomposition;

/** Which directions nothing fixes: the singular values of the weighted equations, and what moves along them. */
final class NullSpace {
    private static final Map<Integer, String> MOTIONS = Map.of(
            0, "fore and aft",
            1, "sideways",
            2, "up and down",
            3, "rolling about the fore-and-aft axis",
            4, "pitching about the sideways axis",
            5, "turning about the vertical");

    /** A motion of the whole belongs to the null space when so much of its length squared lies in it. */
    private static final double WHOLLY = 0.999;
    /** A point is free along a direction when it moves there, squared, by this share of the most mobile point. */
    private static final double PARTLY = 0.05;

    /** With fewer sought points than this beside known ones, each is named by itself. */
    private static final int WHOLE_CAR = 3;

    final double[] covariance;
    final int defect;
    final List<Unfixed> unfixed = new ArrayList<>();
    final List<String> floating = new ArrayList<>();

    NullSpace(Readings compiled, Settling settling, Survey.Datum datum) {
        int n = compiled.unknowns;
        // Rows of zeros below make the matrix at least square, so that the decomposition gives every direction.
        RealMatrix weighted = new Array2DRowRealMatrix(Math.max(compiled.rows, n), n);
        double[] row = new double[n];
        for (int i = 0; i < compiled.rows; i++) {
            if (!settling.aside[i]) {
                Arrays.fill(row, 0);
                compiled.value(i);
                compiled.addGradient(i, 1 / compiled.u[i], row);
                weighted.setRow(i, row);
            }
        }
        SingularValueDecomposition svd = new SingularValueDecomposition(weighted);
        double[] singular = svd.getSingularValues();
        double[][] v = svd.getV().getData();
        int rank = 0;
        while (rank < n && singular[rank] > 1 / SurveyedPoints.LOOSE_MM) {
            rank++;
        }
        defect = n - rank;
        double[][] space = new double[defect][n];
        for (int d = 0; d < defect; d++) {
            for (int j = 0; j < n; j++) {
                space[d][j] = v[j][rank + d];
            }
        }
        // One or two points that swing about known ones are no floating car.
        boolean known = compiled.soughtPoint.length < compiled.pointCount;
        double[][] whole = known && compiled.soughtPoint.length < WHOLE_CAR ? new double[0][] : wholeMotions(compiled);
        double[][] datumSpace = inBoth(space, whole, n);
        double[][] rest = without(space, datumSpace, n);
        for (int m = 0; m < whole.length; m++) {
            if (share(whole[m], space) > WHOLLY) {
                floating.add(MOTIONS.getOrDefault(m, ""));
            }
        }
        if (floating.isEmpty() && datumSpace.length > 0) {
            floating.add("turning about an axis that nothing holds");
        }
        free(compiled, rest);

        covariance = new double[n * n];
        for (int r = 0; r < rank; r++) {
            add(v, r, 1 / (singular[r] * singular[r]), n);
        }
        double loose = SurveyedPoints.LOOSE_MM * SurveyedPoints.LOOSE_MM;
        for (double[] direction : datum == Survey.Datum.FREE && !known ? rest : space) {
            for (int i = 0; i < n; i++) {
                for (int j = 0; j < n; j++) {
                    covariance[i * n + j] += loose * direction[i] * direction[j];
                }
            }
        }
    }

    private void add(double[][] v, int column, double factor, int n) {
        for (int i = 0; i < n; i++) {
            double vi = factor * v[i][column];
            if (vi != 0) {
                for (int j = 0; j < n; j++) {
                    covariance[i * n + j] += vi * v[j][column];
                }
            }
        }
    }

    /** Three shifts and three turns about the middle, of all sought points, each of length one. */
    private static double[][] wholeMotions(Readings compiled) {
        int n = compiled.unknowns;
        double[] middle = new double[3];
        for (int p : compiled.soughtPoint) {
            for (int k = 0; k < 3; k++) {
                middle[k] += compiled.places[3 * p + k] * 3 / n;
            }
        }
        double[][] motions = new double[6][n];
        for (int s = 0; s < compiled.soughtPoint.length; s++) {
            int p = compiled.soughtPoint[s];
            double x = compiled.places[3 * p] - middle[0];
            double y = compiled.places[3 * p + 1] - middle[1];
            double z = compiled.places[3 * p + 2] - middle[2];
            double[][] each = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, {0, -z, y}, {z, 0, -x}, {-y, x, 0}};
            for (int m = 0; m < 6; m++) {
                System.arraycopy(each[m], 0, motions[m], 3 * s, 3);
            }
        }
        for (double[] motion : motions) {
            double size = Math.sqrt(dot(motion, motion));
            for (int j = 0; j < n && size > 0; j++) {
                motion[j] /= size;
            }
        }
        return motions;
    }

    /** An orthonormal basis of what a space has in common with the span of some vectors. */
    private static double[][] inBoth(double[][] space, double[][] vectors, int n) {
        if (space.length == 0) {
            return new double[0][];
        }
        double[][] basis = orthonormal(vectors);
        double[][] gram = new double[space.length][space.length];
        for (double[] b : basis) {
            for (int i = 0; i < space.length; i++) {
                for (int j = 0; j < space.length; j++) {
                    gram[i][j] += dot(space[i], b) * dot(space[j], b);
                }
            }
        }
        SymmetricEigen eigen = new SymmetricEigen(gram);
        List<double[]> common = new ArrayList<>();
        for (int e = 0; e < space.length; e++) {
            if (eigen.value(e) > WHOLLY) {
                common.add(combine(space, eigen.vector(e), n));
            }
        }
        return common.toArray(new double[0][]);
    }

    /** An orthonormal basis of the part of a space at right angles to a part of it. */
    private static double[][] without(double[][] space, double[][] part, int n) {
        if (part.length == 0) {
            return space;
        }
        double[][] gram = new double[space.length][space.length];
        for (int i = 0; i < space.length; i++) {
            gram[i][i] = 1;
            for (int j = 0; j < space.length; j++) {
                for (double[] p : part) {
                    gram[i][j] -= dot(space[i], p) * dot(space[j], p);
                }
            }
        }
        SymmetricEigen eigen = new SymmetricEigen(gram);
        List<double[]> left = new ArrayList<>();
        for (int e = 0; e < space.length; e++) {
            if (eigen.value(e) > 0.5) {
                left.add(combine(space, eigen.vector(e), n));
            }
        }
        return left.toArray(new double[0][]);
    }

    private static double[] combine(double[][] vectors, double[] factors, int n) {
        double[] sum = new double[n];
        for (int i = 0; i < vectors.length; i++) {
            for (int j = 0; j < n; j++) {
                sum[j] += factors[i] * vectors[i][j];
            }
        }
        return sum;
    }

    private static double[][] orthonormal(double[][] vectors) {
        List<double[]> basis = new ArrayList<>();
        for (double[] vector : vectors) {
            double[] left = vector.clone();
            for (int pass = 0; pass < 2; pass++) {
                for (double[] b : basis) {
                    double along = dot(left, b);
                    for (int j = 0; j < left.length; j++) {
                        left[j] -= along * b[j];
                    }
                }
            }
            double size = Math.sqrt(dot(left, left));
            // One point alone cannot turn; two cannot turn about their own line.
            if (size > 1e-6) {
                for (int j = 0; j < left.length; j++) {
                    left[j] /= size;
                }
                basis.add(left);
            }
        }
        return basis.toArray(new double[0][]);
    }

    private static double dot(double[] a, double[] b) {
        double sum = 0;
        for (int i = 0; i < a.length; i++) {
            sum += a[i] * b[i];
        }
        return sum;
    }

    private static double share(double[] vector, double[][] space) {
        double sum = 0;
        for (double[] s : space) {
            double along = dot(vector, s);
            sum += along * along;
        }
        return sum;
    }

    /** Lists the points that move in the rest of the null space, against the most mobile one. */
    private void free(Readings compiled, double[][] rest) {
        int points = compiled.soughtPoint.length;
        SymmetricEigen[] blocks = new SymmetricEigen[points];
        double most = 0;
        for (int s = 0; s < points; s++) {
            double[][] block = new double[3][3];
            for (double[] direction : rest) {
                for (int i = 0; i < 3; i++) {
                    for (int j = 0; j < 3; j++) {
                        block[i][j] += direction[3 * s + i] * direction[3 * s + j];
                    }
                }
            }
            blocks[s] = new SymmetricEigen(block);
            for (int e = 0; e < 3; e++) {
                most = Math.max(most, blocks[s].value(e));
            }
        }
        for (int s = 0; s < points; s++) {
            List<Direction> along = new ArrayList<>();
            for (int e = 0; e < 3; e++) {
                if (blocks[s].value(e) > PARTLY * most) {
                    double[] d = blocks[s].vector(e);
                    along.add(Direction.of(d[0], d[1], d[2]));
                }
            }
            if (!along.isEmpty()) {
                unfixed.add(new Unfixed(compiled.names[compiled.soughtPoint[s]], along));
            }
        }
    }
}
