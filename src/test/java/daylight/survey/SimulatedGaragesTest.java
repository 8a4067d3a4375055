package daylight.survey;

import static org.assertj.core.api.Assertions.assertThat;

import daylight.geometry.Spot;
import daylight.units.Progress;
import daylight.validation.Checks;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

/**
 * Simulated garages, so many that the rates mean something: one blunder planted in each, none in as many others.
 *
 * <p>A thousand of each, whose figures stand on the validation page; {@code -Dsurvey.garages=100} gives a short run
 * without them. The seed of garage k is {@value #SEED} + k.
 */
class SimulatedGaragesTest {
    private static final long SEED = 20260704;
    private static final int FULL = 1000;
    private static final int GARAGES = Integer.getInteger("survey.garages", FULL);
    private static final int POINTS = 14;
    private static final String ID = "SG-1";
    private static final String SOURCE = "1,000 simulated garages, seeds from " + SEED;
    private static final String MARK = "own input, truth known";

    @Test
    void aPlantedBlunderIsFoundAndNamed() {
        int found = 0;
        int named = 0;
        int sole = 0;
        int explained = 0;
        for (int k = 0; k < GARAGES; k++) {
            Garage garage = new Garage(SEED + k, POINTS);
            String planted = garage.plant();
            Adjustment adjustment = adjust(garage);
            List<Suspect> suspects = adjustment.suspects();
            boolean accused = suspects.stream()
                    .anyMatch(
                            s -> s.accused().stream().anyMatch(a -> a.reading().equals(planted)));
            boolean first = suspects.stream().anyMatch(s -> s.first().reading().equals(planted));
            found += accused ? 1 : 0;
            named += first ? 1 : 0;
            sole += first && suspects.size() == 1 && suspects.get(0).accused().size() == 1 ? 1 : 0;
            explained += suspects.stream()
                            .anyMatch(s -> s.first().reading().equals(planted)
                                    && !s.first().slips().isEmpty())
                    ? 1
                    : 0;
        }
        assertThat(named).as("named, of %d garages from seed %d", GARAGES, SEED).isGreaterThanOrEqualTo(rate(0.95));
        figure("planted blunders found, share", 1, found, 0.05);
        figure("planted blunders found and named first, share", 1, named, 0.05);
        figure("found, named, and nothing else accused, share", 1, sole, 0.05);
        // A slip of between one and eight inches that is no whole inch has no usual explanation: about one in seven.
        assertThat(explained).as("explained as a usual slip").isGreaterThan(rate(0.8));
    }

    @Test
    void aCleanGarageRaisesNoAlarmAndItsIntervalsCoverTheTruth() {
        int alarms = 0;
        int gapsCovered = 0;
        long covered = 0;
        long coordinates = 0;
        int suspicious = 0;
        for (int k = 0; k < GARAGES; k++) {
            Garage garage = new Garage(SEED + k, POINTS);
            Adjustment adjustment = adjust(garage);
            alarms += adjustment.suspects().isEmpty() ? 0 : 1;
            suspicious += adjustment.chiSquare() > adjustment.chiSquareLimit95() ? 1 : 0;
            SurveyedPoints points = adjustment.points();
            for (int p = 0; p < garage.truth.size(); p++) {
                String name = garage.points.get(p).name();
                if (garage.points.get(p) instanceof SurveyPoint.Sought) {
                    for (Axis axis : Axis.values()) {
                        double off = axis.of(points.spot(name)) - axis.of(garage.truth.get(p));
                        covered += Math.abs(off) <= points.halfWidth95Mm(name, axis) ? 1 : 0;
                        coordinates++;
                    }
                }
            }
            gapsCovered += gapCovered(garage, adjustment, new SplittableRandom(SEED - k)) ? 1 : 0;
        }
        assertThat(alarms).as("false alarms, of %d", GARAGES).isLessThanOrEqualTo((int) (0.05 * GARAGES));
        figure("clean garages with a false alarm, share", 0, alarms, 0.05);
        figure("gaps whose 95 % interval holds the truth, share", 0.95, gapsCovered, 0.02);
        if (GARAGES == FULL) {
            double share = (double) covered / coordinates;
            Checks.record(
                    ID, "coordinates whose 95 % interval holds the truth, share", SOURCE, MARK, 0.95, share, 0.02);
        }
        // Rounded readings scatter a little less than normal ones: fewer than 1 in 20 beyond the limit.
        assertThat(suspicious).as("chi-square beyond its 95 %% limit").isLessThanOrEqualTo((int) (0.08 * GARAGES));
        assertThat((double) covered / coordinates).as("coordinates covered").isBetween(0.93, 0.97);
    }

    @Test
    void aBlunderThatIsMissedIsInAReadingThatWasListedAsUnchecked() {
        int named = 0;
        int unchecked = 0;
        int rounds = GARAGES / 5;
        for (int k = 0; k < rounds; k++) {
            // One tape to a peg and one to another point beyond what is needed: hardly a careful builder.
            Garage sparse = new Garage(SEED + k, POINTS, 1);
            Adjustment before = adjust(sparse);
            String planted = sparse.plant();
            boolean first = adjust(sparse).suspects().stream()
                    .anyMatch(
                            s -> s.accused().stream().anyMatch(a -> a.reading().equals(planted)));
            named += first ? 1 : 0;
            if (!first) {
                ReadingResult reading = before.readings().stream()
                        .filter(r -> r.reading().equals(planted))
                        .findFirst()
                        .orElseThrow();
                assertThat(reading.smallestFindable())
                        .as("garage %d, %s", k, reading)
                        .isGreaterThan(0.8 * Garage.INCH);
                unchecked++;
            }
        }
        assertThat(named + unchecked).isEqualTo(rounds);
        assertThat(named).as("named of %d sparse garages", rounds).isGreaterThanOrEqualTo((int) (0.9 * rounds));
    }

    /** A gap between two points of either side, less a pipe's size: is the true one in its 95 % interval? */
    private static boolean gapCovered(Garage garage, Adjustment adjustment, SplittableRandom random) {
        SurveyedPoints points = adjustment.points();
        int a = 5 + random.nextInt(POINTS);
        int b = 5 + random.nextInt(POINTS);
        if (a == b) {
            b = a == 5 ? 6 : 5;
        }
        Spot at = points.spot(garage.points.get(a).name());
        Spot to = points.spot(garage.points.get(b).name());
        double[] pair = {at.x(), at.y(), at.z(), to.x(), to.y(), to.z()};
        double[] g = new double[6];
        double gap = Formulas.distance(pair, g);
        double[] gradient = new double[points.coordinateCount()];
        System.arraycopy(g, 0, gradient, 3 * a, 3);
        System.arraycopy(g, 3, gradient, 3 * b, 3);
        GapDoubt doubt = adjustment.doubt(gap, gradient);
        double truth = garage.truth.get(a).distanceTo(garage.truth.get(b));
        return doubt.low95Mm() <= truth && truth <= doubt.high95Mm();
    }

    private static void figure(String what, double expected, int count, double tolerance) {
        if (GARAGES == FULL) {
            Checks.record(ID, what, SOURCE, MARK, expected, (double) count / GARAGES, tolerance);
        }
    }

    private static int rate(double share) {
        return (int) Math.ceil(share * GARAGES);
    }

    private static Adjustment adjust(Garage garage) {
        return Survey.of(garage.network()).adjust(Survey.Datum.CAR_AXES, Progress.SILENT);
    }
}
