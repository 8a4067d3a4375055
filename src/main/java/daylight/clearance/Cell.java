package daylight.clearance;

import daylight.motion.DriverBox;
import java.util.ArrayList;
import java.util.List;

/**
 * Part of what a pair may do: a box of handle values, and a range of each play of its two bodies.
 *
 * @param plays one range per play, in the order of {@link PairStand#plays}; mm
 */
record Cell(DriverBox box, List<Range> plays) {
    Cell {
        plays = List.copyOf(plays);
    }

    /** From one shift to another, mm. */
    record Range(double low, double high) {
        double width() {
            return high - low;
        }
    }

    /** Returns the lower (side 0) or upper (side 1) half along the i-th handle. */
    Cell halved(int i, int side) {
        return new Cell(box.halved(i, side), plays);
    }

    /** Returns the part below (side 0) or above (side 1) a shift of the j-th play. */
    Cell parted(int j, double at, int side) {
        List<Range> parts = new ArrayList<>(plays);
        Range whole = plays.get(j);
        parts.set(j, side == 0 ? new Range(whole.low(), at) : new Range(at, whole.high()));
        return new Cell(box, parts);
    }
}
