package daylight.car;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import daylight.geometry.Spot;
import daylight.units.Unit;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.random.RandomGenerator;
import java.util.random.RandomGeneratorFactory;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

class CarDocumentTest {
    /** Three coordinates, each within half a millionth of an inch. */
    private static final double HALF_A_MILLIONTH_MM = 25.4e-6;

    private static final String SMALL = """
            # kept
            daylight: 1
            car: small   # kept too
            units: in

            points:
              peg A: [1, 2, 3]            # first
              peg B: {at: [4, 5 1/2, 6], note: "in chalk"}
            # between
            rules:
              - {between: [any, any], at least: 1/2}   # the only one
            note:
            """;

    private static CarDocument small() {
        return CarDocument.of("small.yaml", SMALL);
    }

    @Test
    void anUnchangedDocumentIsByteForByteTheSame() throws CarFileException, IOException {
        byte[] bytes = Files.readAllBytes(CarFileTest.INCHES);
        assertThat(CarFile.open(CarFileTest.INCHES).toText().getBytes(StandardCharsets.UTF_8))
                .isEqualTo(bytes);
    }

    @Test
    void aChangedValueChangesItsOwnCharactersOnly() {
        CarDocument changed = small().withValue(List.of("points", "peg B", "at", "1"), "5 5/8");
        assertThat(changed.toText()).isEqualTo(SMALL.replace("5 1/2", "5 5/8"));
        assertThat(small().withValue(List.of("car"), "small: the second").toText())
                .isEqualTo(SMALL.replace("car: small ", "car: 'small: the second' "));
        assertThat(small().withValue(List.of("note"), "new").toText())
                .isEqualTo(SMALL.replace("note:\n", "note: new\n"));
    }

    @Test
    void anEntryIsAddedAfterTheLastInItsGroupAndAsItsNeighboursAreSetIn() {
        assertThat(small().withEntry(List.of("points"), "peg C", "[7, 8, 9]").toText())
                .isEqualTo(SMALL.replace("in chalk\"}\n", "in chalk\"}\n  peg C: [7, 8, 9]\n"));
        assertThat(small().withEntry(List.of("points", "peg B"), "within", "1/8")
                        .toText())
                .isEqualTo(SMALL.replace("in chalk\"}", "in chalk\", within: 1/8}"));
        assertThat(small().withEntry(List.of("parts"), "nut", "{on: chassis}").toText())
                .isEqualTo(SMALL + "parts: {nut: {on: chassis}}\n");
        assertThat(small().withItem(List.of("rules"), "{between: [a, b], at least: 2}")
                        .toText())
                .isEqualTo(SMALL.replace("only one\n", "only one\n  - {between: [a, b], at least: 2}\n"));
        assertThat(small().withEntry(List.of(), "invented", "true").toText()).isEqualTo(SMALL + "invented: true\n");
    }

    @Test
    void anEntryThatIsTakenAwayTakesItsLineAndNothingElse() {
        assertThat(small().without(List.of("points", "peg A")).toText())
                .isEqualTo(SMALL.replace("  peg A: [1, 2, 3]            # first\n", ""));
        assertThat(small().without(List.of("points", "peg B", "note")).toText())
                .isEqualTo(SMALL.replace(", note: \"in chalk\"", ""));
        assertThat(small().without(List.of("points", "peg B", "at")).toText())
                .isEqualTo(SMALL.replace("at: [4, 5 1/2, 6], ", ""));
        assertThat(small().without(List.of("units")).toText()).isEqualTo(SMALL.replace("units: in\n", ""));
    }

