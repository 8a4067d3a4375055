package daylight.report;

import daylight.motion.Curve;
import daylight.motion.Quantity;
import daylight.motion.TravelTable;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalDouble;

/**
 * The curves of one table as an SVG picture that can be read alone: a panel per quantity, left and right wheel in one
 * panel, zero lines, ticks at round numbers, ride height marked.
 */
public final class TravelSvg {
    static final int COLUMNS = 3;
    private static final int PANEL_WIDTH = 320;
    private static final int PANEL_HEIGHT = 240;
    private static final int MARGIN = 24;
    private static final int HEAD = 78;
    private static final int FOOT = 34;
    /** Inside a panel: room for the title, the numbers at the left, the numbers below. */
    private static final int TOP = 34;

    private static final int LEFT = 58;
    private static final int RIGHT = 14;
    private static final int BOTTOM = 50;
    private static final int TICKS = 5;
    /** Okabe-Ito: blue and vermillion; the second line is dashed too. */
    private static final String FIRST = "#0072B2";

    private static final String SECOND = "#D55E00";

    private final TravelTable table;
    private final TravelUnits units;
    private final StringBuilder svg = new StringBuilder();

    /** One or two curves in one panel. */
    private record Panel(String title, List<Curve> curves) {}

    private TravelSvg(TravelTable table, boolean inches) {
        this.table = table;
        this.units = new TravelUnits(inches);
    }

    /**
     * Returns the picture.
     *
     * @param car the car's name, for the title
     * @param inches whether lengths are in inches (else in mm)
     */
    public static String of(String car, TravelTable table, boolean inches) {
        TravelSvg svg = new TravelSvg(table, inches);
        return svg.picture(car, svg.panels());
    }

    /** Returns a file name for a table, without folder: {@code front-left-wheel-over-its-travel.svg}. */
    public static String fileName(TravelTable table) {
        String movement = table.movement().split(",", 2)[0];
        String words = (table.subject() + " " + movement).toLowerCase(Locale.ROOT);
        return words.replaceAll("[^\\p{L}\\p{N}]+", "-").replaceAll("^-|-$", "") + ".svg";
    }

    /**
     * Returns the same in several pictures where it has many panels, so that each fits on a sheet.
     *
     * @param most panels of one picture, at least 1
     */
    static List<String> sheets(String car, TravelTable table, boolean inches, int most) {
        List<Panel> panels = new TravelSvg(table, inches).panels();
        List<String> sheets = new ArrayList<>();
        int count = (panels.size() + most - 1) / most;
        // Whole rows, about as many on each sheet.
        int each = count == 0 ? 1 : (panels.size() + count * COLUMNS - 1) / (count * COLUMNS) * COLUMNS;
        for (int from = 0; from < panels.size(); from += each) {
            TravelSvg sheet = new TravelSvg(table, inches);
            sheets.add(sheet.picture(car, panels.subList(from, Math.min(panels.size(), from + each))));
        }
        return sheets;
    }

    /** Returns how many panels side by side a picture has. */
    static int columns(String svg) {
        int from = svg.indexOf(" width=\"") + " width=\"".length();
        int width = Integer.parseInt(svg.substring(from, svg.indexOf('"', from)));
        return (width - 2 * MARGIN) / PANEL_WIDTH;
    }

    private String picture(String car, List<Panel> panels) {
        int rows = (panels.size() + COLUMNS - 1) / COLUMNS;
        int columns = Math.min(COLUMNS, panels.size());
        int width = 2 * MARGIN + columns * PANEL_WIDTH;
        int height = HEAD + rows * PANEL_HEIGHT + FOOT;
        svg.append(String.format(
                Locale.ROOT,
                "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%d\" height=\"%d\" viewBox=\"0 0 %d %d\""
                        + " font-family=\"sans-serif\" font-size=\"12\" fill=\"#222\">\n",
                width,
                height,
                width,
                height));
        String title = car + ": " + table.subject();
        svg.append("<title>").append(escaped(title + ", " + table.movement())).append("</title>\n");
        svg.append("<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n");
        text(MARGIN, 32, "start", 18, "#222", title);
        text(
                MARGIN,
                54,
                "start",
                13,
                "#555",
                table.movement() + "; across: "
                        + withUnit(table.along().name(), table.along().quantity()) + ", "
                        + table.along().meaning());
        for (int k = 0; k < panels.size(); k++) {
            panel(panels.get(k), MARGIN + (k % COLUMNS) * PANEL_WIDTH, HEAD + (k / COLUMNS) * PANEL_HEIGHT);
        }
        text(MARGIN, height - 14, "start", 11, "#555", "Signs by ISO 8855. Geometry, not strength.");
        return svg.append("</svg>\n").toString();
    }

