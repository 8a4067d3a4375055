package daylight.bench;

import daylight.car.Car;
import daylight.geometry.Pose;
import daylight.geometry.Spot;
import daylight.linkage.Mechanism;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.IntFunction;
import javafx.geometry.Point3D;
import javafx.scene.AmbientLight;
import javafx.scene.DirectionalLight;
import javafx.scene.Group;
import javafx.scene.Node;
import javafx.scene.PerspectiveCamera;
import javafx.scene.SceneAntialiasing;
import javafx.scene.SubScene;
import javafx.scene.image.WritableImage;
import javafx.scene.paint.Color;
import javafx.scene.paint.PhongMaterial;
import javafx.scene.shape.CullFace;
import javafx.scene.shape.DrawMode;
import javafx.scene.shape.MeshView;
import javafx.scene.shape.TriangleMesh;
import javafx.scene.shape.VertexFormat;
import javafx.scene.transform.Affine;
import javafx.scene.transform.Translate;

/**
 * The car as a picture: one mesh per part, one transform per body, lights that travel with the eye, and the ground.
 *
 * <p>Below the root everything is in car coordinates. A part's mesh is about its own middle, since meshes are floats.
 */
final class CarScene {
    /** How much of a faded part is left to see. */
    private static final double FADED = 0.13;
    /** How much of a faded part's edges is left to see. */
    private static final double FADED_EDGE = 0.3;
    /** How much of the room that a part takes is left to see. */
    private static final double GHOST = 0.28;
    /** Faded parts are drawn after all others, the furthest first, so that what is behind them shows through. */
    private static final double OPAQUE_FIRST = 1e9;

    private static final String TYRE = "tyre";
    /** Ground lines: a foot or a quarter of a metre apart. */
    private static final double GRID_IN = 304.8;

    private static final double GRID_MM = 250;

    private final Group carAxes = new Group();
    private final Group parts = new Group();
    private final Group ground = new Group();
    private final Group ghost = new Group();
    private final Group lines = new Group();
    private final PhongMaterial sectionMaterial = new PhongMaterial();
    private final PhongMaterial ghostMaterial = new PhongMaterial();
    private final PhongMaterial lineMaterial = new PhongMaterial();
    private final PhongMaterial lineTroubleMaterial = new PhongMaterial();
    private final SectionCut lineCut = new SectionCut();
    private List<Surface> tubes = List.of();
    private List<Boolean> tubesInTrouble = List.of();
    private Optional<Section> section = Optional.empty();
    private final PerspectiveCamera camera = new PerspectiveCamera(true);
    private final Affine cameraPlace = new Affine();
    private final SubScene subScene;
    private final AmbientLight ambient = new AmbientLight();
    private final DirectionalLight key = new DirectionalLight();
    private final DirectionalLight fill = new DirectionalLight();
    private final PhongMaterial gridMaterial = new PhongMaterial();
    private final List<PartView> views = new ArrayList<>();
    private Affine[] bodies = new Affine[0];
    private double farthestMm = 1;
    private Spot middle = Spot.ORIGIN;

    /** One part: its faces and its edge lines. */
    private static final class PartView {
        final int body;
        final SectionCut cut = new SectionCut();
        /** Where the plane lay in the part's own frame when it was cut last; empty while it is whole. */
        double[] cutAt = new double[0];

        final MeshView section = new MeshView();
        final Surface surface;
        final boolean moves;
        final boolean tyre;
        final MeshView faces;
        final MeshView edges;
        final PhongMaterial material = new PhongMaterial();
        final PhongMaterial edgeMaterial = new PhongMaterial();
        boolean faded;
        boolean hidden;

        PartView(int body, Surface surface, boolean moves, boolean tyre) {
            this.body = body;
            this.surface = surface;
            this.moves = moves;
            this.tyre = tyre;
            this.faces = new MeshView(faces(surface));
            this.edges = new MeshView(lines(surface.edgeEnds));
            faces.setCullFace(CullFace.BACK);
            faces.setMaterial(material);
            edges.setCullFace(CullFace.NONE);
            edges.setDrawMode(DrawMode.LINE);
            edges.setMaterial(edgeMaterial);
            edges.setMouseTransparent(true);
            section.setCullFace(CullFace.NONE);
            section.setDrawMode(DrawMode.LINE);
            section.setMouseTransparent(true);
            section.setVisible(false);
        }
    }

