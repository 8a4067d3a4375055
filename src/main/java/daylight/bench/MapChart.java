package daylight.bench;

import daylight.clearance.GapRow;
import daylight.report.PairMap;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import javafx.scene.control.Label;
import javafx.scene.input.MouseEvent;
import javafx.scene.layout.Region;
import javafx.scene.shape.Circle;
import javafx.scene.shape.ClosePath;
import javafx.scene.shape.LineTo;
import javafx.scene.shape.MoveTo;
import javafx.scene.shape.Path;
import javafx.scene.shape.PathElement;
import javafx.scene.shape.Rectangle;

/**
 * The chosen pair's gap over two handles, with contour lines: dashed where the rule runs out, thick where the parts
 * touch. Clicking or dragging moves the car there.
 */
final class MapChart extends Region {
    /** Contour lines besides the rule's and the touch, about. */
    private static final int LEVELS = 5;

    private final BenchViewModel model;
    private final Rectangle frame = new Rectangle();
    private final Path tight = new Path();
    private final Path rub = new Path();
    private final Path contours = new Path();
    private final Path rule = new Path();
    private final Path touch = new Path();
    private final Circle here = new Circle(6);
    private final Label lowAcross = small();
    private final Label highAcross = small();
    private final Label lowUp = small();
    private final Label highUp = small();
    private final Label nameUp = small();
    private final List<Label> levels = new ArrayList<>();
    private double left;
    private double top;
    private double wide;
    private double high;

    MapChart(BenchViewModel model) {
        this.model = model;
        setId("map");
        setAccessibleText("The chosen pair's gap over two movements. A click moves the car there.");
        frame.getStyleClass().add("map-frame");
        tight.getStyleClass().add("curve-tight-area");
        rub.getStyleClass().add("curve-rub-area");
        contours.getStyleClass().add("map-contour");
        rule.getStyleClass().add("curve-rule");
        touch.getStyleClass().add("curve-touch");
        here.getStyleClass().add("curve-now-spot");
        getChildren()
                .addAll(frame, tight, rub, contours, touch, rule, here, lowAcross, highAcross, lowUp, highUp, nameUp);
        setMinSize(120, 80);
        addEventHandler(MouseEvent.MOUSE_PRESSED, event -> moveTo(event.getX(), event.getY()));
        addEventHandler(MouseEvent.MOUSE_DRAGGED, event -> moveTo(event.getX(), event.getY()));
    }

    private static Label small() {
        Label label = new Label();
        label.getStyleClass().addAll("small", "quiet");
        return label;
    }

    private HandleViewModel handle(daylight.motion.Handle of) {
        return model.handles().stream()
                .filter(handle -> handle.name().equals(of.name()))
                .findFirst()
                .orElseThrow(() -> new IllegalStateException("no handle is called " + of.name()));
    }

    private void moveTo(double x, double y) {
        model.mapProperty().get().ifPresent(map -> {
            set(handle(map.across()), (x - left) / Math.max(1, wide));
            set(handle(map.up()), 1 - (y - top) / Math.max(1, high));
        });
    }

    private static void set(HandleViewModel handle, double share) {
        double low = handle.handle().lowest();
        double range = handle.handle().highest() - low;
        handle.playingProperty().set(false);
        handle.forgive();
        handle.valueProperty().set(low + (handle.reversed() ? 1 - share : share) * range);
    }

    private static double share(HandleViewModel handle, double share) {
        return handle.reversed() ? 1 - share : share;
    }

    @Override
    protected void layoutChildren() {
        Optional<PairMap> map = model.mapProperty().get();
        Optional<GapRow> row = model.chosenProperty().get();
        boolean shown = map.isPresent() && row.isPresent();
        getChildren().forEach(child -> child.setVisible(shown));
        if (shown) {
            draw(map.get(), row.get());
        }
    }

