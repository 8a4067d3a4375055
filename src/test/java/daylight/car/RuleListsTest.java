package daylight.car;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class RuleListsTest {
    private static final String CAR = "daylight: 1\ncar: test\nunits: mm\n";

    @Test
    void everyShippedRuleSaysItsSourceDateAndClause() {
        List<RuleList> lists = RuleLists.shipped();
        assertThat(lists).hasSizeGreaterThanOrEqualTo(8);
        assertThat(lists.get(0).name()).isEqualTo("common practice");
        assertThat(lists).extracting(RuleList::name).doesNotHaveDuplicates();
        for (RuleList list : lists) {
            assertThat(List.of(list.source(), list.date(), list.mark()))
                    .as(list.name())
                    .allSatisfy(words -> assertThat(words).isNotBlank());
            assertThat(list.mark()).as(list.name()).matches("seen|seen, quoted|from memory|common practice, no source");
            list.gaps().forEach(rule -> {
                assertThat(rule.list()).contains(list.name());
                assertThat(rule.source().orElse("")).contains(list.source());
            });
            list.checks().forEach(check -> {
                assertThat(check.cited().list()).isEqualTo(list.name());
                assertThat(check.cited().clause()).isNotBlank();
            });
        }
    }

    @Test
    void figuresOfPublishedRulesAreAsPrinted() {
        assertThat(check("ADR 43/04", RuleList.Kind.RUNNING_CLEARANCE).figure()).isEqualTo(100);
        assertThat(check("ADR 43/04", RuleList.Kind.CLEARANCE_MIDWAY).figure()).isEqualTo(33.33);
        assertThat(Math.toDegrees(check("ADR 43/04", RuleList.Kind.CREST).figure()))
                .isCloseTo(7 + 38 / 60.0, within(1e-9));
        assertThat(check("VSB 14 LS", RuleList.Kind.TRAVEL_KEPT).figure()).isEqualTo(2 / 3.0);
        assertThat(check("VSB 14 LS", RuleList.Kind.HEIGHT_CHANGE).figure()).isEqualTo(50);
        assertThat(check("NSRA inspection", RuleList.Kind.SHOCK_TRAVEL_LEFT).figure())
                .isEqualTo(50.8);
    }

    private static RuleList.Check check(String list, RuleList.Kind kind) {
        return RuleLists.shipped().stream()
                .filter(l -> l.name().equals(list))
                .flatMap(l -> l.checks().stream())
                .filter(c -> c.kind() == kind)
                .findFirst()
                .orElseThrow();
    }

    @Test
    void aCarFileWithoutListsIsHeldToCommonPractice() throws CarFileException {
        Car car = CarFile.read("test.yaml", CAR);
        assertThat(car.judgedBy().lists()).extracting(RuleList::name).containsExactly("common practice");
        assertThat(car.rules()).extracting(rule -> rule.list().orElse("")).containsOnly("common practice");
    }

    @Test
    void listsAreMixedInTheOrderOfTheCarFile() throws CarFileException {
        Car car = CarFile.read("test.yaml", CAR + "rule lists: [NSW VSI 6, VSB 14 LS]\n");
        assertThat(car.judgedBy().lists()).extracting(RuleList::name).containsExactly("NSW VSI 6", "VSB 14 LS");
    }

    @Test
    void aListOfTheBuildersOwnLiesBesideTheCarFile(@TempDir Path folder) throws IOException, CarFileException {
        Files.writeString(folder.resolve("our-club.yaml"), """
                rule list: 1
                name: our club
                source: the club's notice board
                date: May
                mark: seen
                rules:
                  - {between: [exhaust, any], at least: 22 mm, clause: no. 3}
                  - {check: running clearance, at least: 5 in, clause: no. 4}
                """);
        Path file = folder.resolve("car.yaml");
        Files.writeString(file, CAR + "rule lists: [our-club.yaml]\n");
        Car car = CarFile.read(file);
        assertThat(car.judgedBy().lists().get(0).checks().get(0).figure()).isEqualTo(127);
        assertThat(car.rules().get(0))
                .isEqualTo(new Car.Rule(
                        "exhaust",
                        "any",
                        22,
                        java.util.Optional.of("no. 3; the club's notice board, May; seen"),
                        java.util.Optional.of("our club")));
    }

    @Test
    void aMistakeInSuchAListIsToldWithItsOwnPlace(@TempDir Path folder) throws IOException {
        Files.writeString(folder.resolve("our-club.yaml"), """
                rule list: 1
                name: our club
                source: notice board
                date: May
                mark: seen
                rules:
                  - {check: runing clearance, at least: 5 in, clause: no. 4}
                """);
        Path file = folder.resolve("car.yaml");
        Files.writeString(file, CAR + "rule lists: [our-club.yaml]\n");
        assertThatThrownBy(() -> CarFile.read(file))
                .hasMessage("our-club.yaml:7:13: there is no check \"runing clearance\"."
                        + " Nearest: \"running clearance\".");
    }

    @Test
    void rideHeightAndSteeringAreRead() throws CarFileException {
        Car car = CarFile.read(
                "test.yaml",
                CAR + "ride height changed:\n  front: {lowered: 40}\n  rear: {raised: 10, original bump: 80}\n"
                        + "steering wheel: {box ratio: 16}\n");
        assertThat(car.judgedBy().changes())
                .extracting(Car.HeightChange::loweredMm)
                .containsExactly(40.0, -10.0);
        assertThat(car.judgedBy().changes().get(1).originalBumpMm()).contains(80.0);
        assertThat(car.judgedBy().turning().orElseThrow().perTurn()).isCloseTo(Math.PI / 8, within(1e-12));
    }
}
