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
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Axles on more links than they have freedoms, and the leaf springs' two models. */
class BindTest {
    private static final String LAYOUT = "live-axle-parallel-four-link-panhard";

    private static Mechanism example(String layout) {
        return Layouts.named(layout).orElseThrow().exampleMechanism();
    }

    /** The same axle without one upper link, all others exact and one adjustable. */
    private static Mechanism oneUpperLink(Mechanism whole) {
        List<Joint> joints = new ArrayList<>();
        for (Joint joint : whole.joints()) {
            if (joint instanceof Joint.Rod rod && !rod.name().contains("right upper")) {
                joints.add(new Joint.Rod(rod.name(), rod.bodyA(), rod.onA(), rod.bodyB(), rod.onB()));
            }
        }
        List<Driver> drivers = new ArrayList<>(whole.drivers());
        drivers.add(new Driver.RodLength("length", LAYOUT + " left upper link", -20, 20));
        return new Mechanism(
                "one upper link",
                whole.bodies().stream()
                        .filter(body -> !body.contains("right upper"))
                        .toList(),
                joints,
                drivers,
                whole.followers().stream()
                        .filter(follower -> !follower.body().contains("right upper"))
                        .toList());
    }

    /** The same axle with links of other stiffness, in the order of the file. */
    private static Mechanism withBushes(Mechanism whole, double... stiffness) {
        List<Joint> joints = new ArrayList<>();
        int k = 0;
        for (Joint joint : whole.joints()) {
            if (joint instanceof Joint.Rod rod && !rod.sharing().isEmpty()) {
                joints.add(new Joint.Rod(
                        rod.name(), rod.bodyA(), rod.onA(), rod.bodyB(), rod.onB(), rod.sharing(), stiffness[k++]));
            } else {
                joints.add(joint);
            }
        }
        return new Mechanism(whole.name(), whole.bodies(), joints, whole.drivers(), whole.followers());
    }

    static Stream<Mechanism> overConstrained() {
        Mechanism four = example(LAYOUT);
        return Stream.of(
                four,
                withBushes(four, 300, 300, 100, 100),
                withBushes(four, 50, 800, 200, 1200),
                example("live-axle-truck-arms-panhard"));
    }

    @ParameterizedTest
    @MethodSource("overConstrained")
    void bindIsThatOfLeastEnergy(Mechanism mechanism) {
        // Least energy by a general least-squares solver that is given stiffnesses and raw lengths.
        Linkage linkage = Linkage.of(mechanism);
        RawMechanism raw = new RawMechanism(mechanism);
        double most = 0;
        for (double[] q : new double[][] {{40, -40}, {70, -60}, {-80, 60}, {20, 0}}) {
            raw.solve(q);
            assertThat(linkage.solve(q).solved()).isTrue();
            for (boolean exact : new boolean[] {false, true}) {
                if (exact) {
                    assertThat(linkage.leastEnergy()).isTrue();
                }
                for (Joint joint : mechanism.joints()) {
                    if (joint.sharing().isEmpty()) {
                        continue;
                    }
                    double bind = linkage.bindMm(joint.name());
                    most = Math.max(most, Math.abs(bind));
                    double wanted = joint instanceof Joint.Rod rod
                            ? raw.where(rod.bodyA(), rod.onA()).distanceTo(raw.where(rod.bodyB(), rod.onB()))
                                    - rod.onA().distanceTo(rod.onB())
                            : raw.where(joint.bodyA(), ((Joint.Plane) joint).spotOfA())
                                            .z()
                                    - ((Joint.Plane) joint).spotOfA().z();
                    assertThat(bind)
                            .as("bind of %s at %s, %s, exact %s", joint.name(), q[0], q[1], exact)
                            .isCloseTo(wanted, within(exact ? 2e-5 : 0.1 + 0.05 * Math.abs(wanted)));
                }
            }
        }
        assertThat(most).as("it binds at all, mm").isGreaterThan(0.1);
    }

    @Test
    void theSofterBushGivesMore() {
        Linkage linkage = Linkage.of(withBushes(example(LAYOUT), 100, 100, 100, 400));
        assertThat(linkage.solve(new double[] {60, -60}).solved()).isTrue();
        double soft = Math.abs(linkage.bindMm(LAYOUT + " left upper link"));
        double stiff = Math.abs(linkage.bindMm(LAYOUT + " right upper link"));
        assertThat(stiff).isLessThan(0.5 * soft);
    }

    @Test
    void leafSpringsBindSidewaysInRollAndAddUpToNothing() {
        Mechanism leaf = example("live-axle-leaf");
        Linkage linkage = Linkage.of(leaf);
        assertThat(linkage.sharingJoints()).hasSize(4);
        assertThat(linkage.solve(new double[] {60, 60}).solved()).isTrue();
        linkage.sharingJoints()
                .forEach(half ->
                        assertThat(linkage.bindMm(half)).as("%s in heave", half).isCloseTo(0, within(1e-6)));
        assertThat(linkage.solve(new double[] {60, -60}).solved()).isTrue();
        double sum = 0;
        double most = 0;
        for (Joint joint : leaf.joints()) {
            if (joint instanceof Joint.Leaf half) {
                double bind = linkage.bindMm(half.name());
                // A half that points to the rear counts the other way round.
                sum += half.eye().x() > half.pad().x() ? bind : -bind;
                most = Math.max(most, Math.abs(bind));
            }
        }
        assertThat(sum).as("sum of the sideways binds").isCloseTo(0, within(1e-8));
        assertThat(most).as("greatest sideways bind, mm").isBetween(0.05, 20.0);
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
        assertThat(linkage.sharingJoints())
                .containsExactly(
                        LAYOUT + " left lower link",
                        LAYOUT + " right lower link",
                        LAYOUT + " left upper link",
                        LAYOUT + " right upper link");
        assertThatThrownBy(() -> new Joint.Rod("r", "a", Spot.ORIGIN, "b", new Spot(1, 0, 0), "s", 0))
                .hasMessageContaining("stiffness must be more than zero");
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
