package daylight.report;

import daylight.clearance.GapRow;
import daylight.motion.Handle;
import java.util.ArrayList;
import java.util.List;

/**
 * A pair's gap while one handle goes through its range, all play used to bring the parts together.
 *
 * @param handle what moves
 * @param at its values, mm or rad, ascending
 * @param worstMm the gap at each with every other handle where the pair is nearest; not a number where the car cannot stand
 * @param restMm the same with every other handle at ride height
 * @param worst the handle's value where the pair is nearest
 */
record PairCurve(Handle handle, List<Double> at, List<Double> worstMm, List<Double> restMm, double worst) {
    private static final int PLACES = 61;
    private static final int ROUGH = 7;

    PairCurve {
        at = List.copyOf(at);
        worstMm = List.copyOf(worstMm);
        restMm = List.copyOf(restMm);
    }

    /**
     * Returns the handles that change a pair's gap, by how much they do from where it is nearest, most first.
     *
     * @return numbers of handles
     */
    static List<Integer> byEffect(GapRow row, Standing standing) {
        int a = standing.part(row.first());
        int b = standing.part(row.second());
        double[] worst = standing.values(row.least().where());
        List<Integer> moving = new ArrayList<>();
        List<Double> effects = new ArrayList<>();
        for (int h : standing.handlesOf(a, b)) {
            Handle handle = standing.handles().get(h);
            double[] values = worst.clone();
            double least = Double.POSITIVE_INFINITY;
            double most = Double.NEGATIVE_INFINITY;
            for (int i = 0; i < ROUGH; i++) {
                values[h] = handle.lowest() + (handle.highest() - handle.lowest()) * i / (ROUGH - 1);
                if (standing.stand(values)) {
                    double gap = standing.closedGapMm(a, b);
                    least = Math.min(least, gap);
                    most = Math.max(most, gap);
                }
            }
            if (most - least > NO_EFFECT_MM) {
                int place = 0;
                while (place < effects.size() && effects.get(place) >= most - least) {
                    place++;
                }
                moving.add(place, h);
                effects.add(place, most - least);
            }
        }
        return moving;
    }

    /** A handle that changes a gap by less is not drawn, mm. */
    private static final double NO_EFFECT_MM = 0.05;

    /** Measures a pair along a handle. */
    static PairCurve of(GapRow row, Standing standing, int number) {
        Handle handle = standing.handles().get(number);
        double[] worst = standing.values(row.least().where());
        List<Double> at = new ArrayList<>();
        for (int i = 0; i < PLACES; i++) {
            at.add(handle.lowest() + (handle.highest() - handle.lowest()) * i / (PLACES - 1));
        }
        return new PairCurve(
                handle,
                at,
                along(row, standing, number, worst, at),
                along(row, standing, number, new double[worst.length], at),
                worst[number]);
    }

    private static List<Double> along(GapRow row, Standing standing, int number, double[] others, List<Double> at) {
        int a = standing.part(row.first());
        int b = standing.part(row.second());
        double[] values = others.clone();
        List<Double> gaps = new ArrayList<>();
        for (double value : at) {
            values[number] = value;
            gaps.add(standing.stand(values) ? standing.closedGapMm(a, b) : Double.NaN);
        }
        return gaps;
    }
}
