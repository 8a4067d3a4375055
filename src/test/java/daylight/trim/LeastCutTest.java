package daylight.trim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.car.Car;
import daylight.clearance.Asked;
import daylight.clearance.GapRow;
import daylight.clearance.GapSearch;
import daylight.clearance.State;
import daylight.geometry.Cut;
import daylight.geometry.Direction;
import daylight.geometry.Flat;
import daylight.geometry.PlateCuts;
import daylight.geometry.Shape;
import daylight.geometry.Spot;
import daylight.linkage.Mechanism;
import daylight.linkage.Mechanism.Driver;
import daylight.units.Progress;
import daylight.validation.Checks;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.random.RandomGenerator;
import java.util.random.RandomGeneratorFactory;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The least cut: closed forms, and that the gap search agrees before, after, and a millimetre short of it. */
class LeastCutTest {
    /** What the issue asks of closed forms, mm. */
    private static final double CLOSED_FORM_MM = 0.01;

    private static final double GAP_MM = 12;
    private static final Asked FINE = new Asked(0.005, 50, 40_000, 1);
    private static final CutStudy.Wanted MILLIMETRES = CutStudy.Wanted.inSteps(1);

    /** A plate in the car's y-z plane, 5 thick from x = 0 on: outline x is to the left, outline y is up. */
    private static Shape.Plate plate(double wide, double high, Shape.Plate.Hole... holes) {
        return new Shape.Plate(
                Spot.ORIGIN,
                Direction.LEFT,
                Direction.UP,
                5,
                List.of(new Flat(0, 0), new Flat(wide, 0), new Flat(wide, high), new Flat(0, high)),
                List.of(holes));
    }

    /** A long pipe along the car through (y, z), with flat distance to everything in the plate's thickness. */
    private static Shape pipe(double y, double z, double radius) {
        return new Shape.Tube(List.of(new Spot(-200, y, z), new Spot(200, y, z)), 2 * radius, 0);
    }

    private static Car car(Mechanism mechanism, String body, Shape.Plate plate, Shape pipe, Car.Metal... metal) {
        Car plain = new Car(
                "test car",
                Optional.empty(),
                Optional.empty(),
                false,
                List.of(),
                List.of(),
                List.of(mechanism),
                List.of(
                        new Car.Part("bracket", Mechanism.GROUND, List.of(), plate, Optional.empty()),
                        new Car.Part("pipe", body, List.of(), pipe, Optional.empty())),
                List.of(),
                List.of(new Car.Rule("any", "any", GAP_MM, Optional.empty())),
                List.of());
        return plain.withMetal(List.of(metal));
    }

    private static Mechanism slide(Direction along, double least, double most) {
        return new Mechanism(
                "pipe",
                List.of("pipe body"),
                List.of(),
                List.of(new Driver.Travel("pipe slide", "pipe body", along, least, most)),
                List.of());
    }

    private static LeastCut least(Car car) {
        return CutStudy.of(car, "bracket", FINE)
                .leastCut(MILLIMETRES, Progress.SILENT)
                .orElseThrow();
    }

    private static LeastCut.Option option(LeastCut cut, LeastCut.Kind kind) {
        return cut.options().stream()
                .filter(option -> option.kind() == kind)
                .findFirst()
                .orElseThrow(() -> new AssertionError("no " + kind + " among " + cut.options() + cut.none()));
    }

    private static final String SOURCE = "own closed form: a circle swept past a rectangle";
    private static final String MARK = "recomputed";

    @Test
    void pipeSweptAcrossTheTopTakesAStripOff() {
        // Swept from one side of the plate to the other, axis 20 above the top edge: all above z = 120 - (15 + 12).
        Car car = car(slide(Direction.LEFT, -120, 120), "pipe body", plate(60, 100), pipe(30, 120, 15));
        LeastCut cut = least(car);
        LeastCut.Option straight = option(cut, LeastCut.Kind.STRAIGHT);
        Cut.Straight exact = (Cut.Straight) straight.exact();
        double deep = 100 - (120 - 27);
        Checks.record("TR-1", "strip, one end, mm", SOURCE, MARK, deep, exact.alongFirstMm(), CLOSED_FORM_MM);
        Checks.record("TR-1", "strip, other end, mm", SOURCE, MARK, deep, exact.alongSecondMm(), CLOSED_FORM_MM);
        Checks.record(
                "TR-1", "strip, area, mm2", SOURCE, MARK, deep * 60, straight.exactAreaMm2(), 60 * CLOSED_FORM_MM);
        clearsAndBarely(car, cut, straight);
    }

