package daylight.survey;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.geometry.Pose;
import daylight.geometry.Spot;
import daylight.survey.Network.Graduation;
import daylight.survey.ReadingResult.Standing;
import daylight.units.Progress;
import daylight.validation.Checks;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Published adjustments and their figures. Each check names its source; figures are typed as printed. */
class PublishedSurveyTest {
    /** The source's figures are in metres; the survey works in millimetres. */
    private static final double M = 1000;

    private static final String GUM = "JCGM 100:2008 (GUM)";

    // LQ-3: Ghilani and Wolf, Adjustment Computations, chapter 14, first trilateration example.
    private static final String GHILANI = "Ghilani & Wolf, Adjustment Computations, ch. 14";

    @Test
    void onePointFromThreeDistancesInThePlane() {
        Network network = new Network(
                List.of(
                        new SurveyPoint.Known("A", new Spot(865.40, 4527.15, 0)),
                        new SurveyPoint.Known("B", new Spot(2432.55, 2047.25, 0)),
                        new SurveyPoint.Known("C", new Spot(2865.22, 27.15, 0)),
                        SurveyPoint.Sought.of("U")),
                List.of(
                        new Observation.Distance("AU", "A", "U", 6049.00, 1),
                        new Observation.Distance("BU", "B", "U", 4736.83, 1),
                        new Observation.Distance("CU", "C", "U", 5446.49, 1),
                        // The example is flat: the height is held.
                        new Observation.Coordinate("flat", "U", Axis.UP, 0, 0, 1)),
                Graduation.MILLIMETRES);
        Adjustment adjustment = adjust(network);
        Spot u = adjustment.points().spot("U");
        String mark = "recomputed; inputs from memory";
        Checks.record("LQ-3", "U, first coordinate", GHILANI, mark, 6861.316788, u.x(), 1e-5);
        Checks.record("LQ-3", "U, second coordinate", GHILANI, mark, 3727.818566, u.y(), 1e-5);
        Checks.record("LQ-3", "residual AU", GHILANI, mark, -0.037373, residual(adjustment, "AU"), 1e-5);
        Checks.record("LQ-3", "residual BU", GHILANI, mark, 0.076793, residual(adjustment, "BU"), 1e-5);
        Checks.record("LQ-3", "residual CU", GHILANI, mark, -0.047366, residual(adjustment, "CU"), 1e-5);
        double reference = Math.sqrt(adjustment.chiSquare() / adjustment.degreesOfFreedom());
        Checks.record("LQ-3", "reference deviation", GHILANI, mark, 0.097659, reference, 1e-5);
        Checks.record(
                "LQ-3",
                "deviation of U, first coordinate",
                GHILANI,
                mark,
                0.077526,
                reference * adjustment.points().standardUncertaintyMm("U", Axis.FORWARD),
                1e-5);
        Checks.record(
                "LQ-3",
                "deviation of U, second coordinate",
                GHILANI,
                mark,
                0.154249,
                reference * adjustment.points().standardUncertaintyMm("U", Axis.LEFT),
                1e-5);
    }

    // LQ-4: Norrdine, "An Algebraic Solution to the Multilateration Problem", IPIN 2012, examples A and B.
    private static final String NORRDINE = "Norrdine, IPIN 2012, numerical examples";

    private static final String NORRDINE_MARK = "seen + recomputed";
    private static final Map<String, Spot> STATIONS = Map.of(
            "37", spot(27.297, -4.953, 1.47),
            "31", spot(20.693, -4.849, 1.93),
            "102", spot(22.590, 0.524, 1.2),
            "43", spot(17.113, -3.003, 2.17),
            "208", spot(22.554, 4.727, 1.77),
            "101", spot(22.447, -7.880, 1.6));
    private static final List<String> ORDER = List.of("37", "31", "102", "43", "208", "101");
    private static final double[] MEASURED = {3.652, 7.036, 4.586, 9.960, 7.542, 7.883};
    private static final double[] EXCESS = {0, 0, 0, 0.12, 0.14, 0};

