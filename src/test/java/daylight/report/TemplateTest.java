package daylight.report;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import daylight.geometry.Cut;
import daylight.geometry.Direction;
import daylight.geometry.Flat;
import daylight.geometry.Shape;
import daylight.geometry.Spot;
import daylight.units.LengthFormat;
import java.awt.image.BufferedImage;
import java.io.IOException;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.rendering.ImageType;
import org.apache.pdfbox.rendering.PDFRenderer;
import org.apache.pdfbox.text.PDFTextStripper;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** Templates: full size on paper, on as many sheets as they need, with what a builder has to know on each. */
class TemplateTest {
    private static final int DPI = 600;
    private static final double MM_PER_PIXEL = 25.4 / DPI;
    /** What the issue asks of the bar, mm. */
    private static final double BAR_MM = 0.1;

    private static final int DARK = 100;

    private static Shape.Plate plate(double wide, double high) {
        return new Shape.Plate(
                new Spot(0, 300, 400),
                Direction.LEFT,
                Direction.UP,
                5,
                List.of(new Flat(0, 0), new Flat(wide, 0), new Flat(wide, high), new Flat(0, high)),
                List.of(new Shape.Plate.Hole(new Flat(15, 15), 10)));
    }

    private static Template template(Shape.Plate plate, Paper paper) {
        return Template.of(
                "Test car",
                "left bracket",
                plate,
                Optional.of(new Cut.Straight(1, 20, 2, 30)),
                LengthFormat.TENTHS_OF_MM,
                paper);
    }

    @ParameterizedTest
    @EnumSource
    void scaleBarsMeasureFiftyMillimetresAndTwoInchesOnPaper(Paper paper) throws IOException {
        byte[] pdf = TemplatePdf.of(template(plate(90, 120), paper));
        try (PDDocument document = Loader.loadPDF(pdf)) {
            BufferedImage page = new PDFRenderer(document).renderImageWithDPI(0, DPI, ImageType.GRAY);
            assertThat(page.getWidth() * MM_PER_PIXEL).isCloseTo(paper.widthMm(), within(BAR_MM));
            assertThat(page.getHeight() * MM_PER_PIXEL).isCloseTo(paper.heightMm(), within(BAR_MM));
            List<Integer> bars = bars(page);
            assertThat(bars).hasSize(2);
            assertThat(bars.get(0) * MM_PER_PIXEL).isCloseTo(Template.METRIC_BAR_MM, within(BAR_MM));
            assertThat(bars.get(1) * MM_PER_PIXEL).isCloseTo(Template.INCH_BAR_MM, within(BAR_MM));
        }
    }

    /** The long black runs of the row that has most black in the lower fifth of a page. */
    private static List<Integer> bars(BufferedImage page) {
        int[] line = new int[page.getWidth()];
        List<Integer> best = List.of();
        for (int y = page.getHeight() * 4 / 5; y < page.getHeight(); y++) {
            page.getRaster().getPixels(0, y, page.getWidth(), 1, line);
            List<Integer> runs = new java.util.ArrayList<>();
            int run = 0;
            for (int x = 0; x < line.length; x++) {
                if (line[x] < DARK) {
                    run++;
                } else {
                    if (run > 500) {
                        runs.add(run);
                    }
                    run = 0;
                }
            }
            if (runs.size() > best.size()) {
                best = runs;
            }
        }
        return best;
    }

    /** The plate's own edges are full size too: 90 and 120 between the middles of their lines. */
    @Test
    void plateIsDrawnFullSize() {
        Template.Sheet sheet = template(plate(90, 120), Paper.A4).sheets().get(0);
        double least = Double.POSITIVE_INFINITY;
        double most = Double.NEGATIVE_INFINITY;
        for (Template.Mark mark : sheet.marks()) {
            if (mark instanceof Template.Mark.Line line && line.pen() == Template.Pen.METAL) {
                least = Math.min(least, Math.min(line.x1(), line.x2()));
                most = Math.max(most, Math.max(line.x1(), line.x2()));
            }
        }
        assertThat(most - least).isCloseTo(90, within(1e-9));
    }

