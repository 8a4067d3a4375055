package daylight.geometry;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import org.joml.Matrix4x3d;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.TearDown;
import org.openjdk.jmh.annotations.Warmup;

/**
 * The true least distance of all 900 pairs of 30 fixed and 30 moving parts at each of 400 positions: tubes, boxes, hulls
 * of 8 to 40 corners, and two meshes of 5,040 triangles, one fixed and one moving. No pair is left out for being far
 * away. Each moving part turns and shifts on its own, by about 0.4 rad and 120 mm over the whole.
 *
 * <pre>{@code mvn -q -Pjmh test-compile exec:exec -Djmh.args="SceneBenchmark"}</pre>
 */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Warmup(iterations = 3, time = 2)
@Measurement(iterations = 3, time = 2)
@Fork(1)
public class SceneBenchmark {
    static final int HALF = 30;
    static final int POSITIONS = 400;

    /** How many threads share the pairs. */
    @Param({"1", "2"})
    public int threads = 1;

    private final List<Solid> fixed = new ArrayList<>();
    private final List<Solid> moving = new ArrayList<>();
    private final Matrix4x3d still = new Matrix4x3d();
    private final List<Matrix4x3d[]> poses = new ArrayList<>();
    private final List<Gauge> gauges = new ArrayList<>();
    private ExecutorService pool = Executors.newSingleThreadExecutor();

    /** Makes the parts and the poses. */
    @Setup
    public void make() {
        Samples samples = new Samples(17);
        for (int i = 0; i < HALF; i++) {
            fixed.add(Solid.of(part(samples, i)));
            moving.add(Solid.of(part(samples, i)));
            Spot start = samples.spot(700);
            Direction way = samples.direction();
            Matrix4x3d[] own = new Matrix4x3d[POSITIONS];
            for (int k = 0; k < POSITIONS; k++) {
                double t = Math.sin(Math.PI * k / POSITIONS);
                own[k] = new Matrix4x3d()
                        .rotationXYZ(0.3 * t * way.x(), 0.3 * t * way.y(), 0.3 * t + 0.1 * i)
                        .setTranslation(
                                start.x() + 120 * t * way.x(),
                                start.y() + 120 * t * way.y(),
                                start.z() + 120 * t * way.z());
            }
            poses.add(own);
        }
        pool.shutdown();
        pool = Executors.newFixedThreadPool(threads);
        for (int k = 0; k < threads; k++) {
            gauges.add(new Gauge());
        }
    }

    private static Shape part(Samples samples, int number) {
        Spot at = samples.spot(500);
        if (number == HALF - 1) {
            return Parts.torusMesh(at, 90, 25, 84, 30);
        }
        Direction along = samples.direction();
        switch (number % 3) {
            case 0 -> {
                Spot end = at.along(along, samples.between(100, 400));
                return new Shape.Tube(List.of(at, end), samples.between(12, 60), 0);
            }
            case 1 -> {
                return new Shape.Box(
                        at,
                        along,
                        SolidMaker.perpendicular(along),
                        samples.between(20, 200),
                        samples.between(20, 120),
                        samples.between(5, 60));
            }
            default -> {
                List<Spot> corners = new ArrayList<>();
                int count = 8 + samples.below(33);
                for (int i = 0; i < count; i++) {
                    corners.add(at.along(samples.direction(), 70));
                }
                return new Shape.Hull(corners, 0);
            }
        }
    }

    /** Ends the threads. */
    @TearDown
    public void end() {
        pool.shutdown();
    }

    /** Measures everything; returns the sum of all distances. */
    @Benchmark
    public double scene() throws InterruptedException, ExecutionException {
        List<Future<Double>> shares = new ArrayList<>();
        for (int k = 0; k < threads; k++) {
            int own = k;
            shares.add(pool.submit(() -> share(own)));
        }
        double sum = 0;
        for (Future<Double> share : shares) {
            sum += share.get();
        }
        return sum;
    }

    /** The pairs of one thread, dealt out so that the meshes' pairs are shared. */
    double share(int own) {
        Gauge gauge = gauges.get(own);
        double sum = 0;
        for (int position = 0; position < POSITIONS; position++) {
            for (int i = 0; i < HALF; i++) {
                for (int j = (i + own) % threads; j < HALF; j += threads) {
                    sum += gauge.measure(fixed.get(i), still, moving.get(j), poses.get(j)[position]);
                }
            }
        }
        return sum;
    }
}
