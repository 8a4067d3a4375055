package daylight.survey;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import daylight.geometry.Spot;
import daylight.survey.GapSimulation.Outcome.Cancelled;
import daylight.survey.GapSimulation.Outcome.Simulated;
import daylight.units.Progress;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

class GapDoubtTest {
    private static final int DRAWS = 40_000;
    /** Four standard errors of a standard deviation from so many draws, as a share. */
    private static final double SCATTER = 4 / Math.sqrt(2.0 * DRAWS);

    private static ExecutorService pool;
    private static Garage garage;
    private static Adjustment adjustment;
    private static double gap;
    private static double[] gradient;

    @BeforeAll
    static void survey() {
        pool = Executors.newFixedThreadPool(3);
        garage = new Garage(77, 12);
        adjustment = Survey.of(garage.network()).adjust(Survey.Datum.CAR_AXES, Progress.SILENT);
        gap = -PIPE + between(adjustment, "left 0", "left 2");
        gradient = gradientBetween(adjustment, "left 0", "left 2");
    }

    @AfterAll
    static void close() {
        pool.shutdown();
    }

    private static final double PIPE = 60;

    @Test
    void linearAndDrawnDoubtAgreeWhereTheGapChangesEvenly() {
        GapDoubt doubt = adjustment.doubt(gap, gradient);
        Distribution drawn = simulate(List.of("left 0", "left 2"), 3, 1, DRAWS);
        double u = doubt.standardUncertaintyMm();
        assertThat(drawn.standardUncertainty()).isCloseTo(u, within(SCATTER * u));
        assertThat(drawn.mean()).isCloseTo(gap, within(4 * u / Math.sqrt(DRAWS) + 0.01 * u));
        assertThat(drawn.symmetric(0.95).low()).isCloseTo(doubt.low95Mm(), within(0.05 * u));
        assertThat(drawn.symmetric(0.95).high()).isCloseTo(doubt.high95Mm(), within(0.05 * u));
        double chance = doubt.chanceBelow(gap - u);
        assertThat(chance).isCloseTo(0.158655, within(1e-6));
        assertThat(drawn.chanceAtOrBelow(gap - u)).isCloseTo(chance, within(4 * Math.sqrt(chance / DRAWS)));
    }

    @Test
    void drawsSeeWhatFirstOrderCannot() {
        // The distance of a point from itself as surveyed: the slope is zero, the doubt is not.
        Spot at = adjustment.points().spot("left 0");
        GapSimulation simulation = GapSimulation.of(adjustment.points(), List.of("left 0"), List.of());
        Simulated outcome = (Simulated) simulation.run(
                () -> (xyz, in, out) -> out[0] = new Spot(xyz[0], xyz[1], xyz[2]).distanceTo(at),
                1,
                DRAWS,
                5,
                pool,
                2,
                Progress.SILENT);
        double trace = 0;
        for (Axis axis : Axis.values()) {
            trace += Math.pow(adjustment.points().standardUncertaintyMm("left 0", axis), 2);
        }
        Distribution distances = outcome.quantities().get(0);
        double square = Math.pow(distances.mean(), 2) + Math.pow(distances.standardUncertainty(), 2);
        assertThat(square).isCloseTo(trace, within(3 * SCATTER * trace));
        assertThat(adjustment
                        .points()
                        .standardUncertainty(new double[adjustment.points().coordinateCount()]))
                .isZero();
    }

    @Test
    void drawsDoNotDependOnTheNumberOfThreads() {
        Distribution one = simulate(List.of("left 0", "left 2"), 1, 9, 5000);
        Distribution three = simulate(List.of("left 0", "left 2"), 3, 9, 5000);
        Distribution other = simulate(List.of("left 0", "left 2"), 3, 10, 5000);
        assertThat(three.mean()).isEqualTo(one.mean());
        assertThat(three.symmetric(0.95)).isEqualTo(one.symmetric(0.95));
        assertThat(three.shortest(0.9)).isEqualTo(one.shortest(0.9));
        assertThat(other.mean()).isNotEqualTo(one.mean());
    }

    @Test
    void neighbouringChunksAreIndependent() {
        // Chunks that repeat one another would make the mean of many draws scatter more than it may.
        double squares = 0;
        int rounds = 40;
        for (int seed = 0; seed < rounds; seed++) {
            Simulated outcome =
                    (Simulated) GapSimulation.of(adjustment.points(), List.of(), List.of(new Doubt.Normal(0, 1)))
                            .run(() -> (xyz, in, out) -> out[0] = in[0], 1, 256 * 64, seed, pool, 2, Progress.SILENT);
            double mean = outcome.quantities().get(0).mean();
            squares += mean * mean * 256 * 64 / rounds;
        }
        // Chi-square of 40 over 40 stays between 0.45 and 1.85 but for one time in a thousand.
        assertThat(squares).isBetween(0.45, 1.85);
    }

