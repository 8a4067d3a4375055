package daylight.report;

import daylight.geometry.Direction;
import daylight.geometry.Flat;
import daylight.geometry.Spot;
import daylight.report.Drawing.Anchor;
import daylight.report.Drawing.Pen;
import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;

/** Draws a {@link Section}: both outlines hatched, the gap dimensioned, a scale, and where on the car it is. */
final class SectionSvg {
    static final double WIDTH = 340;
    static final double HEIGHT = 330;
    private static final double WINDOW = 236;
    private static final double MIDDLE_X = WIDTH / 2;
    private static final double MIDDLE_Y = WINDOW / 2;
    private static final double HATCH_PX = 7;
    /** The dimension stands this far beside the line between the spots, px. */
    private static final double BESIDE = 46;

    private static final double ARROW = 7;
    private static final double TEXT = 11;
    /** A view within this of a car axis is called by it alone. */
    private static final double ALONG_AXIS = 0.94;

    private static final double SOME = 0.3;
    private static final double PLAN_X = 196;
    private static final double PLAN_Y = 246;
    private static final double PLAN_WIDTH = 140;
    private static final double PLAN_HEIGHT = 78;

    private final Section section;
    private final Wording wording;
    private final LengthFormat format;
    private final double scale;
    private final Drawing drawing;

    private SectionSvg(Section section, LengthFormat format) {
        this.section = section;
        this.format = format;
        this.wording = Wording.in(format);
        this.scale = WINDOW / 2 / section.halfMm();
        this.drawing = new Drawing(
                WIDTH,
                HEIGHT,
                "Section through " + section.row().first() + " and "
                        + section.row().second() + ": " + gap() + ", " + looking());
    }

    /**
     * Returns the picture.
     *
     * @param plan the car seen from above, for the small view
     */
    static String of(Section section, SquareView plan, LengthFormat format) {
        return new SectionSvg(section, format).picture(plan);
    }

    private String gap() {
        return wording.gapWithUnit(section.row().least().found().distanceMm());
    }

    private String picture(SquareView plan) {
        drawing.open(0, 0, WIDTH, WINDOW);
        drawing.rectangle(0, 0, WIDTH, WINDOW, "#ffffff", Pen.NONE);
        part(section.first(), "#d4d4d4", 1);
        part(section.second(), "#efefef", -1);
        name(section.first(), "A");
        name(section.second(), "B");
        dimension();
        drawing.close();
        drawing.rectangle(0.5, 0.5, WIDTH - 1, WINDOW - 1, "none", Pen.of(Drawing.QUIET, 0.8));
        below(plan);
        return drawing.finished();
    }

    private double x(Flat flat) {
        return MIDDLE_X + scale * flat.x();
    }

    private double y(Flat flat) {
        return MIDDLE_Y - scale * flat.y();
    }

    private void part(CutSkin.Cut cut, String fill, int slant) {
        StringBuilder path = new StringBuilder();
        for (List<Flat> loop : cut.loops()) {
            path.append(path.isEmpty() ? "" : " ").append(Drawing.through(places(loop), true));
        }
        drawing.path(path.toString(), fill, Pen.NONE);
        hatch(cut, slant);
        drawing.path(path.toString(), "none", Pen.of(Drawing.INK, 1.5));
        for (List<Flat> run : cut.open()) {
            drawing.path(Drawing.through(places(run), false), "none", Pen.of(Drawing.INK, 1.5));
        }
    }

    /** The places of an outline in the picture; runs far outside are kept, since the window cuts them off. */
    private List<Double> places(List<Flat> run) {
        List<Double> places = new ArrayList<>();
        double lastX = Double.NaN;
        double lastY = Double.NaN;
        for (Flat flat : run) {
            double px = x(flat);
            double py = y(flat);
            if (!(Math.hypot(px - lastX, py - lastY) < 0.02)) {
                places.add(px);
                places.add(py);
                lastX = px;
                lastY = py;
            }
        }
        return places;
    }

