package daylight.survey;

import java.util.List;

/** How far a tape itself may be off, by its class: the greatest error allowed either way. */
public sealed interface TapeLimit {
    /**
     * Returns the limit for a length, mm.
     *
     * @param lengthMm zero or more
     */
    double limitMm(double lengthMm);

    /**
     * A limit that grows with the length: a + b L, with L in metres rounded up to the next whole one, and c more when
     * the length starts at the hook.
     *
     * @param aMm a, mm
     * @param bMm b, mm for each metre begun
     * @param hookMm c, mm
     * @see "Directive 2014/32/EU, Annex X (MI-008), chapter I"
     */
    record Growing(double aMm, double bMm, double hookMm) implements TapeLimit {
        private static final double MM_PER_M = 1000;

        @Override
        public double limitMm(double lengthMm) {
            return aMm + bMm * Math.ceil(lengthMm / MM_PER_M);
        }

        /** Returns the limit for a length that starts at the end hook, mm. */
        public double limitFromHookMm(double lengthMm) {
            return limitMm(lengthMm) + hookMm;
        }
    }

    /**
     * A limit by ranges of length.
     *
     * @param ranges shortest first; lengths beyond the last have the last one's limit
     * @see "NIST Handbook 44, section 5.52, linear measures"
     */
    record ByRange(List<Range> ranges) implements TapeLimit {
        /**
         * One range.
         *
         * @param upToMm greatest length in it, mm
         * @param limitMm greatest error either way, mm
         */
        public record Range(double upToMm, double limitMm) {}

        public ByRange {
            ranges = List.copyOf(ranges);
            if (ranges.isEmpty()) {
                throw new IllegalArgumentException("a tape limit needs one range or more");
            }
        }

        @Override
        public double limitMm(double lengthMm) {
            for (Range range : ranges) {
                if (lengthMm <= range.upToMm) {
                    return range.limitMm;
                }
            }
            return ranges.get(ranges.size() - 1).limitMm;
        }
    }
}
