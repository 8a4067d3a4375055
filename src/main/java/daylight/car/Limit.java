package daylight.car;

import daylight.geometry.Direction;

/**
 * What really ends a movement before (or where) the stated travel ends. Lengths in mm, spots in the car frame at ride
 * height, each fixed to its body.
 */
public sealed interface Limit {
    /** What a message calls it, for example {@code left front shock}. */
    String name();

    /** A limit on the distance between two spots. */
    sealed interface Distance extends Limit {
        /** One end. */
        Readout.End from();

        /** The other. */
        Readout.End to();

        /** The distance at ride height, mm. */
        default double atRideHeightMm() {
            return from().at().distanceTo(to().at());
        }

        /** The least distance that it allows, mm; zero if it allows any. */
        double leastMm();

        /** The greatest distance that it allows, mm; infinite if it allows any. */
        double greatestMm();
    }

    /**
     * A shock between its eyes.
     *
     * @param closedMm distance of the eyes when it is solid
     * @param openMm distance of the eyes when it is fully drawn out
     */
    record Shock(String name, Readout.End from, Readout.End to, double closedMm, double openMm) implements Distance {
        public Shock {
            if (!(closedMm > 0 && openMm > closedMm && Double.isFinite(openMm))) {
                throw new IllegalArgumentException(
                        name + ": open " + openMm + " mm must be longer than closed " + closedMm + " mm");
            }
        }

        @Override
        public double leastMm() {
            return closedMm;
        }

        @Override
        public double greatestMm() {
            return openMm;
        }
    }

    /**
     * A bump stop or a steering stop: two spots that may come nearer by so much.
     *
     * @param gapMm daylight at ride height between the stop and what it meets
     * @param squashMm how much further the stop gives until it is solid
     */
    record Stop(String name, Readout.End from, Readout.End to, double gapMm, double squashMm, boolean steering)
            implements Distance {
        public Stop {
            if (!(gapMm >= 0 && squashMm >= 0 && Double.isFinite(gapMm + squashMm))) {
                throw new IllegalArgumentException(
                        name + ": gap " + gapMm + " and squash " + squashMm + " must be zero or more, mm");
            }
        }

        @Override
        public double leastMm() {
            return Math.max(0, atRideHeightMm() - gapMm - squashMm);
        }

        @Override
        public double greatestMm() {
            return Double.POSITIVE_INFINITY;
        }
    }

    /**
     * A strap, cable or chain.
     *
     * @param longestMm distance of its ends when it is tight
     */
    record Strap(String name, Readout.End from, Readout.End to, double longestMm) implements Distance {
        public Strap {
            if (!(longestMm > 0) || !Double.isFinite(longestMm)) {
                throw new IllegalArgumentException(name + ": longest must be more than zero, mm: " + longestMm);
            }
        }

        @Override
        public double leastMm() {
            return 0;
        }

        @Override
        public double greatestMm() {
            return longestMm;
        }
    }

    /**
     * How far the stud of a ball joint or rod end may lean in its housing.
     *
     * @param studBody the body that carries the stud
     * @param stud the stud's direction at ride height
     * @param housingBody the body that carries the housing
     * @param housing the direction about which the allowed lean is even, at ride height
     * @param mostRad greatest angle between the two
     */
    record Swing(String name, String studBody, Direction stud, String housingBody, Direction housing, double mostRad)
            implements Limit {
        public Swing {
            if (!(mostRad > 0 && mostRad < Math.PI)) {
                throw new IllegalArgumentException(name + ": the lean allowed is 0 to pi rad, not " + mostRad);
            }
        }
    }
}
