package daylight.clearance;

import static org.assertj.core.api.Assertions.assertThat;

import daylight.car.Car;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;

class RulesTest {
    private static final Car.Part ENGINE = Cars.part("engine", "chassis", Cars.ball(0, 0, 0, 1), "engine");
    private static final Car.Part SHAFT = Cars.part("shaft", "chassis", Cars.ball(0, 0, 0, 1), "steering");

    private static Car.Rule own(String first, String second, double mm) {
        return new Car.Rule(first, second, mm, Optional.empty());
    }

    private static Car.Rule listed(String list, String first, String second, double mm) {
        return new Car.Rule(first, second, mm, Optional.of("a page"), Optional.of(list));
    }

    private static String words(Car.Rule... rules) {
        return Rules.of(List.of(rules), ENGINE, SHAFT).map(Rules::words).orElse("none");
    }

    @Test
    void ofTwoListsTheWiderGapCountsThoughItIsLessNarrow() {
        assertThat(words(listed("A", "engine", "steering", 10), listed("B", "engine", "any", 15)))
                .isEqualTo("engine and any, by B (a page)");
    }

    @Test
    void withinOneListTheNarrowestCounts() {
        assertThat(words(listed("A", "engine", "steering", 10), listed("A", "engine", "any", 15)))
                .isEqualTo("engine and steering, by A (a page)");
    }

    @Test
    void theBuildersOwnRuleOverrulesListsThatAreNotNarrower() {
        assertThat(words(own("engine", "steering", 8), listed("A", "engine", "any", 15)))
                .isEqualTo("engine and steering, by this car file");
        assertThat(words(own("engine", "any", 8), listed("A", "engine", "any", 15)))
                .isEqualTo("engine and any, by this car file");
        assertThat(words(own("engine", "any", 8), listed("A", "engine", "steering", 15)))
                .isEqualTo("engine and steering, by A (a page)");
    }

    @Test
    void aRuleForAnyPairCountsOnlyWhereNoOtherFits() {
        assertThat(words(own("any", "any", 13), listed("A", "engine", "any", 10)))
                .isEqualTo("engine and any, by A (a page)");
        assertThat(words(own("any", "any", 5), listed("A", "any", "any", 13)))
                .isEqualTo("any and any, by this car file");
    }
}
