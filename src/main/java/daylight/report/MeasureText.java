package daylight.report;

import daylight.clearance.GapCheck;
import daylight.survey.Equation.Quantity;
import daylight.survey.MirrorChoice;
import daylight.survey.NextReading;
import daylight.survey.ReadingResult;
import daylight.survey.ReadingResult.Standing;
import daylight.survey.SurveyReport;
import daylight.survey.Suspect;
import daylight.survey.Unfixed;
import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.stream.Collectors;

/** What the survey says to its builder, for a terminal: suspects first, then points, readings and what to do next. */
public final class MeasureText {
    private static final String[] POINTS = {"point", "ahead", "left", "up", "ahead +-", "left +-", "up +-"};
    private static final String[] READINGS = {"", "reading", "reads", "fits", "off", "times u", "shows from"};
    /** Readings listed: those that fit worst. */
    private static final int WORST = 12;
    /** Unchecked readings named in one paragraph. */
    private static final int NAMED = 8;

    private final SurveyReport report;
    private final List<GapCheck> gaps;
    private final Unit unit;
    private final LengthFormat format;
    private final StringBuilder text = new StringBuilder();

    private MeasureText(SurveyReport report, List<GapCheck> gaps, boolean inches) {
        this.report = report;
        this.gaps = gaps;
        this.unit = inches ? Unit.INCH : Unit.MILLIMETRE;
        this.format = LengthFormat.usual(unit);
    }

    /**
     * Returns the report as text with a line feed after each line.
     *
     * @param car what the car is called
     * @param gaps gaps measured on the car against those computed; may be empty
     * @param inches whether lengths are shown in inches to 1/16 (else in mm to 0.1)
     * @param all whether every reading is listed, also those that nothing checks (else those that fit worst)
     */
    public static String of(String car, SurveyReport report, List<GapCheck> gaps, boolean inches, boolean all) {
        return new MeasureText(report, gaps, inches).text(car, all);
    }

    private String text(String car, boolean all) {
        line(car + ": " + count(report.points().size(), "point", "points") + ", "
                + count(report.readings().size(), "number read", "numbers read") + " (lengths in "
                + (unit == Unit.INCH ? "inches" : "mm") + ", from the datum: ahead, left, up)");
        line("");
        suspects();
        notFixed();
        points();
        readings(all);
        agreement();
        gaps();
        next();
        return text.toString();
    }

    private void suspects() {
        for (Suspect suspect : report.suspects()) {
            line("Wrong: " + SurveyWords.accused(suspect.first(), format) + " Left out of the points.");
            for (Suspect.Accused other :
                    suspect.accused().subList(1, suspect.accused().size())) {
                line("   or: " + SurveyWords.accused(other, format));
            }
            if (!suspect.pointsInDoubt().isEmpty()) {
                line("       Until one of them is read again, doubt " + String.join(", ", suspect.pointsInDoubt())
                        + ".");
            }
        }
        if (!report.suspects().isEmpty()) {
            line("");
        }
    }

    private void notFixed() {
        for (Unfixed unfixed : report.unfixed()) {
            line("Not fixed: " + unfixed.point() + " " + unfixed.words() + ".");
        }
        for (String motion : report.floating()) {
            line("Not fixed: the whole, " + motion + ".");
        }
        for (MirrorChoice choice : report.mirrorChoices()) {
            line("One of two places: " + choice.point() + " at "
                    + place(
                            choice.taken().x(),
                            choice.taken().y(),
                            choice.taken().z()) + " or "
                    + place(
                            choice.other().x(),
                            choice.other().y(),
                            choice.other().z())
                    + ". A rough place (near:) or its height decides.");
        }
        if (!report.unfixed().isEmpty()
                || !report.floating().isEmpty()
                || !report.mirrorChoices().isEmpty()) {
            line("");
        }
    }

    private String place(double x, double y, double z) {
        return "[" + format.bare(x) + ", " + format.bare(y) + ", " + format.bare(z) + "]";
    }

    private void points() {
        List<String[]> cells = new ArrayList<>();
        cells.add(POINTS);
        for (SurveyReport.PointLine point : report.points()) {
            cells.add(new String[] {
                point.name(),
                format.bare(point.at().x()),
                format.bare(point.at().y()),
                format.bare(point.at().z()),
                width(point.forward95Mm()),
                width(point.left95Mm()),
                width(point.up95Mm())
            });
        }
        table(cells, 1);
        line("+-: the point lies so near to it 95 times in 100.");
        line("");
    }

    private String width(double mm) {
        String shown = SurveyWords.small(mm, Quantity.LENGTH, unit);
        return shown.startsWith("+") ? shown.substring(1) : shown;
    }

