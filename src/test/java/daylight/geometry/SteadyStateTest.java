package daylight.geometry;

import static org.assertj.core.api.Assertions.assertThat;

import com.sun.management.ThreadMXBean;
import java.lang.management.ManagementFactory;
import java.util.ArrayList;
import java.util.List;
import org.joml.Matrix4x3d;
import org.joml.Vector3d;
import org.junit.jupiter.api.Test;

/** Work, not time: what a gauge allocates and how much it evaluates once it is warm. */
class SteadyStateTest {
    /** Bytes a thousand measurements may leave behind: the meter itself makes a few objects. */
    private static final long NEARLY_NOTHING = 2_000;

    private final ThreadMXBean meter = (ThreadMXBean) ManagementFactory.getThreadMXBean();

    private static List<Solid> solids() {
        Samples samples = new Samples(11);
        List<Solid> solids = new ArrayList<>();
        for (Samples.Kind kind : Samples.KINDS) {
            solids.add(Solid.of(samples.shape(kind, 50)));
        }
        solids.add(Solid.of(Parts.bentTube(samples)));
        solids.add(Solid.of(Parts.plate(samples)));
        solids.add(Solid.of(Parts.ring(samples)));
        solids.add(Solid.of(Parts.torusMesh(Spot.ORIGIN, 60, 15, 40, 20)));
        return solids;
    }

    @Test
    void measuringAllocatesNothing() {
        List<Solid> solids = solids();
        Gauge gauge = new Gauge();
        Matrix4x3d here = new Matrix4x3d();
        Matrix4x3d there = new Matrix4x3d();
        Vector3d spot = new Vector3d();
        Wander still = new Wander();
        Wander moving = new Wander().parameters(2).half(0, 3).half(1, 2);
        moving.twist(0, 0.01, 0, 0, 1, 0, 0).twist(1, 0, 0.02, 0, 0, 1, 0).error(0, 0.01, 1e-4);
        long bytes = 0;
        for (int round = 0; round < 2; round++) {
            long before = meter.getCurrentThreadAllocatedBytes();
            for (int step = 0; step < 20; step++) {
                there.rotationXYZ(0.01 * step, 0.02 * step, 0).setTranslation(5.0 * step, 40, 30);
                for (int i = 0; i < solids.size(); i++) {
                    for (int j = 0; j < i; j++) {
                        Solid a = solids.get(i);
                        Solid b = solids.get(j);
                        gauge.measure(a, here, b, there);
                        gauge.onA(spot);
                        gauge.normal(spot);
                        moving.centre(there);
                        gauge.floor(a, still, b, moving, 20);
                    }
                }
            }
            bytes = meter.getCurrentThreadAllocatedBytes() - before;
        }
        assertThat(bytes).isLessThan(NEARLY_NOTHING);
    }

    @Test
    void aWarmStartSavesMostOfTheWork() {
        Samples samples = new Samples(3);
        Solid a = Solid.of(samples.shape(Samples.Kind.HULL, 60));
        Solid b = Solid.of(samples.shape(Samples.Kind.BOX, 60));
        Gauge warm = new Gauge();
        Matrix4x3d here = new Matrix4x3d();
        Matrix4x3d there = new Matrix4x3d();
        long cold = 0;
        for (int step = 0; step < 1000; step++) {
            there.rotationXYZ(0.0005 * step, 0, 0).setTranslation(250 - 0.1 * step, 40, 30);
            warm.measure(a, here, b, there);
            Gauge fresh = new Gauge();
            fresh.measure(a, here, b, there);
            cold += fresh.supports();
        }
        assertThat(warm.supports()).isLessThan(cold / 2);
    }
}
