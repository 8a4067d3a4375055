package daylight.report;

import daylight.car.RuleList;
import daylight.inspection.InspectionReport;
import daylight.inspection.InspectionReport.Amount;
import daylight.inspection.InspectionReport.Finding;
import daylight.inspection.InspectionReport.Lock;
import daylight.inspection.InspectionReport.LockAngle;
import daylight.inspection.InspectionReport.Place;
import daylight.inspection.InspectionReport.Station;
import daylight.inspection.InspectionReport.Verdict;
import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** An inspection for a terminal, in the order in which an inspector walks round the car. */
public final class InspectionText {
    /** Places named under a finding; the rest is counted. */
    private static final int MOST_PLACES = 5;

    private static final double PER_CENT = 100;
    private static final String ESCAPE = "\u001b[";
    private static final String[] HEADING = {"", "what", "found", "asked", "why"};
    private static final int FIRST_NUMBER = 2;
    private static final int LAST_NUMBER = 3;

    private final InspectionReport report;
    private final boolean inches;
    private final LengthFormat format;
    private final Wording wording;

    private InspectionText(InspectionReport report, boolean inches) {
        this.report = report;
        this.inches = inches;
        this.format = LengthFormat.usual(inches ? Unit.INCH : Unit.MILLIMETRE);
        this.wording = Wording.in(format);
    }

    /**
     * Returns the inspection as text with a line feed after each line.
     *
     * @param inches whether lengths are shown in inches to 1/16 (else in mm to 0.1)
     * @param colour whether the terminal shows colours; words say the same
     */
    public static String of(InspectionReport report, boolean inches, boolean colour) {
        return new InspectionText(report, inches).text(colour);
    }

    /** Returns each finding as the words of a row: where, verdict, what, found, asked, why, and by which rule. */
    public static List<List<String>> rows(InspectionReport report, boolean inches) {
        InspectionText text = new InspectionText(report, inches);
        return report.findings().stream()
                .map(finding -> List.of(
                        finding.station().word(),
                        finding.verdict().word(),
                        finding.what(),
                        finding.found().map(text::found).orElse(""),
                        finding.asked().map(text::asked).orElse(""),
                        finding.why(),
                        finding.rule().words()))
                .toList();
    }

    private String text(boolean colour) {
        StringBuilder text = new StringBuilder();
        text.append(report.car())
                .append(", held to ")
                .append(report.lists().isEmpty() ? "no rule list" : String.join(", ", report.lists()))
                .append(inches ? " (lengths in inches)\n" : " (lengths in mm)\n");
        for (Station station : Station.values()) {
            List<Finding> own = report.findings().stream()
                    .filter(finding -> finding.station() == station)
                    .toList();
            if (!own.isEmpty()) {
                text.append('\n').append(station.word()).append('\n');
                station(text, own, colour);
            }
            if (station == Station.STEERING) {
                report.steering()
                        .forEach(lock -> text.append("  ").append(lock(lock)).append('\n'));
            }
        }
        text.append('\n')
                .append(String.format(
                        Locale.ROOT,
                        "%d pass, %d look, %d fail. look: common practice, a margin below what was measured, or not to be"
                                + " told from the file.\n",
                        count(Verdict.PASS),
                        count(Verdict.LOOK),
                        count(Verdict.FAIL)));
        report.cautions().forEach(caution -> text.append(caution).append('\n'));
        return text.toString();
    }

    private long count(Verdict verdict) {
        return report.findings().stream().filter(f -> f.verdict() == verdict).count();
    }

    private void station(StringBuilder text, List<Finding> findings, boolean colour) {
        List<String[]> cells = new ArrayList<>();
        cells.add(HEADING);
        for (Finding finding : findings) {
            cells.add(new String[] {
                finding.verdict().word(),
                finding.what(),
                finding.found().map(this::found).orElse(""),
                finding.asked().map(this::asked).orElse(""),
                finding.why()
            });
        }
        int[] width = new int[HEADING.length];
        for (String[] line : cells) {
            for (int c = 0; c < width.length; c++) {
                width[c] = Math.max(width[c], line[c].length());
            }
        }
        for (int l = 0; l < cells.size(); l++) {
            StringBuilder line = new StringBuilder("  ");
            for (int c = 0; c < width.length; c++) {
                String cell = cells.get(l)[c];
                String pad = " ".repeat(width[c] - cell.length());
                boolean right = c >= FIRST_NUMBER && c <= LAST_NUMBER;
                String shown = right ? pad + cell : cell + pad;
                if (c == 0 && l > 0 && colour) {
                    shown = ESCAPE + code(findings.get(l - 1).verdict()) + "m" + shown + ESCAPE + "0m";
                }
                line.append(shown).append("  ");
            }
            text.append(line.toString().stripTrailing()).append('\n');
            if (l > 0) {
                places(text, findings.get(l - 1));
            }
        }
    }

