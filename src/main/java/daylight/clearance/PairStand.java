package daylight.clearance;

import daylight.car.Car;
import daylight.geometry.Direction;
import daylight.geometry.Gauge;
import daylight.geometry.Proximity;
import daylight.geometry.Solid;
import daylight.geometry.Spot;
import daylight.geometry.Wander;
import daylight.motion.DriverBox;
import daylight.motion.Kinematics;
import daylight.motion.Setting;
import daylight.motion.Workspace;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import org.joml.Matrix4x3d;
import org.joml.Matrix4x3dc;
import org.joml.Vector3d;
import org.jspecify.annotations.Nullable;

/**
 * Stands one pair of parts at a position or over a cell of positions, and measures it there with each body shifted
 * within its plays to where the two are closest. One per thread; {@link #take} begins a pair.
 */
final class PairStand {
    /** Rounds of going along every play in turn. */
    private static final int SWEEPS = 4;
    /** A shift is settled to this, mm; a gap then to far less than any tolerance. */
    private static final double SETTLED_MM = 1e-3;

    private final Scene scene;
    private final Kinematics kinematics;
    private final Gauge gauge;
    private final Wander wanderA = new Wander();
    private final Wander wanderB = new Wander();
    private final Matrix4x3d poseA = new Matrix4x3d();
    private final Matrix4x3d poseB = new Matrix4x3d();
    private final Vector3d normal = new Vector3d();

    private Solid solidA;
    private Solid solidB;
    int bodyA;
    int bodyB;
    private Play[] plays = new Play[0];
    private List<Cell.Range> whole = List.of();
    private double[] offsetsA = new double[0];
    private double[] offsetsB = new double[0];
    private @Nullable Spot shared;
    private @Nullable Direction line;

    /** One play of one of the two bodies: how far it goes, and along which line as the car stands. */
    private static final class Play {
        final Car.Allowance.Play of;
        final boolean first;
        final int number;
        final Vector3d along = new Vector3d();

        Play(Car.Allowance.Play of, boolean first, int number) {
            this.of = of;
            this.first = first;
            this.number = number;
        }
    }

    PairStand(Scene scene, Kinematics kinematics, Gauge gauge) {
        this.scene = scene;
        this.kinematics = kinematics;
        this.gauge = gauge;
        this.solidA = scene.solids[0];
        this.solidB = scene.solids[0];
    }

    /** Takes over a pair. */
    void take(Scene.Pair pair) {
        solidA = scene.solids[pair.a()];
        solidB = scene.solids[pair.b()];
        bodyA = scene.bodies[pair.a()];
        bodyB = scene.bodies[pair.b()];
        List<Car.Allowance.Play> ofA = scene.workspace.plays(bodyA);
        List<Car.Allowance.Play> ofB = scene.workspace.plays(bodyB);
        offsetsA = new double[ofA.size()];
        offsetsB = new double[ofB.size()];
        plays = new Play[ofA.size() + ofB.size()];
        List<Cell.Range> ranges = new ArrayList<>();
        for (int j = 0; j < plays.length; j++) {
            boolean first = j < ofA.size();
            int number = first ? j : j - ofA.size();
            Car.Allowance.Play of = first ? ofA.get(number) : ofB.get(number);
            plays[j] = new Play(of, first, number);
            ranges.add(new Cell.Range(of.leastMm(), of.greatestMm()));
        }
        whole = List.copyOf(ranges);
        Optional<Workspace.Pivot> pivot = scene.workspace.pivot(bodyA, bodyB);
        shared = pivot.map(Workspace.Pivot::at).orElse(null);
        line = pivot.flatMap(Workspace.Pivot::line).orElse(null);
    }

    /** Returns everything the pair may do. */
    Cell whole() {
        return new Cell(scene.workspace.whole(bodyA, bodyB), whole);
    }

    /** Returns how many plays the two bodies have. */
    int plays() {
        return plays.length;
    }

    // ---- one position -----------------------------------------------------------------------------------------

    /** Stands the pair at handle values and returns its gap, closed up within its whole plays; infinite if it cannot. */
    double gapAt(double[] values) {
        noOffsets();
        if (!kinematics.fillAt(bodyA, values, offsetsA, wanderA)
                || !kinematics.fillAt(bodyB, values, offsetsB, wanderB)) {
            return Double.POSITIVE_INFINITY;
        }
        return gap(whole);
    }

    /** Returns the gap measured last afresh, so that its spots do not depend on what was measured before. */
    Proximity proximity() {
        return plays.length == 0
                ? gauge.proximity(solidA, wanderA.centre(), solidB, wanderB.centre())
                : gauge.proximity(solidA, poseA, solidB, poseB);
    }

    /** Returns the shifts at which the gap was measured last; those that are not zero. */
    List<Setting> shifts() {
        List<Setting> shifts = new ArrayList<>();
        for (Play play : plays) {
            if (offset(play) != 0) {
                String name = scene.workspace.bodyName(play.first ? bodyA : bodyB) + " " + play.of.name();
                shifts.add(new Setting(name, offset(play), false));
            }
        }
        return shifts;
    }

    private double gap(List<Cell.Range> within) {
        return plays.length == 0
                ? gauge.measure(solidA, wanderA.centre(), solidB, wanderB.centre())
                : closeUp(wanderA.centre(), wanderB.centre(), within);
    }

    // ---- a cell -----------------------------------------------------------------------------------------------

    /** The body whose motion over the last cell is not proved; meaningless when both are. */
    int culprit;

