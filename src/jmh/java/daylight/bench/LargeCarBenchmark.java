package daylight.bench;

import daylight.car.CarDocument;
import daylight.car.CarFileException;
import daylight.clearance.Asked;
import daylight.geometry.Shape;
import daylight.geometry.Skin;
import daylight.geometry.Spot;
import daylight.survey.MeasuredCar;
import java.nio.file.Path;
import java.util.Locale;
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
 * What a large car costs the window: a frame of a car of 300 parts, and a surface of some 200,000 triangles made ready
 * and cut by a plane (what dragging the section's slider does). Drawing is not in it.
 */
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.MILLISECONDS)
@State(Scope.Thread)
@Fork(1)
@Warmup(iterations = 2, time = 1)
@Measurement(iterations = 4, time = 1)
public class LargeCarBenchmark {
    private static final int PARTS = 300;
    private static final int TRIANGLES = 200_000;

    private final JobsAtOnce jobs = new JobsAtOnce();
    private final BenchViewModel model = new BenchViewModel(jobs, new Asked(3, 13, 2, 2));
    private final SectionCut cut = new SectionCut();
    private double[] corners = new double[0];
    private int[] faces = new int[0];
    private Surface large = Surface.of(new double[0], new int[0]);
    private double phase;

    @Setup
    public void make() throws CarFileException {
        StringBuilder text = new StringBuilder("""
                daylight: 1
                car: Many boxes
                units: mm
                points:
                  axis start: [0, 430, 600]
                  axis end: [0, 350, 600]
                mechanisms:
                  pedal: {layout: plain-swing, prefix: axis, forward: 30 deg, back: 2 deg}
                parts:
                """.replace("axis start", "pedal axis start")
                .replace("axis end", "pedal axis end")
                .replace(", prefix: axis", ""));
        for (int p = 0; p < PARTS; p++) {
            int x = 60 * (p % 30);
            int y = 90 * (p / 30);
            text.append(String.format(
                    Locale.ROOT,
                    "  part %d: {on: %s, box: {from corner: [%d, %d, 100], to corner: [%d, %d, 160]}}%n",
                    p,
                    p % 3 == 0 ? "pedal arm" : "chassis",
                    x,
                    y,
                    x + 40,
                    y + 60));
        }
        model.adopt(OpenCar.of(Path.of("many.yaml"), MeasuredCar.of(CarDocument.of("many.yaml", text.toString()))));
        jobs.finish();
        model.choose(model.shownRows().get(0));
        Skin skin = Skin.of(new Shape.Ball(Spot.ORIGIN, 900), 0.5);
        int copies = Math.max(1, TRIANGLES * 3 / skin.faces().length);
        corners = new double[copies * skin.vertices().length];
        faces = new int[copies * skin.faces().length];
        for (int c = 0; c < copies; c++) {
            for (int i = 0; i < skin.vertices().length; i++) {
                corners[c * skin.vertices().length + i] = skin.vertices()[i] * (1 + 0.002 * c);
            }
            for (int i = 0; i < skin.faces().length; i++) {
                faces[c * skin.faces().length + i] = skin.faces()[i] + c * skin.vertices().length / 3;
            }
        }
        large = Surface.of(corners, faces);
    }

    @Benchmark
    public boolean aFrameOfThreeHundredParts() {
        phase += 0.03;
        HandleViewModel handle = model.handles().get(0);
        double share = 0.5 + 0.5 * Math.sin(phase);
        handle.valueProperty()
                .set(handle.handle().lowest()
                        + share * (handle.handle().highest() - handle.handle().lowest()));
        return model.frame(0);
    }

    @Benchmark
    public int aLargeSurfaceIsMadeReady() {
        return Surface.of(corners, faces).triangles();
    }

    @Benchmark
    public int aLargeSurfaceIsCut() {
        phase += 0.03;
        cut.cut(large, 0.6, 0, 0.8, 800 * Math.sin(phase));
        return cut.faces().length + cut.lineEnds().length;
    }
}
