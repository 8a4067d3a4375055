package daylight.motion;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.car.Limit;
import daylight.car.Readout;
import daylight.geometry.Direction;
import daylight.geometry.Spot;
import daylight.linkage.Linkage;
import daylight.linkage.Mechanism;
import daylight.linkage.Mechanism.Driver;
import daylight.linkage.Mechanism.Joint;
import daylight.units.LengthFormat;
import daylight.validation.Checks;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.api.Test;

/** Real ends of travel against closed forms, and that nothing is jumped over. */
class TravelEndsTest {
    /** The engine closes in to {@value TravelEnds#FINEST}. */
    private static final double FOUND = 2 * TravelEnds.FINEST;

    private static final Spot WHEEL = new Spot(0, 650, 0);
    private static final double ARM = 600;
    private static final double[] UP = {1};
    private static final double[] DOWN = {-1};

    private final Linkage axle = Linkage.of(Corners.oneArm(new Spot(-50, 50, 0), new Spot(50, 50, 0), WHEEL, 150));

    private static Readout.End arm(double y, double z) {
        return new Readout.End("arm", new Spot(0, y, z));
    }

    private static Readout.End chassis(double y, double z) {
        return new Readout.End(Mechanism.GROUND, new Spot(0, y, z));
    }

    @Test
    void statedTravelStandsWhenNothingEndsItEarlier() {
        TravelEnd end = new TravelEnds(axle, LengthFormat.TENTHS_OF_MM, List.of()).end(UP, 120);
        assertThat(end).isEqualTo(new TravelEnd(120, new TravelEnd.Stated()));
    }

    /** Shock from the arm at 450 out to a spot 300 straight above its pivot: GS-1's law of cosines. */
    @Test
    void shockEndsBumpWhereItIsClosedAndDroopWhereItIsOpen() {
        double a = 450;
        double b = 300;
        double closed = 500;
        double open = 590;
        TravelEnds ends = new TravelEnds(
                axle,
                LengthFormat.TENTHS_OF_MM,
                List.of(new Limit.Shock("left shock", arm(50 + a, 0), chassis(50, b), closed, open)));
        // length² = a² + b² - 2 a b sin(swing); swing = asin(z / arm)
        double bump = ARM * (a * a + b * b - closed * closed) / (2 * a * b);
        double droop = -ARM * (a * a + b * b - open * open) / (2 * a * b);
        TravelEnd up = ends.end(UP, 150);
        TravelEnd down = ends.end(DOWN, 150);
        assertThat(up.at()).isCloseTo(bump, within(FOUND));
        assertThat(up.cause()).isEqualTo(new TravelEnd.Met("left shock", "closed"));
        assertThat(down.at()).isCloseTo(droop, within(FOUND));
        assertThat(down.cause()).isEqualTo(new TravelEnd.Met("left shock", "fully open"));
    }

    @Test
    void bumpStopEndsBumpWhenItIsSolidAndStrapEndsDroop() {
        TravelEnds ends = new TravelEnds(
                axle,
                LengthFormat.TENTHS_OF_MM,
                List.of(
                        new Limit.Stop("bump stop", arm(50 + 300, 0), chassis(50 + 300, 80), 30, 10, false),
                        new Limit.Strap("strap", arm(50 + 300, 0), chassis(50 + 300, 200), 240)));
        // Along the stop's line, straight up, they are 80 - 300 sin(swing) apart.
        TravelEnd up = ends.end(UP, 150);
        assertThat(up.at()).isCloseTo(ARM * 40 / 300, within(FOUND));
        assertThat(up.cause()).isEqualTo(new TravelEnd.Met("bump stop", "solid"));
        TravelEnd down = ends.end(DOWN, 150);
        double sine = down.at() / ARM;
        assertThat(Math.hypot(300 * (1 - Math.sqrt(1 - sine * sine)), 200 + 300 * sine))
                .isCloseTo(240, within(FOUND));
        assertThat(down.cause()).isEqualTo(new TravelEnd.Met("strap", "tight"));
    }

    /** The gap is all that there is between the two spots, and the rubber gives more: they pass one another sideways. */
    @Test
    void stopIsMetAlsoWhenItsSpotsPassOneAnother() {
        TravelEnds ends = new TravelEnds(
                axle,
                LengthFormat.TENTHS_OF_MM,
                List.of(new Limit.Stop("bump stop", arm(50 + 300, 0), chassis(50 + 300, 30), 30, 10, false)));
        TravelEnd up = ends.end(UP, 150);
        assertThat(up.at()).isCloseTo(ARM * 40 / 300, within(FOUND));
        assertThat(up.cause()).isEqualTo(new TravelEnd.Met("bump stop", "solid"));
        // The line fixed to the arm instead: it leans with it, and the spots are 30 cos(swing) - sin(swing) 300 apart
        // less what the lean takes; seen from the arm the chassis spot comes down by 300 sin(swing) + 30 (1 - cos).
        TravelEnds turned = new TravelEnds(
                axle,
                LengthFormat.TENTHS_OF_MM,
                List.of(new Limit.Stop("bump stop", chassis(50 + 300, 30), arm(50 + 300, 0), 30, 10, false)));
        double at = turned.end(UP, 150).at();
        double swing = Math.asin(at / ARM);
        assertThat(30 - (300 * Math.sin(swing) + 30 * (1 - Math.cos(swing)))).isCloseTo(-10, within(FOUND));
    }

