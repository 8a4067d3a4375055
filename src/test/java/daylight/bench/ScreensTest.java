package daylight.bench;

import static org.assertj.core.api.Assertions.assertThat;

import daylight.bench.file.Drawer;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.function.BooleanSupplier;
import javafx.scene.Node;
import javafx.scene.control.Button;
import javafx.scene.control.ListView;
import javafx.scene.control.TableView;
import javafx.scene.control.TextField;
import javafx.scene.control.TextInputControl;
import javafx.scene.image.PixelReader;
import javafx.scene.image.WritableImage;
import javafx.scene.input.Clipboard;
import javafx.scene.input.ClipboardContent;
import javafx.stage.Stage;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIf;
import org.junit.jupiter.api.io.TempDir;
import org.testfx.api.FxRobot;
import org.testfx.api.FxToolkit;
import org.testfx.util.WaitForAsyncUtils;

/** From the start page to a saved car, in a real window. */
@EnabledIf(
        value = "daylight.bench.WindowTest#hasDisplay",
        disabledReason = "no display: run the tests under xvfb-run (bash .ci/run) to see the window")
class ScreensTest {
    /** Long enough for a loaded machine; a passing test never waits for it. */
    private static final int PATIENCE_S = 60;

    @TempDir
    private Path folder;

    private final FxRobot robot = new FxRobot();
    private final Background background = new Background();
    private final ChosenFiles choice = new ChosenFiles();

    @SuppressWarnings("NullAway.Init") // set before each test
    private BenchViewModel model;

    @SuppressWarnings("NullAway.Init") // set in the window's thread
    private BenchView view;

    @SuppressWarnings("NullAway.Init") // set in the window's thread
    private Stage stage;

    @BeforeAll
    static void toolkit() throws TimeoutException {
        FxToolkit.registerPrimaryStage();
    }

    @BeforeEach
    void openTheWindow() throws TimeoutException {
        model = new BenchViewModel(background, new Drawer(folder.resolve("drawer"), Drawer.Owner.self()));
        FxToolkit.setupFixture(() -> {
            stage = new Stage();
            view = DaylightWindow.show(stage, model, choice);
            stage.setX(0);
            stage.setY(0);
            stage.setWidth(1280);
            stage.setHeight(800);
        });
    }

    @AfterEach
    void closeIt() {
        robot.interact(() -> stage.hide());
        background.close();
    }

    private static void await(BooleanSupplier ready) {
        try {
            WaitForAsyncUtils.waitFor(
                    PATIENCE_S,
                    TimeUnit.SECONDS,
                    () -> WaitForAsyncUtils.asyncFx(ready::getAsBoolean).get());
        } catch (TimeoutException e) {
            throw new AssertionError("it did not come to pass in " + PATIENCE_S + " s", e);
        }
        WaitForAsyncUtils.waitForFxEvents();
    }

    private <T extends Node> T find(Class<T> type, String id) {
        return view.lookupAll("*").stream()
                .filter(node -> type.isInstance(node) && id.equals(node.getId()))
                .map(type::cast)
                .findFirst()
                .orElseThrow(() -> new AssertionError("nothing is called " + id));
    }

    private void press(String id) {
        robot.interact(() -> find(Button.class, id).fire());
    }

    private void type(String id, String words) {
        robot.interact(() -> find(TextInputControl.class, id).setText(words));
    }

