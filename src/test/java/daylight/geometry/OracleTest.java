package daylight.geometry;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.offset;

import daylight.validation.Checks;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.api.Test;
import us.ihmc.euclid.shape.collision.EuclidShape3DCollisionResult;
import us.ihmc.euclid.shape.collision.gjk.GilbertJohnsonKeerthiCollisionDetector;

/** Other opinions on the same distances: a general-purpose library, the slow plain method, every piece in turn. */
class OracleTest {
    /** The promise for separated pairs. */
    private static final double PROMISE_MM = 1e-6;

    private static final List<Samples.Kind> COMMON =
            List.of(Samples.Kind.BALL, Samples.Kind.ROD, Samples.Kind.BOX, Samples.Kind.HULL, Samples.Kind.DRUM);

    private final Gauge gauge = new Gauge();

    @Test
    void agreesWithAGeneralLibraryWhereSeparated() {
        GilbertJohnsonKeerthiCollisionDetector library = new GilbertJohnsonKeerthiCollisionDetector();
        library.setTerminalConditionEpsilon(1e-13);
        library.setMaxIterations(500);
        int separated = 0;
        int apart = 0;
        for (int seed = 0; seed < 20_000; seed++) {
            Samples samples = new Samples(seed);
            Shape a = samples.shape(COMMON.get(samples.below(COMMON.size())));
            Shape b = samples.shape(COMMON.get(samples.below(COMMON.size())));
            Pose poseA = samples.pose(150);
            Pose poseB = samples.pose(150);
            double ours =
                    gauge.proximity(Solid.of(a), poseA, Solid.of(b), poseB).distanceMm();
            EuclidShape3DCollisionResult theirs = new EuclidShape3DCollisionResult();
            boolean collide = library.evaluateCollision(Euclid.of(a, poseA), Euclid.of(b, poseB), theirs);
            if (ours <= PROMISE_MM || collide) {
                assertThat(ours).as("seed %s", seed).isLessThan(collide ? PROMISE_MM : Double.POSITIVE_INFINITY);
                continue;
            }
            separated++;
            // Both give the distance of two spots that belong to the shapes, so neither can be below the truth; ours
            // may not be above theirs. Where theirs is above ours it has stopped early (witnessesAndNormalProve...
            // in GaugeTest proves ours).
            assertThat(ours).as("seed %s: %s | %s", seed, a, b).isLessThan(theirs.getSignedDistance() + PROMISE_MM);
            if (theirs.getSignedDistance() - ours > PROMISE_MM) {
                apart++;
            }
        }
        assertThat(separated).isGreaterThan(10_000);
        // The library stops early now and then on round shapes.
        assertThat(apart).isLessThan(separated / 50);
    }

    // The whole, 100,000 pairs, by -Ddaylight.cases=100000.
    @Test
    void agreesWithAnotherAlgorithmOverAllKinds() {
        int cases = Integer.getInteger("daylight.cases", 10_000);
        NearestPairOracle oracle = new NearestPairOracle();
        int apart = 0;
        int open = 0;
        double worst = 0;
        for (int seed = 0; seed < cases; seed++) {
            Samples samples = new Samples(1_000_000 + seed);
            List<Shape> as = pieces(samples);
            List<Shape> bs = pieces(samples);
            Pose poseA = samples.pose(150);
            Pose poseB = samples.pose(150);
            double ours = gauge.proximity(solid(as), poseA, solid(bs), poseB).distanceMm();
            double low = Double.POSITIVE_INFINITY;
            double high = Double.POSITIVE_INFINITY;
            for (Shape a : as) {
                for (Shape b : bs) {
                    oracle.bracket(a, poseA, b, poseB);
                    low = Math.min(low, oracle.low);
                    high = Math.min(high, oracle.high);
                }
            }
            if (high <= PROMISE_MM) {
                // Where the cores overlap the oracle knows only that the two touch.
                assertThat(ours).as("seed %s: %s | %s", seed, as, bs).isLessThan(high + PROMISE_MM);
                continue;
            }
            apart++;
            open += high - low > PROMISE_MM / 2 ? 1 : 0;
            worst = Math.max(worst, Math.max(low - ours, ours - high));
            assertThat(ours)
                    .as("seed %s: %s | %s, bracket %s to %s", seed, as, bs, low, high)
                    .isBetween(low - PROMISE_MM, high + PROMISE_MM);
        }
        assertThat(apart).isGreaterThan(cases / 2);
        assertThat(open)
                .as("brackets that did not close; worst case outside by %s mm", worst)
                .isLessThanOrEqualTo(apart / 1000);
    }

