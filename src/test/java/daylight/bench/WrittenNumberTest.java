package daylight.bench;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class WrittenNumberTest {
    @ParameterizedTest
    @CsvSource({
        "14 3/8, 14, 3/8",
        "-1/16, -, 1/16",
        "7/8, '', 7/8",
        "3, 3, ''",
        "-1 1/4, -1, 1/4",
        "365.1, 365, .1",
        "(1/2), (, 1/2)",
        "(1), (1, )"
    })
    void numbersPartWhereTheFractionBegins(String text, String whole, String part) {
        assertThat(WrittenNumber.of(text)).isEqualTo(new WrittenNumber(whole, part));
    }
}
