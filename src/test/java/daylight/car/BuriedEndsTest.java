package daylight.car;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Hoses that end inside something: one complaint each, at the end's place. */
class BuriedEndsTest {
    @TempDir
    private Path folder = Path.of("");

    private static String car(String parts) {
        return """
                daylight: 1
                car: buried bench
                units: mm
                moves:
                  engine: {on: chassis, sideways: 10}
                parts:
                  left hose:
                    kinds: [wiring loom]
                    hose:
                      from: {on: chassis, at: [0, 300, 500], leaves: up}
                      to: {on: engine, at: [200, 300, 500], leaves: up}
                      free length: 320
                      od: 8
                      least bend radius: 20
                """ + parts;
    }

    private List<Complaint> complaints(String text) throws IOException {
        Path file = folder.resolve("buried.yaml");
        Files.writeString(file, text, StandardCharsets.UTF_8);
        try {
            CarFile.read(file);
            return List.of();
        } catch (CarFileException e) {
            return e.complaints();
        }
    }

    private void cube(double size, boolean closed) throws IOException {
        StringBuilder stl = new StringBuilder("solid cube\n");
        int[][] corners = {{0, 0, 0}, {1, 0, 0}, {1, 1, 0}, {0, 1, 0}, {0, 0, 1}, {1, 0, 1}, {1, 1, 1}, {0, 1, 1}};
        int[][] faces = {
            {0, 2, 1}, {0, 3, 2}, {4, 5, 6}, {4, 6, 7}, {0, 1, 5}, {0, 5, 4}, {1, 2, 6}, {1, 6, 5}, {2, 3, 7},
            {2, 7, 6}, {3, 0, 4}, {3, 4, 7}
        };
        for (int f = 0; f < (closed ? faces.length : faces.length - 2); f++) {
            stl.append("facet normal 0 0 0\nouter loop\n");
            for (int corner : faces[f]) {
                stl.append("vertex ")
                        .append(size * (corners[corner][0] - 0.5) + 0)
                        .append(' ')
                        .append(size * (corners[corner][1] - 0.5) + 300)
                        .append(' ')
                        .append(size * (corners[corner][2] - 0.5) + 500)
                        .append('\n');
            }
            stl.append("endloop\nendfacet\n");
        }
        Files.writeString(folder.resolve("cube.stl"), stl.append("endsolid cube\n"), StandardCharsets.US_ASCII);
    }

    @Test
    void anEndInsideATurnedPartIsFoundAndOneInItsHollowIsNot() throws IOException {
        String solid = "  drum: {on: chassis, turned: {centre: [0, 300, 500], axis: left, profile: "
                + "[[-60, 0], [60, 0], [60, 80], [-60, 80]]}}\n";
        assertThat(complaints(car(solid)))
                .singleElement()
                .satisfies(complaint -> assertThat(complaint.toString())
                        .startsWith("buried.yaml:10:13:")
                        .contains("the hose begins inside \"drum\"")
                        .contains("write straight:"));
        String hollow = "  drum: {on: chassis, turned: {centre: [0, 300, 500], axis: left, profile: "
                + "[[-60, 60], [60, 60], [60, 80], [-60, 80]]}}\n";
        assertThat(complaints(car(hollow))).isEmpty();
    }

    @Test
    void anEndInsideAClosedScanIsFoundAndAnOpenScanHasNoInside() throws IOException {
        String scan = "  casting: {on: chassis, mesh: cube.stl, unit: mm}\n";
        cube(100, true);
        assertThat(complaints(car(scan)))
                .singleElement()
                .satisfies(
                        complaint -> assertThat(complaint.toString()).contains("the hose begins inside \"casting\""));
        cube(100, false);
        assertThat(complaints(car(scan))).isEmpty();
    }

    @Test
    void anEndOfAMirroredHoseIsFoundAtTheMirror() throws IOException {
        String right = """
                  right hose: {mirror: left hose}
                  right block: {on: engine, box: {from corner: [150, -350, 450], to corner: [250, -250, 550]}}
                """;
        assertThat(complaints(car(right)))
                .singleElement()
                .satisfies(complaint -> assertThat(complaint.toString())
                        .startsWith("buried.yaml:15:")
                        .contains("the hose ends inside \"right block\""));
        // What is wrong with the hose itself is said once, not again for its image.
        String both = """
                  left block: {on: engine, box: {from corner: [150, 350, 450], to corner: [250, 250, 550]}}
                  right block: {mirror: left block}
                  right hose: {mirror: left hose}
                """;
        assertThat(complaints(car(both)))
                .singleElement()
                .satisfies(
                        complaint -> assertThat(complaint.toString()).contains("the hose ends inside \"left block\""));
    }

    @Test
    void aRuleMayNameAKindThatOnlyAHoseHas() {
        String rule = "rules: [{between: [wiring loom, any], at least: 5, source: test}]\n";
        assertThatCode(() -> CarFile.read("loom.yaml", car(rule))).doesNotThrowAnyException();
        assertThatThrownBy(() -> CarFile.read("loom.yaml", car(rule.replace("loom,", "lom,"))))
                .hasMessageContaining("no part, kind or body is called \"wiring lom\"");
    }
}
