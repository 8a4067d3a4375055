package daylight.report;

import daylight.clearance.GapRow;
import daylight.motion.Handle;
import daylight.motion.Setting;
import daylight.report.Drawing.Anchor;
import daylight.report.Drawing.Pen;
import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.util.ArrayList;
import java.util.List;

/** Draws a pair's gap along one handle with its rule, and over two handles as a map with contours. */
final class PairSvg {
    static final double WIDTH = 340;
    static final double CURVE_HEIGHT = 156;
    static final double MAP_HEIGHT = 192;
    private static final double LEFT = 44;
    private static final double RIGHT = WIDTH - 10;
    private static final double TOP = 18;
    private static final double FOOT = 32;
    private static final double TEXT = 10.5;
    private static final int STEPS = 6;
    /** The curve is not drawn higher than this many times the rule above it, so that what matters has room. */
    private static final double ROOM_ABOVE_RULE = 3;

    private static final double LEAST_ROOM_MM = 12;

    private final LengthFormat format;
    private final Wording wording;

    private PairSvg(LengthFormat format) {
        this.format = format;
        this.wording = Wording.in(format);
    }

    /** Returns the picture of a curve. */
    static String curve(GapRow row, PairCurve curve, LengthFormat format) {
        return new PairSvg(format).drawn(row, curve);
    }

    /** Returns the picture of a map. */
    static String map(GapRow row, PairMap map, LengthFormat format) {
        return new PairSvg(format).drawn(row, map);
    }

    private String drawn(GapRow row, PairCurve curve) {
        double bottom = CURVE_HEIGHT - FOOT;
        double low = 0;
        double high = row.requiredMm();
        for (List<Double> gaps : List.of(curve.worstMm(), curve.restMm())) {
            for (double gap : gaps) {
                if (Double.isFinite(gap)) {
                    low = Math.min(low, gap);
                    high = Math.max(high, gap);
                }
            }
        }
        high = Math.min(high, row.requiredMm() + Math.max(LEAST_ROOM_MM, ROOM_ABOVE_RULE * row.requiredMm()));
        double margin = 0.06 * (high - low);
        Axis up = Axis.lengths(low - (low < 0 ? margin : 0), high + margin, format, STEPS - 1);
        Axis across = Axis.of(curve.handle(), format, 2 * STEPS);
        Drawing drawing = new Drawing(
                WIDTH, CURVE_HEIGHT, "Gap of " + ReportWords.pair(row) + " along " + handleName(curve.handle()));
        drawing.words(
                2, 11, Anchor.START, TEXT, Drawing.INK, "gap (" + up.unit() + ") along " + handleName(curve.handle()));
        for (double tick : up.ticks()) {
            double y = up.at(tick, bottom, TOP);
            drawing.line(LEFT, y, RIGHT, y, Pen.of(Drawing.FAINT, 0.6));
            drawing.words(LEFT - 5, y + 3.5, Anchor.END, TEXT, Drawing.QUIET, up.print(tick));
        }
        ticksBelow(drawing, across, bottom);
        drawing.open(LEFT, TOP, RIGHT - LEFT, bottom - TOP);
        line(drawing, curve.at(), curve.restMm(), across, up, bottom, new Pen(Drawing.QUIET, 1, "2 3"));
        line(drawing, curve.at(), curve.worstMm(), across, up, bottom, Pen.of(Drawing.INK, 1.8));
        drawing.close();
        double zero = up.at(0, bottom, TOP);
        drawing.line(LEFT, zero, RIGHT, zero, Pen.of(Drawing.INK, 1.2));
        if (row.requiredMm() > 0) {
            double rule = up.at(row.requiredMm(), bottom, TOP);
            drawing.line(LEFT, rule, RIGHT, rule, new Pen(Drawing.INK, 1.1, "7 3"));
            drawing.label(
                    RIGHT - 2, rule - 3, Anchor.END, TEXT, Drawing.INK, "rule " + wording.required(row.requiredMm()));
        }
        double x = across.at(curve.worst(), LEFT, RIGHT);
        double y = up.at(row.least().found().distanceMm(), bottom, TOP);
        if (y >= TOP && y <= bottom) {
            drawing.circle(x, y, 3, "#ffffff", Pen.of(Drawing.INK, 1.4));
        }
        key(drawing);
        return drawing.finished();
    }

