package daylight.inspection;

import daylight.clearance.GapRow;
import daylight.clearance.GapTable;
import daylight.clearance.State;
import daylight.geometry.Direction;
import daylight.geometry.Pose;
import daylight.geometry.Wander;
import daylight.inspection.Footing.Foot;
import daylight.inspection.InspectionReport.Lock;
import daylight.inspection.InspectionReport.LockAngle;
import daylight.inspection.InspectionReport.Place;
import daylight.linkage.Mechanism;
import daylight.motion.Handle;
import daylight.motion.Kinematics;
import daylight.motion.RealRange;
import daylight.motion.Workspace;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** Lock to lock at full bump, at ride height and at full droop: how far the wheels turn, and what comes too near. */
final class SteeringLocks {
    /** The three heights at which an inspector turns the wheel. */
    private enum Height {
        BUMP("full bump"),
        RIDE("ride height"),
        DROOP("full droop");

        final String word;

        Height(String word) {
            this.word = word;
        }
    }

    private final Workspace workspace;
    private final Kinematics kinematics;
    private final Footing footing;
    private final List<RealRange> ranges;
    private final Wander wander = new Wander();

    SteeringLocks(Kinematics kinematics, Footing footing, List<RealRange> ranges) {
        this.kinematics = kinematics;
        this.workspace = kinematics.workspace();
        this.footing = footing;
        this.ranges = ranges;
    }

    /** Returns the numbers of the handles that steer: those that slide or turn something and so move a wheel. */
    List<Integer> handles() {
        List<Integer> steering = new ArrayList<>();
        for (int h = 0; h < workspace.handles().size(); h++) {
            int handle = h;
            boolean moves = footing.feet.stream()
                    .anyMatch(foot ->
                            workspace.handlesOf(foot.body(), foot.body()).contains(handle));
            String name = workspace.handles().get(h).name();
            boolean turns = workspace.car().mechanisms().stream()
                    .flatMap(m -> m.drivers().stream())
                    .anyMatch(d -> d.name().equals(name)
                            && (d instanceof Mechanism.Driver.Travel || d instanceof Mechanism.Driver.Turn));
            if (moves && turns && footing.axleRaisedBy(h) < 0) {
                steering.add(h);
            }
        }
        return steering;
    }

    /** Returns how far each steering goes. */
    List<Lock> locks() {
        List<Lock> locks = new ArrayList<>();
        for (int handle : handles()) {
            Handle of = workspace.handles().get(handle);
            RealRange range = range(of.name()).orElse(null);
            double span = range == null ? of.highest() - of.lowest() : range.highest() - range.lowest();
            Optional<Double> turns = workspace
                    .car()
                    .judgedBy()
                    .turning()
                    .filter(turning -> turning.turns() == of.turns())
                    .map(turning -> span / turning.perTurn());
            locks.add(new Lock(of.name(), turns, angles(handle, of)));
        }
        return locks;
    }

    private Optional<RealRange> range(String movement) {
        return ranges.stream().filter(r -> r.movement().equals(movement)).findFirst();
    }

    private List<LockAngle> angles(int handle, Handle of) {
        List<LockAngle> angles = new ArrayList<>();
        for (Foot foot : footing.feet) {
            if (!workspace.handlesOf(foot.body(), foot.body()).contains(handle)) {
                continue;
            }
            for (Height height : Height.values()) {
                RealRange range = range(height == Height.RIDE ? of.name() : of.name() + " at " + height.word)
                        .orElse(null);
                double low = range == null ? of.lowest() : range.lowest();
                double high = range == null ? of.highest() : range.highest();
                Optional<Double> one = heading(foot, height, handle, low);
                Optional<Double> other = heading(foot, height, handle, high);
                if (one.isPresent() && other.isPresent()) {
                    angles.add(new LockAngle(
                            foot.name(),
                            height.word,
                            Math.max(one.get(), other.get()),
                            Math.min(one.get(), other.get())));
                }
            }
        }
        return angles;
    }