    @Test
    void whatDoesNotFitIsRefusedAndNothingIsChanged() {
        assertThatThrownBy(() -> small().withValue(List.of("points", "peg X"), "1"))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("peg X");
        assertThatThrownBy(() -> small().withValue(List.of("points"), "1"))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("not one value");
        assertThatThrownBy(() -> small().withEntry(List.of("points"), "peg A", "[1, 2, 3]"))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("already");
        assertThatThrownBy(() -> small().withEntry(List.of("points"), "peg C", "[1, 2\ncar: other"))
                .isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> small().withEntry(List.of("points"), "peg C", "[1, 2, 3]\n  peg D: [1, 2, 3]"))
                .isInstanceOf(IllegalArgumentException.class);
    }

    static IntStream seeds() {
        return IntStream.range(0, 60);
    }

    @ParameterizedTest(name = "seed {0}")
    @MethodSource("seeds")
    void anyValueCanBeWrittenAnywhereAndBackAgain(int seed) throws CarFileException, IOException {
        RandomGenerator random = RandomGeneratorFactory.of("L64X128MixRandom").create(seed);
        String original = Files.readString(CarFileTest.INCHES, StandardCharsets.UTF_8);
        if (seed % 3 == 1) {
            original = original.replace("\n", "\r\n");
        } else if (seed % 3 == 2) {
            original = "\ufeff" + original.replace("bench no. 1", "b\u00e9nch \ud83d\ude97 no. 1");
        }
        CarDocument document = CarDocument.of("car.yaml", original);
        List<List<String>> places = new ArrayList<>(List.of(
                List.of("car"),
                List.of("note"),
                List.of("points", "lf lower ball joint", "at", "2"),
                List.of("points", "lf lower ball joint", "note"),
                List.of("points", "lf upper arm front pivot", "0"),
                List.of("parts", "bracket", "plate", "holes", "0", "diameter"),
                List.of("rules", "1", "at least"),
                List.of("trials", "chamfer the bracket", "0", "cut", "along top edge")));
        for (int i = 0; i < 12; i++) {
            List<String> path = places.get(random.nextInt(places.size()));
            String before = document.value(path).orElseThrow();
            String value = value(random);
            CarDocument changed = document.withValue(path, value);
            assertThat(changed.value(path)).as("seed %d, %s", seed, path).contains(value);
            int same = commonPrefix(document.toText(), changed.toText());
            assertThat(changed.toText().substring(0, same))
                    .isEqualTo(document.toText().substring(0, same));
            CarDocument back = changed.withValue(path, before);
            assertThat(back.value(path)).contains(before);
            assertThat(back.toText().lines().filter(line -> line.contains("#")).toList())
                    .as("comments of seed %d", seed)
                    .isEqualTo(document.toText()
                            .lines()
                            .filter(line -> line.contains("#"))
                            .toList());
            document = changed;
        }
    }

    private static int commonPrefix(String a, String b) {
        int i = 0;
        while (i < Math.min(a.length(), b.length()) && a.charAt(i) == b.charAt(i)) {
            i++;
        }
        return i;
    }

    private static String value(RandomGenerator random) {
        String[] nasty = {
            "14 3/8",
            "1' 2 3/8\"",
            "",
            "~",
            "null",
            "- a",
            "a: b",
            "a #b",
            "[1",
            "}",
            "'",
            "\"",
            "\\",
            "&x",
            "*x",
            "!x",
            "%",
            "@",
            "`",
            "a\nb",
            "a\tb",
            "\u2028",
            "caf\u00e9",
            "\ud83d\ude97",
            "---",
            "...",
            "? ",
            ",",
            "#",
            " a ",
            ": ",
            "a, b",
            "key: [1, 2",
            "true",
            "1_000",
            "0x10",
            "\u00a0",
            "\u0007"
        };
        StringBuilder value = new StringBuilder(nasty[random.nextInt(nasty.length)]);
        while (random.nextInt(3) == 0) {
            value.append(nasty[random.nextInt(nasty.length)]);
        }
        return value.toString();
    }

    @Test
    void savingIsWholeAndKeepsTheVersionBefore(@TempDir Path folder) throws CarFileException, IOException {
        Path file = folder.resolve("car.yaml");
        CarFile.save(file, "one\r\n");
        assertThat(names(folder)).containsExactly("car.yaml");
        CarFile.save(file, "two\r\n");
        assertThat(Files.readString(file)).isEqualTo("two\r\n");
        assertThat(Files.readString(CarFile.previous(file))).isEqualTo("one\r\n");
        assertThat(CarFile.previous(file).getFileName()).hasToString("car.previous.yaml");
        assertThat(names(folder)).containsExactly("car.previous.yaml", "car.yaml");
    }

    @Test
    void aSaveThatFailsLosesNothing(@TempDir Path folder) throws IOException {
        // A folder that is a file cannot take a new file, whoever runs the test.
        Path notAFolder = Files.writeString(folder.resolve("plain"), "kept");
        CarFileException told = catchThrowableOfType(
                CarFileException.class, () -> CarFile.save(notAFolder.resolve("car.yaml"), "lost"));
        assertThat(told.complaints().get(0).toString())
                .startsWith("car.yaml:1:1: the file cannot be saved (")
                .endsWith("The old file is as it was. Save under another name or in another folder.");
        assertThat(Files.readString(notAFolder)).isEqualTo("kept");
        // A folder in the file's place cannot be replaced; nothing else may be left behind.
        Path taken = Files.createDirectories(folder.resolve("taken.yaml").resolve("inside"));
        assertThat(catchThrowableOfType(
                        CarFileException.class, () -> CarFile.save(folder.resolve("taken.yaml"), "lost")))
                .isNotNull();
        assertThat(Files.exists(taken)).isTrue();
        assertThat(names(folder)).noneMatch(name -> name.endsWith(".saving"));
    }

    private static List<String> names(Path folder) throws IOException {
        try (Stream<Path> files = Files.list(folder)) {
            return files.map(path -> path.getFileName().toString()).sorted().toList();
        }
    }

    @ParameterizedTest
    @ValueSource(strings = {",", ";", "\t"})
    void pointsGoOutToASpreadsheetAndComeBack(String between) throws CarFileException {
        Car car = CarFile.read(CarFileTest.INCHES);
        List<Car.Point> measured = car.points().stream()
                .filter(point -> point.mirrorOf().isEmpty())
                .toList();
        String table = PointsTable.write(car.points(), car.unit());
        assertThat(table).startsWith("name,x,y,z,within,note\nlf lower arm front pivot,5.875,13,9.5,0.0625,\n");
        List<Car.Point> back = PointsTable.read(
                "points.csv",
                table.replace(",", between),
                car.unit(),
                car.about().withinMm());
        assertThat(back).hasSameSizeAs(measured);
        for (int i = 0; i < back.size(); i++) {
            assertThat(back.get(i).name()).isEqualTo(measured.get(i).name());
            // The table holds millionths of an inch.
            assertThat(back.get(i).at().distanceTo(measured.get(i).at())).isLessThan(25.4e-6);
            assertThat(back.get(i).note()).isEqualTo(measured.get(i).note());
        }
    }

    @Test
    void importedPointsChangePlacesAndKeepWhatElseIsWritten() throws CarFileException {
        List<Car.Point> points = PointsTable.read("points.csv", """
                Name;X;Y;Z;Note
                peg B;4;5,75;6;
                "peg, C";1 ft 2 in;-1/2;0;"two
                lines"
                """, Unit.INCH, 1);
        CarDocument changed = small().withPoints(points, Unit.INCH);
        assertThat(changed.toText()).isEqualTo(SMALL.replace("""
                        [4, 5 1/2, 6], note: "in chalk"}
                        """, """
                        [4, 5 3/4, 6], note: "in chalk"}
                          "peg, C": {at: [14, -1/2, 0], within: 0.03937, note: "two\\u000alines"}
                        """));
    }

    @Test
    void aBrokenTableIsToldByRowAndCell() {
        CarFileException told = catchThrowableOfType(
                CarFileException.class, () -> PointsTable.read("points.csv", """
                        name,x,y,z
                        peg A,1,2,3
                        peg A,1,,3
                        ,1,2,3
                        peg D,1,2,high
                        """, Unit.MILLIMETRE, 1));
        assertThat(told.complaints())
                .extracting(c -> c.line() + ":" + c.column() + " " + c.kind())
                .containsExactly("3:1 TWICE", "3:3 MISSING", "4:1 MISSING", "5:4 NOT_A_LENGTH");
        assertThat(catchThrowableOfType(
                                CarFileException.class, () -> PointsTable.read("p.csv", "nam,x,y,z\n", Unit.INCH, 1))
                        .complaints()
                        .get(0)
                        .toString())
                .isEqualTo("p.csv:1:1: the table has no column \"nam\". Nearest: \"name\".");
        assertThat(catchThrowableOfType(CarFileException.class, () -> PointsTable.read("p.csv", "", Unit.INCH, 1))
                        .complaints())
                .hasSize(1);
    }

    @ParameterizedTest(name = "seed {0}")
    @MethodSource("seeds")
    void aCarReadFromWhatWasWrittenIsTheSameCar(int seed) throws CarFileException, IOException {
        RandomGenerator random = RandomGeneratorFactory.of("L64X128MixRandom").create(seed);
        CarDocument document = CarFile.open(CarFileTest.INCHES);
        Car car = document.car();
        List<Car.Point> moved = new ArrayList<>();
        for (Car.Point point : car.points()) {
            if (point.mirrorOf().isEmpty() && !point.name().startsWith("peg")) {
                // Whole sixty-fourths and millionths of an inch are written exactly.
                double step = random.nextBoolean() ? 25.4 / 64 : 25.4 / 1e6;
                moved.add(new Car.Point(
                        point.name(),
                        new Spot(
                                point.at().x() + step * random.nextInt(100),
                                point.at().y() + step * random.nextInt(100),
                                point.at().z() + step * random.nextInt(100)),
                        point.withinMm(),
                        point.note()));
            }
        }
        Car back = document.withPoints(moved, car.unit()).car();
        for (Car.Point point : moved) {
            Car.Point read = back.point(point.name()).orElseThrow();
            assertThat(read.at().distanceTo(point.at())).as(point.name()).isLessThan(HALF_A_MILLIONTH_MM);
            assertThat(read.note()).isEqualTo(point.note());
            assertThat(read.withinMm()).isEqualTo(point.withinMm());
        }
        assertThat(back.parts())
                .extracting(Car.Part::name)
                .isEqualTo(car.parts().stream().map(Car.Part::name).toList());
        assertThat(document.withPoints(
                                back.points().stream()
                                        .filter(point -> point.mirrorOf().isEmpty()
                                                && !point.name().startsWith("peg"))
                                        .toList(),
                                car.unit())
                        .car())
                .isEqualTo(back);
    }
}
