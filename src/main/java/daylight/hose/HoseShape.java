package daylight.hose;

import daylight.geometry.Spot;
import java.util.List;

/**
 * The shape that a flexible line takes between its ends, from the begin to the end of its flexible part.
 *
 * <p>Frame: that of the ends given (the car frame; ISO 8855). Gravity, pressure and the set from the drum are
 * left out; the stiffness against twist is that of solid rubber, zero where an end swivels.
 *
 * @param centreLine spots of the centre line at even steps of arc, the two ends included, mm
 * @param tightestRadiusMm least radius of the centre line, mm; infinite for a straight line
 * @param tightestAtMm where along the line, mm of arc from the begin
 * @param beginCurvaturePerMm curvature at the begin, 1/mm
 * @param endCurvaturePerMm curvature at the end, 1/mm
 * @param force the end force over the bending stiffness, {@code F} of {@code t'' + F = (..) t}, 1/mm^2; a line that is
 *     pushed together has it against the direction from begin to end
 * @param energyPerMm half the integral of the squared curvature, 1/mm
 * @param twistRad turn about the end tangent from the begin's across direction, carried along the line without twist,
 *     to the end's across direction; rad in -pi to pi, right-hand rule about the tangent. Differences between
 *     positions are what fittings that cannot turn force on the hose
 * @param doubtMm numerical uncertainty of the spots, mm
 * @param bendDoubt numerical uncertainty of the greatest curvature, as a share of it
 * @param hasEqual whether another shape on another side has the same energy (only looked for in a first solve): the
 *     line may lie on either side
 * @param work how much was computed
 */
public record HoseShape(
        List<Spot> centreLine,
        double tightestRadiusMm,
        double tightestAtMm,
        double beginCurvaturePerMm,
        double endCurvaturePerMm,
        PerSquareMm force,
        double energyPerMm,
        double twistRad,
        double doubtMm,
        double bendDoubt,
        boolean hasEqual,
        Work work) {
    public HoseShape {
        centreLine = List.copyOf(centreLine);
    }

    /** A vector in 1/mm^2. */
    public record PerSquareMm(double x, double y, double z) {}

    /**
     * How much was computed.
     *
     * @param steps accepted Newton steps, all grids
     * @param factorisations Newton systems factorised, all grids
     */
    public record Work(int steps, int factorisations) {}
}
