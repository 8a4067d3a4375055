package daylight.geometry;

/**
 * One thing done to a flat plate with a saw, a grinder, a drill or a welder, in the terms in which it is marked out:
 * distances along edges of the outline from its corners, mm.
 *
 * <p>Corners are numbered from 0 in the order of {@link Shape.Plate#outline()}; edge i runs from corner i to corner i +
 * 1 (the last one back to corner 0). Numbers belong to the outline as it is before the cut. {@link PlateEdges} says
 * which edge a builder calls the top one.
 */
public sealed interface Cut {

    /**
     * A straight cut from one edge to another. What comes off is the piece with the corners from {@code first + 1} to
     * {@code second}, going round in the outline's order. Growing either distance takes more off.
     *
     * @param first the edge on which the cut begins
     * @param alongFirstMm from corner {@code first + 1} back along that edge, zero or more
     * @param second the edge on which it ends, another one
     * @param alongSecondMm from corner {@code second} on along that edge, zero or more
     */
    record Straight(int first, double alongFirstMm, int second, double alongSecondMm) implements Cut {
        public Straight {
            notNegative("distance along the first edge", alongFirstMm);
            notNegative("distance along the second edge", alongSecondMm);
        }
    }

    /**
     * A corner rounded off: an arc that touches both edges.
     *
     * @param corner which corner; it points outwards
     * @param radiusMm of the arc, more than zero
     */
    record Round(int corner, double radiusMm) implements Cut {
        public Round {
            positive("radius", radiusMm);
        }
    }

    /**
     * A square bite out of an edge.
     *
     * @param edge which edge
     * @param fromEnd whether the distances are measured from the edge's second corner (else from its first)
     * @param startsMm where the bite begins, zero or more
     * @param endsMm where it ends, more than where it begins
     * @param deepMm how deep it goes, at right angles to the edge, more than zero
     */
    record Notch(int edge, boolean fromEnd, double startsMm, double endsMm, double deepMm) implements Cut {
        public Notch {
            notNegative("begin of the notch", startsMm);
            positive("width of the notch", endsMm - startsMm);
            positive("depth of the notch", deepMm);
        }
    }

    /** A hole welded shut and ground flush: which of the plate's holes, from 0. */
    record HoleFilled(int hole) implements Cut {}

    /** A round hole drilled: centre in the outline's coordinates and diameter, mm. */
    record HoleDrilled(Flat at, double diameterMm) implements Cut {
        public HoleDrilled {
            positive("diameter", diameterMm);
        }
    }

    private static void positive(String what, double value) {
        if (!(value > 0) || !Double.isFinite(value)) {
            throw new IllegalArgumentException(what + " must be more than zero: " + value);
        }
    }

    private static void notNegative(String what, double value) {
        if (!(value >= 0) || !Double.isFinite(value)) {
            throw new IllegalArgumentException(what + " must be zero or more: " + value);
        }
    }
}
