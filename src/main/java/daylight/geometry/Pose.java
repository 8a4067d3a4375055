package daylight.geometry;

import org.joml.Matrix4x3d;
import org.joml.Matrix4x3dc;

/**
 * Where a body is: the rigid motion that takes it from ride height to a position, both in the car frame.
 *
 * <p>At ride height every body's pose is the identity. A spot p of the body goes to R p + t.
 *
 * @param rxx row x, column x of the rotation R; the other r components likewise, row first
 * @param tx translation t, mm
 */
public record Pose(
        double rxx,
        double rxy,
        double rxz,
        double ryx,
        double ryy,
        double ryz,
        double rzx,
        double rzy,
        double rzz,
        double tx,
        double ty,
        double tz) {

    /** The pose at ride height. */
    public static final Pose RIDE_HEIGHT = new Pose(1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0);

    /** Returns the value of a matrix (JOML stores columns: its m10 is our row x, column y). */
    public static Pose of(Matrix4x3dc matrix) {
        return new Pose(
                matrix.m00(),
                matrix.m10(),
                matrix.m20(),
                matrix.m01(),
                matrix.m11(),
                matrix.m21(),
                matrix.m02(),
                matrix.m12(),
                matrix.m22(),
                matrix.m30(),
                matrix.m31(),
                matrix.m32());
    }

    /** Writes this pose into a matrix and returns that matrix. */
    public Matrix4x3d into(Matrix4x3d matrix) {
        return matrix.set(rxx, ryx, rzx, rxy, ryy, rzy, rxz, ryz, rzz, tx, ty, tz);
    }

    /** Returns where a spot of the body is at this pose. */
    public Spot apply(Spot spot) {
        double x = spot.x();
        double y = spot.y();
        double z = spot.z();
        return new Spot(
                rxx * x + rxy * y + rxz * z + tx, ryx * x + ryy * y + ryz * z + ty, rzx * x + rzy * y + rzz * z + tz);
    }

    /** Returns which way a direction of the body points at this pose. */
    public Direction apply(Direction direction) {
        double x = direction.x();
        double y = direction.y();
        double z = direction.z();
        return Direction.of(rxx * x + rxy * y + rxz * z, ryx * x + ryy * y + ryz * z, rzx * x + rzy * y + rzz * z);
    }

    /** Returns the pose of a body moved along the car's axes, mm. */
    public static Pose shift(double dx, double dy, double dz) {
        return new Pose(1, 0, 0, 0, 1, 0, 0, 0, 1, dx, dy, dz);
    }

    /** Returns the pose of a body turned about the line through a spot, by the right-hand rule about its direction. */
    public static Pose turn(Spot on, Direction axis, double rad) {
        double c = Math.cos(rad);
        double s = Math.sin(rad);
        double k = 1 - c;
        double x = axis.x();
        double y = axis.y();
        double z = axis.z();
        Pose about = new Pose(
                c + k * x * x,
                k * x * y - s * z,
                k * x * z + s * y,
                k * x * y + s * z,
                c + k * y * y,
                k * y * z - s * x,
                k * x * z - s * y,
                k * y * z + s * x,
                c + k * z * z,
                0,
                0,
                0);
        return shift(on.x(), on.y(), on.z()).after(about).after(shift(-on.x(), -on.y(), -on.z()));
    }

    /** Returns the pose of a body that first takes another pose and is then moved by this one. */
    public Pose after(Pose first) {
        return new Pose(
                rxx * first.rxx + rxy * first.ryx + rxz * first.rzx,
                rxx * first.rxy + rxy * first.ryy + rxz * first.rzy,
                rxx * first.rxz + rxy * first.ryz + rxz * first.rzz,
                ryx * first.rxx + ryy * first.ryx + ryz * first.rzx,
                ryx * first.rxy + ryy * first.ryy + ryz * first.rzy,
                ryx * first.rxz + ryy * first.ryz + ryz * first.rzz,
                rzx * first.rxx + rzy * first.ryx + rzz * first.rzx,
                rzx * first.rxy + rzy * first.ryy + rzz * first.rzy,
                rzx * first.rxz + rzy * first.ryz + rzz * first.rzz,
                rxx * first.tx + rxy * first.ty + rxz * first.tz + tx,
                ryx * first.tx + ryy * first.ty + ryz * first.tz + ty,
                rzx * first.tx + rzy * first.ty + rzz * first.tz + tz);
    }
}
