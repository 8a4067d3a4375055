package daylight.linkage;

import static org.assertj.core.api.Assertions.assertThat;

import daylight.car.Layout;
import daylight.car.Layouts;
import daylight.geometry.Pose;
import daylight.geometry.Spot;
import java.util.ArrayList;
import java.util.List;
import java.util.random.RandomGenerator;
import java.util.random.RandomGeneratorFactory;
import java.util.stream.Stream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Every layout that comes with the program, by its worked example. */
class LayoutsTest {
    static Stream<String> names() {
        return Layouts.names().stream();
    }

    private static Layout layout(String name) {
        return Layouts.named(name).orElseThrow();
    }

    private static Invariants invariants(String name) {
        return new Invariants(MovingLayouts.of(name));
    }

    private static RandomGenerator random() {
        return RandomGeneratorFactory.of("L64X128MixRandom").create(7);
    }

    @ParameterizedTest
    @MethodSource("names")
    void everyPointSaysHowToMeasureIt(String name) {
        assertThat(layout(name).points())
                .isNotEmpty()
                .allSatisfy(p -> assertThat(p.measure()).as(p.name()).hasSizeGreaterThan(12));
    }

    @ParameterizedTest
    @MethodSource("names")
    void theExampleKeepsItsJointsOverTheWholeGrid(String name) {
        Invariants example = invariants(name);
        for (double[] q : example.grid(7)) {
            example.reaches(q);
            example.jointsAreClosed(q);
        }
    }

    @ParameterizedTest
    @MethodSource("names")
    void theWayToAPositionDoesNotMatter(String name) {
        Invariants example = invariants(name);
        for (double[] q : example.grid(3)) {
            example.wayDoesNotMatter(q);
        }
    }

    @ParameterizedTest
    @MethodSource("names")
    void derivativesAreThoseOfThePositions(String name) {
        Invariants example = invariants(name);
        for (double[] q : example.grid(3)) {
            for (int i = 0; i < q.length; i++) {
                q[i] *= 0.9;
            }
            example.derivativesAreDifferences(q);
        }
    }

    @ParameterizedTest
    @MethodSource("names")
    void noSampleLeavesAProvedBox(String name) {
        Invariants example = invariants(name);
        {
            double[] used = example.boxesHold(random(), 100, 0.1);
            List<Double> list = new ArrayList<>();
            for (double u : used) {
                list.add(u);
            }
            assertThat(list).as("share of each bound used").allMatch(u -> u <= 1);
        }
    }

    @ParameterizedTest
    @MethodSource("names")
    void anyPositionCanBeTheNewRideHeight(String name) {
        Mechanism before = MovingLayouts.of(name);
        Linkage was = Linkage.of(before);
        int n = was.driverCount();
        double[] rest = new double[n];
        for (int i = 0; i < n; i++) {
            rest[i] = 0.3 * (i % 2 == 0 ? was.highest(i) : was.lowest(i));
        }
        assertThat(was.solve(rest).solved()).isTrue();
        Mechanism after = was.asItStands();
        Linkage is = Linkage.of(after);
        List<Pose> poses = new ArrayList<>();
        for (int b = 0; b < was.bodies().size(); b++) {
            poses.add(was.pose(b));
        }
        List<String> turnFreely =
                before.followers().stream().map(Mechanism.Follower::body).toList();
        for (double share : new double[] {0.5, -0.5, -1}) {
            double[] q = new double[n];
            double[] p = new double[n];
            for (int i = 0; i < n; i++) {
                q[i] = share * (share > 0 ? was.highest(i) : -was.lowest(i)) * (i + 1) / (i + 2);
                p[i] = q[i] - rest[i];
            }
            assertThat(was.solve(q).solved()).isTrue();
            assertThat(is.solve(p).solved()).isTrue();
            for (int b = 0; b < poses.size(); b++) {
                Spot spot = was.reference(b);
                assertThat(is.where(b, poses.get(b).apply(spot)).distanceTo(was.where(b, spot)))
                        .as("%s: %s at %s of its range", name, was.bodies().get(b), share)
                        .isLessThan(
                                before.joints().stream()
                                                .allMatch(j -> j.sharing().isEmpty())
                                        ? 1e-7
                                        : 0.3);
                Spot beside = spot.plus(100, -80, 60);
                if (!turnFreely.contains(was.bodies().get(b))
                        && before.joints().stream().allMatch(j -> j.sharing().isEmpty())) {
                    assertThat(is.where(b, poses.get(b).apply(beside)).distanceTo(was.where(b, beside)))
                            .as("%s: %s at %s of its range", name, was.bodies().get(b), share)
                            .isLessThan(1e-7);
                }
            }
        }
    }
}
