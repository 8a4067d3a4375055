package daylight.trim;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;
import static org.assertj.core.api.Assertions.within;

import daylight.car.Car;
import daylight.car.CarDocument;
import daylight.car.CarFile;
import daylight.car.CarFileException;
import daylight.car.Change;
import daylight.car.Trial;
import daylight.geometry.PlateEdges;
import daylight.geometry.Shape;
import daylight.geometry.Solid;
import daylight.geometry.Spot;
import daylight.linkage.Mechanism;
import daylight.survey.MeasuredCar;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** What a trial makes of a car, and that adopting it writes just that. */
class TrialCarTest {
    static final Path FILE = Path.of("src/test/resources/cars/trials.yaml");
    private static final double IN = 25.4;
    /** Closed forms in plain arithmetic, mm; the file keeps a millionth of an inch. */
    private static final double WRITTEN_MM = 1e-4;

    /** A tyre beside the wheel centre rises by a little more or less than it, mm. */
    private static final double ARC_MM = 0.2;

    private MeasuredCar measured;
    private CarDocument document;
    private Car car;

    @BeforeEach
    void read() throws CarFileException {
        measured = MeasuredCar.read(FILE);
        document = measured.document();
        car = measured.car();
    }

    private Car tried(String trial) throws CarFileException {
        return TrialCar.of(measured, car.trial(trial).orElseThrow()).car();
    }

    private static Shape.Plate plate(Car car, String name) {
        return (Shape.Plate) car.part(name).orElseThrow().shape();
    }

    private static double area(Shape.Plate plate) {
        double sum = 0;
        for (int i = 0; i < plate.outline().size(); i++) {
            var a = plate.outline().get(i);
            var b = plate.outline().get((i + 1) % plate.outline().size());
            sum += a.x() * b.y() - b.x() * a.y();
        }
        return Math.abs(sum) / 2;
    }

    @Test
    void edgesAreCalledByTheWayTheyFaceOnTheCar() {
        Shape.Plate drawn = car.metal("bracket").orElseThrow().drawn();
        assertThat(PlateEdges.of(drawn).names()).containsExactly("bottom edge", "rear edge", "top edge", "front edge");
        Shape.Plate image = car.metal("other bracket").orElseThrow().drawn();
        assertThat(PlateEdges.of(image).names()).containsExactly("bottom edge", "rear edge", "top edge", "front edge");
    }

    @Test
    void straightCutTakesTheCornerOff() throws CarFileException {
        double before = area(plate(car, "bracket"));
        Car after = tried("chamfer the bracket");
        double off = 0.5 * (1.375 * IN) * (0.875 * IN);
        assertThat(area(plate(after, "bracket"))).isCloseTo(before - off, within(WRITTEN_MM));
        assertThat(area(plate(after, "other bracket")))
                .as("the mirror follows")
                .isCloseTo(before - off, within(WRITTEN_MM));
    }

    @Test
    void cutsAreMadeOneAfterAnother() throws CarFileException {
        Shape.Plate after = plate(tried("everything about the bracket"), "bracket");
        assertThat(after.holes()).hasSize(2);
        assertThat(after.holes().get(1).diameterMm()).isCloseTo(0.375 * IN, within(WRITTEN_MM));
        assertThat(area(after)).isLessThan(area(plate(car, "bracket")) - 6 * 0.375 * IN * IN);
        assertThat(Solid.whyNot(after)).isEmpty();
    }

    @Test
    void movedPartIsMovedAndNothingElse() throws CarFileException {
        Car after = tried("pipe higher");
        Shape.Tube was = (Shape.Tube) car.part("tailpipe").orElseThrow().shape();
        Shape.Tube is = (Shape.Tube) after.part("tailpipe").orElseThrow().shape();
        for (int i = 0; i < was.through().size(); i++) {
            assertThat(is.through().get(i).distanceTo(was.through().get(i).plus(0, 0, IN / 2)))
                    .isLessThan(WRITTEN_MM);
        }
        for (Car.Part part : car.parts()) {
            if (!part.name().equals("tailpipe")) {
                assertThat(after.part(part.name())).contains(part);
            }
        }
        assertThat(after.mechanisms()).isEqualTo(car.mechanisms());
    }

    @Test
    void rotatedPartTurnsAboutItsLine() throws CarFileException {
        Shape.Tube was = (Shape.Tube) car.part("tailpipe").orElseThrow().shape();
        Shape.Tube is = (Shape.Tube)
                tried("battery turned").part("tailpipe").orElseThrow().shape();
        assertThat(is.through().get(0).distanceTo(was.through().get(0))).isLessThan(WRITTEN_MM);
        double rad = Math.toRadians(2);
        Spot end = new Spot(-60 * IN - 20 * IN * Math.cos(rad), 10 * IN - 20 * IN * Math.sin(rad), 30 * IN);
        assertThat(is.through().get(2).distanceTo(end)).isLessThan(WRITTEN_MM);
    }

    @Test
    void tubeIsBentAgain() throws CarFileException {
        Car after = tried("pipe bent again");
        Shape.Tube is = (Shape.Tube) after.part("tailpipe").orElseThrow().shape();
        assertThat(is.bendRadiusMm()).isCloseTo(4 * IN, within(WRITTEN_MM));
        assertThat(is.through().get(1).distanceTo(new Spot(-80 * IN, 9 * IN, 12.5 * IN)))
                .isLessThan(WRITTEN_MM);
    }

