package daylight.geometry;

/** Partial ordering of index arrays by a key, for building trees without boxing. */
final class Select {
    private Select() {}

    /** The number an item is ordered by along an axis. */
    interface Key {
        double of(int item, int axis);
    }

    /**
     * Reorders {@code items[from..to)} so that those before {@code middle} have keys no greater than those from it
     * on. Equal keys are ordered by item, so the result is always the same.
     */
    static void median(int[] items, int from, int to, int middle, int axis, Key key) {
        int low = from;
        int high = to - 1;
        while (low < high) {
            int pivot = items[(low + high) >>> 1];
            int i = low;
            int j = high;
            while (i <= j) {
                while (less(items[i], pivot, axis, key)) {
                    i++;
                }
                while (less(pivot, items[j], axis, key)) {
                    j--;
                }
                if (i <= j) {
                    int swap = items[i];
                    items[i] = items[j];
                    items[j] = swap;
                    i++;
                    j--;
                }
            }
            if (middle <= j) {
                high = j;
            } else if (middle >= i) {
                low = i;
            } else {
                return;
            }
        }
    }

    private static boolean less(int a, int b, int axis, Key key) {
        double x = key.of(a, axis);
        double y = key.of(b, axis);
        return x != y ? x < y : a < b;
    }
}
