package daylight.report;

import daylight.geometry.Cut;
import daylight.geometry.Direction;
import daylight.geometry.Flat;
import daylight.geometry.PlateCuts;
import daylight.geometry.PlateEdges;
import daylight.geometry.Shape;
import daylight.trim.CutWords;
import daylight.units.LengthFormat;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * A plate and the cut in it at full size, on as many sheets of paper as it needs: a value of lines, circles and words in
 * mm, which {@link TemplateSvg} and {@link TemplatePdf} write down.
 *
 * <p>It is drawn as it is seen from the face that is up: the outline's first direction to the right, its second towards
 * the top of the sheet. Each sheet has two bars to check the printer's scale by, 50 mm and 2 in. long.
 *
 * <p>Frame of the marks: mm from the sheet's top left corner, x to the right, y down.
 *
 * @param paper what it is printed on
 * @param sheets the sheets, row by row from the top left
 */
public record Template(Paper paper, List<Sheet> sheets) {
    /** Printers leave this much of a sheet's edge white, mm. */
    private static final double MARGIN_MM = 10;
    /** Sheets overlap by this, mm, so that they can be laid over one another and taped. */
    private static final double OVERLAP_MM = 10;

    private static final double HEAD_MM = 38;
    private static final double FOOT_MM = 16;
    /** Room round the plate for words, mm. */
    private static final double ROOM_MM = 16;

    /** Chords of a circle that goes over a sheet's edge: within 0.02 % of its radius. */
    private static final int CHORDS = 180;

    private static final double HATCH_MM = 3;
    private static final double CROSS_MM = 3;
    private static final double BAR_HIGH_MM = 1.6;
    /** The scale bars, mm. */
    public static final double METRIC_BAR_MM = 50;

    /** The scale bar of two inches, mm. */
    public static final double INCH_BAR_MM = 50.8;

    private static final double TITLE_MM = 5;
    private static final double WORDS_MM = 3;
    /** From the foot of one line of words to that of the next. */
    private static final double LINE_MM = 5;

    private static final double SMALL_MM = 2.5;

    public Template {
        sheets = List.copyOf(sheets);
    }

    /** One sheet. */
    public record Sheet(int number, List<Mark> marks) {
        public Sheet {
            marks = List.copyOf(marks);
        }
    }

    /** How a line is drawn. */
    public enum Pen {
        /** The edge of the metal that stays. */
        METAL(0.5, 0, 0, 0, false),
        /** Where to cut. */
        CUT(0.5, 213, 94, 0, false),
        /** The edge of what comes off. */
        OFF(0.25, 90, 90, 90, true),
        /** Hole centres and marks. */
        THIN(0.2, 0, 0, 0, false),
        /** What comes off. */
        HATCH(0.15, 150, 150, 150, false);

        private final double wideMm;
        private final int red;
        private final int green;
        private final int blue;
        private final boolean dashed;

        Pen(double wideMm, int red, int green, int blue, boolean dashed) {
            this.wideMm = wideMm;
            this.red = red;
            this.green = green;
            this.blue = blue;
            this.dashed = dashed;
        }

        double wideMm() {
            return wideMm;
        }

        int red() {
            return red;
        }

        int green() {
            return green;
        }

        int blue() {
            return blue;
        }

        boolean dashed() {
            return dashed;
        }
    }

    /** Something on a sheet. */
    public sealed interface Mark {
        /** A straight line. */
        record Line(double x1, double y1, double x2, double y2, Pen pen) implements Mark {}

        /** A circle. */
        record Ring(double x, double y, double radiusMm, Pen pen) implements Mark {}

        /** A black bar, by its top left corner. */
        record Bar(double x, double y, double wideMm, double highMm) implements Mark {}

        /** Words; x is where they begin, y their foot. */
        record Words(double x, double y, double highMm, String text) implements Mark {}
    }

    /**
     * Returns the template of a cut.
     *
     * @param car the car's name
     * @param part the plate's name
     * @param plate as it is before the cut
     * @param cut the cut as marked; empty for a template of the plate as it is
     * @param format how lengths are written on it
     */
    public static Template of(
            String car, String part, Shape.Plate plate, Optional<Cut> cut, LengthFormat format, Paper paper) {
        return new Drawing(car, part, plate, cut, format, paper).template();
    }

