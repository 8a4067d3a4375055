package daylight.linkage;

import daylight.geometry.Direction;
import daylight.geometry.Spot;
import daylight.linkage.Mechanism.Driver;
import daylight.linkage.Mechanism.Follower;
import daylight.linkage.Mechanism.Joint;
import daylight.linkage.Mechanism.LeafModel;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * Takes a mechanism apart into the smallest systems that can be solved one after another.
 *
 * <p>Bodies that a driver places come first. Then, again and again, the smallest set of bodies whose joints, among
 * themselves and to bodies already placed, take away exactly the freedoms that the set has. An anti-roll bar's half
 * is such a set once the arm that its drop link hangs on is placed; so is a follower. Inside a set, an arm that is
 * hinged to the ground and otherwise only carries one ball joint is not solved for: its ball joint moves on a
 * circle, which is two equations on the body at the other side of the ball, and the arm follows afterwards.
 */
final class Planner {
    /** More bodies than this in one mechanism are not searched for subsets, but solved together. */
    private static final int MOST_SEARCHED = 16;
    /** Two axes are the same line within this, mm and (times 100 mm) rad. */
    private static final double SAME_AXIS = 1e-6;
    /** Share of a leaf half's length at which the three-link model's radius arm is pivoted, from the clamp. */
    private static final double LEAF_PIVOT = 0.25;

    private final Mechanism mechanism;
    private final int drivers;
    private final Map<String, Integer> index = new HashMap<>();
    private final boolean[] placed;
    private final boolean[] follows;
    private final boolean[][] moves;
    private final Set<Joint> used = new LinkedHashSet<>();
    final List<LoopPlan> plans = new ArrayList<>();
    final double[] reference;

    Planner(Mechanism mechanism) {
        this.mechanism = mechanism;
        drivers = mechanism.drivers().size();
        int bodies = mechanism.bodies().size() + 1;
        index.put(Mechanism.GROUND, 0);
        for (int b = 1; b < bodies; b++) {
            index.put(mechanism.bodies().get(b - 1), b);
        }
        placed = new boolean[bodies];
        follows = new boolean[bodies];
        moves = new boolean[bodies][drivers];
        reference = new double[3 * bodies];
        placed[0] = true;
        references();
        for (Follower f : mechanism.followers()) {
            follows[at(f.body())] = true;
        }
        for (int d = 0; d < drivers; d++) {
            placeByDriver(d);
        }
        boolean going = true;
        while (going) {
            going = placeFollower() || placeSet();
        }
        complainIfUnfinished();
    }

    private int at(String body) {
        Integer k = index.get(body);
        if (k == null) {
            throw new IllegalArgumentException("no body is called " + body);
        }
        return k;
    }

    private String name(int body) {
        return body == 0 ? Mechanism.GROUND : mechanism.bodies().get(body - 1);
    }

    // ---------------------------------------------------------------- reference spots

    private void references() {
        int bodies = placed.length;
        double[] sum = new double[3 * bodies];
        int[] count = new int[bodies];
        for (Joint joint : mechanism.joints()) {
            int a = at(joint.bodyA());
            int b = at(joint.bodyB());
            if (joint instanceof Joint.Ball j) {
                add(sum, count, a, j.at());
                add(sum, count, b, j.at());
            } else if (joint instanceof Joint.Hinge j) {
                for (int k : new int[] {a, b}) {
                    add(sum, count, k, j.first());
                    add(sum, count, k, j.second());
                }
            } else if (joint instanceof Joint.Rod j) {
                add(sum, count, a, j.onA());
                add(sum, count, b, j.onB());
            } else if (joint instanceof Joint.Slide j) {
                add(sum, count, a, j.at());
                add(sum, count, b, j.at());
            } else if (joint instanceof Joint.Guide j) {
                add(sum, count, a, j.spotOfA());
                add(sum, count, b, j.onLineOfB());
            } else if (joint instanceof Joint.Plane j) {
                add(sum, count, a, j.spotOfA());
                add(sum, count, b, j.spotOfA());
            } else if (joint instanceof Joint.Leaf j) {
                add(sum, count, a, j.pad());
                add(sum, count, b, j.eye());
            }
        }
        for (Driver driver : mechanism.drivers()) {
            if (driver instanceof Driver.Rise d) {
                add(sum, count, at(d.body()), d.spot());
            } else if (driver instanceof Driver.Turn d) {
                add(sum, count, at(d.body()), d.first());
                add(sum, count, at(d.body()), d.second());
            }
        }
        for (Follower follower : mechanism.followers()) {
            if (follower instanceof Follower.Aim aim) {
                add(sum, count, at(aim.bodyA()), aim.onA());
                add(sum, count, at(aim.bodyB()), aim.onB());
            }
        }
        for (int b = 1; b < bodies; b++) {
            for (int c = 0; c < 3; c++) {
                reference[3 * b + c] = count[b] == 0 ? 0 : sum[3 * b + c] / count[b];
            }
        }
        for (Follower follower : mechanism.followers()) {
            if (follower instanceof Follower.Aim aim) {
                set(reference, 3 * at(aim.body()), aim.onA());
            }
        }
    }

