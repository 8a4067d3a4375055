package daylight.hose;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.car.Car;
import daylight.car.CarFile;
import daylight.car.CarFileException;
import daylight.clearance.Asked;
import daylight.clearance.GapRow;
import daylight.clearance.GapSearch;
import daylight.clearance.GapTable;
import daylight.clearance.Least;
import daylight.clearance.LeftOut;
import daylight.clearance.State;
import daylight.geometry.Gauge;
import daylight.geometry.Pose;
import daylight.geometry.Shape;
import daylight.geometry.Solid;
import daylight.geometry.Spot;
import daylight.motion.Kinematics;
import daylight.motion.Workspace;
import daylight.report.GapJson;
import daylight.report.GapText;
import daylight.units.Progress;
import java.util.ArrayList;
import java.util.List;
import java.util.random.RandomGenerator;
import java.util.random.RandomGeneratorFactory;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** A line's rows in the table of gaps, on the invented front corner. */
class HoseGapsTest {
    private static final String PARTS = """
              shock: {on: front left lower arm, tube: {od: 2, through: [[0, 20, 9], [-1/2, 18, 14]]}}
              tyre: {on: front left knuckle, tyre: {size: 205/70R15, rim width: 7, backspacing: 4}}
              rear box: {on: chassis, box: {from corner: [-80, -10, 10], to corner: [-70, 10, 20]}}
              bracket: {on: chassis, box: {from corner: [2 1/2, 15, 19 1/2], to corner: [1 1/2, 15 15/16, 20 1/2]}}
              engine: {on: engine, box: {from corner: [12, -6, 13], to corner: [-18, 8, 24]}}
            """;
    private static final String MOVES = "moves:\n  engine: {on: chassis, sideways: 1/4, fore and aft: 1/8}\n";
    private static final String RULES = "rules: [{between: [any, any], at least: 1/2, source: test}]\n";

    /** Positions of the grid lie up to 20 mm apart, so a least between them may be a few millimetres less. */
    private static final double GRID_MISSES_MM = 5;

    private static Car car;
    private static GapTable table;

    private static Car read() throws CarFileException {
        String text = HoseSearchTest.hose("16", "").replace("parts:\n", MOVES + "parts:\n") + PARTS.indent(0) + RULES;
        return CarFile.read("bench.yaml", text);
    }

    private static GapTable gaps(Car of, int threads) {
        Asked asked = new Asked(0.1, 76.2, 40_000, threads);
        GapTable parts = GapSearch.of(of, asked).run(Progress.SILENT).orElseThrow();
        return HoseGaps.addTo(parts, of, asked, Progress.SILENT).orElseThrow();
    }

    @BeforeAll
    static void searchOnce() throws CarFileException {
        car = read();
        table = gaps(car, 2);
    }

    private static GapRow row(String part) {
        return table.rows().stream()
                .filter(row -> row.first().equals("front hose") && row.second().equals(part))
                .findFirst()
                .orElseThrow();
    }

    @Test
    void aHoseHasARowAgainstEveryPartInTheTablesOrder() {
        List<GapRow> mine = mine(table);
        assertThat(mine).hasSameSizeAs(car.parts());
        assertThat(table.rows().stream().map(GapRow::state)).isSorted();
        assertThat(table.work().parts()).isEqualTo(car.parts().size() + 1);
        for (GapRow row : mine) {
            assertThat(row.least().floorMm())
                    .isLessThanOrEqualTo(row.least().found().distanceMm());
            assertThat(row.least().found().distanceMm())
                    .isLessThanOrEqualTo(row.atRideHeight().distanceMm());
        }
    }

    @Test
    void whatItCannotReachIsProvedAndWhatItCanIsSampledAndSaysSo() {
        assertThat(row("rear box").least().proof()).isInstanceOf(Least.Proof.FarApart.class);
        assertThat(row("tyre").least().proof())
                .isInstanceOfSatisfying(
                        Least.Proof.Unproved.class,
                        unproved -> assertThat(unproved.why())
                                .contains("sampled at ")
                                .contains(" mm apart from one to the next"));
        assertThat(row("shock").least().proof()).isInstanceOf(Least.Proof.Unproved.class);
    }

