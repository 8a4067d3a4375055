package daylight.hose;

import daylight.car.Car;
import daylight.clearance.Asked;
import daylight.clearance.GapRow;
import daylight.clearance.GapTable;
import daylight.clearance.LeftOut;
import daylight.motion.Kinematics;
import daylight.motion.Workspace;
import daylight.units.Progress;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * The gaps between a car's flexible lines and all its parts, and between any two lines, as rows of the same table as
 * any other part's.
 *
 * <p>What a row promises: that a line stays far from a part is proved over the whole continuous travel, whatever shape
 * it takes. Every other row is {@code unproved}: its least gap is the least over the shapes that were solved, how far
 * apart those are is said, and its floor is only what no line of that length can undercut. Where a line is pulled tight
 * somewhere, its rows against what it is screwed to are never {@code clear}.
 */
public final class HoseGaps {
    private HoseGaps() {}

    /** Some of the rows, of a line or of two. */
    record Found(List<GapRow> rows, List<LeftOut> leftOut, long boxes) {}

    /**
     * Adds the lines' rows to a table of the car's parts. Where the lines' reports are wanted too,
     * {@link HoseSearch#findings} gives both for one look at each line.
     *
     * @param table what {@link daylight.clearance.GapSearch} gives for the same car
     * @param asked {@code watchMm} and {@code threads} are used
     * @return the table with both, tightest first; or empty if the work was cancelled
     * @throws IllegalArgumentException if the car cannot be compiled (the reader of car files refuses such cars)
     */
    public static Optional<GapTable> addTo(GapTable table, Car car, Asked asked, Progress progress) {
        if (car.hoses().isEmpty()) {
            return Optional.of(table);
        }
        Kinematics kinematics = Workspace.of(car).kinematics();
        CarSolids solids = CarSolids.of(car, kinematics);
        Optional<List<Found>> lines = Sharing.inOrder(
                car.hoses(), asked.threads(), progress, hose -> hose.name() + " against every part", hose -> {
                    OneLine one = new OneLine(hose, new Stances(kinematics.sibling()), solids, asked.watchMm());
                    return new Found(one.rows(), one.leftOut(), one.boxes());
                });
        return lines.flatMap(found -> LinePair.all(car, kinematics, asked.watchMm(), asked.threads(), progress)
                .map(pairs -> {
                    List<GapRow> rows = new ArrayList<>();
                    List<LeftOut> leftOut = new ArrayList<>();
                    long boxes = 0;
                    for (List<Found> some : List.of(found, pairs)) {
                        for (Found one : some) {
                            rows.addAll(one.rows);
                            leftOut.addAll(one.leftOut);
                            boxes += one.boxes;
                        }
                    }
                    return table.with(rows, leftOut, car.hoses().size(), boxes);
                }));
    }
}
