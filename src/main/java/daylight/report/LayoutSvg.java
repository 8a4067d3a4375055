package daylight.report;

import daylight.car.Layout;
import daylight.car.LayoutReadout;
import daylight.geometry.Direction;
import daylight.geometry.Spot;
import daylight.linkage.Mechanism;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * A layout as a small SVG picture that names its points: drawn from the worked example in the layout's own file, seen
 * from ahead, the left and above, all layouts alike. Nothing in it is drawn by hand.
 *
 * <p>Names stand in two columns beside the picture and never overlap; a thin line leads from each to its point. Points
 * on the car's frame carry a ground sign, joints that turn about a line are drawn with that line, and an arrow shows
 * what is moved. The colours of bodies are from the Okabe-Ito palette, and each has its name below.
 */
public final class LayoutSvg {
    /** Where the eye is: this far round from straight ahead to the left, and this far up, rad. */
    private static final double ROUND = Math.toRadians(48);

    private static final double ABOVE = Math.toRadians(24);
    private static final int WIDTH = 980;
    private static final int COLUMN = 236;
    private static final int TOP = 84;
    private static final int PICTURE = 400;
    private static final int ROW = 21;
    private static final int LEGEND_ROW = 22;
    private static final double WHEEL_POINTS = 48;
    /** A wheel is drawn with this radius where its own height does not tell, mm. */
    private static final double USUAL_WHEEL_MM = 300;

    /** The arrow of a turn: its radius in the picture, and how far it reaches to either side of the top, rad. */
    private static final double ARC = 46;

    private static final double ARC_REACH = Math.toRadians(65);
    private static final int ARC_PIECES = 16;
    /** Part of a unit axis from which an axis counts as upright. */
    private static final double UPRIGHT = 0.9;
    /** How pale a body's inside is. */
    private static final double TINT = 0.32;

    private static final String INK = "#222";
    private static final String QUIET = "#767676";
    private static final String FAINT = "#b8b8b8";
    private static final String MOVES = "#CC0000";
    private static final List<String> COLOURS =
            List.of("#0072B2", "#D55E00", "#009E73", "#CC79A7", "#56B4E9", "#E69F00", "#7A5C00");

    private final Layout layout;
    private final Optional<String> marked;
    private final Map<String, Spot> spots;
    private final Map<String, Set<String>> pointsOf = new LinkedHashMap<>();
    private final StringBuilder svg = new StringBuilder();
    private double scale = 1;
    private double shiftX;
    private double shiftY;

    /** A place in the picture. */
    private record At(double x, double y) {
        At plus(double dx, double dy) {
            return new At(x + dx, y + dy);
        }

        double distanceTo(At other) {
            return Math.hypot(x - other.x, y - other.y);
        }
    }

    /** A name beside the picture and the point that it belongs to. */
    private record Label(String words, boolean optional, At point) {}

    private LayoutSvg(Layout layout, Optional<String> marked) {
        this.layout = layout;
        this.marked = marked;
        this.spots = layout.example().points();
        for (Layout.Joint joint : layout.joints()) {
            if (joint instanceof Layout.Joint.Rod rod) {
                has(rod.bodyA(), rod.onA());
                has(rod.bodyB(), rod.onB());
                rod.body().ifPresent(body -> has(body, rod.onA(), rod.onB()));
            } else if (joint instanceof Layout.Joint.Leaf leaf) {
                has(leaf.bodyA(), leaf.pad());
                has(leaf.bodyB(), leaf.eye());
            } else if (joint instanceof Layout.Joint.Guide guide) {
                has(guide.bodyA(), guide.point());
                has(guide.bodyB(), guide.lineAt());
            } else if (joint instanceof Layout.Joint.Plane plane) {
                has(plane.bodyA(), plane.point());
            } else {
                joint.points().forEach(point -> has(joint.bodyA(), point));
                joint.points().forEach(point -> has(joint.bodyB(), point));
            }
        }
        for (Layout.Driver driver : layout.drivers()) {
            if (!(driver instanceof Layout.Driver.RodLength)) {
                driver.points().forEach(point -> has(driver.of(), point));
            }
            if (driver instanceof Layout.Driver.Turn turn) {
                has(Mechanism.GROUND, turn.first(), turn.second());
            }
        }
        for (Layout.Follower follower : layout.followers()) {
            has(follower.bodyA(), follower.pointA());
            has(follower.bodyB(), follower.pointB());
        }
    }

