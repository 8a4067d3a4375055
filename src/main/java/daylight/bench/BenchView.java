package daylight.bench;

import java.io.File;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import javafx.beans.binding.Bindings;
import javafx.beans.property.BooleanProperty;
import javafx.beans.property.SimpleBooleanProperty;
import javafx.geometry.Insets;
import javafx.geometry.Pos;
import javafx.scene.Node;
import javafx.scene.control.Button;
import javafx.scene.control.ButtonBase;
import javafx.scene.control.CustomMenuItem;
import javafx.scene.control.Label;
import javafx.scene.control.MenuButton;
import javafx.scene.control.ProgressBar;
import javafx.scene.control.ScrollPane;
import javafx.scene.control.SeparatorMenuItem;
import javafx.scene.control.TextArea;
import javafx.scene.control.TextInputControl;
import javafx.scene.control.ToggleButton;
import javafx.scene.control.ToggleGroup;
import javafx.scene.control.Tooltip;
import javafx.scene.input.DragEvent;
import javafx.scene.input.KeyCode;
import javafx.scene.input.KeyCodeCombination;
import javafx.scene.input.KeyCombination;
import javafx.scene.input.KeyEvent;
import javafx.scene.input.TransferMode;
import javafx.scene.layout.BorderPane;
import javafx.scene.layout.GridPane;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.Region;
import javafx.scene.layout.StackPane;
import javafx.scene.layout.VBox;

/** The whole window's content: the steps along the top, what the step needs at the left, the car in the middle. */
final class BenchView extends StackPane {
    private static final int NOTICE_LINES = 6;

    private final BenchViewModel model;
    private final FileChoice files;
    private final BooleanProperty dark = new SimpleBooleanProperty(false);
    private final BooleanProperty large = new SimpleBooleanProperty(false);
    private final CarView carView;
    private final List<StepScreen> screens;
    private final GridPane usualUnder = new GridPane();
    private final BorderPane work = new BorderPane();
    private final BorderPane body = new BorderPane();
    private final StackPane middle = new StackPane();
    private final StackPane help = new StackPane();
    private final StartPage startPage;
    private final NewCarPane newCarPane;
    private boolean newCar;
    private final List<Action> actions;

    /**
     * Builds the content.
     *
     * @param files asks the user for files
     */
    BenchView(BenchViewModel model, FileChoice files) {
        this.model = model;
        model.ask(new ChooserPrompt(this));
        this.files = files;
        startPage =
                new StartPage(this::chooseFile, () -> showNewCar(true), model.demos(), model::openDemo, model::open);
        newCarPane = new NewCarPane(
                () -> files.toWrite("Write the new car file", "my-car.yaml"),
                wanted -> model.create(wanted.file(), wanted.text()),
                () -> showNewCar(false));
        getStyleClass().add("bench");
        getStylesheets().add(stylesheet());
        carView = new CarView(model);
        carView.setId("car");
        screens = screens();
        actions = actions();

        carView.offer(viewButtons());
        HandlesPane handles = new HandlesPane(model, List.of(button("ride-height"), button("frame-spot")));
        CurvePane curve = new CurvePane(model);
        usualUnder.getStyleClass().add("under");
        javafx.scene.layout.ColumnConstraints wide = new javafx.scene.layout.ColumnConstraints();
        wide.setPercentWidth(62);
        javafx.scene.layout.ColumnConstraints narrow = new javafx.scene.layout.ColumnConstraints();
        narrow.setPercentWidth(38);
        usualUnder.getColumnConstraints().addAll(wide, narrow);
        javafx.scene.layout.RowConstraints whole = new javafx.scene.layout.RowConstraints();
        whole.setVgrow(Priority.ALWAYS);
        whole.setPercentHeight(100);
        usualUnder.getRowConstraints().add(whole);
        usualUnder.add(handles, 0, 0);
        usualUnder.add(curve, 1, 0);
        usualUnder.setStyle("-fx-pref-height: 17.5em; -fx-min-height: 12em;");
        middle.getChildren().setAll(work, startPage, newCarPane);

        body.setTop(new VBox(topLine(), new QuestionBar(model.file()), notice()));
        body.setCenter(middle);
        body.setBottom(statusLine());
        help.setVisible(false);
        help.getStyleClass().add("page");
        help.setId("help");
        getChildren().setAll(body, help);
        help.getChildren().setAll(helpSheet());

        model.stepProperty().addListener((property, was, is) -> {
            screen(was).shown(false);
            showStep();
            screen(is).shown(true);
        });
        model.openProperty().addListener((property, was, is) -> {
            newCar = false;
            showOpen(is.isPresent());
            if (was.isEmpty()) {
                carView.requestFocus();
            }
        });
        showOpen(false);
        screen(model.stepProperty().get()).shown(true);
        dark.addListener((property, was, is) -> wear());
        large.addListener((property, was, is) -> wear());
        wear();
        addEventFilter(KeyEvent.KEY_PRESSED, this::keyed);
        addEventHandler(DragEvent.DRAG_OVER, event -> {
            if (dropped(event).isPresent()) {
                event.acceptTransferModes(TransferMode.COPY, TransferMode.LINK);
            }
            event.consume();
        });
        addEventHandler(DragEvent.DRAG_DROPPED, event -> {
            Optional<Path> file = dropped(event);
            file.ifPresent(model::open);
            event.setDropCompleted(file.isPresent());
            event.consume();
        });
    }

