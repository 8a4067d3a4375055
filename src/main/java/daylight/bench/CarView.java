package daylight.bench;

import daylight.car.Car;
import daylight.clearance.GapRow;
import daylight.geometry.Direction;
import daylight.geometry.Proximity;
import daylight.geometry.Spot;
import daylight.hose.LiveLines;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import javafx.beans.InvalidationListener;
import javafx.collections.SetChangeListener;
import javafx.geometry.Pos;
import javafx.scene.AccessibleRole;
import javafx.scene.Node;
import javafx.scene.control.Button;
import javafx.scene.control.Label;
import javafx.scene.input.KeyEvent;
import javafx.scene.input.MouseButton;
import javafx.scene.input.MouseEvent;
import javafx.scene.input.ScrollEvent;
import javafx.scene.layout.HBox;
import javafx.scene.layout.Pane;
import javafx.scene.layout.Region;
import javafx.scene.layout.VBox;
import javafx.scene.shape.Circle;
import javafx.scene.shape.Line;
import javafx.scene.shape.Rectangle;

/**
 * The car in 3D with what is said over it: the line between the nearest spots of the chosen pair with its length, the
 * names of the two parts, the picked part, and why the car cannot stand somewhere.
 *
 * <p>The line is drawn over the picture, not in it, so that no part hides it.
 */
final class CarView extends Region {
    private static final double ORBIT_RAD_PER_PX = 0.008;
    private static final double KEY_ORBIT_RAD = Math.toRadians(7.5);
    private static final double KEY_PAN_PX = 40;
    private static final double ZOOM_PER_STEP = 1.12;
    private static final double WHEEL_STEP = 40;
    /** How far the mouse may slip in a click, px. */
    private static final double CLICK_SLIP_PX = 4;
    /** What a framed gap is shown with: enough of its surroundings to know where on the car it is, mm. */
    private static final double SPOT_RADIUS_MM = 330;
    /** From the gap to its label, px. */
    private static final double LEADER_PX = 54;

    private static final double RING_PX = 7;
    private static final double MARGIN = 12;

    private final BenchViewModel model;
    private final CarScene scene = new CarScene();
    private final Pane overlay = new Pane();
    private final Line lineUnder = new Line();
    private final Line line = new Line();
    private final Line leader = new Line();
    /** The size for which the spots were drawn: another size puts them elsewhere. */
    private double drawnWidth;

    private double drawnHeight;
    private final Circle ringA = new Circle(RING_PX);
    private final Circle ringB = new Circle(RING_PX);
    private final Circle ringUnderA = new Circle(RING_PX);
    private final Circle ringUnderB = new Circle(RING_PX);
    private final Label length = new Label();
    private final VBox pairCard = new VBox();
    private final Label firstName = new Label();
    private final Label secondName = new Label();
    private final Label nowText = new Label();
    private final Label shiftText = new Label();
    private final Label ruleText = new Label();
    private final VBox pickCard = new VBox();
    private final Label pickName = new Label();
    private final Label pickBody = new Label();
    private final Label trouble = new Label();
    private final HBox views = new HBox();
    private final SectionCard sectionCard;
    private final NameTags names;
    private Palette palette = Palette.read(false);
    private Viewpoint view = new Viewpoint(Spot.ORIGIN, 0.6, 0.3, 8000, Viewpoint.FREE_FIELD);
    private boolean framed;
    private double pressX;
    private double pressY;
    private double lastX;
    private double lastY;

