package daylight.car;

import static org.assertj.core.api.Assertions.assertThat;

import daylight.geometry.Spot;
import daylight.survey.MeasuredCar;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** A car described anew as far as one point carries is the car described anew whole. */
class CarVariantsTest {
    private static final double NUDGE_MM = 0.5;

    @ParameterizedTest
    @ValueSource(strings = {"demo/harbour-pickup.yaml", "demo/kit-roadster.yaml"})
    void partsThatAreReadAgainAreThoseThatTheWholeFileWouldChange(String file) throws CarFileException {
        MeasuredCar measured = MeasuredCar.read(Path.of(file));
        Map<String, Spot> places = measured.surveyed().places();
        CarVariants variants = measured.document().variants();
        Car whole = variants.with(places);
        Set<String> every = new LinkedHashSet<>();
        whole.parts().forEach(part -> every.add(part.name()));
        Set<String> used = variants.pointsUsed(every);
        int again = 0;
        for (String point : List.copyOf(used)) {
            Spot at = places.containsKey(point)
                    ? places.getOrDefault(point, Spot.ORIGIN)
                    : whole.point(point).orElseThrow().at();
            Map<String, Spot> moved = new HashMap<>(places);
            moved.put(point, at.plus(NUDGE_MM, NUDGE_MM, -NUDGE_MM));
            Car quick = variants.with(whole, moved, point, every);
            Car slow = variants.with(moved);
            assertThat(quick.mechanisms()).as("mechanisms, %s moved", point).isEqualTo(slow.mechanisms());
            assertThat(quick.allowances()).as("moves, %s moved", point).isEqualTo(slow.allowances());
            assertThat(quick.parts()).as("parts, %s moved", point).isEqualTo(slow.parts());
            again += quick.parts().equals(whole.parts()) ? 0 : 1;
        }
        assertThat(again).as("points that some part's shape rests on").isGreaterThan(5);
        // The two ways name the same points: what neither asks for moves nothing.
        assertThat(variants.pointsUsed()).as("points used").containsAll(used);
    }
}
