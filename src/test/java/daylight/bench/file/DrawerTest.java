package daylight.bench.file;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class DrawerTest {
    /** No process has this number: the greatest that any system gives is far below. */
    private static final Drawer.Owner GONE = new Drawer.Owner(99_999_999_999L, 1);

    @TempDir
    private Path folder;

    private Drawer drawer(Drawer.Owner owner) {
        return new Drawer(folder.resolve("drawer"), owner);
    }

    private Path car(String name) throws IOException {
        return Files.writeString(folder.resolve(name), "daylight: 1\n");
    }

    @Test
    void workOfAWindowThatIsGoneIsFoundWhole() throws IOException {
        Path car = car("my car \u00e4.yaml");
        drawer(GONE).keep(1, car, "on disk", "line one\n\nline three: \u00bd\n");
        Drawer.Kept left = drawer(Drawer.Owner.self()).leftOver(car).orElseThrow();
        assertThat(left.text()).isEqualTo("line one\n\nline three: \u00bd\n");
        assertThat(left.fileChangedSince("on disk")).isFalse();
        assertThat(left.fileChangedSince("other")).isTrue();
        assertThat(drawer(Drawer.Owner.self()).leftOver()).containsExactly(car.toAbsolutePath());
        drawer(Drawer.Owner.self()).forgetLeftOver(car);
        assertThat(drawer(Drawer.Owner.self()).leftOver(car)).isEmpty();
    }

    @Test
    void workOfAWindowThatIsStillOpenIsItsOwn() throws IOException {
        Path car = car("car.yaml");
        drawer(Drawer.Owner.self()).keep(1, car, "", "work");
        assertThat(drawer(Drawer.Owner.self()).leftOver(car)).isEmpty();
        assertThat(drawer(Drawer.Owner.self()).leftOver()).isEmpty();
    }

    @Test
    void aProcessOfTheSameNumberThatBeganAtAnotherTimeIsAnother() throws IOException {
        Path car = car("car.yaml");
        Drawer.Owner self = Drawer.Owner.self();
        drawer(new Drawer.Owner(self.process(), self.begunMs() - 1)).keep(1, car, "", "work");
        assertThat(drawer(self).leftOver(car).map(Drawer.Kept::text)).contains("work");
    }

    @Test
    void lateWorkIsDropped() throws IOException {
        Path car = car("car.yaml");
        Drawer drawer = drawer(GONE);
        drawer.keep(2, car, "", "newer");
        drawer.keep(1, car, "", "older");
        assertThat(drawer.leftOver(car).map(Drawer.Kept::text)).contains("newer");
        drawer.forget(3, car);
        drawer.keep(2, car, "", "late");
        assertThat(drawer.leftOver(car)).isEmpty();
    }

    @Test
    void anotherWindowOnTheSameFileIsSeenUntilItIsGone() throws IOException {
        Path car = car("car.yaml");
        Drawer mine = drawer(Drawer.Owner.self());
        mine.opened(car);
        assertThat(mine.others(car)).isZero();
        Process other = new ProcessBuilder("sleep", "60").start();
        try {
            Drawer.Owner owner = new Drawer.Owner(
                    other.pid(),
                    other.toHandle().info().startInstant().orElseThrow().toEpochMilli());
            drawer(owner).opened(car);
            drawer(owner).opened(car("another.yaml"));
            assertThat(mine.others(car)).isEqualTo(1);
        } finally {
            other.destroyForcibly();
            other.onExit().join();
        }
        assertThat(mine.others(car)).isZero();
    }

    @Test
    void recentFilesAreTheLatestFirstAndNoMoreThanTen() throws IOException {
        Drawer drawer = drawer(Drawer.Owner.self());
        assertThat(drawer.recent()).isEmpty();
        for (int i = 0; i < 12; i++) {
            drawer.used(car("car" + i + ".yaml"));
        }
        drawer.used(car("car5.yaml"));
        List<Path> recent = drawer.recent();
        assertThat(recent).hasSize(10);
        assertThat(recent.get(0)).endsWith(Path.of("car5.yaml"));
        assertThat(recent.get(1)).endsWith(Path.of("car11.yaml"));
        Files.delete(folder.resolve("car5.yaml"));
        assertThat(drawer.recent()).hasSize(9);
    }

    @Test
    void aFolderThatCannotBeMadeSaysSo() throws IOException {
        Path file = Files.writeString(folder.resolve("in the way"), "");
        Drawer drawer = new Drawer(file.resolve("drawer"), Drawer.Owner.self());
        Path car = car("car.yaml");
        assertThatThrownBy(() -> drawer.keep(1, car, "", "work")).isInstanceOf(IOException.class);
        assertThat(drawer.leftOver(car)).isEmpty();
    }

    @Test
    void whatIsNotOursInTheFolderIsPassedOver() throws IOException {
        Path car = car("car.yaml");
        Files.createDirectories(folder.resolve("drawer"));
        Files.writeString(folder.resolve("drawer").resolve("x.kept"), "no head");
        Files.writeString(
                folder.resolve("drawer").resolve("y.kept"), "daylight kept 1\nfile ::\nbase \nprocess a b\n\nx");
        Files.writeString(folder.resolve("drawer").resolve("z.open"), "");
        assertThat(drawer(Drawer.Owner.self()).leftOver()).isEmpty();
        assertThat(drawer(Drawer.Owner.self()).others(car)).isZero();
    }

    @Test
    void eachSystemHasItsFolder() {
        Map<String, String> none = Map.of();
        assertThat(Drawer.place(Optional.empty(), "Linux", "/home/u", none))
                .isEqualTo(Path.of("/home/u/.local/state/daylight"));
        assertThat(Drawer.place(Optional.empty(), "Linux", "/home/u", Map.of("XDG_STATE_HOME", "/s")))
                .isEqualTo(Path.of("/s/daylight"));
        assertThat(Drawer.place(Optional.empty(), "Mac OS X", "/u", none))
                .isEqualTo(Path.of("/u/Library/Application Support/Daylight"));
        assertThat(Drawer.place(Optional.empty(), "Windows 11", "/u", Map.of("LOCALAPPDATA", "/l")))
                .isEqualTo(Path.of("/l/Daylight"));
        assertThat(Drawer.place(Optional.of("/mine"), "Linux", "/u", none)).isEqualTo(Path.of("/mine"));
    }

    @Test
    void everyDemoIsInTheProgramAndIsCopiedOnce() throws IOException {
        List<DemoCars.Demo> demos = DemoCars.all();
        assertThat(demos).hasSizeGreaterThanOrEqualTo(2);
        for (DemoCars.Demo demo : demos) {
            Path copy = DemoCars.copy(demo, folder.resolve("demos"));
            assertThat(copy).hasSameTextualContentAs(Path.of("demo", demo.file()));
            Files.writeString(copy, "changed");
            assertThat(DemoCars.copy(demo, folder.resolve("demos"))).hasContent("changed");
        }
    }
}
