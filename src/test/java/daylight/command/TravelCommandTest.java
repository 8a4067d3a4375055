package daylight.command;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import daylight.car.Car;
import daylight.car.CarFile;
import daylight.car.CarFileException;
import daylight.car.Layouts;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringReader;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import javax.xml.parsers.DocumentBuilderFactory;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVRecord;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.xml.sax.InputSource;

/** {@code travel}, {@code layouts} and {@code new}: exit statuses, both streams, and what programs read of them. */
class TravelCommandTest {
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
    void starter() throws IOException {
        Ran made = run("new", "front left=double-a-arm-rack", "rear=live-axle-leaf", "hood=hinged-panel", "--in", "in");
        assertThat(made.status).isZero();
        carFile = folder.resolve("car.yaml");
        Files.writeString(carFile, made.out, StandardCharsets.UTF_8);
    }

    @Test
    void starterHasEveryPointWithHowToMeasureIt() throws CarFileException, IOException {
        Car car = CarFile.read(carFile);
        assertThat(car.mechanisms())
                .extracting(m -> m.name())
                .containsExactly("front left", "front right", "rear", "hood");
        String text = Files.readString(carFile);
        Layouts.named("double-a-arm-rack")
                .orElseThrow()
                .points()
                .forEach(point -> assertThat(text)
                        .contains("front left " + point.name() + ":")
                        .contains("# " + point.measure()));
    }

    @Test
    void starterRefusesTwoOfOneName() {
        Ran ran = run("new", "trailing-arm", "trailing-arm");
        assertThat(ran.status).isEqualTo(2);
        assertThat(ran.err).contains("two mechanisms are called").contains("NAME=LAYOUT");
        assertThat(ran.out).isEmpty();
    }

    @Test
    void travelSaysWhereEachMovementEndsAndTables() {
        Ran ran = run("travel", carFile.toString());
        assertThat(ran.status).isZero();
        assertThat(ran.out)
                .contains("front left bump goes the stated 3 9/16 in")
                .contains("Front left wheel, over its travel, steering straight:")
                .contains("Front right wheel, over its travel, steering straight: as front left wheel.")
                .contains("Front axle, over steering, at ride height:")
                .contains("Rear, in roll")
                .contains("Never go under a car that only a jack holds.");
        assertThat(ran.out.lines().mapToInt(String::length).max().orElse(0)).isLessThan(140);
        assertThat(run("travel", carFile.toString()).out)
                .as("same input, same bytes")
                .isEqualTo(ran.out);
    }

    @Test
    void csvHasOneRowPerPositionAndTheUnitInTheHeading() throws IOException {
        Ran text = run("travel", carFile.toString(), "--csv");
        assertThat(text.status).isZero();
        List<CSVRecord> rows = CSVFormat.RFC4180
                .builder()
                .setHeader()
                .setSkipHeaderRecord(true)
                .get()
                .parse(new StringReader(text.out))
                .getRecords();
        CSVRecord rest = rows.stream()
                .filter(r -> r.get("of").equals("front left wheel") && Double.parseDouble(r.get("travel (in)")) == 0)
                .findFirst()
                .orElseThrow();
        assertThat(Double.parseDouble(rest.get("camber (deg)"))).isZero();
        assertThat(Double.parseDouble(rest.get("caster (deg)"))).isBetween(2.5, 3.5);
        assertThat(rest.get("Ackermann error (deg)"))
                .as("a wheel has no Ackermann error")
                .isEmpty();
    }

    @Test
    void jsonSaysTheSameInMillimetresWithMeanings() throws IOException {
        Ran text = run("travel", carFile.toString(), "--json");
        assertThat(text.status).isZero();
        JsonNode json = new ObjectMapper().readTree(text.out);
        assertThat(json.get("lengths").asText()).isEqualTo("mm");
        assertThat(json.get("ranges").get(0).get("highest").asDouble()).isBetween(90.0, 91.0);
        JsonNode first = json.get("tables").get(0);
        assertThat(first.get("of").asText()).isEqualTo("front left wheel");
        first.get("curves").forEach(curve -> {
            assertThat(curve.get("meaning").asText()).isNotBlank();
            assertThat(curve.get("values").size())
                    .isEqualTo(first.get("along").get("values").size());
        });
    }

