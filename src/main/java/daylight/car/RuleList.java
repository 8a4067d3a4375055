package daylight.car;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/**
 * What one published source, or common practice, asks of a car: gaps between kinds of parts, and checks that are not
 * gaps. Data, read from {@code models/rule-lists/} or from a file beside the car's.
 *
 * @param name what a car file calls it
 * @param source where its rules were published
 * @param date of that source, in words
 * @param mark how far the source was read: seen, quoted, from memory, or common practice without a source
 * @param gaps required gaps, each with this list's name
 * @param checks what else it asks, in its order
 */
public record RuleList(
        String name, String source, String date, String mark, List<Car.Rule> gaps, List<RuleList.Check> checks) {
    public RuleList {
        gaps = List.copyOf(gaps);
        checks = List.copyOf(checks);
    }

    /** What kind of figure a check has. */
    public enum Figure {
        /** None: the geometry decides. */
        NONE,
        /** mm. */
        LENGTH,
        /** rad. */
        ANGLE,
        /** How many. */
        COUNT,
        /** A part of one. */
        SHARE
    }

    /** What can be checked besides gaps. */
    public enum Kind {
        /** Height of everything but the tyres above the road at ride height: at least so much. */
        RUNNING_CLEARANCE("running clearance", "at least", Figure.LENGTH),
        /** The same with the axles on their bump stops. */
        CLEARANCE_AT_FULL_BUMP("clearance at full bump", "at least", Figure.LENGTH),
        /** Height midway between the axles: so much per metre of wheelbase. */
        CLEARANCE_MIDWAY("clearance midway between axles", "per metre", Figure.LENGTH),
        /** One axle on one plane and the next on another that meets it at this angle: all clears. */
        CREST("crest", "angle", Figure.ANGLE),
        /** What hangs over passes a kerb of this height. */
        KERB("kerb", "height", Figure.LENGTH),
        /** Nothing but wheels and tyres touches the road with so many tyres flat. */
        FLAT_TYRES("flat tyres", "tyres", Figure.COUNT),
        /** Nothing hangs below strings from each rim to the neighbouring tyres. */
        SCRUB_LINE("scrub line", "", Figure.NONE),
        /** Nothing hangs lower than the lowest part of the rims. */
        BELOW_THE_RIM("below the rim", "", Figure.NONE),
        /** Each wheel can rise and fall by at least so much from ride height. */
        TRAVEL_LEFT("travel left", "at least", Figure.LENGTH),
        /** Each shock can close and open by at least so much from ride height. */
        SHOCK_TRAVEL_LEFT("shock travel left", "at least", Figure.LENGTH),
        /** A bump stop is what ends the bump travel. */
        BUMP_STOP_FIRST("bump stop first", "", Figure.NONE),
        /** Share of the original travel that is left each way after a change of ride height. */
        TRAVEL_KEPT("travel kept", "share", Figure.SHARE),
        /** Ride height was changed by at most so much. */
        HEIGHT_CHANGE("change of ride height", "at most", Figure.LENGTH),
        /** Ride height was changed by at most this share of the original travel. */
        HEIGHT_CHANGE_SHARE("change of ride height to travel", "share", Figure.SHARE),
        /** No wheel or tyre touches anything over all travel and steering. */
        WHEELS_FREE("wheels free", "", Figure.NONE),
        /** What comes too near while the steering goes from lock to lock at three heights. */
        LOCK_TO_LOCK("lock to lock", "", Figure.NONE),
        /** Flexible lines reach over travel and steering. */
        BRAKE_HOSES("brake hoses", "", Figure.NONE);

        private final String word;
        private final String key;
        private final Figure figure;

        Kind(String word, String key, Figure figure) {
            this.word = word;
            this.key = key;
            this.figure = figure;
        }

        /** Returns the word that a list writes after {@code check:}. */
        public String word() {
            return word;
        }

        /** Returns the key of its figure; empty if it has none. */
        public String key() {
            return key;
        }

        /** Returns what kind of figure it has. */
        public Figure figure() {
            return figure;
        }

        /** Returns the kind that a list writes so. */
        static Optional<Kind> of(String word) {
            return Arrays.stream(values())
                    .filter(kind -> kind.word.equals(word))
                    .findFirst();
        }
    }

    /**
     * One thing to check.
     *
     * @param figure mm, rad, a number or a share, as its kind says; zero for none
     * @param parts kinds of parts to which it applies; empty for all
     * @param cited where it comes from
     */
    public record Check(Kind kind, double figure, List<String> parts, Citation cited) {
        public Check {
            parts = List.copyOf(parts);
        }

        /** Returns whether it applies to a part. */
        public boolean appliesTo(Car.Part part) {
            return parts.isEmpty() || part.kinds().stream().anyMatch(parts::contains);
        }
    }

    /**
     * Where a rule comes from.
     *
     * @param list the list's name
     * @param source where it was published
     * @param date of that
     * @param clause which clause, or the rule in our words
     * @param mark how far it was read
     */
    public record Citation(String list, String source, String date, String clause, String mark) {
        /** Returns it in one line. */
        public String words() {
            return list + ", " + clause;
        }
    }
}
