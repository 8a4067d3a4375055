package daylight.bench;

import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.util.Optional;
import javafx.event.Event;
import javafx.geometry.Pos;
import javafx.scene.control.Button;
import javafx.scene.control.Label;
import javafx.scene.control.Slider;
import javafx.scene.control.ToggleButton;
import javafx.scene.control.ToggleGroup;
import javafx.scene.input.MouseEvent;
import javafx.scene.input.ScrollEvent;
import javafx.scene.layout.HBox;
import javafx.scene.layout.VBox;

/** The plane that cuts the picture: square to which axis, where, and which side is taken away. */
final class SectionCard extends VBox {
    private static final String[] AXES = {"front to rear", "side to side", "up and down"};
    private static final String[][] SIDES = {{"ahead of", "behind"}, {"left of", "right of"}, {"above", "below"}};

    private final CarScene scene;
    private final ToggleButton[] axes = new ToggleButton[AXES.length];
    private final Slider slider = new Slider();
    private final Label where = new Label();
    private final Button side = new Button();
    private LengthFormat format = LengthFormat.TENTHS_OF_MM;
    private int axis = 1;
    private boolean positive = true;

    SectionCard(CarScene scene) {
        this.scene = scene;
        getStyleClass().add("over");
        setId("section-card");
        HBox row = new HBox(4);
        ToggleGroup group = new ToggleGroup();
        for (int a = 0; a < AXES.length; a++) {
            int number = a;
            ToggleButton button = new ToggleButton(AXES[a]);
            button.setAccessibleText("Move the cut " + AXES[a]);
            button.getStyleClass().addAll("small", "handle-button");
            button.setToggleGroup(group);
            button.setSelected(a == axis);
            button.setOnAction(event -> {
                button.setSelected(true);
                axis = number;
                middle();
            });
            axes[a] = button;
            row.getChildren().add(button);
        }
        slider.setId("section");
        slider.setAccessibleText("Where the picture is cut");
        slider.valueProperty().addListener(property -> show());
        where.getStyleClass().add("small");
        side.getStyleClass().addAll("small", "handle-button");
        side.setAccessibleText("Take the other side away");
        side.setOnAction(event -> {
            positive = !positive;
            show();
        });
        HBox foot = new HBox(8, where, side);
        foot.setAlignment(Pos.CENTER_LEFT);
        getChildren().addAll(row, slider, foot);
        setVisible(false);
        // What is done on the card is not done to the car under it.
        addEventHandler(MouseEvent.ANY, Event::consume);
        addEventHandler(ScrollEvent.ANY, Event::consume);
    }

    /** A car is shown: the cut starts again in its middle. */
    void opened(boolean inches) {
        format = LengthFormat.usual(inches ? Unit.INCH : Unit.MILLIMETRE);
        middle();
    }

    /** Shows the card and cuts, or puts both away. */
    void toggle() {
        setVisible(!isVisible());
        show();
        if (isVisible()) {
            slider.requestFocus();
        }
    }

    private void middle() {
        double[] extent = scene.extent(axis);
        slider.setMin(extent[0]);
        slider.setMax(Math.max(extent[1], extent[0] + 1));
        slider.setBlockIncrement((slider.getMax() - slider.getMin()) / 60);
        slider.setValue((extent[0] + extent[1]) / 2);
        show();
    }

    private void show() {
        scene.section(
                isVisible() ? Optional.of(new CarScene.Section(axis, slider.getValue(), positive)) : Optional.empty());
        double at = format.nearest(slider.getValue());
        where.setText("cut at " + format.print(at));
        side.setText("what is " + SIDES[axis][positive ? 0 : 1] + " it is taken away");
    }
}
