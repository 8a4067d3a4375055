package daylight.report;

import daylight.geometry.Direction;
import daylight.geometry.Flat;
import daylight.geometry.Pose;
import daylight.geometry.Shape;
import daylight.geometry.Skin;
import daylight.geometry.Spot;
import java.awt.geom.Area;
import java.awt.geom.Path2D;
import java.awt.geom.PathIterator;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** A part's surface where it is, ready to be cut by planes. */
final class CutSkin {
    /** Ends of cut triangles nearer than this are the same, mm: far above rounding; a fan cut near its tip has steps of
     * 1e-5. */
    private static final double SAME_MM = 1e-6;
    /** A chain whose ends are this near is closed, mm: what is missing is not seen. */
    private static final double CLOSED_MM = 1e-2;

    private static final int CORNER = 3;

    private final double[] spots;
    private final int[] faces;

    /**
     * @param sagittaMm as {@link Skin#of}
     */
    CutSkin(Shape shape, Pose pose, double sagittaMm) {
        Skin skin = Skin.of(shape, sagittaMm);
        double[] vertices = skin.vertices();
        spots = new double[vertices.length];
        for (int i = 0; i < vertices.length; i += CORNER) {
            double x = vertices[i];
            double y = vertices[i + 1];
            double z = vertices[i + 2];
            spots[i] = pose.rxx() * x + pose.rxy() * y + pose.rxz() * z + pose.tx();
            spots[i + 1] = pose.ryx() * x + pose.ryy() * y + pose.ryz() * z + pose.ty();
            spots[i + 2] = pose.rzx() * x + pose.rzy() * y + pose.rzz() * z + pose.tz();
        }
        faces = skin.faces();
    }

    /**
     * A cut by a plane.
     *
     * @param loops closed outlines, counter-clockwise about the metal, mm across and up from the plane's origin
     * @param open runs that do not close, as an open surface has
     */
    record Cut(List<List<Flat>> loops, List<List<Flat>> open) {
        Cut {
            loops = List.copyOf(loops);
            open = List.copyOf(open);
        }

        /** Returns the area inside a square window about the origin, mm2; overlapping outlines count twice. */
        double areaMm2(double half) {
            double area = 0;
            for (List<Flat> loop : loops) {
                area += signedArea(clipped(loop, half));
            }
            return Math.abs(area);
        }

        /** Returns how far a place is from the nearest outline, mm; infinite when nothing was cut. */
        double distanceTo(Flat place) {
            double least = Double.POSITIVE_INFINITY;
            for (List<List<Flat>> runs : List.of(loops, open)) {
                for (List<Flat> run : runs) {
                    int pieces = run.size() - (runs == loops ? 0 : 1);
                    for (int i = 0; i < pieces; i++) {
                        least = Math.min(least, toPiece(place, run.get(i), run.get((i + 1) % run.size())));
                    }
                }
            }
            return least;
        }

        private static double toPiece(Flat place, Flat a, Flat b) {
            double dx = b.x() - a.x();
            double dy = b.y() - a.y();
            double length = dx * dx + dy * dy;
            double share = length > 0
                    ? Math.max(0, Math.min(1, ((place.x() - a.x()) * dx + (place.y() - a.y()) * dy) / length))
                    : 0;
            return Math.hypot(place.x() - a.x() - share * dx, place.y() - a.y() - share * dy);
        }

        /** Returns the same with overlapping outlines (the members of a group) joined to one. */
        Cut joined() {
            Path2D path = new Path2D.Double(Path2D.WIND_NON_ZERO);
            for (List<Flat> loop : loops) {
                for (int i = 0; i < loop.size(); i++) {
                    if (i == 0) {
                        path.moveTo(loop.get(i).x(), loop.get(i).y());
                    } else {
                        path.lineTo(loop.get(i).x(), loop.get(i).y());
                    }
                }
                path.closePath();
            }
            return new Cut(outlines(new Area(path)), open);
        }
    }

    /** Returns the closed outlines of an area. */
    static List<List<Flat>> outlines(Area area) {
        List<List<Flat>> loops = new ArrayList<>();
        List<Flat> loop = new ArrayList<>();
        double[] at = new double[6];
        for (PathIterator i = area.getPathIterator(null); !i.isDone(); i.next()) {
            int kind = i.currentSegment(at);
            if (kind == PathIterator.SEG_MOVETO) {
                loop = new ArrayList<>();
            }
            if (kind == PathIterator.SEG_CLOSE) {
                if (loop.size() >= CORNER) {
                    loops.add(loop);
                }
            } else {
                loop.add(new Flat(at[0], at[1]));
            }
        }
        return loops;
    }

    /** One cut triangle: from where to where. */
    private record Run(Flat from, Flat to) {}

