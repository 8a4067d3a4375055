package daylight.clearance;

import daylight.car.Car;
import daylight.car.CarFileException;
import daylight.car.CarVariants;
import daylight.car.Measurement;
import daylight.geometry.Gauge;
import daylight.geometry.Pose;
import daylight.geometry.Solid;
import daylight.geometry.Spot;
import daylight.motion.Handle;
import daylight.motion.Setting;
import daylight.motion.StandingCar;
import daylight.survey.Adjustment;
import daylight.survey.Coverage;
import daylight.survey.Distribution;
import daylight.survey.Doubt;
import daylight.survey.Equation;
import daylight.survey.GapComparison;
import daylight.survey.GapDoubt;
import daylight.survey.GapSimulation;
import daylight.survey.MeasuredCar;
import daylight.survey.MeasuredPoints;
import daylight.survey.MeasuringDefaults;
import daylight.survey.ReadingResult;
import daylight.survey.SurveyedPoints;
import daylight.units.Length;
import daylight.units.Progress;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import org.joml.Matrix4x3d;
import org.joml.Vector3d;

/**
 * Carries the doubt of the measured points into the least gaps.
 *
 * <p>Every point is nudged along each axis, the car is described anew from there (mechanisms, parts and all that hangs
 * on the point follow), its mechanisms are solved again at the position where a pair's gap is least, and the gap is
 * measured again. At the least gap the position itself does not matter to first order, so that is the gap's
 * sensitivity. The survey's covariance does the rest.
 *
 * <p>What is written in a part's own shape (an outline, a tube's corners) is a measurement too, and no reading checks
 * it: each of the two parts adds one error of its own along the gap, within what the part says ({@code within:}), else
 * the file. It is the same for every figure of a part, and independent from part to part: a plain stand-in for errors
 * that nobody wrote down.
 *
 * <p>{@link #linear} is first order. {@link #simulated} draws cars: in each the two bodies stand where the nudges,
 * added up, put them (the mechanism is taken as straight over the points' doubt; a millimetre on a rod of 300 mm
 * leaves some hundredths out), the distance between the two shapes is measured exactly, at the least position and a
 * little to either side along each handle, and the least of those is the drawn car's gap. What a point does to a
 * part's own shape is added to first order. A drawn car whose gap is least somewhere else altogether is not seen.
 */
public final class DoubtSearch {
    /** How far a point is nudged, mm: far above the solver's rounding, far below what bends a linkage. */
    private static final double NUDGE_MM = 0.05;
    /** Share of a handle's range to either side of the least position at which a drawn car is looked at too. */
    private static final double ASIDE = 0.03;
    /** The new reading that is weighed against the old ones: a tape read to a thirty-second. */
    private static final double SHARP_MM = Length.MM_PER_INCH / 32;
    /** Readings by share that are weighed. */
    private static final int WEIGHED = 5;
    /** A gap that changes less than this for a millimetre of a point does not hang on it. */
    private static final double NOTHING = 1e-9;

    private final MeasuredCar measured;
    private final MeasuredPoints points;
    private final SurveyedPoints surveyed;
    private final StandingCar base;
    private final List<GapRow> rows;
    private final List<Nudge> nudges = new ArrayList<>();

    /** One coordinate of one point, the car that has it nudged, and the parts that are elsewhere or otherwise then. */
    private record Nudge(String point, int axis, int coordinate, StandingCar car, Set<String> parts) {
        boolean moves(GapRow row) {
            return parts.contains(row.first()) || parts.contains(row.second());
        }
    }

    private DoubtSearch(MeasuredCar measured, List<GapRow> rows) throws CarFileException {
        this.measured = measured;
        this.points = measured.surveyed();
        this.surveyed = points.adjustment().points();
        this.base = new StandingCar(measured.car());
        this.rows = rows;
    }

    /**
     * Returns the doubts of the tightest gaps to first order.
     *
     * @param most how many rows at most, from the tightest on; those that stay far apart are passed over
     * @throws CarFileException if the car's file cannot be read any more
     * @see "JCGM 100:2008 (GUM), 5.2.2, equation (13)"
     */
    public static Optional<GapDoubts> linear(MeasuredCar measured, GapTable table, int most, Progress progress)
            throws CarFileException {
        DoubtSearch search = new DoubtSearch(measured, tightest(measured, table, most));
        if (!search.nudge(progress)) {
            return Optional.empty();
        }
        List<GapDoubts.Row> found = new ArrayList<>();
        for (GapRow row : search.rows) {
            double gap = row.least().found().distanceMm();
            search.gradient(row).ifPresent(gradient -> found.add(search.row(row, gap, gradient)));
        }
        return Optional.of(new GapDoubts(found, 0));
    }

