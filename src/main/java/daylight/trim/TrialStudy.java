package daylight.trim;

import daylight.car.Car;
import daylight.car.CarFileException;
import daylight.car.Change;
import daylight.car.Trial;
import daylight.clearance.Asked;
import daylight.clearance.GapRow;
import daylight.clearance.GapSearch;
import daylight.clearance.GapTable;
import daylight.clearance.Least;
import daylight.clearance.LeftOut;
import daylight.geometry.Cut;
import daylight.hose.HoseGaps;
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
    private static final double HALF = 0.5;

    private final MeasuredCar measured;
    private final Car car;
    private final GapSearch search;
    private final Asked asked;
    private Optional<GapTable> known = Optional.empty();
    private Optional<GapTable> base = Optional.empty();

    private TrialStudy(MeasuredCar measured, Asked asked) {
        this.measured = measured;
        this.car = measured.car();
        this.asked = asked;
        this.search = GapSearch.of(car, asked);
    }

    /**
     * Returns a study of a car whose gaps are known.
     *
     * @param known every gap of the car as it is, flexible lines included, as well known as is asked
     */
    public static TrialStudy of(MeasuredCar measured, Asked asked, GapTable known) {
        TrialStudy study = new TrialStudy(measured, asked);
        study.known = Optional.of(known);
        return study;
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
     * Returns every gap of the car as it is, flexible lines included, searched once.
     *
     * @return the table, or empty if the work was cancelled
     */
    public Optional<GapTable> base(Progress progress) {
        if (base.isEmpty()) {
            // What is known already is searched all the same, without the lines: trials build on its rows.
            base = known.isEmpty()
                    ? whole(search, car, progress)
                    : search.run(progress).flatMap(table -> known);
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
        Optional<GapTable> before = base(part(progress, 0, HALF));
        Optional<GapTable> after = before.isEmpty()
                ? Optional.empty()
                : after(before.get(), trial, tried.car(), part(progress, HALF, HALF));
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

    /** Parts and flexible lines: a trial may move what a line is screwed to, or what it lies beside. */
    private Optional<GapTable> whole(GapSearch parts, Car of, Progress progress) {
        return parts.run(part(progress, 0, HALF))
                .flatMap(table -> HoseGaps.addTo(table, of, asked, part(progress, HALF, HALF)));
    }

    /**
     * The car with the trial. A cut leaves of a plate only what was there, so a line that was proved far from it stays
     * so, and its rows are those of the car as it is; any other change has every line looked at anew.
     */
    private Optional<GapTable> after(GapTable before, Trial trial, Car tried, Progress progress) {
        Set<String> lines = car.hoses().stream().map(Car.Hose::name).collect(Collectors.toSet());
        List<GapRow> rows = before.rows().stream()
                .filter(row -> lines.contains(row.first()) || lines.contains(row.second()))
                .toList();
        Set<String> cut = trial.changes().stream()
                .filter(change -> change instanceof Change.Trim)
                .map(Change::of)
                .collect(Collectors.toSet());
        boolean onlyCuts = trial.changes().stream()
                .allMatch(change -> change instanceof Change.Trim trim && !(trim.cut() instanceof Cut.HoleFilled));
        boolean farFromLines = rows.stream()
                .filter(row -> cut.contains(row.first()) || cut.contains(row.second()))
                .allMatch(row -> row.least().proof() instanceof Least.Proof.FarApart);
        // The mirror of a cut plate is cut too.
        boolean cutOnly = tried.parts().stream()
                .filter(part -> !car.part(part.name()).equals(Optional.of(part)))
                .allMatch(part -> cut.contains(part.name()));
        if (onlyCuts && farFromLines && cutOnly && tried.hoses().equals(car.hoses())) {
            List<LeftOut> leftOut = before.leftOut().stream()
                    .filter(out -> lines.contains(out.first()) || lines.contains(out.second()))
                    .toList();
            return search.changed(tried).run(progress).map(table -> table.with(rows, leftOut, lines.size(), 0));
        }
        return whole(search.changed(tried), tried, progress);
    }

    private static List<HoseReport> hoses(Car car, Set<String> names, Progress progress) {
        Car only = car.withHoses(
                car.hoses().stream().filter(hose -> names.contains(hose.name())).toList());
        return HoseSearch.of(only).run(part(progress, 1, 0)).orElse(List.of());
    }

    /** A piece of a longer work that may be cancelled, and says nothing. */
    static Progress quiet(Progress whole) {
        return new Progress() {
            @Override
            public void at(double fraction, String message) {}

            @Override
            public boolean cancelled() {
                return whole.cancelled();
            }
        };
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
