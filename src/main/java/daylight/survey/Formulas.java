package daylight.survey;

import java.util.Arrays;

/**
 * The functions behind the readings, with their gradients. Points come as x y z one after the other, in the order
 * that each method names; gradients are written in the same order. Where a direction is undefined (two points
 * coincide) the gradient is zero: the solver then stays where it is instead of jumping.
 */
final class Formulas {
    /** Below this, mm, two points are one and the line between them has no direction. */
    private static final double COINCIDENT_MM = 1e-9;
    /** Below this, mm², three points are on one line and span no plane. */
    private static final double NO_PLANE_MM2 = 1e-9;

    private Formulas() {}

    /** Coordinate of P along an axis, less a datum. */
    static PointFunction coordinate(Axis axis, double datumMm) {
        int k = axis.place();
        return (xyz, g) -> {
            g[0] = 0;
            g[1] = 0;
            g[2] = 0;
            g[k] = 1;
            return xyz[k] - datumMm;
        };
    }

    /** Coordinate of the second point along an axis, less that of the first. */
    static PointFunction axisDistance(Axis axis) {
        int k = axis.place();
        return (xyz, g) -> {
            Arrays.fill(g, 0, 6, 0);
            g[k] = -1;
            g[3 + k] = 1;
            return xyz[3 + k] - xyz[k];
        };
    }

    /** Sum of the two points' coordinates along an axis: zero for the sideways part of a mirror. */
    static PointFunction axisSum(Axis axis) {
        int k = axis.place();
        return (xyz, g) -> {
            Arrays.fill(g, 0, 6, 0);
            g[k] = 1;
            g[3 + k] = 1;
            return xyz[3 + k] + xyz[k];
        };
    }

    /** First point's coordinate along an axis, less the mean of the other two's. */
    static PointFunction fromMidpoint(Axis axis) {
        int k = axis.place();
        return (xyz, g) -> {
            Arrays.fill(g, 0, 9, 0);
            g[k] = 1;
            g[3 + k] = -0.5;
            g[6 + k] = -0.5;
            return xyz[k] - 0.5 * (xyz[3 + k] + xyz[6 + k]);
        };
    }

    /** Straight distance between two points. */
    static double distance(double[] xyz, double[] g) {
        double dx = xyz[3] - xyz[0];
        double dy = xyz[4] - xyz[1];
        double dz = xyz[5] - xyz[2];
        double length = Math.sqrt(dx * dx + dy * dy + dz * dz);
        double s = length > COINCIDENT_MM ? 1 / length : 0;
        g[3] = dx * s;
        g[4] = dy * s;
        g[5] = dz * s;
        g[0] = -g[3];
        g[1] = -g[4];
        g[2] = -g[5];
        return length;
    }

    /** Distance of P from the endless line through A and B. Order P, A, B. */
    static double lineOffset(double[] xyz, double[] g) {
        double ux = xyz[6] - xyz[3];
        double uy = xyz[7] - xyz[4];
        double uz = xyz[8] - xyz[5];
        double px = xyz[0] - xyz[3];
        double py = xyz[1] - xyz[4];
        double pz = xyz[2] - xyz[5];
        double uu = ux * ux + uy * uy + uz * uz;
        double t = uu > COINCIDENT_MM * COINCIDENT_MM ? (px * ux + py * uy + pz * uz) / uu : 0;
        px -= t * ux;
        py -= t * uy;
        pz -= t * uz;
        double offset = Math.sqrt(px * px + py * py + pz * pz);
        double s = offset > COINCIDENT_MM ? 1 / offset : 0;
        for (int k = 0; k < 3; k++) {
            double q = (k == 0 ? px : k == 1 ? py : pz) * s;
            g[k] = q;
            g[3 + k] = -(1 - t) * q;
            g[6 + k] = -t * q;
        }
        return offset;
    }

    /** Signed distance of P from the plane of A, B, C. Order P, A, B, C. */
    static double planeOffset(double[] xyz, double[] g) {
        double[] n = normal(xyz, 3);
        double size = norm(n);
        if (size < NO_PLANE_MM2) {
            Arrays.fill(g, 0, 12, 0);
            return 0;
        }
        double f = 0;
        for (int k = 0; k < 3; k++) {
            n[k] /= size;
            f += n[k] * (xyz[k] - xyz[3 + k]);
        }
        double[] byNormal = {
            (xyz[0] - xyz[3] - f * n[0]) / size,
            (xyz[1] - xyz[4] - f * n[1]) / size,
            (xyz[2] - xyz[5] - f * n[2]) / size
        };
        throughNormal(xyz, 3, byNormal, g);
        for (int k = 0; k < 3; k++) {
            g[k] = n[k];
            g[3 + k] -= n[k];
        }
        return f;
    }

    /** Angle of the line from the first point to the second above the level. */
    static double levelAngle(double[] xyz, double[] g) {
        double dx = xyz[3] - xyz[0];
        double dy = xyz[4] - xyz[1];
        double dz = xyz[5] - xyz[2];
        double run = Math.sqrt(dx * dx + dy * dy);
        double square = run * run + dz * dz;
        double s = square > COINCIDENT_MM * COINCIDENT_MM ? 1 / square : 0;
        double alongRun = run > COINCIDENT_MM ? -dz * s / run : 0;
        g[3] = alongRun * dx;
        g[4] = alongRun * dy;
        g[5] = run * s;
        g[0] = -g[3];
        g[1] = -g[4];
        g[2] = -g[5];
        return Math.atan2(dz, run);
    }

