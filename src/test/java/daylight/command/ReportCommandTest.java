package daylight.command;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ReportCommandTest {
    private final StringWriter out = new StringWriter();
    private final StringWriter err = new StringWriter();

    @TempDir
    private Path folder;

    private int run(String... words) {
        Terminal terminal = new Terminal(new PrintWriter(out), new PrintWriter(err), false, false);
        return Daylight.run(List.of(words), terminal, car -> {
            throw new AssertionError("no window was asked for");
        });
    }

    @Test
    void writesEveryFormAndSaysSo() throws IOException {
        Path pdf = folder.resolve("a.pdf");
        Path html = folder.resolve("a.html");
        Path json = folder.resolve("a.json");
        Path csv = folder.resolve("a.CSV");
        int status = run(
                "report",
                DaylightTest.PEDAL.toString(),
                "--to",
                pdf.toString(),
                "--to",
                html.toString(),
                "--to",
                json.toString(),
                "--to",
                csv.toString(),
                "--paper",
                "a4",
                "--date",
                "1 May");
        assertThat(status).as(err.toString()).isEqualTo(1);
        assertThat(out.toString()).isEmpty();
        assertThat(err.toString().lines()).hasSize(4).allMatch(line -> line.startsWith("written: "));
        assertThat(new String(Files.readAllBytes(pdf), 0, 5, StandardCharsets.ISO_8859_1))
                .isEqualTo("%PDF-");
        assertThat(Files.readString(html)).contains("<td class=\"code\">1 May</td>");
        JsonNode read = new ObjectMapper().readTree(json.toFile());
        assertThat(read.get("sha256").asText()).matches("[0-9a-f]{64}");
        assertThat(read.get("gaps").get("pairs")).isNotEmpty();
        assertThat(Files.readString(csv)).startsWith("state,first,second");
    }

    @Test
    void jsonGoesToTheOutputWhenAsked() throws IOException {
        assertThat(run("report", DaylightTest.PEDAL.toString(), "--json")).isEqualTo(1);
        assertThat(new ObjectMapper().readTree(out.toString()).get("verdict").asText())
                .startsWith("Not clear: 1 pair rubs");
    }

    @Test
    void aFileOfNoKnownKindIsRefusedBeforeAnythingIsComputed() {
        assertThat(run("report", DaylightTest.PEDAL.toString(), "--to", "report.doc"))
                .isEqualTo(2);
        assertThat(err.toString())
                .contains("--to takes a file that ends in .pdf, .html, .json or .csv, not report.doc");
    }

    @Test
    void paperOfNoKnownSizeIsRefused() {
        assertThat(run("report", DaylightTest.PEDAL.toString(), "--paper", "A9"))
                .isEqualTo(2);
        assertThat(err.toString()).contains("--paper takes A4 or letter, not \"A9\"");
    }

    @Test
    void aFolderThatIsNotThereIsSaid() {
        Path lost = folder.resolve("none").resolve("a.csv");
        assertThat(run("report", DaylightTest.PEDAL.toString(), "--to", lost.toString()))
                .isEqualTo(2);
        assertThat(err.toString()).contains("the report cannot be written to " + lost);
    }
}
