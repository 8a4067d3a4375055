package daylight.car;

import daylight.geometry.Shape;
import daylight.units.Unit;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.StringTokenizer;
import java.util.regex.Pattern;

/**
 * Reads meshes from files beside the car file: STL and PLY (text and binary), OBJ (corners and faces; everything else
 * in it is passed over), glTF and GLB. They are drawn where they are on the car: x forward, y left, z up.
 */
final class MeshFiles implements MeshSource {
    /** A coordinate as text. */
    static final Pattern NUMBER = Pattern.compile("[-+]?(\\d+\\.?\\d*|\\.\\d+)([eE][-+]?\\d{1,3})?");

    private static final long LONGEST_FILE = 300_000_000;
    private static final int STL_HEAD = 80;
    private static final int STL_TRIANGLE = 50;

    private final Path folder;

    MeshFiles(Path folder) {
        this.folder = folder;
    }

    @Override
    public Optional<Shape> mesh(Reading in, YamlNode node, String file, String unit) {
        double mm = Unit.spelt(unit).map(Unit::mm).orElse(1.0);
        try {
            return Optional.of(read(file, mm));
        } catch (NoSuchFileException e) {
            complain(in, node, "there is no mesh \"" + file + "\" beside the car file", "Check its name and folder.");
        } catch (NotAMesh e) {
            complain(
                    in,
                    node,
                    "the mesh \"" + file + "\" cannot be used: " + e.getMessage(),
                    "Save it again as STL, OBJ, PLY or glTF, with triangles.");
        } catch (InvalidPathException | IOException e) {
            complain(in, node, "the mesh \"" + file + "\" cannot be read", "Check that it is a file you may read.");
        }
        return Optional.empty();
    }

    private static void complain(Reading in, YamlNode node, String found, String advice) {
        in.complain(Complaint.Kind.FILE, node.place(), found, "", advice);
    }

    private Shape read(String file, double mm) throws IOException, NotAMesh {
        Path path = folder.resolve(file);
        if (Files.size(path) > LONGEST_FILE) {
            throw new NotAMesh("it is larger than " + LONGEST_FILE / 1_000_000 + " MB");
        }
        byte[] bytes = Files.readAllBytes(path);
        MeshCorners corners = new MeshCorners(mm);
        String ending = file.substring(file.lastIndexOf('.') + 1).toLowerCase(Locale.ROOT);
        switch (ending) {
            case "stl" -> {
                // A binary file may begin with the word solid too; its length gives it away.
                if (bytes.length >= STL_HEAD + 4 && binaryLength(bytes) == bytes.length) {
                    readBinaryStl(bytes, corners);
                } else {
                    readTextStl(new String(bytes, StandardCharsets.UTF_8), corners);
                }
            }
            case "obj" -> readObj(new String(bytes, StandardCharsets.UTF_8), corners);
            case "ply" -> PlyFile.read(bytes, corners);
            case "gltf", "glb" -> {
                Path parent = path.toAbsolutePath().getParent();
                GltfFile.read(bytes, parent == null ? folder : parent, corners);
            }
            default -> throw new NotAMesh("its name ends in none of .stl, .obj, .ply, .gltf and .glb");
        }
        if (corners.triangles.isEmpty()) {
            throw new NotAMesh("it has no triangles");
        }
        return new Shape.Mesh(corners.spots, corners.triangles);
    }

    private static long binaryLength(byte[] bytes) {
        long count = Integer.toUnsignedLong(
                ByteBuffer.wrap(bytes).order(ByteOrder.LITTLE_ENDIAN).getInt(STL_HEAD));
        return STL_HEAD + 4 + count * STL_TRIANGLE;
    }

    private static void readBinaryStl(byte[] bytes, MeshCorners corners) throws NotAMesh {
        ByteBuffer buffer = ByteBuffer.wrap(bytes).order(ByteOrder.LITTLE_ENDIAN);
        for (int at = STL_HEAD + 4; at < bytes.length; at += STL_TRIANGLE) {
            int[] three = new int[3];
            for (int i = 0; i < 3; i++) {
                // The first three numbers are the normal, which follows from the corners.
                int corner = at + 12 * (i + 1);
                three[i] = corners.shared(
                        buffer.getFloat(corner), buffer.getFloat(corner + 4), buffer.getFloat(corner + 8));
            }
            corners.triangle(three[0], three[1], three[2]);
        }
    }

    private static void readTextStl(String text, MeshCorners corners) throws NotAMesh {
        StringTokenizer words = new StringTokenizer(text);
        if (!words.hasMoreTokens() || !words.nextToken().equalsIgnoreCase("solid")) {
            throw new NotAMesh("it is neither a text nor a binary STL file");
        }
        int[] three = new int[3];
        int have = 0;
        while (words.hasMoreTokens()) {
            String word = words.nextToken();
            if (word.equalsIgnoreCase("vertex")) {
                if (have == 3) {
                    throw new NotAMesh("a face has more than three corners");
                }
                three[have++] = corners.shared(number(words), number(words), number(words));
            } else if (word.equalsIgnoreCase("endloop")) {
                if (have != 3) {
                    throw new NotAMesh("a face has " + have + " corners");
                }
                corners.triangle(three[0], three[1], three[2]);
                have = 0;
            }
        }
    }

    private static void readObj(String text, MeshCorners corners) throws NotAMesh {
        int number = 0;
        for (String line : text.lines().toList()) {
            number++;
            StringTokenizer words = new StringTokenizer(line);
            if (!words.hasMoreTokens()) {
                continue;
            }
            try {
                readObjLine(words, corners);
            } catch (NotAMesh e) {
                throw new NotAMesh(e.getMessage() + " (line " + number + ")");
            }
        }
    }

    private static void readObjLine(StringTokenizer words, MeshCorners corners) throws NotAMesh {
        String word = words.nextToken();
        if (word.equals("v")) {
            corners.own(number(words), number(words), number(words));
        } else if (word.equals("f")) {
            List<Integer> face = new ArrayList<>();
            while (words.hasMoreTokens()) {
                face.add(index(words.nextToken(), corners.spots.size()));
            }
            corners.face(face);
        }
    }

    /** Reads {@code 12}, {@code 12/3/4} or {@code -1}, which counts from the last. */
    private static int index(String word, int count) throws NotAMesh {
        int slash = word.indexOf('/');
        String digits = slash < 0 ? word : word.substring(0, slash);
        if (!digits.matches("-?\\d{1,9}")) {
            throw new NotAMesh("\"" + word + "\" is no number of a corner");
        }
        int index = Integer.parseInt(digits);
        int fromZero = index < 0 ? count + index : index - 1;
        if (fromZero < 0 || fromZero >= count) {
            throw new NotAMesh("a face names corner " + index + " of " + count);
        }
        return fromZero;
    }

    private static double number(StringTokenizer words) throws NotAMesh {
        String word = words.hasMoreTokens() ? words.nextToken() : "";
        if (!NUMBER.matcher(word).matches()) {
            throw new NotAMesh("\"" + word + "\" is no coordinate");
        }
        return Double.parseDouble(word);
    }
}
