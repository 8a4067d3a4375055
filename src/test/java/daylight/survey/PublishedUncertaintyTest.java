package daylight.survey;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.geometry.Spot;
import daylight.survey.GapSimulation.Outcome.Simulated;
import daylight.units.Length;
import daylight.units.Progress;
import daylight.validation.Checks;
import java.util.List;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Published figures of measurement uncertainty; typed as printed, each with its source. */
class PublishedUncertaintyTest {
    private static final String GUM = "JCGM 100:2008 (GUM)";
    private static final String SUPPLEMENT = "JCGM 101:2008";
    private static final int DRAWS = 400_000;
    private static final long SEED = 20260704L;
    private static ExecutorService pool;

    @BeforeAll
    static void open() {
        pool = Executors.newFixedThreadPool(2);
    }

    @AfterAll
    static void close() {
        pool.shutdown();
    }

    @Test
    void endGauge() {
        // UN-1: GUM H.1. Lengths in nm.
        String source = GUM + ", H.1";
        String mark = "seen + recomputed";
        double d = Math.sqrt(5.8 * 5.8 + 3.9 * 3.9 + 6.7 * 6.7);
        double freedomOfD = Coverage.effectiveDegreesOfFreedom(new double[] {5.8, 3.9, 6.7}, new double[] {24, 5, 8});
        Checks.record("UN-1", "u(d), nm", source, mark, 9.6819, d, 1e-3);
        Checks.record("UN-1", "degrees of freedom of d", source, mark, 25.4, freedomOfD, 0.15);
        double length = 50_000_623;
        double fromExpansion = length * 0.1 * MeasuringDefaults.rectangular(1e-6);
        double fromTemperature = length * 11.5e-6 * MeasuringDefaults.rectangular(0.05);
        Checks.record(
                "UN-1", "contribution of the difference of expansion, nm", source, mark, 2.88679, fromExpansion, 1e-3);
        Checks.record(
                "UN-1",
                "contribution of the difference of temperature, nm",
                source,
                mark,
                16.599,
                fromTemperature,
                1e-3);
        double[] parts = {25, d, fromExpansion, fromTemperature};
        double square = 0;
        for (double part : parts) {
            square += part * part;
        }
        double u = Math.sqrt(square);
        Checks.record("UN-1", "u(l), nm", source, mark, 31.664, u, 1e-3);
        double freedom = Coverage.effectiveDegreesOfFreedom(parts, new double[] {18, freedomOfD, 50, 2});
        Checks.record("UN-1", "effective degrees of freedom", source, mark, 16.75, freedom, 0.01);
        double t = Coverage.factor(0.99, Math.floor(freedom));
        Checks.record("UN-1", "t99 of 16 degrees of freedom", source, mark, 2.9208, t, 1e-4);
        Checks.record("UN-1", "U99, nm", source, mark, 92.5, t * u, 0.05);
    }

    @Test
    void sumOfFourInputs() {
        // UN-2: JCGM 101, 9.2.2 to 9.2.4. The exact interval of (b) is 2 root 3 (2 - (3/5)^(1/4)).
        String source = SUPPLEMENT + ", 9.2";
        String mark = "recomputed; printed figures from memory";
        Doubt normal = new Doubt.Normal(0, 1);
        Distribution a = sum(List.of(normal, normal, normal, normal));
        Checks.record("UN-2", "(a) u", source, mark, 2, a.standardUncertainty(), 0.01);
        Checks.record(
                "UN-2",
                "(a) upper 95 % limit",
                source,
                mark,
                3.92,
                a.symmetric(0.95).high(),
                0.02);
        Doubt rectangular = new Doubt.Rectangular(0, Math.sqrt(3));
        Distribution b = sum(List.of(rectangular, rectangular, rectangular, rectangular));
        Checks.record("UN-2", "(b) u", source, mark, 2.00, b.standardUncertainty(), 0.01);
        Checks.record(
                "UN-2",
                "(b) upper 95 % limit",
                source,
                mark,
                3.879407,
                b.symmetric(0.95).high(),
                0.02);
        Checks.record(
                "UN-2",
                "(b) lower 95 % limit",
                source,
                mark,
                -3.879407,
                b.symmetric(0.95).low(),
                0.02);
        Doubt wide = new Doubt.Rectangular(0, 10 * Math.sqrt(3));
        Distribution c = sum(List.of(rectangular, rectangular, rectangular, wide));
        Checks.record("UN-2", "(c) u", source, mark, 10.148892, c.standardUncertainty(), 0.02);
        Checks.record(
                "UN-2",
                "(c) upper 95 % limit",
                source,
                mark,
                17.02,
                c.symmetric(0.95).high(),
                0.05);
        double first = GapDoubt.linear(0, Math.sqrt(103), List.of()).high95Mm();
        Checks.record("UN-2", "(c) first-order upper limit", source, mark, 19.89, first, 0.005);
    }