    @Test
    void aPartThatCarriesAFittingIsMeasuredButForTheStretchNextToIt() {
        assertThat(table.leftOut())
                .filteredOn(out -> out.first().equals("front hose"))
                .extracting(LeftOut::second, LeftOut::reason)
                .singleElement()
                .satisfies(pair -> assertThat(pair.toList().toString())
                        .contains("bracket")
                        .contains("the 25 mm of hose next to where chassis holds it"));
        assertThat(row("bracket").least().found().distanceMm()).isBetween(15.0, 26.0);
    }

    /** A part that may shift is measured with its shift, and the position says which. */
    @Test
    void thePlayOfAPartCountsAgainstTheHose() {
        GapRow engine = row("engine");
        assertThat(engine.least().where().shifts()).isNotEmpty();
        assertThat(engine.least().found().distanceMm())
                .isLessThan(engine.atRideHeight().distanceMm() - 5);
    }

    @Test
    void onsetsAreSampledAndPromiseNothingBefore() {
        table.rows().stream()
                .filter(row -> row.first().equals("front hose") && row.state() != State.CLEAR)
                .forEach(row -> assertThat(row.belowRule().orElseThrow().clearUpTo())
                        .as(row.second())
                        .isZero());
    }

    /** The floors hold for every shape, and the least found for shapes off the grid within what the grid may miss. */
    @Test
    void noShapeOffTheGridIsBelowAFloorOrFarBelowTheLeastFound() {
        Kinematics kinematics = Workspace.of(car).kinematics();
        LineTravel line = new LineTravel(car.hoses().get(0), kinematics);
        LineShape shape = new LineShape(line);
        Gauge gauge = new Gauge();
        RandomGenerator random = RandomGeneratorFactory.of("L64X128MixRandom").create(11);
        double[] at = new double[line.freedoms.size()];
        double[] through = new double[3 * (2 * Rod.COARSE + 1)];
        int looked = 0;
        for (int i = 0; i < 40; i++) {
            double[] to = new double[at.length];
            for (int f = 0; f < at.length; f++) {
                LineTravel.Freedom freedom = line.freedoms.get(f);
                to[f] = freedom.lowest() + random.nextDouble() * (freedom.highest() - freedom.lowest());
            }
            shape.forget();
            Ending ending = Ending.CONVERGED;
            for (int step = 0; step <= 12 && ending == Ending.CONVERGED; step++) {
                for (int f = 0; f < at.length; f++) {
                    at[f] = to[f] * step / 12;
                }
                assertThat(line.stand(at)).isTrue();
                ending = shape.settle();
            }
            if (ending != Ending.CONVERGED) {
                continue;
            }
            looked++;
            int count = shape.rods[0].spotsInto(through, 2);
            List<Spot> spots = new ArrayList<>();
            for (int k = 0; k < count; k++) {
                spots.add(new Spot(through[3 * k], through[3 * k + 1], through[3 * k + 2]));
            }
            Solid tube = Solid.of(new Shape.Tube(spots, car.hoses().get(0).outsideDiameterMm(), 0));
            for (String part : List.of("tyre", "shock", "rear box")) {
                Car.Part of = car.part(part).orElseThrow();
                double gap = gauge.proximity(
                                tube,
                                Pose.RIDE_HEIGHT,
                                Solid.of(of.shape()),
                                line.pose(line.workspace.bodyIndex(of.body())))
                        .distanceMm();
                assertThat(gap)
                        .as("%s, case %d", part, i)
                        .isGreaterThan(row(part).least().floorMm());
                if (row(part).least().proof() instanceof Least.Proof.Unproved) {
                    assertThat(gap)
                            .as("%s, case %d", part, i)
                            .isGreaterThan(row(part).least().found().distanceMm() - GRID_MISSES_MM);
                }
            }
        }
        assertThat(looked).isGreaterThan(30);
    }

