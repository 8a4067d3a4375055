package daylight.survey;

import daylight.survey.Suspect.Accused;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** Names what may be wrong with each reading that was set aside, and what else might be wrong instead of it. */
final class Accusation {
    private final Network network;
    private final Readings readings;
    private final Settling settling;
    private final Map<String, Observation> byName = new HashMap<>();

    Accusation(Network network, Readings readings, Settling settling) {
        this.network = network;
        this.readings = readings;
        this.settling = settling;
        network.observations().forEach(observation -> byName.put(observation.name(), observation));
    }

    /** The suspects, worst first. */
    List<Suspect> suspects() {
        List<Integer> aside = new ArrayList<>();
        for (int i = 0; i < readings.rows; i++) {
            if (settling.aside[i]) {
                aside.add(i);
            }
        }
        aside.sort((a, b) -> Double.compare(Math.abs(settling.standardised(b)), Math.abs(settling.standardised(a))));
        return aside.stream().map(i -> suspect(i, aside)).toList();
    }

    private Suspect suspect(int i, List<Integer> aside) {
        double u = Math.sqrt(readings.u[i] * readings.u[i] + settling.spread[i]);
        List<Accused> accused = new ArrayList<>();
        accused.add(accused(i, readings.reads[i] + settling.residual[i], u, settling.standardised(i), aside));
        double[] without = settling.x.clone();
        double[] half = new double[without.length];
        for (int k = 0; k < half.length; k++) {
            half[k] = Coverage.NORMAL_95 * Math.sqrt(Math.max(0, settling.covariance[k * half.length + k]));
        }
        Settling.State settled = settling.new State();
        boolean[] inDoubt = new boolean[readings.pointCount];
        // With the reading put back, whatever stands out as much might be the wrong one instead.
        settling.putBack(i);
        double w = settling.standardised(i);
        for (int j = 0; j < readings.rows; j++) {
            double wj = settling.standardised(j);
            if (j != i
                    && !settling.aside[j]
                    && Math.abs(wj) > settling.critical
                    && wj * wj > w * w - Settling.SEPARABLE) {
                double redundancy = settling.redundancy(j);
                double fits = readings.reads[j] + settling.residual[j] / redundancy;
                accused.add(accused(j, fits, readings.u[j] / Math.sqrt(redundancy), wj, aside));
                doubt(j, without, half, inDoubt);
            }
        }
        settled.restore();
        List<String> points = new ArrayList<>();
        for (int p = 0; p < inDoubt.length; p++) {
            if (inDoubt[p]) {
                points.add(readings.names[p]);
            }
        }
        return new Suspect(accused, points);
    }

    /** Marks the points that lie beyond their 95 % half width from where they are when j is wrong instead. */
    private void doubt(int j, double[] without, double[] half, boolean[] inDoubt) {
        double weight = 1 / (readings.u[j] * readings.u[j]);
        double off = settling.residual[j] / settling.redundancy(j);
        double[] move = settling.covarianceTimesRow(j);
        for (int k = 0; k < without.length; k++) {
            if (Math.abs(settling.x[k] + move[k] * weight * off - without[k]) > half[k]) {
                inDoubt[readings.soughtPoint[k / 3]] = true;
            }
        }
    }

    private Accused accused(int i, double fits, double u, double w, List<Integer> aside) {
        Equation equation = readings.equations[i];
        List<Slip> slips = new ArrayList<>(Slips.of(equation, fits, u, network.graduation()));
        for (int other : aside) {
            if (other != i && exchanged(i, fits, u, other)) {
                slips.add(new Slip.Exchanged(readings.equations[other].label()));
            }
        }
        if (slips.isEmpty() && equation.part().isEmpty()) {
            otherPoint(i, u, slips);
        }
        return new Accused(
                equation.reading(), equation.part(), equation.quantity(), equation.reads(), fits, u, w, slips);
    }

    private boolean exchanged(int i, double fits, double u, int other) {
        if (readings.equations[i].quantity() != readings.equations[other].quantity()) {
            return false;
        }
        double otherFits = readings.reads[other] + settling.residual[other];
        double otherU = Math.sqrt(readings.u[other] * readings.u[other] + settling.spread[other]);
        return Slips.explains(readings.reads[other], fits, u) && Slips.explains(readings.reads[i], otherFits, otherU);
    }

    /** Tries every other point in the place of each of the reading's points. */
    private void otherPoint(int i, double u, List<Slip> slips) {
        int[] points = readings.pointsOf[i];
        Observation observation = byName.get(readings.equations[i].reading());
        if (!(observation instanceof Observation.Distance
                || observation instanceof Observation.Coordinate
                || observation instanceof Observation.AxisDistance
                || observation instanceof Observation.Height)) {
            return;
        }
        for (int a = 0; a < points.length; a++) {
            int written = points[a];
            for (int meant = 0; meant < readings.pointCount; meant++) {
                boolean taken = false;
                for (int p : points) {
                    taken |= p == meant;
                }
                if (!taken) {
                    points[a] = meant;
                    double residual = readings.residual(i);
                    double spread = settling.spreadOf(points, readings.gradient(i));
                    points[a] = written;
                    double tolerance = Math.sqrt(readings.u[i] * readings.u[i] + spread);
                    if (tolerance < 2 * u
                            && Slips.explains(readings.reads[i], readings.reads[i] + residual, tolerance)) {
                        slips.add(new Slip.OtherPoint(readings.names[written], readings.names[meant]));
                    }
                }
            }
        }
    }
}
