package daylight.survey;

/** Gradients of all equations over the unknowns at the adjusted points, a few entries each. Immutable. */
final class SparseRows {
    private final int unknowns;
    private final int[][] columns;
    private final double[][] values;

    /** Takes the gradients at the places that the readings hold. */
    SparseRows(Readings readings) {
        unknowns = readings.unknowns;
        columns = new int[readings.rows][];
        values = new double[readings.rows][];
        for (int i = 0; i < readings.rows; i++) {
            readings.value(i);
            double[] g = readings.gradient(i);
            int[] points = readings.pointsOf[i];
            int sought = 0;
            for (int p : points) {
                sought += readings.unknownOf[p] >= 0 ? 3 : 0;
            }
            columns[i] = new int[sought];
            values[i] = new double[sought];
            int at = 0;
            for (int a = 0; a < points.length; a++) {
                int first = readings.unknownOf[points[a]];
                for (int k = 0; k < 3 && first >= 0; k++) {
                    columns[i][at] = first + k;
                    values[i][at++] = g[3 * a + k];
                }
            }
        }
    }

    /** Returns the product of row i with a vector over the unknowns. */
    double dot(int i, double[] vector) {
        double sum = 0;
        for (int k = 0; k < columns[i].length; k++) {
            sum += values[i][k] * vector[columns[i][k]];
        }
        return sum;
    }

    /** Returns row i times a symmetric matrix over the unknowns times row i. */
    double quadratic(int i, double[] matrix) {
        double sum = 0;
        for (int k = 0; k < columns[i].length; k++) {
            for (int l = 0; l < columns[i].length; l++) {
                sum += values[i][k] * values[i][l] * matrix[columns[i][k] * unknowns + columns[i][l]];
            }
        }
        return sum;
    }

    /** Returns row i with its zeros, a fresh array. */
    double[] dense(int i) {
        double[] row = new double[unknowns];
        for (int k = 0; k < columns[i].length; k++) {
            row[columns[i][k]] += values[i][k];
        }
        return row;
    }
}