    /**
     * Returns the doubts of the tightest gaps from cars drawn at random; the shares are those to first order.
     *
     * @param draws how many cars
     * @param seed same seed, same outcome, but for rounding (a distance is measured from where the last one was) far
     *     below what is printed
     * @throws CarFileException if the car's file cannot be read any more
     * @see "JCGM 101:2008, clause 7"
     */
    public static Optional<GapDoubts> simulated(
            MeasuredCar measured, GapTable table, int most, int draws, long seed, int threads, Progress progress)
            throws CarFileException {
        DoubtSearch search = new DoubtSearch(measured, tightest(measured, table, most));
        if (!search.nudge(new Share(progress, 0, 0.3))) {
            return Optional.empty();
        }
        return search.simulate(draws, seed, threads, new Share(progress, 0.3, 1));
    }

    /**
     * Holds every gap that was measured on the car against the one computed where the car stood then. At a position
     * that it cannot stand in there is nothing to compare, and the outcome says so.
     *
     * @throws CarFileException if the car's file cannot be read any more
     */
    public static List<GapCheck> checks(MeasuredCar measured, Progress progress) throws CarFileException {
        List<Measurement.Gap> gaps = new ArrayList<>();
        MeasuredPoints points = measured.surveyed();
        for (Measurement reading : points.sheet().readings()) {
            if (reading instanceof Measurement.Gap gap) {
                gaps.add(gap);
            }
        }
        if (gaps.isEmpty()) {
            return List.of();
        }
        StandingCar car = new StandingCar(measured.car());
        List<Optional<GapRow>> rows = gaps.stream().map(gap -> asRow(gap, car)).toList();
        DoubtSearch search = new DoubtSearch(
                measured, rows.stream().flatMap(Optional::stream).toList());
        search.nudge(progress);
        List<GapCheck> checks = new ArrayList<>();
        for (int g = 0; g < gaps.size(); g++) {
            Measurement.Gap gap = gaps.get(g);
            checks.add(GapCheck.of(
                    gap,
                    rows.get(g).flatMap(row -> search.comparison(gap, row)),
                    search.standing(gap),
                    points.adjustment().network().graduation()));
        }
        return checks;
    }

    private static Optional<GapRow> asRow(Measurement.Gap gap, StandingCar car) {
        Position at = new Position(MeasuredPoints.settings(car, gap), List.of());
        return car.proximity(gap.first(), gap.second(), at.handles(), at.shifts())
                .map(found -> {
                    Least.Proof proof = new Least.Proof.Unproved("at one position only");
                    return new GapRow(
                            gap.first(),
                            gap.second(),
                            found,
                            new Least(found, at, found.distanceMm(), proof),
                            0,
                            "",
                            State.CLEAR,
                            Optional.empty(),
                            Optional.empty(),
                            List.of());
                });
    }

    private Optional<GapComparison> comparison(Measurement.Gap gap, GapRow row) {
        return gradient(row).map(gradient -> {
            double u = total(surveyed.standardUncertainty(gradient), row);
            return new GapComparison(
                    row.least().found().distanceMm(), u, gap.readsMm(), points.standardUncertaintyMm(gap));
        });
    }

    /** How a gap that counts stands among the other readings; nothing for one that is only compared. */
    private Optional<ReadingResult.Standing> standing(Measurement.Gap gap) {
        return points.adjustment().readings().stream()
                .filter(reading -> gap.counts() && reading.reading().equals(gap.name()))
                .map(ReadingResult::standing)
                .findFirst();
    }

    /** Returns mm of a row's least gap per mm of each surveyed coordinate, for tests. */
    static double[] gradient(MeasuredCar measured, GapRow row) throws CarFileException {
        DoubtSearch search = new DoubtSearch(measured, List.of(row));
        search.nudge(Progress.SILENT);
        return search.gradient(row).orElseThrow();
    }

    /** A stretch of a longer work's progress. */
    private record Share(Progress whole, double from, double to) implements Progress {
        @Override
        public void at(double fraction, String message) {
            whole.at(from + (to - from) * fraction, message);
        }

