package daylight.motion;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;

/** Collects curves row by row. A curve without a value in a row is empty there. */
final class TravelRows {
    /** A whole step nearer to an end of the travel than this share of a step has no row of its own. */
    private static final double SAME_ROW = 0.25;

    private final Map<String, Column> columns = new LinkedHashMap<>();
    private final List<Double> along = new ArrayList<>();

    private record Column(String name, String meaning, Quantity quantity, List<OptionalDouble> values) {}

    /** Begins a row. */
    void row(double at) {
        along.add(at);
    }

    void put(String name, Quantity quantity, String meaning, double value) {
        put(name, quantity, meaning, OptionalDouble.of(value));
    }

    void put(String name, Quantity quantity, String meaning, OptionalDouble value) {
        Column column = columns.computeIfAbsent(name, k -> new Column(name, meaning, quantity, new ArrayList<>()));
        while (column.values.size() < along.size() - 1) {
            column.values.add(OptionalDouble.empty());
        }
        column.values.add(value);
    }

    /** Returns the curves that have a value anywhere. */
    List<Curve> curves() {
        List<Curve> curves = new ArrayList<>();
        for (Column column : columns.values()) {
            while (column.values.size() < along.size()) {
                column.values.add(OptionalDouble.empty());
            }
            Curve curve = new Curve(column.name, column.meaning, column.quantity, column.values);
            if (curve.isKnown()) {
                curves.add(curve);
            }
        }
        return curves;
    }

    /** Returns the movement itself as a curve. */
    Curve base(String name, String meaning, Quantity quantity) {
        return new Curve(
                name, meaning, quantity, along.stream().map(OptionalDouble::of).toList());
    }

    /** Rows at whole steps, at ride height, and at both ends. */
    static List<Double> steps(double lowest, double highest, double step) {
        List<Double> rows = new ArrayList<>();
        rows.add(lowest);
        long first = (long) Math.ceil(lowest / step);
        long last = (long) Math.floor(highest / step);
        for (long k = first; k <= last; k++) {
            double at = k * step;
            if (at - lowest > SAME_ROW * step && highest - at > SAME_ROW * step) {
                rows.add(at + 0.0);
            }
        }
        if (highest > lowest) {
            rows.add(highest);
        }
        if (rows.stream().noneMatch(v -> v == 0)) {
            rows.add(0.0);
            rows.sort(null);
        }
        return rows;
    }
}