    private static void key(Drawing drawing) {
        double y = CURVE_HEIGHT - 5;
        drawing.line(LEFT, y - 3.5, LEFT + 18, y - 3.5, Pen.of(Drawing.INK, 1.8));
        drawing.words(LEFT + 22, y, Anchor.START, TEXT - 1, Drawing.QUIET, "all else at its worst");
        drawing.line(LEFT + 140, y - 3.5, LEFT + 158, y - 3.5, new Pen(Drawing.QUIET, 1, "2 3"));
        drawing.words(LEFT + 162, y, Anchor.START, TEXT - 1, Drawing.QUIET, "all else at ride height");
    }

    private static void ticksBelow(Drawing drawing, Axis across, double bottom) {
        List<Double> ticks = across.ticks();
        double lastEnd = Double.NEGATIVE_INFINITY;
        for (double tick : ticks) {
            double x = across.at(tick, LEFT, RIGHT);
            drawing.line(x, TOP, x, bottom, Pen.of(tick == 0 ? Drawing.QUIET : Drawing.FAINT, tick == 0 ? 0.8 : 0.6));
            String words = across.print(tick);
            double half = Drawing.widthOf(words, TEXT) / 2;
            if (x - half > lastEnd + 2) {
                drawing.words(Math.min(x, WIDTH - half), bottom + 12, Anchor.MIDDLE, TEXT, Drawing.QUIET, words);
                lastEnd = x + half;
            }
        }
    }

    private static void line(
            Drawing drawing, List<Double> at, List<Double> gaps, Axis across, Axis up, double bottom, Pen pen) {
        List<Double> run = new ArrayList<>();
        for (int i = 0; i < at.size(); i++) {
            double gap = gaps.get(i);
            if (Double.isFinite(gap)) {
                run.add(across.at(at.get(i), LEFT, RIGHT));
                run.add(up.at(gap, bottom, TOP));
            }
            if (!Double.isFinite(gap) || i + 1 == at.size()) {
                drawing.path(Drawing.through(run, false), "none", pen);
                run.clear();
            }
        }
    }

    /** Returns what a handle does, with its unit and which way is which. */
    private String handleName(Handle handle) {
        if (handle.turns()) {
            return handle.name() + " (deg)";
        }
        String high = wording.setting(new Setting(handle.name(), Math.max(1, handle.highest()), false));
        String name = handle.name().endsWith(" travel") ? handle.name() : high.replaceAll(" [-\\d].*$", "");
        String way = high.substring(high.lastIndexOf(' ') + 1);
        return name + " (" + format.unit().symbol() + ", + is " + way + ")";
    }

    private String drawn(GapRow row, PairMap map) {
        double bottom = MAP_HEIGHT - FOOT;
        Axis across = Axis.of(map.across(), format, 2 * STEPS);
        Axis up = Axis.of(map.up(), format, STEPS - 1);
        Drawing drawing = new Drawing(
                WIDTH,
                MAP_HEIGHT,
                "Gap of " + ReportWords.pair(row) + " over " + handleName(map.across()) + " and "
                        + handleName(map.up()));
        drawing.words(2, 11, Anchor.START, TEXT, Drawing.INK, "up: " + handleName(map.up()));
        drawing.rectangle(LEFT, TOP, RIGHT - LEFT, bottom - TOP, "#ffffff", Pen.NONE);
        areas(drawing, map, row.requiredMm(), "#e2e2e2", bottom);
        areas(drawing, map, 0, "#a6a6a6", bottom);
        for (double tick : up.ticks()) {
            double y = up.at(tick, bottom, TOP);
            drawing.line(LEFT - 3, y, LEFT, y, Pen.of(Drawing.QUIET, 0.8));
            drawing.words(LEFT - 5, y + 3.5, Anchor.END, TEXT, Drawing.QUIET, up.print(tick));
        }
        double lastEnd = Double.NEGATIVE_INFINITY;
        for (double tick : across.ticks()) {
            double x = across.at(tick, LEFT, RIGHT);
            String words = across.print(tick);
            double half = Drawing.widthOf(words, TEXT) / 2;
            drawing.line(x, bottom, x, bottom + 3, Pen.of(Drawing.QUIET, 0.8));
            if (x - half > lastEnd + 2) {
                drawing.words(Math.min(x, WIDTH - half), bottom + 13, Anchor.MIDDLE, TEXT, Drawing.QUIET, words);
                lastEnd = x + half;
            }
        }
        contours(drawing, row, map, bottom);
        drawing.rectangle(LEFT, TOP, RIGHT - LEFT, bottom - TOP, "none", Pen.of(Drawing.QUIET, 0.8));
        double x = across.at(map.worstAcross(), LEFT, RIGHT);
        double y = up.at(map.worstUp(), bottom, TOP);
        drawing.circle(x, y, 3.2, "#ffffff", Pen.of(Drawing.INK, 1.4));
        double restX = across.at(0, LEFT, RIGHT);
        double restY = up.at(0, bottom, TOP);
        drawing.line(restX - 4, restY, restX + 4, restY, Pen.of(Drawing.INK, 1.2));
        drawing.line(restX, restY - 4, restX, restY + 4, Pen.of(Drawing.INK, 1.2));
        drawing.words(RIGHT, 11, Anchor.END, TEXT - 1, Drawing.QUIET, "ring: least, cross: ride height");
        drawing.words(RIGHT, MAP_HEIGHT - 4, Anchor.END, TEXT, Drawing.INK, "across: " + handleName(map.across()));
        return drawing.finished();
    }

