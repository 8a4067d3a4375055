package daylight.report;

import com.samskivert.mustache.Mustache;
import com.samskivert.mustache.Template;
import daylight.car.Car;
import daylight.clearance.GapDoubts;
import daylight.clearance.GapRow;
import daylight.clearance.Least;
import daylight.clearance.LeftOut;
import daylight.clearance.Onset;
import daylight.clearance.State;
import daylight.hose.HoseReport;
import daylight.motion.RealRange;
import daylight.motion.TravelEnd;
import daylight.motion.TravelTable;
import daylight.survey.ReadingResult;
import daylight.survey.SurveyReport;
import daylight.survey.Suspect;
import daylight.trim.TrialRow;
import daylight.trim.TrialTable;
import daylight.units.LengthFormat;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;

/**
 * A report as pages: one HTML file that needs nothing else, and the same as a PDF file. Both come from one template; only
 * sections for which the report has something to say are printed.
 */
public final class ReportPages {
    private static final String TEMPLATE = "/daylight/report/report.html";
    private static final double PER_CENT = 100;
    /** Curves of wheel geometry that fit on a sheet under its heading. */
    private static final int PANELS_A_SHEET = 12;

    /** The margin that the template leaves at the sides of a sheet, mm; it has to be said again for sheets on edge. */
    private static final double SIDE_MARGIN_MM = 14;

    private static final String[] NUMBERS = {
        "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"
    };

    private final Report report;
    private final Car car;
    private final LengthFormat format;
    private final Wording wording;
    private final Map<String, String> ruleNumbers = new LinkedHashMap<>();

    private ReportPages(Report report) {
        this.report = report;
        this.car = report.car();
        this.format = ReportWords.format(report);
        this.wording = Wording.in(format);
        for (GapRow row : report.gaps().rows()) {
            ruleNumbers.computeIfAbsent(row.rule() + asked(row), words -> "R" + (ruleNumbers.size() + 1));
        }
    }

    /** Returns the report as one HTML file: well-formed, no scripts, nothing from outside, pictures in it. */
    public static String html(Report report) {
        return new ReportPages(report).page(Optional.empty());
    }

    /** Returns the report as a PDF file: tagged, fonts embedded, pictures as lines; the same bytes every time. */
    public static byte[] pdf(Report report, Paper paper) {
        return PdfPages.of(new ReportPages(report).page(Optional.of(paper)), title(report));
    }

    private static String title(Report report) {
        return report.car().name() + ": clearance report";
    }

    private String page(Optional<Paper> paper) {
        Map<String, Object> page = new LinkedHashMap<>();
        page.put("title", title(report));
        page.put("paper", paper.isPresent());
        paper.ifPresent(sheet -> {
            page.put("width", TravelUnits.shortest(sheet.widthMm(), 1) + "mm");
            page.put("height", TravelUnits.shortest(sheet.heightMm(), 1) + "mm");
            page.put("wideWidth", TravelUnits.shortest(sheet.heightMm() - 2 * SIDE_MARGIN_MM, 1) + "mm");
            page.put(
                    "runningTitle",
                    quoted(car.name() + car.reference().map(text -> ", " + text).orElse("")));
            page.put(
                    "runningFoot",
                    quoted(report.date().map(text -> text + ". ").orElse("") + "Geometry, not strength."));
        });
        firstPage(page);
        pictures(page);
        pairs(page);
        sureness(page);
        travel(page);
        contact(page);
        hoses(page);
        trials(page);
        inspection(page);
        curves(page);
        layouts(page);
        points(page);
        rules(page);
        shopSheet(page);
        method(page);
        contents(page);
        return template().execute(page);
    }

