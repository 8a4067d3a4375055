package daylight.linkage;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import daylight.car.Layouts;
import daylight.geometry.Direction;
import daylight.geometry.Spot;
import daylight.linkage.Mechanism.Driver;
import daylight.linkage.Mechanism.Joint;
import daylight.linkage.Mechanism.LeafModel;
import java.util.ArrayList;
import java.util.List;
import java.util.random.RandomGeneratorFactory;
import org.apache.commons.math3.optim.MaxEval;
import org.apache.commons.math3.optim.nonlinear.scalar.GoalType;
import org.apache.commons.math3.optim.univariate.BrentOptimizer;
import org.apache.commons.math3.optim.univariate.SearchInterval;
import org.apache.commons.math3.optim.univariate.UnivariateObjectiveFunction;
import org.junit.jupiter.api.Test;

/** Axles on more links than they have freedoms, and the leaf springs' two models. */
class BindTest {
    private static final String LAYOUT = "live-axle-parallel-four-link-panhard";

    private static Mechanism example(String layout) {
        return Layouts.named(layout).orElseThrow().exampleMechanism();
    }

    /** The same axle with one upper link whose length is a driver, and none on the other side. */
    private static Mechanism oneUpperLink(Mechanism whole) {
        List<Joint> joints = new ArrayList<>();
        for (Joint joint : whole.joints()) {
            if (joint instanceof Joint.Rod rod && !rod.sharing().isEmpty()) {
                if (rod.name().contains("left")) {
                    joints.add(new Joint.Rod(rod.name(), rod.bodyA(), rod.onA(), rod.bodyB(), rod.onB()));
                }
            } else {
                joints.add(joint);
            }
        }
        List<Driver> drivers = new ArrayList<>(whole.drivers());
        drivers.add(new Driver.RodLength("length", LAYOUT + " left upper link", -20, 20));
        return new Mechanism("one upper link", whole.bodies(), joints, drivers, whole.followers());
    }

    @Test
    void bindIsThatOfLeastEnergy() {
        // Least energy with two equal bushes, found by a general minimiser over the left link's length.
        Mechanism whole = example(LAYOUT);
        Joint.Rod right = (Joint.Rod) whole.joints().stream()
                .filter(j -> j.name().endsWith("right upper link"))
                .findFirst()
                .orElseThrow();
        Linkage shared = Linkage.of(whole);
        Linkage free = Linkage.of(oneUpperLink(whole));
        int axle = free.bodies().indexOf(LAYOUT + " axle");
        for (double[] q : new double[][] {{40, -40}, {70, -60}, {-80, 60}, {20, 0}}) {
            double least = new BrentOptimizer(1e-10, 1e-12)
                    .optimize(
                            new MaxEval(500),
                            GoalType.MINIMIZE,
                            new SearchInterval(-12, 12, 0),
                            new UnivariateObjectiveFunction(change -> {
                                assertThat(free.solve(new double[] {q[0], q[1], change})
                                                .solved())
                                        .isTrue();
                                double other = free.where(axle, right.onB()).distanceTo(right.onA())
                                        - right.onA().distanceTo(right.onB());
                                return change * change + other * other;
                            }))
                    .getPoint();
            assertThat(shared.solve(q).solved()).isTrue();
            double left = shared.bindMm(LAYOUT + " left upper link");
            assertThat(left).as("bind at %s, %s", q[0], q[1]).isCloseTo(least, within(0.05 + 0.05 * Math.abs(least)));
            assertThat(shared.bindMm(LAYOUT + " right upper link")).isCloseTo(-left, within(0.05));
        }
        assertThat(shared.solve(new double[] {60, 60}).solved()).isTrue();
        assertThat(shared.bindMm(LAYOUT + " left upper link"))
                .as("nothing binds in heave, apart from the Panhard bar's sideways pull")
                .isCloseTo(0, within(0.2));
    }

