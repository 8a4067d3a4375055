package daylight.report;

import daylight.car.Car;
import daylight.car.Layout;
import daylight.clearance.GapCheck;
import daylight.clearance.GapDoubts;
import daylight.clearance.GapRow;
import daylight.clearance.GapTable;
import daylight.clearance.Least;
import daylight.clearance.State;
import daylight.hose.HoseReport;
import daylight.inspection.InspectionReport;
import daylight.motion.TravelReport;
import daylight.survey.SurveyReport;
import daylight.trim.TrialTable;
import java.util.List;
import java.util.Optional;

/**
 * All that the pages of a car say: what was computed, from which file, and how it is to be shown. A value; the pages
 * are a function of it alone, so that the same report gives the same bytes.
 *
 * @param car the car
 * @param source where it was read from
 * @param style how lengths are shown and what is listed
 * @param gaps every pair's gaps
 * @param travel where each movement ends, and the curves of wheel geometry; empty when nothing moves
 * @param hoses the flexible lines
 * @param survey what the survey made of the measurements; empty when there are none
 * @param layouts the layouts of its mechanisms, in file order, each once
 * @param trials the car file's trials, each compared with the car as it is
 * @param inspection what an inspector would look at; empty when nothing was asked
 * @param doubts how sure the gaps of near pairs are; empty when that was not asked
 * @param measuredGaps gaps measured on the car, held against the computed ones
 */
public record Report(
        Car car,
        Source source,
        Style style,
        GapTable gaps,
        Optional<TravelReport> travel,
        List<HoseReport> hoses,
        Optional<SurveyReport> survey,
        List<Layout> layouts,
        List<TrialTable> trials,
        Optional<InspectionReport> inspection,
        Optional<GapDoubts> doubts,
        List<GapCheck> measuredGaps) {
    /** So many of the tightest pairs are drawn, and stand on the first page. */
    public static final int TIGHTEST = 10;

    public Report {
        hoses = List.copyOf(hoses);
        layouts = List.copyOf(layouts);
        trials = List.copyOf(trials);
        measuredGaps = List.copyOf(measuredGaps);
    }

    /**
     * Where a car was read from.
     *
     * @param file the file's name, without folders
     * @param sha256 hash of the file's bytes, lower-case hexadecimal
     * @param date the date for the first page, in the builder's own words; empty for the one in the file, if any
     * @param version the program's version
     */
    public record Source(String file, String sha256, Optional<String> date, String version) {}

    /**
     * How it is shown.
     *
     * @param inches whether lengths are in inches to 1/16 (else in mm to 0.1)
     * @param all whether pairs that stay further apart than the watch distance are listed too
     */
    public record Style(boolean inches, boolean all) {}

    /** Returns the same report shown another way. */
    public Report with(Style other) {
        return new Report(
                car, source, other, gaps, travel, hoses, survey, layouts, trials, inspection, doubts, measuredGaps);
    }

    /** Returns the same report of another source: under another date, say. */
    public Report with(Source other) {
        return new Report(
                car, other, style, gaps, travel, hoses, survey, layouts, trials, inspection, doubts, measuredGaps);
    }

    /** Returns the date for the first page: as given, else as the file has it; never the day on which it is printed. */
    public Optional<String> date() {
        return source.date().or(() -> car.about().date());
    }

    /** Returns the pairs that are listed one by one, tightest first. */
    public List<GapRow> listed() {
        return gaps.rows().stream()
                .filter(row -> style.all() || isNear(row) || row.state() != State.CLEAR)
                .toList();
    }

    /** Returns the tightest pairs that were measured closely, at most {@link #TIGHTEST}. */
    public List<GapRow> tightest() {
        return gaps.rows().stream().filter(Report::isNear).limit(TIGHTEST).toList();
    }

    /** Returns whether a pair comes near enough to have been measured closely. */
    static boolean isNear(GapRow row) {
        return !(row.least().proof() instanceof Least.Proof.FarApart);
    }

    /** Returns how many pairs have a state. */
    long count(State state) {
        return gaps.rows().stream().filter(row -> row.state() == state).count();
    }

    /** Returns how many pairs of parts have a floor that is not proved. */
    long unproved() {
        return gaps.rows().stream()
                .filter(row -> row.least().proof() instanceof Least.Proof.Unproved && !hasALine(row))
                .count();
    }

    /** Returns how many pairs have a flexible line in them that comes near enough to be sampled. */
    long sampled() {
        return gaps.rows().stream()
                .filter(row -> row.least().proof() instanceof Least.Proof.Unproved && hasALine(row))
                .count();
    }

    private boolean hasALine(GapRow row) {
        return car.part(row.first()).isEmpty() || car.part(row.second()).isEmpty();
    }
}
