package daylight.validation;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.jspecify.annotations.NullMarked;

/**
 * Makes {@code validation/results.md} from the rows that the test run kept; run by Maven in {@code verify}, after all
 * tests. When the page in the tree differs it is rewritten and the build fails, so that a stale page is never
 * committed unseen.
 */
@NullMarked
public final class ResultsPage {
    private ResultsPage() {}

    public static void main(String[] args) throws IOException {
        Path page = Path.of("validation", "results.md");
        List<String> rows = Files.readAllLines(ChecksListener.ROWS);
        String fresh = page(rows);
        String old = Files.exists(page) ? Files.readString(page) : "";
        if (!fresh.equals(old)) {
            Files.createDirectories(page.toAbsolutePath().getParent());
            Files.writeString(page, fresh);
            throw new IllegalStateException("validation/results.md was stale and has been written afresh with "
                    + rows.size() + " rows: look at the difference, commit it, and build again");
        }
    }

    static String page(List<String> rows) {
        long ids = rows.stream()
                .map(row -> row.substring(0, row.indexOf('\t')))
                .distinct()
                .count();
        StringBuilder text = new StringBuilder("""
                # What was checked against figures from outside the project

                Written by the test run (`mvn verify`); the build fails when this page is stale. Every row is also an
                assertion. How each source is known: `seen` (text that gives the numbers was read), `recomputed`
                (worked out afresh in an independent way), `from memory` (the place it is printed was not read).

                """);
        text.append(rows.size()).append(" figures in ").append(ids).append(" checks.\n\n");
        text.append("| check | what | expected | got | tolerance | source | mark |\n");
        text.append("|---|---|---:|---:|---|---|---|\n");
        for (String row : rows) {
            text.append("| ").append(String.join(" | ", row.split("\t", -1))).append(" |\n");
        }
        return text.toString();
    }
}
