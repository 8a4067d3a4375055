package daylight.hose;

import daylight.units.Progress;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Function;

/** Shares work item by item between threads and gives the results in the items' order, whoever was done first. */
final class Sharing {
    private Sharing() {}

    /**
     * Returns one result for each item.
     *
     * @param work is called on any thread, for each item once; not with state that is shared and changes
     * @return the results in order, or empty if the work was cancelled
     */
    static <T, R> Optional<List<R>> inOrder(
            List<T> items, int threads, Progress progress, Function<T, String> words, Function<T, R> work) {
        if (items.isEmpty()) {
            return Optional.of(List.of());
        }
        AtomicInteger done = new AtomicInteger();
        List<Callable<Optional<R>>> jobs = new ArrayList<>();
        for (T item : items) {
            jobs.add(() -> {
                if (progress.cancelled()) {
                    return Optional.empty();
                }
                Optional<R> result = Optional.of(work.apply(item));
                progress.at(done.incrementAndGet() / (double) items.size(), words.apply(item));
                return result;
            });
        }
        ExecutorService pool = Executors.newFixedThreadPool(Math.min(threads, items.size()), task -> {
            Thread thread = new Thread(task, "hose search");
            thread.setDaemon(true);
            return thread;
        });
        try {
            List<R> results = new ArrayList<>();
            for (Future<Optional<R>> future : pool.invokeAll(jobs)) {
                future.get().ifPresent(results::add);
            }
            return results.size() == items.size() ? Optional.of(List.copyOf(results)) : Optional.empty();
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException("the hose search was interrupted", e);
        } catch (ExecutionException e) {
            throw new IllegalStateException("the hose search failed; please report this car file", e.getCause());
        } finally {
            pool.shutdownNow();
        }
    }
}