    private void readings(boolean all) {
        List<ReadingResult> checked = report.readings().stream()
                .filter(reading -> reading.standing() != Standing.UNCHECKED)
                .toList();
        // Those that stand out are what a builder looks at; two hundred that agree bury them.
        double least = checked.stream()
                .map(reading -> Math.abs(reading.standardised()))
                .sorted(Comparator.reverseOrder())
                .skip(WORST - 1L)
                .findFirst()
                .orElse(0.0);
        List<ReadingResult> shown = report.readings().stream()
                .filter(reading ->
                        all || (reading.standing() != Standing.UNCHECKED && Math.abs(reading.standardised()) >= least))
                .toList();
        if (!shown.isEmpty()) {
            List<String[]> cells = new ArrayList<>();
            cells.add(READINGS);
            for (ReadingResult reading : shown) {
                cells.add(new String[] {
                    mark(reading.standing()),
                    SurveyWords.label(reading.reading(), reading.part()),
                    SurveyWords.value(reading.reads(), reading.quantity(), format),
                    SurveyWords.value(reading.adjusted(), reading.quantity(), format),
                    SurveyWords.small(reading.reads() - reading.adjusted(), reading.quantity(), unit),
                    String.format(Locale.ROOT, "%.1f", Math.abs(reading.standardised())),
                    SurveyWords.small(reading.smallestFindable(), reading.quantity(), unit)
                            .replace("+", "")
                });
            }
            table(cells, 2);
            line(
                    "off: read less fitted. times u: that over its own standard deviation; a mistake from \"shows from\" on "
                            + "is found 8 times in 10.");
            int agree = checked.size() - shown.size();
            if (agree > 0) {
                line(count(agree, "other reading fits", "other readings fit")
                        + " better than these (--all lists them).");
            }
            line("");
        }
        if (!report.unchecked().isEmpty() && !all) {
            String named = report.unchecked().stream()
                    .limit(NAMED)
                    .map(reading -> SurveyWords.label(reading.reading(), reading.part()))
                    .collect(Collectors.joining("; "));
            int more = report.unchecked().size() - NAMED;
            line("Nothing checks " + count(report.unchecked().size(), "number", "numbers")
                    + ", so a slip there would go unseen: " + named
                    + (more > 0 ? "; and " + more + " more (--all)." : "."));
            line("");
        }
    }

    private static String mark(Standing standing) {
        return switch (standing) {
            case AGREES -> "";
            case UNCHECKED -> "unchecked";
            case SET_ASIDE -> "WRONG";
        };
    }

    private void agreement() {
        SurveyReport.Agreement agreement = report.agreement();
        if (agreement.degreesOfFreedom() < 1) {
            line("There is no reading beyond those that the points need, so nothing checks them.");
            return;
        }
        line(String.format(
                Locale.ROOT,
                "%s beyond those needed; their chi-square is %.1f, up to %.1f in 95 of 100 sound surveys: %s.",
                count((long) agreement.degreesOfFreedom(), "number", "numbers"),
                agreement.chiSquare(),
                agreement.limit95(),
                agreement.agrees() ? "they agree" : "they scatter more than is claimed for them"));
        if (agreement.doubtScale() > 1) {
            line(String.format(
                    Locale.ROOT,
                    "All doubts above are %.1f times what was claimed, to match.",
                    agreement.doubtScale()));
        }
    }

    private void gaps() {
        if (gaps.isEmpty()) {
            return;
        }
        line("");
        List<String[]> cells = new ArrayList<>();
        cells.add(new String[] {"", "gap measured between", "reads", "computed", "+-", "times u"});
        for (GapCheck gap : gaps) {
            boolean stands = gap.comparison().isPresent();
            cells.add(new String[] {
                stands ? gap.disagrees() ? "DIFFERS" : gap.standing().isPresent() ? "counts" : "agrees" : gap.why(),
                gap.reading().first() + " / " + gap.reading().second(),
                format.bare(gap.reading().readsMm()),
                gap.comparison().map(c -> format.bare(c.computedMm())).orElse("-"),
                gap.comparison().map(c -> width(1.96 * c.computedUMm())).orElse("-"),
                gap.comparison()
                        .map(c -> String.format(Locale.ROOT, "%.1f", Math.abs(c.standardised())))
                        .orElse("-")
            });
        }
        table(cells, 2);
        SurveyWords.differing(gaps, format).forEach(this::line);
    }

    private void next() {
        List<String> lines = new ArrayList<>();
        for (NextReading next : report.toFix()) {
            lines.add("Measure next: " + would(next) + ". " + next.gains() + " is then known to "
                    + width(next.after()) + " instead of "
                    + (next.before() > 500 ? "not at all" : width(next.before())) + ".");
        }
        for (NextReading next : report.toCheck()) {
            lines.add(String.format(
                    Locale.ROOT,
                    "To check: %s. It shows %.0f %% of a slip in %s.",
                    would(next),
                    100 * next.after(),
                    next.gains()));
        }
        if (!lines.isEmpty()) {
            line("");
            lines.forEach(this::line);
        }
    }

    private String would(NextReading next) {
        return next.candidate().name() + " (about " + format.print(next.wouldRead()) + ")";
    }

    private void table(List<String[]> cells, int firstNumber) {
        int[] width = new int[cells.get(0).length];
        for (String[] row : cells) {
            for (int c = 0; c < width.length; c++) {
                width[c] = Math.max(width[c], row[c].length());
            }
        }
        for (String[] row : cells) {
            StringBuilder line = new StringBuilder();
            for (int c = 0; c < width.length; c++) {
                if (width[c] == 0) {
                    continue;
                }
                String pad = " ".repeat(width[c] - row[c].length());
                line.append(c >= firstNumber ? pad + row[c] : row[c] + pad).append("  ");
            }
            line(line.toString().stripTrailing());
        }
    }

    private static String count(long number, String one, String many) {
        return number + " " + (number == 1 ? one : many);
    }

    private void line(String words) {
        text.append(words).append('\n');
    }
}