    @Test
    void gaugeBlockByMonteCarlo() {
        // UN-3: JCGM 101, 9.5. Lengths in nm.
        String source = SUPPLEMENT + ", 9.5";
        String mark = "recomputed; inputs from memory";
        List<Doubt> inputs = List.of(
                new Doubt.FewReadings(50_000_623, 25, 18),
                new Doubt.FewReadings(215, 6, 24),
                new Doubt.FewReadings(0, 4, 5),
                new Doubt.FewReadings(0, 7, 8),
                new Doubt.Rectangular(11.5e-6, 2e-6),
                new Doubt.Normal(-0.1, 0.2),
                new Doubt.Arcsine(0, 0.5),
                new Doubt.VagueRectangular(0, 1e-6, 0.1e-6),
                new Doubt.VagueRectangular(0, 0.05, 0.025));
        Distribution l = simulate(inputs, (points, in, out) -> {
            double theta = in[5] + in[6];
            double top = in[0] * (1 + in[4] * theta) + in[1] + in[2] + in[3];
            out[0] = top / (1 + (in[4] + in[7]) * (theta + in[8])) - 50e6;
        });
        Checks.record("UN-3", "deviation from 50 mm, nm", source, mark, 838, l.mean(), 0.5);
        Checks.record("UN-3", "u, nm", source, mark, 35.8, l.standardUncertainty(), 0.5);
        Checks.record(
                "UN-3",
                "lower limit of the shortest 99 % interval, nm",
                source,
                mark,
                744,
                l.shortest(0.99).low(),
                3);
        Checks.record(
                "UN-3",
                "upper limit of the shortest 99 % interval, nm",
                source,
                mark,
                931,
                l.shortest(0.99).high(),
                3);
    }

    @ParameterizedTest
    @CsvSource({"1, 13.97", "2, 4.53", "3, 3.31", "4, 2.87", "5, 2.65", "10, 2.28", "20, 2.13", "50, 2.05"})
    void coverageFactors(double freedom, double expected) {
        // UN-4: GUM table G.2, p = 95.45 %.
        double got = Coverage.factor(0.9545, freedom);
        Checks.record(
                "UN-4",
                "factor for 95.45 %, degrees of freedom " + Math.round(freedom),
                GUM + ", table G.2",
                "recomputed; table from memory",
                expected,
                got,
                0.005);
    }

    @Test
    void standardDeviationOfAHalfWidth() {
        // UN-5: JCGM 100, 4.3.
        String source = GUM + ", 4.3";
        double half = Length.MM_PER_INCH / 32;
        Checks.record(
                "UN-5",
                "tape read to 1/16 in, mm",
                source,
                "recomputed",
                0.458272,
                MeasuringDefaults.rectangular(half),
                1e-6);
        Checks.record(
                "UN-5", "triangular, mm", source, "recomputed", 0.324047, MeasuringDefaults.triangular(half), 1e-6);
        Checks.record("UN-5", "arcsine of 1, mm", source, "recomputed", 0.707107, MeasuringDefaults.arcsine(1), 1e-6);
        // Two points so read along the gap between them.
        SurveyedPoints points = new SurveyedPoints(
                List.of("a", "b"), new double[6], new int[] {0, 3}, 6, diagonal(MeasuringDefaults.rectangular(half)));
        GapDoubt doubt = GapDoubt.linear(0, points.standardUncertainty(new double[] {-1, 0, 0, 1, 0, 0}), List.of());
        Checks.record("UN-5", "u of the gap, mm", source, "recomputed", 0.648094, doubt.standardUncertaintyMm(), 1e-6);
        Checks.record("UN-5", "95 % of the gap, mm", source, "recomputed", 1.270265, doubt.high95Mm(), 3e-5);
    }

    @ParameterizedTest
    @CsvSource({
        "I,   0.1, 0.1, 0.1, 0.2, 0.3, 0.4, 0.6, 1.1",
        "II,  0.3, 0.2, 0.2, 0.5, 0.7, 0.9, 1.3, 2.3",
        "III, 0.6, 0.4, 0.3, 1.0, 1.4, 1.8, 2.6, 4.6"
    })
    void tapeClasses(
            String name, double a, double b, double c, double l035, double l13, double l25, double l5, double l10) {
        // UN-6: Directive 2014/32/EU, Annex X (MI-008), as in UK SI 2016/1153 schedule 1I.
        TapeLimit.Growing tape = new TapeLimit.Growing(a, b, c);
        double[] metres = {0.35, 1.3, 2.5, 5, 10};
        double[] limits = {l035, l13, l25, l5, l10};
        for (int k = 0; k < metres.length; k++) {
            Checks.record(
                    "UN-6",
                    "class " + name + ", " + metres[k] + " m, mm",
                    "Directive 2014/32/EU, Annex X (MI-008)",
                    "seen + recomputed",
                    limits[k],
                    tape.limitMm(metres[k] * 1000),
                    1e-12);
        }
        if (name.equals("II")) {
            double[] withHook = {0.7, 0.9, 1.1, 1.5, 2.5};
            for (int k = 0; k < metres.length; k++) {
                assertThat(tape.limitFromHookMm(metres[k] * 1000)).isCloseTo(withHook[k], within(1e-12));
            }
        }
    }