    CarView(BenchViewModel model) {
        this.model = model;
        this.sectionCard = new SectionCard(scene);
        this.names = new NameTags(model, scene);
        getStyleClass().add("car-view");
        setFocusTraversable(true);
        setAccessibleRole(AccessibleRole.IMAGE_VIEW);
        setAccessibleText("The car in 3D. Arrow keys go round it, plus and minus zoom.");
        lineUnder.getStyleClass().add("gap-line-under");
        line.getStyleClass().add("gap-line");
        leader.getStyleClass().add("leader");
        for (Circle ring : List.of(ringUnderA, ringUnderB)) {
            ring.getStyleClass().add("spot-ring-under");
        }
        for (Circle ring : List.of(ringA, ringB)) {
            ring.getStyleClass().add("spot-ring");
        }
        length.getStyleClass().addAll("gap-label", "strong");
        ringA.setId("spot-a");
        length.setId("gap-label");
        overlay.setMouseTransparent(true);
        overlay.getChildren().addAll(lineUnder, ringUnderA, ringUnderB, line, ringA, ringB, leader, length);
        buildCards();
        getChildren().addAll(scene.node(), names, overlay, pairCard, pickCard, views, sectionCard, trouble);
        setMinSize(200, 150);

        addEventHandler(MouseEvent.MOUSE_PRESSED, this::pressed);
        addEventHandler(MouseEvent.MOUSE_DRAGGED, this::dragged);
        addEventHandler(MouseEvent.MOUSE_RELEASED, this::released);
        addEventHandler(ScrollEvent.SCROLL, event -> {
            if (event.getDeltaY() != 0) {
                look(view.zoomed(Math.pow(ZOOM_PER_STEP, -event.getDeltaY() / WHEEL_STEP)));
                event.consume();
            }
        });
        addEventHandler(KeyEvent.KEY_PRESSED, this::keyed);
        model.openProperty().addListener((property, was, is) -> opened(was, is));
        model.chosenProperty().addListener((property, was, is) -> chosen(was, is));
        InvalidationListener repaint = property -> repaint();
        model.pickedProperty().addListener(repaint);
        model.faded().addListener((SetChangeListener<Integer>) change -> repaint());
        model.hidden().addListener((SetChangeListener<Integer>) change -> repaint());
        model.ghostProperty().addListener((property, was, is) -> scene.ghost(is.map(Ghost::surface)));
        model.liesProperty().addListener((property, was, is) -> lay(is));
        model.troubleProperty().addListener((property, was, is) -> {
            trouble.setText(is);
            trouble.setVisible(!is.isEmpty());
            requestLayout();
        });
        showGap();
    }

    private void buildCards() {
        pairCard.getStyleClass().add("over");
        pairCard.setId("pair-card");
        pairCard.getChildren()
                .addAll(
                        named(firstName, "-dl-pair-first"),
                        named(secondName, "-dl-pair-second"),
                        nowText,
                        ruleText,
                        shiftText);
        nowText.getStyleClass().add("small");
        shiftText.getStyleClass().add("small");
        shiftText.setWrapText(true);
        shiftText.setStyle("-fx-max-width: 22em;");
        shiftText.setMinHeight(Region.USE_PREF_SIZE);
        ruleText.getStyleClass().addAll("small", "quiet");
        ruleText.setWrapText(true);
        ruleText.setStyle("-fx-max-width: 22em;");
        ruleText.setMinHeight(Region.USE_PREF_SIZE);
        pairCard.setMouseTransparent(true);
        pairCard.setVisible(false);

        pickCard.getStyleClass().add("over");
        pickCard.setId("pick-card");
        pickName.getStyleClass().add("strong");
        pickBody.getStyleClass().addAll("small", "quiet");
        Button gaps = new Button("Show its gaps");
        gaps.setAccessibleText("Show the gaps of the picked part");
        gaps.getStyleClass().addAll("small", "handle-button");
        gaps.setOnAction(event -> model.pickedProperty().get().ifPresent(part -> {
            model.filterProperty().set(model.openProperty().get().orElseThrow().partName(part));
            model.stepProperty().set(Step.GAPS);
        }));
        Button fade = new Button("Fade or bring back");
        fade.setAccessibleText("Fade the picked part, or bring it back");
        fade.getStyleClass().addAll("small", "handle-button");
        fade.setOnAction(event -> model.fadePicked());
        Button hide = new Button("Hide or show");
        hide.setAccessibleText("Hide the picked part, or show it again");
        hide.getStyleClass().addAll("small", "handle-button");
        hide.setOnAction(event -> model.hidePicked());
        Button room = new Button("Its room");
        room.setId("ghost");
        room.setAccessibleText("Show the room that the picked part takes over its whole travel, or take it away");
        room.getStyleClass().addAll("small", "handle-button");
        room.setOnAction(event -> model.ghostOfPicked());
        HBox buttons = new HBox(6, gaps, fade, hide, room);
        pickCard.getChildren().addAll(pickName, pickBody, buttons);
        pickCard.setVisible(false);

        trouble.getStyleClass().addAll("over", "trouble");
        trouble.setId("trouble");
        trouble.setWrapText(true);
        trouble.setVisible(false);
        views.getStyleClass().addAll("over", "views", "small");
    }

    private static HBox named(Label name, String colour) {
        Rectangle swatch = new Rectangle(12, 12);
        swatch.getStyleClass().add("swatch");
        swatch.setStyle("-fx-fill: " + colour + ";");
        name.getStyleClass().add("strong");
        HBox row = new HBox(7, swatch, name);
        row.setAlignment(Pos.CENTER_LEFT);
        return row;
    }