    private static final class Drawing {
        private final String car;
        private final String part;
        private final Shape.Plate plate;
        private final Optional<Cut> cut;
        private final Shape.Plate left;
        private final LengthFormat format;

        private final Paper paper;
        private final PlateEdges edges;
        private final double sign;
        /** Marks in the plate's frame: mm, x right, y up. */
        private final List<Mark> marks = new ArrayList<>();

        Drawing(String car, String part, Shape.Plate plate, Optional<Cut> cut, LengthFormat format, Paper paper) {
            this.car = car;
            this.part = part;
            this.plate = plate;
            this.cut = cut;
            this.left = cut.map(c -> PlateCuts.after(plate, c)).orElse(plate);
            this.format = CutWords.marking(format.unit());
            this.paper = paper;
            this.edges = PlateEdges.of(plate);
            double area = 0;
            for (int i = 0; i < plate.outline().size(); i++) {
                Flat a = PlateCuts.corner(plate, i);
                Flat b = PlateCuts.corner(plate, i + 1);
                area += a.x() * b.y() - b.x() * a.y();
            }
            this.sign = Math.signum(area);
        }

        Template template() {
            metal();
            holes();
            names();
            datum();
            double low = Double.POSITIVE_INFINITY;
            double bottom = Double.POSITIVE_INFINITY;
            double high = Double.NEGATIVE_INFINITY;
            double top = Double.NEGATIVE_INFINITY;
            for (Flat corner : plate.outline()) {
                low = Math.min(low, corner.x() - ROOM_MM);
                high = Math.max(high, corner.x() + ROOM_MM);
                bottom = Math.min(bottom, corner.y() - ROOM_MM);
                top = Math.max(top, corner.y() + ROOM_MM);
            }
            double wide = paper.widthMm() - 2 * MARGIN_MM;
            double tall = paper.heightMm() - 2 * MARGIN_MM - HEAD_MM - FOOT_MM;
            int columns = count(high - low, wide);
            int rows = count(top - bottom, tall);
            // What fits on one sheet stands in its middle.
            double left = columns == 1 ? (low + high - wide) / 2 : low;
            double up = rows == 1 ? (top + bottom + tall) / 2 : top;
            List<Sheet> sheets = new ArrayList<>();
            for (int row = 0; row < rows; row++) {
                for (int column = 0; column < columns; column++) {
                    double x = left + column * (wide - OVERLAP_MM);
                    double y = up - row * (tall - OVERLAP_MM);
                    sheets.add(sheet(x, y, wide, tall, row, column, rows, columns));
                }
            }
            return new Template(paper, sheets);
        }

        private static int count(double size, double sheet) {
            return size <= sheet ? 1 : 1 + (int) Math.ceil((size - sheet) / (sheet - OVERLAP_MM) - 1e-9);
        }

        private void metal() {
            List<Flat> before = plate.outline();
            List<Flat> after = left.outline();
            for (int i = 0; i < after.size(); i++) {
                Flat a = after.get(i);
                Flat b = after.get((i + 1) % after.size());
                line(a, b, isOnEdge(a, b, before) ? Pen.METAL : Pen.CUT);
            }
            if (cut.isEmpty()) {
                return;
            }
            for (int i = 0; i < before.size(); i++) {
                off(before.get(i), before.get((i + 1) % before.size()), after);
            }
            hatch(before, after);
        }

        /** Draws what of an old edge is no edge any more. */
        private void off(Flat a, Flat b, List<Flat> after) {
            List<Double> stops = new ArrayList<>(List.of(0.0, 1.0));
            double x = b.x() - a.x();
            double y = b.y() - a.y();
            double square = x * x + y * y;
            for (Flat corner : after) {
                double t = ((corner.x() - a.x()) * x + (corner.y() - a.y()) * y) / square;
                if (t > 0 && t < 1 && Math.abs((corner.x() - a.x()) * y - (corner.y() - a.y()) * x) < 1e-6 * square) {
                    stops.add(t);
                }
            }
            stops.sort(null);
            for (int k = 0; k + 1 < stops.size(); k++) {
                Flat from = new Flat(a.x() + stops.get(k) * x, a.y() + stops.get(k) * y);
                Flat to = new Flat(a.x() + stops.get(k + 1) * x, a.y() + stops.get(k + 1) * y);
                if (Math.hypot(to.x() - from.x(), to.y() - from.y()) > 1e-6 && !isOnEdge(from, to, after)) {
                    line(from, to, Pen.OFF);
                }
            }
        }

