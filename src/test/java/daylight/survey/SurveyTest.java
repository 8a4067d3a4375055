package daylight.survey;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import daylight.geometry.Direction;
import daylight.geometry.Spot;
import daylight.survey.Network.Graduation;
import daylight.survey.ReadingResult.Standing;
import daylight.units.Progress;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;

class SurveyTest {
    /** What the solver's own stop leaves, with room: 1e-7 standard uncertainties of a millimetre or so. */
    private static final double EXACT_MM = 1e-5;

    private static final double U = 0.5;
    private static final double INCH = 25.4;

    private static final Spot[] CORNERS = {
        new Spot(0, 0, 0), new Spot(1200, 100, 0), new Spot(150, 1100, 50), new Spot(1000, 900, 700)
    };

    @Test
    void exactReadingsGiveThePointsBackWithoutAnyGuess() {
        SplittableRandom random = new SplittableRandom(4);
        for (int round = 0; round < 100; round++) {
            Spot hidden = new Spot(
                    1500 * random.nextDouble() - 200, 1500 * random.nextDouble() - 200, 1200 * random.nextDouble());
            Adjustment adjustment = adjust(
                    new Builder().corners().sought("p").tapes("p", hidden).network());
            assertThat(adjustment.points().spot("p").distanceTo(hidden))
                    .as("round %d, hidden %s", round, hidden)
                    .isLessThan(EXACT_MM);
            assertThat(adjustment.allFixed()).as("round %d", round).isTrue();
            assertThat(adjustment.suspects()).isEmpty();
        }
    }

    @Test
    void chainsOfTapeOnlyPointsConvergeWithoutGuesses() {
        // Each point hangs on points that were found before it; nothing but distances and four known corners.
        SplittableRandom random = new SplittableRandom(11);
        for (int round = 0; round < 40; round++) {
            Builder builder = new Builder().corners();
            List<Spot> truth = new ArrayList<>(List.of(CORNERS));
            List<String> names = new ArrayList<>(List.of("c0", "c1", "c2", "c3"));
            for (int k = 0; k < 10; k++) {
                Spot at = new Spot(1500 * random.nextDouble(), 1500 * random.nextDouble(), 900 * random.nextDouble());
                String name = "p" + k;
                builder.sought(name);
                for (int t = 0; t < 5; t++) {
                    int other = Math.floorMod(names.size() - 1 - t * (1 + round % 2), names.size());
                    builder.distance(name, names.get(other), at.distanceTo(truth.get(other)), "t" + t);
                }
                truth.add(at);
                names.add(name);
            }
            Adjustment adjustment = adjust(builder.network());
            assertThat(adjustment.chiSquare()).as("round %d", round).isLessThan(1e-3);
            for (int p = 4; p < truth.size(); p++) {
                if (adjustment.mirrorChoices().isEmpty()) {
                    assertThat(adjustment.points().spot(names.get(p)).distanceTo(truth.get(p)))
                            .as("round %d, %s", round, names.get(p))
                            .isLessThan(0.5);
                }
            }
        }
    }

    @Test
    void aGuessOnTheWrongSideIsOverruledByTheReadings() {
        Spot hidden = new Spot(600, 500, 400);
        Builder builder = new Builder().corners();
        builder.points.add(new SurveyPoint.Sought("p", Optional.of(new Spot(600, 500, -500))));
        Adjustment adjustment = adjust(builder.tapes("p", hidden).network());
        assertThat(adjustment.points().spot("p").distanceTo(hidden)).isLessThan(EXACT_MM);
    }

    @Test
    void aGuessDecidesBetweenMirrorImages() {
        Spot hidden = new Spot(500, 400, -300);
        for (double z : new double[] {-200, 200}) {
            Builder builder = new Builder();
            builder.known("a", new Spot(0, 0, 0))
                    .known("b", new Spot(1000, 0, 0))
                    .known("c", new Spot(0, 1000, 0));
            builder.points.add(new SurveyPoint.Sought("p", Optional.of(new Spot(450, 450, z))));
            builder.distance("p", "a", hidden.distanceTo(new Spot(0, 0, 0)), "1");
            builder.distance("p", "b", hidden.distanceTo(new Spot(1000, 0, 0)), "2");
            builder.distance("p", "c", hidden.distanceTo(new Spot(0, 1000, 0)), "3");
            Adjustment adjustment = adjust(builder.network());
            assertThat(adjustment.points().spot("p").z()).isCloseTo(Math.copySign(300, z), within(EXACT_MM));
            assertThat(adjustment.mirrorChoices()).isEmpty();
        }
    }