    private void areas(Drawing drawing, PairMap map, double level, String fill, double bottom) {
        StringBuilder path = new StringBuilder();
        for (List<Double> area : map.below(level)) {
            path.append(path.isEmpty() ? "" : " ").append(Drawing.through(placed(area, map, bottom), true));
        }
        drawing.path(path.toString(), fill, Pen.NONE);
    }

    private static List<Double> placed(List<Double> run, PairMap map, double bottom) {
        List<Double> placed = new ArrayList<>();
        for (int i = 0; i + 1 < run.size(); i += 2) {
            placed.add(LEFT + (RIGHT - LEFT) * run.get(i) / (map.places() - 1));
            placed.add(bottom + (TOP - bottom) * run.get(i + 1) / (map.places() - 1));
        }
        return placed;
    }

    private void contours(Drawing drawing, GapRow row, PairMap map, double bottom) {
        double low = Double.POSITIVE_INFINITY;
        double high = Double.NEGATIVE_INFINITY;
        for (double gap : map.gapsMm()) {
            if (Double.isFinite(gap)) {
                low = Math.min(low, gap);
                high = Math.max(high, gap);
            }
        }
        if (high > low) {
            for (double level : Axis.lengths(low, high, format, STEPS).ticks()) {
                if (level != 0 && Math.abs(level - row.requiredMm()) > LEVELS_APART_MM) {
                    contour(drawing, map, level, Pen.of("#8a8a8a", 0.6), bottom, format.bare(level));
                }
            }
        }
        contour(drawing, map, 0, Pen.of(Drawing.INK, 2), bottom, "0");
        if (row.requiredMm() > 0) {
            contour(
                    drawing,
                    map,
                    row.requiredMm(),
                    new Pen(Drawing.INK, 1.5, "7 3"),
                    bottom,
                    "rule " + wording.required(row.requiredMm()));
        }
    }

    /** Contours nearer to one another are one, mm. */
    private static final double LEVELS_APART_MM = Unit.INCH.mm() / 64;

    private void contour(Drawing drawing, PairMap map, double level, Pen pen, double bottom, String words) {
        List<Double> longest = List.of();
        for (List<Double> run : map.contour(level)) {
            List<Double> placed = placed(run, map, bottom);
            drawing.path(Drawing.through(placed, false), "none", pen);
            longest = placed.size() > longest.size() ? placed : longest;
        }
        if (longest.size() >= 8) {
            int middle = longest.size() / 4 * 2;
            double half = Drawing.widthOf(words, TEXT - 1) / 2 + 4;
            double x = Math.max(LEFT + half, Math.min(RIGHT - half, longest.get(middle)));
            double y = Math.max(TOP + 9, Math.min(bottom - 3, longest.get(middle + 1) + 3));
            drawing.label(x, y, Anchor.MIDDLE, TEXT - 1, Drawing.INK, words);
        }
    }
}