    CarScene() {
        Group root = new Group(carAxes);
        carAxes.getTransforms().setAll(CarAxes.toScene());
        camera.getTransforms().setAll(cameraPlace);
        camera.setVerticalFieldOfView(true);
        carAxes.getChildren().addAll(ground, parts, lines, ghost, ambient, key, fill, camera);
        subScene = new SubScene(root, 10, 10, true, SceneAntialiasing.BALANCED);
        subScene.setCamera(camera);
        subScene.setFocusTraversable(false);
    }

    SubScene node() {
        return subScene;
    }

    /** Shows a car. */
    void show(OpenCar open) {
        bodies = new Affine[open.workspace().bodyCount()];
        for (int b = 0; b < bodies.length; b++) {
            bodies[b] = new Affine();
        }
        views.clear();
        List<Node> nodes = new ArrayList<>();
        for (int p = 0; p < open.surfaces().size(); p++) {
            Car.Part part = open.car().parts().get(p);
            int body = open.bodies().get(p);
            PartView view = new PartView(
                    body,
                    open.surfaces().get(p),
                    !part.body().equals(Mechanism.GROUND),
                    part.kinds().contains(TYRE));
            view.faces.setUserData(p);
            view.section.setMaterial(sectionMaterial);
            for (MeshView mesh : List.of(view.faces, view.edges, view.section)) {
                mesh.getTransforms()
                        .setAll(
                                bodies[body],
                                new Translate(view.surface.middleX, view.surface.middleY, view.surface.middleZ));
                nodes.add(mesh);
            }
            views.add(view);
        }
        parts.getChildren().setAll(nodes);
        ghost.getChildren().clear();
        lines(List.of(), List.of());
        measure();
        layGround(open);
    }

    /** Shows no car. */
    void clear() {
        views.clear();
        parts.getChildren().clear();
        ghost.getChildren().clear();
        lines.getChildren().clear();
        ground.getChildren().clear();
    }

    private void measure() {
        List<Spot> corners = corners();
        middle = corners.isEmpty()
                ? Spot.ORIGIN
                : new Spot(
                        corners.stream().mapToDouble(Spot::x).average().orElse(0),
                        corners.stream().mapToDouble(Spot::y).average().orElse(0),
                        corners.stream().mapToDouble(Spot::z).average().orElse(0));
        farthestMm = Math.max(
                1000, corners.stream().mapToDouble(middle::distanceTo).max().orElse(1000));
    }

    /** Returns the corners of the boxes around all parts at ride height. */
    List<Spot> corners() {
        List<Spot> corners = new ArrayList<>();
        for (PartView view : views) {
            double[] b = view.surface.bounds;
            for (int i = 0; i < 8; i++) {
                corners.add(new Spot(b[(i & 1) * 3], b[1 + (i >> 1 & 1) * 3], b[2 + (i >> 2 & 1) * 3]));
            }
        }
        return corners;
    }

    /** Returns the middle of the car. */
    Spot middle() {
        return middle;
    }

    /** Returns half the size of a part. */
    double radiusMm(int part) {
        return views.get(part).surface.radiusMm;
    }

    private void layGround(OpenCar open) {
        ground.getChildren().clear();
        List<Spot> corners = corners();
        if (corners.isEmpty()) {
            return;
        }
        double step = open.car().inches() ? GRID_IN : GRID_MM;
        double level = views.stream()
                .filter(view -> view.tyre)
                .mapToDouble(view -> view.surface.bounds[2])
                .min()
                .orElse(corners.stream().mapToDouble(Spot::z).min().orElse(0));
        double lowX = corners.stream().mapToDouble(Spot::x).min().orElse(0) - step;
        double highX = corners.stream().mapToDouble(Spot::x).max().orElse(0) + step;
        double lowY = corners.stream().mapToDouble(Spot::y).min().orElse(0) - step;
        double highY = corners.stream().mapToDouble(Spot::y).max().orElse(0) + step;
        int x0 = (int) Math.floor(lowX / step);
        int x1 = (int) Math.ceil(highX / step);
        int y0 = (int) Math.floor(lowY / step);
        int y1 = (int) Math.ceil(highY / step);
        float[] ends = new float[6 * (x1 - x0 + y1 - y0 + 2)];
        int at = 0;
        for (int x = x0; x <= x1; x++) {
            at = line(ends, at, x * step, y0 * step, x * step, y1 * step, level);
        }
        for (int y = y0; y <= y1; y++) {
            at = line(ends, at, x0 * step, y * step, x1 * step, y * step, level);
        }
        MeshView grid = new MeshView(lines(ends));
        grid.setDrawMode(DrawMode.LINE);
        grid.setCullFace(CullFace.NONE);
        grid.setMaterial(gridMaterial);
        grid.setMouseTransparent(true);
        grid.setViewOrder(OPAQUE_FIRST);
        ground.getChildren().add(grid);
    }

