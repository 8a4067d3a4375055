package daylight.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.geometry.Cut;
import daylight.geometry.Direction;
import daylight.geometry.Flat;
import daylight.geometry.PlateCuts;
import daylight.geometry.Shape;
import daylight.geometry.Spot;
import daylight.trim.LeastCut;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

class CutGripsTest {
    private static final double STEP = 25.4 / 16;
    /** Closed form. */
    private static final double CLOSED = 1e-9;

    /** 160 wide, 100 high, drawn left about from the lower left corner. */
    private static final Shape.Plate PLATE = new Shape.Plate(
            Spot.ORIGIN,
            Direction.LEFT,
            Direction.UP,
            6,
            List.of(new Flat(0, 0), new Flat(160, 0), new Flat(160, 100), new Flat(0, 100)),
            List.of(new Shape.Plate.Hole(new Flat(40, 50), 12)));

    private static final List<LeastCut.Kind> KINDS = List.of(LeastCut.Kind.values());

    private final CutGrips grips = new CutGrips(PLATE, STEP);

    @ParameterizedTest
    @EnumSource(LeastCut.Kind.class)
    void theFirstCutIsAtTheCornerThatIsNear(LeastCut.Kind kind) {
        Cut cut = grips.first(kind, new Flat(150, 90));
        assertThat(PlateCuts.whyNot(PLATE, cut)).as("%s", cut).isEmpty();
        Shape.Plate left = PlateCuts.after(PLATE, cut);
        assertThat(CutGrips.kind(cut)).isEqualTo(kind);
        if (kind != LeastCut.Kind.NOTCH) {
            assertThat(left.outline()).doesNotContain(new Flat(160, 100)).contains(new Flat(0, 0));
        }
        assertThat(grips.places(cut)).hasSameSizeAs(CutGrips.words(cut));
    }

    @Test
    void anEndThatIsDraggedFollowsTheOutlineInWholeSteps() {
        Cut.Straight cut = new Cut.Straight(1, 20, 2, 20);
        Cut.Straight dragged = (Cut.Straight) grips.dragged(cut, 1, new Flat(100, 130));
        assertThat(dragged.second()).isEqualTo(2);
        assertThat(dragged.alongSecondMm()).isCloseTo(Math.rint(60 / STEP) * STEP, within(CLOSED));
        Cut.Straight round = (Cut.Straight) grips.dragged(cut, 1, new Flat(-5, 40));
        assertThat(round.second()).as("on to the next edge").isEqualTo(3);
        assertThat(round.alongSecondMm()).isCloseTo(Math.rint(60 / STEP) * STEP, within(CLOSED));
    }

    @Test
    void anEndNeverComesToTheEdgeOfTheOther() {
        Cut.Straight cut = new Cut.Straight(1, 20, 2, 20);
        Cut.Straight dragged = (Cut.Straight) grips.dragged(cut, 1, new Flat(160, 40));
        assertThat(dragged.second()).isNotEqualTo(dragged.first());
    }

    @Test
    void theWholeLineKeepsItsSlope() {
        Cut.Straight cut = new Cut.Straight(1, 16 * STEP, 2, 16 * STEP);
        Flat middle = grips.places(cut).get(2);
        Cut.Straight pushed =
                (Cut.Straight) grips.dragged(cut, 2, new Flat(middle.x() - 4 * STEP, middle.y() - 4 * STEP));
        assertThat(pushed.alongFirstMm()).isCloseTo(24 * STEP, within(CLOSED));
        assertThat(pushed.alongSecondMm()).isCloseTo(24 * STEP, within(CLOSED));
    }

    @Test
    void theOtherSideIsWhatTheFirstLeft() {
        Cut.Straight cut = new Cut.Straight(1, 16 * STEP, 2, 16 * STEP);
        Cut other = grips.otherSide(cut);
        double whole = 160 * 100;
        assertThat(area(PlateCuts.after(PLATE, cut)) + area(PlateCuts.after(noHole(), other)))
                .as("the two pieces are the plate")
                .isCloseTo(whole, within(1e-6));
        Cut.Straight back = (Cut.Straight) grips.otherSide(other);
        assertThat(back.first()).isEqualTo(cut.first());
        assertThat(back.alongFirstMm()).isCloseTo(cut.alongFirstMm(), within(CLOSED));
    }

    private static Shape.Plate noHole() {
        return new Shape.Plate(PLATE.origin(), PLATE.along(), PLATE.up(), 6, PLATE.outline(), List.of());
    }

    private static double area(Shape.Plate plate) {
        double twice = 0;
        for (int i = 0; i < plate.outline().size(); i++) {
            Flat a = PlateCuts.corner(plate, i);
            Flat b = PlateCuts.corner(plate, i + 1);
            twice += a.x() * b.y() - b.x() * a.y();
        }
        return twice / 2;
    }

    @Test
    void theMiddleOfTheArcComesWhereItIsDragged() {
        Cut.Round cut = new Cut.Round(2, 8 * STEP);
        Flat there = grips.places(new Cut.Round(2, 20 * STEP)).get(0);
        Cut.Round dragged = (Cut.Round) grips.dragged(cut, 0, there);
        assertThat(dragged.radiusMm()).isCloseTo(20 * STEP, within(1e-6));
        Cut.Round far = (Cut.Round) grips.dragged(cut, 0, new Flat(-500, -500));
        assertThat(far.radiusMm()).isLessThanOrEqualTo(PlateCuts.largestRadius(PLATE, 2));
    }

    @Test
    void aNotchKeepsItsSidesApart() {
        Cut.Notch cut = new Cut.Notch(2, false, 20 * STEP, 30 * STEP, 8 * STEP);
        Cut.Notch dragged = (Cut.Notch) grips.dragged(cut, 0, new Flat(0, 100));
        assertThat(dragged.startsMm()).isLessThan(dragged.endsMm());
        Cut.Notch deep = (Cut.Notch) grips.dragged(cut, 2, new Flat(80, 60));
        assertThat(deep.deepMm()).isCloseTo(Math.rint(40 / STEP) * STEP, within(CLOSED));
        Cut.Notch moved = (Cut.Notch) grips.dragged(cut, 3, new Flat(163, 50));
        assertThat(moved.edge()).isEqualTo(1);
        assertThat(moved.endsMm() - moved.startsMm()).isCloseTo(10 * STEP, within(CLOSED));
    }

    @Test
    void aThousandDragsAreAllCutsOrSayWhyNot() {
        SplittableRandom random = new SplittableRandom(7);
        Cut cut = grips.first(LeastCut.Kind.STRAIGHT, new Flat(0, 0));
        for (int i = 0; i < 1000; i++) {
            if (i % 50 == 0) {
                LeastCut.Kind kind = KINDS.get(random.nextInt(KINDS.size()));
                cut = grips.first(kind, new Flat(random.nextDouble(160), random.nextDouble(100)));
            }
            int grip = random.nextInt(grips.places(cut).size());
            Flat to = new Flat(random.nextDouble(-400, 400), random.nextDouble(-300, 300));
            cut = grips.dragged(cut, grip, to);
            Cut now = cut;
            String why = PlateCuts.whyNot(PLATE, now).orElse("");
            if (why.isEmpty()) {
                assertThat(PlateCuts.after(PLATE, now).outline().size())
                        .as("drag %d: %s", i, now)
                        .isGreaterThanOrEqualTo(3);
            }
            assertThat(grips.distances(now))
                    .as("drag %d: %s", i, now)
                    .allMatch(distance -> distance.mm() >= 0 && Double.isFinite(distance.mm()));
        }
    }
}
