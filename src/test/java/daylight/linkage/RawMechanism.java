package daylight.linkage;

import daylight.geometry.Direction;
import daylight.geometry.Spot;
import daylight.linkage.Mechanism.Driver;
import daylight.linkage.Mechanism.Follower;
import daylight.linkage.Mechanism.Joint;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.TreeMap;
import org.apache.commons.math3.geometry.euclidean.threed.Rotation;
import org.apache.commons.math3.geometry.euclidean.threed.RotationConvention;
import org.apache.commons.math3.geometry.euclidean.threed.Vector3D;
import org.hipparchus.linear.Array2DRowRealMatrix;
import org.hipparchus.linear.ArrayRealVector;
import org.hipparchus.linear.RealVector;
import org.hipparchus.optim.nonlinear.vector.leastsquares.LeastSquaresBuilder;
import org.hipparchus.optim.nonlinear.vector.leastsquares.LevenbergMarquardtOptimizer;
import org.hipparchus.optim.nonlinear.vector.leastsquares.MultivariateJacobianFunction;
import org.hipparchus.util.Pair;

/**
 * A mechanism as its raw equations, for a general least-squares solver: every body has a rotation vector and a shift,
 * every joint says how far it is open in plain lengths, derivatives are differences. Nothing is shared with the engine
 * but the words of the mechanism: no spanning tree, no products, no closed forms, no branch rules.
 *
 * <p>Joints that give way count by the root of their stiffness, all others {@value #EXACT} times as much: the least
 * squares are then the least elastic energy.
 */
final class RawMechanism {
    private static final double EXACT = 1e4;
    private static final int STEPS = 8;

    private final Mechanism mechanism;
    private final boolean givesWay;
    private final Map<String, Integer> index = new HashMap<>();
    private final List<Vector3D> middle = new ArrayList<>();
    private final Map<String, Follower.Aim> followers = new HashMap<>();
    private double[] x;

    RawMechanism(Mechanism mechanism) {
        this.mechanism = mechanism;
        givesWay = mechanism.joints().stream().anyMatch(j -> !j.sharing().isEmpty());
        mechanism.followers().forEach(f -> followers.put(f.body(), (Follower.Aim) f));
        Linkage only = Linkage.of(mechanism);
        for (String body : mechanism.bodies()) {
            if (!followers.containsKey(body)) {
                index.put(body, middle.size());
                // Any spot does; one near the body keeps turns and shifts apart.
                middle.add(v(only.reference(mechanism.bodies().indexOf(body))));
            }
        }
        x = new double[6 * middle.size()];
    }

    private static Vector3D v(Spot s) {
        return new Vector3D(s.x(), s.y(), s.z());
    }

    private static Vector3D v(Direction d) {
        return new Vector3D(d.x(), d.y(), d.z());
    }

    /** A body's rotation and the place of its middle. */
    private record Place(Rotation turn, Vector3D middle, Vector3D at) {
        Vector3D of(Vector3D spot) {
            return turn.applyTo(spot.subtract(middle)).add(at);
        }
    }

    private static final Place GROUND = new Place(Rotation.IDENTITY, Vector3D.ZERO, Vector3D.ZERO);

    private Place place(double[] at, String body) {
        if (body.equals(Mechanism.GROUND)) {
            return GROUND;
        }
        Follower.Aim aim = followers.get(body);
        if (aim != null) {
            Vector3D from = v(aim.onA());
            Vector3D now = place(at, aim.bodyA()).of(from);
            Vector3D to = place(at, aim.bodyB()).of(v(aim.onB()));
            // Turns the one vector into the other about their common normal.
            return new Place(new Rotation(v(aim.onB()).subtract(from), to.subtract(now)), from, now);
        }
        int k = Objects.requireNonNull(index.get(body));
        Vector3D turn = new Vector3D(at[6 * k], at[6 * k + 1], at[6 * k + 2]);
        Rotation r = turn.getNorm() < 1e-300
                ? Rotation.IDENTITY
                : new Rotation(turn, turn.getNorm(), RotationConvention.VECTOR_OPERATOR);
        return new Place(
                r, middle.get(k), middle.get(k).add(new Vector3D(at[6 * k + 3], at[6 * k + 4], at[6 * k + 5])));
    }

    /** Appends rows. */
    private static final class Rows {
        private final List<Double> rows = new ArrayList<>();
        private final double exact;

        Rows(double exact) {
            this.exact = exact;
        }

        void open(double mm) {
            rows.add(exact * mm);
        }