        private static boolean isOnEdge(Flat a, Flat b, List<Flat> outline) {
            for (int i = 0; i < outline.size(); i++) {
                Flat p = outline.get(i);
                Flat q = outline.get((i + 1) % outline.size());
                if (off(a, p, q) < 1e-6 && off(b, p, q) < 1e-6) {
                    return true;
                }
            }
            return false;
        }

        private static double off(Flat at, Flat p, Flat q) {
            double x = q.x() - p.x();
            double y = q.y() - p.y();
            double px = at.x() - p.x();
            double py = at.y() - p.y();
            double t = Math.max(0, Math.min(1, (px * x + py * y) / (x * x + y * y)));
            return Math.hypot(px - t * x, py - t * y);
        }

        /** Hatches what comes off: lines at 45 degrees that are inside the old outline and outside the new one. */
        private void hatch(List<Flat> before, List<Flat> after) {
            double step = HATCH_MM * Math.sqrt(2);
            double low = Double.POSITIVE_INFINITY;
            double high = Double.NEGATIVE_INFINITY;
            for (Flat corner : before) {
                low = Math.min(low, corner.y() - corner.x());
                high = Math.max(high, corner.y() - corner.x());
            }
            for (double c = Math.ceil(low / step) * step; c < high; c += step) {
                List<Double> in = crossings(before, c);
                List<Double> out = crossings(after, c);
                List<Double> all = new ArrayList<>(in);
                all.addAll(out);
                all.sort(null);
                for (int k = 0; k + 1 < all.size(); k++) {
                    double middle = (all.get(k) + all.get(k + 1)) / 2;
                    if (isWithin(in, middle) && !isWithin(out, middle) && all.get(k + 1) - all.get(k) > 1e-6) {
                        line(
                                new Flat(all.get(k), all.get(k) + c),
                                new Flat(all.get(k + 1), all.get(k + 1) + c),
                                Pen.HATCH);
                    }
                }
            }
        }

        private static boolean isWithin(List<Double> crossings, double x) {
            return crossings.stream().filter(c -> c < x).count() % 2 == 1;
        }

        /** Where the line y = x + c meets an outline. */
        private static List<Double> crossings(List<Flat> outline, double c) {
            List<Double> crossings = new ArrayList<>();
            for (int i = 0; i < outline.size(); i++) {
                Flat a = outline.get(i);
                Flat b = outline.get((i + 1) % outline.size());
                double da = a.y() - a.x() - c;
                double db = b.y() - b.x() - c;
                if ((da > 0) != (db > 0)) {
                    crossings.add(a.x() + da / (da - db) * (b.x() - a.x()));
                }
            }
            crossings.sort(null);
            return crossings;
        }

        private void holes() {
            for (int h = 0; h < plate.holes().size(); h++) {
                Shape.Plate.Hole hole = plate.holes().get(h);
                double x = hole.centre().x();
                double y = hole.centre().y();
                double r = hole.diameterMm() / 2;
                boolean stays = left.holes().contains(hole);
                marks.add(new Mark.Ring(x, y, r, stays ? Pen.METAL : Pen.OFF));
                cross(x, y, r + CROSS_MM, Pen.THIN);
                marks.add(new Mark.Words(
                        x - r,
                        y + r + CROSS_MM + 1,
                        SMALL_MM,
                        (h + 1) + ": " + format.print(hole.diameterMm()) + (stays ? "" : " (weld shut)")));
            }
            for (Shape.Plate.Hole hole : left.holes()) {
                if (!plate.holes().contains(hole)) {
                    double x = hole.centre().x();
                    double y = hole.centre().y();
                    marks.add(new Mark.Ring(x, y, hole.diameterMm() / 2, Pen.CUT));
                    cross(x, y, hole.diameterMm() / 2 + CROSS_MM, Pen.CUT);
                    marks.add(new Mark.Words(
                            x + hole.diameterMm() / 2 + 1,
                            y + hole.diameterMm() / 2 + 1,
                            SMALL_MM,
                            "drill " + format.print(hole.diameterMm())));
                }
            }
        }

        private void cross(double x, double y, double arm, Pen pen) {
            marks.add(new Mark.Line(x - arm, y, x + arm, y, pen));
            marks.add(new Mark.Line(x, y - arm, x, y + arm, pen));
        }

