package daylight.clearance;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.car.Car;
import daylight.car.CarDocument;
import daylight.car.CarFile;
import daylight.car.CarFileException;
import daylight.geometry.Spot;
import daylight.survey.MeasuredCar;
import daylight.units.Length;
import daylight.units.Progress;
import java.nio.file.Path;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.random.RandomGenerator;
import java.util.random.RandomGeneratorFactory;
import org.assertj.core.data.Percentage;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** The doubt of the pickup's tyre against its inner fender, at full bump and full lock. */
class DoubtSearchTest {
    private static final String TYRE = "left front tyre";
    private static final String FENDER = "left inner fender";
    private static final int DRAWS = 4000;
    /** Standard error of a standard deviation from so many draws is about one in the root of twice as many. */
    private static final Percentage DRAWN = Percentage.withPercentage(5);

    private static CarDocument document = CarDocument.of("", "");
    private static MeasuredCar measured = empty();
    private static GapTable table = new GapTable("", List.of(), List.of(), 1, 1, new GapTable.Work(0, 0, 0));

    private static MeasuredCar empty() {
        return new MeasuredCar(Cars.of(List.of()), CarDocument.of("", ""), java.util.Optional.empty());
    }

    @BeforeAll
    static void searchTheOnePair() throws CarFileException {
        document = CarFile.open(Path.of("demo/harbour-pickup.yaml"));
        measured = MeasuredCar.of(document);
        table = search(measured.car());
    }

    private static GapTable search(Car car) {
        Car two = car.withParts(car.parts().stream()
                .filter(part -> part.name().equals(TYRE) || part.name().equals(FENDER))
                .toList());
        return GapSearch.of(two, new Asked(0.01, 76.2, 40_000, 1))
                .run(Progress.SILENT)
                .orElseThrow();
    }

    @Test
    void gradientForetellsTheLeastGapOfAnotherCar() throws CarFileException {
        double[] gradient = DoubtSearch.gradient(measured, table.rows().get(0));
        double here = table.rows().get(0).least().found().distanceMm();
        RandomGenerator random = RandomGeneratorFactory.of("L64X128MixRandom").create(7);
        var surveyed = measured.surveyed().adjustment().points();
        for (int n = 0; n < 6; n++) {
            Map<String, Spot> moved = new HashMap<>();
            double foretold = here;
            for (String point : List.of(
                    "lf lower ball joint",
                    "lf upper ball joint",
                    "lf tie rod outer end",
                    "lf tie rod inner end",
                    "lf upper arm rear pivot",
                    "lf wheel centre")) {
                double[] by = {random.nextDouble(-1, 1), random.nextDouble(-1, 1), random.nextDouble(-1, 1)};
                moved.put(point, surveyed.spot(point).plus(by[0], by[1], by[2]));
                for (int axis = 0; axis < 3; axis++) {
                    foretold += gradient[surveyed.indexOf(point) + axis] * by[axis];
                }
            }
            double found = search(measured.carWith(moved))
                    .rows()
                    .get(0)
                    .least()
                    .found()
                    .distanceMm();
            // A millimetre on links of 250 mm bends a few hundredths; the search itself is good to one.
            assertThat(found).as("car %d moved by %s", n, moved).isCloseTo(foretold, within(0.1));
        }
    }

    @Test
    void firstOrderAndDrawnCarsAgree() throws CarFileException {
        GapDoubts.Row linear = DoubtSearch.linear(measured, table, 1, Progress.SILENT)
                .orElseThrow()
                .rows()
                .get(0);
        GapDoubts.Row drawn = DoubtSearch.simulated(measured, table, 1, DRAWS, 3, 2, Progress.SILENT)
                .orElseThrow()
                .rows()
                .get(0);
        assertThat(drawn.doubt().standardUncertaintyMm())
                .isCloseTo(linear.doubt().standardUncertaintyMm(), DRAWN);
        assertThat(drawn.halfWidth95Mm()).isCloseTo(linear.halfWidth95Mm(), Percentage.withPercentage(7));
        assertThat(drawn.doubt().low95Mm()).isCloseTo(linear.doubt().low95Mm(), within(0.4));
        GapDoubts.Row alone = DoubtSearch.simulated(measured, table, 1, DRAWS, 3, 1, Progress.SILENT)
                .orElseThrow()
                .rows()
                .get(0);
        assertThat(alone.doubt().standardUncertaintyMm())
                .as("same seed, another number of threads")
                .isCloseTo(drawn.doubt().standardUncertaintyMm(), within(1e-6));
    }

