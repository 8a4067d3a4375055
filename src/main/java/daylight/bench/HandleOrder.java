package daylight.bench;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;

/** The order in which handles are shown. */
final class HandleOrder {
    private HandleOrder() {}

    /** Returns the handles in the car's order, each left one followed by its right one. */
    static List<HandleViewModel> of(List<HandleViewModel> handles) {
        List<HandleViewModel> paired = new ArrayList<>();
        List<HandleViewModel> single = new ArrayList<>();
        Set<HandleViewModel> done = new HashSet<>();
        for (HandleViewModel handle : handles) {
            if (!done.add(handle)) {
                continue;
            }
            HandleViewModel other = handle.otherSide().orElse(null);
            if (other == null) {
                single.add(handle);
            } else {
                done.add(other);
                boolean left = handle.name().contains("left");
                paired.add(left ? handle : other);
                paired.add(left ? other : handle);
            }
        }
        paired.addAll(single);
        return paired;
    }
}
