package daylight.hose;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.car.Car;
import daylight.car.CarFile;
import daylight.car.CarFileException;
import daylight.clearance.Asked;
import daylight.clearance.GapRow;
import daylight.clearance.GapTable;
import daylight.clearance.Least;
import daylight.clearance.State;
import daylight.geometry.Gauge;
import daylight.geometry.Pose;
import daylight.geometry.Solid;
import daylight.motion.Kinematics;
import daylight.motion.Workspace;
import daylight.units.Progress;
import java.util.List;
import java.util.random.RandomGenerator;
import java.util.random.RandomGeneratorFactory;
import org.junit.jupiter.api.Test;

/** Lines against lines: half circles in planes side by side, and looms on a panel that opens. */
class LinePairTest {
    /** A tube stands for the curve with this much to spare: its chords are 5 mm on a radius of 100. */
    private static final double CHORDS_MM = 0.1;
    /** Positions of the grid lie up to 18 mm apart; what lies between them may be nearer by less than this. */
    private static final double GRID_MISSES_MM = 2;

    private static final double HALF_CIRCLE = 100 * Math.PI;

    private static String arch(String name, String body, double y, String more) {
        return "  " + name + ": {kind: fuel line, hose: {from: {on: " + body + ", at: [0, " + y
                + ", 500], leaves: up}, to: {on: " + body + ", at: [200, " + y + ", 500], leaves: up}, free length: "
                + HALF_CIRCLE + ", od: 8, least bend radius: 20" + more + "}}\n";
    }

    private static final String HEAD = """
            daylight: 1
            car: pair bench
            units: mm
            moves:
              engine: {on: chassis, sideways: 10}
            parts:
              block: {on: engine, box: {from corner: [900, 0, 900], to corner: [950, 10, 950]}}
            """;
    private static final String RULE = "rules: [{between: [any, any], at least: 30, source: test}]\n";

    private static GapTable gaps(String text) throws CarFileException {
        return gaps(CarFile.read("pair.yaml", text));
    }

    private static GapTable gaps(Car car) {
        GapTable none = new GapTable(car.name(), List.of(), List.of(), 0.1, 76.2, new GapTable.Work(0, 0, 0));
        return HoseGaps.addTo(none, car, Asked.USUAL, Progress.SILENT).orElseThrow();
    }

    private static GapRow row(GapTable table, String first, String second) {
        return table.rows().stream()
                .filter(row -> row.first().equals(first) && row.second().equals(second))
                .findFirst()
                .orElseThrow();
    }

    @Test
    void twoStillHalfCirclesAreAsFarApartAsTheirPlanes() throws CarFileException {
        GapRow row =
                row(gaps(HEAD + arch("one", "chassis", 0, "") + arch("two", "chassis", 50, "") + RULE), "one", "two");
        assertThat(row.least().found().distanceMm()).isCloseTo(50 - 8, within(CHORDS_MM));
        assertThat(row.least().found().distanceMm()).as("never overstated").isLessThanOrEqualTo(50 - 8 + 1e-9);
        assertThat(row.state()).isEqualTo(State.CLEAR);
        assertThat(row.least().proof()).isInstanceOf(Least.Proof.Unproved.class);
    }

    @Test
    void thePlayOfABodyThatCarriesOneOfThemCountsInFull() throws CarFileException {
        GapTable table = gaps(HEAD + arch("one", "chassis", 0, "") + arch("two", "engine", 45, "") + RULE);
        GapRow row = row(table, "one", "two");
        assertThat(row.atRideHeight().distanceMm()).isCloseTo(45 - 8, within(CHORDS_MM));
        assertThat(row.least().found().distanceMm()).isCloseTo(45 - 10 - 8, within(CHORDS_MM));
        assertThat(row.state()).isEqualTo(State.TIGHT);
        assertThat(row.least().where().shifts()).singleElement().satisfies(shift -> {
            assertThat(shift.name()).isEqualTo("engine sideways");
            assertThat(shift.value()).isEqualTo(-10);
        });
        assertThat(row.belowRule()).isPresent();
        assertThat(row.touches()).isEmpty();
        assertThat(((Least.Proof.Unproved) row.least().proof()).why())
                .contains("positions of both hoses")
                .contains("mm apart from one to the next");
    }

    @Test
    void linesThatRubOneAnotherSayItInBothReports() throws CarFileException {
        String text = HEAD + arch("one", "chassis", 0, "") + arch("two", "engine", 15, "") + RULE;
        assertThat(row(gaps(text), "one", "two").state()).isEqualTo(State.RUB);
        List<HoseReport> reports = HoseSearch.of(CarFile.read("pair.yaml", text))
                .run(2, Progress.SILENT)
                .orElseThrow();
        assertThat(reports).allSatisfy(report -> {
            assertThat(report.verdict()).isEqualTo("rubs");
            assertThat(report.touches().get(0).part())
                    .isEqualTo(report.hose().name().equals("one") ? "two" : "one");
            assertThat(report.touches().get(0).gapMm()).isCloseTo(15 - 10 - 8, within(CHORDS_MM));
        });
    }