        void open(Vector3D mm) {
            open(mm.getX());
            open(mm.getY());
            open(mm.getZ());
        }

        void gives(double stiffness, double mm) {
            rows.add(Math.sqrt(stiffness) * mm);
        }
    }

    private double[] residuals(double[] at, double[] q) {
        Rows rows = new Rows(givesWay ? EXACT : 1);
        for (Joint joint : mechanism.joints()) {
            Place a = place(at, joint.bodyA());
            Place b = place(at, joint.bodyB());
            if (joint instanceof Joint.Ball j) {
                rows.open(a.of(v(j.at())).subtract(b.of(v(j.at()))));
            } else if (joint instanceof Joint.Hinge j) {
                rows.open(a.of(v(j.first())).subtract(b.of(v(j.first()))));
                rows.open(a.of(v(j.second())).subtract(b.of(v(j.second()))));
            } else if (joint instanceof Joint.Rod j) {
                double longer = 0;
                for (int i = 0; i < q.length; i++) {
                    if (mechanism.drivers().get(i) instanceof Driver.RodLength d
                            && d.rod().equals(j.name())) {
                        longer = q[i];
                    }
                }
                double open =
                        a.of(v(j.onA())).distance(b.of(v(j.onB()))) - v(j.onA()).distance(v(j.onB())) - longer;
                give(rows, joint, open);
            } else if (joint instanceof Joint.Guide j) {
                rows.open(off(j.spotOfA(), j.onLineOfB(), j.alongB(), a, b)
                        .subtract(off(j.spotOfA(), j.onLineOfB(), j.alongB(), GROUND, GROUND)));
            } else if (joint instanceof Joint.Plane j) {
                Vector3D away = a.of(v(j.spotOfA())).subtract(b.of(v(j.spotOfA())));
                give(rows, joint, away.dotProduct(b.turn().applyTo(v(j.normalB()))));
            } else if (joint instanceof Joint.Leaf j) {
                leaf(rows, j, a, b);
            } else {
                throw new AssertionError("no raw equation for " + joint);
            }
        }
        axles(rows, at);
        for (int i = 0; i < q.length; i++) {
            Driver driver = mechanism.drivers().get(i);
            if (driver instanceof Driver.Rise d) {
                rows.open(place(at, d.body()).of(v(d.spot())).getZ() - d.spot().z() - q[i]);
            } else if (driver instanceof Driver.Travel d) {
                for (Vector3D spot : around(d.body())) {
                    rows.open(place(at, d.body()).of(spot).subtract(spot.add(q[i], v(d.along()))));
                }
            } else if (driver instanceof Driver.Turn d) {
                Vector3D axis = v(d.second()).subtract(v(d.first()));
                Rotation turn = new Rotation(axis, q[i], RotationConvention.VECTOR_OPERATOR);
                for (Vector3D spot : around(d.body())) {
                    Vector3D wanted = turn.applyTo(spot.subtract(v(d.first()))).add(v(d.first()));
                    rows.open(place(at, d.body()).of(spot).subtract(wanted));
                }
            }
        }
        return rows.rows.stream().mapToDouble(Double::doubleValue).toArray();
    }

    private static void give(Rows rows, Joint joint, double open) {
        if (joint.sharing().isEmpty()) {
            rows.open(open);
        } else {
            rows.gives(joint.stiffness(), open);
        }
    }

    /** Where a spot is off a line of the other body, in that body's own axes. */
    private static Vector3D off(Spot spot, Spot on, Direction along, Place a, Place b) {
        Vector3D line = b.turn().applyTo(v(along));
        Vector3D way = a.of(v(spot)).subtract(b.of(v(on)));
        return b.turn().applyInverseTo(way.subtract(way.dotProduct(line), line));
    }

    private static final Vector3D UP = new Vector3D(0, 0, 1);

    private static Vector3D level(Joint.Leaf j) {
        return new Vector3D(j.eye().x() - j.pad().x(), j.eye().y() - j.pad().y(), 0).normalize();
    }

    /** Arc length of an even curve that leaves the pad level and ends at (along, above): chord times half angle over sine. */
    private static double arc(double along, double above) {
        double alpha = Math.atan2(above, along);
        return Math.hypot(along, above) * (Math.abs(alpha) < 1e-9 ? 1 : alpha / Math.sin(alpha));
    }

