package daylight.report;

import daylight.car.Car;
import daylight.clearance.GapRow;
import daylight.geometry.Spot;
import daylight.report.Drawing.Anchor;
import daylight.report.Drawing.Pen;
import daylight.units.LengthFormat;
import daylight.units.Unit;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * The pictures of a car without a screen, each an SVG text that can be read alone: sections through a pair, its gap along
 * the travel and over two movements, and the whole car square on.
 *
 * <p>An engine: not thread-safe, one per thread. The same car gives the same text every time.
 */
public final class CarPictures {
    private static final double VIEWS_WIDTH = 700;
    private static final double VIEWS_GAP = 34;
    private static final double VIEWS_MARGIN = 10;
    private static final double MOST_VIEW_HEIGHT = 300;
    private static final double BALLOON = 9;
    private static final double[] REACHES = {24, 36, 50, 66, 84, 104};
    private static final int DIRECTIONS = 16;

    private final Standing standing;
    private final LengthFormat format;
    private final List<SquareView> views;

    private CarPictures(Car car, boolean inches) {
        this.standing = new Standing(car);
        this.format = LengthFormat.usual(inches ? Unit.INCH : Unit.MILLIMETRE);
        this.views = car.parts().isEmpty() ? List.of() : SquareView.of(car);
    }

    /**
     * Returns the pictures of a car.
     *
     * @param inches whether lengths are in inches to 1/16 (else in mm to 0.1)
     * @throws IllegalArgumentException if the car cannot be compiled (the reader of car files refuses such cars)
     */
    public static CarPictures of(Car car, boolean inches) {
        return new CarPictures(car, inches);
    }

    /**
     * Returns a dimensioned section of a pair through its two nearest spots, where it is nearest: both parts' true
     * shape in that plane, the computed gap, a scale, and a small view from above of where it is. Empty if one of the
     * pair is a flexible line, which has no shape of its own.
     */
    public Optional<String> section(GapRow row) {
        if (!standing.isOfParts(row)) {
            return Optional.empty();
        }
        return Optional.of(SectionSvg.of(Section.of(row, standing), views.get(1), format));
    }

    /** Returns a pair's gap along the movement that changes it most, with its rule; empty if no movement changes it. */
    public Optional<String> curve(GapRow row) {
        return handles(row).stream()
                .findFirst()
                .map(handle -> PairSvg.curve(row, PairCurve.of(row, standing, handle), format));
    }

    /**
     * Returns a map of a pair's gap over the two movements that change it most, with contours at the rule and at zero;
     * empty if fewer than two movements change it.
     */
    public Optional<String> map(GapRow row) {
        List<Integer> handles = handles(row);
        return handles.size() < 2
                ? Optional.empty()
                : Optional.of(PairSvg.map(row, PairMap.of(row, standing, handles.get(0), handles.get(1)), format));
    }

    private List<Integer> handles(GapRow row) {
        return standing.isOfParts(row) ? PairCurve.byEffect(row, standing) : List.of();
    }

    /**
     * Returns the car at ride height from the left, from above and from the front in one picture, with the spots where
     * pairs come near numbered from 1 and their parts standing out.
     */
    public String squareViews(List<GapRow> numbered) {
        SquareView side = views.get(0);
        SquareView plan = views.get(1);
        SquareView front = views.get(2);
        double room = VIEWS_WIDTH - 2 * VIEWS_MARGIN;
        double scale = Math.min(
                room / Math.max(side.widthMm(), plan.widthMm()),
                MOST_VIEW_HEIGHT / Math.max(side.heightMm(), Math.max(plan.heightMm(), front.heightMm())));
        List<Spot> spots = spots(numbered);
        Set<String> standOut = new HashSet<>();
        numbered.forEach(row -> {
            standOut.add(row.first());
            standOut.add(row.second());
        });
        double height = VIEWS_GAP * views.size();
        for (SquareView view : views) {
            height += scale * view.heightMm() + VIEWS_GAP;
        }
        Drawing drawing = new Drawing(
                VIEWS_WIDTH,
                height,
                "The car at ride height from the left, from above and from the front, with " + numbered.size()
                        + (numbered.size() == 1 ? " spot numbered" : " spots numbered"));
        double y = VIEWS_GAP;
        for (SquareView view : views) {
            double tall = scale * view.heightMm();
            SquareView.Frame frame = view.placed(scale, VIEWS_WIDTH / 2, y + tall / 2);
            drawing.boldWords(VIEWS_MARGIN, y - 14, Anchor.START, 12, Drawing.INK, view.name());
            view.draw(drawing, frame, standOut);
            balloons(drawing, view, frame, spots, y - VIEWS_GAP / 2, y + tall + VIEWS_GAP / 2);
            y += tall + 2 * VIEWS_GAP;
        }
        return drawing.finished();
    }

    /** Where each pair's nearest spot on its first part (not a flexible line) is while the car stands at ride height. */
    private List<Spot> spots(List<GapRow> numbered) {
        List<Spot> spots = new ArrayList<>();
        for (GapRow row : numbered) {
            boolean first = standing.car().part(row.first()).isPresent();
            Spot there = first ? row.least().found().onA() : row.least().found().onB();
            String part = first ? row.first() : row.second();
            if (standing.car().part(part).isPresent()) {
                standing.stand(row.least().where());
                spots.add(Standing.atRideHeight(standing.pose(standing.part(part)), there));
            } else {
                spots.add(there);
            }
        }
        return spots;
    }

    private static void balloons(
            Drawing drawing, SquareView view, SquareView.Frame frame, List<Spot> spots, double top, double bottom) {
        List<double[]> taken = new ArrayList<>();
        for (Spot spot : spots) {
            taken.add(new double[] {frame.x(view.across(spot)), frame.y(view.up(spot)), 3});
        }
        for (int n = 0; n < spots.size(); n++) {
            double[] at = taken.get(n);
            double[] place = place(at, taken, top, bottom);
            taken.add(place);
            drawing.line(at[0], at[1], place[0], place[1], Pen.of(Drawing.INK, 0.8));
            drawing.circle(at[0], at[1], 2.6, Drawing.INK, Pen.of("#ffffff", 0.7));
        }
        for (int n = 0; n < spots.size(); n++) {
            double[] place = taken.get(spots.size() + n);
            drawing.circle(place[0], place[1], BALLOON, "#ffffff", Pen.of(Drawing.INK, 1.2));
            drawing.boldWords(place[0], place[1] + 4, Anchor.MIDDLE, 11, Drawing.INK, Integer.toString(n + 1));
        }
    }

    /** Returns the place nearest to a spot where a balloon covers nothing that is there already. */
    private static double[] place(double[] at, List<double[]> taken, double top, double bottom) {
        for (double reach : REACHES) {
            for (int k = 0; k < DIRECTIONS; k++) {
                double angle = 2 * Math.PI * k / DIRECTIONS + Math.PI / 4;
                double x = at[0] + reach * Math.cos(angle);
                double y = at[1] - reach * Math.sin(angle);
                boolean inside =
                        x > BALLOON && x < VIEWS_WIDTH - BALLOON && y > top + BALLOON - 6 && y < bottom - BALLOON + 6;
                boolean free = taken.stream()
                        .allMatch(other -> Math.hypot(x - other[0], y - other[1]) > BALLOON + 1.5 + other[2]);
                if (inside && free) {
                    return new double[] {x, y, BALLOON};
                }
            }
        }
        return new double[] {at[0] + REACHES[0], at[1], BALLOON};
    }
}
