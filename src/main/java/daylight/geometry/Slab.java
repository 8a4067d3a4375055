package daylight.geometry;

import java.util.Arrays;

/**
 * How far a solid of many pieces reaches in a direction, and which of its pieces reach nearly as far. Mutable, one per
 * engine, allocates nothing once made.
 *
 * <p>Two solids on either side of a slab are at least its thickness apart, and only pieces that reach into it can be
 * closer than a distance known already. Where two parts face one another with rounded or flat sides, as most do, that
 * settles a pair by going down each tree once instead of through pairs of nodes.
 */
final class Slab {
    static final int MOST = 48;
    private static final int MOST_VISITS = 600;

    private final Support support = new Support();
    private int[] stack = new int[128];
    private double[] bound = new double[128];

    /** Pieces that {@link #collect} found, and how far each reaches. */
    final int[] piece = new int[MOST];

    final double[] reach = new double[MOST];
    int count;

    /**
     * Returns how far a solid reaches in a direction (body frame, unit), rounding included; pieces that only tell depth
     * left out, as they reach no further.
     *
     * @param atLeast how far some piece is known to reach
     */
    double furthest(Solid s, double x, double y, double z, double atLeast) {
        double most = atLeast;
        stack[0] = s.root;
        bound[0] = Double.POSITIVE_INFINITY;
        int height = 1;
        while (height > 0) {
            height--;
            if (bound[height] <= most) {
                continue;
            }
            int node = stack[height];
            if (s.child[node] < 0) {
                int p = ~s.child[node];
                most = Math.max(most, support.reach(s, p, x, y, z) + s.rounding[p]);
                continue;
            }
            height = open(s, node, x, y, z, most, height);
        }
        return most;
    }

    /** Finds the pieces that reach further than some level; false when there are too many to be worth it. */
    boolean collect(Solid s, double x, double y, double z, double level) {
        count = 0;
        int visits = 0;
        stack[0] = s.root;
        bound[0] = Double.POSITIVE_INFINITY;
        int height = 1;
        while (height > 0) {
            height--;
            int node = stack[height];
            if (s.child[node] < 0) {
                int p = ~s.child[node];
                double own = support.reach(s, p, x, y, z) + s.rounding[p];
                if (own > level) {
                    if (count == MOST) {
                        return false;
                    }
                    piece[count] = p;
                    reach[count] = own;
                    count++;
                }
                continue;
            }
            if (++visits > MOST_VISITS) {
                return false;
            }
            height = open(s, node, x, y, z, level, height);
        }
        return true;
    }

    /** Puts those children of a node on the stack that may reach further than some level, the furthest on top. */
    private int open(Solid s, int node, double x, double y, double z, double level, int top) {
        int height = top;
        if (height + 2 > stack.length) {
            stack = Arrays.copyOf(stack, 2 * stack.length);
            bound = Arrays.copyOf(bound, 2 * bound.length);
        }
        int one = s.child[node];
        int two = s.second[node];
        double b1 = box(s.box, Solid.BOX_NUMBERS * one, x, y, z);
        double b2 = box(s.box, Solid.BOX_NUMBERS * two, x, y, z);
        boolean oneLast = b1 >= b2;
        double near = oneLast ? b2 : b1;
        if (near > level) {
            stack[height] = oneLast ? two : one;
            bound[height++] = near;
        }
        double far = oneLast ? b1 : b2;
        if (far > level) {
            stack[height] = oneLast ? one : two;
            bound[height++] = far;
        }
        return height;
    }

    private static double box(double[] u, int a, double x, double y, double z) {
        return x * u[a]
                + y * u[a + 1]
                + z * u[a + 2]
                + Math.abs(x * u[a + 6] + y * u[a + 7] + z * u[a + 8]) * u[a + 3]
                + Math.abs(x * u[a + 9] + y * u[a + 10] + z * u[a + 11]) * u[a + 4]
                + Math.abs(x * u[a + 12] + y * u[a + 13] + z * u[a + 14]) * u[a + 5]
                + u[a + 15];
    }
}
