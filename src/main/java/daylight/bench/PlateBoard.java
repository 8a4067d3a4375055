package daylight.bench;

import daylight.car.Car;
import daylight.geometry.Cut;
import daylight.geometry.Flat;
import daylight.geometry.PlateCuts;
import daylight.geometry.Shape;
import daylight.units.Length;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import javafx.beans.InvalidationListener;
import javafx.scene.Cursor;
import javafx.scene.control.Label;
import javafx.scene.input.KeyEvent;
import javafx.scene.input.MouseEvent;
import javafx.scene.layout.Pane;
import javafx.scene.shape.Circle;
import javafx.scene.shape.ClosePath;
import javafx.scene.shape.FillRule;
import javafx.scene.shape.Line;
import javafx.scene.shape.LineTo;
import javafx.scene.shape.MoveTo;
import javafx.scene.shape.Path;
import javafx.scene.shape.PathElement;

/**
 * The plate drawn flat to scale: the metal, its holes and welds, where it comes too near to something, and the cut with
 * grips to drag. What would come off is hatched.
 */
final class PlateBoard extends Pane {
    private static final double MARGIN = 34;
    private static final double GRIP_PX = 8;
    /** A press this near to a grip takes hold of it, px. */
    private static final double REACH_PX = 20;
    /** From one line of the hatching to the next, px. */
    private static final double HATCH_PX = 7;
    /** How long the scale bar is at least, px. */
    private static final double BAR_PX = 60;
    /** Corners of a drawn hole. */
    private static final int ROUND = 40;

    private final PlateViewModel model;
    private final Path metal = new Path();
    private final Path forbidden = new Path();
    private final Path keep = new Path();
    private final Path off = new Path();
    private final Path hatch = new Path();
    private final Path left = new Path();
    private final Path welds = new Path();
    private final List<Circle> grips = new ArrayList<>();
    private final List<Label> edgeNames = new ArrayList<>();
    private final Pane gripLayer = new Pane();
    private final Pane nameLayer = new Pane();
    private final Line bar = new Line();
    private final Label barText = new Label();
    private double scale = 1;
    private double shiftX;
    private double shiftY;
    private int held = -1;
    /** The grip that arrow keys move. */
    private int keyed;

    PlateBoard(PlateViewModel model) {
        this.model = model;
        setId("plate-board");
        getStyleClass().add("plate-board");
        setFocusTraversable(true);
        setAccessibleText("The plate drawn flat. Tab chooses a grip of the cut, arrow keys move it.");
        metal.getStyleClass().add("plate-metal");
        metal.setFillRule(FillRule.EVEN_ODD);
        forbidden.getStyleClass().add("plate-forbidden");
        keep.getStyleClass().add("plate-keep");
        off.getStyleClass().add("plate-off");
        off.setFillRule(FillRule.EVEN_ODD);
        hatch.getStyleClass().add("plate-hatch");
        left.getStyleClass().add("plate-left");
        welds.getStyleClass().add("plate-weld");
        bar.getStyleClass().add("plate-bar");
        barText.getStyleClass().addAll("small", "quiet");
        for (javafx.scene.Node node : List.of(nameLayer, gripLayer)) {
            node.setMouseTransparent(true);
        }
        getChildren().addAll(metal, forbidden, keep, off, hatch, left, welds, nameLayer, bar, barText, gripLayer);
        setMinSize(220, 180);
        InvalidationListener redraw = property -> requestLayout();
        model.nameProperty().addListener(redraw);
        model.cutProperty().addListener(redraw);
        model.triedProperty().addListener(redraw);
        model.forbiddenProperty().addListener(redraw);
        focusedProperty().addListener(redraw);
        addEventHandler(MouseEvent.MOUSE_PRESSED, this::pressed);
        addEventHandler(MouseEvent.MOUSE_DRAGGED, event -> {
            if (held >= 0) {
                model.drag(held, flat(event.getX(), event.getY()));
            }
        });
        addEventHandler(MouseEvent.MOUSE_RELEASED, event -> held = -1);
        addEventHandler(
                MouseEvent.MOUSE_MOVED,
                event -> setCursor(near(event.getX(), event.getY()) >= 0 ? Cursor.HAND : Cursor.DEFAULT));
        addEventHandler(KeyEvent.KEY_PRESSED, this::key);
    }

