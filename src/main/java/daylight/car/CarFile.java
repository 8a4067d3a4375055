package daylight.car;

import daylight.geometry.Spot;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * The file in which a car is written down: a YAML text, read strictly and saved without losing anything.
 *
 * <p>Frame of its coordinates, as a garage measures: ahead of the datum line, left of centre, above the floor, which
 * is x, y, z of ISO 8855. Bare numbers are in the file's own unit.
 */
public final class CarFile {
    private CarFile() {}

    /**
     * Reads a car from a file. Meshes are looked for beside it.
     *
     * @throws CarFileException with every complaint in file order, also when the file cannot be opened
     */
    public static Car read(Path file) throws CarFileException {
        return open(file).car();
    }

    /**
     * Reads a car from a text.
     *
     * @param name what complaints call the file
     * @throws CarFileException with every complaint in file order
     */
    public static Car read(String name, String text) throws CarFileException {
        return new CarDocument(name, text, Optional.empty()).car();
    }

    /**
     * Opens a file for changing.
     *
     * @throws CarFileException if the file cannot be opened or is not UTF-8; what is in it is not checked yet
     */
    public static CarDocument open(Path file) throws CarFileException {
        String name = name(file);
        Reading in = new Reading(name);
        byte[] bytes;
        try {
            bytes = Files.readAllBytes(file);
        } catch (NoSuchFileException e) {
            throw cannot(name, "there is no file " + file, "Check the name and the folder.");
        } catch (IOException e) {
            throw cannot(name, "the file cannot be read (" + reason(e) + ")", "Check that it is a file you may read.");
        }
        String text = YamlText.decode(in, bytes).orElseThrow(() -> new CarFileException(in.complaints()));
        return new CarDocument(name, text, Optional.of(file.toAbsolutePath().normalize()));
    }

    /**
     * Saves a text in the place of a file, whole or not at all. What was there before is kept beside it as
     * {@code NAME.previous.yaml}.
     *
     * @throws CarFileException if the disk does not take it; the old file is then as it was
     */
    public static void save(Path file, String text) throws CarFileException {
        Path target = file.toAbsolutePath().normalize();
        String name = name(file);
        Path folder = target.getParent();
        if (folder == null) {
            throw cannot(name, "\"" + file + "\" is no file name", "Write a name within a folder.");
        }
        Path fresh = folder.resolve("." + name(target) + ".saving");
        try {
            if (Files.exists(target)) {
                target = target.toRealPath();
            }
            try (FileChannel channel = FileChannel.open(
                    fresh, StandardOpenOption.CREATE, StandardOpenOption.TRUNCATE_EXISTING, StandardOpenOption.WRITE)) {
                ByteBuffer bytes = ByteBuffer.wrap(text.getBytes(StandardCharsets.UTF_8));
                while (bytes.hasRemaining()) {
                    channel.write(bytes);
                }
                channel.force(true);
            }
            if (Files.exists(target)) {
                Files.copy(target, previous(target), StandardCopyOption.REPLACE_EXISTING);
            }
            Files.move(fresh, target, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
        } catch (IOException e) {
            CarFileException told = cannot(
                    name,
                    "the file cannot be saved (" + reason(e) + ")",
                    "The old file is as it was. Save under another name or in another folder.");
            try {
                Files.deleteIfExists(fresh);
            } catch (IOException left) {
                told.addSuppressed(left);
            }
            told.addSuppressed(e);
            throw told;
        }
    }

    /** Returns where {@link #save} keeps what was in a file before. */
    public static Path previous(Path file) {
        String name = name(file);
        int dot = name.lastIndexOf('.');
        String stem = dot > 0 ? name.substring(0, dot) : name;
        String ending = dot > 0 ? name.substring(dot) : "";
        return file.resolveSibling(stem + ".previous" + ending);
    }

    static Car read(String name, String text, Optional<Path> file, Map<String, Spot> moved) throws CarFileException {
        Reading in = new Reading(name);
        Optional<YamlNode.Mapping> root = YamlText.read(in, text);
        if (root.isEmpty()) {
            throw new CarFileException(in.complaints());
        }
        MeshSource meshes = file.map(Path::getParent)
                .<MeshSource>map(folder -> new MeshFiles(folder))
                .orElse(MeshSource.NONE);
        return new CarReader(in, meshes, file.map(Path::getParent), moved).read(root.get());
    }

    static String name(Path file) {
        Path name = file.getFileName();
        return name == null ? file.toString() : name.toString();
    }

    private static String reason(IOException e) {
        String kind = e.getClass().getSimpleName().replace("Exception", "");
        String message = e.getMessage() == null ? "" : e.getMessage();
        return switch (kind) {
            case "AccessDenied" -> "access is denied";
            case "FileSystem" -> message.replaceAll("[.]+$", "");
            default -> (kind + " " + message).strip().replaceAll("[.]+$", "");
        };
    }

    private static CarFileException cannot(String name, String found, String advice) {
        return new CarFileException(List.of(new Complaint(Complaint.Kind.FILE, name, 1, 1, found, "", advice)));
    }
}
