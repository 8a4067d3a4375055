package daylight.trim;

import daylight.clearance.GapRow;
import daylight.geometry.Cut;
import daylight.geometry.Shape;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * What to cut off a plate so that it keeps its gaps.
 *
 * @param part the plate
 * @param plate as it is
 * @param before the gaps of the plate as it is, tightest first
 * @param options cuts that clear, the one that takes least metal first; empty when none is needed or none may be made
 * @param none why no cut clears, where one is needed and none may be made
 * @param metal the metal of the plate as it is
 * @param squares how many squares of the plate were measured
 * @param trouble why something could not be proved, or empty
 * @param doubt95Mm half of the 95 % interval of each gap of the plate as it is, by the other part's name, mm; empty
 *     when the cut was not asked to clear at 95 %
 */
public record LeastCut(
        String part,
        Shape.Plate plate,
        List<GapRow> before,
        List<Option> options,
        Optional<None> none,
        MetalLeft metal,
        long squares,
        String trouble,
        Map<String, Double> doubt95Mm) {
    public LeastCut {
        before = List.copyOf(before);
        options = List.copyOf(options);
        doubt95Mm = Map.copyOf(doubt95Mm);
    }

    /** Kinds of cut. */
    public enum Kind {
        /** A straight line. */
        STRAIGHT("straight cut"),
        /** A corner rounded off. */
        ROUND("rounded corner"),
        /** A square bite out of an edge. */
        NOTCH("notch");

        private final String word;

        Kind(String word) {
            this.word = word;
        }

        /** Returns the word shown everywhere. */
        public String word() {
            return word;
        }
    }

    /**
     * A cut that clears.
     *
     * @param exact the least cut, not rounded
     * @param exactAreaMm2 what it takes off one face
     * @param marked the cut as it is marked out: rounded outwards to whole steps
     * @param after the plate after the marked cut
     * @param areaMm2 what the marked cut takes off one face
     * @param gaps the gaps of the plate after the marked cut, as the gap search finds them
     * @param metal the metal left
     * @param doubt95Mm half of the 95 % interval of each of these gaps, by the other part's name, mm; empty when the cut
     *     was not asked to clear at 95 %
     */
    public record Option(
            Kind kind,
            Cut exact,
            double exactAreaMm2,
            Cut marked,
            Shape.Plate after,
            double areaMm2,
            List<GapRow> gaps,
            MetalLeft metal,
            Map<String, Double> doubt95Mm) {
        public Option {
            gaps = List.copyOf(gaps);
            doubt95Mm = Map.copyOf(doubt95Mm);
        }

        Option at95(Map<String, Double> doubtMm) {
            return new Option(kind, exact, exactAreaMm2, marked, after, areaMm2, gaps, metal, doubtMm);
        }
    }

    /**
     * No cut that may be made clears.
     *
     * @param blocks what is in the way of the cut that would clear, in words
     * @param nearest the cut that may be made and gets furthest, if one may be made at all
     * @param shortMm by how much the plate then still misses its gap, mm
     * @param shift the least shift of the plate that clears without a cut, if one up to {@code CutStudy}'s limit does
     */
    public record None(String blocks, Optional<Cut> nearest, double shortMm, Optional<Shift> shift) {}

    /**
     * A shift of the plate along one of the car's axes.
     *
     * @param way in words: up, to the left
     * @param byMm how far, rounded outwards to a whole step
     * @param gaps the gaps of the plate where it then is
     */
    public record Shift(String way, double byMm, double aheadMm, double leftMm, double upMm, List<GapRow> gaps) {
        public Shift {
            gaps = List.copyOf(gaps);
        }
    }
}
