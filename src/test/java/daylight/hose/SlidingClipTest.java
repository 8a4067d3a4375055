package daylight.hose;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.car.Car;
import daylight.car.CarFile;
import daylight.car.CarFileException;
import daylight.geometry.Direction;
import daylight.geometry.Spot;
import daylight.motion.Workspace;
import org.junit.jupiter.api.Test;

/** Lines that slide through their clips, and the pull by which they do. */
class SlidingClipTest {
    private static String bench(double after, boolean slides, double secondEnd) {
        return """
                daylight: 1
                car: clip bench
                units: mm
                points:
                  hood hinge start: [2000, 100, 500]
                  hood hinge end: [2000, -100, 500]
                mechanisms:
                  hood: {layout: hinged-panel, prefix: hood, opening: 5 deg}
                parts:
                  box: {on: hood panel, box: {from corner: [900, 900, 900], to corner: [950, 950, 950]}}
                  line: {kind: clutch line, hose: {from: {on: chassis, at: [0, 0, 500], leaves: [1, 0, 0.5]}, to: {on: chassis, at: [END, 0, 500], leaves: [-1, 0, 0.5]}, clips: [{on: chassis, at: [200, 0, 500], along: [1, 0, 0], after: AFTER, slides: SLIDES}], free length: 560, od: 6, least bend radius: 10}}
                """.replace("END", Double.toString(secondEnd))
                .replace("AFTER", Double.toString(after))
                .replace("SLIDES", Boolean.toString(slides));
    }

    private static LineShape settled(String text) throws CarFileException {
        Car car = CarFile.read("clips.yaml", text);
        LineTravel line = new LineTravel(car.hoses().get(0), Workspace.of(car).kinematics());
        LineShape shape = new LineShape(line);
        assertThat(line.stand(new double[line.freedoms.size()])).isTrue();
        assertThat(shape.settle()).isEqualTo(Ending.CONVERGED);
        return shape;
    }

    @Test
    void pullIsTheSlopeOfTheEnergyWithTheLength() {
        Ends ends = Ends.of(Spot.ORIGIN, Direction.of(1, 0.2, 0.5), new Spot(220, 30, 10), Direction.of(1, 0.4, -0.3));
        double length = 300;
        double step = 0.05;
        double before = ElasticaTest.reaches(new Rod(), ends, length - step).energyPerMm();
        double after = ElasticaTest.reaches(new Rod(), ends, length + step).energyPerMm();
        Rod rod = new Rod();
        ElasticaTest.reaches(rod, ends, length);
        double twist = Rod.SOLID_RUBBER * rod.twistRad() * rod.twistRad() / 2;
        assertThat(Math.abs(twist)).as("a case with twist").isGreaterThan(1e-6);
        double slope = (after - before) / (2 * step);
        assertThat(rod.pull()).isCloseTo(slope, within(1e-4 * Math.abs(slope)));
    }

    @Test
    void aLineSlidesUntilBothSidesPullAlikeAndAHeldOneDoesNot() throws CarFileException {
        LineShape held = settled(bench(250, false, 440));
        assertThat(held.lengths[0]).isEqualTo(250);
        LineShape slid = settled(bench(250, true, 440));
        assertThat(slid.lengths[0] + slid.lengths[1]).isCloseTo(560, within(1e-9));
        assertThat(slid.rods[0].pull()).isCloseTo(slid.rods[1].pull(), within(0.02 * Math.abs(slid.rods[0].pull())));
        double energyHeld = held.rods[0].energyPerMm() + held.rods[1].energyPerMm();
        assertThat(slid.rods[0].energyPerMm() + slid.rods[1].energyPerMm()).isLessThan(energyHeld);
    }

    /** Two equal halves, nearly straight: whatever it was clipped at, the middle of the line comes to lie in the clip. */
    @Test
    void betweenTwoEqualHalvesThatAreAlmostTautItSlidesToTheMiddle() throws CarFileException {
        LineShape slid = settled(bench(203, true, 400).replace("free length: 560", "free length: 408"));
        assertThat(slid.lengths[0]).isCloseTo(204, within(0.1));
        assertThat(slid.rods[0].tightestRadiusMm()).isCloseTo(slid.rods[1].tightestRadiusMm(), within(0.5));
    }

    /** Slack is shared through a clip that lets the line slide, and is the lesser half's where it is held. */
    @Test
    void slackIsSharedThroughASlidingClip() throws CarFileException {
        assertThat(slack(bench(210, false, 400))).isLessThan(slack(bench(210, true, 400)));
        assertThat(slack(bench(210, true, 400))).isCloseTo(slack(bench(280, true, 400)), within(1e-6));
    }

    private static double slack(String text) throws CarFileException {
        Car car = CarFile.read("clips.yaml", text);
        HoseReport.Slack slack = new SlackSearch(
                        new LineTravel(car.hoses().get(0), Workspace.of(car).kinematics()))
                .search();
        assertThat(slack.unproved()).isEmpty();
        return slack.floorMm();
    }
}