    @Test
    void withoutAGuessBothMirrorImagesAreGivenAndTheOneAboveTheFloorIsTaken() {
        Spot hidden = new Spot(500, 400, 300);
        Builder builder = new Builder();
        builder.known("a", new Spot(0, 0, 0)).known("b", new Spot(1000, 0, 0)).known("c", new Spot(0, 1000, 0));
        builder.sought("p");
        builder.distance("p", "a", hidden.distanceTo(new Spot(0, 0, 0)), "1");
        builder.distance("p", "b", hidden.distanceTo(new Spot(1000, 0, 0)), "2");
        builder.distance("p", "c", hidden.distanceTo(new Spot(0, 1000, 0)), "3");
        Adjustment adjustment = adjust(builder.network());
        assertThat(adjustment.points().spot("p").z()).isCloseTo(300, within(EXACT_MM));
        assertThat(adjustment.mirrorChoices()).hasSize(1);
        assertThat(adjustment.mirrorChoices().get(0).other().z()).isCloseTo(-300, within(0.5));
        assertThat(adjustment.allFixed()).isFalse();
    }

    @Test
    void aCarThatHangsOnTheAxesByAThreadMayBeTurnedOverAsAWhole() {
        // Every distance, heights of three, and just enough offsets: the whole fits mirrored in x as well.
        Network network = hangingByAThread(Optional.empty());
        Adjustment adjustment = adjust(network);
        assertThat(adjustment.unfixed()).isEmpty();
        assertThat(adjustment.floating()).isEmpty();
        assertThat(adjustment.mirrorChoices().size()).isGreaterThanOrEqualTo(4);
        assertThat(adjustment.allFixed()).isFalse();
        for (MirrorChoice choice : adjustment.mirrorChoices()) {
            double fromPlane = choice.taken().x() - TETRA[0].x();
            assertThat(choice.other().x() - TETRA[0].x()).isCloseTo(-fromPlane, within(EXACT_MM));
        }
        // One rough guess decides it, whichever side the solver came upon first.
        for (double x : new double[] {700, -700}) {
            Adjustment decided = adjust(hangingByAThread(Optional.of(new Spot(x, 600, 500))));
            assertThat(decided.mirrorChoices()).isEmpty();
            assertThat(decided.points().spot("e").x()).isCloseTo(Math.copySign(TETRA[4].x(), x), within(EXACT_MM));
        }
    }

    private static Network hangingByAThread(Optional<Spot> guess) {
        Network all = tetrahedron(0, false);
        List<SurveyPoint> points = new ArrayList<>(all.points());
        points.set(4, new SurveyPoint.Sought("e", guess));
        List<Observation> readings = new ArrayList<>(all.observations());
        String[] names = {"a", "b", "c", "d", "e"};
        for (int k = 0; k < 5; k++) {
            readings.add(new Observation.Height("height " + names[k], names[k], TETRA[k].z(), U));
        }
        readings.add(new Observation.Coordinate("a ahead", "a", Axis.FORWARD, 0, TETRA[0].x(), U));
        readings.add(new Observation.Coordinate("a left", "a", Axis.LEFT, 0, TETRA[0].y(), U));
        readings.add(new Observation.Coordinate("b left", "b", Axis.LEFT, 0, TETRA[1].y(), U));
        return new Network(points, readings, Graduation.INCHES);
    }

