package daylight.bench;

import daylight.bench.file.Drawer;
import daylight.car.CarDocument;
import daylight.car.CarFile;
import daylight.car.CarFileException;
import daylight.car.Complaint;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.Queue;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.function.Consumer;
import javafx.beans.property.ReadOnlyBooleanProperty;
import javafx.beans.property.ReadOnlyBooleanWrapper;
import javafx.beans.property.ReadOnlyObjectProperty;
import javafx.beans.property.ReadOnlyObjectWrapper;
import javafx.beans.property.ReadOnlyStringProperty;
import javafx.beans.property.ReadOnlyStringWrapper;

/**
 * The text of the open car file: its history, its file on the disk, and what is kept of it in case the window is killed.
 *
 * <p>The text is the one truth of the window: whatever is changed is changed in it, and everything that is shown is read
 * from it again. All methods are called on the window's thread; the disk is touched on others.
 */
final class FileViewModel {
    /** Steps that can be undone. A text of a large car is some 100 kB, so all of them together are small. */
    private static final int LONGEST_HISTORY = 500;

    /** A text, and what was done to come to it. */
    private record Stage(String what, CarDocument document) {}

    /** What the file holds, or why it cannot be read. */
    private record OnDisk(Optional<CarDocument> document, List<Complaint> complaints) {
        static OnDisk read(Path file) {
            try {
                return new OnDisk(Optional.of(CarFile.open(file)), List.of());
            } catch (CarFileException e) {
                return new OnDisk(Optional.empty(), e.complaints());
            }
        }
    }

    /** Who is told what becomes of the file. */
    interface Listener {
        /** The text has changed: the car has to be read from it. */
        void changed(CarDocument document);

        /** The user has to know something. */
        void told(String heading, List<String> lines);

        /** Something went well, for the status line. */
        void done(String words);

        /** The program has a mistake. */
        void mistake(Throwable mistake);
    }

    private final Jobs jobs;
    private final Optional<Drawer> drawer;
    private final Listener listener;
    private final Deque<Stage> undone = new ArrayDeque<>();
    private final Deque<Stage> done = new ArrayDeque<>();
    private final Queue<DrawerWork> drawerWork = new ConcurrentLinkedQueue<>();
    private final Deque<Question> questions = new ArrayDeque<>();
    private final ReadOnlyObjectWrapper<Optional<CarDocument>> document = new ReadOnlyObjectWrapper<>(Optional.empty());
    private final ReadOnlyObjectWrapper<Optional<Question>> question = new ReadOnlyObjectWrapper<>(Optional.empty());
    private final ReadOnlyStringWrapper undoWords = new ReadOnlyStringWrapper("");
    private final ReadOnlyStringWrapper redoWords = new ReadOnlyStringWrapper("");
    private final ReadOnlyBooleanWrapper unsaved = new ReadOnlyBooleanWrapper(false);
    private String savedText = "";
    private long changes;
    private boolean toldOfDrawer;
    private int others;

    /**
     * Begins without a file.
     *
     * @param drawer where unsaved work is kept; without one nothing is kept
     */
    FileViewModel(Jobs jobs, Optional<Drawer> drawer, Listener listener) {
        this.jobs = jobs;
        this.drawer = drawer;
        this.listener = listener;
    }

    // ---------------------------------------------------------------- opening

    /**
     * Takes on a text as it is on disk. The history of another file is forgotten; of the same file it goes on. Asks
     * whether work that was left behind is wanted.
     */
    void take(CarDocument fresh) {
        Optional<CarDocument> before = document.get();
        boolean same = before.map(old -> old.file().equals(fresh.file())).orElse(false);
        if (!same) {
            leave();
            done.clear();
            undone.clear();
        } else if (!before.orElseThrow().toText().equals(fresh.toText())) {
            push("the change on disk", before.orElseThrow());
        }
        savedText = fresh.toText();
        set(fresh);
        fresh.file().ifPresent(file -> {
            forget(file);
            if (!same) {
                arrive(file);
            }
        });
    }

    private void arrive(Path file) {
        drawer.ifPresent(kept -> {
            try {
                kept.opened(file);
                kept.used(file);
                kept.leftOver(file).ifPresent(left -> askAboutLeftOver(kept, left));
                others = 0;
                lookForOthers();
            } catch (IOException e) {
                tellOfDrawer(e);
            }
        });
    }