    private void pressed(MouseEvent event) {
        requestFocus();
        held = near(event.getX(), event.getY());
        if (held >= 0) {
            keyed = held;
        } else {
            Flat at = flat(event.getX(), event.getY());
            // Away from the grips a press puts the cut there: at the nearest corner, or in the nearest edge.
            model.cutProperty().get().ifPresent(cut -> model.begin(CutGrips.kind(cut), at));
        }
    }

    private int near(double x, double y) {
        List<Flat> places = model.gripPlaces();
        int best = -1;
        double least = REACH_PX;
        for (int g = 0; g < places.size(); g++) {
            double away = Math.hypot(x(places.get(g)) - x, y(places.get(g)) - y);
            if (away < least) {
                least = away;
                best = g;
            }
        }
        return best;
    }

    private void key(KeyEvent event) {
        List<Flat> places = model.gripPlaces();
        if (places.isEmpty()) {
            return;
        }
        keyed = Math.min(keyed, places.size() - 1);
        double step = model.stepMm() * (event.isShiftDown() ? 4 : 1);
        double dx = 0;
        double dy = 0;
        switch (event.getCode()) {
            case LEFT -> dx = -step;
            case RIGHT -> dx = step;
            case UP -> dy = step;
            case DOWN -> dy = -step;
            case SPACE -> keyed = (keyed + 1) % places.size();
            default -> {
                return;
            }
        }
        Flat at = places.get(keyed);
        if (dx != 0 || dy != 0) {
            Optional<Cut> before = model.cutProperty().get();
            model.drag(keyed, new Flat(at.x() + dx, at.y() + dy));
            if (model.cutProperty().get().equals(before)) {
                // A grip on a slanted edge may need more than a step across to move a step along.
                model.drag(keyed, new Flat(at.x() + 2 * dx, at.y() + 2 * dy));
            }
        }
        requestLayout();
        event.consume();
    }

    // ---------------------------------------------------------------- drawing

    private double x(Flat at) {
        return shiftX + scale * at.x();
    }

    private double y(Flat at) {
        return shiftY - scale * at.y();
    }

    private Flat flat(double x, double y) {
        return new Flat((x - shiftX) / scale, (shiftY - y) / scale);
    }

    @Override
    protected void layoutChildren() {
        Optional<Shape.Plate> plate = model.plate();
        getChildren().forEach(child -> child.setVisible(plate.isPresent()));
        plate.ifPresent(this::draw);
    }

    private void draw(Shape.Plate plate) {
        fit(plate.outline());
        metal.getElements().setAll(closed(plate.outline()));
        plate.holes().forEach(hole -> metal.getElements().addAll(closed(round(hole))));
        List<PathElement> cells = new ArrayList<>();
        model.forbiddenProperty().get().forEach(cell -> cells.addAll(closed(cell)));
        forbidden.getElements().setAll(cells);
        Optional<Car.Metal> limits = model.metal();
        List<PathElement> kept = new ArrayList<>();
        List<PathElement> welded = new ArrayList<>();
        limits.ifPresent(m -> {
            m.keep().forEach(figure -> kept.addAll(closed(figure)));
            m.welds().forEach(weld -> {
                welded.add(new MoveTo(x(weld.from()), y(weld.from())));
                welded.add(new LineTo(x(weld.to()), y(weld.to())));
            });
        });
        keep.getElements().setAll(kept);
        welds.getElements().setAll(welded);
        drawCut(plate);
        drawNames(plate);
        drawBar();
    }