    @Test
    void aMirrorMakesTheOtherSide() {
        Spot left = new Spot(600, 500, 400);
        Builder builder =
                new Builder().corners().sought("left").tapes("left", left).sought("right");
        builder.readings.add(new Observation.Mirror("mirror", "left", "right", 3));
        Adjustment adjustment = adjust(builder.network());
        assertThat(adjustment.points().spot("right").distanceTo(left.mirrored()))
                .isLessThan(EXACT_MM);
        assertThat(adjustment.points().standardUncertaintyMm("right", Axis.UP)).isGreaterThan(3);
        assertThat(standing(adjustment, "mirror")).containsOnly(Standing.UNCHECKED);
    }

    @Test
    void aPointOnTwoTapesIsFreeToSwingAndTheHeightFixesIt() {
        Builder builder = new Builder();
        builder.known("a", new Spot(0, 0, 0)).known("b", new Spot(1000, 0, 0));
        builder.points.add(new SurveyPoint.Sought("p", Optional.of(new Spot(600, 300, 400))));
        builder.distance("p", "a", 800, "1").distance("p", "b", 700, "2");
        Adjustment adjustment = adjust(builder.network());
        assertThat(adjustment.rankDefect()).isEqualTo(1);
        assertThat(adjustment.unfixed()).hasSize(1);
        Unfixed unfixed = adjustment.unfixed().get(0);
        assertThat(unfixed.point()).isEqualTo("p");
        // It swings about the line from a to b.
        Spot at = adjustment.points().spot("p");
        Direction swing = Direction.of(0, at.z(), -at.y());
        assertThat(Math.abs(unfixed.along().get(0).dot(swing))).isCloseTo(1, within(1e-6));
        double[] alongSwing = {0, 0, 0, 0, 0, 0, 0, swing.y(), swing.z()};
        assertThat(adjustment.points().standardUncertainty(alongSwing))
                .isCloseTo(SurveyedPoints.LOOSE_MM, within(1e-3));
        SurveyReport report = SurveyReport.of(adjustment, Candidates.all(adjustment, Garage.DEFAULTS, 3000), 1);
        SurveyReport.PointLine line = report.points().get(2);
        assertThat(Double.isInfinite(line.left95Mm()) || Double.isInfinite(line.up95Mm()))
                .isTrue();
        assertThat(line.forward95Mm()).isLessThan(3);
        NextReading next = report.toFix().get(0);
        assertThat(next.gains()).isEqualTo("p");
        assertThat(next.after()).isLessThan(next.before() / 100);
        // Taking the advice fixes the point.
        Observation advice = next.candidate();
        Adjustment fixed = adjust(builder.network().with(advice));
        assertThat(fixed.unfixed()).isEmpty();
        double loosest = 0;
        for (Axis axis : Axis.values()) {
            loosest = Math.max(loosest, fixed.points().halfWidth95Mm("p", axis));
        }
        assertThat(loosest).isCloseTo(next.after(), within(1e-6 * next.after()));
    }

    @Test
    void onlyDistancesLeaveTheWholeFloating() {
        Network network = tetrahedron(0, false);
        Adjustment inAxes = adjust(network);
        assertThat(inAxes.rankDefect()).isEqualTo(6);
        assertThat(inAxes.unfixed()).isEmpty();
        assertThat(inAxes.floating()).hasSize(6).contains("fore and aft", "turning about the vertical");
        assertThat(inAxes.allFixed()).isFalse();
        Adjustment free = Survey.of(network).adjust(Survey.Datum.FREE, Progress.SILENT);
        assertThat(free.allFixed()).isTrue();
        assertThat(free.degreesOfFreedom()).isEqualTo(10 - 15 + 6);
        for (Axis axis : Axis.values()) {
            assertThat(free.points().standardUncertaintyMm("e", axis)).isLessThan(2 * U);
        }
        // A distance is the same, with the same doubt, whatever holds the axes.
        assertThat(distanceU(free, "a", "e")).isCloseTo(distanceU(inAxes, "a", "e"), within(1e-4));
        assertThat(free.points().spot("a").distanceTo(free.points().spot("e")))
                .isCloseTo(TETRA[0].distanceTo(TETRA[4]), within(EXACT_MM));
        // With six coordinates held the doubt of the distance stays as it is: the shape is the same.
        Adjustment held = adjust(tetrahedron(0, true));
        assertThat(held.floating()).isEmpty();
        assertThat(distanceU(held, "a", "e")).isCloseTo(distanceU(free, "a", "e"), within(1e-4));
    }

