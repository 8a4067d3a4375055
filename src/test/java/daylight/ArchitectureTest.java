package daylight;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.fields;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.methods;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;
import static org.assertj.core.api.Assertions.assertThat;

import com.tngtech.archunit.base.DescribedPredicate;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.domain.JavaField;
import com.tngtech.archunit.core.domain.JavaMethod;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.lang.ArchCondition;
import com.tngtech.archunit.lang.ConditionEvents;
import com.tngtech.archunit.lang.SimpleConditionEvent;
import daylight.car.CarDocument;
import daylight.car.CarFile;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;

/** Holds the shape of the house: DEVELOPERS.md lists the same rules in words. */
class ArchitectureTest {

    /** The packages in their one-way order: each may import only those before it. */
    private static final List<String> ORDER = List.of(
            "units",
            "geometry",
            "linkage",
            "car",
            "motion",
            "survey",
            "clearance",
            "hose",
            "inspection",
            "trim",
            "report",
            "command",
            "bench");

    private static JavaClasses house;

    @BeforeAll
    static void readTheHouse() {
        house = new ClassFileImporter()
                .withImportOption(ImportOption.Predefined.DO_NOT_INCLUDE_TESTS)
                .importPackages("daylight");
        assertThat(house.size()).as("classes found").isGreaterThan(10);
    }

    @TestFactory
    Stream<DynamicTest> eachPackageImportsOnlyThoseBeforeIt() {
        return Stream.iterate(0, i -> i + 1).limit(ORDER.size()).map(i -> {
            String name = ORDER.get(i);
            String[] later = ORDER.subList(i + 1, ORDER.size()).stream()
                    .map(p -> "daylight." + p + "..")
                    .toArray(String[]::new);
            return DynamicTest.dynamicTest(name, () -> {
                if (later.length > 0) {
                    noClasses()
                            .that()
                            .resideInAPackage("daylight." + name + "..")
                            .should()
                            .dependOnClassesThat()
                            .resideInAnyPackage(later)
                            .because("the order of the packages is the architecture")
                            .allowEmptyShould(true)
                            .check(house);
                }
            });
        });
    }

    @Test
    void commandAndBenchNeverMeet() {
        noClasses()
                .that()
                .resideInAPackage("daylight.bench..")
                .should()
                .dependOnClassesThat()
                .resideInAPackage("daylight.command..")
                .because("only Main knows both doors")
                .allowEmptyShould(true)
                .check(house);
    }

    @Test
    void geometryAndLinkageAreALibrary() {
        noClasses()
                .that()
                .resideInAnyPackage("daylight.geometry..", "daylight.linkage..")
                .should()
                .dependOnClassesThat()
                .resideInAnyPackage("java.nio.file..", "com.fasterxml..", "org.snakeyaml..", "picocli..", "javafx..")
                .because("they are usable alone, without files or a window")
                .allowEmptyShould(true)
                .check(house);
    }

    @TestFactory
    Stream<DynamicTest> eachLibraryHasOneHome() {
        return Stream.of(
                        new String[] {"javafx..", "daylight.bench.."},
                        new String[] {"atlantafx..", "daylight.bench.."},
                        new String[] {"org.kordamp..", "daylight.bench.."},
                        new String[] {"picocli..", "daylight.command.."},
                        new String[] {"me.tongfei..", "daylight.command.."},
                        new String[] {"org.apache.pdfbox..", "daylight.report.."},
                        new String[] {"org.locationtech..", "daylight.trim..", "daylight.geometry.."},
                        new String[] {"org.snakeyaml..", "daylight.car.."},
                        new String[] {"com.fasterxml..", "daylight.car..", "daylight.report.."},
                        new String[] {"org.apache.commons.csv..", "daylight.car..", "daylight.report.."})
                .map(row -> DynamicTest.dynamicTest(row[0], () -> {
                    String[] homes = new String[row.length - 1];
                    System.arraycopy(row, 1, homes, 0, homes.length);
                    noClasses()
                            .that()
                            .resideOutsideOfPackages(homes)
                            .should()
                            .dependOnClassesThat()
                            .resideInAPackage(row[0])
                            .because("a library that has one home can be changed in one place")
                            .allowEmptyShould(true)
                            .check(house);
                }));
    }