    private void fit(List<Flat> outline) {
        double lowX = outline.stream().mapToDouble(Flat::x).min().orElse(0);
        double highX = outline.stream().mapToDouble(Flat::x).max().orElse(1);
        double lowY = outline.stream().mapToDouble(Flat::y).min().orElse(0);
        double highY = outline.stream().mapToDouble(Flat::y).max().orElse(1);
        double room = barText.prefHeight(-1) + 10;
        scale = Math.max(
                1e-6,
                Math.min(
                        (getWidth() - 2 * MARGIN) / Math.max(1e-9, highX - lowX),
                        (getHeight() - 2 * MARGIN - room) / Math.max(1e-9, highY - lowY)));
        shiftX = getWidth() / 2 - scale * (lowX + highX) / 2;
        shiftY = (getHeight() - room) / 2 + scale * (lowY + highY) / 2;
    }

    private void drawCut(Shape.Plate plate) {
        Optional<Cut> cut = model.cutProperty().get();
        Optional<Shape.Plate> after =
                cut.filter(c -> PlateCuts.whyNot(plate, c).isEmpty()).map(c -> PlateCuts.after(plate, c));
        off.getElements().clear();
        hatch.getElements().clear();
        left.getElements().clear();
        after.ifPresent(rest -> {
            off.getElements().setAll(closed(plate.outline()));
            off.getElements().addAll(closed(rest.outline()));
            left.getElements().setAll(closed(rest.outline()));
            hatch();
        });
        List<Flat> places = model.gripPlaces();
        while (grips.size() < places.size()) {
            Circle grip = new Circle(GRIP_PX);
            grip.getStyleClass().add("plate-grip");
            grips.add(grip);
            gripLayer.getChildren().add(grip);
        }
        for (int g = 0; g < grips.size(); g++) {
            Circle grip = grips.get(g);
            grip.setVisible(g < places.size());
            if (g < places.size()) {
                grip.setCenterX(x(places.get(g)));
                grip.setCenterY(y(places.get(g)));
                grip.getStyleClass().remove("plate-grip-chosen");
                if (isFocused() && g == Math.min(keyed, places.size() - 1)) {
                    grip.getStyleClass().add("plate-grip-chosen");
                }
            }
        }
    }

    /** Slanted lines over what comes off: inside the piece's two outlines, crossing by crossing. */
    private void hatch() {
        List<double[]> sides = new ArrayList<>();
        double[] from = new double[2];
        double[] begin = new double[2];
        for (PathElement element : off.getElements()) {
            if (element instanceof MoveTo move) {
                begin = new double[] {move.getX(), move.getY()};
                from = begin;
            } else if (element instanceof LineTo line) {
                sides.add(new double[] {from[0], from[1], line.getX(), line.getY()});
                from = new double[] {line.getX(), line.getY()};
            } else if (element instanceof ClosePath) {
                sides.add(new double[] {from[0], from[1], begin[0], begin[1]});
            }
        }
        double step = HATCH_PX * Math.sqrt(2);
        double low = Double.POSITIVE_INFINITY;
        double high = Double.NEGATIVE_INFINITY;
        for (double[] side : sides) {
            low = Math.min(low, Math.min(side[0] + side[1], side[2] + side[3]));
            high = Math.max(high, Math.max(side[0] + side[1], side[2] + side[3]));
        }
        List<PathElement> lines = new ArrayList<>();
        for (double c = Math.ceil(low / step) * step; c < high; c += step) {
            List<Double> crossings = new ArrayList<>();
            for (double[] side : sides) {
                double a = side[0] + side[1] - c;
                double b = side[2] + side[3] - c;
                if (a < 0 != b < 0) {
                    crossings.add(side[0] + a / (a - b) * (side[2] - side[0]));
                }
            }
            crossings.sort(null);
            for (int k = 0; k + 1 < crossings.size(); k += 2) {
                if (crossings.get(k + 1) - crossings.get(k) > 0.5) {
                    lines.add(new MoveTo(crossings.get(k), c - crossings.get(k)));
                    lines.add(new LineTo(crossings.get(k + 1), c - crossings.get(k + 1)));
                }
            }
        }
        hatch.getElements().setAll(lines);
    }