    /** The heading of a wheel about z, rad, to the left positive, less its heading at ride height straight ahead. */
    private Optional<Double> heading(Foot foot, Height height, int handle, double value) {
        double[] values = new double[workspace.handles().size()];
        for (Foot other : footing.axle(foot.axle())) {
            if (other.travel() >= 0) {
                values[other.travel()] = travel(other.travel(), height);
            }
        }
        values[handle] = value;
        if (!kinematics.fillAt(
                foot.body(), values, new double[workspace.plays(foot.body()).size()], wander)) {
            return Optional.empty();
        }
        Direction rest = foot.wheel().spindle();
        Direction now = Pose.of(wander.centre()).apply(rest);
        double turned = Math.atan2(now.y(), now.x()) - Math.atan2(rest.y(), rest.x());
        return Optional.of(Math.IEEEremainder(turned, 2 * Math.PI));
    }

    private double travel(int handle, Height height) {
        Handle of = workspace.handles().get(handle);
        return switch (height) {
            case BUMP -> of.highest();
            case RIDE -> 0;
            case DROOP -> of.lowest();
        };
    }

    /**
     * Returns every pair that the steering moves and that comes nearer than its rule at one of the three heights, nearest
     * to breaking it first. A pair that is clear over the whole travel is clear at each of them, so that only the others
     * are looked at.
     */
    List<Place> tooNear(GapTable table) {
        List<Integer> steering = handles();
        PairSweep sweep = new PairSweep(kinematics);
        record Near(double marginMm, Place place) {}
        List<Near> near = new ArrayList<>();
        for (GapRow row : table.rows()) {
            List<Integer> own = steering.stream()
                    .filter(h -> row.least().where().handles().stream()
                            .anyMatch(s ->
                                    s.name().equals(workspace.handles().get(h).name())))
                    .toList();
            boolean line = workspace.car().part(row.first()).isEmpty()
                    || workspace.car().part(row.second()).isEmpty();
            if (row.state() == State.CLEAR || own.isEmpty() || line) {
                continue;
            }
            Near worst = null;
            for (Height height : Height.values()) {
                PairSweep.Held held = PairSweep.Held.atRest(workspace.handles().size());
                for (Foot foot : footing.feet) {
                    if (foot.travel() >= 0) {
                        held = held.with(foot.travel(), travel(foot.travel(), height));
                    }
                }
                for (int handle : own) {
                    held = held.free(handle);
                }
                Optional<PairSweep.Swept> swept = sweep.least(row, held);
                if (swept.isPresent()) {
                    double gap = swept.get().found().distanceMm();
                    double margin = gap - row.requiredMm();
                    if (margin < 0 && (worst == null || margin < worst.marginMm)) {
                        worst = new Near(
                                margin,
                                new Place(
                                        row.first() + " / " + row.second(),
                                        gap,
                                        swept.get().found().onA(),
                                        height.word + ", "
                                                + steered(
                                                        own.get(0), swept.get().freeAt())));
                    }
                }
            }
            if (worst != null) {
                near.add(worst);
            }
        }
        near.sort(Comparator.comparingDouble(Near::marginMm).thenComparing(n -> n.place.part()));
        return near.stream().map(Near::place).toList();
    }

    private String steered(int handle, double value) {
        Handle of = workspace.handles().get(handle);
        double share = of.share(value);
        return share < 0.005
                ? "straight ahead"
                : String.format(
                        Locale.ROOT,
                        "%.0f per cent of the way to the %s lock",
                        100 * share,
                        toTheLeft(handle, value) ? "left" : "right");
    }

    private boolean toTheLeft(int handle, double value) {
        return footing.feet.stream()
                .filter(foot -> workspace.handlesOf(foot.body(), foot.body()).contains(handle))
                .findFirst()
                .flatMap(foot -> heading(foot, Height.RIDE, handle, value))
                .map(heading -> heading > 0)
                .orElse(value > 0);
    }
}
