package daylight.survey;

import daylight.units.Progress;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.TearDown;
import org.openjdk.jmh.annotations.Warmup;

/** A large garage: 60 points without guesses and 250 readings or more, adjusted with covariance. */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Warmup(iterations = 3, time = 2)
@Measurement(iterations = 5, time = 2)
@Fork(1)
public class SurveyBenchmark {
    private static final int POINTS = 56;
    private static final int GAPS = 10;
    private static final int CARS = 10_000;

    private Network clean = new Network(List.of(), List.of(), Network.Graduation.INCHES);
    private Network spoilt = clean;
    private Adjustment adjustment = Survey.of(clean).adjust(Survey.Datum.CAR_AXES, Progress.SILENT);
    private List<Observation> candidates = List.of();
    private List<String> names = List.of();
    private ExecutorService pool = Executors.newFixedThreadPool(2);

    @Setup
    public void build() {
        Garage garage = new Garage(1, POINTS);
        clean = garage.network();
        garage.plant();
        spoilt = garage.network();
        adjustment = Survey.of(clean).adjust(Survey.Datum.CAR_AXES, Progress.SILENT);
        candidates = Candidates.all(adjustment, Garage.DEFAULTS, 3000);
        names = new ArrayList<>(adjustment.points().names()).subList(1, POINTS + 5);
    }

    @TearDown
    public void close() {
        pool.shutdown();
    }

    @Benchmark
    public Adjustment adjustClean() {
        return Survey.of(clean).adjust(Survey.Datum.CAR_AXES, Progress.SILENT);
    }

    @Benchmark
    public Adjustment adjustWithABlunder() {
        return Survey.of(spoilt).adjust(Survey.Datum.CAR_AXES, Progress.SILENT);
    }

    @Benchmark
    public List<NextReading> nextReading() {
        return adjustment.next(new NextReading.Goal.Points(), candidates, 1);
    }

    /** Ten distances between points as stand-ins for gaps: what the drawing itself costs. */
    @Benchmark
    public GapSimulation.Outcome tenThousandCars() {
        return GapSimulation.of(adjustment.points(), names, List.of())
                .run(
                        () -> (xyz, in, out) -> {
                            for (int k = 0; k < GAPS; k++) {
                                double dx = xyz[3 * k] - xyz[3 * k + 30];
                                double dy = xyz[3 * k + 1] - xyz[3 * k + 31];
                                double dz = xyz[3 * k + 2] - xyz[3 * k + 32];
                                out[k] = Math.sqrt(dx * dx + dy * dy + dz * dz);
                            }
                        },
                        GAPS,
                        CARS,
                        1,
                        pool,
                        2,
                        Progress.SILENT);
    }
}
