/**
 * Shapes and the signed distance between them, with the two spots it lies between and the unit normal; and floors
 * under that distance over whole boxes of motion.
 *
 * <p>{@link daylight.geometry.Shape} is what was measured, a value. {@link daylight.geometry.Solid} is a shape made ready:
 * convex pieces under a tree of boxes, outward of the true shape by at most 0.02 mm. {@link daylight.geometry.Gauge}
 * measures two solids at any poses, and proves by {@link daylight.geometry.Gauge#floor} that nothing comes closer while
 * they {@link daylight.geometry.Wander}. {@link daylight.geometry.Skin} is a shape's surface as triangles, for pictures.
 *
 * <pre>{@code
 * Solid pipe = Solid.of(new Shape.Tube(List.of(new Spot(0, 0, 300), new Spot(900, 80, 320)), 63.5, 95));
 * Solid axle = Solid.of(new Shape.Tube(List.of(new Spot(500, -700, 400), new Spot(500, 700, 400)), 76, 0));
 * Gauge gauge = new Gauge();
 * Proximity gap = gauge.proximity(pipe, Pose.RIDE_HEIGHT, axle, Pose.RIDE_HEIGHT);
 *
 * Wander still = new Wander();
 * Wander rising = new Wander().parameters(1).half(0, 40).twist(0, 0, 0, 0, 0, 0, 1);
 * double floorMm = gauge.floor(pipe, still, axle, rising, 12);
 * }</pre>
 *
 * <p>Limits: a tube is solid; a closed mesh is solid inside, an open one is a bare surface. Where solids of several
 * pieces overlap, the depth is that of the deepest pair of pieces, which may be less than the move that parts the two.
 * Distances of separated pieces are good to 1e-9 of their size, depths of round cores to 1e-9 and their spots to 1e-7.
 */
@NullMarked
package daylight.geometry;

import org.jspecify.annotations.NullMarked;
