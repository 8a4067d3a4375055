package daylight.geometry;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;

/** Seeded shapes and poses for property tests, nasty ones included, and plain support functions of the shapes. */
final class Samples {
    /** The convex kinds a sample can be of. */
    enum Kind {
        BALL,
        ROD,
        BOX,
        HULL,
        FLAT_HULL,
        ROUNDED_HULL,
        DRUM,
        TYRE_LIKE
    }

    static final List<Kind> KINDS = List.of(Kind.values());

    private final SplittableRandom random;

    Samples(long seed) {
        random = new SplittableRandom(seed);
    }

    double between(double low, double high) {
        return low + (high - low) * random.nextDouble();
    }

    int below(int bound) {
        return random.nextInt(bound);
    }

    Spot spot(double reach) {
        return new Spot(between(-reach, reach), between(-reach, reach), between(-reach, reach));
    }

    Direction direction() {
        while (true) {
            double x = between(-1, 1);
            double y = between(-1, 1);
            double z = between(-1, 1);
            double l = x * x + y * y + z * z;
            if (l > 1e-4 && l <= 1) {
                return Direction.of(x, y, z);
            }
        }
    }

    /** A direction that is often along an axis, so that faces and edges come out parallel. */
    Direction squareDirection() {
        return switch (below(4)) {
            case 0 -> Direction.FORWARD;
            case 1 -> Direction.LEFT;
            case 2 -> Direction.UP;
            default -> direction();
        };
    }

    /** A rigid pose; one time in three without rotation, one time in three a quarter turn. */
    Pose pose(double reach) {
        Direction axis = below(2) == 0 ? squareDirection() : direction();
        double angle = switch (below(3)) {
            case 0 -> 0;
            case 1 -> Math.PI / 2 * below(4);
            default -> between(-Math.PI, Math.PI);
        };
        return turned(axis, angle, spot(reach));
    }

    static Pose turned(Direction axis, double angle, Spot shift) {
        double c = Math.cos(angle);
        double s = Math.sin(angle);
        double v = 1 - c;
        double x = axis.x();
        double y = axis.y();
        double z = axis.z();
        return new Pose(
                c + x * x * v,
                x * y * v - z * s,
                x * z * v + y * s,
                y * x * v + z * s,
                c + y * y * v,
                y * z * v - x * s,
                z * x * v - y * s,
                z * y * v + x * s,
                c + z * z * v,
                shift.x(),
                shift.y(),
                shift.z());
    }

    Kind kind() {
        return KINDS.get(below(KINDS.size()));
    }

    /** A convex shape of about unit to hundred millimetres, sometimes tiny, sometimes long and thin. */
    Shape shape(Kind kind) {
        double scale = below(8) == 0 ? between(0.01, 1) : between(5, 120);
        return shape(kind, scale);
    }

    Shape shape(Kind kind, double scale) {
        switch (kind) {
            case BALL -> {
                return new Shape.Ball(spot(scale), between(0.1, 1) * scale);
            }
            case ROD -> {
                Spot from = spot(scale);
                Spot to = from.along(squareDirection(), between(0.1, 3) * scale);
                return new Shape.Tube(List.of(from, to), between(0.05, 1) * scale, 0);
            }
            case BOX -> {
                Direction along = squareDirection();
                Direction across = SolidMaker.perpendicular(along);
                return new Shape.Box(
                        spot(scale),
                        along,
                        across,
                        between(0.02, 2) * scale,
                        between(0.02, 2) * scale,
                        between(0.02, 2) * scale);
            }
            case HULL -> {
                return new Shape.Hull(spots(4 + below(37), scale), 0);
            }
            case FLAT_HULL -> {
                Direction u = squareDirection();
                Direction v = SolidMaker.perpendicular(u);
                Spot o = spot(scale);
                List<Spot> spots = new ArrayList<>();
                int n = 1 + below(8);
                boolean straight = below(4) == 0;
                for (int i = 0; i < n; i++) {
                    Spot s = o.along(u, between(-1, 1) * scale);
                    spots.add(straight ? s : s.along(v, between(-1, 1) * scale));
                }
                return new Shape.Hull(spots, below(2) == 0 ? 0 : between(0.05, 0.3) * scale);
            }
            case ROUNDED_HULL -> {
                return new Shape.Hull(spots(1 + below(12), scale), between(0.05, 0.3) * scale);
            }
            case DRUM -> {
                double r = between(0.1, 1) * scale;
                double h = between(0.05, 2) * scale;
                return new Shape.Turned(
                        spot(scale),
                        squareDirection(),
                        List.of(new Flat(0, 0), new Flat(h, 0), new Flat(h, r), new Flat(0, r)),
                        0);
            }
            default -> {
                double r = between(0.5, 1) * scale;
                double w = between(0.2, 0.6) * scale;
                return new Shape.Turned(
                        spot(scale),
                        squareDirection(),
                        List.of(
                                new Flat(-w, 0),
                                new Flat(w, 0),
                                new Flat(w, 0.8 * r),
                                new Flat(0.6 * w, r),
                                new Flat(-0.6 * w, r),
                                new Flat(-w, 0.8 * r)),
                        0.15 * w);
            }
        }
    }