    /**
     * Cuts the surface.
     *
     * @param origin on the plane
     * @param across first direction in the plane
     * @param up second direction in the plane, at right angles to the first
     */
    Cut by(Spot origin, Direction across, Direction up) {
        double nx = across.y() * up.z() - across.z() * up.y();
        double ny = across.z() * up.x() - across.x() * up.z();
        double nz = across.x() * up.y() - across.y() * up.x();
        double[] off = new double[spots.length / CORNER];
        for (int v = 0; v < off.length; v++) {
            off[v] = (spots[CORNER * v] - origin.x()) * nx
                    + (spots[CORNER * v + 1] - origin.y()) * ny
                    + (spots[CORNER * v + 2] - origin.z()) * nz;
        }
        List<Run> runs = new ArrayList<>();
        for (int f = 0; f < faces.length; f += CORNER) {
            for (int k = 0; k < CORNER; k++) {
                int lone = faces[f + k];
                int next = faces[f + (k + 1) % CORNER];
                int last = faces[f + (k + 2) % CORNER];
                boolean above = off[lone] >= 0;
                if (above != off[next] >= 0 && above != off[last] >= 0) {
                    Flat one = crossing(lone, next, off, origin, across, up);
                    Flat two = crossing(lone, last, off, origin, across, up);
                    // Counter-clockwise from outside: with the lone corner on the viewer's side, metal is on the left.
                    runs.add(above ? new Run(one, two) : new Run(two, one));
                }
            }
        }
        return chained(runs);
    }

    private Flat crossing(int a, int b, double[] off, Spot origin, Direction across, Direction up) {
        // The same edge gives the same place, whichever of its faces asks.
        boolean order = CORNER * a < CORNER * b;
        int p = CORNER * (order ? a : b);
        int q = CORNER * (order ? b : a);
        double share = off[p / CORNER] / (off[p / CORNER] - off[q / CORNER]);
        double x = spots[p] + share * (spots[q] - spots[p]) - origin.x();
        double y = spots[p + 1] + share * (spots[q + 1] - spots[p + 1]) - origin.y();
        double z = spots[p + 2] + share * (spots[q + 2] - spots[p + 2]) - origin.z();
        return new Flat(x * across.x() + y * across.y() + z * across.z(), x * up.x() + y * up.y() + z * up.z());
    }

    private static Cut chained(List<Run> runs) {
        Map<Long, List<Integer>> byStart = new HashMap<>();
        boolean[] used = new boolean[runs.size()];
        for (int r = 0; r < runs.size(); r++) {
            byStart.computeIfAbsent(key(runs.get(r).from(), 0, 0), k -> new ArrayList<>())
                    .add(r);
        }
        List<List<Flat>> loops = new ArrayList<>();
        List<List<Flat>> open = new ArrayList<>();
        for (int r = 0; r < runs.size(); r++) {
            if (used[r]) {
                continue;
            }
            List<Flat> chain = new ArrayList<>();
            chain.add(runs.get(r).from());
            int at = r;
            while (at >= 0) {
                used[at] = true;
                chain.add(runs.get(at).to());
                at = following(runs.get(at).to(), runs, used, byStart);
            }
            if (chain.size() > CORNER && apart(chain.get(0), chain.get(chain.size() - 1)) < CLOSED_MM) {
                chain.remove(chain.size() - 1);
                loops.add(chain);
            } else if (chain.stream().anyMatch(place -> apart(place, chain.get(0)) > SAME_MM)) {
                open.add(chain);
            }
        }
        return new Cut(loops, open);
    }

    private static int following(Flat end, List<Run> runs, boolean[] used, Map<Long, List<Integer>> byStart) {
        int best = -1;
        double nearest = SAME_MM;
        for (int dx = -1; dx <= 1; dx++) {
            for (int dy = -1; dy <= 1; dy++) {
                for (int r : byStart.getOrDefault(key(end, dx, dy), List.of())) {
                    double away = apart(runs.get(r).from(), end);
                    if (!used[r] && away < nearest) {
                        nearest = away;
                        best = r;
                    }
                }
            }
        }
        return best;
    }

    private static long key(Flat flat, int dx, int dy) {
        long x = (long) Math.floor(flat.x() / SAME_MM) + dx;
        long y = (long) Math.floor(flat.y() / SAME_MM) + dy;
        return x * 1_000_003_919L + y;
    }

    private static double apart(Flat a, Flat b) {
        return Math.hypot(a.x() - b.x(), a.y() - b.y());
    }

    private static double signedArea(List<Flat> loop) {
        double twice = 0;
        for (int i = 0; i < loop.size(); i++) {
            Flat a = loop.get(i);
            Flat b = loop.get((i + 1) % loop.size());
            twice += a.x() * b.y() - b.x() * a.y();
        }
        return twice / 2;
    }

    /** A loop cut off at the edges of a square window (Sutherland and Hodgman). */
    private static List<Flat> clipped(List<Flat> loop, double half) {
        List<Flat> now = loop;
        for (int side = 0; side < 4 && !now.isEmpty(); side++) {
            List<Flat> kept = new ArrayList<>();
            for (int i = 0; i < now.size(); i++) {
                Flat a = now.get(i);
                Flat b = now.get((i + 1) % now.size());
                double da = half - beyond(a, side);
                double db = half - beyond(b, side);
                if (da >= 0) {
                    kept.add(a);
                }
                if (da >= 0 != db >= 0) {
                    double share = da / (da - db);
                    kept.add(new Flat(a.x() + share * (b.x() - a.x()), a.y() + share * (b.y() - a.y())));
                }
            }
            now = kept;
        }
        return now;
    }

    private static double beyond(Flat flat, int side) {
        return switch (side) {
            case 0 -> flat.x();
            case 1 -> 0.0 - flat.x();
            case 2 -> flat.y();
            default -> 0.0 - flat.y();
        };
    }
}
