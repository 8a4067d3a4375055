package daylight.survey;

import daylight.survey.ReadingResult.Standing;
import java.util.ArrayList;
import java.util.List;

/**
 * The outcome of an adjustment: points with covariance, what each reading is worth, which cannot be right, and what
 * is not fixed. Immutable and thread-safe.
 *
 * <p>Car frame (ISO 8855: x forward, y left, z up), lengths in mm, angles in radians.
 */
public final class Adjustment {
    /** The standard uncertainties claimed are too small when the sum of squares would be exceeded so rarely. */
    private static final double SCALE_BEYOND = 0.999;
    /** Power of the test by which the least findable error is given. */
    private static final double POWER = 0.80;

    private final Network network;
    private final Survey.Datum datum;
    private final Ending ending;
    private final int iterations;
    private final int starts;
    private final double chiSquare;
    private final double degreesOfFreedom;
    private final double doubtScale;
    private final double critical;
    private final SurveyedPoints points;
    private final List<ReadingResult> readings;
    private final List<Suspect> suspects;
    private final List<Unfixed> unfixed;
    private final List<String> floating;
    private final List<MirrorChoice> mirrorChoices;
    private final int rankDefect;
    /** Gradient of each row at the adjusted points, sparse. */
    private final SparseRows rows;
    /** Covariance of the unknowns before scaling, for exact updates. */
    private final double[] covariance;

    Adjustment(
            Network network,
            Readings compiled,
            Settling settling,
            Survey.Datum datum,
            int starts,
            List<MirrorChoice> mirrorChoices) {
        this.network = network;
        this.datum = datum;
        this.starts = starts;
        this.ending = settling.ending;
        this.iterations = settling.iterations;
        this.chiSquare = settling.chiSquare;
        this.critical = settling.critical;
        compiled.put(settling.x);
        this.rows = new SparseRows(compiled);

        int n = compiled.unknowns;
        int defect = 0;
        List<Unfixed> free = List.of();
        List<String> floats = List.of();
        if (settling.loose) {
            NullSpace space = new NullSpace(compiled, settling, datum);
            System.arraycopy(space.covariance, 0, settling.covariance, 0, n * n);
            for (int i = 0; i < compiled.rows; i++) {
                compiled.value(i);
                settling.spread[i] = settling.spreadOf(compiled.pointsOf[i], compiled.gradient(i));
            }
            defect = space.defect;
            free = space.unfixed;
            floats = space.floating;
        }
        this.rankDefect = defect;
        this.unfixed = free;
        this.floating = floats;
        // A choice between two places says nothing about a point that is free to move anyway.
        List<Unfixed> moving = free;
        this.mirrorChoices = mirrorChoices.stream()
                .filter(choice -> moving.stream().noneMatch(u -> u.point().equals(choice.point())))
                .toList();
        this.covariance = settling.covariance.clone();

        double freedom = 0;
        for (int i = 0; i < compiled.rows; i++) {
            freedom += settling.aside[i] ? 0 : settling.redundancy(i);
        }
        this.degreesOfFreedom = Math.rint(freedom);
        this.doubtScale = degreesOfFreedom >= 1 && chiSquare > Coverage.chiSquare(SCALE_BEYOND, degreesOfFreedom)
                ? Math.sqrt(chiSquare / degreesOfFreedom)
                : 1;
        double[] scaled = covariance.clone();
        for (int i = 0; i < scaled.length; i++) {
            scaled[i] *= doubtScale * doubtScale;
        }
        this.points = new SurveyedPoints(List.of(compiled.names), compiled.places, compiled.unknownOf, n, scaled);
        this.readings = results(compiled, settling);
        this.suspects = new Accusation(network, compiled, settling).suspects();
    }

    /** The network that was adjusted. */
    public Network network() {
        return network;
    }

    /** What the readings had to fix. */
    public Survey.Datum datum() {
        return datum;
    }

    /** How the last iteration ended; points of a cancelled adjustment are not to be used. */
    public Ending ending() {
        return ending;
    }

    /** How many times the equations were linearised in all. */
    public int iterations() {
        return iterations;
    }

    /** How many starts were tried. */
    public int starts() {
        return starts;
    }

    /** The adjusted points. */
    public SurveyedPoints points() {
        return points;
    }

    /** Every number that was read, in the order of the network. */
    public List<ReadingResult> readings() {
        return readings;
    }

