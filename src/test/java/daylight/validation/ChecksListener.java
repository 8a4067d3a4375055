package daylight.validation;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.jspecify.annotations.NullMarked;
import org.junit.platform.launcher.TestExecutionListener;
import org.junit.platform.launcher.TestPlan;

/** Writes the rows of {@link Checks} to {@code target/validation/rows.tsv} when the test run ends. */
@NullMarked
public final class ChecksListener implements TestExecutionListener {
    static final Path ROWS = Path.of("target", "validation", "rows.tsv");

    @Override
    public void testPlanExecutionFinished(TestPlan testPlan) {
        try {
            Files.createDirectories(ROWS.toAbsolutePath().getParent());
            Files.write(ROWS, Checks.rows());
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }
}