    private static void add(double[] sum, int[] count, int body, Spot spot) {
        sum[3 * body] += spot.x();
        sum[3 * body + 1] += spot.y();
        sum[3 * body + 2] += spot.z();
        count[body]++;
    }

    private static void set(double[] into, int at, Spot spot) {
        into[at] = spot.x();
        into[at + 1] = spot.y();
        into[at + 2] = spot.z();
    }

    private static void set(double[] into, Direction d) {
        into[0] = d.x();
        into[1] = d.y();
        into[2] = d.z();
    }

    // ---------------------------------------------------------------- drivers and followers

    private void placeByDriver(int d) {
        Driver driver = mechanism.drivers().get(d);
        if (!(driver instanceof Driver.Travel) && !(driver instanceof Driver.Turn)) {
            return;
        }
        LoopPlan plan = new LoopPlan(Loop.BY_DRIVER, d, drivers);
        LoopPlan.Unknown unknown;
        if (driver instanceof Driver.Travel travel) {
            unknown = new LoopPlan.Unknown(at(travel.body()), Loop.SLIDING);
            set(unknown.axis, travel.along());
        } else {
            Driver.Turn turn = (Driver.Turn) driver;
            unknown = new LoopPlan.Unknown(at(turn.body()), Loop.HINGED);
            set(unknown.axis, Direction.from(turn.first(), turn.second()));
            set(unknown.foot, 0, turn.first());
        }
        int body = unknown.body;
        if (placed[body] || follows[body]) {
            throw wrong("driver \"" + driver.name() + "\" places body \"" + name(body)
                    + "\", which another driver or follower places already");
        }
        plan.bodies.add(unknown);
        for (Joint joint : mechanism.joints()) {
            if (restatesDriver(joint, driver, body)) {
                used.add(joint);
            }
        }
        finish(plan);
    }

    /** A rack's slide or a pedal's hinge to the ground says again what the driver says. */
    private boolean restatesDriver(Joint joint, Driver driver, int body) {
        int a = at(joint.bodyA());
        int b = at(joint.bodyB());
        if (!(a == 0 && b == body) && !(b == 0 && a == body)) {
            return false;
        }
        if (joint instanceof Joint.Slide slide && driver instanceof Driver.Travel travel) {
            return Math.abs(Math.abs(slide.along().dot(travel.along())) - 1) < SAME_AXIS;
        }
        if (joint instanceof Joint.Hinge hinge && driver instanceof Driver.Turn turn) {
            Direction axis = Direction.from(turn.first(), turn.second());
            return offAxis(turn.first(), axis, hinge.first()) < Mechanism.SAME_SPOT_MM
                    && offAxis(turn.first(), axis, hinge.second()) < Mechanism.SAME_SPOT_MM;
        }
        return false;
    }

    private static Spot foot(Spot onAxis, Direction axis, Spot of) {
        double along =
                (of.x() - onAxis.x()) * axis.x() + (of.y() - onAxis.y()) * axis.y() + (of.z() - onAxis.z()) * axis.z();
        return onAxis.along(axis, along);
    }

    private static double offAxis(Spot onAxis, Direction axis, Spot of) {
        return foot(onAxis, axis, of).distanceTo(of);
    }

