package daylight.geometry;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * Plates as they are after a cut. Frame and units: the outline's own, mm.
 *
 * <p>Outward: a rounded corner is drawn with straight pieces that touch its arc from outside, so that the metal is
 * never less than in truth, by at most {@link Solid#SAGITTA_MM}.
 */
public final class PlateCuts {
    /** Places closer than this, mm, are one place. */
    private static final double SAME_MM = 1e-6;

    private PlateCuts() {}

    /**
     * Returns a plate after a cut. Holes that lie wholly in what comes off go with it.
     *
     * @throws IllegalArgumentException if the cut cannot be made (see {@link #whyNot})
     */
    public static Shape.Plate after(Shape.Plate plate, Cut cut) {
        whyNot(plate, cut).ifPresent(why -> {
            throw new IllegalArgumentException(why);
        });
        return made(plate, cut);
    }

    /** Returns a plate after several cuts, one after another; each is in terms of what the one before it left. */
    public static Shape.Plate after(Shape.Plate plate, List<Cut> cuts) {
        Shape.Plate left = plate;
        for (Cut cut : cuts) {
            left = after(left, cut);
        }
        return left;
    }

    /** Returns why a cut cannot be made in a plate, a phrase without a full stop, or nothing when it can. */
    public static Optional<String> whyNot(Shape.Plate plate, Cut cut) {
        Optional<String> out = outOfRange(plate, cut);
        if (out.isPresent()) {
            return out;
        }
        Shape.Plate left = made(plate, cut);
        if (left.outline().size() < 3) {
            return Optional.of("nothing of the plate would be left");
        }
        if (PlateEdges.area(left.outline()) * PlateEdges.area(plate.outline()) <= 0) {
            return Optional.of("nothing of the plate would be left");
        }
        Optional<String> outline = Figure.whyNot("outline", left.outline());
        if (outline.isPresent()) {
            return Optional.of("the cut would leave the plate in two pieces, or cross itself");
        }
        return crossedHole(left, cut);
    }

    private static Optional<String> outOfRange(Shape.Plate plate, Cut cut) {
        int n = plate.outline().size();
        if (cut instanceof Cut.Straight straight) {
            if (straight.first() < 0 || straight.second() < 0 || straight.first() >= n || straight.second() >= n) {
                return Optional.of("the outline has " + n + " edges");
            }
            if (straight.first() == straight.second()) {
                return Optional.of("a straight cut goes from one edge to another");
            }
            return tooFar(plate, straight.first(), straight.alongFirstMm())
                    .or(() -> tooFar(plate, straight.second(), straight.alongSecondMm()));
        }
        if (cut instanceof Cut.Round round) {
            if (round.corner() < 0 || round.corner() >= n) {
                return Optional.of("the outline has " + n + " corners");
            }
            double most = largestRadius(plate, round.corner());
            if (!(most > 0)) {
                return Optional.of("that corner points inwards");
            }
            return round.radiusMm() > most + SAME_MM
                    ? Optional.of(
                            String.format(Locale.ROOT, "the arc runs past the end of an edge beyond %.1f mm", most))
                    : Optional.empty();
        }
        if (cut instanceof Cut.Notch notch) {
            if (notch.edge() < 0 || notch.edge() >= n) {
                return Optional.of("the outline has " + n + " edges");
            }
            return tooFar(plate, notch.edge(), notch.endsMm());
        }
        if (cut instanceof Cut.HoleFilled filled) {
            int holes = plate.holes().size();
            return filled.hole() < 0 || filled.hole() >= holes
                    ? Optional.of("the plate has " + holes + (holes == 1 ? " hole" : " holes"))
                    : Optional.empty();
        }
        return Optional.empty();
    }

    private static Optional<String> tooFar(Shape.Plate plate, int edge, double along) {
        double length = edgeLengthMm(plate, edge);
        return along > length + SAME_MM
                ? Optional.of(String.format(
                        Locale.ROOT,
                        "the %s is %.1f mm long, and the cut begins %.1f mm along it",
                        PlateEdges.of(plate).name(edge),
                        length,
                        along))
                : Optional.empty();
    }

    private static Optional<String> crossedHole(Shape.Plate left, Cut cut) {
        if (cut instanceof Cut.HoleFilled) {
            return Optional.empty();
        }
        return Figure.whyNot(left)
                .map(why -> cut instanceof Cut.HoleDrilled
                        ? "the new hole reaches another hole or the edge"
                        : "the cut runs through a hole");
    }

    /** Returns how long an edge is, mm. */
    public static double edgeLengthMm(Shape.Plate plate, int edge) {
        Flat a = corner(plate, edge);
        Flat b = corner(plate, edge + 1);
        return Math.hypot(b.x() - a.x(), b.y() - a.y());
    }

    /** Returns a corner of the outline; the numbers go on round it. */
    public static Flat corner(Shape.Plate plate, int corner) {
        int n = plate.outline().size();
        return plate.outline().get(((corner % n) + n) % n);
    }

    /** Returns the largest radius to which a corner can be rounded, mm; zero when it points inwards. */
    public static double largestRadius(Shape.Plate plate, int corner) {
        double half = halfAngle(plate, corner);
        double shorter = Math.min(edgeLengthMm(plate, corner), edgeLengthMm(plate, previous(plate, corner)));
        return half <= 0 ? 0 : shorter * Math.tan(half);
    }

    private static int previous(Shape.Plate plate, int corner) {
        int n = plate.outline().size();
        return (corner + n - 1) % n;
    }

    /** Half the angle between the two edges at a corner that points outwards, radians; zero if it points inwards. */
    private static double halfAngle(Shape.Plate plate, int corner) {
        Flat c = corner(plate, corner);
        Flat a = corner(plate, corner - 1);
        Flat b = corner(plate, corner + 1);
        double cross = (c.x() - a.x()) * (b.y() - c.y()) - (c.y() - a.y()) * (b.x() - c.x());
        if (cross * PlateEdges.area(plate.outline()) <= 0) {
            return 0;
        }
        double ax = a.x() - c.x();
        double ay = a.y() - c.y();
        double bx = b.x() - c.x();
        double by = b.y() - c.y();
        return Math.abs(Math.atan2(ax * by - ay * bx, ax * bx + ay * by)) / 2;
    }

    /** Returns the centre of the arc that rounds a corner. */
    public static Flat arcCentre(Shape.Plate plate, Cut.Round round) {
        Flat c = corner(plate, round.corner());
        double half = halfAngle(plate, round.corner());
        double[] in = inwards(plate, round.corner());
        double away = round.radiusMm() / Math.sin(half);
        return new Flat(c.x() + away * in[0], c.y() + away * in[1]);
    }

    /** How far from a corner, along each edge, an arc touches, mm. */
    public static double tangentMm(Shape.Plate plate, Cut.Round round) {
        return round.radiusMm() / Math.tan(halfAngle(plate, round.corner()));
    }

    private static double[] inwards(Shape.Plate plate, int corner) {
        double[] a = unit(corner(plate, corner), corner(plate, corner - 1));
        double[] b = unit(corner(plate, corner), corner(plate, corner + 1));
        double x = a[0] + b[0];
        double y = a[1] + b[1];
        double length = Math.hypot(x, y);
        return new double[] {x / length, y / length};
    }

    private static double[] unit(Flat from, Flat to) {
        double dx = to.x() - from.x();
        double dy = to.y() - from.y();
        double length = Math.hypot(dx, dy);
        return new double[] {dx / length, dy / length};
    }

    /** Returns the place so far from one corner towards the next one of an edge. */
    public static Flat alongEdge(Shape.Plate plate, int edge, boolean fromEnd, double mm) {
        Flat from = corner(plate, fromEnd ? edge + 1 : edge);
        double[] u = unit(from, corner(plate, fromEnd ? edge : edge + 1));
        return new Flat(from.x() + mm * u[0], from.y() + mm * u[1]);
    }

    private static Shape.Plate made(Shape.Plate plate, Cut cut) {
        if (cut instanceof Cut.HoleFilled filled) {
            List<Shape.Plate.Hole> holes = new ArrayList<>(plate.holes());
            holes.remove(filled.hole());
            return with(plate, plate.outline(), holes);
        }
        if (cut instanceof Cut.HoleDrilled drilled) {
            List<Shape.Plate.Hole> holes = new ArrayList<>(plate.holes());
            holes.add(new Shape.Plate.Hole(drilled.at(), drilled.diameterMm()));
            return with(plate, plate.outline(), holes);
        }
        List<Flat> outline = clean(outline(plate, cut));
        if (outline.size() < 3) {
            return new Shape.Plate(
                    plate.origin(), plate.along(), plate.up(), plate.thicknessMm(), plate.outline(), List.of());
        }
        List<Shape.Plate.Hole> holes =
                plate.holes().stream().filter(hole -> !isOff(outline, hole)).toList();
        return with(plate, outline, holes);
    }

    private static Shape.Plate with(Shape.Plate plate, List<Flat> outline, List<Shape.Plate.Hole> holes) {
        return new Shape.Plate(plate.origin(), plate.along(), plate.up(), plate.thicknessMm(), outline, holes);
    }

    /** Whether a hole lies wholly outside an outline. */
    private static boolean isOff(List<Flat> outline, Shape.Plate.Hole hole) {
        var edge = Figure.polygon(outline, List.of());
        if (!edge.isValid()) {
            return false;
        }
        var centre = Figure.FACTORY.createPoint(new org.locationtech.jts.geom.Coordinate(
                hole.centre().x(), hole.centre().y()));
        return edge.distance(centre) >= hole.diameterMm() / 2;
    }

    private static List<Flat> outline(Shape.Plate plate, Cut cut) {
        int n = plate.outline().size();
        List<Flat> left = new ArrayList<>();
        if (cut instanceof Cut.Straight straight) {
            left.add(alongEdge(plate, straight.first(), true, straight.alongFirstMm()));
            left.add(alongEdge(plate, straight.second(), false, straight.alongSecondMm()));
            for (int i = (straight.second() + 1) % n; ; i = (i + 1) % n) {
                left.add(corner(plate, i));
                if (i == straight.first()) {
                    break;
                }
            }
            return fromTheSameStart(plate, left);
        }
        if (cut instanceof Cut.Round round) {
            for (int i = 0; i < n; i++) {
                if (i == round.corner()) {
                    left.addAll(arc(plate, round));
                } else {
                    left.add(corner(plate, i));
                }
            }
            return left;
        }
        Cut.Notch notch = (Cut.Notch) cut;
        double length = edgeLengthMm(plate, notch.edge());
        double from = notch.fromEnd() ? length - notch.endsMm() : notch.startsMm();
        double to = notch.fromEnd() ? length - notch.startsMm() : notch.endsMm();
        for (int i = 0; i < n; i++) {
            boolean begins = i == notch.edge();
            boolean atCorner = (begins && from <= SAME_MM) || (i == (notch.edge() + 1) % n && to >= length - SAME_MM);
            if (!atCorner) {
                left.add(corner(plate, i));
            }
            if (begins) {
                Flat a = alongEdge(plate, i, false, Math.max(0, from));
                Flat b = alongEdge(plate, i, false, Math.min(length, to));
                double[] u = unit(corner(plate, i), corner(plate, i + 1));
                double side = Math.signum(PlateEdges.area(plate.outline())) * notch.deepMm();
                Flat aIn = new Flat(a.x() - side * u[1], a.y() + side * u[0]);
                Flat bIn = new Flat(b.x() - side * u[1], b.y() + side * u[0]);
                left.addAll(
                        from <= SAME_MM
                                ? List.of(aIn, bIn, b)
                                : to >= length - SAME_MM ? List.of(a, aIn, bIn) : List.of(a, aIn, bIn, b));
            }
        }
        return left;
    }

    /** Turns the list so that it begins with the first corner of the plate that is still there. */
    private static List<Flat> fromTheSameStart(Shape.Plate plate, List<Flat> left) {
        for (Flat corner : plate.outline()) {
            int at = left.lastIndexOf(corner);
            if (at >= 0) {
                List<Flat> turned = new ArrayList<>(left.subList(at, left.size()));
                turned.addAll(left.subList(0, at));
                return turned;
            }
        }
        return left;
    }

    /** Corners of a polyline that touches the arc from outside. */
    private static List<Flat> arc(Shape.Plate plate, Cut.Round round) {
        Flat centre = arcCentre(plate, round);
        double tangent = tangentMm(plate, round);
        Flat from = alongEdge(plate, previous(plate, round.corner()), true, tangent);
        Flat to = alongEdge(plate, round.corner(), false, tangent);
        double begin = Math.atan2(from.y() - centre.y(), from.x() - centre.x());
        double end = Math.atan2(to.y() - centre.y(), to.x() - centre.x());
        double turn = Math.IEEEremainder(end - begin, 2 * Math.PI);
        double r = round.radiusMm();
        // A tangent polygon's corner stands r (1 / cos(step / 2) - 1) outside the arc.
        double most = 2 * Math.acos(r / (r + Solid.SAGITTA_MM));
        int steps = Math.max(2, (int) Math.ceil(Math.abs(turn) / most));
        double step = turn / steps;
        double out = r / Math.cos(step / 2);
        List<Flat> corners = new ArrayList<>();
        corners.add(from);
        for (int k = 0; k < steps; k++) {
            double angle = begin + (k + 0.5) * step;
            corners.add(new Flat(centre.x() + out * Math.cos(angle), centre.y() + out * Math.sin(angle)));
        }
        corners.add(to);
        return corners;
    }

    private static List<Flat> clean(List<Flat> corners) {
        List<Flat> clean = new ArrayList<>();
        for (Flat corner : corners) {
            if (clean.isEmpty() || apart(clean.get(clean.size() - 1), corner)) {
                clean.add(corner);
            }
        }
        while (clean.size() > 1 && !apart(clean.get(0), clean.get(clean.size() - 1))) {
            clean.remove(clean.size() - 1);
        }
        return clean;
    }

    private static boolean apart(Flat a, Flat b) {
        return Math.hypot(a.x() - b.x(), a.y() - b.y()) > SAME_MM;
    }
}