    private List<Panel> panels() {
        Map<String, List<Curve>> byName = new LinkedHashMap<>();
        for (Curve curve : table.curves()) {
            String name = curve.name();
            String shared = isOfASide(name) ? name.substring(name.indexOf(' ') + 1) : name;
            byName.computeIfAbsent(shared + "\n" + curve.quantity(), k -> new ArrayList<>())
                    .add(curve);
        }
        List<Panel> panels = new ArrayList<>();
        byName.forEach((key, curves) -> panels.add(new Panel(key.substring(0, key.indexOf('\n')), curves)));
        return panels;
    }

    /** Whether a curve is of one side and there is one of the other. */
    private boolean isOfASide(String name) {
        String other = name.startsWith("left ")
                ? "right " + name.substring("left ".length())
                : name.startsWith("right ") ? "left " + name.substring("right ".length()) : "";
        return table.curves().stream().anyMatch(curve -> curve.name().equals(other));
    }

    private String withUnit(String name, Quantity quantity) {
        String unit = units.unit(quantity);
        return unit.isEmpty() ? name : name + " (" + unit + ")";
    }

    private void panel(Panel panel, int x0, int y0) {
        Quantity quantity = panel.curves().get(0).quantity();
        Curve along = table.along();
        Scale across = Scale.over(values(along), 0, false);
        List<Double> all = new ArrayList<>();
        panel.curves().forEach(curve -> all.addAll(values(curve)));
        Scale up = Scale.over(all, units.in(quantity, least(quantity)), true);
        double left = x0 + LEFT;
        double right = x0 + PANEL_WIDTH - RIGHT;
        double top = y0 + TOP;
        double bottom = y0 + PANEL_HEIGHT - BOTTOM;
        svg.append("<g><title>")
                .append(escaped(panel.curves().get(0).meaning()))
                .append("</title>\n");
        text(left, y0 + 20, "start", 13, "#222", withUnit(panel.title(), quantity));
        for (double tick : up.ticks()) {
            double y = up.at(tick, bottom, top);
            line(left, y, right, y, tick == 0 ? "#999" : "#e4e4e4", 1, "");
            text(left - 6, y + 4, "end", 11, "#555", up.print(tick));
        }
        for (double tick : across.ticks()) {
            double x = across.at(tick, left, right);
            line(x, top, x, bottom, tick == 0 ? "#999" : "#e4e4e4", 1, "");
            text(x, bottom + 15, "middle", 11, "#555", across.print(tick));
        }
        String[] colours = {FIRST, SECOND};
        for (int c = 0; c < panel.curves().size(); c++) {
            Curve curve = panel.curves().get(c);
            String dash = c == 0 ? "" : "6 3";
            polyline(curve, across, up, left, right, bottom, top, colours[c % 2], dash);
            if (panel.curves().size() > 1) {
                double from = right - 118 + 62 * c;
                double y = bottom + 31;
                line(from, y - 4, from + 18, y - 4, colours[c % 2], 2, dash);
                text(
                        from + 22,
                        y,
                        "start",
                        11,
                        "#222",
                        curve.name().substring(0, curve.name().indexOf(' ')));
            }
        }
        svg.append("</g>\n");
    }

    /**
     * Returns the least span of a scale, mm and degrees: what changes by less is drawn as flat, since no tape and no
     * level would show it.
     */
    private static double least(Quantity quantity) {
        return switch (quantity) {
            case LENGTH -> 1;
            case ANGLE -> 0.1;
            case ANGLE_PER_LENGTH -> 0.001;
            case RATIO -> 0.02;
            case PERCENT -> 2;
        };
    }

    private List<Double> values(Curve curve) {
        List<Double> values = new ArrayList<>();
        for (OptionalDouble value : curve.values()) {
            value.ifPresent(v -> values.add(units.in(curve.quantity(), v)));
        }
        return values;
    }