    @Test
    void pipeBesideACornerTakesTheCornerOff() {
        // Axis a outside both edges of the corner: the tangent square to the diagonal touches at its middle.
        double a = 8;
        double r = 15 + GAP_MM;
        Car car = car(slide(Direction.FORWARD, -5, 5), "pipe body", plate(80, 100), pipe(80 + a, 100 + a, 15));
        LeastCut cut = least(car);
        Cut.Straight exact = (Cut.Straight) option(cut, LeastCut.Kind.STRAIGHT).exact();
        double leg = Math.sqrt(2) * r - 2 * a;
        Checks.record("TR-2", "corner off, leg, mm", SOURCE, MARK, leg, exact.alongFirstMm(), 10 * CLOSED_FORM_MM);
        // The area is stationary at the least cut, so the legs are known less well than it.
        Checks.record(
                "TR-2",
                "corner off, area, mm2",
                SOURCE,
                MARK,
                leg * leg / 2,
                option(cut, LeastCut.Kind.STRAIGHT).exactAreaMm2(),
                leg * CLOSED_FORM_MM);
        Cut.Round round = (Cut.Round) option(cut, LeastCut.Kind.ROUND).exact();
        double radius = (r - Math.sqrt(2) * a) / (Math.sqrt(2) - 1);
        Checks.record("TR-2", "corner rounded, radius, mm", SOURCE, MARK, radius, round.radiusMm(), 3 * CLOSED_FORM_MM);
        Cut.Notch notch = (Cut.Notch) option(cut, LeastCut.Kind.NOTCH).exact();
        double bite = Math.sqrt(r * r - a * a) - a;
        Checks.record("TR-2", "notch, depth, mm", SOURCE, MARK, bite, notch.deepMm(), CLOSED_FORM_MM);
        Checks.record("TR-2", "notch, width, mm", SOURCE, MARK, bite, notch.endsMm(), CLOSED_FORM_MM);
        for (LeastCut.Option option : cut.options()) {
            clearsAndBarely(car, cut, option);
        }
    }

    @Test
    void swingingPipeTakesOffWhatItsNearestPassAsksFor() {
        // The pipe swings about a line along the car, 130 to the left of the plate, on an arm of 100: nearest at level.
        Mechanism swing = new Mechanism(
                "pipe",
                List.of("pipe body"),
                List.of(),
                List.of(new Driver.Turn(
                        "pipe angle",
                        "pipe body",
                        new Spot(0, 190, 60),
                        new Spot(100, 190, 60),
                        Math.toRadians(-50),
                        Math.toRadians(50))),
                List.of());
        Car car = car(swing, "pipe body", plate(80, 120), pipe(90, 60, 15));
        LeastCut cut = least(car);
        Cut.Straight exact = (Cut.Straight) option(cut, LeastCut.Kind.STRAIGHT).exact();
        double deep = 80 - (90 - 27);
        Checks.record("TR-3", "swept arc, one end, mm", SOURCE, MARK, deep, exact.alongFirstMm(), 10 * CLOSED_FORM_MM);
        Checks.record(
                "TR-3",
                "swept arc, mean of both ends, mm",
                SOURCE,
                MARK,
                deep,
                (exact.alongFirstMm() + exact.alongSecondMm()) / 2,
                CLOSED_FORM_MM);
        clearsAndBarely(car, cut, option(cut, LeastCut.Kind.STRAIGHT));
    }

    /** The marked cut clears by the gap search; the same moved back by a millimetre does not. */
    private static void clearsAndBarely(Car car, LeastCut cut, LeastCut.Option option) {
        assertThat(option.gaps())
                .allSatisfy(row -> assertThat(row.least().floorMm()).isGreaterThanOrEqualTo(row.requiredMm()));
        assertThat(PlateCuts.after(cut.plate(), option.marked()).outline())
                .isEqualTo(option.after().outline());
        assertThat(smaller(cut.plate(), option.marked(), 1))
                .hasValueSatisfying(less -> assertThat(clear(car, PlateCuts.after(cut.plate(), less), FINE))
                        .as("%s, 1 mm less than %s", less, option.marked())
                        .isFalse());
    }

