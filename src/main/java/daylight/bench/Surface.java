package daylight.bench;

import java.util.Arrays;
import java.util.HashMap;
import java.util.Map;

/**
 * A surface of triangles made ready for drawing: corners about the surface's own middle, smooth where it bends gently
 * and sharp at its edges, with the sharp edges as lines of their own.
 *
 * <p>Corners are floats, so they are kept about the middle of the part: at the size of one part a float still tells a
 * thousandth of a millimetre apart.
 *
 * <p>Immutable by agreement: the arrays are not copied, and nobody changes them.
 */
final class Surface {
    /** Faces that meet at a flatter angle than this are drawn as one smooth surface. */
    private static final double SMOOTH_COSINE = Math.cos(Math.toRadians(38));
    /** Corners nearer than this are the same corner, mm. */
    private static final double WELD_MM = 1e-3;
    /** Edge lines stand this far off the surface, so that they are not swallowed by it, mm. */
    private static final double EDGE_LIFT_MM = 0.6;

    final double middleX;
    final double middleY;
    final double middleZ;
    /** Half the diagonal of the box around the surface, mm. */
    final double radiusMm;
    /** x, y, z of each corner, about the middle. */
    final float[] corners;
    /** x, y, z of each normal. */
    final float[] normals;
    /** Corner and normal number, three times per triangle. */
    final int[] faces;
    /** x, y, z of each end of an edge line, about the middle; two ends per line. */
    final float[] edgeEnds;
    /** Low x, y, z and high x, y, z in the car frame. */
    final double[] bounds;

    private Surface(double[] bounds, float[] corners, float[] normals, int[] faces, float[] edgeEnds) {
        this.bounds = bounds;
        this.middleX = (bounds[0] + bounds[3]) / 2;
        this.middleY = (bounds[1] + bounds[4]) / 2;
        this.middleZ = (bounds[2] + bounds[5]) / 2;
        double dx = bounds[3] - bounds[0];
        double dy = bounds[4] - bounds[1];
        double dz = bounds[5] - bounds[2];
        this.radiusMm = Math.sqrt(dx * dx + dy * dy + dz * dz) / 2;
        this.corners = corners;
        this.normals = normals;
        this.faces = faces;
        this.edgeEnds = edgeEnds;
    }

    /** Returns how many triangles it has. */
    int triangles() {
        return faces.length / 6;
    }

    /** Returns how many edge lines it has. */
    int edges() {
        return edgeEnds.length / 6;
    }

    /**
     * Returns the surface of triangles.
     *
     * @param xyz corners, mm in the car frame, three numbers each
     * @param triangles three corner numbers each, counter-clockwise from outside
     */
    static Surface of(double[] xyz, int[] triangles) {
        int[] welded = weld(xyz);
        int count = 0;
        for (int w : welded) {
            count = Math.max(count, w + 1);
        }
        double[] place = new double[3 * count];
        for (int i = 0; i < welded.length; i++) {
            System.arraycopy(xyz, 3 * i, place, 3 * welded[i], 3);
        }
        int[] corner = new int[triangles.length];
        double[] faceNormal = new double[triangles.length];
        double[] area = new double[triangles.length / 3];
        int kept = 0;
        for (int t = 0; t < triangles.length / 3; t++) {
            int a = welded[triangles[3 * t]];
            int b = welded[triangles[3 * t + 1]];
            int c = welded[triangles[3 * t + 2]];
            if (a == b || b == c || c == a) {
                continue;
            }
            double twice = normal(place, a, b, c, faceNormal, 3 * kept);
            if (twice > 0) {
                corner[3 * kept] = a;
                corner[3 * kept + 1] = b;
                corner[3 * kept + 2] = c;
                area[kept] = twice;
                kept++;
            }
        }
        double[] bounds = bounds(place);
        double[] middle = {
            (bounds[0] + bounds[3]) / 2, (bounds[1] + bounds[4]) / 2, (bounds[2] + bounds[5]) / 2,
        };
        float[] corners = new float[place.length];
        for (int i = 0; i < place.length; i++) {
            corners[i] = (float) (place[i] - middle[i % 3]);
        }
        int[] faces = new int[6 * kept];
        float[] normals = smooth(corner, faceNormal, area, kept, count, faces);
        return new Surface(bounds, corners, normals, faces, edges(place, middle, corner, faceNormal, kept));
    }

    /** Numbers the corners so that those in one place share a number. */
    private static int[] weld(double[] xyz) {
        Map<Cell, Integer> known = new HashMap<>();
        int[] welded = new int[xyz.length / 3];
        for (int i = 0; i < welded.length; i++) {
            Cell cell = new Cell(
                    Math.round(xyz[3 * i] / WELD_MM),
                    Math.round(xyz[3 * i + 1] / WELD_MM),
                    Math.round(xyz[3 * i + 2] / WELD_MM));
            Integer number = known.putIfAbsent(cell, known.size());
            welded[i] = number == null ? known.size() - 1 : number;
        }
        return welded;
    }