    @Test
    void twoMirrorSolutionsOfNearlyTangentSpheresAreBothGiven() {
        Network network = new Network(
                List.of(
                        new SurveyPoint.Known("P1", spot(27.297, -4.953, 1.470)),
                        new SurveyPoint.Known("P2", spot(25.475, -6.124, 2.360)),
                        new SurveyPoint.Known("P3", spot(22.590, 0.524, 1.200)),
                        SurveyPoint.Sought.of("N")),
                List.of(
                        new Observation.Distance("1", "P1", "N", 3.851 * M, 0.1),
                        new Observation.Distance("2", "P2", "N", 3.875 * M, 0.1),
                        new Observation.Distance("3", "P3", "N", 3.514 * M, 0.1)),
                Graduation.MILLIMETRES);
        Adjustment adjustment = adjust(network);
        assertThat(adjustment.mirrorChoices()).hasSize(1);
        Spot a = adjustment.points().spot("N");
        Spot b = adjustment.mirrorChoices().get(0).other();
        Spot upper = a.z() > b.z() ? a : b;
        Spot lower = a.z() > b.z() ? b : a;
        double[][] expected = {{24.350615, -2.481095, 1.666729}, {24.312291, -2.520452, 1.536488}};
        for (Axis axis : Axis.values()) {
            int k = axis.place();
            String what = "(a) solution %d, " + axis.words();
            Checks.record(
                    "LQ-4", what.replace("%d", "1"), NORRDINE, NORRDINE_MARK, expected[0][k], axis.of(upper) / M, 1e-5);
            Checks.record(
                    "LQ-4", what.replace("%d", "2"), NORRDINE, NORRDINE_MARK, expected[1][k], axis.of(lower) / M, 1e-5);
        }
    }

    @Test
    void onePointFromSixDistancesInSpace() {
        // The readings are far worse than any tape, so they are given a large uncertainty and none is set aside.
        Adjustment raw = adjust(stations(new double[6], 40));
        double[] expectedRaw = {26.782676, -1.399174, 0.756439};
        Adjustment corrected = adjust(stations(EXCESS, 40));
        double[] expectedCorrected = {26.784011, -1.328696, 1.452564};
        for (Axis axis : Axis.values()) {
            Checks.record(
                    "LQ-4",
                    "(b) raw, " + axis.words(),
                    NORRDINE,
                    NORRDINE_MARK,
                    expectedRaw[axis.place()],
                    axis.of(raw.points().spot("N")) / M,
                    1e-5);
            Checks.record(
                    "LQ-4",
                    "(b) corrected, " + axis.words(),
                    NORRDINE,
                    NORRDINE_MARK,
                    expectedCorrected[axis.place()],
                    axis.of(corrected.points().spot("N")) / M,
                    1e-5);
        }
        double square = 40.0 * 40 / M / M;
        Checks.record(
                "LQ-4",
                "(b) raw, sum of squares",
                NORRDINE,
                NORRDINE_MARK,
                0.0117684588,
                raw.chiSquare() * square,
                1e-9);
        Checks.record(
                "LQ-4",
                "(b) corrected, sum of squares",
                NORRDINE,
                NORRDINE_MARK,
                0.00102923794,
                corrected.chiSquare() * square,
                1e-10);
        double scale = Math.sqrt(corrected.chiSquare() / 3) / M;
        double[] deviations = {0.01222, 0.01159, 0.18388};
        for (Axis axis : Axis.values()) {
            Checks.record(
                    "LQ-4",
                    "(b) corrected, deviation " + axis.words(),
                    NORRDINE,
                    NORRDINE_MARK,
                    deviations[axis.place()],
                    scale * corrected.points().standardUncertaintyMm("N", axis),
                    1e-5);
        }
    }

    @Test
    void heightThatIsHardlyFixedIsWhatToMeasureNext() {
        Adjustment corrected = adjust(stations(EXCESS, 20));
        List<Observation> candidates = List.of(
                new Observation.Coordinate("along", "N", Axis.FORWARD, 0, 0, 20),
                new Observation.Coordinate("across", "N", Axis.LEFT, 0, 0, 20),
                new Observation.Height("height", "N", 0, 20));
        NextReading next =
                corrected.next(new NextReading.Goal.Points(), candidates, 1).get(0);
        assertThat(next.candidate().name()).isEqualTo("height");
        assertThat(next.after()).isLessThan(next.before() / 5);
    }