    @Test
    void cancellingEndsTheDrawing() {
        AtomicInteger asked = new AtomicInteger();
        Progress progress = new Progress() {
            @Override
            public void at(double fraction, String message) {}

            @Override
            public boolean cancelled() {
                return asked.incrementAndGet() > 3;
            }
        };
        assertThat(GapSimulation.of(adjustment.points(), List.of("left 0"), List.of())
                        .run(() -> (xyz, in, out) -> out[0] = xyz[0], 1, 1_000_000, 1, pool, 2, progress))
                .isEqualTo(new Cancelled());
        assertThat(asked.get()).isLessThan(10);
    }

    @Test
    void aFunctionThatFailsIsNotSwallowed() {
        GapSimulation simulation = GapSimulation.of(adjustment.points(), List.of("left 0"), List.of());
        assertThatThrownBy(() -> simulation.run(
                        () -> (xyz, in, out) -> {
                            throw new IllegalArgumentException("no gap");
                        },
                        1,
                        100,
                        1,
                        pool,
                        1,
                        Progress.SILENT))
                .hasRootCauseMessage("no gap");
    }

    @Test
    void sharesAddUpToOneAndAreEachReadingsOwn() {
        List<GapDoubt.Share> shares = adjustment.shares(gradient);
        assertThat(shares.stream().mapToDouble(GapDoubt.Share::share).sum()).isCloseTo(1, within(1e-6));
        for (int k = 1; k < shares.size(); k++) {
            assertThat(shares.get(k).share())
                    .isLessThanOrEqualTo(shares.get(k - 1).share());
        }
        // By brute force: move one reading by its uncertainty, adjust again, and see how far the gap moves.
        double variance = Math.pow(adjustment.points().standardUncertainty(gradient), 2);
        for (GapDoubt.Share share : shares.subList(0, 5)) {
            Adjustment moved = Survey.of(shifted(share.reading(), 1)).adjust(Survey.Datum.CAR_AXES, Progress.SILENT);
            Adjustment back = Survey.of(shifted(share.reading(), -1)).adjust(Survey.Datum.CAR_AXES, Progress.SILENT);
            double move = (between(moved, "left 0", "left 2") - between(back, "left 0", "left 2")) / 2;
            assertThat(move * move / variance).as(share.reading()).isCloseTo(share.share(), within(1e-3));
        }
    }

    @Test
    void remeasuringGivesWhatAnotherAdjustmentGives() {
        String best = adjustment.shares(gradient).get(0).reading();
        double predicted = adjustment.remeasured(best, 0.05, gradient);
        List<Observation> better = new ArrayList<>(garage.readings);
        better.replaceAll(r -> r.name().equals(best) ? withU(r, 0.05) : r);
        Adjustment again = Survey.of(new Network(garage.points, better, Network.Graduation.INCHES))
                .adjust(Survey.Datum.CAR_AXES, Progress.SILENT);
        // The points move by part of a millimetre, and the gradients with them.
        assertThat(again.points().standardUncertainty(gradient)).isCloseTo(predicted, within(2e-3 * predicted));
        assertThat(predicted).isLessThan(adjustment.points().standardUncertainty(gradient));
        assertThatThrownBy(() -> adjustment.remeasured("nothing", 1, gradient))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("no reading is called \"nothing\"");
    }

    @Test
    void theNextReadingForAGapIsTheBestOfAllCandidates() {
        List<Observation> candidates = Candidates.all(adjustment, Garage.DEFAULTS, 3000);
        NextReading.Goal goal = new NextReading.Goal.Gap("pipe to bracket", CoordinateGradient.of(gradient));
        List<NextReading> next = adjustment.next(goal, candidates, 3);
        NextReading best = next.get(0);
        assertThat(best.gains()).isEqualTo("pipe to bracket");
        assertThat(best.before())
                .isCloseTo(Coverage.NORMAL_95 * adjustment.points().standardUncertainty(gradient), within(1e-9));
        assertThat(next.get(1).before()).isCloseTo(best.after(), within(1e-9));
        // By brute force over every tenth candidate, adjusting each time.
        for (int c = 0; c < candidates.size(); c += 10) {
            Adjustment with =
                    Survey.of(garage.network().with(candidates.get(c))).adjust(Survey.Datum.CAR_AXES, Progress.SILENT);
            double half = Coverage.NORMAL_95 * with.points().standardUncertainty(gradient);
            assertThat(half).as(candidates.get(c).name()).isGreaterThan(best.after() * (1 - 1e-3));
        }
        Adjustment with =
                Survey.of(garage.network().with(best.candidate())).adjust(Survey.Datum.CAR_AXES, Progress.SILENT);
        assertThat(Coverage.NORMAL_95 * with.points().standardUncertainty(gradient))
                .isCloseTo(best.after(), within(1e-3 * best.after()));
    }

