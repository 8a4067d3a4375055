package daylight.geometry;

import static org.assertj.core.api.Assertions.assertThat;

import daylight.validation.Checks;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Locale;
import org.joml.Matrix4x3d;
import org.joml.Vector3d;
import org.junit.jupiter.api.Test;

/**
 * The floor over a box of motions: never above any position in it, and close below the lowest.
 *
 * <p>Mutations tried by hand, each makes {@link #noPositionFallsBelowTheFloor} fail: half widths halved in {@code
 * FloorSearch.corner}; shifts left out in {@code FloorSearch.aim}; first-order approach halved in {@code
 * FloorSearch.approach}; the rounding radii left out of {@code FloorSearch.pieces}. The remainder halved in {@code
 * Wander.remainder} makes {@link #theWholeRemainderCounts} fail.
 */
class FloorTest {
    /** What rounding may take, mm: 1e-9 of the few hundred millimetres at play. */
    private static final double ROUNDING_MM = 1e-7;

    private final Gauge gauge = new Gauge();

    /**
     * A motion of k parameters with analytic errors: x = R(q0 w0) R(q1 w1) ... (p - ref) + ref + t + sum of q v +
     * sum of q^2 c. Its velocity by q_i differs from the centre's by at most |w_i| r sum(h_j |w_j|) + 2 h_i |c_i|.
     */
    private static final class Motion {
        final int k;
        final Pose start;
        final Spot reference;
        final Direction[] axis;
        final double[] rate;
        final Spot[] speed;
        final Spot[] curve;
        final double[] half;
        final Direction hanger;
        final double swing;

        Motion(Samples samples, int k, double scale) {
            this.k = k;
            start = samples.pose(120);
            reference = samples.spot(100);
            axis = new Direction[k];
            rate = new double[k];
            speed = new Spot[k];
            curve = new Spot[k];
            half = new double[k];
            boolean still = samples.below(4) == 0;
            for (int i = 0; i < k; i++) {
                axis[i] = samples.squareDirection();
                rate[i] = still || samples.below(3) == 0 ? 0 : samples.between(-0.02, 0.02);
                speed[i] = still ? Spot.ORIGIN : samples.spot(2);
                curve[i] = samples.below(2) == 0 || still ? Spot.ORIGIN : samples.spot(0.05);
                half[i] = scale * (i + 1);
            }
            hanger = samples.direction();
            swing = samples.below(3) == 0 ? samples.between(0, 8) : 0;
        }

        void into(Wander wander, double share) {
            wander.parameters(k)
                    .centre(start.into(new Matrix4x3d()))
                    .reference(reference.x(), reference.y(), reference.z());
            double turning = 0;
            for (int i = 0; i < k; i++) {
                turning += share * half[i] * Math.abs(rate[i]);
            }
            for (int i = 0; i < k; i++) {
                wander.half(i, share * half[i])
                        .twist(
                                i,
                                rate[i] * axis[i].x(),
                                rate[i] * axis[i].y(),
                                rate[i] * axis[i].z(),
                                speed[i].x(),
                                speed[i].y(),
                                speed[i].z())
                        .error(i, 2 * share * half[i] * curve[i].distanceTo(Spot.ORIGIN), Math.abs(rate[i]) * turning);
            }
            if (swing > 0) {
                wander.shift(hanger.x(), hanger.y(), hanger.z(), -share * swing, share * swing / 2);
            }
        }

        Matrix4x3d at(double[] q, double shifted) {
            Matrix4x3d base = start.into(new Matrix4x3d());
            Vector3d ref = base.transformPosition(new Vector3d(reference.x(), reference.y(), reference.z()));
            Matrix4x3d turn = new Matrix4x3d();
            double x = ref.x + shifted * hanger.x();
            double y = ref.y + shifted * hanger.y();
            double z = ref.z + shifted * hanger.z();
            for (int i = 0; i < k; i++) {
                turn.rotate(q[i] * rate[i], axis[i].x(), axis[i].y(), axis[i].z());
                x += q[i] * speed[i].x() + q[i] * q[i] * curve[i].x();
                y += q[i] * speed[i].y() + q[i] * q[i] * curve[i].y();
                z += q[i] * speed[i].z() + q[i] * q[i] * curve[i].z();
            }
            return new Matrix4x3d()
                    .translation(x, y, z)
                    .mul(turn)
                    .translate(-ref.x, -ref.y, -ref.z)
                    .mul(base);
        }
    }

