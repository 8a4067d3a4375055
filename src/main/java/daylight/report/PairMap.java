package daylight.report;

import daylight.clearance.GapRow;
import daylight.motion.Handle;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/**
 * A pair's gap over two handles at once, everything else where the pair is nearest, all play used to bring the parts
 * together.
 *
 * @param across the handle along the picture
 * @param up the handle up the picture
 * @param places so many places along each
 * @param gapsMm row by row from the lowest value up; not a number where the car cannot stand
 * @param worstAcross where the pair is nearest
 * @param worstUp where the pair is nearest
 */
public record PairMap(Handle across, Handle up, int places, List<Double> gapsMm, double worstAcross, double worstUp) {
    private static final int PLACES = 25;

    public PairMap {
        gapsMm = List.copyOf(gapsMm);
    }

    /** Measures a pair over two handles. */
    static PairMap of(GapRow row, Standing standing, int acrossNumber, int upNumber) {
        int a = standing.part(row.first());
        int b = standing.part(row.second());
        Handle across = standing.handles().get(acrossNumber);
        Handle up = standing.handles().get(upNumber);
        double[] worst = standing.values(row.least().where());
        double[] values = worst.clone();
        List<Double> gaps = new ArrayList<>();
        for (int j = 0; j < PLACES; j++) {
            values[upNumber] = value(up, j, PLACES);
            for (int i = 0; i < PLACES; i++) {
                values[acrossNumber] = value(across, i, PLACES);
                gaps.add(standing.stand(values) ? standing.closedGapMm(a, b) : Double.NaN);
            }
        }
        return new PairMap(across, up, PLACES, gaps, worst[acrossNumber], worst[upNumber]);
    }

    private static double value(Handle handle, double place, int places) {
        return handle.lowest() + (handle.highest() - handle.lowest()) * place / (places - 1);
    }

    /** Returns the gap at a place of the grid, mm. */
    public double gapMm(int i, int j) {
        return gapsMm.get(j * places + i);
    }

    /**
     * Returns the contour at a gap: runs of places (across, up, across, up, ...), counted in places of the grid.
     */
    public List<List<Double>> contour(double levelMm) {
        Map<Long, List<long[]>> joins = new HashMap<>();
        for (int j = 0; j + 1 < places; j++) {
            for (int i = 0; i + 1 < places; i++) {
                cell(i, j, levelMm, joins);
            }
        }
        List<List<Double>> runs = new ArrayList<>();
        List<Long> starts = new ArrayList<>(joins.keySet());
        starts.sort(null);
        // Runs that end at the edge first, from their ends; then closed ones from anywhere.
        for (int pass = 0; pass < 2; pass++) {
            for (long start : starts) {
                if (joins.getOrDefault(start, List.of()).size() == (pass == 0 ? 1 : 2)) {
                    List<Double> run = run(start, joins, levelMm);
                    if (run.size() > 2) {
                        runs.add(run);
                    }
                }
            }
        }
        return runs;
    }

    /** An edge of the grid: the number of its first place, doubled, plus one when it goes up. */
    private long edge(int i, int j, boolean up) {
        return 2L * (j * places + i) + (up ? 1 : 0);
    }

    private void cell(int i, int j, double level, Map<Long, List<long[]>> joins) {
        double a = gapMm(i, j) - level;
        double b = gapMm(i + 1, j) - level;
        double c = gapMm(i + 1, j + 1) - level;
        double d = gapMm(i, j + 1) - level;
        if (Double.isNaN(a + b + c + d)) {
            return;
        }
        long[] crossed = new long[4];
        int n = 0;
        if (a < 0 != b < 0) {
            crossed[n++] = edge(i, j, false);
        }
        if (b < 0 != c < 0) {
            crossed[n++] = edge(i + 1, j, true);
        }
        if (c < 0 != d < 0) {
            crossed[n++] = edge(i, j + 1, false);
        }
        if (d < 0 != a < 0) {
            crossed[n++] = edge(i, j, true);
        }
        if (n == 2) {
            join(crossed[0], crossed[1], joins);
        } else if (n == 4) {
            boolean middle = a + b + c + d < 0;
            boolean corner = a < 0;
            join(crossed[0], middle == corner ? crossed[1] : crossed[3], joins);
            join(crossed[2], middle == corner ? crossed[3] : crossed[1], joins);
        }
    }

    private static void join(long one, long two, Map<Long, List<long[]>> joins) {
        long[] both = {one, two};
        joins.computeIfAbsent(one, k -> new ArrayList<>()).add(both);
        joins.computeIfAbsent(two, k -> new ArrayList<>()).add(both);
    }

    private List<Double> run(long start, Map<Long, List<long[]>> joins, double level) {
        List<Double> run = new ArrayList<>();
        long at = start;
        place(at, level, run);
        while (true) {
            List<long[]> here = joins.getOrDefault(at, List.of());
            if (here.isEmpty()) {
                return run;
            }
            long[] both = here.remove(here.size() - 1);
            long next = both[0] == at ? both[1] : both[0];
            joins.getOrDefault(next, List.of()).remove(both);
            at = next;
            place(at, level, run);
        }
    }

    private void place(long edge, double level, List<Double> run) {
        boolean goesUp = edge % 2 == 1;
        int i = (int) (edge / 2 % places);
        int j = (int) (edge / 2 / places);
        double a = gapMm(i, j);
        double b = goesUp ? gapMm(i, j + 1) : gapMm(i + 1, j);
        double share = (level - a) / (b - a);
        run.add(goesUp ? (double) i : i + share);
        run.add(goesUp ? j + share : (double) j);
    }

    /**
     * Returns the parts of the map below a gap as closed outlines, counted in places of the grid: whole rows of cells are
     * one outline.
     */
    public List<List<Double>> below(double levelMm) {
        List<List<Double>> areas = new ArrayList<>();
        for (int j = 0; j + 1 < places; j++) {
            int whole = -1;
            for (int i = 0; i + 1 < places; i++) {
                double[] v = {gapMm(i, j), gapMm(i + 1, j), gapMm(i + 1, j + 1), gapMm(i, j + 1)};
                boolean all = v[0] < levelMm && v[1] < levelMm && v[2] < levelMm && v[3] < levelMm;
                if (all && whole < 0) {
                    whole = i;
                }
                if (!all && whole >= 0) {
                    areas.add(block(whole, i, j));
                    whole = -1;
                }
                if (!all && !Double.isNaN(v[0] + v[1] + v[2] + v[3])) {
                    partly(i, j, v, levelMm, areas);
                }
            }
            if (whole >= 0) {
                areas.add(block(whole, places - 1, j));
            }
        }
        return areas;
    }

    private static List<Double> block(int from, int to, int j) {
        return List.of(
                (double) from, (double) j, (double) to, (double) j, (double) to, j + 1.0, (double) from, j + 1.0);
    }

    private static void partly(int i, int j, double[] v, double level, List<List<Double>> areas) {
        double[] x = {i, i + 1, i + 1, i};
        double[] y = {j, j, j + 1, j + 1};
        List<Double> area = new ArrayList<>();
        for (int k = 0; k < 4; k++) {
            int next = (k + 1) % 4;
            if (v[k] < level) {
                area.add(x[k]);
                area.add(y[k]);
            }
            if (v[k] < level != v[next] < level) {
                double share = (level - v[k]) / (v[next] - v[k]);
                area.add(x[k] + share * (x[next] - x[k]));
                area.add(y[k] + share * (y[next] - y[k]));
            }
        }
        if (!area.isEmpty()) {
            areas.add(area);
        }
    }
}
