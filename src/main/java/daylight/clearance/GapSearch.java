package daylight.clearance;

import daylight.car.Car;
import daylight.motion.Kinematics;
import daylight.motion.Workspace;
import daylight.units.Progress;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.atomic.AtomicInteger;

/**
 * Finds every pair's least gap over the whole continuous travel of a car.
 *
 * <p>The work is shared between threads pair by pair; solved positions are shared by all pairs. The result does not
 * depend on the number of threads.
 */
public final class GapSearch {
    /** Margins this near to one another, mm, are the same: a car's two sides differ in the last digits only. */
    private static final double SAME_MARGIN_MM = 0.01;

    /** Tightest first: by state, then by margin, then by name so that ties have one order. */
    private static final Comparator<GapRow> TIGHTEST_FIRST = Comparator.comparing(GapRow::state)
            .thenComparingDouble(row -> Math.rint(row.marginMm() / SAME_MARGIN_MM))
            .thenComparing(GapRow::first)
            .thenComparing(GapRow::second);

    private final Car car;
    private final Asked asked;
    private final Kinematics kinematics;
    private final Map<Question, GapRow> answered = new ConcurrentHashMap<>();

    /** All that the row of a pair depends on besides the mechanisms, the plays and what was asked. */
    private record Question(Car.Part a, Car.Part b, double requiredMm, String rule) {}

    private GapSearch(Car car, Asked asked, Kinematics kinematics) {
        this.car = car;
        this.asked = asked;
        this.kinematics = kinematics;
    }

    /**
     * Returns a search of a car.
     *
     * @throws IllegalArgumentException if the car's mechanisms cannot be compiled (the reader of car files refuses
     *     such cars)
     */
    public static GapSearch of(Car car, Asked asked) {
        return new GapSearch(car, asked, Workspace.of(car).kinematics());
    }

    /**
     * Returns a search of a changed car that answers again only what the change touches: when mechanisms and plays
     * are the same, solved positions are kept, and so are the rows of pairs whose parts and rule are the same.
     */
    public GapSearch changed(Car to) {
        boolean sameMotion =
                to.mechanisms().equals(car.mechanisms()) && to.allowances().equals(car.allowances());
        if (!sameMotion) {
            return of(to, asked);
        }
        GapSearch next = new GapSearch(to, asked, kinematics.sibling());
        next.answered.putAll(answered);
        return next;
    }

    /**
     * Searches all pairs.
     *
     * @param progress told how far the work is; may cancel it
     * @return the table, or empty if the work was cancelled
     * @throws IllegalArgumentException if the car cannot be compiled (the reader of car files refuses such cars)
     */
    public Optional<GapTable> run(Progress progress) {
        Scene scene = Scene.of(car, kinematics);
        int workers = Math.max(1, Math.min(asked.threads(), scene.pairs.size()));
        AtomicInteger next = new AtomicInteger();
        AtomicInteger done = new AtomicInteger();
        GapRow[] rows = new GapRow[scene.pairs.size()];
        List<Callable<Long>> jobs = new ArrayList<>();
        for (int w = 0; w < workers; w++) {
            Kinematics own = kinematics.sibling();
            jobs.add(() -> {
                PairSearch search = new PairSearch(scene, asked, own);
                for (int p = next.getAndIncrement(); p < rows.length; p = next.getAndIncrement()) {
                    if (progress.cancelled()) {
                        return search.boxes();
                    }
                    rows[p] = row(scene, search, scene.pairs.get(p));
                    progress.at(done.incrementAndGet() / (double) rows.length, "looking at every pair");
                }
                return search.boxes();
            });
        }
        long boxes = scene.pairs.isEmpty() ? 0 : runAll(jobs);
        if (progress.cancelled()) {
            return Optional.empty();
        }
        List<GapRow> sorted = new ArrayList<>(List.of(rows));
        sorted.sort(TIGHTEST_FIRST);
        GapTable.Work work = new GapTable.Work(scene.parts.size(), boxes, kinematics.positions());
        return Optional.of(new GapTable(car.name(), sorted, scene.leftOut, asked.toleranceMm(), asked.watchMm(), work));
    }

    private GapRow row(Scene scene, PairSearch search, Scene.Pair pair) {
        Question question =
                new Question(scene.parts.get(pair.a()), scene.parts.get(pair.b()), pair.requiredMm(), pair.rule());
        GapRow known = answered.get(question);
        if (known == null) {
            known = search.row(pair);
            answered.put(question, known);
        }
        return known;
    }

    private static long runAll(List<Callable<Long>> jobs) {
        ExecutorService pool = Executors.newFixedThreadPool(jobs.size(), task -> {
            Thread thread = new Thread(task, "gap search");
            thread.setDaemon(true);
            return thread;
        });
        try {
            long total = 0;
            for (Future<Long> future : pool.invokeAll(jobs)) {
                total += future.get();
            }
            return total;
        } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
            throw new IllegalStateException("the gap search was interrupted", e);
        } catch (ExecutionException e) {
            throw new IllegalStateException("the gap search failed; please report this car file", e.getCause());
        } finally {
            pool.shutdownNow();
        }
    }
}
