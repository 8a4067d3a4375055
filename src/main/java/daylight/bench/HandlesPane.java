package daylight.bench;

import java.util.List;
import javafx.collections.ListChangeListener;
import javafx.collections.ObservableList;
import javafx.geometry.Insets;
import javafx.geometry.Orientation;
import javafx.geometry.Pos;
import javafx.scene.Node;
import javafx.scene.control.Button;
import javafx.scene.control.Label;
import javafx.scene.control.ScrollPane;
import javafx.scene.layout.BorderPane;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.Region;
import javafx.scene.text.Text;

/** The handles under the picture, the two sides of an axle beside one another. */
final class HandlesPane extends BorderPane {
    private final BenchViewModel model;
    private final Columns columns = new Columns();

    HandlesPane(BenchViewModel model, List<Button> buttons) {
        this.model = model;
        columns.getStyleClass().add("handles");
        ScrollPane scroll = new ScrollPane(columns);
        scroll.setFitToWidth(true);
        scroll.setHbarPolicy(ScrollPane.ScrollBarPolicy.NEVER);
        scroll.setFocusTraversable(false);
        Label heading = new Label("Move the car");
        heading.getStyleClass().add("strong");
        Region space = new Region();
        HBox.setHgrow(space, Priority.ALWAYS);
        HBox head = new HBox(6, heading, space);
        head.getChildren().addAll(buttons);
        head.setAlignment(Pos.CENTER_LEFT);
        head.getStyleClass().add("curve-head");
        setTop(head);
        setCenter(scroll);
        model.handles().addListener((ListChangeListener<HandleViewModel>) change -> lay());
        lay();
    }

    private void lay() {
        columns.getChildren()
                .setAll(HandleOrder.of(model.handles()).stream()
                        .map(HandleControl::new)
                        .toList());
    }

    /** Two columns where there is room for them, else one. A handle without a partner on its row leaves no hole. */
    private static final class Columns extends Region {
        /** Narrower than this a handle's name and field do not fit beside one another, in heights of the type. */
        private static final double LEAST_COLUMN_EM = 19.5;

        private static final double GAP_X = 22;
        private static final double GAP_Y = 8;
        private final Text type = new Text("x");

        @Override
        public Orientation getContentBias() {
            return Orientation.HORIZONTAL;
        }

        @Override
        public ObservableList<Node> getChildren() {
            return super.getChildren();
        }

        private int count(double width) {
            double em = getChildren().isEmpty()
                    ? type.getFont().getSize()
                    : ((HandleControl) getChildren().get(0)).em();
            return width < 2 * LEAST_COLUMN_EM * em + GAP_X ? 1 : 2;
        }

        private double go(double width, boolean place) {
            Insets in = getInsets();
            double inside = width - in.getLeft() - in.getRight();
            int count = count(inside);
            double each = (inside - (count - 1) * GAP_X) / count;
            double y = in.getTop();
            int column = 0;
            double tallest = 0;
            for (Node child : getManagedChildren()) {
                if (column == count || (column > 0 && ((HandleControl) child).startsRow())) {
                    y += tallest + GAP_Y;
                    column = 0;
                    tallest = 0;
                }
                double height = child.prefHeight(each);
                if (place) {
                    child.resizeRelocate(in.getLeft() + column * (each + GAP_X), y, each, height);
                }
                tallest = Math.max(tallest, height);
                column++;
            }
            return y + tallest + in.getBottom();
        }

        @Override
        protected double computePrefHeight(double width) {
            return go(width < 0 ? getWidth() : width, false);
        }

        @Override
        protected void layoutChildren() {
            go(getWidth(), true);
        }
    }
}