    private void drawNames(Shape.Plate plate) {
        List<String> names = model.edgeNames();
        while (edgeNames.size() < names.size()) {
            Label label = new Label();
            label.getStyleClass().addAll("small", "quiet");
            edgeNames.add(label);
            nameLayer.getChildren().add(label);
        }
        double middleX = getWidth() / 2;
        double middleY = getHeight() / 2;
        for (int e = 0; e < edgeNames.size(); e++) {
            Label label = edgeNames.get(e);
            boolean worded = e < names.size()
                    && !Character.isDigit(names.get(e).charAt(names.get(e).length() - 1));
            label.setVisible(worded);
            if (worded) {
                label.setText(names.get(e));
                Flat a = PlateCuts.corner(plate, e);
                Flat b = PlateCuts.corner(plate, e + 1);
                double x = (x(a) + x(b)) / 2;
                double y = (y(a) + y(b)) / 2;
                double wide = label.prefWidth(-1);
                double high = label.prefHeight(-1);
                double outX = x - middleX;
                double outY = y - middleY;
                boolean across = Math.abs(y(b) - y(a)) > Math.abs(x(b) - x(a));
                double at = across ? x + (outX < 0 ? -wide - 6 : 6) : x - wide / 2;
                double up = across ? y - high / 2 : y + (outY < 0 ? -high - 4 : 4);
                label.resizeRelocate(Math.max(2, Math.min(getWidth() - wide - 2, at)), Math.max(0, up), wide, high);
            }
        }
    }

    private void drawBar() {
        double unit = model.inches() ? Length.MM_PER_INCH : 10;
        double units = 1;
        for (double each : new double[] {0.25, 0.5, 1, 2, 5, 10, 20, 50}) {
            units = each;
            if (each * unit * scale >= BAR_PX) {
                break;
            }
        }
        double longMm = units * unit;
        double y = getHeight() - 10;
        bar.setStartX(MARGIN);
        bar.setEndX(MARGIN + longMm * scale);
        bar.setStartY(y);
        bar.setEndY(y);
        barText.setText(
                model.format().print(longMm) + "  \u00b7  " + model.format().print(thickness()) + " thick");
        barText.applyCss();
        double wide = barText.prefWidth(-1);
        double high = barText.prefHeight(-1);
        barText.resizeRelocate(MARGIN, y - high - 3, wide, high);
    }

    private double thickness() {
        return model.plate().map(Shape.Plate::thicknessMm).orElse(0.0);
    }

    private List<PathElement> closed(List<Flat> corners) {
        List<PathElement> elements = new ArrayList<>();
        for (Flat corner : corners) {
            elements.add(elements.isEmpty() ? new MoveTo(x(corner), y(corner)) : new LineTo(x(corner), y(corner)));
        }
        if (!elements.isEmpty()) {
            elements.add(new ClosePath());
        }
        return elements;
    }

    private static List<Flat> round(Shape.Plate.Hole hole) {
        List<Flat> corners = new ArrayList<>();
        for (int i = 0; i < ROUND; i++) {
            double angle = 2 * Math.PI * i / ROUND;
            corners.add(new Flat(
                    hole.centre().x() + hole.diameterMm() / 2 * Math.cos(angle),
                    hole.centre().y() + hole.diameterMm() / 2 * Math.sin(angle)));
        }
        return corners;
    }

    /** Returns where on the screen, in this node's coordinates, a place of the plate is; for tests. */
    javafx.geometry.Point2D onBoard(Flat at) {
        return new javafx.geometry.Point2D(x(at), y(at));
    }
}
