package daylight.bench;

import daylight.geometry.Pose;
import daylight.motion.Handle;
import daylight.motion.Kinematics;
import daylight.units.Progress;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/**
 * The room that a part takes up over its whole travel, as one closed surface to be seen through.
 *
 * <p>A picture, not a proof: the part is put at positions a few of its cells apart, the cells that its surface passes and
 * those shut in by them are filled, and their edge is smoothed. It is drawn within about one cell; gaps are computed
 * elsewhere. Frame: the car's, mm.
 *
 * @param surface the edge of that room
 * @param cellMm side of a cell, mm
 * @param positions positions that were taken
 */
record Ghost(Surface surface, double cellMm, int positions) {
    /** Cells along the longest side: enough to look smooth beside the car, few enough for a second. */
    private static final int CELLS = 72;
    /** Positions along one, two, three and more handles. */
    private static final int[] PLACES = {1, 25, 11, 7, 5, 3, 3};

    private static final int MOST_HANDLES = PLACES.length - 1;
    /** Rounds of smoothing of what is filled. */
    private static final int ROUNDS = 2;
    /** Empty cells round the outside, so that the surface closes. */
    private static final int RIM = 3;

    private static final float INSIDE = 0.5f;

    /**
     * Returns the room of a part, or nothing where it does not move or the work was cancelled.
     *
     * @param part its number
     */
    static Optional<Ghost> of(OpenCar open, int part, Progress progress) {
        int body = open.bodies().get(part);
        List<Integer> all = open.workspace().handlesOf(body, body);
        List<Integer> handles = all.subList(0, Math.min(MOST_HANDLES, all.size()));
        if (handles.isEmpty()) {
            return Optional.empty();
        }
        int places = PLACES[handles.size()];
        int count = (int) Math.round(Math.pow(places, handles.size()));
        Kinematics kinematics = open.workspace().kinematics();
        double[] values = new double[open.workspace().handles().size()];
        Pose[] poses = new Pose[count];
        int stood = 0;
        for (int p = 0; p < count && !progress.cancelled(); p++) {
            int rest = p;
            boolean back = false;
            for (int h : handles) {
                Handle handle = open.workspace().handles().get(h);
                int place = rest % places;
                // To and fro, so that each position is near to the last.
                double share = (double) (back ? places - 1 - place : place) / (places - 1);
                back ^= rest / places % 2 == 1;
                rest /= places;
                values[h] = handle.lowest() + share * (handle.highest() - handle.lowest());
            }
            if (kinematics.stand(values).isEmpty()) {
                poses[stood++] = kinematics.pose(body);
            }
        }
        if (stood == 0 || progress.cancelled()) {
            return Optional.empty();
        }
        Grid grid = new Grid(open.surfaces().get(part), Arrays.copyOf(poses, stood));
        for (int p = 0; p < stood && !progress.cancelled(); p++) {
            grid.mark(poses[p]);
            progress.at((double) p / stood, "drawing the room that it takes");
        }
        if (progress.cancelled()) {
            return Optional.empty();
        }
        grid.fill();
        return Optional.of(new Ghost(grid.surface(), grid.cell, stood));
    }

    /** Cells of the car's frame. */
    private static final class Grid {
        private final Surface part;
        final double cell;
        private final double lowX;
        private final double lowY;
        private final double lowZ;
        private final int nx;
        private final int ny;
        private final int nz;
        private float[] filled;

