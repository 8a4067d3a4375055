package daylight.hose;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.validation.Checks;
import java.util.Locale;
import java.util.function.DoubleUnaryOperator;
import org.hipparchus.analysis.solvers.BrentSolver;
import org.hipparchus.special.elliptic.legendre.LegendreEllipticIntegral;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Euler's elastica worked out a second time: closed forms with the elliptic integrals of a general-purpose library
 * (its parameter is m = k^2), against the published figures and against our own integrals. The rod itself is held to
 * the same figures in {@link ElasticaTest}.
 */
class SecondEllipticTest {
    private static final String SOURCE = "closed form, elliptic integrals of Hipparchus 3.1";
    private static final String MARK = "recomputed";
    /** Half a unit of the last decimal of the tables, and the rounding of a sum of such. */
    private static final double SIX_DECIMALS = 0.6e-6;

    private static double first(double k) {
        return LegendreEllipticIntegral.bigK(k * k);
    }

    private static double second(double k) {
        return LegendreEllipticIntegral.bigE(k * k);
    }

    private static double root(DoubleUnaryOperator function, double low, double high) {
        return new BrentSolver(1e-15, 1e-15).solve(200, function::applyAsDouble, low, high);
    }

    @ParameterizedTest
    @CsvSource({
        "20, 1.015397, 0.969731, 0.219413, 0.549716",
        "40, 1.063663, 0.881204, 0.422240, 1.108163",
        "60, 1.151720, 0.741020, 0.593208, 1.685750",
        "80, 1.293889, 0.559396, 0.719497, 2.297026",
        "100, 1.518389, 0.348989, 0.791539, 2.965482",
        "120, 1.884801, 0.123160, 0.803171, 3.735195",
        "140, 2.542258, -0.106923, 0.750388, 4.707014",
        "160, 4.030086, -0.340319, 0.624604, 6.210956",
        "176, 9.116218, -0.577211, 0.421442, 9.479656"
    })
    void buckledColumnWithAFreeEnd(double alpha, double load, double height, double sideways, double greatest) {
        double k = Math.sin(Math.toRadians(alpha) / 2);
        double quarter = first(k);
        String row = String.format(Locale.ROOT, "second library, end slope %.0f deg: ", alpha);
        double loadGot = Math.pow(2 * quarter / Math.PI, 2);
        Checks.record("EL-1", row + "P/Pcr", SOURCE, MARK, load, loadGot, SIX_DECIMALS);
        double heightGot = 2 * second(k) / quarter - 1;
        Checks.record("EL-1", row + "height of the free end / length", SOURCE, MARK, height, heightGot, SIX_DECIMALS);
        Checks.record(
                "EL-1", row + "shift of the free end / length", SOURCE, MARK, sideways, 2 * k / quarter, SIX_DECIMALS);
        Checks.record(
                "EL-1", row + "greatest curvature x length", SOURCE, MARK, greatest, 2 * k * quarter, SIX_DECIMALS);
    }

    @Test
    void pinnedEndsBroughtTogether() {
        double k = root(x -> 2 * second(x) - first(x), 0.5, 0.99);
        Checks.record(
                "EL-3",
                "second library: end slope, degrees",
                SOURCE,
                MARK,
                130.709911,
                2 * Math.toDegrees(Math.asin(k)),
                SIX_DECIMALS);
        Checks.record(
                "EL-3",
                "second library: P/Pcr",
                SOURCE,
                MARK,
                2.183379,
                Math.pow(2 * first(k) / Math.PI, 2),
                SIX_DECIMALS);
        Checks.record("EL-3", "second library: rise / length", SOURCE, MARK, 0.39159375, k / first(k), 1e-8);
    }

    @ParameterizedTest
    @CsvSource({
        "0.95, 0.22289802, 0.140111, 0.352508",
        "0.90, 0.31419362, 0.194924, 0.246821",
        "0.80, 0.44128377, 0.266319, 0.170953",
        "0.70, 0.53647718, 0.314313, 0.136512",
        "0.60, 0.61455211, 0.348713, 0.115414",
        "0.50, 0.68118267, 0.373306, 0.100565",
        "0.40, 0.73921035, 0.389972, 0.089209",
        "0.30, 0.79024076, 0.399731, 0.080013",
        "0.20, 0.83522187, 0.403132, 0.072236"
    })
    void facingFittingsPushedTogether(double c, double modulus, double bulge, double tightest) {
        double k = root(x -> 2 * second(x) / first(x) - 1 - c, 1e-6, 0.999);
        String row = String.format(Locale.ROOT, "second library, distance / free length %.2f: ", c);
        Checks.record("EL-4", row + "modulus", SOURCE, MARK, modulus, k, 1e-8);
        Checks.record("EL-4", row + "bulge / length", SOURCE, MARK, bulge, k / first(k), SIX_DECIMALS);
        Checks.record(
                "EL-4", row + "tightest radius / length", SOURCE, MARK, tightest, 1 / (8 * k * first(k)), SIX_DECIMALS);
    }

    @ParameterizedTest
    @CsvSource({
        "0.25, 0.082746, 0.004118, 0.124292",
        "0.5, 0.162144, 0.015919, 0.244534",
        "1, 0.301721, 0.056433, 0.461352",
        "2, 0.493457, 0.160642, 0.781750",
        "3, 0.603253, 0.254420, 0.986017",
        "5, 0.713792, 0.387628, 1.215368",
        "7.5, 0.776702, 0.489574, 1.355927",
        "10, 0.810609, 0.554996, 1.430286"
    })
    void cantileverWithATipLoad(double load, double deflection, double shortening, double slope) {
        double k = root(
                x -> first(x) - LegendreEllipticIntegral.bigF(amplitude(x), x * x) - Math.sqrt(load),
                Math.sqrt(0.5) * (1 + 1e-12),
                1 - 1e-9);
        double tip = Math.asin(2 * k * k - 1);
        double stretch = second(k) - LegendreEllipticIntegral.bigE(amplitude(k), k * k);
        String row = String.format(Locale.ROOT, "second library, P L^2/EI = %s: ", load);
        Checks.record(
                "EL-5",
                row + "tip deflection / length",
                SOURCE,
                MARK,
                deflection,
                1 - 2 * stretch / Math.sqrt(load),
                SIX_DECIMALS);
        Checks.record(
                "EL-5",
                row + "shortening / length",
                SOURCE,
                MARK,
                shortening,
                1 - Math.sqrt(2 * Math.sin(tip) / load),
                SIX_DECIMALS);
        Checks.record("EL-5", row + "tip slope, rad", SOURCE, MARK, slope, tip, SIX_DECIMALS);
    }

    private static double amplitude(double k) {
        return Math.asin(Math.min(1, 1 / (k * Math.sqrt(2))));
    }

    @Test
    void ourOwnIntegralsAgree() {
        for (double k : new double[] {0, 0.01, 0.3, Math.sqrt(0.5), 0.9, 0.99, 0.999999}) {
            double[] ours = Elliptic.integrals(k);
            assertThat(ours[0]).as("K of %s", k).isCloseTo(first(k), within(1e-13 * first(k)));
            assertThat(ours[1]).as("E of %s", k).isCloseTo(second(k), within(1e-13 * second(k)));
        }
    }
}
