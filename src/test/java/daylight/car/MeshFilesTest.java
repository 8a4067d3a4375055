package daylight.car;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import daylight.geometry.MeshFindings;
import daylight.geometry.Shape;
import daylight.geometry.Spot;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Base64;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** One block in every format says the same; every broken file gets one clear complaint. */
class MeshFilesTest {
    private static final int[][] CORNERS = {
        {0, 0, 0}, {4, 0, 0}, {4, 3, 0}, {0, 3, 0}, {0, 0, 2}, {4, 0, 2}, {4, 3, 2}, {0, 3, 2}
    };
    private static final int[][] SIDES = {
        {0, 3, 2, 1}, {4, 5, 6, 7}, {0, 1, 5, 4}, {1, 2, 6, 5}, {2, 3, 7, 6}, {3, 0, 4, 7}
    };
    private static final String HEADER = """
            ply
            format %s 1.0
            comment a block of four by three by two
            element vertex 8
            property float x
            property float y
            property float z
            property uchar red
            element face 6
            property uchar flags
            property list uchar int vertex_indices
            end_header
            """;

    @TempDir
    private Path folder;

    private Shape.Mesh read(String name, byte[] bytes, String unit) throws IOException, CarFileException {
        Files.write(folder.resolve(name), bytes);
        Path car = Files.writeString(
                folder.resolve("car.yaml"),
                "daylight: 1\ncar: mesh\nunits: in\nparts:\n  block: {on: chassis, mesh: " + name + ", unit: " + unit
                        + "}\n");
        return (Shape.Mesh) CarFile.read(car).part("block").orElseThrow().shape();
    }

    private static byte[] textPly() {
        StringBuilder text = new StringBuilder(String.format(java.util.Locale.ROOT, HEADER, "ascii"));
        for (int[] c : CORNERS) {
            text.append(c[0]).append(' ').append(c[1]).append(' ').append(c[2]).append(" 200\n");
        }
        for (int[] s : SIDES) {
            text.append("7 4 ").append(s[0]).append(' ').append(s[1]).append(' ');
            text.append(s[2]).append(' ').append(s[3]).append('\n');
        }
        return text.toString().getBytes(StandardCharsets.US_ASCII);
    }

    private static byte[] binaryPly(ByteOrder order) {
        String format = order == ByteOrder.BIG_ENDIAN ? "binary_big_endian" : "binary_little_endian";
        byte[] head = String.format(java.util.Locale.ROOT, HEADER, format).getBytes(StandardCharsets.US_ASCII);
        ByteBuffer bytes =
                ByteBuffer.allocate(head.length + 8 * 13 + 6 * 18).order(order).put(head);
        for (int[] c : CORNERS) {
            bytes.putFloat(c[0]).putFloat(c[1]).putFloat(c[2]).put((byte) 200);
        }
        for (int[] s : SIDES) {
            bytes.put((byte) 7).put((byte) 4);
            bytes.putInt(s[0]).putInt(s[1]).putInt(s[2]).putInt(s[3]);
        }
        return bytes.array();
    }

    /** Corners as floats, then two triangles a side as short indices. */
    private static byte[] buffer() {
        ByteBuffer bytes = ByteBuffer.allocate(8 * 12 + 36 * 2).order(ByteOrder.LITTLE_ENDIAN);
        for (int[] c : CORNERS) {
            bytes.putFloat(c[0]).putFloat(c[1]).putFloat(c[2]);
        }
        for (int[] s : SIDES) {
            for (int k : new int[] {0, 1, 2, 0, 2, 3}) {
                bytes.putShort((short) s[k]);
            }
        }
        return bytes.array();
    }

    private static String gltf(String buffer, String nodes, String more) {
        return """
                {"asset": {"version": "2.0"}, "scene": 1,
                 "scenes": [{"nodes": []}, {"nodes": [0]}],
                 "nodes": [%s],
                 "meshes": [{"primitives": [{"attributes": {"POSITION": 0}, "indices": 1}]}],
                 "accessors": [
                  {"bufferView": 0, "componentType": 5126, "count": 8, "type": "VEC3", "min": [0,0,0], "max": [4,3,2]},
                  {"bufferView": 1, "componentType": 5123, "count": 36, "type": "SCALAR"}],
                 "bufferViews": [
                  {"buffer": 0, "byteOffset": 0, "byteLength": 96},
                  {"buffer": 0, "byteOffset": 96, "byteLength": 72}],
                 "buffers": [{%s"byteLength": 168}]%s}
                """.formatted(nodes, buffer, more);
    }