    @Test
    void otherWheelSitsOnTheSameHubFace() throws CarFileException {
        Car after = tried("wider wheels");
        Car.Wheel was = wheel(car, "left front tyre");
        Car.Wheel is = wheel(after, "left front tyre");
        // Backspacing less half the overall width (rim and half an inch of flanges each side) is the offset.
        double offsetWas = (4 - (7 + 1) / 2.0) * IN;
        double offsetIs = (4.5 - (8 + 1) / 2.0) * IN;
        double out = (offsetWas - offsetIs) + IN / 4;
        assertThat(is.centre().y() - was.centre().y()).isCloseTo(out, within(WRITTEN_MM));
        assertThat(is.nominalWidthMm()).isGreaterThan(was.nominalWidthMm() + 15);
        assertThat(wheel(after, "right front tyre").centre().y())
                .as("the mirror follows")
                .isCloseTo(-is.centre().y(), within(WRITTEN_MM));
    }

    private static Car.Wheel wheel(Car car, String part) {
        return car.wheels().stream()
                .filter(wheel -> wheel.part().equals(part))
                .findFirst()
                .orElseThrow();
    }

    @Test
    void hoseAndEndsOfTravelChange() throws CarFileException {
        assertThat(tried("longer hose").hoses().get(0).freeLengthMm()).isCloseTo(15 * IN, within(WRITTEN_MM));
        Car less = tried("less travel");
        for (Mechanism mechanism : less.mechanisms()) {
            for (Mechanism.Driver driver : mechanism.drivers()) {
                double most = driver.name().equals("steer") ? 1.75 * IN : 2.5 * IN;
                assertThat(driver.highest()).as(driver.name()).isCloseTo(most, within(WRITTEN_MM));
            }
        }
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "chamfer the bracket",
                "everything about the bracket",
                "pipe higher",
                "pipe bent again",
                "battery turned",
                "wider wheels",
                "longer hose",
                "less travel"
            })
    void adoptedFileSaysWhatWasTriedAndKeepsEverythingElse(String name, @TempDir Path folder)
            throws CarFileException, IOException {
        // Other trials may speak of what this one changes.
        CarDocument alone = document;
        for (Trial other : car.trials()) {
            if (!other.name().equals(name)) {
                alone = alone.without(List.of("trials", other.name()));
            }
        }
        Path file = folder.resolve("car.yaml");
        Files.writeString(file, alone.toText());
        Trial trial = car.trial(name).orElseThrow();
        Path kept = TrialCar.adopt(file, MeasuredCar.read(file), trial);
        assertThat(Files.readString(kept)).isEqualTo(alone.toText());
        Car adopted = CarFile.read(file);
        Car tried = tried(name);
        assertThat(adopted.parts()).isEqualTo(tried.parts());
        assertThat(adopted.mechanisms()).isEqualTo(tried.mechanisms());
        assertThat(adopted.hoses()).isEqualTo(tried.hoses());
        assertThat(adopted.trial(name)).isEmpty();
        assertThat(adopted.trials()).isEmpty();
        assertThat(Files.readString(file)).contains("# Every kind of trial", "# bent by hand");
    }

    @Test
    void adoptingWhatAnotherTrialSpeaksOfIsRefusedWithTheOtherTrialsPlace() {
        Trial trial = car.trial("pipe higher").orElseThrow();
        CarFileException told = catchThrowableOfType(CarFileException.class, () -> TrialCar.adopted(measured, trial));
        assertThat(told.complaints().get(0).toString())
                .startsWith("trials.yaml:")
                .contains("would leave another trial that no longer fits");
        assertThat(told.complaints()).hasSizeGreaterThan(1);
    }

    @Test
    void loweredCarStandsLowerAndCannotBeAdopted() throws CarFileException {
        Car lower = tried("lower in front");
        Spot was = wheel(car, "left front tyre").centre();
        Spot is = wheel(lower, "left front tyre").centre();
        assertThat(is.z() - was.z()).as("the axes stay with the body").isCloseTo(IN, within(ARC_MM));
        Trial trial = car.trial("lower in front").orElseThrow();
        assertThat(catchThrowableOfType(CarFileException.class, () -> TrialCar.adopted(measured, trial)))
                .hasMessageContaining("measure it again at its new ride height");
    }

    @Test
    void longerRodAndSpringSeatChangeHowTheCarStands() throws CarFileException {
        assertThat(tried("toe set").mechanisms()).isNotEqualTo(car.mechanisms());
        assertThat(tried("spring wound up").mechanisms()).isNotEqualTo(car.mechanisms());
    }

    @Test
    void carAndDocumentOfATrialStayAsTheyAre() throws CarFileException {
        String before = document.toText();
        for (Trial trial : car.trials()) {
            TrialCar.of(measured, trial);
        }
        assertThat(document.toText()).isEqualTo(before);
        assertThat(document.car()).isEqualTo(car);
    }

    @Test
    void mirroredAndDisplacedPartsAreReadAsWritten() {
        Shape.Box box = (Shape.Box) car.part("battery").orElseThrow().shape();
        assertThat(box.centre().distanceTo(new Spot(20 * IN, 10.5 * IN, 25 * IN)))
                .isLessThan(WRITTEN_MM);
        assertThat(Math.toDegrees(Math.atan2(box.along().y(), box.along().x()))).isCloseTo(10, within(1e-9));
        assertThat(car.metal("bracket").orElseThrow().welds()).hasSize(1);
        assertThat(car.metal("bracket").orElseThrow().keep()).hasSize(1);
        assertThat(car.metal("bracket").orElseThrow().edgeDistanceMm()).contains(0.75 * IN);
        assertThat(car.trials().get(0).changes().get(0)).isInstanceOf(Change.Trim.class);
    }
}
