package daylight.bench;

import daylight.clearance.GapRow;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import javafx.geometry.VPos;
import javafx.scene.control.Label;
import javafx.scene.control.ToggleButton;
import javafx.scene.input.KeyCode;
import javafx.scene.input.KeyEvent;
import javafx.scene.input.MouseEvent;
import javafx.scene.layout.BorderPane;
import javafx.scene.layout.FlowPane;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Priority;
import javafx.scene.layout.Region;
import javafx.scene.shape.Circle;
import javafx.scene.shape.Line;
import javafx.scene.shape.LineTo;
import javafx.scene.shape.MoveTo;
import javafx.scene.shape.Path;
import javafx.scene.shape.Rectangle;

/** The chosen pair's gap along one handle, with the rule as a line. Clicking or dragging moves the car there. */
final class CurvePane extends BorderPane {
    private final BenchViewModel model;
    private final Label heading = new Label();
    private final FlowPane choices = new FlowPane(4, 4);
    private final Label empty = new Label("Choose a gap in the list to see it along the travel.");
    private final Chart chart = new Chart();
    private final MapChart map;
    private final ToggleButton mapChoice = new ToggleButton("map of two");

    CurvePane(BenchViewModel model) {
        this.model = model;
        map = new MapChart(model);
        mapChoice.setId("show-map");
        mapChoice.setAccessibleText("Show the gap over the two movements that change it most");
        mapChoice.getStyleClass().add("small");
        mapChoice.selectedProperty().bindBidirectional(model.mapWantedProperty());
        model.mapWantedProperty().addListener(property -> refresh());
        model.mapProperty().addListener(property -> map.requestLayout());
        getStyleClass().add("curve");
        heading.getStyleClass().add("strong");
        heading.setText("Gap along");
        heading.setMinWidth(Region.USE_PREF_SIZE);
        HBox head = new HBox(8, heading, choices);
        HBox.setHgrow(choices, Priority.ALWAYS);
        head.getStyleClass().add("curve-head");
        setTop(head);
        empty.getStyleClass().add("quiet");
        empty.setWrapText(true);
        empty.setStyle("-fx-padding: 14;");
        setCenter(empty);
        model.curvesProperty().addListener(property -> refresh());
        model.curveHandleProperty().addListener(property -> refresh());
        model.chosenProperty().addListener(property -> refresh());
        model.framesProperty().addListener(property -> {
            chart.requestLayout();
            map.requestLayout();
        });
        refresh();
    }

    private void refresh() {
        List<GapCurve> curves = model.curvesProperty().get();
        boolean shown = !curves.isEmpty() && model.chosenProperty().get().isPresent();
        getTop().setVisible(shown);
        boolean mapped = shown && model.mapWantedProperty().get() && curves.size() > 1;
        setCenter(mapped ? map : shown ? chart : empty);
        if (!shown) {
            choices.getChildren().clear();
            empty.setText(
                    model.chosenProperty().get().isEmpty()
                            ? "Choose a gap in the list to see it along the travel."
                            : model.chosenMoves()
                                    ? "Measuring the gap along the travel."
                                    : "No handle moves this pair: its gap changes only by what the parts may shift.");
            return;
        }
        OptionalInt chosen = model.curveHandleProperty().get();
        choices.getChildren().remove(mapChoice);
        if (choices.getChildren().size() != curves.size()) {
            choices.getChildren().clear();
            for (GapCurve curve : curves) {
                HandleViewModel handle = model.handles().get(curve.handle());
                ToggleButton choice = new ToggleButton(handle.label());
                choice.setAccessibleText("Show the gap along " + handle.name());
                choice.getStyleClass().add("small");
                choice.setUserData(curve.handle());
                choice.setOnAction(event -> model.curveHandleProperty().set(OptionalInt.of(curve.handle())));
                choices.getChildren().add(choice);
            }
        }
        for (int i = 0; i < curves.size(); i++) {
            ToggleButton choice = (ToggleButton) choices.getChildren().get(i);
            choice.setText(model.handles().get(curves.get(i).handle()).label());
            int handle = curves.get(i).handle();
            choice.setOnAction(event -> {
                choice.setSelected(true);
                model.mapWantedProperty().set(false);
                model.curveHandleProperty().set(OptionalInt.of(handle));
            });
            choice.setSelected(!mapped && chosen.isPresent() && chosen.getAsInt() == handle);
        }
        if (curves.size() > 1) {
            choices.getChildren().add(mapChoice);
        }
        chart.requestLayout();
    }

