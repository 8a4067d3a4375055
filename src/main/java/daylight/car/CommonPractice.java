package daylight.car;

/**
 * What is taken where a car file does not say otherwise, from {@code models/common-practice.yaml}.
 *
 * @param gapMm the gap between parts that no rule names, mm
 * @param gapSource where that figure comes from
 * @param withinMm half width within which a measurement is trusted, mm
 * @param edgeDistanceTimesDiameter least distance from a hole's centre to a cut edge, in diameters of the hole
 * @param edgeDistanceSource where that figure comes from
 */
public record CommonPractice(
        double gapMm, String gapSource, double withinMm, double edgeDistanceTimesDiameter, String edgeDistanceSource) {
    private static final String FILE = "/models/common-practice.yaml";

    /**
     * Reads the figures that come with the program.
     *
     * @throws IllegalStateException if they are broken
     */
    public static CommonPractice shipped() {
        String text = Layouts.resource(FILE)
                .orElseThrow(() -> new IllegalStateException(FILE + " is missing. Please report this."));
        try {
            return read("common-practice.yaml", text);
        } catch (CarFileException e) {
            throw new IllegalStateException(
                    "a table of the program is broken; please report this: " + e.getMessage(), e);
        }
    }

    /** Reads the figures from text. */
    static CommonPractice read(String file, String text) throws CarFileException {
        Reading in = new Reading(file);
        YamlNode.Mapping root = YamlText.read(in, text).orElseThrow(() -> new CarFileException(in.complaints()));
        Fields top = Fields.of(in, root, "the table");
        top.need("common practice", "Write common practice: 1.")
                .ifPresent(node -> in.number(node, "common practice", 1, 1));
        Fields gap =
                Fields.of(in, top.need("gap between moving parts", "Add it.").orElse(root), "the gap");
        double gapMm = gap.positive("at least", "Write the gap.");
        String source = gap.text("source", "Say where it comes from.");
        gap.close();
        Fields measurement = Fields.of(in, top.need("measurement", "Add it.").orElse(root), "the measurement");
        double withinMm = measurement.positive("within", "Write how good a measurement is.");
        measurement.text("source", "Say where it comes from.");
        measurement.close();
        Fields edge = Fields.of(in, top.need("hole to edge", "Add it.").orElse(root), "hole to edge");
        double times = edge.need("times diameter", "Write how many diameters.")
                .map(node -> in.number(node, "times diameter", 0.5, 10))
                .orElse(1.0);
        String edgeSource = edge.text("source", "Say where it comes from.");
        edge.close();
        top.close();
        if (!in.clean(0)) {
            throw new CarFileException(in.complaints());
        }
        return new CommonPractice(gapMm, source, withinMm, times, edgeSource);
    }
}
