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
     * A bump stop or a steering stop: two spots that may come nearer by so much, along the line between them at ride
     * height, which is fixed to the second body. Sideways they may pass one another: a rubber meets a plate, not a
     * point.
     *
     * @param from the spot that comes nearer
     * @param to the spot that it meets, on the body that the line is fixed to
     * @param gapMm daylight at ride height between the stop and what it meets
     * @param squashMm how much further the stop gives until it is solid
     */
    record Stop(String name, Readout.End from, Readout.End to, double gapMm, double squashMm, boolean steering)
            implements Limit {
        public Stop {
            if (!(gapMm >= 0 && squashMm >= 0 && Double.isFinite(gapMm + squashMm))) {
                throw new IllegalArgumentException(
                        name + ": gap " + gapMm + " and squash " + squashMm + " must be zero or more, mm");
            }
            if (!(from.at().distanceTo(to.at()) > 0)) {
                throw new IllegalArgumentException(name + ": its two spots are one, " + from.at());
            }
        }

        /** Returns the line along which they come nearer, at ride height, from the first spot to the second. */
        public Direction along() {
            return Direction.from(from.at(), to.at());
        }

        /** Returns how far apart along that line they are when the stop is solid, mm; may be below zero. */
        public double leastMm() {
            return from.at().distanceTo(to.at()) - gapMm - squashMm;
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
