package daylight.report;

import daylight.car.Car;
import daylight.geometry.Direction;
import daylight.geometry.Flat;
import daylight.geometry.Skin;
import daylight.geometry.Spot;
import java.awt.geom.Area;
import java.awt.geom.Path2D;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.Set;

/**
 * A car at ride height seen square on: the outline of every part, the further ones first. Outlines are silhouettes; what
 * a part hides of itself is not drawn.
 */
final class SquareView {
    /** Round parts are drawn this well; a car is some metres long on a sheet some hands wide. */
    private static final double SAGITTA_MM = 3;
    /** A surface of more triangles than this is drawn as the hull of its corners, which takes no time. */
    private static final int MOST_TRIANGLES = 4000;

    /** A part that takes more of a view than this is drawn as its outline alone, unless it is one that matters. */
    private static final double COVER_SHARE = 0.1;

    private static final int CORNER = 3;
    /** Corners of an outline nearer than this are one, mm. */
    private static final double FINE_MM = 1.2;

    private final String name;
    private final Direction right;
    private final Direction upwards;
    private final List<Outline> outlines;
    private final double[] extent;

    /** A part's silhouette: loops in mm across and up, and how near the viewer its middle is. */
    private record Outline(String part, List<List<Flat>> loops, double near) {
        double areaMm2() {
            double twice = 0;
            for (List<Flat> loop : loops) {
                for (int i = 0; i < loop.size(); i++) {
                    Flat a = loop.get(i);
                    Flat b = loop.get((i + 1) % loop.size());
                    twice += a.x() * b.y() - b.x() * a.y();
                }
            }
            return Math.abs(twice) / 2;
        }
    }

    /**
     * Where a view lies in a picture.
     *
     * @param scale px per mm
     * @param x0 px of the view's zero across
     * @param y0 px of the view's zero up
     */
    record Frame(double scale, double x0, double y0) {
        double x(double across) {
            return x0 + scale * across;
        }

        double y(double up) {
            return y0 - scale * up;
        }
    }

    private SquareView(String name, Direction right, Direction upwards, List<Outline> outlines) {
        this.name = name;
        this.right = right;
        this.upwards = upwards;
        this.outlines = outlines;
        this.extent = new double[] {
            Double.POSITIVE_INFINITY, Double.POSITIVE_INFINITY, Double.NEGATIVE_INFINITY, Double.NEGATIVE_INFINITY
        };
        for (Outline outline : outlines) {
            for (List<Flat> loop : outline.loops()) {
                for (Flat flat : loop) {
                    extent[0] = Math.min(extent[0], flat.x());
                    extent[1] = Math.min(extent[1], flat.y());
                    extent[2] = Math.max(extent[2], flat.x());
                    extent[3] = Math.max(extent[3], flat.y());
                }
            }
        }
    }

    /** Returns the three views of a car: from the left, from above (both with the front to the left), from the front. */
    static List<SquareView> of(Car car) {
        List<double[]> vertices = new ArrayList<>();
        List<int[]> faces = new ArrayList<>();
        for (Car.Part part : car.parts()) {
            Skin skin = Skin.of(part.shape(), SAGITTA_MM);
            vertices.add(skin.vertices());
            faces.add(skin.faces());
        }
        Direction back = Direction.FORWARD.reversed();
        return List.of(
                view("from the left", back, Direction.UP, car, vertices, faces),
                view("from above", back, Direction.LEFT.reversed(), car, vertices, faces),
                view("from the front", Direction.LEFT, Direction.UP, car, vertices, faces));
    }

    private static SquareView view(
            String name, Direction right, Direction upwards, Car car, List<double[]> vertices, List<int[]> faces) {
        Direction toViewer = Section.cross(right, upwards);
        List<Outline> outlines = new ArrayList<>();
        for (int p = 0; p < car.parts().size(); p++) {
            double[] spots = vertices.get(p);
            double near = 0;
            Flat[] flats = new Flat[spots.length / CORNER];
            for (int v = 0; v < flats.length; v++) {
                Spot spot = new Spot(spots[CORNER * v], spots[CORNER * v + 1], spots[CORNER * v + 2]);
                flats[v] = new Flat(along(spot, right), along(spot, upwards));
                near += along(spot, toViewer) / flats.length;
            }
            outlines.add(new Outline(car.parts().get(p).name(), silhouette(flats, faces.get(p)), near));
        }
        outlines.sort(Comparator.comparingDouble(Outline::near));
        return new SquareView(name, right, upwards, outlines);
    }

    private static double along(Spot spot, Direction way) {
        return spot.x() * way.x() + spot.y() * way.y() + spot.z() * way.z();
    }

    /** The outline of a surface: the faces that look at the viewer, as one area. */
    private static List<List<Flat>> silhouette(Flat[] flats, int[] faces) {
        if (faces.length / CORNER > MOST_TRIANGLES) {
            return List.of(hull(flats));
        }
        Path2D path = new Path2D.Double(Path2D.WIND_NON_ZERO);
        for (int f = 0; f < faces.length; f += CORNER) {
            Flat a = flats[faces[f]];
            Flat b = flats[faces[f + 1]];
            Flat c = flats[faces[f + 2]];
            if ((b.x() - a.x()) * (c.y() - a.y()) - (c.x() - a.x()) * (b.y() - a.y()) > 0) {
                path.moveTo(a.x(), a.y());
                path.lineTo(b.x(), b.y());
                path.lineTo(c.x(), c.y());
                path.closePath();
            }
        }
        return CutSkin.outlines(new Area(path)).stream()
                .map(SquareView::thinned)
                .filter(loop -> loop.size() >= CORNER)
                .toList();
    }

