package daylight.trim;

import daylight.car.Car;
import daylight.car.CarFileException;
import daylight.car.Change;
import daylight.car.Trial;
import daylight.clearance.Asked;
import daylight.clearance.DoubtSearch;
import daylight.clearance.GapDoubts;
import daylight.clearance.GapRow;
import daylight.clearance.GapTable;
import daylight.clearance.Least;
import daylight.geometry.Cut;
import daylight.geometry.Shape;
import daylight.survey.MeasuredCar;
import daylight.units.Progress;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * How sure the gaps of one plate are, as it is and as cuts leave it. The cut is written into the car's text as a trial
 * writes it, so that every nudged car has it too.
 */
final class CutDoubts {
    private final MeasuredCar measured;
    private final String part;
    private final Asked asked;
    private final Set<String> trouble = new LinkedHashSet<>();

    private CutDoubts(MeasuredCar measured, String part, Asked asked) {
        this.measured = measured;
        this.part = part;
        this.asked = asked;
    }

    /** The points are adjusted once for all cuts. */
    static CutDoubts of(MeasuredCar measured, String part, Asked asked) throws CarFileException {
        MeasuredCar surveyed = new MeasuredCar(measured.car(), measured.document(), Optional.of(measured.surveyed()));
        return new CutDoubts(surveyed, part, asked);
    }

    /** What could not be known. */
    Set<String> trouble() {
        return trouble;
    }

    /**
     * Returns half of each gap's 95 % interval by the other part's name, mm. Where a nudged car cannot stand at the
     * position of the least gap, the gap gets the largest of the others' and that is noted as trouble.
     *
     * @param rows the plate's gaps after the cut
     * @return empty if the work was cancelled
     */
    Optional<Map<String, Double>> of(List<GapRow> rows, Optional<Cut> cut, Progress progress) throws CarFileException {
        GapTable table = new GapTable(
                measured.car().name(),
                rows,
                List.of(),
                asked.toleranceMm(),
                asked.watchMm(),
                new GapTable.Work(0, 0, 0));
        MeasuredCar car = cut.isEmpty() ? measured : with(cut.get());
        Optional<GapDoubts> found = DoubtSearch.linear(car, table, Integer.MAX_VALUE, TrialStudy.quiet(progress));
        return found.map(doubts -> {
            Map<String, Double> half = new HashMap<>();
            double most = doubts.rows().stream()
                    .mapToDouble(GapDoubts.Row::halfWidth95Mm)
                    .max()
                    .orElse(0);
            for (GapRow row : rows) {
                if (row.least().proof() instanceof Least.Proof.FarApart) {
                    continue;
                }
                String other = row.first().equals(part) ? row.second() : row.first();
                Optional<GapDoubts.Row> doubt = doubts.of(row.first(), row.second());
                if (doubt.isEmpty()) {
                    trouble.add("how sure the gap to " + other + " is could not be computed; the largest of the others"
                            + " stands for it");
                }
                half.put(other, doubt.map(GapDoubts.Row::halfWidth95Mm).orElse(most));
            }
            return half;
        });
    }

    /** A plate that is written as the mirror of another is cut where it is written. */
    private MeasuredCar with(Cut cut) throws CarFileException {
        String written =
                measured.document().value(List.of("parts", part, "mirror")).orElse(part);
        Shape.Plate plate = measured.car()
                .part(written)
                .map(Car.Part::shape)
                .filter(shape -> shape instanceof Shape.Plate)
                .map(shape -> (Shape.Plate) shape)
                .orElseThrow(() -> new IllegalStateException("no plate " + written + "; please report this"));
        TrialCar tried = TrialCar.of(measured, new Trial("cut", List.of(new Change.Trim(written, plate, cut))));
        return new MeasuredCar(tried.car(), tried.document(), measured.points());
    }
}
