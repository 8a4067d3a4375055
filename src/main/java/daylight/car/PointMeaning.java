package daylight.car;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * What a point of a car is to its mechanism: where on the layout's picture it is, and how it is measured.
 *
 * @param mechanism the mechanism's name in the car file
 * @param layout the mechanism's layout
 * @param point the layout's own point
 */
public record PointMeaning(String mechanism, Layout layout, Layout.MeasuredPoint point) {
    private static final String MECHANISMS = "mechanisms";
    private static final String NO_PREFIX = "none";

    /**
     * Returns what the points of a car file mean, by their names there. Reads only as much of the text as names points;
     * mistakes elsewhere do not matter, and points that no mechanism uses are left out. A point that several mechanisms
     * use means what it does to the first.
     */
    public static Map<String, PointMeaning> of(CarDocument document) {
        Map<String, PointMeaning> meanings = new LinkedHashMap<>();
        for (String mechanism : document.keys(List.of(MECHANISMS))) {
            Optional<Layout> layout =
                    document.value(List.of(MECHANISMS, mechanism, "layout")).flatMap(Layouts::named);
            String prefix = document.value(List.of(MECHANISMS, mechanism, "prefix"))
                    .map(written -> written.equals(NO_PREFIX) ? "" : written + " ")
                    .orElse(mechanism + " ");
            layout.ifPresent(found -> found.points().forEach(point -> {
                String name = document.value(List.of(MECHANISMS, mechanism, "points", point.name()))
                        .orElse(prefix + point.name());
                meanings.putIfAbsent(name, new PointMeaning(mechanism, found, point));
            }));
        }
        return meanings;
    }
}
