package daylight.bench;

import daylight.geometry.Spot;
import java.util.List;

/** The surface of a round line along its centre, for drawing. */
final class LineTube {
    private static final int SIDES = 10;

    private LineTube() {}

    /**
     * Returns the surface round a centre line.
     *
     * @param spots at least two, mm; neighbours that coincide are one
     * @param diameterMm outside diameter
     */
    static Surface of(List<Spot> spots, double diameterMm) {
        int n = spots.size();
        double[] xyz = new double[3 * n * SIDES];
        int[] faces = new int[6 * (n - 1) * SIDES];
        // Any direction square to the first stretch, carried along without twist.
        double ax = 0;
        double ay = 0;
        double az = 0;
        double tx = 0;
        double ty = 0;
        double tz = 0;
        int used = 0;
        for (int i = 0; i < n; i++) {
            Spot from = spots.get(Math.max(0, i - 1));
            Spot to = spots.get(Math.min(n - 1, i + 1));
            double length = from.distanceTo(to);
            if (length > 0) {
                tx = (to.x() - from.x()) / length;
                ty = (to.y() - from.y()) / length;
                tz = (to.z() - from.z()) / length;
            }
            if (ax == 0 && ay == 0 && az == 0) {
                ax = Math.abs(tx) < 0.8 ? 1 : 0;
                ay = 1 - ax;
            }
            double along = ax * tx + ay * ty + az * tz;
            ax -= along * tx;
            ay -= along * ty;
            az -= along * tz;
            double size = Math.sqrt(ax * ax + ay * ay + az * az);
            ax /= size;
            ay /= size;
            az /= size;
            double bx = ty * az - tz * ay;
            double by = tz * ax - tx * az;
            double bz = tx * ay - ty * ax;
            for (int s = 0; s < SIDES; s++) {
                double c = diameterMm / 2 * Math.cos(2 * Math.PI * s / SIDES);
                double d = diameterMm / 2 * Math.sin(2 * Math.PI * s / SIDES);
                int o = 3 * (i * SIDES + s);
                xyz[o] = spots.get(i).x() + c * ax + d * bx;
                xyz[o + 1] = spots.get(i).y() + c * ay + d * by;
                xyz[o + 2] = spots.get(i).z() + c * az + d * bz;
                if (i > 0) {
                    int here = i * SIDES + s;
                    int next = i * SIDES + (s + 1) % SIDES;
                    for (int corner : new int[] {here - SIDES, next - SIDES, next, here - SIDES, next, here}) {
                        faces[used++] = corner;
                    }
                }
            }
        }
        return Surface.of(xyz, faces);
    }
}