    private void places(StringBuilder text, Finding finding) {
        String indent = " ".repeat(8);
        if (finding.verdict() != Verdict.PASS) {
            finding.places().stream()
                    .limit(MOST_PLACES)
                    .forEach(place -> text.append(indent).append(place(place)).append('\n'));
            if (finding.places().size() > MOST_PLACES) {
                text.append(indent)
                        .append("and ")
                        .append(finding.places().size() - MOST_PLACES)
                        .append(" more (--json lists them)\n");
            }
        }
        text.append(indent)
                .append("by ")
                .append(finding.rule().words())
                .append(
                        finding.rule().date().isEmpty()
                                ? ""
                                : " (" + finding.rule().date() + ")")
                .append('\n');
    }

    private String place(Place place) {
        StringBuilder words = new StringBuilder(place.part()).append(' ').append(wording.gapWithUnit(place.mm()));
        if (!place.at().equals(daylight.geometry.Spot.ORIGIN)) {
            words.append(" at [")
                    .append(format.bare(place.at().x()))
                    .append(", ")
                    .append(format.bare(place.at().y()))
                    .append(", ")
                    .append(format.bare(place.at().z()))
                    .append(']');
        }
        return place.when().isEmpty()
                ? words.toString()
                : words.append(", ").append(place.when()).toString();
    }

    private String found(Amount amount) {
        return amount.kind() == RuleList.Figure.LENGTH ? wording.gap(amount.value()) : other(amount);
    }

    private String asked(Amount amount) {
        return amount.kind() == RuleList.Figure.LENGTH ? wording.required(amount.value()) : other(amount);
    }

    private static String other(Amount amount) {
        return switch (amount.kind()) {
            case SHARE -> String.format(Locale.ROOT, "%.0f%%", PER_CENT * amount.value());
            case ANGLE -> String.format(Locale.ROOT, "%.1f deg", Math.toDegrees(amount.value()));
            default -> String.format(Locale.ROOT, "%.0f", amount.value());
        };
    }

    private static String lock(Lock lock) {
        StringBuilder words = new StringBuilder(lock.handle());
        lock.turnsLockToLock()
                .ifPresentOrElse(
                        turns -> words.append(String.format(Locale.ROOT, ", %.1f turns lock to lock", turns)),
                        () -> words.append(", turns of the wheel not known (steering wheel: rack per turn)"));
        for (LockAngle angle : lock.angles()) {
            words.append(String.format(
                    Locale.ROOT,
                    "\n    %s at %s: %.1f deg left, %.1f deg right",
                    angle.wheel(),
                    angle.height(),
                    degrees(angle.leftRad()),
                    degrees(0.0 - angle.rightRad())));
        }
        return words.toString();
    }

    private static double degrees(double rad) {
        return Math.toDegrees(rad) + 0.0;
    }

    /** Okabe-Ito colours: vermillion, orange, bluish green. */
    private static String code(Verdict verdict) {
        return switch (verdict) {
            case FAIL -> "1;38;2;213;94;0";
            case LOOK -> "38;2;230;159;0";
            case PASS -> "38;2;0;158;115";
        };
    }

    /**
     * Returns the rule lists that there are, each rule with its clause and where it comes from.
     *
     * @param inches whether lengths are shown in inches to 1/16 (else in mm to 0.1)
     */
    public static String lists(List<RuleList> lists, boolean inches) {
        LengthFormat format = LengthFormat.usual(inches ? Unit.INCH : Unit.MILLIMETRE);
        StringBuilder text = new StringBuilder();
        for (RuleList list : lists) {
            text.append(list.name())
                    .append(": ")
                    .append(list.source())
                    .append(" (")
                    .append(list.date())
                    .append("; ")
                    .append(list.mark())
                    .append(")\n");
            list.gaps()
                    .forEach(rule -> text.append("  gap, ")
                            .append(rule.first())
                            .append(" and ")
                            .append(rule.second())
                            .append(", at least ")
                            .append(format.print(format.notBelow(rule.atLeastMm())))
                            .append('\n'));
            list.checks().forEach(check -> {
                text.append("  ").append(check.kind().word());
                figure(check, format)
                        .ifPresent(figure -> text.append(", ")
                                .append(check.kind().key())
                                .append(' ')
                                .append(figure));
                text.append(" (").append(check.cited().clause()).append(")\n");
            });
        }
        return text.toString();
    }

    private static Optional<String> figure(RuleList.Check check, LengthFormat format) {
        return switch (check.kind().figure()) {
            case NONE -> Optional.empty();
            case LENGTH -> Optional.of(format.print(check.figure()));
            default -> Optional.of(other(new Amount(check.figure(), check.kind().figure())));
        };
    }
}
