package daylight.trim;

import daylight.car.Car;
import daylight.clearance.Asked;
import daylight.clearance.GapRow;
import daylight.clearance.GapSearch;
import daylight.clearance.GapTable;
import daylight.clearance.Rules;
import daylight.geometry.Gauge;
import daylight.geometry.Solid;
import daylight.geometry.Wander;
import daylight.motion.DriverBox;
import daylight.motion.Kinematics;
import daylight.motion.Workspace;
import daylight.units.Progress;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * Some parts of a car with whatever comes near them: a small car whose gaps are those of these parts alone, so that a
 * change of one of them is answered at once.
 *
 * <p>Parts that are proved to stay further away than the watch distance are left away. A change that lets a part reach
 * further needs a watch distance that allows for it.
 */
final class Around {
    /** Halvings of a handle's range after which a part that cannot be proved far counts as near. */
    private static final int DEEPEST = 7;

    private final Car car;
    private final GapSearch search;

    private Around(Car car, GapSearch search) {
        this.car = car;
        this.search = search;
    }

    /**
     * Returns what is around some parts.
     *
     * @param focus their names
     * @param asked its watch distance says what is near
     */
    static Around of(Car car, Set<String> focus, Asked asked) {
        return of(car, car, focus, asked);
    }

    /**
     * The same, with the parts near as they are in another car too (wider tyres, say).
     *
     * @param widest the car with the parts of the focus as large as they will get
     */
    static Around of(Car car, Car widest, Set<String> focus, Asked asked) {
        Kinematics kinematics = Workspace.of(widest).kinematics();
        Gauge gauge = new Gauge();
        List<Car.Part> near = new ArrayList<>();
        List<Car.Part> centre = widest.parts().stream()
                .filter(part -> focus.contains(part.name()))
                .toList();
        List<Solid> solids = centre.stream().map(part -> Solid.of(part.shape())).toList();
        for (Car.Part part : widest.parts()) {
            if (focus.contains(part.name())
                    || isNear(widest, kinematics, gauge, centre, solids, part, asked.watchMm())) {
                near.add(part);
            }
        }
        Set<String> names = new HashSet<>();
        near.forEach(part -> names.add(part.name()));
        Car small = reduced(car, names, focus);
        return new Around(small, GapSearch.of(small, asked));
    }

    private static Car reduced(Car car, Set<String> names, Set<String> focus) {
        List<Car.Exclusion> exclusions = new ArrayList<>(car.exclusions());
        List<String> others =
                names.stream().filter(name -> !focus.contains(name)).sorted().toList();
        for (int i = 0; i < others.size(); i++) {
            for (int j = i + 1; j < others.size(); j++) {
                exclusions.add(new Car.Exclusion(others.get(i), others.get(j), "not asked"));
            }
        }
        return car.withParts(car.parts().stream()
                        .filter(part -> names.contains(part.name()))
                        .toList())
                .withExclusions(exclusions);
    }

    private static boolean isNear(
            Car car,
            Kinematics kinematics,
            Gauge gauge,
            List<Car.Part> centre,
            List<Solid> solids,
            Car.Part part,
            double watchMm) {
        Workspace workspace = kinematics.workspace();
        int body = workspace.bodyIndex(part.body());
        Solid solid = null;
        for (int i = 0; i < centre.size(); i++) {
            int own = workspace.bodyIndex(centre.get(i).body());
            if (!workspace.moveAgainstOneAnother(own, body) || Rules.leftOut(car, centre.get(i), part)) {
                continue;
            }
            if (solid == null) {
                solid = Solid.of(part.shape());
            }
            Far far = new Far(kinematics, gauge, solids.get(i), own, solid, body, watchMm);
            if (!far.holds(workspace.whole(own, body))) {
                return true;
            }
        }
        return false;
    }

    /** Whether two parts stay further apart than a distance wherever the car goes. */
    private static final class Far {
        private final Kinematics kinematics;
        private final Gauge gauge;
        private final Solid solidA;
        private final int bodyA;
        private final Solid solidB;
        private final int bodyB;
        private final double distanceMm;
        private final Wander wanderA = new Wander();
        private final Wander wanderB = new Wander();
        private final double[] offsetsA;
        private final double[] offsetsB;

        Far(Kinematics kinematics, Gauge gauge, Solid solidA, int bodyA, Solid solidB, int bodyB, double distanceMm) {
            this.kinematics = kinematics;
            this.gauge = gauge;
            this.solidA = solidA;
            this.bodyA = bodyA;
            this.solidB = solidB;
            this.bodyB = bodyB;
            this.distanceMm = distanceMm;
            this.offsetsA = new double[kinematics.workspace().plays(bodyA).size()];
            this.offsetsB = new double[kinematics.workspace().plays(bodyB).size()];
        }

        boolean holds(DriverBox box) {
            boolean proved = kinematics.fill(bodyA, box, offsetsA, wanderA) == Kinematics.Reach.PROVED
                    && kinematics.fill(bodyB, box, offsetsB, wanderB) == Kinematics.Reach.PROVED;
            if (proved && gauge.floor(solidA, wanderA, solidB, wanderB, distanceMm) >= distanceMm) {
                return true;
            }
            if (proved && gauge.isExact() && gauge.centreMm() < distanceMm) {
                return false;
            }
            int split = -1;
            for (int i = 0; i < box.size(); i++) {
                if (box.splits(i) && box.level(i) < DEEPEST && (split < 0 || box.level(i) < box.level(split))) {
                    split = i;
                }
            }
            return split >= 0 && holds(box.halved(split, 0)) && holds(box.halved(split, 1));
        }
    }

    /** Returns the small car. */
    Car car() {
        return car;
    }

    /** Returns the gaps as the car is, tightest first; empty if the work was cancelled. */
    Optional<List<GapRow>> gaps(Progress progress) {
        return search.run(progress).map(GapTable::rows);
    }

    /**
     * Returns the gaps with other parts in the place of those that have their names.
     *
     * @return tightest first; empty if the work was cancelled
     */
    Optional<List<GapRow>> gapsWith(List<Car.Part> changed, Progress progress) {
        List<Car.Part> parts = new ArrayList<>(car.parts());
        for (Car.Part part : changed) {
            parts.replaceAll(old -> old.name().equals(part.name()) ? part : old);
        }
        return search.changed(car.withParts(parts)).run(progress).map(GapTable::rows);
    }
}
