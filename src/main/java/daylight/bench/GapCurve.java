package daylight.bench;

import daylight.motion.Handle;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * A pair's gap while one handle goes through its range and the others stay.
 *
 * @param handle the handle's number in the workspace
 * @param at handle values, mm or radians, ascending
 * @param gapsMm the gap at each, mm; not a number where the car cannot stand
 */
record GapCurve(int handle, List<Double> at, List<Double> gapsMm) {
    /** Places along a curve: enough for a smooth line across a wide window, few enough for a few milliseconds. */
    private static final int PLACES = 97;

    GapCurve {
        at = List.copyOf(at);
        gapsMm = List.copyOf(gapsMm);
    }

    /**
     * Measures the curves of every handle that moves either part.
     *
     * @param live an engine of the calling thread
     * @param values where the handles stand; not modified
     */
    static List<GapCurve> of(OpenCar open, LiveCar live, int partA, int partB, double[] values) {
        List<GapCurve> curves = new ArrayList<>();
        List<Integer> moving = open.workspace()
                .handlesOf(open.bodies().get(partA), open.bodies().get(partB));
        for (int h : moving) {
            Handle handle = open.workspace().handles().get(h);
            if (handle.highest() > handle.lowest()) {
                curves.add(along(live, partA, partB, values, h, handle));
            }
        }
        return curves;
    }

    private static GapCurve along(LiveCar live, int partA, int partB, double[] values, int number, Handle handle) {
        double[] there = values.clone();
        List<Double> at = new ArrayList<>();
        List<Double> gaps = new ArrayList<>();
        for (int i = 0; i < PLACES; i++) {
            there[number] = handle.lowest() + (handle.highest() - handle.lowest()) * i / (PLACES - 1);
            Optional<String> trouble = live.stand(there);
            at.add(there[number]);
            gaps.add(
                    trouble.isPresent()
                            ? Double.NaN
                            : live.closedGap(partA, partB).distanceMm());
        }
        return new GapCurve(number, at, gaps);
    }

    /** Returns the least gap on the curve, if the car can stand anywhere on it. */
    double leastMm() {
        return gapsMm.stream()
                .filter(Double::isFinite)
                .mapToDouble(d -> d)
                .min()
                .orElse(Double.NaN);
    }

    /** Returns the greatest gap on the curve, if the car can stand anywhere on it. */
    double greatestMm() {
        return gapsMm.stream()
                .filter(Double::isFinite)
                .mapToDouble(d -> d)
                .max()
                .orElse(Double.NaN);
    }
}