    @Test
    void theFreeDatumGivesTheLeastSumOfVariances() {
        Network network = tetrahedron(0, false);
        Adjustment free = Survey.of(network).adjust(Survey.Datum.FREE, Progress.SILENT);
        Adjustment held = adjust(tetrahedron(0, true));
        assertThat(trace(free)).isLessThan(trace(held));
    }

    @Test
    void twoBlundersAtOnceAreBothNamed() {
        int named = 0;
        int rounds = 40;
        for (int k = 0; k < rounds; k++) {
            Garage garage = new Garage(900 + k, 14);
            String first = garage.plant();
            String second = garage.plant();
            Adjustment adjustment = Survey.of(garage.network()).adjust(Survey.Datum.CAR_AXES, Progress.SILENT);
            List<String> suspects =
                    adjustment.suspects().stream().map(s -> s.first().reading()).toList();
            named += suspects.contains(first) && suspects.contains(second) && suspects.size() <= 2 ? 1 : 0;
        }
        assertThat(named).isGreaterThanOrEqualTo((int) (0.9 * rounds));
    }

    @Test
    void aBlunderDoesNotSpoilTheRest() {
        Spot hidden = new Spot(600, 500, 400);
        Builder builder = new Builder().corners().sought("p").tapes("p", hidden);
        builder.known("d", new Spot(-300, 800, 300));
        builder.distance("p", "d", hidden.distanceTo(new Spot(-300, 800, 300)) + 12 * INCH, "slipped");
        builder.readings.add(new Observation.Height("height", "p", 400, U));
        Adjustment adjustment = adjust(builder.network());
        assertThat(adjustment.points().spot("p").distanceTo(hidden)).isLessThan(EXACT_MM);
        Suspect suspect = adjustment.suspects().get(0);
        assertThat(suspect.first().reading()).isEqualTo("p to d slipped");
        assertThat(suspect.first().slips()).containsExactly(new Slip.WholeFeet(1));
        assertThat(suspect.first().error()).isCloseTo(12 * INCH, within(EXACT_MM));
        assertThat(suspect.first().probablyTrue())
                .isCloseTo(hidden.distanceTo(new Spot(-300, 800, 300)), within(EXACT_MM));
        assertThat(suspect.pointsInDoubt()).isEmpty();
        assertThat(adjustment.doubtScale()).isEqualTo(1);
    }

    @Test
    void twoReadingsThatContradictEachOtherAloneAreBothAccused() {
        Builder builder = new Builder().known("o", Spot.ORIGIN).sought("p");
        builder.readings.add(new Observation.Height("height", "p", 400, U));
        builder.readings.add(new Observation.Coordinate("left", "p", Axis.LEFT, 0, 500, U));
        builder.readings.add(new Observation.Coordinate("ahead", "p", Axis.FORWARD, 0, 300, U));
        builder.readings.add(new Observation.Coordinate("ahead again", "p", Axis.FORWARD, 0, 317, U));
        Adjustment adjustment = adjust(builder.network());
        assertThat(adjustment.suspects()).hasSize(1);
        assertThat(adjustment.suspects().get(0).accused())
                .extracting(Suspect.Accused::reading)
                .containsExactlyInAnyOrder("ahead", "ahead again");
        assertThat(adjustment.suspects().get(0).pointsInDoubt()).containsExactly("p");
        assertThat(standing(adjustment, "height")).containsExactly(Standing.UNCHECKED);
    }

    @Test
    void leftAndRightSwappedIsSeen() {
        Spot hidden = new Spot(600, 500, 400);
        Builder builder = new Builder().corners().sought("p").tapes("p", hidden);
        builder.readings.add(new Observation.Coordinate("left", "p", Axis.LEFT, 0, -500, U));
        Suspect suspect = adjust(builder.network()).suspects().get(0);
        assertThat(suspect.first().reading()).isEqualTo("left");
        assertThat(suspect.first().slips()).contains(new Slip.OtherSide("left and right"));
        assertThat(suspect.first().probablyTrue()).isEqualTo(500);
    }