    private static List<Flat> thinned(List<Flat> loop) {
        List<Flat> kept = new ArrayList<>();
        for (Flat flat : loop) {
            Flat last = kept.isEmpty() ? null : kept.get(kept.size() - 1);
            if (last == null || Math.hypot(flat.x() - last.x(), flat.y() - last.y()) > FINE_MM) {
                kept.add(flat);
            }
        }
        return kept;
    }

    /** The convex hull of flat places (Andrew's monotone chain). */
    private static List<Flat> hull(Flat[] flats) {
        List<Flat> sorted = new ArrayList<>(List.of(flats));
        sorted.sort(Comparator.comparingDouble(Flat::x).thenComparingDouble(Flat::y));
        List<Flat> hull = new ArrayList<>();
        for (int pass = 0; pass < 2; pass++) {
            int start = hull.size();
            for (Flat flat : sorted) {
                while (hull.size() >= start + 2
                        && turn(hull.get(hull.size() - 2), hull.get(hull.size() - 1), flat) <= 0) {
                    hull.remove(hull.size() - 1);
                }
                hull.add(flat);
            }
            hull.remove(hull.size() - 1);
            Collections.reverse(sorted);
        }
        return hull;
    }

    private static double turn(Flat a, Flat b, Flat c) {
        return (b.x() - a.x()) * (c.y() - a.y()) - (c.x() - a.x()) * (b.y() - a.y());
    }

    String name() {
        return name;
    }

    double across(Spot spot) {
        return along(spot, right);
    }

    double up(Spot spot) {
        return along(spot, upwards);
    }

    double widthMm() {
        return Math.max(1, extent[2] - extent[0]);
    }

    double heightMm() {
        return Math.max(1, extent[3] - extent[1]);
    }

    /** Returns the frame that puts the whole view into a box of the picture, in its middle. */
    Frame fitted(double x, double y, double width, double height) {
        return placed(Math.min(width / widthMm(), height / heightMm()), x + width / 2, y + height / 2);
    }

    /** Returns the frame at a scale with the view's middle at a place. */
    Frame placed(double scale, double middleX, double middleY) {
        return new Frame(
                scale, middleX - scale * (extent[0] + extent[2]) / 2, middleY + scale * (extent[1] + extent[3]) / 2);
    }

    /** Returns all outlines as one path, for a view so small that only the car's shape matters. */
    String ground(Frame frame) {
        StringBuilder path = new StringBuilder();
        for (Outline outline : outlines) {
            for (List<Flat> loop : outline.loops()) {
                double[] box = box(loop);
                if ((box[2] - box[0]) * frame.scale() > 1.5 && (box[3] - box[1]) * frame.scale() > 1.5) {
                    append(path, hull(loop.toArray(new Flat[0])), frame, 1.5);
                }
            }
        }
        return path.toString();
    }

    private static double[] box(List<Flat> loop) {
        double[] box = {1e300, 1e300, -1e300, -1e300};
        for (Flat flat : loop) {
            box[0] = Math.min(box[0], flat.x());
            box[1] = Math.min(box[1], flat.y());
            box[2] = Math.max(box[2], flat.x());
            box[3] = Math.max(box[3], flat.y());
        }
        return box;
    }

    private static void append(StringBuilder path, List<Flat> loop, Frame frame, double finePx) {
        boolean first = true;
        double lastX = 0;
        double lastY = 0;
        for (Flat flat : loop) {
            double px = frame.x(flat.x());
            double py = frame.y(flat.y());
            if (first || Math.hypot(px - lastX, py - lastY) >= finePx) {
                path.append(first ? path.isEmpty() ? "M " : " M " : " L ")
                        .append(TravelUnits.shortest(px, 1))
                        .append(' ')
                        .append(TravelUnits.shortest(py, 1));
                first = false;
                lastX = px;
                lastY = py;
            }
        }
        path.append(" Z");
    }

    /** Draws every part, the further ones first; the ones named stand out. */
    void draw(Drawing drawing, Frame frame, Set<String> standOut) {
        for (Outline outline : outlines) {
            StringBuilder path = new StringBuilder();
            for (List<Flat> loop : outline.loops()) {
                append(path, loop, frame, 0.3);
            }
            boolean out = standOut.contains(outline.part());
            // A hood or a bed seen flat would hide all that lies under it.
            boolean cover = !out && outline.areaMm2() > COVER_SHARE * widthMm() * heightMm();
            drawing.path(
                    path.toString(),
                    out ? "#c4c4c4" : cover ? "none" : "#f3f3f3",
                    Drawing.Pen.of(out ? "#333333" : "#a8a8a8", out ? 0.9 : 0.5));
        }
    }
}
