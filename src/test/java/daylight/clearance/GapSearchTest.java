package daylight.clearance;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.car.Car;
import daylight.car.Limit;
import daylight.car.Readout;
import daylight.geometry.Direction;
import daylight.geometry.Spot;
import daylight.linkage.Mechanism;
import daylight.units.Progress;
import daylight.validation.Checks;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** Least gaps against closed forms, and what the table says of each pair. */
class GapSearchTest {
    private static final double KNOWN_TO_MM = 1e-4;
    /** The balls that stand for points have this radius, mm. */
    private static final double POINT_MM = 1;

    private static GapRow only(Car car, double toleranceMm) {
        GapTable table = GapSearch.of(car, new Asked(toleranceMm, 500, 40_000, 1))
                .run(Progress.SILENT)
                .orElseThrow();
        assertThat(table.rows()).hasSize(1);
        return table.rows().get(0);
    }

    /** CG-8: a crank of 150 about the origin, in the plane, starting at an angle; and the fixed point (200, 50). */
    private static GapRow crank(double leastDeg, double mostDeg) {
        Mechanism crank = Cars.swing("crank", Spot.ORIGIN, Direction.UP, leastDeg, mostDeg);
        return only(
                Cars.of(
                        List.of(crank),
                        Cars.part("pin", "crank body", Cars.ball(150, 0, 0, POINT_MM)),
                        Cars.part("post", Mechanism.GROUND, Cars.ball(200, 50, 0, POINT_MM))),
                KNOWN_TO_MM);
    }

    @Test
    void crankAndPointHaveTheClosedFormLeastGap() {
        String source = "closed form |R - r| between a circle and a point (check CG-8)";
        GapRow inside = crank(-60, 60);
        Checks.record(
                "CG-8",
                "least distance inside the travel, mm",
                source,
                "recomputed",
                56.1552812809,
                inside.least().found().distanceMm() + 2 * POINT_MM,
                KNOWN_TO_MM);
        Checks.record(
                "CG-8",
                "angle of the least distance, deg",
                source,
                "recomputed",
                14.0362434679,
                Math.toDegrees(inside.least().where().handles().get(0).value()),
                0.2);
        GapRow end = crank(-20, 10);
        Checks.record(
                "CG-8",
                "least distance at the end of -20..10 deg, mm",
                source,
                "recomputed",
                57.5048880902,
                end.least().found().distanceMm() + 2 * POINT_MM,
                KNOWN_TO_MM);
        assertThat(inside.least().proof()).isInstanceOf(Least.Proof.Proved.class);
        assertThat(inside.least().floorMm())
                .isGreaterThan(inside.least().found().distanceMm() - KNOWN_TO_MM);
    }

    @Test
    void aPinThatPassesAPostBetweenCoarseSamplesIsCaught() {
        // The pin is 1 mm and the post 1 mm; on a 300 mm arm they overlap over 0.19 deg of an 80 deg travel.
        Mechanism arm = Cars.swing("arm", Spot.ORIGIN, Direction.UP, -40, 40);
        double angle = Math.toRadians(17.3217);
        GapRow row = only(
                Cars.of(
                        List.of(arm),
                        Cars.part("pin", "arm body", Cars.ball(300, 0, 0, 0.5)),
                        Cars.part(
                                "post",
                                Mechanism.GROUND,
                                Cars.rod(
                                        new Spot(300 * Math.cos(angle), 300 * Math.sin(angle), -50),
                                        new Spot(300 * Math.cos(angle), 300 * Math.sin(angle), 50),
                                        1))),
                0.1);
        assertThat(row.state()).isEqualTo(State.RUB);
        assertThat(row.least().found().distanceMm()).isCloseTo(-1, within(0.1));
        assertThat(Math.toDegrees(row.least().where().handles().get(0).value())).isCloseTo(17.3217, within(0.1));
        Onset touch = row.touches().orElseThrow();
        // First contact: the centres are 1 mm apart, a chord of 1 on a circle of 300.
        double first = 17.3217 - Math.toDegrees(2 * Math.asin(1 / 600.0));
        assertThat(Math.toDegrees(touch.at().handles().get(0).value())).isCloseTo(first, within(0.2));
        assertThat(touch.clearUpTo()).isLessThanOrEqualTo(first / 40 + 1e-9);
        assertThat(touch.clearUpTo()).isGreaterThan(first / 40 - 0.005);
    }