    private static String inside() {
        return "\"uri\": \"data:application/octet-stream;base64,"
                + Base64.getEncoder().encodeToString(buffer()) + "\", ";
    }

    private static byte[] utf8(String text) {
        return text.getBytes(StandardCharsets.UTF_8);
    }

    private static byte[] glb() {
        byte[] json = utf8(gltf("", "{\"mesh\": 0}", "") + "   ");
        int words = json.length / 4 * 4;
        byte[] numbers = buffer();
        ByteBuffer bytes =
                ByteBuffer.allocate(12 + 8 + words + 8 + numbers.length).order(ByteOrder.LITTLE_ENDIAN);
        bytes.putInt(0x46546C67).putInt(2).putInt(bytes.capacity());
        bytes.putInt(words).putInt(0x4E4F534A).put(json, 0, words);
        bytes.putInt(numbers.length).putInt(0x004E4942).put(numbers);
        return bytes.array();
    }

    @Test
    void aBlockIsTheSameInEveryFormat() throws IOException, CarFileException {
        Shape.Mesh text = read("block.ply", textPly(), "in");
        assertThat(text.corners()).hasSize(8).contains(new Spot(4 * 25.4, 3 * 25.4, 2 * 25.4));
        assertThat(MeshFindings.of(text)).isEqualTo(new MeshFindings(12, 1, 0, 0));
        assertThat(read("little.ply", binaryPly(ByteOrder.LITTLE_ENDIAN), "in")).isEqualTo(text);
        assertThat(read("big.PLY", binaryPly(ByteOrder.BIG_ENDIAN), "in")).isEqualTo(text);
        assertThat(read("block.gltf", utf8(gltf(inside(), "{\"mesh\": 0}", "")), "in"))
                .isEqualTo(text);
        Files.write(folder.resolve("its numbers.bin"), buffer());
        byte[] beside = utf8(gltf("\"uri\": \"its%20numbers.bin\", ", "{\"mesh\": 0}", ""));
        assertThat(read("beside.gltf", beside, "in")).isEqualTo(text);
        assertThat(read("block.glb", glb(), "in")).isEqualTo(text);
    }

    @Test
    void nodesOfAGltfPlaceAndMirrorTheirMeshes() throws IOException, CarFileException {
        // A quarter turn about z in a node that doubles and moves; then a mirror image, which must not be inside out.
        String nodes = "{\"translation\": [100, 0, 0], \"scale\": [2, 2, 2], \"children\": [1, 2]}, "
                + "{\"mesh\": 0, \"rotation\": [0, 0, 0.7071067811865476, 0.7071067811865476]}, "
                + "{\"mesh\": 0, \"matrix\": [-1,0,0,0, 0,1,0,0, 0,0,1,0, -50,0,0,1]}";
        Shape.Mesh mesh = read("placed.gltf", utf8(gltf(inside(), nodes, "")), "m");
        assertThat(MeshFindings.of(mesh)).isEqualTo(new MeshFindings(24, 2, 0, 0));
        Spot turned = new Spot(100_000 - 6_000, 8_000, 4_000);
        Spot mirrored = new Spot(100_000 - 2 * 54_000, 6_000, 4_000);
        for (Spot wanted : List.of(turned, mirrored)) {
            // Single precision in the file: a share of 1e-7.
            assertThat(mesh.corners()).as("%s", wanted).anyMatch(s -> s.distanceTo(wanted) < 0.02);
        }
    }

    @Test
    void anOpenBlockWithATurnedFaceIsReadAndItsFindingsSaySo() throws IOException, CarFileException {
        String whole = new String(textPly(), StandardCharsets.US_ASCII);
        String open = whole.replace("element face 6", "element face 5").replace("7 4 3 0 4 7\n", "");
        assertThat(MeshFindings.of(read("open.ply", utf8(open), "in"))).isEqualTo(new MeshFindings(10, 0, 10, 0));
        String turned = whole.replace("7 4 3 0 4 7\n", "7 4 7 4 0 3\n");
        assertThat(MeshFindings.of(read("turned.ply", utf8(turned), "in"))).isEqualTo(new MeshFindings(12, 1, 0, 2));
    }

