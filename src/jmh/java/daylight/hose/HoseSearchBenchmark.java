package daylight.hose;

import daylight.car.CarFileException;
import daylight.survey.MeasuredCar;
import daylight.units.Progress;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

/** The pickup's four lines over the whole travel with the advice about lengths and settings, from a car in memory. */
@State(Scope.Thread)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Fork(1)
@Warmup(iterations = 2, time = 5)
@Measurement(iterations = 3, time = 5)
public class HoseSearchBenchmark {
    @Param({"1", "2"})
    public int threads = 2;

    private HoseSearch search = read();

    private static HoseSearch read() {
        try {
            return HoseSearch.of(
                    MeasuredCar.read(Path.of("demo/harbour-pickup.yaml")).car());
        } catch (CarFileException e) {
            throw new IllegalStateException("the demo car cannot be read", e);
        }
    }

    @Benchmark
    public List<HoseReport> fourLines() {
        return search.run(threads, Progress.SILENT).orElseThrow();
    }
}
