package daylight.linkage;

import daylight.units.LengthFormat;
import java.util.List;

/** How a request for a position ended. */
public sealed interface Outcome {

    /** Whether the mechanism is where the drivers asked for. */
    default boolean solved() {
        return this instanceof Solved;
    }

    /** One or two sentences for the builder: what, where, how far it gets; lengths in tenths of a millimetre. */
    default String message() {
        return message(LengthFormat.TENTHS_OF_MM);
    }

    /** The same, with lengths as the builder writes them. */
    String message(LengthFormat lengths);

    /**
     * The position was reached.
     *
     * @param iterations Newton corrections it took, all systems together
     * @param residualMm every joint closes within this, mm
     */
    record Solved(int iterations, double residualMm) implements Outcome {
        @Override
        public String message(LengthFormat lengths) {
            return "solved";
        }
    }

    /**
     * The mechanism cannot close there: something would have to bend. The poses are those of the furthest position
     * reached on the straight way of the drivers.
     *
     * @param mechanism its name
     * @param joint the joint that stays open
     * @param between the two bodies it joins
     * @param misfitMm how far it stays open where it was asked to go, all other joints closed, mm
     * @param asked driver values asked for, in the order of the drivers
     * @param reached driver values of the furthest position reached
     * @param reaches how far each driver alone goes from the position reached, within its range
     */
    record Binds(
            String mechanism,
            String joint,
            String between,
            double misfitMm,
            List<Double> asked,
            List<Double> reached,
            List<Reach> reaches)
            implements Outcome {
        public Binds {
            asked = List.copyOf(asked);
            reached = List.copyOf(reached);
            reaches = List.copyOf(reaches);
        }

        @Override
        public String message(LengthFormat lengths) {
            return Wording.binds(this, lengths);
        }
    }

    /**
     * The way there leads through a dead point (over centre): the joints would close there, but in a position that
     * the car can only reach by being taken apart, or by chance. The poses are those of the furthest position.
     */
    record OverCentre(
            String mechanism,
            String joint,
            String between,
            List<Double> asked,
            List<Double> reached,
            List<Reach> reaches)
            implements Outcome {
        public OverCentre {
            asked = List.copyOf(asked);
            reached = List.copyOf(reached);
            reaches = List.copyOf(reaches);
        }

        @Override
        public String message(LengthFormat lengths) {
            return Wording.overCentre(this, lengths);
        }
    }

    /**
     * The position asked for is itself next to a dead point: the joints close there, but hardly hold (near-singular).
     * The least change or play moves bodies far, and to either side. The poses are those of the furthest position.
     */
    record NearSingular(
            String mechanism,
            String joint,
            String between,
            List<Double> asked,
            List<Double> reached,
            List<Reach> reaches)
            implements Outcome {
        public NearSingular {
            asked = List.copyOf(asked);
            reached = List.copyOf(reached);
            reaches = List.copyOf(reaches);
        }

        @Override
        public String message(LengthFormat lengths) {
            return Wording.nearSingular(this, lengths);
        }
    }

    /**
     * Ride height itself is a dead point: two assemblies meet there, and nothing tells which of them the car takes.
     */
    record TwoAssemblies(String mechanism, String joint, String between) implements Outcome {
        @Override
        public String message(LengthFormat lengths) {
            return Wording.twoAssemblies(this);
        }
    }

    /**
     * How far a driver goes, by continuation.
     *
     * @param driver its name
     * @param turns whether the values are radians (else mm)
     * @param lowest least value reached, not below the driver's own least value
     * @param highest greatest value reached, not above the driver's own greatest value
     * @param whole whether the driver's whole range is reached
     */
    record Reach(String driver, boolean turns, double lowest, double highest, boolean whole) {}
}
