package daylight.car;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.networknt.schema.JsonSchema;
import com.networknt.schema.JsonSchemaFactory;
import com.networknt.schema.SpecVersion;
import com.networknt.schema.ValidationMessage;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.snakeyaml.engine.v2.api.Load;
import org.snakeyaml.engine.v2.api.LoadSettings;

/** The published schema says what the reader says: it takes every good file and refuses strange keys. */
class CarSchemaTest {
    private static final ObjectMapper JSON = new ObjectMapper();

    private static JsonSchema schema;
    private static JsonNode text;

    @BeforeAll
    static void readTheSchema() throws IOException {
        String json = Files.readString(Path.of("models/car.schema.json"), StandardCharsets.UTF_8);
        text = JSON.readTree(json);
        schema = JsonSchemaFactory.getInstance(SpecVersion.VersionFlag.V202012).getSchema(json);
        schema.initializeValidators();
    }

    static Stream<Path> goodFiles() throws IOException {
        try (Stream<Path> cars = Files.list(Path.of("src/test/resources/cars"));
                Stream<Path> demos = Files.list(Path.of("demo"))) {
            return Stream.concat(cars, demos)
                    .filter(file -> file.toString().endsWith(".yaml"))
                    .sorted()
                    .toList()
                    .stream();
        }
    }

    private static Set<ValidationMessage> complaints(String yaml) {
        Object tree = new Load(LoadSettings.builder().build()).loadFromString(yaml);
        return schema.validate(JSON.valueToTree(tree));
    }

    @ParameterizedTest(name = "{0}")
    @MethodSource("goodFiles")
    void everyGoodFileFitsTheSchema(Path file) throws IOException {
        assertThat(complaints(Files.readString(file, StandardCharsets.UTF_8))).isEmpty();
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "misspelt-key",
                "unknown-key",
                "unknown-key-in-a-point",
                "misspelt-shape",
                "two-numbers",
                "decimal-comma-in-a-list",
                "a-word-for-a-length",
                "unit-misspelt",
                "no-units",
                "no-name",
                "no-version",
                "newer-version",
                "unknown-units",
                "no-shape",
                "two-shapes",
                "no-body",
                "no-diameter",
                "tube-of-one-spot",
                "rule-below-zero",
                "rule-about-one",
                "rule-without-a-gap",
                "exclusion-without-a-reason",
                "direction-misspelt",
                "yes-or-no",
                "list-for-a-group",
                "trials-are-a-list",
                "empty-group",
                "growth-without-a-way"
            })
    void theSchemaRefusesWhatTheReaderRefuses(String broken) throws IOException {
        String yaml = Files.readString(BrokenCarFileTest.FOLDER.resolve(broken + ".yaml"), StandardCharsets.UTF_8);
        assertThat(complaints(yaml)).as(broken).isNotEmpty();
    }

    @Test
    void theReaderKnowsTheKeysThatTheSchemaNames() {
        // The reader lists its keys when it meets one that it does not know.
        String line = BrokenCarFileTest.complaints(BrokenCarFileTest.FOLDER.resolve("unknown-key.yaml"))
                .get(0)
                .advice();
        Set<String> read = new TreeSet<>();
        for (String key :
                line.substring("Known here: ".length(), line.length() - 1).split(", ")) {
            read.add(key);
        }
        Set<String> named = new TreeSet<>();
        text.get("properties").fieldNames().forEachRemaining(named::add);
        assertThat(named).isEqualTo(read);
    }
}
