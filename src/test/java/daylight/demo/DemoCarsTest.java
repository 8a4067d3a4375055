package daylight.demo;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.offset;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonParser;
import com.fasterxml.jackson.core.JsonToken;
import daylight.car.Car;
import daylight.car.CarFileException;
import daylight.command.Daylight;
import daylight.command.Terminal;
import daylight.geometry.Direction;
import daylight.geometry.Pose;
import daylight.geometry.Shape;
import daylight.geometry.Solid;
import daylight.geometry.Spot;
import daylight.motion.Handle;
import daylight.motion.Kinematics;
import daylight.motion.Workspace;
import daylight.report.Wording;
import daylight.survey.MeasuredCar;
import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** The two demo cars stand for what the program promises: see {@code demo/README.md} for their stories. */
class DemoCarsTest {
    /** What the program has to agree to with the slow way, mm. */
    private static final double AGREES_MM = 0.01;
    /** Lengths in JSON are rounded to a tenth of a micrometre; a few of them make a distance, mm. */
    private static final double JSON_MM = 5e-4;

    /** A row of the table, as the story quotes it. */
    private static final Pattern QUOTED = Pattern.compile("^(rub|tight|clear) +[a-z]");

    private static final int TIGHTEST = 10;
    private static final int EVERY = 11;
    private static final int TIGHT_ONES_A_PAGE_CAN_TELL = 8;

    enum Demo {
        PICKUP("demo/harbour-pickup.yaml"),
        ROADSTER("demo/kit-roadster.yaml");

        final Path file;

        Demo(String file) {
            this.file = Path.of(file);
        }
    }

    /** What {@code gaps CAR --json} says, and what it says it with. */
    private record Answer(Car car, Said said, Map<String, Object> root, List<Row> rows) {}

    /** A row as the JSON has it: mm, handles in mm and degrees. */
    private record Row(
            String first,
            String second,
            String state,
            double rideMm,
            double leastMm,
            double floorMm,
            double requiredMm,
            double marginMm,
            String proof,
            Spot onFirst,
            Spot onSecond,
            Map<String, Double> handles,
            Map<String, Double> shifts) {
        String pair() {
            return DemoCarsTest.pair(first, second);
        }
    }

    /** Two names in one order, whichever way round the table has them. */
    private static String pair(String first, String second) {
        return first.compareTo(second) < 0 ? first + " / " + second : second + " / " + first;
    }

    private static final Map<Demo, Answer> ANSWERS = new EnumMap<>(Demo.class);

    @BeforeAll
    static void askTheCommandOnceForEach() throws CarFileException, IOException {
        for (Demo demo : Demo.values()) {
            Said said = run("gaps", demo.file.toString(), "--json");
            Map<String, Object> root = json(said.out);
            List<Row> rows = new ArrayList<>();
            for (Object pair : (List<?>) at(root, "pairs")) {
                rows.add(row(map(pair)));
            }
            ANSWERS.put(demo, new Answer(MeasuredCar.read(demo.file).car(), said, root, rows));
        }
    }

    private static Answer answer(Demo demo) {
        Answer answer = ANSWERS.get(demo);
        if (answer == null) {
            throw new AssertionError("not asked: " + demo);
        }
        return answer;
    }

    @ParameterizedTest
    @EnumSource
    void carIsInventedAndHasAtLeastThirtyParts(Demo demo) {
        assertThat(answer(demo).car.about().invented()).isTrue();
        assertThat(answer(demo).car.parts()).hasSizeGreaterThanOrEqualTo(30);
    }

    @Test
    void pickupIsWrittenInInchesAndRoadsterInMillimetres() {
        assertThat(answer(Demo.PICKUP).car.inches()).isTrue();
        assertThat(answer(Demo.ROADSTER).car.inches()).isFalse();
    }

    @Test
    void pickupRubsWhereItsStorySaysAndNowhereElse() {
        assertThat(pairs(Demo.PICKUP, "rub")).containsExactly("right sway-bar bracket / tailpipe");
    }

    @Test
    void pickupIsTightWhereItsStorySaysAndNowhereElse() {
        assertThat(pairs(Demo.PICKUP, "tight"))
                .containsExactly(
                        "flex joint / gas strut cylinder",
                        "left front hose / left front hose caliper end",
                        "left front hose / left front hose frame end",
                        "left front tyre / left inner fender",
                        "rear axle housing / tailpipe",
                        "right front hose / right front hose caliper end",
                        "right front hose / right front hose frame end",
                        "right front tyre / right inner fender");
    }

