package daylight.hose;

/** Complete elliptic integrals by the arithmetic-geometric mean, for the checks against closed forms. */
final class Elliptic {
    private Elliptic() {}

    /** Returns K and E for a modulus. */
    static double[] integrals(double k) {
        double a = 1;
        double b = Math.sqrt(1 - k * k);
        double c = k;
        double sum = c * c / 2;
        double power = 1;
        for (int i = 0; i < 40 && Math.abs(c) > 1e-17; i++) {
            c = (a - b) / 2;
            double mean = (a + b) / 2;
            b = Math.sqrt(a * b);
            a = mean;
            sum += power * c * c;
            power *= 2;
        }
        double first = Math.PI / (2 * a);
        return new double[] {first, first * (1 - sum)};
    }

    /** Returns the modulus with 2 E / K - 1 = c. */
    static double modulus(double c) {
        double low = 0;
        double high = 1 - 1e-15;
        for (int i = 0; i < 200; i++) {
            double k = (low + high) / 2;
            double[] both = integrals(k);
            if (2 * both[1] / both[0] - 1 > c) {
                low = k;
            } else {
                high = k;
            }
        }
        return (low + high) / 2;
    }
}