    @Test
    void nothingComesOffAPlateThatIsClear() {
        LeastCut cut = least(car(slide(Direction.LEFT, -20, 20), "pipe body", plate(60, 100), pipe(30, 160, 15)));
        assertThat(cut.options()).isEmpty();
        assertThat(cut.none()).isEmpty();
    }

    @Test
    void holeKeepsItsEdgeDistanceOrTheCutIsRefused() {
        Shape.Plate plate = plate(60, 100, new Shape.Plate.Hole(new Flat(30, 85), 10));
        LeastCut cut = least(car(slide(Direction.LEFT, -120, 120), "pipe body", plate, pipe(30, 120, 15)));
        assertThat(cut.options()).isEmpty();
        LeastCut.None none = cut.none().orElseThrow();
        assertThat(none.blocks()).contains("hole 1 would be 8.0 mm from the cut, and needs 15.0 mm");
        // 15 from the hole's centre at 85 is where the plate ends: nothing at all may come off the top.
        assertThat(none.shortMm()).isBetween(6.5, 7.5);
        LeastCut.Shift shift = none.shift().orElseThrow();
        assertThat(shift.way()).isEqualTo("down");
        assertThat(shift.byMm()).isCloseTo(8, within(1.01));
        assertThat(shift.gaps()).allSatisfy(row -> assertThat(row.state()).isEqualTo(State.CLEAR));
    }

    @Test
    void weldedEdgeAndWhatIsKeptStay() {
        Shape.Plate plate = plate(60, 100);
        Car.Metal welded = new Car.Metal(
                "bracket",
                plate,
                List.of(),
                List.of(new Car.Metal.Weld("top edge", new Flat(60, 100), new Flat(0, 100))),
                List.of(),
                Optional.empty());
        LeastCut cut = least(car(slide(Direction.LEFT, -120, 120), "pipe body", plate, pipe(30, 120, 15), welded));
        assertThat(cut.options()).isEmpty();
        assertThat(cut.none().orElseThrow().blocks()).contains("the weld along the top edge would be cut");
        Car.Metal kept = new Car.Metal(
                "bracket",
                plate,
                List.of(),
                List.of(),
                List.of(List.of(new Flat(20, 90), new Flat(40, 90), new Flat(40, 96), new Flat(20, 96))),
                Optional.empty());
        assertThat(least(car(slide(Direction.LEFT, -120, 120), "pipe body", plate, pipe(30, 120, 15), kept))
                        .options())
                .isEmpty();
    }

    @Test
    void moreForDoubtTakesMoreOff() {
        Car car = car(slide(Direction.LEFT, -120, 120), "pipe body", plate(60, 100), pipe(30, 120, 15));
        LeastCut more = CutStudy.of(car, "bracket", FINE)
                .leastCut(new CutStudy.Wanted(1, Map.of("pipe", 3.0)), Progress.SILENT)
                .orElseThrow();
        Cut.Straight exact = (Cut.Straight) option(more, LeastCut.Kind.STRAIGHT).exact();
        assertThat(exact.alongFirstMm()).isCloseTo(10, within(CLOSED_FORM_MM));
    }

    /** All 500 take minutes: {@code -Ddaylight.cases=500} runs them. */
    private static final int CASES = Integer.getInteger("daylight.cases", 25);

    static IntStream seeds() {
        return IntStream.range(0, CASES);
    }