    @Test
    void roadsterIsTightWhereItsStorySaysAndRubsNowhere() {
        assertThat(pairs(Demo.ROADSTER, "rub")).isEmpty();
        assertThat(pairs(Demo.ROADSTER, "tight"))
                .containsExactly(
                        "driveshaft / driveshaft tunnel",
                        "left front tyre / left inner wing",
                        "right front tyre / right inner wing");
    }

    @ParameterizedTest
    @EnumSource
    void mostPairsAreClear(Demo demo) {
        assertThat(pairs(demo, "tight")).hasSizeLessThanOrEqualTo(TIGHT_ONES_A_PAGE_CAN_TELL);
        assertThat(pairs(demo, "clear").size()).isGreaterThanOrEqualTo(1000);
    }

    /** What two left-hand parts were measured for, their right-hand twins were measured for as well. */
    @ParameterizedTest
    @EnumSource
    void bothSidesAreLookedAt(Demo demo) {
        Set<String> parts =
                answer(demo).car.parts().stream().map(Car.Part::name).collect(Collectors.toSet());
        Set<String> measured = answer(demo).rows.stream().map(Row::pair).collect(Collectors.toSet());
        for (String pair : measured) {
            List<String> two = List.of(pair.replace("left ", "right ").split(" / "));
            String other = pair(two.get(0), two.get(1));
            boolean left = pair.startsWith("left ") && pair.contains(" / left ");
            if (left && parts.containsAll(two)) {
                assertThat(measured).as("the twin of %s", pair).contains(other);
            }
        }
    }

    /** A hose's shape is sampled, and its rows say so; what it can never reach is proved. */
    @Test
    void everyHoseIsAmongTheRowsAgainstEveryPart() {
        Answer pickup = answer(Demo.PICKUP);
        assertThat(pickup.car.hoses()).hasSize(4);
        for (Car.Hose hose : pickup.car.hoses()) {
            List<Row> mine = pickup.rows.stream()
                    .filter(row -> row.first.equals(hose.name())
                            && pickup.car.part(row.second).isPresent())
                    .toList();
            assertThat(mine)
                    .extracting(Row::second)
                    .hasSize(pickup.car.parts().size())
                    .doesNotHaveDuplicates();
            assertThat(mine).as(hose.name()).allSatisfy(row -> {
                assertThat(row.proof).as(row.pair()).isIn("unproved", "far apart");
                assertThat(row.floorMm).as(row.pair()).isLessThanOrEqualTo(row.leastMm);
                boolean pulls = row.second.startsWith(row.first);
                assertThat(row.state).as(row.pair()).isEqualTo(pulls ? "tight" : "clear");
            });
            assertThat(mine).filteredOn(row -> row.proof.equals("unproved")).hasSizeBetween(3, 60);
        }
        // Against what moves with its own wheel too.
        assertThat(row(pickup, "left front hose", "left front tyre").leastMm).isBetween(16.0, 60.0);
        assertThat(row(pickup, "left front hose", "left coil-over lower half").proof)
                .isEqualTo("unproved");
    }

    private static Row row(Answer answer, String first, String second) {
        return answer.rows.stream()
                .filter(row -> row.first.equals(first) && row.second.equals(second))
                .findFirst()
                .orElseThrow();
    }

    /** The rows of two parts; a hose is no part with a shape of its own. */
    private static List<Row> rigid(Demo demo) {
        Set<String> hoses =
                answer(demo).car.hoses().stream().map(Car.Hose::name).collect(Collectors.toSet());
        return answer(demo).rows.stream()
                .filter(row -> !hoses.contains(row.first))
                .toList();
    }

    @ParameterizedTest
    @EnumSource
    void everyRowOfTwoPartsIsProved(Demo demo) {
        double tolerance = (Double) at(answer(demo).root, "tolerance");
        for (Row row : rigid(demo)) {
            assertThat(row.proof).as(row.pair()).isIn("proved", "far apart");
            assertThat(row.floorMm).as(row.pair()).isLessThanOrEqualTo(row.leastMm);
            if (row.proof.equals("proved")) {
                assertThat(row.floorMm).as(row.pair()).isGreaterThanOrEqualTo(row.leastMm - tolerance - JSON_MM);
            }
        }
    }