    @Test
    void mutableVectorsStayInTheEngines() {
        methods()
                .that()
                .arePublic()
                .and()
                .areDeclaredInClassesThat()
                .resideOutsideOfPackages("daylight.geometry..", "daylight.linkage..")
                .and()
                .areDeclaredInClassesThat()
                .arePublic()
                .should(new ArchCondition<JavaMethod>("mention no JOML type") {
                    @Override
                    public void check(JavaMethod method, ConditionEvents events) {
                        Stream.concat(method.getRawParameterTypes().stream(), Stream.of(method.getRawReturnType()))
                                .filter(type -> type.getPackageName().startsWith("org.joml"))
                                .forEach(type -> events.add(SimpleConditionEvent.violated(
                                        method, method.getFullName() + " mentions " + type.getName())));
                    }
                })
                .because("a mutable vector in a public signature is a value that changes behind one's back")
                .allowEmptyShould(true)
                .check(house);
    }

    @Test
    void recordsAreValues() {
        fields().that()
                .areDeclaredInClassesThat()
                .areRecords()
                .and()
                .areNotStatic()
                .should(new ArchCondition<JavaField>("be neither an array nor a JOML type") {
                    @Override
                    public void check(JavaField field, ConditionEvents events) {
                        JavaClass type = field.getRawType();
                        if (type.isArray() || type.getPackageName().startsWith("org.joml")) {
                            events.add(SimpleConditionEvent.violated(field, field.getFullName() + " can change"));
                        }
                    }
                })
                .because("a record with an array or a mutable vector is not a value")
                .check(house);
    }

    @Test
    void viewModelsNeedNoScreen() {
        noClasses()
                .that()
                .haveSimpleNameEndingWith("ViewModel")
                .should()
                .dependOnClassesThat()
                .resideInAnyPackage("javafx.scene..", "javafx.stage..", "javafx.application..")
                .because("a view model is tested without a display")
                .allowEmptyShould(true)
                .check(house);
    }

    @Test
    void oneDoorBetweenThreads() {
        classes()
                .that(new DescribedPredicate<JavaClass>("use Platform.runLater or Task") {
                    @Override
                    public boolean test(JavaClass candidate) {
                        return candidate.getMethodCallsFromSelf().stream()
                                        .anyMatch(call ->
                                                call.getTargetOwner().getName().equals("javafx.application.Platform")
                                                        && call.getName().equals("runLater"))
                                || candidate.getDirectDependenciesFromSelf().stream()
                                        .anyMatch(d ->
                                                d.getTargetClass().getName().equals("javafx.concurrent.Task"));
                    }
                })
                .should()
                .haveNameMatching("daylight\\.bench\\.Background(\\$.*)?")
                .because("there is one door between the threads")
                .allowEmptyShould(true)
                .check(house);
    }

    @Test
    void onlyTheCommandLineSpeaksToTheTerminal() {
        noClasses()
                .that()
                .resideOutsideOfPackage("daylight.command..")
                .and()
                .doNotHaveFullyQualifiedName("daylight.Main")
                .should()
                .accessField(System.class, "out")
                .orShould()
                .accessField(System.class, "err")
                .orShould()
                .callMethod(System.class, "exit", int.class)
                .because("results and messages are testable")
                .check(house);
    }

    @Test
    void sameInputSameBytesInEveryCountry() {
        noClasses()
                .should()
                .callMethod(String.class, "format", String.class, Object[].class)
                .orShould()
                .callMethod(String.class, "formatted", Object[].class)
                .orShould()
                .callMethod(String.class, "toUpperCase")
                .orShould()
                .callMethod(String.class, "toLowerCase")
                .orShould()
                .callMethod(java.nio.charset.Charset.class, "defaultCharset")
                .orShould()
                .callMethod(Locale.class, "getDefault")
                .orShould()
                .callMethod(java.time.LocalDate.class, "now")
                .orShould()
                .callMethod(java.time.Instant.class, "now")
                .orShould()
                .callConstructor(java.util.Random.class)
                .orShould()
                .callMethod(Math.class, "random")
                .because("the same input gives the same bytes, in every country and on every day")
                .check(house);
    }

    @Test
    void everyCommandStartsFromTheMeasuredCar() {
        noClasses()
                .that()
                .resideInAnyPackage("daylight.command..", "daylight.bench..", "daylight.report..")
                .should()
                .callMethod(CarFile.class, "read", java.nio.file.Path.class)
                .orShould()
                .callMethod(CarFile.class, "read", String.class, String.class)
                .orShould()
                .callMethod(CarDocument.class, "car")
                .because("points known by tape are where the survey puts them: ask daylight.survey.MeasuredCar")
                .check(house);
    }

    @Test
    void nothingStaticChanges() {
        fields().that()
                .areStatic()
                .should()
                .beFinal()
                .because("engines run side by side")
                .check(house);
    }
}