    /** Readings that do not agree with the others, worst first. */
    public List<Suspect> suspects() {
        return suspects;
    }

    /** Sum of squares of residuals over their uncertainties, of the readings that take part. */
    public double chiSquare() {
        return chiSquare;
    }

    /** How many readings there are beyond those needed. */
    public double degreesOfFreedom() {
        return degreesOfFreedom;
    }

    /** What chi-square stays below in 95 of 100 clean networks; zero without freedom. */
    public double chiSquareLimit95() {
        return degreesOfFreedom >= 1 ? Coverage.chiSquare(0.95, degreesOfFreedom) : 0;
    }

    /**
     * By what the doubt of the points was multiplied because the readings scatter more than claimed, though none of
     * them stands out: 1 unless chi-square would be exceeded less than once in a thousand clean networks.
     */
    public double doubtScale() {
        return doubtScale;
    }

    /** The standardised residual beyond which a reading is set aside. */
    public double criticalValue() {
        return critical;
    }

    /** How many directions in all nothing fixes, by the singular values of the weighted equations. */
    public int rankDefect() {
        return rankDefect;
    }

    /** Points that the readings leave free to move against the others, in network order. */
    public List<Unfixed> unfixed() {
        return unfixed;
    }

    /** Motions of the whole that nothing holds: "fore and aft", "turning about the vertical". */
    public List<String> floating() {
        return floating;
    }

    /** Points that could be in either of two places. */
    public List<MirrorChoice> mirrorChoices() {
        return mirrorChoices;
    }

    /** Returns whether every point is fixed as the datum asks, in one place. */
    public boolean allFixed() {
        boolean mayFloat =
                datum == Survey.Datum.FREE && network.points().stream().noneMatch(SurveyPoint.Known.class::isInstance);
        return unfixed.isEmpty() && mirrorChoices.isEmpty() && (mayFloat || floating.isEmpty());
    }

    /**
     * Returns the doubt of a gap that follows from the points, to first order: its 95 % interval, the chance that it
     * is zero or less, and which readings it owes its doubt to.
     *
     * @param gapMm the gap at the adjusted points, mm
     * @param gradient mm of gap per mm of coordinate, in the order of {@link SurveyedPoints#coordinates()}
     * @see "JCGM 100:2008 (GUM), 5.2.2, equation (13)"
     */
    public GapDoubt doubt(double gapMm, double[] gradient) {
        return GapDoubt.linear(gapMm, points.standardUncertainty(gradient), shares(gradient));
    }

    /**
     * Returns each reading's share of the variance of a quantity, greatest first. They add up to 1 where the readings
     * fix the quantity.
     *
     * <p>The points depend on the readings by Q A' W; the quantity's error is the sum over readings of
     * (g Q a / u²) times the reading's error, and its variance the sum of (g Q a)² / u².
     */
    public List<GapDoubt.Share> shares(double[] gradient) {
        double[] q = times(points.overUnknowns(gradient));
        double variance = dot(points.overUnknowns(gradient), q);
        List<GapDoubt.Share> shares = new ArrayList<>();
        for (int i = 0; i < readings.size(); i++) {
            ReadingResult reading = readings.get(i);
            if (reading.standing() != Standing.SET_ASIDE && variance > 0) {
                double t = rows.dot(i, q) / reading.u();
                double share = t * t / variance;
                if (share > 0) {
                    shares.add(new GapDoubt.Share(reading.reading(), reading.part(), share));
                }
            }
        }
        // A stable sort: equal shares stay in the order of the readings.
        shares.sort((a, b) -> Double.compare(b.share(), a.share()));
        return List.copyOf(shares);
    }

