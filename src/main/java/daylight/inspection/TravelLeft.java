package daylight.inspection;

import daylight.car.Car;
import daylight.car.Limit;
import daylight.clearance.GapRow;
import daylight.clearance.GapTable;
import daylight.clearance.State;
import daylight.inspection.Footing.Foot;
import daylight.inspection.InspectionReport.Corner;
import daylight.motion.Handle;
import daylight.motion.Kinematics;
import daylight.motion.RealRange;
import daylight.motion.TravelEnd;
import daylight.motion.Workspace;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * How far each wheel can go from ride height and what ends it: the shocks, stops and straps of the car file, where the
 * mechanism binds, the stated travel, or the first two parts to touch on the way, whichever comes first. Both wheels of an
 * axle go alike, everything else stays at ride height.
 */
final class TravelLeft {
    private final Workspace workspace;
    private final Footing footing;
    private final List<RealRange> ranges;
    private final GapTable table;
    private final PairSweep sweep;

    TravelLeft(Kinematics kinematics, Footing footing, List<RealRange> ranges, GapTable table) {
        this.workspace = kinematics.workspace();
        this.footing = footing;
        this.ranges = ranges;
        this.table = table;
        this.sweep = new PairSweep(kinematics);
    }

    /** What ends a movement. */
    private record Ended(double mm, String words, boolean onStop) {}

    /** Returns the travel of every wheel that has a travel of its own, in the order of the footing. */
    List<Corner> corners() {
        List<Corner> corners = new ArrayList<>();
        for (Foot foot : footing.feet) {
            if (foot.travel() >= 0) {
                Ended up = end(foot, true);
                Ended down = end(foot, false);
                corners.add(new Corner(foot.name(), up.mm, up.words, down.mm, down.words, up.onStop));
            }
        }
        return corners;
    }

    private Ended end(Foot foot, boolean up) {
        Handle handle = workspace.handles().get(foot.travel());
        RealRange range = rangeOf(handle);
        TravelEnd end = up ? range.up() : range.down();
        Ended ended = new Ended(end.at(), words(end.cause()), isBumpStop(end.cause()));
        List<Integer> together = footing.axle(foot.axle()).stream()
                .map(Foot::travel)
                .filter(h -> h >= 0)
                .toList();
        double full = Math.abs(up ? handle.highest() : handle.lowest());
        for (GapRow row : table.rows()) {
            if (row.state() != State.RUB
                    || workspace.car().part(row.first()).isEmpty()
                    || workspace.car().part(row.second()).isEmpty()
                    || row.least().where().handles().stream()
                            .noneMatch(setting -> setting.name().equals(handle.name()))) {
                continue;
            }
            Optional<Double> share = sweep.touchesAtShare(row, together, up);
            if (share.isPresent() && share.get() * full < ended.mm) {
                ended = new Ended(
                        share.get() * full, "where " + row.first() + " and " + row.second() + " touch", false);
            }
        }
        return ended;
    }

    private static String words(TravelEnd.Cause cause) {
        return cause.words();
    }

    private boolean isBumpStop(TravelEnd.Cause cause) {
        return cause instanceof TravelEnd.Met met
                && workspace.car().limits().stream()
                        .anyMatch(limit -> limit.name().equals(met.limit())
                                && limit instanceof Limit.Stop stop
                                && !stop.steering());
    }

    /** The range of both wheels of a one-piece axle together, else of the wheel alone. */
    private RealRange rangeOf(Handle handle) {
        String mechanism = workspace.car().mechanisms().stream()
                .filter(m -> m.drivers().stream().anyMatch(d -> d.name().equals(handle.name())))
                .findFirst()
                .orElseThrow()
                .name();
        String both = mechanism + ", both wheels";
        return ranges.stream()
                .filter(range -> range.movement().equals(both))
                .findFirst()
                .or(() -> ranges.stream()
                        .filter(range -> range.movement().equals(handle.name()))
                        .findFirst())
                .orElseThrow();
    }

    /**
     * A shock's own travel from ride height.
     *
     * @param closesMm until it is solid
     * @param opensMm until it is drawn out
     */
    record Shock(String name, double closesMm, double opensMm) {}

    /** Returns what is left of each shock that the car file gives a length for. */
    static List<Shock> shocks(Car car) {
        List<Shock> shocks = new ArrayList<>();
        for (Limit limit : car.limits()) {
            if (limit instanceof Limit.Shock shock) {
                double length = shock.from().at().distanceTo(shock.to().at());
                shocks.add(new Shock(shock.name(), length - shock.closedMm(), shock.openMm() - length));
            }
        }
        return shocks;
    }
}
