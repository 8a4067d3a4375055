package daylight.car;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** The program's own tables that a car file rests on, each read once for as many readings as share the shelf. */
final class Shelf {
    private final CommonPractice common = CommonPractice.shipped();
    private final Tyres tyres = Tyres.shipped();
    private final List<RuleList> ruleLists = RuleLists.shipped();
    private final Map<String, Optional<Layout>> layouts = new HashMap<>();

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