    @Test
    void largePlateGoesOverSeveralSheetsThatOverlap() throws IOException {
        Template template = template(plate(400, 300), Paper.A4);
        assertThat(template.sheets()).hasSize(6);
        try (PDDocument document = Loader.loadPDF(TemplatePdf.of(template))) {
            assertThat(document.getNumberOfPages()).isEqualTo(6);
            for (int page = 1; page <= 6; page++) {
                PDFTextStripper words = new PDFTextStripper();
                words.setStartPage(page);
                words.setEndPage(page);
                assertThat(words.getText(document))
                        .contains("left bracket", "sheet " + page + " of 6", "joins sheet", "This bar is 50 mm long.");
            }
        }
        double edge = 0;
        for (Template.Sheet sheet : template.sheets()) {
            for (Template.Mark mark : sheet.marks()) {
                if (mark instanceof Template.Mark.Line line && line.pen() == Template.Pen.METAL) {
                    edge += Math.hypot(line.x2() - line.x1(), line.y2() - line.y1());
                }
            }
        }
        double whole = 2 * (400 + 300) - 20 - 30;
        assertThat(edge)
                .as("every piece of the edge is on some sheet, overlaps twice")
                .isGreaterThan(whole);
        assertThat(edge).isLessThan(whole + 8 * 10 + 1);
    }

    /** Four sheets, with a hole of 40 mm across the joint of the upper two. */
    private static Template four(Paper paper) {
        Shape.Plate plain = plate(300, 320);
        double joint = paper.widthMm() - 2 * 10 - 16 - 5;
        Shape.Plate plate = new Shape.Plate(
                plain.origin(),
                plain.along(),
                plain.up(),
                plain.thicknessMm(),
                plain.outline(),
                List.of(new Shape.Plate.Hole(new Flat(joint, 250), 40)));
        return Template.of("Test car", "floor", plate, Optional.empty(), LengthFormat.TENTHS_OF_MM, paper);
    }

    private static final int COARSE_DPI = 400;
    private static final double MM_PER_COARSE = 25.4 / COARSE_DPI;

    /** The pictures of neighbouring sheets show the same in the strip that both have; every sheet has true bars. */
    @ParameterizedTest
    @EnumSource
    void sheetsOfALargePlateAreTrueAndLieOverOneAnother(Paper paper) throws IOException {
        Template template = four(paper);
        assertThat(template.sheets()).hasSize(4);
        try (PDDocument document = Loader.loadPDF(TemplatePdf.of(template))) {
            PDFRenderer renderer = new PDFRenderer(document);
            BufferedImage first = renderer.renderImageWithDPI(0, COARSE_DPI, ImageType.GRAY);
            BufferedImage second = renderer.renderImageWithDPI(1, COARSE_DPI, ImageType.GRAY);
            for (BufferedImage page :
                    List.of(first, second, renderer.renderImageWithDPI(3, COARSE_DPI, ImageType.GRAY))) {
                List<Integer> bars = bars(page);
                assertThat(bars).hasSize(2);
                assertThat(bars.get(0) * MM_PER_COARSE).isCloseTo(Template.METRIC_BAR_MM, within(BAR_MM));
                assertThat(bars.get(1) * MM_PER_COARSE).isCloseTo(Template.INCH_BAR_MM, within(BAR_MM));
            }
            // The register line stands in the middle of the strip of 10 mm, the plate's top edge and the hole go
            // through.
            double margin = 10;
            double line = margin + (paper.widthMm() - 2 * margin) - 5;
            assertThat(darkColumn(first, line, 4)).isCloseTo(line, within(BAR_MM));
            assertThat(darkColumn(second, margin + 5, 4)).isCloseTo(margin + 5, within(BAR_MM));
            for (double aside : new double[] {-4, -2, 2, 4}) {
                List<Double> on = darkRows(first, line + aside);
                assertThat(on)
                        .as("top edge, both sides of the hole, %s mm aside", aside)
                        .hasSizeGreaterThanOrEqualTo(3);
                List<Double> other = darkRows(second, margin + 5 + aside);
                assertThat(other).hasSameSizeAs(on);
                for (int i = 0; i < on.size(); i++) {
                    assertThat(other.get(i))
                            .as("mark %d, %s mm aside", i, aside)
                            .isCloseTo(on.get(i), within(BAR_MM));
                }
            }
        }
    }

