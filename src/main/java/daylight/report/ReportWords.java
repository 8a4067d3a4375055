package daylight.report;

import daylight.clearance.GapRow;
import daylight.clearance.State;
import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.util.ArrayList;
import java.util.List;

/** The sentences of a report that stand on their own: its verdict, its cautions, its method. */
final class ReportWords {
    private ReportWords() {}

    /** Returns the verdict in one sentence. */
    static String verdict(Report report) {
        Wording wording = Wording.in(format(report));
        long rub = report.count(State.RUB);
        long tight = report.count(State.TIGHT);
        long clear = report.count(State.CLEAR);
        String unproved = (report.unproved() == 0
                        ? ""
                        : " " + pairs(report.unproved(), "is", "are") + " not proved over the whole travel.")
                + (report.sampled() == 0
                        ? ""
                        : " " + pairs(report.sampled(), "", "").strip()
                                + " with a flexible line in it"
                                + (report.sampled() == 1 ? " is" : " are") + " sampled, not proved.");
        if (report.gaps().rows().isEmpty()) {
            return "No two parts of this car move against one another, so there is nothing to measure.";
        }
        if (rub == 0 && tight == 0) {
            String tightest = report.tightest().isEmpty()
                    ? ""
                    : "; the tightest is " + pair(report.tightest().get(0)) + " with "
                            + wording.gapWithUnit(
                                    report.tightest().get(0).least().found().distanceMm());
            return (clear == 1 ? "The one pair keeps its" : "All " + clear + " pairs keep their")
                    + " rule over the whole travel" + tightest + "." + unproved;
        }
        GapRow worst = report.gaps().rows().get(0);
        List<String> parts = new ArrayList<>();
        if (rub > 0) {
            parts.add(pairs(rub, "rubs", "rub"));
        }
        if (tight > 0) {
            parts.add((rub > 0 ? tight : pairs(tight, "", "").strip()) + (tight == 1 ? " comes" : " come")
                    + " nearer than asked");
        }
        return "Not clear: " + String.join(" and ", parts) + "; worst is " + pair(worst) + ", "
                + wording.gapWithUnit(worst.least().found().distanceMm()) + " where "
                + wording.required(worst.requiredMm()) + " is asked." + unproved;
    }

    private static String pairs(long count, String one, String more) {
        return count + (count == 1 ? " pair " + one : " pairs " + more);
    }

    static String pair(GapRow row) {
        return row.first() + " / " + row.second();
    }

    static LengthFormat format(Report report) {
        return LengthFormat.usual(report.style().inches() ? Unit.INCH : Unit.MILLIMETRE);
    }

    /** Returns what has to be said where someone may act on the first page. */
    static List<String> cautions() {
        return List.of(
                "Never go under a car that only a jack holds.",
                "This is geometry, not strength: steel bends, rubber gives, engines rock further than you think.",
                "Brake, steering and structural work follows local codes, and someone licensed checks it.",
                "Verify each tight gap on the car itself: springs out, the suspension cycled on a jack, modelling clay"
                        + " where it is near.");
    }

    /** Returns what has to be said to whoever follows the shop sheet under the car. */
    static List<String> shopCautions() {
        return List.of(
                "Never go under a car that only a jack holds: stands under the frame, wheels that stay down chocked.",
                "Take the springs out, or the coil-overs apart, so that the suspension can be put where the sheet says."
                        + " Clay goes on a clean, oiled face; cling film over the other part keeps it from tearing off.",
                "If a gap as it stands is not as expected, the measurements or the car have changed: stop, and measure"
                        + " again before trusting anything else on these pages.");
    }

    /** Returns how the figures came about, a paragraph each. */
    static List<String> method(Report report) {
        Wording wording = Wording.in(format(report));
        return List.of(
                "Every body starts where it was measured, at ride height, in one frame: ahead, left and above. Rigid parts"
                        + " on ideal joints move through the stated travel, steering and play together.",
                "Least is the smallest gap found; floor is what no position of the pair can fall below. The two are within "
                        + LengthFormat.TENTHS_OF_MM.print(report.gaps().toleranceMm())
                        + " wherever nothing else is said. The floor is a proof over the continuous travel, by bounds on"
                        + " how fast each body can move, not a look at samples; pairs that stay further apart than "
                        + wording.gapWithUnit(report.gaps().watchMm()) + " are only shown to do so.",
                "A gap is rounded down and a gap asked for is rounded up, so that neither flatters. Rub: it touches"
                        + " somewhere. Tight: somewhere it comes nearer than its rule, or could not be proved not to."
                        + " Clear: it keeps its rule everywhere.",
                "Bends, holes and hollow rims are cut into straight pieces that exceed the true shape by at most 0.02 mm."
                        + " Left out: bush compliance, tyre deflection, flex of the frame. Allow for them in the rules.");
    }
}