    @Test
    void anAdjustableRodIsADriverLikeAnyOther() {
        Invariants invariants = new Invariants(oneUpperLink(example(LAYOUT)));
        for (double[] q : invariants.grid(3)) {
            for (int i = 0; i < q.length; i++) {
                q[i] *= 0.5;
            }
            invariants.reaches(q);
            invariants.jointsAreClosed(q);
            invariants.wayDoesNotMatter(q);
            invariants.derivativesAreDifferences(q);
        }
        double[] used = invariants.boxesHold(
                RandomGeneratorFactory.of("L64X128MixRandom").create(12), 60, 0.08);
        assertThat(used[1]).isLessThanOrEqualTo(1);
    }

    @Test
    void bindNamesWhatSharesOnly() {
        Linkage linkage = Linkage.of(example(LAYOUT));
        assertThat(linkage.sharingJoints()).containsExactly(LAYOUT + " left upper link", LAYOUT + " right upper link");
        assertThatThrownBy(() -> linkage.bindMm("Panhard bar"))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("Panhard bar");
        assertThatThrownBy(() -> new Mechanism(
                        "m",
                        List.of("axle"),
                        List.of(new Joint.Plane("p", "axle", Spot.ORIGIN, Mechanism.GROUND, Direction.UP, "alone")),
                        List.of(),
                        List.of()))
                .hasMessageContaining("shares \"alone\" with no other");
    }

    private static Mechanism withModel(LeafModel model) {
        Mechanism m = example("live-axle-leaf");
        List<Joint> joints = m.joints().stream()
                .map(j -> j instanceof Joint.Leaf leaf
                        ? new Joint.Leaf(leaf.name(), leaf.bodyA(), leaf.pad(), leaf.bodyB(), leaf.eye(), model)
                        : j)
                .toList();
        return new Mechanism("leaf axle", m.bodies(), joints, m.drivers(), m.followers());
    }

    @Test
    void evenlyCurvedLeavesKeepDerivativesAndBounds() {
        Invariants invariants = new Invariants(withModel(LeafModel.EVEN_CURVE));
        for (double[] q : invariants.grid(5)) {
            invariants.reaches(q);
            invariants.jointsAreClosed(q);
        }
        for (double[] q : invariants.grid(3)) {
            q[0] *= 0.9;
            q[1] *= 0.8;
            invariants.wayDoesNotMatter(q);
            invariants.derivativesAreDifferences(q);
        }
        double[] used = invariants.boxesHold(
                RandomGeneratorFactory.of("L64X128MixRandom").create(11), 100, 0.1);
        assertThat(used[0]).isLessThanOrEqualTo(1);
    }

    @Test
    void theTwoLeafModelsDifferByLittle() {
        Linkage arm = Linkage.of(withModel(LeafModel.THREE_LINK));
        Linkage even = Linkage.of(withModel(LeafModel.EVEN_CURVE));
        Spot pinion = new Spot(-2450, 0, 330);
        double most = 0;
        for (double left = -100; left <= 80; left += 20) {
            for (double right = -100; right <= 80; right += 20) {
                assertThat(arm.solve(new double[] {left, right}).solved()).isTrue();
                assertThat(even.solve(new double[] {left, right}).solved()).isTrue();
                most = Math.max(most, arm.where(0, pinion).distanceTo(even.where(0, pinion)));
            }
        }
        assertThat(most).as("difference of the models at the pinion, mm").isBetween(0.01, 5.0);
    }

    @Test
    void aSymmetricLeafAxleStaysSymmetric() {
        Linkage linkage = Linkage.of(example("live-axle-leaf"));
        Spot left = new Spot(-2700, 720, 320);
        assertThat(linkage.solve(new double[] {70, 70}).solved()).isTrue();
        Spot l = linkage.where(0, left);
        Spot r = linkage.where(0, left.mirrored());
        assertThat(l.mirrored().distanceTo(r)).as("heave").isLessThan(1e-8);
        assertThat(linkage.solve(new double[] {50, -40}).solved()).isTrue();
        Spot one = linkage.where(0, left);
        assertThat(linkage.solve(new double[] {-40, 50}).solved()).isTrue();
        Spot other = linkage.where(0, left.mirrored());
        assertThat(one.mirrored().distanceTo(other)).as("roll to either side").isLessThan(1e-8);
    }
}