    /** Draws slanted lines over a cut, at places that do not depend on the part, by the even-odd rule. */
    private void hatch(CutSkin.Cut cut, int slant) {
        StringBuilder path = new StringBuilder();
        double root = Math.sqrt(0.5);
        double reach = (WIDTH + WINDOW) * root;
        for (double c = -reach; c <= reach; c += HATCH_PX) {
            List<Double> crossings = new ArrayList<>();
            for (List<Flat> loop : cut.loops()) {
                for (int i = 0; i < loop.size(); i++) {
                    crossing(loop.get(i), loop.get((i + 1) % loop.size()), c, slant, crossings);
                }
            }
            crossings.sort(null);
            for (int k = 0; k + 1 < crossings.size(); k += 2) {
                double from = Math.max(-reach, crossings.get(k));
                double to = Math.min(reach, crossings.get(k + 1));
                if (to > from) {
                    line(path, c, from, slant, root, " M ");
                    line(path, c, to, slant, root, " L ");
                }
            }
        }
        drawing.path(path.toString().strip(), "none", Pen.of("#7a7a7a", 0.5));
    }

    private static void line(StringBuilder path, double c, double t, int slant, double root, String pen) {
        double px = MIDDLE_X + root * (t - slant * c);
        double py = MIDDLE_Y - root * (slant * t + c);
        path.append(pen).append(Drawing.number(px)).append(' ').append(Drawing.number(py));
    }

    private void crossing(Flat from, Flat to, double c, int slant, List<Double> into) {
        double root = Math.sqrt(0.5);
        double fx = scale * from.x();
        double fy = scale * from.y();
        double tx = scale * to.x();
        double ty = scale * to.y();
        // Along and across the hatch: t grows along it, c from line to line.
        double fc = root * (fy - slant * fx) - c;
        double tc = root * (ty - slant * tx) - c;
        if (fc < 0 != tc < 0) {
            double share = fc / (fc - tc);
            double ft = root * (fx + slant * fy);
            double tt = root * (tx + slant * ty);
            into.add(ft + share * (tt - ft));
        }
    }

    /** Writes a letter into the largest piece of metal that the window shows, away from the spots. */
    private void name(CutSkin.Cut cut, String letter) {
        double best = 0;
        double bestX = 0;
        double bestY = 0;
        for (double px = 22; px < WIDTH - 20; px += 12) {
            for (double py = 22; py < WINDOW - 20; py += 12) {
                double fx = (px - MIDDLE_X) / scale;
                double fy = (MIDDLE_Y - py) / scale;
                double room = Math.min(30, scale * depth(cut, fx, fy));
                double away = Math.min(80, Math.hypot(px - MIDDLE_X, py - MIDDLE_Y)) / 8;
                double edge = Math.min(Math.min(px, WIDTH - px), Math.min(py, WINDOW - py));
                double worth = room <= 0 ? 0 : room + away + Math.min(10, edge / 4);
                if (worth > best) {
                    best = worth;
                    bestX = px;
                    bestY = py;
                }
            }
        }
        if (best > 0) {
            drawing.circle(bestX, bestY, 8.5, "#ffffff", Pen.of(Drawing.INK, 0.8));
            drawing.boldWords(bestX, bestY + 4, Anchor.MIDDLE, TEXT, Drawing.INK, letter);
        }
    }

    /** How deep a place lies in the metal, mm; zero or less outside. */
    private static double depth(CutSkin.Cut cut, double fx, double fy) {
        boolean inside = false;
        double nearest = Double.POSITIVE_INFINITY;
        for (List<Flat> loop : cut.loops()) {
            for (int i = 0; i < loop.size(); i++) {
                Flat a = loop.get(i);
                Flat b = loop.get((i + 1) % loop.size());
                if (a.y() > fy != b.y() > fy && fx < a.x() + (fy - a.y()) / (b.y() - a.y()) * (b.x() - a.x())) {
                    inside = !inside;
                }
                nearest = Math.min(nearest, distance(a, b, fx, fy));
            }
        }
        return inside ? nearest : 0.0 - nearest;
    }

