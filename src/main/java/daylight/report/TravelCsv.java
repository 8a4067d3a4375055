package daylight.report;

import daylight.motion.Curve;
import daylight.motion.TravelReport;
import daylight.motion.TravelTable;
import java.io.IOException;
import java.io.StringWriter;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;

/** Wheel geometry for a spreadsheet: one row a position, one column a quantity, numbers as decimals. */
public final class TravelCsv {
    private TravelCsv() {}

    /**
     * Returns all tables as one CSV text (RFC 4180, a heading row, CRLF line ends). A quantity that a table does not
     * have is empty in its rows.
     *
     * @param inches whether lengths are in inches (else in mm)
     */
    public static String of(TravelReport report, boolean inches) {
        TravelUnits units = new TravelUnits(inches);
        Map<String, Integer> columns = new LinkedHashMap<>();
        List<String> heading = new ArrayList<>(List.of("of", "movement"));
        for (TravelTable table : report.tables()) {
            heading(table.along(), units, columns, heading);
        }
        for (TravelTable table : report.tables()) {
            table.curves().forEach(curve -> heading(curve, units, columns, heading));
        }
        StringWriter text = new StringWriter();
        try (CSVPrinter csv = new CSVPrinter(text, CSVFormat.RFC4180)) {
            csv.printRecord(heading);
            for (TravelTable table : report.tables()) {
                rows(csv, table, units, columns, heading.size());
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
        return text.toString();
    }

    private static void heading(Curve curve, TravelUnits units, Map<String, Integer> columns, List<String> heading) {
        String name = name(curve, units);
        if (columns.putIfAbsent(name, heading.size()) == null) {
            heading.add(name);
        }
    }

    private static String name(Curve curve, TravelUnits units) {
        String unit = units.unit(curve.quantity());
        return unit.isEmpty() ? curve.name() : curve.name() + " (" + unit + ")";
    }

    private static void rows(
            CSVPrinter csv, TravelTable table, TravelUnits units, Map<String, Integer> columns, int width)
            throws IOException {
        for (int row = 0; row < table.along().values().size(); row++) {
            String[] cells = new String[width];
            java.util.Arrays.fill(cells, "");
            cells[0] = GapCsv.safe(table.subject());
            cells[1] = table.movement();
            cells[columns.getOrDefault(name(table.along(), units), 0)] = units.precise(table.along(), row);
            for (Curve curve : table.curves()) {
                cells[columns.getOrDefault(name(curve, units), 0)] = units.precise(curve, row);
            }
            csv.printRecord((Object[]) cells);
        }
    }
}
