package daylight.report;

import daylight.clearance.State;
import daylight.geometry.Direction;
import daylight.hose.HoseReport;
import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;

/** The flexible lines of a car for a terminal: a block of plain text for each, its verdict first. */
public final class HoseText {
    /** Parts farther from the hose than their rule by this are not worth a line, mm. */
    private static final double NEAR_MM = 25;

    private static final int MOST_TOUCHES = 5;

    private final LengthFormat format;
    private final Wording wording;
    /** Lengths that can be bought are named as their makers do, not rounded: 3/4 in is 19.05 mm. */
    private final LengthFormat bought;

    private HoseText(boolean inches) {
        format = LengthFormat.usual(inches ? Unit.INCH : Unit.MILLIMETRE);
        wording = Wording.in(format);
        bought = LengthFormat.exact(inches ? Unit.INCH : Unit.MILLIMETRE);
    }

    /**
     * Returns the reports as text with a line feed after each line.
     *
     * @param car the car's name
     * @param inches whether lengths are shown in inches to 1/16 (else in mm to 0.1)
     */
    public static String of(String car, List<HoseReport> reports, boolean inches) {
        HoseText text = new HoseText(inches);
        List<String> lines = new ArrayList<>();
        lines.add(car);
        lines.add("");
        if (reports.isEmpty()) {
            lines.add("The car file names no flexible lines. Give a part a hose: group to have one checked.");
            lines.add("");
        }
        for (HoseReport report : reports) {
            text.block(report, lines);
            lines.add("");
        }
        lines.addAll(cautions());
        return String.join("\n", lines) + "\n";
    }

    /** What has to be said beside every result about a hose. */
    static List<String> cautions() {
        return List.of(
                "Slack is proved over the whole travel where it says so. Bend, twist and gaps are sampled, not proved: a"
                        + " smooth elastic hose without its weight, its pressure or the set from its drum.",
                "Brake work: someone licensed checks it. The slack and whip tests of the regulation (49 CFR 571.106) are"
                        + " made on a machine; nothing here stands in for them.",
                "Turn the wheel from lock to lock at full droop and full bump with the springs out, and look. Never go"
                        + " under a car that only a jack holds.");
    }

    /**
     * Returns what is said of one line after its heading: a word and what it says, in turns.
     *
     * @param inches whether lengths are shown in inches to 1/16 (else in mm to 0.1)
     */
    public static List<String> wordAndWhatItSays(HoseReport report, boolean inches) {
        List<String> lines = new ArrayList<>();
        new HoseText(inches).block(report, lines);
        List<String> parts = new ArrayList<>();
        for (String line : lines.subList(1, lines.size())) {
            String plain = line.strip();
            int end = plain.indexOf(' ');
            parts.add(plain.substring(0, end));
            parts.add(plain.substring(end).strip());
        }
        return parts;
    }

    private void block(HoseReport report, List<String> lines) {
        String all = report.troubles().stream().map(HoseReport.Trouble::word).collect(Collectors.joining(", "));
        lines.add(report.hose().name() + ": " + (all.isEmpty() ? report.verdict() : all));
        HoseReport.Slack slack = report.slack();
        lines.add("  slack    " + wording.gapWithUnit(slack.leastMm()) + " at least ("
                + wording.gapWithUnit(slack.rideMm())
                + " at ride height), " + wording.position(slack.where()) + "; "
                + (slack.unproved().isEmpty()
                        ? "proved: nowhere below " + wording.gapWithUnit(slack.floorMm())
                        : "unproved: " + slack.unproved()));
        HoseReport.Bend bend = report.bend();
        lines.add("  bend     "
                + (bend.tightestRadiusMm() > 0
                        ? radius(bend.tightestRadiusMm()) + " at the tightest (allowed " + format.print(bend.limitMm())
                                + " to the centre line), " + wording.position(bend.where())
                        : "pulled tight, " + wording.position(bend.where())));
        HoseReport.Twist twist = report.twist();
        lines.add("  twist    " + degrees(twist.greatestRad()) + " at most"
                + twist.limitRad()
                        .map(limit -> " (allowed " + degrees(limit) + ")")
                        .orElse(" (no limit given)")
                + ", " + wording.position(twist.where()));
        report.touches().stream()
                .filter(touch -> touch.state() != State.CLEAR || touch.gapMm() < touch.requiredMm() + NEAR_MM)
                .limit(MOST_TOUCHES)
                .forEach(touch ->
                        lines.add("  " + pad(touch.state().word()) + wording.gapWithUnit(touch.gapMm()) + " to "
                                + touch.part() + " (asked " + wording.required(touch.requiredMm()) + "), "
                                + wording.position(touch.where())));
        for (HoseReport.Jump jump : report.jumps()) {
            lines.add("  snaps    over to another side, by " + format.print(jump.movesMm()) + ", "
                    + wording.position(jump.where()));
        }
        if (report.eitherSide()) {
            lines.add("  lies     on either side: nothing decides which way it bends at ride height");
        }
        lines.add("  looked   " + looked(report.sampling()));
        if (!report.hose().stockLengthsMm().isEmpty()) {
            lines.add("  buy      " + buy(report));
            longer(report).ifPresent(words -> lines.add("  longer   " + words));
        }
        report.turned().ifPresent(turned -> lines.add("  set      " + set(report, turned)));
    }