    private static double pick(Samples samples, double half) {
        return switch (samples.below(3)) {
            case 0 -> -half;
            case 1 -> half;
            default -> samples.between(-half, half);
        };
    }

    @Test
    void noPositionFallsBelowTheFloor() {
        Wander wanderA = new Wander();
        Wander wanderB = new Wander();
        Gauge fresh = new Gauge();
        int decided = 0;
        for (int seed = 0; seed < 1_000; seed++) {
            Samples samples = new Samples(seed);
            Solid a = Solid.of(seed % 3 == 0 ? Parts.any(samples) : samples.shape(samples.kind()));
            Solid b = Solid.of(samples.shape(samples.kind()));
            int k = 1 + samples.below(6);
            double scale = samples.below(3) == 0 ? 10 : 1;
            Motion motionA = new Motion(samples, k, scale);
            Motion motionB = new Motion(samples, k, scale);
            motionA.into(wanderA, 1);
            motionB.into(wanderB, 1);
            double enough = samples.below(2) == 0 ? Double.POSITIVE_INFINITY : 20;
            double floor = gauge.floor(a, wanderA, b, wanderB, enough);
            if (floor >= enough) {
                floor = Math.max(floor, enough);
            } else {
                decided++;
            }
            for (int n = 0; n < 30; n++) {
                double[] q = new double[k];
                for (int i = 0; i < k; i++) {
                    q[i] = n == 0 ? gauge.towards(i) * motionA.half[i] : pick(samples, motionA.half[i]);
                }
                Matrix4x3d poseA = motionA.at(q, n % 2 == 0 ? -motionA.swing : motionA.swing / 2);
                Matrix4x3d poseB = motionB.at(q, n % 4 < 2 ? -motionB.swing : motionB.swing / 2);
                double there = fresh.measure(a, poseA, b, poseB);
                assertThat(there)
                        .as("seed %s, floor %s, at %s", seed, floor, q)
                        .isGreaterThanOrEqualTo(floor - ROUNDING_MM);
            }
        }
        assertThat(decided).isGreaterThan(300);
    }

    @Test
    void halvingTheBoxQuartersWhatTheFloorLacks() {
        Wander wanderA = new Wander();
        Wander wanderB = new Wander();
        double sumOfRatios = 0;
        int cases = 0;
        for (int seed = 0; seed < 30; seed++) {
            Samples samples = new Samples(seed);
            Solid a = Solid.of(samples.shape(Samples.Kind.BOX, 50));
            Solid b = Solid.of(samples.shape(Samples.Kind.ROD, 50));
            Motion motionA = new Motion(samples, 2, 4);
            Motion motionB = new Motion(samples, 2, 4);
            double[] lacks = new double[3];
            for (int level = 0; level < 3; level++) {
                double share = Math.pow(0.5, level);
                motionA.into(wanderA, share);
                motionB.into(wanderB, share);
                double floor = gauge.floor(a, wanderA, b, wanderB, Double.POSITIVE_INFINITY);
                double lowest = Double.POSITIVE_INFINITY;
                for (int i = 0; i <= 40; i++) {
                    for (int j = 0; j <= 40; j++) {
                        double[] q = {share * motionA.half[0] * (i / 20.0 - 1), share * motionA.half[1] * (j / 20.0 - 1)
                        };
                        for (int c = 0; c < 4; c++) {
                            double sa = share * ((c & 1) == 0 ? -motionA.swing : motionA.swing / 2);
                            double sb = share * ((c & 2) == 0 ? -motionB.swing : motionB.swing / 2);
                            lowest = Math.min(lowest, gauge.measure(a, motionA.at(q, sa), b, motionB.at(q, sb)));
                        }
                    }
                }
                lacks[level] = lowest - floor;
            }
            if (lacks[0] > 1e-3 && lacks[0] < 5) {
                sumOfRatios += lacks[0] / Math.max(lacks[2], 1e-9);
                cases++;
            }
        }
        // Two halvings of a second-order bound: a factor of 16; a first-order one would give 4.
        assertThat(cases).isGreaterThan(5);
        assertThat(sumOfRatios / cases).isGreaterThan(10);
    }

