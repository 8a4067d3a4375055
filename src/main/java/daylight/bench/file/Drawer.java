package daylight.bench.file;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.InvalidPathException;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HexFormat;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * A folder in which windows keep what is not saved yet, which files were open last, and who has which file open.
 *
 * <p>Every file in it is written whole or not at all, so that a window that is killed leaves the last work that was
 * kept. Several windows share the folder: what each keeps carries the number of its process and when that began, and
 * counts as left over once that process is gone.
 *
 * <p>Thread-safe. Cost of {@link #keep}: one small file written and forced to the disk.
 */
public final class Drawer {
    /** More recent files than this nobody looks through. */
    private static final int MOST_RECENT = 10;

    private static final String KEPT = ".kept";
    private static final String OPEN = ".open";
    private static final String RECENT = "recent-cars.txt";
    private static final String HEAD = "daylight kept 1";
    private static final int NAME_LENGTH = 16;

    private final Path folder;
    private final Owner owner;
    private final Map<Path, Long> lastKept = new HashMap<>();

    /**
     * A process that keeps something.
     *
     * @param process its number
     * @param begunMs when it began, ms since 1970, so that a later process of the same number is another; 0 where the
     *     system does not say
     */
    public record Owner(long process, long begunMs) {
        /** Returns this process. */
        public static Owner self() {
            return of(ProcessHandle.current());
        }

        private static Owner of(ProcessHandle handle) {
            return new Owner(
                    handle.pid(),
                    handle.info().startInstant().map(Instant::toEpochMilli).orElse(0L));
        }

        boolean alive() {
            return ProcessHandle.of(process)
                    .filter(ProcessHandle::isAlive)
                    .map(handle -> of(handle).equals(this))
                    .orElse(false);
        }
    }

    /**
     * Work that was not saved.
     *
     * @param file the car file that it belongs to
     * @param base what names the text that the file held when the work began
     * @param text the text that the work came to
     */
    public record Kept(Path file, String base, String text) {
        /** Returns whether the file held another text when the work began than it holds now. */
        public boolean fileChangedSince(String onDisk) {
            return !base.equals(mark(onDisk));
        }
    }

    private record Owned(Path at, Owner owner, Kept kept) {}

    /**
     * Opens a drawer.
     *
     * @param folder made when something is put in
     */
    public Drawer(Path folder, Owner owner) {
        this.folder = folder;
        this.owner = owner;
    }

    /** Opens the user's drawer: where the system has such folders, or {@code daylight.settings} if it is set. */
    public static Drawer usual() {
        return new Drawer(
                place(
                        System.getProperties().stringPropertyNames().contains("daylight.settings")
                                ? Optional.of(System.getProperty("daylight.settings", ""))
                                : Optional.empty(),
                        System.getProperty("os.name", ""),
                        System.getProperty("user.home", "."),
                        System.getenv()),
                Owner.self());
    }

    static Path place(Optional<String> asked, String system, String home, Map<String, String> environment) {
        if (asked.isPresent()) {
            return Path.of(asked.get());
        }
        String name = system.toLowerCase(Locale.ROOT);
        if (name.contains("win") && !name.contains("darwin")) {
            return Path.of(environment.getOrDefault("LOCALAPPDATA", home), "Daylight");
        }
        if (name.contains("mac")) {
            return Path.of(home, "Library", "Application Support", "Daylight");
        }
        String state = environment.getOrDefault("XDG_STATE_HOME", "");
        return state.isEmpty()
                ? Path.of(home, ".local", "state", "daylight")
                : Path.of(state).resolve("daylight");
    }

    /** Returns the folder. */
    public Path folder() {
        return folder;
    }

    // ---------------------------------------------------------------- unsaved work

    /**
     * Keeps unsaved work in the place of what this window kept of the file before.
     *
     * @param number counts up with every change; work of a lower number than was kept already is late and dropped
     * @param onDisk the text that the file held when the work began
     * @throws IOException if the folder cannot be written
     */
    public synchronized void keep(long number, Path file, String onDisk, String text) throws IOException {
        Path absolute = file.toAbsolutePath().normalize();
        if (number < lastKept.getOrDefault(absolute, Long.MIN_VALUE)) {
            return;
        }
        lastKept.put(absolute, number);
        write(
                place(absolute, KEPT),
                HEAD + "\nfile " + absolute.toUri() + "\nbase " + mark(onDisk) + "\nprocess " + owner.process() + " "
                        + owner.begunMs() + "\n\n" + text);
    }

    /**
     * Forgets what this window kept of a file: it is saved, or not wanted.
     *
     * @param number as of {@link #keep}
     * @throws IOException if it cannot be taken out
     */
    public synchronized void forget(long number, Path file) throws IOException {
        Path absolute = file.toAbsolutePath().normalize();
        if (number >= lastKept.getOrDefault(absolute, Long.MIN_VALUE)) {
            lastKept.put(absolute, number);
            Files.deleteIfExists(place(absolute, KEPT));
        }
    }

    /** Returns the work on a file that a window left behind that is gone; the latest if there are several. */
    public Optional<Kept> leftOver(Path file) throws IOException {
        Path absolute = file.toAbsolutePath().normalize();
        return left().filter(owned -> owned.kept().file().equals(absolute))
                .map(Owned::kept)
                .reduce((earlier, later) -> later);
    }

    /** Returns the car files of which a window that is gone left work behind. */
    public List<Path> leftOver() throws IOException {
        return left().map(owned -> owned.kept().file()).distinct().toList();
    }

    /** Forgets the work on a file that windows left behind that are gone. */
    public void forgetLeftOver(Path file) throws IOException {
        Path absolute = file.toAbsolutePath().normalize();
        for (Owned owned : left().toList()) {
            if (owned.kept().file().equals(absolute)) {
                Files.deleteIfExists(owned.at());
            }
        }
    }

    private Stream<Owned> left() throws IOException {
        List<Owned> found = new ArrayList<>();
        for (Path at : entries(KEPT)) {
            read(at).flatMap(text -> kept(at, text))
                    .filter(owned -> !owned.owner().alive())
                    .ifPresent(found::add);
        }
        return found.stream();
    }

    private static Optional<Owned> kept(Path at, String text) {
        int end = text.indexOf("\n\n");
        if (end < 0) {
            return Optional.empty();
        }
        String[] head = text.substring(0, end).split("\n", -1);
        if (head.length != 4 || !head[0].equals(HEAD)) {
            return Optional.empty();
        }
        Optional<Path> file = path(head[1].substring("file ".length()));
        Optional<Owner> owner = owner(head[3].substring("process ".length()));
        if (file.isEmpty() || owner.isEmpty()) {
            return Optional.empty();
        }
        return Optional.of(new Owned(
                at, owner.get(), new Kept(file.get(), head[2].substring("base ".length()), text.substring(end + 2))));
    }

    private static Optional<Path> path(String uri) {
        try {
            return Optional.of(Path.of(java.net.URI.create(uri)));
        } catch (IllegalArgumentException notOurs) {
            return Optional.empty();
        }
    }

    private static Optional<Owner> owner(String words) {
        String[] two = words.split(" ", -1);
        if (two.length != 2 || !two[0].matches("\\d{1,18}") || !two[1].matches("\\d{1,18}")) {
            return Optional.empty();
        }
        return Optional.of(new Owner(Long.parseLong(two[0]), Long.parseLong(two[1])));
    }

    // ---------------------------------------------------------------- who has a file open

    /** Notes that this window has a file open. */
    public synchronized void opened(Path file) throws IOException {
        Path absolute = file.toAbsolutePath().normalize();
        write(place(absolute, OPEN), absolute.toUri() + "\n" + owner.process() + " " + owner.begunMs() + "\n");
    }

    /** Notes that this window has a file open no longer. */
    public synchronized void closed(Path file) throws IOException {
        Files.deleteIfExists(place(file.toAbsolutePath().normalize(), OPEN));
    }

    /** Returns how many other windows have a file open. Notes of windows that are gone are taken out. */
    public int others(Path file) throws IOException {
        Path absolute = file.toAbsolutePath().normalize();
        int count = 0;
        for (Path at : entries(OPEN)) {
            Optional<String> text = read(at);
            String[] lines = text.orElse("").split("\n", -1);
            Optional<Owner> other = lines.length < 2 ? Optional.empty() : owner(lines[1]);
            if (other.isEmpty() || !other.get().alive()) {
                Files.deleteIfExists(at);
            } else if (!other.get().equals(owner) && path(lines[0]).equals(Optional.of(absolute))) {
                count++;
            }
        }
        return count;
    }

    // ---------------------------------------------------------------- recent files

    /** Returns the files that were open last, the latest first; those that are gone from the disk are left out. */
    public List<Path> recent() throws IOException {
        List<Path> found = new ArrayList<>();
        for (String line : read(folder.resolve(RECENT)).orElse("").split("\n", -1)) {
            pathOfThisSystem(line).filter(Files::isRegularFile).ifPresent(found::add);
        }
        return found;
    }

    /** Returns a path; nothing for a line that is none here, as in a folder that was carried over from elsewhere. */
    private static Optional<Path> pathOfThisSystem(String line) {
        try {
            return line.isBlank() ? Optional.empty() : Optional.of(Path.of(line));
        } catch (InvalidPathException notOfThisSystem) {
            return Optional.empty();
        }
    }

    /** Puts a file on top of the recent ones. */
    public synchronized void used(Path file) throws IOException {
        Path absolute = file.toAbsolutePath().normalize();
        List<Path> all = new ArrayList<>(recent());
        all.remove(absolute);
        all.add(0, absolute);
        StringBuilder text = new StringBuilder();
        all.stream().limit(MOST_RECENT).forEach(path -> text.append(path).append('\n'));
        write(folder.resolve(RECENT), text.toString());
    }

    // ---------------------------------------------------------------- disk

    private Path place(Path file, String ending) {
        return folder.resolve(mark(file.toString()).substring(0, NAME_LENGTH) + "-" + owner.process() + ending);
    }

    private List<Path> entries(String ending) throws IOException {
        if (!Files.isDirectory(folder)) {
            return List.of();
        }
        try (Stream<Path> all = Files.list(folder)) {
            return all.filter(path -> path.toString().endsWith(ending))
                    .sorted(java.util.Comparator.comparing(Drawer::written).thenComparing(Path::toString))
                    .toList();
        }
    }

    private static long written(Path path) {
        try {
            return Files.getLastModifiedTime(path).toMillis();
        } catch (IOException gone) {
            return 0; // taken out meanwhile by its own window
        }
    }

    private static Optional<String> read(Path path) throws IOException {
        try {
            return Optional.of(new String(Files.readAllBytes(path), StandardCharsets.UTF_8));
        } catch (NoSuchFileException gone) {
            return Optional.empty();
        }
    }

    private void write(Path path, String text) throws IOException {
        Files.createDirectories(folder);
        Path fresh = path.resolveSibling(path.getFileName() + "." + owner.process() + ".new");
        try (FileChannel channel = FileChannel.open(
                fresh, StandardOpenOption.CREATE, StandardOpenOption.TRUNCATE_EXISTING, StandardOpenOption.WRITE)) {
            ByteBuffer bytes = ByteBuffer.wrap(text.getBytes(StandardCharsets.UTF_8));
            while (bytes.hasRemaining()) {
                channel.write(bytes);
            }
            channel.force(true);
        }
        Files.move(fresh, path, StandardCopyOption.ATOMIC_MOVE, StandardCopyOption.REPLACE_EXISTING);
    }

    /** Returns what tells one text from another: the SHA-256 of its UTF-8 bytes. */
    private static String mark(String text) {
        try {
            return HexFormat.of()
                    .formatHex(MessageDigest.getInstance("SHA-256").digest(text.getBytes(StandardCharsets.UTF_8)));
        } catch (NoSuchAlgorithmException e) {
            throw new IllegalStateException("every Java has SHA-256; please report this", e);
        }
    }
}
