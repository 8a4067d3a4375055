package daylight.car;

import de.javagl.jgltf.impl.v2.GlTF;
import de.javagl.jgltf.model.AccessorFloatData;
import de.javagl.jgltf.model.AccessorModel;
import de.javagl.jgltf.model.GltfModel;
import de.javagl.jgltf.model.GltfModels;
import de.javagl.jgltf.model.MeshModel;
import de.javagl.jgltf.model.MeshPrimitiveModel;
import de.javagl.jgltf.model.NodeModel;
import de.javagl.jgltf.model.SceneModel;
import de.javagl.jgltf.model.io.GltfAsset;
import de.javagl.jgltf.model.io.GltfAssetReader;
import de.javagl.jgltf.model.io.GltfReference;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.net.URLDecoder;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/**
 * Reads a glTF 2.0 file, text or binary (GLB): the triangles of the scene it shows first, each node's transform applied.
 * Colours, skins and animations are passed over. Axes are the file's own, as with every other mesh.
 *
 * @see "Khronos Group, glTF 2.0 Specification, ISO/IEC 12113:2022"
 */
final class GltfFile {
    private static final int TRIANGLES = 4;
    private static final int STRIP = 5;
    private static final int FAN = 6;
    /** Nodes deeper than this hang from themselves. */
    private static final int MOST_DEEP = 200;

    private static final String COMPRESSED = "KHR_draco_mesh_compression";
    private static final String PACKED = "EXT_meshopt_compression";

    private final Path folder;
    private final MeshCorners into;

    private GltfFile(Path folder, MeshCorners into) {
        this.folder = folder;
        this.into = into;
    }

    /**
     * Reads a file's triangles.
     *
     * @param folder where files that it names lie; nothing is fetched from elsewhere
     */
    static void read(byte[] bytes, Path folder, MeshCorners into) throws NotAMesh {
        GltfFile file = new GltfFile(folder, into);
        GltfAsset asset;
        GltfModel model;
        try {
            GltfAssetReader reader = new GltfAssetReader();
            reader.setJsonErrorConsumer(error -> {});
            asset = reader.readWithoutReferences(new ByteArrayInputStream(bytes));
            file.fetch(asset);
            model = GltfModels.create(asset);
        } catch (IOException | RuntimeException e) {
            // The library answers a broken file with whatever goes wrong in it first, null pointers included.
            throw new NotAMesh("it is no glTF file that can be read (" + why(e) + ")");
        }
        for (String needed : model.getExtensionsModel().getExtensionsRequired()) {
            if (needed.equals(COMPRESSED) || needed.equals(PACKED)) {
                throw new NotAMesh("it is compressed (" + needed + "); save it without compression");
            }
        }
        try {
            for (NodeModel root : roots(asset, model)) {
                file.node(root, IDENTITY, 0);
            }
        } catch (RuntimeException e) {
            throw new NotAMesh("it is no glTF file that can be read (" + why(e) + ")");
        }
    }

    private static String why(Exception e) {
        String said = e.getMessage();
        if (said == null) {
            return "something it refers to is missing";
        }
        String plain = said.lines().findFirst().orElse("").replaceAll("[^ -~]", "?");
        return plain.length() > 120 ? plain.substring(0, 120) + "..." : plain;
    }

    /** Brings the buffers that lie beside the file. Pictures are not needed. */
    private void fetch(GltfAsset asset) throws NotAMesh, IOException {
        for (GltfReference reference : asset.getReferences()) {
            String uri = reference.getUri();
            String lower = uri.toLowerCase(Locale.ROOT);
            boolean picture =
                    reference.getName().startsWith("image") || lower.endsWith(".png") || lower.endsWith(".jpg");
            if (picture) {
                reference.getTarget().accept(ByteBuffer.allocateDirect(0));
                continue;
            }
            if (uri.contains(":")) {
                throw new NotAMesh("its numbers lie at \"" + uri + "\", which is no file beside it");
            }
            try {
                Path beside = folder.resolve(URLDecoder.decode(uri.replace("+", "%2B"), StandardCharsets.UTF_8));
                if (!Files.isRegularFile(beside)) {
                    throw new NotAMesh("\"" + uri + "\", which holds its numbers, is not beside it");
                }
                byte[] found = Files.readAllBytes(beside);
                ByteBuffer direct = ByteBuffer.allocateDirect(found.length).order(ByteOrder.LITTLE_ENDIAN);
                direct.put(found).rewind();
                reference.getTarget().accept(direct);
            } catch (IllegalArgumentException e) {
                throw new NotAMesh("\"" + uri + "\", which should hold its numbers, is no file name");
            }
        }
    }