    /** Plates and pipes at random: the gap search clears the marked cut and not one that is 1 mm smaller. */
    @ParameterizedTest(name = "seed {0}")
    @MethodSource("seeds")
    void gapSearchAgreesOnRandomPlatesAndPipes(int seed) {
        RandomGenerator random = RandomGeneratorFactory.of("L64X128MixRandom").create(seed);
        double wide = 50 + 100 * random.nextDouble();
        double high = 50 + 100 * random.nextDouble();
        double skew = 10 * random.nextDouble();
        Shape.Plate plate = new Shape.Plate(
                new Spot(0, 0, 0),
                Direction.LEFT,
                Direction.UP,
                2 + 6 * random.nextDouble(),
                List.of(
                        new Flat(0, 0),
                        new Flat(wide, -skew),
                        new Flat(wide + skew, high),
                        new Flat(skew / 2, high + skew)),
                List.of());
        double radius = 8 + 20 * random.nextDouble();
        double y = wide * (0.6 + 0.6 * random.nextDouble());
        double z = high + radius * (0.2 + random.nextDouble());
        double tiltY = 60 * (random.nextDouble() - 0.5);
        double tiltZ = 60 * (random.nextDouble() - 0.5);
        Shape pipe = new Shape.Tube(
                List.of(new Spot(-150, y - tiltY, z - tiltZ), new Spot(150, y + tiltY, z + tiltZ)), 2 * radius, 0);
        Mechanism mechanism = random.nextBoolean()
                ? slide(Direction.of(random.nextDouble() - 0.5, random.nextDouble(), 0.3), -10, 10)
                : new Mechanism(
                        "pipe",
                        List.of("pipe body"),
                        List.of(),
                        List.of(new Driver.Turn(
                                "pipe angle",
                                "pipe body",
                                new Spot(0, y + 200, z),
                                new Spot(100, y + 200, z + 20),
                                -0.08,
                                0.08)),
                        List.of());
        Car car = car(mechanism, "pipe body", plate, pipe);
        Asked asked = new Asked(0.02, 40, 40_000, 1);
        LeastCut cut = CutStudy.of(car, "bracket", asked)
                .leastCut(MILLIMETRES, Progress.SILENT)
                .orElseThrow();
        if (cut.options().isEmpty()) {
            assertThat(cut.none().isPresent() || clear(car, plate, asked)).isTrue();
            return;
        }
        LeastCut.Option best = cut.options().get(0);
        assertThat(clear(car, best.after(), asked))
                .as("seed %d: %s clears", seed, best.marked())
                .isTrue();
        smaller(plate, best.marked(), 1)
                .ifPresent(less -> assertThat(clear(car, PlateCuts.after(plate, less), asked))
                        .as("seed %d: %s is 1 mm less than %s and clears too", seed, less, best.marked())
                        .isFalse());
    }

    private static boolean clear(Car car, Shape.Plate plate, Asked asked) {
        List<Car.Part> parts = new ArrayList<>(car.parts());
        Car.Part old = parts.get(0);
        parts.set(0, old.withShape(plate));
        List<GapRow> rows = GapSearch.of(car.withParts(parts), asked)
                .run(Progress.SILENT)
                .orElseThrow()
                .rows();
        return rows.stream().allMatch(row -> row.state() == State.CLEAR);
    }

    /** The same cut with its edge moved back by so much, where that is still a cut. */
    private static Optional<Cut> smaller(Shape.Plate plate, Cut cut, double mm) {
        if (cut instanceof Cut.Straight straight) {
            Flat p = PlateCuts.alongEdge(plate, straight.first(), true, straight.alongFirstMm());
            Flat q = PlateCuts.alongEdge(plate, straight.second(), false, straight.alongSecondMm());
            double length = Math.hypot(q.x() - p.x(), q.y() - p.y());
            double a = straight.alongFirstMm() - mm / sine(plate, straight.first(), p, q, length);
            double b = straight.alongSecondMm() - mm / sine(plate, straight.second(), p, q, length);
            return a >= 0 && b >= 0
                    ? Optional.of(new Cut.Straight(straight.first(), a, straight.second(), b))
                    : Optional.empty();
        }
        if (cut instanceof Cut.Round round) {
            // Of a corner's arc the middle moves by (1 / sin(half) - 1) of the radius.
            double half = Math.atan(round.radiusMm() / PlateCuts.tangentMm(plate, round));
            double radius = round.radiusMm() - mm / (1 / Math.sin(half) - 1);
            return radius > 0 ? Optional.of(new Cut.Round(round.corner(), radius)) : Optional.empty();
        }
        Cut.Notch notch = (Cut.Notch) cut;
        double starts = notch.startsMm() == 0 ? 0 : notch.startsMm() + mm;
        return notch.deepMm() > mm && notch.endsMm() - mm > starts
                ? Optional.of(
                        new Cut.Notch(notch.edge(), notch.fromEnd(), starts, notch.endsMm() - mm, notch.deepMm() - mm))
                : Optional.empty();
    }

    private static double sine(Shape.Plate plate, int edge, Flat p, Flat q, double length) {
        Flat a = PlateCuts.corner(plate, edge);
        Flat b = PlateCuts.corner(plate, edge + 1);
        double own = Math.hypot(b.x() - a.x(), b.y() - a.y());
        return Math.abs((q.x() - p.x()) * (b.y() - a.y()) - (q.y() - p.y()) * (b.x() - a.x())) / length / own;
    }
}