    @Test
    void theNextCheckMakesAnUncheckedReadingChecked() {
        List<Observation> readings = List.of(
                new Observation.Height("height", "p", 400, 0.5),
                new Observation.Coordinate("ahead", "p", Axis.FORWARD, 0, 300, 0.5),
                new Observation.Coordinate("left", "p", Axis.LEFT, 0, 200, 0.5));
        Network network = new Network(
                List.of(new SurveyPoint.Known("peg", new Spot(-500, 0, 0)), SurveyPoint.Sought.of("p")),
                readings,
                Network.Graduation.INCHES);
        Adjustment bare = Survey.of(network).adjust(Survey.Datum.CAR_AXES, Progress.SILENT);
        SurveyReport report = SurveyReport.of(bare, Candidates.all(bare, Garage.DEFAULTS, 3000), 1);
        assertThat(report.unchecked()).hasSize(3);
        NextReading check = report.toCheck().get(0);
        assertThat(check.candidate()).isInstanceOf(Observation.Distance.class);
        assertThat(check.before()).isZero();
        Adjustment after = Survey.of(network.with(check.candidate())).adjust(Survey.Datum.CAR_AXES, Progress.SILENT);
        double redundancy = after.readings().stream()
                .filter(r -> r.reading().equals(check.gains()))
                .findFirst()
                .orElseThrow()
                .redundancy();
        assertThat(redundancy).isCloseTo(check.after(), within(1e-9));
        assertThat(report.agreement().agrees()).isTrue();
    }

    @Test
    void aMeasuredGapIsHeldAgainstTheComputedOne() {
        assertThat(new GapComparison(20, 0.6, 21, 0.8).disagrees()).isFalse();
        assertThat(new GapComparison(20, 0.6, 22.5, 0.8).disagrees()).isTrue();
        assertThat(new GapComparison(20, 0.6, 22, 0.8).standardised()).isCloseTo(2, within(1e-12));
        assertThatThrownBy(() -> new GapComparison(20, 0.6, 22, 0)).isInstanceOf(IllegalArgumentException.class);
    }

    @Test
    void aCertainGapTouchesOrDoesNot() {
        assertThat(GapDoubt.linear(1, 0, List.of()).chanceOfTouching()).isZero();
        assertThat(GapDoubt.linear(-1, 0, List.of()).chanceOfTouching()).isEqualTo(1);
        assertThat(GapDoubt.linear(0, 1, List.of()).chanceOfTouching()).isEqualTo(0.5);
    }

    private static Network shifted(String reading, double byU) {
        List<Observation> readings = new ArrayList<>(garage.readings);
        readings.replaceAll(r -> {
            if (!r.name().equals(reading)) {
                return r;
            }
            if (r instanceof Observation.Distance d) {
                return new Observation.Distance(d.name(), d.from(), d.to(), d.readsMm() + byU * d.uMm(), d.uMm());
            }
            if (r instanceof Observation.Height h) {
                return new Observation.Height(h.name(), h.point(), h.readsMm() + byU * h.uMm(), h.uMm());
            }
            Observation.Coordinate c = (Observation.Coordinate) r;
            return new Observation.Coordinate(
                    c.name(), c.point(), c.axis(), c.datumMm(), c.readsMm() + byU * c.uMm(), c.uMm());
        });
        return new Network(garage.points, readings, Network.Graduation.INCHES);
    }

    private static Observation withU(Observation r, double u) {
        if (r instanceof Observation.Distance d) {
            return new Observation.Distance(d.name(), d.from(), d.to(), d.readsMm(), u);
        }
        if (r instanceof Observation.Height h) {
            return new Observation.Height(h.name(), h.point(), h.readsMm(), u);
        }
        Observation.Coordinate c = (Observation.Coordinate) r;
        return new Observation.Coordinate(c.name(), c.point(), c.axis(), c.datumMm(), c.readsMm(), u);
    }

    private static double between(Adjustment a, String from, String to) {
        return a.points().spot(from).distanceTo(a.points().spot(to));
    }

    private static double[] gradientBetween(Adjustment a, String from, String to) {
        Spot p = a.points().spot(from);
        Spot q = a.points().spot(to);
        double[] g = new double[6];
        Formulas.distance(new double[] {p.x(), p.y(), p.z(), q.x(), q.y(), q.z()}, g);
        double[] all = new double[a.points().coordinateCount()];
        System.arraycopy(g, 0, all, a.points().indexOf(from), 3);
        System.arraycopy(g, 3, all, a.points().indexOf(to), 3);
        return all;
    }

    private static Distribution simulate(List<String> points, int threads, long seed, int draws) {
        Simulated outcome = (Simulated) GapSimulation.of(adjustment.points(), points, List.of())
                .run(
                        () -> (xyz, in, out) -> {
                            double dx = xyz[3] - xyz[0];
                            double dy = xyz[4] - xyz[1];
                            double dz = xyz[5] - xyz[2];
                            out[0] = Math.sqrt(dx * dx + dy * dy + dz * dz) - PIPE;
                        },
                        1,
                        draws,
                        seed,
                        pool,
                        threads,
                        Progress.SILENT);
        return outcome.quantities().get(0);
    }
}
