package daylight.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.clearance.Asked;
import daylight.clearance.GapRow;
import daylight.geometry.Spot;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.function.BooleanSupplier;
import javafx.application.ConditionalFeature;
import javafx.application.Platform;
import javafx.event.Event;
import javafx.geometry.Bounds;
import javafx.geometry.Point2D;
import javafx.geometry.Point3D;
import javafx.scene.Node;
import javafx.scene.Parent;
import javafx.scene.control.Button;
import javafx.scene.control.ButtonBase;
import javafx.scene.control.Label;
import javafx.scene.control.ListView;
import javafx.scene.control.ProgressBar;
import javafx.scene.control.Slider;
import javafx.scene.control.TextField;
import javafx.scene.control.TextInputControl;
import javafx.scene.image.WritableImage;
import javafx.scene.input.KeyCode;
import javafx.scene.input.KeyCombination;
import javafx.scene.input.KeyEvent;
import javafx.scene.paint.Color;
import javafx.scene.shape.Circle;
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

/** The window as a person meets it: real, under a display. Without one the tests are skipped and say so. */
@EnabledIf(
        value = "hasDisplay",
        disabledReason = "no display: run the tests under xvfb-run (bash .ci/run) to see the window")
class WindowTest {
    /** Long enough for a loaded machine; a passing test never waits for it. */
    private static final int PATIENCE_S = 60;
    /** Half a pixel: what the eye could tell. */
    private static final double HALF_A_PIXEL = 0.5;

    private final FxRobot robot = new FxRobot();
    private final Background background = new Background();
    private final ChosenFiles choice = new ChosenFiles();
    private final BenchViewModel model = new BenchViewModel(background, new Asked(0.1, 75, 2000, 1));
    // Set in the window's thread, which the analysis does not follow.
    @SuppressWarnings("NullAway.Init")
    private BenchView view;

    /** Whether a window can open: elsewhere than on Linux a display is taken for granted. */
    static boolean hasDisplay() {
        boolean linux = System.getProperty("os.name").toLowerCase(Locale.ROOT).contains("linux");
        return !linux || System.getenv("DISPLAY") != null;
    }

    @BeforeAll
    static void drawsInThreeDimensions() throws TimeoutException {
        FxToolkit.registerPrimaryStage();
        assertThat(Platform.isSupported(ConditionalFeature.SCENE3D))
                .as("3D is drawn (set -Dprism.order=es2 -Dprism.forceGPU=true)")
                .isTrue();
    }

    @BeforeEach
    void openTheWindow() throws TimeoutException {
        FxToolkit.setupFixture(() -> {
            Stage stage = new Stage();
            view = DaylightWindow.show(stage, model, choice);
            stage.setX(0);
            stage.setY(0);
            stage.setWidth(1280);
            stage.setHeight(800);
            model.adopt(TestCar.open());
        });
        await(() -> model.tableProperty().get().isPresent()
                && model.framesProperty().get() > 0);
    }