    private static String stylesheet() {
        java.net.URL sheet = BenchView.class.getResource(Palette.STYLESHEET);
        if (sheet == null) {
            throw new IllegalStateException("the stylesheet is missing from the program");
        }
        return sheet.toExternalForm();
    }

    private static Optional<Path> dropped(DragEvent event) {
        List<File> files =
                event.getDragboard().hasFiles() ? event.getDragboard().getFiles() : List.of();
        return files.size() == 1 ? Optional.of(files.get(0).toPath()) : Optional.empty();
    }

    // ---------------------------------------------------------------- look

    BooleanProperty darkProperty() {
        return dark;
    }

    BooleanProperty largeProperty() {
        return large;
    }

    BenchViewModel model() {
        return model;
    }

    CarView carView() {
        return carView;
    }

    GapsPane gapsPane() {
        return ((GapsScreen) screen(Step.GAPS)).pane();
    }

    TrimScreen trimScreen() {
        return (TrimScreen) screen(Step.TRIM);
    }

    /** One screen for each step. */
    private List<StepScreen> screens() {
        return List.of(
                new MeasureScreen(model.measure()),
                new PartsScreen(model, model.parts()),
                new TravelScreen(model),
                new GapsScreen(model),
                new TrimScreen(model),
                new ReportScreen(model));
    }

    private StepScreen screen(Step step) {
        return screens.stream()
                .filter(screen -> screen.step() == step)
                .findFirst()
                .orElseThrow(() -> new IllegalStateException("the step " + step + " has no screen"));
    }

    private void wear() {
        getStyleClass().removeAll("dark", "large");
        if (dark.get()) {
            getStyleClass().add("dark");
        }
        if (large.get()) {
            getStyleClass().add("large");
        }
        carView.wear(Palette.read(dark.get()));
    }

    private void showStep() {
        StepScreen screen = screen(model.stepProperty().get());
        body.setLeft(screen.side());
        work.setCenter(screen.middle().orElse(carView));
        work.setBottom(screen.under().orElse(usualUnder));
        boolean car = model.openProperty().get().isPresent() && !newCar;
        body.getLeft().setVisible(car);
        body.getLeft().setManaged(car);
    }

    private void showOpen(boolean open) {
        work.setVisible(open && !newCar);
        newCarPane.setVisible(newCar);
        startPage.setVisible(!open && !newCar);
        if (startPage.isVisible()) {
            startPage.showRecent(model.file().recent());
        }
        showStep();
    }

    private void showNewCar(boolean shown) {
        newCar = shown;
        showOpen(model.openProperty().get().isPresent());
        (shown ? newCarPane : carView).requestFocus();
    }

    NewCarPane newCarPane() {
        return newCarPane;
    }

    private void chooseFile() {
        files.toOpen().ifPresent(model::open);
    }

    private void saveAs() {
        String name = model.file()
                .documentProperty()
                .get()
                .map(document -> document.name())
                .orElse("my-car.yaml");
        files.toWrite("Save under another name", name).ifPresent(model.file()::saveAs);
    }

    // ---------------------------------------------------------------- top and bottom