    private void draw(PairMap map, GapRow row) {
        HandleViewModel across = handle(map.across());
        HandleViewModel up = handle(map.up());
        boolean reversedUp = up.reversed();
        lowAcross.setText(across.text(
                across.reversed() ? across.handle().highest() : across.handle().lowest()));
        highAcross.setText(across.text(
                across.reversed() ? across.handle().lowest() : across.handle().highest()));
        lowUp.setText(up.text(reversedUp ? up.handle().highest() : up.handle().lowest()));
        highUp.setText(up.text(reversedUp ? up.handle().lowest() : up.handle().highest()));
        nameUp.setText(across.label() + " across, " + up.label() + " up");
        double text = lowUp.prefHeight(-1);
        left = 12 + Math.max(width(lowUp), width(highUp));
        top = 6;
        wide = Math.max(10, getWidth() - left - 14);
        high = Math.max(10, getHeight() - top - text - 8);
        frame.setX(left);
        frame.setY(top);
        frame.setWidth(wide);
        frame.setHeight(high);
        tight.getElements()
                .setAll(row.requiredMm() > 0 ? areas(map.below(row.requiredMm()), map, across, up) : List.of());
        rub.getElements().setAll(areas(map.below(0), map, across, up));
        rule.getElements()
                .setAll(row.requiredMm() > 0 ? runs(map.contour(row.requiredMm()), map, across, up) : List.of());
        touch.getElements().setAll(runs(map.contour(0), map, across, up));
        drawLevels(map, row, across, up);
        double x = (across.value() - across.handle().lowest()) / range(across);
        double y = (up.value() - up.handle().lowest()) / range(up);
        here.setCenterX(left + share(across, x) * wide);
        here.setCenterY(top + (1 - share(up, y)) * high);
        place(lowUp, left - width(lowUp) - 6, top + high - text);
        place(highUp, left - width(highUp) - 6, top);
        place(lowAcross, left, top + high + 3);
        place(highAcross, left + wide - width(highAcross), top + high + 3);
        place(nameUp, left + (wide - width(nameUp)) / 2, top + high + 3);
        nameUp.setVisible(width(nameUp) + width(lowAcross) + width(highAcross) + 12 < wide);
    }

    private static double range(HandleViewModel handle) {
        return Math.max(1e-9, handle.handle().highest() - handle.handle().lowest());
    }

    /** Contours at whole steps of the unit, each with its gap written on it. */
    private void drawLevels(PairMap map, GapRow row, HandleViewModel across, HandleViewModel up) {
        double least = map.gapsMm().stream()
                .filter(Double::isFinite)
                .mapToDouble(d -> d)
                .min()
                .orElse(0);
        double most = map.gapsMm().stream()
                .filter(Double::isFinite)
                .mapToDouble(d -> d)
                .max()
                .orElse(0);
        double step = model.inches() ? 25.4 / 8 : 2;
        while ((most - least) / step > LEVELS) {
            step *= 2;
        }
        List<PathElement> lines = new ArrayList<>();
        int used = 0;
        for (double level = Math.ceil(least / step) * step; level < most; level += step) {
            if (Math.abs(level) < step / 4 || Math.abs(level - row.requiredMm()) < step / 4) {
                continue;
            }
            List<List<Double>> runs = map.contour(level);
            lines.addAll(runs(runs, map, across, up));
            if (!runs.isEmpty()) {
                if (used == levels.size()) {
                    Label label = new Label();
                    label.getStyleClass().addAll("small", "map-level");
                    levels.add(label);
                    getChildren().add(label);
                }
                Label label = levels.get(used++);
                label.setText(model.wording().gap(level));
                List<Double> run = runs.get(0);
                int middle = run.size() / 4 * 2;
                double x = x(map, across, run.get(middle));
                double y = y(map, up, run.get(middle + 1));
                place(label, x - width(label) / 2, y - label.prefHeight(-1) / 2);
            }
        }
        for (int l = 0; l < levels.size(); l++) {
            levels.get(l).setVisible(l < used);
        }
        contours.getElements().setAll(lines);
    }

    private double x(PairMap map, HandleViewModel across, double place) {
        return left + share(across, place / (map.places() - 1)) * wide;
    }

    private double y(PairMap map, HandleViewModel up, double place) {
        return top + (1 - share(up, place / (map.places() - 1))) * high;
    }

    private List<PathElement> runs(List<List<Double>> runs, PairMap map, HandleViewModel across, HandleViewModel up) {
        List<PathElement> elements = new ArrayList<>();
        for (List<Double> run : runs) {
            for (int i = 0; i + 1 < run.size(); i += 2) {
                double x = x(map, across, run.get(i));
                double y = y(map, up, run.get(i + 1));
                elements.add(i == 0 ? new MoveTo(x, y) : new LineTo(x, y));
            }
        }
        return elements;
    }

    private List<PathElement> areas(List<List<Double>> areas, PairMap map, HandleViewModel across, HandleViewModel up) {
        List<PathElement> elements = new ArrayList<>();
        for (List<Double> area : areas) {
            elements.addAll(runs(List.of(area), map, across, up));
            elements.add(new ClosePath());
        }
        return elements;
    }

    private static double width(Label label) {
        label.applyCss();
        return label.prefWidth(-1);
    }

    private static void place(Label label, double x, double y) {
        label.resizeRelocate(x, y, width(label), label.prefHeight(-1));
    }
}
