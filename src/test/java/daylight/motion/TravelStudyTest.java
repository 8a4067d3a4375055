package daylight.motion;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.assertj.core.api.Assertions.within;

import daylight.car.Car;
import daylight.car.CarFile;
import daylight.car.CarFileException;
import daylight.car.Layout;
import daylight.car.Layouts;
import daylight.car.StarterFile;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Whole cars from their files: ranges with what ends them, and tables that agree with the engines and one another. */
class TravelStudyTest {
    private static final TravelStudy.Asked USUAL = new TravelStudy.Asked(
            10, Math.toRadians(5), OptionalDouble.empty(), OptionalDouble.empty(), Optional.empty());
    /** Printed or file values go through text in mm with a millionth; solver and differences add less. */
    private static final double SAME = 1e-6;

    static final String CAR = """
            daylight: 1
            car: Test
            units: mm
            points:
              left lower arm front pivot: [150, 330, 240]
              left lower arm rear pivot: [-180, 340, 245]
              left lower ball joint: [0, 650, 220]
              left upper arm front pivot: [90, 400, 470]
              left upper arm rear pivot: [-130, 410, 460]
              left upper ball joint: [-15, 620, 490]
              left tie rod inner end: [-120, 300, 290]
              left tie rod outer end: [-130, 640, 275]
              left wheel centre: [-5, 740, 310]
              left shock low: [10, 520, 235]
              left shock top: [-10, 450, 560]
              stop low: [40, 480, 240]
              stop high: [40, 480, 300]
              rear left pad: [-2700, 500, 250]
              rear left fixed eye: [-2100, 500, 310]
              rear left shackle eye: [-3340, 500, 330]
              rear left shackle pivot inner: [-3310, 470, 430]
              rear left shackle pivot outer: [-3310, 530, 430]
              rear right pad: [-2700, -500, 250]
              rear right fixed eye: [-2100, -500, 310]
              rear right shackle eye: [-3340, -500, 330]
              rear right shackle pivot inner: [-3310, -470, 430]
              rear right shackle pivot outer: [-3310, -530, 430]
              rear left wheel centre: [-2700, 720, 310]
              rear right wheel centre: [-2700, -720, 310]
              shaft gearbox joint: [-1200, 0, 420]
              shaft gearbox shaft: [-900, 0, 438]
              shaft pinion joint: [-2500, 0, 350]
              shaft pinion shaft: [-2700, 0, 338]
            mechanisms:
              left:
                layout: double-a-arm-rack
                bump: 90
                droop: 100
                rack left: 60
                rack right: 60
                limits:
                  - {shock: left shock, from: [lower arm, left shock low], to: [chassis, left shock top], closed: 255, open: 370}
                  - {bump stop: left bump stop, from: [lower arm, stop low], to: [chassis, stop high], gap: 15, squash: 15}
                  - {steering stop: left steering stop, from: [rack, left tie rod inner end], to: [chassis, [-120, 250, 290]], gap: 45}
                  - {joint: left lower ball joint, stud on: knuckle, along: up, housing on: lower arm, most: 40 deg}
              right: {mirror: left}
              rear: {layout: live-axle-leaf, bump: 80, droop: 100}
              driveshaft: {layout: driveshaft, prefix: shaft, on: {axle: rear axle}}
            parts:
              left tyre: {on: left knuckle, tyre: {size: 205/70R15, rim width: 7 in, backspacing: 4 in}}
            """;

    private static Car car(String text) {
        try {
            return CarFile.read("test.yaml", text);
        } catch (CarFileException e) {
            throw new AssertionError(e.getMessage(), e);
        }
    }

    private static RealRange range(TravelReport report, String movement) {
        return report.ranges().stream()
                .filter(r -> r.movement().equals(movement))
                .findFirst()
                .orElseThrow(() -> new AssertionError(movement + " in "
                        + report.ranges().stream().map(RealRange::movement).toList()));
    }

    private static TravelTable table(TravelReport report, String subject, String movement) {
        return report.tables().stream()
                .filter(t -> t.subject().equals(subject) && t.movement().startsWith(movement))
                .findFirst()
                .orElseThrow(() -> new AssertionError(subject + " in "
                        + report.tables().stream()
                                .map(t -> t.subject() + " " + t.movement())
                                .toList()));
    }