    @AfterEach
    void closeIt() {
        robot.interact(() -> view.getScene().getWindow().hide());
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

    private GapRow row(String first) {
        return model.shownRows().stream()
                .filter(row -> row.first().equals(first))
                .findFirst()
                .orElseThrow();
    }

    @Test
    void theCarIsDrawn() {
        int[] drawn = new int[1];
        robot.interact(() -> {
            WritableImage picture = view.carView().carScene().node().snapshot(null, null);
            Color corner = picture.getPixelReader().getColor(2, 2);
            for (int y = 0; y < picture.getHeight(); y += 4) {
                for (int x = 0; x < picture.getWidth(); x += 4) {
                    Color colour = picture.getPixelReader().getColor(x, y);
                    drawn[0] += colour.equals(corner) ? 0 : 1;
                }
            }
        });
        assertThat(drawn[0]).as("pixels of sixteen that are not background").isGreaterThan(400);
    }

    @Test
    void whatIsSaidOverThePictureIsWhereThePictureHasIt() {
        robot.interact(() -> {
            CarView carView = view.carView();
            Node wheel = carView.carScene().node().getRoot().lookupAll("*").stream()
                    .filter(node -> Integer.valueOf(0).equals(node.getUserData()))
                    .findFirst()
                    .orElseThrow();
            for (Look look : Look.values()) {
                carView.look(look);
                Point3D drawn = wheel.localToScene(new Point3D(0, 0, 0), true);
                Point2D inView = carView.sceneToLocal(drawn.getX(), drawn.getY());
                Viewpoint.Seen said =
                        carView.viewpoint().see(new Spot(0, 700, 300), carView.getWidth(), carView.getHeight());
                assertThat(inView.getX()).as(look.word()).isCloseTo(said.x(), within(HALF_A_PIXEL));
                assertThat(inView.getY()).as(look.word()).isCloseTo(said.y(), within(HALF_A_PIXEL));
            }
        });
    }

    @Test
    void theTopLineStaysOneLineHighAndTheSpotsGoWithTheSizeOfThePicture() {
        robot.interact(() -> view.gapsPane().list().getSelectionModel().select(row("left wheel")));
        await(() -> model.chosenNowProperty().get().isPresent());
        for (double width : new double[] {1100, 1400, 1280}) {
            robot.interact(() -> view.getScene().getWindow().setWidth(width));
            await(() -> Math.abs(view.getWidth() - width) < 20);
            robot.interact(view::layout);
            assertThat(find(view, Button.class, "do-undo").getHeight())
                    .as("icons")
                    .isLessThan(60);
            robot.interact(() -> {
                CarView carView = view.carView();
                Spot spot = model.chosenNowProperty().get().orElseThrow().onA();
                Viewpoint.Seen seen = carView.viewpoint().see(spot, carView.getWidth(), carView.getHeight());
                Node ring = carView.lookup("#spot-a");
                assertThat(((Circle) ring).getCenterX()).as("ring").isCloseTo(seen.x(), within(HALF_A_PIXEL));
                assertThat(((Circle) ring).getCenterY()).isCloseTo(seen.y(), within(HALF_A_PIXEL));
            });
        }
    }

    @Test
    void choosingARowMovesTheCarAndSaysTheGap() {
        ListView<GapRow> list = view.gapsPane().list();
        robot.interact(() -> list.getSelectionModel().select(row("left wheel")));
        await(() -> model.chosenNowProperty().get().isPresent());
        Label label = find(view, Label.class, "gap-label");
        await(() -> label.isVisible() && label.getText().startsWith("touches: -"));
        await(() -> !model.curvesProperty().get().isEmpty());
        assertThat(field("front left travel").getText()).endsWith("in bump");
    }

    @Test
    void aTypedFractionMovesTheHandleAndAWrongOneIsToldBesideIt() {
        TextField field = field("front left travel");
        robot.interact(() -> {
            field.requestFocus();
            field.setText("1 1/2 droop");
            field.fireEvent(new javafx.event.ActionEvent());
        });
        HandleViewModel handle = model.handles().get(0);
        assertThat(handle.value()).isCloseTo(-38.1, within(1e-9));
        robot.interact(() -> {
            field.setText("1 1/2 inn");
            field.fireEvent(new javafx.event.ActionEvent());
        });
        assertThat(handle.value()).as("stays").isCloseTo(-38.1, within(1e-9));
        assertThat(view.lookupAll(".refusal"))
                .anyMatch(node -> node.isVisible() && ((Label) node).getText().contains("inn"));
    }

    @Test
    void arrowKeysMoveAHandleByWhatATapeShows() {
        Slider slider = find(view, Slider.class, "slider front left travel");
        key(slider, KeyCode.RIGHT);
        await(() -> model.handles().get(0).value() != 0);
        assertThat(model.handles().get(0).value()).isCloseTo(25.4 / 16, within(1e-9));
    }

    @Test
    void aClickPicksThePartUnderIt() {
        robot.interact(() -> view.carView().look(Look.LEFT));
        WaitForAsyncUtils.waitForFxEvents();
        CarView carView = view.carView();
        Viewpoint.Seen at = carView.viewpoint().see(new Spot(0, 700, 300), carView.getWidth(), carView.getHeight());
        Bounds bounds = carView.localToScreen(carView.getBoundsInLocal());
        robot.clickOn(bounds.getMinX() + at.x(), bounds.getMinY() + at.y());
        await(() -> model.pickedProperty().get().isPresent());
        assertThat(model.openProperty()
                        .get()
                        .orElseThrow()
                        .partName(model.pickedProperty().get().getAsInt()))
                .isEqualTo("left wheel");
    }

    @Test
    void keysDoWhatTheHelpPageSays() {
        key(view.carView(), KeyCode.N);
        await(() -> model.chosenProperty().get().isPresent());
        key(view.carView(), KeyCode.R);
        await(() -> model.handles().stream().allMatch(handle -> handle.value() == 0));
        key(view.gapsPane().search(), KeyCode.R);
        await(() -> !model.filterProperty().get().isEmpty());
        assertThat(model.filterProperty().get()).as("typing is typing").isEqualTo("r");
        GapRow chosen = model.chosenProperty().get().orElseThrow();
        robot.interact(() -> model.filterProperty().set("no such part"));
        await(() -> view.gapsPane().list().getSelectionModel().isEmpty());
        assertThat(model.chosenProperty().get()).as("searching chooses nothing").contains(chosen);
        robot.interact(() -> model.filterProperty().set(""));
        await(() -> chosen.equals(view.gapsPane().list().getSelectionModel().getSelectedItem()));
    }

    @Test
    void noTwoActionsShareAKeyAndEachCanBeReachedByKeyboard() {
        Set<KeyCombination> keys = new HashSet<>();
        Set<String> ids = new HashSet<>();
        for (Action action : view.allActions()) {
            assertThat(ids.add(action.id())).as(action.id()).isTrue();
            action.key()
                    .ifPresent(key -> assertThat(keys.add(key)).as("%s", key).isTrue());
            assertThat(action.words()).matches("[A-Z].*");
            assertThat(action.enabled().get() || !action.otherwise().isEmpty())
                    .as("%s says what has to be done first", action.id())
                    .isTrue();
        }
        assertThat(view.lookup("#menu").isFocusTraversable())
                .as("the rest is in the menu")
                .isTrue();
    }

    @Test
    void everyControlSaysWhatItIs() {
        List<String> mute = new ArrayList<>();
        robot.interact(() -> {
            model.choose(row("left wheel"));
            for (Step step : Step.values()) {
                model.stepProperty().set(step);
                collectMute(view, mute);
            }
        });
        assertThat(mute).isEmpty();
    }

    private static void collectMute(Node node, List<String> mute) {
        boolean control = node instanceof ButtonBase
                || node instanceof TextInputControl
                || node instanceof Slider
                || node instanceof ListView
                || node instanceof ProgressBar;
        boolean ours =
                node.getStyleClass().stream().noneMatch(name -> name.contains("arrow") || name.contains("scroll"));
        if (control
                && ours
                && (node.getAccessibleText() == null || node.getAccessibleText().isBlank())) {
            mute.add(node.toString());
        }
        if (node instanceof Parent parent && !(node instanceof ListView)) {
            parent.getChildrenUnmodifiable().forEach(child -> collectMute(child, mute));
        }
    }

    @Test
    void aFileWithMistakesIsToldAtTheTopAndReadAgainWhenMended(@TempDir Path folder) throws IOException {
        Path file = Files.writeString(folder.resolve("broken.yaml"), "daylight: 1\ncar: Broken\nunitz: in\n");
        robot.interact(() -> model.open(file));
        await(() -> view.lookup("#notice").isVisible());
        String told =
                robot.lookup("#complaints").queryAs(TextInputControl.class).getText();
        assertThat(told).contains("broken.yaml:3:1").contains("unitz");
        Files.writeString(file, "daylight: 1\ncar: Mended in place\nunits: in\n");
        await(() -> !told.equals(complaints()));
    }

    private String complaints() {
        TextInputControl lines = (TextInputControl) view.lookup("#complaints");
        return view.lookup("#notice").isVisible() ? lines.getText() : "";
    }

    @Test
    void largeTypeAndDarkKeepTheWholeWindow() {
        robot.interact(() -> {
            view.largeProperty().set(true);
            view.darkProperty().set(true);
        });
        WaitForAsyncUtils.waitForFxEvents();
        assertThat(view.getStyleClass()).contains("large", "dark");
        assertThat(view.carView().getWidth())
                .as("the picture keeps half the window")
                .isGreaterThan(640);
        robot.interact(() -> view.darkProperty().set(false));
    }

    /** Presses a key once: a key held down by the system's own keyboard repeats itself on a slow machine. */
    private void key(Node at, KeyCode code) {
        robot.interact(() -> {
            at.requestFocus();
            String text = code.isLetterKey() ? code.getName().toLowerCase(Locale.ROOT) : "";
            Event.fireEvent(at, new KeyEvent(KeyEvent.KEY_PRESSED, "", text, code, false, false, false, false));
            if (!text.isEmpty()) {
                Event.fireEvent(
                        at, new KeyEvent(KeyEvent.KEY_TYPED, text, "", KeyCode.UNDEFINED, false, false, false, false));
            }
            Event.fireEvent(at, new KeyEvent(KeyEvent.KEY_RELEASED, "", text, code, false, false, false, false));
        });
    }

    private TextField field(String handle) {
        return find(view, TextField.class, "field " + handle);
    }

    private static <T extends Node> T find(Node from, Class<T> type, String id) {
        return from.lookupAll("*").stream()
                .filter(node -> type.isInstance(node) && id.equals(node.getId()))
                .map(type::cast)
                .findFirst()
                .orElseThrow(() -> new AssertionError("nothing is called " + id));
    }
}
