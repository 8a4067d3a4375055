package daylight.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import daylight.car.Car;
import daylight.clearance.GapRow;
import daylight.geometry.Direction;
import daylight.geometry.Flat;
import daylight.geometry.Pose;
import daylight.geometry.Proximity;
import daylight.geometry.Shape;
import daylight.geometry.Solid;
import daylight.geometry.Spot;
import daylight.motion.Handle;
import java.awt.geom.Area;
import java.awt.geom.Path2D;
import java.io.StringReader;
import java.util.ArrayList;
import java.util.List;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.xml.sax.InputSource;

class CarPicturesTest {
    /** A circle of a skin has 96 sides at the most, the balls of a rounded hull 48: this share of the radius is lost. */
    private static final double LOST_OF_96 = 1 - Math.cos(Math.PI / 96);

    private static final double LOST_OF_48 = 1 - Math.cos(Math.PI / 48);
    /** The engine's own figures. */
    private static final double ENGINE_MM = 1e-4;

    private static Report pickup;
    private static Report roadster;

    @BeforeAll
    static void compute() throws Exception {
        pickup = ReportCars.demo("harbour-pickup.yaml");
        roadster = ReportCars.demo("kit-roadster.yaml");
    }

    /** How much further apart than in truth a skin may look, mm. */
    private static double lost(Shape shape) {
        double coarse = 0;
        if (shape instanceof Shape.Ball ball) {
            coarse = LOST_OF_96 * ball.radiusMm();
        } else if (shape instanceof Shape.Tube tube) {
            coarse = LOST_OF_96 * tube.outsideDiameterMm() / 2;
        } else if (shape instanceof Shape.Turned turned) {
            coarse = LOST_OF_96
                    * turned.profile().stream().mapToDouble(Flat::y).max().orElse(0);
        } else if (shape instanceof Shape.Hull hull) {
            coarse = LOST_OF_48 * hull.roundingMm();
        } else if (shape instanceof Shape.Group group) {
            return group.members().stream()
                    .mapToDouble(CarPicturesTest::lost)
                    .max()
                    .orElse(0);
        }
        // A triangle on a ball lies below it both ways.
        return 2 * Math.max(Section.SAGITTA_MM, coarse);
    }

    private static Shape shape(Report report, String part) {
        return report.car().part(part).orElseThrow().shape();
    }

    @Test
    void theDrawnOutlinesAreAsFarApartAsTheNumberSays() {
        for (Report report : List.of(pickup, roadster)) {
            Standing standing = new Standing(report.car());
            for (GapRow row : report.gaps().rows().stream()
                    .filter(Report::isNear)
                    .filter(standing::isOfParts)
                    .limit(40)
                    .toList()) {
                Section section = Section.of(row, standing);
                Proximity gap = row.least().found();
                double lost = lost(shape(report, row.first())) + lost(shape(report, row.second()));
                String pair = report.car().name() + ": " + ReportWords.pair(row) + ", " + gap.distanceMm();
                assertThat(toOutline(section.first(), section.flat(gap.onA())))
                        .as("the first spot lies on its outline, " + pair)
                        .isLessThan(lost + ENGINE_MM);
                assertThat(toOutline(section.second(), section.flat(gap.onB())))
                        .as("the second spot lies on its outline, " + pair)
                        .isLessThan(lost + ENGINE_MM);
                if (gap.distanceMm() > 0) {
                    double drawn = apart(section.first(), section.second());
                    assertThat(drawn - gap.distanceMm())
                            .as("drawn less computed, " + pair)
                            .isBetween(-2 * Solid.SAGITTA_MM - ENGINE_MM, lost + ENGINE_MM);
                } else {
                    assertThat(overlapMm2(section, 0))
                            .as("the outlines overlap, " + pair)
                            .isPositive();
                    assertThat(overlapMm2(section, lost + ENGINE_MM - gap.distanceMm()))
                            .as("and no longer when moved apart by that much, " + pair)
                            .isLessThan(1e-6);
                }
            }
        }
    }

    private static List<GapRow> tightestParts() {
        Standing standing = new Standing(pickup.car());
        return pickup.tightest().stream().filter(standing::isOfParts).toList();
    }

    private static double toOutline(CutSkin.Cut cut, Flat spot) {
        double least = Double.POSITIVE_INFINITY;
        for (List<Flat> loop : cut.loops()) {
            for (int i = 0; i < loop.size(); i++) {
                least = Math.min(least, toPiece(spot, loop.get(i), loop.get((i + 1) % loop.size())));
            }
        }
        return least;
    }

