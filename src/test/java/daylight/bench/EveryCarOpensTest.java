package daylight.bench;

import static org.assertj.core.api.Assertions.assertThat;

import daylight.car.Layout;
import daylight.car.Layouts;
import daylight.car.StarterFile;
import daylight.clearance.Asked;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.logging.Handler;
import java.util.logging.Level;
import java.util.logging.LogRecord;
import java.util.logging.Logger;
import java.util.stream.Stream;
import javafx.stage.Stage;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIf;
import org.junit.jupiter.api.io.TempDir;
import org.testfx.api.FxRobot;
import org.testfx.api.FxToolkit;
import org.testfx.util.WaitForAsyncUtils;

/** The window opened on each demo car and on a car begun from each layout: no complaint, nothing on the console. */
@EnabledIf(
        value = "daylight.bench.WindowTest#hasDisplay",
        disabledReason = "no display: run the tests under xvfb-run (bash .ci/run) to see the window")
class EveryCarOpensTest {
    private static final int PATIENCE_S = 120;

    private final FxRobot robot = new FxRobot();

    @Test
    void withoutAWarning(@TempDir Path folder) throws IOException, TimeoutException {
        List<Path> cars = new ArrayList<>();
        try (Stream<Path> demos = Files.list(Path.of("demo"))) {
            demos.filter(file -> file.toString().endsWith(".yaml"))
                    .sorted()
                    .forEach(file -> cars.add(file.toAbsolutePath()));
        }
        for (String name : Layouts.names()) {
            Layout layout = Layouts.named(name).orElseThrow();
            String text = StarterFile.of(List.of(StarterFile.Wanted.of(layout)), true);
            cars.add(Files.writeString(folder.resolve(name.replaceAll("[^\\p{Alnum}]+", "-") + ".yaml"), text));
        }
        PrintStream before = System.err;
        ByteArrayOutputStream said = new ByteArrayOutputStream();
        // The toolkit's remarks (a stylesheet that it cannot read, say) go to the log, whose own ear was opened
        // earlier.
        List<String> logged = new ArrayList<>();
        Handler log = new Handler() {
            @Override
            public synchronized void publish(LogRecord told) {
                String words = String.valueOf(told.getMessage());
                if (told.getLevel().intValue() >= Level.WARNING.intValue()
                        && !words.startsWith("Unsupported JavaFX configuration")) {
                    logged.add(told.getLoggerName() + ": " + words);
                }
            }

            @Override
            public void flush() {}

            @Override
            public void close() {}
        };
        Logger root = Logger.getLogger("");
        root.addHandler(log);
        FxToolkit.registerPrimaryStage();
        try (PrintStream ear = new PrintStream(said, true, StandardCharsets.UTF_8)) {
            System.setErr(ear);
            for (Path car : cars) {
                open(car);
            }
        } finally {
            System.setErr(before);
            root.removeHandler(log);
        }
        assertThat(logged).as("the log").isEmpty();
        assertThat(said.toString(StandardCharsets.UTF_8)).as("the console").isEmpty();
    }

    private void open(Path car) throws TimeoutException {
        Background background = new Background();
        // The gaps are looked at coarsely: what is shown is the same.
        BenchViewModel model = new BenchViewModel(background, new Asked(5, 13, 3, 1));
        BenchView[] view = new BenchView[1];
        FxToolkit.setupFixture(() -> {
            view[0] = DaylightWindow.show(new Stage(), model);
            model.open(car);
        });
        WaitForAsyncUtils.waitFor(
                PATIENCE_S,
                TimeUnit.SECONDS,
                () -> WaitForAsyncUtils.asyncFx(
                                () -> model.tableProperty().get().isPresent()
                                        || model.noticeProperty().get().isPresent())
                        .get());
        robot.interact(() -> {
            assertThat(model.noticeProperty().get()).as("%s", car).isEmpty();
            for (Step step : Step.values()) {
                model.stepProperty().set(step);
            }
            model.shownRows().stream().findFirst().ifPresent(model::choose);
        });
        WaitForAsyncUtils.waitForFxEvents();
        robot.interact(() -> {
            assertThat(model.noticeProperty().get()).as("%s", car).isEmpty();
            view[0].getScene().getWindow().hide();
        });
        background.close();
    }
}
