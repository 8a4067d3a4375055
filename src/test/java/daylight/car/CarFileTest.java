package daylight.car;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.geometry.Direction;
import daylight.geometry.Flat;
import daylight.geometry.Shape;
import daylight.geometry.Spot;
import daylight.linkage.Mechanism;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

class CarFileTest {
    /** Closed form: a few multiplications. */
    private static final double EXACT_MM = 1e-9;

    static final Path INCHES = Path.of("src/test/resources/cars/inches.yaml");

    private static Car car;

    @BeforeAll
    static void read() throws CarFileException {
        car = CarFile.read(INCHES);
    }

    @Test
    void headIsRead() {
        assertThat(car.name()).isEqualTo("Test bench no. 1");
        assertThat(car.reference()).contains("body no. TB-0001");
        assertThat(car.inches()).isTrue();
        assertThat(car.about().invented()).isTrue();
        assertThat(car.about().measuredBy()).contains("the test");
        assertThat(car.about().withinMm()).isEqualTo(1.5875, within(EXACT_MM));
    }

    @Test
    void pointsAreAheadLeftAndUpInMillimetres() {
        Car.Point joint = car.point("lf lower ball joint").orElseThrow();
        assertThat(joint.at()).isEqualTo(new Spot(0, 25.625 * 25.4, 8.75 * 25.4));
        assertThat(joint.withinMm()).isEqualTo(3.175, within(EXACT_MM));
        assertThat(joint.note()).contains("centre guessed through the boot");
        assertThat(car.point("peg B").orElseThrow().at().distanceTo(new Spot(914.4, 375.125, 0)))
                .isEqualTo(0, within(EXACT_MM));
    }

    @Test
    void mirrorMakesTheOtherSide() {
        Mechanism right = car.mechanism("front right").orElseThrow();
        Mechanism left = car.mechanism("front left").orElseThrow();
        assertThat(right.bodies()).contains("front right knuckle");
        Mechanism.Joint.Ball ball = (Mechanism.Joint.Ball) right.joints().get(2);
        Mechanism.Joint.Ball other = (Mechanism.Joint.Ball) left.joints().get(2);
        assertThat(ball.at()).isEqualTo(other.at().mirrored());
        assertThat(car.point("rf wheel centre").orElseThrow().mirrorOf()).contains("lf wheel centre");
        assertThat(car.point("rf wheel centre").orElseThrow().at().y()).isEqualTo(-29.125 * 25.4, within(EXACT_MM));
    }

    @Test
    void aMeasuredPointOnTheMirroredSideChecksAndMovesNothing() {
        assertThat(car.mirrorChecks())
                .containsExactly(new Car.MirrorCheck("rf lower ball joint", "lf lower ball joint"));
        assertThat(car.point("rf lower ball joint").orElseThrow().at().y()).isEqualTo(-25.75 * 25.4, within(EXACT_MM));
    }

    @Test
    void steeringIsOneMovementForBothCorners() {
        for (Mechanism mechanism : car.mechanisms()) {
            Mechanism.Driver.Travel steer =
                    (Mechanism.Driver.Travel) mechanism.drivers().get(1);
            assertThat(steer.name()).isEqualTo("steer");
            assertThat(steer.along()).as(mechanism.name()).isEqualTo(Direction.LEFT);
            assertThat(steer.lowest()).isEqualTo(-63.5, within(EXACT_MM));
            assertThat(mechanism.drivers().get(0).name()).isEqualTo(mechanism.name() + " travel");
        }
    }

    @Test
    void aMirroredPartHangsOnTheMirroredBody() {
        Car.Part tyre = car.part("right front tyre").orElseThrow();
        assertThat(tyre.body()).isEqualTo("front right knuckle");
        assertThat(tyre.kinds()).containsExactly("tyre");
        assertThat(car.wheels()).extracting(Car.Wheel::part).containsExactly("left front tyre", "right front tyre");
        assertThat(car.wheels().get(1).spindle()).isEqualTo(Direction.LEFT.reversed());
        assertThat(car.wheels().get(0).nominalDiameterMm()).isEqualTo(381 + 2 * 144.0, within(EXACT_MM));
    }

