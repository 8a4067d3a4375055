package daylight.survey;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import daylight.units.Length;
import java.util.List;
import org.junit.jupiter.api.Test;

class MeasuringDefaultsTest {
    private static final double INCH = Length.MM_PER_INCH;
    private static final TapeLimit PERFECT = new TapeLimit.ByRange(List.of(new TapeLimit.ByRange.Range(1, 0)));

    @Test
    void roundingHookAimAndTapeAddUpAsSquares() {
        MeasuringDefaults roundingOnly = new MeasuringDefaults(INCH / 16, 0, 0, PERFECT, 0, 0, 0, 0);
        assertThat(roundingOnly.offsetUMm(500)).isCloseTo(INCH / 32 / Math.sqrt(3), within(1e-12));
        MeasuringDefaults all = new MeasuringDefaults(
                INCH / 16, INCH / 32, INCH / 32, new TapeLimit.Growing(0.3, 0.2, 0.2), 0.002, 0.003, 6, 0.5);
        double part = INCH / 32 / Math.sqrt(3);
        double tape = 0.7 / Math.sqrt(3);
        assertThat(all.offsetUMm(-1300)).isCloseTo(Math.sqrt(3 * part * part + tape * tape), within(1e-12));
        assertThat(all.distanceUMm(1300)).isCloseTo(all.offsetUMm(1300), within(1e-12));
        assertThat(all.angleURad()).isCloseTo(Math.sqrt(0.001 * 0.001 + 0.003 * 0.003) / Math.sqrt(3), within(1e-15));
        assertThat(all.mirrorUMm()).isCloseTo(6 / Math.sqrt(3), within(1e-12));
        assertThat(all.rimUMm()).isCloseTo(0.5 / Math.sqrt(3), within(1e-12));
    }

    @Test
    void negativeHalfWidthsAreRefused() {
        assertThatThrownBy(() -> new MeasuringDefaults(1, -1, 0, PERFECT, 0, 0, 0, 0))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("the hook is zero or more, not -1.0");
        assertThatThrownBy(() -> new TapeLimit.ByRange(List.of())).isInstanceOf(IllegalArgumentException.class);
    }
}
