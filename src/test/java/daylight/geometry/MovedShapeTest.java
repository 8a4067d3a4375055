package daylight.geometry;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.stream.Stream;
import org.joml.Matrix4x3d;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** A shape written down where a pose has taken it is as far from everything as the shape at that pose. */
class MovedShapeTest {
    /** Two ways to one distance: rounding of the coordinates, times a few. */
    private static final double SAME_MM = 1e-9;

    static Stream<Shape> shapes() {
        Spot a = new Spot(100, 20, 300);
        Spot b = new Spot(180, -10, 330);
        Spot c = new Spot(150, 90, 260);
        Spot d = new Spot(120, 40, 390);
        return Stream.of(
                new Shape.Ball(a, 12),
                new Shape.Tube(List.of(a, b, c), 20, 0),
                new Shape.Box(a, Direction.FORWARD, Direction.LEFT, 60, 40, 20),
                new Shape.Plate(
                        a,
                        Direction.FORWARD,
                        Direction.UP,
                        5,
                        List.of(new Flat(0, 0), new Flat(80, 0), new Flat(0, 50)),
                        List.of()),
                new Shape.Turned(a, Direction.LEFT, List.of(new Flat(-20, 0), new Flat(20, 0), new Flat(20, 60)), 0),
                new Shape.Hull(List.of(a, b, c, d), 4),
                new Shape.Mesh(List.of(a, b, c, d), List.of(0, 1, 2, 0, 1, 3, 1, 2, 3, 0, 2, 3)),
                new Shape.Group(List.of(new Shape.Ball(b, 8), new Shape.Ball(c, 9))));
    }

    @ParameterizedTest
    @MethodSource("shapes")
    void movedShapeIsTheShapeAtThePose(Shape shape) {
        Matrix4x3d first = new Matrix4x3d().translate(30, -40, 55).rotateXYZ(0.3, -0.2, 0.9);
        Matrix4x3d second = new Matrix4x3d().translate(-10, 5, 80).rotateXYZ(-0.5, 0.1, 0.4);
        Pose pose = Pose.of(second).after(Pose.of(first));
        Solid other = Solid.of(new Shape.Ball(new Spot(-200, 400, 100), 15));
        Gauge gauge = new Gauge();
        double atPose = gauge.measure(Solid.of(shape), pose.into(new Matrix4x3d()), other, new Matrix4x3d());
        double moved = gauge.measure(Solid.of(shape.movedBy(pose)), new Matrix4x3d(), other, new Matrix4x3d());
        assertThat(moved).as(shape.toString()).isCloseTo(atPose, within(SAME_MM));
        double inTwo = gauge.measure(Solid.of(shape.movedBy(Pose.of(first))), second, other, new Matrix4x3d());
        assertThat(inTwo).as(shape.toString()).isCloseTo(atPose, within(SAME_MM));
    }
}
