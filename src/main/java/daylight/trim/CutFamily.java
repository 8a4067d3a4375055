package daylight.trim;

import daylight.geometry.Cut;
import daylight.geometry.Flat;
import daylight.geometry.PlateCuts;
import daylight.geometry.Shape;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * The cuts of one kind that take a region of a plate off: which of them takes the least metal, and which squares of the
 * region it depends on.
 */
sealed interface CutFamily {
    /** A cut with the area that it takes off, mm², and the squares that keep it from being smaller. */
    record Found(Cut cut, double areaMm2, Set<Forbidden.Cell> rests) {}

    /**
     * Returns the least cut that takes all squares off.
     *
     * @param stepMm distances are whole numbers of these; zero for any distance
     */
    Optional<Found> least(List<Forbidden.Cell> cells, double stepMm);

    /** Straight cuts from one edge to another. */
    record Straight(Shape.Plate plate, CutLimits limits) implements CutFamily {
        /** Places along an edge that are tried before the best is refined. */
        private static final int PLACES = 48;

        private static final int GOLDEN_STEPS = 40;
        private static final double GOLDEN = (Math.sqrt(5) - 1) / 2;
        /** A corner this near to the line holds it, mm. */
        private static final double HOLDS_MM = 1e-6;
        /** Outlines with more corners are cut only between their longer edges. */
        private static final int MOST_EDGES = 14;

        @Override
        public Optional<Found> least(List<Forbidden.Cell> cells, double stepMm) {
            double[] hull = Hull.of(cells);
            List<Cut.Straight> candidates = new ArrayList<>();
            for (int i : edges()) {
                for (int j : edges()) {
                    if (i != j) {
                        (stepMm > 0 ? stepped(i, j, hull, stepMm) : smooth(i, j, hull)).ifPresent(candidates::add);
                    }
                }
            }
            candidates.sort((a, b) -> Double.compare(area(a), area(b)));
            for (Cut.Straight cut : candidates) {
                if (PlateCuts.whyNot(plate, cut).isEmpty()
                        && limits.allows(plate, cut)
                        && Hull.isOff(plate, cut, cells)) {
                    return Optional.of(new Found(cut, area(cut), rests(cut, cells)));
                }
            }
            return Optional.empty();
        }

        private List<Integer> edges() {
            List<Integer> edges = new ArrayList<>();
            for (int i = 0; i < plate.outline().size(); i++) {
                edges.add(i);
            }
            if (edges.size() > MOST_EDGES) {
                edges.sort(
                        (a, b) -> Double.compare(PlateCuts.edgeLengthMm(plate, b), PlateCuts.edgeLengthMm(plate, a)));
                edges = new ArrayList<>(edges.subList(0, MOST_EDGES));
                edges.sort(null);
            }
            return edges;
        }

        /** The least cut between two edges with any distances. */
        private Optional<Cut.Straight> smooth(int i, int j, double[] hull) {
            double length = PlateCuts.edgeLengthMm(plate, i);
            double best = -1;
            double bestArea = Double.POSITIVE_INFINITY;
            for (int k = 0; k <= PLACES; k++) {
                double a = length * k / PLACES;
                double area = areaFrom(i, a, j, hull);
                if (area < bestArea) {
                    bestArea = area;
                    best = a;
                }
            }
            if (best < 0) {
                return Optional.empty();
            }
            double low = Math.max(0, best - length / PLACES);
            double high = Math.min(length, best + length / PLACES);
            for (int step = 0; step < GOLDEN_STEPS; step++) {
                double left = high - GOLDEN * (high - low);
                double right = low + GOLDEN * (high - low);
                double areaLeft = areaFrom(i, left, j, hull);
                double areaRight = areaFrom(i, right, j, hull);
                // Where neither clears the cut is too small: the least lies further on.
                if (areaLeft <= areaRight && areaLeft < Double.POSITIVE_INFINITY) {
                    high = right;
                } else {
                    low = left;
                }
            }
            // The least often lies where cuts stop clearing: its lower side then does not.
            double a = best;
            for (double refined : new double[] {high, (low + high) / 2}) {
                double area = areaFrom(i, refined, j, hull);
                if (area < bestArea) {
                    bestArea = area;
                    a = refined;
                }
            }
            return Optional.of(new Cut.Straight(i, a, j, reach(i, a, j, hull)));
        }

