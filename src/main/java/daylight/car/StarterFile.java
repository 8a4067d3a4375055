package daylight.car;

import daylight.geometry.Spot;
import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;

/**
 * A car file to begin with: every point of the wanted layouts, each with how to measure it, filled with the figures of
 * the layouts' worked examples. It reads without complaint as it is.
 */
public final class StarterFile {
    private static final LengthFormat MM = LengthFormat.exact(Unit.MILLIMETRE);

    /** Figures of the comment that shows how limits are written. */
    private static final double SAMPLE_GAP_MM = 38.1;

    private static final double SAMPLE_CLOSED_MM = 304.8;
    private static final double SAMPLE_OPEN_MM = 482.6;

    private final boolean inches;
    private final StringBuilder text = new StringBuilder();

    /**
     * A mechanism to begin with.
     *
     * @param name what it is called in the car file, for example {@code front left}
     * @param layout its layout
     */
    public record Wanted(String name, Layout layout) {
        public Wanted {
            if (!name.matches("[\\p{L}\\p{N}][\\p{L}\\p{N} _-]*")) {
                throw new IllegalArgumentException(
                        "a mechanism's name is letters, digits and spaces: \"" + name + "\"");
            }
        }

        /**
         * Returns the mechanism that a bare layout makes: {@code left double-a-arm-rack} for one that has a mirror
         * image, {@code live axle leaf} for one that has both sides.
         */
        public static Wanted of(Layout layout) {
            return new Wanted(
                    layout.mirrors() ? "left " + layout.name() : layout.name().replace('-', ' '), layout);
        }

        /** Returns the name of its mirror image; the same name if it says no side. */
        String otherSide() {
            return Sides.otherName(name);
        }
    }

    private StarterFile(boolean inches) {
        this.inches = inches;
    }

    /**
     * Returns the text of the file.
     *
     * @param wanted at least one mechanism; no two of one name
     * @param inches whether its numbers are inches and sixteenths (else millimetres)
     * @throws IllegalArgumentException if two have one name
     */
    public static String of(List<Wanted> wanted, boolean inches) {
        Set<String> names = new LinkedHashSet<>();
        for (Wanted one : wanted) {
            if (!names.add(one.name()) || (one.layout().mirrors() && !names.add(one.otherSide() + " "))) {
                throw new IllegalArgumentException("two mechanisms are called \"" + one.name() + "\"");
            }
        }
        StarterFile file = new StarterFile(inches);
        file.write(wanted);
        return file.text.toString();
    }

    private void write(List<Wanted> wanted) {
        line("# A car file to begin with. Every length below is from a worked example and invented:");
        line("# put your own readings in its place, then run: daylight travel THIS-FILE");
        line("daylight: 1");
        line("car: My car                  # what you call it");
        line("units: " + (inches ? "in" : "mm")
                + "                    # of bare numbers; any length may say its own: 14 3/8 in, 365.1 mm");
        line("datum: floor plane; body centreline; front axle line   # what you measured from");
        line("within: " + (inches ? "1/16" : "2   ")
                + "                 # how good a measurement is unless it says otherwise");
        line("");
        line("# Everything at ride height: level floor, straight ahead, usual load.");
        line("# [ahead of the datum line, left of the body centreline, above the floor]");
        line("points:");
        for (Wanted one : wanted) {
            points(one);
        }
        line("");
        line("# What moves, and how far from ride height.");
        line("mechanisms:");
        for (Wanted one : wanted) {
            mechanism(one);
        }
        line("");
        line(
                "# What may touch comes under parts: (tubes, boxes, plates, tyres). A tyre also tells travel where the ground is:");
        for (Wanted one : wanted) {
            tyres(one);
        }
    }

    private void line(String words) {
        text.append(words.stripTrailing()).append('\n');
    }

    private void points(Wanted one) {
        line("  # " + one.layout().title());
        int width = one.layout().points().stream()
                .mapToInt(point -> point.name().length())
                .max()
                .orElse(0);
        for (Layout.MeasuredPoint point : one.layout().points()) {
            Spot at = one.layout().example().points().get(point.name());
            String name = one.name() + " " + point.name() + ":"
                    + " ".repeat(width - point.name().length() + 1);
            String place =
                    at == null ? "[0, 0, 0]" : "[" + bare(at.x()) + ", " + bare(at.y()) + ", " + bare(at.z()) + "]";
            String note = "   # " + (point.optional() ? "(may be left out) " : "") + point.measure();
            line((at == null ? "  # " : "  ") + name + place + note);
        }
    }

    private String bare(double mm) {
        return inches ? LengthFormat.SIXTEENTHS.bare(mm) : MM.bare(mm);
    }

    private void mechanism(Wanted one) {
        Layout layout = one.layout();
        List<String> keys = new ArrayList<>(List.of("layout: " + layout.name()));
        layout.carriers().forEach(carrier -> {
            if (keys.size() == 1) {
                keys.add("on: {" + String.join(": chassis, ", layout.carriers()) + ": chassis}");
            }
        });
        for (Map.Entry<String, Boolean> limit : layout.limits().entrySet()) {
            double value = layout.example().limits().getOrDefault(limit.getKey(), 0.0);
            keys.add(limit.getKey() + ": "
                    + (limit.getValue() ? String.format(Locale.ROOT, "%.1f deg", Math.toDegrees(value)) : bare(value)));
        }
        line("  # " + layout.note());
        if (!layout.carriers().isEmpty()) {
            line("  # on: says which bodies carry it; write another mechanism's, such as front left lower arm.");
        }
        if (!layout.optionalLimits().isEmpty()) {
            line("  # It may also say " + String.join(": and ", layout.optionalLimits()) + ": (between the eyes).");
        }
        if (layout.readouts().stream().anyMatch(readout -> readout instanceof LayoutReadout.Wheel)) {
            String body = layout.bodies().get(0);
            line("  # It may also say what really ends its travel:");
            line("  #   limits: [{bump stop: NAME, from: [" + body + ", POINT], to: [chassis, POINT], gap: "
                    + bare(SAMPLE_GAP_MM) + "},");
            line("  #     {shock: NAME, from: [" + body + ", POINT], to: [chassis, POINT], closed: "
                    + bare(SAMPLE_CLOSED_MM) + ", open: " + bare(SAMPLE_OPEN_MM) + "}]");
        }
        line("  " + one.name() + ": {" + String.join(", ", keys) + "}");
        if (layout.mirrors() && !one.otherSide().equals(one.name())) {
            line("  " + one.otherSide() + ": {mirror: " + one.name() + "}");
        }
    }

    private void tyres(Wanted one) {
        for (LayoutReadout readout : one.layout().readouts()) {
            if (readout instanceof LayoutReadout.Wheel wheel) {
                line("#   " + one.name() + " tyre: {on: " + one.name() + " " + wheel.body()
                        + ", tyre: {size: 205/70R15, rim width: 7 in, backspacing: 4 in, centre: " + one.name() + " "
                        + wheel.centre() + "}}");
            }
        }
    }
}