    private static double value(TravelTable table, String name, double along) {
        Curve curve = table.curves().stream()
                .filter(c -> c.name().equals(name))
                .findFirst()
                .orElseThrow(() -> new AssertionError(
                        name + " in " + table.curves().stream().map(Curve::name).toList()));
        for (int k = 0; k < curve.values().size(); k++) {
            if (Math.abs(table.along().values().get(k).orElseThrow() - along) < SAME) {
                return curve.values().get(k).orElseThrow();
            }
        }
        throw new AssertionError("no row at " + along + " in " + table.along().values());
    }

    @Test
    void eachMovementSaysWhatEndsIt() {
        TravelReport report = TravelStudy.of(car(CAR), USUAL);
        RealRange left = range(report, "left travel");
        assertThat(left.up().cause()).isEqualTo(new TravelEnd.Met("left bump stop", "solid"));
        assertThat(left.up().at()).isBetween(30.0, 80.0);
        assertThat(left.down().cause()).isEqualTo(new TravelEnd.Met("left shock", "fully open"));
        assertThat(report.binds()).isFalse();
        RealRange right = range(report, "right travel");
        assertThat(right.up().cause())
                .as("mirrored limits have their own names")
                .isEqualTo(new TravelEnd.Met("right bump stop", "solid"));
        assertThat(right.up().at()).isCloseTo(left.up().at(), within(2 * TravelEnds.FINEST));
        assertThat(right.down().at()).isCloseTo(left.down().at(), within(2 * TravelEnds.FINEST));
        RealRange steer = range(report, "steer");
        assertThat(steer.down().cause()).isEqualTo(new TravelEnd.Met("left steering stop", "met"));
        assertThat(steer.down().at())
                .as("the rack end is straight over its stop")
                .isCloseTo(45, within(2 * TravelEnds.FINEST));
        assertThat(steer.up().cause()).isEqualTo(new TravelEnd.Met("right steering stop", "met"));
        assertThat(steer.up().at()).isCloseTo(45, within(2 * TravelEnds.FINEST));
        assertThat(range(report, "rear, both wheels").up()).isEqualTo(new TravelEnd(80, new TravelEnd.Stated()));
    }

    @Test
    void steeringAtFullBumpEndsOnItsOwnLimitsOnly() {
        String free = CAR.replaceAll("(?m)^.*steering stop:.*\n", "")
                // A stud that lies along the car leans as the wheel steers.
                .replace(
                        "along: up, housing on: lower arm, most: 40 deg",
                        "along: forward, housing on: lower arm, most: 21 deg");
        TravelReport report = TravelStudy.of(car(free), USUAL);
        RealRange rest = range(report, "steer");
        RealRange bump = range(report, "steer at full bump");
        assertThat(rest.up().cause()).isInstanceOf(TravelEnd.Met.class);
        assertThat(((TravelEnd.Met) rest.up().cause()).state()).isEqualTo("leans as far as it can");
        assertThat(((TravelEnd.Met) bump.up().cause()).state())
                .as("not on the bump stop, which is solid there")
                .isEqualTo("leans as far as it can");
        assertThat(bump.up().at()).isNotEqualTo(rest.up().at());
        assertThat(range(report, "steer at full droop").ways().up()).isEqualTo("rack to the left");
    }

    @Test
    void limitPastAtRideHeightIsCautionedAbout() {
        TravelReport report = TravelStudy.of(car(CAR.replace("open: 370", "open: 300")), USUAL);
        assertThat(report.cautions()).anyMatch(c -> c.contains("left shock is past its limit as the car stands"));
        assertThat(range(report, "left travel").down().at()).isEqualTo(0);
    }

    @Test
    void tablesEndWhereTheTravelEnds() {
        TravelReport report = TravelStudy.of(car(CAR), USUAL);
        RealRange left = range(report, "left travel");
        List<OptionalDouble> rows =
                table(report, "left wheel", "over its travel").along().values();
        assertThat(rows.get(0).orElseThrow()).isEqualTo(left.lowest());
        assertThat(rows.get(rows.size() - 1).orElseThrow()).isEqualTo(left.highest());
        assertThat(rows).contains(OptionalDouble.of(0));
    }

