package daylight.geometry;

/**
 * How close two shapes are: a signed distance and the two spots between which it is measured.
 *
 * <p>Frame: that of the poses given, normally the car frame (ISO 8855: x forward, y left, z up). Lengths in
 * millimetres.
 *
 * <p>Sign: positive while there is daylight, zero at contact, negative when the shapes overlap; the size of a
 * negative value is the shortest straight move that would part them (for shapes made of several convex pieces:
 * the deepest pair of pieces). It is continuous through contact.
 *
 * <p>Always true, and tested: {@code onB - onA = distanceMm * normal}, within 1e-9 of the size of the shapes;
 * {@code normal} has length 1 and points from A towards B; swapping A and B swaps the spots and turns the normal
 * round. Where several pairs of spots are equally close (parallel faces), one of them is given, and it is the
 * same one on every run.
 *
 * @param distanceMm signed distance, mm; finite
 * @param onA spot on the surface of A, mm
 * @param onB spot on the surface of B, mm
 * @param normal unit direction from A to B
 */
public record Proximity(double distanceMm, Spot onA, Spot onB, Direction normal) {
    public Proximity {
        if (!Double.isFinite(distanceMm)) {
            throw new IllegalArgumentException("distance is not a finite number: " + distanceMm);
        }
    }
}