    /**
     * Returns the standard uncertainty that a quantity would have if one reading were replaced by a better one of the
     * same thing: the exact covariance after the change, without adjusting again.
     *
     * @param reading name of an observation
     * @param u standard uncertainty of the new reading, mm or radians
     * @param gradient as for {@link #doubt}
     * @throws IllegalArgumentException if there is no such reading
     */
    public double remeasured(String reading, double u, double[] gradient) {
        if (!(u > 0)) {
            throw new IllegalArgumentException("a reading needs a standard uncertainty above zero, not " + u);
        }
        double[] g = points.overUnknowns(gradient);
        List<Integer> numbers = new ArrayList<>();
        for (int i = 0; i < readings.size(); i++) {
            if (readings.get(i).reading().equals(reading)) {
                numbers.add(i);
            }
        }
        if (numbers.isEmpty()) {
            throw new IllegalArgumentException("no reading is called \"" + reading + "\"");
        }
        double variance;
        if (numbers.size() == 1) {
            // One number is one step of Sherman-Morrison, of which only this variance is wanted.
            int i = numbers.get(0);
            double[] q = times(g);
            double along = rows.dot(i, q);
            double by = byWeight(i, u);
            variance = dot(g, q) - by * along * along / (1 + by * rows.quadratic(i, covariance));
        } else {
            CovarianceUpdate update = new CovarianceUpdate(covariance, points.unknowns());
            numbers.forEach(i -> update.change(rows.dense(i), byWeight(i, u)));
            variance = update.variance(g);
        }
        return doubtScale * Math.sqrt(Math.max(0, variance));
    }

    /** How much the weight of a number grows when it is read anew to a standard uncertainty. */
    private double byWeight(int i, double u) {
        ReadingResult r = readings.get(i);
        double old = r.standing() == Standing.SET_ASIDE ? 0 : 1 / (r.u() * r.u());
        return 1 / (u * u) - old;
    }

    /**
     * Returns the readings to take next, best first, by the exact covariance that each would give. Each later one
     * counts on those before it.
     *
     * @param goal what they are for
     * @param candidates what could be measured; what they read is not used
     * @param count how many at most; fewer when nothing helps any more
     */
    public List<NextReading> next(NextReading.Goal goal, List<Observation> candidates, int count) {
        return new NextReadings(this, goal).best(candidates, count);
    }

    /** Returns the gradient of an observation's equations over the unknowns, at the adjusted points. */
    double[] gradientOf(Equation equation) {
        int k = equation.points().size();
        double[] xyz = new double[3 * k];
        double[] g = new double[3 * k];
        gather(equation, xyz);
        equation.function().valueAt(xyz, g);
        double[] all = new double[points.coordinateCount()];
        for (int a = 0; a < k; a++) {
            int at = points.indexOf(equation.points().get(a));
            for (int c = 0; c < 3; c++) {
                all[at + c] += g[3 * a + c];
            }
        }
        return points.overUnknowns(all);
    }

    private void gather(Equation equation, double[] intoXyz) {
        for (int a = 0; a < equation.points().size(); a++) {
            var spot = points.spot(equation.points().get(a));
            intoXyz[3 * a] = spot.x();
            intoXyz[3 * a + 1] = spot.y();
            intoXyz[3 * a + 2] = spot.z();
        }
    }

    /** Returns what an equation would read at the adjusted points. */
    double valueOf(Equation equation) {
        double[] xyz = new double[3 * equation.points().size()];
        gather(equation, xyz);
        return equation.function().valueAt(xyz, new double[xyz.length]);
    }

    SparseRows rows() {
        return rows;
    }

    double[] unscaledCovariance() {
        return covariance;
    }

    private double[] times(double[] g) {
        int n = g.length;
        double[] q = new double[n];
        for (int i = 0; i < n; i++) {
            double sum = 0;
            for (int j = 0; j < n; j++) {
                sum += covariance[i * n + j] * g[j];
            }
            q[i] = sum;
        }
        return q;
    }

    private static double dot(double[] a, double[] b) {
        double sum = 0;
        for (int i = 0; i < a.length; i++) {
            sum += a[i] * b[i];
        }
        return sum;
    }

    private static List<ReadingResult> results(Readings compiled, Settling settling) {
        double shift = Coverage.shift(settling.critical, POWER);
        List<ReadingResult> results = new ArrayList<>(compiled.rows);
        for (int i = 0; i < compiled.rows; i++) {
            Equation equation = compiled.equations[i];
            double redundancy = settling.redundancy(i);
            boolean checked = redundancy > Settling.UNCHECKED;
            results.add(new ReadingResult(
                    equation.reading(),
                    equation.part(),
                    equation.quantity(),
                    equation.reads(),
                    equation.reads() + settling.residual[i],
                    equation.u(),
                    redundancy,
                    settling.standardised(i),
                    checked ? shift * equation.u() / Math.sqrt(redundancy) : Double.POSITIVE_INFINITY,
                    settling.aside[i] ? Standing.SET_ASIDE : checked ? Standing.AGREES : Standing.UNCHECKED));
        }
        return List.copyOf(results);
    }
}