    @Test
    void slopesInTheTableAreTheChangesInTheTable() {
        TravelStudy.Asked fine =
                new TravelStudy.Asked(0.5, 1, OptionalDouble.empty(), OptionalDouble.empty(), Optional.empty());
        TravelReport report = TravelStudy.of(car(CAR), fine);
        TravelTable front = table(report, "left wheel", "over its travel");
        TravelTable rear = table(report, "rear left wheel", "over its travel");
        for (double at : new double[] {-20, 0, 25}) {
            // Central differences over 1 mm leave the third derivative, far below these.
            assertThat(value(front, "bump steer", at))
                    .isCloseTo(value(front, "toe-in", at + 0.5) - value(front, "toe-in", at - 0.5), within(1e-5));
            assertThat(value(front, "camber slope", at))
                    .isCloseTo(value(front, "camber", at + 0.5) - value(front, "camber", at - 0.5), within(1e-5));
            assertThat(value(front, "left shock motion ratio", at))
                    .isCloseTo(
                            value(front, "left shock length", at - 0.5) - value(front, "left shock length", at + 0.5),
                            within(1e-5));
            assertThat(value(rear, "camber slope", at)).isCloseTo(0, within(1e-6));
        }
        assertThat(value(front, "left shock motion ratio", 0))
                .as("a shock on the lower arm")
                .isBetween(0.4, 0.9);
    }

    @Test
    void shaftOnTheAxleHasItsAnglesAndPlunge() {
        TravelReport report = TravelStudy.of(car(CAR), USUAL);
        TravelTable rear = table(report, "rear left wheel", "over its travel");
        // Gearbox nose up by atan(18/300), shaft down by atan(70/1300), in one vertical plane.
        double shaft = Math.toDegrees(Math.atan2(70, 1300));
        assertThat(value(rear, "driveshaft first joint", 0))
                .isCloseTo(Math.abs(shaft - Math.toDegrees(Math.atan2(18, 300))), within(SAME));
        assertThat(value(rear, "pinion angle", 0)).isCloseTo(Math.toDegrees(Math.atan2(12, 200)), within(SAME));
        assertThat(value(rear, "driveshaft plunge", 0)).isCloseTo(0, within(SAME));
    }

    @Test
    void symmetricCarIsSymmetricInSteeringAndRoll() {
        TravelReport report = TravelStudy.of(car(CAR), USUAL);
        TravelTable steering = table(report, "front axle", "over steering");
        assertThat(value(steering, "left steer", 30)).isCloseTo(-value(steering, "right steer", -30), within(SAME));
        assertThat(value(steering, "Ackermann error", 30))
                .as("wheelbase from both axles")
                .isCloseTo(value(steering, "Ackermann error", -30), within(SAME));
        for (String subject : List.of("front axle", "rear")) {
            TravelTable roll = table(report, subject, "in roll");
            assertThat(value(roll, "roll centre height", 20))
                    .as(subject)
                    .isCloseTo(value(roll, "roll centre height", -20), within(1e-5));
            assertThat(value(roll, "roll centre across", 20))
                    .as(subject)
                    .isCloseTo(-value(roll, "roll centre across", -20), within(1e-4));
            assertThat(value(roll, "body roll", 20))
                    .as("left wheel in bump: left side down")
                    .isNegative();
        }
        TravelTable rear = table(report, "rear", "in roll");
        assertThat(value(rear, "left camber to road", 20))
                .as("a beam stays upright on the road")
                .isCloseTo(0, within(1e-6));
    }

    /**
     * Level links parallel to the car and a level Panhard bar: the axle rolls about the bar, so the roll centre is as
     * high as the bar, exactly.
     */
    @Test
    void levelPanhardBarIsTheRollCentre() {
        String text = """
                daylight: 1
                car: Panhard
                units: mm
                points:
                  rear left lower link frame end: [-1900, 450, 260]
                  rear left lower link axle end: [-2500, 450, 260]
                  rear right lower link frame end: [-1900, -450, 260]
                  rear right lower link axle end: [-2500, -450, 260]
                  rear upper link frame end: [-2000, 0, 430]
                  rear upper link axle end: [-2500, 0, 430]
                  rear Panhard bar frame end: [-2600, -450, 290]
                  rear Panhard bar axle end: [-2600, 450, 290]
                  rear left wheel centre: [-2500, 700, 310]
                  rear right wheel centre: [-2500, -700, 310]
                mechanisms:
                  rear: {layout: live-axle-three-link-panhard, bump: 75, droop: 75}
                """;
        TravelReport report = TravelStudy.of(
                car(text),
                new TravelStudy.Asked(25, 1, OptionalDouble.empty(), OptionalDouble.empty(), Optional.empty()));
        assertThat(value(table(report, "rear", "in roll"), "roll centre height", 0))
                .isCloseTo(290, within(1e-7));
        // The bar's axle end is on the left, so the axle goes to the right, by about l - sqrt(l² - z²); the links' own
        // swing adds some hundredths of a millimetre.
        assertThat(value(table(report, "rear left wheel", "over its travel"), "half-track change", 50))
                .isCloseTo(-1.389962, within(0.05));
    }