    private boolean placeFollower() {
        for (Follower follower : mechanism.followers()) {
            if (follower instanceof Follower.Aim aim) {
                int body = at(aim.body());
                int a = at(aim.bodyA());
                int b = at(aim.bodyB());
                if (!placed[body] && placed[a] && placed[b]) {
                    LoopPlan plan = new LoopPlan(Loop.BY_AIM, -1, drivers);
                    Direction along = Direction.from(aim.onA(), aim.onB());
                    Direction first = across(along);
                    Direction second = cross(along, first);
                    LoopPlan.Unknown unknown = new LoopPlan.Unknown(body, Loop.PINNED);
                    set(unknown.axis, along);
                    unknown.carrier = plan.end(a, aim.onA());
                    plan.bodies.add(unknown);
                    int way = plan.between(a, aim.onA(), b, aim.onB());
                    int firstOfBody = plan.direction(body, first);
                    int secondOfBody = plan.direction(body, second);
                    plan.equation(aim.body(), aim.body()).plus(1, firstOfBody, way);
                    plan.equation(aim.body(), aim.body()).plus(1, secondOfBody, way);
                    // The least turn from ride height has its axis at right angles to the line: R - R^T has no part
                    // along it.
                    plan.radius = aim.onA().distanceTo(aim.onB());
                    plan.equation(aim.body(), aim.body())
                            .plus(plan.radius, plan.direction(0, first), secondOfBody)
                            .plus(-plan.radius, plan.direction(0, second), firstOfBody);
                    depends(plan, a);
                    depends(plan, b);
                    finish(plan);
                    return true;
                }
            }
        }
        return false;
    }

    private void depends(LoopPlan plan, int body) {
        for (int d = 0; d < drivers; d++) {
            plan.moves[d] |= moves[body][d];
        }
    }

    private void finish(LoopPlan plan) {
        plans.add(plan);
        for (LoopPlan.Unknown u : plan.bodies) {
            placed[u.body] = true;
            for (int d = 0; d < drivers; d++) {
                moves[u.body][d] |= plan.moves[d];
            }
        }
    }

    // ---------------------------------------------------------------- sets that are solved together

    private boolean placeSet() {
        List<Integer> open = new ArrayList<>();
        for (int b = 1; b < placed.length; b++) {
            if (!placed[b] && !follows[b]) {
                open.add(b);
            }
        }
        if (open.isEmpty()) {
            return false;
        }
        int count = open.size();
        boolean[] in = new boolean[placed.length];
        if (count > MOST_SEARCHED) {
            for (int b : open) {
                in[b] = true;
            }
            if (freedoms(in) == 0) {
                place(in);
                return true;
            }
            return false;
        }
        for (int size = 1; size <= count; size++) {
            for (int mask = 1; mask < 1 << count; mask++) {
                if (Integer.bitCount(mask) != size) {
                    continue;
                }
                for (int k = 0; k < count; k++) {
                    in[open.get(k)] = (mask & 1 << k) != 0;
                }
                if (freedoms(in) == 0) {
                    place(in);
                    return true;
                }
            }
        }
        return false;
    }

    private static final int NOT_WHOLE = 1000;