        Grid(Surface part, Pose[] poses) {
            this.part = part;
            double[] bounds = {1e300, 1e300, 1e300, -1e300, -1e300, -1e300};
            for (Pose pose : poses) {
                for (int c = 0; c < part.corners.length; c += 3) {
                    double x = part.corners[c] + part.middleX;
                    double y = part.corners[c + 1] + part.middleY;
                    double z = part.corners[c + 2] + part.middleZ;
                    widen(bounds, 0, pose.rxx() * x + pose.rxy() * y + pose.rxz() * z + pose.tx());
                    widen(bounds, 1, pose.ryx() * x + pose.ryy() * y + pose.ryz() * z + pose.ty());
                    widen(bounds, 2, pose.rzx() * x + pose.rzy() * y + pose.rzz() * z + pose.tz());
                }
            }
            double longest = Math.max(bounds[3] - bounds[0], Math.max(bounds[4] - bounds[1], bounds[5] - bounds[2]));
            cell = Math.max(longest, 1) / CELLS;
            lowX = bounds[0] - RIM * cell;
            lowY = bounds[1] - RIM * cell;
            lowZ = bounds[2] - RIM * cell;
            nx = (int) Math.ceil((bounds[3] - lowX) / cell) + RIM;
            ny = (int) Math.ceil((bounds[4] - lowY) / cell) + RIM;
            nz = (int) Math.ceil((bounds[5] - lowZ) / cell) + RIM;
            filled = new float[nx * ny * nz];
        }

        private static void widen(double[] bounds, int axis, double value) {
            bounds[axis] = Math.min(bounds[axis], value);
            bounds[axis + 3] = Math.max(bounds[axis + 3], value);
        }

        private int at(int i, int j, int k) {
            return (k * ny + j) * nx + i;
        }

        /** Marks the cells that the part's surface passes at a pose. */
        void mark(Pose pose) {
            double[] corner = new double[9];
            for (int t = 0; t < part.triangles(); t++) {
                for (int c = 0; c < 3; c++) {
                    int from = 3 * part.faces[6 * t + 2 * c];
                    double x = part.corners[from] + part.middleX;
                    double y = part.corners[from + 1] + part.middleY;
                    double z = part.corners[from + 2] + part.middleZ;
                    corner[3 * c] = (pose.rxx() * x + pose.rxy() * y + pose.rxz() * z + pose.tx() - lowX) / cell;
                    corner[3 * c + 1] = (pose.ryx() * x + pose.ryy() * y + pose.ryz() * z + pose.ty() - lowY) / cell;
                    corner[3 * c + 2] = (pose.rzx() * x + pose.rzy() * y + pose.rzz() * z + pose.tz() - lowZ) / cell;
                }
                mark(corner);
            }
        }

        /** Marks the cells of places half a cell apart on a triangle. */
        private void mark(double[] c) {
            double u = length(c, 0, 3);
            double v = length(c, 0, 6);
            int across = Math.max(1, (int) Math.ceil(2 * u));
            int up = Math.max(1, (int) Math.ceil(2 * v));
            for (int i = 0; i <= across; i++) {
                double a = (double) i / across;
                for (int j = 0; j <= up; j++) {
                    double b = (double) j / up;
                    if (a + b > 1 + 1e-9) {
                        break;
                    }
                    int x = (int) (c[0] + a * (c[3] - c[0]) + b * (c[6] - c[0]));
                    int y = (int) (c[1] + a * (c[4] - c[1]) + b * (c[7] - c[1]));
                    int z = (int) (c[2] + a * (c[5] - c[2]) + b * (c[8] - c[2]));
                    filled[at(x, y, z)] = 1;
                }
            }
        }

        private static double length(double[] c, int a, int b) {
            return Math.sqrt(
                    Math.pow(c[b] - c[a], 2) + Math.pow(c[b + 1] - c[a + 1], 2) + Math.pow(c[b + 2] - c[a + 2], 2));
        }

        /** Fills what is shut in, and smooths the edge. */
        void fill() {
            boolean[] outside = new boolean[filled.length];
            int[] stack = new int[filled.length];
            int top = 0;
            stack[top++] = 0;
            outside[0] = true;
            int[] steps = {1, -1, nx, -nx, nx * ny, -nx * ny};
            while (top > 0) {
                int here = stack[--top];
                int i = here % nx;
                int j = here / nx % ny;
                int k = here / nx / ny;
                boolean[] can = {i + 1 < nx, i > 0, j + 1 < ny, j > 0, k + 1 < nz, k > 0};
                for (int s = 0; s < 6; s++) {
                    int there = here + steps[s];
                    if (can[s] && !outside[there] && filled[there] == 0) {
                        outside[there] = true;
                        stack[top++] = there;
                    }
                }
            }
            for (int c = 0; c < filled.length; c++) {
                filled[c] = outside[c] ? 0 : 1;
            }
            for (int round = 0; round < ROUNDS; round++) {
                for (int step : new int[] {1, nx, nx * ny}) {
                    float[] smooth = filled.clone();
                    for (int c = nx * ny; c < filled.length - nx * ny; c++) {
                        smooth[c] = (filled[c - step] + 2 * filled[c] + filled[c + step]) / 4;
                    }
                    filled = smooth;
                }
            }
        }

