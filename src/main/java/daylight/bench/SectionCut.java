package daylight.bench;

import java.util.Arrays;

/**
 * What a plane leaves of a drawn surface, and the line along which it cuts it.
 *
 * <p>Frame: the surface's own corners, about its middle, mm. Triangles that the plane crosses are cut there, so that the
 * edge of what is left is straight. Plain arrays; used again for the next plane.
 */
final class SectionCut {
    /** Coordinates of the plane's crossings are shared by nobody: each cut triangle brings two corners of its own. */
    private float[] corners = new float[0];

    private float[] normals = new float[0];
    private int[] faces = new int[0];
    private float[] lineEnds = new float[0];
    private int cornerCount;
    private int normalCount;
    private int faceCount;
    private int lineCount;

    /**
     * Cuts a surface. What lies on the side towards which the normal points is taken away.
     *
     * @param nx the plane's unit normal in the surface's frame
     * @param offset where it lies along the normal from the surface's middle, mm
     */
    void cut(Surface surface, double nx, double ny, double nz, double offset) {
        int triangles = surface.triangles();
        cornerCount = surface.corners.length / 3;
        normalCount = surface.normals.length / 3;
        faceCount = 0;
        lineCount = 0;
        corners = Arrays.copyOf(surface.corners, Math.max(corners.length, surface.corners.length));
        System.arraycopy(surface.corners, 0, corners, 0, surface.corners.length);
        normals = Arrays.copyOf(surface.normals, Math.max(normals.length, surface.normals.length));
        System.arraycopy(surface.normals, 0, normals, 0, surface.normals.length);
        faces = faces.length >= 6 * triangles ? faces : new int[6 * triangles];
        for (int t = 0; t < triangles; t++) {
            int behind = 0;
            int bits = 0;
            for (int k = 0; k < 3; k++) {
                if (height(surface.faces[6 * t + 2 * k], nx, ny, nz, offset) <= 0) {
                    behind++;
                    bits |= 1 << k;
                }
            }
            if (behind == 3) {
                face(surface, t, 0, 1, 2);
            } else if (behind > 0) {
                // Turned so that the corner that stands alone comes first.
                int alone = behind == 1 ? Integer.numberOfTrailingZeros(bits) : Integer.numberOfTrailingZeros(~bits);
                crossed(surface, t, alone, behind == 1, nx, ny, nz, offset);
            }
        }
    }

    private double height(int corner, double nx, double ny, double nz, double offset) {
        return nx * corners[3 * corner] + ny * corners[3 * corner + 1] + nz * corners[3 * corner + 2] - offset;
    }

    private void face(Surface surface, int t, int a, int b, int c) {
        for (int k : new int[] {a, b, c}) {
            add(surface.faces[6 * t + 2 * k], surface.faces[6 * t + 2 * k + 1]);
        }
    }

    private void add(int corner, int normal) {
        if (faces.length < 2 * faceCount + 2) {
            faces = Arrays.copyOf(faces, Math.max(64, 2 * faces.length));
        }
        faces[2 * faceCount] = corner;
        faces[2 * faceCount + 1] = normal;
        faceCount++;
    }

    private void crossed(
            Surface surface, int t, int alone, boolean kept, double nx, double ny, double nz, double offset) {
        int next = (alone + 1) % 3;
        int last = (alone + 2) % 3;
        int p = surface.faces[6 * t + 2 * alone];
        int q = surface.faces[6 * t + 2 * next];
        int r = surface.faces[6 * t + 2 * last];
        int pn = surface.faces[6 * t + 2 * alone + 1];
        int qn = surface.faces[6 * t + 2 * next + 1];
        int rn = surface.faces[6 * t + 2 * last + 1];
        int a = between(p, q, nx, ny, nz, offset);
        int b = between(p, r, nx, ny, nz, offset);
        if (kept) {
            add(p, pn);
            add(a, qn);
            add(b, rn);
        } else {
            add(a, pn);
            add(q, qn);
            add(r, rn);
            add(a, pn);
            add(r, rn);
            add(b, pn);
        }
        if (lineEnds.length < 6 * lineCount + 6) {
            lineEnds = Arrays.copyOf(lineEnds, Math.max(60, 2 * lineEnds.length));
        }
        for (int k = 0; k < 3; k++) {
            lineEnds[6 * lineCount + k] = corners[3 * a + k];
            lineEnds[6 * lineCount + 3 + k] = corners[3 * b + k];
        }
        lineCount++;
    }

    private int between(int p, int q, double nx, double ny, double nz, double offset) {
        double hp = height(p, nx, ny, nz, offset);
        double hq = height(q, nx, ny, nz, offset);
        double share = hp / (hp - hq);
        if (corners.length < 3 * cornerCount + 3) {
            corners = Arrays.copyOf(corners, 2 * corners.length + 30);
        }
        for (int k = 0; k < 3; k++) {
            corners[3 * cornerCount + k] =
                    (float) (corners[3 * p + k] + share * (corners[3 * q + k] - corners[3 * p + k]));
        }
        return cornerCount++;
    }

    /** Returns x, y, z of each corner that is left or was made. */
    float[] corners() {
        return Arrays.copyOf(corners, 3 * cornerCount);
    }

    /** Returns x, y, z of each normal. */
    float[] normals() {
        return Arrays.copyOf(normals, 3 * normalCount);
    }

    /** Returns corner and normal number, three times per triangle. */
    int[] faces() {
        return Arrays.copyOf(faces, 2 * faceCount);
    }

    /** Returns x, y, z of each end of the lines along which the plane cuts; two ends per line. */
    float[] lineEnds() {
        return Arrays.copyOf(lineEnds, 6 * lineCount);
    }
}