    /** Angle above the level of the plane of A, B, C, along a level direction (ex, ey). */
    static PointFunction planeSlope(double ex, double ey) {
        return (xyz, g) -> {
            double[] n = normal(xyz, 0);
            double rise = -(n[0] * ex + n[1] * ey);
            double square = rise * rise + n[2] * n[2];
            if (square < NO_PLANE_MM2 * NO_PLANE_MM2) {
                Arrays.fill(g, 0, 9, 0);
                return 0;
            }
            double[] byNormal = {-n[2] * ex / square, -n[2] * ey / square, -rise / square};
            throughNormal(xyz, 0, byNormal, g);
            return n[2] < 0 ? Math.atan2(-rise, -n[2]) : Math.atan2(rise, n[2]);
        };
    }

    /** Angle of the normal of A, B, C above the level: the lean of an upright plane from plumb. */
    static double planeLean(double[] xyz, double[] g) {
        double[] n = normal(xyz, 0);
        double size = norm(n);
        double run = Math.sqrt(n[0] * n[0] + n[1] * n[1]);
        if (run < NO_PLANE_MM2) {
            Arrays.fill(g, 0, 9, 0);
            return n[2] == 0 ? 0 : Math.copySign(Math.PI / 2, n[2]);
        }
        double sine = n[2] / size;
        double cosine = run / size;
        double[] byNormal = {
            -sine * n[0] / (size * size * cosine),
            -sine * n[1] / (size * size * cosine),
            (1 - sine * n[2] / size) / (size * cosine)
        };
        throughNormal(xyz, 0, byNormal, g);
        return Math.atan2(n[2], run);
    }

    /** How far rim point P is along the axis from centre C. Order P, C, E (end of the axis). */
    static double alongAxis(double[] xyz, double[] g) {
        double ax = xyz[6] - xyz[3];
        double ay = xyz[7] - xyz[4];
        double az = xyz[8] - xyz[5];
        double length = Math.sqrt(ax * ax + ay * ay + az * az);
        if (length < COINCIDENT_MM) {
            Arrays.fill(g, 0, 9, 0);
            return 0;
        }
        double[] a = {ax / length, ay / length, az / length};
        double along = a[0] * (xyz[0] - xyz[3]) + a[1] * (xyz[1] - xyz[4]) + a[2] * (xyz[2] - xyz[5]);
        for (int k = 0; k < 3; k++) {
            double byEnd = (xyz[k] - xyz[3 + k] - along * a[k]) / length;
            g[k] = a[k];
            g[6 + k] = byEnd;
            g[3 + k] = -a[k] - byEnd;
        }
        return along;
    }

    /** Distance of P from C, less that of E from C. Order P, C, E. */
    static double radiusDifference(double[] xyz, double[] g) {
        double rx = xyz[0] - xyz[3];
        double ry = xyz[1] - xyz[4];
        double rz = xyz[2] - xyz[5];
        double ex = xyz[6] - xyz[3];
        double ey = xyz[7] - xyz[4];
        double ez = xyz[8] - xyz[5];
        double r = Math.sqrt(rx * rx + ry * ry + rz * rz);
        double e = Math.sqrt(ex * ex + ey * ey + ez * ez);
        double sr = r > COINCIDENT_MM ? 1 / r : 0;
        double se = e > COINCIDENT_MM ? 1 / e : 0;
        g[0] = rx * sr;
        g[1] = ry * sr;
        g[2] = rz * sr;
        g[6] = -ex * se;
        g[7] = -ey * se;
        g[8] = -ez * se;
        for (int k = 0; k < 3; k++) {
            g[3 + k] = -g[k] - g[6 + k];
        }
        return r - e;
    }

    /** (B - A) x (C - A), with A at the given offset. */
    private static double[] normal(double[] xyz, int a) {
        double ux = xyz[a + 3] - xyz[a];
        double uy = xyz[a + 4] - xyz[a + 1];
        double uz = xyz[a + 5] - xyz[a + 2];
        double vx = xyz[a + 6] - xyz[a];
        double vy = xyz[a + 7] - xyz[a + 1];
        double vz = xyz[a + 8] - xyz[a + 2];
        return new double[] {uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx};
    }

    /**
     * Writes the gradients of A, B, C at the given offset for a change w . dn: with n = u x v they are v x w for B,
     * w x u for C, and less both for A.
     */
    private static void throughNormal(double[] xyz, int a, double[] w, double[] g) {
        double ux = xyz[a + 3] - xyz[a];
        double uy = xyz[a + 4] - xyz[a + 1];
        double uz = xyz[a + 5] - xyz[a + 2];
        double vx = xyz[a + 6] - xyz[a];
        double vy = xyz[a + 7] - xyz[a + 1];
        double vz = xyz[a + 8] - xyz[a + 2];
        g[a + 3] = vy * w[2] - vz * w[1];
        g[a + 4] = vz * w[0] - vx * w[2];
        g[a + 5] = vx * w[1] - vy * w[0];
        g[a + 6] = w[1] * uz - w[2] * uy;
        g[a + 7] = w[2] * ux - w[0] * uz;
        g[a + 8] = w[0] * uy - w[1] * ux;
        for (int k = 0; k < 3; k++) {
            g[a + k] = -g[a + 3 + k] - g[a + 6 + k];
        }
    }

    private static double norm(double[] v) {
        return Math.sqrt(v[0] * v[0] + v[1] * v[1] + v[2] * v[2]);
    }
}
