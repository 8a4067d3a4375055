package daylight.geometry;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.joml.Matrix4x3d;
import org.joml.Vector3d;
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
import us.ihmc.euclid.shape.collision.EuclidShape3DCollisionResult;
import us.ihmc.euclid.shape.collision.gjk.GilbertJohnsonKeerthiCollisionDetector;
import us.ihmc.euclid.shape.primitives.interfaces.Shape3DReadOnly;

/**
 * One distance with both witnesses and the normal, one thread, while B moves a little from call to call, as a body does
 * along its travel. Against euclid-shape in the same run where that has the shapes.
 *
 * <pre>{@code mvn -q -Pjmh test-compile exec:exec -Djmh.args="DistanceBenchmark -prof gc"}</pre>
 */
@State(Scope.Thread)
@BenchmarkMode(Mode.AverageTime)
@OutputTimeUnit(TimeUnit.NANOSECONDS)
@Warmup(iterations = 3, time = 1)
@Measurement(iterations = 3, time = 1)
@Fork(1)
public class DistanceBenchmark {
    private static final int STEPS = 1024;

    /** The pair. */
    @Param({
        "tube-tube",
        "tube-box",
        "box-box",
        "drum-box",
        "tyre-tube",
        "hull-hull",
        "mesh-tube",
        "mesh-mesh",
        "mesh-mesh 200,000",
        "bent tube-plate"
    })
    public String pair = "";

    private Solid a = Solid.of(new Shape.Ball(Spot.ORIGIN, 1));
    private Solid b = a;
    private final Gauge gauge = new Gauge();
    private final Matrix4x3d still = new Matrix4x3d();
    private final Matrix4x3d[] moving = new Matrix4x3d[STEPS];
    private final Vector3d onA = new Vector3d();
    private final Vector3d onB = new Vector3d();
    private final Vector3d normal = new Vector3d();
    private int step;
    private final List<Shape3DReadOnly> theirs = new ArrayList<>();
    private Shape3DReadOnly theirA = Euclid.of(new Shape.Ball(Spot.ORIGIN, 1), Pose.RIDE_HEIGHT);
    private final GilbertJohnsonKeerthiCollisionDetector library = new GilbertJohnsonKeerthiCollisionDetector();
    private final EuclidShape3DCollisionResult result = new EuclidShape3DCollisionResult();

    /** Makes the two shapes and a thousand small steps of B's pose. */
    @Setup
    public void make() {
        Samples samples = new Samples(5);
        Shape.Box box = new Shape.Box(Spot.ORIGIN, Direction.of(1, 0.2, 0.1), Direction.of(-0.2, 1, 0), 120, 60, 40);
        Shape.Tube rod = new Shape.Tube(List.of(new Spot(-150, 0, 0), new Spot(150, 30, 20)), 30, 0);
        Shape.Turned drum = new Shape.Turned(
                Spot.ORIGIN,
                Direction.of(0.2, 1, 0.1),
                List.of(new Flat(-60, 0), new Flat(60, 0), new Flat(60, 40), new Flat(-60, 40)),
                0);
        Shape first;
        Shape second;
        switch (pair) {
            case "tube-tube" -> {
                first = rod;
                second = rod;
            }
            case "tube-box" -> {
                first = box;
                second = rod;
            }
            case "box-box" -> {
                first = box;
                second = box;
            }
            case "drum-box" -> {
                first = drum;
                second = box;
            }
            case "tyre-tube" -> {
                first = samples.shape(Samples.Kind.TYRE_LIKE, 100);
                second = rod;
            }
            case "hull-hull" -> {
                first = hull(samples, 40);
                second = hull(samples, 20);
            }
            case "mesh-tube" -> {
                first = Parts.torusMesh(Spot.ORIGIN, 90, 25, 84, 30);
                second = rod;
            }
            case "mesh-mesh" -> {
                first = Parts.torusMesh(Spot.ORIGIN, 90, 25, 84, 30);
                second = Parts.torusMesh(Spot.ORIGIN, 60, 15, 84, 30);
            }
            case "mesh-mesh 200,000" -> {
                first = Parts.torusMesh(Spot.ORIGIN, 90, 25, 530, 189);
                second = Parts.torusMesh(Spot.ORIGIN, 60, 15, 530, 189);
            }
            default -> {
                first = new Shape.Plate(
                        Spot.ORIGIN,
                        Direction.FORWARD,
                        Direction.UP,
                        6,
                        List.of(new Flat(-100, -60), new Flat(100, -60), new Flat(100, 60), new Flat(-100, 60)),
                        List.of(new Shape.Plate.Hole(new Flat(20, 0), 60)));
                List<Spot> through = new ArrayList<>();
                for (int i = 0; i < 9; i++) {
                    through.add(new Spot(-160 + 40 * i, 12 * (i % 2), 8 * (i % 3)));
                }
                second = new Shape.Tube(through, 20, 0);
            }
        }
        a = Solid.of(first);
        b = Solid.of(second);
        double away = a.radiusMm() + b.radiusMm();
        for (int i = 0; i < STEPS; i++) {
            // There and back, so that the last step is next to the first.
            double t = Math.abs(i - STEPS / 2) / (double) STEPS;
            Matrix4x3d m = new Matrix4x3d().rotationXYZ(0.4 * t, 0.3 + 0.3 * t, 0.5 - 0.4 * t);
            m.setTranslation(0.7 * away + 20 * t, 0.2 * away - 30 * t, 0.5 * away + 10 * t);
            moving[i] = m;
            if (hasCounterpart()) {
                theirs.add(Euclid.of(second, Pose.of(m)));
            }
        }
        if (hasCounterpart()) {
            theirA = Euclid.of(first, Pose.RIDE_HEIGHT);
        }
    }

    private boolean hasCounterpart() {
        return switch (pair) {
            case "tube-tube", "tube-box", "box-box", "drum-box", "hull-hull" -> true;
            default -> false;
        };
    }

    private static Shape hull(Samples samples, int corners) {
        List<Spot> spots = new ArrayList<>();
        for (int i = 0; i < corners; i++) {
            spots.add(Spot.ORIGIN.along(samples.direction(), 60));
        }
        return new Shape.Hull(spots, 0);
    }

    /** Ours. */
    @Benchmark
    public double daylight() {
        step = (step + 1) & (STEPS - 1);
        double d = gauge.measure(a, still, b, moving[step]);
        gauge.onA(onA);
        gauge.onB(onB);
        gauge.normal(normal);
        return d + onA.x + onB.y + normal.z;
    }

    /** The general-purpose library, on shapes already posed. */
    @Benchmark
    public double library() {
        if (!hasCounterpart()) {
            return 0;
        }
        step = (step + 1) & (STEPS - 1);
        library.evaluateCollision(theirA, theirs.get(step), result);
        return result.getSignedDistance()
                + result.getPointOnA().getX()
                + result.getPointOnB().getY();
    }
}