    @ParameterizedTest
    @EnumSource
    void everyRuleAndExclusionSaysWhy(Demo demo) {
        assertThat(answer(demo).car.rules())
                .allSatisfy(
                        rule -> assertThat(rule.source()).as(rule.toString()).isPresent());
        assertThat(answer(demo).car.exclusions())
                .allSatisfy(exclusion -> assertThat(exclusion.reason()).isNotBlank());
    }

    /** An exclusion that excludes nothing is a leftover that would hide a later mistake. */
    @ParameterizedTest
    @EnumSource
    void everyExclusionExcludesSomething(Demo demo) {
        Set<String> used = new TreeSet<>();
        for (Object leftOut : (List<?>) at(answer(demo).root, "left out")) {
            used.add((String) at(map(leftOut), "because"));
        }
        assertThat(used)
                .containsAll(answer(demo).car.exclusions().stream()
                        .map(Car.Exclusion::reason)
                        .toList());
    }

    @ParameterizedTest
    @EnumSource
    void leastGapIsWhatTheSlowWayMeasuresThere(Demo demo) {
        Stand stand = new Stand(answer(demo).car);
        for (Row row : sample(demo)) {
            Shape first = stand.shape(row.first);
            Shape second = stand.shape(row.second);
            double slow = SurfaceGap.between(first, stand.pose(row.first, row), second, stand.pose(row.second, row));
            assertThat(row.leastMm)
                    .as("%s at %s %s, the slow way: %s", row.pair(), row.handles, row.shifts, slow)
                    .isBetween(slow - bends(first) - bends(second) - AGREES_MM, slow + AGREES_MM);
        }
    }

    @ParameterizedTest
    @EnumSource
    void gapAtRideHeightIsWhatTheSlowWayMeasures(Demo demo) {
        Stand stand = new Stand(answer(demo).car);
        for (Row row : sample(demo)) {
            Shape first = stand.shape(row.first);
            Shape second = stand.shape(row.second);
            double slow = SurfaceGap.between(first, Pose.RIDE_HEIGHT, second, Pose.RIDE_HEIGHT);
            assertThat(row.rideMm)
                    .as("%s, the slow way: %s", row.pair(), slow)
                    .isBetween(slow - bends(first) - bends(second) - AGREES_MM, slow + AGREES_MM);
        }
    }

    /** No position that the slow way is shown, off the program's own path, is nearer than the floor. */
    @ParameterizedTest
    @EnumSource
    void noPositionOfALooseGridIsBelowTheFloor(Demo demo) {
        Stand stand = new Stand(answer(demo).car);
        for (Row row : rigid(demo).subList(0, TIGHTEST)) {
            Shape first = stand.shape(row.first);
            Shape second = stand.shape(row.second);
            for (double share : new double[] {0.31, 0.62, 0.87, 1}) {
                Row part = stand.partOfTheWay(row, share);
                double slow =
                        SurfaceGap.between(first, stand.pose(part.first, part), second, stand.pose(part.second, part));
                assertThat(slow).as("%s at %s", row.pair(), part.handles).isGreaterThan(row.floorMm - AGREES_MM);
            }
        }
    }

    /** The two spots that the table shows lie on the two parts, where the table says that the parts stand. */
    @ParameterizedTest
    @EnumSource
    void witnessSpotsLieOnTheirParts(Demo demo) {
        Stand stand = new Stand(answer(demo).car);
        for (Row row : rigid(demo).subList(0, TIGHTEST)) {
            assertOnPart(stand, row, row.first, row.onFirst);
            assertOnPart(stand, row, row.second, row.onSecond);
        }
    }

    private static void assertOnPart(Stand stand, Row row, String part, Spot spot) {
        Shape shape = stand.shape(part);
        double off =
                SurfaceGap.between(new Shape.Ball(spot, JSON_MM / 10), Pose.RIDE_HEIGHT, shape, stand.pose(part, row));
        double most = AGREES_MM + bends(shape);
        assertThat(off).as("%s of %s", part, row.pair()).isBetween(-most, most);
    }

