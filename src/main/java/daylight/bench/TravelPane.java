package daylight.bench;

import daylight.car.Car;
import java.util.List;
import javafx.collections.ListChangeListener;
import javafx.scene.control.Button;
import javafx.scene.control.Label;
import javafx.scene.control.ScrollPane;
import javafx.scene.layout.BorderPane;
import javafx.scene.layout.FlowPane;
import javafx.scene.layout.Region;
import javafx.scene.layout.VBox;

/** Where everything can go: each handle's range with buttons to its ends, and what may shift besides. */
final class TravelPane extends BorderPane {
    private final BenchViewModel model;
    private final VBox list = new VBox(14);

    TravelPane(BenchViewModel model) {
        this.model = model;
        getStyleClass().add("side");
        Label heading = new Label("Where everything can go");
        heading.getStyleClass().add("strong");
        Label words = new Label("From ride height, as the car file says. A button moves the car there.");
        words.getStyleClass().addAll("small", "quiet");
        words.setWrapText(true);
        words.setMinHeight(Region.USE_PREF_SIZE);
        VBox head = new VBox(heading, words);
        head.getStyleClass().add("head");
        setTop(head);
        list.setStyle("-fx-padding: 4 14 14 14;");
        ScrollPane scroll = new ScrollPane(list);
        scroll.setFitToWidth(true);
        scroll.setHbarPolicy(ScrollPane.ScrollBarPolicy.NEVER);
        setCenter(scroll);
        model.handles().addListener((ListChangeListener<HandleViewModel>) change -> lay());
        model.openProperty().addListener(property -> lay());
        lay();
    }

    private void lay() {
        list.getChildren().clear();
        for (HandleViewModel handle : HandleOrder.of(model.handles())) {
            list.getChildren().add(handle(handle));
        }
        List<Car.Allowance> allowances =
                model.openProperty().get().map(open -> open.car().allowances()).orElse(List.of());
        for (Car.Allowance allowance : allowances) {
            list.getChildren().add(allowance(allowance));
        }
        if (list.getChildren().isEmpty()) {
            Label empty = new Label(
                    model.openProperty().get().isPresent()
                            ? "Nothing on this car moves."
                            : "The movements of a car are listed here.");
            empty.getStyleClass().add("quiet");
            list.getChildren().add(empty);
        }
    }

    private static VBox handle(HandleViewModel handle) {
        Label name = new Label(handle.name());
        name.getStyleClass().add("strong");
        Label range = new Label(handle.range());
        range.getStyleClass().addAll("small", "quiet");
        range.setWrapText(true);
        boolean reversed = handle.reversed();
        double low = handle.handle().lowest();
        double high = handle.handle().highest();
        Button first = to(handle, "full " + (reversed ? handle.highWord() : handle.lowWord()), reversed ? high : low);
        Button middle = to(handle, handle.lowWord().equals("shut") ? "shut" : "ride height", 0);
        Button last = to(handle, "full " + (reversed ? handle.lowWord() : handle.highWord()), reversed ? low : high);
        FlowPane buttons = new FlowPane(6, 4, first, middle, last);
        if (low == 0) {
            buttons.getChildren().remove(reversed ? last : first);
        }
        if (high == 0) {
            buttons.getChildren().remove(reversed ? first : last);
        }
        return new VBox(3, name, range, buttons);
    }

    private static Button to(HandleViewModel handle, String words, double value) {
        Button button = new Button(words);
        button.setAccessibleText("Move " + handle.name() + " to " + words);
        button.getStyleClass().addAll("small", "handle-button");
        button.setOnAction(event -> {
            handle.playingProperty().set(false);
            handle.forgive();
            handle.valueProperty().set(value);
        });
        return button;
    }

    private VBox allowance(Car.Allowance allowance) {
        Label name = new Label(allowance.body());
        name.getStyleClass().add("strong");
        VBox box = new VBox(3, name);
        for (Car.Allowance.Play play : allowance.plays()) {
            Label text = new Label("may shift " + play.name() + ": "
                    + model.wording().gapWithUnit(play.leastMm()) + " to +"
                    + model.wording().gapWithUnit(play.greatestMm()));
            text.getStyleClass().addAll("small", "quiet");
            text.setWrapText(true);
            box.getChildren().add(text);
        }
        return box;
    }
}
