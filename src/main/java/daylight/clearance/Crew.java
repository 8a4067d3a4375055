package daylight.clearance;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.IntSupplier;

/** A few threads that share numbered pieces of work; the caller's thread is one of them. */
public final class Crew implements AutoCloseable {
    private final int threads;
    private final ExecutorService others;

    /** Makes a crew of that many threads, the caller's among them. */
    public Crew(int threads) {
        this.threads = threads;
        this.others = Executors.newFixedThreadPool(Math.max(1, threads - 1), task -> {
            Thread thread = new Thread(task, "daylight crew");
            thread.setDaemon(true);
            return thread;
        });
    }

    /** What one thread does. */
    public interface Hand {
        /** Takes numbers from {@code next} until they reach the count. */
        void work(IntSupplier next);
    }

    /**
     * Does pieces of work 0 to count - 1, each once, and returns when all are done.
     *
     * @throws IllegalStateException if a piece fails on another thread, or the caller's thread is interrupted
     */
    public void work(int count, Hand hand) {
        AtomicInteger next = new AtomicInteger();
        IntSupplier numbers = next::getAndIncrement;
        List<Future<Boolean>> running = new ArrayList<>();
        for (int t = 1; t < Math.min(threads, count); t++) {
            Callable<Boolean> task = () -> {
                hand.work(numbers);
                return true;
            };
            running.add(others.submit(task));
        }
        if (count > 0) {
            hand.work(numbers);
        }
        try {
            for (Future<Boolean> other : running) {
                other.get();
            }
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException("the work was interrupted", e);
        } catch (ExecutionException e) {
            if (e.getCause() instanceof IllegalArgumentException wrong) {
                throw wrong;
            }
            throw new IllegalStateException("the work failed; please report this car file", e.getCause());
        }
    }

    @Override
    public void close() {
        others.shutdownNow();
    }
}