    private void has(String body, String... points) {
        for (String point : points) {
            if (spots.containsKey(point)) {
                pointsOf.computeIfAbsent(body, k -> new LinkedHashSet<>()).add(point);
            }
        }
    }

    /** Returns the picture as SVG text; the same for the same layout on every run. */
    public static String of(Layout layout) {
        return new LayoutSvg(layout, Optional.empty()).picture();
    }

    /**
     * Returns the picture with one of its points marked: a ring about it, and its name in the ring's colour.
     *
     * @param point a point of the layout
     */
    public static String marked(Layout layout, String point) {
        return new LayoutSvg(layout, Optional.of(point)).picture();
    }

    // ---------------------------------------------------------------- projection

    private static double across(Spot s) {
        return -Math.sin(ROUND) * s.x() + Math.cos(ROUND) * s.y();
    }

    private static double down(Spot s) {
        return Math.sin(ABOVE) * (Math.cos(ROUND) * s.x() + Math.sin(ROUND) * s.y()) - Math.cos(ABOVE) * s.z();
    }

    private At at(Spot s) {
        return new At(shiftX + scale * across(s), shiftY + scale * down(s));
    }

    private At at(String point) {
        Spot spot = spots.get(point);
        if (spot == null) {
            throw new IllegalStateException(
                    layout.name() + ": its example lacks the point \"" + point + "\". Please report this.");
        }
        return at(spot);
    }

    private void fit() {
        List<Spot> all = new ArrayList<>(spots.values());
        wheels().forEach(wheel -> all.addAll(rim(wheel)));
        double left = all.stream().mapToDouble(LayoutSvg::across).min().orElse(0);
        double right = all.stream().mapToDouble(LayoutSvg::across).max().orElse(1);
        double high = all.stream().mapToDouble(LayoutSvg::down).min().orElse(0);
        double low = all.stream().mapToDouble(LayoutSvg::down).max().orElse(1);
        double room = WIDTH - 2.0 * COLUMN - 60;
        scale = Math.min(room / Math.max(1, right - left), PICTURE / Math.max(1, low - high));
        shiftX = WIDTH / 2.0 - scale * (left + right) / 2;
        shiftY = TOP + PICTURE / 2.0 - scale * (high + low) / 2;
    }

    // ---------------------------------------------------------------- the picture

    private String picture() {
        fit();
        List<Label> left = new ArrayList<>();
        List<Label> right = new ArrayList<>();
        share(left, right);
        int rows = Math.max(left.size(), right.size());
        int legendTop = TOP + Math.max(PICTURE, rows * ROW) + 44;
        StringBuilder legend = new StringBuilder();
        int height = legend(legend, legendTop) + 16;
        svg.append(String.format(
                Locale.ROOT,
                "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%d\" height=\"%d\" viewBox=\"0 0 %d %d\""
                        + " font-family=\"sans-serif\" font-size=\"13\" fill=\"%s\">\n",
                WIDTH,
                height,
                WIDTH,
                height,
                INK));
        svg.append("<title>").append(escaped(layout.title())).append("</title>\n");
        svg.append("<desc>").append(escaped(layout.note())).append("</desc>\n");
        svg.append("<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n");
        text(svg, 20, 32, "start", 18, INK, layout.title());
        text(svg, 20, 54, "start", 13, QUIET, "layout: " + layout.name() + "; seen from ahead, the left and above");
        wheels().forEach(this::wheel);
        List<String> bodies = drawn();
        for (String body : bodies) {
            body(body, colour(bodies, body));
        }
        layout.joints().forEach(joint -> joint(joint, bodies));
        shafts();
        layout.followers().forEach(follower -> follower(follower, colour(bodies, follower.body())));
        layout.drivers().forEach(this::turnsAbout);
        pointsOf.getOrDefault(Mechanism.GROUND, Set.of()).forEach(point -> ground(at(point)));
        layout.drivers().forEach(this::moves);
        layout.points().stream()
                .filter(point -> spots.containsKey(point.name()))
                .forEach(point -> dot(at(point.name())));
        marked.filter(spots::containsKey).ifPresent(point -> ring(at(point)));
        column(left, true);
        column(right, false);
        axes();
        svg.append(legend);
        return svg.append("</svg>\n").toString();
    }