        @Override
        public boolean cancelled() {
            return whole.cancelled();
        }
    }

    /** A hose has no shape of its own to stand at a position: its rows are passed over. */
    private static List<GapRow> tightest(MeasuredCar measured, GapTable table, int most) {
        return table.rows().stream()
                .filter(row -> measured.car().part(row.first()).isPresent()
                        && measured.car().part(row.second()).isPresent())
                .filter(row -> !(row.least().proof() instanceof Least.Proof.FarApart))
                .limit(most)
                .toList();
    }

    /** Describes the car anew with each coordinate nudged that it hangs on; returns whether it came to the end. */
    private boolean nudge(Progress progress) throws CarFileException {
        // Solids that are in no row are never made; those that are, are made once.
        Set<String> wanted = new LinkedHashSet<>();
        for (GapRow row : rows) {
            base.solid(row.first());
            base.solid(row.second());
            wanted.add(row.first());
            wanted.add(row.second());
        }
        Map<String, Spot> places = Map.copyOf(points.places());
        CarVariants variants = measured.document().variants();
        Car whole = variants.with(places);
        Set<String> used = variants.pointsUsed(wanted);
        List<String> names = surveyed.names().stream().filter(used::contains).toList();
        int done = 0;
        for (String point : names) {
            if (progress.cancelled()) {
                return false;
            }
            progress.at(done++ / (double) names.size(), "moving each point a little");
            Spot at = surveyed.spot(point);
            Spot[] nudged = {at.plus(NUDGE_MM, 0, 0), at.plus(0, NUDGE_MM, 0), at.plus(0, 0, NUDGE_MM)};
            for (int axis = 0; axis < nudged.length; axis++) {
                Map<String, Spot> moved = new HashMap<>(places);
                moved.put(point, nudged[axis]);
                StandingCar car = base.changed(variants.with(whole, moved, point, wanted));
                nudges.add(new Nudge(point, axis, surveyed.indexOf(point) + axis, car, car.partsThatDifferFrom(base)));
            }
        }
        return true;
    }

    /** Returns mm of gap per mm of each coordinate, or nothing where a nudged car cannot stand at the position. */
    private Optional<double[]> gradient(GapRow row) {
        Position at = row.least().where();
        double here = gap(base, row, at);
        double[] gradient = new double[surveyed.coordinateCount()];
        for (Nudge nudge : nudges) {
            if (!nudge.moves(row)) {
                continue;
            }
            double there = gap(nudge.car, row, at);
            if (Double.isNaN(there) || Double.isNaN(here)) {
                return Optional.empty();
            }
            double slope = (there - here) / NUDGE_MM;
            gradient[nudge.coordinate] = Math.abs(slope) > NOTHING ? slope : 0;
        }
        return Optional.of(gradient);
    }

    private static double gap(StandingCar car, GapRow row, Position at) {
        return car.gap(row.first(), row.second(), car.atOwnEnds(at.handles()), at.shifts());
    }

    /** Standard uncertainty of where a part's own figures put it, mm. */
    private double figuresUMm(String part) {
        return MeasuringDefaults.rectangular(withinMm(part));
    }

    private double withinMm(String part) {
        Car car = measured.car();
        return car.part(part).map(car::withinMm).orElse(car.about().withinMm());
    }

    /** Adds both parts' own figures to what comes of the points. */
    private double total(double fromPoints, GapRow row) {
        double first = figuresUMm(row.first());
        double second = figuresUMm(row.second());
        return Math.sqrt(fromPoints * fromPoints + first * first + second * second);
    }

    private GapDoubts.Row row(GapRow row, double gap, double[] gradient) {
        double fromPoints = surveyed.standardUncertainty(gradient);
        double u = total(fromPoints, row);
        return new GapDoubts.Row(
                row.first(),
                row.second(),
                GapDoubt.linear(gap, u, shares(row, gradient, fromPoints, u)),
                sharper(row, gradient, u));
    }

