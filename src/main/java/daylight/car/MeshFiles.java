package daylight.car;

import daylight.geometry.Shape;
import daylight.geometry.Spot;
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
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.StringTokenizer;

/**
 * Reads meshes from files beside the car file: STL (text and binary) and OBJ (corners and faces; everything else in
 * it is passed over). They are drawn where they are on the car.
 */
final class MeshFiles implements MeshSource {
    /** A finer scan than this belongs thinned out first: it would take minutes to look through. */
    private static final int MOST_TRIANGLES = 2_000_000;

    private static final long LONGEST_FILE = 300_000_000;
    private static final int STL_HEAD = 80;
    private static final int STL_TRIANGLE = 50;

    private final Path folder;

    MeshFiles(Path folder) {
        this.folder = folder;
    }

    /** What is wrong with a mesh's file, in words for a complaint. */
    private static final class NotAMesh extends Exception {
        private static final long serialVersionUID = 1;

        NotAMesh(String what) {
            super(what);
        }
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
                    "Save it again as STL or OBJ, with triangles.");
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
        Corners corners = new Corners(mm);
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
            default -> throw new NotAMesh("its name ends in neither .stl nor .obj");
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

    private static void readBinaryStl(byte[] bytes, Corners corners) throws NotAMesh {
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

    private static void readTextStl(String text, Corners corners) throws NotAMesh {
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

    private static void readObj(String text, Corners corners) throws NotAMesh {
        for (String line : text.lines().toList()) {
            StringTokenizer words = new StringTokenizer(line);
            if (!words.hasMoreTokens()) {
                continue;
            }
            String word = words.nextToken();
            if (word.equals("v")) {
                corners.own(number(words), number(words), number(words));
            } else if (word.equals("f")) {
                List<Integer> face = new ArrayList<>();
                while (words.hasMoreTokens()) {
                    face.add(index(words.nextToken(), corners.spots.size()));
                }
                if (face.size() < 3) {
                    throw new NotAMesh("a face has " + face.size() + " corners");
                }
                for (int i = 1; i + 1 < face.size(); i++) {
                    corners.triangle(face.get(0), face.get(i), face.get(i + 1));
                }
            }
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
        if (!word.matches("[-+]?(\\d+\\.?\\d*|\\.\\d+)([eE][-+]?\\d{1,3})?")) {
            throw new NotAMesh("\"" + word + "\" is no coordinate");
        }
        return Double.parseDouble(word);
    }

    /** Corners and triangles as they are found. */
    private static final class Corners {
        final List<Spot> spots = new ArrayList<>();
        final List<Integer> triangles = new ArrayList<>();
        private final Map<Spot, Integer> numbers = new LinkedHashMap<>();
        private final double mm;

        Corners(double mm) {
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
    }
}