    private Node topLine() {
        MenuButton menu = new MenuButton("Menu");
        menu.setId("menu");
        menu.setAccessibleText("Menu of everything that can be done");
        fillMenu(menu);
        HBox line = new HBox(menu);
        ToggleGroup group = new ToggleGroup();
        for (Step step : Step.values()) {
            ToggleButton button = new ToggleButton(step.word());
            button.getStyleClass().add("step");
            button.setId("step-" + step.word());
            explain(button, action("step-" + step.word()));
            button.setToggleGroup(group);
            button.setSelected(model.stepProperty().get() == step);
            button.setOnAction(event -> {
                button.setSelected(true);
                model.stepProperty().set(step);
            });
            button.disableProperty().bind(nothingOpen());
            model.stepProperty().addListener((property, was, is) -> button.setSelected(is == step));
            line.getChildren().add(button);
        }
        Region space = new Region();
        HBox.setHgrow(space, Priority.ALWAYS);
        Label car = new Label();
        car.getStyleClass().add("strong");
        car.setMinWidth(0);
        car.textProperty()
                .bind(Bindings.createStringBinding(
                        () -> model.openProperty()
                                .get()
                                .map(open -> open.car().name() + "  \u00b7  "
                                        + open.file().getFileName()
                                        + (model.file().unsavedProperty().get() ? "  (not saved)" : ""))
                                .orElse(""),
                        model.openProperty(),
                        model.file().unsavedProperty()));
        car.setId("car-name");
        Region space2 = new Region();
        HBox.setHgrow(space2, Priority.ALWAYS);
        line.getChildren().addAll(space, car, space2);
        for (String id : List.of("undo", "redo", "save", "open", "large", "dark", "help")) {
            line.getChildren().add(iconButton(action(id)));
        }
        line.getStyleClass().add("top-line");
        return line;
    }

    private javafx.beans.binding.BooleanBinding nothingOpen() {
        return Bindings.createBooleanBinding(() -> model.openProperty().get().isEmpty(), model.openProperty());
    }

    private void fillMenu(MenuButton menu) {
        String group = "";
        for (Action action : actions) {
            if (!group.isEmpty() && !action.group().equals(group)) {
                menu.getItems().add(new SeparatorMenuItem());
            }
            group = action.group();
            Label words = new Label(action.words());
            Region space = new Region();
            space.setMinWidth(24);
            HBox.setHgrow(space, Priority.ALWAYS);
            Label key =
                    new Label(action.key().map(KeyCombination::getDisplayText).orElse(""));
            key.getStyleClass().addAll("small", "quiet");
            HBox row = new HBox(words, space, key);
            row.setAlignment(Pos.CENTER_LEFT);
            row.setMinWidth(300);
            CustomMenuItem item = new CustomMenuItem(row);
            item.setOnAction(event -> action.fire());
            item.disableProperty().bind(Bindings.not(action.enabled()));
            menu.getItems().add(item);
        }
    }

    private Node notice() {
        Label heading = new Label();
        heading.getStyleClass().add("strong");
        heading.setWrapText(true);
        heading.setMinHeight(Region.USE_PREF_SIZE);
        Region space = new Region();
        HBox.setHgrow(space, Priority.ALWAYS);
        Button away = new Button("Put away");
        away.setMinWidth(Region.USE_PREF_SIZE);
        away.setAccessibleText("Put this message away");
        away.setOnAction(event -> model.dismissNotice());
        HBox top = new HBox(12, heading, space, away);
        TextArea lines = new TextArea();
        lines.setId("complaints");
        lines.setEditable(false);
        lines.setWrapText(true);
        lines.setAccessibleText("What is wrong, line by line");
        VBox box = new VBox(top, lines);
        box.setId("notice");
        box.getStyleClass().add("notice");
        Runnable show = () -> {
            Optional<BenchViewModel.Notice> notice = model.noticeProperty().get();
            box.setVisible(notice.isPresent());
            box.setManaged(notice.isPresent());
            notice.ifPresent(told -> {
                heading.setText(told.heading());
                lines.setText(String.join("\n", told.lines()));
                lines.setPrefRowCount(Math.min(NOTICE_LINES, told.lines().size() + 1));
            });
        };
        model.noticeProperty().addListener(property -> show.run());
        show.run();
        return box;
    }

