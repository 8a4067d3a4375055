package daylight.motion;

import daylight.car.Car;
import daylight.geometry.Direction;
import daylight.geometry.Pose;
import daylight.geometry.Spot;
import daylight.geometry.Wander;
import daylight.linkage.Enclosure;
import daylight.linkage.Linkage;
import daylight.linkage.Mechanism;
import daylight.linkage.Outcome;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import org.joml.Matrix4x3d;
import org.joml.Vector3d;

/**
 * Where every body of a car is for given handle values, and how it can move over a whole box of them.
 *
 * <p>An engine: not thread-safe, one per thread; {@link #sibling()} gives another that shares the boxes already
 * enclosed. Bodies are numbered as in {@link Workspace}.
 */
public final class Kinematics {

    /** How much is known of a body over a box. */
    public enum Reach {
        /** Its pose at the centre and proved bounds over the box. */
        PROVED,
        /** Its pose at the centre only; {@link #why()} says why not more. */
        NOT_PROVED,
        /** The mechanism cannot stand at the centre; {@link #why()} says why not. */
        NOT_REACHED
    }

    private final Workspace workspace;
    private final Linkage[] linkages;
    private final double[][] local;
    private final double[][] standing;
    private final Outcome[] outcomes;
    private final Enclosure[] enclosures;
    private final double[][] centre;
    private final double[][] half;
    private final double[] interval = new double[2];
    private final ConcurrentHashMap<Key, BoxMotion> boxes;
    private final Matrix4x3d matrix = new Matrix4x3d();
    private final Vector3d vector = new Vector3d();
    private String why = "";

    /** Names one mechanism's part of a box. */
    private static final class Key {
        private final long[] parts;

        Key(long[] parts) {
            this.parts = parts;
        }

        @Override
        public boolean equals(Object other) {
            return other instanceof Key key && Arrays.equals(parts, key.parts);
        }

        @Override
        public int hashCode() {
            return Arrays.hashCode(parts);
        }
    }

    Kinematics(Workspace workspace) {
        this(workspace, new ConcurrentHashMap<>());
    }

    private Kinematics(Workspace workspace, ConcurrentHashMap<Key, BoxMotion> boxes) {
        this.workspace = workspace;
        this.boxes = boxes;
        List<Mechanism> mechanisms = workspace.car().mechanisms();
        int count = mechanisms.size();
        linkages = new Linkage[count];
        local = new double[count][];
        standing = new double[count][];
        outcomes = new Outcome[count];
        enclosures = new Enclosure[count];
        centre = new double[count][];
        half = new double[count][];
        for (int m = 0; m < count; m++) {
            linkages[m] = Linkage.of(mechanisms.get(m));
            enclosures[m] = Enclosure.of(linkages[m]);
            int drivers = linkages[m].driverCount();
            outcomes[m] = linkages[m].solve(new double[drivers]);
            local[m] = new double[drivers];
            standing[m] = new double[drivers];
            centre[m] = new double[drivers];
            half[m] = new double[drivers];
        }
    }

    /** Returns another engine for another thread that shares the boxes already enclosed. */
    public Kinematics sibling() {
        return new Kinematics(workspace, boxes);
    }

    /** Returns the workspace whose positions this engine computes. */
    public Workspace workspace() {
        return workspace;
    }

    /** Returns how many boxes of mechanisms have been solved and enclosed, by this engine and its siblings. */
    public long positions() {
        return boxes.size();
    }

    /** Returns why the last body could not be placed or bounded, in the user's words. */
    public String why() {
        return why;
    }

    /**
     * Moves the whole car.
     *
     * @param values one value per handle, mm or radians from ride height
     * @return empty, or why a mechanism cannot stand there (the first one; the others have moved)
     */
    public Optional<String> stand(double[] values) {
        Optional<String> trouble = Optional.empty();
        for (int m = 0; m < linkages.length; m++) {
            if (!stand(m, values) && trouble.isEmpty()) {
                trouble = Optional.of(why);
            }
        }
        return trouble;
    }