    // LQ-5: recomputed on the data of LQ-4.
    @ParameterizedTest
    @CsvSource({
        "none,  0,    '',  1.5526, 0,      0,       2.573",
        "31,    0.15, 31,  5.0627, 0.1248, 0,       27.10",
        "43,    0.15, 43,  5.9151, 0.1453, 0,       37.46",
        "101,  -0.15, 101, 4.2499, -0.110, -0.198,  18.58"
    })
    void plantedBlunderIsNamed(
            String where, double planted, String named, double w, double estimate, double second, double chiSquare) {
        double[] off = EXCESS.clone();
        int at = ORDER.indexOf(where);
        if (at >= 0) {
            off[at] -= planted;
        }
        String source = "LQ-5, on the data of " + NORRDINE;
        String mark = "recomputed on seen data";
        // With twice the uncertainty claimed, nothing is set aside and the plain figures are seen.
        Adjustment plain = adjust(stations(off, 40));
        double largest = plain.readings().stream()
                .mapToDouble(r -> Math.abs(r.standardised()) * 2)
                .max()
                .orElseThrow();
        Checks.record("LQ-5", "planted on " + where + ", largest w", source, mark, w, largest, 1e-3);
        Checks.record(
                "LQ-5",
                "planted on " + where + ", chi-square of 3 d.f.",
                source,
                mark,
                chiSquare,
                plain.chiSquare() * 4,
                0.005);
        Adjustment adjustment = adjust(stations(off, 20));
        if (named.isEmpty()) {
            assertThat(adjustment.suspects()).isEmpty();
            return;
        }
        ReadingResult worst = plain.readings().get(at);
        Checks.record(
                "LQ-5",
                "planted on " + where + ", estimate of the error (m)",
                source,
                mark,
                estimate,
                -worst.residual() / worst.redundancy() / M,
                1e-3);
        assertThat(adjustment.suspects()).hasSize(1);
        Suspect suspect = adjustment.suspects().get(0);
        List<String> accused =
                suspect.accused().stream().map(Suspect.Accused::reading).toList();
        Checks.record("LQ-5", "planted on " + where + ", named first", source, mark, named, accused.get(0));
        // Without the reading the points are elsewhere, and height is hardly fixed: the equations are not straight.
        assertThat(suspect.first().error() / M).isCloseTo(estimate, within(0.05 * Math.abs(estimate)));
        if (second != 0) {
            Checks.record(
                    "LQ-5",
                    "planted on " + where + ", not separable from",
                    source,
                    mark,
                    "[101, 208]",
                    accused.toString());
            Checks.record(
                    "LQ-5",
                    "planted on " + where + ", estimate of the second (m)",
                    source,
                    mark,
                    second,
                    suspect.accused().get(1).error() / M,
                    1e-3);
            assertThat(suspect.pointsInDoubt()).containsExactly("N");
        } else {
            assertThat(accused).containsExactly(named);
        }
        assertThat(adjustment.readings().stream()
                        .filter(r -> r.standing() == Standing.SET_ASIDE)
                        .map(ReadingResult::reading))
                .containsExactly(named);
    }