    /** A pin on an arm of 300 passes between two posts that stand 5 and 8 mm off its circle, 60 degrees apart. */
    private static Car twoPosts(double ruleMm) {
        Mechanism arm = Cars.swing("arm", Spot.ORIGIN, Direction.UP, -50, 50);
        double c = Math.cos(Math.toRadians(30));
        double s = Math.sin(Math.toRadians(30));
        return Cars.of(
                List.of(arm),
                List.of(
                        Cars.part("pin", "arm body", Cars.ball(300, 0, 0, 1)),
                        Cars.part(
                                "posts",
                                Mechanism.GROUND,
                                new daylight.geometry.Shape.Group(List.of(
                                        Cars.ball(307 * c, 307 * s, 0, 1), Cars.ball(310 * c, -310 * s, 0, 1))))),
                List.of(),
                List.of(new Car.Rule("any", "any", ruleMm, Optional.empty())),
                List.of());
    }

    @Test
    void separateTightSpotsAreListedEachWithItsClosedForm() {
        GapRow row = only(twoPosts(12), 0.01);
        assertThat(row.tightSpots()).hasSize(2);
        assertThat(row.tightSpots().get(0)).isEqualTo(row.least());
        double[] gaps = {5, 8};
        double[] angles = {30, -30};
        for (int i = 0; i < 2; i++) {
            Least spot = row.tightSpots().get(i);
            assertThat(spot.found().distanceMm()).isCloseTo(gaps[i], within(0.01));
            assertThat(spot.floorMm()).isBetween(gaps[i] - 0.0101, gaps[i] + 1e-9);
            assertThat(spot.proof()).isInstanceOf(Least.Proof.Proved.class);
            assertThat(Math.toDegrees(spot.where().handles().get(0).value())).isCloseTo(angles[i], within(0.2));
        }
        GapTable table = GapSearch.of(twoPosts(12), new Asked(0.001, 500, 40_000, 1))
                .run(Progress.SILENT)
                .orElseThrow();
        assertThat(daylight.report.GapText.spots(table, false)).isEqualTo("""
                        pin / posts: nearer than 12.0 in 2 separate places
                          5.0 at arm angle 30.0 deg
                          8.0 at arm angle -30.0 deg
                        """);
        assertThat(daylight.report.GapJson.of(table)).contains("\"tight spots\" : [");
    }

    @Test
    void oneSpotIsNotTwoBecauseItIsLookedAtInPieces() {
        // 7 mm: only the nearer post; 200 mm: the gap stays below the rule all the way from one post to the other.
        assertThat(only(twoPosts(7), 0.01).tightSpots()).hasSize(1);
        assertThat(only(twoPosts(200), 0.01).tightSpots()).hasSize(1);
        assertThat(only(twoPosts(4), 0.01).tightSpots()).isEmpty();
    }

    /** A rod of fixed length from the chassis to an axle that only rises: its far end goes along an arc. */
    @Test
    void aPanhardRodPassesATubeAtItsClosedFormGap() {
        // The rod swings about (0, -400, 300) with 700 mm; a tube along x stands at y 0, 60 above the rod at rest.
        Mechanism rod = Cars.swing("rod", new Spot(0, -400, 300), Direction.FORWARD, -8, 8);
        GapRow row = only(
                Cars.of(
                        List.of(rod),
                        Cars.part("rod", "rod body", Cars.rod(new Spot(0, -400, 300), new Spot(0, 300, 300), 24)),
                        Cars.part(
                                "tube", Mechanism.GROUND, Cars.rod(new Spot(-200, 0, 360), new Spot(200, 0, 360), 30))),
                KNOWN_TO_MM);
        // Turned up by a, the rod's line is 400 sin a nearer along z, and its distance to the tube's axis 60 cos a -
        // 400 sin a.
        double a = Math.toRadians(8);
        double gap = 60 * Math.cos(a) - 400 * Math.sin(a) - 12 - 15;
        Checks.record(
                "CG-P",
                "Panhard rod against a tube across it, least gap, mm",
                "closed form: distance of a line that turns from a line across it",
                "recomputed",
                gap,
                row.least().found().distanceMm(),
                KNOWN_TO_MM);
        assertThat(row.least().proof()).isInstanceOf(Least.Proof.Proved.class);
        assertThat(row.least().floorMm()).isBetween(gap - KNOWN_TO_MM, gap + 1e-9);
    }

