package daylight.bench;

import daylight.units.Progress;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.EnumMap;
import java.util.Map;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.ScheduledFuture;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Consumer;
import javafx.application.Platform;
import javafx.concurrent.Task;
import org.jspecify.annotations.Nullable;

/** The one door between the window's thread and the others. */
final class Background implements Jobs, AutoCloseable {
    /** How often a watched file is looked at. */
    private static final long WATCH_MS = 500;

    private final ExecutorService workers = Executors.newCachedThreadPool(work -> daemon(work, "daylight work"));
    private final ScheduledExecutorService watcher =
            Executors.newSingleThreadScheduledExecutor(work -> daemon(work, "daylight file watch"));
    private final Map<Line, Job<?>> running = new EnumMap<>(Line.class);
    private @Nullable ScheduledFuture<?> watching;

    private static Thread daemon(Runnable work, String name) {
        Thread thread = new Thread(work, name);
        thread.setDaemon(true);
        return thread;
    }

    @Override
    public <T> void start(Line line, Work<T> work, Answer<T> answer) {
        Job<T> job = new Job<>(line, work, answer);
        Job<?> older = running.put(line, job);
        if (older != null) {
            older.cancel(false);
        }
        workers.execute(job);
    }

    @Override
    public void cancel(Line line) {
        Job<?> job = running.remove(line);
        if (job != null) {
            job.cancel(false);
        }
    }

    @Override
    public void watch(Path file, Consumer<Path> changed) {
        if (watching != null) {
            watching.cancel(false);
        }
        AtomicReference<String> known = new AtomicReference<>(mark(file));
        watching = watcher.scheduleWithFixedDelay(
                () -> {
                    String now = mark(file);
                    if (!now.equals(known.getAndSet(now))) {
                        Platform.runLater(() -> changed.accept(file));
                    }
                },
                WATCH_MS,
                WATCH_MS,
                TimeUnit.MILLISECONDS);
    }

    /** What tells one state of a file from another; a missing file is a state of its own. */
    private static String mark(Path file) {
        try {
            return Files.getLastModifiedTime(file).toMillis() + " " + Files.size(file);
        } catch (NoSuchFileException e) {
            return "missing";
        } catch (IOException e) {
            return "unreadable: " + e.getMessage();
        }
    }

    /** Ends all work. */
    @Override
    public void close() {
        running.values().forEach(job -> job.cancel(false));
        running.clear();
        workers.shutdownNow();
        watcher.shutdownNow();
    }

    private final class Job<T> extends Task<T> {
        private final Line line;
        private final Work<T> work;
        private final Answer<T> answer;
        private final AtomicReference<@Nullable Report> report = new AtomicReference<>();

        private record Report(double fraction, String message) {}

        Job(Line line, Work<T> work, Answer<T> answer) {
            this.line = line;
            this.work = work;
            this.answer = answer;
        }

        @Override
        protected T call() {
            return work.run(new Reports());
        }

        private final class Reports implements Progress {
            @Override
            public void at(double fraction, String message) {
                // Threads report far more often than anyone can see: only the last report before a frame is shown.
                if (report.getAndSet(new Report(fraction, message)) == null) {
                    Platform.runLater(() -> {
                        Report last = report.getAndSet(null);
                        if (last != null && current()) {
                            answer.progress(last.fraction, last.message);
                        }
                    });
                }
            }

            @Override
            public boolean cancelled() {
                return isCancelled();
            }
        }

        private boolean current() {
            return running.get(line) == this;
        }

        @Override
        protected void succeeded() {
            if (running.remove(line, this)) {
                answer.done(getValue());
            }
        }

        @Override
        protected void failed() {
            if (running.remove(line, this)) {
                answer.failed(getException());
            }
        }
    }
}