    private static int line(float[] ends, int at, double x0, double y0, double x1, double y1, double z) {
        ends[at] = (float) x0;
        ends[at + 1] = (float) y0;
        ends[at + 2] = (float) z;
        ends[at + 3] = (float) x1;
        ends[at + 4] = (float) y1;
        ends[at + 5] = (float) z;
        return at + 6;
    }

    private static TriangleMesh faces(Surface surface) {
        return mesh(surface.corners, surface.normals, surface.faces);
    }

    private static TriangleMesh mesh(float[] corners, float[] normals, int[] cornerAndNormal) {
        TriangleMesh mesh = new TriangleMesh(VertexFormat.POINT_NORMAL_TEXCOORD);
        mesh.getPoints().setAll(corners);
        mesh.getNormals().setAll(normals);
        mesh.getTexCoords().setAll(0, 0);
        int[] faces = new int[cornerAndNormal.length / 2 * 3];
        for (int i = 0; i < cornerAndNormal.length / 2; i++) {
            faces[3 * i] = cornerAndNormal[2 * i];
            faces[3 * i + 1] = cornerAndNormal[2 * i + 1];
        }
        mesh.getFaces().setAll(faces);
        return mesh;
    }

    /** Lines as triangles that have lost their third corner; drawn in line mode each is one line. */
    private static TriangleMesh lines(float[] ends) {
        TriangleMesh mesh = new TriangleMesh(VertexFormat.POINT_NORMAL_TEXCOORD);
        mesh.getPoints().setAll(ends);
        mesh.getNormals().setAll(0, 0, 1);
        mesh.getTexCoords().setAll(0, 0);
        int[] faces = new int[ends.length / 6 * 9];
        for (int l = 0; l < ends.length / 6; l++) {
            faces[9 * l] = 2 * l;
            faces[9 * l + 3] = 2 * l + 1;
            faces[9 * l + 6] = 2 * l + 1;
        }
        mesh.getFaces().setAll(faces);
        return mesh;
    }

    /**
     * Returns a colour for a material that is seen through. The toolkit adds what a material reflects to what is behind
     * it without weighing it by the opacity, so it is weighed here; otherwise faded parts would glow white.
     */
    private static Color through(Color colour, double opacity) {
        return new Color(colour.getRed() * opacity, colour.getGreen() * opacity, colour.getBlue() * opacity, opacity);
    }

    /** Colours lines: they have no side that a light could fall on, so they shine by themselves. */
    private static void glow(PhongMaterial material, Color colour, double opacity) {
        WritableImage pixel = new WritableImage(1, 1);
        pixel.getPixelWriter()
                .setColor(
                        0,
                        0,
                        new Color(
                                colour.getRed() * opacity, colour.getGreen() * opacity, colour.getBlue() * opacity, 1));
        material.setDiffuseColor(new Color(0, 0, 0, opacity));
        material.setSpecularColor(Color.TRANSPARENT);
        material.setSelfIlluminationMap(pixel);
    }

    /** Moves every body. */
    void place(IntFunction<Pose> pose) {
        for (int b = 0; b < bodies.length; b++) {
            CarAxes.set(bodies[b], pose.apply(b), 0, 0, 0);
        }
        cut();
    }

    // ---------------------------------------------------------------- section plane

    /**
     * A plane square to one of the car's axes; what lies beyond it, towards the axis's positive end or its negative one,
     * is not drawn.
     *
     * @param axis 0 ahead, 1 left, 2 up
     * @param atMm where it crosses the axis
     * @param takesPositive whether the positive side is taken away
     */
    record Section(int axis, double atMm, boolean takesPositive) {}

    /** Draws only one side of a plane, or everything. */
    void section(Optional<Section> wanted) {
        section = wanted;
        cut();
        lines();
    }

    /** Returns the ends of the car along an axis at ride height, mm. */
    double[] extent(int axis) {
        double low = views.stream()
                .mapToDouble(view -> view.surface.bounds[axis])
                .min()
                .orElse(0);
        double high = views.stream()
                .mapToDouble(view -> view.surface.bounds[3 + axis])
                .max()
                .orElse(1);
        return new double[] {low, high};
    }