    /** Puts buttons for the views over the picture. */
    void offer(List<Node> buttons) {
        views.getChildren().setAll(buttons);
    }

    /** Shows the plane that cuts the picture, or puts it away. */
    void toggleSection() {
        sectionCard.toggle();
        requestLayout();
    }

    /** Shows the names of the parts in the picture, or takes them away. */
    void toggleNames() {
        names.toggle(view, getWidth(), getHeight());
    }

    private void lay(List<LiveLines.Lie> lies) {
        List<Surface> tubes = new ArrayList<>();
        List<Boolean> inTrouble = new ArrayList<>();
        List<Car.Hose> hoses =
                model.openProperty().get().map(open -> open.car().hoses()).orElse(List.of());
        for (int i = 0; i < Math.min(hoses.size(), lies.size()); i++) {
            LiveLines.Lie lie = lies.get(i);
            if (lie.centreLine().size() > 1) {
                tubes.add(LineTube.of(lie.centreLine(), hoses.get(i).outsideDiameterMm()));
                inTrouble.add(lie.state() == LiveLines.State.TAUT || lie.state() == LiveLines.State.KINKS);
            }
        }
        scene.lines(tubes, inTrouble);
    }

    /** Takes on the colours of a theme. */
    void wear(Palette worn) {
        palette = worn;
        repaint();
    }

    Viewpoint viewpoint() {
        return view;
    }

    CarScene carScene() {
        return scene;
    }

    /** Looks from a viewpoint. */
    void look(Viewpoint wanted) {
        view = wanted;
        scene.look(view);
        names.lay(view, getWidth(), getHeight());
        showGap();
    }

    /** Looks from a side, at the chosen spot if one is framed, else at the car. */
    void look(Look side) {
        look(side.turn(view));
        if (model.chosenProperty().get().isEmpty()) {
            frameCar();
        }
    }

    /** Shows the whole car from the present side. */
    void frameCar() {
        List<Spot> corners = scene.corners();
        if (!corners.isEmpty()) {
            look(view.framing(corners, aspect()));
        }
    }

    /** Shows the chosen pair's gap across and near. */
    void frameSpot() {
        model.chosenProperty().get().ifPresent(row -> {
            Proximity gap = model.chosenNowProperty().get().orElse(row.least().found());
            look(atGap(row, gap));
        });
    }

    /** A view of a gap with the smaller of the two parts in front of the larger. */
    private Viewpoint atGap(GapRow row, Proximity gap) {
        double first = model.partNumber(row.first()).stream()
                .mapToDouble(scene::radiusMm)
                .sum();
        double second = model.partNumber(row.second()).stream()
                .mapToDouble(scene::radiusMm)
                .sum();
        Direction towardsSmaller = second <= first ? gap.normal() : gap.normal().reversed();
        return Viewpoint.ofGap(middle(gap), towardsSmaller, scene.middle(), SPOT_RADIUS_MM);
    }

    private static Spot middle(Proximity gap) {
        return new Spot(
                (gap.onA().x() + gap.onB().x()) / 2,
                (gap.onA().y() + gap.onB().y()) / 2,
                (gap.onA().z() + gap.onB().z()) / 2);
    }

    private double aspect() {
        return getHeight() > 0 ? getWidth() / getHeight() : 1.6;
    }

    private void opened(Optional<OpenCar> was, Optional<OpenCar> is) {
        if (is.isEmpty()) {
            scene.clear();
            return;
        }
        scene.show(is.get());
        sectionCard.opened(is.get().car().inches());
        names.opened();
        boolean same = was.map(car -> car.file().equals(is.get().file())).orElse(false);
        if (!same) {
            framed = false;
            view = Look.THREE_QUARTER.turn(view);
            requestLayout();
        }
        scene.look(view);
        repaint();
    }

    private void chosen(Optional<GapRow> was, Optional<GapRow> is) {
        repaint();
        is.ifPresent(row -> {
            boolean same = was.filter(old ->
                            old.first().equals(row.first()) && old.second().equals(row.second()))
                    .isPresent();
            if (!same) {
                Proximity gap = row.least().found();
                look(atGap(row, gap));
            }
        });
        showGap();
    }

