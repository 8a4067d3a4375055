package daylight.report;

import daylight.car.RuleList;
import daylight.inspection.InspectionReport;
import daylight.inspection.InspectionReport.Amount;
import daylight.inspection.InspectionReport.Finding;
import daylight.inspection.InspectionReport.Place;
import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.util.Locale;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;

/** An inspection for a spreadsheet: one row a place of a finding, or one a finding without places. */
public final class InspectionCsv {
    private InspectionCsv() {}

    /** Returns the inspection as CSV text (RFC 4180, a heading row, CRLF line ends). */
    public static String of(InspectionReport report, boolean inches) {
        LengthFormat format = LengthFormat.decimals(inches ? Unit.INCH : Unit.MILLIMETRE, inches ? 4 : 2);
        String unit = inches ? " (in)" : " (mm)";
        StringWriter text = new StringWriter();
        try (CSVPrinter csv = new CSVPrinter(text, CSVFormat.RFC4180)) {
            csv.printRecord(
                    "verdict",
                    "station",
                    "what",
                    "found" + unit,
                    "asked" + unit,
                    "why",
                    "part",
                    "figure" + unit,
                    "ahead" + unit,
                    "left" + unit,
                    "up" + unit,
                    "when",
                    "rule list",
                    "clause",
                    "source",
                    "date",
                    "mark");
            for (Finding finding : report.findings()) {
                if (finding.places().isEmpty()) {
                    csv.printRecord(row(finding, format, "", "", "", "", "", ""));
                }
                for (Place place : finding.places()) {
                    csv.printRecord(row(
                            finding,
                            format,
                            GapCsv.safe(place.part()),
                            format.bare(place.mm()),
                            format.bare(place.at().x()),
                            format.bare(place.at().y()),
                            format.bare(place.at().z()),
                            place.when().isEmpty() ? "ride height" : GapCsv.safe(place.when())));
                }
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return text.toString();
    }

    private static Object[] row(
            Finding finding,
            LengthFormat format,
            String part,
            String figure,
            String ahead,
            String left,
            String up,
            String when) {
        return new Object[] {
            finding.verdict().word(),
            finding.station().word(),
            GapCsv.safe(finding.what()),
            finding.found().map(amount -> amount(amount, format)).orElse(""),
            finding.asked().map(amount -> amount(amount, format)).orElse(""),
            GapCsv.safe(finding.why()),
            part,
            figure,
            ahead,
            left,
            up,
            when,
            GapCsv.safe(finding.rule().list()),
            GapCsv.safe(finding.rule().clause()),
            GapCsv.safe(finding.rule().source()),
            GapCsv.safe(finding.rule().date()),
            GapCsv.safe(finding.rule().mark())
        };
    }

    private static String amount(Amount amount, LengthFormat format) {
        return amount.kind() == RuleList.Figure.LENGTH
                ? format.bare(amount.value())
                : String.format(
                        Locale.ROOT,
                        "%.4f",
                        amount.kind() == RuleList.Figure.ANGLE ? Math.toDegrees(amount.value()) : amount.value());
    }
}