    /** Cuts the parts whose place against the plane has changed since they were cut last. */
    private void cut() {
        for (PartView view : views) {
            if (section.isEmpty()) {
                whole(view);
                continue;
            }
            Section plane = section.get();
            Affine at = bodies[view.body];
            double sign = plane.takesPositive() ? 1 : -1;
            double nx = sign * (plane.axis() == 0 ? at.getMxx() : plane.axis() == 1 ? at.getMyx() : at.getMzx());
            double ny = sign * (plane.axis() == 0 ? at.getMxy() : plane.axis() == 1 ? at.getMyy() : at.getMzy());
            double nz = sign * (plane.axis() == 0 ? at.getMxz() : plane.axis() == 1 ? at.getMyz() : at.getMzz());
            double shift = plane.axis() == 0 ? at.getTx() : plane.axis() == 1 ? at.getTy() : at.getTz();
            double offset = sign * (plane.atMm() - shift)
                    - (nx * view.surface.middleX + ny * view.surface.middleY + nz * view.surface.middleZ);
            cut(view, nx, ny, nz, offset);
        }
    }

    private static void whole(PartView view) {
        view.section.setVisible(false);
        view.faces.setVisible(!view.hidden);
        view.edges.setVisible(!view.hidden);
        if (view.cutAt.length > 0) {
            view.cutAt = new double[0];
            view.faces.setMesh(faces(view.surface));
            view.faces.setCullFace(CullFace.BACK);
        }
    }

    private static void cut(PartView view, double nx, double ny, double nz, double offset) {
        double radius = view.surface.radiusMm;
        if (offset >= radius) {
            whole(view);
            return;
        }
        boolean gone = offset <= -radius || view.hidden;
        view.faces.setVisible(!gone);
        // Edge lines run on past the plane, so they are left out where it cuts.
        view.edges.setVisible(false);
        view.section.setVisible(!gone);
        double[] at = {nx, ny, nz, offset};
        if (gone || Arrays.equals(at, view.cutAt)) {
            return;
        }
        view.cutAt = at;
        view.cut.cut(view.surface, nx, ny, nz, offset);
        int[] faces = view.cut.faces();
        view.faces.setVisible(faces.length > 0);
        if (faces.length > 0) {
            view.faces.setMesh(mesh(view.cut.corners(), view.cut.normals(), faces));
            view.faces.setCullFace(CullFace.NONE);
        }
        float[] ends = view.cut.lineEnds();
        view.section.setVisible(ends.length > 0);
        if (ends.length > 0) {
            view.section.setMesh(lines(ends));
        }
    }

    /** What the plane leaves of a surface that is in the car's frame. */
    private TriangleMesh cut(Surface surface) {
        if (section.isEmpty()) {
            return faces(surface);
        }
        Section plane = section.get();
        double sign = plane.takesPositive() ? 1 : -1;
        double middle = plane.axis() == 0 ? surface.middleX : plane.axis() == 1 ? surface.middleY : surface.middleZ;
        lineCut.cut(
                surface,
                plane.axis() == 0 ? sign : 0,
                plane.axis() == 1 ? sign : 0,
                plane.axis() == 2 ? sign : 0,
                sign * (plane.atMm() - middle));
        return lineCut.faces().length == 0
                ? new TriangleMesh(VertexFormat.POINT_NORMAL_TEXCOORD)
                : mesh(lineCut.corners(), lineCut.normals(), lineCut.faces());
    }

    // ---------------------------------------------------------------- ghost and flexible lines

    /** Shows the room that a part takes up over its travel, to be seen through, or none. */
    void ghost(Optional<Surface> room) {
        ghost.getChildren().clear();
        room.filter(surface -> surface.triangles() > 0).ifPresent(surface -> {
            MeshView mesh = new MeshView(faces(surface));
            mesh.setMaterial(ghostMaterial);
            mesh.setMouseTransparent(true);
            mesh.setViewOrder(-1);
            mesh.getTransforms().setAll(new Translate(surface.middleX, surface.middleY, surface.middleZ));
            ghost.getChildren().add(mesh);
        });
    }

    /**
     * Shows flexible lines.
     *
     * @param wanted their surfaces where they lie, in file order
     * @param inTrouble whether each is taut or kinks there
     */
    void lines(List<Surface> wanted, List<Boolean> inTrouble) {
        tubes = List.copyOf(wanted);
        tubesInTrouble = List.copyOf(inTrouble);
        lines();
    }