    @Test
    void barOnTheAxleTwistsInRollOnly() {
        String bar = CAR.replace("mechanisms:\n", """
                          bar left bush: [-2350, 400, 360]
                          bar right bush: [-2350, -400, 360]
                          bar left link bar end: [-2600, 450, 360]
                          bar left link arm end: [-2600, 450, 300]
                          bar right link bar end: [-2600, -450, 360]
                          bar right link arm end: [-2600, -450, 300]
                        mechanisms:
                          bar: {layout: anti-roll-bar, on: {left arm: rear axle, right arm: rear axle}}
                        """);
        TravelTable roll = table(TravelStudy.of(car(bar), USUAL), "rear", "in roll");
        // Small roll: each arm of 250 is moved by 450/720 of the wheel's rise, up left and down right.
        double each = Math.toDegrees(Math.atan(10 * 450.0 / 720 / 250));
        assertThat(Math.abs(value(roll, "bar twist", 10))).isCloseTo(2 * each, within(0.05));
        assertThat(value(roll, "bar twist", 10)).isCloseTo(-value(roll, "bar twist", -10), within(SAME));
        assertThat(value(roll, "bar twist", 0)).isCloseTo(0, within(1e-9));
    }

    @Test
    void jointsThatWorkAtBadAnglesAreCautionedAbout() {
        TravelReport report = TravelStudy.of(car(CAR), USUAL);
        assertThat(report.cautions())
                .as("0.35 and 0.35 degrees: less than half a degree each")
                .anyMatch(c -> c.contains("driveshaft") && c.contains("at least 0.5"));
        String steep = CAR.replace("shaft pinion shaft: [-2700, 0, 338]", "shaft pinion shaft: [-2700, 0, 350]");
        assertThat(TravelStudy.of(car(steep), USUAL).cautions())
                .as("0.35 against 3.1 degrees")
                .anyMatch(c -> c.contains("alike within 1.0"))
                .anyMatch(c -> c.contains("at this angle up to 5000 rpm"));
    }

    @Test
    void bindIsAFailureWithItsReason() {
        TravelReport report = TravelStudy.of(
                car(CAR.replace("bump: 90", "bump: 400").replaceAll("(?s)    limits:\n.*?  right:", "  right:")),
                USUAL);
        assertThat(report.binds()).isTrue();
        assertThat(range(report, "left travel").up().cause()).isInstanceOf(TravelEnd.Binds.class);
        assertThat(range(report, "left travel").up().cause().words()).contains("left");
    }

    @Test
    void antiDiveNeedsWeights() {
        TravelReport angles = TravelStudy.of(car(CAR), USUAL);
        assertThat(table(angles, "left wheel", "over").curves()).noneMatch(c -> c.quantity() == Quantity.PERCENT);
        TravelReport shares = TravelStudy.of(
                car(CAR),
                new TravelStudy.Asked(
                        10,
                        1,
                        OptionalDouble.empty(),
                        OptionalDouble.empty(),
                        Optional.of(new TravelStudy.Weights(550, 0.65, 0))));
        TravelTable front = table(shares, "left wheel", "over");
        double angle = value(front, "contact path", 0);
        assertThat(value(front, "anti-dive", 0))
                .isCloseTo(100 * 0.65 * Math.tan(Math.toRadians(angle)) * 2695 / 550, within(SAME));
        assertThat(table(shares, "rear left wheel", "over").curves())
                .extracting(Curve::name)
                .contains("anti-squat", "anti-lift, braking");
    }

    static Stream<String> layouts() {
        return Layouts.names().stream();
    }

