package daylight.linkage;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.random.RandomGenerator;
import java.util.random.RandomGeneratorFactory;
import org.joml.Matrix4x3d;
import org.joml.Vector3d;
import org.junit.jupiter.api.Test;

/** The proof over a box against dense random samples of the box. */
class EnclosureTest {

    /**
     * Greatest share of the proved bounds that samples used up: velocity error, way left over, shift, turn. Above 1 a
     * bound is wrong.
     */
    static double[] used(
            Linkage linkage, double[] centre, double[] half, Enclosure box, int samples, RandomGenerator r) {
        int nd = linkage.driverCount();
        double[] used = new double[4];
        double[] q = new double[nd];
        double[] t = new double[6];
        double[] tc = new double[6];
        Matrix4x3d pose = new Matrix4x3d();
        Matrix4x3d poseC = new Matrix4x3d();
        for (int k = 0; k < samples; k++) {
            for (int i = 0; i < nd; i++) {
                // Corners and edges of the box on purpose.
                double u = r.nextInt(3) == 0 ? (r.nextBoolean() ? 1 : -1) : 2 * r.nextDouble() - 1;
                q[i] = centre[i] + u * half[i];
            }
            assertThat(linkage.solve(q)).isInstanceOf(Outcome.Solved.class);
            for (int b = 0; b < linkage.bodies().size(); b++) {
                linkage.pose(b, pose);
                box.pose(b, poseC);
                double far = 400 * r.nextDouble();
                Vector3d dir =
                        new Vector3d(r.nextDouble() - 0.5, r.nextDouble() - 0.5, r.nextDouble() - 0.5).normalize();
                Vector3d ref = new Vector3d(
                        linkage.reference(b).x(),
                        linkage.reference(b).y(),
                        linkage.reference(b).z());
                Vector3d p = new Vector3d(ref).fma(far, dir);
                Vector3d now = pose.transformPosition(p, new Vector3d());
                Vector3d then = poseC.transformPosition(p, new Vector3d());
                Vector3d refNow = pose.transformPosition(ref, new Vector3d());
                Vector3d refThen = poseC.transformPosition(ref, new Vector3d());
                Vector3d left = new Vector3d(now).sub(then);
                for (int i = 0; i < nd; i++) {
                    linkage.twist(b, i, t);
                    box.twist(b, i, tc);
                    Vector3d v = velocity(t, now, refNow);
                    Vector3d vc = velocity(tc, then, refThen);
                    double error = new Vector3d(v).sub(vc).length();
                    used[0] = Math.max(used[0], error / (box.linearError(b, i) + far * box.turnError(b, i)));
                    left.fma(-(q[i] - centre[i]), vc);
                }
                used[1] = Math.max(
                        used[1], left.length() / (box.linearRemainderMm(b) + far * box.turnRemainder(b) + 1e-9));
                used[2] = Math.max(used[2], refNow.distance(refThen) / (box.shiftMm(b) + 1e-9));
                Matrix4x3d rel = new Matrix4x3d(pose);
                double trace = 0;
                double[] a = new double[9];
                double[] c = new double[9];
                matrix(pose, a);
                matrix(poseC, c);
                for (int m = 0; m < 9; m++) {
                    trace += a[m] * c[m];
                }
                double chord = Math.sqrt(Math.max(0, 0.5 * (3 - trace)));
                double angle = 2 * Math.asin(Math.min(1, chord / Math.sqrt(2)));
                used[3] = Math.max(used[3], angle / (box.turnRad(b) + 1e-7));
                assertThat(rel).isNotNull();
            }
        }
        return used;
    }

    private static void matrix(Matrix4x3d m, double[] into) {
        into[0] = m.m00();
        into[1] = m.m01();
        into[2] = m.m02();
        into[3] = m.m10();
        into[4] = m.m11();
        into[5] = m.m12();
        into[6] = m.m20();
        into[7] = m.m21();
        into[8] = m.m22();
    }

    private static Vector3d velocity(double[] t, Vector3d p, Vector3d ref) {
        Vector3d arm = new Vector3d(p).sub(ref);
        return new Vector3d(t[0], t[1], t[2]).cross(arm).add(t[3], t[4], t[5]);
    }

    @Test
    void noSampleOfAThousandCornersLeavesTheProvedBox() {
        RandomGenerator random = RandomGeneratorFactory.of("L64X128MixRandom").create(20260101);
        int proved = 0;
        double[] worst = new double[4];
        for (int k = 0; k < 1000; k++) {
            Linkage linkage = Linkage.of(Samples.doubleArm(Samples.shaken(random, 40)));
            Enclosure box = Enclosure.of(linkage);
            double size = Math.pow(10, -2 * random.nextDouble());
            double[] half = {20 * size * random.nextDouble(), 12 * size * random.nextDouble()};
            double[] centre = {60 * (2 * random.nextDouble() - 1), 40 * (2 * random.nextDouble() - 1)};
            if (!linkage.enclose(centre, half, box)) {
                continue;
            }
            proved++;
            double[] used = used(linkage, centre, half, box, 12, random);
            for (int m = 0; m < 4; m++) {
                assertThat(used[m])
                        .as("seed 20260101, geometry %s, bound %s", k, m)
                        .isLessThanOrEqualTo(1.0);
                worst[m] = Math.max(worst[m], used[m]);
            }
        }
        assertThat(proved).as("boxes proved of 1000").isGreaterThan(700);
        // The bounds are tight enough that a halved one would be found out.
        assertThat(worst[0]).as("share of the velocity bound used").isGreaterThan(0.5);
        assertThat(worst[1]).as("share of the remainder used").isGreaterThan(0.5);
        assertThat(worst[2]).as("share of the shift used").isGreaterThan(0.5);
        assertThat(worst[3]).as("share of the turn used").isGreaterThan(0.5);
    }

    @Test
    void errorsShrinkWithTheBox() {
        Linkage linkage = Linkage.of(Samples.doubleArm(Samples.SK1));
        Enclosure box = Enclosure.of(linkage);
        double[] centre = {10, 5};
        assertThat(linkage.enclose(centre, new double[] {4, 2}, box)).isTrue();
        double wide = box.linearError(2, 0);
        double wideLeft = box.linearRemainderMm(2);
        assertThat(linkage.enclose(centre, new double[] {1, 0.5}, box)).isTrue();
        assertThat(box.linearError(2, 0)).isLessThan(wide / 3.9);
        assertThat(box.linearRemainderMm(2)).isLessThan(wideLeft / 15.5);
    }
}
