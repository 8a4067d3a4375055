package daylight.hose;

import daylight.car.Car;
import daylight.clearance.GapRow;
import daylight.clearance.Least;
import daylight.clearance.LeftOut;
import daylight.clearance.State;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * One line as it is, looked at once over the whole travel: its slack, its shapes, and how near they come to every
 * part. Its report and its rows in the table of gaps both rest on this.
 */
final class OneLine {
    final LineTravel line;
    final HoseReport.Slack slack;
    final ShapeWalk walk;
    private final Neighbours near;
    private final double watchMm;

    /**
     * Looks at a line.
     *
     * @param watchMm parts that it cannot come nearer to than this are far
     */
    OneLine(Car.Hose hose, Stances stances, CarSolids solids, double watchMm) {
        this.watchMm = watchMm;
        line = new LineTravel(hose, stances);
        slack = new SlackSearch(line).search();
        near = new Neighbours(line, solids, watchMm);
        walk = new ShapeWalk(line, Optional.of(near));
        walk.walk();
        walk.refine();
    }

    /** Whether it is pulled tight somewhere, or cannot be proved not to be. */
    boolean taut() {
        return taut(walk, slack);
    }

    static boolean taut(ShapeWalk walk, HoseReport.Slack slack) {
        return walk.taut() || slack.floorMm() < 0;
    }

    List<LeftOut> leftOut() {
        List<LeftOut> leftOut = new ArrayList<>(near.leftOut());
        for (Neighbours.Part part : near.parts()) {
            if (!measured(part)) {
                leftOut.add(new LeftOut(
                        line.hose.name(), part.part.name(), "its shape at ride height could not be computed"));
            }
        }
        return leftOut;
    }

    long boxes() {
        return near.boxes();
    }

    private static boolean measured(Neighbours.Part part) {
        return part.atRide.isPresent() && part.near.isPresent() && part.where.isPresent();
    }

    /**
     * Returns the line's rows. Where it is pulled tight nobody knows where it is, nor whether it holds: against what it
     * is screwed to it is then {@code tight} whatever gap was found where it does reach.
     */
    List<GapRow> rows() {
        List<GapRow> rows = new ArrayList<>();
        String why = why();
        BitSet pulls = taut() ? holders() : new BitSet();
        for (int p = 0; p < near.parts().size(); p++) {
            Neighbours.Part part = near.parts().get(p);
            if (!measured(part)) {
                continue;
            }
            State found = ShapeWalk.state(part);
            State state = pulls.get(p) && found == State.CLEAR ? State.TIGHT : found;
            rows.add(new GapRow(
                    line.hose.name(),
                    part.part.name(),
                    part.atRide.orElseThrow(),
                    new Least(
                            part.near.orElseThrow(),
                            part.where.orElseThrow(),
                            Math.min(part.floorMm, part.leastMm),
                            near.far(part) && state == State.CLEAR
                                    ? new Least.Proof.FarApart(watchMm)
                                    : new Least.Proof.Unproved(why)),
                    part.requiredMm,
                    part.rule,
                    state,
                    part.touches.onset(),
                    part.belowRule.onset()));
        }
        return rows;
    }

    /** The parts that a taut line pulls at: the nearest next to each place where it is held, else the nearest there is. */
    private BitSet holders() {
        BitSet holders = new BitSet();
        for (int hold = 0; hold <= line.hose.clips().size() + 1; hold++) {
            int there = hold;
            near.parts().stream()
                    .filter(part -> measured(part) && part.mayTouchAt.get(there))
                    .min(Comparator.comparingDouble(part -> part.leastMm))
                    .ifPresent(part -> holders.set(near.parts().indexOf(part)));
        }
        if (holders.isEmpty()) {
            near.parts().stream()
                    .filter(OneLine::measured)
                    .min(Comparator.comparing((Neighbours.Part part) -> !line.holds(part.body))
                            .thenComparingDouble(part -> part.leastMm))
                    .ifPresent(part -> holders.set(near.parts().indexOf(part)));
        }
        return holders;
    }

    /** What was looked at instead of a proof, and first of all whether it reaches. */
    private String why() {
        StringBuilder why = new StringBuilder();
        if (slack.leastMm() < 0) {
            why.append(String.format(
                    Locale.ROOT,
                    "the hose is pulled tight, %.0f mm too short at the worst (daylight hose says where, and which"
                            + " length reaches); ",
                    Math.ceil(-slack.leastMm())));
        } else if (taut()) {
            why.append("the hose cannot be proved not to be pulled tight (ask daylight hose); ");
        }
        return why + sampled(walk.sampling(), walk.jumps().size());
    }

    private static String sampled(HoseReport.Sampling sampling, int jumps) {
        StringBuilder why = new StringBuilder(String.format(
                Locale.ROOT,
                "sampled at %d positions, the hose's ends at most %.0f mm apart from one to the next",
                sampling.positions(),
                Math.ceil(sampling.stepMm())));
        if (sampling.taut() > 0) {
            why.append(String.format(Locale.ROOT, "; it does not reach at %d of them", sampling.taut()));
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