    private Node statusLine() {
        Label status = new Label();
        status.setId("status");
        status.textProperty().bind(model.statusProperty());
        status.setMinWidth(0);
        ProgressBar bar = new ProgressBar();
        bar.setPrefWidth(160);
        bar.setAccessibleText("How far the search for gaps is");
        bar.progressProperty().bind(model.searchedProperty());
        Button cancel = new Button("Cancel");
        cancel.setId("cancel");
        cancel.setAccessibleText("Cancel the search for gaps");
        cancel.getStyleClass().addAll("handle-button");
        cancel.setOnAction(event -> model.cancelSearch());
        for (Node node : List.of(bar, cancel)) {
            node.visibleProperty().bind(model.searchingProperty());
            node.managedProperty().bind(model.searchingProperty());
        }
        Region space = new Region();
        HBox.setHgrow(space, Priority.ALWAYS);
        Label unit = new Label();
        unit.setMinWidth(Region.USE_PREF_SIZE);
        unit.textProperty().bind(Bindings.createStringBinding(model::unitWord, model.openProperty()));
        HBox line = new HBox(status, bar, cancel, space, unit);
        line.getStyleClass().addAll("status-line", "small");
        return line;
    }

    // ---------------------------------------------------------------- pages

    private Node helpSheet() {
        GridPane grid = new GridPane();
        grid.setHgap(28);
        grid.setVgap(5);
        int row = 0;
        String group = "";
        for (Action action : actions) {
            if (action.key().isEmpty()) {
                continue;
            }
            if (!action.group().equals(group)) {
                group = action.group();
                Label heading = new Label(group);
                heading.getStyleClass().add("strong");
                GridPane.setMargin(heading, new Insets(8, 0, 0, 0));
                grid.add(heading, 0, row++, 2, 1);
            }
            row = helpRow(grid, row, action.words(), action.key().get().getDisplayText());
        }
        Label mouse = new Label("Mouse, and keys in the picture");
        mouse.getStyleClass().add("strong");
        GridPane.setMargin(mouse, new Insets(8, 0, 0, 0));
        grid.add(mouse, 0, row++, 2, 1);
        row = helpRow(grid, row, "Go round the car", "drag, or arrow keys");
        row = helpRow(grid, row, "Push the picture", "right or Shift drag, Shift + arrow keys");
        row = helpRow(grid, row, "Zoom", "wheel, or + and -");
        helpRow(grid, row, "Pick a part", "click");
        ScrollPane scroll = new ScrollPane(grid);
        scroll.setFitToWidth(true);
        Label title = new Label("Keys");
        title.getStyleClass().add("title");
        Button close = new Button("Close");
        close.setCancelButton(true);
        close.setAccessibleText("Close the keys");
        close.setOnAction(event -> showHelp(false));
        VBox sheet = new VBox(title, scroll, close);
        sheet.getStyleClass().add("sheet-of-help");
        sheet.setStyle("-fx-max-width: 46em; -fx-max-height: 48em;");
        VBox.setVgrow(scroll, Priority.ALWAYS);
        return sheet;
    }

    private static int helpRow(GridPane grid, int row, String words, String key) {
        Label what = new Label(words);
        Label how = new Label(key);
        how.getStyleClass().add("key");
        grid.add(what, 0, row);
        grid.add(how, 1, row);
        return row + 1;
    }

    private void showHelp(boolean shown) {
        help.setVisible(shown);
        body.setDisable(shown);
        (shown ? help : carView).requestFocus();
    }

    // ---------------------------------------------------------------- actions

    /** Returns everything that the user can do. */
    List<Action> allActions() {
        return actions;
    }

