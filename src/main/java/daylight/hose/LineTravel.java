package daylight.hose;

import daylight.car.Car;
import daylight.clearance.Position;
import daylight.geometry.Direction;
import daylight.geometry.Pose;
import daylight.geometry.Spot;
import daylight.geometry.Wander;
import daylight.motion.DriverBox;
import daylight.motion.Handle;
import daylight.motion.Kinematics;
import daylight.motion.Setting;
import daylight.motion.Workspace;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.TreeSet;

/**
 * The ends of one flexible line's pieces wherever the car stands. A line without clips is one piece; each clip ends a
 * piece and begins the next.
 *
 * <p>The line is taken to be fitted without twist at ride height: there the end frames are set so that the twist is
 * zero. An engine: not thread-safe.
 */
final class LineTravel {
    final Car.Hose hose;
    final Workspace workspace;
    final Kinematics kinematics;
    private final Stances stances;
    private Pose[] poses;
    final List<Piece> pieces;
    /** What moves any of the bodies that hold the line: handles ascending, then plays. */
    final List<Freedom> freedoms;
    /** Indices of the handles among them, ascending. */
    final int[] handles;
    /** Least radius of the centre line, mm. */
    final double radiusMm;

    private final double[] values;
    private final double[] others;
    private final int[][] handlesOfBody;
    private final double[][] offsets;
    private final boolean[] holds;

    /**
     * One piece: its two ends on their bodies at ride height, and its length there.
     *
     * @param slides whether the line may slide through the clip at its end
     */
    record Piece(int bodyA, int bodyB, Ends ends, double lengthMm, double twistStiffness, boolean slides) {}

    /**
     * A handle (then {@code play} is -1) or a play of a body (then {@code handle} is -1) that moves the line.
     *
     * @param lowest mm or rad, zero or less; {@code highest} zero or more
     */
    record Freedom(String name, int handle, int body, int play, double lowest, double highest, boolean turns) {}

    LineTravel(Car.Hose hose, Kinematics kinematics) {
        this(hose, new Stances(kinematics));
    }

    /** @param stances may be shared by lines that are looked at one after the other */
    LineTravel(Car.Hose hose, Stances stances) {
        this.hose = hose;
        this.stances = stances;
        kinematics = stances.kinematics;
        workspace = kinematics.workspace();
        radiusMm = hose.leastCentreRadiusMm();
        boolean slidesSomewhere = hose.clips().stream().anyMatch(Car.Hose.Clip::slides);
        boolean swivelsSomewhere = hose.from().swivels() || hose.to().swivels();
        List<Piece> made = new ArrayList<>();
        int body = workspace.bodyIndex(hose.from().body());
        Spot at = hose.from().mouth();
        Direction tangent = hose.from().leaves();
        double before = 0;
        for (int i = 0; i <= hose.clips().size(); i++) {
            boolean last = i == hose.clips().size();
            int nextBody = workspace.bodyIndex(
                    last ? hose.to().body() : hose.clips().get(i).body());
            Spot next = last ? hose.to().mouth() : hose.clips().get(i).at();
            Direction arrives =
                    last ? hose.to().leaves().reversed() : hose.clips().get(i).along();
            double after = last ? hose.freeLengthMm() : hose.clips().get(i).afterMm();
            // Through a sliding clip a swivel takes the twist out of the next piece too.
            boolean swivels = (i == 0 && hose.from().swivels())
                    || (last && hose.to().swivels())
                    || (slidesSomewhere && swivelsSomewhere);
            made.add(new Piece(
                    body,
                    nextBody,
                    untwisted(Ends.of(at, tangent, next, arrives), after - before),
                    after - before,
                    swivels ? 0 : Rod.SOLID_RUBBER,
                    !last && hose.clips().get(i).slides()));
            body = nextBody;
            at = next;
            tangent = arrives;
            before = after;
        }
        pieces = List.copyOf(made);
        values = new double[workspace.handles().size()];
        others = values.clone();
        handlesOfBody = new int[workspace.bodyCount()][];
        for (int b = 0; b < handlesOfBody.length; b++) {
            handlesOfBody[b] = workspace.handlesOf(b, b).stream()
                    .mapToInt(Integer::intValue)
                    .toArray();
        }
        poses = stances.at(values);
        offsets = new double[workspace.bodyCount()][0];
        holds = new boolean[workspace.bodyCount()];
        TreeSet<Integer> bodies = new TreeSet<>();
        for (Piece piece : pieces) {
            bodies.add(piece.bodyA);
            bodies.add(piece.bodyB);
        }
        TreeSet<Integer> moving = new TreeSet<>();
        bodies.forEach(b -> moving.addAll(workspace.handlesOf(b, b)));
        handles = moving.stream().mapToInt(Integer::intValue).toArray();
        List<Freedom> free = new ArrayList<>();
        for (int h : handles) {
            Handle handle = workspace.handles().get(h);
            free.add(new Freedom(handle.name(), h, -1, -1, handle.lowest(), handle.highest(), handle.turns()));
        }
        for (int b : bodies) {
            List<Car.Allowance.Play> plays = workspace.plays(b);
            offsets[b] = new double[plays.size()];
            holds[b] = true;
            for (int p = 0; p < plays.size(); p++) {
                Car.Allowance.Play play = plays.get(p);
                free.add(new Freedom(
                        workspace.bodyName(b) + " " + play.name(), -1, b, p, play.leastMm(), play.greatestMm(), false));
            }
        }
        freedoms = List.copyOf(free);
    }