    /** Both spots and all that is needed to stand the car there again, in every row. */
    @ParameterizedTest
    @EnumSource
    void jsonHasBothSpotsAndTheHandlesOfEveryRow(Demo demo) {
        Workspace workspace = Workspace.of(answer(demo).car);
        Stand stand = new Stand(answer(demo).car);
        for (Row row : rigid(demo)) {
            assertThat(row.onFirst.distanceTo(row.onSecond))
                    .as(row.pair())
                    .isCloseTo(Math.abs(row.leastMm), offset(JSON_MM));
            Set<String> moving = new TreeSet<>();
            for (int handle : workspace.handlesOf(stand.body(row.first), stand.body(row.second))) {
                moving.add(workspace.handles().get(handle).name());
            }
            assertThat(new TreeSet<>(row.handles.keySet())).as(row.pair()).isEqualTo(moving);
        }
    }

    /** The page quotes the program; when a figure moves, the story has to be read again. */
    @Test
    void storyShowsWhatTheProgramPrints() throws IOException {
        String story = Files.readString(Path.of("demo/README.md"), StandardCharsets.UTF_8);
        for (Demo demo : Demo.values()) {
            int start = story.indexOf("[" + demo.file.getFileName() + "](" + demo.file.getFileName() + ")");
            int end = story.indexOf("### What is wrong with it", start);
            assertThat(start).as(demo.file.toString()).isNotNegative();
            String section = story.substring(start, end);
            assertThat(section).contains(answer(demo).car.parts().size() + " parts");
            assertThat(section).contains(answer(demo).rows.size() + " pairs");
            Wording wording = Wording.in(LengthFormat.usual(answer(demo).car.inches() ? Unit.INCH : Unit.MILLIMETRE));
            List<String> quoted =
                    section.lines().filter(line -> QUOTED.matcher(line).find()).toList();
            long faults = answer(demo).rows.stream()
                    .filter(row -> !row.state.equals("clear"))
                    .count();
            assertThat(quoted).hasSizeGreaterThanOrEqualTo((int) faults);
            for (int i = 0; i < quoted.size(); i++) {
                Row row = answer(demo).rows.get(i);
                assertThat(List.of(quoted.get(i).split(" {2,}")))
                        .containsExactly(
                                row.state,
                                row.first + " / " + row.second,
                                wording.gap(row.rideMm),
                                wording.gap(row.leastMm),
                                wording.required(row.requiredMm),
                                wording.gap(row.marginMm));
            }
        }
    }

    @Test
    void commandSaysOneWhenSomethingRubsAndPrintsNothingButJson() {
        assertThat(answer(Demo.PICKUP).said.status).isEqualTo(Daylight.NOT_CLEAR);
        assertThat(answer(Demo.PICKUP).said.err.lines())
                .as("nothing but the word about the slip of its tape")
                .singleElement()
                .asString()
                .startsWith("demo/harbour-pickup.yaml: one reading cannot be right and is left out: ")
                .endsWith("? daylight measure says more.");
        assertThat(at(answer(Demo.PICKUP).root, "state")).isEqualTo("rub");
        assertThat(at(answer(Demo.PICKUP).root, "car")).isEqualTo("Harbour Street pickup");
        assertThat(answer(Demo.PICKUP).rows).hasSizeGreaterThanOrEqualTo(30);
    }

    @Test
    void commandSaysOneWhenSomethingIsTight() {
        assertThat(answer(Demo.ROADSTER).said.status).isEqualTo(Daylight.NOT_CLEAR);
        assertThat(at(answer(Demo.ROADSTER).root, "state")).isEqualTo("tight");
    }

    @Test
    void commandSaysZeroWhenEverythingIsClear(@TempDir Path folder) throws IOException {
        // The roadster's pedal and firewall and nothing else.
        String text = Files.readString(Demo.ROADSTER.file, StandardCharsets.UTF_8);
        String small = text.substring(0, text.indexOf("\nparts:"))
                + "\nparts:\n"
                + block(text, "firewall")
                + block(text, "clutch pedal")
                + "rules:\n  - {between: [any, any], at least: 13}\n";
        Path clear = folder.resolve("clear.yaml");
        Files.writeString(clear, small, StandardCharsets.UTF_8);
        Said said = run("gaps", clear.toString());
        assertThat(said.err).isEmpty();
        assertThat(said.status).as(said.out).isEqualTo(Daylight.CLEAR);
    }