    @Test
    void straightLineWithCovariance() {
        // LQ-2: JCGM 100:2008, H.3, table H.6, calibration of a thermometer; y = y1 + y2 (t - 20).
        double[] t = {21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511};
        double[] b = {-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160};
        List<Observation> readings = new ArrayList<>();
        for (int i = 0; i < t.length; i++) {
            double x = t[i] - 20;
            // The line's two figures stand as the first two coordinates of a point.
            PointFunction line = (xyz, g) -> {
                g[0] = 1;
                g[1] = x;
                g[2] = 0;
                return xyz[0] + xyz[1] * x;
            };
            readings.add(new Observation.MeasuredGap("t" + i, List.of("line"), line, b[i], 1));
        }
        readings.add(new Observation.Coordinate("unused", "line", Axis.UP, 0, 0, 1));
        Adjustment adjustment =
                adjust(new Network(List.of(SurveyPoint.Sought.of("line")), readings, Graduation.MILLIMETRES));
        SurveyedPoints points = adjustment.points();
        double s = Math.sqrt(adjustment.chiSquare() / adjustment.degreesOfFreedom());
        String source = GUM + ", H.3";
        String mark = "seen + recomputed";
        Checks.record(
                "LQ-2", "y1", source, mark, -0.17120379, points.spot("line").x(), 1e-7);
        Checks.record(
                "LQ-2", "y2", source, mark, 0.00218270, points.spot("line").y(), 1e-7);
        Checks.record("LQ-2", "s", source, mark, 0.00349756, s, 1e-7);
        Checks.record("LQ-2", "sum of squares", source, mark, 1.10096583E-04, adjustment.chiSquare(), 1e-12);
        double s1 = s * points.standardUncertaintyMm("line", Axis.FORWARD);
        double s2 = s * points.standardUncertaintyMm("line", Axis.LEFT);
        Checks.record("LQ-2", "s(y1)", source, mark, 0.00287760, s1, 1e-7);
        Checks.record("LQ-2", "s(y2)", source, mark, 0.00066794, s2, 1e-7);
        Checks.record("LQ-2", "r(y1, y2)", source, mark, -0.930430, points.covariance(0, 1) * s * s / s1 / s2, 1e-6);
        double[] at30 = {1, 10, 0};
        Checks.record(
                "LQ-2",
                "correction at 30",
                source,
                mark,
                -0.14937681,
                points.spot("line").x() + 10 * points.spot("line").y(),
                1e-7);
        Checks.record(
                "LQ-2",
                "u of the correction at 30",
                source,
                mark,
                0.00413860,
                s * points.standardUncertainty(at30),
                1e-7);
    }

    @Test
    void poseOfPointsThatWereTurnedAndShifted() {
        // RP-2: own input, recomputed by two independent solvers.
        List<Spot> part = List.of(
                new Spot(0, 0, 0), new Spot(100, 0, 0), new Spot(0, 200, 0), new Spot(0, 0, 300), new Spot(50, 60, 70));
        double[][] turn = {
            {0.88091147, -0.30356120, 0.36310547},
            {0.36310547, 0.92556967, -0.10712240},
            {-0.30356120, 0.22621093, 0.92556967}
        };
        double[][] errors = {{1, 0, 0}, {0, -1, 0}, {0, 0, 1}, {-1, 0, 0}, {0, 1, -1}};
        Pose pose = turned30();
        List<Spot> exact = part.stream().map(pose::apply).toList();
        PoseFit clean = PoseFit.rigid(part, exact);
        String source = "RP-2; method Arun, Huang & Blostein 1987";
        String mark = "own input, recomputed";
        record3(source, mark, "R", turn, clean.pose());
        assertThat(clean.rmsMm()).isLessThan(1e-12);
        List<Spot> rough = new ArrayList<>();
        for (int i = 0; i < exact.size(); i++) {
            rough.add(exact.get(i).plus(errors[i][0], errors[i][1], errors[i][2]));
        }
        PoseFit fit = PoseFit.rigid(part, rough);
        double[][] expected = {
            {0.88176957, -0.30354191, 0.36103286},
            {0.36281391, 0.92559141, -0.10791949},
            {-0.30141083, 0.22614786, 0.92628757}
        };
        record3(source, mark, "R with errors", expected, fit.pose());
        Checks.record(
                "RP-2",
                "shift x with errors",
                source,
                mark,
                10.126626,
                fit.pose().tx(),
                1e-6);
        Checks.record(
                "RP-2",
                "shift y with errors",
                source,
                mark,
                -19.933399,
                fit.pose().ty(),
                1e-6);
        Checks.record(
                "RP-2",
                "shift z with errors",
                source,
                mark,
                29.885644,
                fit.pose().tz(),
                1e-6);
        Checks.record("RP-2", "root mean square", source, mark, 1.056905, fit.rmsMm(), 1e-6);
        assertThat(fit.rank()).isEqualTo(3);
    }

