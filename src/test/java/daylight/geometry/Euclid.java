package daylight.geometry;

import java.util.ArrayList;
import java.util.List;
import us.ihmc.euclid.geometry.interfaces.Vertex3DSupplier;
import us.ihmc.euclid.matrix.RotationMatrix;
import us.ihmc.euclid.shape.convexPolytope.ConvexPolytope3D;
import us.ihmc.euclid.shape.primitives.Box3D;
import us.ihmc.euclid.shape.primitives.Capsule3D;
import us.ihmc.euclid.shape.primitives.Cylinder3D;
import us.ihmc.euclid.shape.primitives.Sphere3D;
import us.ihmc.euclid.shape.primitives.interfaces.Shape3DReadOnly;
import us.ihmc.euclid.transform.RigidBodyTransform;
import us.ihmc.euclid.tuple3D.Point3D;
import us.ihmc.euclid.tuple3D.Vector3D;

/** Our shapes as those of euclid-shape, a general-purpose geometry library: another opinion on distances. */
final class Euclid {
    private Euclid() {}

    /** Returns the posed shape; straight tubes, balls, boxes, drums and sharp hulls with volume only. */
    static Shape3DReadOnly of(Shape shape, Pose pose) {
        if (shape instanceof Shape.Ball ball) {
            return new Sphere3D(point(pose.apply(ball.centre())), ball.radiusMm());
        }
        if (shape instanceof Shape.Tube tube) {
            Spot a = pose.apply(tube.through().get(0));
            Spot b = pose.apply(tube.through().get(1));
            Spot m = new Spot((a.x() + b.x()) / 2, (a.y() + b.y()) / 2, (a.z() + b.z()) / 2);
            return new Capsule3D(point(m), vector(Direction.from(a, b)), a.distanceTo(b), tube.outsideDiameterMm() / 2);
        }
        if (shape instanceof Shape.Box box) {
            Direction x = pose.apply(box.along());
            Direction z = pose.apply(SolidMaker.cross(box.along(), box.across()));
            Direction y = SolidMaker.cross(z, x);
            Spot c = pose.apply(box.centre());
            RotationMatrix r = new RotationMatrix();
            r.setAndNormalize(x.x(), y.x(), z.x(), x.y(), y.y(), z.y(), x.z(), y.z(), z.z());
            return new Box3D(
                    new RigidBodyTransform(r, new Vector3D(c.x(), c.y(), c.z())),
                    box.lengthMm(),
                    box.widthMm(),
                    box.heightMm());
        }
        if (shape instanceof Shape.Turned drum) {
            double low = drum.profile().stream().mapToDouble(Flat::x).min().orElseThrow();
            double high = drum.profile().stream().mapToDouble(Flat::x).max().orElseThrow();
            double r = drum.profile().stream().mapToDouble(Flat::y).max().orElseThrow();
            Spot m = drum.centre().along(drum.axis(), (low + high) / 2);
            return new Cylinder3D(point(pose.apply(m)), vector(pose.apply(drum.axis())), high - low, r);
        }
        if (shape instanceof Shape.Hull hull) {
            List<Point3D> corners = new ArrayList<>();
            hull.corners().forEach(s -> corners.add(point(pose.apply(s))));
            return new ConvexPolytope3D(Vertex3DSupplier.asVertex3DSupplier(corners));
        }
        throw new IllegalArgumentException("no counterpart of " + shape);
    }

    private static Point3D point(Spot s) {
        return new Point3D(s.x(), s.y(), s.z());
    }

    private static Vector3D vector(Direction d) {
        return new Vector3D(d.x(), d.y(), d.z());
    }
}