    /** Distance of two outlines that do not cross: some corner of one is nearest to the other. */
    private static double apart(CutSkin.Cut one, CutSkin.Cut two) {
        double least = Double.POSITIVE_INFINITY;
        for (List<CutSkin.Cut> order : List.of(List.of(one, two), List.of(two, one))) {
            for (List<Flat> loop : order.get(0).loops()) {
                for (Flat corner : loop) {
                    least = Math.min(least, toOutline(order.get(1), corner));
                }
            }
        }
        return least;
    }

    private static double toPiece(Flat spot, Flat a, Flat b) {
        double dx = b.x() - a.x();
        double dy = b.y() - a.y();
        double length = dx * dx + dy * dy;
        double share =
                length > 0 ? Math.max(0, Math.min(1, ((spot.x() - a.x()) * dx + (spot.y() - a.y()) * dy) / length)) : 0;
        return Math.hypot(spot.x() - a.x() - share * dx, spot.y() - a.y() - share * dy);
    }

    private static double overlapMm2(Section section, double movedMm) {
        Flat way = section.flat(
                section.origin().along(section.row().least().found().normal(), movedMm));
        Area both = area(section.first(), 0, 0);
        both.intersect(area(section.second(), way.x(), way.y()));
        double twice = 0;
        for (List<Flat> loop : CutSkin.outlines(both)) {
            for (int i = 0; i < loop.size(); i++) {
                Flat a = loop.get(i);
                Flat b = loop.get((i + 1) % loop.size());
                twice += a.x() * b.y() - b.x() * a.y();
            }
        }
        return Math.abs(twice) / 2;
    }

    private static Area area(CutSkin.Cut cut, double dx, double dy) {
        Path2D path = new Path2D.Double();
        for (List<Flat> loop : cut.loops()) {
            path.moveTo(loop.get(0).x() + dx, loop.get(0).y() + dy);
            loop.forEach(flat -> path.lineTo(flat.x() + dx, flat.y() + dy));
            path.closePath();
        }
        return new Area(path);
    }

    @Test
    void aSectionSaysTheComputedGap() {
        CarPictures pictures = CarPictures.of(pickup.car(), true);
        Wording wording = Wording.in(ReportWords.format(pickup));
        for (GapRow row : tightestParts()) {
            assertThat(pictures.section(row).orElseThrow())
                    .contains(">" + wording.gapWithUnit(row.least().found().distanceMm()) + "</text>");
        }
    }

    @Test
    void everyPictureIsWellFormedAndTheSameEveryTime() throws Exception {
        for (Report report : List.of(pickup, roadster)) {
            List<List<String>> both = new ArrayList<>();
            for (int time = 0; time < 2; time++) {
                CarPictures pictures =
                        CarPictures.of(report.car(), report.style().inches());
                List<String> all = new ArrayList<>();
                for (GapRow row : report.tightest()) {
                    pictures.section(row).ifPresent(all::add);
                    pictures.curve(row).ifPresent(all::add);
                    pictures.map(row).ifPresent(all::add);
                }
                all.add(pictures.squareViews(report.tightest()));
                both.add(all);
            }
            assertThat(both.get(1)).isEqualTo(both.get(0));
            for (String svg : both.get(0)) {
                DocumentBuilderFactory.newInstance().newDocumentBuilder().parse(new InputSource(new StringReader(svg)));
                assertThat(svg).doesNotContain("NaN").doesNotContain("Infinity");
            }
        }
    }

    @Test
    void aCurvePassesThroughTheLeastGapAndNeverBelowItsFloor() {
        Standing standing = new Standing(pickup.car());
        for (GapRow row : tightestParts()) {
            for (int handle : PairCurve.byEffect(row, standing)) {
                PairCurve curve = PairCurve.of(row, standing, handle);
                standing.stand(standing.values(row.least().where()));
                double there = standing.closedGapMm(standing.part(row.first()), standing.part(row.second()));
                assertThat(there)
                        .as("at the worst place of " + ReportWords.pair(row))
                        .isCloseTo(
                                row.least().found().distanceMm(),
                                within(pickup.gaps().toleranceMm()));
                assertThat(curve.worstMm())
                        .filteredOn(Double::isFinite)
                        .as("along " + curve.handle().name() + ", " + ReportWords.pair(row))
                        .allMatch(gap -> gap >= row.least().floorMm() - ENGINE_MM);
            }
        }
    }

