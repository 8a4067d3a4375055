package daylight.geometry;

import java.util.ArrayList;
import java.util.List;

/** Seeded shapes of many pieces: bent tubes, plates with holes, hollow wheels, meshes, groups. */
final class Parts {
    private Parts() {}

    static Shape any(Samples samples) {
        return switch (samples.below(5)) {
            case 0 -> bentTube(samples);
            case 1 -> plate(samples);
            case 2 -> ring(samples);
            case 3 -> torusMesh(samples.spot(60), 60, 15, 16, 8);
            default -> new Shape.Group(List.of(bentTube(samples), samples.shape(Samples.Kind.BOX)));
        };
    }

    static Shape.Tube bentTube(Samples samples) {
        List<Spot> through = new ArrayList<>();
        Spot here = samples.spot(60);
        through.add(here);
        for (int i = 0; i < 2 + samples.below(3); i++) {
            Direction way = samples.direction();
            if (i > 0) {
                // Turn by less than a right angle, so that the bend fits.
                Direction last = Direction.from(through.get(i - 1), here);
                way = Direction.of(last.x() + 0.7 * way.x(), last.y() + 0.7 * way.y(), last.z() + 0.7 * way.z());
            }
            here = here.along(way, samples.between(60, 120));
            through.add(here);
        }
        return new Shape.Tube(through, samples.between(10, 40), samples.below(3) == 0 ? 0 : samples.between(20, 30));
    }

    static Shape.Plate plate(Samples samples) {
        Direction along = samples.squareDirection();
        return new Shape.Plate(
                samples.spot(60),
                along,
                SolidMaker.perpendicular(along),
                samples.between(2, 10),
                List.of(
                        new Flat(0, 0),
                        new Flat(120, 0),
                        new Flat(120, 40),
                        new Flat(50, 40),
                        new Flat(50, 90),
                        new Flat(0, 90)),
                List.of(new Shape.Plate.Hole(new Flat(25, 60), 20), new Shape.Plate.Hole(new Flat(90, 20), 12)));
    }

    /** A rim with a web: hollow on one side. */
    static Shape.Turned ring(Samples samples) {
        return new Shape.Turned(
                samples.spot(60),
                samples.squareDirection(),
                List.of(
                        new Flat(-40, 60),
                        new Flat(20, 60),
                        new Flat(20, 0),
                        new Flat(30, 0),
                        new Flat(30, 60),
                        new Flat(40, 60),
                        new Flat(40, 70),
                        new Flat(-40, 70)),
                samples.below(2) == 0 ? 0 : 2);
    }

    /** A closed mesh: a ring of circular section about the z axis. */
    static Shape.Mesh torusMesh(Spot centre, double ring, double tube, int around, int across) {
        List<Spot> corners = new ArrayList<>();
        List<Integer> triangles = new ArrayList<>();
        for (int i = 0; i < around; i++) {
            double a = 2 * Math.PI * i / around;
            for (int j = 0; j < across; j++) {
                double b = 2 * Math.PI * j / across;
                double r = ring + tube * Math.cos(b);
                corners.add(centre.plus(r * Math.cos(a), r * Math.sin(a), tube * Math.sin(b)));
            }
        }
        for (int i = 0; i < around; i++) {
            for (int j = 0; j < across; j++) {
                int p = i * across + j;
                int q = (i + 1) % around * across + j;
                int r = (i + 1) % around * across + (j + 1) % across;
                int s = i * across + (j + 1) % across;
                triangles.addAll(List.of(p, q, r, p, r, s));
            }
        }
        return new Shape.Mesh(corners, triangles);
    }
}
