package daylight.car;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.geometry.Direction;
import daylight.geometry.Flat;
import daylight.geometry.Shape;
import daylight.geometry.Spot;
import daylight.linkage.Linkage;
import daylight.linkage.Mechanism;
import daylight.linkage.Outcome;
import daylight.survey.MeasuredCar;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class CarFileTest {
    /** Closed form: a few multiplications. */
    private static final double EXACT_MM = 1e-9;

    static final Path INCHES = Path.of("src/test/resources/cars/inches.yaml");

    private static final Path MILLIMETRES = Path.of("src/test/resources/cars/millimetres.yaml");

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
        Car.Rule any = bare.rules().get(0);
        assertThat(any.first() + " and " + any.second()).isEqualTo("any and any");
        assertThat(any.atLeastMm()).isEqualTo(12.7, within(EXACT_MM));
        assertThat(any.list()).contains("common practice");
        assertThat(any.source().orElse("")).endsWith("common practice, no source");
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

    @Test
    void aShockMovesWithTheMechanismThatCarriesIt() throws CarFileException {
        Car mm = CarFile.read(MILLIMETRES);
        Mechanism left = mm.mechanism("front left").orElseThrow();
        assertThat(left.bodies()).contains("left front shock tube", "left front shock rod", "sway bar left half");
        assertThat(mm.mechanism("front right").orElseThrow().bodies())
                .contains("right front shock tube", "sway bar right half", "sway bar right drop link")
                .doesNotContain("sway bar left half");
        assertThat(mm.mechanisms())
                .extracting(Mechanism::name)
                .containsExactly("front left", "front right", "rear", "hood", "trunk");
        assertThat(mm.mechanism("front right").orElseThrow().followers())
                .contains(new Mechanism.Follower.Aim(
                        "right front shock rod",
                        "chassis",
                        new Spot(10, -420, 620),
                        "front right lower arm",
                        new Spot(0, -520, 240)));
        assertThat(mm.part("right front shock tube").orElseThrow().body()).isEqualTo("right front shock tube");
    }

    @Test
    void everyMechanismOfTheSampleCanBeSolved() throws CarFileException {
        for (Mechanism mechanism : CarFile.read(MILLIMETRES).mechanisms()) {
            Linkage linkage = Linkage.of(mechanism);
            double[] values = new double[mechanism.drivers().size()];
            for (int i = 0; i < values.length; i++) {
                values[i] = mechanism.drivers().get(i).highest() / 2;
            }
            assertThat(linkage.solve(values)).as(mechanism.name()).isInstanceOf(Outcome.Solved.class);
        }
    }

    @Test
    void aPanelWithoutAGasStrutHasNoneAndOpensByAnAngle() throws CarFileException {
        Car mm = CarFile.read(MILLIMETRES);
        Mechanism hood = mm.mechanism("hood").orElseThrow();
        assertThat(hood.bodies()).containsExactly("hood panel");
        assertThat(hood.drivers().get(0).highest()).isEqualTo(Math.toRadians(62.5), within(1e-12));
        assertThat(mm.mechanism("trunk").orElseThrow().bodies())
                .containsExactly("trunk panel", "trunk strut tube", "trunk strut rod");
    }

    @Test
    void meshesAreReadBesideTheCarFile() throws CarFileException {
        Car mm = CarFile.read(MILLIMETRES);
        Shape.Mesh liner = (Shape.Mesh) mm.part("liner").orElseThrow().shape();
        assertThat(liner.corners()).hasSize(4).contains(new Spot(0, 20 * 25.4, 25 * 25.4));
        assertThat(liner.triangles()).containsExactly(0, 1, 2, 0, 2, 3, 0, 2, 3);
        Shape.Mesh guard = (Shape.Mesh) mm.part("guard").orElseThrow().shape();
        assertThat(guard.corners()).hasSize(4);
        assertThat(guard.triangles()).containsExactly(0, 1, 2, 1, 3, 2);
    }

    @Test
    void aBinaryMeshSaysTheSameAsItsText(@TempDir Path folder) throws IOException, CarFileException {
        // Two triangles that share an edge; the head may begin with the word of a text file.
        ByteBuffer bytes = ByteBuffer.allocate(84 + 2 * 50).order(ByteOrder.LITTLE_ENDIAN);
        bytes.put("solid but binary".getBytes(StandardCharsets.US_ASCII)).position(80);
        bytes.putInt(2);
        float[][] corners = {{0, 0, 0}, {100, 0, 0}, {0, 100, 0}, {100, 0, 0}, {100, 100, 0}, {0, 100, 0}};
        for (int i = 0; i < corners.length; i++) {
            if (i % 3 == 0) {
                bytes.putFloat(0).putFloat(0).putFloat(1);
            }
            bytes.putFloat(corners[i][0]).putFloat(corners[i][1]).putFloat(corners[i][2]);
            if (i % 3 == 2) {
                bytes.putShort((short) 0);
            }
        }
        Files.write(folder.resolve("guard.STL"), bytes.array());
        Path file = Files.writeString(
                folder.resolve("car.yaml"),
                "daylight: 1\ncar: mesh\nunits: mm\nparts:\n  guard: {on: chassis, mesh: guard.STL, unit: mm}\n");
        assertThat(CarFile.read(file).part("guard").orElseThrow().shape())
                .isEqualTo(CarFile.read(MILLIMETRES).part("guard").orElseThrow().shape());
    }

    @Test
    void theMirrorImageOfAMirrorImageIsTheShapeItself() {
        for (Car.Part part : car.parts()) {
            Shape twice = Sides.mirrored(Sides.mirrored(part.shape()));
            if (part.shape() instanceof Shape.Plate plate) {
                Shape.Plate other = (Shape.Plate) twice;
                assertThat(other.origin().distanceTo(plate.origin())).isEqualTo(0, within(EXACT_MM));
                assertThat(other.along()).isEqualTo(plate.along());
            } else {
                assertThat(twice).as(part.name()).isEqualTo(part.shape());
            }
        }
        assertThat(Sides.otherName("lf Left LR shock, left-hand")).isEqualTo("rf Right RR shock, right-hand");
        assertThat(Sides.otherName("leftover bracket")).isEqualTo("leftover bracket");
    }

    @Test
    void aMirroredPartOnATwoSidedMechanismGoesToItsOtherSide() throws IOException, CarFileException {
        String pickup = Files.readString(Path.of("demo", "harbour-pickup.yaml"));
        String shorter = pickup.replace(
                "right shackle: {mirror: left shackle, on: rear right shackle}",
                "right shackle: {mirror: left shackle}");
        assertThat(shorter).isNotEqualTo(pickup);
        Car read = MeasuredCar.of(CarDocument.of("pickup.yaml", shorter)).car();
        assertThat(read.part("left shackle").orElseThrow().body()).isEqualTo("rear left shackle");
        assertThat(read.part("right shackle").orElseThrow().body()).isEqualTo("rear right shackle");
    }
}