    private List<Action> actions() {
        List<Action> list = new ArrayList<>();
        var anything = Bindings.createBooleanBinding(() -> true);
        var open = nothingOpen().not();
        var chosen =
                Bindings.createBooleanBinding(() -> model.chosenProperty().get().isPresent(), model.chosenProperty());
        var picked =
                Bindings.createBooleanBinding(() -> model.pickedProperty().get().isPresent(), model.pickedProperty());
        var first = "Open a car file first.";
        var pair = "Choose a gap in the list first.";
        KeyCombination.Modifier command = KeyCombination.SHORTCUT_DOWN;

        list.add(new Action("open", "Car", "Open a car file", key(KeyCode.O, command), anything, "", this::chooseFile));
        list.add(new Action(
                "new", "Car", "Begin a new car", key(KeyCode.N, command), anything, "", () -> showNewCar(true)));
        list.add(new Action("reload", "Car", "Read the file again", key(KeyCode.F5), open, first, this::reload));
        list.add(new Action("gaps", "Car", "Find the gaps again", key(KeyCode.F6), open, first, model::search));

        list.add(new Action(
                "save",
                "Car",
                "Save",
                key(KeyCode.S, command),
                model.file().unsavedProperty(),
                "Everything is saved.",
                model.file()::save));
        list.add(new Action(
                "save-as",
                "Car",
                "Save under another name",
                key(KeyCode.S, command, KeyCombination.SHIFT_DOWN),
                open,
                first,
                this::saveAs));
        list.add(new Action(
                "undo",
                "Change",
                "Undo",
                key(KeyCode.Z, command),
                model.file().undoWordsProperty().isNotEmpty(),
                "Nothing was changed.",
                model.file()::undo));
        list.add(new Action(
                "redo",
                "Change",
                "Do again",
                key(KeyCode.Z, command, KeyCombination.SHIFT_DOWN),
                model.file().redoWordsProperty().isNotEmpty(),
                "Nothing was undone.",
                model.file()::redo));

        int number = 0;
        for (Step step : Step.values()) {
            number++;
            list.add(new Action(
                    "step-" + step.word(),
                    "Steps",
                    "Go to " + step.word() + " \u2013 " + step.about(),
                    key(KeyCode.valueOf("DIGIT" + number), command),
                    open,
                    first,
                    () -> model.stepProperty().set(step)));
        }
        screens.forEach(screen -> list.addAll(screen.actions()));

        KeyCode[] digits = {
            KeyCode.DIGIT7,
            KeyCode.DIGIT1,
            KeyCode.DIGIT2,
            KeyCode.DIGIT3,
            KeyCode.DIGIT4,
            KeyCode.DIGIT5,
            KeyCode.DIGIT6
        };
        int next = 0;
        for (Look look : Look.values()) {
            KeyCode digit = digits[next++];
            list.add(new Action(
                    "look-" + look.word(),
                    "Look",
                    "Look from " + (look == Look.THREE_QUARTER ? "the three-quarter side" : where(look)),
                    key(digit),
                    open,
                    first,
                    () -> carView.look(look)));
        }
        list.add(new Action(
                "frame-car", "Look", "Show the whole car", key(KeyCode.W), open, first, () -> carView.frameCar()));
        list.add(new Action("frame-spot", "Look", "Show the spot", key(KeyCode.S), chosen, pair, carView::frameSpot));
        list.add(new Action(
                "fade",
                "Look",
                "Fade the picked part",
                key(KeyCode.F),
                picked,
                "Click a part first.",
                model::fadePicked));
        list.add(new Action(
                "hide",
                "Look",
                "Hide the picked part",
                key(KeyCode.H),
                picked,
                "Click a part first.",
                model::hidePicked));
        list.add(new Action(
                "hide-none",
                "Look",
                "Show hidden parts again",
                key(KeyCode.H, KeyCombination.SHIFT_DOWN),
                Bindings.isNotEmpty(model.hidden()),
                "No part is hidden.",
                model::hideNone));
        list.add(new Action(
                "ghost",
                "Look",
                "Show the room that the picked part takes",
                key(KeyCode.G),
                picked,
                "Click a part first.",
                model::ghostOfPicked));
        list.add(new Action("section", "Look", "Cut the picture", key(KeyCode.C), open, first, carView::toggleSection));
        list.add(new Action("names", "Look", "Name the parts", key(KeyCode.T), open, first, carView::toggleNames));
        list.add(new Action(
                "picture",
                "Look",
                "Keep a picture of the view",
                key(KeyCode.P, command),
                open,
                first,
                () -> model.keep("Keep a picture of the view", "view", "png", () -> Picture.png(carView))));
        list.add(new Action(
                "fade-none",
                "Look",
                "Bring faded parts back",
                key(KeyCode.F, KeyCombination.SHIFT_DOWN),
                Bindings.isNotEmpty(model.faded()),
                "No part is faded.",
                model::fadeNone));

        list.add(new Action("ride-height", "Travel", "Ride height", key(KeyCode.R), open, first, model::rideHeight));
        list.add(new Action(
                "next",
                "Gaps",
                "Choose the next gap",
                key(KeyCode.N),
                open,
                first,
                () -> gapsPane().step(1)));
        list.add(new Action(
                "previous",
                "Gaps",
                "Choose the gap before",
                key(KeyCode.B),
                open,
                first,
                () -> gapsPane().step(-1)));
        list.add(new Action(
                "worst",
                "Gaps",
                "Move to where the chosen gap is least",
                key(KeyCode.L),
                chosen,
                pair,
                () -> model.chosenProperty().get().ifPresent(model::choose)));
        list.add(new Action("none", "Gaps", "Choose no gap", key(KeyCode.U), chosen, pair, model::chooseNone));
        list.add(new Action("search", "Gaps", "Search the gaps", key(KeyCode.F, command), open, first, () -> {
            model.stepProperty().set(Step.GAPS);
            gapsPane().search().requestFocus();
        }));
        list.add(new Action(
                "cancel",
                "Gaps",
                "Cancel the search for gaps",
                Optional.empty(),
                model.searchingProperty(),
                "No search is running.",
                model::cancelSearch));

        list.add(new Action(
                "large", "Window", "Large type", key(KeyCode.L, command), anything, "", () -> large.set(!large.get())));
        list.add(new Action(
                "dark", "Window", "Dark", key(KeyCode.D, command), anything, "", () -> dark.set(!dark.get())));
        list.add(
                new Action("help", "Window", "Keys", key(KeyCode.F1), anything, "", () -> showHelp(!help.isVisible())));
        return List.copyOf(list);
    }

