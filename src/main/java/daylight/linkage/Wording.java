package daylight.linkage;

import daylight.units.LengthFormat;
import java.util.List;
import java.util.Locale;

/** The sentences of outcomes that are not positions. */
final class Wording {
    private static final double DEGREES = 180 / Math.PI;

    private Wording() {}

    static String binds(Outcome.Binds b, LengthFormat lengths) {
        return String.format(
                Locale.ROOT,
                "%s at %s: %s stay %s apart at %s, so it cannot get there. It reaches %s.",
                b.mechanism(),
                values(b.reaches(), b.asked(), lengths),
                b.between(),
                lengths.print(b.misfitMm()),
                b.joint(),
                ranges(b.reaches(), lengths));
    }

    static String overCentre(Outcome.OverCentre o, LengthFormat lengths) {
        return String.format(
                Locale.ROOT,
                "%s at %s: it would have to pass a dead point (over centre) at %s, near %s. It reaches %s.",
                o.mechanism(),
                values(o.reaches(), o.asked(), lengths),
                o.joint(),
                values(o.reaches(), o.reached(), lengths),
                ranges(o.reaches(), lengths));
    }

    static String nearSingular(Outcome.NearSingular o, LengthFormat lengths) {
        return String.format(
                Locale.ROOT,
                "%s at %s: it is next to a dead point there (near-singular), at %s: %s hold each other by almost nothing,"
                        + " and the least play lets them go to either side. It reaches %s.",
                o.mechanism(),
                values(o.reaches(), o.asked(), lengths),
                o.joint(),
                o.between(),
                ranges(o.reaches(), lengths));
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

    private static String values(List<Outcome.Reach> drivers, List<Double> at, LengthFormat lengths) {
        StringBuilder text = new StringBuilder();
        for (int i = 0; i < at.size(); i++) {
            Outcome.Reach d = drivers.get(i);
            text.append(i == 0 ? "" : ", ").append(d.driver()).append(' ').append(value(d.turns(), at.get(i), lengths));
        }
        return text.toString();
    }

    private static String ranges(List<Outcome.Reach> drivers, LengthFormat lengths) {
        StringBuilder text = new StringBuilder();
        for (Outcome.Reach d : drivers) {
            text.append(text.length() == 0 ? "" : ", ")
                    .append(d.driver())
                    .append(' ')
                    .append(value(d.turns(), d.lowest(), lengths))
                    .append(" to ")
                    .append(value(d.turns(), d.highest(), lengths));
        }
        return text.toString();
    }

    private static String value(boolean turns, double value, LengthFormat lengths) {
        return turns ? String.format(Locale.ROOT, "%.1f degrees", value * DEGREES) : lengths.print(value);
    }
}
