package daylight.hose;

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

/** One brake hose solved anew each time its wheel end has moved 2 mm, and one solved from nothing. */
@State(Scope.Thread)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MICROSECONDS)
@Fork(1)
@Warmup(iterations = 3, time = 1)
@Measurement(iterations = 4, time = 1)
public class RodBenchmark {
    private static final double LENGTH_MM = 320;

    private final Rod rod = new Rod();
    private final double[] ends = {0, 0, 0, 0, 1, 0, 1, 0, 0, 0, 210, -80, 0, 1, 0, 1, 0, 0};
    private int at;

    @Setup
    public void first() {
        if (rod.bend(ends, LENGTH_MM) != Ending.CONVERGED) {
            throw new IllegalStateException("the first shape did not settle");
        }
    }

    @Benchmark
    public double warm() {
        at = (at + 1) % 100;
        ends[11] = -130 + 2 * Math.abs(at - 50);
        if (rod.bend(ends, LENGTH_MM) != Ending.CONVERGED) {
            throw new IllegalStateException("not settled at " + at);
        }
        return rod.tightestRadiusMm();
    }

    @Benchmark
    public double cold() {
        rod.forget();
        rod.bend(ends, LENGTH_MM);
        return rod.tightestRadiusMm();
    }
}
