package daylight.bench;

import daylight.bench.file.DemoCars;
import java.nio.file.Path;
import java.util.List;
import java.util.function.Consumer;
import javafx.geometry.Insets;
import javafx.scene.Node;
import javafx.scene.control.Button;
import javafx.scene.control.Label;
import javafx.scene.layout.Region;
import javafx.scene.layout.VBox;

/** What the window shows while no car is open: what to do first. */
final class StartPage extends VBox {
    private final VBox recent = new VBox(8);
    private final Consumer<Path> open;

    /**
     * Builds the page.
     *
     * @param choose asks for a file and opens it
     * @param fresh goes to the page for a new car
     * @param demo opens a demo
     * @param open opens a file
     */
    StartPage(
            Runnable choose,
            Runnable fresh,
            List<DemoCars.Demo> demos,
            Consumer<DemoCars.Demo> demo,
            Consumer<Path> open) {
        this.open = open;
        setId("start");
        getStyleClass().add("page");
        Label title = new Label("See where the moving parts of your car will touch");
        title.getStyleClass().add("title");
        title.setWrapText(true);
        Label words =
                new Label("A car file says what was measured: points, parts and what moves. Begin one, open one, or "
                        + "drag one onto this window.");
        words.setWrapText(true);
        words.getStyleClass().add("quiet");
        Button newCar = button("Begin a new car", fresh);
        newCar.getStyleClass().add("accent");
        newCar.setId("begin");
        Button openFile = button("Open a car file", choose);
        openFile.setId("open-file");
        VBox first = new VBox(8, newCar, openFile);
        getChildren().addAll(title, words, first, recent);
        if (!demos.isEmpty()) {
            VBox list = new VBox(8, heading("Look at an invented car"));
            for (DemoCars.Demo each : demos) {
                Button button = button(each.words(), () -> demo.accept(each));
                button.setId("demo-" + each.file());
                list.getChildren().add(button);
            }
            getChildren().add(list);
        }
        Label caution =
                new Label("Never go under a car held by a jack alone. This is geometry, not strength. Check each "
                        + "tight gap on the car itself.");
        caution.getStyleClass().addAll("small", "quiet");
        caution.setWrapText(true);
        VBox.setMargin(caution, new Insets(16, 0, 0, 0));
        getChildren().add(caution);
        for (Node node : getChildren()) {
            if (node instanceof Region region) {
                region.setMaxWidth(Region.USE_PREF_SIZE);
            }
        }
        for (VBox box : List.of(first, recent)) {
            box.setFillWidth(true);
        }
    }

    private static Label heading(String words) {
        Label label = new Label(words);
        label.getStyleClass().add("strong");
        VBox.setMargin(label, new Insets(10, 0, 0, 0));
        return label;
    }

    private static Button button(String words, Runnable run) {
        Button button = new Button(words);
        button.setAccessibleText(words);
        button.setMaxWidth(Double.MAX_VALUE);
        button.setOnAction(event -> run.run());
        return button;
    }

    /** Shows the files that were open last. */
    void showRecent(List<Path> files) {
        recent.getChildren().clear();
        recent.setManaged(!files.isEmpty());
        if (!files.isEmpty()) {
            recent.getChildren().add(heading("Open again"));
            for (Path file : files) {
                Button button = button(file.getFileName() + "  \u2013  " + file.getParent(), () -> open.accept(file));
                button.setAccessibleText("Open " + file + " again");
                recent.getChildren().add(button);
            }
        }
    }
}
