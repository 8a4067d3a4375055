package daylight.geometry;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * A tube's centre line: straight runs and the circular arcs between them.
 *
 * <p>Frame: car frame at ride height, mm. The arc at a corner touches both runs at the tangent length
 * {@code bendRadius * tan(turn / 2)} from the corner.
 */
final class CentreLine {
    /** Two spots of a tube closer than this, mm, are one spot written twice. */
    private static final double SAME_SPOT_MM = 1e-6;
    /** A corner that turns by less, radians, is straight: its arc would be shorter than rounding can place. */
    private static final double STRAIGHT_RAD = 1e-7;
    /** A corner that turns by more, radians, doubles back: no bend joins the two runs. */
    private static final double DOUBLES_BACK_RAD = Math.toRadians(179.9);
    /** A bend may overrun its run by this much, mm: figures that add up on paper must fit. */
    private static final double FIT_SLACK_MM = 1e-6;

    private CentreLine() {}

    /** Returns why the tube cannot be bent as written, or nothing when it can. */
    static Optional<String> whyNot(Shape.Tube tube) {
        List<Spot> through = tube.through();
        int count = through.size();
        for (int i = 1; i < count; i++) {
            if (through.get(i).distanceTo(through.get(i - 1)) <= SAME_SPOT_MM) {
                return Optional.of(String.format(
                        Locale.ROOT,
                        "corners %d and %d of the tube are the same spot. Each corner must lie away from the one"
                                + " before it: remove one of them",
                        i,
                        i + 1));
            }
        }
        double[] half = new double[count];
        for (int i = 1; i < count - 1; i++) {
            double turn = turn(through.get(i - 1), through.get(i), through.get(i + 1));
            if (turn >= DOUBLES_BACK_RAD) {
                return Optional.of(String.format(
                        Locale.ROOT,
                        "the tube doubles back on itself at corner %d (it turns by %.1f degrees; less than 179.9 is"
                                + " possible). Put two corners there, one for each half of the turn",
                        i + 1,
                        Math.toDegrees(turn)));
            }
            half[i] = turn < STRAIGHT_RAD ? 0 : Math.tan(turn / 2);
        }
        double radius = tube.bendRadiusMm();
        double largest = Double.POSITIVE_INFINITY;
        int worst = -1;
        double worstExcess = FIT_SLACK_MM;
        for (int i = 1; i < count; i++) {
            double length = through.get(i).distanceTo(through.get(i - 1));
            double sum = half[i - 1] + half[i];
            if (sum > 0) {
                largest = Math.min(largest, length / sum);
            }
            double excess = radius * sum - length;
            if (excess > worstExcess) {
                worstExcess = excess;
                worst = i;
            }
        }
        if (worst < 0) {
            return Optional.empty();
        }
        double length = through.get(worst).distanceTo(through.get(worst - 1));
        String bends = half[worst - 1] > 0 && half[worst] > 0
                ? String.format(Locale.ROOT, "the bends at corners %d and %d need", worst, worst + 1)
                : String.format(Locale.ROOT, "the bend at corner %d needs", half[worst] > 0 ? worst + 1 : worst);
        return Optional.of(String.format(
                Locale.ROOT,
                "%s %.2f mm of the run between corners %d and %d, which is %.2f mm long: %.2f mm too little. The"
                        + " largest centre-line radius that fits this tube is %.2f mm, not %.2f; use that or move the"
                        + " corners apart",
                bends,
                length + worstExcess,
                worst,
                worst + 1,
                length,
                worstExcess,
                Math.floor(largest * 100) / 100,
                radius));
    }

    /** Returns by how much the path turns at {@code corner}, radians, 0 to pi. */
    private static double turn(Spot before, Spot corner, Spot after) {
        double ax = corner.x() - before.x();
        double ay = corner.y() - before.y();
        double az = corner.z() - before.z();
        double bx = after.x() - corner.x();
        double by = after.y() - corner.y();
        double bz = after.z() - corner.z();
        double cx = ay * bz - az * by;
        double cy = az * bx - ax * bz;
        double cz = ax * by - ay * bx;
        return Math.atan2(Math.sqrt(cx * cx + cy * cy + cz * cz), ax * bx + ay * by + az * bz);
    }

