package daylight.motion;

/**
 * Where a movement ends, and on what.
 *
 * @param at how far along the way, in its units; zero or more
 * @param cause what ends it there
 */
public record TravelEnd(double at, Cause cause) {

    /** What ends a movement. */
    public sealed interface Cause {
        /** In the builder's words, after "ends ... ,": {@code on the left shock (closed)}. */
        String words();
    }

    /** The travel that the car file states is reached, and nothing ends it earlier. */
    public record Stated() implements Cause {
        @Override
        public String words() {
            return "as stated";
        }
    }

    /**
     * A shock, stop, strap or joint is at its limit.
     *
     * @param limit its name
     * @param state in what way: {@code closed}, {@code fully open}, {@code solid}, {@code tight}, ...
     */
    public record Met(String limit, String state) implements Cause {
        @Override
        public String words() {
            return "on the " + limit + " (" + state + ")";
        }
    }

    /** Why a mechanism cannot go further. */
    public enum Why {
        /** Something would have to bend. */
        CANNOT_CLOSE("because it binds"),
        /** The joints close on, but only on the other side of a dead point. */
        OVER_CENTRE("because it would go over centre"),
        /** The joints close there, but hardly hold. */
        NEAR_SINGULAR("because it is next to a dead point"),
        /** It stands on a dead point at ride height. */
        TWO_ASSEMBLIES("because it stands on a dead point");

        private final String words;

        Why(String words) {
            this.words = words;
        }
    }

    /**
     * The mechanism cannot go further: something would have to bend, or it is at a dead point.
     *
     * @param why which of the two
     * @param message what the mechanism says
     */
    public record Binds(Why why, String message) implements Cause {
        @Override
        public String words() {
            return why.words + ": " + message;
        }
    }
}
