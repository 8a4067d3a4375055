package daylight.report;

import daylight.clearance.GapRow;
import daylight.trim.CutWords;
import daylight.trim.LeastCut;
import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.util.Locale;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;

/** The least cuts of a plate for a spreadsheet: one row a cut. */
public final class CutCsv {
    private CutCsv() {}

    /** Returns the cuts as CSV text (RFC 4180, a heading row, CRLF line ends). */
    public static String of(LeastCut cut, boolean inches) {
        LengthFormat format = LengthFormat.decimals(inches ? Unit.INCH : Unit.MILLIMETRE, inches ? 4 : 2);
        LengthFormat marked = CutWords.marking(inches ? Unit.INCH : Unit.MILLIMETRE);
        String unit = inches ? " (in)" : " (mm)";
        StringWriter text = new StringWriter();
        try (CSVPrinter csv = new CSVPrinter(text, CSVFormat.RFC4180)) {
            csv.printRecord(
                    "kind",
                    "marked",
                    "area off (mm2)",
                    "tightest margin after" + unit,
                    "net section (mm2)",
                    "section modulus (mm3)");
            for (LeastCut.Option option : cut.options()) {
                double margin = option.gaps().stream()
                        .mapToDouble(GapRow::marginMm)
                        .min()
                        .orElse(0);
                csv.printRecord(
                        option.kind().word(),
                        GapCsv.safe(CutWords.of(cut.plate(), option.marked(), marked)),
                        String.format(Locale.ROOT, "%.1f", option.areaMm2()),
                        format.bare(margin),
                        String.format(Locale.ROOT, "%.1f", option.metal().netSectionMm2()),
                        String.format(Locale.ROOT, "%.1f", option.metal().sectionModulusMm3()));
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return text.toString();
    }
}