    /** Returns a part as it is written in a file. */
    private static String block(String text, String part) {
        int parts = text.indexOf("\nparts:");
        int start = text.indexOf("\n  " + part + ":", parts) + 1;
        assertThat(start).as(part).isPositive();
        int end = start;
        do {
            end = text.indexOf('\n', end) + 1;
        } while (text.startsWith("   ", end));
        return text.substring(start, end);
    }

    @Test
    void commandSaysTwoWhenTheFileIsWrong(@TempDir Path folder) throws IOException {
        String text = Files.readString(Demo.PICKUP.file, StandardCharsets.UTF_8)
                .replace("lf lower ball joint:", "lf lower bal joint:");
        Path broken = folder.resolve("broken.yaml");
        Files.writeString(broken, text, StandardCharsets.UTF_8);
        Said said = run("gaps", broken.toString());
        assertThat(said.status).isEqualTo(Daylight.WRONG_INPUT);
        assertThat(said.out).isEmpty();
        assertThat(said.err).contains("lf lower ball joint").contains("broken.yaml:");
    }

    private record Said(int status, String out, String err) {}

    private static Said run(String... words) {
        StringWriter out = new StringWriter();
        StringWriter err = new StringWriter();
        Terminal terminal = new Terminal(new PrintWriter(out), new PrintWriter(err), false, false);
        int status = Daylight.run(List.of(words), terminal, file -> {
            throw new AssertionError("no window is wanted here: " + file);
        });
        return new Said(status, out.toString(), err.toString());
    }

    private static List<String> pairs(Demo demo, String state) {
        return answer(demo).rows.stream()
                .filter(row -> row.state.equals(state))
                .map(Row::pair)
                .sorted()
                .toList();
    }

    private static List<Row> near(Demo demo) {
        return answer(demo).rows.stream()
                .filter(row -> row.proof.equals("proved"))
                .toList();
    }

    /** The tightest, and every so many of those that were looked at closely. */
    private static Set<Row> sample(Demo demo) {
        Set<Row> sample = new LinkedHashSet<>(rigid(demo).subList(0, TIGHTEST));
        List<Row> near = near(demo);
        for (int i = 0; i < near.size(); i += EVERY) {
            sample.add(near.get(i));
        }
        assertThat(sample).hasSizeGreaterThan(TIGHTEST + 5);
        return sample;
    }

    /** Bends are made of short straight pieces that never show a gap wider than it is, but up to this narrower. */
    private static double bends(Shape shape) {
        return Solid.of(shape).sagittaMm();
    }

    /** A car that can be made to stand anywhere, with each body shifted as a row says. */
    private static final class Stand {
        private final Car car;
        private final Workspace workspace;
        private final Kinematics kinematics;

        Stand(Car car) {
            this.car = car;
            this.workspace = Workspace.of(car);
            this.kinematics = workspace.kinematics();
        }

        private Car.Part part(String name) {
            return car.parts().stream()
                    .filter(part -> part.name().equals(name))
                    .findFirst()
                    .orElseThrow();
        }

        Shape shape(String part) {
            return part(part).shape();
        }

        int body(String part) {
            return workspace.bodyIndex(part(part).body());
        }

        /** Returns a row as if the car had gone only a share of the way from ride height. */
        Row partOfTheWay(Row row, double share) {
            Map<String, Double> handles = new LinkedHashMap<>();
            row.handles.forEach((name, value) -> handles.put(name, share * value));
            return new Row(
                    row.first,
                    row.second,
                    row.state,
                    row.rideMm,
                    row.leastMm,
                    row.floorMm,
                    row.requiredMm,
                    row.marginMm,
                    row.proof,
                    row.onFirst,
                    row.onSecond,
                    handles,
                    row.shifts);
        }

