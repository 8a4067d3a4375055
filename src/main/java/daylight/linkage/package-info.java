/**
 * Where the bodies of a mechanism are, for any travel, steer or opening; how they move there; and what can be proved
 * about their movement over a whole range at once.
 *
 * <p>{@link daylight.linkage.Mechanism} is what was measured: bodies, joints, drivers, all in the car frame at ride
 * height. {@link daylight.linkage.Linkage} is the engine compiled from it. {@link daylight.linkage.Outcome} says how a
 * request ended: solved, or by name why not and how far it goes. {@link daylight.linkage.Enclosure} holds what was
 * proved about a box of driver values.
 *
 * <pre>{@code
 * Mechanism pedal = new Mechanism("pedal", List.of("arm"), List.of(),
 *         List.of(new Driver.Turn("press", "arm", new Spot(0, 0, 0), new Spot(0, 100, 0), 0, 0.5)),
 *         List.of());
 * Linkage linkage = Linkage.of(pedal);
 * Outcome outcome = linkage.solve(new double[] {0.2});
 * Spot pad = linkage.where(0, new Spot(0, 0, -250));
 * Enclosure box = Enclosure.of(linkage);
 * boolean proved = linkage.enclose(new double[] {0.2}, new double[] {0.05}, box);
 * double pose = box.shiftMm(0);
 * }</pre>
 *
 * <p>Limits: bodies are rigid and joints have no play. A mechanism with more links than freedoms is described with
 * joints that share what they hold ({@link daylight.linkage.Mechanism.Joint.Rod}), which gives the position of least
 * energy to first order and the bind of each; bushes with a stiffness of their own are not modelled. Joints' limits of
 * swing and the ends of travel are for the packages above.
 */
@NullMarked
package daylight.linkage;

import org.jspecify.annotations.NullMarked;