    private Optional<GapCurve> curve() {
        OptionalInt chosen = model.curveHandleProperty().get();
        return model.curvesProperty().get().stream()
                .filter(curve -> chosen.isPresent() && curve.handle() == chosen.getAsInt())
                .findFirst();
    }

    private final class Chart extends Region {
        private static final double TOP = 10;

        private final Rectangle tight = new Rectangle();
        private final Rectangle rub = new Rectangle();
        private final Path path = new Path();
        private final Line rule = new Line();
        private final Line touch = new Line();
        private final Line rest = new Line();
        private final Line here = new Line();
        private final Circle spot = new Circle(6);
        private final Label ruleText = new Label();
        private final Label touchText = new Label("touch");
        private final Label lowText = new Label();
        private final Label highText = new Label();
        private final Label restText = new Label("ride height");
        private final Label hereText = new Label();
        private double left;
        private double right;

        Chart() {
            setId("curve");
            setFocusTraversable(true);
            setAccessibleText("The chosen pair's gap along the handle. Left and right arrow keys move the car.");
            tight.getStyleClass().add("curve-tight-area");
            rub.getStyleClass().add("curve-rub-area");
            path.getStyleClass().add("curve-line");
            rule.getStyleClass().add("curve-rule");
            touch.getStyleClass().add("curve-touch");
            rest.getStyleClass().add("curve-rest");
            here.getStyleClass().add("curve-now");
            spot.getStyleClass().add("curve-now-spot");
            for (Label text : List.of(ruleText, touchText, lowText, highText, restText)) {
                text.getStyleClass().addAll("small", "quiet");
            }
            hereText.getStyleClass().addAll("strong", "curve-now-text");
            getChildren()
                    .addAll(
                            tight, rub, rest, touch, rule, path, here, spot, ruleText, touchText, lowText, highText,
                            restText, hereText);
            setMinSize(120, 80);
            addEventHandler(MouseEvent.MOUSE_PRESSED, event -> {
                requestFocus();
                moveTo(event.getX());
            });
            addEventHandler(MouseEvent.MOUSE_DRAGGED, event -> moveTo(event.getX()));
            addEventHandler(KeyEvent.KEY_PRESSED, event -> {
                int way = event.getCode() == KeyCode.LEFT ? -1 : event.getCode() == KeyCode.RIGHT ? 1 : 0;
                curve().filter(c -> way != 0).ifPresent(curve -> {
                    HandleViewModel handle = model.handles().get(curve.handle());
                    handle.playingProperty().set(false);
                    handle.valueProperty().set(handle.value() + (handle.reversed() ? -way : way) * handle.step());
                    event.consume();
                });
            });
        }

        private void moveTo(double x) {
            curve().ifPresent(curve -> {
                HandleViewModel handle = model.handles().get(curve.handle());
                double share = (x - left) / Math.max(1, right - left);
                double low = handle.handle().lowest();
                double high = handle.handle().highest();
                handle.playingProperty().set(false);
                handle.forgive();
                handle.valueProperty()
                        .set(handle.reversed() ? high - share * (high - low) : low + share * (high - low));
            });
        }

        @Override
        protected void layoutChildren() {
            GapCurve curve = curve().orElse(null);
            GapRow row = model.chosenProperty().get().orElse(null);
            if (curve != null && row != null && Double.isFinite(curve.leastMm())) {
                getChildren().forEach(child -> child.setVisible(true));
                draw(curve, row);
            } else {
                getChildren().forEach(child -> child.setVisible(false));
            }
        }

