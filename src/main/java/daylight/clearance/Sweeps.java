package daylight.clearance;

import daylight.geometry.Solid;
import daylight.geometry.Spot;
import daylight.geometry.Wander;
import daylight.motion.DriverBox;
import daylight.motion.Kinematics;
import java.util.Arrays;
import org.joml.Matrix4x3dc;

/**
 * The room that each part sweeps over its whole travel and play, as a box along the car's axes: pairs whose rooms are
 * far apart need no search. Proved, like a floor: a part's room is put together from boxes of handle values over which
 * its motion is bounded.
 */
final class Sweeps {
    /** A box of handle values is halved until no spot of the part strays further than this in it, mm. */
    private static final double FINE_MM = 30;
    /** Halvings of one range after which the room is taken as it is, or as unbounded when nothing is proved. */
    private static final int DEEPEST = 6;

    private static final int ROOM = 6;

    private final double[] rooms;

    private Sweeps(double[] rooms) {
        this.rooms = rooms;
    }

    static Sweeps of(Kinematics kinematics, Solid[] solids, int[] bodies) {
        double[] rooms = new double[ROOM * solids.length];
        Wander wander = new Wander();
        for (int p = 0; p < solids.length; p++) {
            Arrays.fill(rooms, ROOM * p, ROOM * p + 3, Double.POSITIVE_INFINITY);
            Arrays.fill(rooms, ROOM * p + 3, ROOM * p + ROOM, Double.NEGATIVE_INFINITY);
            DriverBox whole = kinematics.workspace().whole(bodies[p], bodies[p]);
            double[] offsets =
                    new double[kinematics.workspace().plays(bodies[p]).size()];
            add(kinematics, solids[p], bodies[p], whole, offsets, wander, rooms, ROOM * p);
        }
        return new Sweeps(rooms);
    }

    private static void add(
            Kinematics kinematics,
            Solid solid,
            int body,
            DriverBox box,
            double[] offsets,
            Wander wander,
            double[] rooms,
            int at) {
        boolean proved = kinematics.fill(body, box, offsets, wander) == Kinematics.Reach.PROVED;
        Spot middle = solid.centre();
        double stray =
                proved ? wander.stray(middle.x(), middle.y(), middle.z(), solid.radiusMm()) : Double.POSITIVE_INFINITY;
        if (stray > FINE_MM) {
            int split = -1;
            for (int i = 0; i < box.size(); i++) {
                if (box.splits(i) && box.level(i) < DEEPEST && (split < 0 || box.level(i) < box.level(split))) {
                    split = i;
                }
            }
            if (split >= 0) {
                add(kinematics, solid, body, box.halved(split, 0), offsets, wander, rooms, at);
                add(kinematics, solid, body, box.halved(split, 1), offsets, wander, rooms, at);
                return;
            }
        }
        grow(wander.centre(), solid, stray, rooms, at);
    }

    private static void grow(Matrix4x3dc pose, Solid solid, double stray, double[] rooms, int at) {
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
        rooms[at] = Math.min(rooms[at], x - rx);
        rooms[at + 1] = Math.min(rooms[at + 1], y - ry);
        rooms[at + 2] = Math.min(rooms[at + 2], z - rz);
        rooms[at + 3] = Math.max(rooms[at + 3], x + rx);
        rooms[at + 4] = Math.max(rooms[at + 4], y + ry);
        rooms[at + 5] = Math.max(rooms[at + 5], z + rz);
    }

    /** Returns how far apart the rooms of two parts are, mm; zero when they overlap. */
    double apartMm(int a, int b) {
        double sum = 0;
        for (int c = 0; c < 3; c++) {
            double gap = Math.max(
                    rooms[ROOM * a + c] - rooms[ROOM * b + c + 3], rooms[ROOM * b + c] - rooms[ROOM * a + c + 3]);
            if (gap > 0) {
                sum += gap * gap;
            }
        }
        return Math.sqrt(sum);
    }
}
