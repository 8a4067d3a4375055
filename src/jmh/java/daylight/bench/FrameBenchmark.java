package daylight.bench;

import daylight.car.CarFileException;
import daylight.clearance.Asked;
import daylight.survey.MeasuredCar;
import java.nio.file.Path;
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
import org.openjdk.jmh.annotations.Warmup;

/**
 * What a frame costs while every handle of the demo car moves and a pair is chosen: all poses, the chosen pair's gap
 * and those of the twenty rows on top. Drawing is not in it. A frame has 16 ms.
 */
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MICROSECONDS)
@State(Scope.Thread)
@Fork(1)
@Warmup(iterations = 3, time = 1)
@Measurement(iterations = 5, time = 1)
public class FrameBenchmark {
    /** Coarse: the benchmark needs the rows, not their last tenth of a millimetre. */
    private static final Asked COARSE = new Asked(3, 13, 2, 2);

    private final JobsAtOnce jobs = new JobsAtOnce();
    private final BenchViewModel model = new BenchViewModel(jobs, COARSE);
    private double phase;

    @Setup
    public void open() throws CarFileException {
        Path file = Path.of("demo/harbour-pickup.yaml");
        model.adopt(OpenCar.of(file, MeasuredCar.read(file)));
        jobs.finish();
        model.choose(model.shownRows().get(0));
    }

    /** All handles move a little between frames, each at its own pace. */
    @Benchmark
    public boolean everyHandleMoves() {
        phase += 0.03;
        for (int h = 0; h < model.handles().size(); h++) {
            HandleViewModel handle = model.handles().get(h);
            double share = 0.5 + 0.5 * Math.sin(phase + h);
            handle.valueProperty()
                    .set(handle.handle().lowest()
                            + share
                                    * (handle.handle().highest()
                                            - handle.handle().lowest()));
        }
        return model.frame(0);
    }
}