    @Test
    void aPlateLiesWhereItsCornersAreOnTheCar() {
        Shape.Plate plate = (Shape.Plate) car.part("bracket").orElseThrow().shape();
        assertThat(plate.along()).isEqualTo(Direction.FORWARD.reversed());
        assertThat(plate.up()).isEqualTo(Direction.UP);
        for (int i = 0; i < 3; i++) {
            Flat corner = plate.outline().get(i);
            Spot placed = plate.origin().along(plate.along(), corner.x()).along(plate.up(), corner.y());
            Spot wanted = List.of(
                            new Spot(-50 * 25.4, 8 * 25.4, 254),
                            new Spot(-56 * 25.4, 8 * 25.4, 254),
                            new Spot(-56 * 25.4, 8 * 25.4, 14 * 25.4))
                    .get(i);
            // along x up is (-1,0,0) x (0,0,1) = (0,1,0): the thickness would go left, and is asked to go right.
            assertThat(placed.plus(0, plate.thicknessMm(), 0).distanceTo(wanted))
                    .as("corner %d", i + 1)
                    .isEqualTo(0, within(EXACT_MM));
        }
    }

    @Test
    void measuredDirectionsOfABoxAreSquaredUp() {
        Shape.Box box = (Shape.Box) car.part("battery").orElseThrow().shape();
        assertThat(box.along().dot(box.across())).isEqualTo(0, within(1e-12));
        assertThat(box.lengthMm()).isEqualTo(254, within(EXACT_MM));
    }

    @Test
    void whatMovesBesidesTheMechanisms() {
        Car.Allowance exhaust = car.allowances().get(0);
        assertThat(exhaust.plays())
                .extracting(Car.Allowance.Play::name)
                .containsExactly("sideways", "up and down", "fore and aft", "grows");
        Car.Allowance.Play grows = exhaust.plays().get(3);
        assertThat(grows.along()).isEqualTo(Direction.FORWARD.reversed());
        assertThat(grows.leastMm()).isEqualTo(0);
        assertThat(grows.greatestMm()).isEqualTo(4.7625, within(EXACT_MM));
        assertThat(exhaust.plays().get(0).leastMm()).isEqualTo(-6.35, within(EXACT_MM));
    }

    @Test
    void partsKeepTheOrderOfTheFileAndHosesAreLeftToTheirReader() {
        assertThat(car.parts())
                .extracting(Car.Part::name)
                .containsExactly(
                        "tailpipe",
                        "bracket",
                        "frame rail",
                        "battery",
                        "left front tyre",
                        "right front tyre",
                        "caliper",
                        "inner fender",
                        "drum",
                        "shaft",
                        "pair");
        assertThat(car.part("inner fender").orElseThrow().kinds()).containsExactly("body panel", "liner");
    }

    @Test
    void withoutARuleForAnyPairCommonPracticeIsTaken() throws CarFileException {
        Car bare = CarFile.read("bare.yaml", "daylight: 1\ncar: bare\nunits: mm\n");
        assertThat(bare.rules()).hasSize(1);
        assertThat(bare.rules().get(0).atLeastMm()).isEqualTo(12.7, within(EXACT_MM));
        assertThat(bare.rules().get(0).source()).contains("common practice, no source");
    }

    @Test
    void pointsThatASurveyMovedMoveTheirMechanismsAndParts() throws CarFileException {
        Spot moved = new Spot(1, 660, 230);
        Car other = CarFile.open(INCHES).carWith(Map.of("lf lower ball joint", moved));
        Mechanism.Joint.Ball ball = (Mechanism.Joint.Ball)
                other.mechanism("front left").orElseThrow().joints().get(2);
        assertThat(ball.at()).isEqualTo(moved);
        assertThat(((Mechanism.Joint.Ball) other.mechanism("front right")
                                .orElseThrow()
                                .joints()
                                .get(2))
                        .at())
                .isEqualTo(moved.mirrored());
    }

    @Test
    void aByteOrderMarkAndWindowsLineEndingsAreFine() throws CarFileException, IOException {
        String text = Files.readString(INCHES, StandardCharsets.UTF_8);
        assertThat(CarFile.read("inches.yaml", "\ufeff" + text.replace("\n", "\r\n")))
                .isEqualTo(car);
    }
}