    private List<String> drawn() {
        List<String> bodies = new ArrayList<>(layout.carriers());
        bodies.addAll(layout.bodies());
        return bodies;
    }

    private String colour(List<String> bodies, String body) {
        if (layout.carriers().contains(body)) {
            return QUIET;
        }
        int k = bodies.indexOf(body) - layout.carriers().size();
        return k < 0 ? FAINT : COLOURS.get(k % COLOURS.size());
    }

    private boolean isRod(String body) {
        return layout.joints().stream()
                        .anyMatch(joint -> joint instanceof Layout.Joint.Rod rod
                                && rod.body().equals(Optional.of(body)))
                || layout.followers().stream()
                        .anyMatch(follower -> follower.body().equals(body));
    }

    /** A body as the flat figure of its points; an axle as its tube with a bracket to each point. */
    private void body(String body, String colour) {
        if (isRod(body)) {
            return;
        }
        List<At> points = new ArrayList<>();
        pointsOf.getOrDefault(body, Set.of()).forEach(point -> points.add(at(point)));
        List<String> ends = wheels().stream()
                .filter(wheel -> wheel.body().equals(body))
                .map(LayoutReadout.Wheel::centre)
                .toList();
        ends = ends.size() == 2 ? ends : risesOf(body);
        if (ends.size() == 2) {
            At first = at(ends.get(0));
            At second = at(ends.get(1));
            line(first, second, colour, 9, "");
            for (At point : points) {
                line(point, nearest(first, second, point), colour, 3, "");
            }
        } else if (points.size() == 1) {
            slides(body, colour);
        } else if (points.size() == 3 && ownBush(body).isPresent()) {
            half(body, points, at(ownBush(body).get()), colour);
        } else if (points.size() == 2) {
            line(points.get(0), points.get(1), colour, 6, "");
        } else if (points.size() > 2) {
            polygon(around(points), colour);
        }
    }

    /** A rack and its like: a short bar along the way that it goes. */
    private void slides(String body, String colour) {
        for (Layout.Driver driver : layout.drivers()) {
            if (driver instanceof Layout.Driver.Travel travel && travel.of().equals(body)) {
                Spot spot = spots.getOrDefault(
                        pointsOf.getOrDefault(body, Set.of()).iterator().next(), Spot.ORIGIN);
                Direction along = along(travel);
                line(at(spot.along(along, 30 / scale)), at(spot.along(along, -30 / scale)), colour, 8, "");
            }
        }
    }

    private static Direction along(Layout.Driver.Travel travel) {
        return travel.along() instanceof Layout.Along.Fixed fixed ? fixed.direction() : Direction.FORWARD;
    }

    /** The point in which one of two bodies that turn about one line lies (an anti-roll bar's half in its bush). */
    private Optional<String> ownBush(String body) {
        List<Layout.Joint.Hinge> hinges = layout.joints().stream()
                .filter(joint -> joint instanceof Layout.Joint.Hinge)
                .map(joint -> (Layout.Joint.Hinge) joint)
                .toList();
        for (Layout.Joint.Hinge own : hinges) {
            boolean isShared = hinges.stream()
                            .filter(hinge ->
                                    Set.of(hinge.first(), hinge.second()).equals(Set.of(own.first(), own.second())))
                            .count()
                    > 1;
            if (isShared && (own.bodyA().equals(body) || own.bodyB().equals(body))) {
                return Optional.of(own.first());
            }
        }
        return Optional.empty();
    }

