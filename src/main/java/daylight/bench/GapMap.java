package daylight.bench;

import daylight.motion.Handle;
import daylight.report.PairMap;
import java.util.ArrayList;
import java.util.List;

/** Measures a pair's gap over two handles while the others stay. */
final class GapMap {
    /** Places along each handle: smooth contours, in some tens of milliseconds. */
    private static final int PLACES = 25;

    private GapMap() {}

    /**
     * Returns the map of a pair.
     *
     * @param live an engine of the calling thread
     * @param values where the handles stand; not modified
     * @param acrossNumber the handle across
     * @param upNumber the handle up
     */
    static PairMap of(
            OpenCar open, LiveCar live, int partA, int partB, double[] values, int acrossNumber, int upNumber) {
        Handle across = open.workspace().handles().get(acrossNumber);
        Handle up = open.workspace().handles().get(upNumber);
        double[] there = values.clone();
        List<Double> gaps = new ArrayList<>();
        for (int j = 0; j < PLACES; j++) {
            there[upNumber] = value(up, j);
            for (int i = 0; i < PLACES; i++) {
                // To and fro, so that each position is near to the last.
                int place = j % 2 == 0 ? i : PLACES - 1 - i;
                there[acrossNumber] = value(across, place);
                double gap = live.stand(there).isPresent()
                        ? Double.NaN
                        : live.closedGap(partA, partB).distanceMm();
                gaps.add(j % 2 == 0 ? gaps.size() : j * PLACES, gap);
            }
        }
        return new PairMap(across, up, PLACES, gaps, values[acrossNumber], values[upNumber]);
    }

    private static double value(Handle handle, int place) {
        return handle.lowest() + (handle.highest() - handle.lowest()) * place / (PLACES - 1);
    }
}