        private void names() {
            for (int i = 0; i < plate.outline().size(); i++) {
                double length = PlateCuts.edgeLengthMm(plate, i);
                String name = edges.name(i);
                double wide = width(name, SMALL_MM);
                if (length < wide / 2) {
                    continue;
                }
                Flat a = PlateCuts.corner(plate, i);
                Flat b = PlateCuts.corner(plate, i + 1);
                double nx = sign * (b.y() - a.y()) / length;
                double ny = sign * (a.x() - b.x()) / length;
                double away = 3 + (wide / 2) * Math.abs(nx) + (SMALL_MM / 2) * Math.abs(ny);
                marks.add(new Mark.Words(
                        (a.x() + b.x()) / 2 + away * nx - wide / 2,
                        (a.y() + b.y()) / 2 + away * ny - SMALL_MM / 2,
                        SMALL_MM,
                        name));
            }
        }

        /** Marks the corner from which the tape begins, and what is measured from it. */
        private void datum() {
            if (cut.isEmpty()) {
                return;
            }
            if (cut.get() instanceof Cut.Straight straight) {
                int n = plate.outline().size();
                Flat p = PlateCuts.alongEdge(plate, straight.first(), true, straight.alongFirstMm());
                Flat q = PlateCuts.alongEdge(plate, straight.second(), false, straight.alongSecondMm());
                measure(PlateCuts.corner(plate, straight.first() + 1), p, straight.first(), straight.alongFirstMm());
                measure(PlateCuts.corner(plate, straight.second()), q, straight.second(), straight.alongSecondMm());
                corner((straight.first() + 1) % n);
                if ((straight.first() + 1) % n != straight.second()) {
                    corner(straight.second());
                }
            } else if (cut.get() instanceof Cut.Round round) {
                int n = plate.outline().size();
                double tangent = PlateCuts.tangentMm(plate, round);
                int before = (round.corner() + n - 1) % n;
                Flat p = PlateCuts.alongEdge(plate, before, true, tangent);
                Flat q = PlateCuts.alongEdge(plate, round.corner(), false, tangent);
                measure(PlateCuts.corner(plate, round.corner()), p, before, tangent);
                measure(PlateCuts.corner(plate, round.corner()), q, round.corner(), tangent);
                Flat centre = PlateCuts.arcCentre(plate, round);
                cross(centre.x(), centre.y(), CROSS_MM, Pen.CUT);
                marks.add(new Mark.Words(
                        centre.x() + 1, centre.y() + 1, SMALL_MM, "radius " + format.print(round.radiusMm())));
                corner(round.corner());
            } else if (cut.get() instanceof Cut.Notch notch) {
                int from = notch.fromEnd() ? notch.edge() + 1 : notch.edge();
                Flat start = PlateCuts.corner(plate, from);
                measure(
                        start,
                        PlateCuts.alongEdge(plate, notch.edge(), notch.fromEnd(), notch.endsMm()),
                        notch.edge(),
                        notch.endsMm());
                if (notch.startsMm() > 0) {
                    marks.add(words(
                            PlateCuts.alongEdge(plate, notch.edge(), notch.fromEnd(), notch.startsMm()),
                            notch.edge(),
                            format.print(notch.startsMm()) + " to its start"));
                }
                deep(notch);
                corner(from % plate.outline().size());
            }
        }

        /** The depth of a notch, in its middle. */
        private void deep(Cut.Notch notch) {
            Flat at =
                    PlateCuts.alongEdge(plate, notch.edge(), notch.fromEnd(), (notch.startsMm() + notch.endsMm()) / 2);
            Flat a = PlateCuts.corner(plate, notch.edge());
            Flat b = PlateCuts.corner(plate, notch.edge() + 1);
            double length = PlateCuts.edgeLengthMm(plate, notch.edge());
            double inX = -sign * (b.y() - a.y()) / length;
            double inY = -sign * (a.x() - b.x()) / length;
            Flat end = new Flat(at.x() + notch.deepMm() * inX, at.y() + notch.deepMm() * inY);
            line(at, end, Pen.THIN);
            for (Flat tick : List.of(at, end)) {
                marks.add(new Mark.Line(tick.x() - inY, tick.y() + inX, tick.x() + inY, tick.y() - inX, Pen.THIN));
            }
            marks.add(new Mark.Words(
                    end.x() + 2 + (inX < 0 ? -4 - width(format.print(notch.deepMm()) + " deep", WORDS_MM) : 0),
                    end.y() + (inY < 0 ? -WORDS_MM - 2 : 2),
                    WORDS_MM,
                    format.print(notch.deepMm()) + " deep"));
        }