    private void repaint() {
        List<Integer> pair = new ArrayList<>();
        model.chosenProperty().get().ifPresent(row -> {
            model.partNumber(row.first()).ifPresent(pair::add);
            model.partNumber(row.second()).ifPresent(pair::add);
        });
        OptionalInt picked = model.pickedProperty().get();
        scene.paint(
                palette, pair.size() == 2 ? pair : List.of(), model.faded(), model.hidden(), picked.orElse(-1), view);
        pickCard.setVisible(picked.isPresent());
        picked.ifPresent(part -> {
            OpenCar open = model.openProperty().get().orElseThrow();
            pickName.setText(open.partName(part));
            pickBody.setText("on " + open.car().parts().get(part).body());
        });
        requestLayout();
    }

    /** Draws a frame: moves the bodies to where the model has them. */
    void frame() {
        scene.place(model::pose);
        names.lay(view, getWidth(), getHeight());
        showGap();
    }

    private void showGap() {
        Optional<GapRow> row = model.chosenProperty().get();
        Optional<Proximity> now = model.chosenNowProperty().get();
        boolean shown = row.isPresent() && now.isPresent() && getWidth() > 0;
        pairCard.setVisible(shown);
        if (shown) {
            Proximity gap = now.get();
            firstName.setText(row.get().first());
            secondName.setText(row.get().second());
            String required = row.get().requiredMm() > 0
                    ? ", asked " + model.wording().required(row.get().requiredMm())
                    : "";
            nowText.setText("now " + model.wording().gapWithUnit(gap.distanceMm()) + ", least "
                    + model.wording().gap(row.get().least().found().distanceMm()) + required);
            String rule = row.get().requiredMm() > 0 ? row.get().rule() : "";
            ruleText.setText(rule);
            ruleText.setVisible(!rule.isEmpty());
            ruleText.setManaged(!rule.isEmpty());
            shiftText.setText(model.shiftsProperty().get());
            shiftText.setVisible(!shiftText.getText().isEmpty());
            shiftText.setManaged(shiftText.isVisible());
            length.setText(
                    gap.distanceMm() > 0
                            ? model.wording().gapWithUnit(gap.distanceMm())
                            : "touches: " + model.wording().gapWithUnit(gap.distanceMm()));
            shown = draw(gap);
        }
        for (Node node : overlay.getChildren()) {
            node.setVisible(shown);
        }
        requestLayout();
    }

    /** Lays the line, the rings and the label over the picture; tells whether they are in it. */
    private boolean draw(Proximity gap) {
        double width = getWidth();
        double height = getHeight();
        Viewpoint.Seen a = view.see(gap.onA(), width, height);
        Viewpoint.Seen b = view.see(gap.onB(), width, height);
        if (a.depthMm() <= 0 || b.depthMm() <= 0) {
            return false;
        }
        for (Line each : List.of(line, lineUnder)) {
            each.setStartX(a.x());
            each.setStartY(a.y());
            each.setEndX(b.x());
            each.setEndY(b.y());
        }
        for (Circle ring : List.of(ringA, ringUnderA)) {
            ring.setCenterX(a.x());
            ring.setCenterY(a.y());
        }
        for (Circle ring : List.of(ringB, ringUnderB)) {
            ring.setCenterX(b.x());
            ring.setCenterY(b.y());
        }
        double midX = (a.x() + b.x()) / 2;
        double midY = (a.y() + b.y()) / 2;
        length.applyCss();
        double labelWidth = length.prefWidth(-1);
        double labelHeight = length.prefHeight(-1);
        // To the side of the line on which there is more room, across the line so that it is not covered.
        double along = Math.atan2(b.y() - a.y(), b.x() - a.x());
        double acrossX = -Math.sin(along);
        double acrossY = Math.cos(along);
        if (acrossY > 0.2 || (Math.abs(acrossY) <= 0.2 && acrossX < 0)) {
            acrossX = -acrossX;
            acrossY = -acrossY;
        }
        double centreX =
                clamp(midX + acrossX * (LEADER_PX + labelWidth / 2), labelWidth / 2 + 4, width - labelWidth / 2 - 4);
        double centreY = clamp(
                midY + acrossY * (LEADER_PX + labelHeight / 2), labelHeight / 2 + 4, height - labelHeight / 2 - 4);
        length.resizeRelocate(centreX - labelWidth / 2, centreY - labelHeight / 2, labelWidth, labelHeight);
        leader.setStartX(midX);
        leader.setStartY(midY);
        leader.setEndX(clamp(midX, centreX - labelWidth / 2, centreX + labelWidth / 2));
        leader.setEndY(clamp(midY, centreY - labelHeight / 2, centreY + labelHeight / 2));
        boolean inside = midX >= 0 && midY >= 0 && midX <= width && midY <= height;
        return inside;
    }

    private static double clamp(double value, double low, double high) {
        return high < low ? (low + high) / 2 : Math.max(low, Math.min(high, value));
    }

