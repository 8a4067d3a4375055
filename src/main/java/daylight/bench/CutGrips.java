package daylight.bench;

import daylight.geometry.Cut;
import daylight.geometry.Flat;
import daylight.geometry.PlateCuts;
import daylight.geometry.PlateEdges;
import daylight.geometry.Shape;
import daylight.trim.LeastCut;
import java.util.List;

/**
 * How a cut on a flat plate is taken hold of: where its grips are, what it becomes when one is dragged, and the
 * distances that say the same in numbers.
 *
 * <p>Frame: the plate's own outline, mm. Distances come out in whole steps of what a tape or a rule shows, so that what
 * is dragged can be marked out. A cut that comes out may still be one that cannot be made; {@link PlateCuts#whyNot}
 * says so.
 */
final class CutGrips {
    private final Shape.Plate plate;
    private final PlateEdges edges;
    private final double stepMm;

    /**
     * Grips on a plate.
     *
     * @param stepMm distances are whole numbers of these, mm
     */
    CutGrips(Shape.Plate plate, double stepMm) {
        if (!(stepMm > 0)) {
            throw new IllegalArgumentException("a step is more than zero: " + stepMm);
        }
        this.plate = plate;
        this.edges = PlateEdges.of(plate);
        this.stepMm = stepMm;
    }

    /**
     * A distance of a cut that can be typed.
     *
     * @param words what it is along or across
     * @param mm how long it is
     */
    record Distance(String words, double mm) {}

    /** Returns a cut of a kind to begin with, at the corner nearest to a place. */
    Cut first(LeastCut.Kind kind, Flat near) {
        int n = plate.outline().size();
        int corner = 0;
        for (int c = 1; c < n; c++) {
            boolean better = away(c, near) < away(corner, near);
            if (PlateCuts.largestRadius(plate, c) > 0 && (better || !(PlateCuts.largestRadius(plate, corner) > 0))) {
                corner = c;
            }
        }
        int before = (corner + n - 1) % n;
        double quarter = Math.min(length(before), length(corner)) / 4;
        return switch (kind) {
            case STRAIGHT ->
                new Cut.Straight(before, whole(quarter, length(before)), corner, whole(quarter, length(corner)));
            case ROUND ->
                new Cut.Round(
                        corner,
                        Math.max(
                                stepMm / 4,
                                Math.min(
                                        whole(quarter, Double.POSITIVE_INFINITY),
                                        PlateCuts.largestRadius(plate, corner))));
            case NOTCH -> notchAt(near, quarter);
        };
    }

    private Cut.Notch notchAt(Flat near, double wide) {
        int edge = nearestEdge(near, -1);
        double middle = along(edge, near);
        double starts = whole(Math.max(0, Math.min(middle - wide / 2, length(edge) - wide)), length(edge));
        return new Cut.Notch(
                edge,
                false,
                starts,
                starts + Math.max(stepMm, whole(wide, length(edge) - starts)),
                atLeastAStep(wide / 2));
    }

    private double atLeastAStep(double mm) {
        return Math.max(stepMm, Math.rint(mm / stepMm) * stepMm);
    }

    /** Returns the kind of a cut; holes drilled and welded are none of these. */
    static LeastCut.Kind kind(Cut cut) {
        return cut instanceof Cut.Round
                ? LeastCut.Kind.ROUND
                : cut instanceof Cut.Notch ? LeastCut.Kind.NOTCH : LeastCut.Kind.STRAIGHT;
    }

    /**
     * Returns where a cut can be taken hold of. Straight: its two ends and its middle; rounded: the middle of the arc;
     * notch: its two ends, the middle of its floor, and the middle of the edge that it is in.
     */
    List<Flat> places(Cut cut) {
        if (cut instanceof Cut.Straight straight) {
            Flat a = PlateCuts.alongEdge(plate, straight.first(), true, straight.alongFirstMm());
            Flat b = PlateCuts.alongEdge(plate, straight.second(), false, straight.alongSecondMm());
            return List.of(a, b, middle(a, b));
        }
        if (cut instanceof Cut.Round round) {
            Flat corner = PlateCuts.corner(plate, round.corner());
            Flat centre = PlateCuts.arcCentre(plate, round);
            double away = distance(corner, centre);
            double share = (away - round.radiusMm()) / away;
            return List.of(new Flat(
                    corner.x() + share * (centre.x() - corner.x()), corner.y() + share * (centre.y() - corner.y())));
        }
        if (cut instanceof Cut.Notch notch) {
            Flat a = PlateCuts.alongEdge(plate, notch.edge(), notch.fromEnd(), notch.startsMm());
            Flat b = PlateCuts.alongEdge(plate, notch.edge(), notch.fromEnd(), notch.endsMm());
            Flat middle = middle(a, b);
            Flat in = inwards(notch.edge());
            return List.of(
                    a, b, new Flat(middle.x() + notch.deepMm() * in.x(), middle.y() + notch.deepMm() * in.y()), middle);
        }
        return List.of();
    }