        private void draw(GapCurve curve, GapRow row) {
            HandleViewModel handle = model.handles().get(curve.handle());
            double width = getWidth();
            double height = getHeight();
            double now = model.nowMm(row).orElse(curve.leastMm());
            double required = row.requiredMm();
            double low = Math.min(0, Math.min(curve.leastMm(), now));
            double high = Math.max(Math.max(curve.greatestMm(), now), required * 1.3);
            double room = Math.max(1e-6, high - low) * 0.08;
            low -= low < 0 ? room : room / 2;
            high += room;
            ruleText.setText(required > 0 ? "asked " + model.wording().required(required) : "");
            double margin = 10 + Math.max(width(touchText), width(ruleText));
            left = margin + 6;
            right = width - 14;
            double textHeight = lowText.prefHeight(-1);
            double bottom = height - textHeight - 6;
            double scale = (bottom - TOP) / (high - low);
            double zero = bottom - (0 - low) * scale;
            double asked = bottom - (required - low) * scale;

            box(rub, left, zero, right, bottom);
            box(tight, left, asked, right, zero);
            horizontal(touch, zero);
            horizontal(rule, asked);
            rule.setVisible(required > 0);
            tight.setVisible(required > 0);
            text(touchText, 8, zero, VPos.CENTER);
            text(ruleText, 8, asked, VPos.CENTER);
            ruleText.setVisible(required > 0);
            // Where the two lines are too near for two words, the rule's is the one that says more.
            touchText.setVisible(required <= 0 || zero - asked > textHeight * 0.9);

            List<javafx.scene.shape.PathElement> elements = new ArrayList<>();
            boolean drawing = false;
            for (int i = 0; i < curve.at().size(); i++) {
                double gap = curve.gapsMm().get(i);
                if (!Double.isFinite(gap)) {
                    drawing = false;
                    continue;
                }
                double x = x(handle, curve.at().get(i));
                double y = bottom - (gap - low) * scale;
                elements.add(drawing ? new LineTo(x, y) : new MoveTo(x, y));
                drawing = true;
            }
            path.getElements().setAll(elements);

            double xRest = x(handle, 0);
            vertical(rest, xRest, bottom);
            double xNow = x(handle, handle.value());
            vertical(here, xNow, bottom);
            double yNow = bottom - (now - low) * scale;
            spot.setCenterX(xNow);
            spot.setCenterY(yNow);
            hereText.setText(model.wording().gapWithUnit(now));
            double hereWidth = width(hereText);
            double hereX = xNow + 10 + hereWidth > right ? xNow - 10 - hereWidth : xNow + 10;
            double hereY = Math.max(0, Math.min(bottom - textHeight, yNow - textHeight - 4));
            hereText.resizeRelocate(hereX, hereY, hereWidth, hereText.prefHeight(-1));

            boolean reversed = handle.reversed();
            lowText.setText(handle.text(
                    reversed ? handle.handle().highest() : handle.handle().lowest()));
            highText.setText(handle.text(
                    reversed ? handle.handle().lowest() : handle.handle().highest()));
            text(lowText, left, bottom + 3, VPos.TOP);
            text(highText, right - width(highText), bottom + 3, VPos.TOP);
            double restWidth = width(restText);
            text(restText, xRest - restWidth / 2, bottom + 3, VPos.TOP);
            boolean fits = xRest - restWidth / 2 > left + width(lowText) + 6
                    && xRest + restWidth / 2 < right - width(highText) - 6;
            restText.setVisible(fits);
        }

        private double x(HandleViewModel handle, double value) {
            double low = handle.handle().lowest();
            double high = handle.handle().highest();
            double share = (value - low) / (high - low);
            return left + (handle.reversed() ? 1 - share : share) * (right - left);
        }

        private void horizontal(Line line, double y) {
            line.setStartX(left);
            line.setEndX(right);
            line.setStartY(y);
            line.setEndY(y);
        }

        private void vertical(Line line, double x, double bottom) {
            line.setStartX(x);
            line.setEndX(x);
            line.setStartY(TOP);
            line.setEndY(bottom);
        }

        private static void box(Rectangle box, double x0, double y0, double x1, double y1) {
            box.setX(x0);
            box.setY(y0);
            box.setWidth(Math.max(0, x1 - x0));
            box.setHeight(Math.max(0, y1 - y0));
        }

        private static double width(Label label) {
            label.applyCss();
            return label.prefWidth(-1);
        }

        private static void text(Label label, double x, double y, VPos at) {
            double h = label.prefHeight(-1);
            label.resizeRelocate(x, at == VPos.CENTER ? y - h / 2 : y, width(label), h);
        }
    }
}
