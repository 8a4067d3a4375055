package daylight.hose;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.car.Car;
import daylight.car.CarFileException;
import daylight.geometry.Pose;
import daylight.geometry.Spot;
import daylight.motion.Handle;
import daylight.motion.Kinematics;
import daylight.motion.Workspace;
import daylight.survey.MeasuredCar;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;

class LiveLinesTest {
    /** The ends of a shape close to what the rod's own extrapolation leaves, mm. */
    private static final double CLOSES_MM = 0.01;

    private final Car car = car();
    private final LiveLines live = LiveLines.of(car);

    private static Car car() {
        try {
            return MeasuredCar.read(Path.of("demo/harbour-pickup.yaml")).car();
        } catch (CarFileException e) {
            throw new IllegalStateException(e);
        }
    }

    @Test
    void everyLineRunsFromFittingToFittingWhereverTheCarStands() {
        Workspace workspace = Workspace.of(car);
        Kinematics kinematics = workspace.kinematics();
        double[] values = new double[workspace.handles().size()];
        for (int step = 0; step < 40; step++) {
            for (int h = 0; h < values.length; h++) {
                Handle handle = workspace.handles().get(h);
                double share = 0.5 + 0.45 * Math.sin(0.15 * step + h);
                values[h] = handle.lowest() + share * (handle.highest() - handle.lowest());
            }
            boolean stands = kinematics.stand(values).isEmpty();
            List<LiveLines.Lie> lies = live.lie(values);
            for (int i = 0; i < lies.size() && stands; i++) {
                Car.Hose hose = car.hoses().get(i);
                LiveLines.Lie lie = lies.get(i);
                assertThat(lie.state()).as("%s at step %d", hose.name(), step).isNotEqualTo(LiveLines.State.UNKNOWN);
                Pose from = kinematics.pose(workspace.bodyIndex(hose.from().body()));
                Pose to = kinematics.pose(workspace.bodyIndex(hose.to().body()));
                List<Spot> spots = lie.centreLine();
                assertThat(spots.get(0).distanceTo(from.apply(hose.from().mouth())))
                        .as("%s at step %d begins", hose.name(), step)
                        .isCloseTo(0, within(CLOSES_MM));
                assertThat(spots.get(spots.size() - 1)
                                .distanceTo(to.apply(hose.to().mouth())))
                        .as("%s at step %d ends", hose.name(), step)
                        .isCloseTo(0, within(CLOSES_MM));
            }
        }
    }

    @Test
    void aLineThatIsTooShortIsTautAndFindsItsShapeAgain() {
        Car.Hose first = car.hoses().get(0);
        double straight = first.from().mouth().distanceTo(first.to().mouth());
        LiveLines shortened = LiveLines.of(car.withHoses(List.of(first.withFreeLength(straight * 0.9))));
        double[] rest = new double[Workspace.of(car).handles().size()];
        assertThat(shortened.lie(rest).get(0).state()).isEqualTo(LiveLines.State.TAUT);
        assertThat(live.lie(rest).get(0).state()).isEqualTo(LiveLines.State.REACHES);
    }
}