    @Test
    void spreadNamesTheParameterThatMattersMost() {
        Solid ball = Solid.of(new Shape.Ball(Spot.ORIGIN, 10));
        Solid wall = Solid.of(new Shape.Box(new Spot(60, 0, 0), Direction.FORWARD, Direction.LEFT, 20, 400, 400));
        Wander moving = new Wander().parameters(3);
        moving.half(0, 1).half(1, 1).half(2, 1);
        moving.twist(0, 0, 0, 0, 0, 5, 0).twist(1, 0, 0, 0, -7, 0, 0).twist(2, 0, 0, 0, 1, 0, 0);
        double floor = gauge.floor(ball, moving, wall, new Wander(), Double.POSITIVE_INFINITY);
        assertThat(floor).isBetween(32 - ROUNDING_MM, 32.0);
        assertThat(gauge.centreMm()).isEqualTo(40);
        assertThat(gauge.spread(1)).isBetween(7 - ROUNDING_MM, 7 + ROUNDING_MM);
        assertThat(gauge.spread(2)).isBetween(1 - ROUNDING_MM, 1 + ROUNDING_MM);
        assertThat(gauge.spread(0)).isLessThan(ROUNDING_MM);
        assertThat(gauge.towards(1)).isEqualTo(-1);
        assertThat(gauge.towards(2)).isEqualTo(1);
    }

    @Test
    void anEnoughThatIsClearNeedsNoPairs() {
        Solid a = Solid.of(new Shape.Ball(Spot.ORIGIN, 10));
        Solid b = Solid.of(new Shape.Ball(new Spot(1000, 0, 0), 10));
        Wander still = new Wander();
        long before = gauge.piecePairs();
        assertThat(gauge.floor(a, still, b, still, 75)).isGreaterThanOrEqualTo(75);
        assertThat(gauge.piecePairs()).isEqualTo(before);
    }

    @Test
    void theWholeRemainderCounts() {
        // x = q^2 / 10: at the edge, q = 5, its speed is 1 and it has come 2.5 mm. A motion of even acceleration uses
        // up the whole remainder.
        Solid ball = Solid.of(new Shape.Ball(Spot.ORIGIN, 10));
        Solid wall = Solid.of(new Shape.Box(new Spot(60, 0, 0), Direction.FORWARD, Direction.LEFT, 20, 400, 400));
        Wander moving = new Wander().parameters(1).half(0, 5).error(0, 1, 0);
        double floor = gauge.floor(ball, moving, wall, new Wander(), Double.POSITIVE_INFINITY);
        assertThat(floor).isBetween(37.5 - ROUNDING_MM, 37.5);
    }