    private void half(String body, List<At> points, At bush, String colour) {
        At far = points.stream()
                .filter(point -> ownAxis(body).contains(point) && !point.equals(bush))
                .findFirst()
                .orElse(bush);
        line(bush, new At(0.5 * (bush.x() + far.x()), 0.5 * (bush.y() + far.y())), colour, 7, "");
        points.stream()
                .filter(point -> !ownAxis(body).contains(point))
                .forEach(point -> line(bush, point, colour, 7, ""));
    }

    private List<At> ownAxis(String body) {
        return layout.joints().stream()
                .filter(joint -> joint instanceof Layout.Joint.Hinge
                        && (joint.bodyA().equals(body) || joint.bodyB().equals(body)))
                .flatMap(joint -> joint.points().stream())
                .map(this::at)
                .toList();
    }

    private List<String> risesOf(String body) {
        return layout.drivers().stream()
                .filter(driver ->
                        driver instanceof Layout.Driver.Rise && driver.of().equals(body))
                .map(driver -> ((Layout.Driver.Rise) driver).at())
                .toList();
    }

    private static At nearest(At a, At b, At to) {
        double dx = b.x() - a.x();
        double dy = b.y() - a.y();
        double share = ((to.x() - a.x()) * dx + (to.y() - a.y()) * dy) / Math.max(1e-9, dx * dx + dy * dy);
        double t = Math.max(0, Math.min(1, share));
        return new At(a.x() + t * dx, a.y() + t * dy);
    }

    private void joint(Layout.Joint joint, List<String> bodies) {
        if (joint instanceof Layout.Joint.Rod rod) {
            String colour = rod.body().map(body -> colour(bodies, body)).orElse(QUIET);
            line(at(rod.onA()), at(rod.onB()), colour, 4.5, "");
        } else if (joint instanceof Layout.Joint.Hinge hinge) {
            axis(at(hinge.first()), at(hinge.second()));
        } else if (joint instanceof Layout.Joint.Guide guide) {
            line(at(guide.lineAt()), at(guide.point()), colour(bodies, guide.bodyB()), 6, "");
        } else if (joint instanceof Layout.Joint.Leaf leaf) {
            leaf(leaf, colour(bodies, leaf.bodyA()));
        }
    }

    /** What aims from one point at another: the whole way, or its own half of it where another aims back. */
    private void follower(Layout.Follower follower, String colour) {
        At from = at(follower.pointA());
        At to = at(follower.pointB());
        boolean isHalf = layout.followers().stream()
                .anyMatch(other -> other.pointA().equals(follower.pointB())
                        && other.pointB().equals(follower.pointA()));
        double share = isHalf ? 0.5 : 1;
        At end = new At(from.x() + share * (to.x() - from.x()), from.y() + share * (to.y() - from.y()));
        line(from, end, colour, 6, "");
    }

    /** The shafts before and behind a driveshaft. */
    private void shafts() {
        for (LayoutReadout readout : layout.readouts()) {
            if (readout instanceof LayoutReadout.Shaft shaft) {
                for (Layout.Along along : List.of(shaft.fromAxis(), shaft.toAxis())) {
                    if (along instanceof Layout.Along.Between between
                            && spots.containsKey(between.from())
                            && spots.containsKey(between.to())) {
                        line(at(between.from()), at(between.to()), FAINT, 7, "");
                    }
                }
            }
        }
    }

    /** A leaf leaves its pad level and bends up to the eye. */
    private void leaf(Layout.Joint.Leaf leaf, String colour) {
        At pad = at(leaf.pad());
        At eye = at(leaf.eye());
        Spot from = spots.getOrDefault(leaf.pad(), Spot.ORIGIN);
        Spot to = spots.getOrDefault(leaf.eye(), Spot.ORIGIN);
        At bend = at(new Spot(0.5 * (from.x() + to.x()), 0.5 * (from.y() + to.y()), from.z()));
        svg.append(String.format(
                Locale.ROOT,
                "<path d=\"M %s Q %s %s\" fill=\"none\" stroke=\"%s\" stroke-width=\"5\"/>\n",
                pair(pad),
                pair(bend),
                pair(eye),
                colour));
    }