    private List<GapDoubt.Share> shares(GapRow row, double[] gradient, double fromPoints, double u) {
        List<GapDoubt.Share> shares = new ArrayList<>();
        for (String part : List.of(row.first(), row.second())) {
            double own = figuresUMm(part) / u;
            shares.add(new GapDoubt.Share(figures(part), "", own * own));
        }
        double ofPoints = fromPoints * fromPoints / (u * u);
        for (GapDoubt.Share share : points.adjustment().shares(gradient)) {
            shares.add(new GapDoubt.Share(share.reading(), share.part(), share.share() * ofPoints));
        }
        shares.sort(Comparator.comparingDouble(GapDoubt.Share::share).reversed());
        return shares;
    }

    private static String figures(String part) {
        return part + "'s own figures";
    }

    private Optional<GapDoubts.Sharper> sharper(GapRow row, double[] gradient, double u) {
        Adjustment adjustment = points.adjustment();
        double sharpU = MeasuringDefaults.rectangular(SHARP_MM);
        String best = "";
        double least = u;
        for (String part : List.of(row.first(), row.second())) {
            double own = figuresUMm(part);
            double after = Math.sqrt(u * u - own * own + sharpU * sharpU);
            if (own > sharpU && after < least) {
                least = after;
                best = figures(part);
            }
        }
        List<GapDoubt.Share> shares = adjustment.shares(gradient);
        for (GapDoubt.Share share : shares.subList(0, Math.min(WEIGHED, shares.size()))) {
            boolean sharpens = adjustment.readings().stream()
                    .anyMatch(reading -> reading.reading().equals(share.reading())
                            && reading.quantity() == Equation.Quantity.LENGTH
                            && reading.u() > sharpU);
            if (sharpens && share.part().isEmpty()) {
                double then = adjustment.remeasured(share.reading(), sharpU, gradient);
                double after = total(then, row);
                if (after < least) {
                    least = after;
                    best = share.reading();
                }
            }
        }
        return best.isEmpty()
                ? Optional.empty()
                : Optional.of(
                        new GapDoubts.Sharper(best, SHARP_MM, Coverage.NORMAL_95 * u, Coverage.NORMAL_95 * least));
    }

    private Optional<GapDoubts> simulate(int draws, long seed, int threads, Progress progress) {
        List<Drawn> drawn = new ArrayList<>();
        for (GapRow row : rows) {
            gradient(row).flatMap(gradient -> ready(row, gradient)).ifPresent(drawn::add);
        }
        if (drawn.isEmpty()) {
            return Optional.of(new GapDoubts(List.of(), draws));
        }
        List<String> names = nudges.stream().map(Nudge::point).distinct().toList();
        double[] mean = new double[3 * names.size()];
        int[] coordinateOf = new int[nudges.size()];
        for (int n = 0; n < coordinateOf.length; n++) {
            coordinateOf[n] = 3 * names.indexOf(nudges.get(n).point) + nudges.get(n).axis;
        }
        for (int p = 0; p < names.size(); p++) {
            Spot at = surveyed.spot(names.get(p));
            mean[3 * p] = at.x();
            mean[3 * p + 1] = at.y();
            mean[3 * p + 2] = at.z();
        }
        List<Doubt> figures = new ArrayList<>();
        for (Drawn row : drawn) {
            figures.add(new Doubt.Rectangular(0, withinMm(row.row.first())));
            figures.add(new Doubt.Rectangular(0, withinMm(row.row.second())));
        }
        ExecutorService pool = Executors.newFixedThreadPool(threads, task -> {
            Thread thread = new Thread(task, "drawing cars");
            thread.setDaemon(true);
            return thread;
        });
        try {
            GapSimulation.Outcome outcome = GapSimulation.of(surveyed, names, figures)
                    .run(
                            () -> new Drawing(drawn, mean, coordinateOf),
                            drawn.size(),
                            draws,
                            seed,
                            pool,
                            threads,
                            progress);
            return outcome instanceof GapSimulation.Outcome.Simulated simulated
                    ? Optional.of(found(drawn, simulated.quantities(), draws))
                    : Optional.empty();
        } finally {
            pool.shutdownNow();
        }
    }

    private GapDoubts found(List<Drawn> drawn, List<Distribution> gaps, int draws) {
        List<GapDoubts.Row> found = new ArrayList<>();
        for (int r = 0; r < drawn.size(); r++) {
            GapRow row = drawn.get(r).row;
            Distribution gap = gaps.get(r);
            double fromPoints = surveyed.standardUncertainty(drawn.get(r).gradient);
            double u = total(fromPoints, row);
            Distribution.Interval interval = gap.symmetric(0.95);
            found.add(new GapDoubts.Row(
                    row.first(),
                    row.second(),
                    new GapDoubt(
                            row.least().found().distanceMm(),
                            gap.standardUncertainty(),
                            interval.low(),
                            interval.high(),
                            gap.chanceAtOrBelow(0),
                            shares(row, drawn.get(r).gradient, fromPoints, u)),
                    sharper(row, drawn.get(r).gradient, u)));
        }
        return new GapDoubts(found, draws);
    }

