package daylight.motion;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import daylight.car.Car;
import daylight.car.CarFile;
import daylight.car.CarFileException;
import daylight.car.Limit;
import daylight.car.Readout;
import daylight.geometry.Pose;
import daylight.geometry.Spot;
import daylight.linkage.Mechanism;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import org.junit.jupiter.api.Test;

/** A car that stands otherwise is the same car, described from there. */
class ResetTest {
    /** Two ways to one position, each solved to 1e-10 mm, times the condition of the joints. */
    private static final double SAME_PLACE_MM = 1e-7;
    /** Where a travel ends is known to 1e-5 mm. */
    private static final double SAME_END_MM = 3e-5;

    private static final TravelStudy.Asked USUAL = new TravelStudy.Asked(
            10, Math.toRadians(5), OptionalDouble.empty(), OptionalDouble.empty(), Optional.empty());

    private static Car car() {
        return car(TravelStudyTest.CAR);
    }

    private static Car car(String text) {
        try {
            return CarFile.read("test.yaml", text);
        } catch (CarFileException e) {
            throw new AssertionError(e.getMessage(), e);
        }
    }

    /** With a coil-over on each front corner and on each side of a rear axle that has links. */
    private static Car sprung() {
        String text = TravelStudyTest.CAR
                .replaceAll("(?m)^  rear .*\n", "")
                .replaceAll("(?m)^  shaft .*\n", "")
                .replaceAll("(?m)^ *- \\{shock: left shock.*\n", "")
                .replace("  driveshaft: {layout: driveshaft, prefix: shaft, on: {axle: rear axle}}\n", "")
                .replace("  rear: {layout: live-axle-leaf, bump: 80, droop: 100}\n", "")
                .replace("mechanisms:\n", """
                          ax left lower link frame end: [-2150, 480, 290]
                          ax left lower link axle end: [-2690, 500, 240]
                          ax right lower link frame end: [-2150, -480, 290]
                          ax right lower link axle end: [-2690, -500, 240]
                          ax upper link frame end: [-2250, 60, 470]
                          ax upper link axle end: [-2680, 80, 480]
                          ax Panhard bar frame end: [-2850, -480, 340]
                          ax Panhard bar axle end: [-2850, 470, 320]
                          ax left wheel centre: [-2700, 720, 310]
                          ax right wheel centre: [-2700, -720, 310]
                          lr coil lower end: [-2760, 480, 230]
                          lr coil upper end: [-2740, 420, 560]
                        mechanisms:
                          left coil-over: {layout: shock, on: {lower mount: left lower arm}, points: {lower end: left shock low, upper end: left shock top}}
                          right coil-over: {mirror: left coil-over}
                          rear: {layout: live-axle-three-link-panhard, prefix: ax, bump: 80, droop: 100}
                          left rear coil-over: {layout: shock, prefix: lr coil, on: {lower mount: rear axle}}
                          right rear coil-over: {mirror: left rear coil-over}
                        """);
        return car(text);
    }

    private static Reset.Stands stands(Car car, Reset.Change... changes) {
        Reset.Result result = Reset.of(car, List.of(changes));
        assertThat(result).isInstanceOf(Reset.Stands.class);
        return (Reset.Stands) result;
    }

    private static double shock(Car car, String name) {
        return car.readouts().stream()
                .filter(r -> r instanceof Readout.Length && r.name().equals(name))
                .map(r -> (Readout.Length) r)
                .mapToDouble(l -> l.from().at().distanceTo(l.to().at()))
                .findFirst()
                .orElseThrow();
    }

    private static double rod(Car car, String name) {
        return car.mechanisms().stream()
                .flatMap(m -> m.joints().stream())
                .filter(j -> j.name().equals(name))
                .map(j -> (Mechanism.Joint.Rod) j)
                .mapToDouble(j -> j.onA().distanceTo(j.onB()))
                .findFirst()
                .orElseThrow();
    }

    private static Mechanism.Driver driver(Car car, String name) {
        return car.mechanisms().stream()
                .flatMap(mechanism -> mechanism.drivers().stream())
                .filter(driver -> driver.name().equals(name))
                .findFirst()
                .orElseThrow();
    }