    /**
     * Freedoms of the bodies less the equations among them and to bodies already placed; joints that give way hold as
     * many as the others leave, up to their number.
     */
    private int freedoms(boolean[] in) {
        int freedoms = 0;
        int giving = 0;
        boolean[] leafAhead = new boolean[placed.length];
        boolean[] leafBehind = new boolean[placed.length];
        boolean[] leaf = new boolean[placed.length];
        for (int b = 1; b < in.length; b++) {
            freedoms += in[b] ? 6 : 0;
        }
        for (Joint joint : mechanism.joints()) {
            if (joint instanceof Joint.Leaf j && in[at(j.bodyA())] && !joins(joint, in)) {
                // All halves of one axle share conditions, so they are taken together.
                return NOT_WHOLE;
            }
            if (used.contains(joint) || !joins(joint, in)) {
                continue;
            }
            if (!joint.sharing().isEmpty()) {
                for (Joint other : mechanism.joints()) {
                    if (other.sharing().equals(joint.sharing()) && !joins(other, in)) {
                        return NOT_WHOLE;
                    }
                }
                giving++;
                continue;
            }
            if (joint instanceof Joint.Ball) {
                freedoms -= 3;
            } else if (joint instanceof Joint.Hinge || joint instanceof Joint.Slide) {
                freedoms -= 5;
            } else if (joint instanceof Joint.Guide) {
                freedoms -= 2;
            } else {
                freedoms -= 1;
            }
            if (joint instanceof Joint.Leaf j) {
                int axle = at(j.bodyA());
                leaf[axle] = true;
                leafAhead[axle] |= ahead(j);
                leafBehind[axle] |= !ahead(j);
            }
        }
        for (int b = 1; b < in.length; b++) {
            freedoms -= leaf[b] ? 1 : 0;
            freedoms -= leafAhead[b] && leafBehind[b] ? 1 : 0;
        }
        for (Driver driver : mechanism.drivers()) {
            if (driver instanceof Driver.Rise rise && in[at(rise.body())]) {
                freedoms -= 1;
            }
        }
        return freedoms < 0 ? freedoms : Math.max(0, freedoms - giving);
    }

    private boolean joins(Joint joint, boolean[] in) {
        int a = at(joint.bodyA());
        int b = at(joint.bodyB());
        return (in[a] || in[b]) && (in[a] || placed[a]) && (in[b] || placed[b]);
    }

    private void place(boolean[] in) {
        LoopPlan plan = new LoopPlan(Loop.BY_NEWTON, -1, drivers);
        List<LoopPlan> arms = new ArrayList<>();
        Map<Joint.Ball, Joint.Hinge> circles = new HashMap<>();
        for (int b = 1; b < in.length; b++) {
            if (!in[b]) {
                continue;
            }
            Joint.Hinge hinge = null;
            Joint.Slide slide = null;
            Joint.Ball ball = null;
            int others = 0;
            for (Joint joint : mechanism.joints()) {
                if (used.contains(joint) || !joins(joint, in) || (at(joint.bodyA()) != b && at(joint.bodyB()) != b)) {
                    continue;
                }
                boolean toGround = at(joint.bodyA()) == 0 || at(joint.bodyB()) == 0;
                if (joint instanceof Joint.Hinge h && toGround && hinge == null && slide == null) {
                    hinge = h;
                } else if (joint instanceof Joint.Slide s && toGround && hinge == null && slide == null) {
                    slide = s;
                } else if (joint instanceof Joint.Ball candidate && ball == null) {
                    ball = candidate;
                } else {
                    others++;
                }
            }
            for (Driver driver : mechanism.drivers()) {
                if (driver instanceof Driver.Rise rise && at(rise.body()) == b) {
                    others++;
                }
            }
            LoopPlan.Unknown unknown;
            if (hinge != null) {
                unknown = new LoopPlan.Unknown(b, Loop.HINGED);
                set(unknown.axis, Direction.from(hinge.first(), hinge.second()));
                set(unknown.foot, 0, hinge.first());
                used.add(hinge);
            } else if (slide != null) {
                unknown = new LoopPlan.Unknown(b, Loop.SLIDING);
                set(unknown.axis, slide.along());
                used.add(slide);
            } else {
                unknown = new LoopPlan.Unknown(b, Loop.FREE);
            }
            int far = ball == null ? 0 : at(ball.bodyA()) == b ? at(ball.bodyB()) : at(ball.bodyA());
            if (hinge != null && ball != null && others == 0 && in[far] && !circles.containsKey(ball)) {
                circles.put(ball, hinge);
                arms.add(armPlan(unknown, hinge, ball, far));
            } else {
                plan.bodies.add(unknown);
            }
        }
        for (Joint joint : mechanism.joints()) {
            if (used.contains(joint) || !joins(joint, in)) {
                continue;
            }
            if (joint instanceof Joint.Ball ball && circles.containsKey(ball)) {
                circle(plan, ball, circles.get(ball));
            } else if (!joint.sharing().isEmpty()) {
                giving(plan, joint);
            } else {
                equations(plan, joint);
            }
            used.add(joint);
            depends(plan, at(joint.bodyA()));
            depends(plan, at(joint.bodyB()));
        }
        leafConditions(plan, in);
        for (int d = 0; d < drivers; d++) {
            Driver driver = mechanism.drivers().get(d);
            if (driver instanceof Driver.Rise rise && in[at(rise.body())]) {
                int up = plan.direction(0, Direction.UP);
                int way = plan.between(0, rise.spot(), at(rise.body()), rise.spot());
                LoopPlan.Equation e = plan.equation(rise.name(), rise.body()).plus(1, up, way);
                e.driver = d;
                plan.moves[d] = true;
            }
        }
        plan.radius = radius(plan);
        finish(plan);
        for (LoopPlan arm : arms) {
            for (int d = 0; d < drivers; d++) {
                arm.moves[d] = plan.moves[d];
            }
            finish(arm);
        }
    }