    private void turnsAbout(Layout.Driver driver) {
        if (driver instanceof Layout.Driver.Turn turn) {
            axis(at(turn.first()), at(turn.second()));
        }
    }

    /** The line about which a hinge turns, a little longer than its two points are apart. */
    private void axis(At first, At second) {
        double length = Math.max(1e-9, first.distanceTo(second));
        double ux = (second.x() - first.x()) / length * 16;
        double uy = (second.y() - first.y()) / length * 16;
        line(first.plus(-ux, -uy), second.plus(ux, uy), INK, 1.4, "9 3 2 3");
    }

    private void ground(At at) {
        double x = at.x();
        double y = at.y();
        svg.append(String.format(
                Locale.ROOT,
                "<path d=\"M %s L %s L %s Z\" fill=\"#fff\" stroke=\"%s\" stroke-width=\"1.3\"/>\n",
                pair(at),
                pair(at.plus(-7, 12)),
                pair(at.plus(7, 12)),
                INK));
        for (int k = -1; k <= 1; k++) {
            line(new At(x + 6 * k + 3, y + 12), new At(x + 6 * k - 2, y + 17), INK, 1.1, "");
        }
    }

    private void dot(At at) {
        svg.append(String.format(
                Locale.ROOT,
                "<circle cx=\"%s\" cy=\"%s\" r=\"4.2\" fill=\"#fff\" stroke=\"%s\" stroke-width=\"1.8\"/>\n",
                number(at.x()),
                number(at.y()),
                INK));
    }

    private void ring(At at) {
        svg.append(String.format(
                Locale.ROOT,
                "<circle cx=\"%s\" cy=\"%s\" r=\"12\" fill=\"none\" stroke=\"%s\" stroke-width=\"4\"/>\n",
                number(at.x()),
                number(at.y()),
                MOVES));
    }

    /** An arrow where a movement acts: up and down, along, or round. */
    private void moves(Layout.Driver driver) {
        if (driver instanceof Layout.Driver.Rise rise) {
            Spot spot = spots.getOrDefault(rise.at(), Spot.ORIGIN);
            arrow(at(spot).plus(0, -12), at(spot).plus(0, -46));
        } else if (driver instanceof Layout.Driver.Travel travel) {
            Direction along =
                    travel.along() instanceof Layout.Along.Fixed fixed ? fixed.direction() : Direction.FORWARD;
            pointsOf.getOrDefault(travel.of(), Set.of()).stream().findFirst().ifPresent(point -> {
                Spot spot = spots.getOrDefault(point, Spot.ORIGIN);
                At from = at(spot);
                At to = at(spot.along(along, 60 / scale));
                At back = at(spot.along(along, -60 / scale));
                arrow(from.plus(0.25 * (to.x() - from.x()), 0.25 * (to.y() - from.y())), to);
                arrow(from.plus(0.25 * (back.x() - from.x()), 0.25 * (back.y() - from.y())), back);
            });
        } else if (driver instanceof Layout.Driver.Turn turn) {
            turnArrow(spots.getOrDefault(turn.first(), Spot.ORIGIN), spots.getOrDefault(turn.second(), Spot.ORIGIN));
        }
    }

