package daylight.report;

import daylight.car.Change;
import daylight.car.Trial;
import daylight.trim.CutWords;
import daylight.units.Angle;
import daylight.units.LengthFormat;
import java.util.ArrayList;
import java.util.List;

/** The changes of a trial in words. */
public final class ChangeText {
    private ChangeText() {}

    /** Returns one line per change. */
    public static List<String> of(Trial trial, LengthFormat format) {
        return trial.changes().stream().map(change -> of(change, format)).toList();
    }

    /** Returns a change in one line. */
    public static String of(Change change, LengthFormat format) {
        if (change instanceof Change.Trim trim) {
            return trim.of() + ": " + CutWords.of(trim.before(), trim.cut(), CutWords.marking(format.unit()));
        } else if (change instanceof Change.Move move) {
            List<String> ways = new ArrayList<>();
            way(ways, move.aheadMm(), "ahead", "back", format);
            way(ways, move.leftMm(), "to the left", "to the right", format);
            way(ways, move.upMm(), "up", "down", format);
            return move.of() + " moved " + (ways.isEmpty() ? "nowhere" : String.join(", ", ways));
        } else if (change instanceof Change.Rotate rotate) {
            return rotate.of() + " turned by " + new Angle(rotate.rad()).toDegrees(1);
        } else if (change instanceof Change.Rebend bend) {
            return bend.of() + " bent another way, " + format.print(bend.bendRadiusMm()) + " centre-line radius";
        } else if (change instanceof Change.Spacer spacer) {
            return spacer.of() + ": a spacer of " + format.print(spacer.thickMm()) + " behind the wheel";
        } else if (change instanceof Change.OtherTyre tyre) {
            List<String> what = new ArrayList<>();
            tyre.size().ifPresent(what::add);
            tyre.rimWidthMm().ifPresent(mm -> what.add("rim " + format.print(mm) + " wide"));
            tyre.backspacingMm().ifPresent(mm -> what.add("backspacing " + format.print(mm)));
            tyre.offsetMm().ifPresent(mm -> what.add("offset " + format.print(mm)));
            return tyre.of() + ": " + String.join(", ", what);
        } else if (change instanceof Change.HoseLength hose) {
            return hose.of() + ": " + format.print(hose.freeLengthMm()) + " free length";
        } else if (change instanceof Change.RideHeight height) {
            return "ride height at the " + height.of().replaceAll(" travel$", "") + " wheel: "
                    + format.print(Math.abs(height.raisedMm())) + (height.raisedMm() < 0 ? " lower" : " higher");
        } else if (change instanceof Change.RodLength rod) {
            return rod.of() + ": " + format.print(Math.abs(rod.longerMm()))
                    + (rod.longerMm() < 0 ? " shorter" : " longer");
        } else if (change instanceof Change.SpringSeat seat) {
            return seat.of() + ": spring seat " + format.print(Math.abs(seat.raisedMm()))
                    + (seat.raisedMm() < 0 ? " away from the spring" : " towards the spring");
        } else if (change instanceof Change.OtherEnds ends) {
            List<String> what = new ArrayList<>();
            for (Change.OtherEnds.End end : ends.ends()) {
                what.add(end.key() + " "
                        + (end.turns() ? new Angle(end.value()).toDegrees(1) : format.print(end.value())));
            }
            return ends.of() + ", " + ends.kind().word() + ": " + String.join(", ", what);
        }
        throw new IllegalStateException("a change of no known kind: " + change + ". Please report this.");
    }

    private static void way(List<String> ways, double mm, String positive, String negative, LengthFormat format) {
        if (mm != 0) {
            ways.add(format.print(Math.abs(mm)) + " " + (mm > 0 ? positive : negative));
        }
    }
}
