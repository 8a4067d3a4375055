package daylight.bench;

import daylight.geometry.Pose;
import daylight.geometry.Spot;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import javafx.scene.control.Label;
import javafx.scene.layout.Pane;

/** The names of the parts over the picture: the largest first, and none over another. */
final class NameTags extends Pane {
    /** More names than these are a wall of text. */
    private static final int MOST = 40;

    private final BenchViewModel model;
    private final CarScene scene;
    private final Map<Integer, Label> tags = new HashMap<>();
    private boolean on;

    NameTags(BenchViewModel model, CarScene scene) {
        this.model = model;
        this.scene = scene;
        setMouseTransparent(true);
    }

    /** Another car: its parts have other names. */
    void opened() {
        tags.clear();
        getChildren().clear();
    }

    /** Shows the names, or takes them away. */
    void toggle(Viewpoint view, double width, double height) {
        on = !on;
        lay(view, width, height);
    }

    private record Tag(int part, double x, double y, double size) {}

    /** Puts the names where the parts are now. */
    void lay(Viewpoint view, double width, double height) {
        tags.values().forEach(tag -> tag.setVisible(false));
        OpenCar open = model.openProperty().get().orElse(null);
        if (!on || open == null || !(width > 0) || !(height > 0)) {
            return;
        }
        List<Tag> wanted = new ArrayList<>();
        for (int p = 0; p < open.surfaces().size(); p++) {
            if (model.faded().contains(p) || model.hidden().contains(p)) {
                continue;
            }
            Surface surface = open.surfaces().get(p);
            Pose pose = model.pose(open.bodies().get(p));
            Viewpoint.Seen seen =
                    view.see(pose.apply(new Spot(surface.middleX, surface.middleY, surface.middleZ)), width, height);
            if (seen.depthMm() > 0 && seen.x() > 0 && seen.y() > 0 && seen.x() < width && seen.y() < height) {
                wanted.add(new Tag(p, seen.x(), seen.y(), scene.radiusMm(p) / seen.depthMm()));
            }
        }
        wanted.sort(Comparator.comparingDouble(Tag::size).reversed().thenComparing(Tag::part));
        List<double[]> taken = new ArrayList<>();
        for (Tag tag : wanted) {
            if (taken.size() == MOST) {
                break;
            }
            Label label = tags.computeIfAbsent(tag.part(), part -> {
                Label made = new Label(open.partName(part));
                made.getStyleClass().addAll("small", "name-tag");
                getChildren().add(made);
                return made;
            });
            label.applyCss();
            double wide = label.prefWidth(-1);
            double high = label.prefHeight(-1);
            double x = Math.max(2, Math.min(width - wide - 2, tag.x() - wide / 2));
            double y = Math.max(2, Math.min(height - high - 2, tag.y() - high / 2));
            boolean free =
                    taken.stream().allMatch(t -> x + wide + 3 < t[0] || x > t[2] + 3 || y + high < t[1] || y > t[3]);
            if (free) {
                taken.add(new double[] {x, y, x + wide, y + high});
                label.resizeRelocate(x, y, wide, high);
                label.setVisible(true);
            }
        }
    }

    @Override
    protected void layoutChildren() {
        // The names are laid by lay, wherever the parts are.
    }
}