    /** A typical distance of the joints from the reference spots of the bodies solved for. */
    private double radius(LoopPlan plan) {
        double sum = 0;
        int count = 0;
        for (LoopPlan.End end : plan.endpoints) {
            for (LoopPlan.Unknown u : plan.bodies) {
                if (u.body == end.body && !end.direction) {
                    double x = end.at[0] - reference[3 * u.body];
                    double y = end.at[1] - reference[3 * u.body + 1];
                    double z = end.at[2] - reference[3 * u.body + 2];
                    sum += x * x + y * y + z * z;
                    count++;
                }
            }
        }
        return count == 0 ? 100 : Math.max(LEAST_RADIUS, Math.sqrt(sum / count));
    }

    private static final double LEAST_RADIUS = 10;

    private LoopPlan armPlan(LoopPlan.Unknown unknown, Joint.Hinge hinge, Joint.Ball ball, int far) {
        LoopPlan plan = new LoopPlan(Loop.BY_ARM, -1, drivers);
        Direction axis = Direction.from(hinge.first(), hinge.second());
        Spot foot = foot(hinge.first(), axis, ball.at());
        double radius = foot.distanceTo(ball.at());
        if (!(radius > Mechanism.SAME_SPOT_MM)) {
            throw wrong("ball joint \"" + ball.name() + "\" lies on the axis of hinge \"" + hinge.name() + "\" (within "
                    + radius + " mm), so the arm between them cannot be placed");
        }
        Direction radial = Direction.from(foot, ball.at());
        set(unknown.foot, 0, foot);
        plan.radius = radius;
        plan.bodies.add(unknown);
        Direction tangent = cross(axis, radial);
        plan.equation(ball.name(), ball.bodyA() + " and " + ball.bodyB())
                .plus(1, plan.direction(unknown.body, tangent), plan.between(0, foot, far, ball.at()));
        return plan;
    }

    private void circle(LoopPlan plan, Joint.Ball ball, Joint.Hinge hinge) {
        int a = at(ball.bodyA());
        int arm = at(hinge.bodyA()) == 0 ? at(hinge.bodyB()) : at(hinge.bodyA());
        int far = a == arm ? at(ball.bodyB()) : a;
        Direction axis = Direction.from(hinge.first(), hinge.second());
        Spot foot = foot(hinge.first(), axis, ball.at());
        int way = plan.between(0, foot, far, ball.at());
        String pair = ball.bodyA() + " and " + ball.bodyB();
        plan.equation(ball.name(), pair).plus(1, plan.direction(0, axis), way);
        plan.equation(ball.name(), pair).plus(0.5 / foot.distanceTo(ball.at()), way, way);
    }

