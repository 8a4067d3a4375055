package daylight.car;

import daylight.car.Complaint.Kind;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** Reads what a car is inspected against besides its rule lists: changes of ride height, and the steering's ratio. */
final class JudgedByReader {
    /** Turns of the wheel per turn of the box's arm; beyond it is a slip. */
    private static final double HIGHEST_RATIO = 100;

    private final Reading in;

    JudgedByReader(Reading in) {
        this.in = in;
    }

    Car.JudgedBy read(Fields top, List<RuleList> lists) {
        List<Car.HeightChange> changes =
                top.maybe("ride height changed").map(this::changes).orElse(List.of());
        Optional<Car.Turning> turning = top.maybe("steering wheel").flatMap(this::turning);
        return new Car.JudgedBy(lists, changes, turning);
    }

    private List<Car.HeightChange> changes(YamlNode node) {
        Fields fields = Fields.of(in, node, "ride height changed");
        List<Car.HeightChange> changes = new ArrayList<>();
        fields.maybe("front").flatMap(n -> change(n, "front")).ifPresent(changes::add);
        fields.maybe("rear").flatMap(n -> change(n, "rear")).ifPresent(changes::add);
        fields.close();
        return changes;
    }

    private Optional<Car.HeightChange> change(YamlNode node, String axle) {
        int mark = in.mark();
        Fields fields = Fields.of(in, node, axle);
        Optional<YamlNode> lowered = fields.maybe("lowered");
        Optional<YamlNode> raised = fields.maybe("raised");
        Optional<Double> bump = fields.maybe("original bump").map(n -> in.positive(n, "original bump"));
        Optional<Double> droop = fields.maybe("original droop").map(n -> in.positive(n, "original droop"));
        boolean strangers = fields.hasStrangers();
        fields.close();
        if (lowered.isPresent() == raised.isPresent() && !(lowered.isEmpty() && strangers) && fields.isReal()) {
            in.complain(
                    lowered.isPresent() ? Kind.CONTRADICTION : Kind.MISSING,
                    node.place(),
                    axle + (lowered.isPresent() ? " is both lowered and raised" : " says neither lowered nor raised"),
                    "",
                    "Write lowered: or raised: and by how much.");
        }
        double by = lowered.map(n -> in.notNegative(n, "lowered"))
                .orElseGet(
                        () -> raised.map(n -> 0.0 - in.notNegative(n, "raised")).orElse(0.0));
        return in.clean(mark)
                ? Optional.of(new Car.HeightChange(axle.equals("front"), by, bump, droop))
                : Optional.empty();
    }

    private Optional<Car.Turning> turning(YamlNode node) {
        int mark = in.mark();
        Fields fields = Fields.of(in, node, "steering wheel");
        Optional<YamlNode> rack = fields.maybe("rack per turn");
        Optional<YamlNode> box = fields.maybe("box ratio");
        boolean strangers = fields.hasStrangers();
        fields.close();
        if (rack.isPresent() == box.isPresent() && !(rack.isEmpty() && strangers) && fields.isReal()) {
            in.complain(
                    rack.isPresent() ? Kind.CONTRADICTION : Kind.MISSING,
                    node.place(),
                    "steering wheel has " + (rack.isPresent() ? "both" : "neither") + " rack per turn "
                            + (rack.isPresent() ? "and" : "nor") + " box ratio",
                    "",
                    "Write rack per turn: and a length, or box ratio: and a number such as 16.");
        }
        double perTurn = rack.map(n -> in.positive(n, "rack per turn"))
                .orElseGet(() -> box.map(n -> 2 * Math.PI / in.number(n, "box ratio", 1, HIGHEST_RATIO))
                        .orElse(0.0));
        return in.clean(mark) ? Optional.of(new Car.Turning(perTurn, box.isPresent())) : Optional.empty();
    }
}