    /** Every body of the new car, moved from its new ride height, is where the old car has it. */
    private static void movesAsBefore(Car before, Reset.Stands after, double... steps) {
        Workspace old = Workspace.of(before);
        Workspace fresh = Workspace.of(after.car());
        Kinematics was = old.kinematics();
        Kinematics is = fresh.kinematics();
        int n = old.handles().size();
        assertThat(fresh.handles())
                .extracting(Handle::name)
                .isEqualTo(old.handles().stream().map(Handle::name).toList());
        double[] offset = new double[n];
        for (Setting setting : after.moved()) {
            for (int h = 0; h < n; h++) {
                if (old.handles().get(h).name().equals(setting.name())) {
                    offset[h] = setting.value();
                    Mechanism.Driver stated = driver(before, setting.name());
                    Mechanism.Driver now = driver(after.car(), setting.name());
                    assertThat(now.lowest()).isCloseTo(stated.lowest() - offset[h], within(SAME_PLACE_MM));
                    assertThat(now.highest()).isCloseTo(stated.highest() - offset[h], within(SAME_PLACE_MM));
                }
            }
        }
        assertThat(was.stand(offset)).isEmpty();
        Pose[] rest = new Pose[old.bodyCount()];
        for (int b = 0; b < rest.length; b++) {
            rest[b] = was.pose(b);
        }
        for (double step : steps) {
            double[] from = offset.clone();
            double[] by = new double[n];
            for (int h = 0; h < n; h++) {
                by[h] = old.handles().get(h).turns() ? 0 : step * (h % 2 == 0 ? 1 : 0.6);
                from[h] += by[h];
            }
            assertThat(was.stand(from)).isEmpty();
            assertThat(is.stand(by)).isEmpty();
            for (int b = 0; b < rest.length; b++) {
                // Rods and shocks may turn about their own line, so what they carry is compared on it only.
                if (old.bodyName(b).matches(".*(tie rod|shaft|yoke|rod|tube|link|Panhard bar)")) {
                    continue;
                }
                for (Spot spot : List.of(Spot.ORIGIN, new Spot(100, 600, 200), new Spot(-2700, 300, 500))) {
                    assertThat(is.pose(b)
                                    .apply(rest[b].apply(spot))
                                    .distanceTo(was.pose(b).apply(spot)))
                            .as("%s, %s from the new ride height", old.bodyName(b), step)
                            .isLessThan(SAME_PLACE_MM * 10);
                }
            }
        }
    }

    @Test
    void loweredCarMovesAsBeforeFromItsNewRideHeight() {
        Car before = car();
        Reset.Stands after = stands(
                before,
                new Reset.RideHeight("left travel", -25),
                new Reset.RideHeight("right travel", -25),
                new Reset.RideHeight("rear left travel", -35),
                new Reset.RideHeight("rear right travel", -20));
        assertThat(after.moved())
                .containsExactlyInAnyOrder(
                        new Setting("left travel", 25, false),
                        new Setting("right travel", 25, false),
                        new Setting("rear left travel", 35, false),
                        new Setting("rear right travel", 20, false));
        movesAsBefore(before, after, 0, 20, -40);
    }

    @Test
    void travelEndsWhereItDidOnTheCar() {
        Car before = car();
        Reset.Stands after =
                stands(before, new Reset.RideHeight("left travel", -7), new Reset.RideHeight("right travel", -7));
        TravelReport old = TravelStudy.of(before, USUAL);
        TravelReport fresh = TravelStudy.of(after.car(), USUAL);
        RealRange was = range(old, "left travel");
        RealRange is = range(fresh, "left travel");
        assertThat(was.up().cause().words()).contains("left bump stop");
        assertThat(is.up().cause()).isEqualTo(was.up().cause());
        assertThat(is.up().at()).isCloseTo(was.up().at() - 7, within(0.01));
        assertThat(is.down().cause()).isEqualTo(was.down().cause());
        assertThat(is.down().at()).isCloseTo(was.down().at() + 7, within(SAME_END_MM));
    }