    private static void leaf(Rows rows, Joint.Leaf j, Place axle, Place other) {
        Vector3D out = level(j);
        Vector3D rest = v(j.eye()).subtract(v(j.pad()));
        double length = arc(rest.dotProduct(out), rest.getZ());
        Vector3D eye = other.of(v(j.eye()));
        if (j.model() == Mechanism.LeafModel.THREE_LINK) {
            Vector3D pivot = v(j.pad()).add(length / 4, out);
            rows.open(axle.of(pivot).distance(eye) - pivot.distance(v(j.eye())));
        } else {
            Vector3D way = axle.turn().applyInverseTo(eye.subtract(axle.of(v(j.pad()))));
            rows.open(arc(way.dotProduct(out), way.getZ()) - length);
        }
    }

    /** What the springs of an axle share, as {@link Linkage} describes it: sideways, and against wind-up. */
    private void axles(Rows rows, double[] at) {
        Map<String, List<Joint.Leaf>> springs = new TreeMap<>();
        mechanism.joints().forEach(joint -> {
            if (joint instanceof Joint.Leaf leaf) {
                springs.computeIfAbsent(leaf.bodyA(), k -> new ArrayList<>()).add(leaf);
            }
        });
        springs.forEach((axle, halves) -> {
            Place a = place(at, axle);
            double sideways = 0;
            double windUp = 0;
            double mean = 0;
            for (Joint.Leaf j : halves) {
                Vector3D rest = v(j.eye()).subtract(v(j.pad()));
                mean += arc(rest.dotProduct(level(j)), rest.getZ()) / halves.size();
            }
            for (Joint.Leaf j : halves) {
                Vector3D rest = v(j.eye()).subtract(v(j.pad()));
                Vector3D way = place(at, j.bodyB()).of(v(j.eye())).subtract(a.of(v(j.pad())));
                double ahead = rest.getX() > 0 ? 1 : -1;
                Vector3D across = UP.crossProduct(level(j)).scalarMultiply(ahead);
                sideways += 0.5 * (way.dotProduct(a.turn().applyTo(across)) + way.dotProduct(across))
                        - rest.dotProduct(across);
                double length = arc(rest.dotProduct(level(j)), rest.getZ()) / mean;
                double deflection = way.dotProduct(a.turn().applyTo(UP)) - rest.getZ();
                windUp += ahead * deflection / (length * length);
            }
            rows.open(sideways / halves.size());
            rows.open(windUp / halves.size());
        });
    }

    private List<Vector3D> around(String body) {
        Vector3D m = middle.get(Objects.requireNonNull(index.get(body)));
        return List.of(m, m.add(new Vector3D(200, 0, 0)), m.add(new Vector3D(0, 150, 100)));
    }

    /** Goes from ride height to driver values in steps. */
    void solve(double[] q) {
        x = new double[x.length];
        for (int k = 1; k <= STEPS; k++) {
            double[] part = new double[q.length];
            for (int i = 0; i < q.length; i++) {
                part[i] = q[i] * k / STEPS;
            }
            x = settle(x, part);
        }
    }

    private double[] settle(double[] start, double[] q) {
        int rows = residuals(start, q).length;
        MultivariateJacobianFunction model = point -> {
            double[] at = point.toArray();
            double[][] jacobian = new double[rows][at.length];
            for (int m = 0; m < at.length; m++) {
                double h = m % 6 < 3 ? 1e-5 : 1e-3;
                double[] up = at.clone();
                double[] down = at.clone();
                up[m] += h;
                down[m] -= h;
                double[] a = residuals(up, q);
                double[] b = residuals(down, q);
                for (int row = 0; row < rows; row++) {
                    jacobian[row][m] = (a[row] - b[row]) / (2 * h);
                }
            }
            RealVector value = new ArrayRealVector(residuals(at, q), false);
            return new Pair<>(value, new Array2DRowRealMatrix(jacobian, false));
        };
        return new LevenbergMarquardtOptimizer()
                .withCostRelativeTolerance(1e-15)
                .withParameterRelativeTolerance(1e-15)
                .withOrthoTolerance(1e-15)
                .optimize(new LeastSquaresBuilder()
                        .start(start)
                        .model(model)
                        .target(new double[rows])
                        .lazyEvaluation(false)
                        .maxEvaluations(1000)
                        .maxIterations(1000)
                        .build())
                .getPoint()
                .toArray();
    }

    /** Returns where a spot of a body is at the last position. */
    Spot where(String body, Spot spot) {
        Vector3D at = place(x, body).of(v(spot));
        return new Spot(at.getX(), at.getY(), at.getZ());
    }
}
