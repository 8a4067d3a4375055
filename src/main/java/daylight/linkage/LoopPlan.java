package daylight.linkage;

import daylight.geometry.Direction;
import daylight.geometry.Spot;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** What a {@link Loop} is made of, written down while a mechanism is compiled. */
final class LoopPlan {

    /** A body that this loop places. */
    static final class Unknown {
        final int body;
        final int kind;
        final double[] axis = new double[3];
        final double[] foot = new double[3];
        int carrier = -1;

        Unknown(int body, int kind) {
            this.body = body;
            this.kind = kind;
        }

        int unknowns() {
            return kind == Loop.FREE ? 6 : kind == Loop.PINNED ? 3 : 1;
        }
    }

    /** One end of a vector: a spot of a body in the car frame at ride height, or a direction of it. */
    static final class End {
        final int body;
        final boolean direction;
        final double[] at;

        End(int body, boolean direction, double x, double y, double z) {
            this.body = body;
            this.direction = direction;
            at = new double[] {x, y, z};
        }
    }

    private record Place(int body, boolean direction, double x, double y, double z) {}

    record Vector(int plus, int minus) {}

    record Term(double weight, int a, int b) {}

    /** A sum of products that keeps its value at ride height, or follows a driver. */
    static final class Equation {
        final String joint;
        final String between;
        final List<Term> terms = new ArrayList<>();
        boolean curved;
        int driver = -1;
        double rodLength;
        /** Of a joint that gives way, N/mm. */
        double stiffness = 1;

        Equation(String joint, String between) {
            this.joint = joint;
            this.between = between;
        }

        Equation plus(double weight, int a, int b) {
            terms.add(new Term(weight, a, b));
            return this;
        }
    }

    final int how;
    final int driver;
    final List<Unknown> bodies = new ArrayList<>();
    final List<End> endpoints = new ArrayList<>();
    final List<Vector> vectors = new ArrayList<>();
    final List<Equation> equations = new ArrayList<>();
    /** Joints that give way: what each would hold if it were met exactly. */
    final List<Equation> giving = new ArrayList<>();

    final boolean[] moves;
    double radius = 100;
    private final Map<Place, Integer> ends = new HashMap<>();
    private final Map<Vector, Integer> known = new HashMap<>();

    LoopPlan(int how, int driver, int drivers) {
        this.how = how;
        this.driver = driver;
        moves = new boolean[drivers];
        if (driver >= 0) {
            moves[driver] = true;
        }
    }

    int[] activeDrivers() {
        int count = 0;
        for (boolean m : moves) {
            count += m ? 1 : 0;
        }
        int[] active = new int[count];
        int k = 0;
        for (int i = 0; i < moves.length; i++) {
            if (moves[i]) {
                active[k++] = i;
            }
        }
        return active;
    }

    int end(int body, Spot spot) {
        return end(new End(body, false, spot.x(), spot.y(), spot.z()));
    }

    private int end(End end) {
        return ends.computeIfAbsent(new Place(end.body, end.direction, end.at[0], end.at[1], end.at[2]), k -> {
            endpoints.add(end);
            return endpoints.size() - 1;
        });
    }

    /** The vector from a spot of one body to a spot of another. */
    int between(int fromBody, Spot from, int toBody, Spot to) {
        return vector(new Vector(end(toBody, to), end(fromBody, from)));
    }

    int direction(int body, Direction d) {
        return vector(new Vector(end(new End(body, true, d.x(), d.y(), d.z())), -1));
    }

    private int vector(Vector v) {
        return known.computeIfAbsent(v, k -> {
            vectors.add(v);
            return vectors.size() - 1;
        });
    }

    Equation equation(String joint, String between) {
        Equation e = new Equation(joint, between);
        equations.add(e);
        return e;
    }

    Equation giving(String joint, String between, double stiffness) {
        Equation e = new Equation(joint, between);
        e.stiffness = stiffness;
        giving.add(e);
        return e;
    }

    int unknowns() {
        return bodies.stream().mapToInt(Unknown::unknowns).sum();
    }
}
