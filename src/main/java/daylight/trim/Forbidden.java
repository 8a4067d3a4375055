package daylight.trim;

import daylight.car.Car;
import daylight.geometry.Direction;
import daylight.geometry.Flat;
import daylight.geometry.Gauge;
import daylight.geometry.PlateEdges;
import daylight.geometry.Shape;
import daylight.geometry.Solid;
import daylight.geometry.Spot;
import daylight.geometry.Wander;
import daylight.motion.DriverBox;
import daylight.motion.Kinematics;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.joml.Matrix4x3d;
import org.joml.Matrix4x3dc;
import org.joml.Vector3d;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.Geometry;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.geom.Polygon;
import org.locationtech.jts.geom.prep.PreparedGeometry;
import org.locationtech.jts.geom.prep.PreparedGeometryFactory;

/**
 * The places of a plate that come too near to another part somewhere in the travel, in the plate's own plane.
 *
 * <p>Squares of the plate, each as thick as the plate, are measured against the other parts by the same floors that the
 * gap search rests on ({@link Gauge#floor} over boxes of handle values): a square that no position brings nearer than
 * the gap asked for is free, proved over the continuous travel. What is not proved free belongs to the region, so the
 * region is an outer one; it exceeds the true one by no more than the size of its undecided squares, and those on which
 * a cut depends are made as small as {@link #FINEST_MM}. A square of which every place is certainly too near is not
 * looked at further.
 *
 * <p>One per thread.
 */
final class Forbidden {
    /** Half the side of the smallest square, mm. */
    static final double FINEST_MM = 0.002;
    /** A box of handle values is halved while it spreads by more than this share of the square. */
    private static final double SPREAD_SHARE = 0.35;
    /** Halvings of one range after which a box that cannot be enclosed counts as too near. */
    private static final int UNPROVED_DEPTH = 9;
    /** Rounds of going along every play in turn. */
    private static final int SWEEPS = 4;
    /** A shift is settled to this, mm. */
    private static final double SETTLED_MM = 1e-4;

    private static final double DIAGONAL = 2 * Math.sqrt(2);

    private final Shape.Plate plate;
    private final Direction through;
    private final List<Other> others;
    private final Kinematics kinematics;
    private final Gauge gauge = new Gauge();
    private final int body;
    private final Polygon outline;
    private final PreparedGeometry prepared;
    private final Wander wanderP = new Wander();
    private final Wander wanderO = new Wander();
    private final Wander relative = new Wander();
    private final Wander still = new Wander();
    private final Matrix4x3d poseP = new Matrix4x3d();
    private final Matrix4x3d poseO = new Matrix4x3d();
    private final Vector3d normal = new Vector3d();
    private final List<Cell> cells = new ArrayList<>();
    private String trouble = "";
    private long tests;

    /**
     * A part that the plate must keep away from.
     *
     * @param neededMm the gap asked for, with whatever is added for doubt
     */
    record Other(String name, Solid solid, int body, double neededMm) {}

    /** A square of the plate. */
    static final class Cell {
        final double x;
        final double y;
        final double halfMm;
        /** Corners of the metal within the square: a convex figure. */
        final List<Flat> metal;
        /** Whether every place of it is certainly too near. */
        boolean full;
        /** For each other part the boxes of handle values that are not proved to keep away. */
        final List<List<DriverBox>> open = new ArrayList<>();

        Cell(double x, double y, double halfMm, List<Flat> metal) {
            this.x = x;
            this.y = y;
            this.halfMm = halfMm;
            this.metal = metal;
        }

        boolean isOpen() {
            return full || open.stream().anyMatch(boxes -> !boxes.isEmpty());
        }

        /** Whether a closer look may free some of it. */
        boolean refines() {
            return !full && halfMm > FINEST_MM;
        }
    }

    Forbidden(Shape.Plate plate, String bodyName, List<Other> others, Kinematics kinematics) {
        this.plate = plate;
        this.others = others;
        this.kinematics = kinematics;
        this.body = kinematics.workspace().bodyIndex(bodyName);
        this.through = Direction.of(
                plate.along().y() * plate.up().z()
                        - plate.along().z() * plate.up().y(),
                plate.along().z() * plate.up().x()
                        - plate.along().x() * plate.up().z(),
                plate.along().x() * plate.up().y()
                        - plate.along().y() * plate.up().x());
        this.outline = polygon(plate.outline());
        this.prepared = PreparedGeometryFactory.prepare(outline);
    }

    static Polygon polygon(List<Flat> corners) {
        Coordinate[] ring = new Coordinate[corners.size() + 1];
        for (int i = 0; i < corners.size(); i++) {
            ring[i] = new Coordinate(corners.get(i).x(), corners.get(i).y());
        }
        ring[corners.size()] = ring[0].copy();
        return new GeometryFactory().createPolygon(ring);
    }