    /** A starter of every layout reads without complaint, in both units, and can be studied. */
    @ParameterizedTest
    @MethodSource("layouts")
    void starterOfEveryLayoutCanBeStudied(String name) {
        Layout layout = Layouts.named(name).orElseThrow();
        for (boolean inches : new boolean[] {false, true}) {
            Car car = car(StarterFile.of(List.of(StarterFile.Wanted.of(layout)), inches));
            TravelReport report = TravelStudy.of(car, USUAL);
            assertThat(report.binds()).as("%s binds: %s", name, report.ranges()).isFalse();
            report.tables()
                    .forEach(t -> t.curves()
                            .forEach(c -> c.values()
                                    .forEach(v -> assertThat(Double.isFinite(v.orElse(0)))
                                            .as("%s: %s of %s", name, c.name(), t.subject())
                                            .isTrue())));
            boolean wheels = layout.readouts().stream().anyMatch(r -> r instanceof daylight.car.LayoutReadout.Wheel);
            assertThat(report.wheels().isEmpty()).as(name).isEqualTo(!wheels);
        }
    }

    @Test
    void brokenLimitsAreEachOneComplaint() {
        String[][] broken = {
            {"closed: 255, open: 370", "closed: 385, open: 370", "not longer open than closed"},
            {"from: [lower arm, left shock low]", "from: [lower amr, left shock low]", "no body is called \"lower amr\""
            },
            {"from: [lower arm, left shock low]", "from: [lower arm, left shock lwo]", "no point is called"},
            {"from: [lower arm, left shock low]", "from: [chassis, left shock low]", "both ends on chassis"},
            {"- {bump stop: left bump stop,", "- {bumpstop: left bump stop,", "this is no limit"},
            {"gap: 15, squash: 15", "gap: 125", "wider than its two spots are apart"},
            {"to: [chassis, stop high], gap: 15, squash: 15", "to: [chassis, stop low]", "its two spots are one"},
            {"most: 40 deg", "most: 340 deg", "most is not between"},
            {"[rack, left tie rod inner end]", "[rack]", "from has 1 word"},
            {"squash: 15", "sqaush: 15", "has no key \"sqaush\""}
        };
        for (String[] row : broken) {
            assertThat(CAR).contains(row[0]);
            CarFileException wrong = catchThrowableOfType(
                    CarFileException.class, () -> CarFile.read("test.yaml", CAR.replace(row[0], row[1])));
            assertThat(wrong.complaints()).as(row[1]).hasSize(1);
            assertThat(wrong.complaints().get(0).toString()).as(row[1]).contains(row[2]);
            assertThat(wrong.complaints().get(0).line()).isGreaterThan(1);
        }
    }

    @Test
    void bindIsReportedPerRodAndFollowsTheBushes() throws Exception {
        String text = java.nio.file.Files.readString(java.nio.file.Path.of("src/test/resources/cars/adjusted.yaml"));
        TravelTable roll = table(TravelStudy.of(car(text), USUAL), "rear", "in roll");
        double lower = value(roll, "bind of left lower link", 80);
        double upper = value(roll, "bind of left upper link", 80);
        assertThat(Math.abs(upper)).as("the softer bushes give more").isGreaterThan(Math.abs(lower));
        assertThat(Math.abs(upper)).isBetween(0.2, 10.0);
        // In balance: the lower links pull as hard as the upper ones push, each times its stiffness.
        assertThat(value(roll, "bind of left lower link", 0)).isCloseTo(0, within(SAME));
        TravelTable even =
                table(TravelStudy.of(car(text.replaceAll("(?m)^    bushes.*\n", "")), USUAL), "rear", "in roll");
        assertThat(Math.abs(value(even, "bind of left upper link", 80))).isLessThan(Math.abs(upper));
    }

    @Test
    void adjustableRodIsAMovementWithItsOwnTurns() throws Exception {
        String text = java.nio.file.Files.readString(java.nio.file.Path.of("src/test/resources/cars/adjusted.yaml"));
        RealRange bar = range(TravelStudy.of(car(text), USUAL), "rear Panhard bar length");
        assertThat(bar.highest()).as("4 turns of 1.5 mm at two ends").isCloseTo(12, within(SAME));
        assertThat(bar.lowest()).isCloseTo(-9, within(SAME));
        assertThat(bar.ways()).isEqualTo(new RealRange.Ways("longer", "shorter"));
    }

