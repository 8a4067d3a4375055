package daylight.report;

import static org.assertj.core.api.Assertions.assertThat;

import daylight.motion.Setting;
import daylight.units.LengthFormat;
import org.junit.jupiter.api.Test;

/** What a movement's value is called. */
class WordingTest {
    private static String say(String name, double value, boolean turns) {
        return Wording.in(LengthFormat.TENTHS_OF_MM).setting(new Setting(name, value, turns));
    }

    @Test
    void eachMovementHasItsOwnDirections() {
        assertThat(say("front left travel", 25, false)).isEqualTo("front left 25.0 mm bump");
        assertThat(say("front left travel", -25, false)).isEqualTo("front left 25.0 mm droop");
        assertThat(say("steer", 12, false)).isEqualTo("rack 12.0 mm left");
        assertThat(say("steer", -12, false)).isEqualTo("rack 12.0 mm right");
        assertThat(say("rear Panhard bar length", 3, false)).isEqualTo("rear Panhard bar 3.0 mm longer");
        assertThat(say("rear Panhard bar length", -3, false)).isEqualTo("rear Panhard bar 3.0 mm shorter");
        assertThat(say("seat slide", -3, false)).isEqualTo("seat slide -3.0 mm");
        assertThat(say("hood opening", Math.toRadians(30), true)).isEqualTo("hood opening 30.0 deg");
    }
}