    /** Looks at the whole plate in squares no larger than the given half side. */
    void start(double halfMm) {
        double least = Double.POSITIVE_INFINITY;
        double low = Double.POSITIVE_INFINITY;
        double most = Double.NEGATIVE_INFINITY;
        double high = Double.NEGATIVE_INFINITY;
        for (Flat corner : plate.outline()) {
            least = Math.min(least, corner.x());
            most = Math.max(most, corner.x());
            low = Math.min(low, corner.y());
            high = Math.max(high, corner.y());
        }
        double half = halfMm;
        while (2 * half < Math.max(most - least, high - low)) {
            half *= 2;
        }
        Cell whole = new Cell(least + half, low + half, half, plate.outline());
        for (Other other : others) {
            whole.open.add(List.of(kinematics.workspace().whole(body, other.body)));
        }
        if (test(whole)) {
            cells.add(whole);
        }
        refineTo(halfMm);
    }

    /** Refines every undecided square down to a half side. */
    void refineTo(double halfMm) {
        boolean again = true;
        while (again) {
            List<Cell> coarse = cells.stream()
                    .filter(cell -> cell.refines() && cell.halfMm > halfMm * 1.001)
                    .toList();
            again = !coarse.isEmpty();
            refine(coarse);
        }
    }

    /** Puts four squares in the place of each of these, without those that are proved free. */
    void refine(List<Cell> coarse) {
        cells.removeAll(coarse);
        for (Cell cell : coarse) {
            double half = cell.halfMm / 2;
            for (int side = 0; side < 4; side++) {
                double x = cell.x + (side % 2 == 0 ? -half : half);
                double y = cell.y + (side < 2 ? -half : half);
                List<Flat> metal = metal(x, y, half);
                if (metal.isEmpty()) {
                    continue;
                }
                Cell child = new Cell(x, y, half, metal);
                child.open.addAll(cell.open);
                if (test(child)) {
                    cells.add(child);
                }
            }
        }
    }

    /** The squares of the region. */
    List<Cell> cells() {
        return cells;
    }

    /** Why something could not be proved, or empty. */
    String trouble() {
        return trouble;
    }

    /** How many squares were measured. */
    long tests() {
        return tests;
    }

    private List<Flat> metal(double x, double y, double half) {
        Coordinate[] ring = {
            new Coordinate(x - half, y - half),
            new Coordinate(x + half, y - half),
            new Coordinate(x + half, y + half),
            new Coordinate(x - half, y + half),
            new Coordinate(x - half, y - half)
        };
        Polygon square = new GeometryFactory().createPolygon(ring);
        Geometry inside;
        if (prepared.covers(square)) {
            inside = square;
        } else {
            inside = outline.intersection(square).convexHull();
        }
        List<Flat> corners = new ArrayList<>();
        if (inside instanceof Polygon figure) {
            Coordinate[] at = figure.getExteriorRing().getCoordinates();
            for (int i = 0; i + 1 < at.length; i++) {
                corners.add(new Flat(at[i].x, at[i].y));
            }
        }
        return corners;
    }

    /** Measures a square against what is still open for it; returns whether it belongs to the region. */
    private boolean test(Cell cell) {
        tests++;
        Spot middle = PlateEdges.onCar(plate, new Flat(cell.x, cell.y)).along(through, plate.thicknessMm() / 2);
        Solid solid = Solid.of(new Shape.Box(
                middle, plate.along(), plate.up(), 2 * cell.halfMm, 2 * cell.halfMm, plate.thicknessMm()));
        for (int k = 0; k < others.size() && !cell.full; k++) {
            List<DriverBox> before = cell.open.get(k);
            if (!before.isEmpty()) {
                cell.open.set(k, stillOpen(cell, solid, others.get(k), before));
            }
        }
        return cell.isOpen();
    }

