package daylight.survey;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.survey.Network.Graduation;
import daylight.units.Length;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class SlipsTest {
    private static final double INCH = Length.MM_PER_INCH;
    private static final double U = 0.6;

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                // reads in | fits in | what is said first
                "37.3125 | 36.3125 | an inch slip, or the tape started at its 1 in mark and the inch was not taken off",
                "36.3125 | 37.3125 | an inch slip, or an inch was taken off though the hook was used",
                "36.3125 | 38.3125 | a slip of 2 in",
                "36.3125 | 48.3125 | a slip of a foot",
                "36.3125 | 12.3125 | a slip of 2 ft",
                "37.3125 | 73.3125 | a slip of 3 ft",
                "42.5    | 24.5    | two digits swapped",
                "14.5    | 15      | half an inch misread",
                "14.25   | 14.5    | a quarter misread",
                "14.25   | 14.375  | an eighth misread",
                "14.5    | 0.570866| millimetres taken for inches",
                "10      | 254     | inches taken for millimetres",
            })
    void usualSlipsAreRecognised(double reads, double fits, String words) {
        List<Slip> slips = of(new Observation.Distance("d", "a", "b", reads * INCH, U), fits * INCH, 0.3);
        assertThat(slips).as("reads %s, fits %s", reads, fits).isNotEmpty();
        assertThat(slips.get(0).words()).isEqualTo(words);
    }

    @Test
    void aSlipThatNothingUsualExplainsHasNoName() {
        assertThat(of(new Observation.Distance("d", "a", "b", 500, U), 500 + 0.37 * INCH, U))
                .isEmpty();
    }

    @Test
    void whatCannotBeToldIsNotSaid() {
        // Known to 12 mm only, an inch more or less cannot be told.
        assertThat(of(new Observation.Distance("d", "a", "b", 500, U), 500 + INCH, 12))
                .isEmpty();
    }

    @Test
    void aMetricTapeSlipsByCentimetres() {
        Equation equation =
                new Observation.Distance("d", "a", "b", 512, U).equations().get(0);
        assertThat(Slips.of(equation, 502.2, U, Graduation.MILLIMETRES)).contains(new Slip.WholeCentimetres(1));
        assertThat(Slips.of(equation, 612, U, Graduation.MILLIMETRES)).contains(new Slip.WholeCentimetres(-10));
        assertThat(Slips.of(equation, 1512, U, Graduation.MILLIMETRES)).contains(new Slip.WholeCentimetres(-100));
        assertThat(new Slip.WholeCentimetres(-100).words()).isEqualTo("a slip of a metre");
    }

    @ParameterizedTest
    @CsvSource({"FORWARD, ahead and behind", "LEFT, left and right", "UP, above and below"})
    void aLostSignIsNamedByItsAxis(Axis axis, String words) {
        List<Slip> slips = of(new Observation.Coordinate("c", "p", axis, 0, -300, U), 300.5, U);
        assertThat(slips.get(0)).isEqualTo(new Slip.OtherSide(words));
    }

    @Test
    void probablyTrueIsTheReadingLessTheSlipExactly() {
        Suspect.Accused accused = new Suspect.Accused(
                "d",
                "",
                Equation.Quantity.LENGTH,
                37.3125 * INCH,
                36.32 * INCH,
                U,
                9,
                List.of(new Slip.WholeInches(1)));
        assertThat(accused.probablyTrue()).isCloseTo(36.3125 * INCH, within(1e-9));
        assertThat(accused.error()).isCloseTo(0.9925 * INCH, within(1e-9));
    }

    private static List<Slip> of(Observation observation, double fits, double u) {
        return Slips.of(observation.equations().get(0), fits, u, Graduation.INCHES);
    }
}