    private void leave() {
        dropQuestions();
        document.get().flatMap(CarDocument::file).ifPresent(file -> {
            forget(file);
            drawer.ifPresent(kept -> {
                try {
                    kept.closed(file);
                } catch (IOException e) {
                    tellOfDrawer(e);
                }
            });
        });
    }

    /** Ends with the file: the window closes. Nothing runs after it, so the drawer is put in order at once. */
    void close() {
        leave();
        document.set(Optional.empty());
        unsaved.set(false);
        try {
            doDrawerWork();
        } catch (IOException e) {
            tellOfDrawer(e);
        }
    }

    /** Looks whether another window has the file open too, and says so once. */
    void lookForOthers() {
        document.get()
                .flatMap(CarDocument::file)
                .ifPresent(file -> drawer.ifPresent(kept -> {
                    try {
                        int now = kept.others(file);
                        if (now > others) {
                            ask(new Question(
                                    "Another window has " + file.getFileName()
                                            + " open too. What is saved in one is read by"
                                            + " the other; if both have changes, the later one is asked.",
                                    List.of(new Question.Answer("Go on", () -> {}))));
                        }
                        others = now;
                    } catch (IOException e) {
                        tellOfDrawer(e);
                    }
                }));
    }

    private void askAboutLeftOver(Drawer kept, Drawer.Kept left) {
        if (left.text().equals(savedText)) {
            dropLeftOver(kept, left.file());
            return;
        }
        String since = left.fileChangedSince(savedText) ? " The file itself was changed since then." : "";
        ask(new Question(
                "There is unsaved work on " + left.file().getFileName()
                        + " from a window that did not close as it should." + since,
                List.of(
                        new Question.Answer("Take it up again", () -> {
                            edit("taking up unsaved work", CarDocument.at(left.file(), left.text()));
                            dropLeftOver(kept, left.file());
                        }),
                        new Question.Answer("Throw it away", () -> dropLeftOver(kept, left.file())))));
    }

    private void dropLeftOver(Drawer kept, Path file) {
        try {
            kept.forgetLeftOver(file);
        } catch (IOException e) {
            tellOfDrawer(e);
        }
    }

    // ---------------------------------------------------------------- changing

    /**
     * Changes the text.
     *
     * @param what what is done, as the menu will say after "Undo": {@code moving the bracket}
     * @param fresh the text that comes of it
     */
    void edit(String what, CarDocument fresh) {
        CarDocument old = document.get().orElseThrow(() -> new IllegalStateException("no car file is open"));
        if (old.toText().equals(fresh.toText())) {
            return;
        }
        push(what, old);
        change(fresh);
    }

    private void push(String what, CarDocument old) {
        done.push(new Stage(what, old));
        undone.clear();
        if (done.size() > LONGEST_HISTORY) {
            done.removeLast();
        }
    }

    /** Takes the last change back. */
    void undo() {
        step(done, undone);
    }

    /** Does the change that was taken back last again. */
    void redo() {
        step(undone, done);
    }

    private void step(Deque<Stage> from, Deque<Stage> onto) {
        if (!from.isEmpty()) {
            Stage stage = from.pop();
            onto.push(new Stage(stage.what(), document.get().orElseThrow()));
            change(stage.document());
        }
    }

    private void change(CarDocument fresh) {
        set(fresh);
        keep(fresh);
        listener.changed(fresh);
    }

    private void set(CarDocument fresh) {
        document.set(Optional.of(fresh));
        undoWords.set(done.isEmpty() ? "" : Objects.requireNonNull(done.peek()).what());
        redoWords.set(
                undone.isEmpty() ? "" : Objects.requireNonNull(undone.peek()).what());
        unsaved.set(!fresh.toText().equals(savedText));
    }

    // ---------------------------------------------------------------- keeping

    private void keep(CarDocument now) {
        if (drawer.isEmpty() || now.file().isEmpty()) {
            return;
        }
        if (!unsaved.get()) {
            forget(now.file().get());
            return;
        }
        Drawer kept = drawer.get();
        Path file = now.file().get();
        long number = ++changes;
        String base = savedText;
        drawerJob(() -> kept.keep(number, file, base, now.toText()));
    }

    private void forget(Path file) {
        drawer.ifPresent(kept -> {
            long number = ++changes;
            drawerJob(() -> kept.forget(number, file));
        });
    }

    /** Work on the drawer. */
    private interface DrawerWork {
        void run() throws IOException;
    }