    @Test
    void aTapeToTheWrongPointIsSeen() {
        Spot p = new Spot(600, 500, 400);
        Spot q = new Spot(300, 700, 200);
        Builder builder = new Builder().corners();
        builder.sought("p").tapes("p", p).sought("q").tapes("q", q);
        builder.readings.add(new Observation.Height("height of p", "p", 400, U));
        builder.readings.add(new Observation.Coordinate("left of p", "p", Axis.LEFT, 0, 700, U));
        Suspect suspect = adjust(builder.network()).suspects().get(0);
        assertThat(suspect.first().reading()).isEqualTo("left of p");
        assertThat(suspect.first().slips()).contains(new Slip.OtherPoint("p", "q"));
    }

    @Test
    void twoReadingsExchangedAreSeen() {
        Spot p = new Spot(600, 500, 400);
        Builder builder = new Builder().corners().sought("p").tapes("p", p);
        builder.readings.add(new Observation.Height("height", "p", 400, U));
        builder.readings.add(new Observation.Coordinate("ahead", "p", Axis.FORWARD, 0, 500, U));
        builder.readings.add(new Observation.Coordinate("left", "p", Axis.LEFT, 0, 600, U));
        Adjustment adjustment = adjust(builder.network());
        assertThat(adjustment.suspects()).hasSize(2);
        assertThat(adjustment.suspects().get(0).first().slips()).hasAtLeastOneElementOfType(Slip.Exchanged.class);
    }

    @Test
    void rimPointsGiveCentreAxisAndRadius() {
        Spot centre = new Spot(100, 700, 300);
        Direction axis = Direction.of(0.02, 1, -0.03);
        double radius = 190;
        Direction across = Direction.of(1, -0.02, 0);
        Builder builder = new Builder();
        List<String> names = new ArrayList<>();
        for (int k = 0; k < 5; k++) {
            double angle = 2 * Math.PI * k / 5 + 0.3;
            // A second direction in the plane: axis cross across.
            Direction up = Direction.of(
                    axis.y() * across.z() - axis.z() * across.y(),
                    axis.z() * across.x() - axis.x() * across.z(),
                    axis.x() * across.y() - axis.y() * across.x());
            Spot at = centre.along(across, radius * Math.cos(angle)).along(up, radius * Math.sin(angle));
            names.add("rim " + k);
            builder.sought("rim " + k);
            for (Axis a : Axis.values()) {
                builder.readings.add(new Observation.Coordinate("rim " + k + " " + a, "rim " + k, a, 0, a.of(at), U));
            }
        }
        builder.points.add(new SurveyPoint.Sought("hub", Optional.of(centre.plus(30, -20, 10))));
        builder.points.add(new SurveyPoint.Sought("axis", Optional.of(centre.plus(0, 150, 0))));
        builder.readings.add(new Observation.WheelRim("wheel", "hub", "axis", names, 0.3));
        Adjustment adjustment = adjust(builder.network());
        assertThat(adjustment.allFixed()).isTrue();
        // The pieces of up and across are at right angles to 1e-3 only as typed; the fit is exact all the same.
        Spot hub = adjustment.points().spot("hub");
        Spot end = adjustment.points().spot("axis");
        assertThat(hub.distanceTo(centre)).isLessThan(EXACT_MM);
        assertThat(hub.distanceTo(end)).isCloseTo(radius, within(EXACT_MM));
        assertThat(Direction.from(hub, end).dot(axis)).isCloseTo(1, within(1e-9));
    }

