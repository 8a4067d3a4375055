package daylight.report;

import daylight.motion.Curve;
import daylight.motion.RealRange;
import daylight.motion.TravelEnd;
import daylight.motion.TravelReport;
import daylight.motion.TravelTable;
import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** Travel for a terminal: what ends each movement, then wheel geometry in columns of plain text. */
public final class TravelText {
    /** A terminal is at least this wide; more columns go into another block below. */
    private static final int WIDTH = 100;

    private static final int GAP = 2;
    private static final String TRAVEL = " travel";

    private final TravelReport report;
    private final TravelUnits units;
    private final LengthFormat tape;
    private final boolean inches;
    private final StringBuilder text = new StringBuilder();

    TravelText(TravelReport report, boolean inches) {
        this.report = report;
        this.inches = inches;
        this.units = new TravelUnits(inches);
        this.tape = LengthFormat.usual(inches ? Unit.INCH : Unit.MILLIMETRE);
    }

    /**
     * Returns the report as text with a line feed after each line.
     *
     * @param inches whether lengths are in inches (else in mm)
     */
    public static String of(TravelReport report, boolean inches) {
        return new TravelText(report, inches).text();
    }

    private String text() {
        line(report.car() + " (lengths in " + (inches ? "inches" : "mm") + ", angles in degrees)");
        line("");
        line("Where each movement ends, everything else at ride height unless said:");
        report.ranges().forEach(range -> {
            side(range, true);
            side(range, false);
        });
        line("");
        for (TravelReport.WheelBasis wheel : report.wheels()) {
            line(wheel.wheel() + ": loaded radius " + tape.print(wheel.loadedRadiusMm()) + " (" + wheel.because()
                    + ").");
        }
        report.wheelbaseMm().ifPresent(mm -> line("Wheelbase " + tape.print(mm) + "."));
        List<TravelTable> shown = new ArrayList<>();
        for (TravelTable table : report.tables()) {
            Optional<TravelTable> twin =
                    shown.stream().filter(other -> isTwin(table, other)).findFirst();
            if (twin.isPresent()) {
                line("");
                line(capital(table.subject()) + ", " + table.movement() + ": as "
                        + twin.get().subject() + ".");
            } else {
                shown.add(table);
                table(table);
            }
        }
        line("");
        report.cautions().forEach(caution -> line("Look at: " + caution));
        line(
                "Signs: bump, toe-in, camber and caster with the top outward and rearward, left steer are positive (ISO 8855);"
                        + " --json says each.");
        line("Geometry, not strength. Never go under a car that only a jack holds.");
        return text.toString();
    }

    /** Whether two tables print the same numbers, as those of the two sides of a symmetric car do. */
    boolean isTwin(TravelTable table, TravelTable other) {
        if (!table.movement().equals(other.movement())
                || table.curves().size() != other.curves().size()) {
            return false;
        }
        for (int c = -1; c < table.curves().size(); c++) {
            Curve one = c < 0 ? table.along() : table.curves().get(c);
            Curve two = c < 0 ? other.along() : other.curves().get(c);
            if (one.quantity() != two.quantity()
                    || one.values().size() != two.values().size()) {
                return false;
            }
            for (int row = 0; row < one.values().size(); row++) {
                if (!units.print(one, row).equals(units.print(two, row))) {
                    return false;
                }
            }
        }
        return true;
    }

    private void line(String words) {
        text.append(words.stripTrailing()).append('\n');
    }

    private void side(RealRange range, boolean up) {
        TravelEnd end = up ? range.up() : range.down();
        double stated = up ? range.stated().highest() : 0.0 - range.stated().lowest();
        if (stated == 0) {
            return;
        }
        String movement = movement(range, up);
        String how = end.cause() instanceof TravelEnd.Stated
                ? "goes the stated " + amount(range, stated)
                : "ends at " + amount(range, end.at()) + " " + end.cause().words() + "; stated "
                        + amount(range, stated);
        line("  " + movement + " " + how);
    }