    /** A row made ready for drawing: where its parts stand, and what the points do to their own shapes. */
    private static final class Drawn {
        final GapRow row;
        final double[] gradient;
        final Solid first;
        final Solid second;
        /** Nudges that the row hangs on. */
        final int[] matters;
        /** mm of gap per mm of each nudge that comes of the parts' own shapes. */
        final double[] shape;

        final List<Stand> stands = new ArrayList<>();

        Drawn(GapRow row, double[] gradient, Solid first, Solid second, int[] matters) {
            this.row = row;
            this.gradient = gradient;
            this.first = first;
            this.second = second;
            this.matters = matters;
            this.shape = new double[matters.length];
        }
    }

    /** Where the two parts stand at one position, and how that changes with each nudge that matters. */
    private static final class Stand {
        final Matrix4x3d first = new Matrix4x3d();
        final Matrix4x3d second = new Matrix4x3d();
        /** Shift of the spot about which it turns, then turn vector, per mm: 6 of the first part, 6 of the second. */
        final double[] twists;

        Stand(int nudges) {
            twists = new double[12 * nudges];
        }
    }

    /** Returns the row ready for drawing, or nothing where a nudged car cannot stand at its position. */
    private Optional<Drawn> ready(GapRow row, double[] gradient) {
        List<Integer> matters = new ArrayList<>();
        for (int n = 0; n < nudges.size(); n++) {
            if (gradient[nudges.get(n).coordinate] != 0) {
                matters.add(n);
            }
        }
        Drawn drawn = new Drawn(
                row,
                gradient,
                base.solid(row.first()),
                base.solid(row.second()),
                matters.stream().mapToInt(Integer::intValue).toArray());
        for (Position at : about(row)) {
            stand(row, at, drawn).ifPresent(drawn.stands::add);
        }
        if (drawn.stands.isEmpty()) {
            return Optional.empty();
        }
        Gauge gauge = new Gauge();
        Position least = row.least().where();
        double here = gap(base, row, least);
        for (int i = 0; i < drawn.matters.length; i++) {
            Nudge nudge = nudges.get(drawn.matters[i]);
            Optional<Pose> a = pose(nudge.car, row.first(), least);
            Optional<Pose> b = pose(nudge.car, row.second(), least);
            if (a.isPresent() && b.isPresent()) {
                double moved = gauge.proximity(drawn.first, a.get(), drawn.second, b.get())
                        .distanceMm();
                drawn.shape[i] = gradient[nudge.coordinate] - (moved - here) / NUDGE_MM;
            }
        }
        return Optional.of(drawn);
    }

    /** The least position first, then a little to either side along each handle. */
    private List<Position> about(GapRow row) {
        Position least = row.least().where();
        List<Position> all = new ArrayList<>(List.of(least));
        for (int i = 0; i < least.handles().size(); i++) {
            Setting setting = least.handles().get(i);
            Optional<Handle> known = base.handle(setting.name());
            if (known.isPresent()) {
                Handle handle = known.get();
                double step = ASIDE * (handle.highest() - handle.lowest());
                for (double side : new double[] {-step, step}) {
                    double value = Math.min(handle.highest(), Math.max(handle.lowest(), setting.value() + side));
                    if (value != setting.value()) {
                        List<Setting> handles = new ArrayList<>(least.handles());
                        handles.set(i, new Setting(setting.name(), value, setting.turns()));
                        all.add(new Position(handles, least.shifts()));
                    }
                }
            }
        }
        return all;
    }

    private static Optional<Pose> pose(StandingCar car, String part, Position at) {
        return car.pose(part, car.atOwnEnds(at.handles()), at.shifts());
    }