    /**
     * Returns the centre line as chains of straight pieces, in order. Chains alternate between runs (two spots on
     * the true line) and arcs (three or more spots, alternately outside and inside the true arc by at most half
     * the sagitta: a tube drawn round it with the radius grown by {@link #growth} holds the true bend).
     *
     * @param tube one that {@link #whyNot} has nothing against
     * @param sagittaMm greatest distance between chord and arc, mm, more than zero
     * @return each chain as coordinates x, y, z, x, y, z, ...
     */
    static List<double[]> chains(Shape.Tube tube, double sagittaMm) {
        return chains(tube, sagittaMm, true);
    }

    /**
     * Returns the centre line as one polyline with every spot on the true line, for drawing.
     *
     * @param sagittaMm greatest distance between chord and arc, mm
     * @return x, y, z, x, y, z, ...
     */
    static double[] line(Shape.Tube tube, double sagittaMm) {
        List<double[]> chains = chains(tube, sagittaMm, false);
        List<Double> spots = new ArrayList<>();
        for (double[] chain : chains) {
            for (int i = 0; i < chain.length; i += 3) {
                int n = spots.size();
                boolean same = n >= 3
                        && Math.abs(spots.get(n - 3) - chain[i]) < SAME_SPOT_MM
                        && Math.abs(spots.get(n - 2) - chain[i + 1]) < SAME_SPOT_MM
                        && Math.abs(spots.get(n - 1) - chain[i + 2]) < SAME_SPOT_MM;
                if (!same) {
                    spots.add(chain[i]);
                    spots.add(chain[i + 1]);
                    spots.add(chain[i + 2]);
                }
            }
        }
        return spots.stream().mapToDouble(Double::doubleValue).toArray();
    }

    /** Returns by how much the radius of an arc's capsules must grow to hold the true bend, mm. */
    static double growth(double sagittaMm) {
        return sagittaMm / 2;
    }

    private static List<double[]> chains(Shape.Tube tube, double sagittaMm, boolean balanced) {
        List<Spot> through = tube.through();
        int count = through.size();
        double radius = tube.bendRadiusMm();
        List<double[]> result = new ArrayList<>();
        Spot start = through.get(0);
        for (int i = 1; i < count; i++) {
            Spot corner = through.get(i);
            double turn = i < count - 1 ? turn(through.get(i - 1), corner, through.get(i + 1)) : 0;
            if (radius == 0 || turn < STRAIGHT_RAD) {
                result.add(run(start, corner));
                start = corner;
                continue;
            }
            Direction in = Direction.from(through.get(i - 1), corner);
            Direction out = Direction.from(corner, through.get(i + 1));
            double tangent = radius * Math.tan(turn / 2);
            Spot enters = corner.along(in, -tangent);
            if (start.distanceTo(enters) > SAME_SPOT_MM) {
                result.add(run(start, enters));
            }
            result.add(arc(enters, in, out, radius, turn, sagittaMm, balanced));
            start = corner.along(out, tangent);
        }
        return result;
    }

    private static double[] run(Spot from, Spot to) {
        return new double[] {from.x(), from.y(), from.z(), to.x(), to.y(), to.z()};
    }

    private static double[] arc(
            Spot enters, Direction in, Direction out, double radius, double turn, double sagittaMm, boolean balanced) {
        // Inward normal of the arc at its start: the part of `out` at right angles to `in`.
        double dot = in.dot(out);
        Direction inward = Direction.of(out.x() - dot * in.x(), out.y() - dot * in.y(), out.z() - dot * in.z());
        double cosine = Math.max(0.0, 1 - sagittaMm / radius);
        int steps = Math.max(2, (int) Math.ceil(turn / (2 * Math.acos(cosine))));
        double step = turn / steps;
        double sagitta = radius * (1 - Math.cos(step / 2));
        // With the corners outside by half of it, chord and arc are never further apart than half the sagitta.
        double r = balanced ? radius + sagitta / 2 : radius;
        double cx = enters.x() + radius * inward.x();
        double cy = enters.y() + radius * inward.y();
        double cz = enters.z() + radius * inward.z();
        double[] spots = new double[3 * (steps + 1)];
        for (int k = 0; k <= steps; k++) {
            double s = r * Math.sin(k * step);
            double c = r * Math.cos(k * step);
            spots[3 * k] = cx + s * in.x() - c * inward.x();
            spots[3 * k + 1] = cy + s * in.y() - c * inward.y();
            spots[3 * k + 2] = cz + s * in.z() - c * inward.z();
        }
        return spots;
    }
}