        private void corner(int corner) {
            Flat at = PlateCuts.corner(plate, corner);
            marks.add(new Mark.Ring(at.x(), at.y(), 1.5, Pen.CUT));
            marks.add(new Mark.Ring(at.x(), at.y(), 0.4, Pen.CUT));
            Flat a = PlateCuts.corner(plate, corner - 1);
            Flat b = PlateCuts.corner(plate, corner + 1);
            double x = at.x() - (a.x() + b.x()) / 2;
            double y = at.y() - (a.y() + b.y()) / 2;
            String words = "datum corner";
            double wide = width(words, SMALL_MM);
            marks.add(new Mark.Words(
                    at.x() + (x < 0 ? -wide - 3 : 3), at.y() + (y < 0 ? -SMALL_MM - 5 : 5), SMALL_MM, words));
        }

        /** A measure beside an edge, with ticks at both its ends. */
        private void measure(Flat from, Flat to, int edge, double mm) {
            double length = PlateCuts.edgeLengthMm(plate, edge);
            Flat a = PlateCuts.corner(plate, edge);
            Flat b = PlateCuts.corner(plate, edge + 1);
            double nx = sign * (b.y() - a.y()) / length;
            double ny = sign * (a.x() - b.x()) / length;
            double away = 2;
            marks.add(new Mark.Line(
                    from.x() + away * nx, from.y() + away * ny, to.x() + away * nx, to.y() + away * ny, Pen.CUT));
            for (Flat end : List.of(from, to)) {
                marks.add(new Mark.Line(
                        end.x() + (away - 1) * nx,
                        end.y() + (away - 1) * ny,
                        end.x() + (away + 1) * nx,
                        end.y() + (away + 1) * ny,
                        Pen.CUT));
            }
            marks.add(words(new Flat((from.x() + to.x()) / 2, (from.y() + to.y()) / 2), edge, format.print(mm)));
        }

        /** Words outside an edge, with room for a measure between. */
        private Mark.Words words(Flat at, int edge, String words) {
            double length = PlateCuts.edgeLengthMm(plate, edge);
            Flat a = PlateCuts.corner(plate, edge);
            Flat b = PlateCuts.corner(plate, edge + 1);
            double nx = sign * (b.y() - a.y()) / length;
            double ny = sign * (a.x() - b.x()) / length;
            double wide = width(words, WORDS_MM);
            double out = 4 + (wide / 2) * Math.abs(nx) + (WORDS_MM / 2) * Math.abs(ny);
            return new Mark.Words(at.x() + out * nx - wide / 2, at.y() + out * ny - WORDS_MM / 2, WORDS_MM, words);
        }

        private void line(Flat a, Flat b, Pen pen) {
            marks.add(new Mark.Line(a.x(), a.y(), b.x(), b.y(), pen));
        }

        private Sheet sheet(
                double left, double top, double wide, double tall, int row, int column, int rows, int columns) {
            int number = row * columns + column + 1;
            double x0 = MARGIN_MM;
            double y0 = MARGIN_MM + HEAD_MM;
            List<Mark> out = new ArrayList<>();
            for (Mark mark : marks) {
                placed(mark, left, top, wide, tall, x0, y0, out);
            }
            head(out, number, rows * columns);
            foot(out, y0 + tall);
            joins(out, x0, y0, wide, tall, row, column, rows, columns);
            return new Sheet(number, out);
        }

