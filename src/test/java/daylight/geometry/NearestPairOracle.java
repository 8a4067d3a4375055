package daylight.geometry;

import java.util.ArrayList;
import java.util.List;

/**
 * The distance of two convex shapes by another way than the engine's, written from the shapes' own words: the spot of
 * least norm of the difference of the two, by Wolfe's algorithm on supporting spots, with a floor from the supporting
 * plane. Slow, plain, and it knows how far it may be off.
 *
 * @see "Wolfe, Finding the nearest point in a polytope, Mathematical Programming 11 (1976) 128"
 */
final class NearestPairOracle {
    private static final int MOST_STEPS = 2_000;
    /** The two bounds have met, as a share of the size. */
    private static final double MET_SHARE = 1e-11;
    /** A weight this small is none. */
    private static final double NO_WEIGHT = 1e-14;

    /** The distance is no less than this, mm. */
    double low;
    /** The distance is no more than this, mm; zero when the two overlap or touch. */
    double high;

    /** Brackets the distance of two convex shapes at poses; where they overlap both bounds are zero or below. */
    void bracket(Shape a, Pose poseA, Shape b, Pose poseB) {
        double radii = radius(a) + radius(b);
        List<double[]> corral = new ArrayList<>();
        double[] weight = {1};
        double[] x = difference(a, poseA, b, poseB, new double[] {1, 0.3, 0.2});
        corral.add(x);
        double size = 1 + Math.sqrt(dot(x, x));
        low = -radii;
        high = Math.sqrt(dot(x, x)) - radii;
        for (int step = 0; step < MOST_STEPS; step++) {
            double norm = Math.sqrt(dot(x, x));
            high = Math.min(high, norm - radii);
            if (norm <= MET_SHARE * size) {
                low = Math.max(low, -radii);
                return;
            }
            double[] w = difference(a, poseA, b, poseB, new double[] {-x[0], -x[1], -x[2]});
            low = Math.max(low, dot(x, w) / norm - radii);
            if (high - low <= MET_SHARE * size || holds(corral, w)) {
                return;
            }
            corral.add(w);
            double[] grown = new double[corral.size()];
            System.arraycopy(weight, 0, grown, 0, weight.length);
            weight = grown;
            while (true) {
                double[] wanted = affine(corral);
                if (wanted.length == 0) {
                    // The spots lie in one plane or line: the oldest goes.
                    corral.remove(0);
                    double[] fewer = new double[corral.size()];
                    System.arraycopy(weight, 1, fewer, 0, fewer.length);
                    weight = normalised(fewer);
                    continue;
                }
                double share = 1;
                int leaving = -1;
                for (int i = 0; i < wanted.length; i++) {
                    if (wanted[i] <= NO_WEIGHT) {
                        double t = weight[i] - wanted[i] > 0 ? weight[i] / (weight[i] - wanted[i]) : 0;
                        if (leaving < 0 || t < share) {
                            share = t;
                            leaving = i;
                        }
                    }
                }
                if (leaving < 0) {
                    weight = wanted;
                    break;
                }
                corral.remove(leaving);
                double[] fewer = new double[corral.size()];
                for (int i = 0, k = 0; i < wanted.length; i++) {
                    if (i != leaving) {
                        fewer[k++] = Math.max(0, weight[i] + share * (wanted[i] - weight[i]));
                    }
                }
                weight = normalised(fewer);
            }
            x = new double[3];
            for (int i = 0; i < weight.length; i++) {
                for (int k = 0; k < 3; k++) {
                    x[k] += weight[i] * corral.get(i)[k];
                }
            }
        }
    }

    private static double[] normalised(double[] weight) {
        double sum = 0;
        for (double w : weight) {
            sum += w;
        }
        for (int i = 0; i < weight.length; i++) {
            weight[i] = sum > 0 ? weight[i] / sum : 1.0 / weight.length;
        }
        return weight;
    }

    private static boolean holds(List<double[]> corral, double[] w) {
        return corral.stream().anyMatch(c -> c[0] == w[0] && c[1] == w[1] && c[2] == w[2]);
    }

    /** Weights, adding up to one, of the spot nearest the origin on the plane through some spots; empty when flat. */
    private static double[] affine(List<double[]> c) {
        int n = c.size() - 1;
        if (n == 0) {
            return new double[] {1};
        }
        double[][] e = new double[n][];
        double[][] m = new double[n][n + 1];
        for (int i = 0; i < n; i++) {
            e[i] = new double[] {
                c.get(i + 1)[0] - c.get(0)[0], c.get(i + 1)[1] - c.get(0)[1], c.get(i + 1)[2] - c.get(0)[2]
            };
        }
        // Edges at right angles to one another by Gram and Schmidt, twice: normal equations would lose half the digits.
        double[][] q = new double[n][];
        double[][] r = new double[n][n];
        for (int i = 0; i < n; i++) {
            q[i] = e[i].clone();
            for (int pass = 0; pass < 2; pass++) {
                for (int j = 0; j < i; j++) {
                    double d = dot(q[j], q[i]);
                    r[j][i] += d;
                    for (int k = 0; k < 3; k++) {
                        q[i][k] -= d * q[j][k];
                    }
                }
            }
            double length = Math.sqrt(dot(q[i], q[i]));
            if (!(length > 1e-12 * Math.sqrt(dot(e[i], e[i])))) {
                return new double[0];
            }
            r[i][i] = length;
            for (int k = 0; k < 3; k++) {
                q[i][k] /= length;
            }
            m[i][n] = -dot(q[i], c.get(0));
        }
        double[] wanted = new double[n + 1];
        double sum = 0;
        for (int i = n - 1; i >= 0; i--) {
            double value = m[i][n];
            for (int j = i + 1; j < n; j++) {
                value -= r[i][j] * wanted[j + 1];
            }
            wanted[i + 1] = value / r[i][i];
            sum += wanted[i + 1];
        }
        wanted[0] = 1 - sum;
        return wanted;
    }

