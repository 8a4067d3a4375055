package daylight.command;

import daylight.units.Progress;
import java.io.OutputStream;
import java.io.PrintStream;
import me.tongfei.progressbar.ProgressBar;
import me.tongfei.progressbar.ProgressBarBuilder;
import me.tongfei.progressbar.ProgressBarStyle;
import org.jspecify.annotations.Nullable;

/** A progress bar on a person's terminal; nothing at all when messages go to a file or a pipe. */
final class Bar implements Progress, AutoCloseable {
    private static final int STEPS = 1000;
    private static final int UPDATE_MILLIS = 100;

    private final @Nullable ProgressBar bar;

    private Bar(@Nullable ProgressBar bar) {
        this.bar = bar;
    }

    /** Returns a bar for the terminal. */
    static Bar on(Terminal terminal) {
        if (!terminal.interactive()) {
            return new Bar(null);
        }
        PrintStream stream =
                new PrintStream(OutputStream.nullOutputStream(), true, java.nio.charset.StandardCharsets.UTF_8) {
                    @Override
                    public void print(@Nullable String text) {
                        terminal.err().print(text);
                        terminal.err().flush();
                    }
                };
        return new Bar(new ProgressBarBuilder()
                .setInitialMax(STEPS)
                .setTaskName("gaps")
                .setStyle(ProgressBarStyle.ASCII)
                .setUpdateIntervalMillis(UPDATE_MILLIS)
                .hideEta()
                .setConsumer(new me.tongfei.progressbar.ConsoleProgressBarConsumer(stream))
                .build());
    }

    @Override
    public void at(double fraction, String message) {
        if (bar != null) {
            bar.stepTo(Math.round(fraction * STEPS));
            bar.setExtraMessage(message);
        }
    }

    @Override
    public boolean cancelled() {
        return Thread.currentThread().isInterrupted();
    }

    @Override
    public void close() {
        if (bar != null) {
            bar.close();
        }
    }
}
