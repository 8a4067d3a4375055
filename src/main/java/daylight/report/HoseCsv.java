package daylight.report;

import daylight.hose.HoseReport;
import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.util.List;
import java.util.Locale;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;

/** The flexible lines for a spreadsheet: one row for each, and one for each stock length tried. */
public final class HoseCsv {
    /** A cell that starts like this would be taken for a formula by a spreadsheet. */
    private static final String FORMULA_STARTS = "=+-@\t\r";

    private HoseCsv() {}

    /** Returns the reports as CSV text (RFC 4180, a heading row, CRLF line ends). */
    public static String of(List<HoseReport> reports, boolean inches) {
        LengthFormat format = LengthFormat.decimals(inches ? Unit.INCH : Unit.MILLIMETRE, inches ? 4 : 2);
        Wording wording = Wording.in(LengthFormat.usual(inches ? Unit.INCH : Unit.MILLIMETRE));
        String unit = inches ? " (in)" : " (mm)";
        StringWriter text = new StringWriter();
        try (CSVPrinter csv = new CSVPrinter(text, CSVFormat.RFC4180)) {
            csv.printRecord(
                    "hose",
                    "length",
                    "free length" + unit,
                    "verdict",
                    "slack floor" + unit,
                    "least slack at",
                    "tightest radius" + unit,
                    "tightest at",
                    "allowed radius" + unit,
                    "twist (deg)",
                    "nearest part",
                    "least gap" + unit,
                    "required" + unit,
                    "slack proof");
            for (HoseReport report : reports) {
                HoseReport.Stock asFitted = new HoseReport.Stock(
                        report.hose().freeLengthMm(),
                        report.troubles(),
                        report.slack().floorMm(),
                        report.bend().tightestRadiusMm(),
                        report.twist().greatestRad(),
                        report.touches().stream().findFirst());
                row(
                        csv,
                        report,
                        "fitted",
                        asFitted,
                        format,
                        safe(wording.position(report.slack().where())),
                        safe(wording.position(report.bend().where())));
                for (HoseReport.Stock stock : report.stock()) {
                    row(csv, report, "stock", stock, format, "", "");
                }
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return text.toString();
    }

    private static void row(
            CSVPrinter csv,
            HoseReport report,
            String which,
            HoseReport.Stock line,
            LengthFormat format,
            String slackAt,
            String bendAt)
            throws IOException {
        csv.printRecord(
                safe(report.hose().name()),
                which,
                format.bare(line.lengthMm()),
                line.troubles().isEmpty() ? "reaches" : line.troubles().get(0).word(),
                Double.isFinite(line.slackFloorMm()) ? format.bare(line.slackFloorMm()) : "",
                slackAt,
                Double.isFinite(line.tightestRadiusMm()) ? format.bare(line.tightestRadiusMm()) : "",
                bendAt,
                format.bare(report.bend().limitMm()),
                String.format(Locale.ROOT, "%.1f", Math.toDegrees(line.twistRad())),
                line.nearest().map(near -> safe(near.part())).orElse(""),
                line.nearest().map(near -> format.bare(near.gapMm())).orElse(""),
                line.nearest().map(near -> format.bare(near.requiredMm())).orElse(""),
                report.slack().unproved().isEmpty()
                        ? "proved"
                        : "unproved: " + report.slack().unproved());
    }

    /** Keeps a name from being read as a formula. */
    private static String safe(String text) {
        return !text.isEmpty() && FORMULA_STARTS.indexOf(text.charAt(0)) >= 0 ? "'" + text : text;
    }
}
