package daylight.geometry;

import daylight.geometry.RestingPlane.Disc;
import daylight.geometry.RestingPlane.Plane;
import daylight.geometry.RestingPlane.V;
import java.util.Optional;

/**
 * Three discs that a plane touches from below, over a box of motion: the share of {@link RestingPlane#floor} that is the
 * same for everything that is measured against the plane. Immutable; the terms are explained there. Frame: the one the
 * wanders lead to; mm.
 */
public final class Tripod {
    private final boolean vague;
    Direction up = Direction.UP;
    /** The spots at which the discs touch the plane at the centre, rounded so that the normal points up. */
    final V[] touch = new V[3];

    V u = V.NONE;
    V w = V.NONE;
    V n = V.NONE;
    V unit = V.NONE;
    double size;
    final double[] stray = new double[3];
    double uStray;
    double wStray;
    double nStray;
    double tilt;
    /** How far a disc's lowest spot elsewhere in the box lies below the one it is represented by, at most. */
    double lift;

    final double[][] errors;
    final V[] va;
    final V[] dn;
    final double[] dnError;

    /**
     * Looks at three discs over a box.
     *
     * @param discs each in its own body's frame
     * @param carriers motion of each disc's body, all with the same list of parameters
     */
    public Tripod(Disc[] discs, Wander[] carriers) {
        int k = carriers[0].count;
        errors = new double[3][k];
        va = new V[k];
        dn = new V[k];
        dnError = new double[k];
        vague = !look(discs, carriers);
    }

    /** Returns whether the box is too large to say anything about the plane. */
    public boolean isVague() {
        return vague;
    }

    private boolean look(Disc[] discs, Wander[] carriers) {
        Disc[] at = new Disc[3];
        for (int i = 0; i < 3; i++) {
            at[i] = discs[i].at(Pose.of(carriers[i].centre));
        }
        Optional<Plane> plane = RestingPlane.under(at[0], at[1], at[2]);
        if (plane.isEmpty() || carriers[0].shifts + carriers[1].shifts + carriers[2].shifts > 0) {
            return false;
        }
        up = plane.get().up();
        for (int i = 0; i < 3; i++) {
            touch[i] = V.of(at[i].lowest(up));
        }
        int second = touch[1].less(touch[0]).cross(touch[2].less(touch[0])).dot(V.of(up)) > 0 ? 1 : 2;
        int third = 3 - second;
        u = touch[second].less(touch[0]);
        w = touch[third].less(touch[0]);
        n = u.cross(w);
        size = n.length();
        unit = n.times(1 / size);
        for (int i = 0; i < 3; i++) {
            double r = touch[i].less(carriers[i].worldReference()).length();
            stray[i] = carriers[i].remainder(r);
            for (int j = 0; j < va.length; j++) {
                errors[i][j] = carriers[i].linearErrorAt(j) + r * carriers[i].turnErrorAt(j);
                stray[i] += carriers[i].half[j]
                        * carriers[i].velocityAt(j, touch[i]).length();
            }
        }
        uStray = stray[0] + stray[second];
        wStray = stray[0] + stray[third];
        nStray = u.length() * wStray + w.length() * uStray + uStray * wStray;
        if (nStray > 0.5 * size) {
            return false;
        }
        for (int j = 0; j < va.length; j++) {
            va[j] = carriers[0].velocityAt(j, touch[0]);
            V du = carriers[second].velocityAt(j, touch[second]).less(va[j]);
            V dw = carriers[third].velocityAt(j, touch[third]).less(va[j]);
            dn[j] = du.cross(w).plus(u.cross(dw));
            double uError = errors[0][j] + errors[second][j];
            double wError = errors[0][j] + errors[third][j];
            dnError[j] = (du.length() + uError) * wStray
                    + w.length() * uError
                    + u.length() * wError
                    + (dw.length() + wError) * uStray;
        }
        tilt = 2 * nStray / size;
        for (int i = 0; i < 3; i++) {
            lift = Math.max(lift, lift(at[i], carriers[i]));
        }
        return true;
    }

    private double lift(Disc at, Wander carrier) {
        V axis = V.of(at.axis());
        V along = unit.cross(axis);
        double sway = tilt;
        double lean = tilt + Math.abs(unit.dot(axis));
        for (int j = 0; j < va.length; j++) {
            V turn = carrier.turnAt(j);
            double error = 0.5 * carrier.turnErrorAt(j);
            sway += carrier.half[j] * (Math.abs(turn.cross(along).dot(unit)) + error);
            lean += carrier.half[j] * (turn.length() + error);
        }
        double sine = lean < 1 ? Math.min(1, sway / Math.sqrt(1 - lean * lean)) : 1;
        return at.radiusMm() * sine * sine / (1 + Math.sqrt(1 - sine * sine));
    }
}