    @Test
    void aLongTubeThatTurnsAboutItsEndIsNotChargedForItsFarEnd() {
        // The far end dips 30 mm towards the block's face, but the block ends 15 mm from the pivot, where it is 1.5 mm.
        Solid tube = Solid.of(new Shape.Tube(List.of(Spot.ORIGIN, new Spot(300, 0, 0)), 20, 0));
        Solid block = Solid.of(new Shape.Box(new Spot(0, 0, -60), Direction.FORWARD, Direction.LEFT, 30, 30, 20));
        double half = 0.1;
        Wander turning = new Wander().parameters(1).half(0, half).error(0, 0, half);
        turning.twist(0, 0, 1, 0, 0, 0, 0);
        assertThat(gauge.floor(tube, turning, block, new Wander(), 38)).isGreaterThanOrEqualTo(38);
        assertThat(gauge.floor(tube, turning, block, new Wander(), 38.6)).isLessThan(38.6);
        double least = Double.POSITIVE_INFINITY;
        for (int i = -10; i <= 10; i++) {
            Matrix4x3d pose = new Matrix4x3d().rotationY(i * half / 10);
            least = Math.min(least, gauge.measure(tube, pose, block, new Matrix4x3d()));
        }
        assertThat(least).isBetween(38.0, 38.6);
    }

    @Test
    void aFloorThatIsNotEnoughIsGivenUpAtTheFirstPairOfPieces() {
        List<Shape> row = new ArrayList<>();
        for (int i = 0; i < 100; i++) {
            row.add(new Shape.Box(new Spot(10 * i, 0, -60), Direction.FORWARD, Direction.LEFT, 8, 8, 20));
        }
        Solid many = Solid.of(new Shape.Group(row));
        Solid ball = Solid.of(new Shape.Ball(Spot.ORIGIN, 10));
        Wander moving = new Wander().parameters(1).half(0, 100);
        moving.twist(0, 0, 0, 0, 0, 0, 1);
        gauge.measure(ball, new Matrix4x3d(), many, new Matrix4x3d());
        long before = gauge.piecePairs();
        assertThat(gauge.floor(ball, moving, many, new Wander(), 30)).isLessThan(30);
        assertThat(gauge.piecePairs() - before).isLessThan(10);
    }

    // CG-8: crank and fixed point, least gap over a travel; recomputed. The crank's pin and the point are dots: floor
    // and samples close in on the least gap from both sides by halving.
    @Test
    void theCrankComesAsCloseAsItsClosedFormSays() {
        String source = "crank 150 about the origin, fixed point (200, 50), closed form";
        double[][] travels = {{-180, 180, 56.1552812809}, {-20, 10, 57.5048880902}, {20, 60, 59.0604825832}};
        for (double[] t : travels) {
            double found = leastGap(Math.toRadians(t[0]), Math.toRadians(t[1]));
            Checks.record(
                    "CG-8",
                    String.format(Locale.ROOT, "crank from %.0f to %.0f degrees", t[0], t[1]),
                    source,
                    "recomputed",
                    t[2],
                    found,
                    SEARCH_MM);
        }
    }

    /** How close the little search below goes. */
    private static final double SEARCH_MM = 1e-6;

    private double leastGap(double low, double high) {
        Solid pin = Solid.of(new Shape.Hull(List.of(new Spot(150, 0, 0)), 0));
        Solid point = Solid.of(new Shape.Hull(List.of(new Spot(200, 50, 0)), 0));
        Deque<double[]> boxes = new ArrayDeque<>();
        boxes.add(new double[] {low, high});
        double found = Double.POSITIVE_INFINITY;
        Matrix4x3d still = new Matrix4x3d();
        Wander turning = new Wander();
        while (!boxes.isEmpty()) {
            double[] box = boxes.removeFirst();
            double middle = 0.5 * (box[0] + box[1]);
            double half = 0.5 * (box[1] - box[0]);
            for (double angle : new double[] {box[0], middle, box[1]}) {
                found = Math.min(found, gauge.measure(pin, new Matrix4x3d().rotationZ(angle), point, still));
            }
            // The velocity turns by the half width on the way to the edge.
            turning.parameters(1).centre(new Matrix4x3d().rotationZ(middle)).half(0, half);
            turning.twist(0, 0, 0, 1, 0, 0, 0).error(0, 0, half);
            double enough = found - SEARCH_MM;
            if (gauge.floor(pin, turning, point, new Wander(), enough) < enough) {
                boxes.add(new double[] {box[0], middle});
                boxes.add(new double[] {middle, box[1]});
            }
        }
        return found;
    }
}
