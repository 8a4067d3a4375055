package daylight.linkage;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import com.sun.management.ThreadMXBean;
import daylight.geometry.Direction;
import daylight.geometry.Spot;
import daylight.linkage.Mechanism.Driver;
import daylight.linkage.Mechanism.Joint;
import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.lang.management.ManagementFactory;
import java.util.Arrays;
import java.util.List;
import java.util.random.RandomGenerator;
import java.util.random.RandomGeneratorFactory;
import org.junit.jupiter.api.Test;

/** What happens where a mechanism cannot go, and that it stays on its own assembly where it can. */
class EndingsTest {
    private static final String GROUND = Mechanism.GROUND;
    private static final double FULL = 2 * Math.PI;

    private static Spot up(Spot spot) {
        return spot.plus(0, 0, 100);
    }

    /** A four-bar put together with its crank at an angle; ground along x. Side: joint left of the way pin to pivot. */
    private record FourBar(double d, double a, double b, double c, double from, int side) {
        Spot pin(double angle) {
            return new Spot(a * Math.cos(angle), a * Math.sin(angle), 0);
        }

        Spot pivot() {
            return new Spot(d, 0, 0);
        }

        Spot joint(double angle, int onSide) {
            Spot p = pin(angle);
            double s = p.distanceTo(pivot());
            double along = (b * b - c * c + s * s) / (2 * s);
            double across = onSide * Math.sqrt(Math.max(0, b * b - along * along));
            double ux = (d - p.x()) / s;
            double uy = -p.y() / s;
            return new Spot(p.x() + along * ux - across * uy, p.y() + along * uy + across * ux, 0);
        }

        Linkage linkage() {
            return Linkage.of(new Mechanism(
                    "four-bar",
                    List.of("crank", "rocker"),
                    List.of(
                            new Joint.Hinge("rocker pivot", GROUND, "rocker", pivot(), up(pivot())),
                            new Joint.Rod("coupler", "crank", pin(from), "rocker", joint(from, side))),
                    List.of(new Driver.Turn("crank", "crank", Spot.ORIGIN, up(Spot.ORIGIN), -FULL, FULL)),
                    List.of()));
        }
    }

    /** Plain Newton on the rocker angle from the angle it had: what a solver without guards does. */
    private static double plainNewton(FourBar f, double psi, double theta) {
        Spot p = f.pin(theta);
        for (int k = 0; k < 50; k++) {
            double x = f.d() + f.c() * Math.cos(psi) - p.x();
            double y = f.c() * Math.sin(psi) - p.y();
            double value = x * x + y * y - f.b() * f.b();
            double slope = 2 * f.c() * (-x * Math.sin(psi) + y * Math.cos(psi));
            psi -= value / slope;
        }
        return psi;
    }

    @Test
    void aLongStepStaysOnTheAssemblyWherePlainNewtonJumps() {
        FourBar f = new FourBar(40, 100, 90, 100, Math.toRadians(90), 1);
        Linkage linkage = f.linkage();
        Spot start = f.joint(f.from(), 1);
        int jumped = 0;
        for (double degrees = -170; degrees <= 350; degrees += 7) {
            double theta = Math.toRadians(degrees);
            Spot own = f.joint(theta, 1);
            double psi = plainNewton(f, Math.atan2(start.y(), start.x() - f.d()), theta);
            Spot plain = new Spot(f.d() + f.c() * Math.cos(psi), f.c() * Math.sin(psi), 0);
            boolean closes = Math.abs(plain.distanceTo(f.pin(theta)) - f.b()) < 1e-9;
            boolean mirrored = plain.distanceTo(own) > 1;
            if (closes && mirrored) {
                jumped++;
            }
            linkage.toRideHeight();
            Outcome outcome = linkage.solve(new double[] {theta - f.from()});
            assertThat(outcome.solved()).as("crank at %s", degrees).isTrue();
            assertThat(linkage.where(1, start).distanceTo(own))
                    .as("crank at %s: distance from the place on its own assembly", degrees)
                    .isLessThan(1e-8);
        }
        assertThat(jumped)
                .as("times that a small residual was the mirrored assembly")
                .isGreaterThan(3);
    }

