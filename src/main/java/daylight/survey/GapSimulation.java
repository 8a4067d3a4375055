package daylight.survey;

import daylight.units.Progress;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Future;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.function.Supplier;

/**
 * Draws cars from the doubt of the survey and works each one out: the distribution of gaps without assuming that they
 * change evenly with the points.
 *
 * <p>Points are drawn from the joint normal distribution of the adjustment, correlations included; further inputs
 * (part sizes, plays) each from its own distribution. The outcome depends on the seed and the number of draws, never
 * on the number of threads: draws are made in chunks, each with a sequence of its own.
 *
 * <p>Source: JCGM 101:2008, propagation of distributions using a Monte Carlo method, clause 7.
 */
public final class GapSimulation {
    /** What is worked out for each drawn car. One per thread, so it may hold work arrays. */
    @FunctionalInterface
    public interface Quantities {
        /**
         * Works out the quantities of one car.
         *
         * @param coordinates the drawn points' coordinates, three each, mm, in the order in which the simulation was
         *     given them; not to be modified
         * @param inputs the further inputs, in their order; not to be modified
         * @param intoValues written: the quantities
         */
        void evaluate(double[] coordinates, double[] inputs, double[] intoValues);
    }

    /** What a simulation gives. */
    public sealed interface Outcome {
        /**
         * All draws were made.
         *
         * @param quantities the distribution of each quantity, in order
         */
        record Simulated(List<Distribution> quantities) implements Outcome {
            public Simulated {
                quantities = List.copyOf(quantities);
            }
        }

        /** The user asked to stop. */
        record Cancelled() implements Outcome {}
    }

    private static final int CHUNK = 256;
    /** A pivot below this share of its variance is rounding: the coordinate follows from those before it. */
    private static final double DEPENDENT = 1e-12;

    private final double[] mean;
    /** Lower triangle of the factor of the covariance, row by row. */
    private final double[] factor;

    private final List<Doubt> inputs;

    private GapSimulation(double[] mean, double[] factor, List<Doubt> inputs) {
        this.mean = mean;
        this.factor = factor;
        this.inputs = List.copyOf(inputs);
    }

    /**
     * Returns a simulation over some of the surveyed points.
     *
     * @param points names of the points that the quantities follow from, each once; the order is that of the
     *     coordinates
     * @param inputs what else is uncertain
     * @throws IllegalArgumentException if there is no such point
     */
    public static GapSimulation of(SurveyedPoints surveyed, List<String> points, List<Doubt> inputs) {
        int n = 3 * points.size();
        double[] coordinates = surveyed.coordinates();
        double[] mean = new double[n];
        int[] index = new int[n];
        for (int p = 0; p < points.size(); p++) {
            for (int k = 0; k < 3; k++) {
                index[3 * p + k] = surveyed.indexOf(points.get(p)) + k;
                mean[3 * p + k] = coordinates[index[3 * p + k]];
            }
        }
        double[] factor = new double[n * n];
        for (int i = 0; i < n; i++) {
            for (int j = 0; j <= i; j++) {
                double sum = surveyed.covariance(index[i], index[j]);
                for (int k = 0; k < j; k++) {
                    sum -= factor[i * n + k] * factor[j * n + k];
                }
                if (i == j) {
                    boolean free = sum > DEPENDENT * surveyed.covariance(index[i], index[i]);
                    factor[i * n + i] = free ? Math.sqrt(sum) : 0;
                } else {
                    factor[i * n + j] = factor[j * n + j] > 0 ? sum / factor[j * n + j] : 0;
                }
            }
        }
        return new GapSimulation(mean, factor, inputs);
    }

    /**
     * Makes the draws.
     *
     * @param quantities gives each thread its own function
     * @param count how many quantities the function writes
     * @param draws how many cars; at least 2. The standard error of a chance p is the root of p (1 - p) / draws
     * @param seed same seed, same outcome
     * @param pool where the work is done
     * @param threads how many tasks are given to the pool
     * @param progress asked once for every {@value #CHUNK} draws
     */
    public Outcome run(
            Supplier<? extends Quantities> quantities,
            int count,
            int draws,
            long seed,
            ExecutorService pool,
            int threads,
            Progress progress) {
        if (draws < 2 || count < 1 || threads < 1) {
            throw new IllegalArgumentException("a simulation needs two draws, one quantity and one thread or more, not "
                    + draws + ", " + count + " and " + threads);
        }
        double[][] values = new double[count][draws];
        int chunks = (draws + CHUNK - 1) / CHUNK;
        AtomicInteger next = new AtomicInteger();
        AtomicInteger done = new AtomicInteger();
        Callable<Boolean> work = () -> {
            Worker worker = new Worker(quantities.get(), values);
            for (int chunk = next.getAndIncrement(); chunk < chunks; chunk = next.getAndIncrement()) {
                if (progress.cancelled()) {
                    return false;
                }
                worker.chunk(seed, chunk, Math.min(draws, (chunk + 1) * CHUNK));
                synchronized (done) {
                    progress.at((double) done.incrementAndGet() / chunks, "drawing cars");
                }
            }
            return true;
        };
        List<Future<Boolean>> tasks = new ArrayList<>();
        for (int t = 0; t < threads; t++) {
            tasks.add(pool.submit(work));
        }
        boolean complete = true;
        for (Future<Boolean> task : tasks) {
            complete &= result(task);
        }
        if (!complete) {
            return new Outcome.Cancelled();
        }
        return new Outcome.Simulated(Arrays.stream(values).map(Distribution::of).toList());
    }

    private static boolean result(Future<Boolean> task) {
        try {
            return task.get();
        } catch (InterruptedException e) {
            // The caller's thread was told to stop: that is a cancel, and the thread keeps its mark.
            Thread.currentThread().interrupt();
            return false;
        } catch (ExecutionException e) {
            throw new IllegalStateException("a quantity could not be worked out for a drawn car", e.getCause());
        }
    }

    /** The work arrays of one thread. */
    private final class Worker {
        private final Quantities function;
        private final double[][] values;
        private final Draws draws = new Draws();
        private final double[] normal = new double[mean.length];
        private final double[] coordinates = new double[mean.length];
        private final double[] drawn = new double[inputs.size()];
        private final double[] out;

        Worker(Quantities function, double[][] values) {
            this.function = function;
            this.values = values;
            this.out = new double[values.length];
        }

        void chunk(long seed, int chunk, int end) {
            draws.start(seed, chunk);
            int n = mean.length;
            for (int d = chunk * CHUNK; d < end; d++) {
                for (int i = 0; i < n; i++) {
                    normal[i] = draws.normal();
                }
                for (int i = 0; i < n; i++) {
                    double sum = mean[i];
                    int row = i * n;
                    for (int k = 0; k <= i; k++) {
                        sum += factor[row + k] * normal[k];
                    }
                    coordinates[i] = sum;
                }
                for (int i = 0; i < drawn.length; i++) {
                    drawn[i] = draws.of(inputs.get(i));
                }
                function.evaluate(coordinates, drawn, out);
                for (int q = 0; q < out.length; q++) {
                    values[q][d] = out[q];
                }
            }
        }
    }
}