    private record Cell(long x, long y, long z) {}

    private static double normal(double[] place, int a, int b, int c, double[] into, int at) {
        double ux = place[3 * b] - place[3 * a];
        double uy = place[3 * b + 1] - place[3 * a + 1];
        double uz = place[3 * b + 2] - place[3 * a + 2];
        double vx = place[3 * c] - place[3 * a];
        double vy = place[3 * c + 1] - place[3 * a + 1];
        double vz = place[3 * c + 2] - place[3 * a + 2];
        double nx = uy * vz - uz * vy;
        double ny = uz * vx - ux * vz;
        double nz = ux * vy - uy * vx;
        double length = Math.sqrt(nx * nx + ny * ny + nz * nz);
        if (!(length > 0)) {
            return 0;
        }
        into[at] = nx / length;
        into[at + 1] = ny / length;
        into[at + 2] = nz / length;
        return length;
    }

    private static double[] bounds(double[] place) {
        double[] bounds = {
            Double.POSITIVE_INFINITY, Double.POSITIVE_INFINITY, Double.POSITIVE_INFINITY,
            Double.NEGATIVE_INFINITY, Double.NEGATIVE_INFINITY, Double.NEGATIVE_INFINITY,
        };
        for (int i = 0; i < place.length; i++) {
            bounds[i % 3] = Math.min(bounds[i % 3], place[i]);
            bounds[3 + i % 3] = Math.max(bounds[3 + i % 3], place[i]);
        }
        return bounds;
    }

    /** Gives every corner of every face the mean normal of the faces that go on smoothly there. */
    private static float[] smooth(int[] corner, double[] faceNormal, double[] area, int kept, int count, int[] faces) {
        int[] start = new int[count + 1];
        for (int i = 0; i < 3 * kept; i++) {
            start[corner[i] + 1]++;
        }
        for (int i = 0; i < count; i++) {
            start[i + 1] += start[i];
        }
        int[] around = new int[3 * kept];
        int[] fill = start.clone();
        for (int i = 0; i < 3 * kept; i++) {
            around[fill[corner[i]]++] = i / 3;
        }
        float[] normals = new float[9 * kept];
        for (int i = 0; i < 3 * kept; i++) {
            int face = i / 3;
            double x = 0;
            double y = 0;
            double z = 0;
            for (int k = start[corner[i]]; k < start[corner[i] + 1]; k++) {
                int other = around[k];
                if (cosine(faceNormal, face, other) >= SMOOTH_COSINE) {
                    x += area[other] * faceNormal[3 * other];
                    y += area[other] * faceNormal[3 * other + 1];
                    z += area[other] * faceNormal[3 * other + 2];
                }
            }
            double length = Math.sqrt(x * x + y * y + z * z);
            normals[3 * i] = (float) (x / length);
            normals[3 * i + 1] = (float) (y / length);
            normals[3 * i + 2] = (float) (z / length);
            faces[2 * i] = corner[i];
            faces[2 * i + 1] = i;
        }
        return normals;
    }

    private static double cosine(double[] normal, int a, int b) {
        return normal[3 * a] * normal[3 * b]
                + normal[3 * a + 1] * normal[3 * b + 1]
                + normal[3 * a + 2] * normal[3 * b + 2];
    }

    /** Collects the edges at which the surface ends or turns sharply, lifted a little off it. */
    private static float[] edges(double[] place, double[] middle, int[] corner, double[] faceNormal, int kept) {
        Map<Long, Integer> first = new HashMap<>();
        Map<Long, Integer> second = new HashMap<>();
        for (int i = 0; i < 3 * kept; i++) {
            int a = corner[i];
            int b = corner[i % 3 == 2 ? i - 2 : i + 1];
            long key = ((long) Math.min(a, b) << 32) | Math.max(a, b);
            if (first.putIfAbsent(key, i) != null) {
                second.putIfAbsent(key, i);
            }
        }
        float[] ends = new float[6 * first.size()];
        int used = 0;
        for (int i = 0; i < 3 * kept; i++) {
            int a = corner[i];
            int b = corner[i % 3 == 2 ? i - 2 : i + 1];
            long key = ((long) Math.min(a, b) << 32) | Math.max(a, b);
            if (!Integer.valueOf(i).equals(first.get(key))) {
                continue;
            }
            int other = second.getOrDefault(key, i);
            if (other != i && cosine(faceNormal, i / 3, other / 3) >= SMOOTH_COSINE) {
                continue;
            }
            for (int end : new int[] {a, b}) {
                for (int k = 0; k < 3; k++) {
                    double lift = (faceNormal[i / 3 * 3 + k] + faceNormal[other / 3 * 3 + k]) / 2;
                    ends[used++] = (float) (place[3 * end + k] - middle[k] + EDGE_LIFT_MM * lift);
                }
            }
        }
        return Arrays.copyOf(ends, used);
    }
}