    @Test
    void aRockerThatCannotFollowBindsWithJointMisfitAndReach() {
        // Coupler and rocker are in line when pin and pivot are 60 + 70 apart.
        FourBar f = new FourBar(100, 80, 60, 70, Math.toRadians(60), 1);
        Linkage linkage = f.linkage();
        double end = Math.acos((80.0 * 80 + 100 * 100 - 130 * 130) / (2 * 80 * 100));
        double asked = Math.toRadians(100);
        Outcome outcome = linkage.solve(new double[] {asked - f.from()});
        assertThat(outcome).isInstanceOf(Outcome.Binds.class);
        Outcome.Binds binds = (Outcome.Binds) outcome;
        assertThat(binds.joint()).isEqualTo("coupler");
        assertThat(binds.between()).isEqualTo("crank and rocker");
        double open = f.pin(asked).distanceTo(f.pivot()) - 130;
        assertThat(binds.misfitMm()).isCloseTo(open, within(1e-3));
        assertThat(binds.reached().get(0) + f.from())
                .isCloseTo(end, within(2e-5))
                .isLessThan(end);
        assertThat(binds.reaches().get(0).highest() + f.from()).isCloseTo(end, within(2e-5));
        assertThat(binds.reaches().get(0).lowest() + f.from()).isCloseTo(-end, within(2e-5));
        assertThat(binds.message())
                .isEqualTo("four-bar at crank 40.0 degrees: crank and rocker stay 8.5 mm apart at coupler, so it cannot"
                        + " get there. It reaches crank -151.8 degrees to 31.8 degrees.");
        // It is usable afterwards.
        assertThat(linkage.solve(new double[] {0.1}).solved()).isTrue();
    }

    @Test
    void aParallelogramStopsAtItsDeadPointByName() {
        FourBar f = new FourBar(100, 60, 100, 60, Math.toRadians(70), 1);
        Linkage linkage = f.linkage();
        Outcome outcome = linkage.solve(new double[] {Math.toRadians(-110)});
        assertThat(outcome).isInstanceOf(Outcome.OverCentre.class);
        Outcome.OverCentre over = (Outcome.OverCentre) outcome;
        assertThat(over.joint()).isEqualTo("coupler");
        assertThat(Math.toDegrees(over.reached().get(0)) + 70).isBetween(-0.01, 1.5);
        assertThat(over.message()).contains("dead point (over centre) at coupler");
    }

    @Test
    void aParallelogramSentOntoItsDeadPointIsNearSingularByName() {
        FourBar f = new FourBar(100, 60, 100, 60, Math.toRadians(70), 1);
        Linkage linkage = f.linkage();
        Outcome outcome = linkage.solve(new double[] {Math.toRadians(-70)});
        assertThat(outcome).isInstanceOf(Outcome.NearSingular.class);
        Outcome.NearSingular near = (Outcome.NearSingular) outcome;
        assertThat(near.joint()).isEqualTo("coupler");
        assertThat(near.between()).isEqualTo("crank and rocker");
        assertThat(Math.toDegrees(near.reached().get(0)) + 70).isBetween(-0.01, 1.5);
        assertThat(Math.toDegrees(near.reaches().get(0).lowest()) + 70).isBetween(-0.01, 1.5);
        assertThat(near.message())
                .startsWith("four-bar at crank -70.0 degrees: it is next to a dead point there (near-singular), at"
                        + " coupler: crank and rocker hold each other by almost nothing")
                .contains("It reaches crank -");
        assertThat(linkage.solve(new double[] {-1}).solved()).isTrue();
    }

    @Test
    void aRockerSentToWhereItsCouplerIsInLineIsNearSingular() {
        FourBar f = new FourBar(100, 80, 60, 70, Math.toRadians(60), 1);
        double end = Math.acos((80.0 * 80 + 100 * 100 - 130 * 130) / (2 * 80 * 100));
        assertThat(f.linkage().solve(new double[] {end - f.from()})).isInstanceOf(Outcome.NearSingular.class);
    }

