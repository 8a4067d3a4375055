package daylight.hose;

import daylight.geometry.Pose;
import daylight.motion.Kinematics;
import java.util.Arrays;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;

/**
 * Where all bodies stand at handle values that were asked for before: the lengths and settings of one line are walked
 * over the same positions. One thread.
 */
final class Stances {
    /** So many positions are kept, some 10 kB each; beyond them positions are solved anew. */
    private static final int MOST = 5000;

    private final int most;

    final Kinematics kinematics;
    private final Map<Key, Pose[]> known = new HashMap<>();
    private final Pose[] cannot = {};
    private String why = "";

    /** Handle values by what they are. */
    private static final class Key {
        private final double[] values;
        private final int hash;

        Key(double[] values) {
            this.values = values;
            hash = Arrays.hashCode(values);
        }

        @Override
        public boolean equals(Object other) {
            return other instanceof Key key && Arrays.equals(values, key.values);
        }

        @Override
        public int hashCode() {
            return hash;
        }
    }

    Stances(Kinematics kinematics) {
        this(kinematics, MOST);
    }

    /** @param most so many positions are kept */
    Stances(Kinematics kinematics, int most) {
        this.kinematics = kinematics;
        this.most = most;
    }

    /**
     * Returns every body's pose, unshifted, by number; an empty array where the car cannot stand.
     *
     * @param values one per handle; not modified
     */
    Pose[] at(double[] values) {
        Pose[] poses = known.get(new Key(values));
        if (poses == null) {
            poses = solve(values);
            if (known.size() < most) {
                known.put(new Key(values.clone()), poses);
            }
        }
        return poses;
    }

    /** Returns why the car could not stand where it was last found not to. */
    String why() {
        return why;
    }

    private Pose[] solve(double[] values) {
        Optional<String> trouble = kinematics.stand(values);
        if (trouble.isPresent()) {
            why = trouble.get();
            return cannot;
        }
        Pose[] poses = new Pose[kinematics.workspace().bodyCount()];
        for (int body = 0; body < poses.length; body++) {
            poses[body] = kinematics.pose(body);
        }
        return poses;
    }
}
