package daylight.report;

import daylight.car.Car;
import daylight.car.CarFileException;
import daylight.car.Layout;
import daylight.car.Layouts;
import daylight.car.Trial;
import daylight.clearance.Asked;
import daylight.clearance.DoubtSearch;
import daylight.clearance.GapCheck;
import daylight.clearance.GapDoubts;
import daylight.clearance.GapSearch;
import daylight.clearance.GapTable;
import daylight.hose.HoseFindings;
import daylight.hose.HoseSearch;
import daylight.inspection.Inspection;
import daylight.inspection.InspectionReport;
import daylight.motion.TravelReport;
import daylight.motion.TravelStudy;
import daylight.survey.MeasuredCar;
import daylight.survey.SurveyReport;
import daylight.trim.TrialStudy;
import daylight.trim.TrialTable;
import daylight.units.Progress;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalDouble;

/** Computes what a report says: the gaps of the parts and the flexible lines, then where each movement ends. */
public final class ReportStudy {
    private static final double INCH_STEP_MM = 3.175;
    private static final double MM_STEP_MM = 2.5;
    private static final double STEP_DEG = 1.25;
    /** Shares of the work that the gaps take, of the parts alone and with the flexible lines, for the progress shown. */
    private static final double PARTS_SHARE = 0.6;

    private static final double GAPS_SHARE = 0.8;

    private ReportStudy() {}

    /**
     * Returns the report of a car, or empty if the work was cancelled.
     *
     * @param asked how well the gaps are to be known
     * @throws CarFileException if the measurements cannot be read as such
     * @throws IllegalArgumentException if the car cannot be compiled (the reader of car files refuses such cars)
     */
    public static Optional<Report> of(
            MeasuredCar measured, Report.Source source, Report.Style style, Asked asked, Progress progress)
            throws CarFileException {
        Optional<GapTable> parts = GapSearch.of(measured.car(), asked).run(part(progress, 0, PARTS_SHARE));
        return parts.isEmpty() ? Optional.empty() : of(measured, source, style, parts.get(), asked, progress);
    }

    /**
     * Returns the report of a car whose parts' gaps are known already (those of its flexible lines are looked for), or
     * empty if the work was cancelled.
     *
     * @param parts what {@link GapSearch} gives for this car
     * @param asked how well the gaps are known, and those of its trials are to be
     * @throws CarFileException if the measurements cannot be read as such
     */
    public static Optional<Report> of(
            MeasuredCar measured,
            Report.Source source,
            Report.Style style,
            GapTable parts,
            Asked asked,
            Progress progress)
            throws CarFileException {
        Car car = measured.car();
        Optional<HoseFindings> hoses = car.hoses().isEmpty()
                ? Optional.of(new HoseFindings(List.of(), List.of(), List.of(), 0))
                : HoseSearch.of(car)
                        .findings(asked.watchMm(), asked.threads(), part(progress, PARTS_SHARE, GAPS_SHARE));
        if (hoses.isEmpty()) {
            return Optional.empty();
        }
        GapTable gaps = hoses.get().addedTo(parts);
        Optional<SurveyReport> survey = car.points().isEmpty()
                ? Optional.empty()
                : Optional.of(SurveyReport.of(measured.surveyed().adjustment(), List.of(), 0));
        Optional<GapDoubts> doubts =
                DoubtSearch.linear(measured, gaps, Integer.MAX_VALUE, part(progress, GAPS_SHARE, GAPS_SHARE));
        if (doubts.isEmpty()) {
            return Optional.empty();
        }
        List<GapCheck> measuredGaps =
                measured.hasMeasuredGaps() ? DoubtSearch.checks(measured, Progress.SILENT) : List.of();
        progress.at(GAPS_SHARE, "looking where each movement ends");
        Optional<TravelReport> travel = car.mechanisms().isEmpty()
                ? Optional.empty()
                : Optional.of(TravelStudy.of(
                        car,
                        new TravelStudy.Asked(
                                style.inches() ? INCH_STEP_MM : MM_STEP_MM,
                                Math.toRadians(STEP_DEG),
                                OptionalDouble.empty(),
                                OptionalDouble.empty(),
                                Optional.empty())));
        if (progress.cancelled()) {
            return Optional.empty();
        }
        List<TrialTable> trials = new ArrayList<>();
        if (!car.trials().isEmpty()) {
            TrialStudy study = TrialStudy.of(measured, asked, gaps);
            for (Trial trial : car.trials()) {
                Optional<TrialTable> compared = study.compare(trial, part(progress, GAPS_SHARE, GAPS_SHARE));
                if (compared.isEmpty()) {
                    return Optional.empty();
                }
                trials.add(compared.get());
            }
        }
        // Nobody asked for an inspection where no rule list is named, and it takes as long as the gaps.
        Optional<InspectionReport> inspection = Optional.empty();
        if (!car.judgedBy().lists().isEmpty()) {
            inspection = Inspection.of(car, gaps, hoses.get().reports(), part(progress, GAPS_SHARE, 1));
            if (inspection.isEmpty()) {
                return Optional.empty();
            }
        }
        return Optional.of(new Report(
                car,
                source,
                style,
                gaps,
                travel,
                hoses.get().reports(),
                survey,
                layouts(measured),
                trials,
                inspection,
                doubts,
                measuredGaps));
    }

    /** The layouts that a car's mechanisms name; a mirrored mechanism names none of its own. */
    private static List<Layout> layouts(MeasuredCar measured) {
        return measured.car().mechanisms().stream()
                .flatMap(
                        mechanism -> measured
                                .document()
                                .value(List.of("mechanisms", mechanism.name(), "layout"))
                                .flatMap(Layouts::named)
                                .stream())
                .distinct()
                .toList();
    }

    private static Progress part(Progress whole, double from, double to) {
        return new Progress() {
            @Override
            public void at(double fraction, String message) {
                whole.at(from + (to - from) * fraction, message);
            }

            @Override
            public boolean cancelled() {
                return whole.cancelled();
            }
        };
    }
}
