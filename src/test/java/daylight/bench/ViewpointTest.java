package daylight.bench;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.geometry.Direction;
import daylight.geometry.Pose;
import daylight.geometry.Spot;
import java.util.List;
import javafx.geometry.Point3D;
import javafx.scene.transform.Affine;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

class ViewpointTest {
    /** Closed forms in doubles: far above rounding, far below a pixel or a micrometre. */
    private static final double EXACT = 1e-9;

    private static final double WIDTH = 800;
    private static final double HEIGHT = 500;
    private static final Viewpoint FAR = new Viewpoint(Spot.ORIGIN, 0, 0, 5000, Viewpoint.FREE_FIELD);

    @Test
    void forwardGoesAwayLeftToTheLeftAndUpUp() {
        Affine scene = CarAxes.toScene();
        assertThat(scene.transform(1, 0, 0)).as("forward").isEqualTo(new Point3D(0, 0, 1));
        assertThat(scene.transform(0, 1, 0)).as("left").isEqualTo(new Point3D(-1, 0, 0));
        assertThat(scene.transform(0, 0, 1)).as("up").isEqualTo(new Point3D(0, -1, 0));
        assertThat(scene.determinant()).as("no mirror").isEqualTo(1);
    }

    @Test
    void aPoseMovesASpotAsItsTransformDoes() {
        Pose pose = new Pose(0, -1, 0, 1, 0, 0, 0, 0, 1, 10, 20, 30);
        Affine affine = new Affine();
        CarAxes.set(affine, pose, 0, 0, 0);
        Spot spot = new Spot(3, 5, 7);
        Spot there = pose.apply(spot);
        assertThat(affine.transform(3, 5, 7)).isEqualTo(new Point3D(there.x(), there.y(), there.z()));
    }

    @Test
    void theTargetIsInTheMiddleOfThePicture() {
        Viewpoint.Seen seen = FAR.orbited(0.7, 0.4).see(Spot.ORIGIN, WIDTH, HEIGHT);
        assertThat(seen.x()).isCloseTo(WIDTH / 2, within(EXACT));
        assertThat(seen.y()).isCloseTo(HEIGHT / 2, within(EXACT));
        assertThat(seen.depthMm()).isCloseTo(5000, within(EXACT));
    }

    @ParameterizedTest
    @EnumSource(Look.class)
    void upOnTheCarIsUpInThePictureUnlessSeenFromAboveOrBelow(Look look) {
        Viewpoint view = look.turn(FAR);
        double upwards = view.down().dot(Direction.UP);
        if (look == Look.ABOVE || look == Look.BELOW) {
            assertThat(view.right().dot(Direction.FORWARD))
                    .as("the front is at the right")
                    .isCloseTo(1, within(EXACT));
        } else {
            assertThat(upwards).isLessThan(-0.9);
        }
        assertThat(view.right().dot(view.down())).isCloseTo(0, within(EXACT));
        assertThat(view.right().dot(view.forward())).isCloseTo(0, within(EXACT));
        assertThat(view.down().dot(view.forward())).isCloseTo(0, within(EXACT));
    }

    @Test
    void theLeftViewHasTheFrontAtTheLeft() {
        Viewpoint.Seen front = Look.LEFT.turn(FAR).see(new Spot(500, 0, 0), WIDTH, HEIGHT);
        assertThat(front.x()).isLessThan(WIDTH / 2);
        Viewpoint.Seen left = Look.FRONT.turn(FAR).see(new Spot(0, 500, 0), WIDTH, HEIGHT);
        assertThat(left.x()).as("from the front the car's left is at the right").isGreaterThan(WIDTH / 2);
    }

    @Test
    void thePictureFollowsThePush() {
        Spot spot = new Spot(100, -200, 300);
        Viewpoint view = FAR.orbited(0.3, 0.2);
        Viewpoint pushed = view.panned(40, -25, HEIGHT);
        Viewpoint.Seen before = view.see(view.target(), WIDTH, HEIGHT);
        Viewpoint.Seen after = pushed.see(view.target(), WIDTH, HEIGHT);
        assertThat(after.x() - before.x()).isCloseTo(40, within(1e-6));
        assertThat(after.y() - before.y()).isCloseTo(-25, within(1e-6));
        assertThat(pushed.see(spot, WIDTH, HEIGHT).x())
                .isGreaterThan(view.see(spot, WIDTH, HEIGHT).x());
    }

    @ParameterizedTest
    @EnumSource(Look.class)
    void everySideFramesTheWholeCar(Look look) {
        List<Spot> corners = List.of(
                new Spot(800, 900, 0),
                new Spot(800, -900, 0),
                new Spot(-3900, 900, 0),
                new Spot(-3900, -900, 0),
                new Spot(800, 900, 1400),
                new Spot(-3900, -900, 1400));
        Viewpoint view = look.turn(FAR).framing(corners, WIDTH / HEIGHT);
        double nearestEdge = Double.POSITIVE_INFINITY;
        for (Spot corner : corners) {
            Viewpoint.Seen seen = view.see(corner, WIDTH, HEIGHT);
            double edge = Math.min(Math.min(seen.x(), WIDTH - seen.x()), Math.min(seen.y(), HEIGHT - seen.y()));
            nearestEdge = Math.min(nearestEdge, edge);
        }
        assertThat(nearestEdge)
                .as("inside the picture, and as large as it can be")
                .isBetween(5.0, 60.0);
    }

    @Test
    void anotherFieldKeepsTheScaleAtTheTarget() {
        Viewpoint narrow = FAR.withField(Viewpoint.SQUARE_FIELD);
        assertThat(narrow.pixelsPerMm(HEIGHT)).isCloseTo(FAR.pixelsPerMm(HEIGHT), within(EXACT));
    }

    @Test
    void aGapIsLookedAtAcrossAndFromOutside() {
        for (Direction normal : List.of(Direction.UP, Direction.LEFT, Direction.FORWARD, Direction.of(1, 1, 1))) {
            Spot spot = new Spot(0, 700, 400);
            Spot car = new Spot(-1500, 0, 400);
            Viewpoint view = Viewpoint.ofGap(spot, normal, car, 300);
            assertThat(Math.abs(view.forward().dot(normal)))
                    .as("across %s", normal)
                    .isLessThan(0.6);
            assertThat(view.eye().distanceTo(car)).as("from outside").isGreaterThan(spot.distanceTo(car));
        }
    }
}