    private void drawerJob(DrawerWork work) {
        drawerWork.add(work);
        jobs.start(
                Jobs.Line.KEEP,
                progress -> {
                    try {
                        doDrawerWork();
                    } catch (IOException e) {
                        return Optional.of(e);
                    }
                    return Optional.<IOException>empty();
                },
                new Jobs.Answer<Optional<IOException>>() {
                    @Override
                    public void done(Optional<IOException> trouble) {
                        trouble.ifPresent(FileViewModel.this::tellOfDrawer);
                    }

                    @Override
                    public void failed(Throwable mistake) {
                        listener.mistake(mistake);
                    }
                });
    }

    /** Does what waits, in its order. A job that is cancelled leaves its work to the one that came after it. */
    private void doDrawerWork() throws IOException {
        synchronized (drawerWork) {
            for (DrawerWork next = drawerWork.poll(); next != null; next = drawerWork.poll()) {
                next.run();
            }
        }
    }

    private void tellOfDrawer(IOException e) {
        if (!toldOfDrawer) {
            toldOfDrawer = true;
            listener.told(
                    "Unsaved work cannot be kept in case of a power cut: save often.",
                    List.of("The folder " + drawer.map(Drawer::folder).orElseThrow() + " does not take it ("
                            + e.getMessage() + "). Make room there, or let it be written."));
        }
    }

    // ---------------------------------------------------------------- saving

    /** Writes the text into its file, whole or not at all. */
    void save() {
        save(() -> {});
    }

    private void save(Runnable then) {
        document.get()
                .ifPresent(now -> now.file().ifPresent(file -> {
                    String known = savedText;
                    start(
                            Jobs.Line.SAVE,
                            () -> {
                                OnDisk there = OnDisk.read(file);
                                boolean changed = there.document()
                                        .filter(text -> !text.toText().equals(known)
                                                && !text.toText().equals(now.toText()))
                                        .isPresent();
                                return changed ? there.document() : written(file, now);
                            },
                            (Optional<CarDocument> other) -> other.ifPresentOrElse(text -> askAboutDisk(text), () -> {
                                saved(now);
                                then.run();
                            }));
                }));
    }

    private static Optional<CarDocument> written(Path file, CarDocument now) throws CarFileException {
        CarFile.save(file, now.toText());
        return Optional.empty();
    }

    /**
     * Writes the text into another file, and goes on with that one.
     *
     * @param other there may be a file already: the user was asked
     */
    void saveAs(Path other) {
        document.get().ifPresent(now -> {
            CarDocument moved = CarDocument.at(other, now.toText());
            start(Jobs.Line.SAVE, () -> written(other, moved), (Optional<CarDocument> nothing) -> {
                leave();
                savedText = moved.toText();
                set(moved);
                arrive(moved.file().orElseThrow());
                jobs.watch(moved.file().orElseThrow(), this::looked);
                listener.changed(moved);
                listener.done("saved as " + moved.name());
            });
        });
    }

    /**
     * Writes a text into a new file.
     *
     * @param then what is done once it is there
     */
    void create(Path file, String text, Runnable then) {
        CarDocument fresh = CarDocument.at(file, text);
        start(Jobs.Line.SAVE, () -> written(file, fresh), (Optional<CarDocument> nothing) -> then.run());
    }

    private void saved(CarDocument written) {
        savedText = written.toText();
        boolean still =
                document.get().map(now -> now.toText().equals(savedText)).orElse(false);
        unsaved.set(!still);
        if (still) {
            written.file().ifPresent(this::forget);
        }
        listener.done("saved " + written.name());
    }

    /** Work on a file that may be refused. */
    private interface DiskWork<T> {
        T run() throws CarFileException;
    }

    private <T> void start(Jobs.Line line, DiskWork<T> work, Consumer<T> then) {
        jobs.start(
                line,
                progress -> {
                    try {
                        return new Tried<>(Optional.of(work.run()), List.of());
                    } catch (CarFileException e) {
                        return new Tried<T>(Optional.empty(), e.complaints());
                    }
                },
                new Jobs.Answer<Tried<T>>() {
                    @Override
                    public void done(Tried<T> tried) {
                        tried.result()
                                .ifPresentOrElse(
                                        then,
                                        () -> listener.told(
                                                "The file was not saved. What you did is kept in this window, and beside it in case the"
                                                        + " window is lost.",
                                                tried.complaints().stream()
                                                        .map(Complaint::toString)
                                                        .toList()));
                    }

                    @Override
                    public void failed(Throwable mistake) {
                        listener.mistake(mistake);
                    }
                });
    }

