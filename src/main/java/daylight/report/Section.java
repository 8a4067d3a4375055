package daylight.report;

import daylight.clearance.GapRow;
import daylight.geometry.Direction;
import daylight.geometry.Flat;
import daylight.geometry.Proximity;
import daylight.geometry.Spot;
import java.util.ArrayList;
import java.util.List;

/**
 * A pair cut by a plane through its two nearest spots, where it is nearest. Since the plane holds both spots, the outlines
 * are exactly as far apart as the parts are, but for how finely round surfaces are drawn.
 *
 * @param row the pair
 * @param origin the middle between the two spots
 * @param across which way the picture's first coordinate goes, in the car frame
 * @param up which way its second coordinate goes
 * @param first the first part's outlines, mm across and up from the origin
 * @param second the second part's
 * @param halfMm half the size of the part worth looking at, mm
 */
record Section(
        GapRow row, Spot origin, Direction across, Direction up, CutSkin.Cut first, CutSkin.Cut second, double halfMm) {
    /** How far a straight piece of an outline may be from the round surface it stands for, mm. */
    static final double SAGITTA_MM = 0.02;

    private static final double LEAST_HALF_MM = 36;
    private static final double MOST_HALF_MM = 120;
    /** The gap takes about this share of half the picture where it can. */
    private static final double GAP_SHARE = 0.28;
    /** Planes that are tried about the line between the two spots. */
    private static final int TURNS = 12;
    /** A cut smaller than this share of the picture does not show what the part is. */
    private static final double LEAST_SHARE = 0.004;
    /** A plane square to the car's axes is easier to understand: worth this share of the picture. */
    private static final double SQUARE_WORTH = 0.3;
    /** A spot that lies further than this from what was cut is as bad as it gets, mm. */
    private static final double MISSED_MM = 10;

    /** Spots nearer than this give no direction, mm; the normal does. */
    private static final double TOO_NEAR_MM = 1e-4;
    /** Up is drawn upwards unless less than this part of it lies in the plane. */
    private static final double UPRIGHT = 0.35;

    /** Cuts a pair at its least gap. */
    static Section of(GapRow row, Standing standing) {
        standing.stand(row.least().where());
        int a = standing.part(row.first());
        int b = standing.part(row.second());
        CutSkin first = new CutSkin(standing.car().parts().get(a).shape(), standing.pose(a), SAGITTA_MM);
        CutSkin second = new CutSkin(standing.car().parts().get(b).shape(), standing.pose(b), SAGITTA_MM);
        Proximity gap = row.least().found();
        Spot origin = new Spot(
                (gap.onA().x() + gap.onB().x()) / 2,
                (gap.onA().y() + gap.onB().y()) / 2,
                (gap.onA().z() + gap.onB().z()) / 2);
        double half = Math.max(LEAST_HALF_MM, Math.min(MOST_HALF_MM, Math.abs(gap.distanceMm()) / GAP_SHARE));
        Direction line =
                gap.onA().distanceTo(gap.onB()) > TOO_NEAR_MM ? Direction.from(gap.onA(), gap.onB()) : gap.normal();
        Section best = null;
        double bestScore = Double.POSITIVE_INFINITY;
        for (Direction other : others(line)) {
            Direction[] axes = axes(line, other, origin);
            CutSkin.Cut one = first.by(origin, axes[0], axes[1]);
            CutSkin.Cut two = second.by(origin, axes[0], axes[1]);
            Section here = new Section(row, origin, axes[0], axes[1], one, two, half);
            // A plane that only grazes a face cuts nothing there, and would leave the spot in the air.
            double missed = Math.min(MISSED_MM, one.distanceTo(here.flat(gap.onA())))
                    + Math.min(MISSED_MM, two.distanceTo(here.flat(gap.onB())));
            double score = score(one, two, axes, half) + missed;
            if (score < bestScore) {
                bestScore = score;
                best = here;
            }
        }
        if (best == null) {
            throw new IllegalStateException("no plane holds the line of a gap; please report this");
        }
        return new Section(row, origin, best.across, best.up, best.first.joined(), best.second.joined(), half);
    }

    /** Returns directions that span a plane with the line: towards the car's axes first, then evenly about it. */
    private static List<Direction> others(Direction line) {
        List<Direction> others = new ArrayList<>();
        for (Direction axis : List.of(Direction.UP, Direction.FORWARD, Direction.LEFT)) {
            if (Math.abs(line.dot(axis)) < 0.95) {
                others.add(square(axis, line));
            }
        }
        Direction one = others.get(0);
        Direction two = cross(line, one);
        for (int k = 0; k < TURNS; k++) {
            double angle = Math.PI * k / TURNS;
            double c = Math.cos(angle);
            double s = Math.sin(angle);
            others.add(Direction.of(c * one.x() + s * two.x(), c * one.y() + s * two.y(), c * one.z() + s * two.z()));
        }
        return others;
    }

    /** The smaller the better: squarely cut parts show little metal, lengthwise cut ones fill the picture. */
    private static double score(CutSkin.Cut one, CutSkin.Cut two, Direction[] axes, double half) {
        double whole = 4 * half * half;
        double first = one.areaMm2(half) / whole;
        double second = two.areaMm2(half) / whole;
        Direction normal = cross(axes[0], axes[1]);
        double square = Math.max(Math.abs(normal.x()), Math.max(Math.abs(normal.y()), Math.abs(normal.z())));
        double poor = (first < LEAST_SHARE ? 1 : 0) + (second < LEAST_SHARE ? 1 : 0);
        return first + second + poor + SQUARE_WORTH * (1 - square);
    }

    /** Returns across and up for a plane: up is upwards where it can be, forward otherwise; seen from outside the car. */
    private static Direction[] axes(Direction line, Direction other, Spot origin) {
        Direction normal = cross(line, other);
        double upright = Math.sqrt(Math.max(0, 1 - normal.z() * normal.z()));
        Direction up = square(upright > UPRIGHT ? Direction.UP : Direction.FORWARD, normal);
        double outside = upright > UPRIGHT ? normal.y() * Math.signum(origin.y()) : normal.z();
        boolean away = outside < 0 || (outside == 0 && normal.x() > 0);
        Direction toViewer = away ? normal.reversed() : normal;
        return new Direction[] {cross(up, toViewer), up};
    }

    /** Returns the part of a direction that is square to another, at length 1. */
    private static Direction square(Direction direction, Direction to) {
        double dot = direction.dot(to);
        return Direction.of(direction.x() - dot * to.x(), direction.y() - dot * to.y(), direction.z() - dot * to.z());
    }

    static Direction cross(Direction a, Direction b) {
        return Direction.of(
                a.y() * b.z() - a.z() * b.y(), a.z() * b.x() - a.x() * b.z(), a.x() * b.y() - a.y() * b.x());
    }

    /** Returns which way one looks, from the viewer into the picture. */
    Direction looking() {
        return cross(across, up).reversed();
    }

    /** Returns where a spot lies in the picture, mm across and up from the origin. */
    Flat flat(Spot spot) {
        double x = spot.x() - origin.x();
        double y = spot.y() - origin.y();
        double z = spot.z() - origin.z();
        return new Flat(x * across.x() + y * across.y() + z * across.z(), x * up.x() + y * up.y() + z * up.z());
    }
}