    /** Turns the end's frame so that the line has no twist as it stands. */
    private static Ends untwisted(Ends ends, double lengthMm) {
        if (!(new Rod(0).settle(ends, lengthMm) instanceof Outcome.Reaches reaches)) {
            return ends;
        }
        Direction across =
                ends.endAcross().turned(ends.endTangent(), -reaches.shape().twistRad());
        return new Ends(ends.begin(), ends.beginTangent(), ends.beginAcross(), ends.end(), ends.endTangent(), across);
    }

    /**
     * Moves the car: the line's freedoms to these values, every other handle to ride height.
     *
     * @param at one value per freedom, mm or rad; not modified
     * @return whether the car can stand there
     */
    boolean stand(double[] at) {
        Arrays.fill(values, 0);
        for (int f = 0; f < at.length; f++) {
            Freedom freedom = freedoms.get(f);
            if (freedom.handle >= 0) {
                values[freedom.handle] = at[f];
            } else {
                offsets[freedom.body][freedom.play] = at[f];
            }
        }
        return stand();
    }

    private boolean stand() {
        poses = stances.at(values);
        return poses.length > 0;
    }

    /**
     * Returns where a body stands when some handles that do not move the line are set as well.
     *
     * @param own those handles; {@code set} their values
     * @return the pose, shifted if the line's freedoms shift the body; or empty if the car cannot stand there
     */
    Optional<Pose> pose(int body, int[] own, double[] set) {
        if (own.length == 0) {
            return Optional.of(pose(body));
        }
        // Only the handles that move this body: the same few positions again and again, which are kept.
        Arrays.fill(others, 0);
        for (int handle : handlesOfBody[body]) {
            others[handle] = values[handle];
        }
        for (int i = 0; i < own.length; i++) {
            others[own[i]] = set[i];
        }
        Pose[] there = stances.at(others);
        return there.length == 0 ? Optional.empty() : Optional.of(shifted(there[body], body));
    }

    /** Returns why the car could not stand where it was last found not to, in the user's words. */
    String why() {
        return stances.why();
    }

    /** Returns a body's pose where the car last stood, shifted within its play if the line's freedoms shift it. */
    Pose pose(int body) {
        return shifted(poses[body], body);
    }

    private Pose shifted(Pose unshifted, int body) {
        Pose pose = unshifted;
        double[] offset = offsets[body];
        for (int p = 0; p < offset.length; p++) {
            if (offset[p] != 0) {
                pose = shifted(pose, workspace.plays(body).get(p).along(), offset[p]);
            }
        }
        return pose;
    }

    /** Whether a body holds an end of the line or a clip; its plays are then among the line's freedoms. */
    boolean holds(int body) {
        return holds[body];
    }

    /** Returns a pose moved along a direction of its body. */
    static Pose shifted(Pose pose, Direction along, double mm) {
        Direction d = pose.apply(along);
        return new Pose(
                pose.rxx(),
                pose.rxy(),
                pose.rxz(),
                pose.ryx(),
                pose.ryy(),
                pose.ryz(),
                pose.rzx(),
                pose.rzy(),
                pose.rzz(),
                pose.tx() + mm * d.x(),
                pose.ty() + mm * d.y(),
                pose.tz() + mm * d.z());
    }

    /**
     * Writes the ends of a piece where the car last stood.
     *
     * @param into 18 numbers as for {@link Rod}, from index {@code o} on
     */
    void endsInto(int piece, double[] into, int o) {
        Piece p = pieces.get(piece);
        Pose a = pose(p.bodyA);
        Pose b = pose(p.bodyB);
        put(into, o, a.apply(p.ends.begin()));
        put(into, o + 3, a.apply(p.ends.beginTangent()));
        put(into, o + 6, a.apply(p.ends.beginAcross()));
        put(into, o + 9, b.apply(p.ends.end()));
        put(into, o + 12, b.apply(p.ends.endTangent()));
        put(into, o + 15, b.apply(p.ends.endAcross()));
    }

    /** Fills both wanders of a piece over a box; the weaker of what is known of the two. */
    Kinematics.Reach wander(Piece piece, DriverBox box, Wander a, Wander b) {
        Kinematics.Reach first = kinematics.fill(
                piece.bodyA, box, new double[workspace.plays(piece.bodyA).size()], a);
        Kinematics.Reach second = kinematics.fill(
                piece.bodyB, box, new double[workspace.plays(piece.bodyB).size()], b);
        return first.compareTo(second) >= 0 ? first : second;
    }

    /** Returns a position in words' terms: the line's handles, and its plays that are not at rest. */
    Position position(double[] at) {
        List<Setting> settings = new ArrayList<>();
        List<Setting> shifts = new ArrayList<>();
        for (int f = 0; f < at.length; f++) {
            Freedom freedom = freedoms.get(f);
            if (freedom.handle >= 0) {
                settings.add(new Setting(freedom.name, at[f], freedom.turns));
            } else if (at[f] != 0) {
                shifts.add(new Setting(freedom.name, at[f], false));
            }
        }
        return new Position(settings, shifts);
    }

    private static void put(double[] into, int o, Spot spot) {
        into[o] = spot.x();
        into[o + 1] = spot.y();
        into[o + 2] = spot.z();
    }

    private static void put(double[] into, int o, Direction d) {
        into[o] = d.x();
        into[o + 1] = d.y();
        into[o + 2] = d.z();
    }
}