        private Optional<Cut.Straight> stepped(int i, int j, double[] hull, double stepMm) {
            double length = PlateCuts.edgeLengthMm(plate, i);
            Cut.Straight best = null;
            double bestArea = Double.POSITIVE_INFINITY;
            for (int k = 0; k * stepMm <= length; k++) {
                double a = k * stepMm;
                double b = reach(i, a, j, hull);
                if (Double.isNaN(b)) {
                    continue;
                }
                Cut.Straight cut = new Cut.Straight(i, a, j, Math.ceil(b / stepMm - 1e-9) * stepMm);
                if (cut.alongSecondMm() > PlateCuts.edgeLengthMm(plate, j) || !fits(cut)) {
                    continue;
                }
                double area = area(cut);
                if (area < bestArea) {
                    bestArea = area;
                    best = cut;
                }
            }
            return Optional.ofNullable(best);
        }

        private double areaFrom(int i, double a, int j, double[] hull) {
            double b = reach(i, a, j, hull);
            if (Double.isNaN(b)) {
                return Double.POSITIVE_INFINITY;
            }
            Cut.Straight cut = new Cut.Straight(i, a, j, b);
            return fits(cut) ? area(cut) : Double.POSITIVE_INFINITY;
        }

        private double sign() {
            return Math.signum(Hull.twiceArea(plate.outline()));
        }

        /**
         * How far along the second edge a cut must end that begins at a place of the first, so that the whole region is
         * on its far side; NaN when no end does.
         */
        private double reach(int i, double a, int j, double[] hull) {
            Flat p = PlateCuts.alongEdge(plate, i, true, a);
            Flat c = PlateCuts.corner(plate, j);
            Flat d = PlateCuts.corner(plate, j + 1);
            double length = PlateCuts.edgeLengthMm(plate, j);
            double ux = (d.x() - c.x()) / length;
            double uy = (d.y() - c.y()) / length;
            double s = sign();
            double kx = c.x() - p.x();
            double ky = c.y() - p.y();
            double b = 0;
            for (int h = 0; h < hull.length; h += 2) {
                double dx = hull[h] - p.x();
                double dy = hull[h + 1] - p.y();
                double k = s * (kx * dy - ky * dx);
                double u = s * (ux * dy - uy * dx);
                if (u < 0) {
                    b = Math.max(b, -k / u);
                } else if (k > HOLDS_MM) {
                    return Double.NaN;
                }
            }
            for (int h = 0; h < hull.length; h += 2) {
                double dx = hull[h] - p.x();
                double dy = hull[h + 1] - p.y();
                double side = s * ((kx + b * ux) * dy - (ky + b * uy) * dx);
                if (side > HOLDS_MM * Math.hypot(kx + b * ux, ky + b * uy)) {
                    return Double.NaN;
                }
            }
            return b <= length ? b : Double.NaN;
        }

        /** The conditions that a straight line can be held to at once. */
        private boolean fits(Cut.Straight cut) {
            Flat p = PlateCuts.alongEdge(plate, cut.first(), true, cut.alongFirstMm());
            Flat q = PlateCuts.alongEdge(plate, cut.second(), false, cut.alongSecondMm());
            double x = q.x() - p.x();
            double y = q.y() - p.y();
            double length = Math.hypot(x, y);
            if (length < HOLDS_MM) {
                return false;
            }
            double s = sign() / length;
            return limits.keepsAside(plate, at -> s * (x * (at.y() - p.y()) - y * (at.x() - p.x())));
        }

