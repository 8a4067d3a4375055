package daylight.survey;

import java.util.ArrayList;
import java.util.List;

/** Picks the readings to take next, one after the other, by exact covariance updates. */
final class NextReadings {
    /** A reading that lowers the goal by less than this share is not worth going under the car for. */
    private static final double WORTH = 1e-6;

    private final Adjustment adjustment;
    private final NextReading.Goal goal;
    private final CovarianceUpdate update;
    private final int unknowns;
    private final double[] gapGradient;
    private final String gapName;
    /** Rows that nothing checks, for {@link NextReading.Goal.Checks}. */
    private final List<Integer> unchecked = new ArrayList<>();

    NextReadings(Adjustment adjustment, NextReading.Goal goal) {
        this.adjustment = adjustment;
        this.goal = goal;
        this.unknowns = adjustment.points().unknowns();
        this.update = new CovarianceUpdate(adjustment.unscaledCovariance(), unknowns);
        if (goal instanceof NextReading.Goal.Gap gap) {
            gapGradient = adjustment.points().overUnknowns(gap.gradient().toArray());
            gapName = gap.name();
        } else {
            gapGradient = new double[0];
            gapName = "";
        }
        List<ReadingResult> readings = adjustment.readings();
        for (int i = 0; i < readings.size(); i++) {
            if (readings.get(i).standing() == ReadingResult.Standing.UNCHECKED) {
                unchecked.add(i);
            }
        }
    }

    List<NextReading> best(List<Observation> candidates, int count) {
        List<Observation> left = new ArrayList<>(candidates);
        List<List<double[]>> gradients = new ArrayList<>();
        for (Observation candidate : left) {
            gradients.add(
                    candidate.equations().stream().map(adjustment::gradientOf).toList());
        }
        List<NextReading> chosen = new ArrayList<>();
        while (chosen.size() < count) {
            int best = -1;
            double most = WORTH * total();
            for (int c = 0; c < left.size(); c++) {
                double gain = gain(left.get(c), gradients.get(c));
                if (gain > most) {
                    most = gain;
                    best = c;
                }
            }
            if (best < 0) {
                break;
            }
            chosen.add(take(left.remove(best), gradients.remove(best)));
        }
        return List.copyOf(chosen);
    }

    /** What the goal makes small, now; 1 for checks, where it is not a sum that falls. */
    private double total() {
        if (goal instanceof NextReading.Goal.Gap) {
            return update.variance(gapGradient);
        }
        if (goal instanceof NextReading.Goal.Checks) {
            return 1;
        }
        double sum = 0;
        for (int j = 0; j < unknowns; j++) {
            sum += update.variance(j);
        }
        return sum;
    }

    /** How much a candidate lowers the goal (or raises the redundancies); its equations count one by one. */
    private double gain(Observation candidate, List<double[]> gradients) {
        double gain = 0;
        for (int e = 0; e < gradients.size(); e++) {
            double u = candidate.equations().get(e).u();
            double[] a = gradients.get(e);
            double[] q = update.times(a);
            double s = u * u;
            for (int j = 0; j < unknowns; j++) {
                s += a[j] * q[j];
            }
            double sum = 0;
            if (goal instanceof NextReading.Goal.Gap) {
                for (int j = 0; j < unknowns; j++) {
                    sum += gapGradient[j] * q[j];
                }
                sum *= sum;
            } else if (goal instanceof NextReading.Goal.Checks) {
                for (int i : unchecked) {
                    double t = adjustment.rows().dot(i, q)
                            / adjustment.readings().get(i).u();
                    sum += t * t;
                }
            } else {
                for (int j = 0; j < unknowns; j++) {
                    sum += q[j] * q[j];
                }
            }
            gain += sum / s;
        }
        return gain;
    }

    private NextReading take(Observation candidate, List<double[]> gradients) {
        double[] before = doubts();
        for (int e = 0; e < gradients.size(); e++) {
            double u = candidate.equations().get(e).u();
            update.change(gradients.get(e), 1 / (u * u));
        }
        double[] after = doubts();
        int most = 0;
        for (int k = 1; k < before.length; k++) {
            if (Math.abs(before[k] - after[k]) > Math.abs(before[most] - after[most])) {
                most = k;
            }
        }
        return new NextReading(
                candidate, adjustment.valueOf(candidate.equations().get(0)), nameOf(most), before[most], after[most]);
    }

    /** The doubt of each thing that may gain. */
    private double[] doubts() {
        double factor = Coverage.NORMAL_95 * adjustment.doubtScale();
        if (goal instanceof NextReading.Goal.Gap) {
            return new double[] {factor * Math.sqrt(Math.max(0, update.variance(gapGradient)))};
        }
        if (goal instanceof NextReading.Goal.Checks) {
            double[] redundancies = new double[unchecked.size()];
            for (int k = 0; k < redundancies.length; k++) {
                int i = unchecked.get(k);
                double u = adjustment.readings().get(i).u();
                redundancies[k] =
                        Math.max(0, 1 - update.variance(adjustment.rows().dense(i)) / (u * u));
            }
            return redundancies;
        }
        List<String> names = adjustment.points().names();
        double[] widths = new double[names.size()];
        for (int p = 0; p < widths.length; p++) {
            for (int k = 0; k < 3; k++) {
                int unknown = adjustment.points().unknown(3 * p + k);
                if (unknown >= 0) {
                    widths[p] = Math.max(widths[p], factor * Math.sqrt(Math.max(0, update.variance(unknown))));
                }
            }
        }
        return widths;
    }

    private String nameOf(int k) {
        if (goal instanceof NextReading.Goal.Gap) {
            return gapName;
        }
        if (goal instanceof NextReading.Goal.Checks) {
            ReadingResult reading = adjustment.readings().get(unchecked.get(k));
            return reading.part().isEmpty() ? reading.reading() : reading.reading() + " (" + reading.part() + ")";
        }
        return adjustment.points().names().get(k);
    }
}
