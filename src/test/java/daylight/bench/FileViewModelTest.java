package daylight.bench;

import static org.assertj.core.api.Assertions.assertThat;

import daylight.bench.file.Drawer;
import daylight.car.CarDocument;
import daylight.car.CarFile;
import daylight.car.CarFileException;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class FileViewModelTest {
    private static final Drawer.Owner GONE = new Drawer.Owner(99_999_999_999L, 1);
    private static final String TEXT = "# mine\ndaylight: 1\ncar: First   # a name\nunits: in\n";
    /** Long enough for a loaded machine; a passing test never waits for it. */
    private static final int PATIENCE_S = 120;

    @TempDir
    private Path folder;

    private final JobsAtOnce jobs = new JobsAtOnce();
    private final List<String> read = new ArrayList<>();
    private final List<String> told = new ArrayList<>();
    private final List<String> saved = new ArrayList<>();

    @SuppressWarnings("NullAway.Init") // set before each test
    private Path file;

    @SuppressWarnings("NullAway.Init") // set before each test
    private FileViewModel model;

    @BeforeEach
    void openTheFile() throws IOException, CarFileException {
        file = Files.writeString(folder.resolve("car.yaml"), TEXT);
        model = window(Drawer.Owner.self());
        model.take(CarFile.open(file));
        jobs.finish();
    }

    private FileViewModel window(Drawer.Owner owner) {
        return new FileViewModel(
                jobs, Optional.of(new Drawer(folder.resolve("drawer"), owner)), new FileViewModel.Listener() {
                    @Override
                    public void changed(CarDocument document) {
                        read.add(document.toText());
                    }

                    @Override
                    public void told(String heading, List<String> lines) {
                        told.add(heading + " " + lines);
                    }

                    @Override
                    public void done(String words) {
                        saved.add(words);
                    }

                    @Override
                    public void mistake(Throwable mistake) {
                        throw new AssertionError(mistake);
                    }
                });
    }

    private void name(String name) {
        model.edit("naming it " + name, text().withValue(List.of("car"), name));
        jobs.finish();
    }

    private CarDocument text() {
        return model.documentProperty().get().orElseThrow();
    }

    private String value() {
        return text().value(List.of("car")).orElseThrow();
    }

    private void answer(String words) {
        Question question = model.questionProperty().get().orElseThrow();
        model.answer(question.answers().stream()
                .filter(answer -> answer.words().equals(words))
                .findFirst()
                .orElseThrow(() -> new AssertionError(question + " has no answer " + words)));
        jobs.finish();
    }

    @Test
    void everyChangeCanBeUndoneAndDoneAgain() {
        name("Second");
        name("Third");
        assertThat(model.undoWordsProperty().get()).isEqualTo("naming it Third");
        model.undo();
        model.undo();
        assertThat(text().toText()).isEqualTo(TEXT);
        assertThat(model.unsavedProperty().get()).isFalse();
        model.redo();
        assertThat(value()).isEqualTo("Second");
        assertThat(model.redoWordsProperty().get()).isEqualTo("naming it Third");
        name("Fourth");
        assertThat(model.redoWordsProperty().get())
                .as("a new change ends what was undone")
                .isEmpty();
        assertThat(read).hasSize(6);
        assertThat(text().toText()).as("comments stay").contains("# mine").contains("# a name");
        model.redo();
        model.undo();
        model.undo();
        model.undo();
        assertThat(text().toText()).as("no further than the beginning").isEqualTo(TEXT);
    }

    @Test
    void savingWritesTheFileAndForgetsWhatWasKept() throws IOException, CarFileException {
        name("Second");
        assertThat(model.unsavedProperty().get()).isTrue();
        assertThat(Files.readString(file)).isEqualTo(TEXT);
        model.save();
        jobs.finish();
        assertThat(Files.readString(file)).isEqualTo(text().toText());
        assertThat(model.unsavedProperty().get()).isFalse();
        assertThat(kept()).isEmpty();
        model.undo();
        assertThat(model.unsavedProperty().get()).as("the history goes on").isTrue();
    }

    private List<Path> kept() throws IOException {
        try (var all = Files.list(folder.resolve("drawer"))) {
            return all.filter(path -> path.toString().endsWith(".kept")).toList();
        }
    }

    @Test
    void workThatWasLeftBehindIsTakenUpAgain() throws IOException, CarFileException {
        new Drawer(folder.resolve("drawer"), GONE).keep(1, file, TEXT, TEXT.replace("First", "Left behind"));
        model.close();
        model.take(CarFile.open(file));
        assertThat(model.questionProperty().get().orElseThrow().words())
                .contains("unsaved work")
                .doesNotContain("changed since");
        answer("Take it up again");
        assertThat(value()).isEqualTo("Left behind");
        assertThat(model.unsavedProperty().get()).isTrue();
        assertThat(kept()).as("kept for this window now").hasSize(1);
        model.undo();
        assertThat(text().toText()).isEqualTo(TEXT);
    }

    @Test
    void workThatIsThrownAwayIsNotAskedAboutAgain() throws IOException, CarFileException {
        new Drawer(folder.resolve("drawer"), GONE).keep(1, file, "another text", TEXT + "\n");
        model.close();
        model.take(CarFile.open(file));
        assertThat(model.questionProperty().get().orElseThrow().words()).contains("changed since");
        answer("Throw it away");
        model.close();
        model.take(CarFile.open(file));
        assertThat(model.questionProperty().get()).isEmpty();
    }

    @Test
    void aWindowThatIsKilledInMidEditLosesNothing() throws Exception {
        Path other = Files.writeString(folder.resolve("other.yaml"), TEXT);
        Process child = new ProcessBuilder(
                        Path.of(System.getProperty("java.home", ""), "bin", "java")
                                .toString(),
                        "-cp",
                        System.getProperty("surefire.test.class.path", System.getProperty("java.class.path", "")),
                        KilledWindow.class.getName(),
                        other.toString(),
                        folder.resolve("drawer").toString())
                .redirectError(folder.resolve("child.err").toFile())
                .start();
        int last = 0;
        try (BufferedReader out =
                new BufferedReader(new InputStreamReader(child.getInputStream(), StandardCharsets.UTF_8))) {
            for (String line = out.readLine(); line != null; line = out.readLine()) {
                last = Integer.parseInt(line);
                if (last == 40) {
                    child.toHandle().destroyForcibly(); // kill -9, while it goes on changing
                }
            }
        }
        assertThat(child.waitFor(PATIENCE_S, TimeUnit.SECONDS)).isTrue();
        assertThat(last)
                .as("the child ran: %s", Files.readString(folder.resolve("child.err")))
                .isGreaterThanOrEqualTo(40);
        assertThat(Files.readString(other)).as("the file is as it was").isEqualTo(TEXT);
        model.take(CarFile.open(other));
        answer("Take it up again");
        String name = value();
        assertThat(name).startsWith("Change ");
        int recovered = Integer.parseInt(name.substring("Change ".length()));
        assertThat(recovered)
                .as("everything up to the last change that it spoke of, or the one it was at")
                .isBetween(last, last + 1);
        assertThat(text().toText()).isEqualTo(TEXT.replace("First", name));
    }

    @Test
    void aChangeOnDiskIsReadUnlessThereIsUnsavedWork() throws IOException, CarFileException {
        Files.writeString(file, TEXT.replace("First", "From outside"));
        model.looked(file);
        jobs.finish();
        assertThat(value()).isEqualTo("From outside");
        assertThat(read).hasSize(1);
        model.undo();
        assertThat(text().toText()).as("also that can be undone").isEqualTo(TEXT);

        Files.writeString(file, TEXT.replace("First", "Once more"));
        model.looked(file);
        jobs.finish();
        assertThat(text().toText()).as("unsaved work stays").isEqualTo(TEXT);
        answer("Take the file's");
        assertThat(value()).isEqualTo("Once more");
    }

    @Test
    void savingOverAChangeOnDiskAsksFirst() throws IOException, CarFileException {
        name("Mine");
        Files.writeString(file, TEXT.replace("First", "Theirs"));
        model.save();
        jobs.finish();
        assertThat(Files.readString(file)).contains("Theirs");
        answer("Keep mine");
        model.save();
        jobs.finish();
        assertThat(Files.readString(file)).contains("Mine");
    }

    @Test
    void whatWouldLoseUnsavedWorkAsksFirst() throws IOException, CarFileException {
        List<String> done = new ArrayList<>();
        model.guarded("closing", () -> done.add("closed"));
        assertThat(done).hasSize(1);
        name("Second");
        model.guarded("closing", () -> done.add("closed"));
        assertThat(done).hasSize(1);
        answer("Go back");
        assertThat(done).hasSize(1);
        model.guarded("closing", () -> done.add("closed"));
        answer("Save them");
        assertThat(done).hasSize(2);
        assertThat(Files.readString(file)).contains("Second");
        name("Third");
        model.guarded("closing", () -> done.add("closed"));
        answer("Throw them away");
        assertThat(done).hasSize(3);
        assertThat(Files.readString(file)).contains("Second");
    }

    @Test
    void aDiskThatDoesNotTakeItSaysSoAndTheWorkStays() throws IOException, CarFileException {
        name("Second");
        Files.delete(file);
        Files.createDirectories(file.resolve("in the way"));
        model.save();
        jobs.finish();
        assertThat(told).hasSize(1).first().asString().contains("not saved").contains("car.yaml:1:1");
        assertThat(value()).isEqualTo("Second");
        assertThat(model.unsavedProperty().get()).isTrue();
        assertThat(kept()).hasSize(1);
    }

    @Test
    void savedUnderAnotherNameItGoesOnThere() throws IOException, CarFileException {
        name("Second");
        Path other = folder.resolve("other.yaml");
        model.saveAs(other);
        jobs.finish();
        assertThat(Files.readString(other)).contains("Second");
        assertThat(Files.readString(file)).isEqualTo(TEXT);
        assertThat(text().file()).contains(other.toAbsolutePath());
        assertThat(model.unsavedProperty().get()).isFalse();
        assertThat(model.recent().get(0)).isEqualTo(other.toAbsolutePath());
        assertThat(jobs.watched).contains(other.toAbsolutePath());
    }

    @Test
    void aFileThatVanishesLeavesTheWorkUnsaved() throws IOException, CarFileException {
        Files.delete(file);
        model.looked(file);
        jobs.finish();
        assertThat(told).hasSize(1);
        assertThat(model.unsavedProperty().get()).isTrue();
        model.save();
        jobs.finish();
        assertThat(Files.readString(file)).isEqualTo(TEXT);
    }
}
