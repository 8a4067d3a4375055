/**
 * Measured readings turned into points with their doubt, and into the reading that cannot be right.
 *
 * <p>Values: a {@link daylight.survey.Network} of {@link daylight.survey.SurveyPoint}s and
 * {@link daylight.survey.Observation}s goes in; an {@link daylight.survey.Adjustment} comes out, with
 * {@link daylight.survey.SurveyedPoints} that carry their covariance, every reading's residual, the
 * {@link daylight.survey.Suspect}s, what nothing fixes, and the {@link daylight.survey.NextReading}. The doubt goes on
 * into gaps by {@link daylight.survey.GapDoubt} (first order) and {@link daylight.survey.GapSimulation} (draws).
 *
 * <pre>{@code
 * Network network = new Network(
 *         List.of(new SurveyPoint.Known("peg A", Spot.ORIGIN), SurveyPoint.Sought.of("ball joint")),
 *         List.of(
 *                 new Observation.Height("height", "ball joint", 222.2, 0.6),
 *                 new Observation.Coordinate("ahead", "ball joint", Axis.FORWARD, 0, 6.4, 0.6),
 *                 new Observation.Coordinate("left", "ball joint", Axis.LEFT, 0, 638.2, 0.6),
 *                 new Observation.Distance("to peg A", "peg A", "ball joint", 675.9, 0.6)),
 *         Network.Graduation.INCHES);
 * Adjustment adjustment = Survey.of(network).adjust(Survey.Datum.CAR_AXES, Progress.SILENT);
 * }</pre>
 *
 * <p>Limits: errors are small against the distances (the equations are taken as straight over them), readings are
 * independent, and more wrong readings than a tenth of all cannot be told from a wrong start.
 */
@NullMarked
package daylight.survey;

import org.jspecify.annotations.NullMarked;
