package daylight.car;

import daylight.car.Complaint.Kind;
import daylight.linkage.Mechanism;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * What a car file may say of a mechanism besides its layout: rods that can be adjusted, bushes of their own stiffness,
 * and how its leaf springs move.
 *
 * @param adjusts rods by their names in the layout, with how much shorter and longer each can be made, mm
 * @param bushes stiffness of joints that give way, by their names in the layout, N/mm
 * @param leafModel how leaf springs move, if it is said
 */
record MechanismOptions(
        Map<String, Adjustment> adjusts, Map<String, Double> bushes, Optional<Mechanism.LeafModel> leafModel) {

    private static final List<String> LEAF_MODELS = List.of("three link", "even curve");
    private static final double MOST_TURNS = 1000;
    private static final double SOFTEST = 0.001;
    private static final double STIFFEST = 1e9;

    /** How much shorter and longer a rod can be made, mm, both zero or more. */
    record Adjustment(double shorterMm, double longerMm) {}

    MechanismOptions {
        adjusts = Map.copyOf(adjusts);
        bushes = Map.copyOf(bushes);
    }

    static MechanismOptions read(Reading in, Fields fields, Layout layout) {
        Map<String, Adjustment> adjusts = new LinkedHashMap<>();
        Map<String, Double> bushes = new LinkedHashMap<>();
        List<String> rods = layout.joints().stream()
                .filter(joint ->
                        joint instanceof Layout.Joint.Rod rod && rod.shares().isEmpty())
                .map(Layout.Joint::name)
                .toList();
        List<String> giving = layout.joints().stream()
                .filter(MechanismOptions::gives)
                .map(Layout.Joint::name)
                .toList();
        boolean hasLeaves = layout.joints().stream().anyMatch(joint -> joint instanceof Layout.Joint.Leaf);
        if (!rods.isEmpty()) {
            fields.maybe("adjusts").ifPresent(node -> {
                Fields each = Fields.of(in, node, "adjusts");
                rods.forEach(rod -> each.maybe(rod).ifPresent(n -> adjusts.put(rod, adjustment(in, n, rod))));
                each.close();
            });
        }
        if (!giving.isEmpty()) {
            fields.maybe("bushes").ifPresent(node -> {
                Fields each = Fields.of(in, node, "bushes");
                giving.forEach(joint ->
                        each.maybe(joint).ifPresent(n -> bushes.put(joint, in.number(n, joint, SOFTEST, STIFFEST))));
                each.close();
                if (!bushes.isEmpty() && bushes.size() < giving.size()) {
                    in.complain(
                            Kind.MISSING,
                            node.place(),
                            "bushes: only " + bushes.size() + " of " + giving.size() + " stiffnesses are given",
                            "",
                            "Write each of " + String.join(", ", giving) + " in N/mm, or none.");
                }
            });
        }
        Optional<Mechanism.LeafModel> model = hasLeaves
                ? fields.maybe("leaf model")
                        .map(node -> in.choice(node, "leaf model", LEAF_MODELS).equals("even curve")
                                ? Mechanism.LeafModel.EVEN_CURVE
                                : Mechanism.LeafModel.THREE_LINK)
                : Optional.empty();
        return new MechanismOptions(adjusts, bushes, model);
    }

    private static boolean gives(Layout.Joint joint) {
        return (joint instanceof Layout.Joint.Rod rod && rod.shares().isPresent())
                || (joint instanceof Layout.Joint.Plane plane && plane.shares().isPresent());
    }

    /** Lengths, or turns with the thread's pitch. */
    private static Adjustment adjustment(Reading in, YamlNode node, String rod) {
        Fields fields = Fields.of(in, node, rod);
        Optional<YamlNode> pitch = fields.maybe("pitch");
        Adjustment read;
        if (pitch.isPresent()) {
            double mm = in.positive(pitch.get(), "pitch")
                    * fields.maybe("threaded ends")
                            .map(n -> in.number(n, "threaded ends", 1, 2))
                            .orElse(1.0);
            double inwards = fields.maybe("turns in")
                    .map(n -> in.number(n, "turns in", 0, MOST_TURNS))
                    .orElse(0.0);
            double out = fields.maybe("turns out")
                    .map(n -> in.number(n, "turns out", 0, MOST_TURNS))
                    .orElse(0.0);
            read = new Adjustment(inwards * mm, out * mm);
        } else {
            read = new Adjustment(fields.notNegative("shorter", 0), fields.notNegative("longer", 0));
        }
        fields.close();
        if (fields.isReal() && read.shorterMm() == 0 && read.longerMm() == 0 && !fields.hasStrangers()) {
            in.complain(
                    Kind.MISSING,
                    node.place(),
                    rod + " is not adjusted by anything",
                    "",
                    "Write {shorter: 1/4, longer: 1/4}, or {turns in: 2, turns out: 2, pitch: 1.5 mm}.");
        }
        return read;
    }

    /** Returns a mechanism of that layout with all that is said of it. */
    Mechanism apply(Mechanism mechanism) {
        if (adjusts.isEmpty() && bushes.isEmpty() && leafModel.isEmpty()) {
            return mechanism;
        }
        List<Mechanism.Driver> drivers = new ArrayList<>(mechanism.drivers());
        adjusts.entrySet().stream().sorted(Map.Entry.comparingByKey()).forEach(entry -> {
            String rod = mechanism.name() + " " + entry.getKey();
            drivers.add(new Mechanism.Driver.RodLength(
                    rod + " length",
                    rod,
                    0.0 - entry.getValue().shorterMm(),
                    entry.getValue().longerMm()));
        });
        return new Mechanism(
                mechanism.name(),
                mechanism.bodies(),
                mechanism.joints().stream()
                        .map(joint -> joint(joint, mechanism.name()))
                        .toList(),
                drivers,
                mechanism.followers());
    }

    private Mechanism.Joint joint(Mechanism.Joint joint, String mechanism) {
        double stiffness = bushes.getOrDefault(
                joint.name().startsWith(mechanism + " ") ? joint.name().substring(mechanism.length() + 1) : "",
                joint.stiffness());
        if (joint instanceof Mechanism.Joint.Rod j) {
            return new Mechanism.Joint.Rod(j.name(), j.bodyA(), j.onA(), j.bodyB(), j.onB(), j.sharing(), stiffness);
        } else if (joint instanceof Mechanism.Joint.Plane j) {
            return new Mechanism.Joint.Plane(
                    j.name(), j.bodyA(), j.spotOfA(), j.bodyB(), j.normalB(), j.sharing(), stiffness);
        } else if (joint instanceof Mechanism.Joint.Leaf j) {
            return new Mechanism.Joint.Leaf(
                    j.name(), j.bodyA(), j.pad(), j.bodyB(), j.eye(), leafModel.orElse(j.model()), j.clamp());
        }
        return joint;
    }
}
