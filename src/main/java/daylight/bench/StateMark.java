package daylight.bench;

import daylight.clearance.State;
import javafx.scene.Group;
import javafx.scene.shape.Arc;
import javafx.scene.shape.ArcType;
import javafx.scene.shape.Circle;
import javafx.scene.shape.Polygon;

/** A state as a shape: a full diamond for a rub, a half disc for tight, an open ring for clear. */
final class StateMark extends Group {
    private static final double R = 6;

    StateMark(State state) {
        Circle place = new Circle(R + 1);
        place.setFill(javafx.scene.paint.Color.TRANSPARENT);
        getChildren().add(place);
        switch (state) {
            case RUB -> {
                Polygon diamond = new Polygon(0, -R - 1, R + 1, 0, 0, R + 1, -R - 1, 0);
                diamond.getStyleClass().addAll("mark-rub", "mark-outline");
                getChildren().add(diamond);
            }
            case TIGHT -> {
                Circle ring = new Circle(R);
                ring.getStyleClass().add("mark-outline");
                ring.setFill(javafx.scene.paint.Color.TRANSPARENT);
                Arc half = new Arc(0, 0, R, R, 90, 180);
                half.setType(ArcType.CHORD);
                half.getStyleClass().addAll("mark-tight", "mark-outline");
                getChildren().addAll(half, ring);
            }
            case CLEAR -> {
                Circle ring = new Circle(R - 1);
                ring.getStyleClass().add("mark-clear");
                getChildren().add(ring);
            }
        }
    }
}