    @Test
    void twoOppositeRimPointsAndOneAngleGiveCentreAndAxis() {
        Spot front = new Spot(390, 702, 310);
        Spot rear = new Spot(10, 698, 312);
        Spot centre = new Spot(200, 700, 311);
        Builder builder = new Builder().sought("front").sought("rear").sought("hub");
        builder.points.add(new SurveyPoint.Sought("axis", Optional.of(new Spot(200, 890, 311))));
        for (Axis a : Axis.values()) {
            builder.readings.add(new Observation.Coordinate("front " + a, "front", a, 0, a.of(front), U));
            builder.readings.add(new Observation.Coordinate("rear " + a, "rear", a, 0, a.of(rear), U));
        }
        builder.readings.add(new Observation.Midpoint("halfway", "hub", "front", "rear", 0.3));
        builder.readings.add(new Observation.WheelRim("wheel", "hub", "axis", List.of("front", "rear"), 0.3));
        // Camber of 1 degree: the outward axis points down by as much.
        builder.readings.add(new Observation.LevelAngle("camber", "hub", "axis", -Math.toRadians(1), 1e-3));
        Adjustment adjustment = adjust(builder.network());
        assertThat(adjustment.allFixed()).isTrue();
        Spot hub = adjustment.points().spot("hub");
        Direction axis = Direction.from(hub, adjustment.points().spot("axis"));
        assertThat(hub.distanceTo(centre)).isLessThan(EXACT_MM);
        assertThat(axis.z()).isCloseTo(-Math.sin(Math.toRadians(1)), within(1e-7));
        assertThat(axis.dot(Direction.from(rear, front))).isCloseTo(0, within(1e-7));
    }

    @Test
    void aMeasuredGapIsOneMoreReading() {
        Builder builder = new Builder().corners().sought("p").tapes("p", new Spot(600, 500, 400));
        Adjustment before = adjust(builder.network());
        builder.readings.add(
                new Observation.MeasuredGap("feeler", List.of("p"), Formulas.coordinate(Axis.UP, 390), 10, 0.05));
        Adjustment after = adjust(builder.network());
        assertThat(after.points().standardUncertaintyMm("p", Axis.UP))
                .isLessThan(0.05)
                .isLessThan(before.points().standardUncertaintyMm("p", Axis.UP));
    }

    @Test
    void redundancyNumbersAddUpToTheFreedom() {
        Garage garage = new Garage(5, 12);
        Adjustment adjustment = Survey.of(garage.network()).adjust(Survey.Datum.CAR_AXES, Progress.SILENT);
        double sum = adjustment.readings().stream()
                .mapToDouble(ReadingResult::redundancy)
                .sum();
        double sought = garage.points.stream()
                .filter(SurveyPoint.Sought.class::isInstance)
                .count();
        assertThat(sum).isCloseTo(adjustment.readings().size() - 3 * sought, within(1e-6));
    }

    @Test
    void residualsAreAtRightAnglesToEveryMoveOfThePoints() {
        // The stationary point of the sum of squares, by finite differences of the sum itself.
        Garage garage = new Garage(6, 10);
        Adjustment adjustment = Survey.of(garage.network()).adjust(Survey.Datum.CAR_AXES, Progress.SILENT);
        Readings readings = new Readings(garage.network());
        Fit fit = new Fit(readings);
        double[] x = new double[readings.unknowns];
        for (int s = 0; s < readings.soughtPoint.length; s++) {
            Spot at = adjustment.points().spot(readings.names[readings.soughtPoint[s]]);
            x[3 * s] = at.x();
            x[3 * s + 1] = at.y();
            x[3 * s + 2] = at.z();
        }
        assertThat(fit.sum(x)).isCloseTo(adjustment.chiSquare(), within(1e-9));
        for (int j = 0; j < x.length; j++) {
            double at = x[j];
            x[j] = at + 0.01;
            double above = fit.sum(x);
            x[j] = at - 0.01;
            double below = fit.sum(x);
            x[j] = at;
            assertThat((above - below) / 0.02).as("unknown %d", j).isCloseTo(0, within(1e-3));
        }
    }

