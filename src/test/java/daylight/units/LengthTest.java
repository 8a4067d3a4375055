package daylight.units;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.validation.Checks;
import java.util.random.RandomGenerator;
import java.util.random.RandomGeneratorFactory;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

class LengthTest {
    /** Closed form: one multiplication of an exact fraction by 25.4. */
    private static final double EXACT_MM = 1e-12;

    @ParameterizedTest(name = "{0} is {1} mm")
    @CsvSource(
            delimiter = ';',
            quoteCharacter = '`',
            value = {
                "14 3/8 in; 365.125",
                "14-3/8\"; 365.125",
                "14 3/8; 365.125",
                "1' 2 3/8\"; 365.125",
                "1'-2 3/8\"; 365.125",
                "1'2-3/8\"; 365.125",
                "1' 2 3/8; 365.125",
                "1 ft 2 3/8 in; 365.125",
                "1 ft. 2 3/8 in.; 365.125",
                "1 Foot 2.375 Inches; 365.125",
                "1\u2032 2\u215c\u2033; 365.125",
                "1' 2 3/8''; 365.125",
                "3/16; 4.7625",
                "\u00bd; 12.7",
                "2\u00bd; 63.5",
                "2 \u00be in; 69.85",
                "3 1\u20444; 82.55",
                "0.28; 7.112",
                ".28; 7.112",
                "365.1 mm; 365.1",
                "365.1mm; 365.1",
                "36.5 cm; 365",
                "1.2 m; 1200",
                "2 ft; 609.6",
                "1 1/2 ft; 457.2",
                "-1/16; -1.5875",
                "\u22121/16; -1.5875",
                "- 1/16 in; -1.5875",
                "-1' 2\"; -355.6",
                "+2; 50.8",
                "0; 0",
                "-0; 0",
                "36,5 cm; 365",
                "0,125; 3.175",
                "1,25 mm; 1.25",
                "1/3; 8.466666666666667",
                "2\u00a03/8; 60.325"
            })
    void readsWhatIsReadOffATape(String text, double mm) {
        Parsed<Length> read = Length.parse(text, Unit.INCH);
        assertThat(read).as(text).isInstanceOf(Parsed.Read.class);
        assertThat(read.value().orElseThrow().mm()).as(text).isEqualTo(mm, within(EXACT_MM));
    }

    @ParameterizedTest(name = "{0}: {1}")
    @CsvSource(
            delimiter = ';',
            quoteCharacter = '`',
            value = {
                "3 1/4 inn; \"inn\" is no unit",
                "3 1/4 inn; Write it as 3 1/4 in, 82.6 mm, or a bare number (in).",
                "143/8; 143/8 is not less than one",
                "3/0; divides by zero",
                "1,234; may be 1.234 or 1234",
                "1,234.5; thousands separator",
                "1.2.3; two decimal points",
                "14.5 3/8; both a decimal and a fraction",
                "1/2 1/4; nothing says how \"1/4\" belongs",
                "14 - 3/8; no unit",
                "in; a number is missing",
                "-; a number is missing",
                "1 ft 3 cm; inches go after feet",
                "2 in 1 ft; left over",
                "1' 2'; inches go after feet",
                "1' 2\" 3; left over",
                "1e3; exponent",
                "1.5E-3; exponent",
                "NaN; a number is missing",
                ".nan; is not a length",
                "3 # 4; means nothing here",
                "1.5/8; decimal in a fraction",
                "--1; a number is missing",
                "5 furlongs; no unit"
            })
    void refusesWhatIsNoLengthAndSaysWhy(String text, String expected) {
        Parsed<Length> read = Length.parse(text, Unit.INCH);
        assertThat(read).as(text).isInstanceOf(Parsed.Refused.class);
        Parsed.Refused<Length> refused = (Parsed.Refused<Length>) read;
        assertThat(refused.reason() + ". " + refused.advice())
                .contains(expected)
                .contains("\"" + text + "\"");
        assertThat(refused.advice()).startsWith("Write").endsWith(".");
    }

    @Test
    void anEmptyTextIsAMissingLength() {
        assertThat(Length.parse("  ", Unit.MILLIMETRE))
                .isEqualTo(new Parsed.Refused<>(
                        "a length is missing",
                        "Write a length as 14 3/8 in, 1 ft 2 3/8 in, 365.1 mm, or a bare number (mm)."));
    }

    @Test
    void aNumberTooLongForADoubleIsRefused() {
        assertThat(Length.parse("9".repeat(400), Unit.INCH)).isInstanceOf(Parsed.Refused.class);
    }

    @Test
    void anInchIsExactly25Point4Mm() {
        assertThat(Length.of(1, Unit.INCH).mm()).isEqualTo(25.4);
        assertThat(Length.of(1, Unit.FOOT).mm()).isEqualTo(304.8);
        assertThat(new Length(25.4).inches()).isEqualTo(1);
    }

    static IntStream seeds() {
        return IntStream.range(0, 40);
    }