    /** Stands the pair at the centre of a cell, nothing shifted yet, with how it may move from there. */
    Kinematics.Reach over(Cell cell) {
        noOffsets();
        Kinematics.Reach ofA = fill(bodyA, cell.box(), offsetsA, wanderA);
        Kinematics.Reach ofB = fill(bodyB, cell.box(), offsetsB, wanderB);
        culprit = ofA == Kinematics.Reach.PROVED ? bodyB : bodyA;
        return ofA.compareTo(ofB) > 0 ? ofA : ofB;
    }

    private Kinematics.Reach fill(int body, DriverBox box, double[] offsets, Wander into) {
        return kinematics.fill(body, box, offsets, into);
    }

    /** Returns the gap at the centre of the cell last stood over, closed up within the cell's plays. */
    double gapAtCentre(Cell cell) {
        return gap(cell.plays());
    }

    /**
     * Returns a floor of the pair over the cell last stood over; {@link #gapAtCentre} comes first where there are
     * plays: from the closest shift on, a floor loses least to them.
     */
    double floor(Cell cell, double enough) {
        if (plays.length > 0) {
            kinematics.fill(bodyA, cell.box(), offsetsA, wanderA);
            kinematics.fill(bodyB, cell.box(), offsetsB, wanderB);
            for (int j = 0; j < plays.length; j++) {
                Cell.Range range = cell.plays().get(j);
                double at = offset(plays[j]);
                (plays[j].first ? wanderA : wanderB).shiftRange(plays[j].number, range.low() - at, range.high() - at);
            }
        }
        if (shared == null) {
            return gauge.floor(solidA, wanderA, solidB, wanderB, enough);
        }
        return line == null
                ? gauge.floorAbout(solidA, wanderA, solidB, wanderB, shared, enough)
                : gauge.floorAbout(solidA, wanderA, solidB, wanderB, shared, line, enough);
    }

    /** Returns the gap at which the j-th play would leave a floor of the cell, for the direction at the centre, mm. */
    double lostToPlay(Cell cell, int j) {
        Play play = plays[j];
        double slope = slope(play);
        Cell.Range range = cell.plays().get(j);
        double at = offset(play);
        return Math.max(0, Math.max(slope * (at - range.low()), slope * (at - range.high())));
    }

    /** Returns where to part the j-th play: where the gap stopped falling, or else in the middle. */
    double partAt(Cell cell, int j) {
        Cell.Range range = cell.plays().get(j);
        double at = offset(plays[j]);
        double edge = range.width() / 8;
        return at - range.low() > edge && range.high() - at > edge ? at : (range.low() + range.high()) / 2;
    }

    /**
     * Shifts both bodies within their plays to where they are closest: leaves the shifts in the offsets and the poses
     * in {@link #poseA} and {@link #poseB}, and returns the gap there. The gap of convex shapes that are apart is a
     * convex function of the shifts, so going along one play at a time, each to its end or to where the gap stops
     * falling, ends at the least; for others it is a shift that is possible, which is all that is claimed.
     */
    private double closeUp(Matrix4x3dc restA, Matrix4x3dc restB, List<Cell.Range> within) {
        poseA.set(restA);
        poseB.set(restB);
        for (Play play : plays) {
            Direction along = play.of.along();
            (play.first ? restA : restB).transformDirection(play.along.set(along.x(), along.y(), along.z()));
        }
        for (int j = 0; j < plays.length; j++) {
            Cell.Range range = within.get(j);
            double start = Math.max(range.low(), Math.min(range.high(), 0));
            if (start != 0) {
                shift(plays[j], start);
            }
        }
        double gap = gauge.measure(solidA, poseA, solidB, poseB);
        for (int sweep = 0; sweep < SWEEPS; sweep++) {
            boolean moved = false;
            for (int j = 0; j < plays.length; j++) {
                Play play = plays[j];
                double slope = slope(play);
                double end = slope < 0 ? within.get(j).high() : within.get(j).low();
                double start = offset(play);
                if (Math.abs(slope) < 1e-9 || Math.abs(end - start) < 1e-12) {
                    continue;
                }
                double atEnd = shiftTo(play, end);
                if (slope(play) * slope < 0) {
                    atEnd = settle(play, start, end, slope, atEnd);
                }
                moved |= Math.abs(offset(play) - start) > SETTLED_MM;
                gap = atEnd;
            }
            if (!moved) {
                break;
            }
        }
        return gap;
    }

    /** Bisects for the shift at which the gap stops falling, between a start where it falls and an end beyond. */
    private double settle(Play play, double start, double end, double slope, double atEnd) {
        double near = start;
        double far = end;
        double gap = atEnd;
        while (Math.abs(far - near) > SETTLED_MM / 4) {
            double middle = (near + far) / 2;
            gap = shiftTo(play, middle);
            if (slope(play) * slope > 0) {
                near = middle;
            } else {
                far = middle;
            }
        }
        return gap;
    }

    /** How the gap measured last changes with a play's shift: minus one when it closes as fast as it is shifted. */
    private double slope(Play play) {
        gauge.normal(normal);
        double along = normal.dot(play.along);
        return play.first ? -along : along;
    }

    private double offset(Play play) {
        return (play.first ? offsetsA : offsetsB)[play.number];
    }

    private double shiftTo(Play play, double mm) {
        shift(play, mm);
        return gauge.measure(solidA, poseA, solidB, poseB);
    }

    private void shift(Play play, double mm) {
        double[] offsets = play.first ? offsetsA : offsetsB;
        Matrix4x3d pose = play.first ? poseA : poseB;
        double by = mm - offsets[play.number];
        offsets[play.number] = mm;
        pose.m30(pose.m30() + by * play.along.x);
        pose.m31(pose.m31() + by * play.along.y);
        pose.m32(pose.m32() + by * play.along.z);
    }

    private void noOffsets() {
        Arrays.fill(offsetsA, 0);
        Arrays.fill(offsetsB, 0);
    }
}