    private static double distance(Flat a, Flat b, double fx, double fy) {
        double dx = b.x() - a.x();
        double dy = b.y() - a.y();
        double length = dx * dx + dy * dy;
        double share = length > 0 ? Math.max(0, Math.min(1, ((fx - a.x()) * dx + (fy - a.y()) * dy) / length)) : 0;
        return Math.hypot(fx - a.x() - share * dx, fy - a.y() - share * dy);
    }

    private void dimension() {
        Flat onA = section.flat(section.row().least().found().onA());
        Flat onB = section.flat(section.row().least().found().onB());
        Direction normal = section.row().least().found().normal();
        Flat way = section.flat(section.origin().along(normal, 1));
        double ux = way.x();
        double uy = 0.0 - way.y();
        // Beside the line, on the side that leads away from the picture's lower edge, where the names stand.
        double vx = 0.0 - uy;
        double vy = ux;
        if (vy > 0.01 || (Math.abs(vy) <= 0.01 && vx < 0)) {
            vx = 0.0 - vx;
            vy = 0.0 - vy;
        }
        double ax = x(onA);
        double ay = y(onA);
        double bx = x(onB);
        double by = y(onB);
        Pen thin = Pen.of(Drawing.INK, 0.7);
        for (Pen pen : List.of(Pen.of("#ffffff", 3), thin)) {
            drawing.line(ax + 3 * vx, ay + 3 * vy, ax + (BESIDE + 5) * vx, ay + (BESIDE + 5) * vy, pen);
            drawing.line(bx + 3 * vx, by + 3 * vy, bx + (BESIDE + 5) * vx, by + (BESIDE + 5) * vy, pen);
        }
        double fromX = ax + BESIDE * vx;
        double fromY = ay + BESIDE * vy;
        double toX = bx + BESIDE * vx;
        double toY = by + BESIDE * vy;
        // Overlapping parts have their spots crossed over: the arrows still stand outside.
        double sign = section.row().least().found().distanceMm() < 0 ? -1 : 1;
        double tail = 20;
        for (Pen pen : List.of(Pen.of("#ffffff", 3), Pen.of(Drawing.INK, 1.1))) {
            drawing.line(fromX, fromY, fromX - sign * tail * ux, fromY - sign * tail * uy, pen);
            drawing.line(toX, toY, toX + sign * tail * ux, toY + sign * tail * uy, pen);
        }
        drawing.line(fromX, fromY, toX, toY, Pen.of(Drawing.INK, 1.1));
        drawing.arrowHead(fromX, fromY, sign * ux, sign * uy, ARROW, Drawing.INK);
        drawing.arrowHead(toX, toY, -sign * ux, -sign * uy, ARROW, Drawing.INK);
        drawing.line(ax, ay, bx, by, Pen.of(Drawing.INK, 2));
        drawing.circle(ax, ay, 2.6, "#ffffff", Pen.of(Drawing.INK, 1.4));
        drawing.circle(bx, by, 2.6, "#ffffff", Pen.of(Drawing.INK, 1.4));
        double labelX = (fromX + toX) / 2 + 16 * vx + (Math.abs(vx) > 0.5 ? Math.signum(vx) * 18 : 0);
        double labelY = (fromY + toY) / 2 + 12 * vy + 4;
        drawing.label(
                Math.max(34, Math.min(WIDTH - 34, labelX)),
                Math.max(16, Math.min(WINDOW - 8, labelY)),
                Anchor.MIDDLE,
                14,
                Drawing.INK,
                gap());
    }

    private void below(SquareView plan) {
        double y = WINDOW + 17;
        y = legend("A", section.row().first(), y);
        y = legend("B", section.row().second(), y);
        String looking = looking();
        int comma = looking.indexOf(',');
        drawing.words(2, y, Anchor.START, TEXT, Drawing.QUIET, comma < 0 ? looking : looking.substring(0, comma));
        if (comma >= 0) {
            y += 13;
            drawing.words(2, y, Anchor.START, TEXT, Drawing.QUIET, looking.substring(comma + 2));
        }
        bar(y + 15);
        plan(plan);
    }

