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

    private Sweeps() {}

    /** Along each of the car's axes the least and the greatest coordinate that a part reaches, mm. */
    record Room(double lowX, double lowY, double lowZ, double highX, double highY, double highZ) {

        /** Returns how far apart two rooms are, mm; zero when they overlap. */
        double apartMm(Room other) {
            double x = Math.max(0, Math.max(lowX - other.highX, other.lowX - highX));
            double y = Math.max(0, Math.max(lowY - other.highY, other.lowY - highY));
            double z = Math.max(0, Math.max(lowZ - other.highZ, other.lowZ - highZ));
            return Math.sqrt(x * x + y * y + z * z);
        }
    }

    /** Returns the room that a solid on a body sweeps. */
    static Room room(Kinematics kinematics, Solid solid, int body) {
        double[] room = new double[ROOM];
        Arrays.fill(room, 0, 3, Double.POSITIVE_INFINITY);
        Arrays.fill(room, 3, ROOM, Double.NEGATIVE_INFINITY);
        DriverBox whole = kinematics.workspace().whole(body, body);
        double[] offsets = new double[kinematics.workspace().plays(body).size()];
        add(kinematics, solid, body, whole, offsets, new Wander(), room, 0);
        return new Room(room[0], room[1], room[2], room[3], room[4], room[5]);
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
}
