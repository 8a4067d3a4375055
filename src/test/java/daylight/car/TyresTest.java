package daylight.car;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import daylight.geometry.Direction;
import daylight.geometry.Flat;
import daylight.geometry.Shape;
import daylight.geometry.Spot;
import daylight.validation.Checks;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

class TyresTest {
    private static final Tyres TYRES = Tyres.shipped();

    /** Published figures are whole millimetres of D and hundredths of S: half the last digit printed. */
    private static final double HALF_A_MM = 0.5;

    private static final double HALF_A_HUNDREDTH = 0.005;
    /** TY-2 is printed in tenths: half of one, and rounding of its own factors is exact. */
    private static final double HALF_A_TENTH = 0.05;
    /** Closed form. */
    private static final double EXACT_MM = 1e-9;

    private static final String TY_1 = "UN Regulation 30, paragraphs 6.1.1 and 6.1.2; ETRTO Standards Manual";
    private static final String TY_1_MARK = "recomputed; formulas, rim widths and x from memory";
    private static final String TY_2 = "UN Regulation 30, paragraphs 6.1.4 and 6.1.5";
    private static final String TY_2_MARK = "from memory (products recomputed)";
    private static final String TY_4 = "SAE classes (J683) as printed by several chain makers";

    static TyreSize size(String text) {
        return TyreSize.parse(text).value().orElseThrow();
    }

    @ParameterizedTest(name = "{0}")
    @CsvSource({
        "155/80R13, 4.5, 578, 157.32",
        "165/70R13, 5.0, 562, 169.60",
        "175/65R14, 5.0, 584, 176.80",
        "185/60R14, 5.5, 578, 189.08",
        "195/65R15, 6.0, 635, 201.36",
        "195/50R15, 6.0, 577, 201.36",
        "205/55R16, 6.5, 632, 213.64",
        "225/45R17, 7.5, 634, 224.70",
        "235/40R18, 8.5, 645, 241.46"
    })
    void designSizeFollowsFromTheDesignation(String text, double rimInches, double diameter, double section) {
        TyreSize size = size(text);
        assertThat(TYRES.measuringRimMm(size)).hasValue(rimInches * 25.4);
        Checks.record(
                "TY-1", text + " diameter D, mm", TY_1, TY_1_MARK, diameter, TYRES.designDiameterMm(size), HALF_A_MM);
        Checks.record(
                "TY-1",
                text + " section width S on its measuring rim, mm",
                TY_1,
                TY_1_MARK,
                section,
                TYRES.sectionWidthMm(size, rimInches * 25.4),
                HALF_A_HUNDREDTH);
    }

    @Test
    void halfAnInchOfRimIsFiveMillimetresOfTyre() {
        TyreSize size = size("205/70R15");
        Checks.record(
                "TY-1",
                "change of S for 1/2 in of rim width, mm",
                TY_1,
                TY_1_MARK,
                5.08,
                TYRES.sectionWidthMm(size, 7.5 * 25.4) - TYRES.sectionWidthMm(size, 7 * 25.4),
                HALF_A_HUNDREDTH);
    }

    @ParameterizedTest(name = "{0}")
    @CsvSource({"205/55R16, 6.5, 222.2, 640.5", "195/65R15, 6.0, 209.4, 644.6"})
    void theLargestTyreOfASizeIsWhatRoomIsLeftFor(String text, double rimInches, double section, double diameter) {
        TyreSize size = size(text);
        Checks.record(
                "TY-2",
                text + " largest section, mm",
                TY_2,
                TY_2_MARK,
                section,
                TYRES.largestSectionWidthMm(size, rimInches * 25.4),
                HALF_A_TENTH);
        Checks.record(
                "TY-2",
                text + " largest diameter, mm",
                TY_2,
                TY_2_MARK,
                diameter,
                TYRES.largestDiameterMm(size),
                HALF_A_TENTH);
    }

