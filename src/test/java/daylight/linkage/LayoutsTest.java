package daylight.linkage;

import static org.assertj.core.api.Assertions.assertThat;

import daylight.car.Layout;
import daylight.car.Layouts;
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
        return new Invariants(layout(name).exampleMechanism());
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
        if (example.linkage().driverCount() > 0) {
            double[] used = example.boxesHold(random(), 100, 0.1);
            List<Double> list = new ArrayList<>();
            for (double u : used) {
                list.add(u);
            }
            assertThat(list).as("share of each bound used").allMatch(u -> u <= 1);
        }
    }
}