    private boolean stand(int mechanism, double[] values) {
        int[] handles = workspace.handlesOfMechanism(mechanism);
        double[] wanted = local[mechanism];
        for (int d = 0; d < wanted.length; d++) {
            wanted[d] = values[handles[d]];
        }
        if (!Arrays.equals(wanted, standing[mechanism])) {
            outcomes[mechanism] = linkages[mechanism].solve(wanted);
            System.arraycopy(wanted, 0, standing[mechanism], 0, wanted.length);
        }
        boolean stands = outcomes[mechanism].solved();
        if (!stands) {
            why = outcomes[mechanism].message();
        }
        return stands;
    }

    /** Returns a body's pose where the car last stood, without any shift within its play. */
    public Pose pose(int body) {
        Workspace.Body which = workspace.body(body);
        return which.mechanism() < 0 ? Pose.RIDE_HEIGHT : linkages[which.mechanism()].pose(which.local());
    }

    /**
     * Fills a wander with a body's pose at handle values and no motion about it.
     *
     * @param offsets how far the body is shifted along each of its plays, mm; as many as it has; not modified
     * @return whether the body's mechanism can stand there; if not, {@link #why()}
     */
    public boolean fillAt(int body, double[] values, double[] offsets, Wander into) {
        Workspace.Body which = workspace.body(body);
        into.parameters(0);
        if (which.mechanism() >= 0) {
            if (!stand(which.mechanism(), values)) {
                return false;
            }
            linkages[which.mechanism()].pose(which.local(), matrix);
            into.centre(matrix);
        }
        shifts(which, offsets, into);
        return true;
    }

    /**
     * Fills a wander with how a body moves over a box: the wander's parameters are the box's handles in their order.
     *
     * @param offsets how far the body is shifted along each of its plays at the centre, mm; the wander's shifts are
     *     what is left of the plays from there; as many as it has plays; not modified
     */
    public Reach fill(int body, DriverBox box, double[] offsets, Wander into) {
        Workspace.Body which = workspace.body(body);
        into.parameters(box.size());
        for (int i = 0; i < box.size(); i++) {
            into.half(i, box.half(i));
        }
        if (which.mechanism() < 0) {
            shifts(which, offsets, into);
            return Reach.PROVED;
        }
        BoxMotion motion = motion(which, box);
        if (!motion.reached) {
            why = motion.why;
            return Reach.NOT_REACHED;
        }
        copy(which, motion, box, offsets, into);
        if (!motion.proved) {
            why = motion.why;
        }
        return motion.proved ? Reach.PROVED : Reach.NOT_PROVED;
    }

    private void copy(Workspace.Body which, BoxMotion motion, DriverBox box, double[] offsets, Wander into) {
        double[] p = motion.poses;
        int o = which.local() * BoxMotion.POSE;
        into.centre(matrix.set(
                p[o], p[o + 4], p[o + 8], p[o + 1], p[o + 5], p[o + 9], p[o + 2], p[o + 6], p[o + 10], p[o + 3],
                p[o + 7], p[o + 11]));
        Spot reference = linkages[which.mechanism()].reference(which.local());
        into.reference(reference.x(), reference.y(), reference.z());
        double reach = 0;
        for (Car.Allowance.Play play : which.plays()) {
            reach += Math.max(-play.leastMm(), play.greatestMm());
        }
        int[] handles = workspace.handlesOfMechanism(which.mechanism());
        for (int i = 0; i < box.size(); i++) {
            for (int d = 0; d < handles.length; d++) {
                if (handles[d] == box.handle(i)) {
                    twist(into, i, motion, which.local() * handles.length + d, reach);
                }
            }
        }
        which.onChassis().ifPresent(pivot -> {
            Direction line = pivot.line().orElseThrow();
            into.about(pivot.at().x(), pivot.at().y(), pivot.at().z(), line.x(), line.y(), line.z());
        });
        shifts(which, offsets, into);
    }