        /**
         * Puts a mark on a sheet that shows a window of the drawing. Lines and circles end at the window's edge; words
         * stand on every sheet that has their middle, pushed wholly onto it.
         */
        private static void placed(
                Mark mark, double left, double top, double wide, double tall, double x0, double y0, List<Mark> out) {
            if (mark instanceof Mark.Line line) {
                clipped(line, left, top, wide, tall)
                        .ifPresent(l -> out.add(new Mark.Line(
                                x0 + l.x1() - left,
                                y0 + top - l.y1(),
                                x0 + l.x2() - left,
                                y0 + top - l.y2(),
                                l.pen())));
            } else if (mark instanceof Mark.Ring ring) {
                boolean whole = ring.x() + ring.radiusMm() <= left + wide
                        && ring.x() - ring.radiusMm() >= left
                        && ring.y() + ring.radiusMm() <= top
                        && ring.y() - ring.radiusMm() >= top - tall;
                if (whole) {
                    out.add(new Mark.Ring(x0 + ring.x() - left, y0 + top - ring.y(), ring.radiusMm(), ring.pen()));
                } else {
                    chords(ring).forEach(chord -> placed(chord, left, top, wide, tall, x0, y0, out));
                }
            } else if (mark instanceof Mark.Words words) {
                double across = width(words.text(), words.highMm());
                double middle = words.x() + across / 2;
                double height = words.y() + words.highMm() / 2;
                if (middle >= left && middle <= left + wide && height >= top - tall && height <= top) {
                    double x = Math.max(left, Math.min(words.x(), left + wide - across));
                    double y = Math.max(top - tall, Math.min(words.y(), top - words.highMm()));
                    out.add(new Mark.Words(x0 + x - left, y0 + top - y, words.highMm(), words.text()));
                }
            }
        }

        /** A circle as chords, for where a sheet shows only some of it. */
        private static List<Mark> chords(Mark.Ring ring) {
            List<Mark> chords = new ArrayList<>();
            for (int i = 0; i < CHORDS; i++) {
                double from = 2 * Math.PI * i / CHORDS;
                double to = 2 * Math.PI * (i + 1) / CHORDS;
                chords.add(new Mark.Line(
                        ring.x() + ring.radiusMm() * Math.cos(from),
                        ring.y() + ring.radiusMm() * Math.sin(from),
                        ring.x() + ring.radiusMm() * Math.cos(to),
                        ring.y() + ring.radiusMm() * Math.sin(to),
                        ring.pen()));
            }
            return chords;
        }

        private static Optional<Mark.Line> clipped(Mark.Line line, double left, double top, double wide, double tall) {
            double from = 0;
            double to = 1;
            double[] start = {line.x1(), line.y1()};
            double[] way = {line.x2() - line.x1(), line.y2() - line.y1()};
            double[] low = {left, top - tall};
            double[] high = {left + wide, top};
            for (int axis = 0; axis < 2; axis++) {
                if (way[axis] == 0) {
                    if (start[axis] < low[axis] || start[axis] > high[axis]) {
                        return Optional.empty();
                    }
                    continue;
                }
                double a = (low[axis] - start[axis]) / way[axis];
                double b = (high[axis] - start[axis]) / way[axis];
                from = Math.max(from, Math.min(a, b));
                to = Math.min(to, Math.max(a, b));
            }
            return from >= to
                    ? Optional.empty()
                    : Optional.of(new Mark.Line(
                            start[0] + from * way[0],
                            start[1] + from * way[1],
                            start[0] + to * way[0],
                            start[1] + to * way[1],
                            line.pen()));
        }

        private void head(List<Mark> out, int number, int count) {
            double y = MARGIN_MM + TITLE_MM;
            out.add(new Mark.Words(MARGIN_MM, y, TITLE_MM, part));
            out.add(new Mark.Words(
                    MARGIN_MM,
                    y + 6,
                    WORDS_MM,
                    car + "; " + format.print(plate.thicknessMm()) + " thick; sheet " + number + " of " + count + ", "
                            + paper.word()));
            out.add(new Mark.Words(
                    MARGIN_MM,
                    y + 11,
                    WORDS_MM,
                    "This side up: the face that looks " + looks() + ". Full size: print at 100 %, without fitting to"
                            + " the page."));
            String what =
                    cut.map(c -> "Cut: " + CutWords.of(plate, c, format) + ".").orElse("The plate as it is.");
            List<String> lines = wrapped(what, paper.widthMm() - 2 * MARGIN_MM, WORDS_MM);
            for (int i = 0; i < lines.size(); i++) {
                out.add(new Mark.Words(MARGIN_MM, y + 16 + LINE_MM * i, WORDS_MM, lines.get(i)));
            }
            out.add(new Mark.Words(
                    MARGIN_MM,
                    y + 16 + LINE_MM * lines.size(),
                    SMALL_MM,
                    "Geometry, not strength: whether what is left still holds is for someone qualified."));
        }

