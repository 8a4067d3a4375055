package daylight.demo;

import static org.assertj.core.api.Assertions.assertThat;

import daylight.car.CarFile;
import daylight.car.CarFileException;
import daylight.car.MeasuringSheet;
import daylight.command.Daylight;
import daylight.command.Terminal;
import daylight.survey.MeasuredCar;
import daylight.survey.MeasuredPoints;
import daylight.survey.Suspect;
import daylight.units.LengthFormat;
import daylight.units.Progress;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

/** The pickup's measuring sheet and its planted slip: see {@code demo/README.md}. */
class DemoSurveyTest {
    private static final Path PICKUP = Path.of("demo/harbour-pickup.yaml");
    private static final Path AGAIN = Path.of("demo/harbour-pickup-measured-again.yaml");
    /** A reading that is left out hardly moves what dozens of others hold, mm. */
    private static final double HARDLY_MM = 0.5;

    /** The readings of a sheet, one a line; points may be added to the pickup that its sheet does not speak of. */
    private static List<String> readings(Path file) throws IOException {
        return Files.readString(file, StandardCharsets.UTF_8)
                .lines()
                .dropWhile(line -> !line.equals("tape:"))
                .takeWhile(line -> !line.equals("mechanisms:"))
                .filter(line -> line.startsWith("  - {"))
                .toList();
    }

    private static String run(int status, String... words) {
        StringWriter out = new StringWriter();
        StringWriter err = new StringWriter();
        Terminal terminal = new Terminal(new PrintWriter(out), new PrintWriter(err), false, false);
        assertThat(Daylight.run(List.of(words), terminal, file -> {}))
                .as(err.toString())
                .isEqualTo(status);
        return out.toString();
    }

    @Test
    void atLeastFifteenPointsAreKnownByTapeAlone() throws CarFileException {
        assertThat(CarFile.open(PICKUP).sheet().points())
                .filteredOn(entry -> entry.written() instanceof MeasuringSheet.Written.ByTape)
                .hasSizeGreaterThanOrEqualTo(15);
        assertThat(MeasuredPoints.of(CarFile.open(PICKUP), Progress.SILENT)
                        .adjustment()
                        .allFixed())
                .isTrue();
    }

    @Test
    void plantedSlipIsFoundAndNamedAsThePageSays() throws CarFileException, IOException {
        List<Suspect> suspects = MeasuredCar.read(PICKUP).suspects();
        assertThat(suspects).hasSize(1);
        assertThat(suspects.get(0).accused()).hasSize(1);
        assertThat(suspects.get(0).first().reading()).isEqualTo("lf upper ball joint to peg L");
        assertThat(LengthFormat.SIXTEENTHS.bare(suspects.get(0).first().probablyTrue()))
                .isEqualTo("23 1/2");
        String wrong = run(Daylight.NOT_CLEAR, "measure", PICKUP.toString())
                .lines()
                .filter(line -> line.startsWith("Wrong: "))
                .findFirst()
                .orElseThrow();
        assertThat(Files.readString(Path.of("demo/README.md"), StandardCharsets.UTF_8))
                .contains(wrong + "\n");
    }

    @Test
    void measuredAgainAllReadingsAgree() {
        assertThat(run(Daylight.CLEAR, "measure", AGAIN.toString())).doesNotContain("Wrong");
    }

    @Test
    void slipThatIsLeftOutBendsNothing() throws CarFileException {
        var slipped = MeasuredPoints.of(CarFile.open(PICKUP), Progress.SILENT)
                .adjustment()
                .points();
        var again = MeasuredPoints.of(CarFile.open(AGAIN), Progress.SILENT)
                .adjustment()
                .points();
        for (String point : again.names()) {
            assertThat(slipped.spot(point).distanceTo(again.spot(point)))
                    .as(point)
                    .isLessThan(HARDLY_MM);
        }
    }

    @Test
    void sheetMeasuredAgainDiffersInTheOneReading() throws IOException {
        List<String> first = readings(PICKUP);
        List<String> second = readings(AGAIN);
        assertThat(first).hasSizeGreaterThan(90);
        List<String> changed = new ArrayList<>(second);
        changed.removeAll(first);
        assertThat(second).hasSameSizeAs(first);
        assertThat(changed).hasSize(1);
        assertThat(changed.get(0)).contains("lf upper ball joint, to: peg L, reads: 23 1/2");
    }
}