    @ParameterizedTest(name = "seed {0}")
    @MethodSource("seeds")
    void whatIsPrintedIsReadBackWithinHalfAStep(int seed) {
        RandomGenerator random = RandomGeneratorFactory.of("L64X128MixRandom").create(seed);
        LengthFormat[] formats = {
            LengthFormat.SIXTEENTHS,
            LengthFormat.THIRTY_SECONDS,
            LengthFormat.SIXTY_FOURTHS,
            LengthFormat.TENTHS_OF_MM,
            LengthFormat.feet(8),
            LengthFormat.inches(1),
            LengthFormat.decimals(Unit.CENTIMETRE, 2),
            LengthFormat.decimals(Unit.INCH, 3),
            LengthFormat.exact(Unit.INCH),
            LengthFormat.exact(Unit.MILLIMETRE),
        };
        for (int i = 0; i < 200; i++) {
            // Sizes from a hundredth of a millimetre to fifty metres, on the step, between steps, and either sign.
            double mm = Math.pow(10, random.nextDouble(-2, 4.7)) * (random.nextBoolean() ? 1 : -1);
            LengthFormat format = formats[random.nextInt(formats.length)];
            mm = i % 5 == 0 ? format.nearest(mm) : i % 7 == 0 ? format.nearest(mm) + format.stepMm() / 2 : mm;
            String text = format.print(mm);
            double back = Length.parse(text, Unit.METRE)
                    .value()
                    .orElseThrow(() -> new AssertionError("seed " + seed + ": " + text))
                    .mm();
            assertThat(back)
                    .as("seed %d: %s printed as %s", seed, mm, text)
                    .isEqualTo(mm, within(format.stepMm() / 2 + Math.abs(mm) * 1e-14));
            assertThat(format.print(back)).as("printing again").isEqualTo(text);
        }
    }

    @Test
    void printsAsABuilderReads() {
        assertThat(LengthFormat.SIXTEENTHS.print(365.125)).isEqualTo("14 3/8 in");
        assertThat(LengthFormat.SIXTEENTHS.print(-1.5875)).isEqualTo("-1/16 in");
        assertThat(LengthFormat.SIXTEENTHS.print(-0.1)).isEqualTo("0 in");
        assertThat(LengthFormat.SIXTEENTHS.print(25.3)).isEqualTo("1 in");
        assertThat(LengthFormat.SIXTEENTHS.bare(12.7)).isEqualTo("1/2");
        assertThat(LengthFormat.THIRTY_SECONDS.print(0.79375)).isEqualTo("1/32 in");
        assertThat(LengthFormat.TENTHS_OF_MM.print(365.125)).isEqualTo("365.1 mm");
        assertThat(LengthFormat.TENTHS_OF_MM.print(-0.04)).isEqualTo("0.0 mm");
        assertThat(LengthFormat.feet(16).print(365.125)).isEqualTo("1 ft 2 3/8 in");
        assertThat(LengthFormat.feet(16).print(304.7)).isEqualTo("1 ft 0 in");
        assertThat(LengthFormat.feet(16).print(-50.8)).isEqualTo("-2 in");
        assertThat(LengthFormat.exact(Unit.INCH).print(25.4 * 0.28)).isEqualTo("0.28 in");
        assertThat(LengthFormat.exact(Unit.INCH).print(25.4 * 3.25)).isEqualTo("3 1/4 in");
        assertThat(LengthFormat.exact(Unit.MILLIMETRE).print(1200)).isEqualTo("1200 mm");
    }

    @Test
    void aCutIsRoundedUpToAMarkOnTheTape() {
        assertThat(LengthFormat.SIXTEENTHS.notBelow(25.4)).isEqualTo(25.4, within(EXACT_MM));
        assertThat(LengthFormat.SIXTEENTHS.notBelow(25.41)).isEqualTo(25.4 + 1.5875, within(EXACT_MM));
        assertThat(LengthFormat.SIXTEENTHS.notBelow(-1)).isEqualTo(0, within(EXACT_MM));
    }

    /** UN-5: printed to six decimals, so half of the sixth. */
    private static final double UN_5_MM = 5e-7;

    @Test
    void aReadingInSixteenthsIsUncertainByItsRounding() {
        Checks.record(
                "UN-5",
                "a tape read to the nearest 1/16 in, rectangular, mm",
                "JCGM 100:2008, Guide to the expression of uncertainty in measurement, 4.3",
                "recomputed",
                0.458272,
                LengthFormat.SIXTEENTHS.roundingUncertaintyMm(),
                UN_5_MM);
    }

    @Test
    void stepsHaveNames() {
        assertThat(LengthFormat.named("1/32").value()).contains(LengthFormat.THIRTY_SECONDS);
        assertThat(LengthFormat.named("mm").value()).contains(LengthFormat.TENTHS_OF_MM);
        assertThat(LengthFormat.named("1/3").value()).isEmpty();
    }
}