    private Optional<Stand> stand(GapRow row, Position at, Drawn drawn) {
        Optional<Pose> first = pose(base, row.first(), at);
        Optional<Pose> second = pose(base, row.second(), at);
        if (first.isEmpty() || second.isEmpty()) {
            return Optional.empty();
        }
        Stand stand = new Stand(drawn.matters.length);
        first.get().into(stand.first);
        second.get().into(stand.second);
        for (int i = 0; i < drawn.matters.length; i++) {
            StandingCar car = nudges.get(drawn.matters[i]).car;
            Optional<Pose> a = pose(car, row.first(), at);
            Optional<Pose> b = pose(car, row.second(), at);
            if (a.isEmpty() || b.isEmpty()) {
                return Optional.empty();
            }
            twist(first.get(), a.get(), row.least().found().onA(), stand.twists, 12 * i);
            twist(second.get(), b.get(), row.least().found().onB(), stand.twists, 12 * i + 6);
        }
        return Optional.of(stand);
    }

    /** Writes how a body has moved from one pose to a near one, per mm: shift of the spot, then the turn vector. */
    private static void twist(Pose from, Pose to, Spot about, double[] into, int at) {
        Matrix4x3d change =
                to.into(new Matrix4x3d()).mul(from.into(new Matrix4x3d()).invert());
        Vector3d moved = change.transformPosition(new Vector3d(about.x(), about.y(), about.z()));
        into[at] = (moved.x - about.x()) / NUDGE_MM;
        into[at + 1] = (moved.y - about.y()) / NUDGE_MM;
        into[at + 2] = (moved.z - about.z()) / NUDGE_MM;
        // For a small turn the odd part of the rotation is the turn vector.
        into[at + 3] = (change.m12() - change.m21()) / 2 / NUDGE_MM;
        into[at + 4] = (change.m20() - change.m02()) / 2 / NUDGE_MM;
        into[at + 5] = (change.m01() - change.m10()) / 2 / NUDGE_MM;
    }

    /** Works out the gaps of one drawn car; one per thread. */
    private static final class Drawing implements GapSimulation.Quantities {
        private final List<Drawn> rows;
        private final double[] mean;
        private final int[] coordinateOf;
        private final Gauge gauge = new Gauge();
        private final Matrix4x3d first = new Matrix4x3d();
        private final Matrix4x3d second = new Matrix4x3d();
        private final double[] sum = new double[12];

        Drawing(List<Drawn> rows, double[] mean, int[] coordinateOf) {
            this.rows = rows;
            this.mean = mean;
            this.coordinateOf = coordinateOf;
        }

        @Override
        public void evaluate(double[] coordinates, double[] inputs, double[] intoValues) {
            for (int r = 0; r < rows.size(); r++) {
                Drawn drawn = rows.get(r);
                double least = Double.POSITIVE_INFINITY;
                for (int s = 0; s < drawn.stands.size(); s++) {
                    Stand stand = drawn.stands.get(s);
                    add(drawn, stand, coordinates);
                    place(stand.first, drawn.row.least().found().onA(), 0, first);
                    place(stand.second, drawn.row.least().found().onB(), 6, second);
                    least = Math.min(least, gauge.measure(drawn.first, first, drawn.second, second));
                }
                double shape = 0;
                for (int i = 0; i < drawn.matters.length; i++) {
                    int c = coordinateOf[drawn.matters[i]];
                    shape += drawn.shape[i] * (coordinates[c] - mean[c]);
                }
                intoValues[r] = least + shape + inputs[2 * r] + inputs[2 * r + 1];
            }
        }

        private void add(Drawn drawn, Stand stand, double[] coordinates) {
            Arrays.fill(sum, 0);
            for (int i = 0; i < drawn.matters.length; i++) {
                int c = coordinateOf[drawn.matters[i]];
                double by = coordinates[c] - mean[c];
                for (int k = 0; k < 12; k++) {
                    sum[k] += by * stand.twists[12 * i + k];
                }
            }
        }

        private void place(Matrix4x3d pose, Spot about, int at, Matrix4x3d into) {
            double angle = Math.sqrt(sum[at + 3] * sum[at + 3] + sum[at + 4] * sum[at + 4] + sum[at + 5] * sum[at + 5]);
            into.translation(about.x() + sum[at], about.y() + sum[at + 1], about.z() + sum[at + 2]);
            if (angle > 0) {
                into.rotate(angle, sum[at + 3] / angle, sum[at + 4] / angle, sum[at + 5] / angle);
            }
            into.translate(-about.x(), -about.y(), -about.z()).mul(pose);
        }
    }
}