    @Test
    void aSteeredTyreMeetsAWallAtItsClosedFormGap() {
        // A tyre of radius 320 and width 200 (square shoulders) steers about an upright axis 100 mm inboard of its
        // middle.
        double radius = 320;
        double half = 100;
        double wallAt = 470;
        Mechanism steer = Cars.swing("knuckle", new Spot(0, 600, 0), Direction.UP, -35, 35);
        daylight.geometry.Shape tyre = new daylight.geometry.Shape.Turned(
                new Spot(0, 700, 0),
                Direction.LEFT,
                List.of(
                        new daylight.geometry.Flat(-half, 0),
                        new daylight.geometry.Flat(half, 0),
                        new daylight.geometry.Flat(half, radius),
                        new daylight.geometry.Flat(-half, radius)),
                0);
        daylight.geometry.Shape wall = new daylight.geometry.Shape.Box(
                new Spot(wallAt + 10, 700, 0), Direction.FORWARD, Direction.LEFT, 20, 2000, 2000);
        GapRow row = only(
                Cars.of(
                        List.of(steer),
                        Cars.part("tyre", "knuckle body", tyre),
                        Cars.part("wall", Mechanism.GROUND, wall)),
                KNOWN_TO_MM);
        // Steered by a, the outer shoulder reaches 320 cos a + 200 sin a ahead: most where tan a = 200/320, at 32 deg.
        double reach = Math.hypot(radius, 2 * half);
        Checks.record(
                "CG-T",
                "steered tyre against a wall ahead of it, least gap, mm",
                "closed form: reach of a cylinder that turns about an upright axis",
                "recomputed",
                wallAt - reach,
                row.least().found().distanceMm(),
                KNOWN_TO_MM);
        assertThat(row.least().proof()).isInstanceOf(Least.Proof.Proved.class);
    }

    /** A wheel that rises to a wall above it: the stop leaves as much gap as it takes travel. */
    @Test
    void aStopThatEndsTheTravelEndsTheSearchThere() {
        Mechanism wheel = Cars.slide("wheel", Direction.UP, -50, 60);
        Car stated = Cars.of(
                List.of(wheel),
                Cars.part("hub", "wheel body", Cars.ball(0, 0, 0, 10)),
                Cars.part("roof", Mechanism.GROUND, Cars.ball(0, 0, 100, 10)));
        Limit stop = new Limit.Stop(
                "bump stop",
                new Readout.End("wheel body", Spot.ORIGIN),
                new Readout.End(Mechanism.GROUND, new Spot(0, 0, 80)),
                30,
                15,
                false);
        Car stopped = Cars.withLimits(stated, List.of(stop));
        GapSearch first = GapSearch.of(stated, Asked.USUAL);
        assertThat(first.run(Progress.SILENT)
                        .orElseThrow()
                        .rows()
                        .get(0)
                        .least()
                        .found()
                        .distanceMm())
                .isCloseTo(20, within(Asked.USUAL.toleranceMm()));
        GapTable table = first.changed(stopped).run(Progress.SILENT).orElseThrow();
        Least least = table.rows().get(0).least();
        assertThat(least.found().distanceMm()).isCloseTo(35, within(Asked.USUAL.toleranceMm()));
        assertThat(least.floorMm()).isLessThanOrEqualTo(35);
        assertThat(table.earlierEnds()).hasSize(1);
        assertThat(table.earlierEnds().get(0).by().limit()).isEqualTo("bump stop");
    }