    /** An arc about a line, on its upper side, in the sense of a positive turn. */
    private void turnArrow(Spot first, Spot second) {
        Direction axis = Direction.from(first, second);
        Direction beside = Math.abs(axis.z()) < UPRIGHT ? Direction.UP : Direction.FORWARD;
        Direction across = square(axis, beside);
        Direction up = square(across, axis);
        Spot middle = first.along(axis, 0.5 * first.distanceTo(second));
        At before = at(middle);
        At tip = before;
        for (int k = 0; k <= ARC_PIECES; k++) {
            double angle = ARC_REACH * (2.0 * k / ARC_PIECES - 1);
            At next = at(middle.along(up, ARC / scale * Math.cos(angle)).along(across, ARC / scale * Math.sin(angle)));
            if (k > 0) {
                line(tip, next, MOVES, 2.2, "");
            }
            before = tip;
            tip = next;
        }
        double length = Math.max(1e-9, before.distanceTo(tip));
        head(tip, (tip.x() - before.x()) / length, (tip.y() - before.y()) / length);
    }

    /** The direction at right angles to two others, by the right-hand rule. */
    private static Direction square(Direction a, Direction b) {
        return Direction.of(
                a.y() * b.z() - a.z() * b.y(), a.z() * b.x() - a.x() * b.z(), a.x() * b.y() - a.y() * b.x());
    }

    private void arrow(At from, At to) {
        line(from, to, MOVES, 2.2, "");
        double length = Math.max(1e-9, from.distanceTo(to));
        head(to, (to.x() - from.x()) / length, (to.y() - from.y()) / length);
    }

    private void head(At tip, double ux, double uy) {
        svg.append(String.format(
                Locale.ROOT,
                "<path d=\"M %s L %s L %s Z\" fill=\"%s\"/>\n",
                pair(tip.plus(4 * ux, 4 * uy)),
                pair(tip.plus(-7 * ux - 4.5 * uy, -7 * uy + 4.5 * ux)),
                pair(tip.plus(-7 * ux + 4.5 * uy, -7 * uy - 4.5 * ux)),
                MOVES));
    }

    // ---------------------------------------------------------------- wheels

    private List<LayoutReadout.Wheel> wheels() {
        List<LayoutReadout.Wheel> wheels = new ArrayList<>();
        for (LayoutReadout readout : layout.readouts()) {
            if (readout instanceof LayoutReadout.Wheel wheel && spots.containsKey(wheel.centre())) {
                wheels.add(wheel);
            }
        }
        return wheels;
    }

    private List<Spot> rim(LayoutReadout.Wheel wheel) {
        Spot centre = spots.getOrDefault(wheel.centre(), Spot.ORIGIN);
        double radius =
                centre.z() > USUAL_WHEEL_MM / 2 && centre.z() < 2 * USUAL_WHEEL_MM ? centre.z() : USUAL_WHEEL_MM;
        List<Spot> rim = new ArrayList<>();
        for (int k = 0; k < WHEEL_POINTS; k++) {
            double angle = 2 * Math.PI * k / WHEEL_POINTS;
            rim.add(centre.plus(radius * Math.cos(angle), 0, radius * Math.sin(angle)));
        }
        return rim;
    }

    private void wheel(LayoutReadout.Wheel wheel) {
        StringBuilder path = new StringBuilder();
        for (Spot spot : rim(wheel)) {
            path.append(path.length() == 0 ? "M " : " L ").append(pair(at(spot)));
        }
        svg.append("<path d=\"")
                .append(path)
                .append(" Z\" fill=\"#f5f5f5\" stroke=\"")
                .append(FAINT)
                .append("\" stroke-width=\"1.5\"/>\n");
    }

    // ---------------------------------------------------------------- names

    /** Gives each point a name in the left or the right column: the leftmost half goes to the left. */
    private void share(List<Label> left, List<Label> right) {
        List<Label> all = new ArrayList<>();
        for (Layout.MeasuredPoint point : layout.points()) {
            if (spots.containsKey(point.name())) {
                all.add(new Label(point.name(), point.optional(), at(point.name())));
            }
        }
        all.sort(Comparator.comparingDouble((Label label) -> label.point().x()).thenComparing(Label::words));
        int half = (all.size() + 1) / 2;
        left.addAll(all.subList(0, half));
        right.addAll(all.subList(half, all.size()));
        untangle(left, true);
        untangle(right, false);
    }