    @Test
    void sharesAddUpToTheWholeAndTheSharperReadingGivesWhatIsPromised() throws CarFileException {
        GapDoubts.Row row = DoubtSearch.linear(measured, table, 1, Progress.SILENT)
                .orElseThrow()
                .rows()
                .get(0);
        assertThat(row.doubt().shares().stream()
                        .mapToDouble(share -> share.share())
                        .sum())
                .isCloseTo(1, within(1e-6));
        GapDoubts.Sharper sharper = row.sharper().orElseThrow();
        assertThat(sharper.before95Mm()).isCloseTo(row.halfWidth95Mm(), within(1e-9));
        assertThat(sharper.withinMm()).isEqualTo(Length.MM_PER_INCH / 32);
        // Written into the file, the reading does what was foretold.
        String[] ends = sharper.what().split(" to ");
        String old = "{from: " + ends[0] + ", to: " + ends[1] + ", reads: ";
        assertThat(document.toText()).contains(old);
        MeasuredCar again = MeasuredCar.of(CarDocument.of(
                "again.yaml", document.toText().replace(old, old.replace("reads: ", "within: 1/32, reads: "))));
        double after = DoubtSearch.linear(again, table, 1, Progress.SILENT)
                .orElseThrow()
                .rows()
                .get(0)
                .halfWidth95Mm();
        assertThat(after).isCloseTo(sharper.after95Mm(), within(0.02));
        assertThat(after).isLessThan(row.halfWidth95Mm());
    }

    @Test
    void cancelledDrawingGivesNothing() throws CarFileException {
        Progress cancelled = new Progress() {
            @Override
            public void at(double fraction, String message) {}

            @Override
            public boolean cancelled() {
                return true;
            }
        };
        assertThat(DoubtSearch.simulated(measured, table, 1, DRAWS, 3, 2, cancelled))
                .isEmpty();
    }

    @Test
    void measuredGapIsHeldAgainstTheComputedOneWhereTheCarStood() throws CarFileException {
        String tape = "tape:\n  - {between: [left front tyre, left inner fender], reads: ";
        String text = document.toText();
        assertThat(check(text.replace("tape:\n", tape + "5 9/16}\n")).disagrees())
                .isFalse();
        GapCheck slip = check(text.replace("tape:\n", tape + "4 1/2}\n"));
        assertThat(slip.disagrees()).isTrue();
        assertThat(slip.accused().orElseThrow().probablyTrue())
                .as("an inch slip")
                .isEqualTo(5.5 * Length.MM_PER_INCH);
        Position worst = table.rows().get(0).least().where();
        StringBuilder at = new StringBuilder();
        worst.handles()
                .forEach(setting -> at.append(at.isEmpty() ? "" : ", ")
                        .append(setting.name())
                        .append(": ")
                        .append(Length.of(setting.value(), daylight.units.Unit.MILLIMETRE)));
        GapCheck there = check(text.replace("tape:\n", tape + "1/4, at: {" + at + "}}\n"));
        assertThat(there.disagrees()).isFalse();
        assertThat(there.comparison().orElseThrow().computedMm())
                .isCloseTo(table.rows().get(0).least().found().distanceMm(), within(1e-3));
        assertThat(check(text.replace("tape:\n", tape + "1 1/4, at: {" + at + "}}\n"))
                        .disagrees())
                .isTrue();
    }

