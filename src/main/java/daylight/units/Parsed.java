package daylight.units;

import java.util.Optional;

/**
 * What became of a text that a person typed: a value, or the reason why it is none.
 *
 * @param <T> the kind of value
 */
public sealed interface Parsed<T> {

    /** Returns the value, if the text was one. */
    Optional<T> value();

    /** The text was understood. */
    record Read<T>(T result) implements Parsed<T> {
        @Override
        public Optional<T> value() {
            return Optional.of(result);
        }
    }

    /**
     * The text was not understood.
     *
     * @param reason what is wrong, with the text in the writer's own spelling; no full stop
     * @param advice what to write instead: a sentence
     */
    record Refused<T>(String reason, String advice) implements Parsed<T> {
        @Override
        public Optional<T> value() {
            return Optional.empty();
        }
    }
}