    /** Orders a column from top to bottom so that no two of its leading lines cross. */
    private void untangle(List<Label> column, boolean leftSide) {
        column.sort(
                Comparator.comparingDouble((Label label) -> label.point().y()).thenComparing(Label::words));
        // Each exchange of two crossing lines makes their sum shorter, so this ends.
        boolean crossed = true;
        while (crossed) {
            crossed = false;
            for (int i = 0; i < column.size(); i++) {
                for (int j = i + 1; j < column.size(); j++) {
                    At a = anchor(i, column.size(), leftSide);
                    At b = anchor(j, column.size(), leftSide);
                    At p = column.get(i).point();
                    At q = column.get(j).point();
                    if (a.distanceTo(q) + b.distanceTo(p) < a.distanceTo(p) + b.distanceTo(q) - 1e-6) {
                        Label swap = column.get(i);
                        column.set(i, column.get(j));
                        column.set(j, swap);
                        crossed = true;
                    }
                }
            }
        }
    }

    /** Where the leading line of the k-th name of a column begins. */
    private static At anchor(int k, int count, boolean leftSide) {
        double step = Math.max(ROW, Math.min(2.0 * ROW, (double) PICTURE / Math.max(1, count)));
        double y = TOP + Math.max(PICTURE, count * (double) ROW) / 2 + (k - (count - 1) / 2.0) * step;
        return new At(leftSide ? COLUMN - 8 : WIDTH - COLUMN + 8, y);
    }

    private void column(List<Label> column, boolean leftSide) {
        for (int k = 0; k < column.size(); k++) {
            Label label = column.get(k);
            At from = anchor(k, column.size(), leftSide);
            double length = Math.max(1e-9, from.distanceTo(label.point()));
            // Ends at the edge of the dot.
            At to = label.point()
                    .plus(
                            (from.x() - label.point().x()) / length * 5,
                            (from.y() - label.point().y()) / length * 5);
            boolean isMarked = marked.equals(Optional.of(label.words()));
            line(from, to, isMarked ? MOVES : QUIET, isMarked ? 2 : 0.8, "");
            String words = label.words() + (label.optional() ? " (optional)" : "");
            text(
                    svg,
                    from.x() + (leftSide ? -6 : 6),
                    from.y() + 4,
                    leftSide ? "end" : "start",
                    13,
                    isMarked ? MOVES : INK,
                    words);
        }
    }

    private void axes() {
        At origin = new At(WIDTH - 74, 64);
        String[] words = {"forward", "left", "up"};
        Direction[] ways = {Direction.FORWARD, Direction.LEFT, Direction.UP};
        for (int k = 0; k < 3; k++) {
            Spot tip = new Spot(ways[k].x(), ways[k].y(), ways[k].z());
            double dx = 30 * across(tip);
            double dy = 30 * down(tip);
            line(origin, origin.plus(dx, dy), QUIET, 1.4, "");
            String anchor = Math.abs(dx) < 3 ? "middle" : dx < 0 ? "end" : "start";
            text(
                    svg,
                    origin.x() + dx + Math.signum(dx) * 3,
                    origin.y() + dy + (k == 2 ? -4 : 8),
                    anchor,
                    11,
                    QUIET,
                    words[k]);
        }
    }

    /** Writes what colours and signs mean; returns where it ends. */
    private int legend(StringBuilder into, int top) {
        List<String> bodies = drawn();
        double x = 20;
        int y = top;
        for (String body : bodies) {
            String words = body + (layout.carriers().contains(body) ? " (of another mechanism)" : "");
            double width = 34 + 7.2 * words.length();
            if (x + width > WIDTH - 20) {
                x = 20;
                y += LEGEND_ROW;
            }
            into.append(String.format(
                    Locale.ROOT,
                    "<rect x=\"%s\" y=\"%d\" width=\"16\" height=\"10\" rx=\"2\" fill=\"%s\"/>\n",
                    number(x),
                    y - 10,
                    colour(bodies, body)));
            text(into, x + 22, y, "start", 13, INK, words);
            x += width;
        }
        y += LEGEND_ROW;
        List<String> signs = new ArrayList<>();
        if (pointsOf.containsKey(Mechanism.GROUND)) {
            signs.add("triangle: on the frame");
        }
        if (layout.joints().stream().anyMatch(joint -> joint instanceof Layout.Joint.Hinge)
                || layout.drivers().stream().anyMatch(driver -> driver instanceof Layout.Driver.Turn)) {
            signs.add("dash-dot line: turns about it");
        }
        if (!layout.drivers().isEmpty()) {
            signs.add("arrow: moved by "
                    + String.join(
                            ", ",
                            layout.drivers().stream().map(Layout.Driver::name).toList()));
        }
        signs.add("invented dimensions");
        text(into, 20, y, "start", 12, QUIET, String.join("; ", signs));
        return y;
    }