    @Test
    void bothLeafModelsAreComparedOverTheTravel() {
        TravelReport arm = TravelStudy.of(car(CAR), USUAL);
        TravelReport curve = TravelStudy.of(
                car(CAR.replace("{layout: live-axle-leaf,", "{layout: live-axle-leaf, leaf model: even curve,")),
                USUAL);
        TravelTable one = table(arm, "rear left wheel", "over its travel");
        TravelTable other = table(curve, "rear left wheel", "over its travel");
        double apart = value(one, "leaf models apart", 80);
        assertThat(apart).isBetween(0.0001, 20.0);
        assertThat(value(other, "leaf models apart", 80)).isCloseTo(apart, within(SAME));
        assertThat(value(one, "leaf models apart", 0)).isCloseTo(0, within(SAME));
        double pitch = value(other, "axle pitch", 80) - value(one, "axle pitch", 80);
        assertThat(value(one, "leaf models' pitch", 80)).isCloseTo(pitch, within(SAME));
        assertThat(arm.cautions()).anyMatch(c -> c.contains("leaf springs by the three-link model"));
        assertThat(curve.cautions()).anyMatch(c -> c.contains("leaf springs by the even-curve model"));
        TravelTable roll = table(arm, "rear", "in roll");
        assertThat(Math.abs(value(roll, "bind of left rear half", 80))).isBetween(0.01, 20.0);
    }

    @Test
    void turningCircleIsThatOfTheOuterTyre() {
        TravelTable steering = table(TravelStudy.of(car(CAR), USUAL), "front axle", "over steering");
        // The rods lie behind the axle, so a rack to the left steers to the right, and the left wheel is the outer one.
        double outer = Math.toRadians(-value(steering, "left steer", 40));
        double wheelbase = 2695;
        assertThat(value(steering, "turning circle", 40))
                .isCloseTo(2 * (wheelbase / Math.sin(outer) + halfTyre()), within(0.01));
        assertThat(value(steering, "turning circle", -40))
                .as("alike to both sides")
                .isCloseTo(value(steering, "turning circle", 40), within(0.01));
        assertThat(AxleGeometry.turningCircleMm(2500, 30, 100)).isCloseTo(10200, within(1e-9));
    }

    private static double halfTyre() {
        return car(CAR).wheels().get(0).nominalWidthMm() / 2;
    }

    /** Two front corners that a bar couples stay small systems; the bar's twist is read across both. */
    @Test
    void barBetweenTwoCornersTwistsInRollAndLeavesThemSmallSystems() {
        String text = CAR.replace("mechanisms:\n", """
                  bar left bush: [350, 400, 260]
                  bar right bush: [350, -400, 260]
                  bar left link bar end: [80, 480, 290]
                  bar left link arm end: [70, 490, 230]
                  bar right link bar end: [80, -480, 290]
                  bar right link arm end: [70, -490, 230]
                mechanisms:
                  bar: {layout: anti-roll-bar, on: {left arm: left lower arm, right arm: right lower arm}}
                """);
        Car car = car(text);
        assertThat(car.mechanisms())
                .extracting(daylight.linkage.Mechanism::name)
                .contains("left", "right")
                .doesNotContain("bar");
        TravelReport report = TravelStudy.of(car, USUAL);
        TravelTable roll = table(report, "front axle", "in roll");
        double twist = value(roll, "bar twist", 40);
        assertThat(Math.abs(twist)).isBetween(2.0, 30.0);
        assertThat(value(roll, "bar twist", -40)).isCloseTo(-twist, within(SAME));
        assertThat(value(roll, "bar twist", 0)).isCloseTo(0, within(SAME));
        // Each half alone, turned by its own corner: both ends of the link keep their distance on their own circles.
        double rise = armEndRise(car, 40);
        double fall = armEndRise(car, -40);
        double lever = Math.hypot(350 - 80, 290 - 260);
        assertThat(Math.abs(twist))
                .as("to first order the link ends' rises over the bar's lever")
                .isCloseTo(Math.toDegrees((rise - fall) / lever), within(0.05 * Math.abs(twist)));
    }

    private static double armEndRise(Car car, double travel) {
        Workspace workspace = Workspace.of(car);
        Kinematics kinematics = workspace.kinematics();
        double[] values = new double[workspace.handles().size()];
        for (int h = 0; h < values.length; h++) {
            values[h] = workspace.handles().get(h).name().equals("left travel") ? travel : 0;
        }
        assertThat(kinematics.stand(values)).isEmpty();
        daylight.geometry.Spot end = new daylight.geometry.Spot(70, 490, 230);
        return kinematics.pose(workspace.bodyIndex("left lower arm")).apply(end).z() - end.z();
    }
}
