package daylight.trim;

import daylight.geometry.Flat;
import daylight.geometry.Shape;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/**
 * How much metal a plate has: its area, its weakest straight section, and how far its holes are from its edge. Geometry
 * only: whether the part still holds is for someone qualified.
 *
 * <p>The weakest section is looked for among straight lines right through the plate that have something that carries
 * load on either side of them or on them: bolt holes and welded edges. (A line that only cuts a free corner off carries
 * nothing.) A plate with fewer than two such things is cut through its middle in every direction. Directions are tried
 * every {@link #DEGREES} degrees, and lines through each hole's centre are among them.
 *
 * @param areaMm2 of one face, holes taken out
 * @param netSectionMm2 metal in the section that has least of it
 * @param netSectionAt the two ends of that section, in the outline's coordinates
 * @param secondMomentMm4 of the section that is weakest in bending within the plate's plane, about its own middle
 * @param sectionModulusMm3 of that section: second moment over the distance to its outermost metal
 * @param modulusAt the two ends of that section
 * @param edgeDistancesMm for each hole the least distance from its centre to the outside edge
 * @param between whether the sections lie between holes and welds (else through the middle)
 */
public record MetalLeft(
        double areaMm2,
        double netSectionMm2,
        List<Flat> netSectionAt,
        double secondMomentMm4,
        double sectionModulusMm3,
        List<Flat> modulusAt,
        List<Double> edgeDistancesMm,
        boolean between) {
    /** Step of the directions tried, degrees. */
    private static final double DEGREES = 3;
    /** Lines tried between the outermost ones of a direction. */
    private static final int LINES = 24;

    private static final double ON_LINE_MM = 1e-6;

    public MetalLeft {
        netSectionAt = List.copyOf(netSectionAt);
        modulusAt = List.copyOf(modulusAt);
        edgeDistancesMm = List.copyOf(edgeDistancesMm);
    }

    /**
     * Returns the metal of a plate.
     *
     * @param welds middles of welded edges, in the outline's coordinates
     */
    static MetalLeft of(Shape.Plate plate, List<Flat> welds) {
        List<Flat> carriers = new ArrayList<>(welds);
        plate.holes().forEach(hole -> carriers.add(hole.centre()));
        boolean between = carriers.size() >= 2;
        Search search = new Search(plate);
        for (double degrees = 0; degrees < 180; degrees += DEGREES) {
            search.direction(Math.toRadians(degrees), carriers, between);
        }
        if (between) {
            // Lines along and square to the line from each carrier to each other one: often the weakest of all.
            for (int i = 0; i < carriers.size(); i++) {
                for (int j = i + 1; j < carriers.size(); j++) {
                    Flat a = carriers.get(i);
                    Flat b = carriers.get(j);
                    double along = Math.atan2(b.y() - a.y(), b.x() - a.x());
                    search.direction(along, carriers, true);
                    search.direction(along + Math.PI / 2, carriers, true);
                }
            }
        }
        return search.found(between);
    }

    /** Area and its first moments, mm² and mm³: holes taken out. */
    private static double[] moments(Shape.Plate plate) {
        double area = 0;
        double mx = 0;
        double my = 0;
        List<Flat> outline = plate.outline();
        for (int i = 0; i < outline.size(); i++) {
            Flat a = outline.get(i);
            Flat b = outline.get((i + 1) % outline.size());
            double cross = a.x() * b.y() - b.x() * a.y();
            area += cross / 2;
            mx += cross * (a.x() + b.x()) / 6;
            my += cross * (a.y() + b.y()) / 6;
        }
        double sign = Math.signum(area);
        area *= sign;
        mx *= sign;
        my *= sign;
        for (Shape.Plate.Hole hole : plate.holes()) {
            double circle = Math.PI * hole.diameterMm() * hole.diameterMm() / 4;
            area -= circle;
            mx -= circle * hole.centre().x();
            my -= circle * hole.centre().y();
        }
        return new double[] {area, mx, my};
    }

    /** The weakest sections so far. */
    private static final class Search {
        private final Shape.Plate plate;
        private final double[] crossings;
        private double leastArea = Double.POSITIVE_INFINITY;
        private List<Flat> leastAreaAt = List.of();
        private double leastModulus = Double.POSITIVE_INFINITY;
        private double moment;
        private List<Flat> leastModulusAt = List.of();

        Search(Shape.Plate plate) {
            this.plate = plate;
            this.crossings =
                    new double[plate.outline().size() + 2 * plate.holes().size()];
        }

        void direction(double rad, List<Flat> carriers, boolean between) {
            double nx = -Math.sin(rad);
            double ny = Math.cos(rad);
            double low = Double.POSITIVE_INFINITY;
            double high = Double.NEGATIVE_INFINITY;
            List<Double> places = new ArrayList<>();
            if (between) {
                for (Flat at : carriers) {
                    double c = nx * at.x() + ny * at.y();
                    low = Math.min(low, c);
                    high = Math.max(high, c);
                    places.add(c);
                }
                for (int k = 1; k < LINES; k++) {
                    places.add(low + (high - low) * k / LINES);
                }
            } else {
                double[] moments = moments(plate);
                places.add((nx * moments[1] + ny * moments[2]) / moments[0]);
            }
            for (double place : places) {
                line(nx, ny, place);
            }
        }

        /**
         * Finds where a line enters and leaves the metal: writes the places along it, in order, and returns how many.
         * Each hole takes its exact chord out.
         */
        private int chords(double nx, double ny, double c) {
            List<Flat> outline = plate.outline();
            int count = 0;
            for (int i = 0; i < outline.size(); i++) {
                Flat p = outline.get(i);
                Flat q = outline.get((i + 1) % outline.size());
                double dp = nx * p.x() + ny * p.y() - c;
                double dq = nx * q.x() + ny * q.y() - c;
                if ((dp > 0) != (dq > 0)) {
                    double t = dp / (dp - dq);
                    double x = p.x() + t * (q.x() - p.x());
                    double y = p.y() + t * (q.y() - p.y());
                    crossings[count++] = ny * -x + nx * y;
                }
            }
            Arrays.sort(crossings, 0, count);
            for (Shape.Plate.Hole hole : plate.holes()) {
                double off = nx * hole.centre().x() + ny * hole.centre().y() - c;
                double r = hole.diameterMm() / 2;
                if (Math.abs(off) < r) {
                    double half = Math.sqrt(r * r - off * off);
                    double middle = ny * -hole.centre().x() + nx * hole.centre().y();
                    crossings[count++] = middle - half;
                    crossings[count++] = middle + half;
                }
            }
            // Holes lie within the metal and apart, so in order of place the ends pair up as before.
            Arrays.sort(crossings, 0, count);
            return count;
        }

        private void line(double nx, double ny, double c) {
            int count = chords(nx, ny, c);
            double length = 0;
            double first = 0;
            double second = 0;
            double least = Double.POSITIVE_INFINITY;
            double most = Double.NEGATIVE_INFINITY;
            for (int g = 0; g + 1 < count; g += 2) {
                double a = crossings[g];
                double b = crossings[g + 1];
                length += b - a;
                first += (b * b - a * a) / 2;
                second += (b * b * b - a * a * a) / 3;
                least = Math.min(least, a);
                most = Math.max(most, b);
            }
            if (!(length > ON_LINE_MM)) {
                return;
            }
            double t = plate.thicknessMm();
            double middle = first / length;
            double inertia = t * (second - middle * middle * length);
            double modulus = inertia / Math.max(most - middle, middle - least);
            List<Flat> at = List.of(
                    new Flat(c * nx - least * ny, c * ny + least * nx),
                    new Flat(c * nx - most * ny, c * ny + most * nx));
            if (t * length < leastArea) {
                leastArea = t * length;
                leastAreaAt = at;
            }
            if (modulus < leastModulus) {
                leastModulus = modulus;
                moment = inertia;
                leastModulusAt = at;
            }
        }

        MetalLeft found(boolean between) {
            List<Double> distances = plate.holes().stream()
                    .map(hole -> Hull.toEdge(hole.centre(), plate.outline()))
                    .toList();
            return new MetalLeft(
                    moments(plate)[0],
                    leastArea,
                    leastAreaAt,
                    moment,
                    leastModulus,
                    leastModulusAt,
                    distances,
                    between);
        }
    }

    /** Returns the hole that is nearest to the edge, from 0, if there are holes. */
    public Optional<Integer> nearestHole() {
        int nearest = -1;
        for (int h = 0; h < edgeDistancesMm.size(); h++) {
            if (nearest < 0 || edgeDistancesMm.get(h) < edgeDistancesMm.get(nearest)) {
                nearest = h;
            }
        }
        return nearest < 0 ? Optional.empty() : Optional.of(nearest);
    }
}