    @Override
    protected void layoutChildren() {
        double width = getWidth();
        double height = getHeight();
        scene.node().setWidth(width);
        scene.node().setHeight(height);
        overlay.resizeRelocate(0, 0, width, height);
        names.resizeRelocate(0, 0, width, height);
        names.lay(view, width, height);
        double sectionWidth = sectionCard.prefWidth(-1);
        double sectionHeight = sectionCard.prefHeight(sectionWidth);
        sectionCard.resizeRelocate(
                width - MARGIN - sectionWidth, height - MARGIN - sectionHeight, sectionWidth, sectionHeight);
        overlay.setClip(new Rectangle(width, height));
        if (width != drawnWidth || height != drawnHeight) {
            drawnWidth = width;
            drawnHeight = height;
            showGap();
        }
        double viewsWidth = Math.min(width - 2 * MARGIN, views.prefWidth(-1));
        views.resizeRelocate(width - MARGIN - viewsWidth, MARGIN, viewsWidth, views.prefHeight(viewsWidth));
        double below = MARGIN + views.getHeight() + MARGIN;
        place(pairCard, MARGIN, pairCard.prefWidth(-1) + MARGIN + 8 > width - viewsWidth - MARGIN ? below : MARGIN);
        double pickHeight = pickCard.prefHeight(-1);
        place(pickCard, MARGIN, height - MARGIN - pickHeight);
        double troubleWidth = Math.min(width - 2 * MARGIN, Math.max(260, width * 0.55));
        double troubleHeight = trouble.prefHeight(troubleWidth);
        trouble.resizeRelocate(
                (width - troubleWidth) / 2, height - MARGIN - troubleHeight, troubleWidth, troubleHeight);
        if (!framed && width > 0 && height > 0 && model.openProperty().get().isPresent()) {
            framed = true;
            frameCar();
        }
    }

    private static void place(Region card, double x, double y) {
        double width = card.prefWidth(-1);
        card.resizeRelocate(x, y, width, card.prefHeight(width));
    }

    // ---------------------------------------------------------------- mouse and keys

    private void pressed(MouseEvent event) {
        requestFocus();
        pressX = event.getX();
        pressY = event.getY();
        lastX = pressX;
        lastY = pressY;
    }

    private void dragged(MouseEvent event) {
        double dx = event.getX() - lastX;
        double dy = event.getY() - lastY;
        lastX = event.getX();
        lastY = event.getY();
        boolean pan = event.getButton() != MouseButton.PRIMARY || event.isShiftDown();
        if (pan) {
            look(view.panned(dx, dy, getHeight()));
        } else {
            look(free().orbited(-dx * ORBIT_RAD_PER_PX, dy * ORBIT_RAD_PER_PX));
        }
    }

    /** A square-on view becomes a free one as soon as it is turned. */
    private Viewpoint free() {
        return view.fieldRad() == Viewpoint.FREE_FIELD ? view : view.withField(Viewpoint.FREE_FIELD);
    }

    private void released(MouseEvent event) {
        boolean still = Math.hypot(event.getX() - pressX, event.getY() - pressY) <= CLICK_SLIP_PX;
        if (still && event.getButton() == MouseButton.PRIMARY) {
            Node hit = event.getPickResult().getIntersectedNode();
            model.pick(hit != null && hit.getUserData() instanceof Integer part ? part : -1);
        }
    }

    private void keyed(KeyEvent event) {
        boolean pan = event.isShiftDown();
        Viewpoint wanted;
        switch (event.getCode()) {
            case LEFT -> wanted = pan ? view.panned(KEY_PAN_PX, 0, getHeight()) : free().orbited(-KEY_ORBIT_RAD, 0);
            case RIGHT -> wanted = pan ? view.panned(-KEY_PAN_PX, 0, getHeight()) : free().orbited(KEY_ORBIT_RAD, 0);
            case UP -> wanted = pan ? view.panned(0, KEY_PAN_PX, getHeight()) : free().orbited(0, KEY_ORBIT_RAD);
            case DOWN -> wanted = pan ? view.panned(0, -KEY_PAN_PX, getHeight()) : free().orbited(0, -KEY_ORBIT_RAD);
            case PLUS, ADD, EQUALS -> wanted = view.zoomed(1 / ZOOM_PER_STEP);
            case MINUS, SUBTRACT -> wanted = view.zoomed(ZOOM_PER_STEP);
            default -> {
                return;
            }
        }
        look(wanted);
        event.consume();
    }
}
