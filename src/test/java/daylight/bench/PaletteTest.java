package daylight.bench;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import javafx.scene.paint.Color;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

class PaletteTest {
    /** Text: WCAG 2.1, success criterion 1.4.3 (level AA). */
    private static final double TEXT = 4.5;
    /** Shapes that say something: WCAG 2.1, success criterion 1.4.11. */
    private static final double SHAPE = 3;

    @ParameterizedTest
    @ValueSource(booleans = {false, true})
    void wordsCanBeReadOnWhatTheyStandOn(boolean dark) {
        Palette palette = Palette.read(dark);
        for (String ground : List.of("panel", "sky", "notice", "chosen")) {
            assertThat(Palette.contrast(palette.get("text"), palette.get(ground)))
                    .as("text on %s", ground)
                    .isGreaterThan(TEXT);
        }
        for (String ground : List.of("panel", "sky", "chosen")) {
            assertThat(Palette.contrast(palette.get("quiet"), palette.get(ground)))
                    .as("quiet text on %s", ground)
                    .isGreaterThan(TEXT);
        }
        assertThat(Palette.contrast(palette.get("accent"), palette.get("panel")))
                .isGreaterThan(SHAPE);
        assertThat(Palette.contrast(palette.get("rub"), palette.get("panel"))).isGreaterThan(SHAPE);
        assertThat(Palette.contrast(palette.get("clear"), palette.get("panel"))).isGreaterThan(SHAPE);
    }

    @ParameterizedTest
    @ValueSource(booleans = {false, true})
    void theTwoPartsOfAPairDifferInLightnessToo(boolean dark) {
        Palette palette = Palette.read(dark);
        double lightness = Palette.contrast(palette.get("pair-first"), palette.get("pair-second"));
        assertThat(lightness).as("told apart without any colour").isGreaterThan(dark ? 1.6 : SHAPE);
    }

    @ParameterizedTest
    @ValueSource(booleans = {false, true})
    void theRestOfTheCarIsGrey(boolean dark) {
        Palette palette = Palette.read(dark);
        for (String part : List.of("fixed-part", "moving-part", "tyre", "edge", "grid")) {
            Color colour = palette.get(part);
            assertThat(colour.getSaturation()).as(part).isLessThan(0.26);
        }
    }
}