    /** Convex shapes that make one part together: mostly a single one of any kind, now and then a chain or a mesh. */
    private static List<Shape> pieces(Samples samples) {
        int which = samples.below(12);
        if (which > 1) {
            return List.of(samples.shape(samples.kind()));
        }
        List<Shape> pieces = new ArrayList<>();
        if (which == 0) {
            Shape.Tube bent = Parts.bentTube(samples);
            for (int i = 0; i + 1 < bent.through().size(); i++) {
                pieces.add(new Shape.Tube(bent.through().subList(i, i + 2), bent.outsideDiameterMm(), 0));
            }
            pieces.add(samples.shape(samples.kind()));
            return pieces;
        }
        Shape.Mesh mesh = Parts.torusMesh(samples.spot(60), 50, 12, 6, 4);
        for (int t = 0; t < mesh.triangles().size(); t += 3) {
            pieces.add(new Shape.Hull(
                    List.of(
                            mesh.corners().get(mesh.triangles().get(t)),
                            mesh.corners().get(mesh.triangles().get(t + 1)),
                            mesh.corners().get(mesh.triangles().get(t + 2))),
                    0));
        }
        return pieces;
    }

    private static Solid solid(List<Shape> pieces) {
        return Solid.of(pieces.size() == 1 ? pieces.get(0) : new Shape.Group(pieces));
    }

    // CG-5: torus, ring 100, tube 25; recomputed. The bend is cut into straight pieces that hold it and exceed it by no
    // more than the sagitta, so that is the tolerance.
    @Test
    void aBendIsAQuarterOfATorus() {
        Solid bend = Solid.of(
                new Shape.Tube(List.of(new Spot(100, -1, 0), new Spot(100, 100, 0), new Spot(-1, 100, 0)), 50, 100));
        double turn = Math.PI / 5;
        double[][] cases = {{60, 40, 31.5685424949}, {0, 0, 75}, {100, 0, -25}};
        String[] names = {"inside and above the ring", "the centre", "on the ring"};
        for (int i = 0; i < cases.length; i++) {
            Spot at = new Spot(cases[i][0] * Math.cos(turn), cases[i][0] * Math.sin(turn), cases[i][1]);
            Solid dot = Solid.of(new Shape.Hull(List.of(at), 0));
            double found = gauge.proximity(bend, Pose.RIDE_HEIGHT, dot, Pose.RIDE_HEIGHT)
                    .distanceMm();
            Checks.record(
                    "CG-5",
                    "point to a bend, " + names[i],
                    "closed form",
                    "recomputed",
                    cases[i][2],
                    found,
                    Solid.SAGITTA_MM + 1e-9);
        }
    }

    // CG-4: point to ellipse (method: Eberly, Distance from a Point to an Ellipse); own input, recomputed. A line along
    // which a turned part's rim is seen as the ellipse is as far from the part as its point from the ellipse; inside,
    // the way out. The part is two flat cones on one rim, which the rim hides.
    @Test
    void aRimSeenAtASlantIsAnEllipse() {
        double[][] cases = {
            {3, 2, 4, 3, 2.4083189158},
            {2, 1, 2, 1, 0.5577801168},
            {2, 1, 0.5, 0.5, -0.4638358732},
            {2, 1, 1, 0, -0.8164965809}
        };
        for (double[] c : cases) {
            double tilt = Math.acos(c[1] / c[0]);
            Shape rim = new Shape.Turned(
                    Spot.ORIGIN,
                    Direction.of(0, Math.sin(tilt), Math.cos(tilt)),
                    List.of(new Flat(-0.1, 0), new Flat(0.1, 0), new Flat(0, c[0])),
                    0);
            Shape line = new Shape.Hull(List.of(new Spot(c[2], c[3], -10), new Spot(c[2], c[3], 10)), 0);
            double found = gauge.proximity(Solid.of(rim), Pose.RIDE_HEIGHT, Solid.of(line), Pose.RIDE_HEIGHT)
                    .distanceMm();
            Checks.record(
                    "CG-4",
                    String.format(Locale.ROOT, "semi-axes %.0f and %.0f from (%.1f, %.1f)", c[0], c[1], c[2], c[3]),
                    "method: Eberly, Distance from a Point to an Ellipse (Geometric Tools)",
                    "own input, recomputed",
                    c[4],
                    found,
                    // Depth of round cores is promised to 1e-6 mm.
                    c[4] < 0 ? PROMISE_MM : 1e-9);
        }
    }