    @Test
    void twoMovingPartsAreMeasuredAgainstOneAnother() {
        // A tyre that rises by r stands beside the end of a drop link on an arm that turns by t: two handles, two
        // bodies.
        Mechanism wheel = Cars.slide("wheel", Direction.UP, -80, 80);
        Mechanism bar = Cars.swing("bar", new Spot(-300, 500, 0), Direction.LEFT, -20, 20);
        GapRow row = only(
                Cars.of(
                        List.of(wheel, bar),
                        Cars.part("tyre", "wheel body", Cars.ball(0, 650, 0, 60)),
                        Cars.part("drop link", "bar body", Cars.ball(-100, 500, 0, 15))),
                KNOWN_TO_MM);
        // The link's ball goes round a circle of 200 about (-300, 500, 0); the tyre can follow its height up to 80 mm.
        double t = Math.toRadians(20);
        assertThat(200 * Math.sin(t)).as("the tyre can follow").isLessThan(80);
        // Foremost with the bar level: 100 behind the tyre and 150 inboard of it.
        double gap = Math.hypot(100, 150) - 75;
        assertThat(row.least().where().handles()).hasSize(2);
        assertThat(row.least().found().distanceMm()).isCloseTo(gap, within(KNOWN_TO_MM));
        assertThat(row.least().floorMm()).isBetween(gap - KNOWN_TO_MM, gap + 1e-9);
        assertThat(row.least().proof()).isInstanceOf(Least.Proof.Proved.class);
    }

    @Test
    void shiftsWithinPlayAreTakenTowardsOneAnother() {
        Car.Allowance pipe = new Car.Allowance(
                "exhaust",
                Mechanism.GROUND,
                List.of(
                        new Car.Allowance.Play("sideways", Direction.LEFT, -6, 6),
                        new Car.Allowance.Play("up and down", Direction.UP, -5, 5)));
        Car car = Cars.of(
                List.of(),
                List.of(
                        Cars.part("pipe", "exhaust", Cars.ball(0, 0, 0, 30)),
                        Cars.part("rail", Mechanism.GROUND, Cars.ball(0, 100, 0, 40))),
                List.of(pipe),
                List.of(new Car.Rule("any", "any", 13, Optional.empty())),
                List.of());
        GapRow row = only(car, 0.1);
        assertThat(row.atRideHeight().distanceMm()).isCloseTo(30, within(1e-9));
        assertThat(row.least().found().distanceMm()).isCloseTo(24, within(1e-6));
        assertThat(row.least().floorMm()).isCloseTo(24, within(0.1));
        assertThat(row.state()).isEqualTo(State.CLEAR);
        assertThat(row.least().where().shifts()).hasSize(1);
    }

    @Test
    void everyPairIsMeasuredOrLeftOutWithAReason() {
        Mechanism arm = Cars.swing("arm", Spot.ORIGIN, Direction.UP, -10, 10);
        Car car = Cars.of(
                List.of(arm),
                List.of(
                        Cars.part("a", "arm body", Cars.ball(100, 0, 0, 5)),
                        Cars.part("b", "arm body", Cars.ball(200, 0, 0, 5)),
                        Cars.part("c", Mechanism.GROUND, Cars.ball(300, 0, 0, 5)),
                        Cars.part("d", Mechanism.GROUND, Cars.ball(400, 0, 0, 5), "stay")),
                List.of(),
                List.of(),
                List.of(new Car.Exclusion("a", "stay", "bolted together")));
        GapTable table = GapSearch.of(car, Asked.USUAL).run(Progress.SILENT).orElseThrow();
        assertThat(table.rows().size() + table.leftOut().size()).isEqualTo(6);
        assertThat(table.leftOut())
                .containsExactlyInAnyOrder(
                        new LeftOut("a", "b", "same body: arm body"),
                        new LeftOut("a", "d", "bolted together"),
                        new LeftOut("c", "d", "same body: chassis"));
    }