    private static double dot(double[] a, double[] b) {
        return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
    }

    /** The spot of B - A, cores only, furthest in a direction. */
    private static double[] difference(Shape a, Pose poseA, Shape b, Pose poseB, double[] d) {
        double[] onB = furthest(b, poseB, d[0], d[1], d[2]);
        double[] onA = furthest(a, poseA, -d[0], -d[1], -d[2]);
        return new double[] {onB[0] - onA[0], onB[1] - onA[1], onB[2] - onA[2]};
    }

    private static double[] furthest(Shape shape, Pose p, double dx, double dy, double dz) {
        double x = p.rxx() * dx + p.ryx() * dy + p.rzx() * dz;
        double y = p.rxy() * dx + p.ryy() * dy + p.rzy() * dz;
        double z = p.rxz() * dx + p.ryz() * dy + p.rzz() * dz;
        Spot s = p.apply(furthest(shape, x, y, z));
        return new double[] {s.x(), s.y(), s.z()};
    }

    private static Spot furthest(Shape shape, double x, double y, double z) {
        if (shape instanceof Shape.Ball ball) {
            return ball.centre();
        }
        if (shape instanceof Shape.Tube tube) {
            return furthest(tube.through(), x, y, z);
        }
        if (shape instanceof Shape.Hull hull) {
            return furthest(hull.corners(), x, y, z);
        }
        if (shape instanceof Shape.Box box) {
            Direction u = box.along();
            Direction v = box.across();
            Direction w = Direction.of(
                    u.y() * v.z() - u.z() * v.y(), u.z() * v.x() - u.x() * v.z(), u.x() * v.y() - u.y() * v.x());
            return box.centre()
                    .along(u, Math.copySign(box.lengthMm() / 2, u.x() * x + u.y() * y + u.z() * z))
                    .along(v, Math.copySign(box.widthMm() / 2, v.x() * x + v.y() * y + v.z() * z))
                    .along(w, Math.copySign(box.heightMm() / 2, w.x() * x + w.y() * y + w.z() * z));
        }
        Shape.Turned turned = (Shape.Turned) shape;
        Direction u = turned.axis();
        double s = x * u.x() + y * u.y() + z * u.z();
        double px = x - s * u.x();
        double py = y - s * u.y();
        double pz = z - s * u.z();
        // Once more: nearly along the axis the difference is rounding alone and leans out of the disc.
        double again = px * u.x() + py * u.y() + pz * u.z();
        px -= again * u.x();
        py -= again * u.y();
        pz -= again * u.z();
        double off = Math.sqrt(px * px + py * py + pz * pz);
        double best = Double.NEGATIVE_INFINITY;
        Flat at = new Flat(0, 0);
        for (Flat corner : inset(turned)) {
            double value = s * corner.x() + off * corner.y();
            if (value > best) {
                best = value;
                at = corner;
            }
        }
        Spot onAxis = turned.centre().along(u, at.x());
        return off > 1e-13 * Math.abs(s) ? onAxis.along(Direction.of(px, py, pz), at.y()) : onAxis;
    }

    private static Spot furthest(List<Spot> spots, double x, double y, double z) {
        Spot best = spots.get(0);
        double most = Double.NEGATIVE_INFINITY;
        for (Spot s : spots) {
            double value = s.x() * x + s.y() * y + s.z() * z;
            if (value > most) {
                most = value;
                best = s;
            }
        }
        return best;
    }

    /** A convex profile with its rounding taken off: each edge that is not on the axis moved inwards. */
    private static List<Flat> inset(Shape.Turned turned) {
        List<Flat> p = turned.profile();
        if (turned.roundingMm() == 0) {
            return p;
        }
        List<Flat> core = new ArrayList<>();
        for (int i = 0; i < p.size(); i++) {
            double[] one = line(p.get((i + p.size() - 1) % p.size()), p.get(i), turned.roundingMm());
            double[] two = line(p.get(i), p.get((i + 1) % p.size()), turned.roundingMm());
            double det = one[0] * two[1] - one[1] * two[0];
            core.add(new Flat((one[2] * two[1] - one[1] * two[2]) / det, (one[0] * two[2] - one[2] * two[0]) / det));
        }
        return core;
    }

    /** The line a x + b y = c of an edge of a counter-clockwise profile, moved inwards. */
    private static double[] line(Flat from, Flat to, double by) {
        double length = Math.hypot(to.x() - from.x(), to.y() - from.y());
        double a = (to.y() - from.y()) / length;
        double b = -(to.x() - from.x()) / length;
        double in = from.y() == 0 && to.y() == 0 ? 0 : by;
        return new double[] {a, b, a * from.x() + b * from.y() - in};
    }

    private static double radius(Shape shape) {
        if (shape instanceof Shape.Ball ball) {
            return ball.radiusMm();
        }
        if (shape instanceof Shape.Tube tube) {
            return tube.outsideDiameterMm() / 2;
        }
        if (shape instanceof Shape.Hull hull) {
            return hull.roundingMm();
        }
        return shape instanceof Shape.Turned turned ? turned.roundingMm() : 0;
    }
}