        private double area(Cut.Straight cut) {
            List<Flat> off = new ArrayList<>();
            off.add(PlateCuts.alongEdge(plate, cut.first(), true, cut.alongFirstMm()));
            int n = plate.outline().size();
            for (int k = (cut.first() + 1) % n; ; k = (k + 1) % n) {
                off.add(PlateCuts.corner(plate, k));
                if (k == cut.second()) {
                    break;
                }
            }
            off.add(PlateCuts.alongEdge(plate, cut.second(), false, cut.alongSecondMm()));
            return Math.abs(Hull.twiceArea(off)) / 2;
        }

        private Set<Forbidden.Cell> rests(Cut.Straight cut, List<Forbidden.Cell> cells) {
            Flat p = PlateCuts.alongEdge(plate, cut.first(), true, cut.alongFirstMm());
            Flat q = PlateCuts.alongEdge(plate, cut.second(), false, cut.alongSecondMm());
            double x = q.x() - p.x();
            double y = q.y() - p.y();
            double length = Math.hypot(x, y);
            double s = sign() / length;
            double most = Double.NEGATIVE_INFINITY;
            for (Forbidden.Cell cell : cells) {
                for (Flat at : cell.metal) {
                    most = Math.max(most, s * (x * (at.y() - p.y()) - y * (at.x() - p.x())));
                }
            }
            Set<Forbidden.Cell> rests = new LinkedHashSet<>();
            for (Forbidden.Cell cell : cells) {
                for (Flat at : cell.metal) {
                    // Squares within their own size of the line may hold it once the ones in front are smaller.
                    if (s * (x * (at.y() - p.y()) - y * (at.x() - p.x())) >= most - 0.5 * cell.halfMm) {
                        rests.add(cell);
                    }
                }
            }
            return rests;
        }
    }

    /** Corners rounded off. */
    record Round(Shape.Plate plate, CutLimits limits) implements CutFamily {
        private static final int HALVINGS = 50;

        @Override
        public Optional<Found> least(List<Forbidden.Cell> cells, double stepMm) {
            Found best = null;
            for (int c = 0; c < plate.outline().size(); c++) {
                double most = PlateCuts.largestRadius(plate, c);
                if (!(most > 0) || !(slack(new Cut.Round(c, most), cells) >= 0)) {
                    continue;
                }
                double low = 0;
                double high = most;
                for (int step = 0; step < HALVINGS; step++) {
                    double middle = (low + high) / 2;
                    if (middle > 0 && slack(new Cut.Round(c, middle), cells) >= 0) {
                        high = middle;
                    } else {
                        low = middle;
                    }
                }
                double radius = stepMm > 0 ? Math.ceil(high / stepMm - 1e-9) * stepMm : high;
                if (!(radius > 0) || radius > most) {
                    continue;
                }
                Cut.Round cut = new Cut.Round(c, radius);
                double area = area(cut);
                if ((best == null || area < best.areaMm2())
                        && PlateCuts.whyNot(plate, cut).isEmpty()
                        && limits.allows(plate, cut)) {
                    best = new Found(cut, area, rests(cut, cells));
                }
            }
            return Optional.ofNullable(best);
        }

        private double area(Cut.Round cut) {
            double tangent = PlateCuts.tangentMm(plate, cut);
            double half = Math.atan(cut.radiusMm() / tangent);
            return tangent * cut.radiusMm() - 0.5 * cut.radiusMm() * cut.radiusMm() * (Math.PI - 2 * half);
        }

        private double slack(Cut.Round cut, List<Forbidden.Cell> cells) {
            double least = Double.POSITIVE_INFINITY;
            for (Forbidden.Cell cell : cells) {
                least = Math.min(least, slack(cut, cell));
                if (least < 0) {
                    return least;
                }
            }
            return least;
        }

