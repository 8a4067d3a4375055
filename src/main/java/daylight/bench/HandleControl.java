package daylight.bench;

import javafx.beans.property.DoubleProperty;
import javafx.css.PseudoClass;
import javafx.geometry.Pos;
import javafx.scene.Node;
import javafx.scene.control.Label;
import javafx.scene.control.Slider;
import javafx.scene.control.TextField;
import javafx.scene.control.ToggleButton;
import javafx.scene.control.Tooltip;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.Region;
import javafx.scene.layout.StackPane;
import javafx.scene.layout.VBox;

/** One handle under the picture: a slider to drag, a field to type into, and a button that plays it. */
final class HandleControl extends VBox {
    private static final PseudoClass WRONG = PseudoClass.getPseudoClass("danger");
    private static final double THUMB_PX = 18;

    private final HandleViewModel handle;
    private final Slider slider = new Slider();
    private final TextField field = new TextField();

    HandleControl(HandleViewModel handle) {
        super(1);
        this.handle = handle;
        Label name = new Label(handle.label());
        name.getStyleClass().add("strong");
        name.setMinWidth(0);
        field.setId("field " + handle.name());
        field.setAccessibleText(handle.name() + ", " + handle.range());
        field.setTooltip(new Tooltip(
                "Type a value, for example " + handle.text(handle.handle().highest() / 2)));
        ToggleButton play = new ToggleButton("\u25b6");
        play.setAccessibleText("Play " + handle.name() + " through its range");
        play.setTooltip(new Tooltip("Play: move it back and forth through its range"));
        play.getStyleClass().addAll("small", "handle-button");
        play.setMinWidth(Region.USE_PREF_SIZE);
        play.selectedProperty().bindBidirectional(handle.playingProperty());
        Region space = new Region();
        HBox.setHgrow(space, Priority.ALWAYS);
        HBox top = new HBox(6, name, space);
        top.getChildren().addAll(field, play);
        top.setAlignment(Pos.CENTER_LEFT);

        boolean reversed = handle.reversed();
        Label low = new Label(reversed ? handle.highWord() : handle.lowWord());
        Label high = new Label(reversed ? handle.lowWord() : handle.highWord());
        for (Label word : new Label[] {low, high}) {
            word.getStyleClass().addAll("small", "quiet");
            word.setMinWidth(Region.USE_PREF_SIZE);
        }
        HBox bottom = new HBox(6, low, sliderWithZero(reversed), high);
        bottom.setAlignment(Pos.CENTER_LEFT);
        if (startsRow()) {
            ToggleButton both = new ToggleButton("both");
            both.setAccessibleText("Move both sides of the axle together: " + handle.label());
            both.setTooltip(new Tooltip("Move both sides together"));
            both.getStyleClass().addAll("small", "handle-button");
            both.setMinWidth(Region.USE_PREF_SIZE);
            both.selectedProperty().bindBidirectional(handle.togetherProperty());
            bottom.getChildren().add(both);
        }

        Label refusal = new Label();
        refusal.getStyleClass().add("refusal");
        refusal.setWrapText(true);
        refusal.textProperty().bind(handle.refusalProperty());
        refusal.visibleProperty().bind(handle.refusalProperty().isNotEmpty());
        refusal.managedProperty().bind(refusal.visibleProperty());
        refusal.setMinHeight(Region.USE_PREF_SIZE);
        getChildren().addAll(top, bottom, refusal);

        showValue();
        handle.valueProperty().addListener(property -> showValue());
        handle.refusalProperty()
                .addListener((property, was, is) -> field.pseudoClassStateChanged(WRONG, !is.isEmpty()));
        field.setOnAction(event -> take());
        field.focusedProperty().addListener((property, was, is) -> {
            if (is) {
                field.selectAll();
            } else if (!handle.refusalProperty().get().isEmpty()) {
                handle.forgive();
                showValue();
            } else if (!field.getText().equals(handle.text())) {
                take();
            }
        });
    }

    private void take() {
        if (handle.type(field.getText())) {
            showValue();
            field.selectAll();
        }
    }

    private void showValue() {
        if (handle.refusalProperty().get().isEmpty()) {
            field.setText(handle.text());
        }
    }

    private Node sliderWithZero(boolean reversed) {
        double low = handle.handle().lowest();
        double high = handle.handle().highest();
        slider.setMin(reversed ? -high : low);
        slider.setMax(reversed ? -low : high);
        slider.setBlockIncrement(handle.step());
        slider.setId("slider " + handle.name());
        slider.setAccessibleText(handle.name() + ", " + handle.range());
        DoubleProperty value = handle.valueProperty();
        double sign = reversed ? -1 : 1;
        slider.setValue(sign * value.get());
        value.addListener((property, was, is) -> slider.setValue(sign * is.doubleValue()));
        slider.valueProperty().addListener((property, was, is) -> {
            if (slider.isValueChanging() || slider.isFocused()) {
                handle.forgive();
            }
            value.set(sign * is.doubleValue());
        });
        slider.valueChangingProperty().addListener((property, was, is) -> {
            if (is) {
                handle.playingProperty().set(false);
            }
        });
        Region mark = new Region();
        mark.getStyleClass().add("zero-mark");
        mark.setManaged(false);
        mark.setMouseTransparent(true);
        StackPane stack = new StackPane(mark, slider) {
            @Override
            protected void layoutChildren() {
                super.layoutChildren();
                Node thumb = slider.lookup(".thumb");
                double thumbWidth =
                        thumb == null ? THUMB_PX : thumb.getLayoutBounds().getWidth();
                double share = (0 - slider.getMin()) / Math.max(1e-12, slider.getMax() - slider.getMin());
                double x = thumbWidth / 2 + share * (getWidth() - thumbWidth);
                mark.resizeRelocate(Math.rint(x) - 1, 0, 2, getHeight());
            }
        };
        HBox.setHgrow(stack, Priority.ALWAYS);
        stack.setMinWidth(60);
        return stack;
    }

    /** Whether it begins a row: the left one of two sides. */
    boolean startsRow() {
        return handle.otherSide().isPresent() && handle.name().contains("left");
    }

    /** The height of the type that is worn, px. */
    double em() {
        field.applyCss();
        return field.getFont().getSize();
    }

    Slider slider() {
        return slider;
    }
}