    private static RealRange range(TravelReport report, String movement) {
        return report.ranges().stream()
                .filter(r -> r.movement().equals(movement))
                .findFirst()
                .orElseThrow();
    }

    @Test
    void longerTieRodTurnsTheWheelAndKeepsItsSpring() {
        Car before = car();
        Reset.Stands after = stands(before, Reset.RodLength.ofTurns("left tie rod", 2, 1.5, 1));
        assertThat(rod(after.car(), "left tie rod")).isCloseTo(rod(before, "left tie rod") + 3, within(SAME_PLACE_MM));
        assertThat(shock(after.car(), "left shock")).isCloseTo(shock(before, "left shock"), within(1e-8));
        assertThat(after.moved())
                .as("the spring keeps its length, so the wheel moves a little")
                .hasSize(1);
        assertThat(Math.abs(after.moved().get(0).value())).isLessThan(0.5);
        // The rod lies behind the axle: longer means toe-in. One part in three of a degree per mm, by the arm's length.
        double arm = 130;
        Readout.Wheel wheel = wheel(after.car(), "left wheel");
        double steer =
                Math.toDegrees(Math.atan2(-wheel.spindle().x(), wheel.spindle().y()));
        assertThat(steer).isCloseTo(-Math.toDegrees(3 / arm), within(0.1));
        assertThat(wheel.centre().z()).isCloseTo(310, within(0.5));
        assertThat(wheel(after.car(), "right wheel")).isEqualTo(wheel(before, "right wheel"));
    }

    private static Readout.Wheel wheel(Car car, String name) {
        return car.readouts().stream()
                .filter(r -> r instanceof Readout.Wheel && r.name().equals(name))
                .map(r -> (Readout.Wheel) r)
                .findFirst()
                .orElseThrow();
    }

    @Test
    void springSeatLengthensTheSpringByItsOwnMove() {
        Car before = sprung();
        assertThat(Reset.springs(before))
                .containsExactlyInAnyOrder(
                        "left coil-over", "right coil-over", "left rear coil-over", "right rear coil-over");
        Reset.Stands after = stands(
                before, new Reset.SpringSeat("left coil-over", 12), new Reset.SpringSeat("left rear coil-over", 9));
        assertThat(shock(after.car(), "left coil-over")).isCloseTo(shock(before, "left coil-over") + 12, within(1e-8));
        assertThat(shock(after.car(), "right coil-over")).isEqualTo(shock(before, "right coil-over"));
        assertThat(shock(after.car(), "left rear coil-over"))
                .isCloseTo(shock(before, "left rear coil-over") + 9, within(1e-8));
        assertThat(shock(after.car(), "right rear coil-over"))
                .as("the other spring of the axle keeps its length")
                .isCloseTo(shock(before, "right rear coil-over"), within(1e-8));
        assertThat(after.moved()).extracting(Setting::name).contains("left travel", "rear left travel");
        assertThat(after.moved().get(0).value()).as("the wheel droops").isNegative();
        movesAsBefore(before, after, 0, 15, -15);
    }

    @Test
    void longerUpperLinkTurnsThePinionAndKeepsTheSprings() {
        Car before = sprung();
        Reset.Stands after = stands(before, new Reset.RodLength("rear upper link", 6));
        assertThat(rod(after.car(), "rear upper link")).isCloseTo(rod(before, "rear upper link") + 6, within(1e-8));
        assertThat(rod(after.car(), "rear left lower link"))
                .isCloseTo(rod(before, "rear left lower link"), within(1e-8));
        for (String spring : List.of("left rear coil-over", "right rear coil-over")) {
            assertThat(shock(after.car(), spring)).as(spring).isCloseTo(shock(before, spring), within(1e-8));
        }
        assertThat(after.moved())
                .as("the springs lean otherwise, so the wheels move a little")
                .hasSize(2);
    }