    private String looked(HoseReport.Sampling sampling) {
        return "at " + sampling.positions() + " positions, its ends at most "
                + format.print(format.notBelow(sampling.stepMm())) + " apart from one to the next"
                + (sampling.atRest().isEmpty() ? "" : "; with " + String.join(", ", sampling.atRest()) + " at rest");
    }

    /** What the lengths beyond the one to buy come nearest to: a spare inch is not free. */
    private Optional<String> longer(HoseReport report) {
        double buy = report.shortestThatPasses()
                .map(HoseReport.Stock::lengthMm)
                .orElse(report.hose().freeLengthMm());
        String words = report.stock().stream()
                .filter(stock -> stock.lengthMm() > buy && stock.nearest().isPresent())
                .map(stock -> {
                    HoseReport.Touch near = stock.nearest().orElseThrow();
                    String how = near.state() == State.RUB
                            ? " rubs " + near.part()
                            : " comes within " + wording.gapWithUnit(near.gapMm()) + " of " + near.part() + " (asked "
                                    + wording.required(near.requiredMm()) + ")";
                    return bought.print(stock.lengthMm()) + how + ", " + wording.position(near.where());
                })
                .collect(Collectors.joining("; "));
        return words.isEmpty() ? Optional.empty() : Optional.of(words);
    }

    /** How to turn the fittings, and what for. */
    private String set(HoseReport report, HoseReport.Turned turned) {
        List<String> ends = new ArrayList<>();
        if (turned.fromRad() != 0) {
            ends.add(end("from", report.hose().from().body(), turned.fromRad(), turned.fromLeaves()));
        }
        if (turned.toRad() != 0) {
            ends.add(end("to", report.hose().to().body(), turned.toRad(), turned.toLeaves()));
        }
        return "turn " + String.join(" and ", ends) + ": "
                + bought.print(turned.result().lengthMm()) + " then passes everywhere, "
                + radius(turned.result().tightestRadiusMm()) + " at the tightest";
    }

    private static String end(String which, String body, double angle, Direction leaves) {
        return String.format(
                Locale.ROOT,
                "the %s: fitting (on %s) %s %s about its bolt, so that it leaves [%.2f, %.2f, %.2f]",
                which,
                body,
                degrees(Math.abs(angle)),
                angle > 0 ? "anticlockwise" : "clockwise",
                leaves.x() + 0.0,
                leaves.y() + 0.0,
                leaves.z() + 0.0);
    }

    private String buy(HoseReport report) {
        String tried = report.stock().stream()
                .filter(stock -> !stock.troubles().isEmpty())
                .map(stock -> bought.print(stock.lengthMm()) + " "
                        + stock.troubles().stream()
                                .map(HoseReport.Trouble::word)
                                .collect(Collectors.joining(", "))
                        + stock.nearest()
                                .filter(near -> near.state() != State.CLEAR)
                                .map(near -> " (" + near.part() + ")")
                                .orElse(""))
                .collect(Collectors.joining("; "));
        return report.shortestThatPasses()
                        .map(stock ->
                                bought.print(stock.lengthMm()) + " is the shortest stock length that passes everywhere")
                        .orElse("no stock length passes everywhere")
                + (tried.isEmpty() ? "" : "; " + tried);
    }

    private static String pad(String word) {
        return word + " ".repeat(Math.max(1, 9 - word.length()));
    }

    private String radius(double mm) {
        return Double.isInfinite(mm) ? "straight" : wording.gapWithUnit(mm) + " radius";
    }

    private static String degrees(double rad) {
        return String.format(Locale.ROOT, "%.0f deg", Math.toDegrees(rad) + 0.0);
    }
}
