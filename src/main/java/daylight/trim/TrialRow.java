package daylight.trim;

import daylight.clearance.GapRow;
import daylight.clearance.Least;
import daylight.clearance.State;
import java.util.Optional;

/**
 * One pair of parts before and after a trial.
 *
 * @param first name of the one part
 * @param second name of the other
 * @param before as the car is; empty when the pair is not measured there
 * @param after as the trial has it; empty when the pair is not measured there
 */
public record TrialRow(String first, String second, Optional<GapRow> before, Optional<GapRow> after) {

    /** What a trial does to a gap. */
    public enum Turn {
        /** Its least gap is less than before. */
        WORSE("worse"),
        /** Its least gap is more than before. */
        BETTER("better"),
        /** Its least gap is the same, as nearly as it is known. */
        SAME("same"),
        /** The pair is measured only with the trial. */
        NEW("new"),
        /** The pair is measured only without the trial. */
        GONE("gone");

        private final String word;

        Turn(String word) {
            this.word = word;
        }

        /** Returns the word shown everywhere. */
        public String word() {
            return word;
        }
    }

    /**
     * Returns what the trial does to the gap.
     *
     * @param knownToMm differences up to this are none, mm
     */
    public Turn turn(double knownToMm) {
        if (before.isEmpty() || after.isEmpty()) {
            return before.isEmpty() ? Turn.NEW : Turn.GONE;
        }
        Least was = before.get().least();
        Least is = after.get().least();
        boolean wasFar = was.proof() instanceof Least.Proof.FarApart;
        boolean isFar = is.proof() instanceof Least.Proof.FarApart;
        if (wasFar && isFar) {
            return Turn.SAME;
        }
        double by = is.found().distanceMm() - was.found().distanceMm();
        if (wasFar || isFar) {
            return isFar ? Turn.BETTER : Turn.WORSE;
        }
        return Math.abs(by) <= knownToMm ? Turn.SAME : by < 0 ? Turn.WORSE : Turn.BETTER;
    }

    /** Returns the state after the trial, or before it for a pair that is gone. */
    public State state() {
        return after.or(() -> before).map(GapRow::state).orElse(State.CLEAR);
    }

    /** Returns the margin after the trial, mm; infinite for a pair that is gone. */
    public double marginMm() {
        return after.map(GapRow::marginMm).orElse(Double.POSITIVE_INFINITY);
    }
}
