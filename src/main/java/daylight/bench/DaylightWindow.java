package daylight.bench;

import atlantafx.base.theme.PrimerDark;
import atlantafx.base.theme.PrimerLight;
import daylight.bench.file.Drawer;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.logging.Logger;
import javafx.animation.AnimationTimer;
import javafx.application.Application;
import javafx.scene.Scene;
import javafx.stage.Screen;
import javafx.stage.Stage;

/** The window: the car in 3D, its travel under handles, its gaps in a list. */
public final class DaylightWindow {
    private static final double USUAL_WIDTH = 1440;
    private static final double USUAL_HEIGHT = 900;
    private static final double LEAST_WIDTH = 960;
    private static final double LEAST_HEIGHT = 620;
    private static final double NANOS_PER_SECOND = 1e9;
    /** A pause longer than this (the window was away) is not caught up in one leap, seconds. */
    private static final double LONGEST_FRAME = 0.1;

    /** How often it is looked for other windows on the same file, seconds. */
    private static final double LOOK_FOR_OTHERS_S = 2;

    private DaylightWindow() {}

    /**
     * Opens the window and returns when it is closed. Once per run of the program.
     *
     * @param car the car file to show; without one the window says how to open one. A file with mistakes opens the
     *     window too, with the mistakes at its top
     */
    public static void open(Optional<Path> car) {
        // The program is started from the class path, which the toolkit remarks on at every start; a builder can do
        // nothing about it. Other remarks of the toolkit are left alone. The logger is kept, since it is held weakly.
        Logger toolkit = Logger.getLogger("javafx");
        toolkit.setFilter(
                remark -> !String.valueOf(remark.getMessage()).startsWith("Unsupported JavaFX configuration"));
        Application.launch(
                Program.class,
                car.map(Path::toString).map(name -> new String[] {name}).orElse(new String[0]));
    }

    /** The toolkit's way to start a program; it makes the instance itself. */
    public static final class Program extends Application {
        private final Background background = new Background();

        /** For the toolkit. */
        public Program() {}

        @Override
        public void start(Stage stage) {
            BenchViewModel model = new BenchViewModel(background, Drawer.usual());
            show(stage, model);
            List<String> files = getParameters().getRaw();
            if (!files.isEmpty()) {
                model.open(Path.of(files.get(0)).toAbsolutePath());
            }
        }

        @Override
        public void stop() {
            background.close();
        }
    }

    /** Shows the window on a stage, with no car yet. */
    static BenchView show(Stage stage, BenchViewModel model) {
        return show(stage, model, new DialogueChoice(stage, model));
    }

    /** Shows the window on a stage, with no car yet; files are asked for elsewhere than in the system's dialogue. */
    static BenchView show(Stage stage, BenchViewModel model, FileChoice files) {
        BenchView view = new BenchView(model, files);
        wear(view);
        view.darkProperty().addListener(property -> wear(view));
        var screen = Screen.getPrimary().getVisualBounds();
        Scene scene =
                new Scene(view, Math.min(USUAL_WIDTH, screen.getWidth()), Math.min(USUAL_HEIGHT, screen.getHeight()));
        stage.setScene(scene);
        stage.setMinWidth(Math.min(LEAST_WIDTH, screen.getWidth()));
        stage.setMinHeight(Math.min(LEAST_HEIGHT, screen.getHeight()));
        stage.setTitle("Daylight");
        model.openProperty()
                .addListener((property, was, is) -> stage.setTitle(
                        is.map(open -> open.car().name() + " - Daylight").orElse("Daylight")));
        stage.setOnCloseRequest(event -> {
            event.consume();
            model.file().guarded("closing", () -> {
                model.file().close();
                stage.hide();
            });
        });
        stage.show();
        view.carView().requestFocus();
        frames(model, view.carView()).start();
        return view;
    }

    private static AnimationTimer frames(BenchViewModel model, CarView carView) {
        return new AnimationTimer() {
            private long last = -1;
            private double sinceLook;

            @Override
            public void handle(long now) {
                double seconds = last < 0 ? 0 : Math.min(LONGEST_FRAME, (now - last) / NANOS_PER_SECOND);
                last = now;
                sinceLook += seconds;
                if (sinceLook > LOOK_FOR_OTHERS_S) {
                    sinceLook = 0;
                    model.file().lookForOthers();
                }
                if (model.frame(seconds)) {
                    carView.frame();
                }
            }
        };
    }

    private static void wear(BenchView view) {
        Application.setUserAgentStylesheet(
                view.darkProperty().get()
                        ? new PrimerDark().getUserAgentStylesheet()
                        : new PrimerLight().getUserAgentStylesheet());
    }
}