    /**
     * Writes one parameter's twist and errors. A play's shift turns with the body: what that adds to the velocities is
     * there from the centre on, so it counts twice as an error that grows with the way from the centre.
     */
    private static void twist(Wander into, int i, BoxMotion motion, int at, double playReachMm) {
        double[] t = motion.twists;
        int k = at * BoxMotion.TWIST;
        into.twist(i, t[k], t[k + 1], t[k + 2], t[k + 3], t[k + 4], t[k + 5]);
        double omega = Math.sqrt(t[k] * t[k] + t[k + 1] * t[k + 1] + t[k + 2] * t[k + 2]);
        double shiftTurn = 2 * playReachMm * (omega + motion.turnError[at]);
        into.error(i, motion.linearError[at] + shiftTurn, motion.turnError[at]);
    }

    /** Moves the centre by the offsets and adds what is left of the plays, along their directions as turned there. */
    private void shifts(Workspace.Body which, double[] offsets, Wander into) {
        matrix.set(into.centre());
        for (int j = 0; j < which.plays().size(); j++) {
            Car.Allowance.Play play = which.plays().get(j);
            Direction along = play.along();
            into.centre().transformDirection(vector.set(along.x(), along.y(), along.z()));
            matrix.m30(matrix.m30() + offsets[j] * vector.x);
            matrix.m31(matrix.m31() + offsets[j] * vector.y);
            matrix.m32(matrix.m32() + offsets[j] * vector.z);
            into.shift(vector.x, vector.y, vector.z, play.leastMm() - offsets[j], play.greatestMm() - offsets[j]);
        }
        into.centre(matrix);
    }

    private BoxMotion motion(Workspace.Body which, DriverBox box) {
        int m = which.mechanism();
        int[] handles = workspace.handlesOfMechanism(m);
        Key key = new Key(box.key(m, handles));
        BoxMotion known = boxes.get(key);
        if (known != null) {
            return known;
        }
        for (int d = 0; d < handles.length; d++) {
            box.intervalInto(handles[d], interval);
            centre[m][d] = interval[0];
            half[m][d] = interval[1];
        }
        BoxMotion fresh = enclose(m);
        BoxMotion first = boxes.putIfAbsent(key, fresh);
        return first == null ? fresh : first;
    }

    private BoxMotion enclose(int m) {
        Linkage linkage = linkages[m];
        int bodies = linkage.bodies().size();
        int drivers = linkage.driverCount();
        double[] poses = new double[bodies * BoxMotion.POSE];
        double[] twists = new double[bodies * drivers * BoxMotion.TWIST];
        double[] linear = new double[bodies * drivers];
        double[] turn = new double[bodies * drivers];
        Arrays.fill(standing[m], Double.NaN);
        Enclosure enclosure = enclosures[m];
        boolean proved = linkage.enclose(centre[m], half[m], enclosure);
        boolean reached = proved || linkage.solve(centre[m]).solved();
        String reason = proved ? "" : enclosure.why();
        if (reached) {
            Matrix4x3d pose = new Matrix4x3d();
            double[] twist = new double[BoxMotion.TWIST];
            for (int b = 0; b < bodies; b++) {
                linkage.pose(b, pose);
                int o = b * BoxMotion.POSE;
                poses[o] = pose.m00();
                poses[o + 1] = pose.m10();
                poses[o + 2] = pose.m20();
                poses[o + 3] = pose.m30();
                poses[o + 4] = pose.m01();
                poses[o + 5] = pose.m11();
                poses[o + 6] = pose.m21();
                poses[o + 7] = pose.m31();
                poses[o + 8] = pose.m02();
                poses[o + 9] = pose.m12();
                poses[o + 10] = pose.m22();
                poses[o + 11] = pose.m32();
                for (int d = 0; d < drivers; d++) {
                    linkage.twist(b, d, twist);
                    System.arraycopy(twist, 0, twists, (b * drivers + d) * BoxMotion.TWIST, BoxMotion.TWIST);
                    if (proved) {
                        linear[b * drivers + d] = enclosure.linearError(b, d);
                        turn[b * drivers + d] = enclosure.turnError(b, d);
                    }
                }
            }
        }
        return new BoxMotion(proved, reached, reason, poses, twists, linear, turn);
    }
}
