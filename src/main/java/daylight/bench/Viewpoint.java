package daylight.bench;

import daylight.geometry.Direction;
import daylight.geometry.Spot;
import java.util.List;

/**
 * From where the car is looked at: a spot in the middle of the picture and an eye on a ball around it.
 *
 * <p>Frame: the car's (x forward, y left, z up), mm. The picture's x runs to the right and its y downwards, in pixels.
 * Up on the car is up in the picture, save when looking straight down or up.
 *
 * @param target the spot in the middle of the picture
 * @param azimuthRad direction from the target to the eye about z: 0 from ahead, a quarter turn from the left
 * @param elevationRad height of the eye above the level: a quarter turn from straight above
 * @param distanceMm from the eye to the target
 * @param fieldRad angle that the picture's height spans at the eye; small for nearly parallel views
 */
record Viewpoint(Spot target, double azimuthRad, double elevationRad, double distanceMm, double fieldRad) {
    /** The field of the free views: that of a short telephoto lens, so that lengths are hardly bent. */
    static final double FREE_FIELD = Math.toRadians(24);
    /** The field of the square-on views: narrow enough that parallel edges look parallel. */
    static final double SQUARE_FIELD = Math.toRadians(4);

    private static final double NEAREST_MM = 40;
    private static final double FARTHEST_MM = 400_000;
    private static final double QUARTER = Math.PI / 2;
    /** Free space around what is framed, as a share of the picture. */
    private static final double FRAMING = 0.88;

    Viewpoint {
        elevationRad = Math.max(-QUARTER, Math.min(QUARTER, elevationRad));
        distanceMm = Math.max(NEAREST_MM, Math.min(FARTHEST_MM, distanceMm));
        azimuthRad = Math.IEEEremainder(azimuthRad, 2 * Math.PI);
    }

    /** A spot in the picture: pixels from its top left corner, and how far in front of the eye it is, mm. */
    record Seen(double x, double y, double depthMm) {}

    /** Returns which way the eye looks. */
    Direction forward() {
        double level = Math.cos(elevationRad);
        return Direction.of(-level * Math.cos(azimuthRad), -level * Math.sin(azimuthRad), -Math.sin(elevationRad));
    }

    /** Returns which way the picture's x runs. */
    Direction right() {
        return Direction.of(-Math.sin(azimuthRad), Math.cos(azimuthRad), 0);
    }

    /** Returns which way the picture's y runs. */
    Direction down() {
        double rise = Math.sin(elevationRad);
        return Direction.of(Math.cos(azimuthRad) * rise, Math.sin(azimuthRad) * rise, -Math.cos(elevationRad));
    }

    /** Returns where the eye is. */
    Spot eye() {
        return target.along(forward(), -distanceMm);
    }

    /** Returns how many pixels a millimetre spans at the target in a picture of the given height. */
    double pixelsPerMm(double heightPx) {
        return heightPx / 2 / Math.tan(fieldRad / 2) / distanceMm;
    }

    /** Returns where a spot appears in a picture of the given size; the depth is negative behind the eye. */
    Seen see(Spot spot, double widthPx, double heightPx) {
        Spot eye = eye();
        double dx = spot.x() - eye.x();
        double dy = spot.y() - eye.y();
        double dz = spot.z() - eye.z();
        double depth = along(forward(), dx, dy, dz);
        double scale = heightPx / 2 / Math.tan(fieldRad / 2) / depth;
        return new Seen(
                widthPx / 2 + scale * along(right(), dx, dy, dz),
                heightPx / 2 + scale * along(down(), dx, dy, dz),
                depth);
    }

    /** Returns the view after the eye has gone round the target. */
    Viewpoint orbited(double turnRad, double riseRad) {
        return new Viewpoint(target, azimuthRad + turnRad, elevationRad + riseRad, distanceMm, fieldRad);
    }

    /** Returns the view after the picture was pushed by so many pixels. */
    Viewpoint panned(double dxPx, double dyPx, double heightPx) {
        double mmPerPixel = 1 / pixelsPerMm(heightPx);
        Spot moved = target.along(right(), -dxPx * mmPerPixel).along(down(), -dyPx * mmPerPixel);
        return new Viewpoint(moved, azimuthRad, elevationRad, distanceMm, fieldRad);
    }

    /** Returns the view from nearer (a factor below one) or further. */
    Viewpoint zoomed(double factor) {
        return new Viewpoint(target, azimuthRad, elevationRad, distanceMm * factor, fieldRad);
    }

