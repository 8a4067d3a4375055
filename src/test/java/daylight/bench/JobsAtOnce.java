package daylight.bench;

import daylight.units.Progress;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Queue;
import java.util.function.Consumer;

/** Work that is done when the test says so, on its own thread, with the same promises as the real one. */
final class JobsAtOnce implements Jobs {
    private final Queue<Runnable> waiting = new ArrayDeque<>();
    private final Map<Line, Object> newest = new EnumMap<>(Line.class);
    final List<Path> watched = new ArrayList<>();
    int started;

    @Override
    public <T> void start(Line line, Work<T> work, Answer<T> answer) {
        Object ticket = new Object();
        newest.put(line, ticket);
        started++;
        waiting.add(() -> {
            if (newest.get(line) != ticket) {
                return;
            }
            T result;
            try {
                result = work.run(Progress.SILENT);
            } catch (IllegalStateException | IllegalArgumentException e) {
                answer.failed(e);
                return;
            }
            answer.done(result);
        });
    }

    @Override
    public void cancel(Line line) {
        newest.remove(line);
    }

    @Override
    public void watch(Path file, Consumer<Path> changed) {
        watched.add(file);
    }

    /** Does all work that waits, and what that work asks for. */
    void finish() {
        for (Runnable next = waiting.poll(); next != null; next = waiting.poll()) {
            next.run();
        }
    }
}
