package daylight.car;

import daylight.car.Complaint.Kind;
import daylight.car.YamlNode.Place;
import daylight.geometry.Spot;
import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.io.IOException;
import java.io.StringReader;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.apache.commons.csv.CSVException;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;

/**
 * The points of a car as a table for a spreadsheet, with the columns name, x, y, z, within, note: ahead of the datum
 * line, left of centre, above the floor, in the file's own unit.
 *
 * <p>A table is read with commas, semicolons or tabs between its cells (what a spreadsheet gives when cells are
 * copied), in whatever order the columns are; within and note may be missing. Cells may carry their own units.
 */
public final class PointsTable {
    private static final List<String> COLUMNS = List.of("name", "x", "y", "z", "within", "note");

    private PointsTable() {}

    /** Returns the measured points as a table with commas; lengths as decimals in the unit, to a millionth. */
    public static String write(List<Car.Point> points, Unit unit) {
        LengthFormat decimal = LengthFormat.decimals(unit, 6);
        StringBuilder table = new StringBuilder();
        CSVFormat format = CSVFormat.RFC4180.builder().setRecordSeparator("\n").get();
        table.append(format.format(COLUMNS.toArray())).append('\n');
        for (Car.Point point : points) {
            if (point.mirrorOf().isEmpty()) {
                table.append(format.format(
                                point.name(),
                                plain(decimal.bare(point.at().x())),
                                plain(decimal.bare(point.at().y())),
                                plain(decimal.bare(point.at().z())),
                                plain(decimal.bare(point.withinMm())),
                                point.note().orElse("")))
                        .append('\n');
            }
        }
        return table.toString();
    }

    private static String plain(String decimal) {
        return decimal.replaceAll("0+$", "").replaceAll("[.]$", "");
    }

    /**
     * Reads a table.
     *
     * @param name what complaints call it; their column is the number of the cell in its row
     * @param unit the unit of bare numbers
     * @param withinMm half width within which a point is trusted where the table does not say, mm
     * @throws CarFileException with every complaint, by row
     */
    public static List<Car.Point> read(String name, String text, Unit unit, double withinMm) throws CarFileException {
        Reading in = new Reading(name);
        in.setUnit(unit);
        List<Car.Point> points = new ArrayList<>();
        String plain = text.startsWith("\ufeff") ? text.substring(1) : text;
        String head = plain.lines().findFirst().orElse("");
        char between = head.indexOf('\t') >= 0 ? '\t' : head.indexOf(';') >= 0 ? ';' : ',';
        CSVFormat format = CSVFormat.RFC4180
                .builder()
                .setDelimiter(between)
                .setIgnoreEmptyLines(true)
                .setIgnoreSurroundingSpaces(true)
                .get();
        try (CSVParser parser = CSVParser.parse(new StringReader(plain), format)) {
            Map<String, Integer> columns = new HashMap<>();
            Set<String> names = new HashSet<>();
            boolean headed = false;
            for (CSVRecord row : parser) {
                // A cell may hold several lines, so the row's number is not its line.
                int line = lineOf(plain, row.getCharacterPosition());
                if (!headed) {
                    headed = true;
                    readHead(in, row, line, columns);
                    if (!in.clean(0)) {
                        break;
                    }
                } else {
                    readRow(in, row, line, columns, names, withinMm).ifPresent(points::add);
                }
            }
            if (!headed) {
                in.complain(
                        Kind.EMPTY,
                        new Place(1, 1, 0, 0),
                        "the table is empty",
                        "",
                        "Begin with the row name,x,y,z,within,note.");
            }
        } catch (CSVException | UncheckedIOException e) {
            in.complain(
                    Kind.WRONG_KIND,
                    new Place(1, 1, 0, 0),
                    "this is not a table with one kind of sign between its cells",
                    "",
                    "Close each quotation mark, or copy the cells again.");
        } catch (IOException e) {
            throw new IllegalStateException("a text in memory could not be read. Please report this.", e);
        }
        if (!in.clean(0)) {
            throw new CarFileException(in.complaints());
        }
        return points;
    }

    private static int lineOf(String text, long position) {
        return 1
                + (int) text.substring(0, (int) Math.min(position, text.length()))
                        .chars()
                        .filter(c -> c == '\n')
                        .count();
    }

    private static void readHead(Reading in, CSVRecord row, int line, Map<String, Integer> columns) {
        for (int i = 0; i < row.size(); i++) {
            String word = row.get(i).toLowerCase(Locale.ROOT);
            Place place = new Place(line, i + 1, 0, 0);
            if (word.isEmpty()) {
                continue;
            }
            if (!COLUMNS.contains(word)) {
                in.complain(
                        Kind.UNKNOWN_KEY,
                        place,
                        "the table has no column \"" + row.get(i) + "\"",
                        "",
                        Reading.nearest(word, COLUMNS).orElse("Write name, x, y, z, within or note."));
            } else if (columns.putIfAbsent(word, i) != null) {
                in.complain(Kind.TWICE, place, "the column \"" + word + "\" is here twice", "", "Keep one of them.");
            }
        }
        for (String needed : COLUMNS.subList(0, 4)) {
            if (!columns.containsKey(needed) && in.clean(0)) {
                in.complain(
                        Kind.MISSING,
                        new Place(line, 1, 0, 0),
                        "the table has no column \"" + needed + "\"",
                        "",
                        "Begin with the row name,x,y,z,within,note.");
            }
        }
    }

    private static Optional<Car.Point> readRow(
            Reading in, CSVRecord row, int line, Map<String, Integer> columns, Set<String> names, double withinMm) {
        int mark = in.mark();
        Optional<YamlNode.Scalar> name = cell(row, line, columns, "name");
        if (name.isEmpty()) {
            boolean blank = row.stream().allMatch(String::isBlank);
            if (!blank) {
                in.complain(
                        Kind.MISSING,
                        new Place(line, 1, 0, 0),
                        "the point in this row has no name",
                        "",
                        "Write one in the column name.");
            }
            return Optional.empty();
        }
        if (!names.add(name.get().text())) {
            in.complain(
                    Kind.TWICE,
                    name.get().place(),
                    "\"" + name.get().text() + "\" is here twice",
                    "",
                    "Keep one of them, or give the second another name.");
        }
        double[] at = new double[3];
        for (int i = 0; i < 3; i++) {
            String axis = COLUMNS.get(i + 1);
            at[i] = cell(row, line, columns, axis)
                    .map(node -> in.length(node, axis))
                    .orElseGet(() -> {
                        in.complain(
                                Kind.MISSING,
                                new Place(line, columns.getOrDefault(axis, 0) + 1, 0, 0),
                                name.get().text() + " has no " + axis,
                                "",
                                "Write a length in the column " + axis + ".");
                        return 0.0;
                    });
        }
        double within = cell(row, line, columns, "within")
                .map(node -> in.positive(node, "within"))
                .orElse(withinMm);
        Optional<String> note = cell(row, line, columns, "note").map(YamlNode.Scalar::text);
        return in.clean(mark)
                ? Optional.of(new Car.Point(name.get().text(), new Spot(at[0], at[1], at[2]), within, note))
                : Optional.empty();
    }

    private static Optional<YamlNode.Scalar> cell(
            CSVRecord row, int line, Map<String, Integer> columns, String column) {
        Integer index = columns.get(column);
        if (index == null || index >= row.size() || row.get(index).isBlank()) {
            return Optional.empty();
        }
        return Optional.of(new YamlNode.Scalar(
                new Place(line, index + 1, 0, 0), row.get(index).strip(), false));
    }
}
