package daylight.report;

import daylight.clearance.GapDoubts;
import daylight.clearance.GapRow;
import daylight.clearance.GapTable;
import daylight.clearance.Onset;
import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;

/** The table of gaps for a spreadsheet: one row a pair, lengths as decimals of the car's own unit. */
public final class GapCsv {
    /** A cell that starts like this would be taken for a formula by a spreadsheet. */
    private static final String FORMULA_STARTS = "=+-@\t\r";

    private GapCsv() {}

    /** Returns the table as CSV text (RFC 4180, a heading row, CRLF line ends). */
    public static String of(GapTable table, boolean inches) {
        return of(table, Optional.empty(), inches);
    }

    /** Returns the table with how sure each gap is in two more columns, where that is known. */
    public static String of(GapTable table, Optional<GapDoubts> doubts, boolean inches) {
        LengthFormat format = LengthFormat.decimals(inches ? Unit.INCH : Unit.MILLIMETRE, inches ? 4 : 2);
        Wording wording = Wording.in(LengthFormat.usual(inches ? Unit.INCH : Unit.MILLIMETRE));
        String unit = inches ? " (in)" : " (mm)";
        StringWriter text = new StringWriter();
        try (CSVPrinter csv = new CSVPrinter(text, CSVFormat.RFC4180)) {
            List<String> heading = new ArrayList<>(List.of(
                    "state",
                    "first",
                    "second",
                    "gap at ride height" + unit,
                    "least gap" + unit,
                    "floor" + unit,
                    "required" + unit,
                    "margin" + unit,
                    "at",
                    "touches from",
                    "below rule from",
                    "rule",
                    "proof"));
            if (doubts.isPresent()) {
                heading.add("within 95 %" + unit);
                heading.add("chance of touching");
            }
            csv.printRecord(heading);
            for (GapRow row : table.rows()) {
                List<String> cells = new ArrayList<>(List.of(
                        row.state().word(),
                        safe(row.first()),
                        safe(row.second()),
                        format.bare(row.atRideHeight().distanceMm()),
                        format.bare(row.least().found().distanceMm()),
                        Double.isFinite(row.least().floorMm())
                                ? format.bare(row.least().floorMm())
                                : "",
                        format.bare(row.requiredMm()),
                        format.bare(row.marginMm()),
                        safe(wording.position(row.least().where())),
                        onset(wording, row.touches()),
                        onset(wording, row.belowRule()),
                        safe(row.rule()),
                        Wording.proof(row.least().proof())));
                if (doubts.isPresent()) {
                    Optional<GapDoubts.Row> doubt = doubts.get().of(row.first(), row.second());
                    cells.add(doubt.map(d -> format.bare(d.halfWidth95Mm())).orElse(""));
                    cells.add(doubt.map(d ->
                                    String.format(Locale.ROOT, "%.4f", d.doubt().chanceOfTouching()))
                            .orElse(""));
                }
                csv.printRecord(cells);
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return text.toString();
    }

    private static String onset(Wording wording, Optional<Onset> onset) {
        return onset.map(at -> safe(wording.position(at.at()))).orElse("");
    }

    /** Keeps a name from being read as a formula. */
    static String safe(String text) {
        return !text.isEmpty() && FORMULA_STARTS.indexOf(text.charAt(0)) >= 0 ? "'" + text : text;
    }
}
