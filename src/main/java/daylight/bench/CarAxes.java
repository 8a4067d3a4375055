package daylight.bench;

import daylight.geometry.Direction;
import daylight.geometry.Pose;
import daylight.geometry.Spot;
import javafx.scene.transform.Affine;

/**
 * How the car's axes (x forward, y left, z up) lie in the scene's (x right, y down, z away from the viewer): one turn,
 * kept in one transform at the root, so that everything below it is in car coordinates.
 */
final class CarAxes {
    private CarAxes() {}

    /** Returns the transform from the car's axes to the scene's: forward goes away, left to the left, up up. */
    static Affine toScene() {
        return new Affine(
                0, -1, 0, 0, //
                0, 0, -1, 0, //
                1, 0, 0, 0);
    }

    /** Sets a transform to a pose, both in car axes, followed by a shift of the posed body. */
    static void set(Affine affine, Pose pose, double shiftX, double shiftY, double shiftZ) {
        affine.setToTransform(
                pose.rxx(),
                pose.rxy(),
                pose.rxz(),
                pose.tx() + shiftX,
                pose.ryx(),
                pose.ryy(),
                pose.ryz(),
                pose.ty() + shiftY,
                pose.rzx(),
                pose.rzy(),
                pose.rzz(),
                pose.tz() + shiftZ);
    }

    /** Sets a camera's transform, in car axes, to look from a viewpoint. */
    static void set(Affine camera, Viewpoint view) {
        Direction right = view.right();
        Direction down = view.down();
        Direction forward = view.forward();
        Spot eye = view.eye();
        camera.setToTransform(
                right.x(),
                down.x(),
                forward.x(),
                eye.x(),
                right.y(),
                down.y(),
                forward.y(),
                eye.y(),
                right.z(),
                down.z(),
                forward.z(),
                eye.z());
    }
}
