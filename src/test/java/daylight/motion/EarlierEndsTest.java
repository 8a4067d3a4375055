package daylight.motion;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.car.Limit;
import daylight.car.Readout;
import daylight.geometry.Spot;
import daylight.linkage.Linkage;
import daylight.linkage.Mechanism;
import java.util.List;
import org.junit.jupiter.api.Test;

/** Ranges cut by limits against closed forms, and that no position that can be reached is cut off. */
class EarlierEndsTest {
    private static final double FOUND = 2 * TravelEnds.FINEST;
    private static final double ARM = 600;

    private final Linkage arm =
            Linkage.of(Corners.oneArm(new Spot(-50, 50, 0), new Spot(50, 50, 0), new Spot(0, 650, 0), 150));
    private final Linkage corner = Linkage.of(Corners.doubleArm("front left", false));

    private static Readout.End on(String body, double x, double y, double z) {
        return new Readout.End(body, new Spot(x, y, z));
    }

    /** Shock from the arm at 450 out to a spot 300 straight above its pivot: GS-1's law of cosines. */
    @Test
    void aShockEndsBothSidesAtItsClosedForm() {
        Limit shock = new Limit.Shock("left shock", on("arm", 0, 500, 0), on(Mechanism.GROUND, 0, 50, 300), 500, 590);
        List<EarlierEnd> found = new EarlierEnds(arm, List.of(shock)).found();
        assertThat(found).hasSize(2);
        EarlierEnd droop = found.get(0);
        EarlierEnd bump = found.get(1);
        assertThat(droop.searched())
                .isCloseTo(ARM * (450 * 450 + 300 * 300 - 590.0 * 590) / (2 * 450 * 300), within(FOUND));
        assertThat(bump.searched())
                .isCloseTo(ARM * (450 * 450 + 300 * 300 - 500.0 * 500) / (2 * 450 * 300), within(FOUND));
        assertThat(bump.stated()).isEqualTo(150);
        assertThat(droop.by()).isEqualTo(new TravelEnd.Met("left shock", "fully open"));
        assertThat(bump.by()).isEqualTo(new TravelEnd.Met("left shock", "closed"));
    }

    @Test
    void theNearestOfSeveralLimitsEndsASide() {
        Limit far = new Limit.Stop("far", on("arm", 0, 350, 0), on(Mechanism.GROUND, 0, 350, 80), 50, 10, false);
        Limit near = new Limit.Stop("near", on("arm", 0, 350, 0), on(Mechanism.GROUND, 0, 350, 80), 30, 10, false);
        List<EarlierEnd> found = new EarlierEnds(arm, List.of(far, near)).found();
        assertThat(found).hasSize(1);
        assertThat(found.get(0).by()).isEqualTo(new TravelEnd.Met("near", "solid"));
        // Along the stop's line, straight up, they are 80 - 300 sin(swing) apart.
        assertThat(found.get(0).searched()).isCloseTo(ARM * 40 / 300, within(FOUND));
    }

    @Test
    void whatEndsNothingAndWhatIsPastAsTheCarStandsCutNothing() {
        Limit loose = new Limit.Strap("loose", on("arm", 0, 350, 0), on(Mechanism.GROUND, 0, 350, 200), 900);
        Limit past = new Limit.Shock("past", on("arm", 0, 500, 0), on(Mechanism.GROUND, 0, 50, 300), 600, 700);
        Limit elsewhere = new Limit.Strap("elsewhere", on("axle", 0, 350, 0), on(Mechanism.GROUND, 0, 350, 200), 201);
        assertThat(new EarlierEnds(arm, List.of(loose, past, elsewhere)).found())
                .isEmpty();
    }

    /**
     * A strap from the knuckle's steering arm depends on travel and steering: on a grid of both, walked outwards from
     * ride height through positions that the strap allows, none lies beyond the cut, and one lies near it.
     */
    @Test
    void noPositionThatIsReachedLiesBeyondTheCutOfALimitOfTwoHandles() {
        Readout.End onKnuckle = on(Corners.KNUCKLE, -137, 690, -88);
        Readout.End onFrame = on(Mechanism.GROUND, -300, 500, 40);
        double longest = onKnuckle.at().distanceTo(onFrame.at()) + 18;
        Limit strap = new Limit.Strap("strap", onKnuckle, onFrame, longest);
        List<EarlierEnd> found = new EarlierEnds(corner, List.of(strap)).found();
        assertThat(found).isNotEmpty();
        int steps = 60;
        boolean[][] reached = new boolean[2 * steps + 1][2 * steps + 1];
        reached[steps][steps] = true;
        double[] most = {80, 74.5};
        int body = corner.bodies().indexOf(Corners.KNUCKLE);
        for (boolean grown = true; grown; ) {
            grown = false;
            for (int i = 1; i < 2 * steps; i++) {
                for (int j = 1; j < 2 * steps; j++) {
                    boolean beside = reached[i - 1][j] || reached[i + 1][j] || reached[i][j - 1] || reached[i][j + 1];
                    if (reached[i][j] || !beside) {
                        continue;
                    }
                    double[] at = {most[0] * (i - steps) / steps, most[1] * (j - steps) / steps};
                    if (corner.solve(at).solved()
                            && corner.where(body, onKnuckle.at()).distanceTo(onFrame.at()) <= longest) {
                        reached[i][j] = true;
                        grown = true;
                    }
                }
            }
        }
        for (EarlierEnd end : found) {
            int handle = corner.driverNames().indexOf(end.handle());
            double furthest = 0;
            for (int i = 0; i <= 2 * steps; i++) {
                for (int j = 0; j <= 2 * steps; j++) {
                    double value = most[handle] * ((handle == 0 ? i : j) - steps) / steps;
                    if (reached[i][j] && value * end.searched() > 0) {
                        furthest = Math.max(furthest, Math.abs(value));
                    }
                }
            }
            assertThat(furthest)
                    .as("%s", end)
                    .isLessThanOrEqualTo(Math.abs(end.searched()))
                    .isGreaterThan(Math.abs(end.searched()) - 4 * most[handle] / steps);
        }
    }

    @Test
    void aSteeringStopEndsTheRackAndNotTheTravel() {
        Limit left = new Limit.Stop(
                "left steering stop", on("rack", -150, 380, -38), on(Mechanism.GROUND, -150, 300, -38), 50, 0, true);
        List<EarlierEnd> found = new EarlierEnds(corner, List.of(left)).found();
        assertThat(found).hasSize(1);
        assertThat(found.get(0).handle()).isEqualTo("steer");
        assertThat(found.get(0).searched()).isCloseTo(-50, within(FOUND));
    }
}
