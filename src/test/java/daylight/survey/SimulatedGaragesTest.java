package daylight.survey;

import static org.assertj.core.api.Assertions.assertThat;

import daylight.geometry.Spot;
import daylight.units.Progress;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

/**
 * Simulated garages, so many that the rates mean something: one blunder planted in each, none in as many others.
 *
 * <p>200 of each in a normal run; {@code -Dsurvey.garages=1000} gives the full run, whose figures are those of the
 * validation page. The seeds of garage k are {@value #SEED} + k.
 */
class SimulatedGaragesTest {
    private static final long SEED = 20260704;
    private static final int GARAGES = Integer.getInteger("survey.garages", 200);
    private static final int POINTS = 14;

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
            if (!first && Boolean.getBoolean("survey.print")) {
                System.out.println("garage " + k + " planted " + planted + ": " + suspects + " unchecked "
                        + adjustment.readings().stream()
                                .filter(r -> r.reading().equals(planted))
                                .toList()
                        + " starts " + adjustment.starts());
            }
        }
        if (Boolean.getBoolean("survey.print")) {
            System.out.println("found " + found + " named " + named + " sole " + sole + " explained " + explained);
        }
        assertThat(named).as("named, of %d garages from seed %d", GARAGES, SEED).isGreaterThanOrEqualTo(rate(0.95));
        assertThat(found).isGreaterThanOrEqualTo(named);
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
        if (Boolean.getBoolean("survey.print")) {
            System.out.println("alarms " + alarms + " chi " + suspicious + " gaps covered " + gapsCovered
                    + " coordinates " + (double) covered / coordinates);
        }
        assertThat(alarms).as("false alarms, of %d", GARAGES).isLessThanOrEqualTo((int) (0.05 * GARAGES));
        assertThat((double) covered / coordinates).as("coordinates covered").isBetween(0.93, 0.97);
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

    private static int rate(double share) {
        return (int) Math.ceil(share * GARAGES);
    }

    private static Adjustment adjust(Garage garage) {
        return Survey.of(garage.network()).adjust(Survey.Datum.CAR_AXES, Progress.SILENT);
    }
}