    @Test
    void aMeshWithoutAUnitIsNotGuessedAt() throws IOException {
        Files.write(folder.resolve("block.glb"), glb());
        Path car = Files.writeString(
                folder.resolve("car.yaml"),
                "daylight: 1\ncar: mesh\nunits: mm\nparts:\n  block: {on: chassis, mesh: block.glb}\n");
        assertThatThrownBy(() -> CarFile.read(car))
                .hasMessageContaining("car.yaml:5:")
                .hasMessageContaining("nothing says in which unit block.glb is drawn");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "element vertex 8    | element vertex 9    | a face has 1 corners|line 22, face 1 of 6",
                "format ascii 1.0    | format ebcdic 1.0   | the format \"ebcdic\" is none of|(line 2)",
                "property float y    | property wide y     | \"wide\" is no kind of number|(line 6)",
                "property float z    | property float w    | its corners have no x, y and z|",
                "4 3 2 200           | 4 three 2 200       | \"three\" is no number|line 19, vertex 7 of 8",
                "7 4 3 0 4 7         | 7 4 3 0 4 8         | a face names corner 8, where 0 to 7|line 26, face 6 of 6",
                "7 4 3 0 4 7         | 7 2 3 0             | a face has 2 corners|line 26, face 6 of 6",
                "7 4 3 0 4 7         | 7 4 3 0             | it ends in face 6 of 6|",
                "end_header          | end_of_header       | is no word of a PLY header|(line 12)",
                "ply                 | PLZ                 | it does not begin with the word ply|",
                "element face 6      | element strip 6     | it has no triangles|"
            })
    void aBrokenPlySaysWhatAndWhere(String from, String to, String what, String where) {
        String broken = new String(textPly(), StandardCharsets.US_ASCII).replaceFirst(from.strip(), to.strip());
        complains("broken.ply", utf8(broken), "broken.ply", what, where == null ? "" : where);
    }

    private void complains(String name, byte[] bytes, String... words) {
        assertThatThrownBy(() -> read(name, bytes, "mm")).isInstanceOfSatisfying(CarFileException.class, e -> {
            assertThat(e.complaints()).hasSize(1);
            assertThat(e.complaints().get(0).toString()).as(name).contains(words);
        });
    }

    @Test
    void aCutOffBinaryFileSaysWhereItEnds() {
        byte[] whole = binaryPly(ByteOrder.LITTLE_ENDIAN);
        byte[] cut = Arrays.copyOf(whole, whole.length - 5);
        complains("cut.ply", cut, "it ends after " + cut.length + " bytes, in face 6 of 6");
    }

    @Test
    void aBrokenGltfIsOneComplaint() throws IOException {
        String good = gltf(inside(), "{\"mesh\": 0}", "");
        complains("word.gltf", utf8("just a word"), "it is no glTF file that can be read");
        complains("cut.glb", Arrays.copyOf(glb(), 200), "it is no glTF file that can be read");
        complains(
                "gone.gltf", utf8(gltf("\"uri\": \"gone.bin\", ", "{\"mesh\": 0}", "")), "\"gone.bin\"", "not beside");
        complains(
                "far.gltf",
                utf8(gltf("\"uri\": \"http://invalid.example/a.bin\", ", "{\"mesh\": 0}", "")),
                "which is no file beside it");
        complains("missing.gltf", utf8(good.replace("\"mesh\": 0", "\"mesh\": 7")), "cannot be");
        complains("empty.gltf", utf8(good.replace("\"nodes\": [0]", "\"nodes\": []")), "it has no triangles");
        complains("round.gltf", utf8(gltf(inside(), "{\"mesh\": 0, \"children\": [0]}", "")), "cannot be");
        complains(
                "packed.gltf",
                utf8(gltf(
                        inside(),
                        "{\"mesh\": 0}",
                        ", \"extensionsUsed\": [\"KHR_draco_mesh_compression\"],"
                                + " \"extensionsRequired\": [\"KHR_draco_mesh_compression\"]")),
                "save it without compression");
        byte[] beyond = buffer();
        beyond[96] = 9;
        String uri = "\"uri\": \"data:application/octet-stream;base64,"
                + Base64.getEncoder().encodeToString(beyond) + "\", ";
        complains("beyond.gltf", utf8(gltf(uri, "{\"mesh\": 0}", "")), "a triangle names corner 9 of 8");
    }
}
