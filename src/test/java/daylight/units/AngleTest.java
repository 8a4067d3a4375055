package daylight.units;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class AngleTest {
    /** Closed form: a few roundings of a double near one. */
    private static final double EXACT_DEGREES = 1e-12;

    @ParameterizedTest(name = "{0} is {1} degrees")
    @CsvSource(
            delimiter = ';',
            quoteCharacter = '`',
            value = {
                "12.5; 12.5",
                "12 1/2 deg; 12.5",
                "12.5\u00b0; 12.5",
                "7 deg 38 min; 7.633333333333334",
                "7\u00b0 38' 12\"; 7.636666666666667",
                "-7\u00b030\u2032; -7.5",
                "-2; -2"
            })
    void readsWhatADigitalLevelShows(String text, double degrees) {
        assertThat(Angle.parse(text).value().orElseThrow().degrees())
                .as(text)
                .isEqualTo(degrees, within(EXACT_DEGREES));
    }

    @Test
    void radiansAreTakenAsTheyAre() {
        assertThat(Angle.parse("0.2 rad").value()).contains(new Angle(0.2));
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "",
                "twelve",
                "12 mm",
                "7 deg 60 min",
                "7 deg 38",
                "7 deg 38 sec",
                "0.2 rad 3",
                "1 deg 2 min 3 sec 4"
            })
    void refusesWhatIsNoAngle(String text) {
        assertThat(Angle.parse(text))
                .as(text)
                .isInstanceOfSatisfying(
                        Parsed.Refused.class,
                        refused -> assertThat(refused.advice()).startsWith("Write an angle as"));
    }

    @Test
    void printsDegreesOrDegreesAndMinutes() {
        assertThat(Angle.ofDegrees(12.46).toDegrees(1)).isEqualTo("12.5 deg");
        assertThat(Angle.ofDegrees(-0.01).toDegrees(1)).isEqualTo("0.0 deg");
        assertThat(Angle.ofDegrees(7 + 38 / 60.0).toDegreesAndMinutes()).isEqualTo("7 deg 38 min");
        assertThat(Angle.ofDegrees(-0.5).toDegreesAndMinutes()).isEqualTo("-0 deg 30 min");
    }
}
