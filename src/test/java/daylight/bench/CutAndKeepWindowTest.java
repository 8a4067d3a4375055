package daylight.bench;

import static org.assertj.core.api.Assertions.assertThat;

import daylight.clearance.Asked;
import daylight.geometry.Cut;
import daylight.geometry.Flat;
import daylight.geometry.Shape;
import daylight.trim.LeastCut;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.function.BooleanSupplier;
import javafx.geometry.Point2D;
import javafx.scene.Node;
import javafx.scene.control.ButtonBase;
import javafx.scene.input.MouseButton;
import javafx.stage.Stage;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIf;
import org.junit.jupiter.api.io.TempDir;
import org.testfx.api.FxRobot;
import org.testfx.api.FxToolkit;
import org.testfx.util.WaitForAsyncUtils;

/** From a plate to a cut in the saved file, a report and a picture, in a real window. */
@EnabledIf(
        value = "daylight.bench.WindowTest#hasDisplay",
        disabledReason = "no display: run the tests under xvfb-run (bash .ci/run) to see the window")
class CutAndKeepWindowTest {
    private static final int PATIENCE_S = 90;
    private static final String PLATE = "column bracket";

    private final FxRobot robot = new FxRobot();
    private final Background background = new Background();
    private final BenchViewModel model = new BenchViewModel(background, new Asked(0.5, 75, 400, 1));

    @TempDir
    @SuppressWarnings("NullAway.Init") // the test engine puts it in before anything runs
    private Path folder;

    @SuppressWarnings("NullAway.Init") // set in the window's thread before each test
    private BenchView view;

    @SuppressWarnings("NullAway.Init") // as the view
    private Path file;

    @BeforeEach
    void openTheCar() throws TimeoutException, IOException {
        file = Files.copy(Path.of("src/test/resources/cars/pedal.yaml"), folder.resolve("pedal.yaml"));
        FxToolkit.registerPrimaryStage();
        FxToolkit.setupFixture(() -> {
            Stage stage = new Stage();
            view = DaylightWindow.show(stage, model);
            stage.setX(0);
            stage.setY(0);
            stage.setWidth(1280);
            stage.setHeight(800);
            model.open(file);
        });
        await(() -> model.tableProperty().get().isPresent());
    }

    @AfterEach
    void close() {
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

    private void press(String id) {
        robot.interact(() -> ((ButtonBase) find(id)).fire());
    }

    private Node find(String id) {
        return view.lookupAll("*").stream()
                .filter(node -> id.equals(node.getId()))
                .findFirst()
                .orElseThrow(() -> new AssertionError("nothing is called " + id));
    }

    private Shape plateOfTheCar() {
        return model.openProperty()
                .get()
                .orElseThrow()
                .car()
                .part(PLATE)
                .orElseThrow()
                .shape();
    }

    @Test
    void aCutIsDraggedWrittenSavedReadAgainAndUndone() throws IOException {
        robot.interact(() -> model.stepProperty().set(Step.TRIM));
        TrimScreen screen = view.trimScreen();
        PlateViewModel plate = screen.plate();
        await(() -> plate.beforeProperty().get().isPresent());
        assertThat(plate.nameProperty().get()).contains(PLATE);
        press("kind-" + LeastCut.Kind.STRAIGHT.word());
        await(() -> plate.triedProperty().get().isPresent()
                && !plate.staleProperty().get());
        Cut before = plate.cutProperty().get().orElseThrow();
        PlateBoard board = screen.trimPane().board();
        Flat grip = plate.gripPlaces().get(0);
        Flat to = new Flat(
                plate.gripPlaces().get(2).x(), plate.gripPlaces().get(0).y());
        Point2D from = board.localToScreen(board.onBoard(grip));
        Point2D there = board.localToScreen(board.onBoard(to));
        robot.moveTo(from);
        robot.press(MouseButton.PRIMARY);
        robot.moveTo(there.add(3, 9));
        robot.moveTo(there.add(9, 19));
        robot.release(MouseButton.PRIMARY);
        WaitForAsyncUtils.waitForFxEvents();
        assertThat(plate.cutProperty().get().orElseThrow()).as("dragged").isNotEqualTo(before);
        await(() -> plate.triedProperty().get().isPresent()
                && !plate.staleProperty().get());
        double left = plate.triedProperty().get().orElseThrow().metal().areaMm2();
        assertThat(left)
                .isLessThan(plate.beforeProperty().get().orElseThrow().metal().areaMm2());
        Shape uncut = plateOfTheCar();
        String text = Files.readString(file);
        press("adopt-cut");
        await(() -> !plateOfTheCar().equals(uncut));
        Shape cut = plateOfTheCar();
        assertThat(Files.readString(file)).as("not yet saved").isEqualTo(text);
        robot.interact(() -> model.file().save());
        await(() -> !model.file().unsavedProperty().get());
        assertThat(Files.readString(file)).contains("cuts:");
        robot.interact(() -> model.open(file));
        await(() ->
                plateOfTheCar().equals(cut) && !model.file().unsavedProperty().get());
        robot.interact(() -> model.file().undo());
        await(() -> plateOfTheCar().equals(uncut));
    }

    @Test
    void aReportAndAPictureAreKept() throws IOException {
        robot.interact(() -> {
            model.ask((title, suggested, kind) -> Optional.of(folder.resolve(suggested + "." + kind)));
            model.stepProperty().set(Step.REPORT);
        });
        press("report-html");
        Path report = folder.resolve("pedal-report.html");
        await(() -> Files.exists(report) && model.statusProperty().get().startsWith("written"));
        assertThat(Files.readString(report))
                .contains(model.openProperty().get().orElseThrow().car().name());
        robot.interact(() -> view.allActions().stream()
                .filter(action -> action.id().equals("picture"))
                .forEach(Action::fire));
        byte[] picture = Files.readAllBytes(folder.resolve("pedal-view.png"));
        assertThat(new String(picture, 1, 3, StandardCharsets.US_ASCII)).isEqualTo("PNG");
        assertThat(picture.length).as("not an empty sheet").isGreaterThan(3000);
    }

    @Test
    void aFileThatCannotBeWrittenIsToldAtTheTop() {
        robot.interact(() -> {
            model.ask((title, suggested, kind) ->
                    Optional.of(folder.resolve("no such folder").resolve("x." + kind)));
            model.keep("Keep", "x", "pdf", () -> new byte[1]);
        });
        assertThat(model.noticeProperty().get().orElseThrow().lines().get(0)).contains("no such folder");
    }

    @Test
    void thePictureIsCutAndNamedAndPartsAreHidden() {
        robot.interact(() -> {
            for (String id : new String[] {"section", "names"}) {
                view.allActions().stream()
                        .filter(action -> action.id().equals(id))
                        .forEach(Action::fire);
            }
        });
        assertThat(find("section-card").isVisible()).isTrue();
        assertThat(view.lookupAll(".name-tag")).anyMatch(Node::isVisible);
        robot.interact(() -> {
            model.pick(0);
            model.hidePicked();
        });
        await(() -> view.carView().carScene().node().getRoot().lookupAll("*").stream()
                .filter(node -> Integer.valueOf(0).equals(node.getUserData()))
                .noneMatch(Node::isVisible));
        robot.interact(model::hideNone);
        robot.interact(() -> view.allActions().stream()
                .filter(action -> action.id().equals("section"))
                .forEach(Action::fire));
        await(() -> view.carView().carScene().node().getRoot().lookupAll("*").stream()
                .filter(node -> Integer.valueOf(0).equals(node.getUserData()))
                .allMatch(Node::isVisible));
    }
}
