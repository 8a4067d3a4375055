package daylight.command;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringReader;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVRecord;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** {@code inspect}: exit statuses, both streams, and what programs read of them, on a car that does not move. */
class InspectCommandTest {
    private static final String CAR = """
            daylight: 1
            car: trolley
            units: mm
            rule lists: [ADR 43/04, NSRA inspection]
            parts:
              left front tyre: {on: chassis, tyre: {size: 205/70R15, rim width: 7 in, offset: 0, centre: [0, 740, 324], spindle: left}}
              right front tyre: {mirror: left front tyre}
              left rear tyre: {on: chassis, tyre: {size: 205/70R15, rim width: 7 in, offset: 0, centre: [-2500, 740, 324], spindle: left}}
              right rear tyre: {mirror: left rear tyre}
              exhaust hanger hook: {on: chassis, box: {from corner: [-1000, 0, 95], to corner: [-1010, 10, 200]}}
              left tie rod: {on: chassis, box: {from corner: [-100, 300, 200], to corner: [-110, 700, 220]}}
            """;

    @TempDir
    Path folder;

    private Path carFile = Path.of("");

    private record Ran(int status, String out, String err) {}

    private static Ran run(String... words) {
        StringWriter out = new StringWriter();
        StringWriter err = new StringWriter();
        int status = Daylight.run(
                List.of(words), new Terminal(new PrintWriter(out), new PrintWriter(err), false, false), car -> {});
        return new Ran(status, out.toString(), err.toString());
    }

    @BeforeEach
    void write() throws IOException {
        carFile = folder.resolve("trolley.yaml");
        Files.writeString(carFile, CAR, StandardCharsets.UTF_8);
    }

    @Test
    void whatIsTooLowFailsByItsClauseAndTheStatusSaysSo() {
        Ran ran = run("inspect", carFile.toString());
        assertThat(ran.err()).isEmpty();
        assertThat(ran.status()).isEqualTo(Daylight.NOT_CLEAR);
        assertThat(ran.out())
                .contains("fail  running clearance", "exhaust hanger hook 95.0 mm at [-1000.0, 10.0, 95.0]")
                .contains("by ADR 43/04, 6.6")
                .contains("Only the local authority decides what passes")
                .contains("2 parts have no kind");
    }

    @Test
    void jsonAndCsvSayTheSame() throws IOException {
        JsonNode json = new ObjectMapper()
                .readTree(run("inspect", carFile.toString(), "--json").out());
        assertThat(json.path("verdict").asText()).isEqualTo("fail");
        JsonNode clearance = json.path("findings").get(0);
        assertThat(clearance.path("found").asDouble()).isEqualTo(95);
        assertThat(clearance.path("rule").path("clause").asText()).isEqualTo("6.6");
        assertThat(json.path("stances")).hasSizeGreaterThan(10);
        List<CSVRecord> rows = CSVFormat.RFC4180
                .builder()
                .setHeader()
                .setSkipHeaderRecord(true)
                .get()
                .parse(new StringReader(
                        run("inspect", carFile.toString(), "--csv").out()))
                .getRecords();
        assertThat(rows.get(0).get("verdict")).isEqualTo("fail");
        assertThat(rows.get(0).get("part")).isEqualTo("exhaust hanger hook");
        assertThat(rows.get(0).get("figure (mm)")).isEqualTo("95.00");
        assertThat(rows).allSatisfy(row -> assertThat(row.get("rule list")).isNotBlank());
    }

    @Test
    void anotherListMayBeAskedForAndAnUnknownOneIsRefused() {
        Ran ran = run("inspect", carFile.toString(), "--by", "BC inspection manual");
        assertThat(ran.out()).contains("below the rims").doesNotContain("ADR");
        Ran wrong = run("inspect", carFile.toString(), "--by", "BC manual");
        assertThat(wrong.status()).isEqualTo(Daylight.WRONG_INPUT);
        assertThat(wrong.err()).contains("no rule list is called \"BC manual\". Known: common practice, NSRA");
    }

    @Test
    void listsAreShownWithTheirSources() {
        assertThat(run("inspect", carFile.toString(), "--show-lists").out())
                .startsWith("ADR 43/04: Australian Design Rule 43/04")
                .contains("crest, angle 7.6 deg (6.4.3)")
                .contains("shock travel left, at least 50.8 mm (item 14)");
    }

    @Test
    void guessesAreShownAndOnlyWrittenWhenAskedFor() throws IOException {
        Ran shown = run("inspect", carFile.toString(), "--guess-kinds");
        assertThat(shown.status()).isZero();
        assertThat(shown.out()).contains("left tie rod: steering (\"tie rod\")").contains("Nothing was changed");
        assertThat(Files.readString(carFile)).isEqualTo(CAR);
        run("inspect", carFile.toString(), "--write-kinds");
        assertThat(Files.readString(carFile)).contains("kinds: [steering]}");
        assertThat(folder.resolve("trolley.previous.yaml")).hasContent(CAR);
    }

    @Test
    void aCountryWithADecimalCommaChangesNothing() {
        String plain = run("inspect", carFile.toString(), "--csv").out();
        Locale before = Locale.getDefault();
        try {
            Locale.setDefault(Locale.GERMANY);
            assertThat(run("inspect", carFile.toString(), "--csv").out()).isEqualTo(plain);
        } finally {
            Locale.setDefault(before);
        }
    }

    @Test
    void aCarWithoutWheelsIsToBeLookedAtAndNothingIsMadeUp() throws IOException {
        Files.writeString(carFile, """
                daylight: 1
                car: frame
                units: mm
                rule lists: [ADR 43/04]
                parts:
                  rail: {on: chassis, box: {from corner: [0, 0, 100], to corner: [-1000, 50, 150]}}
                """);
        Ran ran = run("inspect", carFile.toString());
        assertThat(ran.out()).contains("look  running clearance", "fewer than three wheels");
        assertThat(ran.status()).isEqualTo(Daylight.NOT_CLEAR);
    }
}