        /** Shifts are along the directions of the body that carries the play, which turn with it. */
        Pose pose(String part, Row where) {
            double[] values = new double[workspace.handles().size()];
            where.handles.forEach((name, value) -> {
                int h = handle(name);
                Handle handle = workspace.handles().get(h);
                values[h] = handle.turns() ? Math.toRadians(value) : value;
                assertThat(values[h]).isBetween(handle.lowest() - JSON_MM, handle.highest() + JSON_MM);
            });
            assertThat(kinematics.stand(values)).isEmpty();
            String body = part(part).body();
            Pose pose = kinematics.pose(workspace.bodyIndex(body));
            double dx = 0;
            double dy = 0;
            double dz = 0;
            for (Car.Allowance allowance : car.allowances()) {
                for (Car.Allowance.Play play : allowance.plays()) {
                    Double shift = where.shifts.get(body + " " + play.name());
                    if (allowance.body().equals(body) && shift != null) {
                        assertThat(shift).isBetween(play.leastMm() - JSON_MM, play.greatestMm() + JSON_MM);
                        Direction along = pose.apply(play.along());
                        dx += shift * along.x();
                        dy += shift * along.y();
                        dz += shift * along.z();
                    }
                }
            }
            return new Pose(
                    pose.rxx(),
                    pose.rxy(),
                    pose.rxz(),
                    pose.ryx(),
                    pose.ryy(),
                    pose.ryz(),
                    pose.rzx(),
                    pose.rzy(),
                    pose.rzz(),
                    pose.tx() + dx,
                    pose.ty() + dy,
                    pose.tz() + dz);
        }

        private int handle(String name) {
            List<Handle> handles = workspace.handles();
            for (int i = 0; i < handles.size(); i++) {
                if (handles.get(i).name().equals(name)) {
                    return i;
                }
            }
            throw new AssertionError("no handle is called " + name);
        }
    }

    // ---- JSON, read back with nothing but the tokens

    private static Map<String, Object> json(String text) throws IOException {
        try (JsonParser parser = new JsonFactory().createParser(text)) {
            parser.nextToken();
            Map<String, Object> root = map(value(parser));
            assertThat(parser.nextToken()).as("nothing follows the JSON").isNull();
            return root;
        }
    }

    private static Row row(Map<String, Object> pair) {
        Map<String, Object> at = map(at(pair, "at"));
        return new Row(
                (String) at(pair, "first"),
                (String) at(pair, "second"),
                (String) at(pair, "state"),
                (Double) at(pair, "gap at ride height"),
                (Double) at(pair, "least gap"),
                at(pair, "floor") instanceof Double floor ? floor : Double.NEGATIVE_INFINITY,
                (Double) at(pair, "required"),
                (Double) at(pair, "margin"),
                (String) at(pair, "proof"),
                spot(at(pair, "on first")),
                spot(at(pair, "on second")),
                numbers(at(at, "handles")),
                numbers(at(at, "shifts")));
    }

    private static Object value(JsonParser parser) throws IOException {
        JsonToken token = parser.currentToken();
        if (token == JsonToken.START_OBJECT) {
            Map<String, Object> map = new LinkedHashMap<>();
            while (parser.nextToken() != JsonToken.END_OBJECT) {
                String name = parser.currentName();
                parser.nextToken();
                map.put(name, value(parser));
            }
            return map;
        } else if (token == JsonToken.START_ARRAY) {
            List<Object> list = new ArrayList<>();
            while (parser.nextToken() != JsonToken.END_ARRAY) {
                list.add(value(parser));
            }
            return list;
        } else if (token.isNumeric()) {
            return parser.getDoubleValue();
        }
        return token == JsonToken.VALUE_NULL ? "" : parser.getText();
    }

    private static Object at(Map<String, Object> map, String key) {
        Object value = map.get(key);
        if (value == null) {
            throw new AssertionError("the JSON has no \"" + key + "\" in " + map.keySet());
        }
        return value;
    }

    private static Map<String, Object> map(Object value) {
        Map<String, Object> map = new LinkedHashMap<>();
        ((Map<?, ?>) value).forEach((key, item) -> map.put((String) key, item));
        return map;
    }

    private static Map<String, Double> numbers(Object value) {
        Map<String, Double> numbers = new LinkedHashMap<>();
        map(value).forEach((key, item) -> numbers.put(key, (Double) item));
        return numbers;
    }

    private static Spot spot(Object value) {
        List<?> numbers = (List<?>) value;
        assertThat(numbers).hasSize(3);
        return new Spot((Double) numbers.get(0), (Double) numbers.get(1), (Double) numbers.get(2));
    }
}
