package daylight.linkage;

import static org.assertj.core.api.Assertions.assertThat;

import daylight.geometry.Spot;
import daylight.validation.Checks;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Every layout that comes with the program against a general least-squares solver of its raw equations. */
class IndependentLayoutsTest {
    /** What differences for derivatives leave in the other solver; far below what a tape reads. */
    private static final double AGREE_MM = 1e-6;
    /** Where joints give way, the other solver's exact joints give by bind over the square of their weight. */
    private static final double AGREE_WHERE_BUSHES_GIVE_MM = 2e-5;

    private static final String SOURCE = "raw joint equations, Levenberg-Marquardt of Hipparchus 4 (RawMechanism)";
    private static final String MARK = "recomputed, own input";

    static Stream<String> names() {
        return MovingLayouts.names();
    }

    private static List<double[]> positions(Linkage linkage) {
        double[][] shares = {{1, 1, 1}, {-1, 1, -0.6}, {0.5, -1, 1}, {-1, -1, -1}, {0.3, 0.7, 0.2}};
        return Arrays.stream(shares)
                .map(share -> {
                    double[] q = new double[linkage.driverCount()];
                    for (int i = 0; i < q.length; i++) {
                        double s = share[i % 3];
                        q[i] = s > 0 ? s * linkage.highest(i) : -s * linkage.lowest(i);
                    }
                    return q;
                })
                .toList();
    }

    @ParameterizedTest
    @MethodSource("names")
    void aLeastSquaresSolverOfTheRawEquationsAgrees(String name) {
        Mechanism mechanism = MovingLayouts.of(name);
        Linkage linkage = Linkage.of(mechanism);
        RawMechanism raw = new RawMechanism(mechanism);
        boolean gives = mechanism.joints().stream().anyMatch(j -> !j.sharing().isEmpty());
        double furthest = 0;
        String what = "";
        double expected = 0;
        double got = 0;
        assertThat(linkage.driverCount()).as("%s moves", name).isPositive();
        for (double[] q : positions(linkage)) {
            raw.solve(q);
            Outcome outcome = linkage.solve(q);
            assertThat(outcome.solved())
                    .as("%s at %s: %s", name, Arrays.toString(q), outcome.message())
                    .isTrue();
            if (gives) {
                assertThat(linkage.leastEnergy()).isTrue();
            }
            for (String body : linkage.bodies()) {
                int b = linkage.bodies().indexOf(body);
                Spot reference = linkage.reference(b);
                for (Spot spot : List.of(reference, reference.plus(120, 0, 0), reference.plus(0, 90, 110))) {
                    Spot ours = linkage.where(b, spot);
                    Spot theirs = raw.where(body, spot);
                    assertThat(ours.distanceTo(theirs))
                            .as("%s at %s: %s", name, Arrays.toString(q), body)
                            .isLessThan(gives ? AGREE_WHERE_BUSHES_GIVE_MM : AGREE_MM);
                    double moved = theirs.distanceTo(spot);
                    if (moved > furthest) {
                        furthest = moved;
                        expected = moved;
                        got = ours.distanceTo(spot);
                        what = String.format(Locale.ROOT, "%s moves from ride height, mm", body);
                    }
                }
            }
        }
        Checks.record(
                "IL-" + (1 + names().toList().indexOf(name)),
                name + ": " + what,
                SOURCE,
                MARK,
                expected,
                got,
                gives ? AGREE_WHERE_BUSHES_GIVE_MM : AGREE_MM);
    }

    @ParameterizedTest
    @MethodSource("names")
    void theMirrorImageMovesAsTheMirrorImage(String name) {
        Mechanism mechanism = MovingLayouts.of(name);
        Linkage left = Linkage.of(mechanism);
        Linkage right = Linkage.of(MovingLayouts.mirrored(mechanism));
        for (double[] q : positions(left)) {
            assertThat(left.solve(q).solved()).isTrue();
            assertThat(right.solve(q).solved()).isTrue();
            for (int b = 0; b < left.bodies().size(); b++) {
                Spot spot = left.reference(b).plus(60, -70, 90);
                assertThat(left.where(b, spot).mirrored().distanceTo(right.where(b, spot.mirrored())))
                        .as(
                                "%s at %s: %s",
                                name, Arrays.toString(q), left.bodies().get(b))
                        .isLessThan(Invariants.SAME_PLACE_MM);
            }
        }
    }
}
