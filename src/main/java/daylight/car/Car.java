package daylight.car;

import daylight.geometry.Direction;
import daylight.geometry.Shape;
import daylight.geometry.Spot;
import daylight.linkage.Mechanism;
import java.util.List;
import java.util.Optional;

/**
 * A car as its file describes it, checked: every name resolves, every length has a meaning. Lengths in mm in the
 * car frame at ride height (ISO 8855: x forward, y left, z up).
 *
 * @param name what the builder calls it
 * @param reference VIN or body number, for the report
 * @param datum what the measurements start from, in the builder's words
 * @param inches whether the file's own unit is the inch (else the millimetre)
 * @param points the named points in file order
 * @param tape distances read between points
 * @param mechanisms what moves, compiled from the layouts; body names are car-wide (mechanism name, space, body)
 * @param parts what may touch, in file order
 * @param allowances what may shift besides the mechanisms
 * @param rules required gaps in file order
 * @param exclusions pairs that are not to be measured, each with the builder's reason
 */
public record Car(
        String name,
        Optional<String> reference,
        Optional<String> datum,
        boolean inches,
        List<Point> points,
        List<TapeReading> tape,
        List<Mechanism> mechanisms,
        List<Part> parts,
        List<Allowance> allowances,
        List<Rule> rules,
        List<Exclusion> exclusions) {

    public Car {
        points = List.copyOf(points);
        tape = List.copyOf(tape);
        mechanisms = List.copyOf(mechanisms);
        parts = List.copyOf(parts);
        allowances = List.copyOf(allowances);
        rules = List.copyOf(rules);
        exclusions = List.copyOf(exclusions);
    }

    /**
     * A measured point.
     *
     * @param withinMm half width within which each coordinate is trusted, mm
     */
    public record Point(String name, Spot at, double withinMm, Optional<String> note) {}

    /** A distance read with a tape between two points, mm. */
    public record TapeReading(String from, String to, double readsMm, double withinMm) {}

    /**
     * A part that may touch another.
     *
     * @param body the body that carries it: a mechanism's body, an allowance's body, or {@link Mechanism#GROUND}
     * @param kinds words by which rules find it (exhaust, tyre, brake hose), lower case
     */
    public record Part(String name, String body, List<String> kinds, Shape shape, Optional<String> note) {
        public Part {
            kinds = List.copyOf(kinds);
        }
    }

    /**
     * A body that may shift a little against the body that carries it (an exhaust on its hangers).
     *
     * @param body its name
     * @param on the body that carries it
     * @param plays how far it may shift, each along its own direction, all at once
     */
    public record Allowance(String body, String on, List<Play> plays) {
        public Allowance {
            plays = List.copyOf(plays);
        }

        /**
         * How far along one direction of the carrying body.
         *
         * @param leastMm zero or less
         * @param greatestMm zero or more
         */
        public record Play(String name, Direction along, double leastMm, double greatestMm) {}
    }

    /**
     * The gap asked for between two selections of parts.
     *
     * @param first a part's name, a kind, a body, or {@code any}
     * @param second likewise
     * @param atLeastMm zero or more
     * @param source where the figure comes from, if said
     */
    public record Rule(String first, String second, double atLeastMm, Optional<String> source) {}

    /** A pair of selections that is not measured, and why (bolted together, meant to touch). */
    public record Exclusion(String first, String second, String reason) {}
}
