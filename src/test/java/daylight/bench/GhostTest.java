package daylight.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.units.Progress;
import org.junit.jupiter.api.Test;

class GhostTest {
    private final OpenCar car = TestCar.open();

    private int part(String name) {
        return car.partNumbers().getOrDefault(name, -1);
    }

    @Test
    void theRoomOfAWheelThatSlidesIsTheBallDrawnOutByItsTravel() {
        Ghost ghost = Ghost.of(car, part("left wheel"), Progress.SILENT).orElseThrow();
        double cell = ghost.cellMm();
        double[] bounds = ghost.surface().bounds;
        assertThat(bounds[2]).as("lowest").isCloseTo(-TestCar.DROOP_MM, within(cell));
        assertThat(bounds[5]).as("highest").isCloseTo(600 + TestCar.BUMP_MM, within(cell));
        assertThat(bounds[4] - bounds[1]).as("wide").isCloseTo(600, within(2 * cell));
        double radius = 300;
        double exact = 4.0 / 3 * Math.PI * Math.pow(radius, 3)
                + Math.PI * radius * radius * (TestCar.BUMP_MM + TestCar.DROOP_MM);
        double area = 4 * Math.PI * radius * radius + 2 * Math.PI * radius * (TestCar.BUMP_MM + TestCar.DROOP_MM);
        assertThat(volume(ghost.surface()))
                .as("faces outwards, within a cell of the room that it takes")
                .isCloseTo(exact, within(area * cell));
    }

    @Test
    void whatDoesNotMoveHasNoGhost() {
        assertThat(Ghost.of(car, part("left fender"), Progress.SILENT)).isEmpty();
    }

    @Test
    void aCancelledGhostIsNone() {
        Progress cancelled = new Progress() {
            @Override
            public void at(double fraction, String message) {}

            @Override
            public boolean cancelled() {
                return true;
            }
        };
        assertThat(Ghost.of(car, part("left wheel"), cancelled)).isEmpty();
    }

    private static double volume(Surface surface) {
        float[] c = surface.corners;
        double six = 0;
        for (int t = 0; t < surface.triangles(); t++) {
            int p = 3 * surface.faces[6 * t];
            int q = 3 * surface.faces[6 * t + 2];
            int r = 3 * surface.faces[6 * t + 4];
            six += c[p] * ((double) c[q + 1] * c[r + 2] - (double) c[q + 2] * c[r + 1])
                    + c[p + 1] * ((double) c[q + 2] * c[r] - (double) c[q] * c[r + 2])
                    + c[p + 2] * ((double) c[q] * c[r + 1] - (double) c[q + 1] * c[r]);
        }
        return six / 6;
    }
}