    @Test
    void steppingToAndFroFindsNoCloserPairOfSpots() {
        // The nearest spot of one box to a spot of the other, in turns (Cheney and Goldstein 1959): slow, and right.
        for (int seed = 0; seed < 300; seed++) {
            Samples samples = new Samples(seed);
            Shape.Box a = (Shape.Box) samples.shape(Samples.Kind.BOX, 60);
            Shape.Box b = (Shape.Box) samples.shape(Samples.Kind.BOX, 60);
            Pose poseA = samples.pose(150);
            Pose poseB = samples.pose(150);
            double ours =
                    gauge.proximity(Solid.of(a), poseA, Solid.of(b), poseB).distanceMm();
            if (ours <= 0) {
                continue;
            }
            Spot onA = poseA.apply(a.centre());
            Spot onB = poseB.apply(b.centre());
            for (int step = 0; step < 3_000; step++) {
                onB = nearest(b, poseB, onA);
                onA = nearest(a, poseA, onB);
            }
            double theirs = onA.distanceTo(onB);
            assertThat(ours).as("seed %s", seed).isLessThan(theirs + PROMISE_MM);
            assertThat(ours).as("seed %s", seed).isCloseTo(theirs, offset(0.01));
        }
    }

    private static Spot nearest(Shape.Box box, Pose pose, Spot to) {
        Direction x = pose.apply(box.along());
        Direction z = pose.apply(SolidMaker.cross(box.along(), box.across()));
        Direction y = SolidMaker.cross(z, x);
        Spot c = pose.apply(box.centre());
        double dx = to.x() - c.x();
        double dy = to.y() - c.y();
        double dz = to.z() - c.z();
        return c.along(x, within(dx * x.x() + dy * x.y() + dz * x.z(), box.lengthMm() / 2))
                .along(y, within(dx * y.x() + dy * y.y() + dz * y.z(), box.widthMm() / 2))
                .along(z, within(dx * z.x() + dy * z.y() + dz * z.z(), box.heightMm() / 2));
    }

    private static double within(double value, double half) {
        return Math.max(-half, Math.min(half, value));
    }

    @Test
    void manyPiecesAgreeWithTryingThemAll() {
        // The same pieces one by one: each triangle of a mesh, each run of a sharp-cornered tube, each member.
        for (int seed = 0; seed < 150; seed++) {
            Samples samples = new Samples(seed);
            Shape.Mesh mesh = Parts.torusMesh(samples.spot(60), 60, 15, 16, 8);
            Shape b = samples.shape(samples.kind());
            Solid solidB = Solid.of(b);
            Pose poseA = samples.pose(80);
            Pose poseB = samples.pose(160);
            double fast = gauge.proximity(Solid.of(mesh), poseA, solidB, poseB).distanceMm();
            double slow = Double.POSITIVE_INFINITY;
            for (int t = 0; t < mesh.triangles().size(); t += 3) {
                Shape triangle = new Shape.Hull(
                        List.of(
                                mesh.corners().get(mesh.triangles().get(t)),
                                mesh.corners().get(mesh.triangles().get(t + 1)),
                                mesh.corners().get(mesh.triangles().get(t + 2))),
                        0);
                slow = Math.min(
                        slow,
                        gauge.proximity(Solid.of(triangle), poseA, solidB, poseB)
                                .distanceMm());
            }
            if (slow > 0) {
                assertThat(Math.abs(fast)).as("seed %s", seed).isGreaterThan(slow - PROMISE_MM);
            }
            assertThat(fast).as("seed %s", seed).isLessThan(slow + PROMISE_MM);
            if (fast > 0) {
                assertThat(fast).as("seed %s", seed).isCloseTo(slow, offset(PROMISE_MM));
            }
        }
    }

