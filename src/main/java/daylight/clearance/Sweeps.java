package daylight.clearance;

import daylight.geometry.Solid;
import daylight.geometry.Spot;
import daylight.geometry.Wander;
import daylight.motion.DriverBox;
import daylight.motion.Kinematics;
import java.util.Arrays;
import java.util.List;
import org.joml.Matrix4x3dc;

/**
 * The room that each part sweeps over its whole travel and play, as a box along the car's axes: pairs whose rooms are
 * far apart need no search. Proved, like a floor: a part's room is put together from boxes of handle values over which
 * its motion is bounded.
 */
public final class Sweeps {
    /** A box of handle values is halved until no spot of the part can reach further than this beyond the room seen, mm. */
    private static final double FINE_MM = 30;
    /** Halvings of one range after which the room is taken as it is, or as unbounded when nothing is proved. */
    private static final int DEEPEST = 6;

    private static final int ROOM = 6;

    /** Handles whose ends are all looked at together; further ones stay at their lower ends. */
    private static final int MOST_CORNERS = 4;

    private final Kinematics kinematics;
    private final Solid solid;
    private final int body;
    private final double[] offsets;
    private final Wander wander = new Wander();
    /** The room put together so far; what the part was seen to reach; and the room of one box. */
    private final double[] room = new double[ROOM];

    private final double[] seen = new double[ROOM];
    private final double[] here = new double[ROOM];

    /** Along each of the car's axes the least and the greatest coordinate that a part reaches, mm. */
    public record Room(double lowX, double lowY, double lowZ, double highX, double highY, double highZ) {

        /** Returns how far apart two rooms are, mm; zero when they overlap. */
        public double apartMm(Room other) {
            double x = Math.max(0, Math.max(lowX - other.highX, other.lowX - highX));
            double y = Math.max(0, Math.max(lowY - other.highY, other.lowY - highY));
            double z = Math.max(0, Math.max(lowZ - other.highZ, other.lowZ - highZ));
            return Math.sqrt(x * x + y * y + z * z);
        }
    }

    /** Returns the room that a solid on a body sweeps. */
    public static Room room(Kinematics kinematics, Solid solid, int body) {
        Sweeps sweeps = new Sweeps(kinematics, solid, body);
        DriverBox whole = kinematics.workspace().whole(body, body);
        sweeps.visitCorners(whole);
        sweeps.add(whole);
        double[] room = sweeps.room;
        return new Room(room[0], room[1], room[2], room[3], room[4], room[5]);
    }

    private Sweeps(Kinematics kinematics, Solid solid, int body) {
        this.kinematics = kinematics;
        this.solid = solid;
        this.body = body;
        this.offsets = new double[kinematics.workspace().plays(body).size()];
        for (double[] each : List.of(room, seen, here)) {
            clear(each);
        }
    }

    private static void clear(double[] room) {
        Arrays.fill(room, 0, 3, Double.POSITIVE_INFINITY);
        Arrays.fill(room, 3, ROOM, Double.NEGATIVE_INFINITY);
    }

    /** Looks at the corners of the travel first: most of the room is then known, and what is inside it needs no care. */
    private void visitCorners(DriverBox whole) {
        double[] values = new double[kinematics.workspace().handles().size()];
        int corners = 1 << Math.min(whole.size(), MOST_CORNERS);
        for (int c = 0; c < corners; c++) {
            whole.centreInto(values);
            for (int i = 0; i < whole.size(); i++) {
                values[whole.handle(i)] += ((c >> i & 1) == 0 ? -1 : 1) * whole.half(i);
            }
            if (kinematics.fillAt(body, values, offsets, wander)) {
                grow(wander.centre(), 0, seen);
            }
        }
    }

    private void add(DriverBox box) {
        Kinematics.Reach reach = kinematics.fill(body, box, offsets, wander);
        Spot middle = solid.centre();
        double stray = reach == Kinematics.Reach.PROVED
                ? wander.stray(middle.x(), middle.y(), middle.z(), solid.radiusMm())
                : Double.POSITIVE_INFINITY;
        if (reach != Kinematics.Reach.NOT_REACHED) {
            grow(wander.centre(), 0, seen);
        }
        clear(here);
        grow(wander.centre(), stray, here);
        if (!isNear(here)) {
            int split = -1;
            for (int i = 0; i < box.size(); i++) {
                if (box.splits(i) && box.level(i) < DEEPEST && (split < 0 || box.level(i) < box.level(split))) {
                    split = i;
                }
            }
            if (split >= 0) {
                add(box.halved(split, 0));
                add(box.halved(split, 1));
                return;
            }
        }
        for (int c = 0; c < 3; c++) {
            room[c] = Math.min(room[c], here[c]);
            room[c + 3] = Math.max(room[c + 3], here[c + 3]);
        }
    }

    /** Whether a room goes no further than {@link #FINE_MM} beyond what the part was seen to reach. */
    private boolean isNear(double[] a) {
        for (int c = 0; c < 3; c++) {
            if (!(a[c] >= seen[c] - FINE_MM) || !(a[c + 3] <= seen[c + 3] + FINE_MM)) {
                return false;
            }
        }
        return true;
    }

    private void grow(Matrix4x3dc pose, double stray, double[] into) {
        Spot low = solid.lowest();
        Spot high = solid.highest();
        double cx = (low.x() + high.x()) / 2;
        double cy = (low.y() + high.y()) / 2;
        double cz = (low.z() + high.z()) / 2;
        double hx = (high.x() - low.x()) / 2;
        double hy = (high.y() - low.y()) / 2;
        double hz = (high.z() - low.z()) / 2;
        double x = pose.m00() * cx + pose.m10() * cy + pose.m20() * cz + pose.m30();
        double y = pose.m01() * cx + pose.m11() * cy + pose.m21() * cz + pose.m31();
        double z = pose.m02() * cx + pose.m12() * cy + pose.m22() * cz + pose.m32();
        double rx = Math.abs(pose.m00()) * hx + Math.abs(pose.m10()) * hy + Math.abs(pose.m20()) * hz + stray;
        double ry = Math.abs(pose.m01()) * hx + Math.abs(pose.m11()) * hy + Math.abs(pose.m21()) * hz + stray;
        double rz = Math.abs(pose.m02()) * hx + Math.abs(pose.m12()) * hy + Math.abs(pose.m22()) * hz + stray;
        into[0] = Math.min(into[0], x - rx);
        into[1] = Math.min(into[1], y - ry);
        into[2] = Math.min(into[2], z - rz);
        into[3] = Math.max(into[3], x + rx);
        into[4] = Math.max(into[4], y + ry);
        into[5] = Math.max(into[5], z + rz);
    }
}
