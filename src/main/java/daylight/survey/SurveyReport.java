package daylight.survey;

import daylight.geometry.Spot;
import java.util.ArrayList;
import java.util.List;

/**
 * What a survey says to its builder, ready to be printed: points with their doubt, readings with their residuals,
 * suspects, what is unchecked or not fixed, and what to measure next. Lengths in mm, angles in radians, car frame.
 *
 * @param points every point, in the order of the network
 * @param readings every number read, in the order of the network
 * @param suspects readings that do not agree with the others, worst first
 * @param unchecked readings in which a mistake would go unseen
 * @param unfixed points that are free to move, and how
 * @param floating motions of the whole that nothing holds
 * @param mirrorChoices points that could be in either of two places
 * @param toFix what to measure next to fix the points better, best first
 * @param toCheck what to measure next to check what nothing checks yet, best first
 * @param agreement how the readings agree as a whole
 */
public record SurveyReport(
        List<PointLine> points,
        List<ReadingResult> readings,
        List<Suspect> suspects,
        List<ReadingResult> unchecked,
        List<Unfixed> unfixed,
        List<String> floating,
        List<MirrorChoice> mirrorChoices,
        List<NextReading> toFix,
        List<NextReading> toCheck,
        Agreement agreement) {

    /**
     * One point.
     *
     * @param known whether it was taken as exact
     * @param at where it is
     * @param forward95Mm 95 % half width fore and aft; infinite where nothing fixes it
     * @param left95Mm the same sideways
     * @param up95Mm the same up and down
     */
    public record PointLine(String name, boolean known, Spot at, double forward95Mm, double left95Mm, double up95Mm) {}

    /**
     * How the readings agree as a whole.
     *
     * @param chiSquare sum of squares of residuals over their uncertainties
     * @param degreesOfFreedom readings beyond those needed
     * @param limit95 what chi-square stays below in 95 of 100 clean networks
     * @param doubtScale by what the points' doubt was multiplied because the readings scatter more than claimed
     * @param ending how the computation ended
     */
    public record Agreement(
            double chiSquare, double degreesOfFreedom, double limit95, double doubtScale, Ending ending) {
        /** Whether the readings agree within what is claimed for them. */
        public boolean agrees() {
            return degreesOfFreedom < 1 || chiSquare <= limit95;
        }
    }

    public SurveyReport {
        points = List.copyOf(points);
        readings = List.copyOf(readings);
        suspects = List.copyOf(suspects);
        unchecked = List.copyOf(unchecked);
        unfixed = List.copyOf(unfixed);
        floating = List.copyOf(floating);
        mirrorChoices = List.copyOf(mirrorChoices);
        toFix = List.copyOf(toFix);
        toCheck = List.copyOf(toCheck);
    }

    /**
     * Returns the report of an adjustment.
     *
     * @param candidates what could still be measured
     * @param nextReadings how many readings to propose, of either sort
     */
    public static SurveyReport of(Adjustment adjustment, List<Observation> candidates, int nextReadings) {
        SurveyedPoints surveyed = adjustment.points();
        List<PointLine> points = new ArrayList<>();
        for (SurveyPoint point : adjustment.network().points()) {
            String name = point.name();
            points.add(new PointLine(
                    name,
                    point instanceof SurveyPoint.Known,
                    surveyed.spot(name),
                    width(surveyed, name, Axis.FORWARD),
                    width(surveyed, name, Axis.LEFT),
                    width(surveyed, name, Axis.UP)));
        }
        List<ReadingResult> unchecked = adjustment.readings().stream()
                .filter(r -> r.standing() == ReadingResult.Standing.UNCHECKED)
                .toList();
        return new SurveyReport(
                points,
                adjustment.readings(),
                adjustment.suspects(),
                unchecked,
                adjustment.unfixed(),
                adjustment.floating(),
                adjustment.mirrorChoices(),
                adjustment.next(new NextReading.Goal.Points(), candidates, nextReadings),
                unchecked.isEmpty()
                        ? List.of()
                        : adjustment.next(new NextReading.Goal.Checks(), candidates, nextReadings),
                new Agreement(
                        adjustment.chiSquare(),
                        adjustment.degreesOfFreedom(),
                        adjustment.chiSquareLimit95(),
                        adjustment.doubtScale(),
                        adjustment.ending()));
    }

    /** A doubt of about the size of a car means that nothing fixes the coordinate. */
    private static double width(SurveyedPoints surveyed, String point, Axis axis) {
        double u = surveyed.standardUncertaintyMm(point, axis);
        return u > SurveyedPoints.LOOSE_MM / 4 ? Double.POSITIVE_INFINITY : Coverage.NORMAL_95 * u;
    }
}