    private List<DriverBox> stillOpen(Cell cell, Solid solid, Other other, List<DriverBox> before) {
        List<DriverBox> open = new ArrayList<>();
        ArrayDeque<DriverBox> todo = new ArrayDeque<>(before);
        List<Car.Allowance.Play> playsP = kinematics.workspace().plays(body);
        List<Car.Allowance.Play> playsO = kinematics.workspace().plays(other.body);
        double[] offsetsP = new double[playsP.size()];
        double[] offsetsO = new double[playsO.size()];
        while (!todo.isEmpty()) {
            DriverBox box = todo.poll();
            Arrays.fill(offsetsP, 0);
            Arrays.fill(offsetsO, 0);
            Kinematics.Reach reachP = kinematics.fill(body, box, offsetsP, wanderP);
            Kinematics.Reach reachO = kinematics.fill(other.body, box, offsetsO, wanderO);
            if (reachP != Kinematics.Reach.PROVED || reachO != Kinematics.Reach.PROVED) {
                int split = widest(box, reachP != Kinematics.Reach.PROVED ? body : other.body);
                if (split < 0) {
                    trouble = kinematics.why();
                    open.add(box);
                } else {
                    todo.add(box.halved(split, 0));
                    todo.add(box.halved(split, 1));
                }
                continue;
            }
            double gap = Double.POSITIVE_INFINITY;
            if (!playsP.isEmpty() || !playsO.isEmpty()) {
                gap = closeUp(solid, playsP, offsetsP, other, playsO, offsetsO);
                kinematics.fill(body, box, offsetsP, wanderP);
                kinematics.fill(other.body, box, offsetsO, wanderO);
            }
            boolean seen = relative.seenFrom(wanderO, wanderP);
            double floor = seen
                    ? gauge.floor(solid, still, other.solid, relative, other.neededMm)
                    : gauge.floor(solid, wanderP, other.solid, wanderO, other.neededMm);
            if (floor >= other.neededMm) {
                continue;
            }
            if (gauge.isExact()) {
                gap = Math.min(gap, gauge.centreMm());
            }
            if (gap + DIAGONAL * cell.halfMm < other.neededMm) {
                cell.full = true;
                return List.of();
            }
            double all = 0;
            double most = 0;
            int split = -1;
            for (int i = 0; i < box.size(); i++) {
                double spread = gauge.spread(i);
                all += spread;
                if (box.splits(i) && spread > most) {
                    most = spread;
                    split = i;
                }
            }
            if (split >= 0 && all > SPREAD_SHARE * cell.halfMm) {
                todo.add(box.halved(split, 0));
                todo.add(box.halved(split, 1));
            } else {
                open.add(box);
            }
        }
        return open;
    }

    private int widest(DriverBox box, int of) {
        List<Integer> handles = kinematics.workspace().handlesOf(of, of);
        int split = -1;
        for (int i = 0; i < box.size(); i++) {
            if (box.splits(i)
                    && box.level(i) < UNPROVED_DEPTH
                    && handles.contains(box.handle(i))
                    && (split < 0 || box.level(i) < box.level(split))) {
                split = i;
            }
        }
        return split;
    }

    /**
     * Shifts both bodies within their plays to where they are closest and returns the gap there: along one play after
     * another, each to its end or to where the gap stops falling. From there on a floor loses nothing to the plays.
     */
    private double closeUp(
            Solid solid,
            List<Car.Allowance.Play> playsP,
            double[] offsetsP,
            Other other,
            List<Car.Allowance.Play> playsO,
            double[] offsetsO) {
        Matrix4x3dc restP = wanderP.centre();
        Matrix4x3dc restO = wanderO.centre();
        poseP.set(restP);
        poseO.set(restO);
        double gap = gauge.measure(solid, poseP, other.solid, poseO);
        int plays = playsP.size() + playsO.size();
        for (int sweep = 0; sweep < SWEEPS; sweep++) {
            boolean moved = false;
            for (int j = 0; j < plays; j++) {
                boolean ofP = j < playsP.size();
                int number = ofP ? j : j - playsP.size();
                Car.Allowance.Play play = ofP ? playsP.get(number) : playsO.get(number);
                double[] offsets = ofP ? offsetsP : offsetsO;
                Vector3d along = (ofP ? restP : restO)
                        .transformDirection(new Vector3d(
                                play.along().x(), play.along().y(), play.along().z()));
                double slope = slope(along, ofP);
                double end = slope < 0 ? play.greatestMm() : play.leastMm();
                double start = offsets[number];
                if (Math.abs(slope) < 1e-9 || Math.abs(end - start) < 1e-12) {
                    continue;
                }
                gap = shift(solid, other, along, ofP, offsets, number, end);
                if (slope(along, ofP) * slope < 0) {
                    double near = start;
                    double far = end;
                    while (Math.abs(far - near) > SETTLED_MM) {
                        double middle = (near + far) / 2;
                        gap = shift(solid, other, along, ofP, offsets, number, middle);
                        if (slope(along, ofP) * slope > 0) {
                            near = middle;
                        } else {
                            far = middle;
                        }
                    }
                }
                moved |= Math.abs(offsets[number] - start) > SETTLED_MM;
            }
            if (!moved) {
                break;
            }
        }
        return gap;
    }

    private double slope(Vector3d along, boolean ofP) {
        gauge.normal(normal);
        double towards = normal.dot(along);
        return ofP ? -towards : towards;
    }

    private double shift(
            Solid solid, Other other, Vector3d along, boolean ofP, double[] offsets, int number, double mm) {
        Matrix4x3d pose = ofP ? poseP : poseO;
        double by = mm - offsets[number];
        offsets[number] = mm;
        pose.m30(pose.m30() + by * along.x);
        pose.m31(pose.m31() + by * along.y);
        pose.m32(pose.m32() + by * along.z);
        return gauge.measure(solid, poseP, other.solid, poseO);
    }
}
