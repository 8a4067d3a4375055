package daylight.clearance;

import daylight.car.Car;
import daylight.geometry.Pose;
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

/**
 * How the time for a whole car grows with its parts: the demo pickup with its first 60 parts, and with brackets and
 * short pipes added along the chassis up to 120, 240 and 480 parts.
 */
@State(Scope.Benchmark)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@Warmup(iterations = 3, time = 3)
@Measurement(iterations = 4, time = 3)
@Fork(1)
public class GrownCarBenchmark {
    @Param({"60", "120", "240", "480"})
    public int parts;

    private Car car;

    /** Reads the car and grows it. */
    @Setup(Level.Trial)
    public void grow() throws Exception {
        Car read = MeasuredCar.read(Path.of("demo/harbour-pickup.yaml")).car();
        List<Car.Part> grown = new ArrayList<>(
                read.parts().subList(0, Math.min(parts, read.parts().size())));
        java.util.random.RandomGenerator random =
                java.util.random.RandomGeneratorFactory.of("L64X128MixRandom").create(4);
        List<Car.Part> fixed =
                read.parts().stream().filter(p -> p.body().equals("chassis")).toList();
        while (grown.size() < parts) {
            // A copy of a fixed part of the car's own, put somewhere else along the chassis.
            Car.Part of = fixed.get(random.nextInt(fixed.size()));
            double x = -3000 * random.nextDouble();
            double y = 500 * (2 * random.nextDouble() - 1);
            double z = 200 * (2 * random.nextDouble() - 1);
            Shape moved = of.shape().movedBy(new Pose(1, 0, 0, 0, 1, 0, 0, 0, 1, x, y, z));
            grown.add(new Car.Part(of.name() + " " + grown.size(), of.body(), of.kinds(), moved, of.note()));
        }
        car = read.withParts(grown);
    }

    /** Everything, from the car's values on, at 0.1 mm. */
    @Benchmark
    public GapTable wholeCar() {
        return GapSearch.of(car, Asked.USUAL).run(Progress.SILENT).orElseThrow();
    }

    /** The same car with an inner fender scanned as 200,000 triangles. */
    @State(Scope.Benchmark)
    public static class Scanned {
        private Car car;

        /** Reads the car and adds the scan: a bowl round the left front wheel. */
        @Setup(Level.Trial)
        public void scan() throws Exception {
            Car read = MeasuredCar.read(Path.of("demo/harbour-pickup.yaml")).car();
            int rows = 250;
            int columns = 400;
            List<Spot> corners = new ArrayList<>();
            List<Integer> triangles = new ArrayList<>();
            for (int i = 0; i <= rows; i++) {
                for (int j = 0; j <= columns; j++) {
                    double across = 560 + 350.0 * i / rows;
                    double round = Math.PI * j / columns;
                    double radius = 470 + 6 * Math.sin(0.09 * i) * Math.cos(0.11 * j);
                    corners.add(new Spot(radius * Math.cos(round), across, 323.85 + radius * Math.sin(round)));
                    if (i < rows && j < columns) {
                        int at = i * (columns + 1) + j;
                        triangles.addAll(List.of(at, at + 1, at + columns + 2, at, at + columns + 2, at + columns + 1));
                    }
                }
            }
            List<Car.Part> parts = new ArrayList<>(read.parts());
            parts.add(new Car.Part(
                    "scanned inner fender",
                    "chassis",
                    List.of("body panel"),
                    new Shape.Mesh(corners, triangles),
                    java.util.Optional.empty()));
            car = read.withParts(parts);
        }
    }

    /** Everything with the scan, its tree of boxes made afresh. */
    @Benchmark
    public GapTable withScan(Scanned scanned) {
        return GapSearch.of(scanned.car, Asked.USUAL).run(Progress.SILENT).orElseThrow();
    }
}