    @Test
    void bendsHolesAndBarrelsLieOutsideTheTrueShapeByNoMoreThanTheSagitta() {
        // A small ball measured against the true figure in closed form.
        double r = 3;
        Samples samples = new Samples(7);
        Solid ball = Solid.of(new Shape.Ball(Spot.ORIGIN, r));
        Solid bend = Solid.of(
                new Shape.Tube(List.of(new Spot(100, 0, 0), new Spot(100, 100, 0), new Spot(0, 100, 0)), 20, 100));
        Solid plate = Solid.of(new Shape.Plate(
                new Spot(0, 0, 0),
                Direction.FORWARD,
                Direction.LEFT,
                8,
                List.of(new Flat(-90, -90), new Flat(90, -90), new Flat(90, 90), new Flat(-90, 90)),
                List.of(new Shape.Plate.Hole(new Flat(10, 5), 50))));
        Solid barrel = Solid.of(new Shape.Turned(
                Spot.ORIGIN,
                Direction.UP,
                List.of(new Flat(-80, 150), new Flat(80, 150), new Flat(80, 170), new Flat(-80, 170)),
                4));
        for (int i = 0; i < 3_000; i++) {
            // CG-5: torus, ring 100, tube 10; a quarter of it is the bend.
            double angle = samples.between(0.1, Math.PI / 2 - 0.1);
            double rho = samples.between(60, 140);
            double z = samples.between(-40, 40);
            Spot at = new Spot(rho * Math.cos(angle), rho * Math.sin(angle), z);
            double torus = Math.hypot(rho - 100, z) - 10 - r;
            if (torus > 0) {
                holds(bend, ball, at, torus);
            }
            double turn = samples.between(0, 2 * Math.PI);
            double off = samples.between(0, 20);
            Spot inHole = new Spot(10 + off * Math.cos(turn), 5 + off * Math.sin(turn), samples.between(0, 8));
            holds(plate, ball, inHole, 25 - off - r);
            double inner = samples.between(0, 146);
            Spot inBarrel = new Spot(inner * Math.cos(turn), inner * Math.sin(turn), samples.between(-70, 70));
            holds(barrel, ball, inBarrel, 150 - inner - r);
            double outer = samples.between(174, 300);
            Spot round = new Spot(outer * Math.cos(turn), outer * Math.sin(turn), samples.between(-70, 70));
            double outside =
                    gauge.proximity(barrel, Pose.RIDE_HEIGHT, ball, at(round)).distanceMm();
            // The outer face is exact: it is the guard's.
            assertThat(outside).isCloseTo(outer - 170 - r, offset(1e-9));
        }
    }

    @Test
    void barsInAndAroundAHollowWheelAgreeWithItsProfile() {
        // A wheel with an undercut side wall, a web and a lip: several parts, each hollow in its own way.
        List<Flat> profile = List.of(
                new Flat(-80, 170),
                new Flat(40, 170),
                new Flat(40, 0),
                new Flat(55, 0),
                new Flat(55, 170),
                new Flat(80, 170),
                new Flat(100, 230),
                new Flat(90, 300),
                new Flat(-90, 300),
                new Flat(-100, 230));
        Direction axis = Direction.of(0.2, 1, -0.1);
        Spot centre = new Spot(12, -7, 3);
        Solid wheel = Solid.of(new Shape.Turned(centre, axis, profile, 0));
        int apart = 0;
        for (int seed = 0; seed < 1_500; seed++) {
            Samples samples = new Samples(seed);
            Spot from = samples.spot(360);
            Spot to = samples.below(2) == 0 ? samples.spot(360) : from.along(samples.direction(), 60);
            double found = gauge.proximity(
                            wheel,
                            Pose.RIDE_HEIGHT,
                            Solid.of(new Shape.Tube(List.of(from, to), 4, 0)),
                            Pose.RIDE_HEIGHT)
                    .distanceMm();
            double truth = alongBar(profile, centre, axis, from, to) - 2;
            if (truth > 0) {
                apart++;
                assertThat(found)
                        .as("seed %s: %s to %s", seed, from, to)
                        .isBetween(truth - Solid.SAGITTA_MM - PROMISE_MM, truth + PROMISE_MM);
            } else {
                assertThat(found).as("seed %s: %s to %s", seed, from, to).isLessThan(PROMISE_MM);
            }
        }
        assertThat(apart).isGreaterThan(500);
    }