        /** How far a square is inside what the arc takes off, mm; negative when some of it stays. */
        private double slack(Cut.Round cut, Forbidden.Cell cell) {
            Flat c = PlateCuts.corner(plate, cut.corner());
            Flat o = PlateCuts.arcCentre(plate, cut);
            double tangent = PlateCuts.tangentMm(plate, cut);
            double slack = Hull.distance(o, cell.metal) - cut.radiusMm();
            for (int way = -1; way <= 1; way += 2) {
                Flat to = PlateCuts.corner(plate, cut.corner() + way);
                double length = Math.hypot(to.x() - c.x(), to.y() - c.y());
                for (Flat at : cell.metal) {
                    double along = ((at.x() - c.x()) * (to.x() - c.x()) + (at.y() - c.y()) * (to.y() - c.y())) / length;
                    slack = Math.min(slack, tangent - along);
                }
            }
            return slack;
        }

        private Set<Forbidden.Cell> rests(Cut.Round cut, List<Forbidden.Cell> cells) {
            double least = Double.POSITIVE_INFINITY;
            for (Forbidden.Cell cell : cells) {
                least = Math.min(least, slack(cut, cell));
            }
            Set<Forbidden.Cell> rests = new LinkedHashSet<>();
            for (Forbidden.Cell cell : cells) {
                if (slack(cut, cell) <= least + 0.5 * cell.halfMm) {
                    rests.add(cell);
                }
            }
            return rests;
        }
    }

    /** Square bites out of one edge. */
    record Notch(Shape.Plate plate, CutLimits limits) implements CutFamily {
        @Override
        public Optional<Found> least(List<Forbidden.Cell> cells, double stepMm) {
            Found best = null;
            double s = Math.signum(Hull.twiceArea(plate.outline()));
            for (int e = 0; e < plate.outline().size(); e++) {
                Flat a = PlateCuts.corner(plate, e);
                Flat b = PlateCuts.corner(plate, e + 1);
                double length = PlateCuts.edgeLengthMm(plate, e);
                double ux = (b.x() - a.x()) / length;
                double uy = (b.y() - a.y()) / length;
                double from = Double.POSITIVE_INFINITY;
                double to = Double.NEGATIVE_INFINITY;
                double deep = Double.NEGATIVE_INFINITY;
                for (Forbidden.Cell cell : cells) {
                    for (Flat at : cell.metal) {
                        double t = (at.x() - a.x()) * ux + (at.y() - a.y()) * uy;
                        from = Math.min(from, t);
                        to = Math.max(to, t);
                        deep = Math.max(deep, s * ((at.y() - a.y()) * ux - (at.x() - a.x()) * uy));
                    }
                }
                boolean fromEnd = length - to < from;
                double starts = Math.max(0, fromEnd ? length - to : from);
                double ends = Math.min(length, fromEnd ? length - from : to);
                if (stepMm > 0) {
                    starts = Math.floor(starts / stepMm + 1e-9) * stepMm;
                    ends = Math.min(length, Math.ceil(ends / stepMm - 1e-9) * stepMm);
                    deep = Math.ceil(deep / stepMm - 1e-9) * stepMm;
                }
                if (!(deep > 0) || !(ends > starts)) {
                    continue;
                }
                Cut.Notch cut = new Cut.Notch(e, fromEnd, starts, ends, deep);
                double area = (ends - starts) * deep;
                if ((best == null || area < best.areaMm2())
                        && PlateCuts.whyNot(plate, cut).isEmpty()
                        && limits.allows(plate, cut)
                        && Hull.isOff(plate, cut, cells)) {
                    Set<Forbidden.Cell> rests = new LinkedHashSet<>();
                    for (Forbidden.Cell cell : cells) {
                        for (Flat at : cell.metal) {
                            double t = (at.x() - a.x()) * ux + (at.y() - a.y()) * uy;
                            double d = s * ((at.y() - a.y()) * ux - (at.x() - a.x()) * uy);
                            double near = 0.5 * cell.halfMm;
                            if ((t <= from + near && from > 0) || (t >= to - near && to < length) || d >= deep - near) {
                                rests.add(cell);
                            }
                        }
                    }
                    best = new Found(cut, area, rests);
                }
            }
            return Optional.ofNullable(best);
        }
    }
}
