package daylight.inspection;

import daylight.car.Car;
import daylight.geometry.Direction;
import daylight.geometry.Gauge;
import daylight.geometry.Lowest;
import daylight.geometry.Pose;
import daylight.geometry.Proximity;
import daylight.geometry.RestingPlane.Plane;
import daylight.geometry.Shape;
import daylight.geometry.Solid;
import daylight.geometry.Spot;
import daylight.inspection.Footing.Foot;
import daylight.inspection.InspectionReport.Below;
import daylight.inspection.InspectionReport.Place;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;

/**
 * What is looked at as the car stands: the scrub line, the crest of a ramp, the middle between the axles, a kerb. A part
 * that may shift is taken as it hangs at rest.
 */
final class RoadChecks {
    /** The crest's curve is drawn by so many corners; its chords then miss it by a few thousandths of a millimetre. */
    private static final int CREST_CORNERS = 160;
    /** Half the width of the road, mm. */
    private static final double ROAD_MM = 3000;
    /** How thick the crest's solid is below the road, mm: deeper than any part could dig. */
    private static final double DEEP_MM = 3000;

    private final Ground ground;
    private final Footing footing;
    private final Lowest lowest = new Lowest();
    private final Gauge gauge = new Gauge();

    RoadChecks(Ground ground, Footing footing) {
        this.ground = ground;
        this.footing = footing;
    }

    /** A string from the bottom of a rim to the bottom of a tyre. */
    private record Line(String name, Spot from, Spot to) {
        double apartFrom(Spot spot) {
            double dx = to.x() - from.x();
            double dy = to.y() - from.y();
            double along = ((spot.x() - from.x()) * dx + (spot.y() - from.y()) * dy) / (dx * dx + dy * dy);
            double t = Math.min(1, Math.max(0, along));
            return Math.hypot(spot.x() - from.x() - t * dx, spot.y() - from.y() - t * dy);
        }
    }

    /**
     * Returns how far every part is below the scrub lines, deepest first; negative above them.
     *
     * <p>From the bottom of each wheel's rim a string goes along the car to the bottom of the next tyre and another
     * across to the tyre on the other side; the two stretch a sheet, which is the road once that tyre has failed. A part
     * is below when a spot of it between the foremost and the rearmost of those wheels is under the sheet.
     */
    List<Below> scrub() {
        List<Below> below = new ArrayList<>();
        List<Car.Part> parts = ground.parts();
        for (int p = 0; p < parts.size(); p++) {
            Below worst = null;
            for (Foot foot : footing.feet) {
                Optional<Below> found = below(p, foot);
                if (found.isPresent() && (worst == null || found.get().byMm() > worst.byMm())) {
                    worst = found.get();
                }
            }
            if (worst != null) {
                below.add(worst);
            }
        }
        below.sort(Comparator.comparingDouble(Below::byMm).reversed().thenComparing(Below::part));
        return below;
    }

    private Optional<Below> below(int part, Foot foot) {
        Optional<Foot> across = footing.axle(foot.axle()).stream()
                .filter(other -> other.left() != foot.left())
                .findFirst();
        Optional<Foot> along = footing.feet.stream()
                .filter(other -> other.left() == foot.left() && other.axle() != foot.axle())
                .min(Comparator.comparingInt(other -> Math.abs(other.axle() - foot.axle())));
        if (across.isEmpty() || along.isEmpty()) {
            return Optional.empty();
        }
        Spot rim = foot.rim().lowest(Direction.UP);
        List<Line> strings = List.of(
                new Line(
                        "across, from the " + foot.name() + "'s rim to the "
                                + across.get().name(),
                        rim,
                        footing.contact(across.get())),
                new Line(
                        "along, from the " + foot.name() + "'s rim to the "
                                + along.get().name(),
                        rim,
                        footing.contact(along.get())));
        Plane sheet = through(rim, strings.get(0).to, strings.get(1).to);
        double radius = foot.loaded().radiusMm();
        double from = Math.min(rim.x(), strings.get(1).to.x()) - radius;
        double to = Math.max(rim.x(), strings.get(1).to.x()) + radius;
        double offset = sheet.height(Spot.ORIGIN);
        double least =
                lowest.between(ground.solid(part), Pose.RIDE_HEIGHT, sheet.up(), Direction.FORWARD, from, to) + offset;
        if (least == Double.POSITIVE_INFINITY) {
            return Optional.empty();
        }
        Spot at = lowest.spot();
        Line nearest = strings.get(0).apartFrom(at) <= strings.get(1).apartFrom(at) ? strings.get(0) : strings.get(1);
        double road = Footing.planes(footing.feet.stream().map(Foot::loaded).toList())
                .get(0)
                .zAt(at.x(), at.y());
        return Optional.of(new Below(
                ground.parts().get(part).name(),
                0.0 - least / sheet.up().z(),
                at,
                nearest.name,
                sheet.zAt(at.x(), at.y()) - road));
    }