    /** Returns what each grip does, in words, in the order of {@link #places}. */
    static List<String> words(Cut cut) {
        return switch (kind(cut)) {
            case STRAIGHT -> List.of("first end of the cut", "second end of the cut", "the whole cut line");
            case ROUND -> List.of("the rounded corner");
            case NOTCH ->
                List.of("one side of the notch", "other side of the notch", "floor of the notch", "the whole notch");
        };
    }

    /** Returns what a cut becomes when one of its grips is dragged to a place. */
    Cut dragged(Cut cut, int grip, Flat to) {
        if (cut instanceof Cut.Straight straight) {
            return grip == 2 ? pushed(straight, to) : ended(straight, grip == 0, to);
        }
        if (cut instanceof Cut.Round round) {
            return rounded(round.corner(), to);
        }
        if (cut instanceof Cut.Notch notch) {
            return notched(notch, grip, to);
        }
        return cut;
    }

    private Cut.Straight ended(Cut.Straight cut, boolean first, Flat to) {
        int edge = nearestEdge(to, first ? cut.second() : cut.first());
        double from = whole(along(edge, to), length(edge));
        return first
                ? new Cut.Straight(edge, whole(length(edge) - from, length(edge)), cut.second(), cut.alongSecondMm())
                : new Cut.Straight(cut.first(), cut.alongFirstMm(), edge, from);
    }

    /** The line goes through the place, as steep as it was. */
    private Cut.Straight pushed(Cut.Straight cut, Flat to) {
        Flat a = PlateCuts.alongEdge(plate, cut.first(), true, cut.alongFirstMm());
        Flat b = PlateCuts.alongEdge(plate, cut.second(), false, cut.alongSecondMm());
        double x = b.x() - a.x();
        double y = b.y() - a.y();
        double first = crossing(cut.first(), true, to, x, y);
        double second = crossing(cut.second(), false, to, x, y);
        if (!Double.isFinite(first) || !Double.isFinite(second)) {
            return cut;
        }
        return new Cut.Straight(
                cut.first(), whole(first, length(cut.first())), cut.second(), whole(second, length(cut.second())));
    }

    /** How far along an edge a line through a place in a direction meets it. */
    private double crossing(int edge, boolean fromEnd, Flat through, double x, double y) {
        Flat from = PlateCuts.corner(plate, fromEnd ? edge + 1 : edge);
        Flat towards = PlateCuts.corner(plate, fromEnd ? edge : edge + 1);
        double length = length(edge);
        double ux = (towards.x() - from.x()) / length;
        double uy = (towards.y() - from.y()) / length;
        double cross = ux * y - uy * x;
        return ((through.x() - from.x()) * y - (through.y() - from.y()) * x) / cross;
    }

    private Cut.Round rounded(int corner, Flat to) {
        Flat c = PlateCuts.corner(plate, corner);
        double most = PlateCuts.largestRadius(plate, corner);
        Flat centre = PlateCuts.arcCentre(plate, new Cut.Round(corner, 1));
        double away = distance(c, centre);
        double along = ((to.x() - c.x()) * (centre.x() - c.x()) + (to.y() - c.y()) * (centre.y() - c.y())) / away;
        // The middle of an arc of radius 1 is (away - 1) from the corner.
        double radius = Math.rint(along / Math.max(1e-9, away - 1) / stepMm) * stepMm;
        return new Cut.Round(corner, Math.min(Math.max(stepMm, radius), most > 0 ? most : stepMm));
    }

    private Cut.Notch notched(Cut.Notch cut, int grip, Flat to) {
        double length = length(cut.edge());
        double wide = cut.endsMm() - cut.startsMm();
        double at = along(cut.edge(), to);
        double place = whole(cut.fromEnd() ? length - at : at, length);
        if (grip == 0) {
            double starts = Math.min(place, cut.endsMm() - stepMm);
            return new Cut.Notch(cut.edge(), cut.fromEnd(), Math.max(0, starts), cut.endsMm(), cut.deepMm());
        }
        if (grip == 1) {
            double ends = Math.max(place, cut.startsMm() + stepMm);
            return new Cut.Notch(cut.edge(), cut.fromEnd(), cut.startsMm(), ends, cut.deepMm());
        }
        if (grip == 2) {
            Flat in = inwards(cut.edge());
            Flat on = PlateCuts.corner(plate, cut.edge());
            double deep = (to.x() - on.x()) * in.x() + (to.y() - on.y()) * in.y();
            return new Cut.Notch(cut.edge(), cut.fromEnd(), cut.startsMm(), cut.endsMm(), atLeastAStep(deep));
        }
        int edge = nearestEdge(to, -1);
        double middle = along(edge, to);
        double room = Math.max(0, length(edge) - wide);
        double starts = whole(Math.max(0, Math.min(room, middle - wide / 2)), length(edge));
        return new Cut.Notch(edge, false, starts, starts + wide, cut.deepMm());
    }

