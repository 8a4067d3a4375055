package daylight.clearance;

import daylight.car.Car;
import daylight.geometry.Gauge;
import daylight.geometry.Solid;
import daylight.motion.Kinematics;
import daylight.motion.Workspace;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** A car made ready for measuring: its parts as solids on their bodies, and the pairs to measure with their rules. */
final class Scene {
    private final Car car;
    final Workspace workspace;
    final List<Car.Part> parts;
    final Solid[] solids;
    final int[] bodies;
    final Made[] made;
    final List<Pair> pairs = new ArrayList<>();
    final List<LeftOut> leftOut = new ArrayList<>();
    private final Verdict[] verdicts;

    /** Two parts to measure: their numbers, the gap required, and the rule in words. */
    record Pair(int a, int b, double requiredMm, String rule) {}

    /** Why two parts are not measured, or else by which rule they are. */
    private record Verdict(Optional<String> reason, double requiredMm, String rule) {}

    private Scene(Car car, Workspace workspace, Solid[] solids, int[] bodies, Made[] made) {
        this.car = car;
        this.workspace = workspace;
        this.parts = car.parts();
        this.solids = solids;
        this.bodies = bodies;
        this.made = made;
        this.verdicts = new Verdict[parts.size() * (parts.size() - 1) / 2];
    }

    /** A part compiled: its solid, the room it sweeps, and its hash, which for a large mesh is worth keeping. */
    record Made(Car.Part part, Solid solid, Sweeps.Room room, int hash) {}

    /** Makes a part ready. */
    static Made make(Car.Part part, Kinematics kinematics) {
        Solid solid = Solid.of(part.shape());
        int body = kinematics.workspace().bodyIndex(part.body());
        return new Made(part, solid, Sweeps.room(kinematics, solid, body), part.hashCode());
    }

    /**
     * Makes a car ready.
     *
     * @param made every part made ready, in the car's order
     * @param earlier a scene of a car with the same mechanisms and allowances, or the same car's: what it says of pairs
     *     whose parts and rules are the same is taken over
     */
    static Scene of(Car car, Workspace workspace, Made[] made, Optional<Scene> earlier, Gauge gauge) {
        List<Car.Part> parts = car.parts();
        Solid[] solids = new Solid[parts.size()];
        int[] bodies = new int[parts.size()];
        for (int p = 0; p < parts.size(); p++) {
            bodies[p] = workspace.bodyIndex(parts.get(p).body());
            solids[p] = made[p].solid();
        }
        Scene scene = new Scene(car, workspace, solids, bodies, made);
        Optional<Scene> same = earlier.filter(
                e -> e.car.rules().equals(car.rules()) && e.car.exclusions().equals(car.exclusions()));
        int[] before = new int[parts.size()];
        Arrays.fill(before, -1);
        same.ifPresent(e -> {
            IdentityHashMap<Made, Integer> places = new IdentityHashMap<>();
            for (int p = 0; p < e.made.length; p++) {
                places.put(e.made[p], p);
            }
            for (int p = 0; p < made.length; p++) {
                before[p] = places.getOrDefault(made[p], -1);
            }
        });
        Joints joints = Joints.of(car, solids, gauge);
        for (int a = 0; a < parts.size(); a++) {
            for (int b = a + 1; b < parts.size(); b++) {
                boolean known = before[a] >= 0 && before[b] >= 0;
                scene.verdicts[scene.place(a, b)] = known && same.isPresent()
                        ? same.get().verdicts[same.get().place(before[a], before[b])]
                        : scene.verdict(joints, a, b);
            }
        }
        scene.list();
        return scene;
    }

    /** Where the verdict on a pair is kept. */
    private int place(int a, int b) {
        int low = Math.min(a, b);
        int high = Math.max(a, b);
        return high * (high - 1) / 2 + low;
    }

    private void list() {
        for (int a = 0; a < parts.size(); a++) {
            for (int b = a + 1; b < parts.size(); b++) {
                Verdict verdict = verdicts[place(a, b)];
                if (verdict.reason().isPresent()) {
                    leftOut.add(new LeftOut(
                            parts.get(a).name(),
                            parts.get(b).name(),
                            verdict.reason().get()));
                } else {
                    pairs.add(new Pair(a, b, verdict.requiredMm(), verdict.rule()));
                }
            }
        }
    }

    private Verdict verdict(Joints joints, int a, int b) {
        Optional<String> reason = reasonToLeaveOut(joints, a, b);
        if (reason.isPresent()) {
            return new Verdict(reason, 0, "");
        }
        Optional<Car.Rule> rule = Rules.of(car.rules(), parts.get(a), parts.get(b));
        return new Verdict(
                Optional.empty(),
                rule.map(Car.Rule::atLeastMm).orElse(0.0),
                rule.map(Rules::words).orElse("no rule: must not touch"));
    }

    private Optional<String> reasonToLeaveOut(Joints joints, int a, int b) {
        if (bodies[a] == bodies[b]) {
            return Optional.of("same body: " + workspace.bodyName(bodies[a]));
        }
        for (Car.Exclusion exclusion : car.exclusions()) {
            if (Rules.fits(exclusion.first(), exclusion.second(), parts.get(a), parts.get(b))) {
                return Optional.of(exclusion.reason());
            }
        }
        if (!workspace.moveAgainstOneAnother(bodies[a], bodies[b])) {
            return Optional.of("neither moves against the other");
        }
        return joints.meet(a, b).map(joint -> "joined at the " + joint);
    }

    /** Returns how far apart the rooms are that a pair's parts sweep, mm; zero when they overlap. */
    double apartMm(Pair pair) {
        return made[pair.a()].room().apartMm(made[pair.b()].room());
    }

    /** Returns a short text for messages. */
    @Override
    public String toString() {
        return String.format(Locale.ROOT, "%d parts, %d pairs", parts.size(), pairs.size());
    }
}