    private static Plane through(Spot a, Spot b, Spot c) {
        double ux = b.x() - a.x();
        double uy = b.y() - a.y();
        double uz = b.z() - a.z();
        double wx = c.x() - a.x();
        double wy = c.y() - a.y();
        double wz = c.z() - a.z();
        double nz = ux * wy - uy * wx;
        double sign = nz < 0 ? -1 : 1;
        return new Plane(Direction.of(sign * (uy * wz - uz * wy), sign * (uz * wx - ux * wz), sign * nz), a);
    }

    /**
     * Returns the distance of every part from the crest of a ramp of a given angle as the car goes over it, nearest
     * first.
     *
     * <p>The front wheels stand on one plane and the rear wheels on another, the two meeting at the angle anywhere between
     * the axles. Seen from the car the edge where they meet runs along a curve: with the wheels' circles shrunk to their
     * centres and the planes moved up by the radii, an arc on which the two centres stand under one angle (Euclid III.21);
     * the edge itself follows by moving the planes down again. Everything below that curve is crest at some moment.
     */
    List<Place> crest(int frontAxle, double angleRad) {
        Foot front = footing.axle(frontAxle).get(0);
        Foot rear = footing.axle(frontAxle + 1).get(0);
        Solid solid = Solid.of(crest(front, rear, angleRad));
        List<Place> places = new ArrayList<>();
        for (int p = 0; p < ground.parts().size(); p++) {
            Proximity gap = gauge.proximity(ground.solid(p), Pose.RIDE_HEIGHT, solid, Pose.RIDE_HEIGHT);
            places.add(new Place(ground.parts().get(p).name(), gap.distanceMm(), gap.onA(), ""));
        }
        places.sort(Comparator.comparingDouble(Place::mm).thenComparing(Place::part));
        return places;
    }

    private static Shape crest(Foot front, Foot rear, double angle) {
        Spot f = front.loaded().centre();
        Spot r = rear.loaded().centre();
        double dx = f.x() - r.x();
        double dz = f.z() - r.z();
        double chord = Math.hypot(dx, dz);
        double level = Math.atan2(dz, dx);
        List<double[]> edge = new ArrayList<>();
        for (int i = 0; i <= CREST_CORNERS; i++) {
            // Angle of the rear plane up from the chord; the front plane goes down by what is left of the whole.
            double up = angle * i / CREST_CORNERS;
            double down = angle - up;
            // Sine rule in the triangle of the two centres and the edge.
            double fromRear = chord * Math.sin(down) / Math.sin(angle);
            double ax = r.x() + fromRear * Math.cos(level + up);
            double az = r.z() + fromRear * Math.sin(level + up);
            // Both planes down by their wheel's radius: normals of the rear and of the front plane.
            double n1x = -Math.sin(level + up);
            double n1z = Math.cos(level + up);
            double n2x = -Math.sin(level - down);
            double n2z = Math.cos(level - down);
            double det = n1x * n2z - n1z * n2x;
            double b1 = 0.0 - rear.loaded().radiusMm();
            double b2 = 0.0 - front.loaded().radiusMm();
            edge.add(new double[] {ax + (b1 * n2z - b2 * n1z) / det, az + (n1x * b2 - n2x * b1) / det});
        }
        // A chord of an arc of radius chord / (2 sin angle) misses it by this quarter; a little more for the edge's
        // own.
        double sagitta = 0.3 * chord / CREST_CORNERS * angle / CREST_CORNERS;
        List<Spot> corners = new ArrayList<>();
        for (double y : new double[] {-ROAD_MM, ROAD_MM}) {
            edge.forEach(e -> corners.add(new Spot(e[0], y, e[1] + sagitta)));
            corners.add(new Spot(edge.get(0)[0], y, edge.get(0)[1] - DEEP_MM));
            corners.add(new Spot(edge.get(CREST_CORNERS)[0], y, edge.get(CREST_CORNERS)[1] - DEEP_MM));
        }
        return new Shape.Hull(corners, 0);
    }