    private static String where(Look look) {
        return switch (look) {
            case FRONT -> "the front";
            case REAR -> "the rear";
            case LEFT -> "the left";
            case RIGHT -> "the right";
            default -> look.word();
        };
    }

    private static Optional<KeyCombination> key(KeyCode code, KeyCombination.Modifier... modifiers) {
        return Optional.of(new KeyCodeCombination(code, modifiers));
    }

    private void reload() {
        model.openProperty().get().ifPresent(open -> model.open(open.file()));
    }

    private Action action(String id) {
        return actions.stream()
                .filter(action -> action.id().equals(id))
                .findFirst()
                .orElseThrow(() -> new IllegalStateException("no action is called " + id));
    }

    private Button button(String id) {
        return button(action(id), action(id).words());
    }

    /** A button with a picture alone; its tooltip and what is read aloud say the words. */
    private static Button iconButton(Action action) {
        Button button = button(action, "");
        button.getStyleClass().add("icon-button");
        button.setGraphic(Icons.of(action.id()));
        return button;
    }

    private static Button button(Action action, String words) {
        Button button = new Button(words);
        button.setId("do-" + action.id());
        button.setMinWidth(Region.USE_PREF_SIZE);
        button.setOnAction(event -> action.fire());
        button.disableProperty().bind(Bindings.not(action.enabled()));
        explain(button, action);
        return button;
    }

    /** Says in the tooltip what a button does and with which key; while it cannot run, what has to be done first. */
    private static void explain(ButtonBase button, Action action) {
        button.setAccessibleText(action.words());
        String key = action.key().map(k -> " (" + k.getDisplayText() + ")").orElse("");
        Tooltip tip = new Tooltip();
        tip.textProperty()
                .bind(Bindings.createStringBinding(
                        () -> action.enabled().get() ? action.words() + key : action.otherwise(), action.enabled()));
        button.setTooltip(tip);
    }

    private List<Node> viewButtons() {
        List<Node> buttons = new ArrayList<>();
        for (Look look : Look.values()) {
            buttons.add(button(action("look-" + look.word()), look.word()));
        }
        buttons.add(button(action("frame-car"), "whole car"));
        buttons.add(button(action("section"), "section"));
        buttons.add(button(action("names"), "names"));
        return buttons;
    }

    private void keyed(KeyEvent event) {
        if (event.getCode() == KeyCode.ESCAPE) {
            escape(event);
            return;
        }
        boolean typing = event.getTarget() instanceof TextInputControl
                && !event.isShortcutDown()
                && !event.getCode().isFunctionKey();
        if (typing || (help.isVisible() && event.getCode() != KeyCode.F1)) {
            return;
        }
        for (Action action : actions) {
            if (action.key().filter(key -> key.match(event)).isPresent()
                    && action.enabled().get()) {
                action.run().run();
                event.consume();
                return;
            }
        }
    }

    private void escape(KeyEvent event) {
        if (help.isVisible()) {
            showHelp(false);
        } else if (event.getTarget() instanceof TextInputControl) {
            carView.requestFocus();
        } else if (model.pickedProperty().get().isPresent()) {
            model.pick(-1);
        } else if (model.chosenProperty().get().isPresent()) {
            model.chooseNone();
        } else if (model.noticeProperty().get().isPresent()) {
            model.dismissNotice();
        } else {
            return;
        }
        event.consume();
    }
}