    /** Returns the name of a movement one way. */
    static String movement(RealRange range, boolean up) {
        String name = range.movement();
        String way = up ? range.ways().up() : range.ways().down();
        if (way.isEmpty()) {
            return name;
        }
        return name.endsWith(TRAVEL)
                ? name.substring(0, name.length() - TRAVEL.length()) + " " + way
                : name + ", " + way + ",";
    }

    String amount(RealRange range, double value) {
        return range.turns() ? TravelUnits.decimal(Math.toDegrees(value), 1) + " deg" : tape.print(value);
    }

    private void table(TravelTable table) {
        line("");
        line(capital(table.subject()) + ", " + table.movement() + ":");
        List<String[]> columns = new ArrayList<>();
        for (Curve curve : table.curves()) {
            columns.add(column(curve, table));
        }
        String[] base = base(table);
        int start = 0;
        while (start < columns.size()) {
            int width = width(base);
            int end = start;
            while (end < columns.size() && (end == start || width + GAP + width(columns.get(end)) <= WIDTH)) {
                width += GAP + width(columns.get(end));
                end++;
            }
            block(base, columns.subList(start, end));
            start = end;
            if (start < columns.size()) {
                line("");
            }
        }
    }

    private String[] base(TravelTable table) {
        int rows = table.along().values().size();
        String[] cells = new String[HEADING_LINES + 1 + rows];
        heading(cells, table.along().name(), units.unit(table.along().quantity()));
        for (int row = 0; row < rows; row++) {
            cells[HEADING_LINES + 1 + row] = units.tape(table.along(), row);
        }
        return cells;
    }

    /** A heading takes this many lines of words, and one for the unit. */
    private static final int HEADING_LINES = 3;

    private String[] column(Curve curve, TravelTable table) {
        int rows = table.along().values().size();
        String[] cells = new String[HEADING_LINES + 1 + rows];
        heading(cells, curve.name(), units.unit(curve.quantity()));
        for (int row = 0; row < rows; row++) {
            String value = units.print(curve, row);
            cells[HEADING_LINES + 1 + row] = value.isEmpty() ? "-" : value;
        }
        return cells;
    }

    /** Words over lines, the last line lowest. */
    private static void heading(String[] cells, String name, String unit) {
        List<String> lines = new ArrayList<>(List.of(name.split(" ")));
        while (lines.size() > HEADING_LINES) {
            // The two shortest neighbours share a line.
            int best = 0;
            for (int k = 0; k + 1 < lines.size(); k++) {
                if (lines.get(k).length() + lines.get(k + 1).length()
                        < lines.get(best).length() + lines.get(best + 1).length()) {
                    best = k;
                }
            }
            lines.set(best, lines.get(best) + " " + lines.remove(best + 1));
        }
        for (int k = 0; k < HEADING_LINES; k++) {
            int from = k - (HEADING_LINES - lines.size());
            cells[k] = from < 0 ? "" : lines.get(from);
        }
        cells[HEADING_LINES] = unit;
    }

    private static int width(String[] cells) {
        int width = 0;
        for (String cell : cells) {
            width = Math.max(width, cell.length());
        }
        return width;
    }

    private void block(String[] base, List<String[]> columns) {
        for (int row = 0; row < base.length; row++) {
            StringBuilder line = new StringBuilder(padded(base, row));
            for (String[] column : columns) {
                line.append(" ".repeat(GAP)).append(padded(column, row));
            }
            if (!line.toString().isBlank()) {
                line(line.toString());
            }
        }
    }

    private static String padded(String[] column, int row) {
        return " ".repeat(width(column) - column[row].length()) + column[row];
    }

    private static String capital(String words) {
        return words.isEmpty() ? words : words.substring(0, 1).toUpperCase(Locale.ROOT) + words.substring(1);
    }
}
