package daylight.hose;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.car.Car;
import daylight.car.CarFile;
import daylight.car.CarFileException;
import daylight.motion.Workspace;
import daylight.report.HoseJson;
import daylight.report.HoseText;
import daylight.units.Progress;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/**
 * A loom pushed together between two fittings that face one another lies any way round; the least lean of one of them
 * decides which. When that lean changes its sign the loom throws itself over to the other side.
 */
class SnapTest {
    private static String bench(String leaves) {
        return """
                daylight: 1
                car: snap bench
                units: mm
                points:
                  hood hinge start: [200, 100, 500]
                  hood hinge end: [200, -100, 500]
                mechanisms:
                  hood: {layout: hinged-panel, prefix: hood, opening: 60 deg}
                parts:
                  box: {on: hood panel, box: {from corner: [900, 0, 900], to corner: [950, 10, 950]}}
                  loop: {kind: wiring loom, hose: {from: {on: chassis, at: [0, 0, 500], leaves: forward}, to: {on: hood panel, at: [200, 0, 500], leaves: %s}, free length: 300, od: 6, least bend radius: 10}}
                """.replace("%s", leaves);
    }

    private static ShapeWalk walked(String leaves) throws CarFileException {
        Car car = CarFile.read("snap.yaml", bench(leaves));
        ShapeWalk walk = new ShapeWalk(
                new LineTravel(car.hoses().get(0), Workspace.of(car).kinematics()), Optional.empty());
        walk.walk();
        return walk;
    }

    @Test
    void aLoomThatIsThrownOverToTheOtherSideIsSaidToSnapWhereItDoes() throws CarFileException {
        // The fitting leans up by atan 0.3 and is turned down: level at 16.7 degrees.
        List<HoseReport.Jump> jumps = walked("[-1, 0.02, 0.3]").jumps();
        assertThat(jumps).isNotEmpty().allSatisfy(jump -> {
            assertThat(jump.where().handles().get(0).value()).isCloseTo(Math.atan(0.3), within(Math.toRadians(3)));
            assertThat(jump.movesMm()).isGreaterThan(10);
        });
    }

    @Test
    void aLoomWhoseFittingNeverLeansTheOtherWayFollowsWithoutASnap() throws CarFileException {
        assertThat(walked("[-1, 0.02, -0.3]").jumps()).isEmpty();
    }

    @Test
    void textAndJsonSayTheSnap() throws CarFileException {
        Car car = CarFile.read("snap.yaml", bench("[-1, 0.02, 0.3]"));
        List<HoseReport> reports = HoseSearch.of(car).run(1, Progress.SILENT).orElseThrow();
        assertThat(HoseText.of(car.name(), reports, false)).contains("snaps    over to another side");
        assertThat(HoseJson.of(car.name(), reports)).contains("snap");
    }
}
