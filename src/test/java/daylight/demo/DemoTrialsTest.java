package daylight.demo;

import static org.assertj.core.api.Assertions.assertThat;

import daylight.command.Daylight;
import daylight.command.Terminal;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;

/** What {@code demo/README.md} quotes of the pickup's trials is what the program prints. */
class DemoTrialsTest {
    private static final String PICKUP = "demo/harbour-pickup.yaml";

    private static String run(String... words) {
        StringWriter out = new StringWriter();
        StringWriter err = new StringWriter();
        Daylight.run(
                List.of(words), new Terminal(new PrintWriter(out), new PrintWriter(err), false, false), file -> {});
        assertThat(out.toString()).as(err.toString()).isNotEmpty();
        return plain(out.toString());
    }

    /** Columns are as wide as their widest cell, which is no part of the story. */
    private static String plain(String text) {
        return text.replaceAll(" +", " ");
    }

    private static List<String> quoted(String word) throws IOException {
        String page = Files.readString(Path.of("demo/README.md"));
        int from = page.indexOf("```" + word + "\n");
        assertThat(from).as("a block of " + word).isPositive();
        int begin = page.indexOf('\n', from) + 1;
        return plain(page.substring(begin, page.indexOf("```", begin))).lines().toList();
    }

    @Test
    void leastCutOfTheBracketIsAsQuoted() throws IOException {
        assertThat(run("trim", PICKUP, "right sway-bar bracket").lines()).containsAll(quoted("trim"));
    }

    @Test
    void trialOfThatCutIsAsQuoted() throws IOException {
        assertThat(run("trial", PICKUP, "cut the bracket's corner").lines()).containsAll(quoted("trial"));
    }
}