    /** The column with most black within so much of a place, mm from the left. */
    private static double darkColumn(BufferedImage page, double aboutMm, double withinMm) {
        int best = 0;
        int most = -1;
        for (int x = (int) ((aboutMm - withinMm) / MM_PER_COARSE); x <= (aboutMm + withinMm) / MM_PER_COARSE; x++) {
            int dark = 0;
            for (int y = 0; y < page.getHeight(); y++) {
                dark += page.getRaster().getSample(x, y, 0) < DARK + 50 ? 1 : 0;
            }
            if (dark > most) {
                most = dark;
                best = x;
            }
        }
        return (best + 0.5) * MM_PER_COARSE;
    }

    /** The middles of the black runs of a column of the drawing, mm from the top. */
    private static List<Double> darkRows(BufferedImage page, double xMm) {
        int x = (int) (xMm / MM_PER_COARSE);
        int start = -1;
        List<Double> middles = new java.util.ArrayList<>();
        // Below the words of the head and above those that name the next sheet.
        for (int y = (int) (50 / MM_PER_COARSE); y < page.getHeight() / 2; y++) {
            boolean dark = page.getRaster().getSample(x, y, 0) < DARK + 50;
            if (dark && start < 0) {
                start = y;
            } else if (!dark && start >= 0) {
                middles.add((start + y) / 2.0 * MM_PER_COARSE);
                start = -1;
            }
        }
        return middles;
    }

    @Test
    void cutInFinerStepsIsNotRoundedToCoarserOnes() throws IOException {
        Template template = Template.of(
                "Test car",
                "left bracket",
                plate(90, 120),
                Optional.of(new Cut.Straight(1, 27 * 25.4 / 32, 2, 25.4)),
                LengthFormat.SIXTEENTHS,
                Paper.A4);
        try (PDDocument document = Loader.loadPDF(TemplatePdf.of(template))) {
            assertThat(new PDFTextStripper().getText(document)).contains("27/32 in");
        }
    }

    @Test
    void templateSaysWhichPartWhichFaceAndWhichCorner() throws IOException {
        Template template = template(plate(90, 120), Paper.LETTER);
        try (PDDocument document = Loader.loadPDF(TemplatePdf.of(template))) {
            assertThat(new PDFTextStripper().getText(document))
                    .contains("left bracket", "This side up", "forward", "datum corner", "top edge", "20 mm", "30 mm");
        }
        String svg = TemplateSvg.of(template).get(0);
        assertThat(svg).contains("datum corner", "width=\"215.900mm\"", "height=\"279.400mm\"", "left bracket");
    }

    @Test
    void sameTemplateGivesTheSameBytesInEveryCountry() {
        Template template = template(plate(90, 120), Paper.A4);
        byte[] pdf = TemplatePdf.of(template);
        String svg = TemplateSvg.of(template).get(0);
        Locale before = Locale.getDefault();
        try {
            Locale.setDefault(Locale.GERMANY);
            assertThat(TemplatePdf.of(template(plate(90, 120), Paper.A4))).isEqualTo(pdf);
            assertThat(TemplateSvg.of(template).get(0)).isEqualTo(svg);
        } finally {
            Locale.setDefault(before);
        }
    }

    @Test
    void everyKindOfCutIsDrawn() {
        for (Cut cut : List.of(
                new Cut.Round(2, 25),
                new Cut.Notch(1, true, 0, 20, 15),
                new Cut.HoleFilled(0),
                new Cut.HoleDrilled(new Flat(50, 50), 8))) {
            Template template = Template.of(
                    "Test car", "bracket <1>", plate(90, 120), Optional.of(cut), LengthFormat.SIXTEENTHS, Paper.A4);
            assertThat(TemplatePdf.of(template)).isNotEmpty();
            assertThat(TemplateSvg.of(template).get(0)).contains("bracket &lt;1&gt;");
        }
    }
}
