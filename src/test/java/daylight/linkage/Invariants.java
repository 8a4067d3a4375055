package daylight.linkage;

import static org.assertj.core.api.Assertions.assertThat;

import daylight.geometry.Direction;
import daylight.geometry.Pose;
import daylight.geometry.Spot;
import daylight.linkage.Mechanism.Driver;
import daylight.linkage.Mechanism.Joint;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.random.RandomGenerator;
import org.assertj.core.data.Offset;

/** What must be true of any solved mechanism, checked from the mechanism's own words and the poses, not the engine. */
final class Invariants {
    /** The engine's own stop is 1e-10 mm per equation; a ball is three of them, and poses are made of products. */
    static final double CLOSED_MM = 1e-9;
    /** Two ways to one position: the stop times the condition of the joints. */
    static final double SAME_PLACE_MM = 5e-9;
    /** Central differences over twice this, mm or (hundredths of) rad. */
    private static final double STEP = 1e-2;

    private final Mechanism mechanism;
    private final Linkage linkage;

    Invariants(Mechanism mechanism) {
        this.mechanism = mechanism;
        linkage = Linkage.of(mechanism);
    }

    Linkage linkage() {
        return linkage;
    }

    /** Every position of a grid over the whole range, from the middle outwards and through in rows. */
    List<double[]> grid(int steps) {
        List<double[]> grid = new ArrayList<>();
        int n = mechanism.drivers().size();
        int total = (int) Math.pow(steps, n);
        for (int k = 0; k < total; k++) {
            double[] q = new double[n];
            int rest = k;
            for (int i = 0; i < n; i++) {
                double share = (rest % steps) / (double) (steps - 1);
                rest /= steps;
                q[i] = linkage.lowest(i) + share * (linkage.highest(i) - linkage.lowest(i));
            }
            grid.add(q);
        }
        return grid;
    }

    void reaches(double[] q) {
        Outcome outcome = linkage.solve(q);
        assertThat(outcome.solved())
                .as(() -> mechanism.name() + " at " + Arrays.toString(q) + ": " + outcome.message())
                .isTrue();
    }

    private Pose pose(String body) {
        return body.equals(Mechanism.GROUND)
                ? Pose.RIDE_HEIGHT
                : linkage.pose(mechanism.bodies().indexOf(body));
    }

    /** Joints are closed and drivers are met, seen from the mechanism's own words. */
    void jointsAreClosed(double[] q) {
        Offset<Double> closed = Offset.offset(CLOSED_MM);
        String at = mechanism.name() + " at " + Arrays.toString(q);
        for (Joint joint : mechanism.joints()) {
            String as = at + ": " + joint.name();
            if (!joint.sharing().isEmpty()) {
                // What gives way is held to least energy in BindTest and IndependentLayoutsTest.
                continue;
            }
            Pose a = pose(joint.bodyA());
            Pose b = pose(joint.bodyB());
            if (joint instanceof Joint.Ball j) {
                together(as, a, b, j.at());
            } else if (joint instanceof Joint.Hinge j) {
                together(as, a, b, j.first());
                together(as, a, b, j.second());
            } else if (joint instanceof Joint.Rod j) {
                double length = j.onA().distanceTo(j.onB());
                for (int i = 0; i < q.length; i++) {
                    if (mechanism.drivers().get(i) instanceof Driver.RodLength d
                            && d.rod().equals(j.name())) {
                        length += q[i];
                    }
                }
                assertThat(a.apply(j.onA()).distanceTo(b.apply(j.onB()))).as(as).isCloseTo(length, closed);
            } else if (joint instanceof Joint.Slide j) {
                Spot on = b.apply(j.at());
                Direction along = a.apply(j.along());
                assertThat(off(on, a.apply(j.at()), along)).as(as).isCloseTo(0, closed);
                assertThat(b.apply(j.along()).dot(along)).as(as).isCloseTo(1, closed);
            } else if (joint instanceof Joint.Guide j) {
                double was = off(j.spotOfA(), j.onLineOfB(), j.alongB());
                assertThat(off(a.apply(j.spotOfA()), b.apply(j.onLineOfB()), b.apply(j.alongB())))
                        .as(as)
                        .isCloseTo(was, closed);
            } else if (joint instanceof Joint.Plane j) {
                Spot on = a.apply(j.spotOfA());
                Spot origin = b.apply(j.spotOfA());
                Direction n = b.apply(j.normalB());
                double height =
                        (on.x() - origin.x()) * n.x() + (on.y() - origin.y()) * n.y() + (on.z() - origin.z()) * n.z();
                assertThat(height).as(as).isCloseTo(0, closed);
            }
        }
        for (int i = 0; i < q.length; i++) {
            if (mechanism.drivers().get(i) instanceof Driver.Rise rise) {
                assertThat(pose(rise.body()).apply(rise.spot()).z()
                                - rise.spot().z())
                        .as(at + ": " + rise.name())
                        .isCloseTo(q[i], closed);
            }
        }
    }

    private static void together(String as, Pose a, Pose b, Spot at) {
        assertThat(a.apply(at).distanceTo(b.apply(at))).as(as).isLessThan(CLOSED_MM);
    }

    private static double off(Spot spot, Spot on, Direction along) {
        double dx = spot.x() - on.x();
        double dy = spot.y() - on.y();
        double dz = spot.z() - on.z();
        double s = dx * along.x() + dy * along.y() + dz * along.z();
        return Math.sqrt(
                Math.pow(dx - s * along.x(), 2) + Math.pow(dy - s * along.y(), 2) + Math.pow(dz - s * along.z(), 2));
    }