    @Test
    void linesThatCannotReachOneAnotherAreProvedApart() throws CarFileException {
        GapRow row =
                row(gaps(HEAD + arch("one", "chassis", 0, "") + arch("two", "engine", 900, "") + RULE), "one", "two");
        assertThat(row.least().proof()).isInstanceOf(Least.Proof.FarApart.class);
        assertThat(row.least().floorMm()).isGreaterThan(76.2).isLessThanOrEqualTo(900 - 10 - 8);
    }

    @Test
    void linesHeldSideBySideAreMeasuredButForTheStretchThere() throws CarFileException {
        // From one block 12 mm apart, and to fittings 60 mm apart.
        String second = arch("two", "chassis", 12, "").replace("at: [200, 12.0, 500]", "at: [200, 60, 500]");
        GapTable table = gaps(HEAD + arch("one", "chassis", 0, "") + second);
        assertThat(table.leftOut())
                .filteredOn(out -> out.first().equals("one") && out.second().equals("two"))
                .singleElement()
                .satisfies(out -> assertThat(out.reason()).contains("the 25 mm of both next to where chassis holds"));
        assertThat(row(table, "one", "two").least().found().distanceMm()).isBetween(4.0, 52.0);
    }

    @Test
    void anExclusionLeavesThemOut() throws CarFileException {
        GapTable table = gaps(HEAD + arch("one", "chassis", 0, "") + arch("two", "chassis", 50, "")
                + "exclusions: [{between: [one, two], because: tied together}]\n");
        assertThat(table.rows()).noneMatch(row -> row.second().equals("two"));
        assertThat(table.leftOut()).anySatisfy(out -> assertThat(out.reason()).contains("tied together"));
    }

    private static final String PANEL = """
            daylight: 1
            car: pair bench
            units: mm
            points:
              hood hinge start: [200, 100, 500]
              hood hinge end: [200, -100, 500]
            mechanisms:
              hood: {layout: hinged-panel, prefix: hood, opening: 60 deg}
            parts:
              box: {on: hood panel, box: {from corner: [900, 0, 900], to corner: [950, 10, 950]}}
              one: {kind: wiring loom, hose: {from: {on: chassis, at: [0, 0, 500], leaves: forward}, to: {on: hood panel, at: [400, 20, 500], leaves: [-1, 0.1, -0.3]}, free length: 480, od: 6, least bend radius: 10}}
              two: {kind: wiring loom, hose: {from: {on: chassis, at: [0, 60, 400], leaves: forward}, to: {on: hood panel, at: [380, 70, 480], leaves: [-1, 0, -0.4]}, free length: 500, od: 6, least bend radius: 10}}
            """;

    /** Both move at once; positions off the grid, each walked to in small steps, never come much nearer. */
    @Test
    void noPositionOffTheGridIsMuchNearerThanWhatWasFound() throws CarFileException {
        Car car = CarFile.read("pair.yaml", PANEL);
        double least = row(gaps(car), "one", "two").least().found().distanceMm();
        Kinematics kinematics = Workspace.of(car).kinematics();
        LineTravel one = new LineTravel(car.hoses().get(0), kinematics.sibling());
        LineTravel two = new LineTravel(car.hoses().get(1), kinematics.sibling());
        LineShape first = new LineShape(one);
        LineShape second = new LineShape(two);
        Gauge gauge = new Gauge();
        double[] through = new double[3 * (2 * Rod.COARSE + 1)];
        RandomGenerator random = RandomGeneratorFactory.of("L64X128MixRandom").create(5);
        double nearest = Double.POSITIVE_INFINITY;
        double at = 0;
        while (at < one.freedoms.get(0).highest()) {
            double[] values = {at};
            assertThat(one.stand(values) && two.stand(values)).isTrue();
            assertThat(first.settle()).isEqualTo(Ending.CONVERGED);
            assertThat(second.settle()).isEqualTo(Ending.CONVERGED);
            Solid mine = Solid.chain(through, first.rods[0].spotsInto(through, 2), 3);
            Solid other = Solid.chain(through, second.rods[0].spotsInto(through, 2), 3);
            nearest = Math.min(
                    nearest,
                    gauge.proximity(mine, Pose.RIDE_HEIGHT, other, Pose.RIDE_HEIGHT)
                            .distanceMm());
            at += 0.01 * random.nextDouble();
        }
        assertThat(nearest).isBetween(least - GRID_MISSES_MM, least + GRID_MISSES_MM);
    }

    @Test
    void theOrderInTheFileChangesNoGap() throws CarFileException {
        Car car = CarFile.read("pair.yaml", PANEL);
        Car turned = car.withHoses(List.of(car.hoses().get(1), car.hoses().get(0)));
        assertThat(row(gaps(turned), "two", "one").least().found().distanceMm())
                .isCloseTo(row(gaps(car), "one", "two").least().found().distanceMm(), within(1e-6));
    }
}
