package daylight.command;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;
import org.junit.jupiter.api.io.TempDir;

/** The command line: exit statuses, what goes to which stream, and that the examples in the help work. */
class DaylightTest {
    /** A whole car: a pedal that swings past a bracket. Shown in the README. */
    static final Path PEDAL = Path.of("src", "test", "resources", "cars", "pedal.yaml");

    private final StringWriter out = new StringWriter();
    private final StringWriter err = new StringWriter();
    private final List<Optional<Path>> opened = new ArrayList<>();

    private int run(String... words) {
        Terminal terminal = new Terminal(new PrintWriter(out), new PrintWriter(err), false, false);
        return Daylight.run(List.of(words), terminal, opened::add);
    }

    @Test
    void withoutWordsItSaysWhatItCanDo() {
        assertThat(run()).isEqualTo(0);
        assertThat(out.toString()).contains("gaps", "bench", "Example: daylight gaps demo/harbour-pickup.yaml");
        assertThat(err.toString()).isEmpty();
    }

    @Test
    void aCarWithARubGivesStatusOneAndItsTableOnTheOutput() {
        assertThat(run("gaps", PEDAL.toString())).as(err.toString()).isEqualTo(1);
        assertThat(out.toString()).contains("pedal arm / column bracket", "rub", "Geometry, not strength");
        assertThat(err.toString()).isEmpty();
    }

    @Test
    void jsonParsesAndHasBothSpotsAndTheHandles() throws IOException {
        assertThat(run("gaps", PEDAL.toString(), "--json")).isEqualTo(1);
        JsonNode json = new ObjectMapper().readTree(out.toString());
        for (JsonNode pair : json.get("pairs")) {
            assertThat(pair.get("on first")).hasSize(3);
            assertThat(pair.get("on second")).hasSize(3);
            assertThat(pair.get("at").get("handles")).isNotEmpty();
        }
    }

    @Test
    void csvHasOneRowAPair() {
        assertThat(run("gaps", PEDAL.toString(), "--csv")).isEqualTo(1);
        assertThat(out.toString().lines().count()).isGreaterThan(1);
        assertThat(out.toString()).startsWith("state,first,second,gap at ride height (in)");
    }

    @Test
    void aCarWithNothingThatMovesIsToldWhatToAdd(@TempDir Path folder) throws IOException {
        Path still = Files.writeString(folder.resolve("still.yaml"), """
                daylight: 1
                car: Stands still
                units: mm
                parts:
                  a: {on: chassis, ball: {centre: [0, 0, 0], diameter: 10}}
                """);
        assertThat(run("gaps", still.toString())).isEqualTo(0);
        assertThat(out.toString())
                .contains("No two parts move against one another")
                .doesNotContain("Proved");
    }

    @Test
    void aMissingFileIsOneClearLineAndStatusTwo() {
        assertThat(run("gaps", "nowhere.yaml")).isEqualTo(2);
        assertThat(err.toString().lines()).hasSize(1);
        assertThat(err.toString()).contains("nowhere.yaml");
        assertThat(out.toString()).isEmpty();
    }

    @Test
    void aWrongOptionNamesTheNearestAndStatusTwo() {
        assertThat(run("gaps", PEDAL.toString(), "--jsno")).isEqualTo(2);
        assertThat(err.toString()).contains("--jsno", "--json").doesNotContain("\tat ");
    }

    @Test
    void aWrongSubcommandNamesTheNearest() {
        assertThat(run("gap", PEDAL.toString())).isEqualTo(2);
        assertThat(err.toString()).contains("gaps");
    }

    @Test
    void aWrongUnitIsRefused() {
        assertThat(run("gaps", PEDAL.toString(), "--in", "cubits")).isEqualTo(2);
        assertThat(err.toString()).contains("cubits");
    }

    @Test
    void aToleranceOfZeroIsRefused() {
        assertThat(run("gaps", PEDAL.toString(), "--known-to", "0")).isEqualTo(2);
        assertThat(err.toString()).contains("--known-to");
    }

    @Test
    void benchOpensTheWindowOnTheFile() {
        assertThat(run("bench", PEDAL.toString())).isEqualTo(0);
        assertThat(opened).containsExactly(Optional.of(PEDAL));
    }

    @Test
    void theOutputIsTheSameInACountryWithDecimalCommas(@TempDir Path folder) throws IOException {
        Path copy = Files.copy(PEDAL, folder.resolve("pedal.yaml"));
        Locale before = Locale.getDefault(Locale.Category.FORMAT);
        run("gaps", copy.toString(), "--in", "mm");
        String usual = out.toString();
        out.getBuffer().setLength(0);
        try {
            Locale.setDefault(Locale.Category.FORMAT, Locale.forLanguageTag("tr-TR"));
            run("gaps", copy.toString(), "--in", "mm");
        } finally {
            Locale.setDefault(Locale.Category.FORMAT, before);
        }
        assertThat(out.toString()).isEqualTo(usual);
    }

    @TestFactory
    Stream<DynamicTest> eachBrokenCarFileGivesOneErrorWithItsPlaceAndStatusTwo() throws IOException {
        Path folder = Path.of("src", "test", "resources", "broken");
        List<Path> files;
        try (Stream<Path> all = Files.list(folder)) {
            files = all.sorted().toList();
        }
        assertThat(files).hasSizeGreaterThanOrEqualTo(20);
        return files.stream()
                .map(file -> DynamicTest.dynamicTest(file.getFileName().toString(), () -> {
                    StringWriter wrong = new StringWriter();
                    Terminal terminal =
                            new Terminal(new PrintWriter(new StringWriter()), new PrintWriter(wrong), false, false);
                    int status = Daylight.run(List.of("gaps", file.toString()), terminal, opened::add);
                    assertThat(status).as(wrong.toString()).isEqualTo(2);
                    assertThat(wrong.toString().lines()).as(wrong.toString()).hasSize(1);
                    assertThat(wrong.toString())
                            .containsPattern(java.util.regex.Pattern.quote(
                                            file.getFileName().toString()) + ":\\d+:\\d+: ");
                }));
    }
}
