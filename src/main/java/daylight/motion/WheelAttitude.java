package daylight.motion;

import daylight.geometry.Spot;
import java.util.Optional;

/**
 * How a wheel stands at one position of its suspension, against the car: ride height is not assumed.
 *
 * <p>Definitions: ISO 8855:2011 (vehicle axes x forward, y left, z up), which SAE J670:2008 allows beside its older
 * z-down axes. The signs below are the same for left and right wheels unless said. e is the unit vector along the
 * spindle that points outboard, and s is +1 for a left wheel, -1 for a right one.
 *
 * @param centre wheel centre, mm in the car frame
 * @param contact contact centre: where the wheel plane's lowest line meets the tyre, loaded radius below the wheel
 *     centre in the wheel plane, mm in the car frame
 * @param camberDeg camber angle: lean of the wheel plane from the vehicle z axis about the vehicle x axis, degrees,
 *     positive with the top outboard; atan2(-e_z, s e_y)
 * @param inclinationDeg inclination angle: lean of the wheel plane from the vertical about the wheel's own heading,
 *     degrees. Here positive with the top outboard on both sides (SAE and ISO count it by the right-hand rule about x,
 *     so that their sign flips from side to side); -asin(e_z). Equal to the camber while the wheel is not steered
 * @param toeInDeg toe angle: between the vehicle x axis and the wheel plane, about z, degrees, toe-in positive (ISO
 *     8855:2011, 7.1.6); atan2(e_x, s e_y)
 * @param steerDeg steer angle: heading of the wheel about z, degrees, positive to the left on both sides; -s toe-in
 * @param steeringAxis how the steering axis stands, if the wheel has one
 */
public record WheelAttitude(
        Spot centre,
        Spot contact,
        double camberDeg,
        double inclinationDeg,
        double toeInDeg,
        double steerDeg,
        Optional<Axis> steeringAxis) {

    /**
     * How a steering axis stands. Trail, scrub radius and offsets are measured in the wheel's own heading, horizontally,
     * so that they keep their meaning at lock.
     *
     * @param casterDeg caster angle: steering axis in the side view from z, degrees, positive with the top rearward
     * @param inclinationDeg steering-axis inclination (kingpin inclination): steering axis in the front view from z,
     *     degrees, positive with the top inboard
     * @param trailMm caster trail (castor offset at ground): from the axis's ground point back to the contact centre,
     *     mm, positive with the axis ahead
     * @param scrubRadiusMm scrub radius (steering-axis offset at ground): from the axis's ground point out to the
     *     contact centre, mm, positive with the axis inboard
     * @param trailAtCentreMm castor offset at wheel centre: from the axis at the wheel centre's height back to the wheel
     *     centre, mm, positive with the axis ahead
     * @param offsetAtCentreMm steering-axis offset at wheel centre (spindle offset): from the axis at the wheel centre's
     *     height out to the wheel centre, mm, positive with the wheel centre outboard
     * @param onGround where the axis meets the level plane through the contact centre, mm in the car frame
     */
    public record Axis(
            double casterDeg,
            double inclinationDeg,
            double trailMm,
            double scrubRadiusMm,
            double trailAtCentreMm,
            double offsetAtCentreMm,
            Spot onGround) {}
}
