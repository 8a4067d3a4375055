package daylight.car;

import daylight.car.Complaint.Kind;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * How good a reading is where a car file does not say, from {@code models/measuring.yaml}, which gives the source of
 * each figure. Half widths within which an error lies; lengths in mm, angles in radians.
 *
 * @param inchStepMm the finest mark of a tape in inches
 * @param metricStepMm the finest mark of a tape in millimetres
 * @param hookMm play and wear of the end hook
 * @param pointingMm within what the eye or a bob finds a point
 * @param tapeLengthMm how long the tape is
 * @param reachMm how far a tape runs straight under a car before something stands in its way
 * @param tape the tape's own error limit, by its class
 * @param levelStepRad step of the digital level
 * @param levelWithinRad its error limit
 * @param mirrorMm within what a car is the same left and right
 * @param rimMm within what a rim runs true
 */
public record MeasuringPractice(
        double inchStepMm,
        double metricStepMm,
        double hookMm,
        double pointingMm,
        double tapeLengthMm,
        double reachMm,
        TapeClass tape,
        double levelStepRad,
        double levelWithinRad,
        double mirrorMm,
        double rimMm) {
    private static final String FILE = "/models/measuring.yaml";

    /** How far a tape itself may be off. */
    public sealed interface TapeClass {
        /** So much, and so much more for each metre begun, and more from the hook. */
        record Growing(double aMm, double bMm, double hookMm) implements TapeClass {}

        /** By ranges of length, shortest first. */
        record ByLength(List<UpTo> ranges) implements TapeClass {
            public ByLength {
                ranges = List.copyOf(ranges);
            }
        }

        /** Up to a length, within so much. */
        record UpTo(double lengthMm, double withinMm) {}
    }

    /**
     * Reads the figures that come with the program.
     *
     * @throws IllegalStateException if they are broken
     */
    public static MeasuringPractice shipped() {
        String text = Layouts.resource(FILE)
                .orElseThrow(() -> new IllegalStateException(FILE + " is missing. Please report this."));
        try {
            return read("measuring.yaml", text);
        } catch (CarFileException e) {
            throw new IllegalStateException(
                    "a table of the program is broken; please report this: " + e.getMessage(), e);
        }
    }

    /**
     * Reads the figures from text.
     *
     * @throws CarFileException with every complaint, in file order
     */
    public static MeasuringPractice read(String file, String text) throws CarFileException {
        Reading in = new Reading(file);
        YamlNode.Mapping root = YamlText.read(in, text).orElseThrow(() -> new CarFileException(in.complaints()));
        Fields top = Fields.of(in, root, "the table");
        top.need("daylight measuring", "Write daylight measuring: 1.")
                .ifPresent(node -> in.number(node, "daylight measuring", 1, 1));
        Fields tape = Fields.of(in, top.need("tape", "Add it.").orElse(root), "the tape");
        Fields step = Fields.of(in, tape.need("step", "Add it.").orElse(root), "the step");
        double inchStep = step.positive("inches", "Write the step in inches.");
        double metricStep = step.positive("millimetres", "Write the step in millimetres.");
        step.text("source", "Say where it comes from.");
        step.close();
        double hook = within(tape, "hook");
        double pointing = within(tape, "pointing");
        double length = tape.positive("length", "Write how long the tape is.");
        Fields far = Fields.of(in, tape.need("reach", "Add it.").orElse(root), "the reach");
        double reach = far.positive("length", "Write how far a tape runs straight.");
        far.text("source", "Say where it comes from.");
        far.close();
        Optional<YamlNode> word = tape.need("class", "Write the tape's class.");
        tape.close();
        Map<String, TapeClass> classes = classes(in, top);
        Fields level = Fields.of(in, top.need("level", "Add it.").orElse(root), "the level");
        double levelStep = degrees(level, "step");
        double levelWithin = degrees(level, "within");
        level.close();
        double mirror = within(top, "mirror");
        double rim = within(top, "rim");
        top.close();
        String name = word.map(node -> in.text(node, "class")).orElse("");
        TapeClass chosen = classes.get(name);
        if (chosen == null && in.clean(0)) {
            in.unknown(
                    Kind.NOT_A_VALUE,
                    word.orElse(root),
                    "no class of tapes is called \"" + name + "\"",
                    classes.keySet(),
                    "Write " + Reading.oneOf(classes.keySet()) + ".");
        }
        if (chosen == null || !in.clean(0)) {
            throw new CarFileException(in.complaints());
        }
        return new MeasuringPractice(
                inchStep, metricStep, hook, pointing, length, reach, chosen, levelStep, levelWithin, mirror, rim);
    }

    private static Map<String, TapeClass> classes(Reading in, Fields top) {
        Map<String, TapeClass> classes = new LinkedHashMap<>();
        Optional<YamlNode> node = top.need("classes", "Add the classes of tapes.");
        if (node.isEmpty() || !(node.get() instanceof YamlNode.Mapping mapping)) {
            node.ifPresent(n -> in.wrongKind(n, "classes", "names, each with its limits"));
            return classes;
        }
        Fields.complainAboutTwins(in, mapping);
        for (YamlNode.Entry entry : mapping.entries()) {
            Fields fields = Fields.of(in, entry.value(), entry.key().text());
            Optional<YamlNode> ranges = fields.maybe("up to");
            if (ranges.isPresent()) {
                List<TapeClass.UpTo> list = new ArrayList<>();
                for (YamlNode item : in.list(ranges.get(), "up to", false)) {
                    Fields range = Fields.of(in, item, "the range");
                    list.add(new TapeClass.UpTo(
                            range.positive("length", "Write its length."),
                            range.positive("within", "Write its limit.")));
                    range.close();
                }
                classes.put(entry.key().text(), new TapeClass.ByLength(list));
            } else {
                classes.put(
                        entry.key().text(),
                        new TapeClass.Growing(
                                fields.positive("a", "Write a."),
                                fields.positive("b", "Write b."),
                                fields.positive("hook", "Write the hook's share.")));
            }
            fields.text("source", "Say where it comes from.");
            fields.close();
        }
        return classes;
    }

    private static double within(Fields group, String key) {
        Optional<YamlNode> node = group.need(key, "Add it.");
        if (node.isEmpty()) {
            return 1;
        }
        Fields fields = Fields.of(group.in(), node.get(), key);
        double mm = fields.positive("within", "Write within: and the half width.");
        fields.text("source", "Say where it comes from.");
        fields.close();
        return mm;
    }

    private static double degrees(Fields group, String key) {
        Optional<YamlNode> node = group.need(key, "Add it.");
        if (node.isEmpty()) {
            return 1;
        }
        Fields fields = Fields.of(group.in(), node.get(), key);
        double degrees = fields.need("degrees", "Write degrees: and the angle.")
                .map(n -> group.in().number(n, "degrees", 0, 90))
                .orElse(1.0);
        fields.text("source", "Say where it comes from.");
        fields.close();
        return Math.toRadians(degrees);
    }
}