    /** Where it is pulled tight its shape is nobody's guess; the pair that pulls is not clear, and says so first. */
    @Test
    void aHoseThatIsPulledTightIsNotClearAgainstWhatItIsScrewedTo() throws CarFileException {
        String text = HoseSearchTest.hose("13", "").replace("parts:\n", MOVES + "parts:\n") + PARTS.indent(0) + RULES;
        GapTable taut = gaps(CarFile.read("bench.yaml", text), 2);
        assertThat(row("bracket").state()).as("sixteen inches reach").isEqualTo(State.CLEAR);
        GapRow row = mine(taut).stream()
                .filter(of -> of.second().equals("bracket"))
                .findFirst()
                .orElseThrow();
        assertThat(row.state()).isEqualTo(State.TIGHT);
        assertThat(row.marginMm()).as("what was found where it reaches").isPositive();
        assertThat(row.least().proof())
                .isInstanceOfSatisfying(
                        Least.Proof.Unproved.class,
                        unproved -> assertThat(unproved.why()).startsWith("the hose is pulled tight, "));
        assertThat(taut.worst()).isNotEqualTo(State.CLEAR);
        assertThat(GapJson.of(taut)).contains("the hose is pulled tight");
        assertThat(GapText.of(taut, true, false, false).lines())
                .anySatisfy(line -> assertThat(line)
                        .startsWith("tight")
                        .contains("front hose / bracket")
                        .contains("the hose is pulled tight"));
    }

    @Test
    void aTautHoseThatNothingInTheFileHoldsPullsAtTheNearestPart() throws CarFileException {
        GapTable taut = gaps(CarFile.read("bench.yaml", HoseSearchTest.hose("13", "") + RULES), 2);
        assertThat(mine(taut)).singleElement().satisfies(row -> {
            assertThat(row.second()).isEqualTo("frame rail");
            assertThat(row.state()).isEqualTo(State.TIGHT);
        });
    }

    /** A long stiff end reaches beyond all that the flexible part can: 30 mm from the part, while the hose is 130 away. */
    @Test
    void theStiffEndOfAFittingIsNeverProvedFarFromWhatItIsNear() throws CarFileException {
        String text = """
                daylight: 1
                car: stiff bench
                units: mm
                moves:
                  engine: {on: chassis, sideways: 1}
                parts:
                  hose: {kind: fuel line, hose: {from: {on: chassis, at: [0, 0, 500], leaves: forward, straight: 100}, to: {on: chassis, at: [300, 0, 500], leaves: backward}, free length: 201, od: 8, least bend radius: 20}}
                  block: {on: engine, box: {from corner: [-30, -10, 490], to corner: [-130, 10, 510]}}
                """;
        GapRow row = mine(gaps(CarFile.read("stiff.yaml", text), 1), "hose").get(0);
        assertThat(row.second()).isEqualTo("block");
        assertThat(row.atRideHeight().distanceMm()).isCloseTo(30 - 4, within(0.5));
        assertThat(row.least().proof()).isInstanceOf(Least.Proof.Unproved.class);
        assertThat(row.least().floorMm()).isLessThan(30 - 4);
    }

    /** Who needs both takes them from one look, and gets what each alone would give. */
    @Test
    void findingsGiveTheSameRowsAndReports() throws CarFileException {
        Asked asked = new Asked(0.1, 76.2, 40_000, 2);
        HoseFindings findings =
                HoseSearch.of(car).findings(asked.watchMm(), 2, Progress.SILENT).orElseThrow();
        assertThat(findings.rows()).containsExactlyInAnyOrderElementsOf(mine(table));
        GapTable parts = GapSearch.of(car, asked).run(Progress.SILENT).orElseThrow();
        GapTable both = findings.addedTo(parts);
        assertThat(mine(both)).isEqualTo(mine(table));
        assertThat(both.rows()).hasSameSizeAs(table.rows());
        assertThat(both.leftOut()).isEqualTo(table.leftOut());
        assertThat(both.work().parts()).isEqualTo(table.work().parts());
        assertThat(findings.reports())
                .extracting(report -> report.hose().name())
                .containsExactly("front hose");
    }

    @Test
    void theRowsDoNotDependOnTheThreads() throws CarFileException {
        assertThat(mine(gaps(read(), 1))).isEqualTo(mine(table));
    }

    private static List<GapRow> mine(GapTable of) {
        return mine(of, "front hose");
    }

    private static List<GapRow> mine(GapTable of, String line) {
        return of.rows().stream().filter(row -> row.first().equals(line)).toList();
    }
}