    private void lines() {
        while (lines.getChildren().size() > tubes.size()) {
            lines.getChildren().remove(lines.getChildren().size() - 1);
        }
        for (int i = 0; i < tubes.size(); i++) {
            if (i == lines.getChildren().size()) {
                MeshView mesh = new MeshView();
                mesh.setMouseTransparent(true);
                mesh.setViewOrder(OPAQUE_FIRST);
                lines.getChildren().add(mesh);
            }
            Surface tube = tubes.get(i);
            MeshView mesh = (MeshView) lines.getChildren().get(i);
            mesh.setMesh(cut(tube));
            mesh.setMaterial(tubesInTrouble.get(i) ? lineTroubleMaterial : lineMaterial);
            mesh.getTransforms().setAll(new Translate(tube.middleX, tube.middleY, tube.middleZ));
        }
    }

    /** Looks from a viewpoint. */
    void look(Viewpoint view) {
        CarAxes.set(cameraPlace, view);
        camera.setFieldOfView(Math.toDegrees(view.fieldRad()));
        double reach = view.eye().distanceTo(middle) + 3 * farthestMm;
        camera.setFarClip(reach);
        // As far out as nothing of the car is nearer, so that the depth buffer is not wasted on empty air.
        double nearest = view.eye().distanceTo(middle) - 2 * farthestMm;
        camera.setNearClip(Math.max(nearest, Math.min(view.distanceMm() / 20, reach / 200)));
        Point3D right =
                new Point3D(view.right().x(), view.right().y(), view.right().z());
        Point3D down = new Point3D(view.down().x(), view.down().y(), view.down().z());
        Point3D forward = new Point3D(
                view.forward().x(), view.forward().y(), view.forward().z());
        key.setDirection(forward.multiply(0.75).add(down.multiply(0.6)).add(right.multiply(0.35)));
        fill.setDirection(forward.multiply(0.6).add(down.multiply(-0.1)).add(right.multiply(-0.8)));
        order(view);
    }

    private void order(Viewpoint view) {
        for (PartView part : views) {
            double order = OPAQUE_FIRST;
            if (part.faded) {
                Spot at = new Spot(part.surface.middleX, part.surface.middleY, part.surface.middleZ);
                order = view.eye().distanceTo(at);
            }
            part.faces.setViewOrder(order);
            part.edges.setViewOrder(order - 1e-3);
        }
    }

    /**
     * Colours the parts.
     *
     * @param chosen the numbers of the two parts of the chosen pair, or empty; all others then fade
     * @param faded the parts faded by hand
     * @param hidden the parts hidden by hand; those of the chosen pair are shown all the same
     * @param picked the picked part, or a number below zero
     */
    void paint(
            Palette palette,
            List<Integer> chosen,
            Set<Integer> faded,
            Set<Integer> hidden,
            int picked,
            Viewpoint view) {
        boolean dark = palette.dark();
        ambient.setColor(Color.gray(dark ? 0.42 : 0.5));
        key.setColor(Color.gray(dark ? 0.6 : 0.55));
        fill.setColor(Color.gray(dark ? 0.22 : 0.2));
        glow(gridMaterial, palette.get("grid"), 1);
        glow(sectionMaterial, palette.get("accent"), 1);
        ghostMaterial.setDiffuseColor(through(palette.get("accent"), GHOST));
        ghostMaterial.setSpecularColor(Color.TRANSPARENT);
        lineMaterial.setDiffuseColor(palette.get("flexible"));
        lineTroubleMaterial.setDiffuseColor(palette.get("rub"));
        for (int p = 0; p < views.size(); p++) {
            PartView part = views.get(p);
            boolean first = !chosen.isEmpty() && chosen.get(0) == p;
            boolean second = !chosen.isEmpty() && chosen.get(1) == p;
            boolean shown = first || second;
            part.hidden = !shown && hidden.contains(p);
            part.faded = !shown && (!chosen.isEmpty() || faded.contains(p));
            Color colour = first
                    ? palette.get("pair-first")
                    : second
                            ? palette.get("pair-second")
                            : palette.get(part.tyre ? "tyre" : part.moves ? "moving-part" : "fixed-part");
            if (picked == p && !shown) {
                colour = colour.interpolate(palette.get("accent"), 0.45);
            }
            double alpha = part.faded ? FADED : 1;
            part.material.setDiffuseColor(through(colour, alpha));
            part.material.setSpecularColor(part.faded ? Color.TRANSPARENT : Color.gray(0.12));
            part.material.setSpecularPower(24);
            glow(part.edgeMaterial, palette.get(part.faded ? "quiet" : "edge"), part.faded ? FADED_EDGE : 1);
            part.faces.setMouseTransparent(part.faded && chosen.isEmpty());
        }
        cut();
        order(view);
    }
}