    private void equations(LoopPlan plan, Joint joint) {
        int a = at(joint.bodyA());
        int b = at(joint.bodyB());
        String pair = joint.bodyA() + " and " + joint.bodyB();
        if (joint instanceof Joint.Ball ball) {
            together(plan, ball.name(), pair, a, b, ball.at());
        } else if (joint instanceof Joint.Hinge hinge) {
            Direction axis = Direction.from(hinge.first(), hinge.second());
            double length = hinge.first().distanceTo(hinge.second());
            together(plan, hinge.name(), pair, a, b, hinge.first());
            int along = plan.direction(a, axis);
            Direction first = across(axis);
            plan.equation(hinge.name(), pair).plus(length, along, plan.direction(b, first));
            plan.equation(hinge.name(), pair).plus(length, along, plan.direction(b, cross(axis, first)));
        } else if (joint instanceof Joint.Rod rod) {
            int way = plan.between(a, rod.onA(), b, rod.onB());
            double length = rod.onA().distanceTo(rod.onB());
            LoopPlan.Equation e = plan.equation(rod.name(), pair).plus(0.5 / length, way, way);
            for (int d = 0; d < drivers; d++) {
                if (mechanism.drivers().get(d) instanceof Driver.RodLength driver
                        && driver.rod().equals(rod.name())) {
                    e.driver = d;
                    e.rodLength = length;
                    plan.moves[d] = true;
                }
            }
        } else if (joint instanceof Joint.Slide slide) {
            Direction first = across(slide.along());
            Direction second = cross(slide.along(), first);
            int way = plan.between(a, slide.at(), b, slide.at());
            plan.equation(slide.name(), pair).plus(1, plan.direction(a, first), way);
            plan.equation(slide.name(), pair).plus(1, plan.direction(a, second), way);
            plan.equation(slide.name(), pair)
                    .plus(SLIDE_LENGTH, plan.direction(a, slide.along()), plan.direction(b, first));
            plan.equation(slide.name(), pair).plus(SLIDE_LENGTH, plan.direction(a, first), plan.direction(b, second));
            plan.equation(slide.name(), pair)
                    .plus(SLIDE_LENGTH, plan.direction(a, second), plan.direction(b, slide.along()));
        } else if (joint instanceof Joint.Guide guide) {
            Direction first = across(guide.alongB());
            int way = plan.between(b, guide.onLineOfB(), a, guide.spotOfA());
            plan.equation(guide.name(), pair).plus(1, plan.direction(b, first), way);
            plan.equation(guide.name(), pair).plus(1, plan.direction(b, cross(guide.alongB(), first)), way);
        } else if (joint instanceof Joint.Plane plane) {
            int way = plan.between(b, plane.spotOfA(), a, plane.spotOfA());
            plan.equation(plane.name(), pair).plus(1, plan.direction(b, plane.normalB()), way);
        } else if (joint instanceof Joint.Leaf leaf) {
            Mechanism.LeafClamp clamp = leaf.clamp();
            if (leaf.model() == LeafModel.EVEN_CURVE) {
                int way = plan.between(a, leaf.pad(), b, leaf.eye());
                LoopPlan.Equation e = plan.equation(leaf.name(), pair)
                        .plus(1, way, plan.direction(a, clamp.out()))
                        .plus(1, way, plan.direction(a, clamp.up()));
                e.curved = true;
            } else {
                Spot pivot = leaf.pad().along(clamp.out(), LEAF_PIVOT * clamp.lengthMm());
                int way = plan.between(a, pivot, b, leaf.eye());
                plan.equation(leaf.name(), pair).plus(0.5 / pivot.distanceTo(leaf.eye()), way, way);
            }
        }
    }

    private static final double SLIDE_LENGTH = 100;

    /** What a joint that gives way would hold; {@link Loop} makes equations of all of them. */
    private void giving(LoopPlan plan, Joint joint) {
        int a = at(joint.bodyA());
        int b = at(joint.bodyB());
        LoopPlan.Equation e = plan.giving(joint.sharing(), joint.bodyA() + " and " + joint.bodyB(), joint.stiffness());
        if (joint instanceof Joint.Rod rod) {
            int way = plan.between(a, rod.onA(), b, rod.onB());
            e.plus(0.5 / rod.onA().distanceTo(rod.onB()), way, way);
        } else if (joint instanceof Joint.Plane plane) {
            int way = plan.between(b, plane.spotOfA(), a, plane.spotOfA());
            e.plus(1, plan.direction(b, plane.normalB()), way);
        }
    }

    private static void together(LoopPlan plan, String name, String pair, int a, int b, Spot at) {
        int way = plan.between(a, at, b, at);
        plan.equation(name, pair).plus(1, plan.direction(0, Direction.FORWARD), way);
        plan.equation(name, pair).plus(1, plan.direction(0, Direction.LEFT), way);
        plan.equation(name, pair).plus(1, plan.direction(0, Direction.UP), way);
    }

    // ---------------------------------------------------------------- leaf springs

