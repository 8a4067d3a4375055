package daylight.car;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;

class KindGuessesTest {
    private static final String CAR = """
            daylight: 1
            car: test
            units: mm
            parts:
              left tie rod: {on: chassis, ball: {centre: [0, 0, 0], diameter: 10}}   # by the rack
              right tie rod: {mirror: left tie rod}
              front pipe:
                on: chassis
                ball: {centre: [0, 500, 0], diameter: 10}
              intake manifold: {on: chassis, ball: {centre: [0, 800, 0], diameter: 10}}
              thing: {on: chassis, kinds: [frame], ball: {centre: [0, 900, 0], diameter: 10}}
            """;

    @Test
    void namesSuggestKindsAndNothingElseIsTouched() throws CarFileException {
        CarDocument document = CarDocument.of("test.yaml", CAR);
        List<KindGuesses.Guess> guesses = KindGuesses.shipped().of(document.car());
        assertThat(guesses)
                .extracting(guess -> guess.part() + ": " + guess.kind())
                .containsExactly("left tie rod: steering", "right tie rod: steering", "front pipe: exhaust");
        CarDocument written = KindGuesses.written(document, guesses);
        assertThat(written.toText()).contains("# by the rack").contains("kinds: [steering]}");
        assertThat(written.car().part("right tie rod").orElseThrow().kinds()).containsExactly("steering");
        assertThat(written.car().part("intake manifold").orElseThrow().kinds()).isEmpty();
        assertThat(written.car().part("thing").orElseThrow().kinds()).containsExactly("frame");
    }

    @Test
    void readingACarNeverGuesses() throws CarFileException {
        assertThat(CarFile.read("test.yaml", CAR)
                        .part("left tie rod")
                        .orElseThrow()
                        .kinds())
                .isEmpty();
    }
}
