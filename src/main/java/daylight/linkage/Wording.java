package daylight.linkage;

import java.util.List;
import java.util.Locale;

/** The sentences of outcomes that are not positions. */
final class Wording {
    private static final double DEGREES = 180 / Math.PI;

    private Wording() {}

    static String binds(Outcome.Binds b) {
        return String.format(
                Locale.ROOT,
                "%s at %s: %s stay %.1f mm apart at %s, so it cannot get there. It reaches %s.",
                b.mechanism(),
                values(b.reaches(), b.asked()),
                b.between(),
                b.misfitMm(),
                b.joint(),
                ranges(b.reaches()));
    }

    static String overCentre(Outcome.OverCentre o) {
        return String.format(
                Locale.ROOT,
                "%s at %s: it would have to pass a dead point (over centre) at %s, near %s. It reaches %s.",
                o.mechanism(),
                values(o.reaches(), o.asked()),
                o.joint(),
                values(o.reaches(), o.reached()),
                ranges(o.reaches()));
    }

    static String twoAssemblies(Outcome.TwoAssemblies t) {
        return String.format(
                Locale.ROOT,
                "%s: ride height itself is a dead point at %s (%s): two assemblies meet there, and the measured points"
                        + " do not tell which one the car takes.",
                t.mechanism(),
                t.joint(),
                t.between());
    }

    private static String values(List<Outcome.Reach> drivers, List<Double> at) {
        StringBuilder text = new StringBuilder();
        for (int i = 0; i < at.size(); i++) {
            Outcome.Reach d = drivers.get(i);
            text.append(i == 0 ? "" : ", ").append(d.driver()).append(' ').append(value(d.turns(), at.get(i)));
        }
        return text.toString();
    }

    private static String ranges(List<Outcome.Reach> drivers) {
        StringBuilder text = new StringBuilder();
        for (Outcome.Reach d : drivers) {
            text.append(text.length() == 0 ? "" : ", ")
                    .append(d.driver())
                    .append(' ')
                    .append(value(d.turns(), d.lowest()))
                    .append(" to ")
                    .append(value(d.turns(), d.highest()));
        }
        return text.toString();
    }

    private static String value(boolean turns, double value) {
        return turns
                ? String.format(Locale.ROOT, "%.1f degrees", value * DEGREES)
                : String.format(Locale.ROOT, "%.1f mm", value);
    }
}
