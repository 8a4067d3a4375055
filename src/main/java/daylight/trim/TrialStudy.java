package daylight.trim;

import daylight.car.Car;
import daylight.car.CarFileException;
import daylight.car.Change;
import daylight.car.Trial;
import daylight.clearance.Asked;
import daylight.clearance.GapSearch;
import daylight.clearance.GapTable;
import daylight.hose.HoseReport;
import daylight.hose.HoseSearch;
import daylight.survey.MeasuredCar;
import daylight.units.Progress;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * Compares trials with the car they are trials of.
 *
 * <p>The car as it is is searched once; a trial that changes parts only is then searched where it changes something.
 * Not thread-safe; the searches themselves use the threads asked for.
 */
public final class TrialStudy {
    private final MeasuredCar measured;
    private final Car car;
    private final GapSearch search;
    private Optional<GapTable> base = Optional.empty();

    private TrialStudy(MeasuredCar measured, Asked asked) {
        this.measured = measured;
        this.car = measured.car();
        this.search = GapSearch.of(car, asked);
    }

    /** Returns a study of a car. */
    public static TrialStudy of(MeasuredCar measured, Asked asked) {
        return new TrialStudy(measured, asked);
    }

    /** Returns the car as it is. */
    public Car car() {
        return car;
    }

    /**
     * Returns every gap of the car as it is, searched once.
     *
     * @return the table, or empty if the work was cancelled
     */
    public Optional<GapTable> base(Progress progress) {
        if (base.isEmpty()) {
            base = search.run(progress);
        }
        return base;
    }

    /**
     * Compares a trial with the car, gap by gap.
     *
     * @return the table, or empty if the work was cancelled
     * @throws CarFileException if the trial's changes give no car
     */
    public Optional<TrialTable> compare(Trial trial, Progress progress) throws CarFileException {
        TrialCar tried = TrialCar.of(measured, trial);
        Optional<GapTable> before = base(part(progress, 0, 0.5));
        Optional<GapTable> after = before.isEmpty()
                ? Optional.empty()
                : search.changed(tried.car()).run(part(progress, 0.5, 0.5));
        if (before.isEmpty() || after.isEmpty()) {
            return Optional.empty();
        }
        Set<String> lines = trial.changes().stream()
                .filter(change -> change instanceof Change.HoseLength)
                .map(Change::of)
                .collect(Collectors.toSet());
        List<TrialTable.HoseTurn> hoses = new ArrayList<>();
        if (!lines.isEmpty()) {
            List<HoseReport> was = hoses(car, lines, progress);
            List<HoseReport> is = hoses(tried.car(), lines, progress);
            for (int i = 0; i < Math.min(was.size(), is.size()); i++) {
                hoses.add(new TrialTable.HoseTurn(was.get(i), is.get(i)));
            }
        }
        return Optional.of(TrialTable.of(trial, before.get(), after.get(), hoses));
    }

    private static List<HoseReport> hoses(Car car, Set<String> names, Progress progress) {
        Car only = car.withHoses(
                car.hoses().stream().filter(hose -> names.contains(hose.name())).toList());
        return HoseSearch.of(only).run(part(progress, 1, 0)).orElse(List.of());
    }

    /** A piece of a longer work's progress. */
    static Progress part(Progress whole, double from, double share) {
        return new Progress() {
            @Override
            public void at(double fraction, String message) {
                whole.at(Math.min(1, from + share * fraction), message);
            }

            @Override
            public boolean cancelled() {
                return whole.cancelled();
            }
        };
    }
}
