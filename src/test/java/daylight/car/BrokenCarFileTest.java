package daylight.car;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import java.util.random.RandomGenerator;
import java.util.random.RandomGeneratorFactory;
import java.util.regex.Pattern;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Each file in {@code broken} has one mistake, and on its first line the one complaint that it must give. */
class BrokenCarFileTest {
    static final Path FOLDER = Path.of("src/test/resources/broken");
    private static final String EXPECT = "# expect: ";

    static Stream<Path> files() throws IOException {
        try (Stream<Path> files = Files.list(FOLDER)) {
            return files.filter(file -> file.toString().endsWith(".yaml")).sorted().toList().stream();
        }
    }

    static Stream<Path> layouts() throws IOException {
        try (Stream<Path> files = Files.list(Path.of("src/test/resources/broken-layouts"))) {
            return files.sorted().toList().stream();
        }
    }

    static List<Complaint> complaints(Path file) {
        CarFileException told = catchThrowableOfType(CarFileException.class, () -> {
            if (file.startsWith(FOLDER)) {
                CarFile.read(file);
            } else {
                Layouts.read(String.valueOf(file.getFileName()), Files.readString(file));
            }
        });
        assertThat(told).as("%s was read without a complaint", file).isNotNull();
        return told.complaints();
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource({"files", "layouts"})
    void oneMistakeGivesOneClearComplaint(Path file) throws IOException {
        String first = new String(Files.readAllBytes(file), StandardCharsets.ISO_8859_1)
                .lines()
                .findFirst()
                .orElse("");
        assertThat(first).startsWith(EXPECT);
        assertThat(complaints(file))
                .extracting(Complaint::toString)
                .containsExactly(file.getFileName() + ":" + first.substring(EXPECT.length()));
    }

    @Test
    void everyKindOfComplaintHasAFileThatShowsIt() throws IOException {
        Set<Complaint.Kind> shown = EnumSet.noneOf(Complaint.Kind.class);
        Stream.concat(files(), layouts())
                .forEach(file -> complaints(file).forEach(complaint -> {
                    shown.add(complaint.kind());
                    assertThat(complaint.line()).as(complaint.toString()).isPositive();
                    assertThat(complaint.column()).as(complaint.toString()).isPositive();
                    assertThat(complaint.advice())
                            .as(complaint.toString())
                            .isNotBlank()
                            .endsWith(".");
                    assertThat(complaint.toString().lines()).as("one line").hasSize(1);
                    assertThat(complaint.toString())
                            .matches(Pattern.compile(Pattern.quote(complaint.file()) + ":\\d+:\\d+: .+\\. .+\\."));
                }));
        assertThat(shown).containsExactlyInAnyOrderElementsOf(Arrays.asList(Complaint.Kind.values()));
    }

    @Test
    void allMistakesOfAFileAreToldInOneRunAndInItsOrder() {
        CarFileException told = catchThrowableOfType(CarFileException.class, () -> CarFile.read("three.yaml", """
                daylight: 1
                car: three mistakes
                units: in
                points:
                  peg A: [1, 2]
                tape:
                  - {from: peg A, to: peg C, reads: 3}
                parts:
                  nut: {on: chasis, ball: {centre: peg A, diameter: 1}}
                """));
        assertThat(told.complaints()).extracting(Complaint::line).containsExactly(5, 7, 9);
    }

    @Test
    void anEmptyFileIsToldAsSuch() {
        CarFileException told = catchThrowableOfType(CarFileException.class, () -> CarFile.read("empty.yaml", ""));
        assertThat(told.complaints())
                .extracting(Complaint::toString)
                .containsExactly("empty.yaml:1:1: the file is empty. A file is a group of keys, each with a colon and a"
                        + " value. Begin with the line daylight: 1.");
    }

    @Test
    void aFileThatIsNotThereIsToldAsSuch() {
        CarFileException told =
                catchThrowableOfType(CarFileException.class, () -> CarFile.read(Path.of("no-such-car.yaml")));
        assertThat(told.complaints().get(0).toString())
                .isEqualTo("no-such-car.yaml:1:1: there is no file no-such-car.yaml. Check the name and the folder.");
    }

    @Test
    void columnsCountCharactersNotBytes() {
        CarFileException told = catchThrowableOfType(
                CarFileException.class,
                () -> CarFile.read(
                        "wide.yaml", "daylight: 1\ncar: \ud83d\ude97\nunits: mm\nnote: {\ud83d\ude97: 1}\n"));
        assertThat(told.complaints().get(0).column()).isEqualTo(7);
        assertThat(told.complaints().get(0).line()).isEqualTo(4);
    }

    static IntStream seeds() {
        return IntStream.range(0, 40);
    }

    /** A slip of the finger anywhere in a good file gives a car or complaints, and nothing else. */
    @ParameterizedTest(name = "seed {0}")
    @MethodSource("seeds")
    void whateverIsTypedGivesACarOrComplaints(int seed) throws IOException {
        RandomGenerator random = RandomGeneratorFactory.of("L64X128MixRandom").create(seed);
        Path sample = seed % 2 == 0 ? CarFileTest.INCHES : Path.of("src/test/resources/cars/millimetres.yaml");
        String good = Files.readString(sample, StandardCharsets.UTF_8);
        for (int i = 0; i < 25; i++) {
            String text = good;
            for (int slips = 1 + random.nextInt(3); slips > 0; slips--) {
                text = slipped(text, random);
            }
            try {
                assertThat(CarFile.read("slip.yaml", text).name()).isNotNull();
            } catch (CarFileException e) {
                assertThat(e.complaints())
                        .as("seed %d, slip %d", seed, i)
                        .isNotEmpty()
                        .isSorted();
            } catch (RuntimeException e) {
                throw new AssertionError("seed " + seed + ", slip " + i + ":\n" + text, e);
            }
        }
    }

    private static String slipped(String text, RandomGenerator random) {
        String[] pieces = {
            " ",
            "\n",
            ":",
            ",",
            "-",
            "[",
            "]",
            "{",
            "}",
            "'",
            "\"",
            "#",
            "&",
            "*",
            "!",
            "|",
            ">",
            "%",
            "@",
            "0",
            "-1",
            "1e9",
            ".nan",
            "\t",
            "~",
            "null",
            "true",
            "in",
            "mm",
            "\u00bd",
            "\u0000",
            "\ud83d\ude97",
            "? ",
            "- ",
            "---\n",
            "<<: "
        };
        int at = random.nextInt(text.length());
        int to = Math.min(text.length(), at + 1 + random.nextInt(random.nextInt(10) == 0 ? 200 : 4));
        return switch (random.nextInt(5)) {
            case 0 -> text.substring(0, at) + text.substring(to);
            case 1 -> text.substring(0, at) + pieces[random.nextInt(pieces.length)] + text.substring(at);
            case 2 -> text.substring(0, at) + pieces[random.nextInt(pieces.length)] + text.substring(to);
            case 3 -> text.substring(0, to) + text.substring(at);
            default -> {
                // A line that stands somewhere else.
                List<String> lines = new ArrayList<>(text.lines().toList());
                lines.add(random.nextInt(lines.size()), lines.remove(random.nextInt(lines.size())));
                yield String.join("\n", lines) + "\n";
            }
        };
    }
}