        /** Which way the face looks that the viewer sees: the plate's thickness comes towards him. */
        private String looks() {
            Direction a = plate.along();
            Direction u = plate.up();
            double x = a.y() * u.z() - a.z() * u.y();
            double y = a.z() * u.x() - a.x() * u.z();
            double z = a.x() * u.y() - a.y() * u.x();
            double most = Math.max(Math.abs(x), Math.max(Math.abs(y), Math.abs(z)));
            if (Math.abs(z) == most) {
                return z > 0 ? "up" : "down";
            }
            return Math.abs(x) == most ? (x > 0 ? "forward" : "backward") : y > 0 ? "to the left" : "to the right";
        }

        private void foot(List<Mark> out, double top) {
            double y = top + 6;
            out.add(new Mark.Bar(MARGIN_MM, y, METRIC_BAR_MM, BAR_HIGH_MM));
            out.add(new Mark.Words(MARGIN_MM, y + 6, SMALL_MM, "This bar is 50 mm long."));
            double second = MARGIN_MM + METRIC_BAR_MM + 15;
            out.add(new Mark.Bar(second, y, INCH_BAR_MM, BAR_HIGH_MM));
            out.add(new Mark.Words(second, y + 6, SMALL_MM, "This bar is 2 in long."));
            out.add(new Mark.Words(
                    second + INCH_BAR_MM + 5, y + 2, SMALL_MM, "Measure both before you trust the rest."));
        }

        /** Where sheets are laid over one another: a line and crosses that must fall on those of the next sheet. */
        private static void joins(
                List<Mark> out,
                double x0,
                double y0,
                double wide,
                double tall,
                int row,
                int column,
                int rows,
                int columns) {
            double[] xs = {x0 + OVERLAP_MM / 2, x0 + wide - OVERLAP_MM / 2};
            double[] ys = {y0 + OVERLAP_MM / 2, y0 + tall - OVERLAP_MM / 2};
            boolean[] besides = {column > 0, column < columns - 1};
            boolean[] above = {row > 0, row < rows - 1};
            for (int side = 0; side < 2; side++) {
                if (besides[side]) {
                    out.add(new Mark.Line(xs[side], y0, xs[side], y0 + tall, Pen.OFF));
                    int other = row * columns + column + (side == 0 ? 0 : 2);
                    out.add(new Mark.Words(
                            side == 0 ? xs[0] + 2 : xs[1] - 2 - width("joins sheet " + other, SMALL_MM),
                            y0 + 2 * tall / 3,
                            SMALL_MM,
                            "joins sheet " + other));
                    for (double y = y0 + tall / 6; y < y0 + tall; y += tall / 3) {
                        out.add(new Mark.Line(xs[side] - 3, y, xs[side] + 3, y, Pen.THIN));
                    }
                }
                if (above[side]) {
                    out.add(new Mark.Line(x0, ys[side], x0 + wide, ys[side], Pen.OFF));
                    int other = (row + (side == 0 ? -1 : 1)) * columns + column + 1;
                    out.add(new Mark.Words(
                            x0 + wide / 3,
                            side == 0 ? ys[0] + SMALL_MM + 1.5 : ys[1] - 1.5,
                            SMALL_MM,
                            "joins sheet " + other));
                    for (double x = x0 + wide / 6; x < x0 + wide; x += wide / 3) {
                        out.add(new Mark.Line(x, ys[side] - 3, x, ys[side] + 3, Pen.THIN));
                    }
                }
            }
        }

        private static List<String> wrapped(String text, double wide, double high) {
            List<String> lines = new ArrayList<>();
            StringBuilder line = new StringBuilder();
            // A number and its unit stay together.
            for (String word : text.split(" (?:(?<!\\d )|(?!(?:mm|in)\\b|\\d+/\\d))")) {
                if (line.length() > 0 && width(line + " " + word, high) > wide) {
                    lines.add(line.toString());
                    line.setLength(0);
                }
                line.append(line.length() > 0 ? " " : "").append(word);
            }
            lines.add(line.toString());
            return lines;
        }

        /** About how wide words are, mm: capitals and digits of a plain face are some 0.55 of their height of type. */
        private static double width(String text, double highMm) {
            return 0.72 * highMm * text.length();
        }
    }

    /** A short text for messages. */
    @Override
    public String toString() {
        return String.format(
                Locale.ROOT, "%d %s of %s", sheets.size(), sheets.size() == 1 ? "sheet" : "sheets", paper.word());
    }
}