    @Test
    void curvesAreDrawnAFileATable() throws Exception {
        Path pictures = folder.resolve("curves");
        Ran ran = run("travel", carFile.toString(), "--svg", pictures.toString());
        assertThat(ran.status).isZero();
        List<Path> drawn = new ArrayList<>();
        try (Stream<Path> files = Files.list(pictures)) {
            files.sorted().forEach(drawn::add);
        }
        assertThat(drawn)
                .extracting(p -> p.getFileName().toString())
                .contains("front-left-wheel-over-its-travel.svg", "front-axle-over-steering.svg", "rear-in-roll.svg");
        for (Path file : drawn) {
            String svg = Files.readString(file);
            assertThat(DocumentBuilderFactory.newInstance()
                            .newDocumentBuilder()
                            .parse(new InputSource(new StringReader(svg)))
                            .getDocumentElement()
                            .getTagName())
                    .isEqualTo("svg");
            assertThat(svg)
                    .as(file.toString())
                    .contains("<path d=\"M ")
                    .doesNotContain("NaN")
                    .doesNotContain("Infinity");
        }
    }

    @Test
    void bindIsStatusOne() throws IOException {
        String text = Files.readString(carFile).replace("bump: 3 9/16", "bump: 20");
        Files.writeString(carFile, text);
        Ran ran = run("travel", carFile.toString());
        assertThat(ran.status).isEqualTo(1);
        assertThat(ran.out)
                .contains("because it is next to a dead point: front left hardly holds there")
                .contains("stated 20 in");
    }

    @Test
    void wrongInputIsStatusTwoWithAdvice() {
        assertThat(run("travel", folder.resolve("none.yaml").toString()).status).isEqualTo(2);
        String[][] wrong = {
            {"--step", "0", "not more than zero"},
            {"--step", "three", "is not a length"},
            {"--cg-height", "20", "--front-brakes"},
            {"--wheelbase", "-3", "not more than zero"}
        };
        for (String[] row : wrong) {
            Ran ran = run("travel", carFile.toString(), row[0], row[1]);
            assertThat(ran.status).as(row[0]).isEqualTo(2);
            assertThat(ran.err).as(row[0]).contains(row[2]);
            assertThat(ran.out).as(row[0]).isEmpty();
        }
        Ran misspelt = run("layouts", "double-a-arm-rakc");
        assertThat(misspelt.status).isEqualTo(2);
        assertThat(misspelt.err).contains("Nearest: \"double-a-arm-rack\"");
    }

    @Test
    void weightsGiveSharesOfPitch() {
        Ran ran = run("travel", carFile.toString(), "--cg-height", "21", "--front-brakes", "60");
        assertThat(ran.status).isZero();
        assertThat(ran.out).contains("anti-dive").contains("anti-squat");
    }

    @Test
    void layoutsAreDrawnAFileALayout() throws IOException {
        Path pictures = folder.resolve("layouts");
        assertThat(run("layouts", "--svg", pictures.toString()).status).isZero();
        try (Stream<Path> files = Files.list(pictures)) {
            assertThat(files).hasSize(Layouts.names().size());
        }
        Ran none = run("layouts", "strut-rack", "--svg", carFile.toString());
        assertThat(none.status).isEqualTo(Daylight.WRONG_INPUT);
        assertThat(none.err).contains("the pictures cannot be written to");
    }

    @Test
    void layoutsSayWhatToMeasure() throws IOException {
        Ran list = run("layouts");
        assertThat(list.status).isZero();
        Layouts.names().forEach(name -> assertThat(list.out).contains(name));
        Ran one = run("layouts", "strut-rack");
        assertThat(one.out)
                .contains("strut top mount")
                .contains("Measure, at ride height:")
                .contains("If known: strut closed");
        assertThat(run("layouts", "--all").out).contains("Measure, at ride height:");
        assertThat(run("layouts", "--csv").out.lines().count())
                .isEqualTo(1
                        + Layouts.names().stream()
                                .mapToInt(n ->
                                        Layouts.named(n).orElseThrow().points().size())
                                .sum());
        assertThat(new ObjectMapper().readTree(run("layouts", "--json").out).size())
                .isEqualTo(Layouts.names().size());
    }

    /** The example at the foot of each command's help does what it says. */
    @ParameterizedTest
    @ValueSource(strings = {"travel", "layouts", "new"})
    void helpExampleRuns(String command) {
        Ran help = run(command, "--help");
        assertThat(help.status).isZero();
        Matcher example = Pattern.compile("Example: daylight ([^>\n]*)").matcher(help.out);
        assertThat(example.find()).as(help.out).isTrue();
        List<String> words = new ArrayList<>();
        Matcher word = Pattern.compile("\"([^\"]*)\"|(\\S+)").matcher(example.group(1));
        while (word.find()) {
            words.add(word.group(1) != null ? word.group(1) : word.group(2));
        }
        assertThat(words.get(0)).isEqualTo(command);
        Ran ran = run(words.toArray(new String[0]));
        assertThat(ran.status).as(ran.err).isZero();
        assertThat(ran.out).isNotBlank();
    }
}