    // ---------------------------------------------------------------- pieces of SVG

    /** The corners of the smallest convex figure round some places, in order (Andrew's monotone chain). */
    private static List<At> around(List<At> points) {
        List<At> sorted = new ArrayList<>(new LinkedHashSet<>(points));
        sorted.sort(Comparator.comparingDouble(At::x).thenComparingDouble(At::y));
        List<At> hull = new ArrayList<>();
        for (int pass = 0; pass < 2; pass++) {
            int start = hull.size();
            for (At point : sorted) {
                while (hull.size() >= start + 2
                        && turn(hull.get(hull.size() - 2), hull.get(hull.size() - 1), point) <= 0) {
                    hull.remove(hull.size() - 1);
                }
                hull.add(point);
            }
            hull.remove(hull.size() - 1);
            java.util.Collections.reverse(sorted);
        }
        return hull;
    }

    private static double turn(At a, At b, At c) {
        return (b.x() - a.x()) * (c.y() - a.y()) - (b.y() - a.y()) * (c.x() - a.x());
    }

    private void polygon(List<At> corners, String colour) {
        StringBuilder path = new StringBuilder();
        corners.forEach(corner -> path.append(path.length() == 0 ? "M " : " L ").append(pair(corner)));
        svg.append(String.format(
                Locale.ROOT,
                "<path d=\"%s Z\" fill=\"%s\" fill-opacity=\"0.8\" stroke=\"%s\" stroke-width=\"3.5\""
                        + " stroke-linejoin=\"round\"/>\n",
                path,
                pale(colour),
                colour));
    }

    private static String pale(String colour) {
        StringBuilder pale = new StringBuilder("#");
        for (int c = 1; c < 7; c += 2) {
            int part = Integer.parseInt(colour.substring(c, c + 2), 16);
            pale.append(String.format(Locale.ROOT, "%02x", Math.round(255 - TINT * (255 - part))));
        }
        return pale.toString();
    }

    private void line(At from, At to, String colour, double width, String dash) {
        svg.append(String.format(
                Locale.ROOT,
                "<line x1=\"%s\" y1=\"%s\" x2=\"%s\" y2=\"%s\" stroke=\"%s\" stroke-width=\"%s\"%s/>\n",
                number(from.x()),
                number(from.y()),
                number(to.x()),
                number(to.y()),
                colour,
                number(width),
                dash.isEmpty() ? " stroke-linecap=\"round\"" : " stroke-dasharray=\"" + dash + "\""));
    }

    private static void text(
            StringBuilder into, double x, double y, String anchor, int size, String colour, String words) {
        into.append(String.format(
                Locale.ROOT,
                "<text x=\"%s\" y=\"%s\" text-anchor=\"%s\" font-size=\"%d\" fill=\"%s\">%s</text>\n",
                number(x),
                number(y),
                anchor,
                size,
                colour,
                escaped(words)));
    }

    private static String pair(At at) {
        return number(at.x()) + " " + number(at.y());
    }

    private static String number(double value) {
        return TravelUnits.decimal(value, 1);
    }

    private static String escaped(String words) {
        return words.replace("&", "&amp;")
                .replace("<", "&lt;")
                .replace(">", "&gt;")
                .replace("\"", "&quot;");
    }
}