    /** First one driver and then the other gives the same place as the other way round, and as straight there. */
    void wayDoesNotMatter(double[] q) {
        int n = q.length;
        List<Pose> first = null;
        for (int way = 0; way < 3; way++) {
            linkage.toRideHeight();
            double[] now = new double[n];
            for (int k = 0; k < n && way < 2; k++) {
                int i = way == 0 ? k : n - 1 - k;
                now[i] = q[i];
                reaches(now);
            }
            reaches(q);
            List<Pose> poses = new ArrayList<>();
            for (int b = 0; b < mechanism.bodies().size(); b++) {
                poses.add(linkage.pose(b));
            }
            if (first == null) {
                first = poses;
            } else {
                for (int b = 0; b < poses.size(); b++) {
                    for (Spot spot :
                            List.of(linkage.reference(b), linkage.reference(b).plus(200, 100, -150))) {
                        assertThat(poses.get(b)
                                        .apply(spot)
                                        .distanceTo(first.get(b).apply(spot)))
                                .as("%s at %s, way %s, %s", mechanism.name(), Arrays.toString(q), way, b)
                                .isLessThan(SAME_PLACE_MM);
                    }
                }
            }
        }
    }

    /** Twists and their derivatives against central differences of positions and of twists. */
    void derivativesAreDifferences(double[] q) {
        int n = q.length;
        double[] twist = new double[6];
        double[] bend = new double[6];
        double[] plus = new double[6];
        double[] minus = new double[6];
        for (int b = 0; b < mechanism.bodies().size(); b++) {
            Spot reference = linkage.reference(b);
            for (int i = 0; i < n; i++) {
                double h = mechanism.drivers().get(i) instanceof Driver.Turn ? STEP * 1e-2 : STEP;
                double[] up = q.clone();
                double[] down = q.clone();
                up[i] += h;
                down[i] -= h;
                reaches(up);
                Pose above = linkage.pose(b);
                reaches(down);
                Pose below = linkage.pose(b);
                reaches(q);
                Pose here = linkage.pose(b);
                linkage.twist(b, i, twist);
                Spot r = here.apply(reference);
                for (Spot spot : List.of(reference, reference.plus(100, 0, 0), reference.plus(0, 70, 120))) {
                    Spot p = here.apply(spot);
                    double ax = p.x() - r.x();
                    double ay = p.y() - r.y();
                    double az = p.z() - r.z();
                    double[] v = {
                        twist[3] + twist[1] * az - twist[2] * ay,
                        twist[4] + twist[2] * ax - twist[0] * az,
                        twist[5] + twist[0] * ay - twist[1] * ax
                    };
                    Spot u = above.apply(spot);
                    Spot d = below.apply(spot);
                    double[] difference = {
                        (u.x() - d.x()) / (2 * h), (u.y() - d.y()) / (2 * h), (u.z() - d.z()) / (2 * h)
                    };
                    double scale = 1 + Math.sqrt(v[0] * v[0] + v[1] * v[1] + v[2] * v[2]);
                    for (int c = 0; c < 3; c++) {
                        assertThat(v[c])
                                .as("%s at %s body %s driver %s", mechanism.name(), Arrays.toString(q), b, i)
                                .isCloseTo(difference[c], Offset.offset(1e-6 * scale));
                    }
                }
                for (int j = 0; j < n; j++) {
                    double g = mechanism.drivers().get(j) instanceof Driver.Turn ? STEP * 1e-2 : STEP;
                    up = q.clone();
                    down = q.clone();
                    up[j] += g;
                    down[j] -= g;
                    reaches(up);
                    linkage.twist(b, i, plus);
                    reaches(down);
                    linkage.twist(b, i, minus);
                    reaches(q);
                    linkage.bend(b, i, j, bend);
                    double scale = 1;
                    for (double value : bend) {
                        scale = Math.max(scale, Math.abs(value));
                    }
                    for (int c = 0; c < 6; c++) {
                        assertThat(bend[c])
                                .as("%s at %s body %s drivers %s %s", mechanism.name(), Arrays.toString(q), b, i, j)
                                .isCloseTo((plus[c] - minus[c]) / (2 * g), Offset.offset(1e-6 * scale));
                    }
                }
            }
        }
    }

    /** Random boxes within the range are proved, mostly, and random positions stay in what is proved. */
    double[] boxesHold(RandomGenerator random, int boxes, double wholeShare) {
        Enclosure box = Enclosure.of(linkage);
        int n = linkage.driverCount();
        double[] worst = new double[4];
        int proved = 0;
        for (int k = 0; k < boxes; k++) {
            double[] centre = new double[n];
            double[] half = new double[n];
            for (int i = 0; i < n; i++) {
                double range = linkage.highest(i) - linkage.lowest(i);
                half[i] = 0.5 * range * wholeShare * random.nextDouble();
                centre[i] = linkage.lowest(i) + half[i] + (range - 2 * half[i]) * random.nextDouble();
            }
            if (linkage.enclose(centre, half, box)) {
                proved++;
                double[] used = EnclosureTest.used(linkage, centre, half, box, 10, random);
                for (int m = 0; m < 4; m++) {
                    assertThat(used[m])
                            .as(
                                    "%s box %s at %s bound %s",
                                    mechanism.name(), Arrays.toString(half), Arrays.toString(centre), m)
                            .isLessThanOrEqualTo(1);
                    worst[m] = Math.max(worst[m], used[m]);
                }
            }
        }
        assertThat(proved).as("%s: boxes proved of %s", mechanism.name(), boxes).isGreaterThan(boxes / 2);
        return worst;
    }
}
