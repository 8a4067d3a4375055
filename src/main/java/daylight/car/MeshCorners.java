package daylight.car;

import daylight.geometry.Spot;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** Corners and triangles of a mesh as they are found in its file, made mm. */
final class MeshCorners {
    /** A finer scan than this belongs thinned out first: it would take minutes to look through. */
    private static final int MOST_TRIANGLES = 2_000_000;

    final List<Spot> spots = new ArrayList<>();
    final List<Integer> triangles = new ArrayList<>();
    private final Map<Spot, Integer> numbers = new HashMap<>();
    private final double mm;

    /**
     * Begins a mesh.
     *
     * @param mm mm in one of the file's units
     */
    MeshCorners(double mm) {
        this.mm = mm;
    }

    /** Adds a corner, or finds the same one again. */
    int shared(double x, double y, double z) throws NotAMesh {
        Spot spot = spot(x, y, z);
        Integer known = numbers.putIfAbsent(spot, spots.size());
        if (known != null) {
            return known;
        }
        spots.add(spot);
        return spots.size() - 1;
    }

    /** Adds a corner that faces name by its number. */
    void own(double x, double y, double z) throws NotAMesh {
        spots.add(spot(x, y, z));
    }

    private Spot spot(double x, double y, double z) throws NotAMesh {
        double greatest = Math.max(Math.abs(x), Math.max(Math.abs(y), Math.abs(z))) * mm;
        if (!(greatest <= Reading.FARTHEST_MM)) {
            throw new NotAMesh("a corner lies more than 100 m away; check the unit");
        }
        return new Spot(x * mm + 0.0, y * mm + 0.0, z * mm + 0.0);
    }

    /** Adds a triangle; one without area is passed over, since it bounds nothing. */
    void triangle(int a, int b, int c) throws NotAMesh {
        if (a == b || b == c || c == a) {
            return;
        }
        if (triangles.size() >= 3 * MOST_TRIANGLES) {
            throw new NotAMesh("it has more than " + MOST_TRIANGLES + " triangles");
        }
        triangles.add(a);
        triangles.add(b);
        triangles.add(c);
    }

    /** Adds a face as a fan of triangles from its first corner. */
    void face(List<Integer> corners) throws NotAMesh {
        if (corners.size() < 3) {
            throw new NotAMesh("a face has " + corners.size() + " corners");
        }
        for (int i = 1; i + 1 < corners.size(); i++) {
            triangle(corners.get(0), corners.get(i), corners.get(i + 1));
        }
    }
}