    /** Returns the least height over the road of every part that passes midway between two axles, lowest first. */
    List<Place> midway(int frontAxle) {
        Plane road = road();
        double x = (contactX(frontAxle) + contactX(frontAxle + 1)) / 2;
        return heights(road, x, x);
    }

    /** Returns the wheelbase between an axle and the next, mm. */
    double wheelbaseMm(int frontAxle) {
        return contactX(frontAxle) - contactX(frontAxle + 1);
    }

    private double contactX(int axle) {
        return footing.axle(axle).stream()
                .mapToDouble(foot -> footing.contact(foot).x())
                .average()
                .orElse(0);
    }

    /**
     * Returns the least height over the road of everything that overhangs a kerb when the front tyres are driven up to
     * it, and the rear tyres backed up to it, lowest first.
     */
    List<Place> overKerb(double kerbMm) {
        Plane road = road();
        List<Place> places = new ArrayList<>();
        places.addAll(heights(road, face(0, kerbMm, 1), Double.POSITIVE_INFINITY));
        places.addAll(heights(road, Double.NEGATIVE_INFINITY, face(footing.axles - 1, kerbMm, -1)));
        places.sort(Comparator.comparingDouble(Place::mm).thenComparing(Place::part));
        return places;
    }

    /** Where the face of a kerb is when the tyres of an axle touch it: its edge on the tread. */
    private double face(int axle, double kerbMm, int side) {
        double furthest = Double.NEGATIVE_INFINITY;
        for (Foot foot : footing.axle(axle)) {
            double radius = foot.wheel().nominalDiameterMm() / 2;
            double up = Math.max(0, foot.loaded().radiusMm() - kerbMm);
            double reach = Math.sqrt(Math.max(0, radius * radius - up * up));
            furthest = Math.max(furthest, side * foot.loaded().centre().x() + reach);
        }
        return side * furthest;
    }

    private List<Place> heights(Plane road, double from, double to) {
        List<Place> places = new ArrayList<>();
        double offset = road.height(Spot.ORIGIN);
        for (int p = 0; p < ground.parts().size(); p++) {
            double least =
                    lowest.between(ground.solid(p), Pose.RIDE_HEIGHT, road.up(), Direction.FORWARD, from, to) + offset;
            if (least < Double.POSITIVE_INFINITY) {
                places.add(new Place(ground.parts().get(p).name(), least, lowest.spot(), ""));
            }
        }
        places.sort(Comparator.comparingDouble(Place::mm).thenComparing(Place::part));
        return places;
    }

    private Plane road() {
        return Footing.planes(footing.feet.stream().map(Foot::loaded).toList()).get(0);
    }

    /** Returns the height of the lowest rim over the road, mm. */
    double lowestRimMm() {
        Plane road = road();
        return footing.feet.stream()
                .mapToDouble(foot -> road.height(foot.rim().lowest(road.up())))
                .min()
                .orElse(Double.POSITIVE_INFINITY);
    }
}