    @Test
    void gapThatCountsDrawsThePointsAfterItWhereTheCarStood() throws CarFileException {
        GapRow row = table.rows().get(0);
        double here = row.least().found().distanceMm();
        double[] gradient = DoubtSearch.gradient(measured, row);
        double fromPoints = measured.surveyed().adjustment().points().standardUncertainty(gradient);
        double half = Length.MM_PER_INCH / 16;
        // Its own half width and those of both parts, each of a sixteenth.
        double read = Math.sqrt(3 * half * half / 3);
        // A standard uncertainty more than computed, to the nearest thousandth of an inch.
        double reads = Math.rint((here + fromPoints) / Length.MM_PER_INCH * 1000) / 1000;
        StringBuilder at = new StringBuilder();
        row.least()
                .where()
                .handles()
                .forEach(setting -> at.append(at.isEmpty() ? "" : ", ")
                        .append(setting.name())
                        .append(": ")
                        .append(Length.of(setting.value(), daylight.units.Unit.MILLIMETRE)));
        String gap = "tape:\n  - {between: [" + TYRE + ", " + FENDER + "], reads: " + reads + ", at: {" + at
                + "}, counts: true}\n";
        MeasuredCar counted =
                MeasuredCar.of(CarDocument.of("pickup.yaml", document.toText().replace("tape:\n", gap)));
        double share = fromPoints * fromPoints / (fromPoints * fromPoints + read * read);
        double foretold = here + share * (reads * Length.MM_PER_INCH - here);
        double found = search(counted.car()).rows().get(0).least().found().distanceMm();
        assertThat(found).as("gap of the car that the counted gap gives").isCloseTo(foretold, within(0.1));
        double after = counted.surveyed()
                .adjustment()
                .points()
                .standardUncertainty(DoubtSearch.gradient(
                        counted, search(counted.car()).rows().get(0)));
        assertThat(after).as("doubt from the points").isCloseTo(fromPoints * Math.sqrt(1 - share), DRAWN);
        GapCheck check = DoubtSearch.checks(counted, Progress.SILENT).get(0);
        assertThat(check.disagrees()).isFalse();
        assertThat(check.standing()).isPresent();
    }

    @Test
    void partThatWasPlacedByAPoorTapeMakesItsGapsDoubtful() throws CarFileException {
        String poor = document.toText().replace("  left inner fender:\n", "  left inner fender:\n    within: 1/2\n");
        MeasuredCar car = MeasuredCar.of(CarDocument.of("pickup.yaml", poor));
        double before = linear(measured).doubt().standardUncertaintyMm();
        GapDoubts.Row after = linear(car);
        double sixteenth = Length.MM_PER_INCH / 16;
        double half = Length.MM_PER_INCH / 2;
        double expected = Math.sqrt(before * before + (half * half - sixteenth * sixteenth) / 3);
        assertThat(after.doubt().standardUncertaintyMm()).isCloseTo(expected, within(1e-6));
        assertThat(after.doubt().shares().get(0).reading()).isEqualTo("left inner fender's own figures");
        assertThat(after.sharper().orElseThrow().what()).isEqualTo("left inner fender's own figures");
        GapDoubts.Row drawn = DoubtSearch.simulated(car, table, 1, DRAWS, 3, 2, Progress.SILENT)
                .orElseThrow()
                .rows()
                .get(0);
        assertThat(drawn.doubt().standardUncertaintyMm()).isCloseTo(expected, DRAWN);
    }

    private static GapDoubts.Row linear(MeasuredCar car) throws CarFileException {
        return DoubtSearch.linear(car, table, 1, Progress.SILENT)
                .orElseThrow()
                .rows()
                .get(0);
    }

    private static GapCheck check(String text) throws CarFileException {
        List<GapCheck> checks =
                DoubtSearch.checks(MeasuredCar.of(CarDocument.of("pickup.yaml", text)), Progress.SILENT);
        assertThat(checks).hasSize(1);
        return checks.get(0);
    }
}