    /** Returns the view with another field, everything at the target's depth as large as before. */
    Viewpoint withField(double newFieldRad) {
        double distance = distanceMm * Math.tan(fieldRad / 2) / Math.tan(newFieldRad / 2);
        return new Viewpoint(target, azimuthRad, elevationRad, distance, newFieldRad);
    }

    /** Returns the view from another side. */
    Viewpoint from(double newAzimuthRad, double newElevationRad) {
        return new Viewpoint(target, newAzimuthRad, newElevationRad, distanceMm, fieldRad);
    }

    /**
     * Returns the view from the same side that shows all the given spots as large as the picture allows.
     *
     * @param spots at least one
     * @param aspect the picture's width over its height
     */
    Viewpoint framing(List<Spot> spots, double aspect) {
        Direction right = right();
        Direction down = down();
        Direction forward = forward();
        double[] low = {Double.POSITIVE_INFINITY, Double.POSITIVE_INFINITY, Double.POSITIVE_INFINITY};
        double[] high = {Double.NEGATIVE_INFINITY, Double.NEGATIVE_INFINITY, Double.NEGATIVE_INFINITY};
        Direction[] axes = {right, down, forward};
        for (Spot spot : spots) {
            for (int i = 0; i < axes.length; i++) {
                double at = along(axes[i], spot.x(), spot.y(), spot.z());
                low[i] = Math.min(low[i], at);
                high[i] = Math.max(high[i], at);
            }
        }
        Spot middle = Spot.ORIGIN
                .along(right, (low[0] + high[0]) / 2)
                .along(down, (low[1] + high[1]) / 2)
                .along(forward, (low[2] + high[2]) / 2);
        double tall = Math.tan(fieldRad / 2) * FRAMING;
        double wide = tall * aspect;
        double distance = NEAREST_MM;
        for (Spot spot : spots) {
            double dx = spot.x() - middle.x();
            double dy = spot.y() - middle.y();
            double dz = spot.z() - middle.z();
            double depth = along(forward, dx, dy, dz);
            distance = Math.max(distance, Math.abs(along(right, dx, dy, dz)) / wide - depth);
            distance = Math.max(distance, Math.abs(along(down, dx, dy, dz)) / tall - depth);
        }
        return new Viewpoint(middle, azimuthRad, elevationRad, distance, fieldRad);
    }

    /**
     * Returns a view of a gap that shows it across, not end on, and from outside the car rather than through it.
     *
     * @param spot the middle of the gap
     * @param normal direction of the gap, towards the part that should be in front
     * @param car the middle of the car
     * @param radiusMm how much to show around the spot
     */
    static Viewpoint ofGap(Spot spot, Direction normal, Spot car, double radiusMm) {
        double outX = spot.x() - car.x();
        double outY = spot.y() - car.y();
        double outZ = spot.z() - car.z();
        double out = Math.max(1, Math.sqrt(outX * outX + outY * outY + outZ * outZ));
        double bestScore = Double.NEGATIVE_INFINITY;
        double bestAzimuth = 0;
        double bestElevation = 0;
        int[] elevations = {-20, 0, 20, 45};
        for (int azimuth = 0; azimuth < 360; azimuth += 15) {
            for (int elevation : elevations) {
                double a = Math.toRadians(azimuth);
                double e = Math.toRadians(elevation);
                Direction towards = Direction.of(Math.cos(e) * Math.cos(a), Math.cos(e) * Math.sin(a), Math.sin(e));
                double endOn = towards.dot(normal);
                double outward = (towards.x() * outX + towards.y() * outY + towards.z() * outZ) / out;
                // A view from below or from high up is harder to read than a level one.
                double level = elevation < 0 ? 0.25 : elevation > 30 ? 0.1 : 0;
                double score = 0.8 * outward - 1.4 * endOn * endOn + 0.6 * endOn - level;
                if (score > bestScore + 1e-9) {
                    bestScore = score;
                    bestAzimuth = a;
                    bestElevation = e;
                }
            }
        }
        double distance = radiusMm / Math.sin(FREE_FIELD / 2);
        return new Viewpoint(spot, bestAzimuth, bestElevation, distance, FREE_FIELD);
    }

    private static double along(Direction axis, double x, double y, double z) {
        return axis.x() * x + axis.y() * y + axis.z() * z;
    }
}