    @ParameterizedTest(name = "class {0}")
    @CsvSource({"S, 37, 15", "U, 50, 23", "W, 63.5, 38"})
    void roomForSnowChainsIsThatOfTheirClass(String saeClass, double tread, double side) {
        Tyres.ChainRoom room = TYRES.chainRoom(saeClass).orElseThrow();
        // Printed in inches to the hundredth and again in mm to the whole or half mm: half a mm.
        Checks.record(
                "TY-4", "class " + saeClass + " tread face, mm", TY_4, "seen", tread, room.treadFaceMm(), HALF_A_MM);
        Checks.record("TY-4", "class " + saeClass + " side wall, mm", TY_4, "seen", side, room.sideWallMm(), HALF_A_MM);
    }

    @Test
    void designationsAreReadAsTheyStandOnSideWalls() {
        assertThat(size("P205/70 R 15 96T").written()).isEqualTo("205/70R15");
        assertThat(size("LT235/75R15").written()).isEqualTo("235/75R15");
        assertThat(size("205/55ZR16").written()).isEqualTo("205/55R16");
        TyreSize inch = size("31x10.50R15LT");
        assertThat(inch.diameterMm()).isEqualTo(787.4, within(EXACT_MM));
        assertThat(TYRES.sectionWidthMm(inch, 8.5 * 25.4)).isEqualTo(10.5 * 25.4, within(EXACT_MM));
        assertThat(TYRES.designDiameterMm(inch)).isEqualTo(787.4, within(EXACT_MM));
    }

    @ParameterizedTest
    @ValueSource(strings = {"205", "205/70", "205/7R15", "207/70R15", "12x10R15", "205/70R1", "big", ""})
    void whatIsNoDesignationIsRefused(String text) {
        assertThat(TyreSize.parse(text).value()).as(text).isEmpty();
    }

    @Test
    void backspacingIsHalfTheOverallWidthAndTheOffset() {
        // 7 in between the seats is 8 in over all: 4 in of backspacing is no offset.
        assertThat(TYRES.offsetMm(4 * 25.4, 7 * 25.4)).isEqualTo(0, within(EXACT_MM));
        assertThat(TYRES.offsetMm(5 * 25.4, 7 * 25.4)).isEqualTo(25.4, within(EXACT_MM));
    }

    @Test
    void aWheelIsHollowWhereTheCaliperLivesAndItsFaceIsAtTheOffset() {
        Tyres.Fitment fitment = new Tyres.Fitment(size("205/70R15"), 7 * 25.4, 30, true, true);
        Shape.Group group = (Shape.Group) TYRES.shape(fitment, new Spot(0, 700, 300), Direction.LEFT);
        assertThat(group.members()).hasSize(5);
        Shape.Turned tyre = (Shape.Turned) group.members().get(0);
        assertThat(tyre.profile().stream().mapToDouble(Flat::y).min()).hasValue(381 / 2.0);
        assertThat(tyre.profile().stream().mapToDouble(Flat::y).max())
                .hasValue(TYRES.largestDiameterMm(fitment.size()) / 2);
        Shape.Turned disc = (Shape.Turned) group.members().get(4);
        assertThat(disc.profile().stream().mapToDouble(Flat::x).min()).hasValue(30);
        // Nothing but the disc comes nearer to the axis than the inside of the barrel.
        double barrel = group.members().subList(0, 4).stream()
                .flatMap(member -> ((Shape.Turned) member).profile().stream())
                .mapToDouble(Flat::y)
                .min()
                .orElseThrow();
        assertThat(barrel).isGreaterThan(150);
    }

    @Test
    void anUnknownSectionOfTheTableIsRefusedWithItsPlace() {
        assertThatThrownBy(() -> Tyres.read("tyres.yaml", "tyres: 1\nrims: {}\n"))
                .isInstanceOf(CarFileException.class)
                .hasMessageContaining("tyres.yaml:2:1: the table has no key \"rims\"");
    }
}