    @Test
    void similarityInThePlaneIsNoReflection() {
        // RP-1: Umeyama, IEEE PAMI 13 (1991) 376. The mean square of 0.053 remembered from print does not follow from
        // the data; (0.8 + 0.64 + 0.16) / 3 does.
        double[][] x = {{0, 0}, {1, 0}, {0, 2}};
        double[][] y = {{0, 0}, {-1, 0}, {0, 2}};
        String source = "Umeyama, IEEE PAMI 13 (1991) 376";
        String mark = "recomputed; source from memory";
        PoseFit.Motion motion = PoseFit.Motion.of(x, y, true);
        Checks.record("RP-1", "R, first row, first", source, mark, 0.832050, motion.rotation[0][0], 1e-6);
        Checks.record("RP-1", "R, first row, second", source, mark, 0.554700, motion.rotation[0][1], 1e-6);
        Checks.record("RP-1", "R, second row, first", source, mark, -0.554700, motion.rotation[1][0], 1e-6);
        Checks.record("RP-1", "scale", source, mark, 0.721110, motion.scale, 1e-6);
        Checks.record("RP-1", "shift x", source, mark, -0.8, motion.shift[0], 1e-6);
        Checks.record("RP-1", "shift y", source, mark, 0.4, motion.shift[1], 1e-6);
        Checks.record("RP-1", "mean square", source, mark, 0.533333, motion.meanSquare, 1e-6);
        PoseFit.Motion rigid = PoseFit.Motion.of(x, y, false);
        Checks.record("RP-1", "rigid, shift x", source, mark, -0.980484, rigid.shift[0], 1e-6);
        Checks.record("RP-1", "rigid, shift y", source, mark, 0.296867, rigid.shift[1], 1e-6);
        Checks.record("RP-1", "rigid, mean square", source, mark, 0.619755, rigid.meanSquare, 1e-6);
    }

    /** 30 degrees about (1, 2, 2)/3, then (10, -20, 30). */
    private static Pose turned30() {
        double c = Math.cos(Math.PI / 6);
        double s = Math.sin(Math.PI / 6);
        double[] a = {1 / 3.0, 2 / 3.0, 2 / 3.0};
        double v = 1 - c;
        return new Pose(
                c + v * a[0] * a[0],
                v * a[0] * a[1] - s * a[2],
                v * a[0] * a[2] + s * a[1],
                v * a[1] * a[0] + s * a[2],
                c + v * a[1] * a[1],
                v * a[1] * a[2] - s * a[0],
                v * a[2] * a[0] - s * a[1],
                v * a[2] * a[1] + s * a[0],
                c + v * a[2] * a[2],
                10,
                -20,
                30);
    }

    private static void record3(String source, String mark, String what, double[][] expected, Pose pose) {
        double[][] got = {
            {pose.rxx(), pose.rxy(), pose.rxz()},
            {pose.ryx(), pose.ryy(), pose.ryz()},
            {pose.rzx(), pose.rzy(), pose.rzz()}
        };
        for (int i = 0; i < 3; i++) {
            for (int j = 0; j < 3; j++) {
                Checks.record(
                        "RP-2", what + " " + (i + 1) + "," + (j + 1), source, mark, expected[i][j], got[i][j], 1e-6);
            }
        }
    }

    private static Network stations(double[] excess, double uMm) {
        List<SurveyPoint> points = new ArrayList<>();
        List<Observation> readings = new ArrayList<>();
        for (int i = 0; i < ORDER.size(); i++) {
            String name = ORDER.get(i);
            points.add(new SurveyPoint.Known(name, STATIONS.getOrDefault(name, Spot.ORIGIN)));
            readings.add(new Observation.Distance(name, name, "N", (MEASURED[i] - excess[i]) * M, uMm));
        }
        points.add(SurveyPoint.Sought.of("N"));
        return new Network(points, readings, Graduation.MILLIMETRES);
    }

    private static Spot spot(double x, double y, double z) {
        return new Spot(x * M, y * M, z * M);
    }

    private static double residual(Adjustment adjustment, String reading) {
        return adjustment.readings().stream()
                .filter(r -> r.reading().equals(reading))
                .findFirst()
                .orElseThrow()
                .residual();
    }

    private static Adjustment adjust(Network network) {
        Adjustment adjustment = Survey.of(network).adjust(Survey.Datum.CAR_AXES, Progress.SILENT);
        assertThat(adjustment.ending()).isIn(Ending.CONVERGED, Ending.NO_PROGRESS);
        return adjustment;
    }
}
