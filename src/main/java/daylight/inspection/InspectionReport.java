package daylight.inspection;

import daylight.car.RuleList;
import daylight.clearance.Position;
import daylight.geometry.Spot;
import java.util.List;
import java.util.Optional;

/**
 * What an inspector would pass, look at again or fail, by which published rule, and what that rests on. A value for the
 * terminal, the window and the printed report alike. Lengths in mm, angles in rad; spots in the car frame as the car
 * stands at the position that is named.
 *
 * @param car the car's name
 * @param lists names of the rule lists that it was held to, in order
 * @param findings one or more for each rule, in the order in which an inspector walks round the car
 * @param under how near everything comes to the road
 * @param corners how far each wheel can go and what ends it
 * @param steering how far each steering goes
 * @param cautions what the findings cannot say, one sentence each
 */
public record InspectionReport(
        String car,
        List<String> lists,
        List<Finding> findings,
        Under under,
        List<Corner> corners,
        List<Lock> steering,
        List<String> cautions) {

    /** What the program can never decide. */
    public static final String ONLY_THE_AUTHORITY =
            "Only the local authority decides what passes; rules differ by place and change with time.";

    public InspectionReport {
        lists = List.copyOf(lists);
        findings = List.copyOf(findings);
        corners = List.copyOf(corners);
        steering = List.copyOf(steering);
        cautions = List.copyOf(cautions);
    }

    /** Returns the worst verdict; pass when nothing was asked. */
    public Verdict worst() {
        return findings.stream().map(Finding::verdict).max(Verdict::compareTo).orElse(Verdict.PASS);
    }

    /** What an inspector would say. */
    public enum Verdict {
        /** The rule is met, by more than what was measured can be wrong. */
        PASS("pass"),
        /**
         * To be looked at on the car itself: met by less than the measurements' own doubt, not to be judged from what
         * the file says, or a figure of common practice that no published rule asks for.
         */
        LOOK("look"),
        /** A published rule is not met, or parts touch. */
        FAIL("fail");

        private final String word;

        Verdict(String word) {
            this.word = word;
        }

        /** Returns the word shown everywhere. */
        public String word() {
            return word;
        }
    }

    /** Where in the walk round the car something is looked at. */
    public enum Station {
        /** Under the car. */
        UNDER("under the car"),
        /** At each wheel, going up and down. */
        TRAVEL("travel"),
        /** At the steering wheel. */
        STEERING("steering"),
        /** Along the flexible lines. */
        LINES("flexible lines"),
        /** Between parts. */
        GAPS("gaps");

        private final String word;

        Station(String word) {
            this.word = word;
        }

        /** Returns the word shown everywhere. */
        public String word() {
            return word;
        }
    }

    /**
     * A figure.
     *
     * @param value mm, rad, a number or a share, as its kind says
     */
    public record Amount(double value, RuleList.Figure kind) {}

    /**
     * One rule, one thing looked at.
     *
     * @param what is looked at, in a few words: {@code scrub line}
     * @param found the figure found, the worst where there are several
     * @param asked the figure that the rule asks for
     * @param why in one line: what is too low, what ends the travel, why it cannot be judged
     * @param places the parts that matter, worst first; those that break the rule, or the nearest to it
     * @param rule where the rule comes from
     */
    public record Finding(
            Station station,
            Verdict verdict,
            String what,
            Optional<Amount> found,
            Optional<Amount> asked,
            String why,
            List<Place> places,
            RuleList.Citation rule) {
        public Finding {
            places = List.copyOf(places);
        }
    }

    /**
     * A part and its figure.
     *
     * @param part its name; for a pair both names with a stroke between
     * @param mm height over the road or over the string, gap, or travel, mm; negative below or inside
     * @param at where on the car
     * @param when at which position of the car, in words; empty for ride height
     */
    public record Place(String part, double mm, Spot at, String when) {}

    /**
     * How near everything comes to the road.
     *
     * @param stances positions of the car, each with its lowest parts
     * @param overTravel the least height of each part while both wheels of each axle go through their travel, every
     *     axle by itself and the steering from lock to lock, lowest first
     * @param scrub every part below a scrub line, deepest first
     */
    public record Under(List<Stance> stances, List<TravelLow> overTravel, List<Below> scrub) {
        public Under {
            stances = List.copyOf(stances);
            overTravel = List.copyOf(overTravel);
            scrub = List.copyOf(scrub);
        }

        /** Nothing is known: the car has fewer than three wheels on the ground. */
        static final Under NOTHING = new Under(List.of(), List.of(), List.of());
    }

    /** What a stance is about. */
    public enum StanceKind {
        /** As it was measured. */
        RIDE_HEIGHT,
        /** One or both axles, or one side, on the bump stops. */
        FULL_BUMP,
        /** One tyre without air. */
        ONE_FLAT,
        /** Two tyres without air. */
        TWO_FLAT
    }

    /**
     * A position of the car on a level road.
     *
     * @param name in words: {@code left front tyre flat}
     * @param lowest every part but the wheels, lowest first, at the least height of all ways in which the car can stand
     */
    public record Stance(StanceKind kind, String name, List<Place> lowest) {
        public Stance {
            lowest = List.copyOf(lowest);
        }
    }

    /**
     * The least height of a part over the road, over continuous travel.
     *
     * @param foundMm the least found, mm
     * @param at where
     * @param where at which position
     * @param floorMm no position is lower, mm; negative infinity if nothing could be proved
     * @param proved whether floor and found are within 0.5 mm, or the floor is so high (150 mm) that no rule asks for more
     */
    public record TravelLow(String part, double foundMm, Spot at, Position where, double floorMm, boolean proved) {}

    /**
     * A part below a scrub line.
     *
     * @param byMm how far below, straight down, mm
     * @param at its spot that is furthest below
     * @param string the string that passes it nearest, in words
     * @param stringHeightMm height of the string's sheet above that spot's place on the road, mm
     */
    public record Below(String part, double byMm, Spot at, String string, double stringHeightMm) {}

    /**
     * A wheel's travel.
     *
     * @param wheel its part's name
     * @param bumpMm how far it can rise from ride height
     * @param bumpEnds what ends that, in words
     * @param droopMm how far it can fall
     * @param droopEnds what ends that, in words
     * @param onStop whether a bump stop is what ends bump
     */
    public record Corner(
            String wheel, double bumpMm, String bumpEnds, double droopMm, String droopEnds, boolean onStop) {}

    /**
     * How far a steering goes.
     *
     * @param handle its handle
     * @param turnsLockToLock turns of the steering wheel, if the car file says what one turn does
     * @param angles of each steered wheel at either lock
     */
    public record Lock(String handle, Optional<Double> turnsLockToLock, List<LockAngle> angles) {
        public Lock {
            angles = List.copyOf(angles);
        }
    }

    /**
     * How far a wheel turns.
     *
     * @param wheel its part's name
     * @param height {@code full bump}, {@code ride height} or {@code full droop}
     * @param leftRad heading at the lock that turns the wheels to the left, rad to the left of straight ahead
     * @param rightRad heading at the other lock, rad to the left: negative
     */
    public record LockAngle(String wheel, String height, double leftRad, double rightRad) {}
}
