package daylight.motion;

import daylight.geometry.Direction;

/**
 * How a Cardan joint (U-joint) turns, and two of them in a row. Angles in degrees; an operating angle is the angle
 * between the two shafts of a joint in space, 0 to 180, without a sign.
 *
 * <p>Source: any text on the theory of machines (R. S. Khurmi and J. K. Gupta, Theory of Machines, chapter 9, Hooke's
 * joint; from memory); SAE AE-7, Universal Joint and Driveshaft Design Manual, for two in a row (from memory).
 */
public final class UniversalJoint {
    private UniversalJoint() {}

    /** Returns the operating angle between two shafts that both point along the drive, degrees. */
    public static double operatingAngleDeg(Direction driving, Direction driven) {
        double cx = driving.y() * driven.z() - driving.z() * driven.y();
        double cy = driving.z() * driven.x() - driving.x() * driven.z();
        double cz = driving.x() * driven.y() - driving.y() * driven.x();
        // atan2 keeps its digits near 0, where acos has none
        return Math.toDegrees(Math.atan2(Math.sqrt(cx * cx + cy * cy + cz * cz), driving.dot(driven)));
    }

    /**
     * Returns the operating angle from its two views, degrees: exact where both are view angles of one line against
     * another that is square to both views.
     */
    public static double fromViewsDeg(double topViewDeg, double sideViewDeg) {
        return Math.toDegrees(
                Math.atan(Math.hypot(Math.tan(Math.toRadians(topViewDeg)), Math.tan(Math.toRadians(sideViewDeg)))));
    }

    /**
     * Returns how far the driven shaft has turned, degrees, from the position in which the driving fork lies square to
     * the plane of the shafts.
     */
    public static double drivenDeg(double drivingDeg, double angleDeg) {
        double t = Math.toRadians(drivingDeg);
        return Math.toDegrees(Math.atan2(Math.sin(t) * Math.cos(Math.toRadians(angleDeg)), Math.cos(t)));
    }

    /**
     * Returns the speed of the driven shaft over that of the driving one, at a turn of the driving shaft from where it
     * is greatest: cos(angle) / (1 - sin²(angle) cos²(turn)).
     */
    public static double speedRatio(double turnDeg, double angleDeg) {
        double sine = Math.sin(Math.toRadians(angleDeg)) * Math.cos(Math.toRadians(turnDeg));
        return Math.cos(Math.toRadians(angleDeg)) / (1 - sine * sine);
    }

    /** Returns greatest less least speed of the driven shaft, over the driving speed: sin(angle) tan(angle). */
    public static double fluctuation(double angleDeg) {
        double a = Math.toRadians(angleDeg);
        return Math.sin(a) * Math.tan(a);
    }

    /** Returns the operating angle that gives a fluctuation, degrees. */
    public static double angleOfFluctuationDeg(double fluctuation) {
        // 1/c - c = f
        double c = 0.5 * (Math.sqrt(fluctuation * fluctuation + 4) - fluctuation);
        return Math.toDegrees(Math.acos(c));
    }

    /** Returns by how much the driven shaft lags or leads at most, degrees: asin(tan²(angle / 2)). */
    public static double greatestPhaseDeg(double angleDeg) {
        double t = Math.tan(Math.toRadians(angleDeg) / 2);
        return Math.toDegrees(Math.asin(t * t));
    }

    /** Returns the turn of the driving shaft at which the lag is greatest, degrees. */
    public static double turnOfGreatestPhaseDeg(double angleDeg) {
        return Math.toDegrees(Math.atan(1 / Math.sqrt(Math.cos(Math.toRadians(angleDeg)))));
    }

    /** Returns the turn from the greatest speed at which both shafts turn equally fast, degrees. */
    public static double turnOfEqualSpeedDeg(double angleDeg) {
        return Math.toDegrees(Math.acos(Math.sqrt(1 / (1 + Math.cos(Math.toRadians(angleDeg))))));
    }

    /**
     * Returns the turn from the greatest speed at which the driven shaft's angular acceleration is greatest, degrees:
     * exact, with cos(2 turn) the root of c² + (2/sin² - 1) c - 2 = 0.
     */
    public static double turnOfGreatestAccelerationDeg(double angleDeg) {
        double s = Math.sin(Math.toRadians(angleDeg));
        double b = 2 / (s * s) - 1;
        // the smaller root, written so that nothing cancels at small angles
        double c = 4 / (b + Math.sqrt(b * b + 8));
        return Math.toDegrees(0.5 * Math.acos(c));
    }

    /** Returns the greatest angular acceleration of the driven shaft over the square of the driving speed (rad/s). */
    public static double greatestAcceleration(double angleDeg) {
        double t = Math.toRadians(turnOfGreatestAccelerationDeg(angleDeg));
        double a = Math.toRadians(angleDeg);
        double s = Math.sin(a);
        double d = 1 - s * s * Math.cos(t) * Math.cos(t);
        return Math.cos(a) * s * s * Math.sin(2 * t) / (d * d);
    }

    /**
     * Returns the one joint that would be as uneven as two in a row, degrees.
     *
     * @param firstDeg operating angle of the first joint
     * @param secondDeg operating angle of the second; all shafts in one plane
     * @param forksAligned whether the forks of the middle shaft lie in one plane (else a quarter turn apart)
     */
    public static double equivalentAngleDeg(double firstDeg, double secondDeg, boolean forksAligned) {
        double small = Math.cos(Math.toRadians(Math.min(Math.abs(firstDeg), Math.abs(secondDeg))));
        double large = Math.cos(Math.toRadians(Math.max(Math.abs(firstDeg), Math.abs(secondDeg))));
        return Math.toDegrees(Math.acos(forksAligned ? large / small : large * small));
    }
}
