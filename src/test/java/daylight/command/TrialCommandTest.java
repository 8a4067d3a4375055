package daylight.command;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** {@code daylight trial} and {@code daylight trim} on the pedal that swings past a bracket. */
class TrialCommandTest {
    private final StringWriter out = new StringWriter();
    private final StringWriter err = new StringWriter();

    @TempDir
    private Path folder;

    private Path car;

    @BeforeEach
    void write() throws IOException {
        car = folder.resolve("pedal.yaml");
        Files.writeString(car, Files.readString(DaylightTest.PEDAL).stripTrailing() + """


                trials:
                  bracket aside: [{move: column bracket, by: [0, 6, 0]}]
                  bracket nearer: [{move: column bracket, by: [0, -1/4, 0]}]
                """);
    }

    private int run(String... words) {
        out.getBuffer().setLength(0);
        err.getBuffer().setLength(0);
        return Daylight.run(
                List.of(words), new Terminal(new PrintWriter(out), new PrintWriter(err), false, false), file -> {});
    }

    @Test
    void withoutANameItListsTheTrials() {
        assertThat(run("trial", car.toString())).as(err.toString()).isEqualTo(0);
        assertThat(out.toString()).contains("bracket aside", "column bracket moved 6 in to the left");
    }

    @Test
    void trialThatClearsSaysSoAndLeavesTheFileAlone() throws IOException {
        String before = Files.readString(car);
        assertThat(run("trial", car.toString(), "bracket aside"))
                .as(err.toString())
                .isEqualTo(0);
        assertThat(out.toString()).contains("rub > clear  pedal arm / column bracket", "0 rub, 0 tight");
        assertThat(Files.readString(car)).isEqualTo(before);
    }

    @Test
    void trialThatMakesItWorseSaysOne() throws IOException {
        assertThat(run("trial", car.toString(), "bracket nearer", "--json")).isEqualTo(1);
        JsonNode json = new ObjectMapper().readTree(out.toString());
        assertThat(json.get("pairs").get(0).get("turn").asText()).isEqualTo("worse");
        assertThat(run("trial", car.toString(), "bracket nearer", "--csv")).isEqualTo(1);
        assertThat(out.toString()).startsWith("turn,first,second,state before,state,least gap before (in)");
    }

    @Test
    void adoptedTrialIsInTheFileAndTheOldFileIsKept() throws IOException {
        String before = Files.readString(car);
        assertThat(run("trial", car.toString(), "bracket aside", "--adopt")).isEqualTo(0);
        assertThat(err.toString()).contains("adopted:", "pedal.previous.yaml");
        assertThat(Files.readString(folder.resolve("pedal.previous.yaml"))).isEqualTo(before);
        assertThat(Files.readString(car)).contains("moved: [0, 6, 0]").doesNotContain("bracket aside");
        assertThat(run("gaps", car.toString())).isEqualTo(0);
    }

    @Test
    void wrongNamesAreToldWithWhatThereIs() {
        assertThat(run("trial", car.toString(), "bracket asid")).isEqualTo(2);
        assertThat(err.toString()).contains("no trial is called \"bracket asid\"", "\"bracket aside\"");
        assertThat(run("trim", car.toString(), "pedal arm")).isEqualTo(2);
        assertThat(err.toString()).contains("no part that is a plate is called \"pedal arm\"", "column bracket");
        assertThat(run("trial", car.toString(), "--find", "most lump=rear")).isEqualTo(2);
        assertThat(err.toString()).contains("most bump, lowest ride, widest tyre or backspacing");
        assertThat(run("trial", car.toString(), "--find", "most bump=rear")).isEqualTo(2);
        assertThat(err.toString()).contains("nothing in this car file");
    }

    @Test
    void cutThatClearsAtNinetyFivePerCentShowsTheLowEndOfEachGap() throws IOException {
        assertThat(run("trim", car.toString(), "column bracket", "--json")).isEqualTo(1);
        double plain = area();
        assertThat(run("trim", car.toString(), "column bracket", "--at-95", "--json"))
                .as(err.toString())
                .isEqualTo(1);
        assertThat(area()).as("room for doubt takes more metal").isGreaterThan(plain);
        JsonNode after = new ObjectMapper()
                .readTree(out.toString())
                .get("cuts")
                .get(0)
                .get("after")
                .get(0);
        assertThat(after.get("floor").asDouble()
                        - after.get("half of its 95 % interval").asDouble())
                .isGreaterThanOrEqualTo(after.get("required").asDouble() - 0.001);
        assertThat(run("trim", car.toString(), "column bracket", "--at-95")).isEqualTo(1);
        assertThat(out.toString()).contains("low at 95 %", "with what each gap's 95 % interval takes off");
    }

    private double area() throws IOException {
        return new ObjectMapper()
                .readTree(out.toString())
                .get("cuts")
                .get(0)
                .get("area off")
                .asDouble();
    }

    @Test
    void leastCutIsSaidMarkedAndPrinted() throws IOException {
        Path pdf = folder.resolve("cut.pdf");
        assertThat(run("trim", car.toString(), "column bracket", "--template", pdf.toString(), "--paper", "a4"))
                .as(err.toString())
                .isEqualTo(1);
        assertThat(out.toString())
                .contains("rub", "Cuts that clear", "to try it, under trials:", "metal left", "for someone qualified");
        assertThat(Files.readAllBytes(pdf)).startsWith('%', 'P', 'D', 'F');
        assertThat(run("trim", car.toString(), "column bracket", "--json")).isEqualTo(1);
        assertThat(new ObjectMapper().readTree(out.toString()).get("cuts")).isNotEmpty();
        assertThat(run("trim", car.toString(), "column bracket", "--template", "cut.doc"))
                .isEqualTo(2);
        assertThat(err.toString()).contains(".pdf or .svg");
    }
}
