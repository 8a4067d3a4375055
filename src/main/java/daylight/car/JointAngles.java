package daylight.car;

import java.util.ArrayList;
import java.util.List;

/**
 * How the joints of a driveshaft should work at ride height, from {@code models/joint-angles.yaml}.
 *
 * @param leastDeg each joint at least, degrees
 * @param leastSource where that comes from
 * @param unlikeDeg the two joints may differ by so much, degrees
 * @param unlikeSource where that comes from
 * @param smoothDeg up to this angle a shaft runs smoothly at any usual speed, degrees
 * @param smoothSource where that comes from
 * @param fastest greatest angles by speed, fastest first
 */
public record JointAngles(
        double leastDeg,
        String leastSource,
        double unlikeDeg,
        String unlikeSource,
        double smoothDeg,
        String smoothSource,
        List<Fastest> fastest) {
    private static final String FILE = "/models/joint-angles.yaml";
    private static final double MOST_RPM = 20_000;

    public JointAngles {
        fastest = List.copyOf(fastest);
    }

    /** At a shaft speed, revolutions a minute, a joint may work at up to an angle, degrees. */
    public record Fastest(double rpm, double upToDeg, String source) {}

    /**
     * Reads the figures that come with the program.
     *
     * @throws IllegalStateException if they are broken
     */
    public static JointAngles shipped() {
        String text = Layouts.resource(FILE)
                .orElseThrow(() -> new IllegalStateException(FILE + " is missing. Please report this."));
        try {
            return read("joint-angles.yaml", text);
        } catch (CarFileException e) {
            throw new IllegalStateException(
                    "a table of the program is broken; please report this: " + e.getMessage(), e);
        }
    }

    /** Reads the figures from text. */
    static JointAngles read(String file, String text) throws CarFileException {
        Reading in = new Reading(file);
        YamlNode.Mapping root = YamlText.read(in, text).orElseThrow(() -> new CarFileException(in.complaints()));
        Fields top = Fields.of(in, root, "the table");
        top.need("joint angles", "Write joint angles: 1.").ifPresent(node -> in.number(node, "joint angles", 1, 1));
        Row least = row(in, top, root, "each joint", "at least");
        Row unlike = row(in, top, root, "both joints", "alike within");
        Row smooth = row(in, top, root, "smooth running", "up to");
        List<Fastest> fastest = new ArrayList<>();
        for (YamlNode item : top.need("fastest", "List speeds.")
                .map(n -> in.list(n, "fastest", false))
                .orElse(List.of())) {
            Fields fields = Fields.of(in, item, "the speed");
            double rpm = fields.need("rpm", "Write the speed.")
                    .map(n -> in.number(n, "rpm", 1, MOST_RPM))
                    .orElse(1.0);
            double upTo = angle(in, fields, "up to");
            fastest.add(new Fastest(rpm, upTo, fields.text("source", "Say where it comes from.")));
            fields.close();
        }
        top.close();
        if (!in.clean(0)) {
            throw new CarFileException(in.complaints());
        }
        return new JointAngles(least.deg, least.source, unlike.deg, unlike.source, smooth.deg, smooth.source, fastest);
    }

    private record Row(double deg, String source) {}

    private static Row row(Reading in, Fields top, YamlNode root, String key, String figure) {
        Fields fields = Fields.of(in, top.need(key, "Add it.").orElse(root), key);
        Row row = new Row(angle(in, fields, figure), fields.text("source", "Say where it comes from."));
        fields.close();
        return row;
    }

    private static double angle(Reading in, Fields fields, String key) {
        return Math.toDegrees(
                fields.need(key, "Write the angle.").map(n -> in.angle(n, key)).orElse(0.0));
    }
}
