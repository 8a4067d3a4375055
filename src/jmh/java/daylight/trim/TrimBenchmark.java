package daylight.trim;

import daylight.car.Car;
import daylight.clearance.Asked;
import daylight.geometry.Cut;
import daylight.survey.MeasuredCar;
import daylight.units.Progress;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Level;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

/** A cut line dragged, the least cut, and the widest tyre, on the demo pickup. */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Warmup(iterations = 3, time = 3)
@Measurement(iterations = 4, time = 3)
@Fork(1)
public class TrimBenchmark {
    private static final String BRACKET = "right sway-bar bracket";

    private MeasuredCar measured;
    private Car car;
    private CutStudy study;
    private int nudge;

    /** Reads the car and looks at the bracket once, as the window does when a plate is chosen. */
    @Setup(Level.Trial)
    public void read() throws Exception {
        measured = MeasuredCar.read(Path.of("demo/harbour-pickup.yaml"));
        car = measured.car();
        study = CutStudy.of(car, BRACKET, Asked.USUAL);
        study.tried(List.of(), Progress.SILENT);
    }

    /** The line has been dragged a little: gaps and metal of the bracket. */
    @Benchmark
    public Optional<CutStudy.Tried> lineDragged() {
        nudge++;
        double along = 15 + 0.05 * (nudge % 200);
        return study.tried(List.of(new Cut.Straight(1, along, 2, along + 2)), Progress.SILENT);
    }

    /** Everything about the least cut, from the car's values on. */
    @Benchmark
    public Optional<LeastCut> leastCut() {
        return CutStudy.of(car, BRACKET, Asked.USUAL).leastCut(CutStudy.Wanted.inSteps(25.4 / 16), Progress.SILENT);
    }

    /** The widest tyre in front. */
    @Benchmark
    public Optional<FitSearch.Found> widestTyre() throws Exception {
        return FitSearch.of(measured, Asked.USUAL)
                .find(FitSearch.Question.WIDEST_TYRE, "left front tyre", 1, Progress.SILENT);
    }
}
