package daylight.motion;

import daylight.geometry.Spot;
import daylight.linkage.Linkage;
import daylight.linkage.Mechanism;
import daylight.linkage.Mechanism.Joint;
import daylight.linkage.Mechanism.LeafModel;
import daylight.units.LengthFormat;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * What bushes must give where a mechanism has more links than freedoms, and how far the two models of leaf springs are
 * apart: rows beside those of wheel geometry. An engine: not thread-safe, as its linkage.
 */
final class BindRows {
    /** Two models that are nearer than this, mm and degrees, are not worth a sentence: no tape shows it. */
    private static final double WORTH_SAYING = 0.05;

    private final Linkage linkage;
    private final LengthFormat lengths;
    private final Optional<Linkage> otherModel;
    private double mostApartMm;
    private double mostPitchDeg;
    private double mostTurnedMm;

    BindRows(Linkage linkage, LengthFormat lengths) {
        this.linkage = linkage;
        this.lengths = lengths;
        this.otherModel = otherModel(linkage.mechanism()).map(Linkage::of);
    }

    private static Optional<Mechanism> otherModel(Mechanism m) {
        if (m.joints().stream().noneMatch(joint -> joint instanceof Joint.Leaf)) {
            return Optional.empty();
        }
        List<Joint> joints = m.joints().stream()
                .map(joint -> joint instanceof Joint.Leaf leaf
                        ? new Joint.Leaf(
                                leaf.name(),
                                leaf.bodyA(),
                                leaf.pad(),
                                leaf.bodyB(),
                                leaf.eye(),
                                other(leaf.model()),
                                leaf.clamp())
                        : joint)
                .toList();
        return Optional.of(new Mechanism(m.name(), m.bodies(), joints, m.drivers(), m.followers()));
    }

    private static LeafModel other(LeafModel model) {
        return model == LeafModel.THREE_LINK ? LeafModel.EVEN_CURVE : LeafModel.THREE_LINK;
    }

    private static String words(LeafModel model) {
        return model == LeafModel.THREE_LINK ? "three-link" : "even-curve";
    }

    private LeafModel model() {
        return linkage.mechanism().joints().stream()
                .filter(joint -> joint instanceof Joint.Leaf)
                .map(joint -> ((Joint.Leaf) joint).model())
                .findFirst()
                .orElse(LeafModel.THREE_LINK);
    }

    /**
     * Adds how far the other leaf model has a wheel, and its axle's pitch, from this one.
     *
     * @param values driver values at which the linkage stands
     */
    void leaves(TravelRows rows, double[] values, WheelStation station) {
        if (otherModel.isEmpty() || !otherModel.get().solve(values).solved()) {
            return;
        }
        Linkage other = otherModel.get();
        int body = linkage.bodies().indexOf(station.wheel.body());
        Spot centre = station.wheel.centre();
        double apart = linkage.where(body, centre).distanceTo(other.where(body, centre));
        double pitch = ShaftGeometry.tiltDeg(other.where(body, daylight.geometry.Direction.FORWARD))
                - ShaftGeometry.tiltDeg(linkage.where(body, daylight.geometry.Direction.FORWARD));
        mostApartMm = Math.max(mostApartMm, apart);
        mostPitchDeg = Math.max(mostPitchDeg, Math.abs(pitch));
        rows.put(
                "leaf models apart",
                Quantity.LENGTH,
                "distance of the wheel centre between the " + words(model()) + " model used here and the "
                        + words(other(model())) + " model: the model's own uncertainty",
                apart);
        rows.put(
                "leaf models' pitch",
                Quantity.ANGLE,
                "axle pitch of the " + words(other(model())) + " model less that of the " + words(model())
                        + " model used here",
                pitch + 0.0);
    }

    /**
     * Adds the bind of each rod and spring at the exact place of least energy, and leaves the linkage there: the last
     * thing to be read at a position.
     */
    void bind(TravelRows rows) {
        List<String> joints = linkage.sharingJoints();
        if (joints.isEmpty()) {
            return;
        }
        List<Spot> before = places();
        if (linkage.leastEnergy()) {
            List<Spot> after = places();
            for (int b = 0; b < before.size(); b++) {
                mostTurnedMm = Math.max(mostTurnedMm, before.get(b).distanceTo(after.get(b)));
            }
        }
        String name = linkage.mechanism().name() + " ";
        for (String joint : joints) {
            rows.put(
                    "bind of " + (joint.startsWith(name) ? joint.substring(name.length()) : joint),
                    Quantity.LENGTH,
                    "what its bushes must give, pulled positive (a leaf: pushed to the left of its own half positive)",
                    linkage.bindMm(joint) + 0.0);
        }
    }

    private List<Spot> places() {
        return java.util.stream.IntStream.range(0, linkage.bodies().size())
                .mapToObj(b -> linkage.where(b, linkage.reference(b)))
                .toList();
    }

    /** Adds what is worth saying after all rows. */
    void cautions(List<String> cautions) {
        if (otherModel.isPresent() && (mostApartMm > WORTH_SAYING || mostPitchDeg > WORTH_SAYING)) {
            cautions.add(String.format(
                    Locale.ROOT,
                    "%s: leaf springs by the %s model; the %s model differs by up to %s at the wheels, %.2f deg of"
                            + " axle pitch.",
                    linkage.mechanism().name(),
                    words(model()),
                    words(other(model())),
                    lengths.print(mostApartMm),
                    mostPitchDeg));
        }
        if (mostTurnedMm > WORTH_SAYING) {
            cautions.add(String.format(
                    Locale.ROOT,
                    "%s: bushes pull as at ride height; where they pull at each position, it stands up to %s elsewhere.",
                    linkage.mechanism().name(),
                    lengths.print(mostTurnedMm)));
        }
    }
}