        /** The edge of what is filled: one corner in each cell of eight middles that it passes, four to a face. */
        Surface surface() {
            int[] number = new int[filled.length];
            Arrays.fill(number, -1);
            double[] xyz = new double[3 * filled.length / 4 + 3];
            int corners = 0;
            for (int k = 0; k + 1 < nz; k++) {
                for (int j = 0; j + 1 < ny; j++) {
                    for (int i = 0; i + 1 < nx; i++) {
                        if (xyz.length < 3 * corners + 3) {
                            xyz = Arrays.copyOf(xyz, 2 * xyz.length);
                        }
                        if (corner(i, j, k, xyz, 3 * corners)) {
                            number[at(i, j, k)] = corners++;
                        }
                    }
                }
            }
            int[] faces = new int[36 * Math.max(1, corners)];
            int used = 0;
            int[][] axes = {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
            for (int k = 1; k + 1 < nz; k++) {
                for (int j = 1; j + 1 < ny; j++) {
                    for (int i = 1; i + 1 < nx; i++) {
                        for (int a = 0; a < 3; a++) {
                            boolean here = filled[at(i, j, k)] >= INSIDE;
                            boolean there = filled[at(i + axes[a][0], j + axes[a][1], k + axes[a][2])] >= INSIDE;
                            if (here != there) {
                                int[] u = axes[(a + 1) % 3];
                                int[] v = axes[(a + 2) % 3];
                                int p = number[at(i, j, k)];
                                int q = number[at(i - u[0], j - u[1], k - u[2])];
                                int r = number[at(i - u[0] - v[0], j - u[1] - v[1], k - u[2] - v[2])];
                                int s = number[at(i - v[0], j - v[1], k - v[2])];
                                int[] quad = here ? new int[] {p, q, r, p, r, s} : new int[] {p, r, q, p, s, r};
                                System.arraycopy(quad, 0, faces, used, 6);
                                used += 6;
                            }
                        }
                    }
                }
            }
            return Surface.of(Arrays.copyOf(xyz, 3 * corners), Arrays.copyOf(faces, used));
        }

        /** The mean of the places where the edge crosses the sides of a cell of eight middles. */
        private boolean corner(int i, int j, int k, double[] into, int o) {
            double x = 0;
            double y = 0;
            double z = 0;
            int crossings = 0;
            for (int c = 0; c < 8; c++) {
                for (int axis = 0; axis < 3; axis++) {
                    int other = c | 1 << axis;
                    if (other == c) {
                        continue;
                    }
                    float a = filled[at(i + (c & 1), j + (c >> 1 & 1), k + (c >> 2 & 1))];
                    float b = filled[at(i + (other & 1), j + (other >> 1 & 1), k + (other >> 2 & 1))];
                    if (a >= INSIDE != b >= INSIDE) {
                        double share = (INSIDE - a) / (b - a);
                        x += (c & 1) + (axis == 0 ? share : 0);
                        y += (c >> 1 & 1) + (axis == 1 ? share : 0);
                        z += (c >> 2 & 1) + (axis == 2 ? share : 0);
                        crossings++;
                    }
                }
            }
            if (crossings == 0) {
                return false;
            }
            into[o] = lowX + (i + 0.5 + x / crossings) * cell;
            into[o + 1] = lowY + (j + 0.5 + y / crossings) * cell;
            into[o + 2] = lowZ + (k + 0.5 + z / crossings) * cell;
            return true;
        }
    }
}