    /** Returns the other piece to come off: the cut line stays. A cut that is no line stays as it is. */
    Cut otherSide(Cut cut) {
        if (!(cut instanceof Cut.Straight straight)) {
            return cut;
        }
        int from = straight.second();
        int to = straight.first();
        return new Cut.Straight(
                from, length(from) - straight.alongSecondMm(), to, length(to) - straight.alongFirstMm());
    }

    /** Returns the distances that mark a cut out. */
    List<Distance> distances(Cut cut) {
        if (cut instanceof Cut.Straight straight) {
            return List.of(
                    new Distance("along the " + edges.name(straight.first()), straight.alongFirstMm()),
                    new Distance("along the " + edges.name(straight.second()), straight.alongSecondMm()));
        }
        if (cut instanceof Cut.Round round) {
            return List.of(new Distance("radius at the " + cornerName(round.corner()), round.radiusMm()));
        }
        if (cut instanceof Cut.Notch notch) {
            String edge = edges.name(notch.edge());
            return List.of(
                    new Distance("starts along the " + edge, notch.startsMm()),
                    new Distance("ends along the " + edge, notch.endsMm()),
                    new Distance("deep", notch.deepMm()));
        }
        return List.of();
    }

    private String cornerName(int corner) {
        String name = edges.corner(corner);
        return Character.isDigit(name.charAt(0)) ? "corner " + name : name + " corner";
    }

    /**
     * Returns a cut with one of its distances typed; it is taken as typed, not rounded.
     *
     * @throws IllegalArgumentException if no cut has such a distance
     */
    Cut with(Cut cut, int distance, double mm) {
        if (cut instanceof Cut.Straight straight) {
            return distance == 0
                    ? new Cut.Straight(straight.first(), mm, straight.second(), straight.alongSecondMm())
                    : new Cut.Straight(straight.first(), straight.alongFirstMm(), straight.second(), mm);
        }
        if (cut instanceof Cut.Round round) {
            return new Cut.Round(round.corner(), mm);
        }
        if (cut instanceof Cut.Notch notch) {
            return new Cut.Notch(
                    notch.edge(),
                    notch.fromEnd(),
                    distance == 0 ? mm : notch.startsMm(),
                    distance == 1 ? mm : notch.endsMm(),
                    distance == 2 ? mm : notch.deepMm());
        }
        return cut;
    }

    // ---------------------------------------------------------------- plane geometry

    /** Which edge is nearest to a place; one edge can be left out. */
    private int nearestEdge(Flat to, int without) {
        int best = -1;
        double least = Double.POSITIVE_INFINITY;
        for (int e = 0; e < plate.outline().size(); e++) {
            if (e == without) {
                continue;
            }
            double away = distance(to, PlateCuts.alongEdge(plate, e, false, along(e, to)));
            if (away < least) {
                least = away;
                best = e;
            }
        }
        return best;
    }

    /** How far along an edge a place lies, from the edge's first corner, within the edge. */
    private double along(int edge, Flat to) {
        Flat a = PlateCuts.corner(plate, edge);
        Flat b = PlateCuts.corner(plate, edge + 1);
        double length = length(edge);
        double at = ((to.x() - a.x()) * (b.x() - a.x()) + (to.y() - a.y()) * (b.y() - a.y())) / length;
        return Math.max(0, Math.min(length, at));
    }

    /** Whole steps, within an edge. */
    private double whole(double mm, double length) {
        double steps = Math.max(0, Math.rint(mm / stepMm)) * stepMm;
        return steps <= length ? steps : Math.max(0, Math.floor(length / stepMm) * stepMm);
    }

    private double length(int edge) {
        return PlateCuts.edgeLengthMm(plate, edge);
    }

    private double away(int corner, Flat near) {
        return distance(PlateCuts.corner(plate, corner), near);
    }

    /** The direction from an edge into the metal, of length 1. */
    private Flat inwards(int edge) {
        double twice = 0;
        int n = plate.outline().size();
        for (int i = 0; i < n; i++) {
            Flat a = PlateCuts.corner(plate, i);
            Flat b = PlateCuts.corner(plate, i + 1);
            twice += a.x() * b.y() - b.x() * a.y();
        }
        Flat a = PlateCuts.corner(plate, edge);
        Flat b = PlateCuts.corner(plate, edge + 1);
        double side = Math.signum(twice) / length(edge);
        return new Flat(-side * (b.y() - a.y()), side * (b.x() - a.x()));
    }

    private static Flat middle(Flat a, Flat b) {
        return new Flat((a.x() + b.x()) / 2, (a.y() + b.y()) / 2);
    }

    private static double distance(Flat a, Flat b) {
        return Math.hypot(a.x() - b.x(), a.y() - b.y());
    }
}
