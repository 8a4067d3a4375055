/**
 * Flexible lines (brake hose, fuel line, clutch line, wiring loom): the shape they take, their slack, their tightest
 * bend and their twist, over everything the car can do; and the length to buy.
 *
 * <p>{@link daylight.hose.HoseSearch} judges a car's lines: the slack is proved over the whole travel, the bend, the
 * twist and the gaps to other parts are sampled and say so. {@link daylight.hose.Rod} gives one line's shape between two ends; {@link daylight.hose.ShortestPath} the shortest
 * path that does not kink. Gravity, pressure and the set from the drum are left out.
 *
 * <pre>{@code
 * Ends ends = Ends.of(bracket, Direction.LEFT, caliper, Direction.UP);
 * Outcome outcome = new Rod().settle(ends, 330);
 * if (outcome instanceof Outcome.Reaches reaches) {
 *     double tightest = reaches.shape().tightestRadiusMm();
 * }
 * }</pre>
 */
@NullMarked
package daylight.hose;

import org.jspecify.annotations.NullMarked;
