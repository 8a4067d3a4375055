package daylight.hose;

import daylight.car.Car;
import daylight.clearance.Asked;
import daylight.clearance.GapRow;
import daylight.clearance.GapTable;
import daylight.clearance.Least;
import daylight.clearance.LeftOut;
import daylight.clearance.Onset;
import daylight.clearance.State;
import daylight.motion.Kinematics;
import daylight.motion.Workspace;
import daylight.units.Progress;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * The gaps between a car's flexible lines and all its parts, as rows of the same table as any other part's.
 *
 * <p>What a row promises: that a line stays far from a part is proved over the whole continuous travel, whatever shape
 * it takes. Every other row is {@code unproved}: its least gap is the least over the shapes that were solved, how far
 * apart those are is said, and its floor is only what no line of that length can undercut.
 */
public final class HoseGaps {
    private final Car car;
    private final Asked asked;

    private HoseGaps(Car car, Asked asked) {
        this.car = car;
        this.asked = asked;
    }

    /** One line's rows. */
    private record Found(List<GapRow> rows, List<LeftOut> leftOut, long boxes) {}

    /**
     * Adds the lines' rows to a table of the car's parts.
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
        return new HoseGaps(car, asked).run(progress).map(found -> {
            List<GapRow> rows = new ArrayList<>();
            List<LeftOut> leftOut = new ArrayList<>();
            long boxes = 0;
            for (Found one : found) {
                rows.addAll(one.rows);
                leftOut.addAll(one.leftOut);
                boxes += one.boxes;
            }
            return table.with(rows, leftOut, car.hoses().size(), boxes);
        });
    }

    private Optional<List<Found>> run(Progress progress) {
        Kinematics kinematics = Workspace.of(car).kinematics();
        CarSolids solids = CarSolids.of(car, kinematics);
        return Sharing.inOrder(
                car.hoses(),
                asked.threads(),
                progress,
                hose -> hose.name() + " against every part",
                hose -> found(hose, kinematics.sibling(), solids));
    }

    private Found found(Car.Hose hose, Kinematics kinematics, CarSolids solids) {
        LineTravel line = new LineTravel(hose, kinematics);
        Neighbours near = new Neighbours(line, solids, asked.watchMm());
        ShapeWalk walk = new ShapeWalk(line, Optional.of(near));
        walk.walk();
        walk.refine();
        List<GapRow> rows = new ArrayList<>();
        List<LeftOut> leftOut = new ArrayList<>(near.leftOut());
        String why = why(walk.sampling(), walk.jumps().size());
        for (Neighbours.Part part : near.parts()) {
            if (part.atRide.isEmpty() || part.near.isEmpty() || part.where.isEmpty()) {
                leftOut.add(
                        new LeftOut(hose.name(), part.part.name(), "its shape at ride height could not be computed"));
                continue;
            }
            State state = ShapeWalk.state(part);
            double floor = Math.min(part.floorMm, part.leastMm);
            rows.add(new GapRow(
                    hose.name(),
                    part.part.name(),
                    part.atRide.get(),
                    new Least(
                            part.near.get(),
                            part.where.get(),
                            floor,
                            near.far(part) && state == State.CLEAR
                                    ? new Least.Proof.FarApart(asked.watchMm())
                                    : new Least.Proof.Unproved(why)),
                    part.requiredMm,
                    part.rule,
                    state,
                    part.touches.at.map(at -> new Onset(at, part.touches.share, 0)),
                    part.belowRule.at.map(at -> new Onset(at, part.belowRule.share, 0))));
        }
        return new Found(rows, leftOut, near.boxes());
    }

    /** What was looked at instead of a proof. */
    static String why(HoseReport.Sampling sampling, int jumps) {
        StringBuilder why = new StringBuilder(String.format(
                Locale.ROOT,
                "sampled at %d positions, the hose's ends at most %.0f mm apart from one to the next",
                sampling.positions(),
                Math.ceil(sampling.stepMm())));
        if (sampling.taut() > 0) {
            why.append(String.format(
                    Locale.ROOT, "; it does not reach at %d of them (ask daylight hose)", sampling.taut()));
        }
        if (sampling.unsettled() > 0) {
            why.append(String.format(Locale.ROOT, "; its shape is not known at %d of them", sampling.unsettled()));
        }
        if (jumps > 0) {
            why.append("; it snaps over to another side on the way");
        }
        if (!sampling.atRest().isEmpty()) {
            why.append("; with ").append(String.join(", ", sampling.atRest())).append(" at rest");
        }
        return why.toString();
    }
}
