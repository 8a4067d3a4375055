package daylight.report;

import daylight.geometry.Spot;
import daylight.survey.Equation.Quantity;
import daylight.survey.ReadingResult;
import daylight.survey.SurveyReport;
import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.util.Locale;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;

/**
 * What the survey says, for a spreadsheet: a row for each coordinate of a point and for each number read. Lengths as
 * decimals in the unit asked for, angles in degrees; an empty cell where nothing is known.
 */
public final class MeasureCsv {
    private static final int INCH_PLACES = 4;
    private static final int MM_PLACES = 2;

    private MeasureCsv() {}

    /** Returns the table with a heading. */
    public static String of(SurveyReport report, boolean inches) {
        LengthFormat format = inches
                ? LengthFormat.decimals(Unit.INCH, INCH_PLACES)
                : LengthFormat.decimals(Unit.MILLIMETRE, MM_PLACES);
        StringWriter text = new StringWriter();
        CSVFormat csv = CSVFormat.RFC4180.builder().setRecordSeparator("\n").get();
        try (CSVPrinter printer = new CSVPrinter(text, csv)) {
            printer.printRecord(
                    "kind", "name", "number", "reads", "fits", "off", "times u", "checked", "within 95 %", "standing");
            for (SurveyReport.PointLine point : report.points()) {
                Spot at = point.at();
                point(printer, format, point.name(), "ahead", at.x(), point.forward95Mm());
                point(printer, format, point.name(), "left", at.y(), point.left95Mm());
                point(printer, format, point.name(), "up", at.z(), point.up95Mm());
            }
            for (ReadingResult reading : report.readings()) {
                printer.printRecord(
                        "reading",
                        GapCsv.safe(reading.reading()),
                        GapCsv.safe(reading.part()),
                        number(format, reading.reads(), reading.quantity()),
                        number(format, reading.adjusted(), reading.quantity()),
                        number(format, reading.reads() - reading.adjusted(), reading.quantity()),
                        String.format(Locale.ROOT, "%.2f", Math.abs(reading.standardised())),
                        String.format(Locale.ROOT, "%.2f", reading.redundancy()),
                        "",
                        word(reading.standing()));
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return text.toString();
    }

    private static void point(
            CSVPrinter printer, LengthFormat format, String name, String axis, double mm, double within)
            throws IOException {
        printer.printRecord(
                "point",
                GapCsv.safe(name),
                axis,
                "",
                format.bare(mm),
                "",
                "",
                "",
                Double.isFinite(within) ? format.bare(within) : "",
                Double.isFinite(within) ? "fixed" : "not fixed");
    }

    private static String number(LengthFormat format, double value, Quantity quantity) {
        return quantity == Quantity.ANGLE
                ? String.format(Locale.ROOT, "%.3f", Math.toDegrees(value))
                : format.bare(value);
    }

    /** Returns the word for what the survey made of a reading. */
    static String word(ReadingResult.Standing standing) {
        return switch (standing) {
            case AGREES -> "agrees";
            case UNCHECKED -> "unchecked";
            case SET_ASIDE -> "wrong";
        };
    }
}
