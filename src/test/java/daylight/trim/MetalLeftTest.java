package daylight.trim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.geometry.Direction;
import daylight.geometry.Flat;
import daylight.geometry.Shape;
import daylight.geometry.Spot;
import java.util.List;
import org.junit.jupiter.api.Test;

/** Metal of rectangular bars, in closed form. */
class MetalLeftTest {
    /** Closed forms in plain arithmetic. */
    private static final double CLOSED_FORM = 1e-6;

    private static Shape.Plate bar(Shape.Plate.Hole... holes) {
        return new Shape.Plate(
                Spot.ORIGIN,
                Direction.LEFT,
                Direction.UP,
                5,
                List.of(new Flat(0, 0), new Flat(200, 0), new Flat(200, 40), new Flat(0, 40)),
                List.of(holes));
    }

    @Test
    void barWithoutHolesIsCutThroughItsMiddle() {
        MetalLeft metal = MetalLeft.of(bar(), List.of());
        assertThat(metal.between()).isFalse();
        assertThat(metal.areaMm2()).isCloseTo(8000, within(CLOSED_FORM));
        assertThat(metal.netSectionMm2()).isCloseTo(5 * 40, within(CLOSED_FORM));
        assertThat(metal.secondMomentMm4()).isCloseTo(5 * 40.0 * 40 * 40 / 12, within(CLOSED_FORM));
        assertThat(metal.sectionModulusMm3()).isCloseTo(5 * 40.0 * 40 / 6, within(CLOSED_FORM));
    }

    @Test
    void barIsWeakestRightThroughAHole() {
        // Three holes in line; the middle one is the largest. Its section: two strips of 12 by 5, 16 apart.
        MetalLeft metal = MetalLeft.of(
                bar(
                        new Shape.Plate.Hole(new Flat(20, 20), 10),
                        new Shape.Plate.Hole(new Flat(100, 20), 16),
                        new Shape.Plate.Hole(new Flat(180, 20), 10)),
                List.of());
        assertThat(metal.between()).isTrue();
        assertThat(metal.netSectionMm2()).isCloseTo(5 * 24, within(CLOSED_FORM));
        double moment = 5 * (40.0 * 40 * 40 - 16 * 16 * 16) / 12;
        assertThat(metal.secondMomentMm4()).isCloseTo(moment, within(CLOSED_FORM));
        assertThat(metal.sectionModulusMm3()).isCloseTo(moment / 20, within(CLOSED_FORM));
        assertThat(metal.areaMm2()).isCloseTo(8000 - Math.PI * (25 + 64 + 25), within(CLOSED_FORM));
        assertThat(metal.edgeDistancesMm()).containsExactly(20.0, 20.0, 20.0);
        assertThat(metal.nearestHole()).contains(0);
    }
}