    @ParameterizedTest
    @CsvSource({"3, 1, 32", "6, 1, 32", "7, 1, 16", "30, 1, 16", "31, 1, 8", "55, 1, 8", "80, 3, 16", "100, 1, 4"})
    void usTapes(double feet, double top, double bottom) {
        // UN-7: NIST Handbook 44, 5.52, metal tapes.
        double foot = 12 * Length.MM_PER_INCH;
        double inch = Length.MM_PER_INCH;
        TapeLimit tape = new TapeLimit.ByRange(List.of(
                new TapeLimit.ByRange.Range(6 * foot, inch / 32),
                new TapeLimit.ByRange.Range(30 * foot, inch / 16),
                new TapeLimit.ByRange.Range(55 * foot, inch / 8),
                new TapeLimit.ByRange.Range(80 * foot, inch * 3 / 16),
                new TapeLimit.ByRange.Range(100 * foot, inch / 4)));
        Checks.record(
                "UN-7",
                "limit at " + Math.round(feet) + " ft, mm",
                "NIST Handbook 44, section 5.52",
                "seen",
                top / bottom * inch,
                tape.limitMm(feet * foot),
                1e-12);
    }

    @Test
    void criticalValues() {
        // LQ-6: W. Baarda, A Testing Procedure for Use in Geodetic Networks, 1968.
        String source = "Baarda, A Testing Procedure for Use in Geodetic Networks, 1968";
        String mark = "recomputed; source from memory";
        double critical = Coverage.criticalValue(0.001);
        Checks.record("LQ-6", "w at alpha 0.001", source, mark, 3.290527, critical, 1e-5);
        double shift = Coverage.shift(critical, 0.80);
        Checks.record("LQ-6", "shift at power 0.80", source, mark, 4.132148, shift, 1e-5);
        Checks.record("LQ-6", "lambda0", source, mark, 17.074647, shift * shift, 1e-5);
        Checks.record(
                "LQ-6",
                "shift at alpha 0.05",
                source,
                mark,
                2.801585,
                Coverage.shift(Coverage.criticalValue(0.05), 0.80),
                1e-5);
        double[][] chi = {{1, 3.841}, {2, 5.991}, {3, 7.815}, {5, 11.070}, {10, 18.307}, {20, 31.410}, {30, 43.773}};
        for (double[] row : chi) {
            Checks.record(
                    "LQ-6",
                    "chi-square 95 %, " + Math.round(row[0]) + " d.f.",
                    source,
                    mark,
                    row[1],
                    Coverage.chiSquare(0.95, row[0]),
                    5e-4);
        }
        Checks.record("LQ-6", "chi-square 99.9 %, 3 d.f.", source, mark, 16.266, Coverage.chiSquare(0.999, 3), 5e-4);
        Checks.record("LQ-6", "95 % ellipse", source, mark, 2.447747, Coverage.ellipsoidFactor(0.95, 2), 1e-5);
        Checks.record("LQ-6", "95 % ellipsoid", source, mark, 2.795483, Coverage.ellipsoidFactor(0.95, 3), 1e-5);
        assertThat(Coverage.normalFactor(0.95)).isCloseTo(Coverage.NORMAL_95, within(1e-9));
    }

    private static double[] diagonal(double u) {
        double[] covariance = new double[36];
        for (int i = 0; i < 6; i++) {
            covariance[7 * i] = u * u;
        }
        return covariance;
    }

    private static Distribution sum(List<Doubt> inputs) {
        return simulate(inputs, (points, in, out) -> out[0] = in[0] + in[1] + in[2] + in[3]);
    }

    private static Distribution simulate(List<Doubt> inputs, GapSimulation.Quantities quantities) {
        SurveyedPoints none =
                new SurveyedPoints(List.of("o"), coordinates(Spot.ORIGIN), new int[] {-1}, 0, new double[0]);
        GapSimulation.Outcome outcome = GapSimulation.of(none, List.of(), inputs)
                .run(() -> quantities, 1, DRAWS, SEED, pool, 2, Progress.SILENT);
        assertThat(outcome).isInstanceOf(Simulated.class);
        return ((Simulated) outcome).quantities().get(0);
    }

    private static double[] coordinates(Spot spot) {
        return new double[] {spot.x(), spot.y(), spot.z()};
    }
}