    private static Template template() {
        try (InputStream in = ReportPages.class.getResourceAsStream(TEMPLATE)) {
            if (in == null) {
                throw new IllegalStateException("the template is missing from the program: " + TEMPLATE);
            }
            return Mustache.compiler()
                    .withEscaper(Drawing::escaped)
                    .emptyStringIsFalse(true)
                    .compile(new InputStreamReader(in, StandardCharsets.UTF_8));
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Makes words safe inside a quoted string of a style sheet (markup is made harmless afterwards). */
    private static String quoted(String words) {
        return words.replace("\\", "\\5c ").replace("\"", "\\22 ").replaceAll("\\p{Cntrl}", " ");
    }

    private static Map<String, Object> row(Object... namesAndValues) {
        Map<String, Object> row = new LinkedHashMap<>();
        for (int i = 0; i < namesAndValues.length; i += 2) {
            row.put((String) namesAndValues[i], namesAndValues[i + 1]);
        }
        return row;
    }

    private static void put(Map<String, Object> page, String name, List<?> rows) {
        page.put(name, rows);
        page.put("any" + name.substring(0, 1).toUpperCase(Locale.ROOT) + name.substring(1), !rows.isEmpty());
    }

    private static void contents(Map<String, Object> page) {
        List<Map<String, Object>> contents = new ArrayList<>();
        contents.add(row("name", "First page", "id", "first"));
        String[][] parts = {
            {"anyDrawn", "drawn", "The tightest, drawn"},
            {"anyViews", "views", "The whole car"},
            {"title", "pairs", "Every pair"},
            {"anySure", "sure", "How sure the gaps are"},
            {"anyTravel", "travel", "Travel and what ends it"},
            {"anyContact", "contact", "Travel at first contact"},
            {"anyHoses", "hoses", "Flexible lines"},
            {"anyTrials", "trials", "Trials, before and after"},
            {"anyFindings", "inspection", "Inspection"},
            {"anyCurves", "geometry", "Wheel geometry"},
            {"anyLayouts", "layouts", "The layouts"},
            {"anyPoints", "points", "Measured points"},
            {"title", "rules", "Rules and exclusions"},
            {"anyChecks", "shop", "Shop sheet"},
            {"title", "method", "How this was computed"}
        };
        for (String[] part : parts) {
            if (page.containsKey(part[0]) && !Boolean.FALSE.equals(page.get(part[0]))) {
                contents.add(row("name", part[2], "id", part[1]));
            }
        }
        page.put("contents", contents);
    }

    // ---- the first page ---------------------------------------------------------------------------------

    private void firstPage(Map<String, Object> page) {
        page.put("car", car.name());
        page.put("invented", car.about().invented());
        page.put("unit", format.unit().symbol());
        List<Map<String, Object>> facts = new ArrayList<>();
        car.reference().ifPresent(text -> facts.add(row("name", "reference", "value", text)));
        report.date().ifPresent(text -> facts.add(row("name", "date", "value", text)));
        car.datum().ifPresent(text -> facts.add(row("name", "datum", "value", text)));
        car.about().measuredBy().ifPresent(text -> facts.add(row("name", "measured by", "value", text)));
        facts.add(row("name", "lengths", "value", report.style().inches() ? "inches, to 1/16" : "millimetres, to 0.1"));
        car.about().note().ifPresent(text -> facts.add(row("name", "note", "value", text)));
        page.put("facts", facts);
        page.put("verdict", ReportWords.verdict(report));
        page.put("cautions", ReportWords.cautions());
        List<GapRow> tightest = report.tightest();
        page.put("tightestWord", tightest.size() == 1 ? "one" : NUMBERS[tightest.size()]);
        put(page, "tightest", numbered(tightest));
    }

    private List<Map<String, Object>> numbered(List<GapRow> rows) {
        List<Map<String, Object>> numbered = new ArrayList<>();
        for (int i = 0; i < rows.size(); i++) {
            numbered.add(pair(i + 1, rows.get(i)));
        }
        return numbered;
    }

    private Map<String, Object> pair(int number, GapRow row) {
        boolean near = Report.isNear(row);
        return row(
                "no",
                Integer.toString(number),
                "word",
                row.state().word(),
                "mark",
                StateMark.of(row.state()),
                "pair",
                ReportWords.pair(row),
                "rest",
                wording.gap(row.atRideHeight().distanceMm()),
                "least",
                near
                        ? wording.gap(row.least().found().distanceMm())
                        : "over " + wording.gap(report.gaps().watchMm()),
                "floor",
                Double.isFinite(row.least().floorMm()) && near
                        ? wording.gap(row.least().floorMm())
                        : "",
                "asked",
                asked(row),
                "margin",
                near ? wording.gap(row.marginMm()) : "",
                "where",
                near ? where(row) : "",
                "rule",
                ruleNumbers.getOrDefault(row.rule() + asked(row), ""),
                "interval",
                doubt(row)
                        .map(d -> wording.gap(d.doubt().low95Mm()) + " to "
                                + wording.required(d.doubt().high95Mm()))
                        .orElse(""),
                "chance",
                doubt(row)
                        .map(d -> SurveyWords.chance(d.doubt().chanceOfTouching()))
                        .orElse(""));
    }

    private Optional<GapDoubts.Row> doubt(GapRow row) {
        return report.doubts().flatMap(doubts -> doubts.of(row.first(), row.second()));
    }

    private String asked(GapRow row) {
        return wording.required(row.requiredMm());
    }

    private String where(GapRow row) {
        String at = wording.position(row.least().where());
        return row.least().proof() instanceof Least.Proof.Unproved unproved ? at + "; unproved: " + unproved.why() : at;
    }

    private void pictures(Map<String, Object> page) {
        List<Map<String, Object>> drawn = new ArrayList<>();
        List<String> views = new ArrayList<>();
        List<GapRow> tightest = report.tightest();
        if (!tightest.isEmpty()) {
            CarPictures pictures = CarPictures.of(car, report.style().inches());
            for (int i = 0; i < tightest.size(); i++) {
                GapRow row = tightest.get(i);
                Map<String, Object> pair = pair(i + 1, row);
                pair.put("onset", onset(row));
                pair.put("section", pictures.section(row).orElse(""));
                pair.put("curve", pictures.curve(row).orElse(""));
                pair.put("map", pictures.map(row).orElse(""));
                drawn.add(pair);
            }
            views.add(pictures.squareViews(tightest));
        }
        put(page, "drawn", drawn);
        put(page, "views", views);
    }

    private String onset(GapRow row) {
        return row.touches()
                .map(onset -> "Touches from " + wording.position(onset.at()))
                .or(() -> row.belowRule().map(onset -> "Too near from " + wording.position(onset.at())))
                .filter(words ->
                        !words.endsWith(" " + wording.position(row.least().where())))
                .orElse("");
    }

    private void shopSheet(Map<String, Object> page) {
        List<Map<String, Object>> checks = new ArrayList<>();
        for (ShopSheet.Check check : ShopSheet.of(report)) {
            checks.add(row(
                    "no",
                    Integer.toString(checks.size() + 1),
                    "pair",
                    ReportWords.pair(check.row()),
                    "shank",
                    check.shank(),
                    "clay",
                    check.clay(),
                    "spot",
                    check.spot(),
                    "jack",
                    check.jack(),
                    "left",
                    check.left()));
        }
        put(page, "checks", checks);
        page.put("shopCautions", ReportWords.shopCautions());
    }

    // ---- every pair -------------------------------------------------------------------------------------

    private void pairs(Map<String, Object> page) {
        List<GapRow> listed = report.listed();
        put(page, "pairs", numbered(listed));
        int measured = report.gaps().rows().size();
        StringBuilder note = new StringBuilder();
        note.append(report.gaps().work().parts())
                .append(" parts, ")
                .append(measured)
                .append(measured == 1 ? " pair moves" : " pairs move")
                .append(" against one another: ")
                .append(report.count(State.RUB))
                .append(" rub, ")
                .append(report.count(State.TIGHT))
                .append(" tight, ")
                .append(report.count(State.CLEAR))
                .append(" clear.");
        int apart = measured - listed.size();
        if (apart > 0) {
            note.append(' ')
                    .append(apart)
                    .append(apart == 1 ? " clear pair stays" : " clear pairs stay")
                    .append(" further apart than ")
                    .append(wording.gapWithUnit(report.gaps().watchMm()))
                    .append(" and ")
                    .append(apart == 1 ? "is" : "are")
                    .append(" not listed.");
        }
        page.put("pairsNote", note.toString());
    }

    // ---- how sure the gaps are --------------------------------------------------------------------------

    private void sureness(Map<String, Object> page) {
        boolean inches = report.style().inches();
        page.put("doubts", report.doubts().isPresent());
        List<Map<String, Object>> again = new ArrayList<>();
        for (GapRow row : report.tightest()) {
            doubt(row)
                    .flatMap(GapDoubts.Row::sharper)
                    .ifPresent(sharper -> again.add(row(
                            "pair",
                            ReportWords.pair(row),
                            "what",
                            sharper.what(),
                            "to",
                            SurveyWords.readTo(sharper, inches),
                            "before",
                            SurveyWords.halfWidth(sharper.before95Mm(), inches),
                            "after",
                            SurveyWords.halfWidth(sharper.after95Mm(), inches))));
        }
        put(page, "again", again);
        put(
                page,
                "onTheCar",
                report.measuredGaps().stream()
                        .map(gap -> row(
                                "pair",
                                gap.reading().first() + " / " + gap.reading().second(),
                                "read",
                                format.bare(gap.reading().readsMm()),
                                "computed",
                                gap.comparison()
                                        .map(c -> format.bare(c.computedMm()))
                                        .orElse("-"),
                                "standing",
                                !gap.why().isEmpty()
                                        ? gap.why()
                                        : gap.disagrees()
                                                ? "differs"
                                                : gap.standing().isPresent() ? "counts" : "agrees"))
                        .toList());
        put(page, "differing", SurveyWords.differing(report.measuredGaps(), format));
        page.put("anySure", !again.isEmpty() || !report.measuredGaps().isEmpty());
    }

    private void contact(Map<String, Object> page) {
        List<Map<String, Object>> rows = new ArrayList<>();
        for (GapRow row : report.listed()) {
            row.touches().ifPresent(onset -> rows.add(contact(row, "touches", onset)));
            row.belowRule()
                    .ifPresent(onset -> rows.add(
                            contact(row, "nearer than " + format.print(format.notBelow(row.requiredMm())), onset)));
        }
        put(page, "contact", rows);
    }

    private Map<String, Object> contact(GapRow row, String what, Onset onset) {
        return row(
                "pair",
                ReportWords.pair(row),
                "what",
                what,
                "from",
                wording.position(onset.at()),
                "share",
                TravelUnits.decimal(PER_CENT * onset.share(), 1),
                "below",
                row.least().proof() instanceof Least.Proof.Unproved
                        ? "unproved"
                        : TravelUnits.decimal(Math.floor(10 * PER_CENT * onset.clearUpTo()) / 10, 1) + " %");
    }

    // ---- what else was computed -------------------------------------------------------------------------

    private void travel(Map<String, Object> page) {
        List<Map<String, Object>> rows = new ArrayList<>();
        report.travel().ifPresent(travel -> {
            TravelText text = new TravelText(travel, report.style().inches());
            for (RealRange range : travel.ranges()) {
                side(range, true, text, rows);
                side(range, false, text, rows);
            }
            page.put("lookAt", travel.cautions());
        });
        put(page, "travel", rows);
    }

    private static void side(RealRange range, boolean up, TravelText text, List<Map<String, Object>> rows) {
        double stated = up ? range.stated().highest() : 0.0 - range.stated().lowest();
        if (stated == 0) {
            return;
        }
        TravelEnd end = up ? range.up() : range.down();
        String movement = TravelText.movement(range, up);
        rows.add(row(
                "movement",
                movement.endsWith(",") ? movement.substring(0, movement.length() - 1) : movement,
                "stated",
                text.amount(range, stated),
                "reached",
                text.amount(range, end.at()),
                "cause",
                end.cause().words()));
    }

    private void hoses(Map<String, Object> page) {
        List<Map<String, Object>> rows = new ArrayList<>();
        for (HoseReport hose : report.hoses()) {
            List<String> said = HoseText.wordAndWhatItSays(hose, report.style().inches());
            List<Map<String, Object>> lines = new ArrayList<>();
            for (int i = 0; i + 1 < said.size(); i += 2) {
                lines.add(row("word", said.get(i), "says", said.get(i + 1)));
            }
            rows.add(row("name", hose.hose().name(), "verdict", hose.verdict(), "lines", lines));
        }
        put(page, "hoses", rows);
        page.put("hoseCautions", HoseText.cautions());
    }

    private void curves(Map<String, Object> page) {
        List<String> pictures = new ArrayList<>();
        List<String> twins = new ArrayList<>();
        report.travel().ifPresent(travel -> {
            TravelText text = new TravelText(travel, report.style().inches());
            List<TravelTable> shown = new ArrayList<>();
            for (TravelTable table : travel.tables()) {
                Optional<TravelTable> twin = shown.stream()
                        .filter(other -> text.isTwin(table, other))
                        .findFirst();
                if (twin.isPresent()) {
                    twins.add(table.subject() + ", " + table.movement() + ": as "
                            + twin.get().subject() + ".");
                } else {
                    shown.add(table);
                    pictures.addAll(
                            TravelSvg.sheets(car.name(), table, report.style().inches(), PANELS_A_SHEET));
                }
            }
        });
        put(
                page,
                "curves",
                pictures.stream()
                        .map(svg ->
                                row("svg", svg, "share", (int) (PER_CENT * TravelSvg.columns(svg) / TravelSvg.COLUMNS)))
                        .toList());
        page.put("twins", twins);
    }

    private void layouts(Map<String, Object> page) {
        put(
                page,
                "layouts",
                report.layouts().stream()
                        .map(layout -> row("title", layout.title(), "svg", LayoutSvg.of(layout)))
                        .toList());
    }

    private void inspection(Map<String, Object> page) {
        List<Map<String, Object>> findings = new ArrayList<>();
        report.inspection().ifPresent(found -> {
            for (List<String> cells : InspectionText.rows(found, report.style().inches())) {
                Map<String, Object> finding = new LinkedHashMap<>();
                for (int i = 0; i < FINDING.size(); i++) {
                    finding.put(FINDING.get(i), cells.get(i));
                }
                findings.add(finding);
            }
            page.put("inspectedBy", String.join(", ", found.lists()));
            page.put("inspectionCautions", found.cautions());
        });
        put(page, "findings", findings);
    }

    /** What the template calls the words of {@link InspectionText#rows}, in their order. */
    private static final List<String> FINDING = List.of("station", "verdict", "what", "found", "asked", "why", "rule");

    private void trials(Map<String, Object> page) {
        List<Map<String, Object>> trials = new ArrayList<>();
        for (TrialTable trial : report.trials()) {
            List<Map<String, Object>> rows = new ArrayList<>();
            for (TrialRow row : trial.worthShowing()) {
                rows.add(row(
                        "pair",
                        row.first() + " / " + row.second(),
                        "was",
                        trialLeast(row.before(), "not measured"),
                        "wasState",
                        row.before().map(r -> r.state().word()).orElse(""),
                        "is",
                        trialLeast(row.after(), "gone"),
                        "isState",
                        row.after().map(r -> r.state().word()).orElse(""),
                        "asked",
                        row.after().or(row::before).map(this::asked).orElse(""),
                        "turn",
                        row.turn(trial.knownToMm()).word()));
            }
            trials.add(row(
                    "name",
                    trial.trial().name(),
                    "changes",
                    ChangeText.of(trial.trial(), format),
                    "rows",
                    rows,
                    "anyRows",
                    !rows.isEmpty()));
        }
        put(page, "trials", trials);
    }

    private String trialLeast(Optional<GapRow> row, String otherwise) {
        return row.map(r -> Report.isNear(r)
                        ? wording.gap(r.least().found().distanceMm())
                        : "over " + wording.gap(report.gaps().watchMm()))
                .orElse(otherwise);
    }

    private void points(Map<String, Object> page) {
        Map<String, SurveyReport.PointLine> doubts = new HashMap<>();
        report.survey().ifPresent(survey -> survey.points().forEach(line -> doubts.put(line.name(), line)));
        List<Map<String, Object>> rows = new ArrayList<>();
        for (Car.Point point : car.points()) {
            String note = point.mirrorOf().map(of -> "mirror image of " + of).orElse("");
            SurveyReport.PointLine line = doubts.get(point.name());
            rows.add(row(
                    "name",
                    point.name(),
                    "ahead",
                    format.bare(point.at().x()),
                    "left",
                    format.bare(point.at().y()),
                    "above",
                    format.bare(point.at().z()),
                    "within",
                    line == null ? within(point.withinMm()) : doubt(line),
                    "note",
                    point.note()
                            .map(words -> note.isEmpty() ? words : note + "; " + words)
                            .orElse(note)));
        }
        put(page, "points", rows);
        page.put("datum", car.datum().map(text -> "Datum: " + text + ".").orElse(""));
        List<Map<String, Object>> readings = new ArrayList<>();
        List<Map<String, Object>> suspects = new ArrayList<>();
        report.survey().ifPresent(survey -> {
            for (ReadingResult reading : survey.readings()) {
                if (reading.standing() == ReadingResult.Standing.UNCHECKED) {
                    continue;
                }
                readings.add(row(
                        "reading",
                        SurveyWords.label(reading.reading(), reading.part()),
                        "read",
                        SurveyWords.value(reading.reads(), reading.quantity(), format),
                        "residual",
                        SurveyWords.small(reading.residual(), reading.quantity(), format.unit()),
                        "standing",
                        reading.standing() == ReadingResult.Standing.AGREES ? "agrees" : "left out: does not agree"));
            }
            for (Suspect suspect : survey.suspects()) {
                suspects.add(row("words", SurveyWords.accused(suspect.first(), format)));
            }
        });
        long unchecked =
                report.survey().map(survey -> (long) survey.unchecked().size()).orElse(0L);
        page.put("anyUnchecked", unchecked > 0);
        page.put(
                "unchecked",
                unchecked == 1
                        ? "Nothing checks one of the numbers: a slip in it would go unseen."
                        : "Nothing checks " + unchecked + " of the numbers: a slip in one of them would go unseen.");
        put(page, "readings", readings);
        put(page, "suspects", suspects);
    }

    /** The widest of a point's three doubts, rounded up. */
    private String doubt(SurveyReport.PointLine line) {
        double widest = Math.max(line.forward95Mm(), Math.max(line.left95Mm(), line.up95Mm()));
        return Double.isInfinite(widest) ? "not fixed" : within(widest);
    }

    private String within(double mm) {
        LengthFormat fine = report.style().inches() ? LengthFormat.THIRTY_SECONDS : LengthFormat.TENTHS_OF_MM;
        return fine.bare(fine.notBelow(mm));
    }

    private void rules(Map<String, Object> page) {
        Map<String, Integer> uses = new LinkedHashMap<>();
        Map<String, GapRow> first = new LinkedHashMap<>();
        for (GapRow row : report.gaps().rows()) {
            String key = row.rule() + asked(row);
            uses.merge(key, 1, Integer::sum);
            first.putIfAbsent(key, row);
        }
        List<Map<String, Object>> rules = new ArrayList<>();
        ruleNumbers.forEach((key, number) -> {
            GapRow example = first.get(key);
            if (example != null) {
                rules.add(row(
                        "no",
                        number,
                        "words",
                        example.rule(),
                        "least",
                        asked(example),
                        "pairs",
                        Integer.toString(uses.getOrDefault(key, 0))));
            }
        });
        page.put("rules", rules);
        put(
                page,
                "exclusions",
                car.exclusions().stream()
                        .map(e -> row("first", e.first(), "second", e.second(), "reason", e.reason()))
                        .toList());
        Map<String, Integer> reasons = new TreeMap<>();
        for (LeftOut leftOut : report.gaps().leftOut()) {
            reasons.merge(leftOut.reason(), 1, Integer::sum);
        }
        put(
                page,
                "leftOut",
                reasons.entrySet().stream()
                        .map(e -> row("reason", e.getKey(), "pairs", Integer.toString(e.getValue())))
                        .toList());
    }

    private void method(Map<String, Object> page) {
        page.put("method", ReportWords.method(report));
        page.put(
                "origin",
                List.of(
                        row("name", "program", "value", report.source().version()),
                        row("name", "car file", "value", report.source().file()),
                        row(
                                "name",
                                "SHA-256 of the car file",
                                "value",
                                report.source().sha256())));
    }
}