    @Test
    void messagesWriteLengthsAsTheBuilderDoes() {
        Outcome outcome = Linkage.of(Samples.doubleArm(Samples.SK1)).solve(new double[] {-400, 0});
        assertThat(outcome.message(LengthFormat.fine(Unit.INCH)))
                .startsWith("front left at travel -15.75 in, steer 0.00 in: ")
                .doesNotContain("mm");
    }

    @Test
    void rideHeightOnADeadPointIsTwoAssemblies() {
        FourBar f = new FourBar(100, 60, 100, 60, 0, 1);
        Outcome outcome = f.linkage().solve(new double[] {0.1});
        assertThat(outcome).isEqualTo(new Outcome.TwoAssemblies("four-bar", "coupler", "crank and rocker"));
        assertThat(outcome.message()).contains("two assemblies");
    }

    @Test
    void aCornerAskedTooFarNamesTheReachableRange() {
        Linkage linkage = Linkage.of(Samples.doubleArm(Samples.SK1));
        Outcome outcome = linkage.solve(new double[] {-400, 0});
        assertThat(outcome).isInstanceOf(Outcome.Binds.class);
        Outcome.Binds binds = (Outcome.Binds) outcome;
        assertThat(binds.misfitMm()).isGreaterThan(1);
        assertThat(binds.reaches()).extracting(Outcome.Reach::whole).containsExactly(true, true);
        assertThat(binds.reached().get(0)).isBetween(-400.0, -80.0);
        assertThat(binds.message()).startsWith("front left at travel -400.0 mm, steer 0.0 mm: ");
    }

    /** Every kind of ending has to be met somewhere among the random cars, or the fuzz would show nothing. */
    @Test
    void tenThousandRandomGeometriesOfAllLayoutsEndInASolutionOrANamedFailure() {
        RandomGenerator random = RandomGeneratorFactory.of("L64X128MixRandom").create(99);
        List<Mechanism> examples = MovingLayouts.names().map(MovingLayouts::of).toList();
        int solved = 0;
        int bound = 0;
        int over = 0;
        int refused = 0;
        for (int k = 0; k < 10_000; k++) {
            Mechanism example = examples.get(k % examples.size());
            // From a tape's error to no car at all, and now and then a spot in the place of another.
            double shake = 400 * Math.pow(random.nextDouble(), 3);
            Mechanism shaken;
            Linkage linkage;
            String what = "geometry " + k + " of " + example.name();
            try {
                shaken = MovingLayouts.with(
                        example,
                        s -> random.nextInt(300) == 0
                                ? new Spot(0, 0, 300)
                                : s.plus(part(random, shake), part(random, shake), part(random, shake)),
                        d -> d,
                        false);
                linkage = Linkage.of(shaken);
            } catch (IllegalArgumentException e) {
                assertThat(e.getMessage()).as(what).isNotBlank();
                refused++;
                continue;
            }
            double[] q = new double[linkage.driverCount()];
            for (int i = 0; i < q.length; i++) {
                q[i] = linkage.lowest(i) + 1.1 * random.nextDouble() * (linkage.highest(i) - linkage.lowest(i));
            }
            Outcome outcome = linkage.solve(q);
            if (outcome instanceof Outcome.Solved position) {
                solved++;
                assertThat(position.residualMm()).as(what).isLessThanOrEqualTo(1e-9);
            } else if (outcome instanceof Outcome.Binds binds) {
                bound++;
                assertThat(binds.misfitMm()).as(what).isFinite().isPositive();
                assertThat(binds.joint()).as(what).isNotBlank();
            } else {
                over++;
                assertThat(outcome.message()).as(what).doesNotContain("NaN");
            }
            for (int b = 0; b < linkage.bodies().size(); b++) {
                assertThat(linkage.where(b, new Spot(0, 700, 0)).distanceTo(Spot.ORIGIN))
                        .as("%s body %s", what, b)
                        .isLessThan(1e5);
            }
        }
        assertThat(solved + bound + over + refused).isEqualTo(10_000);
        assertThat(List.of(solved, bound, over, refused))
                .as("solved, bound, over centre or two assemblies, refused")
                .allMatch(count -> count > 5);
        assertThat(solved).as("most of them are cars").isGreaterThan(6000);
    }