    /** Least distance of a straight line's spots to a turned profile: fine steps, then each dip by thirds. */
    private static double alongBar(List<Flat> profile, Spot centre, Direction axis, Spot from, Spot to) {
        int steps = 600;
        double[] at = new double[steps + 1];
        for (int i = 0; i <= steps; i++) {
            at[i] = toProfile(profile, centre, axis, between(from, to, i / (double) steps));
        }
        double least = Double.POSITIVE_INFINITY;
        for (int i = 0; i <= steps; i++) {
            if (at[i] <= at[Math.max(0, i - 1)] && at[i] <= at[Math.min(steps, i + 1)]) {
                double low = Math.max(0, i - 1) / (double) steps;
                double high = Math.min(steps, i + 1) / (double) steps;
                for (int k = 0; k < 80; k++) {
                    double one = low + (high - low) / 3;
                    double two = high - (high - low) / 3;
                    if (toProfile(profile, centre, axis, between(from, to, one))
                            <= toProfile(profile, centre, axis, between(from, to, two))) {
                        high = two;
                    } else {
                        low = one;
                    }
                }
                least = Math.min(least, toProfile(profile, centre, axis, between(from, to, low)));
            }
        }
        return least;
    }

    private static Spot between(Spot from, Spot to, double share) {
        return new Spot(
                from.x() + share * (to.x() - from.x()),
                from.y() + share * (to.y() - from.y()),
                from.z() + share * (to.z() - from.z()));
    }

    private static double toProfile(List<Flat> profile, Spot centre, Direction axis, Spot at) {
        double dx = at.x() - centre.x();
        double dy = at.y() - centre.y();
        double dz = at.z() - centre.z();
        double h = dx * axis.x() + dy * axis.y() + dz * axis.z();
        double r = Math.sqrt(Math.max(0, dx * dx + dy * dy + dz * dz - h * h));
        boolean inside = false;
        double least = Double.POSITIVE_INFINITY;
        for (int i = 0; i < profile.size(); i++) {
            Flat a = profile.get(i);
            Flat b = profile.get((i + 1) % profile.size());
            double eh = b.x() - a.x();
            double er = b.y() - a.y();
            double t = within(((h - a.x()) * eh + (r - a.y()) * er) / (eh * eh + er * er), 0.5, 0.5);
            least = Math.min(least, Math.hypot(h - a.x() - t * eh, r - a.y() - t * er));
            if (a.y() > r != b.y() > r && h < a.x() + (r - a.y()) / er * eh) {
                inside = !inside;
            }
        }
        return inside ? 0 : least;
    }

    private static double within(double value, double middle, double half) {
        return Math.max(middle - half, Math.min(middle + half, value));
    }

    @Test
    void whatDigsIntoATreadIsAsDeepAsItLooks() {
        Solid tyre = Solid.of(new Shape.Turned(
                Spot.ORIGIN,
                Direction.LEFT,
                List.of(
                        new Flat(-90, 190),
                        new Flat(90, 190),
                        new Flat(100, 250),
                        new Flat(85, 310),
                        new Flat(-85, 310),
                        new Flat(-100, 250)),
                10));
        for (int i = 0; i < 40; i++) {
            double deep = 0.5 * i;
            for (double turn = 0; turn < 6.2; turn += 0.37) {
                Shape.Box block = new Shape.Box(
                        Spot.ORIGIN.along(Direction.of(Math.cos(turn), 0, Math.sin(turn)), 310 + 30 - deep),
                        Direction.of(Math.cos(turn), 0, Math.sin(turn)),
                        Direction.LEFT,
                        60,
                        40,
                        30);
                double found = gauge.proximity(tyre, Pose.RIDE_HEIGHT, Solid.of(block), Pose.RIDE_HEIGHT)
                        .distanceMm();
                // The face of the block is flat: its middle touches first.
                assertThat(found).as("%s deep at %s", deep, turn).isBetween(-deep - 0.03, -deep + 1.6);
            }
        }
    }

    private void holds(Solid solid, Solid ball, Spot at, double truth) {
        double found = gauge.proximity(solid, Pose.RIDE_HEIGHT, ball, at(at)).distanceMm();
        assertThat(found).as("at %s", at).isBetween(truth - Solid.SAGITTA_MM - 1e-9, truth + 1e-9);
    }

    private static Pose at(Spot s) {
        return new Pose(1, 0, 0, 0, 1, 0, 0, 0, 1, s.x(), s.y(), s.z());
    }
}