    private record Tried<T>(Optional<T> result, List<Complaint> complaints) {}

    // ---------------------------------------------------------------- the disk

    /** Looks at the file, which may have changed on the disk. */
    void looked(Path file) {
        jobs.start(Jobs.Line.DISK, progress -> OnDisk.read(file), new Jobs.Answer<OnDisk>() {
            @Override
            public void done(OnDisk there) {
                there.document()
                        .ifPresentOrElse(
                                FileViewModel.this::found,
                                () -> listener.told(
                                        "The file cannot be read any more. The car is shown as it was; saving writes it"
                                                + " anew.",
                                        there.complaints().stream()
                                                .map(Complaint::toString)
                                                .toList()));
                if (there.document().isEmpty()) {
                    savedText = "";
                    unsaved.set(document.get().isPresent());
                }
            }

            @Override
            public void failed(Throwable mistake) {
                listener.mistake(mistake);
            }
        });
    }

    private void found(CarDocument there) {
        CarDocument mine = document.get().orElse(there);
        if (there.toText().equals(savedText)) {
            return;
        }
        if (there.toText().equals(mine.toText())) {
            saved(there);
        } else if (unsaved.get()) {
            askAboutDisk(there);
        } else {
            take(there);
            listener.changed(there);
        }
    }

    private void askAboutDisk(CarDocument there) {
        dropQuestions();
        ask(new Question(
                there.name() + " was changed on the disk, and you have changes here that are not saved.",
                List.of(
                        new Question.Answer("Keep mine", () -> {
                            savedText = there.toText();
                            set(document.get().orElse(there));
                        }),
                        new Question.Answer("Take the file's", () -> {
                            take(there);
                            listener.changed(there);
                        }))));
    }

    // ---------------------------------------------------------------- questions

    /**
     * Does something that would lose unsaved work, after asking about it.
     *
     * @param what what is about to be done, to follow "Before": {@code closing}
     */
    void guarded(String what, Runnable then) {
        if (!unsaved.get()) {
            then.run();
            return;
        }
        String name = document.get().map(CarDocument::name).orElse("the file");
        dropQuestions();
        ask(new Question(
                "Before " + what + ": " + name + " has changes that are not saved.",
                List.of(
                        new Question.Answer("Save them", () -> save(then)),
                        new Question.Answer("Throw them away", () -> {
                            unsaved.set(false);
                            then.run();
                        }),
                        new Question.Answer("Go back", () -> {}))));
    }

    private void ask(Question fresh) {
        questions.add(fresh);
        showQuestion();
    }

    private void showQuestion() {
        question.set(Optional.ofNullable(questions.peek()));
    }

    private void dropQuestions() {
        questions.clear();
        showQuestion();
    }

    /** Answers the question that is asked. */
    void answer(Question.Answer chosen) {
        questions.poll();
        showQuestion();
        chosen.run().run();
    }

    /** The files that were open last, and those of which work was left behind, the latest first. */
    List<Path> recent() {
        List<Path> files = new ArrayList<>();
        drawer.ifPresent(kept -> {
            try {
                files.addAll(kept.leftOver());
                kept.recent().stream().filter(file -> !files.contains(file)).forEach(files::add);
            } catch (IOException e) {
                throw new UncheckedIOException("the folder " + kept.folder() + " cannot be read", e);
            }
        });
        return files;
    }

    /** Where demo cars are copied to. */
    Optional<Path> demoFolder() {
        return drawer.map(kept -> kept.folder().resolve("demo"));
    }

    // ---------------------------------------------------------------- properties

    ReadOnlyObjectProperty<Optional<CarDocument>> documentProperty() {
        return document.getReadOnlyProperty();
    }

    /** What undo would take back; empty where there is nothing. */
    ReadOnlyStringProperty undoWordsProperty() {
        return undoWords.getReadOnlyProperty();
    }

    /** What redo would do again; empty where there is nothing. */
    ReadOnlyStringProperty redoWordsProperty() {
        return redoWords.getReadOnlyProperty();
    }

    /** Whether the text is not what the file holds. */
    ReadOnlyBooleanProperty unsavedProperty() {
        return unsaved.getReadOnlyProperty();
    }

    /** What the user has to decide. */
    ReadOnlyObjectProperty<Optional<Question>> questionProperty() {
        return question.getReadOnlyProperty();
    }
}
