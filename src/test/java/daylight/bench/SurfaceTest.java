package daylight.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

class SurfaceTest {
    private static final double[] CUBE = {
        1000, 1000, 1000, 1100, 1000, 1000, 1100, 1100, 1000, 1000, 1100, 1000,
        1000, 1000, 1100, 1100, 1000, 1100, 1100, 1100, 1100, 1000, 1100, 1100,
    };
    private static final int[] CUBE_FACES = {
        0, 2, 1, 0, 3, 2, 4, 5, 6, 4, 6, 7, 0, 1, 5, 0, 5, 4, 1, 2, 6, 1, 6, 5, 2, 3, 7, 2, 7, 6, 3, 0, 4, 3, 4, 7,
    };

    @Test
    void aCubeIsDrawnAboutItsMiddleWithItsTwelveEdges() {
        Surface cube = Surface.of(CUBE, CUBE_FACES);
        assertThat(cube.middleX).isEqualTo(1050);
        assertThat(cube.radiusMm).isCloseTo(50 * Math.sqrt(3), within(1e-9));
        assertThat(cube.triangles()).isEqualTo(12);
        assertThat(cube.edges()).as("the diagonals of its faces are no edges").isEqualTo(12);
        for (float corner : cube.corners) {
            assertThat(Math.abs(corner)).isEqualTo(50f);
        }
    }

    @Test
    void aFaceOfACubeIsFlat() {
        Surface cube = Surface.of(CUBE, CUBE_FACES);
        for (int i = 0; i < cube.normals.length; i += 3) {
            float largest = Math.max(
                    Math.abs(cube.normals[i]), Math.max(Math.abs(cube.normals[i + 1]), Math.abs(cube.normals[i + 2])));
            assertThat(largest).isCloseTo(1f, within(1e-6f));
        }
    }

    @Test
    void aRoundWallIsSmoothAndItsRimsAreEdges() {
        int sides = 24;
        double[] xyz = new double[6 * sides];
        int[] faces = new int[6 * sides];
        for (int i = 0; i < sides; i++) {
            double a = 2 * Math.PI * i / sides;
            for (int end = 0; end < 2; end++) {
                xyz[6 * i + 3 * end] = 10 * Math.cos(a);
                xyz[6 * i + 3 * end + 1] = 10 * Math.sin(a);
                xyz[6 * i + 3 * end + 2] = 50 * end;
            }
            int low = 2 * i;
            int next = 2 * ((i + 1) % sides);
            int[] two = {low, next, next + 1, low, next + 1, low + 1};
            System.arraycopy(two, 0, faces, 6 * i, 6);
        }
        Surface wall = Surface.of(xyz, faces);
        assertThat(wall.edges()).as("two rims, no lines along the wall").isEqualTo(2 * sides);
        for (int face = 0; face < wall.faces.length; face += 2) {
            int corner = 3 * wall.faces[face];
            int normal = 3 * wall.faces[face + 1];
            double radial =
                    (wall.corners[corner] * wall.normals[normal] + wall.corners[corner + 1] * wall.normals[normal + 1])
                            / 10;
            assertThat(radial).as("points straight out").isGreaterThan(0.995);
        }
    }

    @Test
    void trianglesWithoutAreaAreLeftOut() {
        double[] xyz = {0, 0, 0, 10, 0, 0, 0, 10, 0, 10, 0, 0, 20, 0, 0};
        int[] faces = {0, 1, 2, 0, 1, 3, 0, 1, 4};
        assertThat(Surface.of(xyz, faces).triangles()).isEqualTo(1);
    }
}
