package daylight.clearance;

import daylight.car.Car;
import daylight.geometry.Shape;
import daylight.geometry.Spot;
import daylight.survey.MeasuredCar;
import daylight.units.Progress;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Fork;
import org.openjdk.jmh.annotations.Level;
import org.openjdk.jmh.annotations.Measurement;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OutputTimeUnit;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;
import org.openjdk.jmh.annotations.Warmup;

/** The gaps of a whole demo car, proved over its whole travel; and again after one part has moved. */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Warmup(iterations = 4, time = 4)
@Measurement(iterations = 4, time = 4)
@Fork(1)
public class WholeCarBenchmark {
    @Param({"demo/harbour-pickup.yaml", "demo/kit-roadster.yaml"})
    public String file = "";

    @Param({"1", "0.1", "0.01"})
    public double toleranceMm;

    private Car car;
    private GapSearch answered;
    private int nudge;

    /** Reads the car and answers it once. */
    @Setup(Level.Trial)
    public void read() throws Exception {
        car = MeasuredCar.read(Path.of(file)).car();
        answered = GapSearch.of(car, asked());
        answered.run(Progress.SILENT);
    }

    private Asked asked() {
        return new Asked(toleranceMm, Asked.USUAL.watchMm(), Asked.USUAL.mostBoxes(), 2);
    }

    /** Everything, from the car's values on. */
    @Benchmark
    public GapTable wholeCar() {
        return GapSearch.of(car, asked()).run(Progress.SILENT).orElseThrow();
    }

    /** One tube has moved by a tenth of a millimetre: its gaps again, the others kept; with the spread of the times. */
    @Benchmark
    @BenchmarkMode(Mode.SampleTime)
    public GapTable onePartMoved() {
        nudge++;
        List<Car.Part> parts = new ArrayList<>(car.parts());
        for (int p = 0; p < parts.size(); p++) {
            Car.Part part = parts.get(p);
            if (part.name().equals("tailpipe") || part.name().equals("front pipe")) {
                parts.set(p, part.withShape(moved(part.shape())));
            }
        }
        return answered.changed(car.withParts(parts)).run(Progress.SILENT).orElseThrow();
    }

    private Shape moved(Shape shape) {
        if (!(shape instanceof Shape.Tube tube)) {
            return shape;
        }
        double dy = 0.1 * (nudge % 50);
        List<Spot> through = tube.through().stream().map(s -> s.plus(0, dy, 0)).toList();
        return new Shape.Tube(through, tube.outsideDiameterMm(), tube.bendRadiusMm());
    }
}
