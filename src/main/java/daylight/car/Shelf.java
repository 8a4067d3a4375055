package daylight.car;

import daylight.linkage.Mechanism;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/** The program's own tables that a car file rests on, each read once for as many readings as share the shelf. */
final class Shelf {
    private final CommonPractice common = CommonPractice.shipped();
    private final Tyres tyres = Tyres.shipped();
    private final List<RuleList> ruleLists = RuleLists.shipped();
    private final Map<String, Optional<Layout>> layouts = new HashMap<>();

    /** Mechanisms found to be solvable, in the same places to the last bit; added to. */
    private final Set<Mechanism> solvable = new HashSet<>();

    Set<Mechanism> solvable() {
        return solvable;
    }

    CommonPractice common() {
        return common;
    }

    Tyres tyres() {
        return tyres;
    }

    List<RuleList> ruleLists() {
        return ruleLists;
    }

    /** Returns the layout of that name, if there is one. */
    Optional<Layout> layout(String name) {
        return layouts.computeIfAbsent(name, Layouts::named);
    }
}