    /** The nodes of the scene that the file shows first; all that hang from no other where it has no scene. */
    private static List<NodeModel> roots(GltfAsset asset, GltfModel model) {
        List<SceneModel> scenes = model.getSceneModels();
        if (!scenes.isEmpty()) {
            Integer first = asset.getGltf() instanceof GlTF two ? two.getScene() : null;
            return scenes.get(first == null ? 0 : first).getNodeModels();
        }
        List<NodeModel> roots = new ArrayList<>();
        for (NodeModel node : model.getNodeModels()) {
            if (node.getParent() == null) {
                roots.add(node);
            }
        }
        return roots;
    }

    private static final double[] IDENTITY = {1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1};

    private void node(NodeModel node, double[] above, int deep) throws NotAMesh {
        if (deep > MOST_DEEP) {
            throw new NotAMesh("its nodes hang from one another without end");
        }
        float[] own = node.computeLocalTransform(new float[16]);
        double[] here = new double[16];
        for (int column = 0; column < 4; column++) {
            for (int row = 0; row < 4; row++) {
                double sum = 0;
                for (int k = 0; k < 4; k++) {
                    sum += above[4 * k + row] * own[4 * column + k];
                }
                here[4 * column + row] = sum;
            }
        }
        for (MeshModel mesh : node.getMeshModels()) {
            for (MeshPrimitiveModel primitive : mesh.getMeshPrimitiveModels()) {
                primitive(primitive, here);
            }
        }
        for (NodeModel child : node.getChildren()) {
            node(child, here, deep + 1);
        }
    }

    private void primitive(MeshPrimitiveModel primitive, double[] m) throws NotAMesh {
        int mode = primitive.getMode();
        AccessorModel places = primitive.getAttributes().get("POSITION");
        if (places == null || (mode != TRIANGLES && mode != STRIP && mode != FAN)) {
            return;
        }
        if (!(places.getAccessorData() instanceof AccessorFloatData numbers)) {
            throw new NotAMesh("its corners are not plain numbers (KHR_mesh_quantization); save it without that");
        }
        int count = places.getCount();
        int[] corner = new int[count];
        for (int i = 0; i < count; i++) {
            double x = numbers.get(i, 0);
            double y = numbers.get(i, 1);
            double z = numbers.get(i, 2);
            corner[i] = into.shared(
                    m[0] * x + m[4] * y + m[8] * z + m[12],
                    m[1] * x + m[5] * y + m[9] * z + m[13],
                    m[2] * x + m[6] * y + m[10] * z + m[14]);
        }
        int[] index = indices(primitive.getIndices(), count);
        // A node that mirrors turns its triangles inside out.
        boolean mirrors = m[0] * (m[5] * m[10] - m[6] * m[9])
                        - m[4] * (m[1] * m[10] - m[2] * m[9])
                        + m[8] * (m[1] * m[6] - m[2] * m[5])
                < 0;
        int step = mode == TRIANGLES ? 3 : 1;
        for (int i = 0; i + 2 < index.length; i += step) {
            boolean back = mirrors != (mode == STRIP && i % 2 == 1);
            int a = corner[index[mode == FAN ? 0 : i]];
            int b = corner[index[i + 1]];
            int c = corner[index[i + 2]];
            into.triangle(a, back ? c : b, back ? b : c);
        }
    }

    private static int[] indices(@Nullable AccessorModel accessor, int count) throws NotAMesh {
        if (accessor == null) {
            int[] all = new int[count];
            for (int i = 0; i < count; i++) {
                all[i] = i;
            }
            return all;
        }
        int[] index = new int[accessor.getCount()];
        ByteBuffer bytes = accessor.getAccessorData().createByteBuffer();
        int size = accessor.getComponentSizeInBytes();
        for (int i = 0; i < index.length; i++) {
            long value = switch (size) {
                case 1 -> Byte.toUnsignedLong(bytes.get(i));
                case 2 -> Short.toUnsignedLong(bytes.getShort(2 * i));
                default -> Integer.toUnsignedLong(bytes.getInt(4 * i));
            };
            if (value >= count) {
                throw new NotAMesh("a triangle names corner " + value + " of " + count + ", counted from 0");
            }
            index[i] = (int) value;
        }
        return index;
    }
}