    @Test
    void theNarrowestRuleWins() {
        Car.Part pipe = Cars.part("pipe", Mechanism.GROUND, Cars.ball(0, 0, 0, 5), "exhaust");
        Car.Part hose = Cars.part("hose", Mechanism.GROUND, Cars.ball(0, 0, 0, 5), "brake hose");
        List<Car.Rule> rules = List.of(
                new Car.Rule("any", "any", 13, Optional.empty()),
                new Car.Rule("brake hose", "exhaust", 50, Optional.empty()),
                new Car.Rule("any", "exhaust", 20, Optional.empty()));
        assertThat(Rules.of(rules, pipe, hose)).contains(rules.get(1));
        assertThat(Rules.of(rules, hose, pipe)).contains(rules.get(1));
        assertThat(Rules.of(rules, pipe, pipe)).contains(rules.get(2));
        assertThat(Rules.of(rules, hose, hose)).contains(rules.get(0));
    }

    @Test
    void theTableDoesNotDependOnTheNumberOfThreads() {
        java.util.random.RandomGenerator random =
                java.util.random.RandomGeneratorFactory.of("L64X128MixRandom").create(7);
        Mechanism corner = Cars.corner("left", random, 0, 60, 40);
        Car car = Cars.of(
                List.of(corner),
                Cars.part("tyre", "left knuckle", Cars.rod(new Spot(0, 680, 0), new Spot(0, 860, 0), 400)),
                Cars.part("upper arm", "left upper arm", Cars.rod(new Spot(0, 435, 210), new Spot(-25, 640, 170), 30)),
                Cars.part("tie rod end", "left knuckle", Cars.ball(-137, 690, -88, 12)),
                Cars.part("rail", Mechanism.GROUND, Cars.rod(new Spot(-400, 400, 0), new Spot(400, 400, 0), 80)),
                Cars.part("fender", Mechanism.GROUND, Cars.rod(new Spot(-400, 700, 380), new Spot(400, 700, 380), 20)));
        GapTable one = GapSearch.of(car, new Asked(0.01, 75, 40_000, 1))
                .run(Progress.SILENT)
                .orElseThrow();
        GapTable two = GapSearch.of(car, new Asked(0.01, 75, 40_000, 2))
                .run(Progress.SILENT)
                .orElseThrow();
        assertThat(daylight.report.GapJson.of(two)).isEqualTo(daylight.report.GapJson.of(one));
    }

    @Test
    void aChangedPartIsAnsweredAgainAndTheOthersAreKept() {
        Mechanism arm = Cars.swing("arm", Spot.ORIGIN, Direction.UP, -30, 30);
        Car.Part pin = Cars.part("pin", "arm body", Cars.ball(100, 0, 0, 5));
        Car.Part post = Cars.part("post", Mechanism.GROUND, Cars.ball(120, 30, 0, 5));
        Car.Part wall = Cars.part("wall", Mechanism.GROUND, Cars.ball(140, 0, 0, 5));
        Car car = Cars.of(List.of(arm), pin, post, wall);
        GapSearch search = GapSearch.of(car, Asked.USUAL);
        GapTable before = search.run(Progress.SILENT).orElseThrow();
        Car moved = car.withParts(List.of(pin, post, Cars.part("wall", Mechanism.GROUND, Cars.ball(150, 0, 0, 5))));
        GapSearch again = search.changed(moved);
        GapTable after = again.run(Progress.SILENT).orElseThrow();
        GapTable afresh = GapSearch.of(moved, Asked.USUAL).run(Progress.SILENT).orElseThrow();
        assertThat(after.rows()).isEqualTo(afresh.rows());
        assertThat(after.work().boxes()).isLessThan(before.work().boxes());
        GapTable same = again.changed(moved).run(Progress.SILENT).orElseThrow();
        assertThat(same.work().boxes()).as("boxes when nothing has changed").isZero();
        assertThat(same.rows()).isEqualTo(after.rows());
    }

    @Test
    void aCancelledSearchGivesNoTable() {
        Mechanism arm = Cars.swing("arm", Spot.ORIGIN, Direction.UP, -10, 10);
        Car car = Cars.of(
                List.of(arm),
                Cars.part("a", "arm body", Cars.ball(100, 0, 0, 5)),
                Cars.part("c", Mechanism.GROUND, Cars.ball(300, 0, 0, 5)));
        Optional<GapTable> table = GapSearch.of(car, Asked.USUAL).run(new Progress() {
            @Override
            public void at(double fraction, String message) {}

            @Override
            public boolean cancelled() {
                return true;
            }
        });
        assertThat(table).isEmpty();
    }
}