    @Test
    void turningTheCarRoundTurnsTheOutcome() {
        // A rigid turn of points and axes changes nothing but the axes: distances only, held by one known triangle.
        Builder straight = new Builder().corners().sought("p").tapes("p", new Spot(600, 500, 400));
        Builder turned = new Builder();
        for (int k = 0; k < 4; k++) {
            Spot c = CORNERS[k];
            turned.known("c" + k, new Spot(-c.y(), c.x(), c.z()));
        }
        turned.sought("p");
        turned.readings.addAll(straight.readings);
        Adjustment a = adjust(straight.network());
        Adjustment b = adjust(turned.network());
        Spot p = a.points().spot("p");
        assertThat(b.points().spot("p").distanceTo(new Spot(-p.y(), p.x(), p.z())))
                .isLessThan(EXACT_MM);
        assertThat(b.points().standardUncertaintyMm("p", Axis.LEFT))
                .isCloseTo(a.points().standardUncertaintyMm("p", Axis.FORWARD), within(1e-6));
    }

    @Test
    void uncertaintiesThatAreTooSmallAreMadeUpFor() {
        SplittableRandom random = new SplittableRandom(3);
        Builder builder = new Builder().corners().sought("p");
        Spot hidden = new Spot(600, 500, 400);
        for (int k = 0; k < 30; k++) {
            for (Axis axis : Axis.values()) {
                double off = 2 * U * (random.nextDouble() + random.nextDouble() + random.nextDouble() - 1.5) * 2;
                builder.readings.add(
                        new Observation.Coordinate(axis + " " + k, "p", axis, 0, axis.of(hidden) + off, U));
            }
        }
        Adjustment adjustment = adjust(builder.network());
        assertThat(adjustment.suspects().size()).isLessThan(10);
        assertThat(adjustment.doubtScale()).isBetween(1.4, 2.5);
    }

    @Test
    void sameReadingsSameOutcome() {
        Garage garage = new Garage(8, 12);
        garage.plant();
        Adjustment a = Survey.of(garage.network()).adjust(Survey.Datum.CAR_AXES, Progress.SILENT);
        Adjustment b = Survey.of(garage.network()).adjust(Survey.Datum.CAR_AXES, Progress.SILENT);
        assertThat(a.points().coordinates()).isEqualTo(b.points().coordinates());
        assertThat(a.suspects()).isEqualTo(b.suspects());
        assertThat(a.readings()).isEqualTo(b.readings());
    }

    @Test
    void aCleanNetworkIsSettledInFewIterations() {
        Adjustment adjustment = Survey.of(new Garage(9, 30).network()).adjust(Survey.Datum.CAR_AXES, Progress.SILENT);
        assertThat(adjustment.starts()).isEqualTo(1);
        assertThat(adjustment.iterations()).isLessThanOrEqualTo(6);
        assertThat(adjustment.ending()).isEqualTo(Ending.CONVERGED);
    }

    @Test
    void aCancelledAdjustmentSaysSo() {
        Progress cancelled = new Progress() {
            @Override
            public void at(double fraction, String message) {}

            @Override
            public boolean cancelled() {
                return true;
            }
        };
        Adjustment adjustment = Survey.of(new Garage(9, 10).network()).adjust(Survey.Datum.CAR_AXES, cancelled);
        assertThat(adjustment.ending()).isEqualTo(Ending.CANCELLED);
    }

    @Test
    void mistakesOfTheCallerAreNamed() {
        assertThatThrownBy(() -> new Network(
                        List.of(SurveyPoint.Sought.of("p")),
                        List.of(new Observation.Distance("tape", "p", "q", 1, U)),
                        Graduation.INCHES))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessage("reading \"tape\" speaks of \"q\", which is no point");
        assertThatThrownBy(() -> new Observation.Distance("tape", "p", "q", -1, U))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("above zero");
        assertThatThrownBy(() -> new Network(
                        List.of(SurveyPoint.Sought.of("p")),
                        List.of(new Observation.Height("h", "p", 1, 0)),
                        Graduation.INCHES))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("above zero");
        assertThatThrownBy(() -> new Network(
                        List.of(SurveyPoint.Sought.of("p")),
                        List.of(new Observation.Distance("tape", "p", "p", 1, U)),
                        Graduation.INCHES))
                .isInstanceOf(IllegalArgumentException.class)
                .hasMessageContaining("different points");
    }