    private List<Spot> spots(int count, double scale) {
        List<Spot> spots = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            spots.add(spot(scale));
        }
        return spots;
    }

    /**
     * How far a posed convex shape reaches in a direction: the greatest n.x over it. Written from the shapes' own
     * words, without the engine.
     */
    static double reach(Shape shape, Pose pose, Direction n) {
        // n in the body frame.
        double x = pose.rxx() * n.x() + pose.ryx() * n.y() + pose.rzx() * n.z();
        double y = pose.rxy() * n.x() + pose.ryy() * n.y() + pose.rzy() * n.z();
        double z = pose.rxz() * n.x() + pose.ryz() * n.y() + pose.rzz() * n.z();
        double shift = pose.tx() * n.x() + pose.ty() * n.y() + pose.tz() * n.z();
        return shift + reach(shape, x, y, z);
    }

    private static double reach(Shape shape, double x, double y, double z) {
        if (shape instanceof Shape.Ball ball) {
            return dot(ball.centre(), x, y, z) + ball.radiusMm();
        }
        if (shape instanceof Shape.Tube tube) {
            return tube.through().stream()
                            .mapToDouble(s -> dot(s, x, y, z))
                            .max()
                            .orElseThrow()
                    + tube.outsideDiameterMm() / 2;
        }
        if (shape instanceof Shape.Hull hull) {
            return hull.corners().stream()
                            .mapToDouble(s -> dot(s, x, y, z))
                            .max()
                            .orElseThrow()
                    + hull.roundingMm();
        }
        if (shape instanceof Shape.Box box) {
            Direction up = SolidMaker.cross(box.along(), box.across());
            return dot(box.centre(), x, y, z)
                    + box.lengthMm() / 2 * Math.abs(dot(box.along(), x, y, z))
                    + box.widthMm() / 2 * Math.abs(dot(box.across(), x, y, z))
                    + box.heightMm() / 2 * Math.abs(dot(up, x, y, z));
        }
        if (shape instanceof Shape.Turned turned) {
            double along = dot(turned.axis(), x, y, z);
            // From the parts at right angles: 1 - along * along would lose half the digits near the axis.
            double px = x - along * turned.axis().x();
            double py = y - along * turned.axis().y();
            double pz = z - along * turned.axis().z();
            double off = Math.sqrt(px * px + py * py + pz * pz);
            double[] core = Profile.of(turned).core;
            double most = Double.NEGATIVE_INFINITY;
            for (int i = 0; i < core.length; i += 2) {
                most = Math.max(most, core[i] * along + core[i + 1] * off);
            }
            return dot(turned.centre(), x, y, z) + most + turned.roundingMm();
        }
        throw new IllegalArgumentException("no plain support for " + shape);
    }

    private static double dot(Spot s, double x, double y, double z) {
        return s.x() * x + s.y() * y + s.z() * z;
    }

    private static double dot(Direction s, double x, double y, double z) {
        return s.x() * x + s.y() * y + s.z() * z;
    }
}