    @Test
    void jointEndsTravelWhereItsStudLeansAsFarAsItCan() {
        double most = Math.toRadians(7);
        TravelEnds ends = new TravelEnds(
                axle,
                LengthFormat.TENTHS_OF_MM,
                List.of(new Limit.Swing("ball joint", "arm", Direction.LEFT, Mechanism.GROUND, Direction.LEFT, most)));
        assertThat(ends.end(UP, 150).at()).isCloseTo(ARM * Math.sin(most), within(FOUND));
        assertThat(ends.end(DOWN, 150).cause()).isEqualTo(new TravelEnd.Met("ball joint", "leans as far as it can"));
    }

    /**
     * A strap that is too short only in a short stretch of the travel, between two samples of any coarse grid: the spot
     * passes a chassis spot at its least distance, in the middle of the stretch. A stop there must be met.
     */
    @Test
    void shortStretchInsideTheTravelIsNotJumpedOver() {
        double swing = 0.1234567;
        Spot near = new Spot(0, 50 + 604 * Math.cos(swing), 604 * Math.sin(swing));
        // The spot of the arm at 600 passes it at 4 mm; 4.001 mm are asked for: some 0.18 mm of the travel are barred.
        TravelEnds ends = new TravelEnds(
                axle,
                LengthFormat.TENTHS_OF_MM,
                List.of(new Limit.Shock(
                        "pin", new Readout.End("arm", WHEEL), new Readout.End(Mechanism.GROUND, near), 4.001, 1000)));
        TravelEnd end = ends.end(UP, 150);
        assertThat(end.cause()).isEqualTo(new TravelEnd.Met("pin", "closed"));
        // |d|² = 600² + 604² - 2 600 604 cos(swing - s)
        double s = swing - Math.acos((600.0 * 600 + 604.0 * 604 - 4.001 * 4.001) / (2 * 600 * 604));
        assertThat(end.at()).isCloseTo(ARM * Math.sin(s), within(FOUND));
    }

    @Test
    void bindIsFoundWhereTheTriangleCloses() {
        // The arm of 600 cannot lift the wheel further than 600.
        TravelEnd end = new TravelEnds(axle, LengthFormat.TENTHS_OF_MM, List.of()).end(UP, 700);
        assertThat(end.at()).isCloseTo(600, within(0.01));
        assertThat(end.cause()).isInstanceOf(TravelEnd.Binds.class);
        assertThat(end.cause().words()).startsWith("because it ");
    }

    @Test
    void limitAlreadyOverrunAtRideHeightLeavesNoTravel() {
        TravelEnds ends = new TravelEnds(
                axle,
                LengthFormat.TENTHS_OF_MM,
                List.of(new Limit.Strap("strap", arm(350, 0), chassis(350, 200), 190)));
        TravelEnd end = ends.end(DOWN, 100);
        assertThat(end.at()).isEqualTo(0);
        assertThat(end.cause()).isEqualTo(new TravelEnd.Met("strap", "tight"));
    }

    @Test
    void limitOfAnUnknownBodyIsRefused() {
        assertThat(org.assertj.core.api.Assertions.catchThrowable(() -> new TravelEnds(
                        axle,
                        LengthFormat.TENTHS_OF_MM,
                        List.of(new Limit.Strap(
                                "strap", new Readout.End("leg", Spot.ORIGIN), chassis(350, 200), 190)))))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("leg");
    }

    /** GS-1: length and moment arm of a gas strut; the moment arm is the change of length per radian. */
    @Test
    void gasStrutHasThePublishedLengthAndMomentArm() {
        Spot right = new Spot(0, -100, 0);
        Spot left = new Spot(0, 100, 0);
        double[][] rows = {{20, 208.824287, 286.621475}, {50, 384.088970, 349.027929}, {80, 558.321715, 308.677510}};
        for (double[] row : rows) {
            // Panel spot 350 out along x at closed, strut foot 500 out at 20 degrees below it.
            double closed = Math.toRadians(20);
            Linkage panel = Linkage.of(new Mechanism(
                    "hood",
                    List.of("panel"),
                    List.of(new Joint.Hinge("hinge", Mechanism.GROUND, "panel", right, left)),
                    List.of(new Driver.Turn("open", "panel", left, right, 0, 1.2)),
                    List.of()));
            Span strut = new Span(
                    panel,
                    new Readout.End("panel", new Spot(350, 0, 0)),
                    new Readout.End(Mechanism.GROUND, new Spot(500 * Math.cos(closed), 0, -500 * Math.sin(closed))));
            assertThat(panel.solve(new double[] {Math.toRadians(row[0]) - closed})
                            .solved())
                    .isTrue();
            String t = String.format(Locale.ROOT, "gas strut, t %.0f deg: ", row[0]);
            Checks.record(
                    "GS-1", t + "length, mm", "own input", "own input, recomputed", row[1], strut.lengthMm(), 1e-6);
            Checks.record(
                    "GS-1",
                    t + "moment arm, mm",
                    "own input",
                    "own input, recomputed",
                    row[2],
                    strut.slope(new double[] {1}),
                    1e-6);
        }
    }
}