    @Test
    void floorPutsTheWheelsBackOnTheGround() {
        Car before = car();
        Reset.Stands down = stands(
                before,
                new Reset.RideHeight("left travel", -30),
                new Reset.RideHeight("right travel", -30),
                new Reset.RideHeight("rear left travel", -30),
                new Reset.RideHeight("rear right travel", -30));
        assertThat(down.floor().tz()).isCloseTo(-30, within(1e-8));
        Reset.Stands nose =
                stands(before, new Reset.RideHeight("left travel", -50), new Reset.RideHeight("right travel", -50));
        double pitch = Math.asin(-nose.floor().rzx());
        assertThat(pitch).as("nose down").isCloseTo(50 / 2695.0, within(1e-3));
        Car levelled = nose.levelled();
        for (String name : List.of("left wheel", "right wheel", "rear left wheel", "rear right wheel")) {
            assertThat(wheel(levelled, name).centre().z())
                    .as(name)
                    .isCloseTo(wheel(before, name).centre().z(), within(1e-6));
        }
        assertThat(TravelStudy.of(levelled, USUAL).binds()).isFalse();
        assertThat(stands(before).floor()).isEqualTo(Pose.RIDE_HEIGHT);
    }

    @Test
    void thereAndBackIsTheSameCar() {
        Car before = sprung();
        Reset.Stands there = stands(
                before,
                new Reset.RideHeight("left travel", -20),
                new Reset.RodLength("rear upper link", 4),
                new Reset.SpringSeat("right rear coil-over", -8));
        Reset.Stands back = stands(
                there.car(),
                new Reset.RideHeight("left travel", 20),
                new Reset.RodLength("rear upper link", -4),
                new Reset.SpringSeat("right rear coil-over", 8));
        for (int k = 0; k < before.points().size(); k++) {
            assertThat(back.car()
                            .points()
                            .get(k)
                            .at()
                            .distanceTo(before.points().get(k).at()))
                    .as(before.points().get(k).name())
                    .isLessThan(SAME_PLACE_MM);
        }
        assertThat(back.car().limits()).hasSameSizeAs(before.limits());
        Limit.Stop was = (Limit.Stop) before.limits().get(0);
        Limit.Stop is = (Limit.Stop) back.car().limits().get(0);
        assertThat(is.leastMm()).isCloseTo(was.leastMm(), within(SAME_PLACE_MM));
    }

    @Test
    void partsGoWithTheirBodies() {
        Car before = car();
        Reset.Stands after = stands(before, new Reset.RideHeight("left travel", -25));
        assertThat(after.car().part("left tyre")).isNotEqualTo(before.part("left tyre"));
        assertThat(after.car().wheels().get(0).centre().z()).isCloseTo(335, within(SAME_PLACE_MM));
        assertThat(stands(before).car().parts()).isEqualTo(before.parts());
    }

    @Test
    void whereItCannotStandTheReasonIsGiven() {
        assertThat(Reset.of(car(), List.of(new Reset.RideHeight("left travel", -95))))
                .isEqualTo(new Reset.CannotStand("left travel: it would stand 5.0 mm beyond its full bump."));
        Reset.Result bent = Reset.of(car(), List.of(new Reset.RodLength("left tie rod", 400)));
        assertThat(bent).isInstanceOf(Reset.CannotStand.class);
        assertThat(((Reset.CannotStand) bent).reason()).startsWith("left at ");
        Reset.Result both = Reset.of(
                sprung(), List.of(new Reset.RideHeight("left travel", -5), new Reset.SpringSeat("left coil-over", 5)));
        assertThat(((Reset.CannotStand) both).reason()).contains("Give one of them");
    }

    @Test
    void unknownNamesAreRefusedWithTheKnownOnes() {
        assertThatThrownBy(() -> Reset.of(car(), List.of(new Reset.RodLength("tie rodd", 1))))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("left tie rod");
        assertThatThrownBy(() -> Reset.of(
                        car(), List.of(new Reset.RideHeight("left travel", 1), new Reset.RideHeight("left travel", 2))))
                .hasMessageContaining("twice");
        assertThatThrownBy(() -> new Reset.RideHeight("left travel", Double.NaN))
                .hasMessageContaining("finite");
        assertThat(Reset.springs(car())).as("none on the leaf axle").containsExactly("left shock", "right shock");
    }
}
