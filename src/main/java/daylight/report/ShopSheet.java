package daylight.report;

import daylight.car.Car;
import daylight.clearance.GapRow;
import daylight.clearance.Position;
import daylight.clearance.State;
import daylight.geometry.Pose;
import daylight.geometry.Spot;
import daylight.motion.Setting;
import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.util.ArrayList;
import java.util.List;

/**
 * What to check on the car itself: for each of the tightest pairs a gap to verify as the car stands, where to put clay,
 * where to move the car, and what should be left of the clay.
 */
final class ShopSheet {
    /** Wider gaps are not felt with a drill shank, mm. */
    private static final double WIDEST_SHANK_MM = 25.4;
    /** Clay is put on this much thicker than the gap that is expected, mm. */
    private static final double CLAY_OVER_MM = 6.35;
    /** Steps of drill shanks in mm: halves. */
    private static final double SHANK_MM = 0.5;

    private final Standing standing;
    private final LengthFormat format;
    private final Wording wording;
    private final double shankStepMm;

    private ShopSheet(Car car, LengthFormat format) {
        this.standing = new Standing(car);
        this.format = format;
        this.wording = Wording.in(format);
        this.shankStepMm = format.unit() == Unit.INCH ? Unit.INCH.mm() / 16 : SHANK_MM;
    }

    /**
     * One check.
     *
     * @param row the pair
     * @param shank what the gap should be as the car stands, and how to verify it
     * @param clay where to put clay, and how thick
     * @param spot where that is on the car
     * @param jack where to move the car
     * @param left what should be left of the clay
     */
    record Check(GapRow row, String shank, String clay, String spot, String jack, String left) {}

    /** Returns the checks for the tightest pairs of a report that are parts both, tightest first. */
    static List<Check> of(Report report) {
        ShopSheet sheet = new ShopSheet(report.car(), ReportWords.format(report));
        List<Check> checks = new ArrayList<>();
        for (GapRow row : report.tightest()) {
            if (sheet.standing.isOfParts(row)) {
                checks.add(sheet.check(row));
            }
        }
        return checks;
    }

    private Check check(GapRow row) {
        standing.stand(row.least().where());
        Pose pose = standing.pose(standing.part(row.first()));
        Spot onFirst = Standing.atRideHeight(pose, row.least().found().onA());
        double least = row.least().found().distanceMm();
        return new Check(row, shank(row), clay(row, least), "At " + place(onFirst), jack(row), left(row, least));
    }

    private String shank(GapRow row) {
        double gap = row.atRideHeight().distanceMm();
        if (gap < shankStepMm) {
            return gap < 0
                    ? "They should touch as the car stands, nothing pushed."
                    : "Expect less than " + format.print(shankStepMm) + ": only a feeler goes between.";
        }
        if (gap > WIDEST_SHANK_MM) {
            return "Expect " + wording.gapWithUnit(gap) + ", by tape.";
        }
        double goes = Math.floor(gap / shankStepMm + ROUNDING) * shankStepMm;
        return "Expect " + wording.gapWithUnit(gap) + ": a " + format.print(goes) + " drill shank goes between, a "
                + format.print(goes + shankStepMm) + " one does not.";
    }

    /** Part of a step by which a gap may miss a whole number of them. */
    private static final double ROUNDING = 1e-6;

    private String clay(GapRow row, double least) {
        if (least > WIDEST_SHANK_MM) {
            return "No clay: hold a block " + format.print(format.notBelow(row.requiredMm())) + " thick against "
                    + row.first() + ", where it faces " + row.second() + ".";
        }
        double thick = format.notBelow(Math.max(0, least) + CLAY_OVER_MM);
        return "Put clay " + format.print(thick) + " thick on " + row.first() + ", where it faces " + row.second()
                + ".";
    }

    private String left(GapRow row, double least) {
        if (row.state() == State.RUB) {
            return "Expect the clay cut through: the parts meet, by " + format.print(0.0 - least) + " if nothing gave.";
        }
        if (least > WIDEST_SHANK_MM) {
            return "Expect " + wording.gapWithUnit(least) + " between them: the block goes in.";
        }
        return "Expect " + wording.gapWithUnit(least) + " of clay left at its thinnest; the rule asks for "
                + wording.required(row.requiredMm()) + ".";
    }

    /** Returns where a spot is, as one measures it on the car. */
    private String place(Spot spot) {
        return side(spot.x(), "ahead of", "behind") + " the datum line, " + side(spot.y(), "left of", "right of")
                + " centre, " + side(spot.z(), "above", "below") + " the floor of the measurements.";
    }

    private String side(double mm, String positive, String negative) {
        return format.print(Math.abs(mm)) + " " + (mm < 0 ? negative : positive);
    }

    private String jack(GapRow row) {
        Position where = row.least().where();
        List<String> words = new ArrayList<>();
        List<String> wheels = new ArrayList<>();
        boolean moves = false;
        for (Setting setting : where.handles()) {
            boolean atRest = setting.turns()
                    ? Math.abs(Math.toDegrees(setting.value())) < LEAST_DEG
                    : format.nearest(setting.value()) == 0;
            if (!atRest) {
                moves = true;
                words.add(wording.setting(setting));
            }
        }
        if (moves) {
            for (Car.Wheel wheel : standing.car().wheels()) {
                Spot centre = standing.poseOfBody(standing.body(wheel.body())).apply(wheel.centre());
                if (Math.abs(centre.z() - wheel.centre().z()) > format.stepMm()) {
                    wheels.add(wheel.part() + " with its wheel centre " + format.print(format.nearest(centre.z()))
                            + " above the floor");
                }
            }
        }
        StringBuilder text = new StringBuilder();
        text.append(
                moves
                        ? "With the frame held at ride height on stands and the springs out: "
                        : "Leave the car at ride height");
        text.append(String.join(", ", words));
        if (!wheels.isEmpty()) {
            text.append(" (jack up ").append(String.join(", ", wheels)).append(')');
        }
        List<String> pushes = new ArrayList<>();
        for (Setting shift : where.shifts()) {
            if (format.nearest(shift.value()) != 0) {
                pushes.add(wording.shift(shift));
            }
        }
        if (!pushes.isEmpty()) {
            text.append("; then push ").append(String.join(", ", pushes)).append(" (+ is left, up, forward)");
        }
        return text.append('.').toString();
    }

    private static final double LEAST_DEG = 0.05;
}