    /** Writes a letter and a name, over two lines where it is long. */
    private double legend(String letter, String name, double y) {
        drawing.boldWords(2, y, Anchor.START, TEXT, Drawing.INK, letter);
        double at = y;
        StringBuilder line = new StringBuilder();
        int lines = 0;
        for (String word : name.split(" ")) {
            if (!line.isEmpty() && lines == 0 && Drawing.widthOf(line + " " + word, TEXT) > PLAN_X - 22) {
                drawing.words(16, at, Anchor.START, TEXT, Drawing.INK, line.toString());
                at += 13;
                line.setLength(0);
                lines++;
            }
            line.append(line.isEmpty() ? "" : " ").append(word);
        }
        drawing.words(16, at, Anchor.START, TEXT, Drawing.INK, shortened(line.toString()));
        return at + 15;
    }

    private static String shortened(String words) {
        String text = words;
        while (text.length() > 4 && Drawing.widthOf(text, TEXT) > PLAN_X - 20) {
            text = text.substring(0, text.length() - 4).stripTrailing() + "...";
        }
        return text;
    }

    /** Returns which way the picture looks, in words. */
    String looking() {
        Direction view = section.looking();
        String words = List.of(
                        word(view.x(), "forward", "rearward"),
                        word(view.y(), "left", "right"),
                        word(view.z(), "up", "down"))
                .stream()
                .filter(word -> !word.isEmpty())
                .collect(Collectors.joining(" and "));
        boolean square = Math.max(Math.abs(view.x()), Math.max(Math.abs(view.y()), Math.abs(view.z()))) > ALONG_AXIS;
        return "looking " + words + (square ? "" : ", on the slant");
    }

    private static String word(double part, String positive, String negative) {
        return part > SOME ? positive : part < -SOME ? negative : "";
    }

    private void bar(double y) {
        boolean inches = format.unit() == Unit.INCH;
        double mm = inches ? Unit.INCH.mm() : 20;
        double length = scale * mm;
        Pen pen = Pen.of(Drawing.INK, 1);
        drawing.line(2, y, 2 + length, y, pen);
        drawing.line(2, y - 3, 2, y + 3, pen);
        drawing.line(2 + length, y - 3, 2 + length, y + 3, pen);
        drawing.words(8 + length, y + 4, Anchor.START, TEXT, Drawing.QUIET, inches ? "1 in" : "20 mm");
    }

    private void plan(SquareView plan) {
        drawing.open(PLAN_X, PLAN_Y, PLAN_WIDTH, PLAN_HEIGHT);
        SquareView.Frame frame = plan.fitted(PLAN_X, PLAN_Y, PLAN_WIDTH, PLAN_HEIGHT);
        drawing.path(plan.ground(frame), "#dcdcdc", Pen.NONE);
        Spot spot = section.origin();
        double px = frame.x(plan.across(spot));
        double py = frame.y(plan.up(spot));
        // The cut itself, as long as the piece of it that is drawn, but at least to be seen.
        double reach = Math.max(9, frame.scale() * section.halfMm() * WIDTH / WINDOW);
        double dx = plan.across(section.origin().along(section.across(), 1)) - plan.across(spot);
        double dy = plan.up(section.origin().along(section.across(), 1)) - plan.up(spot);
        drawing.line(px - reach * dx, py + reach * dy, px + reach * dx, py - reach * dy, Pen.of(Drawing.INK, 1.4));
        drawing.circle(px, py, 4, "none", Pen.of(Drawing.INK, 1.4));
        drawing.close();
        drawing.words(
                PLAN_X + PLAN_WIDTH,
                PLAN_Y + PLAN_HEIGHT + 4,
                Anchor.END,
                9,
                Drawing.QUIET,
                "from above, front to the left");
    }
}