    private static boolean ahead(Joint.Leaf leaf) {
        Direction out = leaf.clamp().out();
        return Math.abs(out.x()) >= Math.abs(out.y()) ? out.x() > 0 : out.y() > 0;
    }

    /** The two conditions that all leaf halves of one axle share; see {@link Linkage}. */
    private void leafConditions(LoopPlan plan, boolean[] in) {
        for (int axle = 1; axle < in.length; axle++) {
            List<Joint.Leaf> leaves = new ArrayList<>();
            boolean ahead = false;
            boolean behind = false;
            double mean = 0;
            for (Joint joint : mechanism.joints()) {
                if (joint instanceof Joint.Leaf leaf && at(leaf.bodyA()) == axle && joins(joint, in)) {
                    leaves.add(leaf);
                    ahead |= ahead(leaf);
                    behind |= !ahead(leaf);
                    mean += leaf.clamp().lengthMm();
                }
            }
            if (leaves.isEmpty()) {
                continue;
            }
            mean /= leaves.size();
            String springs = name(axle) + " and its springs";
            LoopPlan.Equation sideways = plan.equation("leaf springs sideways", springs);
            LoopPlan.Equation windUp =
                    ahead && behind ? plan.equation("leaf springs against wind-up", springs) : sideways;
            for (Joint.Leaf leaf : leaves) {
                int way = plan.between(axle, leaf.pad(), at(leaf.bodyB()), leaf.eye());
                double sign = ahead(leaf) ? 1 : -1;
                double share = sign * 0.5 / leaves.size();
                Mechanism.LeafClamp clamp = leaf.clamp();
                sideways.plus(share, plan.direction(axle, cross(clamp.up(), clamp.out())), way);
                sideways.plus(share, plan.direction(0, clamp.acrossCar()), way);
                if (ahead && behind) {
                    double ratio = mean / clamp.lengthMm();
                    windUp.plus(sign * ratio * ratio / leaves.size(), plan.direction(axle, clamp.up()), way);
                }
            }
        }
    }

    // ---------------------------------------------------------------- directions

    static Direction across(Direction d) {
        double x = Math.abs(d.x());
        double y = Math.abs(d.y());
        double z = Math.abs(d.z());
        Direction least = x <= y && x <= z ? Direction.FORWARD : y <= z ? Direction.LEFT : Direction.UP;
        return cross(d, least);
    }

    static Direction cross(Direction a, Direction b) {
        return Direction.of(
                a.y() * b.z() - a.z() * b.y(), a.z() * b.x() - a.x() * b.z(), a.x() * b.y() - a.y() * b.x());
    }

    // ---------------------------------------------------------------- complaints

    private void complainIfUnfinished() {
        Set<String> open = new LinkedHashSet<>();
        boolean[] in = new boolean[placed.length];
        for (int b = 1; b < placed.length; b++) {
            if (!placed[b]) {
                open.add(name(b));
                in[b] = !follows[b];
            }
        }
        if (!open.isEmpty()) {
            int freedoms = freedoms(in);
            throw wrong("bodies " + open + " cannot be placed: their joints and drivers "
                    + (freedoms > 0
                            ? "leave " + freedoms + " movement(s) free"
                            : freedoms < 0
                                    ? "ask for " + -freedoms + " thing(s) too many"
                                    : "hold some of them twice and others not at all"));
        }
        for (Joint joint : mechanism.joints()) {
            if (!used.contains(joint)) {
                throw wrong("joint \"" + joint.name() + "\" asks for one thing too many: " + joint.bodyA() + " and "
                        + joint.bodyB() + " are placed without it");
            }
        }
        for (Driver driver : mechanism.drivers()) {
            if (driver instanceof Driver.RodLength length) {
                boolean found = plans.stream()
                        .flatMap(p -> p.equations.stream())
                        .anyMatch(e -> e.rodLength > 0 && e.joint.equals(length.rod()));
                if (!found) {
                    throw wrong("driver \"" + driver.name() + "\" changes a rod that moves nothing");
                }
            }
        }
    }

    private IllegalArgumentException wrong(String what) {
        return new IllegalArgumentException(mechanism.name() + ": " + what);
    }
}