    @Test
    void anEmptyNetworkIsAdjustedToNothing() {
        Adjustment adjustment =
                adjust(new Network(List.of(new SurveyPoint.Known("o", Spot.ORIGIN)), List.of(), Graduation.INCHES));
        assertThat(adjustment.points().names()).containsExactly("o");
        assertThat(adjustment.allFixed()).isTrue();
        Adjustment lonely = adjust(new Network(List.of(SurveyPoint.Sought.of("p")), List.of(), Graduation.INCHES));
        assertThat(lonely.rankDefect()).isEqualTo(3);
        assertThat(lonely.allFixed()).isFalse();
    }

    private static final Spot[] TETRA = {
        new Spot(0, 0, 0),
        new Spot(1000, 0, 100),
        new Spot(200, 900, 0),
        new Spot(300, 300, 800),
        new Spot(800, 700, 600)
    };

    /** Five points and the ten distances between them; with six coordinates held on demand. */
    private static Network tetrahedron(double off, boolean held) {
        Builder builder = new Builder();
        String[] names = {"a", "b", "c", "d", "e"};
        for (String name : names) {
            builder.sought(name);
        }
        for (int i = 0; i < 5; i++) {
            for (int j = i + 1; j < 5; j++) {
                builder.distance(names[i], names[j], TETRA[i].distanceTo(TETRA[j]) + off, "");
            }
        }
        if (held) {
            for (Axis axis : Axis.values()) {
                builder.readings.add(new Observation.Coordinate("a " + axis, "a", axis, 0, axis.of(TETRA[0]), U));
            }
            builder.readings.add(new Observation.Coordinate("b left", "b", Axis.LEFT, 0, TETRA[1].y(), U));
            builder.readings.add(new Observation.Coordinate("b up", "b", Axis.UP, 0, TETRA[1].z(), U));
            builder.readings.add(new Observation.Coordinate("c up", "c", Axis.UP, 0, TETRA[2].z(), U));
        }
        return builder.network();
    }

    private static double distanceU(Adjustment adjustment, String from, String to) {
        SurveyedPoints points = adjustment.points();
        Spot a = points.spot(from);
        Spot b = points.spot(to);
        double[] g = new double[6];
        Formulas.distance(new double[] {a.x(), a.y(), a.z(), b.x(), b.y(), b.z()}, g);
        double[] gradient = new double[points.coordinateCount()];
        System.arraycopy(g, 0, gradient, points.indexOf(from), 3);
        System.arraycopy(g, 3, gradient, points.indexOf(to), 3);
        return points.standardUncertainty(gradient);
    }

    private static double trace(Adjustment adjustment) {
        double sum = 0;
        for (int i = 0; i < adjustment.points().coordinateCount(); i++) {
            sum += adjustment.points().covariance(i, i);
        }
        return sum;
    }

    private static List<Standing> standing(Adjustment adjustment, String reading) {
        return adjustment.readings().stream()
                .filter(r -> r.reading().equals(reading))
                .map(ReadingResult::standing)
                .toList();
    }

    private static Adjustment adjust(Network network) {
        return Survey.of(network).adjust(Survey.Datum.CAR_AXES, Progress.SILENT);
    }

    /** Builds small networks. */
    private static final class Builder {
        final List<SurveyPoint> points = new ArrayList<>();
        final List<Observation> readings = new ArrayList<>();

        Builder corners() {
            for (int k = 0; k < CORNERS.length; k++) {
                known("c" + k, CORNERS[k]);
            }
            return this;
        }

        Builder known(String name, Spot at) {
            points.add(new SurveyPoint.Known(name, at));
            return this;
        }

        Builder sought(String name) {
            points.add(SurveyPoint.Sought.of(name));
            return this;
        }

        Builder distance(String from, String to, double mm, String suffix) {
            readings.add(new Observation.Distance((from + " to " + to + " " + suffix).strip(), from, to, mm, U));
            return this;
        }

        Builder tapes(String name, Spot at) {
            for (int k = 0; k < CORNERS.length; k++) {
                distance(name, "c" + k, at.distanceTo(CORNERS[k]), "");
            }
            return this;
        }

        Network network() {
            return new Network(points, readings, Graduation.INCHES);
        }
    }
}
