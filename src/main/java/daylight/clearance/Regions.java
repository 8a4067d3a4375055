package daylight.clearance;

import daylight.motion.DriverBox;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;

/** Sorts boxes of positions into regions: boxes that touch one another, at a corner at least, are of one region. */
final class Regions {
    /** Boxes whose edges are this near, as a share of their size, touch. */
    private static final double TOUCH_SHARE = 1e-6;

    private Regions() {}

    /** Returns the regions, each with its cells in the order given; regions in the order of their first cells. */
    static List<List<Cell>> of(List<Cell> cells) {
        int[] region = new int[cells.size()];
        for (int i = 0; i < region.length; i++) {
            region[i] = i;
        }
        for (int i = 0; i < region.length; i++) {
            for (int j = i + 1; j < region.length; j++) {
                int one = first(region, i);
                int other = first(region, j);
                if (one != other && touch(cells.get(i).box(), cells.get(j).box())) {
                    region[Math.max(one, other)] = Math.min(one, other);
                }
            }
        }
        Map<Integer, List<Cell>> regions = new TreeMap<>();
        for (int i = 0; i < region.length; i++) {
            regions.computeIfAbsent(first(region, i), k -> new ArrayList<>()).add(cells.get(i));
        }
        return List.copyOf(regions.values());
    }

    private static int first(int[] region, int i) {
        int first = i;
        while (region[first] != first) {
            region[first] = region[region[first]];
            first = region[first];
        }
        return first;
    }

    private static boolean touch(DriverBox a, DriverBox b) {
        for (int i = 0; i < a.size(); i++) {
            double reach = (a.half(i) + b.half(i)) * (1 + TOUCH_SHARE);
            if (Math.abs(a.centre(i) - b.centre(i)) > reach) {
                return false;
            }
        }
        return true;
    }
}
