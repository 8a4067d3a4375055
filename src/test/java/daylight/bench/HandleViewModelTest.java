package daylight.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.geometry.Direction;
import daylight.geometry.Spot;
import daylight.linkage.Mechanism.Driver;
import daylight.motion.Handle;
import daylight.units.LengthFormat;
import java.util.Locale;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class HandleViewModelTest {
    private static final double INCH = 25.4;
    private static final double EXACT = 1e-9;
    private final Locale locale = Locale.getDefault();

    @AfterEach
    void backToTheOldLocale() {
        Locale.setDefault(locale);
    }

    private static HandleViewModel travel(String name) {
        Driver driver = new Driver.Rise(name, "hub", Spot.ORIGIN, -4 * INCH, 3.5 * INCH);
        return new HandleViewModel(
                new Handle(name, driver.lowest(), driver.highest(), false), driver, LengthFormat.SIXTEENTHS);
    }

    private static HandleViewModel steer() {
        Driver driver = new Driver.Travel("steer", "rack", Direction.LEFT, -2 * INCH, 2 * INCH);
        return new HandleViewModel(
                new Handle("steer", driver.lowest(), driver.highest(), false), driver, LengthFormat.SIXTEENTHS);
    }

    private static HandleViewModel hood() {
        Driver driver = new Driver.Turn("hood opening", "hood", Spot.ORIGIN, new Spot(0, 1, 0), 0, Math.toRadians(60));
        return new HandleViewModel(
                new Handle("hood opening", 0, driver.highest(), true), driver, LengthFormat.SIXTEENTHS);
    }

    @ParameterizedTest
    @CsvSource({
        "1 3/8, 1.375",
        "1 3/8 in, 1.375",
        "1 3/8 in bump, 1.375",
        "2 droop, -2",
        "-2, -2",
        "50.8 mm droop, -2",
        "0, 0",
        "2 1/2 in Droop, -2.5",
        "'1,5', 1.5"
    })
    void takesALengthAsReadOffTheTape(String typed, double inches) {
        HandleViewModel handle = travel("front left travel");
        assertThat(handle.type(typed)).as(typed).isTrue();
        assertThat(handle.value()).isCloseTo(inches * INCH, within(EXACT));
        assertThat(handle.refusalProperty().get()).isEmpty();
    }

    @ParameterizedTest
    @ValueSource(strings = {"", "two", "1 3/8 inn", "5", "4 1/2 droop", "-1 droop", "143/8"})
    void saysWhyATextIsNotTaken(String typed) {
        HandleViewModel handle = travel("front left travel");
        handle.valueProperty().set(10);
        assertThat(handle.type(typed)).as(typed).isFalse();
        assertThat(handle.value()).as("stays where it was").isEqualTo(10);
        assertThat(handle.refusalProperty().get()).as(typed).endsWith(".").isNotBlank();
    }

    @Test
    void sayingThatItIsOutsideNamesTheRange() {
        HandleViewModel handle = travel("front left travel");
        handle.type("5");
        assertThat(handle.refusalProperty().get())
                .isEqualTo("5 in bump is outside the travel. It reaches from 4 in droop to 3 1/2 in bump.");
    }

    @Test
    void whatTheEndOfTheRangeShowsCanBeTyped() {
        Driver driver = new Driver.Rise("front left travel", "hub", Spot.ORIGIN, -100.3, 88.7);
        HandleViewModel handle = new HandleViewModel(
                new Handle("front left travel", -100.3, 88.7, false), driver, LengthFormat.SIXTEENTHS);
        handle.valueProperty().set(88.7);
        assertThat(handle.type(handle.text())).as(handle.text()).isTrue();
        assertThat(handle.value()).isLessThanOrEqualTo(88.7);
        handle.valueProperty().set(-100.3);
        assertThat(handle.type(handle.text())).as(handle.text()).isTrue();
    }

    @Test
    void wordsFitWhatMoves() {
        assertThat(travel("front left travel").text(1.375 * INCH)).isEqualTo("1 3/8 in bump");
        assertThat(travel("front left travel").text(-2 * INCH)).isEqualTo("2 in droop");
        assertThat(travel("front left travel").label()).isEqualTo("front left");
        assertThat(steer().text(INCH)).isEqualTo("1 in left");
        assertThat(steer().reversed()).as("left is drawn at the left").isTrue();
        assertThat(hood().text(Math.toRadians(12.5))).isEqualTo("12.5 deg open");
        assertThat(hood().text(0)).isEqualTo("0 deg");
    }

    @Test
    void degreesAreTakenForWhatTurns() {
        HandleViewModel hood = hood();
        assertThat(hood.type("30")).isTrue();
        assertThat(Math.toDegrees(hood.value())).isCloseTo(30, within(EXACT));
        assertThat(hood.type("12,5 deg open")).isTrue();
        assertThat(Math.toDegrees(hood.value())).isCloseTo(12.5, within(EXACT));
        assertThat(hood.type("-5")).isFalse();
    }

    @Test
    void aCountryOfDecimalCommasChangesNothing() {
        Locale.setDefault(Locale.GERMANY);
        Driver driver = new Driver.Rise("front left travel", "hub", Spot.ORIGIN, -100, 90);
        HandleViewModel handle = new HandleViewModel(
                new Handle("front left travel", -100, 90, false), driver, LengthFormat.TENTHS_OF_MM);
        assertThat(handle.text(12.34)).isEqualTo("12.3 mm bump");
        assertThat(handle.type(handle.text(12.34))).isTrue();
        assertThat(handle.value()).isCloseTo(12.3, within(EXACT));
        assertThat(hood().text(Math.toRadians(7.25))).isEqualTo("7.3 deg open");
    }

    @Test
    void neverLeavesItsRange() {
        HandleViewModel handle = travel("front left travel");
        handle.valueProperty().set(1000);
        assertThat(handle.value()).isEqualTo(3.5 * INCH);
        handle.valueProperty().set(-1000);
        assertThat(handle.value()).isEqualTo(-4 * INCH);
    }

    @Test
    void bothSidesMoveTogetherOnlyWhenAsked() {
        HandleViewModel left = travel("front left travel");
        HandleViewModel right = travel("front right travel");
        HandleViewModel.join(left, right);
        left.valueProperty().set(20);
        assertThat(right.value()).isZero();
        right.togetherProperty().set(true);
        assertThat(left.togetherProperty().get()).isTrue();
        left.valueProperty().set(30);
        assertThat(right.value()).isEqualTo(30);
        right.valueProperty().set(-15);
        assertThat(left.value()).isEqualTo(-15);
    }

    @Test
    void playsFromWhereItStandsThroughItsWholeRangeAndNeverByItself() {
        HandleViewModel handle = travel("front left travel");
        handle.advance(1);
        assertThat(handle.value()).as("nothing moves by itself").isZero();
        handle.playingProperty().set(true);
        handle.advance(0.001);
        assertThat(handle.value()).as("no leap at the start").isCloseTo(0, within(0.5));
        double low = 0;
        double high = 0;
        for (int frame = 0; frame < 600; frame++) {
            handle.advance(0.02);
            low = Math.min(low, handle.value());
            high = Math.max(high, handle.value());
        }
        assertThat(low).isCloseTo(-4 * INCH, within(0.1));
        assertThat(high).isCloseTo(3.5 * INCH, within(0.1));
        assertThat(handle.type("1")).isTrue();
        assertThat(handle.playingProperty().get()).as("typing stops the play").isFalse();
    }
}
