package daylight.linkage;

import daylight.car.Layouts;
import java.util.concurrent.TimeUnit;
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
import org.openjdk.jmh.annotations.Warmup;

/** Warm positions of layouts compiled from their files: steps of about 5 mm to and fro over the whole range. */
@State(Scope.Thread)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.NANOSECONDS)
@Warmup(iterations = 3, time = 1)
@Measurement(iterations = 4, time = 1)
@Fork(1)
public class LinkageBenchmark {
    @Param({"double-a-arm-rack", "live-axle-leaf", "live-axle-three-link-panhard"})
    public String layout;

    private Linkage linkage;
    private Enclosure enclosure;
    private double[] q;
    private double[] half;
    private double[] step;
    private final double[] twist = new double[6];

    @Setup
    public void compile() {
        linkage = Linkage.of(Layouts.named(layout).orElseThrow().exampleMechanism());
        enclosure = Enclosure.of(linkage);
        int n = linkage.driverCount();
        q = new double[n];
        half = new double[n];
        step = new double[n];
        for (int i = 0; i < n; i++) {
            half[i] = 2.5;
            // Different periods, so that the grid is covered.
            step[i] = i == 0 ? 5 : 0.37;
        }
    }

    private void next() {
        for (int i = 0; i < q.length; i++) {
            double value = q[i] + step[i];
            if (value > linkage.highest(i) || value < linkage.lowest(i)) {
                step[i] = -step[i];
                value = q[i] + step[i];
            }
            q[i] = value;
        }
    }

    /** A position 5 mm from the last. */
    @Benchmark
    public boolean position() {
        next();
        return linkage.solve(q).solved();
    }

    /** A position 5 mm from the last, with the twists of all bodies. */
    @Benchmark
    public double positionAndTwists() {
        next();
        boolean solved = linkage.solve(q).solved();
        linkage.twist(0, 0, twist);
        return solved ? twist[0] : 0;
    }

    /** A position 5 mm from the last, with twists and second derivatives of all bodies. */
    @Benchmark
    public double positionTwistsAndSecondDerivatives() {
        next();
        boolean solved = linkage.solve(q).solved();
        linkage.bend(0, 0, 0, twist);
        return solved ? twist[0] : 0;
    }

    /** A box of 5 mm a side proved about a position 5 mm from the last. */
    @Benchmark
    public boolean provedBox() {
        next();
        return linkage.enclose(q, half, enclosure);
    }
}