    private void polyline(
            Curve curve,
            Scale across,
            Scale up,
            double left,
            double right,
            double bottom,
            double top,
            String colour,
            String dash) {
        StringBuilder path = new StringBuilder();
        boolean pen = false;
        for (int k = 0; k < curve.values().size(); k++) {
            OptionalDouble value = curve.values().get(k);
            OptionalDouble at = table.along().values().get(k);
            if (value.isEmpty() || at.isEmpty()) {
                pen = false;
                continue;
            }
            double y = units.in(curve.quantity(), value.getAsDouble());
            if (!up.holds(y)) {
                pen = false;
                continue;
            }
            path.append(pen ? " L " : " M ")
                    .append(number(across.at(units.in(table.along().quantity(), at.getAsDouble()), left, right)))
                    .append(' ')
                    .append(number(up.at(y, bottom, top)));
            pen = true;
        }
        svg.append("<path d=\"")
                .append(path.toString().strip())
                .append("\" fill=\"none\" stroke=\"")
                .append(colour)
                .append("\" stroke-width=\"2\" stroke-linejoin=\"round\"")
                .append(dash.isEmpty() ? "" : " stroke-dasharray=\"" + dash + "\"")
                .append("/>\n");
    }

    private void line(double x1, double y1, double x2, double y2, String colour, int width, String dash) {
        svg.append("<line x1=\"")
                .append(number(x1))
                .append("\" y1=\"")
                .append(number(y1))
                .append("\" x2=\"")
                .append(number(x2))
                .append("\" y2=\"")
                .append(number(y2))
                .append("\" stroke=\"")
                .append(colour)
                .append("\" stroke-width=\"")
                .append(width)
                .append('"')
                .append(dash.isEmpty() ? "" : " stroke-dasharray=\"" + dash + "\"")
                .append("/>\n");
    }

    private void text(double x, double y, String anchor, int size, String colour, String words) {
        svg.append("<text x=\"")
                .append(number(x))
                .append("\" y=\"")
                .append(number(y))
                .append("\" text-anchor=\"")
                .append(anchor)
                .append("\" font-size=\"")
                .append(size)
                .append("\" fill=\"")
                .append(colour)
                .append("\">")
                .append(escaped(words))
                .append("</text>\n");
    }

    private static String number(double value) {
        return TravelUnits.decimal(value, 2);
    }

    private static String escaped(String words) {
        return words.replace("&", "&amp;")
                .replace("<", "&lt;")
                .replace(">", "&gt;")
                .replace("\"", "&quot;");
    }

    /** A scale with ticks at round numbers. */
    private record Scale(double low, double high, double step, int places) {

        /**
         * @param flat a span smaller than this is widened to it
         * @param robust whether a few far values (a swing arm on its way to infinity) may be cut off
         */
        static Scale over(List<Double> values, double flat, boolean robust) {
            List<Double> sorted = new ArrayList<>(values);
            sorted.sort(null);
            double low = sorted.get(0);
            double high = sorted.get(sorted.size() - 1);
            if (robust) {
                double q1 = sorted.get(sorted.size() / 4);
                double q3 = sorted.get(3 * (sorted.size() - 1) / 4);
                double reach = FAR * Math.max(q3 - q1, flat);
                low = Math.max(low, q1 - reach);
                high = Math.min(high, q3 + reach);
            }
            if (high - low < flat) {
                double middle = 0.5 * (low + high);
                low = middle - 0.5 * flat;
                high = middle + 0.5 * flat;
            }
            double rough = (high - low) / TICKS;
            int power = (int) Math.floor(Math.log10(rough));
            double unit = Math.pow(10, power);
            double part = rough / unit;
            double step = unit * (part <= 1 ? 1 : part <= 2 ? 2 : part <= 5 ? 5 : 10);
            int places = Math.max(0, -(int) Math.floor(Math.log10(step) + ROUNDING));
            return robust
                    ? new Scale(
                            Math.floor(low / step + ROUNDING) * step,
                            Math.ceil(high / step - ROUNDING) * step,
                            step,
                            places)
                    : new Scale(low, high, step, places);
        }

        /** Part of a step by which division may miss a whole number of steps. */
        private static final double ROUNDING = 1e-9;

        /** Values further than this many middle halves from the middle half are cut off. */
        private static final double FAR = 4;

        List<Double> ticks() {
            List<Double> ticks = new ArrayList<>();
            for (long k = (long) Math.ceil(low / step - ROUNDING); k * step <= high + ROUNDING * step; k++) {
                ticks.add(k * step);
            }
            return ticks;
        }

        boolean holds(double value) {
            return value >= low - ROUNDING * step && value <= high + ROUNDING * step;
        }

        double at(double value, double from, double to) {
            return from + (value - low) / (high - low) * (to - from);
        }

        String print(double value) {
            return TravelUnits.decimal(value, places);
        }
    }
}
