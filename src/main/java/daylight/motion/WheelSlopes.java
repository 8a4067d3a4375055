package daylight.motion;

import java.util.Optional;
import java.util.OptionalDouble;

/**
 * How a wheel's attitude changes along a way through the handles, from the linkage's twists (exact derivatives, no
 * differences). Per unit of the way; {@link #perWheelTravel()} makes it per mm of wheel travel.
 *
 * @param centre velocity of the wheel centre, mm per unit
 * @param contact velocity of the spot of the knuckle that is now at the contact centre, mm per unit: the path that a
 *     locked wheel's contact takes
 * @param turn angular velocity of the knuckle, rad per unit
 * @param camberDeg change of camber, degrees per unit
 * @param inclinationDeg change of inclination, degrees per unit
 * @param toeInDeg bump steer (ride steer): change of toe, degrees per unit, toe-in positive
 * @param axis change of caster and steering-axis inclination, if there is an axis
 */
public record WheelSlopes(
        Rate centre,
        Rate contact,
        Rate turn,
        double camberDeg,
        double inclinationDeg,
        double toeInDeg,
        Optional<AxisSlopes> axis) {

    /**
     * A swing arm longer than this, mm, is said to be infinite: over a hundred metres the wheel leans by less than a
     * thousandth of a degree per mm, below what anyone measures.
     */
    private static final double LONGEST_ARM_MM = 1e5;

    /** Change of caster and of steering-axis inclination, degrees per unit. */
    public record AxisSlopes(double casterDeg, double inclinationDeg) {}

    /**
     * The instant centre in a view square to the car, against the car.
     *
     * @param acrossMm y in the front view, x in the side view, mm in the car frame
     * @param upMm z, mm in the car frame
     */
    public record InstantCentre(double acrossMm, double upMm) {}

    /**
     * Returns the same per mm of wheel travel (rise of the wheel centre).
     *
     * @throws IllegalStateException if the wheel centre does not rise along the way
     */
    public WheelSlopes perWheelTravel() {
        if (centre.z() == 0) {
            throw new IllegalStateException("the wheel does not rise along this way");
        }
        double f = 1 / centre.z();
        return new WheelSlopes(
                centre.times(f),
                contact.times(f),
                turn.times(f),
                camberDeg * f,
                inclinationDeg * f,
                toeInDeg * f,
                axis.map(a -> new AxisSlopes(a.casterDeg() * f, a.inclinationDeg() * f)));
    }

    /**
     * Returns the instant centre of the wheel in the front view: the spot of the vertical plane across the car through
     * the wheel centre that stands still at this moment. Empty when the wheel only shifts (it is at infinity).
     *
     * @param at the attitude at the same position
     */
    public Optional<InstantCentre> frontInstantCentre(WheelAttitude at) {
        double y = at.centre().y() - centre.z() / turn.x();
        double z = at.centre().z() + centre.y() / turn.x();
        return far(y - at.centre().y(), z - at.centre().z()) ? Optional.empty() : Optional.of(new InstantCentre(y, z));
    }

    /** Returns the instant centre of the wheel in the side view, likewise, in the plane along the car. */
    public Optional<InstantCentre> sideInstantCentre(WheelAttitude at) {
        double x = at.centre().x() + centre.z() / turn.y();
        double z = at.centre().z() - centre.x() / turn.y();
        return far(x - at.centre().x(), z - at.centre().z()) ? Optional.empty() : Optional.of(new InstantCentre(x, z));
    }

    /**
     * Returns the front-view swing arm: from the contact centre across to the instant centre, mm, positive with the
     * instant centre inboard (or beyond, on the other side of the car). Empty when it is infinite.
     */
    public OptionalDouble frontSwingArmMm(WheelAttitude at) {
        double side = Math.signum(at.centre().y());
        return frontInstantCentre(at)
                .map(ic -> OptionalDouble.of(side * (at.contact().y() - ic.acrossMm())))
                .orElse(OptionalDouble.empty());
    }

    /**
     * Returns the side-view swing arm: from the contact centre along the car to the instant centre, mm, positive with
     * the instant centre towards the middle of the car: behind a front wheel, ahead of a rear one.
     *
     * @param front whether it is a front wheel
     */
    public OptionalDouble sideSwingArmMm(WheelAttitude at, boolean front) {
        double side = front ? 1 : -1;
        return sideInstantCentre(at)
                .map(ic -> OptionalDouble.of(side * (at.contact().x() - ic.acrossMm())))
                .orElse(OptionalDouble.empty());
    }

    private static boolean far(double across, double up) {
        return !(Math.abs(across) < LONGEST_ARM_MM && Math.abs(up) < LONGEST_ARM_MM);
    }
}