    @Test
    void theRubShowsOnTheMapOnlyWhereItRubs() {
        // gap = 3 across + up - 30, over 24 x 24 cells: zero on a straight line.
        int places = 25;
        List<Double> gaps = new ArrayList<>();
        for (int j = 0; j < places; j++) {
            for (int i = 0; i < places; i++) {
                gaps.add(3.0 * i + j - 30);
            }
        }
        PairMap map =
                new PairMap(new Handle("across", -1, 1, false), new Handle("up", -1, 1, false), places, gaps, 0, 0);
        List<List<Double>> contour = map.contour(0);
        assertThat(contour).hasSize(1);
        List<Double> line = contour.get(0);
        for (int k = 0; k < line.size(); k += 2) {
            assertThat(3 * line.get(k) + line.get(k + 1)).isCloseTo(30, within(1e-9));
        }
        double area = 0;
        for (List<Double> piece : map.below(0)) {
            for (int k = 0; k < piece.size(); k += 2) {
                int next = (k + 2) % piece.size();
                area += (piece.get(k) * piece.get(next + 1) - piece.get(next) * piece.get(k + 1)) / 2;
            }
        }
        // Left of the line from (10, 0) to (2, 24).
        assertThat(area).isCloseTo(24 * (10 + 2) / 2.0, within(1e-9));
    }

    @Test
    void aMapLeavesOutWhereTheCarCannotStand() {
        List<Double> gaps = List.of(1.0, -1.0, Double.NaN, 1.0, -1.0, Double.NaN, 1.0, -1.0, Double.NaN);
        PairMap map = new PairMap(new Handle("a", 0, 1, false), new Handle("b", 0, 1, false), 3, gaps, 0, 0);
        assertThat(map.contour(0)).hasSize(1);
        assertThat(map.below(0)).allSatisfy(piece -> assertThat(piece).allMatch(place -> place <= 2));
    }

    @Test
    void aPlateWithAHoleIsCutIntoTwoPieces() {
        Shape plate = new Shape.Plate(
                Spot.ORIGIN,
                Direction.FORWARD,
                Direction.LEFT,
                5,
                List.of(new Flat(0, 0), new Flat(100, 0), new Flat(100, 60), new Flat(0, 60)),
                List.of(new Shape.Plate.Hole(new Flat(50, 30), 20)));
        CutSkin skin = new CutSkin(plate, Pose.RIDE_HEIGHT, 0.02);
        CutSkin.Cut cut =
                skin.by(new Spot(0, 30, 0), Direction.FORWARD, Direction.UP).joined();
        assertThat(cut.open()).isEmpty();
        assertThat(cut.loops()).hasSize(2);
        assertThat(cut.areaMm2(1000)).isCloseTo(2 * 40 * 5, within(0.3));
    }

    @Test
    void whatCannotBePutOnPaperIsRefusedNotLeftOut() {
        String page = "<html><head><title>t</title></head><body><svg viewBox=\"0 0 9 9\" width=\"9\" height=\"9\""
                + " aria-label=\"a\"><ellipse cx=\"4\" cy=\"4\" rx=\"3\" ry=\"2\"/></svg></body></html>";
        assertThatThrownBy(() -> PdfPages.of(page, "t")).hasMessageContaining("ellipse");
    }

    @Test
    void aLineNeverEndsInsideALength() {
        WordBreaker breaker = new WordBreaker();
        breaker.setText("at 14 3/8 in behind a sway-bar, -1/16 in");
        List<String> parts = new ArrayList<>();
        int from = 0;
        for (int end = breaker.next(); end >= 0; end = breaker.next()) {
            parts.add("at 14 3/8 in behind a sway-bar, -1/16 in".substring(from, end));
            from = end;
        }
        assertThat(parts).containsExactly("at ", "14 3/8 in ", "behind ", "a ", "sway-", "bar, ");
    }

    @Test
    void theShopSheetAsksForAShankThatFitsAndOneThatDoesNot() {
        ShopSheet.Check check = ShopSheet.of(pickup).get(0);
        assertThat(check.row().first()).isEqualTo("tailpipe");
        double gap = check.row().atRideHeight().distanceMm() / 25.4;
        int fits = (int) Math.floor(gap * 16 + 1e-6);
        assertThat(check.shank()).contains(ReportWords.format(pickup).print(fits * 25.4 / 16) + " drill shank goes");
        assertThat(check.jack()).contains("push exhaust");
        Car car = pickup.car();
        ShopSheet.Check bump = ShopSheet.of(pickup).stream()
                .filter(c -> c.jack().contains("left front tyre"))
                .findFirst()
                .orElseThrow();
        assertThat(bump.jack())
                .as("12 3/4 in at ride height and 3 3/16 in of bump, where the bump stop ends it, of " + car.name())
                .contains("wheel centre 15 15/16 in above the floor");
        assertThat(ShopSheet.of(pickup)).hasSameSizeAs(tightestParts());
    }
}
