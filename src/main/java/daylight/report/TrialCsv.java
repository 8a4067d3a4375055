package daylight.report;

import daylight.clearance.GapRow;
import daylight.trim.TrialRow;
import daylight.trim.TrialTable;
import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.util.Optional;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;

/** A trial beside the car as it is for a spreadsheet: one row a pair, lengths as decimals of the car's own unit. */
public final class TrialCsv {
    private TrialCsv() {}

    /** Returns the table as CSV text (RFC 4180, a heading row, CRLF line ends). */
    public static String of(TrialTable table, boolean inches) {
        LengthFormat format = LengthFormat.decimals(inches ? Unit.INCH : Unit.MILLIMETRE, inches ? 4 : 2);
        Wording wording = Wording.in(LengthFormat.usual(inches ? Unit.INCH : Unit.MILLIMETRE));
        String unit = inches ? " (in)" : " (mm)";
        StringWriter text = new StringWriter();
        try (CSVPrinter csv = new CSVPrinter(text, CSVFormat.RFC4180)) {
            csv.printRecord(
                    "turn",
                    "first",
                    "second",
                    "state before",
                    "state",
                    "least gap before" + unit,
                    "least gap" + unit,
                    "floor" + unit,
                    "required" + unit,
                    "margin" + unit,
                    "at",
                    "proof");
            for (TrialRow row : table.rows()) {
                Optional<GapRow> after = row.after();
                csv.printRecord(
                        row.turn(table.knownToMm()).word(),
                        GapCsv.safe(row.first()),
                        GapCsv.safe(row.second()),
                        row.before().map(r -> r.state().word()).orElse(""),
                        after.map(r -> r.state().word()).orElse(""),
                        row.before()
                                .map(r -> format.bare(r.least().found().distanceMm()))
                                .orElse(""),
                        after.map(r -> format.bare(r.least().found().distanceMm()))
                                .orElse(""),
                        after.map(r -> r.least().floorMm())
                                .filter(Double::isFinite)
                                .map(format::bare)
                                .orElse(""),
                        after.map(r -> format.bare(r.requiredMm())).orElse(""),
                        after.map(r -> format.bare(r.marginMm())).orElse(""),
                        after.map(r -> GapCsv.safe(wording.position(r.least().where())))
                                .orElse(""),
                        after.map(r -> Wording.proof(r.least().proof())).orElse(""));
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return text.toString();
    }
}
