package daylight.clearance;

import daylight.car.CarFileException;
import daylight.survey.MeasuredCar;
import daylight.units.Progress;
import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

/** The doubt of the demo pickup's gaps: every listed row to first order, and 10,000 cars for the ten tightest. */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.SingleShotTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Warmup(iterations = 2)
@Measurement(iterations = 3)
@Fork(1)
public class DoubtBenchmark {
    private static final int TIGHTEST = 10;
    private static final int CARS = 10_000;

    private MeasuredCar measured = read();
    private GapTable table =
            GapSearch.of(measured.car(), Asked.USUAL).run(Progress.SILENT).orElseThrow();

    private static MeasuredCar read() {
        try {
            return MeasuredCar.read(Path.of("demo/harbour-pickup.yaml"));
        } catch (CarFileException e) {
            throw new IllegalStateException(e);
        }
    }

    @Benchmark
    public Optional<GapDoubts> everyListedGap() throws CarFileException {
        return DoubtSearch.linear(measured, table, Integer.MAX_VALUE, Progress.SILENT);
    }

    @Benchmark
    public Optional<GapDoubts> tenThousandCars() throws CarFileException {
        return DoubtSearch.simulated(measured, table, TIGHTEST, CARS, 1, 2, Progress.SILENT);
    }
}