    @Test
    void fromLayoutsToASavedCarWithPastedReadingsAndAPart() throws IOException {
        Path file = folder.resolve("mine.yaml");
        choice.write = Optional.of(file);
        press("begin");
        robot.interact(() -> find(ListView.class, "layouts").getSelectionModel().select(0));
        press("add-mechanism");
        press("write-car");
        await(() -> model.openProperty().get().isPresent());
        assertThat(Files.readString(file)).contains("double-a-arm-rack");

        robot.interact(() -> model.stepProperty().set(Step.MEASURE));
        await(() -> !model.measure().staleProperty().get());
        assertThat(model.measure().points()).isNotEmpty();
        robot.interact(() -> {
            ClipboardContent cells = new ClipboardContent();
            cells.putString("""
                    front left lower ball joint\tfront left upper ball joint\t10 1/2
                    front left wheel centre\tfloor\t12 1/4
                    """);
            Clipboard.getSystemClipboard().setContent(cells);
        });
        press("paste");
        assertThat(model.measure().complaintProperty().get()).isEmpty();
        await(() -> model.measure().readings().size() == 2);
        robot.interact(
                () -> find(TableView.class, "readings").getSelectionModel().select(0));
        assertThat(model.measure().markedProperty().get()).isPresent();

        robot.interact(() -> model.stepProperty().set(Step.PARTS));
        press("add-part");
        type("part-name", "exhaust pipe");
        type("part-od", "2 1/4");
        type("part-through", "0, 0, 8\n-40, 0, 8");
        press("apply-part");
        await(() -> model.partNumber("exhaust pipe").isPresent());
        assertThat(find(Button.class, "do-undo").isDisabled()).isFalse();

        robot.interact(() -> model.file().save());
        await(() -> !model.file().unsavedProperty().get());
        assertThat(Files.readString(file)).contains("exhaust pipe").contains("10 1/2");
    }

    @Test
    void aMistakeOnTheFormIsToldBesideItsField() {
        openDemo();
        robot.interact(() -> model.stepProperty().set(Step.PARTS));
        press("add-part");
        type("part-name", "new one");
        type("part-od", "2 inn");
        type("part-through", "0, 0, 8\n-40, 0, 8");
        press("apply-part");
        await(() -> view.lookupAll(".refusal").stream()
                .anyMatch(node -> node.isVisible()
                        && ((javafx.scene.control.Label) node).getText().contains("2 inn")));
        assertThat(model.partNumber("new one")).isEmpty();
    }

    private void openDemo() {
        press("demo-kit-roadster.yaml");
        await(() -> model.openProperty().get().isPresent());
    }

    @Test
    void closingWithUnsavedWorkAsksAndKeepsTheWindow() throws IOException {
        openDemo();
        Path file = model.openProperty().get().orElseThrow().file();
        String before = Files.readString(file);
        robot.interact(() -> model.edit(
                "naming the car",
                model.file().documentProperty().get().orElseThrow().withValue(java.util.List.of("car"), "Mine now")));
        robot.interact(() ->
                stage.fireEvent(new javafx.stage.WindowEvent(stage, javafx.stage.WindowEvent.WINDOW_CLOSE_REQUEST)));
        assertThat(stage.isShowing()).isTrue();
        assertThat(find(javafx.scene.layout.HBox.class, "question").isVisible()).isTrue();
        robot.interact(() -> model.file()
                .answer(model.file()
                        .questionProperty()
                        .get()
                        .orElseThrow()
                        .answers()
                        .get(0)));
        await(() -> !stage.isShowing());
        assertThat(Files.readString(file)).isNotEqualTo(before).contains("Mine now");
    }

    @Test
    void thePictureOfALayoutIsDrawn() {
        press("begin");
        robot.interact(() -> find(ListView.class, "layouts").getSelectionModel().select(1));
        WaitForAsyncUtils.waitForFxEvents();
        int[] inked = new int[1];
        robot.interact(() -> {
            WritableImage picture = view.newCarPane().lookup(".paper").snapshot(null, null);
            PixelReader pixels = picture.getPixelReader();
            for (int y = 0; y < picture.getHeight(); y += 2) {
                for (int x = 0; x < picture.getWidth(); x += 2) {
                    inked[0] += pixels.getColor(x, y).getBrightness() < 0.9
                                    || pixels.getColor(x, y).getSaturation() > 0.3
                            ? 1
                            : 0;
                }
            }
        });
        assertThat(inked[0]).as("pixels of four that are drawn on").isGreaterThan(500);
        assertThat(find(TextField.class, "mechanism-name").getText()).isNotEmpty();
    }
}