    private static double part(RandomGenerator random, double of) {
        return of * (2 * random.nextDouble() - 1);
    }

    @Test
    void nothingIsAllocatedOverAThousandSolves() {
        Linkage linkage = Linkage.of(Samples.doubleArm(Samples.SK1));
        Enclosure box = Enclosure.of(linkage);
        double[] q = new double[2];
        double[] half = {2, 2};
        double[] t = new double[6];
        ThreadMXBean threads = (ThreadMXBean) ManagementFactory.getThreadMXBean();
        long least = Long.MAX_VALUE;
        for (int round = 0; round < 20; round++) {
            long before = threads.getCurrentThreadAllocatedBytes();
            for (int k = 0; k < 1000; k++) {
                q[0] = 60 * Math.sin(0.08 * k);
                q[1] = 40 * Math.cos(0.05 * k);
                linkage.solve(q);
                linkage.twist(2, 0, t);
                linkage.bend(2, 0, 1, t);
                if (k % 50 == 0) {
                    linkage.enclose(q, half, box);
                }
            }
            least = Math.min(least, threads.getCurrentThreadAllocatedBytes() - before);
        }
        assertThat(least)
                .as("bytes over a thousand solves, twists and second derivatives")
                .isLessThan(1000);
    }

    @Test
    void warmStartsTakeNoMoreThanSixCorrections() {
        Linkage linkage = Linkage.of(Samples.doubleArm(Samples.SK1));
        for (double z = -80; z <= 80; z += 5) {
            linkage.solve(new double[] {z, 0.5 * z});
            Outcome outcome = linkage.solve(new double[] {z + 5, 0.5 * z + 2});
            assertThat(((Outcome.Solved) outcome).iterations()).as("at %s", z).isLessThanOrEqualTo(6);
            assertThat(((Outcome.Solved) outcome).residualMm()).isLessThanOrEqualTo(1e-9);
        }
    }

    @Test
    void mistakesOfTheCallerAreNamed() {
        Linkage linkage = Linkage.of(Samples.doubleArm(Samples.SK1));
        assertThatThrownBy(() -> linkage.solve(new double[1]))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("front left has 2 drivers, not 1");
        assertThatThrownBy(() -> linkage.solve(new double[] {0, Double.NaN}))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("front left: driver steer is not finite: NaN");
    }

    @Test
    void mechanismsThatCannotBeAreRefusedByName() {
        Spot a = new Spot(0, 0, 0);
        Spot b = new Spot(100, 0, 0);
        Joint rod = new Joint.Rod("rod", GROUND, a, "thing", b);
        Driver rise = new Driver.Rise("rise", "thing", b, -1, 1);
        assertThatThrownBy(
                        () -> Linkage.of(new Mechanism("m", List.of("thing"), List.of(rod), List.of(rise), List.of())))
                .hasMessageContaining(
                        "m: bodies [thing] cannot be placed: their joints and drivers leave 4 movement(s)");
        assertThatThrownBy(() -> new Joint.Rod("short rod", GROUND, a, "thing", a))
                .hasMessageContaining("short rod");
        assertThatThrownBy(() -> new Driver.Rise("up", "thing", a, 1, 2)).hasMessageContaining("lowest");
        assertThatThrownBy(() -> new Driver.Rise("up", "thing", a, -1, Double.NaN))
                .hasMessageContaining("highest");
        assertThatThrownBy(() -> new Mechanism("m", List.of("thing", "thing"), List.of(), List.of(), List.of()))
                .hasMessageContaining("named twice");
        assertThatThrownBy(() -> Linkage.of(new Mechanism(
                        "m", List.of(), List.of(new Joint.Ball("ball", "x", "y", a)), List.of(), List.of())))
                .hasMessageContaining("names body \"x\"");
        assertThatThrownBy(() -> Linkage.of(new Mechanism(
                        "m",
                        List.of("thing"),
                        List.of(rod),
                        List.of(new Driver.Travel("t", "thing", Direction.UP, -1, 1)),
                        List.of())))
                .hasMessageContaining("joint \"rod\" asks for one thing too many");
        assertThat(Arrays.asList(1, 2)).hasSize(2);
    }
}
